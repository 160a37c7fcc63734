"""From the slots of a sentence to the question it asks, to the choices that it leaves, or to neither.

A kind of claim fits where all that it needs was found and nothing was found that it has no use for. What was
found and has no use, or a word that nothing explains, forbids a silent answer: the question without it is
offered, and asked back.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import Any

from hitlab.asking.about import questions_about
from hitlab.asking.marks import BaldError, Marks, UnfitError
from hitlab.asking.people import Known, Person
from hitlab.asking.phrases_rates import HARD, WHIFFS, Rate
from hitlab.asking.phrases_situations import BEFORE
from hitlab.asking.risk import TURNING, risky
from hitlab.asking.said import Said
from hitlab.asking.sides import EVERY_ONE
from hitlab.asking.slots import Slots, not_together, people_of
from hitlab.asking.text import Text
from hitlab.claims.response_claim import USUAL
from hitlab.counting.events import fitting_denominators
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.counting.situations import situation
from hitlab.idle_words import WEIGHTY
from hitlab.pitches.schema import BASES
from hitlab.questions.question import About, Question

__all__ = ["Fitted", "fit", "lacking"]

_LISTED = re.compile(
    r" (?:(?:the|our|league|give|me|show|list|name|what|is|are|so|and|,) )*<(?:top|bottom)> "
)
"""A list that is asked for: "top five in contact"; somebody who is in it would stand before."""
_WHOM = re.compile(r" (?:against|off|from|<vs>) whom (?:does|do|did|has) <who> ")
_DONE_BY = re.compile(r" (?:by|<vs>) <who> |<whose> (?:does|did) <who> ")
"""Who is asked for does it against the one who is named, or has it done to him."""
_BEST_ON = re.compile(
    r"^ (?:(?!<who>)[^ ]+ )*<(?:most|best)> (?:(?!<who>)[^ ]+ )*(?:on|in|from|among) (?:the )?<who> "
)
"""Who of a club does it most, though nobody is asked after: "most whiffs per swing on the Larks"."""
_BEST_OF_ALL = re.compile(r" (?:the )?<(?:most|best)> <rate> (?:(?!<who>)[^ ]+ )*$")
"""A list is asked for, though nobody is asked after: "best contact hitter against changeups"."""


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
    light
        Whether what is asked back is no more than whether it is this question: nothing that may turn it plays
        no part in it.
    bald
        Where a habit is told and nobody it is compared with, the question with the league in their place.
    """

    questions: list[Question] = field(default_factory=list)
    asks: str = ""
    why: str = ""
    usual: bool = False
    light: bool = False
    bald: Question | None = None


def fit(slots: Slots, known: Known) -> Fitted:
    """Return what a sentence comes to."""
    fitter = _Fitter(slots, known)
    try:
        questions = fitter.questions()
    except UnfitError as unfit:
        if isinstance(unfit, BaldError) and any(word.text in TURNING for word in slots.strange):
            unfit.offered.clear()
        if not slots.text.has("rate", "better", "best") and slots.text.has("more", "most") and slots.strange:
            unfit.offered.clear()  # More of what no table has: "her slider spins more than hers".
        alone = isinstance(unfit, BaldError) and len(unfit.offered) == 1 and not fitter.loose()
        bald = unfit.offered[0] if alone else None
        left = [slots.text.typed(word) for word in risky(slots.text, slots.strange)]
        left = [one for one in left if one not in unfit.asks]
        asks = unfit.asks
        if unfit.offered and left:
            asks += "" if asks.endswith(("?", ".")) else "."
            asks += f" What is offered leaves out {', '.join(f'“{one}”' for one in left[:6])}."
        return Fitted(unfit.offered, asks, "", fitter.usual, bald is not None, bald)
    why = lacking(questions, known)
    if why:
        return Fitted([], "", why)
    loose = fitter.loose()
    if turned := _other_way(fitter, loose, questions):
        return Fitted(
            turned, f"“{loose[0]}” denies it, so the other way is offered: is it that?", "", fitter.usual
        )
    if loose:
        told, light = ", ".join(f"“{words}”" for words in loose[:6]), _light(fitter, loose)
        asks = f"{told} would play no part in it: is it this all the same, without"
        asks += " it?" if len(loose) == 1 else " them?"
        if len(loose) == 1 and any(word.text == EVERY_ONE for word in slots.strange):
            asks = f"{told}: is that said of every single one of them?"
        return Fitted(questions, asks, "", fitter.usual, light=light)
    if len(questions) > 1:
        return Fitted(questions, fitter.choice or "which of these is meant?", "", fitter.usual)
    return Fitted(questions, "", "", fitter.usual)


