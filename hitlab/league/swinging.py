"""The hitter's model: chances of a swing, a miss and a foul, and the make-up of the contact.

The season draws from these chances and the truth averages them, through the same functions. All
the numbers are invented, to land near common practice (no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from hitlab.league.effects import Effects
from hitlab.league.pitching import FAMILY, IS_FASTBALL, Pitches
from hitlab.league.talents import TALENTS

__all__ = ["FOUL_TIP_SHARE", "Chances", "Contact", "chances", "contact", "whiff_chance"]

Floats = NDArray[np.float64]

_ROW = {talent: row for row, talent in enumerate(TALENTS)}

_WHIFF_BY_KIND = np.array([-1.73, -2.23, -1.63, -1.19, -1.27, -1.25, -1.05, -1.30])
_LATE_BY_KIND_MS = np.array([1.5, 1.0, 0.5, -3.0, -4.0, -4.0, -4.0, -4.0])
# Hitters take at 0-0 and 3-0 and protect with two strikes; balls along the rows.
_SWING_BY_COUNT = np.array(
    [[-0.45, 0.05, 0.50], [-0.15, 0.20, 0.60], [-0.10, 0.30, 0.70], [-1.90, 0.15, 0.80]]
)

FOUL_TIP_SHARE = 0.035
"""Share of fouls that are tips held by the catcher."""


@dataclass(frozen=True, slots=True)
class Chances:
    """Chances on one pitch.

    Attributes
    ----------
    swing
        Chance of a swing.
    whiff
        Chance of a miss, given a swing.
    foul
        Chance of a foul (foul tips included), given contact.
    called_strike
        Chance that the pitch is called a strike, given no swing.
    hits_hitter
        Chance that it hits the hitter, given no swing.
    """

    swing: Floats
    whiff: Floats
    foul: Floats
    called_strike: Floats
    hits_hitter: Floats


def _handling(talents: Floats, family: NDArray[np.int64]) -> Floats:
    """Talent for the pitch's family: readiness, breaking or offspeed."""
    others = np.where(family == 1, talents[_ROW["breaking"]], talents[_ROW["offspeed"]])
    return np.asarray(np.where(family == 0, talents[_ROW["readiness"]], others))


def chances(
    talents: Floats,
    pitches: Pitches,
    balls: Any,
    strikes: Any,
    whiffed: Any,
    same_hand: Any,
    form: Any,
    effects: Effects,
) -> Chances:
    """Chances of what becomes of pitches; all arguments broadcast against each other.

    Parameters
    ----------
    talents
        Scaled talents along the first axis.
    pitches
        The pitches.
    balls, strikes
        The count before the pitch.
    whiffed
        True where the last swing of this plate appearance was a whiff.
    same_hand
        True where the pitcher's hand is on the hitter's side.
    form
        Today's form on the logit scale, positive is better.
    effects
        What is switched on.
    """
    distance = pitches.distance
    strike_like = expit((1 - distance) / 0.10)
    by_count = effects.count * _SWING_BY_COUNT[balls, strikes]
    at_strike = expit(0.86 + talents[_ROW["swings_at_strikes"]] - 0.9 * (distance - 0.6) + by_count)
    at_ball = expit(-0.19 + talents[_ROW["swings_at_balls"]] - 2.2 * (distance - 1.0) + by_count)
    swing = strike_like * at_strike + (1 - strike_like) * at_ball

    two_strikes = np.equal(strikes, 2)
    foul = expit(-0.09 + talents[_ROW["foul"]] + 0.3 * (distance - 0.6) + 0.12 * effects.count * two_strikes)
    return Chances(
        swing=swing,
        whiff=whiff_chance(talents, pitches, strikes, whiffed, same_hand, form, effects),
        foul=foul,
        called_strike=expit((1 - distance) / 0.05),
        hits_hitter=0.30 * expit((pitches.across - 2.15) / 0.1),
    )


def whiff_chance(
    talents: Floats, pitches: Pitches, strikes: Any, whiffed: Any, same_hand: Any, form: Any, effects: Effects
) -> Floats:
    """Chance of a miss, given a swing: all that the last swing changes. Arguments as for :func:`chances`."""
    outside = np.maximum(pitches.distance - 0.75, 0.0)
    family = FAMILY[pitches.kind]
    fast = IS_FASTBALL[pitches.kind]
    across = np.clip(pitches.across, -1.5, 1.5)
    up = np.clip(pitches.up, -1.5, 1.5)
    two_strikes = np.equal(strikes, 2)
    logit = (
        _WHIFF_BY_KIND[pitches.kind]
        + 0.06 * pitches.surplus_mph
        + 1.5 * outside
        + np.where(fast, 0.35, -0.35) * up
        + pitches.hard_to_hit
        + talents[_ROW["whiff"]]
        - _handling(talents, family)
        - talents[_ROW["inside"]] * across
        - talents[_ROW["high"]] * up
        + effects.platoon * np.where(same_hand, 0.07, -0.07)
        + effects.whiff_response * whiffed
        - 0.10 * effects.count * two_strikes
        - form
    )
    return np.asarray(expit(logit))


@dataclass(frozen=True, slots=True)
class Contact:
    """The make-up of contact, before its own luck.

    Attributes
    ----------
    top_mph
        Exit speed on average for a ball met squarely and on time.
    offset_in, offset_spread_in
        Mean and standard deviation of how far the bat's middle passes under the ball's.
    late_ms
        Mean lateness in milliseconds; negative is early.
    """

    top_mph: Floats
    offset_in: Floats
    offset_spread_in: Floats
    late_ms: Floats


def contact(
    talents: Floats, pitches: Pitches, strikes: Any, same_hand: Any, form: Any, effects: Effects
) -> Contact:
    """Make-up of contact; arguments as for :func:`chances`."""
    family = FAMILY[pitches.kind]
    fast = family == 0
    handling = _handling(talents, family)
    across = np.clip(pitches.across, -1.5, 1.5)
    up = np.clip(pitches.up, -1.5, 1.5)
    two_strikes = np.equal(strikes, 2)
    away_from_middle = np.maximum(pitches.distance - 0.5, 0.0)
    top = (
        100.9
        + talents[_ROW["power"]]
        + 0.12 * pitches.surplus_mph
        + np.where(fast, 0.6, -0.6)
        - 3.0 * pitches.hard_to_hit
        - effects.platoon * np.where(same_hand, 0.4, -0.4)
        + 4.0 * (talents[_ROW["inside"]] * across + talents[_ROW["high"]] * up)
        - 1.2 * effects.count * two_strikes
        + 8.0 * form
    )
    spread = 0.88 * np.exp(-talents[_ROW["aim"]] - 0.2 * handling + 0.16 * away_from_middle)
    # The readier the hitter, the closer to on time: late on fastballs, early on the others.
    late = (
        _LATE_BY_KIND_MS[pitches.kind]
        + 0.6 * pitches.surplus_mph
        + 1.8 * across
        + 1.0 * up
        + np.where(fast, -9.0, 9.0) * handling
    )
    return Contact(
        top_mph=top,
        offset_in=0.08 + 0.25 * up + 0.01 * talents[_ROW["lift"]],
        offset_spread_in=spread,
        late_ms=late,
    )
