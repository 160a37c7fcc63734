"""The collision: identities, conservation laws, limits and published examples of its head-on part.

The oblique part is held against conservation laws and limits here, against measurement in
``test_physics_as_measured.py``.
"""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab.physics.bats import (
    BALL_MASS_OZ,
    BALL_RADIUS_IN,
    BAT_RADIUS_IN,
    COLLEGE_RESTITUTION_LIMIT,
    bat_at_point,
    collision_efficiency,
    exit_speed,
    restitution_from_efficiency,
)
from hitlab.physics.contact import collide, line_of_centres, offset_from_miss
from hitlab.physics.quantities import (
    KG_PER_OUNCE,
    METRES_PER_INCH,
    MPS_PER_MPH,
    RAD_PER_S_PER_RPM,
    QuantityError,
)

# A twentieth of these swings are as slow as if they were metres a second.
pytestmark = pytest.mark.filterwarnings("ignore:pitch_mph and bat_mph:hitlab.physics.quantities.UnitWarning")

swings = st.fixed_dictionaries(
    {
        "pitch_mph": st.floats(20, 110),
        "descent_deg": st.floats(-10, 30),
        "bat_mph": st.floats(10, 100),
        "attack_deg": st.floats(-30, 45),
        "offset_in": st.floats(-2.7, 2.7),
        "pitch_backspin_rpm": st.floats(-3500, 3500),
        "bat_direction_deg": st.floats(-60, 60),
        "droop_deg": st.floats(-40, 40),
        "mass_ratio": st.floats(0.05, 1),
        "tangential_restitution": st.floats(-1, 1),
        "friction": st.one_of(st.floats(0, 2), st.just(np.inf)),
        "roll_ratio": st.floats(0.01, 2),
    }
)


def test_ball_and_bat_are_the_rule_books() -> None:
    # Official Baseball Rules 3.01 (5 to 5 1/4 oz, 9 to 9 1/4 in around) and 3.02 (2.61 in across).
    assert 5 <= BALL_MASS_OZ <= 5.25
    assert 9 <= 2 * np.pi * BALL_RADIUS_IN <= 9.25
    assert 2 * BAT_RADIUS_IN == 2.61
    # NCAA standard from 1 January 2011.
    assert COLLEGE_RESTITUTION_LIMIT == 0.50


def test_collision_efficiency_and_exit_speed() -> None:
    # Nathan 2003, Am. J. Phys. 71:134; the example is from memory.
    assert float(collision_efficiency(0.5, 0.25)) == pytest.approx(0.20, abs=1e-15)
    assert float(exit_speed(94, 70, 0.2)) == pytest.approx(102.8, abs=1e-12)
    assert float(restitution_from_efficiency(0.2, 0.25)) == pytest.approx(0.5, abs=1e-15)


def test_the_older_college_standard_gives_97_mph() -> None:
    # Older college standard: ball exit speed ratio .728 (efficiency + 1/2), 97 mph read; pitch 70 and bat 66
    # mph from memory.
    assert float(exit_speed(70, 66, 0.728 - 0.5)) == pytest.approx(97, abs=0.05)


def test_line_of_centres() -> None:
    # Geometry: ball 1.452 in, bat 1.305 in, offsets 0.5 and 1 in; printed to hundredths of a degree.
    angles = line_of_centres([0.5, 1.0], ball_radius_in=1.452, bat_radius_in=1.305)
    assert angles == pytest.approx([10.45, 21.27], abs=0.005)
    assert line_of_centres(0.5, 6.0) == pytest.approx(line_of_centres(0.5) + 6.0)


def test_head_on_is_the_closed_form() -> None:
    hit = collide([60, 85, 95], 7, [50, 70, 80], -7 + 14, 0, efficiency=0.21)
    assert hit.exit_mph == pytest.approx(exit_speed([60, 85, 95], [50, 70, 80], 0.21), rel=1e-13)
    assert hit.launch_deg == pytest.approx([7, 7, 7])
    assert hit.spray_deg == pytest.approx([0, 0, 0], abs=1e-12)


