"""Are the chances of ``best_for_spot`` kept, and how long does ``check_spot`` take with 500 hitters?

    python -m tests.benchmarks.bench_spots [HITTERS LEAGUES SEED]

draws leagues in which those who follow hit at their league's true rates, ranks everybody in four spots, and
prints how often the first of the list truly is the best, against the chance stated, and what 90 % intervals
cover; standard errors have a league as the unit. Without numbers: the three sizes of
``tests/reference/measured.md``, and the processor seconds of a check of 500 hitters.
"""

from __future__ import annotations

import sys
import time

import numpy as np
import pandas as pd

from hitlab import check_spot
from hitlab.game import Spot, outcome_values
from hitlab.game.outcome_rates import OUTCOME_COUNTS, shrink_outcomes
from hitlab.game.spots import best_for_spots
from tests.test_spots import LEAGUE, SPOT, made_league

SPOTS = (SPOT, Spot(0, 1, "third"), Spot(-1, 0, "empty"), Spot(-3, 0, "full"))


def calibration(hitters: int, leagues: int, seed: int) -> None:
    """Print stated and true chances of the first, and coverage, over all spots and by spot."""
    rng = np.random.default_rng(seed)
    found: dict[str, list[list[float]]] = {}
    for _ in range(leagues):
        true, table = made_league(rng, hitters)
        turns = table[list(OUTCOME_COUNTS)].sum(axis=1).to_numpy()
        league = turns @ true / turns.sum()
        ranked = best_for_spots(shrink_outcomes(table), SPOTS, minimum=1, draws=1000, seed=1)
        of_league: dict[str, list[float]] = {}
        for spot, data in zip(SPOTS, (one.data for one in ranked), strict=True):
            wins = pd.Series(true @ outcome_values(spot, league), index=table["hitter"])
            mine = wins[data["label"]].to_numpy()
            inside = ((data["low"] <= mine) & (mine <= data["high"])).to_numpy()
            stated, came = float(data["chance_best"].iloc[0]), float(mine.argmax() == 0)
            for name, value in (
                ("the first: stated", stated),
                ("the first: is the best", came),
                ("stated less came true", stated - came),
                ("intervals cover", float(inside.mean())),
                ("the first's interval covers", float(inside[0])),
            ):
                of_league.setdefault(name, []).append(value)
        for name, values in of_league.items():
            found.setdefault(name, []).append(values)
    print(f"{hitters} hitters, {leagues} leagues")
    for name, rows in found.items():
        each = np.array(rows)
        error = each.mean(axis=1).std(ddof=1) / np.sqrt(leagues)
        by_spot = " ".join(f"{value:.3f}" for value in each.mean(axis=0))
        print(f"  {name} {each.mean():.3f} (standard error {error:.3f}); by spot {by_spot}", flush=True)


def seconds(hitters: int = 500) -> None:
    """Print processor seconds of a whole check, the first one and the least of three more."""
    rng = np.random.default_rng(11)
    turns = rng.integers(50, 650, hitters)
    ended = rng.multinomial(turns, rng.dirichlet(200 * LEAGUE / LEAGUE.sum(), hitters))
    table = pd.DataFrame(ended, columns=list(OUTCOME_COUNTS))
    table.insert(0, "hitter", [f"Hitter {i}" for i in range(hitters)])
    took = []
    for _ in range(4):
        start = time.process_time()
        check_spot(table, SPOT)
        took.append(time.process_time() - start)
    print(f"{hitters} hitters: check_spot {took[0]:.2f} s at first, then {min(took[1:]):.2f} s")


if __name__ == "__main__":
    if sys.argv[1:]:
        calibration(*(int(word) for word in sys.argv[1:4]))
    else:
        for asked in ((15, 200, 71), (40, 100, 72), (100, 40, 73)):
            calibration(*asked)
        seconds()
