"""What an exercise is: a question's right answer, the wrong ones people give, hints, a solution."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    import numpy as np

__all__ = [
    "KINDS",
    "Again",
    "Bounds",
    "Choice",
    "Code",
    "Exercise",
    "Form",
    "Kind",
    "Lesson",
    "Number",
    "Point",
    "Sentence",
    "TooMuch",
    "Wrong",
    "others",
]

Kind = Literal["predict", "denominator", "compute", "fault", "transfer", "write", "complete", "say"]

KINDS: dict[str, str] = {
    "predict": "say what will come out before you look",
    "denominator": "choose what to divide by",
    "compute": "work it out",
    "fault": "find what is wrong with a claim that looks fit to print",
    "transfer": "the same idea outside the sport",
    "write": "write a function of three to six lines",
    "complete": "fill in an analysis that is half there",
    "say": "one sentence in your own words, ready for air",
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
    per_cent: bool = False
    """The ends are per cent values, or out of a hundred: two shares get told so."""

    def truth(self) -> float:
        """Return the number that has to lie between the two, worked out now."""
        return float(self.right() if callable(self.right) else self.right)


@dataclass(frozen=True, slots=True)
class Code:
    """A function that the learner completes; right where it does what ours does.

    Attributes
    ----------
    right
        Ours: the arguments of one call -> a number, several (list, array, column), text, or a table.
    draw
        Makes the arguments of one call, which nobody has seen. It is called twice with generators of the
        same seed, for theirs and for ours, so that a function that changes what it gets harms nobody; a
        generator among the arguments is at the same place for both.
    tolerance
        By which each number may differ.
    cases
        Calls, all of which have to be right.
    surely
        Where ours draws: the same with the luck of it taken out, exactly or by very many draws, which answers
        are held against; the tolerance is then for the luck of theirs alone. Or what the package itself
        gives, where ``right`` is written out as a learner writes it. Not given, that is ``right``.
    """

    right: Callable[..., Any]
    draw: Callable[[np.random.Generator], tuple[Any, ...]]
    tolerance: float = 1e-9
    cases: int = 8
    surely: Callable[..., Any] | None = None


@dataclass(frozen=True, slots=True)
class Point:
    """What a sentence has to say.

    Attributes
    ----------
    name
        In a word or two: ``out of what``.
    asks
        What is wanted, as the learner reads it: ``the swings, with their number``.
    told_by
        Patterns (regular expressions, in any case), of which one has to be found;
        ``hitlab.exercises.patterns`` makes those of a name, a number, a rate, a chance.
    """

    name: str
    asks: str
    told_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TooMuch:
    """What says more than was shown: a pattern, and why, in a sentence that begins with "that"."""

    pattern: str
    why: str


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence in the learner's own words, held against a list that he can see.

    Attributes
    ----------
    points
        All of them have to be said.
    model
        A sentence that says them, shown once the learner's own is right; a function where numbers of the
        data stand in it.
    figures
        The numbers that were shown: whole ones as they are, shares as shares (``0.26``). Any other number, in
        figures or in words, is told to be one that nobody showed; "one", "two" and what they are of is not.
    too_much
        What it must not say: causes, promises, and the claim turned round, beyond what no sentence of the
        kind may (``SURE_WORDS`` of the patterns).
    good
        Other ways to say it, as people write: the tests hold that they are right.
    bad
        Text -> the name of the point that it lacks, or ``too much``: the tests hold that it is told.
    people
        Full names of those who may be named; in ``frames`` they are ``<a>``, ``<b>``.
    frames
        Patterns of what else may be said, with its numbers and its weighty words (``accounting.py``).
    phrases
        Snippets, names as they are, in which its numbers and its chances may stand beside the model and
        ``good``: ``103 regulars``, ``a 26% chance that she is the best`` (``counted.py``, ``weighed.py``).
    most_words
        More cannot be said in one breath.
    """

    points: tuple[Point, ...]
    model: str | Callable[[], str]
    figures: tuple[float, ...]
    too_much: tuple[TooMuch, ...] = ()
    good: tuple[str, ...] = ()
    bad: tuple[tuple[str, str], ...] = ()
    people: tuple[str, ...] = ()
    frames: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()
    most_words: int = 40

    def said(self) -> str:
        """Return the model, worked out now."""
        return self.model if isinstance(self.model, str) else self.model()


Form = Number | Choice | Bounds | Code | Sentence


@dataclass(frozen=True, slots=True)
class Wrong:
    """A wrong answer that people give, and the mistake behind it.

    Attributes
    ----------
    given
        The answer, or a function without arguments that works it out; of ``Code`` the wrong function itself.
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
        """Return the wrong answer, worked out now; not for ``Code``, whose wrong answers are functions."""
        return self.given() if callable(self.given) else self.given

    @property
    def mistake(self) -> str:
        """The mistake's name where many answers are gathered: the first sentence of what is said to it.

        One of up to three words ("so many?") names nothing, and the next goes with it.
        """
        sentences = _NEXT_SENTENCE.split(self.says.strip())
        first = 1 if len(sentences[0].split()) > _LEAST_OF_A_NAME else 2
        return " ".join(sentences[:first]).rstrip(".")


def others(why: dict[str, str], right: str) -> tuple[Wrong, ...]:
    """Return the wrong answers of a choice whose right letter is drawn: all but that one.

    Parameters
    ----------
    why
        Letter -> what the mistake behind it is, wherever it is one.
    right
        The right letter.
    """
    return tuple(Wrong(letter, says) for letter, says in why.items() if letter != right)


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
        How an answer is read and marked: ``Number``, ``Choice``, ``Bounds``, ``Code`` or ``Sentence``.
    wrong
        Wrong answers, the likeliest first; for a choice every option that is not right. A sentence has none:
        what it lacks is told by its points.
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
class Again:
    """A question about a lesson's idea that has other numbers each time, for a review.

    Attributes
    ----------
    id
        Lesson and name, unlike any exercise's: ``02.again-own-weight``.
    draw
        A generator -> the question as the learner reads it, and the exercise that marks it (its id is this
        one's). Numbers and choices only; equally hard whatever is drawn.
    """

    id: str
    draw: Callable[[np.random.Generator], tuple[str, Exercise]]


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
    again
        Questions for the reviews of later lessons.
    """

    number: str
    title: str
    verdict: Callable[[], str]
    because: str
    exercises: tuple[Exercise, ...]
    again: tuple[Again, ...] = ()
