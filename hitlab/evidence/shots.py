"""Which pitches are for a claim, a split or a pattern, and which against it: one rule a kind.

The rules stand in words in :mod:`hitlab.evidence.cut_lists`, which puts the pitches in order.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.patterns import Found, Pattern, after, any_pitch, find_sequences, whiff
from hitlab.approach.responses import RESPONSES
from hitlab.approach.sequence import ledger_flags
from hitlab.claims import Claim
from hitlab.counting.events import EVENTS, event_words, per_words
from hitlab.counting.facts import Conventions
from hitlab.counting.finding import find_rows
from hitlab.counting.own_events import base_and_situation, chosen_text
from hitlab.counting.situations import Situation
from hitlab.counting.situations import situation as situation_of
from hitlab.errors import ClaimError, MissingColumnsError
from hitlab.game.outcome_rates import OUTCOME_COUNTS, RESULTS_OF
from hitlab.game.outcomes import OUTS
from hitlab.questions import KINDS
from hitlab.questions.source import Source
from hitlab.wording import capitalised

__all__ = ["Shots", "of_claim", "of_pattern", "of_situation", "whose"]

_CAME_OR_NOT = {
    "whiff": ("swung and missed", "did not swing and miss"),
    "swing": ("swung", "let it go"),
    "take": ("let it go", "swung"),
    "hard": ("hit it hard", "did not hit it hard"),
    "same kind": ("the same kind of pitch", "another kind of pitch"),
}
_RESULTS = (
    *("home run", "triple", "double", "single", "walk", "hit by pitch", "error"),
    *("double play", "strikeout", "out", "fielder's choice", "sacrifice fly"),
)
"""In the order of their side; the side is the one that the claim counts them on."""
Rows = NDArray[np.int64]
Flags = NDArray[np.bool_]

_WHY = (
    ("hard", "hit hard"),
    ("whiffs", "whiff"),
    ("in_play", "soft contact"),
    ("fouls", "foul"),
    ("foul_tips", "foul tip"),
    ("takes", "let go"),
)


@dataclass(slots=True)
class Shots:
    """Pitches for and against: the last pitch of each shot, and the first where that is another.

    Attributes
    ----------
    about, rule
        What they are about, and what supports it.
    last, first
        Rows of the table (from 0), one of each a shot.
    supports, why, rank
        Its side, the reason in words, and where that reason comes in the order of its side.
    unknown
        Pitches on neither side because hardness is unknown.
    before
        What the first pitch of a shot was, in words.
    """

    about: str
    rule: str
    last: Rows
    first: Rows
    supports: Flags
    why: NDArray[np.object_]
    rank: Rows
    unknown: int = 0
    before: str = ""


def whose(frame: nw.DataFrame[Any], name: str | None, subject: str = "hitter") -> Flags:
    """Tell for each pitch whether it is this hitter's (pitcher's, club's): by name or a claim's label."""
    if name is None or subject == "league":
        return np.ones(len(frame), dtype=bool)
    columns = [one for one in dict.fromkeys((subject, f"{subject}_id", "club")) if one in frame.columns]
    return find_rows(frame.select(columns).to_pandas(), name, who=subject, where="in this table")


def of_claim(
    frame: nw.DataFrame[Any], claim: Claim, situation: Situation | None, conventions: Conventions | None
) -> Shots:
    """Return the shots of a checked claim, by what its question asked.

    Raises
    ------
    ClaimError
        Where the claim does not come down to single pitches, or it was checked on counts and its situation is
        missing.
    """
    asked, numbers = claim.question, claim.numbers
    conventions = conventions or asked.conventions
    season = Source.of(asked, frame.to_native()).season_terms if asked.season else ()
    if claim.kind in ("response", "spot"):
        there = inside(frame, situation_of(*season)) if season else np.ones(len(frame), dtype=bool)
        spot = claim.kind == "spot"
        shots = _of_spot(frame, claim, there) if spot else _of_response(frame, claim, there, conventions)
    elif claim.kind not in KINDS or not KINDS[claim.kind].shots:
        raise ClaimError(f"a claim of the kind {claim.kind!r} does not come down to single pitches")
    else:
        event, per, less = asked.event, asked.per, asked.direction == "less"
        mine = whose(frame, str(numbers[asked.subject]), asked.subject)
        terms = [*asked.when, *((f"date<={asked.until}",) if asked.until else ())]
        if asked.since:
            terms.append(f"date>={asked.since}")
        terms += season
        parting = _parting(claim, situation)
        chosen = [term for term in terms if parting is None or term not in parting.terms]
        if chosen:
            mine &= inside(frame, situation_of(*chosen))
        if parting is not None:
            shots = of_situation(frame, parting, mine, event, per, conventions, less=less)
        elif claim.kind == "hot":
            now = mine & _last_games(frame, claim)
            shots = _of_events(frame, now, None, event, per, conventions, when=" in the last games")
        else:
            other = None
            if claim.kind == "ahead":
                other = whose(frame, str(numbers["other"]), asked.subject)
                other &= inside(frame, situation_of(*chosen)) if chosen else True
            shots = _of_events(frame, mine, other, event, per, conventions, subject=asked.subject, less=less)
    shots.about = claim.claim
    return shots


def _parting(claim: Claim, situation: Situation | None) -> Situation | None:
    """Return the situation that a split or a change parts the pitches by."""
    if claim.kind not in ("split", "more"):
        return None
    asked = claim.question
    if claim.kind == "split" and asked.when:
        return situation_of(*asked.when)
    if claim.kind == "more" and asked.since:
        return situation_of(f"date>={asked.since}")
    if situation is None:
        example = "pitch_kind=breaking" if claim.kind == "split" else "date>=2031-05-15"
        raise ClaimError(
            f"this claim of the kind {claim.kind!r} was checked on counts and knows its situation in words "
            f'only; give it as well: cut_list(pitches, claim, situation=situation("{example}"))'
        )
    return situation


def inside(frame: nw.DataFrame[Any], situation: Situation) -> Flags:
    """Tell which pitches are in a situation.

    Raises
    ------
    MissingColumnsError
        Where the situation asks for a column that is not there.
    """
    absent = [name for name in situation.columns if name not in frame.columns]
    if absent:
        raise MissingColumnsError(
            f"the situation asks for the column {', '.join(absent)}, which is not there"
        )
    told = nw.when(situation.on(frame.columns)).then(nw.lit(1)).otherwise(nw.lit(0)).alias("told")
    chosen: Flags = np.asarray(frame.select(told)["told"].to_numpy()) == 1
    return chosen


def _last_games(frame: nw.DataFrame[Any], claim: Claim) -> Flags:
    """Tell which pitches are of the days of a form claim's last stretch."""
    if "date" not in frame.columns:
        raise MissingColumnsError("the last games are told by date, which the pitch table does not have")
    days = pd.to_datetime(frame.select("date").to_pandas()["date"])
    first, last = (pd.Timestamp(claim.evidence[end].iloc[-1]) for end in ("from", "to"))
    return days.between(first, last).to_numpy(bool)


