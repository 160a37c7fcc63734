"""Claims about a value: above or below a number or the league, near a number, ahead of somebody else."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np

from hitlab.claims.question import Question
from hitlab.claims.result import Claim, Verdict, denies, how_likely, how_sure
from hitlab.claims.setting import Setting
from hitlab.claims.values import share_of
from hitlab.claims.verdicts import COUNTED
from hitlab.counting.intervals import difference_interval
from hitlab.errors import ClaimError
from hitlab.estimates.ranking import chance_above
from hitlab.estimates.shrinkage import Posterior
from hitlab.wording import level_words, rate_text, signed_text

__all__ = ["LEAGUE", "NEAR", "above_the_rest", "answer_above", "answer_ahead", "answer_near"]

LEAGUE = "league"
"""Said in place of a value: everybody else in the table together."""

NEAR = 0.10
"""How near is near, in parts of the value: one in five is .18 to .22, short of one in four and one in six."""

_RECORD_CHANGES = "other counts, today or tomorrow: a record says who is ahead, not who is better"
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(9)


def answer_above(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "she does it more often than that": a rate above (or below) a value, or the league's."""
    asked = question.options.get("value", "")
    setting = Setting.asked(question, table, **beside)
    place = setting.place(question.who)
    less = question.direction == "less"
    side = "below" if less else "above"
    if str(asked).strip().casefold() == LEAGUE:
        if setting.of_league:
            raise ClaimError("the league is not above or below itself; give a value, such as 10%")
        rest = _rest_of(setting, place)
        told = setting.fit.unknown_share <= setting.fit.most_unknown
        value, at = rest, f"that of everybody else{f' ({rate_text(rest)})' if told else ''}"

        def above(posterior: Posterior) -> float:
            return above_the_rest(posterior, place, setting.both.measured_exposure)
    else:
        value = share_of(asked)
        at = rate_text(value)

        def above(posterior: Posterior) -> float:
            return float(posterior.only(np.array([place])).above(value)[0])

    low, high = (float(bound[place]) for bound in setting.bounds_of_record())
    surely, surely_not = (high < value, low >= value) if less else (low > value, high <= value)
    # Where there is no rate but bounds, what goes too far is the bound on the side that is claimed.
    far = (low if less else high) if setting.both.bounded[place] else float(setting.both.rate[place])
    return _one(
        setting,
        place,
        _Said(
            f"{side} {at}",
            f"“{setting.counts.labels[place]}'s true rate of {setting.rate_name} is {side} {at}.”",
            _too_far(setting, place, far),
        ),
        (lambda posterior: 1 - above(posterior)) if less else above,
        "holds" if surely else "does not hold" if surely_not else "open",
        {"value": value},
    )


