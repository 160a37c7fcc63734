"""Claims that a hitter does it more than before: a true rate that is higher in the later of two periods.

"More" means by however little. The chance comes from a model of all hitters together (``compare_periods``),
so that one hitter's change is held against how much hitters change at all.
"""

from __future__ import annotations

from typing import Any

import pandas as pd

from hitlab.claims.result import About, Claim, Verdict, denies, how_likely, how_sure, on_the_record
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import COUNTED, FAILS_AT, HOLDS_AT, known_about
from hitlab.counting.intervals import difference_interval
from hitlab.counting.rates import as_counts
from hitlab.errors import ClaimError
from hitlab.over_time.periods import compare_periods, joined_periods
from hitlab.over_time.stretches import summed_by_hitter
from hitlab.wording import level_words, rate_text

__all__ = ["check_more"]


def check_more(
    before: Any,
    now: Any,
    hitter: str,
    *,
    than: str = "before",
    event: str = "hard",
    per: str = "swings",
    about: About = "underlying",
    holds_at: float = HOLDS_AT,
    fails_at: float = FAILS_AT,
) -> Claim:
    """Check "more power than two years ago": a hitter's true rate higher in a later period than before.

    Parameters
    ----------
    before, now
        Counts by hitter of the two periods, everybody's.
    hitter
        Id, label or name.
    than
        The earlier period in words: ``"before"``, ``"two years ago"``, ``"in April"``.
    event, per, about, holds_at, fails_at
        As in ``check_leads``.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.
    """
    known_about(about)
    before, now = (summed_by_hitter(as_counts(counts)) for counts in (before, now))
    whole = joined_periods(before, now)
    setting = Setting.of(whole, event, per, 0, holds_at, fails_at)
    place = setting.place(hitter)
    name, rate = setting.counts.labels[place], setting.rate_name
    change = compare_periods(before, now, event, per, level=setting.fit.level)
    key = list(whole.by)
    mine = change.data.merge(whole.data.iloc[[place]][key], on=key)
    if mine.empty:
        raise ClaimError(f"{name} has no {per} in one of the two periods, so they cannot be compared")
    row = mine.iloc[0]
    k1, n1, k2, n2 = (
        int(row[c]) for c in ("first_events", "first_exposure", "second_events", "second_exposure")
    )
    records = f"{k2:,} in {n2:,} now, {k1:,} in {n1:,} {than}"
    evidence = pd.DataFrame(
        {
            "period": [than, "now"],
            event: [k1, k2],
            per: [n1, n2],
            "rate": [row["first_rate"], row["second_rate"]],
            "league_rate": [
                float(change.data[f"{side}_events"].sum() / change.data[f"{side}_exposure"].sum())
                for side in ("first", "second")
            ],
        }
    )
    low, high = (float(v) for v in difference_interval(k2, n2, k1, n1, change.level))
    chance: float | None = None
    notes: tuple[str, ...] = ()
    if about == "record":
        verdict: Verdict = "holds" if k2 * n1 > k1 * n2 else "does not hold"
        so = "is higher" if verdict == "holds" else "is not higher"
        say = f"{name}'s observed rate of {rate} {so} than {than}: {records}."
        claim = f"{name}'s observed rate of {rate} is higher than {than}"
        avoid, would = (
            f"“{name} has become better at it.” (a record does not say so)",
            "other counts: a record says what happened",
        )
        assumptions = COUNTED
    else:
        chance = float(row["chance_higher"])
        verdict, notes = setting.settle(chance, [place])
        word = how_likely(verdict, chance)
        past, present = (float(one) for one in evidence["league_rate"])
        say = (
            f"{name}'s true rate of {rate} {word} higher than {than}, "
            f"{on_the_record(k2 / n2 - k1 / n1, chance, records, present, past)}: "
            f"{how_sure(chance, denies(verdict, chance), 'that it is higher')}."
        )
        claim = f"{name}'s true rate of {rate} is higher than {than}"
        avoid = f"“{name} {'has become' if verdict != 'does not hold' else 'is'} a different hitter.”"
        would = (notes and "measuring the contact whose hardness is unknown") or (
            "more swings in both periods; the shorter one decides"
        )
        assumptions = (
            "within each period, attempts are independent draws at one true rate",
            f"the changes of the {len(change.data):,} hitters in both follow a normal law of log odds "
            "ratios, whose mean and spread are integrated over",
            "the two periods differ in nothing else that matters: pitchers, parks, measuring",
        )
    return setting.answer(
        place,
        kind="more",
        claim=claim,
        about=about,
        verdict=verdict,
        chance=chance,
        evidence=evidence,
        say=say,
        avoid=avoid,
        assumptions=assumptions,
        would_change=would,
        notes=(
            *notes,
            f"the raw difference is {_signed(float(row['difference']))}, with a "
            f"{level_words(change.level)} hybrid-score interval from {_signed(low)} to {_signed(high)}; "
            "it uses these two records alone",
            *setting.counts.notes_on(event, per),
        ),
        numbers={
            "hitter": name,
            "event": event,
            "per": per,
            "events": k2,
            "exposure": n2,
            "before_events": k1,
            "before_exposure": n1,
            "difference": float(row["difference"]),
            "low": low,
            "high": high,
            "log_odds_ratio": float(row["log_odds_ratio"]),
            "league_log_odds_ratio": change.league_ratio,
        },
        beside=pd.DataFrame(),
    )


def _signed(value: float) -> str:
    return ("-" if round(value, 3) < 0 else "+") + rate_text(abs(value))
