"""How long the estimates take, in one run with their yardsticks.

    python -m tests.benchmarks.bench_estimates [--pymc]

Medians of several runs. With ``--pymc`` a PyMC fit of the same marginal model (the Beta-binomial law with
flat mean and spread, no true rates) runs beside it.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable

import numpy as np
import pandas as pd
from scipy import optimize, stats

from hitlab.estimates.shrinkage import fit_beta_binomial, shrink
from hitlab.estimates.top_places import chance_of_top


def counted(hitters: int, seed: int = 1) -> pd.DataFrame:
    """Return counts of so many hitters, 20 to 1,300 swings."""
    rng = np.random.default_rng(seed)
    swings = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), hitters))).astype(int)
    hard = rng.binomial(swings, rng.beta(27, 165, hitters))
    return pd.DataFrame({"hitter": [f"h{i}" for i in range(hitters)], "swings": swings, "hard": hard})


def median_seconds(work: Callable[[], object], runs: int = 5) -> float:
    """Return the median of several runs."""
    seconds = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - start)
    return float(np.median(seconds))


def fit_and_best(lines: pd.DataFrame) -> None:
    """Fit, integrate, and work out chances of best."""
    chance_of_top(shrink(lines, "hard", "swings").posterior, 1)


def plain_optimiser(lines: pd.DataFrame) -> None:
    """Fit the same law with scipy's Beta-binomial law and a general optimiser."""
    k, n = lines["hard"].to_numpy(), lines["swings"].to_numpy()
    optimize.minimize(
        lambda x: -stats.betabinom.logpmf(k, n, *np.exp(x)).sum(), np.log([14.0, 86.0]), method="Nelder-Mead"
    )


def by_pymc(lines: pd.DataFrame) -> None:
    """Sample the marginal model."""
    import pymc as pm

    with pm.Model():
        mean, r = pm.Uniform("mean", 0, 1), pm.Uniform("r", 0, 1 / np.sqrt(3))
        size = 1 / r**2 - 1
        k, n = lines["hard"].to_numpy(), lines["swings"].to_numpy()
        pm.BetaBinomial("hard", alpha=mean * size, beta=(1 - mean) * size, n=n, observed=k)
        pm.sample(1_000, tune=1_000, chains=2, cores=1, random_seed=1, progressbar=False)


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pymc", action="store_true")
    options = parser.parse_args()
    lines = counted(500)
    fit_and_best(lines)
    ours = median_seconds(lambda: fit_and_best(lines))
    print(f"500 hitters, fit, integration, posterior and chance of best: {ours:.3f} s")
    if options.pymc:
        theirs = median_seconds(lambda: by_pymc(lines), 1)
        print(f"500 hitters, PyMC on the marginal model: {theirs:.1f} s, {theirs / ours:.0f} times")
    many = counted(20_000)
    print(f"20,000 hitters, the same: {median_seconds(lambda: fit_and_best(many), 3):.2f} s")
    k, n = lines["hard"], lines["swings"]
    fit_seconds = median_seconds(lambda: fit_beta_binomial(k, n))
    print(f"500 hitters, maximum likelihood alone: {fit_seconds:.4f} s")
    print(f"500 hitters, plain optimiser: {median_seconds(lambda: plain_optimiser(lines), 3):.3f} s")
    most = counted(1_000_000)
    k, n = most["hard"], most["swings"]
    print(
        "1,000,000 hitters, maximum likelihood alone: "
        f"{median_seconds(lambda: fit_beta_binomial(k, n)):.3f} s"
    )


if __name__ == "__main__":
    main()
