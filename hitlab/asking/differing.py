"""In which one slot two questions differ: what is asked back where both are offered."""

from __future__ import annotations

from hitlab.claims.response_claim import USUAL
from hitlab.counting.events import rate_words
from hitlab.questions.question import Question

__all__ = ["differing"]


def differing(first: Question, second: Question) -> str:
    """Return what is asked back where two questions differ in one slot only; empty where it is more."""
    one, other = first.to_dict(), second.to_dict()
    apart = {name for name in one.keys() | other.keys() if one.get(name) != other.get(name)}
    if apart and apart <= {"event", "per"}:
        return f"{rate_words(first.event, first.per)}, or {rate_words(second.event, second.per)}?"
    if apart == {"direction"} and "either" not in (first.direction, second.direction):
        return f"{first.direction} often, or {second.direction} often?"
    if apart and apart <= {"who", "subject"}:
        return f"{first.who}, or {second.who}?"
    if first.kind == second.kind == "response" and apart == {"options"}:
        return f"after a miss: {_after(first)}, or {_after(second)}?"
    same_way = first.direction == second.direction and first.direction != "either"
    if same_way and apart <= {"kind", "options"} and first.kind in _THAN and second.kind in _THAN:
        return f"{first.direction} often {_THAN[first.kind]}, or {_THAN[second.kind]}?"
    return ""


_THAN = {"above": "than the league", "leads": "than anyone", "split": "than elsewhere", "more": "than before"}
_FOLLOWS = {"whiff": "misses again", "hard": "hits it hard", "swing": "swings", "take": "takes"}


def _after(question: Question) -> str:
    response = question.options.get("response", "whiff")
    way = question.options.get("direction", USUAL[response])
    return f"{_FOLLOWS[response]} {way} often"
