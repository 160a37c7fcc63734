"""Who may be the best: chances and intervals of ranks."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from matplotlib.ticker import PercentFormatter

from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.estimates.ranking import Ranks
from hitlab.plots import look
from hitlab.plots.naming import chosen
from hitlab.plots.registry import draws
from hitlab.wording import chance_text, hitters_text, level_words, rate_text, record_text

__all__ = ["rank_chances"]


@draws(Ranks)
def rank_chances(
    ranks: Ranks, ax: Axes | None = None, *, names: Sequence[str] | None = None, most: int = 15
) -> Axes:
    """Draw each hitter's chance to be truly the best and among the top, with the interval of his rank.

    Parameters
    ----------
    ranks
        From ``ranks``.
    ax
        Axes to draw on; a fresh figure where not given.
    names
        Hitters to show; the likeliest best where not given.
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
    >>> import hitlab
    >>> import pandas as pd
    >>> from textwrap import fill
    >>> from hitlab.plots import describe, rank_chances
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...                      "swings": [400, 380, 350], "in_play": [190, 200, 150], "hard": [104, 70, 63]})
    >>> ax = rank_chances(hitlab.ranks(hitlab.shrink(team, "hard", "swings"), top=2))
    >>> print(fill(describe(ax).split(". ")[1], 90))
    Runa Kvalbakk (104 of 400, .260): best 97 %, top 2 more than 99 %, rank 1 to 1; Nils
    Haxditch (70 of 380, .184): best 1 %, top 2 55 %, rank 2 to 3; Zora Quarmoor (63 of 350,
    .180): best 1 %, top 2 45 %, rank 2 to 3.
    """
    places = chosen(list(ranks.data["label"]), names, range(len(ranks.data)))
    shown = ranks.data.iloc[places].head(most).reset_index(drop=True)
    if shown.empty:
        return look.nothing(ax, "Nobody is ranked here: there is nothing to draw.")
    ax, own = look.axes_for(ax, 9.6, 2.0 + 0.29 * len(shown))
    rows = np.arange(len(shown))
    best, top = 100 * shown["chance_best"].to_numpy(float), 100 * shown["chance_top"].to_numpy(float)
    ax.add_collection(
        LineCollection(
            [[(a, row), (b, row)] for a, b, row in zip(best, top, rows, strict=True)],
            colors=look.FAINT,
            linewidths=1.4,
            zorder=1,
            label="from best to top",
        )
    )
    ax.scatter(
        top, rows, s=42, facecolors=look.BACKGROUND, edgecolors=look.ACCENTS[1], linewidths=1.5, zorder=2,
        label="chance_top",
    )  # fmt: skip
    ax.scatter(best, rows, s=42, color=look.ACCENTS[0], zorder=3, label="chance_best")
    end = next(end for end in (10, 20, 40, 60, 80, 100) if end >= min(100.0, 1.02 * top.max()))
    ax.set_ylim(len(shown) - 0.4, -0.6)
    ax.set_xlim(-0.02 * end, 1.02 * end)
    ax.set_yticks([])
    ax.set_xticks(np.linspace(0, end, 5 if end > 10 else 3))
    look.rate_axis(ax.xaxis, "chance, by the model")
    ax.xaxis.set_major_formatter(PercentFormatter(decimals=0, symbol=" %"))
    ax.xaxis.grid(True, color=look.GRID, linewidth=0.8)
    ax.set_axisbelow(True)
    words, records, spans = [], [], []
    for _, line in shown.iterrows():
        record = record_text(line[ranks.event], line[ranks.per])
        records.append(record)
        spans.append(f"{line['rank_low']} to {line['rank_high']}")
        words.append(
            f"{line['label']} ({record}, {rate_text(float(line['rate']))}): "
            f"best {chance_text(line['chance_best'])}, "
            f"top {ranks.top} {chance_text(line['chance_top'])}, "
            f"rank {line['rank_low']} to {line['rank_high']}"
        )
    ink = [look.INK] * len(shown)
    look.columns(ax, "left", [records, list(shown["label"])], ink)
    chances = [chance_text(float(chance)) for chance in shown["chance_best"]]
    look.columns(ax, "right", [chances, spans], ink, ["best", "true rank"])
    name = rate_words(ranks.event, ranks.per)
    field = hitters_text(len(ranks.data))
    interval = f"{level_words(ranks.level)} posterior interval of the true rank"
    title = f"Who truly has the highest rate of {name}?"
    below = (
        f"Filled: chance to be truly the best; ring: chance to be truly among the top {ranks.top}. "
        f"At the right: {interval}. Beside each name the record: {event_words(ranks.event)} of n "
        f"{per_words(ranks.per, 2)}. {len(shown)} of {field}."
    )
    alt = (
        f"Chances to have truly the highest rate of {name} among {field}, with the {interval}. "
        + "; ".join(words)
        + "."
    )
    return look.finish(ax, own, title, below, alt=alt)
