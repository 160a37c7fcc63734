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
"""Of a step of 0.12 s, which leaves about a nanosecond."""
_DIP_M = 0.4
"""A ball that turns upward within a step while higher than this cannot have touched the ground: at
100 m/s2 of lift (beyond any baseball) it dips 0.5 x 100 x 0.06^2 = 0.18 m below the step's ends."""

Reach = Callable[[Components, np.ndarray], FloatArray]
"""Signed distance to the fence of the balls of an index; positive inside."""


@dataclass(frozen=True, slots=True, eq=False)
class Bracket:
    """The two steps around an event; NaN for a ball without the event.

    Attributes
    ----------
    step_s
        Length of the steps.
    start_s
        Time of the earlier step.
    highest
        Share of the step in which the event lies, 1 unless the ball lands in a dip.
    before, after
        The balls at both steps.
    """

    step_s: float
    start_s: FloatArray
    highest: FloatArray
    before: State
    after: State

    @classmethod
    def empty(cls, size: int, axes: int, step_s: float) -> Bracket:
        """Make room for the events of ``size`` balls."""

        def blank() -> Components:
            return tuple(np.full(size, np.nan) for _ in range(axes))

        return cls(
            step_s, np.full(size, np.nan), np.ones(size), State(blank(), blank()), State(blank(), blank())
        )

    def note(self, balls: np.ndarray, time: float, before: State, after: State, at: np.ndarray) -> None:
        """Store the event of ``balls``, which stand at the places ``at`` of the batch."""
        self.start_s[balls] = time
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
        z, w = self.before.place[-1], self.after.place[-1]
        vz, wz = self.before.velocity[-1], self.after.velocity[-1]
        return _halve(lambda share: hermite(share, z, w, vz, wz, self.step_s)[0], self.highest)

    def turning_share(self, sign: float = 1.0) -> FloatArray:
        """Share of the step at which the rise ends (or the fall, with ``sign`` -1)."""
        z, w = self.before.place[-1], self.after.place[-1]
        vz, wz = self.before.velocity[-1], self.after.velocity[-1]
        return _halve(lambda share: sign * hermite(share, z, w, vz, wz, self.step_s)[1], self.highest)

    def reaching_share(self, reach: Reach) -> FloatArray:
        """Share of the step at which the fence is met."""
        everyone = np.arange(self.start_s.size)
        return _halve(lambda share: reach(self.at(share)[0], everyone), self.highest)


def _halve(value: Callable[[FloatArray], FloatArray], highest: FloatArray) -> FloatArray:
    """Find where a value goes from positive to negative between 0 and ``highest`` by halving."""
    low, high = np.zeros_like(highest), highest.copy()
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        inside = value(middle) > 0
        low = np.where(inside, middle, low)
        high = np.where(inside, high, middle)
    return np.asarray((low + high) / 2)


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
    landing, apex, meeting = (Bracket.empty(size, axes, forces.step_s) for _ in range(3))
    known = np.isfinite(forces.per_metre * forces.drag_constant * forces.radius)
    if forces.drag_spin is not None:
        known = known & np.isfinite(forces.drag_spin)
    for component in (*state.place, *state.velocity, *forces.spin, *(forces.wind or ())):
        known = known & np.isfinite(component)
    balls = np.flatnonzero(known)
    state, forces = state.take(balls), forces.take(balls)
    flying = np.ones(balls.size, dtype=np.bool_)
    met = np.zeros(balls.size, dtype=np.bool_)
    for count in range(round(LONGEST_S / forces.step_s)):
        if not balls.size:
            break
        time = count * forces.step_s
        after = advance(state, forces, time)

        peaked = np.flatnonzero((state.velocity[-1] > 0) & (after.velocity[-1] <= 0) & flying)
        if peaked.size:
            # Of two peaks the higher one counts.
            so_far = np.fmax(apex.before.place[-1][balls[peaked]], apex.after.place[-1][balls[peaked]])
            here = np.maximum(state.place[-1][peaked], after.place[-1][peaked])
            peaked = peaked[~(so_far > here)]
            apex.note(balls[peaked], time, state, after, peaked)

        if reach is not None:
            squared = sum(component * component for component in after.place[:-1])
            far = np.flatnonzero(flying & ~met & (squared >= nearest_m**2))
            beyond = far[reach(after.take(far).place, balls[far]) <= 0]
            met[beyond] = True
            meeting.note(balls[beyond], time, state, after, beyond)

        landed = flying & (after.place[-1] <= 0)
        down = np.flatnonzero(landed)
        landing.note(balls[down], time, state, after, down)
        dipping = flying & ~landed & (state.velocity[-1] < 0) & (after.velocity[-1] > 0)
        for at in np.flatnonzero(dipping & (np.minimum(state.place[-1], after.place[-1]) < _DIP_M)):
            landed[at] = _touch_in_dip(landing, balls[at : at + 1], time, state, after, at)
        flying &= ~landed

        state = after
        if np.count_nonzero(flying) < 0.8 * balls.size:
            kept = np.flatnonzero(flying)
            balls, met, flying = balls[kept], met[kept], flying[kept]
            state, forces = state.take(kept), forces.take(kept)
    return landing, apex, meeting


def _touch_in_dip(
    landing: Bracket, ball: np.ndarray, time: float, before: State, after: State, at: np.intp
) -> bool:
    """Note the landing of a ball that touches the ground within a step and is up again at its end."""
    dip = Bracket.empty(1, len(before.place), landing.step_s)
    dip.note(np.array([0]), time, before, after, np.array([at]))
    lowest = dip.turning_share(sign=-1.0)
    if dip.at(lowest)[0][-1][0] > 0:
        return False
    landing.note(ball, time, before, after, np.array([at]))
    landing.highest[ball] = lowest
    return True
