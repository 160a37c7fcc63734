"""How fast the half-inning chain runs on this machine, against a plain Python loop.

Run ``python -m tests.benchmarks.bench_innings``. Prints milliseconds for 500 hitters followed by the league,
with the distribution of runs and the chances to win; the same for 500 clubs of one hitter each; a plain loop
over the 24 states for a few hitters, and the ratio, both in this one run; the ranking of a season's hitters
in a spot.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np

from hitlab import demo_season
from hitlab.game.advancing import Advancing
from hitlab.game.base_out import Spot
from hitlab.game.innings import half_inning, last_half
from hitlab.game.outcome_rates import outcome_counts, shrink_outcomes
from hitlab.game.spots import best_for_spot
from tests.plain_half_inning import expected_runs

LEAGUE = np.array([0.221, 0.437, 0.087, 0.011, 0.146, 0.046, 0.005, 0.034, 0.013])
HITTERS, FEW = 500, 5


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """Give the shortest of a few runs."""
    best = np.inf
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return float(best)


def main() -> None:
    """Measure and print."""
    hitters = np.random.default_rng(5).dirichlet(200 * LEAGUE, HITTERS)
    then_league = seconds(lambda: half_inning(hitters, LEAGUE))
    print(f"{HITTERS} hitters, then the league, 21 run counts from 24 states: {1000 * then_league:.1f} ms")
    wins = seconds(lambda: last_half(hitters, LEAGUE))
    print(f"the same with the chances to win from 0 to 10 runs behind: {1000 * wins:.1f} ms")
    alike = seconds(lambda: half_inning(hitters))
    print(f"{HITTERS} clubs of nine equal hitters: {1000 * alike:.1f} ms")
    plain = seconds(lambda: [expected_runs(one, Advancing()) for one in hitters[:FEW]], 2) / FEW * HITTERS
    few = seconds(lambda: half_inning(hitters, most_runs=0))
    print(f"plain loop, expected runs only, {FEW} clubs taken times {HITTERS // FEW}: {plain:.1f} s")
    print(f"the chain's expected runs: {1000 * few:.1f} ms, {plain / few:,.0f} times as fast")
    counts = outcome_counts(demo_season())
    rates = shrink_outcomes(counts)
    fit = seconds(lambda: shrink_outcomes(counts), 2)
    rank = seconds(lambda: best_for_spot(rates, Spot(-2, 1, "first second")), 2)
    print(f"the demo season: shrinking eight stages {fit:.2f} s, ranking hitters in a spot {rank:.2f} s")


if __name__ == "__main__":
    main()
