"""Claims that a hitter is the right one for a spot in the last half inning."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.result import Claim, Finding, Verdict, how_sure
from hitlab.claims.verdicts import fewest, settled_by, verdict_on
from hitlab.counting.counts import Counts
from hitlab.counting.finding import find_row
from hitlab.counting.rates import as_counts
from hitlab.errors import ClaimError
from hitlab.estimates.faced_in_parts import met_in
from hitlab.game.advancing import Advancing
from hitlab.game.base_out import Spot
from hitlab.game.opposing import Opposing, opposing_pitcher
from hitlab.game.outcome_rates import OutcomeRates, outcome_counts, shrink_outcomes
from hitlab.game.spots import SpotRanks, best_for_spot, wins_text
from hitlab.questions.beside import Beside
from hitlab.questions.faced_pitching import UNTOLD
from hitlab.questions.question import Question
from hitlab.questions.source import Source, demand_no_pitches, is_pitches
from hitlab.wording import level_words, listed, percent

__all__ = ["answer_spot"]

_SHOWN = 8
_MOST_MORE = 12_800  # more plate appearances than a long career has
_SAME = 0.001  # of the chance to win: one win in a thousand


def answer_spot(question: Question, table: Any, pitcher: Opposing | None = None, traits: Any = None) -> Claim:
    """Answer "he is the right hitter for this spot": nobody else gives a higher chance to win."""
    asked = question.options
    spot = Spot(asked.get("gap", 0), asked.get("outs", 0), asked.get("bases", "empty"))
    candidates, following = asked.get("candidates"), asked.get("following")
    tie_wins, rules = asked.get("tie_wins", 0.50), asked.get("rules")
    known = Beside.of(question, traits)
    question, source = known.question, None
    met = ""
    if is_pitches(table):
        source = Source.of(question, table)
        table = source.asked_of
        met = met_in(table, "hits", "at_bats", None, question.conventions)
        counts = outcome_counts(table, conventions=question.conventions)
        if pitcher is None and asked.get("pitcher"):
            pitcher = opposing_pitcher(table, **asked["pitcher"])
        table = counts
    elif asked.get("pitcher") and pitcher is None:
        raise ClaimError("who pitches asks for single pitches, and these are counts; give the pitch table")
    else:
        demand_no_pitches(question)
    where = "" if source is None else source.words
    rates = table if isinstance(table, OutcomeRates) else _rates(known, source, as_counts(table))
    if rates is table and _told(question):
        raise ClaimError(
            f"these rates are fitted already; give {_told(question)} to shrink_outcomes, or ask the counts"
        )
    labels, counts = rates.counts.labels, rates.counts
    mine = labels[find_row(counts, question.who)] if question.who else None
    named = None
    if candidates is not None:
        named = [labels[find_row(counts, one)] for one in candidates]
        question = question.with_options(candidates=named)
        named = list(dict.fromkeys([*named, *([mine] if mine else [])]))
    ranked = best_for_spot(
        rates,
        spot,
        candidates=named,
        minimum=question.minimum,
        pitcher=pitcher,
        following=following,
        tie_wins=tie_wins,
        rules=None if rules is None else Advancing(**rules),
        seed=asked.get("seed", 0),
    )
    shown = ranked.data["label"].tolist()
    if len(shown) < 2:
        raise ClaimError("one hitter alone is the best of one; name more candidates or lower minimum=")
    if mine is not None and mine not in shown:
        ended = int(rates.plate_appearances[labels.index(mine)])
        raise ClaimError(
            f"{mine} has {ended:,} plate appearances with a result, fewer than the minimum of "
            f"{ranked.minimum:,}; lower minimum= or name the candidates"
        )
    place = 0 if mine is None else shown.index(mine)
    name, row = shown[place], ranked.data.iloc[place]
    chance = float(row["chance_best"])
    verdict = verdict_on(chance, question.holds_at, question.fails_at)
    field = f"{len(shown):,} hitters"
    if candidates is None:
        field += f" with at least {ranked.minimum:,} plate appearances"
    hit = f", as they hit {where}" if where else ""
    goal, choice = f"the highest chance to win, of {field}", f"the best choice of {field}"
    if len(shown) == 2:
        other = shown[1 - place]
        goal, choice = f"a higher chance to win than {other}", f"a better choice than {other}"
    after = "the league, as far as its records tell it" if following is None else "the lineup given"
    found = Finding(
        verdict,
        f"{name} truly gives {goal}, in the home half of the last inning, {ranked.words}{hit}",
        _say(ranked, place, verdict, f"{choice}{hit}"),
        f"“{name} is the one for this spot, the numbers prove it.”",
        chance,
        assumptions=(
            "each hitter's plate appearances are independent draws at nine true probabilities, the same "
            "in every state and against all pitching, and the nine are shrunk stage by stage toward "
            + (f"a mean that may follow {listed(list(rates.follows))}" if rates.follows else "the league"),
            f"those who follow hit like {after}, runners advance by the stated rules, no base is stolen and "
            "nobody is walked on purpose",
            f"a tie is won {wins_text(tie_wins)} of the time",
            *(() if pitcher is None else ("the pitcher suits no hitter better or worse than averages say",)),
        ),
        would_change=_would_change(ranked, place, verdict, question),
        notes=(
            "of the differences (variance) that the bare records show in this spot, "
            f"{percent(ranked.luck_share)} is luck",
            f"the pitching and parks that hitters faced: for hits per at bat, it {met}. Nothing is "
            "allowed for, because each of the nine ways is shrunk by itself, as it was met"
            if met
            else UNTOLD,
            *(() if source is None else source.season_notes()),
            *ranked.notes,
        ),
    )
    numbers: dict[str, float | int | str] = {
        "hitter": name,
        "spot": spot.words,
        "compared": len(shown),
        **{each: float(row[each]) for each in ("win_chance", "low", "high")},
        "level": ranked.level,
        "league_win_chance": ranked.league_win_chance,
        "luck_share": ranked.luck_share,
        "tie_wins": tie_wins,
        "minimum": ranked.minimum,
    }
    return Claim.of(
        replace(question, who=name),
        found,
        evidence=_evidence(ranked, place),
        numbers=numbers,
        source=ranked.source,
        fingerprint=ranked.fingerprint,
        where=where,
    )


def _told(question: Question) -> str:
    """Name the groups and numbers that the rates may follow."""
    return listed([name for name in (question.groups, *question.covariates) if name])


def _rates(known: Beside, source: Source | None, counts: Counts) -> OutcomeRates:
    """Shrink the outcomes, toward what is known of the hitters beside the table."""
    q = known.question
    if not _told(q):
        return shrink_outcomes(counts)
    of_hitters = known.of_hitters(Source.of(q, counts) if source is None else source, counts)
    return shrink_outcomes(counts, groups=q.groups or None, covariates=q.covariates, traits=of_hitters)


def _evidence(ranked: SpotRanks, place: int) -> pd.DataFrame:
    rows = list(range(min(_SHOWN, len(ranked.data))))
    if place not in rows:
        rows.append(place)
    names = ["label", "plate_appearances", "observed", "win_chance", "low", "high", "chance_best"]
    return ranked.data.iloc[rows][names].rename(columns={"label": "hitter"}).round(4).reset_index(drop=True)


def _say(ranked: SpotRanks, place: int, verdict: Verdict, choice: str) -> str:
    row = ranked.data.iloc[place]
    rival = ranked.data.iloc[0 if place else 1]
    word = {"holds": "most likely is", "open": "may be", "does not hold": "most likely is not"}[verdict]
    begin = (
        f"In the home half of the last inning, {ranked.words}: {row['label']} {word} {choice}: "
        f"{how_sure(float(row['chance_best']), verdict == 'does not hold', 'of being it')}."
    )
    ends = float(ranked.data["win_chance"].min()), float(ranked.data["win_chance"].max())
    if ends[1] - ends[0] < _SAME:
        least, most = (wins_text(end) for end in ends)
        chance = least if least == most else f"between {least} and {most}"
        return (
            f"{begin} But it makes no difference that {1 / _SAME:,.0f} such spots would show: whoever of "
            f"them bats, the chance to win is {chance}."
        )
    gap = abs(float(row["win_chance"] - rival["win_chance"]))
    beside = f"with {rival['label']} it is the same"
    if gap >= 0.0005:
        beside = (
            f"with {rival['label']} it is {wins_text(float(rival['win_chance']))}, a difference of one "
            f"win in {1 / gap:,.0f} such spots"
        )
    return (
        f"{begin} With {row['label']} at bat the chance to win is about "
        f"{wins_text(float(row['win_chance']))} ({level_words(ranked.level)} interval "
        f"{wins_text(float(row['low']))} to {wins_text(float(row['high']))}); {beside}."
    )


def _would_change(ranked: SpotRanks, place: int, verdict: Verdict, question: Question) -> str:
    if verdict != "open" or not question.options.get("plan"):
        return "another spot, another pitcher, or longer records of those compared"

    bounds = question.holds_at, question.fails_at

    def settled(more: int) -> bool:
        return verdict_on(ranked.chance_best_after(more, place), *bounds) != "open"

    needed = fewest(settled, 100, _MOST_MORE)
    if needed is None:
        return (
            f"not even {_MOST_MORE:,} more plate appearances by each of them, at the rates estimated "
            "today, would settle it"
        )
    then = verdict_on(ranked.chance_best_after(needed, place), *bounds)
    rounded = int(np.ceil(needed / 100)) * 100
    more = f"{rounded:,} more plate appearances by each of them, at the rates estimated today"
    return settled_by(f"{more}, would settle it", then)
