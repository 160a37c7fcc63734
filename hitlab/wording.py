"""Plain words for counts, rates and chances, used wherever hitlab speaks to people."""

from __future__ import annotations

import math
import re
from pathlib import PurePath

__all__ = [
    "GAINS",
    "chance_text",
    "event_words",
    "level_words",
    "listed",
    "per_words",
    "percent",
    "rate_text",
    "rate_words",
    "source_name",
]

GAINS = (
    *("hard", "in_play", "contact", "hits", "bases"),
    *("two_strike_hard", "two_strike_in_play", "two_strike_contact"),
)
"""Events of which more is better, so that a spell of them is called hot, and its best part best."""

_EVENTS = {
    "hard": "hard-hit balls",
    "in_play": "balls in play",
    "foul_tips": "foul tips",
    "bunts": "bunt attempts",
    "check_swings_went": "check swings that went",
    "two_strike_hard": "hard-hit balls with two strikes",
    "two_strike_swings": "swings with two strikes",
    "two_strike_whiffs": "whiffs with two strikes",
    "two_strike_fouls": "fouls with two strikes",
    "two_strike_in_play": "balls in play with two strikes",
    "at_bats": "at-bats",
}

_ONE = {
    "pitches": "pitch",
    "next_pitches": "next pitch",
    "swings": "swing",
    "takes": "take",
    "whiffs": "whiff",
    "fouls": "foul",
    "contact": "contact",
    "in_play": "ball in play",
    "plate_appearances": "plate appearance",
    "at_bats": "at-bat",
    "hits": "hit",
    "hard": "hard-hit ball",
    "bunts": "bunt attempt",
    "check_swings_went": "check swing that went",
    "two_strike_swings": "swing with two strikes",
    "two_strike_pitches": "pitch with two strikes",
    "two_strike_in_play": "ball in play with two strikes",
    "two_strike_contact": "contact with two strikes",
}


def event_words(event: str) -> str:
    """Return the plural name of an event: ``hard-hit balls``."""
    return _EVENTS.get(event, event.replace("_", " "))


def per_words(per: str, number: int = 1) -> str:
    """Return the denominator's name for a number of it: ``swing``, ``2 swings``' noun ``swings``."""
    if number == 1:
        return _ONE.get(per, per.replace("_", " ").removesuffix("s"))
    return _EVENTS.get(per, per.replace("_", " "))


def rate_words(event: str, per: str) -> str:
    """Return the rate's name: ``hard-hit balls per swing``."""
    return f"{event_words(event)} per {per_words(per)}"


def rate_text(value: float) -> str:
    """Return a rate as the trade reads it: ``.187``, ``1.000``; ``none`` where there is no exposure."""
    if math.isnan(value):
        return "none"
    text = f"{value:.3f}"
    return text[1:] if text.startswith("0") else text


def listed(parts: list[str]) -> str:
    """Return parts as an English list: ``a, b and c``."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}" if parts else ""


def level_words(level: float) -> str:
    """Return the level of an interval: ``90 %``, ``99.5 %``."""
    return f"{100 * level:g} %"


def percent(share: float) -> str:
    """Return a share in whole per cent; all and none are said only of exactly that."""
    return f"{100 * share:.0f} %" if share in (0, 1) else chance_text(share)


def chance_text(chance: float) -> str:
    """Return a chance in whole per cent, never as certainty: at 0 and 1 only the digits have run out."""
    if math.isnan(chance):
        return "unknown"
    if chance > 0.99:
        return "more than 99 %"
    if chance < 0.01:
        return "less than 1 %"
    return f"{100 * chance:.0f} %"


def source_name(source: str) -> str:
    """Return a source as it is shown: a file without its folders, which are nobody else's business."""
    name = PurePath(source.replace("\\", "/")).name
    return name if re.fullmatch(r"[^\s/][^/]*\.\w{1,8}", name) else source
