"""The learner's progress, in one small file.

By default ``progress.json`` in the folder ``.hitlab`` of the learner's home: outside the lessons, so
that a fresh copy of those loses nothing. ``HITLAB_PROGRESS`` in the environment names another file;
``HITLAB_PROGRESS=off`` keeps it in memory alone, for as long as the notebook runs.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from hitlab.errors import ReadingError
from hitlab.writing import make_folder, write_file

__all__ = ["VERSION", "change", "parsed", "progress_path", "read_all", "saved", "trouble_to_tell", "whole"]

VERSION = 1
"""Of the file's form; entries may gain values without it, and whoever does not know them keeps them."""

_WAIT_S = 2.0  # for another notebook that saves
_PARTS = ("exercises", "confidence", "learner", "reviews")
_EMPTY: dict[str, Any] = {"version": VERSION, **{part: {} for part in _PARTS}}

_memory: dict[str, Any] = {}  # what this process knows; all there is where no file can be used
_told: set[str] = set()  # troubles with the file that were said already
_untold: list[str] = []


def progress_path() -> Path | None:
    """Return the file, or None where progress is kept in memory only."""
    named = os.environ.get("HITLAB_PROGRESS", "").strip()
    if named.lower() == "off":
        return None
    try:
        return Path(named).expanduser() if named else Path.home() / ".hitlab" / "progress.json"
    except RuntimeError:  # this user has no home folder
        return None


def _complain(trouble: str, mend: str) -> None:
    told = f"{trouble.rstrip('.')}. {mend}".rstrip()
    message = f"Your progress is not being saved: {told} The exercises work all the same."
    if message not in _told:
        _told.add(message)
        _untold.append(message)


def trouble_to_tell() -> tuple[str, ...]:
    """Return what went wrong with the file and was not said yet; saying it once is enough."""
    out = tuple(_untold)
    _untold.clear()
    return out


def read_all() -> dict[str, Any]:
    """Return everything that is kept, by its parts, as ``parsed`` describes them; never raises."""
    known, _ = _load()
    return known


def saved() -> dict[str, Any]:
    """Return what the file alone holds, without what this process could not save; never raises."""
    known, _ = _load(with_memory=False)
    return known


def _load(with_memory: bool = True) -> tuple[dict[str, Any], bool]:
    """Return what is kept, and whether the file may be written (a broken one is left as it is)."""
    path = progress_path()
    found: dict[str, Any] = {}
    usable = path is not None
    if path is not None:
        try:
            found = parsed(path.read_bytes())
        except FileNotFoundError:
            found = {}
        except (ValueError, RecursionError):
            _complain(f"{path} is not a progress file", "Delete or rename it to start a new one.")
            found, usable = {}, False
        except OSError as error:
            _complain(f"{path} cannot be read ({error.strerror})", "")
            found, usable = {}, False
    # What a later version keeps besides stays as it is.
    merged: dict[str, Any] = {**json.loads(json.dumps(_EMPTY)), **found, **{part: {} for part in _PARTS}}
    for source in (found, _memory.get(str(path), {}) if with_memory else {}):
        for part in _PARTS:
            for key, entry in source.get(part, {}).items():
                merged[part].setdefault(key, {}).update(entry)
    return merged, usable


def parsed(content: bytes) -> dict[str, Any]:
    """Return what a progress file holds, by its parts.

    ``exercises`` by id, ``confidence`` by lesson; from when they were kept on ``learner`` (``order`` with the
    ``seed`` of the letters) and ``reviews`` (of each question how often it was asked and missed, of each
    lesson the round that is open).

    An entry of an exercise has ``state`` and ``tries``, ``hints`` and ``solution_seen``; from when they were
    kept on also ``first_state``, ``first_mistake``, ``first_try`` and ``last_try`` (times in UTC), and
    ``mistakes``, how often each by its name, ``sure``, the chance given with the first try, ``compared``,
    how often a sentence had words that its list does not know, and ``compared_sentence``, a sign of the last
    such sentence. A confidence has ``before`` and ``after``: verdict and chance; ``given``, every one with
    its time; and once the lesson was over ``truth``, the right one.
    Nobody has looked at the values: a learner may have edited the file.

    Raises
    ------
    ValueError, RecursionError
        Where it is no progress file.
    """
    found = json.loads(content.decode("utf-8"))
    if not isinstance(found, dict):
        raise ValueError("not a progress file")
    parts = [found.get("exercises"), found.get("confidence"), *(found.get(part, {}) for part in _PARTS[2:])]
    if not all(isinstance(part, dict) and all(isinstance(e, dict) for e in part.values()) for part in parts):
        raise ValueError("not a progress file")
    return dict(found)


def whole(value: Any) -> int:
    """Return a count from the progress file; anything else that stands there counts as 0."""
    return value if isinstance(value, int) and not isinstance(value, bool) and value >= 0 else 0


def change(part: str, key: str, **entry: Any) -> None:
    """Put values into one entry and save; where that cannot be, keep them in memory. Never raises."""
    path = progress_path()
    mine = _memory.setdefault(str(path), {}).setdefault(part, {}).setdefault(key, {})
    mine.update(entry)
    if path is None:
        return
    try:
        make_folder(path.parent)
        with _alone(path):
            known, usable = _load()
            if not usable:
                return
            text = json.dumps(known, indent=1, sort_keys=True, ensure_ascii=False)
            write_file(path, f"{text}\n".encode())
    except ReadingError as error:
        _complain(str(error), "HITLAB_PROGRESS can name another file.")
    else:
        _memory.pop(str(path), None)


@contextmanager
def _alone(path: Path) -> Iterator[None]:
    """Keep the learner's other notebooks from writing meanwhile; who waits too long writes all the same.

    The lock is a file beside the other, which stays: to take it away would let two in.
    """
    from filelock import FileLock, Timeout

    lock = FileLock(path.with_name(f".{path.name}.lock"), timeout=_WAIT_S)
    try:
        lock.acquire()
    except (Timeout, OSError, NotImplementedError):
        yield
        return
    try:
        yield
    finally:
        lock.release()
