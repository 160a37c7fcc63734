"""The questions nearest to a sentence: made of slots that are found softly, each on its own, and scored.

Who, what rate, of what, where, since when, how many, compared with whom, and whether more or less: each is
looked for by the words of the trade wherever they stand (``soft_rates``, ``soft_cues``), and each kind of
question is scored by what speaks for it. The best are offered, never read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from itertools import islice, pairwise, product
from operator import itemgetter
from typing import Any

from hitlab.asking.people import Known, Person
from hitlab.asking.phrases import FILLERS
from hitlab.asking.phrases_rates import HARD, HITS, HOMERS, IN_PLAY, SWINGS, Rate
from hitlab.asking.risk import IDLE_IN_TALK, TURNING
from hitlab.asking.slots import going_together, hand_term, of_bases, people_of
from hitlab.asking.soft_marks import marked
from hitlab.asking.soft_rates import UNNAMED
from hitlab.asking.text import Word
from hitlab.claims.question import Question
from hitlab.claims.response_claim import USUAL
from hitlab.counting.events import fitting_denominators, rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.errors import ClaimError

__all__ = ["ENOUGH", "Soft", "differing"]

ENOUGH = 3
"""Choices; who has to read more of them says it in other words sooner."""
_LESS = {"who": 0.5, "rate": 0.6, "per": 0.9, "direction": 1.1}
_RESPONSES = {"whiffs": "whiff", "hard": "hard", "swings": "swing", "takes": "take"}
_NOUNS = {"club": {"club", "clubs", "team", "teams"}, "pitcher": {"pitchers", "arms"}}
_IDLE = FILLERS | IDLE_IN_TALK
_AND_SO = re.compile(
    r" (?:also|same|too|<gotogether>|(?:<group>|ones|guys|hitters|those) <whose> .* (?:also|are) )"
)
_BEST_PITCHER = re.compile(
    r"\b(?:best|worst|toughest|nastiest|finest|top|which|what) (?:\w+ )?(?:pitcher|arm|hurler)\b",
    re.IGNORECASE,
)
_MISSES_BATS = re.compile(r"\bmiss(?:es|ed|ing)? (?:\w+ ){0,3}bats\b")
_FACING = re.compile(r"\b(?:against|off|facing|from)(?: (?:the|our|my|those))?$")
_ONLY_OF = {
    "<gap>": {"spot"},
    "<spot>": {"spot"},
    "<different>": {"more", "split"},
    "<before>": {"more"},
    "<after>": {"response"},
    "<lately>": {"hot", "more"},
}
"""Marks that speak for some kinds of question, and play no part in any other."""
_OF_THEM = re.compile(
    r" (?:<hand>|<group>|hitters|batters) (?:[^ ,.;]+ ){0,4}?<(?:better|good|best)> (?:[^ ,.;]+ ){0,3}?"
    r"(?:against|off) <who> "
)
"""Of a pitcher: it is the hitters who are said to do better."""
_DONE_TO = re.compile(
    r"(?:^ |[,.;:] )(?:the |a )?<(?:in|hand)> (?:[^ ,.;:<]+ ){0,2}<(?:good|"
    r"rate)> (?:[^ ,.;:<]+ ){0,2}<who> "
)
"""A pitch or a hand is said to do it to somebody: "sliders own her"."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A kind of question, how much speaks for it, and what it alone is asked by."""

    score: float
    kind: str
    options: dict[str, Any] = field(default_factory=dict)