def _events(
    frame: nw.DataFrame[Any], event: str, per: str, conventions: Conventions | None
) -> tuple[Flags, Flags, Flags, dict[str, Flags]]:
    """Tell which pitches are the event, which are in the denominator only, and where it is not known."""
    bases = {}
    for name in (event, per):
        base, rest = (name, None) if name in EVENTS else base_and_situation(name)
        if base not in EVENTS:
            raise ClaimError(f"{name!r} is no count of the ledger, so its pitches cannot be listed")
        bases[name] = base, None if rest is None else inside(frame, rest)
    columns = set(frame.columns)
    known = {base for base, _ in bases.values()}
    wanted = {
        *known,
        *(name for name, _ in _WHY if name != "hard"),
        *(EVENTS[base].unknown for base in known if EVENTS[base].unknown),
    }
    flags = ledger_flags(
        frame, tuple(n for n in wanted if not EVENTS[n].lacking(columns) or n in known), conventions
    )
    happened, of = (
        flags[base] if there is None else flags[base] & there for base, there in (bases[event], bases[per])
    )
    untold = flags.get(EVENTS[bases[event][0]].unknown, np.zeros(len(frame), dtype=bool)) & of
    return happened, of & ~happened & ~untold, untold, flags


def _reasons(event: str, happened: Flags, flags: dict[str, Flags]) -> tuple[NDArray[np.object_], Rows]:
    """Return for each pitch why it is on its side, and the order of the reasons."""
    why = np.full(len(happened), "none of it", dtype=object)
    rank = np.full(len(happened), len(_WHY) + 1, dtype=np.int64)
    for place, (name, words) in reversed(list(enumerate(_WHY, start=1))):
        if name != "hard" and name in flags:
            text = words if name != "in_play" or "hard" in event else "in play"
            why[flags[name]], rank[flags[name]] = text, place
    own = dict(_WHY).get(event, per_words(chosen_text(event)))
    why[happened] = "hit hard" if event == "hard" else own
    rank[happened] = 0
    return why, rank


