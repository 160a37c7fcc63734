"""One swing at one pitch with given errors: what becomes of it.

Timing decides where bat and ball meet, how far the bat is turned and how far from its good spot it
strikes; the vertical miss and the crossing of the two paths decide the offset; the collision gives the
ball off the bat; the flight says whether it leaves the park.

How the vertical miss is understood matters. ``path``: the height by which the bat's path passes under
the ball's path (what a hitter's aim scatters by). ``touch``: the offset at first touch. With the
first the swing's angle also turns the line of centres, with the second it hardly matters.

What this leaves out: hitters adjust within a swing, bat speed and angle change along the arc, the bat is
held level along its length, and a fielder may catch anything.
"""

from __future__ import annotations

import warnings
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.bats import BALL_RADIUS_IN, BAT_RADIUS_IN
from hitlab.physics.contact import collide, offset_from_miss
from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions, fly
from hitlab.physics.meeting import meet
from hitlab.physics.quantities import FloatArray, QuantityError, RangeWarning, broadcast, quantity

__all__ = [
    "DEMO_FENCE",
    "LINE_DRIVE_DEG",
    "MISS_KINDS",
    "OUTCOME_WORDS",
    "Contact",
    "PitchAtPlate",
    "Swing",
    "SwingOutcomes",
    "aim_for_launch",
    "contact_values",
    "swing_outcomes",
]

OUTCOME_WORDS = ("whiff", "foul", "ground ball", "line drive", "fly ball", "home run")
"""What a swing becomes; the outcome codes are places in this list."""
LINE_DRIVE_DEG = (10.0, 25.0)
"""Launch angles of a line drive; below: ground ball, above: fly ball (common practice, no source)."""
MISS_KINDS = ("path", "touch")
DEMO_FENCE = Fence((-45, -22.5, 0, 22.5, 45), (330, 375, 400, 375, 330), (8, 8, 8, 8, 8))
"""An invented park of common size."""

_FOUL_LINE_DEG = 45.0


@dataclass(frozen=True, slots=True)
class PitchAtPlate:
    """A pitch as it meets the bat.

    Attributes
    ----------
    speed_mph
        Speed there, above 0 and up to 150 mph (about 8 % less than at release).
    descent_deg
        Descent, -45 to 60 degrees, positive downward (fastball about 6, curveball about 10).
    backspin_rpm
        Spin, -6000 to 6000 rpm; negative topspin.
    """

    speed_mph: float = 85.0
    descent_deg: float = 6.0
    backspin_rpm: float = 2000.0


@dataclass(frozen=True, slots=True)
class Swing:
    """A swing.

    Attributes
    ----------
    bat_mph
        Speed of the good spot, above 0 and up to 150 mph.
    attack_deg
        Attack angle, -60 to 80 degrees, positive upward.
    efficiency, mass_ratio
        At the good spot; see :func:`hitlab.physics.contact.collide`.
    efficiency_loss_per_in2
        How fast the efficiency falls away from the good spot, per square inch, 0 to 1. The default brings
        0.2 down to nothing at 6 in (from memory of measured bats).
    pivot_in, tip_in
        See :func:`hitlab.physics.meeting.meet`.
    """

    bat_mph: float = 70.0
    attack_deg: float = 10.0
    efficiency: float = 0.2
    mass_ratio: float = 0.25
    efficiency_loss_per_in2: float = 0.0055
    pivot_in: float = 28.0
    tip_in: float = 6.0


@dataclass(frozen=True, slots=True, eq=False)
class SwingOutcomes:
    """What each of many swings became.

    Attributes
    ----------
    outcome
        Place in :data:`OUTCOME_WORDS`; -1 where a value was missing.
    offset_in
        Offset at first touch; NaN for a whiff, as all that follows.
    exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm
        Off the bat.
    carry_ft
        Of fair balls hit upward; NaN for others.
    """

    outcome: np.ndarray
    offset_in: FloatArray
    exit_mph: FloatArray
    launch_deg: FloatArray
    spray_deg: FloatArray
    backspin_rpm: FloatArray
    sidespin_rpm: FloatArray
    carry_ft: FloatArray


def _check_kind(miss: str) -> None:
    if miss not in MISS_KINDS:
        raise QuantityError(
            f"miss is {miss!r}; accepted is 'path' or 'touch'. 'path' scatters the hitter's aim, 'touch' "
            "the offset at first touch."
        )


@dataclass(frozen=True, slots=True, eq=False)
class Contact:
    """Bat and ball just after they met.

    Attributes
    ----------
    known
        False where an argument is missing.
    touched
        False for a whiff.
    values
        ``offset_in``, ``exit_mph``, ``launch_deg``, ``spray_deg``, ``backspin_rpm``, ``sidespin_rpm``;
        NaN for a whiff.
    """

    known: np.ndarray
    touched: np.ndarray
    values: dict[str, FloatArray]


