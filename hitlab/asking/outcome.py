"""What was understood of a sentence: the one question, a choice of them, or why it cannot be asked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal

import pandas as pd

from hitlab.asking.reading import asked_in_words
from hitlab.claims.result import Claim
from hitlab.errors import ClaimError
from hitlab.questions.question import Question
from hitlab.results import Note, Part, Points, Result
from hitlab.showing import shown_name

__all__ = ["Asked"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked(Result):
    """What was understood of a sentence.

    Attributes
    ----------
    text
        The sentence.
    readings
        The question that it asks; several where the choice is the user's, or can be asked in its place; none
        where it was not understood and nothing is offered.
    asks
        What is asked back; empty where nothing is.
    why
        Why it is refused: what cannot be asked of this table. Empty where it is not.
    nearest
        Of a sentence without a reading, the nearest question that can be asked, where there is one.
    left_out
        The words that play no part in what was understood, though they may carry meaning.
    taken
        Words that were taken for others, because they were typed nearly so: ``("brekaing", "breaking")``.
    usual
        Whether the rate was left to the trade's usual meaning: hard-hit balls per swing.
    heard
        Who is said to say it: hearsay is checked like any claim, and named for what it is.
    nearly
        Whether a yes is all that is asked for: one question is offered, and what plays no part in it is not
        known to carry meaning.
    found
        What was found in it, slot by slot (``who: Nadia Izezno``), whatever became of it.
    guessed
        Whether what is offered was made of these alone: no kind of claim fitted.
    pitches
        The table that is asked.
    """

    text: str
    readings: tuple[Question, ...] = ()
    asks: str = ""
    why: str = ""
    nearest: Question | None = None
    left_out: tuple[str, ...] = ()
    taken: tuple[tuple[str, str], ...] = ()
    usual: bool = False
    heard: tuple[str, ...] = ()
    nearly: bool = False
    found: tuple[str, ...] = ()
    guessed: bool = False
    pitches: Any = field(default=None, repr=False, compare=False)

    @property
    def outcome(self) -> Literal["understood", "asked back", "refused"]:
        """Say what became of the sentence."""
        if self.why:
            return "refused"
        return "understood" if len(self.readings) == 1 else "asked back"

    @property
    def choices(self) -> tuple[Question, ...]:
        """The questions that can be chosen: the readings, or where there are none the nearest."""
        return self.readings or (() if self.nearest is None else (self.nearest,))

    @property
    def question(self) -> Question:
        """The question, where there is only one.

        Raises
        ------
        ClaimError
            Where it was refused or has to be asked back; the choices are in the message.
        """
        return self._chosen(0)

    def _chosen(self, choice: int) -> Question:
        if choice == 0 and self.outcome == "understood":
            return self.readings[0]
        offered = self.choices
        if 1 <= choice <= len(offered):
            return offered[choice - 1]
        if choice:
            raise ClaimError(f"choice={choice}: there are {len(offered)} to choose from")
        listed = "; ".join(f"{number}: {_read(one)}" for number, one in enumerate(offered, start=1))
        raise ClaimError(f"{self.said}{f' Choose by choice=: {listed}' if listed else ''}")

    @property
    def read_as(self) -> str:
        """What the sentence was read as, in words, or what there is to choose from."""
        if self.outcome != "understood":
            return self.said
        told = "".join(f" (“{typed}” taken for “{meant}”)" for typed, meant in self.taken)
        usual = (
            " (the rate is the usual one, hard-hit balls"
            f"{' per swing' if self.readings[0].per == 'swings' else ''}, since none is named)"
            if self.usual
            else ""
        )
        heard = "".join(f" (“{who}”: hearsay; whether it is so is checked)" for who in self.heard)
        return f"I read this as: {_read(self.readings[0])}{usual}{told}{heard}"

    @property
    def said(self) -> str:
        """What is said back where there is no single reading."""
        if self.why:
            return f"This cannot be asked: {self.why}."
        return f"I have to ask back: {self.asks}" if self.asks else ""

    def answer(self, choice: int = 0) -> Claim:
        """Answer the question, or the one of the choices that has this number.

        Parameters
        ----------
        choice
            From 1, as :attr:`choices` are in order; 0 for the only one.

        Raises
        ------
        HitlabError
            Where there is more than one and none was chosen, or it cannot be answered.
        """
        return self._chosen(choice).ask(self.pitches)

    @property
    def title(self) -> str:
        """What was understood."""
        return self.read_as

    def contents(self) -> Iterable[Part]:
        """Return what was understood, what was left out, and the choices."""
        parts: list[Part] = [self.read_as]
        if self.found and self.outcome != "understood":
            parts.append(Note("; ".join(self.found), "understood of it"))
        if self.left_out:
            parts.append(Note(", ".join(shown_name(word) for word in self.left_out), "left out"))
        if self.outcome != "understood" and self.choices:
            lines = tuple(f"{number}: {_read(one)}" for number, one in enumerate(self.choices, start=1))
            parts.append(Points("What can be asked", lines))
        return parts

    def table(self) -> pd.DataFrame:
        """Return the choices as a frame: their numbers, kinds and words."""
        offered = self.choices
        return pd.DataFrame(
            {
                "choice": range(1, len(offered) + 1),
                "kind": [one.kind for one in offered],
                "question": [_read(one) for one in offered],
            }
        )


def _read(question: Question) -> str:
    return asked_in_words(question)
