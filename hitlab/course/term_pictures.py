"""Small pictures of terms, for the glossary: what a word means, without a number to read off.

Invented, and not to scale.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import StringIO

import numpy as np
from matplotlib import rc_context
from matplotlib.axes import Axes
from matplotlib.patches import Arc, Circle, FancyArrowPatch, Polygon, Rectangle
from numpy.typing import ArrayLike

from hitlab.plots.look import ACCENTS, BACKGROUND, BANDS, EDGE, FAINT, INK, QUIET, SMALL, axes_for, put

__all__ = ["PICTURES", "drawn", "picture"]

WIDTH, HEIGHT = 2.9, 1.5  # inches
RUST, TEAL, VIOLET = ACCENTS
Draw = Callable[[Axes], None]

PICTURES: dict[str, tuple[str, Draw]] = {}
"""Term -> the picture in words, and what draws it on axes from 0 to 29 and 0 to 15."""


def picture(name: str) -> tuple[str, str]:
    """Return a term's picture as SVG, the same bytes each time, and the words for it."""
    figure = drawn(name).get_figure(root=True)
    assert figure is not None
    into = StringIO()
    # Text stays text: it is smaller than its outlines.
    with rc_context({"svg.hashsalt": name, "svg.fonttype": "none"}):
        figure.savefig(into, format="svg", metadata={"Date": None, "Creator": None})
    return into.getvalue(), PICTURES[name][0]


def drawn(name: str) -> Axes:
    """Return a term's picture on axes of its own."""
    ax, _ = axes_for(None, WIDTH, HEIGHT)
    ax.set_axis_off()
    ax.set_position((0, 0, 1, 1))
    ax.set(xlim=(0, 10 * WIDTH), ylim=(0, 10 * HEIGHT))
    PICTURES[name][1](ax)
    return ax


def _of(name: str, alt: str) -> Callable[[Draw], Draw]:
    def keep(draw: Draw) -> Draw:
        PICTURES[name] = (alt, draw)
        return draw

    return keep


def _say(ax: Axes, x: float, y: float, text: str, color: str = INK, ha: str = "center") -> None:
    put(ax, x, y, text, size=SMALL, color=color, ha=ha, va="center")


def _line(ax: Axes, x: ArrayLike, y: ArrayLike, color: str = INK, width: float = 1.6) -> None:
    ax.plot(x, y, color=color, linewidth=width, solid_capstyle="round")


def _dashed(ax: Axes, x: ArrayLike, y: ArrayLike, color: str = QUIET) -> None:
    ax.plot(x, y, color=color, linewidth=1.2, linestyle=(0, (3, 2)))


def _dots(ax: Axes, x: ArrayLike, y: ArrayLike, color: str = TEAL, size: float = 26) -> None:
    ax.scatter(x, y, s=size, color=color, edgecolor=BACKGROUND, linewidth=0.6, zorder=3)


def _arrow(ax: Axes, start: tuple[float, float], end: tuple[float, float], color: str = INK) -> None:
    ax.add_patch(
        FancyArrowPatch(start, end, arrowstyle="-|>", mutation_scale=9, color=color, linewidth=1.4, shrinkA=0,
                        shrinkB=0)
    )  # fmt: skip


def _box(ax: Axes, x: float, y: float, wide: float, high: float, fill: str = BANDS[0]) -> None:
    ax.add_patch(Rectangle((x, y), wide, high, facecolor=fill, edgecolor=EDGE, linewidth=0.8))


def _ball(ax: Axes, x: float, y: float, size: float = 1.1, fill: str = BACKGROUND) -> None:
    ax.add_patch(Circle((x, y), size, facecolor=fill, edgecolor=INK, linewidth=1.4, zorder=4))


def _bat(ax: Axes, x: float, y: float, size: float = 1.5) -> None:
    """Draw a bat seen along its length."""
    ax.add_patch(Circle((x, y), size, facecolor=BANDS[1], edgecolor=EDGE, linewidth=1.0, zorder=3))


