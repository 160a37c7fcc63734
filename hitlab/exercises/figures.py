"""The numbers of a sentence, in figures or in words, and which of them nobody showed.

Read are whole numbers, per cents, rates (``.197``, ``0.197``) and shares in words ("nine in ten", "half").
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from hitlab.exercises.patterns import as_read
from hitlab.spoken import ONES, TENS

__all__ = ["not_shown"]

_NEAR_SHARE, _LEAST_NEAR = (
    0.15,
    0.021,
)  # by which "one in three" may differ: of the smaller side, and at least
_MOST_PARTS = 10  # beyond it "so many of so many" is a record, whose numbers have to be those that were shown
_NEAR_RATE, _NEAR_PER_CENT = 0.0051, 0.0051  # of a rate of two decimals, and of a whole per cent
_FREE = (1, 2)  # "one of them", "both, two of them": no figures

_WORDS = {
    "no": 0,
    "zero": 0,
    "a dozen": 12,
    "dozen": 12,
    "a hundred": 100,
    "hundred": 100,
    "once": 1,
    "twice": 2,
}
_WORDS |= {word: number for number, word in enumerate(ONES, 1)}
_WORDS |= {
    tens + sign + ones: 10 * (at + 2) + one
    for at, tens in enumerate(TENS)
    for sign in ("-", " ")
    for one, ones in enumerate(ONES[:9], 1)
}
_WORDS |= {tens: 10 * (at + 2) for at, tens in enumerate(TENS)}
_PARTS = {"half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4, "fifth": 1 / 5, "tenth": 1 / 10}

_WHOLE = r"\d{1,3}(?:,\d{3})+|\d+"
_SPELLED = "|".join(sorted((word for word in _WORDS if word != "no"), key=len, reverse=True))
_NUMBER = rf"(?<![\w.,])(?:{_WHOLE}|{_SPELLED})(?![\w]|[.,]\d)"
_SHARE = re.compile(
    rf"({_NUMBER})(?: |-)(?:\w+ )?(?:in|of|out of|for|from|to)(?: |-)(?:every |her |his |the |their |those )?"
    rf"(?:first |last )?({_NUMBER})(?! ?%| per ?cent)"
)
_PER_CENT = re.compile(rf"((?<![\w,])\d+(?:[.,]\d+)?|{_NUMBER})(?: ?%| per ?cent\b)")
_DECIMAL = re.compile(r"(?<![\w.,])(\d*\.\d+)(?!\w)")
_FRACTION = re.compile(
    rf"\b(?:(a|one|two|three|four) )?({'|'.join(_PARTS)})s?\b(?! (?:place|time|hitter|inning|base|pitch))"
)
_ALONE = re.compile(_NUMBER)


def not_shown(text: str, figures: tuple[float, ...]) -> str:
    """Return the first number of a sentence that was not shown; empty where all were.

    Parameters
    ----------
    text
        The sentence.
    figures
        The numbers that were shown, shares as shares.
    """
    for said, shown in _numbers(as_read(text), figures):
        if not shown:
            return said
    return ""


def _numbers(read: str, figures: tuple[float, ...]) -> Iterator[tuple[str, bool]]:
    """Give each number as it is written, and whether it was shown."""
    whole = {round(one) for one in figures if one >= 1}
    shares = [one for one in figures if 0 < one < 1]

    def near(value: float, within: float) -> bool:
        return any(abs(value - one) <= within or abs(value - (1 - one)) <= within for one in shares)

    def about(value: float) -> bool:
        return any(
            abs(value - side) <= max(_LEAST_NEAR, _NEAR_SHARE * min(one, 1 - one))
            for one in shares
            for side in (one, 1 - one)
        )

    for found in _SHARE.finditer(read):
        part, of = _value(found[1]), _value(found[2])
        both = {part, of} <= whole
        yield found[0], both or (0 < of <= _MOST_PARTS and part <= of and about(part / of))
    read = _SHARE.sub(_blank, read)
    for found in _PER_CENT.finditer(read):
        value = float(found[1].replace(",", ".")) if found[1][0].isdigit() else float(_value(found[1]))
        yield found[0], near(value / 100, _NEAR_PER_CENT) or value in figures
    read = _PER_CENT.sub(_blank, read)
    for found in _DECIMAL.finditer(read):
        value = float(found[1])
        yield (
            found[0],
            value in figures or near(value, _NEAR_RATE if len(found[1].partition(".")[2]) < 3 else 0.0006),
        )
    read = _DECIMAL.sub(_blank, read)
    for found in _FRACTION.finditer(read):
        times = {"a": 1, "": 1, None: 1}.get(found[1]) or _WORDS[found[1]]
        yield found[0], about(times * _PARTS[found[2]])
    read = _FRACTION.sub(_blank, read)
    for found in _ALONE.finditer(read):
        value = _value(found[0])
        yield found[0], value in whole or value in _FREE or value in figures


def _value(text: str) -> int:
    return _WORDS[text] if text in _WORDS else int(text.replace(",", ""))


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])
