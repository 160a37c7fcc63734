"""The law behind splits: levels, differences, and what is common to all situations, integrated on grids.

For one situation each hitter has four counts: events and exposure inside it and in the rest of his record.
On the log odds scale his level (in the rest, or midway where the two have equal standing) follows a normal
law across hitters, and the difference between inside and rest another: its mean is what the situation does
to everybody, its spread how much hitters differ. Three kinds of law are weighed by their evidence: the
situation does nothing to anybody (mean and spread 0), it does nothing on the whole though hitters differ,
and it does something to everybody. Where several situations are asked about together, their means scatter
around 0, their spreads around a common spread, and how often each kind of law holds is common to them, so
that thirty situations tell what one cannot: whether hitters differ at all.

Nothing is plugged in: levels are integrated hitter by hitter, means and spreads of every situation on a grid,
and what the situations share on another. Standard deviations, of the situations' means and the typical one
among hitters, have a half-normal factor of scale .5 in their prior: differences that double or halve the odds
are usual, larger ones are not ruled out (Gelman 2006, Bayesian Anal. 1:515-534, on priors for spreads of few
groups).

The evidence for a law enters to the power .5 (``_SPLIT.power``). With its full weight chances near 0 and 1
were false twice as often as stated in leagues of one spread, the oftener the smaller the spread: one
situation tells mean and spread of its law worse than the normal law believes, and situations share swings.
A power below 1 widens what is known of the law; what is known of each hitter, given the law, stays (Grunwald
& van Ommen 2017, Bayesian Anal. 12:1069-1103, on learning where the model is not right).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray
from scipy import fft
from scipy.special import expit, log_expit, logsumexp, ndtr

__all__ = ["GRID", "Common", "FourCounts", "SplitLaw", "fit_laws", "law_weights"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]


@dataclass(frozen=True)
class _Grid:
    """Log odds ratios from odds of 1 : 55 to 55 : 1. A grid, so that the answer is the same every time."""

    step: float
    means: int  # points of the fine grid of means, laid where the coarse one found something
    thinned: int  # of the spreads of levels each this many-th

    @cached_property
    def points(self) -> Floats:
        return np.arange(-4, 4 + self.step / 2, self.step)

    @cached_property
    def inner(self) -> Floats:
        """A level plus a difference."""
        return np.linspace(-8, 8, 2 * len(self.points) - 1)

    @cached_property
    def coarse_laws(self) -> Floats:
        """Where to look first: the same for every situation."""
        return _laws(_COARSE_MEANS, _SPREADS[:: 4 * self.thinned], self)


_FINE, _ROUGH = _Grid(1 / 32, 33, 1), _Grid(1 / 16, 17, 3)
# Sums over a grid are as good as integrals while its step is below 1.5 standard deviations of what is summed.
_MOST_FOR_ROUGH = (1.5 / _ROUGH.step) ** 2

GRID: Floats = _FINE.points
"""The grid of the answers: log odds ratios."""

_SPREADS = np.geomspace(0.02, 1.0, 24)  # the first is as good as none
_COARSE_MEANS = np.linspace(-2, 2, 41)
_WIDTHS = (0.0, 0.35, 0.7, 1.4)  # how far, in logs, the situations' spreads lie apart
_PRIOR_SCALE = 0.5
# Convolutions are exact to about 1e-16 of their largest value; what is smaller than this is noise.
_FLOOR = 1e-13
_KEPT = 1e-6  # laws with less weight change nothing that is shown


@dataclass(frozen=True, slots=True)
class _Belief:
    """What is held of a situation before its counts are seen.

    ``kinds``: shares of the three kinds of law (nothing to anybody, nothing on the whole, something to
    everybody), one row for each league that is thought possible. ``rise``: the typical spread's prior density
    goes with its power ``rise - 1``, times the half-normal. ``power``: of the evidence for a law.
    """

    kinds: Floats
    rise: float
    power: float


# Some of what is asked does nothing to anybody, but most does something, if only a little, to everybody.
_SPLIT = _Belief(np.array([[0.3, 0.1, 0.6], [0.1, 0.3, 0.6], [0.1, 0.1, 0.8]]), 1.0, 0.5)
# Two periods: everybody changes by something, all evidence counts.
_PERIODS = _Belief(np.array([[0.0, 0.0, 1.0]]), 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class FourCounts:
    """Events and exposure inside a situation and in the rest, one entry a hitter with both.

    ``faced``, where given, is by how much what was faced inside raises each hitter's log odds against what he
    faced in the rest, and ``faced_error`` the standard error of that. It is no part of the difference that
    is asked for.
    """

    events: Wholes
    exposure: Wholes
    rest_events: Wholes
    rest_exposure: Wholes
    faced: Floats | None = None
    faced_error: Floats | None = None

    def inside(self, log_odds: Floats) -> Floats:
        """Return the likelihoods of log odds inside, had he faced there what he faced in the rest."""
        if self.faced is None:
            return _binomial(self.events, self.exposure, log_odds)
        error = np.zeros_like(self.faced) if self.faced_error is None else self.faced_error
        p = self.events.sum() / max(self.exposure.sum(), 1)
        # What is not known of it makes the record worth less: as if it were shorter.
        worth = 1 / (1 + self.exposure * p * (1 - p) * error**2)
        shifted = log_odds + self.faced[:, np.newaxis]
        return _binomial(self.events * worth, self.exposure * worth, shifted)


@dataclass(frozen=True, slots=True)
class Common:
    """What the situations share, where it is known: spread of their means, spread among hitters."""

    spread_of_means: float
    spread: float


@dataclass(frozen=True, slots=True)
class SplitLaw:
    """One situation's posterior.

    Attributes
    ----------
    mean, spread
        Posterior means of the differences' mean and standard deviation across hitters, log odds.
    ratio, low, high
        Each hitter's difference in log odds, inside less rest: posterior mean and interval.
    rate
        Posterior mean of his rate inside.
    above_rest, above_usual, above_league
        Chances that his rate inside is above that of his own rest; that his difference is above the
        league's; that his rate inside is above the average hitter's inside.
    posterior
        Shape (hitters, ``GRID``): of each hitter's difference.
    """

    mean: float
    spread: float
    ratio: Floats
    low: Floats
    high: Floats
    rate: Floats
    above_rest: Floats
    above_usual: Floats
    above_league: Floats
    posterior: Floats

    def beyond(self, log_odds: float) -> tuple[Floats, Floats]:
        """Return each hitter's chances of a difference above a positive size, and below its negative."""
        edges = np.append(
            GRID - _FINE.step / 2, GRID[-1] + _FINE.step / 2
        )  # a point's mass is even over its cell
        below = np.hstack([np.zeros((len(self.posterior), 1)), np.cumsum(self.posterior, axis=1)])
        lowered = [np.interp(-log_odds, edges, row) for row in below]
        raised = [1 - np.interp(log_odds, edges, row) for row in below]
        return np.clip(raised, 0, 1), np.clip(lowered, 0, 1)


