"""Pictures of one hitter among all: what became of the swings, and where the rates stand."""

from __future__ import annotations

import numpy as np
import pandas as pd
from matplotlib.axes import Axes

from hitlab.plots import look
from hitlab.plots.lettering import width_of
from hitlab.spoken import share_said
from hitlab.wording import percent, rate_text

__all__ = ["standing", "swings_became"]

_FILLS = (look.FAINT, "#C9D5D6", look.ACCENTS[1], look.GRID, look.ACCENTS[0])
"""From the left: missed, fouled, in play, in play of unknown hardness, hit hard."""
_TALL = 0.62  # of a row
_LEAST_SAID = 0.03  # of all: what is less has no room for words beside it, and stands in the description
_LEFT_OVER = 0.8  # of the width, once the names stand beside it
_FROM, _TO = 0.04, 0.96  # where a row's scale begins and ends


def swings_became(table: pd.DataFrame, ax: Axes | None = None, *, plain: bool = False) -> Axes:
    """Draw what became of every swing: one bar for a hitter, one below it for the others.

    Parameters
    ----------
    table
        One row a kind of end, in the order in which they are drawn: ``words`` (``missed``), ``number`` (the
        hitter's) and, where there are others, ``others`` (theirs together). ``fill`` from 0 to 4 where given,
        else one after the other.
    ax
        Axes to draw on; a fresh figure where not given.
    plain
        Without per cent, in the picture and in its words, and said to the hitter.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Examples
    --------
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, swings_became
    >>> ends = pd.DataFrame({"words": ["missed", "fouled off", "in play"], "number": [20, 25, 35],
    ...                      "others": [500, 450, 550]})
    >>> ax = swings_became(ends)
    >>> print(fill(describe(ax), 90))
    What became of 80 swings: missed 20 (25 %), fouled off 25 (31 %), in play 35 (44 %). Of
    the others' 1,500: missed 33 %, fouled off 30 %, in play 37 %.
    """
    numbers = table["number"].to_numpy(float)
    total = numbers.sum()
    if not total:
        return look.nothing(ax, "There are no swings: nothing to draw.")
    ax, own = look.axes_for(ax, 9.6, 1.4)
    places = table["fill"].tolist() if "fill" in table else range(len(table))
    fills = [_FILLS[int(place) % len(_FILLS)] for place in places]
    bars = [("you" if plain else "this hitter", numbers / total)]
    others = table["others"].to_numpy(float) if "others" in table else np.zeros(len(table))
    if others.sum():
        bars.append(("the others" if plain else "everybody else", others / others.sum()))
    for row, (_, shares) in enumerate(bars):
        left = np.concatenate([[0.0], np.cumsum(shares)[:-1]])
        ax.barh(
            [row] * len(shares), shares, left=left, height=_TALL, color=fills,
            edgecolor=look.BACKGROUND, linewidth=1.5, label=bars[row][0],
        )  # fmt: skip
    ax.set_xlim(0, 1)
    ax.set_ylim(len(bars) - 0.5, -0.5)
    ax.set_axis_off()
    look.columns(ax, "left", [[name for name, _ in bars]], [look.INK] * len(bars))
    there = numbers >= _LEAST_SAID * total
    told = [
        f"{int(number):,} {words}" + ("" if plain else f", {percent(number / total)}")
        for number, words in zip(numbers[there], table["words"][there], strict=True)
    ]
    middles = (np.cumsum(numbers) - numbers / 2)[there] / total
    for place, text in zip(_apart(ax, middles, told), told, strict=True):
        look.put(ax, place, -_TALL / 2, text, shift=(0, 4), ha="center", va="bottom", size=look.SMALL)
    if len(bars) > 1 and not plain:
        shares = bars[1][1]
        texts = [percent(share) for share in shares[shares >= _LEAST_SAID]]
        middles = (np.cumsum(shares) - shares / 2)[shares >= _LEAST_SAID]
        for place, text in zip(_apart(ax, middles, texts), texts, strict=True):
            look.put(ax, place, 1 + _TALL / 2, text, shift=(0, -4), ha="center", va="top", size=look.SMALL)
    alt = f"What became of {'your ' if plain else ''}{int(total):,} swings: " + ", ".join(
        f"{words} {int(number):,}" + ("" if plain else f" ({percent(number / total)})")
        for number, words in zip(numbers, table["words"], strict=True)
    )
    if len(bars) > 1:
        said = share_said if plain else percent
        theirs = ", ".join(
            f"{words} {said(share)}" for words, share in zip(table["words"], bars[1][1], strict=True)
        )
        alt += f". Of the others' {int(others.sum()):,}: {theirs}"
    return look.finish(ax, own, "", "", alt=f"{alt}.")


def _apart(ax: Axes, middles: np.ndarray, texts: list[str]) -> list[float]:
    """Return where texts stand side by side, each as near to its place as the others leave room for."""
    from scipy.optimize import isotonic_regression

    figure = ax.get_figure(root=True)
    assert figure is not None
    points = _LEFT_OVER * ax.get_window_extent().width * 72 / figure.dpi
    wide = np.array([width_of(text, look.SMALL) + 12 for text in texts]) / points
    room = np.cumsum(wide) - wide / 2
    placed = isotonic_regression(middles - room).x if len(texts) > 1 else middles - room
    return [float(place) for place in placed + room]


