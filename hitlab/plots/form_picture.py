"""A hitter's rate as it moves, before the bands that luck around one constant rate would fill."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.over_time.form import Form
from hitlab.plots import look
from hitlab.plots.placing import named_axis
from hitlab.plots.registry import draws
from hitlab.wording import level_words, rate_text

__all__ = ["moving_rate"]


@draws(Form)
def moving_rate(result: Form, ax: Axes | None = None) -> Axes:
    """Draw a rate over time, with its best and worst window, and what luck alone would do.

    Parameters
    ----------
    result
        From ``form_over_time``.
    ax
        Axes to draw on; a fresh figure where not given.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, moving_rate
    >>> games = pd.DataFrame({"hitter": "Runa Kvalbakk", "swings": 5, "hard": [1] * 18 + [2] * 6,
    ...                       "game": [f"game {number:02d}" for number in range(1, 25)]})
    >>> ax = moving_rate(hitlab.form_over_time(games, "Runa Kvalbakk", window=6))
    >>> print(fill(describe(ax).split(";")[0], 90))
    Hard-hit balls per swing of Runa Kvalbakk, .250 over all: the best 6 rows (game 19 to game
    24) had 12 in 30, .400
    """
    data = result.data
    ax, own = look.axes_for(ax, 9.6, 5.0)
    at = data["game"].to_numpy(float)
    for low, high, color, label in (
        ("luck_low", "luck_high", look.BANDS[0], "luck, all windows"),
        ("point_low", "point_high", look.BANDS[1], "luck, one window"),
    ):
        ax.fill_between(
            at,
            data[low],
            data[high],
            facecolor=color,
            edgecolor=look.EDGE,
            linewidth=0.9,
            zorder=0,
            label=label,
        )
    ax.axhline(
        result.overall, color=look.INK, linewidth=1.0, linestyle=(0, (4, 3)), zorder=1, label="overall"
    )
    ax.plot(at, data["rate"], color=look.ACCENTS[0], linewidth=2.0, zorder=3, label="rate")
    ends = data.iloc[[result.hottest, result.coldest]]
    ax.scatter(ends["game"], ends["rate"], s=40, color=look.ACCENTS[0], zorder=4, label="ends")
    values = data[["rate", "luck_low", "luck_high"]].to_numpy(float)
    reach = max(float(np.nanmax(values) - np.nanmin(values)), 0.02)
    ax.set_ylim(float(np.nanmin(values)) - 0.05 * reach, float(np.nanmax(values)) + 0.05 * reach)
    ax.set_xlim(at[0], at[-1] if len(at) > 1 else at[0] + 1)
    look.rate_axis(ax.yaxis, f"{event_words(result.event)} per {per_words(result.per)}")
    named_axis(ax.xaxis, "number of the window's last game")
    right = (at[0] + at[-1]) / 2
    rows = (result.hottest, result.coldest)
    for place, (_, row), word, up in zip(rows, ends.iterrows(), result.extremes, (True, False), strict=True):
        look.put(
            ax, float(row["game"]), float(row["rate"]),
            f"{word}: {result.record_of(place, 'of')}",
            coords="data", shift=(0, 7 if up else -7), va="bottom" if up else "top",
            ha="right" if row["game"] > right else "left", size=look.SMALL, zorder=5,
            bbox={"facecolor": look.BANDS[0], "edgecolor": "none", "pad": 0.8},  # the bands' edges
        )  # fmt: skip
    look.put(
        ax, 1, result.overall, rate_text(result.overall), coords=("axes fraction", "data"), shift=(4, 0),
        va="center", ha="left", size=look.SMALL,
    )  # fmt: skip
    title = f"{result.hitter}, {rate_words(result.event, result.per)}: {result.finding}"
    level = level_words(result.level)
    below = (
        f"Line: the rate over {result.window}. Dashed: over all. Inner band: where luck around that rate "
        f"leaves one window {level} of the time; outer band: where it leaves the whole line."
    )
    return look.finish(ax, own, title, below, alt=f"{result.explanation} {below}")
