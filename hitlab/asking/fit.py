"""From the slots of a sentence to the question it asks, to the choices that it leaves, or to neither.

A kind of claim fits where all that it needs was found and nothing was found that it has no use for. What was
found and has no use, or a word that nothing explains, forbids a silent answer: the question without it is
offered, and asked back.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from itertools import product
from typing import Any

from hitlab.asking.numbers import ALWAYS
from hitlab.asking.people import Known, Person
from hitlab.asking.phrases import BEFORE, HARD, WHIFFS, Rate
from hitlab.asking.slots import Slots, people_of
from hitlab.claims.question import About, Question
from hitlab.counting.events import fitting_denominators
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.counting.situations import situation
from hitlab.errors import ClaimError

__all__ = ["Fitted", "fit"]


@dataclass(slots=True)
class Fitted:
    """What a sentence comes to.

    Attributes
    ----------
    questions
        Those that it may ask.
    asks
        What has to be asked back; empty where it is understood or refused.
    why
        Why it is refused.
    usual
        Whether the rate was left to the trade's usual meaning.
    """

    questions: list[Question] = field(default_factory=list)
    asks: str = ""
    why: str = ""
    usual: bool = False


class UnfitError(Exception):
    """What is asked back, with the questions that are offered."""

    def __init__(self, asks: str, *offered: Question) -> None:
        super().__init__(asks)
        self.asks, self.offered = asks, list(offered)


_PLACING = (
    "pitch_kind",
    "speed_mph",
    "up",
    "down",
    "inside",
    "away",
    "in the zone",
    "outside the zone",
    "over",
)
_VAGUE: dict[str, tuple[str, tuple[tuple[Rate, int], ...]]] = {
    "struggles": ("misses more, or hits it hard less often: which?", ((WHIFFS, 1), (HARD, -1))),
    "sees": (
        "misses less, chases less, or hits it hard more often: which?",
        ((WHIFFS, -1), (Rate("swings", "pitches", ("outside the zone",), luckless=True), -1), (HARD, 1)),
    ),
    "toughout": (
        "strikes out less, makes contact more often, or fouls more off: which?",
        (
            (Rate("plate_appearances at result=strikeout", "plate_appearances", luckless=True), -1),
            (Rate("contact"), 1),
            (Rate("fouls"), 1),
        ),
    ),
    "good": (
        "hits it hard more often, misses less, or makes contact more often: which?",
        ((HARD, 1), (WHIFFS, -1), (Rate("contact"), 1)),
    ),
    "patient": (
        "takes more pitches, or chases less: which?",
        (
            (Rate("takes", "pitches"), 1),
            (Rate("swings", "pitches", ("outside the zone",), luckless=True), -1),
        ),
    ),
}
"""Words that can mean several rates, what is asked back, and the rates with their directions."""

_DENOMINATORS = {
    "swings": "swings",
    "pitches": "pitches",
    "at bats": "at_bats",
    "plate appearances": "plate_appearances",
    "balls in play": "in_play",
    "contacts": "contact",
}


def fit(slots: Slots, known: Known) -> Fitted:
    """Return what a sentence comes to."""
    fitter = _Fitter(slots, known)
    try:
        questions = fitter.questions()
    except UnfitError as unfit:
        return Fitted(unfit.offered, unfit.asks, "", fitter.usual)
    lacking = _lacking(questions, known)
    if lacking:
        return Fitted([], "", lacking)
    loose = fitter.loose()
    if loose:
        return Fitted(questions, loose, "", fitter.usual)
    if len(questions) > 1:
        return Fitted(questions, fitter.choice or "which of these is meant?", "", fitter.usual)
    return Fitted(questions, "", "", fitter.usual)


class _Fitter:
    """The slots of one sentence, and which of them were used."""

    def __init__(self, slots: Slots, known: Known) -> None:
        self.slots, self.known, self.text = slots, known, slots.text
        self.used: set[str] = set()
        self.usual = False
        self.choice = ""

    # What is there.

    def has(self, *marks: str) -> bool:
        """Say whether one of some marks is there, and take it for used."""
        self.used.update(marks)
        return self.text.has(*marks)

    def values(self, mark: str) -> list[Any]:
        self.used.add(mark)
        return self.text.values(mark)

    def loose(self) -> str:
        """Say what of the sentence played no part though it carries meaning."""
        said = self.text.said
        idle = [
            said[word.at]
            for word in self.text.words
            if word.text.startswith("<") and word.text[1:-1] not in self.used
        ]
        strange = [said[word.at] for word in self.slots.strange]
        words = list(dict.fromkeys([*idle, *strange]))
        if not words:
            return ""
        told = ", ".join(f"“{word}”" for word in words[:6])
        return (
            f"{told} would play no part in it: is it this all the same, without "
            f"{'it' if len(words) == 1 else 'them'}?"
        )

    # The questions.

    def questions(self) -> list[Question]:
        """Return the questions of the first kind that fits.

        Raises
        ------
        UnfitError
            Where something has to be asked back.
        """
        for kind in (self._response, self._spot, self._together):
            found = kind()
            if found is not None:
                return found
        return self._of_somebody()

    def _response(self) -> list[Question] | None:
        if not self.text.has("aftermiss", "learns"):
            return None
        self.has("aftermiss", "learns", "next", "more", "not", "record", "pause", "than", "before")
        who = self._whos()
        rates = list(dict.fromkeys(self.values("rate")))
        if self.text.has("than", "before", "otherwise"):
            self.used -= {"than", "before"}
        if len(rates) > 1:
            raise UnfitError("what is said of the next pitch?")
        rate = rates[0] if rates else WHIFFS if self.text.has("learns") else None
        if rate is None:
            raise UnfitError("what is said of the next pitch?")
        named = {"whiffs": "whiff", "hard": "hard", "swings": "swing", "takes": "take"}
        if rate.event not in named or rate.when:
            raise UnfitError(
                "of the next pitch can be asked whether it is missed, swung at, let go or hit hard"
            )
        response = named[rate.event]
        signs = self.text.values("more")
        if len(signs) > 1 or (signs and self.text.has("not")):
            raise UnfitError("more or less often after a miss: which?")
        usual = {"whiff": -1, "hard": 1, "swing": -1, "take": 1}[response]
        sign = signs[0] if signs else -1 if self.text.has("not") else None
        if sign is None:
            sign = 1
            if response in ("whiff", "swing") and not self.text.has("learns"):
                raise UnfitError("more or less often after a miss: which?")
            if self.text.has("learns"):
                sign = -1
        options: dict[str, Any] = {} if response == "whiff" else {"response": response}
        if sign != usual:
            options["direction"] = "more" if sign > 0 else "less"
        about: About = "record" if self.text.has("record") else "underlying"
        return [
            Question(kind="response", who=label, about=about, options=options)
            for label in self._labels(who, "hitter")
        ]

    def _labels(self, whos: list[tuple[Person, ...]], subject: str) -> list[str]:
        if not whos:
            return [""]
        if len(whos) > 1:
            raise UnfitError("two are named: whom is it about?")
        found = people_of(whos[0], subject)
        if not found:
            raise UnfitError(f"no {subject} is called so: whom is it about?")
        if len(found) > 1:
            self.choice = f"{len(found)} {subject}s are called so: which?"
        return [person.label for person in found]

    def _spot(self) -> list[Question] | None:
        gap_told = self.text.has("gap", "tied")
        if not (self.text.has("spot") and (gap_told or self.text.has("lasthalf"))) and not (
            self.text.has("lasthalf") and gap_told
        ):
            if (
                self.text.has("spot")
                and self.text.has("in")
                and any("outs" in t for v in self.text.values("in") for t in v)
            ):
                raise UnfitError("how many runs is the club behind, how many are out, and who is on base?")
            return None
        self.has(
            "spot",
            "lasthalf",
            "gap",
            "tied",
            "whose",
            "club",
            "vs",
            "nobody",
            "theleague",
            "owngroup",
            "than",
            "best",
            "better",
        )
        terms = [term for terms in self.values("in") for term in terms]
        outs = {term.partition("=")[2] for term in terms if term.startswith("outs=")}
        bases = {term.partition("=")[2] for term in terms if term.startswith("bases=")}
        inning = {term for term in terms if term.startswith("inning")}
        others = [t for t in terms if not t.startswith(("outs=", "bases=", "inning"))]
        gaps = {-gap for gap in self.text.values("gap")} | ({0} if self.text.has("tied") else set())
        if len(gaps) != 1 or len(outs) != 1 or len(bases) != 1 or "," in "".join(bases) or others:
            raise UnfitError("how many runs is the club behind, how many are out, and who is on base?")
        if inning - {"inning=9"} or (inning and not self.text.has("lasthalf")):
            raise UnfitError(
                "the right hitter can be asked for in the home half of the last inning only: is it that?"
            )
        options: dict[str, Any] = {"gap": gaps.pop(), "outs": int(outs.pop()), "bases": bases.pop()}
        self.used.add("who")
        whos = self.text.values("who")
        hitters: list[tuple[Person, ...]] = []
        for value in whos:
            if found := people_of(value, "hitter"):
                hitters.append(found)
            elif found := people_of(value, "pitcher"):
                if len(found) > 1 or "pitcher" in options:
                    raise UnfitError("which pitcher?")
                options["pitcher"] = {"pitcher": found[0].label}
        hitters = self._with_clubs(hitters)
        different = list(dict.fromkeys(hitters))
        if len(different) > 1:
            if any(len(found) > 1 for found in different):
                raise UnfitError("whom of these?")
            twice = [found for found in different if hitters.count(found) > 1]
            options["candidates"] = [found[0].label for found in different]
            chosen = twice or ([different[0]] if self.text.has("than") else [])
            if len(chosen) != 1:
                raise UnfitError("which of them is said to be the right one?")
            return [Question(kind="spot", who=chosen[0][0].label, options=options)]
        return [
            Question(kind="spot", who=label, options=options) for label in self._labels(different, "hitter")
        ]

    def _with_clubs(self, hitters: list[tuple[Person, ...]]) -> list[tuple[Person, ...]]:
        """Choose among hitters of one name by a club that is named."""
        clubs = {p.label for value in self.text.values("who") for p in value if p.subject == "club"}
        told = []
        for found in hitters:
            of_club = tuple(person for person in found if person.club in clubs)
            told.append(of_club if len(found) > 1 and of_club else found)
        return told

    def _together(self) -> list[Question] | None:
        line = self.text.line()
        rates = self.text.places("rate")
        if self.text.has("who") or len(rates) != 2 or (not self.slots.many and " ones " not in line):
            return None
        if not self.text.has("whose") and " who " not in line and " that " not in line:
            return None
        first, second = rates
        found = []
        for part, place in ((self.text.words[:second], first), (self.text.words[second:], second)):
            rate: Rate = self.text.words[place].value
            terms = [term for word in part if word.text == "<in>" for term in word.value]
            terms += [f"pitcher_hand={word.value[1]}" for word in part if word.text == "<hand>"]
            found.append(_rate_of(rate, terms))
        self.has("rate", "in", "hand", "whose", "more", "per")
        if any(sign < 0 for sign in self.text.values("more")):
            self.used.discard("more")
        self.has("also")
        if found[0] == found[1]:
            return None
        return [Question(kind="together", options={"first": found[0], "second": found[1]})]

    # One among many, and everything else about somebody.

    def _whos(self) -> list[tuple[Person, ...]]:
        """Return who is named, everybody once; clubs that only tell whose hitter one is are left out."""
        self.used.add("who")
        people = self.text.values("who")
        hitters = [people_of(value, "hitter") for value in people]
        pitchers = [people_of(value, "pitcher") for value in people]
        told: list[tuple[Person, ...]] = []
        if any(hitters) or any(pitchers):
            both = [h or p for h, p in zip(hitters, pitchers, strict=True) if h or p]
            told = self._with_clubs(both)
        else:
            told = [value for value in people if value]
        return list(dict.fromkeys(told))

    def _of_somebody(self) -> list[Question]:
        t = self.text
        whos = self._whos()
        clubs = [p.label for value in t.values("who") for p in value if p.subject == "club"]
        hitters = [who for who in whos if who[0].subject == "hitter"]
        pitchers = [who for who in whos if who[0].subject == "pitcher"]
        terms: list[str] = []
        marks = [word.text for word in t.words if word.text.startswith("<")]
        if marks[:1] == ["<whose>"] and whos and not hitters and not pitchers:
            whos = []  # "who on the Lanterns": one of the club, and not the club
        if hitters and not pitchers and self._own_pitch():
            raise UnfitError("that is said of somebody who pitches: whom is it about?")
        if self.slots.pitching and hitters and not pitchers:
            # "Pitcher" said of somebody whose name a hitter has, too.
            also = [people_of(value, "pitcher") for value in t.values("who")]
            if any(also):
                pitchers, hitters, whos = [w for w in also if w], [], [w for w in also if w]
        if hitters and pitchers:
            if len(pitchers) > 1 or len(pitchers[0]) > 1 or not self.has("vs"):
                raise UnfitError("a hitter and a pitcher are named: whom is it about?")
            terms.append(f"pitcher={pitchers[0][0].label}")
            whos = hitters
        subject = whos[0][0].subject if whos else "hitter"
        if pitchers and not hitters:
            self.has("vs")
        if t.has("limit"):
            raise UnfitError("")
        if not whos and not self._nobody_needed():
            if self.slots.bare:
                raise UnfitError("nobody is named: whom is it about?")
            raise UnfitError(
                "" if not (t.has("rate") and self._compared()) else "nobody is named: whom is it about?"
            )
        asked = _Asking(self, whos, subject, clubs, terms)
        return asked.questions()

    def _own_pitch(self) -> bool:
        """Say whether a kind of pitch is said to be somebody's own: ``her slider is the best``."""
        words, said = self.text.words, self.text.said
        return any(
            (first.text, second.text) == ("<who>", "<in>")
            and third.text in ("is", "are", "was", "gets", "has")
            and second.value[0].startswith("pitch_kind")
            and said[second.at].casefold() not in BEFORE
            for first, second, third in zip(words, words[1:], words[2:], strict=False)
        )

    def _nobody_needed(self) -> bool:
        return self.text.has("theleague", "whose") or (
            self.slots.all_hitters and self.text.has("above", "below", "near", "since")
        )

    def _compared(self) -> bool:
        return self.text.has(
            *(
                "more",
                "most",
                "better",
                "best",
                "above",
                "below",
                "near",
                "league",
                "anyone",
                "always",
                "never",
            ),
            *("hot", "steady", "owns", "cannotlayoff", "top", "different", "not", "leads"),
        )


