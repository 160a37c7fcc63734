"""The equations of motion of spinning balls and one step of their solution, for many balls at once.

A classical fourth-order Runge-Kutta step of fixed length over the whole batch; between two steps the
path is the cubic that has the right place and velocity at both ends (Hermite). The acceleration
depends on velocity and time, on the place only through the wind, so the position needs no stages of
its own.

Why numpy alone: a compiled kernel of the same steps (numba, two threads, on a busy two-core machine)
gave 160,000 carries a second where these lines gave 150,000, after 2.2 s of import and compiling. On
idle cores it would gain more, but a hundred thousand balls take well under a second as it is, which is
not worth a heavy dependency and a second path to test.

Everything here is in SI units; each ball's x axis points along its own launch direction, y to the
left of it, z up. Without sidespin and crosswind a ball stays in its plane and y is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from hitlab.physics.drag_lift import falling_drag_coefficient, lift_per_spin_factor
from hitlab.physics.quantities import FloatArray

__all__ = [
    "GRAVITY",
    "KINKED_STEP_S",
    "STEP_S",
    "Forces",
    "State",
    "advance",
    "hermite",
    "step",
]

GRAVITY = 9.80665
"""Standard gravity, m/s2."""
STEP_S = 0.1
"""Length of a step. The tests hold it to 1 mm of carry over launch -5 to 85 degrees, 30 to 120 mph and
0 to 4000 rpm; halving it costs twice the time and gains nothing that matters."""
KINKED_STEP_S = 0.05
"""The same for the lift fit with a kink, where a step across the kink is only of second order."""
WIND_REFERENCE_M = 10.0
WIND_FLOOR_M = 1.0
"""The wind is stated for 10 m, the height of weather stations, and constant below 1 m. A step across this
kink would be of second order; it is put right, :func:`advance`."""
_SHARE_OF_HEIGHT, _PARTS = 0.3, 4
"""A step in which the height changes by more than this share of itself is taken in so many parts (in
wind)."""
_TINY = 1e-12
"""Added to speeds (m/s) before dividing by them: a ball at rest has no direction."""

Components = tuple[FloatArray, ...]


class State(NamedTuple):
    """Place and velocity of many balls: (x, z) or (x, y, z) each."""

    place: Components
    velocity: Components

    def take(self, kept: np.ndarray) -> State:
        """Keep the balls where ``kept`` is true (or those of an index)."""
        return State(tuple(c[kept] for c in self.place), tuple(c[kept] for c in self.velocity))


@dataclass(frozen=True, slots=True)
class Forces:
    """What acts on the balls besides gravity; arrays of one entry a ball.

    Attributes
    ----------
    per_metre
        Half the air's density x the ball's cross-section / its mass, 1/m.
    drag_constant
        Drag coefficient of a ball without spin (for ``falling``: what is added to the fit).
    drag_spin
        What spin adds to it at launch; it fades as the spin does. None for nothing.
    radius
        Ball radius, m.
    spin
        Spin vector at launch along the axes of the plane or of space, rad/s: (backspin,) in the plane,
        (x, y, z) in space.
    wind
        Wind at 10 m along x, or along x and y; None where there is none.
    drag, lift, spin_decay_s, wind_power
        The fits' names, the time in which the spin falls to 1/e, the power of the wind's growth with height.
    """

    per_metre: FloatArray
    drag_constant: FloatArray
    drag_spin: FloatArray | None
    radius: FloatArray
    spin: Components
    wind: Components | None
    drag: str
    lift: str
    spin_decay_s: float
    wind_power: float

    @property
    def step_s(self) -> float:
        """Length of a step that keeps the carry within a millimetre."""
        return KINKED_STEP_S if self.lift == "kinked" else STEP_S

    def take(self, kept: np.ndarray) -> Forces:
        """Keep the balls where ``kept`` is true (or those of an index)."""
        return Forces(
            self.per_metre[kept],
            self.drag_constant[kept],
            None if self.drag_spin is None else self.drag_spin[kept],
            self.radius[kept],
            tuple(c[kept] for c in self.spin),
            None if self.wind is None else tuple(c[kept] for c in self.wind),
            self.drag,
            self.lift,
            self.spin_decay_s,
            self.wind_power,
        )

    def growth(self, height: FloatArray) -> FloatArray:
        """Wind at a height (m) over that at 10 m."""
        # exp and log are nearly twice as fast as a power.
        return np.asarray(
            np.exp(self.wind_power * np.log(np.maximum(height, WIND_FLOOR_M) / WIND_REFERENCE_M))
        )

    def growth_below(self, height: FloatArray, grown: FloatArray) -> FloatArray:
        """Integral of the growth over height, from the height at which it sets in (m)."""
        one = 1 + self.wind_power
        floor = float(self.growth(np.asarray(WIND_FLOOR_M)))
        above = (height * grown - WIND_FLOOR_M * floor) / one
        return np.where(height > WIND_FLOOR_M, above, (height - WIND_FLOOR_M) * floor)

    def acceleration(
        self,
        velocity: Components,
        height: FloatArray | None,
        time: float | FloatArray,
        grown: FloatArray | None = None,
    ) -> Components:
        """Acceleration at a time; ``height`` (m), or the wind's growth there, is needed with wind only."""
        air = velocity
        if self.wind is not None and (height is not None or grown is not None):
            if grown is None:
                grown = self.growth(np.asarray(height))
            air = (*(v - w * grown for v, w in zip(velocity, self.wind, strict=False)), velocity[-1])
        squared = air[0] * air[0]
        for component in air[1:]:
            squared = squared + component * component
        speed = np.sqrt(squared) + _TINY
        left = np.exp(-time / self.spin_decay_s)
        coefficient = self.drag_constant
        if self.drag_spin is not None:
            coefficient = coefficient + left * self.drag_spin
        if self.drag == "falling":
            coefficient = coefficient + falling_drag_coefficient(speed)
        slowing = self.per_metre * coefficient * speed
        across = self._spin_across(air, speed, left)
        if across is None:
            *level, up = (-slowing * component for component in air)
            return (*level, up - GRAVITY)
        length, vector = across
        lifting = self.per_metre * self.radius
        lifting = lifting * lift_per_spin_factor(self.radius * length / (speed * speed), self.lift)
        *level, up = (lifting * v - slowing * c for c, v in zip(air, vector, strict=True))
        return (*level, up - GRAVITY)

    def _spin_across(
        self, air: Components, speed: FloatArray, left: float | FloatArray
    ) -> tuple[FloatArray, Components] | None:
        """Spin x velocity: its length and the vector itself; None where no ball is lifted."""
        if self.lift == "none" or not self.spin:
            return None
        if len(air) == 2:
            backspin = left * self.spin[0]
            vector: Components = (-backspin * air[1], backspin * air[0])
            return np.abs(backspin) * speed, vector
        a, b, c = (left * component for component in self.spin)
        x, y, z = air
        vector = (b * z - c * y, c * x - a * z, a * y - b * x)
        return np.sqrt(vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2]), vector


