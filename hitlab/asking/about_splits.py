"""A situation against the rest: the kind of claim that compares somebody with himself."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from typing import Any

from hitlab.asking.marks import UnfitError
from hitlab.asking.phrases_rates import Rate
from hitlab.asking.said import Said, one_thing
from hitlab.asking.slots import hand_term
from hitlab.questions.question import Question

__all__ = ["as_split", "complement", "of_either"]

_ONE_OTHER = "one situation against one other cannot be asked; against all the rest can"
_COMPLEMENTS = {
    "pitcher_hand=left": "pitcher_hand=right",
    "hitter_side=left": "hitter_side=right",
    "runners on": "bases=empty",
    "in the zone": "outside the zone",
    "own side": "other side",
    "strikes=2": "strikes=0,1",
}
_COMPLEMENTS |= {there: here for here, there in _COMPLEMENTS.items()}


def as_split(said: Said) -> list[Question] | None:
    """Take more of it in a situation for that situation against the rest."""
    f, t = said.marks, said.text
    compared = t.has("more", "better", "hitharder")
    if not compared or not said.terms or (said.since and not t.has("than", "otherwise", "usual")):
        return None
    if t.has("before") or t.has("lately"):
        return None
    if said.subject == "hitter" and re.search(r" <than> <hand> (?:<rate>|do|does) ", t.line()):
        return None  # "Than lefties hit them": what others do is compared.
    f.has("otherwise", "usual", "hitharder", "different")
    terms = said.terms
    if t.has("than"):
        place = t.places("than")[0]
        behind = [w for w in t.words[place:] if w.text in ("<in>", "<hand>")]
        if len(behind) != 1:
            return None
        ahead = _behind(said, behind[0])
        if ahead is None:
            _one_against_one(said, behind[0])
            return None
        f.has("than")
        terms = ahead
    rates = said.rates(default=t.has("better"))
    if not one_thing(terms):
        both = [q for rate in rates if not rate.when for q in said.each("split", rate, said.sign(rate))]
        raise UnfitError("which of the situations is compared with the rest?", *both)
    found = []
    for rate in rates:
        sign = said.sign(rate)
        options = {"against": "usual"} if t.has("usual") else {}
        found += said.each("split", _inside(rate), sign, terms=terms, options=options)
    return found


def _inside(rate: Rate) -> Rate:
    """Return a rate among the pitches that it is about: those in a situation are held against the others."""
    inside = " ".join(("", *rate.when))
    return replace(rate, event=f"{rate.event}{inside}", per=f"{rate.per}{inside}", when=())


def of_either(said: Said, asked: Callable[[], list[Question]]) -> None:
    """Offer each of two situations, of which it is said in which it is more: on sliders or on curveballs.

    What is asked of each is told by a function, for that one in the place of both.
    """
    t = said.text
    columns = [term.partition("=")[0] for term in said.terms]
    two = [term for term, column in zip(said.terms, columns, strict=True) if columns.count(column) == 2]
    if len(two) != 2 or not said.marks.has("either"):
        return
    rest = [term for term in said.terms if term not in two]
    kinds = [term.removeprefix("pitch_kind=") for term in two]
    both = [f"pitch_kind={','.join(kinds)}"] if kinds != two else []
    split: list[Question] = []
    found: list[Question] = []
    for term in (*two, *both):
        said.terms = [term, *rest]
        with suppress(UnfitError):
            if t.has("more", "better", "hitharder", "best", "most") and not t.has("than", "league", "anyone"):
                rates = said.rates(default=t.has("better", "best"))
                split += [q for rate in rates for q in said.each("split", rate, said.sign(rate))]
        try:
            found += asked()
        except UnfitError as unfit:
            found += unfit.offered
    raise UnfitError(_ONE_OTHER, *split, *found)


def _one_against_one(said: Said, word: Any) -> None:
    """Offer a situation against the rest where it is compared with one other: fastballs with sliders."""
    other = [hand_term(word.value, said.subject)] if word.text == "<hand>" else list(word.value)
    mine = [term for term in said.terms if term not in other]
    named = list(dict.fromkeys(said.text.values("rate")))
    if len(mine) != 1 or len(other) != 1 or len(named) != 1 or len(said.whos) > 1:
        return
    if not said.whos and not (said.marks.has("theleague") or said.marks.slots.all_hitters):
        return
    rates = said.rates(default=False)
    told = [q for rate in rates for q in said.each("split", _inside(rate), said.sign(rate), terms=mine)]
    raise UnfitError(_ONE_OTHER, *told)


def _behind(said: Said, word: Any) -> list[str] | None:
    """Return the terms in front of "than" where those behind it are just all the others."""
    other = [hand_term(word.value, said.subject)] if word.text == "<hand>" else list(word.value)
    mine = [term for term in said.terms if term not in other]
    return mine if len(mine) == 1 and len(other) == 1 and complement(mine[0]) == other[0] else None


def complement(term: str) -> str:
    """Return the situation that is just all the other pitches; empty where there is none."""
    return _COMPLEMENTS.get(term, "")
