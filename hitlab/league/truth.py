"""True rates of hitters: their expectation under the model, not what happened.

For every count the chances on a pitch are averaged over one common set of the league's pitches
(quasi-random points, so that the error is far below that of random ones), for each hitter. Then
the plate appearance is followed as a Markov chain over the count and over whether the last swing
missed; its expected visits weigh the averages. So the rates hold for the counts that the hitter
gets himself into, against the league's usual pitchers. Left out, as rare: bunts, intentional walks.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from hitlab.league.ball_off_bat import chance_of_hard
from hitlab.league.effects import Effects
from hitlab.league.pitching import FAMILY, arsenals, draw_pitches
from hitlab.league.swinging import FOUL_TIP_SHARE, Chances, chances, contact, whiff_chance
from hitlab.league.talents import SWITCH, Pitchers

__all__ = ["RATES", "rates_with_error"]

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

RATES = (
    "hard_per_swing",
    "hard_per_in_play",
    "whiffs_per_swing",
    "fouls_per_swing",
    "foul_tips_per_swing",
    "in_play_per_swing",
    "swings_per_pitch",
    "hard_per_pitch",
    "hard_per_swing_fastball",
    "hard_per_swing_breaking",
    "hard_per_swing_offspeed",
    "whiffs_per_swing_fastball",
    "whiffs_per_swing_breaking",
    "whiffs_per_swing_offspeed",
    "hard_per_swing_two_strikes",
    "swings_per_plate_appearance",
    "pitches_per_plate_appearance",
    "strikeouts_per_plate_appearance",
    "walks_per_plate_appearance",
)
"""Rates in the truth. ``fouls_per_swing`` leaves the foul tips out; they have their own rate."""

# What is averaged over pitches, for each hitter and state of the plate appearance.
_SWING, _WHIFF, _FOUL, _IN_PLAY, _HARD, _CALLED, _BY_PITCH = range(7)
_BY_FAMILY = 7  # swings, whiffs and hard-hit balls of the three families follow
_AVERAGES = _BY_FAMILY + 9
_DIMENSIONS = 8
_SETS = 4
_FOULS_KEPT = 1 - FOUL_TIP_SHARE


def _points(number: int, dimensions: int, shift: Floats) -> Floats:
    """Quasi-random points in the unit cube by steps of irrational numbers, moved by a shift.

    The steps are powers of the root of x**(d + 1) = x + 1, the golden ratio's kin in d dimensions.
    """
    root = 2.0
    for _ in range(60):
        root = (1 + root) ** (1 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1)
    points = (shift[:, None] + steps[:, None] * np.arange(1, number + 1)) % 1.0
    return np.clip(points, 1e-9, 1 - 1e-9)


def _averages(
    talents: Floats, side: int, pitchers: Pitchers, effects: Effects, points: int, shift: Floats
) -> Floats:
    """Averages for hitters of one side, shape (hitters, balls, strikes, missed before, averages)."""
    arsenal = arsenals(pitchers, effects)
    result = np.zeros((talents.shape[1], 4, 3, 2, _AVERAGES))
    column = talents[:, :, None]
    shares = np.cumsum(pitchers.share)[:-1]
    for balls, strikes in np.ndindex(4, 3):
        unit = _points(points, _DIMENSIONS, (shift + 0.37 * (3 * balls + strikes)) % 1.0)
        pitcher = np.searchsorted(shares, unit[0])
        normals = ndtri(unit[2:])
        left = pitchers.left[pitcher]
        same_hand = np.zeros(points, dtype=bool) if side == SWITCH else left == (side == 0)
        form = effects.day_form * normals[3]
        pitches = draw_pitches(
            pitchers, arsenal, pitcher, same_hand, balls, strikes, unit[1], normals[:3], effects
        )
        made = contact(column, pitches, strikes, same_hand, form, effects)
        hard = chance_of_hard(made, normals[4:6])
        chance = chances(column, pitches, balls, strikes, 0, same_hand, form, effects)
        again = whiff_chance(column, pitches, strikes, 1, same_hand, form, effects)
        for missed, one in enumerate((chance, replace(chance, whiff=again))):
            result[:, balls, strikes, missed] = _average(one, hard, FAMILY[pitches.kind])
    return result


def _average(chance: Chances, hard: Floats, family: Whole) -> Floats:
    """Means over pitches, shape (hitters, averages)."""
    swing, taken = chance.swing, 1 - chance.swing
    miss = swing * chance.whiff
    touch = swing - miss
    foul = touch * chance.foul
    in_play = touch - foul
    hit_hard = in_play * hard
    not_hit = taken * (1 - chance.hits_hitter)
    means = [
        each.mean(axis=1)
        for each in (swing, miss, foul, in_play, hit_hard, not_hit * chance.called_strike, taken - not_hit)
    ]
    by_family = np.eye(3)[family] / len(family)
    means += [*(swing @ by_family).T, *(miss @ by_family).T, *(hit_hard @ by_family).T]
    return np.stack(means, axis=1)


def _visits(averages: Floats) -> Floats:
    """Return the expected pitches thrown at each state a plate appearance, shape (hitters, 4, 3, 2)."""
    visits = np.zeros(averages.shape[:-1])
    visits[:, 0, 0, 0] = 1.0
    for balls, strikes, missed in np.ndindex(4, 3, 2):
        # Fouls clear the memory of a miss, so the missed state is left first.
        missed = 1 - missed
        at = averages[:, balls, strikes, missed]
        kept_foul = at[:, _FOUL] * _FOULS_KEPT
        here = visits[:, balls, strikes]
        if strikes == 2 and missed == 0:
            here[:, 0] /= 1 - kept_foul
        flow = here[:, missed].copy()
        ball = 1 - at[:, [_SWING, _CALLED, _BY_PITCH]].sum(axis=1)
        if balls < 3:
            visits[:, balls + 1, strikes, missed] += flow * ball
        if strikes < 2:
            visits[:, balls, strikes + 1, 1] += flow * at[:, _WHIFF]
            visits[:, balls, strikes + 1, 0] += flow * at[:, _FOUL]
            visits[:, balls, strikes + 1, missed] += flow * at[:, _CALLED]
        elif missed == 1:
            here[:, 0] += flow * kept_foul
    return visits


def _rates(averages: Floats) -> Floats:
    """Rates in the order of :data:`RATES`, shape (rates, hitters)."""
    visits = _visits(averages)
    weighted = visits[..., None] * averages
    total = weighted.sum(axis=(1, 2, 3)).T
    swings, misses, fouls, in_play, hard = total[[_SWING, _WHIFF, _FOUL, _IN_PLAY, _HARD]]
    by_family = total[_BY_FAMILY:].reshape(3, 3, -1)
    two = weighted[:, :, 2].sum(axis=(1, 2)).T
    pitches = visits.sum(axis=(1, 2, 3))
    strikeouts = two[_WHIFF] + two[_FOUL] * FOUL_TIP_SHARE + two[_CALLED]
    full = averages[:, 3]
    balls = 1 - full[..., [_SWING, _CALLED, _BY_PITCH]].sum(axis=-1)
    walks = (visits[:, 3] * balls).sum(axis=(1, 2))
    return np.stack(
        [
            hard / swings,
            hard / in_play,
            misses / swings,
            fouls * _FOULS_KEPT / swings,
            fouls * FOUL_TIP_SHARE / swings,
            in_play / swings,
            swings / pitches,
            hard / pitches,
            *(by_family[2] / by_family[0]),
            *(by_family[1] / by_family[0]),
            two[_HARD] / two[_SWING],
            swings,
            pitches,
            strikeouts,
            walks,
        ]
    )


def rates_with_error(
    talents: Floats, side: Whole, pitchers: Pitchers, effects: Effects, points: int = 4096
) -> tuple[dict[str, Floats], dict[str, float]]:
    """Return true rates of hitters and the numerical error of their mean.

    Parameters
    ----------
    talents
        Scaled talents, shape (12, hitters).
    side
        0 left, 1 right, 2 switch; shape (hitters,).
    pitchers
        The league's pitchers, met in proportion to their expected share of the pitches.
    effects
        What is switched on.
    points
        Quasi-random pitches for each of the twelve counts, shared among all hitters.

    Returns
    -------
    Rates by name, each of shape (hitters,); and by name the standard error of the league's mean rate
    over four sets of pitches. The error is common to the hitters, who meet the same pitches.
    """
    shifts = np.random.default_rng(2_718).random((_SETS, _DIMENSIONS))
    sets = np.zeros((_SETS, len(RATES), talents.shape[1]))
    for number, shift in enumerate(shifts):
        for one in np.unique(side):
            who = np.flatnonzero(side == one)
            averages = _averages(talents[:, who], int(one), pitchers, effects, points // _SETS, shift)
            sets[number][:, who] = _rates(averages)
    means = sets.mean(axis=0)
    errors = sets.mean(axis=2).std(axis=0, ddof=1) / np.sqrt(_SETS)
    return dict(zip(RATES, means, strict=True)), dict(zip(RATES, errors.tolist(), strict=True))
