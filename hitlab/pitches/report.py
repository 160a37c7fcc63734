"""What reading found: the report, the rows set aside, and both as text, HTML and tables."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd

from hitlab.pitches.doubts import Doubts, left_out
from hitlab.pitches.origin import Lines, part_name
from hitlab.pitches.schema import KEY
from hitlab.pitches.suggesting import TELLING, may_be
from hitlab.pitches.wordforms import many_rows
from hitlab.results import Part, Points, Result, as_html, as_text, save_table
from hitlab.showing import shown_name

if TYPE_CHECKING:
    from hitlab.pitches.seen import Seen

__all__ = ["HALF_EMPTY", "MOST_SET_ASIDE", "SOME_SET_ASIDE", "Reading", "Report"]

_SHOWN = 8
_SHOWN_WORDS = 20

MOST_SET_ASIDE = 0.5
"""Share of the rows above which a source counts as not understood: what is left is then the smaller part,
and as words are understood one by one, it is picked by what became of the pitch and stands for nothing
(common practice, no source)."""

SOME_SET_ASIDE = 0.1
"""Share of the rows above which the first lines of a report say how many are set aside (a default)."""

HALF_EMPTY = 0.5
"""Share of blanks above which a column is half empty that says something on every pitch (a default)."""


@dataclass(frozen=True, eq=False)
class Report(Result):
    """What reading a pitch table found.

    Attributes
    ----------
    source
        Name of the file, or the kind of frame.
    rows_read, rows_kept, rows_set_aside
        Rows of the source, of the table, and those that could not be used at all.
    values_made_missing
        Cells that could not be used in rows that were kept.
    reasons
        ``column: reason`` -> how often.
    set_aside_for
        Those of them that set the row aside.
    examples
        ``column: reason`` -> values, and what would be accepted.
    words
        Columns ``column``, ``source_word``, ``word`` (ours; empty where it is missing), ``known``
        (false for a word that nobody explained) and ``count``: every word seen in every word and flag column.
    unseen
        Our column -> words that the mapping translates for it and that never occurred.
    used
        Our column -> source column that fills it.
    unused
        Source columns that nobody mapped.
    questions
        What only whoever kept the source can say, each with the lines of the mapping that say it.
    assumed
        Sentences about what was assumed and done.
    contradictions
        See :func:`hitlab.pitches.consistency.contradictions`; ``row`` is the source's row.
    lines
        Where every line of a text file went (:class:`hitlab.pitches.origin.Lines`); None for other sources.
    unlike
        Sentences about columns that are not used and look like ours, each with the mend.
    cannot_tell
        Sentences about what the table cannot tell, for what is missing in it or is odd.
    odd_days
        Those of them that are about dates.
    odd_names
        Those of them that are about names and rows that may be one, or none.
    odd_speeds
        Those of them that are about speeds of two units in one column.
    seen
        What names, days and speeds of the table show, to be looked at again with whatever it becomes a part
        of; ``None`` where nothing was kept.
    steps
        Column that was in another unit -> how far apart its numbers are, in the table's unit.
    alerts
        What has to be looked at before the table is used; the report begins with it.
    parts
        One line for each file and sheet: ``file``, ``sheet``, rows ``read``, ``kept``, ``set_aside``,
        ``note``; no line for one text file or frame.
    proposals
        Lines of a mapping that may help, each with the reason; nothing of it was done.
    unknown
        Words that nobody explained: ``column``, ``word``, ``rows`` that it would bring, ``nearest``.
    mended
        Slips that were mended: ``row`` (and ``file``, ``sheet``), ``source_column``, ``value``, ``read_as``.
    """

    source: str
    rows_read: int
    rows_kept: int
    rows_set_aside: int
    values_made_missing: int
    reasons: dict[str, int]
    set_aside_for: dict[str, int]
    examples: dict[str, str]
    words: pd.DataFrame
    unseen: dict[str, tuple[str, ...]]
    used: dict[str, str]
    unused: tuple[str, ...]
    questions: tuple[str, ...]
    assumed: tuple[str, ...]
    contradictions: pd.DataFrame
    lines: Lines | None = None
    unlike: tuple[str, ...] = ()
    cannot_tell: tuple[str, ...] = ()
    odd_days: tuple[str, ...] = ()
    odd_names: tuple[str, ...] = ()
    odd_speeds: tuple[str, ...] = ()
    seen: Seen | None = None
    steps: Mapping[str, float] = field(default_factory=dict)
    alerts: tuple[str, ...] = ()
    parts: pd.DataFrame = field(default_factory=pd.DataFrame)
    proposals: tuple[str, ...] = ()
    unknown: pd.DataFrame = field(default_factory=pd.DataFrame)
    mended: pd.DataFrame = field(default_factory=pd.DataFrame)

    @property
    def not_understood(self) -> str:
        """A sentence where more than :data:`MOST_SET_ASIDE` of the rows are set aside, else ``""``."""
        if self.rows_set_aside <= MOST_SET_ASIDE * self.rows_read:
            return ""
        reason, count = next(iter(self.set_aside_for.items()))
        such = f", such as {self.examples[reason]}" if reason in self.examples else ""
        return (
            f"Most of {self.source} was not understood: {self.rows_set_aside:,} of {_rows(self.rows_read)} "
            f"are set aside, {count:,} of them for this: {reason}{such}"
        )

    @property
    def doubts(self) -> Doubts:
        """What every answer from this table has to know."""
        unlike = [sentence.partition(". If")[0] for sentence in self.unlike]
        days = [sentence.rstrip(".") for sentence in self.odd_days]
        odd = (*self.odd_names, *self.odd_speeds)
        names = [sentence.partition(". If")[0].rstrip(".") for sentence in odd]
        gone = left_out(self.rows_read, self.rows_set_aside, self.set_aside_for)
        said = (*([gone] if gone else []), *unlike, *names)
        ordered = set(KEY) <= set(self.used)
        return Doubts.found(
            self.rows_kept, self.contradictions, said, days, ordered=ordered, steps=self.steps
        )

    def table(self) -> pd.DataFrame:
        """Give the report as a plain frame: ``topic``, ``item``, ``note`` and ``count`` (if any)."""
        lines: list[tuple[str, str, str, int | None]] = [
            ("rows", "read", self.source, self.rows_read),
            ("rows", "kept", "", self.rows_kept),
            ("rows", "set aside", "", self.rows_set_aside),
            ("values", "made missing", "", self.values_made_missing),
        ]
        if self.lines is not None:
            lines.append(("lines", "in the file", self.source, self.lines.in_file))
            lines += [("lines", what, "", count) for what, count in self.lines.parts().items()]
        lines += [("look at", sentence, "", None) for sentence in self.alerts]
        for part in self.parts.to_dict("records"):
            name = part_name(part["file"], part["sheet"])
            if part["note"]:
                lines.append(("part", name, part["note"], None))
            else:
                lines += [("part", name, what, int(part[what])) for what in ("read", "kept", "set_aside")]
        if self.not_understood:
            lines.append(("not understood", self.not_understood, "", None))
        lines += [("question", question, "", None) for question in self.questions]
        lines += [
            ("reason", reason, self.examples.get(reason, ""), count) for reason, count in self.reasons.items()
        ]
        lines += [("column", target, source, None) for target, source in self.used.items()]
        lines += [("column like ours", sentence, "", None) for sentence in self.unlike]
        lines += [("column not used", source, "", None) for source in self.unused]
        lines += [
            (
                "word",
                f"{row.column}: {row.source_word}",
                row.word if row.known else "not known",
                int(row.count),
            )
            for row in self._word_rows()
        ]
        lines += [
            (
                "word never seen",
                f"{target}: {word}",
                "" if target in self.used else "no column fills it",
                None,
            )
            for target, words in self.unseen.items()
            for word in words
        ]
        lines += [("proposed", sentence, "", None) for sentence in self.proposals]
        lines += [
            ("word not known", f"{one['column']}: {one['word']}", one["nearest"], int(one["rows"]))
            for one in self.unknown.to_dict("records")
        ]
        lines += [
            ("mended", f"{_place(one)}, {one['source_column']}: {one['value']}", one["read_as"], None)
            for one in self.mended.to_dict("records")
        ]
        lines += [("assumed", sentence, "", None) for sentence in self.assumed]
        lines += [("cannot tell", sentence, "", None) for sentence in self.cannot_tell]
        counts = self.contradictions["check"].value_counts(sort=False)
        lines += [("contradiction", str(check), "", int(count)) for check, count in counts.items()]
        frame = pd.DataFrame(lines, columns=["topic", "item", "note", "count"])
        return frame.astype({"count": "Int64"})

    def _word_rows(self) -> list[Any]:
        # Not itertuples(): its rows have a method called count.
        names = ("column", "source_word", "word", "known", "count")
        return [_Word(*values) for values in zip(*(self.words[name].tolist() for name in names), strict=True)]

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: headings and the lines under them."""
        parts: list[Part] = []
        head = f"{self.source}: {_rows(self.rows_read)} read, {self.rows_kept:,} kept, "
        head += (
            f"{self.rows_set_aside:,} set aside; {self.values_made_missing:,} values made missing in others"
        )
        parts.append(Points(head))
        if self.not_understood:
            parts.append(Points(self.not_understood))
        if self.alerts:
            parts.append(Points("Look at this first", self.alerts))
        if len(self.parts):
            parts.append(Points("Files and sheets", tuple(self._part_lines())))
        if self.lines is not None:
            parts.append(Points(self.lines.sentence()))
        if self.questions:
            asked = tuple(line for question in self.questions for line in question.split("\n"))
            parts.append(Points("Questions that the mapping has to answer", asked))
        if len(self.unknown):
            lines = [
                f"{_rows(int(one['rows']))}: {one['word']!r} in {one['column']}{_meaning(one)}"
                for one in self.unknown.head(_SHOWN_WORDS).to_dict("records")
            ]
            heading = "Words that are not known, by the rows that each would bring (a draft has all of them)"
            parts.append(Points(heading, (*lines, *_more(len(self.unknown), _SHOWN_WORDS))))
        if self.proposals:
            parts.append(Points("Proposed, and not done", self.proposals))
        if len(self.mended):
            lines = [
                f"{_place(one)}, {one['source_column']}: {one['value']!r} read as {one['read_as']!r}"
                for one in self.mended.head(_SHOWN_WORDS).to_dict("records")
            ]
            heading = f"Slips mended, as the mapping says: {len(self.mended):,}"
            parts.append(Points(heading, (*lines, *_more(len(self.mended), _SHOWN_WORDS))))
        if self.unlike:
            parts.append(Points("Warning: columns that look like ours and are not used", self.unlike))
        if self.reasons:
            lines = []
            for reason, count in _first(self.reasons):
                lines.append(f"{reason}: {count:,}")
                if reason in self.examples:
                    lines.append(f"  such as {self.examples[reason]}")
            parts.append(Points("What could not be used", (*lines, *_more(len(self.reasons)))))
        used = [
            target if source == target else f"{target} from {source}" for target, source in self.used.items()
        ]
        parts.append(Points("Columns used", (", ".join(used),)))
        if self.unused:
            unused = ", ".join(self.unused[:40]) + _rest(len(self.unused), 40)
            parts.append(Points("Columns not used", (unused,)))
        words: dict[str, list[str]] = {}
        for row in self._word_rows():
            same = row.word == row.source_word
            became = row.word or ("missing" if row.known else "not known")
            source_word = row.source_word or "(empty)"
            text = source_word if same else f"{source_word} -> {became}"
            words.setdefault(row.column, []).append(f"{text} ({row.count:,})")
        if words:
            lines = [f"{name}: {', '.join(w[:20])}{_rest(len(w), 20)}" for name, w in words.items()]
            parts.append(Points("Words seen", tuple(lines)))
        if self.unseen:
            lines = [
                f"{name}{'' if name in self.used else ', which no column here fills'}: "
                f"{', '.join(unseen[:20])}{_rest(len(unseen), 20)}"
                for name, unseen in self.unseen.items()
            ]
            parts.append(Points("Words of the mapping that never occurred", tuple(lines)))
        if self.assumed:
            parts.append(Points("Assumed", self.assumed))
        if self.cannot_tell:
            parts.append(Points("What this table cannot tell", self.cannot_tell))
        if len(self.contradictions):
            lines = []
            for check, found in self.contradictions.groupby("check", sort=False):
                lines.append(f"{check}: {len(found):,}")
                first = found.head(3)
                lines += [f"  {_place(one)}: {one['what']}" for one in first.to_dict("records")]
            heading = "Columns that contradict each other (nothing was changed)"
            parts.append(Points(heading, tuple(lines)))
        return parts

    def _part_lines(self) -> list[str]:
        lines = []
        for part in self.parts.to_dict("records"):
            counts = f"{_rows(part['read'])} read, {part['kept']:,} kept, {part['set_aside']:,} set aside"
            lines.append(f"{part_name(part['file'], part['sheet'])}: {part['note'] or counts}")
        return lines


