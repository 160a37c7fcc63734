"""What stands on a page about a hitter, before it is drawn or printed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

import pandas as pd

from hitlab.over_time.form import Form
from hitlab.pages.saving import OnPaper
from hitlab.results import Note, Part, Points, Result, Table

__all__ = ["READERS", "HitterPage", "Reader", "Section"]

Reader = Literal["coach", "player"]
READERS: tuple[Reader, ...] = ("coach", "player")


@dataclass(frozen=True, eq=False, slots=True)
class Section:
    """One part of a page: a table and what is said of it, or why there is none.

    Attributes
    ----------
    said
        Sentences, in the order of reading.
    table
        What stands in it as a table, its cells as they are read; empty for none.
    missing
        Why the part is not there, in one line; empty where it is.
    """

    said: tuple[str, ...] = ()
    table: pd.DataFrame | None = None
    missing: str = ""


@dataclass(frozen=True, eq=False, slots=True)
class HitterPage(OnPaper, Result):
    """A page about a hitter.

    Attributes
    ----------
    data
        One row a rate: ``event``, ``per``, ``rate_words``, ``events``, ``exposure``, ``rate`` (observed),
        ``least`` and ``most`` (its bounds where hardness is unknown), ``shrunk``, ``low``, ``high``,
        ``own_weight``, ``others`` (the observed rate of everybody else), ``chance_above`` (that the true
        rate is above theirs), ``verdict`` (``above``, ``below``, or ``open``), ``rank_low``, ``rank_high``,
        ``ranked`` (of how many), and ``half_weight`` (the exposure at which the record weighs as much as what
        is expected beforehand).
    hitter
        Who it is, as he is told from others.
    about
        The lines under the name: club, table, days, how much was seen.
    reader
        ``coach``, or ``player`` for the plain version on one side.
    event, per
        The rate that situations, form and the pitches are looked at by.
    level
        Of the intervals.
    became
        What became of every swing: ``words``, ``number``, ``others``, ``fill``.
    field
        Everybody's shrunk rates, as :func:`hitlab.plots.standing` draws them.
    sections
        The parts by name, a key of ``HEADINGS`` each: for a coach ``short``, ``little`` (what is too little
        to say), ``became``, ``rates``, ``standing``, ``form``, ``situations``, ``fastballs``, ``notes``,
        ``pitches``.
    form
        The rate over time, where there is one.
    source
        The file that the pitches are from; empty where they are from none.
    """

    data: pd.DataFrame
    hitter: str
    about: tuple[str, ...]
    reader: Reader
    event: str
    per: str
    level: float
    became: pd.DataFrame
    field: pd.DataFrame
    sections: Mapping[str, Section]
    form: Form | None = None
    source: str = ""

    @property
    def title(self) -> str:
        """What it is."""
        return "A page for a hitter" if self.reader == "player" else "A page about a hitter"

    @property
    def most_sides(self) -> int:
        """How many sides it is printed on at most: two, for a player one."""
        return 1 if self.reader == "player" else 2

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of; the pictures are on the page that is saved."""
        parts: list[Part] = [self.title, Note(self.hitter, "")]
        parts += [Note(line, "") for line in self.about]
        for name in HEADINGS[self.reader]:
            if name not in self.sections:
                continue
            section = self.sections[name]
            if section.missing:
                parts.append(Note(section.missing, ""))
                continue
            if section.said:
                parts.append(Points(HEADINGS[self.reader][name], section.said))
            if section.table is not None:
                parts.append(Table(section.table, self.MOST_ROWS, missing=""))
        return parts

    def html(self) -> str:
        """Return the page as HTML: one file, with its pictures, that asks nothing of any other machine.

        Raises
        ------
        MissingPackageError
            Where Jinja2 or matplotlib is not installed.
        """
        from hitlab.pages.html import page_html

        return page_html(self, HEADINGS[self.reader])


HEADINGS: dict[str, dict[str, str]] = {
    "coach": {
        "short": "In short",
        "little": "Too little to say",
        "became": "Every swing, and what became of it",
        "rates": "How often, and how sure that is",
        "standing": "Against everybody else",
        "form": "Over time",
        "situations": "Situations",
        "fastballs": "Ready for the fastball",
        "notes": "What to know of these numbers",
        "pitches": "Pitches to watch",
    },
    "player": {
        "became": "Your swings",
        "often": "What you do more often than others",
        "seldom": "What you do less often than others",
        "alike": "Too close to call",
        "standing": "You among the others",
        "form": "Lately",
        "fastballs": "Fastballs",
        "pitches": "Pitches to watch again",
        "notes": "How to read this",
    },
}
"""The headings of the parts, in the order of the page."""
