"""A spot in the last half inning, and what the chain says of the 24 base-out states."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.game.advancing import BASES, OUTS_AND_BASES, Advancing
from hitlab.game.outcomes import GameStateError
from hitlab.results import Part, Result, Table

__all__ = ["HalfInning", "LastHalf", "Spot"]

Floats = NDArray[np.float64]

_COUNT_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True, slots=True)
class Spot:
    """A spot in the home half of the last scheduled inning, or of an extra one.

    Attributes
    ----------
    gap
        Runs of the club that hits minus runs of the other, before the plate appearance: -2 is trailing by
        two, 0 is tied. Above 0 the game would be over.
    outs
        0, 1 or 2.
    bases
        ``empty``, ``first``, ``second``, ``third``, ``first second``, ``first third``, ``second third``,
        ``full``.
    """

    gap: int
    outs: int
    bases: str

    def __post_init__(self) -> None:
        if isinstance(self.gap, bool) or int(self.gap) != self.gap:
            raise GameStateError(
                f"gap={self.gap!r}: give a whole number of runs, such as -2 for trailing by two"
            )
        if self.gap > 0:
            raise GameStateError(
                f"gap={self.gap}: a home club that leads in the last half has won; give 0 or less"
            )
        if self.outs not in (0, 1, 2):
            raise GameStateError(f"outs={self.outs!r}: a plate appearance begins with 0, 1 or 2 outs")
        if self.bases not in BASES:
            raise GameStateError(f"bases={self.bases!r}: accepted are {', '.join(BASES)}")

    @property
    def state(self) -> int:
        """Place among the 24 states."""
        return OUTS_AND_BASES.index((self.outs, self.bases))

    @property
    def words(self) -> str:
        """The spot in words: ``trailing by two, runners on first and second, one out``."""
        behind = -self.gap
        number = _COUNT_WORDS[behind] if behind < len(_COUNT_WORDS) else f"{behind}"
        score = f"trailing by {number}" if behind else "tied"
        named = self.bases.split()
        on = {"empty": "bases empty", "full": "bases full"}.get(self.bases)
        on = on or (f"runners on {' and '.join(named)}" if len(named) > 1 else f"a runner on {named[0]}")
        outs = "one out" if self.outs == 1 else f"{('nobody', '', 'two')[self.outs]} out"
        return f"{score}, {on}, {outs}"

    def __str__(self) -> str:
        return self.words


@dataclass(frozen=True, slots=True)
class HalfInning(Result):
    """What a half inning is still worth from each state, with a hitter at bat.

    Attributes
    ----------
    expected_runs
        Shape (..., 3 outs, 8 bases): runs expected to the end of the half inning.
    chance_of_run
        Same shape: chance of at least one run.
    runs
        Shape (..., 3, 8, runs + 1): chance of exactly 0, 1, 2, ... runs.
    tail
        Shape (..., 3, 8): chance of more runs than ``runs`` reaches.
    rules
        The rules of advance.
    """

    expected_runs: Floats
    chance_of_run: Floats
    runs: Floats
    tail: Floats
    rules: Advancing

    def table(self) -> pd.DataFrame:
        """Return one row a state, and hitter where there are several.

        Columns: ``hitter`` (number from 0, where there are several), ``outs``, ``bases``, ``expected_runs``,
        ``chance_of_run``, ``runs_0``, ``runs_1``, ..., ``tail``.
        """
        chances = self.runs.reshape(-1, self.runs.shape[-1])
        columns = {"expected_runs": self.expected_runs.ravel(), "chance_of_run": self.chance_of_run.ravel()}
        columns |= {f"runs_{k}": chances[:, k] for k in range(chances.shape[1])}
        columns["tail"] = self.tail.ravel()
        return _by_state(columns, self.expected_runs.shape[:-2])

    def table_for_people(self) -> pd.DataFrame:
        """Return the states of one hitter as a grid of bases and outs; of several, one row a state."""
        if self.expected_runs.ndim > 2:
            return self.table().round(3)
        outs = [f"{n} out" for n in range(3)]
        expected = pd.DataFrame(self.expected_runs.T, list(BASES), outs).round(3)
        some = pd.DataFrame(self.chance_of_run.T, list(BASES), [f"a run, {n}" for n in outs]).round(3)
        return expected.join(some)

    @property
    def title(self) -> str:
        """What is shown, in words."""
        if self.expected_runs.ndim > 2:
            return f"Half innings of {int(np.prod(self.expected_runs.shape[:-2])):,} hitters"
        return "Runs expected to the end of the half inning, and chance of at least one"

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of."""
        return [self.title, Table(self.table_for_people(), most_rows=30, most_columns=12, index=True)]


@dataclass(frozen=True, slots=True)
class LastHalf(Result):
    """Chances in the home half of the last inning.

    Attributes
    ----------
    ahead
        Shape (..., runs behind from 0 up, 3 outs, 8 bases): chance to score more than the gap, and so to win
        at once.
    level
        Same shape: chance to score exactly the gap, and so to play on.
    tie_wins
        Chance to win from a tie.
    rules
        How runners advance.
    """

    ahead: Floats
    level: Floats
    tie_wins: float
    rules: Advancing = field(default_factory=Advancing)

    @property
    def win(self) -> Floats:
        """Chance to win the game, shape (..., runs behind, 3 outs, 8 bases)."""
        return self.ahead + self.tie_wins * self.level

    def at(self, spot: Spot) -> Floats:
        """Return the chance to win from one spot, shape (...)."""
        behind = -spot.gap
        if behind >= self.ahead.shape[-3]:
            most = self.ahead.shape[-3] - 1
            raise GameStateError(f"{spot.words}: worked out down to {most} runs behind; raise most_behind=")
        return np.asarray(self.win[..., behind, spot.outs, BASES.index(spot.bases)])

    def table(self) -> pd.DataFrame:
        """Return one row a state and gap.

        Columns: ``hitter`` (where there are several), ``gap``, ``outs``, ``bases``, ``ahead``, ``level``,
        ``win``.
        """
        columns = {"ahead": self.ahead.ravel(), "level": self.level.ravel(), "win": self.win.ravel()}
        return _by_state(columns, self.ahead.shape[:-3], self.ahead.shape[-3])

    @property
    def title(self) -> str:
        """What is shown, in words."""
        return f"Chances in the last half inning; a tie wins {self.tie_wins:.2f} of the time"

    def table_for_people(self) -> pd.DataFrame:
        """Return one row a state and gap, chances with three digits."""
        return self.table().round(3)


def _by_state(columns: dict[str, Floats], hitters: tuple[int, ...], gaps: int = 0) -> pd.DataFrame:
    """Lay flat arrays out as a frame: one row a hitter, gap and state."""
    each = 24 * max(gaps, 1)
    many = int(np.prod(hitters))
    front: dict[str, Any] = {"hitter": np.repeat(np.arange(many), each)} if hitters else {}
    if gaps:
        front["gap"] = np.tile(np.repeat(-np.arange(gaps), 24), many)
    states = np.arange(each * many) % 24
    front["outs"] = states // len(BASES)
    front["bases"] = [BASES[state % len(BASES)] for state in states]
    return pd.DataFrame(front | columns)
