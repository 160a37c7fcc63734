"""The list of rates with their intervals, highest first."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.text import Annotation
from numpy.typing import NDArray

from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.intervals import INTERVAL_NAMES
from hitlab.counting.rates import Rates
from hitlab.estimates.shrinkage import Fit
from hitlab.plots import look
from hitlab.plots.naming import chosen, labels_of, nobody, not_drawn
from hitlab.plots.registry import draws
from hitlab.wording import capitalised, hitters_text, level_words, rate_text, record_text

__all__ = ["behind", "from_where", "interval_words", "mean_line", "rate_list"]

_ALL_NAMED = 32  # more names than this cannot be read beside a picture of usual height
_AT_EACH_END = 6


@draws(Rates)
def rate_list(
    result: Rates | Fit,
    ax: Axes | None = None,
    *,
    names: Sequence[str] | None = None,
    most: int | None = None,
    who: str = "",
    of: str = "",
    source: str = "",
) -> Axes:
    """Draw every rate with its interval, highest first, the record beside each name.

    Parameters
    ----------
    result
        From ``rate`` (the observed rates) or ``shrink`` (the shrunk rates, the observed as rings).
    ax
        Axes to draw on; a fresh figure where not given.
    names
        Hitters to name; where not given all of up to 32, or the first and last six of more.
    most
        Draw only that many, from the top.
    who
        A hitter to name, in the colour of whom the picture is about.
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
    >>> from hitlab.plots import describe, rate_list
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> ax = rate_list(hitlab.rate(team, "hard", per="swings"))
    >>> print(fill(describe(ax), 90))
    List of 3 hitters by observed rate of hard-hit balls per swing, highest first. Runa
    Kvalbakk .260 (90 % Wilson interval .226 to .298, 104 of 400); Nils Haxditch .184 (90 %
    Wilson interval .154 to .219, 70 of 380); Zora Quarmoor .180 (90 % Wilson interval .149 to
    .216, 63 of 350).
    """
    fitted = isinstance(result, Fit)
    value = "shrunk" if fitted else "rate"
    data = result.data.assign(label=labels_of(result.data, result.event))
    shown = data[data["rate"].notna()].sort_values(value, ascending=False, kind="stable")
    without = not_drawn(data, result.per)
    shown = shown.head(len(shown) if most is None else most).reset_index(drop=True)
    if shown.empty:
        return look.nothing(ax, nobody(data, result.per, "there is no rate to draw"))
    count = len(shown)
    ends = [*range(min(count, _AT_EACH_END)), *range(max(0, count - _AT_EACH_END), count)]
    named = chosen(list(shown["label"]), names, range(count) if count <= _ALL_NAMED else ends)
    asked = chosen(list(shown["label"]), [who] if who else (), ())
    named = np.union1d(named, asked).astype(int)
    tallest = look.TALLEST if count > _ALL_NAMED else max(look.TALLEST, 1.7 + 0.21 * count)
    ax, own = look.axes_for(ax, 9.6, float(np.clip(1.7 + 0.27 * count, 2.6, tallest)))
    rows = np.arange(count)
    shade = np.where(np.isin(rows, named), look.ACCENTS[1], look.FAINT)
    shade[asked] = look.ACCENTS[0]
    low, high, centre = (shown[name].to_numpy(float) for name in ("low", "high", value))
    ax.add_collection(
        LineCollection(
            [[(a, row), (b, row)] for a, b, row in zip(low, high, rows, strict=True)],
            colors=list(shade),
            linewidths=1.6 if count <= _ALL_NAMED else np.where(np.isin(rows, named), 1.8, 0.9),
            zorder=1,
            label="intervals",
        )
    )
    size = 26 if count <= _ALL_NAMED else 9
    # A rate of none stands on the edge of the axis: its mark is not cut there.
    ax.scatter(centre, rows, s=size, c=list(shade), zorder=3, label=value, clip_on=False)
    if fitted:
        ax.scatter(
            shown["rate"], rows, s=size, facecolors=look.BACKGROUND, edgecolors=list(shade), linewidths=0.9,
            zorder=2, label="rate", clip_on=False,
        )  # fmt: skip
    ax.set_ylim(count - 0.4, -0.6)
    edges = np.concatenate([low, high, shown["rate"].to_numpy(float)])
    reach = max(float(np.ptp(edges)), 0.01)
    ax.set_xlim(max(0.0, edges.min() - 0.05 * reach), min(1.0, edges.max() + 0.05 * reach))
    ax.set_yticks([])
    look.rate_axis(ax.xaxis, f"{event_words(result.event)} per {per_words(result.per)}")
    ax.xaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    apart: list[list[Annotation]] = []
    if len(named) == count <= _ALL_NAMED:
        records = [_record(shown, result, row) for row in range(count)]
        ink = [look.ACCENTS[0] if row in asked else look.INK for row in range(count)]
        look.columns(ax, "left", [records, list(shown["label"])], ink)
    else:
        # Where rows are too close to be named beside themselves, a dotted line leads from name to row.
        # It stops before the row's marks, so that it is not taken for a part of the interval.
        edge, end = ax.get_xlim()
        first = np.minimum(low, shown["rate"].to_numpy(float)) if fitted else low
        stop = np.maximum(first - 0.012 * (end - edge), edge)
        ax.add_collection(
            LineCollection(
                [[(edge, row), (stop[row], row)] for row in named],
                colors=look.FAINT,
                linewidths=0.8,
                linestyles=[(0, (1, 2))],
                label="leads",
            ),
            autolim=False,
        )
        apart.append([])
        for row in named:
            text = f"{shown['label'].iloc[row]}  {_record(shown, result, int(row))}"
            lines, letters = look.narrowed(text, look.SMALL)
            apart[0].append(
                look.put(
                    ax,
                    0.0,
                    row,
                    "\n".join(lines),
                    coords=("axes fraction", "data"),
                    shift=(-24, 0),
                    ha="right",
                    va="center",
                    size=letters,
                    arrowprops=look.lead(str(shade[row]), 1),
                )
            )
    if isinstance(result, Fit):
        mean_line(ax, result)
    name = rate_words(result.event, result.per)
    return look.finish(
        ax,
        own,
        f"{capitalised(name)}, highest first{behind(of)}",
        f"{_caption(result, count, without)}{from_where(source)}",
        alt=_words(shown, result, value, without, asked, of),
        apart=apart,
    )


def behind(of: str) -> str:
    """Return what is said of a list, to stand behind its rate."""
    return f", {of}" if of else ""


def from_where(source: str) -> str:
    """Return where counts come from, to stand behind a caption."""
    return f" Source: {source}." if source else ""


def mean_line(ax: Axes, fit: Fit) -> None:
    """Draw and name the mean of all, on an axis of rates from left to right."""
    ax.axvline(fit.mean, color=look.INK, linewidth=0.9, linestyle=(0, (4, 3)), zorder=0, label="mean")
    look.put(
        ax, fit.mean, 1.0, f"mean of all {rate_text(fit.mean)}", coords=("data", "axes fraction"),
        shift=(0, 3), ha="center", va="bottom", size=look.SMALL,
    )  # fmt: skip


def _record(shown: pd.DataFrame, result: Rates | Fit, row: int) -> str:
    return record_text(shown[result.event].iloc[row], shown[result.per].iloc[row])


def interval_words(result: Rates | Fit) -> str:
    """Return kind and level of the intervals of a result."""
    kind = "posterior" if isinstance(result, Fit) else INTERVAL_NAMES[result.interval]
    return f"{level_words(result.level)} {kind} interval"


def _caption(result: Rates | Fit, count: int, without: str) -> str:
    marks = (
        "Dot: shrunk rate, pulled toward the mean of all; ring: observed rate"
        if isinstance(result, Fit)
        else "Dot: observed rate"
    )
    text = (
        f"{marks}; line: {interval_words(result)}. Beside each name the record: "
        f"{event_words(result.event)} of n {per_words(result.per, 2)}. "
        f"{hitters_text(count)}"
    )
    if without:
        text += f"; {without} not drawn"
    return text + "."


def _words(
    shown: pd.DataFrame,
    result: Rates | Fit,
    value: str,
    without: str,
    asked: NDArray[np.int64],
    of: str,
) -> str:
    def one(row: int) -> str:
        line = shown.iloc[row]
        low, high = rate_text(float(line["low"])), rate_text(float(line["high"]))
        return (
            f"{line['label']} {rate_text(float(line[value]))} "
            f"({interval_words(result)} {low} to {high}, {_record(shown, result, row)})"
        )

    kind = "shrunk rate" if value == "shrunk" else "observed rate"
    name, last = f"{rate_words(result.event, result.per)}{behind(of)}", len(shown) - 1
    every = last < 10
    rows = range(last + 1) if every else [0, 1, 2]
    text = f"List of {hitters_text(len(shown))} by {kind} of {name}, highest first. "
    text += "; ".join(one(row) for row in rows)
    text += "." if every else f"; the last is {one(last)}."
    text += "".join(f" Asked for, at place {row + 1:,}: {one(row)}." for row in asked)
    if isinstance(result, Fit):
        text += f" The mean of all is {rate_text(result.mean)}."
    return text + (f" {without} are not drawn." if without else "")