def test_centred_and_level_with_the_pitch() -> None:
    # Geometry: no spin on the pitch, none gained; launch = attack.
    plain = collide(85, 6, 70, 6, 0)
    assert float(plain.launch_deg) == pytest.approx(6, abs=1e-12)
    assert float(plain.backspin_rpm) == pytest.approx(0, abs=1e-9)
    # A pitch's backspin drags the ball downward off the bat (about 3 degrees at 2,200 rpm with full grip)
    # and turns toward the batted ball's backspin; topspin does the opposite.
    back, top = (collide(85, 6, 70, 6, 0, pitch_backspin_rpm=s, friction=np.inf) for s in (2200, -2200))
    assert 6 - float(back.launch_deg) == pytest.approx(3, abs=0.5)
    assert float(top.launch_deg) - 6 == pytest.approx(6 - float(back.launch_deg))
    # Backspin of the pitch is topspin for the way back; the rub takes most of it off.
    assert -2200 < float(back.backspin_rpm) < 0 < float(top.backspin_rpm) < 2200


def test_against_a_wall_that_grips() -> None:
    # Closed form: a uniform ball that rolls off a fixed wall keeps 5/7 of its speed along it.
    height = 1.0
    wall = collide(
        80, 0, 0, 0, height,
        mass_ratio=0, efficiency=0.4, roll_ratio=0, friction=np.inf, tangential_restitution=0,
    )  # fmt: skip
    tilt = np.arcsin(height / (BALL_RADIUS_IN + BAT_RADIUS_IN))
    across, along = 0.4 * 80 * np.cos(tilt), 5 / 7 * 80 * np.sin(tilt)
    assert float(wall.exit_mph) == pytest.approx(np.hypot(across, along), rel=1e-12)
    assert float(wall.launch_deg) == pytest.approx(np.degrees(tilt + np.arctan2(along, across)), rel=1e-12)
    # It rolls: the surface keeps up with the contact point.
    surface = float(wall.backspin_rpm) * RAD_PER_S_PER_RPM * BALL_RADIUS_IN * METRES_PER_INCH
    assert surface / MPS_PER_MPH == pytest.approx(along, rel=1e-12)


def test_without_friction_nothing_spins() -> None:
    hit = collide(85, 6, 70, 10, [-1, 0.3, 1], bat_direction_deg=20, friction=0)
    for spin in (hit.backspin_rpm, hit.sidespin_rpm, hit.rifle_rpm, hit.bat_roll_rpm):
        assert spin == pytest.approx(np.zeros(3), abs=1e-9)
    assert not hit.gripped.any()


def test_small_friction_slides_and_large_grips() -> None:
    hit = collide(85, 6, 70, 6, 1.5, friction=[0.05, 0.1, 5, np.inf])
    assert hit.gripped.tolist() == [False, False, True, True]
    assert hit.backspin_rpm[0] < hit.backspin_rpm[1] < hit.backspin_rpm[2]
    assert hit.backspin_rpm[2] == hit.backspin_rpm[3]


def _state(swing: dict[str, float]) -> dict[str, np.ndarray]:
    """Velocities and spins of ball and bat before (by hand) and after (from the result), SI."""
    hit = collide(**swing, efficiency=_efficiency(swing["mass_ratio"]))
    descent, attack = (np.radians(swing[k]) for k in ("descent_deg", "attack_deg"))
    pitch, bat = swing["pitch_mph"] * MPS_PER_MPH, swing["bat_mph"] * MPS_PER_MPH
    launch, spray = np.radians(hit.launch_deg), np.radians(hit.spray_deg)
    across = np.array([np.sin(spray), -np.cos(spray), 0])
    ahead = np.array([np.cos(launch) * np.cos(spray), np.cos(launch) * np.sin(spray), np.sin(launch)])
    upright = np.cross(across, ahead)
    return {
        "touched": hit.touched,
        "lost": hit.energy_lost_j,
        "ball": pitch * np.array([-np.cos(descent), 0, -np.sin(descent)]),
        "bat": bat * _path(swing, attack),
        "spin": swing["pitch_backspin_rpm"] * RAD_PER_S_PER_RPM * np.array([0, 1, 0]),
        "ball_after": hit.exit_mph * MPS_PER_MPH * ahead,
        "bat_after": np.array([hit.bat_forward_mph, hit.bat_pull_mph, hit.bat_up_mph]) * MPS_PER_MPH,
        "spin_after": RAD_PER_S_PER_RPM
        * (hit.backspin_rpm * across + hit.sidespin_rpm * upright + hit.rifle_rpm * ahead),
        "roll_after": hit.bat_roll_rpm * RAD_PER_S_PER_RPM,
    }


