"""Pictures of the physics: what is drawn is what the physics computes, and every label can be read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations, product
from typing import Any

import numpy as np
import pytest

from hitlab.physics.contact import collide, line_of_centres
from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions, fly, fly_path
from hitlab.physics.margin import Scatter, swing_margin
from hitlab.physics.meeting import fair_window
from hitlab.physics.one_swing import (
    OUTCOME_WORDS,
    PitchAtPlate,
    Swing,
    contact_values,
    swing_outcomes,
)
from hitlab.physics.quantities import QuantityError
from hitlab.physics.timing import mistime, time_pitch
from tests.needs import package

package("matplotlib")

from matplotlib.backends.backend_agg import FigureCanvasAgg  # noqa: E402
from matplotlib.colors import to_hex, to_rgb  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402
from matplotlib.text import Annotation, Text  # noqa: E402

from hitlab.plots import describe, draw, look  # noqa: E402
from hitlab.plots.carry_picture import carry_against_launch, flight_paths  # noqa: E402
from hitlab.plots.collision_picture import collision_side_view  # noqa: E402
from hitlab.plots.contact_curve import launch_against_offset  # noqa: E402
from hitlab.plots.field_picture import field_view  # noqa: E402
from hitlab.plots.margin_pictures import margin_map, margin_shares  # noqa: E402
from hitlab.plots.outcome_marks import OUTCOME_LOOKS  # noqa: E402
from hitlab.plots.timing_picture import pitch_timeline  # noqa: E402
from tests.test_plots_look import as_seen, contrast  # noqa: E402

NAN = float("nan")


def _all_axes(ax: Any) -> Iterator[Any]:
    yield ax
    for child in ax.child_axes:
        yield from _all_axes(child)


def _labels(ax: Any) -> list[Annotation]:
    return [
        text
        for one in _all_axes(ax)
        for text in one.texts
        if isinstance(text, Annotation) and text.get_text()
    ]


def _words(ax: Any) -> str:
    return " ".join(" ".join(text.get_text() for text in _labels(ax)).split())


def _line(ax: Any, name: str) -> Any:
    (found,) = [line for one in _all_axes(ax) for line in one.lines if line.get_label() == name]
    return found


def _arrow(ax: Any, name: str) -> tuple[Any, Any]:
    (found,) = [text for text in ax.texts if text.get_label() == name]
    return np.array(found.xyann), np.array(found.xy)


def _check_readable(ax: Any) -> None:
    """Every label is inside the figure, none on another; no line to a mark runs through another's letters."""
    figure = ax.get_figure(root=True)
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    renderer = canvas.get_renderer()
    # The box around slanted letters is no measure of what they cover.
    level = [text for text in _labels(ax) if text.get_rotation() == 0]
    boxes = [(text.get_text(), Text.get_window_extent(text, renderer)) for text in level]
    whole = figure.bbox
    for text, box in boxes:
        inside = box.x0 >= whole.x0 and box.x1 <= whole.x1 and box.y0 >= whole.y0 and box.y1 <= whole.y1
        assert inside, f"{text!r} leaves the figure"
    for (one, a), (two, b) in combinations(boxes, 2):
        across = min(a.x1, b.x1) - max(a.x0, b.x0)
        along = min(a.y1, b.y1) - max(a.y0, b.y0)
        assert across <= 0 or along <= 0, f"{one!r} lies on {two!r}"
    for text in level:
        if text.arrow_patch is None:
            continue
        path = text.arrow_patch.get_transform().transform_path(text.arrow_patch.get_path())
        for x, y in path.interpolated(40).vertices:
            for other, box in boxes:
                on = other != text.get_text() and box.x0 < x < box.x1 and box.y0 < y < box.y1
                assert not on, f"the line of {text.get_text()!r} runs through {other!r}"


def _angle(begin: Any, end: Any) -> float:
    return float(np.degrees(np.arctan2(end[1] - begin[1], end[0] - begin[0])))