def answer_near(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "one in five of his swings": a rate within a stated width of a value."""
    value = share_of(question.options.get("value", ""))
    told = question.options.get("within")
    within = NEAR * value if told is None else share_of(told)
    least, most = value - within, value + within
    if not 0 <= least < most <= 1:
        raise ClaimError(
            f"within={within:g}: no rate is from {rate_text(max(least, 0))} to {rate_text(most)}; "
            "give a smaller width"
        )
    setting = Setting.asked(question, table, **beside)
    place = setting.place(question.who)

    def inside(posterior: Posterior) -> float:
        mine = posterior.only(np.array([place]))
        return float(mine.above(least)[0] - mine.above(most)[0])

    low, high = (float(bound[place]) for bound in setting.bounds_of_record())
    so = least <= low and high <= most
    near, too_far = f"between {rate_text(least)} and {rate_text(most)}", _too_far(setting, place, value)
    return _one(
        setting,
        place,
        _Said(near, too_far, too_far),
        inside,
        "holds" if so else "does not hold" if low > most or high < least else "open",
        {"value": value, "within": within},
    )


def _too_far(setting: Setting, place: int, rate: float) -> str:
    return f"“{setting.counts.labels[place]}'s true rate of {setting.rate_name} is {rate_text(rate)}.”"


class _Said(NamedTuple):
    """How a claim about one rate reads: what is said of it, and what goes too far (record, underlying)."""

    so: str
    tempting_record: str
    tempting: str


def _one(
    setting: Setting,
    place: int,
    said: _Said,
    chance_in: Callable[[Posterior], float],
    record: Verdict,
    numbers: dict[str, float],
) -> Claim:
    """Answer a claim about one rate."""
    name, rate, so = setting.counts.labels[place], setting.rate_name, said.so
    mine, evidence = setting.record_of(place), setting.evidence([place])
    notes: tuple[str, ...] = ()
    if setting.record:
        verdict, chance, assumptions, would = record, None, COUNTED, _RECORD_CHANGES
        verb = {"holds": "is", "does not hold": "is not", "open": "may be"}[verdict]
        observed = setting.observed_words(place)
        say_in_full = f"{name} has {mine}: the observed rate of {rate}, {observed}, {verb} {so}."
        tempting = said.tempting_record
        claim = f"{name}'s observed rate of {rate} is {so}"
    else:
        chance = chance_in(setting.fit.posterior)
        verdict, notes = setting.settle(chance, [place])
        assumptions = setting.assumptions
        would = setting.would_change(
            verdict, chance_in, np.array([place]), name, place, unmeasured=bool(notes)
        )
        sure = how_sure(chance, denies(verdict, chance), f"that it is {so}")
        say_in_full = (
            f"{name}'s true rate of {rate} {how_likely(verdict, chance)} {so}, judging by {mine}: {sure}."
        )
        tempting, claim = said.tempting, f"{name}'s true rate of {rate} is {so}"
        evidence["chance"] = chance
    return setting.answer(
        place,
        claim=claim,
        verdict=verdict,
        chance=chance,
        evidence=evidence,
        say_in_full=say_in_full,
        tempting=tempting,
        assumptions=assumptions,
        would_change=would,
        notes=notes,
        numbers={**setting.numbers_of(place), **numbers},
    )


def _rest_of(setting: Setting, place: int) -> float:
    """Return the observed rate of everybody else together."""
    others = np.arange(len(setting.counts.data)) != place
    exposure = setting.both.measured_exposure[others].sum()
    if not exposure:
        raise ClaimError("there is nobody else in the table to compare with")
    return float(setting.both.events[others].sum() / exposure)


def above_the_rest(posterior: Posterior, place: int, exposure: np.ndarray[Any, Any]) -> float:
    """Return the chance that one true rate is above those of all others together, weighted by exposure.

    Under each law the rates are independent; the weighted mean of many is taken for normal.

    Parameters
    ----------
    posterior
        Of all true rates.
    place
        Whose rate it is.
    exposure
        Everybody's measured exposure, shape (hitters,); the own one does not count.
    """
    others = np.flatnonzero(np.arange(len(exposure)) != place)
    share = exposure[others] / exposure[others].sum()
    mean, variance = posterior.only(others).mean_and_variance_by_law()
    center, spread = mean @ share, np.sqrt(variance @ share**2)
    at = np.clip(center[:, None] + spread[:, None] * _NODES, 1e-9, 1 - 1e-9)
    above = posterior.above_by_law(place, at) @ (_WEIGHTS / _WEIGHTS.sum())
    return float(posterior.weights @ above)


def answer_ahead(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "she does it more often than he does": one hitter's rate above (or below) another's."""
    setting = Setting.asked(question, table, **beside)
    other = str(question.options.get("other", ""))
    a, b = setting.place(question.who), setting.place(other)
    labels, less = setting.counts.labels, question.direction == "less"
    if a == b:
        raise ClaimError(f"{labels[a]} is compared with the same {question.subject}; name two different ones")
    name, rival, rate = labels[a], labels[b], setting.rate_name
    setting.question = setting.question.with_options(other=rival)
    side = "below" if less else "above"
    records = f"{setting.record_of(a)} against {setting.record_of(b)}"
    evidence, notes = setting.evidence([a, b]), tuple[str, ...]()
    chance: float | None = None
    none, all_hard = setting.bounds_of_record()
    if setting.record:
        more, not_more = none[a] > all_hard[b], all_hard[a] <= none[b]
        if less:
            more, not_more = all_hard[a] < none[b], none[a] >= all_hard[b]
        verdict: Verdict = "holds" if more else "does not hold" if not_more else "open"
        assumptions, would = COUNTED, _RECORD_CHANGES
        verb = {"holds": "is", "does not hold": "is not", "open": "may be"}[verdict]
        say_in_full = f"{name}'s observed rate of {rate} {verb} {side} {rival}'s: {records}."
        tempting = f"“{name} is truly ahead of {rival} in {rate}.”"
        claim = f"{name}'s observed rate of {rate} is {side} {rival}'s"
    else:

        def chance_in(posterior: Posterior) -> float:
            return chance_above(posterior, *((b, a) if less else (a, b)))

        chance = chance_in(setting.fit.posterior)
        verdict, notes = setting.settle(chance, [a, b])
        assumptions = setting.assumptions
        would = setting.would_change(
            verdict, chance_in, np.array([a, b]), "each of the two", a, unmeasured=bool(notes)
        )
        sure = how_sure(chance, denies(verdict, chance), f"that it is {side}")
        say_in_full = (
            f"{name}'s true rate of {rate} {how_likely(verdict, chance)} {side} {rival}'s, judging by "
            f"{records}: {sure}."
        )
        clearly = "" if verdict == "does not hold" else "clearly "
        tempting = f"“{name} is {clearly}ahead of {rival} in {rate}.”"
        claim = f"{name}'s true rate of {rate} is {side} {rival}'s"
        level, exposure, events = setting.fit.level, setting.both.exposure, setting.both.events
        # Unknown balls: from none of hers and all of his hard, to all of hers and none of his.
        n_a, n_b = int(exposure[a]), int(exposure[b])
        most_a, most_b = round(all_hard[a] * n_a), round(all_hard[b] * n_b)
        low, _ = difference_interval(events[a], n_a, most_b, n_b, level)
        _, high = difference_interval(most_a, n_a, events[b], n_b, level)
        notes = (
            *notes,
            f"the raw difference is {signed_text(float(none[a] - none[b]))}, with a {level_words(level)} "
            f"hybrid-score interval from {signed_text(float(low))} to {signed_text(float(high))}; it uses "
            "these two records alone",
        )
    return setting.answer(
        a,
        claim=claim,
        verdict=verdict,
        chance=chance,
        evidence=evidence,
        say_in_full=say_in_full,
        tempting=tempting,
        assumptions=assumptions,
        would_change=would,
        notes=notes,
        numbers={**setting.numbers_of(a), "other": rival},
    )
