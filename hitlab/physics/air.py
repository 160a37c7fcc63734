"""Air density from altitude, temperature, pressure and humidity.

A batted ball meets thinner air at altitude, in heat, under low pressure and (a little) in humidity.
The usual slip is the pressure: weather reports give it *reduced to sea level*, so that a mountain
town reads about 1013 hPa like everyone else. Give such a reading as ``sea_level_pressure_hpa`` with
the altitude, and a barometer's own reading in the park as ``station_pressure_hpa``.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.quantities import (
    METRES_PER_FOOT,
    FloatArray,
    QuantityError,
    broadcast,
    keeps_index,
    quantity,
    warn_of_unit,
)

__all__ = ["air_density", "moist_air_density", "standard_density", "standard_pressure"]

# ISO 2533:1975, the layer from sea level to 11 km.
_SEA_LEVEL_K = 288.15
_SEA_LEVEL_PA = 101325.0
_LAPSE_K_PER_M = 0.0065
_GRAVITY = 9.80665
_DRY_AIR_J_PER_KG_K = 287.05287
_EARTH_RADIUS_M = 6356766.0
_PRESSURE_POWER = _GRAVITY / (_DRY_AIR_J_PER_KG_K * _LAPSE_K_PER_M)

_LOWEST_FT, _HIGHEST_FT = -2000.0, 33000.0


def _standard_temperature_k(altitude_ft: FloatArray) -> FloatArray:
    metres = altitude_ft * METRES_PER_FOOT
    geopotential = _EARTH_RADIUS_M * metres / (_EARTH_RADIUS_M + metres)
    return np.asarray(_SEA_LEVEL_K - _LAPSE_K_PER_M * geopotential)


def standard_pressure(altitude_ft: ArrayLike) -> FloatArray:
    """Pressure of the standard atmosphere.

    Parameters
    ----------
    altitude_ft
        Altitude above sea level in feet, -2000 to 33000; any shape.

    Returns
    -------
    numpy.ndarray
        Pressure in hectopascals, shape of ``altitude_ft``.

    Raises
    ------
    QuantityError
        If an altitude lies outside the range.

    Notes
    -----
    Source: ISO 2533:1975, Standard Atmosphere, lowest layer.

    Examples
    --------
    At sea level and a mile up:

    >>> from hitlab.physics import standard_pressure
    >>> standard_pressure([0.0, 5280.0]).round(1).tolist()
    [1013.2, 834.3]
    """
    altitude = quantity("altitude_ft", altitude_ft, "feet", _LOWEST_FT, _HIGHEST_FT)
    ratio = _standard_temperature_k(altitude) / _SEA_LEVEL_K
    return np.asarray(_SEA_LEVEL_PA / 100 * ratio**_PRESSURE_POWER)


def standard_density(altitude_ft: ArrayLike) -> FloatArray:
    """Density of the standard atmosphere (dry, 15 degrees Celsius at sea level).

    Parameters
    ----------
    altitude_ft
        Altitude above sea level in feet, -2000 to 33000; any shape.

    Returns
    -------
    numpy.ndarray
        Density in kg/m3, shape of ``altitude_ft``.

    Raises
    ------
    QuantityError
        If an altitude lies outside the range.

    Notes
    -----
    Source: ISO 2533:1975, Standard Atmosphere, lowest layer.

    Examples
    --------
    At sea level and a mile up:

    >>> from hitlab.physics import standard_density
    >>> standard_density([0.0, 5280.0]).round(3).tolist()
    [1.225, 1.047]
    """
    altitude = quantity("altitude_ft", altitude_ft, "feet", _LOWEST_FT, _HIGHEST_FT)
    kelvin = _standard_temperature_k(altitude)
    return np.asarray(standard_pressure(altitude) * 100 / (_DRY_AIR_J_PER_KG_K * kelvin))


@keeps_index
def moist_air_density(
    temperature_f: ArrayLike, pressure_hpa: ArrayLike, humidity_percent: ArrayLike = 50.0
) -> FloatArray:
    """Density of moist air at a place.

    Parameters
    ----------
    temperature_f
        Temperature in degrees Fahrenheit, -20 to 130; any shape.
    pressure_hpa
        Pressure at the place (not reduced to sea level) in hectopascals, 250 to 1100.
    humidity_percent
        Relative humidity in percent, 0 or 1 to 100.

    Returns
    -------
    numpy.ndarray
        Density in kg/m3, of the arguments' common shape.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, the humidity looks like a share, or the shapes do not fit.

    Notes
    -----
    Source: CIPM-2007, Picard, Davis, Glaeser & Fujii, Metrologia 45 (2008) 149-155, with carbon
    dioxide at its reference fraction of 0.0004. The formula is recommended for 600 to 1100 hPa and
    15 to 27 degrees Celsius; outside it the error stays far below what matters for a flight (the
    tests hold it against an independent property library down to -10 and up to 45 Celsius).

    Examples
    --------
    Damp air is not heavier but lighter than dry air:

    >>> from hitlab.physics import moist_air_density
    >>> moist_air_density(90.0, 1013.0, [10.0, 90.0]).round(3).tolist()
    [1.154, 1.137]
    """
    fahrenheit = quantity("temperature_f", temperature_f, "degrees Fahrenheit", -20, 130)
    pascal = 100 * quantity("pressure_hpa", pressure_hpa, "hectopascals", 250, 1100)
    percent = quantity("humidity_percent", humidity_percent, "percent", 0, 100)
    if np.any((percent > 0) & (percent < 1)):
        share = float(percent[(percent > 0) & (percent < 1)][0])
        raise QuantityError(
            f"humidity_percent is {share:g}, less than one percent; accepted is 0 to 100 percent. A share of "
            f"{share:g} is {100 * share:g} percent."
        )
    humidity = percent / 100
    broadcast({"temperature_f": fahrenheit, "pressure_hpa": pascal, "humidity_percent": humidity})
    celsius = (fahrenheit - 32) / 1.8
    kelvin = celsius + 273.15
    saturation_pa = np.exp(
        1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin
    )
    enhancement = 1.00062 + 3.14e-8 * pascal + 5.6e-7 * celsius**2
    vapour = humidity * enhancement * saturation_pa / pascal
    compressibility = (
        1
        - pascal
        / kelvin
        * (
            1.58123e-6
            - 2.9331e-8 * celsius
            + 1.1043e-10 * celsius**2
            + (5.707e-6 - 2.051e-8 * celsius) * vapour
            + (1.9898e-4 - 2.376e-6 * celsius) * vapour**2
        )
        + (pascal / kelvin) ** 2 * (1.83e-11 - 0.765e-8 * vapour**2)
    )
    gas_constant, dry_kg_per_mol, vapour_kg_per_mol = 8.314472, 28.96546e-3, 18.01528e-3
    dry = pascal * dry_kg_per_mol / (compressibility * gas_constant * kelvin)
    return np.asarray(dry * (1 - vapour * (1 - vapour_kg_per_mol / dry_kg_per_mol)))


@keeps_index
def air_density(
    altitude_ft: ArrayLike = 0.0,
    temperature_f: ArrayLike = 70.0,
    humidity_percent: ArrayLike = 50.0,
    *,
    station_pressure_hpa: ArrayLike | None = None,
    sea_level_pressure_hpa: ArrayLike | None = None,
) -> FloatArray:
    """Air density in a park.

    Parameters
    ----------
    altitude_ft
        Altitude above sea level in feet, -2000 to 33000; any shape.
    temperature_f
        Temperature in degrees Fahrenheit, -20 to 130.
    humidity_percent
        Relative humidity in percent, 0 to 100.
    station_pressure_hpa
        Pressure read in the park itself, in hectopascals, 250 to 1100. The altitude is then not needed.
    sea_level_pressure_hpa
        Pressure from a weather report, reduced to sea level, in hectopascals, 870 to 1090. It is
        brought back to the altitude with the standard atmosphere's ratio.

    Returns
    -------
    numpy.ndarray
        Density in kg/m3, of the arguments' common shape.

    Raises
    ------
    QuantityError
        If both pressures are given, an argument lies outside its range or the shapes do not fit.

    Warns
    -----
    UnitWarning
        If the temperatures look like Celsius, or the altitude, beside a pressure read in the park, like
        metres.

    Notes
    -----
    Without a pressure the standard atmosphere's pressure at the altitude is used (ISO 2533).

    Examples
    --------
    A hot afternoon at sea level, and the same afternoon a mile up, where there is nearly a fifth less air:

    >>> from hitlab.physics import air_density
    >>> air_density([0.0, 5280.0], temperature_f=90.0).round(3).tolist()
    [1.146, 0.942]
    """
    altitude = quantity("altitude_ft", altitude_ft, "feet", _LOWEST_FT, _HIGHEST_FT)
    warm = quantity("temperature_f", temperature_f, "degrees Fahrenheit", -20, 130)
    if warm.size and np.nanmax(warm, initial=-20) < 40 and np.nanmax(warm, initial=-20) > 10:
        top = float(np.nanmax(warm))
        warn_of_unit(
            f"temperature_f is at most {top:g} degrees Fahrenheit, too cold for play: was that Celsius? "
            f"{top:g} degrees Celsius are {32 + 1.8 * top:.0f} Fahrenheit."
        )
    if station_pressure_hpa is not None and sea_level_pressure_hpa is not None:
        raise QuantityError(
            f"station_pressure_hpa is {station_pressure_hpa} and sea_level_pressure_hpa is "
            f"{sea_level_pressure_hpa}; accepted is one of the two. Give the reading in the park as "
            "station_pressure_hpa, or a weather report's as sea_level_pressure_hpa."
        )
    if station_pressure_hpa is not None:
        pressure = quantity("station_pressure_hpa", station_pressure_hpa, "hectopascals", 250, 1100)
        broadcast({"altitude_ft": altitude, "station_pressure_hpa": pressure})
        # Weather moves the pressure by 3 %; a thousand metres taken for feet leave 8 % between the two.
        expected = pressure / standard_pressure(altitude)
        metres = pressure / standard_pressure(np.minimum(altitude / METRES_PER_FOOT, _HIGHEST_FT))
        doubtful = (np.abs(expected - 1) > 0.06) & (np.abs(metres - 1) < 0.04)
        if np.any(doubtful):
            warn_of_unit(
                "altitude_ft does not go with station_pressure_hpa, but would in metres (1 m is 3.281 ft). "
                "(The pressure read in the park is used; the altitude is then not needed.)"
            )
    elif sea_level_pressure_hpa is not None:
        reported = quantity("sea_level_pressure_hpa", sea_level_pressure_hpa, "hectopascals", 870, 1090)
        broadcast({"altitude_ft": altitude, "sea_level_pressure_hpa": reported})
        pressure = np.asarray(reported * standard_pressure(altitude) / (_SEA_LEVEL_PA / 100))
    else:
        pressure = standard_pressure(altitude)
    broadcast({"altitude_ft": altitude, "pressure": pressure})
    # Adding zeros brings a reading in one park to the shape of several altitudes.
    return moist_air_density(temperature_f, pressure + np.zeros_like(altitude), humidity_percent)
