"""Questions about somebody: the rate, the situation and the days that are told, and what is said of them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from itertools import product
from typing import Any

from hitlab.asking.marks import BaldError, Marks, UnfitError
from hitlab.asking.neighbours import denied_elsewhere, on_both_sides
from hitlab.asking.numbers import ALWAYS
from hitlab.asking.people import Person
from hitlab.asking.phrases import CHASES, CONTACT, HARD, WHIFFS, Rate
from hitlab.asking.risk import risky
from hitlab.asking.slots import going_together, hand_term
from hitlab.counting.days import day_in
from hitlab.counting.events import event_words, fitting_denominators, per_words
from hitlab.counting.facts import Conventions
from hitlab.counting.own_events import base_and_situation, restricted
from hitlab.errors import ClaimError
from hitlab.questions.question import Question

__all__ = ["About"]

_PLACING = (
    *("pitch_kind", "speed_mph", "up", "down", "inside", "away", "in the zone", "outside the zone"),
    "over",
)
_LEAGUE = {"value": "league"}
_COMPARES = (
    *("more", "better", "most", "best", "hitharder", "than", "league", "anyone", "above", "below", "near"),
    *("always", "hot", "steady", "different", "otherwise", "usual", "leads", "top"),
)
_VAGUE: dict[str, tuple[str, tuple[tuple[Rate, int], ...]]] = {
    "struggles": ("misses more, or hits it hard less often: which?", ((WHIFFS, 1), (HARD, -1))),
    "giveaway": (
        "chases more, misses more, or hits it hard less often: which?",
        ((CHASES, 1), (WHIFFS, 1), (HARD, -1)),
    ),
    "undisciplined": (
        "chases more, or swings more at all pitches: which?",
        ((CHASES, 1), (Rate("swings", "pitches", luckless=None), 1)),
    ),
    "sees": (
        "misses less, chases less, or hits it hard more often: which?",
        ((WHIFFS, -1), (Rate("swings", "pitches", ("outside the zone",), luckless=True), -1), (HARD, 1)),
    ),
    "toughout": (
        "strikes out less, makes contact more often, or fouls more off: which?",
        (
            (Rate("strikeouts", "plate_appearances", luckless=True), -1),
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

_UNNAMED = ((CONTACT, 1), (HARD, 1), (CHASES, -1), (WHIFFS, -1))
"""The rates that are offered where none is named, and the direction in which each is good for a hitter."""
_INSTEAD = {"whiffs": CONTACT, "contact": WHIFFS, "swings": Rate("takes", "pitches")}
"""What is done more often where something is done less often."""
_FAR_ABOVE = 1.5
"""So many times the highest rate of any hitter: what may be claimed of nobody, in no situation either."""
_LATELY = 14  # days; a fortnight, as long as twelve games

_DENOMINATORS = {
    "swings": "swings",
    "pitches": "pitches",
    "at bats": "at_bats",
    "plate appearances": "plate_appearances",
    "balls in play": "in_play",
    "contacts": "contact",
}


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
_AT_ALL = re.compile(
    r" (?:has|have|had|did) (?:<who> )?(?:<never>|<not>|ever) (?:(?:ever|even|once|yet) )*<rate> |"
    r" (?:does|do) <who> ever <rate> "
)
"""Not done once, or whether it is ever: nothing of how often."""
# "Hit" is the same today and yesterday.
_DONE = re.compile(r"(?:[a-z]+ed|swung|laid|took|made|went|struck)\b")
_ONE = {
    "swings": "swing",
    "pitches": "pitch",
    "in_play": "ball in play",
    "contact": "contact",
    "at_bats": "at bat",
    "plate_appearances": "plate appearance",
}


class About:
    """A question about somebody: rate, situation, days, and the kind that its comparison makes."""

    def __init__(
        self,
        fitter: Marks,
        whos: list[tuple[Person, ...]],
        subject: str,
        clubs: list[str],
        terms: list[str],
    ) -> None:
        self.f, self.t = fitter, fitter.text
        self.whos, self.subject, self.clubs = whos, subject, clubs
        self.terms = [*terms, *self._terms()]
        self.since, self.until = self._days()
        self.f.has("alot", "also")
        told = [self.t.typed(word) for word in self.t.words if word.text == "<allyear>"]
        if not (self.since or self.until) and all(re.search("year|season", one) for one in told):
            self.f.has("allyear")

    def _terms(self) -> list[str]:
        terms = [term for told in self.f.values("in") for term in told]
        for column, side in self.f.values("hand"):
            unclear = column == "hand" and not self.whos and not self._faced()
            if unclear and (not self.t.has("whose") or self.f.slots.pitching):
                raise UnfitError(f"{side}-handed hitters, or {side}-handed pitchers?")
            terms.append(hand_term((column, side), self.subject))
        return list(dict.fromkeys(terms))

    def _faced(self) -> bool:
        """Say whether a hand is that of those who are faced: ``the best hitters against lefties``."""
        hands = [word for word in self.t.words if word.text == "<hand>"]
        led = [self.t.typed(word).casefold().split()[0] for word in hands]
        return not self.f.slots.pitching and set(led) <= {"against", "vs", "versus", "facing", "off"}

    def _days(self) -> tuple[str, str]:
        since, until, spans = (self.f.values(mark) for mark in ("since", "until", "span"))
        if (
            len(since) == 1
            and len(spans) == 1
            and self.t.has("before")
            and self._all_before(spans[0], since[0])
        ):
            spans = []
        if len(since) > 1 or len(until) > 1 or len(spans) > 1 or (spans and (since or until)):
            raise UnfitError("several days are named: from which one to which?")
        if spans:
            days = self.f.known.days
            if self.t.has("before") and days is not None and spans[0][1] >= f"{days[1]:%Y-%m-%d}":
                return spans[0][0], ""  # The last span of the table against what was before it.
            return spans[0][0], spans[0][1]
        return (since or [""])[0], (until or [""])[0]

    def _all_before(self, span: tuple[str, str], since: str) -> bool:
        """Say whether a span is all of the table before a day, but for a few days: what is compared with."""
        days = self.f.known.days
        if days is None or span[0] > f"{days[0]:%Y-%m-%d}":
            return False
        return span[1] < since <= f"{day_in(span[1], []) + timedelta(days=7):%Y-%m-%d}"

    # The rate.

    def rates(
        self, *, default: bool, offer: Callable[[Rate, int], list[Question]] | None = None
    ) -> list[Rate]:
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
        if found and self.t.has("above", "below", "near", "always", "hot", "steady", "different"):
            found = [found[0].done()]
        if not found:
            if not default:
                told = [q for rate, sign in _UNNAMED for q in offer(rate, sign)] if offer is not None else []
                raise UnfitError("which rate: hard-hit balls, whiffs, contact, chases?", *told)
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
            raise UnfitError(
                f"{event_words(rate.event)} are not counted per {per_words(per)}: divided by what?"
            )
        return [replace(rate, per=per if per != event else rate.per, either="")]

    def sign(self, rate: Rate, offer: Callable[[int], list[Question]] = lambda sign: []) -> int:
        """Return whether more or less of it is said, from all that says so.

        What is offered where that is not clear is told by a function of the direction.

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
            # "The best at laying off" does it most.
            avoided = rate.luckless and rate.sign < 0 and not self.t.has("better")
            if (rate.luckless is not False and not avoided) or (
                self.subject == "pitcher" and not self.t.has("vs") and not f.slots.many
            ):
                told = [q for sign in (1, -1) for q in offer(sign)]
                raise UnfitError("more or less of it: which is better?", *told)
            signs = judged
        elif judged and not (judged == signs == {1}):
            raise UnfitError("more or less of it: which?")
        if len(signs) > 1:
            raise UnfitError("more or less of it: which?")
        return (signs.pop() if signs else 1) * rate.sign

    def _signed(self, kind: str, rate: Rate, **told: Any) -> list[Question]:
        """Return what is asked in the direction that is said; both are offered where it is not clear."""

        def each(sign: int) -> list[Question]:
            return self._each(kind, rate, sign, **told)

        return each(self.sign(rate, each))

    def _numbered(self, rates: list[Rate], value: float) -> list[Rate]:
        """Return both denominators of hard-hit balls where a number is higher than any hitter's per swing."""
        [rate, *more] = rates
        per_swing = rate.event == HARD.event and rate.per == HARD.per and not self.t.has("per")
        if more or not per_swing or self.subject == "pitcher":
            return rates
        hardest = self.f.known.hardest
        if value <= _FAR_ABOVE * hardest:
            return rates
        self.f.choice = (
            "nobody in this table who swung often hits more "
            f"than {hardest:.0%} of swings hard: is it of swings, "
            "or of balls in play?"
        )
        return [rate, replace(rate, per="in_play", either="")]

    # The kinds.

    def questions(self) -> list[Question]:
        """Return the questions of the kind that the sentence makes."""
        for vague, (asks, rates) in _VAGUE.items():
            if self.t.has(vague):
                if self._told_apart(rates):
                    self.f.has(vague)
                else:
                    self._vague(vague, asks, rates)
        if self.t.has("slump") and self.t.has("whose"):
            raise UnfitError(
                "who has fallen most of all cannot be asked; of "
                "one hitter, and in which rate, since which day?"
            )
        self._not_asked()
        if self.t.has("slump"):
            raise UnfitError(
                "a slump in which rate, and since which day? Say it as: less often since that day than before"
            )
        for kind in (
            *(self._hot, self._steady, self._different, self._top, self._leads, self._ahead),
            *(self._value, self._usual, self._split, self._more, self._been_doing, self._bald),
        ):
            found = kind()
            if found is None:
                continue
            if kind in (self._top, self._leads, self._ahead, self._usual) and self._totalled(found[0]):
                asks = f"how many in all, or how often, per {_ONE[found[0].per]}?"
                raise UnfitError(asks, *found)
            return found
        raise UnfitError(self._what_else())

    def _not_asked(self) -> None:
        """Say of some sentences that no kind of question asks it, and offer what can be asked."""
        t = self.t
        named = list(dict.fromkeys(t.values("rate")))
        clubs = bool(self.whos) and self.subject == "club"
        many = t.has("manyof") or (t.has("nobody") and t.has("top") and not t.has("than"))
        if many and clubs and len(named) == 1:
            sign = -1 if -1 in {*t.values("more"), *t.values("most")} or t.has("bottom") else 1
            club = _within(self._one("leads", None, named[0], sign, {}, ranked=True), self.clubs[0])
            raise UnfitError("how many of a club do so cannot be asked; who of them does it most can", *club)
        if t.has("asleague") and len(self.whos) == 1:
            rates = named or [rate for rate, _ in _UNNAMED]
            told = [
                q
                for rate in rates
                for sign in (1, -1)
                for q in self._each("above", rate, sign, options=_LEAGUE)
            ]
            raise UnfitError("about as often as the league cannot be asked; more or less often can", *told)
        if t.has("hot", "steady") and t.has("whose") and not self.whos:
            raise UnfitError(
                "who is so most of all cannot be asked; whether one hitter is can be: whom is it about?"
            )
        if t.has("dreaded"):
            told = [
                q
                for rate, sign in ((WHIFFS, -1), (HARD, 1), (CONTACT, 1))
                for q in self._one("leads", None, rate, sign, {})
            ]
            raise UnfitError("best at what: missing least, hitting it hard, making contact?", *told)
        if len(named) == 2 and len(self.whos) == 1 and re.search(r" <more> <rate> <than> <rate> ", t.line()):
            told = [q for rate in named for q in self._each("above", rate, 1, options=_LEAGUE)]
            asks = (
                "two rates of one hitter against each other cannot be asked; each can be, against the league"
            )
            raise UnfitError(asks, *told)
        told_since = ("hot", "since", "span", "stretch", "before", "best", "otherwise", "usual", "than")
        lately = t.has("anymore", "lately") and not t.has(*told_since)
        denied = t.has("not") or -1 in t.values("anymore")
        signs = {*t.values("more"), *t.values("most")} or {-1 if denied else 1}
        if lately and len(named) == len(self.whos) == len(signs) == 1:
            raise UnfitError("since which day?", *self._recently(named[0], signs.pop() * named[0].sign))

    def _recently(self, rate: Rate, sign: int) -> list[Question]:
        """Return the last games against the others, and the last fortnight against what was before it."""
        instead = rate if sign > 0 else _INSTEAD.get(rate.event)
        told = []
        if instead is not None and self.subject == "hitter":
            told = self._each("hot", replace(instead, when=rate.when, sign=1))
        if self.f.known.days is not None:
            since = f"{self.f.known.days[1] - timedelta(days=_LATELY - 1):%Y-%m-%d}"
            told += [replace(q, since=since) for q in self._each("more", rate, sign)]
        return told

    def _what_else(self) -> str:
        f, t = self.f, self.t
        if t.has("lately", "before"):
            return "since which day?"
        if t.has("more", "better", "hitharder"):
            self._than_in_the_first_days()
            return "than whom, or than when?"
        if t.has("most", "best"):
            return "best at what, and among whom?"
        if t.has("spot"):
            return "how many runs is the club behind, how many are out, and who is on base?"
        if t.has("rate") or f.slots.text.has("in"):
            return "what of it: more often than whom, than the league, than before?"
        return "what is said of it?" if not f.slots.strange else ""

    def _than_in_the_first_days(self) -> None:
        """Offer since then, where it is said to be more than in the first month of the table."""
        spans, days = self.t.values("span"), self.f.known.days
        named = list(dict.fromkeys(self.t.values("rate")))
        if (
            len(spans) != 1
            or days is None
            or not self.t.has("than")
            or len(named) != 1
            or len(self.whos) != 1
        ):
            return
        if spans[0][0] > f"{days[0]:%Y-%m-%d}" or spans[0][1] >= f"{days[1]:%Y-%m-%d}":
            return
        since = f"{day_in(spans[0][1], []) + timedelta(days=1):%Y-%m-%d}"
        told = [
            replace(q, since=since, until="")
            for rate in named
            for q in self._each("more", rate, self.sign(rate))
        ]
        raise UnfitError("more often than in those days: since then?", *told)

    def _told_apart(self, rates: tuple[tuple[Rate, int], ...]) -> bool:
        """Say whether one of the rates that a word may mean is told, too: ``a good eye: she chases less``."""
        named = list(dict.fromkeys(self.t.values("rate")))
        signs = {*self.t.values("more"), *self.t.values("most")}
        if (
            len(named) != 1
            or len(signs) != 1
            or re.search(r" <(?:more|most)> [^<]*<patient> ", self.t.line())
        ):
            return False
        [rate], [sign] = named, signs
        told = (rate.event, rate.per, rate.when, sign * rate.sign)
        return any((one.event, one.per, one.when, way) == told for one, way in rates)

    def _vague(self, mark: str, asks: str, rates: tuple[tuple[Rate, int], ...]) -> None:
        if self.subject == "pitcher":
            raise UnfitError("which rate, and more or less of it?")
        others = [who for who in self.whos if len(who) > 1]
        if not others and len(self.whos) == 2 and self.t.has("than") and not self.t.has("not"):
            one, other = (who[0] for who in self.whos)
            told = [
                q
                for rate, sign in rates
                for q in self._one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
            ]
            raise UnfitError(asks, *told)
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
            asks = "hot over the last games, or more often since that day than before: which?"
            since, self.since = self.since, ""
            rates = self.rates(default=True)
            hot = [q for rate in rates for q in self._each("hot", rate, ranked=False)]
            more = [replace(q, since=since) for rate in rates for q in self._each("more", rate)]
            raise UnfitError(asks, *(more if self.until else [*more, *hot]))
        lately = t.has("lately", "stretch") and t.has("more") and self.t.has("otherwise", "usual")
        if not streak and not lately:
            return None
        if {"was", "were", "ever"} & {word.text for word in t.words}:
            now = [] if self.until else self._each("hot", HARD, ranked=False)
            raise UnfitError("hot over the last games can be asked, and no other time: is it that?", *now)
        f.has("hot", "lately", "stretch", "otherwise", "usual")
        rates = self.rates(default=True) if t.has("rate") else [HARD]
        f.usual = not t.has("rate")
        if (t.has("more") or t.has("better")) and self.sign(rates[0]) < 0:
            raise UnfitError("a streak is far more than usual; less of it is a change: since which day?")
        stretch = t.values("stretch")
        options = {"stretch": stretch[0]} if stretch else {}
        return [q for rate in rates for q in self._each("hot", rate, options=options, ranked=False)]

    def _steady(self) -> list[Question] | None:
        if not self.f.has("steady"):
            return None
        if not self.since:
            self.f.has("allyear")
        rates = self.rates(default=True)
        return [q for rate in rates for q in self._each("steady", rate, ranked=False)]

    def _different(self) -> list[Question] | None:
        if not self.t.has("different") or (self.t.has("than") and not self.since):
            return None
        if self.since and self.t.has("more"):
            return None
        named = list(dict.fromkeys(self.t.values("rate")))
        if not self.since and len(named) == 1 and _one_thing(self.terms) and self.whos and not named[0].when:
            # "With two strikes he is a different animal: he does not miss."
            self.f.has("different", "not")
            denied = self.t.values("not") or [-1 for sign in self.t.values("more") if sign < 0]
            if not denied_elsewhere(self.t) and len(denied) < 2 and not self.t.has("than", "most"):
                self.f.has("more", "rate")
                found = self._each("split", named[0], named[0].sign * (-1 if denied else 1))
                self.f.has("not")
                return found
        if not self.since:
            raise UnfitError("since which day?")
        self.f.has("different", "before")
        rates = self.rates(default=True)
        return [q for rate in rates for q in self._each("more", rate, direction="either")]

    def _top(self) -> list[Question] | None:
        f, t = self.f, self.t
        places = [*t.values("top"), *t.values("bottom")]
        place = t.values("place")
        if place and not places:
            rates = self.rates(default=False)
            told = [
                q
                for rate in rates
                for q in self._each("top", rate, self.sign(rate), options={"top": place[0]}, ranked=True)
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
        rates = self.rates(default=bool(self.terms) or t.has("per"))
        found = []
        for rate in rates:
            sign = self.sign(rate) * (-1 if t.has("bottom") else 1)
            if self._listed() == "pitcher" and not self.whos and not t.has("most", "more"):
                if rate.event not in ("strikeouts", "whiffs"):
                    told = [
                        q
                        for way in (1, -1)
                        for q in self._each("top", rate, way, options={"top": places[0]}, ranked=True)
                    ]
                    raise UnfitError("more often, or less often?", *told)
                sign = -1 if t.has("bottom") else 1
            if t.has("top") and rate.luckless and not t.has("most", "more"):
                # "Top three for chasing" are those who do it most.
                f.used.update(("most", "more"))
            found += self._each("top", rate, sign, options={"top": places[0]}, ranked=True)
        return found

    def _listed(self) -> str:
        """Return of whom a list or the best is asked for: ``top five pitchers``, ``the best club``."""
        told = [self.t.typed(w).casefold() for w in self.t.words if w.text in ("<top>", "<bottom>")]
        behind = _BEST_OF.search(self.t.line())
        told += [behind[1]] if behind is not None else []
        return next((of for noun, of in _LISTED.items() if any(noun in one for one in told)), "hitter")

    def _leads(self) -> list[Question] | None:
        f, t = self.f, self.t
        others = len(self.whos) > 1
        if t.has("oneof"):
            raise UnfitError("one of how many: of the five best, of the ten?")
        behind = re.search(r"<than> (?:the )?<who>", t.line()) is not None
        nobody = (
            behind and t.has("nobody", "anybody") and t.has("than") and t.has("more", "better", "hitharder")
        )
        if not t.has("than", "before", "since", "otherwise", "usual", "league", "rest", "lately"):
            # "Here comes Izezno: nobody hits it hard more often."
            nobody |= (
                t.has("more", "hitharder") and re.search(r" <who> (?:.* )?<nobody> ", t.line()) is not None
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
            *("leads", "anyone", "everyone", "nobody", "anybody", "theleague", "whose", "ownclub"),
            *("owngroup", "nobetter"),
        )
        if nobody:
            f.has("than")
        if t.has("best", "better", "nobetter") and not t.has("rate", "hitharder") and not self.terms:
            raise UnfitError("best at what: hitting it hard, making contact, laying off?")
        rates = self.rates(default=t.has("best", "better", "nobetter"))
        found = [q for rate in rates for q in self._signed("leads", rate, ranked=True)]
        if superlative and self._where_most():
            split = [q for rate in rates for q in self._each("split", rate, self.sign(rate))]
            raise UnfitError("more often than anyone, or more often there than elsewhere?", *found, *split)
        return found

    def _where_most(self) -> bool:
        """Say whether what is done most may be done there more than elsewhere: ``misses most on sliders``."""
        t = self.t
        if (
            not self.terms
            or not self.whos
            or t.has("best", "leads", "theleague", "owngroup", "whose", "everyone")
        ):
            return False
        if (
            not t.has("rate")
            or t.has("nobody", "anybody", "per", "record", "since", "span", "minimum")
            or self.clubs
        ):
            return False
        typed = [t.typed(word).casefold().split() for word in t.words if word.text == "<most>"]
        return len(typed) == 1 and typed[0] in (["most"], ["least"], ["hardest"], ["most", "often"])

    def _totalled(self, question: Question) -> bool:
        """Say whether what is compared may be totals, as in a box score: ``has more homers than Izoba``."""
        words = [word for word in self.t.words if word.text == "<rate>"]
        if len(words) != 1 or self.t.has("per", "minimum") or {"often", "frequently"} & set(self.t.said):
            return False
        last = self.t.typed(words[0]).casefold().replace("balls in play", "balls").split()[-1]
        # "Homers", "walks", "misses" are what he does, too: "he misses more".
        noun = r"(?: in| of| for|<more>|<most>) (?:the |all |total )?<rate> "
        if last in ("runs", "strikeouts", "hits"):
            return True
        if question.options.get("value") == "league":  # nobody has more in all than everybody together
            return False
        if last in _COUNTED and re.search(noun, self.t.line()):
            return True
        said = " ".join(self.t.said)
        if question.subject == "pitcher" and _SO_MANY_HITTERS.search(said):
            return True
        return _DONE_SO_MANY.search(said) is not None

    def _ahead(self) -> list[Question] | None:
        f, t = self.f, self.t
        if len(self.whos) != 2:
            if len(self.whos) > 2:
                raise UnfitError("more than two are named: whom is it about?")
            return None
        first, second = self.whos
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
        elif (
            not t.has("than") and t.has("more") and len({*map(tuple, t.values("who"))}) < len(t.values("who"))
        ):
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
            fits = [who for who in self.whos if set(who) <= set(behind)]
            if len(fits) == 1 and fits[0] == first:
                first, second = second, first

        def both(rate: Rate, sign: int) -> list[Question]:
            return [
                q
                for one, other in product(first, second)
                for q in self._one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
            ]

        rates = self.rates(default=t.has("better") and not chosen, offer=both)
        found = []
        for rate in rates:
            sign = self._better_of(rate, both) if chosen else self.sign(rate) * flip
            for one, other in product(first, second):
                found += self._one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
        if chosen:
            f.has("not")
        if len(first) > 1 or len(second) > 1:
            f.choice = "several are called so: which?"
        return found

    def _better_of(self, rate: Rate, both: Callable[[Rate, int], list[Question]]) -> int:
        """Return whether more or less of a rate is said of the one who is preferred, where that is sure."""
        denied = len(self.t.values("not")) == 1 and not denied_elsewhere(self.t)
        told = {*self.t.values("better"), *self.t.values("best")}
        good = rate.luckless is False or (denied and rate.luckless is True)
        if told <= {1} and good and denied == (rate.luckless is True) and rate.sign > 0:
            self.f.has("not", "better", "best")
            return -1 if denied else 1
        behind = self.t.places("rate")[-1:] > self.t.places("who")[1:2]
        if (
            told <= {1}
            and rate.luckless is None
            and self.t.has("prefer")
            and behind
            and not self.t.has("not")
        ):
            return rate.sign  # "Over her at jumping on the first pitch" says of what there is more.
        if told <= {1} and rate.luckless is True and rate.sign < 0 and not self.t.has("not"):
            self.f.has("better", "best")
            return -1
        raise UnfitError("more or less of it: which is better?", *both(rate, 1), *both(rate, -1))

    def _value(self) -> list[Question] | None:
        f, t = self.f, self.t
        told = {mark: t.values(mark) for mark in ("above", "below", "near", "always")}
        marks = [mark for mark, values in told.items() for _ in dict.fromkeys(values)]
        if not marks:
            return None
        if len(marks) > 1:
            raise UnfitError("more than one number is told: which is meant?")
        mark = marks[0]
        f.has(mark, "within", "theleague", "allyear")
        value, kind = (ALWAYS, "value") if mark == "always" else told[mark][0]
        rates = self.rates(default=False) if t.has("rate", "owns") or kind == "value" else self._average()
        if mark == "always" and t.has("owns"):
            raise UnfitError("always: more often than whom?")
        if mark == "always" and not self.terms and rates[0].event == "swings" and not rates[0].when:
            raise UnfitError("always: at which pitches?")
        if mark != "always":
            rates = self._numbered(rates, value)
        found = []
        for rate in rates:
            sign = self.sign(rate) if t.has("more", "most") else rate.sign
            if mark == "near":
                number = next(word for word in t.words if word.text == "<near>")
                if _BATS.search(t.line()) and _BALD.match(t.typed(number)):
                    said = f"{value:.3f}".lstrip("0")
                    either = [
                        q
                        for one in ("above", "near")
                        for q in self._each(one, rate, options={"value": value})
                    ]
                    raise UnfitError(f"at {said} or above, or about {said}?", *either)
                if sign < 0 or t.has("more", "most", "better", "best"):
                    raise UnfitError("about as often, or more or less often than that: which?")
                within = t.values("within")
                options = {"value": value, **({"within": within[0]} if within else {})}
                found += self._each("near", rate, options=options)
            else:
                # "A higher share ... on more than 30 percent" says it twice; "less" beside it is unclear, and
                # "has raised it to over 30 percent" says that it has changed, and where it stands now.
                moved = re.search(r" to <(?:above|below|near)> ", t.line())
                if (sign < 0 or mark == "below" or moved) and t.has("more", "most"):
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
        signs = {*t.values("more"), *t.values("most")}
        rates = self.rates(
            default=t.has("better") and bool(self.terms),
            offer=lambda rate, sign: self._each(
                "above", rate, signs.copy().pop() if len(signs) == 1 else sign, options=_LEAGUE
            ),
        )
        return [q for rate in rates for q in self._signed("above", rate, options=_LEAGUE)]

    def _split(self) -> list[Question] | None:
        f, t = self.f, self.t
        compared = t.has("more", "better", "hitharder")
        if not compared or not self.terms or (self.since and not t.has("than", "otherwise", "usual")):
            return None
        if t.has("before") or t.has("lately"):
            return None
        if self.subject == "hitter" and re.search(r" <than> <hand> (?:<rate>|do|does) ", t.line()):
            return None  # "Than lefties hit them": what others do is compared.
        f.has("otherwise", "usual", "hitharder", "different")
        terms = self.terms
        if t.has("than"):
            place = t.places("than")[0]
            behind = [w for w in t.words[place:] if w.text in ("<in>", "<hand>")]
            if len(behind) != 1:
                return None
            ahead = self._behind(behind[0])
            if ahead is None:
                self._one_against_one(behind[0])
                return None
            f.has("than")
            terms = ahead
        rates = self.rates(default=t.has("better"))
        if len(terms) == 2 and len({term.partition("=")[0] for term in terms}) == 1:
            # "More on sliders or on curveballs?"
            t.take(r"or(?= <(?:in|hand)>)")
            each = [
                q
                for term in terms
                for rate in rates
                for q in self._each("split", rate, self.sign(rate), terms=[term])
            ]
            raise UnfitError(_ONE_OTHER, *each)
        if not _one_thing(terms):
            both = [q for rate in rates if not rate.when for q in self._each("split", rate, self.sign(rate))]
            raise UnfitError("which of the situations is compared with the rest?", *both)
        found = []
        for rate in rates:
            sign = self.sign(rate)
            if rate.when:
                # Among the pitches that the event is about, those in the situation against the others.
                inside = " ".join(rate.when)
                rate = replace(rate, event=f"{rate.event} {inside}", per=f"{rate.per} {inside}", when=())
            options = {"against": "usual"} if t.has("usual") else {}
            found += self._each("split", rate, sign, terms=terms, options=options)
        return found

    def _one_against_one(self, word: Any) -> None:
        """Offer a situation against the rest where it is compared with one other: fastballs with sliders."""
        other = [hand_term(word.value, self.subject)] if word.text == "<hand>" else list(word.value)
        mine = [term for term in self.terms if term not in other]
        named = list(dict.fromkeys(self.t.values("rate")))
        if len(mine) != 1 or len(other) != 1 or len(named) != 1 or named[0].when or len(self.whos) != 1:
            return
        rates = self.rates(default=False)
        told = [q for rate in rates for q in self._each("split", rate, self.sign(rate), terms=mine)]
        raise UnfitError(_ONE_OTHER, *told)

    def _behind(self, word: Any) -> list[str] | None:
        """Return the terms in front of "than" where those behind it are just all the others."""
        other = [hand_term(word.value, self.subject)] if word.text == "<hand>" else list(word.value)
        mine = [term for term in self.terms if term not in other]
        return mine if len(mine) == 1 and len(other) == 1 and _complement(mine[0]) == other[0] else None

    def _more(self) -> list[Question] | None:
        f, t = self.f, self.t
        if not t.has("more", "better", "hitharder"):
            return None
        if not self.since or (self.until and not t.has("before")) or t.has("than"):
            return None
        f.has("before", "lately", "theleague", "hitharder", "different")
        rates = self.rates(default=t.has("better"))
        return [q for rate in rates for q in self._each("more", rate, self.sign(rate))]

    def _been_doing(self) -> list[Question] | None:
        """Take what somebody has been doing since a day, or in the last days, for a change."""
        f, t = self.f, self.t
        if not self.since or self.until or t.has(*_COMPARES) or not t.has("rate"):
            return None
        if risky(t, f.slots.strange):
            return None
        rates = self.rates(default=False)
        denied = f.has("not") and bool(t.values("not"))
        if denied_elsewhere(t) or len(t.values("not")) > 1 or t.has("never", "tough"):
            return None
        sign = rates[0].sign * (-1 if denied else 1)
        more = [q for rate in rates for q in self._each("more", rate, sign)]
        f.has("not")
        if f.has("changed") or any(
            t.typed(word).casefold().startswith("ever since") for word in t.words if word.text == "<since>"
        ):
            return more
        above = [q for rate in rates for q in self._each("above", rate, sign, options=_LEAGUE)]
        raise UnfitError("more often than before that day, or than the league since then?", *more, *above)

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
        if denied_elsewhere(t):
            raise UnfitError("what is denied: that it is done, or only where?")
        f.has("tough")
        if len(t.values("not")) + len(t.values("never")) > 1:
            raise UnfitError("is it denied or not?")
        sign = rate.sign * (-1 if denied or t.has("tough") else 1)
        if denied and t.has("tough"):
            raise UnfitError("is it denied or not?")
        questions = [q for one in rates for q in self._each("above", one, sign, options={"value": "league"})]
        done = any(w.text == "<rate>" and _DONE.match(t.typed(w).casefold()) for w in t.words)
        once = done and not re.search(" (?:has|have|had) ", t.line())
        if once or _AT_ALL.search(t.line()):
            raise UnfitError("is it whether it was done even once, or how often?", *questions)
        said = bool(self.terms) or bool(rate.when) or denied or t.has("tough", "alot")
        if not said:
            raise BaldError("more often than whom: than the league?", *questions)
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
        if kind != "split" and on_both_sides(t):
            raise UnfitError(
                "two situations are named, one on each side of what is compared: of which is it?"
            )
        who, subject = ("", "hitter") if person is None else (person.label, person.subject)
        if person is None and kind in ("leads", "top"):
            subject = next((of for of in (*f.values("whose"), self._listed()) if of != "hitter"), "hitter")
        if person is None and kind in ("above", "near", "more", "split"):
            if not f.has("theleague") and not f.slots.all_hitters:
                raise UnfitError("nobody is named: whom is it about?")
            subject = "league"
            if options.get("value") == "league":
                raise UnfitError("the league against itself is no comparison: whom is it about?")
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
                going_together(*when)
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


def _within(questions: list[Question], club: str) -> list[Question]:
    """Return questions of who does it most, asked within a club."""
    return [replace(question, club=club) for question in questions]


_LISTED = {"pitcher": "pitcher", "arm": "pitcher", "club": "club", "team": "club"}
_BEST_OF = re.compile(
    r"^ (?:<whose> (?:is |are |has |have )?)?(?:the |our )?<(?:best|most)> "
    r"(?:[a-z]+ )?(pitchers?|arms?|clubs?|teams?) "
)
_BATS = re.compile(r" (?:hit|hits|hitting|bat|bats|batting) (?:a )?<near> ")
_BALD = re.compile(r"[.\d]+$")
"""A number alone, with no word that says whether it is a floor or a middle: "hitting .300"."""
_ONES_CLUB = re.compile(
    r"(?<! in)(?<! at)(?<! on)(?<! for)(?<! against) "
    r"(?:<who> (?:, )?(?:of|from|on|with|for) (?:the )?<who> |<who> <who> |<who> , <who> , )"
)
"""A club that tells whose hitter somebody is."""

_ONE_OTHER = "one situation against one other cannot be asked; against all the rest can"
_COMPLEMENTS = {
    "pitcher_hand=left": "pitcher_hand=right",
    "hitter_side=left": "hitter_side=right",
    "runners on": "bases=empty",
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
