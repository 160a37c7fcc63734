"""For every kind of claim that rests on counts: does what is said come true as often as stated?

    python -m tests.benchmarks.calibration_report [--leagues N] [--kinds ...] [--settings ...] [--processes N]

draws leagues of 15, 40 and 150 hitters under several laws of the truth, states the chances of the claims by
the functions that the claims use, and prints stated against realised frequency, with Monte Carlo errors and
whether the bounds that were set beforehand are met. The numbers depend on seed and sizes only, not on the
number of processes. With ``--write FOLDER`` the report is kept: two tables, the text, the picture; kinds that
were not made stay there as they were, with the number of leagues and the seed that they were made with. The
committed one, in ``tests/reference``, was made by

    python -m tests.benchmarks.calibration_report --write tests/reference
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path

import pandas as pd

from hitlab.wording import rate_text
from tests.benchmarks.calibration_kinds import KINDS, PART, SETTINGS
from tests.benchmarks.calibration_scores import ALL, FIGURES, score_all
from tests.benchmarks.calibration_stated import Stated

LEAGUES, SEED = 96, 1
"""Of the committed report: leagues of 150 hitters by kind of truth; smaller ones get more."""

FOLDER = Path(__file__).parents[1] / "reference"
KEPT = Path(__file__).parents[2] / "hitlab" / "claims" / "kept.csv"
TITLE = "Stated against realised frequency"
COMMAND = "python -m tests.benchmarks.calibration_report --write tests/reference"

_ONE_THREAD = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")


def state_part(name: str, number: int, leagues: int, seed: int, kinds: frozenset[str]) -> list[Stated]:
    """State the claims of one part of a setting; a process of its own can do it."""
    return SETTINGS[name].part(number, leagues, seed, kinds)


def state_all(
    leagues: int, seed: int, kinds: Sequence[str], settings: Sequence[str], processes: int
) -> dict[str, list[Stated]]:
    """State the claims of all settings, in parts of ten leagues, and show how far it is."""
    asked = frozenset(kinds)
    parts: list[tuple[str, int, int]] = []
    for name, setting in SETTINGS.items():
        if name in settings and asked & set(setting.kinds):
            many = max(1, round(leagues * setting.weight))
            parts += [(name, i, min(PART, many - first)) for i, first in enumerate(range(0, many, PART))]
    done: dict[tuple[str, int, int], list[Stated]] = {}
    total, ready = sum(size for _, _, size in parts), 0
    with _one_thread(), ProcessPoolExecutor(processes, get_context("spawn")) as pool:
        waiting = {pool.submit(state_part, *part, seed, asked): part for part in parts}
        for one in as_completed(waiting):
            done[waiting[one]] = one.result()
            ready += waiting[one][2]
            print(f"\r{ready:,} of {total:,} leagues", end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)
    result: dict[str, list[Stated]] = {}
    for part in parts:
        result.setdefault(part[0], []).extend(done[part])
    return result


@contextmanager
def _one_thread() -> Iterator[None]:
    """Give new processes one thread each: they share the machine."""
    before = {name: os.environ.get(name) for name in _ONE_THREAD}
    os.environ.update(_ONE_THREAD)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


_HEAD = """\
# {title}

Made by `{command}` ({made_with}).
The tables are `calibration.csv` and `calibration_bins.csv`, the picture is `calibration.svg`. All leagues are
drawn; there are no real counts in it.

- **above, league**: above the true rates of everybody else, weighted by exposure. **near**: within a tenth of
  1/2, 1/3, 1/4, 1/5, 1/6, 1/8 or 1/10, whichever is nearest to the league's observed rate. **leads**: the one
  with the highest observed rate; **anybody**: all with a chance of .05 or more; **club**: among a club's
  hitters; **lowest**: the one with the lowest. **split, usual**: a log odds ratio above the mean of its law.
  **more, different**: odds higher or lower by 1.25 times or more. The chances of below and less are one less
  those of above and more, and need no table.
- **stated, came true**: mean stated chance, and the share that came true.
- **error (luck)**: expected calibration error over ten bins, and in brackets what luck alone would give with
  so many leagues if every chance were right. **oracle**: the same error for a fit that knows the law the
  truth was drawn from.
