"""Which game a pitch belongs to, where no column says it: by date, opponent, sheet and order.

Two games of one day are one where only the date tells them. So what makes a game is said in the mapping;
here it is proposed and done.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError
from hitlab.pitches.cells import Cells
from hitlab.pitches.filling import changes, falls_back, innings_of, part_of_games, place_of, starts
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping, fold, nearest
from hitlab.pitches.origin import Source
from hitlab.pitches.schema import GAME_PARTS
from hitlab.pitches.wordforms import in_toml, many_rows

__all__ = ["games_of", "labels", "line_of", "proposed_games"]

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
    innings: pd.Series | None,
) -> tuple[pd.Series, list[str], list[str]]:
    """Name the game of each row by what the mapping says makes one.

    Parameters
    ----------
    origin, headings, mapping
        The source and how it is read; ``games`` of the mapping are the parts.
    at
        Cells of a column by its place, filled down where the mapping says so.
    dates, innings
        Days and innings that were read, one a row.

    Returns
    -------
    tuple
        The games (missing where a part of the name is), sentences, and what has to be looked at.

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
    label, missing, blank = labels(origin, headings, mapping, at, dates)
    said, alerts = [], []
    if "inning" in _parts(headings, mapping).values():
        if innings is None:
            raise ReadingError(f'{where}: "inning" is named, and no column fills inning.')
        numbers = innings.to_numpy(dtype=np.float64, na_value=np.nan)
        label, several = _numbered(label, numbers, origin, where)
        if several:
            said.append(f"The inning falls back to the first within {several}: two games or more.")
        label[missing] = ""
    if missing.any():
        alerts.append(
            f"{many_rows(int(missing.sum()))} without a game: {' and '.join(blank)}, of which [games] makes "
            'its name, is blank there. Where it is written once for the rows below: fill_down = ["game"].'
        )
    number = len(set(label[~missing]))
    said.append(f"{number:,} game(s) were told apart by {' and '.join(mapping.games)}, as the mapping says.")
    return pd.Series(label, dtype=object).mask(missing, None), said, alerts


def labels(
    origin: Source,
    headings: Headings,
    mapping: Mapping,
    at: Callable[[int], Cells],
    dates: pd.Series | None,
) -> tuple[np.ndarray, np.ndarray, list[str]]:
    """Name the game of each row but for the inning, which tells several games of one name apart.

    Parameters
    ----------
    origin, headings, mapping, at, dates
        As for :func:`games_of`.

    Returns
    -------
    tuple
        The names, whether a part of one is blank, and the parts that are blank somewhere.
    """
    where = f"In {mapping.name}, [games] from"
    missing = np.zeros(origin.table.num_rows, dtype=bool)
    label = np.full(origin.table.num_rows, "", dtype=object)
    blank = []
    for name, part in _parts(headings, mapping).items():
        if part == "inning":
            continue
        texts = _texts(name, part, origin, headings, at, dates, where)
        if (texts == "").any():
            missing |= texts == ""
            blank.append(name)
        label = np.where(label == "", texts, label + " " + texts)
    label[missing] = ""
    return label, missing, blank


def _parts(headings: Headings, mapping: Mapping) -> dict[str, str | int | None]:
    return {name: part_of_games(name, headings) for name in mapping.games}


def _texts(
    name: str,
    part: str | int | None,
    origin: Source,
    headings: Headings,
    at: Callable[[int], Cells],
    dates: pd.Series | None,
    where: str,
) -> np.ndarray:
    if part == "date":
        if dates is None:
            raise ReadingError(f'{where}: "date" is named, and no column fills date.')
        days = pd.to_datetime(dates).dt.strftime("%Y-%m-%d")
        return days.fillna("").to_numpy(dtype=object)
    if part in ("sheet", "file"):
        if not origin.parts:
            return np.full(origin.table.num_rows, origin.name, dtype=object)
        told = np.array([one.name if part == "sheet" else one.file for one in origin.parts], dtype=object)
        return np.asarray(told[origin.part_of(origin.rows)])
    if not isinstance(part, int):
        near = nearest(name, (*headings.names, *GAME_PARTS))
        hint = f" Nearest: {near!r}." if near else ""
        raise ReadingError(
            f"{where}: {name!r} is neither one of {', '.join(GAME_PARTS)} nor a column of "
            f"{origin.name}.{hint}"
        )
    cells = at(part)
    return np.asarray(np.array([text.strip() for text in cells.texts], dtype=object)[cells.codes])


def _numbered(label: np.ndarray, innings: np.ndarray, origin: Source, where: str) -> tuple[np.ndarray, str]:
    """Add the number of the game where the inning falls back within one label."""
    codes, names = pd.factorize(label)
    number = np.zeros(len(label), dtype=np.int64)
    border = starts(origin)
    for code in range(len(names)):  # rows of one label, in their order, also where others stand between
        here = np.flatnonzero(codes == code)
        first = border[here].copy()
        first[:1] = True
        number[here] = np.cumsum(falls_back(innings[here], first))
    games = np.zeros(len(names), dtype=np.int64)
    np.maximum.at(games, codes, number + 1)
    if games.max(initial=0) > _MOST_A_DAY:
        worst = names[int(games.argmax())]
        raise ReadingError(
            f'{where}: "inning" is named, and the inning falls back to the first {int(games.max()) - 1:,} '
            f"times within {worst!r}. The rows are not in the order of play; put them in it, or fill a "
            "column that names the game."
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
    if "game" in headings.targets or mapping.games:
        return [], ""
    if place is None:
        if len(origin.parts) < 2:
            return [], ""
        part = "sheet" if any(one.sheet for one in origin.parts) else "file"
        return [part], f"no column names the game or the day; if each {part} is a game of its own"
    parts, why = ["date"], ["no column names the game"]
    opponent = next((name for name in headings.names if _is_opponent(name)), None)
    if opponent is not None:
        parts.append(opponent)
    innings = innings_of(headings, mapping, at)
    border = starts(origin)
    edges = border | changes(at(place), border)
    if innings is not None:
        back = np.flatnonzero(falls_back(innings, edges))
        if back.size:
            parts.append("inning")
            first = origin.row_name(int(origin.rows[back[0]]))
            why.append(
                f"the inning falls back to the first {len(back):,} time(s) within a date, first at {first}: "
                "two games of one day, or rows that are not in the order of play"
            )
    if _shared(at(place), origin):
        why.append(
            'a date stands in several sheets or files: name "sheet" as well if each of them is a game of '
            "its own"
        )
    return parts, "; ".join(why)


def _is_opponent(name: str) -> bool:
    from rapidfuzz import fuzz  # at first use: counting needs nothing of it

    plain = fold(name).strip(" .:")
    return plain in _OPPONENT or fuzz.ratio(plain, "opponent") > 85


def _shared(cells: Cells, origin: Source) -> bool:
    if len(origin.parts) < 2:
        return False
    part = origin.part_of(origin.rows)
    pairs = pd.DataFrame({"part": part, "day": cells.codes}).drop_duplicates()
    filled = pairs["day"].map(lambda code: cells.texts[code].strip() != "")
    return bool(pairs[filled]["day"].duplicated().any())


def line_of(parts: Sequence[str]) -> str:
    """Write the line of a mapping, under ``[games]``, that names the parts of a game."""
    return f"from = [{', '.join(map(in_toml, parts))}]"
