"""Physical arguments made into arrays, with their unit and range checked.

Scalars, lists, arrays of any shape and columns of a data frame are taken alike. A missing value
stays missing (NaN) and spoils nothing but its own place. A value outside the accepted range is
taken to be a slip of the unit and refused. Many slips stay inside the range (45 metres a second look
like 45 mph, half a radian like half a degree): where the values as a whole look like one, the public
functions ask or give a :class:`UnitWarning`.

Columns of a data frame must have the same index, row by row: they are not paired by position. Results
keep it for their ``table()``.
"""

from __future__ import annotations

import dataclasses
import functools
import inspect
import warnings
from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING, Any, ClassVar, ParamSpec, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hitlab.errors import HitlabError, HitlabWarning

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "FAST_BAT_MPH",
    "FAST_EXIT_MPH",
    "FAST_PITCH_MPH",
    "FEET_PER_METRE",
    "INCHES_PER_METRE",
    "KG_PER_OUNCE",
    "METRES_PER_FOOT",
    "METRES_PER_INCH",
    "MPS_PER_MPH",
    "RAD_PER_S_PER_RPM",
    "SLOW_BAT_MPH",
    "SLOW_PITCH_MPH",
    "Columns",
    "FloatArray",
    "QuantityError",
    "RangeWarning",
    "UnitWarning",
    "ask_about_soft",
    "broadcast",
    "expect",
    "generator",
    "keeps_index",
    "quantity",
    "single",
    "warn_of_fast",
    "warn_of_radians",
    "warn_of_seconds",
    "warn_of_slow",
    "warn_of_swing",
    "warn_of_unit",
    "whole",
]

_Asked = ParamSpec("_Asked")
_Given = TypeVar("_Given")

FloatArray = NDArray[np.float64]

METRES_PER_INCH = 0.0254
METRES_PER_FOOT = 0.3048
INCHES_PER_METRE = 1 / METRES_PER_INCH
FEET_PER_METRE = 1 / METRES_PER_FOOT
MPS_PER_MPH = 0.44704
KG_PER_OUNCE = 0.028349523125
_KPH_PER_MPH = 1.609344
RAD_PER_S_PER_RPM = np.pi / 30
"""The inch, foot, mile an hour and ounce are exact by definition."""


FAST_PITCH_MPH, FAST_BAT_MPH, FAST_EXIT_MPH = 110.0, 110.0, 130.0
"""Above these a speed is asked about, as faster than is seen in play; common practice, no source."""
SLOW_PITCH_MPH, SLOW_BAT_MPH = 50.0, 40.0
"""And below these, where it is that of a swing at a pitch; common practice, no source."""


class QuantityError(HitlabError, ValueError):
    """A physical argument that cannot be: not a number, or outside the range of its unit.

    Examples
    --------
    >>> from hitlab.physics import QuantityError, fly
    >>> try:
    ...     fly(400.0, 28.0)
    ... except QuantityError as error:
    ...     print(str(error).split(".")[0])
    exit_mph is 400; accepted is 0 to 250 mph
    """


class RangeWarning(HitlabWarning):
    """A published fit is used outside the range in which it was measured.

    Examples
    --------
    >>> import warnings
    >>> from hitlab.physics import RangeWarning, fly
    >>> with warnings.catch_warnings(record=True) as given:
    ...     warnings.simplefilter("always", RangeWarning)
    ...     ball = fly(25.0, 28.0, backspin_rpm=500.0, soft=True)
    >>> print(str(given[0].message).split(";")[0])
    drag='spin' was measured for a speed off the bat of 30 to 130 mph
    """


class UnitWarning(HitlabWarning):
    """Values that are possible, but look as if they were in another unit.

    Examples
    --------
    >>> import warnings
    >>> from hitlab.physics import UnitWarning, fly
    >>> with warnings.catch_warnings(record=True) as given:
    ...     warnings.simplefilter("always", UnitWarning)
    ...     ball = fly(100.0, [0.3, 0.5])
    >>> print(given[0].message)
    launch_deg lies within 0.5 degrees of level throughout: were these radians? 0.5 radians are 28.6 degrees.
    """


