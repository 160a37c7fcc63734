"""What was worked out of a folder of saved tables, kept in a hidden folder inside it.

It may be deleted at any time. What is kept bears the name of what it is of: the seals of the parts, which are
made of their checksums, so that no clock, no name and no place decides whether it still holds. Whatever is
wrong with it, or in the way of writing it, it is as if it were not there: nothing is refused for it, and
nothing is said.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path
from typing import Any

from hitlab.errors import ReadingError
from hitlab.pitches.regular import regular
from hitlab.pitches.sealing import seal, verify
from hitlab.writing import write_file

__all__ = ["FOLDER", "forget_others", "keep", "kept", "name_of", "pays", "rules", "writing"]

FOLDER = ".hitlab-counts"
"""Where it lies in the folder of saved tables; what begins with a dot is no part."""

SWITCH = "HITLAB_COUNTS"
"""Of the environment: with ``off`` nothing is kept and nothing that is kept is taken."""

FEWEST_ROWS = 20_000
"""Pitches of a folder from which something is kept of it (a default): fewer are counted at once."""

FEWEST_ROWS_OF_A_PART = 5_000
"""Pitches of a part, on average, from which it pays (a default): fewer are counted while a file is opened."""

_VERSION = b"hitlab_kept"
_OF = b"hitlab_kept_of"
_LOCK = ".lock"
_ENDING = ".parquet"


def pays(rows: int, parts: int) -> bool:
    """Say whether something is to be kept of a folder: where it is large, and nobody has turned it off."""
    off = os.environ.get(SWITCH, "").strip().casefold() == "off"
    return not off and bool(rules()) and rows >= max(FEWEST_ROWS, FEWEST_ROWS_OF_A_PART * parts)


@cache
def rules() -> str:
    """Return what tells how things are worked out here from how another hitlab does; ``""`` where unknown.

    All that decides it, as it is written: an older hitlab, and one that somebody changed, is another.
    """
    top = Path(__file__).parent.parent
    found = hashlib.sha256()
    try:
        sources = sorted(
            path for own in (top, top / "pitches", top / "counting") for path in own.glob("*.py")
        )
        for path in sources:
            found.update(path.relative_to(top).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    except OSError:
        return ""
    return found.hexdigest() if sources else ""


def name_of(kind: str, *of: str) -> str:
    """Return the name under which something of a kind is kept, made of the seals of what it is of."""
    return f"{kind}-{hashlib.sha256(json.dumps(of).encode()).hexdigest()[:40]}"


def kept(folder: Path, name: str, most_rows: int) -> Any:
    """Return a table that is kept, if it is whole and of these rules; else ``None``.

    Parameters
    ----------
    folder
        The folder of saved tables.
    name
        From :func:`name_of`.
    most_rows
        More rows than it can have: such a table is not read.

    Returns
    -------
    pyarrow.Table, or None
        With its metadata.
    """
    import pyarrow as pa
    from pyarrow import parquet

    path = folder / FOLDER / f"{name}{_ENDING}"
    if path.parent.is_symlink() or not path.is_file():
        return None
    try:
        with regular(path) as file:
            if not verify(file, str(path)):
                return None
            file.seek(0)
            opened = parquet.ParquetFile(file)
            mark = opened.schema_arrow.metadata or {}
            # A file that was given the name of another is not of what its name says.
            if mark.get(_VERSION) != rules().encode() or mark.get(_OF) != name.encode():
                return None
            return opened.read() if opened.metadata.num_rows <= most_rows else None
    except (ReadingError, pa.ArrowException, OSError, ValueError, OverflowError, KeyError, MemoryError):
        return None


def keep(folder: Path, name: str, table: Any, mark: Mapping[str, str] | None = None) -> None:
    """Keep a table; call it :func:`writing` only.

    Parameters
    ----------
    folder, name
        As in :func:`kept`.
    table
        Arrow table.
    mark
        What goes into its metadata beside.
    """
    from pyarrow import parquet

    told = {name.encode(): text.encode() for name, text in (mark or {}).items()}
    table = table.replace_schema_metadata({**told, _VERSION: rules().encode(), _OF: name.encode()})

    def write(file: Any) -> None:
        parquet.write_table(table, file, compression="zstd")
        seal(file)

    with suppress(ReadingError, OSError):
        write_file(folder / FOLDER / f"{name}{_ENDING}", write)


def forget_others(folder: Path, kind: str, names: Collection[str]) -> None:
    """Take away what of a kind is kept of what is no longer there; call it :func:`writing` only."""
    with suppress(OSError):
        for path in (folder / FOLDER).glob(f"{kind}-*{_ENDING}"):
            if path.stem not in names:
                path.unlink(missing_ok=True)


@contextmanager
def writing(folder: Path) -> Iterator[bool]:
    """Be the one who writes there, and say whether one is: where another writes, he keeps the same.

    Parameters
    ----------
    folder
        The folder of saved tables.
    """
    from filelock import FileLock, Timeout

    inside = folder / FOLDER
    lock = None
    # Nobody is waited for, and nothing is said: it is counted again the next time.
    with suppress(OSError, Timeout, NotImplementedError):
        if not inside.is_symlink():
            inside.mkdir(exist_ok=True)
            lock = FileLock(inside / _LOCK, timeout=0, fallback_to_soft=False)
            lock.acquire()
    try:
        yield lock is not None and lock.is_locked
    finally:
        if lock is not None and lock.is_locked:
            lock.release()