def contact_values(
    miss_in: ArrayLike,
    timing_error_ms: ArrayLike,
    attack_deg: ArrayLike,
    *,
    pitch: PitchAtPlate,
    swing: Swing,
    miss: str,
) -> Contact:
    """Bring bat and ball together: meeting place, offset at first touch, collision.

    Parameters
    ----------
    miss_in, timing_error_ms, attack_deg, pitch, swing, miss
        See :func:`swing_outcomes`.

    Returns
    -------
    Contact
        Arrays of the common shape of the first three arguments.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Examples
    --------
    Aimed at the middle of the ball, half an inch under it, and four inches under it:

    >>> from hitlab.physics import PitchAtPlate, Swing, contact_values
    >>> met = contact_values(
    ...     [0.0, 0.5, 4.0], 0.0, 10.0, pitch=PitchAtPlate(), swing=Swing(), miss="path")
    >>> met.touched.tolist(), met.values["launch_deg"].round().tolist()
    ([True, True, False], [7.0, 22.0, nan])
    """
    _check_kind(miss)
    missed = quantity("miss_in", miss_in, "inches", -20, 20)
    error = quantity("timing_error_ms", timing_error_ms, "milliseconds", -500, 500)
    attack = quantity("attack_deg", attack_deg, "degrees", -60, 80)
    shape = broadcast({"miss_in": missed, "timing_error_ms": error, "attack_deg": attack})
    met = meet(
        error,
        pitch.speed_mph,
        swing.bat_mph,
        pivot_in=swing.pivot_in,
        tip_in=swing.tip_in,
        efficiency=swing.efficiency,
    )
    descent = np.radians(quantity("descent_deg", pitch.descent_deg, "degrees", -45, 60))
    # In front of the intended place the ball is higher by its descent, the bat by its attack.
    total = missed + met.forward_in * (np.tan(descent) - np.tan(np.radians(attack)))
    total = np.where(np.abs(total) <= 20, total, np.nan)
    turn = np.cos(np.radians(met.bat_direction_deg))
    level, down = np.cos(descent) * turn, np.sin(descent)
    point_mph = swing.bat_mph * (1 + met.beyond_in / swing.pivot_in)
    if miss == "path":
        # The ball as seen along the turned bat.
        offset = offset_from_miss(
            total,
            pitch.speed_mph * np.hypot(level, down),
            np.degrees(np.arctan2(down, level)),
            np.minimum(point_mph, 150),
            attack,
        )
    else:
        offset = total * np.cos(np.arctan2(down, level))
    loss = quantity("efficiency_loss_per_in2", swing.efficiency_loss_per_in2, "per square inch", 0, 1)
    # No coefficient of restitution below zero: a dead end of the bat still recoils.
    efficiency = np.maximum(
        swing.efficiency - loss * met.beyond_in**2, -swing.mass_ratio / (1 + swing.mass_ratio)
    )
    hit = collide(
        pitch.speed_mph,
        pitch.descent_deg,
        np.minimum(point_mph, 150),
        attack,
        offset,
        pitch_backspin_rpm=pitch.backspin_rpm,
        bat_direction_deg=met.bat_direction_deg,
        efficiency=efficiency,
        mass_ratio=swing.mass_ratio,
    )
    known = np.broadcast_to(np.isfinite(missed + error + attack), shape)
    values = {
        "offset_in": np.broadcast_to(np.where(hit.touched, offset, np.nan), shape),
        "exit_mph": hit.exit_mph,
        "launch_deg": hit.launch_deg,
        "spray_deg": hit.spray_deg,
        "backspin_rpm": hit.backspin_rpm,
        "sidespin_rpm": hit.sidespin_rpm,
    }
    return Contact(known, hit.touched, values)