@dataclass(frozen=True, slots=True)
class _Part:
    """What is known of one situation before the others are asked."""

    likelihood: Floats  # (hitters, GRID): of each difference, level integrated
    level: Floats  # (hitters, GRID): posterior of the level in the rest
    centre: float  # the level that stands at 0 of GRID
    inside: Floats  # (hitters, 2 GRID - 1): likelihood of the level inside
    means: Floats
    evidence: Floats  # (means, spreads), logs
    still: Floats  # (1 + spreads): evidence of a mean of 0, with a spread of 0 and with each spread
    grid: _Grid
    # Where the level is midway: likelihood of the level in the rest (hitters, GRID), and the density of the
    # level midway by level in the rest and difference (GRID, GRID).
    midway: tuple[Floats, Floats] | None = None


def fit_laws(
    situations: Sequence[FourCounts],
    level: float = 0.90,
    *,
    common: Common | None = None,
    equal_sides: bool = False,
    beside: Sequence[FourCounts] | None = None,
) -> list[SplitLaw]:
    """Fit all situations together.

    Parameters
    ----------
    situations
        At least one, each with at least one hitter who has exposure on both sides.
    level
        Level of the intervals.
    common
        What the situations share, taken as known; a yardstick for the integrated answer.
    equal_sides
        The two sides have equal standing, as two periods have: a hitter's level then lies midway between
        them, and swapping them turns every chance round. Otherwise the rest of the record is the base, from
        which the situation differs; asked the other way round that is another question, and the two chances
        need not add up to 1.
    beside
        The situations that tell what is common; the asked ones themselves where not given. What is said of a
        situation then depends on its own counts and on these only, whatever else is asked. The same counts
        are taken once.
    """
    part = _midway if equal_sides else _from_rest
    belief = _PERIODS if equal_sides or common is not None else _SPLIT
    shared = _Shared.of(common, belief)
    beside = situations if beside is None else beside
    names = [_name(counts) for counts in situations]
    others = {_name(counts): counts for counts in beside}
    told: dict[bytes, Floats] = {}
    if len({*others, *names}) > 1:
        told = {name: shared.told(part(counts, _rough(counts))) for name, counts in others.items()}
    total = shared.log_prior
    for one in told.values():
        total = total + one
    found = []
    for name, counts in zip(names, situations, strict=True):
        # What everything but this situation says; its own evidence then enters once, from the fine grid.
        by_others = total - told[name] if name in told else total
        mine = part(counts, _FINE)
        found.append(_law(mine, shared.weigh(mine, by_others), level))
    return found


