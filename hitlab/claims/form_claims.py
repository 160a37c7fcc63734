"""Claims about form: steady since April, on a hot streak.

What they mean, so that each can be true or false:

- *hot*: the hitter's true odds over his last stretch of games (12 unless said otherwise) are at least 1.25
  times his usual ones. A smaller rise is no streak worth the word; .140 becomes .169.
- *steady*: in no stretch did his true odds leave his usual ones by that factor, up or down.

The chances come from a model of all hitters together (``fit_form``). So "does not hold"
has content: "hot" is settled against a hitter where the league shows that form hardly moves rates by a
quarter of the odds, or his own last games speak against it. Where neither is known, the claim stays open;
that a streak is within luck never settles it.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, NamedTuple

import numpy as np

from hitlab.claims.faced_pitching import ALIKE, OTHERWISE, SAME, columns_to_count, compare_parts, untold
from hitlab.claims.question import Question
from hitlab.claims.result import Claim, Verdict, how_likely
from hitlab.claims.setting import Setting
from hitlab.claims.source import Source
from hitlab.claims.verdicts import COUNTED
from hitlab.counting.counts import Counts, pair
from hitlab.counting.days import day_words
from hitlab.counting.events import event_words, is_gain, per_words
from hitlab.errors import ClaimError, CountsError
from hitlab.over_time.form import form_over_time
from hitlab.over_time.form_law import STRETCH, FormFit, fit_form
from hitlab.over_time.periods import FACTOR
from hitlab.over_time.stretches import hitter_key, in_order
from hitlab.wording import chance_text, rate_text

__all__ = ["answer_hot", "answer_steady"]

_GAMES_ALIKE = (
    "within a stretch of games, attempts are draws at one true rate that are at most alike within a game"
)


def answer_hot(question: Question, table: Any) -> Claim:
    """Answer "she is on a hot streak": her true odds now at least 1.25 times her usual ones."""
    fit, setting, place, counts, faced = _fitted(question, table)
    event, per, factor = setting.event, setting.per, float(setting.question.options.get("factor", FACTOR))
    about = setting.question.about
    name, rate = setting.counts.labels[place], setting.rate_name
    rows = fit.stretches(place)
    now, rest = rows.iloc[-1], rows.iloc[:-1]
    k, n, rest_k, rest_n = (int(v) for v in (now[event], now[per], rest[event].sum(), rest[per].sum()))
    lately = _lately(int(now["games"]))
    records = f"{k:,} in {n:,} {lately}, {rest_k:,} in {rest_n:,} before"
    usual = fit.usual_rate(place)
    past_them = f"of {rate} {lately} are at least {factor:g} times"
    claim = f"{name}'s true odds {past_them} the usual ones"
    chance: float | None = None
    notes: tuple[str, ...] = ()
    if about == "record":
        raised = _odds(k, n) >= factor * _odds(rest_k, rest_n)
        verdict: Verdict = "holds" if raised else "does not hold"
        say_in_full = (
            f"{name}'s record {lately} is {'' if raised else 'not '}that much above "
            f"the one before: {records}."
        )
        claim = f"{name}'s observed odds {past_them} those before"
        tempting, would = (
            f"“{name} is hot.”",
            "other counts: a record says what happened",
        )
        assumptions = COUNTED
    else:
        chance = fit.chance_above(place, factor)
        verdict, notes = setting.settle(chance, [place])
        streak = "on a hot streak" if is_gain(event) else f"having far more {event_words(event)} than usual"
        spell, opposite = ("is hot", "is not hot") if is_gain(event) else ("has lost it", "has not lost it")
        word = "may or may not be" if verdict == "open" else how_likely(verdict, chance)
        finding = f"{word} {streak}"
        say_in_full = (
            f"{name} {finding}, judging by {records}: the chance that the true rate of {rate} now is "
            f"{rate_text(_times(usual, factor))} or more, where the usual one is estimated at "
            f"{rate_text(usual)} once luck is taken out, is {chance_text(chance)}."
        )
        tempting = {
            "holds": f"“{name} {'cannot miss right now' if is_gain(event) else spell}, and it will go on.”",
            "does not hold": f"“{name} {spell}.”",
            "open": f"“{name} {spell}.” Nor: “{name} {opposite}.”",
        }[verdict]
        assumptions = _assumed(fit, faced.allowed)
        would = (notes and "measuring the contact whose hardness is unknown") or (
            _what_a_streak_is(fit, place, factor, setting)
        )
        notes = (*notes, faced.note, *_luck_notes(counts, setting, place, fit))
    return setting.answer(
        place,
        beside=False,
        claim=claim,
        verdict=verdict,
        chance=chance,
        evidence=rows,
        say_in_full=say_in_full,
        tempting=tempting,
        assumptions=assumptions,
        would_change=would,
        notes=(*notes, *fit.notes, *setting.counts.notes_on(event, per)),
        numbers={
            **setting.numbers_of(place),
            "stretch": fit.stretch,
            "factor": factor,
            "usual": usual,
            "hot_from": _times(usual, factor),
            "now": float(now["shrunk"]),
            "form_spread": fit.spread,
        },
    )


def _lately(games: int) -> str:
    return "over the last game" if games == 1 else f"over the last {games} games"


def _what_a_streak_is(fit: FormFit, place: int, factor: float, setting: Setting) -> str:
    """Say what record over the last games would be called a streak, in view of all the others."""
    last = fit.of(place).stop - 1
    k, n = int(fit.events[last]), int(fit.exposure[last])
    least = fit.least_above(place, factor, setting.question.holds_at)
    games = int(fit.last[last] - fit.first[last] + 1)
    over = f"in the {n:,} {per_words(fit.per, n)} {_lately(games).replace('over', 'of')}"
    if least is None:
        there = "one game" if games == 1 else f"{games} games"
        return (
            f"more than {there} can show: form moves rates so little here that not even {n:,} "
            f"{per_words(fit.event, n)} {over} would be called a streak"
        )
    fewer = "fewer than " if k >= least else ""
    return f"{fewer}about {least:,} {per_words(fit.event, least)} {over}, where there are {k:,}"


def answer_steady(question: Question, table: Any) -> Claim:
    """Answer "she has been steady since April": her true odds never 1.25 times up or down from the usual."""
    fit, setting, place, counts, faced = _fitted(question, table)
    event, per, factor = setting.event, setting.per, float(setting.question.options.get("factor", FACTOR))
    about, since, stretch = setting.question.about, setting.question.since or None, fit.stretch
    name, rate = setting.counts.labels[place], setting.rate_name
    looked = fit.since(place, since)
    if len(looked) < 2:
        raise ClaimError(
            f"{name} has {len(looked)} stretch{'es' if not len(looked) else ''} of {stretch} "
            f"games{f' that begin on {_day(since)} or later' if since else ''}; steady needs two: give a "
            "shorter stretch= or an earlier since="
        )
    rows = fit.stretches(place).iloc[looked].reset_index(drop=True)
    usual = fit.usual_rate(place)
    when = f"since {_day(since)}" if since else "throughout"
    least, most = rate_text(_times(usual, 1 / factor)), rate_text(_times(usual, factor))
    observed = ", ".join(rate_text(value) for value in rows["rate"])
    claim = (
        f"{name}'s true odds of {rate} were within a factor of {factor:g} of the usual ones in each of "
        f"{len(looked)} stretches{f' since {_day(since)}' if since else ''}"
    )
    chance: float | None = None
    notes: tuple[str, ...] = ()
    if about == "record":
        own = setting.numbers_of(place)
        middle = _odds(int(own["events"]), int(own["exposure"]))
        odds = [_odds(int(k), int(n)) for k, n in zip(rows[event], rows[per], strict=True)]
        inside = all(middle / factor <= value <= middle * factor for value in odds)
        verdict: Verdict = "holds" if inside else "does not hold"
        word = "stayed" if inside else "did not stay"
        say_in_full = (
            f"{name}'s observed odds of {rate} {word} within a factor of {factor:g} {when}: {observed}."
        )
        all_games = f"stayed within a factor of {factor:g} of those in all games"
        claim = f"{name}'s observed odds of {rate} {all_games}, {when}"
        tempting, would = (
            f"“{name} is a streaky hitter.”",
            "other counts: a record says what happened",
        )
        assumptions = COUNTED
    else:
        chance = fit.chance_steady(place, factor, since)
        verdict, notes = setting.settle(chance, [place])
        finding = {
            "holds": "has most likely been steady",
            "does not hold": "has most likely not been steady",
            "open": "may or may not have been steady",
        }[verdict]
        say_in_full = (
            f"{name} {finding} {when}: the chance that the true rate of {rate} stayed between {least} and "
            f"{most}, around a usual one of {rate_text(usual)} once luck is taken out, in all {len(looked)} "
            f"stretches of about {stretch} games is {chance_text(chance)}; the observed rates, {observed}, "
            "move by luck as well."
        )
        tempting = {
            "holds": f"“{name} runs hot and cold.”",
            "does not hold": f"“{name} has been steady.”",
            "open": f"“{name} runs hot and cold.” Nor: “{name} has been steady.”",
        }[verdict]
        assumptions = _assumed(fit, faced.allowed)
        would = (notes and "measuring the contact whose hardness is unknown") or (
            "more swings a stretch, or a league in which form is known to move rates more or less than here"
        )
        notes = (*notes, faced.note, *_luck_notes(counts, setting, place, fit))
    return setting.answer(
        place,
        beside=False,
        claim=claim,
        verdict=verdict,
        chance=chance,
        evidence=rows,
        say_in_full=say_in_full,
        tempting=tempting,
        assumptions=assumptions,
        would_change=would,
        notes=(*notes, *fit.notes, *setting.counts.notes_on(event, per)),
        numbers={
            **setting.numbers_of(place),
            "stretch": fit.stretch,
            "factor": factor,
            "usual": usual,
            "steady_from": _times(usual, 1 / factor),
            "steady_to": _times(usual, factor),
            "stretches": len(looked),
            "form_spread": fit.spread,
        },
    )


class _Faced(NamedTuple):
    """What was found of the pitching that the hitter faced, and whether the answer allows for it."""

    note: str
    allowed: bool = False


def _fitted(question: Question, table: Any) -> tuple[FormFit, Setting, int, Counts, _Faced]:
    options = question.options
    factor, stretch = float(options.get("factor", FACTOR)), int(options.get("stretch", STRETCH))
    if not factor > 1:
        raise ClaimError(f"factor={factor!r}: give a number above 1, such as {FACTOR}")
    source = Source.of(question, table)
    if source.pitches:
        source.demand("game", "date")
    # Counted once, by all that the hitters faced as well, and then summed.
    by, record = ("game", "date"), question.about == "record"
    faced_by = [] if record else columns_to_count(source)
    met = source.counts(*question.when, *source.days, by=tuple(dict.fromkeys([*by, *faced_by])))
    counts = met.summed((hitter_key(met), *by)) if faced_by else met
    event, per = source.rate
    fit = fit_form(counts, event, per, stretch=stretch)
    setting = Setting(source, fit.games.totals)
    place = setting.place(question.who)
    mine = fit.of(place)
    if mine.stop - mine.start < 2:
        raise ClaimError(
            f"{setting.counts.labels[place]} has too few games for a last stretch of {stretch} and "
            "something before it; give a shorter stretch="
        )
    faced = _Faced(untold(source))
    if faced_by:
        fit, faced = _allowing(fit, setting, place, met, counts)
    return fit, setting, place, counts, faced


def _allowing(
    fit: FormFit, setting: Setting, place: int, met: Counts, counts: Counts
) -> tuple[FormFit, _Faced]:
    """Take what hitters faced in each of their stretches out of their form, where that matters."""
    # Each hitter's stretches, numbered from the last one, 0, back.
    ends = np.searchsorted(fit.hitter, fit.hitter, side="right") - 1
    number = ends - np.arange(len(fit.hitter))
    games = in_order(counts)
    games = games.only(pair(games, fit.event, fit.per).exposure > 0)
    stretch = np.searchsorted(fit.first, np.arange(len(games.data)), side="right") - 1
    keys = list(counts.by)
    told = games.data[keys].assign(number=number[stretch])
    part = met.data[keys].merge(told, on=keys, how="left")["number"].fillna(0).to_numpy(np.int64)
    found = compare_parts(setting.source, met, part, list(range(int(number.max()) + 1)))
    if found is None:
        return fit, _Faced(SAME)
    key = counts.by[0]
    name, me = setting.counts.labels[place], setting.counts.data[key].iloc[place]
    at = fit.of(place).stop - 1
    last = _lately(int(fit.last[at] - fit.first[at] + 1))
    words = found.words(name, me, last, "all others")
    if not found.matters(me):
        return fit, _Faced(f"{words}; too little to matter")
    row = found.places(setting.counts.data[key])[fit.hitter]
    log_odds, error = (
        np.array([getattr(one, what) for one in found.apart])[number, row] for what in ("log_odds", "error")
    )
    fit = fit_form(counts, fit.event, fit.per, stretch=fit.stretch, faced=(log_odds, error))
    return fit, _Faced(f"{words}; that matters, so form is what is left of it", allowed=True)


def _assumed(fit: FormFit, allowed: bool) -> tuple[str, ...]:
    return (
        _GAMES_ALIKE,
        f"form in a stretch follows a normal law, or one with rare streaks, the same for all "
        f"{len(set(fit.hitter.tolist())):,} hitters, whose spread is integrated over (here about "
        f"{fit.spread:.2f} of the log odds)",
        f"the stretches differ in nothing else that matters: {'measuring' if allowed else OTHERWISE}",
        *((ALIKE,) if allowed else ()),
    )


def _luck_notes(counts: Any, setting: Setting, place: int, fit: FormFit) -> tuple[str, ...]:
    """Return what luck alone would show; without a rolling window where the season is too short for one."""
    key = setting.counts.by[0]
    try:
        form = form_over_time(
            counts, str(setting.counts.data[key].iloc[place]), fit.event, fit.per, window=fit.stretch
        )
    except CountsError:
        return ()
    return (form.explanation.rstrip("."), fit.explanation)


def _odds(events: int, exposure: int) -> float:
    return events / (exposure - events) if exposure > events else float("inf")


def _times(rate: float, factor: float) -> float:
    odds = rate / (1 - rate) * factor
    return odds / (1 + odds)


def _day(since: str) -> str:
    try:
        return day_words(datetime.fromisoformat(since))
    except ValueError:
        return since
