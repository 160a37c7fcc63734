"""Intervals for one share and for the difference of two: arrays in, arrays out.

Closed forms over ``scipy.special``; the tests hold them to published values and to statsmodels.
Every kind treats the events as independent draws at one constant rate. Swings of one plate
appearance and one day are not quite independent, so the intervals are somewhat too short for that.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hitlab.errors import CountsError

__all__ = ["DEFAULT_LEVEL", "INTERVAL_NAMES", "IntervalKind", "difference_interval", "share_interval"]

IntervalKind = Literal["wilson", "jeffreys", "clopper-pearson"]

INTERVAL_NAMES: dict[str, str] = {
    "wilson": "Wilson",
    "jeffreys": "Jeffreys",
    "clopper-pearson": "Clopper-Pearson",
}

DEFAULT_LEVEL = 0.90
"""One level for every interval in the package, the same as the bound of the verdicts."""

Floats = NDArray[np.float64]


def share_interval(
    events: ArrayLike, exposure: ArrayLike, kind: IntervalKind = "wilson", level: float = DEFAULT_LEVEL
) -> tuple[Floats, Floats]:
    """Interval for a share.

    Parameters
    ----------
    events, exposure
        Whole numbers, 0 <= events <= exposure; they broadcast.
    kind
        ``wilson`` (score interval, default: its coverage is on average the stated one and it is
        never empty), ``jeffreys`` (equal tails of the Beta(events + 1/2, misses + 1/2) posterior) or
        ``clopper-pearson`` (never covers less than stated, on average more).
    level
        Coverage, between 0 and 1.

    Returns
    -------
    low, high
        Arrays of the broadcast shape; NaN where the exposure is 0.

    Raises
    ------
    CountsError
        Where counts are not whole, negative, or more than the exposure; where kind or level is not
        accepted.

    References
    ----------
    Wilson 1927, J. Amer. Stat. Assoc. 22:209-212. Newcombe 1998, Stat. Med. 17:857-872. Brown,
    Cai & DasGupta 2001, Stat. Sci. 16:101-133. Clopper & Pearson 1934, Biometrika 26:404-413.

    Examples
    --------
    A record of 12 hard-hit balls in 40 swings says little, the same rate over 400 swings a good deal more:

    >>> from hitlab.counting import share_interval
    >>> low, high = share_interval([12, 120], [40, 400], level=0.90)
    >>> low.round(3).tolist(), high.round(3).tolist()
    ([0.197, 0.264], [0.429, 0.339])
    """
    from scipy.special import betaincinv, ndtri

    k, n = _checked(events, exposure)
    tail = _tail(level)
    if kind == "wilson":
        z = float(ndtri(1 - tail))
        with np.errstate(invalid="ignore", divide="ignore"):
            centre = (k + z * z / 2) / (n + z * z)
            reach = z / (n + z * z) * np.sqrt(k * (n - k) / n + z * z / 4)
        low, high = np.maximum(centre - reach, 0.0), np.minimum(centre + reach, 1.0)
        # At the edges the formula is exactly 0 and 1; rounding may leave 1e-17.
        low, high = np.where(k == 0, 0.0, low), np.where(k == n, 1.0, high)
    elif kind == "jeffreys":
        low = betaincinv(k + 0.5, n - k + 0.5, tail)
        high = betaincinv(k + 0.5, n - k + 0.5, 1 - tail)
    elif kind == "clopper-pearson":
        low = np.where(k == 0, 0.0, betaincinv(np.maximum(k, 1), n - k + 1, tail))
        high = np.where(k == n, 1.0, betaincinv(k + 1, np.maximum(n - k, 1), 1 - tail))
    else:
        raise CountsError(f"interval kind {kind!r}: accepted are {', '.join(INTERVAL_NAMES)}")
    empty = n == 0
    return np.where(empty, np.nan, low), np.where(empty, np.nan, high)


def difference_interval(
    events_a: ArrayLike,
    exposure_a: ArrayLike,
    events_b: ArrayLike,
    exposure_b: ArrayLike,
    level: float = DEFAULT_LEVEL,
) -> tuple[Floats, Floats]:
    """Interval for the difference a - b of two independent shares, hybrid score.

    The two Wilson intervals are joined (method 10 of the reference), which keeps the result inside
    -1 to 1 and works with zero cells.

    Parameters
    ----------
    events_a, exposure_a, events_b, exposure_b
        Whole numbers, 0 <= events <= exposure; they broadcast.
    level
        Coverage, between 0 and 1.

    Returns
    -------
    low, high
        Arrays of the broadcast shape; NaN where an exposure is 0.

    Raises
    ------
    CountsError
        As in :func:`share_interval`.

    References
    ----------
    Newcombe 1998, Stat. Med. 17:873-890, method 10.

    Examples
    --------
    A hitter with 30 hard-hit balls in 120 swings against one with 20 in 130; the 90 % interval takes in 0
    only where the difference may go either way:

    >>> from hitlab.counting import difference_interval
    >>> low, high = difference_interval(30, 120, 20, 130, level=0.90)
    >>> round(float(low), 3), round(float(high), 3)
    (0.013, 0.179)
    """
    ka, na = _checked(events_a, exposure_a)
    kb, nb = _checked(events_b, exposure_b)
    low_a, high_a = share_interval(ka, na, "wilson", level)
    low_b, high_b = share_interval(kb, nb, "wilson", level)
    with np.errstate(invalid="ignore", divide="ignore"):
        a, b = ka / na, kb / nb
    low = a - b - np.hypot(a - low_a, high_b - b)
    high = a - b + np.hypot(high_a - a, b - low_b)
    return low, high


def _tail(level: float) -> float:
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a coverage between 0 and 1, such as 0.90")
    return (1 - level) / 2


def _checked(events: ArrayLike, exposure: ArrayLike) -> tuple[Floats, Floats]:
    k, n = np.broadcast_arrays(_numbers(events, "events"), _numbers(exposure, "exposure"))
    over = k > n
    if over.any():
        place = np.unravel_index(int(np.argmax(over)), over.shape)
        raise CountsError(
            f"{k[place]:g} events in an exposure of {n[place]:g}: a share cannot be more than 1"
        )
    return k, n


def _numbers(values: ArrayLike, name: str) -> Floats:
    try:
        numbers: NDArray[Any] = np.asarray(values, dtype=float)
    except (TypeError, ValueError) as error:
        raise CountsError(f"{name}: {values!r} is not a number; give whole numbers, 0 or more") from error
    bad = ~np.isfinite(numbers) | (numbers < 0) | (numbers != np.floor(numbers))
    if bad.any():
        value = numbers[np.unravel_index(int(np.argmax(bad)), numbers.shape)]
        raise CountsError(f"{name}: {value!r} is not a count; give whole numbers, 0 or more")
    return numbers
