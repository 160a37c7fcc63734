"""Stated against realised frequency: bins, calibration error, slope, coverage, verdicts; with errors.

Every error takes a league as the unit: the chances of one league rest on one fit and err together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.special import expit, logit

from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT
from tests.benchmarks.calibration_kinds import KINDS, SETTINGS
from tests.benchmarks.calibration_leagues import calibration_error, calibration_slope
from tests.benchmarks.calibration_stated import Stated

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

BINS = 10
ALL = "all settings"
_LEAST_LEAGUES = 2  # for an error with leagues as the unit
_LEAST_VERDICTS = 10
_LEAST_FOR_SLOPE = 20  # leagues; few claims can be parted by their chances without a fault: an endless slope


FIGURES = {
    "holds_right": "'holds' right",
    "fails_right": "'does not hold' right",
    "over_oracle": "error less the oracle's",
}
"""Columns whose name is not their word."""


@dataclass(frozen=True, slots=True)
class Bound:
    """What a figure of the report has to be; ``error`` is the column that holds its Monte Carlo error."""

    figure: str
    low: float
    high: float
    error: str

    @property
    def words(self) -> str:
        """The bound in words."""
        name = FIGURES.get(self.figure, self.figure)
        if np.isinf(self.high):
            return f"{name} at least {self.low:g}"
        return (
            f"{name} at most {self.high:g}" if np.isinf(self.low) else f"{name} {self.low:g} to {self.high:g}"
        )

    def met(self, row: pd.Series) -> str:
        """Say ``yes``, ``no``, ``open`` (missed by less than twice its error) or nothing (not measured).

        A calibration error is above 0 by luck alone: that and two standard deviations of it are its room.
        Fewer than ten verdicts settle nothing against a bound.
        """
        value = row[self.figure]
        if np.isnan(value):
            return ""
        missed = max(self.low - value, value - self.high)
        room = 2 * row[self.error] + (row["luck"] if self.error == "luck_spread" else 0.0)
        if missed <= 0:
            return "yes"
        verdict = self.figure.removesuffix("_right")
        few = verdict in ("holds", "fails") and row[verdict] * row["chances"] < _LEAST_VERDICTS
        return "open" if few or missed <= room else "no"


def _most(error: float) -> Bound:
    return Bound("error", -np.inf, error, "luck_spread")


EVERYWHERE = (
    Bound("holds_right", HOLDS_AT, np.inf, "holds_right_error"),
    Bound("fails_right", 1 - FAILS_AT, np.inf, "fails_right_error"),
    Bound("coverage", 0.88, np.inf, "coverage_error"),
)
"""What a verdict says of itself, and intervals of 90 % less two points."""

_RANK = (Bound("slope", 0.9, 1.1, "slope_error"), Bound("over_oracle", -np.inf, 0.01, "luck_spread"))

AIMS: dict[tuple[str, str], tuple[Bound, ...]] = {
    ("150, plain", "above"): (_most(0.01), Bound("coverage", 0.88, 0.92, "coverage_error")),
    ("150, plain", "ahead"): (_most(0.01),),
    ("150, plain", "leads"): (*_RANK, Bound("coverage", 0.86, 0.94, "coverage_error")),
    ("150, plain", "leads, anybody"): _RANK,
    ("150, plain", "top"): _RANK,
    ("15, plain", "above"): (_most(0.03),),
    ("15, plain", "ahead"): (_most(0.015),),
    ("150, rising", "above"): (_most(0.006),),
    ("150, rising", "ahead"): (_most(0.006),),
}
"""Bounds of single settings, set beforehand."""


def clustered(value: Floats, league: Wholes) -> tuple[float, float]:
    """Return a mean and its standard error with leagues as the unit; missing where there are too few."""
    if not len(value):
        return np.nan, np.nan
    mean = float(value.mean())
    sums = pd.Series(value - mean).groupby(league).sum().to_numpy()
    if len(sums) < _LEAST_LEAGUES:
        return mean, np.nan
    return mean, float(np.sqrt((sums**2).sum() * len(sums) / (len(sums) - 1)) / len(value))


def bins_of(stated: Floats, came: Floats, league: Wholes) -> pd.DataFrame:
    """Return ten bins of stated chance: ``number``, ``leagues``, means ``stated`` and ``came``, ``error``.

    ``error`` is the Monte Carlo error of ``came - stated``: the larger of that with leagues as the unit and
    that of independent draws at the stated chances, which does not vanish where all or none came true.
    """
    which = np.minimum((stated * BINS).astype(int), BINS - 1)
    rows = []
    for number in np.unique(which):
        here = which == number
        p = stated[here]
        by_league = clustered(came[here] - p, league[here])[1]
        alone = float(np.sqrt((p * (1 - p)).sum()) / len(p))
        rows.append({
            "bin": number / BINS, "number": len(p), "leagues": len(np.unique(league[here])),
            "stated": p.mean(), "came": came[here].mean(), "error": np.fmax(by_league, alone),
        })  # fmt: skip
    return pd.DataFrame(rows)


def luck_of(table: pd.DataFrame) -> tuple[float, float]:
    """Return mean and standard deviation of the calibration error of chances that are right.

    Each bin's distance is the size of a normal error; bins are taken to be independent.
    """
    part = (table["error"] * table["number"] / table["number"].sum()).to_numpy()
    return float(np.sqrt(2 / np.pi) * part.sum()), float(np.sqrt((1 - 2 / np.pi) * (part**2).sum()))


def slope_with_error(stated: Floats, came: Floats, league: Wholes) -> tuple[float, float]:
    """Return the calibration slope and its sandwich error, a league as the unit; missing on few leagues."""
    if came.min() == came.max() or len(np.unique(league)) < _LEAST_FOR_SLOPE:
        return np.nan, np.nan
    slope = calibration_slope(stated, came.astype(bool))
    x = np.column_stack([np.ones(len(stated)), logit(np.clip(stated, 1e-6, 1 - 1e-6))])
    # The intercept that belongs to the slope: its score is zero there.
    level = 0.0
    for _ in range(50):
        p = expit(level + slope * x[:, 1])
        level += (came - p).sum() / max((p * (1 - p)).sum(), 1e-12)
    p = expit(level + slope * x[:, 1])
    bread = np.linalg.pinv((x.T * (p * (1 - p))) @ x)
    scores = pd.DataFrame(x * (came - p)[:, np.newaxis]).groupby(league).sum().to_numpy()
    return slope, float(np.sqrt((bread @ (scores.T @ scores) @ bread)[1, 1]))


def score(kind: str, leagues: Sequence[Stated]) -> tuple[dict[str, float], pd.DataFrame]:
    """Return a kind's figures over leagues, and its bins."""
    those = [one for one in leagues if kind in one.chance]
    number = np.repeat(np.arange(len(those)), [len(one.chance[kind]) for one in those])
    stated = np.concatenate([one.chance[kind] for one in those])
    came = np.concatenate([one.came[kind] for one in those]).astype(np.float64)
    table = bins_of(stated, came, number)
    luck, spread = luck_of(table)
    by_law = [one.oracle[kind] for one in those if kind in one.oracle]
    row: dict[str, float] = {
        "leagues": len(those),
        "chances": len(stated),
        "stated": stated.mean(),
        "came": came.mean(),
        "error": calibration_error(stated, came.astype(bool), BINS),
        "luck": luck,
        "luck_spread": spread,
        "oracle_error": (
            calibration_error(np.concatenate(by_law), came.astype(bool), BINS)
            if len(by_law) == len(those)
            else np.nan
        ),
    }
    row["over_oracle"] = row["error"] - row["oracle_error"]
    row["slope"], row["slope_error"] = slope_with_error(stated, came, number)
    held = np.array([one.covered[kind] for one in those if kind in one.covered], dtype=float).reshape(-1, 2)
    row["coverage"], row["coverage_error"] = _ratio(held)
    for name, given, right in (
        ("holds", stated >= HOLDS_AT, came),
        ("fails", stated <= FAILS_AT, 1 - came),
    ):
        row[name] = given.mean()
        row[f"{name}_right"], error = clustered(right[given], number[given])
        # As in the bins: not nothing where all were right.
        p = stated[given]
        alone = np.sqrt((p * (1 - p)).sum()) / len(p) if len(p) else np.nan
        row[f"{name}_right_error"] = float(np.fmax(error, alone))
    return row, table


