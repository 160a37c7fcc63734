"""Two rates of the same hitters: the posterior of the correlation of their true talents, in numpy.

The model: hitter i's true log odds of the two rates are drawn together from a normal law of two dimensions
with means m1, m2, standard deviations s1, s2 and correlation r; events are binomial at those odds, and given
the talents the two records are independent. The prior is flat on r, half normal with scale 1 on s1 and
s2 (so wide that a hitter one standard deviation above another has up to 2.7 times his odds), and normal
with standard deviation 4 on m1 and m2 (rates from .02 to .98 lie within one).

How it is worked out, without random draws. For each rate and each spread on a grid, a hitter's binomial
likelihood is replaced by the normal one that gives the same posterior mean and variance of his log odds,
worked out by quadrature, and the same total. It is not a normal approximation of the count: a record of 0
in 20 pulls as hard as it truly does. With normal likelihoods the talents and both means integrate in closed
form, which leaves a grid of r, s1, s2. What small counts of widely different hitters still lose by it (the
upper end of an interval came out up to .05 too high) is put right along r, at the most likely spreads, from
the double integral's power series in r. ``tests/test_together.py`` holds the result to the double integral.

Source of the series: Mehler 1866, J. reine angew. Math. 66:161-176; the law of two correlated normal
variables is the product of their own laws times the sum over n of r**n He_n(z1) He_n(z2) / n!.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Records", "Talents", "correlation_posterior", "law_of_rates", "talent_rates"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

SPREAD_SCALE = 1.0
"""Scale of the half normal prior on a spread, in log odds."""
MEAN_SCALE = 4.0
"""Standard deviation of the prior on a mean, in log odds."""

# Quadrature over one hitter's log odds; the nodes' own normal law is taken out of the weights again.
_ROOTS, _WEIGHTS = np.polynomial.hermite_e.hermegauss(15)
_LOG_WEIGHTS = np.log(_WEIGHTS) + _ROOTS**2 / 2
_MEAN_STEPS, _NEWTON_STEPS = 3, 4
_SPREADS = 13  # cells of a spread's grid, over the range that holds its posterior
_SMALLEST, _LARGEST = 1e-3, 6.0  # where a spread is looked for
_CELLS = 64  # of the correlation's grid, over the range that holds its posterior
_BLOCK = 256  # hitters at once: the arrays stay in the processor's cache
_DROP = 10.0  # log density below the highest at which a grid may end
_ZOOMS = 6
_TERMS, _CONVERGES = 30, 0.6  # of the power series; the product of both reliabilities up to which it is used
_POINTS = 128  # of the posterior, over which a hitter's talents are averaged


@dataclass(frozen=True, slots=True)
class Records:
    """One rate of all hitters on a grid of spreads.

    Attributes
    ----------
    spreads
        Shape (spreads,): the grid, in log odds, equal steps.
    centre, precision
        Shape (spreads, hitters): each hitter's normal likelihood of the log odds.
    correction
        Shape (spreads,): log of the true likelihood over that of the normal ones, and of the prior.
    evidence
        Shape (spreads,): log likelihood of the spread at its best mean.
    means
        Shape (spreads,): that best mean.
    """

    spreads: Floats
    centre: Floats
    precision: Floats
    correction: Floats
    evidence: Floats
    means: Floats


@dataclass(frozen=True, slots=True)
class Talents:
    """The posterior of the correlation, and what it was made from.

    Attributes
    ----------
    correlation, density
        Midpoints of equal cells inside -1 to 1, and the posterior density there (0 outside them).
    weight
        Shape (first spreads, second spreads, correlations), sum 1.
    first, second
        The two rates.
    gains
        For each rate, twice the log likelihood of the best spread over that of no spread.
    """

    correlation: Floats
    density: Floats
    weight: Floats
    first: Records
    second: Records
    gains: tuple[float, float]


def correlation_posterior(k1: Wholes, n1: Wholes, k2: Wholes, n2: Wholes) -> Talents:
    """Work out the posterior of the correlation.

    Parameters
    ----------
    k1, n1, k2, n2
        Events and exposures of the two rates, shape (hitters,), exposures above 0.
    """
    first, gain1 = _one_rate(k1, n1)
    second, gain2 = _one_rate(k2, n2)
    # A first look along both grids of spreads shows where the correlation can be: with a spread near zero
    # anything can, even where the most likely spread leaves it little room.
    best1, best2 = int(_marginal(first).argmax()), int(_marginal(second).argmax())
    ends = np.tanh(np.linspace(-5, 5, 201))
    pairs = {(i, best2) for i in range(_SPREADS)} | {(best1, j) for j in range(_SPREADS)}
    look = np.max([_log_posterior(first, second, i, j, ends) for i, j in pairs], axis=0)
    inside = np.flatnonzero(look > look.max() - _DROP)
    low, high = ends[max(inside[0] - 1, 0)], ends[min(inside[-1] + 1, len(ends) - 1)]
    low, high = (end if abs(end) < ends[-1] else float(np.sign(end)) for end in (low, high))
    grid = low + (high - low) * (np.arange(_CELLS) + 0.5) / _CELLS
    log_weight = np.array(
        [[_log_posterior(first, second, i, j, grid) for j in range(_SPREADS)] for i in range(_SPREADS)]
    )
    likely = np.exp(log_weight - log_weight.max()).sum(axis=2)
    best = np.unravel_index(int(likely.argmax()), likely.shape)
    log_weight += _left_over((k1, n1), (k2, n2), first, second, int(best[0]), int(best[1]), grid)
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    density = weight.sum(axis=(0, 1)) * _CELLS / (high - low)
    return Talents(grid, density, weight, first, second, (gain1, gain2))


def _marginal(rate: Records) -> Floats:
    """Log posterior of a rate's spread when the other rate is not looked at, the mean integrated roughly."""
    return np.asarray(rate.evidence - 0.5 * (rate.spreads / SPREAD_SCALE) ** 2)


