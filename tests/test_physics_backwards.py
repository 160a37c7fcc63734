"""From what is seen back to the swing, a hitter's scatter, and the park taken out."""

from __future__ import annotations

import warnings

import numpy as np
import pandas as pd
import pytest

from hitlab.physics import (
    Conditions,
    PitchAtPlate,
    QuantityError,
    Scatter,
    Swing,
    UnitWarning,
    air_density,
    carry_in_parks,
    collide,
    contact_from_flight,
    explain_launch_spread,
    fit_scatter,
    fly,
    launch_shares,
    swing_margin,
    swing_outcomes,
    swing_path,
    to_standard_air,
)
from hitlab.physics.scatter_fit import HITTER

NAN = float("nan")


def test_contact_is_found_again() -> None:
    offset = np.array([-0.4, 0.2, 0.7, 1.1])
    hit = collide(85, 6, 71, 9, offset, pitch_backspin_rpm=2000, efficiency=0.17, droop_deg=30)
    guess = contact_from_flight(
        hit.exit_mph, hit.launch_deg, 71, attack_deg=9, bat_direction_deg=0, exit_sd_mph=0, launch_sd_deg=0,
        draws=2,
    )  # fmt: skip
    # Solved to 0.05 mph and degrees; a degree is some 0.03 in, a mph 0.007 of efficiency.
    assert guess.offset_in == pytest.approx(offset, abs=2e-3)
    assert guess.efficiency == pytest.approx(np.full(4, 0.17), abs=5e-4)
    assert guess.possible_share.tolist() == [1.0] * 4


@pytest.mark.slow
@pytest.mark.parametrize("end", [0.0, 20.0])
def test_the_range_holds_the_truth(end: float) -> None:
    # Swings from the very range that is allowed for: nine in ten of the offsets lie within their ends.
    rng = np.random.default_rng(8)
    size = 300
    bat, attack, offset = rng.uniform(66, 76, size), rng.uniform(2, 16, size), rng.uniform(-0.5, 1.3, size)
    q, facing = rng.uniform(0.1, 0.22, size), end * rng.uniform(-1, 1, size)
    hit = collide(
        85, 6, bat, attack, offset, pitch_backspin_rpm=2000, efficiency=q, droop_deg=30,
        bat_direction_deg=facing,
    )  # fmt: skip
    guess = contact_from_flight(
        hit.exit_mph + rng.normal(0, 1, size), hit.launch_deg + rng.normal(0, 1, size),
        (66, 76), attack_deg=(2, 16), bat_direction_deg=(-end, end), draws=200,
    )  # fmt: skip
    within = (guess.offset_low_in <= offset) & (offset <= guess.offset_high_in)
    # Binomial, 300 of .9: standard error .017.
    assert 0.84 < within.mean() < 0.96
    # A slower bat and a better contact look alike: the efficiency is known far less well.
    assert np.median(guess.efficiency_high - guess.efficiency_low) > 0.06
    # Nine in ten of all, not wherever the bat faced.
    if end:
        assert within[abs(facing) < 0.5 * end].mean() > 0.96
        assert within[abs(facing) > 0.9 * end].mean() < 0.6


@pytest.mark.parametrize("timing", [0, 5])
def test_the_range_holds_the_truth_of_swings_that_were_mistimed(timing: int) -> None:
    # Where the bat faced nobody has measured; a swing that is late by 5 ms faces 12 degrees away.
    rng = np.random.default_rng(4)
    size = 120
    swung = [
        swing_outcomes(miss, error, attack, swing=Swing(bat))
        for miss, error, attack, bat in zip(
            rng.uniform(-0.8, 1.2, size), np.round(timing * rng.standard_normal(size)),
            rng.uniform(0, 20, size), rng.uniform(65, 75, size), strict=True,
        )
    ]  # fmt: skip
    offset, exit_mph, launch, spray = (
        np.array([float(getattr(one, name)) for one in swung])
        for name in ("offset_in", "exit_mph", "launch_deg", "spray_deg")
    )
    fair = np.abs(spray) < 45
    guess = contact_from_flight(exit_mph[fair], launch[fair], (65, 75), draws=100, soft=True)
    within = (guess.offset_low_in <= offset[fair]) & (offset[fair] <= guess.offset_high_in)
    assert within.mean() > 0.85


