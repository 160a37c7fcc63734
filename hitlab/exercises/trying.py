"""Tries a function that a learner wrote: by what it returns for arguments that it has not seen.

Nothing here raises, whatever the function does, and one that does not end is stopped.
"""

from __future__ import annotations

import io
import sys
import time
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stdout
from dataclasses import dataclass
from functools import cache
from numbers import Complex, Real
from numbers import Number as AnyNumber
from types import CodeType, FrameType, FunctionType
from typing import Any

import numpy as np
import pandas as pd

from hitlab.exercises.answers import sort_of
from hitlab.exercises.definitions import Code, Wrong
from hitlab.wording import capitalised

__all__ = ["LIMIT_S", "Tried", "has_gaps", "tried"]

LIMIT_S = 5.0
"""Seconds of the processor after which a function that is still running is stopped (a default)."""

_CLOCK = 10  # times as long by the clock: a busy machine is no loop, and what only waits has to end as well

_SHOWN = 60  # characters of an argument or a result that are shown
_OTHER_UNIT = 10  # times as large on average, and a result is in another unit
_LOOKED_BEHIND = 50  # callables, one behind the other, before the search for a function ends
_SEED = 20310415


class _TookTooLongError(BaseException):
    """Not an ``Exception``, so that a learner's ``except Exception`` does not hold it."""


class _Unheard(io.TextIOBase):
    """Takes what a function prints: it is tried several times, and nobody asked to read as much."""

    def write(self, text: str) -> int:
        return len(text)


