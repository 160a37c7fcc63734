"""The sentences of a page, for somebody who works with rates and for a player who does not."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from hitlab.claims.result import how_likely, how_sure
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.looks import call_by_chance
from hitlab.spoken import chance_spoken, share_said
from hitlab.wording import (
    capitalised,
    chance_text,
    level_words,
    listed,
    percent,
    rate_or_bounds,
    rate_text,
    record_text,
)

__all__ = [
    "against_the_others",
    "do_it",
    "looked_at",
    "named",
    "open_chance",
    "rate_row",
    "short_name",
    "too_little",
    "verdict_word",
    "you_do_it",
]

_YOU = {
    ("swings", "pitches"): "You swing at {share}",
    ("whiffs", "swings"): "You miss the ball on {share}",
    ("fouls", "swings"): "You foul the ball off on {share}",
    ("in_play", "swings"): "You put the ball in play on {share}",
    ("hard", "swings"): "You hit the ball hard on {share}",
    ("hard", "in_play"): "You hit the ball hard on {share}",
    ("hits", "at_bats"): "You get a hit in {share}",
}
_SHORT = {
    ("swings", "pitches"): "swinging at a pitch",
    ("whiffs", "swings"): "missing when you swing",
    ("fouls", "swings"): "fouling it off",
    ("in_play", "swings"): "putting it in play",
    ("hard", "swings"): "hitting it hard when you swing",
    ("hard", "in_play"): "hitting it hard when in play",
    ("hits", "at_bats"): "getting a hit",
}
_MOST_NAMED = 12
_WHERE = {"pitches": "at", "at_bats": "in"}


def _of(share: float, per: str) -> str:
    """Return a share with what it is of: ``about one in five swings``, ``about half of the swings``."""
    said, noun = share_said(share), per_words(per, 2)
    return f"{said} {noun}" if " in " in said else f"{said} of the {noun}"


def verdict_word(chance: float, settled: bool = True) -> str:
    """Return ``above``, ``below`` or ``open`` for the chance to be above, by the bounds of a claim."""
    if math.isnan(chance) or not settled:
        return "open"
    return {"holds": "above", "does not hold": "below", "open": "open"}[
        verdict_on(chance, HOLDS_AT, FAILS_AT)
    ]


def rate_row(rate: pd.Series[Any]) -> dict[str, str]:
    """Return the cells of one rate in the table that a coach reads."""
    seen = rate["exposure"] > 0
    told = seen and not math.isnan(rate["shrunk"])
    bounds = (rate["rate"], rate["least"], rate["most"])
    return {
        "Rate": rate["rate_words"],
        "Record": record_text(rate["events"], rate["exposure"]),
        "Observed": rate_or_bounds(*bounds) if seen else "none",
        "Best estimate": rate_text(rate["shrunk"]) if told else "",
        "In words": share_said(rate["shrunk"]) if told else "",
        "Probably between": f"{rate_text(rate['low'])} and {rate_text(rate['high'])}" if told else "",
        "Everybody else": rate_text(rate["others"]) if not math.isnan(rate["others"]) else "",
        "Own record decides": percent(rate["own_weight"]) if told else "",
    }


def against_the_others(rate: pd.Series[Any]) -> str:
    """Say where a rate stands that is above or below everybody else's; one sentence."""
    above = rate["verdict"] == "above"
    chance = rate["chance_above"] if above else 1 - rate["chance_above"]
    name = rate["rate_words"]
    return (
        f"{capitalised(name)}: {record_text(rate['events'], rate['exposure'])}; the true rate "
        f"{how_likely('holds', chance)} {rate['verdict']} everybody else's ({rate_text(rate['others'])}), "
        f"{how_sure(chance, False, '')}."
    )


def looked_at(rates: pd.DataFrame) -> str:
    """Say how many rates were looked at, and how many of those that stand out are expected to be false."""
    compared = rates[rates["chance_above"].notna()]
    out = compared[compared["verdict"] != "open"]
    number = len(compared)
    if not number:
        return "There is nobody else in the table to compare with."
    looked = f"{number} rate{' was' if number == 1 else 's were'} looked at"
    if not len(out):
        least = level_words(HOLDS_AT)
        return f"{looked}, and none is above or below everybody else's with a chance of {least} or more."
    told = call_by_chance(out, "chance_above", HOLDS_AT).false_words
    return (
        f"{looked}; {len(out)} stand{'s' if len(out) == 1 else ''} out, of which {told} "
        f"{'is' if told == 'about 1.0' else 'are'} expected to be false."
    )


