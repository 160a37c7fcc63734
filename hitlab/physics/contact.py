"""The collision of ball and bat: why the launch angle follows from where the ball is struck.

The bat is a free, rigid, round body during the thousandth of a second that contact lasts; the hands
push too weakly to matter in that time. Along the line of centres the collision efficiency says how
much speed comes back. Across it the ball either grips the bat (rolls or springs off) or slides with
Coulomb friction, whichever asks for the smaller push; that is where backspin comes from.

The line of centres rises by ``descent + asin(offset / (ball radius + bat radius))``. With a ball of
1.45 in and a bat of 1.3 in a tenth of an inch of offset turns it by two degrees.

The grip. A ball that rolls off the bat is what older work assumed, and measurements exclude it (Cross &
Nathan 2006). The ball springs back across the line of centres as well: measured are .16 at 4 m/s (Cross &
Nathan 2006), .405 +- .010 for a bat swung at a resting ball (Kensrud, Nathan & Smith 2017), .30 +- .02 on a
clamped bat at 85 to 120 mph (Nathan et al. 2012); all as quoted. Game collisions close at about 150 mph,
outside all three. The default takes .30, the fastest, and a barrel that rolls as the one of 2017 did
(tangential recoil .295): together 1.01 of the surface speed that a bat without recoil would give a rolling
ball. With .405 it is 1.09. Friction .2 is the lower bound that balls without gross slip set at those speeds
(.15 to .20); it binds from about 40 degrees of launch. How spin and launch then compare with what was
published stands in ``tests/test_physics_as_measured.py`` and, as a table, in ``tests/reference/measured.md``.

The barrel droops: its tip is lower than the handle (29.6 +- 8.7 degrees at contact in one study, elite
softball, Kidokoro & Morishita; nothing as good was found for baseball). An undercut then pushes the ball
toward the opposite field, and gives it the sidespin that flies to that field are known for.

What this leaves out: the bat bends and rings only as far as the collision efficiency says, and the ball
keeps its shape. Incoming spin is left by 28 % (23 to 29 % by the published equations with a free bat), where
a clamped bat left 7 %.

Axes: x toward centre field, y toward the hitter's pull side, z up.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN, BAT_RADIUS_IN, restitution_from_efficiency
from hitlab.physics.quantities import (
    KG_PER_OUNCE,
    METRES_PER_INCH,
    MPS_PER_MPH,
    RAD_PER_S_PER_RPM,
    Columns,
    FloatArray,
    QuantityError,
    broadcast,
    keeps_index,
    quantity,
    warn_of_swing,
)

__all__ = [
    "FRICTION",
    "ROLL_RATIO",
    "SPRINGING",
    "Collision",
    "collide",
    "line_of_centres",
    "offset_from_miss",
]

_SPHERE = 0.4
"""Moment of inertia of a uniform ball in units of mass x radius squared."""
SPRINGING = 0.30
"""Tangential restitution: clamped bat, 85 to 120 mph, 47 impacts, .30 +- .02 (Nathan, Cantakos, Kesman,
Mathew & Lukash, Procedia Eng. 34 (2012) 182; as quoted)."""
FRICTION = 0.2
"""Sliding friction at speed, the upper of the quoted lower bounds .15 and .20 (the same, and Kensrud, Nathan
& Smith, Am. J. Phys. 85 (2017) 503)."""
ROLL_RATIO = 0.75
"""73 % of a recoil of .295 x 3.5, the bat of Kensrud, Nathan & Smith 2017 (as quoted)."""


@dataclass(frozen=True, slots=True, eq=False)
class Collision(Columns):
    """Ball and bat after the collision; NaN where they missed each other.

    Attributes
    ----------
    touched
        False where the offset lies beyond touching, the two did not approach or a value is missing.
    gripped
        True where the ball's surface came to grip the bat's, at once or after sliding; False where it slid
        through the whole contact.
    exit_mph, launch_deg, spray_deg
        Speed, angle above the horizontal, direction (0 centre field, positive the pull side, beyond
        90 either way: backward).
    backspin_rpm
        Spin about the horizontal axis across the flight; positive lifts.
    sidespin_rpm
        Spin about the axis across the flight in its vertical plane; positive curves toward the pull side.
    rifle_rpm
        Spin about the direction of flight; bends nothing.
    bat_forward_mph, bat_pull_mph, bat_up_mph
        Velocity of the struck point of the bat afterwards, along x, y and z.
    bat_roll_rpm
        Roll of the bat about its long axis; positive as backspin is for the ball.
    energy_lost_j
        Energy that left the motion, in joules; never negative.
    known
        False where a value was missing.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    The bat half an inch under the ball, and three inches under it:

    >>> from hitlab.physics import collide
    >>> hit = collide(85.0, 6.0, 70.0, 10.0, [0.5, 3.0])
    >>> hit.touched.tolist(), hit.exit_mph.round().tolist(), hit.energy_lost_j.round().tolist()
    ([True, False], [101.0, nan], [206.0, nan])
    """

    touched: np.ndarray
    gripped: np.ndarray
    exit_mph: FloatArray
    launch_deg: FloatArray
    spray_deg: FloatArray
    backspin_rpm: FloatArray
    sidespin_rpm: FloatArray
    rifle_rpm: FloatArray
    bat_forward_mph: FloatArray
    bat_pull_mph: FloatArray
    bat_up_mph: FloatArray
    bat_roll_rpm: FloatArray
    energy_lost_j: FloatArray
    known: np.ndarray
    index: Any = field(default=None, repr=False)


@keeps_index
def line_of_centres(
    offset_in: ArrayLike,
    descent_deg: ArrayLike = 0.0,
    *,
    ball_radius_in: ArrayLike = BALL_RADIUS_IN,
    bat_radius_in: ArrayLike = BAT_RADIUS_IN,
) -> FloatArray:
    """Elevation of the line from the bat's axis to the ball's centre at first touch.

    Parameters
    ----------
    offset_in
        Distance of the bat's axis under the ball's path, perpendicular to it, -20 to 20 in.
    descent_deg
        The ball's descent, -45 to 60 degrees.
    ball_radius_in, bat_radius_in
        Radii, above 0 and up to 5 in.

    Returns
    -------
    numpy.ndarray
        Degrees, positive upward; NaN where the offset lies beyond touching (a miss, not an error).

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Examples
    --------
    Level, an inch under, and beyond touching:

    >>> from hitlab.physics import line_of_centres
    >>> line_of_centres([0.0, 1.0, 3.0]).round(1).tolist()
    [0.0, 21.3, nan]
    """
    offset = quantity("offset_in", offset_in, "inches", -20, 20)
    descent = quantity("descent_deg", descent_deg, "degrees", -45, 60)
    ball = quantity("ball_radius_in", ball_radius_in, "inches", 0, 5, above=True)
    bat = quantity("bat_radius_in", bat_radius_in, "inches", 0, 5, above=True)
    broadcast({"offset_in": offset, "descent_deg": descent, "ball_radius_in": ball, "bat_radius_in": bat})
    return np.asarray(descent + np.degrees(_safe_arcsin(offset / (ball + bat))))


def _safe_arcsin(sine: FloatArray) -> FloatArray:
    return np.arcsin(np.where(np.abs(sine) <= 1, sine, np.nan))


@keeps_index
def offset_from_miss(
    miss_in: ArrayLike,
    pitch_mph: ArrayLike,
    descent_deg: ArrayLike,
    bat_mph: ArrayLike,
    attack_deg: ArrayLike,
    *,
    ball_radius_in: ArrayLike = BALL_RADIUS_IN,
    bat_radius_in: ArrayLike = BAT_RADIUS_IN,
) -> FloatArray:
    """Offset at first touch from how far the bat's path passes under the ball's path.

    The two differ because ball and bat touch before they are level with each other: a rising bat that
    would pass exactly through the ball touches its lower half first.

    Parameters
    ----------
    miss_in
        Height of the ball's centre above the bat's axis when both are equally far out, had they gone
        through each other, -20 to 20 in; positive when the bat is under the ball.
    pitch_mph, bat_mph
        Speeds where they meet, 0 to 150 mph.
    descent_deg, attack_deg
        Descent of the ball, -45 to 60 degrees, and attack angle of the bat, -60 to 80 degrees.
    ball_radius_in, bat_radius_in
        Radii, above 0 and up to 5 in.

    Returns
    -------
    numpy.ndarray
        Offset in inches, perpendicular to the ball's path; NaN where they pass each other.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Examples
    --------
    A rising bat on its way through the middle of the ball first touches below the middle:

    >>> from hitlab.physics import offset_from_miss
    >>> offset_from_miss(0.0, 85.0, 6.0, 70.0, [-6.0, 10.0]).round(2).tolist()
    [-0.26, 0.09]
    """
    arguments = {
        "miss_in": quantity("miss_in", miss_in, "inches", -20, 20),
        "pitch_mph": quantity("pitch_mph", pitch_mph, "mph", 0, 150),
        "descent_deg": quantity("descent_deg", descent_deg, "degrees", -45, 60),
        "bat_mph": quantity("bat_mph", bat_mph, "mph", 0, 150),
        "attack_deg": quantity("attack_deg", attack_deg, "degrees", -60, 80),
        "ball_radius_in": quantity("ball_radius_in", ball_radius_in, "inches", 0, 5, above=True),
        "bat_radius_in": quantity("bat_radius_in", bat_radius_in, "inches", 0, 5, above=True),
    }
    broadcast(arguments)
    miss, pitch, descent, bat, attack, ball_radius, bat_radius = arguments.values()
    descent, attack = np.radians(descent), np.radians(attack)
    return _touching(
        miss, pitch * np.cos(descent), pitch * np.sin(descent), bat * np.cos(attack), bat * np.sin(attack),
        ball_radius + bat_radius,
    )  # fmt: skip


def _touching(
    miss: FloatArray,
    ball_level: FloatArray,
    ball_down: FloatArray,
    bat_level: FloatArray,
    bat_up: FloatArray,
    reach: FloatArray | float,
) -> FloatArray:
    """Offset at first touch, in the plane across the bat."""
    # Elevation of the ball's line of approach as the moving bat sees it.
    approach = np.arctan2(ball_down + bat_up, ball_level + bat_level)
    elevation = approach + _safe_arcsin(miss * np.cos(approach) / reach)
    return np.asarray(reach * np.sin(elevation - np.arctan2(ball_down, ball_level)))


def first_touch(
    miss_in: FloatArray,
    pitch_mph: float,
    descent_deg: float,
    bat_mph: FloatArray,
    attack_deg: FloatArray,
    bat_direction_deg: FloatArray,
    droop_deg: FloatArray,
    *,
    at_touch: bool,
) -> FloatArray:
    """Offset at first touch for a bat that is turned and droops; arguments as in :func:`collide`, checked.

    Parameters
    ----------
    miss_in
        Height of the ball's centre above the bat's axis: when both are equally far out, had they gone through
        each other, or with ``at_touch`` when they touch.
    pitch_mph, descent_deg, bat_mph, attack_deg, bat_direction_deg, droop_deg
        See :func:`collide`.
    at_touch
        What ``miss_in`` means.

    Returns
    -------
    numpy.ndarray
        Inches, perpendicular to the ball's path as seen along the bat; NaN where they pass each other.
    """
    descent, facing, droop = np.radians(descent_deg), np.radians(bat_direction_deg), np.radians(droop_deg)
    cos_droop = np.cos(droop)
    level = pitch_mph * np.cos(descent)
    ball_level = level * np.cos(facing)
    ball_down = pitch_mph * np.sin(descent) * cos_droop + level * np.sin(facing) * np.sin(droop)
    across = miss_in * cos_droop
    if at_touch:
        return np.asarray(across * np.cos(np.arctan2(ball_down, ball_level)))
    rise = np.sin(np.radians(attack_deg)) / cos_droop
    return _touching(
        across, ball_level, ball_down, bat_mph * np.sqrt(1 - rise * rise), bat_mph * rise,
        BALL_RADIUS_IN + BAT_RADIUS_IN,
    )  # fmt: skip


@keeps_index
def collide(
    pitch_mph: ArrayLike,
    descent_deg: ArrayLike,
    bat_mph: ArrayLike,
    attack_deg: ArrayLike,
    offset_in: ArrayLike = 0.0,
    *,
    pitch_backspin_rpm: ArrayLike = 0.0,
    bat_direction_deg: ArrayLike = 0.0,
    droop_deg: ArrayLike = 0.0,
    efficiency: ArrayLike = 0.2,
    mass_ratio: ArrayLike = 0.25,
    tangential_restitution: ArrayLike = SPRINGING,
    friction: ArrayLike = FRICTION,
    roll_ratio: ArrayLike = ROLL_RATIO,
    ball_radius_in: ArrayLike = BALL_RADIUS_IN,
    bat_radius_in: ArrayLike = BAT_RADIUS_IN,
    ball_mass_oz: ArrayLike = BALL_MASS_OZ,
) -> Collision:
    """Strike a ball with a round bat, off centre, in three dimensions.

    Parameters
    ----------
    pitch_mph
        Speed of the ball as it meets the bat, 0 to 150 mph.
    descent_deg
        Angle of the ball's path below the horizontal, -45 to 60 degrees (positive downward).
    bat_mph
        Speed of the struck point of the bat, 0 to 150 mph.
    attack_deg
        Angle of that point's path above the horizontal, -60 to 80 degrees.
    offset_in
        Distance of the bat's axis under the ball's path at first touch, perpendicular to that path (as
        seen along the bat), -20 to 20 in. Beyond touching: a miss, not an error.
    pitch_backspin_rpm
        Spin of the pitch, -6000 to 6000 rpm; positive backspin (fastball), negative topspin (curveball).
    bat_direction_deg
        Where the bat faces in the horizontal plane, -80 to 80 degrees; positive toward the pull side. A level
        bat's struck point moves that way.
    droop_deg
        How far the tip of the barrel hangs under the handle, -60 to 60 degrees. The struck point moves square
        to the bat, so that under a drooping barrel it rises toward the opposite field.
    efficiency
        Collision efficiency along the line of centres, -1 to 1 (about 0.2 for a wooden bat's good spot).
    mass_ratio
        Ball mass divided by the bat's effective mass, 0 to 5; 0 is a wall.
    tangential_restitution
        Springing back across the line of centres, -1 to 1: 0 leaves rolling, 1 is a perfectly springy grip.
        The default and those below: see the module.
    friction
        Coefficient of sliding friction, 0 to 10, or infinity for grip at any offset.
    roll_ratio
        Ball mass x bat radius squared / the bat's moment of inertia about its long axis, 0 to 5. A solid
        barrel of ash, 2.6 in across and 12 in long with its taper, has 0.4; 0 cannot roll.
    ball_radius_in, bat_radius_in
        Radii, above 0 and up to 5 in.
    ball_mass_oz
        Ball mass, 1 to 10 oz; only the energy depends on it.

    Returns
    -------
    Collision
        Ball and bat afterwards, of the arguments' common shape; NaN where missed or missing.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, the shapes do not fit, efficiency and mass ratio together ask
        for a coefficient of restitution below 0 or above 1, or no path square to a bat that droops so far
        rises as steeply as the attack angle.

    Warns
    -----
    UnitWarning
        If both speeds look like metres a second, or one of them like kilometres an hour.

    Notes
    -----
    Source: Sawicki, Hubbard & Stronge, Am. J. Phys. 71 (2003) 1152 (geometry, rolling and sliding);
    Cross & Nathan, Am. J. Phys. 74 (2006) 896 (tangential restitution). Along the barrel the bat recoils
    with the same effective mass as across it, a simplification worth about 2 % of that push. A ball that
    slides first and then grips springs back as far as friction allows in the whole of the contact.

    Examples
    --------
    The bat 0.5 in under the ball's path sends a line drive, 1 in under it a fly ball with more backspin:

    >>> from hitlab.physics import collide
    >>> hit = collide(85.0, 6.0, 70.0, 10.0, [0.5, 1.0])
    >>> hit.exit_mph.round().tolist(), hit.launch_deg.round().tolist(), hit.backspin_rpm.round(-2).tolist()
    ([101.0, 97.0], [21.0, 37.0], [1900.0, 4300.0])
    """
    arguments = {
        "pitch_mph": quantity("pitch_mph", pitch_mph, "mph", 0, 150),
        "descent_deg": quantity("descent_deg", descent_deg, "degrees", -45, 60),
        "bat_mph": quantity("bat_mph", bat_mph, "mph", 0, 150),
        "attack_deg": quantity("attack_deg", attack_deg, "degrees", -60, 80),
        "offset_in": quantity("offset_in", offset_in, "inches", -20, 20),
        "pitch_backspin_rpm": quantity("pitch_backspin_rpm", pitch_backspin_rpm, "rpm", -6000, 6000),
        "bat_direction_deg": quantity("bat_direction_deg", bat_direction_deg, "degrees", -80, 80),
        "droop_deg": quantity("droop_deg", droop_deg, "degrees", -60, 60),
        "efficiency": quantity("efficiency", efficiency, "", -1, 1),
        "mass_ratio": quantity("mass_ratio", mass_ratio, "", 0, 5),
        "tangential_restitution": quantity("tangential_restitution", tangential_restitution, "", -1, 1),
        "friction": quantity("friction", friction, "", 0, 10, infinite=True),
        "roll_ratio": quantity("roll_ratio", roll_ratio, "", 0, 5),
        "ball_radius_in": quantity("ball_radius_in", ball_radius_in, "inches", 0, 5, above=True),
        "bat_radius_in": quantity("bat_radius_in", bat_radius_in, "inches", 0, 5, above=True),
        "ball_mass_oz": quantity("ball_mass_oz", ball_mass_oz, "ounces", 1, 10),
    }
    shape = broadcast(arguments)
    _check_restitution(arguments["efficiency"], arguments["mass_ratio"])
    _check_path(arguments["attack_deg"], arguments["droop_deg"])
    warn_of_swing(arguments["pitch_mph"], arguments["bat_mph"])
    return strike(shape, *arguments.values())


def _check_path(attack_deg: FloatArray, droop_deg: FloatArray) -> None:
    bad = np.abs(attack_deg) + np.abs(droop_deg) >= 90
    if bad.any():
        attack, droop = (
            np.broadcast_to(values, bad.shape)[bad].flat[0] for values in (attack_deg, droop_deg)
        )
        raise QuantityError(
            f"attack_deg is {attack:g} with a droop_deg of {droop:g}: no path square to such a bat rises so "
            "steeply; together they stay under 90 degrees. Check both, in degrees."
        )


def _check_restitution(efficiency: FloatArray, mass_ratio: FloatArray) -> None:
    implied = restitution_from_efficiency(efficiency, mass_ratio)
    # A hair of rounding is forgiven: 1.0 is reached through a division.
    bad = (implied < -1e-12) | (implied > 1 + 1e-12)
    if bad.any():
        raise QuantityError(
            f"efficiency and mass_ratio together ask for a ball-bat coefficient of restitution of "
            f"{implied[bad].flat[0]:.3f}; accepted is 0 to 1 (efficiency x (1 + mass_ratio) + mass_ratio). "
            "Take the efficiency from collision_efficiency(restitution, mass_ratio)."
        )


def strike(
    shape: tuple[int, ...],
    pitch_mph: FloatArray,
    descent_deg: FloatArray,
    bat_mph: FloatArray,
    attack_deg: FloatArray,
    offset_in: FloatArray,
    pitch_backspin_rpm: FloatArray,
    bat_direction_deg: FloatArray,
    droop_deg: FloatArray,
    q: FloatArray,
    r: FloatArray,
    springing: FloatArray,
    friction: FloatArray,
    roll_ratio: FloatArray,
    ball_radius_in: FloatArray,
    bat_radius_in: FloatArray,
    ball_mass_oz: FloatArray,
) -> Collision:
    """Collide in the bat's frame: h where it faces, p along it to the pull side, u across both; SI units.

    The arguments are those of :func:`collide`, checked. A drooping barrel turns p upward and u with it.
    Impulses are per unit of ball mass, so that they are changes of the ball's velocity.
    """
    descent, attack = np.radians(descent_deg), np.radians(attack_deg)
    facing, droop = np.radians(bat_direction_deg), np.radians(droop_deg)
    cos_facing, sin_facing = np.cos(facing), np.sin(facing)
    cos_droop, sin_droop = np.cos(droop), np.sin(droop)
    pitch, bat = pitch_mph * MPS_PER_MPH, bat_mph * MPS_PER_MPH
    ball_radius = ball_radius_in * METRES_PER_INCH
    bat_radius = bat_radius_in * METRES_PER_INCH

    level, down = pitch * np.cos(descent), -pitch * np.sin(descent)
    ball_h, sideways = -level * cos_facing, level * sin_facing
    ball_p, ball_z = sideways * cos_droop + down * sin_droop, down * cos_droop - sideways * sin_droop
    # Square to the bat, and as steep as asked.
    rise = np.sin(attack) / cos_droop
    bat_h, bat_z = bat * np.sqrt(1 - rise * rise), bat * rise
    # Backspin of a pitch turns about +y, that of a batted ball about -y.
    spin = pitch_backspin_rpm * RAD_PER_S_PER_RPM
    spin_h, spin_p, spin_z = spin * sin_facing, spin * cos_facing * cos_droop, -spin * cos_facing * sin_droop

    # The descent as it is seen along the bat.
    seen_descent = np.arctan2(-ball_z, -ball_h)
    elevation = seen_descent + _safe_arcsin(offset_in / (ball_radius_in + bat_radius_in))
    normal_h, normal_z = np.cos(elevation), np.sin(elevation)

    # The ball's surface at the contact point moves with v - radius x (spin x normal).
    closing = -((ball_h - bat_h) * normal_h + (ball_z - bat_z) * normal_z)
    given = (
        pitch_mph + descent_deg + bat_mph + attack_deg + offset_in + pitch_backspin_rpm + bat_direction_deg
        + droop_deg + q + r + springing + roll_ratio + ball_radius_in + bat_radius_in + ball_mass_oz
    )  # fmt: skip
    known = np.broadcast_to(np.isfinite(given) & ~np.isnan(friction), shape)
    touched = np.broadcast_to(closing > 0, shape) & known
    rising = -normal_z * (ball_h - bat_h) + normal_h * (ball_z - bat_z) + ball_radius * spin_p
    along = ball_p - ball_radius * (spin_z * normal_h - spin_h * normal_z)

    push = np.where(closing > 0, (1 + q) * closing, np.nan)
    # Inverse masses of the contact point in units of the ball's own: it moves, it spins, the bat recoils
    # and (in the vertical plane) rolls.
    rub_rising = -rising / (1 + 1 / _SPHERE + r + roll_ratio)
    rub_along = -along / (1 + 1 / _SPHERE + r)
    # What ends the slip, and what grip asks for with the springing back.
    stopping = np.hypot(rub_rising, rub_along)
    needed = (1 + springing) * stopping
    with np.errstate(invalid="ignore", over="ignore"):
        # 0 x infinity: a frictionless limit is never meant by infinity, and nothing is needed there.
        limit = np.where(np.isinf(friction), np.inf, friction * push)
        kept = np.where(needed > limit, limit / np.where(stopping > 0, stopping, 1), 1 + springing)
    gripped = touched & ((needed <= limit) | (stopping <= limit))
    rub_rising, rub_along = kept * rub_rising, kept * rub_along

    change_h = push * normal_h - rub_rising * normal_z
    change_z = push * normal_z + rub_rising * normal_h
    new_h, new_p, new_z = ball_h + change_h, ball_p + rub_along, ball_z + change_z
    # Torque of the rub about the ball's centre: -radius x (normal x rub), normal = (normal_h, 0, normal_z).
    twist = 1 / (_SPHERE * ball_radius)
    new_spin_h = spin_h + twist * rub_along * normal_z
    new_spin_p = spin_p + twist * rub_rising
    new_spin_z = spin_z - twist * rub_along * normal_h
    roll = roll_ratio * rub_rising / bat_radius

    # What the ball gains less what the bat gives; written with the impulses, it holds for a wall too.
    ball_gain = (
        push * (normal_h * (ball_h + new_h) + normal_z * (ball_z + new_z)) / 2
        + rub_rising * (normal_h * (ball_z + new_z) - normal_z * (ball_h + new_h)) / 2
        + rub_along * (ball_p + new_p) / 2
        + _SPHERE
        * ball_radius**2
        * (new_spin_h**2 + new_spin_p**2 + new_spin_z**2 - spin_h**2 - spin_p**2 - spin_z**2)
        / 2
    )
    squared = push**2 + rub_rising**2 + rub_along**2
    bat_gain = -bat_h * change_h - bat_z * change_z + (r * squared + roll_ratio * rub_rising**2) / 2
    lost = -(ball_gain + bat_gain) * ball_mass_oz * KG_PER_OUNCE

    def turned(h: FloatArray, p: FloatArray, u: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        level_p = p * cos_droop - u * sin_droop
        return (
            h * cos_facing - level_p * sin_facing,
            h * sin_facing + level_p * cos_facing,
            p * sin_droop + u * cos_droop,
        )

    out_x, out_y, out_z = turned(new_h, new_p, new_z)
    spin_x, spin_y, spin_up = turned(new_spin_h, new_spin_p, new_spin_z)
    bat_x, bat_y, bat_up = turned(bat_h - r * change_h, -r * rub_along, bat_z - r * change_z)
    flat = np.hypot(out_x, out_y)
    spray, launch = np.arctan2(out_y, out_x), np.arctan2(out_z, flat)
    cos_launch, sin_launch = np.cos(launch), np.sin(launch)
    cos_spray, sin_spray = np.cos(spray), np.sin(spray)
    spin_out = spin_x * cos_spray + spin_y * sin_spray

    def full(values: FloatArray) -> FloatArray:
        # A miss leaves NaN everywhere, the bat's state included.
        return np.where(touched, values, np.nan)

    return Collision(
        touched=touched.copy(),
        gripped=gripped.copy(),
        exit_mph=full(np.hypot(flat, out_z) / MPS_PER_MPH),
        launch_deg=full(np.degrees(launch)),
        spray_deg=full(np.degrees(spray)),
        backspin_rpm=full((spin_x * sin_spray - spin_y * cos_spray) / RAD_PER_S_PER_RPM),
        sidespin_rpm=full((spin_up * cos_launch - spin_out * sin_launch) / RAD_PER_S_PER_RPM),
        rifle_rpm=full((spin_out * cos_launch + spin_up * sin_launch) / RAD_PER_S_PER_RPM),
        bat_forward_mph=full(bat_x / MPS_PER_MPH),
        bat_pull_mph=full(bat_y / MPS_PER_MPH),
        bat_up_mph=full(bat_up / MPS_PER_MPH),
        bat_roll_rpm=full(-roll / RAD_PER_S_PER_RPM),
        energy_lost_j=full(lost),
        known=known.copy(),
    )
