"""One swing at one pitch with given errors: what becomes of it.

Timing decides where bat and ball meet, how far the bat is turned and how far from its good spot it
strikes; the vertical miss and the crossing of the two paths decide the offset; the collision gives the
ball off the bat; the flight says whether it leaves the park.

How the vertical miss is understood matters. ``path``: the height by which the bat's path passes under
the ball's path (what a hitter's aim scatters by). ``touch``: the offset at first touch. With the
first the swing's angle also turns the line of centres, with the second it hardly matters.

The barrel droops by 30 degrees unless told otherwise: 29.6 +- 8.7 at contact in one study (elite softball,
Kidokoro & Morishita; as quoted); nothing as good was found for baseball. With the droop come an attack angle
that follows the arc, undercuts toward the opposite field, and fouls whose side does not tell the timing.

What this leaves out: hitters adjust within a swing, bat speed changes along the arc, and a fielder may catch
anything.
"""

from __future__ import annotations

import math
import warnings
from dataclasses import dataclass, field, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN, BAT_RADIUS_IN
from hitlab.physics.contact import FRICTION, ROLL_RATIO, SPRINGING, first_touch, strike
from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions, fly
from hitlab.physics.meeting import KEPT_ALONG, bring_together
from hitlab.physics.quantities import (
    FAST_BAT_MPH,
    FAST_PITCH_MPH,
    SLOW_BAT_MPH,
    SLOW_PITCH_MPH,
    Columns,
    FloatArray,
    QuantityError,
    RangeWarning,
    UnitWarning,
    broadcast,
    expect,
    keeps_index,
    quantity,
    single,
    warn_of_fast,
    warn_of_radians,
    warn_of_seconds,
    warn_of_slow,
)

