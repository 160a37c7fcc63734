"""What hitters faced: pitchers, staffs and parks as crossed random effects on the log odds.

The model: the log odds of an attempt are the hitter's own, plus the effect of each thing faced (the pitcher,
his club's staff, the park, ...). Effects of one kind are normal around 0; hitters are normal around a mean
that may follow a line in their log exposure. How far each kind scatters is not known and is integrated over.

How: at given standard deviations the effects' mode is found by Newton's steps (penalised iteratively
reweighted least squares). Hitters meet only through what they face, so their block is diagonal and is
eliminated first; what is left is a dense system as large as the number of pitchers, staffs and parks.
Laplace's approximation gives the marginal likelihood of the standard deviations. They are placed on a
quasi-random grid around its maximum, each point weighted by the likelihood itself; from each some draws of
all faced effects together are taken. Everything that follows is worked out once a draw: so the doubt about
effects that many hitters share stays shared.

When it fails: where leagues within the table never meet, only the prior says how far apart their
hitters and their pitchers are; effects that change within the table.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hitlab.estimates.threads import one_thread

__all__ = ["Crossed", "Drawn", "Mode", "fit_crossed", "fit_mode", "solved"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_FACED_SCALE = 0.5  # half-normal prior of each standard deviation, on the log odds: .5 is e^.5 = 1.65 in odds
_HITTER_SCALE = 1.0
_SLOPE_DEVIATION = 0.5  # of the log odds, for one standard deviation of log exposure
_NO_PRIOR = 1e-6  # precision of the mean
_MOST_STEPS, _DONE = 30, 1e-6
_MOST_SCORINGS, _SCORED = 12, 0.15  # a Fisher step that is this short ends the search: the grid does the rest
_WIDER = 1.25  # the grid against the normal law at the maximum
_LEAST_INFORMATION = 1.0  # of the log of a standard deviation: nothing says more than that it is small
_NODES = {400: 32, 1_000: 16, sys.maxsize: 8}  # points of the grid, by the most hitters and things faced
_BINS = 16  # of the effects that the league faced
_SMALL = 400  # rows of a system below which numpy alone solves it sooner than scipy.linalg is imported


@dataclass(frozen=True, slots=True)
class Crossed:
    """Cells: what each hitter did against each combination of what is faced.

    Attributes
    ----------
    hitter
        Shape (cells,): whole numbers from 0.
    levels
        One array a kind of thing faced, shape (cells,): which one; -1 where it is not known.
    sizes
        How many there are of each kind.
    events, exposure
        Shape (cells,).
    hitters
        How many hitters there are.
    """

    hitter: Wholes
    levels: tuple[Wholes, ...]
    sizes: tuple[int, ...]
    events: Floats
    exposure: Floats
    hitters: int

    @property
    def of_hitters(self) -> tuple[Floats, Floats]:
        """Events and exposure by hitter."""
        return self.sum_over(self.events), self.sum_over(self.exposure)

    def sum_over(self, values: Floats) -> Floats:
        """Sum values of cells by hitter."""
        return np.bincount(self.hitter, values, self.hitters).astype(np.float64)

    def effect(self, effects: Floats) -> Floats:
        """Return the sum of the faced effects in every cell; those not known are taken for 0."""
        total, start = np.zeros(len(self.hitter)), 0
        for level, size in zip(self.levels, self.sizes, strict=True):
            total += np.append(effects[start : start + size], 0.0)[level]
            start += size
        return total


class _System:
    """The normal equations of all cells; where each sum goes is worked out once."""

    def __init__(self, cells: Crossed) -> None:
        self.cells = cells
        self.starts = np.concatenate([[0], np.cumsum(cells.sizes)]).astype(np.int64)
        self.faced = int(self.starts[-1])
        _, exposure = cells.of_hitters
        log_n = np.log(np.maximum(exposure, 1.0))
        there = exposure > 0
        deviation = log_n[there].std()
        z = np.where(there, (log_n - log_n[there].mean()) / max(deviation, 0.5), 0.0)
        self.design = np.column_stack([np.ones(cells.hitters), z])
        self.own = self.design.shape[1]
        # One place more of each kind for what is not known: it is summed there and thrown away.
        self.wide = [size + 1 for size in cells.sizes]
        self.at = [np.where(x < 0, s, x) for x, s in zip(cells.levels, cells.sizes, strict=True)]
        self.with_hitter = [cells.hitter * w + x for x, w in zip(self.at, self.wide, strict=True)]
        self.pairs = {
            (i, j): self.at[i] * self.wide[j] + self.at[j]
            for i in range(len(self.at))
            for j in range(i + 1, len(self.at))
        }

    def by_level(self, values: Floats) -> Floats:
        """Sum values of cells over each thing faced."""
        parts = [np.bincount(x, values, wide)[:-1] for x, wide in zip(self.at, self.wide, strict=True)]
        return np.concatenate(parts) if parts else np.zeros(0)

    def matrices(self, weight: Floats) -> tuple[Floats, Floats, Floats]:
        """Return the weighted products: hitters' diagonal, hitters by the rest, the rest by the rest.

        Of the last the lower triangle, column by column as LAPACK takes it.
        """
        cells, m = self.cells, self.faced
        diagonal = cells.sum_over(weight)
        beside = np.empty((cells.hitters, m + self.own))
        rest = np.zeros((m + self.own, m + self.own))
        for i, wide in enumerate(self.wide):
            here = slice(self.starts[i], self.starts[i + 1])
            beside[:, here] = np.bincount(self.with_hitter[i], weight, cells.hitters * wide).reshape(
                -1, wide
            )[:, :-1]
        rest[np.diag_indices(m)] = self.by_level(weight)
        for (i, j), place in self.pairs.items():
            a, b = (slice(self.starts[n], self.starts[n + 1]) for n in (i, j))
            block = np.bincount(place, weight, self.wide[i] * self.wide[j])
            rest[a, b] = block.reshape(self.wide[i], self.wide[j])[:-1, :-1]
        beside[:, m:] = diagonal[:, np.newaxis] * self.design
        rest[:, m:] = (self.design.T @ beside).T
        return diagonal, beside, rest.T


@dataclass(frozen=True, slots=True)
class Mode:
    """The effects' mode at some standard deviations, and the normal law around it.

    Attributes
    ----------
    deviations
        Shape (1 + kinds,): of hitters, then of each kind of thing faced.
    hitters
        Shape (hitters,): deviations from the line.
    rest
        Shape (faced + 2,): faced effects, then mean and slope.
    factor
        Lower Cholesky factor of the precision of ``rest``, hitters integrated.
    diagonal, beside
        What joins the hitters to the rest: precision of each hitter given the rest, and the products.
    log_marginal
        Laplace's approximation, up to a constant.
    """

    deviations: Floats
    hitters: Floats
    rest: Floats
    factor: Floats
    diagonal: Floats
    beside: Floats
    log_marginal: float

    def given(self, rest: Floats) -> Floats:
        """Return the hitters' deviations that are expected where the rest is known."""
        return self.hitters - (self.beside @ (rest - self.rest)) / self.diagonal


