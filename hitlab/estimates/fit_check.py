"""Whether the law of true rates that was fitted could have made this table: its upper end, and two clumps.

Tables are drawn from the law (a prior law by its weight, true rates, counts), and two figures are laid beside
those of the table itself, both of deviations ``z`` from what is expected of each group in units of what law
and luck together allow:

- the upper end: the sum of ``(z - 2)**2`` over all above 2;
- two clumps: the mean of ``z**4`` over the squared mean of ``z**2``, small where most lie on two sides and
  few in the middle.

Each is told where less than 1 in 40 tables are as far out, so that at most 1 in 20 tables which the law did
make is doubted (the law was fitted to the table, which makes it fewer). A table of fewer than 20 groups tells
neither; of more than 2,000 groups, that many at equal steps of exposure are looked at.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hitlab.estimates.posterior import Posterior

__all__ = ["doubts_of_fit"]

Floats = NDArray[np.float64]

_FEWEST, _MOST = 20, 2_000  # groups
_TABLES, _SEED = 239, 0
_RARE = 1 / 40  # of each of the two figures

UPPER_END = (
    "the highest rates lie farther out than the law of true rates allows: the likeliest leader may be more "
    "likely, and the leader's true rate higher, than is said here"
)
TWO_CLUMPS = (
    "the rates lie in two clumps more than the law of true rates allows, as those of two kinds of hitters "
    "do; name the column that tells the kinds apart (groups)"
)


def doubts_of_fit(before: Posterior, k: Floats, n: Floats) -> tuple[str, ...]:
    """Return what speaks against the law of true rates, in words.

    Parameters
    ----------
    before
        What is expected of each group before its record is seen: one column for all, or one each.
    k, n
        Counts by group.
    """
    there = np.flatnonzero(np.rint(n) > 0)
    if len(there) < _FEWEST:
        return ()
    if len(there) > _MOST:
        by_exposure = there[np.argsort(n[there], kind="stable")]
        there = np.sort(by_exposure[np.linspace(0, len(there) - 1, _MOST).astype(int)])
    exposure = np.rint(n[there]).astype(np.int64)
    if before.a.shape[1] > 1:
        before = before.only(there)
    mean, spread = before.mean(), before.spread()
    deviation = np.sqrt(spread**2 + np.maximum(mean * (1 - mean) - spread**2, 0) / exposure)
    mine = _figures((k[there] / n[there] - mean) / deviation)
    rng = np.random.default_rng(_SEED)
    rates = before.for_groups(len(there)).draws(_TABLES, rng)
    drawn = _figures((rng.binomial(exposure, rates) / exposure - mean) / deviation)
    # One more table, this one, is among those that are as far out.
    rarity = [(1 + int((those >= one).sum())) / (_TABLES + 1) for one, those in zip(mine, drawn, strict=True)]
    return tuple(words for words, rare in zip((UPPER_END, TWO_CLUMPS), rarity, strict=True) if rare < _RARE)


def _figures(z: Floats) -> tuple[Floats, Floats]:
    """Return both figures of one table or of several, larger where it is farther out."""
    upper = (np.maximum(z - 2, 0) ** 2).sum(axis=-1)
    square = np.maximum((z**2).mean(axis=-1), 1e-300)
    return np.asarray(upper), np.asarray(-(z**4).mean(axis=-1) / square**2)
