"""What an exercise is: a question's right answer, the wrong ones people give, hints, a solution."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

__all__ = ["KINDS", "Bounds", "Choice", "Exercise", "Form", "Kind", "Lesson", "Number", "Wrong"]

Kind = Literal["predict", "denominator", "compute", "fault", "transfer"]

KINDS: dict[str, str] = {
    "predict": "say what will come out before you look",
    "denominator": "choose what to divide by",
    "compute": "work it out",
    "fault": "find what is wrong with a claim that looks fit to print",
    "transfer": "the same idea outside the sport",
}
"""Every lesson has at least one exercise of each kind."""

_LEAST_OF_A_NAME = 3  # words
_NEXT_SENTENCE = re.compile(r"(?<=[.?!])\s+(?=\S)")


@dataclass(frozen=True, slots=True)
class Number:
    """A number, right within a tolerance (in the answer's own unit)."""

    right: float | Callable[[], float]
    tolerance: float
    share: bool = False
    """The answer is a share from 0 to 1: a per cent value gets told so."""

    def truth(self) -> float:
        """Return the right answer, worked out now."""
        return float(self.right() if callable(self.right) else self.right)


@dataclass(frozen=True, slots=True)
class Choice:
    """One letter of a few options."""

    right: str
    options: dict[str, str]


@dataclass(frozen=True, slots=True)
class Bounds:
    """A low and a high end that hold the truth between them and lie no more than ``widest`` apart."""

    right: float | Callable[[], float]
    widest: float

    def truth(self) -> float:
        """Return the number that has to lie between the two, worked out now."""
        return float(self.right() if callable(self.right) else self.right)


Form = Number | Choice | Bounds


@dataclass(frozen=True, slots=True)
class Wrong:
    """A wrong answer that people give, and the mistake behind it.

    Attributes
    ----------
    given
        The answer, or a function without arguments that works it out.
    says
        What the mistake behind it is, in a sentence or two; never the right answer.
    when
        A rule that catches a whole family of answers (``given`` among them); it is called with
        the answer as it was read: a float, or two floats for bounds.
    """

    given: Any
    says: str
    when: Callable[[Any], bool] | None = None

    def answer(self) -> Any:
        """Return the wrong answer, worked out now."""
        return self.given() if callable(self.given) else self.given

    @property
    def mistake(self) -> str:
        """The mistake's name where many answers are gathered: the first sentence of what is said to it.

        One of up to three words ("so many?") names nothing, and the next goes with it.
        """
        sentences = _NEXT_SENTENCE.split(self.says.strip())
        first = 1 if len(sentences[0].split()) > _LEAST_OF_A_NAME else 2
        return " ".join(sentences[:first]).rstrip(".")


@dataclass(frozen=True, slots=True)
class Exercise:
    """One exercise.

    Attributes
    ----------
    id
        Lesson and name: ``01.hard-per-swing``.
    kind
        One of ``KINDS``.
    form
        How an answer is read and marked: ``Number``, ``Choice`` or ``Bounds``.
    wrong
        Wrong answers, the likeliest first; for a choice every option that is not right.
    hints
        Two, in steps: the first points, the second nearly tells.
    solution
        The way to the answer, in a few sentences; a function where numbers of the data stand in them.
    praise
        Shown with "right": what the answer means beyond this exercise.
    minutes
        Honest minutes.
    core
        False for one that may be left out.
    """

    id: str
    kind: Kind
    form: Form
    wrong: tuple[Wrong, ...]
    hints: tuple[str, str]
    solution: str | Callable[[], str]
    praise: str
    minutes: int
    core: bool = True

    def way(self) -> str:
        """Return the way to the answer in words."""
        return self.solution if isinstance(self.solution, str) else self.solution()


@dataclass(frozen=True, slots=True)
class Lesson:
    """A lesson as the exercises know it.

    Attributes
    ----------
    number, title
        ``01``, and the title that the notebook has too.
    verdict
        Works out the verdict on the lesson's claim: ``holds``, ``does not hold`` or ``open``.
    because
        Why, in one sentence, shown once the learner has given the verdict again at the end.
    exercises
        In the order of the notebook.
    """

    number: str
    title: str
    verdict: Callable[[], str]
    because: str
    exercises: tuple[Exercise, ...]
