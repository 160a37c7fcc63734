"""A situation in a few words: ``pitch_kind=breaking``, ``strikes=2``, ``first pitch``, ``up and in``.

On the command line and in lessons a situation is text; in Python a narwhals expression does the same.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from functools import reduce
from operator import and_, or_

import narwhals as nw

from hitlab.counting.days import day_of
from hitlab.counting.places import PLACES, place_expression
from hitlab.errors import ClaimError
from hitlab.pitches.schema import BASES, COLUMNS, FAMILIES, Column
from hitlab.wording import listed

__all__ = ["NAMED", "Situation", "situation"]

_TERM = re.compile(r"^\s*([A-Za-z_]\w*)\s*(>=|<=|=)\s*(.+?)\s*$")
# How a column's term reads in a sentence; the others read "with its name and value".
_SAID = {
    "pitch_kind": "against {}",
    "pitcher_hand": "against {}-handed pitchers",
    "hitter_side": "hitting {}-handed",
    "strikes": "with {} strikes",
    "balls": "with {} balls",
    "outs": "with {} outs",
    "half": "in the {} half",
    "inning": "in inning {}",
    "club": "for {}",
    "pitcher": "against {}",
    "speed_mph": "against pitches of {} mph",
    "exit_mph": "on contact of {} mph",
}
_BASES = {"empty": "with the bases empty", "full": "with the bases full"}
_COUNTED = ("strikes", "balls", "outs")
_NUMERALS = ("no", "one", "two", "three")
_PLURAL = {
    "fastball": "fastballs",
    "breaking": "breaking balls",
    "offspeed": "offspeed pitches",
    "curveball": "curveballs",
    "other": "other pitches",
}
_STATES = {
    "runners on": ("with runners on", [state for state in BASES if state != "empty"]),
    "runner on second or third": (
        "with a runner on second or third",
        ["second", "third", "first second", "first third", "second third", "full"],
    ),
}
"""Several states of the bases that have a name together, how that follows a rate, and which they are."""
_BIG = 1e9  # both bounds are asked for: NaN is larger than any number on some engines


Rule = Callable[[frozenset[str]], nw.Expr]


@dataclass(frozen=True, slots=True)
class Situation:
    """Part of the pitches.

    Attributes
    ----------
    rule
        From the names of a table's columns to the expression that is true for the pitches in it.
    words
        How it follows a rate in a sentence: ``against sliders or curveballs``.
    columns
        The pitch table's columns that it asks for; ``previous_whiff`` stands for those that tell what came
        before (``hitlab.approach.with_previous`` adds it).
    terms
        What it was asked by; empty where it was made from an expression.
    """

    rule: Rule
    words: str
    columns: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()

    def on(self, columns: Collection[str]) -> nw.Expr:
        """Return the expression for a table with these columns."""
        return self.rule(frozenset(columns))


def _fixed(expression: nw.Expr) -> Rule:
    return lambda _: expression


def _count(expression: nw.Expr, words: str) -> Situation:
    return Situation(_fixed(expression), words, ("balls", "strikes"))


def _at(place: str, asked: tuple[str, ...]) -> Situation:
    return Situation(lambda columns: place_expression(place, columns), f"on pitches {place}", asked)


_BALLS, _STRIKES = nw.col("balls"), nw.col("strikes")
_SIDE, _HAND = nw.col("hitter_side"), nw.col("pitcher_hand")
_BEFORE = nw.col("previous_whiff") == True  # noqa: E712  (an expression, not a test)

NAMED: dict[str, Situation] = {
    "first pitch": _count((_BALLS == 0) & (_STRIKES == 0), "on the first pitch"),
    "ahead in the count": _count(_BALLS > _STRIKES, "ahead in the count"),
    "behind in the count": _count(_BALLS < _STRIKES, "behind in the count"),
    "full count": _count((_BALLS == 3) & (_STRIKES == 2), "with a full count"),
    "own side": Situation(
        _fixed(_SIDE == _HAND), "against pitchers of the hitter's own side", ("hitter_side", "pitcher_hand")
    ),
    "other side": Situation(
        _fixed(_SIDE != _HAND), "against pitchers of the other side", ("hitter_side", "pitcher_hand")
    ),
    **{
        name: Situation(_fixed(nw.col("bases").is_in(states)), words, ("bases",))
        for name, (words, states) in _STATES.items()
    },
    "after a whiff": Situation(_fixed(_BEFORE), "after a whiff", ("previous_whiff",)),
    **{place: _at(place, asked) for place, (_, asked) in PLACES.items()},
    **{place: _at(place, ("inside_in", "height_in")) for place in ("in the zone", "outside the zone")},
}
"""Situations that have a name of their own; ``situation("first pitch")`` finds them."""


def situation(*terms: str) -> Situation:
    """Turn terms such as ``pitch_kind=slider`` into a situation; several terms all have to be true.

    Parameters
    ----------
    terms
        ``column=value``, ``column>=number`` or ``column<=number``; alternatives are separated by commas
        (``pitch_kind=slider,curveball``). ``date`` takes a day: ``date>=2031-05-15``. A family
        (``fastball``, ``breaking``, ``offspeed``) stands for its kinds. Or a name: ``first pitch``, ``ahead
        in the count``, ``up and in``, ``in the zone`` and the others of ``NAMED``.

    Returns
    -------
    Situation
        Its ``words`` follow a rate in a sentence, its ``terms`` ask for it again; ``tally(where=)`` and the
        functions of splits and claims take it.

    Raises
    ------
    ClaimError
        Where a term is not of this form, column or value is not the pitch table's, no pitch can have the
        number, or a column is asked to be two things at once.

    Examples
    --------
    >>> situation("pitch_kind=breaking", "strikes=2").words
    'against breaking balls and with two strikes'
    >>> situation("first pitch").words
    'on the first pitch'
    """
    if not terms:
        raise ClaimError("a situation needs at least one term, such as pitch_kind=breaking")
    parts = [_one(term) for term in terms]
    chosen = [part.columns[0] for part, term in zip(parts, terms, strict=True) if _equal(term)]
    twice = next((name for name in chosen if chosen.count(name) > 1), None)
    if twice is not None:
        values = ",".join(
            t.split("=", 1)[1].strip() for t in terms if _equal(t) and t.strip().startswith(twice)
        )
        raise ClaimError(
            f"{twice} cannot be two things on one pitch; for one or the other write {twice}={values}"
        )
    if len(parts) == 1:
        return parts[0]
    return Situation(
        lambda columns: reduce(and_, (part.on(columns) for part in parts)),
        _joined([part.words for part in parts]),
        tuple(dict.fromkeys(column for part in parts for column in part.columns)),
        tuple(terms),
    )


def _equal(term: str) -> bool:
    found = _TERM.match(term)
    return found is not None and found[2] == "="


def _one(term: str) -> Situation:
    """Return the situation of one term."""
    plain = " ".join(term.casefold().split())
    for name, known in NAMED.items():
        if plain in (name, known.words):
            return Situation(known.rule, known.words, known.columns, (name,))
    expression, words, column = _term(term)
    return Situation(_fixed(expression), words, (column,), (term.strip(),))


def _term(term: str) -> tuple[nw.Expr, str, str]:
    match = _TERM.match(term)
    if not match:
        raise ClaimError(
            f"{term!r} is not a situation; write column=value, such as pitch_kind=breaking or strikes=2, or "
            f"one of: {', '.join(NAMED)}"
        )
    name, sign, text = match.groups()
    if name not in COLUMNS:
        from rapidfuzz import process

        near = process.extractOne(name, list(COLUMNS), score_cutoff=60)
        offer = f"; did you mean {near[0]}?" if near else f"; the columns are: {', '.join(COLUMNS)}"
        raise ClaimError(f"{term!r}: the pitch table has no column {name!r}{offer}")
    column = COLUMNS[name]
    noun = name.replace("_", " ")
    values = [value.strip() for value in text.split(",")]
    if column.kind in ("whole", "number"):
        numbers = [_number(term, value) for value in values]
        for number in numbers:
            _refuse_nowhere(term, column, sign, number)
        if sign == "=":
            tests = [nw.col(name) == number for number in numbers]
            return reduce(or_, tests), _words(name, " or ".join(_numeral(name, n) for n in numbers)), name
        if len(numbers) > 1:
            raise ClaimError(f"{term!r}: give one number after {sign}")
        bound = numbers[0]
        if sign == ">=":
            return (
                (nw.col(name) >= bound) & (nw.col(name) <= _BIG),
                _words(name, f"{_numeral(name, bound)} or more"),
                name,
            )
        return (
            (nw.col(name) <= bound) & (nw.col(name) >= -_BIG),
            _words(name, f"{_numeral(name, bound)} or {_fewer(name)}"),
            name,
        )
    if column.kind == "date":
        return _days(term, sign, values)
    if sign != "=":
        raise ClaimError(f"{term!r}: {name} holds words, so only = works with it")
    if column.kind == "flag":
        flags = {"true": True, "yes": True, "false": False, "no": False}
        if len(values) != 1 or values[0].casefold() not in flags:
            raise ClaimError(f"{term!r}: {name} is true or false")
        wanted = flags[values[0].casefold()]
        return nw.col(name) == wanted, f"where {noun} is {str(wanted).lower()}", name
    if column.kind == "word":
        accepted = dict.fromkeys((*column.words, *(FAMILIES if name == "pitch_kind" else ())))
        for value in values:
            if value not in accepted:
                raise ClaimError(f"{term!r}: {value!r} is not a {noun}; accepted are: {', '.join(accepted)}")
    said = " or ".join(values)
    if name == "pitch_kind":
        said = " or ".join(_PLURAL.get(value, f"{value}s") for value in values)
        values = [kind for value in values for kind in FAMILIES.get(value, (value,))]
    return nw.col(name).is_in(values), _words(name, said), name


def _joined(said: list[str]) -> str:
    """Join what several terms say; what is had together, such as balls and strikes, needs one "with"."""
    choices = [words for words in said if " or with " in words]
    single = [words for words in said if words not in choices]
    had = [words.removeprefix("with ") for words in single if words.startswith("with ")]
    others = [words for words in single if not words.startswith("with ")]
    parts = [*others, f"with {listed(had)}"] if had else others
    # What is one thing or another stands last, so that nobody takes the rest for a part of the second.
    return ", and ".join([listed(parts), *choices] if parts else choices)


def _days(term: str, sign: str, values: list[str]) -> tuple[nw.Expr, str, str]:
    days = [day_of(value) for value in values]
    said = [f"{day:%Y-%m-%d}" for day in days]
    if sign == "=":
        return reduce(or_, [nw.col("date") == day for day in days]), f"on {' or '.join(said)}", "date"
    if len(days) > 1:
        raise ClaimError(f"{term!r}: give one day after {sign}")
    if sign == ">=":
        return nw.col("date") >= days[0], f"from {said[0]} on", "date"
    return nw.col("date") <= days[0], f"up to {said[0]}", "date"


def _words(name: str, said: str) -> str:
    if name == "bases":
        bases = said.split(" or ")
        several = next((words for words, states in _STATES.values() if set(states) == set(bases)), "")
        if several:
            return several
        return " or ".join(
            _BASES.get(base, f"with a runner on {base}" if " " not in base else _runners(base))
            for base in bases
        )
    words = _SAID.get(name, f"with {name.replace('_', ' ')} {{}}").format(said)
    if name in _COUNTED and said == "one":
        return words.removesuffix("s")
    return words


def _runners(bases: str) -> str:
    return f"with runners on {' and '.join(bases.split())}"


def _numeral(name: str, number: float) -> str:
    """Spell out a count of balls, strikes or outs; leave speeds and places in figures."""
    if name in _COUNTED and number in range(len(_NUMERALS)):
        return _NUMERALS[int(number)]
    return f"{number:g}"


def _fewer(name: str) -> str:
    return "fewer" if name in _COUNTED else "less"


def _number(term: str, value: str) -> float:
    try:
        return float(value)
    except ValueError as error:
        raise ClaimError(f"{term!r}: {value!r} is not a number") from error


def _refuse_nowhere(term: str, column: Column, sign: str, number: float) -> None:
    """Refuse a number that no pitch can have: it would count nothing, and nobody would see why."""
    low = -_BIG if column.lowest is None else column.lowest
    high = _BIG if column.highest is None else column.highest
    some = low <= number <= high if sign == "=" else number <= high if sign == ">=" else number >= low
    if not some or (sign == "=" and column.kind == "whole" and number % 1):
        raise ClaimError(f"{term!r}: {column.name} is {column.accepted}")
