"""Seasons of one table: which of them a question is about, what went before, and what is not pooled with it.

A season is what the column ``season`` says, where the table has one, else the calendar year of ``date``;
they follow each other by their names, which begin with their year. What another level or another bat did is
another record, and so are hard balls that were told otherwise: they are left out, which is said, and no
shift is estimated for them.

One tally by day, level and bat tells which pitches may be pooled, one by subject and day gives each earlier
season's counts, which go where ``earlier=`` goes; both are answered from what is kept of a folder. ``terms``
are part of ``Source.days``, so that cut lists follow. Whatever must not be pooled newly is a column in
``_APART``, or a way to tell hard balls in ``_judged``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING, Any

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts
from hitlab.counting.summing import Pitched
from hitlab.counting.tallies import tally
from hitlab.errors import ClaimError, ReadingError, quiet_warnings
from hitlab.over_time.seasons import column_of_seasons, seasons_of, span_words
from hitlab.questions.question import CAREER
from hitlab.showing import quoted, shown_name
from hitlab.wording import listed

if TYPE_CHECKING:
    from hitlab.questions.source import Source

__all__ = ["Seasons", "by_season", "season_days"]

_APART = {"level": "at the level {}", "bat": "with a bat that is {}"}
"""Columns whose values are not pooled, and how one of them is said."""

_HALF, _NEARLY_ALL = 0.5, 0.95  # of the balls that were told hard or not (defaults)
_SOME = "partly by eye"
_BEGINS_WITH_YEAR = re.compile(r"\d{4}(?!\d)")
_FEW = 3  # seasons that are named one by one


def season_days(frame: Any) -> dict[str, tuple[datetime, datetime]]:
    """Return the seasons of a table of pitches that has dates, in order, with their first and last days.

    Parameters
    ----------
    frame
        A narwhals frame with ``date``.

    Returns
    -------
    dict
        Empty where the names of several seasons do not begin with their years, so that their order is not
        told.
    """
    names = [name for name in ("season", "date") if name in frame.collect_schema().names()]
    table = Pitched(frame).rows_by(*names)[names]
    table = table.assign(date=pd.to_datetime(table["date"], errors="coerce")).dropna()
    ends = table.groupby(seasons_of(table[names[0]]), sort=True)["date"].agg(["min", "max"])
    if len(ends) > 1 and not all(_BEGINS_WITH_YEAR.match(str(name)) for name in ends.index):
        return {}
    return {
        str(name): (first.to_pydatetime(), last.to_pydatetime()) for name, first, last in ends.itertuples()
    }


class Seasons:
    """What the seasons of a table are to a question about one of them, or about all as a career.

    Attributes
    ----------
    names
        The seasons that the question is about, the last one last.
    terms
        What chooses their pitches.
    """

    def __init__(self, source: Source) -> None:
        question = source.question
        self.question, self._source = question, source
        # A split is of all pitches: its situation parts them.
        self._when = question.when if question.kind != "split" else ()
        self.column = column_of_seasons(source.columns)
        if self.column == "season":
            _demand_texts(source.frame)
        # What is alike has to be told only where seasons are put together.
        pooled = self.takes_history or question.season == CAREER
        around = [name for name in _APART if pooled and name in source.columns]
        with quiet_warnings():  # what is mixed over seasons is told apart here
            table = tally(
                source.opened,
                [self.column, *around],
                where=source.chosen(*self._when),
                conventions=question.conventions,
                doubts=source.doubts,
                only=("pitches",),
            ).data
        table = table.assign(season=seasons_of(table[self.column]))
        self.untold = int(table["pitches"][table["season"] == ""].sum())
        every = sorted({*table["season"]} - {""})
        asked = question.season
        if not every or (asked != CAREER and asked not in every):
            there = (
                f"the table's seasons are {listed(list(map(shown_name, every)))}" if every else "none is told"
            )
            raise ClaimError(f"season={asked!r}: {there}; give one of them, or {CAREER!r} for all together")
        if asked == CAREER and question.of_kind.one_season:
            raise ClaimError(
                f"season={CAREER!r}: a claim of the kind {question.kind!r} holds some games of a season "
                f"against its others; give one season, such as season={every[-1]!r}"
            )
        odd = next((name for name in every if not _BEGINS_WITH_YEAR.match(name)), None)
        if odd is not None and len(every) > 1:
            raise ClaimError(
                f"the season {quoted(odd)} does not begin with its year, so that which came before which is "
                "not told; write the year first, such as 2031 or 2030-31"
            )
        self.last = every[-1] if asked == CAREER else asked
        career = asked == CAREER
        told = table[(table["season"] <= self.last) & (table["season"] != "")]
        earlier = told["season"] < self.last
        alike = pd.Series(True, index=told.index)
        self.apart: tuple[str, ...] = ()
        self._left_out: list[str] = []
        self._whole: set[str] = set()
        for name in around:
            values = told[name].astype(object).where(told[name].notna(), "").astype(str)
            mine = self._only(name, values[~earlier])
            other = values != mine
            if not (other & earlier).any():
                continue
            # One term chooses of all the seasons of a career, so of the last one, too.
            other &= earlier | (career and mine != "")
            self._leave_out(name, told[other & alike], values)
            if mine:
                _demand_no_comma(name, mine)
                self.apart += (f"{name}={mine}",)
            else:  # no term chooses what is not told, so that such a season is left out whole
                whole = {*told["season"][other]}
                self._whole |= whole
                other = told["season"].isin(whole)
            alike &= ~other
        before = told[earlier & alike]
        self._candidates = sorted({*before["season"]})

    def _only(self, name: str, values: pd.Series[Any]) -> str:
        """Return the one level, or bat, of the season; empty where it is not told."""
        found = sorted({*values} - {""})
        if len(found) > 1:
            raise ClaimError(
                f"{self.last} has more than one {name} ({listed(list(map(shown_name, found)))}), which are "
                f"not pooled; choose one of them by when=, such as {name}={found[0]}, or give a table of its "
                "pitches alone"
            )
        return found[0] if found else ""

    def _leave_out(self, name: str, rows: pd.DataFrame, values: pd.Series[Any]) -> None:
        for value, some in rows.groupby(values, sort=True):
            said = _APART[name].format(shown_name(str(value))) if value else f"without a {name}"
            self._left_out.append(
                f"{int(some['pitches'].sum()):,} pitches of {span_words(sorted({*some['season']}))} {said}"
            )

    @cached_property
    def by_season(self) -> Counts:
        """Counts by subject and by the column that tells seasons, of what may be pooled."""
        with quiet_warnings():
            return by_season(self._source, *self._when, *self.apart)

    @cached_property
    def _judged(self) -> dict[str, str]:
        """By season how hard balls were told; empty where that does not matter."""
        if not any("hard" in event for event in self.question.events) or "hard" not in self.by_season.names:
            return {}
        counts, q = self.by_season, self.question
        struck = "contact" if q.conventions.hard_fouls else "in_play"
        names = [struck, "unmeasured", *(["hard_by_eye"] if "hard_by_eye" in counts.names else [])]
        table = counts.data[names].groupby(seasons_of(counts.data[self.column])).sum()
        flagged = "flagged" in counts.hard_means and "mph" in counts.hard_means
        speeds = self._with_speeds() if flagged else {}
        found = {}
        for season, row in table.iterrows():
            judged = int(row[struck] - row["unmeasured"])
            eye = row["hard_by_eye"] / judged if judged and "hard_by_eye" in names else 0.0
            fast = speeds.get(str(season), 0) / judged if judged and flagged else 1.0
            found[str(season)] = (
                "nowhere"
                if not judged
                else "by eye"
                if eye > _NEARLY_ALL
                else _SOME
                if eye > 1 - _NEARLY_ALL
                else "by speed"
                if fast > _HALF
                else "by a flag of the source"
            )
        return found

    def _with_speeds(self) -> dict[str, int]:
        """Count by season the balls in play that have a speed, where flags stand beside speeds."""
        terms = (*self._when, *self.apart, "exit_mph>=1")
        with quiet_warnings():
            table = self._source.counts(*terms, by=[self.column]).data
        return dict(table["in_play"].groupby(seasons_of(table[self.column])).sum())

    def _as_now(self, season: str) -> bool:
        """Say whether hard balls were told in a season as in the last one."""
        now = self._judged.get(self.last, "")
        return season == self.last or (self._judged.get(season, "") == now and now != _SOME)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The seasons that the question is about."""
        if self.question.season != CAREER:
            return (self.last,)
        # Back to where hard balls were told otherwise: what comes before that is not one record with it.
        others = {season for season in self._candidates if not self._as_now(season)}
        # From day to day nothing between is left out.
        others |= self._whole if self.column == "date" else set()
        return tuple(one for one in [*self._candidates, self.last] if not others or one > max(others))

    @property
    def takes_history(self) -> bool:
        """Whether seasons before it are asked what they say of it."""
        q = self.question
        return q.season != CAREER and q.history != "none" and q.of_kind.shrunk and q.about != "record"

    @cached_property
    def before(self) -> tuple[str, ...]:
        """The seasons before it that may say something of it, the last one first."""
        if not self.takes_history:
            return ()
        return tuple(one for one in reversed(self._candidates) if self._as_now(one))

    @cached_property
    def terms(self) -> tuple[str, ...]:
        """What chooses the pitches of the question."""
        apart = self.apart if len(self.names) > 1 else ()
        if self.column == "date":
            return (*apart, f"date>={self.names[0]}-01-01", f"date<={self.names[-1]}-12-31")
        for name in self.names:
            _demand_no_comma("season", name)
        return (*apart, f"season={','.join(self.names)}")

    def history(self, key: str) -> tuple[Counts, ...]:
        """Return the counts of each season before it by what tells the subjects apart, the last one first.

        Raises
        ------
        ClaimError
            Where names alone would tell who is one and the same over seasons, and nobody said so.
        """
        if not self.before:
            return ()
        self.demand_told_apart(key)
        counts, season = self.by_season, seasons_of(self.by_season.data[self.column])
        return tuple(
            replace(counts.only((season == one).to_numpy()).summed((key,)), source=f"{counts.source}, {one}")
            for one in self.before
        )

    def demand_told_apart(self, key: str) -> None:
        """See that who is one and the same over seasons is told by an id, or by names where that was said."""
        if key in ("hitter", "pitcher") and self.question.history == "ids":
            mend = "" if self.question.season == CAREER else ", or history='none' for the season alone"
            raise ClaimError(
                f"no {key}_id tells who is who over several seasons, and two of one name would count as one; "
                f"say history='names' where a name is one {key}{mend}"
            )

    def notes(self, there: Sequence[NDArray[np.bool_]]) -> tuple[str, ...]:
        """Say which seasons were used, what was left out, and why.

        Parameters
        ----------
        there
            For each season that was taken for history who of those compared has a record in it.
        """
        q, career = self.question, self.question.season == CAREER
        last, said = shown_name(self.last), []
        if there:
            told = int(np.logical_or.reduce(there).sum())
            clubs = "; a hitter who changed clubs stays one" if q.subject == "hitter" else ""
            many, are = len(self.before), "are" if len(self.before) > 1 else "is"
            named = [shown_name(one) for one in self.before]
            before = span_words(self.before[::-1]) if many > _FEW else listed(named)
            said.append(
                f"{before} {are} the history of {last}, and {told:,} of {len(there[0]):,} have one{clubs}"
            )
        elif not career and q.about == "underlying":
            why = "nobody in it has a record before it that could be its history"
            why = "all together have no history here" if q.subject == "league" else why
            why = why if q.of_kind.shrunk else "what is asked here takes no earlier season for history"
            said.append(f"{last} stands alone{', as was asked' if q.history == 'none' else f': {why}'}")
        return (*said, *self._said_left_out(career))

    def _said_left_out(self, career: bool) -> list[str]:
        left_out = list(self._left_out)
        others = self._candidates if career or self.takes_history else []
        now = self._judged.get(self.last, "") if others else ""
        for season in others:
            then = self._judged.get(season, "")
            if not self._as_now(season):
                last = shown_name(self.last)
                left_out.append(f"{shown_name(season)}, where hard balls were told {then} ({now} in {last})")
            elif career and season < self.names[0]:
                left_out.append(f"{shown_name(season)}, which comes before that")
        said = [f"left out, because it is another record: {'; '.join(left_out)}"] if left_out else []
        if self.untold:
            pitches = "1 pitch" if self.untold == 1 else f"{self.untold:,} pitches"
            said.append(f"left out, because no season is told: {pitches} without a {self.column}")
        return said


def _demand_texts(frame: Any) -> None:
    """Refuse a table that nobody has read, whose seasons are numbers: no term would find them."""
    kind = frame.collect_schema()["season"]
    if kind.is_numeric() or kind.is_temporal() or kind == nw.Object:
        raise ReadingError(
            f"seasons are asked for, and the column season holds {kind}, no texts: this table was not read "
            "yet. Read it first, hitlab.read_pitches(table), and ask that"
        )


def _demand_no_comma(noun: str, name: str) -> None:
    """Refuse what a term would take for two."""
    if "," in name:
        raise ClaimError(f"the {noun} {quoted(name)} has a comma in its name; write it without one")


def by_season(source: Source, *terms: str) -> Counts:
    """Count the rate that is asked about by subject and by the column that tells seasons."""
    only = None if source.own else source.rate
    return source.counts(*terms, by=[column_of_seasons(source.columns)], only=only)
