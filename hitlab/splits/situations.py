"""A situation in a few words: ``pitch_kind=breaking``, ``strikes=2``, ``speed_mph>=95``.

On the command line and in lessons a situation is text; in Python a narwhals expression does the same.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import reduce
from operator import and_, or_
from typing import TYPE_CHECKING

import narwhals as nw

from hitlab.errors import ClaimError
from hitlab.pitches.schema import COLUMNS, FAMILIES
from hitlab.wording import listed

if TYPE_CHECKING:
    from hitlab.approach.readiness import Borders

__all__ = ["Situation", "day_of", "situation", "usual_situations"]

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
_SPLIT_KINDS = ("four-seam fastball", "sinker", "cutter", "slider", "curveball", "changeup", "splitter")
_RUNNER_IN_SCORING = ("second", "third", "first second", "first third", "second third", "full")
_BIG = 1e9  # both bounds are asked for: NaN is larger than any number on some engines


@dataclass(frozen=True, slots=True)
class Situation:
    """Part of the pitches.

    Attributes
    ----------
    expression
        True for the pitches in it; for ``tally(where=...)``.
    words
        How it follows a rate in a sentence: ``against sliders or curveballs``.
    columns
        The pitch table's columns that it asks for.
    """

    expression: nw.Expr
    words: str
    columns: tuple[str, ...]


def situation(*terms: str) -> Situation:
    """Turn terms such as ``pitch_kind=slider`` into a situation; several terms all have to be true.

    Parameters
    ----------
    terms
        ``column=value``, ``column>=number`` or ``column<=number``; alternatives are separated by commas
        (``pitch_kind=slider,curveball``). ``date`` takes a day: ``date>=2031-05-15``. A family
        (``fastball``, ``breaking``, ``offspeed``) stands for its kinds.

    Raises
    ------
    ClaimError
        Where a term is not of this form, or column or value is not the pitch table's.

    Examples
    --------
    >>> situation("pitch_kind=breaking", "strikes=2").words
    'against breaking balls and with two strikes'
    """
    if not terms:
        raise ClaimError("a situation needs at least one term, such as pitch_kind=breaking")
    parts = [_term(term) for term in terms]
    return Situation(
        reduce(and_, (expression for expression, _, _ in parts)),
        _together([words for _, words, _ in parts]),
        tuple(column for _, _, column in parts),
    )


def usual_situations(columns: Iterable[str], borders: Borders | None = None) -> list[Situation]:
    """List the situations that a hitter's splits are usually asked for, as far as the columns tell them.

    Up to 30: kinds of pitch (3 families, 7 kinds), place (9), side against hand (2), count (5), bases (2),
    speed (1), and after a whiff.

    Parameters
    ----------
    columns
        Names of the pitch table's columns; ``previous_whiff`` stands for those that tell what came before.
    borders
        Where "up", "down", "in", "away" and "over the middle" end, as for ``fastball_readiness``.
    """
    from hitlab.approach.readiness import Borders  # with the fitting behind it: not needed to read a term

    there, b = set(columns), borders or Borders()
    found = [
        *(f"pitch_kind={kind}" for kind in (*FAMILIES, *_SPLIT_KINDS)),
        "strikes=2",
        "bases=empty",
        "speed_mph>=95",
    ]
    usual = [situation(term) for term in found]
    side, hand = nw.col("hitter_side"), nw.col("pitcher_hand")
    hands = ("hitter_side", "pitcher_hand")
    balls, strikes = nw.col("balls"), nw.col("strikes")
    count = ("balls", "strikes")
    usual += [
        Situation(side == hand, "against pitchers of his own side", hands),
        Situation(side != hand, "against pitchers of the other side", hands),
        Situation((balls == 0) & (strikes == 0), "on the first pitch", count),
        Situation(balls > strikes, "ahead in the count", count),
        Situation(balls < strikes, "behind in the count", count),
        Situation((balls == 3) & (strikes == 2), "with a full count", count),
        Situation(nw.col("bases").is_in(_RUNNER_IN_SCORING), "with a runner on second or third", ("bases",)),
        Situation(nw.col("previous_whiff") == True, "after a whiff", ("previous_whiff",)),  # noqa: E712
    ]
    for words, (expression, asked) in _places(there, b).items():
        usual.append(Situation(expression, f"on pitches {words}", asked))
    return [one for one in usual if there.issuperset(one.columns)]


def _places(there: set[str], b: Borders) -> dict[str, tuple[nw.Expr, tuple[str, ...]]]:
    """Return the parts of the zone by name; ranges have both ends, for a missing value is in none."""
    x, y = nw.col("inside_in"), nw.col("height_in")
    own = {"zone_bottom_in", "zone_top_in"} <= there
    # The hitter's own zone where he has one on this row, else that of a hitter of common size.
    bottom = nw.col("zone_bottom_in").fill_null(b.bottom_in) if own else nw.lit(b.bottom_in)
    top = nw.col("zone_top_in").fill_null(b.top_in) if own else nw.lit(b.top_in)
    share = (y - bottom) / (top - bottom)
    up, down = (share >= b.up_from) & (share <= _BIG), (share <= 1 - b.up_from) & (share >= -_BIG)
    inner, outer = (x >= b.in_from_in) & (x <= _BIG), (x <= -b.in_from_in) & (x >= -_BIG)
    across = (x >= -b.middle_half_width_in) & (x <= b.middle_half_width_in)
    middle = across & (share >= b.middle_low) & (share <= b.middle_high)
    height = ("height_in", *(("zone_bottom_in", "zone_top_in") if own else ()))
    both = ("inside_in", *height)
    return {
        "up": (up, height),
        "down": (down, height),
        "inside": (inner, ("inside_in",)),
        "away": (outer, ("inside_in",)),
        "up and in": (up & inner, both),
        "up and away": (up & outer, both),
        "down and in": (down & inner, both),
        "down and away": (down & outer, both),
        "over the middle": (middle, both),
    }


def _term(term: str) -> tuple[nw.Expr, str, str]:
    match = _TERM.match(term)
    if not match:
        raise ClaimError(
            f"{term!r} is not a situation; write column=value, such as pitch_kind=breaking or strikes=2"
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
        accepted = (*column.words, *FAMILIES) if name == "pitch_kind" else column.words
        for value in values:
            if value not in accepted:
                raise ClaimError(f"{term!r}: {value!r} is not a {noun}; accepted are: {', '.join(accepted)}")
    said = " or ".join(values)
    if name == "pitch_kind":
        said = " or ".join(_PLURAL.get(value, f"{value}s") for value in values)
        values = [kind for value in values for kind in FAMILIES.get(value, (value,))]
    return nw.col(name).is_in(values), _words(name, said), name


def _together(said: list[str]) -> str:
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


def day_of(text: str) -> datetime:
    """Read a day.

    Raises
    ------
    ClaimError
        Where it is none.
    """
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise ClaimError(f"{text!r} is not a day; write it as year-month-day, such as 2031-05-01") from error


def _words(name: str, said: str) -> str:
    if name == "bases":
        bases = said.split(" or ")
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
