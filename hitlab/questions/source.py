"""From a question and a table to the counts that answer it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field, fields, replace
from datetime import datetime
from os import PathLike
from typing import Any, TypeVar

import narwhals as nw

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
from hitlab.estimates.faced import faced_columns
from hitlab.over_time.seasons import column_of_seasons
from hitlab.over_time.stretches import hitter_key
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.opening import Opened, doubts_of, frame_of
from hitlab.pitches.report import Reading
from hitlab.pitches.storing import folder_of
from hitlab.questions.question import THE_LEAGUE, Question
from hitlab.questions.seasons import Seasons

__all__ = [
    "Source",
    "asks_before",
    "days_of",
    "demand_counted_so",
    "demand_no_pitches",
    "in_one",
    "is_pitches",
    "keeping",
    "once",
]

T = TypeVar("T")

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


def once(key: Any, made: Callable[[], T]) -> T:
    """Return what is kept under a key of the table that is asked, made where nothing is."""
    kept = _KEPT.get()
    if kept is None:
        return made()
    if key not in kept:
        kept[key] = made()
    found: T = kept[key]
    return found


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
    parts = folder_of(frame.to_native())
    if parts is not None and parts.days is not None:
        first, last = parts.days
    else:
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


def demand_no_pitches(question: Question) -> None:
    """Refuse counts where a question chooses among single pitches.

    Raises
    ------
    ClaimError
        Where a situation, days or a season are asked for.
    """
    asked = [name for name in ("when", "since", "until", "season") if getattr(question, name)]
    # Stretches of counts by game are told by their days.
    if asked and (question.kind, asked[0]) != ("steady", "since"):
        raise ClaimError(
            f"{asked[0]} asks for single pitches, and these are counts; give the pitch table itself"
        )


_PEOPLE = ("hitter", "pitcher")

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
    several_years
        Whether a day that is asked for is of games of several years, so that it is said with its own.
    """

    question: Question
    table: Any
    pitches: bool
    columns: frozenset[str]
    doubts: Doubts = field(default_factory=Doubts)
    opened: Opened | None = None
    seasons: Seasons | None = None
    several_years: bool = False

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
            demand_no_pitches(question)
            if question.subject == "league":
                counts = in_one(counts)
            counts = _as_asked(counts, question.conventions)
            # Asked again of the pitches, it has to be counted as these were.
            return cls(replace(question, conventions=counts.conventions), counts, False, frozenset())
        given = table
        if asks_before(question):
            from hitlab.approach.sequence import with_previous

            table = with_previous(table)
        frame, name = frame_of(table)
        # After it was opened: of what was held against its checksums just now no byte is read again.
        doubts = doubts_of(given)
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
            source._demand_told_apart()
        return source._with_days() if question.since or question.until else source

    def _with_days(self) -> Source:
        self.demand("date")
        demand_days(self.frame)
        one = self.seasons is not None and len(self.seasons.names) == 1
        games = "the season's games" if one else "the table's games"
        ends = days_of(self.asked_of)
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
                    f"{name}={text!r}: {games} are from {ends[0]:%Y-%m-%d} to {ends[1]:%Y-%m-%d}, "
                    "so none are left"
                )
            # Said aloud without its year, it would be taken for a day of the games' own.
            outside = day.year < ends[0].year if name == "since" else day.year > ends[1].year
            if outside:
                bound = "begin on" if name == "since" else "end on"
                raise ClaimError(
                    f"{name}={text!r} is in {day.year}, and {games} {bound} "
                    f"{ends[name == 'until']:%Y-%m-%d}; leave it out for all of them"
                )
            found[name] = f"{day:%Y-%m-%d}"
        return replace(self, question=replace(self.question, **found), several_years=len(years) > 1)

    def _demand_told_apart(self) -> None:
        """See that it is told who is who, where somebody's seasons are put together."""
        q, seasons = self.question, self.seasons
        nobody = q.kind == "response" and not q.who
        if seasons is not None and len(seasons.names) > 1 and q.subject in _PEOPLE and not nobody:
            told = f"{q.subject}_id" in self.columns
            seasons.demand_told_apart(q.subject if not told else f"{q.subject}_id")

    def demand(self, *columns: str) -> None:
        """Say in plain words when the table lacks a column that the question needs."""
        absent = [column for column in columns if column not in self.columns]
        if absent:
            mend = _MENDS.get(absent[0], "map the column of yours that holds it")
            raise ClaimError(
                f"this needs the column {absent[0]}, which the pitch table does not have; {mend}"
            )

    @property
    def season_terms(self) -> tuple[str, ...]:
        """The terms of the season that is asked for."""
        return () if self.seasons is None else self.seasons.terms

    @property
    def asked_of(self) -> Any:
        """The table, as what looks at single pitches takes it: of one season those of that season alone."""
        chosen = self.chosen(*self.season_terms)
        if self.opened is None:
            return self.table
        if chosen is None:
            return self.opened
        return replace(self.opened, frame=self.frame.filter(chosen.on(self.columns)))

    @property
    def games(self) -> Any:
        """The pitches that tell who met in a game: where counts are kept, all, for a game is in one part."""
        return self.frame if self.keeps_counts() else self.asked_of

    def season_notes(self, counts: Counts | None = None, earlier: Sequence[Counts] = ()) -> tuple[str, ...]:
        """Say which seasons were used for counts, with the counts of those that are their history."""
        if self.seasons is None:
            return ()
        if counts is None:
            return self.seasons.notes(())
        key = counts.by[0]
        return self.seasons.notes([counts.data[key].isin(one.data[key]).to_numpy() for one in earlier])

    @property
    def days(self) -> tuple[str, ...]:
        """The terms of the season and the days that are asked for."""
        q = self.question
        since = q.since and not q.of_kind.since_parts
        return (
            *self.season_terms,
            *((f"date>={q.since}",) if since else ()),
            *((f"date<={q.until}",) if q.until else ()),
        )

    @property
    def may_span_seasons(self) -> bool:
        """Say whether one rate may be asked of pitches of several seasons."""
        column, q = column_of_seasons(self.columns), self.question
        if not q.of_kind.shrunk:
            return False
        if self.seasons is not None:
            return len(self.seasons.names) > 1
        if not column or is_spread(self.frame):
            return False
        if column == "season":
            return True
        ends = days_of(self.opened)
        return ends is not None and (q.until or str(ends[1]))[:4] > (q.since or str(ends[0]))[:4]

    @property
    def words(self) -> str:
        """How situation, season and days follow a rate in a sentence; empty for all pitches."""
        return self.question.where(lambda day: day_words(datetime.fromisoformat(day)))

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
        q, own = self.question, self.own
        self.demand(q.subject)
        return once(
            (q.subject, tuple(by), terms, tuple(own.items()), q.conventions, only),
            lambda: _of_somebody(
                tally(
                    self.opened,
                    [q.subject, *by],
                    where=self.chosen(*terms),
                    events=own or None,
                    conventions=q.conventions,
                    doubts=self.doubts,
                    only=only,
                ),
                q.subject,
            ),
        )

    @property
    def faced_by(self) -> list[str]:
        """The columns by which pitches are counted to know what hitters faced; none where it is not told."""
        if not self.pitches or self.question.subject != "hitter":
            return []
        by = faced_columns(self.columns)
        return [] if self.doubts.reason(by, self.question.conventions.most_contradicted) else by

    def with_faced(self, *terms: str, by: Sequence[str] = ()) -> tuple[Counts, Counts | None]:
        """Count as :meth:`counts` does, and by all that hitters faced as well, where a chance asks for it.

        Counted once, by all of it, and then summed.
        """
        faced = [] if self.question.about == "record" else self.faced_by
        met = self.counts(*terms, by=tuple(dict.fromkeys([*by, *faced])))
        return (met.summed((hitter_key(met), *by)), met) if faced else (met, None)

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


