"""Cells of a source before they are judged: filled down, slips mended.

Each of it is done only where the mapping says so; what would help besides is proposed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
import pandas as pd

from hitlab.pitches.cells import Cells, source_cells
from hitlab.pitches.filling import fill, half_empty
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping as Rules
from hitlab.pitches.origin import Source
from hitlab.pitches.report import HALF_EMPTY
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.slips import Became, mended_split, mended_words

__all__ = ["Prepared", "Whole"]


@dataclass(frozen=True, slots=True)
class Whole:
    """What the whole of a source tells, of which a piece is read by itself.

    Attributes
    ----------
    times
        Place of a column -> its texts, and the rows of each in the whole.
    decimals
        Place of a column in another unit -> decimals that its numbers usually have.
    numeric
        Name of a column carried along -> whether every filled cell of it is a number.
    """

    times: Mapping[int, Mapping[str, int]] = field(default_factory=dict)
    decimals: Mapping[int, int] = field(default_factory=dict)
    numeric: Mapping[str, bool] = field(default_factory=dict)

    def put_into(self, cells: Cells, place: int) -> Cells:
        """Give the cells of a piece with what the whole tells of their column."""
        if place in self.times:
            cells = cells.of_whole(self.times[place])
        return replace(cells, decimals=self.decimals[place]) if place in self.decimals else cells


class Prepared:
    """The cells of a source as they are judged.

    Attributes
    ----------
    said
        Sentences about what was done.
    alerts
        What the mapping asks for and was not possible.
    half_empty
        Sentences about columns that are blank in most rows.
    fillable
        Columns of ours that could be filled down.
    """

    def __init__(
        self,
        origin: Source,
        headings: Headings,
        rules: Rules,
        most_empty: float = HALF_EMPTY,
        whole: Whole | None = None,
    ) -> None:
        self.origin = origin
        self.headings = headings
        self.rules = rules
        self.whole = whole or Whole()
        self.said: list[str] = []
        self.alerts: list[str] = []
        self._cells: dict[int, Cells] = {}
        self._became: dict[int, tuple[Cells, Became]] = {}
        if rules.fill_down or origin.merged:
            filled, self.said, self.alerts = fill(origin, headings, rules, self.at)
            self._cells |= filled
        self.fillable, self.half_empty = half_empty(origin, headings, rules, self.at, most_empty)
        if rules.mend_slips:
            self._mend()

    def at(self, place: int) -> Cells:
        """Cells of a column by its place."""
        if place not in self._cells:
            cells = source_cells(self.origin.columns[place], self.origin.table.column(place))
            self._cells[place] = self.whole.put_into(cells, place)
        return self._cells[place]

    def _mend(self) -> None:
        by_place: dict[int, list[str]] = {}
        for target, place in self.headings.columns.items():
            by_place.setdefault(place, []).append(target)
        for place, targets in by_place.items():
            if all(target in COLUMNS for target in targets):
                before = self.at(place)
                self._note(place, before, *mended_words(targets, before, self.rules, self.headings.told))
        for place, split in self.headings.split.items():
            before = self.at(place)
            self._note(place, before, *mended_split(before, split, self.rules))

    def _note(self, place: int, before: Cells, after: Cells, became: Became) -> None:
        if became:
            self._cells[place] = after
            self._became[place] = (before, became)

    def mended(self) -> pd.DataFrame:
        """Every slip that was mended: the source's row, its column, the cell and what it was taken for."""
        rows, columns, values, others = [], [], [], []
        for place, (before, became) in self._became.items():
            at = np.flatnonzero(np.isin(before.codes, list(became)))
            codes = before.codes[at].tolist()
            rows += self.origin.rows[at].tolist()
            columns += [self.headings.names[place]] * len(at)
            values += [before.texts[code] for code in codes]
            others += [became[code] for code in codes]
        found = pd.DataFrame({"row": rows, "source_column": columns, "value": values, "read_as": others})
        return found.astype({"row": np.int64}).sort_values("row", kind="stable", ignore_index=True)
