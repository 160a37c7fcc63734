"""Every count once: its name and words, its rule, what it is a part of, and the columns that it needs.

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
  walk, a hit by pitch, a sacrifice or catcher's interference. A ball in play ends the plate appearance.

What lies within what is said beside each rule and held to it: ``tests/test_events.py`` weighs every rule on
every combination of facts, and goes through every pair of counts on the demo season row by row.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cache
from itertools import product
from typing import Any, NamedTuple

import narwhals as nw
import pandas as pd

from hitlab.counting.facts import HARD, PITCH_FACTS, UNKNOWN, Conventions
from hitlab.errors import CountsError
from hitlab.pitches.schema import (
    CONTACT_OUTCOMES,
    OUTCOMES,
    RESULTS,
    SWING_OUTCOMES,
    TAKE_OUTCOMES,
    THROWN_OUTCOMES,
)

__all__ = [
    "AT_BAT_RESULTS",
    "EVENTS",
    "HIT_BASES",
    "Doing",
    "Event",
    "base_of",
    "event_expression",
    "event_words",
    "every_pitch",
    "fitting_denominators",
    "per_words",
    "rate_words",
    "refuse_no_share",
    "within",
]

HIT_BASES = {"single": 1, "double": 2, "triple": 3, "home run": 4}
AT_BAT_RESULTS = ("strikeout", *HIT_BASES, "out", "double play", "fielder's choice", "error")

Rule = Callable[[Conventions], nw.Expr]
Within = tuple[str, ...] | Callable[[Conventions], tuple[str, ...]]


class Doing(NamedTuple):
    """A verb that tells an event, with its object: ``hit the ball hard``."""

    bare: str
    third: str
    done: str
    now: str

    def with_object(self, words: str) -> Doing:
        """Return the same with more words behind it."""
        return Doing(*(f"{form} {words.strip()}" for form in self))


def _to(forms: str, rest: str = "") -> Doing:
    return Doing(*(f"{form} {rest}".rstrip() for form in forms.split()))


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that is counted.

    Attributes
    ----------
    name
        Name of the count, plural: ``whiffs``.
    flag
        Name of the row-by-row column, singular: ``missed``.
    one, many
        What it is called in a sentence: ``ball in play``, ``balls in play``.
    meaning
        One line for people.
    rule
        From the conventions to an expression over the facts (true or false; a number for ``bases``).
    within
        The counts that it is directly a part of: each of it is one of them, too. What those are a part of
        follows. A function of the conventions where they decide.
    needs
        Columns without which it cannot be told; one of each inner tuple is enough.
    ending
        True where the rule looks at ``result`` only.
    gain
        True where more of it is better for the hitter, so that a spell of it is called hot.
    share
        False where one pitch may count more than once, so that no rate of it is a share.
    hardness
        True where the rule asks how hard the contact was.
    unknown
        Name of the count of the contact of which that is not known; empty where ``hardness`` is false.
    counted
        What many of it are called behind a number, where that is not ``many``: ``410 contacts``.
    does
        What somebody does who has it: ``hits the ball hard``; nothing where no verb tells it.
    """

    name: str
    flag: str
    one: str
    many: str
    meaning: str
    rule: Rule
    within: Within = ()
    needs: tuple[tuple[str, ...], ...] = ()
    ending: bool = False
    gain: bool = False
    share: bool = True
    hardness: bool = False
    unknown: str = ""
    counted: str = ""
    does: Doing | None = None

    def lacking(self, columns: set[str]) -> tuple[str, ...]:
        """Return the columns that are needed and absent, written as ``a or b`` where one is enough."""
        return tuple(" or ".join(group) for group in self.needs if not columns.intersection(group))

    @property
    def rests_on(self) -> frozenset[str]:
        """The columns that tell it; every pitch that was thrown is told by being there."""
        told = {"result"} if self.ending else {"outcome"} if self.name != "pitches" else set()
        return frozenset(told.union(*self.needs))

    def parts_of(self, conventions: Conventions) -> tuple[str, ...]:
        """Return the counts that it is directly a part of, under some conventions."""
        return self.within(conventions) if callable(self.within) else self.within


def _outcome(*words: str) -> nw.Expr:
    return nw.col("outcome").is_in(list(words))


def _swung(*outcomes: str) -> nw.Expr:
    return _outcome(*outcomes) & (nw.col("bunted") == 0)


def _touched(c: Conventions) -> nw.Expr:
    return _swung(*CONTACT_OUTCOMES, *("foul tip",) if c.foul_tip == "contact" else ())


