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
    z = _turned(_z(k[:, :1], n[:, :1], k.sum(), n.sum()), direction)
    return _tail(float(z[0, 0]), direction)


def best_day_p(events: Wholes, exposure: Wholes, since: int, direction: Direction) -> float:
    """Return how often the best day of all shows as large a change where nothing changed.

    Parameters
    ----------
    events, exposure
        A hitter's, one entry a day on which he had any, in order.
    since
        Place of the first day after the change that is claimed: 1 or more.
    direction
        What is claimed of the rate since then.
    """
    days = len(events)
    rng = np.random.default_rng(11)
    order = np.vstack([np.arange(days), rng.permuted(np.tile(np.arange(days), (_ORDERS, 1)), axis=1)])
    before = np.cumsum(events[order], axis=1)[:, :-1], np.cumsum(exposure[order], axis=1)[:, :-1]
    z = _turned(_z(*before, events.sum(), exposure.sum()), direction)
    shown = float(z[0, since - 1])
    at_least = z[1:].max(axis=1) >= shown - 1e-12
    by_orders = float((at_least.sum() + 1) / (_ORDERS + 1))
    # What no order shows is bounded by the days' own chances added up (Bonferroni), which hold further out.
    return min(by_orders, (days - 1) * _tail(shown, direction))


def _z(k: Floats | Wholes, n: Floats | Wholes, all_k: float, all_n: float) -> Floats:
    """Return the score test's z of the rest against what came before: ``k`` in ``n``."""
    pooled = all_k / all_n
    spread = np.sqrt(np.maximum(pooled * (1 - pooled) * (1 / n + 1 / (all_n - n)), 1e-300))
    return np.asarray(((all_k - k) / (all_n - n) - k / n) / spread)


def _turned(z: Floats, direction: Direction) -> Floats:
    """Return z so that more of it speaks for what is claimed."""
    return np.asarray(np.abs(z) if direction == "either" else -z if direction == "less" else z)


def _tail(z: float, direction: Direction) -> float:
    return float(stats.norm.sf(z)) * (2 if direction == "either" else 1)
