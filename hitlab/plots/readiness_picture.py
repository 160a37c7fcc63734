"""Ready for the fastball: the parts of the zone in inches, and every hitter against the league."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.patches import Polygon, Rectangle
from matplotlib.text import Annotation
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from hitlab.plots import look
from hitlab.plots.naming import chosen, labels_of, record_text
from hitlab.plots.placing import named_axis, plain, to_scale
from hitlab.plots.registry import draws
from hitlab.readiness import MEASURES, Borders, Readiness
from hitlab.wording import level_words, percent, rate_text

__all__ = ["against_league", "zone_borders"]

_HALF_PLATE_IN = 8.5  # Official Baseball Rules 2.02: home base is 17 inches wide (from memory)
_AT_EACH_END = 5
_ALL_NAMED = 24
_FACTORS = (0.1, 0.2, 0.33, 0.5, 0.67, 0.8, 1.0, 1.25, 1.5, 2.0, 3.0, 5.0, 10.0)
_EVENTS = {
    "fair": "a fair ball, given contact",
    "touched": "contact, given a swing",
    "hard": "a hard-hit ball",
}


def zone_borders(borders: Borders | None = None, ax: Axes | None = None) -> Axes:
    """Draw where the parts of the zone end, in inches relative to the hitter.

    Parameters
    ----------
    borders
        From ``Borders``; the defaults where not given.
    ax
        Axes to draw on; a fresh figure where not given.

    Returns
    -------
    Axes
        To scale: across the inches from the middle of the plate toward the hitter, upward the inches above
        the ground.
    """
    borders = borders or Borders()
    bottom, top = borders.bottom_in, borders.top_in
    tall = top - bottom
    up = bottom + borders.up_from * tall
    low, high = bottom + borders.middle_low * tall, bottom + borders.middle_high * tall
    outer, half = _HALF_PLATE_IN + borders.beyond_in, borders.middle_half_width_in
    ax, own = look.axes_for(ax, 7.6, 7.2)
    zone = Rectangle(
        (-_HALF_PLATE_IN, bottom), 2 * _HALF_PLATE_IN, tall, facecolor="none", edgecolor=look.INK,
        linewidth=1.6, zorder=3, label="zone",
    )  # fmt: skip
    middle = Rectangle(
        (-half, low), 2 * half, high - low, facecolor=look.ACCENTS[1], alpha=0.22, linewidth=0, zorder=1,
        label="over the middle",
    )  # fmt: skip
    corner = Rectangle(
        (borders.in_from_in, up), outer - borders.in_from_in, top + borders.beyond_in - up,
        facecolor=look.ACCENTS[0], alpha=0.32, linewidth=0, zorder=2, label="up and in",
    )  # fmt: skip
    plate = Polygon(
        [(-8.5, 3.4), (8.5, 3.4), (8.5, 1.8), (0, 0), (-8.5, 1.8)], facecolor=look.GRID, edgecolor=look.FAINT,
        linewidth=1.0, label="home plate",
    )  # fmt: skip
    for patch in (middle, corner, zone, plate):
        ax.add_patch(patch)
    ax.set_xticks(sorted({-_HALF_PLATE_IN, -half, 0.0, borders.in_from_in, half, _HALF_PLATE_IN, outer}))
    ax.set_yticks(sorted({0.0, bottom, low, up, high, top, top + borders.beyond_in}))
    for axis in (ax.xaxis, ax.yaxis):
        axis.set_major_formatter(FuncFormatter(lambda value, _: plain(value)))
        axis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    named_axis(ax.xaxis, "inches from the middle of the plate, toward the hitter")
    named_axis(ax.yaxis, "inches above the ground")
    look.put(ax, 0.0, (low + high) / 2, "over the middle", ha="center", va="center", color=look.ACCENTS[1],
             fontweight="bold")  # fmt: skip
    look.put(ax, (borders.in_from_in + outer) / 2, (up + top + borders.beyond_in) / 2, "up and in",
             ha="center", va="center", color=look.ACCENTS[0], fontweight="bold")  # fmt: skip
    look.put(ax, 1.0, 0.5, "the hitter\nstands here", coords="axes fraction", shift=(8, 0), ha="left",
             va="center", color=look.QUIET)  # fmt: skip
    title = "Parts of the zone, relative to the hitter"
    below = (
        f"Outline: the zone of a hitter whose own is not known, {plain(bottom)} to {plain(top)} in; a known "
        "zone is used instead, the borders move with it. What lies in neither part is elsewhere."
    )
    alt = (
        f"The strike zone to scale, 17 inches wide, {plain(bottom)} to {plain(top)} inches above the ground. "
        f"Up and in: from {plain(borders.in_from_in)} to {plain(outer)} inches from the middle of the plate "
        f"toward the hitter, {plain(up)} to {plain(top + borders.beyond_in)} inches high. Over the middle: "
        f"up to {plain(half)} inches either side, {plain(low)} to {plain(high)} inches high."
    )
    look.finish(ax, own, title, below, alt=alt)
    to_scale(ax, (-15.0, 0.0), (max(15.0, outer + 1.0), max(48.0, top + borders.beyond_in + 1.0)))
    return ax


@draws(Readiness)
def against_league(
    readiness: Readiness, ax: Axes | None = None, *, names: Sequence[str] | None = None
) -> Axes:
    """Draw each hitter's odds against the league's at the same speed and place, with intervals.

    Parameters
    ----------
    readiness
        From ``fastball_readiness``.
    ax
        Axes to draw on; a fresh figure where not given. Across stand the log odds against the league, marked
        by what they multiply the odds with.
    names
        Hitters to name; where not given all of up to 24, or the first and last five of more.
    """
    data = readiness.data.assign(label=labels_of(readiness.data, "swings"))
    shown = data[data["effect"].notna()].sort_values("effect", ascending=False, kind="stable")
    shown = shown.reset_index(drop=True)
    if shown.empty:
        return look.nothing(
            ax, "Nobody swung at a fastball here: there is nothing to set against the league."
        )
    count = len(shown)
    ends = [*range(min(count, _AT_EACH_END)), *range(max(0, count - _AT_EACH_END), count)]
    named = chosen(list(shown["label"]), names, range(count) if count <= _ALL_NAMED else ends)
    rows = np.arange(count)
    is_named = np.isin(rows, named)
    ax, own = look.axes_for(ax, 9.6, float(np.clip(1.9 + 0.27 * count, 2.8, 7.4)))
    effect, low, high = (shown[name].to_numpy(float) for name in ("effect", "low", "high"))
    for part, color, width, size, label in (
        (~is_named, look.FAINT, 0.7, 7, "others"),
        (is_named, look.ACCENTS[0], 2.0, 34, "named"),
    ):
        ax.add_collection(
            LineCollection(
                [[(a, row), (b, row)] for a, b, row in zip(low[part], high[part], rows[part], strict=True)],
                colors=color, linewidths=width, zorder=2 if label == "named" else 1,
                label=f"{label}: intervals",
            )
        )  # fmt: skip
        ax.scatter(effect[part], rows[part], s=size, color=color, zorder=3, label=f"{label}: effect")
    ax.axvline(0.0, color=look.INK, linewidth=1.0, linestyle=(0, (4, 3)), zorder=1, label="league")
    reach = max(float(np.abs([low, high]).max()), 0.05) * 1.04
    ax.set_xlim(-reach, reach)
    ax.set_ylim(count - 0.4, -0.6)
    ax.set_yticks([])
    ax.xaxis.set_major_locator(FixedLocator([x for x in np.log(_ticks(reach))]))
    ax.xaxis.set_minor_locator(NullLocator())
    ax.xaxis.set_major_formatter(FuncFormatter(lambda value, _: f"×{plain(float(np.exp(value)), 2)}"))
    ax.xaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    event = _EVENTS[readiness.measure]
    named_axis(ax.xaxis, f"odds of {event}, against the league at the same speed and place")
    look.put(ax, 0.0, 1.0, f"league {rate_text(readiness.rate)}", coords=("data", "axes fraction"),
             shift=(0, 3), ha="center", va="bottom", size=look.SMALL)  # fmt: skip
    words = _named(ax, shown, named, low, high)
    return look.finish(ax, own, _title(readiness), _caption(readiness, count), alt=_alt(readiness, shown, named),
                       apart=words)  # fmt: skip


def _ticks(reach: float) -> list[float]:
    inside = [factor for factor in _FACTORS if abs(np.log(factor)) <= reach]
    return inside if len(inside) > 2 else [float(np.exp(step)) for step in (-0.8 * reach, 0.0, 0.8 * reach)]


def _named(
    ax: Axes, shown: pd.DataFrame, named: np.ndarray, low: np.ndarray, high: np.ndarray
) -> list[list[Annotation]]:
    """Write names and records on the left, the share on the league's pitches on the right."""
    sides: list[list[Annotation]] = [[], []]
    edges = ax.get_xlim()
    ax.add_collection(
        LineCollection(
            [
                line
                for row in named
                for line in ([(edges[0], row), (low[row], row)], [(high[row], row), (edges[1], row)])
            ],
            colors=look.GRID, linewidths=0.8, zorder=0, label="leads",
        ),
        autolim=False,
    )  # fmt: skip
    for row in named:
        line = shown.iloc[row]
        texts = (
            f"{line['label']}  {record_text(line['successes'], line['tries'])}",
            f"{rate_text(float(line['adjusted']))}   {percent(float(line['chance_above']))}",
        )
        for side, text in enumerate(texts):
            lines, letters = look.narrowed(text, look.SMALL)
            sides[side].append(
                look.put(
                    ax, float(side), row, "\n".join(lines), coords=("axes fraction", "data"),
                    shift=(16 if side else -16, 0), ha="left" if side else "right", va="center", size=letters,
                    arrowprops=look.lead(look.FAINT, 0 if side else 1),
                )
            )  # fmt: skip
    look.put(ax, 1.0, 1.0, "adjusted, chance above", coords="axes fraction", shift=(16, 3), ha="left",
             va="bottom", size=look.SMALL, color=look.QUIET)  # fmt: skip
    return sides


