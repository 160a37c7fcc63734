"""From a question and a table to the counts that answer it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, replace
from datetime import datetime
from os import PathLike
from typing import Any

import narwhals as nw

from hitlab.claims.question import OF_SHRUNK_RATES, THE_LEAGUE, Question
from hitlab.claims.seasons import Seasons, column_of_seasons, season_words
from hitlab.counting.counts import Counts
from hitlab.counting.days import day_in, day_words, demand_days
from hitlab.counting.events import EVENTS
from hitlab.counting.facts import Conventions
from hitlab.counting.kept_counts import KEYS
from hitlab.counting.own_events import base_and_situation, chosen_text, restricted
from hitlab.counting.rates import as_counts
from hitlab.counting.situations import Situation, situation
from hitlab.counting.summing import collected, is_spread
from hitlab.counting.tallies import tally
from hitlab.errors import ClaimError
from hitlab.estimates.eye_law import Ticks
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.opening import Opened, doubts_of, frame_of
from hitlab.pitches.report import Reading
from hitlab.pitches.storing import folder_of

__all__ = [
    "Source",
    "asks_before",
    "days_of",
    "demand_counted_so",
    "in_one",
    "is_pitches",
    "keeping",
    "kept_of_this_table",
]

_KEPT: ContextVar[dict[Any, Any] | None] = ContextVar("kept of one table", default=None)


@contextmanager
def keeping(kept: dict[Any, Any]) -> Iterator[None]:
    """Keep what is counted and fitted, where many questions are asked of one table.

    Parameters
    ----------
    kept
        Where it is kept: of one table only, which does not change meanwhile.
    """
    before = _KEPT.set(kept)
    try:
        yield
    finally:
        _KEPT.reset(before)


def kept_of_this_table() -> dict[Any, Any] | None:
    """Return what is kept of the table that is asked; ``None`` where nothing is."""
    return _KEPT.get()


def is_pitches(table: Any) -> bool:
    """Say whether something is a pitch table: a path, a ``Reading``, or a frame that has an outcome."""
    if isinstance(table, Counts):
        return False
    if isinstance(table, str | PathLike | Reading):
        return True
    try:
        return "outcome" in nw.from_native(table).collect_schema().names()
    except TypeError:
        return False


def days_of(pitches: Any) -> tuple[datetime, datetime] | None:
    """Return the first and the last day of a pitch table; nothing where no day is recorded."""
    frame = frame_of(pitches)[0]
    if "date" not in frame.collect_schema().names():
        return None
    known = frame.filter(~nw.col("date").is_null())  # older pandas cannot order texts and missing ones
    ends = collected(known.select(first=nw.col("date").min(), last=nw.col("date").max()))
    first, last = (str(ends[name].iloc[0])[:10] for name in ("first", "last"))
    try:
        return datetime.fromisoformat(first), datetime.fromisoformat(last)
    except ValueError:
        return None


def asks_before(question: Question) -> bool:
    """Say whether a situation of the question asks for the pitch before."""
    asked = [situation(*question.when)] if question.when else []
    for name in (question.event, question.per):
        inside = base_and_situation(name)[1] if restricted(name) else None
        asked += [] if inside is None else [inside]
    return any("previous_whiff" in one.columns for one in asked)


_SINCE_PARTS = ("more", "steady")
"""Kinds in which a first day parts the pitches instead of choosing among them."""

_MENDS = {
    "game": "where a hitter plays one game a day, its date will do: "
    '[columns] "your heading" = ["date", "game"] in the mapping',
}


@dataclass(frozen=True, slots=True)
class Source:
    """A table as a question looks at it.

    Attributes
    ----------
    question
        With its days found in the table.
    table
        The pitches or the counts.
    pitches
        Whether single pitches are there.
    columns
        The pitch table's; empty for counts.
    doubts
        What reading the pitches left in doubt.
    opened
        The pitches, opened once for all that is counted of them; ``None`` for counts.
    seasons
        What the table's seasons are to the one that is asked for; ``None`` where none is.
    """

    question: Question
    table: Any
    pitches: bool
    columns: frozenset[str]
    doubts: Doubts = field(default_factory=Doubts)
    opened: Opened | None = None
    seasons: Seasons | None = None

    @property
    def frame(self) -> Any:
        """The pitches as a frame; ``None`` for counts."""
        return None if self.opened is None else self.opened.frame

    @classmethod
    def of(cls, question: Question, table: Any) -> Source:
        """Look at a table.

        Raises
        ------
        ClaimError
            Where a situation, a day or another way of counting is asked for and only counts are there, or a
            day lies outside.
        """
        if not is_pitches(table):
            counts = as_counts(table)
            asked = [name for name in ("when", "since", "until", "season") if getattr(question, name)]
            if asked and question.kind != "steady":
                raise ClaimError(
                    f"{asked[0]} asks for single pitches, and these are counts; give the pitch table itself"
                )
            if question.subject == "league":
                counts = in_one(counts)
            counts = _as_asked(counts, question.conventions)
            # Asked again of the pitches, it has to be counted as these were.
            return cls(replace(question, conventions=counts.conventions), counts, False, frozenset())
        doubts = doubts_of(table)
        if asks_before(question):
            from hitlab.approach.sequence import with_previous

            table = with_previous(table)
        frame, name = frame_of(table)
        if question.subject == "league":
            table = frame.with_columns(nw.lit(THE_LEAGUE).alias("league"))
            frame, name = frame_of(table)
        opened = Opened(frame, name, doubts)
        source = cls(question, table, True, frozenset(frame.collect_schema().names()), doubts, opened)
        if question.season:
            if "season" not in source.columns:
                source.demand("date")
                demand_days(source.frame)
            source = replace(source, seasons=Seasons(source))
        return replace(source, question=source._with_days()) if question.since or question.until else source

    def _with_days(self) -> Question:
        self.demand("date")
        demand_days(self.frame)
        ends = days_of(self.opened)
        if ends is None:
            raise ClaimError("no day is recorded in this table, so no span of days can be asked for")
        years = range(ends[0].year, ends[1].year + 1)
        found: dict[str, Any] = {}
        for name in ("since", "until"):
            text = getattr(self.question, name)
            if not text:
                continue
            day = day_in(text, list(years), last=name == "until")
            if day > ends[1] if name == "since" else day < ends[0]:
                raise ClaimError(
                    f"{name}={text!r}: the table's games are from {ends[0]:%Y-%m-%d} to {ends[1]:%Y-%m-%d}, "
                    "so none are left"
                )
            if name == "since" and day.year < ends[0].year:
                raise ClaimError(
                    f"since={text!r} is in {day.year}, and the table's games begin on {ends[0]:%Y-%m-%d}; "
                    "leave it out for all of them"
                )
            found[name] = f"{day:%Y-%m-%d}"
        return replace(self.question, **found)

    def demand(self, *columns: str) -> None:
        """Say in plain words when the table lacks a column that the question needs."""
        absent = [column for column in columns if column not in self.columns]
        if absent:
            mend = _MENDS.get(absent[0], "map the column of yours that holds it")
            raise ClaimError(
                f"this needs the column {absent[0]}, which the pitch table does not have; {mend}"
            )

    @property
    def days(self) -> tuple[str, ...]:
        """The terms of the season and the days that are asked for."""
        q = self.question
        since = q.since and q.kind not in _SINCE_PARTS
        season = () if self.seasons is None else self.seasons.terms
        return (
            *season,
            *((f"date>={q.since}",) if since else ()),
            *((f"date<={q.until}",) if q.until else ()),
        )

    @property
    def may_span_seasons(self) -> bool:
        """Say whether one rate may be asked of pitches of several seasons."""
        if self.seasons is not None:
            return len(self.seasons.names) > 1
        column, q = column_of_seasons(self.columns), self.question
        if not column or q.kind not in OF_SHRUNK_RATES or is_spread(self.frame):
            return False
        if column == "season":
            return True
        ends = days_of(self.opened)
        return ends is not None and (q.until or str(ends[1]))[:4] > (q.since or str(ends[0]))[:4]

    @property
    def words(self) -> str:
        """How situation and days follow a rate in a sentence; empty for all pitches."""
        q = self.question
        said = [situation(*q.when).words] if q.when and q.kind != "split" else []
        said += [season_words(q.season)] if q.season else []
        since, until = (day_words(datetime.fromisoformat(d)) if d else "" for d in (q.since, q.until))
        since = "" if q.kind in _SINCE_PARTS else since
        if since and until:
            said.append(f"from {since} to {until}")
        elif since or until:
            said.append(f"since {since}" if since else f"until {until}")
        return " ".join(said)

    def chosen(self, *terms: str) -> Situation | None:
        """Return the pitches that some terms choose; nothing where there are none."""
        if not terms:
            return None
        found = situation(*terms)
        self.demand(*found.columns)
        return found

    def keeps_counts(self, *terms: str) -> bool:
        """Say whether counts of pitches are kept beside them: more than one tally then costs little."""
        if self.opened is None or self.own or folder_of(self.opened.frame.to_native()) is None:
            return False
        return not terms or set(situation(*terms).columns) <= set(KEYS)

    def counts(self, *terms: str, by: Sequence[str] = (), only: Collection[str] | None = None) -> Counts:
        """Count the pitches that some terms choose, by subject and more columns; counts stay as they are."""
        if not self.pitches:
            counts: Counts = self.table
            return counts
        q = self.question
        own = self.own
        self.demand(q.subject)
        kept = kept_of_this_table()
        key = (q.subject, tuple(by), terms, tuple(own.items()), q.conventions, only)
        if kept is not None and key in kept:
            before: Counts = kept[key]
            return before
        found = tally(
            self.opened,
            [q.subject, *by],
            where=self.chosen(*terms),
            events=own or None,
            conventions=q.conventions,
            doubts=self.doubts,
            only=only,
        )
        if kept is not None:
            kept[key] = found
        return found

    @property
    def own(self) -> dict[str, str]:
        """The texts of restricted counts by their words: a count in a situation is no count of the ledger."""
        q = self.question
        own = {chosen_text(name): name for name in (q.event, q.per) if restricted(name)}
        return {words: text for words, text in own.items() if words not in EVENTS}

    @property
    def rate(self) -> tuple[str, str]:
        """The names of event and denominator, as they are counted."""
        return chosen_text(self.question.event), chosen_text(self.question.per)


_COUNTED_BY = ("hard_mph", "foul_tip", "hard_fouls", "most_contradicted")
"""Conventions that are of no use once pitches are counted; the others are about the rates."""


def demand_counted_so(table: Any, asked: Conventions) -> None:
    """See that ``Counts`` were made by the conventions that are given beside them, usual ones as well.

    Raises
    ------
    ClaimError
        Where they were made by others.
    """
    if isinstance(table, Counts):
        _refuse_too_late(asked, table.conventions, _COUNTED_BY)


def _refuse_too_late(asked: Conventions, had: Conventions, names: Collection[str]) -> None:
    for name in (name for name in _COUNTED_BY if name in names):
        value = getattr(asked, name)
        if value != getattr(had, name):
            raise ClaimError(
                f"conventions: {name}={value!r} is how pitches are counted, and these are counts already, "
                f"made with {name}={getattr(had, name)!r}; give the pitch table, or "
                f"tally(pitches, conventions=Conventions({name}={value!r}))"
            )


def _as_asked(counts: Counts, asked: Conventions) -> Counts:
    """Take conventions that are asked for to counts that are there, or say why they come too late."""
    usual, had = Conventions(), counts.conventions
    # A question that says nothing of a convention has the usual one.
    said = {name for name in _COUNTED_BY if getattr(asked, name) != getattr(usual, name)}
    _refuse_too_late(asked, had, said)
    changed = {
        name: getattr(asked, name)
        for name in ("eye", "most_unknown")
        if getattr(asked, name) != getattr(usual, name)
    }
    if "eye" in changed and "hard" in counts.names:
        Ticks.of(counts)  # refuses flags that were taken in place of speeds
    return replace(counts, conventions=replace(had, **changed)) if changed else counts


def in_one(counts: Counts) -> Counts:
    """Sum everybody's counts into those of the league, game by game where games are told."""
    games = [name for name in ("game", "date") if name in counts.by]
    named = replace(counts, data=counts.data.assign(league=THE_LEAGUE), by=(*counts.by, "league"))
    return named.summed(("league", *games))
