"""Swings of one game are not independent: by how much, does it matter, and intervals that allow for it.

What is estimated: the correlation of the outcomes of two attempts of one hitter in the same game (or the same
plate appearance). Each attempt's deviation from the hitter's own rate is multiplied with that of every other
attempt of the unit; the mean product, less that of attempts in different units, is put against the variance
of one attempt. Differences between hitters play no part. This is the part of the variance of a rate that
independent attempts do not have, also where the outcomes decide how many attempts there are: a ball in play
ends the plate appearance, so its earlier swings were none. Counting agreeing pairs would take that for a
correlation of .48.

When it fails: a rate that drifts over the season makes attempts of one game alike, too, and shows up here;
games that depend on each other (an injury, a change of swing) are not seen by resampling games.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, pair, unknown_contact
from hitlab.counting.events import per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL, share_interval
from hitlab.errors import CountsError
from hitlab.over_time.alike import crowding
from hitlab.over_time.stretches import ByGame, by_game, measured_part
from hitlab.results import Listing
from hitlab.wording import level_words, rate_text

__all__ = [
    "Crowded",
    "Overdispersion",
    "Resampled",
    "crowded",
    "overdispersed",
    "overdispersion",
    "resample_by_game",
]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

MATTERS = 1.05
"""Intervals that should be this many times as wide, or more, are said to matter; a default,
set beforehand."""

_FEWEST_GAMES = 5


@dataclass(frozen=True, slots=True)
class Overdispersion(Listing):
    """How much alike attempts of one game are.

    Attributes
    ----------
    data
        One row a hitter: who it is, the event, the exposure, where hardness is unknown for some contact also
        ``unknown``, how much of it, ``rate``, ``low``, ``high`` (of what was measured; Wilson interval as if
        independent), ``design_effect`` (variance of the rate against that of independent attempts, never
        taken below 1), ``effective_exposure`` (what was measured divided by it), ``wide_low``, ``wide_high``
        (Wilson interval at the effective exposure).
    counts
        The counts summed over the units, one row a hitter.
    event, per
        The rate: names of two counts.
    level
        Level of all intervals.
    correlation, standard_error
        Of two attempts of one hitter in one unit; the error by leaving out one unit after the other.
    low, high
        Normal interval of the correlation at ``level``.
    units, pairs
        What was compared within, in words, and how many pairs of attempts within one unit there are.
    width_factor
        How many times as wide a hitter's interval should be, at the exposure-weighted mean design effect.
    width_low, width_high
        The same at the ends of the correlation's interval.
    left_out
        Attempts of which the unit is not known.
    """

    data: pd.DataFrame
    counts: Counts
    event: str
    per: str
    level: float
    units: str
    pairs: int
    correlation: float
    standard_error: float
    low: float
    high: float
    width_factor: float
    width_low: float
    width_high: float
    left_out: int = 0

    MOST_ROWS: ClassVar[int | None] = 20

    @property
    def may_matter(self) -> bool:
        """Whether intervals that ignore it may be too short by more than a twentieth, and seem too short."""
        return self.width_high >= MATTERS and self.width_factor >= 1.005

    @property
    def measured(self) -> str:
        """How alike attempts are, and what it does to intervals, in words."""
        name, attempts = rate_words(self.event, self.per), per_words(self.per, 2)
        without = (
            f" (without {self.left_out:,} {per_words(self.per, self.left_out)} of which the {self.units} is "
            "not known)"
            if self.left_out
            else ""
        )
        return (
            f"{name}: outcomes of two {attempts} of a hitter in one {self.units} correlate at "
            f"{self.correlation:z.3f}{without} ({level_words(self.level)} from {self.low:z.3f} to "
            f"{self.high:z.3f}), so intervals should be {self.width_factor:.2f} times as wide "
            f"({self.width_low:.2f} to {self.width_high:.2f})"
        )

    @property
    def explanation(self) -> str:
        """Whether it matters, in one sentence."""
        if self.width_low >= MATTERS:
            so = "that matters: use the wide intervals"
        elif self.width_high < MATTERS:
            so = "that is too little to matter"
        else:
            so = "whether that matters is open: the wide intervals are the safe ones"
        return f"{self.measured}; {so}"

    @property
    def title(self) -> str:
        """The explanation."""
        return self.explanation

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with the longest record first, rates as they are said."""
        shown = self.data.sort_values(self.per, ascending=False, kind="stable")
        for name in ("rate", "low", "high", "wide_low", "wide_high"):
            shown[name] = [rate_text(value) for value in shown[name]]
        shown["design_effect"] = [f"{value:.2f}" for value in shown["design_effect"]]
        shown["effective_exposure"] = [f"{value:.0f}" for value in shown["effective_exposure"]]
        return shown


