"""The pitch's clock: how long it takes, when the hitter must have decided, what a wrong guess costs.

The often quoted 400 ms of a 90 mph pitch is the flight without drag over a little less than the
distance from release to plate; with drag it is nearer 435 ms over 55 ft. Timing errors are positive
when late. What the milliseconds do to the ball is in :mod:`hitlab.physics.meeting`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN
from hitlab.physics.quantities import (
    FEET_PER_METRE,
    INCHES_PER_METRE,
    KG_PER_OUNCE,
    METRES_PER_FOOT,
    METRES_PER_INCH,
    MPS_PER_MPH,
    Columns,
    FloatArray,
    broadcast,
    keeps_index,
    quantity,
)

__all__ = [
    "PLATE_FRONT_FT",
    "RUBBER_FT",
    "SWING_S",
    "Mistimed",
    "PitchTiming",
    "distance_left",
    "mistime",
    "time_pitch",
]

RUBBER_FT = 60.5
"""Pitching distance to the rear point of the plate (Official Baseball Rules 2.04; from memory)."""
PLATE_FRONT_FT = 17 / 12
"""From the rear point to the front edge (Official Baseball Rules 2.02; from memory)."""
SWING_S = 0.150
"""Duration of a swing (Adair, The Physics of Baseball)."""

_GRAVITY = 9.80665


@dataclass(frozen=True, slots=True, eq=False)
class PitchTiming(Columns):
    """A pitch on its way.

    Attributes
    ----------
    time_s
        From release to the meeting place.
    meeting_mph
        Speed there.
    decision_s, decision_ft
        Latest moment after release at which a swing can start, and the ball's distance from the meeting
        place at that moment.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    >>> from hitlab.physics import time_pitch
    >>> pitch = time_pitch(95.0)
    >>> round(float(pitch.time_s), 2), round(float(pitch.decision_s), 2), round(float(pitch.decision_ft), 1)
    (0.4, 0.25, 19.3)
    """

    _TELLS = "time_s"
    time_s: FloatArray
    meeting_mph: FloatArray
    decision_s: FloatArray
    decision_ft: FloatArray
    index: Any = field(default=None, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Mistimed(Columns):
    """A hitter timed for one speed and thrown another.

    Attributes
    ----------
    expected_s, thrown_s
        Time of the expected and of the thrown pitch to the meeting place.
    timing_error_ms
        Error of the swing as planned; positive late (the pitch is faster than expected).
    seen_ft
        How far the thrown pitch has come when the planned swing starts.
    left_ft
        How far it still has to go at that moment.
    wait_ms
        How much longer he must hold the swing to be on time; negative: it is that much too late already.
    apparent_rise_in
        How much higher than expected the pitch arrives, from gravity alone: a faster pitch has less time
        to fall and seems to rise.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    Timed for 85 mph, and thrown that, 90 and 95:

    >>> from hitlab.physics import mistime
    >>> swing = mistime(85.0, [85.0, 90.0, 95.0])
    >>> swing.timing_error_ms.round().tolist(), swing.apparent_rise_in.round(1).tolist()
    ([0.0, 25.0, 47.0], [0.0, 4.2, 7.7])
    """

    _TELLS = "timing_error_ms"
    expected_s: FloatArray
    thrown_s: FloatArray
    timing_error_ms: FloatArray
    seen_ft: FloatArray
    left_ft: FloatArray
    wait_ms: FloatArray
    apparent_rise_in: FloatArray
    index: Any = field(default=None, repr=False)


def _drag_per_foot(density: FloatArray, drag_constant: FloatArray) -> FloatArray:
    area = np.pi * (BALL_RADIUS_IN * METRES_PER_INCH) ** 2
    per_metre = density * drag_constant * area / (2 * BALL_MASS_OZ * KG_PER_OUNCE)
    return np.asarray(per_metre * METRES_PER_FOOT)


def _travel_s(distance_ft: FloatArray, speed_mph: FloatArray, per_foot: FloatArray) -> FloatArray:
    """Time over a distance under quadratic drag: (exp(k d) - 1) / (k v), d / v as k goes to 0."""
    speed = speed_mph * MPS_PER_MPH * FEET_PER_METRE
    slowing = per_foot * distance_ft
    with np.errstate(invalid="ignore"):
        stretch = np.where(slowing > 0, np.expm1(slowing) / np.where(slowing > 0, slowing, 1), 1.0)
    return np.asarray(distance_ft * np.where(np.isnan(slowing), np.nan, stretch) / speed)


def _covered_ft(time_s: FloatArray, speed_mph: FloatArray, per_foot: FloatArray) -> FloatArray:
    """Distance after a time under quadratic drag: log(1 + k v t) / k, v t as k goes to 0."""
    flat = speed_mph * MPS_PER_MPH * FEET_PER_METRE * time_s
    slowing = per_foot * flat
    shrink = np.where(slowing > 0, np.log1p(slowing) / np.where(slowing > 0, slowing, 1), 1.0)
    return np.asarray(flat * np.where(np.isnan(slowing), np.nan, shrink))


def _pitch_arguments(
    extension_ft: ArrayLike, meeting_ft: ArrayLike, density_kg_m3: ArrayLike, drag_constant: ArrayLike
) -> dict[str, FloatArray]:
    return {
        "extension_ft": quantity("extension_ft", extension_ft, "feet", 0, 10),
        "meeting_ft": quantity("meeting_ft", meeting_ft, "feet", -3, 8),
        "density_kg_m3": quantity("density_kg_m3", density_kg_m3, "kg/m3", 0, 2),
        "drag_constant": quantity("drag_constant", drag_constant, "", 0, 2),
    }


@keeps_index
def time_pitch(
    release_mph: ArrayLike,
    extension_ft: ArrayLike = 6.0,
    *,
    meeting_ft: ArrayLike = PLATE_FRONT_FT,
    swing_s: ArrayLike = SWING_S,
    density_kg_m3: ArrayLike = 1.194,
    drag_constant: ArrayLike = 0.35,
) -> PitchTiming:
    """Time a pitch to the place where it is met.

    Parameters
    ----------
    release_mph
        Speed at release, 20 to 130 mph.
    extension_ft
        Release in front of the rubber, 0 to 10 ft.
    meeting_ft
        Where the ball is met, in front of the plate's rear point, -3 to 8 ft; the front edge by default.
    swing_s
        Duration of the swing, 0 to 1 s.
    density_kg_m3
        Air density, 0 (no drag) to 2 kg/m3.
    drag_constant
        Drag coefficient, 0 to 2.

    Returns
    -------
    PitchTiming
        Arrays of the arguments' common shape. Where the swing takes longer than the pitch the decision
        comes before release (negative).

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Notes
    -----
    Quadratic drag along a straight line, in closed form; the path's bend adds under 1 %.

    Examples
    --------
    Ten miles an hour more leave about a twentieth of a second less to decide:

    >>> from hitlab.physics import time_pitch
    >>> pitch = time_pitch([85.0, 95.0])
    >>> pitch.time_s.round(3).tolist(), pitch.decision_s.round(3).tolist()
    ([0.448, 0.401], [0.298, 0.251])
    """
    release = quantity("release_mph", release_mph, "mph", 20, 130)
    swing = quantity("swing_s", swing_s, "seconds", 0, 1)
    others = _pitch_arguments(extension_ft, meeting_ft, density_kg_m3, drag_constant)
    broadcast({"release_mph": release, "swing_s": swing, **others})
    extension, meeting, density, coefficient = others.values()
    distance = RUBBER_FT - extension - meeting
    per_foot = _drag_per_foot(density, coefficient)
    time = _travel_s(distance, release, per_foot)
    decision = time - swing
    left = distance - _covered_ft(np.maximum(decision, 0), release, per_foot)
    return PitchTiming(time, np.asarray(release * np.exp(-per_foot * distance)), np.asarray(decision), left)


@keeps_index
def distance_left(
    release_mph: ArrayLike,
    time_s: ArrayLike,
    extension_ft: ArrayLike = 6.0,
    *,
    meeting_ft: ArrayLike = PLATE_FRONT_FT,
    density_kg_m3: ArrayLike = 1.194,
    drag_constant: ArrayLike = 0.35,
) -> FloatArray:
    """How far a pitch still has to go at a moment.

    Parameters
    ----------
    release_mph, extension_ft, meeting_ft, density_kg_m3, drag_constant
        See :func:`time_pitch`.
    time_s
        Seconds since release, 0 to 3.

    Returns
    -------
    numpy.ndarray
        Feet, of the arguments' common shape; negative once the ball is past.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Examples
    --------
    A fastball of 95 mph a fifth of a second after release, and two fifths after it:

    >>> from hitlab.physics import distance_left
    >>> distance_left(95.0, [0.2, 0.4]).round(1).tolist()
    [25.9, 0.1]
    """
    release = quantity("release_mph", release_mph, "mph", 20, 130)
    time = quantity("time_s", time_s, "seconds", 0, 3)
    others = _pitch_arguments(extension_ft, meeting_ft, density_kg_m3, drag_constant)
    broadcast({"release_mph": release, "time_s": time, **others})
    extension, meeting, density, coefficient = others.values()
    covered = _covered_ft(time, release, _drag_per_foot(density, coefficient))
    return np.asarray(RUBBER_FT - extension - meeting - covered)


@keeps_index
def mistime(
    expected_mph: ArrayLike,
    thrown_mph: ArrayLike,
    extension_ft: ArrayLike = 6.0,
    *,
    meeting_ft: ArrayLike = PLATE_FRONT_FT,
    swing_s: ArrayLike = SWING_S,
    density_kg_m3: ArrayLike = 1.194,
    drag_constant: ArrayLike = 0.35,
) -> Mistimed:
    """Throw one speed to a hitter timed for (or judging the pitch as) another.

    Parameters
    ----------
    expected_mph
        Release speed that the swing is timed for, 20 to 130 mph.
    thrown_mph
        Release speed of the pitch, 20 to 130 mph.
    extension_ft, meeting_ft, swing_s, density_kg_m3, drag_constant
        See :func:`time_pitch`.

    Returns
    -------
    Mistimed
        Arrays of the arguments' common shape.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Examples
    --------
    Timed for 95 mph, and the changeup comes at 85: the swing is far too early.

    >>> from hitlab.physics import mistime
    >>> swing = mistime(95.0, 85.0)
    >>> round(float(swing.timing_error_ms)), round(float(swing.left_ft), 1)
    (-47, 22.7)
    """
    expected = quantity("expected_mph", expected_mph, "mph", 20, 130)
    thrown = quantity("thrown_mph", thrown_mph, "mph", 20, 130)
    swing = quantity("swing_s", swing_s, "seconds", 0, 1)
    others = _pitch_arguments(extension_ft, meeting_ft, density_kg_m3, drag_constant)
    broadcast({"expected_mph": expected, "thrown_mph": thrown, "swing_s": swing, **others})
    extension, meeting, density, coefficient = others.values()
    distance = RUBBER_FT - extension - meeting
    per_foot = _drag_per_foot(density, coefficient)
    expected_s = _travel_s(distance, expected, per_foot)
    thrown_s = _travel_s(distance, thrown, per_foot)
    seen = _covered_ft(np.maximum(expected_s - swing, 0), thrown, per_foot)
    error = np.asarray(1000 * (expected_s - thrown_s))
    rise = _GRAVITY / 2 * (expected_s**2 - thrown_s**2) * INCHES_PER_METRE
    return Mistimed(
        expected_s, thrown_s, error, seen, np.asarray(distance - seen), np.asarray(-error), np.asarray(rise)
    )
