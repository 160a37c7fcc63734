"""Tries a function that a learner wrote: by what it returns for arguments that it has not seen.

Nothing here raises, whatever the function does, and one that does not end is stopped.
"""

from __future__ import annotations

import sys
import time
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from numbers import Number as AnyNumber
from types import CodeType, FrameType
from typing import Any

import numpy as np
import pandas as pd

from hitlab.exercises.definitions import Code, Wrong

__all__ = ["LIMIT_S", "Tried", "has_gaps", "tried"]

LIMIT_S = 5.0
"""Seconds after which a function that is still running is stopped (a default)."""

_SHOWN = 60  # characters of an argument or a result that are shown
_SEED = 20310415


class _TookTooLongError(BaseException):
    """Not an ``Exception``, so that a learner's ``except Exception`` does not hold it."""


@dataclass(frozen=True, slots=True)
class Tried:
    """What a function did.

    Attributes
    ----------
    state
        ``right``; ``nothing`` where it returns nothing yet; ``wrong``.
    mistake
        The known mistake that it makes, if it is one.
    says
        What is wrong, in a sentence without its full stop, where it is none of the known.
    """

    state: str
    mistake: Wrong | None = None
    says: str = ""


def has_gaps(function: Callable[..., Any]) -> bool:
    """Say whether a function has dots (``...``) where code is wanted."""
    code = getattr(function, "__code__", None)
    return isinstance(code, CodeType) and _has_dots(code)


def _has_dots(code: CodeType) -> bool:
    return any(one is ... or (isinstance(one, CodeType) and _has_dots(one)) for one in code.co_consts)


def tried(function: Callable[..., Any], form: Code, known: tuple[Wrong, ...]) -> Tried:
    """Try a function on cases that it has not seen.

    Parameters
    ----------
    function
        The learner's.
    form
        What is right, and how cases are drawn.
    known
        Wrong functions that people write.

    Returns
    -------
    Tried
        What it did.
    """
    left = LIMIT_S
    results = []
    for case in range(form.cases):
        arguments = _drawn(form, case)  # which takes its time, and none of the learner's
        began = time.monotonic()
        try:
            with _stopped_at(began + left, function):
                results.append(function(*arguments))
        except _TookTooLongError:
            return Tried("wrong", says=f"it had not ended after {LIMIT_S:g} seconds, and was stopped")
        except KeyboardInterrupt:
            raise
        except BaseException as error:  # the learner's code may raise anything, and marking goes on
            return Tried("wrong", says=_stopped(error, function))
        left -= time.monotonic() - began
    if all(result is None or result is ... for result in results):
        return Tried("nothing")
    rights = [form.right(*_drawn(form, case)) for case in range(form.cases)]
    faults = [_fault(*pair, form.tolerance) for pair in zip(results, rights, strict=True)]
    if not any(faults):
        return Tried("right")
    for wrong in known:
        theirs = (wrong.given(*_drawn(form, case)) for case in range(form.cases))
        if not any(_fault(mine, other, form.tolerance) for mine, other in zip(results, theirs, strict=True)):
            return Tried("wrong", wrong)
    case = next(place for place, fault in enumerate(faults) if fault)
    many = sum(map(bool, faults))
    where = _arguments(_drawn(form, case))
    says = f"{many} of {form.cases} tries come out otherwise. {where}{faults[case]}"
    return Tried("wrong", says=says)


def _drawn(form: Code, case: int) -> tuple[Any, ...]:
    return form.draw(np.random.default_rng([_SEED, case]))


@contextmanager
def _stopped_at(ends: float, function: Callable[..., Any]) -> Iterator[None]:
    """Stop what is written in the function's file at a time: a loop that does not end ends here.

    Only lines of that file are watched, so that what it calls is as quick as ever; one call into compiled
    code that takes long by itself cannot be stopped so.
    """
    own = getattr(getattr(function, "__code__", None), "co_filename", None)

    def watch(frame: FrameType, event: str, _: Any) -> Any:
        if frame.f_code.co_filename != own:
            return None
        if time.monotonic() > ends:
            raise _TookTooLongError
        return watch

    before = sys.gettrace()
    if before is not None or own is None:  # a debugger is at work, and whoever sits there can stop it
        yield
        return
    sys.settrace(watch)
    try:
        yield
    finally:
        sys.settrace(None)


