"""Pitches of an invented league: kind, speed and place, by pitcher, count and hands.

Places are held in half zones: ``across`` is 0 over the middle of the plate and 1 where a ball just
touches its inner edge, ``up`` is 0 at the middle of the hitter's own strike zone and 1 where a ball
just touches its top. So hitters of any height face the same pitches. All the numbers are invented,
to land near common practice (no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.league.effects import Effects
from hitlab.league.talents import Pitchers
from hitlab.pitches.schema import FAMILIES, PITCH_KINDS

__all__ = ["HALF_PLATE_IN", "KINDS", "Pitches", "arsenals", "draw_pitches", "half_zone_in"]

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

KINDS = PITCH_KINDS[:8]
"""The kinds thrown here: all but ``other``."""

BALL_RADIUS_IN = 1.45
HALF_PLATE_IN = 8.5 + BALL_RADIUS_IN
"""Middle of the plate to the middle of a ball that just touches the plate's edge."""

_SHARE = np.array([0.345, 0.155, 0.08, 0.20, 0.09, 0.105, 0.023, 0.002])
_SPEED_MPH = np.array([93.6, 92.6, 88.8, 85.0, 79.2, 85.6, 86.0, 75.0])
_SPEED_SPREAD_MPH = 1.3
_UP = np.array([0.35, -0.15, 0.05, -0.38, -0.42, -0.42, -0.60, -0.1])
_ACROSS_SAME_HAND = np.array([0.0, 0.25, -0.25, -0.45, -0.30, 0.05, 0.0, 0.0])
_ACROSS_OTHER_HAND = np.array([-0.10, -0.20, 0.25, 0.15, 0.10, -0.35, -0.1, 0.0])
_SCATTER = 0.89

IS_FASTBALL = np.array([kind in FAMILIES["fastball"] for kind in KINDS])
IS_BREAKING = np.array([kind in FAMILIES["breaking"] for kind in KINDS])
FAMILY = np.where(IS_FASTBALL, 0, np.where(IS_BREAKING, 1, 2))
"""0 fastball, 1 breaking, 2 offspeed."""

# The pitcher's lead in the count, balls along the rows: positive when the hitter is in trouble.
_LEAD = np.array([[0.0, 0.5, 1.0], [-0.3, 0.2, 0.9], [-0.8, -0.2, 0.6], [-1.2, -0.8, 0.1]])


@dataclass(frozen=True, slots=True)
class Pitches:
    """Some pitches; all arrays have one shape.

    Attributes
    ----------
    kind
        Index into :data:`KINDS`.
    speed_mph
        Speed at release.
    across, up
        Place in half zones; ``across`` is positive toward the hitter.
    hard_to_hit
        How hard the pitcher is to hit, as in :class:`Pitchers`.
    """

    kind: Whole
    speed_mph: Floats
    across: Floats
    up: Floats
    hard_to_hit: Floats

    @property
    def surplus_mph(self) -> Floats:
        """Speed above what is usual for the kind."""
        return np.asarray(self.speed_mph - _SPEED_MPH[self.kind])

    @property
    def distance(self) -> Floats:
        """The larger of the two distances from the zone's middle; 1 on the zone's edge."""
        return np.maximum(np.abs(self.across), np.abs(self.up))


def half_zone_in(bottom_in: Floats, top_in: Floats) -> tuple[Floats, Floats]:
    """Height of the zone's middle, and from there to a ball that just touches the top; inches."""
    return (bottom_in + top_in) / 2, (top_in - bottom_in) / 2 + BALL_RADIUS_IN


def arsenals(pitchers: Pitchers, effects: Effects) -> Floats:
    """Cumulative shares of the kinds, shape (pitchers, 4 balls, 3 strikes, kinds)."""
    logs = np.log(_SHARE) + pitchers.leaning
    # A pitcher who is ahead throws fewer fastballs.
    shift = -0.45 * effects.count * _LEAD[:, :, None] * IS_FASTBALL
    shares = np.exp(logs[:, None, None, :] + shift)
    cumulative = np.cumsum(shares, axis=-1)
    return np.asarray(cumulative / cumulative[..., -1:])


def draw_pitches(
    pitchers: Pitchers,
    arsenal: Floats,
    pitcher: Whole,
    same_hand: NDArray[np.bool_],
    balls: Any,
    strikes: Any,
    uniforms: Floats,
    normals: Floats,
    effects: Effects,
) -> Pitches:
    """Turn random numbers into pitches.

    Parameters
    ----------
    pitchers, arsenal
        The league's pitchers and their :func:`arsenals`.
    pitcher
        Who throws; shape (n,).
    same_hand
        True where the pitcher's hand is on the hitter's side; shape (n,).
    balls, strikes
        The count: whole numbers, or arrays of shape (n,).
    uniforms
        Draws for the kind, shape (n,).
    normals
        Standard normal draws for speed, across and up, shape (3, n).
    effects
        What is switched on.
    """
    kind = (arsenal[pitcher, balls, strikes] < uniforms[:, None]).sum(axis=1)
    speed = _SPEED_MPH[kind] + pitchers.speed_mph[pitcher] + _SPEED_SPREAD_MPH * normals[0]
    lead = _LEAD[balls, strikes]
    # Wider when ahead, closer to the middle when behind.
    scatter = _SCATTER * pitchers.scatter[pitcher] * (1 + 0.13 * effects.count * lead)
    hands = np.where(same_hand, _ACROSS_SAME_HAND[kind], _ACROSS_OTHER_HAND[kind])
    across = min(effects.platoon, 1.0) * hands + scatter * normals[1]
    up = _UP[kind] + scatter * normals[2]
    return Pitches(kind, speed, across, up, pitchers.hard_to_hit[pitcher])