def overdispersion(
    counts: Any, event: str = "hard", per: str = "swings", *, level: float = DEFAULT_LEVEL
) -> Overdispersion:
    """Estimate how much alike a hitter's attempts within one game, or one plate appearance, are.

    Parameters
    ----------
    counts
        Counts by hitter and unit: ``tally(pitches, by=["hitter", "game"])`` for games,
        ``by=["hitter", "game", "plate_appearance"]`` for plate appearances.
    event, per
        The rate.
    level
        Level of all intervals.

    Returns
    -------
    Overdispersion
        One correlation for all hitters together.

    Raises
    ------
    CountsError
        Where the counts are not by hitter and unit, or no hitter has two attempts in one unit and attempts in
        another, with outcomes that differ.
    MissingColumnsError
        As in ``rate``.

    References
    ----------
    Ridout, Demetrio & Firth 1999, Biometrics 55:137-148 (estimators of the correlation within units); Kish
    1965, Survey Sampling (design effect); Rao & Scott 1992, Biometrics 48:577-585 (effective sample size).
    All from memory.

    Examples
    --------
    Two hitters with the same 30 hard-hit balls in 150 swings, one spread evenly over the games, one not:

    >>> import pandas as pd
    >>> from hitlab.over_time import overdispersion
    >>> table = pd.DataFrame({"hitter": ["Runa Kvalbakk"] * 30 + ["Nils Haxditch"] * 30,
    ...                       "game": [f"game {n:02d}" for n in range(1, 31)] * 2,
    ...                       "swings": 5, "hard": [1] * 30 + [0, 0, 3] * 10})
    >>> alike = overdispersion(table, "hard", "swings")
    >>> round(alike.correlation, 2), round(alike.width_factor, 2)
    (0.07, 1.13)
    """
    games = by_game(counts, event, per)
    return overdispersed(games.totals, event, per, crowded(games), level=level, units=_unit(counts))


@dataclass(frozen=True, slots=True)
class Crowded:
    """What the units tell of a rate: all that :class:`Overdispersion` rests on beside the counts by hitter.

    Attributes
    ----------
    others
        By hitter: with how many attempts of its own unit an attempt was made, in the mean.
    correlation, standard_error, pairs, left_out
        As in :class:`Overdispersion`.
    """

    others: Floats
    correlation: float
    standard_error: float
    pairs: int
    left_out: int


def crowded(games: ByGame) -> Crowded:
    """Estimate how much alike attempts of one unit are.

    Raises
    ------
    CountsError
        As in :func:`overdispersion`.
    """
    correlation, error, pairs = _correlation(games)
    others = np.zeros(len(games.totals.data))
    first = np.flatnonzero(np.diff(games.hitter, prepend=-1))
    others[games.hitter[first]] = crowding(games, first)
    left_out = int(games.exposure[~games.told].sum())
    return Crowded(others, correlation, error, pairs, left_out)


def overdispersed(
    totals: Counts, event: str, per: str, found: Crowded, *, level: float = DEFAULT_LEVEL, units: str = "game"
) -> Overdispersion:
    """Say what was estimated of a rate.

    Parameters
    ----------
    totals
        The counts, one row a hitter.
    event, per, level
        As in :func:`overdispersion`.
    found
        What the units tell.
    units
        What they are, in words.
    """
    from scipy.special import ndtri

    correlation, error = found.correlation, found.standard_error
    low, high = (correlation + sign * float(ndtri((1 + level) / 2)) * error for sign in (-1, 1))
    data, measured = _rates(totals, event, per, level)

    def effect(rho: float) -> Floats:
        return np.asarray(np.maximum(1 + min(rho, 1.0) * found.others, 1.0))

    data["design_effect"] = effect(correlation)
    data["effective_exposure"] = measured / data["design_effect"]
    data["wide_low"], data["wide_high"] = _widened(data, event, measured, level)
    factor, least, most = (
        float(np.sqrt(np.average(effect(rho), weights=measured))) for rho in (correlation, low, high)
    )
    return Overdispersion(
        data,
        totals,
        event,
        per,
        level,
        units,
        found.pairs,
        correlation,
        error,
        low,
        high,
        factor,
        least,
        most,
        found.left_out,
    )