__all__ = [
    "DEMO_FENCE",
    "FOUL_LINE_DEG",
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

FOUL_LINE_DEG = 45.0
"""The lines lie at a right angle (Official Baseball Rules 2.01; from memory)."""
_CHUNK = 50_000
"""Swings that are reckoned together: few enough for some tens of megabytes."""


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
    inside_in
        How far inside the middle of the plate it passes, -15 to 15 in; negative outside.

    Examples
    --------
    Swung at alike, a curveball that falls more steeply and has topspin leaves the bat at a greater angle:

    >>> from hitlab.physics import PitchAtPlate, swing_outcomes
    >>> for pitch in (PitchAtPlate(), PitchAtPlate(descent_deg=10.0, backspin_rpm=-2000.0)):
    ...     print(pitch.descent_deg, round(float(swing_outcomes(0.5, pitch=pitch).launch_deg)))
    6.0 16
    10.0 22
    """

    speed_mph: float = 85.0
    descent_deg: float = 6.0
    backspin_rpm: float = 2000.0
    inside_in: float = 0.0

    def __post_init__(self) -> None:
        _check_numbers(self, _PITCH_RANGES)
        warn_of_slow("speed_mph", np.asarray(self.speed_mph), SLOW_PITCH_MPH)
        warn_of_fast("speed_mph", np.asarray(self.speed_mph), FAST_PITCH_MPH)


_PITCH_RANGES: dict[str, tuple[str, float, float]] = {
    "speed_mph": ("mph", 0, 150),
    "descent_deg": ("degrees", -45, 60),
    "backspin_rpm": ("rpm", -6000, 6000),
    "inside_in": ("inches", -15, 15),
}


@dataclass(frozen=True, slots=True)
class Swing:
    """A swing.

    Attributes
    ----------
    bat_mph
        Speed of the good spot, above 0 and up to 150 mph.
    attack_deg
        Attack angle, -60 to 80 degrees, positive upward, of a swing that faces centre field.
    efficiency, mass_ratio
        At the good spot; see :func:`hitlab.physics.contact.collide`.
    efficiency_loss_per_in2, handle_loss_per_in2
        How fast the efficiency falls away from the good spot toward the tip and toward the handle, per square
        inch, 0 to 1 (Nathan, Am. J. Phys. 71 (2003) 134, read off a figure by others).
    pivot_in, tip_in
        See :func:`hitlab.physics.meeting.meet`.
    droop_deg
        How far the tip of the barrel hangs under the handle, -60 to 60 degrees; see the module.
    tangential_restitution, friction, roll_ratio
        The grip; see :mod:`hitlab.physics.contact`.
    faces_deg
        How far the bat has turned to the pull side when a swing on time meets a pitch down the middle, -45
        to 45 degrees.
    turn_per_in
        Degrees by which the bat has turned farther to the pull side for each inch that a pitch is inside, 0
        to 5. Inside pitches are met farther in front (Kidokoro & Yanai 2017); the 2 degrees are our
        assumption, about 15 in of depth, or 10 ms, over the plate's width.

    Examples
    --------
    >>> from hitlab.physics import Swing, swing_outcomes
    >>> for swing in (Swing(), Swing(bat_mph=75.0)):
    ...     print(swing.bat_mph, round(float(swing_outcomes(1.2, swing=swing).exit_mph)))
    70.0 96
    75.0 102
    """

    bat_mph: float = 70.0
    attack_deg: float = 10.0
    efficiency: float = 0.2
    mass_ratio: float = 0.25
    efficiency_loss_per_in2: float = 0.012
    pivot_in: float = 28.0
    tip_in: float = 6.0
    droop_deg: float = 30.0
    tangential_restitution: float = SPRINGING
    friction: float = FRICTION
    roll_ratio: float = ROLL_RATIO
    handle_loss_per_in2: float = 0.003
    faces_deg: float = 0.0
    turn_per_in: float = 2.0

    def __post_init__(self) -> None:
        _check_numbers(self, _SWING_RANGES)
        warn_of_slow("bat_mph", np.asarray(self.bat_mph), SLOW_BAT_MPH)
        warn_of_fast("bat_mph", np.asarray(self.bat_mph), FAST_BAT_MPH)
        warn_of_radians("attack_deg", np.asarray(self.attack_deg))
        if abs(self.attack_deg) + abs(self.droop_deg) >= 90:
            raise QuantityError(
                f"attack_deg is {self.attack_deg:g} with a droop_deg of {self.droop_deg:g}: no path square "
                "to such a bat rises so steeply; together they stay under 90 degrees. Check both, in degrees."
            )


_SWING_RANGES: dict[str, tuple[str, float, float]] = {
    "bat_mph": ("mph", 0, 150),
    "attack_deg": ("degrees", -60, 80),
    "efficiency": ("", -1, 1),
    "mass_ratio": ("", 0, 5),
    "efficiency_loss_per_in2": ("per square inch", 0, 1),
    "pivot_in": ("inches", 10, 60),
    "tip_in": ("inches", 0, 20),
    "droop_deg": ("degrees", -60, 60),
    "tangential_restitution": ("", -1, 1),
    "friction": ("", 0, 10),
    "roll_ratio": ("", 0, 5),
    "handle_loss_per_in2": ("per square inch", 0, 1),
    "faces_deg": ("degrees", -45, 45),
    "turn_per_in": ("degrees an inch", 0, 5),
}
_ABOVE = ("speed_mph", "bat_mph")


def _check_numbers(given: PitchAtPlate | Swing, ranges: dict[str, tuple[str, float, float]]) -> None:
    """Make each field one float, within its range or missing."""
    for name, (unit, low, high) in ranges.items():
        value = single(
            name, getattr(given, name), unit, low, high, above=name in _ABOVE, infinite=name == "friction"
        )
        object.__setattr__(given, name, value)


@dataclass(frozen=True, slots=True, eq=False)
class SwingOutcomes(Columns):
    """What each of many swings became.

    Attributes
    ----------
    outcome
        Place in :data:`OUTCOME_WORDS`; -1 where a value was missing, for a ball in the air also one of the
        conditions.
    offset_in
        Offset at first touch; NaN for a whiff, as all that follows.
    exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm
        Off the bat.
    carry_ft
        Of fair balls hit upward; NaN for others.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    >>> from hitlab.physics import swing_outcomes
    >>> became = swing_outcomes([0.0, 1.2, 4.0])
    >>> became.table()["outcome"].tolist(), became.exit_mph.round().tolist()
    (['ground ball', 'home run', 'whiff'], [101.0, 96.0, nan])
    """

    outcome: np.ndarray
    offset_in: FloatArray
    exit_mph: FloatArray
    launch_deg: FloatArray
    spray_deg: FloatArray
    backspin_rpm: FloatArray
    sidespin_rpm: FloatArray
    carry_ft: FloatArray
    index: Any = field(default=None, repr=False)

    @property
    def missing(self) -> int:
        """Of how many swings nothing can be said because a value was missing."""
        return int(np.count_nonzero(self.outcome == -1))

    def _shown(self, name: str, values: np.ndarray) -> Any:
        if name != "outcome":
            return values
        return [OUTCOME_WORDS[place] if place >= 0 else None for place in values]


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

    Examples
    --------
    >>> from hitlab.physics import PitchAtPlate, Swing, contact_values
    >>> met = contact_values([0.0, 4.0], 0.0, 10.0, pitch=PitchAtPlate(), swing=Swing(), miss="path")
    >>> met.touched.tolist(), met.values["exit_mph"].round().tolist()
    ([True, False], [101.0, nan])
    """

    known: np.ndarray
    touched: np.ndarray
    values: dict[str, FloatArray]


@keeps_index
def contact_values(
    miss_in: ArrayLike,
    timing_error_ms: ArrayLike,
    attack_deg: ArrayLike,
    sideways_in: ArrayLike = 0.0,
    *,
    pitch: PitchAtPlate,
    swing: Swing,
    miss: str,
) -> Contact:
    """Bring bat and ball together: meeting place, offset at first touch, collision.

    Parameters
    ----------
    miss_in, timing_error_ms, attack_deg, sideways_in, pitch, swing, miss
        See :func:`swing_outcomes`.

    Returns
    -------
    Contact
        Arrays of the common shape of the first four arguments.

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
    ([True, True, False], [5.0, 16.0, nan])
    """
    return _contact(*_swing_errors(miss_in, timing_error_ms, attack_deg, sideways_in), pitch, swing, miss)


def _swing_errors(
    miss_in: ArrayLike, timing_error_ms: ArrayLike, attack_deg: ArrayLike, sideways_in: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Check the errors of swings and bring them to one shape."""
    errors = {
        "miss_in": quantity("miss_in", miss_in, "inches", -20, 20),
        "timing_error_ms": quantity("timing_error_ms", timing_error_ms, "milliseconds", -500, 500),
        "attack_deg": quantity("attack_deg", attack_deg, "degrees", -60, 80),
        "sideways_in": quantity("sideways_in", sideways_in, "inches", -20, 20),
    }
    shape = broadcast(errors)
    missed, error, attack, sideways = (np.broadcast_to(values, shape) for values in errors.values())
    return missed, error, attack, sideways


def _contact(
    missed: FloatArray,
    error: FloatArray,
    attack: FloatArray,
    sideways: FloatArray,
    pitch: PitchAtPlate,
    swing: Swing,
    miss: str,
) -> Contact:
    _check_kind(miss)
    expect("pitch", pitch, PitchAtPlate)
    expect("swing", swing, Swing)
    shape = missed.shape
    one = np.asarray
    # No plane holds a steeper path than this; a draw that goes beyond is taken at the edge.
    edge = 89.0 - abs(swing.droop_deg)
    attack = np.clip(attack, -edge, edge)
    turned = np.clip(swing.faces_deg + swing.turn_per_in * pitch.inside_in, -45.0, 45.0)
    met = bring_together(
        "moving", shape, error / 1000, one(swing.tip_in), one(turned), attack, one(swing.droop_deg), sideways,
        one(pitch.speed_mph), one(swing.bat_mph), one(swing.pivot_in), one(swing.efficiency), one(KEPT_ALONG),
    )  # fmt: skip
    # In front of the intended place the ball is higher by its descent, the bat by its arc.
    total = missed + met.forward_in * np.tan(np.radians(pitch.descent_deg)) - met.height_in
    point_mph = np.minimum(swing.bat_mph * (1 + met.beyond_in / swing.pivot_in), 150)
    offset = first_touch(
        total, pitch.speed_mph, pitch.descent_deg, point_mph, met.attack_deg, met.bat_direction_deg,
        met.droop_deg, at_touch=miss == "touch",
    )  # fmt: skip
    away = np.where(met.beyond_in > 0, swing.efficiency_loss_per_in2, swing.handle_loss_per_in2)
    # No coefficient of restitution below zero: a dead end of the bat still recoils.
    efficiency = np.maximum(
        swing.efficiency - away * met.beyond_in**2, -swing.mass_ratio / (1 + swing.mass_ratio)
    )
    hit = strike(
        shape, one(pitch.speed_mph), one(pitch.descent_deg), point_mph, met.attack_deg, offset,
        one(pitch.backspin_rpm), met.bat_direction_deg, met.droop_deg, efficiency, one(swing.mass_ratio),
        one(swing.tangential_restitution), one(swing.friction), one(swing.roll_ratio), one(BALL_RADIUS_IN),
        one(BAT_RADIUS_IN), one(BALL_MASS_OZ),
    )  # fmt: skip
    given = [getattr(pitch, name) for name in _PITCH_RANGES]
    given += [getattr(swing, name) for name in _SWING_RANGES if name != "friction"]
    if math.isnan(math.fsum(given) + (0.0 if math.isinf(swing.friction) else swing.friction)):
        missed = np.full(shape, np.nan)
    known = np.isfinite(missed + error + attack + sideways)
    touched = hit.touched & known
    values = {
        "offset_in": offset,
        "exit_mph": hit.exit_mph,
        "launch_deg": hit.launch_deg,
        "spray_deg": hit.spray_deg,
        "backspin_rpm": hit.backspin_rpm,
        "sidespin_rpm": hit.sidespin_rpm,
    }
    return Contact(known, touched, {name: np.where(touched, v, np.nan) for name, v in values.items()})


@keeps_index
def swing_outcomes(
    miss_in: ArrayLike,
    timing_error_ms: ArrayLike = 0.0,
    attack_deg: ArrayLike | None = None,
    sideways_in: ArrayLike = 0.0,
    *,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    miss: str = "path",
    conditions: Conditions | None = None,
    fence: Fence = DEMO_FENCE,
    rough: bool = False,
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
    sideways_in
        How far outside the good spot the ball passes, measured level, -20 to 20 in; negative: nearer the
        hands. Under a bat that droops by 30 degrees each inch of it is half an inch of height as well.
    pitch, swing
        What is thrown and how it is swung at; see their classes.
    miss
        What ``miss_in`` means: ``path`` (how far the paths pass each other) or ``touch`` (offset at first
        touch, measured upright).
    conditions, fence
        For the flight; see :func:`hitlab.physics.flight.fly`. The conditions are the same for all swings.
    rough
        Only the outcome counts, within a tenth of a foot of carry (see :func:`hitlab.physics.fly`): ground
        balls are not flown, and have no carry. For pictures that are drawn again and again.

    Returns
    -------
    SwingOutcomes
        Arrays of the common shape of the first four arguments.

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
    On time, and under the middle of the ball by nothing, 0.5, 1.2 and 4 in:

    >>> from hitlab.physics import swing_outcomes
    >>> from hitlab.physics.one_swing import OUTCOME_WORDS
    >>> became = swing_outcomes([0.0, 0.5, 1.2, 4.0])
    >>> [OUTCOME_WORDS[place] for place in became.outcome]
    ['ground ball', 'line drive', 'home run', 'whiff']
    >>> became.launch_deg.round().tolist()
    [5.0, 16.0, 31.0, nan]
    """
    pitch = PitchAtPlate() if pitch is None else pitch
    swing = Swing() if swing is None else swing
    conditions = Conditions() if conditions is None else conditions
    for name, value, kind in (
        ("pitch", pitch, PitchAtPlate), ("swing", swing, Swing), ("conditions", conditions, Conditions),
        ("fence", fence, Fence),
    ):  # fmt: skip
        expect(name, value, kind)
    for given in fields(conditions):
        value = getattr(conditions, given.name)
        if np.ndim(value):
            raise QuantityError(
                f"conditions.{given.name} has {np.size(value)} values; accepted is one for all swings. Where "
                "many are to be compared, call once for each."
            )
    attack = swing.attack_deg if attack_deg is None else attack_deg
    errors = _swing_errors(miss_in, timing_error_ms, attack, sideways_in)
    warn_of_seconds("timing_error_ms", errors[1])
    shape, size = errors[0].shape, errors[0].size
    if size <= _CHUNK:
        return _outcomes(errors, pitch, swing, miss, conditions, fence, rough)
    flat = [values.reshape(-1) for values in errors]
    outcome = np.empty(size, dtype=np.int8)
    values = {name: np.empty(size) for name in _VALUES}
    for start in range(0, size, _CHUNK):
        part = slice(start, start + _CHUNK)
        one, two, three, four = (error[part] for error in flat)
        some = _outcomes((one, two, three, four), pitch, swing, miss, conditions, fence, rough)
        outcome[part] = some.outcome
        for name in _VALUES:
            values[name][part] = getattr(some, name)
    return SwingOutcomes(outcome.reshape(shape), **{name: v.reshape(shape) for name, v in values.items()})


_VALUES = ("offset_in", "exit_mph", "launch_deg", "spray_deg", "backspin_rpm", "sidespin_rpm", "carry_ft")


def _outcomes(
    errors: tuple[FloatArray, FloatArray, FloatArray, FloatArray],
    pitch: PitchAtPlate,
    swing: Swing,
    miss: str,
    conditions: Conditions,
    fence: Fence,
    rough: bool,
) -> SwingOutcomes:
    """Do what :func:`swing_outcomes` does for a chunk of checked swings."""
    contact = _contact(*errors, pitch, swing, miss)
    touched, values = contact.touched, contact.values
    launch, spray = values["launch_deg"], values["spray_deg"]
    outcome = np.zeros(touched.shape, dtype=np.int8)
    fair = touched & (np.abs(spray) <= FOUL_LINE_DEG)
    outcome[touched & ~fair] = 1
    carry = np.full(touched.shape, np.nan)
    low, high = LINE_DRIVE_DEG
    up = fair & (launch >= low if rough else launch > 0)
    with warnings.catch_warnings():
        # Slow and much-spun balls lie outside the fits; they fall close by whichever way they are flown.
        warnings.simplefilter("ignore", RangeWarning)
        warnings.simplefilter("ignore", UnitWarning)
        flight = fly(
            values["exit_mph"][up],
            launch[up],
            spray[up],
            np.clip(values["backspin_rpm"][up], -10000, 10000),
            np.clip(values["sidespin_rpm"][up], -10000, 10000),
            conditions=conditions,
            fence=fence,
            soft=True,
            rough=rough,
        )
    carry[up] = flight.carry_ft
    outcome[fair] = np.where(launch[fair] < low, 2, np.where(launch[fair] <= high, 3, 4))
    crossing, over = flight.fence_bearing_deg, flight.over_fence
    assert crossing is not None
    assert over is not None
    last = np.where(np.isfinite(crossing), crossing, flight.bearing_deg)
    airborne = outcome[up]
    airborne[(np.abs(last) > FOUL_LINE_DEG) & (airborne >= 3)] = 1
    airborne[over & (airborne >= 3)] = 5
    airborne[np.isnan(flight.hang_s) & (airborne >= 3)] = -1
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
    [1.27, 0.86]
    """
    wanted = single("launch_deg", launch_deg, "degrees", -30, 45)
    pitch = PitchAtPlate() if pitch is None else pitch
    swing = Swing() if swing is None else swing
    expect("pitch", pitch, PitchAtPlate)
    expect("swing", swing, Swing)
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