def _name(counts: FourCounts) -> bytes:
    return b"".join(
        np.ascontiguousarray(side, dtype=np.int64).tobytes()
        for side in (counts.events, counts.exposure, counts.rest_events, counts.rest_exposure)
    ) + (b"" if counts.faced is None else np.ascontiguousarray(counts.faced).tobytes())


def _rough(counts: FourCounts) -> _Grid:
    """Return the grid on which a situation tells the others something: the rougher where that is as good."""
    most = max(int(counts.events.max()), int(counts.rest_events.max()))
    return _ROUGH if most <= _MOST_FOR_ROUGH else _FINE


def law_weights(means: Floats, spreads: Floats, above: Floats | None = None, grid: _Grid = _FINE) -> Floats:
    """Weights on a grid that give the mean, over a normal law, of a function linear between its points.

    Exact for every spread, 0 included, so that a narrow law does not jump from one point to the next.

    Parameters
    ----------
    means, spreads
        One entry a law.
    above
        Where given, only the part of each law above this.
    grid
        Where not given, ``GRID``.

    Returns
    -------
    ndarray
        Shape (laws, points). Without ``above`` rows sum to 1: what would lie past the ends is left out.
    """
    points, step = grid.points, grid.step
    ends = np.concatenate([[points[0] - step], points, [points[-1] + step]])
    mean, spread = means[:, np.newaxis], np.maximum(spreads, 1e-9)[:, np.newaxis]

    def first_moment(x: Floats) -> Floats:
        """Mean of max(x - t, 0) over the law up to ``x``."""
        z = (x - mean) / spread
        return np.asarray((x - mean) * ndtr(z) + spread * np.exp(-0.5 * z * z) / np.sqrt(2 * np.pi))

    whole = np.diff(first_moment(ends[np.newaxis]), 2, axis=1) / step
    total = whole.sum(axis=1, keepdims=True)
    if above is None:
        return np.asarray(whole / total)
    cut = np.broadcast_to(np.asarray(above, dtype=float)[..., np.newaxis], mean.shape)
    # Above the cut: the mean of max(x - t, 0) over t from the cut to x.
    below = ndtr((cut - mean) / spread)
    z = (cut - mean) / spread
    density = spread * np.exp(-0.5 * z * z) / np.sqrt(2 * np.pi)
    part = first_moment(ends[np.newaxis]) - (ends - mean) * below - density
    part = np.where(ends > cut, part, 0.0)
    return np.asarray(np.maximum(np.diff(part, 2, axis=1) / step, 0.0) / total)


def _from_rest(counts: FourCounts, grid: _Grid) -> _Part:
    """Integrate the levels out of one situation, the rest of the record being the base."""
    points = grid.points
    centre = _pooled(counts.rest_events, counts.rest_exposure)
    rest = _binomial(counts.rest_events, counts.rest_exposure, centre + points)
    spreads = _SPREADS[:: grid.thinned]
    means, evidence = _evidence(rest, spreads, grid)
    # Each level is drawn from the mixture of the laws that the rest of the league leaves open.
    prior_log = np.log(spreads * np.exp(-0.5 * (spreads / _PRIOR_SCALE) ** 2))
    weight = np.exp(evidence + prior_log - (evidence + prior_log).max())
    law = _mixture(means, spreads, weight / weight.sum(), grid)
    posterior = rest * law
    posterior /= posterior.sum(axis=1, keepdims=True)
    inner = centre + grid.inner
    inside = counts.inside(inner)
    size = fft.next_fast_len(len(inner), real=True)
    # likelihood[d] = sum over levels a of posterior[a] x inside[a + d]
    product = np.conj(fft.rfft(posterior, size, axis=1)) * fft.rfft(inside, size, axis=1)
    likelihood = fft.irfft(product, size, axis=1)[:, : len(points)]
    likelihood = np.maximum(likelihood / likelihood.max(axis=1, keepdims=True), _FLOOR)
    means, evidence = _evidence(likelihood, _SPREADS, grid)
    return _Part(likelihood, posterior, centre, inside, means, evidence, _still(likelihood, grid), grid)


