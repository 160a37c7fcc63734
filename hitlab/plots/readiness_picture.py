"""Ready for the fastball: the parts of the zone in inches, and every hitter against the league."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.patches import Circle, Polygon, Rectangle
from matplotlib.text import Annotation
from matplotlib.ticker import FuncFormatter
from numpy.typing import NDArray

from hitlab.approach.readiness import MEASURES, Readiness
from hitlab.counting.places import Borders
from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.naming import chosen, labels_of
from hitlab.plots.odds_axis import odds_axis
from hitlab.plots.placing import Label, named_axis, place_labels, plain, to_scale
from hitlab.plots.registry import draws
from hitlab.wording import capitalised, chance_text, hitters_text, level_words, rate_text, record_text

__all__ = ["against_league", "zone_borders"]

_HALF_PLATE_IN = 8.5  # Official Baseball Rules 2.02: home base is 17 inches wide (from memory)
_AT_EACH_END = 5
_ALL_NAMED = 24
_MIDDLE, _CORNER = "#CFE0E2", "#EBC9B5"
"""Pale teal and rust: areas behind text in the accents."""
_EVENTS = {
    "not_late": "a foul not going late",
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

    Examples
    --------
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, zone_borders
    >>> ax = zone_borders()
    >>> print(fill(describe(ax), 90))
    The strike zone to scale, 17 inches wide, 19 to 42 inches above the ground. Up and in:
    from 2.8 to 12.5 inches from the middle of the plate toward the hitter, 34.3 to 46 inches
    high. Over the middle: up to 5.7 inches either side, 24.8 to 36.2 inches high, less what
    is up and in.
    """
    borders = borders or Borders()
    bottom, top = borders.bottom_in, borders.top_in
    tall = top - bottom
    up = bottom + borders.up_from * tall
    low, high = bottom + borders.middle_low * tall, bottom + borders.middle_high * tall
    half = borders.middle_half_width_in
    corner_low, corner_high = borders.in_from_in, _HALF_PLATE_IN + borders.beyond_in
    above = top + borders.beyond_in
    ax, own = look.axes_for(ax, 8.0, look.TALLEST)
    boxes: dict[str, tuple[tuple[float, float], tuple[float, float]]] = {
        "over the middle": ((-half, low), (half, high)),
        "up and in": ((corner_low, up), (corner_high, above)),
        "zone": ((-_HALF_PLATE_IN, bottom), (_HALF_PLATE_IN, top)),
    }
    fills = {"over the middle": _MIDDLE, "up and in": _CORNER, "zone": "none"}
    for order, (name, ((x0, y0), (x1, y1))) in enumerate(boxes.items(), start=1):
        ax.add_patch(
            Rectangle(
                (x0, y0), x1 - x0, y1 - y0, facecolor=fills[name], edgecolor=look.INK,
                linewidth=1.6 if name == "zone" else 0.0, zorder=order, label=name,
            )
        )  # fmt: skip
    ax.add_patch(
        Polygon(
            [(-8.5, 3.4), (8.5, 3.4), (8.5, 1.8), (0, 0), (-8.5, 1.8)], facecolor=look.GRID, linewidth=0,
            label="home plate",
        )
    )  # fmt: skip
    stands = max(26.0, corner_high + 13.0)
    ax.plot([stands, stands], [1.5, 48.0], color=look.GRID, linewidth=20, solid_capstyle="round", zorder=0,
            label="hitter")  # fmt: skip
    ax.add_patch(Circle((stands, 55.5), 3.6, facecolor=look.GRID, linewidth=0, zorder=0, label="hitter"))
    ax.set_xticks([-_HALF_PLATE_IN, 0.0, _HALF_PLATE_IN])
    ax.set_yticks([0.0, bottom, top])
    for axis in (ax.xaxis, ax.yaxis):
        axis.set_major_formatter(FuncFormatter(lambda value, _: plain(value)))
    named_axis(ax.xaxis, "inches from the middle of the plate, positive toward the hitter")
    named_axis(ax.yaxis, "inches above the ground")
    below = (
        f"Outline: the zone of a hitter whose own is not known, {plain(bottom)} to {plain(top)} in high and "
        "17 in wide; a known zone takes its place and moves the borders. Where both parts meet, up and in "
        "goes first; the rest is elsewhere."
    )
    alt = (
        f"The strike zone to scale, 17 inches wide, {plain(bottom)} to {plain(top)} inches above the ground. "
        f"Up and in: from {plain(corner_low)} to {plain(corner_high)} inches from the middle of the plate "
        f"toward the hitter, {plain(up)} to {plain(above)} inches high. Over the middle: up to {plain(half)} "
        f"inches either side, {plain(low)} to {plain(high)} inches high, less what is up and in."
    )
    look.finish(ax, own, "Parts of the zone, relative to the hitter", below, alt=alt)
    to_scale(ax, (-15.0, 0.0), (stands + 5.0, max(60.0, above + 1.0)))
    x, y = (corner_low + corner_high) / 2, (up + above) / 2
    labels = [
        Label("up and in", (x, above), (0, 1), look.ACCENTS[0], look.BODY + 1, "bold"),
        Label("over\nthe middle", (0.0, (low + high) / 2), (0, 1), look.ACCENTS[1], look.BODY + 1, "bold"),
        Label(f"{plain(corner_low)} inches", (corner_low, y), (-1, 0), look.ACCENTS[0], look.SMALL),
        Label(f"{plain(corner_high)} inches", (corner_high, y), (1, 0), look.ACCENTS[0], look.SMALL),
        Label(f"{plain(up)} inches high", (corner_high, up), (1, 0), look.ACCENTS[0], look.SMALL),
        Label(f"{plain(above)} inches high", (corner_high, above), (1, 0), look.ACCENTS[0], look.SMALL),
        Label(f"{plain(-half)} inches", (-half, low), (0, -1), look.ACCENTS[1], look.SMALL),
        Label(f"{plain(half)} inches", (half, low), (0, -1), look.ACCENTS[1], look.SMALL),
        Label(f"{plain(low)} inches high", (-half, low), (-1, 0), look.ACCENTS[1], look.SMALL),
        Label(f"{plain(high)} inches high", (-half, high), (-1, 0), look.ACCENTS[1], look.SMALL),
        Label("hitter", (stands - 1.5, 10.0), (-1, 0), look.QUIET),
    ]
    figure = np.column_stack([np.full(60, stands), np.linspace(0.0, 59.0, 60)])
    place_labels(ax, labels, np.vstack([figure, *(_outline(*box) for box in boxes.values())]))
    keep_words(ax, alt)
    return ax


