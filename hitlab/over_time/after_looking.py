"""A day or a hitter chosen after looking: what is left of the chance.

Of many days the best one shows a change where there is none, and of many hitters the best one, too. What is
asked is how often the best of all of them would show as much where nothing changed: the hitter's own games in
another order, whose best day is looked for each time (Westfall & Young 1993, Resampling-based multiple
testing). From that share the chance that something changed is at most so much, starting from even money
(Sellke, Bayarri & Berger 2001, Amer. Statistician 55:62-71). A bound: the true chance may be lower, where
changes are rare.
"""

from __future__ import annotations

from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray
from scipy import stats

from hitlab.over_time.stretches import measured_part

__all__ = ["LOOKED_AT", "LookedAt", "best_day_p", "chance_at_most", "one_day_p"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

LookedAt = Literal["one day", "all days", "all hitters", "all days and hitters"]
"""What was looked at before day and hitter were chosen."""

Direction = Literal["more", "less", "either"]

LOOKED_AT: tuple[LookedAt, ...] = get_args(LookedAt)

_ORDERS = 4_000


def chance_at_most(p: float) -> float:
    """Return the largest chance that something changed, where luck alone shows as much with chance ``p``."""
    if p >= 1 / np.e:
        return 0.5
    return float(1 / (1 - np.e * p * np.log(max(p, 1e-300))))


def one_day_p(events: Wholes, exposure: Wholes, direction: Direction) -> float:
    """Return how often luck shows as large a change between two records, each a pair of entries."""
    k, n = (np.asarray([side], dtype=float) for side in (events, exposure))
    z = _turned(_z(k[:, :1], n[:, :1], k[:, 1:], n[:, 1:]), direction)
    return _tail(float(z[0, 0]), direction)


def best_day_p(
    events: Wholes,
    exposure: Wholes,
    since: int,
    direction: Direction,
    unknown: Wholes | None = None,
    contact: Wholes | None = None,
) -> float:
    """Return how often the best day of all shows as large a change where nothing changed.

    Parameters
    ----------
    events, exposure
        A hitter's, one entry a day on which he had any, in order.
    since
        Place of the first day after the change that is claimed: 1 or more.
    direction
        What is claimed of the rate since then.
    unknown, contact
        By day the contact of unknown hardness, and all contact, where some is unknown. Its share is set aside
        of the days before together, and of those since, as two periods are compared.
    """
    days, nothing = len(events), np.zeros(len(events), dtype=np.int64)
    rng = np.random.default_rng(11)
    order = np.vstack([np.arange(days), rng.permuted(np.tile(np.arange(days), (_ORDERS, 1)), axis=1)])
    counts = (events, exposure, *(nothing if each is None else each for each in (unknown, contact)))
    before = [np.cumsum(each[order], axis=1)[:, :-1] for each in counts]
    after = [each.sum() - sums for each, sums in zip(counts, before, strict=True)]
    sides = ((each[0], measured_part(*each[1:])) for each in (before, after))
    z = _turned(_z(*(count for side in sides for count in side)), direction)
    shown = float(z[0, since - 1])
    at_least = z[1:].max(axis=1) >= shown - 1e-12
    by_orders = float((at_least.sum() + 1) / (_ORDERS + 1))
    # What no order shows is bounded by the days' own chances added up (Bonferroni), which hold further out.
    return min(by_orders, (days - 1) * _tail(shown, direction))


def _z(k: Floats | Wholes, n: Floats, rest_k: Floats | Wholes, rest_n: Floats) -> Floats:
    """Return the score test's z of the rest against ``k`` in ``n`` before it; 0 where one has no exposure."""
    with np.errstate(divide="ignore", invalid="ignore"):
        pooled = (k + rest_k) / (n + rest_n)
        spread = np.sqrt(np.maximum(pooled * (1 - pooled) * (1 / n + 1 / rest_n), 1e-300))
        z = (rest_k / rest_n - k / n) / spread
    return np.where((n > 0) & (rest_n > 0), z, 0.0)


def _turned(z: Floats, direction: Direction) -> Floats:
    """Return z so that more of it speaks for what is claimed."""
    return np.asarray(np.abs(z) if direction == "either" else -z if direction == "less" else z)


def _tail(z: float, direction: Direction) -> float:
    return float(stats.norm.sf(z)) * (2 if direction == "either" else 1)