def test_what_cannot_be_is_said() -> None:
    guess = contact_from_flight([170.0, NAN, 95.0], [15.0, 10.0, 15.0], (60, 64))
    assert guess.known.tolist() == [False, False, True]
    assert guess.missing == 2
    assert guess.possible_share[0] == 0
    frame = pd.DataFrame({"exit": [99.0, 88.0], "launch": [20.0, 5.0]}, index=["x", "y"])
    assert contact_from_flight(frame["exit"], frame["launch"], (65, 75)).table().index.tolist() == ["x", "y"]
    with pytest.raises(QuantityError, match="bat_mph"):
        contact_from_flight(100, 20, (75, 65))


def test_a_spread_is_explained_by_what_made_it() -> None:
    made = launch_shares(0.9, 10.0, 4.0, aim_in=0.3)
    rng = np.random.default_rng(2)
    launch = rng.normal(10, float(made.launch_sd_deg), 4000)
    found = explain_launch_spread(launch, timing_ms=(5, 10), attack_deg=(4, 8))
    here = int(np.flatnonzero((found.timing_ms == 10) & (found.attack_deg == 4))[0])
    assert (found.balls, found.left_out) == (4000, 0)
    assert found.launch_sd_error_deg == pytest.approx(launch.std() / np.sqrt(2 * 4000), rel=0.05)
    slope = np.diff(launch_shares([0.85, 0.95], 10.0, 4.0, aim_in=0.3).launch_sd_deg)[0] / 0.1
    assert found.miss_in[here] == pytest.approx(0.9, abs=3 * found.launch_sd_error_deg / slope + 0.01)
    low, high = found.ranges["miss"]
    assert low < float(made.miss_total_share) < high
    # What cannot be known: with these assumptions alone the aim's share has a range of a tenth and more.
    assert high - low > 0.1
    with pytest.raises(QuantityError, match="9 known values"):
        explain_launch_spread([*range(9), NAN])


@pytest.mark.slow
def test_a_hitter_like_a_human() -> None:
    # Common practice, no source: whiffs .24, fouls .38, in play .38 of swings; hard hits .35 to .40 of balls
    # in play; launch angles spread by 27 degrees about 12.
    fit = fit_scatter()
    best = fit.best
    assert fit.whiff[best] == pytest.approx(0.24, abs=0.02)
    assert fit.hard[best] == pytest.approx(0.375, abs=0.045)
    assert fit.launch_sd_deg[best] == pytest.approx(27, abs=2)
    # The fouls are not reached; nothing else is missed by as much.
    assert set(fit.short_of) == {"foul"}
    assert -0.06 < fit.short_of["foul"] < -0.02
    # Attack angles that scatter by 0 or by 8 degrees leave alike what the shares say of aim and timing.
    assert np.ptp(fit.timing_ms) > 1.0
    margin = swing_margin(swing=HITTER, scatter=fit.scatter, aim_in=fit.aim, swings=50_000, seed=5)
    # Binomial errors of 10,000 and 50,000 draws.
    assert margin.shares["whiff"] == pytest.approx(fit.whiff[best], abs=0.015)
    assert margin.hard_share == pytest.approx(fit.hard[best], abs=0.03)


@pytest.mark.slow
def test_a_scatter_that_the_model_can_give_is_met() -> None:
    true = Scatter(miss_in=1.2, timing_ms=11.0, attack_deg=4.0, sideways_in=1.8)
    margin = swing_margin(swing=HITTER, scatter=true, aim_in=0.5, swings=100_000, seed=11)
    fit = fit_scatter(
        whiff=margin.shares["whiff"], foul=margin.shares["foul"], launch_mean_deg=margin.launch_mean_deg,
        launch_sd_deg=margin.launch_sd_deg, hard=margin.hard_share, attack_deg=4.0,
    )  # fmt: skip
    assert fit.misfit[0] < 1.0
    assert not fit.short_of
    assert fit.sideways_in[0] == pytest.approx(1.8, abs=0.4)
    assert fit.aim_in[0] == pytest.approx(0.5, abs=0.3)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"whiff": 0.7, "foul": 0.4}, "leave nothing in play"),
        ({"whiff": NAN}, "whiff is missing"),
        ({"attack_deg": [1.0, NAN]}, "attack_deg"),
        ({"swing": 3}, "swing is 3"),
        ({"swings": 10}, "swings is 10"),
    ],
)
def test_a_fit_that_cannot_be_is_refused(asked: dict[str, object], words: str) -> None:
    with pytest.raises(QuantityError, match=words):
        fit_scatter(**asked)  # type: ignore[arg-type]