def _midway(counts: FourCounts, grid: _Grid) -> _Part:
    """Integrate the levels out of two sides of equal standing."""
    points = grid.points
    centre, other = (
        _pooled(*pair)
        for pair in ((counts.rest_events, counts.rest_exposure), (counts.events, counts.exposure))
    )
    rest = _binomial(counts.rest_events, counts.rest_exposure, centre + points)
    # Both sides tell how much levels differ; each counts half, so that neither is preferred.
    spread = _level_weights(rest, counts.inside(other + points), grid)
    inner = centre + grid.inner
    inside = counts.inside(inner)
    # A hitter's level is midway between his two sides, each seen from its own league mean.
    midway = points[:, np.newaxis] + (points - (other - centre)) / 2
    scale = np.sqrt(_SPREADS**2 * (1 + 1 / len(rest)) + grid.step**2)
    law = np.zeros_like(midway)
    for weight, deviation in zip(spread, scale, strict=True):
        if weight > _KEPT:
            law += weight / deviation * np.exp(-0.5 * (midway / deviation) ** 2)
    # likelihood[d] = sum over levels a in the rest of rest[a] x inside[a + d] x law[a, d]
    shifted = sliding_window_view(inside, len(points), axis=1)
    likelihood = np.einsum("ha,had,ad->hd", rest, shifted, law)
    likelihood = np.maximum(likelihood / likelihood.max(axis=1, keepdims=True), _FLOOR)
    means, evidence = _evidence(likelihood, _SPREADS, grid)
    at = int(np.abs(points - (other - centre)).argmin())
    level = rest * law[:, at]
    level /= level.sum(axis=1, keepdims=True)
    still = _still(likelihood, grid)
    return _Part(likelihood, level, centre, inside, means, evidence, still, grid, (rest, law))


def _pooled(events: Wholes, exposure: Wholes) -> float:
    k, n = float(events.sum()), float(exposure.sum())
    return float(np.log((k + 0.5) / (n - k + 0.5)))


def _level_weights(rest: Floats, inside: Floats, grid: _Grid) -> Floats:
    """Weigh the spreads of the levels by what the rest and the inside tell, the two in equal parts."""
    told = np.log(_SPREADS) - 0.5 * (_SPREADS / _PRIOR_SCALE) ** 2
    for likelihood in (rest, inside):
        evidence = logsumexp(_evidence(likelihood, _SPREADS, grid)[1], axis=0)
        told = told + (evidence - evidence.max()) / 2
    weight = np.exp(told - told.max())
    return np.asarray(weight / weight.sum())


def _binomial(events: Wholes | Floats, exposure: Wholes | Floats, log_odds: Floats) -> Floats:
    """Binomial likelihoods, shape (hitters, log odds), the largest of each row 1.

    The log odds are the same for all hitters, or each has a row of them.
    """
    hit, missed = log_expit(log_odds), log_expit(-log_odds)
    if log_odds.ndim == 1:
        logs = np.outer(events, hit) + np.outer(exposure - events, missed)
    else:
        logs = events[:, np.newaxis] * hit + (exposure - events)[:, np.newaxis] * missed
    # What is smaller would be numbers too small for the processor's quick ways, and change nothing.
    return np.asarray(np.exp(np.maximum(logs - logs.max(axis=1, keepdims=True), -60.0)))


def _evidence(likelihood: Floats, spreads: Floats, grid: _Grid) -> tuple[Floats, Floats]:
    """Return a fine grid of means and the log evidence of each mean and spread."""
    rough = _log_evidence(likelihood, grid.coarse_laws).reshape(len(_COARSE_MEANS), -1).max(axis=1)
    near = np.flatnonzero(rough > rough.max() - 15)
    gap = _COARSE_MEANS[1] - _COARSE_MEANS[0]
    low, high = _COARSE_MEANS[near[0]] - gap, _COARSE_MEANS[near[-1]] + gap
    means = np.linspace(max(low, _COARSE_MEANS[0]), min(high, _COARSE_MEANS[-1]), grid.means)
    return means, _log_evidence(likelihood, _laws(means, spreads, grid)).reshape(len(means), -1)


