"""The flight: published ranges, closed forms, and scipy at a tight tolerance as the reference."""

from __future__ import annotations

import warnings
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from hitlab.physics.air import air_density
from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN
from hitlab.physics.contact import collide
from hitlab.physics.drag_lift import DRAG_FITS, LIFT_FITS, falling_drag_coefficient, lift_per_spin_factor
from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions, fly, fly_path
from hitlab.physics.quantities import (
    KG_PER_OUNCE,
    METRES_PER_FOOT,
    METRES_PER_INCH,
    MPS_PER_MPH,
    RAD_PER_S_PER_RPM,
    QuantityError,
    RangeWarning,
)

# The lift fits once more, as printed.
LIFTS = {
    "kinked": lambda s: np.where(s < 0.1, 1.5 * s, 0.09 + 0.6 * s),
    "saturating": lambda s: s / (0.4 + 2.32 * s),
    "gentle": lambda s: 1.12 * s / (0.583 + 2.333 * s),
    "none": lambda s: 0.0 * s,
}
VACUUM = Conditions(density_kg_m3=0.0)


BATCH = 100
"""Balls that scipy follows at a time, in one system of equations."""


def cross(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Cross products of columns; written out, it takes a quarter of numpy's time."""
    return np.array([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]])


def reference(
    exit_mph: ArrayLike,
    launch_deg: ArrayLike,
    spray_deg: ArrayLike,
    backspin_rpm: ArrayLike,
    sidespin_rpm: ArrayLike,
    conditions: Conditions,
) -> np.ndarray:
    """Carry (m), hang (s), apex (m), bearing (deg) of each ball, written out plainly in space."""
    c = conditions
    radius, mass = float(c.ball_radius_in) * METRES_PER_INCH, float(c.ball_mass_oz) * KG_PER_OUNCE
    k = float(c.density_kg_m3) * np.pi * radius**2 / (2 * mass)
    exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm = np.broadcast_arrays(
        exit_mph, launch_deg, spray_deg, backspin_rpm, sidespin_rpm
    )
    launch, spray = np.radians(launch_deg), np.radians(spray_deg)
    ahead = np.array([np.cos(launch) * np.cos(spray), np.cos(launch) * np.sin(spray), np.sin(launch)])
    across = np.array([np.sin(spray), -np.cos(spray), np.zeros_like(spray)])
    spin = RAD_PER_S_PER_RPM * (backspin_rpm * across + sidespin_rpm * cross(across, ahead))
    wind = MPS_PER_MPH * np.array([[float(c.wind_out_mph)], [float(c.wind_pull_mph)], [0.0]])
    lift = LIFTS[c.lift]

    def slope(t: float, y: np.ndarray) -> np.ndarray:
        y = y.reshape(6, -1)
        v = y[3:] - wind * (np.maximum(y[2], 1.0) / 10.0) ** c.wind_power
        speed = np.sqrt((v * v).sum(axis=0))
        turned = cross(spin * np.exp(-t / c.spin_decay_s), v)
        size = np.sqrt((turned * turned).sum(axis=0))
        if c.drag == "falling":
            coefficient = falling_drag_coefficient(speed)
        elif c.drag == "constant":
            coefficient = np.full_like(speed, 0.35)
        else:
            # Nathan 2017, eqs. 10 and 11, as quoted, with the spin that is left.
            left = np.hypot(backspin_rpm, sidespin_rpm) * np.exp(-t / c.spin_decay_s)
            coefficient = 0.297 + 0.0292 * left / 1000
        a = -k * coefficient * speed * v - np.array([[0], [0], [9.80665]])
        a += k * lift(radius * size / speed**2) * speed**2 * turned / np.where(size > 0, size, 1.0)
        return np.concatenate([y[3:], a]).ravel()

    def last_one_down(t: float, y: np.ndarray) -> float:
        return float(y.reshape(6, -1)[2].max()) + 0.01  # a little below the ground, so that all cross it

    last_one_down.terminal, last_one_down.direction = True, -1  # type: ignore[attr-defined]
    height = np.full_like(launch, float(c.height_ft) * METRES_PER_FOOT)
    start = np.concatenate([[0 * launch, 0 * launch, height], exit_mph * MPS_PER_MPH * ahead])
    found = solve_ivp(
        slope, (0, 30), start.ravel(), "DOP853", rtol=1e-10, atol=1e-11, events=last_one_down,
        dense_output=True,
    )  # fmt: skip
    # Looked at every 5 ms, so that a ball that dips to the ground and rises again is seen.
    times = np.linspace(0, found.t[-1], int(200 * found.t[-1]) + 2)
    seen = found.sol(times).reshape(6, launch.size, -1)

    def crossings(row: int, ball: int) -> list[tuple[float, np.ndarray]]:
        """Times, and the ball's state, at which a row of it turns from above 0 to below."""

        def state(t: float) -> np.ndarray:
            return np.asarray(found.sol(t).reshape(6, -1)[:, ball])

        values = seen[row, ball]
        before = np.flatnonzero((values[:-1] > 0) & (values[1:] <= 0))
        at = [brentq(lambda t: state(t)[row], times[i], times[i + 1], xtol=1e-13) for i in before]
        return [(time, state(time)) for time in at]

    out = []
    for ball in range(launch.size):
        hang, (x, y, *_) = crossings(2, ball)[0]
        tops = [state[2] for time, state in crossings(5, ball) if time < hang]
        out.append((np.hypot(x, y), hang, max([height[ball], *tops]), np.degrees(np.arctan2(y, x))))
    return np.array(out)


