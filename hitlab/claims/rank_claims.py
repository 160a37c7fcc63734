"""Claims about a place in the ranking: leads, and is in the top k."""

from __future__ import annotations

from typing import Any

import numpy as np

from hitlab.claims.result import About, Claim, Verdict
from hitlab.claims.setting import Prior, Setting
from hitlab.claims.verdicts import COUNTED, FAILS_AT, HOLDS_AT, known_about
from hitlab.errors import ClaimError
from hitlab.estimates.ranking import chance_of_top
from hitlab.estimates.shrinkage import Posterior
from hitlab.wording import chance_text, rate_text

__all__ = ["check_leads", "check_top"]

_SHOWN = 8


def check_leads(
    counts: Any,
    hitter: str | None = None,
    *,
    event: str = "hard",
    per: str = "swings",
    about: About = "underlying",
    minimum: int | None = None,
    holds_at: float = HOLDS_AT,
    fails_at: float = FAILS_AT,
    prior: Prior = None,
) -> Claim:
    """Check "nobody does it more often than she does".

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts. Counted by hitter and game, attempts of one game that go together
        are allowed for; what is said of records stays as it is.
    hitter
        Name, label or id; the highest observed rate where not given.
    event, per
        The rate.
    about
        ``underlying`` (is this truly the highest rate?) or ``record`` (does she lead the list today?).
    minimum
        Fewest exposures to be compared; a quarter of the largest exposure where not given.
    holds_at, fails_at
        The two bounds of the verdict; fix them before looking.
    prior
        What is known from outside of the true rates of hitters like these, such as ``shrink(league, event,
        per).law`` for a club of the league; nothing where not given.

    Returns
    -------
    Claim

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.
    """
    known_about(about)
    return _check(counts, hitter, 1, "leads", event, per, about, minimum, holds_at, fails_at, prior)


def check_top(
    counts: Any,
    hitter: str | None = None,
    *,
    top: int = 5,
    event: str = "hard",
    per: str = "swings",
    about: About = "underlying",
    minimum: int | None = None,
    holds_at: float = HOLDS_AT,
    fails_at: float = FAILS_AT,
    prior: Prior = None,
) -> Claim:
    """Check "she is one of the five best at it"; parameters as in :func:`check_leads`, and ``top``."""
    if isinstance(top, bool) or int(top) != top or top < 1:
        raise ClaimError(f"top={top!r}: give a whole number from 1 up")
    return _check(counts, hitter, int(top), "top", event, per, about, minimum, holds_at, fails_at, prior)


def _check(
    counts: Any,
    hitter: str | None,
    top: int,
    kind: str,
    event: str,
    per: str,
    about: About,
    minimum: int | None,
    holds_at: float,
    fails_at: float,
    prior: Prior,
) -> Claim:
    setting = Setting.of(counts, event, per, minimum, holds_at, fails_at, prior)
    fit, labels, qualified = setting.fit, setting.counts.labels, setting.qualified
    observed = fit.data["rate"].to_numpy(float)
    place = (
        int(qualified[observed[qualified].argmax()])
        if hitter is None
        else setting.place(hitter, qualified=True)
    )
    me = int(np.flatnonzero(qualified == place)[0])
    if top >= len(qualified):
        raise ClaimError(f"top {top} of {len(qualified)} hitters holds for everybody; give a smaller top=")

    def chance_in(posterior: Posterior) -> float:
        return float(chance_of_top(posterior.only(qualified), top)[me])

    chances = chance_of_top(fit.posterior.only(qualified), top)
    name, field = labels[place], setting.field_words
    notes: tuple[str, ...] = ()
    chance: float | None
    goal = "the highest rate" if top == 1 else f"one of the {top} highest rates"
    record, record_words = _record(setting, place, qualified, top)
    if about == "record":
        verdict, chance = record, None
        would = "other counts, today or tomorrow: a record says who is ahead, not who is better"
        say = record_words
        avoid = (
            f"“{name} is the best at it.” (a record does not say so)"
            if top == 1
            else f"“{name} is one of the {top} best at it.” (a record does not say so)"
        )
        assumptions = COUNTED
        claim = f"{name} has {goal} of {setting.rate_name} on the list so far, of {field}"
    else:
        chance = float(chances[me])
        verdict, notes = setting.settle(chance, [place])
        say, avoid = _sentences(setting, name, place, chances, verdict, me, qualified, goal, top)
        claim = f"{name} truly has {goal} of {setting.rate_name} among {field}"
        assumptions = setting.assumptions
        would = setting.would_change(
            verdict,
            chance_in,
            qualified,
            f"each of the {len(qualified):,}",
            lambda d: chance_in(setting.with_record(place, d, 0)),
            int(fit.events[place] if verdict == "holds" else fit.exposure[place] - fit.events[place]),
        )
        if notes:
            would = "measuring the contact whose hardness is unknown"
        notes = (*notes, f"the record, which is another claim: {record_words.rstrip('.')}")
    order = np.argsort(-chances if about == "underlying" else -observed[qualified], kind="stable")
    shown = list(order[:_SHOWN])
    if me not in shown:
        shown.append(me)
    rows = qualified[np.array(shown)]
    evidence = setting.evidence(rows)
    evidence["chance_best" if top == 1 else "chance_top"] = chances[shown]
    numbers = {
        **setting.numbers_of(place),
        "minimum": setting.minimum,
        "compared": len(qualified),
        "top": top,
        "half_weight_size": fit.half_weight_size if np.isfinite(fit.half_weight_size) else "infinite",
    }
    return setting.answer(
        place,
        kind=kind,
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
        numbers=numbers,
        beside=setting.beside(place, qualified),
    )


