"""Files that may be opened: regular ones, once.

A pipe would wait for ever, or lose its head where it is looked at first, and a device has no end. The
standard input is read where it is asked for, by ``-``.
"""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path
from typing import BinaryIO

from hitlab.errors import ReadingError
from hitlab.pitches.wordforms import fold

__all__ = ["TABLE_ENDINGS", "by_size", "regular"]

TABLE_ENDINGS = (".csv", ".tsv", ".txt", ".xlsx", ".xlsm", ".ods", ".parquet", ".feather", ".arrow")
"""What names of pitch tables end in."""


def by_size(name: str) -> list[tuple[int, str]]:
    """Order of the names of files, in which week-2 comes before week-10."""
    return [(int(part) if part.isdecimal() else -1, part) for part in re.split(r"([0-9]{1,15})", fold(name))]


def entries(folder: Path) -> list[Path]:
    """Return what is in a folder, week-2 before week-10; hidden files and locks of open ones are passed over.

    Raises
    ------
    ReadingError
        Where it cannot be looked into.
    """
    try:
        names = sorted((entry.name for entry in os.scandir(folder)), key=by_size)
    except OSError as error:
        raise ReadingError(f"{folder} cannot be looked into: {error.strerror or error}.") from error
    return [folder / name for name in names if not name.startswith((".", "~$"))]


_INPUT = {"table": "; for the standard input say '-'", "mapping": ""}


def regular(path: Path, what: str = "table") -> BinaryIO:
    """Open a regular file for reading.

    Parameters
    ----------
    path
        The file.
    what
        What it should be, for messages.

    Returns
    -------
    typing.BinaryIO
        Open, at its beginning.

    Raises
    ------
    ReadingError
        Where it is not there, may not be read, or is a folder, a pipe or a device.
    """
    try:
        # Looked at before it is opened: opening a pipe waits until somebody writes into it.
        kind = os.stat(path).st_mode
        if stat.S_ISDIR(kind):
            raise _directory(path)
        if not stat.S_ISREG(kind):
            raise ReadingError(
                f"{path} is {_kind_of(kind)}, not a regular file, and no {what} is read from it. Name a "
                f"file{_INPUT[what]}."
            )
        return path.open("rb")
    except FileNotFoundError as error:
        raise _missing_file(path) from error
    except PermissionError as error:
        raise ReadingError(f"{path} cannot be opened: no permission to read it.") from error
    except (OSError, ValueError) as error:
        shown = str(path) if len(str(path)) <= 200 else f"{str(path)[:200]}..."
        why = getattr(error, "strerror", None) or error
        raise ReadingError(f"{shown!r} cannot be opened: {why}.") from error


def _kind_of(kind: int) -> str:
    if stat.S_ISFIFO(kind):
        return "a pipe"
    if stat.S_ISCHR(kind) or stat.S_ISBLK(kind):
        return "a device"
    return "a socket" if stat.S_ISSOCK(kind) else "something else"


def _missing_file(path: Path) -> ReadingError:
    from hitlab.pitches.mapping import nearest

    folder, said = path.parent, f"There is no file {str(path)!r}"
    try:
        if not folder.is_dir():
            return ReadingError(f"{said}: the folder {str(folder)!r} does not exist.")
        near = nearest(path.name, [p.name for p in folder.iterdir() if p.is_file()])
    except OSError:
        return ReadingError(f"{said}.")
    there = "this folder" if folder == Path() else "that folder"
    hint = f"Nearest in {there}: {near}." if near else f"Nothing in {there} has a name like it."
    return ReadingError(f"{said}. {hint}")


def _directory(path: Path) -> ReadingError:
    tables = sorted(p.name for p in path.iterdir() if p.suffix.lower() in TABLE_ENDINGS)[:10]
    inside = f" Tables in it: {', '.join(tables)}." if tables else ""
    return ReadingError(f"{path} is a folder, not a file. Name one file.{inside}")