def _of_events(
    frame: nw.DataFrame[Any],
    mine: Flags,
    other: Flags | None,
    event: str,
    per: str,
    conventions: Conventions | None,
    *,
    when: str = "",
    subject: str = "hitter",
    less: bool = False,
) -> Shots:
    happened, rest, untold, flags = _events(frame, event, per, conventions)
    why, rank = _reasons(event, happened, flags)
    against = rest & mine if other is None else happened & other
    last = np.flatnonzero((happened & mine) | against)
    what, of = (per_words(chosen_text(name), 2) for name in (event, per))
    others = f"the other {subject}'s" if other is not None else f"the {subject}'s other {of}"
    yes, no = _sides(less)
    rule = f"The {subject}'s {what}{when} {yes} it, {others} {no} it."
    supports = (happened & mine)[last] != less
    return Shots("", rule, last, last, supports, why[last], rank[last], int((untold & mine).sum()))


def _sides(less: bool) -> tuple[str, str]:
    """Return what events and the others do to a claim: of one that says "less", events speak against it."""
    return ("speak against", "support") if less else ("support", "speak against")


def of_situation(
    frame: nw.DataFrame[Any],
    situation: Situation,
    mine: Flags,
    event: str,
    per: str,
    conventions: Conventions | None,
    *,
    less: bool = False,
) -> Shots:
    """Return the shots of one hitter (or all) in a situation; ``less`` turns the sides round.

    Raises
    ------
    MissingColumnsError
        Where the situation asks for a column that is not there.
    """
    there = inside(frame, situation)
    happened, rest, untold, flags = _events(frame, event, per, conventions)
    why, rank = _reasons(event, happened, flags)
    elsewhere = mine & ~there & happened
    why[elsewhere], rank[elsewhere] = [f"{text}, but not {situation.words}" for text in why[elsewhere]], 99
    last = np.flatnonzero(mine & ((there & (happened | rest)) | elsewhere))
    what, of = event_words(chosen_text(event)), per_words(chosen_text(per), 2)
    yes, no = _sides(less)
    rule = f"{capitalised(what)} {situation.words} {yes} it; other {of} there, and {what} elsewhere, {no} it."
    supports = (happened & there)[last] != less
    return Shots("", rule, last, last, supports, why[last], rank[last], int((untold & mine).sum()))


