"""Kinds of claim that compare people: one of many, the first of all, one ahead of another."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import product

from hitlab.asking.marks import UnfitError
from hitlab.asking.neighbours import denied_elsewhere
from hitlab.asking.phrases_rates import Rate
from hitlab.asking.said import Said
from hitlab.questions.question import Question

__all__ = ["ONE", "as_ahead", "as_leads", "as_top", "totalled"]

_COUNTED = ("homers", "walks", "swings", "whiffs", "misses", "fouls", "balls", "takes", "chases")
"""Nouns of which a box score may have a sum."""
_DONE_SO_MANY = re.compile(
    r"\b(?:has|have|had|'s|'ve) (?:[a-z]+ ){1,4}(?:more|fewer|the most|the fewest) "
    r"(?:first )?(?:times|balls|pitches|strikes)\b",
    re.IGNORECASE,
)
"""Has done it so many times, to so many: a sum."""
_SO_MANY_HITTERS = re.compile(
    r"\b(?:more|fewer|less|most|fewest|least) (?:hitters|batters|guys|people|folks)\b", re.IGNORECASE
)
"""Of a pitcher: so many struck out or walked, a sum."""
ONE = {
    "swings": "swing",
    "pitches": "pitch",
    "in_play": "ball in play",
    "contact": "contact",
    "at_bats": "at bat",
    "plate_appearances": "plate appearance",
}


def as_top(said: Said) -> list[Question] | None:
    """Take a number of places for whether somebody is among so many, or for their list."""
    f, t = said.marks, said.text
    places = [*t.values("top"), *t.values("bottom")]
    place = t.values("place")
    if place and not places:
        rates = said.rates(default=False)
        told = [
            q
            for rate in rates
            for q in said.each("top", rate, said.sign(rate), options={"top": place[0]}, ranked=True)
        ]
        raise UnfitError("one place by itself cannot be asked; being among so many can", *told)
    only = t.values("onlyn")
    if only and t.has("than") and t.has("more", "better"):
        f.has("onlyn", "than", "theleague")
        places = [only[0] + 1]
    elif not places:
        return None
    f.has("top", "bottom", "theleague", "everyone")
    if len(places) != 1 or not 1 <= places[0] <= 1000:
        raise UnfitError("one of how many?")
    rates = said.rates(default=bool(said.terms) or t.has("per"))
    found = []
    for rate in rates:
        sign = said.sign(rate) * (-1 if t.has("bottom") else 1)
        if said.listed() == "pitcher" and not said.whos and not t.has("most", "more"):
            if rate.event not in ("strikeouts", "whiffs"):
                told = [
                    q
                    for way in (1, -1)
                    for q in said.each("top", rate, way, options={"top": places[0]}, ranked=True)
                ]
                raise UnfitError("more often, or less often?", *told)
            sign = -1 if t.has("bottom") else 1
        if t.has("top") and rate.luckless and not t.has("most", "more"):
            # "Top three for chasing" are those who do it most.
            f.used.update(("most", "more"))
        found += said.each("top", rate, sign, options={"top": places[0]}, ranked=True)
    return found


def as_leads(said: Said) -> list[Question] | None:
    """Take more than anyone, a superlative or the lead for the first place."""
    f, t = said.marks, said.text
    others = len(said.whos) > 1
    if t.has("oneof"):
        raise UnfitError("one of how many: of the five best, of the ten?")
    behind = re.search(r"<than> (?:the )?<who>", t.line()) is not None
    nobody = behind and t.has("nobody", "anybody") and t.has("than") and t.has("more", "better", "hitharder")
    if not t.has("than", "before", "since", "otherwise", "usual", "league", "rest", "lately"):
        # "Here comes Izezno: nobody hits it hard more often."
        nobody |= t.has("more", "hitharder") and re.search(r" <who> (?:.* )?<nobody> ", t.line()) is not None
    superlative = t.has("most", "best", "leads") and not t.has("than")
    anyone = t.has("anyone", "everyone", "ownclub") and t.has("more", "better", "hitharder")
    if t.has("nobetter") and t.has("than"):
        nobody = True
    if not (nobody or superlative or anyone) or others:
        return None
    if superlative and t.has("nobody", "anybody"):
        return None
    f.has(
        *("leads", "anyone", "everyone", "nobody", "anybody", "theleague", "whose", "ownclub"),
        *("owngroup", "nobetter"),
    )
    if nobody:
        f.has("than")
    if t.has("best", "better", "nobetter") and not t.has("rate", "hitharder") and not said.terms:
        raise UnfitError("best at what: hitting it hard, making contact, laying off?")
    rates = said.rates(default=t.has("best", "better", "nobetter"))
    found = [q for rate in rates for q in said.signed("leads", rate, ranked=True)]
    if superlative and _where_most(said):
        split = [q for rate in rates for q in said.each("split", rate, said.sign(rate))]
        raise UnfitError("more often than anyone, or more often there than elsewhere?", *found, *split)
    return found


def _where_most(said: Said) -> bool:
    """Say whether what is done most may be done there more than elsewhere: ``misses most on sliders``."""
    t = said.text
    if (
        not said.terms
        or not said.whos
        or t.has("best", "leads", "theleague", "owngroup", "whose", "everyone")
    ):
        return False
    if (
        not t.has("rate")
        or t.has("nobody", "anybody", "per", "record", "since", "span", "minimum")
        or said.clubs
    ):
        return False
    typed = [t.typed(word).casefold().split() for word in t.words if word.text == "<most>"]
    return len(typed) == 1 and typed[0] in (["most"], ["least"], ["hardest"], ["most", "often"])


def totalled(said: Said, question: Question) -> bool:
    """Say whether what is compared may be totals, as in a box score: ``has more homers than Izoba``."""
    words = [word for word in said.text.words if word.text == "<rate>"]
    if len(words) != 1 or said.text.has("per", "minimum") or {"often", "frequently"} & set(said.text.said):
        return False
    last = said.text.typed(words[0]).casefold().replace("balls in play", "balls").split()[-1]
    # "Homers", "walks", "misses" are what he does, too: "he misses more".
    noun = r"(?: in| of| for|<more>|<most>) (?:the |all |total )?<rate> "
    if last in ("runs", "strikeouts", "hits"):
        return True
    if question.options.get("value") == "league":  # nobody has more in all than everybody together
        return False
    if last in _COUNTED and re.search(noun, said.text.line()):
        return True
    line = " ".join(said.text.said)
    if question.subject == "pitcher" and _SO_MANY_HITTERS.search(line):
        return True
    return _DONE_SO_MANY.search(line) is not None


def as_ahead(said: Said) -> list[Question] | None:
    """Take two who are compared for whether the one is ahead of the other."""
    f, t = said.marks, said.text
    if len(said.whos) != 2:
        if len(said.whos) > 2:
            raise UnfitError("more than two are named: whom is it about?")
        return None
    first, second = said.whos
    if first[0].subject != second[0].subject:
        raise UnfitError("the two are not of one kind: whom is it about?")
    flip, chosen = 1, False
    if t.has("notas"):
        f.has("notas")
        flip = -1
        t.take(r"notas", "")
        for words in (r"quick to", r"likely to", r"often", r"good at", r"apt to", r"good"):
            t.take(words)
    elif t.has("aheadof") and not t.has("more", "better"):
        [flip] = f.values("aheadof")[:1]
    elif not t.has("than") and t.has("more") and len({*map(tuple, t.values("who"))}) < len(t.values("who")):
        # Two are compared, and then one of them is asked about.
        named = t.values("who")
        again = next(value for n, value in enumerate(named) if value in named[:n])
        if set(second) <= set(again):
            first, second = second, first
    elif t.has("prefer", "noother", "orwhom"):
        f.has("prefer", "noother")
        if t.has("orwhom"):
            f.has("orwhom", "whose", "spot")
        t.take("over|to")
        if t.has("prefer"):
            f.has("than")
        if t.has("noother"):
            first, second = second, first
        chosen = not t.has("more", "hitharder", "most")
        if t.has("noother") and not chosen:
            raise UnfitError("who is said to do it more often than the other?")
    elif not (t.has("than") and t.has("more", "better", "hitharder")):
        raise UnfitError("two are named: who is said to do it more often than the other?")
    else:
        f.has("than")
        place = t.places("than")[0]
        names = t.places("who")
        # What stands behind "than" is what it is compared with.
        if not any(name > place for name in names):
            raise UnfitError("who is said to do it more often than the other?")
        behind = next(t.words[name].value for name in names if name > place)
        fits = [who for who in said.whos if set(who) <= set(behind)]
        if len(fits) == 1 and fits[0] == first:
            first, second = second, first

    def both(rate: Rate, sign: int) -> list[Question]:
        return [
            q
            for one, other in product(first, second)
            for q in said.one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
        ]

    worse = -1 if -1 in (*t.values("better"), *t.values("best")) else 1
    rates = said.rates(
        default=t.has("better") and not chosen, offer=lambda rate, sign: both(rate, worse * sign)
    )
    found = []
    for rate in rates:
        sign = _better_of(said, rate, both) if chosen else said.sign(rate) * flip
        for one, other in product(first, second):
            found += said.one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
    if chosen:
        f.has("not")
    if len(first) > 1 or len(second) > 1:
        f.choice = "several are called so: which?"
    return found


def _better_of(said: Said, rate: Rate, both: Callable[[Rate, int], list[Question]]) -> int:
    """Return whether more or less of a rate is said of the one who is preferred, where that is sure."""
    denied = len(said.text.values("not")) == 1 and not denied_elsewhere(said.text)
    told = {*said.text.values("better"), *said.text.values("best")}
    good = rate.luckless is False or (denied and rate.luckless is True)
    if told <= {1} and good and denied == (rate.luckless is True) and rate.sign > 0:
        said.marks.has("not", "better", "best")
        return -1 if denied else 1
    behind = said.text.places("rate")[-1:] > said.text.places("who")[1:2]
    if (
        told <= {1}
        and rate.luckless is None
        and said.text.has("prefer")
        and behind
        and not said.text.has("not")
    ):
        return rate.sign  # "Over her at jumping on the first pitch" says of what there is more.
    if told <= {1} and rate.luckless is True and rate.sign < 0 and not said.text.has("not"):
        said.marks.has("better", "best")
        return -1
    raise UnfitError("more or less of it: which is better?", *both(rate, 1), *both(rate, -1))