def too_little(rates: pd.DataFrame) -> list[str]:
    """List what the records of a hitter are too short for."""
    lines = []
    undecided = rates[(rates["verdict"] == "open") & rates["chance_above"].notna() & (rates["exposure"] > 0)]
    if len(undecided):
        each = [
            f"{rate['rate_words']} (chance to be above {open_chance(rate['chance_above'])})"
            for _, rate in undecided.iterrows()
        ]
        lines.append(f"Above or below everybody else: {listed(each)}.")
    short = rates[(rates["own_weight"] < 0.5) & rates["shrunk"].notna() & (rates["exposure"] > 0)]
    if len(short):
        each = [_decided(rate) for _, rate in short.iterrows()]
        lines.append(f"A rate of the hitter's own, what everybody does weighing more: {listed(each)}.")
    none = rates[rates["exposure"] == 0]
    if len(none):
        names = listed([str(name) for name in none["rate_words"]])
        lines.append(f"Anything of {names}: there is not one to count by.")
    return lines


def _decided(rate: pd.Series[Any]) -> str:
    """Say how little a record decides, and when it would weigh as much as what everybody does."""
    size = rate["half_weight"]
    until = f", half after about {size:,.0f}" if math.isfinite(size) else ""
    of = per_words(rate["per"], int(rate["exposure"]))
    decide = "decides" if rate["exposure"] == 1 else "decide"
    return f"{rate['rate_words']} ({rate['exposure']:,} {of} {decide} {percent(rate['own_weight'])}{until})"


def open_chance(chance: float) -> str:
    """Return a chance that leaves something open, never rounded onto a bound.

    Examples
    --------
    >>> open_chance(0.62), open_chance(0.897), open_chance(0.104)
    ('62 %', 'just under 90 %', 'just over 10 %')
    """
    if HOLDS_AT - 0.005 <= chance < HOLDS_AT:
        return f"just under {percent(HOLDS_AT)}"
    return f"just over {percent(FAILS_AT)}" if FAILS_AT < chance <= FAILS_AT + 0.005 else chance_text(chance)


def short_name(event: str, per: str) -> str:
    """Return what a player calls a rate: ``missing when you swing``."""
    return _SHORT.get((event, per), rate_words(event, per))


def do_it(verdict: str) -> str:
    """Return how often somebody does something, in a player's words."""
    return {"above": "more often", "below": "less often", "open": "too close to call"}[verdict]


def you_do_it(rate: pd.Series[Any]) -> str:
    """Say one rate to the player: how often, how often the others, how sure."""
    event, per = str(rate["event"]), str(rate["per"])
    # As sure as is said here one is of the true rate, so it is the best estimate of it that is said.
    mine = _of(rate["shrunk"], per)
    form = _YOU.get((event, per))
    said = form.format(share=mine) if form else f"{capitalised(event_words(event))}: {mine}"
    if math.isnan(rate["others"]):
        return f"{said}."
    theirs, where = share_said(rate["others"]), _WHERE.get(per, "on")
    same = theirs == share_said(rate["shrunk"])
    if rate["verdict"] == "open":
        return f"{said}; the others {'about as often' if same else f'{where} {theirs}'}."
    above = rate["verdict"] == "above"
    chance = rate["chance_above"] if above else 1 - rate["chance_above"]
    beside = f"a little {'less' if above else 'more'} often" if same else f"{where} {theirs}"
    return f"{said}; the others {beside}. How sure: {chance_spoken(chance, HOLDS_AT, FAILS_AT)}."


def named(words: list[str]) -> str:
    """List names, of many the first."""
    more = len(words) - _MOST_NAMED
    return listed(words) if more <= 0 else f"{', '.join(words[:_MOST_NAMED])} and {more} more"
