"""The same hitters in two periods: halves of a season, before and after, this year and two years ago.

What is estimated: for each hitter the raw difference of his two rates with its hybrid-score interval, which
uses his two records alone; and beside it his change with everybody's changes in view, by the model of
``split_rates``: log odds ratios of all hitters follow one normal law, whose mean (everybody rose or fell:
another ball, another way of measuring) and spread (hitters change by different amounts) are integrated over.

When it fails: who plays in both periods is a choice (those who fell off are gone); the posterior knows no
other reason for a change than the hitter and what moved everybody, so other pitchers, parks or a better count
show up as a change of the hitter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, ClassVar, Literal

import numpy as np
import pandas as pd
from numpy.typing import ArrayLike, NDArray

from hitlab.counting.counts import Counts
from hitlab.counting.events import rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL, difference_interval, share_interval
from hitlab.counting.rates import as_counts
from hitlab.errors import CountsError
from hitlab.over_time.stretches import hitter_totals, in_order
from hitlab.results import Listing
from hitlab.splits.one_split import split_rates
from hitlab.wording import chance_text, level_words, percent, rate_text

__all__ = ["Change", "compare_periods", "joined_periods", "paired_halves", "paired_interval"]

Floats = NDArray[np.float64]

FACTOR = 1.25
"""How many times the odds have to change to be worth the word; a default, set before looking."""


@dataclass(frozen=True, slots=True)
class Change(Listing):
    """Every hitter's change from one period to another.

    Attributes
    ----------
    data
        One row a hitter with exposure in both: who it is, ``first_events``, ``first_exposure`` (what the
        events stand for where hardness is unknown for some contact), ``first_all`` (the whole exposure),
        ``first_unknown``, ``first_unknown_share`` (of the contact), the same five as ``second_...``,
        ``first_rate``, ``second_rate``, ``difference`` (second less first), ``low``, ``high`` (its
        hybrid-score interval), ``log_odds_ratio``, ``ratio_low``, ``ratio_high`` (posterior mean and interval
        of the change), ``chance_higher`` (the chance that his true rate is higher in the second),
        ``chance_raised``, ``chance_lowered`` (that his true odds are higher, or lower, by the factor at
        least).
    event, per
        The rate: names of two counts.
    level
        Level of the intervals.
    first_only, second_only
        How many hitters have exposure in one period only, and are left out.
    league_ratio, league_spread
        Posterior means of the log odds ratios' mean and standard deviation.
    """

    data: pd.DataFrame
    event: str
    per: str
    level: float
    first_only: int
    second_only: int
    league_ratio: float
    league_spread: float

    MOST_ROWS: ClassVar[int | None] = 20

    @property
    def explanation(self) -> str:
        """What was found for everybody, in one sentence."""
        rates = (
            float(self.data[f"{side}_events"].sum() / self.data[f"{side}_exposure"].sum())
            for side in ("first", "second")
        )
        before, after = (rate_text(value) for value in rates)
        sure = int(((self.data["chance_higher"] >= 0.9) | (self.data["chance_higher"] <= 0.1)).sum())
        return (
            f"{rate_words(self.event, self.per)}: {before} in the first period and {after} in the second "
            f"for the {len(self.data)} hitters in both; for {sure} of them the direction of the change is "
            f"known with a chance of {percent(0.9)} or more (left out: {self.first_only} and "
            f"{self.second_only} with one period only)"
        )

    @property
    def title(self) -> str:
        """The explanation, and what the intervals are."""
        return f"{self.explanation}; {level_words(self.level)} intervals of the difference are hybrid-score"

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with the highest chance of a rise first, rates and chances as they are said."""
        shown = self.data.sort_values("chance_higher", ascending=False, kind="stable")
        for name in ("first_rate", "second_rate"):
            shown[name] = [rate_text(value) for value in shown[name]]
        for name in ("difference", "low", "high"):
            shown[name] = [("-" if value < 0 else "+") + rate_text(abs(value)) for value in shown[name]]
        shown["chance_higher"] = [chance_text(value) for value in shown["chance_higher"]]
        dropped = ["log_odds_ratio", "ratio_low", "ratio_high", "chance_raised", "chance_lowered"]
        untold = ("all", "unknown", "unknown_share")
        return shown.drop(
            columns=[*dropped, *(f"{s}_{what}" for s in ("first", "second") for what in untold)]
        )


