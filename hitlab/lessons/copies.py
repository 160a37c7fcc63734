"""Lays out a copy of the lessons in a folder, or brings the one that is there up to date."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from fnmatch import fnmatch
from pathlib import Path

from hitlab.errors import ReadingError
from hitlab.lessons.merging import UnmergeableError, is_marked, marked, merged
from hitlab.showing import shown
from hitlab.writing import AnyPath, check_outputs, make_folder, write_file

__all__ = ["FIRST", "GLOSSARY", "LaidOut", "lay_out", "lessons_carried"]

_LESSON = "[0-9][0-9]_*.ipynb"
_PROJECTS = ("project_[0-9]_*.ipynb", "capstone.ipynb")
_BESIDE = "_new"
_SOLUTIONS = "solutions/"
FIRST = "start_here.ipynb"
"""The notebook to begin with: ways through the lessons. It is no lesson itself."""
GLOSSARY = "glossary.html"
"""The page with the words of all lessons, beside them."""
_OF_A_GLOSSARY = b'<meta name="generator" content="hitlab glossary">'


@dataclass(frozen=True, slots=True)
class LaidOut:
    """What became of each lesson, by its name in the folder.

    Attributes
    ----------
    folder
        Where they lie.
    new, same
        Those laid out now, and those that were up to date already.
    updated
        Those brought up to date, with what was changed and what was kept.
    beside
        Those that could not be merged and were left as they are: why, and the name of the new one beside,
        which is not counted among the new and the same.
    """

    folder: Path
    new: list[str] = field(default_factory=list)
    same: list[str] = field(default_factory=list)
    updated: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = field(default_factory=dict)
    beside: dict[str, tuple[str, str]] = field(default_factory=dict)

    def told(self) -> list[str]:
        """Return it in sentences, one a line."""
        beside = {name for _, name in self.beside.values()}
        new, same = ([name for name in names if name not in beside] for names in (self.new, self.same))
        lines = [f"{_lessons(new)} laid out in {shown(self.folder)}"] if new else []
        for name, (changed, kept) in self.updated.items():
            stayed = f"; kept: {', '.join(kept)}" if kept else ""
            lines.append(f"{name}: brought up to date ({', '.join(changed)}){stayed}")
        if same:
            lines.append(f"{_lessons(same)} up to date already, not touched")
        for name, (why, other) in self.beside.items():
            lines.append(f"{name}: left as it is, because {why}; the new lesson lies beside it as {other}")
        return lines


def lessons_carried() -> dict[str, Path]:
    """Return the lessons and their solutions by their name in a copy: ``solutions/01_....ipynb``.

    Raises
    ------
    ReadingError
        Where they are not there (a package that was cut down).
    """
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "notebooks", package.parent / "notebooks"):
        found = [*sorted(folder.glob(_LESSON)), *sorted((folder / "solutions").glob(_LESSON))]
        if found:
            projects = [path for one in _PROJECTS for path in sorted(folder.glob(one))]
            marked = [path for one in _PROJECTS for path in sorted((folder / "solutions").glob(one))]
            found = [*folder.glob(FIRST), *folder.glob(GLOSSARY), *found, *projects, *marked]
            return {path.relative_to(folder).as_posix(): path for path in found}
    raise ReadingError(f"the lessons are not in {package / 'notebooks'}; install the package again")


def lay_out(folder: AnyPath, *, teacher: bool = False) -> LaidOut:
    """Lay out a copy of the lessons, or bring the one in the folder up to date.

    Parameters
    ----------
    folder
        A folder that is new, empty, or holds a copy that was laid out before.
    teacher
        With the solutions, in a folder of their own.

    Returns
    -------
    LaidOut
        What became of each lesson.

    Raises
    ------
    ReadingError
        Where the folder cannot be used or a lesson cannot be written; nothing was written then, unless the
        disk fills up on the way, and each lesson that is there is whole.
    """
    folder = Path(folder)
    _check_folder(folder)
    out = LaidOut(folder)
    carried = {
        name: path for name, path in lessons_carried().items() if teacher or not name.startswith(_SOLUTIONS)
    }
    to_write: dict[str, bytes] = {}
    for name, path in carried.items():
        _look_at(name, path.read_bytes(), out, to_write)
    for parent in {(folder / name).parent for name in to_write}:
        make_folder(parent)
    check_outputs({name: folder / name for name in to_write}, inputs=carried.values())
    for name, content in to_write.items():
        write_file(folder / name, content, inputs=carried.values())
    return out


def _check_folder(folder: Path) -> None:
    named = shown(folder, 500)
    try:
        if not os.path.lexists(folder):
            return
        if not folder.is_dir():
            raise ReadingError(f"{named} is there and no folder. Name a folder that is new or empty")
        if not os.access(folder, os.W_OK | os.X_OK):
            raise ReadingError(f"{named} is not yours to write in. Name a folder that is yours")
        others = sorted(name for name in os.listdir(folder) if not name.startswith("."))
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise ReadingError(f"{named} cannot be looked at: {why}. Name another folder") from error
    copies = (*folder.glob(_LESSON), *folder.glob(f"{_SOLUTIONS}{_LESSON}"))
    if others and not any(_is_ours(path) for path in copies):
        raise ReadingError(
            f"{named} has other things in it, such as {shown(others[0], 100)}, and no lessons that were laid "
            "out before. Name a folder that is new or empty"
        )


def _is_ours(path: Path) -> bool:
    try:
        return is_marked(_content(path) or b"")
    except UnmergeableError:
        return False


def _content(path: Path) -> bytes | None:
    """Return what a file holds; ``None`` where there is none.

    Raises
    ------
    UnmergeableError
        Where it cannot be read.
    """
    try:
        return path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise UnmergeableError(f"it cannot be read ({error.strerror})") from error


def _look_at(name: str, lesson: bytes, out: LaidOut, to_write: dict[str, bytes]) -> None:
    """Note what has to be written for one lesson; where its copy cannot be merged, for the one beside it."""
    if name == GLOSSARY:
        _look_at_glossary(lesson, out, to_write)
        return
    try:
        _merge(name, lesson, out, to_write)
    except UnmergeableError as error:
        beside = name.replace(".ipynb", f"{_BESIDE}.ipynb")
        try:
            _merge(beside, lesson, out, to_write)
        except UnmergeableError as again:
            raise ReadingError(
                f"neither {name} nor {beside} in {shown(out.folder, 500)} can be brought up to date: of the "
                f"first, {error}; of the second, {again}. Move one of them to another folder"
            ) from again
        out.beside[name] = (str(error), beside)


def _look_at_glossary(page: bytes, out: LaidOut, to_write: dict[str, bytes]) -> None:
    """Note whether the page has to be written; nobody works in it, so there is nothing to merge."""
    try:
        there = _content(out.folder / GLOSSARY)
    except UnmergeableError as error:
        raise ReadingError(
            f"{GLOSSARY} in {shown(out.folder, 500)}: {error}. Move it to another folder"
        ) from error
    if there is not None and _OF_A_GLOSSARY not in there:
        raise ReadingError(
            f"{GLOSSARY} in {shown(out.folder, 500)} is another page than ours. Move it to another folder"
        )
    if there == page:
        out.same.append(GLOSSARY)
        return
    to_write[GLOSSARY] = page
    if there is None:
        out.new.append(GLOSSARY)
    else:
        out.updated[GLOSSARY] = (("written anew",), ())


def _merge(name: str, lesson: bytes, out: LaidOut, to_write: dict[str, bytes]) -> None:
    there = _content(out.folder / name)
    if there is None:
        to_write[name] = marked(lesson)
        out.new.append(name)
        return
    result = merged(there, lesson)
    if result.content is None:
        out.same.append(name)
    else:
        to_write[name] = result.content
        out.updated[name] = (result.changed, result.kept)


def _lessons(names: list[str]) -> str:
    solved = sum(name.startswith(_SOLUTIONS) for name in names)
    pages = {FIRST: "the page to start from", GLOSSARY: "the glossary"}
    told = [words for name, words in pages.items() if name in names]
    projects = sum(any(fnmatch(name, one) for one in _PROJECTS) for name in names)
    lessons = len(names) - solved - projects - len(told)
    counts = ((lessons, "lesson"), (projects, "project"), (solved, "solutions copy"))
    told += [f"{n} {what if n == 1 else what.replace('copy', 'copie') + 's'}" for n, what in counts if n]
    *before, last = told
    return f"{', '.join(before)} and {last}" if before else last
