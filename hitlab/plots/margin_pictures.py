"""The swing's margin: what each miss and each swing angle leads to, and the shares that come out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.colors import to_rgba_array
from matplotlib.image import AxesImage
from matplotlib.patches import Ellipse, PathPatch
from matplotlib.path import Path
from numpy.typing import NDArray
from PIL import Image

from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions
from hitlab.physics.margin import Margin, Scatter
from hitlab.physics.one_swing import DEMO_FENCE, OUTCOME_WORDS, PitchAtPlate, Swing, swing_outcomes
from hitlab.physics.quantities import QuantityError
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.lettering import width_of
from hitlab.plots.outcome_marks import OUTCOME_LOOKS
from hitlab.plots.placing import Label, named_axis, place_labels, plain
from hitlab.plots.registry import draws
from hitlab.wording import level_words, listed, percent

__all__ = ["margin_map", "margin_shares"]

_GRID = (81, 41)  # places across and up
_FINER = 3  # times as fine along the borders
_DRAWN = 3  # and drawn so many times finer still, its steps smoothed away
_MISS_IN, _ATTACK_DEG = (-3.5, 3.5), (-30.0, 40.0)
"""What the map shows at least; it is wider where the ellipse reaches farther."""
_MOST_IN, _MOST_DEG = 8.0, (-60.0, 80.0)
"""And at most: beyond, bat and ball miss each other anyway, and no swing rises or falls more steeply."""
_WIDTH_STEP = 0.005
"""Inches of miss from one swing to the next where the room for drives is reckoned: it is said to 0.01."""
_WIDTH_MISSES = np.arange(-_MOST_IN, _MOST_IN, _WIDTH_STEP)
"""Wherever the map ends, at most there: beyond, bat and ball miss each other."""
_GOOD = ("line drive", "home run")
_FARTHEST_IN = 20.0  # of a miss that is accepted
_SMALLEST = 0.001
"""Share of the map from which on a region is named."""
_THINNED = 4
"""Of the places in a region, every so manyth across and up stands for it where labels keep off."""
_COLORS = (
    (255 * to_rgba_array([one.fill for one in OUTCOME_LOOKS])).round().astype(np.uint8).view(np.uint32)[:, 0]
)
"""One number an outcome: red, green, blue and what hides all behind it."""
_AXES = {
    "path": "how far the bat's path passes under the ball's path (in; left of 0: over it)",
    "touch": "offset at first touch (in): left, the bat is over the ball's path; right, under it",
}


def margin_map(
    swing: Swing | None = None,
    ax: Axes | None = None,
    *,
    pitch: PitchAtPlate | None = None,
    scatter: Scatter | None = None,
    aim_in: float = 0.0,
    timing_error_ms: float = 0.0,
    miss: str = "path",
    conditions: Conditions | None = None,
    fence: Fence = DEMO_FENCE,
    level: float = DEFAULT_LEVEL,
) -> Axes:
    """Draw what becomes of a swing, for each vertical miss and each attack angle, at one timing.

    Parameters
    ----------
    swing, pitch, scatter, aim_in, miss, conditions, fence
        See :func:`hitlab.physics.margin.swing_margin`. The swing's own angle and aim are the cross on the
        map, the scatter of both the ellipse.
    ax
        Axes to draw on; a fresh figure where not given.
    timing_error_ms
        Timing error of every swing on the map; positive late.
    level
        Share of the swings (by miss and angle) inside the ellipse, above 0 and below 1.

    Returns
    -------
    Axes
        Where a value is missing, words instead of a picture.

    Raises
    ------
    QuantityError
        If an argument lies outside its range.

    Examples
    --------
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, margin_map
    >>> ax = margin_map()
    >>> print(fill(describe(ax).split(". ")[1], 90))
    Of the map's area: whiff 7 %, foul 39 %, ground ball 37 %, line drive 9 %, fly ball 4 %
    and home run 3 %
    """
    from contourpy import contour_generator
    from scipy.ndimage import uniform_filter

    if not 0 < level < 1:
        raise QuantityError(f"level is {level:g}; accepted is above 0 and below 1. Take 0.9 for nine in ten.")
    swing, scatter = swing or Swing(), scatter or Scatter()
    spread = float(np.sqrt(-2 * np.log1p(-level)))  # radius of a bivariate normal, in standard deviations
    ends, whole = _ends(swing, scatter, aim_in, spread)
    misses, attacks = (np.linspace(*end, count) for end, count in zip(ends, _GRID, strict=True))
    cases = {
        "pitch": pitch, "swing": swing, "miss": miss, "conditions": conditions, "fence": fence, "rough": True,
    }  # fmt: skip
    # The swing's own case and its angle at every miss go along, since a flight costs little and a call much.
    others = np.append(_WIDTH_MISSES, aim_in)
    grid = np.meshgrid(misses, attacks)
    across = np.append(grid[0], others)
    up = np.append(grid[1], np.full(len(others), swing.attack_deg))

    def became(miss_in: NDArray[np.float64], attack_deg: NDArray[np.float64]) -> NDArray[np.int8]:
        found = swing_outcomes(miss_in, timing_error_ms, attack_deg, **cases)  # type: ignore[arg-type]
        return found.outcome

    cells, at_its_angle, (own,) = np.split(became(across, up), [grid[0].size, across.size - 1])
    outcome = cells.reshape(grid[0].shape)
    if (outcome < 0).any() or int(own) < 0:
        return look.nothing(ax, "A value is missing: no outcome is known, so no map can be drawn.")
    ax, fresh = look.axes_for(ax, 9.6, 6.4)
    outcome = _finer(outcome, became, ends)
    misses, attacks = (np.linspace(*end, count) for end, count in zip(ends, outcome.shape[::-1], strict=True))
    half = [(grid[1] - grid[0]) / 2 for grid in (misses, attacks)]
    edges = (misses[0] - half[0], misses[-1] + half[0], attacks[0] - half[1], attacks[-1] + half[1])
    areas = _Areas(ax, origin="lower", extent=edges, zorder=0, interpolation="bilinear", label="outcomes")
    areas.set_data(_COLORS[_smooth(outcome)].view(np.uint8).reshape(*(_DRAWN * n for n in outcome.shape), 4))
    ax.add_image(areas)
    for code, one in enumerate(OUTCOME_LOOKS):
        inside = (outcome == code).astype(float)
        # A place or two, or a line of them, are no area: nothing is left of them to be hatched.
        if one.hatch and not inside.all() and (share := uniform_filter(inside, 3)).max() > 0.5:
            # What matplotlib's contours are made with; their own artist takes three times as long.
            contours: Any = contour_generator(misses, attacks, share, fill_type="OuterCode")
            corners, steps = map(np.concatenate, contours.filled(0.5, 1.5))
            ax.add_artist(  # add_patch would look for its extent, corner by corner
                PathPatch(
                    Path(corners, steps), facecolor="none",
                    edgecolor="#BDB8AA", joinstyle="round", antialiased=False, hatch=one.hatch, zorder=1,
                )
            )  # fmt: skip
    ax.set_xlim(edges[0], edges[1])
    ax.set_ylim(edges[2], edges[3])
    for set_ticks, end, step in ((ax.set_xticks, ends[0], 1), (ax.set_yticks, ends[1], 10)):
        set_ticks(np.arange(np.ceil(end[0] / step), np.floor(end[1] / step) + 1).astype(int) * step)
    named_axis(ax.xaxis, _AXES[miss])
    named_axis(ax.yaxis, "attack angle of the swing (degrees, positive up)")
    ring = Ellipse(
        (aim_in, swing.attack_deg), 2 * spread * scatter.miss_in, 2 * spread * scatter.attack_deg,
        facecolor="none", edgecolor=look.INK, linewidth=1.8, zorder=4, label="scatter",
        path_effects=look.cased(1.8),
    )  # fmt: skip
    ax.add_patch(ring)
    ax.plot(aim_in, swing.attack_deg, "P", color=look.INK, markeredgecolor=look.BACKGROUND,
            markeredgewidth=1.4, markersize=12, zorder=5, clip_on=False, label="swing")  # fmt: skip
    width = _drive_width(at_its_angle)
    alt = _map_words(
        swing,
        pitch or PitchAtPlate(),
        scatter,
        aim_in,
        timing_error_ms,
        level,
        width,
        int(own),
        outcome,
        ends,
    )
    room = f"{plain(width, 2)} in of" if width else "no"
    title = (
        f"In the model, a swing at {plain(swing.attack_deg)}° has {room} room for a line drive or a home run"
    )
    below = (
        f"Bat {plain(swing.bat_mph)} mph; {_timing(timing_error_ms)}. Cross: this swing's "
        f"angle and aim. Ellipse: "
        f"{level_words(level)} of its swings by miss and angle (standard deviations "
        f"{plain(scatter.miss_in, 2)} in and {plain(scatter.attack_deg)}°)."
        f"{'' if whole else ' It reaches beyond the map.'}"
    )
    look.finish(ax, fresh, title, below, alt=alt, steady=(ends, miss, aim_in, swing.attack_deg))
    _name_regions(ax, outcome, misses, attacks, ring, spread, level)
    keep_words(ax, alt)
    return ax


class _Areas(AxesImage):
    """Opaque areas of colour, blended along their borders.

    Matplotlib reckons every place in floating point, as areas need that can be seen through; in bytes it
    takes less than half of the time and comes out within two shades of 255.
    """

    def make_image(
        self, renderer: Any, magnification: float = 1.0, unsampled: bool = False
    ) -> tuple[NDArray[np.uint8], float, float, Any]:
        """Return the pixels of the axes, from the bottom up, and where their lower left corner is."""
        assert self.axes is not None
        frame, whole = (
            magnification * np.array(one.extents) for one in (self.axes.bbox, self.get_window_extent())
        )
        low, high = np.floor(frame[:2] + 0.5), np.floor(frame[2:] + 0.5)
        colors = np.pad(np.asarray(self.get_array()), ((1, 1), (1, 1), (0, 0)), mode="edge")
        size = np.array(colors.shape[1::-1])
        box = np.concatenate(
            [1 + (size - 2) * (end - whole[:2]) / (whole[2:] - whole[:2]) for end in (low, high)]
        )
        # Where the axes show something else than all of it, or have fewer dots than it has places.
        per_dot = (box[2:] - box[:2]) / (high - low)
        outside = (box[:2] < 0).any() or (box[2:] > size).any()
        if unsampled or outside or (per_dot <= 0).any() or (per_dot > 1).any():
            found: tuple[Any, float, float, Any] = super().make_image(renderer, magnification, unsampled)
            return found
        # With X for the fourth number: nothing has to be seen through.
        sheet = Image.frombuffer("RGBX", tuple(size), colors, "raw", "RGBX", 0, 1)
        drawn = sheet.resize(tuple((high - low).astype(int)), Image.Resampling.BILINEAR, box=tuple(box))
        return np.array(drawn), low[0] / magnification, low[1] / magnification, None


def _ends(
    swing: Swing, scatter: Scatter, aim_in: float, spread: float
) -> tuple[tuple[tuple[float, float], tuple[float, float]], bool]:
    """Choose ends of the map across and up that hold the ellipse, and tell whether all of it is held."""
    most = 89.0 - abs(swing.droop_deg)  # no path square to a bat that droops so far rises more steeply
    across = aim_in - spread * scatter.miss_in, aim_in + spread * scatter.miss_in
    up = swing.attack_deg - spread * scatter.attack_deg, swing.attack_deg + spread * scatter.attack_deg
    # The swing's own aim is on the map, with half an inch beside it, even where bat and ball are apart.
    far = float(np.fmin(np.fmax(_MOST_IN, np.ceil(2 * abs(aim_in)) / 2 + 0.5), _FARTHEST_IN))
    limits = (-far, far), (max(_MOST_DEG[0], -most), min(_MOST_DEG[1], most))
    ends = []
    for wanted, least, limit, step in zip(
        (across, up), (_MISS_IN, _ATTACK_DEG), limits, (0.5, 5.0), strict=True
    ):
        low, high = np.floor(wanted[0] / step) * step, np.ceil(wanted[1] / step) * step
        # A missing value leaves the least; what is missing is said later.
        low, high = np.fmin(low, least[0]), np.fmax(high, least[1])
        ends.append((float(np.clip(low, *limit)), float(np.clip(high, *limit))))
    whole = all(
        end[0] <= wanted[0] and wanted[1] <= end[1] for end, wanted in zip(ends, (across, up), strict=True)
    )
    return (ends[0], ends[1]), whole


def _finer(
    outcome: NDArray[np.int8],
    became: Callable[..., NDArray[np.int8]],
    ends: tuple[tuple[float, float], tuple[float, float]],
) -> NDArray[np.int8]:
    """Reckon a map again, finer, in the cells whose corners differ; elsewhere it is what the corners are."""
    count = [(size - 1) * _FINER + 1 for size in outcome.shape]
    rows, columns = (np.arange(size) for size in count)
    fine: NDArray[np.int8] = outcome[
        np.ix_(np.round(rows / _FINER).astype(int), np.round(columns / _FINER).astype(int))
    ]
    corners = [outcome[:-1, :-1], outcome[:-1, 1:], outcome[1:, :-1], outcome[1:, 1:]]
    border = np.any([one != corners[0] for one in corners[1:]], axis=0)
    cell = (
        np.minimum(places // _FINER, size - 2)
        for places, size in zip((rows, columns), outcome.shape, strict=True)
    )
    finer = border[np.ix_(*cell)]
    finer[::_FINER, ::_FINER] = False  # the corners are known
    up, across = np.nonzero(finer)
    misses, attacks = np.linspace(*ends[0], count[1]), np.linspace(*ends[1], count[0])
    fine[up, across] = became(misses[across], attacks[up])
    return fine


def _smooth(outcome: NDArray[np.int8]) -> NDArray[np.int8]:
    """Draw a map finer: each place is what most of its neighbourhood is, so that borders show no steps.

    A neighbourhood is five places wide and high, so of the cell that a place lies in and those beside it so
    many fifths count; where two outcomes have as much of it, it is the first.
    """
    most = np.zeros(tuple(_DRAWN * size for size in outcome.shape), dtype=np.uint8)
    framed = np.pad(outcome, 1, mode="edge")
    for code in np.unique(outcome).tolist():
        share = _in_fifths(_in_fifths((framed == code).view(np.uint8)).T).T
        # A share of at most 25, and below it the outcome, the first largest: the largest byte is drawn.
        np.maximum(most, len(OUTCOME_LOOKS) * share + (len(OUTCOME_LOOKS) - 1 - code), out=most)
    return (len(OUTCOME_LOOKS) - 1 - most % len(OUTCOME_LOOKS)).astype(np.int8)


def _in_fifths(cells: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Sum the five places around each place, the first axis drawn three times finer; without its ends."""
    before, here, after = cells[:-2], cells[1:-1], cells[2:]
    parts = (2 * before + 3 * here, before + 3 * here + after, 3 * here + 2 * after)
    return np.stack(parts, axis=1).reshape(-1, cells.shape[1])


