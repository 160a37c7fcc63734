"""Do stated chances come true: a panel for each kind of claim, stated against realised frequency."""

from __future__ import annotations

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.ticker import PercentFormatter
from scipy.special import ndtri

from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.errors import MissingColumnsError
from hitlab.plots import look
from hitlab.wording import capitalised, level_words, percent

__all__ = ["calibration"]

_COLUMNS = ("kind", "setting", "number", "stated", "came", "error")
_ACROSS = 3
_GAP = 0.09  # of the whole, between panels
_LEAST = 20  # claims of a speck: fewer stand at 0 and 100 % by luck alone
_EDGE = 0.04  # of the scale of chances, kept free around it


def calibration(
    bins: pd.DataFrame,
    ax: Axes | None = None,
    *,
    together: str = "all settings",
    level: float = DEFAULT_LEVEL,
) -> Axes:
    """Draw how often claims came true against the chance that was stated, a panel for each kind of claim.

    Parameters
    ----------
    bins
        One row for claims of about the same stated chance: ``kind`` (of claim), ``setting`` (whose
        claims: a league, a law of the truth), ``number`` (of claims), ``stated`` (mean chance) and ``came``
        (the share that came true), both from 0 to 1, and ``error`` (standard error of ``came - stated``).
    ax
        Axes to draw on; the panels are set into it (``ax.child_axes``, in the order of the kinds).
    together
        The setting that holds all others of its kind together: drawn large, with bars; the others faint
        behind it. A kind without it has every setting drawn large.
    level
        Level of the bars, between 0 and 1.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Raises
    ------
    MissingColumnsError
        Where a column is missing.

    Examples
    --------
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import calibration, describe
    >>> bins = pd.DataFrame({"kind": "above", "setting": "all settings", "number": [200, 180],
    ...                      "stated": [0.60, 0.90], "came": [0.58, 0.91], "error": [0.035, 0.022]})
    >>> ax = calibration(bins)
    >>> print(fill(describe(ax), 90))
    Stated against realised frequency for 1 kind of claim; 0 of 2 points are farther from the
    line of equality than their 90 % Monte Carlo interval. Above: stated 60 % came true 58 %
    of 200 times; 90 % came true 91 % of 180 times.
    """
    missing = [name for name in _COLUMNS if name not in bins.columns]
    if missing:
        raise MissingColumnsError(
            f"bins has no column {', '.join(missing)}; give one row a bin with {', '.join(_COLUMNS)}"
        )
    bins = bins.reset_index(drop=True)
    kinds = list(dict.fromkeys(bins["kind"]))
    if not kinds:
        return look.nothing(ax, "No claim was stated: there is nothing to draw.")
    across = min(_ACROSS, len(kinds))
    down = -(-len(kinds) // across)
    ax, own = look.axes_for(ax, 1.0 + 3.1 * across, 1.2 + 3.0 * down)
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    reach = float(ndtri((1 + level) / 2))
    wide, high = ((1 - _GAP * (many - 1)) / many for many in (across, down))
    off, large, words = 0, 0, []
    for place, kind in enumerate(kinds):
        column, row = place % across, place // across
        box = (column * (wide + _GAP), 1 - high - row * (high + _GAP), wide, high)
        panel, _ = look.axes_for(ax.inset_axes(box))
        shown = _large(bins, kind, together)
        others = (bins["kind"] == kind) & ~bins.index.isin(shown.index)
        behind = bins[others & (bins["number"] >= _LEAST)]
        beyond = _panel(panel, shown, behind, reach)
        off, large = off + int(beyond.sum()), large + len(shown)
        last = place + across >= len(kinds)
        _dress(panel, kind, int(shown["number"].sum()), stated=last, came=column == 0)
        words.append(_said(kind, shown, beyond))
    below = (
        f"On the line: right. Bars: {level_words(level)} Monte Carlo interval, a league as the unit; rust: "
        f"its bar misses the line ({off} of {large}, where luck alone would make about "
        f"{percent(1 - level)} do so). Specks: single settings, from {_LEAST} claims on."
    )
    alt = (
        f"Stated against realised frequency for {len(kinds)} "
        f"{'kind' if len(kinds) == 1 else 'kinds'} of claim; {off} of {large} points are farther from the "
        f"line of equality than their {level_words(level)} Monte Carlo interval. {' '.join(words)}"
    )
    return look.finish(ax, own, "How often claims came true, by the chance that was stated", below, alt=alt)


def _large(bins: pd.DataFrame, kind: str, together: str) -> pd.DataFrame:
    mine = bins[bins["kind"] == kind]
    pooled = mine[mine["setting"] == together]
    return pooled if len(pooled) else mine


def _panel(
    ax: Axes, shown: pd.DataFrame, behind: pd.DataFrame, reach: float
) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Draw a kind's points; return which of them lie farther from the line than their bars."""
    ax.plot([0, 1], [0, 1], color=look.INK, linewidth=0.8, zorder=1, label="right")
    ax.scatter(
        behind["stated"], behind["came"], s=7, color=look.FAINT, alpha=0.5, linewidths=0, zorder=2,
        label="settings",
    )  # fmt: skip
    stated, came, bar = (shown[name].to_numpy(float) for name in ("stated", "came", "error"))
    bar = reach * bar
    beyond = np.abs(came - stated) > bar
    for part, color, label in ((~beyond, look.ACCENTS[1], "on it"), (beyond, look.ACCENTS[0], "off it")):
        ends = zip(
            stated[part], np.maximum(came - bar, 0)[part], np.minimum(came + bar, 1)[part], strict=True
        )
        ax.add_collection(
            LineCollection(
                [[(x, low), (x, high)] for x, low, high in ends],
                colors=color,
                linewidths=1.4,
                zorder=3,
                label=f"bars, {label}",
            )
        )
        ax.scatter(stated[part], came[part], s=26, color=color, zorder=4, linewidths=0, label=label)
    return np.asarray(beyond)


def _dress(ax: Axes, kind: str, number: int, *, stated: bool, came: bool) -> None:
    ax.set_xlim(-_EDGE, 1 + _EDGE)
    ax.set_ylim(-_EDGE, 1 + _EDGE)
    for axis, words in (
        (ax.xaxis, "stated chance" if stated else ""),
        (ax.yaxis, "came true" if came else ""),
    ):
        axis.set_ticks([0, 0.25, 0.5, 0.75, 1])
        look.rate_axis(axis, words)
        axis.set_major_formatter(PercentFormatter(1.0, decimals=0, symbol=" %"))
        axis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    noun = "claim" if number == 1 else "claims"
    look.put(ax, 0, 1, kind, coords="axes fraction", shift=(0, 4), va="bottom", fontweight="bold")
    look.put(
        ax, 1, 1, f"{number:,} {noun}", coords="axes fraction", shift=(0, 4), va="bottom", ha="right",
        size=look.SMALL, color=look.QUIET,
    )  # fmt: skip


def _said(kind: str, shown: pd.DataFrame, beyond: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> str:
    parts = [
        f"{percent(row['stated'])} came true {percent(row['came'])} of {int(row['number']):,} times"
        + (" (off)" if off else "")
        for (_, row), off in zip(shown.iterrows(), beyond, strict=True)
    ]
    return f"{capitalised(kind)}: stated {'; '.join(parts)}."
