"""A hitter inside a situation against the rest of his own record, and the league beside him.

What is estimated: for each hitter the log odds ratio between the event's rate inside the situation and
outside it. The log odds ratios of all hitters follow a normal law, whose mean (the situation is harder or
easier for everybody) and spread (some hitters differ) are integrated over, and so is each hitter's own level
(``hitlab.splits.split_law``).

When it fails: swings inside and outside that differ in more than the situation (count, pitchers); events
that are not independent; differences that depend on the level, such as good hitters who alone lose by the
situation. One situation by itself tells little about a small spread among hitters. What it tells of the law
enters at half its weight, and the law that the situation does nothing to anybody is one of those averaged.
Among verdicts at .90 from counts alone, against the rest and beyond the usual, the false share lies within
.03 of the stated one at shifts of 0 and .25 and spreads of .06, .12 and .25, with 60 and with 150 hitters,
wherever there are more than five verdicts in a thousand hitters (``tests/reference/measured.md``). The price:
of what could be called right were the law known, two thirds (60 hitters) to nine tenths (150) are at a spread
of .25, and a quarter at .12, where the situation does nothing to everybody. Between those shifts it is less
good: at a shift of .10 and a spread of .12, .06 are stated and .09 to .11 false. Where most hitters do
not differ and a few do by much, no normal law is right, and more are false than stated. ``all_splits``, and
claims from a pitch table, ask the usual situations too, which tell the law.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.counting.counts import Counts, pair
from hitlab.counting.events import rate_words
from hitlab.counting.rates import as_counts
from hitlab.errors import CountsError
from hitlab.results import Listing
from hitlab.splits.split_law import FourCounts, SplitLaw, fit_laws
from hitlab.wording import chance_text, level_words, rate_text

__all__ = ["SplitFit", "four_counts", "split_rates", "split_table", "with_law"]


@dataclass(frozen=True, slots=True)
class SplitFit(Listing):
    """Every hitter's split.

    Attributes
    ----------
    data
        One row a hitter with exposure on both sides: who it is, ``inside_events``, ``inside_exposure``
        (what the events stand for where hardness is unknown for some contact), ``inside_all`` (the whole
        exposure), ``inside_unknown``, ``inside_unknown_share`` (of the contact), the same five as
        ``rest_...``, ``inside_rate``, ``rest_rate``, ``log_odds_ratio`` (posterior mean), ``low``, ``high``
        (posterior interval of it), ``shrunk_rate`` (posterior mean of his rate inside), and three chances:
        ``chance_above_rest`` (his rate inside is above that of his own rest), ``chance_above_usual`` (his
        difference from his own rest is above what the situation does to everybody), ``chance_above_league``
        (his rate inside is above the average hitter's inside).
    event, per
        The rate: names of two counts.
    level
        Level of the posterior intervals.
    league_ratio, league_spread
        Posterior means of the log odds ratios' mean and standard deviation across hitters.
    law
        The posterior behind them.
    """

    data: pd.DataFrame
    event: str
    per: str
    level: float
    league_ratio: float
    league_spread: float
    law: SplitLaw

    @property
    def title(self) -> str:
        """The rate, and what the intervals are of."""
        return (
            f"{rate_words(self.event, self.per)} inside the situation against the hitter's own rest; "
            f"{level_words(self.level)} posterior intervals of the log odds ratio"
        )

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with the highest chance to be above their rest first, rates as they are said."""
        shown = self.data.sort_values("chance_above_rest", ascending=False, kind="stable")
        for name in ("inside_rate", "rest_rate", "shrunk_rate"):
            shown[name] = [rate_text(value) for value in shown[name]]
        for name in ("chance_above_rest", "chance_above_usual", "chance_above_league"):
            shown[name] = [chance_text(value) for value in shown[name]]
        untold = ("all", "unknown", "unknown_share")
        dropped = [f"{part}_{what}" for part in ("inside", "rest") for what in untold]
        return shown.drop(columns=dropped).round({"log_odds_ratio": 2, "low": 2, "high": 2})


def split_rates(
    everything: Any,
    inside: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    level: float = 0.90,
    equal_sides: bool = False,
    beside: Sequence[FourCounts] = (),
    faced: pd.DataFrame | None = None,
) -> SplitFit:
    """Compare every hitter's rate inside a situation with his own rest.

    Parameters
    ----------
    everything
        ``Counts`` of all pitches, or any table of counts.
    inside
        Counts of the pitches in the situation, a part of ``everything`` counted by the same rules.
    event, per
        The rate.
    level
        Level of the posterior intervals.
    equal_sides
        See :func:`hitlab.splits.split_law.fit_laws`: for two sides of equal standing, such as two periods.
    beside
        Counts of the usual situations of the same pitches (``hitlab.splits.beside.Pitched.usual``), which
        tell how much hitters differ in a situation, too.
    faced
        By how much what a hitter faced inside raises his log odds against what he faced in the rest: the
        columns that the counts are by, ``log_odds`` and ``error`` (its standard error). It is then no part of
        the difference. Whoever is not in it faced the same on both sides.

    Returns
    -------
    SplitFit
        One row a hitter with exposure on both sides: both records, the log odds ratio with its interval, the
        shrunk rate inside, and the chances to be above his own rest, the usual difference and the league.

    Raises
    ------
    CountsError
        Where ``inside`` is not a part of ``everything``, or nobody has exposure on both sides.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch"],
    ...                      "swings": [400, 380, 350, 310], "hard": [104, 70, 63, 50]})
    >>> sliders = team.assign(swings=[110, 120, 90, 80], hard=[16, 20, 12, 10])
    >>> split = hitlab.split_rates(team, sliders, "hard", "swings")
    >>> split.table()[["hitter", "inside_rate", "rest_rate", "chance_above_rest"]].round(2)
          hitter  inside_rate  rest_rate  chance_above_rest
    0   Kvalbakk         0.15       0.30               0.04
    1   Haxditch         0.17       0.19               0.18
    2   Quarmoor         0.13       0.20               0.10
    3  Wychditch         0.12       0.17               0.13
    """
    both = split_table(as_counts(everything), as_counts(inside), event, per)
    if both.empty:
        raise CountsError(f"nobody has {per} both inside the situation and outside it")
    if faced is not None:
        key = [name for name in as_counts(everything).by if name in faced.columns]
        told = faced[[*key, "log_odds", "error"]].set_axis([*key, "faced", "faced_error"], axis=1)
        both = both.merge(told, on=key, how="left").fillna({"faced": 0.0, "faced_error": 0.0})
    [law] = fit_laws([four_counts(both)], level, equal_sides=equal_sides, beside=beside)
    return SplitFit(with_law(both, law), event, per, level, law.mean, law.spread, law)


def split_table(everything: Counts, inside: Counts, event: str, per: str) -> pd.DataFrame:
    """Give the counts inside and in the rest, one row a hitter with exposure on both sides.

    Parameters and errors are those of :func:`split_rates`; where nobody has both, the table is empty.
    """
    if everything.by != inside.by:
        raise CountsError(
            f"the two tables are counted by {everything.by} and by {inside.by}; count both the same way"
        )
    key = list(everything.by)
    names = [name for name in everything.names if name in inside.names]
    some = everything.data[key].merge(inside.data[[*key, *names]], on=key, how="left")
    some[names] = some[names].fillna(0).astype(np.int64)
    left = everything.data.copy()
    left[names] -= some[names]
    strangers = len(inside.data.merge(everything.data[key], on=key)) < len(inside.data)
    if strangers or (left[names] < 0).any(axis=None):
        raise CountsError(
            "the counts inside the situation are not a part of the whole; count both from one table"
        )
    # The rest is counted before anything is set aside for unknown hardness: each part has its own share.
    rest = pair(replace(everything, data=left), event, per, stays=True)
    part = pair(replace(inside, data=some), event, per, stays=True)
    both = everything.identity.assign(
        inside_events=part.events,
        inside_exposure=part.measured_exposure,
        inside_all=part.exposure,
        inside_unknown=part.unknown,
        inside_unknown_share=part.unknown_share,
        rest_events=rest.events,
        rest_exposure=rest.measured_exposure,
        rest_all=rest.exposure,
        rest_unknown=rest.unknown,
        rest_unknown_share=rest.unknown_share,
    )
    known = (both["inside_exposure"] > 0) & (both["rest_exposure"] > 0)
    return both[known].reset_index(drop=True)


def four_counts(both: pd.DataFrame) -> FourCounts:
    """Take the four counts out of a table made by :func:`split_table`."""
    columns = ("inside_events", "inside_exposure", "rest_events", "rest_exposure")
    told = [both[name].to_numpy(float) for name in ("faced", "faced_error") if name in both.columns]
    return FourCounts(*(both[name].to_numpy(np.int64) for name in columns), *told)


def with_law(both: pd.DataFrame, law: SplitLaw) -> pd.DataFrame:
    """Add rates, posterior and chances to a table made by :func:`split_table`."""
    return both.assign(
        inside_rate=both["inside_events"] / both["inside_exposure"],
        rest_rate=both["rest_events"] / both["rest_exposure"],
        shrunk_rate=law.rate,
        log_odds_ratio=law.ratio,
        low=law.low,
        high=law.high,
        chance_above_rest=law.above_rest,
        chance_above_usual=law.above_usual,
        chance_above_league=law.above_league,
    )
