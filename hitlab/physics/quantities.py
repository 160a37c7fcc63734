"""Physical arguments made into arrays, with their unit and range checked.

Scalars, lists, arrays of any shape and columns of a data frame are taken alike. A missing value
stays missing (NaN) and spoils nothing but its own place. A value outside the accepted range is
taken to be a slip of the unit (metres a second for miles an hour, radians for degrees) and refused.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hitlab.errors import HitlabError, HitlabWarning

__all__ = [
    "FEET_PER_METRE",
    "INCHES_PER_METRE",
    "KG_PER_OUNCE",
    "METRES_PER_FOOT",
    "METRES_PER_INCH",
    "MPS_PER_MPH",
    "RAD_PER_S_PER_RPM",
    "FloatArray",
    "QuantityError",
    "RangeWarning",
    "broadcast",
    "quantity",
]

FloatArray = NDArray[np.float64]

METRES_PER_INCH = 0.0254
METRES_PER_FOOT = 0.3048
INCHES_PER_METRE = 1 / METRES_PER_INCH
FEET_PER_METRE = 1 / METRES_PER_FOOT
MPS_PER_MPH = 0.44704
KG_PER_OUNCE = 0.028349523125
RAD_PER_S_PER_RPM = np.pi / 30
"""The inch, foot, mile an hour and ounce are exact by definition."""


class QuantityError(HitlabError, ValueError):
    """A physical argument that cannot be: not a number, or outside the range of its unit."""


class RangeWarning(HitlabWarning):
    """A published fit is used outside the range in which it was measured."""


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
        shown = repr(value)
        shown = shown if len(shown) <= 60 else shown[:57] + "..."
        raise QuantityError(
            f"{name} is {shown}, which is not numeric ({error}); accepted is a number, a list, an array "
            f"or a column of numbers, {accepted}."
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
