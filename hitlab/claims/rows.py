"""The rows that a verdict rests on: rates with their intervals, whatever the kind of claim."""

from __future__ import annotations

from collections.abc import Callable
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
        or these bounds (missing for a settled record).
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
    if checked.kind in ("more", "split", "response") and checked.chance is not None:
        return _of_ratio(checked)
    table = checked.evidence
    if table.empty or not {"rate"} < set(table.columns):
        return None
    event, per, what = _counts_of(checked)
    if not {event, per} <= set(table.columns):
        return None
    name = str(table.columns[0])
    table, subject = _kept(table, _subjects(checked, table), most)
    by_chance, record = "shrunk" in table.columns and checked.about != "record", checked.about == "record"
    value = table["shrunk" if by_chance else "rate"].to_numpy(float)
    low = high = ring = np.full(len(table), np.nan)
    words = "dot: observed rate, " + ("settled by counting" if record else "luck and all")
    undecided = record and checked.verdict == "open" and "unknown" in table.columns
    if undecided:  # where each may be: what is drawn overlaps where the record is open
        least = table[event].to_numpy(float)
        low, high = (least + more for more in (0, table["unknown"].to_numpy(float)))
        low, high = (end / table[per].to_numpy(float) for end in (low, high))
        words = f"dot: observed rate; line: {_BOUNDS}"
    elif (by_chance or "shrunk" not in table.columns) and {"low", "high"} <= set(table.columns):
        low, high = table["low"].to_numpy(float), table["high"].to_numpy(float)
        q = checked.question
        beside = q.groups or q.covariates or q.earlier
        toward = "what is expected of each" if beside else "the mean of all"
        words = f"dot: observed rate; {_lies('the true rate', DEFAULT_LEVEL)}"
        if by_chance:
            words = f"dot: estimate, pulled toward {toward}; {_lies('the true rate', DEFAULT_LEVEL)}"
    if by_chance:
        ring = table["rate"].to_numpy(float)
        words += "; ring: observed rate"
    elif "league_rate" in table.columns:
        ring = table["league_rate"].to_numpy(float)
        words += "; ring: everybody together"
    if "least" in table.columns:  # in place of rates their bounds, with no dot to be taken for one
        alone = table["rate"].isna().to_numpy() & table["least"].notna().to_numpy()
        low = np.where(alone, table["least"].to_numpy(float), low)
        high = np.where(alone, table["most"].to_numpy(float), high)
        if alone.all():
            words = f"line: {_BOUNDS}"
        elif not undecided:
            words = f"{words}; line without a dot: {_BOUNDS}"
    chances = None if record else next((c for c in ("chance_best", "chance_top") if c in table.columns), None)
    lines = _lines(checked)
    return Rows(
        [_name_of(one, checked.kind) for one in table[name]],
        [record_text(table[event].iloc[row], table[per].iloc[row]) for row in range(len(table))],
        value,
        low,
        high,
        ring,
        [chance_text(float(one)) for one in table[chances]] if chances else [""] * len(table),
        subject,
        tuple(lines),
        words,
        _rate_words(what, per),
        (
            f"{event_words(what)} of {per_words(per, 2)}",
            "" if np.isnan(value).all() else "estimated" if by_chance else "observed",
            _chance_of(checked) if chances else "",
        ),
        line_words=tuple(lines.values()),
        unmeasured=tuple(int(n) for n in table["unknown"]) if "unknown" in table.columns else (),
        sample=_sample(checked, per),
    )


def _lies(what: str, level: float) -> str:
    """Say what a line of an interval means, as somebody reads it who knows no such word."""
    return f"line: where {what} lies, {level_words(level)} sure"


def _counts_of(checked: Claim) -> tuple[str, str, str]:
    """Return the columns of event and denominator, and the event in words.

    A claim about what follows something names its two counts by its columns.
    """
    event, per = (
        str(checked.numbers.get(n, c))
        for n, c in zip(("event", "per"), checked.evidence.columns[1:3], strict=True)
    )
    return event, per, _RESPONSES.get(event, event) if checked.kind == "response" else event


def _kept(
    table: pd.DataFrame, subject: NDArray[np.bool_], most: int
) -> tuple[pd.DataFrame, NDArray[np.bool_]]:
    """Return the first rows, the subject always among them, and which of them are the subject."""
    rows = np.arange(len(subject))
    rows = rows[:most] if subject[:most].any() else np.append(rows[: most - 1], np.flatnonzero(subject)[:1])
    return table.iloc[rows].reset_index(drop=True), subject[rows]


def _of_spot(checked: Claim, most: int) -> Rows:
    """Chances to win by hitter."""
    from hitlab.game.spots import wins_text

    numbers, table = checked.numbers, checked.evidence
    table, subject = _kept(table, (table["hitter"] == numbers["hitter"]).to_numpy(bool), most)
    value, low, high = (table[name].to_numpy(float) for name in ("win_chance", "low", "high"))
    return Rows(
        [str(one) for one in table["hitter"]],
        [f"{int(n):,}" for n in table["plate_appearances"]],
        value,
        low,
        high,
        np.full(len(table), np.nan),
        [chance_text(float(one)) for one in table["chance_best"]],
        subject,
        (float(numbers["league_win_chance"]),),
        f"dot: chance to win with this hitter at bat; {_lies('it', float(numbers['level']))}",
        "chance to win",
        ("plate appearances", "wins", f"truly the {'better' if numbers['compared'] == 2 else 'best'}"),
        text=wins_text,
        line_words=("the league's average hitter",),
        sample=f"{int(numbers['compared']):,} hitters compared",
    )


