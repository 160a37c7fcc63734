"""What is offered of a sentence that is not read: what its clauses ask, and what its slots make softly."""

from __future__ import annotations

import re
from dataclasses import replace

from hitlab.asking.differing import differing
from hitlab.asking.fit import lacking
from hitlab.asking.limits import ASKABLE_OTHERWISE, MANNERS_OF_SPEAKING, OF_HABITS, OF_SPEAKERS, OF_THE_FIELD
from hitlab.asking.outcome import Asked
from hitlab.asking.people import Known
from hitlab.asking.pieces import askable_pieces
from hitlab.asking.restating import named_in
from hitlab.asking.slots import limit_of
from hitlab.asking.soft import ENOUGH, Soft
from hitlab.asking.text import Text
from hitlab.asking.whole import NOTHING, key_of, read_whole
from hitlab.questions.question import Question

__all__ = ["PARTLY", "in_pieces", "with_nearest"]

_OPEN = re.compile(
    r"(?:more often )?than whom|what (?:is said )?of it|what is said|this names more than one|"
    r"which of the situations"
)
"""What is asked back where a sentence leaves open what is said: all that may be meant is offered."""
_TOLD_WHY = re.compile(
    r"(?:this (?:names|says) more than one|two are named|several days are named|no pitch is both|"
    r"the rates of a club are|.*\bcan(?:not)? be asked|.*: divided by what)"
)
"""What is asked back that says what stands in the way: no difference of two choices says it for it."""
_WITHOUT = re.compile(r" would play no part in it: is it this all the same, without (?:it|them)\?")
_LEAVES = re.compile(r"\.? What is offered leaves out .*$")
_OTHER_DOUBT = re.compile(
    r"which rate:|hits it hard more often|best at what|nobody is named|than whom|.*would play no part"
)
"""Asked back of what the soft slots have found."""
_VAGUE = re.compile(r"(?!hot ).*(?:more|less)\b.*, or .*: which\?")
"""Asked back of a word that may mean several rates."""
_COMPARING = ("leads", "top", "ahead", "more", "split")
PARTLY = re.compile(r".*would play no part")
_HARD_WHY = re.compile(
    r"nothing was said|there (?:are|is) |it is longer|the table's games|this table|situations and days|no day"
)
"""Refusals beside which nothing is offered: of the whole sentence, or of what the table lacks."""
_CLAUSE = re.compile(r"(?<=[.,!?;:–—…])\s+|\s+[–—-]\s+")
_THINKS = re.compile(
    r"\s*(?:(?:so|well|ok|okay|and|but) )?(?:i|we) (?:\w+ )?(?:think|reckon|say|bet|figure|guess|"
    r"suspect|believe)\b",
    re.IGNORECASE,
)
_REASON = re.compile(r"\s+(?:because|bc|cuz|'?cause|coz|cos)\s+(?!of\b)", re.IGNORECASE)
"""Behind it stands why somebody thinks so: what is claimed may be the reason."""
_WITHIN = re.compile(
    _CLAUSE.pattern
    + r"|\s+(?=(?:or (?:(?:is|am|are)|(?:do|did|have|will) (?:i|we|you))|for (?:my|our|a|the) |but|and)\b)"
    r"|(?<=to know)\s+|(?<=asked me)\s+",
    re.IGNORECASE,
)
"""Also where somebody goes on about the asking: "for my lineup", "or is coach making that up"."""


def in_pieces(asked: Asked, known: Known) -> Asked:
    """Offer what the clauses of a sentence ask where nothing is offered of the whole."""
    if asked.choices:
        return asked

    def read(piece: str) -> Asked:
        text = Text.of(piece)
        return read_whole(piece, text, known) if text.words else asked

    found = askable_pieces(
        asked.text,
        known,
        lambda piece: told.readings if (told := read(piece)).outcome == "understood" else (),
    )
    if not found:
        return asked
    if asked.why:
        return replace(asked, nearest=found[0])
    if len(found) == 1:
        asks = f"{asked.asks} What is offered is a part of what was said."
        return replace(asked, asks=asks, nearest=found[0])
    asks = "this says more than one thing, and each is a claim of its own: which?"
    return replace(asked, asks=asks, readings=tuple(found), nearest=None)