def compare(count: int, seed: int, conditions: Conditions, sideways: float = 0.0) -> None:
    """Hold random balls to the reference: carry within 1 mm, hang within 0.1 ms, apex within 1 mm."""
    rng = np.random.default_rng(seed)
    speed, launch = rng.uniform(30, 120, count), rng.uniform(-5, 85, count)
    spray = rng.uniform(-40, 40, count)
    back, side = rng.uniform(0, 4000, count), sideways * rng.uniform(-2000, 2000, count)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RangeWarning)
        flight = fly(speed, launch, spray, back, side, conditions=conditions)
    # Balls that fly alike long go together: the others are not followed far below the ground.
    order = np.argsort(flight.hang_s)
    expected = np.empty((count, 4))
    for start in range(0, count, BATCH):
        some = order[start : start + BATCH]
        expected[some] = reference(
            *(column[some] for column in (speed, launch, spray, back, side)), conditions
        )
    assert flight.carry_ft * METRES_PER_FOOT == pytest.approx(expected[:, 0], abs=1e-3)
    assert flight.hang_s == pytest.approx(expected[:, 1], abs=1e-4)
    assert flight.apex_ft * METRES_PER_FOOT == pytest.approx(expected[:, 2], abs=1e-3)
    far = expected[:, 0] > 1.0
    # A millimetre across at the carry, as an angle.
    slip = np.radians(np.abs(flight.bearing_deg - expected[:, 3])[far]) * expected[far, 0]
    assert slip.max() <= 1e-3


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("drag", DRAG_FITS)
@pytest.mark.parametrize("lift", LIFT_FITS)
def test_against_scipy(drag: str, lift: str) -> None:
    compare(12, 11, Conditions(drag=drag, lift=lift))


def test_against_scipy_in_space() -> None:
    compare(20, 12, Conditions(), sideways=1.0)
    compare(20, 13, Conditions(wind_out_mph=12.0, wind_pull_mph=-9.0, wind_power=0.0), sideways=1.0)


def test_balls_that_move_along_their_axis_are_within_a_millimetre() -> None:
    # Steep, much sidespin: near the top these fly nearly along their axis, where the lift turns fast. With
    # steps of one length they were off by 0.8 to 1.9 mm.
    speed, launch, back, side = np.array(
        [
            (111.0, 70.4, 3765, 1973), (118.0, 74.7, 2136, -607), (109.2, 72.8, 2631, -1321),
            (81.0, 78.2, 3273, 1330), (98.8, 72.0, 2240, 1914),
        ]
    ).T  # fmt: skip
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RangeWarning)
        carries = fly(speed, launch, 0, back, side).carry_ft * METRES_PER_FOOT
    expected = reference(speed, launch, 0, back, side, Conditions())[:, 0]
    assert carries == pytest.approx(expected, abs=3e-4)


def test_a_flat_ball_that_its_spin_lifts_through_the_kink_is_within_a_millimetre() -> None:
    # It falls below the kink of the wind's profile at 1 m and rises through it again; it was off by 1.80 mm.
    ball = (115.3, -2.89, -19.8, 3424.0, 564.0)
    blown = Conditions(wind_out_mph=-40.0)
    carry = fly(*ball, conditions=blown).carry_ft * METRES_PER_FOOT
    expected = reference(*(np.array([value]) for value in ball), blown)[:, 0]
    assert float(carry) == pytest.approx(expected[0], abs=5e-4)


