"""The flight of a batted ball: drag, lift, wind and the fence, for arrays of balls.

A ball without air is a parabola; with it, a 110 mph drive loses half of its range. Backspin holds a
ball up, so that the best launch angle falls as backspin grows; thin air carries a ball farther and
lifts it less. Which fits are used for drag and lift is chosen by name (see :mod:`hitlab.physics.drag_lift`).

Drag differs from ball to ball (seams, wear); :func:`carry_band` says by how many feet.

What this leaves out: the ball's bounce and roll, gusts, a drag that rises at low speed for balls with little
spin (measured, but not in the fits used here), and any change of the axis of spin in flight.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN
from hitlab.physics.drag_lift import (
    BALL_TO_BALL_DRAG,
    DRAG_AT_REST,
    DRAG_FITS,
    DRAG_PER_1000_RPM,
    LIFT_FITS,
    average_spin,
    check_fit,
    warn_outside,
)
from hitlab.physics.fences import Fence
from hitlab.physics.quantities import (
    FAST_EXIT_MPH,
    FEET_PER_METRE,
    KG_PER_OUNCE,
    METRES_PER_FOOT,
    METRES_PER_INCH,
    MPS_PER_MPH,
    RAD_PER_S_PER_RPM,
    Columns,
    FloatArray,
    ask_about_soft,
    broadcast,
    expect,
    keeps_index,
    quantity,
    single,
    warn_of_fast,
    warn_of_radians,
    whole,
)
from hitlab.physics.tracking import Bracket, Reach, track
from hitlab.physics.trajectory import Components, Forces, State, advance, hermite

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "OTHER_SPREAD_FT",
    "CarryBand",
    "Conditions",
    "Flight",
    "FlightPath",
    "carry_band",
    "fly",
    "fly_path",
]

_CHUNK = 16384
"""Balls that are marched together: few enough for the processor's cache (measured)."""
_PATH_CHUNK = 1024


@dataclass(frozen=True, slots=True, eq=False)
class Conditions:
    """The ball, the air and the fits; each may be an array that broadcasts with the launch values.

    Attributes
    ----------
    height_ft
        Height of contact above the ground, 0 to 50 ft.
    density_kg_m3
        Air density, 0 (vacuum) to 2 kg/m3; see :func:`hitlab.physics.air.air_density`. The default is air at
        sea level, 70 degrees Fahrenheit, half saturated.
    wind_out_mph, wind_pull_mph
        Wind at 33 ft, -100 to 100 mph; positive toward centre field and toward the pull side.
    wind_power
        Power of the wind's growth with height, 0 (the same everywhere) to 1. The default 1/7 is the usual
        value over open ground (from memory); stands change the wind far more than this does.
    drag, lift
        Names of published fits, from :data:`hitlab.physics.drag_lift.DRAG_FITS` and ``LIFT_FITS``. None for
        the drag: ``spin``, or ``constant`` where a ``drag_constant`` is given.
    drag_constant
        Drag coefficient of a ball without spin, 0 to 2; None for the fit's own (0.297 for ``spin``, 0.35 for
        ``constant``). The fit ``falling`` has none.
    drag_per_1000_rpm
        What 1,000 rpm of total spin add to it with the fit ``spin``, 0 to 0.2.
    drag_shift
        By how much this ball's drag coefficient differs from the fit, -0.2 to 0.2.
    spin_decay_s
        Time in which the spin falls to 1/e, above 0; infinity for a spin that lasts. Estimates run from
        about 20 to 50 s (from memory): a fly ball lands before the difference shows.
    ball_mass_oz, ball_radius_in
        Mass, 1 to 10 oz, and radius, above 0 and up to 5 in.

    Examples
    --------
    >>> from hitlab.physics import Conditions, fly
    >>> day = Conditions(wind_out_mph=[0.0, 10.0])
    >>> day.wind_out_mph, fly(100.0, 28.0, conditions=day).carry_ft.round().tolist()
    ([0.0, 10.0], [403.0, 437.0])
    """

    height_ft: ArrayLike = 3.0
    density_kg_m3: ArrayLike = 1.194
    wind_out_mph: ArrayLike = 0.0
    wind_pull_mph: ArrayLike = 0.0
    wind_power: float = 1 / 7
    drag: str | None = None
    drag_constant: ArrayLike | None = None
    drag_per_1000_rpm: ArrayLike = DRAG_PER_1000_RPM
    drag_shift: ArrayLike = 0.0
    lift: str = "gentle"
    spin_decay_s: float = 30.0
    ball_mass_oz: ArrayLike = BALL_MASS_OZ
    ball_radius_in: ArrayLike = BALL_RADIUS_IN