def _barrel(ax: Axes, start: tuple[float, float], end: tuple[float, float], color: str = INK) -> None:
    """Draw a bat from the handle to the end of its barrel."""
    (x, y), (to_x, to_y) = start, end
    across = np.array([y - to_y, to_x - x]) / np.hypot(to_x - x, to_y - y)
    thin, thick = 0.25 * across, 0.8 * across
    corners = [start + thin, end + thick, end - thick, start - thin]
    ax.add_patch(Polygon(corners, facecolor=color, edgecolor=color, joinstyle="round"))


def _hump(ax: Axes, middle: float, wide: float, high: float, color: str, low: float = 2.0) -> None:
    x = np.linspace(middle - 3 * wide, middle + 3 * wide, 41)
    _line(ax, x, low + high * np.exp(-0.5 * ((x - middle) / wide) ** 2), color)


def _field(ax: Axes, x: float = 14.5) -> None:
    """Draw the two foul lines that run out from home."""
    _line(ax, [x, x - 11], [1.5, 12.5], QUIET)
    _line(ax, [x, x + 11], [1.5, 12.5], QUIET)
    ax.add_patch(Rectangle((x - 0.5, 0.8), 1, 1, angle=0, facecolor=BANDS[1], edgecolor=EDGE, linewidth=0.8))


def _bases(ax: Axes, x: float, y: float, size: float, taken: Sequence[int] = ()) -> None:
    """Draw first, second and third base as seen from behind home."""
    for place, (right, up) in enumerate(((1, 0), (0, 1), (-1, 0)), start=1):
        fill = RUST if place in taken else BACKGROUND
        ax.scatter(
            [x + right * size], [y + up * size], s=34, marker="s", color=fill, edgecolor=EDGE, zorder=3
        )


FIVE = np.array([4.0, 6.0, 7.0, 8.0, 11.0])
PLACES = np.array([4.0, 9.0, 14.0, 19.0, 24.0])


@_of(
    "mean",
    "Five dots at different heights; a level line at the height that all would have if shared out evenly.",
)
def _mean(ax: Axes) -> None:
    _line(ax, [2, 26], [FIVE.mean()] * 2, RUST)
    _dots(ax, PLACES, FIVE)
    _say(ax, 4, FIVE.mean() + 2, "mean", RUST)


@_of("spread", "Five dots with sticks to a level line, the mean: the sticks, taken together, are the spread.")
def _spread(ax: Axes) -> None:
    _line(ax, [2, 26], [FIVE.mean()] * 2, QUIET, 1)
    for x, y in zip(PLACES, FIVE, strict=True):
        _line(ax, [x, x], [FIVE.mean(), y], RUST, 2.6)
    _dots(ax, PLACES, FIVE)


@_of(
    "variance",
    "Dots with sticks to the mean and a square on each stick; beside them the square of average area.",
)
def _variance(ax: Axes) -> None:
    _line(ax, [1, 19], [FIVE.mean()] * 2, QUIET, 1)
    places = np.array([1.5, 6.5, 9.5, 12.0, 15.0])
    for x, y in zip(places, FIVE, strict=True):
        _box(ax, x, min(y, FIVE.mean()), abs(y - FIVE.mean()) + 1e-3, abs(y - FIVE.mean()))
    _dots(ax, places, FIVE)
    side = FIVE.std()
    _box(ax, 24, FIVE.mean() - side / 2, side, side, BANDS[1])
    _say(ax, 25, 3, "average", QUIET)


@_of(
    "standard deviation",
    "Dots along a line; a band about their mean reaches one typical distance to either side.",
)
def _standard_deviation(ax: Axes) -> None:
    _box(ax, 9.5, 3, 10, 7)
    at = np.array([4.5, 8.5, 10.5, 12, 13.5, 14.5, 15.5, 17, 18.5, 20.5, 24.5])
    _dots(ax, at, np.full(at.size, 6.5))
    _line(ax, [14.5, 14.5], [3, 10], RUST)
    _arrow(ax, (14.5, 11.5), (19.5, 11.5), RUST)
    _say(ax, 17, 13.3, "one")