def _still(likelihood: Floats, grid: _Grid) -> Floats:
    """Return the log evidence of a mean of 0, with no spread and with each spread."""
    spreads = np.append(0.0, _SPREADS)
    return _log_evidence(likelihood, law_weights(np.zeros(len(spreads)), spreads, grid=grid))


def _log_evidence(likelihood: Floats, laws: Floats) -> Floats:
    return np.asarray(np.log(np.maximum(laws @ likelihood.T, _FLOOR)).sum(axis=1))


def _laws(means: Floats, spreads: Floats, grid: _Grid) -> Floats:
    mean, spread = (each.ravel() for each in np.meshgrid(means, spreads, indexing="ij"))
    return law_weights(mean, spread, grid=grid)


def _mixture(means: Floats, spreads: Floats, weight: Floats, grid: _Grid) -> Floats:
    kept = weight > _KEPT
    mean, spread = (each[kept] for each in np.meshgrid(means, spreads, indexing="ij"))
    return np.asarray(weight[kept] @ law_weights(mean, spread, grid=grid))


@dataclass(frozen=True, slots=True)
class _Weights:
    """Weights of one situation's laws: nothing on the whole (1 + spreads), something (means, spreads)."""

    still: Floats
    moved: Floats


@dataclass(frozen=True, slots=True)
class _Shared:
    """What the situations share: scatter of their means, law of their spreads, how often each kind holds.

    What is said of it has the shape (scatter, spread laws, kinds).
    """

    scatter: Floats
    shapes: Floats  # (spread laws, spreads)
    belief: _Belief
    log_prior: Floats

    @classmethod
    def of(cls, common: Common | None, belief: _Belief) -> _Shared:
        """Lay the grid; where it is known there is one point."""
        if common is not None:
            known = np.exp(-0.5 * (np.log(_SPREADS / max(common.spread, _SPREADS[0])) / 0.05) ** 2)
            shapes = (known / known.sum())[np.newaxis]
            return cls(np.array([max(common.spread_of_means, 1e-9)]), shapes, belief, np.zeros((1, 1, 1)))
        # Of the means' scatter even in the spread itself, not in its logarithm, times the half-normal.
        close = -0.5 * (_SPREADS / _PRIOR_SCALE) ** 2
        means, typical = (rise * np.log(_SPREADS) + close for rise in (1.0, belief.rise))
        prior = means[:, np.newaxis] + np.tile(typical, len(_WIDTHS))
        kinds = np.zeros(len(belief.kinds))
        return cls(_SPREADS, _spread_laws(), belief, prior[:, :, np.newaxis] + kinds)

    def told(self, part: _Part) -> Floats:
        """Return what a situation says, in logs."""
        mass, still, moved, top = self._evidence_of(part)
        by_scatter = mass @ moved  # (scatter, spreads)
        each = (
            still[0] * np.ones((len(self.scatter), len(self.shapes))),
            np.broadcast_to(self.shapes @ still[1:], (len(self.scatter), len(self.shapes))),
            by_scatter @ self.shapes.T,
        )
        return np.asarray(np.log(np.maximum(np.stack(each, axis=-1) @ self.belief.kinds.T, 1e-300)) + top)

    def weigh(self, part: _Part, by_others: Floats) -> _Weights:
        """Weigh means and spreads of a situation, given what all the others say."""
        mass, still, moved, _ = self._evidence_of(part)
        kinds = np.exp(by_others - by_others.max()) @ self.belief.kinds  # (scatter, spread laws, kinds)
        still = still * np.append(kinds[:, :, 0].sum(), kinds[:, :, 1].sum(axis=0) @ self.shapes)
        moved = moved * (mass.T @ (kinds[:, :, 2] @ self.shapes))
        whole = still.sum() + moved.sum()
        return _Weights(still / whole, moved / whole)

    def _evidence_of(self, part: _Part) -> tuple[Floats, Floats, Floats, float]:
        """Return the means' prior mass by scatter, and the evidence to its power, the largest of it 1."""
        half = (part.means[1] - part.means[0]) / 2
        scatter = self.scatter[:, np.newaxis]
        mass = ndtr((part.means + half) / scatter) - ndtr((part.means - half) / scatter)
        power = self.belief.power
        top = power * max(float(part.still.max()), float(part.evidence.max()))
        return mass, np.exp(power * part.still - top), np.exp(power * part.evidence - top), top


