"""What a folder of saved tables costs beside one file of the same pitches.

    python -m tests.benchmarks.bench_folder [--rows 1000000] [--parts 10]
    python -m tests.benchmarks.bench_folder --kept [--parts 20]
    python -m tests.benchmarks.bench_folder --peak 12
    python -m tests.benchmarks.bench_folder --millions 1 10 100
    python -m tests.benchmarks.bench_folder --careers 8

In seconds of the processor, each in a process of its own, file and folder in turn, the median of the rounds.
The first tally of a process looks at the names, days and speeds of all parts; the later ones know what is in
doubt, and look whether the parts are still the same. Counts are held equal, and nothing is kept.

With ``--kept`` it shows what keeping counts beside the parts costs and saves: the demo season in each part
with games of its own, counted from the pitches, for the first time, with one part new, and from what is kept;
by hitter, by what claims count by, and for `hitlab check leads`, in processor seconds of a new process each.
With ``--peak`` it shows the memory that one part of so many seasons takes (on Linux). With ``--millions`` it
shows how a tally of a folder grows: from the pitches, the first of a process and a later one, and from what
is kept, beside the same counts by a query written by hand for DuckDB; each in a process of its own on two
threads, counts held equal. With ``--careers`` it shows what `hitlab check leads` takes on so many seasons of
700,000 pitches, in which a career lasts four: with nothing kept, from what is kept, of another rate, and once
a weekend is new; processor seconds and peak memory of a new process each, answers held equal.
"""

from __future__ import annotations

import argparse
import itertools
import json
import os
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

import hitlab
from hitlab import tally
from hitlab.league import make_season
from hitlab.pitches import open_checked, write_checked
from hitlab.pitches.kept_files import FOLDER, SWITCH
from hitlab.pitches.parts import OfGame, Part
from hitlab.pitches.storing import open_parts, rows_of_games, write_parts
from tests.benchmarks.bench_tally import HITTERS, THREADS, digest, make_pitches, with_duckdb_count_if

ROUNDS = 5
ROUNDS_OF_COMMANDS = 3
LATER = 4
MILLIONS_IN_PART = 5
HITTERS_OF_A_GAME = 18
ROWS_OF_A_GAME = 290
ROWS_OF_A_WEEKEND = 30 * ROWS_OF_A_GAME
SEASONS_OF_A_CAREER = 4
OF_ALL = ("together", "whole", "alike", "faced", "seasons")
STEPS = ("opened", "first tally", "later tally")


def make_both(folder: Path, rows: int, parts: int) -> tuple[Path, Path]:
    """Save invented pitches in one file, and in a folder of parts by game."""
    table = make_pitches(rows, seed=3)
    number = np.arange(rows) // ROWS_OF_A_GAME
    games = pa.array([f"game-{one:06d}" for one in range(number[-1] + 1)]).take(pa.array(number))
    speeds = np.random.default_rng(4).normal(88, 6, rows).round(1)
    table = table.append_column("game", games).append_column("speed_mph", pa.array(speeds))

    def saved(some: pa.Table, path: Path) -> Path:
        told = {game: OfGame(many) for game, many in rows_of_games(some).items()}
        return write_parts(some, [Part("invented", told)], path)

    inside = folder / "seasons"
    inside.mkdir()
    ends = [round(share * (number[-1] + 1) / parts) * ROWS_OF_A_GAME for share in range(parts + 1)]
    for place, (begin, end) in enumerate(itertools.pairwise(ends), 1):
        saved(table.slice(begin, end - begin), inside / f"part-{place}.parquet")
    return saved(table, folder / "whole.parquet"), inside


def make_seasons(folder: Path, parts: int, seasons: int = 1) -> Path:
    """Save parts of some demo seasons, each season with games of its own."""
    table, _ = open_parts(hitlab.demo_season())
    at = table.schema.get_field_index("game")
    folder.mkdir()

    def season(number: int) -> pa.Table:
        games = pc.binary_join_element_wise(f"{number}", table.column("game").cast(pa.string()), "-")
        return table.set_column(at, "game", games)

    for number in range(parts):
        some = pa.concat_tables([season(number * seasons + one) for one in range(seasons)])
        told = {game: OfGame(many) for game, many in rows_of_games(some).items()}
        write_parts(some, [Part("invented", told)], folder / f"part-{number}.parquet")
    return folder


