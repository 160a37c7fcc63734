"""How fast sequences are found and compared, against a plain pandas loop over plate appearances.

Run ``python -m tests.benchmarks.bench_sequence``. Prints seconds on a season of about 700,000 pitches, and
the ratio to a ``groupby`` loop and to a ``groupby`` shift written here, all in this one run; they find the
same places. The shift does not ask whether the order of a plate appearance can be trusted.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pandas as pd

from hitlab.approach.patterns import after, find_sequences, swing, whiff
from hitlab.approach.responses import after_whiff
from hitlab.approach.sequence import with_previous
from hitlab.league import make_season

PITCHES = 700_000
BREAKING = ("slider", "curveball")
FASTBALL = ("four-seam fastball", "sinker", "cutter")
SWINGS = ("whiff", "foul tip", "foul", "in play")


def by_loop(frame: pd.DataFrame) -> list[int]:
    """Walk through each plate appearance."""
    found = []
    for _, rows in frame.groupby(["game", "plate_appearance"], sort=False):
        rows = rows.sort_values("pitch")
        outcomes, kinds, bunts = rows["outcome"].tolist(), rows["pitch_kind"].tolist(), rows["bunt"].tolist()
        places = rows.index.tolist()
        for at in range(1, len(rows)):
            missed = outcomes[at - 1] in ("whiff", "foul tip") and not bunts[at - 1]
            swung = outcomes[at] in SWINGS and not bunts[at]
            if missed and swung and kinds[at - 1] in BREAKING and kinds[at] in FASTBALL:
                found.append(places[at])
    return sorted(found)


def by_shift(frame: pd.DataFrame) -> list[int]:
    """Sort, shift within groups, compare; no check that the order can be trusted."""
    rows = frame.sort_values(["game", "plate_appearance", "pitch"])
    last = rows.groupby(["game", "plate_appearance"])[["outcome", "pitch_kind", "bunt"]].shift()
    missed = last["outcome"].isin(["whiff", "foul tip"]) & (last["bunt"] == False)  # noqa: E712
    swung = rows["outcome"].isin(SWINGS) & ~rows["bunt"]
    hit = missed & swung & last["pitch_kind"].isin(BREAKING) & rows["pitch_kind"].isin(FASTBALL)
    return sorted(rows.index[hit].tolist())


def seconds(work: Callable[[], object], times: int = 3) -> float:
    """Give the shortest of a few runs."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def main() -> None:
    """Print the table."""
    frame = make_season(hitters=300, clubs=20, pitches=PITCHES, seed=5).pitches
    pattern = after(whiff(kind="breaking")).then(swing(kind="fastball"))
    found = sorted(find_sequences(frame, pattern).table()["row"].tolist())
    assert found == by_loop(frame) == by_shift(frame)
    search = seconds(lambda: find_sequences(frame, pattern))
    loop, shift = seconds(lambda: by_loop(frame), 1), seconds(lambda: by_shift(frame))
    print(f"{len(frame):,} pitches, {len(found):,} places")
    print(f"find_sequences        {search:6.2f} s")
    print(f"groupby loop          {loop:6.2f} s, {loop / search:5.1f} times as long")
    print(f"groupby shift         {shift:6.2f} s, {shift / search:5.1f} times as long")
    print(f"with_previous         {seconds(lambda: with_previous(frame)):6.2f} s")
    print(f"after_whiff, all five {seconds(lambda: after_whiff(frame), 1):6.2f} s")


if __name__ == "__main__":
    main()
