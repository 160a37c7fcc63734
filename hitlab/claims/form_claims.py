"""Claims about form: steady since April, on a hot streak.

What they mean, so that each can be true or false:

- *hot*: the hitter's true odds over his last stretch of games (12 unless said otherwise) are at least 1.25
  times his usual ones. A smaller rise is no streak worth the word; .140 becomes .169.
- *steady*: in no stretch did his true odds leave those of all his games together by that factor, up or down.
  Days count as luck, and nothing is said of other seasons.

The chances come from a model of all hitters together (``fit_form``). So "does not hold"
has content: "hot" is settled against a hitter where the league shows that form hardly moves rates by a
quarter of the odds, or his own last games speak against it. Where neither is known, the claim stays open;
that a streak is within luck never settles it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.result import ON_RECORD, Claim, Finding, how_likely, not_measured
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import counted, left_open, odds_between
from hitlab.counting.counts import Counts
from hitlab.counting.days import said_day
from hitlab.counting.events import event_words, is_gain, per_words
from hitlab.errors import ClaimError, CountsError
from hitlab.estimates.faced_in_parts import compare_parts
from hitlab.over_time.form import form_over_time
from hitlab.over_time.form_law import STRETCH, FormFit, fit_form
from hitlab.over_time.periods import FACTOR
from hitlab.over_time.stretches import in_order
from hitlab.questions.faced_pitching import ALIKE, OTHERWISE, faced_note, untold
from hitlab.questions.question import Question
from hitlab.questions.source import Source
from hitlab.wording import chance_text, rate_text

__all__ = ["answer_hot", "answer_steady"]

_DOUBLED, _HARDLY = 2.0, 0.1  # odds so much higher that are seen in fewer than so many: nobody is called hot
_STAYED = {"holds": "stayed", "does not hold": "did not stay", "open": "may have stayed"}
_GAMES_ALIKE = (
    "within a stretch of games, attempts are draws at one true rate that are at most alike within a game, so "
    "that good and bad days count as luck"
)


class _Form:
    """A hitter's form: the fit of everybody's, and what every claim about it shares."""

    def __init__(self, question: Question, table: Any) -> None:
        options = question.options
        factor, stretch = float(options.get("factor", FACTOR)), int(options.get("stretch", STRETCH))
        if not 1 < factor < np.inf:
            raise ClaimError(f"factor={factor!r}: give a number above 1, such as {FACTOR}")
        source = Source.of(question, table)
        if source.pitches:
            source.demand("game", "date")
        counts, met = source.with_faced(*question.when, *source.days, by=("game", "date"))
        self.fit: FormFit = fit_form(counts, *source.rate, stretch=stretch)
        self.counts, self.factor = counts, factor
        self.setting = setting = Setting(source, self.fit.games.totals)
        self.place = setting.place(question.who)
        self.name, self.rate = setting.labels[self.place], setting.rate_name
        mine = self.fit.of(self.place)
        if mine.stop - mine.start < 2:
            raise ClaimError(
                f"{self.name} has too few games for a last stretch of {stretch} and something before it; "
                "give a shorter stretch="
            )
        self.faced, self.allowed = untold(source), False
        if met is not None:
            self._allow_for(met)
        self.rows = self.fit.stretches(self.place)
        self.usual = self.fit.usual_rate(self.place)

    def _allow_for(self, met: Counts) -> None:
        """Take what hitters faced in each of their stretches out of their form, where that matters."""
        fit, setting, counts = self.fit, self.setting, self.counts
        # Each hitter's stretches, numbered from the last one, 0, back.
        ends = np.searchsorted(fit.hitter, fit.hitter, side="right") - 1
        number = ends - np.arange(len(fit.hitter))
        games = in_order(counts)
        games = games.only(games.column(fit.per) > 0)
        stretch = np.searchsorted(fit.first, np.arange(len(games.data)), side="right") - 1
        keys = list(counts.by)
        told = games.data[keys].assign(number=number[stretch])
        part = met.data[keys].merge(told, on=keys, how="left")["number"].fillna(0).to_numpy(np.int64)
        found = compare_parts(
            met, setting.source.games, fit.event, fit.per, part, range(int(number.max()) + 1)
        )
        everybody = setting.counts.data[counts.by[0]]
        me, parts = everybody.iloc[self.place], (_lately(self._last_games), "all others")
        done = "that matters, so form is what is left of it"
        self.faced = faced_note(setting.source, found, self.name, me, parts, done)
        if found is None or not found.matters(me):
            return
        row = found.places(everybody)[fit.hitter]
        log_odds, error = (
            np.array([getattr(one, what) for one in found.apart])[number, row]
            for what in ("log_odds", "error")
        )
        self.fit = fit_form(counts, fit.event, fit.per, stretch=fit.stretch, faced=(log_odds, error))
        self.allowed = True

    @property
    def _last_games(self) -> int:
        """How many games the last stretch has."""
        last = self.fit.of(self.place).stop - 1
        return int(self.fit.last[last] - self.fit.first[last] + 1)

    def answer(
        self, finding: Finding, evidence: pd.DataFrame, numbers: Mapping[str, float | int | str]
    ) -> Claim:
        """Put an answer together; what rests on the fit is added to a chance."""
        fit, setting = self.fit, self.setting
        if finding.chance is not None:
            assumptions = (
                _GAMES_ALIKE,
                f"form in a stretch follows a normal law, or one with rare streaks, the same for all "
                f"{len(set(fit.hitter.tolist())):,} hitters, whose spread is integrated over (here about "
                f"{fit.spread:.2f} of the log odds)",
                "the stretches differ in nothing else that matters: "
                f"{'measuring' if self.allowed else OTHERWISE}",
                *((ALIKE,) if self.allowed else ()),
            )
            notes = (*finding.notes, self.faced, *self._luck_notes())
            finding = finding._replace(assumptions=assumptions, notes=notes)
        of_form = {"stretch": fit.stretch, "factor": self.factor, "usual": self.usual}
        return setting.answer(
            self.place,
            finding._replace(notes=(*finding.notes, *fit.notes)),
            evidence,
            {**setting.numbers_of(self.place), **of_form, **numbers, "form_spread": fit.spread},
            beside=False,
        )

    def _luck_notes(self) -> tuple[str, ...]:
        """Return what luck alone would show; without a rolling window where the season is short for one."""
        fit, key = self.fit, self.setting.counts.by[0]
        me = str(self.setting.counts.data[key].iloc[self.place])
        try:
            form = form_over_time(self.counts, me, fit.event, fit.per, window=fit.stretch)
        except CountsError:
            return ()
        return (form.explanation.rstrip("."), fit.explanation)

    def what_a_streak_is(self) -> tuple[str, tuple[str, ...]]:
        """Say what record over the last games would be called a streak, and, in a note, if hardly any is."""
        from scipy.special import bdtrc

        fit = self.fit
        last = fit.of(self.place).stop - 1
        k, every = int(fit.events[last]), int(fit.exposure[last])
        n = round(float(fit.measured[last]))
        least = fit.least_above(self.place, self.factor, self.setting.question.holds_at)
        games = self._last_games
        whole = f"the {every:,} {per_words(fit.per, every)} {_lately(games).replace('over', 'of')}"
        over = f"in {whole}" if n == every else f"in the {n:,} that were measured of {whole}"
        if least is None:
            there = "one game" if games == 1 else f"{games} games"
            return (
                f"more than {there} can show: form moves rates so little here that not even {n:,} "
                f"{per_words(fit.event, n)} {over} would be called a streak"
            ), ()
        fewer = "fewer than " if k >= least else ""
        told = f"{fewer}about {least:,} {per_words(fit.event, least)} {over}, where there are {k:,}"
        shown = float(bdtrc(least - 1, n, _times(self.usual, _DOUBLED)))
        if shown >= _HARDLY:
            return told, ()
        return told, (
            f"hardly anybody can be called hot here: it takes a rate of {rate_text(least / n)} "
            f"{_lately(games)}, where {rate_text(self.usual)} is usual, and of hitters whose odds really "
            f"doubled {_of_hundred(shown)} show one",
        )


def answer_hot(question: Question, table: Any) -> Claim:
    """Answer "she is on a hot streak": her true odds now at least 1.25 times her usual ones."""
    form = _Form(question, table)
    fit, setting, name, rate, usual = form.fit, form.setting, form.name, form.rate, form.usual
    event, factor = setting.event, form.factor
    now, rest = form.rows.iloc[-1], form.rows.iloc[:-1]
    k, n, rest_k, rest_n = (int(part[count].sum()) for part in (now, rest) for count in (event, setting.per))
    lately = _lately(int(now["games"]))
    mine = fit.of(form.place)
    rest_u, u = int(fit.unknown[mine][:-1].sum()), int(fit.unknown[mine][-1])
    records = f"{k:,} in {n:,} {lately}, {rest_k:,} in {rest_n:,} before{not_measured(u, rest_u)}"
    past_them = f"of {rate} {lately} are at least {factor:g} times"
    if setting.record:
        low, high = odds_between((k, u, n), (rest_k, rest_u, rest_n))
        verdict = counted(low >= factor, high < factor)
        found = Finding(
            verdict,
            f"{name}'s observed odds {past_them} those before",
            left_open(
                f"{name}'s record {lately} {ON_RECORD[verdict]} that much above the one before: {records}.",
                verdict,
            ),
            f"“{name} is hot.”",
        )
    else:
        chance = fit.chance_above(form.place, factor)
        verdict = setting.settle(chance, [form.place], float(fit.unknown_share[mine][-1]), lately)
        a_streak, hardly = ("", ()) if setting.reasons else form.what_a_streak_is()
        gain = is_gain(event)
        streak = "on a hot streak" if gain else f"having far more {event_words(event)} than usual"
        spell, opposite = ("is hot", "is not hot") if gain else ("has lost it", "has not lost it")
        word = "may or may not be" if verdict == "open" else how_likely(verdict, chance)
        found = Finding(
            verdict,
            f"{name}'s true odds {past_them} the usual ones",
            f"{name} {word} {streak}, judging by {records}: the chance that the true rate of {rate} now has "
            f"at least {factor:g} times the usual odds is {chance_text(chance)} (the usual rate is estimated "
            f"at {rate_text(usual)} once luck is taken out; {factor:g} times its odds are "
            f"{rate_text(_times(usual, factor))}).",
            {
                "holds": f"“{name} {'cannot miss right now' if gain else spell}, and it will go on.”",
                "does not hold": f"“{name} {spell}.”",
                "open": f"“{name} {spell}.” Nor: “{name} {opposite}.”",
            }[verdict],
            chance,
            would_change=a_streak,
            notes=hardly,
        )
    return form.answer(found, form.rows, {"hot_from": _times(usual, factor), "now": float(now["shrunk"])})


def _of_hundred(chance: float) -> str:
    return f"{round(100 * chance)} in 100" if chance >= 0.01 else "fewer than one in 100"


def _lately(games: int) -> str:
    return "over the last game" if games == 1 else f"over the last {games} games"


def answer_steady(question: Question, table: Any) -> Claim:
    """Answer "she has been steady since April": her true odds never 1.25 times off her season's."""
    form = _Form(question, table)
    fit, setting, name, rate = form.fit, form.setting, form.name, form.rate
    factor, stretch, since = form.factor, fit.stretch, setting.question.since or None
    looked = fit.since(form.place, since)
    if len(looked) < 2:
        raise ClaimError(
            f"{name} has {len(looked)} stretch{'es' if not len(looked) else ''} of {stretch} "
            f"games{f' that begin on {said_day(since)} or later' if since else ''}; steady needs two: give a "
            "shorter stretch= or an earlier since="
        )
    rows = form.rows.iloc[looked].reset_index(drop=True)
    when = f"since {said_day(since)}" if since else "throughout"
    season = float(np.average(form.rows["shrunk"], weights=form.rows[setting.per]))
    low, high = _times(season, 1 / factor), _times(season, factor)
    observed = ", ".join("not measured" if np.isnan(v) else rate_text(v) for v in rows["rate"])
    if setting.record:
        mine = fit.of(form.place)
        each = np.stack([count[mine] for count in (fit.events, fit.unknown, fit.exposure)], axis=1)
        whole = each.sum(axis=0).tolist()
        odds = [odds_between(record, whole) for record in each[looked].tolist()]
        verdict = counted(
            all(1 / factor <= low and high <= factor for low, high in odds),
            any(high < 1 / factor or low > factor for low, high in odds),
        )
        stayed = f"{_STAYED[verdict]} within a factor of {factor:g}"
        found = Finding(
            verdict,
            f"{name}'s observed odds of {rate} stayed within a factor of {factor:g} of those in all games, "
            f"{when}",
            left_open(f"{name}'s observed odds of {rate} {stayed} {when}: {observed}.", verdict),
            f"“{name} is a streaky hitter.”",
        )
    else:
        chance = fit.chance_steady(form.place, factor, since)
        share = float(fit.unknown_share[fit.of(form.place)][looked].max())
        verdict = setting.settle(chance, [form.place], share, f"in a stretch of {stretch} games")
        finding = {
            "holds": "has most likely been steady",
            "does not hold": "has most likely not been steady",
            "open": "may or may not have been steady",
        }[verdict]
        found = Finding(
            verdict,
            f"{name}'s true odds of {rate} were within a factor of {factor:g} of those in all games in each "
            f"of {len(looked)} stretches{f' {when}' if since else ''}",
            f"{name} {finding} {when}: the chance that the true rate of {rate} never had {factor:g} times "
            f"the odds of all games together, up or down, in {len(looked)} stretches of about {stretch} "
            f"games is {chance_text(chance)} (once luck is taken out about {rate_text(season)} in all games; "
            f"from there the bounds are {rate_text(low)} and {rate_text(high)}); the observed rates, "
            f"{observed}, move by luck as well.",
            {
                "holds": f"“{name} runs hot and cold.”",
                "does not hold": f"“{name} has been steady.”",
                "open": f"“{name} runs hot and cold.” Nor: “{name} has been steady.”",
            }[verdict],
            chance,
            would_change=f"more {per_words(fit.per, 2)} a stretch, or a league in which form is known to "
            "move rates more or less than here",
        )
    numbers = {"season": season, "steady_from": low, "steady_to": high, "stretches": len(looked)}
    return form.answer(found, rows, numbers)


def _times(rate: float, factor: float) -> float:
    odds = rate / (1 - rate) * factor
    return odds / (1 + odds)