def seconds_of(arguments: list[str], keep: bool = True) -> tuple[float, float, str]:
    """Give the processor and the elapsed seconds of a new process, and what it says."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    start = time.perf_counter()
    more = {} if keep else {SWITCH: "off"}
    done = subprocess.run(
        [sys.executable, *arguments], capture_output=True, text=True, check=False, env={**os.environ, **more}
    )
    elapsed = time.perf_counter() - start
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert not done.stderr, done.stderr
    spent = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
    return spent, elapsed, done.stdout


_PEAK = """
import re, sys, hitlab
hitlab.tally(sys.argv[1])
print(re.search("VmHWM:[^0-9]*([0-9]+)", open("/proc/self/status").read())[1])
"""
"""Prints what a process itself needs at most, in kB: what Linux counts may be of its parent."""


_CLAIM = """
import re, sys, hitlab
print(hitlab.check_leads(sys.argv[1], event=sys.argv[2]).to_dict())
print(re.search("VmHWM:[^0-9]*([0-9]+)", open("/proc/self/status").read())[1])
"""


def show_peak(name: Path, seasons: int) -> None:
    """Print the peak memory of a tally of one large part: from the pitches, for the first time, and kept."""
    folder = make_seasons(name / "one", 1, seasons)
    for step in ("from the pitches", "first", "kept"):
        *_, told = seconds_of(["-c", _PEAK, str(folder)], step != "from the pitches")
        print(f"one part of {seasons} seasons, {step}: {int(told) / 1024:.0f} MB")


def show_kept(name: Path, parts: int) -> None:
    """Print what keeping costs and saves, as seconds and as a share of counting from the pitches."""
    folder = make_seasons(name / "seasons", parts)
    kept = folder / FOLDER
    code = "import sys, hitlab; print(hitlab.tally(sys.argv[1], sys.argv[2:]).fingerprint)"
    asked = {
        "hitter": ["-c", code, str(folder), "hitter"],
        "hitter, game, pitcher": ["-c", code, str(folder), "hitter", "game", "pitcher"],
        "check leads": ["-m", "hitlab", "check", "leads", "--file", str(folder), "--event", "whiffs"],
    }
    steps = ("from the pitches", "first", "one part new", "kept")
    for what, arguments in asked.items():
        found: dict[str, list[tuple[float, float]]] = {step: [] for step in steps}
        said = set()
        for _ in range(ROUNDS_OF_COMMANDS):
            shutil.rmtree(kept, ignore_errors=True)
            for step in steps:
                if step == "one part new":
                    part = next(kept.glob("counts-*")).stem.rpartition("-")[2]
                    # Nothing that is kept of all parts together holds then, either.
                    names = f"*-{part}.parquet", *(f"{kind}-*.parquet" for kind in OF_ALL)
                    for path in (path for name in names for path in kept.glob(name)):
                        path.unlink()
                *taken, told = seconds_of(arguments, step != "from the pitches")
                found[step].append((taken[0], taken[1]))
                said.add(told)
        assert len(said) == 1
        base = statistics.median(one for one, _ in found[steps[0]])
        for step in steps:
            spent, elapsed = (statistics.median(some) for some in zip(*found[step], strict=True))
            print(f"{what}, {step}: {spent:.2f} s, {spent / base:.2f} times; {elapsed:.2f} s elapsed")
    size = sum(path.stat().st_size for path in kept.iterdir())
    whole = sum(path.stat().st_size for path in folder.glob("*.parquet"))
    print(f"kept: {size / whole:.1%} of the tables' size")


def make_careers(folder: Path, seasons: int) -> Path:
    """Save seasons in which a quarter of the hitters and pitchers are new; give a weekend of one more."""
    plain = make_season(hitters=300, clubs=20, pitches=700_000, seed=5).pitches
    folder.mkdir()
    for season in range(seasons + 1):
        last = season == seasons
        frame = plain.iloc[:ROWS_OF_A_WEEKEND].copy() if last else plain.copy()
        for who in ("hitter", "pitcher"):
            career = ((frame[f"{who}_id"].str[1:].astype(int) + season) // SEASONS_OF_A_CAREER).astype(str)
            frame[f"{who}_id"] += "-" + career
            frame[who] += " " + career.str.translate(str.maketrans("0123456789", "abcdefghij"))
        frame["game"] = f"{season}-" + frame["game"]
        frame["date"] -= pd.DateOffset(years=21 - season)
        path = write_checked(frame, (folder.parent if last else folder) / f"season-{season:02d}.parquet")
    return path


def show_careers(name: Path, seasons: int) -> None:
    """Print what claims about careers take, with nothing kept, from what is kept, and with a weekend new."""
    folder = name / "careers"
    weekend = make_careers(folder, seasons)

    def ask(step: str, event: str = "whiffs", keep: bool = True) -> str:
        arguments = ["-c", _CLAIM, str(folder), event]
        spent, elapsed, told = seconds_of(arguments, keep)
        said, peak = told.rsplit("\n", 2)[:2]
        print(f"{step}: {spent:.2f} s, {elapsed:.2f} s elapsed, {int(peak) / 1024:.0f} MB", flush=True)
        return said

    before = ask("nothing kept")
    assert ask("from what is kept") == before
    ask("another rate, first", "hard")
    shutil.move(weekend, folder)
    after = ask("a weekend new")
    assert ask("from what is kept") == ask("from the pitches", keep=False) == after


def make_millions(folder: Path, millions: int) -> Path:
    """Save invented pitches in parts of five million at most, each with games of its own."""
    folder.mkdir()
    names = pa.array([f"Invented Hitter {number:04d}" for number in range(HITTERS)])
    for first in range(0, millions, MILLIONS_IN_PART):
        rows = min(MILLIONS_IN_PART, millions - first) * 1_000_000
        table = make_pitches(rows, seed=first + 1)
        number = np.arange(rows) // ROWS_OF_A_GAME
        games = pa.array([f"game-{first}-{one}" for one in range(number[-1] + 1)]).take(pa.array(number))
        table = table.append_column("game", games)
        rng = np.random.default_rng(first + 2)
        in_game = rng.integers(0, len(names), (number[-1] + 1, HITTERS_OF_A_GAME))
        hitters = names.take(pa.array(in_game[number, rng.integers(0, HITTERS_OF_A_GAME, rows)]))
        table = table.set_column(table.schema.get_field_index("hitter"), "hitter", hitters)
        told = {game: OfGame(many) for game, many in rows_of_games(table).items()}
        write_parts(table, [Part("invented", told)], folder / f"part-{first:03d}.parquet")
    return folder


def run_growth(path: Path, way: str) -> dict[str, Any]:
    """Count in this process one way; the seconds, the processor's, a hash of the counts and the peak MB."""
    from hitlab.pitches.connecting import own_connection

    own_connection().execute(f"SET threads={THREADS}")
    pa.set_cpu_count(THREADS)

    def count() -> Any:
        if way == "by hand":
            return with_duckdb_count_if(path / "*.parquet", few=False)
        return tally(path).table()

    if way == "later":
        count()
    start, spent = time.perf_counter(), time.process_time()
    counts = count()
    seconds, spent = time.perf_counter() - start, time.process_time() - spent
    told = re.search("VmHWM:[^0-9]*([0-9]+)", Path("/proc/self/status").read_text(encoding="utf-8"))
    assert told is not None
    peak = int(told[1]) / 1024
    return {"seconds": seconds, "processor": spent, "digest": digest(counts), "peak": peak}


