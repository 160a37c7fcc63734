"""A question in words, before it is answered: ``does Nadia Izezno hit the ball hard more often ...?``."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pandas as pd

from hitlab.claims.clauses import Clause, Unanswered, clause_of
from hitlab.claims.response_claim import USUAL
from hitlab.claims.value_claims import NEAR
from hitlab.counting.own_events import chosen_text
from hitlab.game.base_out import Spot
from hitlab.over_time.form_law import STRETCH
from hitlab.questions.question import THE_LEAGUE, Question
from hitlab.spoken import number_spoken

__all__ = ["asked_in_words"]


def asked_in_words(question: Question) -> str:
    """Return a question as somebody would ask it, by the grammar in which its answer will be said.

    Examples
    --------
    >>> asked_in_words(Question(kind="leads", who="Nadia Izezno", event="whiffs"))
    'does Nadia Izezno miss more often per swing than anyone else?'
    >>> asked_in_words(Question(kind="above", who="Ada Yarl", per="in_play", options={"value": 0.4}))
    'does Ada Yarl hit the ball hard on more than two in five balls in play?'
    """
    if question.kind == "spot":
        return _of_spot(question)
    clause = clause_of(_standing(question))
    words = _asked(clause, nobody=not question.who and question.kind in ("leads", "top"))
    if question.about == "record":
        words = f"by the record as it stands, {words}"
    if question.kind in ("leads", "top", "ahead") and question.minimum:
        words = f"{words.removesuffix('?')} (of those with at least {question.minimum:,})?"
    return words


def _asked(clause: Clause, *, nobody: bool) -> str:
    helper = {"does": ("does", "do"), "is": ("is", "are"), "has": ("has", "have")}[clause.tense][
        clause.plural
    ]
    doing = clause.doing
    if nobody:
        finite = "is" if doing is None else doing.third
        return f"who {finite} {clause.rest}?"
    form = "" if doing is None else {"does": doing.bare, "is": doing.now, "has": doing.done}[clause.tense]
    return " ".join(f"{helper} {clause.subject} {form} {clause.rest}?".split())


def _standing(question: Question) -> Unanswered:
    """Return what the grammar looks at of a claim, as far as the question tells it."""
    league = question.subject == "league"
    who = THE_LEAGUE if league else question.who
    options = question.options
    numbers: dict[str, Any] = {
        "event": chosen_text(question.event),
        "per": chosen_text(question.per),
        "minimum": 0,
        **{name: options[name] for name in ("top", "value", "other") if name in options},
        "response": options.get("response", "whiff"),
    }
    numbers["direction"] = options.get("direction", USUAL[numbers["response"]])
    if question.kind == "near":
        numbers["within"] = options.get("within") or NEAR * options["value"]
    if question.kind == "together":
        numbers |= {name: _rate(options[name]) for name in ("first", "second")}
    evidence = {
        "games": [options.get("stretch", STRETCH)] * 2,
        "record": ["after a miss", "after another strike"],
    }
    asked = question if who == question.who else replace(question, who=who)
    return Unanswered(question.kind, asked, numbers, pd.DataFrame(evidence))


def _rate(told: Any) -> str:
    from hitlab.counting.events import rate_words
    from hitlab.counting.situations import situation

    inside = f" {situation(*told['when']).words}" if told.get("when") else ""
    return f"{rate_words(told['event'], told['per'])}{inside}"


def _of_spot(question: Question) -> str:
    asked = question.options
    spot = Spot(asked.get("gap", 0), asked.get("outs", 0), asked.get("bases", "empty"))
    among = asked.get("candidates")
    of = f"of {number_spoken(len(among))} that are named" if among else "of all"
    against = f", against {asked['pitcher']['pitcher']}" if asked.get("pitcher") else ""
    who = f"is {question.who} the best choice {of}" if question.who else f"who is the best choice {of}"
    season = question.where(str)
    hit = f", as they hit {season}" if season else ""
    return f"in the home half of the last inning, {spot.words}{against}: {who}{hit}?"
