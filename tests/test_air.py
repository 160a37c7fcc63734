"""Air density: published tables, two independent libraries, and the ways a pressure is misread."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab.physics.air import air_density, moist_air_density, standard_density, standard_pressure
from hitlab.physics.quantities import METRES_PER_FOOT, QuantityError
from tests.needs import package


def test_standard_density_is_the_printed_table() -> None:
    # ISO 2533:1975, density at geometric altitudes of 0 to 2000 m; half a unit of the last printed digit.
    metres = np.array([0, 500, 1000, 1500, 2000])
    printed = [1.2250, 1.1673, 1.1117, 1.0581, 1.0066]
    assert standard_density(metres / METRES_PER_FOOT) == pytest.approx(printed, abs=0.5e-4)


def test_moist_density_is_the_published_value() -> None:
    # CIPM-2007 (Picard et al., Metrologia 45:149) at 20 C, 101325 Pa, 50 %; value from memory.
    assert float(moist_air_density(68, 1013.25, 50)) == pytest.approx(1.1993, abs=0.5e-4)


def test_standard_atmosphere_against_an_independent_library() -> None:
    # ambiance 1.3.1 (ICAO standard atmosphere 1993), which ISO 2533 agrees with in this layer. Constants
    # printed to seven digits allow for a few parts in ten million.
    ambiance = package("ambiance")
    metres = np.linspace(-600, 5000, 57)
    reference = ambiance.Atmosphere(metres)
    feet = metres / METRES_PER_FOOT
    assert standard_density(feet) == pytest.approx(reference.density, rel=1e-6)
    assert 100 * standard_pressure(feet) == pytest.approx(reference.pressure, rel=1e-6)


@pytest.mark.slow
def test_moist_air_against_an_independent_library() -> None:
    # CoolProp 8.0.0, HAPropsSI (Herrmann, Kretzschmar & Gatley 2009). Both sides are good to about 1e-4 in
    # the formula's recommended range; 3e-4 over this wider one is 1 inch of a 400 ft carry.
    humid_air = package("CoolProp.HumidAirProp")
    for celsius in (-10.0, 0.0, 13.7, 20.0, 31.3, 45.0):
        for hpa in (701.0, 850.0, 1013.25, 1050.0):
            for humidity in (0.0, 37.0, 100.0):
                volume = humid_air.HAPropsSI(
                    "Vha", "T", celsius + 273.15, "P", 100 * hpa, "R", humidity / 100
                )
                ours = float(moist_air_density(celsius * 1.8 + 32, hpa, humidity))
                assert ours == pytest.approx(1 / volume, rel=3e-4), (celsius, hpa, humidity)


def test_a_weather_report_is_brought_back_to_the_altitude() -> None:
    mountain = air_density(5000, 70, sea_level_pressure_hpa=1013.25)
    assert mountain == pytest.approx(air_density(5000, 70), rel=1e-12)
    # Taken as the pressure in the park, the same reading would be a sixth too dense.
    wrong = air_density(5000, 70, station_pressure_hpa=1013.25)
    assert 1.15 < float(wrong / mountain) < 1.25


def test_one_reading_and_several_altitudes_broadcast() -> None:
    assert air_density([0, 1000, 5000], 70, station_pressure_hpa=1000).shape == (3,)
    assert air_density(0, [[60, 70], [80, 90]], [[20, 40], [60, np.nan]]).shape == (2, 2)


@pytest.mark.filterwarnings("ignore:temperature_f:hitlab.physics.quantities.UnitWarning")
@given(st.floats(-2000, 9000), st.floats(20, 110), st.integers(0, 100), st.floats(1, 500), st.floats(0.5, 10))
def test_density_falls_with_altitude_heat_and_humidity(
    altitude: float, fahrenheit: float, humidity: float, up: float, warmer: float
) -> None:
    here = float(air_density(altitude, fahrenheit, humidity))
    assert float(air_density(altitude + up, fahrenheit, humidity)) < here
    assert float(air_density(altitude, fahrenheit + warmer, humidity)) < here
    assert float(air_density(altitude, fahrenheit, max(humidity - 1, 0))) >= here


def test_missing_stays_in_its_place() -> None:
    density = air_density([0, np.nan, 2000])
    assert np.isnan(density).tolist() == [False, True, False]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: air_density(90000), ["altitude_ft is 90000", "-2000 to 33000 feet", "unit"]),
        (lambda: air_density(0, 300), ["temperature_f is 300", "Fahrenheit"]),
        (lambda: air_density(0, 70, 140), ["humidity_percent is 140", "0 to 100 percent"]),
        (
            lambda: air_density(0, station_pressure_hpa=29.92),
            ["station_pressure_hpa is 29.92", "hecto"],
        ),
        (
            lambda: air_density(0, station_pressure_hpa=1000, sea_level_pressure_hpa=1000),
            ["station_pressure_hpa is 1000", "one of the two"],
        ),
        (lambda: air_density([0, 1], [1, 2, 3]), ["shapes", "(2,)", "(3,)"]),
        (lambda: air_density("high"), ["altitude_ft is 'high'", "not numeric"]),
        (lambda: standard_density([0, 1, -9000]), ["-9000 at position 2"]),
    ],
)
def test_bad_input_is_named(call, words) -> None:
    with pytest.raises(QuantityError) as caught:
        call()
    for word in words:
        assert word in str(caught.value)
