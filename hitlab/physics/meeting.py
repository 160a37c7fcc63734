"""Where a mistimed bat meets the ball, and how wide the window for a fair and for a solid ball is.

A swing that starts late meets the ball deeper, with the barrel still behind: the ball goes to the
opposite field, then foul, then is missed. How wide the window for a fair ball is depends on what is
held fixed, and published figures (7, 9, 10 and 20 ms) disagree for that reason. Three models are
offered by name: ``moving`` (the place of contact moves along the ball's path; the widest and the most
complete), ``fixed`` (bat and ball always meet at one place) and ``bat angle`` (the ball leaves where
the bat faces).

The bat turns in a plane. Under a barrel that droops the plane is tilted, so that the bat's path is an arc:
early (turned toward the pull side) it rises more steeply, late it is flatter, and the attack angle goes with
the timing by itself. With a level bat the path is straight. How much the arc matters: with 30 degrees of
droop and 10 of attack the attack angle changes by about 6 degrees over 10 ms, and the bat is 0.3 in above a
straight path 10 ms early or late; that is a third of the usual scatter of the aim, too much to leave out.

What this leaves out: the hitter's hands move while the bat turns, the bat speeds up through contact,
and good hitters adjust a swing that has begun.

Timing errors are positive when late; directions are positive toward the pull side.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import (
    INCHES_PER_METRE,
    MPS_PER_MPH,
    Columns,
    FloatArray,
    QuantityError,
    broadcast,
    keeps_index,
    quantity,
    warn_of_seconds,
    warn_of_swing,
)

__all__ = ["WINDOW_MODELS", "Meeting", "Window", "fair_window", "meet", "solid_window"]

WINDOW_MODELS = ("moving", "fixed", "bat angle")

_STEEPEST_DEG = 80.0
KEPT_ALONG = 0.653
"""Share of the ball's speed along the bat that the default grip leaves against a bat of four times its mass:
1 - 1.3 / (3.5 + 0.25)."""


@dataclass(frozen=True, slots=True, eq=False)
class Meeting(Columns):
    """Where a mistimed bat meets the ball; NaN where it does not reach it.

    Attributes
    ----------
    reached
        False where the ball passes beyond the end of the barrel or inside the handle.
    bat_direction_deg
        Where the bat faces at contact.
    forward_in
        Contact in front of (negative: behind) the place where a swing on time meets the ball.
    beyond_in
        Contact beyond the good spot, toward the end of the barrel; negative toward the handle.
    spray_deg
        Where a squarely hit ball goes from a level bat.
    attack_deg, droop_deg
        Attack angle and droop of the barrel at contact.
    height_in
        Height of the bat's axis there, above where a swing on time meets the ball.
    known
        False where a value was missing.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    A swing on time, one that is late, and one that is so late that the bat does not reach the ball:

    >>> from hitlab.physics import meet
    >>> met = meet([0.0, 10.0, 40.0], 85.0, 70.0)
    >>> met.reached.tolist(), met.forward_in.round(1).tolist()
    ([True, True, False], [0.0, -6.8, nan])
    """

    reached: np.ndarray
    bat_direction_deg: FloatArray
    forward_in: FloatArray
    beyond_in: FloatArray
    spray_deg: FloatArray
    attack_deg: FloatArray
    droop_deg: FloatArray
    height_in: FloatArray
    known: np.ndarray
    index: Any = field(default=None, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class Window(Columns):
    """How much too early or too late a swing may be.

    Attributes
    ----------
    either_way_ms
        The error allowed early, and the same late.
    bat_direction_deg
        Where the bat faces at the edge of the window.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    >>> from hitlab.physics import solid_window
    >>> window = solid_window(85.0, [60.0, 80.0])
    >>> window.either_way_ms.round(1).tolist(), window.bat_direction_deg.round().tolist()
    ([16.9, 14.5], [21.0, 21.0])
    """

    _TELLS = "either_way_ms"
    either_way_ms: FloatArray
    bat_direction_deg: FloatArray
    index: Any = field(default=None, repr=False)


def _swing_arguments(
    pitch_mph: ArrayLike,
    bat_mph: ArrayLike,
    pivot_in: ArrayLike,
    efficiency: ArrayLike,
    kept_along: ArrayLike,
) -> dict[str, FloatArray]:
    pitch = quantity("pitch_mph", pitch_mph, "mph", 0, 150, above=True)
    bat = quantity("bat_mph", bat_mph, "mph", 0, 150, above=True)
    warn_of_swing(pitch, bat)
    return {
        "pitch_mph": pitch,
        "bat_mph": bat,
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


@keeps_index
def meet(
    timing_error_ms: ArrayLike,
    pitch_mph: ArrayLike,
    bat_mph: ArrayLike,
    *,
    pivot_in: ArrayLike = 28.0,
    tip_in: ArrayLike = 6.0,
    efficiency: ArrayLike = 0.2,
    kept_along: ArrayLike = KEPT_ALONG,
    turned_deg: ArrayLike = 0.0,
    attack_deg: ArrayLike = 0.0,
    droop_deg: ArrayLike = 0.0,
    sideways_in: ArrayLike = 0.0,
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
        28 in and 70 mph make about 2500 degrees a second (2.6 a ms at contact in Nathan's swing model, as
        quoted).
    tip_in
        From the good spot to the end of the barrel, 0 to 20 in.
    efficiency
        Collision efficiency, -1 to 1.
    kept_along
        Share of the ball's speed along the bat that friction leaves, -1 to 1; 0.653 is what the default
        grip leaves against a bat of four times the ball's mass (see :func:`hitlab.physics.contact.collide`).
    turned_deg
        How far the bat has turned when it is on time, -45 to 45 degrees; 0 faces centre field, positive
        toward the pull side (a pitch inside is met so).
    attack_deg, droop_deg
        Attack angle, -60 to 80 degrees, and droop of the barrel, -60 to 60 degrees, where the bat faces
        centre field.
    sideways_in
        How far the ball passes outside the good spot of a swing on time, -20 to 20 in; negative: nearer the
        hands.
    model
        One of :data:`WINDOW_MODELS`. The arc belongs to ``moving``; the others keep attack and droop.

    Returns
    -------
    Meeting
        Arrays of the arguments' common shape.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, the model does not exist, the shapes do not fit, or no plane
        holds a bat with that droop and attack.

    Warns
    -----
    UnitWarning
        If the timing errors look like seconds.

    Examples
    --------
    Ten thousandths of a second early, on time, and as much late:

    >>> from hitlab.physics import meet
    >>> met = meet([-10.0, 0.0, 10.0], 85.0, 70.0)
    >>> met.spray_deg.round().tolist(), met.forward_in.round(1).tolist()
    ([21.0, 0.0, -21.0], [6.8, 0.0, -6.8])

    Under a drooping barrel an early bat climbs, a late one is flatter:

    >>> met = meet([-10.0, 0.0, 10.0], 85.0, 70.0, attack_deg=10.0, droop_deg=30.0)
    >>> met.attack_deg.round().tolist()
    [17.0, 10.0, 3.0]
    """
    _check_model(model)
    error_ms = quantity("timing_error_ms", timing_error_ms, "milliseconds", -500, 500)
    warn_of_seconds("timing_error_ms", error_ms)
    more = {
        "tip_in": quantity("tip_in", tip_in, "inches", 0, 20),
        "turned_deg": quantity("turned_deg", turned_deg, "degrees", -45, 45),
        "attack_deg": quantity("attack_deg", attack_deg, "degrees", -60, 80),
        "droop_deg": quantity("droop_deg", droop_deg, "degrees", -60, 60),
        "sideways_in": quantity("sideways_in", sideways_in, "inches", -20, 20),
    }
    swing = _swing_arguments(pitch_mph, bat_mph, pivot_in, efficiency, kept_along)
    shape = broadcast({"timing_error_ms": error_ms, **more, **swing})
    if np.any(np.abs(more["attack_deg"]) + np.abs(more["droop_deg"]) >= 90):
        raise QuantityError(
            "attack_deg and droop_deg together reach 90 degrees: no path square to such a bat rises so. "
            "Check both, in degrees."
        )
    return bring_together(model, shape, error_ms / 1000, *more.values(), *swing.values())


