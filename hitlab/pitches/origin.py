"""The one form that every file and frame is brought to before anything is judged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa

__all__ = ["RaggedRow", "Source"]


@dataclass(frozen=True, slots=True)
class RaggedRow:
    """A line of a text file with too many or too few cells.

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
    """

    row: int
    cells: tuple[str, ...]
    expected: int
    text: str


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
        Lines with a wrong number of cells; they are not in ``table``.
    said
        Sentences about how it was read.
    give_back
        Turns the finished pandas frame into the caller's kind of frame.
    """

    name: str
    table: pa.Table
    rows: np.ndarray
    lines: Callable[[np.ndarray], np.ndarray | None] | None = None
    ragged: tuple[RaggedRow, ...] = ()
    said: tuple[str, ...] = ()
    give_back: Callable[[pd.DataFrame], Any] = field(default=lambda frame: frame)

    @property
    def columns(self) -> list[str]:
        """Names of the source's columns."""
        return list(self.table.column_names)
