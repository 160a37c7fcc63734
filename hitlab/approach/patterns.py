"""Patterns of pitches in a plate appearance: what follows what, found and counted.

A pattern is built from calls: ``after(whiff(kind="breaking")).then(swing(kind="fastball"))`` asks for a
whiff on a breaking ball and, on the very next pitch, a swing at a fastball; ``.later(...)`` takes any later
pitch of the same plate appearance. The answer says where it happened and how often, and of how many chances:
a pattern that never occurs is an answer too. Counting a pattern shows what happened, not why;
:func:`hitlab.approach.responses.after_whiff` asks whether a whiff changes the next pitch.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, TypedDict, Unpack

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.sequence import Order, eager, ledger_flags, put_in_order
from hitlab.counting.facts import Conventions
from hitlab.errors import ClaimError, MissingColumnsError
from hitlab.pitches.opening import demand_here
from hitlab.pitches.schema import FAMILIES, KEY, PITCH_KINDS
from hitlab.results import Listing, as_text
from hitlab.wording import capitalised

__all__ = [
    "Found",
    "Pattern",
    "Step",
    "after",
    "any_pitch",
    "ball",
    "called_strike",
    "find_sequences",
    "foul",
    "hard_hit",
    "in_play",
    "swing",
    "take",
    "whiff",
]

_SHOWN = ("game", "date", "inning", "half", "plate_appearance", "hitter", "pitcher")
_MOST_SHOWN = 20  # occurrences in a notebook
_KIND_WORDS = {
    "fastball": "a fastball",
    "breaking": "a breaking ball",
    "offspeed": "an offspeed pitch",
    "other": "another kind of pitch",
}
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Step:
    """One pitch of a pattern.

    Attributes
    ----------
    words
        What happened, as it is said: ``a whiff``.
    joint
        The word between it and the kind of pitch: a whiff *on*, a swing *at*.
    event
        The ledger's count that it enters, such as ``whiffs``; "" where ``outcome`` decides or nothing does.
    outcome
        The pitch's outcome where no count of the ledger says it; "" for any.
    kind
        A pitch kind or a family of kinds; "" for any.
    balls, strikes
        The count before the pitch; ``None`` for any.
    where
        A narwhals expression over the table's columns that has to be true as well; ``None`` for none.
    """

    words: str
    joint: str
    event: str
    outcome: str = ""
    kind: str = ""
    balls: int | None = None
    strikes: int | None = None
    where: nw.Expr | None = None

    def __str__(self) -> str:
        text = self.words
        if self.kind:
            text += f" {self.joint} {_KIND_WORDS.get(self.kind) or _with_article(self.kind)}"
        if self.balls is not None and self.strikes is not None:
            text += f" at {self.balls}-{self.strikes}"
        elif self.balls is not None:
            text += f" with {self.balls} ball{'' if self.balls == 1 else 's'}"
        elif self.strikes is not None:
            text += f" with {self.strikes} strike{'' if self.strikes == 1 else 's'}"
        return text + (" under the condition given" if self.where is not None else "")


def _with_article(noun: str) -> str:
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


class Narrow(TypedDict, total=False):
    """What narrows a step: kind or family of pitch, balls and strikes before it, a condition of one's own."""

    kind: str
    balls: int
    strikes: int
    where: nw.Expr


def _step(
    words: str,
    joint: str,
    event: str,
    outcome: str,
    *,
    kind: str = "",
    balls: int | None = None,
    strikes: int | None = None,
    where: nw.Expr | None = None,
) -> Step:
    if kind and kind not in (*PITCH_KINDS, *FAMILIES):
        raise ClaimError(
            f"kind={kind!r} is no kind of pitch; accepted are {', '.join((*FAMILIES, *PITCH_KINDS))}"
        )
    for name, value, most in (("balls", balls, 3), ("strikes", strikes, 2)):
        if value is not None and (isinstance(value, bool) or value not in range(most + 1)):
            raise ClaimError(f"{name}={value!r}: give a whole number from 0 to {most}")
    return Step(words, joint, event, outcome, kind, balls, strikes, where)