def demand_counted_so(table: Any, asked: Conventions, names: Collection[str] = _COUNTED_BY) -> None:
    """See that ``Counts`` were made by the conventions that are given beside them, usual ones as well.

    Raises
    ------
    ClaimError
        Where they were made by others.
    """
    if not isinstance(table, Counts):
        return
    for name in (name for name in _COUNTED_BY if name in names):
        value, had = getattr(asked, name), getattr(table.conventions, name)
        if value != had:
            raise ClaimError(
                f"conventions: {name}={value!r} is how pitches are counted, and these are counts already, "
                f"made with {name}={had!r}; give the pitch table, or "
                f"tally(pitches, conventions=Conventions({name}={value!r}))"
            )


def _as_asked(counts: Counts, asked: Conventions) -> Counts:
    """Take conventions that are asked for to counts that are there, or say why they come too late."""
    usual = Conventions()
    # A question that says nothing of a convention has the usual one.
    said = {each.name for each in fields(asked) if getattr(asked, each.name) != getattr(usual, each.name)}
    demand_counted_so(counts, asked, said)
    changed = {name: getattr(asked, name) for name in said.difference(_COUNTED_BY)}
    if "eye" in changed and "hard" in counts.names:
        Ticks.of(counts)  # refuses flags that were taken in place of speeds
    return replace(counts, conventions=replace(counts.conventions, **changed)) if changed else counts


def _of_somebody(counts: Counts, subject: str) -> Counts:
    """Leave out what is told of nobody: it may be of several, and is no one's record."""
    there = counts.data[counts.by[0]].notna().to_numpy()
    if there.all():
        return counts
    many = ""
    if "pitches" in counts.names:
        pitches = counts.column("pitches")
        many = f"{int(pitches[~there].sum()):,} of {int(pitches.sum()):,} "
    note = f"{many}pitches tell no {subject}, and are left out"
    return replace(counts.only(there), notes=(*counts.notes, note))


def in_one(counts: Counts) -> Counts:
    """Sum everybody's counts into those of the league, game by game where games are told."""
    games = [name for name in ("game", "date") if name in counts.by]
    named = replace(counts, data=counts.data.assign(league=THE_LEAGUE), by=(*counts.by, "league"))
    return named.summed(("league", *games))