def _title(readiness: Readiness) -> str:
    return f"Ready for the fastball: {MEASURES[readiness.measure]} against the league"


def _caption(readiness: Readiness, count: int) -> str:
    return (
        "Fewer than two strikes. Dot: odds against the league's on the same pitches, shrunk; line: "
        f"{level_words(readiness.level)} posterior interval of the log odds. Beside the name the record; at "
        "the right the rate on the league's pitches and the chance to be better than the league. "
        f"{count:,} {'hitter' if count == 1 else 'hitters'}."
    )


def _alt(readiness: Readiness, shown: pd.DataFrame, named: np.ndarray) -> str:
    parts = [
        f"{line['label']} {record_text(line['successes'], line['tries'])}, odds times "
        f"{plain(float(np.exp(line['effect'])), 2)} ({plain(float(np.exp(line['low'])), 2)} to "
        f"{plain(float(np.exp(line['high'])), 2)}), chance to be above {percent(float(line['chance_above']))}"
        for _, line in shown.iloc[named].iterrows()
    ]
    return (
        f"{len(shown):,} hitters by {MEASURES[readiness.measure]} on fastballs with fewer than two strikes, "
        f"against the league ({rate_text(readiness.rate)}) at the same speed and place, with "
        f"{level_words(readiness.level)} posterior intervals: {'; '.join(parts)}."
    )
