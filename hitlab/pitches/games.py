"""Which game a pitch belongs to, where no column says it: by date, opponent, sheet and order.

Two games of one day are one where only the date tells them. So what makes a game is said in the mapping;
here it is proposed and done.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence

import numpy as np
import pandas as pd
from rapidfuzz import fuzz

from hitlab.errors import ReadingError
from hitlab.pitches.cells import Cells
from hitlab.pitches.filling import falls_back, place_of, starts
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping, fold, nearest
from hitlab.pitches.origin import Source

__all__ = ["games_of", "line_of", "proposed_games"]

_OWN = ("date", "file", "sheet", "inning")
_OPPONENT = ("opponent", "opponents", "opp", "versus", "vs", "against")
_MOST_A_DAY = 3
"""Games of one day beyond which the inning falls back for another reason (a default): the rows are not in the
order of play."""


def games_of(
    origin: Source,
    headings: Headings,
    mapping: Mapping,
    at: Callable[[int], Cells],
    dates: pd.Series | None,
) -> tuple[pd.Series, list[str]]:
    """Name the game of each row by what the mapping says makes one.

    Parameters
    ----------
    origin, headings, mapping
        The source and how it is read; ``games`` of the mapping are the parts.
    at
        Cells of a column by its place, filled down where the mapping says so.
    dates
        Days that were read, one a row.

    Returns
    -------
    tuple
        The games (missing where a part of the name is), and sentences.

    Raises
    ------
    ReadingError
        For a part that is not there, a game column beside it, or innings that are not in order.
    """
    where = f"In {mapping.name}, [games] from"
    if "game" in headings.targets:
        raise ReadingError(
            f"{where}: a column fills game already ({headings.source_of('game')!r}). Take one of them out."
        )
    pieces: list[np.ndarray] = []
    missing = np.zeros(origin.table.num_rows, dtype=bool)
    for name in mapping.games:
        if name == "inning":
            continue
        texts = _texts(name, origin, headings, at, dates, where)
        missing |= texts == ""
        pieces.append(texts)
    label = np.full(origin.table.num_rows, "", dtype=object)
    for texts in pieces:
        label = np.where(label == "", texts, label + " " + texts)
    said = []
    if "inning" in mapping.games:
        place = place_of("inning", headings)
        if place is None:
            raise ReadingError(f'{where}: "inning" is named, and no column fills inning.')
        label, several = _numbered(label, at(place), origin, where)
        if several:
            said.append(f"The inning falls back to the first within {several}: two games or more.")
    label[missing] = ""
    if missing.any():
        said.append(f"{int(missing.sum()):,} row(s) have no game, for a part of its name is not there.")
    number = len(set(label[~missing]))
    said.append(f"{number:,} game(s) were told apart by {' and '.join(mapping.games)}, as the mapping says.")
    return pd.Series(label, dtype=object).mask(missing, None), said


def _texts(
    name: str,
    origin: Source,
    headings: Headings,
    at: Callable[[int], Cells],
    dates: pd.Series | None,
    where: str,
) -> np.ndarray:
    if name == "date":
        if dates is None:
            raise ReadingError(f'{where}: "date" is named, and no column fills date.')
        days = pd.to_datetime(dates).dt.strftime("%Y-%m-%d")
        return days.fillna("").to_numpy(dtype=object)
    if name in ("sheet", "file"):
        if not origin.parts:
            return np.full(origin.table.num_rows, origin.name, dtype=object)
        told = np.array([part.name if name == "sheet" else part.file for part in origin.parts], dtype=object)
        return np.asarray(told[origin.part_of(origin.rows)])
    same = [place for place, one in enumerate(headings.names) if fold(one) == fold(name)]
    if len(same) != 1:
        near = nearest(name, (*headings.names, *_OWN))
        hint = f" Nearest: {near!r}." if near else ""
        raise ReadingError(
            f"{where}: {name!r} is neither one of {', '.join(_OWN)} nor a column of {origin.name}.{hint}"
        )
    cells = at(same[0])
    return np.asarray(np.array([text.strip() for text in cells.texts], dtype=object)[cells.codes])


def _numbered(label: np.ndarray, inning: Cells, origin: Source, where: str) -> tuple[np.ndarray, str]:
    """Add the number of the game where the inning falls back within one label."""
    codes, names = pd.factorize(label)
    number = np.zeros(len(label), dtype=np.int64)
    border = starts(origin)
    for code in range(len(names)):  # rows of one label, in their order, also where others stand between
        here = np.flatnonzero(codes == code)
        part = Cells(inning.codes[here], inning.texts)
        first = border[here].copy()
        first[:1] = True
        number[here] = np.cumsum(falls_back(part, first))
    games = np.zeros(len(names), dtype=np.int64)
    np.maximum.at(games, codes, number + 1)
    if games.max(initial=0) > _MOST_A_DAY:
        worst = names[int(games.argmax())]
        raise ReadingError(
            f'{where}: "inning" is named, and the inning falls back to the first {int(games.max()) - 1:,} '
            "times "
            f"within {worst!r}. The rows are not in the order of play; put them in it, or fill a column that "
            "names the game."
        )
    several = [str(names[code]) for code in np.flatnonzero(games > 1)]
    more = np.array([f", game {one + 1}" for one in range(_MOST_A_DAY)], dtype=object)[number]
    told = ", ".join(repr(one) for one in several[:3]) + (", ..." if several[3:] else "")
    return np.where(games[codes] > 1, label + more, label), told


def proposed_games(
    origin: Source, headings: Headings, mapping: Mapping, at: Callable[[int], Cells]
) -> tuple[list[str], str]:
    """Propose what makes a game, where nothing says it.

    Parameters
    ----------
    origin, headings, mapping, at
        As for :func:`games_of`.

    Returns
    -------
    tuple
        What a line ``from = [...]`` would name (nothing where nothing is proposed), and why.
    """
    place = place_of("date", headings)
    if place is None or "game" in headings.targets or mapping.games:
        return [], ""
    parts, why = ["date"], ["no column names the game"]
    opponent = next((name for name in headings.names if _is_opponent(name)), None)
    if opponent is not None:
        parts.append(opponent)
    inning = place_of("inning", headings)
    border = starts(origin)
    edges = border | _changed([at(place)], border)
    if inning is not None:
        back = np.flatnonzero(falls_back(at(inning), edges))
        if back.size:
            parts.append("inning")
            first = origin.row_name(int(origin.rows[back[0]]))
            why.append(
                f"the inning falls back to the first {len(back):,} time(s) within a date, first at {first}: "
                "two "
                "games of one day, or rows that are not in the order of play"
            )
    if _shared(at(place), origin):
        why.append(
            'a date stands in several sheets or files: name "sheet" as well if each of them is a game of '
            "its own"
        )
    return parts, "; ".join(why)


def _is_opponent(name: str) -> bool:
    plain = fold(name).strip(" .:")
    return plain in _OPPONENT or fuzz.ratio(plain, "opponent") > 85


def _changed(columns: Sequence[Cells], border: np.ndarray) -> np.ndarray:
    from hitlab.pitches.filling import changes

    changed = np.zeros(len(border), dtype=bool)
    for cells in columns:
        changed |= changes(cells, border)
    return changed


def _shared(cells: Cells, origin: Source) -> bool:
    if len(origin.parts) < 2:
        return False
    part = origin.part_of(origin.rows)
    pairs = pd.DataFrame({"part": part, "day": cells.codes}).drop_duplicates()
    filled = pairs["day"].map(lambda code: cells.texts[code].strip() != "")
    return bool(pairs[filled]["day"].duplicated().any())


def line_of(parts: Sequence[str]) -> str:
    """Write the line of a mapping that names the parts of a game."""
    return f"[games] from = {json.dumps(list(parts), ensure_ascii=False)}"
