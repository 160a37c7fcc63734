"""A plain league in which a whiff may change the next pitch, drawn pitch by pitch and known exactly.

Much quicker than ``make_season`` because it has no fields, bases or contact: it exists to repeat an analysis
hundreds of times. The chance of a whiff on a pitch is a logit of hitter, pitcher, hitter against the
kind, kind, count, the hitter's form of the day, the pitcher's, and (only where asked) of the pitch before
having been a whiff. All the numbers are invented.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import expit

KINDS = ("four-seam fastball", "slider", "changeup")
BALL, CALLED, WHIFF, FOUL, IN_PLAY = range(5)
OUTCOMES = ("ball", "called strike", "whiff", "foul", "in play")


@dataclass(frozen=True)
class League:
    """Columns of pitches, all the same length: numbers from 0, in the order of play in a plate appearance."""

    hitter: np.ndarray
    pitcher: np.ndarray
    game: np.ndarray
    appearance: np.ndarray
    pitch: np.ndarray
    balls: np.ndarray
    strikes: np.ndarray
    kind: np.ndarray
    outcome: np.ndarray


def draw(
    pitches: int,
    seed: int,
    *,
    hitters: int = 150,
    effect: float = 0.0,
    day_form: float = 0.2,
    pitcher_form: float = 0.1,
    repeats: float = 0.3,
) -> League:
    """Draw about so many pitches.

    ``effect`` is added to the logit of a whiff on a pitch right after a whiff; ``day_form`` and
    ``pitcher_form`` are standard deviations from game to game; ``repeats`` is the chance that a pitcher
    throws the kind he has just thrown, whatever came of it.
    """
    rng = np.random.default_rng(seed)
    appearances = round(pitches / 3.9)
    pitchers = hitters
    # A hitter's game: two or three times against the starter, the rest against one or two relievers.
    visits = round(appearances / 4.3)
    who = rng.choice(hitters, visits, p=(w := rng.uniform(0.3, 1.0, hitters)) / w.sum())
    starter, reliever = rng.integers(0, pitchers, (2, visits))
    turn = np.tile([0, 0, 0, 1, 1], visits)
    sure, often, mostly = (rng.random((visits, 1)) < chance for chance in (2.0, 0.6, 0.7))
    kept = np.hstack([sure, sure, often, sure, mostly]).ravel()
    visit = np.repeat(np.arange(visits), 5)[kept]
    turn = turn[kept]
    hitter, pitcher = who[visit], np.where(turn == 0, starter[visit], reliever[visit])
    skill = 0.35 * rng.standard_normal(hitters)
    handles = 0.25 * rng.standard_normal((hitters, 3))
    stuff = 0.25 * rng.standard_normal(pitchers)
    mix = rng.dirichlet([9, 5, 3], pitchers).cumsum(axis=1)
    form = (day_form * rng.standard_normal(visits))[visit]
    his_day = pitcher_form * rng.standard_normal((visits, 2))
    level = skill[hitter] + stuff[pitcher] + form + his_day[visit, turn]

    n = len(visit)
    live = np.arange(n)
    balls, strikes, last_kind = np.zeros((3, n), np.int64)
    missed = np.zeros(n, bool)
    columns = []
    for number in range(1, 16):
        draws = rng.random((4, len(live)))
        kind = (draws[0][:, None] > mix[pitcher[live]]).sum(axis=1).clip(max=2)
        if number > 1:
            kind = np.where(draws[3] < repeats, last_kind[live], kind)
        b, s = balls[live], strikes[live]
        logit = np.array([-2.35, -1.75, -1.85])[kind] + handles[hitter[live], kind] + level[live]
        logit = logit + 0.15 * s - 0.05 * b + effect * missed[live]
        whiffs = draws[1] < expit(logit)
        other = np.searchsorted([0.44, 0.63 - 0.05 * (number > 3), 0.81], draws[2])
        outcome = np.where(whiffs, WHIFF, np.array([BALL, CALLED, FOUL, IN_PLAY])[other])
        columns.append((live, np.full(len(live), number), b, s, kind, outcome))
        strike = (outcome == CALLED) | whiffs | ((outcome == FOUL) & (s < 2))
        balls[live] += outcome == BALL
        strikes[live] += strike
        missed[live], last_kind[live] = whiffs, kind
        live = live[(outcome != IN_PLAY) & (balls[live] < 4) & (strikes[live] < 3)]
    at, pitch, b, s, kind, outcome = (np.concatenate(parts) for parts in zip(*columns, strict=True))
    order = np.lexsort((pitch, at))
    at, pitch, b, s, kind, outcome = (z[order] for z in (at, pitch, b, s, kind, outcome))
    return League(hitter[at], pitcher[at], visit[at], at, pitch, b, s, kind, outcome)
