"""Ranks: who may be the best, given how little each record says.

Chances come from quadrature over the posterior laws (``best``, ``top``), rank intervals from draws with
a stated seed. A group's rank 1 is the highest true rate.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from html import escape

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.errors import ClaimError
from hitlab.intervals import DEFAULT_LEVEL
from hitlab.shrinkage import Fit, Posterior
from hitlab.wording import percent, rate_text, rate_words

__all__ = ["Ranks", "chance_above", "chance_of_top", "ranks"]

Floats = NDArray[np.float64]

_DRAWS = 4_000
_MOST_NUMBERS = 20_000_000  # draws times groups held at once
_MOST_PANELS = 64
_WANTED = 1e-8  # how far the chances' sum may be from the number of places


@dataclass(frozen=True, slots=True)
class Ranks:
    """Chances and ranks by group.

    Attributes
    ----------
    data
        One row a group with enough exposure, the likeliest best first: who it is, the counts,
        ``rate``, ``shrunk``, ``chance_best``, ``chance_top``, ``rank_low``, ``rank_high`` (interval for the
        true rank).
    top
        The k of ``chance_top``.
    leader
        Place in ``data`` of the highest observed rate.
    leader_excess
        How far that observed rate overstates the leader's true rate, on average.
    draws
        Draws behind the rank intervals.
    """

    data: pd.DataFrame
    event: str
    per: str
    top: int
    level: float
    minimum: int
    leader: int
    leader_excess: float
    draws: int

    def table(self) -> pd.DataFrame:
        """Return a copy as a plain pandas frame."""
        return self.data.copy()

    @property
    def explanation(self) -> str:
        """What the table says, in two sentences."""
        lead = self.data.iloc[self.leader]
        name = lead.iloc[0]
        return (
            f"{name} has the highest observed rate of {rate_words(self.event, self.per)}, "
            f"{rate_text(lead['rate'])}; that overstates the true rate by about "
            f"{rate_text(self.leader_excess)}, as a leader's record does. The chance that {name} truly is "
            f"the best of {len(self.data)} is {percent(lead['chance_best'])}."
        )

    def __str__(self) -> str:
        return f"{self.explanation}\n{self._shown().to_string(index=False, max_rows=30)}"

    def _repr_html_(self) -> str:
        table = self._shown().to_html(index=False, max_rows=30, escape=True)
        return f"<p>{escape(self.explanation)}</p>{table}"

    def _shown(self) -> pd.DataFrame:
        shown = self.data.copy()
        for name in ("rate", "shrunk"):
            shown[name] = [rate_text(value) for value in shown[name]]
        for name in ("chance_best", "chance_top"):
            shown[name] = [percent(value) for value in shown[name]]
        return shown


def ranks(
    fit: Fit,
    *,
    top: int = 5,
    minimum: int = 0,
    level: float = DEFAULT_LEVEL,
    seed: int | np.random.Generator = 0,
) -> Ranks:
    """Rank the groups of a fit by their true rates, with what is not known.

    Parameters
    ----------
    fit
        From ``shrink``; its law is fitted on everybody.
    top
        Places for the chance of being among the top.
    minimum
        Only groups with at least this exposure are ranked. A minimum does not bias the chances; it
        changes who the best is chosen from.
    level
        Level of the rank intervals.
    seed
        For the draws of the rank intervals.

    Raises
    ------
    ClaimError
        Where nobody has the exposure, ``top`` is not a whole number from 1 up, or ``level`` is not
        between 0 and 1.
    """
    if int(top) != top or top < 1:
        raise ClaimError(f"top={top!r}: give a whole number from 1 up")
    if not 0 < level < 1:
        raise ClaimError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    kept = np.flatnonzero((fit.exposure >= minimum) & (fit.exposure > 0))
    if not len(kept):
        raise ClaimError(f"nobody has {minimum:,} {fit.per}; the most is {int(fit.exposure.max()):,}")
    posterior = fit.posterior.only(kept)
    size = int(np.clip(_MOST_NUMBERS // len(kept), 100, _DRAWS))
    drawn = posterior.draws(size, np.random.default_rng(seed))
    place = np.argsort(np.argsort(-drawn, axis=1), axis=1) + 1
    place.sort(axis=0)
    tail = (1 - level) / 2
    low, high = place[int(np.floor(tail * (size - 1)))], place[int(np.ceil((1 - tail) * (size - 1)))]
    who = list(fit.counts.identity.columns)
    data = fit.data.iloc[kept][[*who, fit.event, fit.per, "rate", "shrunk"]].reset_index(drop=True)
    data.insert(0, "label", [fit.counts.labels[i] for i in kept])
    data["chance_best"] = chance_of_top(posterior, 1)
    data["chance_top"] = chance_of_top(posterior, min(top, len(kept)))
    data["rank_low"], data["rank_high"] = low.astype(np.int64), high.astype(np.int64)
    data = data.sort_values("chance_best", ascending=False, kind="stable").reset_index(drop=True)
    leader = int(data["rate"].to_numpy(float).argmax())
    excess = float(data["rate"].iloc[leader] - data["shrunk"].iloc[leader])
    return Ranks(data, fit.event, fit.per, top, level, minimum, leader, excess, size)


def chance_of_top(posterior: Posterior, top: int) -> Floats:
    """Chance of each group to be among the ``top`` highest true rates, by quadrature.

    Gauss-Legendre panels of 64 nodes over the rates at which the ``top``-th place can lie, doubled
    until the chances add up to ``top`` within 1e-8 (exact integrals do).

    Returns
    -------
    chances
        Shape (groups,); they add up to ``top``.
    """
    groups = posterior.a.shape[1]
    if top >= groups:
        return np.ones(groups)
    chance = np.zeros(groups)
    for weight, a, b in zip(posterior.weights, posterior.a, posterior.b, strict=True):
        panels = 1
        while True:
            each = _chance_of_top(a, b, top, panels)
            if abs(each.sum() - top) < _WANTED or panels >= _MOST_PANELS:
                break
            panels *= 2
        chance += weight * each * (top / each.sum())
    return chance


def _chance_of_top(a: Floats, b: Floats, top: int, panels: int) -> Floats:
    from scipy.special import betainc, betaincinv, betaln

    # The top-th place lies above the top-th largest of the low ends and below the largest high end.
    low = np.sort(betaincinv(a, b, 1e-12))[-top]
    high = betaincinv(a, b, 1 - 1e-12).max()
    # Panels of one short rule: the nodes of a long rule take seconds to find.
    x, step = _rule()
    width = (high - low) / panels
    x = (low + width * (np.arange(panels)[:, np.newaxis] + (x + 1) / 2)).ravel()
    step = np.tile(step * width / 2, panels)
    under = betainc(a[:, np.newaxis], b[:, np.newaxis], x)
    log_density = (
        (a[:, np.newaxis] - 1) * np.log(x)
        + (b[:, np.newaxis] - 1) * np.log1p(-x)
        - betaln(a, b)[:, np.newaxis]
    )
    density = np.exp(log_density) * step
    if top == 1:
        log_under = np.log(np.maximum(under, 1e-300))
        others = np.exp(np.minimum(log_under.sum(axis=0) - log_under, 0.0))
        return np.asarray((density * others).sum(axis=1))
    # Rates above the low end only: whoever is surely under it is not among the top.
    fewer = _fewer_above(1 - under, top)
    return np.asarray((density * fewer).sum(axis=1))


@lru_cache(maxsize=1)
def _rule() -> tuple[Floats, Floats]:
    return np.polynomial.legendre.leggauss(64)


def _fewer_above(above: Floats, top: int) -> Floats:
    """Return, for each group and node, the chance that fewer than ``top`` of the others are above.

    The number above is a sum of unequal coins; leaving one out is done by joining the sums before and
    after it, which never subtracts and so keeps its digits.
    """
    groups, nodes = above.shape
    before = np.zeros((groups + 1, top, nodes))
    before[0, 0] = 1.0
    for i in range(groups):
        before[i + 1] = before[i] * (1 - above[i])
        before[i + 1, 1:] += before[i, :-1] * above[i]
    after = np.zeros((top, nodes))
    after[0] = 1.0
    chance = np.empty_like(above)
    for i in range(groups - 1, -1, -1):
        at_most = np.cumsum(after, axis=0)[::-1]  # row j: at most top - 1 - j above among those after
        chance[i] = (before[i] * at_most).sum(axis=0)
        fresh = after * (1 - above[i])
        fresh[1:] += after[:-1] * above[i]
        after = fresh
    return chance


def chance_above(posterior: Posterior, one: int, other: int) -> float:
    """Chance that one group's true rate is above another's, by quadrature."""
    pair = posterior.only(np.array([one, other]))
    return float(chance_of_top(pair, 1)[0])
