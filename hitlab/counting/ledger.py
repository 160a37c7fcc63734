"""The swing ledger: what each pitch became, and which count it enters.

The rules stand here once, as expressions over a few columns. The tally sums them over groups,
:func:`swing_ledger` shows them row by row, so the two cannot drift apart.

Rules and sources (Official Baseball Rules, Definitions of Terms and 9.02, from memory):

- A swing is a whiff, a foul, a foul tip or a ball in play. A check swing counts when the hitter
  went, which is read from the outcome. A swing at a pitch that hits the hitter is a whiff (a strike
  and a dead ball), not a hit by pitch.
- A bunt is a ball "not swung at": bunt attempts (missed, fouled, in play) leave swings *and* balls in
  play here and have a count of their own. They stay in pitches, plate appearances and at-bats.
- A foul tip is "equivalent to a swinging strike": by default it is a miss, not contact.
- Only pitches thrown at which the hitter had a chance enter pitches: automatic balls and strikes, calls
  of no pitch, and intentional balls do not (the last: common practice, no source). A pitch on which
  the catcher interfered is a pitch, neither swing nor take.
- A plate appearance is counted where its result is recorded, an at-bat where the result is not a
  walk, a hit by pitch, a sacrifice or catcher's interference.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import narwhals as nw

from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches.opening import frame_of
from hitlab.pitches.schema import RESULTS

__all__ = [
    "AT_BAT_RESULTS",
    "EVENTS",
    "HIT_BASES",
    "SWING_OUTCOMES",
    "TAKE_OUTCOMES",
    "THROWN_OUTCOMES",
    "Conventions",
    "Event",
    "swing_ledger",
]

SWING_OUTCOMES = ("whiff", "foul", "foul tip", "in play")
TAKE_OUTCOMES = ("ball", "called strike", "hit by pitch")
THROWN_OUTCOMES = (*SWING_OUTCOMES, *TAKE_OUTCOMES, "catcher's interference")
HIT_BASES = {"single": 1, "double": 2, "triple": 3, "home run": 4}
AT_BAT_RESULTS = ("strikeout", *HIT_BASES, "out", "double play", "fielder's choice", "error")

PROFESSIONAL_HARD_MPH = 95.0
"""Hard off a wood bat among professionals (common practice, no source)."""

_FASTEST_MPH = 1000.0  # both bounds are asked for: NaN is larger than any number on some engines


@dataclass(frozen=True, slots=True)
class Conventions:
    """How the debatable cases are counted.

    Attributes
    ----------
    hard_mph
        Speed off the bat, in mph, from which a ball is hard. ``None``: 95 where the table is of
        professionals (or does not say), else hard hits are not counted until a threshold is given.
        A recorded ``hard`` flag wins over the speed either way.
    foul_tip
        ``miss`` (default: it plays as a whiff) or ``contact`` (the bat did touch the ball). Either
        way it is a swing, is never a ball in play, and has its own count.
    hard_fouls
        Count hard-hit fouls as hard too. Then hard balls stand against contact, not balls in play.
    """

    hard_mph: float | None = None
    foul_tip: Literal["miss", "contact"] = "miss"
    hard_fouls: bool = False

    def __post_init__(self) -> None:
        if self.hard_mph is not None and not 0 < self.hard_mph < 130:
            raise CountsError(
                f"hard_mph={self.hard_mph!r}: give a speed off the bat in mph between 0 and 130"
            )
        if self.foul_tip not in ("miss", "contact"):
            raise CountsError(f"foul_tip={self.foul_tip!r}: accepted are 'miss' and 'contact'")

    @property
    def threshold_mph(self) -> float:
        """The speed from which a ball is hard, in mph."""
        return PROFESSIONAL_HARD_MPH if self.hard_mph is None else self.hard_mph


# The few values the rules look at, beside ``result``. Whole numbers, never booleans or nulls: the
# engines agree on those.
PITCH_FACTS = ("outcome", "bunted", "checked", "two_strikes", "judged", "by_eye", "disputed")
UNKNOWN, NOT_HARD, HARD = 0, 1, 2  # values of ``judged``


def _one_where(condition: nw.Expr) -> nw.Expr:
    return nw.when(condition).then(nw.lit(1)).otherwise(nw.lit(0))


def pitch_facts(columns: set[str], conventions: Conventions) -> list[nw.Expr]:
    """Return the expressions that reduce a row to the values the rules look at.

    A flag that is missing is false; a fact whose column is absent is the constant 0.
    """
    facts = dict.fromkeys(PITCH_FACTS, nw.lit(0))
    facts["outcome"] = nw.col("outcome")
    if "bunt" in columns:
        facts["bunted"] = _one_where(nw.col("bunt") == True)  # noqa: E712  (an expression, not a test)
    if "check_swing" in columns:
        facts["checked"] = _one_where(nw.col("check_swing") == True)  # noqa: E712
    if "strikes" in columns:
        facts["two_strikes"] = _one_where(nw.col("strikes") == 2)
    facts |= _hardness(columns, conventions)
    return [value.alias(name) for name, value in facts.items()]


def _hardness(columns: set[str], conventions: Conventions) -> dict[str, nw.Expr]:
    """Return how hard the contact was, who judged it, and whether flag and speed disagree."""
    struck = nw.col("outcome") == "in play"
    if conventions.hard_fouls:
        struck = struck | (nw.col("outcome") == "foul")
    facts: dict[str, nw.Expr] = {}
    fast = slow = None
    if "exit_mph" in columns:
        speed = nw.col("exit_mph")
        fast = struck & (speed >= conventions.threshold_mph) & (speed <= _FASTEST_MPH)
        slow = struck & (speed >= 0) & (speed < conventions.threshold_mph)
        facts["judged"] = nw.when(fast).then(nw.lit(HARD)).otherwise(_one_where(slow))
    if "hard" in columns:  # a recorded flag wins over the speed
        yes = struck & (nw.col("hard") == True)  # noqa: E712
        no = struck & (nw.col("hard") == False)  # noqa: E712
        judged = facts.get("judged", nw.lit(UNKNOWN))
        judged = nw.when(no).then(nw.lit(NOT_HARD)).otherwise(judged)
        facts["judged"] = nw.when(yes).then(nw.lit(HARD)).otherwise(judged)
        # Who judged: what the source says, else the radar where there is a speed, else the eye.
        by_eye = _one_where(yes | no)
        if fast is not None and slow is not None:
            by_eye = nw.when(fast | slow).then(nw.lit(0)).otherwise(by_eye)
            facts["disputed"] = _one_where((yes & slow) | (no & fast))
        if "hard_source" in columns:
            by_eye = nw.when(nw.col("hard_source") == "radar").then(nw.lit(0)).otherwise(by_eye)
            told = (yes | no) & (nw.col("hard_source") == "eye")
            by_eye = nw.when(told).then(nw.lit(1)).otherwise(by_eye)
        facts["by_eye"] = by_eye
    return facts


Rule = Callable[[Conventions], nw.Expr]


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that is counted.

    Attributes
    ----------
    name
        Name of the count, plural: ``whiffs``.
    flag
        Name of the row-by-row column, singular: ``whiff``.
    meaning
        One line for people.
    rule
        From the conventions to an expression over the facts (1 or 0; more for ``bases``).
    needs
        Columns without which it cannot be told; one of each inner tuple is enough.
    ending
        True where the rule looks at ``result`` only.
    """

    name: str
    flag: str
    meaning: str
    rule: Rule
    needs: tuple[tuple[str, ...], ...] = ()
    ending: bool = False

    def lacking(self, columns: set[str]) -> tuple[str, ...]:
        """Return the columns that are needed and absent, written as ``a or b`` where one is enough."""
        return tuple(" or ".join(group) for group in self.needs if not columns.intersection(group))