@dataclass(frozen=True, slots=True)
class Tried:
    """What a function did.

    Attributes
    ----------
    state
        ``right``; ``nothing`` where it returns nothing; ``dots`` where it returns dots; ``wrong``.
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
    return any(_has_dots(one.__code__) for one in _written(function))


def _has_dots(code: CodeType) -> bool:
    return any(one is ... or (isinstance(one, CodeType) and _has_dots(one)) for one in code.co_consts)


def _written(function: Any) -> list[FunctionType]:
    """Return the functions written in Python that a call comes to.

    Itself, or what stands behind it: in a ``functools.partial``, a cached function, a method, an object that
    can be called, or one that holds a function.
    """
    found: list[FunctionType] = []
    behind: list[Any] = [function]
    seen: list[Any] = []
    while behind and len(seen) < _LOOKED_BEHIND:
        one = behind.pop(0)
        if any(one is other for other in seen):
            continue
        seen.append(one)
        if isinstance(one, FunctionType):
            found.append(one)
        more = [getattr(one, name, None) for name in ("__func__", "__self__", "func", "__wrapped__")]
        if not isinstance(one, FunctionType):
            more += [type(one).__call__, *getattr(one, "__dict__", {}).values()]
        behind += [next_one for next_one in more if callable(next_one)]
    return found


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
    own = _written(function)
    if not own:
        return Tried("wrong", says="none of its lines can be read; give a function written with def")
    left = LIMIT_S, _CLOCK * LIMIT_S
    results = []
    for case in range(form.cases):
        arguments = _drawn(form, case)  # which takes its time, and none of the learner's
        began = time.process_time(), time.monotonic()
        try:
            with redirect_stdout(_Unheard()), _stopped_at(began[0] + left[0], began[1] + left[1], own):
                results.append(function(*arguments))
        except _TookTooLongError as error:
            return Tried("wrong", says=f"it had not ended after {error} seconds, and was stopped")
        except KeyboardInterrupt:
            raise
        except BaseException as error:  # the learner's code may raise anything, and marking goes on
            return Tried("wrong", says=_stopped(error, own))
        left = left[0] - (time.process_time() - began[0]), left[1] - (time.monotonic() - began[1])
    if any(result is ... for result in results):
        return Tried("dots")
    if all(result is None for result in results):
        return Tried("nothing")
    rights = _worked_out(form, form.surely or form.right)
    faults = [_fault(*pair, form.tolerance) for pair in zip(results, rights, strict=True)]
    if not any(faults):
        return Tried("right")
    for wrong in known:
        theirs = _worked_out(form, wrong.given)
        tolerance = form.tolerance * _times_as_large(theirs, rights)
        if not any(_fault(mine, other, tolerance) for mine, other in zip(results, theirs, strict=True)):
            return Tried("wrong", wrong)
    case = next(place for place, fault in enumerate(faults) if fault)
    many = sum(map(bool, faults))
    where = _arguments(_drawn(form, case))
    says = f"{many} of {form.cases} tries come out otherwise. {capitalised(where + faults[case])}"
    return Tried("wrong", says=says)


@cache
def _worked_out(form: Code, function: Callable[..., Any]) -> list[Any]:
    """Return what a function of ours returns in each case, worked out once: it is the same at every try."""
    return [function(*_drawn(form, case)) for case in range(form.cases)]


def _times_as_large(theirs: list[Any], rights: list[Any]) -> float:
    """Say by how much results are in another unit, as counts are for shares: their luck is as much larger."""
    sizes = []
    for values in (theirs, rights):
        numbers = [array for array in map(_plain, values) if isinstance(array, np.ndarray)]
        numbers = [array for array in numbers if array.dtype.kind == "f" and array.size]
        sizes.append(float(np.mean([np.abs(array).mean() for array in numbers])) if numbers else np.nan)
    times = sizes[0] / sizes[1] if sizes[1] else np.nan
    return times if _OTHER_UNIT < times < np.inf else 1.0


def _drawn(form: Code, case: int) -> tuple[Any, ...]:
    return form.draw(np.random.default_rng([_SEED, case]))


@contextmanager
def _stopped_at(worked: float, ends: float, own: list[FunctionType]) -> Iterator[None]:
    """Stop what is written beside the functions at a time: a loop that does not end ends here.

    The time is the processor's (``worked``), so that a busy machine stops nobody, or far out the clock's.

    Only lines that share a function's names are watched, which are all cells of a notebook, so that what it
    calls is as quick as ever; one call into compiled code that takes long by itself cannot be stopped so.
    """
    names = {id(one.__globals__) for one in own}

    def watch(frame: FrameType, event: str, _: Any) -> Any:
        if id(frame.f_globals) not in names:
            return None
        if time.process_time() > worked:
            raise _TookTooLongError(f"{LIMIT_S:g}")
        if time.monotonic() > ends:
            raise _TookTooLongError(f"{_CLOCK * LIMIT_S:g}")
        return watch

    if sys.gettrace() is not None:  # a debugger is at work, and whoever sits there can stop it
        yield
        return
    sys.settrace(watch)
    try:
        yield
    finally:
        sys.settrace(None)


def _stopped(error: BaseException, own: list[FunctionType]) -> str:
    """Say with what a function stopped, and at which of its lines."""
    lines = [
        line - one.__code__.co_firstlineno + 1
        for frame, line in traceback.walk_tb(error.__traceback__)
        for one in own
        if frame.f_code in _parts(one.__code__)
    ]
    try:
        told = str(error)
    except Exception:  # an error's own words may raise as well
        told = ""
    what = f"{type(error).__name__}: {told}" if told else type(error).__name__
    at = f", at its line {lines[-1]}" if lines else ""
    return f"it stops with {_short(what, 2 * _SHOWN)}{at}"


def _parts(code: CodeType) -> list[CodeType]:
    """Return a function's code and what is written inside it."""
    inside = [part for one in code.co_consts if isinstance(one, CodeType) for part in _parts(one)]
    return [code, *inside]


