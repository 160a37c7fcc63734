"""Claims about a value: above or below a number or the league, near a number, ahead of somebody else."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from hitlab.claims.result import ON_RECORD, Claim, Finding, Verdict, raw_difference
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import AS_IT_STANDS, counted, left_open, recorded
from hitlab.counting.events import per_words
from hitlab.counting.intervals import difference_interval
from hitlab.errors import ClaimError
from hitlab.estimates.ranking import above_the_rest
from hitlab.estimates.shrinkage import Posterior
from hitlab.estimates.top_places import chance_above
from hitlab.questions.question import Question
from hitlab.spoken import share_of
from hitlab.wording import rate_text

__all__ = ["NEAR", "answer_above", "answer_ahead", "answer_near"]

NEAR = 0.10
"""How near is near, in parts of the value: one in five is .18 to .22, short of one in four and one in six."""


def answer_above(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "she does it more often than that": a rate above (or below) a value, or the league's."""
    setting = Setting.asked(question, table, **beside)
    place = setting.place(question.who)
    low, high = (float(bound[place]) for bound in setting.bounds_of_record())
    if question.above_league:
        if setting.of_league:
            raise ClaimError("the league is not above or below itself; give a value, such as 10%")
        value, least, most = _rest_of(setting, place)
        verdict = recorded(low - most, high - least, less=setting.less)
        told = setting.fit.unknown_share <= setting.fit.most_unknown
        rest = rate_text(value)
        if setting.record and ((verdict == "open" and least < most) or np.isnan(value)):
            rest, told = f"{rate_text(least)} to {rate_text(most)}", True
        at = f"that of everybody else{f' ({rest})' if told else ''}"

        def above(posterior: Posterior) -> float:
            return above_the_rest(posterior, place, setting.both.measured_exposure)
    else:
        value = share_of(question.options.get("value", ""))
        verdict = recorded(low - value, high - value, less=setting.less)
        at = rate_text(value)

        def above(posterior: Posterior) -> float:
            return float(posterior.only(np.array([place])).above(value)[0])

    so = f"{setting.side} {at}"
    if setting.record:
        known = {} if np.isnan(value) else {"value": value}  # of others of whom nothing was measured
        return _of_record(setting, place, verdict, so, so, known)
    # Where there is no rate but bounds, what goes too far is the bound on the side that is claimed.
    far = (low if setting.less else high) if setting.both.bounded[place] else float(setting.both.rate[place])
    chance_in = (lambda posterior: 1 - above(posterior)) if setting.less else above
    return _of_rate(setting, place, chance_in, so, far, {"value": value})