class _Asking:
    """A question about somebody: rate, situation, days, and the kind that its comparison makes."""

    def __init__(
        self,
        fitter: _Fitter,
        whos: list[tuple[Person, ...]],
        subject: str,
        clubs: list[str],
        terms: list[str],
    ) -> None:
        self.f, self.t = fitter, fitter.text
        self.whos, self.subject, self.clubs = whos, subject, clubs
        self.terms = [*terms, *self._terms()]
        self.since, self.until = self._days()

    def _terms(self) -> list[str]:
        terms = [term for told in self.f.values("in") for term in told]
        for column, side in self.f.values("hand"):
            if column == "hand" and not self.whos:
                raise UnfitError(f"{side}-handed hitters, or {side}-handed pitchers?")
            about = "hitter_side" if self.subject == "pitcher" else "pitcher_hand"
            terms.append(f"{about if column == 'hand' else column}={side}")
        return list(dict.fromkeys(terms))

    def _days(self) -> tuple[str, str]:
        since, until, spans = (self.f.values(mark) for mark in ("since", "until", "span"))
        if len(since) > 1 or len(until) > 1 or len(spans) > 1 or (spans and (since or until)):
            raise UnfitError("several days are named: from which one to which?")
        if spans:
            return spans[0][0], spans[0][1]
        return (since or [""])[0], (until or [""])[0]

    # The rate.

    def rates(self, *, default: bool) -> list[Rate]:
        """Return the rate that is named, as one or as the ones that it may be; the usual one where none is.

        Raises
        ------
        UnfitError
            Where several are named, or none and the sentence does not leave it to the trade's usual meaning.
        """
        found: list[Rate] = list(dict.fromkeys(self.f.values("rate")))
        if self.f.has("hitharder") and HARD not in found:
            found.append(HARD)
        if self.t.has("owns") and self.subject == "pitcher":
            raise UnfitError("which rate, and more or less of it: what do hitters do against the pitcher?")
        if self.t.has("owns", "cannotlayoff"):
            self.f.has("owns", "cannotlayoff")
            swings = Rate("swings", "pitches", luckless=None)
            found = [one for one in found if one != HARD] + ([HARD] if self.t.has("owns") else [])
            found += [swings] if self.t.has("cannotlayoff") and not found else []
        if len(found) > 1:
            raise UnfitError("this names more than one rate, and each is a claim of its own: which?")
        if not found:
            if not default:
                raise UnfitError("which rate: hard-hit balls, whiffs, contact, chases?")
            self.f.usual = True
            found = [HARD]
        return self._divided(found[0])

    def _divided(self, rate: Rate) -> list[Rate]:
        pers = set(self.f.values("per"))
        if pers == {"swings", "pitches"} and rate.per == "pitches":
            pers = {"pitches"}
        if rate.event == "in_play" and "in_play" in pers:
            pers.discard("in_play")
        if len(pers) > 1:
            raise UnfitError("divided by what: two denominators are named?")
        if not pers:
            if rate.either:
                self.f.choice = "of balls in play, as many say, or of swings: which?"
                return [replace(rate, per=rate.either, either=""), replace(rate, either="")]
            return [rate]
        per = pers.pop()
        event = base_and_situation(rate.event)[0] if restricted(rate.event) else rate.event
        if per != rate.per and per != event and per not in fitting_denominators(event, Conventions()):
            raise UnfitError(f"{rate.event} are no part of {per}: divided by what?")
        return [replace(rate, per=per if per != event else rate.per, either="")]

    def sign(self, rate: Rate) -> int:
        """Return whether more or less of it is said, from all that says so.

        Raises
        ------
        UnfitError
            Where it is said in two ways, or whether better is more or less is not clear.
        """
        f = self.f
        signs = {*f.values("more"), *f.values("most")}
        judged = {*f.values("better"), *f.values("best")}
        if f.has("hitharder"):
            signs.add(1)
        if f.has("nobetter"):
            judged.add(1)
        if judged and not signs:
            if rate.luckless is not False or (
                self.subject == "pitcher" and not self.t.has("vs") and not f.slots.many
            ):
                raise UnfitError("more or less of it: which is better?")
            signs = judged
        elif judged and not (judged == signs == {1}):
            raise UnfitError("more or less of it: which?")
        if len(signs) > 1:
            raise UnfitError("more or less of it: which?")
        return (signs.pop() if signs else 1) * rate.sign

    # The kinds.

    def questions(self) -> list[Question]:
        """Return the questions of the kind that the sentence makes."""
        for vague, (asks, rates) in _VAGUE.items():
            if self.t.has(vague):
                self._vague(vague, asks, rates)
        if self.t.has("slump"):
            raise UnfitError(
                "a slump in which rate, and since which day? Say it as: less often since that day than before"
            )
        for kind in (
            *(self._hot, self._steady, self._different, self._top, self._leads, self._ahead),
            *(self._value, self._usual, self._split, self._more, self._bald),
        ):
            found = kind()
            if found is not None:
                return found
        raise UnfitError(self._what_else())

    def _what_else(self) -> str:
        f, t = self.f, self.t
        if t.has("lately", "before"):
            return "since which day?"
        if t.has("more", "better", "hitharder"):
            return "than whom, or than when?"
        if t.has("most", "best"):
            return "best at what, and among whom?"
        if t.has("spot"):
            return "how many runs is the club behind, how many are out, and who is on base?"
        if t.has("rate") or f.slots.text.has("in"):
            return "what of it: more often than whom, than the league, than before?"
        return "what is said of it?" if not f.slots.strange else ""

    def _vague(self, mark: str, asks: str, rates: tuple[tuple[Rate, int], ...]) -> None:
        if self.subject != "hitter":
            raise UnfitError("which rate, and more or less of it?")
        others = [who for who in self.whos if len(who) > 1]
        if others or len(self.whos) != 1:
            raise UnfitError(asks)
        flip = -1 if self.t.has("not") else 1
        raise UnfitError(
            asks, *(self._above(rate, sign * flip, self.whos[0][0], "league") for rate, sign in rates)
        )

    def _hot(self) -> list[Question] | None:
        f, t = self.f, self.t
        streak = t.has("hot")
        if streak and self.since:
            raise UnfitError("hot over the last games, or more often since that day than before: which?")
        lately = t.has("lately", "stretch") and t.has("more") and self.t.has("otherwise", "usual")
        if not streak and not lately:
            return None
        f.has("hot", "lately", "stretch", "otherwise", "usual")
        [rate] = self.rates(default=True)[:1] if t.has("rate") else [replace(HARD)]
        f.usual = not t.has("rate")
        if (t.has("more") or t.has("better")) and self.sign(rate) < 0:
            raise UnfitError("a streak is far more than usual; less of it is a change: since which day?")
        stretch = t.values("stretch")
        options = {"stretch": stretch[0]} if stretch else {}
        return self._each("hot", rate, options=options, ranked=False)

    def _steady(self) -> list[Question] | None:
        if not self.f.has("steady"):
            return None
        self.f.has("allyear")
        rates = self.rates(default=True)
        return [q for rate in rates for q in self._each("steady", rate, ranked=False)]

    def _different(self) -> list[Question] | None:
        if not self.t.has("different"):
            return None
        if not self.since:
            raise UnfitError("since which day?")
        self.f.has("different", "before")
        rates = self.rates(default=True)
        return [q for rate in rates for q in self._each("more", rate, direction="either")]

    def _top(self) -> list[Question] | None:
        f, t = self.f, self.t
        places = [*t.values("top"), *t.values("bottom")]
        only = t.values("onlyn")
        if only and t.has("than") and t.has("more", "better"):
            f.has("onlyn", "than", "theleague")
            places = [only[0] + 1]
        elif not places:
            return None
        f.has("top", "bottom", "theleague", "everyone")
        if len(places) != 1 or not 1 <= places[0] <= 1000:
            raise UnfitError("one of how many?")
        rates = self.rates(default=t.has("best", "better") and bool(self.terms))
        found = []
        for rate in rates:
            sign = self.sign(rate) * (-1 if t.has("bottom") else 1)
            if t.has("top") and rate.luckless and not t.has("most", "more"):
                # "Top three for chasing" are those who do it most.
                f.used.update(("most", "more"))
            found += self._each("top", rate, sign, options={"top": places[0]}, ranked=True)
        return found

    def _leads(self) -> list[Question] | None:
        f, t = self.f, self.t
        others = len(self.whos) > 1
        if t.has("oneof"):
            raise UnfitError("one of how many: of the five best, of the ten?")
        behind = re.search(r"<than> (?:the )?<who>", t.line()) is not None
        nobody = (
            behind and t.has("nobody", "anybody") and t.has("than") and t.has("more", "better", "hitharder")
        )
        superlative = t.has("most", "best", "leads") and not t.has("than")
        anyone = t.has("anyone", "everyone", "ownclub") and t.has("more", "better", "hitharder")
        if t.has("nobetter") and t.has("than"):
            nobody = True
        if not (nobody or superlative or anyone) or others:
            return None
        if superlative and t.has("nobody", "anybody"):
            return None
        f.has(
            "leads",
            "anyone",
            "everyone",
            "nobody",
            "anybody",
            "theleague",
            "whose",
            "ownclub",
            "owngroup",
            "nobetter",
        )
        if nobody:
            f.has("than")
        if t.has("best", "better", "nobetter") and not t.has("rate", "hitharder") and not self.terms:
            raise UnfitError("best at what: hitting it hard, making contact, laying off?")
        rates = self.rates(default=t.has("best", "better", "nobetter"))
        return [q for rate in rates for q in self._each("leads", rate, self.sign(rate), ranked=True)]

    def _ahead(self) -> list[Question] | None:
        f, t = self.f, self.t
        if len(self.whos) != 2:
            if len(self.whos) > 2:
                raise UnfitError("more than two are named: whom is it about?")
            return None
        first, second = self.whos
        if first[0].subject != second[0].subject:
            raise UnfitError("the two are not of one kind: whom is it about?")
        flip = 1
        if t.has("notas"):
            f.has("notas")
            flip = -1
            t.take(r"notas", "")
            for words in (r"quick to", r"likely to", r"often", r"good at", r"apt to", r"good"):
                t.take(words)
        elif t.has("aheadof") and not t.has("more", "better"):
            [flip] = f.values("aheadof")[:1]
        elif t.has("prefer"):
            f.has("prefer")
            t.take("over|to")
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
            fits = [who for who in self.whos if set(who) <= set(behind)]
            if len(fits) == 1 and fits[0] == first:
                first, second = second, first
        rates = self.rates(default=t.has("better"))
        found = []
        for rate in rates:
            sign = self.sign(rate) * flip
            for one, other in product(first, second):
                found += self._one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
        if len(first) > 1 or len(second) > 1:
            f.choice = "several are called so: which?"
        return found

    def _value(self) -> list[Question] | None:
        f, t = self.f, self.t
        told = {mark: t.values(mark) for mark in ("above", "below", "near", "always")}
        marks = [mark for mark, values in told.items() for _ in values]
        if not marks:
            return None
        if len(marks) > 1:
            raise UnfitError("more than one number is told: which is meant?")
        mark = marks[0]
        f.has(mark, "within", "theleague", "allyear")
        value, kind = (ALWAYS, "value") if mark == "always" else told[mark][0]
        rates = self.rates(default=False) if t.has("rate", "owns") or kind == "value" else self._average()
        if mark == "always" and not self.terms and rates[0].event == "swings" and not rates[0].when:
            raise UnfitError("always: at which pitches?")
        found = []
        for rate in rates:
            sign = self.sign(rate) if t.has("more", "most") else rate.sign
            if mark == "near":
                if sign < 0 or t.has("more", "most", "better", "best"):
                    raise UnfitError("about as often, or more or less often than that: which?")
                within = t.values("within")
                options = {"value": value, **({"within": within[0]} if within else {})}
                found += self._each("near", rate, options=options)
            else:
                # "A higher share ... on more than 30 percent" says it twice; "less" beside it is unclear.
                if sign < 0 and t.has("more", "most"):
                    raise UnfitError("more or less often than that: which?")
                found += self._each(
                    "above", rate, -rate.sign if mark == "below" else rate.sign, options={"value": value}
                )
        return found

    def _average(self) -> list[Rate]:
        return [Rate("hits", "at_bats")]

    def _usual(self) -> list[Question] | None:
        f, t = self.f, self.t
        rest = t.has("rest") and t.has("than")
        if not t.has("league") and not rest:
            return None
        if not t.has("more", "better", "hitharder"):
            return None
        f.has("league", "rest", "theleague")
        if rest:
            f.has("than")
        rates = self.rates(default=t.has("better") and bool(self.terms))
        return [
            q
            for rate in rates
            for q in self._each("above", rate, self.sign(rate), options={"value": "league"})
        ]

    def _split(self) -> list[Question] | None:
        f, t = self.f, self.t
        compared = t.has("more", "better", "hitharder")
        if not compared or not self.terms or (self.since and not t.has("than", "otherwise", "usual")):
            return None
        if t.has("before") or t.has("lately"):
            return None
        f.has("otherwise", "usual", "hitharder")
        terms = self.terms
        swapped = False
        if t.has("than"):
            place = t.places("than")[0]
            behind = [w for w in t.words[place:] if w.text in ("<in>", "<hand>")]
            if len(behind) != 1:
                return None
            ahead = _Asking._behind(self, behind[0])
            if ahead is None:
                return None
            f.has("than")
            terms = ahead
        elif (
            not t.has("otherwise", "usual")
            and t.has("more")
            and len(t.values("in")) + len(t.values("hand")) > 1
        ):
            pass
        rates = self.rates(default=t.has("better"))
        if not _one_thing(terms):
            raise UnfitError("which of the situations is compared with the rest?")
        found = []
        for rate in rates:
            sign = self.sign(rate)
            if rate.when:
                # Among the pitches that the event is about, those in the situation against the others.
                inside = " ".join(rate.when)
                rate = replace(rate, event=f"{rate.event} {inside}", per=f"{rate.per} {inside}", when=())
            options = {"against": "usual"} if t.has("usual") else {}
            found += self._each("split", rate, -sign if swapped else sign, terms=terms, options=options)
        return found

    def _behind(self, word: Any) -> list[str] | None:
        """Return the terms in front of "than" where those behind it are just all the others."""
        if word.text == "<hand>":
            column, side = word.value
            about = "hitter_side" if self.subject == "pitcher" else "pitcher_hand"
            other = [f"{about if column == 'hand' else column}={side}"]
        else:
            other = list(word.value)
        mine = [term for term in self.terms if term not in other]
        return mine if len(mine) == 1 and len(other) == 1 and _complement(mine[0]) == other[0] else None

    def _more(self) -> list[Question] | None:
        f, t = self.f, self.t
        if not t.has("more", "better", "hitharder"):
            return None
        if not self.since or self.until:
            return None
        if t.has("than"):
            return None
        f.has("before", "lately", "theleague", "hitharder")
        rates = self.rates(default=t.has("better"))
        return [q for rate in rates for q in self._each("more", rate, self.sign(rate))]

    def _bald(self) -> list[Question] | None:
        """Take a habit that is stated baldly for a claim to have more of it than the league."""
        f, t = self.f, self.t
        if t.has(
            *("more", "better", "most", "best", "hitharder", "than", "league", "anyone", "lately", "since")
        ):
            return None
        if not t.has("rate", "owns", "cannotlayoff"):
            return None
        rates = self.rates(default=False)
        rate = rates[0]
        denied = f.has("not", "never")
        f.has("tough")
        if len(t.values("not")) + len(t.values("never")) > 1:
            raise UnfitError("is it denied or not?")
        sign = rate.sign * (-1 if denied or t.has("tough") else 1)
        if denied and t.has("tough"):
            raise UnfitError("is it denied or not?")
        questions = [q for one in rates for q in self._each("above", one, sign, options={"value": "league"})]
        said = bool(self.terms) or bool(rate.when) or denied or t.has("tough")
        if not said:
            raise UnfitError("more often than whom: than the league?", *questions)
        return questions

    # Putting it together.

    def _each(
        self,
        kind: str,
        rate: Rate,
        sign: int = 1,
        *,
        options: dict[str, Any] | None = None,
        direction: str = "",
        ranked: bool = False,
        terms: list[str] | None = None,
    ) -> list[Question]:
        if len(self.whos) > 1:
            raise UnfitError("two are named: whom is it about?")
        people: tuple[Person | None, ...] = self.whos[0] if self.whos else (None,)
        if len(people) > 1 and self.whos:
            self.f.choice = f"{len(people)} {people[0].subject}s are called so: which?" if people[0] else ""
        return [
            question
            for person in people
            for question in self._one(
                kind, person, rate, sign, options or {}, direction=direction, ranked=ranked, terms=terms
            )
        ]

    def _above(self, rate: Rate, sign: int, person: Person, value: Any) -> Question:
        [question] = self._one("above", person, rate, sign, {"value": value})
        return question

    def _one(
        self,
        kind: str,
        person: Person | None,
        rate: Rate,
        sign: int,
        options: dict[str, Any],
        *,
        direction: str = "",
        ranked: bool = False,
        terms: list[str] | None = None,
    ) -> list[Question]:
        f, t = self.f, self.t
        who, subject = ("", "hitter") if person is None else (person.label, person.subject)
        if person is None and kind in ("leads", "top"):
            subject = (f.values("whose") or ["hitter"])[0]
        if person is None and kind in ("above", "near", "more"):
            if not f.has("theleague") and not f.slots.all_hitters:
                raise UnfitError("nobody is named: whom is it about?")
            subject = "league"
        elif person is None and kind not in ("leads", "top"):
            raise UnfitError("nobody is named: whom is it about?")
        if kind in ("hot", "steady") and subject != "hitter":
            raise UnfitError(
                f"whether a {subject} is hot or steady cannot be asked, only a hitter; of a {subject}: "
                f"since a day"
            )
        club = self._club(person, kind, ranked)
        record = f.has("record") and kind in ("leads", "top", "above", "near", "ahead", "split", "more")
        minimum = None
        if ranked and t.has("minimum"):
            many, what = f.values("minimum")[0]
            if _DENOMINATORS[what] != rate.per:
                raise UnfitError(f"at least so many {what}, though the rate is divided by {rate.per}: which?")
            minimum = many
        if t.has("not") and kind != "above":
            f.used.discard("not")
        when = list(dict.fromkeys([*(self.terms if terms is None else terms), *rate.when]))
        if person is not None:
            f.has("whose")
        try:
            if when:
                situation(*when)
        except ClaimError as error:
            raise UnfitError(f"the situation is not clear: {error}") from error
        return [
            Question(
                kind=kind,
                who=who,
                subject=subject,  # type: ignore[arg-type]
                event=rate.event,
                per=rate.per,
                when=tuple(when),
                since=self.since,
                until=self.until,
                direction=direction or ("more" if sign > 0 else "less"),  # type: ignore[arg-type]
                club=club,
                minimum=minimum,
                about="record" if record else "underlying",
                options=options,
            )
        ]

    def _club(self, person: Person | None, kind: str, ranked: bool) -> str:
        """Return the club within which is compared; one that only tells whose hitter somebody is, is none."""
        clubs = list(dict.fromkeys(self.clubs))
        t = self.t
        if person is not None and person.subject == "club":
            return ""
        if t.has("owngroup", "ownclub") and ranked and person is not None and person.subject == "hitter":
            return person.club
        if not clubs:
            return ""
        if len(clubs) > 1 or (person is not None and person.subject != "hitter"):
            raise UnfitError("which club?")
        if person is not None and person.club and clubs[0] not in person.club:
            raise UnfitError(f"{person.label} is not of the {clubs[0]} in this table: who is meant?")
        whole = t.has("theleague")
        line = t.line()
        told = _ONES_CLUB.search(line) is not None
        if not ranked and not told:
            raise UnfitError("the club plays no part in it: whom is it about?")
        beside = (
            " <who> of the <who> " in line or " <who> of <who> " in line or " <who> from the <who> " in line
        )
        if ranked and kind in ("leads", "top") and not beside and not whole:
            return clubs[0]
        if ranked and kind in ("leads", "top") and beside and not whole and not t.has("anyone", "nobody"):
            raise UnfitError("in the league, or in the club?")
        return ""


