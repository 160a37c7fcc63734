"""The sentences that a claim ends with, made from its parts: a headline, one for air, what to avoid, a reply.

Ten seconds on air are about 25 words (150 words a minute: common practice, no source). Where a sentence
would be longer, first the chance is left out and then whom the hitter was compared with; who, what, situation
and verdict stay, so that what is left is true by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from operator import attrgetter
from typing import TYPE_CHECKING, NamedTuple

from hitlab.claims.clauses import Clause, briefly, clause_of
from hitlab.claims.verdicts import EVEN, Answer
from hitlab.spoken import chance_spoken
from hitlab.wording import capitalised

if TYPE_CHECKING:
    from hitlab.claims.result import Claim

__all__ = ["MOST_WORDS", "MOST_WORDS_OF_HEADLINE", "avoided", "follow_up", "headline", "say", "verdict_words"]

MOST_WORDS = 25
MOST_WORDS_OF_HEADLINE = 15


class _Said(NamedTuple):
    """What is said where a claim got an answer."""

    reply: str  # the verdict by itself
    stated: Callable[[Clause], str]  # the claim with it
    wrong: str  # with the sentence that tempts, in under fifteen words
    again: str = ""  # whether it is so, where that can be said


_UNMEASURED = "not all was measured"
_A_RECORD = "A record says what happened, luck and all"
_SAID: dict[Answer, _Said] = {
    "holds": _Said(
        "Most likely",
        attrgetter("likely"),
        "It leaves out that it may be luck, and by how much",
        "Most likely yes",
    ),
    "does not hold": _Said("Unlikely", attrgetter("unlikely"), "It is most likely not so", "Most likely not"),
    "open": _Said("Open", attrgetter("possible"), "The numbers leave it open"),
    "cannot be told": _Said("Unknown", attrgetter("untold"), "The table cannot tell it, either way"),
    "record holds": _Said("It stands", attrgetter("so_far"), _A_RECORD, "As it stands, yes"),
    "record does not hold": _Said("Not so", attrgetter("not_so_far"), _A_RECORD, "As it stands, no"),
    "record open": _Said("Unknown", attrgetter("so_far_untold"), _A_RECORD),
}
_WRONG_OF_ITS_OWN = {
    "response": "Nothing here shows why, and no single pitch shows it",
    "together": "Going together names no cause, and says little about one hitter",
}
"""By kind: what is wrong with the sentence that tempts, whatever the chance."""


def verdict_words(claim: Claim) -> str:
    """Return the verdict as a reply: ``Most likely``, ``Open``, ``It stands``."""
    return _SAID[claim.answer].reply


def headline(claim: Claim) -> str:
    """Return the claim with its verdict in one short line."""
    clause = clause_of(claim)
    texts = [*_each_stated(claim, clause), clause.asked(verdict_words(claim))]
    if claim.where or claim.kind in ("split", "spot"):
        texts.append(briefly(claim).asked(verdict_words(claim)))
    return capitalised(_fitting(texts, MOST_WORDS_OF_HEADLINE))


def say(claim: Claim) -> str:
    """Return a sentence that can be said in ten seconds, and is true by itself."""
    clause, chance = clause_of(claim), _chance(claim)
    forms = _each_stated(claim, clause)
    short, longer, asked = forms[0], list[str](), clause.asked(verdict_words(claim))
    if chance:
        if claim.verdict == "holds":
            longer = [f"{short}: {chance}"]
        elif claim.verdict == "does not hold":
            before, denied = clause.opening, replace(clause, opening="")
            longer = [f"{before}there {_is(chance)}{_only(chance)} {chance} that {denied.plain}"]
        else:
            longer = [f"{short}, {_leaning(claim)}: {chance}", f"{short}, {_leaning(claim)}"]
    elif claim.about == "record" and claim.verdict == "holds" and "exposure" in claim.numbers:
        longer = [f"{short}: {_record(claim)}"]
    texts = [*longer, *forms, asked]
    if claim.answer == "record open":
        texts = [text for one in texts for text in (f"{one}: {_UNMEASURED}", one)]
    return f"{capitalised(_fitting(texts, MOST_WORDS))}."


def avoided(claim: Claim) -> str:
    """Return the sentence that tempts, and what is wrong with it."""
    of_its_own = _WRONG_OF_ITS_OWN.get(claim.kind) if claim.about == "underlying" else None
    return f"{claim.tempting} {of_its_own or _SAID[claim.answer].wrong}."


def follow_up(claim: Claim) -> str:
    """Return the honest answer to "so is it so, or not?"."""
    again = _SAID[claim.answer].again
    if not again:
        return _nobody(claim.would_change if claim.answer == "open" else "contact that was measured")
    if claim.chance is None:
        return f"{again}; whether it is more than luck is another question."
    wrong = min(claim.chance, 1 - claim.chance)
    if wrong < 0.005:
        return f"{again}, as sure as such numbers get; a record still proves nothing."
    many = round(1 / wrong, 0 if wrong > 0.05 else -1)
    return f"{again}; of {many:,.0f} answers as sure as this, about one turns out wrong."


def _nobody(why: str) -> str:
    takes = ":" if "would settle it" in why else "; it would take"
    return f"Nobody can say yet{takes} {why}."


def _each_stated(claim: Claim, clause: Clause) -> list[str]:
    """Return the claim with its verdict, in each of its forms."""
    stated = _SAID[claim.answer].stated
    return [stated(form) for form in (clause, clause.shorter) if form is not None]


def _leaning(claim: Claim) -> str:
    assert claim.chance is not None
    if abs(claim.chance - 0.5) < EVEN:
        return "or may not"
    return "but that is open" if claim.chance > 0.5 else "but more likely not"


def _chance(claim: Claim) -> str:
    if claim.chance is None:
        return ""
    said = chance_spoken(claim.chance, claim.holds_at, claim.fails_at)
    # Chosen after looking, what is left is a bound.
    return f"at most {said.removeprefix('about ')}" if claim.is_bound else said


def _is(chance: str) -> str:
    return "are" if "chances" in chance else "is"


def _only(chance: str) -> str:
    return "" if chance.startswith(("less", "at most")) else " only"


def _record(claim: Claim) -> str:
    return f"{int(claim.numbers['events']):,} of {int(claim.numbers['exposure']):,}"


def _fitting(texts: list[str], most: int) -> str:
    """Return the first text of so many words, or the shortest."""
    fits = next((text for text in texts if len(text.split()) <= most), None)
    return fits if fits is not None else min(texts, key=lambda text: len(text.split()))