def _missed(c: Conventions) -> nw.Expr:
    return _swung(*("whiff",) if c.foul_tip == "contact" else ("whiff", "foul tip"))


def _about_contact(fact: str, value: int) -> Rule:
    """Return a rule on what is judged: balls in play, and fouls where hard fouls are counted."""
    return lambda c: _swung(*c.judged_outcomes) & (nw.col(fact) == value)


def _judged_contact(c: Conventions) -> tuple[str, ...]:
    return ("contact",) if c.hard_fouls else ("in_play",)


def _result(*words: str) -> nw.Expr:
    return nw.col("result").is_in(list(words))


def _bases(c: Conventions) -> nw.Expr:
    total = nw.lit(0)
    for result, bases in HIT_BASES.items():
        total = nw.when(_result(result)).then(nw.lit(bases)).otherwise(total)
    return total


_HARDNESS = (("exit_mph", "hard"),)
_STRIKES = (("strikes",),)
_RESULT = (("result",),)

_PITCHES = (
    Event("pitches", "thrown", "pitch", "pitches", "pitches thrown", lambda c: _outcome(*THROWN_OUTCOMES)),
    Event(
        "swings",
        "swing",
        "swing",
        "swings",
        "swings: whiffs, fouls, foul tips, balls in play; bunts left out",
        lambda c: _swung(*SWING_OUTCOMES),
        within=("pitches",),
        does=_to("swing swings swung swinging"),
    ),
    Event(
        "takes",
        "take",
        "take",
        "takes",
        "pitches not swung at",
        lambda c: _outcome(*TAKE_OUTCOMES),
        within=("pitches",),
        does=_to("take takes taken taking", "the pitch"),
    ),
    Event(
        "whiffs",
        "missed",
        "whiff",
        "whiffs",
        "swings that missed, foul tips by default among them",
        _missed,
        within=("swings",),
        does=_to("miss misses missed missing"),
    ),
    Event(
        "fouls",
        "fouled",
        "foul",
        "fouls",
        "fouls, foul tips left out",
        lambda c: _swung("foul"),
        within=("contact",),
        does=_to("foul fouls fouled fouling", "the ball off"),
    ),
    Event(
        "foul_tips",
        "tipped",
        "foul tip",
        "foul tips",
        "foul tips",
        lambda c: _swung("foul tip"),
        within=lambda c: ("contact",) if c.foul_tip == "contact" else ("whiffs",),
    ),
    Event(
        "contact",
        "touched",
        "contact",
        "contact",
        "fouls and balls in play",
        _touched,
        within=("swings",),
        gain=True,
        counted="contacts",
        does=_to("make makes made making", "contact"),
    ),
    Event(
        "in_play",
        "put_in_play",
        "ball in play",
        "balls in play",
        "balls in play, bunts left out",
        lambda c: _swung("in play"),
        within=("contact", "plate_appearances"),
        gain=True,
        does=_to("put puts put putting", "the ball in play"),
    ),
    Event(
        "hard",
        "hit_hard",
        "hard-hit ball",
        "hard-hit balls",
        "balls hit hard",
        _about_contact("judged", HARD),
        within=_judged_contact,
        needs=_HARDNESS,
        gain=True,
        hardness=True,
        unknown="unmeasured",
        does=_to("hit hits hit hitting", "the ball hard"),
    ),
    Event(
        "unmeasured",
        "hardness_unknown",
        "contact of unknown hardness",
        "contact of unknown hardness",
        "contact whose hardness is unknown",
        _about_contact("judged", UNKNOWN),
        within=_judged_contact,
        needs=_HARDNESS,
        hardness=True,
        counted="contacts of unknown hardness",
    ),
    Event(
        "hard_by_eye",
        "judged_by_eye",
        "contact judged by eye",
        "contact judged by eye",
        "contact judged hard or not by eye, without radar",
        _about_contact("by_eye", 1),
        within=_judged_contact,
        needs=(("hard",),),
        hardness=True,
        counted="contacts judged by eye",
    ),
    Event(
        "hard_ticked",
        "ticked_hard",
        "ball called hard by eye",
        "balls called hard by eye",
        "balls called hard by eye, without radar",
        lambda c: _about_contact("judged", HARD)(c) & (nw.col("by_eye") == 1),
        within=("hard", "hard_by_eye"),
        needs=(("hard",),),
        hardness=True,
    ),
    Event(
        "hard_disputed",
        "hardness_disputed",
        "contact of disputed hardness",
        "contact of disputed hardness",
        "contact whose recorded flag contradicts its speed",
        _about_contact("disputed", 1),
        within=_judged_contact,
        needs=(("hard",), ("exit_mph",)),
        hardness=True,
        counted="contacts of disputed hardness",
    ),
    Event(
        "check_swings_went",
        "went",
        "check swing that went",
        "check swings that went",
        "check swings that went",
        lambda c: _swung(*SWING_OUTCOMES) & (nw.col("checked") == 1),
        within=("swings",),
        needs=(("check_swing",),),
    ),
    Event(
        "check_swings_held",
        "held",
        "check swing that was held",
        "check swings that were held",
        "check swings that were held",
        lambda c: _outcome(*TAKE_OUTCOMES) & (nw.col("checked") == 1),
        within=("takes",),
        needs=(("check_swing",),),
    ),
    Event(
        "bunts",
        "bunt_attempt",
        "bunt attempt",
        "bunt attempts",
        "bunt attempts: missed, fouled, in play",
        lambda c: _outcome(*SWING_OUTCOMES) & (nw.col("bunted") == 1),
        within=("pitches",),
        needs=(("bunt",),),
        does=_to("try tries tried trying", "to bunt"),
    ),
)