def _ratio(held: Floats) -> tuple[float, float]:
    """Return the share of intervals that held and its error; one row (held, all) a league."""
    if not len(held):
        return np.nan, np.nan
    share = float(held[:, 0].sum() / held[:, 1].sum())
    away = held[:, 0] - share * held[:, 1]
    count = len(held)
    return share, float(np.sqrt((away**2).sum() * count / max(count - 1, 1)) / held[:, 1].sum())


def score_all(stated: dict[str, list[Stated]], kinds: Sequence[str]) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Return the report's rows and bins: every setting and kind, and every kind over all settings."""
    rows, bins = [], []
    for kind in (kind for kind in KINDS if kind in kinds):
        there = {
            name: leagues for name, leagues in stated.items() if any(kind in one.chance for one in leagues)
        }
        if len(there) > 1:
            there[ALL] = [one for leagues in there.values() for one in leagues]
        for name, leagues in there.items():
            row, table = score(kind, leagues)
            setting = SETTINGS.get(name)
            who = {"kind": kind, "setting": name, "truth": setting.truth if setting else "as above, together"}
            rows.append({**who, **row})
            bins.append(table.assign(kind=kind, setting=name))
    result = pd.DataFrame(rows).round(5)
    judged = [_judged(row) for _, row in result.iterrows()]
    result["bounds"], result["met"] = zip(*judged, strict=True)
    laid = pd.concat(bins, ignore_index=True)
    first = ["kind", "setting"]
    return result, laid[[*first, *(name for name in laid.columns if name not in first)]].round(5)


def _judged(row: pd.Series) -> tuple[str, str]:
    """Return each bound with whether it is met, and the worst of them."""
    if row["setting"] == ALL:
        return "", ""
    aims = AIMS.get((row["setting"], row["kind"]), ())
    general = [bound for bound in EVERYWHERE if bound.figure not in {aim.figure for aim in aims}]
    found = [(bound.words, bound.met(row)) for bound in (*aims, *general)]
    said = [(words, met) for words, met in found if met]
    worst = next((answer for answer in ("no", "open", "yes") if answer in {met for _, met in said}), "")
    return "; ".join(f"{words}: {met}" for words, met in said), worst
