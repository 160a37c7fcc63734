"""The questions nearest to a sentence that is not read: made of what was found in it, each slot on its own.

Offered only, never read. Those for whose kind a word of the sentence speaks come first, the rate against the
league last. Where no rate is found, the usual ones are offered if a kind is; where more or less is said of
something that is no rate, nothing is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import islice, product
from operator import itemgetter
from typing import Any

from hitlab.asking.numbers import ALWAYS
from hitlab.asking.people import Person
from hitlab.asking.phrases import CONTACT, HARD, HITS, SWINGS, WHIFFS, Rate
from hitlab.asking.risk import risky
from hitlab.asking.slots import Slots, hand_term, people_of
from hitlab.claims.question import Question
from hitlab.counting.events import fitting_denominators, rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.counting.situations import situation
from hitlab.errors import ClaimError

__all__ = ["ENOUGH", "TURNING", "Nearest", "may_turn", "understood"]

ENOUGH = 3
"""Choices; who has to read more of them says it in other words sooner."""
_LESS = {"who": 0.6, "rate": 0.7, "direction": 1.5}
"""By how much another one of them is less likely than the first, where 1 is another kind of question."""
_ANOTHER = frozenset(("next", "another", "again", "second"))
"""Of a miss: the pitch after it."""
TURNING = frozenset(
    (
        *("down", "cut", "half", "halved", "drop", "drops", "dropped", "disappear", "disappears"),
        *("vanish", "vanished", "stop", "stops", "stopped", "colder", "worse", "rarely", "seldom"),
        *("barely", "hardly", "without", "under", "below"),
    )
)
"""Words that may turn round how often something is done: with no more or less beside, nothing is offered."""
_HITS = re.compile(r" (?:a hit|base hits?|(?:<more>|<most>|fewer|of|in|for) hits) ")
_USUAL = (HARD, CONTACT, WHIFFS)
_RESPONSES = {"whiffs": "whiff", "hard": "hard", "swings": "swing", "takes": "take"}
_SLOTS = (
    ("who", ("who", "whose", "theleague")),
    ("rate", ("rate", "owns", "hitharder", "cannotlayoff", "per")),
    (
        "said of it",
        (
            *("more", "most", "better", "best", "leads", "nobody", "anybody", "anyone", "than", "league"),
            *(
                "hot",
                "steady",
                "slump",
                "top",
                "bottom",
                "place",
                "aftermiss",
                "learns",
                "otherwise",
                "usual",
            ),
            *("aheadof", "prefer", "spot", "not", "never"),
        ),
    ),
    ("situation", ("in", "hand", "gap", "tied", "lasthalf")),
    ("days", ("since", "until", "span", "before", "lately", "allyear")),
    ("number", ("above", "below", "near", "always")),
)
"""The slots, as they are called, and their marks."""


def may_turn(slots: Slots) -> bool:
    """Say whether a word that plays no part may turn round how often something is done."""
    return any(word.text in TURNING for word in slots.strange)


def understood(slots: Slots) -> tuple[str, ...]:
    """Return what was found in a sentence, slot by slot: who it is by their names, a rate by its words."""
    told = []
    for name, marks in _SLOTS:
        words = [word for word in slots.text.words if word.text[1:-1] in marks and word.text[0] == "<"]
        found = list(dict.fromkeys(_called(word, slots) for word in words))
        if found:
            told.append(f"{name}: {', '.join(found)}")
    return tuple(told)


def _called(word: Any, slots: Slots) -> str:
    if word.text == "<who>":
        return " or ".join(dict.fromkeys(person.label for person in word.value))
    if word.text == "<rate>":
        rate: Rate = word.value
        inside = f" {situation(*rate.when).words}" if rate.when else ""
        return f"{rate_words(rate.event, rate.per)}{inside}"
    if word.text == "<in>":
        return situation(*word.value).words
    return f"“{slots.text.typed(word).rstrip(' ,.;:!?')}”"


@dataclass(frozen=True, slots=True)
class _Way:
    """A kind of question for which something in a sentence speaks."""

    kind: str
    used: tuple[str, ...] = ()
    options: dict[str, Any] = field(default_factory=dict)


class Nearest:
    """The nearest questions to one sentence, most likely first."""

    def __init__(self, slots: Slots) -> None:
        self.slots, self.t = slots, slots.text
        self.terms: list[str] = []
        self.turned = False  # the situation is what it is compared with
        self.whos = self._named()
        subject = self.whos[0][0].subject if self.whos else (self.t.values("whose") or ["hitter"])[0]
        self.terms += self._terms(subject)
        self.since, self.until = self._days()
        self.used = {"who", "rate", "in", "hand", "per", "more", "most", "better", "best", "hitharder"}

    def questions(self, beside: list[Question] | None = None) -> list[Question]:
        """Return them, at most three; none where nothing of the sentence tells what they would be.

        Beside others that are offered already, only those of other kinds for which a word of it speaks.
        """
        if not self.whos and self.slots.bare:
            return []
        rates, ways = self._rates(), self._ways()
        if not ways or not self._tells(ways, rates):
            return []
        self.used |= set(ways[0].used)
        if beside is not None:
            kinds = {one.kind for one in beside}
            ways = [way for way in ways if way.kind not in kinds and self._spoken_for(way)]
        made = [(place + cost, one) for place, way in enumerate(ways) for cost, one in self._of(way, rates)]
        made = sorted((pair for pair in made if _clear(pair[1])), key=itemgetter(0))
        return list(islice(_different(one for _, one in made), ENOUGH))

    def dropped(self) -> list[str]:
        """Return what of the sentence plays no part in the first of them, as it was typed."""
        marks = [word for word in self.t.words if word.text.startswith("<")]
        left = [word for word in marks if word.text[1:-1] not in self.used]
        left += risky(self.t, self.slots.strange)
        return list(dict.fromkeys(self.t.typed(word) for word in sorted(left, key=lambda one: one.at)))

    # The slots.

    def _named(self) -> list[tuple[Person, ...]]:
        """Return of whom it may be said: one or two names, each with all those who are called so."""
        told = list(dict.fromkeys(self.t.values("who")))
        told = [value for value in told if any(one.subject != "club" for one in value)] or told
        order = ("pitcher", "hitter") if self.slots.pitching else ("hitter", "pitcher")
        if len(told) == 1:
            return [tuple(one for kind in (*order, "club") for one in people_of(told[0], kind))]
        for kind in (*order, "club"):
            alike = [people_of(value, kind) for value in told]
            if len(told) == 2 and all(alike):
                return alike
        hitters, pitchers = ([f for v in told if (f := people_of(v, kind))] for kind in ("hitter", "pitcher"))
        if len(told) == 2 and len(hitters) == 1 and len(pitchers[0]) == 1:
            self.terms.append(f"pitcher={pitchers[0][0].label}")
            return hitters
        return []

    def _terms(self, subject: str) -> list[str]:
        words = [word for word in self.t.words if word.text in ("<in>", "<hand>")]
        if self.t.has("than"):
            # What stands behind "than" is what it is compared with.
            place = self.t.places("than")[0]
            ahead = [word for word in self.t.words[:place] if word in words]
            self.turned = bool(words) and not ahead
            words = ahead or words
        terms: list[str] = []
        for word in words:
            told: tuple[str, ...] = word.value
            if word.text == "<hand>":
                told = (hand_term(word.value, subject),)
            if _fits((*terms, *told)):
                terms += [term for term in told if term not in terms]
        return terms

    def _days(self) -> tuple[str, str]:
        since, until, spans = (self.t.values(mark) for mark in ("since", "until", "span"))
        if spans and not since:
            first, last = spans[0]
            return first, last
        first, last = (since or [""])[0], (until or [""])[0]
        return first, last if last > first else ""

    def _rates(self) -> list[Rate]:
        found: list[Rate] = list(dict.fromkeys(one.done() for one in self.t.values("rate")))
        found += [HARD] if self.t.has("owns", "hitharder") and HARD not in found else []
        found += [SWINGS] if self.t.has("cannotlayoff") and not found else []
        found += [HITS] if not found and _HITS.search(self.t.line()) else []
        pers = list(dict.fromkeys(self.t.values("per")))
        told = []
        for rate in found:
            base = base_and_situation(rate.event)[0] if restricted(rate.event) else rate.event
            fitting = [
                per for per in pers if per != base and per in fitting_denominators(base, Conventions())
            ]
            either = [rate.either] if rate.either else []
            told += [replace(rate, per=per, either="") for per in fitting[:1] or [*either, rate.per]]
        return told

    def _tells(self, ways: list[_Way], rates: list[Rate]) -> bool:
        """Say whether there is enough to offer: a rate, or a kind that says good or bad of no other thing."""
        t = self.t
        if may_turn(self.slots) and not t.has("more", "most", "above", "below", "near"):
            return False
        if rates or ways[0].kind in ("response", "spot", "hot", "steady") or "value" in ways[0].used:
            return True
        return t.has("best", "better", "slump", "struggles", "nobetter", "prefer") and not t.has(
            "more", "most"
        )

    def _spoken_for(self, way: _Way) -> bool:
        """Say whether a word speaks for just this kind; that it is of the league does for several."""
        return self.t.has(*(mark for mark in way.used if mark not in ("theleague", "than")))

    # The kinds.

    def _ways(self) -> list[_Way]:
        """Return the kinds for which something speaks, the most telling first."""
        t = self.t
        found = [*self._of_one(), *self._of_numbers()]
        if len(self.whos) == 2:
            ahead = _Way("ahead", ("than", "aheadof", "prefer", "orwhom", "noother", "vs"))
            pitted = t.has("rate", "better", *ahead.used) and not t.has("anyone", "league", "nobody")
            return [*found, ahead] if pitted else []
        if not self.whos:
            return [*found, *self._of_nobody()]
        compared = t.has("more", "better", "hitharder")
        league = _Way("above", ("league", "rest", "theleague"), {"value": "league"})
        leads = _Way(
            "leads", ("leads", "nobody", "anybody", "anyone", "everyone", "theleague", "nobetter", "than")
        )
        split = _Way("split", ("than", "otherwise", "usual", "different"))
        changed = _Way("more", ("since", "until", "span", "before", "lately", "changed"))
        if t.has("league", "rest"):
            found.append(league)
        elif re.search(r" <than> (?:the )?<who> ", t.line()):
            found.append(leads)  # "You will not find one who misses less than her."
        if t.has("most", "best", "leads", "nobody", "anybody", "anyone", "everyone", "nobetter"):
            found.append(leads)
        if self.since:
            found.append(changed)
        if self.terms and (compared or t.has("otherwise", "usual", "different", "than")):
            found.append(split)
        found += [league, *([split] if self.terms else []), leads]
        return found

    def _of_one(self) -> Iterator[_Way]:
        t = self.t
        if len(self.whos) != 1 or self.whos[0][0].subject != "hitter":
            return
        again = {word.casefold() for word in t.said} & _ANOTHER and "whiffs" in {
            r.event for r in self._rates()
        }
        if t.has("aftermiss", "learns") or again:
            told = [_RESPONSES[one.event] for one in self._rates() if one.event in _RESPONSES]
            told = [one for one in told if one != "whiff"] or ["whiff"]
            told += ["swing"] if "take" in told else []
            for one in told:
                yield _Way(
                    "response",
                    ("aftermiss", "learns", "next", "rate"),
                    {"response": one} if one != "whiff" else {},
                )
        yield from self._spots()
        if t.has("hot"):
            yield _Way("hot", ("hot", "lately"))
        if t.has("steady"):
            yield _Way("steady", ("steady", "allyear"))

    def _spots(self) -> Iterator[_Way]:
        told = dict(term.split("=") for term in self.terms if term.startswith(("outs=", "bases=")))
        gaps = [-gap for gap in self.t.values("gap")] + ([0] if self.t.has("tied") else [])
        if len(told) == 2 and len(gaps) == 1 and told["outs"].isdigit():
            options = {"gap": gaps[0], "outs": int(told["outs"])}
            for on in told["bases"].split(",")[::-1]:
                yield _Way("spot", ("spot", "gap", "tied", "lasthalf"), {**options, "bases": on})

    def _of_numbers(self) -> Iterator[_Way]:
        t = self.t
        for mark in ("top", "bottom", "place"):
            for place in t.values(mark):
                yield _Way("top", (mark, "theleague", "everyone"), {"top": place})
        for mark in ("above", "below", "near"):
            for value, _ in dict.fromkeys(t.values(mark)):
                # "Two in five, or better": more than that.
                kind = "near" if mark == "near" and not t.has("more", "better") else "above"
                yield _Way(kind, (mark, "within", "than", "value"), {"value": value})
        if t.has("always"):
            yield _Way("above", ("always",), {"value": ALWAYS})

    def _of_nobody(self) -> Iterator[_Way]:
        """Return what can be asked where nobody is named: of the league, or who does it most."""
        t = self.t
        pairs = len({(one.event, one.per) for one in self._rates()}) == 2
        if pairs and (self.slots.many or t.has("also", "gotogether", "theleague", "whose")):
            yield _Way("together", ("also", "alot", "theleague", "whose"))
        if t.has("whose", "most", "best", "leads"):
            yield _Way("leads", ("leads", "whose", "theleague"))
        elif (t.has("theleague") or self.slots.all_hitters) and t.has("more"):
            yield from [_Way("more", ("since", "until", "span", "theleague"))] if self.since else []
            yield from [_Way("split", ("than", "theleague"))] if self.terms else []

    # Putting it together.

    def _signs(self, rate: Rate, subject: str) -> list[int]:
        """Return the directions that may be meant, the one that is said first."""
        t = self.t
        signs = list(
            dict.fromkeys([*t.values("more"), *t.values("most"), *([1] if t.has("hitharder") else [])])
        )
        judged = {*t.values("better"), *t.values("best"), *([1] if t.has("nobetter", "prefer") else [])}
        good = (-1 if rate.luckless else 1) * (-1 if subject == "pitcher" else 1)
        bad = t.has("slump", "struggles")
        denied = t.has("not", "never", "tough") or may_turn(self.slots)
        if not signs:
            signs = [good * one for one in judged] or [-good if bad else -1 if denied else 1]
            denied |= rate.luckless is None and bool(judged or bad)
        turned = [-one for one in signs] if denied else []
        flip = -1 if t.has("bottom") or -1 in t.values("aheadof") else 1
        return list(dict.fromkeys(one * flip * rate.sign for one in (*signs, *turned)))

    def _of(self, way: _Way, rates: list[Rate]) -> Iterator[tuple[float, Question]]:
        """Return what a kind asks, each with what it is less likely by than the first, in kinds."""
        if way.kind in ("response", "spot"):
            for place, one in enumerate(people_of(self.whos[0], "hitter")):
                yield _LESS["who"] * place, Question(kind=way.kind, who=one.label, options=way.options)
        elif way.kind == "together":
            first, second = (_rate_of(rate) for rate in rates[:2])
            yield 0, Question(kind="together", options={"first": first, "second": second})
        else:
            people: tuple[Person | None, ...] = self.whos[0] if self.whos else (None,)
            for (n, rate), (k, person) in product(enumerate(rates or _USUAL), enumerate(people)):
                for cost, question in self._about(way, rate, person):
                    yield cost + _LESS["rate"] * n + _LESS["who"] * k, question

    def _about(self, way: _Way, rate: Rate, person: Person | None) -> Iterator[tuple[float, Question]]:
        subject = "league" if person is None else person.subject
        if person is None and way.kind in ("leads", "top"):
            subject = (self.t.values("whose") or ["hitter"])[0]
        if way.kind in ("hot", "steady") and subject != "hitter":
            return
        told: dict[str, Any] = {"kind": way.kind, "subject": subject, "options": way.options}
        told |= {"who": "" if person is None else person.label, "event": rate.event, "per": rate.per}
        told["when"] = tuple(dict.fromkeys((*self.terms, *rate.when)))
        if way.kind == "split" and set(self.terms) <= set(rate.when):
            return  # Chasing outside the zone more than elsewhere.
        if way.kind == "split" and rate.when:
            inside = " ".join(("", *rate.when))
            told |= {
                "event": f"{rate.event}{inside}",
                "per": f"{rate.per}{inside}",
                "when": tuple(self.terms),
            }
        if way.kind not in ("hot", "steady"):
            told |= {"since": self.since, "until": self.until}
        others = people_of(self.whos[1], subject) if way.kind == "ahead" else (None,)
        number = way.kind == "near" or (way.kind == "above" and way.options.get("value") != "league")
        signs = [1] if way.kind in ("hot", "steady", "near") else self._signs(rate, subject)
        if way.kind == "split" and self.turned:
            signs = [-one for one in signs]
        if number:
            signs = [-1 if self.t.has("below") else 1]
        for (n, other), (k, sign) in product(enumerate(others), enumerate(signs)):
            if other is not None:
                told["options"] = {"other": other.label}
            cost = _LESS["who"] * n + _LESS["direction"] * k
            yield cost, Question(**told, direction="less" if sign < 0 else "more")


def _rate_of(rate: Rate) -> dict[str, Any]:
    return {"event": rate.event, "per": rate.per, **({"when": [*rate.when]} if rate.when else {})}


def _fits(terms: tuple[str, ...]) -> bool:
    try:
        situation(*terms)
    except ClaimError:
        return False
    return True


def _clear(question: Question) -> bool:
    """Say whether the situations of a question go together."""
    return not question.when or _fits(question.when)


def _different(questions: Iterator[Question]) -> Iterator[Question]:
    seen = set()
    for one in questions:
        if repr(one) not in seen:
            seen.add(repr(one))
            yield one
