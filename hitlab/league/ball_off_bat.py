"""From contact to the ball off the bat: exit speed, launch angle, spray angle, side of a foul.

A simple picture of the physics: exit speed falls with the square of the offset between bat and ball
and with the square of the timing error, launch angle follows the line of centres, spray follows
the timing. So hard-hit balls lie around launch angles from -5 to 25 degrees. The numbers are
invented, to land near common practice (no source).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from hitlab.league.swinging import Contact

__all__ = ["HARD_MPH", "BallOffBat", "chance_of_hard", "foul_sides", "strike_ball"]

Floats = NDArray[np.float64]

HARD_MPH = 95.0
_ROUNDING_MPH = 0.05
_RADII_IN = 2.75
_BEST_OFFSET_IN = 0.22
_MPH_PER_IN2 = 13.0
_MPH_PER_MS2 = 0.040
_LUCK_MPH = 6.5
_LATE_SPREAD_MS = 7.0
_FOUL_LATE_SPREAD_MS = 12.0


@dataclass(frozen=True, slots=True)
class BallOffBat:
    """Balls in play, rounded to a tenth as a radar gives them; arrays of one shape."""

    exit_mph: Floats
    launch_deg: Floats
    spray_deg: Floats


def _expected_exit_mph(contact: Contact, offset_in: Floats, late_ms: Floats) -> Floats:
    return contact.top_mph - _MPH_PER_IN2 * (offset_in - _BEST_OFFSET_IN) ** 2 - _MPH_PER_MS2 * late_ms**2


def _meet(contact: Contact, normals: Floats) -> tuple[Floats, Floats]:
    offset = contact.offset_in + contact.offset_spread_in * normals[0]
    # A ball in play was closer to on time than the average contact.
    late = 0.7 * contact.late_ms + _LATE_SPREAD_MS * normals[1]
    return offset, late


def strike_ball(contact: Contact, lift_deg: Floats, normals: Floats) -> BallOffBat:
    """Draw balls in play.

    Parameters
    ----------
    contact
        Make-up of the contact, arrays of shape (n,).
    lift_deg
        The hitter's lift, shape (n,).
    normals
        Standard normal draws, shape (5, n).
    """
    offset, late = _meet(contact, normals)
    speed = _expected_exit_mph(contact, offset, late) + _LUCK_MPH * normals[2]
    centres = np.degrees(np.arcsin(np.clip(offset / _RADII_IN, -1, 1)))
    launch = 8.5 + 0.6 * lift_deg + 1.35 * centres + 4.0 * normals[3]
    # The foul lines lie at 45 degrees: a smooth squeeze keeps balls in play between them.
    spray = 44.9 * np.tanh((5.0 - 2.6 * late + 9.0 * normals[4]) / 45)
    return BallOffBat(
        exit_mph=np.round(np.clip(speed, 10, 122), 1),
        launch_deg=np.round(np.clip(launch, -85, 85), 1),
        spray_deg=np.round(spray, 1),
    )


def chance_of_hard(contact: Contact, normals: Floats) -> Floats:
    """Chance that a ball in play is hard-hit, given offset and timing.

    Parameters
    ----------
    contact
        Make-up of the contact.
    normals
        Standard normal draws for offset and timing, along the first axis.
    """
    offset, late = _meet(contact, normals)
    above = _expected_exit_mph(contact, offset, late) - (HARD_MPH - _ROUNDING_MPH)
    return np.asarray(ndtr(above / _LUCK_MPH))


def foul_sides(contact: Contact, normals: Floats) -> NDArray[np.int64]:
    """Side of fouls by timing: 0 pull (early), 1 straight back (on time), 2 opposite (late)."""
    late = 1.5 * contact.late_ms + _FOUL_LATE_SPREAD_MS * normals
    return np.searchsorted([-5.5, 5.5], late).astype(np.int64)
