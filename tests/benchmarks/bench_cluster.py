"""How long a tally takes on Dask and on Spark, beside the same counts asked of the engine by hand.

    python -m tests.benchmarks.bench_cluster TABLE [TABLE ...] [--engine dask | spark] [--partitions 4]

TABLE is a Parquet table of pitches. Each is a partition; of one alone, its row groups are dealt out to the
partitions in files of their own. Both contestants run in turns in one process (Dask: two worker processes of
one thread each; Spark: local, two threads), once untimed and then five times. Given are the best of the wall
seconds and of the processors' seconds (this process and all that it started), the ratios of both, and what
comes home. Times are compared only where the counts are equal.

By hand is the same job for the same facts, as one who knows the engine writes it: on Dask one grouping by
what the counts rest on, weighed in pandas; on Spark one question in SQL with ``count_if``. hitlab looks at
the kinds of columns, at names, levels and bats besides.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
import warnings
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

import pandas as pd
import psutil
from pyarrow import parquet

from hitlab import tally
from hitlab.counting import brought_home
from hitlab.counting.events import AT_BAT_RESULTS, HIT_BASES
from hitlab.pitches.schema import SWING_OUTCOMES, TAKE_OUTCOMES, THROWN_OUTCOMES

REPEATS = 5
DEEP = ("swings", "whiffs", "fouls", "hard", "unmeasured")
COUNTS = (
    *("swings", "whiffs", "fouls", "in_play", "hard", "unmeasured", "check_swings_went", "hits"),
    *(f"two_strike_{name}" for name in DEEP),
)
COLUMNS = ["hitter_id", "hitter", "club", "outcome", "bunt", "check_swing", "strikes", "exit_mph", "result"]


def in_parts(tables: list[Path], folder: Path, partitions: int) -> list[Path]:
    """Return a file a partition: the tables themselves, or the row groups of one dealt out."""
    if len(tables) > 1:
        return tables
    source = parquet.ParquetFile(tables[0])
    paths = [folder / f"part_{number}.parquet" for number in range(partitions)]
    for number, path in enumerate(paths):
        groups = list(range(number, source.num_row_groups, partitions))
        parquet.write_table(source.read_row_groups(groups), path, compression="zstd")
    return paths


def dask_by_hand(table: Any) -> pd.DataFrame:
    """Group by the facts that the counts rest on, and weigh them in pandas, as Dask's own users do."""
    rows = table[COLUMNS]
    swung = rows["outcome"].isin(list(SWING_OUTCOMES)) & ~rows["bunt"].fillna(False).astype(bool)
    in_play = swung & (rows["outcome"] == "in play")
    fast = rows["exit_mph"] >= 95
    told = rows[["hitter_id", "hitter", "club", "outcome", "result"]].assign(
        swung=swung,
        deep=rows["strikes"] == 2,
        checked=rows["check_swing"].fillna(False).astype(bool),
        hard=in_play & fast,
        unknown=in_play & ~(rows["exit_mph"] >= 0),
    )
    found = told.groupby(list(told.columns), dropna=False, sort=False).size().compute()
    kinds = found.rename("n").reset_index()
    swung, outcome = kinds["swung"], kinds["outcome"]
    flags = {
        "swings": swung,
        "whiffs": swung & outcome.isin(["whiff", "foul tip"]),
        "fouls": swung & (outcome == "foul"),
        "in_play": swung & (outcome == "in play"),
        "hard": kinds["hard"],
        "unmeasured": kinds["unknown"],
        "check_swings_went": swung & kinds["checked"],
        "hits": kinds["result"].isin(list(HIT_BASES)),
    }
    flags |= {f"two_strike_{name}": flags[name] & kinds["deep"] for name in DEEP}
    whole = kinds[["hitter_id"]].assign(
        **{name: flag.astype("int64") * kinds["n"] for name, flag in flags.items()}
    )
    sums: pd.DataFrame = whole.groupby("hitter_id").sum().reset_index()
    return sums.merge(kinds[["hitter_id", "hitter", "club"]].drop_duplicates("hitter_id"), on="hitter_id")


