"""How fast the physics runs on this machine, against one scipy call a ball.

Run ``python -m tests.benchmarks.bench_physics``. Prints carries a second and the ratio to ``solve_ivp``
(RK45, rtol 1e-8, with an event), the two in turn and in seconds of the processor, since on a busy machine the
clock measures the neighbours; the error against a tight reference, and against short steps in nine airs; a
million swings with their flights and the peak memory; one redraw of each picture of the physics.
``bench_sliders`` moves the lessons' own sliders.
"""

from __future__ import annotations

import resource
import statistics
import time
import warnings
from collections.abc import Callable
from unittest.mock import patch

import numpy as np
from matplotlib.axes import Axes
from scipy.integrate import solve_ivp

from hitlab import plots
from hitlab.physics import trajectory
from hitlab.physics.air import air_density
from hitlab.physics.bats import BALL_MASS_OZ, BALL_RADIUS_IN
from hitlab.physics.flight import Conditions, fly
from hitlab.physics.margin import swing_margin
from hitlab.physics.one_swing import swing_outcomes
from hitlab.physics.quantities import (
    KG_PER_OUNCE,
    METRES_PER_FOOT,
    METRES_PER_INCH,
    MPS_PER_MPH,
    RAD_PER_S_PER_RPM,
    RangeWarning,
)

ROUNDS = 7
AIRS = (
    Conditions(),
    Conditions(wind_out_mph=15.0, wind_pull_mph=-9.0, wind_power=0.0),
    Conditions(wind_out_mph=12.0),
    Conditions(wind_out_mph=18.0, wind_pull_mph=-21.0),
    Conditions(wind_out_mph=20.0, wind_pull_mph=-20.0, wind_power=0.3),
    Conditions(wind_out_mph=40.0, wind_pull_mph=30.0),
    Conditions(wind_out_mph=-15.0, wind_pull_mph=10.0),
    Conditions(wind_out_mph=-25.0),
    Conditions(wind_out_mph=-40.0),
)
SHORT_S = 0.0075
"""Each is less than a twentieth of what is flown: the error of such steps is a thousandth of that or less."""


def one_ball(
    exit_mph: float, launch_deg: float, backspin_rpm: float, method: str, rtol: float, wind_mph: float = 0.0
) -> float:
    """Carry in metres of one ball in its plane, by scipy."""
    radius = BALL_RADIUS_IN * METRES_PER_INCH
    k = Conditions().density_kg_m3 * np.pi * radius**2 / (2 * BALL_MASS_OZ * KG_PER_OUNCE)
    spin, speed, angle = backspin_rpm * RAD_PER_S_PER_RPM, exit_mph * MPS_PER_MPH, np.radians(launch_deg)
    wind = wind_mph * MPS_PER_MPH

    def slope(t: float, y: np.ndarray) -> list[float]:
        _, z, vx, vz = y
        ax = vx - wind * (max(z, 1.0) / 10) ** (1 / 7) if wind else vx
        v, left = np.sqrt(ax * ax + vz * vz), np.exp(-t / 30)
        factor = radius * spin * left / v
        drag = (0.297 + 0.0292 * backspin_rpm * left / 1000) * k * v
        lift = k * 1.12 * factor / (0.583 + 2.333 * factor) * v
        return [vx, vz, -drag * ax - lift * vz, -drag * vz + lift * ax - 9.80665]

    def ground(_: float, y: np.ndarray) -> float:
        return float(y[1])

    ground.terminal, ground.direction = True, -1  # type: ignore[attr-defined]
    start = [0, 3 * METRES_PER_FOOT, speed * np.cos(angle), speed * np.sin(angle)]
    found = solve_ivp(slope, (0, 20), start, method, rtol=rtol, atol=rtol, events=ground)
    return float(found.y_events[0][0][0])


def worst_mm(conditions: Conditions, balls: int, seed: int) -> float:
    """Find the largest error of the carry over the balls that the step is stated for, against short steps."""
    rng = np.random.default_rng(seed)
    ranges = ((30, 120), (-5, 85), (-45, 45), (0, 4000), (-2000, 2000))
    launched = [rng.uniform(low, high, balls) for low, high in ranges]
    flown = fly(*launched, conditions=conditions).carry_ft
    with patch.object(trajectory, "STEP_S", SHORT_S):
        exact = fly(*launched, conditions=conditions).carry_ft
    return 1000 * METRES_PER_FOOT * float(np.abs(flown - exact).max())


def seconds(work: Callable[[], object], times: int = 3) -> float:
    """Give the shortest of a few runs, in seconds of the processor."""
    best = np.inf
    for _ in range(times):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return float(best)


