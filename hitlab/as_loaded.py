"""What hitlab's own sources were when it was loaded, and whether they still are.

A program that runs has in memory what it has needed so far. Where another version is put in the place of its
sources meanwhile, it counts by the old rules, by the new ones, or by some of both, and nothing on the disk
tells which. So the sources are looked at before any module that counts or estimates is loaded, and later are
either still the same or tell nothing.
"""

from __future__ import annotations

import os
from functools import cache

__all__ = ["rules"]

_TOP = os.path.dirname(os.path.abspath(__file__))
_OWN = ("", "pitches", "counting", "estimates", "over_time", "questions")

Stamps = tuple[tuple[str, int, int, int, int], ...]


def _stamps() -> Stamps:
    """Give for each source what tells it from another of its name; nothing where they cannot be looked at."""
    found = []
    try:
        for own in _OWN:
            for name in sorted(os.listdir(os.path.join(_TOP, own))):
                if name.endswith(".py"):
                    at = os.stat(os.path.join(_TOP, own, name))
                    # The last of them is the time of the change, which no program can set back.
                    times = at.st_mtime_ns, at.st_ctime_ns
                    found.append((f"{own}/{name}", at.st_ino, at.st_size, *times))
    except OSError:
        return ()
    return tuple(found)


# Where this module itself is loaded anew, as while it is worked on, the others may still be as they were.
_AT_FIRST: Stamps = globals().get("_AT_FIRST") or _stamps()


def rules(*, fresh: bool = False) -> str:
    """Return what tells how things are worked out here from how another hitlab does.

    All that decides it, as it is written: an older hitlab, and one that somebody changed, is another.

    Parameters
    ----------
    fresh
        Read the sources again, though nothing shows that they were changed.

    Returns
    -------
    str
        Empty where it cannot be told: the sources are not there, or were changed after hitlab was loaded.
    """
    if not _AT_FIRST or _stamps() != _AT_FIRST:
        return ""
    if not fresh and _hashed.cache_info().currsize:
        return _hashed()  # what was hashed is still so
    found = _hashed.__wrapped__() if fresh else _hashed()
    return found if _stamps() == _AT_FIRST else ""


@cache
def _hashed() -> str:
    import hashlib

    found = hashlib.sha256()
    try:
        for name, *_ in _AT_FIRST:
            with open(os.path.join(_TOP, *name.split("/")), "rb") as file:
                found.update(name.encode() + b"\0" + file.read() + b"\0")
    except OSError:
        return ""
    return found.hexdigest()
