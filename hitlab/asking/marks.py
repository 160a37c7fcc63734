"""The marks of a sentence, which of them a question used, and what is asked back where none fits."""

from __future__ import annotations

from typing import Any

from hitlab.asking.neighbours import misplaced
from hitlab.asking.people import Known
from hitlab.asking.risk import risky
from hitlab.asking.slots import Slots
from hitlab.asking.talk import spoken_to, unexplained
from hitlab.questions.question import Question

__all__ = ["BaldError", "Marks", "UnfitError"]


class UnfitError(Exception):
    """What is asked back, with the questions that are offered."""

    def __init__(self, asks: str, *offered: Question) -> None:
        super().__init__(asks)
        self.asks, self.offered = asks, list(offered)


class BaldError(UnfitError):
    """Asked back because a habit is told and nobody it is compared with; offered is the league."""


class Marks:
    """The slots of one sentence, and which of them were used."""

    def __init__(self, slots: Slots, known: Known) -> None:
        self.slots, self.known, self.text = slots, known, slots.text
        self.used: set[str] = set()
        self.usual = False
        self.choice = ""

    # What is there.

    def has(self, *marks: str) -> bool:
        """Say whether one of some marks is there, and take it for used."""
        self.used.update(marks)
        return self.text.has(*marks)

    def values(self, mark: str) -> list[Any]:
        """Return what the marks of a name stand for, and take them for used."""
        self.used.add(mark)
        return self.text.values(mark)

    def loose(self) -> list[str]:
        """Return what of the sentence played no part though it carries meaning, as it was typed."""
        idle = [
            word for word in self.text.words if word.text.startswith("<") and word.text[1:-1] not in self.used
        ]
        found = [*idle, *risky(self.text, self.slots.strange), *misplaced(self.text)]
        clauses = unexplained(self.text, spoken_to(" ".join(self.text.said), self.known.near))
        within = {place for places in clauses for place in places}
        places = sorted({*(word.places for word in found if not within.issuperset(word.places)), *clauses})
        return list(dict.fromkeys(" ".join(self.text.said[at] for at in one) for one in places))