def _timing(error_ms: float) -> str:
    size = plain(abs(error_ms))
    return (
        "every swing on time"
        if size == "0"
        else f"every swing {size} ms {'late' if error_ms > 0 else 'early'}"
    )


def _drive_width(outcome: NDArray[np.int8]) -> float:
    """Inches of miss that give a swing a line drive or a home run, of what it becomes at every miss."""
    return float(np.isin(outcome, [OUTCOME_WORDS.index(one) for one in _GOOD]).sum() * _WIDTH_STEP)


def _name_regions(
    ax: Axes,
    outcome: NDArray[np.int8],
    misses: NDArray[np.float64],
    attacks: NDArray[np.float64],
    ring: Ellipse,
    spread: float,
    level: float,
) -> None:
    """Name each region inside itself where it is wide enough, else from beside it."""
    from scipy.ndimage import distance_transform_cdt, label

    figure = ax.get_figure(root=True)
    assert figure is not None
    frame, scale = ax.get_window_extent(), figure.dpi / 72
    cell = (frame.width / len(misses), frame.height / len(attacks))
    turn = np.linspace(0, 2 * np.pi, 72)
    middle: Any = ring.get_center()
    across, up = ring.get_width() / 2, ring.get_height() / 2
    line = np.column_stack([middle[0] + across * np.cos(turn), middle[1] + up * np.sin(turn)])
    labels = []
    keep_off: list[NDArray[np.float64]] = []
    held = np.zeros(outcome.shape, dtype=bool)
    columns = np.clip(np.searchsorted(misses, line[:, 0]), 0, len(misses) - 1)
    rows = np.clip(np.searchsorted(attacks, line[:, 1]), 0, len(attacks) - 1)
    held[rows, columns] = True
    centre = (int(np.argmin(np.abs(attacks - middle[1]))), int(np.argmin(np.abs(misses - middle[0]))))
    held[max(centre[0] - 2, 0) : centre[0] + 3, max(centre[1] - 2, 0) : centre[1] + 3] = True
    for code, one in enumerate(OUTCOME_LOOKS):
        parts, count = label(outcome == code)
        sizes = np.bincount(parts.ravel(), minlength=count + 1)[1:]
        # The large parts only: a whiff lies on both sides, a foul may. The largest first.
        large = np.flatnonzero(sizes >= max(_SMALLEST * outcome.size, 0.2 * sizes.max(initial=0)))
        for rank, number in enumerate(large[np.argsort(-sizes[large], kind="stable")] + 1):
            half = (
                int(np.ceil((0.53 * width_of(one.word, look.BODY, "bold") + 3) * scale / cell[0])),
                int(np.ceil((0.65 * look.BODY + 2) * scale / cell[1])),
            )
            region = parts == number
            place = _room(region, held, half)
            if place is not None:
                row, column = place
                look.put(
                    ax, float(misses[column]), float(attacks[row]), one.word, ha="center", va="center",
                    color=one.ink, fontweight="bold", zorder=6,
                )  # fmt: skip
                low = np.array([misses[max(column - half[0], 0)], attacks[max(row - half[1], 0)]])
                high = np.array(
                    [
                        misses[min(column + half[0], len(misses) - 1)],
                        attacks[min(row + half[1], len(attacks) - 1)],
                    ]
                )
                steps = np.linspace(0, 1, 14)
                keep_off.append(
                    np.stack(np.meshgrid(*(low[k] + steps * (high[k] - low[k]) for k in (0, 1))), -1).reshape(
                        -1, 2
                    )
                )
                held[
                    max(row - half[1], 0) : row + half[1] + 1, max(column - half[0], 0) : column + half[0] + 1
                ] = True
            elif rank == 0:  # a smaller part without room is known by its colour
                # The map's edge is an edge of the region too.
                depth = distance_transform_cdt(np.pad(region, 1))[1:-1, 1:-1]
                row, column = divmod(int(np.argmax(depth)), outcome.shape[1])
                # What is too narrow for its name is hidden by no other's.
                inside = np.argwhere(region)
                inside = inside[(inside % _THINNED == 0).all(axis=1)]
                keep_off.append(np.column_stack([misses[inside[:, 1]], attacks[inside[:, 0]]]))
                labels.append(
                    Label(
                        one.word, (float(misses[column]), float(attacks[row])), (1.0, 0.3), weight="bold",
                        dot=True,
                    )
                )  # fmt: skip
    frame_low, frame_high = np.array([ax.get_xlim(), ax.get_ylim()]).T
    seen = line[((line > frame_low) & (line < frame_high)).all(axis=1)]
    if len(seen):  # else the map lies within the ellipse, as the caption says
        top = seen[np.argmin(np.hypot(*((seen - line[18]) / (across, up)).T))]
        labels.append(
            Label(f"{level_words(level)} of the swings", tuple(top), (0.0, 1.0), look.INK, weight="bold")
        )
    steps = np.linspace(-2, 2, 3)
    cross = np.stack(
        np.meshgrid(
            middle[0] + steps * (misses[1] - misses[0]), middle[1] + steps * (attacks[1] - attacks[0])
        ),
        -1,
    ).reshape(-1, 2)
    for text in place_labels(ax, labels, np.vstack([line, cross, *keep_off])):
        text.set_bbox({"facecolor": look.BACKGROUND, "edgecolor": "none", "pad": 1.5, "alpha": 0.9})


