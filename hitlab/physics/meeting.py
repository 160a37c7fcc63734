"""Where a mistimed bat meets the ball, and how wide the window for a fair and for a solid ball is.

A swing that starts late meets the ball deeper, with the barrel still behind: the ball goes to the
opposite field, then foul, then is missed. How wide the window for a fair ball is depends on what is
held fixed, and published figures (7, 9, 10 and 20 ms) disagree for that reason. Three models are
offered by name: ``moving`` (the place of contact moves along the ball's path; the widest and the most
complete), ``fixed`` (bat and ball always meet at one place) and ``bat angle`` (the ball leaves where
the bat faces).

What this leaves out: the hitter's hands move while the bat turns, the bat speeds up through contact,
and good hitters adjust a swing that has begun.

Timing errors are positive when late; directions are positive toward the pull side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import (
    INCHES_PER_METRE,
    MPS_PER_MPH,
    FloatArray,
    QuantityError,
    broadcast,
    quantity,
)

__all__ = ["WINDOW_MODELS", "Meeting", "Window", "fair_window", "meet", "solid_window"]

WINDOW_MODELS = ("moving", "fixed", "bat angle")

_STEEPEST_DEG = 80.0


@dataclass(frozen=True, slots=True, eq=False)
class Meeting:
    """Where a mistimed bat meets the ball; NaN where it does not reach it.

    Attributes
    ----------
    reached
        False where the ball passes beyond the end of the barrel.
    bat_direction_deg
        Where the bat faces at contact.
    forward_in
        Contact in front of (negative: behind) the place where a swing on time meets the ball.
    beyond_in
        Contact beyond the good spot, toward the end of the barrel.
    spray_deg
        Where a squarely hit ball goes.
    """

    reached: np.ndarray
    bat_direction_deg: FloatArray
    forward_in: FloatArray
    beyond_in: FloatArray
    spray_deg: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """How much too early or too late a swing may be.

    Attributes
    ----------
    either_way_ms
        The error allowed early, and the same late.
    bat_direction_deg
        Where the bat faces at the edge of the window.
    """

    either_way_ms: FloatArray
    bat_direction_deg: FloatArray


def _swing_arguments(
    pitch_mph: ArrayLike,
    bat_mph: ArrayLike,
    pivot_in: ArrayLike,
    efficiency: ArrayLike,
    kept_along: ArrayLike,
) -> dict[str, FloatArray]:
    return {
        "pitch_mph": quantity("pitch_mph", pitch_mph, "mph", 0, 150, above=True),
        "bat_mph": quantity("bat_mph", bat_mph, "mph", 0, 150, above=True),
        "pivot_in": quantity("pivot_in", pivot_in, "inches", 10, 60),
        "efficiency": quantity("efficiency", efficiency, "", -1, 1),
        "kept_along": quantity("kept_along", kept_along, "", -1, 1),
    }


def _check_model(model: str) -> None:
    if model not in WINDOW_MODELS:
        known = ", ".join(repr(name) for name in WINDOW_MODELS)
        raise QuantityError(f"model is {model!r}; accepted is one of {known}. 'moving' is the most complete.")


def _spray(
    facing: FloatArray,
    pitch: FloatArray,
    bat: FloatArray,
    pivot: FloatArray,
    q: FloatArray,
    kept: FloatArray,
    model: str,
) -> FloatArray:
    """Direction of a squarely hit ball (radians) from the bat's direction (radians)."""
    if model == "bat angle":
        return facing + 0 * (pitch + bat + pivot + q + kept)
    point = bat / np.cos(facing) if model == "moving" else bat + 0 * pivot
    along = kept * pitch * np.sin(facing)
    return np.asarray(facing + np.arctan2(along, q * pitch * np.cos(facing) + (1 + q) * point))


def _facing_s(
    facing: FloatArray, pitch: FloatArray, bat: FloatArray, pivot: FloatArray, model: str
) -> FloatArray:
    """Find the timing error (s, positive late) at which the bat faces that way; speeds in inches a second."""
    turned = facing * pivot / bat
    if model == "moving":
        return np.asarray(-(turned + pivot * np.tan(facing) / pitch))
    return np.asarray(-turned + 0 * pitch)


