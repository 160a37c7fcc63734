"""How fast the tally is, against the same counts written by hand.

    python -m tests.benchmarks.bench_tally [--rows 10000000] [--reading | --scaling]

Each contestant runs in a process of its own on two threads, once untimed and then five times; given
are the median and the peak memory of the process. Times are compared only where all contestants
give equal counts. The floor is one ``numpy.bincount`` over integer codes that are ready in memory, and
the small matrix product that makes the counts of it: nothing that reads a file can be below.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from pyarrow import parquet

from hitlab import tally
from hitlab.counting.events import AT_BAT_RESULTS, HIT_BASES
from hitlab.pitches.schema import (
    OUTCOMES,
    RESULTS,
    SCHEMA_VERSION,
    SWING_OUTCOMES,
    TAKE_OUTCOMES,
    THROWN_OUTCOMES,
)
from hitlab.pitches.sealing import seal

HITTERS = 2_000
ROWS_IN_GROUP = 122_880  # as write_checked does
REPEATS = 5
THREADS = 2
FEW = ("pitches", "swings", "whiffs", "fouls", "in_play", "hard")
FEW_COLUMNS = ("hitter", "outcome", "bunt", "exit_mph")
ALL_COLUMNS = (*FEW_COLUMNS, "strikes", "check_swing", "result")

# Invented frequencies, near enough to a season's that the groupings have their usual sizes.
_OUTCOME_SHARES = (0.340, 0.160, 0.110, 0.175, 0.010, 0.170, 0.003, 0.004, 0.001, 0.003, 0.0005, 0.0235)
OF_ONE_RESULT = {"home_runs": "home run", "strikeouts": "strikeout", "walks": "walk"}
_BALL_RESULTS = {"out": 0.62, "single": 0.22, "double": 0.07, "home run": 0.04, "double play": 0.03}


def make_pitches(rows: int, seed: int) -> pa.Table:
    """Make invented pitches: results on last pitches only, speeds on balls in play only."""
    rng = np.random.default_rng(seed)
    outcome = rng.choice(len(OUTCOMES), rows, p=np.array(_OUTCOME_SHARES) / sum(_OUTCOME_SHARES))
    strikes = rng.choice(3, rows, p=[0.5, 0.28, 0.22])
    words = np.array(OUTCOMES)
    struck = words[outcome] == "in play"
    swung = np.isin(words[outcome], SWING_OUTCOMES)
    bunt = swung & (rng.random(rows) < 0.01)
    checked = (words[outcome] != "in play") & (rng.random(rows) < 0.03)
    speed = np.where(struck & (rng.random(rows) < 0.98), rng.normal(88, 14, rows).clip(20, 120), np.nan)
    result = np.full(rows, -1)
    chosen = rng.choice(len(_BALL_RESULTS), rows, p=np.array(list(_BALL_RESULTS.values())) / 0.98)
    result[struck] = np.array([RESULTS.index(name) for name in _BALL_RESULTS])[chosen[struck]]
    third = np.isin(words[outcome], ("whiff", "called strike", "foul tip")) & (strikes == 2)
    result[third] = RESULTS.index("strikeout")
    result[(words[outcome] == "ball") & (rng.random(rows) < 0.06)] = RESULTS.index("walk")
    result[words[outcome] == "hit by pitch"] = RESULTS.index("hit by pitch")
    names = pa.array([f"Invented Hitter {number:04d}" for number in range(HITTERS)])

    def text(codes: np.ndarray, values: pa.Array) -> pa.Array:
        mask = codes < 0
        return pa.DictionaryArray.from_arrays(pa.array(codes, pa.int32(), mask=mask), values).cast(
            pa.string()
        )

    return pa.table(
        {
            "hitter": text(rng.integers(0, HITTERS, rows), names),
            "outcome": text(outcome, pa.array(OUTCOMES)),
            "bunt": bunt,
            "exit_mph": pa.array(speed, mask=np.isnan(speed)),
            "strikes": pa.array(strikes, pa.int64()),
            "check_swing": checked,
            "result": text(result, pa.array(RESULTS)),
        }
    )


def make_file(path: Path, rows: int, columns: tuple[str, ...] = ALL_COLUMNS) -> Path:
    """Write invented pitches as write_checked does, a row group at a time."""
    schema = make_pitches(1, 0).select(columns).schema.with_metadata({"hitlab_schema": str(SCHEMA_VERSION)})
    texts = [field.name for field in schema if pa.types.is_string(field.type)]
    with parquet.ParquetWriter(path, schema, compression="zstd", use_dictionary=texts) as writer:
        for start in range(0, rows, ROWS_IN_GROUP):
            part = make_pitches(min(ROWS_IN_GROUP, rows - start), seed=start + 1).select(columns)
            writer.write_table(part.cast(schema), row_group_size=ROWS_IN_GROUP)
    with path.open("r+b") as file:
        seal(file)
    return path


def flags_by_hand(
    member: Callable[[str, tuple[str, ...]], Any], column: Callable[[str], Any], few: bool
) -> dict[str, Any]:
    """Return the counts as flags; ``member`` and ``column`` speak pandas or Polars."""
    swung = ~column("bunt")
    swing, whiff = member("outcome", SWING_OUTCOMES) & swung, member("outcome", ("whiff", "foul tip")) & swung
    foul, in_play = member("outcome", ("foul",)) & swung, member("outcome", ("in play",)) & swung
    hard = in_play & (column("exit_mph") >= 95)
    pitch = member("outcome", THROWN_OUTCOMES)
    flags = {"pitches": pitch, "swings": swing, "whiffs": whiff, "fouls": foul}
    flags |= {"in_play": in_play, "hard": hard}
    if few:
        return flags
    take, contact = member("outcome", TAKE_OUTCOMES), foul | in_play
    unknown = in_play & ~(column("exit_mph") >= 0)
    deep, checked = column("strikes") == 2, column("check_swing")
    flags |= {"takes": take, "foul_tips": member("outcome", ("foul tip",)) & swung, "contact": contact}
    flags |= {
        "unmeasured": unknown,
        "check_swings_went": swing & checked,
        "check_swings_held": take & checked,
    }
    flags |= {"bunts": member("outcome", SWING_OUTCOMES) & column("bunt")}
    for name, flag in (
        ("pitches", pitch),
        ("swings", swing),
        ("whiffs", whiff),
        ("fouls", foul),
        ("contact", contact),
        ("in_play", in_play),
        ("hard", hard),
        ("unmeasured", unknown),
    ):
        flags[f"two_strike_{name}"] = flag & deep
    flags |= {"plate_appearances": member("result", RESULTS), "at_bats": member("result", AT_BAT_RESULTS)}
    flags |= {"hits": member("result", tuple(HIT_BASES))}
    return flags | {name: member("result", (result,)) for name, result in OF_ONE_RESULT.items()}


def with_hitlab(path: Path, few: bool) -> pd.DataFrame:
    """Tally the file."""
    counts = tally(path).table()
    return counts[["hitter", *FEW]] if few else counts


def with_pandas(path: Path, few: bool) -> pd.DataFrame:
    """Read the columns and sum flags."""
    table = pd.read_parquet(path, columns=list(FEW_COLUMNS if few else ALL_COLUMNS))
    flags = flags_by_hand(lambda name, words: table[name].isin(words), table.__getitem__, few)
    if not few:
        flags["bases"] = table["result"].map(HIT_BASES).fillna(0).astype("int8")
    return pd.DataFrame(flags).groupby(table["hitter"]).sum().reset_index()


def with_polars(path: Path, few: bool) -> pd.DataFrame:
    """Scan the file and sum flags."""
    import polars as pl

    # A null flag (no speed, no result) is false before it is negated.
    flags = flags_by_hand(lambda name, words: pl.col(name).is_in(words).fill_null(False), pl.col, few)
    if not few:
        known = (pl.col("exit_mph") >= 0).fill_null(False)
        in_play = flags["in_play"]
        flags["unmeasured"] = in_play & ~known
        flags["two_strike_unmeasured"] = in_play & ~known & (pl.col("strikes") == 2)
        flags["bases"] = pl.col("result").replace_strict(HIT_BASES, default=0, return_dtype=pl.Int64)
    sums = [flag.cast(pl.Int64).sum().alias(name) for name, flag in flags.items()]
    frame: pd.DataFrame = pl.scan_parquet(path).group_by("hitter").agg(sums).collect().to_pandas()
    return frame


def _quoted(words: tuple[str, ...]) -> str:
    return ", ".join("'" + word.replace("'", "''") + "'" for word in words)


def sql_conditions(few: bool) -> dict[str, str]:
    """Return the same counts as SQL conditions."""
    swing = f"outcome IN ({_quoted(SWING_OUTCOMES)}) AND NOT bunt"
    take, pitch = f"outcome IN ({_quoted(TAKE_OUTCOMES)})", f"outcome IN ({_quoted(THROWN_OUTCOMES)})"
    told = {
        "pitches": pitch,
        "swings": swing,
        "whiffs": "outcome IN ('whiff', 'foul tip') AND NOT bunt",
        "fouls": "outcome = 'foul' AND NOT bunt",
        "in_play": "outcome = 'in play' AND NOT bunt",
        "hard": "outcome = 'in play' AND NOT bunt AND exit_mph >= 95",
    }
    if few:
        return told
    told["contact"] = "outcome IN ('foul', 'in play') AND NOT bunt"
    told["unmeasured"] = "outcome = 'in play' AND NOT bunt AND exit_mph IS NULL"
    told |= {f"two_strike_{name}": f"{condition} AND strikes = 2" for name, condition in told.items()}
    return told | {
        "takes": take,
        "foul_tips": "outcome = 'foul tip' AND NOT bunt",
        "check_swings_went": f"{swing} AND check_swing",
        "check_swings_held": f"{take} AND check_swing",
        "bunts": f"outcome IN ({_quoted(SWING_OUTCOMES)}) AND bunt",
        "plate_appearances": f"result IN ({_quoted(RESULTS)})",
        "at_bats": f"result IN ({_quoted(AT_BAT_RESULTS)})",
        "hits": f"result IN ({_quoted(tuple(HIT_BASES))})",
        **{name: f"result = '{result}'" for name, result in OF_ONE_RESULT.items()},
    }


def _with_duckdb(path: Path, few: bool, form: str) -> pd.DataFrame:
    import duckdb

    parts = [f"{form.format(condition)} AS {name}" for name, condition in sql_conditions(few).items()]
    if not few:
        bases = " + ".join(f"{n} * {form.format(f'result = {word!r}')}" for word, n in HIT_BASES.items())
        parts.append(f"{bases} AS bases")
    with duckdb.connect(config={"threads": THREADS}) as connection:
        connection.execute("SET enable_progress_bar=false")
        query = f"SELECT hitter, {', '.join(parts)} FROM read_parquet('{path}') GROUP BY hitter"
        frame: pd.DataFrame = connection.execute(query).df()
    return frame


def with_duckdb_filter(path: Path, few: bool) -> pd.DataFrame:
    """One query, ``count(*) FILTER``."""
    return _with_duckdb(path, few, "count(*) FILTER (WHERE {})")


def with_duckdb_count_if(path: Path, few: bool) -> pd.DataFrame:
    """One query, ``count_if``."""
    return _with_duckdb(path, few, "count_if({})")


def floor_of(path: Path, few: bool) -> Callable[[], pd.DataFrame]:
    """Make the codes ready; the function that comes back only counts them."""
    table = pd.read_parquet(path, columns=list(FEW_COLUMNS if few else ALL_COLUMNS))
    hitters, names = pd.factorize(table["hitter"], sort=True)
    facts = table.drop(columns="hitter")
    facts["exit_mph"] = np.select([facts["exit_mph"] >= 95, facts["exit_mph"] >= 0], [100.0, 50.0], np.nan)
    kinds = facts.drop_duplicates(ignore_index=True)
    code = np.zeros(len(facts), np.int64)
    key = np.zeros(len(kinds), np.int64)
    for name in facts:  # mixed-radix code of the facts, the same on rows and kinds
        both, values = pd.factorize(pd.concat([facts[name], kinds[name]]), use_na_sentinel=False)
        code, key = code * len(values) + both[: len(facts)], key * len(values) + both[len(facts) :]
    code = hitters * len(kinds) + pd.Index(key).get_indexer(code)
    flags = flags_by_hand(lambda name, words: kinds[name].isin(words), kinds.__getitem__, few)
    if not few:
        flags["bases"] = kinds["result"].map(HIT_BASES).fillna(0)
    weights = pd.DataFrame(flags).to_numpy(np.float64)  # exact: counts stay far below 2**53
    shape = (len(names), len(kinds))

    def count() -> pd.DataFrame:
        cells = np.bincount(code, minlength=shape[0] * shape[1]).reshape(shape)
        out = pd.DataFrame((cells @ weights).astype(np.int64), columns=list(flags))
        out.insert(0, "hitter", names)
        return out

    return count


CONTESTANTS: dict[str, Callable[[Path, bool], pd.DataFrame]] = {
    "hitlab": with_hitlab,
    "DuckDB FILTER": with_duckdb_filter,
    "DuckDB count_if": with_duckdb_count_if,
    "Polars": with_polars,
    "pandas": with_pandas,
}
FLOOR = "numpy floor"


def digest(counts: pd.DataFrame) -> str:
    """Return a hash of the counts that does not depend on the order of rows and columns."""
    plain = counts.set_index("hitter").sort_index().sort_index(axis=1).astype(np.int64)
    return hashlib.sha256(plain.to_csv().encode()).hexdigest()[:12]


def run_one(name: str, path: Path, few: bool) -> dict[str, Any]:
    """Run one contestant in this process: once untimed, then timed."""
    from hitlab.pitches.connecting import own_connection

    own_connection().execute(f"SET threads={THREADS}")
    pa.set_cpu_count(THREADS)
    call = floor_of(path, few) if name == FLOOR else lambda: CONTESTANTS[name](path, few)
    counts = call()
    first_peak = _peak()
    found, seconds = digest(counts), []
    for _ in range(REPEATS):
        start = time.perf_counter()
        call()
        seconds.append(time.perf_counter() - start)
    return {
        "digest": found,
        "seconds": statistics.median(seconds),
        "first_peak": first_peak,
        "peak": _peak(),
    }


def _peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024  # KiB on Linux


def in_own_process(name: str, path: Path, few: bool) -> dict[str, Any]:
    """Run one contestant in a fresh process."""
    command = [sys.executable, "-m", "tests.benchmarks.bench_tally", "--one", name, "--file", str(path)]
    limits = dict.fromkeys(("POLARS_MAX_THREADS", "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"), str(THREADS))
    done = subprocess.run(
        [*command, *(["--few"] if few else [])],
        env=os.environ | limits,
        check=True,
        capture_output=True,
        text=True,
    )
    answer: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return answer


def compare(path: Path, few: bool, title: str) -> None:
    """Run all contestants on one file and print the table."""
    results = {name: in_own_process(name, path, few) for name in (*CONTESTANTS, FLOOR)}
    digests = {name: result["digest"] for name, result in results.items()}
    if len(set(digests.values())) > 1:
        raise SystemExit(f"the contestants do not give equal counts: {digests}")
    own = results["hitlab"]["seconds"]
    print(f"\n{title}\n{'':18}{'median s':>10}{'hitlab takes':>16}{'peak MB, one':>14}{'all six':>9}")
    for name, result in results.items():
        ratio = f"{own / result['seconds']:.2f} times"
        print(
            f"{name:18}{result['seconds']:>10.3f}{ratio:>16}{result['first_peak']:>14.0f}{result['peak']:>9.0f}"
        )


def time_reading(folder: Path) -> None:
    """Read and check a season of 700,000 pitches from CSV and from Parquet without the mark.

    Beside each stands what DuckDB's reader takes for the cells alone, as text, in the same run.
    """
    import duckdb

    from hitlab import read_pitches

    table = make_pitches(700_000, seed=7)
    parquet.write_table(table, folder / "season.parquet")
    table.to_pandas().to_csv(folder / "season.csv", index=False)
    readers = {"season.csv": "read_csv('{}', all_varchar=true)", "season.parquet": "read_parquet('{}')"}
    for name, reader in readers.items():
        query = f"SELECT * FROM {reader.format(folder / name)}"
        ours, plain = [], []
        for _ in range(5):
            start = time.perf_counter()
            rows = read_pitches(folder / name).report.rows_read
            between = time.perf_counter()
            assert len(duckdb.sql(query).to_arrow_table()) == rows
            ours.append(between - start)
            plain.append(time.perf_counter() - between)
        print(
            f"{name}: {rows:,} rows read and checked in {statistics.median(ours):.2f} s "
            f"(best {min(ours):.2f}), "
            f"the cells alone by DuckDB in {statistics.median(plain):.2f} s (best {min(plain):.2f}): "
            f"{min(ours) / min(plain):.1f} times"
        )


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--rows", type=int, default=10_000_000)
    parser.add_argument("--reading", action="store_true", help="time reading and checking 700,000 rows")
    parser.add_argument("--scaling", action="store_true", help="time the tally from 1 to 50 million rows")
    parser.add_argument("--one", help=argparse.SUPPRESS)
    parser.add_argument("--file", type=Path, help=argparse.SUPPRESS)
    parser.add_argument("--few", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        print(json.dumps(run_one(asked.one, asked.file, asked.few)))
        return
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if asked.reading:
            time_reading(folder)
        elif asked.scaling:
            for million in (1, 2, 5, 10, 20, 50):
                path = make_file(folder / "pitches.parquet", million * 1_000_000)
                result = in_own_process("hitlab", path, few=False)
                print(
                    f"{million:>3} million rows: {result['seconds']:.3f} s, {result['first_peak']:.0f} MB",
                    flush=True,
                )
        else:
            path = make_file(folder / "all.parquet", asked.rows)
            compare(path, False, f"all 28 counts, {asked.rows:,} pitches, {HITTERS:,} hitters")
            path = make_file(folder / "few.parquet", asked.rows, FEW_COLUMNS)
            compare(path, True, f"6 counts of 4 columns (hitlab: all 11 they allow), {asked.rows:,} pitches")


if __name__ == "__main__":
    main()
