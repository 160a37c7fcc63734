"""The glossary: every term of the lessons with its meaning, on one page that needs nothing else."""

from __future__ import annotations

import re
from base64 import b64encode
from html import escape
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from hitlab.course.sources import lessons_folder, read_source, source_paths
from hitlab.course.term_pictures import PICTURES, picture
from hitlab.course.terms import Explained, explained
from hitlab.lessons.copies import GLOSSARY
from hitlab.optional import load
from hitlab.writing import make_folder, write_file

__all__ = ["Entry", "glossary", "write_glossary"]

_TEMPLATES = Path(__file__).resolve().parent / "templates"
_CODE = re.compile(r"`([^`]+)`")
_STRONG = re.compile(r"\*\*([^*]+)\*\*")
_MARKED = re.compile(r"\*([^*]+)\*")


class Entry(NamedTuple):
    """One entry as the page shows it.

    Attributes
    ----------
    name, anchor, forms
        The term, its place in the page, and its other forms in one line.
    meaning
        As HTML.
    lessons
        Name of the notebook without ending, its number as people write it, its title: first the lesson that
        explains the term, then those that do so again.
    uri, alt
        The picture and what it shows; both empty where no picture helps.
    """

    name: str
    anchor: str
    forms: str
    meaning: str
    lessons: tuple[tuple[str, int, str], ...]
    uri: str
    alt: str


def glossary() -> str:
    """Return the page as HTML, the same bytes each time.

    Raises
    ------
    CourseError
        Without the sources, or where a term is explained nowhere.
    MissingPackageError
        Without Jinja2, matplotlib or jupytext.
    """
    sources = [read_source(path) for path in source_paths()]
    lessons = {source.number: (source.name, int(source.number), source.title) for source in sources}
    entries = sorted(
        (_entry(one, lessons) for one in explained(sources)), key=lambda entry: entry.name.casefold()
    )
    jinja2 = load("jinja2", "the glossary", "pages")
    templates = jinja2.Environment(
        loader=jinja2.FileSystemLoader(_TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
    )
    letters = [(letter, list(some)) for letter, some in groupby(entries, lambda entry: entry.name[0].upper())]
    text: str = templates.get_template("glossary.html.jinja").render(letters=letters, many=len(entries))
    return text


def _entry(one: Explained, lessons: dict[str, tuple[str, int, str]]) -> Entry:
    uri = alt = ""
    if one.term.name in PICTURES:
        drawn, alt = picture(one.term.name)
        uri = f"data:image/svg+xml;base64,{b64encode(drawn.encode()).decode()}"
    return Entry(
        one.term.name,
        one.term.anchor,
        ", ".join(one.term.forms),
        _html(one.meaning),
        tuple(lessons[number] for number in (one.lesson, *one.again)),
        uri,
        alt,
    )


def _html(text: str) -> str:
    text = _CODE.sub(r"<code>\1</code>", escape(text, quote=False))
    text = _MARKED.sub(r"<em>\1</em>", _STRONG.sub(r"<strong>\1</strong>", text))
    return text[0].upper() + text[1:]


def write_glossary(folder: Path | None = None) -> Path:
    """Write the page into a folder, beside the lessons where none is given, and return its path."""
    path = (folder or lessons_folder()) / GLOSSARY
    make_folder(path.parent)
    write_file(path, glossary().encode())
    return path