def _one_rate(k: Wholes, n: Wholes) -> tuple[Records, float]:
    """Return a rate on the grid of spreads that holds its posterior, and what a spread gains over none."""
    pooled = (k.sum() + 0.5) / (n.sum() + 1)
    centre = float(np.log(pooled / (1 - pooled)))
    none = float(k.sum() * np.log(pooled) + (n - k).sum() * np.log1p(-pooled))
    low, high, best = 0.0, _LARGEST, none
    for _ in range(_ZOOMS):
        step = (high - low) / _SPREADS
        rate = _on_grid(k, n, np.linspace(low + step / 2, high - step / 2, _SPREADS), centre)
        best = max(best, float(rate.evidence.max()))
        likely = _marginal(rate)
        inside = np.flatnonzero(likely > likely.max() - _DROP)
        first, last = inside[0], inside[-1]
        if last - first >= _SPREADS // 2:
            break
        low, high = max(low + (first - 0.5) * step, 0.0), low + (last + 1.5) * step
    return rate, 2 * (best - none)


def _on_grid(k: Wholes, n: Wholes, spreads: Floats, start: float) -> Records:
    """Match normal likelihoods at each spread, at the mean that suits it best."""
    s = np.maximum(spreads, _SMALLEST)[:, np.newaxis]
    mean = np.full_like(s, start)
    mode = np.full((len(s), len(k)), start)
    for _ in range(_MEAN_STEPS):  # first by the curve at the mode, which costs little, then by quadrature
        mode = _mode(k, n, s, mean, mode)
        chance = 1 / (1 + np.exp(-mode))
        precision = n * chance * (1 - chance)
        mean = _best_mean(s, mean, mode + (k - n * chance) / precision, precision)
    centre, precision, _ = _matched(k, n, s, mean, _mode(k, n, s, mean, mode))
    mean = _best_mean(s, mean, centre, precision)
    centre, precision, evidence = _matched(k, n, s, mean, _mode(k, n, s, mean, mode))
    variance = s**2 + 1 / precision
    normal = -0.5 * (np.log(2 * np.pi * variance) + (centre - mean) ** 2 / variance)
    prior = -0.5 * (spreads / SPREAD_SCALE) ** 2
    return Records(
        s[:, 0],
        centre,
        precision,
        (evidence - normal).sum(axis=1) + prior,
        evidence.sum(axis=1),
        mean[:, 0],
    )


def _best_mean(s: Floats, mean: Floats, centre: Floats, precision: Floats) -> Floats:
    """Move the mean of all to where the normal likelihoods put it; shape (spreads, 1)."""
    pull = 1 / (s**2 + 1 / precision)
    moved = (pull * (centre - mean)).sum(axis=1, keepdims=True) - mean / MEAN_SCALE**2
    return np.asarray(mean + moved / (pull.sum(axis=1, keepdims=True) + 1 / MEAN_SCALE**2))


def _mode(k: Wholes, n: Wholes, s: Floats, mean: Floats, start: Floats) -> Floats:
    """Return the mode of each hitter's posterior by Newton's steps; its log is concave."""
    mode = start
    for _ in range(_NEWTON_STEPS):
        chance = 1 / (1 + np.exp(-mode))
        curve = n * chance * (1 - chance) + 1 / s**2
        mode = mode + np.clip((k - n * chance - (mode - mean) / s**2) / curve, -2.0, 2.0)
    return mode


