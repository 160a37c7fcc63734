"""A question is answered by its kind, where the kind knows all that is asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib import import_module
from typing import Any

from hitlab.claims.result import Claim
from hitlab.errors import ClaimError
from hitlab.questions.kinds import KINDS, Kind
from hitlab.questions.question import LEAGUE_NAMES, THE_LEAGUE, Question
from hitlab.wording import chance_text

__all__ = ["answer"]


def answer(question: Question, table: Any, **given: Any) -> Claim:
    """Answer a question by its kind.

    Raises
    ------
    ClaimError
        Where there is no such kind, or the question has something that the kind does not know.
    """
    if question.kind not in KINDS:
        raise ClaimError(f"kind={question.kind!r}: give one of {', '.join(KINDS)}")
    kind = KINDS[question.kind]
    this = _called(kind)
    question = _of_league(kind, question)
    usual = Question(kind=kind.name)
    for field in kind.knows_no:
        if getattr(question, field) != getattr(usual, field):
            raise _not_asked_by(
                kind, field, [one.name for one in KINDS.values() if field not in one.knows_no]
            )
    strange = [name for name in question.options if name not in kind.options]
    if strange:
        known = ", ".join(kind.options) or "none"
        raise ClaimError(f"{this} is not asked by {strange[0]!r}; it knows: {known}")
    if question.conventions.eye is not None and not kind.shrunk:
        others = ", ".join(one.name for one in KINDS.values() if one.shrunk)
        raise ClaimError(
            f"{this} cannot allow for an eye's errors; leave eye= out, or ask one of these kinds: {others}"
        )
    lost = [name for name, value in given.items() if value is not None and name not in kind.given]
    if lost:
        raise _not_asked_by(kind, lost[0], [one.name for one in KINDS.values() if lost[0] in one.given])
    module, name = kind.home
    function: Callable[..., Claim] = getattr(import_module(f"hitlab.claims.{module}"), name)
    claim = function(question, table, **given)
    if question.prior is None or claim.chance is None:
        return claim
    alone = function(replace(question, prior=None), table, **given)
    return claim if alone.chance is None else _beside_alone(claim, alone)


def _not_asked_by(kind: Kind, name: str, takers: list[str]) -> ClaimError:
    told = f"{_called(kind)} is not asked by {name}="
    return ClaimError(f"{told}; leave it out, or ask one of these kinds: {', '.join(takers)}")


def _called(kind: Kind) -> str:
    return f"a claim of the kind {kind.name!r}"


def _of_league(kind: Kind, question: Question) -> Question:
    """Take "league" as a name for everybody together, and refuse it where one alone can be meant."""
    named = question.who.strip().casefold() in LEAGUE_NAMES and question.subject in ("hitter", "league")
    if not named and question.subject != "league":
        return question
    if question.who and not named:
        raise ClaimError(
            f"subject='league' and {question.who!r}: the league is everybody together; leave one out"
        )
    if kind.league == "nobody":
        return replace(question, who="", subject="hitter")
    if not kind.league:
        kinds = ", ".join(sorted(one.name for one in KINDS.values() if one.league))
        raise ClaimError(f"{_called(kind)} is about one among many; of the whole league: {kinds}")
    return replace(question, who=THE_LEAGUE, subject="league")


def _beside_alone(claim: Claim, alone: Claim) -> Claim:
    """Add what the table says where nothing is stated of what is usual."""
    assert alone.chance is not None
    same = alone.verdict == claim.verdict
    chance = chance_text(alone.chance, alone.holds_at, alone.fails_at)
    note = (
        "without what is stated of the league, from this table alone, the answer would be "
        f"{alone.verdict.upper()}{', too' if same else ''} (chance {chance})"
    )
    said = claim.say_in_full
    if not same:
        said = f"{said.rstrip('.')}; told nothing of what is usual, the table {_LEFT[alone.verdict]}."
    numbers = {**claim.numbers, "chance_alone": alone.chance}
    return replace(claim, notes=(note, *claim.notes), say_in_full=said, numbers=numbers)


_LEFT = {
    "holds": "would say that it is so",
    "does not hold": "would say that it is not so",
    "open": "would leave it open",
}