def _with_two_strikes(event: Event, flag: str, others: Iterable[str]) -> Event:
    """Return the same count with two strikes; it is a part of the count, and of what that is a part of.

    ``others`` are the counts that have such a version.
    """
    there = set(others)

    def within(c: Conventions) -> tuple[str, ...]:
        deep = tuple(f"two_strike_{name}" for name in event.parts_of(c) if name in there)
        return (event.name, *deep)

    return replace(
        event,
        name=f"two_strike_{event.name}",
        flag=flag,
        one=f"{event.one} with two strikes",
        many=f"{event.many} with two strikes",
        counted=event.counted and f"{event.counted} with two strikes",
        meaning=f"{event.many} with two strikes",
        rule=lambda c: event.rule(c) & (nw.col("two_strikes") == 1),
        within=within,
        needs=(*event.needs, *_STRIKES),
        unknown=event.unknown and f"two_strike_{event.unknown}",
    )


_DEEP = {
    "pitches": "deep_pitch",
    "swings": "deep_swing",
    "whiffs": "deep_miss",
    "fouls": "deep_foul",
    "contact": "deep_contact",
    "in_play": "deep_in_play",
    "hard": "deep_hard",
    "unmeasured": "deep_unknown",
}
"""The counts that have a version with two strikes, and the name of its row-by-row column."""

_ENDINGS = (
    Event(
        "plate_appearances",
        "ended",
        "plate appearance",
        "plate appearances",
        "plate appearances with a result",
        lambda c: _result(*RESULTS),
        needs=_RESULT,
        ending=True,
    ),
    Event(
        "at_bats",
        "at_bat",
        "at-bat",
        "at-bats",
        "at-bats",
        lambda c: _result(*AT_BAT_RESULTS),
        within=("plate_appearances",),
        needs=_RESULT,
        ending=True,
    ),
    Event(
        "hits",
        "hit",
        "hit",
        "hits",
        "hits",
        lambda c: _result(*HIT_BASES),
        within=("at_bats",),
        needs=_RESULT,
        ending=True,
        gain=True,
        does=_to("get gets gotten getting", "a hit"),
    ),
    Event(
        "home_runs",
        "homered",
        "home run",
        "home runs",
        "home runs",
        lambda c: _result("home run"),
        within=("hits",),
        needs=_RESULT,
        ending=True,
        gain=True,
        does=_to("hit hits hit hitting", "a home run"),
    ),
    Event(
        "strikeouts",
        "struck_out",
        "strikeout",
        "strikeouts",
        "strikeouts",
        lambda c: _result("strikeout"),
        within=("at_bats",),
        needs=_RESULT,
        ending=True,
        does=_to("strike strikes struck striking", "out"),
    ),
    Event(
        "walks",
        "walked",
        "walk",
        "walks",
        "walks, the intentional ones too",
        lambda c: _result("walk"),
        within=("plate_appearances",),
        needs=_RESULT,
        ending=True,
        gain=True,
        does=_to("walk walks walked walking"),
    ),
    Event(
        "bases",
        "bases_gained",
        "base on hits",
        "bases on hits",
        "bases on hits: 1 to 4 a hit",
        _bases,
        within=("hits",),
        needs=_RESULT,
        ending=True,
        gain=True,
        share=False,
    ),
)

EVENTS: dict[str, Event] = {
    event.name: event
    for event in (
        *_PITCHES,
        *(_with_two_strikes(event, _DEEP[event.name], _DEEP) for event in _PITCHES if event.name in _DEEP),
        *_ENDINGS,
    )
}
"""Every count by name, in the order in which the tally gives them."""


