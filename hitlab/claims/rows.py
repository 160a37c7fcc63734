"""The rows that a verdict rests on: rates with their intervals, whatever the kind of claim."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from datetime import datetime
from statistics import NormalDist
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.claims.result import Claim
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.over_time.periods import FACTOR
from hitlab.two_rates.link import correlation_text
from hitlab.wording import chance_text, level_words, rate_text, record_text

__all__ = ["Rows", "odds_text", "rows_of"]


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
        How a value is written, on its axis and beside it.
    line_words
        By line: what it is called where it stands.
    beneath
        What is told in words beneath the drawing: the records that a comparison was made of.
    odds
        Whether values are log odds ratios, drawn about none.
    unmeasured
        By row: how many balls of it are of unknown hardness; empty for none.
    sample
        How many were compared, or of how many chances it is told.
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
    line_words: tuple[str, ...] = ()
    beneath: tuple[str, ...] = ()
    odds: bool = False
    unmeasured: tuple[int, ...] = ()
    sample: str = ""

    def record(self, row: int) -> str:
        """Return the record of a row, and how much of it is of unknown hardness."""
        unknown = self.unmeasured[row] if self.unmeasured else 0
        return f"{self.records[row]} ({unknown:,} unmeasured)" if unknown else self.records[row]

    def said(self, row: int) -> str:
        """Return the rate of a row as it is written; empty where only its bounds are known."""
        return "" if np.isnan(self.value[row]) else self.text(float(self.value[row]))


def rows_of(checked: Claim, most: int = 10) -> Rows | None:
    """Take from a claim what can be drawn, the subject always among the rows; ``None`` if it has no rates."""
    if checked.kind in _OWN:
        return _OWN[checked.kind](checked, most)
    if checked.kind in _COMPARED and checked.chance is not None:
        return _COMPARED[checked.kind](checked)
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
    kept = _kept(subject, most)
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
    lines, names = _lines(checked)
    return Rows(
        [_name_of(one, checked.kind) for one in table[name]],
        [record_text(table[event].iloc[row], table[per].iloc[row]) for row in range(len(table))],
        value,
        low,
        high,
        ring,
        told,
        subject,
        lines,
        words,
        _rate_words(what, per),
        (
            f"{event_words(what)} of {per_words(per, 2)}",
            "" if np.isnan(value).all() else "shrunk" if shrunk and not record else "observed",
            "" if record or chances is None else _chance_of(checked),
        ),
        line_words=names,
        unmeasured=tuple(int(n) for n in table["unknown"]) if "unknown" in table.columns else (),
        sample=_sample(checked, per),
    )


def _kept(subject: NDArray[np.bool_], most: int) -> NDArray[np.int64]:
    """Return the first rows, the subject always among them."""
    rows = np.arange(len(subject))
    return rows[:most] if subject[:most].any() else np.append(rows[: most - 1], np.flatnonzero(subject)[:1])


def _of_spot(checked: Claim, most: int) -> Rows | None:
    """Chances to win by hitter."""
    from hitlab.game.spots import wins_text

    table = checked.evidence
    subject = (table["hitter"] == checked.numbers["hitter"]).to_numpy(bool)
    kept = _kept(subject, most)
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
        "posterior interval",
        "chance to win",
        (
            "plate appearances",
            "wins",
            f"truly the {'better' if checked.numbers['compared'] == 2 else 'best'}",
        ),
        text=wins_text,
        line_words=("the league's average hitter",),
        sample=f"{int(checked.numbers['compared']):,} hitters compared",
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
        [""],
        np.array([True]),
        (0.0,),
        f"dot: correlation of true talents; line: {level_words(float(numbers['level']))} posterior interval"
        + ("" if np.isnan(observed) else "; ring: correlation of observed rates"),
        "correlation across hitters",
        ("hitters", "correlation", ""),
        (-1.0, 1.0),
        lambda value: correlation_text(value) if round(value, 2) else "0",
        ("none",),
        sample=f"{int(numbers['hitters']):,} hitters",
    )


def _lines(checked: Claim) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Return what a rate is held against, from the least, and what each is called where it stands."""
    numbers, record = checked.numbers, checked.about == "record"
    found: list[tuple[float, str]] = []
    if checked.kind == "near":
        value, within = float(numbers["value"]), float(numbers["within"])
        found = [(value - within, "from"), (value + within, "to")]
    elif "value" in numbers:
        others = str(checked.question.options.get("value", "")).strip().casefold() == "league"
        found = [(float(numbers["value"]), "everybody else" if others else "said")]
    elif record and "mean_rate" in numbers:
        found = [(float(numbers["mean_rate"]), "everybody")]
    elif not record:
        found = [(float(numbers[name]), words) for name, words in _LINES.get(checked.kind, ())]
    return tuple(value for value, _ in found), tuple(words for _, words in found)


_LINES = {
    "hot": (("usual", "usual"), ("hot_from", "hot from")),
    "steady": (("steady_from", "steady from"), ("usual", "usual"), ("steady_to", "to")),
}
"""By kind of claim: the numbers drawn across, from the least, and what they are called."""


def _chance_of(checked: Claim) -> str:
    """Say of what the chances beside the rows are."""
    top, end = checked.numbers.get("top"), "low" if checked.question.direction == "less" else "high"
    if top != 1:
        return f"truly of the {top} {end}est"
    return f"truly the {end}{'er' if checked.numbers.get('compared') == 2 else 'est'}"