class Soft:
    """What one sentence may ask."""

    def __init__(self, sentence: str, known: Known) -> None:
        self.known = known
        self.t = marked(sentence, known)
        self.whos, self.club, self.pitcher = self._named()
        self.subject = self._subject()
        self.rates = self._rates()
        self.since, self.until = self._days()
        self.turned = False  # the situation is what it is compared with
        self.terms = self._terms()
        if self.t.has("ownclub") and len(self.whos) == 1 and len(self.whos[0]) == 1:
            self.club = self.club or self.whos[0][0].club

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
        if among and not {"club"} & set(self.t.values("whose")):
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
        if told in ([], ["hitter"]):
            told = [kind for kind, nouns in _NOUNS.items() if said & nouns] or told
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
                cost = _LESS["rate"] * (n + k)
                base = _base(rate)
                fits = [
                    per for per in pers if per != base and per in fitting_denominators(base, Conventions())
                ]
                fits = [per for per in fits if per != rate.per]
                if pers and not fits and rate.per not in pers and base not in pers:
                    cost += _LESS["per"] - 0.2  # It has no share of what is named.
                usual = [(cost, rate)] if not fits or (rate.per in pers) else []
                found += usual
                found += [(cost + 0.1 * i, replace(rate, per=per)) for i, per in enumerate(fits)]
                if fits and not usual:
                    found.append((cost + _LESS["per"], rate))
                elif rate.event == "hard" and told and "swings" not in pers:
                    found.append((cost + _LESS["per"] + 0.4, replace(rate, per="in_play")))
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
            if _fits((*terms, *told)):
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

    # The kinds.

    def questions(self) -> list[Question]:
        """Return the best of what it may ask, the likeliest first; none where nothing tells."""
        if not self._tells():
            return []
        made = [
            (way.score - cost, question)
            for way in self._ways()
            for cost, question in self._of(way)
            if way.score - cost > 0
        ]
        made.sort(key=lambda pair: -pair[0])
        return list(islice(_different(one for _, one in made if _clear(one)), ENOUGH))

    def _tells(self) -> bool:
        """Say whether enough is told: of whom, and a rate or what settles a kind without one."""
        t = self.t
        if self.subject == "club" and (self._faced() or self._of_its_pitchers()):
            return False  # The rates of a club are those of its hitters.
        if not (
            self.whos
            or self.club
            or t.has("whose", "group", "nobody", "top", "bottom", "spot")
            or (t.has("best", "most") and bool(self.terms))
            or len(self._pair()) == 2
        ):
            return False
        compared = (
            "more",
            "most",
            "above",
            "below",
            "near",
            "top",
            "nobody",
            "anyone",
            "league",
            "otherwise",
        )
        if not t.has(*compared) and any(word.text in TURNING for word in t.words):
            return False
        if self.whos and t.has("top", "bottom", "leads") and (self.terms or t.has("top", "bottom")):
            return True
        if self._spots():
            return True
        return t.has(
            "rate",
            "hot",
            "cold",
            "steady",
            "spot",
            "above",
            "below",
            "near",
            "better",
            "best",
            "good",
            "after",
            "different",
            "per",
        ) or bool(t.has("more", "most") and self.since)

    def left_of(self, questions: list[Question]) -> list[str]:
        """Return the words, as they were typed, that may carry meaning and that no question says."""
        kinds = {one.kind for one in questions}
        pers = {one.per for one in questions}
        words = [
            word
            for word in self.t.words
            if (word.text.isalnum() and word.text not in _IDLE)
            or (word.text in _ONLY_OF and not kinds & _ONLY_OF[word.text])
            or (word.text == "<per>" and word.value not in pers and not kinds & {"together"})
        ]
        words += self._faced()
        return list(dict.fromkeys(self.t.typed(word) for word in words))

    @property
    def rates_named(self) -> tuple[str, ...]:
        """What is counted of the rates that are named; empty where none is."""
        return tuple(rate.event for _, rate in self.rates) if self.t.has("rate") else ()

    @property
    def plain(self) -> bool:
        """Whether a rate of the trade is named, and something is said of it besides."""
        t = self.t
        named = any(rates != (HITS, HARD) for rates in t.values("rate")) or t.has("hot", "steady")
        compared = t.has(
            *(
                "more",
                "most",
                "nobody",
                "anyone",
                "league",
                "above",
                "below",
                "near",
                "otherwise",
                "top",
                "bottom",
            ),
            *("hot", "steady", "leads", "best", "better", "after", "next"),
        )
        if t.has("gotogether") and len(self._pair()) == 2:
            return True
        listed = bool(self.whos and self.terms) and t.has("top", "bottom", "place")
        return (named and bool(compared or self.terms or self.since)) or listed or len(self._spots()) > 0

    def _ways(self) -> list[_Way]:
        t, ways = self.t, []
        said = t.has("more", "better")
        one, two = len(self.whos) == 1, len(self.whos) == 2
        hitter = (one or (not self.whos and t.has("group"))) and self.subject == "hitter"
        # What follows a miss.
        again = t.has("next") and any(rate.event == "whiffs" for _, rate in self.rates)
        if hitter and (t.has("after", "learns") or again):
            ways += [_Way(5 - cost, "response", options) for cost, options in self._responses()]
        ways += self._spots()
        number = self._number()
        if number is not None:
            kind, value, other = number
            ways += [_Way(4.2, kind, {"value": value}), _Way(3.1, other, {"value": value})]
        for place, turned in self._places():
            ways.append(_Way(4.5, "top", {"top": place, "turned": turned}))
        if two and self.subject == self.whos[1][0].subject:
            ways.append(_Way(4.4 if t.has("than", "or", "more", "better", "most", "best") else 3.6, "ahead"))
        if not self.whos and not self.club and len({r["event"] for r in self._pair()}) == 2:
            ways.append(
                _Way(
                    3.9
                    + t.has("gotogether")
                    + 0.8 * bool(_AND_SO.search(t.line()))
                    - 1.5 * t.has("most", "best", "nobody", "top"),
                    "together",
                )
            )
        if t.has("hot") and one:
            ways.append(_Way(4.4 - 1.9 * bool(self.until) - 0.9 * bool(self.since), "hot"))
        elif t.has("lately", "stretch") and one and not self.since:
            ways.append(_Way(2.3 + 0.8 * said, "hot"))
        if t.has("steady") and one:
            ways.append(_Way(4.3, "steady"))
        elif t.has("allyear") and one and not said:
            ways.append(_Way(2.4, "steady"))
        if self.since or self.until:
            strong = said or t.has("before", "different", "cold", "hot")
            ways.append(_Way(4.2 if strong and not t.has("nobody", "anyone", "league") else 2.6, "more", {}))
        if self.terms and not two:
            likely = 2.1 + 1.9 * t.has("otherwise") + 1.0 * said + 0.6 * t.has("different", "than")
            likely -= 1.6 * t.has("nobody", "anyone", "league", "leads", "most")
            likely -= 1.5 * (
                {"outside the zone", "in the zone"} >= set(self.terms) and not t.has("otherwise")
            )
            ways.append(_Way(likely, "split"))
        if self.whos and not two and (t.has("league") or " <more> <group> " in t.line()):
            ways.append(_Way(3.8, "above", {"value": "league"}))
        leading = t.has("nobody", "leads") * 1.6 + t.has("anyone") * 1.3 + t.has("most", "best") * 1.4
        leading += 0.5 * t.has("whose") - 1.3 * two
        if one and re.search(r" <than> (?:the |a )?<who> ", t.line()):
            leading += 1.8  # "You will not find one who misses less than her."
        ways.append(_Way(min(1.5 + leading, 4.2), "leads"))
        if self.whos:
            ways.append(_Way(2.2 + 0.2 * t.has("good", "lot", "deny"), "above", {"value": "league"}))
        if t.has("best", "most", "leads") and not self._places() and not two:
            ways.append(_Way(1.9, "top", {"top": 10, "turned": False}))
        return ways

    def _number(self) -> tuple[str, float, str] | None:
        """Return a value with the kind of question that its words ask, and the next likely."""
        for mark in ("above", "below", "near"):
            for value, _ in self.t.values(mark):
                other = {"above": "near", "below": "near", "near": "above"}[mark]
                return ("above" if mark != "near" else "near"), value, other
        return None

    def _places(self) -> list[tuple[int, bool]]:
        told = [
            (n, turned)
            for mark, turned in (("top", False), ("bottom", True))
            for n in self.t.values(mark)
            if n
        ]
        told += [(n, False) for n in self.t.values("place")]
        return told + [(n + k, False) for n in self.t.values("onlyn") if self.whos for k in (1, 0)]

    def _pair(self) -> list[dict[str, Any]]:
        """Return the first two rates, each with the situation and the denominator that follow it."""
        found: list[tuple[Rate, list[str]]] = []
        before: list[str] = []
        for word in self.t.words:
            if word.text == "<rate>" and word.value[0].event not in [rate.event for rate, _ in found]:
                found.append((word.value[0], before))
                before = []
            elif word.text in ("<in>", "<hand>"):
                told = word.value if word.text == "<in>" else (hand_term(word.value, "hitter"),)
                (found[-1][1] if found else before).extend(told)
            elif word.text == "<per>" and found:
                rate, terms = found[-1]
                if word.value != rate.event and word.value in fitting_denominators(
                    _base(rate), Conventions()
                ):
                    found[-1] = replace(rate, per=word.value), terms
        if len(found) > 2 and found[0][0].event == "hits":
            found = found[1:]
        return [_told(replace(rate, when=(*terms, *rate.when))) for rate, terms in found[:2]]

    def _responses(self) -> Iterator[tuple[float, dict[str, Any]]]:
        """Return what may follow a miss, with whether more or less of it is said where that is not usual."""
        told = [
            _RESPONSES[rate.event]
            for _, rate in self.rates
            if rate.event in _RESPONSES and self.t.has("rate")
        ]
        told = list(dict.fromkeys(told)) or ["whiff"]
        if "whiff" not in told or (len(told) > 1 and not self.t.has("after")):
            told = [*(one for one in told if one != "whiff"), "whiff"]
        more = self.t.values("more") or ([-1] if self.t.has("deny", "learns") else [])
        for n, response in enumerate(told):
            usual = -1 if response in ("whiff", "swing") else 1
            signs = list(
                dict.fromkeys([*(more or [usual if self.t.has("learns", "deny") else 1]), usual, -usual])
            )
            for k, sign in enumerate(signs):
                options: dict[str, Any] = {} if response == "whiff" else {"response": response}
                if sign != usual:
                    options["direction"] = "more" if sign > 0 else "less"
                yield 0.5 * n + 0.8 * k, options

    def _spots(self) -> list[_Way]:
        told = dict(term.split("=") for term in self.terms if term.startswith(("outs=", "bases=")))
        if "runners on" in self.terms:
            told["bases"] = "full"  # of all that it may be the most
        gaps = self.t.values("gap")
        asked = self.t.has("spot") * 1.6 + self.t.has("ninth") * 0.8 + bool(gaps) + (len(told) == 2) * 1.4
        if asked < 2.5 or not (self.t.has("spot") or gaps):
            return []
        options = {
            "gap": gaps[0] if gaps else 0,
            "outs": int(told.get("outs", "0").split(",")[0]),
            "bases": told.get("bases", "empty"),
        }
        return [_Way(2.4 + asked, "spot", options)]

    # Putting it together.

    def _signs(self, rate: Rate, kind: str) -> list[int]:
        """Return the directions that may be meant, the likeliest first."""
        t = self.t
        good = (-1 if rate.luckless else 1) * (
            -1 if self.subject == "pitcher" and not _OF_THEM.search(t.line()) else 1
        )
        marks = (
            ("most", "more", "best", "better", "good")
            if kind in ("leads", "top")
            else ("more", "most", "better", "best", "good")
        )
        for mark in marks:
            said = t.values(mark)
            if said and mark in ("more", "most"):
                sign = said[0]
                break
            if said:
                sign = good * said[0]
                break
        else:
            sign = (
                -1
                if re.search(r" <deny> (?:[^ ,.]+ ){0,4}<rate> ", t.line()) and not t.has("nobody", "anyone")
                else 1
            )
            if t.has("cold"):
                sign = -good
            elif t.has("top") and rate.luckless and not t.has("rate"):
                sign = good
            if kind == "more" and sign < 0 and t.has("before"):
                return [sign]  # "Hardly misses, before that she missed plenty."
            if kind == "top" and t.has("top") and self.subject == "hitter" and rate.luckless is False:
                return [sign]  # who is among the top of it has much of it
            return [sign, -sign]
        if re.search(rf" <deny> (?:[^ <,]+ ){{0,2}}<{mark}> ", t.line()):
            sign = -sign
        if self.turned and kind == "split":
            sign = -sign
        if mark == "good" and _DONE_TO.search(t.line()):
            sign = -sign
        if mark in ("more", "most") and not self.turned and not t.has("deny"):
            return [sign]  # which way is said
        return [sign, -sign]

    def _of(self, way: _Way) -> Iterator[tuple[float, Question]]:
        people: tuple[Person | None, ...] = self.whos[0] if self.whos else (None,)
        if way.kind in ("response", "spot"):
            for k, one in enumerate(people_of(self.whos[0], "hitter") if self.whos else (None,)):
                options = dict(way.options)
                if self.pitcher and way.kind == "spot":
                    options["pitcher"] = {"pitcher": self.pitcher}
                yield _LESS["who"] * k, Question(kind=way.kind, who=one.label if one else "", options=options)
        elif way.kind == "together":
            first, second = self._pair()
            yield 0.0, Question(kind="together", options={"first": first, "second": second})
        else:
            for (cost, rate), (k, person) in product(self.rates, enumerate(people)):
                for more, question in self._about(way, rate, person):
                    yield cost + more + _LESS["who"] * k, question

    def _about(self, way: _Way, rate: Rate, person: Person | None) -> Iterator[tuple[float, Question]]:
        ranked = way.kind in ("leads", "top")
        subject = person.subject if person else self.subject if ranked else "league"
        if way.kind in ("hot", "steady") and subject != "hitter":
            return
        options = {name: value for name, value in way.options.items() if name != "turned"}
        terms = [term for term in self.terms if term not in rate.when]
        told: dict[str, Any] = {"kind": way.kind, "subject": subject, "options": options}
        told |= {"who": person.label if person else "", "event": rate.event, "per": rate.per}
        told["when"] = tuple(dict.fromkeys((*terms, *rate.when)))
        if self.pitcher and way.kind != "spot":
            told["when"] = (*told["when"], f"pitcher={self.pitcher}")
        if self.club and ranked:
            told["club"] = self.club
        if ranked and self.t.values("minimum"):
            told["minimum"] = self.t.values("minimum")[0][0]
        if way.kind == "hot" and self.t.values("stretch"):
            told["options"] = {"stretch": self.t.values("stretch")[0]}
        if way.kind == "split":
            if not terms:
                return
            if rate.when:
                inside = " ".join(("", *rate.when))
                told |= {"event": f"{rate.event}{inside}", "per": f"{rate.per}{inside}"}
            told["when"] = tuple(terms)
        begun = self.known.days is None or self.since <= f"{self.known.days[0]:%Y-%m-%d}"
        if way.kind == "steady" and self.since and not begun:
            told["since"] = self.since
        elif way.kind not in ("hot", "steady"):
            told |= {"since": self.since, "until": self.until}
        if way.kind == "more" and self.known.days and self.until >= f"{self.known.days[1]:%Y-%m-%d}":
            told["until"] = ""
        if way.kind == "near" and self.t.values("within"):
            told["options"] = {**options, "within": self.t.values("within")[0]}
        signs = self._signs(rate, way.kind)
        if way.kind in ("hot", "steady", "near"):
            signs = [1]
        elif way.kind == "above" and way.options["value"] != "league":
            signs = [-1 if self.t.has("below") else 1]
        elif way.kind == "top" and way.options["turned"]:
            signs = [-sign for sign in signs]
        elif way.kind in ("more", "split") and self.t.has("different"):
            told["direction"] = "either"
            yield 0.0, Question(**told)
        others: tuple[Person | None, ...] = (
            people_of(self.whos[1], subject) if way.kind == "ahead" else (None,)
        )
        for (n, other), (k, sign) in product(enumerate(others), enumerate(signs)):
            if other is not None:
                told["options"] = {"other": other.label}
            told["direction"] = "less" if sign < 0 else "more"
            yield _LESS["who"] * n + _LESS["direction"] * k, Question(**told)


