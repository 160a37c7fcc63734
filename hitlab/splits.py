"""A hitter inside a situation against the rest of his own record, and the league beside him.

What is estimated: for each hitter the log odds ratio between the event's rate inside the situation and
outside it. Given the four counts of a hitter, the number of his events that fall inside follows a
non-central hypergeometric law in which his own level cancels, so a good hitter and a poor one can be
compared without a model of either. The log odds ratios of all hitters follow a normal law, whose mean
(the situation is harder or easier for everybody) and spread (some hitters differ) are integrated over a
grid, flat on both, not plugged in.

When it fails: swings inside and outside that differ in more than the situation (count, pitchers); events
that are not independent. Simulated with 150 hitters, the 90 % intervals covered .89, .87 and .89 at spreads
of .12, .25 and .40 of the log odds ratio. At .12, hitters whose stated chance lay from .02 to .10 (.066 on
average) were above their rest in .149 of cases: small chances are too small where hitters hardly differ.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counts import Counts, pair
from hitlab.errors import CountsError

__all__ = ["SplitFit", "split_rates"]

Floats = NDArray[np.float64]

# Log odds ratios. A grid, so that the answer is the same every time; its ends are odds of 1 : 20.
_RATIOS = np.linspace(-3.0, 3.0, 241)
_MEANS = np.linspace(-1.5, 1.5, 61)
_SPREADS = np.linspace(0.02, 1.0, 33)


@dataclass(frozen=True, slots=True)
class SplitFit:
    """Every hitter's split.

    Attributes
    ----------
    data
        One row a hitter with exposure on both sides: who it is, ``inside_events``, ``inside_exposure``
        (what the events stand for where hardness is unknown for some contact), ``inside_all`` (the whole
        exposure), ``inside_unknown``, the same four as ``rest_...``, ``inside_rate``, ``rest_rate``,
        ``log_odds_ratio`` (posterior mean), ``low``, ``high`` (posterior interval of it),
        ``chance_above_rest`` (the chance that his rate inside is above that of his own rest).
    league_ratio, league_spread
        Posterior means of the log odds ratios' mean and standard deviation across hitters.
    """

    data: pd.DataFrame
    event: str
    per: str
    level: float
    league_ratio: float
    league_spread: float

    def table(self) -> pd.DataFrame:
        """Return a copy as a plain pandas frame."""
        return self.data.copy()


def split_rates(everything: Counts, inside: Counts, event: str, per: str, *, level: float = 0.90) -> SplitFit:
    """Compare every hitter's rate inside a situation with his own rest.

    Parameters
    ----------
    everything
        Counts of all pitches.
    inside
        Counts of the pitches in the situation, a part of ``everything`` counted by the same rules.
    event, per
        The rate.
    level
        Level of the posterior intervals.

    Raises
    ------
    CountsError
        Where ``inside`` is not a part of ``everything``, or nobody has exposure on both sides.
    """
    if everything.by != inside.by:
        raise CountsError(
            f"the two tables are counted by {everything.by} and by {inside.by}; count both the same way"
        )
    key = list(everything.by)
    names = [name for name in everything.names if name in inside.names]
    some = everything.data[key].merge(inside.data[[*key, *names]], on=key, how="left")
    some[names] = some[names].fillna(0).astype(np.int64)
    left = everything.data.copy()
    left[names] -= some[names]
    strangers = len(inside.data.merge(everything.data[key], on=key)) < len(inside.data)
    if strangers or (left[names] < 0).any(axis=None):
        raise CountsError(
            "the counts inside the situation are not a part of the whole; count both from one table"
        )
    # The rest is counted before anything is set aside for unknown hardness: each part has its own share.
    rest = pair(replace(everything, data=left), event, per)
    part = pair(replace(inside, data=some), event, per)
    both = everything.identity.assign(
        inside_events=part.events,
        inside_exposure=part.measured_exposure,
        inside_all=part.exposure,
        inside_unknown=part.unknown,
        rest_events=rest.events,
        rest_exposure=rest.measured_exposure,
        rest_all=rest.exposure,
        rest_unknown=rest.unknown,
    )
    both = both[(both["inside_exposure"] > 0) & (both["rest_exposure"] > 0)].reset_index(drop=True)
    if both.empty:
        raise CountsError(f"nobody has {per} both inside the situation and outside it")
    return _fit(both, event, per, level)


def _fit(both: pd.DataFrame, event: str, per: str, level: float) -> SplitFit:
    k, n = both["inside_events"].to_numpy(np.int64), both["inside_exposure"].to_numpy(np.int64)
    rest_k, rest_n = both["rest_events"].to_numpy(np.int64), both["rest_exposure"].to_numpy(np.int64)
    log_likelihood = np.stack(
        [_conditional_log_likelihood(*row) for row in zip(k, n, rest_k, rest_n, strict=True)]
    )
    likelihood = np.exp(log_likelihood - log_likelihood.max(axis=1, keepdims=True))
    # Prior laws: one normal law a pair of mean and spread, on the grid of ratios.
    mean, spread = (grid.ravel() for grid in np.meshgrid(_MEANS, _SPREADS, indexing="ij"))
    law = np.exp(-0.5 * ((_RATIOS - mean[:, np.newaxis]) / spread[:, np.newaxis]) ** 2)
    law /= law.sum(axis=1, keepdims=True)
    evidence = np.log(np.maximum(law @ likelihood.T, 1e-300))  # (laws, hitters)
    total = evidence.sum(axis=1)
    weight = np.exp(total - total.max())
    weight /= weight.sum()
    kept = weight > 1e-7  # the others change nothing that is shown
    weight, law, evidence = weight[kept] / weight[kept].sum(), law[kept], evidence[kept]
    # A hitter's posterior is the mixture over laws of law x likelihood, each normalised.
    mixed = (weight[:, np.newaxis] / np.exp(evidence)).T @ law  # (hitters, ratios)
    posterior = mixed * likelihood
    posterior /= posterior.sum(axis=1, keepdims=True)
    cumulative = np.cumsum(posterior, axis=1)
    at_zero = int(np.argmin(np.abs(_RATIOS)))
    data = both.copy()
    data["inside_rate"], data["rest_rate"] = k / n, rest_k / rest_n
    data["log_odds_ratio"] = posterior @ _RATIOS
    tail = (1 - level) / 2
    data["low"], data["high"] = _quantile(cumulative, tail), _quantile(cumulative, 1 - tail)
    # Half of the mass at exactly 0 counts: the grid point stands for the stretch around it.
    data["chance_above_rest"] = posterior[:, at_zero + 1 :].sum(axis=1) + posterior[:, at_zero] / 2
    return SplitFit(data, event, per, level, float(weight @ mean[kept]), float(weight @ spread[kept]))


def _quantile(cumulative: Floats, chance: float) -> Floats:
    """Return a quantile for each row, the mass of a grid point spread evenly over its cell.

    The grid point itself would cut half a cell off either end and make every interval too short.
    """
    step = _RATIOS[1] - _RATIOS[0]
    place = (cumulative < chance).sum(axis=1).clip(max=len(_RATIOS) - 1)
    row = np.arange(len(cumulative))
    above = cumulative[row, place]
    below = np.where(place > 0, cumulative[row, place - 1], 0.0)
    return np.asarray(_RATIOS[place] - step / 2 + step * (chance - below) / (above - below))


def _conditional_log_likelihood(k: int, n: int, rest_k: int, rest_n: int) -> Floats:
    """Log chance of ``k`` events inside, given all events, at each log odds ratio of the grid."""
    events = k + rest_k
    inside: NDArray[Any] = np.arange(max(0, events - rest_n), min(n, events) + 1)
    terms = _log_choose(n, inside) + _log_choose(rest_n, events - inside)
    weights = terms[:, np.newaxis] + inside[:, np.newaxis] * _RATIOS
    top = weights.max(axis=0)
    normaliser = top + np.log(np.exp(weights - top).sum(axis=0))
    return np.asarray(weights[k - inside[0]] - normaliser)


def _log_choose(n: int, k: NDArray[Any]) -> Floats:
    from scipy.special import gammaln

    return np.asarray(gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1))
