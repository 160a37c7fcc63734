"""The equations of motion of spinning balls and one step of their solution, for many balls at once.

A classical fourth-order Runge-Kutta step over the whole batch; between two steps the path is the cubic that
has the right place and velocity at both ends (Hermite). The acceleration depends on velocity and time, on the
place only through the wind, so the position needs no stages of its own. In still air balls that do not curve
all take steps of one length; else each ball takes its own (:func:`advance`), so that the batch stays whole.

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
]

GRAVITY = 9.80665
"""Standard gravity, m/s2."""
STEP_S = 0.16
"""Length of a step. The tests hold it to 1 mm of carry over launch -5 to 85 degrees, 30 to 120 mph, 0 to 4000
rpm and sidespin to 2000, in and out of wind (0.51 mm was the worst of 20,000 balls in each of the nine airs
of ``tests.benchmarks.bench_physics``)."""
ROUGHER = 2.5
"""So many times longer steps, where only the outcome counts. The tests hold them to 0.1 ft of carry over the
same balls and as much topspin, in air of 0.9 to 1.3 kg/m3."""
KINKED_STEP_S = 0.05
"""The same for the lift fit with a kink, where a step across the kink is only of second order."""
WIND_REFERENCE_M = 10.0
WIND_FLOOR_M = 1.0
"""The wind is stated for 10 m, the height of weather stations, and constant below 1 m. A step across this
kink would be of second order; :func:`advance` ends one there."""
_CLIMB, _FALL = 0.7, 0.9
"""Of its height a ball may climb or fall so much within a step: near the ground the wind grows fast, and what
is wrong at the start of a flight is carried to its end."""
_BEND_M = 0.3
"""More than its forces bend a path within a step: 20 m/s2 bend it by half of 20 x 0.16^2, 0.26 m."""
_FLAT_M, _FLAT_MPS, _FLAT_S = 1.3, 4.0, 0.08
"""A ball below the first that rises or falls slower than the second takes steps no longer than the third in
wind: much backspin lifts it through the kink so flatly that the parabola of :func:`_time_to_kink` misses the
moment."""
_AT_KINK_M, _AT_KINK_S = 1e-3, 1e-5
"""A ball nearer to the kink than this, in height or in time, is at it."""
_SLOW_AIR_MPS, _LEVEL_MPS = 3.5, 7.0
"""A ball that moves slower than the first through the air (across its spin's axis, where it spins) turns its
forces round within a step; it can do so only where it rises or falls no faster than the second."""
_SLOWER = 0.2
"""Share of a step that such a ball takes."""
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
    rough
        Whether longer steps do.
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
    rough: bool = False

    @property
    def step_s(self) -> float:
        """Length of a step that keeps the carry within a millimetre; rough, within a tenth of a foot."""
        return (KINKED_STEP_S if self.lift == "kinked" else STEP_S) * (ROUGHER if self.rough else 1.0)

    @property
    def alike(self) -> bool:
        """Whether steps of one length do for all: in still air, where none curves or it may be rough."""
        return self.wind is None and (self.rough or len(self.spin) < 3)

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
            self.rough,
        )

    def winded(self, state: State) -> FloatArray | None:
        """Heights of the balls where the wind grows with them, else None."""
        return state.place[-1] if self.wind is not None and self.wind_power else None

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
        self, velocity: Components, height: FloatArray | None, left: float | FloatArray
    ) -> Components:
        """Acceleration where ``left`` of the spin is left; ``height`` (m) where the wind grows with it."""
        air = velocity
        if self.wind is not None:
            grown = 1.0 if height is None else self.growth(height)
            air = (*(v - w * grown for v, w in zip(velocity, self.wind, strict=False)), velocity[-1])
        squared = air[0] * air[0]
        for component in air[1:]:
            squared += component * component
        speed = np.sqrt(squared, out=squared)
        speed += _TINY
        coefficient = self.drag_constant
        if self.drag_spin is not None:
            coefficient = left * self.drag_spin
            coefficient += self.drag_constant
        if self.drag == "falling":
            coefficient = coefficient + falling_drag_coefficient(speed)
        slowing = self.per_metre * coefficient
        slowing *= speed
        across = self._spin_across(air, speed, left)
        if across is None:
            *level, up = (-slowing * component for component in air)
            up -= GRAVITY
            return (*level, up)
        rate, vector = across
        rate *= self.radius
        rate /= speed
        lifting = lift_per_spin_factor(rate, self.lift)
        lifting *= self.per_metre
        lifting *= self.radius
        for pushed, along in zip(vector, air, strict=True):
            pushed *= lifting
            pushed -= slowing * along
        *level, up = vector
        up -= GRAVITY
        return (*level, up)

    def _spin_across(
        self, air: Components, speed: FloatArray, left: float | FloatArray
    ) -> tuple[FloatArray, Components] | None:
        """Rate of the spin across the flight, and spin x velocity; None where no ball is lifted."""
        if self.lift == "none" or not self.spin:
            return None
        if len(air) == 2:
            backspin = left * self.spin[0]
            vector: Components = (backspin * air[1], backspin * air[0])
            np.negative(vector[0], out=vector[0])
            return np.abs(backspin, out=backspin), vector
        a, b, c = (left * component for component in self.spin)
        x, y, z = air
        vector = (b * z - c * y, c * x - a * z, a * y - b * x)
        length = np.sqrt(vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2])
        length /= speed
        return length, vector


def advance(state: State, forces: Forces, time: float | FloatArray) -> tuple[State, float | FloatArray]:
    """Take a step; in wind, and where balls curve, each ball one as long as it may be.

    Steps are shorter where the wind grows fast with height, near the ground, and where a ball hardly moves
    through the air, or nearly along its axis; they end at the kink of the wind's profile, so that none
    contains it.

    Parameters
    ----------
    state
        Where the balls are at ``time``.
    forces
        What acts on them.
    time
        Seconds since they left the bat; one number, or one a ball.

    Returns
    -------
    tuple
        Where they are after the step, and its length in seconds: one number where all are alike, else one a
        ball.
    """
    left = np.exp(-time / forces.spin_decay_s)
    first = forces.acceleration(state.velocity, forces.winded(state), left)
    length = forces.step_s if forces.alike else _lengths(state, forces, first[-1])
    return _step(state, forces, left, length, first), length


def _lengths(state: State, forces: Forces, rising: FloatArray) -> FloatArray:
    """How long a step each ball takes; ``rising`` is its acceleration upward."""
    longest = forces.step_s
    z, up = state.place[-1], state.velocity[-1]
    length = np.full(z.shape, longest)
    speed = np.abs(up)
    if forces.wind is not None and forces.wind_power:
        length[(z < _FLAT_M) & (speed < _FLAT_MPS)] = min(_FLAT_S, longest)
        low = np.flatnonzero(z < WIND_FLOOR_M + _BEND_M + longest / _FALL * speed)
        if low.size:
            z, up = z[low], up[low]
            windy = (up > 0) | (z > WIND_FLOOR_M + _AT_KINK_M)
            share = np.where(up > 0, _CLIMB, _FALL)
            near = np.where(windy, share * np.maximum(z, WIND_FLOOR_M) / (speed[low] + _TINY), longest)
            length[low] = np.minimum(np.minimum(near, _time_to_kink(z, up, rising[low])), length[low])
    # Only where the ball is about level and not much faster than the wind can be.
    level = np.flatnonzero(speed < _LEVEL_MPS)
    if level.size:
        blown = [float(np.abs(wind).max(initial=0)) for wind in forces.wind or ()]
        level = level[np.abs(state.velocity[0][level]) < _LEVEL_MPS + 2 * max(blown, default=0.0)]
    if level.size:
        turning = level[_turning(state.take(level), forces.take(level))]
        length[turning] = np.minimum(length[turning], _SLOWER * longest)
    return length


def _time_to_kink(z: FloatArray, up: FloatArray, rising: FloatArray) -> FloatArray:
    """Seconds until a ball is at the kink of the wind's profile, infinity where it does not come there.

    On the parabola of its acceleration now, which within a step is off by about a millimetre.
    """
    gap = z - WIND_FLOOR_M
    with np.errstate(invalid="ignore", divide="ignore"):
        both = -(up + np.copysign(np.sqrt(up * up - 2 * rising * gap), up))
        times = np.array([both / rising, 2 * gap / both])
    return np.asarray(np.where(times > _AT_KINK_S, times, np.inf).min(axis=0))


def _turning(state: State, forces: Forces) -> np.ndarray:
    """Tell which balls move through the air so slowly, or so nearly along their axis, that the lift turns."""
    air = state.velocity
    if forces.wind is not None:
        grown = forces.growth(state.place[-1])
        air = (*(v - w * grown for v, w in zip(air, forces.wind, strict=False)), air[-1])
    speed = np.sqrt(np.sum(np.square(air), axis=0)) + _TINY
    turned = forces._spin_across(air, speed, 1.0)
    if turned is not None:
        spin = np.sqrt(np.sum(np.square(forces.spin), axis=0))
        speed = np.where(spin > 0, speed * turned[0] / np.where(spin > 0, spin, 1.0), speed)
    return np.asarray(speed < _SLOW_AIR_MPS)


def _step(
    state: State, forces: Forces, left: float | FloatArray, length: float | FloatArray, a1: Components
) -> State:
    """Take one Runge-Kutta step, where the acceleration at its start and the spin left then are known."""
    place, v1 = state
    half, sixth = length / 2, length / 6
    z, fade = forces.winded(state), np.exp(-half / forces.spin_decay_s)
    left = left * fade
    v2 = _after(v1, half, a1)
    a2 = forces.acceleration(v2, None if z is None else z + half * v1[-1], left)
    v3 = _after(v1, half, a2)
    a3 = forces.acceleration(v3, None if z is None else z + half * v2[-1], left)
    v4 = _after(v1, length, a3)
    a4 = forces.acceleration(v4, None if z is None else z + length * v3[-1], left * fade)
    moved, velocity = [], []
    for p, v, a, b, c, d in zip(place, v1, a1, a2, a3, a4, strict=True):
        # (a + b + c) length / 6 is what both need: p + length (v + (a + b + c) length / 6).
        b += c
        a = a + b
        d += a
        d += b
        d *= sixth
        d += v
        velocity.append(d)
        a *= sixth
        a += v
        a *= length
        a += p
        moved.append(a)
    return State(tuple(moved), tuple(velocity))


def _after(velocity: Components, length: float | FloatArray, acceleration: Components) -> Components:
    """Velocity after a time at a constant acceleration."""
    found = []
    for v, a in zip(velocity, acceleration, strict=True):
        later = length * a
        later += v
        found.append(later)
    return tuple(found)


def hermite(
    share: FloatArray,
    before: FloatArray,
    after: FloatArray,
    speed_before: FloatArray,
    speed_after: FloatArray,
    length: float | FloatArray,
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
