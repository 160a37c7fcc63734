"""The projects and the capstone as a teacher has to know them: how long they take, how they are marked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from hitlab.optional import load

__all__ = ["Project", "projects_of"]

_OF_MARKS = re.compile(r"## .*\b(?:rubric|marks?|marked|marking)\b", re.I)
_TIME = re.compile(r"\bTime: about (\d+) minutes\b")


@dataclass(frozen=True, slots=True)
class Project:
    """A project or the capstone.

    Attributes
    ----------
    name
        Of its file: ``project_1_spoiled_sheet``, ``capstone``.
    title
        Its heading.
    minutes
        As it announces them; 0 where it announces none.
    marking
        What it says of marks, as Markdown: the prose of the sections whose heading names rubric or marks.
    """

    name: str
    title: str
    minutes: int
    marking: tuple[str, ...]


def projects_of(lessons: Path) -> list[Project]:
    """Return the projects: percent sources in ``source/projects``; none where there is no such folder.

    Parameters
    ----------
    lessons
        The folder with the notebooks.

    Raises
    ------
    MissingPackageError
        Without jupytext.
    """
    jupytext = load("jupytext", "lesson builds", "lessons")
    found = []
    for path in sorted((lessons / "source" / "projects").glob("*.py")):
        prose = [
            cell.source
            for cell in jupytext.reads(path.read_text(encoding="utf-8"), fmt="py:percent").cells
            if cell.cell_type == "markdown"
        ]
        heads = (text.splitlines()[0][2:] for text in prose if text.startswith("# "))
        time = _TIME.search("\n".join(prose))
        minutes = int(time[1]) if time else 0
        found.append(Project(path.stem, next(heads, path.stem), minutes, tuple(_of_marks(prose))))
    return found


def _of_marks(prose: list[str]) -> Iterator[str]:
    inside = False
    for text in prose:
        if text.startswith("## "):
            inside = _OF_MARKS.match(text) is not None
        if inside:
            yield _deeper(text)


def _deeper(text: str) -> str:
    """Set headings two levels down: they stand under the project's own."""
    return re.sub(r"^(#+ )", r"##\1", text, flags=re.M)
