"""Bat and ball as the scale and the test stand see them: mass ratio, collision efficiency, exit speed.

Of a bat only three numbers matter for the exit speed: how fast the struck point moves, how much mass
stands behind it (the effective mass) and how springy ball and bat are together (the ball-bat
coefficient of restitution, which falls as the speed rises and is taken as given here). The last two
make the collision efficiency. A college bat is certified on the coefficient of restitution, not on
the efficiency: of two bats at the limit the one with more mass behind the barrel still hits harder at
the same speed (and is harder to swing).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import (
    Columns,
    FloatArray,
    QuantityError,
    broadcast,
    keeps_index,
    quantity,
    warn_of_swing,
)

__all__ = [
    "BALL_MASS_OZ",
    "BALL_RADIUS_IN",
    "BAT_RADIUS_IN",
    "COLLEGE_RESTITUTION_LIMIT",
    "BatAtPoint",
    "bat_at_point",
    "collision_efficiency",
    "exit_speed",
    "restitution_from_efficiency",
]

BALL_MASS_OZ = 5.125
"""Middle of 5 to 5 1/4 oz (Official Baseball Rules 3.01)."""
BALL_RADIUS_IN = 9.125 / (2 * np.pi)
"""From the middle of 9 to 9 1/4 in of circumference (Official Baseball Rules 3.01): 1.452 in."""
BAT_RADIUS_IN = 2.61 / 2
"""Largest barrel allowed, 2.61 in across (Official Baseball Rules 3.02)."""
COLLEGE_RESTITUTION_LIMIT = 0.50
"""Highest ball-bat coefficient of restitution of a certified college bat (NCAA, from 1 January 2011)."""


@dataclass(frozen=True, slots=True, eq=False)
class BatAtPoint(Columns):
    """What a bat weighs for the ball at one point of the barrel.

    Attributes
    ----------
    effective_mass_oz
        Mass of a free point that would recoil alike, in ounces.
    mass_ratio
        Ball mass divided by the effective mass.
    collision_efficiency
        Share of the ball's speed that comes back from a bat at rest (may be negative).
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    Two bats that weigh and balance alike, the second with the greater swing weight:

    >>> from hitlab.physics import bat_at_point
    >>> bats = bat_at_point(31.0, 22.0, [10000.0, 12000.0], 27.0)
    >>> bats.effective_mass_oz.round(1).tolist(), bats.mass_ratio.round(2).tolist()
    ([22.5, 26.0], [0.23, 0.2])
    """

    _TELLS = "collision_efficiency"

    effective_mass_oz: FloatArray
    mass_ratio: FloatArray
    collision_efficiency: FloatArray
    index: Any = field(default=None, repr=False)


@keeps_index
def collision_efficiency(restitution: ArrayLike, mass_ratio: ArrayLike) -> FloatArray:
    """Share of the ball's speed that comes back from a bat at rest.

    Parameters
    ----------
    restitution
        Ball-bat coefficient of restitution, 0 to 1.
    mass_ratio
        Ball mass divided by the bat's effective mass, 0 to 5.

    Returns
    -------
    numpy.ndarray
        (restitution - mass_ratio) / (1 + mass_ratio), of the common shape; from -1 to 1.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Notes
    -----
    Source: Nathan, Am. J. Phys. 71 (2003) 134.
    """
    e = quantity("restitution", restitution, "", 0, 1)
    r = quantity("mass_ratio", mass_ratio, "", 0, 5)
    broadcast({"restitution": e, "mass_ratio": r})
    return np.asarray((e - r) / (1 + r))


@keeps_index
def restitution_from_efficiency(efficiency: ArrayLike, mass_ratio: ArrayLike) -> FloatArray:
    """Ball-bat coefficient of restitution from the measured collision efficiency.

    This is what a certification laboratory does: the ball is fired at a bat at rest, the rebound gives
    the efficiency, the bat's balance and moment of inertia give the mass ratio.

    Parameters
    ----------
    efficiency
        Collision efficiency, -1 to 1.
    mass_ratio
        Ball mass divided by the bat's effective mass, 0 to 5.

    Returns
    -------
    numpy.ndarray
        efficiency x (1 + mass_ratio) + mass_ratio, to be held against
        :data:`COLLEGE_RESTITUTION_LIMIT`.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.
    """
    q = quantity("efficiency", efficiency, "", -1, 1)
    r = quantity("mass_ratio", mass_ratio, "", 0, 5)
    broadcast({"efficiency": q, "mass_ratio": r})
    return np.asarray(q * (1 + r) + r)


@keeps_index
def exit_speed(pitch_mph: ArrayLike, bat_mph: ArrayLike, efficiency: ArrayLike = 0.2) -> FloatArray:
    """Exit speed of a ball struck square, head-on.

    Parameters
    ----------
    pitch_mph
        Speed of the ball as it meets the bat (not at release), 0 to 150 mph.
    bat_mph
        Speed of the struck point of the bat, 0 to 150 mph.
    efficiency
        Collision efficiency, -1 to 1.

    Returns
    -------
    numpy.ndarray
        efficiency x pitch + (1 + efficiency) x bat, in mph.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Notes
    -----
    Source: Nathan, Am. J. Phys. 71 (2003) 134. The bat's speed counts about six times the pitch's.

    Examples
    --------
    Ten more miles an hour from the bat are worth six times as much as ten more from the pitch:

    >>> from hitlab.physics import exit_speed
    >>> exit_speed([85.0, 95.0, 85.0], [70.0, 70.0, 80.0]).round(1).tolist()
    [101.0, 103.0, 113.0]
    """
    pitch = quantity("pitch_mph", pitch_mph, "mph", 0, 150)
    bat = quantity("bat_mph", bat_mph, "mph", 0, 150)
    q = quantity("efficiency", efficiency, "", -1, 1)
    broadcast({"pitch_mph": pitch, "bat_mph": bat, "efficiency": q})
    warn_of_swing(pitch, bat)
    return np.asarray(q * pitch + (1 + q) * bat)


@keeps_index
def bat_at_point(
    weight_oz: ArrayLike,
    balance_in: ArrayLike,
    inertia_oz_in2: ArrayLike,
    point_in: ArrayLike,
    restitution: ArrayLike = COLLEGE_RESTITUTION_LIMIT,
    *,
    pivot_in: ArrayLike = 6.0,
    held_at_pivot: bool = False,
    ball_mass_oz: ArrayLike = BALL_MASS_OZ,
) -> BatAtPoint:
    """Find the effective mass and collision efficiency from what a scale and a swing timer measure.

    Parameters
    ----------
    weight_oz
        Weight, 10 to 60 oz.
    balance_in
        Balance point from the knob, 5 to 40 in.
    inertia_oz_in2
        Moment of inertia about ``pivot_in``, 500 to 40000 oz in2 (wood, 33 in: about 11000).
    point_in
        Where the ball strikes, from the knob, 5 to 42 in (the good spot lies about 6 in from the end).
    restitution
        Ball-bat coefficient of restitution there, 0 to 1. The college limit by default.
    pivot_in
        Where the moment of inertia was measured, from the knob, 0 to 20 in; 6 in is usual.
    held_at_pivot
        True for the test stand, in which the bat turns about the pivot; False for the free bat of a swing.
    ball_mass_oz
        Ball mass, 1 to 10 oz.

    Returns
    -------
    BatAtPoint
        Effective mass, mass ratio and collision efficiency, of the arguments' common shape.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the moment of inertia is too small for the weight
        and balance (no such body exists).

    Notes
    -----
    Free: 1/effective = 1/weight + (point - balance)^2 / inertia about the balance point. Held:
    effective = inertia about the pivot / (point - pivot)^2. Rigid-body mechanics; a bat also bends, so
    that away from the good spot the real efficiency is lower (Nathan, Am. J. Phys. 68 (2000) 979).

    Examples
    --------
    A 31 oz bat struck near its good spot, 27 in from the knob, and out near the end, 32 in from it:

    >>> from hitlab.physics import bat_at_point
    >>> bat = bat_at_point(31.0, 22.0, 11000.0, [27.0, 32.0])
    >>> bat.effective_mass_oz.round(1).tolist(), bat.collision_efficiency.round(2).tolist()
    ([24.7, 15.4], [0.24, 0.13])
    """
    arguments = {
        "weight_oz": quantity("weight_oz", weight_oz, "ounces", 10, 60),
        "balance_in": quantity("balance_in", balance_in, "inches", 5, 40),
        "inertia_oz_in2": quantity("inertia_oz_in2", inertia_oz_in2, "oz in2", 500, 40000),
        "point_in": quantity("point_in", point_in, "inches", 5, 42),
        "restitution": quantity("restitution", restitution, "", 0, 1),
        "pivot_in": quantity("pivot_in", pivot_in, "inches", 0, 20),
        "ball_mass_oz": quantity("ball_mass_oz", ball_mass_oz, "ounces", 1, 10),
    }
    broadcast(arguments)
    weight, balance, inertia, point, _, pivot, ball = arguments.values()
    about_balance = inertia - weight * (balance - pivot) ** 2
    if np.any(about_balance <= 0):
        lowest = np.nanmax(weight * (balance - pivot) ** 2)
        raise QuantityError(
            f"inertia_oz_in2 is too small for a bat of this weight and balance: the weight alone at the "
            f"balance point gives {lowest:.0f} oz in2 about the pivot. Check that the moment of inertia "
            "is in oz in2 and was taken about pivot_in."
        )
    if held_at_pivot:
        if np.any(point <= pivot):
            raise QuantityError(
                "point_in lies at or inside pivot_in: a bat held there cannot be struck there. "
                "Give both in inches from the knob, point_in the larger."
            )
        effective = inertia / (point - pivot) ** 2
    else:
        effective = 1 / (1 / weight + (point - balance) ** 2 / about_balance)
    ratio = np.asarray(ball / effective)
    return BatAtPoint(np.asarray(effective), ratio, collision_efficiency(restitution, ratio))
