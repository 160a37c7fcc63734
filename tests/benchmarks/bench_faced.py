"""How long it takes to adjust rates for what hitters faced, against ``import pandas`` in the same run.

python -m tests.benchmarks.bench_faced
"""

from __future__ import annotations

import subprocess
import sys
import time

import numpy as np
import pandas as pd
from scipy.special import expit

from hitlab.estimates.faced import adjust_for_faced


def met(hitters: int, pitchers: int, parks: int, attempts: int, seed: int = 3) -> pd.DataFrame:
    """Return counts by hitter, pitcher and park; pitchers and hitters of one half of the league meet more."""
    rng = np.random.default_rng(seed)
    swings = rng.poisson(attempts / 4, (hitters, pitchers, 1)) * (rng.random((hitters, pitchers, 1)) < 0.15)
    half = (np.arange(hitters)[:, None] < hitters / 2) == (np.arange(pitchers) < pitchers / 2)
    swings = swings[:, :, 0] + rng.poisson(attempts / pitchers * np.where(half, 1.2, 0.3))
    hitter, pitcher = np.nonzero(swings)
    park = rng.integers(0, parks, len(hitter))
    chance = expit(
        -1.8
        + rng.normal(0, 0.2, hitters)[hitter]
        + rng.normal(0, 0.2, pitchers)[pitcher]
        + rng.normal(0, 0.05, parks)[park]
    )
    n = swings[hitter, pitcher]
    return pd.DataFrame(
        {
            "hitter": [f"h{i:03d}" for i in hitter],
            "pitcher": [f"p{i:03d}" for i in pitcher],
            "park": [f"k{i:02d}" for i in park],
            "swings": n,
            "hard": rng.binomial(n, chance),
        }
    )


def seconds(work, runs: int = 3) -> float:
    """Return the least of several runs."""
    least = np.inf
    for _ in range(runs):
        start = time.perf_counter()
        work()
        least = min(least, time.perf_counter() - start)
    return float(least)


def main() -> None:
    """Print the figures."""
    pandas = seconds(lambda: subprocess.run([sys.executable, "-c", "import pandas"], check=True))
    print(f"import pandas, in a process of its own: {pandas:.2f} s")
    for hitters, pitchers, parks, attempts in ((150, 150, 12, 8), (500, 500, 30, 8)):
        table = met(hitters, pitchers, parks, attempts)
        mine = seconds(lambda t=table: adjust_for_faced(t))
        print(
            f"{hitters} hitters, {pitchers} pitchers, {parks} parks, {len(table):,} meetings, "
            f"{table['swings'].sum():,} swings: {mine:.2f} s, {mine / pandas:.1f} times import pandas"
        )


if __name__ == "__main__":
    main()