def with_nearest(asked: Asked, sentence: str, known: Known) -> Asked:
    """Offer what the slots of a sentence that is not read make, each found on its own."""
    if asked.outcome == "understood" or not any(word.isalpha() for word in sentence.split()):
        return asked
    if asked.why:
        return _refused_with_nearest(asked, sentence, known)
    soft = Soft(sentence, known)
    near = [one for one in soft.questions() if not lacking([one], known)]
    told = asked.choices
    if near and PARTLY.match(asked.asks) and (soft.since or soft.until):
        told = tuple(one for one in told if one.since or one.until or one.kind == "hot")
    if PARTLY.match(asked.asks) or _LEAVES.search(asked.asks):
        told = tuple(one for one in told if not any(_says_more(other, one) for other in near))
    agreed = bool(near) and key_of(near[0]) in map(key_of, told)
    precise = not _OPEN.match(asked.asks) and (agreed or not PARTLY.match(asked.asks))
    vague = len(told) > 1 and bool(_VAGUE.match(asked.asks))
    if vague and near and soft.rates_named and near[0].kind in _COMPARING:
        # A word that may mean several rates, and beside it one of them, compared.
        compared = (near[0], *(one for one in told if key_of(one) != key_of(near[0])))
        return replace(asked, readings=compared[:ENOUGH], nearest=None)
    if not near or ((agreed or len(told) > 1) and precise):
        return asked
    # Told with the usual rate, though another is named in words that only the soft slots know.
    named = bool(told and soft.rates_named) and all(one.event == "hard" for one in told)
    named = named and soft.rates_named[0] != "hard"
    ahead = (*near, *told) if named else (*told[: ENOUGH - 1], *near)
    both = list({key_of(one): one for one in ahead}.values())[:ENOUGH]
    if tuple(both) == asked.choices:
        return asked
    if len(both) == 1:
        return replace(asked, nearest=both[0], guessed=True)
    asks = asked.asks
    if not told or named:
        told_why = _TOLD_WHY.match(asks) or (asks.startswith("since which day") and not soft.since)
        doubt = "" if told_why else differing(*both[:2])
        asks = doubt or ("is it one of these?" if _OTHER_DOUBT.match(asks) else asks)
        asks = asks if told else _LEAVES.sub("", asks)
        asked = replace(asked, left_out=tuple(soft.left_of(near)))
    else:
        first = "the first" if len(told) == 1 else "the first two"
        asks = _WITHOUT.sub(f" would play no part in {first}: which is meant?", asks)
        asks = asks.replace("What is offered leaves", f"{first.capitalize()} leave{'s' * (len(told) == 1)}")
    return replace(asked, asks=asks, readings=tuple(both), nearest=None, guessed=not asked.choices)


def _says_more(one: Question, other: Question) -> bool:
    """Say whether a question asks the same as another, and in a situation that the other leaves out."""
    return set(one.when) > set(other.when) and replace(one, when=other.when) == other


def _refused_with_nearest(asked: Asked, sentence: str, known: Known) -> Asked:
    """Offer what can be asked beside the clause that cannot; ask back where only the words were not known."""
    if asked.choices or _HARD_WHY.match(asked.why):
        return asked
    unknown = asked.why.startswith(NOTHING)
    soft, rest = Soft(sentence, known), sentence
    # Whoever asks who is to hit speaks of a bench, and of the one who is taken out.
    whole = unknown or asked.why in MANNERS_OF_SPEAKING | ASKABLE_OTHERWISE
    whole = whole or (soft.t.has("spot") and asked.why in OF_SPEAKERS | OF_THE_FIELD)
    # "Get one past him and he'll swing at the next" is a habit, and no forecast.
    whole = whole or (soft.t.has("after") and asked.why in OF_HABITS)
    if not whole:
        parted = _WITHIN if asked.why in OF_SPEAKERS else _CLAUSE
        reasoned = _REASON.sub(", ", sentence) if _THINKS.match(sentence) else sentence
        rest = ", ".join(part for part in parted.split(reasoned) if not limit_of(part, known))
        if not rest.strip():
            return asked
        soft = Soft(rest, known)
    if not unknown and not named_in(rest, known) and not soft.of_many:
        return asked
    near = [one for one in soft.questions() if not lacking([one], known)] if soft.plain else []
    if not near:
        return asked
    if not unknown:
        return replace(asked, readings=tuple(near)) if len(near) > 1 else replace(asked, nearest=near[0])
    asks = differing(*near[:2]) if len(near) > 1 else ""
    asks = asks or "is it one of these?"
    back = replace(asked, why="", asks=asks, left_out=tuple(soft.left_of(near)), guessed=True)
    return replace(back, readings=tuple(near)) if len(near) > 1 else replace(back, nearest=near[0])
