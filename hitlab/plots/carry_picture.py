"""How far a ball carries: against its launch angle, at several exit speeds; and whole paths from the side."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.colors import to_hex, to_rgb

from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions, FlightPath, fly
from hitlab.physics.quantities import QuantityError, quantity
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.placing import Label, named_axis, place_labels, plain, to_scale
from hitlab.plots.registry import draws

__all__ = ["carry_against_launch", "flight_paths"]

_SLOW, _FAST = "#3F7C89", "#042B35"
"""From slow to fast, one hue ever darker: the speeds have an order, and no two the same shade."""
_MOST_PATHS = 60
_MOST_NAMED = 6
_MOST_SPEEDS = 8


def carry_against_launch(
    exit_mph: Sequence[float] = (70, 80, 90, 100, 110),
    ax: Axes | None = None,
    *,
    backspin_rpm: float = 2000.0,
    launch_deg: tuple[float, float] = (-5.0, 60.0),
    conditions: Conditions | None = None,
    fence: Fence | None = None,
) -> Axes:
    """Draw carry against launch angle, one curve an exit speed, and mark the best angle of each.

    Parameters
    ----------
    exit_mph
        Up to 8 exit speeds in mph.
    ax
        Axes to draw on; a fresh figure where not given.
    backspin_rpm
        Backspin of every ball.
    launch_deg
        Lowest and highest launch angle drawn.
    conditions
        See :func:`hitlab.physics.flight.fly`.
    fence
        Where given, its distance straight out is drawn.

    Returns
    -------
    Axes
        Where no speed is known, words instead of a picture.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, there are more than 8 speeds, or the angles do not rise.

    Notes
    -----
    The best angle is read off a grid of half degrees. All balls have the same backspin here; off a bat it
    grows with the launch angle.

    Examples
    --------
    >>> from textwrap import fill
    >>> from hitlab.plots import carry_against_launch, describe
    >>> ax = carry_against_launch([90, 100])
    >>> print(fill(describe(ax), 90))
    Carry against launch angle at 2,000 rpm of backspin. 90 mph: best 31.5°, 360 ft; 100 mph:
    best 30°, 411 ft.
    """
    speeds = np.unique(quantity("exit_mph", list(exit_mph), "mph", 0, 250))
    speeds = speeds[np.isfinite(speeds) & (speeds > 0)]
    if speeds.size == 0:
        return look.nothing(ax, "No exit speed is given, so no carry can be drawn.")
    if speeds.size > _MOST_SPEEDS:
        raise QuantityError(
            f"exit_mph holds {speeds.size} speeds; accepted are up to {_MOST_SPEEDS}. Draw fewer curves."
        )
    ends = quantity("launch_deg", launch_deg, "degrees", -90, 90)
    if ends.shape != (2,) or not ends[0] < ends[1]:
        raise QuantityError(
            f"launch_deg is {launch_deg}; accepted are two angles, the lower first. Try (-5, 60)."
        )
    launch = np.arange(ends[0], ends[1] + 0.25, 0.5)
    flight = fly(speeds[:, None], launch, 0.0, backspin_rpm, conditions=conditions)
    carry = flight.carry_ft
    if not np.isfinite(carry).any():
        return look.nothing(ax, "A value is missing: no carry is known, so none can be drawn.")
    best = np.nanargmax(carry, axis=1)
    ax, own = look.axes_for(ax, 9.6, 5.8)
    shades = _shades(speeds.size)
    for row, color in enumerate(shades):
        name = f"{plain(speeds[row])} mph"
        ax.plot(launch, carry[row], color=color, linewidth=2.2, zorder=2, label=name)
        ax.plot(
            launch[best[row]], carry[row, best[row]], "o", color=look.ACCENTS[0], markersize=7, zorder=4,
            label=f"best at {name}",
        )  # fmt: skip
    top = float(np.nanmax(carry))
    ax.set_xlim(launch[0], launch[-1])
    tall = 1.16 * max(top, float(fence.distance(0.0)) if fence else 0.0)
    ax.set_ylim(0, tall)
    ax.yaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    named_axis(ax.xaxis, "launch angle (degrees)")
    named_axis(ax.yaxis, "carry (ft)")
    ax.set_xticks([t for t in range(-90, 91, 10) if launch[0] <= t <= launch[-1]])
    marks = [
        f"{plain(speeds[row])} mph: best {plain(launch[best[row]])}°, {plain(carry[row, best[row]], 0)} ft"
        for row in range(speeds.size)
    ]
    words = f"Carry against launch angle at {plain(backspin_rpm, 0)} rpm of backspin. {'; '.join(marks)}."
    if fence is not None:
        away = float(fence.distance(0.0))
        ax.axhline(away, color=look.INK, linewidth=1.0, linestyle=(0, (5, 3)), zorder=1, label="fence")
        words += f" The fence straight out stands at {plain(away, 0)} ft."
    slow, fast = (plain(launch[best[row]]) for row in (0, -1))
    title = f"In the model, at {plain(speeds[0])} mph the ball carries farthest at {slow}°"
    if speeds.size > 1:
        title += f", at {plain(speeds[-1])} mph at {fast}°"
    below = (
        f"Each curve is one exit speed; the dot is its best angle. Every ball with "
        f"{plain(backspin_rpm, 0)} rpm of "
        "backspin, hit straight out."
    )
    last = [int(np.flatnonzero(np.isfinite(row))[-1]) for row in carry]
    written = [
        look.put(
            ax,
            float(launch[i]),
            float(carry[row, i]),
            marks[row],
            shift=(16, 0),
            ha="left",
            va="center",
            size=look.SMALL,
            color=shades[row],
            arrowprops=look.lead(shades[row], 0),
        )
        for row, i in enumerate(last)
    ]
    if fence is not None:
        look.put(
            ax, float(launch[0]), away, "fence, straight out", shift=(4, 3), ha="left", va="bottom",
            size=look.SMALL,
        )  # fmt: skip
    return look.finish(ax, own, title, below, alt=words, apart=[written])


def _shades(count: int) -> list[str]:
    """Return so many colours, evenly from the slowest's to the fastest's."""
    if count == 1:
        return [look.ACCENTS[1]]
    ends = np.array([to_rgb(_SLOW), to_rgb(_FAST)])
    return [to_hex(ends[0] + share * (ends[1] - ends[0])) for share in np.linspace(0, 1, count)]


@draws(FlightPath)
def flight_paths(path: FlightPath, ax: Axes | None = None) -> Axes:
    """Draw whole flights from the side, height and distance on one scale.

    Parameters
    ----------
    path
        From :func:`hitlab.physics.flight.fly_path`, up to 60 balls.
    ax
        Axes to draw on; a fresh figure where not given.

    Returns
    -------
    Axes
        Where no ball is known, words instead of a picture.

    Raises
    ------
    QuantityError
        If there are more than 60 balls.

    Examples
    --------
    >>> from hitlab.physics import fly_path
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, flight_paths
    >>> ax = flight_paths(fly_path([90.0, 100.0], 28.0, backspin_rpm=2000.0))
    >>> print(fill(describe(ax), 90))
    Flights of 2 balls from the side: 100 mph at 28°: 410 ft in 5.3 s, 87 ft high; 90 mph at
    28°: 358 ft in 4.8 s, 71 ft high.
    """
    points = path.height_ft.shape[-1]
    height = path.height_ft.reshape(-1, points)
    out = np.hypot(path.out_ft, path.side_ft).reshape(-1, points)
    time = path.time_s.reshape(-1, points)
    known = np.isfinite(height + out).all(axis=1)
    height, out, time = height[known], out[known], time[known]
    left = [values.ravel()[known] for values in (path.exit_mph, path.launch_deg)]
    if not len(height):
        return look.nothing(ax, "No ball is known, so no flight can be drawn.")
    if len(height) > _MOST_PATHS:
        raise QuantityError(
            f"path holds {len(height)} balls; accepted are up to {_MOST_PATHS}. Draw some of them, or all "
            "landing places with field_view."
        )
    farthest = int(np.argmax(out[:, -1]))
    ax, own = look.axes_for(ax, 9.6, 4.4)
    lines = [np.column_stack([x, y]) for x, y in zip(out, height, strict=True)]
    # One shade a speed, the darker the faster; the farthest is the thick one.
    speeds, which = np.unique(left[0], return_inverse=True)
    shades = _shades(len(speeds))
    colors = [shades[i] for i in which]
    widths = [3.6 if i == farthest else 1.8 for i in range(len(lines))]
    ax.add_collection(LineCollection(lines, colors=colors, linewidths=widths, zorder=2, label="paths"))
    named_axis(ax.xaxis, "distance from the bat (ft)")
    named_axis(ax.yaxis, "height (ft)")
    ax.yaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    reach, top = float(out.max()), float(height.max())
    ax.set_xlim(0, 1.08 * reach)
    ax.set_ylim(0, 1.2 * top)
    each = [
        f"{plain(x[-1], 0)} ft in {plain(t[-1])} s, {plain(y.max(), 0)} ft high"
        for x, y, t in zip(out, height, time, strict=True)
    ]
    order = np.argsort(-out[:, -1], kind="stable")
    starts = [f"{plain(speed)} mph at {plain(angle)}°" for speed, angle in zip(*left, strict=True)]
    shown = [f"{starts[i]}: {each[i]}" for i in order[:_MOST_NAMED]]
    balls = "1 ball" if len(lines) == 1 else f"{len(lines)} balls"
    words = (
        f"Flights of {balls} from the side: {'; '.join(shown)}{'; ...' if len(lines) > _MOST_NAMED else ''}."
    )
    title = (
        f"In the model, the farthest of {balls} carries {each[farthest]}"
        if len(lines) > 1
        else f"In the model, the ball carries {each[0]}"
    )
    look.finish(ax, own, title, _flights_below(len(lines), len(speeds)), alt=words)
    to_scale(ax, (0.0, 0.0), (1.08 * max(reach, 1.0), 1.2 * max(top, 1.0)))
    ax.set_ylim(0, np.ptp(ax.get_ylim()))
    labels = []
    for i in order[:_MOST_NAMED]:
        peak = int(np.argmax(height[i]))
        labels.append(
            Label(
                f"{plain(left[0][i])} mph, {plain(left[1][i])}°",
                (float(out[i, peak]), float(height[i, peak])),
                (0.0, 1.0),
                colors[i],
                look.SMALL,
            )
        )
    place_labels(ax, labels, np.vstack(lines))
    keep_words(ax, words)
    return ax


def _flights_below(count: int, speeds: int) -> str:
    shades = " The darker, the faster." if speeds > 1 else ""
    thick = " Thick: the farthest." if count > 1 else ""
    named = f" The {_MOST_NAMED} farthest are named." if count > _MOST_NAMED else ""
    return (
        "Seen from the side; height and distance on one scale. At each path the speed and the angle at which "
        f"the ball left the bat.{shades}{thick}{named}"
    )