@_of("correlation", "Three clouds of dots: one falls from left to right, one is round, one rises.")
def _correlation(ax: Axes) -> None:
    rng = np.random.default_rng(4)
    for middle, link, name in ((5, -0.95, "near -1"), (14.5, 0.0, "near 0"), (24, 0.95, "near 1")):
        one, other = rng.standard_normal((2, 24))
        other = link * one + np.sqrt(1 - link**2) * other
        _dots(ax, middle + 1.6 * one.clip(-2, 2), 9 + 1.9 * other.clip(-2, 2), size=9)
        _say(ax, middle, 2, name, QUIET)


@_of(
    "range", "A line with a low end and a high end; of ten crosses nine lie between the ends and one outside."
)
def _range(ax: Axes) -> None:
    _line(ax, [6, 23], [9, 9], TEAL, 3)
    for end, name in ((6, "low"), (23, "high")):
        _line(ax, [end, end], [7.5, 10.5], TEAL, 2)
        _say(ax, end, 12.5, name)
    at = np.array([7.5, 9.5, 11, 12.5, 14, 15.5, 17, 19, 21.5, 26.5])
    ax.scatter(at, np.full(10, 4.5), marker="x", s=22, color=[*[INK] * 9, RUST])


@_of(
    "posterior",
    "Five even bars, belief before the data; an arrow; then five bars that rise, belief after the data.",
)
def _posterior(ax: Axes) -> None:
    for place in range(5):
        _box(ax, 1.5 + 2 * place, 3, 1.6, 3.6)
        _box(ax, 17.5 + 2 * place, 3, 1.6, 1.3 * (place + 1), BANDS[1])
    _arrow(ax, (12.5, 6), (16.5, 6), RUST)
    _say(ax, 6.3, 13, "before", QUIET)
    _say(ax, 22.3, 13, "after", QUIET)


def _marks(ax: Axes, x: float, y: float, many: int, dark: Sequence[int], step: float = 2.2) -> None:
    for place in range(many):
        _ball(ax, x + step * place, y, 0.8, RUST if place in dark else BACKGROUND)


@_of("rate", "Ten balls in a row, three of them dark: three out of ten.")
def _rate(ax: Axes) -> None:
    _marks(ax, 4.6, 9, 10, (1, 4, 8))
    _say(ax, 14.5, 4, "3 out of 10 is .300")


@_of(
    "true rate",
    "A jagged line that swings wildly after few swings and settles at a level line after very many.",
)
def _true_rate(ax: Axes) -> None:
    rng = np.random.default_rng(7)
    x = np.linspace(0.3, 1, 60)
    _dashed(ax, [2, 27], [7.5, 7.5])
    _line(ax, 2 + 25 * (x - 0.3) / 0.7, 7.5 + (0.4 * rng.standard_normal(60) / x**2).clip(-4, 4), TEAL)
    _say(ax, 22, 11.5, "true rate", QUIET)
    _say(ax, 14.5, 1.5, "more and more swings", QUIET)


@_of("sample", "Many pale dots, a few of them drawn out into a frame: the chances that we happened to see.")
def _sample(ax: Axes) -> None:
    rng = np.random.default_rng(3)
    _dots(ax, rng.uniform(1, 16, 70), rng.uniform(2, 13, 70), FAINT, 9)
    _arrow(ax, (17.5, 7.5), (20.5, 7.5))
    _box(ax, 21, 4.5, 6, 6)
    _dots(ax, rng.uniform(22, 26, 6), rng.uniform(5.5, 9.5, 6), RUST)


@_of(
    "shrink",
    "Rates on the left run by lines toward one level, the mean, on the right: the far ones move most.",
)
def _shrink(ax: Axes) -> None:
    _dashed(ax, [2, 27], [7.5, 7.5])
    for high in (-5, -3, -1, 1.5, 3.5, 6):
        _line(ax, [7, 22], [7.5 + high, 7.5 + 0.35 * high], FAINT, 1)
        _dots(ax, [22], [7.5 + 0.35 * high])
        _dots(ax, [7], [7.5 + high], QUIET)
    _say(ax, 2.8, 12, "seen", QUIET)
    _say(ax, 25.8, 11.5, "pulled", QUIET)


