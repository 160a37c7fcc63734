"""The law behind splits: levels, differences, and what is common to all situations, integrated on grids.

For one situation each hitter has four counts: events and exposure inside it and in the rest of his record.
On the log odds scale his level (in the rest, or midway where the two have equal standing) follows a normal
law across hitters, and the difference between inside and rest another: its mean is what the situation does
to everybody, its spread how much hitters differ. Where several situations are asked about together, their
means scatter around 0 and their spreads around a common spread, so that thirty situations tell what one
cannot: whether hitters differ at all.

Nothing is plugged in: levels are integrated hitter by hitter, means and spreads of every situation on a grid,
and the three figures that the situations share on another. Standard deviations, of the situations' means and
the typical one among hitters, have a half-normal prior of scale .5: differences that double or halve the odds
are usual, larger ones are not ruled out (Gelman 2006, Bayesian Anal. 1:515-534, on priors for spreads of few
groups).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view
from numpy.typing import NDArray
from scipy import fft
from scipy.special import expit, log_expit, logsumexp, ndtr

__all__ = ["GRID", "Common", "FourCounts", "SplitLaw", "fit_laws", "law_weights"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_STEP = 1 / 32
GRID: Floats = np.arange(-4, 4 + _STEP / 2, _STEP)
"""Log odds ratios, from odds of 1 : 55 to 55 : 1. A grid, so that the answer is the same every time."""

_INNER: Floats = np.linspace(2 * GRID[0], 2 * GRID[-1], 2 * len(GRID) - 1)  # a level plus a difference
_SPREADS = np.geomspace(0.02, 1.0, 24)  # the first is as good as none
_COARSE_MEANS = np.linspace(-2, 2, 41)
_COARSE_SPREADS = _SPREADS[::4]
_MEANS = 33  # points of the fine grid of means, laid where the coarse one found something
_WIDTHS = (0.0, 0.35, 0.7, 1.4)  # how far, in logs, the situations' spreads lie apart
_PRIOR_SCALE = 0.5
# Convolutions are exact to about 1e-16 of their largest value; what is smaller than this is noise.
_FLOOR = 1e-13
_KEPT = 1e-6  # laws with less weight change nothing that is shown


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
        edges = np.append(GRID - _STEP / 2, GRID[-1] + _STEP / 2)  # a point's mass is even over its cell
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
    # Where the level is midway: likelihood of the level in the rest (hitters, GRID), and the density of the
    # level midway by level in the rest and difference (GRID, GRID).
    midway: tuple[Floats, Floats] | None = None


def fit_laws(
    situations: Sequence[FourCounts],
    level: float = 0.90,
    *,
    common: Common | None = None,
    equal_sides: bool = False,
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
    """
    part = _midway if equal_sides else _from_rest
    parts = [part(counts) for counts in situations]
    return [_law(part, weight, level) for part, weight in zip(parts, _weigh(parts, common), strict=True)]


def law_weights(means: Floats, spreads: Floats, above: Floats | None = None) -> Floats:
    """Weights on ``GRID`` that give the mean, over a normal law, of a function linear between its points.

    Exact for every spread, 0 included, so that a narrow law does not jump from one point to the next.

    Parameters
    ----------
    means, spreads
        One entry a law.
    above
        Where given, only the part of each law above this.

    Returns
    -------
    ndarray
        Shape (laws, points). Without ``above`` rows sum to 1: what would lie past the ends is left out.
    """
    ends = np.concatenate([[GRID[0] - _STEP], GRID, [GRID[-1] + _STEP]])
    mean, spread = means[:, np.newaxis], np.maximum(spreads, 1e-9)[:, np.newaxis]

    def first_moment(x: Floats) -> Floats:
        """Mean of max(x - t, 0) over the law up to ``x``."""
        z = (x - mean) / spread
        return np.asarray((x - mean) * ndtr(z) + spread * np.exp(-0.5 * z * z) / np.sqrt(2 * np.pi))

    whole = np.diff(first_moment(ends[np.newaxis]), 2, axis=1) / _STEP
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
    return np.asarray(np.maximum(np.diff(part, 2, axis=1) / _STEP, 0.0) / total)


