"""Whether two games are one: pitch by pitch, what differs, and how much is alike."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.charting.aligning import COSTS, MOST_CELLS, align, numbered
from hitlab.names import fold

__all__ = ["ALIKE", "HARDLY", "TELLING", "Game", "alike", "differences", "may_be_alike", "same"]

ALIKE = 0.8
"""Share of the pitches of the longer game from which two games look like one (a default, no source).

Two people who chart one game agree in hitter, count and outcome on more; two games between the same hitters
do so on a fifth at most, even where nothing but hitter and outcome is told (the demo season)."""

HARDLY = 0.5
"""Share of the pitches of the shorter table of one game below which two are hardly of the same pitches (a
default): two halves of a game have a quarter alike at most (the demo season)."""

TELLING = {name: cost for name, cost in COSTS.items() if name != "pitch_kind"}
"""Columns by which games look alike. The kind of pitch is none: two eyes differ in it most."""


def same(one: pd.DataFrame, other: pd.DataFrame) -> bool:
    """Say whether two games have equal rows in equal order; both have the same columns."""
    return len(one) == len(other) and one.reset_index(drop=True).equals(other.reset_index(drop=True))


@dataclass(eq=False)
class Game:
    """A game's rows, and what is asked of them for each game that they are held against.

    Attributes
    ----------
    rows
        The pitches.
    """

    rows: pd.DataFrame

    def __len__(self) -> int:
        """Return the number of pitches."""
        return len(self.rows)

    @cached_property
    def days(self) -> frozenset[Any]:
        """The days it is told to be of."""
        return frozenset(self.rows["date"].dropna()) if "date" in self.rows else frozenset()

    @cached_property
    def told(self) -> Counter[tuple[str, str]]:
        """How often each hitter and outcome stand in a row; names without capitals and accents."""
        # Counted without frames: a season has hundreds of games to be held against.
        folded: Counter[tuple[str, str]] = Counter()
        for (hitter, outcome), times in Counter(
            zip(self.rows["hitter"], self.rows["outcome"], strict=True)
        ).items():
            folded[fold(hitter), outcome] += times
        return folded


def may_be_alike(one: Game, other: Game) -> bool:
    """Say quickly where two games cannot look like one: too few hitters and outcomes are in both."""
    least = ALIKE * max(len(one), len(other))
    return min(len(one), len(other)) >= least and (one.told & other.told).total() >= least


def alike(one: pd.DataFrame, other: pd.DataFrame) -> int:
    """Count the pitches that are the same in both games, in order: hitter, count, inning and outcome."""
    one, other = _folded(one, other)
    names = _shared(one, other, TELLING)
    pairs = _aligned(one, other, names)
    both = pairs[(pairs >= 0).all(axis=1)]
    equal = np.ones(len(both), dtype=bool)
    for name in names:
        mine, yours = numbered(one[name], other[name])
        mine, yours = mine[both[:, 0]], yours[both[:, 1]]
        equal &= (mine == yours) | (mine < 0) | (yours < 0)
    return int(equal.sum())


def differences(old: pd.DataFrame, new: pd.DataFrame, *, apart: bool = False) -> pd.DataFrame:
    """List what differs between two tables of one game.

    Parameters
    ----------
    old, new
        Rows of the game, with the same columns.
    apart
        Take no pitch for one of both.

    Returns
    -------
    pandas.DataFrame
        One line a cell that differs, and one a pitch that only one has: ``old_row`` and ``new_row`` (within
        the game, from 1; missing where it has none), ``hitter``, ``column`` (empty for a whole pitch),
        ``old``, ``new``.
    """
    lines: list[tuple[Any, ...]] = []
    texts = {name: (_as_texts(old[name]), _as_texts(new[name])) for name in old.columns}
    pairs = [*((i, -1) for i in range(len(old))), *((-1, j) for j in range(len(new)))] if apart else None
    for i, j in pairs or _aligned(old, new, _shared(old, new, COSTS)).tolist():
        if j < 0:
            lines.append((i + 1, pd.NA, texts["hitter"][0][i], "", texts["outcome"][0][i], "not there"))
        elif i < 0:
            lines.append((pd.NA, j + 1, texts["hitter"][1][j], "", "not there", texts["outcome"][1][j]))
        else:
            lines += [
                (i + 1, j + 1, texts["hitter"][0][i], name, was[i] or "blank", now[j] or "blank")
                for name, (was, now) in texts.items()
                if was[i] != now[j]
            ]
    found = pd.DataFrame(lines, columns=["old_row", "new_row", "hitter", "column", "old", "new"])
    return found.astype({"old_row": "Int64", "new_row": "Int64"})


def _shared(one: pd.DataFrame, other: pd.DataFrame, columns: dict[str, int]) -> list[str]:
    return [
        name
        for name in columns
        if name in one and name in other and one[name].notna().any() and other[name].notna().any()
    ]


def _aligned(one: pd.DataFrame, other: pd.DataFrame, names: list[str]) -> NDArray[np.int64]:
    if len(one) * len(other) > MOST_CELLS:
        # No single game: row by row, for what it is worth.
        rows = np.arange(max(len(one), len(other)))
        return np.column_stack([np.where(rows < len(each), rows, -1) for each in (one, other)])
    columns = [numbered(one[name], other[name]) for name in names]
    return align([a for a, _ in columns], [b for _, b in columns], [COSTS[name] for name in names])


def _folded(*frames: pd.DataFrame) -> list[pd.DataFrame]:
    """Give frames with hitters' names without capitals and accents."""
    return [
        frame.assign(hitter=frame["hitter"].map({name: fold(name) for name in frame["hitter"].unique()}))
        for frame in frames
    ]


def _as_texts(values: pd.Series[Any]) -> list[str]:
    told = {one: _as_text(one) for one in values.dropna().unique()}
    return [told.get(one, "") for one in values.astype(object).where(values.notna(), None)]


def _as_text(value: Any) -> str:
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    # As short as tells two values apart.
    return f"{value:.12g}" if isinstance(value, float | np.floating) else str(value)