def answer_near(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "one in five of his swings": a rate within a stated width of a value."""
    value = share_of(question.options.get("value", ""))
    told = question.options.get("within")
    within = NEAR * value if told is None else share_of(told)
    least, most = value - within, value + within
    if not 0 <= least < most <= 1:
        raise ClaimError(
            f"within={within:g}: that far on either side of {rate_text(value)} there is no rate; give a "
            "smaller width"
        )
    setting = Setting.asked(question, table, **beside)
    place = setting.place(question.who)

    def inside(posterior: Posterior) -> float:
        mine = posterior.only(np.array([place]))
        return float(mine.above(least)[0] - mine.above(most)[0])

    near = f"between {rate_text(least)} and {rate_text(most)}"
    numbers = {"value": value, "within": within}
    if not setting.record:
        return _of_rate(setting, place, inside, near, value, numbers)
    low, high = (float(bound[place]) for bound in setting.bounds_of_record())
    verdict = counted(least <= low and high <= most, low > most or high < least)
    return _of_record(setting, place, verdict, near, rate_text(value), numbers)


def _too_far(setting: Setting, place: int, so: str) -> str:
    return f"“{setting.called(place).whose} true rate of {setting.rate_name} is {so}.”"


def _of_record(
    setting: Setting, place: int, verdict: Verdict, so: str, far: str, numbers: dict[str, float]
) -> Claim:
    """Answer a claim about one observed rate; what goes too far is to say as much of the true one."""
    rate = setting.observed_words(place, bounds=verdict == "open")
    observed = f"the observed rate of {setting.rate_name}, {rate},"
    called = setting.called(place)
    mine = f"{called.name} {called.does('has', 'have')} {setting.record_of(place)}"
    say_in_full = f"{mine}: {observed} {ON_RECORD[verdict]} {so}."
    claim, _ = setting.stated(place, so, "", verdict)
    said, tempting = left_open(say_in_full, verdict), _too_far(setting, place, far)
    found = Finding(verdict, claim, said, tempting, would_change=AS_IT_STANDS)
    return setting.answer(place, found, setting.evidence([place]), {**setting.numbers_of(place), **numbers})


def _of_rate(
    setting: Setting,
    place: int,
    chance_in: Callable[[Posterior], float],
    so: str,
    far: float,
    numbers: dict[str, float],
) -> Claim:
    """Answer a claim about one true rate; what goes too far is to name a rate for it."""
    chance = chance_in(setting.fit.posterior)
    verdict = setting.settle(chance, [place])
    name = setting.called(place).name
    would = setting.would_change(verdict, chance_in, np.array([place]), name, place)
    said = setting.stated(place, so, f"judging by {setting.record_of(place)}", verdict, chance)
    found = Finding(
        verdict, *said, _too_far(setting, place, rate_text(far)), chance, setting.assumptions, would
    )
    evidence = setting.evidence([place]).assign(chance=chance)
    return setting.answer(place, found, evidence, {**setting.numbers_of(place), **numbers})


def _rest_of(setting: Setting, place: int) -> tuple[float, float, float]:
    """Return the observed rate of everybody else together, and its bounds."""
    others, both = np.arange(len(setting.counts.data)) != place, setting.both
    events, most, measured, exposure = (
        each[others].sum() for each in (both.events, both.all_hard, both.measured_exposure, both.exposure)
    )
    if not exposure:
        raise ClaimError("there is nobody else in the table to compare with")
    if not measured and not setting.record:
        raise ClaimError(
            f"of the others' {exposure:,} {per_words(setting.per, exposure)} none is measured, so no true "
            "rate can be held against theirs; measure some, or ask about the record"
        )
    rate = float(events / measured) if measured else float("nan")
    return rate, float(events / exposure), float(most / exposure)


def answer_ahead(question: Question, table: Any, **beside: Any) -> Claim:
    """Answer "she does it more often than he does": one hitter's rate above (or below) another's."""
    setting = Setting.asked(question, table, **beside)
    other = str(question.options.get("other", ""))
    a, b = setting.place(question.who), setting.place(other)
    labels = setting.labels
    if a == b:
        raise ClaimError(f"{labels[a]} is compared with the same {question.subject}; name two different ones")
    name, rival = setting.called(a), setting.called(b)
    setting.question, side = setting.question.with_options(other=labels[b]), setting.side
    records = f"{setting.record_of(a)} against {setting.record_of(b)}"
    ahead, be = f"ahead of {rival.name} in {setting.rate_name}.", name.does("is", "are")
    none, all_hard = setting.bounds_of_record()
    if setting.record:
        verdict = recorded(none[a] - all_hard[b], all_hard[a] - none[b], less=setting.less)
        said = setting.stated(a, f"{side} {rival.whose}", records, verdict)
        found = Finding(verdict, *said, f"“{name.name} {be} truly {ahead}”", would_change=AS_IT_STANDS)
    else:

        def chance_in(posterior: Posterior) -> float:
            return chance_above(posterior, *((b, a) if setting.less else (a, b)))

        chance = chance_in(setting.fit.posterior)
        verdict = setting.settle(chance, [a, b])
        would = setting.would_change(verdict, chance_in, np.array([a, b]), "each of the two", a)
        of = f"that it is {side}"
        said = setting.stated(a, f"{side} {rival.whose}", f"judging by {records}", verdict, chance, of)
        tempting = f"“{name.name} {be} {'' if verdict == 'does not hold' else 'clearly '}{ahead}”"
        level, exposure, events = setting.fit.level, setting.both.exposure, setting.both.events
        # Unknown balls: from none of hers and all of his hard, to all of hers and none of his.
        n_a, n_b = int(exposure[a]), int(exposure[b])
        most_a, most_b = round(all_hard[a] * n_a), round(all_hard[b] * n_b)
        low, _ = difference_interval(events[a], n_a, most_b, n_b, level)
        _, high = difference_interval(most_a, n_a, events[b], n_b, level)
        raw = raw_difference(float(none[a] - none[b]), float(low), float(high), level)
        found = Finding(verdict, *said, tempting, chance, setting.assumptions, would, (raw,))
    return setting.answer(a, found, setting.evidence([a, b]), {**setting.numbers_of(a), "other": labels[b]})
