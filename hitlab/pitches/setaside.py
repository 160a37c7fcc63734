"""Collects what could not be used, cell by cell, without losing anything of the source."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa

from hitlab.pitches.cells import Cells, Judged, source_cells
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import SWING, Mapping, Split
from hitlab.pitches.mending import Mending, mending
from hitlab.pitches.origin import Source
from hitlab.pitches.schema import COLUMNS, KEY, NEEDED

__all__ = ["Issues"]

_COLUMNS = ("row", "line", "column", "source_column", "value", "reason", "accepted", "action")
_EXAMPLES = 3
_WHOLE_ROW = "(the whole row)"


class Issues:
    """What could not be used, and which rows are dropped for it.

    Attributes
    ----------
    dropped
        For each row of the source's table: whether it is set aside.
    """

    def __init__(self, source: Source, headings: Headings, rules: Mapping) -> None:
        self.source = source
        self.headings = headings
        self.rules = rules
        self.dropped = np.zeros(source.table.num_rows, dtype=bool)
        self._parts: list[pd.DataFrame] = []

    def cells(self, judged: Judged, whole_row: bool) -> None:
        """Note the bad cells of one column."""
        places = np.flatnonzero(judged.bad())
        if not places.size:
            return
        codes = judged.cells.codes[places]
        name = judged.column.name
        mend = mending(judged, self.rules)
        accepted = {code: self._accepted(judged, code, mend) for code in np.unique(codes)}
        self._note(
            places,
            name,
            np.array(judged.cells.texts, dtype=object)[codes],
            judged.problems[codes],
            [accepted[code] for code in codes],
        )
        if whole_row:
            self.dropped[places] = True

    def _accepted(self, judged: Judged, code: int, mend: Mending) -> str:
        column = judged.column
        line = mend(judged.cells.texts[code], judged.problems[code])
        accepted = column.accepted
        if column.kind == "date" and self.rules.date_format is not None:
            accepted = f"a date as {self.rules.date_format}, which is what the mapping says"
        return f"{line}; {accepted}" if line else accepted

    def absent(self, flag: np.ndarray, column: str) -> None:
        """Note the rows in which a needed cell is empty."""
        places = np.flatnonzero(flag)
        if places.size:
            self._note(places, column, "", "empty, and it is needed", COLUMNS[column].accepted)
            self.dropped[places] = True

    def unsplit(self, cells: Cells, wrong: np.ndarray, split: Split, source_column: str) -> None:
        """Note the cells that could not be taken apart; the row goes where a part is of its key."""
        places = np.flatnonzero(wrong[cells.codes])
        if not places.size:
            return
        values = np.array(cells.texts, dtype=object)[cells.codes[places]]
        accepted = f"{len(split.into)} values with {split.separator!r} between them"
        self._note(places, ", ".join(split.into), values, "not to be taken apart", accepted, source_column)
        if set(split.into) & {*NEEDED, *KEY}:
            self.dropped[places] = True

    def unturned(self, flag: np.ndarray, judged: Judged) -> None:
        """Note the cells that need the hitter's side, where it is missing."""
        places = np.flatnonzero(flag)
        if places.size:
            values = np.array(judged.cells.texts, dtype=object)[judged.cells.codes[places]]
            self._note(
                places, judged.column.name, values, "of no side: hitter_side is missing", "left or right"
            )

    def repeated(self, places: np.ndarray, firsts: np.ndarray, same: np.ndarray, frame: pd.DataFrame) -> None:
        """Note the pitches whose key stood in an earlier row."""
        key = [frame[name].take(places).astype(str).to_numpy() for name in KEY]
        values = ["/".join(parts) for parts in zip(*key, strict=True)]
        reasons = np.where(
            same, "a repeated pitch, the same in every column", "a repeated pitch, different in other columns"
        )
        accepted = [f"each pitch once; the first is row {row}" for row in self.source.rows[firsts]]
        self._note(places, ", ".join(KEY), values, reasons, accepted, ", ".join(KEY))
        self.dropped[places] = True

    def _note(
        self,
        places: np.ndarray,
        column: str,
        values: Any,
        reasons: Any,
        accepted: Any,
        source_column: str | None = None,
    ) -> None:
        part = pd.DataFrame({"place": places, "column": column})
        part["source_column"] = self.headings.source_of(column) if source_column is None else source_column
        part["value"], part["reason"], part["accepted"] = values, reasons, accepted
        self._parts.append(part)

    def counted(self, set_aside: pd.DataFrame) -> dict[str, int]:
        """Count ``column: reason``, the most frequent first."""
        named = set_aside["column"].astype(str) + ": " + set_aside["reason"].astype(str)
        return {str(name): int(count) for name, count in named.value_counts().items()}

    def decisive(self, set_aside: pd.DataFrame) -> np.ndarray:
        """Say for each line whether it alone would set its row aside."""
        decisive = {*NEEDED, *KEY, _WHOLE_ROW}
        named = [not decisive.isdisjoint(column.split(", ")) for column in set_aside["column"].astype(str)]
        return np.array(named, dtype=bool)

    def examples(self, set_aside: pd.DataFrame) -> dict[str, str]:
        """Give for each ``column: reason`` its most frequent values, and what would mend the first."""
        named = set_aside["column"].astype(str) + ": " + set_aside["reason"].astype(str)
        found = {}
        for reason, part in set_aside.groupby(named, sort=False):
            values = part["value"].astype(str).value_counts(sort=False)
            values = values.sort_values(ascending=False, kind="stable")
            values = values[values.index != ""]
            if values.empty:
                continue
            shown = ", ".join(repr(_short(value)) for value in values.index[:_EXAMPLES])
            accepted = part.loc[part["value"].astype(str) == values.index[0], "accepted"].iloc[0]
            more = ", ..." if len(values) > _EXAMPLES else ""
            found[str(reason)] = f"{shown}{more}; accepted: {accepted}"
        return found

    def frame(self) -> pd.DataFrame:
        """Everything noted, in the order of the source's rows, with the source's own cells."""
        whole, ragged = self._whole_rows(), self._ragged_rows()
        found = pd.concat([part for part in (whole, ragged) if len(part)] or [whole], ignore_index=True)
        found = found.sort_values("row", kind="stable", ignore_index=True)
        if self.source.lines is not None and len(found):
            lines = self.source.lines(found["row"].to_numpy(dtype=np.int64))
            if lines is not None:
                found.insert(1, "line", lines)
        return found

    def _whole_rows(self) -> pd.DataFrame:
        start = pd.DataFrame({name: pd.Series(dtype=object) for name in _COLUMNS if name != "line"})
        parts = self._parts or [
            start.drop(columns=["row", "action"]).assign(place=np.array([], dtype=np.int64))
        ]
        noted = pd.concat(parts, ignore_index=True)
        places = noted.pop("place").to_numpy(dtype=np.int64)
        noted.insert(0, "row", self.source.rows[places])
        noted["action"] = np.where(self.dropped[places], "row set aside", "value made missing")
        noted.loc[noted["column"] == SWING, "action"] = "value made missing"
        original = self.source.table.take(pa.array(places))
        cells = pd.DataFrame({place: _shown(original.column(place)) for place in range(original.num_columns)})
        cells.columns = self._source_names()
        return pd.concat([noted, cells], axis=1)

    def _source_names(self) -> list[str]:
        return [f"source: {name}" for name in self.source.columns]

    def _ragged_rows(self) -> pd.DataFrame:
        width = len(self.source.columns)
        records = []
        for row in self.source.ragged:
            cells = [*row.cells, *[None] * width][:width]
            records.append(
                [row.row, _WHOLE_ROW, "", row.text, row.reason, row.accepted, "row set aside", *cells]
            )
        names = [*(name for name in _COLUMNS if name != "line"), *self._source_names()]
        return pd.DataFrame(records, columns=pd.Index(names))


def _shown(column: pa.ChunkedArray) -> pd.Series:
    """Give a column with each cell by itself, as text where pandas has no form for what it holds."""
    if pa.types.is_dictionary(column.type):
        column = column.cast(column.type.value_type)
    try:
        return pd.Series(column.to_pandas())
    except (ValueError, OverflowError, pa.ArrowException):  # days of years that no calendar here has, say
        cells = source_cells("", column)
        return pd.Series(np.array([*cells.texts[:-1], None], dtype=object)[cells.codes])


def _short(value: str) -> str:
    return value if len(value) <= 40 else value[:37] + "..."
