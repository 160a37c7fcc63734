"""What the fielders make of a ball in play, and where the runners end up.

Bases are held as a number from 0 to 7: 1 for a runner on first, 2 on second, 4 on third. A *play*
is a result with its running; :data:`NEXT_BASES`, :data:`RUNS` and :data:`OUTS` look up what it does.
The rules of the game decide what can happen; how often is invented, near common practice.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from hitlab.league.ball_off_bat import BallOffBat
from hitlab.pitches.schema import RESULTS

__all__ = ["NEXT_BASES", "OUTS", "PLAYS", "RESULT_OF_PLAY", "RUNS", "bunt_plays", "carry_ft", "field"]

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

# Play: (result, where the hitter goes, and the runners from first, second and third); 0 is out,
# 4 is home. Forced moves of a walk are worked out below.
_MOVES: dict[str, tuple[str, tuple[int, int, int, int]]] = {
    "strikeout": ("strikeout", (0, 1, 2, 3)),
    "single, runners take one base": ("single", (1, 2, 3, 4)),
    "single, runners take two bases": ("single", (1, 3, 4, 4)),
    "double, runner from first stops at third": ("double", (2, 3, 4, 4)),
    "double, all score": ("double", (2, 4, 4, 4)),
    "triple": ("triple", (3, 4, 4, 4)),
    "home run": ("home run", (4, 4, 4, 4)),
    "out, runners hold": ("out", (0, 1, 2, 3)),
    "out, runners advance": ("out", (0, 2, 3, 4)),
    "double play": ("double play", (0, 0, 3, 4)),
    "fielder's choice": ("fielder's choice", (1, 0, 3, 4)),
    "error": ("error", (1, 2, 3, 4)),
    "sacrifice fly": ("sacrifice fly", (0, 1, 2, 4)),
    "sacrifice bunt": ("sacrifice bunt", (0, 2, 3, 4)),
    "walk": ("walk", (1, 1, 2, 3)),
    "hit by pitch": ("hit by pitch", (1, 1, 2, 3)),
}

PLAYS = tuple(_MOVES)
_PLAY = {play: number for number, play in enumerate(PLAYS)}
RESULT_OF_PLAY: Whole = np.array([RESULTS.index(result) for result, _ in _MOVES.values()])
"""Index into ``RESULTS`` of each play."""


def _one(play: str, bases: int) -> tuple[int, int, int]:
    """Bases, runs and outs after one play from one state."""
    hitter, *runners = _MOVES[play][1]
    if play in ("walk", "hit by pitch"):
        on_base = bin(bases).count("1")
        if bases & 1 == 0:
            return bases | 1, 0, 0
        if on_base == 3:
            return 7, 1, 0
        return (7 if on_base == 2 else 3), 0, 0
    ends = [hitter] + [end for base, end in enumerate(runners) if bases >> base & 1]
    after = sum(1 << (end - 1) for end in ends if 1 <= end <= 3)
    return after, ends.count(4), ends.count(0)


_TABLE: Whole = np.array([[_one(play, bases) for bases in range(8)] for play in PLAYS])
NEXT_BASES, RUNS, OUTS = (_TABLE[:, :, i] for i in range(3))
"""Each of shape (plays, 8): bases after the play, runs and outs on it. Runs do not count when the
play makes the third out; the innings see to that."""


def carry_ft(exit_mph: Floats, launch_deg: Floats) -> Floats:
    """Rough distance in the air in feet, enough for deciding plays."""
    speed = exit_mph * 1.4667
    angle = np.radians(np.clip(launch_deg, 0, 90))
    vacuum = speed**2 * np.sin(2 * angle) / 32.2
    # Drag takes more from high and fast balls.
    drag = 0.73 - 0.0042 * np.maximum(launch_deg - 20, 0) - 0.0009 * np.maximum(exit_mph - 80, 0)
    return np.asarray(vacuum * np.maximum(drag, 0.3))


def field(ball: BallOffBat, bases: Whole, outs: Whole, uniforms: Floats) -> Whole:
    """Draw the play for each ball in play.

    Parameters
    ----------
    ball
        The balls, arrays of shape (n,).
    bases, outs
        The state before the pitch, shape (n,).
    uniforms
        Shape (4, n): hit or out, extra bases, error, running.

    Returns
    -------
    Numbers of plays, shape (n,).
    """
    speed, launch, spray = ball.exit_mph, ball.launch_deg, np.abs(ball.spray_deg)
    carry = carry_ft(speed, launch)
    ground, liner, pop = launch < 8, (launch >= 8) & (launch < 22), launch >= 52
    fence = 400 - 70 * (spray / 45) ** 1.5
    home_run = (launch > 12) & (carry > fence + 14 * (uniforms[1] - 0.5))

    on_ground = expit(-1.50 + 0.042 * (speed - 82))
    as_liner = expit(0.68 + 0.028 * (speed - 88))
    # Flies fall in behind the infield, seldom in front of the outfielders, more near the fence.
    in_air = 0.03 + 0.50 * expit((215 - carry) / 14) * (speed > 55) + 0.28 * expit((carry - 345) / 12)
    chance = np.where(ground, on_ground, np.where(liner, as_liner, np.where(pop, 0.02, in_air)))
    hit = ~home_run & (uniforms[0] < chance)
    deep = np.where(ground, 0.07, np.where(liner, 0.22, 0.42)) + 0.38 * (spray > 30) * ~pop
    deep = deep + 0.25 * (carry > 330)
    extra = hit & (uniforms[1] < deep)
    triple = extra & (uniforms[1] < 0.09 * deep)

    out = ~home_run & ~hit
    error = out & (uniforms[2] < np.where(ground, 0.028, 0.006))
    out = out & ~error
    grounder = out & ground & (launch > -70)
    force = grounder & (bases & 1 == 1) & (outs < 2)
    runs_two = uniforms[3] < 0.42

    play = np.full(len(speed), _PLAY["out, runners hold"])
    play[grounder & (bases > 1) & (bases & 1 == 0) & runs_two] = _PLAY["out, runners advance"]
    play[force] = _PLAY["fielder's choice"]
    play[force & (uniforms[3] < 0.40)] = _PLAY["double play"]
    play[force & (uniforms[3] > 0.62)] = _PLAY["out, runners advance"]
    caught_deep = out & ~ground & (carry > 225)
    brings_in = caught_deep & (bases & 4 == 4) & (outs < 2) & (uniforms[3] < expit((carry - 240) / 20))
    play[brings_in] = _PLAY["sacrifice fly"]
    play[error] = _PLAY["error"]
    play[hit] = _PLAY["single, runners take one base"]
    play[hit & runs_two] = _PLAY["single, runners take two bases"]
    play[extra] = _PLAY["double, runner from first stops at third"]
    play[extra & runs_two] = _PLAY["double, all score"]
    play[triple] = _PLAY["triple"]
    play[home_run] = _PLAY["home run"]
    return play


def bunt_plays(bases: Whole, uniforms: Floats) -> Whole:
    """Draw the play for bunts in play with runners on and nobody out; uniforms of shape (n,)."""
    play = np.full(len(bases), _PLAY["sacrifice bunt"])
    failed = np.where(bases & 1 == 1, _PLAY["fielder's choice"], _PLAY["out, runners hold"])
    play = np.where(uniforms > 0.72, failed, play)
    return np.where(uniforms > 0.90, _PLAY["single, runners take one base"], play)
