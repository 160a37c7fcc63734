"""The one form that every file and frame is brought to before anything is judged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa

__all__ = ["LARGEST_CELL", "MOST_ROWS", "Bounds", "LeftOut", "Lines", "Part", "RaggedRow", "Source"]


MOST_ROWS = 20_000_000
"""Rows beyond which a file is not read (a default, no source): some thirty seasons of a league, while a few
hundred kilobytes may unfold to sixty million."""

LARGEST_CELL = 1 << 24
"""Bytes beyond which a cell is none (a default, no source): whole games fit into it, so that a quotation mark
that nobody closed is found in any file of usual size, and said at once in a larger one."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """How much is accepted of a file.

    Attributes
    ----------
    most_rows
        Rows that it may have, or unfold to.
    largest_cell
        Bytes that a cell of a text file, or a whole line, may have.
    """

    most_rows: int = MOST_ROWS
    largest_cell: int = LARGEST_CELL


@dataclass(frozen=True, slots=True)
class Lines:
    """Where every line of a text file went.

    Attributes
    ----------
    in_file
        All of them, counted by themselves.
    above
        Titles above the header.
    header
        Lines of the header.
    rows
        Lines of the rows that were read, whatever was thought of their cells.
    set_aside
        Lines that are no row.
    blank
        Lines with nothing in them.
    """

    in_file: int
    above: int
    header: int
    rows: int
    set_aside: int
    blank: int

    @property
    def unaccounted(self) -> int:
        """Lines that went nowhere: none, or the reading is wrong."""
        return self.in_file - self.above - self.header - self.rows - self.set_aside - self.blank

    def parts(self) -> dict[str, int]:
        """Give what they are, and how many; titles only where there are any."""
        found = {"above the header": self.above} if self.above else {}
        return {
            **found,
            "header": self.header,
            "rows read": self.rows,
            "set aside": self.set_aside,
            "blank": self.blank,
        }

    def sentence(self) -> str:
        """Say it in words."""
        parts = [f"{self.above:,} above the header"] if self.above else []
        parts += [f"{self.header:,} of the header", f"{self.rows:,} of rows read"]
        parts += [f"{self.set_aside:,} set aside as no row", f"{self.blank:,} blank"]
        return f"{self.in_file:,} line{'' if self.in_file == 1 else 's'} in the file: {', '.join(parts)}"


@dataclass(frozen=True, slots=True)
class RaggedRow:
    """A line of a text file that is no row.

    Attributes
    ----------
    row
        Number of the data row, from 1.
    cells
        Its cells as far as they could be told apart.
    expected
        Number of cells in the header.
    text
        The line as it stands.
    reason, accepted
        Why it is none, and what would be one.
    """

    row: int
    cells: tuple[str, ...]
    expected: int
    text: str
    reason: str
    accepted: str

    def numbered(self, row: int) -> RaggedRow:
        """Give the same line with the number of its row."""
        return replace(self, row=row)


def part_name(file: str, sheet: str) -> str:
    """Give what to call a file, or a sheet of one, in messages."""
    return f"{file}, {sheet}" if sheet else file


@dataclass(frozen=True, slots=True)
class Part:
    """A file, or a sheet of a workbook, among several that were put together.

    Attributes
    ----------
    file
        Its name.
    sheet
        Name of the sheet; empty where the file has none.
    before
        What is taken from a number of a row to get its number in the part.
    rows
        Rows that were read in it.
    """

    file: str
    sheet: str
    before: int
    rows: int

    @property
    def name(self) -> str:
        """What to call it in messages."""
        return part_name(self.file, self.sheet)


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A file or a sheet that was not read.

    Attributes
    ----------
    file, sheet
        Their names; no sheet where the file has none.
    reason
        Why it was left out, as the second half of a sentence.
    meant
        Whether the mapping says so, or there was nothing in it to be read.
    lacking
        Which needed columns it does not have, where that is the reason; else empty.
    unfilled
        Names of its columns, where they stand on top and nothing below them; else empty.
    """

    file: str
    sheet: str
    reason: str
    meant: bool = False
    lacking: str = ""
    unfilled: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What to call it in messages."""
        return part_name(self.file, self.sheet)


@dataclass(frozen=True, eq=False)
class Source:
    """Untouched cells of a source.

    Attributes
    ----------
    name
        What to call the source in messages.
    table
        The cells; columns in the source's order, names trimmed.
    rows
        Number of each data row in the source, from 1.
    lines
        Turns numbers of data rows into lines of the file; None where there are no lines.
    ragged
        Lines that are no row; they are not in ``table``.
    said
        Sentences about how it was read.
    lines_read
        Where every line of a text file went; None where there are no lines.
    give_back
        Turns the finished pandas frame into the caller's kind of frame.
    parts
        The files and sheets that were put together; empty for one text file or frame. ``rows`` then run
        through all of them, and :meth:`where` gives the rows in each.
    left_out
        Files and sheets that were not read.
    typed_days
        Whether some days are no text but days in the source, and stand here as year-month-day.
    also
        Those columns, folded, that the mapping's ``[also]`` names and that stood in it.
    merged
        Place of a column, and the numbers of the first and the last row that one merged cell of it spans;
        what stands in it is in the first of them.
    original
        Gives all cells of some rows, by their places in ``table``, where columns that nobody asked for are
        not in it (they hold nothing there); else None.
    """

    name: str
    table: pa.Table
    rows: np.ndarray
    lines: Callable[[np.ndarray], np.ndarray | None] | None = None
    ragged: tuple[RaggedRow, ...] = ()
    said: tuple[str, ...] = ()
    lines_read: Lines | None = None
    give_back: Callable[[pd.DataFrame], Any] = field(default=lambda frame: frame)
    parts: tuple[Part, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    typed_days: bool = False
    also: frozenset[str] = frozenset()
    merged: tuple[tuple[int, int, int], ...] = ()
    original: Callable[[np.ndarray], pa.Table] | None = None

    def cells_of(self, places: np.ndarray) -> pa.Table:
        """Give all cells of some rows, by their places in ``table``."""
        return self.table.take(pa.array(places)) if self.original is None else self.original(places)

    def part_of(self, rows: np.ndarray) -> np.ndarray:
        """Place among ``parts`` of each of some rows, by their numbers."""
        before = np.array([part.before for part in self.parts], dtype=np.int64)
        places: np.ndarray = np.searchsorted(before, np.asarray(rows, dtype=np.int64), side="left") - 1
        return places

    def where(self, rows: np.ndarray) -> pd.DataFrame:
        """Give ``file``, ``sheet`` and ``row`` of some rows, by their numbers, where there are parts."""
        places = self.part_of(rows)
        files, sheets = ([getattr(part, name) for part in self.parts] for name in ("file", "sheet"))
        before = np.array([part.before for part in self.parts], dtype=np.int64)
        return pd.DataFrame(
            {
                "file": np.array(files, dtype=object)[places],
                "sheet": np.array(sheets, dtype=object)[places],
                "row": np.asarray(rows, dtype=np.int64) - before[places],
            }
        )

    def row_name(self, row: int) -> str:
        """Name one row, by its number: ``row 12``, or ``week.xlsx, Friday, row 12``."""
        if not self.parts:
            return f"row {row}"
        part = self.parts[int(self.part_of(np.array([row]))[0])]
        return f"{part.name}, row {row - part.before}"

    @property
    def columns(self) -> list[str]:
        """Names of the source's columns."""
        return list(self.table.column_names)