@pytest.mark.slow
def test_against_scipy_in_a_wind_that_grows_with_height() -> None:
    # The profile's kink at 1 m is crossed once up and once down, and the wind changes fast above it.
    compare(20, 14, Conditions(wind_out_mph=-15.0, wind_pull_mph=6.0), sideways=1.0)
    compare(20, 16, Conditions(wind_out_mph=20.0, wind_pull_mph=-20.0, wind_power=0.3), sideways=1.0)


@pytest.mark.slow
@pytest.mark.parametrize("lift", ["gentle", "saturating", "kinked"])
def test_against_scipy_over_a_thousand(lift: str) -> None:
    compare(1000, 15, Conditions(lift=lift))
    compare(300, 17, Conditions(lift=lift, wind_out_mph=18.0, wind_pull_mph=-21.0), sideways=1.0)


def test_vacuum_is_the_parabola() -> None:
    launch = np.array([-5, 0, 20, 45, 80.0])
    flight = fly(100, launch, 0, 2500, 800, conditions=VACUUM)
    v, angle, g, h = 100 * MPS_PER_MPH, np.radians(launch), 9.80665, 3 * METRES_PER_FOOT
    up = v * np.sin(angle)
    hang = (up + np.sqrt(up**2 + 2 * g * h)) / g
    assert flight.hang_s == pytest.approx(hang, abs=1e-8)
    assert flight.carry_ft * METRES_PER_FOOT == pytest.approx(v * np.cos(angle) * hang, abs=1e-6)
    assert flight.apex_ft * METRES_PER_FOOT == pytest.approx(h + np.maximum(up, 0) ** 2 / (2 * g), abs=1e-8)
    assert flight.apex_s == pytest.approx(np.maximum(up, 0) / g, abs=1e-8)
    # Energy: what it lands with.
    assert flight.landing_mph * MPS_PER_MPH == pytest.approx(np.full(5, np.sqrt(v**2 + 2 * g * h)), rel=1e-9)


def test_dropped_ball_without_spin_is_the_closed_form() -> None:
    # Falling under quadratic drag: height fallen = log(cosh(g t / v)) v^2 / g, v the terminal speed.
    with pytest.warns(RangeWarning, match="speed off the bat"):
        flight = fly(0, 0, 0, 0, conditions=Conditions(height_ft=50, lift="none", drag_constant=0.5))
    k = 1.194 * np.pi * (BALL_RADIUS_IN * METRES_PER_INCH) ** 2 * 0.5 / (2 * BALL_MASS_OZ * KG_PER_OUNCE)
    terminal = np.sqrt(9.80665 / k)
    time = terminal / 9.80665 * np.arccosh(np.exp(50 * METRES_PER_FOOT * 9.80665 / terminal**2))
    assert float(flight.hang_s) == pytest.approx(time, abs=1e-5)
    assert float(flight.carry_ft) == 0


def test_constant_drag_as_in_a_textbook() -> None:
    # Downey, Modeling and Simulation in Python, ch. 22-23: half the last printed digit. His g is 9.8, ours
    # 9.80665, which moves the range by 7 cm.
    ball = Conditions(
        height_ft=1 / METRES_PER_FOOT, density_kg_m3=1.2, drag_constant=0.33, lift="none",
        ball_mass_oz=0.145 / KG_PER_OUNCE, ball_radius_in=0.0365 / METRES_PER_INCH,
    )  # fmt: skip
    flight = fly(40 / MPS_PER_MPH, 45, conditions=ball)
    assert float(flight.carry_ft) * METRES_PER_FOOT == pytest.approx(99, abs=0.5)
    assert float(flight.hang_s) == pytest.approx(5.0, abs=0.05)
    assert float(flight.landing_mph) * MPS_PER_MPH == pytest.approx(26, abs=0.5)
    assert float(flight.landing_deg) == pytest.approx(57, abs=0.5)
    angles = np.arange(30, 55, 0.1)
    carries = fly(40 / MPS_PER_MPH, angles, conditions=ball).carry_ft
    assert angles[carries.argmax()] == pytest.approx(41, abs=0.5)
    assert carries.max() * METRES_PER_FOOT == pytest.approx(100, abs=0.5)


# Exploratorium, science of baseball: range without spin from 3 ft at density x 0.90, 0.95, 1, 1.05, 1.10,
# and without air. The drag coefficient 0.353 at density 1.2 is FITTED to the row of 110 mph at unit density;
# the other fourteen are predictions.
SHOTS = [
    (110.0, 45.0, [419, 409, 400, 391, 382], 812),
    (140 * METRES_PER_FOOT / MPS_PER_MPH, 35.0, [354, 348, 341, 335, 329], 577),
    (120 * METRES_PER_FOOT / MPS_PER_MPH, 60.0, [245, 241, 236, 232, 228], 390),
]