def _matched(k: Wholes, n: Wholes, s: Floats, mean: Floats, mode: Floats) -> tuple[Floats, Floats, Floats]:
    """Return the normal likelihoods' centres and precisions, and the log evidence of each record.

    All of shape (spreads, hitters). The quadrature lies around each posterior's mode.
    """
    chance = 1 / (1 + np.exp(-mode))
    curve = n * chance * (1 - chance) + 1 / s**2
    width = 1 / np.sqrt(curve)
    x = mode[..., np.newaxis] + width[..., np.newaxis] * _ROOTS
    away = (x - mean[..., np.newaxis]) / s[..., np.newaxis]
    # Twice as fast as logaddexp, and its rounding error of 1e-16 a swing is nothing here.
    softened = np.log(1 + np.exp(x))
    log_term = k[:, np.newaxis] * x - n[:, np.newaxis] * softened - away**2 / 2 + _LOG_WEIGHTS
    top = log_term.max(axis=-1, keepdims=True)
    term = np.exp(log_term - top)
    total = term.sum(axis=-1)
    shift = (term @ _ROOTS) / total
    variance = width**2 * ((term @ _ROOTS**2) / total - shift**2)
    average = mode + width * shift
    evidence = np.log(total * width / s) + top[..., 0] - 0.5 * np.log(2 * np.pi)
    precision = np.maximum(1 / variance - 1 / s**2, 1e-9 / s**2)
    centre = average + (average - mean) / (precision * s**2)
    return centre, precision, evidence


def _log_posterior(first: Records, second: Records, i: int, j: int, correlation: Floats) -> Floats:
    """Log posterior at one pair of spreads and many correlations, both means integrated; up to a constant."""
    s1, s2 = first.spreads[i], second.spreads[j]
    origin1, origin2 = first.means[i], second.means[j]
    c = correlation * s1 * s2
    sums, logs = np.zeros((10, len(c))), np.zeros(len(c))
    for start in range(0, first.centre.shape[1], _BLOCK):
        part = slice(start, start + _BLOCK)
        y1, y2 = first.centre[i, part] - origin1, second.centre[j, part] - origin2
        a, b = s1**2 + 1 / first.precision[i, part], s2**2 + 1 / second.precision[j, part]
        determinant = a * b - c[:, np.newaxis] ** 2  # (correlations, hitters)
        one = np.ones_like(a)
        columns = np.stack([b, a, one, b * y1, a * y2, y1, y2, b * y1**2, a * y2**2, y1 * y2], axis=1)
        sums += ((1 / determinant) @ columns).T
        logs += np.log(determinant).sum(axis=1)
    p11, p22, p12 = sums[0] + 1 / MEAN_SCALE**2, sums[1] + 1 / MEAN_SCALE**2, -c * sums[2]
    h1 = sums[3] - c * sums[6] - origin1 / MEAN_SCALE**2
    h2 = sums[4] - c * sums[5] - origin2 / MEAN_SCALE**2
    square = sums[7] + sums[8] - 2 * c * sums[9] + (origin1**2 + origin2**2) / MEAN_SCALE**2
    left = p11 * p22 - p12**2
    explained = (p22 * h1**2 + p11 * h2**2 - 2 * p12 * h1 * h2) / left
    total = logs + square - explained + np.log(left)
    return np.asarray(first.correction[i] + second.correction[j] - total / 2)


def _left_over(
    counts1: tuple[Wholes, Wholes],
    counts2: tuple[Wholes, Wholes],
    first: Records,
    second: Records,
    i: int,
    j: int,
    correlation: Floats,
) -> Floats:
    """Log of the true likelihood over that of the normal ones, along the correlation, at one pair of spreads.

    Only for hitters whose records say so little that the series converges at once; with more the normal
    likelihood is right anyway.
    """
    # The talents in units of their spread: a and b are the variances of the records, u and v their centres.
    a = 1 + 1 / (first.precision[i] * first.spreads[i] ** 2)
    b = 1 + 1 / (second.precision[j] * second.spreads[j] ** 2)
    u = (first.centre[i] - first.means[i]) / first.spreads[i]
    v = (second.centre[j] - second.means[j]) / second.spreads[j]
    little = 1 / (a * b) < _CONVERGES
    terms = _series(*counts1, first, i) * _series(*counts2, second, j)
    powers = correlation ** np.arange(_TERMS)[:, np.newaxis]
    true = np.log(np.maximum(terms[little] @ powers, 1e-9))
    a, b, u, v = (part[little, np.newaxis] for part in (a, b, u, v))
    square = (b * u**2 + a * v**2 - 2 * correlation * u * v) / (a * b - correlation**2)
    normal = -0.5 * (np.log1p(-(correlation**2) / (a * b)) + square - u**2 / a - v**2 / b)
    return np.asarray((true - normal).sum(axis=0))


