"""Collects what could not be used, cell by cell, without losing anything of the source."""

from __future__ import annotations

from collections import Counter
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
        self._parts: list[dict[str, np.ndarray]] = []

    def cells(self, judged: Judged, whole_row: bool) -> None:
        """Note the bad cells of one column."""
        if not judged.wrong.any():
            return
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
        accepted = [
            f"each pitch once; the first is {self.source.row_name(int(row))}"
            for row in self.source.rows[firsts]
        ]
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
        def each(told: Any) -> np.ndarray:
            return (
                np.full(len(places), told, dtype=object)
                if isinstance(told, str)
                else np.asarray(told, object)
            )

        self._parts.append(
            {
                "place": places,
                "column": each(column),
                "source_column": each(
                    self.headings.source_of(column) if source_column is None else source_column
                ),
                "value": each(values),
                "reason": each(reasons),
                "accepted": each(accepted),
            }
        )

    def counted(self, set_aside: pd.DataFrame) -> dict[str, int]:
        """Count ``column: reason``, the most frequent first."""
        return dict(Counter(_named(set_aside)).most_common())

    def decisive(self, set_aside: pd.DataFrame) -> np.ndarray:
        """Say for each line whether it alone would set its row aside."""
        decisive = {*NEEDED, *KEY, _WHOLE_ROW}
        named = [not decisive.isdisjoint(column.split(", ")) for column in set_aside["column"].astype(str)]
        return np.array(named, dtype=bool)

    def examples(self, set_aside: pd.DataFrame) -> dict[str, str]:
        """Give for each ``column: reason`` its most frequent values, and what would mend the first."""
        seen: dict[str, Counter[str]] = {}
        mends: dict[tuple[str, str], Any] = {}
        rows = zip(
            _named(set_aside),
            set_aside["value"].astype(str).tolist(),
            set_aside["accepted"].tolist(),
            strict=True,
        )
        for reason, value, accepted in rows:
            if value:
                seen.setdefault(reason, Counter())[value] += 1
                mends.setdefault((reason, value), accepted)
        found = {}
        for reason, values in seen.items():
            often = [value for value, _ in values.most_common(_EXAMPLES)]
            more = ", ..." if len(values) > _EXAMPLES else ""
            shown = ", ".join(repr(_short(value)) for value in often)
            found[reason] = f"{shown}{more}; accepted: {mends[reason, often[0]]}"
        return found

    def frame(self) -> pd.DataFrame:
        """Everything noted, in the order of the source's rows, with the source's own cells."""
        parts = [self._whole_rows(), *([self._ragged_rows()] if self.source.ragged else [])]
        found = pd.concat([part for part in parts if len(part)] or parts[:1], ignore_index=True)
        found = found.sort_values("row", kind="stable", ignore_index=True)
        if self.source.lines is not None and len(found):
            lines = self.source.lines(found["row"].to_numpy(dtype=np.int64))
            if lines is not None:
                found.insert(1, "line", lines)
        return found

    def _whole_rows(self) -> pd.DataFrame:
        names = [*(name for name in _COLUMNS if name != "line"), *self._source_names()]
        if not self._parts:
            nothing = pd.DataFrame(np.empty((0, len(names)), dtype=object), columns=pd.Index(names))
            nothing["row"] = np.zeros(0, dtype=np.int64)
            return nothing
        noted = {name: np.concatenate([part[name] for part in self._parts]) for name in self._parts[0]}
        places = noted["place"].astype(np.int64)
        action = np.where(self.dropped[places], "row set aside", "value made missing").astype(object)
        action[noted["column"] == SWING] = "value made missing"
        noted |= {"row": self.source.rows[places], "action": action}
        original = self.source.cells_of(places)
        cells = [_shown(original.column(place)).array for place in range(original.num_columns)]
        # By their places: a file may have two columns of one name.
        whole = pd.DataFrame(dict(enumerate([*(noted[name] for name in names[: -len(cells)]), *cells])))
        return whole.set_axis(names, axis=1)

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


def _named(set_aside: pd.DataFrame) -> list[str]:
    """``column: reason`` of each line."""
    columns, reasons = set_aside["column"].tolist(), set_aside["reason"].tolist()
    return [f"{column}: {reason}" for column, reason in zip(columns, reasons, strict=True)]


def _short(value: str) -> str:
    return value if len(value) <= 40 else value[:37] + "..."