def _fault(given: Any, right: Any, tolerance: float) -> str:
    """Say how a result differs from what is right; nothing where it does not."""
    if isinstance(right, pd.Series) and len(right) and _is_text(right.index):
        return _fault_of_named(given, right, tolerance)
    wanted, found = _plain(right), _plain(given)
    if found is None:
        return f"it returns {sort_of(given)}; {sort_of(right)} is wanted"
    assert wanted is not None  # ours
    if isinstance(wanted, str) or isinstance(found, str):
        same = isinstance(found, str) and isinstance(wanted, str) and found.strip() == wanted.strip()
    elif found.shape != wanted.shape:
        return f"it returns {_many(found.size)}; {_many(wanted.size)} {_is_or_are(wanted)} wanted"
    elif found.dtype.kind == "U" or wanted.dtype.kind == "U":
        same = bool(np.all(found == wanted))
    else:
        same = bool(np.allclose(found, wanted, rtol=0, atol=tolerance, equal_nan=True))
    return "" if same else f"it returns {_as_shown(found)}; {_as_shown(wanted)} {_is_or_are(wanted)} wanted"


def _fault_of_named(given: Any, right: pd.Series, tolerance: float) -> str:
    """Say how a list of names with their numbers differs; of equal numbers any name may stand first."""
    found = _named(given)
    if isinstance(found, str):
        return found
    fault = _fault(found.to_numpy(), right.to_numpy(), tolerance)
    if fault:
        return fault
    for name, number in zip(map(str, right.index), right.to_numpy(), strict=True):
        own = found[found.index == name].to_numpy(dtype=float)
        if not len(own):
            return f"the numbers are right, and the names are not: {_as_shown(name)} is missing"
        if not np.allclose(own, number, rtol=0, atol=tolerance):
            beside = f"{_as_shown(name)} has {_as_shown(own)}; {_as_shown(np.ravel(number))} is wanted"
            return f"the numbers are right, and stand beside the wrong names: {beside}"
    return ""


def _named(given: Any) -> pd.Series | str:
    """Return a column, a table, a dictionary or pairs as numbers by name, or say why it is none of these."""
    told = f"it returns {sort_of(given)}; a name beside each number is wanted"
    if isinstance(given, dict):
        given = pd.Series(given, dtype=object)
    elif isinstance(given, (list, tuple)) and _are_pairs(given):
        given = pd.DataFrame(list(given))
    if isinstance(given, pd.DataFrame):
        texts = [place for place in range(given.shape[1]) if _is_text(given.iloc[:, place])]
        if len(texts) == 1:
            names = given.iloc[:, texts[0]].to_numpy()
            given = given.iloc[:, [place for place in range(given.shape[1]) if place not in texts]]
            given = given.set_axis(names, axis=0)
        if given.shape[1] != 1:
            columns = _many(given.shape[1], "column")
            return f"it returns {columns} beside the names; 1 column of numbers is wanted"
        given = given.iloc[:, 0]
    named = isinstance(given, pd.Series) and _is_text(given.index) and _as_array(given) is not None
    return given if named else told


def _are_pairs(given: list[Any] | tuple[Any, ...]) -> bool:
    return bool(given) and all(isinstance(one, tuple) and len(one) == len(given[0]) for one in given)


def _is_text(values: pd.Series | pd.Index) -> bool:
    return all(isinstance(one, str) for one in values)


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
        if any(isinstance(one, Complex) and not isinstance(one, Real) for one in array.ravel().tolist()):
            return None  # numpy would take the real part
        if all(isinstance(one, str) for one in array.ravel().tolist()):
            return array.ravel().astype(str)
        return np.asarray(value, dtype=float).ravel()
    except (TypeError, ValueError, OverflowError):
        return None


def _many(number: int, what: str = "value") -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _is_or_are(wanted: str | np.ndarray) -> str:
    return "is" if isinstance(wanted, str) or wanted.size == 1 else "are"


def _as_shown(value: str | np.ndarray) -> str:
    return _short(repr(value) if isinstance(value, str) else _in_figures(value))


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


def _short(text: str, most: int = _SHOWN) -> str:
    one_line = " ".join(text.split())
    return one_line if len(one_line) <= most else f"{one_line[:most]}..."