@pytest.mark.parametrize(("speed", "launch", "printed", "printed_vacuum"), SHOTS)
def test_published_ranges(speed: float, launch: float, printed: list[float], printed_vacuum: float) -> None:
    density = 1.2 * np.array([0.90, 0.95, 1, 1.05, 1.10])
    air = Conditions(density_kg_m3=density, drag_constant=0.353, lift="none")
    assert fly(speed, launch, conditions=air).carry_ft == pytest.approx(printed, abs=2)
    assert float(fly(speed, launch, conditions=VACUUM).carry_ft) == pytest.approx(printed_vacuum, abs=1)


def test_spin_factor_per_rpm_and_mph() -> None:
    # Nathan 2008, Am. J. Phys. 76:119, as quoted: 8.53e-3 for a radius of 36.4 mm.
    assert pytest.approx(8.53e-3, abs=5e-6) == 0.0364 * RAD_PER_S_PER_RPM / MPS_PER_MPH
    # The same factor is where the lift fit's range ends.
    edge = 0.6 / (0.0364 * RAD_PER_S_PER_RPM / MPS_PER_MPH) * 50
    ball = Conditions(ball_radius_in=0.0364 / METRES_PER_INCH)
    fly(50, 20, 0, 0.999 * edge, conditions=ball)
    with pytest.warns(RangeWarning, match="spin factor"):
        fly(50, 20, 0, 1.001 * edge, conditions=ball)


def test_lift_fits() -> None:
    # Sawicki, Hubbard & Stronge 2003, Am. J. Phys. 71:1152, as quoted: continuous at 0.1.
    def lift(factor: np.ndarray, fit: str) -> np.ndarray:
        return factor * lift_per_spin_factor(factor, fit)

    some = np.array([0.02, 0.06, 0.1, 0.3])
    assert lift(some, "kinked") == pytest.approx([0.03, 0.09, 0.15, 0.27], abs=1e-15)
    # Cross; Nathan (both from memory): a bracket. The gentler one stays within 28 % of the kinked one (the
    # largest gap is 1.12 / 0.583 / 1.5 - 1 = 28.07 % as the spin goes to nothing), the other is 29 % off at
    # 0.05 and more below.
    factor = np.linspace(0.001, 0.6, 600)
    kinked = lift(factor, "kinked")
    assert np.abs(lift(factor, "gentle") / kinked - 1).max() < 0.2808
    few = np.array([0.02, 0.05])
    off = lift(few, "saturating") / lift(few, "kinked") - 1
    assert off[1] == pytest.approx(0.29, abs=0.005)
    assert off[0] > off[1]


def _four_hundred(lift: str) -> float:
    """Exit speed that carries 400 ft at 28 degrees with 2,000 rpm."""
    speeds = np.linspace(90, 110, 4001)
    carries = fly(speeds, 28, 0, 2000, conditions=Conditions(lift=lift)).carry_ft
    return float(np.interp(400, carries, speeds))


@pytest.mark.parametrize("lift", [name for name in LIFT_FITS if name != "none"])
def test_trends_of_a_400_ft_ball(lift: str) -> None:
    speed = _four_hundred(lift)

    def carry(extra_mph: float = 0.0, **conditions: object) -> float:
        air = Conditions(lift=lift, **conditions)  # type: ignore[arg-type]
        return float(fly(speed + extra_mph, 28, 0, 2000, conditions=air).carry_ft)

    # Trend: Nathan & Young 2020, drag coefficient lower by 0.01: +4 to +5 ft, bracket 4-7.
    assert 4 <= carry(drag_shift=-0.01) - 400 <= 7
    # Trends: Adair, The Physics of Baseball, as quoted, +1 mph about +5 ft; +10 F about +4; +1000 ft about +6
    # to +7, of which density alone gives 4 to 5.5. Sources disagree; ours moves the density alone.
    assert 4 <= carry(1.0) - 400 <= 6
    mild, warm, high = (float(air_density(*p)) for p in ((0, 70), (0, 80), (1000, 70)))
    base = carry(density_kg_m3=mild)
    assert 2 <= carry(density_kg_m3=warm) - base <= 5
    assert 4 <= carry(density_kg_m3=high) - base <= 5.5


