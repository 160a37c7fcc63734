"""The one form that every file and frame is brought to before anything is judged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa

__all__ = ["LARGEST_CELL", "MOST_ROWS", "Bounds", "Lines", "RaggedRow", "Source"]


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
    """

    name: str
    table: pa.Table
    rows: np.ndarray
    lines: Callable[[np.ndarray], np.ndarray | None] | None = None
    ragged: tuple[RaggedRow, ...] = ()
    said: tuple[str, ...] = ()
    lines_read: Lines | None = None
    give_back: Callable[[pd.DataFrame], Any] = field(default=lambda frame: frame)

    @property
    def columns(self) -> list[str]:
        """Names of the source's columns."""
        return list(self.table.column_names)
