"""From the observed rate to the shrunk one: how far each record is pulled toward the mean of all."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.text import Annotation
from numpy.typing import NDArray

from hitlab.counting.events import per_words, rate_words
from hitlab.estimates.shrinkage import Fit
from hitlab.plots import look
from hitlab.plots.naming import chosen, labels_of, nobody
from hitlab.plots.registry import draws
from hitlab.wording import capitalised, hitters_text, rate_text, record_text

__all__ = ["shrinkage"]

_AREA = 90.0  # square points of the largest exposure's dot


@draws(Fit)
def shrinkage(fit: Fit, ax: Axes | None = None, *, names: Sequence[str] | None = None) -> Axes:
    """Draw how each observed rate is pulled toward the mean of all; where exposures differ, the small most.

    Parameters
    ----------
    fit
        From ``shrink``.
    ax
        Axes to draw on; a fresh figure where not given.
    names
        Hitters to name; the two highest and two lowest observed rates and the three largest exposures
        where not given.

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
    >>> from hitlab.plots import describe, shrinkage
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> ax = shrinkage(hitlab.shrink(team, "hard", "swings"))
    >>> print(fill(describe(ax), 90))
    Observed and shrunk rates of hard-hit balls per swing for 3 hitters, joined by lines that
    draw together toward the mean of all, .226. After 44 swings a record weighs as much as the
    mean. Runa Kvalbakk, 104 of 400: .260 to .252; Nils Haxditch, 70 of 380: .184 to .189;
    Zora Quarmoor, 63 of 350: .180 to .186.
    """
    data = fit.data.assign(label=labels_of(fit.data, fit.event))
    data = data[data["rate"].notna()].reset_index(drop=True)
    if data.empty:
        return look.nothing(ax, nobody(fit.data, fit.per, "there is nothing to shrink"))
    labels = list(data["label"])
    order = np.argsort(data["rate"].to_numpy(float), kind="stable")
    largest = np.argsort(-data[fit.per].to_numpy(float), kind="stable")[:3]
    named = chosen(labels, names, [int(i) for i in (*order[:2], *order[-2:], *largest)])
    is_named = np.isin(np.arange(len(data)), named)
    ax, own = look.axes_for(ax, 9.6, 6.4)
    ends = data[["rate", "shrunk"]].to_numpy(float)
    area = _AREA * data[fit.per].to_numpy(float) / float(data[fit.per].max())
    for rows, zorder, shade in (
        (np.flatnonzero(~is_named), 1, look.FAINT),
        (named, 3, look.ACCENTS[1]),
    ):
        ax.add_collection(
            LineCollection(
                [[(0.0, ends[i, 0]), (1.0, ends[i, 1])] for i in rows],
                colors=shade,
                linewidths=1.6 if zorder == 3 else 0.6,
                zorder=zorder,
                label="named" if zorder == 3 else "others",
            ),
            autolim=False,
        )
        for side in (0, 1):
            ax.scatter(
                np.full(len(rows), float(side)), ends[rows, side], s=area[rows], zorder=zorder,
                facecolors=look.BACKGROUND, edgecolors=shade, linewidths=0.9,
            )  # fmt: skip
    reach = max(float(np.ptp([*ends.ravel(), fit.mean])), 0.01)
    ax.set_ylim(min(ends.min(), fit.mean) - 0.05 * reach, max(ends.max(), fit.mean) + 0.05 * reach)
    ax.set_xlim(-0.02, 1.02)
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    ax.plot(
        [0, 1], [fit.mean] * 2, color=look.INK, linewidth=0.9, linestyle=(0, (4, 3)), zorder=2, label="mean"
    )
    written: list[list[Annotation]] = [[], []]
    for i in named:
        line = data.iloc[i]
        record = record_text(line[fit.event], line[fit.per])
        for side, text in (
            (0, f"{labels[i]}  {record}, {rate_text(float(line['rate']))}"),
            (1, f"{rate_text(float(line['shrunk']))}  {labels[i]}"),
        ):
            lines, size = look.narrowed(text, look.SMALL)
            written[side].append(
                look.put(
                    ax,
                    side,
                    ends[i, side],
                    "\n".join(lines),
                    shift=(16 if side else -16, 0),
                    ha="left" if side else "right",
                    va="center",
                    size=size,
                    color=look.ACCENTS[1],
                    arrowprops=look.lead(look.ACCENTS[1], 0 if side else 1),
                )
            )
    written[1].append(
        look.put(
            ax,
            1,
            fit.mean,
            f"{rate_text(fit.mean)}  mean of all",
            shift=(16, 0),
            ha="left",
            va="center",
            size=look.SMALL,
            arrowprops=look.lead(look.INK, 0),
        )
    )
    for side, text in ((0, "observed rate"), (1, "shrunk rate")):
        look.put(
            ax, side, 1.0, text, coords=("data", "axes fraction"), shift=(0, 8), va="bottom",
            ha="left" if side else "right", color=look.QUIET,
        )  # fmt: skip
    name = rate_words(fit.event, fit.per)
    exposure = data[fit.per].to_numpy(float)
    most = "small records are pulled most" if exposure.min() < exposure.max() else "all are pulled alike"
    title = f"{capitalised(name)}: {most if len(data) > 1 else 'one record'}"
    below = (
        "Left: observed rate; right: shrunk rate, both on one scale; size of the rings: "
        f"{per_words(fit.per, 2)} (n from {int(data[fit.per].min()):,} to {int(data[fit.per].max()):,}). "
        f"{hitters_text(len(data))}, the named ones in colour{_ties(ends)}. "
        f"{half_weight_words(fit)}"
    )
    return look.finish(ax, own, title, below, alt=_words(fit, labels, named.tolist()), apart=written)


def _ties(ends: NDArray[np.float64]) -> str:
    """Say how many lie under another's ring and cannot be told from it; empty for none."""
    hidden = len(ends) - len(np.unique(ends, axis=0))
    return f"; {hidden:,} under another of the same rates" if hidden else ""


def half_weight_words(fit: Fit) -> str:
    """Say what the fit found about the weight of a record."""
    if not np.isfinite(fit.half_weight_size):
        return "The rates scatter no more than luck would make them: all are pulled to the mean."
    return f"After {fit.half_weight_size:,.0f} {per_words(fit.per, 2)} a record weighs as much as the mean."


def _words(fit: Fit, labels: Sequence[str], named: Sequence[int]) -> str:
    data = fit.data[fit.data["rate"].notna()].reset_index(drop=True)
    parts = [
        f"{labels[i]}, {record_text(data[fit.event].iloc[i], data[fit.per].iloc[i])}: "
        f"{rate_text(float(data['rate'].iloc[i]))} to {rate_text(float(data['shrunk'].iloc[i]))}"
        for i in named
    ]
    return (
        f"Observed and shrunk rates of {rate_words(fit.event, fit.per)} for {hitters_text(len(data))}, "
        f"joined by lines that draw together toward the mean of all, {rate_text(fit.mean)}. "
        f"{half_weight_words(fit)} " + "; ".join(parts) + "."
    )