@_of("half-weight size", "A balance with the own record on one side and the mean on the other, level.")
def _half_weight(ax: Axes) -> None:
    _line(ax, [5, 24], [8, 8], INK, 2)
    ax.add_patch(Polygon([(14.5, 8), (13, 4), (16, 4)], facecolor=BANDS[1], edgecolor=EDGE))
    _box(ax, 4, 8, 6, 4, BANDS[0])
    _box(ax, 19, 8, 6, 4, BANDS[1])
    _say(ax, 7, 13.4, "own record")
    _say(ax, 22, 13.4, "mean")
    _say(ax, 14.5, 2, "after m swings", QUIET)


@_of(
    "interval",
    "A dot with a line through it: the rate, and from where to where the true one most likely lies.",
)
def _interval(ax: Axes) -> None:
    _line(ax, [6, 22], [8, 8], TEAL, 2.6)
    _dots(ax, [13], [8], RUST, 60)
    _say(ax, 13, 11, "rate as seen", RUST)
    _say(ax, 14, 4.6, "interval", TEAL)


@_of("leader", "Rates as dots along a line; the highest is marked.")
def _leader(ax: Axes) -> None:
    at = np.array([5, 7, 8.5, 10, 11, 12, 13.5, 15, 17])
    _dots(ax, at, np.full(at.size, 6))
    _dots(ax, [23], [6], RUST, 60)
    _say(ax, 23, 9.5, "leader", RUST)


@_of(
    "excess",
    "The leader's record as a ring high up, his true rate as a dot below it; the gap between is the excess.",
)
def _excess(ax: Axes) -> None:
    for low, x in ((4, 4), (5, 7), (4.5, 10), (6, 13)):
        _dots(ax, [x], [low], FAINT)
    _dots(ax, [17], [6.5])
    ax.scatter([17], [12.5], s=46, facecolor=BACKGROUND, edgecolor=RUST, linewidth=1.6)
    _arrow(ax, (18.8, 6.5), (18.8, 12.3), RUST)
    _say(ax, 19.8, 9.5, "excess", RUST, "left")
    _say(ax, 15.8, 13, "record", QUIET, "right")
    _say(ax, 17, 3.5, "true rate", QUIET)


@_of("corrected rate", "The leader's record as a ring, with an arrow down to a dot nearer to the mean.")
def _corrected(ax: Axes) -> None:
    _dashed(ax, [3, 26], [4, 4])
    ax.scatter([14.5], [12], s=46, facecolor=BACKGROUND, edgecolor=RUST, linewidth=1.6)
    _arrow(ax, (14.5, 11), (14.5, 8), RUST)
    _dots(ax, [14.5], [7])
    _say(ax, 15.8, 12, "record", QUIET, "left")
    _say(ax, 15.8, 7, "corrected", TEAL, "left")
    _say(ax, 5, 5.6, "mean", QUIET)


@_of("minimum", "Dots in order of their swings; those left of a line have too few and are pale.")
def _minimum(ax: Axes) -> None:
    _dots(ax, [3, 5, 6.5, 8.5], [12, 4, 9, 6], FAINT)
    _dots(ax, [13, 15, 18, 20.5, 23, 26], [9, 6.5, 8.5, 7, 8, 7.2])
    _dashed(ax, [10.7, 10.7], [2.5, 13.5], RUST)
    _say(ax, 19, 12.5, "enough swings", QUIET)
    _arrow(ax, (2, 1.5), (27, 1.5), QUIET)


@_of(
    "coverage",
    "Ten short lines and one upright line, the truth: nine cross it, one in another colour misses.",
)
def _coverage(ax: Axes) -> None:
    starts = (10, 8.5, 11, 9, 12, 7.5, 16, 10.5, 9.5, 11.5)
    _dashed(ax, [14.5, 14.5], [1, 14])
    for row, start in enumerate(starts):
        _line(ax, [start, start + 8], [1.6 + 1.3 * row] * 2, RUST if start > 14.5 else TEAL, 2)


