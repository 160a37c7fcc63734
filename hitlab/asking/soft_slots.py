"""The slots of a sentence, found softly: who, what rate, of what, where, since when, how many."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise
from operator import itemgetter
from typing import Any

from hitlab.asking.numbers import FORTNIGHT
from hitlab.asking.people import Known, Person
from hitlab.asking.phrases_rates import HARD, HITS, HOMERS, IN_PLAY, SWINGS, Rate
from hitlab.asking.sides import HIM
from hitlab.asking.slots import going_together, hand_term, of_bases, people_of
from hitlab.asking.soft_marks import marked
from hitlab.asking.soft_rates import UNNAMED
from hitlab.asking.text import Word
from hitlab.counting.events import fitting_denominators
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.errors import ClaimError

__all__ = ["SoftSlots", "base_of", "terms_fit"]

_NOUNS = {"club": {"club", "clubs", "team", "teams"}, "pitcher": {"pitchers", "arms"}}
_BEST_PITCHER = re.compile(
    r"\b(?:best|worst|toughest|nastiest|finest|top|which|what) (?:\w+ )?(?:pitcher|arm|hurler)\b",
    re.IGNORECASE,
)
_MISSES_BATS = re.compile(r"\bmiss(?:es|ed|ing)? (?:\w+ ){0,3}bats\b")
_FACING = re.compile(r"\b(?:against|off|facing|from)(?: (?:the|our|my|those))?$")
_OTHER_SIDE = {"ahead in the count": "behind in the count", "half=bottom": "half=top"}
_OTHER_SIDE |= {theirs: ours for ours, theirs in _OTHER_SIDE.items()}
"""What is a hitter's is not the pitcher's: who is ahead, and who is at home."""
_OF_RESULTS = ("plate_appearances", "at_bats")
"""What results are shares of, where they are of nothing that is named: home runs of balls in play."""
_LESS_PER = 0.9
_LESS_RATE = 0.6
"""By how much a rate is less likely than the one before it, and one of another denominator than is told."""


_NO_ONE = r"(?:(?!<(?:who|than|whose|deny)>)[^ ]* )*"
_OTHERS_DO = re.compile(
    r"(?P<before>(?: <who> [,.:?!](?= ))?(?:(?!<who>|<than>)[^ ]* )*?)(?:(?P<all>others|teammates|peers|"
    r"rivals|rest|everyone|everybody|other <who>|<(?:league|group|anyone)>)(?: else)? (?:(?:on|of|for|from) "
    rf"(?:[a-z]+ )?(?:<who>|<group>) )?(?:<whose> )?|there are ){_NO_ONE}<(?:more|better)> {_NO_ONE}"
    rf"<than> {HIM}"
)
"""Somebody is named behind "than" alone, and a group does it: "others whiff more than her"."""
_ALL_BUT = re.compile(
    r" (?P<before>)(?P<all><(?:anyone|group)>) (?:but|except|besides|other <than>|apart from) (?:for )?<who> "
    r".*<(?:more|better)> "
)
_OF_BOTH = re.compile(r" (?:<deny> <who> nor|both <who> and) <who> ")
_OTHER_FIRST = re.compile(
    r" (?:(?!<who>)[^ ]+ )*(?:<than> (?:the )?<who> (?!<or>|or |and ).*<who> |"
    r"(?<!<deny> )(?!.*<than>)<who> (?:[^ ]+ )*but <who> (?:[^ ]+ )*<(?:more|better)> |"
    r"(?P<denied><deny>) <who> (?:but|<whose> (?:(?!<than>)[^ ]+ )*it is) <who> )"
)
"""Who stands behind "than" or a denial, before the one of whom it is said: "not she but he walks more"."""
_THEN = r"(?:(?!<than>|but |<lately>)[^ ]+ )*"
_USED_TO = re.compile(rf" {_THEN}<before> {_THEN}<(?:more|better)> ")
_FEW_OF_THEM = re.compile(
    r" (?:<(?:deny|nobody|onlyn|top|whose|any)>|few|fewer|hand|handful|(?:is|are) there|only|just) "
)
_OPEN = re.compile(
    r" (?:<(?:deny|nobody|whose)>|does|do|did|if|whether|doubt|there|show|name|find|ever|has|have|is) "
)
"""With one of these, "anybody" asks or denies; without, it is all of them."""


class SoftSlots:
    """The slots of one sentence, each found on its own, wherever its words stand."""

    def __init__(self, sentence: str, known: Known) -> None:
        self.known = known
        self.t = marked(sentence, known)
        self.whos, self.club, self.pitcher = self._named()
        if len(self.whos) == 2 and _OF_BOTH.search(self.t.line()):
            self.whos = [(*self.whos[0], *self.whos[1])]  # of each of them
        first = _OTHER_FIRST.match(self.t.line()) if len(self.whos) == 2 else None
        self.not_he = first is not None and first["denied"] is not None
        if first is not None:
            self.whos.reverse()
        self.subject = self._subject()
        self.rates = self._rates()
        self.since, self.until = self._days()
        self.turned = False  # the situation is what it is compared with
        self.terms = self._terms()
        if self.t.has("ownclub") and len(self.whos) == 1 and len(self.whos[0]) == 1:
            self.club = self.club or self.whos[0][0].club

    @property
    def others_do(self) -> Word | None:
        """What tells more or less, where it is others who are said to do so than the one who is named."""
        line = self.t.line()
        told = _OTHERS_DO.match(line) or _ALL_BUT.match(line)
        if told is None or len(self.whos) != 1:
            return None
        asked = told["all"] == "<anyone>" and (" ? " in line or _OPEN.search(told["before"]))
        if asked or _FEW_OF_THEM.search(told["before"]):
            return None
        degrees = [word for word in self.t.words if word.text in ("<more>", "<better>")]
        than = self.t.places("than")
        before = [word for word in degrees if word in self.t.words[: than[0]]] if than else []
        return before[-1] if before else degrees[0]

    @property
    def used_to(self) -> bool:
        """Whether it is what once was that is told, and nothing that is so now: "she used to chase less"."""
        line = self.t.line()
        once = [self.t.typed(word).casefold() != "before" for word in self.t.words if word.text == "<before>"]
        compared = self.t.has("league", "anyone", "nobody", "since", "until", "span")
        return once == [True] and not compared and _USED_TO.match(line) is not None

    @property
    def lately(self) -> str:
        """The first day of the last fortnight of the table; empty where no day is told."""
        return "" if self.known.days is None else f"{self.known.days[1] - FORTNIGHT:%Y-%m-%d}"

    # The slots.

    def _named(self) -> tuple[list[tuple[Person, ...]], str, str]:
        """Return of whom it may be said, within which club, and against which pitcher."""
        told = list(dict.fromkeys(self.t.values("who")))
        clubs = [one.label for value in told for one in value if one.subject == "club"]
        people = [value for value in told if any(one.subject != "club" for one in value)]
        pitching = self.t.has("pitching") or "pitcher" in self.t.values("whose")
        pitching = pitching or bool(_MISSES_BATS.search(" ".join(self.t.said).casefold()))
        order = ("pitcher", "hitter") if pitching or self._own_pitch() else ("hitter", "pitcher")
        if len(people) > 1:
            for kind in order:
                alike = [found for value in people if (found := people_of(value, kind))]
                if len(alike) == len(people):
                    return alike[:2], "", ""
            hitters = [found for value in people if (found := people_of(value, "hitter"))]
            pitchers = [value for value in people if not people_of(value, "hitter")]
            return hitters[:2], "", pitchers[0][0].label if pitchers else ""
        if people:
            ordered = tuple(one for kind in order for one in people_of(people[0], kind))
            own = tuple(one for one in ordered if one.club in clubs)
            within = bool(own) and not re.search(r" <who> (?:of|from|on) (?:the )?<who> ", self.t.line())
            return [own or ordered], clubs[0] if within else "", ""
        if len(clubs) > 1:
            return [people_of(value, "club") for value in told][:2], "", ""
        among = clubs and (
            self.t.has("whose", "top", "bottom", "most", "best", "ownclub", "anyone", "nobody")
            and re.search(
                r" (?:on|of|for|among|from|in|wears?|which|what|<leads>|<top>|<bottom>) (?:the |a |our |"
                r"my |all )*<who> ",
                self.t.line(),
            )
        )
        if (among or (clubs and self.t.has("spot"))) and not {"club"} & set(self.t.values("whose")):
            return [], clubs[0], ""
        return ([people_of(told[0], "club")] if clubs else []), "", ""

    def _own_pitch(self) -> bool:
        """Say whether a kind of pitch is somebody's own: ``her slider``."""
        words = self.t.words
        return any(
            first.text == "<who>"
            and second.text == "<in>"
            and second.value[0].startswith("pitch_kind")
            and re.search(r"['’`]s?$", self.t.said[first.places[-1]])
            for first, second in pairwise(words)
        )

    def _faced(self) -> list[Word]:
        """Return the clubs that somebody is said to face: no table says against whom a pitch was seen."""
        words = self.t.words
        return [
            word
            for place, word in enumerate(words)
            if word.text == "<who>"
            and all(one.subject == "club" for one in word.value)
            and _FACING.search(" ".join(one.text for one in words[max(place - 2, 0) : place]))
        ]

    def _of_its_pitchers(self) -> bool:
        """Say whether it is the pitchers of a club of whom something is said."""
        return any(
            first.text in ("<who>", "<whose>") and (second.text == "<pitching>" or second.value == "pitcher")
            for first, second in pairwise(self.t.words)
        )

    def _subject(self) -> str:
        if self.whos:
            return self.whos[0][0].subject
        told = [*self.t.values("whose"), *(one for one in self.t.values("group") if one)]
        said = {word.casefold() for word in self.t.said}
        if set(told) <= {"hitter"}:
            told = [kind for kind, nouns in _NOUNS.items() if said & nouns] or told
        if set(told) <= {"hitter"} and self.t.has("pitching") and not self.t.has("hand"):
            told = ["pitcher"]
        if _BEST_PITCHER.search(" ".join(self.t.said)):
            told = ["pitcher"]
        return str((told or ["hitter"])[0])

    def _rates(self) -> list[tuple[float, Rate]]:
        """Return what may be done so often, each with what it is less likely by than the first."""
        pers = list(dict.fromkeys(self.t.values("per")))
        told: list[tuple[Rate, ...]] = list(dict.fromkeys(self.t.values("rate")))
        # "Misses on one swing in four": swings are what it is divided by.
        if len(told) > 1 and (SWINGS,) in told and not self.t.has("together"):
            told.remove((SWINGS,))
            pers.append("swings")
        if len(told) > 1 and (HITS, HARD) in told:
            told.remove((HITS, HARD))
        if len(told) > 1 and (IN_PLAY,) in told and any(rates[0] in (HARD, HITS, HOMERS) for rates in told):
            told.remove((IN_PLAY,))
            pers.append("in_play")
        if len(told) > 1 and "contact" in pers:
            told = [rates for rates in told if rates[0].event != "contact"] or told
        if not told and "in_play" in pers:
            told = [(IN_PLAY,)]
        if not told and "swings" in pers:
            told = [(SWINGS,)]
        found: list[tuple[float, Rate]] = []
        for n, rates in enumerate(told or [UNNAMED]):
            for k, rate in enumerate(rates):
                cost = _LESS_RATE * (n + k)
                base = base_of(rate)
                fits = [
                    per for per in pers if per != base and per in fitting_denominators(base, Conventions())
                ]
                fits = [per for per in fits if per != rate.per]
                if pers and not fits and rate.per not in pers and base not in pers:
                    others = [per for per in fitting_denominators(base, Conventions()) if per in _OF_RESULTS]
                    found += [(cost + _LESS_PER, replace(rate, per=per)) for per in others if per != rate.per]
                    cost += _LESS_PER - 0.2  # It has no share of what is named.
                usual = [(cost, rate)] if not fits or (rate.per in pers) else []
                found += usual
                found += [(cost + 0.1 * i, replace(rate, per=per)) for i, per in enumerate(fits)]
                if fits and not usual:
                    found.append((cost + _LESS_PER, rate))
                elif rate.event == "hard" and told and "swings" not in pers:
                    found.append((cost + _LESS_PER + 0.4, replace(rate, per="in_play")))
        best: dict[Rate, float] = {}
        for cost, rate in found:
            best.setdefault(rate, cost)
        return sorted(((cost, rate) for rate, cost in best.items()), key=itemgetter(0))

    def _terms(self) -> list[str]:
        terms: list[str] = []
        words = [word for word in self.t.words if word.text in ("<in>", "<hand>")]
        if self.t.has("than"):
            place = self.t.places("than")[0]
            ahead = [word for word in self.t.words[:place] if word in words]
            self.turned = bool(words) and not ahead
            words = ahead or words
        for word in words:
            told = (hand_term(word.value, self.subject),) if word.text == "<hand>" else word.value
            told = tuple(_count_of(term, self.subject) for term in told)
            if (told[0] == "runners on" or told[0].startswith("bases=")) and any(map(of_bases, terms)):
                continue
            if told == ("runner on second or third",):
                terms = [term for term in terms if not of_bases(term)]
            if terms_fit((*terms, *told)):
                terms += [term for term in told if term not in terms]
        return terms

    def _days(self) -> tuple[str, str]:
        since, until, spans = (self.t.values(mark) for mark in ("since", "until", "span"))
        if spans and not since:
            first, last = spans[0]
            if len(spans) == 1 and re.search(r" <(?:than|before)> (?:[^ ,.;<]+ ){0,3}<span> ", self.t.line()):
                return f"{datetime.fromisoformat(last) + timedelta(days=1):%Y-%m-%d}", ""
            return first, last
        first, last = (since or [""])[0], (until or [""])[0]
        return first, last if last > first else ""

    def number(self) -> tuple[str, float, str] | None:
        """Return a value with the kind of question that its words ask, and the next likely."""
        for mark in ("above", "below", "near"):
            for value, _ in self.t.values(mark):
                other = {"above": "near", "below": "near", "near": "above"}[mark]
                return ("above" if mark != "near" else "near"), value, other
        return None

    def places(self) -> list[tuple[int, bool]]:
        """Return of how many one may be among, each with whether it is the lowest of them."""
        told = [
            (n, turned)
            for mark, turned in (("top", False), ("bottom", True))
            for n in self.t.values(mark)
            if n
        ]
        told += [(n, False) for n in self.t.values("place")]
        return told + [(n + k, False) for n in self.t.values("onlyn") if self.whos for k in (1, 0)]

    def pair(self, *, both: bool = False) -> list[dict[str, Any]]:
        """Return the first two rates, each with the situation and the denominator that follow it.

        What is told before the first rate is of that one, or of both: with runners on, they go together.
        """
        found: list[tuple[Rate, list[str]]] = []
        before: list[str] = []
        ahead: list[str] = []
        for word in self.t.words:
            if word.text == "<rate>" and word.value[0].event not in [rate.event for rate, _ in found]:
                found.append((word.value[0], before))
                before = []
            elif word.text in ("<in>", "<hand>"):
                told = word.value if word.text == "<in>" else (hand_term(word.value, "hitter"),)
                (found[-1][1] if found else before).extend(told)
                ahead += [] if found else told
            elif word.text == "<per>" and found:
                rate, terms = found[-1]
                if word.value != rate.event and word.value in fitting_denominators(
                    base_of(rate), Conventions()
                ):
                    found[-1] = replace(rate, per=word.value), terms
        if len(found) > 2 and found[0][0].event == "hits":
            found = found[1:]
        if both:
            found = [(rate, list(dict.fromkeys((*ahead, *terms)))) for rate, terms in found]
        return [_told(replace(rate, when=(*terms, *rate.when))) for rate, terms in found[:2]]


def _count_of(term: str, subject: str) -> str:
    return _OTHER_SIDE.get(term, term) if subject == "pitcher" else term


def base_of(rate: Rate) -> str:
    """Return what is counted of a rate, without the situation that may be a part of it."""
    return base_and_situation(rate.event)[0] if restricted(rate.event) else rate.event


def _told(rate: Rate) -> dict[str, Any]:
    return {"event": rate.event, "per": rate.per, **({"when": [*rate.when]} if rate.when else {})}


def terms_fit(terms: tuple[str, ...]) -> bool:
    """Say whether situations go together."""
    try:
        going_together(*terms)
    except ClaimError:
        return False
    return True
