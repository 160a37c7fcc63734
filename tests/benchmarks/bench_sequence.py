"""How fast sequences are found and compared, against a plain pandas loop over plate appearances.

Run ``python -m tests.benchmarks.bench_sequence``. Prints seconds on a season of about 700,000 pitches, and
the ratio to a ``groupby`` loop and to a ``groupby`` shift written here, all in this one run; they find the
same places. The shift does not ask whether the order of a plate appearance can be trusted.

    python -m tests.benchmarks.bench_sequence --millions 2

shows it on a folder of saved tables of so many million pitches (a season again and again, with games of its
own each time): whiffs after a whiff by ``with_previous``, and the strata of ``after_whiff``, against queries
of windows written by hand in DuckDB's SQL, which set the same plate appearances aside and find the same
numbers; whiffs and swings of every hitter in 18 situations against ``count(*) FILTER`` by hand; and, alone,
the 30 usual situations, of which one asks for the pitch before. Processor seconds and peak memory, each in a
process of its own, the shortest of the rounds.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import narwhals as nw
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from hitlab.approach.patterns import after, find_sequences, swing, whiff
from hitlab.approach.response_rows import Asked, choose_rows, looked_at
from hitlab.approach.responses import after_whiff
from hitlab.approach.sequence import with_previous
from hitlab.counting.facts import Conventions
from hitlab.league import make_season
from hitlab.pitches import open_checked
from hitlab.pitches.parts import OfGame, Part
from hitlab.pitches.sources import as_arrow
from hitlab.pitches.storing import rows_of_games, write_parts
from hitlab.splits import situation_counts

PITCHES = 700_000
BREAKING = ("slider", "curveball")
FASTBALL = ("four-seam fastball", "sinker", "cutter")
SWINGS = ("whiff", "foul tip", "foul", "in play")
KINDS = (*FASTBALL, *BREAKING, "changeup", "splitter")


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


WINDOWS = """
WITH pitches AS (
  SELECT game, plate_appearance AS number, pitch, hitter_id, pitcher_id, balls, strikes,
    outcome IN ('ball', 'automatic ball', 'intentional ball') AS ball,
    outcome IN ('called strike', 'whiff', 'foul tip', 'automatic strike', 'foul') AS struck,
    outcome IN ('called strike', 'whiff', 'foul tip', 'automatic strike')
      OR (outcome = 'foul' AND bunt) AS third,
    outcome IN ('in play', 'hit by pitch', 'catcher''s interference') AS ending,
    outcome IN ('whiff', 'foul tip') AND NOT bunt AS whiff,
    outcome IN ('whiff', 'foul', 'foul tip', 'in play', 'ball', 'called strike', 'hit by pitch')
      AND NOT bunt AS plain
  FROM season),
told AS (
  SELECT *, lag(pitch) OVER turn AS before, lag(hitter_id) OVER turn AS hitter_before,
    lag(pitcher_id) OVER turn AS pitcher_before, lag(ending) OVER turn AS ended,
    lag(third) OVER turn AS third_before, lag(whiff) OVER turn AS whiffed,
    lag(struck AND plain) OVER turn AS struck_before,
    count(*) FILTER (ball) OVER turn - ball::INT AS gone,
    count(*) FILTER (struck) OVER turn - struck::INT AS had
  FROM pitches
  WINDOW turn AS (
    PARTITION BY game, number ORDER BY pitch ROWS BETWEEN UNBOUNDED PRECEDING AND CURRENT ROW)),
wrong AS (
  SELECT *, pitch <> coalesce(before + 1, 1) OR gone > 3
    OR coalesce(ended OR (third_before AND had > 2), false)
    OR balls <> gone OR strikes <> least(had, 2) AS odd
  FROM told),
ordered AS (SELECT *, bool_or(odd) OVER (PARTITION BY game, number) AS bad FROM wrong)
"""
WHIFFS = "SELECT count(*) FROM ordered WHERE NOT bad AND whiff AND whiffed AND hitter_id = hitter_before"
STRATA = """, strata AS (
  SELECT hitter_id, pitcher_id, balls, had, whiffed, count(*) AS many FROM ordered
  WHERE NOT bad AND plain AND struck_before AND had <= 2 AND hitter_id = hitter_before
    AND pitcher_id = pitcher_before GROUP BY ALL)