def any_pitch(**narrow: Unpack[Narrow]) -> Step:
    """Return any pitch; ``kind``, ``balls``, ``strikes`` and ``where`` narrow this and every other step.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import any_pitch
    >>> print(any_pitch(kind="fastball", balls=3, strikes=1))
    a pitch that is a fastball at 3-1
    """
    return _step("a pitch", "that is", "", "", **narrow)


def swing(**narrow: Unpack[Narrow]) -> Step:
    """Return a swing, whatever came of it; bunts are none.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import swing
    >>> print(swing(kind="fastball", strikes=2))
    a swing at a fastball with 2 strikes
    """
    return _step("a swing", "at", "swings", "", **narrow)


def whiff(**narrow: Unpack[Narrow]) -> Step:
    """Return a swing that missed; a foul tip is one too unless the conventions call it contact.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import whiff
    >>> print(whiff(kind="slider"))
    a whiff on a slider
    """
    return _step("a whiff", "on", "whiffs", "", **narrow)


def foul(**narrow: Unpack[Narrow]) -> Step:
    """Return a foul off a swing.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import foul
    >>> print(foul(strikes=2))
    a foul with 2 strikes
    """
    return _step("a foul", "off", "fouls", "", **narrow)


def in_play(**narrow: Unpack[Narrow]) -> Step:
    """Return a ball in play off a swing.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import in_play
    >>> print(in_play(balls=0, strikes=0))
    a ball in play at 0-0
    """
    return _step("a ball in play", "off", "in_play", "", **narrow)


def hard_hit(**narrow: Unpack[Narrow]) -> Step:
    """Return a ball hit hard.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import hard_hit
    >>> print(hard_hit(kind="fastball"))
    a hard-hit ball off a fastball
    """
    return _step("a hard-hit ball", "off", "hard", "", **narrow)


def take(**narrow: Unpack[Narrow]) -> Step:
    """Return a pitch not swung at.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import take
    >>> print(take(kind="breaking"))
    a take of a breaking ball
    """
    return _step("a take", "of", "takes", "", **narrow)


def ball(**narrow: Unpack[Narrow]) -> Step:
    """Return a pitch called a ball.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import ball
    >>> print(ball(balls=3))
    a ball with 3 balls
    """
    return _step("a ball", "on", "", "ball", **narrow)


def called_strike(**narrow: Unpack[Narrow]) -> Step:
    """Return a pitch taken for a strike.

    Parameters
    ----------
    **narrow
        ``kind`` (a pitch kind or a family of kinds), ``balls`` (0 to 3) and ``strikes`` (0 to 2) before
        it, ``where`` (a narwhals expression over the table's columns that has to be true as well).

    Returns
    -------
    Step
        For :func:`after`, ``then`` and ``later``.

    Raises
    ------
    ClaimError
        Where the kind is no kind of pitch, or no count has so many balls or strikes.

    Examples
    --------
    >>> from hitlab.approach import called_strike
    >>> print(called_strike(kind="curveball"))
    a called strike on a curveball
    """
    return _step("a called strike", "on", "", "called strike", **narrow)


@dataclass(frozen=True, slots=True)
class Pattern:
    """Steps in the order of a plate appearance.

    Attributes
    ----------
    steps
        What is asked of each pitch.
    at_once
        For each step after the first: whether it has to be the very next pitch.
    """

    steps: tuple[Step, ...]
    at_once: tuple[bool, ...] = ()

    def then(self, step: Step) -> Pattern:
        """Ask for a step on the very next pitch."""
        return replace(self, steps=(*self.steps, _checked(step)), at_once=(*self.at_once, True))

    def later(self, step: Step) -> Pattern:
        """Ask for a step on any later pitch of the plate appearance; the first such pitch is taken."""
        return replace(self, steps=(*self.steps, _checked(step)), at_once=(*self.at_once, False))

    def __str__(self) -> str:
        text = f"after {self.steps[0]}"
        for step, at_once in zip(self.steps[1:], self.at_once, strict=True):
            text += f", {'then' if at_once else 'later'} {step}"
        return text


def _checked(step: Any) -> Step:
    if not isinstance(step, Step):
        raise ClaimError(f'{step!r} is no step of a pattern; write for instance whiff(kind="breaking")')
    return step


