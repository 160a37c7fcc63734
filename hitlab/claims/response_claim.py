"""Claims about what follows a whiff: "missed one badly and then did not miss the next"."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Literal

import numpy as np
import pandas as pd

from hitlab.approach.responses import Responses, after_whiff, pulled_together
from hitlab.claims.kept import missed_words
from hitlab.claims.result import Claim, Finding, denies, how_likely, how_sure, not_measured, points_away
from hitlab.claims.setting import became_of
from hitlab.claims.verdicts import MEASURE_MORE, left_open, recorded, verdict_on
from hitlab.counting.counts import Counts, unknown_contact
from hitlab.counting.finding import find_row
from hitlab.counting.intervals import share_interval
from hitlab.errors import ClaimError
from hitlab.questions.faced_pitching import UNTOLD
from hitlab.questions.fitted import on_unmeasured
from hitlab.questions.question import Question
from hitlab.questions.source import Source
from hitlab.wording import capitalised, percent

__all__ = ["USUAL", "answer_response", "chance_to_find"]

# response -> one hitter, many hitters, and what is claimed of it where nothing else is said.
_WORDS: dict[str, tuple[str, str, Literal["less", "more"]]] = {
    "whiff": ("swings and misses at the next pitch", "swing and miss at the next pitch", "less"),
    "swing": ("swings at the next pitch", "swing at the next pitch", "less"),
    "take": ("lets the next pitch go", "let the next pitch go", "more"),
    "hard": ("hits the next pitch hard", "hit the next pitch hard", "more"),
    "same kind": ("sees the same kind of pitch again", "see the same kind of pitch again", "more"),
}
USUAL: dict[str, Literal["less", "more"]] = {response: told[2] for response, told in _WORDS.items()}
"""What is claimed of each response where nothing else is said."""
_LEARN = "learned from the miss"
_SHAKEN = "let a miss get to them"
_FEWEST = 10  # hitters that a law of their differences needs
_SHOWN = ("pitches", "swings", "whiffs", "fouls", "in_play", "hard")
_UNKNOWN = ["whiff_unknown", "other_unknown"]
_MATTERS = float(np.log(1.1))  # a tenth of the odds, in logarithms


def answer_response(question: Question, table: Any, responses: Responses | None = None) -> Claim:
    """Answer "missed one badly and then did not miss the next".

    For all hitters the chance comes from the difference between the odds ratio and its placebo; for one
    hitter his own odds ratio is pulled toward that, by how much hitters are seen to differ.
    """
    from scipy import stats

    response = str(question.options.get("response", "whiff"))
    told = question.options.get("direction")
    if response not in _WORDS or told not in (None, "less", "more"):
        raise ClaimError(
            f"response={response!r}, direction={told!r}: choose a response of {', '.join(_WORDS)}, and "
            "less or more"
        )
    direction: Literal["less", "more"] = told or USUAL[response]
    source = Source.of(question, table)
    counts = source.counts(*question.when, *source.days)
    if responses is None:
        if not source.pitches:
            raise ClaimError("what follows what is told from single pitches; give the pitch table")
        # One thing is looked at: the one that was asked.
        responses = after_whiff(source.asked_of, responses=(response,), conventions=question.conventions)
    difference, placebo = responses.of(response), responses.of(response, "placebo")
    place = find_row(counts, question.who) if question.who else None
    record = _record(counts, responses, response, place)
    if response != "hard":  # what else is not known is no ball that could be measured
        record = pd.concat([record.drop(_UNKNOWN), pd.Series(0, index=_UNKNOWN)])
    name = "hitters as a group" if place is None else counts.labels[place]
    verb = _WORDS[response][1 if place is None else 0]
    other = "another strike" if responses.against == "any strike" else f"a {responses.against}"
    k, n, rest_k, rest_n = (
        int(record[c]) for c in ("whiff_yes", "whiff_pitches", "other_yes", "other_pitches")
    )
    u, rest_u = int(record["whiff_unknown"]), int(record["other_unknown"])
    after = f"{k:,} in {n + u:,} pitches after a whiff and {rest_k:,} in {rest_n + rest_u:,} after {other}"
    records = f"{after}{not_measured(u, rest_u)}"
    numbers: dict[str, float | int | str] = {
        "hitter": "" if place is None else name,
        "response": response,
        "direction": direction,
        "odds_ratio": float(responses.of(response, "after a whiff")["odds_ratio"]),
        "placebo_ratio": float(placebo["odds_ratio"]),
        "difference_ratio": float(difference["odds_ratio"]),
        "difference_p": float(difference["p"]),
        "events": k,
        "exposure": n + u,
        "rest_events": rest_k,
        "rest_exposure": rest_n + rest_u,
    }
    when = f" {source.words}" if source.words else ""
    often = f"{direction} often after a whiff than after {other}"
    sign = -1 if direction == "less" else 1
    gap = sign * (k / n - rest_k / rest_n) if n and rest_n else np.nan
    strata, untold = responses.strata, ""
    noted: tuple[str, ...] = ()
    if question.about == "record":
        if not n + u or not rest_n + rest_u:
            has = "has" if place is not None else "have"
            raise ClaimError(
                f"{name} {has} no pitch after a whiff, or none after {other}, so there is no record; ask it "
                "of more pitches, or of all hitters"
            )
        least, most = k * (rest_n + rest_u), (k + u) * (rest_n + rest_u)
        least, most = least - (rest_k + rest_u) * (n + u), most - rest_k * (n + u)
        verdict = recorded(least, most, less=direction == "less")
        so = f"in the record, {name} {verb} {often}{when}"
        no = "" if verdict == "holds" else "no "
        said = f"In the record, {name} {verb} {no}{often}{when}: {records}."
        would = "other counts: a record says what happened, and counts and pitchers differ between the two"
        if verdict == "open":
            said, would = f"It is open whether, {so}: {records}.", MEASURE_MORE
        found = Finding(
            verdict,
            so,
            left_open(said, verdict),
            f"“{capitalised(name)} {verb} {direction} often after a miss.”",
            would_change=would,
        )
    else:
        mean, error, own_share = _posterior(responses, response, place, record)
        numbers |= {"log_odds_ratio": mean, "log_odds_ratio_error": error}
        chance = float(stats.norm.cdf(sign * mean / error))
        verdict = verdict_on(chance, question.holds_at, question.fails_at)
        so = f"{name} {verb} {often} that brings the same count{when}"
        basis = f"judging by {records}"
        if points_away(0.0 if np.isnan(gap) else gap, chance):
            basis = f"although the record points the other way ({records})"
        say_in_full = (
            f"It {how_likely(verdict, chance)} true that {so}, {basis}, with the day's form taken out: "
            f"{how_sure(chance, denies(verdict, chance), 'that it is so')}."
        )
        who = f"{capitalised(name)} {_LEARN if direction == USUAL[response] else _SHAKEN}"
        if response == "same kind":
            who = "The pitchers go back to what worked"
        assumptions: tuple[str, ...] = (
            "a hitter's form and a pitcher's lasts for the game and acts on all counts alike",
            f"pitches alike in {', '.join(strata)} differ in nothing else that matters, "
            "such as where the pitch before was",
        )
        notes: tuple[str, ...] = ()
        if place is not None:
            assumptions = (
                *assumptions,
                "the hitters' log odds ratios follow a normal law, whose mean and spread are integrated over",
            )
            notes = (
                f"the hitter's own record decides {percent(own_share)} of the answer, and all hitters "
                "together the rest",
            )
        reasons, untold = on_unmeasured(
            _unknown_share(counts, place) if response == "hard" else 0.0, question.conventions.most_unknown
        )
        would = MEASURE_MORE if reasons else f"more pitches after a whiff; there are {n:,}"
        found = Finding(
            "open" if reasons else verdict,
            so,
            say_in_full,
            f"“{who}.”",
            chance,
            assumptions,
            would,
            (*notes, *reasons),
        )
        pitchers = next((name for name in strata if "pitcher" in name), "")
        faced = (
            f"pitches are compared within strata alike in {pitchers}, and the placebo is made of the same "
            "hitter's other plate appearances against the same pitcher of the day, so that hitters who faced "
            "other pitching are each held against themselves; nothing more is allowed for"
            if pitchers
            else UNTOLD
        )
        often_found = 10 * chance_to_find(float(difference["error"]), question.holds_at)
        power = (
            "of all hitters together: were the odds truly changed by a tenth, the claim would hold in about "
            f"{often_found:.0f} of 10 tables of this size"
        )
        noted = (power, faced, *filter(None, [missed_words(question, len(counts.data), found.verdict)]))
    number = responses.data["response"].nunique()
    many = (f"{number} things were looked at on the next pitch; choose one before looking",)
    of_all = (
        f"for all hitters, the odds after a whiff are {numbers['odds_ratio']:.2f} times those after {other}; "
        f"with whiffs of other plate appearances of the day instead, {numbers['placebo_ratio']:.2f} times; "
        f"what is left is {numbers['difference_ratio']:.2f} times "
        f"({difference['low']:.2f} to {difference['high']:.2f})"
    )
    notes = (*found.notes, of_all, *(many if number > 1 else ()), *source.season_notes(), *noted)
    notes = (*notes, *responses.notes)
    return Claim.of(
        replace(source.question, who="" if place is None else name),
        found._replace(notes=notes),
        untold=untold,
        evidence=_evidence(record, response, other),
        numbers=numbers,
        became=pd.DataFrame() if place is None else became_of(counts, place, _SHOWN),
        source=counts.source,
        fingerprint=counts.fingerprint,
        where=source.words,
    )


def chance_to_find(error: float, holds_at: float) -> float:
    """Return the chance that a claim holds where the odds truly are changed by a tenth, as it is claimed."""
    from scipy import stats

    return float(stats.norm.cdf(_MATTERS / error - stats.norm.ppf(holds_at))) if error > 0 else 0.0


def _record(counts: Counts, responses: Responses, response: str, place: int | None) -> pd.Series:
    """Return the counts of one hitter, or of all."""
    if place is None:
        table = responses.counts
        total: pd.Series = table[table["response"] == response].iloc[0]
        return total
    table = responses.hitters[responses.hitters["response"] == response]
    key = "hitter_id" if "hitter_id" in table.columns and "hitter_id" in counts.data.columns else "hitter"
    mine = table[table[key] == counts.data[key].iloc[place]]
    if mine.empty:
        raise ClaimError(
            f"{counts.labels[place]} saw no pitch after a strike that changed the count, so nothing can be "
            "compared"
        )
    found: pd.Series = mine.iloc[0]
    return found


def _evidence(record: pd.Series, response: str, other: str) -> pd.DataFrame:
    yes, known, unknown = (
        np.array([record[f"{side}_{what}"] for side in ("whiff", "other")], dtype=np.int64)
        for what in ("yes", "pitches", "unknown")
    )
    # The interval reaches from "no unknown ball was hard" to "all were", as in ``rate``.
    pitches = known + unknown
    low, _ = share_interval(yes, pitches)
    _, high = share_interval(yes + unknown, pitches)
    return pd.DataFrame(
        {
            "record": ["after a whiff", f"after {other}"],
            response.replace(" ", "_"): yes,
            "next_pitches": pitches,
            **({"unknown": unknown} if unknown.any() else {}),
            "rate": yes / np.where(known, known, np.nan),
            "low": low,
            "high": high,
        }
    )


def _posterior(
    responses: Responses, response: str, place: int | None, hitter: pd.Series
) -> tuple[float, float, float]:
    """Return mean and error of a log odds ratio, and how much of it is the hitter's own record."""
    difference = responses.of(response)
    if np.isnan(difference["error"]):
        raise ClaimError(
            f"there are too few pitches after a whiff to tell anything about {response!r} of the next pitch; "
            'about="record" counts them'
        )
    if place is None:
        return float(difference["log_odds_ratio"]), float(difference["error"]), 0.0
    table = responses.hitters[responses.hitters["response"] == response]
    told = table["information"].to_numpy() > 0
    if told.sum() < _FEWEST:
        raise ClaimError(
            f"{int(told.sum())} hitters have pitches to compare, and to tell how much hitters differ takes "
            f"{_FEWEST}; after_whiff(pitches, hitter=...) tests one by himself"
        )
    score, information = (table[name].to_numpy(dtype=np.float64)[told] for name in ("score", "information"))
    mean, error, own = pulled_together(score, information, hitter["score"], hitter["information"])
    placebo = responses.of(response, "placebo")
    # The day's form is taken off everybody alike, and the error of that goes into each hitter's.
    return mean - float(placebo["log_odds_ratio"]), float(np.hypot(error, placebo["error"])), own


def _unknown_share(counts: Counts, place: int | None) -> float:
    """Return the share of contact of unknown hardness: the league's or the hitter's, if that is more."""
    unknown, contact = unknown_contact(counts, "hard")
    shares = unknown / np.maximum(contact, 1)
    return max(float(unknown.sum() / max(contact.sum(), 1)), 0.0 if place is None else float(shares[place]))
