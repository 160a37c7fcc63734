"""Shrinkage: how much of each rate to believe, from how the whole table scatters.

The model: each group has a true rate, the true rates follow one Beta law, and events are independent
draws at the true rate. The law's mean and size are fitted to the table by maximum likelihood; a
group's shrunk rate is its posterior mean, which pulls a small record toward the mean of all.

When it fails: groups of different kinds mixed (regulars and part-timers, levels), so that one law does
not fit them; better hitters getting more swings; few groups, where the fitted law is itself uncertain
and the intervals are too short. The notes of a fit say so where it shows.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counts import Counts, pair, unknown_contact
from hitlab.errors import CountsError
from hitlab.intervals import DEFAULT_LEVEL
from hitlab.rates import as_counts
from hitlab.wording import level_words, per_words, rate_text, rate_words

__all__ = ["Fit", "Posterior", "fit_beta_binomial", "shrink"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_LARGEST_SIZE = 1e7  # a law this narrow is one rate for all
_FEW_GROUPS = 40  # below it the fitted law's own uncertainty matters (simulated: coverage of 90 % falls)


@dataclass(frozen=True, slots=True)
class Posterior:
    """What is known of each group's true rate: a mixture of Beta laws.

    Attributes
    ----------
    weights
        Shape (laws,), sum 1: the weight of each prior law. One law where it was fitted by
        maximum likelihood.
    a, b
        Shape (laws, groups): parameters of each group's Beta law under each prior law.
    """

    weights: Floats
    a: Floats
    b: Floats

    def mean(self) -> Floats:
        """Return the mean of each group's rate."""
        mean: Floats = np.average(self.a / (self.a + self.b), axis=0, weights=self.weights)
        return mean

    def above(self, value: float) -> Floats:
        """Return the chance that each group's rate is above a value between 0 and 1."""
        from scipy.special import betaincc

        chance: Floats = np.average(betaincc(self.a, self.b, value), axis=0, weights=self.weights)
        return chance

    def interval(self, level: float = DEFAULT_LEVEL) -> tuple[Floats, Floats]:
        """Return the equal-tailed interval of each group's rate."""
        tail = (1 - level) / 2
        return self._quantile(tail), self._quantile(1 - tail)

    def _quantile(self, chance: float) -> Floats:
        from scipy.special import betainc, betaincinv

        each: Floats = np.asarray(betaincinv(self.a, self.b, chance), dtype=np.float64)
        if len(self.weights) == 1:
            return np.asarray(each[0], dtype=np.float64)
        low, high = each.min(axis=0), each.max(axis=0)
        for _ in range(60):  # the mixture's quantile lies between its parts'; halve until rounding stops it
            middle = (low + high) / 2
            under = self.weights @ betainc(self.a, self.b, middle) < chance
            low, high = np.where(under, middle, low), np.where(under, high, middle)
        return np.asarray((low + high) / 2, dtype=np.float64)

    def draws(self, size: int, rng: np.random.Generator) -> Floats:
        """Return draws of all rates together, shape (size, groups)."""
        law = rng.choice(len(self.weights), size, p=self.weights)
        return rng.beta(self.a[law], self.b[law])

    def only(self, mask: NDArray[np.bool_] | NDArray[np.int64]) -> Posterior:
        """Return the groups that the mask or the places choose."""
        return Posterior(self.weights, self.a[:, mask], self.b[:, mask])