def _record(setting: Setting, place: int, qualified: np.ndarray[Any, Any], top: int) -> tuple[Verdict, str]:
    """Settle the record by counting; unknown balls count against the claim and for the others."""
    low, high = setting.bounds_of_record()
    labels, rate = setting.counts.labels, setting.fit.data["rate"].to_numpy(float)  # as the evidence has it
    others = qualified[qualified != place]
    surely_above = int((low[others] > high[place]).sum())
    maybe_above = int((high[others] > low[place]).sum())
    mine = f"{rate_text(rate[place])}, {setting.record_of(place)}"
    name, field = labels[place], setting.field_words
    if surely_above >= top:
        best = others[np.argsort(-low[others], kind="stable")[: min(top, 3)]]
        ahead = ", ".join(f"{labels[i]} ({rate_text(rate[i])})" for i in best)
        first = "the first is" if len(best) == 1 else f"the first {len(best)} are"
        return "does not hold", (
            f"{name} is {'number' if maybe_above == surely_above else 'at best number'} {surely_above + 1} "
            f"on the list so far, of {field}, with {mine}; {first} {ahead}."
        )
    if maybe_above >= top:
        return "open", (
            f"{name} has {mine}; whether that is {'the highest rate' if top == 1 else f'in the top {top}'} "
            f"of {field} so far depends on balls of unknown hardness."
        )
    level = [labels[i] for i in others if low[i] == high[i] == low[place]]
    shared = f", level with {' and '.join(level[:3])}" if level else ""
    rank = "the highest rate" if top == 1 else f"one of the {top} highest rates"
    return "holds", f"{name} has {rank} of {setting.rate_name} so far{shared}: {mine}, among {field}."


def _sentences(
    setting: Setting,
    name: str,
    place: int,
    chances: np.ndarray[Any, Any],
    verdict: Verdict,
    me: int,
    qualified: np.ndarray[Any, Any],
    goal: str,
    top: int,
) -> tuple[str, str]:
    labels, field, rate = setting.counts.labels, setting.field_words, setting.rate_name
    chance, record = chance_text(float(chances[me])), setting.record_of(place)
    rival = int(np.argsort(-np.where(np.arange(len(chances)) == me, -1.0, chances), kind="stable")[0])
    next_best = f"{labels[qualified[rival]]} ({chance_text(float(chances[rival]))})"
    if verdict == "holds":
        say = (
            f"{name}, with {record}, most likely has {goal} of {rate} among {field}: the chance is {chance}."
        )
    elif verdict == "open":
        next_one = "the next likeliest" if chances[rival] < chances[me] else "at least as likely"
        also = f"; {next_one} is {next_best}" if top == 1 else ""
        say = f"{name}, with {record}, may have {goal} of {rate} among {field}: the chance is {chance}{also}."
    else:
        also = f"; the likeliest is {next_best}" if top == 1 else ""
        say = (
            f"{name}, with {record}, most likely does not have {goal} of {rate} among {field}: "
            f"the chance that it is so is {chance}{also}."
        )
    if verdict == "does not hold":
        return say, f"“{name} has {goal} of {rate}.”"
    if top == 1:
        return say, f"“Nobody beats {name} at it, the numbers prove it.”"
    return say, f"“{name} is one of the {top} best at it, the numbers prove it.”"