def advance(state: State, forces: Forces, time: float) -> State:
    """Take a step, put right where the wind changes fast with height.

    A step that climbs through a quickly growing wind, or across the kink of its profile, samples it at three
    heights and takes the average over the step by Simpson's rule, which is too coarse there. How far that
    average lies from the true one (the profile has a closed integral) times what a little more wind does is
    added to the velocity.

    Parameters
    ----------
    state, forces, time
        See :func:`step`.

    Returns
    -------
    State
        Where they are at ``time + forces.step_s``.
    """
    after = step(state, forces, time)
    if forces.wind is None or forces.wind_power == 0:
        return after
    z, w = state.place[-1], after.place[-1]
    lower, higher = np.minimum(z, w), np.maximum(z, w)
    fast = higher - lower > _SHARE_OF_HEIGHT * np.maximum(lower, WIND_FLOOR_M)
    some = np.flatnonzero((higher > WIND_FLOOR_M) & (fast | (lower < WIND_FLOOR_M)))
    if not some.size:
        return after
    before, end, there, length = state.take(some), after.take(some), forces.take(some), forces.step_s
    heights = [
        before.place[-1],
        (before.place[-1] + end.place[-1]) / 2 + length * (before.velocity[-1] - end.velocity[-1]) / 8,
        end.place[-1],
    ]
    grown = [there.growth(height) for height in heights]
    sums = [there.growth_below(height, g) for height, g in zip(heights, grown, strict=True)]
    mean = np.zeros(some.size)
    for i in (0, 1):
        rise = heights[i + 1] - heights[i]
        flat = np.abs(rise) < 1e-4
        slope = (sums[i + 1] - sums[i]) / np.where(flat, 1.0, rise)
        mean += np.where(flat, grown[i], slope) / 2
    wrong = mean - (grown[0] + 4 * grown[1] + grown[2]) / 6
    middle = tuple((v + u) / 2 for v, u in zip(before.velocity, end.velocity, strict=True))
    less, more = (
        there.acceleration(middle, None, time + length / 2, grown[1] + part) for part in (0.0, wrong)
    )
    for mine, place, a, b in zip(after.velocity, after.place, less, more, strict=True):
        mine[some] += length * (b - a)
        place[some] += length**2 / 2 * (b - a)
    return after


