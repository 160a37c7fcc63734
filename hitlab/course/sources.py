"""Lesson sources: percent-format Python with cell tags, read into cells with fixed ids."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from hitlab.errors import HitlabError
from hitlab.exercises.definitions import KINDS
from hitlab.lessons.merging import CHECK
from hitlab.optional import load

__all__ = [
    "PROJECTS",
    "TAGS",
    "Cell",
    "CourseError",
    "Heading",
    "Source",
    "checked_in",
    "heading_of",
    "in_a_sentence",
    "lessons_folder",
    "project_paths",
    "read_source",
    "source_paths",
]

PROJECTS = "projects"
"""What the projects and the capstone are built by, and their sources' folder: no lessons, and no frame."""

TAGS: dict[str, str] = {
    "asserted": "code that asserts the numbers the prose claims; in the solutions copy only",
    "answer": "the learner's cell of an exercise; in the learner's copy only",
    "solution": "the answered cell, or an explanation; in the solutions copy only",
    "exercise": "the prose that puts an exercise",
    "choices": "code that shows what an exercise offers, in an order of the learner's own",
    "review": "three questions from earlier lessons, and their answers",
    "sitting": "prose that marks a place to stop, where a lesson takes two sittings",
    "slide": "prose for a slide; in neither copy",
    "python": "a piece of Python that exercises need: prose, and a worked example behind it",
    "plan": "prose for the teacher's plan of the lesson; in neither copy",
    "slider": "code that shows a slider beside its static picture",
    "confidence": "code in which the learner gives a verdict and a confidence",
}
"""The tags a cell may have; a cell without one stands in both copies."""

_NAME = re.compile(r"(\d\d)_[a-z]+(_[a-z]+)+")
_HEADING = re.compile(rf"### (\S.*) \(({'|'.join(KINDS)}), (core|optional), (\d+) min\)")
_CHECK = re.compile(rf"\b{CHECK}")
_PROJECT = re.compile(r"project_\d_[a-z]+(_[a-z]+)*|capstone")


class CourseError(HitlabError):
    """A lesson that cannot be built; the message names the file and the mend."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a lesson source.

    Attributes
    ----------
    kind
        ``markdown`` or ``code``.
    text
        Its source.
    tags
        Keys of ``TAGS``.
    section
        The ``##`` heading above it; empty before the first.
    id
        Fixed: the section's name and the place in it.
    """

    kind: str
    text: str
    tags: frozenset[str]
    section: str
    id: str


@dataclass(frozen=True, slots=True)
class Source:
    """A lesson source.

    Attributes
    ----------
    path
        The file.
    cells
        All cells, both copies' together.
    """

    path: Path
    cells: tuple[Cell, ...]

    @property
    def name(self) -> str:
        """The file's name without ending: ``01_count_every_swing``."""
        return self.path.stem

    @property
    def number(self) -> str:
        """The lesson's number: ``01``."""
        return self.name[:2]

    @property
    def title(self) -> str:
        """The ``#`` heading without its number."""
        for cell in self.cells:
            if cell.kind == "markdown" and cell.text.startswith("# "):
                return cell.text.splitlines()[0][2:].split(". ", 1)[-1].strip()
        return ""


@dataclass(frozen=True, slots=True)
class Heading:
    """What the heading of an exercise says.

    Attributes
    ----------
    title
        Without kind and minutes.
    kind
        One of ``KINDS``.
    core
        Whether everybody does it; else it is optional.
    minutes
        As they are announced.
    """

    title: str
    kind: str
    core: bool
    minutes: int


def heading_of(text: str) -> Heading | None:
    """Return what a cell's first line, ``### Title (kind, core, 4 min)``, says; ``None`` of any other."""
    head = _HEADING.fullmatch(text.partition("\n")[0])
    return Heading(head[1], head[2], head[3] == "core", int(head[4])) if head else None


def checked_in(text: str) -> list[str]:
    """Return the ids of the exercises that a cell of code checks: ``check("01.both-lists", answer)``."""
    return _CHECK.findall(text)


def in_a_sentence(title: str) -> str:
    """Return a title as it stands within a sentence: with a small letter, and the rest as it is."""
    return f"{title[:1].lower()}{title[1:]}"


def lessons_folder() -> Path:
    """Return the folder ``notebooks`` of the clone.

    Raises
    ------
    CourseError
        Where the package is installed without its clone.
    """
    folder = Path(__file__).resolve().parents[2] / "notebooks"
    if not (folder / "source").is_dir():
        raise CourseError(f"there are no lesson sources in {folder}; work in a clone of the project")
    return folder


def source_paths(numbers: tuple[str, ...] = (), folder: Path | None = None) -> list[Path]:
    """Return the source files, all or those of some numbers, in order."""
    there = sorted(((folder or lessons_folder()) / "source").glob("*.py"))
    wanted = {number.zfill(2) for number in numbers}
    missing = wanted - {path.stem[:2] for path in there}
    if missing:
        names = ", ".join(path.stem for path in there)
        raise CourseError(f"no lesson {', '.join(sorted(missing))}; there are: {names}")
    return [path for path in there if not wanted or path.stem[:2] in wanted]


def project_paths(folder: Path | None = None) -> list[Path]:
    """Return the sources of the projects and of the capstone, in order."""
    found = ((folder or lessons_folder()) / "source" / PROJECTS).glob("*.py")
    return sorted(found, key=lambda path: (not path.stem.startswith("project"), path.stem))


def read_source(path: Path) -> Source:
    """Read the source of a lesson or of a project.

    Raises
    ------
    CourseError
        Where the file's name or a tag is not one of ours.
    MissingPackageError
        Without jupytext.
    """
    jupytext = load("jupytext", "lesson builds", "lessons")
    if path.parent.name == PROJECTS:
        if not _PROJECT.fullmatch(path.stem):
            raise CourseError(f"{path.name}: it is called project_N_topic.py, in lower case, or capstone.py")
    elif not _NAME.fullmatch(path.stem):
        raise CourseError(f"{path.name}: a lesson is called NN_verb_topic.py, in lower case")
    notebook = jupytext.reads(path.read_text(encoding="utf-8"), fmt="py:percent")
    cells: list[Cell] = []
    section, slug, place = "", "start", 0
    for raw in notebook.cells:
        tags = frozenset(raw.metadata.get("tags", []))
        unknown = tags - TAGS.keys()
        if unknown:
            raise CourseError(
                f"{path.name}: no tag {sorted(unknown)[0]!r}; there are: {', '.join(sorted(TAGS))}"
            )
        heading = re.match(r"## (.+)", raw.source) if raw.cell_type == "markdown" else None
        if heading:
            section, place = heading[1].strip(), 0
            slug = re.sub(r"[^a-z0-9]+", "-", section.lower()).strip("-")[:40]
        place += 1
        cells.append(Cell(raw.cell_type, raw.source, tags, section, f"{slug}-{place:02d}"))
    return Source(path, tuple(cells))
