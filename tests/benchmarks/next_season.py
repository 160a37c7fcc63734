"""Next season's hits per at-bat foretold from this season's, on real season lines.

    python -m tests.benchmarks.next_season --first 1872 --step 1

A season's hitters with at least 50 at-bats are shrunk as ``shrink`` does without options: their hits and
at-bats alone, with what else the season's lines tell of them (``TOLD``), and with their last seasons. Those
with 50 at-bats in the next season, too, are scored. The error is the squared difference to the next season's
rate less the luck in that (p (1 - p) / n), summed over all seasons, as a share of that of the raw rates. No
number of the next season enters a forecast. Only hitters with long careers are in the lines, pitchers among
them: a test of the method, no statement about leagues or ageing.
"""

from __future__ import annotations

import argparse
from collections.abc import Collection, Iterable
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab

FEWEST = 50
WITH_EARLIER = (1, 3)
TOLD = ("at_bats_a_game", "walk_share", "strikeout_share", "steals_a_game")
"""Covariates, chosen before any error was seen; columns that a season does not record are left out of it."""


METHODS = ("one mean for all", "with other columns", *(f"{n} earlier" for n in (0, *WITH_EARLIER)))


def shares(seasons: Iterable[int], methods: Collection[str] = METHODS) -> pd.DataFrame:
    """Score seasons: by season and method the summed noise-adjusted squared error, and who was scored."""
    lines = _told(hitlab.season_lines(1))
    by_season = dict(list(lines[["hitter", "season", "hits", "at_bats", *TOLD]].groupby("season")))
    nobody = lines.iloc[:0]
    rows = []
    for season in seasons:
        now, after = (_enough(by_season.get(year, nobody)) for year in (season, season + 1))
        both = now.merge(after, on="hitter", suffixes=("", "_next"))
        if both.empty:
            continue
        errors = {"raw": _error(both, (both["hits"] / both["at_bats"]).to_numpy(float))}
        for method in methods:
            options: dict[str, Any] = {}
            if method == "one mean for all":
                options["by_exposure"] = False
            elif method == "with other columns":
                options["covariates"] = [name for name in TOLD if now[name].notna().any()]
                options["traits"] = now
            else:
                before = range(season - 1, season - 1 - int(method.split()[0]), -1)
                options["earlier"] = [_counts(by_season.get(year, nobody)) for year in before] or None
            fit = hitlab.shrink(_counts(now), "hits", "at_bats", **options)
            foretold = both["hitter"].map(fit.data.set_index("hitter")["shrunk"]).to_numpy(float)
            errors[method] = _error(both, foretold)
        rows.append({"season": season, "hitters": len(both), **errors})
    return pd.DataFrame(rows)


def _told(lines: pd.DataFrame) -> pd.DataFrame:
    at_bats = lines["at_bats"].where(lines["at_bats"] > 0)
    told = {
        "at_bats_a_game": at_bats / lines["games"],
        "walk_share": lines["walks"] / (at_bats + lines["walks"]),
        "strikeout_share": lines["strikeouts"] / at_bats,
        "steals_a_game": lines["stolen_bases"].astype("Float64") / lines["games"],
    }
    return lines.assign(**{name: values.astype("Float64").astype(float) for name, values in told.items()})


def _enough(lines: pd.DataFrame) -> pd.DataFrame:
    return lines[lines["at_bats"] >= FEWEST]


def _counts(lines: pd.DataFrame) -> pd.DataFrame:
    return lines[["hitter", "hits", "at_bats"]]


def _error(both: pd.DataFrame, foretold: NDArray[np.float64]) -> float:
    n = both["at_bats_next"].to_numpy(float)
    p = both["hits_next"].to_numpy(float) / n
    return float(((foretold - p) ** 2 - p * (1 - p) / n).sum())


def main() -> None:
    """Score from the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--first", type=int, default=1872)
    parser.add_argument("--last", type=int, default=2006)
    parser.add_argument("--step", type=int, default=1)
    options = parser.parse_args()
    scored = shares(range(options.first, options.last + 1, options.step))
    errors = scored.drop(columns=["season", "hitters"])
    share = errors.sum() / errors["raw"].sum()
    rng = np.random.default_rng(0)
    again = errors.to_numpy()[rng.integers(0, len(errors), (1_000, len(errors)))].sum(axis=1)
    spread = (again / again[:, :1]).std(axis=0)
    print(f"{len(scored)} seasons, {scored['hitters'].sum():,} hitters' seasons")
    for name, one, error in zip(share.index, share, spread, strict=True):
        print(f"{name}: {one:.3f} of the raw error (standard error over seasons {error:.3f})")


if __name__ == "__main__":
    main()