_DENIED = re.compile(
    r" <(?:not|never)> (?:(?:[a-z]+ ){0,2}<(?:rate|more|above|below|hitharder)>|(?:true|so|the case) that) "
)
"""What is done, or how often, is denied, and nothing beside it."""


def _other_way(fitter: Marks, loose: list[str], questions: list[Question]) -> list[Question]:
    """Return the other way of questions of which nothing but a denial plays no part; none elsewhere."""
    t = fitter.text
    denials = [t.typed(word) for word in t.words if word.text in ("<not>", "<never>")]
    if loose != denials or len(denials) != 1 or not _DENIED.search(t.line()):
        return []
    ways = {one.direction for one in questions if one.kind in ("above", "more", "split", "ahead")}
    if len(ways) != 1 or ways == {"either"} or any(one.kind in ("leads", "top") for one in questions):
        return []
    return [replace(one, direction="less" if one.direction == "more" else "more") for one in questions]


def _light(fitter: Marks, loose: list[str]) -> bool:
    """Say whether words that play no part are no more than talk: none is known to carry meaning."""
    marked = any(word.text.startswith("<") and fitter.text.typed(word) in loose for word in fitter.text.words)
    plain = {word.text for one in loose for word in Text.of(one).words}
    numbered = any(sign.isdigit() for one in loose for sign in one)
    return not (marked or numbered or plain & (WEIGHTY | TURNING))