def compare_periods(
    first: Any,
    second: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    factor: float = FACTOR,
    level: float = DEFAULT_LEVEL,
    faced: pd.DataFrame | None = None,
) -> Change:
    """Compare every hitter's rate in two periods.

    Parameters
    ----------
    first, second
        Counts by hitter of the earlier and the later period, counted by the same rules.
    event, per
        The rate.
    factor
        How many times the odds are to have changed for ``chance_raised`` and ``chance_lowered``; above 1.
    level
        Level of the intervals.
    faced
        By how much what a hitter faced in the second period raises his log odds against what he faced in the
        first, as in :func:`hitlab.splits.split_rates`; the posterior of the change is then without it, the
        two rates and their difference stay as they were observed.

    Returns
    -------
    Change
        One row a hitter with a record in both: the two rates, their difference with its interval, and the
        chances that the true rate rose, or moved by the factor.

    Raises
    ------
    CountsError
        Where the two are not counted by the same column, or nobody has exposure in both.
    MissingColumnsError
        As in ``rate``.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.over_time import compare_periods
    >>> april = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                       "swings": [110, 120, 90], "hard": [16, 24, 17]})
    >>> may = april.assign(swings=[130, 110, 100], hard=[35, 20, 19])
    >>> change = compare_periods(april, may, "hard", "swings")
    >>> change.table()[["hitter", "difference", "low", "high", "chance_higher"]].round(2)
              hitter  difference   low  high  chance_higher
    0  Runa Kvalbakk        0.12  0.04  0.21           0.93
    1  Nils Haxditch       -0.02 -0.10  0.07           0.56
    2  Zora Quarmoor        0.00 -0.09  0.09           0.63
    """
    before, after = as_counts(first), as_counts(second)
    together = joined_periods(before, after)
    fit = split_rates(together, after, event, per, level=level, equal_sides=True, faced=faced)
    rows = fit.data
    data = rows[together.identity.columns].copy()
    for ours, theirs in (("first", "rest"), ("second", "inside")):
        for column in ("events", "exposure", "all", "unknown", "unknown_share"):
            data[f"{ours}_{column}"] = rows[f"{theirs}_{column}"]
    data["first_rate"], data["second_rate"] = rows["rest_rate"], rows["inside_rate"]
    data["difference"] = data["second_rate"] - data["first_rate"]
    data["low"], data["high"] = difference_interval(
        data["second_events"], data["second_exposure"], data["first_events"], data["first_exposure"], level
    )
    data["log_odds_ratio"] = rows["log_odds_ratio"]
    data["ratio_low"], data["ratio_high"] = rows["low"], rows["high"]
    data["chance_higher"] = rows["chance_above_rest"]
    data["chance_raised"], data["chance_lowered"] = fit.law.beyond(float(np.log(factor)))
    here, there = (int((c.column(per) > 0).sum()) for c in (before, after))
    return Change(
        data, event, per, level, here - len(data), there - len(data), fit.league_ratio, fit.league_spread
    )


def joined_periods(first: Counts, second: Counts) -> Counts:
    """Add up the counts of two periods, one row a hitter of either.

    Raises
    ------
    CountsError
        Where the two were not counted the same way.
    """
    if first.by != second.by:
        raise CountsError(
            f"the two periods are counted by {first.by} and by {second.by}; count both the same way"
        )
    if first.conventions != second.conventions:
        raise CountsError("the two periods are counted by different conventions; count both the same way")
    names = [name for name in first.names if name in second.names]
    key = list(first.by)
    columns = [*first.identity.columns, *names]
    stacked = pd.concat([first.data[columns], second.data[[n for n in columns if n in second.data]]])
    labels = [n for n in first.identity.columns if n not in key]
    summed = stacked.groupby(key, sort=False)[names].sum()
    kept = stacked.drop_duplicates(key).set_index(key)[labels]
    data = kept.join(summed).reset_index()
    return replace(
        first,
        data=data,
        notes=_notes_of_both(first.notes, second.notes),
        hard_notes=_notes_of_both(first.hard_notes, second.hard_notes),
        hard_doubts=_notes_of_both(first.hard_doubts, second.hard_doubts),
    )