def spark_by_hand(table: Any) -> pd.DataFrame:
    """Ask for all counts in one question."""

    def among(column: str, words: Iterable[str]) -> str:
        return f"{column} IN ({', '.join(repr(word) for word in words)})"

    tests = {
        "pitches": among("outcome", THROWN_OUTCOMES),
        "swings": "swung",
        "takes": among("outcome", TAKE_OUTCOMES),
        "whiffs": "swung AND outcome IN ('whiff', 'foul tip')",
        "fouls": "swung AND outcome = 'foul'",
        "foul_tips": "swung AND outcome = 'foul tip'",
        "contact": "swung AND outcome IN ('foul', 'in play')",
        "in_play": "swung AND outcome = 'in play'",
        "hard": "swung AND outcome = 'in play' AND exit_mph >= 95",
        "unmeasured": "swung AND outcome = 'in play' AND exit_mph IS NULL",
        "bunts": f"bunt AND {among('outcome', SWING_OUTCOMES)}",
        "check_swings_went": "swung AND check_swing",
        "check_swings_held": f"check_swing AND {among('outcome', TAKE_OUTCOMES)}",
        "plate_appearances": "result IS NOT NULL",
        "at_bats": among("result", AT_BAT_RESULTS),
        "hits": among("result", HIT_BASES),
    }
    deep = ("pitches", "contact", "in_play", *DEEP)
    tests |= {f"two_strike_{name}": f"strikes = 2 AND {tests[name]}" for name in deep}
    counts = ", ".join(f"count_if({test}) AS {name}" for name, test in tests.items())
    table.createOrReplaceTempView("pitches_by_hand")
    found: pd.DataFrame = table.sparkSession.sql(f"""
        WITH told AS (
            SELECT *, {among("outcome", SWING_OUTCOMES)} AND NOT coalesce(bunt, false) AS swung
            FROM pitches_by_hand)
        SELECT hitter_id, first(hitter) AS hitter, first(club) AS club, {counts}
        FROM told GROUP BY hitter_id""").toPandas()
    return found


def processors_seconds() -> float:
    """Return what this process and all that it started took of the processors so far."""
    own = psutil.Process()
    total = 0.0
    for process in (own, *own.children(recursive=True)):
        times = process.cpu_times()
        total += times.user + times.system
    return total


def timed(ask: Callable[[Any], pd.DataFrame], table: Any) -> tuple[float, float, pd.DataFrame]:
    """Ask once."""
    before, start = processors_seconds(), time.perf_counter()
    found = ask(table)
    return time.perf_counter() - start, processors_seconds() - before, found


def by_hitlab(table: Any) -> pd.DataFrame:
    """Count all that the columns allow."""
    return tally(table).table()


def compare(by_hand: Callable[[Any], pd.DataFrame], table: Any, rows: int) -> None:
    """Run both in turns and print the table."""
    asks = {"hitlab": by_hitlab, "by hand": by_hand}
    counts = {name: ask(table) for name, ask in asks.items()}
    told = [one.sort_values("hitter_id", ignore_index=True)[list(COUNTS)] for one in counts.values()]
    if not told[0].astype("int64").equals(told[1].astype("int64")):
        raise SystemExit("the two do not give equal counts")
    times: dict[str, list[tuple[float, float]]] = {name: [] for name in asks}
    for _ in range(REPEATS):
        for name, ask in asks.items():
            times[name].append(timed(ask, table)[:2])
    best = {name: [min(column) for column in zip(*found, strict=True)] for name, found in times.items()}
    with brought_home() as tables:
        by_hitlab(table)
    mine, theirs = (counts[name].shape[1] for name in asks)
    print(f"{rows:,} pitches, {mine} columns by hitlab, {theirs} by hand")
    print(f"{'':10}{'wall s':>9}{'processors s':>14}{'pitches a second':>18}")
    for name, (wall, processors) in best.items():
        print(f"{name:10}{wall:>9.2f}{processors:>14.2f}{rows / wall:>18,.0f}")
    wall, processors = (ours / plain for ours, plain in zip(*best.values(), strict=True))
    print(f"hitlab takes {wall:.2f} times the wall seconds, {processors:.2f} times the processors'")
    for one in tables:
        print(f"came home: {one.rows:,} rows of {one.columns} columns, {one.size_bytes:,} bytes")


def on_dask(paths: list[Path], rows: int) -> None:
    """Compare on two worker processes."""
    import dask.dataframe as dd
    from distributed import Client, LocalCluster

    with (
        LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0", host="127.0.0.1"
        ) as cluster,
        Client(cluster),
    ):
        compare(dask_by_hand, dd.read_parquet([str(path) for path in paths]), rows)


def on_spark(paths: list[Path], rows: int) -> None:
    """Compare in Spark's local mode."""
    from pyspark.sql import SparkSession

    session = (
        SparkSession.builder.master("local[2]")
        .config("spark.ui.enabled", "false")
        .config("spark.sql.shuffle.partitions", "2")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .config("spark.driver.host", "127.0.0.1")
        .getOrCreate()
    )
    try:
        compare(spark_by_hand, session.read.parquet(*(str(path) for path in paths)), rows)
    finally:
        session.stop()


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("tables", nargs="+", type=Path)
    parser.add_argument("--engine", choices=("dask", "spark"), default="dask")
    parser.add_argument("--partitions", type=int, default=4)
    asked = parser.parse_args()
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    warnings.simplefilter("ignore")
    with tempfile.TemporaryDirectory() as name:
        paths = in_parts(asked.tables, Path(name), asked.partitions)
        rows = sum(parquet.ParquetFile(path).metadata.num_rows for path in paths)
        (on_dask if asked.engine == "dask" else on_spark)(paths, rows)


if __name__ == "__main__":
    main()
