"""The field from above: where the model's balls first touch the ground, inside a fence drawn to scale."""

from __future__ import annotations

import warnings
from typing import Literal

import numpy as np
from matplotlib.axes import Axes
from numpy.typing import NDArray

from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions, fly
from hitlab.physics.one_swing import DEMO_FENCE, SwingOutcomes
from hitlab.physics.quantities import QuantityError, RangeWarning
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.lettering import width_of
from hitlab.plots.outcome_marks import OUTCOME_LOOKS
from hitlab.plots.placing import plain, to_scale
from hitlab.plots.registry import draws
from hitlab.wording import listed, percent

__all__ = ["field_view"]

_BASE_FT = 90.0
"""Between bases (Official Baseball Rules 2.01; from memory)."""
_ARC_FT = 100
"""From arc to arc."""
_SIZES = {2: 34.0, 3: 30.0, 4: 36.0, 5: 110.0}  # of the marks, in square points


@draws(SwingOutcomes)
def field_view(
    outcomes: SwingOutcomes,
    ax: Axes | None = None,
    *,
    fence: Fence = DEMO_FENCE,
    conditions: Conditions | None = None,
    pull_side: Literal["left", "right"] = "left",
    most: int = 400,
) -> Axes:
    """Draw from above where the fair balls of many swings first touch the ground.

    Parameters
    ----------
    outcomes
        From :func:`hitlab.physics.one_swing.swing_outcomes`, or ``swing_margin(keep=True).outcomes``.
    ax
        Axes to draw on; a fresh figure where not given.
    fence, conditions
        Those that the outcomes were made with.
    pull_side
        Where the pull side lies: ``left`` for a right-handed hitter.
    most
        So many fair balls are drawn, 1 to 5000, evenly through the swings; the counts are of all.

    Returns
    -------
    Axes
        Where no swing is known, words instead of a picture.

    Raises
    ------
    QuantityError
        If ``pull_side`` or ``most`` is none of these.

    Examples
    --------
    >>> from hitlab.physics import swing_outcomes
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, field_view
    >>> ax = field_view(swing_outcomes([0.0, 0.5, 0.7, 1.5, 4.0]))
    >>> print(fill(describe(ax), 90))
    Field from above with 3 fair balls where they first touch the ground. Of 5 swings: whiff 1
    (20 %), foul 1 (20 %), ground ball 1 (20 %), line drive 2 (40 %), fly ball 0 (0 %) and
    home run 0 (0 %).
    """
    if pull_side not in ("left", "right"):
        raise QuantityError(
            f"pull_side is {pull_side!r}; accepted is 'left' (right-handed hitter) or 'right'."
        )
    if not 1 <= most <= 5000:
        raise QuantityError(f"most is {most}; accepted is 1 to 5000. 400 can be told apart by eye.")
    code = np.asarray(outcomes.outcome).ravel()
    known = int((code >= 0).sum())
    if known == 0:
        return look.nothing(ax, "No swing is known here, so there is no ball to draw.")
    counts = np.bincount(code[code >= 0], minlength=len(OUTCOME_LOOKS))
    fair = np.flatnonzero(code >= 2)
    drawn = fair[np.linspace(0, fair.size - 1, min(most, fair.size)).round().astype(int)]
    out, side = _landed(outcomes, drawn, conditions)
    sign = -1.0 if pull_side == "left" else 1.0
    ax, own = look.axes_for(ax, 9.6, 7.2)
    ax.set_axis_off()
    corners = _field(ax, fence, sign)
    for number, one in enumerate(OUTCOME_LOOKS):
        if number < 2:
            continue
        here = code[drawn] == number
        ax.scatter(
            sign * side[here], out[here], s=_SIZES[number], c=one.fill, marker=one.mark, label=one.word,
            edgecolors=look.INK, linewidths=0.6, zorder=3 + (number == 5),
        )  # fmt: skip
    words = _words(counts, known, code.size - known, drawn.size)
    below = _below(drawn.size, fair.size, code.size - known, fence)
    look.finish(ax, own, _title(counts, known), below, alt=words)
    every = np.vstack([corners, np.column_stack([sign * side, out])])
    every = every[np.isfinite(every).all(axis=1)]
    low, high = every.min(axis=0), every.max(axis=0)
    # The key needs room beside the field.
    wide = 0.3 * float(high[0] - low[0])
    to_scale(ax, (float(low[0]) - 12, float(low[1]) - 12), (float(high[0]) + wide, float(high[1]) + 34))
    _name_poles(ax, fence, sign)
    _key(ax, counts, known)
    keep_words(ax, words)
    return ax