def show_growth(name: Path, sizes: Sequence[int]) -> None:
    """Print what a tally of so many million pitches in a folder takes, beside the query by hand."""
    for millions in sizes:
        folder = make_millions(name / f"m{millions}", millions)
        size = sum(path.stat().st_size for path in folder.glob("*.parquet"))
        print(f"{millions} million pitches, {size / 1e6:.0f} MB", flush=True)
        found: dict[str, list[dict[str, Any]]] = {}
        for keep, way in (
            *[(False, one) for one in ("by hand", "first", "later") * 2],
            (True, "kept"),
            (True, "kept"),
        ):
            command = ["-m", "tests.benchmarks.bench_folder", "--one", str(folder), "--way", way]
            *_, told = seconds_of(command, keep)
            found.setdefault(way, []).append(json.loads(told))
        found["counted and kept"] = [found["kept"].pop(0)]
        assert len({one["digest"] for rows in found.values() for one in rows}) == 1
        base = {key: min(one[key] for one in found["by hand"]) for key in ("seconds", "processor")}
        for way, rows in found.items():
            least = {key: min(one[key] for one in rows) for key in base}
            times = ", ".join(f"{least[key]:.2f} s ({least[key] / base[key]:.2f} times)" for key in base)
            print(
                f"  {way}: elapsed and processor {times}, {max(one['peak'] for one in rows):.0f} MB",
                flush=True,
            )
        shutil.rmtree(folder)


