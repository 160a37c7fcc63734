"""Numbers, chances and days as somebody says them aloud: "one in five", "about three chances in four".

Rates are read as people say them, too: ``0.2``, ``.200``, ``20%``, ``1/5``, ``one in five``, ``a fifth``; and
ranges of them: ``8% to 18%``, ``between 8 and 18 %``.
"""

from __future__ import annotations

import calendar
import re
from datetime import datetime
from fractions import Fraction
from numbers import Real
from typing import Any

from hitlab.errors import ClaimError

__all__ = [
    "ONES",
    "ORDINALS",
    "TENS",
    "chance_spoken",
    "day_spoken",
    "number_spoken",
    "range_of",
    "share_about",
    "share_of",
    "share_said",
    "share_spoken",
]

# fmt: off
ONES = (
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)
"""From one on."""
TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
"""From twenty on."""
_NUMBERS = ("no", *ONES, TENS[0])
ORDINALS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
    "twelfth", "thirteenth", "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth",
    "nineteenth", "twentieth",
)
"""From the first on."""
# fmt: on

_CHANCES = tuple(
    Fraction(*pair)
    for pair in (
        (1, 20), (1, 10), (1, 8), (1, 7), (1, 6), (1, 5), (1, 4), (3, 10), (1, 3), (2, 5), (1, 2),
        (3, 5), (2, 3), (7, 10), (3, 4), (4, 5), (5, 6), (6, 7), (7, 8), (9, 10), (19, 20),
    )
)  # fmt: skip
"""The chances that are said; outside of them, and near their ends where none is near, parts of a hundred."""
_FAR_OFF = 0.015  # from a chance that is nearly none or nearly sure

_WORTH = {word: place for place, word in enumerate(("zero", *ONES))}
_WORTH |= {word: 10 * place for place, word in enumerate(TENS, start=2)}
_WORTH |= {"a": 1, "an": 1, "hundred": 100}
_PARTS = {word: place for place, word in enumerate(ORDINALS, start=1) if place > 2}
_PARTS |= {"half": 2, "halves": 2, "quarter": 4, "hundredth": 100}

_MOST_PARTS = 10  # "one in twelve" is rarely said; past ten parts it is per cent
_SURE, _NEVER = 0.99, 0.01


def number_spoken(number: int) -> str:
    """Return a whole number in a word up to twenty, and in figures beyond.

    Examples
    --------
    >>> number_spoken(5), number_spoken(103)
    ('five', '103')
    """
    return _NUMBERS[number] if 0 <= number <= 20 else f"{number:,}"


def share_spoken(share: float) -> str:
    """Return a share as it is said: a simple fraction where it is exactly one, else per cent.

    Parameters
    ----------
    share
        From 0 to 1.

    Examples
    --------
    >>> share_spoken(0.2), share_spoken(0.16), share_spoken(0.125), share_spoken(0.5)
    ('one in five', '16 percent', 'one in eight', 'half')
    >>> share_spoken(0.36983)
    'about 37 percent'
    """
    near = Fraction(share).limit_denominator(_MOST_PARTS)
    if 0 < near < 1 and abs(float(near) - share) < 1e-9:
        return _fraction(near)
    said = f"{100 * share:.3g} percent"
    return said if abs(float(said.split()[0]) / 100 - share) < 1e-9 else f"about {said}"


def share_about(share: float) -> str:
    """Return a measured share in a fraction that is near it: ``about one in five``.

    Parameters
    ----------
    share
        From 0 to 1. The fraction said has at most ten parts, or is one in so many.

    Examples
    --------
    >>> share_about(0.197), share_about(0.244), share_about(0.03), share_about(0.0)
    ('about one in five', 'about one in four', 'about one in 33', 'none')
    """
    if share <= 0 or share >= 1:
        return "none" if share <= 0 else "all"
    near = Fraction(share).limit_denominator(_MOST_PARTS)
    if near == 0:
        return f"about one in {round(1 / share):,}"
    return "nearly all" if near == 1 else f"about {_fraction(near)}"


_SIMPLE = (
    *(Fraction(1, parts) for parts in (10, 8, 6, 5, 4)),
    *(Fraction(3, 10), Fraction(1, 3), Fraction(2, 5), Fraction(1, 2), Fraction(3, 5), Fraction(2, 3)),
    *(Fraction(7, 10), Fraction(3, 4), Fraction(4, 5), Fraction(9, 10)),
)
"""Shares that everybody can picture; outside of them the share is said as it is."""


def share_said(share: float) -> str:
    """Return a share that everybody can picture: ``about one in five``; the nearest simple one.

    Examples
    --------
    >>> share_said(0.197), share_said(0.445), share_said(0.04), share_said(0.97)
    ('about one in five', 'about two in five', 'about one in 25', 'nearly all')
    """
    if _SIMPLE[0] <= share <= _SIMPLE[-1]:
        share = float(min(_SIMPLE, key=lambda one: abs(float(one) - share)))
    return share_about(share)


def _fraction(part: Fraction) -> str:
    if part == Fraction(1, 2):
        return "half"
    return f"{number_spoken(part.numerator)} in {number_spoken(part.denominator)}"


