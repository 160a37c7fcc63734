"""One event over several denominators: the slope between two of them, and panels side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.text import Annotation
from matplotlib.ticker import FuncFormatter, MaxNLocator

from hitlab.counting.events import event_words, per_words
from hitlab.counting.rates import Denominators
from hitlab.errors import MissingColumnsError
from hitlab.plots import look
from hitlab.plots.naming import chosen, place_text
from hitlab.plots.rate_pictures import behind, from_where
from hitlab.plots.registry import draws
from hitlab.wording import capitalised, hitters_text, listed, rate_text, record_text

__all__ = ["denominators_side_by_side", "two_denominators"]

_NAMED = 3  # at the head of each list
_BYSTANDERS = "#C3C7C8"  # lines of those not named: their number is seen, not one of them


@draws(Denominators)
def two_denominators(
    result: Denominators,
    ax: Axes | None = None,
    *,
    left: str = "in_play",
    right: str = "swings",
    by: Literal["rank", "rate"] = "rank",
    names: Sequence[str] | None = None,
) -> Axes:
    """Draw how the same hitters stand per one denominator and per another.

    Parameters
    ----------
    result
        From ``denominators``.
    ax
        Axes to draw on; a fresh figure where not given.
    left, right
        The two denominators.
    by
        ``rank`` (1 at the top; equal rates share the better rank) or ``rate`` (both on one scale).
    names
        Hitters to name; the first three of each list where not given. The others are drawn faint.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Raises
    ------
    MissingColumnsError
        Where a denominator is not in the result.
    UnknownHitterError
        Where a name asked for is not in it.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, two_denominators
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> sides = hitlab.counting.denominators(team, "hard", over=["swings", "in_play"])
    >>> ax = two_denominators(sides, left="in_play", right="swings")
    >>> print(fill(describe(ax).split(". ")[0], 90))
    Slope chart of hard-hit balls for 3 hitters, per ball in play on the left and per swing on
    the right
    """
    for per in (left, right):
        if per not in result.over:
            why = result.left_out.get(per, "it was not asked for")
            raise MissingColumnsError(
                f"the result has no rates per {per_words(per)}: {why}; there are {', '.join(result.over)}"
            )
    rated = result.data[f"rank_{left}"].notna() & result.data[f"rank_{right}"].notna()
    data = result.data[rated].reset_index(drop=True)
    labels = [label for label, keep in zip(result.labels, rated, strict=True) if keep]
    what = event_words(result.event)
    if data.empty:
        return look.nothing(
            ax, f"No hitter here has both {per_words(left, 2)} and {per_words(right, 2)}: nothing to draw."
        )
    sides = (left, right)
    columns = [f"{by}_{per}" if by == "rank" else f"per_{per}" for per in sides]
    ends = data[columns].to_numpy(float)
    ranks = data[[f"rank_{per}" for per in sides]].to_numpy(int)
    first = np.argsort(ranks, axis=0, kind="stable")[:_NAMED]
    named = chosen(labels, names, [int(i) for i in first.ravel()])
    ax, own = look.axes_for(ax, 9.6, 6.4)
    is_named = np.isin(np.arange(len(data)), named)
    colors = {int(i): look.ACCENTS[0 if ends[i, 1] == _best(ends[:, 1], by) else 1] for i in named}
    others = np.flatnonzero(~is_named)
    for rows, zorder, width in ((others, 1, 0.4), (named, 3, 2.0)):
        shades = [colors.get(int(i), _BYSTANDERS) for i in rows]
        lines = LineCollection(
            [[(0.0, ends[i, 0]), (1.0, ends[i, 1])] for i in rows],
            colors=shades,
            linewidths=width,
            zorder=zorder,
            label="named" if zorder == 3 else "others",
        )
        ax.add_collection(lines, autolim=False)
        size = 30 if zorder == 3 else 7
        for side in (0, 1):
            dots = [_dot(shade) for shade in shades]
            ax.scatter(np.full(len(rows), float(side)), ends[rows, side], s=size, c=dots, zorder=zorder)
    ax.set_xlim(-0.02, 1.02)
    spread = max(float(np.ptp(ends)), 1.0 if by == "rank" else 0.01)
    low, high = ends.min() - 0.03 * spread, ends.max() + 0.03 * spread
    ax.set_ylim((high, low) if by == "rank" else (0.0, high))
    ax.set_yticks([])
    if by == "rate":
        _draw_scale(ax, high)
    ax.set_xticks([])
    ax.spines["bottom"].set_visible(False)
    written = []
    for side, per in enumerate(sides):
        look.put(
            ax,
            side,
            1.0,
            f"per {per_words(per)}",
            coords=("data", "axes fraction"),
            shift=(0, 8),
            ha="left" if side else "right",
            va="bottom",
            color=look.QUIET,
        )
        written.append(_side_labels(ax, data, labels, result.event, per, named, ends[:, side], colors, side))
    leaders = [listed([labels[i] for i in np.flatnonzero(ranks[:, side] == 1)]) for side in (0, 1)]
    title = (
        f"{capitalised(what)}: highest per {per_words(left)} {leaders[0]}, per {per_words(right)} "
        f"{leaders[1]}"
    )
    scale = (
        "Height is the rank, 1 at the top (= shared)"
        if by == "rank"
        else "Height is the rate, from zero, one scale for both sides"
    )
    below = f"{scale}. Each label: rank, hitter, rate, record. {_how_many(len(data), len(named))}."
    alt = _slope_words(data, labels, result.event, sides, named, what)
    return look.finish(ax, own, title, below, alt=alt, apart=written)


def _dot(shade: str) -> str:
    return look.FAINT if shade == _BYSTANDERS else shade


def _draw_scale(ax: Axes, high: float) -> None:
    """Draw a scale of rates from zero in the middle, between the labels of the two sides."""
    ticks = [tick for tick in MaxNLocator(5).tick_values(0.0, high) if 0 <= tick <= high]
    for tick in ticks:
        ax.axhline(tick, color=look.GRID, linewidth=0.8, zorder=0, label="scale")
        look.put(
            ax, 0.5, tick, rate_text(float(tick)) if tick else "0", shift=(0, 2), ha="center",
            va="bottom", size=look.SMALL, color=look.QUIET, zorder=4,
            bbox={"facecolor": look.BACKGROUND, "edgecolor": "none", "pad": 0.6},
        )  # fmt: skip


def _best(values: np.ndarray, by: str) -> float:
    return float(values.min() if by == "rank" else values.max())


def _how_many(drawn: int, named: int) -> str:
    hitters = hitters_text(drawn)
    return hitters if named == drawn else f"{hitters}, {named} named"


def _side_labels(
    ax: Axes,
    data: pd.DataFrame,
    labels: Sequence[str],
    event: str,
    per: str,
    named: np.ndarray,
    heights: np.ndarray,
    colors: dict[int, str],
    side: int,
) -> list[Annotation]:
    shared = data[f"rank_{per}"].duplicated(keep=False)
    written = []
    for i in sorted(named, key=lambda i: (int(data[f"rank_{per}"].iloc[i]), labels[i])):
        rank = f"{int(data[f'rank_{per}'].iloc[i])}{'=' if shared.iloc[i] else ''}"
        rate = rate_text(float(data[f"per_{per}"].iloc[i]))
        record = record_text(data[event].iloc[i], data[per].iloc[i])
        lines, size = look.narrowed(f"{rank}  {labels[i]}  {rate}, {record}", look.SMALL)
        written.append(
            look.put(
                ax,
                side,
                heights[i],
                "\n".join(lines),
                shift=(14 if side else -14, 0),
                ha="left" if side else "right",
                va="center",
                color=colors[int(i)],
                size=size,
                arrowprops=look.lead(colors[int(i)], 0 if side else 1),
            )
        )
    return written


def _slope_words(
    data: pd.DataFrame,
    labels: Sequence[str],
    event: str,
    sides: tuple[str, str],
    named: np.ndarray,
    what: str,
) -> str:
    parts = []
    for i in named:
        stands = []
        for per in sides:
            rank = data[f"rank_{per}"]
            place = place_text(int(rank.iloc[i]), bool((rank == rank.iloc[i]).sum() > 1))
            rate = rate_text(float(data[f"per_{per}"].iloc[i]))
            record = record_text(data[event].iloc[i], data[per].iloc[i])
            stands.append(f"{place} per {per_words(per)} ({rate}, {record})")
        parts.append(f"{labels[i]} is {listed(stands)}.")
    return (
        f"Slope chart of {what} for {hitters_text(len(data))}, per {per_words(sides[0])} on the left and "
        f"per {per_words(sides[1])} on the right. " + " ".join(parts)
    )


def denominators_side_by_side(
    result: Denominators,
    ax: Axes | None = None,
    *,
    names: Sequence[str] = (),
    top: int = 10,
    of: str = "",
    source: str = "",
) -> Axes:
    """Draw small panels, one a denominator, with the same hitters in the same order.

    Those who are not shown are counted in the words, and not drawn: the ranks of all are evenly spread
    whoever they are, so that a cloud of them would have no shape, and would press those who are shown.

    Parameters
    ----------
    result
        From ``denominators``.
    ax
        Axes to draw on; the panels are set into it (``ax.child_axes``).
    names
        Hitters to show whatever their place, in a colour of their own.
    top
        How many from the head of the list, by the rate per swing.
    of
        What is said of the list behind its title, such as ``with two strikes, the 15 hitters of the Larks``.
    source
        Where the counts come from, to stand in the caption: ``league.csv; counts 1f0c33a52d1b``.

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
    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import denominators_side_by_side, describe
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> sides = hitlab.counting.denominators(team, "hard", over=["swings", "in_play"])
    >>> ax = denominators_side_by_side(sides)
    >>> print(fill(describe(ax), 90))
    2 panels. Runa Kvalbakk, 104 hard-hit balls: .260 per swing (rank 1) and .547 per ball in
    play (rank 1). Nils Haxditch, 70 hard-hit balls: .184 per swing (rank 2) and .350 per ball
    in play (rank 3). Zora Quarmoor, 63 hard-hit balls: .180 per swing (rank 3) and .420 per
    ball in play (rank 2).
    """
    order_by = "swings" if "swings" in result.over else result.over[0]
    # A hitter without one of the denominators has no rank in it.
    ranks = {f"rank_{per}": result.data[f"rank_{per}"].astype(float) for per in result.over}
    data = result.data.assign(label=list(result.labels), **ranks)
    ordered = data[data[f"rank_{order_by}"].notna()].sort_values(f"rank_{order_by}", kind="stable")
    labels = list(ordered["label"])
    asked = chosen(labels, names, ())
    shown = ordered.iloc[np.union1d(np.arange(min(top, len(ordered))), asked).astype(int)]
    rest = len(ordered) - len(shown)
    if shown.empty:
        return look.nothing(ax, f"No hitter here has any {per_words(order_by, 2)}: nothing to draw.")
    what, rows = event_words(result.event), np.arange(len(shown))
    ax, own = look.axes_for(ax, 12.8, 2.4 + 0.4 * len(shown))
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    wide = 1.0 / len(result.over)
    words = []
    marked = _two_leaders(result, shown, order_by)
    for place in ordered.index[asked]:
        marked.setdefault(int(place), 2)
    # One scale for all panels: a rank. Rates of several denominators have none in common.
    last = float(shown[[f"rank_{per}" for per in result.over]].max().max())
    for number, per in enumerate(result.over):
        panel, _ = look.axes_for(ax.inset_axes((number * wide, 0.0, wide * 0.92, 1.0)))
        rates = shown[f"per_{per}"].to_numpy(float)
        places = shown[f"rank_{per}"].to_numpy()
        shared = result.data[f"rank_{per}"].duplicated(keep=False).loc[shown.index].to_numpy(bool)
        shades = [look.ACCENTS[marked[place]] if place in marked else look.QUIET for place in shown.index]
        for row in range(len(shown)):
            panel.axhline(row, color=look.GRID, linewidth=0.8, zorder=0)
        told = np.isfinite(places)
        panel.scatter(
            places[told], rows[told], s=38, c=[s for s, t in zip(shades, told, strict=True) if t], zorder=2
        )
        panel.set_xlim(1 - 0.06 * max(last - 1, 1), 1 + 1.95 * max(last - 1, 1))
        panel.set_ylim(len(shown) - 0.5, -0.5)
        panel.set_yticks([])
        panel.set_xticks([1.0, last] if last > 1 else [1.0])
        panel.xaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:.0f}"))
        panel.spines["bottom"].set_visible(False)
        panel.axvline(1.0, color=look.FAINT, linewidth=0.8, zorder=0, label="first")
        look.put(
            panel, 0, 1, f"per {per_words(per)}", coords="axes fraction", shift=(0, 4), va="bottom", ha="left"
        )
        if number == 0:
            inks = [look.INK if place not in marked else look.ACCENTS[marked[place]] for place in shown.index]
            look.columns(panel, "left", [list(shown["label"])], inks)
        for row, (_, line) in enumerate(shown.iterrows()):
            if not np.isfinite(rates[row]):
                continue
            rank = f"{int(line[f'rank_{per}'])}{'=' if shared[row] else ''}"
            record = record_text(line[result.event], line[per])
            look.put(
                panel, 1.0, row, f"{rank}  {rate_text(rates[row])}\n{record}",
                coords=("axes fraction", "data"), ha="right", va="center", size=look.SMALL,
                color=shades[row], linespacing=1.0,
                bbox={"facecolor": look.BACKGROUND, "edgecolor": "none", "pad": 0.6},
            )  # fmt: skip
    for _, line in shown.iterrows():
        each = [
            f"{rate_text(float(line[f'per_{per}']))} per {per_words(per)} (rank {int(line[f'rank_{per}'])})"
            for per in result.over
            if not pd.isna(line[f"rank_{per}"])
        ]
        words.append(f"{line['label']}, {int(line[result.event]):,} {what}: {listed(each)}.")
    over = listed([f"per {per_words(per)}" for per in result.over])
    title = f"{capitalised(what)} {over}{behind(of)}"
    beyond = f" The other {rest:,} are not drawn." if rest else ""
    below = (
        f"The same hitters in the same order, by rate per {per_words(order_by)}. Place: the rank from 1 at "
        f"the left, one scale for all panels; beside it rank (= shared) among "
        f"{hitters_text(len(result.data))}, rate and record."
        f"{_leader_words(result, shown, marked)}{beyond}{from_where(source)}"
    )
    panels = f"{len(result.over)} panels{behind(of)}. "
    return look.finish(ax, own, title, below, alt=panels + " ".join(words) + beyond)


def _two_leaders(result: Denominators, shown: pd.DataFrame, first: str) -> dict[int, int]:
    """Return whom to mark, with the number of the accent: who leads per the first, and per ball in play."""
    other = "in_play" if "in_play" in result.over and first != "in_play" else result.over[-1]
    marked: dict[int, int] = {}
    for accent, per in enumerate((first, other)):
        for place in shown.index[shown[f"rank_{per}"] == 1]:
            marked.setdefault(int(place), accent)
    return marked


def _leader_words(result: Denominators, shown: pd.DataFrame, marked: dict[int, int]) -> str:
    """Say who is marked, and why."""
    told = []
    for place in marked:
        first = [f"per {per_words(per)}" for per in result.over if shown[f"rank_{per}"].loc[place] == 1]
        why = f"first {listed(first)}" if first else "asked for"
        told.append(f"{shown['label'].loc[place]}, {why}")
    return f" In colour: {'; '.join(told)}." if told else ""
