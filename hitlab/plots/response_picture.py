"""After a whiff: what the next pitch does otherwise (the answer), and what merely happened (description)."""

from __future__ import annotations

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection

from hitlab.approach.responses import Responses
from hitlab.plots import look
from hitlab.plots.odds_axis import odds_axis
from hitlab.plots.registry import draws
from hitlab.wording import level_words, rate_text, record_text

__all__ = ["whiff_answers"]

_TESTS = ("difference", "after a whiff", "placebo")
"""The answer first, then what it is the difference of."""

_WORDS = {
    "swing": "swings",
    "take": "lets it go",
    "whiff": "swings and misses",
    "hard": "hits it hard",
    "same kind": "sees the same kind",
}
_STEP, _BETWEEN = 0.62, 0.75  # rows from test to test, and from response to response
_WIDEST = 4.0  # log odds; beyond it an interval says nothing, and the rest would be pressed together
_GAP = 4.2  # heights of a row between the two panels


@draws(Responses)
def whiff_answers(responses: Responses, ax: Axes | None = None, *, descriptions: bool = True) -> Axes:
    """Draw the odds of each response after a whiff, with the placebo taken off, and the descriptions beneath.

    Parameters
    ----------
    responses
        From ``after_whiff``.
    ax
        Axes to draw on; the panels are set into it (``ax.child_axes``: the answer, then the descriptions
        where there are any). On the first stand log odds ratios, marked by what they multiply the odds with.
    descriptions
        Whether they are drawn: of four responses they take as much room as the answers.

    Returns
    -------
    Axes
        The same axes, or the new ones.

    Examples
    --------
    The hitters of one club:

    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, whiff_answers
    >>> season = hitlab.demo_season()
    >>> club = pd.read_parquet(season, filters=[("club", "==", "Saltmere Lanterns")])
    >>> ax = whiff_answers(hitlab.approach.after_whiff(club, responses=["swing"]))
    >>> print(fill(describe(ax), 90))
    Odds ratios of the next pitch after a whiff, against after another strike at the same
    count, placebo taken off, with 90 % intervals. swings: ×1.05 (0.86 to 1.29), of ×1.09
    (0.95 to 1.26) after a whiff and ×1.04 (0.90 to 1.20) for the placebo (461 of 870 after a
    whiff, 1,258 of 2,533 after another strike).
    """
    names = list(dict.fromkeys(responses.data["response"]))
    if not names:
        return look.nothing(ax, "No response was looked at: there is nothing to draw.")
    described = responses.descriptions if descriptions else responses.descriptions.head(0)
    step = 2 * _STEP + _BETWEEN + 0.35
    main, rest = step * len(names), 0.9 * len(described)
    total = main + (_GAP + rest if len(described) else 0.0)
    ax, own = look.axes_for(ax, 9.6, 2.3 + 0.27 * total)
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    panel, _ = look.axes_for(ax.inset_axes((0.0, 1 - main / total, 1.0, main / total)))
    other = "another strike" if responses.against == "any strike" else f"a {responses.against}"
    told = _answers(panel, responses, names, step, other)
    below = ""
    if len(described):
        lower, _ = look.axes_for(ax.inset_axes((0.0, 0.0, 1.0, rest / total)))
        _descriptions(lower, described, other)
        below = " Beneath: rates among pitches picked by what came after the whiff, descriptions only."
    caption = (
        f"The next pitch after a whiff, against after {other} to reach the same count. Thick: the answer, "
        "which is the odds ratio over that of the placebo (whiffs in other plate appearances of the same "
        "hitter, pitcher and game); thin: the two it is made of. Lines: "
        f"{level_words(responses.level)} intervals, each for its answer alone.{below}"
    )
    return look.finish(
        ax, own, _title(responses, names), caption, alt=_alt(responses, described, names, told, other)
    )


