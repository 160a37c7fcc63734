"""Hard by eye against the radar: how often the eye is right, and at which speed it says hard."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.charting.charters import compare_charters
from hitlab.counting.facts import Conventions
from hitlab.counting.intervals import DEFAULT_LEVEL, share_interval
from hitlab.counting.summing import collected
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.estimates.eye_law import EyeErrors
from hitlab.optional import load
from hitlab.pitches.opening import demand_here, frame_of
from hitlab.results import Note, Part, Result, Table
from hitlab.wording import level_words, percent

__all__ = ["EyeAgainstRadar", "eye_against_radar"]

Floats = NDArray[np.float64]

_FEWEST = 10  # balls of a kind, for a share to be worth an interval
_BAND_MPH = 5.0
_WORTH_A_TEST = 20  # balls of a band, for it to be held against the curve (a default)
_BY_LUCK = 0.05  # of charts whose curve is right, how many are told at most that it misses (a default)
_TENTHS = 2 * np.log(9.0)  # of the logistic scale, from a chance of 10 % to one of 90 %


@dataclass(frozen=True, slots=True, eq=False)
class EyeAgainstRadar(Result):
    """How often an eye is right about hard balls.

    Attributes
    ----------
    data
        One row a band of speeds: ``from_mph``, ``to_mph``, ``balls``, ``ticked``, ``share``, and the chance
        that the curve gives to the band's middle, ``curve``.
    errors
        The four counts, as ``shrink(eye=...)`` and ``Conventions(eye=...)`` take them.
    hard_mph
        The speed from which a ball is hard.
    sensitivity, sensitivity_interval
        Share of the hard balls that the eye ticked, and its Wilson interval.
    specificity, specificity_interval
        The same of the other balls that it left unticked.
    eye_mph, eye_mph_interval
        The speed at which the eye says hard as often as not, by a logistic curve (Fieller's interval; its
        ends are infinite where the speed hardly matters). Missing where the eye never errs.
    width_mph, width_mph_interval
        How many mph lie between a tick in ten balls and nine in ten.
    level
        Of the intervals.
    notes
        What has to be known.
    """

    data: pd.DataFrame
    errors: EyeErrors
    hard_mph: float
    sensitivity: float
    sensitivity_interval: tuple[float, float]
    specificity: float
    specificity_interval: tuple[float, float]
    eye_mph: float
    eye_mph_interval: tuple[float, float]
    width_mph: float
    width_mph_interval: tuple[float, float]
    level: float
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """How often the eye is right, in a sentence."""
        e = self.errors
        return (
            f"By eye against the radar ({self.hard_mph:g} mph): it ticks "
            f"{_share(self.sensitivity, self.sensitivity_interval)} of the hard balls ({e.hard_ticked:,} of "
            f"{e.hard:,}) and leaves {_share(self.specificity, self.specificity_interval)} of the others "
            f"unticked ({e.soft_unticked:,} of {e.soft:,}); {level_words(self.level)} intervals"
        )

    def contents(self) -> Iterable[Part]:
        """Return the shares, the eye's own threshold, and the bands of speed."""
        if np.isnan(self.eye_mph):
            own = "No ball was told wrongly from another by its speed, so that there is no curve to fit."
        else:
            (low, high), (less, more) = self.eye_mph_interval, self.width_mph_interval
            own = (
                f"The eye says hard as often as not at {self.eye_mph:.1f} mph ({low:.1f} to {high:.1f}); "
                f"from one ball in ten to nine in ten it takes {self.width_mph:.1f} mph ({less:.1f} to "
                f"{more:.1f})"
            )
        bands = self.data.assign(
            share=[percent(one) for one in self.data["share"]],
            curve=["" if np.isnan(one) else percent(one) for one in self.data["curve"]],
        )
        return [self.title, own, *(Note(note) for note in self.notes), Table(bands, self.MOST_ROWS)]


