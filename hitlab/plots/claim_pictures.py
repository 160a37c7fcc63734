"""The picture of a checked claim: the hitters of its evidence, what is known of each, and the bound."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.collections import LineCollection
from numpy.typing import NDArray

from hitlab.claims.result import Claim
from hitlab.intervals import DEFAULT_LEVEL
from hitlab.plots import look
from hitlab.plots.naming import record_text
from hitlab.plots.registry import draws
from hitlab.wording import event_words, level_words, per_words, percent, rate_text, rate_words

__all__ = ["Evidence", "claim", "draw_evidence", "evidence_of", "words_of"]


@dataclass(frozen=True, slots=True)
class Evidence:
    """A claim's evidence, as it is drawn on its picture and on its card.

    Attributes
    ----------
    names, records
        By row: who it is, and the record in words.
    events, exposure
        By row.
    value, low, high
        By row: the rate drawn as a dot, and the interval around it (missing for a record).
    ring
        By row: a second rate, drawn as a ring (the observed one, or everybody's); missing if none.
    chance
        By row: the chance in words, empty where there is none.
    subject
        By row: whether the claim is about this one.
    line
        A rate to be drawn as a line across, or ``None``.
    marks
        What dot, line and ring are, in words.
    columns
        What the record is, and the titles over rate and chance.
    """

    names: list[str]
    records: list[str]
    value: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    ring: NDArray[np.float64]
    chance: list[str]
    subject: NDArray[np.bool_]
    line: float | None
    marks: str
    axis: str
    columns: tuple[str, str, str]


def evidence_of(checked: Claim, most: int = 10) -> Evidence | None:
    """Take from a claim what can be drawn, the subject always among the rows; ``None`` if it has no rates."""
    table, event, per = checked.evidence, str(checked.numbers["event"]), str(checked.numbers["per"])
    if table.empty or not {"rate", event, per} <= set(table.columns):
        return None
    name = next(column for column in table.columns if column in ("hitter", "record"))
    subject = (
        (table[name] == checked.numbers["hitter"]).to_numpy(bool)
        if name == "hitter"
        else np.arange(len(table)) == 0
    )
    rows = np.arange(len(table))
    kept = rows[:most] if subject[:most].any() else np.append(rows[: most - 1], np.flatnonzero(subject)[:1])
    table, subject = table.iloc[kept].reset_index(drop=True), subject[kept]
    missing = np.full(len(table), np.nan)
    shrunk, record = "shrunk" in table.columns, checked.about == "record"
    value = table["shrunk" if shrunk and not record else "rate"].to_numpy(float)
    low, high, ring, words = missing, missing, missing, "dot: observed rate, settled by counting"
    if not record or not shrunk:
        low, high = table["low"].to_numpy(float), table["high"].to_numpy(float)
        kind = "posterior" if shrunk else "Wilson"
        dot = "shrunk rate, pulled toward the mean of all" if shrunk else "observed rate"
        words = f"dot: {dot}; line: {level_words(DEFAULT_LEVEL)} {kind} interval"
    if shrunk and not record:
        ring = table["rate"].to_numpy(float)
        words += "; ring: observed rate"
    elif "league_rate" in table.columns:
        ring = table["league_rate"].to_numpy(float)
        words += "; ring: everybody together"
    chances = next((c for c in ("chance_best", "chance_top") if c in table.columns), None)
    told = (
        [percent(float(value)) for value in table[chances]] if chances and not record else [""] * len(table)
    )
    heading = {"chance_best": "truly the best", "chance_top": f"truly top {checked.numbers.get('top')}"}
    number = checked.numbers.get("value")
    return Evidence(
        [str(one) for one in table[name]],
        [_record(table, row, event, per) for row in range(len(table))],
        value,
        low,
        high,
        ring,
        told,
        subject,
        float(number) if isinstance(number, int | float) else None,
        words,
        rate_words(event, per),
        (
            f"{event_words(event)} of {per_words(per, 2)}",
            "shrunk" if shrunk and not record else "observed",
            "" if record else heading.get(chances or "", ""),
        ),
    )


def _record(table: pd.DataFrame, row: int, event: str, per: str) -> str:
    unknown = int(table["unknown"].iloc[row]) if "unknown" in table.columns else 0
    return record_text(table[event].iloc[row], table[per].iloc[row]) + (
        f" ({unknown} unmeasured)" if unknown else ""
    )


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
    """
    seen = evidence_of(checked, most)
    if seen is None:
        return look.nothing(ax, "This claim has no rates behind it that could be drawn.")
    ax, own = look.axes_for(ax, 9.6, 2.4 + 0.34 * len(seen.names))
    draw_evidence(ax, seen)
    shades = [look.ACCENTS[0] if mine else look.INK for mine in seen.subject]
    look.columns(ax, "left", [seen.records, seen.names], shades)
    rates = [rate_text(value) for value in seen.value]
    look.columns(ax, "right", [rates, seen.chance], shades, list(seen.columns[1:]))
    look.rate_axis(ax.xaxis, seen.axis)
    below = f"The claim: {checked.claim}. {_sentence(seen.marks)}. Beside each name: {seen.columns[0]}."
    title = f"{checked.verdict[0].upper()}{checked.verdict[1:]}" + (
        "" if checked.chance is None else f": the chance is {percent(checked.chance)}"
    )
    return look.finish(ax, own, title, below, alt=words_of(checked, seen))


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def draw_evidence(ax: Axes, seen: Evidence, *, scale: float = 1.0, label: bool = True) -> None:
    """Draw dots, intervals, rings and the value on axes whose rows run downward."""
    rows = np.arange(len(seen.names))
    shade = [look.ACCENTS[0] if mine else look.ACCENTS[1] for mine in seen.subject]
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
            edgecolors=[shade[row] for row in ringed], label="ring",
        )  # fmt: skip
    ax.scatter(seen.value, rows, s=size, c=shade, zorder=4, label="value")
    edges = np.concatenate(
        [seen.value, seen.low, seen.high, seen.ring, [np.nan if seen.line is None else seen.line]]
    )
    lowest, highest = float(np.nanmin(edges)), float(np.nanmax(edges))
    reach = max(highest - lowest, 0.02)
    ax.set_xlim(max(-0.005, lowest - 0.12 * reach), min(1.005, highest + 0.12 * reach))
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_yticks([])
    if seen.line is not None:
        ax.axvline(
            seen.line, color=look.INK, linewidth=1.2 * scale, linestyle=(0, (4, 3)), zorder=1, label="line"
        )
    if seen.line is not None and label:
        look.put(
            ax, seen.line, 1.0, rate_text(seen.line), coords=("data", "axes fraction"), shift=(0, 3 * scale),
            ha="center", va="bottom", size=look.SMALL * scale,
        )  # fmt: skip


def words_of(checked: Claim, seen: Evidence | None) -> str:
    """Return the alt text of a claim's picture or card."""
    parts = []
    for row, name in enumerate(seen.names if seen else []):
        assert seen is not None
        text = f"{name} {rate_text(seen.value[row])}, {seen.records[row]}"
        if np.isfinite(seen.low[row]):
            text += f", from {rate_text(seen.low[row])} to {rate_text(seen.high[row])}"
        if seen.chance[row]:
            text += f", {seen.columns[2]} {seen.chance[row]}"
        parts.append(text)
    marks = f" {_sentence(seen.marks)}. Rates of {seen.axis}: " if seen else ""
    return f"{checked.headline}. {checked.say}{marks}" + "; ".join(parts) + ("." if parts else "")
