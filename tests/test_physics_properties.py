"""What must hold for any ball, swing and air: order of convergence, limits, symmetry, monotony."""

from __future__ import annotations

import warnings
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hitlab.physics import (
    Conditions,
    PitchAtPlate,
    Swing,
    collide,
    fly,
    meet,
    swing_outcomes,
    trajectory,
)
from hitlab.physics.bats import BALL_RADIUS_IN, BAT_RADIUS_IN
from hitlab.physics.contact import offset_from_miss
from hitlab.physics.trajectory import Forces, State, advance

pytestmark = pytest.mark.filterwarnings("ignore::hitlab.physics.quantities.UnitWarning")

contacts = st.fixed_dictionaries(
    {
        "pitch_mph": st.floats(60, 100),
        "descent_deg": st.floats(0, 15),
        "bat_mph": st.floats(50, 85),
        "attack_deg": st.floats(-15, 30),
        "offset_in": st.floats(-1.8, 1.8),
        "pitch_backspin_rpm": st.floats(-2500, 2500),
        "bat_direction_deg": st.floats(-30, 30),
        "droop_deg": st.floats(0, 45),
    }
)


def _march(speed: float, launch: float, spin: float, side: float, wind: float, parts: int) -> np.ndarray:
    """Where a ball is after 1.6 s, in so many steps as balls are flown by."""
    one = np.ones(1)
    angle = np.radians(launch)
    forces = Forces(
        per_metre=0.0171 * one, drag_constant=0.297 * one, drag_spin=0.0292 * spin * 30 / np.pi / 1000 * one,
        radius=0.0369 * one, spin=(-side * np.sin(angle) * one, -spin * one, side * np.cos(angle) * one),
        wind=(wind * one, -wind / 2 * one), drag="spin", lift="gentle", spin_decay_s=30.0, wind_power=0.0,
    )  # fmt: skip
    state = State(
        (0 * one, 0 * one, 30 * one), (speed * np.cos(angle) * one, 0 * one, speed * np.sin(angle) * one)
    )
    length = 1.6 / parts
    with patch.object(trajectory, "STEP_S", length):
        for count in range(parts):
            state, taken = advance(state, forces, count * length)
            assume(float(np.max(np.abs(taken - length))) < 1e-12)  # no ball that needs shorter ones
    return np.array(state.place)[:, 0]


@settings(max_examples=15, deadline=None)
@given(st.floats(25, 50), st.floats(-5, 60), st.floats(50, 350), st.floats(-150, 150), st.floats(-8, 8))
def test_a_step_is_of_fourth_order(
    speed: float, launch: float, spin: float, side: float, wind: float
) -> None:
    # Halving the step leaves a sixteenth of the error; the finest stands for the truth.
    truth = _march(speed, launch, spin, side, wind, 128)
    coarse, fine = (np.linalg.norm(_march(speed, launch, spin, side, wind, n) - truth) for n in (4, 8))
    assume(fine > 1e-9)
    assert 3.4 < np.log2(coarse / fine) < 4.9


@settings(max_examples=50, deadline=None)
@given(contacts)
def test_grip_and_slide_meet(contact: dict[str, float]) -> None:
    # Sliding asks for less than grip, and with ever more friction turns into it without a jump.
    frictions = np.linspace(0, 1.5, 301)
    hit = collide(**contact, friction=frictions)
    gripped = collide(**contact, friction=np.inf)
    if not gripped.touched:
        return
    # Once gripped, gripped with all that rubs more.
    assert (np.diff(hit.gripped.astype(int)) >= 0).all()
    # A step of .005 in friction turns a ball by at most 2.5 x .005 x 1.2 x 185 mph / its radius: 320 rpm
    # about any axis that stands still (those of the flight turn with it).
    launch, spray = np.radians(hit.launch_deg), np.radians(hit.spray_deg)
    nothing = 0 * launch
    out = np.array([np.cos(spray), np.sin(spray), nothing])
    up = np.array([nothing, nothing, nothing + 1])
    across = np.array([np.sin(spray), -np.cos(spray), nothing])
    spin = (
        hit.backspin_rpm * across
        + hit.sidespin_rpm * (np.cos(launch) * up - np.sin(launch) * out)
        + hit.rifle_rpm * (np.cos(launch) * out + np.sin(launch) * up)
    )
    assert np.linalg.norm(np.diff(spin), axis=0).max() < 330
    # Without friction nothing is lost across; the ball ends as the endless friction leaves it.
    if float(hit.gripped[-2]) and abs(contact["offset_in"]) < 1:
        assert float(hit.backspin_rpm[-1]) == pytest.approx(float(gripped.backspin_rpm), abs=1e-6)


@given(contacts, st.floats(0.0, 0.9))
def test_energy_lost_falls_as_the_grip_springs_back(contact: dict[str, float], springing: float) -> None:
    less, more = (
        collide(**contact, friction=np.inf, tangential_restitution=e) for e in (springing, springing + 0.1)
    )
    if less.touched:
        assert float(more.energy_lost_j) <= float(less.energy_lost_j) + 1e-9
        assert float(more.energy_lost_j) >= -1e-9


