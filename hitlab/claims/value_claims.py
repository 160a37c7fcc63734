"""Claims about a value: a rate is above a number, one hitter is above another."""

from __future__ import annotations

from numbers import Real
from typing import Any

import numpy as np

from hitlab.claims.result import About, Claim, Verdict, denies, how_likely, how_sure
from hitlab.claims.setting import Prior, Setting
from hitlab.claims.verdicts import COUNTED, FAILS_AT, HOLDS_AT, known_about
from hitlab.counting.intervals import difference_interval
from hitlab.errors import ClaimError
from hitlab.estimates.ranking import chance_above
from hitlab.estimates.shrinkage import Posterior
from hitlab.wording import level_words, rate_text

__all__ = ["check_above", "check_ahead"]

_RECORD_CHANGES = "other counts, today or tomorrow: a record says who is ahead, not who is better"


def check_above(
    counts: Any,
    hitter: str,
    value: float,
    *,
    event: str = "hard",
    per: str = "swings",
    about: About = "underlying",
    holds_at: float = HOLDS_AT,
    fails_at: float = FAILS_AT,
    prior: Prior = None,
) -> Claim:
    """Check "she does it more often than that": a rate above a value.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts; the law is fitted on everybody in it.
    hitter
        Name, label or id.
    value
        The value, between 0 and 1.
    event, per, about, holds_at, fails_at, prior
        As in ``check_leads``.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.
    """
    known_about(about)
    given: Any = value
    if not isinstance(given, Real) or not 0 < value < 1:
        shown = f"{value:g}" if isinstance(given, Real) else repr(given)
        raise ClaimError(f"value={shown}: give a rate between 0 and 1; 16 % is 0.16")
    setting = Setting.of(counts, event, per, 0, holds_at, fails_at, prior)
    place = setting.place(hitter)
    name, record = setting.counts.labels[place], setting.record_of(place)
    at, rate = rate_text(value), setting.rate_name
    evidence = setting.evidence([place])
    chance: float | None
    assumptions: tuple[str, ...]
    notes: tuple[str, ...] = ()
    if about == "record":
        low, high = (bound[place] for bound in setting.bounds_of_record())
        verdict: Verdict = "holds" if low > value else "does not hold" if high <= value else "open"
        chance, assumptions, would = None, COUNTED, _RECORD_CHANGES
        is_so = {"holds": "is above", "does not hold": "is not above", "open": "may be above"}[verdict]
        observed = rate_text(float(evidence["rate"].iloc[0]))
        say = f"{name} has {record}: the observed rate of {rate}, {observed}, {is_so} {at}."
        avoid = f"“{name} is better than {at} at it.” (a record does not say so)"
        claim = f"{name}'s observed rate of {rate} is above {at}"
    else:
        one = np.array([place])

        def chance_in(posterior: Posterior) -> float:
            return float(posterior.only(one).above(value)[0])

        chance = chance_in(setting.fit.posterior)
        verdict, notes = setting.settle(chance, [place])
        assumptions = setting.assumptions
        would = setting.would_change(
            verdict,
            chance_in,
            one,
            name,
            lambda d: chance_in(setting.with_record(place, d, 0)),
            _most(setting, place, verdict),
        )
        if notes:
            would = "measuring the contact whose hardness is unknown"
        word = how_likely(verdict, chance)
        say = (
            f"{name}'s true rate of {rate} {word} above {at}, judging by {record}: "
            f"{how_sure(chance, denies(verdict, chance), f'that it is above {at}')}."
        )
        avoid = f"“{name} is a {rate_text(float(evidence['rate'].iloc[0]))} hitter at it.”"
        claim = f"{name}'s true rate of {rate} is above {at}"
        evidence["chance"] = chance
    return setting.answer(
        place,
        kind="above",
        claim=claim,
        about=about,
        verdict=verdict,
        chance=chance,
        evidence=evidence,
        say=say,
        avoid=avoid,
        assumptions=assumptions,
        would_change=would,
        notes=(*notes, *setting.notes_for(about)),
        numbers={**setting.numbers_of(place), "value": value},
        beside=setting.beside(place, setting.usual_field),
    )


