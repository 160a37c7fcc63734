"""Numbers that begin with 0 where ours begin with 1: taken one up, game by game, and said.

People and programs count from 0 as readily as from 1. A single 0 among numbers from 1 is a slip, and its row
is set aside like any other; numbers that begin with 0 as a rule are no slips, and to set those aside would
take the first pitch of every plate appearance away.
"""

from __future__ import annotations

from dataclasses import replace
from typing import cast

import numpy as np
import pandas as pd

from hitlab.pitches.cells import Cells, Judged, judge
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.schema import COLUMNS

__all__ = ["number_from_one"]

_AS_A_RULE, _NO_SLIPS = 0.5, 3
"""Of numbers from 0 every plate appearance that has a 1 has a 0, but where pitches were picked, such as
swings alone: there half as many are enough, if they are not so few that they may be slips (defaults)."""


def number_from_one(judged: dict[str, Judged], games: pd.Series | None, mapping: Mapping) -> list[str]:
    """Take numbers of pitches and plate appearances that begin with 0 one up, in the games where they do.

    Parameters
    ----------
    judged
        The columns; those that begin with 0 are put in anew.
    games
        Game of each row, where it is told; else the table counts as one game.
    mapping
        How they were read.

    Returns
    -------
    list of str
        A sentence for each column that was changed.
    """
    said = []
    for name, begins in (("plate_appearance", _appearances_begin), ("pitch", _pitches_begin)):
        if name not in judged:
            continue
        before, own = judged[name], COLUMNS[name]
        lower = replace(own, lowest=0, highest=cast(float, own.highest) - 1)
        from_zero = judge(name, before.cells, mapping, bounds=lower)
        if not (from_zero.values == 0).any():
            continue
        number = from_zero.series().to_numpy(dtype=np.float64, na_value=np.nan)
        if not (number == 0).any():
            continue
        game = np.zeros(len(number), dtype=np.int64) if games is None else _codes(games)
        begun = begins(number, game)
        up = begun[game]
        if not up.any():
            continue
        judged[name] = _taken_up(before, from_zero, up)
        where = "" if begun.all() else f" in {int(begun.sum()):,} of {len(begun):,} games"
        said.append(
            f"{name} begins with 0{where}: it is numbered from 1 here, each of its numbers there one higher."
        )
    return said


def _codes(games: pd.Series) -> np.ndarray:
    return np.asarray(pd.factorize(games, use_na_sentinel=False)[0])


def _pitches_begin(number: np.ndarray, game: np.ndarray) -> np.ndarray:
    """Say for each game whether its pitches are numbered from 0."""
    many = int(game.max()) + 1
    nought, one = (np.bincount(game[number == first], minlength=many) for first in (0, 1))
    picked = (nought >= _NO_SLIPS) & (nought >= _AS_A_RULE * one)
    return np.asarray((nought > 0) & ((nought >= one) | picked))


def _appearances_begin(number: np.ndarray, game: np.ndarray) -> np.ndarray:
    """Say for each game whether 0 is its first plate appearance: a slip for 10 would stand within it.

    The rows may go from the first to the last or the other way round.
    """
    begun = np.zeros(int(game.max()) + 1, dtype=bool)
    filled = np.flatnonzero(~np.isnan(number))
    by_game = filled[np.argsort(game[filled], kind="stable")]
    edges = np.flatnonzero(np.diff(game[by_game])) + 1
    for rows in np.split(by_game, edges):
        nought = np.flatnonzero(number[rows] == 0)
        if not nought.size or not (number[rows] == 1).any():
            continue
        at_one_end = nought[0] == 0 or nought[-1] == len(rows) - 1
        begun[game[rows[0]]] = at_one_end and nought[-1] - nought[0] == len(nought) - 1
    return begun


def _taken_up(before: Judged, from_zero: Judged, up: np.ndarray) -> Judged:
    """Put the numbers of some rows one higher, each cell once as it was and once so."""
    cells = before.cells
    many = len(cells.texts)
    doubled = None if cells.numbers is None else np.append(cells.numbers, cells.numbers)
    codes = np.where(up, cells.codes + many, cells.codes)
    values = pd.concat([before.values, from_zero.values + 1], ignore_index=True)
    problems = np.append(before.problems, from_zero.problems)
    return replace(
        before, cells=Cells(codes, [*cells.texts, *cells.texts], doubled), values=values, problems=problems
    )
