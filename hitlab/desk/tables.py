"""The table on the desk: opened once, looked at once, and asked again and again."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import narwhals as nw

from hitlab.asking import Known
from hitlab.claims import Claim
from hitlab.counting import Looks
from hitlab.demonstration import called, demo_season
from hitlab.errors import ReadingError, quiet_warnings
from hitlab.pitches.opening import frame_of
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.report import Reading
from hitlab.pitches.schema import KEY
from hitlab.pitches.storing import doubts_in, opens_as_checked
from hitlab.questions import Question
from hitlab.questions.question import CAREER, History
from hitlab.questions.source import keeping
from hitlab.showing import json_text, quoted, shown, shown_name
from hitlab.splits import usual_situations
from hitlab.wording import capitalised

__all__ = ["LOOKED_AHEAD", "SENTENCE", "OpenTable", "open_table"]

SENTENCE = "What somebody says"
"""The field of the page into which a sentence is typed."""

LOOKED_AHEAD: dict[str, dict[str, str]] = {"above": {"value": "league"}, "leads": {}}
"""The kinds that are asked most, the quicker first, with the options that each is worked out with for
somebody while nobody asks yet."""

_MOST_LINES = 6  # of the report, before the fold
_A_SENTENCE = 3  # words from which a text reads like one (a default)
_QUOTES = "\"'“”"


@dataclass(frozen=True)
class OpenTable:
    """A table of pitches on the desk, with what is looked up in it once.

    Attributes
    ----------
    pitches
        What questions are asked of: a checked file's path, or a ``Reading``.
    said
        What reading found, in plain sentences.
    report
        The whole report as HTML; empty where the file was read and checked before.
    known
        Names, columns and days.
    situations
        Words of the usual situations that this table can tell, and their terms.
    """

    pitches: Any
    said: tuple[str, ...]
    report: str
    known: Known
    situations: tuple[tuple[str, str], ...]
    _answers: dict[str, Claim] = field(default_factory=dict)
    _kept: dict[Any, Any] = field(default_factory=dict)

    @property
    def seasons(self) -> list[tuple[str, tuple[str, History]]]:
        """Which seasons can be chosen, in words, and what a question is told; one entry where it has one."""
        names = list(self.known.seasons)
        ids = "hitter_id" in (self.known.columns or ())
        found: list[tuple[str, tuple[str, History]]] = [("all of the table", ("", "ids"))]
        if len(names) > 1:
            # Without ids a name would be taken for one hitter: each season is then looked at by itself.
            one: History = "ids" if ids else "none"
            found += [
                (f"{shown_name(name)}{'' if ids else ', by itself'}", (name, one)) for name in reversed(names)
            ]
            found += [("the whole career", (CAREER, "ids"))] if ids else []
        return found

    @property
    def hitters(self) -> list[str]:
        """What the hitters are called, in the order of the alphabet."""
        return sorted({shown_name(one.label) for one in self.known.people if one.subject == "hitter"})

    def answer(self, question: Question, looks: Looks) -> Claim:
        """Answer a question; one that was answered before is not worked out again, save about a split.

        Parameters
        ----------
        question
            What is asked.
        looks
            The splits looked at so far: a split is told how many they are.

        Raises
        ------
        HitlabError
            Where it cannot be answered; the message says why.
        """
        with quiet_warnings(), keeping(self._kept):
            if question.kind == "split":  # it says how many were looked at, and that goes up
                return question.ask(self.pitches, looks=looks)
            key = json_text(question.to_dict())
            if key not in self._answers:
                self._answers[key] = question.ask(self.pitches)
            return self._answers[key]

    def look_ahead(self, kind: str) -> None:
        """Count and fit the usual rate while nobody asks yet, so that the first answer is there sooner.

        Parameters
        ----------
        kind
            A key of :data:`LOOKED_AHEAD`: what it needs is loaded and worked out.
        """
        options = LOOKED_AHEAD[kind]
        with suppress(Exception):  # what is wrong is said when it is asked
            self.answer(Question(kind=kind, who=self.hitters[0], options=options), Looks())


@contextmanager
def _as_a_table(name: str) -> Iterator[None]:
    """Say in plain words what no reader could make a table of."""
    try:
        yield
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or error
        raise ReadingError(f"{name} cannot be read: {why}") from error


def open_table(path: str | os.PathLike[str] = "") -> OpenTable:
    """Open a file of pitches and look at it once.

    Parameters
    ----------
    path
        The file, or a folder of saved tables; quotation marks around it are taken off. The demo season where
        it is empty.

    Returns
    -------
    OpenTable
        The table, ready to be asked.

    Raises
    ------
    HitlabError
        Where it cannot be read, or most of it was not understood.

    Examples
    --------
    >>> print(open_table().said[0])
    The demo season, an invented league: 102,614 rows, 150 hitters, games from 2031-04-03 to 2031-06-23.
    """
    typed = os.fspath(path).strip().strip(_QUOTES).strip()
    if "\0" in typed:
        raise ReadingError("no name of a file has a character of code 0 in it")
    where = Path(typed).expanduser() if typed else demo_season()
    if typed and _reads_like_a_sentence(typed) and not os.path.lexists(where):
        raise ReadingError(
            f"There is no file {quoted(typed)}. It reads like a sentence: what is to be asked goes into the "
            f"field “{SENTENCE}”"
        )
    with quiet_warnings(), _as_a_table(shown_name(where.name)):
        checked = opens_as_checked(where)
        if where.is_dir() and not checked:
            raise ReadingError(f"{shown_name(where)} is a folder; name the file in it")
        if checked:
            pitches: Any = where
            said = [f"{capitalised(phrase)}." for phrase in doubts_in(where).said]
            report = ""
        else:
            pitches = read_pitches(where)
            if pitches.report.not_understood:
                raise ReadingError(pitches.report.not_understood)
            said, report = _found(pitches), pitches._repr_html_()
        frame = frame_of(pitches)[0]
        known = Known.of(pitches)
        rows = frame.lazy().select(nw.len()).collect().item()
    columns = frozenset(known.columns or ())
    before = {"previous_whiff"} if {*KEY, "outcome"} <= columns else set()
    usual = usual_situations(columns | before)
    situations = tuple((one.words, one.terms[0]) for one in usual if len(one.terms) == 1)
    first = _what_it_is(str(where), rows, known)
    return OpenTable(pitches, (first, *(shown(line) for line in said)), report, known, situations)


def _reads_like_a_sentence(typed: str) -> bool:
    """Say whether a text has several words, and neither a folder in it nor the ending of a table."""
    path = Path(typed)
    named = path.suffix[1:].isalnum() or any(sign in typed for sign in "/\\")
    return len(typed.split()) >= _A_SENTENCE and not named


def _what_it_is(path: str, rows: int, known: Known) -> str:
    name = called(path)
    name = shown_name(Path(path).name) if name == path else capitalised(name)
    hitters = sum(one.subject == "hitter" for one in known.people)
    days = "" if known.days is None else ", games from {:%Y-%m-%d} to {:%Y-%m-%d}".format(*known.days)
    each = ((rows, "row"), (hitters, "hitter"))
    told = ", ".join(f"{number:,} {word}{'' if number == 1 else 's'}" for number, word in each)
    return f"{name}: {told}{days}."


def _found(reading: Reading) -> list[str]:
    """Say what reading found: rows set aside and why, what was made missing, what it cannot tell."""
    report = reading.report
    said = [
        f"{report.rows_read:,} rows were read, {report.rows_kept:,} kept and {report.rows_set_aside:,} set "
        f"aside; {report.values_made_missing:,} values could not be used in rows that were kept."
    ]
    for reason, times in list(report.set_aside_for.items())[:_MOST_LINES]:
        said.append(f"Set aside {times:,} times: {reason}.")
    said += [f"It cannot tell: {line.rstrip('.')}." for line in report.cannot_tell[:_MOST_LINES]]
    for question in report.questions[:_MOST_LINES]:
        said.append(f"Only whoever kept the table can say: {question.splitlines()[0].rstrip()}")
    return said