def eye_against_radar(
    pitches: Any,
    radar: Any = None,
    *,
    conventions: Conventions | None = None,
    level: float = DEFAULT_LEVEL,
) -> EyeAgainstRadar:
    """Hold what an eye called hard against the speeds that a radar measured.

    Parameters
    ----------
    pitches
        A pitch table with ``hard`` as the eye flagged it.
    radar
        A table of the same games with ``exit_mph``, whose rows are matched by :func:`compare_charters`; left
        out where ``pitches`` has the speeds as well.
    conventions
        From which speed a ball is hard, and whether fouls count.
    level
        Of the intervals.

    Returns
    -------
    EyeAgainstRadar

    Raises
    ------
    MissingColumnsError
        Where flags or speeds are missing.
    CountsError
        Where fewer than ten balls were hard, or were not, among those with both.
    ReadingError, MissingPackageError
        As in :func:`compare_charters`.

    Examples
    --------
    >>> from hitlab.charting import eye_against_radar
    >>> from hitlab.league import charted_by, make_season
    >>> season = make_season(hitters=18, clubs=2, pitches=3000, seed=1)
    >>> found = eye_against_radar(charted_by(season, 5), season.pitches)
    >>> found.errors.hard, round(found.eye_mph)
    (205, 96)
    """
    conventions = conventions or Conventions()
    if not 0 < level < 1:
        raise CountsError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    notes = []
    for table in (pitches, radar):
        demand_here(table, "an eye held against the radar")
    if radar is None:
        frame = collected(frame_of(pitches)[0])
        _demand(frame, ("hard", "exit_mph"), "the table")
        flags, speeds, outcome = frame["hard"], frame["exit_mph"], frame["outcome"]
        source = frame.get("hard_source")
    else:
        one, other = (collected(frame_of(table)[0]) for table in (pitches, radar))
        _demand(one, ("hard",), "the eye's table")
        _demand(other, ("exit_mph",), "the radar's table")
        pairs = compare_charters(pitches, radar, level=level).pairs
        both = pairs[pairs["found"] == "both"]
        mine, yours = (both[name].to_numpy(int) for name in ("first_row", "second_row"))
        flags, outcome = (one[name].iloc[mine].reset_index(drop=True) for name in ("hard", "outcome"))
        speeds = other["exit_mph"].iloc[yours].reset_index(drop=True)
        source = one["hard_source"].iloc[mine].reset_index(drop=True) if "hard_source" in one else None
        alone = len(pairs) - len(both)
        if alone:
            notes.append(f"{alone:,} pitches stand in one table alone and are left out")
    struck = outcome.isin(conventions.judged_outcomes)
    there = struck & flags.notna() & speeds.notna()
    if source is not None:
        there &= (source != "radar").fillna(True).astype(bool)
    chosen = there.to_numpy(bool)
    ticked, mph = flags[chosen].to_numpy(bool), speeds[chosen].to_numpy(float)
    hard = mph >= conventions.threshold_mph
    errors = EyeErrors(
        int((ticked & hard).sum()), int(hard.sum()), int((~ticked & ~hard).sum()), int((~hard).sum())
    )
    if min(errors.hard, errors.soft) < _FEWEST:
        raise CountsError(
            f"of the balls with both a flag by eye and a speed {errors.hard:,} were hard and {errors.soft:,} "
            f"were not; {_FEWEST} of each are needed"
        )
    if not 0 < ticked.sum() < len(ticked):
        raise CountsError(
            "the eye says the same of every ball; where a blank is a ball that was not hard, say so in the "
            "mapping ([blanks] hard = false)"
        )
    unknown = int((struck.to_numpy(bool) & ~chosen).sum())
    if unknown:
        notes.append(f"{unknown:,} more balls have no flag by eye or no speed and are left out")
    notes.append(
        "the errors are those at these balls: where more of them are near the threshold, any eye errs more"
    )
    eye, eye_interval, width, width_interval, curve = _curve(mph, ticked, level)
    if curve is not None:
        notes += _missed(mph, ticked, curve)
    shares = [
        tuple(float(end) for end in share_interval(k, n, level=level))
        for k, n in ((errors.hard_ticked, errors.hard), (errors.soft_unticked, errors.soft))
    ]
    return EyeAgainstRadar(
        _bands(mph, ticked, curve),
        errors,
        conventions.threshold_mph,
        errors.sensitivity,
        (shares[0][0], shares[0][1]),
        errors.specificity,
        (shares[1][0], shares[1][1]),
        eye,
        eye_interval,
        width,
        width_interval,
        level,
        tuple(notes),
    )


def _demand(frame: pd.DataFrame, columns: tuple[str, ...], which: str) -> None:
    for name in columns:
        if name not in frame or frame[name].isna().all():
            raise MissingColumnsError(f"{which} has nothing in the column {name}, and it is needed here")