def check_ahead(
    counts: Any,
    hitter: str,
    other: str,
    *,
    event: str = "hard",
    per: str = "swings",
    about: About = "underlying",
    holds_at: float = HOLDS_AT,
    fails_at: float = FAILS_AT,
    prior: Prior = None,
) -> Claim:
    """Check "she does it more often than he does": one hitter's rate above another's.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts; the law is fitted on everybody in it.
    hitter, other
        Names, labels or ids.
    event, per, about, holds_at, fails_at, prior
        As in ``check_leads``.

    Returns
    -------
    Claim
        The notes give the raw difference with its hybrid-score interval, which knows nothing of the
        other hitters.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.
    """
    known_about(about)
    setting = Setting.of(counts, event, per, 0, holds_at, fails_at, prior)
    fit, labels = setting.fit, setting.counts.labels
    a, b = setting.place(hitter), setting.place(other)
    if a == b:
        raise ClaimError(f"{labels[a]} is compared with the same hitter; name two different ones")
    name, rival, rate = labels[a], labels[b], setting.rate_name
    records = f"{setting.record_of(a)} against {setting.record_of(b)}"
    evidence = setting.evidence([a, b])
    chance: float | None
    assumptions: tuple[str, ...]
    notes: tuple[str, ...] = ()
    if about == "record":
        low, high = setting.bounds_of_record()
        verdict: Verdict = "holds" if low[a] > high[b] else "does not hold" if high[a] <= low[b] else "open"
        chance, assumptions, would = None, COUNTED, _RECORD_CHANGES
        is_so = {"holds": "is above", "does not hold": "is not above", "open": "may be above"}[verdict]
        say = f"{name}'s observed rate of {rate} {is_so} {rival}'s: {records}."
        avoid = f"“{name} is better at it than {rival}.” (a record does not say so)"
        claim = f"{name}'s observed rate of {rate} is above {rival}'s"
    else:
        chance = chance_above(fit.posterior, a, b)
        verdict, notes = setting.settle(chance, [a, b])
        assumptions, both = setting.assumptions, np.array([a, b])

        def chance_in(posterior: Posterior) -> float:
            return chance_above(posterior, a, b)

        would = setting.would_change(
            verdict,
            chance_in,
            both,
            "each of the two",
            lambda d: chance_in(setting.with_record(a, d, 0)),
            _most(setting, a, verdict),
        )
        if notes:
            would = "measuring the contact whose hardness is unknown"
        word = how_likely(verdict, chance)
        say = (
            f"{name}'s true rate of {rate} {word} above {rival}'s, judging by {records}: "
            f"{how_sure(chance, denies(verdict, chance), 'that it is above')}."
        )
        avoid = (
            f"“{name} is clearly better at it than {rival}.”"
            if verdict != "does not hold"
            else f"“{name} is better at it than {rival}.”"
        )
        claim = f"{name}'s true rate of {rate} is above {rival}'s"
        level = fit.level
        none, all_hard = setting.bounds_of_record()
        # Unknown balls: from none of hers and all of his hard, to all of hers and none of his.
        n_a, n_b = int(fit.exposure[a]), int(fit.exposure[b])
        most_a, most_b = round(all_hard[a] * n_a), round(all_hard[b] * n_b)
        low_d, _ = difference_interval(fit.events[a], n_a, most_b, n_b, level)
        _, high_d = difference_interval(most_a, n_a, fit.events[b], n_b, level)
        raw = float(none[a] - none[b])
        notes = (
            *notes,
            f"the raw difference is {_signed(raw)}, with a {level_words(level)} hybrid-score interval from "
            f"{_signed(float(low_d))} to {_signed(float(high_d))}; it uses these two records alone",
        )
    return setting.answer(
        a,
        kind="ahead",
        claim=claim,
        about=about,
        verdict=verdict,
        chance=chance,
        evidence=evidence,
        say=say,
        avoid=avoid,
        assumptions=assumptions,
        would_change=would,
        notes=(*notes, *setting.notes_for(about)),
        numbers={**setting.numbers_of(a), "other": rival},
        beside=setting.beside(a, setting.usual_field),
    )


def _signed(value: float) -> str:
    return ("-" if value < 0 else "+") + rate_text(abs(value))


def _most(setting: Setting, place: int, verdict: Verdict) -> int:
    events, exposure = int(setting.fit.events[place]), int(setting.fit.exposure[place])
    return events if verdict == "holds" else exposure - events