class Columns:
    """Base of the results whose fields are arrays of one shape: a table of them, and a count of gaps."""

    __slots__ = ()
    _TELLS: ClassVar[str] = "known"
    """The field that tells where a value was missing: False, or NaN."""

    @property
    def missing(self) -> int:
        """In how many places nothing can be said because a value was missing."""
        field = np.asarray(getattr(self, self._TELLS))
        return int(np.count_nonzero(~field if field.dtype == np.bool_ else np.isnan(field)))

    def table(self) -> pd.DataFrame:
        """Give the fields as columns of a data frame, with the index of the columns that came in."""
        # pandas is loaded when a table is asked for, not with the physics.
        import pandas as pd

        columns = {}
        index = getattr(self, "index", None)
        for field in dataclasses.fields(self):  # type: ignore[arg-type]
            value = getattr(self, field.name)
            if isinstance(value, np.ndarray):
                columns[field.name] = self._shown(field.name, value.ravel())
        return pd.DataFrame(columns, index=index)

    def _shown(self, name: str, values: np.ndarray) -> Any:
        """Give a column as people read it."""
        return values


def keeps_index(function: Callable[_Asked, _Given]) -> Callable[_Asked, _Given]:
    """Refuse columns whose indexes differ, and hand a common one on to the result.

    Parameters
    ----------
    function
        Takes numbers, arrays or columns, alone or as the fields of a dataclass.

    Returns
    -------
    callable
        The same function; a result with a field ``index`` is given it.

    Raises
    ------
    QuantityError
        When called with columns whose indexes differ.
    """

    @functools.wraps(function)
    def checked(*args: _Asked.args, **kwargs: _Asked.kwargs) -> _Given:
        columns = list(_columns((*args, *kwargs.values())))
        for other in columns[1:]:
            if not columns[0].index.equals(other.index):
                named = inspect.signature(function).bind(*args, **kwargs).arguments
                names = [name for name, value in named.items() if any(True for _ in _columns((value,)))]
                raise QuantityError(
                    f"The columns of {', '.join(names)} do not have the same index: their rows do not "
                    "belong together. Take them from one data frame, or give .to_numpy() of each where the "
                    "rows do stand in the same order."
                )
        result = function(*args, **kwargs)
        if columns and isinstance(result, Columns) and hasattr(result, "index"):
            index = columns[0].index
            sizes = {
                value.shape
                for field in dataclasses.fields(result)  # type: ignore[arg-type]
                if isinstance(value := getattr(result, field.name), np.ndarray)
            }
            if sizes == {(len(index),)}:
                object.__setattr__(result, "index", index)
        return result

    return checked


def _columns(values: tuple[Any, ...]) -> Iterator[Any]:
    """Find the columns with an index among values and the fields of dataclasses."""
    for value in values:
        if hasattr(value, "index") and hasattr(value, "to_numpy"):
            yield value
        elif dataclasses.is_dataclass(value) and not isinstance(value, (type, Columns)):
            yield from _columns(tuple(getattr(value, field.name) for field in dataclasses.fields(value)))


def expect(name: str, value: Any, kind: type) -> None:
    """Refuse an argument that is not of its class.

    Raises
    ------
    QuantityError
        With the class that is accepted.
    """
    if not isinstance(value, kind):
        raise QuantityError(f"{name} is {_short(value)}; accepted is a {kind.__name__}(...).")


def whole(name: str, value: Any, lowest: int, highest: int, advice: str) -> int:
    """Make an argument into a whole number within its range.

    Raises
    ------
    QuantityError
        If it is none, or lies outside the range.
    """
    try:
        number = None if isinstance(value, (bool, str, bytes)) else float(value)
    except (TypeError, ValueError):
        number = None
    if number is None or not number.is_integer() or not lowest <= number <= highest:
        raise QuantityError(
            f"{name} is {_short(value)}; accepted is a whole number, {lowest} to {highest}. {advice}"
        )
    return int(number)


def generator(seed: Any) -> np.random.Generator:
    """Make a generator of random draws from a seed, or hand on the one that is given.

    Raises
    ------
    QuantityError
        If it is neither a whole number from 0 on nor a generator.
    """
    try:
        return np.random.default_rng(seed)
    except (TypeError, ValueError) as error:
        raise QuantityError(
            f"seed is {_short(seed)}; accepted is a whole number, 0 or more, or a numpy generator. The same "
            "seed gives the same draws."
        ) from error