def _barrel(swing: dict[str, float]) -> np.ndarray:
    """Along the bat from its tip to the handle: to the pull side, and upward where the tip droops."""
    facing, droop = np.radians(swing["bat_direction_deg"]), np.radians(swing["droop_deg"])
    return np.array([-np.sin(facing) * np.cos(droop), np.cos(facing) * np.cos(droop), np.sin(droop)])


def _path(swing: dict[str, float], attack: float) -> np.ndarray:
    """The way of the struck point: square to the bat, forward, and as steep as asked."""
    barrel, facing = _barrel(swing), np.radians(swing["bat_direction_deg"])
    ahead = np.array([np.cos(facing), np.sin(facing), 0.0])
    upward = np.cross(ahead, barrel)
    rise = np.sin(attack) / upward[2]
    return np.sqrt(1 - rise**2) * ahead + rise * upward


def _efficiency(mass_ratio: float) -> float:
    return float(collision_efficiency(0.5, mass_ratio))


@given(swings)
def test_momentum_and_angular_momentum_are_kept(swing: dict[str, float]) -> None:
    s = _state(swing)
    if not s["touched"]:
        return
    ball = BALL_MASS_OZ * KG_PER_OUNCE
    radius, bat_radius = BALL_RADIUS_IN * METRES_PER_INCH, BAT_RADIUS_IN * METRES_PER_INCH
    bat = ball / swing["mass_ratio"]
    before, after = ball * s["ball"] + bat * s["bat"], ball * s["ball_after"] + bat * s["bat_after"]
    assert after == pytest.approx(before, abs=1e-10 * (1 + np.abs(before).max()))

    # About the contact point no force has an arm: the ball's spin and orbit together are kept.
    barrel = _barrel(swing)
    facing = np.radians(swing["bat_direction_deg"])
    ahead = np.array([np.cos(facing), np.sin(facing), 0.0])
    upward = np.cross(ahead, barrel)
    # The way back along the ball's path as it is seen along the bat, tilted by the offset.
    tilt = np.arctan2(-s["ball"] @ upward, -s["ball"] @ ahead)
    tilt += np.arcsin(swing["offset_in"] / (BALL_RADIUS_IN + BAT_RADIUS_IN))
    normal = np.cos(tilt) * ahead + np.sin(tilt) * upward
    inertia = 0.4 * ball * radius**2

    def turning(velocity: np.ndarray, spin: np.ndarray) -> np.ndarray:
        return inertia * spin + ball * radius * np.cross(normal, velocity)

    kept = turning(s["ball"], s["spin"])
    assert turning(s["ball_after"], s["spin_after"]) == pytest.approx(kept, abs=1e-10)

    # About the bat's axis the bat rolls with what the rub gives it; its roll is opposite in sense to +pull.
    rub = ball * (s["ball_after"] - s["ball"])
    given_to_bat = -np.cross(bat_radius * normal, rub) @ barrel
    roll_inertia = ball * bat_radius**2 / swing["roll_ratio"]
    assert -s["roll_after"] * roll_inertia == pytest.approx(given_to_bat, abs=1e-10)


@given(swings)
def test_energy_is_never_created_and_the_books_balance(swing: dict[str, float]) -> None:
    s = _state(swing)
    if not s["touched"]:
        return
    ball = BALL_MASS_OZ * KG_PER_OUNCE
    inertia = 0.4 * ball * (BALL_RADIUS_IN * METRES_PER_INCH) ** 2
    roll = ball * (BAT_RADIUS_IN * METRES_PER_INCH) ** 2 / swing["roll_ratio"]
    bat = ball / swing["mass_ratio"]

    def energy(v: np.ndarray, w: np.ndarray, u: np.ndarray, r: float) -> float:
        return float(ball * v @ v + inertia * w @ w + bat * u @ u + roll * r**2) / 2

    before = energy(s["ball"], s["spin"], s["bat"], 0.0)
    after = energy(s["ball_after"], s["spin_after"], s["bat_after"], float(s["roll_after"]))
    assert before - after == pytest.approx(float(s["lost"]), abs=1e-9 * before)
    assert float(s["lost"]) >= -1e-9 * before


def test_a_perfect_collision_loses_nothing() -> None:
    hit = collide(
        85, 6, 70, 12, [0, 0.5, 2],
        bat_direction_deg=15, pitch_backspin_rpm=1500, friction=np.inf, tangential_restitution=1,
        efficiency=collision_efficiency(1, 0.25),
    )  # fmt: skip
    assert hit.energy_lost_j == pytest.approx(np.zeros(3), abs=1e-10)