@dataclass(frozen=True, slots=True, eq=False)
class Flight(Columns):
    """Where and how balls landed; NaN where a value was missing.

    Attributes
    ----------
    carry_ft
        Level distance from bat to landing.
    hang_s
        Seconds in the air.
    apex_ft, apex_s
        Greatest height above the ground, and when.
    landing_deg
        Angle of descent at landing, positive downward.
    landing_mph
        Speed at landing.
    bearing_deg
        Direction of the landing place seen from the bat; 0 centre field, positive the pull side.
    side_ft
        How far the ball curved or was blown from its launch direction; positive toward the pull side.
    fence_height_ft
        Height above the ground where the ball crosses the fence's line; NaN where it lands before, None
        where no fence was asked for.
    fence_bearing_deg
        Direction of that crossing.
    over_fence
        True where the ball crosses between the foul lines above the fence's top.
    backspin_rpm, sidespin_rpm
        Spin at the bat, as given or on average for such a launch.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    >>> from hitlab.physics import Fence, fly
    >>> ball = fly(100.0, [20.0, 28.0], fence=Fence((-45, 0, 45), (330, 400, 330), (8, 8, 8)))
    >>> ball.carry_ft.round().tolist(), ball.over_fence.tolist()
    ([374.0, 403.0], [False, True])
    """

    _TELLS = "hang_s"

    carry_ft: FloatArray
    hang_s: FloatArray
    apex_ft: FloatArray
    apex_s: FloatArray
    landing_deg: FloatArray
    landing_mph: FloatArray
    bearing_deg: FloatArray
    side_ft: FloatArray
    fence_height_ft: FloatArray | None = None
    fence_bearing_deg: FloatArray | None = None
    over_fence: np.ndarray | None = None
    backspin_rpm: FloatArray | None = None
    sidespin_rpm: FloatArray | None = None
    index: Any = field(default=None, repr=False)


OTHER_SPREAD_FT = 16.0
"""Standard deviation of the carry of home runs of one speed and angle, all causes together (Nathan 2013, 16
ft, and 2020, 17 ft; as quoted). Most of it is spin that was not measured."""


@dataclass(frozen=True, slots=True, eq=False)
class CarryBand(Columns):
    """A carry and how far balls that leave the bat alike differ from it, in feet.

    Attributes
    ----------
    carry_ft
        By the fit.
    drag_ft
        Standard deviation from drag that differs from ball to ball.
    low_ft, high_ft
        Where nine balls in ten of that drag land (1.645 standard deviations of the drag either way).
    total_ft
        Standard deviation of the carry of balls of one measured speed and angle, all causes together; an
        observation, not reckoned here.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    >>> from hitlab.physics import carry_band
    >>> band = carry_band(105.0, 28.0)
    >>> round(float(band.carry_ft)), round(float(band.low_ft)), round(float(band.high_ft))
    (427, 416, 437)
    """

    _TELLS = "carry_ft"
    carry_ft: FloatArray
    drag_ft: FloatArray
    low_ft: FloatArray
    high_ft: FloatArray
    total_ft: FloatArray
    index: Any = field(default=None, repr=False)