def bring_together(
    model: str,
    shape: tuple[int, ...],
    error_s: FloatArray,
    tip: FloatArray,
    turned_deg: FloatArray,
    attack_deg: FloatArray,
    droop_deg: FloatArray,
    sideways: FloatArray,
    pitch_mph: FloatArray,
    bat_mph: FloatArray,
    pivot: FloatArray,
    q: FloatArray,
    kept: FloatArray,
) -> Meeting:
    """Do what :func:`meet` does, with arguments that are checked.

    Seen from above: h toward centre field, p toward the pull side, z up. The bat points along ``tip``
    (the sum of its on-time direction and the way that it moves, by the angle turned).
    """
    to_inches = MPS_PER_MPH * INCHES_PER_METRE
    pitch, bat = pitch_mph * to_inches, bat_mph * to_inches
    steepest = np.radians(_STEEPEST_DEG)
    turned, droop, attack = np.radians(turned_deg), np.radians(droop_deg), np.radians(attack_deg)
    given = (
        error_s + tip + turned + attack + droop + sideways + pitch + bat + pivot + q + kept
    )  # NaN where any is
    known = np.broadcast_to(np.isfinite(given), shape)
    if model == "moving":
        rise = np.sin(attack) / np.cos(droop)
        move_h, cos_droop, sin_droop = np.sqrt(1 - rise * rise), np.cos(droop), np.sin(droop)
        move_p, move_z = -rise * sin_droop, rise * cos_droop
        sin_on, cos_on = np.sin(turned), np.cos(turned)
        # The bat when it is on time, from the hands outward; it ends where it meets the ball.
        on_h, on_p, on_z = (
            sin_on * move_h,
            sin_on * move_p - cos_on * cos_droop,
            sin_on * move_z - cos_on * sin_droop,
        )
        reach = sideways - pivot * on_p
        rate = bat / pivot
        turn = np.broadcast_to(-error_s * rate / (1 + bat / pitch), shape)
        for _ in range(6):
            total = turned + turn
            sine, cosine = np.sin(total), np.cos(total)
            across = cosine * cos_droop - sine * move_p
            along = reach / across
            slope = pivot * 0 + reach * move_h * cos_droop / (across * across)
            gap = -(along * sine * move_h - pivot * on_h) / pitch - turn / rate - error_s
            turn = np.clip(turn + gap / (slope / pitch + 1 / rate), -steepest - turned, steepest - turned)
        total = turned + turn
        sine, cosine = np.sin(total), np.cos(total)
        now_h, now_p, now_z = (
            sine * move_h,
            sine * move_p - cosine * cos_droop,
            sine * move_z - cosine * sin_droop,
        )
        length = -reach / now_p
        beyond, forward = length - pivot, length * now_h - pivot * on_h
        height = length * now_z - pivot * on_z
        facing = np.arctan2(now_h, -now_p)
        attack_now = np.degrees(np.arcsin(cosine * move_z + sine * sin_droop))
        droop_now = np.degrees(np.arcsin(-now_z))
        reached = (beyond <= tip) & (length > 0.25 * pivot) & (np.abs(total) < 0.999 * steepest)
    else:
        facing = turned - error_s * bat / pivot
        beyond, forward, height = sideways + 0 * facing, 0 * facing, 0 * facing
        attack_now, droop_now = attack_deg, droop_deg
        reached = (beyond <= tip) & (beyond > -0.75 * pivot) & (np.abs(facing) < steepest)
    reached = reached & known
    spray = _spray(facing, pitch, bat, pivot, q, kept, model)

    def full(values: FloatArray) -> FloatArray:
        return np.asarray(np.broadcast_to(np.where(reached, values, np.nan), shape).copy())

    return Meeting(
        np.broadcast_to(reached, shape).copy(),
        full(np.degrees(facing)),
        full(forward),
        full(beyond),
        full(np.degrees(spray)),
        full(attack_now),
        full(droop_now),
        full(height),
        known.copy(),
    )


@keeps_index
def fair_window(
    pitch_mph: ArrayLike,
    bat_mph: ArrayLike,
    *,
    pivot_in: ArrayLike = 28.0,
    efficiency: ArrayLike = 0.2,
    kept_along: ArrayLike = KEPT_ALONG,
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
    23.4
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


@keeps_index
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
