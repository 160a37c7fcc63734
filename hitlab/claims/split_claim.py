"""Claims about a hitter inside a situation, against the rest of his own record."""

from __future__ import annotations

import numpy as np
import pandas as pd

from hitlab.claims.result import About, Claim, Verdict, denies, how_likely, how_sure, on_the_record
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import COUNTED, FAILS_AT, HOLDS_AT, known_about
from hitlab.counting.counts import Counts
from hitlab.counting.intervals import share_interval
from hitlab.counting.looks import Looks, exact_p
from hitlab.counting.rates import as_counts
from hitlab.errors import ClaimError
from hitlab.over_time.stretches import summed_by_hitter
from hitlab.splits.one_split import four_counts, split_rates
from hitlab.wording import chance_text, rate_text

__all__ = ["check_split"]


def check_split(
    counts: Counts,
    inside: Counts,
    hitter: str,
    *,
    situation: str = "in this situation",
    event: str = "hard",
    per: str = "swings",
    about: About = "underlying",
    holds_at: float = HOLDS_AT,
    fails_at: float = FAILS_AT,
    looks: Looks | None = None,
) -> Claim:
    """Check "he does it more often in that situation": his rate there above that of his own rest.

    Parameters
    ----------
    counts, inside
        Counts of all pitches, and of the pitches in the situation: ``tally(pitches)`` and
        ``tally(pitches, where=...)``.
    hitter
        Name, label or id.
    situation
        The situation in words that follow "per swing": ``"on breaking balls"``.
    event, per, about, holds_at, fails_at
        As in ``check_leads``.
    looks
        The log of the splits looked at before; this one is added, and the answer says how many there are and
        how many of those that stand out are expected to be false.

    Returns
    -------
    Claim
        The chance is pulled toward what the situation does to everybody, and a small split more so.

    Raises
    ------
    ClaimError, UnknownHitterError, MissingColumnsError, CountsError
        Where the claim cannot be checked; the message says why and what to do.
    """
    known_about(about)
    counts, inside = (summed_by_hitter(as_counts(table)) for table in (counts, inside))
    setting = Setting.of(counts, event, per, 0, holds_at, fails_at)
    place = setting.place(hitter)
    name, rate = setting.counts.labels[place], setting.rate_name
    fit = split_rates(setting.counts, inside, event, per)
    key = list(setting.counts.by)
    mine = fit.data.merge(setting.counts.data.iloc[[place]][key], on=key)
    if mine.empty:
        raise ClaimError(
            f"{name} has no {per} either {situation} or outside it, so the two cannot be compared"
        )
    row = mine.iloc[0]
    k, n, rest_k, rest_n, unknown, rest_unknown = (
        int(row[c])
        for c in ("inside_events", "inside_all", "rest_events", "rest_all", "inside_unknown", "rest_unknown")
    )
    records = f"{k:,} in {n:,} {situation}, {rest_k:,} in {rest_n:,} otherwise"
    if unknown or rest_unknown:
        records += f" ({unknown:,} and {rest_unknown:,} balls not measured)"
    # The interval reaches from "no unknown ball was hard" to "all were", as in ``rate``.
    low, _ = share_interval([k, rest_k], [n, rest_n])
    _, high = share_interval([k + unknown, rest_k + rest_unknown], [n, rest_n])
    evidence = pd.DataFrame(
        {
            "record": [situation, "otherwise"],
            event: [k, rest_k],
            per: [n, rest_n],
            "rate": [row["inside_rate"], row["rest_rate"]],
            "low": low,
            "high": high,
            "league_rate": _league(fit.data),
        }
    )
    difference = float(row["inside_rate"] - row["rest_rate"])
    direction = f"{rate_text(abs(difference))} {'up' if difference > 0 else 'down'}" if difference else "none"
    chance: float | None
    notes: tuple[str, ...] = ()
    if about == "record":
        least, most = k / n - (rest_k + rest_unknown) / rest_n, (k + unknown) / n - rest_k / rest_n
        verdict: Verdict = "holds" if least > 0 else "does not hold" if most <= 0 else "open"
        chance = None
        assumptions = COUNTED
        would = "other counts: a record says what happened, not what will"
        word = {"holds": "was higher", "does not hold": "was not higher", "open": "may have been higher"}[
            verdict
        ]
        say = f"{name}'s observed rate of {rate} {word} {situation} than otherwise: {records}."
        avoid = f"“{name} is better at it {situation}.” (a record does not say so)"
        claim = f"{name}'s observed rate of {rate} is higher {situation} than otherwise"
    else:
        chance = float(row["chance_above_rest"])
        verdict, notes = setting.settle(chance, [place])
        assumptions = (
            "within each of the two parts, attempts are independent draws at one true rate",
            f"levels of the {len(fit.data):,} hitters, and what the situation does to each of them, follow "
            "normal laws, whose means and spreads are integrated over",
            "the two parts differ in nothing else that matters, such as the count or the pitchers",
        )
        would = "more swings in both parts; the smaller part decides"
        if notes:
            would = "measuring the contact whose hardness is unknown"
        word = how_likely(verdict, chance)
        say = (
            f"{name}'s true rate of {rate} {word} higher {situation} than otherwise, "
            f"{on_the_record(difference, chance, records, *_league(fit.data))}: "
            f"{how_sure(chance, denies(verdict, chance), 'that it is higher')}."
        )
        avoid = f"“{name} is a different hitter {situation}.”"
        claim = f"{name}'s true rate of {rate} is higher {situation} than otherwise"
        factor = float(np.exp(fit.league_ratio))
        notes = (
            *notes,
            f"for everybody together the odds are {factor:.2f} times as large {situation} as otherwise",
            "the chance that the difference is above everybody's is "
            f"{chance_text(row['chance_above_usual'])}",
            _looked(looks, mine, key[0], situation, event, per, holds_at),
        )
    return setting.answer(
        place,
        kind="split",
        claim=claim,
        about=about,
        verdict=verdict,
        chance=chance,
        evidence=evidence,
        say=say,
        avoid=avoid,
        assumptions=assumptions,
        would_change=would,
        notes=(*notes, f"the observed difference is {direction}", *setting.counts.notes_on(event, per)),
        numbers={
            "hitter": name,
            "event": event,
            "per": per,
            "events": k,
            "exposure": n,
            "rest_events": rest_k,
            "rest_exposure": rest_n,
            "log_odds_ratio": float(row["log_odds_ratio"]),
            "league_log_odds_ratio": fit.league_ratio,
            "splits_looked_at": 1 if looks is None else looks.number,
            "league_spread": fit.league_spread,
        },
        beside=pd.DataFrame(),
    )


def _looked(
    looks: Looks | None, mine: pd.DataFrame, who: str, situation: str, event: str, per: str, bound: float
) -> str:
    """Say how many splits were looked at, this one among them, and the share of false ones to expect."""
    if looks is None:
        return (
            "one situation looked at is one claim; of ten looked at, the most striking is often luck "
            "(in Python, looks= keeps count)"
        )
    counts = four_counts(mine)
    looks.add(
        pd.DataFrame(
            {
                "hitter": mine[who],
                "situation": situation,
                "event": event,
                "per": per,
                "against": "rest",
                "chance_above": mine["chance_above_rest"],
                "p_value": exact_p(counts.events, counts.exposure, counts.rest_events, counts.rest_exposure),
            }
        )
    )
    return looks.by_chance(max(bound, 1 - bound)).words


def _league(data: pd.DataFrame) -> list[float]:
    sums = data[["inside_events", "inside_exposure", "rest_events", "rest_exposure"]].sum()
    return [
        float(sums["inside_events"] / sums["inside_exposure"]),
        float(sums["rest_events"] / sums["rest_exposure"]),
    ]