def standing(table: pd.DataFrame, ax: Axes | None = None, *, plain: bool = False) -> Axes:
    """Draw where a hitter's rates stand among everybody's, one line a rate, each on a scale of its own.

    Parameters
    ----------
    table
        One row a hitter and rate: ``rate`` (in words), ``shrunk``, and ``mine``: true in one row a rate,
        which also has ``low``, ``high`` (what the true rate may be), ``others`` (the rate of all others) and
        ``said`` (what is written beside it).
    ax
        Axes to draw on; a fresh figure where not given.
    plain
        Without figures, for somebody who reads no rates: the line runs from less often to more often.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Examples
    --------
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, standing
    >>> rows = pd.DataFrame({"rate": "whiffs per swing", "shrunk": [0.21, 0.25, 0.30],
    ...                      "mine": [True, False, False], "low": [0.18, None, None],
    ...                      "high": [0.24, None, None], "others": [0.27, None, None],
    ...                      "said": ["below", "", ""]})
    >>> ax = standing(rows)
    >>> print(fill(describe(ax), 90))
    Where the hitter stands, rate by rate. whiffs per swing: estimated .210, most likely .180
    to .240, among 3 hitters from .210 to .300; all others .270; below.
    """
    if not len(table):
        return look.nothing(ax, "There is no rate to show among the others.")
    groups = [(words, rows) for words, rows in table.groupby("rate", sort=False)]
    ax, own = look.axes_for(ax, 9.6, 0.5 + 0.36 * len(groups))
    told, said, names, lows, highs = [], [], [], [], []
    for row, (words, rows) in enumerate(groups):
        mine = rows[rows["mine"]].iloc[0]
        field = rows["shrunk"].dropna().to_numpy(float)
        edge = np.array([*field, mine["low"], mine["high"], mine["others"]], dtype=float)
        least, most = float(np.nanmin(edge)), float(np.nanmax(edge))
        reach = max(most - least, 1e-6)

        def at(value: float, least: float = least, reach: float = reach) -> float:
            return _FROM + (_TO - _FROM) * (value - least) / reach

        # One broken line for all: a mark for each hitter would make most of the page.
        places = _FROM + (_TO - _FROM) * (field - least) / reach
        ax.plot(
            np.repeat(places, 3), np.tile([row - 0.2, row + 0.2, np.nan], len(field)), color=look.FAINT,
            linewidth=0.7, alpha=0.6, zorder=1, label=f"others, {words}",
        )  # fmt: skip
        if np.isfinite(mine["others"]):
            ax.plot(
                [at(mine["others"])] * 2, [row - 0.34, row + 0.34], color=look.INK, linewidth=1.6, zorder=2,
                label="all others",
            )  # fmt: skip
        ax.plot(
            [at(mine["low"]), at(mine["high"])], [row, row], color=look.ACCENTS[0], linewidth=3, zorder=3,
            solid_capstyle="butt", label="interval",
        )  # fmt: skip
        ax.scatter([at(mine["shrunk"])], [row], s=62, color=look.ACCENTS[0], zorder=4, label="hitter",
                   edgecolors=look.BACKGROUND, linewidths=1.0)  # fmt: skip
        lows.append(rate_text(least))
        highs.append(rate_text(most))
        names.append(str(words))
        said.append(str(mine["said"]))
        told.append(_told(str(words), mine, field, least, most, plain))
    ax.set_xlim(-0.03, 1.03)
    ax.set_ylim(len(groups) - 0.5, -0.5)
    ax.set_axis_off()
    ink = [look.INK] * len(groups)
    ends = 0 if plain else 1  # columns of numbers beside the scales
    look.columns(ax, "left", [lows, names][1 - ends :], ink, quiet=ends)
    look.columns(ax, "right", [highs, said][1 - ends :], ink, quiet=ends)
    if plain:
        for place, text, side in ((_FROM, "less often", "left"), (_TO, "more often", "right")):
            look.put(ax, place, 1.0, text, coords=("data", "axes fraction"), shift=(0, 2), ha=side,
                     va="bottom", size=look.SMALL, color=look.QUIET)  # fmt: skip
    head = "Where you stand, one line for each" if plain else "Where the hitter stands, rate by rate"
    return look.finish(ax, own, "", "", alt=f"{head}. {' '.join(told)}")


def _told(words: str, mine: pd.Series, field: np.ndarray, least: float, most: float, plain: bool) -> str:
    """Say one line of the picture in words."""
    count = f"{len(field):,} hitter{'' if len(field) == 1 else 's'}"
    if plain:
        above = int((field > mine["shrunk"]).sum())
        return f"{words}: {above:,} of {count} do it more often, as far as is known; {mine['said']}."
    parts = [
        f"estimated {rate_text(mine['shrunk'])}",
        f"most likely {rate_text(mine['low'])} to {rate_text(mine['high'])}",
        f"among {count} from {rate_text(field.min())} to {rate_text(field.max())}" if len(field) else "",
    ]
    others = f"; all others {rate_text(mine['others'])}" if np.isfinite(mine["others"]) else ""
    return f"{words}: {', '.join(part for part in parts if part)}{others}; {mine['said']}."
