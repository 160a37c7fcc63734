"""Labels beside what they name, clear of each other and of the drawing; axes drawn to scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.text import Annotation
from numpy.typing import NDArray

from hitlab.plots import look
from hitlab.plots.lettering import families, width_of

__all__ = ["Label", "named_axis", "place_labels", "plain", "to_scale"]

_LEADING = 1.25  # height of a line, in type sizes
_NEAR = 14.0  # points: farther away a thin line leads to the mark
_DISTANCES = (5.0, 10.0, 18.0, 28.0, 40.0, 56.0, 76.0, 100.0, 130.0, 165.0)  # points
_CLOSE = 3.0  # points kept free around a label

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Label:
    """A label that looks for its place.

    Attributes
    ----------
    text
        One line or more.
    at
        The place it names, in data coordinates.
    toward
        Where it would rather stand, as a direction; upward positive.
    color, size, weight
        Of the letters.
    dot
        Whether it stands away from the place, with a thin line that ends there in a dot.
    """

    text: str
    at: tuple[float, float]
    toward: tuple[float, float] = (1.0, 0.0)
    color: str = look.INK
    size: float = look.BODY
    weight: str = "normal"
    dot: bool = False


def plain(value: float, digits: int = 1) -> str:
    """Write a number with its last zeros left out and no negative zero."""
    text = f"{value:,.{digits}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.removeprefix("-") if float(text.replace(",", "")) == 0 else text


def to_scale(ax: Axes, low: tuple[float, float], high: tuple[float, float]) -> None:
    """Show at least the given rectangle, an inch across as long as an inch upward."""
    frame = ax.get_window_extent()
    corners = np.array([low, high], dtype=float)
    middle, size = corners.mean(axis=0), np.ptp(corners, axis=0)
    pixels = np.array([frame.width, frame.height])
    # Whichever way has room to spare shows more, so that the axes keep their place.
    size = np.maximum(size, pixels * np.max(size / pixels))
    ax.set_xlim(middle[0] - size[0] / 2, middle[0] + size[0] / 2)
    ax.set_ylim(middle[1] - size[1] / 2, middle[1] + size[1] / 2)
    ax.set_aspect("equal", adjustable="box")
    ax.apply_aspect()


def place_labels(
    ax: Axes,
    labels: Sequence[Label],
    drawn: Points,
    *,
    inside: tuple[float, float, float, float] | None = None,
    before: Sequence[Annotation] = (),
) -> list[Annotation]:
    """Write labels beside their places, the first ones first, after the layout is final.

    Parameters
    ----------
    labels
        In the order of their importance.
    drawn
        Points on what is drawn, shape (n, 2), data coordinates; labels keep off them where they can.
    inside
        Display pixels (left, bottom, right, top) to stay in; the axes' frame where not given.
    before
        What is written already: neither labels nor the lines to their marks cross it.

    Notes
    -----
    Each label takes the cheapest of 24 directions at ten distances: leaving the frame and lying on another
    label cost most, then lying on the drawing, then distance and direction.
    """
    figure = ax.get_figure(root=True)
    assert figure is not None
    scale = figure.dpi / 72
    frame = ax.get_window_extent()
    left, bottom, right, top = inside or (frame.x0, frame.y0, frame.x1, frame.y1)
    transform: Any = ax.transData
    avoid = transform.transform(np.asarray(drawn, dtype=float).reshape(-1, 2))
    turn = np.radians(np.arange(0, 360, 15))
    directions = np.column_stack([np.cos(turn), np.sin(turn)])
    ways = np.repeat(directions, len(_DISTANCES), axis=0)
    far = np.tile(_DISTANCES, len(directions)) * scale
    taken = np.array([text.get_window_extent().extents for text in before]).reshape(-1, 4)
    written = []
    for label in labels:
        lines = label.text.split("\n")
        # Letters are fitted to pixels, so a line is drawn up to a fortieth wider than in proportion.
        half = (
            np.array(
                [
                    1.03 * max(width_of(line, label.size, label.weight) for line in lines),
                    _LEADING * label.size * len(lines),
                ]
            )
            * scale
            / 2
        )
        anchor = transform.transform(label.at)
        # A box to the side is centred on its height, one above on its width, and smoothly between.
        centre = anchor + ways * far[:, None] + half * np.clip(1.3 * ways, -1, 1)
        low, high = centre - half, centre + half
        out = np.clip(left - low[:, 0], 0, None) + np.clip(high[:, 0] - right, 0, None)
        out += np.clip(bottom - low[:, 1], 0, None) + np.clip(high[:, 1] - top, 0, None)
        room = _CLOSE * scale
        cost = 1e4 * (out > 0) + 100 * out
        if len(taken):
            across = (
                np.minimum(high[:, None, 0], taken[:, 2]) - np.maximum(low[:, None, 0], taken[:, 0]) + room
            )
            along = (
                np.minimum(high[:, None, 1], taken[:, 3]) - np.maximum(low[:, None, 1], taken[:, 1]) + room
            )
            lies_on = (across > 0) & (along > 0)
            cost += (lies_on * (5e4 + across * along)).sum(axis=1)
            # The thin line to the mark should not run through another label.
            steps = np.linspace(0, 1, 12)[1:-1, None, None]
            leads = anchor + steps * (centre - ways * half - anchor)
            hits = (
                (leads[:, :, None, 0] > taken[:, 0])
                & (leads[:, :, None, 0] < taken[:, 2])
                & (leads[:, :, None, 1] > taken[:, 1])
                & (leads[:, :, None, 1] < taken[:, 3])
            )
            cost += 2e3 * hits.any(axis=0).sum(axis=1)
        if len(avoid):
            least, most = low - room, high + room
            # Those that no place reaches are left out, and each axis stands by itself: half of the time.
            near = avoid[((avoid > least.min(axis=0)) & (avoid < most.max(axis=0))).all(axis=1)]
            across, up = near.T.copy()
            covers = (
                (across > least[:, :1]) & (across < most[:, :1]) & (up > least[:, 1:]) & (up < most[:, 1:])
            )
            cost += 40 * covers.sum(axis=1)
        wish = np.array(label.toward) / max(float(np.hypot(*label.toward)), 1e-12)
        cost += far / scale + 25 * (1 - ways @ wish)
        if label.dot:
            cost += 1e4 * (far <= _NEAR * scale)  # else the line cannot be seen
        best = int(np.argmin(cost))
        taken = np.vstack([taken, [*low[best], *high[best]]])
        leads_to = far[best] > _NEAR * scale
        if leads_to:
            edge = np.clip(anchor, low[best], high[best])
            avoid = np.vstack([avoid, anchor + np.linspace(0, 1, 12)[:, None] * (edge - anchor)])
        if label.dot:
            ax.plot(
                *label.at, "o", color=label.color, markersize=6, markeredgecolor=look.BACKGROUND, zorder=5,
                label=f"{label.text}: place", scalex=False, scaley=False,
            )  # fmt: skip
        shift = (centre[best] - anchor) / scale
        written.append(
            look.put(
                ax,
                *label.at,
                label.text,
                shift=(float(shift[0]), float(shift[1])),
                ha="center",
                va="center",
                size=label.size,
                color=label.color,
                fontweight=label.weight,
                linespacing=1.15,
                zorder=6,
                arrowprops=_lead(label, anchor, low[best], high[best]) if leads_to else None,
            )
        )
    return written


def _lead(label: Label, anchor: Points, low: Points, high: Points) -> dict[str, Any]:
    """Return the thin line from the label's nearest edge to its mark."""
    nearest = (np.clip(anchor, low, high) - low) / (high - low)
    line = look.lead(label.color, 0.0) | {"relpos": (float(nearest[0]), float(nearest[1]))}
    # A line to a dot may cross any fill.
    return line | {"path_effects": look.cased(line["linewidth"])} if label.dot else line


def named_axis(axis: Any, words: str) -> None:
    """Give an axis its title in plain words."""
    axis.set_label_text(words, fontsize=look.SMALL, color=look.QUIET, fontfamily=families(words))
    axis.label.set_parse_math(False)
