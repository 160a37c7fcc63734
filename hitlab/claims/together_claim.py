"""Claims that two rates go together: "hitters who are ready for the fastball also hit the breaking ball"."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.result import Claim, Finding, Verdict
from hitlab.claims.verdicts import MEASURE_MORE, settled_by, verdict_on
from hitlab.counting.situations import situation
from hitlab.errors import ClaimError
from hitlab.estimates.faced_in_parts import met_in
from hitlab.questions.faced_pitching import UNTOLD
from hitlab.questions.fitted import on_unmeasured
from hitlab.questions.question import Question
from hitlab.questions.source import Source, demand_no_pitches, is_pitches
from hitlab.two_rates.disjoint import RateOf
from hitlab.two_rates.link import Link, correlation_text
from hitlab.two_rates.together import correlate_rates
from hitlab.wording import chance_text, level_words

__all__ = ["answer_together"]

_MOST_HITTERS = 20_000  # more than play anywhere: past it "would not settle it" is the answer


def answer_together(question: Question, table: Any) -> Claim:
    """Answer "hitters who do the one more often do the other more often, too".

    Open, without a chance, where one of the rates may have no true spread at all, or where too much contact
    was not measured; the reason stands in its notes. The table may be a ``Link``, worked out before.
    """
    faced, where, seasons = UNTOLD.replace("the table", "what is given"), "", tuple[str, ...]()
    if isinstance(table, Link):
        demand_no_pitches(question)
        link = table
    else:
        asked = [question.options.get(name) for name in ("first", "second")]
        if not is_pitches(table) or not all(asked):
            raise ClaimError(
                "two rates are told from single pitches; give the pitch table, first= and second="
            )
        rates = [_rate_of(one) for one in asked if one]
        source = Source.of(question, table)
        table, seasons = source.asked_of, source.season_notes()
        where = f" {source.words}" if source.words else ""
        link = correlate_rates(table, *rates, conventions=question.conventions)
        faced = _faced(table, rates, question)
    first, second = link.first, link.second
    reasons, untold = on_unmeasured(link.unknown_share, question.conventions.most_unknown)
    if link.why_not:
        reasons = (f"it cannot be told: {link.why_not}",)
    verdict = "open" if reasons else verdict_on(link.chance_positive, question.holds_at, question.fails_at)
    measured = (
        f"across {len(link.data):,} hitters the correlation of true talents is about "
        f"{correlation_text(link.correlation)} ({level_words(link.level)} interval "
        f"{correlation_text(link.low)} to {correlation_text(link.high)}), and the chance that it is positive "
        f"is {chance_text(link.chance_positive)}"
    )
    higher = f"itters with a higher true rate of {first}{where}"
    say_in_full = {
        "holds": f"H{higher} most likely have a higher true rate of {second}, too: {measured}.",
        "does not hold": f"H{higher} most likely do not have a higher true rate of {second}: {measured}.",
        "open": f"Whether h{higher} also have a higher one of {second} is open: {measured}.",
    }[verdict]
    found = Finding(
        verdict,
        f"h{higher} also have a higher true rate of {second}",
        say_in_full,
        f"“A hitter with a high rate of {first} has a high rate of {second}.”",
        link.chance_positive,
        assumptions=(
            "within each rate, attempts are independent draws at the hitter's one true rate",
            f"the log odds of the two true rates of all {len(link.data):,} follow one normal law of two "
            "dimensions, whose means and spreads are integrated over; every correlation was as likely "
            "beforehand",
            link.proof,
            "nothing but the hitters makes the two go together",
        ),
        would_change=_would_change(link, verdict, reasons, question),
        notes=(
            *reasons,
            link.attenuation,
            link.left_out_words,
            *(f"could mimic it, {cause}" for cause in link.shared_causes),
            faced,
            *seasons,
            *link.notes,
        ),
    )
    numbers: dict[str, float | int | str] = {
        "first": first,
        "second": second,
        "hitters": len(link.data),
        "correlation": link.correlation,
        "low": link.low,
        "high": link.high,
        "level": link.level,
        **({} if np.isnan(link.naive) else {"observed_correlation": link.naive}),
        "reliability_first": link.reliabilities[0],
        "reliability_second": link.reliabilities[1],
    }
    return Claim.of(
        question,
        found,
        untold=link.why_not or untold,  # then the chance is little but what was supposed beforehand
        evidence=_evidence(link),
        numbers=numbers,
        source=link.source,
        fingerprint=_fingerprint(link),
        where=where.strip(),
    )


def _faced(table: Any, rates: list[RateOf], question: Question) -> str:
    """Say by how much what hitters faced differs, for each of the rates."""
    told = [met_in(table, rate.event, rate.per, rate.where, question.conventions) for rate in rates]
    if not all(told):
        return UNTOLD
    each = [f"for {rate.title} it {words}" for rate, words in zip(rates, told, strict=True)]
    return (
        f"the pitching and parks that hitters faced: {'; '.join(each)}. Nothing is allowed for, because the "
        "two records are compared as they stand: a schedule that helps in both can make them go together"
    )


def _rate_of(asked: Mapping[str, Any]) -> RateOf:
    """Take a rate from plain values: event, per, and the terms of its situation."""
    when = tuple(asked.get("when", ()))
    return RateOf(str(asked["event"]), str(asked["per"]), situation(*when) if when else None)


def _evidence(link: Link) -> pd.DataFrame:
    """Return one row a rate: what was counted, and how much of what shows is true."""
    events, exposure = (
        link.data[[f"first_{what}", f"second_{what}"]].sum().to_numpy() for what in ("events", "exposure")
    )
    return pd.DataFrame(
        {
            "rate_of": [link.first, link.second],
            "events": events.astype(np.int64),
            "exposure": exposure.astype(np.int64),
            "league_rate": events / exposure,
            "true_spread": np.round(link.spreads, 3),
            "share_that_is_true": np.round(link.reliabilities, 2),
        }
    )


def _would_change(link: Link, verdict: Verdict, reasons: tuple[str, ...], question: Question) -> str:
    if link.why_not:
        return "more exposure a hitter, or more hitters, until the rates show true differences"
    if reasons:
        return MEASURE_MORE
    if verdict != "open":
        return (
            "a shared cause: compare within one park, one way of measuring and one schedule; "
            "or another season in which it does not repeat"
        )
    # The posterior's width falls with the root of the number of hitters; its centre is taken to stay.
    from scipy.special import ndtri

    wanted = float(ndtri(question.holds_at if link.correlation > 0 else 1 - question.fails_at))
    away = max(abs(link.correlation), 1e-9) / link.deviation
    needed = max(int(len(link.data) * (wanted / away) ** 2), len(link.data)) // 10 * 10 + 10
    like_these = (
        f"with as much exposure as these, if the correlation is the {correlation_text(link.correlation)}"
    )
    if needed > _MOST_HITTERS:
        return f"not even {_MOST_HITTERS:,} hitters {like_these} that it seems, would settle it"
    then: Verdict = "holds" if link.correlation > 0 else "does not hold"
    return settled_by(f"{needed:,} hitters {like_these} that it seems", then)


def _fingerprint(link: Link) -> str:
    """Return twelve hexadecimal digits of the table's SHA-256, as counts have them.

    Rates to nine digits: the last bits differ from processor to processor.
    """
    text = link.data.to_csv(index=False, lineterminator="\n", float_format="%.9g")
    return hashlib.sha256(text.encode()).hexdigest()[:12]