COLLISIONS = list(product((60, 95), (2, 20), (50, 90), (-20, 6, 30), (-2.4, -0.7, 0.0, 0.6, 1.8, 3.2)))


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "case", [*COLLISIONS[:: len(COLLISIONS) // 30], (0, 0, 70, 10, 0.5), (90, 6, 0, 0, 0.3)]
)
def test_the_collision_is_drawn_to_scale(case: tuple[float, ...]) -> None:
    ax = collision_side_view(*case)
    pitch, descent, bat, attack, offset = case
    hit = collide(*case, pitch_backspin_rpm=2000)
    ball, barrel = (next(p for p in ax.patches if p.get_label() == name) for name in ("ball", "bat"))
    assert np.hypot(*(np.diff(_line(ax, "offset").get_xydata(), axis=0)[0])) == pytest.approx(abs(offset))
    if hit.touched:
        begin, end = _arrow(ax, "exit")
        launch = 180 - hit.launch_deg if abs(hit.spray_deg) > 90 else hit.launch_deg
        assert (_angle(begin, end) - float(launch) + 180) % 360 == pytest.approx(180)
        assert 14 * np.hypot(*(end - begin)) == pytest.approx(float(hit.exit_mph))
        centres = float(line_of_centres(offset, descent))
        assert _angle(barrel.center, ball.center) == pytest.approx(centres)
        assert np.hypot(*(np.array(ball.center) - barrel.center)) == pytest.approx(
            ball.radius + barrel.radius
        )
        assert f"ball leaves at {hit.exit_mph:.0f} mph" in _words(ax)
        assert f"leaves at {hit.exit_mph:.0f} mph, " in describe(ax)
        size = f"{abs(hit.launch_deg):.1f}".removesuffix(".0")
        assert f"{size}° {'up' if hit.launch_deg > 0 else 'down'}" in describe(ax)
    else:
        assert "a miss" in _words(ax)
        assert "They pass each other" in describe(ax)
    if pitch:
        begin, end = _arrow(ax, "pitch")
        assert _angle(end, begin) == pytest.approx(descent)
        assert 14 * np.hypot(*(end - begin)) == pytest.approx(pitch)
    if bat:
        begin, end = _arrow(ax, "swing")
        assert _angle(begin, end) == pytest.approx(attack)
    # An inch across is as long as an inch upward.
    box = ax.get_window_extent()
    assert box.width / np.ptp(ax.get_xlim()) == pytest.approx(box.height / np.ptp(ax.get_ylim()), rel=1e-6)
    _check_readable(ax)


SWINGS = [
    Swing(attack_deg=6),
    Swing(attack_deg=-20),
    Swing(attack_deg=30),
    Swing(40, 10),
    Swing(95, 12),
    Swing(5, 0),
]


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("swing", SWINGS)
def test_launch_against_offset(swing: Swing) -> None:
    pitch = PitchAtPlate(80, 9, -500)
    ax = launch_against_offset(swing, pitch=pitch)
    offset, launch = _line(ax, "launch angle").get_data()
    _, speed = _line(ax, "exit speed").get_data()
    hit = collide(
        80, 9, swing.bat_mph, swing.attack_deg, offset, pitch_backspin_rpm=-500, droop_deg=swing.droop_deg
    )
    forward = np.abs(hit.spray_deg) <= 90
    # The picture goes there by way of the miss, which costs the last digit of sixteen.
    np.testing.assert_allclose(launch, np.where(forward, hit.launch_deg, np.nan), rtol=1e-12, atol=1e-12)
    np.testing.assert_allclose(speed, hit.exit_mph, rtol=1e-12)
    # The hatched part is where nothing is touched.
    misses = sorted({p.get_x() for one in _all_axes(ax) for p in one.patches if p.get_label() == "miss"})
    assert misses == [offset[0], offset[hit.touched][-1]]
    places = [
        line.get_xdata()[0] for one in _all_axes(ax) for line in one.lines if line.get_label() == "edge"
    ]
    found = collide(
        80, 9, swing.bat_mph, swing.attack_deg, places, pitch_backspin_rpm=-500, droop_deg=swing.droop_deg
    )
    # The aim is read off a grid on which launch is straight to a thousandth of a degree.
    assert found.launch_deg == pytest.approx([10, 25], abs=2e-3)
    room = f"{places[1] - places[0]:.2f}".rstrip("0")
    assert f"In the model, all line drives of this swing lie within {room}" in _words(ax)
    stops = bool((hit.touched & ~forward).any())
    assert ("goes back over the bat: a foul" in _words(ax)) == stops
    assert f"It is fastest, {np.nanmax(hit.exit_mph):.0f} mph" in describe(ax)
    _check_readable(ax)


@pytest.mark.parametrize("pitch", [PitchAtPlate(), PitchAtPlate(inside_in=4)])
def test_launch_against_offset_of_a_bat_that_faces_another_field(pitch: PitchAtPlate) -> None:
    # Such a bat meets the ball at another angle; the curve has to know it as the dotted lines do.
    swing = Swing(attack_deg=8, faces_deg=10)
    ax = launch_against_offset(swing, pitch=pitch)
    offset, launch = _line(ax, "launch angle").get_data()
    hits = contact_values(
        [-0.4, 0.0, 0.4, 0.9], 0.0, swing.attack_deg, pitch=pitch, swing=swing, miss="touch"
    ).values
    drawn = np.interp(hits["offset_in"], offset, launch)
    assert drawn == pytest.approx(hits["launch_deg"], abs=2e-2)
    edges = [line.get_data() for one in _all_axes(ax) for line in one.lines if line.get_label() == "edge"]
    for places, heights in edges:
        assert np.interp(places[0], offset, launch) == pytest.approx(heights[1], abs=2e-2)
    assert len(edges) == 2


@pytest.mark.parametrize("speeds", [(70, 80, 90, 100, 110), (95,), (85, 90, 95, 100, 105, 110, 115, 120)])
def test_carry_against_launch(speeds: tuple[float, ...]) -> None:
    fence = Fence((-45, 0, 45), (330, 405, 330), (8, 8, 8))
    ax = carry_against_launch(speeds, backspin_rpm=1800, fence=fence)
    for speed in speeds:
        launch, carry = _line(ax, f"{speed} mph").get_data()
        np.testing.assert_allclose(carry, fly(speed, launch, 0, 1800).carry_ft, rtol=1e-12)
        best, far = (float(v[0]) for v in _line(ax, f"best at {speed} mph").get_data())
        assert far == carry.max()
        assert best == launch[carry.argmax()]
        text = f"{speed} mph: best {best:g}°, {far:.0f} ft"
        assert text in _words(ax)
        assert text in describe(ax)
    assert len({_line(ax, f"{speed} mph").get_color() for speed in speeds}) == len(speeds)
    assert set(_line(ax, "fence").get_ydata()) == {405.0}
    assert "stands at 405 ft" in describe(ax)
    _check_readable(ax)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("swing", "timing", "miss"),
    [
        (Swing(attack_deg=6), 0, "path"),
        (Swing(attack_deg=-12), 10, "path"),
        (Swing(80, 24), -12, "path"),
        (Swing(55, 10), 0, "touch"),
        (Swing(attack_deg=10), 60, "path"),
    ],
)
def test_the_map_is_what_swings_become(swing: Swing, timing: float, miss: str) -> None:
    scatter, pitch = Scatter(0.7, 5, 4), PitchAtPlate(82, 8)
    ax = margin_map(swing, pitch=pitch, scatter=scatter, aim_in=0.3, timing_error_ms=timing, miss=miss)
    (image,) = ax.images
    fills = [tuple(round(255 * part) for part in to_rgb(one.fill)) for one in OUTCOME_LOOKS]
    colors = [tuple(one) for one in np.asarray(image.get_array())[..., :3].reshape(-1, 3).tolist()]
    codes = np.array([fills.index(one) for one in colors]).reshape(image.get_array().shape[:2])
    left, right, bottom, top = image.get_extent()
    rows, columns = codes.shape
    misses = left + (np.arange(columns) + 0.5) * (right - left) / columns
    attacks = bottom + (np.arange(rows) + 0.5) * (top - bottom) / rows
    # Places off the borders between regions, where a last digit may tip the outcome: by one that is reckoned,
    # which is drawn as three.
    inner = np.zeros(codes.shape, dtype=bool)
    same = [
        codes[3:-3, 3:-3] == codes[3 + i : rows - 3 + i, 3 + j : columns - 3 + j]
        for i, j in product((-3, 0, 3), (-3, 0, 3))
    ]
    inner[3:-3, 3:-3] = np.all(same, axis=0)
    assert inner.mean() > 0.7
    # Every third row and column.
    some = (slice(None, None, 3), slice(None, None, 3))
    found = swing_outcomes(
        misses[::3], timing, attacks[::3, None], pitch=pitch, swing=swing, miss=miss
    ).outcome
    np.testing.assert_array_equal(codes[some][inner[some]], found[inner[some]])
    # Worked out for each place, not drawn by lot.
    assert "In the model, a swing" in _words(ax)
    assert "Simulated" not in _words(ax)
    for code, word in enumerate(OUTCOME_WORDS):
        assert (f"{word} " in describe(ax).split("map's area")[1].split(". ")[0]) == bool(
            (codes == code).any()
        )
        # Every region that takes a fiftieth of the map is named on it.
        if (codes == code).mean() > 0.02:
            assert any(text.get_text() == word for text in _labels(ax)), word
    # Nine in ten of the scattered swings lie inside the ellipse (binomial, four standard errors of 100,000).
    (ring,) = [p for p in ax.patches if p.get_label() == "scatter"]
    draws = np.random.default_rng(1).standard_normal((2, 100_000))
    x, y = 0.3 + 0.7 * draws[0], swing.attack_deg + 4 * draws[1]
    inside = (2 * (x - 0.3) / ring.width) ** 2 + (2 * (y - swing.attack_deg) / ring.height) ** 2 <= 1
    assert inside.mean() == pytest.approx(0.9, abs=4 * np.sqrt(0.09 / 100_000))
    assert "90 % of the swings" in _words(ax)
    _check_readable(ax)