def _room(part: NDArray[np.bool_], held: NDArray[np.bool_], half: tuple[int, int]) -> tuple[int, int] | None:
    """Find the place in a region, farthest from its edge, where a box of that half size fits."""
    from scipy.ndimage import distance_transform_cdt, minimum_filter

    size = (2 * half[1] + 1, 2 * half[0] + 1)
    fits = minimum_filter((part & ~held).view(np.uint8), size=size, mode="constant").astype(bool)
    if not fits.any():
        return None
    depth = np.where(fits, distance_transform_cdt(fits), 0)
    row, column = np.unravel_index(int(np.argmax(depth)), part.shape)
    return int(row), int(column)


def _map_words(
    swing: Swing,
    pitch: PitchAtPlate,
    scatter: Scatter,
    aim: float,
    timing: float,
    level: float,
    width: float,
    own: int,
    outcome: NDArray[np.int8],
    ends: tuple[tuple[float, float], tuple[float, float]],
) -> str:
    seen = [
        f"{one.word} {percent(float((outcome == code).mean()))}"
        for code, one in enumerate(OUTCOME_LOOKS)
        if (outcome == code).any()
    ]
    return (
        f"Map of what a swing becomes, {_timing(timing)}: miss from {ends[0][0]:g} to "
        f"{ends[0][1]:g} in across, "
        f"attack angle from {ends[1][0]:g} to {ends[1][1]:g} degrees upward, for a bat of "
        f"{plain(swing.bat_mph)} mph against a pitch of {plain(pitch.speed_mph)} mph that comes down at "
        f"{plain(pitch.descent_deg)} degrees. Of the map's area: {listed(seen)}. This swing, at "
        f"{plain(swing.attack_deg)} degrees and aimed {plain(aim, 2)} in under the ball, becomes a "
        f"{OUTCOME_LOOKS[own].word}; at its angle {plain(width, 2)} in of miss give a "
        f"line drive or a home run. "
        f"{level_words(level)} of its swings by miss and angle lie in an ellipse, with "
        f"standard deviations of "
        f"{plain(scatter.miss_in, 2)} in and {plain(scatter.attack_deg)} degrees."
    )


