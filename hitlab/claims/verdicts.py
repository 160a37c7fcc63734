"""From a chance to a verdict, and the fewest that would change it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from typing import Literal

# The two bounds, too: who decides by a chance of his own finds all that it takes here.
from hitlab.questions.question import FAILS_AT, HOLDS_AT

__all__ = [
    "AS_IT_STANDS",
    "COUNTED",
    "EVEN",
    "FAILS_AT",
    "HOLDS_AT",
    "MEASURE_MORE",
    "Answer",
    "Verdict",
    "counted",
    "fewest",
    "first_enough",
    "left_open",
    "odds_between",
    "recorded",
    "settled_by",
    "verdict_on",
]

Verdict = Literal["holds", "does not hold", "open"]
Answer = Literal[
    "holds", "does not hold", "open", "record holds", "record does not hold", "record open", "cannot be told"
]
"""Everything that an answer can be; each has words and a look of its own."""

EVEN = 0.05
"""So near to even money nothing is said of which way it leans."""

_FAR = 0.1  # of a number looked for: farther from where a quicker answer leads, it is not asked itself

COUNTED: tuple[str, ...] = ("the table is complete, and everybody was counted by the same rules",)
"""What a record, settled by counting, rests on."""

AS_IT_STANDS = "other counts, today or tomorrow: a record says who is ahead, not who is better"
"""What would change a record of somebody's place or value."""

MEASURE_MORE = "measuring the contact whose hardness is unknown"
"""What would change a claim that too much unmeasured contact leaves open."""


def verdict_on(chance: float, holds_at: float, fails_at: float) -> Verdict:
    """Return the verdict on a chance: both bounds are included."""
    if chance >= holds_at:
        return "holds"
    return "does not hold" if chance <= fails_at else "open"


def counted(so: bool, not_so: bool) -> Verdict:
    """Return the verdict on a record: open where what is unknown decides whether it is so."""
    return "holds" if so else "does not hold" if not_so else "open"


def recorded(least: float, most: float, *, less: bool = False) -> Verdict:
    """Return the verdict on a record that is said to be above (or below) another, by the difference's bounds.

    It is above only by more than nothing, and so is not where the unknown can but make both alike.
    """
    return counted(most < 0, least >= 0) if less else counted(least > 0, most <= 0)


def left_open(said: str, verdict: Verdict) -> str:
    """Return a sentence about a record; where it is open, with what it depends on."""
    return f"{said} That depends on the balls that were not measured." if verdict == "open" else said


def odds_between(one: Sequence[int], other: Sequence[int]) -> tuple[float, float]:
    """Return how many times the odds of one record are those of another: at least, and at most.

    A record is its events, the balls in it of which it is unknown whether they are events, and its exposure.
    Two that never happened, or always, are alike.
    """
    (k, u, n), (other_k, other_u, other_n) = one, other
    return _odds_ratio(k, n, other_k + other_u, other_n), _odds_ratio(k + u, n, other_k, other_n)


def _odds_ratio(k: int, n: int, other_k: int, other_n: int) -> float:
    above, below = k * (other_n - other_k), other_k * (n - k)
    return above / below if below else float("inf") if above else 1.0


def settled_by(so_much: str, then: Verdict) -> str:
    """Say what would settle an open claim, and which way."""
    return f"about {so_much}: it would then {'hold' if then == 'holds' else 'not hold'}"


def fewest(
    enough: Callable[[int], bool], first: int, most: int, *, near: Callable[[int], bool] | None = None
) -> int | None:
    """Return the smallest number from ``first`` up that is enough, to within 2 %; or ``None``.

    What is enough is taken to stay enough. Numbers are halved by their ratio: the answer may be any size.
    ``near`` is a quicker answer to the same: where it leads, numbers far from its own are not asked of
    ``enough``, and unless both sides of the result were, all are. The result is the same with and without.
    """
    led = fewest(near, first, most) if near is not None else None
    if led is not None:
        asked: dict[int, bool] = {}

        def guided(many: int) -> bool:
            if abs(many - led) > max(1, _FAR * led):
                return many > led
            return asked.setdefault(many, enough(many))

        found = _halved(guided, first, most)
        if found is not None and found[1] in asked and (found[0] in asked or found[0] < first):
            return found[1]
    found = _halved(enough, first, most)
    return None if found is None else found[1]


def _halved(enough: Callable[[int], bool], first: int, most: int) -> tuple[int, int] | None:
    """Return the last number that was not enough and the first that was."""
    if most < first or not enough(most):
        return None
    low, high = first - 1, most
    while high - low > max(1, high // 50):
        middle = min(max(round((max(low, 1) * high) ** 0.5), low + 1), high - 1)
        low, high = (low, middle) if enough(middle) else (middle, high)
    return low, high


def first_enough(enough: Callable[[int], bool], numbers: Sequence[int], guess: int) -> int:
    """Return the first of rising numbers that is enough, or the last where none is.

    The first is known not to be; what is enough is taken to stay enough. They are looked through near a guess
    first, and then farther and farther from it.
    """
    low, high, last = 0, len(numbers), len(numbers) - 1
    at, stride = min(max(bisect_left(numbers, guess), 1), last), 1
    while high - low > 1:
        low, high = (low, at) if enough(numbers[at]) else (at, high)
        middle = (low + high) // 2
        at = max(high - stride, middle) if at == high else min(low + stride, middle)
        stride *= 2
    return numbers[min(high, last)]