@pytest.mark.parametrize(
    ("scatter", "aim", "whole"),
    [(Scatter(1.5, 14, 4), 1.0, True), (Scatter(0.5, 5, 3), 0.0, True), (Scatter(9.0, 5, 25), 0.0, False)],
)
def test_the_ellipse_lies_on_the_map(scatter: Scatter, aim: float, whole: bool) -> None:
    ax = margin_map(Swing(attack_deg=8), scatter=scatter, aim_in=aim)
    (ring,) = [p for p in ax.patches if p.get_label() == "scatter"]
    (x, y), across, up = ring.get_center(), ring.get_width() / 2, ring.get_height() / 2
    (left, right), (low, high) = ax.get_xlim(), ax.get_ylim()
    assert (left <= x - across and x + across <= right and low <= y - up and y + up <= high) == whole
    assert ("It reaches beyond the map" in _words(ax)) == (not whole)
    # What was shown before is still shown, and the words say how much is.
    assert left <= -3.5
    assert right >= 3.5
    assert f"{_ends(ax)[0]:g} to {_ends(ax)[1]:g} in across" in describe(ax)
    _check_readable(ax)


@pytest.mark.parametrize(
    ("swing", "aim"), [(Swing(attack_deg=6), 0.0), (Swing(attack_deg=24), 0.0), (Swing(attack_deg=8), 7.5)]
)
def test_the_room_for_drives_does_not_depend_on_the_map(swing: Swing, aim: float) -> None:
    # Every thousandth of an inch; the picture's own steps are of 0.005, and it says hundredths.
    outcome = swing_outcomes(np.arange(-8, 8, 0.001), 0.0, swing=swing).outcome
    room = (
        0.001 * np.isin(outcome, [OUTCOME_WORDS.index("line drive"), OUTCOME_WORDS.index("home run")]).sum()
    )
    ax = margin_map(swing, aim_in=aim)
    (said,) = re.findall(r"has ([\d.]+) in of room", _words(ax))
    assert float(said) == pytest.approx(room, abs=0.011)
    assert f"{said} in of miss give a line drive or a home run" in describe(ax)