def solved(factor: Floats, right: Floats, *, transposed: bool = False) -> Floats:
    """Solve with a lower triangular factor, or with its transpose."""
    if len(factor) <= _SMALL:
        return np.asarray(np.linalg.solve(factor.T if transposed else factor, right), dtype=np.float64)
    from scipy.linalg import solve_triangular

    return np.asarray(solve_triangular(factor, right, lower=True, trans="T" if transposed else "N"))


def _factor(lower: Floats) -> Floats:
    """Return the lower Cholesky factor of a matrix whose lower triangle is given; it may be used up."""
    if len(lower) <= _SMALL:
        return np.asarray(np.linalg.cholesky(lower), dtype=np.float64)
    from scipy.linalg import cholesky

    return np.asarray(cholesky(lower, lower=True, overwrite_a=True, check_finite=False))


def _inverse(factor: Floats) -> Floats:
    """Return the inverse of the matrix whose lower Cholesky factor is given."""
    if len(factor) <= _SMALL:
        return whole_solved(factor, np.eye(len(factor)))
    from scipy.linalg.lapack import dpotri

    lower = np.tril(dpotri(factor, lower=1)[0])
    return np.asarray(lower + np.tril(lower, -1).T)


def whole_solved(factor: Floats, right: Floats) -> Floats:
    """Solve with the matrix whose lower Cholesky factor is given."""
    if len(factor) <= _SMALL:
        return solved(factor, solved(factor, right), transposed=True)
    from scipy.linalg import cho_solve

    return np.asarray(cho_solve((factor, True), right))


