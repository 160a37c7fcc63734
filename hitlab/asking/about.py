"""Questions about somebody: which kind of claim is made of what is said, and what no kind asks."""

from __future__ import annotations

import re
from dataclasses import replace

from hitlab.asking.about_days import (
    as_been_doing,
    as_different,
    as_hot,
    as_more,
    as_steady,
    of_late,
    recently,
    than_in_the_first_days,
)
from hitlab.asking.about_many import ONE, as_ahead, as_leads, as_top, totalled
from hitlab.asking.about_splits import as_split, of_either
from hitlab.asking.about_values import as_bald, as_usual, as_value
from hitlab.asking.marks import UnfitError
from hitlab.asking.phrases_rates import CHASES, CONTACT, HARD, WHIFFS, Rate
from hitlab.asking.said import LEAGUE, UNNAMED, Said
from hitlab.questions.question import Question

__all__ = ["questions_about"]

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


def questions_about(said: Said) -> list[Question]:
    """Return the questions of the kind that the sentence makes."""
    for vague, (asks, rates) in _VAGUE.items():
        if said.text.has(vague):
            if _told_apart(said, rates):
                said.marks.has(vague)
            else:
                _vague(said, vague, asks, rates)
    if said.text.has("slump") and said.text.has("whose"):
        raise UnfitError(
            "who has fallen most of all cannot be asked; of one hitter, and in which rate, since which day?"
        )
    of_either(said, lambda: _of_a_kind(said))
    return _of_a_kind(said)


def _of_a_kind(said: Said) -> list[Question]:
    """Return the questions of the first kind that fits."""
    _not_asked(said)
    if said.text.has("slump"):
        raise UnfitError(
            "a slump in which rate, and since which day? Say it as: less often since that day than before"
        )
    for kind in (
        *(as_hot, as_steady, as_different, as_top, as_leads, as_ahead),
        *(as_value, as_usual, as_split, as_more, as_been_doing, as_bald),
    ):
        found = kind(said)
        if found is None:
            continue
        if kind in (as_top, as_leads, as_ahead, as_usual) and totalled(said, found[0]):
            asks = f"how many in all, or how often, per {ONE[found[0].per]}?"
            raise UnfitError(asks, *found)
        return found
    raise UnfitError(_what_else(said))


def _not_asked(said: Said) -> None:
    """Say of some sentences that no kind of question asks it, and offer what can be asked."""
    t = said.text
    named = list(dict.fromkeys(t.values("rate")))
    clubs = bool(said.whos) and said.subject == "club"
    many = t.has("manyof") or (t.has("nobody") and t.has("top") and not t.has("than"))
    if many and clubs and len(named) == 1:
        sign = -1 if -1 in {*t.values("more"), *t.values("most")} or t.has("bottom") else 1
        club = _within(said.one("leads", None, named[0], sign, {}, ranked=True), said.clubs[0])
        raise UnfitError("how many of a club do so cannot be asked; who of them does it most can", *club)
    if t.has("asleague") and len(said.whos) == 1:
        rates = named or [rate for rate, _ in UNNAMED]
        told = [
            q for rate in rates for sign in (1, -1) for q in said.each("above", rate, sign, options=LEAGUE)
        ]
        raise UnfitError("about as often as the league cannot be asked; more or less often can", *told)
    if t.has("hot", "steady") and t.has("whose") and not said.whos:
        raise UnfitError(
            "who is so most of all cannot be asked; whether one hitter is can be: whom is it about?"
        )
    if t.has("dreaded"):
        told = [
            q
            for rate, sign in ((WHIFFS, -1), (HARD, 1), (CONTACT, 1))
            for q in said.one("leads", None, rate, sign, {})
        ]
        raise UnfitError("best at what: missing least, hitting it hard, making contact?", *told)
    if len(named) == 2 and len(said.whos) == 1 and re.search(r" <more> <rate> <than> <rate> ", t.line()):
        told = [q for rate in named for q in said.each("above", rate, 1, options=LEAGUE)]
        asks = "two rates of one hitter against each other cannot be asked; each can be, against the league"
        raise UnfitError(asks, *told)
    told_since = ("hot", "since", "span", "stretch", "before", "best", "otherwise", "usual", "than")
    lately = t.has("anymore", "lately") and not t.has(*told_since)
    denied = t.has("not") or -1 in t.values("anymore")
    signs = {*t.values("more"), *t.values("most")} or {-1 if denied else 1}
    if lately and len(named) == len(said.whos) == len(signs) == 1:
        raise UnfitError("since which day?", *recently(said, named[0], signs.pop() * named[0].sign))


def _what_else(said: Said) -> str:
    f, t = said.marks, said.text
    if t.has("lately", "before"):
        return "since which day?"
    if t.has("more", "better", "hitharder"):
        than_in_the_first_days(said)
        return "than whom, or than when?"
    if t.has("most", "best"):
        return "best at what, and among whom?"
    if t.has("spot"):
        return "how many runs is the club behind, how many are out, and who is on base?"
    if t.has("rate") or f.slots.text.has("in"):
        return "what of it: more often than whom, than the league, than before?"
    return "what is said of it?" if not f.slots.strange else ""


def _told_apart(said: Said, rates: tuple[tuple[Rate, int], ...]) -> bool:
    """Say whether one of the rates that a word may mean is told, too: ``a good eye: she chases less``."""
    named = list(dict.fromkeys(said.text.values("rate")))
    signs = {*said.text.values("more"), *said.text.values("most")}
    if len(named) != 1 or len(signs) != 1 or re.search(r" <(?:more|most)> [^<]*<patient> ", said.text.line()):
        return False
    [rate], [sign] = named, signs
    told = (rate.event, rate.per, rate.when, sign * rate.sign)
    return any((one.event, one.per, one.when, way) == told for one, way in rates)


def _vague(said: Said, mark: str, asks: str, rates: tuple[tuple[Rate, int], ...]) -> None:
    if said.subject == "pitcher":
        raise UnfitError("which rate, and more or less of it?")
    others = [who for who in said.whos if len(who) > 1]
    if not others and len(said.whos) == 2 and said.text.has("than") and not said.text.has("not"):
        one, other = (who[0] for who in said.whos)
        told = [
            q
            for rate, sign in rates
            for q in said.one("ahead", one, rate, sign, {"other": other.label}, ranked=True)
        ]
        raise UnfitError(asks, *told)
    if not said.whos and said.text.has("whose") and not said.text.has("not"):
        told = [q for rate, sign in rates for q in said.one("leads", None, rate, sign, {}, ranked=True)]
        raise UnfitError(asks, *told)
    if others or len(said.whos) != 1:
        raise UnfitError(asks)
    flip = -1 if said.text.has("not") else 1
    if said.text.has("lately") and not (said.since or said.until):
        raise UnfitError(asks, *(q for rate, sign in rates for q in of_late(said, rate, sign * flip)))
    raise UnfitError(
        asks, *(said.above(rate, sign * flip, said.whos[0][0], "league") for rate, sign in rates)
    )


def _within(questions: list[Question], club: str) -> list[Question]:
    """Return questions of who does it most, asked within a club."""
    return [replace(question, club=club) for question in questions]