@pytest.mark.parametrize("timing", [-4, 0, 12])
@pytest.mark.parametrize(
    "swing",
    [
        Swing(attack_deg=8), Swing(attack_deg=-12), Swing(attack_deg=50), Swing(80, 24),
        Swing(attack_deg=-58, droop_deg=0),
    ],
)  # fmt: skip
def test_a_name_lies_on_its_region_or_is_led_to_it(swing: Swing, timing: float) -> None:
    ax = margin_map(swing, timing_error_ms=timing)
    _check_readable(ax)  # draws it too: only then labels know where they stand
    figure = ax.get_figure(root=True)
    (image,) = ax.images
    fills = [tuple(round(255 * part) for part in to_rgb(one.fill)) for one in OUTCOME_LOOKS]
    left, right, bottom, top = image.get_extent()
    rows, columns, _ = image.get_array().shape

    def outcome(x: Any, y: Any) -> set[str]:
        across = ((np.asarray(x) - left) / (right - left) * columns).astype(int)
        up = ((np.asarray(y) - bottom) / (top - bottom) * rows).astype(int)
        seen = np.asarray(image.get_array())[up, across, :3].reshape(-1, 3)
        return {OUTCOME_WORDS[fills.index(tuple(one))] for one in seen.tolist()}

    names = [text for text in _labels(ax) if text.get_text() in OUTCOME_WORDS]
    assert len(names) >= 4
    for name in names:
        box = Text.get_window_extent(name, figure.canvas.get_renderer())
        grid = np.meshgrid(np.linspace(box.x0, box.x1, 20), np.linspace(box.y0, box.y1, 8))
        places = ax.transData.inverted().transform(np.column_stack([one.ravel() for one in grid]))
        if name.arrow_patch is None:
            assert outcome(*places.T) == {name.get_text()}
            continue
        assert outcome(*name.xy) == {name.get_text()}
        assert _line(ax, f"{name.get_text()}: place").get_xydata()[0].tolist() == list(name.xy)
        x, y = ax.transData.transform(name.xy)
        assert not (box.x0 < x < box.x1 and box.y0 < y < box.y1)