@pytest.mark.parametrize("lift", [name for name in LIFT_FITS if name != "none"])
def test_best_launch_angle_falls_as_backspin_grows(lift: str) -> None:
    # Trend, common practice, no source: about 40 degrees without spin, 25-32 at 2,000 rpm.
    angles = np.arange(15, 55, 0.25)
    best = [
        angles[fly(100, angles, 0, spin, conditions=Conditions(lift=lift)).carry_ft.argmax()]
        for spin in (0, 1000, 2000, 3000)
    ]
    assert best[0] == pytest.approx(40, abs=2)
    assert 25 <= best[2] <= 32
    assert (np.diff(best) < 0).all()


@pytest.mark.parametrize(
    ("release_mph", "backspin_rpm", "lowest", "highest"), [(92, 2200, 4, 7), (78, -2400, 9, 11.5)]
)
def test_descent_of_pitches_at_the_plate(
    release_mph: float, backspin_rpm: float, lowest: float, highest: float
) -> None:
    # Trend: Nathan 2015 as quoted, and memory: a fastball comes down at about 6 degrees, a curveball at
    # about 10. Released 6 ft up and 6 ft in front of the rubber, belt high (2.5 ft) at the plate; a pitch is
    # the same physics as a batted ball.
    distance = 60.5 - 6 - 17 / 12
    angles = np.linspace(-6, 6, 241)
    path = fly_path(release_mph, angles, 0, backspin_rpm, conditions=Conditions(height_ft=6.0), points=800)
    at_plate = np.array([np.interp(distance, x, z) for x, z in zip(path.out_ft, path.height_ft, strict=True)])
    chosen = np.abs(at_plate - 2.5).argmin()
    i = np.searchsorted(path.out_ft[chosen], distance)
    run = np.diff(path.out_ft[chosen])[i - 1]
    assert lowest <= -np.degrees(np.arctan2(np.diff(path.height_ft[chosen])[i - 1], run)) <= highest


def test_most_carry_against_a_published_optimum() -> None:
    # Trend: Sawicki et al. 2003 (figures from memory): fastball 42 m/s, bat 30 m/s: undercut 2.65 cm,
    # attack 0.1594 rad (9.1 degrees), 135 m. Their descent, drag and bat are not remembered. Ours
    # gives 2.5 cm and 12.5 degrees for a level pitch (half a degree outside a bracket of 3 degrees), 2.2 cm
    # and 15 degrees for one that falls by 6: an undercut of an inch and a moderate uppercut, as there. Their
    # ball rolls off the bat and its drag ignores spin; so it does here.
    undercut, attack = np.arange(1.5, 3.5, 0.05)[:, None] / 2.54, np.arange(0, 31, 0.5)
    found = []
    for descent in (0, 6):
        hit = collide(
            42 / MPS_PER_MPH, descent, 30 / MPS_PER_MPH, attack, undercut, pitch_backspin_rpm=1910,
            tangential_restitution=0, friction=0.5, roll_ratio=0.4,
        )  # fmt: skip
        air = Conditions(lift="kinked", drag="constant")
        with warnings.catch_warnings():
            # The corners of the grid spin more than the fit was measured for; the best ball does not.
            warnings.simplefilter("ignore", RangeWarning)
            flight = fly(hit.exit_mph, hit.launch_deg, 0, hit.backspin_rpm, conditions=air)
        i, j = np.unravel_index(flight.carry_ft.argmax(), flight.carry_ft.shape)
        found.append((2.54 * undercut[i, 0], attack[j], flight.carry_ft[i, j] * METRES_PER_FOOT))
    level, falling = found
    assert level[0] == pytest.approx(2.65, abs=0.3)
    assert 6 < level[1] < 15
    assert level[2] == pytest.approx(135, rel=0.1)
    assert 1.9 < falling[0] < 2.65
    assert 9 < falling[1] < 20


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(st.floats(40, 115), st.floats(5, 60), st.floats(0, 2500), st.floats(0.5, 1.3), st.floats(-30, 30))
def test_invariants(speed: float, launch: float, spin: float, density: float, spray: float) -> None:
    air = Conditions(density_kg_m3=density)
    flight = fly(speed, launch, spray, spin, conditions=air, soft=True)
    without = fly(speed, launch, spray, 0, conditions=VACUUM, soft=True)
    # Drag takes energy, backspin holds up, turning the field turns the ball, and nothing is blown aside.
    v2 = speed**2 + 2 * 9.80665 * 3 * METRES_PER_FOOT / MPS_PER_MPH**2
    assert float(flight.landing_mph) ** 2 < v2
    # More backspin, longer up; where its own drag does not stop a steep ball sooner.
    steady = Conditions(density_kg_m3=density, drag="constant")
    less, more = (fly(speed, launch, spray, s, conditions=steady, soft=True) for s in (spin, spin + 200))
    assert float(more.hang_s) > float(less.hang_s)
    assert float(flight.bearing_deg) == pytest.approx(spray)
    assert float(flight.side_ft) == 0
    assert float(fly(speed, launch, spray, 0, conditions=air, soft=True).carry_ft) < float(without.carry_ft)
    # Sidespin curves toward its own side, mirrored.
    left, right = (fly(speed, launch, 0, spin, s, conditions=air, soft=True).side_ft for s in (800, -800))
    assert float(left) > 0
    assert float(left) == pytest.approx(-float(right), rel=1e-9)