def _outcome(*words: str) -> nw.Expr:
    return nw.col("outcome").is_in(list(words))


def _swing() -> nw.Expr:
    return _outcome(*SWING_OUTCOMES) & (nw.col("bunted") == 0)


def _contact(c: Conventions) -> nw.Expr:
    touched = ("foul", "in play", "foul tip") if c.foul_tip == "contact" else ("foul", "in play")
    return _outcome(*touched) & (nw.col("bunted") == 0)


def _whiff(c: Conventions) -> nw.Expr:
    """Return a swing that missed; a foul tip too, unless it is counted as contact."""
    missed = ("whiff",) if c.foul_tip == "contact" else ("whiff", "foul tip")
    return _outcome(*missed) & (nw.col("bunted") == 0)


def _in_play() -> nw.Expr:
    return _outcome("in play") & (nw.col("bunted") == 0)


def _hard() -> nw.Expr:
    # ``judged`` is set on balls in play only, and on fouls where hard fouls are counted.
    return (nw.col("judged") == HARD) & (nw.col("bunted") == 0)


def _unmeasured(c: Conventions) -> nw.Expr:
    struck = _outcome("in play", "foul") if c.hard_fouls else _outcome("in play")
    return struck & (nw.col("bunted") == 0) & (nw.col("judged") == UNKNOWN)


