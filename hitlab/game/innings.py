"""The game situation: what a half inning is still worth, and the chance to tie and to win in the last one.

A half inning is a Markov chain over the 24 base-out states, one step a plate appearance (Bukiet, Harold &
Palacios 1997, Operations Research 45:14-23). Outcome probabilities in, arrays out; nothing is simulated and
no plate appearance is cut off: the sums over endless innings are solved as linear equations.

It supposes that every hitter has the same probabilities in every state, that plate appearances are
independent of each other, and the rules of advance in ``hitlab.game.advancing``, which name what is left out.
It fails where the state changes how pitchers, fielders and hitters play, which is most so late in a close
game.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.game.advancing import BASES, Advancing, moves
from hitlab.game.base_out import HalfInning, LastHalf, Spot
from hitlab.game.outcomes import OUTCOMES, OUTS, GameStateError, chances_of

__all__ = ["MOST_RUNS", "extra_innings_chance", "half_inning", "last_half", "outcome_values"]

Floats = NDArray[np.float64]

MOST_RUNS = 20
"""Runs up to which the distribution is given; the chance of more is ``tail``."""

_MOST_BEHIND = 10
_FEWEST_OUTS = 1e-6  # chance of an out in a round of the lineup below which the equations lose their digits
_EXTRA_RUNS = 60  # runs up to which an extra half inning is followed


def half_inning(
    chances: Any,
    following: Any = None,
    *,
    rules: Advancing | None = None,
    most_runs: int = MOST_RUNS,
) -> HalfInning:
    """Return what a half inning is still worth from each of the 24 states.

    Parameters
    ----------
    chances
        Outcome probabilities of the hitter at bat, shape (..., 9); several hitters at once are several
        separate questions.
    following
        Who comes after him. ``None``: hitters like himself without end. Shape (9,): the league, without end.
        Shape (hitters, 9): a lineup in its order, after which he comes again.
    rules
        How runners advance.
    most_runs
        Runs up to which the distribution is given.

    Returns
    -------
    HalfInning
        Runs expected, the chance of a run and the distribution of runs, from each number of outs and each
        state of the bases.

    Raises
    ------
    GameStateError
        Where probabilities cannot be, or nobody ever makes an out.

    Examples
    --------
    >>> league = [0.22, 0.44, 0.09, 0.01, 0.15, 0.045, 0.005, 0.03, 0.01]
    >>> round(float(half_inning(league).expected_runs[0, 0]), 2)
    0.53
    """
    if isinstance(most_runs, bool) or int(most_runs) != most_runs or most_runs < 0:
        raise GameStateError(f"most_runs={most_runs!r}: give a whole number, 0 or more")
    rules, most = rules or Advancing(), int(most_runs)
    hitters = chances_of(chances)
    if following is None:
        expected, runs = _cycle([hitters], rules, most)
    else:
        after = chances_of(following, "following")
        if after.ndim == 1:
            # What follows does not depend on the hitter, so his half inning is a sum over his nine outcomes.
            later, later_runs = _cycle([after], rules, most)
            outcome = _Step.of(np.eye(len(OUTCOMES)), rules)
            expected = hitters @ outcome.before(later)
            runs = np.tensordot(hitters, outcome.runs_before(later_runs), 1)
        elif after.ndim == 2:
            expected, runs = _cycle([hitters, *after], rules, most)
        else:
            raise GameStateError(f"following has the shape {after.shape}; give (9,) or (hitters, 9)")
    shape = (*expected.shape[:-1], 3, len(BASES))
    runs = runs.reshape(*shape, -1)
    # The difference of sums near one leaves a few 1e-16 of either sign.
    tail = np.maximum(1 - runs.sum(axis=-1), 0.0)
    return HalfInning(expected.reshape(shape), 1 - runs[..., 0], runs, tail, rules)


def last_half(
    chances: Any,
    following: Any = None,
    *,
    tie_wins: float = 0.50,
    rules: Advancing | None = None,
    most_behind: int = _MOST_BEHIND,
) -> LastHalf:
    """Return the chances to win and to tie in the home half of the last scheduled inning.

    The game ends as soon as the home club leads. That shortens the half inning and changes the final score,
    never who wins: a club that will have scored more than the gap has led. So the distribution of runs of the
    full half inning gives both chances.

    Parameters
    ----------
    chances, following, rules
        As in :func:`half_inning`.
    tie_wins
        Chance to win a game that is tied after this half; :func:`extra_innings_chance` works one out.
    most_behind
        Largest number of runs behind.

    Returns
    -------
    LastHalf
        The chances to score more than the gap, and just the gap, from each gap, number of outs and
        state of the bases.

    Raises
    ------
    GameStateError
        As in :func:`half_inning`.

    Examples
    --------
    >>> from hitlab.game import Spot, last_half
    >>> league = [0.22, 0.44, 0.09, 0.01, 0.15, 0.045, 0.005, 0.03, 0.01]
    >>> found = last_half(league)
    >>> for spot in (Spot(0, 0, "empty"), Spot(-1, 2, "first second"), Spot(-3, 0, "empty")):
    ...     print(f"{spot.words}: {float(found.at(spot)):.3f}")
    tied, bases empty, nobody out: 0.641
    trailing by one, runners on first and second, two out: 0.175
    trailing by three, bases empty, nobody out: 0.047
    """
    if not 0 <= tie_wins <= 1:
        raise GameStateError(f"tie_wins={tie_wins!r}: give a chance from 0 to 1")
    found = half_inning(chances, following, rules=rules, most_runs=most_behind)
    level = np.moveaxis(found.runs, -1, -3)
    ahead = np.maximum(1 - np.cumsum(level, axis=-3), 0.0)
    return LastHalf(ahead, level, float(tie_wins), found.rules)


def outcome_values(
    spot: Spot,
    following: Any,
    *,
    tie_wins: float = 0.50,
    rules: Advancing | None = None,
) -> Floats:
    """Return the chance to win after each outcome of this plate appearance, shape (9,).

    Whoever is at bat, his chance to win is the sum of his outcome probabilities times these values: nothing
    else about him matters here.

    Parameters
    ----------
    spot
        The spot before the plate appearance.
    following
        Who comes after: shape (9,), or a lineup without end in shape (hitters, 9) whose last is followed by
        its first again (whoever is at bat now does not come again).
    tie_wins, rules
        As in :func:`last_half`.

    Returns
    -------
    numpy.ndarray
        Shape (9,), chances from 0 to 1 in the order of ``OUTCOMES``.

    Raises
    ------
    GameStateError
        Where ``tie_wins`` is no chance, or probabilities cannot be.

    Examples
    --------
    >>> from hitlab.game import OUTCOMES, Spot, outcome_values
    >>> league = [0.22, 0.44, 0.09, 0.01, 0.15, 0.045, 0.005, 0.03, 0.01]
    >>> values = outcome_values(Spot(-1, 2, "first second"), league)
    >>> for outcome, value in zip(OUTCOMES, values):
    ...     print(f"{outcome}: {value:.2f}")
    strikeout: 0.00
    other out: 0.00
    walk: 0.28
    hit by pitch: 0.28
    single: 0.49
    double: 0.79
    triple: 1.00
    home run: 1.00
    error: 0.28
    """
    after = chances_of(following, "following")
    rules = rules or Advancing()
    if not 0 <= tie_wins <= 1:
        raise GameStateError(f"tie_wins={tie_wins!r}: give a chance from 0 to 1")
    behind = -spot.gap
    _, runs = _cycle(list(np.atleast_2d(after)), rules, behind)
    now = _Step.of(np.eye(len(OUTCOMES)), rules).runs_before(runs)[:, spot.state]
    return np.asarray(np.maximum(1 - now.sum(axis=-1), 0.0) + tie_wins * now[:, behind])


def extra_innings_chance(
    home: Any,
    visitors: Any = None,
    *,
    runner_on_second: bool = False,
    rules: Advancing | None = None,
) -> float:
    """Return the home club's chance to win a game that goes to extra innings.

    Parameters
    ----------
    home, visitors
        Outcome probabilities of each club's average hitter, shape (9,); alike where only one is given.
    runner_on_second
        Whether each half inning begins with a runner on second and nobody out.
    rules
        How runners advance.

    Returns
    -------
    float
        From 0 to 1.

    Raises
    ------
    GameStateError
        Where probabilities cannot be, or more than one club is given for home or for visitors.

    Notes
    -----
    Equal clubs come out at one half exactly: the chain knows nothing of what batting last lets a manager do.

    Examples
    --------
    >>> from hitlab.game import extra_innings_chance
    >>> league = [0.22, 0.44, 0.09, 0.01, 0.15, 0.045, 0.005, 0.03, 0.01]
    >>> slugging = [0.22, 0.42, 0.09, 0.01, 0.15, 0.045, 0.005, 0.05, 0.01]
    >>> round(extra_innings_chance(league), 2), round(extra_innings_chance(slugging, league), 2)
    (0.5, 0.57)
    """
    start = 0, BASES.index("second" if runner_on_second else "empty")
    ours = half_inning(home, rules=rules, most_runs=_EXTRA_RUNS).runs
    theirs = ours if visitors is None else half_inning(visitors, rules=rules, most_runs=_EXTRA_RUNS).runs
    if ours.ndim != 3 or theirs.ndim != 3:
        raise GameStateError("give one club's nine probabilities for home, and nine for visitors")
    h, v = ours[start], theirs[start]
    win, lose = float(h[1:] @ np.cumsum(v)[:-1]), float(v[1:] @ np.cumsum(h)[:-1])
    return win / (win + lose)


@dataclass(frozen=True, slots=True)
class _Step:
    """One plate appearance: moves with so many runs (..., 5, 24, 24), and ends (..., 24)."""

    stay: Floats
    end: Floats

    @classmethod
    def of(cls, chances: Floats, rules: Advancing) -> _Step:
        """Weigh the moves of the nine outcomes."""
        shares = moves(rules)
        stay = chances @ shares.stay.reshape(len(OUTCOMES), -1)
        return cls(stay.reshape(*chances.shape[:-1], *shares.stay.shape[1:]), chances @ shares.end)

    def scored(self) -> Floats:
        """Return the runs expected on the plate appearance itself, shape (..., 24)."""
        return np.asarray(np.einsum("...rst,r->...s", self.stay, np.arange(self.stay.shape[-3])))

    def before(self, later: Floats) -> Floats:
        """Return expected runs where ``later`` says what each state is worth afterwards."""
        return self.scored() + _times(np.asarray(self.stay.sum(axis=-3)), later)

    def runs_before(self, later: Floats) -> Floats:
        """Return the distribution of runs where ``later`` is the one afterwards."""
        return np.stack([self.exactly(k, later, later[..., k]) for k in range(later.shape[-1])], axis=-1)

    def exactly(self, k: int, later: Floats, last: Floats | None) -> Floats:
        """Return the chance of exactly k runs; without ``last`` the part in which this step scores some."""
        chance = self.end if k == 0 else np.zeros_like(self.end)
        for scored in range(1, min(k, self.stay.shape[-3] - 1) + 1):
            chance = chance + _times(self.stay[..., scored, :, :], later[..., k - scored])
        return chance if last is None else chance + _times(self.stay[..., 0, :, :], last)


def _cycle(turns: Sequence[Floats], rules: Advancing, most: int) -> tuple[Floats, Floats]:
    """Solve for hitters who come up in turn without end; return what the first one's turn is worth."""
    outs = sum(chances[..., :OUTS].sum(axis=-1) for chances in turns)
    if np.min(outs) < _FEWEST_OUTS:
        raise GameStateError(
            "nobody here ever makes an out, so the half inning has no end; give strikeout or other out some"
        )
    steps = [_Step.of(chances, rules) for chances in turns]
    shape = np.broadcast_shapes(*(step.end.shape for step in steps))
    total = _Turns([step.stay.sum(axis=-3) for step in steps])
    expected = total.solve([step.scored() for step in steps])[0]
    quiet = _Turns([step.stay[..., 0, :, :] for step in steps])
    runs = [np.zeros((*shape, most + 1)) for _ in steps]
    for k in range(most + 1):
        known = [step.exactly(k, runs[(i + 1) % len(steps)], None) for i, step in enumerate(steps)]
        for chance, found in zip(runs, quiet.solve(known), strict=True):
            chance[..., k] = found
    return expected, runs[0]


class _Turns:
    """Solves x_i = known_i + step_i x_(i+1), the last followed by the first: one 24 x 24 system for all."""

    def __init__(self, steps: Sequence[Floats]) -> None:
        self.steps = steps
        round_trip = steps[0]
        for step in steps[1:]:
            round_trip = round_trip @ step
        self.inverse: Floats = np.asarray(np.linalg.inv(np.eye(24) - round_trip), dtype=np.float64)

    def solve(self, known: Sequence[Floats]) -> list[Floats]:
        """Return x for every step."""
        right = known[-1]
        for step, one in zip(reversed(self.steps[:-1]), reversed(known[:-1]), strict=True):
            right = one + _times(step, right)
        found = [_times(self.inverse, right)]
        for step, one in zip(reversed(self.steps[1:]), reversed(known[1:]), strict=True):
            found.append(one + _times(step, found[-1]))
        return [found[0], *found[:0:-1]]


def _times(matrix: Floats, vector: Floats) -> Floats:
    return np.asarray((matrix @ vector[..., np.newaxis])[..., 0])
