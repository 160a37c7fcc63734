"""Columns that are written once for several rows, filled where the mapping says so.

A hitter's name stands in the first row of a plate appearance, the inning in its first row, and the cells
below are left blank. Filled in silence a blank that was forgotten would become somebody's pitch; so it is
proposed, and done where the mapping names the column. Never beyond the end of a sheet, a file or a game.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from hitlab.pitches.cells import Cells, judge, spanned, split_cells
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping, fold
from hitlab.pitches.origin import Source
from hitlab.pitches.schema import FILLABLE, GAME_PARTS

__all__ = [
    "changes",
    "falls_back",
    "fill",
    "fill_merged",
    "half_empty",
    "innings_of",
    "part_of_games",
    "place_of",
    "starts",
]

_BEFORE = ("date", "game")  # filled first, for nothing is filled beyond them

At = Callable[[int], Cells]
"""Cells of a column by its place."""


def fill(
    origin: Source, headings: Headings, mapping: Mapping, at: At
) -> tuple[dict[int, Cells], list[str], list[str]]:
    """Fill the columns that the mapping says are filled down.

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

    Returns
    -------
    tuple
        The columns by their places, sentences about what was filled, and about what could not be.
    """
    filled, said, alerts = fill_merged(origin, headings, mapping, at)
    down: set[int] = set()

    def now(place: int) -> Cells:
        return filled[place] if place in filled else at(place)

    border = starts(origin)
    for target in sorted(mapping.fill_down, key=lambda name: name not in _BEFORE):
        places = _filling(target, headings, mapping)
        if not places:
            alerts.append(f"fill_down names {target}, which no column here fills.")
            continue
        left = [place for place in places if place not in down]
        if not left:
            continue
        if target not in _BEFORE:
            border = _borders(origin, headings, mapping, now)
        edges, day = border, place_of("date", headings)
        if target == "game" and day is not None and day not in left:  # the opponent of a day is that day's
            edges = border | changes(now(day), border)
        times = 0
        for place in left:
            down.add(place)
            cells = now(place)
            codes = _down(cells, edges)
            filled[place] = replace(cells, codes=codes)
            if some := int((codes != cells.codes).sum()):
                times += some
                said.append(
                    f"{headings.names[place]}: {some:,} blank cell(s) were given what stands above them, as "
                    "the mapping says (fill_down)."
                )
        if not times:
            alerts.append(f"fill_down names {target}, and no blank cell of it has one above to take.")
    return filled, said, alerts


def _filling(target: str, headings: Headings, mapping: Mapping) -> list[int]:
    """Places of the columns that fill one of ours; a game those of which [games] makes it."""
    place = place_of(target, headings)
    if place is None and target == "game":
        parts = [part_of_games(name, headings) for name in mapping.games]
        return [part for part in parts if isinstance(part, int)]
    return [] if place is None else [place]


def fill_merged(
    origin: Source, headings: Headings, mapping: Mapping, at: At
) -> tuple[dict[int, Cells], list[str], list[str]]:
    """Give each row of a merged cell what stands in it, where a column may be filled down at all.

    Over several pitches people merge what is written once for them. An outcome or a result that a merged cell
    spans came once.

    Parameters
    ----------
    origin, headings, mapping, at
        As for :func:`fill`.

    Returns
    -------
    tuple
        As of :func:`fill`.
    """
    filled: dict[int, Cells] = {}
    said: list[str] = []
    alerts: list[str] = []
    spans: dict[int, list[tuple[int, int]]] = {}
    for place, first, last in origin.merged:
        spans.setdefault(place, []).append((first, last))
    for place, here in sorted(spans.items()):
        ours = [name for name, one in headings.columns.items() if one == place and name not in headings.told]
        ours += headings.split[place].into if place in headings.split else ()
        of_games = place in [part_of_games(name, headings) for name in mapping.games]
        if of_games or (ours and set(ours) <= set(FILLABLE)):
            filled[place] = spanned(at(place), origin.rows, here)
            said.append(
                f"{headings.names[place]}: {len(here):,} merged cell(s): each of the rows that one spans has "
                "what stands in it."
            )
        elif ours or place in headings.keep.values():
            alerts.append(
                f"{headings.names[place]}: {len(here):,} merged cell(s), the first at "
                f"{origin.row_name(here[0][0])}: what stands in one is of its first row alone, for this "
                "column is none that is written once for several pitches."
            )
    return filled, said, alerts


def _borders(origin: Source, headings: Headings, mapping: Mapping, at: At) -> np.ndarray:
    """Rows at which a part or a game begins."""
    border = starts(origin)
    edges = border.copy()
    parts = [part_of_games(name, headings) for name in mapping.games]
    for place in {*(place_of(target, headings) for target in _BEFORE), *parts}:
        if isinstance(place, int):
            edges |= changes(at(place), border)
    if "inning" in parts:
        innings = innings_of(headings, mapping, at)
        if innings is not None:
            edges |= falls_back(innings, edges)
    return edges


def place_of(target: str, headings: Headings) -> int | None:
    """Place of the column that fills one of ours; of a cell that is taken apart, too."""
    if target in headings.columns:
        return headings.columns[target]
    return next((place for place, split in headings.split.items() if target in split.into), None)


def part_of_games(name: str, headings: Headings) -> str | int | None:
    """Say what a name in ``[games] from`` stands for.

    Parameters
    ----------
    name
        One of :data:`~hitlab.pitches.schema.GAME_PARTS`, or a column of the source.
    headings
        Which of its columns fills which of ours: the column of the inning stands for the inning.

    Returns
    -------
    str, int or None
        One of those words, the place of a column, or None where there is no such column, or several.
    """
    if fold(name) in GAME_PARTS:
        return fold(name)
    same = [place for place, one in enumerate(headings.names) if fold(one) == fold(name)]
    if len(same) != 1:
        return None
    return next((one for one in ("date", "inning") if place_of(one, headings) == same[0]), same[0])


def innings_of(headings: Headings, mapping: Mapping, at: At) -> np.ndarray | None:
    """Give the inning of each row as it is judged, NaN where there is none; None without such a column.

    Parameters
    ----------
    headings, mapping, at
        As for :func:`fill`.
    """
    place = place_of("inning", headings)
    if place is None:
        return None
    cells = at(place)
    if place in headings.split:
        split = headings.split[place]
        cells = split_cells(cells, split)[0][split.into.index("inning")]
    return np.asarray(judge("inning", cells, mapping).series().to_numpy(dtype=np.float64, na_value=np.nan))


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


def falls_back(innings: np.ndarray, border: np.ndarray) -> np.ndarray:
    """For each row whether the inning falls back to the first, after a later one in the same stretch.

    Where it is not known, it is that of the row above.
    """
    settled = ~np.isnan(innings) | border
    inning = innings[np.maximum.accumulate(np.where(settled, np.arange(len(settled)), 0))]
    back = np.zeros(len(inning), dtype=bool)
    back[1:] = (inning[1:] == 1) & (inning[:-1] > 1) & ~border[1:]
    return back


def half_empty(
    origin: Source, headings: Headings, mapping: Mapping, at: At, most_empty: float
) -> tuple[list[str], list[str]]:
    """Find columns that should say something on every pitch and are blank in most rows.

    Parameters
    ----------
    origin, headings, mapping, at
        As for :func:`fill`; the cells as they are after filling.
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
        cells = at(place)
        blanks_here = sum(
            many
            for text, many in zip(cells.texts, cells.here.tolist(), strict=True)
            if many and not text.strip()
        )
        if blanks_here in (0, len(cells.codes)):
            continue
        blank = _blank(cells)
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
