"""Seconds from a click to the verdict at the desk: the demo season, and 700,000 pitches.

Run as ``python -m tests.benchmarks.bench_desk``; ``--pitches`` for another size, 0 for the demo season alone.
As in a notebook, the usual rate is counted while nobody asks yet. The first ask of a kind is timed, then
another hitter's, which finds counts and fit kept, then the first again.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
from pathlib import Path

from hitlab.counting import tally
from hitlab.desk import Desk
from hitlab.desk.tables import LOOKED_AHEAD
from hitlab.league import make_season
from hitlab.pitches.storing import write_checked

CLAIMS = (("above", "16%"), ("league", ""), ("leads", ""))


def timed(desk: Desk, who: str, claim: str, value: str) -> tuple[float, float]:
    """Return wall and processor seconds until the verdict stands on the page."""
    desk.who.value, desk.claimed.value, desk.value.value = who, claim, value
    shown: list[tuple[float, float]] = []
    start = (time.perf_counter(), time.process_time())

    def stands(change: dict[str, str]) -> None:
        if change["new"] and not shown:
            shown.append((time.perf_counter() - start[0], time.process_time() - start[1]))

    desk.verdict.observe(stands, names="value")
    desk.check.click()
    desk.verdict.unobserve(stands, names="value")
    if not shown:
        raise SystemExit(f"no verdict: {desk.live.value}")
    return shown[0]


def measure(path: str, label: str) -> None:
    """Print the seconds for one table."""
    start = time.perf_counter()
    desk = Desk(path)
    print(f"{label}: opened in {time.perf_counter() - start:.2f} s; load {os.getloadavg()[0]:.1f}")
    counts = tally(desk.table.pitches) if desk.table is not None else None
    if counts is None:
        raise SystemExit(desk.live.value)
    most = counts.data["swings"].sort_values(ascending=False).index[:2]
    first, second = (counts.labels[place] for place in most)
    start = time.perf_counter()
    for kind in LOOKED_AHEAD:
        desk.table.look_ahead(kind)
    print(f"  looked ahead, while nobody asks: {time.perf_counter() - start:.2f} s")
    for claim, value in CLAIMS:
        for who, what in ((first, "first"), (second, "another hitter"), (first, "the same again")):
            wall, processor = timed(desk, who, claim, value)
            print(f"  {claim:7} {what:15} {wall:6.2f} s, processor {processor:6.2f} s")


def main() -> None:
    """Measure."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pitches", type=int, default=700_000)
    pitches = parser.parse_args().pitches
    measure("", "demo season")
    if pitches:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "season.parquet"
            write_checked(make_season(hitters=300, clubs=20, pitches=pitches, seed=1).pitches, path)
            measure(str(path), f"{pitches:,} pitches")


if __name__ == "__main__":
    main()