@pytest.mark.parametrize(
    ("swing", "aim", "scatter"),
    [
        (Swing(attack_deg=8), 12.0, Scatter()),
        (Swing(attack_deg=8), -20.0, Scatter()),
        (Swing(attack_deg=-58, droop_deg=0), 0.0, Scatter()),
        (Swing(attack_deg=80, droop_deg=0), 0.0, Scatter()),
        (Swing(attack_deg=8), 0.0, Scatter(9.0, 5, 25)),
    ],
)
def test_the_swings_own_aim_is_on_the_map(swing: Swing, aim: float, scatter: Scatter) -> None:
    ax = margin_map(swing, aim_in=aim, scatter=scatter)
    (left, right), (low, high) = sorted(ax.get_xlim()), sorted(ax.get_ylim())
    assert left < aim < right
    assert low < swing.attack_deg < high
    for text in _labels(ax):
        if text.arrow_patch is not None or text.get_text() == "90 % of the swings":
            assert left <= text.xy[0] <= right
            assert low <= text.xy[1] <= high
    _check_readable(ax)


@pytest.mark.parametrize("timing", [0, 12])
def test_the_map_is_laid_out_so_that_measuring_again_moves_nothing(timing: float) -> None:
    from hitlab.plots import look

    # The second of two alike is laid out by what was measured for the first, the others are measured anew.
    for swing in (Swing(), Swing(), Swing(attack_deg=39.9), Swing(attack_deg=8)):
        for miss in ("path", "touch"):
            ax = margin_map(swing, timing_error_ms=timing, miss=miss)
            before = ax.get_window_extent().extents
            look._place(ax, look._overhang(ax))
            np.testing.assert_allclose(ax.get_window_extent().extents, before, atol=0.01)


def test_an_outcome_of_a_few_places_is_no_area_to_be_hatched() -> None:
    # Nearly as off a tee: hardly any swing sends the ball backward or past a foul line.
    pitch = PitchAtPlate(speed_mph=1.2, descent_deg=3.0, backspin_rpm=0.0)
    swing = Swing(90.0, 5.0, efficiency=-0.1, droop_deg=2.3, faces_deg=15.2)
    ax = margin_map(swing, timing_error_ms=5.0, pitch=pitch, miss="touch")
    assert "foul less than 1 %" in describe(ax)


def test_a_map_is_smoothed_to_what_most_of_five_by_five_is() -> None:
    from scipy.ndimage import uniform_filter

    from hitlab.plots.margin_pictures import _smooth

    coarse = np.random.default_rng(4).integers(0, len(OUTCOME_LOOKS), (31, 43)).astype(np.int8)
    fine = coarse.repeat(3, axis=0).repeat(3, axis=1)
    count = np.array(
        [25 * uniform_filter((fine == code).astype(float), 5) for code in range(len(OUTCOME_LOOKS))]
    ).round()
    np.testing.assert_array_equal(_smooth(coarse), count.argmax(axis=0))  # the first of equals


@pytest.mark.parametrize("dots", [40, 100, 133])
def test_the_maps_areas_are_those_that_matplotlib_blends(dots: int) -> None:
    from matplotlib.backends.backend_agg import FigureCanvasAgg, RendererAgg
    from matplotlib.image import AxesImage

    ax = margin_map(timing_error_ms=4)
    figure = ax.get_figure(root=True)
    FigureCanvasAgg(figure)
    figure.set_dpi(dots)
    (areas,) = ax.images
    renderer = RendererAgg(8, 8, dots)
    ours, theirs = areas.make_image(renderer), AxesImage.make_image(areas, renderer)
    assert ours[1:3] == theirs[1:3]
    assert ours[0].shape == theirs[0].shape
    apart = np.abs(ours[0].astype(int) - theirs[0])
    assert apart.max() <= 3
    # Zoomed in or out, matplotlib draws it.
    ax.set_xlim(-30, 30)
    np.testing.assert_array_equal(areas.make_image(renderer)[0], AxesImage.make_image(areas, renderer)[0])


def test_an_ellipse_around_the_whole_map_has_no_label_on_it() -> None:
    ax = margin_map(Swing(attack_deg=8), scatter=Scatter(10.0, 5, 25), level=0.999)
    assert "99.9 % of the swings" not in [text.get_text() for text in _labels(ax)]
    assert "It reaches beyond the map" in _words(ax)


def _ends(ax: Any) -> tuple[float, float]:
    """Ends of the map across, half a place inside its edges; a place is drawn as three."""
    left, right = ax.get_xlim()
    half = 3 * (right - left) / ax.images[0].get_array().shape[1] / 2
    return round(left + half, 9), round(right - half, 9)