def of_pattern(
    frame: nw.DataFrame[Any], what: Pattern | Found, mine: Flags, conventions: Conventions | None
) -> Shots:
    """Return the shots of a pattern: the pitches of its first and its last step.

    Raises
    ------
    ClaimError
        Where it was found in another table.
    """
    found = (
        what if isinstance(what, Found) else find_sequences(frame.to_native(), what, conventions=conventions)
    )
    ends, begins = (found.occurrences[name].to_numpy(dtype=np.int64) for name in ("row", "first_row"))
    if len(ends) and max(ends.max(), found.missed_rows.max(initial=0)) >= len(frame):
        raise ClaimError("this pattern was found in another table; give the pattern itself")
    last = np.concatenate([ends, found.missed_rows])
    first = np.concatenate([begins, found.missed_first_rows])
    supports = np.arange(len(last)) < len(ends)
    steps = found.pattern.steps
    why = np.where(supports, str(steps[-1]), f"not {steps[-1]}").astype(object)
    kept = mine[last]
    rule = "Where it occurs supports it; where all but its last step occurs speaks against it."
    return Shots(
        str(found.pattern),
        rule,
        last[kept],
        first[kept],
        supports[kept],
        why[kept],
        np.zeros(kept.sum(), np.int64),
        before=str(steps[0]),
    )


def _of_spot(frame: nw.DataFrame[Any], claim: Claim, among: Flags) -> Shots:
    """Return the ends of the hitter's plate appearances with these bases and outs, whatever the score."""
    asked = claim.question.options
    outs, bases = asked.get("outs", 0), asked.get("bases", "empty")
    there = among & inside(frame, situation_of(f"outs={outs}", f"bases={bases}"))
    if "result" not in frame.columns:
        raise MissingColumnsError("how a plate appearance ended is told by result, which is not there")
    ended = frame.select("result").to_pandas()["result"].astype(object)
    with_out = {result for count in OUTCOME_COUNTS[:OUTS] for result in RESULTS_OF[count]}
    sides = [[one for one in _RESULTS if (one in with_out) == out] for out in (False, True)]
    mine = whose(frame, str(claim.numbers["hitter"])) & there & ended.isin(_RESULTS).to_numpy()
    last = np.flatnonzero(mine)
    why = ended.to_numpy()[last].astype(object)
    rank = np.array([_RESULTS.index(result) for result in why], dtype=np.int64)
    rule = (
        "The hitter's plate appearances with the same bases and outs, whatever the score: those without an "
        f"out ({', '.join(sides[0])}) support it, those with one ({', '.join(sides[1])}) speak against it, "
        "also where a run came in; sacrifice bunts and catcher's interference are on neither side."
    )
    return Shots("", rule, last, last, np.isin(why, sides[0]), why, rank)


def _of_response(
    frame: nw.DataFrame[Any], claim: Claim, among: Flags, conventions: Conventions | None
) -> Shots:
    response, direction = str(claim.numbers["response"]), str(claim.numbers["direction"])
    found = find_sequences(frame.to_native(), after(whiff()).then(any_pitch()), conventions=conventions)
    last, first = (found.occurrences[name].to_numpy(dtype=np.int64) for name in ("row", "first_row"))
    name = str(claim.numbers["hitter"])
    kept = (among & whose(frame, name or None))[last]
    last, first = last[kept], first[kept]
    if response == "same kind":
        kinds = np.asarray(pd.factorize(frame.select("pitch_kind").to_pandas()["pitch_kind"])[0])
        came, known = kinds[last] == kinds[first], (kinds[last] >= 0) & (kinds[first] >= 0)
    else:
        event = {"whiff": "whiffs", "swing": "swings", "take": "takes", "hard": "hard"}[response]
        flags = ledger_flags(frame, (event, *(("unmeasured",) if response == "hard" else ())), conventions)
        came, known = flags[event][last], ~flags.get("unmeasured", np.zeros(len(frame), dtype=bool))[last]
    why = np.where(came, *_CAME_OR_NOT[response]).astype(object)
    supports = came if direction == "more" else ~came
    sides = ("support", "speak against") if direction == "more" else ("speak against", "support")
    rule = f"Pitches after a whiff on which {RESPONSES[response]} {sides[0]} it, the others {sides[1]} it."
    unknown = int((~known).sum())
    last, first, supports, why = (part[known] for part in (last, first, supports, why))
    return Shots("", rule, last, first, supports, why, np.zeros(len(last), np.int64), unknown, "a whiff")