def _from_rest(counts: FourCounts) -> _Part:
    """Integrate the levels out of one situation, the rest of the record being the base."""
    centre = _pooled(counts.rest_events, counts.rest_exposure)
    rest = _binomial(counts.rest_events, counts.rest_exposure, centre + GRID)
    means, evidence = _evidence(rest)
    # Each level is drawn from the mixture of the laws that the rest of the league leaves open.
    prior_log = np.log(_SPREADS * np.exp(-0.5 * (_SPREADS / _PRIOR_SCALE) ** 2))
    weight = np.exp(evidence + prior_log - (evidence + prior_log).max())
    law = _mixture(means, weight / weight.sum())
    posterior = rest * law
    posterior /= posterior.sum(axis=1, keepdims=True)
    inner = centre + _INNER
    inside = counts.inside(inner)
    size = fft.next_fast_len(len(inner), real=True)
    # likelihood[d] = sum over levels a of posterior[a] x inside[a + d]
    product = np.conj(fft.rfft(posterior, size, axis=1)) * fft.rfft(inside, size, axis=1)
    likelihood = fft.irfft(product, size, axis=1)[:, : len(GRID)]
    likelihood = np.maximum(likelihood / likelihood.max(axis=1, keepdims=True), _FLOOR)
    means, evidence = _evidence(likelihood)
    return _Part(likelihood, posterior, centre, inside, means, evidence)


def _midway(counts: FourCounts) -> _Part:
    """Integrate the levels out of two sides of equal standing."""
    centre, other = (
        _pooled(*pair)
        for pair in ((counts.rest_events, counts.rest_exposure), (counts.events, counts.exposure))
    )
    rest = _binomial(counts.rest_events, counts.rest_exposure, centre + GRID)
    # Both sides tell how much levels differ; each counts half, so that neither is preferred.
    spread = _level_weights(rest, counts.inside(other + GRID))
    inner = centre + _INNER
    inside = counts.inside(inner)
    # A hitter's level is midway between his two sides, each seen from its own league mean.
    midway = GRID[:, np.newaxis] + (GRID - (other - centre)) / 2
    scale = np.sqrt(_SPREADS**2 * (1 + 1 / len(rest)) + _STEP**2)
    law = np.zeros_like(midway)
    for weight, deviation in zip(spread, scale, strict=True):
        if weight > _KEPT:
            law += weight / deviation * np.exp(-0.5 * (midway / deviation) ** 2)
    # likelihood[d] = sum over levels a in the rest of rest[a] x inside[a + d] x law[a, d]
    shifted = sliding_window_view(inside, len(GRID), axis=1)
    likelihood = np.einsum("ha,had,ad->hd", rest, shifted, law)
    likelihood = np.maximum(likelihood / likelihood.max(axis=1, keepdims=True), _FLOOR)
    means, evidence = _evidence(likelihood)
    at = int(np.abs(GRID - (other - centre)).argmin())
    level = rest * law[:, at]
    level /= level.sum(axis=1, keepdims=True)
    return _Part(likelihood, level, centre, inside, means, evidence, (rest, law))


def _pooled(events: Wholes, exposure: Wholes) -> float:
    k, n = float(events.sum()), float(exposure.sum())
    return float(np.log((k + 0.5) / (n - k + 0.5)))


def _level_weights(rest: Floats, inside: Floats) -> Floats:
    """Weigh the spreads of the levels by what the rest and the inside tell, the two in equal parts."""
    told = np.log(_SPREADS) - 0.5 * (_SPREADS / _PRIOR_SCALE) ** 2
    for likelihood in (rest, inside):
        evidence = logsumexp(_evidence(likelihood)[1], axis=0)
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
    return np.asarray(np.exp(logs - logs.max(axis=1, keepdims=True)))


def _evidence(likelihood: Floats) -> tuple[Floats, Floats]:
    """Return a fine grid of means and the log evidence of each mean and spread."""
    rough = _log_evidence(likelihood, _coarse_laws(), len(_COARSE_MEANS)).max(axis=1)
    near = np.flatnonzero(rough > rough.max() - 15)
    gap = _COARSE_MEANS[1] - _COARSE_MEANS[0]
    low, high = _COARSE_MEANS[near[0]] - gap, _COARSE_MEANS[near[-1]] + gap
    means = np.linspace(max(low, _COARSE_MEANS[0]), min(high, _COARSE_MEANS[-1]), _MEANS)
    return means, _log_evidence(likelihood, _laws(means, _SPREADS), len(means))