def _correlation(games: ByGame) -> tuple[float, float, int]:
    """Return the correlation, its standard error by the jackknife over units, and the pairs within units."""
    size, told = len(games.totals.data), games.told  # attempts of an unknown game are left out
    k, n, who = games.events[told].astype(float), games.measured[told].astype(float), games.hitter[told]
    own = np.stack([k, n, k * k, k * n, n * n])  # all that a hitter's two sums of products rest on
    sums = np.stack([np.bincount(who, row, size) for row in own]).astype(np.float64)
    excess, scale = _products(sums)
    if not scale.sum() > 0:
        raise CountsError(
            "no hitter has two attempts in one unit and attempts in another, with outcomes that differ; "
            "nothing can be said of dependence"
        )
    correlation = float(excess.sum() / scale.sum())
    less_excess, less_scale = _products(sums[:, who] - own)
    top = excess.sum() - excess[who] + less_excess
    bottom = scale.sum() - scale[who] + less_scale
    left_out = (top / np.where(bottom > 0, bottom, np.nan))[bottom > 0]
    units = len(left_out)
    error = float(np.sqrt((units - 1) / units * ((left_out - left_out.mean()) ** 2).sum()))
    return correlation, error, int((sums[4] - sums[1]).sum()) // 2


def _products(sums: Floats) -> tuple[Floats, Floats]:
    """Return each hitter's sum of products of deviations over ordered pairs within units, and its scale.

    The mean product of pairs from different units is taken off: it is not quite 0, because deviations are
    from the hitter's own observed rate. The scale is the variance of one attempt times the pairs.
    """
    events, attempts, kk, kn, nn = sums
    p = np.divide(events, attempts, out=np.zeros_like(events), where=attempts > 0)
    single = events * (1 - p)  # sum of squared deviations of the attempts
    within = kk - 2 * p * kn + p * p * nn - single
    pairs, other_pairs = nn - attempts, attempts * attempts - nn
    usable = (pairs > 0) & (other_pairs > 0)
    between = np.divide(-single - within, other_pairs, out=np.zeros_like(p), where=usable)
    variance = np.divide(single, attempts - 1, out=np.zeros_like(p), where=usable)
    return np.where(usable, within - pairs * between, 0.0), np.where(usable, pairs * variance, 0.0)


def _rates(totals: Counts, event: str, per: str, level: float) -> tuple[pd.DataFrame, Wholes]:
    """Return what both tables begin with, and the exposure that each hitter's events stand for."""
    both, (unknown, _) = pair(totals, event, per), unknown_contact(totals, event)
    data, events, measured = totals.identity.copy(), both.events, both.measured_exposure
    data[event], data[per] = events, totals.column(per)
    if unknown.any():
        data["unknown"] = unknown
    data["rate"] = np.divide(events, measured, out=np.full(len(data), np.nan), where=measured > 0)
    data["low"], data["high"] = share_interval(events, measured, "wilson", level)
    return data, measured


def _widened(data: pd.DataFrame, event: str, measured: Wholes, level: float) -> tuple[Floats, Floats]:
    """Return Wilson intervals at the effective exposure.

    The formula holds the exposure and the squared normal quantile as their ratio only: dividing the one by
    the design effect is multiplying the other by it.
    """
    from scipy.special import ndtr, ndtri

    z = float(ndtri((1 + level) / 2))
    ends = np.empty((len(data), 2))
    events = data[event].to_numpy()
    effects, which = np.unique(data["design_effect"].to_numpy(float), return_inverse=True)
    for number, effect in enumerate(effects):
        mine = which == number
        wider = 2 * float(ndtr(z * np.sqrt(effect))) - 1
        ends[mine] = np.stack(share_interval(events[mine], measured[mine], "wilson", wider), axis=1)
    return ends[:, 0], ends[:, 1]


def _unit(counts: Any) -> str:
    by = tuple(getattr(counts, "by", ()))
    return "plate appearance" if "plate_appearance" in by else "game" if "game" in by else "unit"