- **slope** (from 20 leagues up): of a logistic regression of what came true on the stated log odds; 1 is
  right, below 1 is overconfident.
- **coverage**: of the 90 % intervals, of the rate (above; under leads the observed leader's), of the log odds
  ratio (split, more), of the rate in the last stretch (hot).
- **holds, does not hold**: how often the verdict was given, and how often it was right; it says .90.
- ± is one Monte Carlo standard error, with a league as the unit.
- **bounds met**: yes; no; open where one is missed by less than two standard errors (calibration error: by
  less than luck and two standard deviations of it), or where the verdict was given fewer than ten times.
  Everywhere: verdicts right at least .90, coverage at least .88. Others are aims for one setting.

Response and spot are not here, because they do not rest on counts of hitters alone; together has a
simulation of its own (`bench_together`).
"""

_COLUMNS = (
    "setting", "leagues", "chances", "stated", "came true", "error (luck)", "oracle", "slope", "coverage",
    "holds: given, right", "does not hold: given, right", "bounds met",
)  # fmt: skip


def as_text(rows: pd.DataFrame) -> str:
    """Return the report as Markdown, made from its rows alone."""
    lines = [
        _HEAD.format(title=TITLE, command=COMMAND, made_with=_made_with(rows)),
        "| setting | hitters: truth |",
        "|---|---|",
    ]
    settings = rows[rows["setting"] != ALL].drop_duplicates("setting")
    lines += [
        f"| {name} | {SETTINGS[name].hitters}: {truth} |"
        for name, truth in zip(settings["setting"], settings["truth"], strict=True)
    ]
    for kind, table in rows.groupby("kind", sort=False):
        lines += ["", f"## {kind}", "", f"| {' | '.join(_COLUMNS)} |", "|---" * len(_COLUMNS) + "|"]
        lines += [_line(row) for _, row in table.iterrows()]
    for answer, words in (("no", "Bounds missed"), ("open", "Bounds that this many leagues do not settle")):
        found = [
            f"- {row['kind']}, {row['setting']}: {_missed(row, answer)}"
            for _, row in rows.iterrows()
            if _missed(row, answer)
        ]
        lines += ["", f"## {words}", "", *(found or ["None."])]
    return "\n".join(lines) + "\n"


def _made_with(rows: pd.DataFrame) -> str:
    """Say with what the rows were made; of several runs also which kinds."""
    runs = rows.groupby("made_with", sort=False)["kind"].unique()
    if len(runs) == 1:
        return f"`{runs.index[0]}`"
    return "; ".join(f"`{run}`: {', '.join(f'**{kind}**' for kind in kinds)}" for run, kinds in runs.items())


def _line(row: pd.Series) -> str:
    cells = [
        str(row["setting"]),
        f"{int(row['leagues']):,}",
        f"{int(row['chances']):,}",
        rate_text(row["stated"]),
        rate_text(row["came"]),
        f"{rate_text(row['error'])} ({rate_text(row['luck'])})",
        _number(row["oracle_error"]),
        _with_error(row["slope"], row["slope_error"], 2),
        _with_error(row["coverage"], row["coverage_error"], 3),
        *(
            f"{rate_text(row[name])}, {_with_error(row[f'{name}_right'], row[f'{name}_right_error'], 3)}"
            if row[name] > 0
            else "never"
            for name in ("holds", "fails")
        ),
        str(row["met"]),
    ]
    return f"| {' | '.join(cells)} |"


def _number(value: float) -> str:
    return "" if pd.isna(value) else rate_text(value)


def _with_error(value: float, error: float, digits: int) -> str:
    if pd.isna(value):
        return ""
    texts = [f"{one:.{digits}f}".replace("0.", ".", 1) for one in (value, error)]
    return " ± ".join(texts)


def _missed(row: pd.Series, answer: str) -> str:
    """Return the bounds with an answer, and what was measured."""
    columns = {words: column for column, words in FIGURES.items()}
    said = []
    for part in str(row["bounds"]).split("; "):
        words, _, met = part.rpartition(": ")
        if met == answer:
            name = next((c for w, c in columns.items() if words.startswith(w)), words.split(" ")[0])
            said.append(f"{words}; measured {rate_text(row[name])}")
    return "; ".join(said)


def read(folder: Path = FOLDER) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return the rows and bins of a report that was kept."""
    rows = pd.read_csv(folder / "calibration.csv", keep_default_na=False, na_values=["none"])
    return rows, pd.read_csv(folder / "calibration_bins.csv")


def with_kept(made: tuple[pd.DataFrame, pd.DataFrame], folder: Path) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Put what was made in the place of a kept report's rows and bins of the same kinds."""
    if not (folder / "calibration.csv").exists():
        return made
    rows, bins = (
        pd.concat([kept[~kept["kind"].isin(new["kind"])], new]).sort_values(
            "kind", key=lambda kind: kind.map(KINDS.index), kind="stable", ignore_index=True
        )
        for kept, new in zip(read(folder), made, strict=True)
    )
    return rows, bins


def condensed(bins: pd.DataFrame) -> pd.DataFrame:
    """Return how often claims came true over all laws, by kind, number of hitters and tenth of the chance."""
    told = bins[bins["setting"] != ALL]
    told = told.assign(
        hitters=told["setting"].str.split(",").str[0].astype(int),
        tenth=(told["bin"] * 10).round().astype(int),
        stated=told["stated"] * told["number"],
        came=told["came"] * told["number"],
    )
    sums = told.groupby(["kind", "hitters", "tenth"], sort=False)[["number", "stated", "came"]].sum()
    means = sums[["stated", "came"]].div(sums["number"], axis=0).round(4)
    return sums[["number"]].join(means).reset_index()


def write(rows: pd.DataFrame, bins: pd.DataFrame, text: str, folder: Path) -> None:
    """Keep a report: tables, text and picture."""
    import matplotlib as mpl

    from hitlab.plots import describe
    from hitlab.plots.calibration_picture import calibration

    folder.mkdir(parents=True, exist_ok=True)
    rows.to_csv(folder / "calibration.csv", index=False, na_rep="none", lineterminator="\n")
    bins.to_csv(folder / "calibration_bins.csv", index=False, lineterminator="\n")
    if folder.resolve() == FOLDER.resolve():  # what each answer tells of it
        condensed(bins).to_csv(KEPT, index=False, lineterminator="\n")
    (folder / "calibration.md").write_text(text, encoding="utf-8", newline="\n")
    ax = calibration(bins)
    figure = ax.get_figure(root=True)
    about = {"Date": None, "Creator": None, "Title": TITLE, "Description": describe(ax)}
    with mpl.rc_context({"svg.hashsalt": "calibration"}):
        figure.savefig(folder / "calibration.svg", metadata=about)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run from the command line."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--leagues", type=int, default=LEAGUES, help="leagues of 150 hitters a setting")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument(
        "--kinds", nargs="+", choices=KINDS, default=KINDS, metavar="KIND", help=" | ".join(KINDS)
    )
    parser.add_argument(
        "--settings", nargs="+", choices=list(SETTINGS), default=list(SETTINGS), metavar="SETTING",
        help=" | ".join(SETTINGS),
    )  # fmt: skip
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--write", type=Path, metavar="FOLDER", help="keep tables, text and picture there")
    options = parser.parse_args(arguments)
    if min(options.leagues, options.processes) < 1:
        parser.error("--leagues and --processes: give a whole number from 1 up")
    start = time.perf_counter()
    stated = state_all(options.leagues, options.seed, options.kinds, options.settings, options.processes)
    if not stated:
        parser.error("none of these settings can state any of these kinds")
    rows, bins = score_all(stated, options.kinds)
    rows["made_with"] = f"--leagues {options.leagues} --seed {options.seed}"
    if options.write:
        rows, bins = with_kept((rows, bins), options.write)
    text = as_text(rows)
    print(text)
    if options.write:
        write(rows, bins, text, options.write)
    print(f"{time.perf_counter() - start:.0f} s with {options.processes} processes", file=sys.stderr)


if __name__ == "__main__":
    main()