def _alone(name: str, record: str, **numbers: float) -> dict[str, Any]:
    """Return what is by row where there is one row."""
    by_row = {"names": [name], "records": [record], "chance": [""], "subject": np.array([True])}
    return by_row | {each: np.array([value]) for each, value in ({"ring": np.nan} | numbers).items()}


def _of_link(checked: Claim, most: int) -> Rows:
    """Give the correlation of true talents, with that of the observed rates as a ring."""
    numbers = checked.numbers
    hitters, observed = f"{int(numbers['hitters']):,}", float(numbers.get("observed_correlation", np.nan))
    value, low, high = (float(numbers[name]) for name in ("correlation", "low", "high"))
    return Rows(
        **_alone("true talents", hitters, value=value, low=low, high=high, ring=observed),
        lines=(0.0,),
        marks=f"dot: correlation of true talents; {_lies('it', float(numbers['level']))}"
        + ("" if np.isnan(observed) else "; ring: correlation of observed rates"),
        axis="correlation across hitters",
        columns=("hitters", "correlation", ""),
        bounds=(-1.0, 1.0),
        text=lambda value: correlation_text(value) if round(value, 2) else "0",
        line_words=("none",),
        sample=f"{hitters} hitters",
    )


def _lines(checked: Claim) -> dict[float, str]:
    """Return what a rate is held against, from the least, and what each is called where it stands."""
    numbers, record = checked.numbers, checked.about == "record"
    if checked.kind == "near":
        value, within = float(numbers["value"]), float(numbers["within"])
        return {value - within: "from", value + within: "to"}
    if "value" in numbers:
        return {float(numbers["value"]): "everybody else" if checked.question.above_league else "said"}
    if record:
        return {float(numbers["mean_rate"]): "everybody"} if "mean_rate" in numbers else {}
    return {float(numbers[name]): words for name, words in _LINES.get(checked.kind, {}).items()}


_LINES = {
    "hot": {"usual": "usual", "hot_from": "hot from"},
    "steady": {"steady_from": "steady from", "season": "all games", "steady_to": "to"},
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


def _of_ratio(checked: Claim) -> Rows:
    """Give the odds ratio that the chance is about, and in words beneath it the records as they are."""
    numbers, evidence, q = checked.numbers, checked.evidence, checked.question
    event, per, what = _counts_of(checked)
    here, there = (str(one) for one in evidence.iloc[:, 0])
    ratio = float(numbers["log_odds_ratio"])
    name = str(numbers.get(q.subject, ""))
    lines = {0.0: "no difference"}
    if checked.kind == "more":
        axis, lines = f"now, as a multiple of those {here}", {0.0: "no change"}
        if q.direction == "either":
            least = float(np.log(q.options.get("factor", FACTOR)))
            lines = {-least: "lower", **lines, least: "higher"}
    elif checked.kind == "split":
        axis = f"{here}, as a multiple of those {there}"
        if q.options.get("against") == "usual":  # then what it does to everybody decides
            lines = dict(sorted([*lines.items(), (float(numbers["league_log_odds_ratio"]), "everybody")]))
    else:
        name = name or "all hitters together"
        axis, lines = (
            f"{here} as a multiple of those {there}, the day's form taken out",
            {0.0: "no difference"},
        )
    if "ratio_low" in numbers:
        low, high = float(numbers["ratio_low"]), float(numbers["ratio_high"])
    else:
        reach = NormalDist().inv_cdf((1 + DEFAULT_LEVEL) / 2) * float(numbers["log_odds_ratio_error"])
        low, high = ratio - reach, ratio + reach
    told = [
        f"{row[evidence.columns[0]]}: {record_text(row[event], row[per])}"
        + (f" ({int(row['unknown']):,} unmeasured)" if row.get("unknown") else "")
        + f", {rate_text(float(row['rate']))}"
        + (f" (everybody {rate_text(float(row['league_rate']))})" if "league_rate" in row else "")
        for row in evidence.to_dict("records")
    ]
    exposures = " and ".join(f"{int(one):,}" for one in evidence[per])
    return Rows(
        **_alone(name, exposures, value=ratio, low=low, high=high),
        lines=tuple(lines),
        marks=f"dot: the estimate; {_lies('the true one', DEFAULT_LEVEL)}",
        axis=f"odds of {_rate_words(what, per)} {axis}",
        columns=(per_words(per, 2), "estimated", ""),
        bounds=(-np.inf, np.inf),
        text=odds_text,
        line_words=tuple(lines.values()),
        beneath=(f"The records as they are, {event_words(what)} of {per_words(per, 2)}:", *told),
        odds=True,
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


_BOUNDS = "from none of the unknown hard to all of it"
"""What a line means that is no interval."""

_RESPONSES = {"whiff": "whiffs", "swing": "swings", "take": "takes", "same_kind": "the same kind again"}

_OWN: dict[str, Callable[[Claim, int], Rows]] = {"spot": _of_spot, "together": _of_link}


def _subjects(checked: Claim, table: pd.DataFrame) -> NDArray[np.bool_]:
    """Say which rows the claim is about: one hitter, the first record, the last stretch or all of them."""
    name = table.columns[0]
    if name in checked.numbers:  # a hitter, a pitcher or a club
        return np.asarray(table[name] == checked.numbers[name])
    mine = np.full(len(table), checked.kind == "steady")
    mine[0 if name == "record" else -1] = True
    return mine
