"""What is said of somebody: rate, direction, situation, days and club, and the questions that these make.

Each kind of claim (``about_days``, ``about_many``, ``about_splits``, ``about_values``) looks at one of these,
takes the marks that it uses, and asks for its questions by :meth:`Said.each`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

from hitlab.asking.marks import Marks, UnfitError
from hitlab.asking.neighbours import on_both_sides
from hitlab.asking.people import Person
from hitlab.asking.phrases_rates import CHASES, CONTACT, HARD, HOMERS, WHIFFS, Rate
from hitlab.asking.slots import hand_term, not_together
from hitlab.counting.days import day_in
from hitlab.counting.events import event_words, fitting_denominators, per_words
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.questions.question import Question
from hitlab.wording import club_called

__all__ = ["LEAGUE", "UNNAMED", "Said", "one_thing", "only_of_hitters"]

_PLACING = (
    *("pitch_kind", "speed_mph", "up", "down", "inside", "away", "in the zone", "outside the zone"),
    "over",
)
LEAGUE = {"value": "league"}
UNNAMED = ((CONTACT, 1), (HARD, 1), (CHASES, -1), (WHIFFS, -1))
"""The rates that are offered where none is named, and the direction in which each is good for a hitter."""
_FAR_ABOVE = 1.5
"""So many times the highest rate of any hitter: what may be claimed of nobody, in no situation either."""
_DENOMINATORS = {
    "swings": "swings",
    "pitches": "pitches",
    "at bats": "at_bats",
    "plate appearances": "plate_appearances",
    "balls in play": "in_play",
    "contacts": "contact",
}

_LISTED = {"pitcher": "pitcher", "arm": "pitcher", "club": "club", "team": "club"}
_BEST_OF = re.compile(
    r"^ (?:<whose> (?:is |are |has |have )?)?(?:the |our )?<(?:best|most)> "
    r"(?:[a-z]+ )?(pitchers?|arms?|clubs?|teams?) "
)
_MOVED = re.compile(
    r"\b(?:up|down|off|ris(?:e|en|ing)|rose|f[ae]ll\w*|dropped|climbed|jumped|increased|declined|dipped|soared)\b",
    re.IGNORECASE,
)
"""More or less than before, though it is not said than when: her strikeouts are up."""
_ONES_CLUB = re.compile(
    r"(?<! in)(?<! at)(?<! on)(?<! for)(?<! against) "
    r"(?:<who> (?:, )?(?:of|from|on|with|for) (?:the )?<who> |<who> <who> |<who> , <who> , )"
)
"""A club that tells whose hitter somebody is."""


class Said:
    """What is said of somebody; nobody is named where ``whos`` is empty."""

    def __init__(
        self,
        marks: Marks,
        whos: list[tuple[Person, ...]],
        subject: str,
        clubs: list[str],
        terms: list[str],
    ) -> None:
        self.marks, self.text = marks, marks.text
        self.whos, self.subject, self.clubs = whos, subject, clubs
        self.terms = [*terms, *self._terms()]
        degrees = " ".join(self.text.typed(word) for word in self.text.words if word.text == "<more>")
        self.than_before = self.text.has("before") or _MOVED.search(degrees) is not None
        self.part_of_before = False  # Whether only a part of what was before a span is named.
        self.since, self.until = self._days()
        self.marks.has("alot", "also")
        told = [self.text.typed(word) for word in self.text.words if word.text == "<allyear>"]
        if not (self.since or self.until) and all(re.search("year|season", one) for one in told):
            self.marks.has("allyear")

    def _terms(self) -> list[str]:
        terms = [term for told in self.marks.values("in") for term in told]
        for column, side in self.marks.values("hand"):
            unclear = column == "hand" and not self.whos and not self._faced()
            if unclear and (not self.text.has("whose") or self.marks.slots.pitching):
                raise UnfitError(f"{side}-handed hitters, or {side}-handed pitchers?")
            terms.append(hand_term((column, side), self.subject))
        return list(dict.fromkeys(terms))

    def _faced(self) -> bool:
        """Say whether a hand is that of those who are faced: ``the best hitters against lefties``."""
        hands = [word for word in self.text.words if word.text == "<hand>"]
        led = [self.text.typed(word).casefold().split()[0] for word in hands]
        return not self.marks.slots.pitching and set(led) <= {"against", "vs", "versus", "facing", "off"}

    def _days(self) -> tuple[str, str]:
        since, until, spans = (self.marks.values(mark) for mark in ("since", "until", "span"))
        if (
            len(since) == 1
            and len(spans) == 1
            and self.text.has("before")
            and self._all_before(spans[0], since[0])
        ):
            spans = []
        if len(spans) == 2 and not (since or until):
            spans = self._against_before(*spans)
        if len(since) > 1 or len(until) > 1 or len(spans) > 1 or (spans and (since or until)):
            raise UnfitError("several days are named: from which one to which?")
        if spans:
            days = self.marks.known.days
            if self.than_before and days is not None and spans[0][1] >= f"{days[1]:%Y-%m-%d}":
                return spans[0][0], ""  # The last span of the table against what was before it.
            return spans[0][0], spans[0][1]
        return (since or [""])[0], (until or [""])[0]

    def _against_before(self, *spans: tuple[str, str]) -> list[tuple[str, str]]:
        """Return the one span that is compared with another before it: in May than in April."""
        t = self.text
        degrees = [word for word in t.words if word.text in ("<more>", "<better>")]
        if not re.search(r" <span> .*<than> (?:[^<]+ )*<span> ", t.line()):
            return list(spans)
        if spans[0][1] < spans[1][0] and len(degrees) == 1:  # Before more often than after it.
            spans, degrees[0].value = spans[::-1], -degrees[0].value
        if spans[1][1] >= spans[0][0]:
            return list(spans)
        self.than_before, self.part_of_before = True, not self._all_before(spans[1], spans[0][0])
        place = t.places("than")[0]
        t.respell(t.words[place], "<before>")
        t.words = [word for word in t.words if word.text != "<span>" or word.value != spans[1]]
        return [spans[0]]

    def _all_before(self, span: tuple[str, str], since: str) -> bool:
        """Say whether a span is all of the table before a day, but for a few days: what is compared with."""
        days = self.marks.known.days
        if days is None or span[0] > f"{days[0]:%Y-%m-%d}":
            return False
        return span[1] < since <= f"{day_in(span[1], []) + timedelta(days=7):%Y-%m-%d}"

    def rates(
        self, *, default: bool, offer: Callable[[Rate, int], list[Question]] | None = None
    ) -> list[Rate]:
        """Return the rate that is named, as one or as the ones that it may be; the usual one where none is.

        Raises
        ------
        UnfitError
            Where several are named, or none and the sentence does not leave it to the trade's usual meaning.
        """
        found: list[Rate] = list(dict.fromkeys(self.marks.values("rate")))
        if self.marks.has("hitharder") and HARD not in found:
            found.append(HARD)
        if self.text.has("owns") and self.subject == "pitcher":
            raise UnfitError("which rate, and more or less of it: what do hitters do against the pitcher?")
        if self.text.has("owns", "cannotlayoff"):
            self.marks.has("owns", "cannotlayoff")
            swings = Rate("swings", "pitches", luckless=None)
            found = [one for one in found if one != HARD] + ([HARD] if self.text.has("owns") else [])
            found += [swings] if self.text.has("cannotlayoff") and not found else []
        if len(found) > 1:
            raise UnfitError("this names more than one rate, and each is a claim of its own: which?")
        if found and self.text.has("above", "below", "near", "always", "hot", "steady", "different"):
            found = [found[0].done()]
        if not found:
            if not default:
                told = [q for rate, sign in UNNAMED for q in offer(rate, sign)] if offer is not None else []
                raise UnfitError("which rate: hard-hit balls, whiffs, contact, chases?", *told)
            self.marks.usual = True
            found = [HARD]
        powers = [word for word in self.text.words if word.text == "<rate>"]
        if not self.since and any(self.text.typed(word).casefold() == "power" for word in powers):
            # Of somebody beside others; power that is lost or found since a day is how hard it is hit.
            self.marks.choice = "hard-hit balls, or home runs: which?"
            return [HARD, HOMERS]
        return self._divided(found[0])

    def _divided(self, rate: Rate) -> list[Rate]:
        pers = set(self.marks.values("per"))
        if pers == {"swings", "pitches"} and rate.per == "pitches":
            pers = {"pitches"}
        if rate.event == "in_play" and "in_play" in pers:
            pers.discard("in_play")
        if len(pers) > 1:
            raise UnfitError("divided by what: two denominators are named?")
        if not pers:
            if rate.either:
                self.marks.choice = "of balls in play, as many say, or of swings: which?"
                return [replace(rate, per=rate.either, either=""), replace(rate, either="")]
            return [rate]
        per = pers.pop()
        event = base_and_situation(rate.event)[0] if restricted(rate.event) else rate.event
        if per != rate.per and per != event and per not in fitting_denominators(event, Conventions()):
            raise self._of_nothing(rate, per)
        return [replace(rate, per=per if per != event else rate.per, either="")]

    def _of_nothing(self, rate: Rate, per: str) -> UnfitError:
        """Return what is asked back of a rate that has no share of what it is divided by."""
        whole = fitting_denominators(rate.event, Conventions())
        told = f"{event_words(rate.event)} are not counted per {per_words(per)}"
        if not whole:
            return UnfitError(f"{told}: divided by what?")
        return UnfitError(f"{told}, but per {', '.join(map(per_words, whole))}: divided by what?")

    def sign(self, rate: Rate, offer: Callable[[int], list[Question]] = lambda sign: []) -> int:
        """Return whether more or less of it is said, from all that says so.

        What is offered where that is not clear is told by a function of the direction.

        Raises
        ------
        UnfitError
            Where it is said in two ways, or whether better is more or less is not clear.
        """
        f = self.marks
        signs = {*f.values("more"), *f.values("most")}
        judged = {*f.values("better"), *f.values("best")}
        if f.has("hitharder"):
            signs.add(1)
        if f.has("nobetter"):
            judged.add(1)
        if judged and not signs and self.subject == "pitcher" and rate.luckless is not None and f.has("rate"):
            # The best rate of a pitcher is the one that is worst for who hits.
            signs = {sign * (1 if rate.luckless else -1) * rate.sign for sign in judged}
        elif judged and not signs:
            # "The best at laying off" does it most.
            avoided = rate.luckless and rate.sign < 0 and not self.text.has("better")
            if (rate.luckless is not False and not avoided) or (
                self.subject == "pitcher" and not self.text.has("vs") and not f.slots.many
            ):
                told = [q for sign in (rate.sign, -rate.sign) for q in offer(sign)]
                raise UnfitError("more or less of it: which is better?", *told)
            signs = judged
        elif judged and not (judged == signs == {1}):
            raise UnfitError("more or less of it: which?")
        if len(signs) > 1:
            raise UnfitError("more or less of it: which?")
        return (signs.pop() if signs else 1) * rate.sign

    def signed(self, kind: str, rate: Rate, *, turned: int = 1, **told: Any) -> list[Question]:
        """Return what is asked in the direction that is said; both are offered where it is not clear.

        It is turned round by -1, where it is said of the others.
        """

        def each(sign: int) -> list[Question]:
            return self.each(kind, rate, turned * sign, **told)

        return each(self.sign(rate, each))

    def numbered(self, rates: list[Rate], value: float) -> list[Rate]:
        """Return both denominators of hard-hit balls where a number is higher than any hitter's per swing."""
        [rate, *more] = rates
        per_swing = rate.event == HARD.event and rate.per == HARD.per and not self.text.has("per")
        if more or not per_swing or self.subject == "pitcher":
            return rates
        hardest = self.marks.known.hardest
        if value <= _FAR_ABOVE * hardest:
            return rates
        self.marks.choice = (
            "nobody in this table who swung often hits more "
            f"than {hardest:.0%} of swings hard: is it of swings, "
            "or of balls in play?"
        )
        return [rate, replace(rate, per="in_play", either="")]

    def each(
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
        """Return what is asked of everybody who may be named; an :class:`UnfitError` where it is of two."""
        if len(self.whos) > 1:
            raise UnfitError("two are named: whom is it about?")
        people: tuple[Person | None, ...] = self.whos[0] if self.whos else (None,)
        if len(people) > 1 and self.whos:
            self.marks.choice = (
                f"{len(people)} {people[0].subject}s are called so: which?" if people[0] else ""
            )
        return [
            question
            for person in people
            for question in self.one(
                kind, person, rate, sign, options or {}, direction=direction, ranked=ranked, terms=terms
            )
        ]

    def above(self, rate: Rate, sign: int, person: Person, value: Any) -> Question:
        """Return whether somebody is above or below a value, or the league."""
        [question] = self.one("above", person, rate, sign, {"value": value})
        return question

    def one(
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
        """Return what is asked of one person, or of all; an :class:`UnfitError` where it cannot be."""
        f, t = self.marks, self.text
        if kind != "split" and on_both_sides(t):
            raise UnfitError(
                "two situations are named, one on each side of what is compared: of which is it?"
            )
        who, subject = ("", "hitter") if person is None else (person.label, person.subject)
        if person is None and kind in ("leads", "top"):
            subject = next((of for of in (*f.values("whose"), self.listed()) if of != "hitter"), "hitter")
        if person is None and kind in ("above", "near", "more", "split"):
            if not f.has("theleague") and not f.slots.all_hitters:
                raise UnfitError("nobody is named: whom is it about?")
            subject = "league"
            if options.get("value") == "league":
                raise UnfitError("the league against itself is no comparison: whom is it about?")
        elif person is None and kind not in ("leads", "top"):
            raise UnfitError("nobody is named: whom is it about?")
        if kind in ("hot", "steady") and subject != "hitter":
            raise UnfitError(only_of_hitters(subject))
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
        if apart := not_together(*when):
            raise UnfitError(apart)
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

    def listed(self) -> str:
        """Return of whom a list or the best is asked for: ``top five pitchers``, ``the best club``."""
        told = [self.text.typed(w).casefold() for w in self.text.words if w.text in ("<top>", "<bottom>")]
        behind = _BEST_OF.search(self.text.line())
        told += [behind[1]] if behind is not None else []
        return next((of for noun, of in _LISTED.items() if any(noun in one for one in told)), "hitter")

    def _club(self, person: Person | None, kind: str, ranked: bool) -> str:
        """Return the club within which is compared; one that only tells whose hitter somebody is, is none."""
        clubs = list(dict.fromkeys(self.clubs))
        t = self.text
        if person is not None and person.subject == "club":
            return ""
        if t.has("owngroup", "ownclub") and ranked and person is not None and person.subject == "hitter":
            return person.club
        if not clubs:
            return ""
        if len(clubs) > 1 or (person is not None and person.subject != "hitter"):
            raise UnfitError("which club?")
        if person is not None and person.club and clubs[0] not in person.club:
            raise UnfitError(
                f"{person.label} is not of {club_called(clubs[0]).name} in this table: who is meant?"
            )
        whole = t.has("theleague")
        line = t.line()
        told = _ONES_CLUB.search(line) is not None
        if not ranked and not told:
            raise UnfitError("the club plays no part in it: whom is it about?")
        if ranked and whole and not told:
            raise UnfitError("in the league, or in the club?")
        beside = (
            " <who> of the <who> " in line or " <who> of <who> " in line or " <who> from the <who> " in line
        )
        if ranked and kind in ("leads", "top") and not beside and not whole:
            return clubs[0]
        if ranked and kind in ("leads", "top") and beside and not whole and not t.has("anyone", "nobody"):
            raise UnfitError("in the league, or in the club?")
        return ""


def one_thing(terms: list[str]) -> bool:
    """Say whether several terms are one thing that is pitched: a high fastball, a slider low and away."""
    return (
        len(terms) == 1
        or all(term.startswith(_PLACING) for term in terms)
        or ({term.split("=")[0] for term in terms} == {"balls", "strikes"})
    )


def only_of_hitters(subject: str) -> str:
    """Say that hot and steady are asked of hitters only, and what can be asked of a pitcher or a club."""
    return f"whether a {subject} is hot or steady cannot be asked, only a hitter; of a {subject}: since a day"
