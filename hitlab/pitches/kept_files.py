"""What was worked out of a folder of saved tables, kept in a hidden folder inside it.

It may be deleted at any time. What is kept bears the seal of the part that it is of, which is made of its
checksums, so that no clock, no name and no place decides whether it still holds. Whatever is wrong with it,
or in the way of writing it, it is as if it were not there: nothing is refused for it, and nothing is said.

The names of hitters and pitchers, games and dates are in it, so that nobody but its owner may look into it,
and what is kept of a part goes when the part does.

Of each part are kept its sums by what tells hitters, games and pitchers apart
(:mod:`hitlab.counting.kept_counts`) and a small table by hitter beside them; of one that an older hitlab
saved also what its names, days and speeds show (:mod:`hitlab.pitches.seen`), which newer ones tell
themselves. Of all parts together one small table each, so that a claim reads some megabytes however many
parts there are: what is in doubt (its days are held against today each time), the sums by hitter, also of
days or a club that were chosen, and what games, seasons and pitchers tell of a rate. They bear a seal made
of all parts' names and seals. So a new part costs itself, the adding up, and for each rate its fit.

A file is named by kind, rules, way of counting and part, and says the same inside; what does not fit is
worked out anew. The rules are a hash of sources (:mod:`hitlab.as_loaded`): where these have changed since
they were loaded, nothing is taken and nothing kept. Two ways of counting are kept, and 24 rates and choices;
what is of no part, or of other rules, goes at the next look. The folder's mode is 0700 and that of its files
0600, where the system has modes. Of what is opened on trust nothing is kept. ``HITLAB_COUNTS=off`` turns it
off, forgetting too.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hitlab.as_loaded import rules
from hitlab.errors import ReadingError
from hitlab.pitches.regular import regular
from hitlab.pitches.sealing import seal, verify
from hitlab.writing import write_file

__all__ = ["FOLDER", "Name", "forget", "keep", "kept", "pays", "writing"]

FOLDER = ".hitlab-counts"
"""Where it lies in the folder of saved tables; what begins with a dot is no part."""

SWITCH = "HITLAB_COUNTS"
"""Of the environment: with ``off`` nothing is kept, nothing that is kept is taken, and nothing is deleted."""

FEWEST_ROWS = 20_000
"""Pitches of a folder from which something is kept of it (a default): fewer are counted at once."""

FEWEST_ROWS_OF_A_PART = 5_000
"""Pitches of a part, on average, from which it pays (a default): fewer are counted while a file is opened."""

_VERSION = b"hitlab_kept"
_OF = b"hitlab_kept_of"
_LOCK = ".lock"
_ENDING = ".parquet"
_SIGNS = 16  # of a hash in a file's name; the whole of what it is of stands inside
_NAMED = re.compile(rf"([a-z]+)-([0-9a-f]{{{_SIGNS}}})-([0-9a-f]{{{_SIGNS}}})-([0-9a-f]{{{_SIGNS}}})")


@dataclass(frozen=True, slots=True)
class Name:
    """What something that is kept is of.

    Attributes
    ----------
    kind
        ``counts``, ``doubts``, ``faced``, ...
    seal
        Of the part, or of all parts.
    way
        How it was worked out, where there are several ways.
    """

    kind: str
    seal: str
    way: str = ""

    def file(self, version: str) -> str:
        """Return the name of its file under some rules."""
        return "-".join([self.kind, _short(version), _short(self.way), _short(self.seal)]) + _ENDING

    @property
    def mark(self) -> bytes:
        """All of it, as it stands in the file."""
        return json.dumps([self.kind, self.way, self.seal]).encode()


def _short(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:_SIGNS]


def pays(rows: int, parts: int) -> bool:
    """Say whether something is to be kept of a folder: where it is large, and nobody has turned it off."""
    return rows >= max(FEWEST_ROWS, FEWEST_ROWS_OF_A_PART * parts) and not _is_off() and bool(rules())


def _is_off() -> bool:
    return os.environ.get(SWITCH, "").strip().casefold() == "off"


def kept(
    folder: Path, name: Name, most_rows: int, choose: Callable[[Any], Sequence[str]] | None = None
) -> Any:
    """Return a table that is kept, if it is whole and of these rules; else ``None``.

    Parameters
    ----------
    folder
        The folder of saved tables.
    name
        What it is of.
    most_rows
        More rows than it can have: such a table is not read.
    choose
        From its Arrow schema to the columns that are read, none where it cannot be what it says; then texts
        come in codes, as they are kept. Not given: all, as they are.

    Returns
    -------
    pyarrow.Table, or None
        The table.
    """
    import pyarrow as pa
    from pyarrow import parquet

    version = rules()
    path = folder / FOLDER / name.file(version)
    try:
        if not version or path.parent.is_symlink():
            return None
        with regular(path) as file:
            if not verify(file, str(path)):
                return None
            file.seek(0)
            opened = parquet.ParquetFile(file)
            mark = opened.schema_arrow.metadata or {}
            # A file that was given the name of another is not of what its name says.
            if mark.get(_VERSION) != version.encode() or mark.get(_OF) != name.mark:
                return None
            if opened.metadata.num_rows > most_rows:
                return None
            if choose is None:
                return opened.read()
            columns = list(choose(opened.schema_arrow))
            if not columns:
                return None
            texts = [one for one in columns if pa.types.is_large_string(opened.schema_arrow.field(one).type)]
            file.seek(0)
            return parquet.ParquetFile(file, read_dictionary=texts).read(columns)
    except (ReadingError, pa.ArrowException, OSError, ValueError, OverflowError, KeyError, MemoryError):
        return None


def keep(folder: Path, name: Name, table: Any) -> bool:
    """Keep a table; call it :func:`writing` only.

    Parameters
    ----------
    folder, name
        As in :func:`kept`.
    table
        Arrow table.

    Returns
    -------
    bool
        Whether it is kept now.
    """
    from pyarrow import parquet

    version = rules(fresh=True)
    if not version or version != rules():
        return False
    table = table.replace_schema_metadata({_VERSION: version.encode(), _OF: name.mark})

    def write(file: Any) -> None:
        os.chmod(file.name, 0o600)
        parquet.write_table(table, file, compression="zstd")
        seal(file)

    path = folder / FOLDER / name.file(version)
    try:
        # What lies there is of no use; its permissions, and whereto it leads, count no more.
        path.unlink(missing_ok=True)
        write_file(path, write)
    except (ReadingError, OSError):
        return False
    return True


def forget(
    folder: Path, seals: Collection[str], way: str = "", kinds: Collection[str] = (), most: int = 0
) -> None:
    """Take away what is kept of parts that are no longer there, by other rules, and in too many ways.

    Parameters
    ----------
    folder
        The folder of saved tables.
    seals
        Of all its parts, and of all of them together.
    way
        How something was worked out just now: it stays, and of the others those that were kept last.
    kinds
        What was; of other kinds none is too many.
    most
        How many ways stay.
    """
    if _is_off():
        return
    ours, version = {_short(one) for one in seals}, rules()
    away: list[Path] = []
    others: dict[str, list[tuple[int, Path]]] = {}
    with suppress(OSError):
        if (folder / FOLDER).is_symlink():
            return
        for path in (folder / FOLDER).glob(f"*{_ENDING}"):
            found = _NAMED.fullmatch(path.stem)
            if not found or found[4] not in ours or (version and found[2] != _short(version)):
                away.append(path)
            elif found[1] in kinds and found[3] != _short(way):
                others.setdefault(found[3], []).append((path.stat().st_mtime_ns, path))
    late = sorted(others.values(), key=max, reverse=True)[max(most - 1, 0) :]
    away += [path for some in late for _, path in some]
    if away:
        with writing(folder) as mine:
            for path in away if mine else ():
                with suppress(OSError):
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
            inside.mkdir(mode=0o700, exist_ok=True)
            inside.chmod(0o700)
            lock = FileLock(inside / _LOCK, timeout=0, mode=0o600, fallback_to_soft=False)
            lock.acquire()
    try:
        yield lock is not None and lock.is_locked
    finally:
        if lock is not None and lock.is_locked:
            lock.release()