@dataclass(frozen=True, slots=True)
class Fit:
    """Shrunk rates, and the law they were shrunk with.

    Attributes
    ----------
    data
        One row a group: who it is, the event's count, the exposure, ``unknown`` (contact of unknown
        hardness, where there is any), ``rate`` (as ``rate`` gives it), ``shrunk`` (posterior mean), ``low``,
        ``high`` (posterior interval), ``own_weight`` (share of the group's own record in the shrunk
        rate). Where hardness is unknown for a share of a group's contact, the fit sets the same share of
        its exposure aside.
    mean, spread
        Mean and standard deviation of the true rates across groups.
    half_weight_size
        The exposure at which a group's own record and the mean of all get equal weight; infinite where
        the table shows no spread beyond luck.
    posterior
        For chances.
    unknown_share
        Share of unmeasured contact in all, and by group in ``unknown_shares``.
    """

    data: pd.DataFrame
    counts: Counts
    event: str
    per: str
    level: float
    mean: float
    spread: float
    half_weight_size: float
    posterior: Posterior
    unknown_shares: Floats
    unknown_share: float
    notes: tuple[str, ...] = ()

    def table(self) -> pd.DataFrame:
        """Return a copy as a plain pandas frame."""
        return self.data.copy()

    @property
    def events(self) -> Wholes:
        """The event's count by group."""
        return self.data[self.event].to_numpy(np.int64)

    @property
    def exposure(self) -> Wholes:
        """The exposure by group."""
        return self.data[self.per].to_numpy(np.int64)

    @property
    def explanation(self) -> str:
        """One sentence on what was done."""
        name = rate_words(self.event, self.per)
        if not np.isfinite(self.half_weight_size):
            return (
                f"{len(self.data)} rates of {name} scatter no more than luck alone would make them, "
                f"so all are shrunk to the mean of {rate_text(self.mean)}"
            )
        return (
            f"{len(self.data)} rates of {name} shrunk toward their mean of {rate_text(self.mean)}; "
            f"true rates differ by about {rate_text(self.spread)} (standard deviation), and after "
            f"{self.half_weight_size:,.0f} {per_words(self.per, 2)} a record weighs as much as the mean"
        )

    def __str__(self) -> str:
        notes = "".join(f"\n  note: {note}" for note in self.notes)
        shown = self._shown().to_string(index=False, max_rows=30)
        return f"{self.explanation}; {level_words(self.level)} posterior intervals{notes}\n{shown}"

    def _repr_html_(self) -> str:
        notes = "".join(f"<p>Note: {escape(note)}</p>" for note in self.notes)
        table = self._shown().to_html(index=False, max_rows=30, escape=True)
        return (
            f"<p>{escape(self.explanation)}; {level_words(self.level)} posterior intervals</p>{notes}{table}"
        )

    def _shown(self) -> pd.DataFrame:
        shown = self.data.sort_values("shrunk", ascending=False, kind="stable")
        for name in ("rate", "shrunk", "low", "high"):
            shown[name] = [rate_text(value) for value in shown[name]]
        shown["own_weight"] = [f"{value:.2f}" for value in shown["own_weight"]]
        return shown


def shrink(counts: Any, event: str, per: str, *, level: float = DEFAULT_LEVEL) -> Fit:
    """Shrink every group's rate toward the mean of all by what the table's scatter supports.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts.
    event, per
        Names of two counts, such as ``"hard"`` and ``"swings"``.
    level
        Level of the posterior intervals.

    Returns
    -------
    Fit
        A group without exposure gets the mean of all, with the widest interval.

    Raises
    ------
    MissingColumnsError, CountsError
        As in ``rate``; and where there is no exposure at all, so that nothing can be fitted.

    References
    ----------
    Skellam 1948, J. Roy. Stat. Soc. B 10:257-261 (the Beta-binomial law); Efron & Morris 1975, J. Amer.
    Stat. Assoc. 70:311-319 (why shrinking helps).
    """
    counts = as_counts(counts)
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    both = pair(counts, event, per)
    k, n = both.events, both.measured_exposure
    if not n.sum():
        raise CountsError(f"no {per_words(per)} was counted, so there is nothing to fit")
    alpha, beta = fit_beta_binomial(k, n)
    a, b = np.asarray(alpha + k, dtype=float), np.asarray(beta + n - k, dtype=float)
    posterior = Posterior(np.ones(1), a[np.newaxis], b[np.newaxis])
    size, mean = alpha + beta, alpha / (alpha + beta)
    flat = size >= _LARGEST_SIZE
    notes = list(counts.notes)
    exposed = int((n > 0).sum())
    if flat:
        notes.append("no spread beyond luck was found: differences in this table tell nobody apart")
    if exposed < _FEW_GROUPS:
        notes.append(
            f"only {exposed} groups: the fitted law is itself uncertain, so the intervals are too short"
        )
    low, high = posterior.interval(level)
    data = counts.identity.copy()
    data[event], data[per] = k, both.exposure
    if both.unknown.any():
        data["unknown"] = both.unknown
    data["rate"] = both.rate
    data["shrunk"], data["low"], data["high"] = posterior.mean(), low, high
    data["own_weight"] = n / (n + size)
    unknown, contact = unknown_contact(counts, event)
    return Fit(
        data.reset_index(drop=True),
        counts,
        event,
        per,
        level,
        float(mean),
        0.0 if flat else float(np.sqrt(mean * (1 - mean) / (size + 1))),
        np.inf if flat else float(size),
        posterior,
        both.unknown_share,
        float(unknown.sum() / contact.sum()) if contact.sum() else 0.0,
        tuple(notes),
    )


