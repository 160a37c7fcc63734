"""A list too long for a picture: the first of it by name, who was asked for, and the rest as a cloud."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from numpy.typing import NDArray

from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.rates import Rates
from hitlab.estimates.shrinkage import Fit
from hitlab.plots import look
from hitlab.plots.naming import chosen, labels_of, nobody, not_drawn
from hitlab.plots.rate_pictures import behind, from_where, interval_words, mean_line
from hitlab.wording import capitalised, hitters_text, rate_text, record_text

__all__ = ["rate_crowd"]

_CLOUD = 3.2  # rows that the cloud is high
_BINS = 90  # across the picture: dots of one stand on one another
_STEP = 0.2  # rows from one dot to the next above it


def rate_crowd(
    result: Rates | Fit,
    ax: Axes | None = None,
    *,
    names: Sequence[str] = (),
    top: int = 10,
    of: str = "",
    source: str = "",
) -> Axes:
    """Draw the head of a long list with names, those asked for with their places, and the rest as a cloud.

    Parameters
    ----------
    result
        From ``rate`` (the observed rates) or ``shrink`` (the shrunk rates).
    ax
        Axes to draw on; a fresh figure where not given.
    names
        Hitters to show whatever their place.
    top
        How many from the head of the list.
    of
        What is said of the list behind the rate, such as ``with two strikes, the 15 hitters of the Larks``.
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
    >>> from hitlab.plots import describe, rate_crowd
    >>> league = pd.DataFrame({"hitter": [f"Hitter {number:02d}" for number in range(40)],
    ...                        "swings": 400, "hard": range(100, 60, -1)})
    >>> ax = rate_crowd(hitlab.rate(league, "hard", per="swings"), names=["Hitter 30"], top=2)
    >>> print(fill(describe(ax), 90))
    List of 40 hitters by observed rate of hard-hit balls per swing, highest first. 1: Hitter
    00 .250 (100 of 400, 90 % Wilson interval .216 to .287); 2: Hitter 01 .247 (99 of 400, 90
    % Wilson interval .214 to .285); 31: Hitter 30 .175 (70 of 400, 90 % Wilson interval .146
    to .208). The other 37 as a cloud of dots from .152 to .245, half of them from .177 to
    .223.
    """
    value = "shrunk" if isinstance(result, Fit) else "rate"
    data = result.data.assign(label=labels_of(result.data, result.event))
    without = not_drawn(data, result.per)
    listed = data[data["rate"].notna()].sort_values(value, ascending=False, kind="stable")
    listed = listed.reset_index(drop=True)
    if listed.empty:
        return look.nothing(ax, nobody(data, result.per, "there is no list to draw"))
    place = listed[value].rank(method="min", ascending=False).astype(int)
    asked = chosen(list(listed["label"]), names, ())
    rows = np.union1d(np.arange(min(top, len(listed))), asked).astype(int)
    rest = np.setdiff1d(np.arange(len(listed)), rows)
    named = listed.iloc[rows].reset_index(drop=True)
    count = len(named)
    ax, own = look.axes_for(ax, 9.6, 5.4)
    at = np.arange(count)
    shade = [look.ACCENTS[0] if row in asked else look.ACCENTS[1] for row in rows]
    ax.add_collection(
        LineCollection(
            [[(a, row), (b, row)] for a, b, row in zip(named["low"], named["high"], at, strict=True)],
            colors=shade, linewidths=1.8, zorder=1, label="intervals",
        )
    )  # fmt: skip
    ax.scatter(named[value], at, s=30, c=shade, zorder=3, label="named", clip_on=False)
    values = listed[value].to_numpy(float)[rest]
    edges = np.concatenate([named[["low", "high"]].to_numpy(float).ravel(), values])
    reach = max(float(np.ptp(edges)), 0.01)
    left, right = max(0.0, edges.min() - 0.04 * reach), min(1.0, edges.max() + 0.04 * reach)
    ground = count - 0.6 + _CLOUD if len(rest) else count - 0.4
    if len(rest):
        ax.scatter(
            values, ground - 0.25 - _stacked(values, left, right), s=14, color=look.FAINT, zorder=2,
            label="the rest", clip_on=False,
        )  # fmt: skip
    ax.set_ylim(ground, -0.6)
    ax.set_xlim(left, right)
    ax.set_yticks([])
    look.rate_axis(ax.xaxis, f"{event_words(result.event)} per {per_words(result.per)}")
    ax.xaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    records = [record_text(row[result.event], row[result.per]) for _, row in named.iterrows()]
    labels = [f"{place[row]}  {label}" for row, label in zip(rows, named["label"], strict=True)]
    texts, ink = [records, labels], [look.INK] * count
    if len(rest):  # the cloud has a name of its own, at its middle
        look.put(
            ax, 0.0, ground - _CLOUD / 2, f"the other {len(rest):,}", coords=("axes fraction", "data"),
            shift=(-10, 0), ha="right", va="center", size=look.SMALL, color=look.QUIET,
        )  # fmt: skip
    look.columns(ax, "left", texts, ink)
    look.columns(ax, "right", [[rate_text(float(one)) for one in named[value]]], ink)
    if isinstance(result, Fit):
        mean_line(ax, result)
    name = rate_words(result.event, result.per)
    kind = "shrunk rate" if isinstance(result, Fit) else "observed rate"
    below = (
        f"Dot: {kind}{', pulled toward the mean of all' if isinstance(result, Fit) else ''}; line: "
        f"{interval_words(result)}. Before each name the place, beside it the record. "
        f"{hitters_text(len(listed))}{f'; {without} not drawn' if without else ''}.{from_where(source)}"
    )
    alt = _words(listed, result, rows, rest, place, f"{kind} of {name}{behind(of)}", value)
    return look.finish(
        ax,
        own,
        f"{capitalised(name)}, highest first{behind(of)}",
        below,
        alt=alt + (f" {without} are not drawn." if without else ""),
    )


def _stacked(values: NDArray[np.float64], left: float, right: float) -> NDArray[np.float64]:
    """Return how high each dot stands above the ground: as many below it as share its bin."""
    bins = np.floor((values - left) / (right - left) * _BINS)
    height = pd.Series(bins).groupby(bins).cumcount().to_numpy(float)
    step = min(_STEP, (_CLOUD - 0.7) / max(float(height.max()), 1.0))
    return np.asarray(height * step)


def _words(
    listed: pd.DataFrame,
    result: Rates | Fit,
    rows: NDArray[np.int64],
    rest: NDArray[np.int64],
    place: pd.Series[int],
    of: str,
    value: str,
) -> str:
    each = []
    for row in rows:
        line = listed.iloc[row]
        low, high = rate_text(float(line["low"])), rate_text(float(line["high"]))
        record = record_text(line[result.event], line[result.per])
        each.append(
            f"{place[row]}: {line['label']} {rate_text(float(line[value]))} ({record}, "
            f"{interval_words(result)} {low} to {high})"
        )
    text = f"List of {hitters_text(len(listed))} by {of}, highest first. {'; '.join(each)}."
    if len(rest):
        values = listed[value].to_numpy(float)[rest]
        least, low, high, most = (rate_text(float(one)) for one in np.quantile(values, [0, 0.25, 0.75, 1]))
        text += f" The other {len(rest):,} as a cloud of dots from {least} to {most}, half of them from "
        text += f"{low} to {high}."
    return text