def test_shares_are_drawn_as_they_are() -> None:
    margin = swing_margin(swings=3000)
    ax = draw(margin)
    bars = {bar.get_label(): bar[0].get_width() for bar in ax.containers}
    assert bars == {word: pytest.approx(100 * share) for word, share in margin.shares.items()}
    for word, share in margin.shares.items():
        assert f"{word} {100 * share:.0f} %" in describe(ax)
    assert "n = 3,000 swings" in _words(ax)
    assert "Simulated: " in _words(ax)
    _check_readable(ax)
    _check_readable(margin_shares(swing_margin(swings=1, aim_in=10)))


# Slow and much-spun balls lie outside the fits; they are flown here as the picture flies them.
@pytest.mark.slow_beyond_first
@pytest.mark.filterwarnings("ignore:lift='gentle' was measured:hitlab.physics.quantities.RangeWarning")
@pytest.mark.parametrize("pull", ["left", "right"])
@pytest.mark.parametrize("attack", [-15, 6, 20])
def test_the_field_shows_where_balls_land(attack: float, pull: str) -> None:
    fence = Fence((-42, 0, 20, 45), (310, 400, 380, 325), (8, 8, 8, 8))
    air = Conditions(wind_pull_mph=8.0)
    margin = swing_margin(
        swing=Swing(80, attack), aim_in=0.4, swings=900, keep=True, fence=fence, conditions=air
    )
    kept = margin.outcomes
    assert kept is not None
    ax = draw(kept, fence=fence, conditions=air, pull_side=pull, most=5000)
    sign = -1 if pull == "left" else 1
    clouds = {c.get_label(): c for c in ax.collections}
    for code, word in enumerate(OUTCOME_WORDS):
        here = kept.outcome == code
        assert f"{word} {here.sum():,} (" in _words(ax)
        assert f"{word} {here.sum():,} (" in describe(ax)
        if code < 2:
            continue
        x, y = np.asarray(clouds[word].get_offsets()).T
        flight = fly(
            kept.exit_mph[here], kept.launch_deg[here], kept.spray_deg[here],
            kept.backspin_rpm[here].clip(-10000, 10000), kept.sidespin_rpm[here].clip(-10000, 10000),
            conditions=air,
        )  # fmt: skip
        assert np.hypot(x, y) == pytest.approx(flight.carry_ft)
        assert sign * np.degrees(np.arctan2(x, y)) == pytest.approx(flight.bearing_deg)
        # The carry of the swing itself is that of the mark.
        up = np.isfinite(kept.carry_ft[here])
        assert np.hypot(x, y)[up] == pytest.approx(kept.carry_ft[here][up])
    x, y = _line(ax, "fence").get_data()
    bearing = sign * np.degrees(np.arctan2(x, y))
    assert np.hypot(x, y) == pytest.approx(fence.distance(bearing))
    assert sorted((bearing[0], bearing[-1])) == pytest.approx([-42, 45])
    for far in (100, 200, 300):
        x, y = _line(ax, f"{far} ft").get_data()
        assert np.nanmax(np.abs(np.hypot(x, y) - far)) < 1e-9
        assert f"{far} ft" in _words(ax)
    assert "In the model, " in _words(ax)
    box = ax.get_window_extent()
    assert box.width / np.ptp(ax.get_xlim()) == pytest.approx(box.height / np.ptp(ax.get_ylim()), rel=1e-6)
    _check_readable(ax)


def test_the_field_draws_some_and_counts_all() -> None:
    kept = swing_margin(swings=2000, keep=True).outcomes
    assert kept is not None
    ax = field_view(kept, most=50)
    drawn = sum(len(c.get_offsets()) for c in ax.collections if c.get_label() in OUTCOME_WORDS)
    assert drawn == 50
    fair = int((kept.outcome >= 2).sum())
    assert f"50 of {fair:,} fair balls drawn" in _words(ax)
    one = field_view(swing_outcomes(0.5))
    assert "In the model, the swing is a line drive" in _words(one)
    assert "1 fair ball " in describe(one)


CLOCKS = [
    (95, 85, 0.15),
    (80, 97, 0.15),
    (100, 60, 0.15),
    (94, 92, 0.15),
    (60, 105, 0.18),
    (90, 75, 0.5),
    (88, 88, 0.14),
]


