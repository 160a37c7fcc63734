"""A habit told baldly, and in the same breath by how much: "he never chases, less than anyone in the league".

One part of the sentence tells the habit and compares it with nobody; the other is the claim, of the habit's
rate where it names none. It is taken for one claim where both are of the same person, the same rate and the
same direction, and where the situations of one are those of the other or are told in one part only.
Everything else is asked back as before.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from hitlab.asking.fit import fit
from hitlab.asking.people import Known
from hitlab.asking.phrases_rates import CHASES
from hitlab.asking.slots import read_slots
from hitlab.asking.text import Text
from hitlab.names import fold
from hitlab.questions.question import Question

__all__ = ["named_in", "restated", "with_name"]

_PAUSE = re.compile(r"\s*[,;:.–—…]\s+(?:and |but )?")
_HIM = re.compile(r"\bthan (?:him|her|he|she|this (?:guy|kid)|that (?:guy|kid))\b")
_MEASURED = re.compile(r"(?:(?:far|much|way|even) )?(?:more|less)(?: often)? (?:than|on|against|with) ", re.I)
"""How much, of a rate that stands in the other part."""

_OTHER_WAY = {"whiffs": "contact", "contact": "whiffs"}
_COMPARED = ("above", "leads", "top")


def restated(sentence: str, known: Known, read: Callable[[str], tuple[Question, ...]]) -> Question | None:
    """Return the question of a sentence whose other part says the same without comparing.

    Parameters
    ----------
    sentence
        As it was typed.
    known
        The table's names.
    read
        Gives what a part asks by itself.
    """
    for pause in _PAUSE.finditer(sentence):
        first, second = sentence[: pause.start()], sentence[pause.end() :]
        names = [named_in(part, known) for part in (first, second)]
        if sum(map(len, names)) != 1:
            continue
        if names[0]:
            rate = f"{_rate_of(first, known)} " if _MEASURED.match(second) else ""
            second = with_name(rate + second, names[0][0])
        else:
            first = f"{names[1][0]} {first[:1].lower()}{first[1:]}"
        for habit, claim in ((first, second), (second, first)):
            told = _bald(habit, known)
            asked = read(claim) if told is not None else ()
            if told is not None and len(asked) == 1:
                return _joined(told, asked[0])
    return None


def named_in(part: str, known: Known) -> list[str]:
    """Return the names in a part as they were typed, possessives off."""
    text = Text.of(part)
    words = [word.text for word in text.words]
    found, at = [], 0
    while at < len(words):
        many, _ = known.named_at(words, at)
        if many:
            places = dict.fromkeys(place for word in text.words[at : at + many] for place in word.places)
            found.append(" ".join(re.sub(r"['’]\w+$", "", text.said[place]) for place in places))
        at += max(many, 1)
    return [name for name in found if len(fold(name)) > 2]


def with_name(part: str, name: str) -> str:
    """Return a part with a name in the place of its pronoun, or in front of it."""
    pronoun = re.search(r"\b(?:he|she)(?='|’|\b)", part, re.IGNORECASE)
    if pronoun is not None and not _HIM.search(part):
        return f"{part[: pronoun.start()]}{name}{part[pronoun.end() :]}"
    return _HIM.sub(f"than {name}", part) if _HIM.search(part) else f"{name} {part}"


def _rate_of(part: str, known: Known) -> str:
    """Return the words, as they were typed, of the one rate that a part names; empty where it is not one."""
    text = read_slots(Text.of(part), known).text
    told = [text.typed(word) for word in text.words if word.text == "<rate>"]
    return told[0] if len(told) == 1 else ""


def _bald(part: str, known: Known) -> Question | None:
    """Return the habit that a part tells; nothing where it compares or says something else besides."""
    slots = read_slots(Text.of(part), known)
    if slots.limit:
        return None
    fitted = fit(slots, known)
    if fitted.bald is not None:
        return fitted.bald
    alone = not fitted.asks and len(fitted.questions) == 1
    compared = slots.text.has("more", "most", "than", "league", "better", "best", "above", "below", "near")
    if not alone or compared or fitted.questions[0].kind != "above":
        return None
    return fitted.questions[0] if fitted.questions[0].options.get("value") == "league" else None


def _joined(habit: Question, claim: Question) -> Question | None:
    """Return a claim with the situation of the habit, where both say the same; nothing where they do not."""
    if claim.kind not in _COMPARED or (habit.who, habit.subject) != (claim.who, claim.subject):
        return None
    same = (claim.event, claim.direction)
    turned = (_OTHER_WAY.get(claim.event, ""), "less" if claim.direction == "more" else "more")
    if (habit.event, habit.direction) not in (same, turned) or habit.per != claim.per:
        return None
    mine, its = set(habit.when), set(claim.when)
    if habit.per == CHASES.per and (mine ^ its).intersection(CHASES.when):
        return None  # "Never chases, fewer swings than anyone": chases, or swings at all?
    if mine <= its:
        return claim
    return replace(claim, when=habit.when) if its <= mine else None