def meet(
    timing_error_ms: ArrayLike,
    pitch_mph: ArrayLike,
    bat_mph: ArrayLike,
    *,
    pivot_in: ArrayLike = 28.0,
    tip_in: ArrayLike = 6.0,
    efficiency: ArrayLike = 0.2,
    kept_along: ArrayLike = 0.733,
    model: str = "moving",
) -> Meeting:
    """Find where a mistimed bat meets the ball, and where the ball then goes.

    Parameters
    ----------
    timing_error_ms
        Error of the swing, -500 to 500 ms; positive late.
    pitch_mph
        Speed of the ball where it is met, above 0 and up to 150 mph.
    bat_mph
        Speed of the good spot, above 0 and up to 150 mph.
    pivot_in
        From the point about which the bat turns at contact to the good spot, 10 to 60 in. The default
        28 in and 70 mph make about 2500 degrees a second.
    tip_in
        From the good spot to the end of the barrel, 0 to 20 in.
    efficiency
        Collision efficiency, -1 to 1.
    kept_along
        Share of the ball's speed along the bat that friction leaves, -1 to 1; 0.733 is what a gripped
        ball keeps against a bat of four times its mass (see :func:`hitlab.physics.contact.collide`).
    model
        One of :data:`WINDOW_MODELS`.

    Returns
    -------
    Meeting
        Arrays of the arguments' common shape.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, the model does not exist or the shapes do not fit.

    Examples
    --------
    Ten thousandths of a second early, on time, and as much late:

    >>> from hitlab.physics import meet
    >>> met = meet([-10.0, 0.0, 10.0], 85.0, 70.0)
    >>> met.spray_deg.round().tolist(), met.forward_in.round(1).tolist()
    ([22.0, 0.0, -22.0], [6.8, 0.0, -6.8])
    """
    _check_model(model)
    error_s = quantity("timing_error_ms", timing_error_ms, "milliseconds", -500, 500) / 1000
    tip = quantity("tip_in", tip_in, "inches", 0, 20)
    swing = _swing_arguments(pitch_mph, bat_mph, pivot_in, efficiency, kept_along)
    shape = broadcast({"timing_error_ms": error_s, "tip_in": tip, **swing})
    pitch_mph_, bat_mph_, pivot, q, kept = swing.values()
    to_inches = MPS_PER_MPH * INCHES_PER_METRE
    pitch, bat = pitch_mph_ * to_inches, bat_mph_ * to_inches
    steepest = np.radians(_STEEPEST_DEG)
    if model == "moving":
        facing = np.clip(-error_s * bat / pivot / (1 + bat / pitch), -steepest, steepest)
        # Newton from outside the root, where the curve bends away from it: it never overshoots.
        for _ in range(8):
            gap = _facing_s(facing, pitch, bat, pivot, model) - error_s
            slope = -(pivot / bat + pivot / (pitch * np.cos(facing) ** 2))
            facing = np.clip(facing - gap / slope, -steepest, steepest)
        beyond = pivot * (1 / np.cos(facing) - 1)
        forward = pivot * np.tan(facing)
    else:
        facing = -error_s * bat / pivot
        beyond, forward = 0 * facing, 0 * facing
    reached = (beyond <= tip) & (np.abs(facing) < steepest)
    spray = _spray(facing, pitch, bat, pivot, q, kept, model)

    def full(values: FloatArray) -> FloatArray:
        return np.asarray(np.broadcast_to(np.where(reached, values, np.nan), shape).copy())

    return Meeting(
        np.broadcast_to(reached, shape).copy(),
        full(np.degrees(facing)),
        full(forward),
        full(beyond),
        full(np.degrees(spray)),
    )


def fair_window(
    pitch_mph: ArrayLike,
    bat_mph: ArrayLike,
    *,
    pivot_in: ArrayLike = 28.0,
    efficiency: ArrayLike = 0.2,
    kept_along: ArrayLike = 0.733,
    model: str = "moving",
) -> Window:
    """Find the timing error at which a squarely hit ball turns from fair to foul.

    Parameters
    ----------
    pitch_mph, bat_mph, pivot_in, efficiency, kept_along, model
        See :func:`meet`.

    Returns
    -------
    Window
        Arrays of the arguments' common shape.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, the model does not exist or the shapes do not fit.

    Examples
    --------
    A squarely hit ball stays fair up to so many thousandths of a second too early or too late:

    >>> from hitlab.physics import fair_window
    >>> round(float(fair_window(85.0, 70.0).either_way_ms), 1)
    22.3
    """
    _check_model(model)
    swing = _swing_arguments(pitch_mph, bat_mph, pivot_in, efficiency, kept_along)
    shape = broadcast(swing)
    pitch_mph_, bat_mph_, pivot, q, kept = (np.broadcast_to(a, shape) for a in swing.values())
    to_inches = MPS_PER_MPH * INCHES_PER_METRE
    pitch, bat = pitch_mph_ * to_inches, bat_mph_ * to_inches
    line = np.pi / 4
    low, high = np.zeros(shape), np.full(shape, np.radians(_STEEPEST_DEG))
    for _ in range(50):
        middle = (low + high) / 2
        fair = _spray(middle, pitch, bat, pivot, q, kept, model) < line
        low, high = np.where(fair, middle, low), np.where(fair, high, middle)
    # A missing speed leaves a direction of 0; the time it is turned into is missing.
    error_s = -_facing_s(high, pitch, bat, pivot, model) + 0 * (q + kept)
    return Window(np.asarray(1000 * error_s), np.asarray(np.degrees(high) + 0 * error_s))


def solid_window(
    pitch_mph: ArrayLike, bat_mph: ArrayLike, *, solid_in: ArrayLike = 2.0, pivot_in: ArrayLike = 28.0
) -> Window:
    """Find the timing error at which contact leaves the good part of the barrel.

    Parameters
    ----------
    pitch_mph, bat_mph, pivot_in
        See :func:`meet`.
    solid_in
        How far beyond the good spot contact still counts as solid, above 0 and up to 10 in. Two inches
        is common practice, no source.

    Returns
    -------
    Window
        Arrays of the arguments' common shape, for the place of contact that moves.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Examples
    --------
    Contact is two inches beyond the good spot when the swing is off by so many thousandths of a second:

    >>> from hitlab.physics import solid_window
    >>> round(float(solid_window(85.0, 70.0).either_way_ms), 1)
    15.5
    """
    swing = _swing_arguments(pitch_mph, bat_mph, pivot_in, 0.0, 0.0)
    solid = quantity("solid_in", solid_in, "inches", 0, 10, above=True)
    broadcast({"solid_in": solid, **swing})
    pitch_mph_, bat_mph_, pivot = list(swing.values())[:3]
    to_inches = MPS_PER_MPH * INCHES_PER_METRE
    facing = np.arccos(pivot / (pivot + solid))
    error_s = -_facing_s(facing, pitch_mph_ * to_inches, bat_mph_ * to_inches, pivot, "moving")
    return Window(np.asarray(1000 * error_s), np.asarray(np.degrees(facing) + 0 * error_s))
