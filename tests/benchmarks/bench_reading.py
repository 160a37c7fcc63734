"""What it costs to read a large text file into a folder of saved tables, beside DuckDB's own reader.

    python -m tests.benchmarks.bench_reading [--rows 500000 1000000 2000000 4000000] [--rounds 1]

An invented season, repeated under other names of games, as CSV with 39 columns. Each step is a process of its
own, in turn: DuckDB's reader with types into a table in memory, ``read_into`` with all columns, and with
eight of them mapped and the others not asked for; both with a file of those eight columns alone; at the
smallest size also ``read_pitches``, which holds all rows. It prints the rows a second (of the processor's
seconds, those of all threads together, and as they pass) as shares of DuckDB's, and the peak of each process.
DuckDB gives every column a type; ours are judged, held against each other, and written, compressed and
sealed, and what it cannot read it would refuse whole.
"""

from __future__ import annotations

import argparse
import json
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv

SIZES = (500_000, 1_000_000, 2_000_000, 4_000_000)
MAPPED = ("game", "plate_appearance", "pitch", "hitter", "outcome", "balls", "strikes", "date")
PITCHES = 100_000


def make_files(folder: Path, rows: int) -> dict[str, Path]:
    """Write the same pitches under our names of columns, under others, and eight columns of them alone."""
    from hitlab.league import make_season
    from hitlab.pitches.sources import as_arrow

    table = as_arrow(make_season(pitches=PITCHES, seed=1).pitches)
    at = table.schema.get_field_index("game")
    paths = {kind: folder / f"{kind}-{rows}.csv" for kind in ("ours", "others", "narrow")}
    for kind, path in paths.items():
        wanted = list(MAPPED) if kind == "narrow" else table.column_names
        names = [f"the {name}" for name in wanted] if kind == "others" else wanted
        written = 0
        with (
            pa.OSFile(str(path), "wb") as file,
            csv.CSVWriter(file, table.select(wanted).rename_columns(names).schema) as writer,
        ):
            while written < rows:
                some = table.slice(0, min(rows - written, table.num_rows))
                games = some.column("game").cast(pa.string())
                games = pc.binary_join_element_wise(f"s{written}", games, "-")
                some = some.set_column(at, "game", games).cast(table.schema)
                writer.write_table(some.select(wanted).rename_columns(names))
                written += some.num_rows
    return paths


def run_one(step: str, path: Path, into: Path) -> dict[str, float]:
    """Do one step; the processor's seconds, those that passed, and the peak in MB."""
    import duckdb

    import hitlab
    from hitlab.pitches import read_into, read_pitches

    mapping = {"columns": {f"the {name}": name for name in MAPPED}}
    start, elapsed = time.process_time(), time.perf_counter()
    if step.startswith("duckdb"):
        duckdb.sql(f"CREATE TABLE pitches AS SELECT * FROM read_csv('{path}')")
    elif step in ("read_into", "read_into, narrow"):
        read_into(path, into)
    elif step == "read_into, few mapped":
        read_into(path, into, mapping)
    elif step == "read_pitches":
        read_pitches(path)
    else:
        read_pitches(path, mapping)
    seconds = {"processor": time.process_time() - start, "elapsed": time.perf_counter() - elapsed}
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    assert hitlab.__version__
    return {**seconds, "peak": peak}


def main() -> None:
    """Print the shares."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--rows", type=int, nargs="+", default=SIZES)
    parser.add_argument("--rounds", type=int, default=1)
    parser.add_argument("--one", nargs=3, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        step, path, into = asked.one
        print(json.dumps(run_one(step, Path(path), Path(into))))
        return
    for rows in sorted(asked.rows):
        steps = ["duckdb", "read_into", "read_into, few mapped", "duckdb, narrow", "read_into, narrow"]
        steps += ["read_pitches", "read_pitches, few mapped"] if rows == min(asked.rows) else []
        found: dict[str, list[dict[str, float]]] = {step: [] for step in steps}
        with tempfile.TemporaryDirectory() as name:
            paths = make_files(Path(name), rows)
            for number in range(asked.rounds):
                for step in steps:
                    path = paths["others" if "few" in step else "narrow" if "narrow" in step else "ours"]
                    into = Path(name) / f"{number} {step}"
                    command = [sys.executable, "-m", "tests.benchmarks.bench_reading", "--one"]
                    command += [step, str(path), str(into)]
                    done = subprocess.run(command, capture_output=True, text=True, check=True)
                    found[step].append(json.loads(done.stdout))
        print(f"{rows:,} rows of 39 columns; narrow: of {len(MAPPED)}")
        for step, some in found.items():
            beside = found["duckdb, narrow" if "narrow" in step else "duckdb"]
            base = {kind: statistics.median(one[kind] for one in beside) for kind in ("processor", "elapsed")}
            spent, passed = (statistics.median(one[kind] for one in some) for kind in base)
            print(
                f"  {step}: {rows / spent:,.0f} rows a second of the processor "
                f"({base['processor'] / spent:.2f} of DuckDB's), {rows / passed:,.0f} as they pass "
                f"({base['elapsed'] / passed:.2f}); peak "
                f"{max(one['peak'] for one in some):,.0f} MB",
                flush=True,
            )


if __name__ == "__main__":
    main()