def _deep() -> nw.Expr:
    return nw.col("two_strikes") == 1


def _result(*words: str) -> nw.Expr:
    return nw.col("result").is_in(list(words))


_HARDNESS = (("exit_mph", "hard"),)
_STRIKES = (("strikes",),)
_RESULT = (("result",),)

_PITCH_EVENTS = (
    Event("pitches", "thrown", "pitches thrown", lambda c: _outcome(*THROWN_OUTCOMES)),
    Event(
        "swings",
        "swing",
        "swings: whiffs, fouls, foul tips, balls in play; bunts left out",
        lambda c: _swing(),
    ),
    Event("takes", "take", "pitches not swung at", lambda c: _outcome(*TAKE_OUTCOMES)),
    Event("whiffs", "missed", "swings that missed, foul tips by default among them", _whiff),
    Event(
        "fouls", "fouled", "fouls, foul tips left out", lambda c: _outcome("foul") & (nw.col("bunted") == 0)
    ),
    Event("foul_tips", "tipped", "foul tips", lambda c: _outcome("foul tip") & (nw.col("bunted") == 0)),
    Event("contact", "touched", "fouls and balls in play", _contact),
    Event("in_play", "put_in_play", "balls in play, bunts left out", lambda c: _in_play()),
    Event("hard", "hit_hard", "balls hit hard", lambda c: _hard(), _HARDNESS),
    Event("unmeasured", "hardness_unknown", "contact whose hardness is unknown", _unmeasured, _HARDNESS),
    Event(
        "hard_by_eye",
        "judged_by_eye",
        "contact judged hard or not by eye, without radar",
        lambda c: (nw.col("by_eye") == 1) & (nw.col("bunted") == 0),
        (("hard",),),
    ),
    Event(
        "hard_disputed",
        "hardness_disputed",
        "contact whose recorded flag contradicts its speed",
        lambda c: (nw.col("disputed") == 1) & (nw.col("bunted") == 0),
        (("hard",), ("exit_mph",)),
    ),
    Event(
        "check_swings_went",
        "went",
        "check swings that went",
        lambda c: _swing() & (nw.col("checked") == 1),
        (("check_swing",),),
    ),
    Event(
        "check_swings_held",
        "held",
        "check swings that were held",
        lambda c: _outcome(*TAKE_OUTCOMES) & (nw.col("checked") == 1),
        (("check_swing",),),
    ),
    Event(
        "bunts",
        "bunt_attempt",
        "bunt attempts: missed, fouled, in play",
        lambda c: _outcome(*SWING_OUTCOMES) & (nw.col("bunted") == 1),
        (("bunt",),),
    ),
    Event(
        "two_strike_pitches",
        "deep_pitch",
        "pitches with two strikes",
        lambda c: _outcome(*THROWN_OUTCOMES) & _deep(),
        _STRIKES,
    ),
    Event(
        "two_strike_swings", "deep_swing", "swings with two strikes", lambda c: _swing() & _deep(), _STRIKES
    ),
    Event(
        "two_strike_whiffs", "deep_miss", "whiffs with two strikes", lambda c: _whiff(c) & _deep(), _STRIKES
    ),
    Event(
        "two_strike_fouls",
        "deep_foul",
        "fouls with two strikes",
        lambda c: _outcome("foul") & (nw.col("bunted") == 0) & _deep(),
        _STRIKES,
    ),
    Event(
        "two_strike_contact",
        "deep_contact",
        "contact with two strikes",
        lambda c: _contact(c) & _deep(),
        _STRIKES,
    ),
    Event(
        "two_strike_in_play",
        "deep_in_play",
        "balls in play with two strikes",
        lambda c: _in_play() & _deep(),
        _STRIKES,
    ),
    Event(
        "two_strike_hard",
        "deep_hard",
        "balls hit hard with two strikes",
        lambda c: _hard() & _deep(),
        (*_HARDNESS, *_STRIKES),
    ),
    Event(
        "two_strike_unmeasured",
        "deep_unknown",
        "two-strike contact whose hardness is unknown",
        lambda c: _unmeasured(c) & _deep(),
        (*_HARDNESS, *_STRIKES),
    ),
)