# Timed positions of a bat.


def _circle(time: np.ndarray, plane: float = 32.0, on_time: float = 18.0) -> np.ndarray:
    """A point 28 in from a pivot, turning at 2.5 degrees a ms in a plane that falls away from the hitter."""
    turn, lean = np.radians(on_time + 2.5 * time), np.radians(plane)
    return 28 * np.array([np.sin(turn), -np.cos(turn) * np.cos(lean), -np.cos(turn) * np.sin(lean)])


def test_a_known_swing_is_found() -> None:
    time = np.linspace(-15, 15, 31)
    path = swing_path(time, *_circle(time), degree=5)
    # Speed r w; the rise at contact is sin(plane) x sin(turn).
    assert path.bat_mph == pytest.approx(28 * np.radians(2.5) * 1000 / 17.6, rel=1e-4)
    rise = np.degrees(np.arcsin(np.sin(np.radians(32)) * np.sin(np.radians(18))))
    assert path.attack_deg == pytest.approx(rise, abs=1e-2)
    assert path.plane_deg == pytest.approx(32, abs=1e-6)
    assert path.off_plane_in < 1e-6
    # The same however the field is turned, and with rows that are missing.
    out, side, height = _circle(time)
    turned = swing_path(time, -side, out, height, degree=5)
    assert turned.attack_deg == pytest.approx(path.attack_deg)
    assert turned.direction_deg - path.direction_deg == pytest.approx(90)
    assert turned.plane_facing_deg - path.plane_facing_deg == pytest.approx(90)
    assert swing_path([*time, 99.0], [*out, NAN], [*side, 0], [*height, 0], degree=5).points == 31


def test_standard_errors_are_what_repeats_show() -> None:
    rng = np.random.default_rng(4)
    time = np.linspace(-16, 16, 17)
    clean, truth = _circle(time), swing_path(time, *_circle(time))
    found = [swing_path(time, *(clean + rng.normal(0, 0.25, clean.shape))) for _ in range(400)]
    for name, error in (
        ("bat_mph", "bat_error_mph"), ("attack_deg", "attack_error_deg"),
        ("direction_deg", "direction_error_deg"), ("plane_deg", "plane_error_deg"),
    ):  # fmt: skip
        values = np.array([getattr(path, name) for path in found])
        stated = np.sqrt(np.mean([getattr(path, error) ** 2 for path in found]))
        # A standard deviation of 400 is known to 3.5 %; four of these.
        assert stated == pytest.approx(values.std(), rel=0.14), name
        assert values.mean() == pytest.approx(getattr(truth, name), abs=4 * stated / 20), name


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda t: swing_path(t[:5], *_circle(t[:5])), "5 known moments"),
        (lambda t: swing_path(t, *_circle(t), contact_ms=40.0), "contact_ms is 40"),
        (lambda t: swing_path(t, t, 2 * t, 3 * t), "one line"),
        (lambda t: swing_path(t, *_circle(t), degree=9), "degree is 9"),
    ],
)
def test_positions_that_do_not_suffice(call, words) -> None:
    with pytest.raises(QuantityError, match=words):
        call(np.linspace(-15, 15, 16))


def test_seconds_are_warned_of() -> None:
    time = np.linspace(-15, 15, 16)
    with pytest.warns(UnitWarning, match="seconds"):
        swing_path(time / 1000, *_circle(time))


# Park and weather.


def test_slopes_of_park_and_weather() -> None:
    # Nathan, as quoted: 4.9 ft for a mph, 3.3 ft for 10 F, 5.9 ft for 1,000 ft (a bracket of a fifth: the
    # ball is not stated).
    ball = fly([99.5, 100.5], 27.5, 0, 2500).carry_ft
    assert ball[1] - ball[0] == pytest.approx(4.9, rel=0.2)
    parks = carry_in_parks(
        100,
        27.5,
        2500,
        altitude_ft=[0, 1000],
        temperature_f=[70, 80],
        wind_out_mph=[0],
        humidity_percent=[50],
    )
    more = parks.table().set_index(["altitude_ft", "temperature_f"])["more_ft"]
    assert more[(0, 80)] == pytest.approx(3.3, rel=0.2)
    assert more[(1000, 70)] == pytest.approx(5.9, rel=0.2)
    assert (parks.drag_ft > 4).all()
    assert (parks.drag_ft < 7).all()
    assert parks.carry_ft[0] == pytest.approx(float(fly(100, 27.5, 0, 2500).carry_ft), abs=0.05)