def single(name: str, value: Any, unit: str, lowest: float, highest: float, **how: bool) -> float:
    """Make an argument into one float (NaN where it is missing) and check its range.

    Raises
    ------
    QuantityError
        If it is no number, more than one, or outside the range.
    """
    array = quantity(name, value, unit, lowest, highest, **how)
    if array.ndim:
        raise QuantityError(
            f"{name} is {_short(value)}; accepted is one number, {lowest:g} to {highest:g} {unit}".rstrip()
            + ". Where many are to be compared, call once for each."
        )
    return float(array)


def ask_about_soft(exit_mph: FloatArray, launch_deg: FloatArray) -> None:
    """Refuse a batch of launched balls of which none is fast: it is most likely in metres a second.

    Raises
    ------
    QuantityError
        If it is, with the way to say that they were hit so softly.
    """
    speeds = exit_mph[np.isfinite(exit_mph)]
    if speeds.size and 0 < speeds.max() < 50 and np.any(np.nan_to_num(launch_deg)):
        top = float(speeds.max())
        raise QuantityError(
            f"exit_mph is at most {top:g} mph: are these metres a second? {top:g} metres a second are "
            f"{top / MPS_PER_MPH:.1f} mph. Give miles an hour; if they were hit so softly, pass soft=True."
        )


def warn_of_slow(name: str, values: FloatArray, below: float) -> None:
    """Warn when speeds in mph look like metres a second: too slow for play, but not for metres a second."""
    known = values[np.isfinite(values) & (values != 0)]
    if known.size and 15 <= known.max() < below:
        top = float(known.max())
        warn_of_unit(
            f"{name} is at most {top:g} mph, which is slow: were these metres a second? {top:g} metres a "
            f"second are {top / MPS_PER_MPH:.1f} mph."
        )


def warn_of_fast(name: str, values: FloatArray, above: float) -> None:
    """Warn when speeds in mph look like kilometres an hour: faster than anybody throws, swings or hits."""
    known = values[np.isfinite(values)]
    if known.size and known.max() > above:
        top = float(known.max())
        warn_of_unit(
            f"{name} is up to {top:g} mph, faster than is seen in play: were these kilometres an hour? "
            f"{top:g} kilometres an hour are {top / _KPH_PER_MPH:.1f} mph."
        )


def warn_of_swing(pitch_mph: FloatArray, bat_mph: FloatArray) -> None:
    """Warn when the speeds of a pitch and of the bat that meets it look like another unit."""
    if np.any(pitch_mph > 0) and np.any(bat_mph > 0):
        # Both: a slow ball alone, or a slow bat, may stand on a test stand.
        both = np.concatenate([pitch_mph.ravel(), bat_mph.ravel()])
        warn_of_slow("pitch_mph and bat_mph", both, SLOW_PITCH_MPH)
    warn_of_fast("pitch_mph", pitch_mph, FAST_PITCH_MPH)
    warn_of_fast("bat_mph", bat_mph, FAST_BAT_MPH)


def warn_of_radians(name: str, values: FloatArray) -> None:
    """Warn when angles in degrees look like radians: all small, none of them whole."""
    known = values[np.isfinite(values)]
    if known.size and np.abs(known).max() <= np.pi / 2 and (known != np.round(known)).all():
        top = float(known[np.abs(known).argmax()])
        warn_of_unit(
            f"{name} lies within {np.abs(top):.3g} degrees of level throughout: were these radians? "
            f"{top:.3g} radians are {np.degrees(top):.1f} degrees."
        )


def warn_of_seconds(name: str, values: FloatArray) -> None:
    """Warn when times in milliseconds look like seconds: none of them nothing, all below 0.3."""
    known = values[np.isfinite(values)]
    if known.size and (known != 0).all() and np.abs(known).max() < 0.3:
        top = float(np.abs(known).max())
        warn_of_unit(
            f"{name} is at most {top:g} milliseconds throughout: were these seconds? {top:g} seconds are "
            f"{1000 * top:g} milliseconds."
        )