def _mode(system: _System, deviations: Floats, hitters: Floats, rest: Floats) -> Mode:
    from scipy.special import expit

    cells, m = system.cells, system.faced
    own = deviations[0] ** -2.0
    prior = np.concatenate(
        [
            np.repeat(deviations[1:] ** -2.0, cells.sizes),
            [_NO_PRIOR, _SLOPE_DEVIATION**-2.0],
        ]
    )
    hitters, rest = hitters.copy(), rest.copy()
    value, found = -np.inf, False
    step_h, step_r = np.zeros_like(hitters), np.zeros_like(rest)
    for _ in range(_MOST_STEPS):
        for _ in range(20):  # a step that leads downhill is halved
            eta = (hitters + system.design @ rest[m:])[cells.hitter] + cells.effect(rest[:m])
            log_likelihood = float(cells.events @ eta - cells.exposure @ np.logaddexp(0, eta))
            now = log_likelihood - 0.5 * (own * (hitters @ hitters) + prior @ rest**2)
            if now >= value - 1e-9 * abs(value):
                break
            step_h, step_r = step_h / 2, step_r / 2
            hitters, rest = hitters - step_h, rest - step_r
        value = now
        p = expit(eta)
        left = cells.events - cells.exposure * p
        diagonal, beside, within = system.matrices(cells.exposure * p * (1 - p))
        diagonal = diagonal + own
        # A matrix times its own transpose takes half the time of another product.
        half = beside / np.sqrt(diagonal)[:, np.newaxis]
        within[np.diag_indices_from(within)] += prior
        within -= half.T @ half
        factor = _factor(within)
        if found:
            break
        by_hitter = cells.sum_over(left)
        gradient_h = by_hitter - own * hitters
        gradient_r = np.concatenate([system.by_level(left), system.design.T @ by_hitter]) - prior * rest
        step_r = whole_solved(factor, gradient_r - beside.T @ (gradient_h / diagonal))
        step_h = (gradient_h - beside @ step_r) / diagonal
        gain = gradient_h @ step_h + gradient_r @ step_r
        # Newton's error is squared by the step just taken, and the matrices are those of the step before.
        found = gain < 1e-3
        if gain < _DONE:
            break
        hitters, rest = hitters + step_h, rest + step_r
    log_marginal = (
        value
        - cells.hitters * np.log(deviations[0])
        - np.repeat(np.log(deviations[1:]), cells.sizes).sum()
        - 0.5 * np.log(diagonal).sum()
        - np.log(np.diag(factor)).sum()
    )
    return Mode(deviations, hitters, rest, factor, diagonal, beside, float(log_marginal))


def _log_prior(deviations: Floats) -> float:
    """Half-normal on each standard deviation."""
    return float(-0.5 * ((deviations / _scales(len(deviations))) ** 2).sum())


def _scales(number: int) -> Floats:
    return np.array([_HITTER_SCALE, *[_FACED_SCALE] * (number - 1)])


def _scoring(system: _System, mode: Mode) -> tuple[Floats, Floats]:
    """Return gradient and expected information of the log posterior by the logs of the deviations."""
    s2 = mode.deviations**2
    covariance = _inverse(mode.factor)
    joined = mode.beside / mode.diagonal[:, np.newaxis]
    # Of the hitters' own covariance, joined @ covariance @ joined.T and its diagonal, only traces are needed.
    seen = (joined.T @ joined) @ covariance
    narrow = joined / np.sqrt(mode.diagonal)[:, np.newaxis]
    weighted = narrow.T @ narrow
    of_hitters = (
        (seen * seen.T).sum() + 2 * (weighted * covariance).sum() + (mode.diagonal**-2.0).sum(),
        np.trace(seen) + (1 / mode.diagonal).sum(),
    )
    blocks = [slice(a, b) for a, b in zip(system.starts[:-1], system.starts[1:], strict=True)]
    squares = [mode.hitters @ mode.hitters, *(mode.rest[b] @ mode.rest[b] for b in blocks)]
    traces = [of_hitters[1], *(np.trace(covariance[b, b]) for b in blocks)]
    q = np.array([len(joined), *system.cells.sizes], dtype=float)
    both = np.empty((len(q), len(q)))
    both[0, 0] = of_hitters[0]
    for i, a in enumerate(blocks, start=1):
        both[0, i] = both[i, 0] = (covariance[:, a] * seen[:, a]).sum()
        for j, b in enumerate(blocks, start=1):
            both[i, j] = (covariance[a, b] ** 2).sum()
    traces_, squares_ = np.array(traces), np.array(squares)
    scale = _scales(len(q))
    gradient = (squares_ + traces_) / s2 - q + 1 - s2 / scale**2
    information = 2 * (np.diag(q - 2 * traces_ / s2) + both / np.outer(s2, s2))
    information[np.diag_indices_from(information)] += 2 * s2 / scale**2
    return gradient, information