def test_wind() -> None:
    still = fly(95, 30, 0, 2000)
    out, into, across = (
        fly(95, 30, 0, 2000, conditions=Conditions(**w))
        for w in ({"wind_out_mph": 10.0}, {"wind_out_mph": -10.0}, {"wind_pull_mph": 10.0})
    )
    assert float(out.carry_ft) > float(still.carry_ft) > float(into.carry_ft)
    assert float(across.side_ft) > 5
    # A ball hit toward the pull side meets a wind to the pull side as one to centre meets a wind out.
    turned = fly(95, 30, 90, 2000, conditions=Conditions(wind_pull_mph=10.0))
    assert float(turned.carry_ft) == pytest.approx(float(out.carry_ft), rel=1e-12)


def test_fence() -> None:
    fence = Fence((-45, 0, 45), (330, 400, 330), (8, 12, 30))
    flight = fly(
        [103, 100, 100, 60, 100, 110], [28, 28, 28, 28, 28, 1], [0, 30, 60, 0, -44, 0], 2000, fence=fence
    )
    assert flight.over_fence is not None
    assert flight.fence_height_ft is not None
    # Far enough to centre, easily over in the gap, foul, beyond reach, over near the pole, along the ground.
    assert flight.over_fence.tolist() == [True, True, False, False, True, False]
    assert np.isnan(flight.fence_height_ft).tolist() == [False, False, False, True, False, True]
    # The same height read off the path.
    path = fly_path(100, 28, 30, 2000, points=2000)
    where = np.hypot(path.out_ft, path.side_ft)
    height = np.interp(fence.distance(30), where, path.height_ft)
    # Straight lines between points 0.003 s apart sag by under g t^2 / 8 = 4e-5 ft.
    assert flight.fence_height_ft[1] == pytest.approx(height, abs=1e-3)
    far = Fence((-45, 45), (1000, 1000), (0, 0))
    assert fly(120, 30, fence=far).over_fence is not None
    assert not fly(120, 30, fence=far).over_fence
    assert fly(100, 28).fence_height_ft is None


def test_a_curving_ball_meets_the_fence_where_it_is_then() -> None:
    fence = Fence((-45, 45), (300, 400), (8, 8))
    flight = fly(105, 28, 20, 2000, 1200, fence=fence)
    path = fly_path(105, 28, 20, 2000, 1200, points=4000)
    bearing = np.degrees(np.arctan2(path.side_ft, path.out_ft))
    gap = np.hypot(path.out_ft, path.side_ft) - fence.distance(np.nan_to_num(bearing))
    i = int(np.argmax(gap > 0))
    assert flight.fence_bearing_deg is not None
    assert float(flight.fence_bearing_deg) == pytest.approx(bearing[i], abs=0.02)
    assert float(flight.fence_bearing_deg) > 21


