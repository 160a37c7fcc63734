"""March balls to the ground and note between which two steps each lands, peaks and meets the fence.

The moment itself is found afterwards, once for all balls, on the cubic between the two steps. Balls
that have landed are dropped from the batch as it marches.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from hitlab.physics.quantities import FloatArray
from hitlab.physics.trajectory import Components, Forces, State, advance, hermite

__all__ = ["LONGEST_S", "Bracket", "Reach", "track"]

LONGEST_S = 120.0
"""A ball still up after two minutes (spinning without drag it may circle for ever) is given up."""
_HALVINGS = 26
"""Of a step of 0.16 s, which leaves about two nanoseconds."""
_FENCE_HALVINGS = 8
"""Which leave less than a thousandth of a second, in which the way to the fence is straight: to a
thousandth of a millimetre in height."""
_CLOSE = 1e-9
"""Share of a step by which a moment that is found may still change."""
_DIP_M = 0.4
"""A ball that turns upward within a step while higher than this cannot have touched the ground: at
100 m/s2 of lift (beyond any baseball) it dips 0.5 x 100 x 0.08^2 = 0.32 m below the step's ends."""

Reach = Callable[[Components, np.ndarray], FloatArray]
"""Signed distance to the fence of the balls of an index; positive inside."""


@dataclass(frozen=True, slots=True, eq=False)
class Bracket:
    """The two steps around an event; NaN for a ball without the event.

    Attributes
    ----------
    step_s
        Length of the step.
    start_s
        Time of the earlier step.
    highest
        Share of the step in which the event lies, 1 unless the ball lands in a dip.
    before, after
        The balls at both steps.
    """

    step_s: FloatArray
    start_s: FloatArray
    highest: FloatArray
    before: State
    after: State

    @classmethod
    def empty(cls, size: int, axes: int) -> Bracket:
        """Make room for the events of ``size`` balls."""

        def blank() -> Components:
            return tuple(np.full(size, np.nan) for _ in range(axes))

        return cls(
            np.full(size, np.nan), np.full(size, np.nan), np.ones(size), State(blank(), blank()),
            State(blank(), blank()),
        )  # fmt: skip

    def note(self, balls: np.ndarray, taken: _Step, at: np.ndarray) -> None:
        """Store the event of ``balls``, which stand at the places ``at`` of the batch."""
        before, after = taken.before, taken.after
        for own, times in ((self.start_s, taken.time), (self.step_s, taken.length)):
            own[balls] = times[at] if isinstance(times, np.ndarray) else times
        for kept, now in ((self.before, before), (self.after, after)):
            for mine, component in zip(
                (*kept.place, *kept.velocity), (*now.place, *now.velocity), strict=True
            ):
                mine[balls] = component[at]

    def at(self, share: FloatArray) -> tuple[Components, Components]:
        """Place and velocity at a share of the step."""
        pairs = [
            hermite(share, p, q, v, w, self.step_s)
            for p, q, v, w in zip(
                self.before.place, self.after.place, self.before.velocity, self.after.velocity, strict=True
            )
        ]
        return tuple(pair[0] for pair in pairs), tuple(pair[1] for pair in pairs)

    def time(self, share: FloatArray) -> FloatArray:
        """Time at a share of the step."""
        return np.asarray(self.start_s + share * self.step_s)

    def landing_share(self) -> FloatArray:
        """Share of the step at which the height comes to nothing."""
        return _falling_through(self._height(), self.highest)

    def turning_share(self, sign: float = 1.0) -> FloatArray:
        """Share of the step at which the rise ends (or the fall, with ``sign`` -1)."""
        _, c1, c2, c3 = self._height()
        return _falling_through([sign * c1, sign * 2 * c2, sign * 3 * c3], self.highest)

    def _height(self) -> list[FloatArray]:
        """Coefficients, from the constant one up, of the height as a cubic of the share of the step."""
        z, w = self.before.place[-1], self.after.place[-1]
        start, end = (self.step_s * ball.velocity[-1] for ball in (self.before, self.after))
        rise = w - z
        return [z, start, 3 * rise - 2 * start - end, start + end - 2 * rise]

    def reaching_share(self, reach: Reach) -> FloatArray:
        """Share of the step at which the fence is met; NaN where it is not."""
        share = np.full(self.start_s.size, np.nan)
        those = np.flatnonzero(np.isfinite(self.start_s))
        met = Bracket(
            self.step_s[those], self.start_s[those], self.highest[those], self.before.take(those),
            self.after.take(those),
        )  # fmt: skip
        low, high = np.zeros(those.size), met.highest.copy()
        left, beyond = (reach(met.at(end)[0], those) for end in (low, high))
        for _ in range(_FENCE_HALVINGS):
            middle = (low + high) / 2
            now = reach(met.at(middle)[0], those)
            inside = now > 0
            low, high = np.where(inside, middle, low), np.where(inside, high, middle)
            left, beyond = np.where(inside, now, left), np.where(inside, beyond, now)
        share[those] = low + (high - low) * left / (left - beyond)
        return share