def _bases() -> nw.Expr:
    total = nw.lit(0)
    for result, bases in HIT_BASES.items():
        total = nw.when(_result(result)).then(nw.lit(bases)).otherwise(total)
    return total


_ENDING_EVENTS = (
    Event(
        "plate_appearances",
        "ended",
        "plate appearances with a result",
        lambda c: _result(*RESULTS),
        _RESULT,
        True,
    ),
    Event("at_bats", "at_bat", "at-bats", lambda c: _result(*AT_BAT_RESULTS), _RESULT, True),
    Event("hits", "hit", "hits", lambda c: _result(*HIT_BASES), _RESULT, True),
    Event("bases", "bases_gained", "bases on hits: 1 to 4 a hit", lambda c: _bases(), _RESULT, True),
)

EVENTS: dict[str, Event] = {event.name: event for event in (*_PITCH_EVENTS, *_ENDING_EVENTS)}
"""Every count by name, in the order in which the tally gives them."""


def event_expression(event: Event, conventions: Conventions) -> nw.Expr:
    """Return the event as 1 and 0 (``bases``: 0 to 4), over the facts."""
    rule = event.rule(conventions)
    return rule if event.name == "bases" else _one_where(rule)


def swing_ledger(pitches: Any, *, conventions: Conventions | None = None, trust: bool = False) -> Any:
    """Add to each pitch what it became: one true-or-false column an event.

    Parameters
    ----------
    pitches
        A pitch table, as :func:`hitlab.tally` takes it.
    conventions
        How the debatable cases are counted; see :class:`Conventions`.
    trust
        Accept a file without the schema mark.

    Returns
    -------
    frame
        The caller's own kind of frame with the columns named by ``EVENTS[...].flag`` added
        (``swing``, ``take``, ``missed``, ``put_in_play``, ``hit_hard``, ...; ``bases_gained`` is 0 to
        4). Events that the table's columns cannot tell are left out.

    Raises
    ------
    MissingColumnsError
        Where ``outcome`` is absent.
    """
    conventions = conventions or Conventions()
    frame, _ = frame_of(pitches, trust=trust)
    columns = set(frame.collect_schema().names())
    if "outcome" not in columns:
        raise MissingColumnsError(
            "the swing ledger needs the column outcome; read the file with read_pitches first"
        )
    told = [event for event in EVENTS.values() if not event.lacking(columns)]
    taken = sorted({*(event.flag for event in told), *PITCH_FACTS[1:]} & columns)
    if taken:
        raise CountsError(f"the table already has the column {taken[0]!r}; drop or rename it first")
    flags = [
        expression if event.name == "bases" else (expression == 1)
        for event in told
        for expression in [event_expression(event, conventions)]
    ]
    named = [flag.alias(event.flag) for event, flag in zip(told, flags, strict=True)]
    facts = pitch_facts(columns, conventions)[1:]
    return frame.with_columns(*facts).with_columns(*named).drop(*PITCH_FACTS[1:]).to_native()