def after(step: Step) -> Pattern:
    """Begin a pattern: ``after(whiff(kind="breaking")).then(swing(kind="fastball"))``.

    Parameters
    ----------
    step
        What is asked of the first pitch: ``whiff()``, ``swing(kind="fastball")``, ...

    Returns
    -------
    Pattern
        With this one step; ``then`` and ``later`` add to it.

    Raises
    ------
    ClaimError
        Where it is given something else than a step.

    Examples
    --------
    >>> from hitlab.approach import after, swing, whiff
    >>> print(after(whiff(kind="breaking")).then(swing(kind="fastball")))
    after a whiff on a breaking ball, then a swing at a fastball
    """
    return Pattern((_checked(step),))


@dataclass(frozen=True, eq=False, slots=True)
class Found(Listing):
    """Where a pattern occurs, and of how many chances.

    Attributes
    ----------
    pattern
        The pattern.
    occurrences
        One row an occurrence, in the order of the key: what of game, date, inning, half, plate appearance,
        hitter and pitcher the table has; ``pitch`` (number of the last step's pitch), ``row`` (its row in the
        table, from 0) and ``first_row`` (the first step's).
    chances
        How often all steps but the last occurred and a pitch followed (for one step: the pitches searched).
    missed_rows, missed_first_rows
        Rows (from 0) of the pitches that followed where the last step did not occur, and of the first
        steps before them.
    searched, set_aside
        Plate appearances searched, and those set aside because their order cannot be trusted.
    """

    pattern: Pattern
    occurrences: pd.DataFrame
    chances: int
    missed_rows: NDArray[np.int64]
    missed_first_rows: NDArray[np.int64]
    searched: int
    set_aside: int

    def __len__(self) -> int:
        return len(self.occurrences)

    def table(self) -> pd.DataFrame:
        """Return the occurrences as a plain pandas frame."""
        return self.occurrences.copy()

    def table_for_people(self) -> pd.DataFrame:
        """Return the first occurrences."""
        return self.table().head(_MOST_SHOWN)

    def __str__(self) -> str:
        return as_text([self.title])

    @property
    def title(self) -> str:
        """How often the pattern occurs, and of how many chances, in words."""
        times = len(self)
        how_often = "never" if not times else "once" if times == 1 else f"{times:,} times"
        text = (
            f"{capitalised(str(self.pattern))}: {how_often}, of {self.searched:,} plate appearances searched"
        )
        if len(self.pattern.steps) > 1:
            beginning = "its beginning" if len(self.pattern.steps) > 2 else str(self.pattern.steps[0])
            text += f". A pitch followed {beginning} {self.chances:,} time{'' if self.chances == 1 else 's'}"
        if self.set_aside:
            what = "plate appearance was" if self.set_aside == 1 else "plate appearances were"
            text += f". {self.set_aside:,} {what} set aside (see sequence_faults)"
        return text + "."