def _outline(low: tuple[float, float], high: tuple[float, float]) -> NDArray[np.float64]:
    corners = np.array([low, (high[0], low[1]), high, (low[0], high[1]), low])
    steps = np.linspace(0.0, 1.0, 40)[:, None]
    return np.vstack([one + steps * (other - one) for one, other in pairwise(corners)])


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

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Raises
    ------
    UnknownHitterError
        Where nobody on the picture, or more than one, has a name asked for.

    Examples
    --------
    The hitters of one club against one another:

    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import against_league, describe
    >>> season = hitlab.demo_season()
    >>> club = pd.read_parquet(season, filters=[("club", "==", "Saltmere Lanterns")])
    >>> ready = hitlab.approach.fastball_readiness(club, measure="touched")
    >>> ax = against_league(ready, names=["Tobiah Sorashige"])
    >>> print(fill(describe(ax).split(";")[0], 90))
    15 hitters by contact per swing on fastballs, fewer than two strikes, against the league
    (.785) at the same speed and place, with 90 % posterior intervals: Tobiah Sorashige 142 of
    203, odds times 0.67 (0.52 to 0.87), chance to be above less than 1 %.
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
    ax, own = look.axes_for(ax, 9.6, float(np.clip(1.9 + 0.27 * count, 2.8, look.TALLEST)))
    effect, low, high = (shown[name].to_numpy(float) for name in ("effect", "low", "high"))
    for part, color, width, size, label in (
        (~is_named, look.FAINT, 0.5, 5, "others"),
        (is_named, look.ACCENTS[0], *((2.0, 34) if count <= _ALL_NAMED else (1.2, 16)), "named"),
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
    edge = max(0.6, 0.012 * count)
    ax.set_ylim(count - 1 + edge, -edge)
    ax.set_yticks([])
    ax.set_axisbelow(True)
    event = _EVENTS[readiness.measure]
    odds_axis(ax.xaxis, reach, f"odds of {event}, against the league at the same speed and place")
    look.put(ax, 0.0, 1.0, f"league {rate_text(readiness.rate)}", coords=("data", "axes fraction"),
             shift=(0, 3), ha="center", va="bottom", size=look.SMALL)  # fmt: skip
    words = _named(ax, shown, named, low, high)
    alt = _alt(readiness, shown, named)
    return look.finish(ax, own, _title(readiness), _caption(readiness, shown), alt=alt, apart=words)


def _named(
    ax: Axes, shown: pd.DataFrame, named: NDArray[Any], low: NDArray[Any], high: NDArray[Any]
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
            f"{rate_text(float(line['adjusted']))}   {chance_text(float(line['chance_above']))}",
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
    look.put(ax, 1.0, 1.0, "rate, chance above league", coords="axes fraction", shift=(16, 3), ha="left",
             va="bottom", size=look.SMALL, color=look.QUIET)  # fmt: skip
    return sides


def _title(readiness: Readiness) -> str:
    return f"Ready for the fastball: {MEASURES[readiness.measure]} against the league"


def _caption(readiness: Readiness, shown: pd.DataFrame) -> str:
    apart = int(((shown["low"] > 0) | (shown["high"] < 0)).sum())
    return (
        f"{capitalised(readiness.count_words)}. Dot: odds against the league's on the same pitches, shrunk; "
        f"line: {level_words(readiness.level)} posterior interval of the log odds. Beside the name the "
        "record; at the right the rate on the league's pitches and the chance to be above the league. "
        f"{hitters_text(len(shown))}; {apart or 'no'} "
        f"{'interval leaves' if apart < 2 else 'intervals leave'} the league out."
    )


def _alt(readiness: Readiness, shown: pd.DataFrame, named: NDArray[Any]) -> str:
    parts = [
        f"{line['label']} {record_text(line['successes'], line['tries'])}, odds times "
        f"{plain(float(np.exp(line['effect'])), 2)} ({plain(float(np.exp(line['low'])), 2)} to "
        f"{plain(float(np.exp(line['high'])), 2)}), chance to be above "
        f"{chance_text(float(line['chance_above']))}"
        for _, line in shown.iloc[named].iterrows()
    ]
    return (
        f"{hitters_text(len(shown))} by {MEASURES[readiness.measure]} on fastballs, {readiness.count_words}, "
        f"against the league ({rate_text(readiness.rate)}) at the same speed and place, with "
        f"{level_words(readiness.level)} posterior intervals: {'; '.join(parts)}."
    )