class _Fitter(Marks):
    """Which kind of claim the slots of one sentence make."""

    def questions(self) -> list[Question]:
        """Return the questions of the first kind that fits.

        Raises
        ------
        UnfitError
            Where something has to be asked back.
        """
        if any(word.text == "since" for word in self.slots.strange):
            raise UnfitError("since which day?")
        for kind in (self._response, self._spot, self._together):
            found = kind()
            if found is not None:
                return found
        return self._of_somebody()

    def _response(self) -> list[Question] | None:
        if not self.text.has("aftermiss", "learns"):
            return None
        self.has(
            *("alot", "aftermiss", "learns", "next", "more", "not", "record", "than", "before", "otherwise")
        )
        who = self._whos()
        if not who:
            self.has("theleague")
        rates = list(dict.fromkeys(self.values("rate")))
        if self.text.has("than", "before", "otherwise"):
            self.used -= {"than", "before"}
        if len(rates) > 1:
            raise UnfitError("what is said of the next pitch?")
        if self.has("samekind"):
            if rates:
                raise UnfitError("what is said of the next pitch?")
            [way] = self.text.values("more")[:1] or [-1 if self.text.has("not") else 1]
            told: dict[str, Any] = {"response": "same kind", **({"direction": "less"} if way < 0 else {})}
            return [
                Question(kind="response", who=label, options=told) for label in self._labels(who, "hitter")
            ]
        rate = rates[0] if rates else WHIFFS if self.text.has("learns") else None
        if rate is None:
            each = [
                Question(kind="response", who=label, options={} if one == "whiff" else {"response": one})
                for one in USUAL
                if one != "same kind"
                for label in self._labels(who, "hitter")
            ]
            raise UnfitError("what is said of the next pitch?", *each)
        named = {"whiffs": "whiff", "hard": "hard", "swings": "swing", "takes": "take"}
        if rate.event not in named or rate.when:
            raise UnfitError(
                "of the next pitch can be asked whether it is missed, swung at, let go or hit hard"
            )
        response = named[rate.event]
        signs = self.text.values("more")
        if len(signs) > 1 or (signs and self.text.has("not")):
            raise UnfitError("more or less often after a miss: which?")
        usual = 1 if USUAL[response] == "more" else -1
        sign = signs[0] if signs else -1 if self.text.has("not") else None
        if sign is None:
            sign = 1
            if response in ("whiff", "swing") and not self.text.has("learns"):
                ways = [
                    Question(kind="response", who=label, options={**asked, "direction": way})
                    for asked in ({} if response == "whiff" else {"response": response},)
                    for way in ("more", "less")
                    for label in self._labels(who, "hitter")
                ]
                raise UnfitError("more or less often after a miss: which?", *ways)
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
                if self.text.has("rate") and self.text.has("orwhom", "prefer", "more", "most"):
                    return None
                raise UnfitError("how many runs is the club behind, how many are out, and who is on base?")
            return None
        if any(sign < 0 for mark in ("better", "best") for sign in self.text.values(mark)):
            raise UnfitError("which of them is said to be the right one?")
        if self.text.has("whose") and any(
            person.subject == "club" for value in self.text.values("who") for person in value
        ):
            raise UnfitError("of all hitters, or of one club's? Name those of the club who can bat")
        self.has(
            *("spot", "lasthalf", "gap", "tied", "whose", "club", "vs", "nobody", "theleague"),
            *("owngroup", "than", "best", "better"),
        )
        terms = [term for terms in self.values("in") for term in terms]
        outs = {term.partition("=")[2] for term in terms if term.startswith("outs=")}
        bases = {term.partition("=")[2] for term in terms if term.startswith("bases=")}
        inning = {term for term in terms if term.startswith("inning")}
        if "runners on" in terms:
            bases.add(",".join(on for on in BASES if on != "empty"))
        others = [t for t in terms if t != "runners on" and not t.startswith(("outs=", "bases=", "inning"))]
        gaps = {-gap for gap in self.text.values("gap")} | ({0} if self.text.has("tied") else set())
        which = "how many runs is the club behind, how many are out, and who is on base?"
        if len(gaps) != 1 or len(outs) != 1 or len(bases) != 1 or others:
            raise UnfitError(which)
        only = "the right hitter can be asked for in the home half of the last inning only: is it that?"
        if inning - {"inning=9"}:
            raise UnfitError(only)
        # "Ducks on the pond" fit several: the most of them first.
        states = [(int(out), on) for out in outs.pop().split(",") for on in bases.pop().split(",")[::-1]]
        options: dict[str, Any] = {"gap": gaps.pop(), "outs": states[0][0], "bases": states[0][1]}
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
                each = [Question(kind="spot", who=found[0].label, options=options) for found in different]
                raise UnfitError("which of them is said to be the right one?", *each)
            different = chosen
        labels = self._labels(different, "hitter")
        asked = [Question(kind="spot", who=label, options=options) for label in labels]
        if len(states) > 1:
            told = [
                replace(one, options={**one.options, "outs": out, "bases": on})
                for out, on in states
                for one in asked
            ]
            raise UnfitError(which, *told)
        if inning and not self.text.has("lasthalf"):
            raise UnfitError(only, *asked)
        return asked

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
        # Who owns a kind of pitch hits it hard.
        rates = sorted(self.text.places("rate") + self.text.places("owns"))
        paired = self.has("gotogether") and not self.text.has("not", "more", "most")
        if self.text.has("who") or len(rates) != 2:
            return None
        if not paired and (
            (not self.slots.many and " ones " not in line)
            or (not self.text.has("whose") and " who " not in line and " that " not in line)
        ):
            return None
        first, second = rates
        found = []
        for part, place in ((self.text.words[:second], first), (self.text.words[second:], second)):
            rate: Rate = self.text.words[place].value or HARD
            terms = [term for word in part if word.text == "<in>" for term in word.value]
            terms += [
                f"{'pitcher_hand' if word.value[0] == 'hand' else word.value[0]}={word.value[1]}"
                for word in part
                if word.text == "<hand>"
            ]
            pers = [word.value for word in part if word.text == "<per>" and word.value != rate.per]
            if len(pers) > 1 or (pers and pers[0] not in fitting_denominators(rate.event, Conventions())):
                raise UnfitError("divided by what: two denominators are named?")
            rate = rate.done()
            told = _rate_of(replace(rate, per=pers[0]) if pers else rate, terms)
            if apart := not_together(*told.get("when", ())):
                raise UnfitError(apart)
            found.append(told)
        self.has("rate", "owns", "in", "hand", "whose", "more", "most", "per")
        for mark in ("more", "most"):
            if any(sign < 0 for sign in self.text.values(mark)):
                self.used.discard(mark)
        self.has("also", "alot", "theleague")
        self.text.take(r"(?:over|across|among) (?:(?:the|all|of) )*(?=hitters )")
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
            if all(pitchers) and not all(hitters) and self.text.has("than", "aheadof", "prefer"):
                hitters = [()] * len(people)  # Like is compared with like.
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
        if whos and not hitters and not pitchers and _BEST_ON.match(t.line()):
            whos = []
        ranked = re.match(
            _LISTED.pattern + r"(?:(?:hitters|bats|on|of|among|from|for|the) )*<who> ", t.line()
        )
        if ranked and whos and not hitters and not pitchers and not t.has("more", "than"):
            whos = []  # "The top five Lanterns": hitters of the club
        whose = t.values("whose") if marks[:1] == ["<whose>"] and not t.has("than") else []
        if _WHOM.search(t.line()) or (whose == ["pitcher"] and hitters and not pitchers):
            raise UnfitError(
                "which of all pitchers it is cannot be asked of a hitter; of one who is named can"
            )
        if whose in (["hitter"], ["club"]) and len(pitchers) == len(whos) == 1 and _DONE_BY.search(t.line()):
            # "Who misses most against him": one of those who face him.
            if len(pitchers[0]) > 1:
                raise UnfitError("which pitcher?")
            self.has("vs")
            self.text.take(r"(?:by|does|did) (?=<who>)")
            terms.append(f"pitcher={pitchers[0][0].label}")
            whos = pitchers = []
        if self.slots.allowing:
            self._of_pitchers(hitters, pitchers, whos)
        if hitters and not pitchers and self._own_pitch():
            raise UnfitError("that is said of somebody who pitches: whom is it about?")
        if self.slots.pitching and hitters and not pitchers:
            # "Pitcher" said of somebody whose name a hitter has, too.
            also = [people_of(value, "pitcher") for value in t.values("who")]
            if any(also):
                pitchers, hitters, whos = [w for w in also if w], [], [w for w in also if w]
        if hitters and pitchers:
            if t.has("owns") and not t.has("vs"):
                self._owned(hitters, pitchers)
            elif len(pitchers) > 1 or len(pitchers[0]) > 1 or not self.has("vs"):
                raise UnfitError("a hitter and a pitcher are named: whom is it about?")
            terms.append(f"pitcher={pitchers[0][0].label}")
            whos = hitters
        subject = whos[0][0].subject if whos else "hitter"
        if pitchers and not hitters:
            self.has("vs")
        if not whos and not self._nobody_needed():
            if self.slots.bare:
                raise UnfitError("nobody is named: whom is it about?")
            raise UnfitError(
                "" if not (t.has("rate") and self._compared()) else "nobody is named: whom is it about?"
            )
        return questions_about(Said(self, whos, subject, clubs, terms))

    def _owned(self, hitters: list[Any], pitchers: list[Any]) -> None:
        """Ask back what is meant where a pitcher is said to own a hitter."""
        if len(hitters) != 1 or len(pitchers) != 1 or len(hitters[0]) != 1 or len(pitchers[0]) != 1:
            raise UnfitError("a hitter and a pitcher are named: whom is it about?")
        places = self.text.places("who")
        before = [n for n in places if n < self.text.places("owns")[0]]
        owner = people_of(self.text.words[before[-1]].value, "pitcher") if before else ()
        if before and not owner:
            return
        told = {"kind": "above", "who": hitters[0][0].label, "when": (f"pitcher={pitchers[0][0].label}",)}
        offered = [
            Question(**told, event=event, direction=way, options={"value": "league"})  # type: ignore[arg-type]
            for event, way in (("whiffs", "more"), ("hard", "less"))
        ]
        raise UnfitError("misses more, or hits it hard less often, against that pitcher: which?", *offered)

    def _of_pitchers(self, hitters: list[Any], pitchers: list[Any], whos: list[Any]) -> None:
        """Ask back where what pitchers do is said of hitters, of a club, or of nobody who pitches.

        A club's counts are those of its hitters.
        """
        t = self.text
        if whos and not hitters and not pitchers and (not t.has("whose") or "club" in t.values("whose")):
            raise UnfitError("the rates of a club are those of its hitters: of which pitcher is it said?")
        if "club" in t.values("whose"):
            raise UnfitError("the rates of a club are those of its hitters: of which pitcher is it said?")
        if hitters and not pitchers and not any(people_of(value, "pitcher") for value in t.values("who")):
            raise UnfitError("that is said of somebody who pitches: whom is it about?")
        if not hitters and not pitchers and "hitter" in t.values("whose"):
            raise UnfitError("of the pitchers? Then say: which pitcher")

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
        return (
            self.text.has("theleague", "whose", "dreaded")
            or bool(_LISTED.match(self.text.line()) or _BEST_ON.match(self.text.line()))
            or bool(
                _BEST_OF_ALL.match(self.text.line())
                and not self.slots.bare
                and not self.text.has("than", "not")
            )
            or (self.slots.all_hitters and self.text.has("above", "below", "near", "since"))
            or (self.slots.all_hitters and self.text.has("more") and self.text.has("in", "span"))
        )

    def _compared(self) -> bool:
        return self.text.has(
            *(
                *("more", "most", "better", "best", "above", "below", "near", "league", "anyone"),
                *("always", "never"),
            ),
            *("hot", "steady", "owns", "cannotlayoff", "top", "different", "not", "leads"),
        )


def _rate_of(rate: Rate, terms: list[str]) -> dict[str, Any]:
    when = [*terms, *rate.when]
    return {"event": rate.event, "per": rate.per, **({"when": when} if when else {})}


def lacking(questions: list[Question], known: Known) -> str:
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
            if question.kind == "more" and question.since <= first:
                return f"the table's games are from {first} to {last}, so nothing is before that day"
    return ""
