"""Kinds of claim over time: since a day, hot, steady, different."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hitlab.asking.marks import UnfitError
from hitlab.asking.neighbours import denied_elsewhere
from hitlab.asking.numbers import FORTNIGHT
from hitlab.asking.phrases_rates import CONTACT, HARD, SWINGS, WHIFFS, Rate
from hitlab.asking.risk import risky
from hitlab.asking.said import LEAGUE, Said, one_thing, only_of_hitters
from hitlab.counting.days import day_in
from hitlab.questions.question import Question

__all__ = [
    "as_been_doing",
    "as_different",
    "as_hot",
    "as_more",
    "as_steady",
    "of_late",
    "recently",
    "than_in_the_first_days",
]

_COMPARES = (
    *("more", "better", "most", "best", "hitharder", "than", "league", "anyone", "above", "below", "near"),
    *("always", "hot", "steady", "different", "otherwise", "usual", "leads", "top"),
)
_INSTEAD = {"whiffs": CONTACT, "contact": WHIFFS, "swings": Rate("takes", "pitches")}


def recently(said: Said, rate: Rate, sign: int) -> list[Question]:
    """Return the last games against the others, and the last fortnight against what was before it."""
    instead = rate if sign > 0 else _INSTEAD.get(rate.event)
    told = []
    if instead is not None and said.subject == "hitter":
        told = said.each("hot", replace(instead, when=rate.when, sign=1))
    return told + of_late(said, rate, sign)


def of_late(said: Said, rate: Rate, sign: int) -> list[Question]:
    """Return the last fortnight against what was before it; nothing of a table without days."""
    if said.marks.known.days is None:
        return []
    since = f"{said.marks.known.days[1] - FORTNIGHT:%Y-%m-%d}"
    return [replace(q, since=since) for q in said.each("more", rate, sign)]


def than_in_the_first_days(said: Said) -> None:
    """Offer since then, where it is said to be more than in the first month of the table."""
    spans, days = said.text.values("span"), said.marks.known.days
    named = list(dict.fromkeys(said.text.values("rate")))
    if len(spans) != 1 or days is None or not said.text.has("than") or len(named) != 1 or len(said.whos) != 1:
        return
    if spans[0][0] > f"{days[0]:%Y-%m-%d}" or spans[0][1] >= f"{days[1]:%Y-%m-%d}":
        return
    since = f"{day_in(spans[0][1], []) + timedelta(days=1):%Y-%m-%d}"
    told = [
        replace(q, since=since, until="") for rate in named for q in said.each("more", rate, said.sign(rate))
    ]
    raise UnfitError("more often than in those days: since then?", *told)


def as_hot(said: Said) -> list[Question] | None:
    """Take a streak, or what is far more than usual of late, for whether somebody is hot."""
    f, t = said.marks, said.text
    streak = t.has("hot")
    if streak and said.since:
        asks = "hot over the last games, or more often since that day than before: which?"
        since, said.since = said.since, ""
        rates = said.rates(default=True)
        hot = [q for rate in rates for q in said.each("hot", rate, ranked=False)]
        more = [replace(q, since=since) for rate in rates for q in said.each("more", rate)]
        raise UnfitError(asks, *(more if said.until else [*more, *hot]))
    lately = t.has("lately", "stretch") and t.has("more") and said.text.has("otherwise", "usual")
    if not streak and not lately:
        return None
    if said.whos and said.subject != "hitter":
        rates = said.rates(default=True)
        told = [q for rate in rates for q in recently(said, rate, rate.sign)]
        raise UnfitError(only_of_hitters(said.subject), *told)
    if {"was", "were", "ever"} & {word.text for word in t.words}:
        now = [] if said.until else said.each("hot", HARD, ranked=False)
        raise UnfitError("hot over the last games can be asked, and no other time: is it that?", *now)
    f.has("hot", "lately", "stretch", "otherwise", "usual")
    rates = said.rates(default=True) if t.has("rate") else [HARD]
    f.usual = not t.has("rate")
    if (t.has("more") or t.has("better")) and said.sign(rates[0]) < 0:
        raise UnfitError("a streak is far more than usual; less of it is a change: since which day?")
    stretch = t.values("stretch")
    options = {"stretch": stretch[0]} if stretch else {}
    return [q for rate in rates for q in said.each("hot", rate, options=options, ranked=False)]


def as_steady(said: Said) -> list[Question] | None:
    """Take what stays the same for whether the rate moves by more than luck."""
    if not said.marks.has("steady"):
        return None
    if not said.since:
        said.marks.has("allyear")
    rates = said.rates(default=True)
    return [q for rate in rates for q in said.each("steady", rate, ranked=False)]


def as_different(said: Said) -> list[Question] | None:
    """Take a change without a direction for more or less since a day, or in a situation."""
    if not said.text.has("different") or (said.text.has("than") and not said.since):
        return None
    if said.since and said.text.has("more"):
        return None
    named = list(dict.fromkeys(said.text.values("rate")))
    if not said.since and len(named) == 1 and one_thing(said.terms) and said.whos and not named[0].when:
        # "With two strikes he is a different animal: he does not miss."
        said.marks.has("different", "not")
        denied = said.text.values("not") or [-1 for sign in said.text.values("more") if sign < 0]
        if not denied_elsewhere(said.text) and len(denied) < 2 and not said.text.has("than", "most"):
            said.marks.has("more", "rate")
            found = said.each("split", named[0], named[0].sign * (-1 if denied else 1))
            said.marks.has("not")
            return found
    if not said.since:
        told = []
        if said.whos and said.terms and one_thing(said.terms) and not named:
            told = [
                q for rate in (HARD, WHIFFS, SWINGS) for q in said.each("split", rate, direction="either")
            ]
        raise UnfitError("different there in which rate?" if told else "since which day?", *told)
    said.marks.has("different", "before")
    rates = said.rates(default=True)
    return [q for rate in rates for q in said.each("more", rate, direction="either")]


def as_more(said: Said) -> list[Question] | None:
    """Take more or less of it, with a day, for a change since that day."""
    f, t = said.marks, said.text
    if not t.has("more", "better", "hitharder", "nobetter"):
        return None
    if not said.since or (said.until and not said.than_before) or t.has("than"):
        return None
    f.has("before", "lately", "theleague", "hitharder", "different")
    rates = said.rates(default=t.has("better", "nobetter"))
    told = [q for rate in rates for q in said.each("more", rate, said.sign(rate))]
    if said.part_of_before or t.has("nobetter"):
        if f.has("not") or t.has("nobetter"):
            told = [replace(q, direction="less" if q.direction == "more" else "more") for q in told]
        before = "all days before are what it is compared with, and not only those: is it that?"
        raise UnfitError(before if said.part_of_before else "no more often: is it less often?", *told)
    return told


def as_been_doing(said: Said) -> list[Question] | None:
    """Take what somebody has been doing since a day, or in the last days, for a change."""
    f, t = said.marks, said.text
    if not said.since or said.until or t.has(*_COMPARES) or not t.has("rate"):
        return None
    if risky(t, f.slots.strange):
        return None
    rates = said.rates(default=False)
    denied = f.has("not") and bool(t.values("not"))
    if denied_elsewhere(t) or len(t.values("not")) > 1 or t.has("never", "tough"):
        return None
    sign = rates[0].sign * (-1 if denied else 1)
    more = [q for rate in rates for q in said.each("more", rate, sign)]
    f.has("not")
    if f.has("changed") or any(
        t.typed(word).casefold().startswith("ever since") for word in t.words if word.text == "<since>"
    ):
        return more
    above = [q for rate in rates for q in said.each("above", rate, sign, options=LEAGUE)]
    raise UnfitError("more often than before that day, or than the league since then?", *more, *above)