def _notes_of_both(first: tuple[str, ...], second: tuple[str, ...]) -> tuple[str, ...]:
    """Return what is noted of both periods, then what of one, with the period's name."""
    return (
        *(note for note in first if note in second),
        *(f"first period: {note}" for note in first if note not in second),
        *(f"second period: {note}" for note in second if note not in first),
    )


def paired_halves(counts: Any, how: Literal["alternate", "time"] = "alternate") -> tuple[Counts, Counts]:
    """Split every hitter's games into two halves.

    Parameters
    ----------
    counts
        Counts by hitter and game (and date, for their order).
    how
        ``alternate``: his first, third, ... game against his second, fourth, ...; both halves meet the same
        months, and a change in between touches both alike. ``time``: his earlier half of the games against
        the later.

    Returns
    -------
    first, second
        Counts by hitter. A hitter with one game is in the first only.

    Raises
    ------
    CountsError
        Where the counts are not by hitter and game.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.over_time import paired_halves
    >>> games = pd.DataFrame({"hitter": "Runa Kvalbakk", "date": [f"2031-05-0{day}" for day in range(1, 6)],
    ...                       "swings": [10, 8, 9, 12, 7], "hard": [2, 1, 3, 2, 0]})
    >>> odd, even = paired_halves(games)
    >>> odd.table()[["swings", "hard"]].values.tolist(), even.table()[["swings", "hard"]].values.tolist()
    ([[26, 5]], [[20, 3]])
    """
    if how not in ("alternate", "time"):
        raise CountsError(f"how={how!r}: give 'alternate' or 'time'")
    ordered = in_order(as_counts(counts))
    key = hitter_totals(ordered).by[0]
    group = ordered.data.groupby(key, sort=False)
    number = group.cumcount().to_numpy()
    size = group[key].transform("size").to_numpy()
    later = number % 2 == 1 if how == "alternate" else number >= (size + 1) // 2
    return hitter_totals(ordered.only(~later)), hitter_totals(ordered.only(later))


def paired_interval(
    both: ArrayLike,
    first_only: ArrayLike,
    second_only: ArrayLike,
    neither: ArrayLike,
    level: float = DEFAULT_LEVEL,
) -> tuple[Floats, Floats]:
    """Interval for the difference of two shares of the same hitters, hybrid score.

    For yes-or-no facts about the same people in two periods: who hit .300, who qualified, who was ahead of
    the league.

    Parameters
    ----------
    both, first_only, second_only, neither
        How many have it in both periods, in one, in none: whole numbers, which broadcast.
    level
        Coverage, between 0 and 1.

    Returns
    -------
    low, high
        For the share in the first less the share in the second.

    Raises
    ------
    CountsError
        As in ``share_interval``.

    References
    ----------
    Newcombe 1998, Stat. Med. 17:2635-2650, method 10.

    Examples
    --------
    Of 40 hitters 9 were ahead of the league in both years, 8 in the first only, 3 in the second only:

    >>> from hitlab.over_time import paired_interval
    >>> low, high = paired_interval(9, 8, 3, 20, level=0.90)
    >>> round(float(low), 3), round(float(high), 3)
    (-0.014, 0.257)
    """
    a, b, c, d = np.broadcast_arrays(*(np.asarray(v) for v in (both, first_only, second_only, neither)))
    n = a + b + c + d
    low_1, high_1 = share_interval(a + b, n, "wilson", level)
    low_2, high_2 = share_interval(a + c, n, "wilson", level)
    a, b, c, d, n = (value.astype(float) for value in (a, b, c, d, n))
    cross = a * d - b * c
    # The continuity correction of the reference: a positive association is taken to be weaker.
    cross = np.where(cross > 0, np.maximum(cross - n / 2, 0.0), cross)
    scale = np.sqrt((a + b) * (c + d) * (a + c) * (b + d))
    phi = np.divide(cross, scale, out=np.zeros_like(scale), where=scale > 0)
    with np.errstate(invalid="ignore", divide="ignore"):
        p, q = (a + b) / n, (a + c) / n

    def reach(x: Floats, y: Floats) -> Floats:
        return np.asarray(np.sqrt(np.maximum(x * x - 2 * phi * x * y + y * y, 0.0)))

    return p - q - reach(p - low_1, high_2 - q), p - q + reach(high_1 - p, q - low_2)
