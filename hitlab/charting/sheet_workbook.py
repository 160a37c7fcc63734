"""The workbook that pitches are charted in: what it offers, the reader takes without a mapping.

The reader takes for a table of pitches whatever sheet has rows below a row that holds names of columns it
knows. Of the key and of the rosters the last row holds such names, and there is nothing below it: so they are
passed over, whatever else stands in them.
"""

from __future__ import annotations

import datetime as dt
import io
import os
import textwrap
from pathlib import Path
from typing import Any

from hitlab.charting.sheet_people import Game, inputs_of
from hitlab.charting.sheet_words import COLUMNS_WRITTEN, NAMED, NUMBERS, RULES, words_of
from hitlab.errors import ClaimError, ReadingError
from hitlab.names import fold
from hitlab.optional import load
from hitlab.pitches.dates import EARLIEST
from hitlab.pitches.schema import COLUMNS, LAST_YEAR, NEEDED
from hitlab.results import harmless
from hitlab.showing import shown
from hitlab.writing import AnyPath, files_read, write_file

__all__ = ["MOST_PLAYERS", "ROWS_READY", "charting_workbook"]

ROWS_READY = 2_000
"""Rows that offer their words: some six games (a default)."""

MOST_PLAYERS = 500
"""Players of both clubs together beyond which a drop-down list helps nobody (a default)."""

_IN_A_BLOCK = 25  # players below each other: the reader looks for names of columns in the first 30 rows
_LONGEST_MESSAGE = 255  # characters of it; a limit of the file format
_WIDTHS = {"date": 12, "game": 22, "hitter": 24, "pitcher": 24, "club": 18, "pitch_kind": 20}
_WIDER = {"outcome": 24, "foul_side": 16, "result": 24}
_KEY_WIDTHS = (24, 62, 62)  # characters
_WRAPPED = 0.85  # of them fit on a line where the letters are wider than the width is measured by
_LINE_POINTS = 15
_NAMES = "names"
# Text stays text: nothing is made a formula, a link or a number on the way.
_AS_IT_IS = dict.fromkeys(("strings_to_formulas", "strings_to_urls", "strings_to_numbers"), False)


def charting_workbook(
    path: AnyPath,
    *,
    roster: Any = None,
    opponents: Any = None,
    club: str = "",
    opponent: str = "",
    date: str | dt.date | None = None,
) -> Path:
    """Write a workbook in which a game is charted, pitch by pitch.

    The sheet ``pitches`` has our columns, drop-down lists with our words, and bounds for numbers; its first
    row stays in sight, and comments on it say what is written. The sheet ``key`` explains, the sheet
    ``roster`` shows the players. Filled in, it is read with :func:`hitlab.read_pitches` and no mapping.

    Parameters
    ----------
    path
        The file, ``.xlsx``.
    roster, opponents
        Players of the own club and of the other, as :func:`hitlab.read_pitches` takes a roster: a file or a
        frame with ``name`` and, where known, ``number``, ``side``, ``class``, ``club``. Their names are
        offered as hitters and as pitchers.
    club, opponent
        Names of the clubs; of a roster with several clubs the players of this one are taken.
    date
        The day of the game, as year-month-day.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    ClaimError
        Where the name does not end in ``.xlsx``, the day is none, a club is in no roster, or there are too
        many players for a list.
    ReadingError
        Where a roster cannot be used, or the file cannot be written or is there already: it may hold what
        somebody charted.
    MissingPackageError
        Where xlsxwriter is not installed.

    Examples
    --------
    >>> import pandas as pd, tempfile, hitlab
    >>> from hitlab.charting import charting_workbook
    >>> players = pd.DataFrame({"number": [7, 12], "name": ["Bea Plome", "Ada Frusk"]})
    >>> folder = tempfile.TemporaryDirectory()
    >>> written = charting_workbook(f"{folder.name}/game.xlsx", roster=players, date="2031-05-04")
    >>> written.name
    'game.xlsx'
    >>> folder.cleanup()
    """
    if not str(path).lower().endswith(".xlsx"):
        raise ClaimError(f"{path}: a charting workbook is an .xlsx file; end the name with .xlsx")
    inputs = inputs_of(path, "the workbook", roster, opponents)
    if os.path.lexists(path):
        raise ReadingError(
            f"{shown(os.fspath(path))} is there already, and may hold what somebody charted: "
            "name another file"
        )
    xlsxwriter = load("xlsxwriter", "charting workbooks", "spreadsheet")
    game = Game.of(roster, opponents, club, opponent, date)
    many = len(game.own.players) + len(game.other.players)
    if many > MOST_PLAYERS:
        raise ClaimError(
            f"{many:,} players are more than a drop-down list is good for ({MOST_PLAYERS}). Name the club "
            "with club= and opponent=, or give rosters of these two clubs"
        )
    held = io.BytesIO()
    with xlsxwriter.Workbook(held, {"in_memory": True, **_AS_IT_IS}) as book:
        _Maker(book, game).make()
    return write_file(path, held.getvalue(), inputs=(*inputs, *files_read()))