def _uniform(points: int, axes: int) -> Floats:
    """Return quasi-random points of the unit cube that are symmetric around its middle, the first there."""
    # Multiples of powers of the root of x^(axes + 1) = x + 1, which generalises the golden ratio (from
    # memory: M. Roberts 2018). scipy's own sequences cost more to import than everything here to work out.
    root = 2.0
    for _ in range(40):
        root = (1 + root) ** (1 / (axes + 1))
    step = root ** -np.arange(1.0, axes + 1)
    u = (0.5 + np.arange(1, points // 2 + 1)[:, np.newaxis] * step) % 1
    return np.vstack([np.full((1, axes), 0.5), u, 1 - u])


@dataclass(frozen=True, slots=True)
class _Axis:
    """Where the grid looks along one standard deviation: the chance to be below, at some points."""

    at: Floats
    below: Floats

    def log_density(self, deviation: float) -> float:
        place = int(np.clip(np.searchsorted(self.at, deviation) - 1, 0, len(self.at) - 2))
        rise = self.below[place + 1] - self.below[place]
        return float(np.log(rise / (self.at[place + 1] - self.at[place])))


def _axis(centre: float, error: float) -> _Axis:
    """Return an even mixture of two laws, of which one or the other has the posterior's shape.

    Well away from 0 the logarithm of a standard deviation is nearly normal; near 0 the deviation itself is,
    folded there.

    Parameters
    ----------
    centre
        The likeliest, by its logarithm.
    error
        Of the logarithm.
    """
    error = _WIDER * error
    at = np.linspace(1e-3, min(centre * np.exp(4 * error), 5.0), 2_001)
    log_normal = np.exp(-0.5 * (np.log(at / centre) / error) ** 2) / at
    middle, width = centre * (1 - min((error / _WIDER) ** 2, 1.0)), centre * error
    folded = np.exp(-0.5 * ((at - middle) / width) ** 2) + np.exp(-0.5 * ((at + middle) / width) ** 2)
    density = log_normal / log_normal.sum() + folded / folded.sum() + 1e-9 / len(at)
    below = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2)])
    return _Axis(at, below / below[-1])


def fit_mode(cells: Crossed) -> tuple[_System, Mode, Floats]:
    """Find the likeliest standard deviations, and the effects' mode there.

    Returns
    -------
    system
        What the grid goes on with.
    mode
        At the maximum of the posterior of the logarithms of the deviations, near enough.
    information
        Expected, of these logarithms.
    """
    if sum(cells.sizes) > _SMALL:
        import scipy.linalg  # noqa: F401 - loaded later, its library would not be kept to one thread

    with one_thread():
        return _fit_mode(cells)


def _fit_mode(cells: Crossed) -> tuple[_System, Mode, Floats]:
    system = _System(cells)
    k, n = cells.of_hitters
    pooled = (k.sum() + 0.5) / (n.sum() + 1)
    rest = np.zeros(system.faced + system.own)
    rest[system.faced] = np.log(pooled / (1 - pooled))
    logs = np.log(np.array([0.25, *[0.15] * len(cells.sizes)]))
    mode = _mode(system, np.exp(logs), np.zeros(cells.hitters), rest)
    for _ in range(_MOST_SCORINGS):
        gradient, information = _scoring(system, mode)
        values, vectors = np.linalg.eigh(information)
        values = np.maximum(values, _LEAST_INFORMATION)
        information = (vectors * values) @ vectors.T
        step = np.clip(np.linalg.solve(information, gradient), -1.0, 1.0)
        # What has no spread drifts down for long; there the grid's own width does the rest.
        if float(step @ information @ step) < _SCORED**2:
            break
        logs = np.clip(logs + step, np.log(5e-3), np.log(3.0))
        mode = _mode(system, np.exp(logs), mode.hitters, mode.rest)
    return system, mode, information


@dataclass(frozen=True, slots=True)
class Drawn:
    """What is known of the faced effects, as draws, and what each makes of the hitters' records.

    Attributes
    ----------
    weights
        Shape (draws,), sum 1.
    effects
        Shape (draws, faced): all kinds one after the other, measured from the league's mean.
    deviations
        Shape (draws, 1 + kinds).
    events, exposure
        Shape (draws, hitters): the record against the whole league's pitching that says of a hitter's rate
        what his record against the pitching that he faced says.
    log_odds
        Shape (draws, hitters): mean effect that he faced against the league's mean.
    rate
        Shape (draws, hitters): expected rate against what he faced, less that against what the league did.
    useful
        How many points of the grid carry weight: 1 over the sum of squared weights.
    """

    weights: Floats
    effects: Floats
    deviations: Floats
    events: Floats
    exposure: Floats
    log_odds: Floats
    rate: Floats
    useful: float

    def mean_of(self, values: Floats) -> Floats:
        """Return the mean over the draws."""
        return np.asarray(self.weights @ values)

    def error_of(self, values: Floats) -> Floats:
        """Return the standard deviation over the draws."""
        return np.sqrt(self.weights @ (values - self.weights @ values) ** 2)


