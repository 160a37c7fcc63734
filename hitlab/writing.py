"""The one way in which hitlab writes a file: whole or not at all, and never over what it read.

A file is written beside the one that it replaces, made safe on the disk, and then takes its name. So where
the disk is full or the program is killed, an older file of that name is still there, whole. What a killed
program leaves beside has a name of our own with the number of its process; whoever writes next in that
folder takes it away.
"""

from __future__ import annotations

import itertools
import os
import platform
import re
import stat
import sys
import unicodedata
import zlib
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from threading import Lock
from typing import BinaryIO

from hitlab.errors import ReadingError
from hitlab.showing import shown

__all__ = [
    "STANDARD_INPUT",
    "AnyPath",
    "Content",
    "check_outputs",
    "files_read",
    "make_folder",
    "make_sure_of_the_name",
    "note_read",
    "refusal",
    "safe_name",
    "write_file",
    "write_new_file",
]

AnyPath = str | os.PathLike[str]

Content = bytes | Callable[[BinaryIO], object]
"""What a file shall hold: its bytes, or what writes them into an open file."""

STANDARD_INPUT = "-"
"""What is said where the table comes from the standard input, which may be a file as well."""

# Numbers of processes mean something on their own machine only.
_MACHINE = f"{zlib.crc32(platform.node().encode()):08x}"
_LEFT_OVER = re.compile(rf"\.hitlab-{_MACHINE}-([0-9]+)-[0-9]+\.unfinished")
_MOST_OF_A_PATH = 500  # characters of it in a message
_MOST_OF_A_STEM = 110  # bytes; systems take 255, and an ending and a number follow
_RESERVED = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(10)}
"""Names that Windows gives to devices, whatever their ending."""

_numbers = itertools.count(1)
_open: set[Path] = set()  # what this process writes now
_lock = Lock()
_read: dict[str, None] = {}  # in the order of reading


def note_read(path: AnyPath) -> None:
    """Remember a file that was read, so that no result of this program is written over it.

    A rate, a ranking or a frame that somebody works on further does not know which file it came from; the
    program does.

    Parameters
    ----------
    path
        The file; the folder that the program works in may change afterwards.
    """
    _read[os.path.realpath(path)] = None


def files_read() -> tuple[str, ...]:
    """Return the paths of the files that were read in this program; results pass them as ``inputs``."""
    return tuple(_read)


def write_file(path: AnyPath, content: Content, *, inputs: Iterable[AnyPath | None] = ()) -> Path:
    """Write a file whole or not at all.

    A file of that name is replaced by the new one once that is complete and on the disk; it gives it its
    permissions. Behind a symbolic link the file is replaced, not the link. Another name of the same file (a
    hard link) keeps the old content.

    Parameters
    ----------
    path
        The file.
    content
        Its bytes, or a function that writes them into the open file that it is given.
    inputs
        Files that were read for it, which it must not be; what is none, or no file, is passed over.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    ReadingError
        Where the file cannot be written, is one of the inputs, or is there and no regular file; the message
        names it, and an older file is as it was.
    """
    why = refusal(path, inputs)
    if why:
        raise _error(path, why)
    target = Path(os.path.realpath(path))
    beside = _beside(target.parent, os.getpid())
    with _lock:
        _open.add(beside)
    try:
        _take_away_left_overs(target.parent)
        with beside.open("x+b") as file:
            _filled(file, content)
            file.flush()
            os.fsync(file.fileno())
        _give_permissions(target, beside)
        os.replace(beside, target)
    except OSError as error:
        raise _error(path, f"{error.strerror or error}. {_ELSEWHERE}") from error
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)
        with _lock:
            _open.discard(beside)
    make_sure_of_the_name(target.parent)
    return Path(path)