def _curve(
    mph: Floats, ticked: NDArray[np.bool_], level: float
) -> tuple[float, tuple[float, float], float, tuple[float, float], tuple[float, float] | None]:
    """Fit a logistic curve of ticks over speed: its middle, its width, and both intervals."""
    nothing = (np.nan, np.nan)
    if mph[~ticked].max() < mph[ticked].min():  # no ball between: any steep curve would do
        return np.nan, nothing, np.nan, nothing, None
    # The one module that is needed, for all of statsmodels takes longer to load than the rest takes to run.
    models = load("statsmodels.discrete.discrete_model", "the eye's threshold", "statistics")
    from scipy.special import ndtri

    middle = float(mph.mean())
    design = np.column_stack([np.ones(len(mph)), mph - middle])
    fit = models.Logit(ticked.astype(float), design).fit(disp=0, method="newton")
    a, b = (float(one) for one in fit.params)
    z2 = float(ndtri((1 + level) / 2)) ** 2
    va, cab, vb = float(fit.cov_params()[0, 0]), float(fit.cov_params()[0, 1]), float(fit.cov_params()[1, 1])
    # Fieller: all x for which a + b x is less than z errors from 0.
    steep = b**2 - z2 * vb
    if b <= 0 or steep <= 0:
        ends, widths = (-np.inf, np.inf), (_TENTHS / (b + np.sqrt(z2 * vb)) if b > 0 else np.nan, np.inf)
    else:
        half, root = a * b - z2 * cab, np.sqrt((a * b - z2 * cab) ** 2 - steep * (a**2 - z2 * va))
        ends = (middle + (-half - root) / steep, middle + (-half + root) / steep)
        error = np.sqrt(z2 * vb)
        widths = (_TENTHS / (b + error), _TENTHS / (b - error))
    eye = middle - a / b
    return float(eye), (float(ends[0]), float(ends[1])), float(_TENTHS / b), widths, (float(eye), b)


def _bands(mph: Floats, ticked: NDArray[np.bool_], curve: tuple[float, float] | None) -> pd.DataFrame:
    band = np.floor(mph / _BAND_MPH)
    rows = pd.DataFrame({"band": band, "ticked": ticked}).groupby("band")["ticked"].agg(["size", "sum"])
    low = rows.index.to_numpy(float) * _BAND_MPH
    chance = np.full(len(rows), np.nan) if curve is None else _ticks_at(low + _BAND_MPH / 2, curve)
    return pd.DataFrame(
        {
            "from_mph": low,
            "to_mph": low + _BAND_MPH,
            "balls": rows["size"].to_numpy(np.int64),
            "ticked": rows["sum"].to_numpy(np.int64),
            "share": (rows["sum"] / rows["size"]).to_numpy(float),
            "curve": chance,
        }
    )


def _ticks_at(mph: Floats, curve: tuple[float, float]) -> Floats:
    """Give the chance of a tick that the curve gives to speeds."""
    return np.asarray(1 / (1 + np.exp(-curve[1] * (mph - curve[0]))))


def _missed(mph: Floats, ticked: NDArray[np.bool_], curve: tuple[float, float]) -> list[str]:
    """Say in which bands of speed the ticks lie further from the curve than luck and its own error allow.

    Ticks of a band have at most the spread of a binomial at the mean of their chances, and a curve fitted to
    them lies nearer to them than the true one: so its exact test errs to the side of silence. The bands share
    the chance of a false note.
    """
    from scipy import stats

    told = pd.DataFrame({"low": np.floor(mph / _BAND_MPH) * _BAND_MPH, "ticked": ticked})
    told["chance"] = _ticks_at(mph, curve)
    bands = told.groupby("low").agg(n=("ticked", "size"), k=("ticked", "sum"), chance=("chance", "mean"))
    bands = bands[bands["n"] >= _WORTH_A_TEST]
    n, k, chance = (bands[name].to_numpy(float) for name in ("n", "k", "chance"))
    above, below = stats.binom.sf(k - 1, n, chance), stats.binom.cdf(k, n, chance)
    off = 2 * np.minimum(below, above) * len(bands) < _BY_LUCK
    if not off.any():
        return []
    each = "; ".join(
        f"from {low:g} to {low + _BAND_MPH:g} mph it gives {percent(p)} and {percent(share)} of {balls:,.0f} "
        "balls were ticked"
        for low, p, share, balls in zip(bands.index[off], chance[off], (k / n)[off], n[off], strict=True)
    )
    return [
        f"the curve misses the ticks: {each} (by the exact binomial test of every band of {_WORTH_A_TEST} "
        "balls or more; luck alone fails it in one chart of twenty at most): go by the shares, not by the "
        "speed and the width that the curve tells"
    ]


def _share(value: float, ends: tuple[float, float]) -> str:
    return f"{percent(value)} ({percent(ends[0])} to {percent(ends[1])})"
