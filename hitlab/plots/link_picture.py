"""Do two rates go together: every hitter in both, and what is known of the correlation behind them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.ticker import FuncFormatter
from numpy.typing import NDArray

from hitlab.plots import look
from hitlab.plots.alt import keep_words
from hitlab.plots.lettering import wrapped
from hitlab.plots.naming import chosen, labels_of
from hitlab.plots.placing import Label, named_axis, place_labels
from hitlab.plots.registry import draws
from hitlab.two_rates.link import Link, correlation_text
from hitlab.wording import chance_text, level_words, rate_text, record_text

__all__ = ["talent_link"]

_AREA = 90.0  # square points of the largest record's dot
_LOUD = 20.0  # type size of the answer
_USUAL = 2  # named at each end of each rate
_AXIS_WORDS = 300.0  # points of a line of an axis' title
_WIDE = 0.62  # of the whole, for the hitters


@draws(Link)
def talent_link(link: Link, ax: Axes | None = None, *, names: Sequence[str] | None = None) -> Axes:
    """Draw every hitter's two shrunk rates, the observed ones faint, and the correlation's posterior.

    Parameters
    ----------
    link
        From ``correlate_rates`` or ``correlate_counts``.
    ax
        Axes to draw on; the two panels are set into it (``ax.child_axes``: hitters, correlation).
    names
        Hitters to name; those at the ends of both shrunk rates where not given.

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
    >>> from hitlab.plots import describe, talent_link
    >>> from hitlab.two_rates import RateOf, correlate_counts
    >>> last = pd.DataFrame({"hitter": ["Kvalbakk", "Haxditch", "Quarmoor", "Wychditch", "Goriches"],
    ...                      "swings": [400, 380, 350, 310, 290], "whiffs": [120, 70, 84, 50, 90]})
    >>> this = last.assign(whiffs=[110, 75, 80, 52, 86])
    >>> link = correlate_counts(
    ...     last, this, RateOf("whiffs", "swings", words="last season"), RateOf("whiffs", "swings"),
    ...     apart="the two seasons share no game")
    >>> ax = talent_link(link)
    >>> print(fill(describe(ax).split(". ")[1], 90))
    True talents of 5 hitters in whiffs per swing last season and in whiffs per swing:
    correlation +.73, 90 % posterior interval +.04 to +.99, chance that it is positive 96 %
    """
    data = link.data.assign(label=labels_of(link.data, "first_events"))
    if data.empty:
        return look.nothing(ax, "No hitter has a record in both rates: there is nothing to draw.")
    ax, own = look.axes_for(ax, 10.6, 6.2)
    ax.set_xticks([])
    ax.set_yticks([])
    ax.spines["bottom"].set_visible(False)
    panel, _ = look.axes_for(ax.inset_axes((0.0, 0.0, _WIDE, 1.0)))
    curve, _ = look.axes_for(ax.inset_axes((_WIDE + 0.07, 0.0, 1.0 - _WIDE - 0.07, 0.46)))
    shrunk = data[["first_shrunk", "second_shrunk"]].to_numpy(float)
    observed = data[["first_rate", "second_rate"]].to_numpy(float)
    exposure = data[["first_exposure", "second_exposure"]].to_numpy(float).min(axis=1)
    order = np.argsort(shrunk, axis=0, kind="stable")
    ends = np.vstack([order[:_USUAL], order[-_USUAL:]]).ravel().tolist()
    named = chosen(list(data["label"]), names, ends)
    outside = _limits(panel, shrunk, observed)
    area = _AREA * exposure / exposure.max()
    is_named = np.isin(np.arange(len(data)), named)
    panel.scatter(
        observed[:, 0],
        observed[:, 1],
        s=7,
        color=look.FAINT,
        alpha=0.45,
        linewidths=0,
        zorder=1,
        label="observed",
    )
    for part, color, label in ((~is_named, look.ACCENTS[1], "others"), (is_named, look.ACCENTS[0], "named")):
        panel.scatter(
            shrunk[part, 0], shrunk[part, 1], s=area[part], facecolors=color, edgecolors=look.BACKGROUND,
            linewidths=0.6, alpha=0.85, zorder=3 if label == "named" else 2, label=label,
        )  # fmt: skip
    panel.spines["left"].set_visible(True)
    for axis, words in ((panel.xaxis, link.first), (panel.yaxis, link.second)):
        look.rate_axis(axis, "\n".join(wrapped(words, _AXIS_WORDS, look.SMALL)))
        axis.grid(True, color=look.GRID, linewidth=0.8)
    panel.set_axisbelow(True)
    panel.locator_params(nbins=6)
    _posterior(curve, link)
    _beside(ax, link)
    alt = _words(link, data, named, outside)
    look.finish(ax, own, _title(link), _caption(link, exposure, outside), alt=alt)
    labels = [
        Label(
            "\n".join(look.narrowed(str(data["label"].iloc[i]), look.SMALL)[0]),
            (float(shrunk[i, 0]), float(shrunk[i, 1])),
            _away(shrunk, int(i)),
            look.ACCENTS[0],
            look.SMALL,
        )
        for i in sorted(named, key=lambda i: -float(np.hypot(*_away(shrunk, int(i)))))
    ]
    place_labels(panel, labels, shrunk)
    keep_words(ax, alt)
    return ax


def _limits(ax: Axes, shrunk: NDArray[np.float64], observed: NDArray[np.float64]) -> int:
    """Show all shrunk rates and as many observed ones as do not press them together; return the rest."""
    low, high = shrunk.min(axis=0), shrunk.max(axis=0)
    room = np.maximum((high - low), 0.01)
    low = np.maximum(np.maximum(low - room, observed.min(axis=0) - 0.1 * room), -0.02)
    high = np.minimum(np.minimum(high + room, observed.max(axis=0) + 0.1 * room), 1.02)
    low, high = (
        np.minimum(low, shrunk.min(axis=0) - 0.1 * room),
        np.maximum(high, shrunk.max(axis=0) + 0.1 * room),
    )
    ax.set_xlim(low[0], high[0])
    ax.set_ylim(low[1], high[1])
    return int(((observed < low) | (observed > high)).any(axis=1).sum())


def _away(shrunk: NDArray[np.float64], place: int) -> tuple[float, float]:
    spread = np.maximum(np.ptp(shrunk, axis=0), 1e-9)
    x, y = (shrunk[place] - shrunk.mean(axis=0)) / spread
    return float(x), float(y)


def _posterior(ax: Axes, link: Link) -> None:
    """Draw the posterior of the correlation, its interval shaded."""
    points = link.curve()
    x, density = points["correlation"].to_numpy(float), points["density"].to_numpy(float)
    ax.plot(x, density, color=look.ACCENTS[2], linewidth=1.6, zorder=3, label="posterior")
    within = (x >= link.low) & (x <= link.high)
    ax.fill_between(
        x[within], density[within], color=look.ACCENTS[2], alpha=0.2, linewidth=0, label="interval"
    )
    ax.axvline(0.0, color=look.INK, linewidth=0.8, zorder=1, label="no link")
    if np.isfinite(link.naive):
        ax.axvline(
            link.naive,
            color=look.QUIET,
            linewidth=1.2,
            linestyle=(0, (4, 3)),
            zorder=2,
            label="observed rates",
        )
    ax.set_xlim(-1, 1)
    ax.set_ylim(0, 1.08 * float(density.max()))
    ax.set_yticks([])
    ax.set_xticks([-1, -0.5, 0, 0.5, 1])
    ax.xaxis.set_major_formatter(FuncFormatter(lambda value, _: correlation_text(value) if value else "0"))
    named_axis(ax.xaxis, "correlation of true talents")


def _beside(ax: Axes, link: Link) -> None:
    """Write what is known of the correlation over its curve."""
    span = f"{correlation_text(link.low)} to {correlation_text(link.high)}"
    found = correlation_text(link.correlation) if link.can_be_told else "cannot be told"
    down = 0.0
    for text, size, color in (
        ("Correlation of true talents", look.BODY, look.QUIET),
        (found, _LOUD, look.ACCENTS[2]),
        (f"{level_words(link.level)} posterior interval (shaded)", look.SMALL, look.INK),
        (span, look.BODY, look.INK),
        (f"chance that it is positive: {chance_text(link.chance_positive)}", look.SMALL, look.INK),
        (f"of observed rates: {correlation_text(link.naive)} (dashed)", look.SMALL, look.QUIET),
    ):
        look.put(
            ax, _WIDE + 0.07, 1.0, text, coords="axes fraction", shift=(0, -down), ha="left", va="top",
            size=size, color=color, fontweight="bold" if size == _LOUD else "normal",
        )  # fmt: skip
        down += 1.5 * size


def _title(link: Link) -> str:
    if not link.can_be_told:
        return "Whether the two go together cannot be told"
    if link.low > 0:
        return "Who is higher in one is higher in the other"
    if link.high < 0:
        return "Who is higher in one is lower in the other"
    return "Whether the two go together is open"


def _caption(link: Link, exposure: NDArray[np.float64], outside: int) -> str:
    gone = f"; {outside:,} of these lie beyond the edges" if outside else ""
    why = f" {link.why_not}." if link.why_not else ""
    least, most = int(exposure.min()), int(exposure.max())
    return (
        f"{len(link.data):,} hitters. Large dots: shrunk rates, size by the smaller of a hitter's two "
        f"records (n from {least:,} to {most:,}); specks: observed rates{gone}. The model that pulls the "
        "dots also lines them up: read the link from its curve at the right. Park, device, schedule and "
        f"exposure can mimic one.{why}"
    )


def _words(link: Link, data: pd.DataFrame, named: NDArray[np.int64], outside: int) -> str:
    def one(line: pd.Series[Any], side: str) -> str:
        record = record_text(line[f"{side}_events"], line[f"{side}_exposure"])
        return f"{rate_text(line[f'{side}_shrunk'])} ({record})"

    parts = [
        f"{line['label']} {one(line, 'first')} and {one(line, 'second')}"
        for _, line in data.iloc[named].iterrows()
    ]
    return (
        f"Scatter of {len(data):,} hitters: {link.first} across, {link.second} upward, shrunk rates large "
        f"and observed ones faint. {link.explanation}. Of observed rates: {correlation_text(link.naive)}. "
        f"Named: {'; '.join(parts)}."
        + (f" {outside:,} observed records lie beyond the edges." if outside else "")
    )
