"""One at a time: a lock beside a file that is changed, which ends with the process that holds it."""

from __future__ import annotations

import os
import platform
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from hitlab.errors import ReadingError
from hitlab.showing import shown

__all__ = ["WAIT_SECONDS", "held", "lock_of"]

WAIT_SECONDS = 20.0
"""How long another is waited for (a default): writing a season takes a second or two."""


def lock_of(path: str | os.PathLike[str]) -> Path:
    """Return where the lock of a file stands: beside it, hidden, so that no folder of charts shows it."""
    target = Path(os.path.realpath(path))
    return target.with_name(f".{target.name}.lock")


@contextmanager
def held(
    path: str | os.PathLike[str],
    wait_seconds: float = WAIT_SECONDS,
    called: str | os.PathLike[str] | None = None,
) -> Iterator[None]:
    """Keep others who ask in the same way from a file while something is done.

    The lock is the system's own on an open file: a process that is killed holds it no longer. What lies in
    the folder meanwhile tells who holds it, and is taken away at the end.

    Parameters
    ----------
    path
        The file that is changed; it need not be there.
    wait_seconds
        How long another is waited for.
    called
        What to call it in messages, where it stands for something else.

    Raises
    ------
    ReadingError
        Where another still holds it, and who; or its folder has no locks.
    """
    from filelock import FileLock, Timeout

    beside, named = lock_of(path), shown(path if called is None else called)
    lock = FileLock(beside, timeout=wait_seconds, fallback_to_soft=False)
    try:
        lock.acquire()
    except Timeout as error:
        raise ReadingError(
            f"{named} is being written by another hitlab ({_holder(beside)}). Try again when it has "
            "ended; nothing was changed"
        ) from error
    except OSError as error:
        raise ReadingError(
            f"{named} cannot be kept from others while it is written: {error.strerror or error}. Name "
            "a file in a folder that is there and is yours"
        ) from error
    try:
        with suppress(OSError):
            beside.write_text(f"{os.getpid()}\n{platform.node()}\n{time.strftime('%H:%M')}\n", "utf-8")
        yield
    finally:
        # While it is still held: whoever opened it meanwhile sees that it is gone, and makes another.
        with suppress(OSError):
            beside.unlink()
        lock.release()


def _holder(beside: Path) -> str:
    with suppress(OSError, ValueError):
        process, machine, since = beside.read_text("utf-8").splitlines()
        where = "" if machine == platform.node() else f" on {shown(machine, 100)}"
        return f"process {int(process)}{where}, since {shown(since, 10)}"
    return "it does not say which process"
