"""Balls and strikes told from the order of the pitches in a plate appearance.

The count moves by the Official Baseball Rules' definitions of ball and strike: a foul is a
strike unless there are two already, a foul tip is always one, and automatic balls and strikes
count although nothing was thrown.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError
from hitlab.pitches.coded import Coded, in_order_of_rows, texts_of
from hitlab.pitches.schema import BALL_OUTCOMES, ENDING_OUTCOMES, KEY, STRIKE_OUTCOMES

__all__ = [
    "KeyOrder",
    "Tally",
    "has_whole_key",
    "in_appearance",
    "key_order",
    "rebuild",
    "rebuild_count",
    "tallied",
]


@dataclass(frozen=True, eq=False)
class KeyOrder:
    """The pitches that have their whole key, in the order of the key.

    Attributes
    ----------
    places
        Places in the table (from 0), ordered by game, plate appearance and pitch.
    first, last
        For each of ``places``: whether it is its plate appearance's first, last pitch here.
    pitch
        Its number in the plate appearance.
    appearance
        Number (from 0) of the plate appearance it belongs to.
    game
        Number (from 0) of its game.
    """

    places: np.ndarray
    first: np.ndarray
    last: np.ndarray
    pitch: np.ndarray
    appearance: np.ndarray
    game: np.ndarray

    def of(self, values: np.ndarray) -> np.ndarray:
        """Put values of the table's rows in this order; the same array where it is that of the table."""
        return values if self._is_of_rows and len(values) == len(self.places) else values[self.places]

    @cached_property
    def _is_of_rows(self) -> bool:
        return bool((self.places == np.arange(len(self.places))).all())


def key_order(frame: pd.DataFrame) -> KeyOrder | None:
    """Order the pitches by their key; None where a key column is absent or no row has all three."""
    if any(name not in frame for name in KEY):
        return None
    places = np.flatnonzero(has_whole_key(frame))
    if not places.size:
        return None
    game, number, pitch = keys_at(frame, places)
    order = np.arange(len(places))
    if not ascending(game, number, pitch):
        order = np.lexsort((pitch, number, game))
        game, number, pitch = game[order], number[order], pitch[order]
    first = np.ones(len(order), dtype=bool)
    first[1:] = (game[1:] != game[:-1]) | (number[1:] != number[:-1])
    last = np.append(first[1:], True)
    return KeyOrder(places[order], first, last, pitch, np.cumsum(first) - 1, game)


