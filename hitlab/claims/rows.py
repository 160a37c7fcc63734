"""The rows that a verdict rests on: rates with their intervals, whatever the kind of claim."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.claims.result import Claim
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.two_rates.link import correlation_text
from hitlab.wording import chance_text, level_words, rate_text, record_text

__all__ = ["Rows", "rows_of"]


@dataclass(frozen=True, slots=True)
class Rows:
    """The rows that a verdict rests on; its picture and its card draw them.

    Attributes
    ----------
    names, records
        By row: who it is, and the record in words.
    events, exposure
        By row.
    value, low, high
        By row: the rate drawn as a dot (missing where only its bounds are known), and the interval around it,
        or these bounds (missing for a record).
    ring
        By row: a second rate, drawn as a ring (the observed one, or everybody's); missing if none.
    chance
        By row: the chance in words, empty where there is none.
    subject
        By row: whether the claim is about this one.
    lines
        Values to be drawn as lines across, from the least; empty if there is nothing to compare with.
    marks
        What dot, line and ring are, in words.
    columns
        What the record is, and the titles over rate and chance.
    bounds
        Least and greatest that can be drawn.
    text
        How a value is written.
    """

    names: list[str]
    records: list[str]
    value: NDArray[np.float64]
    low: NDArray[np.float64]
    high: NDArray[np.float64]
    ring: NDArray[np.float64]
    chance: list[str]
    subject: NDArray[np.bool_]
    lines: tuple[float, ...]
    marks: str
    axis: str
    columns: tuple[str, str, str]
    bounds: tuple[float, float] = (0.0, 1.0)
    text: Callable[[float], str] = rate_text

    def said(self, row: int) -> str:
        """Return the rate of a row as it is written; empty where only its bounds are known."""
        return "" if np.isnan(self.value[row]) else self.text(float(self.value[row]))


def rows_of(checked: Claim, most: int = 10) -> Rows | None:
    """Take from a claim what can be drawn, the subject always among the rows; ``None`` if it has no rates."""
    if checked.kind in _OWN:
        return _OWN[checked.kind](checked, most)
    table = checked.evidence
    if table.empty or not {"rate"} < set(table.columns):
        return None
    # A claim about what follows something names its two counts by its columns.
    event, per = (
        str(checked.numbers.get(n, c)) for n, c in zip(("event", "per"), table.columns[1:3], strict=True)
    )
    if not {event, per} <= set(table.columns):
        return None
    what = _RESPONSES.get(event, event) if checked.kind == "response" else event
    name = str(table.columns[0])
    subject = _subjects(checked, table)
    rows = np.arange(len(table))
    kept = rows[:most] if subject[:most].any() else np.append(rows[: most - 1], np.flatnonzero(subject)[:1])
    table, subject = table.iloc[kept].reset_index(drop=True), subject[kept]
    missing = np.full(len(table), np.nan)
    shrunk, record = "shrunk" in table.columns, checked.about == "record"
    value = table["shrunk" if shrunk and not record else "rate"].to_numpy(float)
    low, high, ring = missing, missing, missing
    words = "dot: observed rate, " + ("settled by counting" if record else "luck and all")
    if (not record or not shrunk) and {"low", "high"} <= set(table.columns):
        low, high = table["low"].to_numpy(float), table["high"].to_numpy(float)
        kind = "posterior" if shrunk else "Wilson"
        q = checked.question
        beside = q.groups or q.covariates or q.earlier
        toward = "what is expected of each" if beside else "the mean of all"
        dot = f"shrunk rate, pulled toward {toward}" if shrunk else "observed rate"
        words = f"dot: {dot}; line: {level_words(DEFAULT_LEVEL)} {kind} interval"
    if shrunk and not record:
        ring = table["rate"].to_numpy(float)
        words += "; ring: observed rate"
    elif "league_rate" in table.columns:
        ring = table["league_rate"].to_numpy(float)
        words += "; ring: everybody together"
    if "least" in table.columns:  # in place of rates their bounds, with no dot to be taken for one
        alone = table["rate"].isna().to_numpy() & table["least"].notna().to_numpy()
        low = np.where(alone, table["least"].to_numpy(float), low)
        high = np.where(alone, table["most"].to_numpy(float), high)
        bounds = "from none of the unknown hard to all of it"
        words = f"line: {bounds}" if alone.all() else f"{words}; line without a dot: {bounds}"
    chances = next((c for c in ("chance_best", "chance_top") if c in table.columns), None)
    told = (
        [chance_text(float(value)) for value in table[chances]]
        if chances and not record
        else [""] * len(table)
    )
    heading = {"chance_best": "truly the best", "chance_top": f"truly top {checked.numbers.get('top')}"}
    drawn, said = _LINES.get(checked.kind, (("value",), ""))
    if not record:
        words += said
    numbers = [checked.numbers.get(number) for number in drawn if number == "value" or not record]
    lines = tuple(float(number) for number in numbers if number is not None)
    return Rows(
        [str(one) for one in table[name]],
        [_record(table, row, event, per) for row in range(len(table))],
        value,
        low,
        high,
        ring,
        told,
        subject,
        lines,
        words,
        rate_words(what, per),
        (
            f"{event_words(what)} of {per_words(per, 2)}",
            "" if np.isnan(value).all() else "shrunk" if shrunk and not record else "observed",
            "" if record else heading.get(chances or "", ""),
        ),
    )


def _of_spot(checked: Claim, most: int) -> Rows | None:
    """Chances to win by hitter; the observed one is a ring."""
    table = checked.evidence
    subject = (table["hitter"] == checked.numbers["hitter"]).to_numpy(bool)
    kept = np.arange(len(table))[:most] if subject[:most].any() else np.flatnonzero(subject)
    table, subject = table.iloc[kept].reset_index(drop=True), subject[kept]
    return Rows(
        [str(one) for one in table["hitter"]],
        [f"{int(n):,}" for n in table["plate_appearances"]],
        table["win_chance"].to_numpy(float),
        table["low"].to_numpy(float),
        table["high"].to_numpy(float),
        np.full(len(table), np.nan),
        [chance_text(float(value)) for value in table["chance_best"]],
        subject,
        (float(checked.numbers["league_win_chance"]),),
        f"dot: chance to win with this hitter at bat; line: {level_words(float(checked.numbers['level']))} "
        "posterior interval; dashed: the league's average hitter",
        "chance to win",
        ("plate appearances", "wins", "truly the best"),
    )


def _of_link(checked: Claim, most: int) -> Rows | None:
    """Give the correlation of true talents, with that of the observed rates as a ring."""
    numbers = checked.numbers
    observed = float(numbers.get("observed_correlation", np.nan))
    return Rows(
        ["true talents"],
        [f"{int(numbers['hitters']):,}"],
        np.array([float(numbers["correlation"])]),
        np.array([float(numbers["low"])]),
        np.array([float(numbers["high"])]),
        np.array([observed]),
        [chance_text(float(checked.chance if checked.chance is not None else np.nan))],
        np.array([True]),
        (0.0,),
        f"dot: correlation of true talents; line: {level_words(float(numbers['level']))} posterior interval"
        + ("" if np.isnan(observed) else "; ring: correlation of observed rates"),
        "correlation across hitters",
        ("hitters", "correlation", "above 0"),
        (-1.0, 1.0),
        correlation_text,
    )


_RESPONSES = {"whiff": "whiffs", "swing": "swings", "take": "takes", "same_kind": "the same kind again"}


_LINES = {
    "hot": (("usual", "hot_from"), "; dashed: the usual rate, and the least that would be hot"),
    "steady": (
        ("steady_from", "usual", "steady_to"),
        "; dashed: the usual rate, and the least and the most that is steady",
    ),
}
"""By kind of claim: the numbers drawn across, from the least, and what they are."""

_OWN: dict[str, Callable[[Claim, int], Rows | None]] = {"spot": _of_spot, "together": _of_link}


def _subjects(checked: Claim, table: pd.DataFrame) -> NDArray[np.bool_]:
    """Say which rows the claim is about: one hitter, the first record, the last stretch or all of them."""
    name = table.columns[0]
    mine = np.zeros(len(table), dtype=bool)
    if name in checked.numbers:  # a hitter, a pitcher or a club
        mine[table[name] == checked.numbers[name]] = True
    elif checked.kind == "steady":
        mine[:] = True
    else:
        mine[0 if name == "record" else -1] = True
    return mine


def _record(table: pd.DataFrame, row: int, event: str, per: str) -> str:
    unknown = int(table["unknown"].iloc[row]) if "unknown" in table.columns else 0
    return record_text(table[event].iloc[row], table[per].iloc[row]) + (
        f" ({unknown} unmeasured)" if unknown else ""
    )
