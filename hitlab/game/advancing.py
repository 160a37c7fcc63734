"""What each outcome of a plate appearance does to the 24 base-out states: the rules of advance.

A state is the number of outs (0-2) and the bases occupied, in the order of ``OUTS_AND_BASES``. The rules of
the game decide what can happen; the shares in :class:`Advancing` say how often. All defaults are
common practice, no source: round numbers near what scorers report for professionals, fixed before any
result was looked at and fitted to nothing.

Left out, and so never in a result: stolen bases, caught stealing, pickoffs, wild pitches, passed balls,
balks, bunts, runners put out on the bases on a hit, extra bases on an error, triple plays, and every choice
made because of the score (a pulled-in infield, a hitter walked on purpose). An intentional walk is in only as
far as the walk probability given holds it.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hitlab.game.outcomes import OUTCOMES, GameStateError

__all__ = ["BASES", "OUTS_AND_BASES", "Advancing", "Moves", "moves"]

Floats = NDArray[np.float64]

BASES = ("empty", "first", "second", "third", "first second", "first third", "second third", "full")
"""Bases occupied, in the order of the tables."""

OUTS_AND_BASES = tuple((outs, bases) for outs in range(3) for bases in BASES)
"""The 24 states, in the order of flat arrays."""

MOST_RUNS_A_PLAY = 4

_NUMBERS = {"empty": (), "full": (1, 2, 3)}
_OF_NAME = {"first": 1, "second": 2, "third": 3}


@dataclass(frozen=True, slots=True)
class Advancing:
    """How often runners take what an outcome leaves open; every field is a share from 0 to 1.

    Attributes
    ----------
    second_scores_on_single
        Of runners on second, on a single; the others stop at third.
    first_to_third_on_single
        Of runners on first, on a single that leaves third base open; the others stop at second.
    first_scores_on_double
        Of runners on first, on a double; the others stop at third.
    double_play
        Of other outs with a runner on first and fewer than two outs: hitter and that runner are out, the
        others move up one base.
    force_out
        Of the same: the runner from first is out at second, the hitter is on first, the others move up.
    moves_up
        Of other outs with fewer than two outs: the hitter is out, every runner moves up one base.
    sacrifice_fly
        Of other outs with a runner on third and fewer than two outs: he scores, the others hold.

    Notes
    -----
    On the other outs that are left the runners hold. A strikeout moves nobody. Walk and hit by pitch move
    whom they force. An error puts the hitter on first and moves every runner one base. A triple and a home
    run empty the bases. A run does not count on a play that makes the third out: the rules here have no
    other.
    """

    second_scores_on_single: float = 0.60
    first_to_third_on_single: float = 0.28
    first_scores_on_double: float = 0.43
    double_play: float = 0.22
    force_out: float = 0.12
    moves_up: float = 0.22
    sacrifice_fly: float = 0.25

    def __post_init__(self) -> None:
        for field in fields(self):
            value = getattr(self, field.name)
            if not isinstance(value, int | float) or not 0 <= value <= 1:
                raise GameStateError(f"{field.name}={value!r}: give a share from 0 to 1")
        together = self.double_play + self.force_out + self.moves_up + self.sacrifice_fly
        if together > 1 + 1e-12:
            raise GameStateError(
                f"double_play, force_out, moves_up and sacrifice_fly add up to {together:g}; they are "
                "shares of the same outs, so lower them until they add up to 1 at most"
            )


@dataclass(frozen=True, slots=True)
class Moves:
    """The moves of every outcome between the 24 states.

    Attributes
    ----------
    stay
        Shape (9 outcomes, 5, 24, 24): share of an outcome from a state (third axis) to a state (fourth)
        with 0 to 4 runs (second).
    end
        Shape (9 outcomes, 24): share that ends the half inning; no run scores on it.
    """

    stay: Floats
    end: Floats


@lru_cache(maxsize=32)
def moves(rules: Advancing) -> Moves:
    """Return the moves under some rules of advance; the arrays are shared, and read-only."""
    place = {(outs, _occupied(bases)): at for at, (outs, bases) in enumerate(OUTS_AND_BASES)}
    stay = np.zeros((len(OUTCOMES), MOST_RUNS_A_PLAY + 1, 24, 24))
    end = np.zeros((len(OUTCOMES), 24))
    for number, outcome in enumerate(OUTCOMES):
        for (outs, on), at in place.items():
            for share, ends, out in _plays(outcome, on, outs, rules):
                if outs + out >= 3:
                    end[number, at] += share
                else:
                    after = frozenset(base for base in ends if base < 4)
                    stay[number, ends.count(4), at, place[outs + out, after]] += share
    stay.flags.writeable = end.flags.writeable = False
    return Moves(stay, end)


def _occupied(bases: str) -> frozenset[int]:
    return frozenset(
        _NUMBERS.get(bases, ()) or (_OF_NAME[name] for name in bases.split() if name in _OF_NAME)
    )


Play = tuple[float, list[int], int]  # share, where everybody ends (4 is home), outs made


def _plays(outcome: str, on: frozenset[int], outs: int, rules: Advancing) -> list[Play]:
    """Return what an outcome can lead to from one state."""
    up = [base + 1 for base in sorted(on)]
    if outcome == "strikeout":
        return [(1.0, sorted(on), 1)]
    if outcome == "other out":
        return _other_out(on, outs, rules)
    if outcome in ("walk", "hit by pitch"):
        free = next(base for base in (1, 2, 3, 4) if base not in on)  # the runners before it are forced
        return [(1.0, sorted({*on, free}), 0)]
    if outcome == "error":
        return [(1.0, [1, *up], 0)]
    if outcome == "triple":
        return [(1.0, [3, *(4 for _ in on)], 0)]
    if outcome == "home run":
        return [(1.0, [4, *(4 for _ in on)], 0)]
    if outcome == "double":
        ahead = [4 for base in on if base > 1]
        if 1 not in on:
            return [(1.0, [2, *ahead], 0)]
        home = rules.first_scores_on_double
        return [(home, [2, 4, *ahead], 0), (1 - home, [2, 3, *ahead], 0)]
    return _single(on, rules)


def _single(on: frozenset[int], rules: Advancing) -> list[Play]:
    ahead = [4] if 3 in on else []
    home = rules.second_scores_on_single
    from_second: list[tuple[float, int | None]] = [(home, 4), (1 - home, 3)] if 2 in on else [(1.0, None)]
    plays: list[Play] = []
    for share, second in from_second:
        ends = [1, *ahead, *([second] if second else [])]
        if 1 not in on:
            plays.append((share, ends, 0))
            continue
        third = rules.first_to_third_on_single if second != 3 else 0.0
        plays += [(share * third, [*ends, 3], 0), (share * (1 - third), [*ends, 2], 0)]
    return plays


def _other_out(on: frozenset[int], outs: int, rules: Advancing) -> list[Play]:
    if not on or outs == 2:
        return [(1.0, sorted(on), 1)]
    up = [base + 1 for base in sorted(on)]
    plays: list[Play] = [(rules.moves_up, up, 1)]
    if 1 in on:
        others = [base + 1 for base in sorted(on) if base > 1]
        plays += [(rules.double_play, others, 2), (rules.force_out, [1, *others], 1)]
    if 3 in on:
        plays.append((rules.sacrifice_fly, [4 if base == 3 else base for base in sorted(on)], 1))
    plays.append((max(1 - sum(share for share, _, _ in plays), 0.0), sorted(on), 1))
    return plays