def swing_outcomes(
    miss_in: ArrayLike,
    timing_error_ms: ArrayLike = 0.0,
    attack_deg: ArrayLike | None = None,
    *,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    miss: str = "path",
    conditions: Conditions | None = None,
    fence: Fence = DEMO_FENCE,
) -> SwingOutcomes:
    """Tell what swings with given errors become.

    Parameters
    ----------
    miss_in
        Vertical miss, -20 to 20 in; positive when the bat passes under the ball.
    timing_error_ms
        Timing error, -500 to 500 ms; positive late.
    attack_deg
        Attack angle of each swing, -60 to 80 degrees; the swing's own by default.
    pitch, swing
        What is thrown and how it is swung at; see their classes.
    miss
        What ``miss_in`` means: ``path`` (how far the paths pass each other) or ``touch`` (offset at first
        touch, measured upright).
    conditions, fence
        For the flight; see :func:`hitlab.physics.flight.fly`.

    Returns
    -------
    SwingOutcomes
        Arrays of the common shape of the first three arguments.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Notes
    -----
    A foul leaves the bat outside the foul lines (45 degrees), or lands or passes the fence outside them.
    Balls that only just graze are fouls straight back here; a catcher who holds one makes it a foul tip.

    Examples
    --------
    On time, and under the middle of the ball by nothing, 0.5, 1.5 and 4 in:

    >>> from hitlab.physics import swing_outcomes
    >>> from hitlab.physics.one_swing import OUTCOME_WORDS
    >>> became = swing_outcomes([0.0, 0.5, 1.5, 4.0])
    >>> [OUTCOME_WORDS[place] for place in became.outcome]
    ['ground ball', 'line drive', 'fly ball', 'whiff']
    >>> became.launch_deg.round().tolist()
    [7.0, 22.0, 56.0, nan]
    """
    pitch, swing = pitch or PitchAtPlate(), swing or Swing()
    attack = swing.attack_deg if attack_deg is None else attack_deg
    contact = contact_values(miss_in, timing_error_ms, attack, pitch=pitch, swing=swing, miss=miss)
    touched, values = contact.touched, contact.values
    launch, spray = values["launch_deg"], values["spray_deg"]
    outcome = np.zeros(touched.shape, dtype=np.int8)
    fair = touched & (np.abs(spray) <= _FOUL_LINE_DEG)
    outcome[touched & ~fair] = 1
    carry = np.full(touched.shape, np.nan)
    up = fair & (launch > 0)
    with warnings.catch_warnings():
        # Slow and much-spun balls lie outside the fits; they fall close by whichever way they are flown.
        warnings.simplefilter("ignore", RangeWarning)
        flight = fly(
            values["exit_mph"][up],
            launch[up],
            spray[up],
            np.clip(values["backspin_rpm"][up], -10000, 10000),
            np.clip(values["sidespin_rpm"][up], -10000, 10000),
            conditions=conditions,
            fence=fence,
        )
    carry[up] = flight.carry_ft
    low, high = LINE_DRIVE_DEG
    outcome[fair] = np.where(launch[fair] < low, 2, np.where(launch[fair] <= high, 3, 4))
    crossing, over = flight.fence_bearing_deg, flight.over_fence
    assert crossing is not None
    assert over is not None
    last = np.where(np.isfinite(crossing), crossing, flight.bearing_deg)
    airborne = outcome[up]
    airborne[(np.abs(last) > _FOUL_LINE_DEG) & (airborne >= 3)] = 1
    airborne[over & (airborne >= 3)] = 5
    outcome[up] = airborne
    outcome[~contact.known] = -1
    return SwingOutcomes(outcome, **values, carry_ft=carry)


def aim_for_launch(
    launch_deg: float,
    *,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    miss: str = "path",
) -> float:
    """Find the vertical miss that sends a ball hit on time off at a given launch angle.

    It puts swings of different angles on an equal footing: each aims for the same ball flight.

    Parameters
    ----------
    launch_deg
        Launch angle wanted, -30 to 45 degrees.
    pitch, swing, miss
        See :func:`swing_outcomes`.

    Returns
    -------
    float
        Miss in inches.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or no contact sends the ball off that way.

    Examples
    --------
    How far under the ball to swing for 25 degrees, with a level bat and with one that rises by 12 degrees:

    >>> from hitlab.physics import Swing, aim_for_launch
    >>> [round(aim_for_launch(25.0, swing=Swing(attack_deg=angle)), 2) for angle in (0.0, 12.0)]
    [0.84, 0.54]
    """
    wanted = float(quantity("launch_deg", launch_deg, "degrees", -30, 45))
    pitch, swing = pitch or PitchAtPlate(), swing or Swing()
    reach = BALL_RADIUS_IN + BAT_RADIUS_IN
    # Launch rises with the miss until the ball is hardly grazed.
    aims = np.linspace(-0.8 * reach, 0.8 * reach, 1601)
    launch = contact_values(aims, 0.0, swing.attack_deg, pitch=pitch, swing=swing, miss=miss).values[
        "launch_deg"
    ]
    rising = np.flatnonzero(np.diff(np.sign(launch - wanted)) > 0)
    if not rising.size:
        raise QuantityError(
            f"launch_deg is {wanted:g}; no contact of this swing (attack {swing.attack_deg:g} degrees) sends "
            "the ball off that way. Choose an angle nearer to the swing's own."
        )
    i = rising[0]
    share = (wanted - launch[i]) / (launch[i + 1] - launch[i])
    return float(aims[i] + share * (aims[i + 1] - aims[i]))
