"""Columns that are written once for several rows, filled where the mapping says so.

A hitter's name stands in the first row of a plate appearance, the inning in its first row, and the cells
below are left blank. Filled in silence a blank that was forgotten would become somebody's pitch; so it is
proposed, and done where the mapping names the column. Never beyond the end of a sheet, a file or a game.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hitlab.pitches.cells import Cells
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.origin import Source

__all__ = ["FILLABLE", "HALF_EMPTY", "Filling", "half_empty"]

FILLABLE = (
    *("game", "date", "hitter", "hitter_id", "club", "pitcher", "pitcher_id", "hitter_side", "pitcher_hand"),
    *("plate_appearance", "inning", "half", "outs", "level"),
)
"""Columns of ours that have something to say on every pitch, and that people write once."""

HALF_EMPTY = 0.5
"""Share of blanks above which such a column is said to be half empty (a default)."""

_BEFORE = ("date", "game")  # filled first, for nothing is filled beyond them


@dataclass(slots=True)
class Filling:
    """Fills the columns of one source.

    Attributes
    ----------
    said
        Sentences about what was filled.
    alerts
        Sentences about what the mapping asks for and was not possible.
    """

    said: list[str]
    alerts: list[str]

    def fill(
        self, origin: Source, headings: Headings, mapping: Mapping, at: Callable[[int], Cells]
    ) -> dict[int, Cells]:
        """Give the columns that the mapping says are filled down, by their places.

        Parameters
        ----------
        origin
            The source.
        headings
            Which of its columns fills which of ours.
        mapping
            Its ``fill_down`` names ours.
        at
            Cells of a column by its place.
        """
        filled: dict[int, Cells] = {}
        border = starts(origin)
        for target in sorted(mapping.fill_down, key=lambda name: name not in _BEFORE):
            place = place_of(target, headings)
            if place is None:
                self.alerts.append(f"fill_down names {target}, which no column here fills.")
                continue
            if place in filled:
                continue
            if target not in _BEFORE:
                border = self._borders(origin, headings, mapping, at, filled)
            cells = at(place)
            codes = _down(cells, border)
            times = int((codes != cells.codes).sum())
            if times:
                self.said.append(
                    f"{headings.names[place]}: {times:,} blank cell(s) were given what stands above them, "
                    "as the "
                    "mapping says (fill_down)."
                )
            else:
                self.alerts.append(
                    f"fill_down names {target}, and no blank cell of it has one above to take."
                )
            filled[place] = replace(cells, codes=codes)
        return filled

    def _borders(
        self,
        origin: Source,
        headings: Headings,
        mapping: Mapping,
        at: Callable[[int], Cells],
        filled: dict[int, Cells],
    ) -> np.ndarray:
        """Rows at which a part or a game begins."""
        border = starts(origin)
        edges = border.copy()
        for target in _BEFORE:
            place = place_of(target, headings)
            if place is not None:
                edges |= changes(filled.get(place) or at(place), border)
        if "inning" in mapping.games:
            place = place_of("inning", headings)
            if place is not None:
                edges |= falls_back(at(place), edges)
        return edges


def place_of(target: str, headings: Headings) -> int | None:
    """Place of the column that fills one of ours; of a cell that is taken apart, too."""
    if target in headings.columns:
        return headings.columns[target]
    return next((place for place, split in headings.split.items() if target in split.into), None)


def starts(origin: Source) -> np.ndarray:
    """For each row whether a file or a sheet begins with it."""
    first = np.zeros(origin.table.num_rows, dtype=bool)
    first[:1] = True
    if origin.parts:
        part = origin.part_of(origin.rows)
        first[1:] = part[1:] != part[:-1]
    return first


def _blank(cells: Cells) -> np.ndarray:
    empty = np.array([text.strip() == "" for text in cells.texts], dtype=bool)
    blank: np.ndarray = empty[cells.codes]
    return blank


def _down(cells: Cells, border: np.ndarray) -> np.ndarray:
    """Codes in which each blank has that of the last filled cell above it, down to the next border."""
    settled = ~_blank(cells) | border
    last = np.maximum.accumulate(np.where(settled, np.arange(len(settled)), 0))
    codes: np.ndarray = cells.codes[last]
    return codes


def changes(cells: Cells, border: np.ndarray) -> np.ndarray:
    """For each row whether something else stands in it than in the last filled cell above."""
    codes = _down(cells, border)
    blank = np.array([text.strip() == "" for text in cells.texts], dtype=bool)[codes]
    changed = np.zeros(len(codes), dtype=bool)
    changed[1:] = (codes[1:] != codes[:-1]) & ~blank[1:] & ~blank[:-1]
    return changed


def falls_back(cells: Cells, border: np.ndarray) -> np.ndarray:
    """For each row whether the inning falls back to the first, after a later one in the same stretch."""
    numbers = np.array([_whole(text) for text in cells.texts], dtype=np.float64)
    inning = numbers[_down(cells, border)]
    back = np.zeros(len(inning), dtype=bool)
    back[1:] = (inning[1:] == 1) & (inning[:-1] > 1) & ~border[1:]
    return back


def _whole(text: str) -> float:
    plain = text.strip()
    return float(plain) if plain.isascii() and plain.isdecimal() and len(plain) < 4 else np.nan


def half_empty(
    origin: Source, headings: Headings, mapping: Mapping, at: Callable[[int], Cells], most_empty: float
) -> tuple[list[str], list[str]]:
    """Find columns that should say something on every pitch and are blank in most rows.

    Parameters
    ----------
    origin, headings, mapping, at
        As for :meth:`Filling.fill`; the cells as they are after filling.
    most_empty
        Share of blanks above which it is said.

    Returns
    -------
    tuple
        Columns of ours that can be filled down, and a sentence for each column.
    """
    found, said = [], []
    border = starts(origin)
    for target in FILLABLE:
        place = headings.columns.get(target)
        if place is None:
            continue
        blank = _blank(at(place))
        if not blank.any() or blank.all():
            continue
        part = np.cumsum(border) - 1
        blanks, rows = np.bincount(part, weights=blank), np.bincount(part)
        # By the part: one assistant writes a name once, and the other on every pitch.
        many = (blanks > most_empty * rows) & (blanks < rows)
        if not many.any():
            continue
        sentence = f"{target} is blank in {int(blanks[many].sum()):,} of {int(rows[many].sum()):,} rows"
        if origin.parts:
            names = [part.name for part, one in zip(origin.parts, many, strict=True) if one]
            sentence += f" of {', '.join(names[:3])}{', ...' if names[3:] else ''}"
        if target not in mapping.fill_down and not blank[border & many[part]].all():
            found.append(target)
            sentence += ", below cells that are filled"
        said.append(sentence)
    return found, said