def _falling_through(coefficients: list[FloatArray], highest: FloatArray) -> FloatArray:
    """Find where a polynomial goes from positive to negative between 0 and ``highest``.

    Newton's method, and a halving wherever it would leave the stretch in which the place is known to lie.
    """
    low, high = np.zeros_like(highest), highest.copy()
    share = highest / 2
    for _ in range(2 * _HALVINGS):
        value, slope = np.zeros_like(share), np.zeros_like(share)
        for one in coefficients[::-1]:
            slope = slope * share + value
            value = value * share + one
        inside = value > 0
        low, high = np.where(inside, share, low), np.where(inside, high, share)
        # A slope of nothing sends it nowhere, and so to the middle.
        with np.errstate(divide="ignore", invalid="ignore"):
            wanted = share - value / slope
        before, share = share, np.where((wanted >= low) & (wanted <= high), wanted, (low + high) / 2)
        if not np.any(np.abs(share - before) > _CLOSE):
            break
    return np.where(np.isnan(value), np.nan, share)


@dataclass(frozen=True, slots=True)
class _Step:
    """A step of the batch: when it began, how long it was (one number, or one a ball), and both its ends."""

    time: float | FloatArray
    length: float | FloatArray
    before: State
    after: State


def track(
    state: State, forces: Forces, reach: Reach | None = None, nearest_m: float = 0.0
) -> tuple[Bracket, Bracket, Bracket]:
    """March balls until all have landed.

    Parameters
    ----------
    state, forces
        The balls as they leave the bat; a ball with a missing value is left out.
    reach
        Signed distance to the fence, positive inside; None without a fence.
    nearest_m
        The fence is nowhere nearer than this.

    Returns
    -------
    tuple of Bracket
        Landing, highest point, meeting with the fence.

    Examples
    --------
    Without air, a ball that leaves the ground at 20 m/s upward and 10 m/s outward is up for 40 / 9.80665 s:

    >>> import numpy as np
    >>> from hitlab.physics import track
    >>> from hitlab.physics.trajectory import Forces, State
    >>> zero, radius = np.zeros(1), np.array([0.0366])
    >>> ball = State(place=(zero, zero), velocity=(np.array([10.0]), np.array([20.0])))
    >>> vacuum = Forces(per_metre=zero, drag_constant=zero, drag_spin=None, radius=radius, spin=(zero,),
    ...                 wind=None, drag="constant", lift="kinked", spin_decay_s=30.0, wind_power=0.0)
    >>> landing, apex, _ = track(ball, vacuum)
    >>> landing.time(landing.landing_share()).round(2).tolist()
    [4.08]
    """
    axes, size = len(state.place), state.place[0].size
    landing, apex, meeting = (Bracket.empty(size, axes) for _ in range(3))
    known = np.isfinite(forces.per_metre * forces.drag_constant * forces.radius)
    if forces.drag_spin is not None:
        known = known & np.isfinite(forces.drag_spin)
    for component in (*state.place, *state.velocity, *forces.spin, *(forces.wind or ())):
        known = known & np.isfinite(component)
    balls = np.flatnonzero(known)
    state, forces = state.take(balls), forces.take(balls)
    flying = np.ones(balls.size, dtype=np.bool_)
    met = np.zeros(balls.size, dtype=np.bool_)
    time: float | FloatArray = 0.0 if forces.alike else np.zeros(balls.size)
    while balls.size:
        after, length = advance(state, forces, time)
        taken = _Step(time, length, state, after)
        time = time + length

        peaked = np.flatnonzero((state.velocity[-1] > 0) & (after.velocity[-1] <= 0) & flying)
        if peaked.size:
            # Of two peaks the higher one counts.
            so_far = np.fmax(apex.before.place[-1][balls[peaked]], apex.after.place[-1][balls[peaked]])
            here = np.maximum(state.place[-1][peaked], after.place[-1][peaked])
            peaked = peaked[~(so_far > here)]
            apex.note(balls[peaked], taken, peaked)

        if reach is not None:
            squared = sum(component * component for component in after.place[:-1])
            far = np.flatnonzero(flying & ~met & (squared >= nearest_m**2))
            beyond = far[reach(after.take(far).place, balls[far]) <= 0]
            met[beyond] = True
            meeting.note(balls[beyond], taken, beyond)

        landed = flying & (after.place[-1] <= 0)
        down = np.flatnonzero(landed)
        landing.note(balls[down], taken, down)
        dipping = flying & ~landed & (state.velocity[-1] < 0) & (after.velocity[-1] > 0)
        for at in np.flatnonzero(dipping & (np.minimum(state.place[-1], after.place[-1]) < _DIP_M)):
            landed[at] = _touch_in_dip(landing, balls[at : at + 1], taken, at)
        flying &= ~landed
        flying &= time < LONGEST_S

        state = after
        if np.count_nonzero(flying) < 0.8 * balls.size:
            kept = np.flatnonzero(flying)
            balls, met, flying = balls[kept], met[kept], flying[kept]
            state, forces = state.take(kept), forces.take(kept)
            if isinstance(time, np.ndarray):
                time = time[kept]
    return landing, apex, meeting


def _touch_in_dip(landing: Bracket, ball: np.ndarray, taken: _Step, at: np.intp) -> bool:
    """Note the landing of a ball that touches the ground within a step and is up again at its end."""
    dip = Bracket.empty(1, len(taken.before.place))
    dip.note(np.array([0]), taken, np.array([at]))
    lowest = dip.turning_share(sign=-1.0)
    if dip.at(lowest)[0][-1][0] > 0:
        return False
    landing.note(ball, taken, np.array([at]))
    landing.highest[ball] = lowest
    return True
