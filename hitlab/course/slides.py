"""Slides of a lesson: what its cells tagged ``slide`` say, with pictures of the solutions copy."""

from __future__ import annotations

import base64
import html
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from hitlab.course.sources import Cell, CourseError, Source, lessons_folder, read_source, source_paths
from hitlab.writing import make_folder, write_file

__all__ = ["SLIDES", "Part", "Picture", "Slide", "read_slides", "slide_faults", "write_slides"]

SLIDES = 10
"""Slides of a lesson."""

LEAST_PICTURES = 3
MOST_TITLE_WORDS = 8
MOST_WORDS = 30
MOST_BULLETS = 3

_ABOVE = "picture: above"
_BULLET = "- "
_IMAGE = re.compile(r"<img\b[^>]*>", re.S)
_PNG = re.compile(r'\bsrc="data:image/png;base64,([^"]+)"')
_ALT = re.compile(r'\balt="([^"]*)"')
_MARKS = re.compile(r"\*\*|`|(?<!\w)\*(?=\S)|(?<=\S)\*(?!\w)")
"""What makes letters bold, slanted or code; a slide has one kind of letter."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture on a slide.

    Attributes
    ----------
    png
        The file's bytes.
    words
        The picture in words; empty where it came without.
    """

    png: bytes
    words: str


@dataclass(frozen=True, slots=True)
class Part:
    """A paragraph of a slide, or a bullet."""

    text: str
    bullet: bool


@dataclass(frozen=True, slots=True)
class Slide:
    """One slide.

    Attributes
    ----------
    lesson
        The lesson's number and title, as they stand in the corner.
    place
        Which slide of the lesson it is, from 1.
    title
        The idea, in at most eight words.
    parts
        Paragraphs and bullets.
    picture
        What is shown, if anything.
    """

    lesson: str
    place: int
    title: str
    parts: tuple[Part, ...]
    picture: Picture | None = None


def read_slides(source: Source, notebook: Path) -> tuple[list[Slide], list[str]]:
    """Return a lesson's slides, and what is wrong with them.

    Parameters
    ----------
    source
        The lesson's source; its cells tagged ``slide`` are the slides, in their order.
    notebook
        The solutions copy, run: a slide shows the last picture that a cell before it put out there.

    Returns
    -------
    tuple of list
        The slides, and a sentence for each fault, by lesson and slide; without any they can be drawn.

    Raises
    ------
    CourseError
        Where the solutions copy is not there or cannot be read, or a slide does not fit its pages.
    """
    from hitlab.course.slide_pages import too_small

    slides, faults = _written(source)
    pictures = _pictures(notebook)
    shown: Picture | str | None = None
    place = 0
    for cell in source.cells:
        shown = pictures.get(cell.id, shown) if cell.kind == "code" else shown
        if "slide" not in cell.tags:
            continue
        if _shows_picture(cell):
            if isinstance(shown, Picture):
                slides[place] = replace(slides[place], picture=shown)
            else:
                why = shown or "no cell before it put out a picture in the solutions copy"
                faults.append(_of_slide(source, place + 1, why))
        place += 1
    return slides, faults or too_small(slides)


def slide_faults(source: Source) -> list[str]:
    """Return what is wrong with a lesson's slides as far as its source alone tells, without the pictures.

    Parameters
    ----------
    source
        The lesson's source.
    """
    return _written(source)[1]


def _written(source: Source) -> tuple[list[Slide], list[str]]:
    """Return the slides as they are written, without pictures, and what is wrong with them."""
    number = int(source.number)
    cells = [cell for cell in source.cells if "slide" in cell.tags]
    slides: list[Slide] = []
    faults: list[str] = []
    for place, cell in enumerate(cells, 1):
        slide, wrong = _read(cell, f"Lesson {number}: {source.title}", place)
        slides.append(slide)
        faults += [_of_slide(source, place, fault) for fault in wrong]
    if len(slides) != SLIDES:
        faults.append(f"lesson {number} has {len(slides)} slides; {SLIDES} are wanted")
    with_picture = sum("picture:" in cell.text for cell in cells)
    if slides and with_picture < LEAST_PICTURES:
        faults.append(
            f"lesson {number}: {with_picture} of its slides show a picture; at least {LEAST_PICTURES} do, "
            f"with the last line '{_ABOVE}'"
        )
    return slides, faults