def _series(k: Wholes, n: Wholes, rate: Records, i: int) -> Floats:
    """Posterior means of the normalised Hermite polynomials of each talent, shape (hitters, terms)."""
    s, mean = rate.spreads[i], rate.means[i]
    mode = _mode(k, n, np.array([[s]]), np.array([[mean]]), np.full((1, len(k)), mean))[0]
    chance = 1 / (1 + np.exp(-mode))
    x = mode[:, np.newaxis] + _ROOTS / np.sqrt(n * chance * (1 - chance) + 1 / s**2)[:, np.newaxis]
    z = (x - mean) / s
    log_term = k[:, np.newaxis] * x - n[:, np.newaxis] * np.log(1 + np.exp(x)) - z**2 / 2 + _LOG_WEIGHTS
    share = np.exp(log_term - log_term.max(axis=1, keepdims=True))
    share /= share.sum(axis=1, keepdims=True)
    last, now, means = np.zeros_like(z), np.ones_like(z), []
    for order in range(_TERMS):
        means.append((share * now).sum(axis=1))
        last, now = now, (z * now - np.sqrt(order) * last) / np.sqrt(order + 1)
    return np.stack(means, axis=1)


def talent_rates(talents: Talents) -> tuple[Floats, Floats]:
    """Return the posterior means of every hitter's two true rates, each of shape (hitters,).

    Each record is pulled toward the mean of all and toward what the other record says; spreads and
    correlation are integrated over a fixed choice of points that stand for equal shares of the posterior.
    """
    shares = (np.arange(_POINTS) + 0.5) / _POINTS
    chosen = np.searchsorted(np.cumsum(talents.weight.ravel()), shares).clip(max=talents.weight.size - 1)
    first, second = talents.first, talents.second
    total = np.zeros((2, first.centre.shape[1]))
    for i, j, place in zip(*np.unravel_index(chosen, talents.weight.shape), strict=True):
        s1, s2 = first.spreads[i], second.spreads[j]
        c = talents.correlation[place] * s1 * s2
        y = np.stack([first.centre[i], second.centre[j]])
        a, b = s1**2 + 1 / first.precision[i], s2**2 + 1 / second.precision[j]
        inverse = np.array([[b, -c + 0 * a], [-c + 0 * a, a]]) / (a * b - c**2)  # (2, 2, hitters)
        covariance = np.linalg.inv(inverse.sum(axis=2) + np.eye(2) / MEAN_SCALE**2)
        mean = covariance @ np.einsum("pqi,qi->p", inverse, y)
        law = np.array([[s1**2, c], [c, s2**2]])
        gain = np.einsum("pq,qri->pri", law, inverse)
        talent = mean[:, np.newaxis] + np.einsum("pri,ri->pi", gain, y - mean[:, np.newaxis])
        kept = np.eye(2)[:, :, np.newaxis] - gain
        # Uncertainty of the talent when the means are known, and what the means add.
        variance = np.einsum("pri,rp->pi", kept, law) + np.einsum("pri,rq,pqi->pi", kept, covariance, kept)
        x = talent[..., np.newaxis] + np.sqrt(variance)[..., np.newaxis] * _ROOTS
        total += (1 / (1 + np.exp(-x))) @ _WEIGHTS / _WEIGHTS.sum()
    return total[0] / _POINTS, total[1] / _POINTS


def law_of_rates(talents: Talents) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Return for each rate, at the posterior mean of its spread: mean, standard deviation, mean of p (1 - p).

    All are of the true rates across hitters, on the scale of rates.
    """
    found = []
    for rate, others in ((talents.first, (1, 2)), (talents.second, (0, 2))):
        share = talents.weight.sum(axis=others)
        x = share @ rate.means + (share @ rate.spreads) * _ROOTS
        p, weight = 1 / (1 + np.exp(-x)), _WEIGHTS / _WEIGHTS.sum()
        mean, square = float(weight @ p), float(weight @ p**2)
        found.append((mean, float(np.sqrt(max(square - mean**2, 0.0))), mean - square))
    return found[0], found[1]