def run_one(path: Path) -> dict[str, object]:
    """Open once and tally several times; the processor seconds of each, the counts' fingerprint, peak MB."""
    import duckdb

    duckdb.connect().close()  # that it is imported is no matter of the folder
    start = time.process_time()
    open_checked(path)
    opened = time.process_time() - start
    taken = []
    for _ in range(1 + LATER):
        start = time.process_time()
        counts = tally(path)
        taken.append(time.process_time() - start)
    seconds = dict(zip(STEPS, (opened, taken[0], statistics.median(taken[1:])), strict=True))
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {**seconds, "fingerprint": counts.fingerprint, "peak": peak}


def main() -> None:
    """Print the seconds of both, and what the folder takes as a multiple."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--rows", type=int, default=1_000_000)
    parser.add_argument("--parts", type=int, default=10)
    parser.add_argument("--kept", action="store_true", help="what keeping counts costs and saves")
    parser.add_argument("--peak", type=int, metavar="SEASONS", help="memory that one large part takes")
    parser.add_argument(
        "--millions", type=int, nargs="+", help="how a tally grows with so many million pitches"
    )
    parser.add_argument("--careers", type=int, metavar="SEASONS", help="claims about so many seasons")
    parser.add_argument("--one", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--way", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one and asked.way:
        print(json.dumps(run_growth(asked.one, asked.way)))
        return
    if asked.one:
        print(json.dumps(run_one(asked.one)))
        return
    if asked.millions:
        with tempfile.TemporaryDirectory() as name:
            show_growth(Path(name), asked.millions)
        return
    if asked.careers:
        with tempfile.TemporaryDirectory() as name:
            show_careers(Path(name), asked.careers)
        return
    if asked.peak:
        with tempfile.TemporaryDirectory() as name:
            show_peak(Path(name), asked.peak)
        return
    if asked.kept:
        with tempfile.TemporaryDirectory() as name:
            show_kept(Path(name), asked.parts)
        return
    os.environ[SWITCH] = "off"
    with tempfile.TemporaryDirectory() as name:
        both = make_both(Path(name), asked.rows, asked.parts)
        found: dict[Path, list[dict[str, float]]] = {path: [] for path in both}
        command = [sys.executable, "-m", "tests.benchmarks.bench_folder", "--one"]
        for _ in range(ROUNDS):
            for path in both:
                done = subprocess.run([*command, str(path)], capture_output=True, text=True, check=True)
                found[path].append(json.loads(done.stdout))
        assert len({one["fingerprint"] for rows in found.values() for one in rows}) == 1
    print(f"{asked.rows:,} pitches, one file and {asked.parts} parts; processor seconds")
    for step in STEPS:
        file, folder = (statistics.median(one[step] for one in rows) for rows in found.values())
        print(f"{step}: {file:.3f} and {folder:.3f}, {folder / file:.2f} times")
    file, folder = (max(one["peak"] for one in rows) for rows in found.values())
    print(f"peak memory: {file:.0f} and {folder:.0f} MB")


if __name__ == "__main__":
    main()
