"""Two kinds of hitters in one table: one call that is told the kinds, against the table cut in two by hand.

    python -m tests.benchmarks.kinds_of_hitters --leagues 40 --seed 9000
    python -m tests.benchmarks.kinds_of_hitters --lines

The kinds differ in the mean, in the spread, in what the number of swings tells, or in all three, or not at
all; true rates have one of four shapes. Within each kind: the root mean square error of the shrunk rates as a
share of that of the raw ones, how many 90 % intervals cover, and how often "A is ahead of B", stated at more
than .9 for two of a kind, is true. ``--lines``: next season foretold from real season lines as in
``next_season``, those who never have 150 at-bats in a season (pitchers, nearly all) and the others.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import expit, logit, ndtr

import hitlab
from hitlab.estimates.posterior import Posterior
from tests.benchmarks.calibration_leagues import SHAPES
from tests.benchmarks.next_season import FEWEST

Floats = NDArray[np.float64]

_SURE, _DRAWS = 0.9, 1_000
_FEWEST_OF_A_KIND = 5  # to be cut off by hand, in a season's lines
_PITCHERS_MOST = 150  # at-bats in their best season


@dataclass(frozen=True, slots=True)
class Kind:
    """Share of the hitters, mean and spread of their true rates, slope in log swings, and their swings."""

    share: float
    mean: float
    spread: float
    slope: float
    swings: tuple[int, int]


def _two(means: tuple[float, float], spreads: tuple[float, float], slopes: tuple[float, float]) -> list[Kind]:
    return [
        Kind(0.6, means[0], spreads[0], slopes[0], (40, 600)),
        Kind(0.4, means[1], spreads[1], slopes[1], (20, 200)),
    ]


KINDS = {
    "alike": _two((0.17, 0.17), (0.025, 0.025), (0.1, 0.1)),
    "means": _two((0.20, 0.14), (0.025, 0.025), (0.1, 0.1)),
    "spreads": _two((0.20, 0.14), (0.015, 0.050), (0.0, 0.0)),
    "slopes": _two((0.20, 0.14), (0.020, 0.020), (0.25, -0.1)),
    "all": _two((0.20, 0.14), (0.015, 0.045), (0.25, 0.0)),
}
RATES: dict[str, Callable[[np.random.Generator, int], Floats]] = {
    **{name: SHAPES[name] for name in ("normal", "skewed", "heavy both", "falling")},
    "uniform": lambda rng, size: rng.uniform(-np.sqrt(3), np.sqrt(3), size),
}
"""Shapes of the true rates, of mean 0 and standard deviation 1."""


def league(kinds: list[Kind], shape: str, hitters: int, rng: np.random.Generator) -> pd.DataFrame:
    """Draw a league: ``hitter``, ``role``, ``true``, ``swings``, ``hard``."""
    parts = []
    for name, kind in zip("ab", kinds, strict=True):
        count = round(kind.share * hitters)
        low, high = np.log(kind.swings)
        swings = np.rint(np.exp(rng.uniform(low, high, count))).astype(int)
        mean = expit(logit(kind.mean) + kind.slope * (np.log(swings) - (low + high) / 2))
        true = (mean + kind.spread * RATES[shape](rng, count)).clip(0.005, 0.8)
        parts.append(pd.DataFrame({"role": name, "true": true, "swings": swings}))
    table = pd.concat(parts, ignore_index=True)
    names = [f"hitter {i:03d}" for i in range(len(table))]
    return table.assign(hitter=names, hard=rng.binomial(table["swings"], table["true"]))


def fits(
    counts: pd.DataFrame, role: NDArray[Any], event: str, per: str, **more: Any
) -> dict[str, list[tuple[Floats, Any]]]:
    """Fit without kinds, told them, and cut by hand: places and fit, one or more."""
    every = np.arange(len(counts))
    traits = counts[["hitter"]].assign(role=role)
    cut = []
    for one in np.unique(role):
        places = np.flatnonzero(role == one)
        cut.append((places, hitlab.shrink(counts.iloc[places].reset_index(drop=True), event, per, **more)))
    return {
        "not told": [(every, hitlab.shrink(counts, event, per, **more))],
        "groups": [(every, hitlab.shrink(counts, event, per, groups="role", traits=traits, **more))],
        "by hand": cut,
    }


def ahead(posterior: Posterior, true: Floats, rng: np.random.Generator) -> tuple[Floats, NDArray[np.bool_]]:
    """Return the stated chances above .9 of "one is ahead of another", and whether it is true."""
    draws = logit(posterior.draws(_DRAWS, rng).clip(1e-9, 1 - 1e-9))
    mean, covariance = draws.mean(axis=0), np.cov(draws.T)
    variance = np.diag(covariance)
    apart = np.sqrt(np.maximum(variance[:, None] + variance - 2 * covariance, 1e-12))
    chance = ndtr((mean[:, None] - mean) / apart)
    sure = chance > _SURE
    return chance[sure], (true[:, None] > true)[sure]


def score(table: pd.DataFrame, rng: np.random.Generator) -> pd.DataFrame:
    """Score one league: a row a method and kind, sums to be added over leagues."""
    role, true = table["role"].to_numpy(), table["true"].to_numpy(float)
    counts = table[["hitter", "swings", "hard"]]
    raw = (table["hard"] / table["swings"]).to_numpy(float)
    rows = []
    for method, parts in fits(counts, role, "hard", "swings").items():
        shrunk, inside = np.empty(len(table)), np.empty(len(table), dtype=bool)
        for places, fit in parts:
            data = fit.data
            shrunk[places] = data["shrunk"]
            inside[places] = (data["low"] <= true[places]) & (true[places] <= data["high"])
        for kind in np.unique(role):
            mine = role == kind
            stated, came = [], []
            for places, fit in parts:
                here = np.flatnonzero(mine[places])
                if len(here):
                    found = ahead(fit.posterior.only(here), true[places][here], rng)
                    stated.append(found[0])
                    came.append(found[1])
            rows.append(
                {
                    "method": method,
                    "kind": kind,
                    "hitters": mine.sum(),
                    "square": ((shrunk - true)[mine] ** 2).sum(),
                    "raw": ((raw - true)[mine] ** 2).sum(),
                    "covered": inside[mine].sum(),
                    "sure": sum(map(len, stated)),
                    "stated": sum(one.sum() for one in stated),
                    "true": sum(one.sum() for one in came),
                }
            )
    return pd.DataFrame(rows)


def leagues(setting: str, shape: str, hitters: int, count: int, seed: int) -> pd.DataFrame:
    """Score leagues of one setting; sums by method and kind, with what is told of them."""
    every = []
    for place in range(count):
        rng = np.random.default_rng([seed, place])
        every.append(score(league(KINDS[setting], shape, hitters, rng), rng))
    return pd.concat(every).groupby(["method", "kind"]).sum()


def shares(sums: pd.DataFrame) -> pd.DataFrame:
    """Return error as a share of the raw one, coverage, and "ahead" as stated and as true."""
    return pd.DataFrame(
        {
            "error": np.sqrt(sums["square"] / sums["raw"]),
            "covered": sums["covered"] / sums["hitters"],
            "ahead, stated": sums["stated"] / sums["sure"],
            "true": sums["true"] / sums["sure"],
            "n": sums["sure"],
        }
    )


def season_errors(seasons: Any, earlier: int = 0) -> pd.DataFrame:
    """Score real seasons: noise-adjusted squared errors of the next season's rates, by role and method."""
    lines = hitlab.season_lines(1)
    best = lines.groupby("hitter")["at_bats"].max()
    rows = []
    for season in seasons:
        by_year = {
            year: lines[(lines["season"] == year) & (lines["at_bats"] > 0)][["hitter", "hits", "at_bats"]]
            for year in range(season - earlier, season + 2)
        }
        now = by_year[season][by_year[season]["at_bats"] >= FEWEST].reset_index(drop=True)
        role = np.where(now["hitter"].map(best) < _PITCHERS_MOST, "pitcher", "other")
        if min((role == "pitcher").sum(), (role == "other").sum()) < _FEWEST_OF_A_KIND:
            continue
        after = by_year[season + 1].set_index("hitter")
        then = after.reindex(now["hitter"])
        n = then["at_bats"].to_numpy(float)
        p = then["hits"].to_numpy(float) / n
        scored = n >= FEWEST
        more = {"earlier": [by_year[season - i] for i in range(1, earlier + 1)]} if earlier else {}
        raw = (now["hits"] / now["at_bats"]).to_numpy(float)
        foretold = {"raw": raw}
        for method, parts in fits(now, role, "hits", "at_bats", **more).items():
            foretold[method] = np.empty(len(now))
            for places, fit in parts:
                foretold[method][places] = fit.data["shrunk"]
        for kind in ("pitcher", "other"):
            mine = scored & (role == kind)
            luck = (p * (1 - p) / n)[mine]
            rows += [
                {
                    "season": season,
                    "role": kind,
                    "method": method,
                    "error": float((((one - p) ** 2)[mine] - luck).sum()),
                }
                for method, one in foretold.items()
            ]
    return pd.DataFrame(rows)


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--leagues", type=int, default=20)
    parser.add_argument("--hitters", type=int, default=150)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kinds", nargs="*", default=list(KINDS), choices=list(KINDS))
    parser.add_argument("--shapes", nargs="*", default=list(RATES), choices=list(RATES))
    parser.add_argument("--lines", action="store_true")
    parser.add_argument(
        "--seasons", type=int, nargs=3, default=(1922, 2007, 4), metavar=("FIRST", "END", "STEP")
    )
    parser.add_argument("--earlier", type=int, default=0)
    options = parser.parse_args()
    if options.lines:
        errors = season_errors(range(*options.seasons), options.earlier)
        print(f"{errors['season'].nunique()} seasons, {options.earlier} earlier; share of the raw error")
        summed = errors.groupby(["role", "method"])["error"].sum().unstack()
        summed.loc["all"] = summed.sum()
        print((summed.div(summed["raw"], axis=0)).round(3).to_string())
        return
    for setting in options.kinds:
        for shape in options.shapes:
            sums = leagues(setting, shape, options.hitters, options.leagues, options.seed)
            print(f"\n{setting}, {shape}: {options.leagues} leagues of {options.hitters}")
            print(shares(sums).unstack("kind").round(3).to_string(), flush=True)


if __name__ == "__main__":
    main()
