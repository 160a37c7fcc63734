"""Kinds of claim against a number or the league, and a habit that is stated baldly."""

from __future__ import annotations

import re

from hitlab.asking.marks import BaldError, UnfitError
from hitlab.asking.neighbours import denied_elsewhere
from hitlab.asking.numbers import ALWAYS
from hitlab.asking.phrases_rates import Rate
from hitlab.asking.said import LEAGUE, Said
from hitlab.asking.sides import HIM
from hitlab.questions.question import Question

__all__ = ["as_bald", "as_usual", "as_value"]

_AT_ALL = re.compile(
    r" (?:has|have|had|did) (?:<who> )?(?:<never>|<not>|ever) (?:(?:ever|even|once|yet) )*<rate> |"
    r" (?:does|do) <who> ever <rate> "
)
"""Not done once, or whether it is ever: nothing of how often."""
# "Hit" is the same today and yesterday.
_DONE = re.compile(r"(?:[a-z]+ed|swung|laid|took|made|went|struck)\b")
_THEY_DO = re.compile(rf" <rest> (?:.* )?<than> {HIM}")
"""The rest of the league is said to do it more than the one who is named: he does it less."""
_BATS = re.compile(r" (?:hit|hits|hitting|bat|bats|batting) (?:a )?<near> ")
_BALD = re.compile(r"[.\d]+$")
"""A number alone, with no word that says whether it is a floor or a middle: "hitting .300"."""


def as_value(said: Said) -> list[Question] | None:
    """Take a number for whether the rate is above, below or near it."""
    f, t = said.marks, said.text
    told = {mark: t.values(mark) for mark in ("above", "below", "near", "always")}
    marks = [mark for mark, values in told.items() for _ in dict.fromkeys(values)]
    if not marks:
        return None
    if len(marks) > 1:
        raise UnfitError("more than one number is told: which is meant?")
    mark = marks[0]
    f.has(mark, "within", "theleague", "allyear")
    value, kind = (ALWAYS, "value") if mark == "always" else told[mark][0]
    rates = said.rates(default=False) if t.has("rate", "owns") or kind == "value" else _average(said)
    if mark == "always" and t.has("owns"):
        raise UnfitError("always: more often than whom?")
    if mark == "always" and not said.terms and rates[0].event == "swings" and not rates[0].when:
        raise UnfitError("always: at which pitches?")
    if mark != "always":
        rates = said.numbered(rates, value)
    found = []
    for rate in rates:
        sign = said.sign(rate) if t.has("more", "most") else rate.sign
        if mark == "near":
            typed = next(word for word in t.words if word.text == "<near>")
            if _BATS.search(t.line()) and _BALD.match(t.typed(typed)):
                number = f"{value:.3f}".lstrip("0")
                either = [
                    q for one in ("above", "near") for q in said.each(one, rate, options={"value": value})
                ]
                raise UnfitError(f"at {number} or above, or about {number}?", *either)
            if sign < 0 or t.has("more", "most", "better", "best"):
                raise UnfitError("about as often, or more or less often than that: which?")
            within = t.values("within")
            options = {"value": value, **({"within": within[0]} if within else {})}
            found += said.each("near", rate, options=options)
        else:
            # "A higher share ... on more than 30 percent" says it twice; "less" beside it is unclear, and
            # "has raised it to over 30 percent" says that it has changed, and where it stands now.
            moved = re.search(r" to <(?:above|below|near)> ", t.line())
            if (sign < 0 or mark == "below" or moved) and t.has("more", "most"):
                raise UnfitError("more or less often than that: which?")
            found += said.each(
                "above", rate, -rate.sign if mark == "below" else rate.sign, options={"value": value}
            )
    return found


def _average(said: Said) -> list[Rate]:
    return [Rate("hits", "at_bats")]


def as_usual(said: Said) -> list[Question] | None:
    """Take the league, or the rest of it, for more or less than the league."""
    f, t = said.marks, said.text
    rest = t.has("rest") and t.has("than")
    if not t.has("league") and not rest:
        return None
    if not t.has("more", "better", "hitharder"):
        return None
    f.has("league", "rest", "theleague")
    if rest:
        f.has("than")
    turned = -1 if _THEY_DO.search(t.line()) else 1
    signs = {*t.values("more"), *t.values("most")}
    worse = -1 if t.values("better") == [-1] else 1
    rates = said.rates(
        default=t.has("better") and bool(said.terms),
        offer=lambda rate, sign: said.each(
            "above", rate, turned * (signs.copy().pop() if len(signs) == 1 else worse * sign), options=LEAGUE
        ),
    )
    if turned < 0 and t.has("not", "never"):
        told = [q for rate in rates for q in said.each("above", rate, said.sign(rate), options=LEAGUE)]
        raise UnfitError("about as often as the league cannot be asked; more or less often can", *told)
    return [q for rate in rates for q in said.signed("above", rate, turned=turned, options=LEAGUE)]


def as_bald(said: Said) -> list[Question] | None:
    """Take a habit that is stated baldly for a claim to have more of it than the league."""
    f, t = said.marks, said.text
    if t.has(*("more", "better", "most", "best", "hitharder", "than", "league", "anyone", "lately", "since")):
        return None
    if not t.has("rate", "owns", "cannotlayoff"):
        return None
    rates = said.rates(default=False)
    rate = rates[0]
    denied = f.has("not", "never")
    if denied_elsewhere(t):
        raise UnfitError("what is denied: that it is done, or only where?")
    f.has("tough")
    if len(t.values("not")) + len(t.values("never")) > 1:
        raise UnfitError("is it denied or not?")
    sign = rate.sign * (-1 if denied or t.has("tough") else 1)
    if denied and t.has("tough"):
        raise UnfitError("is it denied or not?")
    questions = [q for one in rates for q in said.each("above", one, sign, options={"value": "league"})]
    done = any(w.text == "<rate>" and _DONE.match(t.typed(w).casefold()) for w in t.words)
    once = done and not re.search(" (?:has|have|had) ", t.line())
    if once or _AT_ALL.search(t.line()):
        raise UnfitError("is it whether it was done even once, or how often?", *questions)
    told = bool(said.terms) or bool(rate.when) or denied or t.has("tough", "alot")
    if not told:
        raise BaldError("more often than whom: than the league?", *questions)
    return questions