@given(swings)
def test_pull_and_opposite_field_mirror(swing: dict[str, float]) -> None:
    q = _efficiency(swing["mass_ratio"])
    one = collide(**swing, efficiency=q)
    mirror = {name: -swing[name] for name in ("bat_direction_deg", "droop_deg")}
    other = collide(**{**swing, **mirror}, efficiency=q)
    assert bool(one.touched) == bool(other.touched)
    if one.touched:
        # Straight back is 180 as well as -180.
        assert (float(one.spray_deg + other.spray_deg) + 180) % 360 == pytest.approx(180, abs=1e-9)
        assert float(one.sidespin_rpm) == pytest.approx(-float(other.sidespin_rpm), abs=1e-6)
        assert float(one.launch_deg) == pytest.approx(float(other.launch_deg), abs=1e-9)


def test_undercut_lifts_and_spins_back_topping_does_the_opposite() -> None:
    offsets = np.linspace(-1.5, 1.5, 31)
    hit = collide(85, 6, 70, 6, offsets)
    assert (np.diff(hit.launch_deg) > 0).all()
    assert (np.diff(hit.backspin_rpm) > 0).all()
    # Two degrees a tenth of an inch for the line of centres; the launch turns by more, for the ball slips
    # along the bat as well.
    slope = np.gradient(hit.launch_deg, offsets)[15]
    assert 2 < 0.1 * slope < 3.5


def test_a_pulled_ball_curves_to_the_pull_side() -> None:
    hit = collide(85, 6, 70, 6, 0.5, bat_direction_deg=[-25, 25])
    assert hit.spray_deg[1] > 25
    assert hit.spray_deg[0] < -25
    assert hit.sidespin_rpm[1] > 0 > hit.sidespin_rpm[0]


def test_offset_from_miss() -> None:
    # Level with the pitch the bat sees the ball come along its own path: offset = miss x cos(descent).
    assert float(offset_from_miss(0.8, 85, 6, 70, 6)) == pytest.approx(0.8 * np.cos(np.radians(6)))
    # A rising bat aimed through the ball touches below its centre, a chop above.
    through = offset_from_miss(0, 85, 6, 70, [20, -20])
    assert through[0] > 0 > through[1]
    # March both along their paths and look for first touch: the slow way.
    miss, descent, attack = 0.6, np.radians(9.0), np.radians(17.0)
    time = np.linspace(-0.01, 0, 2_000_001)
    ball = 80 * 17.6 * time[:, None] * np.array([-np.cos(descent), -np.sin(descent)]) + np.array([0, miss])
    bat = 66 * 17.6 * time[:, None] * np.array([np.cos(attack), np.sin(attack)])
    # At time 0 both are equally far out, the bat `miss` under the ball.
    gap = ball - bat
    first = gap[np.argmax(np.hypot(*gap.T) <= BALL_RADIUS_IN + BAT_RADIUS_IN)]
    slow = first @ np.array([-np.sin(descent), np.cos(descent)])
    # A step of 5 ns at 215 ft/s is 1.3e-5 in.
    assert float(offset_from_miss(miss, 80, 9, 66, 17)) == pytest.approx(slow, abs=2e-5)


def test_beyond_touching_is_a_miss_not_an_error() -> None:
    hit = collide(85, 6, 70, 6, [-3, 0, 3])
    assert hit.touched.tolist() == [False, True, False]
    assert np.isnan(hit.exit_mph).tolist() == [True, False, True]
    assert np.isnan(hit.bat_up_mph).tolist() == [True, False, True]
    assert np.isnan(line_of_centres(5))
    # Nothing approaches: both at rest.
    assert not collide(0, 0, 0, 0, 0).touched


def test_missing_stays_in_its_place() -> None:
    whole = collide([80, 85, 90], 6, 70, 6, 0.3)
    holed = collide([80, np.nan, 90], 6, 70, 6, 0.3)
    for name in ("exit_mph", "launch_deg", "spray_deg", "backspin_rpm", "energy_lost_j"):
        values = getattr(holed, name)
        assert np.isnan(values[1])
        assert values[[0, 2]].tolist() == getattr(whole, name)[[0, 2]].tolist()