@dataclass(frozen=True, slots=True, eq=False)
class FlightPath:
    """Whole paths, one more axis (the last) than the launch values.

    Attributes
    ----------
    time_s
        Seconds since the bat, evenly from 0 to landing.
    out_ft, side_ft, height_ft
        Toward centre field, toward the pull side, above the ground.
    exit_mph, launch_deg
        As the ball left the bat; of the shape of the launch values.

    Examples
    --------
    Two balls, each at the bat, halfway through its time in the air and at landing:

    >>> from hitlab.physics import fly_path
    >>> path = fly_path([100.0, 90.0], [28.0, 60.0], points=3)
    >>> path.height_ft.shape, path.height_ft[:, 1].round().tolist()
    ((2, 3), [88.0, 159.0])
    """

    time_s: FloatArray
    out_ft: FloatArray
    side_ft: FloatArray
    height_ft: FloatArray
    exit_mph: FloatArray
    launch_deg: FloatArray

    def table(self) -> pd.DataFrame:
        """Give all paths as one data frame, a row for each ball and point; balls are numbered from 0."""
        import pandas as pd

        names = ("time_s", "out_ft", "side_ft", "height_ft")
        columns = {name: getattr(self, name).ravel() for name in names}
        return pd.DataFrame({"ball": np.arange(self.time_s.size) // self.time_s.shape[-1], **columns})


@keeps_index
def fly(
    exit_mph: ArrayLike,
    launch_deg: ArrayLike,
    spray_deg: ArrayLike = 0.0,
    backspin_rpm: ArrayLike | None = None,
    sidespin_rpm: ArrayLike | None = None,
    *,
    conditions: Conditions | None = None,
    fence: Fence | None = None,
    soft: bool = False,
    rough: bool = False,
) -> Flight:
    """Fly balls to the ground.

    Parameters
    ----------
    exit_mph
        Speed off the bat, 0 to 250 mph.
    launch_deg
        Launch angle, -90 to 90 degrees, positive upward.
    spray_deg
        Direction off the bat, -180 to 180 degrees; 0 centre field, positive the pull side.
    backspin_rpm
        Spin about the level axis across the launch direction, -10000 to 10000 rpm; positive lifts. None:
        that of :func:`hitlab.physics.average_spin`. A fly ball without any goes 60 to 80 ft less far.
    sidespin_rpm
        Spin about the upright axis across it, -10000 to 10000 rpm; positive curves toward the pull side.
        None: with an average backspin the average, with a given one 0.
    conditions
        The ball, the air and the fits; ``Conditions()`` by default.
    fence
        A fence's profile, for the height at which a ball crosses it.
    soft
        The balls are meant to be as slow as they are: exit speeds that all lie under 50 are otherwise taken
        for metres a second, and asked about.
    rough
        A tenth of a foot is near enough, which takes about half of the time; otherwise a millimetre. Either
        is held to balls of up to 120 mph, -5 to 85 degrees, 4000 rpm of backspin or topspin and 2000 of
        sidespin, in air of 0.9 to 1.3 kg/m3 and wind of up to 30 mph. Far from these both are off by more:
        a ball of 1 oz by up to 3 ft and 2 cm.

    Returns
    -------
    Flight
        Arrays of the arguments' common shape. NaN where a value is missing (or, with drag switched off,
        for a ball that its spin keeps up for two minutes).

    Raises
    ------
    QuantityError
        If an argument lies outside its range, a fit does not exist, the shapes or the columns' indexes do not
        fit, or all exit speeds lie under 50 mph without ``soft``.

    Warns
    -----
    RangeWarning
        If a fit is used outside the range in which it was measured.
    UnitWarning
        If the launch angles look like radians, or the exit speeds like kilometres an hour.

    Examples
    --------
    100 mph off the bat as a line drive, as a fly ball and too high:

    >>> from hitlab.physics import fly
    >>> ball = fly(100.0, [12.0, 28.0, 45.0], backspin_rpm=2000.0)
    >>> ball.carry_ft.round().tolist(), ball.hang_s.round(1).tolist()
    ([327.0, 410.0, 368.0], [3.2, 5.3, 6.6])
    """
    if fence is not None:
        expect("fence", fence, Fence)
    launch = _Launch(exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm, conditions, soft)
    out = np.full((10, launch.size), np.nan)
    over = np.zeros(launch.size, dtype=np.bool_)
    for chunk in launch.chunks(_CHUNK):
        state, forces, spray = launch.begin(chunk)
        forces = replace(forces, rough=rough)
        if fence is None:
            landing, apex, _ = track(state, forces)
            out[:8, chunk] = _landed(landing, apex, state, spray)
            continue
        reach = _reach(fence, spray)
        landing, apex, meeting = track(state, forces, reach, min(fence.distance_ft) * METRES_PER_FOOT)
        out[:8, chunk] = _landed(landing, apex, state, spray)
        place, _ = meeting.at(meeting.reaching_share(reach))
        height = place[-1] * FEET_PER_METRE
        # A ball that lands in the step in which it would have met the fence has not reached it.
        height = np.where(height > 0, height, np.nan)
        bearing = np.where(height > 0, _bearing(place, spray), np.nan)
        out[8, chunk], out[9, chunk] = height, bearing
        over[chunk] = fence.covers(bearing) & (height > fence.top(bearing))
    spin = {name: launch.given(name) for name in ("backspin_rpm", "sidespin_rpm")}
    flight = Flight(*(column.reshape(launch.shape) for column in out[:8]), **spin)
    if fence is None:
        return flight
    return replace(
        flight,
        fence_height_ft=out[8].reshape(launch.shape),
        fence_bearing_deg=out[9].reshape(launch.shape),
        over_fence=over.reshape(launch.shape),
    )


@keeps_index
def carry_band(
    exit_mph: ArrayLike,
    launch_deg: ArrayLike,
    spray_deg: ArrayLike = 0.0,
    backspin_rpm: ArrayLike | None = None,
    sidespin_rpm: ArrayLike | None = None,
    *,
    conditions: Conditions | None = None,
    drag_sd: float = BALL_TO_BALL_DRAG,
    soft: bool = False,
) -> CarryBand:
    """Carry with the band that comes from balls whose drag differs.

    Parameters
    ----------
    exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm, conditions, soft
        See :func:`fly`.
    drag_sd
        Standard deviation of the drag coefficient from ball to ball, 0 to 0.05.

    Returns
    -------
    CarryBand
        Arrays of the arguments' common shape.

    Raises
    ------
    QuantityError
        As :func:`fly`.

    Examples
    --------
    A ball of 100 mph at 28 degrees with 2,500 rpm: the carry, and how much drag alone makes it differ.

    >>> from hitlab.physics import carry_band
    >>> band = carry_band(100.0, 28.0, backspin_rpm=2500.0)
    >>> round(float(band.carry_ft)), round(float(band.drag_ft), 1)
    (408, 6.0)
    """
    spread = single("drag_sd", drag_sd, "", 0, 0.05)
    where = _conditions(conditions)
    carries = [
        fly(
            exit_mph,
            launch_deg,
            spray_deg,
            backspin_rpm,
            sidespin_rpm,
            conditions=replace(where, drag_shift=np.asarray(where.drag_shift, dtype=float) + side * spread),
            soft=soft,
        ).carry_ft
        for side in (-1.0, 0.0, 1.0)
    ]
    drag = np.asarray((carries[0] - carries[2]) / 2)
    total = np.where(np.isnan(drag), np.nan, OTHER_SPREAD_FT)
    return CarryBand(
        carries[1], drag, np.asarray(carries[1] - 1.645 * drag), np.asarray(carries[1] + 1.645 * drag), total
    )


@keeps_index
def fly_path(
    exit_mph: ArrayLike,
    launch_deg: ArrayLike,
    spray_deg: ArrayLike = 0.0,
    backspin_rpm: ArrayLike | None = None,
    sidespin_rpm: ArrayLike | None = None,
    *,
    conditions: Conditions | None = None,
    points: int = 60,
    soft: bool = False,
) -> FlightPath:
    """Follow balls from the bat to the ground.

    Parameters
    ----------
    exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm, conditions, soft
        See :func:`fly`.
    points
        Points on each path, 2 to 10000, evenly in time.

    Returns
    -------
    FlightPath
        Arrays of the arguments' common shape with one more axis of ``points``.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, a fit does not exist or the shapes do not fit.

    Warns
    -----
    RangeWarning
        If a fit is used outside the range in which it was measured.

    Examples
    --------
    >>> from hitlab.physics import fly_path
    >>> path = fly_path(100.0, 28.0, backspin_rpm=2000.0, points=4)
    >>> for time, out, height in zip(path.time_s, path.out_ft, path.height_ft):
    ...     print(f"{time:.1f} s: {out:.0f} ft out, {abs(height):.0f} ft high")
    0.0 s: 0 ft out, 3 ft high
    1.8 s: 178 ft out, 79 ft high
    3.5 s: 304 ft out, 74 ft high
    5.3 s: 410 ft out, 0 ft high
    """
    points = whole("points", points, 2, 10000, "Choose 60 for a smooth picture.")
    launch = _Launch(exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm, conditions, soft)
    out = np.full((4, launch.size, points), np.nan)
    for chunk in launch.chunks(_PATH_CHUNK):
        state, forces, spray = launch.begin(chunk)
        landing, _, _ = track(state, forces)
        hang = landing.time(landing.landing_share())
        time = hang[:, None] * np.linspace(0, 1, points)
        place = _sample(state, forces, time)
        flat = np.hypot(*place[:-1]) if len(place) == 3 else place[0]
        bearing = np.radians(_bearing(place, spray[:, None]))
        out[0, chunk] = time
        out[1, chunk], out[2, chunk] = np.abs(flat) * np.cos(bearing), np.abs(flat) * np.sin(bearing)
        out[3, chunk] = place[-1]
    out[1:] *= FEET_PER_METRE
    at_s, out_ft, side_ft, height_ft = (values.reshape(*launch.shape, points) for values in out)
    return FlightPath(at_s, out_ft, side_ft, height_ft, launch.given("exit_mph"), launch.given("launch_deg"))


def _conditions(conditions: Conditions | None) -> Conditions:
    if conditions is None:
        return Conditions()
    expect("conditions", conditions, Conditions)
    return conditions


class _Launch:
    """The checked arguments of a batch, handed out in chunks in SI units along each launch direction."""

    def __init__(
        self,
        exit_mph: ArrayLike,
        launch_deg: ArrayLike,
        spray_deg: ArrayLike,
        backspin_rpm: ArrayLike | None,
        sidespin_rpm: ArrayLike | None,
        conditions: Conditions | None,
        soft: bool,
    ) -> None:
        c = _conditions(conditions)
        if c.drag is None:
            c = replace(c, drag="spin" if c.drag_constant is None else "constant")
        self.drag = str(c.drag)
        check_fit("drag", self.drag, DRAG_FITS)
        check_fit("lift", c.lift, LIFT_FITS)
        launch = quantity("launch_deg", launch_deg, "degrees", -90, 90)
        spray = quantity("spray_deg", spray_deg, "degrees", -180, 180)
        if backspin_rpm is None:
            broadcast({"launch_deg": launch, "spray_deg": spray})
            backspin_rpm, side = average_spin(launch, spray)
            sidespin_rpm = side if sidespin_rpm is None else sidespin_rpm
        if sidespin_rpm is None:
            sidespin_rpm = 0.0
        constant: ArrayLike = DRAG_AT_REST[self.drag]
        if c.drag_constant is not None and self.drag != "falling":
            constant = c.drag_constant
        arguments = {
            "exit_mph": quantity("exit_mph", exit_mph, "mph", 0, 250),
            "launch_deg": launch,
            "spray_deg": spray,
            "backspin_rpm": quantity("backspin_rpm", backspin_rpm, "rpm", -10000, 10000),
            "sidespin_rpm": quantity("sidespin_rpm", sidespin_rpm, "rpm", -10000, 10000),
            "height_ft": quantity("height_ft", c.height_ft, "feet", 0, 50),
            "density_kg_m3": quantity("density_kg_m3", c.density_kg_m3, "kg/m3", 0, 2),
            "wind_out_mph": quantity("wind_out_mph", c.wind_out_mph, "mph", -100, 100),
            "wind_pull_mph": quantity("wind_pull_mph", c.wind_pull_mph, "mph", -100, 100),
            "drag_constant": quantity("drag_constant", constant, "", 0, 2),
            "drag_per_1000_rpm": quantity("drag_per_1000_rpm", c.drag_per_1000_rpm, "", 0, 0.2),
            "drag_shift": quantity("drag_shift", c.drag_shift, "", -0.2, 0.2),
            "ball_mass_oz": quantity("ball_mass_oz", c.ball_mass_oz, "ounces", 1, 10),
            "ball_radius_in": quantity("ball_radius_in", c.ball_radius_in, "inches", 0, 5, above=True),
        }
        self.shape = broadcast(arguments)
        self.size = math.prod(self.shape)
        self.conditions = c
        self.wind_power = single("wind_power", c.wind_power, "", 0, 1)
        self.decay_s = single("spin_decay_s", c.spin_decay_s, "seconds", 0, 1e6, above=True, infinite=True)
        if not soft:
            ask_about_soft(arguments["exit_mph"], launch)
        warn_of_radians("launch_deg", launch)
        warn_of_fast("exit_mph", arguments["exit_mph"], FAST_EXIT_MPH)
        self.windless = not (np.any(arguments["wind_out_mph"]) or np.any(arguments["wind_pull_mph"]))
        turn = np.radians(spray)
        across = arguments["wind_pull_mph"] * np.cos(turn) - arguments["wind_out_mph"] * np.sin(turn)
        # A missing direction or wind is missing in the plane as well; a missing sidespin only in space.
        self.planar = not (np.any(np.nan_to_num(across)) or np.any(arguments["sidespin_rpm"]))
        # A scalar stays one; only what varies takes memory.
        self._flat = {
            name: values.reshape(()) if values.size == 1 else np.broadcast_to(values, self.shape).ravel()
            for name, values in arguments.items()
        }
        self._warn()

    def _warn(self) -> None:
        c, flat = self.conditions, self._flat
        speed = flat["exit_mph"]
        if self.drag == "falling" or np.any(flat["drag_constant"]):
            warn_outside("drag", self.drag, DRAG_FITS[self.drag], speed)
        surface = flat["ball_radius_in"] * METRES_PER_INCH * RAD_PER_S_PER_RPM
        surface = surface * np.hypot(flat["backspin_rpm"], flat["sidespin_rpm"])
        with np.errstate(divide="ignore", invalid="ignore"):
            factor = surface / (speed * MPS_PER_MPH)
        warn_outside("lift", c.lift, LIFT_FITS[c.lift], factor)

    def given(self, name: str) -> FloatArray:
        """Give an argument in the batch's shape."""
        return np.array(np.broadcast_to(self._flat[name], self.size).reshape(self.shape))

    def chunks(self, length: int) -> Iterator[slice]:
        """Slices of the flattened batch."""
        for start in range(0, self.size, length):
            yield slice(start, min(start + length, self.size))

    def begin(self, chunk: slice) -> tuple[State, Forces, FloatArray]:
        """State and forces at the bat, and the launch direction in degrees."""

        def take(name: str) -> FloatArray:
            values = self._flat[name]
            return values[chunk] if values.ndim else np.full(chunk.stop - chunk.start, float(values))

        spray = take("spray_deg")
        speed, launch = take("exit_mph") * MPS_PER_MPH, np.radians(take("launch_deg"))
        level, up = speed * np.cos(launch), speed * np.sin(launch)
        height = take("height_ft") * METRES_PER_FOOT
        radius = take("ball_radius_in") * METRES_PER_INCH
        mass = take("ball_mass_oz") * KG_PER_OUNCE
        backspin = take("backspin_rpm") * RAD_PER_S_PER_RPM
        sidespin = take("sidespin_rpm") * RAD_PER_S_PER_RPM
        # A missing direction makes the whole ball missing, also where the plane has no direction.
        nothing = np.zeros_like(level) * spray
        spin: Components = (backspin,)
        wind: Components | None = None
        place: Components = (nothing, height)
        velocity: Components = (level, up)
        if not self.planar:
            place, velocity = (nothing, nothing.copy(), height), (level, nothing.copy(), up)
            spin = (-sidespin * np.sin(launch), -backspin, sidespin * np.cos(launch))
        if not self.windless:
            turn = np.radians(spray)
            out, pull = take("wind_out_mph") * MPS_PER_MPH, take("wind_pull_mph") * MPS_PER_MPH
            along = out * np.cos(turn) + pull * np.sin(turn)
            wind = (along,) if self.planar else (along, pull * np.cos(turn) - out * np.sin(turn))
        c = self.conditions
        per_metre = take("density_kg_m3") * np.pi * radius**2 / (2 * mass)
        drag_spin = None
        if self.drag == "spin":
            drag_spin = take("drag_per_1000_rpm") * np.hypot(backspin, sidespin) / RAD_PER_S_PER_RPM / 1000
        # A ball cannot be drawn along by the air.
        drag_constant = take("drag_constant") + take("drag_shift")
        forces = Forces(
            per_metre,
            drag_constant if self.drag == "falling" else np.maximum(drag_constant, 0),
            drag_spin,
            radius,
            spin,
            wind,
            self.drag,
            c.lift,
            self.decay_s,
            self.wind_power,
        )
        return State(place, velocity), forces, spray


def _bearing(place: Components, spray_deg: FloatArray) -> FloatArray:
    """Direction of a place seen from the bat, from -180 to 180 degrees."""
    if len(place) == 2:
        turned = np.where(place[0] < 0, 180.0, 0.0) + spray_deg
    else:
        turned = np.degrees(np.arctan2(place[1], place[0])) + spray_deg
    return np.asarray(np.where(turned > 180, turned - 360, np.where(turned < -180, turned + 360, turned)))


def _reach(fence: Fence, spray_deg: FloatArray) -> Reach:
    def reach(place: Components, balls: np.ndarray) -> FloatArray:
        flat = np.hypot(*place[:-1]) if len(place) == 3 else np.abs(place[0])
        return np.asarray(fence.distance(_bearing(place, spray_deg[balls])) * METRES_PER_FOOT - flat)

    return reach


def _landed(landing: Bracket, apex: Bracket, start: State, spray_deg: FloatArray) -> list[FloatArray]:
    """Give the first eight columns of a flight, in their order."""
    share = landing.landing_share()
    place, velocity = landing.at(share)
    hang = landing.time(share)
    top_share = apex.turning_share()
    top = apex.at(top_share)[0][-1]
    peaked = np.isfinite(top)
    # A ball that never rises is highest at the bat; a missing one stays missing through its hang time.
    top = np.where(peaked, np.fmax(top, start.place[-1]), start.place[-1] + 0 * hang)
    top_s = np.where(peaked, apex.time(top_share), 0 * hang)
    flat = np.hypot(*place[:-1]) if len(place) == 3 else np.abs(place[0])
    along = np.hypot(*velocity[:-1]) if len(place) == 3 else np.abs(velocity[0])
    return [
        flat * FEET_PER_METRE,
        hang,
        top * FEET_PER_METRE,
        top_s,
        np.degrees(np.arctan2(-velocity[-1], along)),
        np.hypot(along, velocity[-1]) / MPS_PER_MPH,
        _bearing(place, spray_deg) + 0 * hang,
        place[1] * FEET_PER_METRE if len(place) == 3 else 0 * flat,
    ]


def _sample(state: State, forces: Forces, time: FloatArray) -> Components:
    """Places at the given times (one row a ball), from steps that are kept."""
    last = np.nanmax(time, initial=0.0)
    kept, starts = [state], [np.zeros(time.shape[0])]
    while True:
        after, length = advance(kept[-1], forces, starts[-1])
        kept.append(after)
        starts.append(starts[-1] + length)
        if not np.any(starts[-1] <= last):
            break
    begun = np.array(starts)
    # How many steps a ball has behind it at each time.
    past = np.sum(begun[1:-1, :, None] <= np.nan_to_num(time), axis=0, dtype=np.intp)
    ball = np.arange(time.shape[0])[:, None]
    length = begun[past + 1, ball] - begun[past, ball]
    share = (time - begun[past, ball]) / length
    places = []
    for axis in range(len(state.place)):
        place = np.array([s.place[axis] for s in kept])
        velocity = np.array([s.velocity[axis] for s in kept])
        places.append(
            hermite(
                share,
                place[past, ball],
                place[past + 1, ball],
                velocity[past, ball],
                velocity[past + 1, ball],
                length,
            )[0]
        )
    return tuple(places)