def test_taking_the_park_out_gives_the_carry_elsewhere() -> None:
    rng = np.random.default_rng(9)
    size = 400
    exits, launch, spray = rng.uniform(92, 108, size), rng.uniform(18, 36, size), rng.uniform(-35, 35, size)
    day = Conditions(density_kg_m3=air_density(5280, 88), wind_out_mph=7.0)
    # Balls whose drag and spin differ, flown in both airs: what was moved against what it would have been.
    back = np.clip(-763 + 120 * launch - 21 * spray + rng.normal(0, 500, size), 0, None)
    side = -849 + 94 * spray
    shift = rng.normal(0, 0.011, size)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        there = fly(
            exits, launch, spray, back, side,
            conditions=Conditions(density_kg_m3=day.density_kg_m3, wind_out_mph=7.0, drag_shift=shift),
        ).carry_ft  # fmt: skip
        here = fly(exits, launch, spray, back, side, conditions=Conditions(drag_shift=shift)).carry_ft
    moved = to_standard_air(exits, launch, spray, there, conditions=day, wind_sd_mph=0.0)
    gap = moved.carry_ft - here
    assert abs(gap.mean()) < 0.5
    assert np.ptp(moved.moved_ft) > 10
    # As uncertain as it says: the scaled differences have a spread of one (to a tenth: 400 balls, and the
    # drag and spin parts are not quite normal).
    assert (gap / moved.uncertain_ft).std() == pytest.approx(1.0, abs=0.15)
    # And far better than leaving the park in.
    assert np.abs(gap).mean() < 0.15 * np.abs(there - here).mean()


def test_without_a_carry_the_model_stands_in() -> None:
    day = Conditions(density_kg_m3=1.0)
    moved = to_standard_air([100.0, 100.0, NAN], 28.0, 0.0, [420.0, NAN, 400.0], conditions=day)
    assert moved.reckoned.tolist() == [False, True, False]
    assert moved.missing == 1
    assert moved.carry_ft[1] == pytest.approx(float(fly(100, 28).carry_ft), abs=1e-9)
    assert moved.carry_ft[0] == pytest.approx(420 + moved.moved_ft[0])
    same = to_standard_air(100, 28, 0, 410, conditions=Conditions())
    assert float(same.moved_ft) == 0 == float(same.uncertain_ft)
    with pytest.raises(QuantityError, match="conditions is 3"):
        to_standard_air(100, 28, conditions=3)


def test_many_carries_of_one_launch_are_moved_alike() -> None:
    day = Conditions(density_kg_m3=1.0)
    moved = to_standard_air(100.0, 28.0, carry_ft=pd.Series([420.0, NAN], index=["a", "b"]), conditions=day)
    each = to_standard_air([100.0, 100.0], 28.0, carry_ft=[420.0, NAN], conditions=day)
    pd.testing.assert_frame_equal(moved.table().reset_index(drop=True), each.table())
    assert moved.table().index.tolist() == ["a", "b"]


def test_wind_is_uncertain_where_it_blew() -> None:
    calm = to_standard_air(100, 28, 0, 410, 2000, conditions=Conditions(density_kg_m3=1.1))
    windy = to_standard_air(100, 28, 0, 410, 2000, conditions=Conditions(density_kg_m3=1.1, wind_out_mph=8))
    assert float(calm.uncertain_ft) < 1
    # Three mph are about a third of what ten cost, some 35 ft.
    assert 8 < float(windy.uncertain_ft) < 15


def test_a_pitch_and_a_swing_that_are_asked_for_are_used() -> None:
    slow = contact_from_flight(95, 20, 70, pitch=PitchAtPlate(75), draws=50)
    fast = contact_from_flight(95, 20, 70, pitch=PitchAtPlate(95), draws=50)
    assert float(slow.efficiency) > float(fast.efficiency)
    level = contact_from_flight(95, 20, 70, swing=Swing(droop_deg=0), draws=50)
    assert float(level.offset_in) < float(contact_from_flight(95, 20, 70, draws=50).offset_in)
