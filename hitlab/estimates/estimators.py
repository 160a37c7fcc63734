"""One Beta law for all true rates, by three estimators.

Each gives one law that is then taken as known: quick, and too sure of itself where groups are few. They stand
beside the integrated fit, which is the default of ``shrink``, so that it can be seen whether the choice
matters. ``likelihood`` makes the table most probable; ``moments`` matches how much the observed rates scatter
to what luck leaves over; ``squared_error`` minimises an unbiased estimate of the squared error of the shrunk
rates, which asks nothing of the shape of the law.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.estimates.threads import one_thread

__all__ = ["LARGEST_SIZE", "ONE_LAW", "fit_beta_binomial", "fit_moments", "fit_squared_error"]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

LARGEST_SIZE = 1e7
"""A law this narrow is one rate for all."""

_SMALLEST_SIZE = 1e-2


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
    bounds = [(-25.0, 25.0), (np.log(_SMALLEST_SIZE), np.log(LARGEST_SIZE))]
    # The likelihood can be flat far out: start from a wide and from a narrow law, keep the better.
    with one_thread():
        tries = [
            minimize(loss, np.array([centre, np.log(size)]), jac=True, method="L-BFGS-B", bounds=bounds)
            for size in (10.0, 300.0, LARGEST_SIZE / 2)
        ]
    best = min(tries, key=lambda attempt: float(attempt.fun))
    mean, size = 1 / (1 + np.exp(-best.x[0])), np.exp(best.x[1])
    if best.fun > loss(np.array([best.x[0], np.log(LARGEST_SIZE)]))[0] - 1e-6:
        size = LARGEST_SIZE
    return float(mean * size), float((1 - mean) * size)


def _tail_counts(values: Wholes) -> Floats:
    """Return, for 0, 1, 2, ..., how many values are larger."""
    if not len(values) or values.max() == 0:
        return np.zeros(1)
    at_least = np.cumsum(np.bincount(values)[::-1])[::-1]
    return at_least[1:].astype(float)


def fit_moments(events: Any, exposure: Any) -> tuple[float, float]:
    """Fit a Beta law by moments: the scatter of the observed rates, less what luck makes of it.

    Groups weigh by their exposure (Kleinman 1973, J. Amer. Stat. Assoc. 68:46-54). Parameters and
    returns as for ``fit_beta_binomial``.
    """
    k, n = _exposed(events, exposure)
    total = n.sum()
    mean = float((k.sum() + 0.5) / (total + 1))
    scatter = float(n @ (k / n - mean) ** 2)
    luck = mean * (1 - mean) * (len(n) - 1)
    pairs = float(total - n @ n / total - (len(n) - 1))
    return _law(mean, (scatter - luck) / pairs if pairs > 0 else 0.0)


def fit_squared_error(events: Any, exposure: Any) -> tuple[float, float]:
    """Fit a Beta law so that the shrunk rates have the least estimated squared error.

    The estimate is unbiased whatever the law of true rates (Xie, Kou & Brown 2012, J. Amer. Stat. Assoc.
    107:1465-1479); every group with two swings or more counts alike. Parameters and returns as for
    ``fit_beta_binomial``.
    """
    from scipy.optimize import minimize_scalar

    k, n = _exposed(events, exposure)
    k, n = k[n > 1], n[n > 1]
    if not len(n):
        return fit_moments(events, exposure)
    rate = k / n
    luck = rate * (1 - rate) / (n - 1)

    def parts(log_size: float) -> tuple[float, float]:
        pulled = np.exp(log_size) / (n + np.exp(log_size))
        mean = float(pulled**2 @ rate / (pulled @ pulled))
        return mean, float((pulled**2 * (rate - mean) ** 2 + (1 - 2 * pulled) * luck).sum())

    grid = np.linspace(np.log(_SMALLEST_SIZE), np.log(LARGEST_SIZE), 60)
    at = int(np.argmin([parts(one)[1] for one in grid]))
    around = (grid[max(at - 1, 0)], grid[min(at + 1, len(grid) - 1)])
    found = minimize_scalar(lambda one: parts(one)[1], bounds=around, method="bounded")
    log_size = float(found.x) if at < len(grid) - 1 else float(grid[-1])
    mean = float(np.clip(parts(log_size)[0], 1e-9, 1 - 1e-9))
    size = float(np.exp(log_size))
    return mean * size, (1 - mean) * size


def _exposed(events: Any, exposure: Any) -> tuple[Floats, Floats]:
    k, n = np.asarray(events, dtype=float), np.asarray(exposure, dtype=float)
    return k[n > 0], n[n > 0]


def _law(mean: float, variance: float) -> tuple[float, float]:
    most = mean * (1 - mean)
    size = most / variance - 1 if variance > 0 else LARGEST_SIZE
    size = float(np.clip(size, _SMALLEST_SIZE, LARGEST_SIZE))
    return mean * size, (1 - mean) * size


ONE_LAW: dict[str, Callable[[Any, Any], tuple[float, float]]] = {
    "likelihood": fit_beta_binomial,
    "moments": fit_moments,
    "squared error": fit_squared_error,
}
"""The estimators by the names that ``shrink`` takes."""