def chance_spoken(chance: float, holds_at: float, fails_at: float) -> str:
    """Return a chance as it is said; never as certainty, and never on the other side of a verdict's bound.

    Parameters
    ----------
    chance
        From 0 to 1.
    holds_at, fails_at
        The bounds of the verdict: what is said agrees with it.

    Examples
    --------
    >>> chance_spoken(0.26, 0.9, 0.1), chance_spoken(0.97, 0.9, 0.1), chance_spoken(0.895, 0.9, 0.1)
    ('about one chance in four', 'about 97 chances in a hundred', 'just under nine chances in ten')
    >>> chance_spoken(0.07, 0.9, 0.1), chance_spoken(0.05, 0.9, 0.1)
    ('about seven chances in a hundred', 'about one chance in twenty')
    """
    if chance > _SURE:
        return "more than 99 chances in a hundred"
    if chance < _NEVER:
        return "less than one chance in a hundred"
    near = min(_CHANCES, key=lambda one: abs(float(one) - chance))
    # Seven in a hundred is far from one in twenty and from one in ten: small chances are told by their ratio.
    between = _CHANCES[0] <= round(chance, 2) <= _CHANCES[-1]
    simple = _SIMPLE[0] <= chance <= _SIMPLE[-1]
    if not between or (not simple and abs(float(near) - chance) > _FAR_OFF):
        near = Fraction(round(100 * chance), 100)
    said = float(near)
    sides = [(holds_at, chance >= holds_at, said >= holds_at), (fails_at, chance > fails_at, said > fails_at)]
    if all(truly == told for _, truly, told in sides):
        return "about an even chance" if near == Fraction(1, 2) else f"about {_chances(near)}"
    # What is nearest would be read as another verdict: the bound itself is said, and the side of it.
    bound = next(bound for bound, truly, told in sides if truly != told)
    side = "just under" if chance < bound else "just over" if chance > bound else "exactly"
    return f"{side} {_chances(Fraction(bound).limit_denominator(100))}"


def _chances(part: Fraction) -> str:
    many, parts = part.numerator, part.denominator
    if parts > 20:  # twenty-fifths and fiftieths are said as hundredths
        many, parts = many * 100 // parts, 100
    of = "a hundred" if parts == 100 else number_spoken(parts)
    return f"{number_spoken(many)} chance{'' if many == 1 else 's'} in {of}"


def day_spoken(day: datetime) -> str:
    """Return a day as it is said, without its year: ``May the fifteenth``.

    Examples
    --------
    >>> day_spoken(datetime(2031, 5, 15)), day_spoken(datetime(2031, 5, 31))
    ('May the fifteenth', 'May the thirty-first')
    """
    number = day.day
    if number <= 20:
        said = ORDINALS[number - 1]
    else:
        tens = "twent" if number < 30 else "thirt"
        said = f"{tens}ieth" if number % 10 == 0 else f"{tens}y-{ORDINALS[number % 10 - 1]}"
    return f"{calendar.month_name[day.month]} the {said}"


def share_of(value: Any) -> float:
    """Read a rate.

    Parameters
    ----------
    value
        A number between 0 and 1, or a text: ``0.2``, ``.200``, ``20%``, ``20 percent``, ``1/5``, ``one in
        five``, ``two fifths``, ``a quarter``, ``half``.

    Raises
    ------
    ClaimError
        Where it is no rate between 0 and 1.

    Examples
    --------
    >>> [share_of(text) for text in ("20%", "1/5", "one in five", "two fifths", "half")]
    [0.2, 0.2, 0.2, 0.4, 0.5]
    """
    found: float | None = None
    number = isinstance(value, Real) and not isinstance(value, bool)
    if number:
        found = float(value)
    elif isinstance(value, str):
        found = _of_text(" ".join(value.casefold().replace("-", " ").split()))
    if found is None or not 0 < found < 1:
        shown = f"{value:g}" if number else repr(value)
        raise ClaimError(
            f"value={shown}: give a rate between 0 and 1; 16 % is 0.16, and 20%, 1/5 and one in five are "
            "understood, too"
        )
    return found


def range_of(text: str) -> tuple[float, float]:
    """Read a range of rates.

    Parameters
    ----------
    text
        ``8% to 18%``, ``between 8 and 18 percent``, ``.08-.18``, ``from one in twelve to one in five``: what
        stands behind the second number is meant of the first, too, where that has nothing of the kind.

    Raises
    ------
    ClaimError
        Where it is no range of rates between 0 and 1, the lower one first.

    Examples
    --------
    >>> range_of("between 8 and 18 %"), range_of("1/12 to 1/5") == (1 / 12, 1 / 5)
    ((0.08, 0.18), True)
    """
    plain = " ".join(str(text).casefold().split())
    inner = re.sub(r"^(?:between|from) | of (?:the |all )?(?:swings|pitches|balls in play|takes)$", "", plain)
    for mark in (" to ", " and ", "\u2013", "-"):
        first, there, second = inner.partition(mark)
        if not there:
            continue
        percent = re.search(r"(%|percent|per cent)$", second)
        if percent and _number(first.strip()) is not None:
            first += percent[1]
        try:
            low, high = share_of(first.strip()), share_of(second.strip())
        except ClaimError:
            continue
        if low < high:
            return low, high
        if low == high:
            continue
        raise ClaimError(f"{text!r}: the lower rate comes first; give {second.strip()} to {first.strip()}")
    raise ClaimError(f"{text!r} is no range of rates; give two between 0 and 1, such as 8% to 18%")


def _of_text(text: str) -> float | None:
    number = _number(text)
    if number is not None:
        return number
    if told := re.fullmatch(r"(.+?) ?(?:%|percent|per cent)", text):
        number = _number(told[1])
        return None if number is None else number / 100
    if told := re.fullmatch(r"(.+?)(?: ?/ ?| (?:in|out of|of) )(.+)", text):
        top, below = _number(told[1]), _number(told[2])
        return None if top is None or not below else top / below
    *count, part = text.split() or [""]
    below_one = _PARTS.get(part, _PARTS.get(part.removesuffix("s")))
    many = _number(" ".join(count)) if count else 1.0
    return None if below_one is None or many is None else many / below_one


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        words = text.replace("-", " ").split()
        if not words or any(word not in _WORTH for word in words):
            return None
        return float(sum(_WORTH[word] for word in words))