def _sample(checked: Claim, per: str) -> str:
    """Say how many were compared, or of how many chances it is told."""
    numbers = checked.numbers
    if "compared" in numbers:
        least = int(numbers.get("minimum", 0))
        of = f" of at least {least:,} {per_words(per, least)}" if least else ""
        return f"{int(numbers['compared']):,} {checked.question.subject}s{of} compared"
    both = [
        int(numbers[name]) for name in ("exposure", "before_exposure", "rest_exposure") if name in numbers
    ]
    return f"{' and '.join(f'{each:,}' for each in both)} {per_words(per, both[-1])}" if both else ""


def _of_change(checked: Claim) -> Rows:
    """Give the change between two periods, as the odds ratio that the chance is about."""
    evidence, numbers = checked.evidence, checked.numbers
    than = str(evidence["period"].iloc[0])
    lines: tuple[float, ...] = (0.0,)
    words: tuple[str, ...] = ("no change",)
    if checked.question.direction == "either":
        least = float(np.log(checked.question.options.get("factor", FACTOR)))
        lines, words = (-least, 0.0, least), ("lower", "no change", "higher")
    return _ratio(
        checked,
        str(numbers.get(checked.question.subject, "")),
        float(numbers["log_odds_ratio"]),
        (float(numbers["ratio_low"]), float(numbers["ratio_high"])),
        f"now, as a multiple of those {than}",
        (lines, words),
        [(str(row["period"]), row) for row in evidence.to_dict("records")],
    )


def _of_split(checked: Claim) -> Rows:
    """Give the difference between a situation and the rest, as the odds ratio that the chance is about."""
    numbers, evidence = checked.numbers, checked.evidence
    ratio, ends = numbers["log_odds_ratio"], (float(numbers["ratio_low"]), float(numbers["ratio_high"]))
    lines: tuple[float, ...] = (0.0,)
    words: tuple[str, ...] = ("no difference",)
    if checked.question.options.get("against") == "usual":  # then what it does to everybody decides
        both = sorted([(0.0, words[0]), (float(numbers["league_log_odds_ratio"]), "everybody")])
        lines, words = tuple(value for value, _ in both), tuple(word for _, word in both)
    return _ratio(
        checked,
        str(numbers.get(checked.question.subject, "")),
        float(ratio),
        ends,
        f"{evidence['record'].iloc[0]}, as a multiple of those otherwise",
        (lines, words),
        [(str(row["record"]), row) for row in evidence.to_dict("records")],
    )


def _of_response(checked: Claim) -> Rows:
    """Give what a whiff does to the odds of the next pitch, with what the chance is told from."""
    numbers, evidence = checked.numbers, checked.evidence
    mean, error = float(numbers["log_odds_ratio"]), float(numbers["log_odds_ratio_error"])
    reach = float(NormalDist().inv_cdf((1 + DEFAULT_LEVEL) / 2)) * error
    after, otherwise = (str(one) for one in evidence["record"])
    return _ratio(
        checked,
        str(numbers["hitter"]) or "all hitters together",
        mean,
        (mean - reach, mean + reach),
        f"{after} as a multiple of those {otherwise}, the day's form taken out",
        ((0.0,), ("no difference",)),
        [(str(row["record"]), row) for row in evidence.to_dict("records")],
    )


def _ratio(
    checked: Claim,
    name: str,
    ratio: float,
    ends: tuple[float, float],
    axis: str,
    lines: tuple[tuple[float, ...], tuple[str, ...]],
    records: list[tuple[str, dict[Hashable, Any]]],
) -> Rows:
    """Lay out an odds ratio with its interval, and in words beneath it the records as they are."""
    numbers = checked.numbers
    event, per = (
        str(numbers.get(n, c)) for n, c in zip(("event", "per"), checked.evidence.columns[1:3], strict=True)
    )
    what = _RESPONSES.get(event, event) if checked.kind == "response" else event
    told = [
        f"{words}: {record_text(row[event], row[per])}, {rate_text(float(row['rate']))}"
        + (f" (everybody {rate_text(float(row['league_rate']))})" if "league_rate" in row else "")
        for words, row in records
    ]
    exposures = " and ".join(f"{int(row[per]):,}" for _, row in records)
    return Rows(
        [name],
        [exposures],
        np.array([ratio]),
        np.array([ends[0]]),
        np.array([ends[1]]),
        np.full(1, np.nan),
        [""],
        np.array([True]),
        lines[0],
        f"dot: the estimate; line: {level_words(DEFAULT_LEVEL)} posterior interval",
        f"odds of {_rate_words(what, per)} {axis}",
        (per_words(per, 2), "estimated", ""),
        (-np.inf, np.inf),
        odds_text,
        lines[1],
        (f"The records as they are, {event_words(what)} of {per_words(per, 2)}:", *told),
        True,
        sample=f"{exposures} {per_words(per, 2)}",
    )


def _name_of(row: Any, kind: str) -> str:
    """Return what a row is called: a stretch of games by its first day."""
    if kind not in ("hot", "steady"):
        return str(row)
    try:
        day = datetime.fromisoformat(str(row)[:10])
    except ValueError:  # games without days are told by their names
        return str(row)
    return f"from {day:%B} {day.day}"


def _rate_words(event: str, per: str) -> str:
    """Say what is counted of what; what follows something is told of the next pitch."""
    return f"{event_words(event)} at the next pitch" if per == "next_pitches" else rate_words(event, per)


def odds_text(log_odds: float) -> str:
    """Return a log odds ratio as a factor: ``×1.25``."""
    return f"×{float(np.exp(log_odds)):.2f}"


_RESPONSES = {"whiff": "whiffs", "swing": "swings", "take": "takes", "same_kind": "the same kind again"}

_COMPARED: dict[str, Callable[[Claim], Rows]] = {
    "more": _of_change,
    "split": _of_split,
    "response": _of_response,
}
"""Kinds whose chance is that of a difference, not of a rate."""

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