def find_sequences(pitches: Any, pattern: Pattern, *, conventions: Conventions | None = None) -> Found:
    """Find every place where a pattern occurs.

    Parameters
    ----------
    pitches
        As for :func:`hitlab.approach.with_previous`.
    pattern
        From :func:`after`. Each pitch that is a first step begins at most one occurrence; they may overlap.
    conventions
        How the debatable cases are counted; see ``hitlab.counting.facts``.

    Returns
    -------
    Found
        One row an occurrence, and of how many chances they are: how often the steps before the last had been
        there with a pitch to follow.

    Raises
    ------
    ClaimError
        Where the pattern is none.
    MissingColumnsError, CountsError, ReadingError
        Where the table cannot tell; the message names the columns.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.approach import after, find_sequences, swing, whiff
    >>> pitches = pd.DataFrame({"game": "game 1", "plate_appearance": [1, 1, 1, 2, 2, 2],
    ...                         "pitch": [1, 2, 3, 1, 2, 3],
    ...                         "outcome": ["whiff", "foul", "ball", "whiff", "ball", "in play"]})
    >>> found = find_sequences(pitches, after(whiff()).then(swing()))
    >>> len(found), found.chances
    (1, 2)
    >>> found.occurrences[["game", "plate_appearance", "pitch"]]
         game  plate_appearance  pitch
    0  game 1                 1      2
    """
    if not isinstance(pattern, Pattern):
        raise ClaimError(
            f'{pattern!r} is no pattern; write for instance after(whiff(kind="breaking")).then(swing())'
        )
    demand_here(pitches, "a search for patterns")
    frame = eager(pitches, _columns(pattern))[0]
    order = put_in_order(frame)
    flags = [_flag(frame, step, conventions) for step in pattern.steps]
    at = order.places[(flags[0] & order.trusted)[order.places]]
    first, chances, missed = at, int(order.trusted.sum()), (at[:0], at[:0])
    for flag, at_once in zip(flags[1:], pattern.at_once, strict=True):
        next_pitch = order.following[at]
        at, first, next_pitch = (rows[next_pitch >= 0] for rows in (at, first, next_pitch))
        chances = len(at)
        found = np.where(flag[next_pitch], next_pitch, -1) if at_once else _first_after(flag, order)[at]
        missed = next_pitch[found < 0], first[found < 0]
        at, first = found[found >= 0], first[found >= 0]
    return Found(pattern, _occurrences(frame, at, first), chances, *missed, order.searched, order.set_aside)


def _columns(pattern: Pattern) -> list[str] | None:
    """Name the columns that are looked at; ``None`` for all, where a step has a condition of its own."""
    if any(step.where is not None for step in pattern.steps):
        return None
    facts = ("hitter_id", "outcome", "balls", "strikes", "bunt", "pitch_kind")
    hardness = ("level", "bat", "exit_mph", "hard", "hard_source")
    return list(dict.fromkeys((*KEY, *_SHOWN, *facts, *hardness)))


def _flag(frame: nw.DataFrame[Any], step: Step, conventions: Conventions | None) -> Flags:
    """Tell for each row whether it is such a pitch."""
    flag = np.ones(len(frame), dtype=bool)
    if step.event:
        flag = ledger_flags(frame, (step.event,), conventions)[step.event]
    conditions = [step.where] if step.where is not None else []
    asked = [name for name in ("outcome", "pitch_kind", "balls", "strikes") if _asks(step, name)]
    absent = [name for name in asked if name not in frame.columns]
    if absent:
        raise MissingColumnsError(f"{step} cannot be told: the table has no column {', '.join(absent)}")
    if step.outcome:
        conditions.append(nw.col("outcome") == step.outcome)
    if step.kind:
        conditions.append(nw.col("pitch_kind").is_in(list(FAMILIES.get(step.kind, (step.kind,)))))
    conditions += [nw.col(name) == getattr(step, name) for name in ("balls", "strikes") if name in asked]
    for condition in conditions:
        # A comparison with a missing value is missing; it counts as false.
        told = nw.when(condition).then(nw.lit(1)).otherwise(nw.lit(0)).alias("told")
        flag = flag & (np.asarray(frame.select(told)["told"].to_numpy()) == 1)
    return flag


def _asks(step: Step, column: str) -> bool:
    value = step.kind if column == "pitch_kind" else getattr(step, column)
    return value is not None and value != ""


def _first_after(flag: Flags, order: Order) -> NDArray[np.int64]:
    """Return for each row the first flagged row after it in its plate appearance; -1 for none."""
    places = order.places
    end = len(places)
    where = np.where(flag[places], np.arange(end), end)
    later = np.append(np.minimum.accumulate(where[::-1])[::-1][1:], end)
    # Pitches that follow each other without a break share a number.
    chain = np.append(np.cumsum(order.previous[places] < 0), -1)
    later[chain[later] != chain[:-1]] = end
    found = np.full(len(order.previous), -1, dtype=np.int64)
    found[places] = np.append(places, -1)[later]
    return found


def _occurrences(frame: nw.DataFrame[Any], last: NDArray[np.int64], first: NDArray[np.int64]) -> pd.DataFrame:
    shown = [name for name in (*_SHOWN, "pitch") if name in frame.columns]
    table = frame[last.tolist(), shown].to_pandas().reset_index(drop=True)
    table["row"], table["first_row"] = last, first
    return table
