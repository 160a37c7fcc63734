"""Two rates whose luck is not the same luck: which swings each counts, and the proof that none decides both.

Two rates that count the same swings go together by luck alone: a whiff more is a hard-hit ball less. So
before two rates are compared it has to be shown that the luck in one says nothing of the luck in the other:
either no pitch stands in both denominators, or those that do are settled for the first rate before the
second one is drawn (whiffs per swing, then fair balls per contact: a swing that made contact is no whiff for
certain). In the second case the joint multinomial law of the outcomes is the product of two binomial ones.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import narwhals as nw

from hitlab.counting.events import EVENTS, event_expression, every_pitch, per_words, rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.ledger import swing_ledger
from hitlab.counting.situations import Situation
from hitlab.counting.summing import collected
from hitlab.errors import CountsError

__all__ = ["RateOf", "proof_disjoint"]


@dataclass(frozen=True, slots=True)
class RateOf:
    """A rate, and the pitches it is taken over.

    Attributes
    ----------
    event, per
        Names of two counts, such as ``"hard"`` and ``"swings"``.
    where
        The pitches: a ``Situation``, a narwhals expression over the pitch table's columns, or ``None`` for
        all.
    words
        How the situation follows the rate in a sentence: ``"against breaking balls"``. A ``Situation`` brings
        its own; for an expression they are needed.

    Raises
    ------
    CountsError
        Where an expression comes without words, or the event can happen more than once (``bases``).
    """

    event: str
    per: str
    where: Situation | nw.Expr | None = None
    words: str = ""

    def __post_init__(self) -> None:
        if isinstance(self.where, nw.Expr) and not self.words.strip():
            raise CountsError(
                f"{rate_words(self.event, self.per)}: say in words= how the situation reads in a sentence, "
                "such as 'in the first half'"
            )
        if self.event == "bases":
            raise CountsError("bases come up to four at a time, so they are no share; use hits")

    @classmethod
    def called(cls, words: str) -> RateOf:
        """Return the rate that is written as ``"hard per swings"``.

        Raises
        ------
        CountsError
            Where it is written otherwise.
        """
        event, divided, per = words.replace("_", " ").partition(" per ")
        if not divided:
            raise CountsError(f'{words!r} is no rate; write it as "hard per swings"')
        return cls(event.strip().replace(" ", "_"), per.strip().replace(" ", "_"))

    @property
    def title(self) -> str:
        """The rate in words, with its situation."""
        said = self.words or (self.where.words if isinstance(self.where, Situation) else "")
        return f"{rate_words(self.event, self.per)} {said}".strip()


def proof_disjoint(pitches: Any, first: RateOf, second: RateOf, conventions: Conventions) -> str:
    """Say in one sentence why the luck in one rate says nothing of the luck in the other.

    Parameters
    ----------
    pitches
        The pitch table: a path, a ``Reading`` or a frame.
    first, second
        The two rates.
    conventions
        How the debatable cases are counted.

    Raises
    ------
    CountsError
        Where pitches stand in both denominators, and their part in one rate is not settled before the other.
    """
    by_rule = rule_disjoint(first, second, conventions)
    if by_rule:
        return by_rule
    shared = _shared_pitches(pitches, first, second, conventions)
    if shared:
        raise CountsError(
            f"{shared:,} pitches are counted in both {first.title} and {second.title}, so luck on them alone "
            "makes the two go together; give each rate its own pitches with where=, or let the second rate "
            f"be over what the first one left, such as whiffs per swing and balls in play per contact"
        )
    return f"no pitch is counted in both {first.title} and {second.title}: all pitches were looked through"


def rule_disjoint(first: RateOf, second: RateOf, conventions: Conventions) -> str:
    """Say why the counting rules alone keep two rates apart; empty where they do not."""
    known = [EVENTS.get(name) for name in (first.event, first.per, second.event, second.per)]
    if any(event is None or event.ending for event in known):
        return ""
    cells = nw.from_native(every_pitch(conventions), eager_only=True)
    flags = {
        event.name: cells.select(event_expression(event, conventions).alias("flag"))["flag"].to_numpy() == 1
        for event in known
        if event is not None
    }
    both = flags[first.per] & flags[second.per]
    if not both.any():
        return f"no pitch can be among both {per_words(first.per, 2)} and {per_words(second.per, 2)}"
    for one, other in ((first, second), (second, first)):
        settled = flags[one.event][both]
        if settled.all() or not settled.any():
            return (
                f"a pitch among the {per_words(other.per, 2)} is already settled for {one.title}, so the "
                "joint multinomial law of the outcomes is the product of two binomial ones"
            )
    return ""


def _shared_pitches(pitches: Any, first: RateOf, second: RateOf, conventions: Conventions) -> int:
    """Count the pitches that stand in both denominators."""
    # The tally has refused what may not be trusted.
    frame = nw.from_native(swing_ledger(pitches, conventions=conventions, trust=True))
    columns = frame.collect_schema().names()
    for where in (first.where, second.where):
        if where is not None:
            test = where.on(columns) if isinstance(where, Situation) else where
            frame = frame.filter(test == True)  # noqa: E712  (an expression; a missing value is false)
    for per in {first.per, second.per}:
        frame = frame.filter(nw.col(EVENTS[per].flag) == True)  # noqa: E712
    return int(collected(frame.select(nw.len().alias("pitches")))["pitches"].iloc[0])