@given(contacts)
def test_a_still_bat_of_endless_mass_is_a_wall(contact: dict[str, float]) -> None:
    # No recoil: what comes back along the line of centres is the efficiency, and the wall does not move.
    hit = collide(**{**contact, "bat_mph": 0.0}, mass_ratio=0.0, roll_ratio=0.0, efficiency=0.5)
    if hit.touched:
        for name in ("bat_forward_mph", "bat_pull_mph", "bat_up_mph", "bat_roll_rpm"):
            assert float(getattr(hit, name)) == pytest.approx(0, abs=1e-9)
        assert float(hit.exit_mph) <= contact["pitch_mph"] + abs(contact["pitch_backspin_rpm"]) / 30


@given(contacts)
def test_nothing_depends_on_who_moves(contact: dict[str, float]) -> None:
    # Seen from a moving frame ball and bat collide alike: raising both speeds along the bat's way by as much
    # leaves spin and grip unchanged. Head-on contact, where that way is the ball's own.
    q = {"descent_deg": 0.0, "attack_deg": 0.0, "bat_direction_deg": 0.0}
    one = collide(**{**contact, **q})
    two = collide(
        **{**contact, **q, "pitch_mph": contact["pitch_mph"] - 5, "bat_mph": contact["bat_mph"] + 5}
    )
    if one.touched:
        for name in ("backspin_rpm", "sidespin_rpm"):
            total = [np.hypot(np.hypot(h.backspin_rpm, h.sidespin_rpm), h.rifle_rpm) for h in (one, two)]
            assert float(total[0]) == pytest.approx(float(total[1]), rel=1e-9), name
        assert float(one.energy_lost_j) == pytest.approx(float(two.energy_lost_j), abs=1e-8)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(-12, 12), st.floats(60, 100), st.floats(55, 85), st.floats(-10, 25), st.floats(0, 40),
    st.floats(-4, 4), st.floats(-15, 15),
)  # fmt: skip
def test_bat_and_ball_are_at_one_place_at_one_time(
    error: float, pitch: float, bat: float, attack: float, droop: float, sideways: float, turned: float
) -> None:
    met = meet(
        error, pitch, bat,
        attack_deg=attack, droop_deg=droop, sideways_in=sideways, turned_deg=turned, tip_in=20,
    )  # fmt: skip
    assume(bool(met.reached))
    lean, rise = np.radians(droop), np.sin(np.radians(attack)) / np.cos(np.radians(droop))
    tip = np.array([0, -np.cos(lean), -np.sin(lean)])
    move = np.array([np.sqrt(1 - rise**2), -rise * np.sin(lean), rise * np.cos(lean)])

    def axis(angle: float) -> np.ndarray:
        return np.cos(angle) * tip + np.sin(angle) * move

    on_time = 28 * axis(np.radians(turned))
    # The ball is `forward` in front of the place on time: so long before; the bat has turned for that time.
    time = -float(met.forward_in) / (17.6 * pitch)
    now = axis(np.radians(turned) + bat * 17.6 / 28 * (time - error / 1000))
    there = (28 + float(met.beyond_in)) * now - on_time
    assert there[0] == pytest.approx(float(met.forward_in), abs=2e-3)
    assert there[1] == pytest.approx(-sideways, abs=2e-3)
    assert there[2] == pytest.approx(float(met.height_in), abs=2e-3)
    assert np.degrees(np.arcsin(-now[2])) == pytest.approx(float(met.droop_deg), abs=1e-2)


@given(st.floats(-2, 2), st.floats(60, 100), st.floats(0, 12), st.floats(50, 85), st.floats(-10, 25))
def test_a_miss_and_its_offset_are_alike_in_sign_beyond_the_crossing(
    miss: float, pitch: float, descent: float, bat: float, attack: float
) -> None:
    # The offset grows with the miss, and both touch at the same place.
    offsets = offset_from_miss([miss, miss + 0.05], pitch, descent, bat, attack)
    if np.isfinite(offsets).all():
        assert offsets[1] > offsets[0]
        assert np.abs(offsets).max() <= BALL_RADIUS_IN + BAT_RADIUS_IN


@settings(max_examples=30, deadline=None)
@given(
    st.floats(70, 110), st.floats(12, 45), st.floats(0, 4000), st.floats(-2000, 2000), st.floats(0.001, 0.05)
)
def test_more_drag_less_carry(speed: float, launch: float, spin: float, side: float, more: float) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        plain, held = (
            fly(speed, launch, 0, spin, side, conditions=Conditions(drag_shift=shift)) for shift in (0, more)
        )
    assert float(held.landing_mph) < float(plain.landing_mph) + 1e-6
    assert float(held.hang_s) <= float(plain.hang_s) + 1e-6


@settings(max_examples=20, deadline=None)
@given(st.floats(-1, 1), st.floats(-8, 8), st.integers(1, 40))
def test_chunks_make_no_difference(miss: float, error: float, copies: int) -> None:
    # One swing, or one among many in any order.
    alone = swing_outcomes(miss, error)
    many = swing_outcomes(np.full(copies, miss), np.full((2, 1), error))
    assert (many.outcome == alone.outcome).all()
    assert many.launch_deg == pytest.approx(np.full((2, copies), float(alone.launch_deg)), nan_ok=True)


def test_more_swings_than_a_chunk() -> None:
    miss = np.tile([0.2, 0.6, np.nan, 3.5], 15_000)
    found = swing_outcomes(miss, pitch=PitchAtPlate(), swing=Swing())
    assert found.outcome.reshape(-1, 4).std(axis=0).tolist() == [0.0] * 4
    assert found.missing == 15_000
