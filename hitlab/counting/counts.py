"""The counts table: one row a group, int64 counts, and how they were made.

It is an entrance of its own: someone who has only hits and at-bats for a column of players starts
with :meth:`Counts.from_table`.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from os import PathLike, fspath
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.events import (
    EVENTS,
    event_words,
    fitting_denominators,
    refuse_no_share,
    within,
)
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import Own
from hitlab.errors import CountsError, HardnessError, MissingColumnsError
from hitlab.names import told_apart
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.report import Reading
from hitlab.results import Listing, Note, Part, Table
from hitlab.showing import shown_name
from hitlab.wording import percent

__all__ = ["MOST_UNMEASURED", "Counts", "Pair", "pair", "unknown_and_contact", "unknown_contact"]

MOST_UNMEASURED = 0.05
"""Share of unmeasured contact above which no claim about hard hits holds (an argument of the claims)."""

Wholes = np.ndarray[Any, np.dtype[np.int64]]

LABELS_OF = {"hitter_id": ("hitter", "club"), "pitcher_id": ("pitcher",)}
"""Beside an id: what a person is called, never what tells him apart."""

LABELS = ("hitter", "pitcher", "club")

_LONG = 10_000  # rows from which another writer pays


@dataclass(frozen=True, slots=True)
class Counts(Listing):
    """Counts by group.

    Attributes
    ----------
    data
        One row a group: the columns of ``by``, labels, then one int64 column a count. Treat as
        read-only; :meth:`table` gives a copy.
    by
        The columns that tell the groups apart (``hitter_id`` stands for the hitter where the table
        has it).
    conventions
        How the debatable cases were counted.
    missing
        Counts that the pitch table could not tell, with the reason in words.
    notes
        What a reader of any of these counts has to know, one sentence each.
    source
        Where the pitches came from, in words.
    hard_means
        What was counted as hard, such as ``95 mph or more off the bat``; empty where that is not known.
    hard_notes
        What a reader of hard-hit balls has to know, too.
    hard_doubts
        What the table cannot tell of hard-hit balls, one phrase each.
    own
        The caller's own events by name, and which counts each lies within in this table.
    doubts
        What reading the pitches left in doubt.
    asked_of
        The columns that groups and chosen pitches rest on.
    """

    data: pd.DataFrame
    by: tuple[str, ...]
    conventions: Conventions = field(default_factory=Conventions)
    missing: Mapping[str, str] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    source: str = "a table of counts"
    hard_means: str = ""
    hard_notes: tuple[str, ...] = ()
    own: Mapping[str, Own] = field(default_factory=dict)
    doubts: Doubts = field(default_factory=Doubts)
    asked_of: frozenset[str] = frozenset()
    hard_doubts: tuple[str, ...] = ()

    @property
    def judged(self) -> tuple[int, int]:
        """How many contacts were judged hard or not: by eye, and in all."""
        if "hard" not in self.names or "unmeasured" not in self.names:
            return 0, 0
        struck = "contact" if self.conventions.hard_fouls else "in_play"
        by_eye = int(self.column("hard_by_eye").sum()) if "hard_by_eye" in self.names else 0
        return by_eye, int(self.column(struck).sum() - self.column("unmeasured").sum())

    @classmethod
    def from_table(
        cls, table: Any, by: str | Sequence[str] | None = None, *, source: str = "a table of counts"
    ) -> Counts:
        """Take a table of counts as it is.

        Parameters
        ----------
        table
            Any eager frame, one row a group; text columns tell the groups apart, the numeric ones are
            counts.
        by
            The column or columns that tell the groups apart; by default every column that is
            not numeric.
        source
            Where it came from, in words.

        Raises
        ------
        CountsError
            Where a count is missing, negative or not whole, or a group stands twice; the
            message names column and row. Where it is a pitch table: one that has outcomes, unless ``by`` is
            given.
        """
        if by is None and (what := _pitch_table(table)):
            raise CountsError(
                f"{what} is a pitch table, and counts are needed: count it first with tally(pitches)"
            )
        try:
            frame: pd.DataFrame = nw.from_native(table, eager_only=True).to_pandas().reset_index(drop=True)
        except TypeError as error:
            raise CountsError(
                f"counts are a table with one row a hitter, and this is a {type(table).__name__}; "
                "tally(pitches) counts a pitch table or the file of one"
            ) from error
        numeric = [name for name in frame.columns if pd.api.types.is_numeric_dtype(frame[name])]
        keys = (
            [by]
            if isinstance(by, str)
            else list(by)
            if by
            else [n for n in frame.columns if n not in numeric]
        )
        absent = [name for name in keys if name not in frame.columns]
        if absent:
            raise MissingColumnsError(
                f"no column {absent[0]!r}; the table has: {', '.join(map(str, frame.columns))}"
            )
        if not keys:
            raise CountsError("no column tells the rows apart; name it with by=")
        out = frame[[*keys, *(n for n in LABELS if n in frame.columns and n not in keys)]].copy()
        for name in numeric:
            if name not in keys:
                out[name] = whole(frame[name], name)
        twice = out.duplicated(keys)
        if twice.any():
            row = int(np.flatnonzero(twice)[0])
            what = ", ".join(f"{key} {out[key].iloc[row]!r}" for key in keys)
            raise CountsError(f"row {row + 1}: {what} stands in the table twice; add its rows up first")
        return cls(out, tuple(keys), source=source)

    @property
    def names(self) -> list[str]:
        """The counts that are there."""
        labels = {*self.by, *LABELS}
        return [name for name in self.data.columns if name not in labels]

    @property
    def identity(self) -> pd.DataFrame:
        """The columns that say who each row is: names first, ids after."""
        wanted = [n for n in ("hitter", "pitcher", *self.by, *LABELS) if n in self.data.columns]
        return self.data[list(dict.fromkeys(wanted))]

    @property
    def labels(self) -> list[str]:
        """One label a row, as it is shown; the club is added where two hitters share a name, else the id."""
        who = next((id_[:-3] for id_ in LABELS_OF if id_ in self.by and id_[:-3] in self.data.columns), "")
        keys = [n for n in self.by if n != f"{who}_id"]
        if who and who not in keys:
            keys = [who, *keys]
        columns = [
            [
                "not recorded" if gone else shown_name(told)
                for told, gone in zip(values.tolist(), values.isna().tolist(), strict=True)
            ]
            for values in (self.data[key] for key in keys)
        ]
        plain = [", ".join(parts) for parts in zip(*columns, strict=True)]
        more = [n for n in ("club", "hitter_id", "pitcher_id") if n in self.data.columns and n not in keys]
        return told_apart(plain, *(map(shown_name, self.data[extra].astype(str)) for extra in more))

    @property
    def fingerprint(self) -> str:
        """Twelve hexadecimal digits of the SHA-256 of the table, to trace a figure to its data."""
        return hashlib.sha256(_as_csv(self.data)).hexdigest()[:12]

    def column(self, name: str) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Return one count as an int64 array, or say why it is not there."""
        if name in self.names:
            return self.data[name].to_numpy(np.int64)
        if name in self.missing:
            kind = HardnessError if name in EVENTS and EVENTS[name].hardness else MissingColumnsError
            raise kind(f"{name} cannot be counted: {self.missing[name]}")
        from rapidfuzz import process

        near = process.extractOne(name, self.names, score_cutoff=70)
        raise MissingColumnsError(
            f"no count is called {name!r}{f' (did you mean {near[0]!r}?)' if near else ''}; "
            f"there are: {', '.join(self.names)}"
        )

    def denominators_of(self, event: str) -> tuple[str, ...]:
        """Return the counts of which an event's count is a share, as far as that is known."""
        own = [name for name, known in self.own.items() if event in known.contains]
        told = self.own[event].within if event in self.own else fitting_denominators(event, self.conventions)
        return tuple(name for name in (*told, *own) if name in self.names)

    def refuse_no_share(self, event: str, per: str) -> None:
        """Refuse a rate whose event does not lie within its denominator.

        Counts that nobody has told anything about are taken as they are: only the numbers can speak.

        Raises
        ------
        CountsError
            With the denominators that fit.
        """
        if event != per and (event in self.own or per in self.own):
            fitting = self.denominators_of(event)
            if per not in fitting:
                fits = f"it has a rate per {', '.join(fitting)}" if fitting else "nothing counted contains it"
                raise CountsError(
                    f"{event} per {per} is no rate: not all {event_words(event)} are {event_words(per)}; "
                    f"{fits}"
                )
            return
        refuse_no_share(event, per, self.conventions)

    def notes_on(self, *names: str) -> tuple[str, ...]:
        """Return what has to be known of some counts; what is about hardness where one of them is hard."""
        untold = self.cannot_tell(*names)
        notes = (*((untold,) if untold else ()), *self.notes)
        if not any(self._about_hardness(name) for name in names):
            return notes
        means = (f"hard means {self.hard_means}",) if self.hard_means else ()
        return (*notes, *means, *self.hard_notes)

    def cannot_tell(self, *names: str) -> str:
        """Say in one line what the table cannot tell of some counts; empty where it can tell all."""
        told = [EVENTS[name].rests_on for name in names if name in EVENTS]
        phrases = list(self.doubts.phrases(self.asked_of.union(*told)))
        if "bunts" in self.missing and any(self._is_swing(name) for name in names):
            phrases.append("no column tells bunt attempts, which count as swings here")
        if any(self._about_hardness(name) for name in names):
            phrases += self.hard_doubts
        return f"what this table cannot tell: {'; '.join(phrases)}" if phrases else ""

    def _is_swing(self, name: str) -> bool:
        around = self.own[name].within if name in self.own else within(name, self.conventions)
        return "swings" in (name, *around)

    def _about_hardness(self, name: str) -> bool:
        if name in self.own:
            return bool(self.own[name].unknown)
        return name in EVENTS and EVENTS[name].hardness

    def only(self, mask: np.ndarray[Any, np.dtype[np.bool_]]) -> Counts:
        """Return the rows where the mask is true."""
        return replace(self, data=self.data[mask].reset_index(drop=True))

    def summed(self, by: Sequence[str]) -> Counts:
        """Sum over everything but some of the columns that tell the rows apart; these keep their order."""
        keys = list(by)
        labels = [name for name in LABELS if name in self.data.columns and name not in keys]
        if "pitcher_id" not in keys and "pitcher" in labels:
            labels.remove("pitcher")  # of many pitchers the first one's name
        names = [name for name in self.names if name not in labels and name not in self.by]
        # Numbered by first appearance, a missing key like any other.
        number = self.data.groupby(keys, sort=False, dropna=False, observed=True).ngroup()
        first = ~number.duplicated()
        kept = self.data.loc[first, [*keys, *labels]].set_axis(number[first])
        data = kept.join(self.data[names].groupby(number).sum()).sort_index().reset_index(drop=True)
        return replace(self, data=data, by=tuple(keys))

    @property
    def title(self) -> str:
        """Whose counts, and what tells the rows apart."""
        rows = f"{len(self):,} {'row' if len(self) == 1 else 'rows'}"
        return f"Counts of {self.source}: {rows} by {', '.join(self.by)}"

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: what a reader of any of the counts has to know, too."""
        notes = (Note(note) for note in self.notes_on(*self.names))
        return [self.title, *notes, Table(self.data, most_rows=20, most_columns=14)]


def _as_csv(data: pd.DataFrame) -> bytes:
    """Return a table as pandas writes it; a long one of words and whole numbers by Arrow: quicker."""
    import pyarrow as pa
    from pyarrow import csv

    words = all(isinstance(kind, pd.StringDtype) or kind.kind in "iu" for kind in data.dtypes)
    if words and len(data) >= _LONG:
        told = io.BytesIO()
        plain = csv.WriteOptions(include_header=False, quoting_style="none")
        try:
            csv.write_csv(pa.Table.from_pandas(data, preserve_index=False), told, plain)
        except pa.ArrowInvalid:  # a name with a comma or a mark in it has to be quoted
            pass
        else:
            head: str = data.head(0).to_csv(index=False, lineterminator="\n")
            return head.encode() + told.getvalue()
    text: str = data.to_csv(index=False, lineterminator="\n")
    return text.encode()


def _pitch_table(table: Any) -> str:
    """Name a table whose rows are pitches; empty for another one."""
    if isinstance(table, Reading):
        return f"the Reading of {table.report.source}"
    if isinstance(table, str | PathLike):
        return f"the file {fspath(table)}"
    frame = nw.from_native(table, pass_through=True)
    if not isinstance(frame, nw.DataFrame | nw.LazyFrame):
        return ""
    return "a table with the column outcome" if "outcome" in frame.collect_schema().names() else ""


def whole(values: pd.Series[Any], name: str) -> pd.Series[Any]:
    """Return a column as int64, or raise naming the first row that is not a count."""
    numbers = pd.to_numeric(values, errors="coerce").astype(float)
    bad = ~np.isfinite(numbers) | (numbers < 0) | (numbers != np.floor(numbers))
    if bad.any():
        row = int(np.flatnonzero(bad)[0])
        shown = f"{numbers.iloc[row]:g}" if np.isfinite(numbers.iloc[row]) else repr(values.iloc[row])
        raise CountsError(f"{name}, row {row + 1}: {shown} is not a count; give a whole number, 0 or more")
    return numbers.astype(np.int64)


@dataclass(frozen=True, slots=True)
class Pair:
    """One event against one denominator: whole numbers a group, and what is unknown.

    Attributes
    ----------
    event, per
        Names of the two counts.
    events, exposure
        int64 arrays, ``0 <= events <= exposure``.
    unknown
        Contact of unknown hardness in the exposure; 0 for other events.
    measured_exposure
        The exposure that the known events stand for: where a share of the contact was not
        measured, the same share of every swing is taken away, rounded.
    unknown_share
        Share of the contact whose hardness is unknown.
    bounded
        Where too much is unknown for a rate: ``least`` and ``most`` alone are known.
    of_contact
        Whether the exposure is the contact that is judged.
    """

    event: str
    per: str
    events: np.ndarray[Any, np.dtype[np.int64]]
    exposure: np.ndarray[Any, np.dtype[np.int64]]
    unknown: np.ndarray[Any, np.dtype[np.int64]]
    measured_exposure: np.ndarray[Any, np.dtype[np.int64]]
    unknown_share: np.ndarray[Any, np.dtype[np.float64]]
    bounded: np.ndarray[Any, np.dtype[np.bool_]]
    of_contact: bool = False

    @property
    def rate(self) -> np.ndarray[Any, np.dtype[np.float64]]:
        """The rate, supposing unknown contact as often hard as the measured.

        Missing without exposure, and where too much is unknown to suppose that.
        """
        # Where the denominator keeps unknown contact, the same share of all of it is set aside, unrounded; of
        # contact itself that is what was measured.
        share = self.exposure * np.where(self.unknown > 0, 1 - self.unknown_share, 1.0)
        left = np.where(self.of_contact & ~self.bounded, self.measured_exposure, share)
        value: np.ndarray[Any, np.dtype[np.float64]] = np.full(len(left), np.nan)
        np.divide(self.events, left, out=value, where=(left > 0) & ~self.bounded)
        return value

    @property
    def all_hard(self) -> Wholes:
        """The events if all unknown contact in the exposure were hard."""
        return np.asarray(np.minimum(self.events + self.unknown, self.exposure))

    @property
    def least(self) -> np.ndarray[Any, np.dtype[np.float64]]:
        """The rate if no unknown contact in the exposure were hard; missing without exposure."""
        return self._share_of_exposure(self.events)

    @property
    def most(self) -> np.ndarray[Any, np.dtype[np.float64]]:
        """The rate if all unknown contact in the exposure were hard; missing without exposure."""
        return self._share_of_exposure(self.all_hard)

    def _share_of_exposure(self, events: Wholes) -> np.ndarray[Any, np.dtype[np.float64]]:
        share: np.ndarray[Any, np.dtype[np.float64]] = np.full(len(events), np.nan)
        np.divide(events, self.exposure, out=share, where=self.exposure > 0)
        return share

    def notes(self, most_unknown: float) -> tuple[str, ...]:
        """Return what has to be said where bounds stand in place of rates; nothing where none do."""
        several, groups = int(self.bounded.sum()), len(self.bounded)
        if not several:
            return ()
        where = f"{several:,} of {groups:,} groups" if groups > 1 else "the only group"
        return (
            f"more than {percent(most_unknown)} of the contact is of unknown hardness in {where}: no rank "
            "there, and in place of a rate its two bounds, from none of the unknown hard to all of it",
        )


def pair(
    counts: Counts, event: str, per: str, *, most_unknown: float | None = None, stays: bool = False
) -> Pair:
    """Put one event against one denominator.

    Contact of unknown hardness leaves a contact or ball-in-play denominator, but where it ``stays``; in the
    others it always does, and is given as ``unknown``.

    Parameters
    ----------
    counts
        The counts.
    event, per
        Names of two of them.
    most_unknown
        Share of unknown contact beyond which a group has bounds and no rate; then it stays in every
        denominator. ``None`` for a rate whatever the share.
    stays
        Whether it stays in every denominator anyway: a record is of all that was done, and has bounds.

    Raises
    ------
    MissingColumnsError
        Where one of the two was not counted; says why.
    CountsError
        Where the event does not lie within the denominator, by rule or by number; where ``most_unknown`` is
        no share.
    """
    if most_unknown is not None and not 0 <= most_unknown <= 1:
        raise CountsError(f"most_unknown={most_unknown!r}: give a share from 0 to 1, such as 0.20")
    counts.refuse_no_share(event, per)
    events, exposure = counts.column(event), counts.column(per)
    unknown, contact = unknown_contact(counts, event)
    share = np.divide(unknown, contact, out=np.zeros(len(events)), where=contact > 0)
    bounded = np.zeros(len(events), dtype=bool) if most_unknown is None else share > most_unknown
    measured = exposure
    of_contact = per == unknown_and_contact(counts, event)[1]
    if unknown.any():
        if of_contact:
            measured = exposure - unknown
            kept = bounded | stays
            exposure, unknown = np.where(kept, exposure, measured), np.where(kept, unknown, 0)
        else:
            measured = np.rint(exposure * (1 - share)).astype(np.int64)
    room = np.where(bounded, exposure, measured) if of_contact else exposure
    over = events > room
    if over.any():
        row = int(np.flatnonzero(over)[0])
        raise CountsError(
            f"{counts.labels[row]}: {event} {events[row]} is more than {per} {room[row]}; "
            f"a share needs a denominator that contains all {event}"
        )
    measured = np.maximum(measured, events)
    return Pair(event, per, events, exposure, unknown, measured, share, bounded, of_contact)


def unknown_and_contact(counts: Counts, event: str) -> tuple[str, str]:
    """Return the names of the counts of contact of unknown hardness behind an event, and of its contact."""
    if event in counts.own:
        return counts.own[event].unknown, counts.own[event].contact
    if event not in EVENTS or not EVENTS[event].unknown:
        return "", ""
    return EVENTS[event].unknown, EVENTS[event].parts_of(counts.conventions)[-1]


def unknown_contact(counts: Counts, event: str) -> tuple[Wholes, Wholes]:
    """Return how much contact of unknown hardness stands behind a hard count, and how much contact in all.

    Both are 0 for events that are not about hardness, and where the counts do not tell.
    """
    unknown, contact = unknown_and_contact(counts, event)
    if unknown not in counts.names or contact not in counts.names:
        nothing = np.zeros(len(counts.data), dtype=np.int64)
        return nothing, nothing
    return counts.column(unknown), counts.column(contact)
