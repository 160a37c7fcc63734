"""Park and weather: what the same ball carries elsewhere, and batted balls moved to standard air.

Altitude, heat, humidity and wind change how far a ball of one exit speed and angle goes, by tens of feet
between parks. To compare hitters the place has to come out first. The functions here take it out by the
*difference* of two reckoned flights, standard air less the air of the day, which is known better than either
flight: what is wrong with the drag of a ball is nearly the same in both.

What cannot be taken out: gusts and the wind between the stands (a flag on the roof says little about the air
over second base), balls kept dry or damp, and spin that was not measured, which the uncertainty holds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.air import air_density
from hitlab.physics.drag_lift import BALL_TO_BALL_DRAG, average_spin
from hitlab.physics.flight import Conditions, carry_band, fly
from hitlab.physics.quantities import (
    Columns,
    FloatArray,
    QuantityError,
    broadcast,
    expect,
    keeps_index,
    quantity,
    single,
    warn_of_unit,
)

__all__ = ["STANDARD_AIR", "ParkTable", "StandardCarry", "carry_in_parks", "to_standard_air"]

STANDARD_AIR = Conditions(density_kg_m3=1.194)
"""Sea level, 70 degrees Fahrenheit, half saturated, no wind: what balls are moved to unless told
otherwise."""
_SPIN_SD_RPM = 500.0
_FAR_FT, _METRES_SHARE = 150.0, 0.5
"""Balls that far cannot carry less than such a share of what is reckoned, unless it was written in metres."""


@dataclass(frozen=True, slots=True, eq=False)
class ParkTable(Columns):
    """Carry of one ball under many conditions; arrays of one entry a row.

    Attributes
    ----------
    altitude_ft, temperature_f, humidity_percent, wind_out_mph
        Of the row.
    density_kg_m3
        Air density there.
    carry_ft
        Carry by the fit.
    more_ft
        What it goes farther than in the first row.
    drag_ft
        Standard deviation of the carry from drag that differs from ball to ball; it hardly touches
        ``more_ft``.

    Examples
    --------
    >>> from hitlab.physics import carry_in_parks
    >>> parks = carry_in_parks(altitude_ft=[0], temperature_f=[50, 70, 90], wind_out_mph=[0])
    >>> parks.temperature_f.tolist(), parks.more_ft.round().tolist()
    ([50.0, 70.0, 90.0], [0.0, 6.0, 12.0])
    """

    _TELLS = "carry_ft"
    altitude_ft: FloatArray
    temperature_f: FloatArray
    humidity_percent: FloatArray
    wind_out_mph: FloatArray
    density_kg_m3: FloatArray
    carry_ft: FloatArray
    more_ft: FloatArray
    drag_ft: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class StandardCarry(Columns):
    """Batted balls moved to standard air.

    Attributes
    ----------
    carry_ft
        What the ball would have carried there.
    moved_ft
        What moving added: standard air less the air of the day.
    uncertain_ft
        Standard deviation of ``moved_ft`` from the ball's drag, from spin that was not measured and from the
        wind's own uncertainty; not that of the carry that came in.
    reckoned
        True where no carry came in and the model's own stands in its place.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    A ball whose carry was not measured, on a day with the wind blowing out:

    >>> from hitlab.physics import Conditions, to_standard_air
    >>> ball = to_standard_air(101.0, 27.0, conditions=Conditions(wind_out_mph=10.0))
    >>> round(float(ball.carry_ft)), round(float(ball.moved_ft)), bool(ball.reckoned)
    (408, -33, True)
    """

    _TELLS = "carry_ft"
    carry_ft: FloatArray
    moved_ft: FloatArray
    uncertain_ft: FloatArray
    reckoned: np.ndarray
    index: Any = field(default=None, repr=False)


def carry_in_parks(
    exit_mph: float = 100.0,
    launch_deg: float = 28.0,
    backspin_rpm: float | None = None,
    sidespin_rpm: float | None = None,
    *,
    altitude_ft: Sequence[float] = (0.0, 1000.0, 3000.0, 5280.0),
    temperature_f: Sequence[float] = (70.0, 50.0, 90.0),
    humidity_percent: Sequence[float] = (50.0,),
    wind_out_mph: Sequence[float] = (0.0, -10.0, 10.0),
    drag_sd: float = BALL_TO_BALL_DRAG,
) -> ParkTable:
    """Carry one ball under every combination of altitude, temperature, humidity and wind.

    Parameters
    ----------
    exit_mph, launch_deg, backspin_rpm, sidespin_rpm
        The ball, to centre field; see :func:`hitlab.physics.fly`.
    altitude_ft, temperature_f, humidity_percent, wind_out_mph
        What to combine; the first of each makes the first row. See :func:`hitlab.physics.air_density` and
        :class:`hitlab.physics.Conditions`.
    drag_sd
        See :func:`hitlab.physics.carry_band`.

    Returns
    -------
    ParkTable
        One row a combination; ``table()`` makes a data frame of it.

    Raises
    ------
    QuantityError
        If an argument lies outside its range.

    Examples
    --------
    The same ball at sea level and a mile up:

    >>> from hitlab.physics import carry_in_parks
    >>> parks = carry_in_parks(altitude_ft=[0, 5280], temperature_f=[70], wind_out_mph=[0])
    >>> parks.carry_ft.round().tolist(), parks.more_ft.round().tolist()
    ([403.0, 430.0], [0.0, 27.0])
    """
    given = {
        "altitude_ft": quantity("altitude_ft", altitude_ft, "feet", -2000, 33000),
        "temperature_f": quantity("temperature_f", temperature_f, "degrees Fahrenheit", -20, 130),
        "humidity_percent": quantity("humidity_percent", humidity_percent, "percent", 0, 100),
        "wind_out_mph": quantity("wind_out_mph", wind_out_mph, "mph", -100, 100),
    }
    for name, values in given.items():
        if not values.size:
            raise QuantityError(
                f"{name} is empty; accepted is one value or more. Leave it out for the usual ones."
            )
    grid = np.meshgrid(*(values.ravel() for values in given.values()), indexing="ij")
    altitude, warm, humid, wind = (values.ravel() for values in grid)
    density = air_density(altitude, warm, humid)
    band = carry_band(
        single("exit_mph", exit_mph, "mph", 0, 250),
        single("launch_deg", launch_deg, "degrees", -90, 90),
        0.0,
        backspin_rpm,
        sidespin_rpm,
        conditions=Conditions(density_kg_m3=density, wind_out_mph=wind),
        drag_sd=drag_sd,
    )
    more = np.asarray(band.carry_ft - band.carry_ft[:1])
    return ParkTable(altitude, warm, humid, wind, density, band.carry_ft, more, band.drag_ft)


@keeps_index
def to_standard_air(
    exit_mph: ArrayLike,
    launch_deg: ArrayLike,
    spray_deg: ArrayLike = 0.0,
    carry_ft: ArrayLike | None = None,
    backspin_rpm: ArrayLike | None = None,
    sidespin_rpm: ArrayLike | None = None,
    *,
    conditions: Conditions,
    standard: Conditions = STANDARD_AIR,
    wind_sd_mph: float = 3.0,
    drag_sd: float = BALL_TO_BALL_DRAG,
    soft: bool = False,
) -> StandardCarry:
    """Move batted balls to standard air: take the park and the weather out.

    Parameters
    ----------
    exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm, soft
        The balls; see :func:`hitlab.physics.fly`. Spin that is not given is that of
        :func:`hitlab.physics.average_spin`, uncertain by 500 rpm.
    carry_ft
        What each carried, 0 to 800 ft; where it is missing the model's own carry is taken. The same places
        as ``exit_mph``, or None.
    conditions
        The air of each ball's day; its fields may be columns.
    standard
        The air to move to.
    wind_sd_mph
        How uncertain the wind is, 0 to 20 mph (our assumption, change it here); counts only where
        there was one.
    drag_sd
        See :func:`hitlab.physics.carry_band`.

    Returns
    -------
    StandardCarry
        Arrays of the arguments' common shape.

    Raises
    ------
    QuantityError
        As :func:`hitlab.physics.fly`.

    Warns
    -----
    UnitWarning
        If the carries look like metres.

    Examples
    --------
    A ball of 450 ft on a hot day a mile up, with the wind:

    >>> from hitlab.physics import Conditions, air_density, to_standard_air
    >>> day = Conditions(density_kg_m3=air_density(5280, 85), wind_out_mph=6.0)
    >>> ball = to_standard_air(101.0, 27.0, carry_ft=450.0, conditions=day)
    >>> round(float(ball.carry_ft)), round(float(ball.moved_ft)), round(float(ball.uncertain_ft))
    (402, -48, 8)
    """
    expect("conditions", conditions, Conditions)
    expect("standard", standard, Conditions)
    wind_sd = single("wind_sd_mph", wind_sd_mph, "mph", 0, 20)
    drag = single("drag_sd", drag_sd, "", 0, 0.05)
    measured = backspin_rpm is not None
    launch = quantity("launch_deg", launch_deg, "degrees", -90, 90)
    spray = quantity("spray_deg", spray_deg, "degrees", -180, 180)
    broadcast({"launch_deg": launch, "spray_deg": spray})
    average = average_spin(launch, spray)
    back = quantity(
        "backspin_rpm", average[0] if backspin_rpm is None else backspin_rpm, "rpm", -10000, 10000
    )
    if sidespin_rpm is None:
        sidespin_rpm = np.zeros(()) if measured else average[1]

    def carry(where: Conditions, spin: float = 0.0, shift: float = 0.0) -> FloatArray:
        shifted = replace(where, drag_shift=np.asarray(where.drag_shift, dtype=np.float64) + shift)
        return fly(
            exit_mph,
            launch,
            spray,
            np.clip(back + spin, -10000, 10000),
            sidespin_rpm,
            conditions=shifted,
            soft=soft,
        ).carry_ft

    def moved(spin: float = 0.0, shift: float = 0.0) -> FloatArray:
        return np.asarray(carry(standard, spin, shift) - carry(conditions, spin, shift))

    there = carry(conditions)
    here = np.asarray(carry(standard) - there)
    parts = [(moved(shift=drag) - moved(shift=-drag)) / 2]
    if not measured:
        parts.append((moved(spin=_SPIN_SD_RPM) - moved(spin=-_SPIN_SD_RPM)) / 2)
    out = quantity("wind_out_mph", conditions.wind_out_mph, "mph", -100, 100)
    pull = quantity("wind_pull_mph", conditions.wind_pull_mph, "mph", -100, 100)
    blown = (out != 0) | (pull != 0)
    if wind_sd and np.any(blown):
        # A wind that is uncertain along the ball's way; across it the carry hardly changes.
        turn = np.radians(spray)
        more = replace(
            conditions,
            wind_out_mph=np.clip(out + wind_sd * np.cos(turn), -100, 100),
            wind_pull_mph=np.clip(pull + wind_sd * np.sin(turn), -100, 100),
        )
        parts.append(np.where(blown, carry(more) - there, 0.0))
    uncertain = np.sqrt(sum(part**2 for part in parts))
    # No carry is one that is missing, for every ball.
    landed = quantity("carry_ft", np.nan if carry_ft is None else carry_ft, "feet", 0, 800)
    broadcast({"carry_ft": landed, "exit_mph": there})
    landed, there, here, uncertain = map(np.array, np.broadcast_arrays(landed, there, here, uncertain))
    far = landed[there > _FAR_FT] / there[there > _FAR_FT]
    far = far[np.isfinite(far)]
    if far.size and far.max() < _METRES_SHARE:
        warn_of_unit(
            "carry_ft is less than half of what is reckoned for every ball: were these metres? "
            "100 metres are 328 feet."
        )
    reckoned = np.isnan(landed) & np.isfinite(there)
    came = np.where(reckoned, there, landed)
    return StandardCarry(np.asarray(came + here), here, uncertain, np.asarray(reckoned))
