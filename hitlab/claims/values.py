"""Rates as people say them: ``0.2``, ``.200``, ``20%``, ``1/5``, ``one in five``, ``a fifth``.

And ranges of them: ``8% to 18%``, ``between 8 and 18 %``.
"""

from __future__ import annotations

import re
from dataclasses import astuple
from typing import Any

import numpy as np

from hitlab.errors import ClaimError
from hitlab.estimates.league_law import AS_SURE_AS, LeagueLaw
from hitlab.spoken import ONES, ORDINALS, TENS

__all__ = ["range_of", "share_of", "stated_range", "what_is_usual"]

_NUMBERS = {word: place for place, word in enumerate(("zero", *ONES))}
_NUMBERS |= {word: 10 * place for place, word in enumerate(TENS, start=2)}
_NUMBERS |= {"a": 1, "an": 1, "hundred": 100}
_PARTS = {word: place for place, word in enumerate(ORDINALS, start=1) if place > 2}
_PARTS |= {"half": 2, "halves": 2, "quarter": 4, "hundredth": 100}


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
    number = isinstance(value, int | float | np.integer | np.floating) and not isinstance(value, bool)
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
        raise ClaimError(f"{text!r}: the lower rate comes first; give {second.strip()} to {first.strip()}")
    raise ClaimError(f"{text!r} is no range of rates; give two between 0 and 1, such as 8% to 18%")


def stated_range(text: str, *, rates: int | None = AS_SURE_AS) -> LeagueLaw:
    """Return the law that somebody states by a range in which most hitters lie.

    Parameters
    ----------
    text
        As :func:`range_of` takes it.
    rates
        As sure as so many hitters' true rates would make it.

    Raises
    ------
    ClaimError, CountsError
        Where it is no range, or one that leaves everything usual.

    Examples
    --------
    >>> stated_range("between 8 and 18 % of swings").words
    'a mean of .126 and a spread of .031, as sure as 12 true rates make it'
    """
    return LeagueLaw.between(*range_of(text), rates=rates)


def what_is_usual(prior: Any) -> tuple[float, float, int | None, str, bool]:
    """Return a law, a range in words, or what a law is made of, as a question keeps it.

    Parameters
    ----------
    prior
        A :class:`~hitlab.estimates.LeagueLaw`, a text for :func:`stated_range`, or a law's plain values.

    Raises
    ------
    ClaimError, CountsError
        Where it is none of these.
    """
    law = LeagueLaw(*prior) if isinstance(prior, tuple | list) else prior
    law = stated_range(law) if isinstance(law, str) else law
    if not isinstance(law, LeagueLaw):
        raise ClaimError(
            f"prior is a {type(prior).__name__}; give the .law of a fit, LeagueLaw(mean=..., spread=...), or "
            "a range such as '8% to 18%'"
        )
    return astuple(law)


def _of_text(text: str) -> float | None:
    number = _number(text)
    if number is not None:
        return number
    if told := re.fullmatch(r"(.+?) ?(?:%|percent|per cent)", text):
        number = _number(told[1])
        return None if number is None else number / 100
    if told := re.fullmatch(r"(.+?) ?(?:/|in|out of|of) ?(.+)", text):
        top, below = _number(told[1]), _number(told[2])
        return None if top is None or not below else top / below
    *count, part = text.split()
    below_one = _PARTS.get(part, _PARTS.get(part.removesuffix("s")))
    many = _number(" ".join(count)) if count else 1.0
    return None if below_one is None or many is None else many / below_one


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        words = text.split()
        if not words or any(word not in _NUMBERS for word in words):
            return None
        return float(sum(_NUMBERS[word] for word in words))
