"""Which variance of true rates would have given the sums that were seen: draws for intervals of a variance.

A pivotal quantity (Weerahandi 1993, J. Amer. Stat. Assoc. 88:899-905, from memory): true rates and luck are
drawn as standard normal deviations, and each draw is solved for the variance at which it gives what was seen.
The quantiles of the solutions are the ends of an interval that covers what it says, where true rates and luck
are normal. Luck is taken as known.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

__all__ = ["halves_pivot", "seasons_pivot"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_AT_ONCE = 1_000_000  # normal deviations held at a time


def halves_pivot(
    who: Wholes,
    deviations: tuple[Floats, Floats],
    luck: tuple[Floats, Floats],
    share: Floats,
    draws: int,
    rng: np.random.Generator,
) -> Floats:
    """Draw the variance of true rates that two halves share.

    Parameters
    ----------
    who
        Hitter of each pair of rates, numbered from 0.
    deviations
        The pairs' two rates, less the means of both.
    luck
        Variances of both by independent luck.
    share
        Weights of the pairs; they sum to 1.
    draws, rng
        How many, and from what.

    Returns
    -------
    numpy.ndarray
        Shape (draws,), 0 where no variance would have given what was seen.
    """
    a, b = deviations
    seen = float(share @ (a * b))
    beyond = float(share @ (a * a + b * b)) / 2 - seen
    # Swings of a game that are alike make more luck than independent ones, in each half by itself.
    independent = float(share @ (luck[0] + luck[1]) / 2)
    more = max(beyond / independent, 1.0) if independent > 0 else 1.0
    first, second = (np.sqrt(more * one) for one in luck)

    def drawn(size: int) -> tuple[Floats, Floats, Floats]:
        talent = _centred(_by_hitter(who, size, rng), share)
        one, two = (
            _centred(rng.standard_normal((size, len(who))) * scale, share) for scale in (first, second)
        )
        return (talent * talent) @ share, (talent * (one + two)) @ share, (one * two) @ share

    return _solved(drawn, seen, draws, len(who))


def seasons_pivot(
    who: Wholes,
    deviations: tuple[Floats, Floats],
    luck: tuple[Floats, Floats],
    share: Floats,
    draws: int,
    rng: np.random.Generator,
) -> Floats:
    """Draw the variance of true rates times (2 r - 1), where r is the correlation from season to season.

    Sums of the two seasons scatter by the variance times (1 + r), differences by it times (1 - r), both with
    luck on top. Parameters and result as in :func:`halves_pivot`, but negative where r is below a half.
    """
    a, b = deviations
    found = []
    for sign in (1.0, -1.0):

        def drawn(size: int, sign: float = sign) -> tuple[Floats, Floats, Floats]:
            # The seasons of one hitter share his talent, so their sums go together; the changes do not.
            normal = _by_hitter(who, size, rng) if sign > 0 else rng.standard_normal((size, len(who)))
            talent = _centred(normal, share)
            one, two = (rng.standard_normal((size, len(who))) * np.sqrt(part) for part in luck)
            chance = _centred((one + sign * two) / np.sqrt(2), share)
            return (talent * talent) @ share, 2 * (talent * chance) @ share, (chance * chance) @ share

        seen = float(share @ (a + sign * b) ** 2) / 2
        found.append(_solved(drawn, seen, draws, len(who)))
    lasting, changing = found  # variance times (1 + r) and (1 - r)
    return lasting / 2 - 1.5 * changing


def _by_hitter(who: Wholes, size: int, rng: np.random.Generator) -> Floats:
    return rng.standard_normal((size, int(who.max()) + 1))[:, who]


def _centred(values: Floats, share: Floats) -> Floats:
    return values - (values @ share)[:, np.newaxis]


def _solved(
    drawn: Callable[[int], tuple[Floats, Floats, Floats]], seen: float, draws: int, rows: int
) -> Floats:
    """Return the variances V at which V a + sqrt(V) b + c is what was seen, 0 where none is."""
    found, left = [], draws
    while left > 0:
        size = min(left, max(_AT_ONCE // rows, 1))
        a, b, c = drawn(size)
        under = b * b - 4 * a * (c - seen)
        root = np.where(under > 0, (np.sqrt(np.maximum(under, 0.0)) - b) / (2 * a), 0.0)
        found.append(np.maximum(root, 0.0) ** 2)
        left -= size
    return np.concatenate(found)