@draws(Margin)
def margin_shares(margin: Margin, ax: Axes | None = None) -> Axes:
    """Draw what became of many swings, as shares of the swings.

    Parameters
    ----------
    margin
        From :func:`hitlab.physics.margin.swing_margin`.
    ax
        Axes to draw on; a fresh figure where not given.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Examples
    --------
    >>> from hitlab.physics import swing_margin
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, margin_shares
    >>> ax = margin_shares(swing_margin(swings=2_000, seed=1))
    >>> print(fill(describe(ax).split(". ")[0], 90))
    Shares of 2,000 swings, simulated: whiff 4 %, foul 24 %, ground ball 50 %, line drive 16
    %, fly ball 4 % and home run 3 %
    """
    ax, own = look.axes_for(ax, 9.6, 3.6)
    shares = np.array([100 * margin.shares[one.word] for one in OUTCOME_LOOKS])
    rows = np.arange(len(shares))
    for row, one in enumerate(OUTCOME_LOOKS):
        ax.barh(
            row, shares[row], height=0.66, facecolor=one.fill, edgecolor=look.QUIET, linewidth=0.8,
            hatch=one.hatch, label=one.word,
        )  # fmt: skip
        look.put(ax, shares[row], row, percent(shares[row] / 100), shift=(6, 0), ha="left", va="center")
    ax.set_ylim(len(rows) - 0.5, -0.5)
    ax.set_xlim(0, 1.18 * max(float(shares.max()), 1.0))
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    look.columns(ax, "left", [[one.word for one in OUTCOME_LOOKS]], [look.INK] * len(rows), size=look.BODY)
    good = percent(sum(margin.shares[one] for one in _GOOD))
    each = listed([f"{one.word} {percent(s / 100)}" for one, s in zip(OUTCOME_LOOKS, shares, strict=True)])
    swings = "1 swing" if margin.swings == 1 else f"{margin.swings:,} swings"
    launch = (
        f"Balls in play: launch angle {plain(margin.launch_mean_deg)} degrees on average, standard deviation "
        f"{plain(margin.launch_sd_deg)}."
        if np.isfinite(margin.launch_mean_deg)
        else "No ball in play."
    )
    return look.finish(
        ax,
        own,
        f"Simulated: {good} of these swings are line drives or home runs",
        f"Shares of n = {swings}, simulated, aimed {plain(margin.aim_in, 2)} in under the "
        f"ball's path. {launch}",
        alt=f"Shares of {swings}, simulated: {each}. {launch}",
    )
