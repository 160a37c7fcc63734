"""The picture of a checked claim: the hitters of its evidence, what is known of each, and the bound."""

from __future__ import annotations

from typing import Literal

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.ticker import FuncFormatter

from hitlab.claims.result import Claim
from hitlab.claims.rows import Rows, rows_of
from hitlab.plots import look
from hitlab.plots.odds_axis import odds_axis
from hitlab.plots.registry import draws
from hitlab.wording import capitalised

__all__ = ["claim", "draw_evidence", "limits_of", "line_text", "mark_axis", "words_of"]


@draws(Claim)
def claim(checked: Claim, ax: Axes | None = None, *, most: int = 10) -> Axes:
    """Draw a checked claim: its evidence with what is not known, and the value it is held against.

    Parameters
    ----------
    checked
        From one of the ``check_...`` functions.
    ax
        Axes to draw on; a fresh figure where not given.
    most
        Rows at most; the hitter whom the claim is about is always among them.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import claim, describe
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> ax = claim(hitlab.check_above(team, "Runa Kvalbakk", "one in five"))
    >>> print(fill(describe(ax).split(". ")[1], 90))
    Runa Kvalbakk's true rate of hard-hit balls per swing is most likely above .200, judging
    by 104 in 400 swings: the chance is more than 99 %
    """
    seen = rows_of(checked, most)
    if seen is None:
        return look.nothing(ax, "This claim has no rates behind it that could be drawn.")
    below = 0.2 * len(seen.beneath)
    ax, own = look.axes_for(ax, 9.6, 2.4 + 0.34 * len(seen.names) + below)
    draw_evidence(ax, seen)
    shades = [look.ACCENTS[0] if mine else look.INK for mine in seen.subject]
    rows = range(len(seen.names))
    look.columns(ax, "left", [[seen.record(row) for row in rows], seen.names], shades)
    look.columns(ax, "right", [[seen.said(row) for row in rows], seen.chance], shades, list(seen.columns[1:]))
    mark_axis(ax, seen, seen.axis)
    ax.tick_params(axis="x", labelsize=look.SMALL)
    for number, line in enumerate(seen.beneath):
        look.put(
            ax, 0.0, 0.0, line, coords="axes fraction", shift=(0, -42 - 14 * number), size=look.SMALL,
            color=look.QUIET, va="top",
        )  # fmt: skip
    told = f"The claim: {checked.claim}. {capitalised(seen.marks)}. Beside each name: {seen.columns[0]}."
    title = capitalised(checked.verdict) + (
        "" if checked.chance is None else f": the chance is {checked.chance_words}"
    )
    return look.finish(ax, own, title, told, alt=words_of(checked, seen))


def limits_of(seen: Rows) -> tuple[float, float]:
    """Return the ends of the axis: all that is drawn, odds as far below none as above it."""
    edges = np.concatenate([seen.value, seen.low, seen.high, seen.ring, seen.lines])
    lowest, highest = float(np.nanmin(edges)), float(np.nanmax(edges))
    if seen.odds:
        reach = max(1.15 * max(abs(lowest), abs(highest)), float(np.log(1.15)))
        return -reach, reach
    reach = max(highest - lowest, 0.02)
    least, most = seen.bounds
    return max(least - 0.005, lowest - 0.12 * reach), min(most + 0.005, highest + 0.12 * reach)


def line_text(seen: Rows, number: int) -> str:
    """Return what a line across is called, with its value where that is not the name."""
    value, word = seen.lines[number], seen.line_words[number] if seen.line_words else ""
    none = value == 0 and (seen.odds or seen.bounds[0] < 0)
    return word if none and word else f"{word} {seen.text(value)}".strip()


def mark_axis(ax: Axes, seen: Rows, words: str, apart: float = 0.25) -> None:
    """Mark the axis in the way its values are written, about one as odds are."""
    if seen.odds:
        odds_axis(ax.xaxis, ax.get_xlim()[1], words, apart)
        return
    look.rate_axis(ax.xaxis, words)
    ax.xaxis.set_major_formatter(FuncFormatter(lambda value, _: seen.text(value)))


def draw_evidence(
    ax: Axes,
    seen: Rows,
    *,
    scale: float = 1.0,
    label: bool = True,
    shades: tuple[str, str] = look.ACCENTS[:2],
) -> None:
    """Draw dots, intervals, rings and the value on axes whose rows run downward.

    Parameters
    ----------
    scale
        Of marks and lines.
    label
        Whether the lines across are named above the axes.
    shades
        Of those whom the claim is about, and of the others.
    """
    rows = np.arange(len(seen.names))
    shade = [shades[0] if mine else shades[1] for mine in seen.subject]
    ranged = np.flatnonzero(np.isfinite(seen.low))
    ax.add_collection(
        LineCollection(
            [[(seen.low[row], row), (seen.high[row], row)] for row in ranged],
            colors=[shade[row] for row in ranged],
            linewidths=2.2 * scale,
            zorder=2,
            label="intervals",
        )
    )
    for row in range(len(seen.names)):
        ax.axhline(row, color=look.GRID, linewidth=0.8 * scale, zorder=0)
    ringed = np.flatnonzero(np.isfinite(seen.ring))
    size = 44 * scale**2
    if len(ringed):
        ax.scatter(
            seen.ring[ringed], ringed, s=size, facecolors=look.BACKGROUND, linewidths=1.5 * scale, zorder=3,
            edgecolors=[shade[row] for row in ringed], label="ring", clip_on=False,
        )  # fmt: skip
    ax.scatter(seen.value, rows, s=size, c=shade, zorder=4, label="value", clip_on=False)  # whole at 0 and 1
    ax.set_xlim(limits_of(seen))
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_yticks([])
    for number, (line, side) in enumerate(zip(seen.lines, line_sides(len(seen.lines)), strict=True)):
        ax.axvline(line, color=look.INK, linewidth=1.2 * scale, linestyle=(0, (4, 3)), zorder=1, label="line")
        if label:
            look.put(
                ax, line, 1.0, line_text(seen, number), coords=("data", "axes fraction"),
                shift=(0, 3 * scale), ha=side, va="bottom", size=look.SMALL * scale,
            )  # fmt: skip


Side = Literal["left", "center", "right"]


def line_sides(lines: int) -> tuple[Side, ...]:
    """Say where the words over each line are anchored, so that those of neighbours keep apart."""
    if lines == 1:
        return ("center",)
    first, last = list[Side](["right"]), list[Side](["left"])
    return tuple((first + ["center"] * (lines - 2) + last)[:lines])


def words_of(checked: Claim, seen: Rows | None) -> str:
    """Return the alt text of a claim's picture or card."""
    parts = []
    for row, name in enumerate(seen.names if seen else []):
        assert seen is not None
        text = f"{name} {seen.said(row)}".rstrip() + f", {seen.record(row)}"
        if np.isfinite(seen.low[row]):
            text += f", from {seen.text(seen.low[row])} to {seen.text(seen.high[row])}"
        if seen.chance[row]:
            text += f", {seen.columns[2]} {seen.chance[row]}"
        parts.append(text)
    marks = ""
    if seen:
        across = ", ".join(line_text(seen, number) for number in range(len(seen.lines)))
        dashed = f" Dashed: {across}." if across else ""
        marks = f" {capitalised(seen.marks)}.{dashed} {capitalised(seen.axis)}: "
        parts += [f"{seen.beneath[0]} {'; '.join(seen.beneath[1:])}"] if seen.beneath else []
    return f"{checked.verdict_line}. {checked.say_in_full}{marks}" + "; ".join(parts) + ("." if parts else "")