def _cell(text: str) -> str:
    return str(harmless(shown(text)))


class _Maker:
    """Fills a book that is open."""

    def __init__(self, book: Any, game: Game) -> None:
        self.book, self.clubs, self.day = book, (game.own, game.other), game.day
        self.names = _each_once(_cell(one.name) for club in self.clubs for one in club.players)
        self.club_names = _each_once(_cell(club.name) for club in self.clubs if club.name)
        self.game = " ".join([self.day.isoformat(), *self.club_names]) if self.day is not None else ""
        # What drop-down lists show stands in cells of one row, where commas and quotation marks do no harm.
        self.lists: dict[str, str] = {}
        self.listed: list[str] = [*NAMED]
        for column, texts in (
            ("game", (self.game,) if self.game else ()),
            ("club", self.club_names),
            ("hitter", self.names),
        ):
            if texts:
                first, last = len(self.listed), len(self.listed) + len(texts) - 1
                self.lists[column] = f"={_NAMES}!${_letters(first)}$1:${_letters(last)}$1"
                self.listed += texts
        if self.names:
            self.lists["pitcher"] = self.lists["hitter"]
        self.bold = book.add_format({"bold": True})
        self.head = book.add_format(
            {"bold": True, "bg_color": "#E4E4E4", "bottom": 2, "valign": "vcenter", "align": "left"}
        )
        self.wrapped = book.add_format({"text_wrap": True, "valign": "top"})
        self.wrapped_bold = book.add_format({"text_wrap": True, "valign": "top", "bold": True})

    def make(self) -> None:
        pitches = self.book.add_worksheet("pitches")
        key = self.book.add_worksheet("key")
        if self.names:
            self._roster(self.book.add_worksheet("roster"))
        if self.lists:
            self._lists(self.book.add_worksheet(_NAMES))
        self._pitches(pitches)
        self._key(key)

    def _pitches(self, sheet: Any) -> None:
        sheet.freeze_panes(1, 0)
        sheet.set_row(0, 24)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)
        sheet.repeat_rows(0)
        sheet.hide_gridlines(0)
        date = self.book.add_format({"num_format": "yyyy-mm-dd", "align": "left"})
        plain = self.book.add_format({"align": "left"})
        for place, (name, meaning) in enumerate(COLUMNS_WRITTEN.items()):
            width = (_WIDTHS | _WIDER).get(name, max(len(name) + 3, 9))
            sheet.set_column(place, place, width, date if name == "date" else plain)
            sheet.write_string(0, place, name, self.head)
            said = f"{meaning}{self._suggestion(name)}"
            sheet.write_comment(0, place, said, {"x_scale": 2, "y_scale": 1.4, "author": ""})
            rule = self._rule(name)
            if rule:
                sheet.data_validation(1, place, ROWS_READY, place, rule)

    def _suggestion(self, name: str) -> str:
        if name == "date" and self.day is not None:
            return f" This game's: {self.day.isoformat()}."
        return f" This one's may be: {self.game}" if name == "game" and self.game else ""

    def _rule(self, name: str) -> dict[str, Any] | None:
        """Say what a spreadsheet program lets into the cells of a column."""
        words = words_of(name)
        if name in self.lists:
            # A name that is not listed can be a new player's: it is asked, not refused.
            return {
                "validate": "list",
                "source": self.lists[name],
                "show_error": name != "game",
                "error_type": "warning",
                "error_title": "Not in the list",
                "error_message": "It is not in the list. Keep it only if it is meant, and spelled right.",
            }
        if words:
            return {
                "validate": "list",
                "source": list(words),
                "error_title": "Choose from the list",
                "error_message": f"{name} takes one of: {', '.join(words)}."[:_LONGEST_MESSAGE],
            }
        if name in NUMBERS:
            low, high = NUMBERS[name]
            return {
                "validate": "integer",
                "criteria": "between",
                "minimum": low,
                "maximum": high,
                "error_title": "A whole number",
                "error_message": f"{name} takes a whole number from {low} to {high}.",
            }
        if name == "date":
            return {
                "validate": "date",
                "criteria": "between",
                # What is typed as an earlier day the reader takes for a year that a program put in.
                "minimum": dt.date(EARLIEST, 1, 1),
                "maximum": dt.date(LAST_YEAR, 12, 31),
                "error_title": "A date",
                "error_message": "Type the day of the game as a date, such as 2031-05-04.",
            }
        return None

    def _key(self, sheet: Any) -> None:
        for place, width in enumerate(_KEY_WIDTHS):
            sheet.set_column(place, place, width)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 1)
        sheet.write_row(0, 0, ["On the sheet “pitches”", "what is written", "which words"], self.head)
        lines = [(name, meaning, self._accepted(name)) for name, meaning in COLUMNS_WRITTEN.items()]
        lines += [(f"rule {number}", rule, "") for number, rule in enumerate(RULES, 1)]
        for row, texts in enumerate(lines, 1):
            # Not every program makes room for a second line by itself.
            many = [
                len(textwrap.wrap(text, round(_WRAPPED * width)))
                for text, width in zip(texts, _KEY_WIDTHS, strict=True)
            ]
            sheet.set_row(row, _LINE_POINTS * max(many))
            for place, text in enumerate(texts):
                if text:
                    sheet.write_string(row, place, text, self.wrapped if place else self.wrapped_bold)
        row = len(lines) + 1
        sheet.set_row(row, 2 * _LINE_POINTS)
        sheet.write_string(row, 0, "one row a pitch; each needs", self.wrapped_bold)
        for place, name in enumerate(NEEDED, 1):
            sheet.write_string(row, place, name, self.wrapped_bold)
        sheet.protect()

    def _accepted(self, name: str) -> str:
        if words_of(name):
            return ", ".join(words_of(name))
        if name in NUMBERS:
            low, high = NUMBERS[name]
            return f"a whole number from {low} to {high}"
        if name in NAMED and self.names:
            return "the names of the roster; another where it is spelled right"
        return "a date" if name == "date" else COLUMNS[name].accepted

    def _lists(self, sheet: Any) -> None:
        """Hold what the drop-down lists show in one row, below which is nothing."""
        for place, text in enumerate(self.listed):
            sheet.write_string(0, place, text)
        sheet.hide()

    def _roster(self, sheet: Any) -> None:
        left, lowest = 0, 0
        for club in self.clubs:
            for first in range(0, len(club.players), _IN_A_BLOCK):
                block = club.players[first : first + _IN_A_BLOCK]
                sheet.write_string(0, left, _cell(club.name) or "players", self.bold)
                sheet.write_row(1, left, ["number", "name", "side", "class"], self.head)
                for row, one in enumerate(block, 2):
                    for place, text in enumerate((one.number, one.name, one.side, one.year)):
                        if text:
                            sheet.write_string(row, left + place, _cell(text))
                lowest = max(lowest, 1 + len(block))
                for place, width in enumerate((9, 26, 8, 12, 3)):
                    sheet.set_column(left + place, left + place, width)
                left += 5
        for place, text in enumerate(["offered as", *NAMED]):
            sheet.write_string(lowest + 2, place, text, self.bold)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 1)
        sheet.protect()


def _each_once(texts: Any) -> tuple[str, ...]:
    """Texts in their order, of those that differ in capitals alone the first."""
    found: dict[str, str] = {}
    for text in texts:
        found.setdefault(fold(text), text)
    return tuple(found.values())


def _letters(place: int) -> str:
    """Name of a spreadsheet's column by its place from 0."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