@pytest.mark.parametrize(("expected", "thrown", "swing_s"), CLOCKS)
def test_the_clock(expected: float, thrown: float, swing_s: float) -> None:
    ax = pitch_timeline(expected, thrown, extension_ft=6.3, swing_s=swing_s, bat_mph=66)
    real = time_pitch(thrown, 6.3, swing_s=swing_s)
    assert _line(ax, "thrown: pitch").get_xdata() == pytest.approx([0, 1000 * real.time_s])
    assert _line(ax, "thrown: swing").get_xdata() == pytest.approx(
        [1000 * real.decision_s, 1000 * real.time_s]
    )
    assert _line(ax, "thrown: release and last moment").get_xdata() == pytest.approx(
        [0, 1000 * real.decision_s]
    )
    window = float(fair_window(real.meeting_mph, 66).either_way_ms)
    (shade,) = [p for p in ax.patches if p.get_label() == "fair window"]
    assert shade.get_width() == pytest.approx(2 * window)
    assert f"fair: ±{window:.0f} ms" in _words(ax)
    assert f"is met after {1000 * real.time_s:.0f} ms" in describe(ax)
    _check_readable(ax)
    if expected == thrown:
        assert "on time" in _words(ax)
        return
    planned = time_pitch(expected, 6.3, swing_s=swing_s)
    missed = mistime(expected, thrown, 6.3, swing_s=swing_s)
    swing = _line(ax, "planned swing").get_xdata()
    assert swing == pytest.approx([1000 * planned.decision_s, 1000 * planned.time_s])
    error = float(missed.timing_error_ms)
    assert np.ptp(_line(ax, "error").get_xdata()) == pytest.approx(abs(error))
    told = f"{abs(error):.0f} ms {'late' if error > 0 else 'early'}"
    fate = "still fair" if abs(error) <= window else "too much for a fair ball"
    assert f"{told}, {fate}" in _words(ax)
    assert told in describe(ax)
    assert f"{abs(missed.left_ft):.1f}".removesuffix(".0") + " ft" in describe(ax)
    # The faster pitch stands above (rows count downward).
    rows = {name: _line(ax, f"{name}: pitch").get_ydata()[0] for name in ("expected", "thrown")}
    assert (rows["expected"] < rows["thrown"]) == (expected > thrown)


def test_whole_flights() -> None:
    path = fly_path([100, 80], [[10], [30]], 12.0, 2000, 500)
    ax = draw(path)
    drawn = ax.collections[0].get_segments()
    flight = fly([100, 80], [[10], [30]], 12.0, 2000, 500)
    assert [line[-1, 0] for line in drawn] == pytest.approx(flight.carry_ft.ravel())
    # Sixty points a path: the highest of them is under the apex by at most an eighth of g x step squared.
    assert [line[:, 1].max() for line in drawn] == pytest.approx(flight.apex_ft.ravel(), abs=0.1)
    assert f"{flight.carry_ft.max():.0f} ft" in describe(ax)
    for start in ("100 mph, 10°", "80 mph, 10°", "100 mph, 30°", "80 mph, 30°"):
        assert start in _words(ax)
    _check_readable(ax)
    # One colour a speed, no two speeds alike, and the farthest is the thickest.
    colors, widths = (
        np.asarray(get()) for get in (ax.collections[0].get_colors, ax.collections[0].get_linewidths)
    )
    speeds = np.array([100, 80, 100, 80])
    assert len({to_hex(one) for one in colors}) == 2
    assert all(len({to_hex(one) for one in colors[speeds == speed]}) == 1 for speed in (80, 100))
    assert widths.argmax() == flight.carry_ft.argmax()
    assert np.sum(widths == widths.max()) == 1
    with pytest.raises(QuantityError, match="holds 70 balls"):
        flight_paths(fly_path(np.linspace(60, 100, 70), 20))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda ax: collision_side_view(NAN, ax=ax), "A number is missing"),
        (lambda ax: collision_side_view(0, 0, 0, 0, 0.2, ax=ax), "nothing is struck"),
        (lambda ax: launch_against_offset(Swing(NAN), ax), "no launch angle to draw"),
        (lambda ax: carry_against_launch([], ax), "No exit speed is given"),
        (lambda ax: carry_against_launch([NAN], ax), "No exit speed is given"),
        (lambda ax: carry_against_launch([90], ax, backspin_rpm=NAN), "no carry is known"),
        (lambda ax: margin_map(ax=ax, timing_error_ms=NAN), "no map can be drawn"),
        (lambda ax: field_view(swing_outcomes([NAN, NAN]), ax), "no ball to draw"),
        (lambda ax: field_view(swing_outcomes([]), ax), "no ball to draw"),
        (lambda ax: pitch_timeline(95, NAN, ax), "no time to draw"),
        (lambda ax: flight_paths(fly_path(NAN, 20), ax), "no flight can be drawn"),
    ],
)
def test_nothing_to_draw_is_said(make: Any, words: str) -> None:
    for ax in (None, Figure((6, 4)).add_subplot()):
        drawn = make(ax)
        assert ax is None or drawn is ax
        assert words in _words(drawn)
        assert words in describe(drawn)
        assert not drawn.lines


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: collision_side_view([80, 90]), "one number each"),
        (lambda: collision_side_view(9000), "pitch_mph is 9000"),
        (lambda: carry_against_launch(range(60, 70)), "up to 8"),
        (lambda: carry_against_launch([500]), "exit_mph is 500"),
        (lambda: carry_against_launch([90], launch_deg=(40, 10)), "the lower first"),
        (lambda: margin_map(level=90), "level is 90"),
        (lambda: margin_map(miss="aim"), "miss is 'aim'"),
        (lambda: field_view(swing_outcomes(0.2), pull_side="third"), "pull_side is 'third'"),
        (lambda: field_view(swing_outcomes(0.2), most=0), "most is 0"),
        (lambda: pitch_timeline([90, 95]), "expected_mph is"),
        (lambda: pitch_timeline(5), "expected_mph is 5"),
    ],
)
def test_bad_input_is_named(make: Any, words: str) -> None:
    with pytest.raises(QuantityError, match=words.replace("(", r"\(")):
        make()