def event_expression(event: Event, conventions: Conventions) -> nw.Expr:
    """Return the event as 1 and 0 (``bases``: 0 to 4), over the facts."""
    rule = event.rule(conventions)
    return nw.when(rule).then(nw.lit(1)).otherwise(nw.lit(0)) if event.share else rule


def every_pitch(conventions: Conventions) -> pd.DataFrame:
    """Return every combination of the facts that the rules look at: what any pitch can be.

    Returns
    -------
    frame
        One row a combination, the columns ``PITCH_FACTS``; only what is judged has a hardness.
    """
    values: dict[str, tuple[Any, ...]] = dict.fromkeys(PITCH_FACTS, (0, 1))
    values["outcome"], values["judged"] = OUTCOMES, tuple(range(UNKNOWN, HARD + 1))
    cells = pd.DataFrame(list(product(*values.values())), columns=list(values))
    told = cells[["judged", "by_eye", "disputed"]].ne(0).any(axis=1)
    return cells[~told | cells["outcome"].isin(conventions.judged_outcomes)].reset_index(drop=True)


@cache
def within(event: str, conventions: Conventions) -> tuple[str, ...]:
    """Return every count that all of an event lies within, nearest first; empty for an unknown name."""
    found: dict[str, None] = {}
    ahead = list(EVENTS[event].parts_of(conventions)) if event in EVENTS else []
    while ahead:
        name = ahead.pop(0)
        if name not in found:
            found[name] = None
            ahead.extend(EVENTS[name].parts_of(conventions))
    return tuple(found)


def fitting_denominators(event: str, conventions: Conventions) -> tuple[str, ...]:
    """Return the denominators of which an event's count is a share, nearest first."""
    return within(event, conventions) if event not in EVENTS or EVENTS[event].share else ()


def refuse_no_share(event: str, per: str, conventions: Conventions) -> None:
    """Refuse a rate whose event does not lie within its denominator, where both are counts of the ledger.

    Raises
    ------
    CountsError
        With the denominators that fit.
    """
    if event == per:
        raise CountsError(f"{event} per {per} is no rate: the two are one")
    if event not in EVENTS or per not in EVENTS:
        return
    fitting = fitting_denominators(event, conventions)
    if per in fitting:
        return
    if not EVENTS[event].share:
        raise CountsError(
            f"{event} per {per} is no rate: {EVENTS[event].meaning}, so it is an average and not a share"
        )
    fits = f"; it has a rate per {', '.join(fitting)}" if fitting else "; nothing that is counted contains it"
    if per in within(event, replace(conventions, hard_fouls=not conventions.hard_fouls)):
        fits += " (hard fouls are counted here, and are not in play)"
    raise CountsError(
        f"{event} per {per} is no rate: not all {event_words(event)} are {event_words(per)}{fits}"
    )


def event_words(event: str) -> str:
    """Return the plural name of an event: ``hard-hit balls``."""
    return EVENTS[event].many if event in EVENTS else event.replace("_", " ")


def per_words(per: str, number: int = 1) -> str:
    """Return the denominator's name for a number of it: ``swing``, ``2 swings``' noun ``swings``."""
    if per in EVENTS:
        return EVENTS[per].one if number == 1 else EVENTS[per].counted or EVENTS[per].many
    if number != 1:
        return event_words(per)
    # A count in a situation is called by its words and the situation's: "swings on the first pitch".
    base, inside = base_of(per)
    return EVENTS[base].one + inside if base in EVENTS else per.replace("_", " ").removesuffix("s")


def rate_words(event: str, per: str) -> str:
    """Return the rate's name: ``hard-hit balls per swing``."""
    return f"{event_words(event)} per {per_words(per)}"


def base_of(name: str) -> tuple[str, str]:
    """Return the count of the ledger that a count is made from, and what restricts it, as words behind it.

    Examples
    --------
    >>> base_of("two_strike_whiffs"), base_of("swings on the first pitch"), base_of("hits")
    (('whiffs', ' with two strikes'), ('swings', ' on the first pitch'), ('hits', ''))
    """
    if name in EVENTS:
        base = name.removeprefix("two_strike_")
        return base, " with two strikes" if base != name else ""
    of = [event for event in EVENTS.values() if name.startswith(f"{event.many} ")]
    base_event = max(of, key=lambda event: len(event.many), default=None)
    return (base_event.name, name.removeprefix(base_event.many)) if base_event else (name, "")


def is_gain(event: str) -> bool:
    """Say whether more of an event is better for the hitter."""
    return event in EVENTS and EVENTS[event].gain
