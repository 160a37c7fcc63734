"""The sentences that a claim ends with, made from its parts: a headline, one for air, what to avoid, a reply.

Ten seconds on air are about 25 words (150 words a minute: common practice, no source). Where a sentence
would be longer, first the chance is left out and then whom the hitter was compared with; who, what, situation
and verdict stay, so that what is left is true by itself.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hitlab.claims.clauses import Clause, briefly, clause_of
from hitlab.claims.verdicts import EVEN
from hitlab.spoken import chance_spoken
from hitlab.wording import capitalised

if TYPE_CHECKING:
    from hitlab.claims.result import Claim

__all__ = ["MOST_WORDS", "MOST_WORDS_OF_HEADLINE", "avoided", "follow_up", "headline", "say", "verdict_words"]

MOST_WORDS = 25
MOST_WORDS_OF_HEADLINE = 15


def verdict_words(claim: Claim) -> str:
    """Return the verdict as a reply: ``Most likely``, ``Open``, ``It stands``."""
    if claim.about == "record":
        return {"holds": "It stands", "does not hold": "Not so", "open": "Unknown"}[claim.verdict]
    if claim.chance is None:
        return "Unknown"
    return {"holds": "Most likely", "does not hold": "Unlikely", "open": "Open"}[claim.verdict]


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
    short = _stated(claim, clause)
    longer = []
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
    texts = [*longer, *_each_stated(claim, clause), clause.asked(verdict_words(claim))]
    return f"{capitalised(_fitting(texts, MOST_WORDS))}."


def avoided(claim: Claim) -> str:
    """Return the sentence that tempts, and what is wrong with it."""
    return f"{claim.tempting} {_wrong(claim)}."


def follow_up(claim: Claim) -> str:
    """Return the honest answer to "so is it so, or not?"."""
    if claim.about == "record":
        told = {"holds": "As it stands, yes", "does not hold": "As it stands, no"}.get(claim.verdict)
        return (
            f"{told}; whether it is more than luck is another question."
            if told
            else _nobody("contact that was measured")
        )
    if claim.chance is None:
        return _nobody("contact that was measured")
    if claim.verdict == "open":
        return _nobody(claim.would_change)
    answer = "Most likely yes" if claim.verdict == "holds" else "Most likely not"
    wrong = min(claim.chance, 1 - claim.chance)
    if wrong < 0.005:
        return f"{answer}, as sure as such numbers get; a record still proves nothing."
    many = round(1 / wrong, 0 if wrong > 0.05 else -1)
    return f"{answer}; of {many:,.0f} answers as sure as this, about one turns out wrong."


def _nobody(why: str) -> str:
    takes = ":" if "would settle it" in why else "; it would take"
    return f"Nobody can say yet{takes} {why}."


def _each_stated(claim: Claim, clause: Clause) -> list[str]:
    """Return the claim with its verdict, in each of its forms."""
    return [_stated(claim, form) for form in (clause, clause.shorter) if form is not None]


def _stated(claim: Claim, clause: Clause) -> str:
    if claim.about == "record":
        if claim.verdict == "open":
            return f"this table cannot tell whether {clause.so_far}"
        return clause.so_far if claim.verdict == "holds" else clause.not_so_far
    if claim.chance is None:
        told = replace(clause, opening="")
        return f"{clause.opening}this table cannot tell whether {told.plain}"
    if claim.verdict == "holds":
        return clause.likely
    return clause.unlikely if claim.verdict == "does not hold" else clause.possible


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


def _wrong(claim: Claim) -> str:
    """Return what is wrong with the tempting sentence, in under fifteen words."""
    if claim.about == "record":
        return "A record says what happened, luck and all"
    if claim.kind in _OF_ITS_OWN:
        return _OF_ITS_OWN[claim.kind]
    if claim.chance is None:
        return "The table cannot tell it, either way"
    if claim.verdict == "open":
        return "The numbers leave it open"
    if claim.verdict == "holds":
        return "It leaves out that it may be luck, and by how much"
    return "It is most likely not so"


_OF_ITS_OWN = {
    "response": "Nothing here shows why, and no single pitch shows it",
    "together": "Going together names no cause, and says little about one hitter",
}


def _fitting(texts: list[str], most: int) -> str:
    """Return the first text of so many words, or the shortest."""
    fits = next((text for text in texts if len(text.split()) <= most), None)
    return fits if fits is not None else min(texts, key=lambda text: len(text.split()))