def _log_evidence(likelihood: Floats, laws: Floats, means: int) -> Floats:
    chance = laws @ likelihood.T
    return np.asarray(np.log(np.maximum(chance, _FLOOR)).sum(axis=1).reshape(means, -1))


def _laws(means: Floats, spreads: Floats) -> Floats:
    mean, spread = (grid.ravel() for grid in np.meshgrid(means, spreads, indexing="ij"))
    return law_weights(mean, spread)


@cache
def _coarse_laws() -> Floats:
    """Where to look first: the same for every situation."""
    return _laws(_COARSE_MEANS, _COARSE_SPREADS)


def _mixture(means: Floats, weight: Floats) -> Floats:
    kept = weight > _KEPT
    mean, spread = (grid[kept] for grid in np.meshgrid(means, _SPREADS, indexing="ij"))
    return np.asarray(weight[kept] @ law_weights(mean, spread))


def _weigh(parts: Sequence[_Part], common: Common | None) -> list[Floats]:
    """Weigh means and spreads of every situation, given what all of them say about each other."""
    if common is not None:
        known = np.exp(-0.5 * (np.log(_SPREADS / max(common.spread, _SPREADS[0])) / 0.05) ** 2)
        scatter, shapes = np.array([common.spread_of_means]), (known / known.sum())[np.newaxis]
        log_prior = np.zeros((1, 1))
    else:
        scatter, shapes = _SPREADS, _spread_laws()
        # Even in the spread itself, not in its logarithm, times the half-normal.
        each = np.log(_SPREADS) - 0.5 * (_SPREADS / _PRIOR_SCALE) ** 2
        log_prior = each[:, np.newaxis] + np.tile(each, len(_WIDTHS))
    own, of_means, total = [], [], log_prior
    for part in parts:
        # Log densities of the situation's mean; the step of its grid is the measure.
        normal = -0.5 * (part.means / scatter[:, np.newaxis]) ** 2 - np.log(scatter)[:, np.newaxis]
        step = np.log(part.means[1] - part.means[0])
        top = part.evidence.max()
        by_scatter = logsumexp(normal[:, :, np.newaxis] + (part.evidence - top), axis=1) + step
        shift = by_scatter.max(axis=1, keepdims=True)
        told = np.log(np.maximum(np.exp(by_scatter - shift) @ shapes.T, 1e-300)) + shift
        own.append(told)
        of_means.append(normal + step)
        total = total + told
    weights = []
    for part, told, normal in zip(parts, own, of_means, strict=True):
        # What everything but this situation says; its own evidence then enters once.
        others = total - told
        law = np.exp(normal).T @ (np.exp(others - others.max()) @ shapes)
        joint = np.exp(part.evidence - part.evidence.max()) * law
        weights.append(joint / joint.sum())
    return weights


def _spread_laws() -> Floats:
    """Laws of the situations' spreads around each typical one, for each width: (laws, spreads)."""
    log = np.log(_SPREADS)
    laws = []
    for width in _WIDTHS:
        away = (log - log[:, np.newaxis]) / max(width, 1e-3)
        law = np.exp(-0.5 * away**2)
        laws.append(law / law.sum(axis=1, keepdims=True))
    return np.concatenate(laws)


def _law(part: _Part, weight: Floats, level: float) -> SplitLaw:
    kept = weight > _KEPT
    mean, spread = (grid[kept] for grid in np.meshgrid(part.means, _SPREADS, indexing="ij"))
    share = weight[kept] / weight[kept].sum()
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
    log_odds = part.centre + _INNER
    # The average hitter's log odds inside are known to about the standard deviation of the mean.
    league = float(share @ mean)
    about = np.sqrt(float(share @ (mean - league) ** 2) + _STEP**2 / 12)
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
    return np.asarray(GRID[place] - _STEP / 2 + _STEP * (chance - below) / (above - below))
