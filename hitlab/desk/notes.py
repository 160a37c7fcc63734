"""What was asked today, and what many looks do to a striking answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

import pandas as pd

from hitlab.claims import Claim
from hitlab.claims.verdicts import HOLDS_AT
from hitlab.counting import Looks, call_by_chance
from hitlab.showing import json_text

__all__ = ["Line", "Notebook"]


@dataclass(frozen=True, slots=True)
class Line:
    """One time that something was asked: when, in which words, and how it ended."""

    time: datetime
    words: str
    verdict: str


@dataclass(slots=True)
class Notebook:
    """What was asked at this desk, in order; the same question asked twice is one look.

    Attributes
    ----------
    lines
        Everything that was asked.
    looks
        The splits among it, as claims about splits count them.
    clock
        Tells the time.
    """

    lines: list[Line] = field(default_factory=list)
    looks: Looks = field(default_factory=Looks)
    clock: Callable[[], datetime] = datetime.now
    _chances: dict[str, float | None] = field(default_factory=dict)

    def add(self, words: str, claim: Claim | None, otherwise: str = "not answered") -> None:
        """Write down what was asked; without an answer, how it ended instead."""
        self.lines.append(Line(self.clock(), words, otherwise if claim is None else claim.verdict_words))
        if claim is not None:
            self._chances[json_text(claim.question.to_dict())] = claim.chance

    @property
    def number(self) -> int:
        """How many different questions were answered."""
        return len(self._chances)

    @property
    def explanation(self) -> str:
        """How many looks there were, and what that does to a striking one."""
        if not self.number:
            return "Nothing was asked yet."
        chances = [chance for chance in self._chances.values() if chance is not None]
        called = call_by_chance(pd.DataFrame({"chance": chances}, dtype=float), "chance", HOLDS_AT)
        sure = len(called.data)
        told = f"{self.number:,} different {_one('question', self.number)} answered at this desk so far"
        if not sure:
            return f"{told}; none came out sure, one way or the other."
        told += f"; {sure:,} came out sure, one way or the other; expected to be wrong: {called.false_words}"
        if self.number == 1:
            return f"{told}."
        return (
            f"{told}. Who looks often finds something striking by luck: say how many looks it took, and "
            "trust most the question that was chosen before looking."
        )


def _one(word: str, number: int) -> str:
    return word if number == 1 else f"{word}s"