def test_the_fence_is_met_to_a_hundredth_of_a_millimetre(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = np.random.default_rng(5)
    low, high = [70, 5, -50, 0, -2500], [120, 60, 50, 4000, 2500]
    balls = rng.uniform(low, high, (4000, 5)).T
    fence = Fence((-45, -22.5, 0, 22.5, 45), (330, 375, 400, 375, 330), (8, 8, 8, 8, 8))
    met = fly(*balls, fence=fence, soft=True)
    monkeypatch.setattr("hitlab.physics.tracking._FENCE_HALVINGS", 40)
    exactly = fly(*balls, fence=fence, soft=True)
    assert np.isfinite(met.fence_height_ft).sum() > 800
    np.testing.assert_allclose(met.fence_height_ft, exactly.fence_height_ft, rtol=0, atol=0.01 / 304.8)
    np.testing.assert_allclose(met.fence_bearing_deg, exactly.fence_bearing_deg, rtol=0, atol=1e-6)


@pytest.mark.parametrize(
    "conditions",
    [
        Conditions(), Conditions(wind_out_mph=-30, wind_pull_mph=20),
        Conditions(drag="falling", lift="kinked"), Conditions(density_kg_m3=1.3),
        Conditions(density_kg_m3=0.9, wind_out_mph=30),
    ],
)  # fmt: skip
def test_rough_flights_are_within_a_tenth_of_a_foot(
    conditions: Conditions, monkeypatch: pytest.MonkeyPatch
) -> None:
    from hitlab.physics import tracking

    steps = []

    def counted(*state: Any) -> Any:
        steps.append(1)
        return advance(*state)

    advance = tracking.advance
    monkeypatch.setattr(tracking, "advance", counted)
    rng = np.random.default_rng(3)
    balls = rng.uniform([1, -5, -45, -4000, -2500], [120, 85, 45, 4000, 2500], (4000, 5)).T
    fence = Fence((-45, 0, 45), (330, 400, 330), (8, 8, 8))
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RangeWarning)
        fine = fly(*balls, conditions=conditions, fence=fence)
        taken = len(steps)
        rough = fly(*balls, conditions=conditions, fence=fence, rough=True)
    assert len(steps) - taken < 0.7 * taken
    for name in ("carry_ft", "fence_height_ft"):
        np.testing.assert_allclose(getattr(rough, name), getattr(fine, name), rtol=0, atol=0.1)
    assert np.count_nonzero(rough.over_fence != fine.over_fence) <= 1


def test_path_ends_where_the_ball_lands() -> None:
    path = fly_path([[95], [105]], [10, 20, 30], 25, 2000, 700, points=40)
    flight = fly([[95], [105]], [10, 20, 30], 25, 2000, 700)
    assert path.time_s.shape == path.height_ft.shape == (2, 3, 40)
    assert path.time_s[..., -1] == pytest.approx(flight.hang_s)
    assert np.hypot(path.out_ft, path.side_ft)[..., -1] == pytest.approx(flight.carry_ft)
    assert path.height_ft[..., -1] == pytest.approx(np.zeros((2, 3)), abs=1e-6)
    assert path.height_ft[..., 0] == pytest.approx(np.full((2, 3), 3.0))
    assert np.degrees(np.arctan2(path.side_ft, path.out_ft))[..., -1] == pytest.approx(flight.bearing_deg)
    assert (path.height_ft.max(axis=-1) <= flight.apex_ft).all()


def test_a_path_in_wind_is_that_of_the_flight() -> None:
    # Each ball takes steps of its own there; the places between them are asked for all the same.
    blown = Conditions(wind_out_mph=15.0, wind_pull_mph=-9.0)
    launch = np.array([-4.0, 1.0, 12.0, 30.0, 75.0])
    path = fly_path(95, launch, 10, 2000, 700, conditions=blown, points=4000)
    flight = fly(95, launch, 10, 2000, 700, conditions=blown)
    assert path.time_s[:, -1] == pytest.approx(flight.hang_s)
    assert np.hypot(path.out_ft, path.side_ft)[:, -1] == pytest.approx(flight.carry_ft)
    assert path.height_ft[:, -1] == pytest.approx(np.zeros(5), abs=1e-6)
    # Points 2 ms apart: the highest is under the apex by at most an eighth of 2 g x step squared.
    assert path.height_ft.max(axis=1) == pytest.approx(flight.apex_ft, abs=1e-4)
    # No ball jumps: it moves as fast as it may, and turns no faster than its forces turn it.
    velocity = np.diff(path.height_ft, axis=1) / np.diff(path.time_s, axis=1)
    bend = np.diff(velocity, axis=1) / np.diff(path.time_s, axis=1)[:, 1:]
    assert np.abs(bend).max() < 3 * 32.2


def test_a_ball_that_dips_to_the_ground_within_a_step_has_landed() -> None:
    # Much backspin turns a low drive upward again: some touch the grass first, some just clear it, and the
    # reference tells which.
    launch = np.linspace(-6, -3, 40)
    conditions = Conditions(height_ft=2.0, drag="constant", lift="saturating")
    with pytest.warns(RangeWarning):
        flight = fly(120, launch, 0, 9500, conditions=conditions)
    carries = reference(120, launch, 0, 9500, 0, conditions)[:, 0]
    assert np.ptp(carries) > 50
    assert flight.carry_ft * METRES_PER_FOOT == pytest.approx(carries, abs=2e-3)