def _rate_of(rate: Rate, terms: list[str]) -> dict[str, Any]:
    when = [*terms, *rate.when]
    return {"event": rate.event, "per": rate.per, **({"when": when} if when else {})}


_ONES_CLUB = re.compile(
    r" <who> (?:, )?(?:of|from|on|with|for) (?:the )?<who> | <who> <who> | <who> , <who> , "
)
"""A club that tells whose hitter somebody is."""

_COMPLEMENTS = {
    "pitcher_hand=left": "pitcher_hand=right",
    "hitter_side=left": "hitter_side=right",
    "bases=first,second,third,first second,first third,second third,full": "bases=empty",
    "in the zone": "outside the zone",
    "own side": "other side",
}
_COMPLEMENTS |= {there: here for here, there in _COMPLEMENTS.items()}


def _complement(term: str) -> str:
    """Return the situation that is just all the other pitches; empty where there is none."""
    return _COMPLEMENTS.get(term, "")


def _one_thing(terms: list[str]) -> bool:
    """Say whether several terms are one thing that is pitched: a high fastball, a slider low and away."""
    return (
        len(terms) == 1
        or all(term.startswith(_PLACING) for term in terms)
        or ({term.split("=")[0] for term in terms} == {"balls", "strikes"})
    )


def _lacking(questions: list[Question], known: Known) -> str:
    """Say what the table would have to have; empty where it has it."""
    for question in questions:
        asked = list(question.when)
        terms = [situation(*asked)] if asked else []
        for part in ("first", "second"):
            when = question.options.get(part, {}).get("when") if question.kind == "together" else None
            terms += [situation(*when)] if when else []
        for name in (question.event, question.per):
            inside = base_and_situation(name)[1] if restricted(name) else None
            terms += [inside] if inside is not None else []
        if known.columns is None and (terms or question.since or question.until):
            return "situations and days ask for single pitches, and this is a table of counts"
        for one in terms:
            absent = [
                column for column in one.columns if known.columns is not None and column not in known.columns
            ]
            absent = [column for column in absent if column != "previous_whiff"]
            if absent:
                return f"this table has no column {absent[0]}, which tells whether a pitch was {one.words}"
        if (question.since or question.until) and known.days is None:
            return "no day is recorded in this table"
        if known.days is not None:
            first, last = (f"{day:%Y-%m-%d}" for day in known.days)
            if question.since > last or (question.until and question.until < first):
                return f"the table's games are from {first} to {last}, so none are left"
    return ""