SELECT sum(many) FROM strata"""


SITUATIONS = {
    **{f"pitch_kind={kind}": f"pitch_kind = '{kind}'" for kind in KINDS},
    "pitch_kind=fastball": f"pitch_kind IN {FASTBALL}",
    "strikes=2": "strikes = 2",
    "balls=3": "balls = 3",
    "bases=empty": "bases = 'empty'",
    "first pitch": "balls = 0 AND strikes = 0",
    "ahead in the count": "balls > strikes",
    "behind in the count": "balls < strikes",
    "full count": "balls = 3 AND strikes = 2",
    "own side": "hitter_side = pitcher_hand",
    "other side": "hitter_side <> pitcher_hand",
    "speed_mph>=95": "speed_mph >= 95",
}
"""Terms, and the same by hand."""


def make_folder(folder: Path, millions: float) -> None:
    """Save a season in as many parts as make so many millions of pitches, each with games of its own."""
    table = as_arrow(make_season(hitters=300, clubs=20, pitches=PITCHES, seed=5).pitches)
    at = table.schema.get_field_index("game")
    folder.mkdir()
    for number in range(max(round(millions * 1e6 / len(table)), 1)):
        games = pc.binary_join_element_wise(f"{number:02}", table.column("game").cast(pa.string()), "-")
        part = table.set_column(at, "game", games)
        told = {game: OfGame(many) for game, many in rows_of_games(part).items()}
        write_parts(part, [Part("invented", told)], folder / f"part-{number:02}.parquet")


def by_hand(folder: Path, end: str) -> int:
    """Find the number by a query of windows."""
    return int(open_checked(folder).query("season", f"{WINDOWS} {end}").fetchall()[0][0])


def whiffs_after_whiffs(folder: Path) -> int:
    """Find it by what ``with_previous`` adds."""
    told = nw.from_native(with_previous(open_checked(folder)))
    missed = nw.col("outcome").is_in(["whiff", "foul tip"]) & ~nw.col("bunt") & nw.col("previous_whiff")
    return int(told.filter(missed).select(nw.len().alias("rows")).collect()["rows"][0])


def compared(folder: Path) -> int:
    """Bring home the pitches that ``after_whiff`` compares by all five responses."""
    frame, columns = looked_at(open_checked(folder), ("hitter",))
    events = ("swings", "takes", "whiffs", "hard", "unmeasured")
    found = choose_rows(frame, Asked(columns, "any strike", Conventions(), ("hitter",), events, False))
    print(
        f"{found.told.memory_usage(index=False).sum() / len(found.told):.0f} bytes a pitch", file=sys.stderr
    )
    return len(found.told)


def all_of_it(folder: Path) -> int:
    """Answer the question as a user asks it."""
    answers = after_whiff(open_checked(folder)).counts
    return int(answers.loc[0, ["whiff_pitches", "other_pitches"]].sum())


def filtered(folder: Path) -> int:
    """Count whiffs and swings in every situation by a query with a filter for each."""
    swing = f"outcome IN {SWINGS} AND NOT bunt"
    missed = "outcome IN ('whiff', 'foul tip') AND NOT bunt"
    told = (
        f"count(*) FILTER ({one} AND {inside})" for inside in SITUATIONS.values() for one in (missed, swing)
    )
    rows = open_checked(folder).query("season", f"SELECT {', '.join(told)} FROM season GROUP BY hitter_id")
    return sum(sum(row) for row in rows.fetchall())


def in_situations(folder: Path) -> int:
    """Count the same by ``situation_counts``."""
    found = situation_counts(open_checked(folder), list(SITUATIONS), ["whiffs", "swings"])
    return int(found[["whiffs", "swings"]].to_numpy().sum())


def in_the_usual(folder: Path) -> int:
    """Count whiffs and swings in the usual situations."""
    found = situation_counts(open_checked(folder), None, ["whiffs", "swings"])
    return int(found[["whiffs", "swings"]].to_numpy().sum())


CONTESTANTS: dict[str, Callable[[Path], int]] = {
    "whiffs after a whiff, by hand": lambda folder: by_hand(folder, WHIFFS),
    "whiffs after a whiff, with_previous": whiffs_after_whiffs,
    "strata after a whiff, by hand": lambda folder: by_hand(folder, STRATA),
    "strata after a whiff, what comes home": compared,
    "after_whiff, all five": all_of_it,
    "18 situations, by hand": filtered,
    "18 situations, situation_counts": in_situations,
    "the usual situations, situation_counts": in_the_usual,
}


def run_one(name: str, folder: Path) -> None:
    """Print what one contestant finds, its processor seconds beyond opening, and its peak in MB."""
    open_checked(folder)
    start = time.process_time()
    open_checked(folder)
    opened = time.process_time() - start
    start = time.process_time()
    found = CONTESTANTS[name](folder)
    spent = time.process_time() - start - opened
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps({"found": found, "seconds": spent, "peak": peak}))


def show_folder(millions: float, rounds: int) -> None:
    """Print the seconds and the memory of each contestant."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "seasons"
        # In a process of its own: a child begins with the peak of whoever started it.
        making = multiprocessing.get_context("spawn").Process(target=make_folder, args=(folder, millions))
        making.start()
        making.join()
        command = [sys.executable, "-m", "tests.benchmarks.bench_sequence", "--at", str(folder), "--one"]
        told: dict[str, list[dict[str, float]]] = {one: [] for one in CONTESTANTS}
        for _ in range(rounds):
            for one in CONTESTANTS:
                done = subprocess.run([*command, one], stdout=subprocess.PIPE, text=True, check=True)
                told[one].append(json.loads(done.stdout))
    print(f"{millions:g} million pitches; processor seconds, peak memory")
    for one, runs in told.items():
        spent, peak = min(run["seconds"] for run in runs), max(run["peak"] for run in runs)
        base = told[next(other for other in CONTESTANTS if other.split(",")[0] == one.split(",")[0])]
        ratio = spent / min(run["seconds"] for run in base)
        print(f"{one:38} {spent:6.2f} s ({ratio:.2f} times), {peak:5.0f} MB; {runs[0]['found']:,}")


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--millions", type=float, help="pitches in a folder of saved tables")
    parser.add_argument("--rounds", type=int, default=3, help="of which the shortest counts")
    parser.add_argument("--one", help=argparse.SUPPRESS)
    parser.add_argument("--at", type=Path, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        run_one(asked.one, asked.at)
        return
    if asked.millions:
        show_folder(asked.millions, asked.rounds)
        return
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
