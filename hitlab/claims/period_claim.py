"""Claims that a hitter does it more than before, less, or is another hitter since a day.

"More" and "less" mean by however little; "another" means that the true odds are at least 1.25 times as high
or as low. The chance comes from a model of all hitters together (``compare_periods``), so that one hitter's
change is held against how much hitters change at all.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.result import Claim, Finding, Verdict, not_measured, on_the_record, raw_difference
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import counted, odds_between, recorded
from hitlab.counting.counts import Counts
from hitlab.counting.days import day_words
from hitlab.counting.intervals import difference_interval
from hitlab.counting.rates import as_counts
from hitlab.errors import ClaimError
from hitlab.estimates.faced_in_parts import PartsFaced, compare_parts
from hitlab.over_time.after_looking import LOOKED_AT, best_day_p, chance_at_most, one_day_p
from hitlab.over_time.periods import FACTOR, compare_periods, joined_periods
from hitlab.over_time.stretches import by_game, summed_by_hitter
from hitlab.questions.faced_pitching import ALIKE, OTHERWISE, faced_note
from hitlab.questions.question import Question
from hitlab.questions.source import Source, in_one
from hitlab.wording import chance_text, percent

__all__ = ["answer_more"]

_CHANGED = {"more": "higher", "less": "lower", "either": "another"}


def answer_more(question: Question, table: Any, before: Counts | None = None) -> Claim:
    """Answer "more power than two years ago": a true rate higher, lower or another in a later period."""
    source = Source.of(question, table)
    question = source.question
    than = str(question.options.get("than", ""))
    looked = question.options.get("looked_at", LOOKED_AT[0])
    if looked not in LOOKED_AT:
        raise ClaimError(f"looked_at={looked!r}: give one of {', '.join(LOOKED_AT)}")
    if before is not None and source.pitches:
        raise ClaimError(
            "before= goes with counts of the later period; of a pitch table since= says where that begins"
        )
    if before is not None and "days" in looked:
        raise ClaimError("looked_at: all days are told by the pitch table alone; give it instead of counts")
    if before is None:
        if not source.pitches or not question.since:
            raise ClaimError(
                "a change needs two periods: give since= and the pitch table, or the counts of the earlier "
                "period as before="
            )
        since = datetime.fromisoformat(question.since)
        eve = since - timedelta(days=1)
        parts, met = [], []
        for name, term in (("before", f"date<={eve:%Y-%m-%d}"), ("since", f"date>={question.since}")):
            counts, faced_by = source.with_faced(*question.when, *source.days, term)
            if not len(counts.data):
                raise ClaimError(
                    f"the table has no such pitch {name} {question.since}, so there is nothing to compare"
                )
            parts.append(counts)
            met.append(faced_by)
        first, second = parts
        faced = _faced(source, *met)
        than = than or f"before {day_words(since)}"
    else:
        earlier = as_counts(before)
        earlier = in_one(earlier) if question.subject == "league" else earlier
        first, second = (summed_by_hitter(counts) for counts in (earlier, source.table))
        faced = None
    return _answer(source, first, second, than or "before", faced)


def _faced(source: Source, first: Counts | None, second: Counts | None) -> PartsFaced | None:
    """Hold what hitters faced in the second period against what they faced in the first, where it is told."""
    if first is None or second is None:
        return None
    names = [name for name in first.data.columns if name in second.data.columns]
    rows = pd.concat([first.data[names], second.data[names]], ignore_index=True)
    part = (np.arange(len(rows)) >= len(first.data)).astype(np.int64)
    return compare_parts(replace(first, data=rows), source.games, *source.rate, part, [1])


def _answer(source: Source, before: Counts, now: Counts, than: str, faced: PartsFaced | None) -> Claim:
    whole = joined_periods(before, now)
    setting = Setting(source, whole, totals=True)
    q = setting.question
    place = setting.place(q.who)
    name, rate, per = setting.labels[place], setting.rate_name, setting.per
    called = setting.called(place)
    factor = float(q.options.get("factor", FACTOR))
    if not factor > 1:
        raise ClaimError(f"factor={factor!r}: give a number above 1, such as {FACTOR}")
    key = list(whole.by)
    me = whole.data[key[0]].iloc[place]
    matters = faced is not None and faced.matters(me)
    allowed = faced.table() if faced is not None and matters else None
    change = compare_periods(before, now, setting.event, per, factor=factor, faced=allowed)
    mine = change.data.merge(whole.data.iloc[[place]][key], on=key)
    if mine.empty:
        swung = all((c.data.loc[c.data[key[0]] == me, per] > 0).any() for c in (before, now))
        lacks = f"measured contact behind the {per}" if swung else per
        has = called.does("has", "have")
        raise ClaimError(
            f"{called.first} {has} no {lacks} in one of the two periods, so they cannot be compared"
        )
    row = mine.iloc[0]
    counts = ("first_events", "first_exposure", "second_events", "second_exposure")
    k1, n1, k2, n2 = (int(row[c]) for c in counts)
    all_1, unknown_1, all_2, unknown_2 = (
        int(row[f"{part}_{c}"]) for part in ("first", "second") for c in ("all", "unknown")
    )
    records = f"{k2:,} in {all_2:,} now, {k1:,} in {all_1:,} {than}{not_measured(unknown_2, unknown_1)}"
    sums = change.data[list(counts)].sum()
    past, present = (float(sums[f"{s}_events"] / sums[f"{s}_exposure"]) for s in ("first", "second"))
    evidence = pd.DataFrame(
        {
            "period": [than, "now"],
            setting.event: [k1, k2],
            per: [all_1, all_2],
            **({"unknown": [unknown_1, unknown_2]} if unknown_1 or unknown_2 else {}),
            "rate": [row["first_rate"], row["second_rate"]],
            "league_rate": [past, present],
        }
    )
    low, high = (float(v) for v in difference_interval(k2, n2, k1, n1, change.level))
    difference = float(row["difference"])
    raw = raw_difference(difference, low, high, change.level)
    so = _CHANGED[q.direction]
    if q.direction == "either":
        so = f"at least {factor:g} times higher or lower in its odds"
    unlooked: dict[str, float] = {}
    if setting.record:
        verdict = _by_record(q.direction, (k1, unknown_1, all_1), (k2, unknown_2, all_2), factor)
        said = setting.stated(place, f"{so} than {than}", records, verdict)
        gone = {"less": "gone down", "more": "gone up", "either": "changed"}[q.direction]
        found = Finding(verdict, *said, f"“{called.whose} true rate of {rate} has {gone}.”", notes=(raw,))
    else:
        higher = float(row["chance_higher"])
        if q.direction == "either":
            for_one_day = float(row["chance_raised"] + row["chance_lowered"])
            basis = f"judging by {records}"
        else:
            for_one_day = higher if q.direction == "more" else 1 - higher
            basis = on_the_record(k2 / n2 - k1 / n1, higher, records, present, past)
        chance, looked = _after_looking(
            source, setting, me, for_one_day, [k1, k2], [n1, n2], len(change.data)
        )
        unmeasured = max((row["second_unknown_share"], "now"), (row["first_unknown_share"], than))
        verdict = setting.settle(chance, [place], *unmeasured)
        of = f"that it is {'so' if ' ' in so else so}"
        claim, say_in_full = setting.stated(place, f"{so} than {than}", basis, verdict, chance, of)
        if chance < for_one_day:
            unlooked = {"chance_unlooked": for_one_day}
            say_in_full = f"{say_in_full[:-1]} at most, {q.options['looked_at']} having been looked at."
        other = "something else" if setting.of_league else f"a different {q.subject}"
        become = called.does("is", "are")
        if verdict != "does not hold":
            become = called.does("has become", "have become")
        assumptions = (
            "within each period, attempts are independent draws at one true rate",
            "the league's change is that of all together: other hitters in the second period change it, too"
            if setting.of_league
            else f"the changes of the {len(change.data):,} {q.subject}s in both follow a normal law of log "
            "odds ratios, whose mean and spread are integrated over",
            f"the two periods differ in nothing else that matters: {'measuring' if matters else OTHERWISE}",
            *((ALIKE,) if matters else ()),
        )
        done = "that matters, and the chance allows for it"
        found = Finding(
            verdict,
            claim,
            say_in_full,
            f"“{called.name} {become} {other}.”",
            chance,
            assumptions,
            "more swings in both periods; the shorter one decides",
            (looked, faced_note(source, faced, name, me, ("since then", than), done), raw),
        )
    numbers: dict[str, float | int | str] = {
        q.subject: name,
        "event": setting.event,
        "per": per,
        "events": k2,
        "exposure": all_2,
        "before_events": k1,
        "before_exposure": all_1,
        "difference": difference,
        "low": low,
        "high": high,
        **{each: float(row[each]) for each in ("log_odds_ratio", "ratio_low", "ratio_high")},
        "league_log_odds_ratio": change.league_ratio,
        **unlooked,
        **({} if faced is None else {"faced_rate": faced.difference(me)}),
    }
    return setting.answer(place, found, evidence, numbers, beside=False)


def _after_looking(
    source: Source, setting: Setting, me: Any, chance: float, k: list[int], n: list[int], hitters: int
) -> tuple[float, str]:
    """Return what is left of a chance where day or hitter were chosen after looking, and a note on it."""
    q = setting.question
    looked = q.options.get("looked_at", LOOKED_AT[0])
    if looked == LOOKED_AT[0]:
        return chance, (
            "day and hitter are taken to have been chosen before looking; where they were picked because of "
            f"what they show, looked_at= ({', '.join(LOOKED_AT[1:])}) corrects the chance"
        )
    if "days" in looked:
        everybody = source.counts(*q.when, *source.days, by=["date"])
        mine = everybody.only((everybody.data[setting.counts.by[0]] == me).to_numpy())
        days = by_game(mine, setting.event, setting.per)
        since = int((days.when < q.since).sum())
        p = best_day_p(days.events, days.exposure, since, q.direction, days.unknown, days.contact)
        what = f"the best of {len(days.when) - 1:,} days"
    else:
        p = one_day_p(np.array(k), np.array(n), q.direction)
        what = "a change"
    if "hitters" in looked:
        p = float(-np.expm1(hitters * np.log1p(-p))) if p < 1 else 1.0
        what += f" of the best of {hitters:,} {q.subject}s"
    most = chance_at_most(p)
    left = min(chance, most)
    done = "so the chance is at most that" if left < chance else "which leaves the chance as it is"
    return left, (
        f"chosen after looking at {looked}: where nothing changed, {what} shows as much in {percent(p)} of "
        f"seasons by luck; then at most {chance_text(most)} is left for a change, {done}"
    )


def _by_record(
    direction: str, before: tuple[int, int, int], now: tuple[int, int, int], factor: float
) -> Verdict:
    """Compare two records of events, balls that may have been one, and exposure.

    It is settled only where it is the same whatever those balls were.
    """
    (k1, u1, n1), (k2, u2, n2) = before, now
    if direction in ("more", "less"):
        return recorded(k2 * n1 - (k1 + u1) * n2, (k2 + u2) * n1 - k1 * n2, less=direction == "less")
    low, high = odds_between(now, before)
    return counted(low >= factor or high <= 1 / factor, low > 1 / factor and high < factor)