def fit_crossed(cells: Crossed, draws: int = 64, found: tuple[_System, Mode, Floats] | None = None) -> Drawn:
    """Fit the crossed effects, and draw from what is known of them.

    Parameters
    ----------
    cells
        What was counted.
    draws
        How many draws of all faced effects together; an even number.
    found
        What :func:`fit_mode` returned, where it has been asked already.
    """
    with one_thread():
        return _fit_crossed(cells, draws, *(found or _fit_mode(cells)))


def _fit_crossed(cells: Crossed, draws: int, system: _System, best: Mode, information: Floats) -> Drawn:
    error = np.sqrt(np.diag(np.linalg.inv(information)))
    axes = [_axis(centre, each) for centre, each in zip(best.deviations, error, strict=True)]
    nodes = next(nodes for most, nodes in _NODES.items() if system.faced + cells.hitters <= most)
    uniform = _uniform(nodes, len(best.deviations))
    placed = [np.interp(u, axis.below, axis.at) for u, axis in zip(uniform.T, axes, strict=True)]
    modes, log_weights = [], []
    for deviations in np.column_stack(placed):
        mode = _mode(system, deviations, best.hitters, best.rest)
        modes.append(mode)
        density = sum(axis.log_density(s) for axis, s in zip(axes, deviations, strict=True))
        log_weights.append(mode.log_marginal + _log_prior(deviations) - density)
    weight = np.exp(np.array(log_weights) - max(log_weights))
    weight /= weight.sum()
    useful = float(1 / (weight @ weight))
    # Systematic: pairs of opposite draws go to the points by their weights.
    pairs = max(draws // 2, 1)
    chosen = np.searchsorted(np.cumsum(weight), (np.arange(pairs) + 0.5) / pairs).clip(max=len(modes) - 1)
    rng = np.random.default_rng(11)
    rests, given, drawn = [], [], []
    for place in chosen:
        mode = modes[place]
        off = solved(mode.factor, rng.standard_normal(len(mode.rest)), transposed=True)
        for rest in (mode.rest + off, mode.rest - off):
            rests.append(rest[: system.faced])
            given.append(mode.given(rest) + system.design @ rest[system.faced :])
            drawn.append(mode.deviations)
    return _drawn(cells, rests, given, np.array(drawn), useful)


def _drawn(
    cells: Crossed, rests: Sequence[Floats], own: Sequence[Floats], deviations: Floats, useful: float
) -> Drawn:
    from scipy.special import expit

    n = cells.exposure
    share = n / n.sum()
    effects, events, exposure, log_odds, rate = [], [], [], [], []
    seen_events, total = cells.of_hitters
    for rest, theta in zip(rests, own, strict=True):
        effect = cells.effect(rest)
        mean = share @ effect
        low, high = effect.min(), effect.max()
        place = ((effect - low) * (_BINS * (1 - 1e-9) / max(high - low, 1e-12))).astype(np.int64)
        mass = np.bincount(place, share, _BINS)
        centre = np.bincount(place, share * effect, _BINS)[mass > 0] / mass[mass > 0]
        league = expit(theta[:, np.newaxis] + centre)
        q = league @ mass[mass > 0]
        slope = (league * (1 - league)) @ mass[mass > 0] / (q * (1 - q))  # of log odds q by log odds theta
        p = expit(theta[cells.hitter] + effect)
        expected = n * p
        weight = expected * (1 - p)
        information, expected_events = cells.sum_over(weight), cells.sum_over(expected)
        score = seen_events - expected_events
        size = information / (slope**2 * q * (1 - q))
        size = np.where(total > 0, size, 0.0)
        k = np.clip(size * q + np.where(total > 0, score / slope, 0.0), 0.0, size)
        faced = cells.sum_over(weight * (effect - mean))
        seen = np.maximum(total, 1e-300)
        effects.append(np.concatenate([rest]))
        events.append(k)
        exposure.append(size)
        log_odds.append(np.where(total > 0, faced / np.maximum(information, 1e-300), 0.0))
        rate.append(np.where(total > 0, expected_events / seen - q, 0.0))
    return Drawn(
        np.full(len(rests), 1 / len(rests)),
        np.array(effects),
        deviations,
        np.array(events),
        np.array(exposure),
        np.array(log_odds),
        np.array(rate),
        useful,
    )