def in_turn(one: Callable[[], object], single: int, batch: Callable[[], object], many: int) -> str:
    """Say how many carries a second a batch has, and how many times those of one call a ball, over rounds."""
    pairs = [(single / seconds(one, 1), many / seconds(batch, 2)) for _ in range(ROUNDS)]
    times = sorted(b / a for a, b in pairs)
    alone, together = (statistics.median(side) for side in zip(*pairs, strict=True))
    return (
        f"{together:,.0f} carries a second, solve_ivp {alone:,.0f}: {statistics.median(times):,.0f} times as "
        f"many ({times[0]:,.0f} to {times[-1]:,.0f} in {ROUNDS} rounds)"
    )


def main() -> None:
    """Measure and print."""
    warnings.simplefilter("ignore", RangeWarning)
    rng = np.random.default_rng(20)
    few, many = 400, 200_000
    balls = [rng.uniform(low, high, many) for low, high in ((30, 120), (-5, 85), (0, 4000))]
    rows = list(zip(*(column[:few] for column in balls), strict=True))

    said = in_turn(
        lambda: [one_ball(*row, "RK45", 1e-8) for row in rows], few,
        lambda: fly(balls[0], balls[1], 0, balls[2]), many,
    )  # fmt: skip
    print(f"fly, {many:,} balls: {said}")

    tight = np.array([one_ball(*row, "DOP853", 1e-11) for row in rows])
    ours = (
        fly(*(column[:few] for column in (balls[0], balls[1])), 0, balls[2][:few]).carry_ft * METRES_PER_FOOT
    )
    print(f"largest error of the carry over {few} balls: {1000 * np.abs(ours - np.abs(tight)).max():.3f} mm")

    blown = Conditions(wind_out_mph=12.0)
    said = in_turn(
        lambda: [one_ball(*row, "RK45", 1e-8, 12.0) for row in rows], few,
        lambda: fly(balls[0], balls[1], 0, balls[2], conditions=blown), many,
    )  # fmt: skip
    tight = np.array([one_ball(*row, "DOP853", 1e-11, 12.0) for row in rows])
    ours = fly(balls[0][:few], balls[1][:few], 0, balls[2][:few], conditions=blown).carry_ft * METRES_PER_FOOT
    print(f"in a wind: {said}; largest error {1000 * np.abs(ours - np.abs(tight)).max():.3f} mm")

    worst = [worst_mm(air, 20_000, 5) for air in AIRS]
    listed = ", ".join(f"{one:.2f}" for one in worst)
    print(f"largest error of the carry over 20,000 balls in each of {len(AIRS)} airs: {listed} mm")

    space = many / seconds(lambda: fly(balls[0], balls[1], 10, balls[2], 500))
    print(f"with sidespin (in space): {space:,.0f} carries a second")

    swings = seconds(lambda: swing_margin(swings=1_000_000), 1)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024**2
    print(f"a million swings, contact and flight: {swings:.1f} s; peak memory of the whole run {peak:.2f} GB")

    few_swings = rng.normal(0, 1, 5_000), rng.normal(0, 10, 5_000)
    redraw = seconds(lambda: swing_outcomes(*few_swings))
    print(f"one redraw of a slider, 5,000 swings with flights: {1000 * redraw:.0f} ms")
    offsets, attacks = np.linspace(-2.7, 2.7, 90)[:, None], np.linspace(-10, 30, 80)
    map_redraw = seconds(lambda: swing_outcomes(offsets, 0.0, attacks))
    print(f"one redraw of a margin map, 90 x 80: {1000 * map_redraw:.0f} ms")

    thin = Conditions(density_kg_m3=air_density(4000))
    margin = swing_margin(swings=5_000)
    pictures: dict[str, Callable[[], Axes]] = {
        "collision": plots.collision_side_view,
        "launch angle against offset": plots.launch_against_offset,
        "carry against launch angle": lambda: plots.carry_against_launch((90, 100, 110), conditions=thin),
        "margin map": lambda: plots.margin_map(timing_error_ms=4),
        "field": lambda: plots.field_view(swing_outcomes(*few_swings)),
        "shares of a margin": lambda: plots.margin_shares(margin),
        "timeline of a pitch": lambda: plots.pitch_timeline(80, 95),
    }
    for name, picture in pictures.items():
        plots.image(picture(), 720, 100, quick=True)
        redraw = seconds(lambda: plots.image(picture(), 720, 100, quick=True), 7)  # noqa: B023
        print(f"one redraw of a picture, {name}, computed, drawn and written as PNG: {1000 * redraw:.0f} ms")


if __name__ == "__main__":
    main()