def _spread_laws() -> Floats:
    """Laws of the situations' spreads around each typical one, for each width: (laws, spreads)."""
    log = np.log(_SPREADS)
    laws = []
    for width in _WIDTHS:
        away = (log - log[:, np.newaxis]) / max(width, 1e-3)
        law = np.exp(-0.5 * away**2)
        laws.append(law / law.sum(axis=1, keepdims=True))
    return np.concatenate(laws)


def _law(part: _Part, weights: _Weights, level: float) -> SplitLaw:
    mean, spread = (each.ravel() for each in np.meshgrid(part.means, _SPREADS, indexing="ij"))
    mean, spread = np.append(np.zeros(len(weights.still)), mean), np.concatenate([[0.0], _SPREADS, spread])
    share = np.append(weights.still, weights.moved.ravel())
    kept = share > _KEPT
    mean, spread, share = mean[kept], spread[kept], share[kept] / share[kept].sum()
    whole = law_weights(mean, spread)
    likelihood = part.likelihood
    chance = whole @ likelihood.T
    by_law = share[:, np.newaxis] / chance  # (laws, hitters)
    prior = by_law.T @ whole  # each hitter's mixture of laws
    posterior = prior * likelihood
    posterior /= posterior.sum(axis=1, keepdims=True)
    ratio = posterior @ GRID
    above_rest = (by_law * (law_weights(mean, spread, np.zeros_like(mean)) @ likelihood.T)).sum(axis=0)
    above_usual = (by_law * (law_weights(mean, spread, mean) @ likelihood.T)).sum(axis=0)
    inside = _levels_inside(part, prior)
    log_odds = part.centre + _FINE.inner
    # The average hitter's log odds inside are known to about the standard deviation of the mean.
    league = float(share @ mean)
    about = np.sqrt(float(share @ (mean - league) ** 2) + _FINE.step**2 / 12)
    # The levels' mean is the pooled rest's to within its own small error.
    middle = float((part.level @ (part.centre + GRID)).mean()) + league
    cumulative = np.cumsum(posterior, axis=1)
    tail = (1 - level) / 2
    return SplitLaw(
        league,
        float(share @ spread),
        ratio,
        _quantile(cumulative, tail),
        _quantile(cumulative, 1 - tail),
        inside @ expit(log_odds),
        np.clip(above_rest, 0, 1),
        np.clip(above_usual, 0, 1),
        inside @ ndtr((log_odds - middle) / about),
        posterior,
    )


def _levels_inside(part: _Part, prior: Floats) -> Floats:
    """Return the posterior of each hitter's level inside, on the inner grid."""
    if part.midway is None:
        size = fft.next_fast_len(part.inside.shape[1], real=True)
        product = fft.rfft(part.level, size, axis=1) * fft.rfft(prior, size, axis=1)
        joint = np.maximum(fft.irfft(product, size, axis=1)[:, : part.inside.shape[1]], 0) * part.inside
        return np.asarray(joint / joint.sum(axis=1, keepdims=True))
    rest, law = part.midway
    # A level inside at place a + d comes from a level a in the rest and a difference d.
    joint = np.zeros(part.inside.shape)
    size = len(GRID)
    for d in range(size):
        joint[:, d : d + size] += rest * law[:, d] * prior[:, d : d + 1]
    joint *= part.inside
    return np.asarray(joint / joint.sum(axis=1, keepdims=True))


def _quantile(cumulative: Floats, chance: float) -> Floats:
    """Return a quantile for each row, the mass of a grid point spread evenly over its cell.

    The grid point itself would cut half a cell off either end and make every interval too short.
    """
    place = (cumulative < chance).sum(axis=1).clip(max=len(GRID) - 1)
    row = np.arange(len(cumulative))
    above = cumulative[row, place]
    below = np.where(place > 0, cumulative[row, place - 1], 0.0)
    return np.asarray(GRID[place] - _FINE.step / 2 + _FINE.step * (chance - below) / (above - below))
