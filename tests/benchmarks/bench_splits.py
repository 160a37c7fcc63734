"""How fast all splits of a season are counted and fitted, against a plain pandas loop; and how true they are.

Run ``OMP_NUM_THREADS=2 python -m tests.benchmarks.bench_splits`` for the speed: seconds on about 700,000
pitches, every hitter in 30 situations, and the ratio to a loop over situations written here, which finds the
same counts. The loop only counts: it fits nothing, or fits by the exact test of scipy, one split after the
other.

With ``--cpu`` the seconds of the processor are printed, for a machine that is busy with other work.

``python -m tests.benchmarks.bench_splits --truth LEAGUES`` draws leagues with known differences and prints
squared error against the same fit with the spreads known, false calls against the stated share, and leagues
with any call.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import narwhals as nw
import numpy as np
import pandas as pd
from scipy import stats

from hitlab.approach import with_previous
from hitlab.league import make_season
from hitlab.splits.many_splits import all_splits
from hitlab.splits.split_law import Common, FourCounts, fit_laws
from hitlab.splits.usual import usual_situations

PITCHES = 700_000
HITTERS, SITUATIONS = 150, 30
SPREADS = (0.0, 0.12, 0.25)
OF_MEANS, OF_LEVELS = 0.15, 0.20


def by_loop(frame: pd.DataFrame) -> dict[str, pd.DataFrame]:
    """Filter and group once a situation, with pandas: hard balls and swings inside, and in all."""
    wide = with_previous(frame)
    swing = wide["outcome"].isin(["whiff", "foul", "foul tip", "in play"]) & ~wide["bunt"]
    rows = wide.assign(swings=swing, hard=swing & (wide["outcome"] == "in play") & (wide["exit_mph"] >= 95))
    found = {}
    whole = rows.groupby("hitter_id")[["hard", "swings"]].sum()
    for one in usual_situations(wide.columns):
        told = nw.from_native(rows).select(one.on(rows.columns).alias("told")).to_native()["told"]
        inside = rows[told.fillna(False).astype(bool)]
        sums = inside.groupby("hitter_id")[["hard", "swings"]].sum().reindex(whole.index, fill_value=0)
        rest = whole - sums
        both = sums.join(rest.add_suffix("_rest"))
        found[one.words] = both[(both["swings"] > 0) & (both["swings_rest"] > 0)]
    return found


def tested(counted: dict[str, pd.DataFrame]) -> None:
    """Test one split after the other."""
    for both in counted.values():
        for hard, swings, rest, rest_swings in both.itertuples(index=False):
            stats.fisher_exact([[hard, swings - hard], [rest, rest_swings - rest]])


def speed(clock: Callable[[], float]) -> None:
    """Print the table of seconds."""
    frame = make_season(hitters=300, clubs=20, pitches=PITCHES, seed=5).pitches
    best = float("inf")
    for _ in range(3):
        start = clock()
        found = all_splits(frame)
        best = min(best, clock() - start)
    start = clock()
    counted = by_loop(frame)
    loop = clock() - start
    start = clock()
    tested(counted)
    tests = clock() - start
    data = found.table().set_index(["situation", "hitter_id"])
    for name, both in counted.items():
        ours = data.loc[name].loc[both.index]
        assert (ours["inside_events"] == both["hard"]).all()
        assert (ours["inside_all"] == both["swings"]).all()
        assert (ours["rest_events"] == both["hard_rest"]).all()
    print(f"{len(frame):,} pitches, {len(data):,} splits in {len(found.situations)} situations")
    print(f"all_splits, counted and fitted        {best:6.2f} s")
    print(f"pandas loop, counted only             {loop:6.2f} s, {loop / best:5.2f} times as long")
    both_steps = loop + tests
    print(
        f"pandas loop, counted and tested       {both_steps:6.2f} s, {both_steps / best:5.2f} times as long"
    )


def league(
    rng: np.random.Generator, spread: float, hitters: int = HITTERS, situations: int = SITUATIONS
) -> tuple[list[FourCounts], np.ndarray, np.ndarray]:
    """Draw counts, the situations' means, and the hitters' own differences (situations, hitters)."""
    swings = np.exp(rng.uniform(np.log(100), np.log(1200), hitters)).astype(np.int64)
    level = rng.normal(np.log(0.14 / 0.86), OF_LEVELS, hitters)
    share, mean = rng.uniform(0.05, 0.5, situations), rng.normal(0, OF_MEANS, situations)
    own = rng.normal(0, 1, (situations, hitters)) * spread
    drawn = []
    for at in range(situations):
        inside = np.clip(rng.binomial(swings, share[at]), 1, swings - 1)
        k = rng.binomial(inside, 1 / (1 + np.exp(-level - mean[at] - own[at])))
        rest = rng.binomial(swings - inside, 1 / (1 + np.exp(-level)))
        drawn.append(FourCounts(k, inside, rest, swings - inside))
    return drawn, mean, own


def calls(chance: np.ndarray, above: np.ndarray, bound: float = 0.90) -> tuple[int, float, int]:
    """How many are called either way, the sum of one minus their chances, and how many are false."""
    up, down = chance >= bound, chance <= 1 - bound
    false = int((~above[up]).sum() + above[down].sum())
    return int(up.sum() + down.sum()), float((1 - chance[up]).sum() + chance[down].sum()), false


def share(rows: list[tuple[int, float, int]]) -> str:
    """Stated and found shares of false calls; the standard error takes a league as the unit."""
    called, stated, false = np.array(rows, dtype=float).T
    n = called.sum()
    if not n:
        return "no calls"
    off = false - stated
    error = np.sqrt(((off - off.sum() / n * called) ** 2).sum()) / n
    shares = f"stated {stated.sum() / n:.4f}, false {false.sum() / n:.4f}"
    return f"{n:,.0f} calls, {shares} (standard error of the difference {error:.4f})"


def truth(leagues: int) -> None:
    """Print what the fit makes of known truths."""
    for spread in SPREADS:
        rng = np.random.default_rng(2_031)
        error, known, usual, rest, covered = 0.0, 0.0, [], [], []
        for _ in range(leagues):
            drawn, mean, own = league(rng, spread)
            difference = mean[:, np.newaxis] + own
            fits, best = fit_laws(drawn), fit_laws(drawn, common=Common(OF_MEANS, spread))
            error += float(((np.array([f.ratio for f in fits]) - difference) ** 2).sum())
            known += float(((np.array([f.ratio for f in best]) - difference) ** 2).sum())
            usual.append(calls(np.array([f.above_usual for f in fits]), own > 0))
            rest.append(calls(np.array([f.above_rest for f in fits]), difference > 0))
            covered.append(
                np.mean(
                    [((f.low <= d) & (d <= f.high)).mean() for f, d in zip(fits, difference, strict=True)]
                )
            )
        some = sum(row[0] > 0 for row in usual)
        print(f"spread {spread}: squared error {error / known:.3f} times that with the spreads known")
        print(f"  beyond the usual: {share(usual)}; {some} of {leagues} leagues with any call")
        print(f"  against the rest: {share(rest)}")
        print(
            f"  90 % intervals cover {np.mean(covered):.3f} (se {np.std(covered) / np.sqrt(leagues):.3f})",
            flush=True,
        )


if __name__ == "__main__":
    if "--truth" in sys.argv:
        truth(int(sys.argv[sys.argv.index("--truth") + 1]))
    else:
        speed(time.process_time if "--cpu" in sys.argv else time.perf_counter)
