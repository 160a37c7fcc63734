"""From the ball back to the bat: what a radar's exit speed and launch angle say of the contact.

Two numbers come in, exit speed and launch angle; the offset and the collision efficiency can be had from them
only if the bat's speed, attack angle and direction are known. Where they are known as a range, the answers
are a range: they are drawn from it, and each draw is solved for. A fast bat and a poor contact look like a
slow bat and a good one; the range says how alike. It holds nine times in ten over all that was drawn from,
not at each place in it: where the bat faced an end of the range, far less often.

For a hitter's table of batted balls the question turns round: his launch angles spread by so much, and aim,
timing and angle must explain it. Which of them does cannot be read off the spread. What each of a range of
timing and angle scatters leaves to the aim can, and :func:`explain_launch_spread` gives the range.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN, BAT_RADIUS_IN
from hitlab.physics.contact import strike
from hitlab.physics.margin import launch_shares
from hitlab.physics.one_swing import PitchAtPlate, Swing
from hitlab.physics.quantities import (
    SLOW_BAT_MPH,
    Columns,
    FloatArray,
    QuantityError,
    ask_about_soft,
    broadcast,
    expect,
    generator,
    keeps_index,
    quantity,
    single,
    warn_of_radians,
    warn_of_seconds,
    warn_of_slow,
    whole,
)

__all__ = ["ContactGuess", "SpreadExplained", "contact_from_flight", "explain_launch_spread"]

_REACH = BALL_RADIUS_IN + BAT_RADIUS_IN
_CELLS = 400_000
_LEVEL = 0.9


@dataclass(frozen=True, slots=True, eq=False)
class ContactGuess(Columns):
    """What must have happened at contact; medians, and the ends of nine draws in ten.

    Attributes
    ----------
    offset_in, offset_low_in, offset_high_in
        Distance of the bat's axis under the ball's path.
    efficiency, efficiency_low, efficiency_high
        Collision efficiency at the struck point; an ordinary bat's good spot has about 0.2.
    bat_mph, bat_low_mph, bat_high_mph
        Bat speeds among those allowed that can give such a ball at all.
    possible_share
        Share of the draws in which bat and ball can have met so. Near 0 the allowed range is wrong.
    known
        False where a value was missing or no draw can give the ball.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    >>> from hitlab.physics import contact_from_flight
    >>> guess = contact_from_flight([100.0, 80.0], [25.0, 40.0], (68.0, 74.0))
    >>> guess.offset_in.round(1).tolist(), guess.efficiency.round(1).tolist()
    ([1.0, 1.5], [0.2, 0.1])
    """

    offset_in: FloatArray
    offset_low_in: FloatArray
    offset_high_in: FloatArray
    efficiency: FloatArray
    efficiency_low: FloatArray
    efficiency_high: FloatArray
    bat_mph: FloatArray
    bat_low_mph: FloatArray
    bat_high_mph: FloatArray
    possible_share: FloatArray
    known: np.ndarray
    index: Any = field(default=None, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class SpreadExplained(Columns):
    """How the spread of launch angles may be made up; one entry for each pair of assumed scatters.

    Attributes
    ----------
    timing_ms, attack_deg
        Scatters assumed.
    miss_in
        Scatter of the aim that then gives the spread; NaN where timing and angle alone give more.
    miss_share, timing_share, angle_share
        What each explains by itself; see :class:`hitlab.physics.LaunchShares`.
    miss_total_share, timing_total_share, angle_total_share
        Each with its joint effects; where many swings miss, these give too much to the aim (see there).
    launch_sd_deg, launch_sd_error_deg
        The spread to be explained, and its standard error from the number of balls.
    balls, left_out
        Launch angles that were used, and missing ones that were not.

    Examples
    --------
    >>> import numpy as np
    >>> from hitlab.physics import explain_launch_spread
    >>> explained = explain_launch_spread(np.linspace(-20.0, 50.0, 40), timing_ms=[5.0], attack_deg=[3.0])
    >>> round(explained.launch_sd_deg), explained.miss_in.round(1).tolist()
    (21, [0.9])
    """

    _TELLS = "miss_in"
    timing_ms: FloatArray
    attack_deg: FloatArray
    miss_in: FloatArray
    miss_share: FloatArray
    timing_share: FloatArray
    angle_share: FloatArray
    miss_total_share: FloatArray
    timing_total_share: FloatArray
    angle_total_share: FloatArray
    launch_sd_deg: float
    launch_sd_error_deg: float
    balls: int
    left_out: int

    @property
    def ranges(self) -> dict[str, tuple[float, float]]:
        """Lowest and highest total share of each source over what was assumed."""
        found = {}
        for name in ("miss", "timing", "angle"):
            values = getattr(self, f"{name}_total_share")
            known = values[np.isfinite(values)]
            ends = (float(known.min()), float(known.max())) if known.size else (float("nan"),) * 2
            found[name] = (ends[0], ends[1])
        return found


@keeps_index
def contact_from_flight(
    exit_mph: ArrayLike,
    launch_deg: ArrayLike,
    bat_mph: tuple[float, float] | float,
    *,
    attack_deg: tuple[float, float] | float = (0.0, 20.0),
    exit_sd_mph: float = 1.0,
    launch_sd_deg: float = 1.0,
    bat_direction_deg: tuple[float, float] | float = (-20.0, 20.0),
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    draws: int = 400,
    seed: int = 0,
    soft: bool = False,
) -> ContactGuess:
    """Find offset and collision efficiency from exit speed and launch angle.

    Parameters
    ----------
    exit_mph, launch_deg
        What the radar gives, above 0 and up to 250 mph and -60 to 85 degrees.
    bat_mph
        Speed of the struck point, above 0 and up to 150 mph: a number, or (low, high), all in between equally
        likely.
    attack_deg
        Attack angle at contact, -60 to 80 degrees, likewise.
    exit_sd_mph, launch_sd_deg
        How uncertain the radar is, 0 to 10 mph and degrees (our assumption, change it here).
    bat_direction_deg
        Where the bat faces, -60 to 60 degrees, positive toward the pull side, likewise. The default is what
        a swing some 8 ms early or late comes to (our assumption, change it here).
    pitch, swing
        The pitch; the swing's droop, grip and mass ratio. Its speed, angle and efficiency are not used.
    draws
        1 to 10000 for each ball.
    seed
        Of the draws.
    soft
        See :func:`hitlab.physics.fly`.

    Returns
    -------
    ContactGuess
        Arrays of the common shape of the first two arguments.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, the shapes do not fit, or all exit speeds lie under 50 mph
        without ``soft``.

    Warns
    -----
    UnitWarning
        If the launch angles look like radians, or the bat speed like metres a second.

    Examples
    --------
    100 mph at 25 degrees off a bat of 68 to 74 mph:

    >>> from hitlab.physics import contact_from_flight
    >>> guess = contact_from_flight(100.0, 25.0, (68.0, 74.0))
    >>> round(float(guess.offset_in), 1), round(float(guess.efficiency), 2)
    (0.9, 0.2)
    >>> round(float(guess.offset_low_in), 1), round(float(guess.offset_high_in), 1)
    (0.5, 1.4)

    Most of that width is the bat's direction, which a radar does not see. Where it is known:

    >>> guess = contact_from_flight(100.0, 25.0, (68.0, 74.0), bat_direction_deg=0.0)
    >>> round(float(guess.offset_low_in), 1), round(float(guess.offset_high_in), 1)
    (0.8, 1.0)
    """
    exit_, launch = (
        quantity("exit_mph", exit_mph, "mph", 0, 250, above=True),
        quantity("launch_deg", launch_deg, "degrees", -60, 85),
    )
    shape = broadcast({"exit_mph": exit_, "launch_deg": launch})
    if not soft:
        ask_about_soft(exit_, launch)
    warn_of_radians("launch_deg", launch)
    bats = _ends("bat_mph", bat_mph, "mph", 0, 150, above=True)
    warn_of_slow("bat_mph", np.array(bats), SLOW_BAT_MPH)
    attacks = _ends("attack_deg", attack_deg, "degrees", -60, 80)
    spreads = [
        single("exit_sd_mph", exit_sd_mph, "mph", 0, 10),
        single("launch_sd_deg", launch_sd_deg, "degrees", 0, 10),
    ]
    facings = _ends("bat_direction_deg", bat_direction_deg, "degrees", -60, 60)
    pitch = PitchAtPlate() if pitch is None else pitch
    swing = Swing() if swing is None else swing
    expect("pitch", pitch, PitchAtPlate)
    expect("swing", swing, Swing)
    count = whole("draws", draws, 1, 10_000, "400 settle the ends to a few hundredths of an inch.")
    if max(abs(attacks[0]), abs(attacks[1])) + abs(swing.droop_deg) >= 90:
        raise QuantityError(
            f"attack_deg is {attack_deg!r} with a droop of {swing.droop_deg:g} degrees; together they stay "
            "under 90 degrees. Check both, in degrees."
        )
    exits, launches = (np.broadcast_to(values, shape).ravel() for values in (exit_, launch))
    out = np.full((10, exits.size), np.nan)
    rng = generator(seed)
    step = max(_CELLS // count, 1)
    for start in range(0, exits.size, step):
        part = slice(start, start + step)
        size = (exits[part].size, count)
        bat, attack, facing = (rng.uniform(*ends, size) for ends in (bats, attacks, facings))
        heard = exits[part, None] + spreads[0] * rng.standard_normal(size)
        seen = launches[part, None] + spreads[1] * rng.standard_normal(size)
        offset, efficiency = _solve(np.maximum(heard, 1.0), seen, bat, attack, facing, pitch, swing)
        possible = np.isfinite(offset)
        out[9, part] = np.where(np.isnan(exits[part] + launches[part]), np.nan, possible.mean(axis=1))
        some = possible.any(axis=1)
        tail = (1 - _LEVEL) / 2
        for row, values in enumerate((offset, efficiency, np.where(possible, bat, np.nan))):
            ends = np.nanquantile(values[some], [0.5, tail, 1 - tail], axis=1)
            for place, end in enumerate(ends):
                out[3 * row + place, np.arange(start, start + size[0])[some]] = end
    known = np.isfinite(out[0])
    names = [one.name for one in fields(ContactGuess) if one.name not in ("known", "index")]
    columns: dict[str, Any] = dict(zip(names, (column.reshape(shape) for column in out), strict=True))
    return ContactGuess(**columns, known=known.reshape(shape))


def _ends(
    name: str,
    value: tuple[float, float] | float,
    unit: str,
    lowest: float,
    highest: float,
    *,
    above: bool = False,
) -> tuple[float, float]:
    """Read a number, or a low and a high one."""
    ends = quantity(name, value, unit, lowest, highest, above=above).ravel()
    if ends.size not in (1, 2) or np.isnan(ends).any() or ends[0] > ends[-1]:
        raise QuantityError(
            f"{name} is {value!r}; accepted is one number or (low, high), {lowest:g} to {highest:g} {unit}."
        )
    return float(ends[0]), float(ends[-1])


def _solve(
    exit_mph: FloatArray,
    launch_deg: FloatArray,
    bat_mph: FloatArray,
    attack_deg: FloatArray,
    facing_deg: FloatArray,
    pitch: PitchAtPlate,
    swing: Swing,
) -> tuple[FloatArray, FloatArray]:
    """Find offset and efficiency of each cell by Newton steps; NaN where none gives the ball."""
    shape = exit_mph.shape
    one = np.asarray
    low, high = -swing.mass_ratio / (1 + swing.mass_ratio), (1 - swing.mass_ratio) / (1 + swing.mass_ratio)

    def hit(offset: FloatArray, q: FloatArray) -> tuple[FloatArray, FloatArray]:
        found = strike(
            shape, one(pitch.speed_mph), one(pitch.descent_deg), bat_mph, attack_deg, offset,
            one(pitch.backspin_rpm), facing_deg, one(swing.droop_deg), q, one(swing.mass_ratio),
            one(swing.tangential_restitution), one(swing.friction), one(swing.roll_ratio),
            one(BALL_RADIUS_IN),
            one(BAT_RADIUS_IN), one(BALL_MASS_OZ),
        )  # fmt: skip
        return found.exit_mph, found.launch_deg

    # The launch angle first (it hardly depends on the efficiency), by halving on the rising part of the
    # curve.
    q = np.full(shape, 0.2)
    for _ in range(4):
        down, up = np.full(shape, -0.8 * _REACH), np.full(shape, 0.8 * _REACH)
        for _ in range(22):
            middle = (down + up) / 2
            _, launch = hit(middle, q)
            below = launch < launch_deg
            down, up = np.where(below, middle, down), np.where(below, up, middle)
        offset = (down + up) / 2
        # The exit speed is nearly straight in the efficiency.
        one_, two = hit(offset, q)[0], hit(offset, q + 0.01)[0]
        q = np.clip(q + (exit_mph - one_) / ((two - one_) / 0.01), low, high)
    exits, launch = hit(offset, q)
    good = (np.abs(exits - exit_mph) < 0.05) & (np.abs(launch - launch_deg) < 0.05)
    return np.where(good, offset, np.nan), np.where(good, q, np.nan)


def explain_launch_spread(
    launch_deg: ArrayLike,
    *,
    timing_ms: tuple[float, ...] = (5.0, 10.0, 15.0),
    attack_deg: tuple[float, ...] = (2.0, 5.0, 8.0),
    aim_in: float = 0.3,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
) -> SpreadExplained:
    """Share out a hitter's spread of launch angles, over scatters of timing and angle that cannot be known.

    Parameters
    ----------
    launch_deg
        Launch angles of his balls that went forward, -90 to 90 degrees, at least 10; missing ones are left
        out.
    timing_ms, attack_deg
        Scatters to assume, 0 to 100 ms and 0 to 25 degrees; every pair is tried (our assumptions, change them
        here).
    aim_in, pitch, swing
        See :func:`hitlab.physics.launch_shares`.

    Returns
    -------
    SpreadExplained
        One entry a pair; ``ranges`` has the lowest and highest share of each source.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or there are fewer than 10 launch angles.

    Warns
    -----
    UnitWarning
        If the launch angles look like radians, or the timing like seconds.

    Examples
    --------
    Forty balls that spread by 26 degrees:

    >>> import numpy as np
    >>> from hitlab.physics import explain_launch_spread
    >>> launch = np.random.default_rng(3).normal(12.0, 22.0, 40)
    >>> explained = explain_launch_spread(launch, timing_ms=(5.0, 10.0), attack_deg=(3.0,))
    >>> round(explained.launch_sd_deg), explained.miss_in.round(1).tolist()
    (26, [1.3, 1.3])
    """
    launch = quantity("launch_deg", launch_deg, "degrees", -90, 90).ravel()
    given = launch.size
    launch = launch[np.isfinite(launch)]
    warn_of_radians("launch_deg", launch)
    if launch.size < 10:
        raise QuantityError(
            f"launch_deg has {launch.size} known values; accepted are 10 or more. Fewer tell no spread."
        )
    timings = quantity("timing_ms", timing_ms, "milliseconds", 0, 100).ravel()
    angles = quantity("attack_deg", attack_deg, "degrees", 0, 25).ravel()
    warn_of_seconds("timing_ms", timings)
    for name, values in (("timing_ms", timings), ("attack_deg", angles)):
        if not values.size:
            raise QuantityError(
                f"{name} is empty; accepted is one value or more. Leave it out for the usual ones."
            )
    spread = float(launch.std(ddof=1))
    # The standard error of a standard deviation, with the fourth moment of what was seen.
    fourth = float(np.mean((launch - launch.mean()) ** 4))
    error = float(np.sqrt(max(fourth - spread**4, 0.0) / launch.size) / (2 * spread)) if spread else 0.0
    timing, angle = (values.ravel() for values in np.meshgrid(timings, angles, indexing="ij"))

    # The spread grows with that of the aim: halving, all pairs at once.
    low, high = np.zeros(timing.size), np.full(timing.size, 4.0)
    for _ in range(10):
        middle = (low + high) / 2
        found = launch_shares(middle, timing, angle, pitch=pitch, swing=swing, aim_in=aim_in).launch_sd_deg
        low, high = np.where(found < spread, middle, low), np.where(found < spread, high, middle)
    miss = (low + high) / 2
    shares = launch_shares(miss, timing, angle, pitch=pitch, swing=swing, aim_in=aim_in)
    # Met to the last halving and the grid's own wobble; else the aim ends at nothing or at four inches.
    met = np.abs(shares.launch_sd_deg - spread) < 0.5
    names = [f"{name}_{kind}" for kind in ("share", "total_share") for name in ("miss", "timing", "angle")]
    columns: dict[str, Any] = {name: np.where(met, getattr(shares, name), np.nan) for name in names}
    return SpreadExplained(
        timing_ms=timing,
        attack_deg=angle,
        miss_in=np.where(met, miss, np.nan),
        launch_sd_deg=spread,
        launch_sd_error_deg=error,
        balls=launch.size,
        left_out=given - launch.size,
        **columns,
    )