def write_new_file(path: AnyPath, content: bytes) -> Path:
    """Write a file that is not there yet; where one of this name is, the new one gets a number.

    Two programs that write at the same time do not write over each other.

    Parameters
    ----------
    path
        The file; ``name.png`` becomes ``name-2.png``, ``name-3.png``, ... where it is taken.
    content
        Its bytes.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    ReadingError
        Where it cannot be written; the message names it.
    """
    first = Path(path)
    numbered = (first.with_name(f"{first.stem}-{number}{first.suffix}") for number in itertools.count(2))
    for target in itertools.chain([first], numbered):
        why = "" if os.path.lexists(target) else refusal(target)
        if why:
            raise _error(target, why)
        try:
            # Whoever makes the name first has it: an empty file, which is then replaced whole.
            os.close(os.open(target, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        except FileExistsError:
            continue
        except (OSError, ValueError) as error:
            raise _error(target, f"{getattr(error, 'strerror', None) or error}. {_ELSEWHERE}") from error
        try:
            return write_file(target, content)
        except ReadingError:
            with suppress(OSError):
                target.unlink()
            raise
    raise AssertionError("there is always one more number")


def _filled(file: BinaryIO, content: Content) -> None:
    if isinstance(content, bytes):
        file.write(content)
    else:
        content(file)


def refusal(path: AnyPath, inputs: Iterable[AnyPath | None] = ()) -> str:
    """Say why a file cannot be written, as far as that shows beforehand; ``""`` where it seems it can.

    Parameters
    ----------
    path
        The file.
    inputs
        Files that are read for it.

    Returns
    -------
    str
        The reason, as the second half of a sentence; nothing is touched.
    """
    if not os.fspath(path):
        return "its name is empty; name a file"
    try:
        target = Path(os.path.realpath(path))
        there = _status(target)
        folder = _status(target.parent)
    except (OSError, ValueError) as error:
        return f"{getattr(error, 'strerror', None) or error}. {_ELSEWHERE}"
    if folder is None or not stat.S_ISDIR(folder.st_mode):
        return f"there is no folder {shown(target.parent, _MOST_OF_A_PATH)}. {_ELSEWHERE}"
    if there is None:
        allowed = os.access(target.parent, os.W_OK | os.X_OK)
        return "" if allowed else f"its folder is not yours to write in. {_ELSEWHERE}"
    if not stat.S_ISREG(there.st_mode):
        return f"it is {_what_it_is(there.st_mode)}, not a file. {_ELSEWHERE}"
    if any(_same(there, one) for one in inputs):
        return "it is the file that is read. Name another file"
    # A file that is protected stays, although its folder would allow another in its place.
    return "" if os.access(target, os.W_OK) else f"it is read-only. {_ELSEWHERE}"


_ELSEWHERE = "Name a file in a folder that is there and is yours"


def check_outputs(outputs: Mapping[str, AnyPath | None], *, inputs: Iterable[AnyPath | None] = ()) -> None:
    """Refuse, before any work, outputs that cannot be written, are inputs, or are one file.

    Parameters
    ----------
    outputs
        What each is called in a message, and its path; ``None`` where it was not asked for.
    inputs
        Files that are read.

    Raises
    ------
    ReadingError
        Where one is refused; nothing was touched.
    """
    asked = {name: path for name, path in outputs.items() if path is not None}
    inputs = list(inputs)
    for path in asked.values():
        why = refusal(path, inputs)
        if why:
            raise _error(path, why)
    for (one, first), (other, second) in itertools.combinations(asked.items(), 2):
        if _one_file(first, second):
            raise ReadingError(
                f"{one} and {other} are one file, {shown(os.fspath(first), _MOST_OF_A_PATH)}. Name two files"
            )


def make_folder(path: AnyPath) -> Path:
    """Make a folder, and those above it, unless it is there.

    Raises
    ------
    ReadingError
        Where it cannot be made; the message names it.
    """
    try:
        Path(path).mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        named = shown(os.fspath(path), _MOST_OF_A_PATH)
        raise ReadingError(f"{named} cannot be made a folder: {why}. Name another place") from error
    return Path(path)


def safe_name(text: str, taken: set[str]) -> str:
    """Return a name for a file, made of a text from the data; without an ending.

    Letters and digits of every script stay, words are joined by hyphens, so that it can be a name on every
    system and in every shell. A name that is taken, in capitals or not, gets a number.

    Parameters
    ----------
    text
        Such as what a hitter is called.
    taken
        Names that were given before, folded; the new one is added.

    Returns
    -------
    str
        Never empty, and of 120 bytes at most.

    Examples
    --------
    >>> taken = set()
    >>> safe_name("../Íñigo O'Nurl", taken), safe_name("íñigo o nurl", taken), safe_name("...", taken)
    ('Íñigo-O-Nurl', 'íñigo-o-nurl-2', 'nameless')
    """
    plain = unicodedata.normalize("NFC", shown(text))
    # Marks belong to the letters before them; everything else parts words.
    joined = "".join(sign if unicodedata.category(sign)[0] in "LMN" else " " for sign in plain)
    stem = "-".join(joined.split())
    stem = stem.encode()[:_MOST_OF_A_STEM].decode(errors="ignore").strip("-") or "nameless"
    if stem.casefold() in _RESERVED:
        stem = f"{stem}-1"
    name, number = stem, 1
    while name.casefold() in taken:
        number += 1
        name = f"{stem}-{number}"
    taken.add(name.casefold())
    return name


def _error(path: AnyPath, why: str) -> ReadingError:
    return ReadingError(f"{shown(os.fspath(path), _MOST_OF_A_PATH)} cannot be written: {why}.")


def _status(path: AnyPath) -> os.stat_result | None:
    try:
        return os.stat(path)
    except (FileNotFoundError, NotADirectoryError):
        return None


def _same(there: os.stat_result, other: AnyPath | None) -> bool:
    """Say whether a path leads to this file; whatever is no path of a file does not."""
    try:
        if other == STANDARD_INPUT:
            found = None if sys.stdin is None else os.fstat(sys.stdin.fileno())
        else:
            found = _status(other) if other else None
    except (OSError, ValueError):
        return False
    return found is not None and os.path.samestat(there, found)


def _one_file(first: AnyPath, second: AnyPath) -> bool:
    there = _status(first)
    if there is not None and _same(there, second):
        return True
    one, other = (os.path.normcase(os.path.realpath(path)) for path in (first, second))
    return one == other


def _what_it_is(mode: int) -> str:
    kinds = (
        (stat.S_ISDIR, "a folder"),
        (stat.S_ISFIFO, "a pipe"),
        (stat.S_ISSOCK, "a socket"),
    )
    return next((words for test, words in kinds if test(mode)), "a device")


def _beside(folder: Path, process: int) -> Path:
    """Return a name for what is not yet complete; short, so that it fits where the file's own does."""
    return folder / f".hitlab-{_MACHINE}-{process}-{next(_numbers)}.unfinished"


def _take_away_left_overs(folder: Path) -> None:
    """Remove what processes that ended left in a folder."""
    with suppress(OSError), os.scandir(folder) as there:
        for entry in there:
            found = _LEFT_OVER.fullmatch(entry.name)
            if (
                found
                and entry.is_file(follow_symlinks=False)
                and not _in_use(folder / entry.name, int(found[1]))
            ):
                with suppress(OSError):
                    os.unlink(entry.path)


def _in_use(path: Path, process: int) -> bool:
    if process == os.getpid():  # ours, or of a process that had our number before
        with _lock:
            return path in _open
    if os.name == "nt":  # there a signal of 0 would end it, and a file that is open cannot be removed
        return False
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:  # it is another user's
        return True
    return True


def _give_permissions(target: Path, beside: Path) -> None:
    there = _status(target)
    if there is None:
        return
    if hasattr(os, "chown"):
        # Who may not give a file away keeps it. Its bits come after, as this clears some of them.
        with suppress(OSError):
            os.chown(beside, there.st_uid, there.st_gid)
    os.chmod(beside, stat.S_IMODE(there.st_mode))


def make_sure_of_the_name(folder: Path) -> None:
    """Put the names in a folder on the disk, where the system can do that.

    Parameters
    ----------
    folder
        In which files were made or renamed.
    """
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
