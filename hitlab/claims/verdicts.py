"""From a chance to a verdict, and the fewest that would change it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

__all__ = ["COUNTED", "FAILS_AT", "HOLDS_AT", "Verdict", "fewest", "verdict_on"]

Verdict = Literal["holds", "does not hold", "open"]

HOLDS_AT = 0.90
FAILS_AT = 0.10

COUNTED: tuple[str, ...] = ("the table is complete, and everybody was counted by the same rules",)
"""What a record, settled by counting, rests on."""


def verdict_on(chance: float, holds_at: float, fails_at: float) -> Verdict:
    """Return the verdict on a chance: both bounds are included."""
    if chance >= holds_at:
        return "holds"
    return "does not hold" if chance <= fails_at else "open"


def fewest(enough: Callable[[int], bool], first: int, most: int) -> int | None:
    """Return the smallest number from ``first`` up that is enough, to within 2 %; or ``None``.

    What is enough is taken to stay enough. Numbers are halved by their ratio: the answer may be any size.
    """
    if most < first or not enough(most):
        return None
    low, high = first - 1, most
    while high - low > max(1, high // 50):
        middle = min(max(round((max(low, 1) * high) ** 0.5), low + 1), high - 1)
        low, high = (low, middle) if enough(middle) else (middle, high)
    return high