def fit_beta_binomial(events: Any, exposure: Any) -> tuple[float, float]:
    """Fit a Beta law to the true rates behind counts, by maximum likelihood.

    Parameters
    ----------
    events, exposure
        Whole numbers by group.

    Returns
    -------
    alpha, beta
        Parameters of the law. Where the likelihood keeps rising as the law narrows (no spread beyond
        luck), their sum is 1e7.

    Notes
    -----
    Rising factorials turn the likelihood into sums over 0, 1, 2, ... of how many groups have more events,
    misses or swings than that, so that one evaluation costs the largest exposure, however many
    groups there are.
    """
    from scipy.optimize import minimize

    k, n = np.asarray(events, dtype=np.int64), np.asarray(exposure, dtype=np.int64)
    more_events, more_misses, more_swings = _tail_counts(k), _tail_counts(n - k), _tail_counts(n)
    step_k, step_m, step_n = (np.arange(len(tail)) for tail in (more_events, more_misses, more_swings))

    def loss(point: Floats) -> tuple[float, Floats]:
        logit, log_size = point
        mean, size = 1 / (1 + np.exp(-logit)), np.exp(log_size)
        a, b = mean * size, (1 - mean) * size
        value = (
            more_events @ np.log(a + step_k)
            + more_misses @ np.log(b + step_m)
            - more_swings @ np.log(size + step_n)
        )
        by_a = more_events @ (1 / (a + step_k))
        by_b = more_misses @ (1 / (b + step_m))
        by_size = more_swings @ (1 / (size + step_n))
        slope_mean = (by_a - by_b) * size * mean * (1 - mean)
        slope_size = by_a * a + by_b * b - by_size * size
        return -float(value), -np.array([slope_mean, slope_size])

    pooled = (k.sum() + 0.5) / (n.sum() + 1)
    centre = float(np.log(pooled / (1 - pooled)))
    bounds = [(-25.0, 25.0), (np.log(1e-2), np.log(_LARGEST_SIZE))]
    # The likelihood can be flat far out: start from a wide and from a narrow law, keep the better.
    tries = [
        minimize(loss, np.array([centre, np.log(size)]), jac=True, method="L-BFGS-B", bounds=bounds)
        for size in (10.0, 300.0, _LARGEST_SIZE / 2)
    ]
    best = min(tries, key=lambda attempt: float(attempt.fun))
    mean, size = 1 / (1 + np.exp(-best.x[0])), np.exp(best.x[1])
    if best.fun > loss(np.array([best.x[0], np.log(_LARGEST_SIZE)]))[0] - 1e-6:
        size = _LARGEST_SIZE
    return float(mean * size), float((1 - mean) * size)


def _tail_counts(values: Wholes) -> Floats:
    """Return, for 0, 1, 2, ..., how many values are larger."""
    if not len(values) or values.max() == 0:
        return np.zeros(1)
    at_least = np.cumsum(np.bincount(values)[::-1])[::-1]
    return at_least[1:].astype(float)