@_of("bounds", "A scale from 0 to 100 per cent with two bounds: does not hold, open, holds.")
def _bounds(ax: Axes) -> None:
    _box(ax, 2, 6, 3, 3, BANDS[1])
    _box(ax, 5, 6, 19, 3, BACKGROUND)
    _box(ax, 24, 6, 3, 3, BANDS[1])
    _say(ax, 14.5, 7.5, "open")
    _say(ax, 5, 4, "10 %", QUIET)
    _say(ax, 24, 4, "90 %", QUIET)
    _say(ax, 1.5, 11.2, "does not hold", INK, "left")
    _say(ax, 27.5, 11.2, "holds", INK, "right")


@_of("denominator", "A fraction: hard balls above the line, swings below it; the lower one is marked.")
def _denominator(ax: Axes) -> None:
    _say(ax, 14.5, 11, "hard balls")
    _line(ax, [9, 20], [8, 8])
    _box(ax, 9.5, 2.6, 10, 4)
    _say(ax, 14.5, 4.6, "swings", RUST)


@_of("whiff", "A bat passes under a ball and does not touch it.")
def _whiff(ax: Axes) -> None:
    _barrel(ax, (5, 4), (18, 6))
    _ball(ax, 16, 10)
    _arrow(ax, (27, 11), (18, 10.2), QUIET)


@_of("foul", "Two lines run out from home; an arrow leaves home and ends outside them.")
def _foul(ax: Axes) -> None:
    _field(ax)
    _arrow(ax, (14.5, 2), (25.5, 6), RUST)
    _ball(ax, 26.5, 6.4, 0.7)


@_of("ball in play", "Two lines run out from home; an arrow leaves home and ends between them.")
def _in_play(ax: Axes) -> None:
    _field(ax)
    _arrow(ax, (14.5, 2), (16.6, 11.3), TEAL)
    _ball(ax, 16.8, 12.4, 0.7)


@_of("fair", "Two lines run out from home; the ground between them is shaded.")
def _fair(ax: Axes) -> None:
    ax.add_patch(Polygon([(14.5, 1.5), (3.5, 12.5), (25.5, 12.5)], facecolor=BANDS[0], edgecolor="none"))
    _field(ax)
    _say(ax, 14.5, 9.5, "fair", TEAL)
    _say(ax, 3.5, 4, "foul", QUIET)
    _say(ax, 25.5, 4, "foul", QUIET)


@_of("check swing", "A bat that stops half way round, before a dashed line straight ahead.")
def _check(ax: Axes) -> None:
    _dashed(ax, [9, 26], [3.5, 3.5])
    _barrel(ax, (9, 3.5), (16, 12))
    ax.add_patch(Arc((9, 3.5), 26, 17, theta1=6, theta2=36, color=RUST, linewidth=1.4, linestyle=(0, (3, 2))))
    _say(ax, 24, 11, "stops", RUST)


@_of("bunt", "A bat held still across the way of the ball, which drops in front of it.")
def _bunt(ax: Axes) -> None:
    _barrel(ax, (8, 9), (8.1, 3))
    _ball(ax, 10.4, 6.5)
    _arrow(ax, (12, 6), (15.5, 2), RUST)


def _angle(ax: Axes, degrees: float, name: str, color: str = RUST) -> None:
    turn = np.deg2rad(degrees)
    _dashed(ax, [5, 25], [3, 3])
    _arrow(ax, (5, 3), (5 + 18 * np.cos(turn), 3 + 18 * np.sin(turn)), color)
    ax.add_patch(Arc((5, 3), 16, 16, theta1=0, theta2=degrees, color=INK, linewidth=1.2))
    _say(ax, 18, 5, name)