def test_every_kind_of_array_is_taken() -> None:
    expected = collide(np.array([80.0, 90.0]), 6, 70, 6, 0.3).exit_mph.tolist()
    frame = pd.DataFrame({"speed": [80.0, 90.0], "nullable": pd.array([80, None], dtype="Int64")})
    for pitch in ([80, 90], (80, 90), np.array([80, 90], dtype=np.float32), frame["speed"]):
        assert collide(pitch, 6, 70, 6, 0.3).exit_mph.tolist() == expected
    nullable = collide(frame["nullable"], 6, 70, 6, 0.3).exit_mph
    assert nullable[0] == expected[0]
    assert np.isnan(nullable[1])
    masked = collide(np.ma.masked_array([80, 90], [False, True]), 6, 70, 6, 0.3).exit_mph
    assert np.isnan(masked).tolist() == [False, True]
    grid = collide(85, 6, 70, np.array([[5], [10]]), np.array([0, 0.3, 0.6]))
    assert grid.exit_mph.shape == grid.touched.shape == (2, 3)
    assert collide(85, 6, 70, 6).exit_mph.shape == ()
    assert collide([], 6, 70, 6).exit_mph.shape == (0,)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pitch_mph": 10000}, ["pitch_mph is 10000", "0 to 150 mph", "unit"]),
        ({"bat_mph": -5}, ["bat_mph is -5"]),
        ({"attack_deg": 500}, ["attack_deg is 500", "-60 to 80 degrees"]),
        ({"descent_deg": [5, 400]}, ["descent_deg is 400 at position 1"]),
        ({"ball_radius_in": -1}, ["ball_radius_in is -1", "above 0 and up to 5 inches"]),
        ({"bat_radius_in": 0}, ["bat_radius_in is 0", "above 0"]),
        ({"efficiency": 0.9}, ["efficiency and mass_ratio", "1.375", "0 to 1"]),
        ({"friction": -0.1}, ["friction is -0.1", "infinity"]),
        ({"offset_in": "half"}, ["offset_in is 'half'", "not numeric"]),
        ({"offset_in": [True, False]}, ["offset_in", "bool"]),
        ({"pitch_mph": [80, 90], "offset_in": [0, 0.1, 0.2]}, ["pitch_mph (2,)", "offset_in (3,)"]),
    ],
)
def test_bad_input_is_named(change: dict[str, object], words: list[str]) -> None:
    swing: dict[str, object] = {"pitch_mph": 85, "descent_deg": 6, "bat_mph": 70, "attack_deg": 6}
    with pytest.raises(QuantityError) as caught:
        collide(**{**swing, **change})  # type: ignore[arg-type]
    for word in words:
        assert word in str(caught.value)


def test_bat_at_point() -> None:
    # At the balance point a free bat recoils with its whole weight (rigid bodies).
    assert float(bat_at_point(31, 22, 11000, 22).effective_mass_oz) == pytest.approx(31)
    # Held on the stand it turns about the pivot: inertia / arm squared.
    held = bat_at_point(31, 22, 11000, 27, held_at_pivot=True)
    assert float(held.effective_mass_oz) == pytest.approx(11000 / 21**2)
    assert float(held.mass_ratio) == pytest.approx(BALL_MASS_OZ / (11000 / 21**2))
    # Two bats at the college limit: the one with more inertia has the higher efficiency.
    light, heavy = bat_at_point(30, 20.5, [9000, 10500], 27).collision_efficiency
    assert heavy > light
    # The certification's own reckoning comes back to the limit.
    back = restitution_from_efficiency(held.collision_efficiency, held.mass_ratio)
    assert float(back) == pytest.approx(COLLEGE_RESTITUTION_LIMIT)


def test_an_impossible_bat_is_refused() -> None:
    with pytest.raises(QuantityError, match="7936 oz in2"):
        bat_at_point(31, 22, 5000, 27)
    with pytest.raises(QuantityError, match="point_in lies at or inside pivot_in"):
        bat_at_point(31, 22, 11000, 6, held_at_pivot=True)


def test_free_bat_is_the_rigid_body_it_claims_to_be() -> None:
    # A unit impulse at the point: the balance point moves with 1/weight and the bat turns about it.
    weight, balance, inertia, point, pivot = 30.0, 21.3, 10100.0, 26.7, 6.0
    about = inertia - weight * (balance - pivot) ** 2
    velocity = 1 / weight + (point - balance) * ((point - balance) / about)
    assert float(bat_at_point(weight, balance, inertia, point).effective_mass_oz) == pytest.approx(
        1 / velocity
    )
