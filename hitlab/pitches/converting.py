"""Numbers of another unit brought to the table's, as far as they tell.

A speed of 100 miles an hour that is written as 160.9 km/h converts to 99.98 and would be counted below 100.
But all that the cell says is that the speed lies within half of its last digit, 99.95 to 100.01. Of all the
speeds there the roundest is taken: it is the one that somebody had who writes speeds in our unit.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

__all__ = ["converted", "usual", "written_decimals"]

_USUAL = 0.9  # share of the cells whose decimals are those of the column (a default)
_MOST_DECIMALS = 9
# From the roundest: whole numbers, halves, tenths, twentieths, and so on.
_STEPS = tuple(step for power in range(_MOST_DECIMALS + 1) for step in (10.0**power, 2 * 10.0**power))


def converted(
    values: np.ndarray, texts: Sequence[str], many: np.ndarray, factor: float, told: int | None = None
) -> tuple[np.ndarray, float]:
    """Convert numbers, and take the roundest within half of the last digit that was written.

    Parameters
    ----------
    values
        Distinct numbers in the source's unit; NaN where there is none.
    texts
        The same as they are written.
    many
        Rows of each.
    factor
        How much of the table's unit is one of the source's.
    told
        Decimals that the column usually has, where these numbers are some of it.

    Returns
    -------
    tuple
        The numbers, and how far apart in the table's unit two of them are that the column tells apart.
    """
    known = np.isfinite(values)
    decimals = np.array([_decimals(text) if good else 0 for text, good in zip(texts, known, strict=True)])
    # Programs leave out zeros at the end: 161 among 160.9 and 152.7 is 161.0.
    usually = usual(decimals[known], many[known]) if told is None else told
    exact = values * factor
    half = 0.5 * factor * 10.0 ** -np.maximum(decimals, usually)
    with np.errstate(invalid="ignore"):
        # No number is told more finely than its eight bytes tell it.
        half = np.maximum(half * (1 + 1e-9), 4 * np.spacing(np.abs(exact)))
        found, open_ = exact.copy(), known.copy()
        for step in _STEPS:
            if not open_.any():
                break
            round_ = np.rint(exact * step) / step
            near = open_ & (np.abs(round_ - exact) <= half)
            found[near] = round_[near] + 0.0  # no negative zero
            open_ &= ~near
    return found, factor * 10.0**-usually


def _decimals(text: str) -> int:
    """Digits behind the point, as written; an exponent moves it."""
    digits, _, power = text.lower().partition("e")
    behind = len(digits.partition(".")[2])
    return max(0, behind - int(power)) if power else behind


def written_decimals(
    values: np.ndarray, texts: Sequence[str], many: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Give the decimals of distinct numbers, and the rows of each.

    Parameters
    ----------
    values, texts, many
        As for :func:`converted`.
    """
    known = np.isfinite(values)
    decimals = [_decimals(text) for text, good in zip(texts, known, strict=True) if good]
    return np.array(decimals, dtype=np.int64), many[known]


def usual(decimals: np.ndarray, many: np.ndarray) -> int:
    """Give the fewest decimals with which nearly all cells are written.

    Parameters
    ----------
    decimals, many
        Decimals, and how many cells have each.
    """
    if not many.sum():
        return 0
    order = np.argsort(decimals, kind="stable")
    share = np.cumsum(many[order]) / many.sum()
    return int(decimals[order][np.searchsorted(share, _USUAL)])