def keys_at(frame: pd.DataFrame, places: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Give games, in the order in which they come, plate appearances and pitches of rows with a whole key.

    Parameters
    ----------
    frame
        The rows.
    places
        Places of those with a whole key, ascending.
    """
    codes, games = texts_of(frame["game"])
    if len(places) == len(frame):
        number, pitch = (frame[name].to_numpy(dtype=np.int64) for name in KEY[1:])
        return codes, number, pitch
    number, pitch = (frame[name].iloc[places].to_numpy(dtype=np.int64) for name in KEY[1:])
    return in_order_of_rows(codes[places], len(games))[0], number, pitch


def ascending(game: np.ndarray, number: np.ndarray, pitch: np.ndarray, *, strictly: bool = False) -> bool:
    """Say whether pitches stand in the order of their key, as most files have them: sorting takes longer.

    Parameters
    ----------
    game, number, pitch
        The key.
    strictly
        Whether two of one key are out of order.
    """
    later = pitch[1:] > pitch[:-1] if strictly else pitch[1:] >= pitch[:-1]
    later = (number[1:] > number[:-1]) | ((number[1:] == number[:-1]) & later)
    return bool(((game[1:] > game[:-1]) | ((game[1:] == game[:-1]) & later)).all())


def has_whole_key(frame: pd.DataFrame) -> np.ndarray:
    """Tell for each row whether it has a game, a plate appearance and a pitch."""
    there = frame["game"].notna() & frame["plate_appearance"].notna() & frame["pitch"].notna()
    return np.asarray(there.to_numpy(dtype=bool))


def rebuild_count(table: Any) -> Any:
    """Rebuild balls and strikes before each pitch from the order of the pitches.

    Parameters
    ----------
    table
        A pitch table that :func:`hitlab.read_pitches` has checked (or one with the table's own
        names and words), of any kind that it takes; ``game``, ``plate_appearance``, ``pitch`` and
        ``outcome`` are needed.

    Returns
    -------
    Any
        The same kind of table with the columns ``balls`` (0-3) and ``strikes`` (0-2) replaced or
        added. They are missing where a pitch of the plate appearance is missing from the table,
        where a pitch follows the end of the plate appearance, and where the key is not whole. A lazy
        table (DuckDB, lazy Polars, Dask, Spark) is not collected: its engine does this when it is asked for,
        and what has no order of rows gives them in any.

    Raises
    ------
    ReadingError
        Where a needed column is absent, or no row in memory has its whole key.

    Examples
    --------
    >>> pitches = pd.DataFrame(
    ...     {"game": "g1", "plate_appearance": 1, "pitch": [1, 2, 3], "hitter": "Ada Velm"}
    ...     | {"outcome": ["whiff", "ball", "foul"]}
    ... )
    >>> print(rebuild_count(pitches)[["balls", "strikes", "outcome"]].to_string(index=False))
     balls  strikes outcome
         0        0   whiff
         0        1    ball
         1        1    foul
    """
    import narwhals as nw

    from hitlab.pitches.in_order import by_games, has_order, is_dask, rebuilt_beside
    from hitlab.pitches.sources import checked_to_pandas

    if is_dask(table):
        _demand_key(list(table.columns))
        meta = table._meta.assign(balls=_none_of(table._meta), strikes=_none_of(table._meta))
        return by_games(table, _rebuilt_in, meta)
    lazy = nw.from_native(table, pass_through=True)
    if has_order(lazy):
        _demand_key(lazy.collect_schema().names())
        return rebuilt_beside(lazy).to_native()
    frame, give_back = checked_to_pandas(table)
    _demand_key(list(frame.columns))
    balls, strikes, _ = rebuild(frame)
    frame["balls"], frame["strikes"] = balls, strikes
    return give_back(frame)


def _demand_key(columns: list[str]) -> None:
    absent = [name for name in (*KEY, "outcome") if name not in columns]
    if absent:
        raise ReadingError(
            f"The count cannot be rebuilt: the table has no column {', '.join(absent)}. "
            f"Needed: {', '.join(KEY)}, outcome."
        )


def _none_of(frame: pd.DataFrame) -> pd.Series:
    return pd.Series(pd.NA, index=frame.index, dtype="Int64")


def _rebuilt_in(part: pd.DataFrame) -> pd.DataFrame:
    """Rebuild the count of a partition that holds whole games, and may hold none."""
    if not has_whole_key(part).any():
        return part.assign(balls=_none_of(part), strikes=_none_of(part))
    return pd.DataFrame(rebuild_count(part))


def rebuild(frame: pd.DataFrame, order: KeyOrder | None = None) -> tuple[pd.Series, pd.Series, list[str]]:
    """Balls and strikes before each pitch, and the sentences to be said about them.

    Raises
    ------
    ReadingError
        Where no row has its whole key.
    """
    order = key_order(frame) if order is None else order
    if order is None:
        raise ReadingError(
            "The count cannot be rebuilt from the order of the pitches: no row has a game, a "
            f"plate_appearance and a pitch. Map columns to {', '.join(KEY)}, or keep the file's own count "
            'with [count] from = "file".'
        )
    tally = tallied(frame, order)
    balls, strikes = tally.balls, tally.strikes
    impossible = ((tally.third | tally.ending) & ~order.last) | (balls > 3)
    broken = in_appearance(impossible, order)
    holed = tally.holed & ~broken
    gone = broken | holed
    said = ["Balls and strikes were rebuilt from the order of the pitches in each plate appearance."]
    for what, why in (
        (broken, "a pitch follows the end of the plate appearance, so its bounds or words are wrong"),
        (holed, "a pitch of the plate appearance is not in the table"),
    ):
        number = len(np.unique(order.appearance[what]))
        if number:
            said.append(f"{number} plate appearance(s) have no count: {why}.")
    if len(order.places) < len(frame):
        said.append(f"{len(frame) - len(order.places)} pitch(es) without a whole key have no count.")
    return _spread(balls, gone, order, frame), _spread(strikes, gone, order, frame), said


@dataclass(frozen=True, eq=False)
class Tally:
    """Balls and strikes by the outcomes alone, one value a pitch in an order.

    Attributes
    ----------
    balls, strikes
        Before the pitch; the strikes two at most.
    ball, strike, foul, ending
        Whether the pitch is one: a strike other than a foul; what ends a plate appearance at any count.
    third
        Whether it is the third strike.
    holed
        Whether a pitch of its plate appearance is not in the table, by their numbers.
    """

    balls: np.ndarray
    strikes: np.ndarray
    ball: np.ndarray
    strike: np.ndarray
    foul: np.ndarray
    ending: np.ndarray
    third: np.ndarray
    holed: np.ndarray


def tallied(frame: pd.DataFrame, order: KeyOrder) -> Tally:
    """Count balls and strikes by the outcomes.

    Parameters
    ----------
    frame
        The table.
    order
        The order of its pitches.
    """
    outcome = Coded(frame, "outcome", order)
    ball, strike, foul, ending = (
        outcome.among(group) for group in (BALL_OUTCOMES, STRIKE_OUTCOMES, ("foul",), ENDING_OUTCOMES)
    )
    # As long as nothing follows a third strike, a foul can be counted like any strike and the
    # sum be held at two.
    strikes = np.minimum(_before(strike | foul, order), 2)
    bunt = np.zeros(len(foul), dtype=bool)
    if "bunt" in frame:
        bunt = frame["bunt"].astype("boolean").fillna(False).to_numpy(dtype=bool)[order.places]
    gap = np.where(order.first, order.pitch != 1, order.pitch != np.append(0, order.pitch[:-1] + 1))
    third = (strikes == 2) & (strike | (foul & bunt))
    return Tally(_before(ball, order), strikes, ball, strike, foul, ending, third, in_appearance(gap, order))


def _before(event: np.ndarray, order: KeyOrder) -> np.ndarray:
    """How many events the plate appearance has had before each pitch."""
    total = np.cumsum(event) - event
    start: np.ndarray = total[order.first][order.appearance]
    return np.asarray(total - start)


def in_appearance(flag: np.ndarray, order: KeyOrder) -> np.ndarray:
    """For each pitch: whether the flag is raised anywhere in its plate appearance."""
    raised = np.zeros(int(order.appearance[-1]) + 1, dtype=bool)
    raised[order.appearance[flag]] = True
    return np.asarray(raised[order.appearance])


def _spread(values: np.ndarray, gone: np.ndarray, order: KeyOrder, frame: pd.DataFrame) -> pd.Series:
    """Put values back in the table's order, as nullable whole numbers."""
    whole = np.zeros(len(frame), dtype=np.int64)
    missing = np.ones(len(frame), dtype=bool)
    whole[order.places] = np.where(gone, 0, values)
    missing[order.places] = gone
    return pd.Series(pd.arrays.IntegerArray(whole, missing), index=frame.index)
