"""Which hitter for the spot: the first ones beside the league's hitter, and how little lies between."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.ticker import FuncFormatter

from hitlab.game.spots import SpotRanks, wins_text
from hitlab.plots import look
from hitlab.plots.naming import chosen
from hitlab.plots.placing import named_axis
from hitlab.plots.registry import draws
from hitlab.wording import capitalised, chance_text, hitters_text, level_words, percent

__all__ = ["win_chances"]

_BENEATH = 3.4  # heights of a row for axis, whole scale and what is written between


@draws(SpotRanks)
def win_chances(
    ranks: SpotRanks, ax: Axes | None = None, *, names: Sequence[str] | None = None, most: int = 10
) -> Axes:
    """Draw the chance to win with each hitter at bat, against the league's hitter.

    Beneath the list stands the whole scale from 0 to 100 %, with the same hitters on it: what the list shows
    large is a narrow part of it.

    Parameters
    ----------
    ranks
        From ``best_for_spot``.
    ax
        Axes to draw on; the two panels are set into it (``ax.child_axes``: list, whole scale).
    names
        Hitters to show; those with the highest chances where not given.
    most
        How many of them.

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
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.game import Spot, best_for_spot
    >>> from hitlab.plots import describe, win_chances
    >>> bench = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...     "strikeouts": [60, 90, 50], "other_outs": [140, 120, 170], "walks": [30, 20, 20],
    ...     "singles": [45, 50, 62], "doubles": [15, 25, 10], "home_runs": [9, 4, 6],
    ...     "triples": 0, "hit_by_pitches": 0, "reached_on_errors": 0})
    >>> ax = win_chances(best_for_spot(bench, Spot(-1, 2, "first second")))
    >>> print(fill(describe(ax).split(" (")[0], 90))
    Chances to win by who is at bat, trailing by one, runners on first and second, two out, 3
    of 3 hitters: Runa Kvalbakk 16.9 %
    """
    places = chosen(list(ranks.data["label"]), names, range(len(ranks.data)))
    shown = ranks.data.iloc[places].head(most).reset_index(drop=True)
    if shown.empty:
        return look.nothing(ax, "Nobody is compared for this spot: there is nothing to draw.")
    count = len(shown)
    ax, own = look.axes_for(ax, 9.6, 3.1 + 0.31 * count)
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    row_height = 1.0 / (count + _BENEATH)
    panel, _ = look.axes_for(ax.inset_axes((0.0, _BENEATH * row_height, 1.0, count * row_height)))
    whole, _ = look.axes_for(ax.inset_axes((0.0, 0.0, 1.0, 0.75 * row_height)))
    rows = np.arange(count)
    win, low, high, observed = (
        100 * shown[name].to_numpy(float) for name in ("win_chance", "low", "high", "observed")
    )
    league = 100 * ranks.league_win_chance
    panel.add_collection(
        LineCollection(
            [[(a, row), (b, row)] for a, b, row in zip(low, high, rows, strict=True)],
            colors=look.ACCENTS[0],
            linewidths=2.0,
            zorder=2,
            label="intervals",
        )
    )
    panel.scatter(
        observed, rows, s=34, facecolors=look.BACKGROUND, edgecolors=look.FAINT, linewidths=1.2, zorder=1,
        label="observed",
    )  # fmt: skip
    panel.scatter(win, rows, s=44, color=look.ACCENTS[0], zorder=3, label="win_chance")
    edges = np.concatenate([low, high, observed[np.isfinite(observed)], [league]])
    reach = max(float(np.ptp(edges)), 0.5)
    left, right = max(0.0, edges.min() - 0.05 * reach), min(100.0, edges.max() + 0.05 * reach)
    panel.set_xlim(left, right)
    panel.set_ylim(count - 0.4, -0.6)
    panel.set_yticks([])
    panel.locator_params(axis="x", nbins=6)
    panel.xaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g} %"))
    panel.xaxis.grid(True, color=look.GRID, linewidth=0.8)
    panel.set_axisbelow(True)
    named_axis(panel.xaxis, "chance to win with this hitter at bat")
    panel.axvline(league, color=look.INK, linewidth=1.0, linestyle=(0, (4, 3)), zorder=1, label="league")
    look.put(
        panel, league, 1.0, f"the league's hitter {wins_text(ranks.league_win_chance)}",
        coords=("data", "axes fraction"), shift=(0, 3), ha=_side(league, left, right), va="bottom",
        size=look.SMALL,
    )  # fmt: skip
    ink = [look.INK] * count
    ended = [f"{int(number):,} PA" for number in shown["plate_appearances"]]
    look.columns(panel, "left", [ended, list(shown["label"])], ink)
    best = [chance_text(float(chance)) for chance in shown["chance_best"]]
    look.columns(
        panel, "right", [[wins_text(float(one)) for one in shown["win_chance"]], best], ink,
        ["to win", "truly best"],
    )  # fmt: skip
    _whole_scale(whole, win, league, (left, right))
    field = hitters_text(len(ranks.data))
    interval = f"{level_words(ranks.level)} posterior interval"
    caption = (
        f"{capitalised(ranks.words)}. Dot: chance to win, the record pulled toward the "
        f"league; line: {interval}; ring: the bare record (PA: plate appearances). {count:,} of {field}. "
        f"Of the differences between bare records {percent(ranks.luck_share)} is luck."
    )
    words = "; ".join(
        f"{line['label']} {wins_text(line['win_chance'])} ({interval} {wins_text(line['low'])} to "
        f"{wins_text(line['high'])}, truly best: {chance_text(line['chance_best'])}, "
        f"{int(line['plate_appearances']):,} plate appearances)"
        for _, line in shown.iterrows()
    )
    alt = (
        f"Chances to win by who is at bat, {ranks.words}, {count:,} of {field}: {words}. With the league's "
        f"hitter {wins_text(ranks.league_win_chance)}. Of the differences between bare records "
        f"{percent(ranks.luck_share)} is luck."
    )
    return look.finish(ax, own, _title(shown, ranks.league_win_chance), caption, alt=alt)


def _whole_scale(ax: Axes, win: np.ndarray, league: float, part: tuple[float, float]) -> None:
    """Draw the same chances on the scale from 0 to 100 %."""
    ax.axvspan(*part, color=look.GRID, linewidth=0, zorder=0, label="part shown above")
    ax.vlines(win, 0, 1, colors=look.ACCENTS[0], linewidth=1.2, zorder=2, label="win_chance")
    ax.axvline(league, color=look.INK, linewidth=1.0, linestyle=(0, (4, 3)), zorder=1, label="league")
    ax.set_xlim(0, 100)
    ax.set_ylim(0, 1)
    ax.set_yticks([])
    ax.set_xticks([0, 25, 50, 75, 100])
    ax.xaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g} %"))
    look.put(
        ax, 0.0, 1.0, "the same hitters on the whole scale; shaded is the part shown above",
        coords="axes fraction", shift=(0, 3), ha="left", va="bottom", size=look.SMALL, color=look.QUIET,
    )  # fmt: skip


def _side(at: float, left: float, right: float) -> str:
    share = (at - left) / (right - left)
    return "left" if share < 0.2 else "right" if share > 0.8 else "center"


def _title(shown: pd.DataFrame, league: float) -> str:
    """Say how far apart the first and the last shown are, and how far the first is from the league's."""
    over = _points(shown["win_chance"].iloc[0] - league)
    title = f"{shown['label'].iloc[0]}: {over} over the league's hitter"
    if len(shown) == 1:
        return title
    between = _points(shown["win_chance"].max() - shown["win_chance"].min())
    return f"{title}, {between} over number {len(shown)}"


def _points(difference: float) -> str:
    return f"{100 * difference:.1f} points"