@_of(
    "launch angle", "A ball leaves the bat along an arrow that climbs; the angle between it and a level line."
)
def _launch(ax: Axes) -> None:
    _angle(ax, 33, "launch angle")
    _ball(ax, 5, 3)


@_of(
    "attack angle", "The bat, seen along its length, travels along an arrow that climbs a little from level."
)
def _attack(ax: Axes) -> None:
    _angle(ax, 20, "attack angle", TEAL)
    _bat(ax, 5, 3)


@_of("descent", "A pitch comes in from the right along an arrow that falls a little from level.")
def _descent(ax: Axes) -> None:
    _dashed(ax, [4, 26], [11, 11])
    _arrow(ax, (25, 11), (6, 5.5), RUST)
    _ball(ax, 25, 11)
    _say(ax, 12, 9.6, "descent")


@_of(
    "in line with the pitch",
    "The pitch falls along a line, and the bat climbs back along nearly the same line.",
)
def _in_line(ax: Axes) -> None:
    _arrow(ax, (26, 12.5), (16, 8.4), QUIET)
    _arrow(ax, (3, 3), (13, 7.1), TEAL)
    _ball(ax, 26, 12.5)
    _bat(ax, 3.4, 3)


@_of("inches under", "Two paths side by side: that of the bat's middle passes under that of the ball's.")
def _under(ax: Axes) -> None:
    _dashed(ax, [3, 26], [10, 10])
    _dashed(ax, [3, 26], [5.5, 5.5])
    _ball(ax, 24, 10)
    _bat(ax, 5, 5.5)
    _arrow(ax, (14.5, 9.8), (14.5, 5.7), RUST)
    _say(ax, 15.5, 7.7, "inches under", RUST, "left")


@_of(
    "offset",
    "Bat and ball touch, seen along the bat; the bat's middle is lower than the ball's by the offset.",
)
def _offset(ax: Axes) -> None:
    _bat(ax, 9, 5.6, 3)
    _ball(ax, 14, 8.4, 2.6)
    _line(ax, [9, 17.5], [5.6, 5.6], QUIET, 1)
    _line(ax, [14, 17.5], [8.4, 8.4], QUIET, 1)
    _arrow(ax, (17, 8.4), (17, 5.7), RUST)
    _say(ax, 18, 7, "offset", RUST, "left")


@_of("droop", "A bat whose barrel hangs below its handle; the angle between it and a level line.")
def _droop(ax: Axes) -> None:
    _dashed(ax, [4, 26], [12, 12])
    _barrel(ax, (4, 12), (20, 4))
    ax.add_patch(Arc((4, 12), 26, 26, theta1=-27, theta2=0, color=RUST, linewidth=1.4))
    _say(ax, 19.5, 8.8, "droop", RUST, "left")


@_of("exit speed", "A ball leaves the bat with a long arrow ahead of it.")
def _exit(ax: Axes) -> None:
    _bat(ax, 5, 5)
    _ball(ax, 8, 6)
    _arrow(ax, (9.6, 6.5), (25, 11), RUST)
    _say(ax, 19, 5.4, "miles an hour", QUIET)


@_of("backspin", "A ball that flies to the right and turns so that its top moves back to the left.")
def _backspin(ax: Axes) -> None:
    _ball(ax, 14.5, 7, 3)
    ax.add_patch(FancyArrowPatch((17.6, 9.6), (11.4, 9.6), connectionstyle="arc3,rad=0.55", arrowstyle="-|>",
                                 mutation_scale=9, color=RUST, linewidth=1.4))  # fmt: skip
    _arrow(ax, (18.5, 7), (26, 7), QUIET)
    _say(ax, 23, 4.6, "flight", QUIET)


def _flight(ax: Axes, color: str = INK, far: float = 22.0, high: float = 8.0) -> None:
    x = np.linspace(0, 1, 40)
    _line(ax, 3 + far * x, 3 + 4 * high * x**1.2 * (1 - x) * 0.95, color)