def step(
    state: State, forces: Forces, time: float | FloatArray, length: float | FloatArray | None = None
) -> State:
    """Take one Runge-Kutta step.

    Parameters
    ----------
    state
        Where the balls are at ``time``.
    forces
        What acts on them.
    time
        Seconds since they left the bat.
    length
        Of the step in seconds; ``forces.step_s`` by default.

    Returns
    -------
    State
        Where they are at ``time + length``.
    """
    if length is None:
        length = forces.step_s
    place, v1 = state
    half = length / 2
    z = place[-1] if forces.wind is not None else None
    a1 = forces.acceleration(v1, z, time)
    v2 = tuple(v + half * a for v, a in zip(v1, a1, strict=True))
    a2 = forces.acceleration(v2, None if z is None else z + half * v1[-1], time + half)
    v3 = tuple(v + half * a for v, a in zip(v1, a2, strict=True))
    a3 = forces.acceleration(v3, None if z is None else z + half * v2[-1], time + half)
    v4 = tuple(v + length * a for v, a in zip(v1, a3, strict=True))
    a4 = forces.acceleration(v4, None if z is None else z + length * v3[-1], time + length)
    middle = tuple(b + c for b, c in zip(a2, a3, strict=True))
    velocity = tuple(v + length / 6 * (a + 2 * m + d) for v, a, m, d in zip(v1, a1, middle, a4, strict=True))
    moved = tuple(
        p + length * v + length**2 / 6 * (a + m) for p, v, a, m in zip(place, v1, a1, middle, strict=True)
    )
    return State(moved, velocity)


def hermite(
    share: FloatArray,
    before: FloatArray,
    after: FloatArray,
    speed_before: FloatArray,
    speed_after: FloatArray,
    length: float,
) -> tuple[FloatArray, FloatArray]:
    """Find place and velocity within a step.

    Parameters
    ----------
    share
        How far into the step, 0 to 1.
    before, after, speed_before, speed_after
        Place and velocity along one axis at both ends.
    length
        Seconds of the step.

    Returns
    -------
    tuple of numpy.ndarray
        Place, and velocity as the slope of the cubic.
    """
    rise = after - before
    start, end = length * speed_before, length * speed_after
    c2 = 3 * rise - 2 * start - end
    c3 = start + end - 2 * rise
    place = before + share * (start + share * (c2 + share * c3))
    speed = (start + share * (2 * c2 + share * 3 * c3)) / length
    return place, speed
