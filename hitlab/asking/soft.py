"""The questions nearest to a sentence: made of slots that are found softly, each on its own, and scored.

Who, what rate, of what, where, since when, how many, compared with whom, and whether more or less: each is
looked for by the words of the trade wherever they stand (``soft_rates``, ``soft_cues``), and each kind of
question is scored by what speaks for it. The best are offered, never read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice, product
from typing import Any

from hitlab.asking.people import Person
from hitlab.asking.phrases import FILLERS
from hitlab.asking.phrases_rates import HARD, HITS, Rate
from hitlab.asking.risk import IDLE_IN_TALK, TURNING
from hitlab.asking.slots import people_of
from hitlab.asking.soft_slots import SoftSlots, terms_fit
from hitlab.asking.soft_ways import AND_SO, Way, spots, unsaid, ways
from hitlab.questions.question import Question

__all__ = ["ENOUGH", "Soft"]

ENOUGH = 3
"""Choices; who has to read more of them says it in other words sooner."""
_LESS = {"who": 0.5, "direction": 1.1}
_IDLE = FILLERS | IDLE_IN_TALK
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
    r"(?:against|off) <who> |(?:^ |do |does |how )(?:all |the |most )*<(?:hand|"
    r"group)> (?:\w+ ){0,2}<good> <who> "
)
"""Of a pitcher: it is the hitters who are said to do better."""
_NOT_DONE = r" <deny> (?:(?:[^ <,]+ ){0,2}<(?:rate|above|below)>|(?:true|so|the case) that|<who> nor <who>) "
_DENIED = re.compile(_NOT_DONE)
_DENIED_MORE = re.compile(rf"{_NOT_DONE}(?:(?![,.;:!?]|and |but )[^ ]+ ){{0,6}}<more> ")
"""What is done is denied; and that it is done more."""
_UNWANTED = re.compile(r" <deny> (?:[^ <,]+ ){0,3}<spot> (?!.*<(?:more|most|better|best)> )")
"""Somebody is not the one who is wanted there, and nothing is said of how often he does what."""
_DONE_TO = re.compile(
    r"(?:^ |[,.;:] )(?:the |a )?<(?:in|hand)> (?:[^ ,.;:<]+ ){0,2}<(?:good|"
    r"rate)> (?:[^ ,.;:<]+ ){0,2}<who> "
)
"""A pitch or a hand is said to do it to somebody: "sliders own her"."""


class Soft(SoftSlots):
    """What one sentence may ask."""

    def questions(self) -> list[Question]:
        """Return the best of what it may ask, the likeliest first; none where nothing tells."""
        if not self._tells():
            return []
        made = [
            (way.score - cost, question)
            for way in ways(self)
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
            or len(self.pair()) == 2
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
        if spots(self):
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
            or (word.text == "<before>" and not self.since)
            or (word.text == "<per>" and word.value not in pers and not kinds & {"together"})
        ]
        words += self._faced()
        left = [self.t.typed(word) for word in words]
        return list(dict.fromkeys((*left, *(unsaid(self) if "spot" in kinds else ()))))

    @property
    def rates_named(self) -> tuple[str, ...]:
        """What is counted of the rates that are named; empty where none is."""
        return tuple(rate.event for _, rate in self.rates) if self.t.has("rate") else ()

    @property
    def of_many(self) -> bool:
        """Whether it is asked who of all it is, or of two rates among all."""
        return self.t.has("whose", "top", "bottom", "group", "spot") or (
            self.t.has("gotogether") and len(self.pair()) == 2
        )

    @property
    def plain(self) -> bool:
        """Whether a rate of the trade is named, and something is said of it besides."""
        t = self.t
        named = any(rates != (HITS, HARD) for rates in t.values("rate")) or t.has("hot", "cold", "steady")
        named = (
            named
            or t.has("per")
            or any(sort == "average" for mark in ("above", "below", "near") for _, sort in t.values(mark))
        )
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
            *("hot", "cold", "steady", "leads", "best", "better", "after", "next"),
        )
        if (t.has("gotogether") or AND_SO.search(t.line())) and not self.whos and len(self.pair()) == 2:
            return True
        listed = bool(self.whos and self.terms) and t.has("top", "bottom", "place")
        return (
            (named and bool(compared or self.terms or self.since))
            or listed
            or bool(spots(self))
            or (t.has("spot") and bool(self.terms))
        )

    # Putting it together.

    def _good(self, rate: Rate) -> int:
        """Return the direction in which a rate is good for the one of whom it is said."""
        of_pitcher = self.subject == "pitcher" and not _OF_THEM.search(self.t.line())
        return (-1 if rate.luckless else 1) * (-1 if of_pitcher else 1)

    def _signs(self, rate: Rate, kind: str) -> list[int]:
        """Return the directions that may be meant, the likeliest first."""
        t, good = self.t, self._good(rate)
        others = self.others_do
        if others is not None:
            return [-others.value * (good if others.text == "<better>" else 1)]
        if _UNWANTED.search(t.line()):
            return [-good]
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
                if re.search(r" <deny> (?:[^ ,.]+ ){0,4}<(?:rate|hot)> ", t.line())
                and not t.has("nobody", "anyone")
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
            open_way = t.has("deny") or (t.has("cold") and rate.luckless is not False)
            return [sign, -sign] if open_way else [sign]
        if re.search(rf" <deny> (?:[^ <,]+ ){{0,2}}<{mark}> ", t.line()):
            sign = -sign
        elif mark == "more" and kind not in ("leads", "top") and _DENIED_MORE.search(t.line()):
            return [-sign, sign]
        if self.turned and kind == "split":
            sign = -sign
        if self.used_to:
            return [-sign]
        if mark == "good" and _DONE_TO.search(t.line()) and not _OF_THEM.search(t.line()):
            sign = -sign
        either = self.subject == "pitcher" and mark not in ("more", "most")  # good for whom?
        denied = t.has("deny") and len(set(t.values("rate"))) < 2  # of two rates it may be the other
        if self.not_he or not (self.turned or either or denied):
            return [sign]  # which way is said
        return [sign, -sign]

    def _of(self, way: Way) -> Iterator[tuple[float, Question]]:
        people: tuple[Person | None, ...] = self.whos[0] if self.whos else (None,)
        if way.kind in ("response", "spot"):
            for k, one in enumerate(people_of(self.whos[0], "hitter") if self.whos else (None,)):
                options = dict(way.options)
                if self.pitcher and way.kind == "spot":
                    options["pitcher"] = {"pitcher": self.pitcher}
                yield _LESS["who"] * k, Question(kind=way.kind, who=one.label if one else "", options=options)
        elif way.kind == "together":
            for cost, both in ((0.0, True), (0.1, False)):
                first, second = self.pair(both=both)
                yield cost, Question(kind="together", options={"first": first, "second": second})
        else:
            for (cost, rate), (k, person) in product(self.rates, enumerate(people)):
                for more, question in self._about(way, rate, person):
                    yield cost + more + _LESS["who"] * k, question

    def _about(self, way: Way, rate: Rate, person: Person | None) -> Iterator[tuple[float, Question]]:
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
        elif way.since:
            told["since"] = way.since
        elif way.kind not in ("hot", "steady"):
            told |= {"since": self.since, "until": self.until}
        if way.kind == "more" and self.known.days and self.until >= f"{self.known.days[1]:%Y-%m-%d}":
            told["until"] = ""
        if way.kind == "near" and self.t.values("within"):
            told["options"] = {**options, "within": self.t.values("within")[0]}
        signs = [self._good(rate) * way.good] if way.good else self._signs(rate, way.kind)
        if way.kind == "hot" and signs[0] < 0 and not self.t.has("hot"):
            return  # Hot is far more of it than usual; less of it is a change.
        if ranked and _UNWANTED.search(self.t.line()):
            return
        if way.kind in ("hot", "steady", "near"):
            signs = [1]
        elif way.kind == "above" and way.options["value"] != "league":
            signs = [-1 if self.t.has("below") else 1]
            if _DENIED.search(self.t.line()):
                signs = [-sign for sign in signs]
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


def _clear(question: Question) -> bool:
    """Say whether the situations of a question go together, and its rates are two."""
    first, second = (question.options.get(name, {}) for name in ("first", "second"))
    told = [question.when, *(tuple(one["when"]) for one in (first, second) if one.get("when"))]
    return (not first or first != second) and all(terms_fit(terms) for terms in told if terms)


def _different(questions: Iterator[Question]) -> Iterator[Question]:
    seen = set()
    for one in questions:
        if repr(one) not in seen:
            seen.add(repr(one))
            yield one