def test_missing_stays_in_its_place() -> None:
    whole = fly([90, 95, 100], [20, 25, 30], 10, 2000)
    for holed in (
        fly([90, np.nan, 100], [20, 25, 30], 10, 2000),
        fly([90, 95, 100], [20, 25, 30], [10, np.nan, 10], 2000),
        fly([90, 95, 100], [20, 25, 30], 10, [2000, np.nan, 2000]),
        fly(
            [90, 95, 100],
            [20, 25, 30],
            10,
            2000,
            conditions=Conditions(drag_constant=[0.297, np.nan, 0.297], drag="spin"),
        ),
        fly([90, 95, 100], [20, 25, 30], 10, 2000, conditions=Conditions(drag_shift=[0, np.nan, 0])),
        fly(
            [90, 95, 100],
            [20, 25, 30],
            10,
            2000,
            conditions=Conditions(drag_per_1000_rpm=[0.0292, np.nan, 0.0292]),
        ),
    ):
        for name in (
            "carry_ft",
            "hang_s",
            "apex_ft",
            "apex_s",
            "landing_deg",
            "landing_mph",
            "bearing_deg",
            "side_ft",
        ):
            values, expected = getattr(holed, name), getattr(whole, name)
            assert np.isnan(values[1]), name
            assert values[[0, 2]].tolist() == expected[[0, 2]].tolist()
    lost = fly([np.nan, 100], 28, fence=Fence((-45, 45), (300, 300), (0, 0))).over_fence
    assert lost is not None
    assert lost.tolist() == [False, True]
    assert np.isnan(fly_path([np.nan, 100], 28, points=5).height_ft).tolist() == [[True] * 5, [False] * 5]


def test_every_kind_of_array_is_taken() -> None:
    frame = pd.DataFrame({"exit": [90.0, 100.0], "launch": [20.0, 30.0]})
    expected = fly(np.array([90, 100]), np.array([20, 30])).carry_ft.tolist()
    assert fly(frame["exit"], frame["launch"]).carry_ft.tolist() == expected
    assert fly([90, 100], (20, 30)).carry_ft.tolist() == expected
    assert fly([[90], [100]], [20, 30]).carry_ft.shape == (2, 2)
    assert fly(90, 20).carry_ft.shape == ()
    assert fly([], []).carry_ft.shape == (0,)
    # More balls than a chunk holds, in any order: each flies by itself.
    many = fly(np.tile([90, 100], 5000), np.tile([20, 30], 5000)).carry_ft
    assert many.reshape(5000, 2) == pytest.approx(np.tile(expected, (5000, 1)), abs=1e-9)


def test_a_fit_outside_its_range_is_warned_about() -> None:
    with pytest.warns(RangeWarning, match="1 of 2 balls"):
        fly([20, 100], 30)
    # Trend of the fit quoted from memory: it falls with speed.
    assert (np.diff(falling_drag_coefficient(np.linspace(10, 120, 12) * MPS_PER_MPH)) < 0).all()


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: fly(10000, 20), ["exit_mph is 10000", "0 to 250 mph", "unit"]),
        (lambda: fly(770, 20), ["exit_mph is 770", "0 to 250 mph"]),
        (lambda: fly(-1, 20), ["exit_mph is -1"]),
        (lambda: fly(90, 500), ["launch_deg is 500", "-90 to 90 degrees"]),
        (lambda: fly([90, 95], [20, np.inf]), ["launch_deg is inf at position 1"]),
        (lambda: fly(90, 20, conditions=Conditions(ball_radius_in=-1)), ["ball_radius_in is -1", "above 0"]),
        (lambda: fly(90, 20, conditions=Conditions(density_kg_m3=1194)), ["density_kg_m3 is 1194", "kg/m3"]),
        (lambda: fly(90, 20, conditions=Conditions(drag="smooth")), ["drag is 'smooth'", "'constant'"]),
        (lambda: fly(90, 20, conditions=Conditions(lift="lots")), ["lift is 'lots'", "'kinked'"]),
        (lambda: fly([1, 2], [1, 2, 3]), ["exit_mph (2,)", "launch_deg (3,)"]),
        (lambda: fly_path(90, 20, points=1), ["points is 1"]),
        (lambda: Fence((0, -45), (330, 330), (8, 8)), ["bearing_deg is (0.0, -45.0)", "rise"]),
        (lambda: Fence((-45, 45), (330,), (8, 8)), ["shapes (2,), (1,)"]),
        (lambda: Fence((-45, 45), (-300, 300), (0, 0)), ["distance_ft is -300"]),
    ],
)
def test_bad_input_is_named(call, words) -> None:
    with pytest.raises(QuantityError) as caught:
        call()
    for word in words:
        assert word in str(caught.value)