@dataclass(frozen=True, eq=False)
class Reading:
    """A pitch table as it was read and checked; made by :func:`hitlab.read_pitches`.

    Attributes
    ----------
    table
        The checked table, in the caller's own kind of frame (pandas for files). Text is text,
        whole numbers and flags are nullable, dates are days; ``hitter`` and ``outcome`` are
        never missing, and no column is there that the source did not have.
    report
        What was found, counted.
    set_aside
        One line for each cell or row that could not be used: ``row`` (from 1), ``line`` of the
        file (text files only), of several files or sheets ``file`` and ``sheet`` and the row there,
        ``column`` (ours), ``source_column``, ``value``, ``reason``, ``accepted``, ``action`` (``row set
        aside`` or ``value made missing``), and then the source's own cells, each under ``source: `` and its
        name.
    file
        Path of the file that was read; empty where it was a frame.
    """

    table: Any
    report: Report
    set_aside: pd.DataFrame
    file: str = ""

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: the report, and the first of what was set aside."""
        heading = "Set aside or made missing (all of it in .set_aside)"
        aside = [Points(heading, tuple(_examples(self.set_aside)))] if len(self.set_aside) else []
        return [*self.report.contents(), *aside]

    def __str__(self) -> str:
        return as_text(self.contents())

    def __repr__(self) -> str:
        r = self.report
        kept = f"{r.rows_kept:,} of {r.rows_read:,} rows kept"
        return f"<Reading of {shown_name(r.source)}: {kept}; print it for the report>"

    def _repr_html_(self) -> str:
        return as_html(self.contents())

    def save_set_aside(self, path: str | os.PathLike[str]) -> Path:
        """Write ``set_aside`` for a spreadsheet.

        A cell or column name that a spreadsheet would run as a formula gets an apostrophe in
        front; plain numbers, also negative ones, stay as they are.

        Parameters
        ----------
        path
            The file to write; see :meth:`hitlab.results.Result.save`.

        Raises
        ------
        HitlabError
            Where it does not end in ``.csv``, ``.parquet`` or ``.xlsx``.
        ReadingError
            Where the file cannot be written, or is the one that was read.
        MissingPackageError
            Where XlsxWriter is needed and not installed.
        """
        return save_table(self.set_aside, path, inputs=(self.file,))


@dataclass(frozen=True, slots=True)
class _Word:
    column: str
    source_word: str
    word: str
    known: bool
    count: int


def _examples(set_aside: pd.DataFrame) -> list[str]:
    """Give the first lines of what was set aside, in words."""
    lines = []
    for row in set_aside.head(_SHOWN).to_dict("records"):
        place = _place({str(name): value for name, value in row.items()})
        if "line" in row and not pd.isna(row["line"]):
            place += f" (line {int(row['line'])})"
        value = str(row["value"])
        value = value if len(value) <= 60 else value[:57] + "..."
        lines.append(
            f"{place}, {row['column']}: {value!r} is {row['reason']}; accepted: {_short(row['accepted'])}; "
            f"{row['action']}"
        )
    return [*lines, *_more(len(set_aside))]


def _short(text: str) -> str:
    return text if len(text) <= 90 else text[:87] + "..."


def _first(reasons: dict[str, int]) -> list[tuple[str, int]]:
    return list(reasons.items())[:_SHOWN]


def _more(number: int, shown: int = _SHOWN) -> list[str]:
    return [f"... and {number - shown:,} more"] if number > shown else []


def _meaning(one: Mapping[Any, Any]) -> str:
    both = may_be(one["word"], TELLING)
    near = f"; nearest: {one['nearest']}" if one["nearest"] else ""
    return f"; may be {both}" if both else near


def _place(one: Mapping[Any, Any]) -> str:
    """Name a row, with its file and sheet where there are several."""
    return (
        f"{part_name(one['file'], one['sheet'])}, row {one['row']}" if "file" in one else f"row {one['row']}"
    )


def _rest(number: int, shown: int) -> str:
    return f", ... and {number - shown:,} more" if number > shown else ""


def _rows(number: int) -> str:
    return many_rows(number)