@pytest.mark.parametrize(
    "make",
    [
        lambda ax: collision_side_view(ax=ax),
        lambda ax: launch_against_offset(ax=ax),
        lambda ax: carry_against_launch(ax=ax),
        lambda ax: margin_map(ax=ax),
        lambda ax: field_view(swing_outcomes([0.1, 0.6, 1.0]), ax),
        lambda ax: pitch_timeline(ax=ax),
        lambda ax: margin_shares(swing_margin(swings=100), ax),
    ],
)
def test_the_callers_axes_come_back(make: Any) -> None:
    figure = Figure((14, 6))
    left, right = figure.subplots(1, 2)
    before = right.get_position().bounds
    assert make(left) is left
    assert describe(left)
    assert not describe(right)
    assert right.get_position().bounds == before
    assert not right.has_data()


@pytest.mark.parametrize(
    "make",
    [
        lambda: collision_side_view(offset_in=0.75),
        lambda: collision_side_view(offset_in=5.0),
        lambda: carry_against_launch([100]),
        lambda: flight_paths(fly_path(100, 28, backspin_rpm=2000)),
        lambda: flight_paths(fly_path([100, 90], 28, backspin_rpm=2000)),
        launch_against_offset,
        lambda: pitch_timeline(90, 90),
        lambda: pitch_timeline(90, 80),
        lambda: margin_map(),
        lambda: field_view(swing_outcomes(0.5)),
    ],
)  # fmt: skip
def test_every_title_says_that_it_is_of_a_model(make: Any) -> None:
    assert "In the model, " in _words(make())


def test_outcomes_stay_apart_in_grey() -> None:
    def lightness(color: str) -> float:
        # CIE 15: L* from relative luminance with the sRGB primaries (IEC 61966-2-1).
        rgb = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in to_rgb(color)]
        y = float(np.dot([0.2126, 0.7152, 0.0722], rgb))
        return 116 * y ** (1 / 3) - 16

    for one, two in combinations(OUTCOME_LOOKS, 2):
        assert one.mark != two.mark
        # 8 steps of lightness of 100, or a hatching of its own (common practice, no source).
        assert abs(lightness(one.fill) - lightness(two.fill)) >= 8 or one.hatch != two.hatch, (one, two)
    for one in OUTCOME_LOOKS:
        # Words on their area: 4.5 to 1 (WCAG 2.2, 1.4.3), here as luminance again.
        light, dark = sorted(
            (((lightness(c) + 16) / 116) ** 3 + 0.05 for c in (one.fill, one.ink)), reverse=True
        )
        assert light / dark >= 4.5, one


def test_a_line_stands_out_from_every_area() -> None:
    # WCAG 2.2, 1.4.11: 3 to 1. The line is dark with a light border: one of the two is enough.
    for one in OUTCOME_LOOKS:
        assert max(contrast(look.INK, one.fill), contrast(look.BACKGROUND, one.fill)) >= 3, one
    (ring,) = [patch for patch in margin_map().patches if patch.get_label() == "scatter"]
    assert to_hex(ring.get_edgecolor()).upper() == look.INK
    border, _ = ring.get_path_effects()
    assert border._gc["foreground"] == look.BACKGROUND
    # A point of border to either side of the line, or more.
    assert border._gc["linewidth"] >= ring.get_linewidth() + 2


@pytest.mark.parametrize("kind", [None, "deuteranomaly", "protanomaly", "tritanomaly"])
def test_areas_differ_for_the_colour_blind(kind: str | None) -> None:
    seen = [as_seen(one.fill, kind) for one in OUTCOME_LOOKS]
    space = package("colorspacious")
    for (i, one), (j, two) in combinations(enumerate(seen), 2):
        pair = OUTCOME_WORDS[i], OUTCOME_WORDS[j]
        assert space.deltaE(one, two, input_space="sRGB1") >= 10, (kind, pair)