def warn_of_unit(text: str) -> None:
    """Warn on behalf of whoever called the physics."""
    level, frame = 2, inspect.currentframe()
    inside = __name__.rpartition(".")[0]
    while frame is not None and frame.f_globals.get("__name__", "").startswith((inside, "dataclasses")):
        level, frame = level + 1, frame.f_back
    warnings.warn(text, UnitWarning, stacklevel=max(level - 2, 2))


def _short(value: Any) -> str:
    shown = repr(value)
    return shown if len(shown) <= 60 else shown[:57] + "..."


def quantity(
    name: str,
    value: ArrayLike | Any,
    unit: str,
    lowest: float,
    highest: float,
    *,
    above: bool = False,
    infinite: bool = False,
) -> FloatArray:
    """Make an argument into an array of floats and check its range.

    Parameters
    ----------
    name
        The argument's name, for the error message.
    value
        A number, a list, an array of any shape or a data frame's column; missing values become NaN.
    unit
        The unit in words, for the error message; empty for a ratio.
    lowest, highest
        The accepted range, both bounds included.
    above
        The lowest bound itself is refused.
    infinite
        Positive infinity is accepted although it lies above ``highest``.

    Returns
    -------
    numpy.ndarray
        float64, shape of ``value``; NaN where a value is missing.

    Raises
    ------
    QuantityError
        If the argument is not numeric, or a value lies outside the range.
    """
    unit_text = f" {unit}" if unit else ""
    accepted = (
        f"above {lowest:g} and up to {highest:g}{unit_text}"
        if above
        else f"{lowest:g} to {highest:g}{unit_text}"
    )
    if infinite:
        accepted += ", or infinity"
    array = _as_floats(name, value, accepted)
    too_low = array <= lowest if above else array < lowest
    too_high = (array > highest) & ~np.isposinf(array) if infinite else array > highest
    refused = too_low | too_high
    if refused.any():
        place = np.argwhere(refused)[0]
        found = array[tuple(place)]
        where = f" at position {', '.join(str(i) for i in place)}" if array.ndim else ""
        raise QuantityError(
            f"{name} is {found:g}{where}; accepted is {accepted}. "
            f"Check the unit{f' ({name} is in {unit})' if unit else ''} and the value."
        )
    return array


def _as_floats(name: str, value: Any, accepted: str) -> FloatArray:
    """Convert to float64 without guessing: text, dates, truth values and complex numbers are refused."""
    try:
        if hasattr(value, "to_numpy"):
            raw = np.asarray(value.to_numpy())
        elif isinstance(value, np.ma.MaskedArray):
            raw = np.ma.filled(value.astype(np.float64), np.nan)
        else:
            raw = np.asarray(value)
        if raw.dtype.kind == "O":
            # A list with None, or a nullable column: every entry is a number or a sign of absence.
            flat = [_number_or_nan(entry) for entry in raw.ravel()]
            raw = np.array(flat, dtype=np.float64).reshape(raw.shape)
        if raw.dtype.kind not in "fiu":
            raise TypeError(f"values of type {raw.dtype}")
        return raw.astype(np.float64)
    except (TypeError, ValueError) as error:
        raise QuantityError(
            f"{name} is {_short(value)}, which is not numeric ({error}); accepted is a number, a list, an "
            f"array or a column of numbers, {accepted}."
        ) from None


def _number_or_nan(entry: Any) -> float:
    if entry is None or type(entry).__name__ in {"NAType", "NaTType"}:
        return float("nan")
    if isinstance(entry, (bool, np.bool_, str, bytes, complex)):
        raise TypeError(f"{entry!r} is no number")
    return float(entry)


def broadcast(arrays: Mapping[str, FloatArray]) -> tuple[int, ...]:
    """Find the shape that the named arrays share.

    Raises
    ------
    QuantityError
        If the shapes do not fit together; the message names every argument that is not a scalar.
    """
    try:
        return np.broadcast_shapes(*(array.shape for array in arrays.values()))
    except ValueError:
        shapes = ", ".join(f"{name} {array.shape}" for name, array in arrays.items() if array.ndim)
        raise QuantityError(
            f"The arguments' shapes do not fit together: {shapes}. Give scalars, or arrays of one shape "
            "(or of shapes that numpy can broadcast)."
        ) from None