def _landed(
    outcomes: SwingOutcomes, drawn: NDArray[np.intp], conditions: Conditions | None
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Feet toward centre field and toward the pull side where balls first touch the ground."""

    def take(name: str, low: float, high: float) -> NDArray[np.float64]:
        return np.asarray(np.clip(np.asarray(getattr(outcomes, name)).ravel()[drawn], low, high))

    with warnings.catch_warnings():
        # As in swing_outcomes: what lies outside the fits falls close by.
        warnings.simplefilter("ignore", RangeWarning)
        flight = fly(
            take("exit_mph", 0, 250),
            take("launch_deg", -90, 90),
            take("spray_deg", -180, 180),
            take("backspin_rpm", -10000, 10000),
            take("sidespin_rpm", -10000, 10000),
            conditions=conditions,
        )
    turn = np.radians(flight.bearing_deg)
    return flight.carry_ft * np.cos(turn), flight.carry_ft * np.sin(turn)


def _field(ax: Axes, fence: Fence, sign: float) -> NDArray[np.float64]:
    """Draw foul lines, base paths, distances and the fence; return the places at its edge."""
    bearing = np.linspace(fence.bearing_deg[0], fence.bearing_deg[-1], 181)
    bearing = np.union1d(bearing, fence.bearing_deg)
    turn, away = np.radians(bearing), fence.distance(bearing)
    line = np.column_stack([sign * away * np.sin(turn), away * np.cos(turn)])
    home = np.zeros(2)
    ax.fill(*np.vstack([home, line]).T, facecolor="#F1EFE8", edgecolor="none", zorder=0, label="fair ground")
    ax.plot(*line.T, color=look.INK, linewidth=2.6, zorder=2, label="fence")
    for far in range(_ARC_FT, int(away.max()), _ARC_FT):
        inside = far < away
        arc = np.where(inside, far, np.nan)
        ax.plot(
            sign * arc * np.sin(turn), arc * np.cos(turn), color="#BDB8AA", linewidth=1.0, zorder=0.5,
            label=f"{far} ft",
        )  # fmt: skip
        look.put(
            ax, 0.0, float(far), f"{far} ft", ha="center", va="center", size=look.SMALL, color=look.QUIET,
            bbox={"facecolor": "#F1EFE8", "edgecolor": "none", "pad": 0.8}, zorder=5,
        )  # fmt: skip
    half = _BASE_FT / np.sqrt(2)
    bases = np.array([[0, 0], [half, half], [0, 2 * half], [-half, half], [0, 0]])
    ax.plot(*bases.T, color=look.FAINT, linewidth=1.0, zorder=1, label="bases")
    for pole in (0, -1):
        ax.plot(
            *np.array([home, line[pole]]).T, color=look.FAINT, linewidth=1.0, linestyle=(0, (5, 2)), zorder=1,
            label="foul line",
        )  # fmt: skip
    return np.vstack([home, line])


def _name_poles(ax: Axes, fence: Fence, sign: float) -> None:
    """Write which side it is, and how far the pole stands, along the outside of each foul line."""
    for bearing in (fence.bearing_deg[0], fence.bearing_deg[-1]):
        turn, away = np.radians(bearing), float(fence.distance(bearing))
        side = "pull side" if bearing > 0 else "opposite field"
        right = np.sign(sign * bearing) or 1.0
        outward = 9.0 * np.array([right * np.cos(turn), -abs(np.sin(turn))])
        look.put(
            ax, 0.72 * sign * away * np.sin(turn), 0.72 * away * np.cos(turn), f"{side}, {plain(away, 0)} ft",
            shift=(float(outward[0]), float(outward[1])), ha="center", va="center", size=look.SMALL,
            color=look.QUIET, rotation=right * (90 - abs(bearing)), rotation_mode="anchor",
        )  # fmt: skip


def _key(ax: Axes, counts: NDArray[np.int64], known: int) -> None:
    """Name marks and counts in a column at the upper right."""
    figure = ax.get_figure(root=True)
    assert figure is not None
    height = ax.get_window_extent().height * 72 / figure.dpi
    texts = {
        number: f"{one.word} {counts[number]:,} ({percent(float(counts[number]) / known)})"
        for number, one in enumerate(OUTCOME_LOOKS)
    }
    wide = max(width_of(text, look.BODY) for text in texts.values())
    across = ax.get_window_extent().width * 72 / figure.dpi
    for row, (number, text) in enumerate(reversed(texts.items())):
        one, y = OUTCOME_LOOKS[number], 1 - (12.0 + 20.0 * row) / height
        x = 1 - (wide + 4) / across
        if number >= 2:
            ax.scatter(
                x - 12 / across, y, s=_SIZES[number], c=one.fill, marker=one.mark, edgecolors=look.INK,
                linewidths=0.6, transform=ax.transAxes, label=f"key of {one.word}",
            )  # fmt: skip
        look.put(
            ax, x, y, text, coords="axes fraction", ha="left", va="center",
            color=look.INK if number >= 2 else look.QUIET,
        )  # fmt: skip


def _swings(number: int) -> str:
    return "1 swing" if number == 1 else f"{number:,} swings"


def _balls(number: int) -> str:
    return "1 fair ball" if number == 1 else f"{number:,} fair balls"


def _title(counts: NDArray[np.int64], known: int) -> str:
    if known == 1:
        return f"In the model, the swing is a {OUTCOME_LOOKS[int(np.argmax(counts))].word}"
    if not counts[5]:
        return f"In the model, none of {known:,} swings is a home run"
    runs = "1 home run" if counts[5] == 1 else f"{counts[5]:,} home runs"
    return f"In the model, {runs} in {known:,} swings ({percent(float(counts[5]) / known)})"


def _below(drawn: int, fair: int, missing: int, fence: Fence) -> str:
    some = "" if drawn == fair else f" {drawn:,} of {_balls(fair)} drawn."
    return (
        "From above, to scale: where each fair ball first touches the ground, home runs "
        "as if no stand stopped "
        f"them.{some} The fence stands {plain(float(fence.distance(0.0)), 0)} ft straight out."
        + (f" {_swings(missing)} with a missing value left out." if missing else "")
    )


def _words(counts: NDArray[np.int64], known: int, missing: int, drawn: int) -> str:
    each = listed(
        [
            f"{one.word} {counts[i]:,} ({percent(float(counts[i]) / known)})"
            for i, one in enumerate(OUTCOME_LOOKS)
        ]
    )
    return (
        f"Field from above with {_balls(drawn)} where they first touch the ground. Of "
        f"{_swings(known)}: {each}."
        + (f" {_swings(missing)} with a missing value left out." if missing else "")
    )