@_of("carry", "A ball flies in an arc; below it, along the ground, how far it goes until it comes down.")
def _carry(ax: Axes) -> None:
    _flight(ax)
    _line(ax, [2, 28], [3, 3], QUIET, 1)
    _arrow(ax, (3, 1.6), (25, 1.6), RUST)
    _say(ax, 14.5, 5, "carry", RUST)


@_of("drag", "Two arcs from one place: without air a long one, with air a shorter one that falls steeply.")
def _drag(ax: Axes) -> None:
    x = np.linspace(0, 1, 40)
    _dashed(ax, 3 + 24 * x, 3 + 36 * x * (1 - x))
    _line(ax, 3 + 15 * x, 3 + 27 * x**1.25 * (1 - x), TEAL)
    _say(ax, 25, 12, "no air", QUIET)
    _say(ax, 9.5, 5, "air", TEAL)


@_of("air density", "Two boxes: many dots in the one at sea level, few in the one on a mountain.")
def _density(ax: Axes) -> None:
    rng = np.random.default_rng(5)
    for left, many, name in ((3, 44, "sea level"), (17, 20, "mountain")):
        _box(ax, left, 4.5, 9, 8.5)
        _dots(ax, left + rng.uniform(0.8, 8.2, many), 4.5 + rng.uniform(0.8, 7.7, many), QUIET, 8)
        _say(ax, left + 4.5, 2.3, name)


@_of("timing error", "A line of time: the ball arrives at one mark, the bat a little later at another.")
def _timing(ax: Axes) -> None:
    _arrow(ax, (2, 6), (27, 6), QUIET)
    _dots(ax, [11], [6], INK, 40)
    _dots(ax, [19], [6], RUST, 40)
    _arrow(ax, (11, 9), (19, 9), RUST)
    _say(ax, 15, 11.5, "too late by", RUST)
    _say(ax, 11, 3, "ball")
    _say(ax, 19, 3, "bat", RUST)


@_of(
    "timing window",
    "A line of time with a shaded stretch: within it the ball goes fair, to either side of it foul.",
)
def _window(ax: Axes) -> None:
    _box(ax, 10, 4, 9, 6, BANDS[1])
    _arrow(ax, (2, 7), (27, 7), QUIET)
    _line(ax, [14.5, 14.5], [4, 10])
    _say(ax, 14.5, 12, "fair")
    _say(ax, 5, 9.5, "early: foul", QUIET)
    _say(ax, 24, 9.5, "late: foul", QUIET)


def _turned(ax: Axes, away: float, name: str, color: str) -> None:
    """Draw a bat from above, held by somebody to the left of home, and the ball that leaves it squarely."""
    _field(ax)
    lean = -0.55 * away  # the bat lies across the way of the ball
    _barrel(ax, (9.5, 4 - lean), (15.5, 4 + 0.6 * lean), QUIET)
    _arrow(ax, (14.5, 4.8 + 0.3 * lean), (14.5 + away, 11.5), color)
    _say(ax, 14.5 + 1.15 * away, 13.4, name, color)


@_of(
    "pull side",
    "Seen from above, a right-handed hitter: a bat that has turned too far sends the ball to the left.",
)
def _pull(ax: Axes) -> None:
    _turned(ax, -4.5, "early: pull side", RUST)


@_of(
    "opposite side",
    "Seen from above, a right-handed hitter: a bat not yet around sends the ball to the right.",
)
def _opposite(ax: Axes) -> None:
    _turned(ax, 4.5, "late: opposite side", TEAL)


@_of("up and in", "The zone over the plate from behind: its upper part on the hitter's side is shaded.")
def _up_and_in(ax: Axes) -> None:
    _box(ax, 11, 1.5, 9, 11.5, BACKGROUND)
    _box(ax, 11, 9, 3.4, 4, BANDS[1])
    _say(ax, 5, 8, "hitter", QUIET)
    _line(ax, [5, 5], [1.5, 6.5], QUIET, 5)


