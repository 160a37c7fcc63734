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
STEP_S = 0.12
"""Length of a step. The tests hold it to 1 mm of carry over launch -5 to 85 degrees, 30 to 120 mph and
0 to 4000 rpm, in and out of wind (0.6 mm was the worst of 4,000 windy balls)."""
KINKED_STEP_S = 0.05
"""The same for the lift fit with a kink, where a step across the kink is only of second order."""
WIND_REFERENCE_M = 10.0
WIND_FLOOR_M = 1.0
"""The wind is stated for 10 m, the height of weather stations, and constant below 1 m. A step across this
kink would be of second order; :func:`advance` ends one there."""
_PARTS = 4
"""Of a step that is too coarse."""
_SLOW_AIR_MPS, _LEVEL_MPS = 2.5, 7.0
"""A ball that moves slower than the first through the air (across its spin's axis, where it spins) turns its
forces round within a step; it can do so only where it rises or falls no faster than the second."""
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

    def growth(self, height: FloatArray) -> FloatArray | float:
        """Wind at a height (m) over that at 10 m."""
        if self.wind_power == 0:
            return 1.0
        # exp and log are faster than a power, and in single precision faster still: 2e-7 of the wind's speed
        # moves a ball by thousandths of a millimetre.
        grown = np.maximum(height, WIND_FLOOR_M).astype(np.float32)
        np.log(grown, out=grown)
        grown -= np.float32(np.log(WIND_REFERENCE_M))
        grown *= np.float32(self.wind_power)
        return np.asarray(np.exp(grown, out=grown), dtype=np.float64)

    def acceleration(
        self,
        velocity: Components,
        height: FloatArray | None,
        time: float | FloatArray,
    ) -> Components:
        """Acceleration at a time; ``height`` (m) is needed where the wind grows with it."""
        air = velocity
        if self.wind is not None:
            grown = 1.0 if height is None else self.growth(height)
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
    """Take a step; in wind, several small ones where a long one is too coarse.

    That is where the wind grows fast with height, near the ground, where the ball crosses the kink of its
    profile (the step is then split there, so that no part of it contains the kink), and where a ball that
    drifts with the wind hardly moves through the air.

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
    if forces.wind is None:
        return after
    some = _coarse(state, after, forces)
    if not some.size:
        return after
    part, there = state.take(some), forces.take(some)
    now = np.full(some.size, time)
    for share in _shares(part, after.take(some), forces.step_s):
        length = share * forces.step_s
        part = step(part, there, now, length)
        now = now + length
    for whole, found in zip((*after.place, *after.velocity), (*part.place, *part.velocity), strict=True):
        whole[some] = found
    return after


def _coarse(before: State, after: State, forces: Forces) -> np.ndarray:
    """Find the balls for which a whole step is too long."""
    z, w = before.place[-1], after.place[-1]
    lower, higher = np.minimum(z, w), np.maximum(z, w)
    wanted = (higher > WIND_FLOOR_M) & ((higher > 3 * lower) | (lower < WIND_FLOOR_M))
    if forces.wind_power == 0:
        wanted = np.zeros_like(wanted)
    if forces.wind is not None:
        # Only where the ball is about level and not much faster than the wind can be.
        windy = _LEVEL_MPS + 2 * max(float(np.abs(blown).max(initial=0)) for blown in forces.wind)
        level = np.flatnonzero(
            (np.abs(after.velocity[-1]) < _LEVEL_MPS) & (np.abs(after.velocity[0]) < windy)
        )
        if level.size:
            wanted[level[_turning(after.take(level), forces.take(level))]] = True
    return np.flatnonzero(wanted)


def _turning(state: State, forces: Forces) -> np.ndarray:
    """Tell which balls move through the air so slowly, or so nearly along their axis, that the lift turns."""
    grown = forces.growth(state.place[-1])
    blown = [wind * grown for wind in forces.wind or ()]
    air = (*(v - w for v, w in zip(state.velocity, blown, strict=False)), state.velocity[-1])
    speed = np.sqrt(np.sum(np.square(air), axis=0))
    turned = forces._spin_across(air, speed, 1.0)
    if turned is not None:
        spin = np.sqrt(np.sum(np.square(forces.spin), axis=0))
        speed = np.where(spin > 0, turned[0] / np.where(spin > 0, spin, 1.0), speed)
    return np.asarray(speed < _SLOW_AIR_MPS)


def _shares(before: State, after: State, length: float) -> list[FloatArray]:
    """Shares of a step that are taken one after the other, one end of them at the kink if it is crossed."""
    z, w = before.place[-1], after.place[-1]
    crossing, rising = (z - WIND_FLOOR_M) * (w - WIND_FLOOR_M) < 0, w > z
    # Newton on a path that is nearly straight; where it is not, a share that is off by a little does no harm.
    kink = np.where(crossing, (WIND_FLOOR_M - z) / np.where(crossing, w - z, 1.0), 0.0)
    for _ in range(3):
        height, speed = hermite(kink, z, w, before.velocity[-1], after.velocity[-1], length)
        moving = np.abs(speed) > 1e-3
        change = (WIND_FLOOR_M - height) / np.where(moving, speed * length, np.inf)
        kink = np.clip(kink + change, 0.0, 1.0)
    # Below the kink the wind is steady and one part will do; above it grows, and takes the others.
    below = np.where(rising, kink, 1 - kink)
    above = np.where(crossing, (1 - below) / (_PARTS - 1), 1 / _PARTS)
    below = np.where(crossing, below, 1 / _PARTS)
    first, last = np.where(rising, below, above), np.where(rising, above, below)
    return [first, *[above] * (_PARTS - 2), last]


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
    z = place[-1] if forces.wind is not None and forces.wind_power else None
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