def _stopped(error: BaseException, function: Callable[..., Any]) -> str:
    """Say with what a function stopped, and at which of its lines."""
    code = getattr(function, "__code__", None)
    lines = [
        frame.lineno - code.co_firstlineno + 1
        for frame in traceback.extract_tb(error.__traceback__)
        if isinstance(code, CodeType) and frame.filename == code.co_filename and frame.lineno is not None
    ]
    try:
        told = str(error)
    except Exception:  # an error's own words may raise as well
        told = ""
    what = f"{type(error).__name__}: {told}" if told else type(error).__name__
    at = f", at its line {lines[-1]}" if lines else ""
    return f"it stops with {_short(what, 2 * _SHOWN)}{at}"


def _fault(given: Any, right: Any, tolerance: float) -> str:
    """Say how a result differs from what is right; nothing where it does not."""
    wanted, found = _plain(right), _plain(given)
    if found is None:
        return f"it returns {_sort(given)}; {_sort(right)} is wanted"
    if isinstance(wanted, str) or isinstance(found, str):
        same = isinstance(found, str) and isinstance(wanted, str) and found.strip() == wanted.strip()
        return "" if same else f"it returns {_short(repr(given))}; {_short(repr(right))} is wanted"
    assert wanted is not None  # ours
    if found.shape != wanted.shape:
        is_or_are = "is" if wanted.size == 1 else "are"
        return f"it returns {_many(found.size)}; {_many(wanted.size)} {is_or_are} wanted"
    if found.dtype.kind == "U" or wanted.dtype.kind == "U":
        same = bool(np.all(found == wanted))
    else:
        same = bool(np.allclose(found, wanted, rtol=0, atol=tolerance, equal_nan=True))
    return "" if same else f"it returns {_short(_in_figures(found))}; {_short(_in_figures(wanted))} is wanted"


def _plain(value: Any) -> Any:
    """Return a result as text or as an array of numbers or of texts; ``None`` where it is neither."""
    if isinstance(value, str):
        return value
    if isinstance(value, (bool, np.bool_, AnyNumber)):
        return _as_array([value])
    if isinstance(value, (pd.DataFrame, pd.Series, pd.Index, np.ndarray, list, tuple, range)):
        return _as_array(value)
    return None


def _as_array(value: Any) -> np.ndarray | None:
    try:
        array = np.asarray(value)
        if array.dtype.kind in "bui":
            return array.astype(float).ravel()
        if array.dtype.kind == "f":
            return array.ravel()
        if all(isinstance(one, str) for one in array.ravel().tolist()):
            return array.ravel().astype(str)
        return np.asarray(value, dtype=float).ravel()
    except (TypeError, ValueError, OverflowError):
        return None


def _many(size: int) -> str:
    return "1 value" if size == 1 else f"{size} values"


def _in_figures(values: np.ndarray) -> str:
    told = [f"{one:.4g}" if values.dtype.kind == "f" else str(one) for one in values[:6]]
    return ", ".join(told) + (", ..." if len(values) > 6 else "")


def _arguments(arguments: tuple[Any, ...]) -> str:
    """Show the arguments of a case where they are few and short."""
    told = []
    for one in arguments:
        if isinstance(one, (str, bool, AnyNumber)) or (
            isinstance(one, (list, tuple, np.ndarray)) and len(one) <= 6
        ):
            plain = one if isinstance(one, (str, bool)) else _plain(one)
            told.append(
                repr(plain) if isinstance(plain, (str, bool)) or plain is None else _in_figures(plain)
            )
        else:
            return ""
    return f"For {_short('; '.join(told))} " if told else ""


def _sort(value: Any) -> str:
    if value is None:
        return "nothing"
    return {"str": "text", "function": "a function, which nobody called"}.get(
        type(value).__name__, f"a {type(value).__name__}"
    )


def _short(text: str, most: int = _SHOWN) -> str:
    one_line = " ".join(text.split())
    return one_line if len(one_line) <= most else f"{one_line[:most]}..."