@_of("breaking ball", "Two pitches from one hand: one nearly straight, one that bends down and away late.")
def _breaking(ax: Axes) -> None:
    x = np.linspace(0, 1, 40)
    _dashed(ax, 26 - 22 * x, 12 - 2 * x)
    _line(ax, 26 - 22 * x, 12 - 2 * x - 6 * x**2.6, RUST)
    _ball(ax, 26, 12)


@_of("odds", "One dark ball beside four pale ones: odds of one to four.")
def _odds(ax: Axes) -> None:
    _marks(ax, 6, 9, 1, (0,))
    _say(ax, 9.5, 9, "to", QUIET)
    _marks(ax, 13, 9, 4, (), 3)
    _say(ax, 14.5, 3.6, "1 in 5 is odds of 1 to 4")


@_of(
    "placebo",
    "Two turns at bat: a whiff right before the pitch, and a whiff of another turn, half an hour earlier.",
)
def _placebo(ax: Axes) -> None:
    for y, start, color, name in ((10.5, 18, RUST, "whiff"), (4.5, 5, TEAL, "placebo")):
        _arrow(ax, (start + 1.2, y), (23, y), color)
        _dots(ax, [start], [y], color, 50)
        _ball(ax, 24.6, y)
        _say(ax, start, y + 2.6, name, color)


@_of("cut list", "A list of clips in two parts: many for the claim, a few against it.")
def _cuts(ax: Axes) -> None:
    for place in range(10):
        _box(ax, 3 + 2.3 * (place % 5), 4 + 4 * (place // 5), 1.8, 2.6)
    for place in range(2):
        _box(ax, 20.5 + 2.3 * place, 6, 1.8, 2.6, RUST)
    _say(ax, 8.5, 13, "for")
    _say(ax, 22.6, 13, "against", RUST)


@_of(
    "base-out state", "Bases as three squares, with runners on first and third, and two of three outs marked."
)
def _state(ax: Axes) -> None:
    _bases(ax, 8, 5.5, 4, (1, 3))
    for place in range(2):
        _dots(ax, [18.5 + 3 * place], [8], RUST, 60)
    _say(ax, 20, 4.5, "two out")


@_of("bases", "Three bases as squares above home, and the way round.")
def _three_bases(ax: Axes) -> None:
    _line(ax, [14.5, 19.5, 14.5, 9.5, 14.5], [2, 7, 12, 7, 2], FAINT, 1)
    _bases(ax, 14.5, 7, 5)
    for x, y, name in ((21, 7, "first"), (16.5, 13.2, "second"), (5.4, 7, "third"), (17.4, 1.8, "home")):
        _say(ax, x + (1 if name == "first" else 0), y, name, QUIET)
    ax.scatter([14.5], [2], s=34, marker="s", color=BANDS[1], edgecolor=EDGE, zorder=3)


@_of("kappa", "A way from luck to full agreement, gone for less than half.")
def _kappa(ax: Axes) -> None:
    _line(ax, [4, 25], [8, 8], FAINT, 5)
    _line(ax, [4, 12.5], [8, 8], RUST, 5)
    _say(ax, 4, 5, "0: luck", QUIET)
    _say(ax, 24, 5, "1: always", QUIET)
    _say(ax, 12.5, 11, "kappa", RUST)


@_of("sensitivity", "Of five hard balls, drawn dark, four bear a tick.")
def _sensitivity(ax: Axes) -> None:
    _marks(ax, 5, 7, 5, range(5), 4.5)
    _ticks(ax, range(4))
    _say(ax, 14.5, 2.5, "4 of 5 hard ones ticked", QUIET)


@_of("specificity", "Of five balls that were not hard, drawn pale, one bears a tick and four are left alone.")
def _specificity(ax: Axes) -> None:
    _marks(ax, 5, 7, 5, (), 4.5)
    _ticks(ax, (2,))
    _say(ax, 14.5, 2.5, "4 of 5 others left alone", QUIET)


def _ticks(ax: Axes, places: Sequence[int]) -> None:
    for place in places:
        x = 5 + 4.5 * place
        _line(ax, [x - 0.9, x - 0.2, x + 1.1], [11, 10, 12.4], TEAL, 2)