def _of_slide(source: Source, place: int, fault: str) -> str:
    return f"lesson {int(source.number)}, slide {place}: {fault}"


def _shows_picture(cell: Cell) -> bool:
    return cell.text.rstrip().endswith(f"\n{_ABOVE}")


def _read(cell: Cell, lesson: str, place: int) -> tuple[Slide, list[str]]:
    faults: list[str] = []
    lines = cell.text.strip().splitlines()
    title = _plain(lines[0][2:]) if lines and lines[0].startswith("# ") else ""
    if cell.kind != "markdown" or not title:
        faults.append("its first line has to be '# ' and the title")
    if lines and lines[-1].startswith("picture:"):
        last = lines.pop()
        if last.strip() != _ABOVE:
            faults.append(f"its last line is '{last}'; it can be '{_ABOVE}'")
    parts = tuple(_parts(lines[1:]))
    words = sum(len(part.text.split()) for part in parts)
    bullets = sum(part.bullet for part in parts)
    for many, most, what in (
        (len(title.split()), MOST_TITLE_WORDS, "words in its title"),
        (words, MOST_WORDS, "words below its title"),
        (bullets, MOST_BULLETS, "bullets"),
    ):
        if many > most:
            faults.append(f"{many} {what}; {most} is the most")
    if not parts:
        faults.append("it says nothing below its title")
    return Slide(lesson, place, title, parts), faults


def _parts(lines: list[str]) -> Iterator[Part]:
    """Give paragraphs and bullets; lines that follow one belong to it."""
    text, bullet = "", False
    for line in [*lines, ""]:
        starts = line.startswith(_BULLET)
        if (starts or not line.strip()) and text:
            yield Part(_plain(text), bullet)
            text = ""
        if starts:
            text, bullet = line[len(_BULLET) :], True
        elif line.strip():
            text, bullet = (f"{text} {line}", bullet) if text else (line, False)


def _plain(text: str) -> str:
    return " ".join(_MARKS.sub("", text).split())


def _pictures(notebook: Path) -> dict[str, Picture | str]:
    """Return by a cell's id the last picture that it put out; a sentence where that cannot be drawn."""
    if not notebook.is_file():
        raise CourseError(f"there is no {notebook}; build it first: python -m hitlab.course build")
    try:
        cells = json.loads(notebook.read_text(encoding="utf-8"))["cells"]
        found = {
            cell["id"]: [one for output in cell.get("outputs", []) for one in _shown_by(output)]
            for cell in cells
        }
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise CourseError(
            f"{notebook} is no notebook that can be read ({error}); build it again: python -m hitlab.course "
            "build"
        ) from error
    return {name: shown[-1] for name, shown in found.items() if shown}


def _shown_by(output: dict[str, Any]) -> Iterator[Picture | str]:
    data = {kind: "".join(value) for kind, value in output.get("data", {}).items()}
    text = data.get("text/html", "")
    if "image/png" in data:
        yield Picture(base64.b64decode(data["image/png"]), "")
    elif "image/svg+xml" in data or "<svg" in text:
        yield "the picture above it is an SVG, which cannot be drawn on a slide; show it with plots.show"
    else:
        for element in _IMAGE.findall(text):
            png, words = _PNG.search(element), _ALT.search(element)
            if png:
                yield Picture(base64.b64decode(png[1]), html.unescape(words[1]) if words else "")


def write_slides(numbers: tuple[str, ...], folder: Path, lessons: Path | None = None) -> Iterator[Path]:
    """Write the slides of each lesson as one PDF and give its path.

    Parameters
    ----------
    numbers
        Of the lessons; none for all.
    folder
        Where to; made where it is not there.
    lessons
        The folder with the notebooks and their sources; that of the clone where not given.

    Raises
    ------
    CourseError
        Where a slide has a fault; all are said, and nothing is written.
    """
    from hitlab.course.slide_pages import deck

    lessons = lessons or lessons_folder()
    read: dict[Path, list[Slide]] = {}
    faults: list[str] = []
    for path in source_paths(numbers, lessons):
        notebook = lessons / "solutions" / f"{path.stem}.ipynb"
        read[notebook], wrong = read_slides(read_source(path), notebook)
        faults += wrong
    if faults:
        raise CourseError("\n".join(faults))
    for notebook, slides in read.items():
        path = make_folder(folder) / f"{notebook.stem}_slides.pdf"
        yield write_file(path, deck(slides), inputs=(notebook,))
