"""What was found in a sentence, slot by slot, in words."""

from __future__ import annotations

from typing import Any

from hitlab.asking.phrases_rates import Rate
from hitlab.asking.slots import Slots
from hitlab.counting.events import rate_words
from hitlab.counting.situations import situation

__all__ = ["understood"]

_SLOTS = (
    ("who", ("who", "whose", "theleague")),
    ("rate", ("rate", "owns", "hitharder", "cannotlayoff", "per")),
    (
        "said of it",
        (
            *("more", "most", "better", "best", "leads", "nobody", "anybody", "anyone", "than", "league"),
            *(
                "hot",
                "steady",
                "slump",
                "top",
                "bottom",
                "place",
                "aftermiss",
                "learns",
                "otherwise",
                "usual",
            ),
            *("aheadof", "prefer", "spot", "not", "never"),
        ),
    ),
    ("situation", ("in", "hand", "gap", "tied", "lasthalf")),
    ("days", ("since", "until", "span", "before", "lately", "allyear")),
    ("number", ("above", "below", "near", "always")),
)
"""The slots, as they are called, and their marks."""


def understood(slots: Slots) -> tuple[str, ...]:
    """Return what was found in a sentence, slot by slot: who it is by their names, a rate by its words."""
    told = []
    for name, marks in _SLOTS:
        words = [word for word in slots.text.words if word.text[1:-1] in marks and word.text[0] == "<"]
        found = list(dict.fromkeys(_called(word, slots) for word in words))
        if found:
            told.append(f"{name}: {', '.join(found)}")
    return tuple(told)


def _called(word: Any, slots: Slots) -> str:
    if word.text == "<who>":
        return " or ".join(dict.fromkeys(person.label for person in word.value))
    if word.text == "<rate>":
        rate: Rate = word.value
        inside = f" {situation(*rate.when).words}" if rate.when else ""
        return f"{rate_words(rate.event, rate.per)}{inside}"
    if word.text == "<in>":
        return situation(*word.value).words
    return f"“{slots.text.typed(word).rstrip(' ,.;:!?')}”"