def _count_of(term: str, subject: str) -> str:
    if subject == "pitcher":
        return {"ahead in the count": "behind in the count", "behind in the count": "ahead in the count"}.get(
            term, term
        )
    return term


def _base(rate: Rate) -> str:
    return base_and_situation(rate.event)[0] if restricted(rate.event) else rate.event


def _told(rate: Rate) -> dict[str, Any]:
    return {"event": rate.event, "per": rate.per, **({"when": [*rate.when]} if rate.when else {})}


def _fits(terms: tuple[str, ...]) -> bool:
    try:
        going_together(*terms)
    except ClaimError:
        return False
    return True


def _clear(question: Question) -> bool:
    """Say whether the situations of a question go together, and its rates are two."""
    first, second = (question.options.get(name, {}) for name in ("first", "second"))
    told = [question.when, *(tuple(one["when"]) for one in (first, second) if one.get("when"))]
    return (not first or first != second) and all(_fits(terms) for terms in told if terms)


def _different(questions: Iterator[Question]) -> Iterator[Question]:
    seen = set()
    for one in questions:
        if repr(one) not in seen:
            seen.add(repr(one))
            yield one


def differing(first: Question, second: Question) -> str:
    """Return what is asked back where two questions differ in one slot only; empty where it is more."""
    one, other = first.to_dict(), second.to_dict()
    apart = {name for name in one.keys() | other.keys() if one.get(name) != other.get(name)}
    if apart and apart <= {"event", "per"}:
        return f"{rate_words(first.event, first.per)}, or {rate_words(second.event, second.per)}?"
    if apart == {"direction"} and "either" not in (first.direction, second.direction):
        return f"{first.direction} often, or {second.direction} often?"
    if apart and apart <= {"who", "subject"}:
        return f"{first.who}, or {second.who}?"
    if first.kind == second.kind == "response" and apart == {"options"}:
        return f"after a miss: {_after(first)}, or {_after(second)}?"
    same_way = first.direction == second.direction and first.direction != "either"
    if same_way and apart <= {"kind", "options"} and first.kind in _THAN and second.kind in _THAN:
        return f"{first.direction} often {_THAN[first.kind]}, or {_THAN[second.kind]}?"
    return ""


_THAN = {"above": "than the league", "leads": "than anyone", "split": "than elsewhere", "more": "than before"}
_FOLLOWS = {"whiff": "misses again", "hard": "hits it hard", "swing": "swings", "take": "takes"}


def _after(question: Question) -> str:
    response = question.options.get("response", "whiff")
    way = question.options.get("direction", USUAL[response])
    return f"{_FOLLOWS[response]} {way} often"
