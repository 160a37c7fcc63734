"""How fast and how good the correlation of two rates is, against maximum likelihood.

Run ``python -m tests.benchmarks.bench_together`` for seconds by number of hitters, beside maximum likelihood
by scipy's optimiser over the double integral, in this one run. With ``--simulate LEAGUES`` it draws leagues
of known correlation and prints root mean square errors with their Monte Carlo error, coverage, how often
maximum likelihood ran to an end of its range, and the smallest standard error that any unbiased
estimate can have when means and spreads are known. ``--flat LEAGUES`` prints how often a rate without any
spread passes the rule for "can be told".
"""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass

import numpy as np
from scipy.optimize import minimize

from hitlab.two_rates.logit_normal import correlation_posterior
from hitlab.two_rates.together import LEAST_GAIN

MEAN = 0.14
SPREAD, WIDE_SPREAD = 0.025, 0.035
"""Standard deviations of true rates: of hard-hit balls per swing, and of a rate that differs more."""


def logit_spread(spread: float, mean: float = MEAN) -> float:
    """Put a spread of rates on the scale of log odds."""
    return spread / (mean * (1 - mean))


def draw(
    rng: np.random.Generator, hitters: int, correlation: float, spreads: tuple[float, float]
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Draw events and exposures of two rates; exposures log-uniform from 20 to 600, apart for each rate."""
    z = rng.standard_normal((2, hitters))
    z[1] = correlation * z[0] + np.sqrt(1 - correlation**2) * z[1]
    log_odds = np.log(MEAN / (1 - MEAN)) + np.array(spreads)[:, np.newaxis] * z
    n = np.rint(np.exp(rng.uniform(np.log(20), np.log(600), (2, hitters)))).astype(np.int64)
    k = rng.binomial(n, 1 / (1 + np.exp(-log_odds)))
    return k[0], n[0], k[1], n[1]


def maximum_likelihood(k1: np.ndarray, n1: np.ndarray, k2: np.ndarray, n2: np.ndarray) -> float:
    """Correlation at the highest likelihood: the double integral by 15 x 15 nodes, scipy's optimiser."""
    root, weight = np.polynomial.hermite_e.hermegauss(15)
    weight = weight / weight.sum()

    def terms(x: np.ndarray, k: np.ndarray, n: np.ndarray) -> np.ndarray:
        shape = (-1, *[1] * (x.ndim - 1))
        return k.reshape(shape) * x - n.reshape(shape) * np.logaddexp(0, x)

    base = [
        k * np.log((k + 0.5) / (n + 1)) + (n - k) * np.log1p(-(k + 0.5) / (n + 1))
        for k, n in ((k1, n1), (k2, n2))
    ]

    def loss(point: np.ndarray) -> float:
        m1, m2, log_s1, log_s2, u = point
        r = np.tanh(u)
        x = np.broadcast_to(m1 + np.exp(log_s1) * root, (len(k1), 15))
        second = r * root[:, np.newaxis] + np.sqrt(1 - r * r) * root
        y = np.broadcast_to(m2 + np.exp(log_s2) * second, (len(k1), 15, 15))
        one = np.exp(terms(x, k1, n1) - base[0][:, np.newaxis])
        other = np.exp(terms(y, k2, n2) - base[1][:, np.newaxis, np.newaxis])
        each = np.einsum("ij,ijk,j,k->i", one, other, weight, weight)
        return -float(np.log(np.maximum(each, 1e-300)).sum())  # a long step may leave nothing of it

    start = np.array([-1.8, -1.8, -1.5, -1.5, 0.0])
    ends = [(-6, 3), (-6, 3), (-5, 1), (-5, 1), (-3.8, 3.8)]
    return float(np.tanh(minimize(loss, start, method="L-BFGS-B", bounds=ends).x[4]))


def smallest_error(hitters: int, correlation: float, spread: float) -> float:
    """Smallest standard error of an unbiased estimate when means and spreads are known (normal noise)."""
    n = np.exp(np.linspace(np.log(20), np.log(600), 201))
    reliable = 1 / (1 + 1 / (n * MEAN * (1 - MEAN) * spread**2))
    q = reliable[:, np.newaxis] * reliable
    information = (q * (1 + correlation**2 * q) / (1 - correlation**2 * q) ** 2).mean()
    return float(1 / np.sqrt(hitters * information))


@dataclass(frozen=True, slots=True)
class Score:
    """What a number of simulated leagues gave."""

    error: float
    error_mc: float
    bias: float
    covered_95: float
    covered_90: float
    told: float
    likelihood_error: float
    likelihood_at_end: float


def score(
    hitters: int,
    correlation: float | None,
    spread: float | None,
    leagues: int,
    seed: int,
    likelihood_leagues: int = 0,
) -> Score:
    """Simulate; ``None`` draws the correlation, or the two spreads, from the prior."""
    rng = np.random.default_rng(seed)
    away, covered, told, likelihood = [], [], [], []
    for league in range(leagues):
        true = float(rng.uniform(-1, 1)) if correlation is None else correlation
        spreads = tuple(np.abs(rng.standard_normal(2))) if spread is None else (spread, spread)
        counts = draw(rng, hitters, true, spreads)
        found = correlation_posterior(*counts)
        grid, mass = found.correlation, found.weight.sum(axis=(0, 1))
        edges = np.append(grid, 2 * grid[-1] - grid[-2]) - (grid[1] - grid[0]) / 2
        ends = np.interp((0.025, 0.05, 0.95, 0.975), np.append(0, np.cumsum(mass)), edges)
        away.append(float(mass @ grid) - true)
        covered.append((ends[0] <= true <= ends[3], ends[1] <= true <= ends[2]))
        told.append(min(found.gains) >= LEAST_GAIN)
        if league < likelihood_leagues:
            likelihood.append((maximum_likelihood(*counts), true))
    square = np.array(away) ** 2
    error = float(np.sqrt(square.mean()))
    at_95, at_90 = np.mean(covered, axis=0)
    likely, truth = np.array(likelihood).T if likelihood else (np.array([np.nan]), np.array([np.nan]))
    return Score(
        error,
        float(square.std() / np.sqrt(leagues) / 2 / error),
        float(np.mean(away)),
        float(at_95),
        float(at_90),
        float(np.mean(told)),
        float(np.sqrt(((likely - truth) ** 2).mean())),
        float((np.abs(likely) > 0.99).mean()),
    )


def flat_share(hitters: int, leagues: int, seed: int) -> float:
    """Share of leagues in which a rate without any spread passes the rule; the other one has a wide one."""
    rng = np.random.default_rng(seed)
    told = [
        correlation_posterior(*draw(rng, hitters, 0.0, (1e-9, logit_spread(WIDE_SPREAD)))).gains[0]
        >= LEAST_GAIN
        for _ in range(leagues)
    ]
    return float(np.mean(told))


def simulate(leagues: int, sizes: tuple[int, ...]) -> None:
    """Print errors and coverage."""
    for hitters in sizes:
        for spread in (SPREAD, WIDE_SPREAD):
            for correlation in (0.0, 0.3, 0.6, None):
                _print(hitters, correlation, spread, leagues)
        _print(hitters, None, None, leagues)


def _print(hitters: int, correlation: float | None, spread: float | None, leagues: int) -> None:
    log_odds = None if spread is None else logit_spread(spread)
    both = min(leagues, 6_000 // hitters)  # the optimiser is slow
    s = score(hitters, correlation, log_odds, leagues, hitters, both)
    drawn = ["from the prior" if value is None else str(value) for value in (spread, correlation)]
    least = ""
    if correlation is not None and log_odds is not None:
        least = f", smallest possible unbiased {smallest_error(hitters, correlation, log_odds):.3f}"
    print(
        f"{hitters} hitters, spread {drawn[0]}, correlation {drawn[1]}, {leagues} leagues: error "
        f"{s.error:.3f} ({s.error_mc:.3f}), bias {s.bias:+.3f}, 95 % covers {s.covered_95:.3f}, 90 % "
        f"{s.covered_90:.3f}, told {s.told:.3f}; maximum likelihood ({both} leagues) "
        f"{s.likelihood_error:.3f}, at an end {s.likelihood_at_end:.3f}{least}",
        flush=True,
    )


def speed() -> None:
    """Print seconds by number of hitters, and the ratio to maximum likelihood."""
    rng = np.random.default_rng(3)
    spread = logit_spread(SPREAD)
    for hitters in (40, 150, 500, 2_000):
        counts = draw(rng, hitters, 0.3, (spread, spread))
        ours = min(_seconds(lambda counts=counts: correlation_posterior(*counts)) for _ in range(7))
        theirs = min(_seconds(lambda counts=counts: maximum_likelihood(*counts)) for _ in range(2))
        print(
            f"{hitters:,} hitters: posterior {1000 * ours:.0f} ms, maximum likelihood by scipy's optimiser "
            f"{1000 * theirs:.0f} ms, {theirs / ours:.1f} times as long and without an interval"
        )


def _seconds(work) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--simulate", type=int, default=0, metavar="LEAGUES")
    parser.add_argument("--flat", type=int, default=0, metavar="LEAGUES")
    parser.add_argument("--hitters", type=int, nargs="*", default=[40, 150, 500])
    asked = parser.parse_args()
    if asked.simulate:
        simulate(asked.simulate, tuple(asked.hitters))
    if asked.flat:
        for hitters in asked.hitters:
            share = flat_share(hitters, asked.flat, 9)
            print(f"{hitters} hitters, no spread, {asked.flat} leagues: passes in {share:.3f}", flush=True)
    if not asked.simulate and not asked.flat:
        speed()


if __name__ == "__main__":
    main()