@dataclass(frozen=True, slots=True)
class Resampled(Listing):
    """Rates with intervals from resampling each hitter's games.

    Attributes
    ----------
    data
        One row a hitter: who it is, event, exposure, ``games`` (of which something was measured), where
        hardness is unknown for some contact ``unknown``, how much of it, ``rate`` (of what was measured),
        ``low``, ``high``, ``width_factor`` (how many times as wide as the Wilson interval of independent
        attempts). Missing ends where a hitter has fewer than five such games, or every resample gives the
        same rate.
    event, per
        The rate: names of two counts.
    level
        Coverage of the intervals.
    draws
        Resampled rates, shape (draws, hitters), for differences and the like; hitters are independent.
        Missing where nothing was measured of the games drawn.
    """

    data: pd.DataFrame
    event: str
    per: str
    level: float
    draws: Floats

    @property
    def title(self) -> str:
        """The rate and its interval in words."""
        return (
            f"{rate_words(self.event, self.per)}, {level_words(self.level)} intervals from "
            f"{len(self.draws):,} resamples of each hitter's games"
        )

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with the highest rate first, rates as they are said."""
        shown = self.data.sort_values("rate", ascending=False, kind="stable")
        for name in ("rate", "low", "high"):
            shown[name] = [rate_text(value) for value in shown[name]]
        return shown.round({"width_factor": 2})


def resample_by_game(
    counts: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    level: float = DEFAULT_LEVEL,
    draws: int = 2_000,
    seed: int | np.random.Generator = 0,
) -> Resampled:
    """Give every hitter's rate an interval that holds where attempts of one game depend on each other.

    Whole games are drawn with replacement from the hitter's own, and of a draw's games together the share
    that was not measured is set aside, as the rate does it. Games of which nothing was measured are drawn,
    too: mostly they have few balls in play, so that without them too little would be set aside. The
    percentiles are taken further out for few measured games, because resampling understates the spread by a
    share of one in their number.

    Parameters
    ----------
    counts
        Counts by hitter and game.
    event, per
        The rate.
    level
        Coverage.
    draws
        Resamples.
    seed
        A seed or a generator.

    Returns
    -------
    Resampled
        One row a hitter: the rate, the ends of its interval, and how many times as wide that is as the
        interval of independent attempts.

    Raises
    ------
    CountsError, MissingColumnsError
        As in :func:`overdispersion`.

    Notes
    -----
    Simulated (``tests/benchmarks/bench_form.py``, 90 % intervals, correlations of 0, .02 and .1 within a
    game) it covered .87 to .91, the wide intervals of :func:`overdispersion`, which pool what the hitters
    tell, .89 to .92, and intervals that ignore the dependence .90, .87 and .78.

    References
    ----------
    Efron & Tibshirani 1993, An Introduction to the Bootstrap; Hesterberg 2015, The American Statistician
    69:371-386 (percentiles expanded for small samples). From memory.

    Examples
    --------
    Two hitters with the same 30 hard-hit balls in 150 swings, the second by fits and starts:

    >>> import pandas as pd
    >>> from hitlab.over_time import resample_by_game
    >>> table = pd.DataFrame({"hitter": ["Runa Kvalbakk"] * 30 + ["Nils Haxditch"] * 30,
    ...                       "game": [f"game {n:02d}" for n in range(1, 31)] * 2,
    ...                       "swings": 5, "hard": [1, 1, 1, 0, 2] * 6 + [0, 0, 3] * 10})
    >>> rates = resample_by_game(table, "hard", "swings")
    >>> rates.table()[["hitter", "rate", "low", "high"]].round(2)
              hitter  rate   low  high
    0  Runa Kvalbakk   0.2  0.16  0.24
    1  Nils Haxditch   0.2  0.12  0.28
    """
    if draws < 100:
        raise CountsError(f"draws={draws!r}: give 100 or more, else the ends are those of a few resamples")
    from scipy import stats

    games = by_game(counts, event, per)
    rng = np.random.default_rng(seed)
    data, _ = _rates(games.totals, event, per, level)
    plain = (data["high"] - data["low"]).to_numpy(float)
    rates = np.full((draws, len(data)), np.nan)
    there = games.measured > 0
    number = np.bincount(games.hitter[there], minlength=len(data))
    low, high = np.full(len(data), np.nan), np.full(len(data), np.nan)
    for place in np.flatnonzero(number):
        mine, many = games.of(int(place)), int(number[place])
        every = mine.stop - mine.start
        times = rng.multinomial(every, np.full(every, 1 / every), size=draws)
        sums = (times @ each[mine] for each in (games.exposure, games.unknown, games.contact))
        known = measured_part(*sums)
        np.divide(times @ games.events[mine], known, out=rates[:, place], where=known > 0)
        if many < _FEWEST_GAMES or np.nanmax(rates[:, place]) == np.nanmin(rates[:, place]):
            continue
        further = stats.t.ppf((1 - level) / 2, many - 1) * np.sqrt(many / (many - 1))
        tail = float(stats.norm.cdf(further))
        low[place], high[place] = np.nanquantile(rates[:, place], [tail, 1 - tail])
    data.insert(list(data.columns).index(per) + 1, "games", number)
    data["low"], data["high"] = low, high
    data["width_factor"] = (high - low) / plain
    return Resampled(data, event, per, level, rates)