def _answers(ax: Axes, responses: Responses, names: list[str], step: float, other: str) -> list[str]:
    """Draw three rows a response; return what each says."""
    places, marks, texts, colors, heads = [], [], [], [], []
    for number, name in enumerate(names):
        for order, test in enumerate(_TESTS):
            row = responses.of(name, test)
            places.append(number * step + order * _STEP + (0.1 if order else 0.0))
            marks.append(np.log(row[["odds_ratio", "low", "high"]].to_numpy(float)))
            colors.append(look.QUIET if order else look.ACCENTS[0])
            texts.append(_ratio_text(row))
            heads.append(("", "after a whiff", "placebo")[order])
    at, drawn = np.array(places), np.vstack(marks)
    fine = np.isfinite(drawn).all(axis=1)
    reach = 1.08 * max(0.05, *np.abs(drawn[fine]).ravel()) if fine.any() else 0.5
    reach = min(reach, _WIDEST)
    for order, test in enumerate(_TESTS):
        rows = np.flatnonzero(fine & (np.arange(len(at)) % 3 == order))
        ax.add_collection(
            LineCollection(
                [[(drawn[i, 1], at[i]), (drawn[i, 2], at[i])] for i in rows],
                colors=look.FAINT if order else look.ACCENTS[0],
                linewidths=1.2 if order else 3.0,
                zorder=2,
                label=f"{test}: intervals",
            ),
            autolim=False,
        )
        ax.scatter(
            drawn[rows, 0], at[rows], s=22 if order else 64,
            facecolors=look.BACKGROUND if test == "placebo" else look.FAINT if order else look.ACCENTS[0],
            edgecolors=look.FAINT if order else look.ACCENTS[0], linewidths=1.2, zorder=3, label=test,
        )  # fmt: skip
    ax.axvline(0.0, color=look.INK, linewidth=1.0, linestyle=(0, (4, 3)), zorder=1, label="no difference")
    ax.set_xlim(-reach, reach)
    ax.set_ylim(at[-1] + 0.6, -0.6)
    ax.set_yticks([])
    ax.set_axisbelow(True)
    odds_axis(ax.xaxis, reach, f"odds after a whiff, against after {other} (×1: no difference)")
    for i, height in enumerate(at):
        main = i % 3 == 0
        look.put(
            ax, 0.0, height, _WORDS[names[i // 3]] if main else heads[i],
            coords=("axes fraction", "data"), shift=(-12, 0), ha="right", va="center",
            size=look.BODY + 1 if main else look.SMALL, color=look.INK if main else look.QUIET,
            fontweight="bold" if main else "normal",
        )  # fmt: skip
        look.put(
            ax, 1.0, height, texts[i], coords=("axes fraction", "data"), shift=(12, 0),
            ha="left", va="center", size=look.BODY if main else look.SMALL, color=colors[i],
            fontweight="bold" if main else "normal",
        )  # fmt: skip
    look.put(ax, 0.0, 1.0, "the answer: placebo taken off", coords="axes fraction", shift=(0, 3), ha="left",
             va="bottom", size=look.SMALL, color=look.ACCENTS[0])  # fmt: skip
    return [f"{_WORDS[names[i // 3]]}: {texts[i]}" for i in range(0, len(at), 3)]


def _ratio_text(row: pd.Series) -> str:
    if not np.isfinite(row[["odds_ratio", "low", "high"]].to_numpy(float)).all():
        return "cannot be told"
    return f"×{row['odds_ratio']:.2f} ({row['low']:.2f} to {row['high']:.2f})"


def _descriptions(ax: Axes, described: pd.DataFrame, other_words: str) -> None:
    """Draw the rates after a whiff and after another strike, joined by a line."""
    rows = np.arange(len(described))
    whiff, other = (described[f"{side}_rate"].to_numpy(float) for side in ("whiff", "other"))
    both = np.isfinite(whiff) & np.isfinite(other)
    ax.add_collection(
        LineCollection(
            [[(whiff[i], i), (other[i], i)] for i in rows[both]], colors=look.FAINT, linewidths=1.2, zorder=1,
            label="from one to the other",
        ),
        autolim=False,
    )  # fmt: skip
    ax.scatter(whiff, rows, s=26, color=look.ACCENTS[1], zorder=3, label="whiff_rate")
    ax.scatter(
        other, rows, s=26, facecolors=look.BACKGROUND, edgecolors=look.ACCENTS[1], linewidths=1.2, zorder=2,
        label="other_rate",
    )  # fmt: skip
    seen = np.concatenate([whiff, other])
    seen = seen[np.isfinite(seen)]
    ax.set_xlim(0.0, min(1.0, 1.1 * max(float(seen.max()) if len(seen) else 0.1, 0.02)))
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_yticks([])
    ax.locator_params(axis="x", nbins=6)
    look.rate_axis(ax.xaxis, f"share of these pitches (filled: after a whiff; ring: after {other_words})")
    ax.xaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    quiet = [look.QUIET] * len(rows)
    words = [f"{line['response']}, {line['among']}" for _, line in described.iterrows()]
    records = [
        [record_text(line[f"{side}_yes"], line[f"{side}_pitches"]) for _, line in described.iterrows()]
        for side in ("whiff", "other")
    ]
    look.columns(ax, "left", [words], quiet)
    look.columns(ax, "right", records, quiet, ["after a whiff", f"after {other_words}"])
    look.put(ax, 0.0, 1.0, "description only", coords="axes fraction", shift=(0, 3), ha="left",
             va="bottom", size=look.SMALL, color=look.QUIET)  # fmt: skip


def _title(responses: Responses, names: list[str]) -> str:
    """Name the responses whose interval lies on one side of no difference, of how many looked at."""
    found = [
        f"{_WORDS[name]} {'more' if row['low'] > 1 else 'less'} often"
        for name in names
        if (row := responses.of(name))["low"] > 1 or row["high"] < 1
    ]
    if not found:
        return "After a whiff: nothing here shows that the next pitch goes otherwise"
    if len(names) == 1:
        return f"After a whiff the hitter {found[0]}"
    return f"After a whiff, of {len(names)} answers looked at: {', '.join(found)}"


def _alt(responses: Responses, described: pd.DataFrame, names: list[str], told: list[str], other: str) -> str:
    parts = []
    for words, name in zip(told, names, strict=True):
        counts = responses.counts[responses.counts["response"] == name].iloc[0]
        seen, placebo = (_ratio_text(responses.of(name, test)) for test in ("after a whiff", "placebo"))
        parts.append(
            f"{words}, of {seen} after a whiff and {placebo} for the placebo "
            f"({record_text(counts['whiff_yes'], counts['whiff_pitches'])} after a whiff, "
            f"{record_text(counts['other_yes'], counts['other_pitches'])} after {other})"
        )
    told_of = [
        f"{line['response']}, {line['among']}: {rate_text(line['whiff_rate'])} and "
        f"{rate_text(line['other_rate'])}"
        for _, line in described.iterrows()
    ]
    return (
        f"Odds ratios of the next pitch after a whiff, against after {other} at the same count, placebo "
        f"taken off, with {level_words(responses.level)} intervals. {'. '.join(parts)}."
        + (f" Descriptions only, after a whiff and after another: {'; '.join(told_of)}." if told_of else "")
    )
