"""How long a tally takes on Dask and on Spark, beside the same counts asked of the engine by hand.

    python -m tests.benchmarks.bench_cluster TABLE [TABLE ...] [--engine dask | spark] [--partitions 4]

TABLE is a Parquet table of pitches. Each is a partition; of one alone, its row groups are dealt out to the
partitions in files of their own. Both contestants run in turns in one process (Dask: two worker processes of
one thread each; Spark: local, two threads), once untimed and then five times. Given are the best of the wall
seconds and of the processors' seconds (this process and all that it started), the ratios of both, and what
comes home. Times are compared only where the counts are equal.

By hand there are the counts of swings, whiffs, fouls, balls in play, hard balls and hits, written as
one who knows the engine writes them: flags and one grouping. hitlab gives all counts that the columns allow,
with the names that belong to the hitters.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import psutil
from pyarrow import parquet

from hitlab import tally
from hitlab.counting import brought_home
from hitlab.pitches.schema import SWING_OUTCOMES

REPEATS = 5
COUNTS = ("swings", "whiffs", "fouls", "in_play", "hard", "hits")
COLUMNS = ["hitter_id", "hitter", "outcome", "bunt", "exit_mph", "result"]
HITS = ("single", "double", "triple", "home run")


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
    """Sum flags by hitter, as Dask's own users do."""
    rows = table[COLUMNS]
    swung = rows["outcome"].isin(list(SWING_OUTCOMES)) & ~rows["bunt"].fillna(False).astype(bool)
    in_play = swung & (rows["outcome"] == "in play")
    flags = {
        "swings": swung,
        "whiffs": swung & rows["outcome"].isin(["whiff", "foul tip"]),
        "fouls": swung & (rows["outcome"] == "foul"),
        "in_play": in_play,
        "hard": in_play & (rows["exit_mph"] >= 95),
        "hits": rows["result"].isin(list(HITS)),
    }
    whole = rows[["hitter_id"]].assign(**{name: flag.astype("int64") for name, flag in flags.items()})
    found = whole.groupby("hitter_id")[list(COUNTS)].sum().compute()
    names = rows[["hitter_id", "hitter"]].drop_duplicates().compute().drop_duplicates("hitter_id")
    return found.reset_index().merge(names, on="hitter_id")


def spark_by_hand(table: Any) -> pd.DataFrame:
    """Ask one question in SQL."""
    table.createOrReplaceTempView("pitches_by_hand")
    swings = ", ".join(f"'{word}'" for word in SWING_OUTCOMES)
    hits = ", ".join(f"'{word}'" for word in HITS)
    found: pd.DataFrame = table.sparkSession.sql(f"""
        WITH told AS (SELECT *, outcome IN ({swings}) AND NOT coalesce(bunt, false) AS swung
                      FROM pitches_by_hand)
        SELECT hitter_id, first(hitter) AS hitter,
            count_if(swung) AS swings,
            count_if(swung AND outcome IN ('whiff', 'foul tip')) AS whiffs,
            count_if(swung AND outcome = 'foul') AS fouls,
            count_if(swung AND outcome = 'in play') AS in_play,
            count_if(swung AND outcome = 'in play' AND exit_mph >= 95) AS hard,
            count_if(result IN ({hits})) AS hits
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
    print(f"{rows:,} pitches, {counts['hitlab'].shape[1]} columns by hitlab, {len(COUNTS)} counts by hand")
    print(f"{'':10}{'wall s':>9}{'processors s':>14}{'pitches a second':>18}")
    for name, (wall, processors) in best.items():
        print(f"{name:10}{wall:>9.2f}{processors:>14.2f}{rows / wall:>18,.0f}")
    wall, processors = (mine / theirs for mine, theirs in zip(*best.values(), strict=True))
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
