"""The numbers of a sentence, in figures or in words, and which of them nobody showed.

Read are whole numbers, places ("eighth"), per cents, rates (``.197``, ``0.197``) and shares in words ("half",
"nine in ten").
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from hitlab.exercises.patterns import as_read
from hitlab.spoken import ONES, ORDINALS, TENS

__all__ = ["in_figures", "not_shown"]

_NEAR_SHARE, _LEAST_NEAR = (
    0.15,
    0.021,
)  # by which "one in three" may differ: of the smaller side, and at least
_MOST_PARTS = 10  # beyond it "so many of so many" is a record, whose numbers have to be those that were shown
_NEAR_RATE, _NEAR_PER_CENT = 0.0051, 0.0051  # of a rate of two decimals, and of a whole per cent
_FREE = (1, 2)  # "one of them", "both, two of them": no figures

_BELOW_100 = {word: number for number, word in enumerate(ONES, 1)}
_BELOW_100 |= {
    tens + sign + ones: 10 * (at + 2) + one
    for at, tens in enumerate(TENS)
    for sign in ("-", " ")
    for one, ones in enumerate(ONES[:9], 1)
}
_BELOW_100 |= {tens: 10 * (at + 2) for at, tens in enumerate(TENS)}
_WORDS = _BELOW_100 | {"zero": 0, "a dozen": 12, "dozen": 12, "once": 1, "twice": 2}
_PARTS = {"half": 1 / 2, "quarter": 1 / 4} | {
    ordinal: 1 / parts for parts, ordinal in enumerate(ORDINALS[:10], 1) if parts > 2
}
_OF_A_GAME = r"(?! (?:innings?|base|time|pitch|strike|swing))"  # "in the seventh inning" counts nothing

_WHOLE = r"\d{1,3}(?:,\d{3})+|\d+"
_SMALL = "|".join(sorted(_BELOW_100, key=len, reverse=True))
_NO_MORE = rf"(?!(?<=ty)[ -](?:{'|'.join(ONES[:9])})\b)"  # "twenty" of "twenty-five" is no number
_LARGE = rf"(?:(?:{_SMALL}|a)[ -])?(?:hundred|thousand)(?:(?: and)? (?:{_SMALL})(?! (?:in|of|out) ))?"
_SHORT = rf"(?:{'|'.join(ONES[:9])})[ -](?:{'|'.join((*ONES[9:], *TENS))})(?:[ -](?:{'|'.join(ONES[:9])}))?"
_SPELLED = rf"{_LARGE}|{_SHORT}|" + "|".join(sorted(_WORDS, key=len, reverse=True))
_NUMBER = rf"(?<![\w.,])(?:{_WHOLE}|{_SPELLED})(?![\w]|[.,]\d){_NO_MORE}"
_SHARE = re.compile(
    rf"({_NUMBER})(?: |-)(?:(?!per ?cent)\w+ ){{0,2}}?(in|of|out of|for|from|to)(?: |-)"
    rf"(?:every |her |his |the |their |those )?(?:first |last )?({_NUMBER})(?! ?%| per ?cent)"
)
_PER_CENT = re.compile(
    rf"((?<![\w,])\d+(?:[.,]\d+)?|{_NUMBER})(?:(?: |-)?(?:to|and|or|-)(?: |-)?"
    rf"(?=(?:\d+(?:[.,]\d+)?|{_NUMBER})(?: ?%| per ?cent\b))| ?%| per ?cent\b)"  # "12 to 16 per cent" as well
)
_DECIMAL = re.compile(r"(?<![\w.,])(\d*\.\d+)(?!\w)")
_FRACTION = re.compile(
    rf"\b(?:(an?|{'|'.join(ONES[:9])})[ -])({'|'.join(_PARTS)})s?\b{_OF_A_GAME}|"
    r"\b()(half(?!-weight)|quarter|thirds)\b"
)
_ONE_OF_THEM = re.compile(
    r"(?:^|[,;:] |'s |\b(?:is|was|being|as|but) (?:only |just |merely )?|\bnumber |\b(?:another|any|every|"
    r"each) )$"
)
"""Before "one of 150 hitters", where somebody is one of them, and no record of one in 150 is told."""
_PLACE = re.compile(rf"(?<![\w.,])(?:(\d+)(?:st|nd|rd|th)|({'|'.join(ORDINALS)}))\b{_OF_A_GAME}")
_ALONE = re.compile(_NUMBER)
_BETWEEN_FIGURES = re.compile(r"(?<=\d)-(?=[a-z])|(?<=[a-z])-(?=\d)")


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
    whole = {round(one) for one in figures if one >= 1 or one == 0}
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
        part, of = _value(found[1]), _value(found[3])
        if found[2] == "to":  # odds, or "from 45 to 30"
            yield found[0], {part, of} <= whole or about(part / max(part + of, 1))
            continue
        if part > of and {part, of} <= {*_FREE}:  # "two swings of one hitter" is no share
            continue
        of_them = part == 1 and of in whole and _ONE_OF_THEM.search(read[: found.start()])
        shown = of_them or {part, of} <= whole or (0 < of <= _MOST_PARTS and part <= of and about(part / of))
        rare = part == 1 < _MOST_PARTS < of and any(abs(of * one - 1) <= _NEAR_SHARE for one in shares)
        in_a_hundred = of == 100 and any(abs(part / of - one) <= _NEAR_PER_CENT for one in shares)
        yield found[0], bool(shown or rare or in_a_hundred)
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
        times = _WORDS.get(found[1] or "one", 1)
        yield found[0], about(times * _PARTS[found[2] or found[4].rstrip("s")])
    read = _FRACTION.sub(_blank, read)
    for found in _PLACE.finditer(read):
        place = int(found[1]) if found[1] else ORDINALS.index(found[2]) + 1
        yield found[0], place in whole or place in _FREE
    read = _PLACE.sub(_blank, read)
    for found in _ALONE.finditer(read):
        value = _value(found[0])
        yield found[0], value in whole or value in _FREE or value in figures


def _value(text: str) -> int:
    if text[0].isdigit():
        return int(text.replace(",", ""))
    if text in _WORDS:
        return _WORDS[text]
    words = re.split(r"[ -]", text)
    for unit, worth in (("thousand", 1_000), ("hundred", 100)):
        if unit in words:
            at = words.index(unit)
            many, rest = words[:at], [word for word in words[at + 1 :] if word != "and"]
            times = 1 if many in ([], ["a"]) else _value(" ".join(many))
            return worth * times + (_value(" ".join(rest)) if rest else 0)
    return 100 * _WORDS[words[0]] + _value(" ".join(words[1:]))  # "one fifty"


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])


def in_figures(read: str) -> str:
    """Return a sentence with its numbers in figures: ``13 of 40``, ``90%``, ``.165``, ``8th``, ``2000``.

    "One", "two", "first", "second", "half" and other parts in words stay, as they mean other things as well.

    Parameters
    ----------
    read
        The sentence in small letters (``as_read``).
    """

    def place(found: re.Match[str]) -> str:
        at = int(found[1]) if found[1] else ORDINALS.index(found[2]) + 1
        return found[0] if at in _FREE else f"{at}th"

    def small(found: re.Match[str]) -> str:
        percent = re.match(r" ?(?:%|per ?cent\b)", said[found.end() :])
        kept = found[0] in ("one", "two", "once", "twice") and not percent
        return found[0] if kept else str(_value(found[0]))

    said = _FRACTION.sub(lambda found: found[0].replace(" ", "_"), read)
    said = _PLACE.sub(place, said)
    said = re.sub(rf"(?<![\w_]){_NUMBER}", small, said)
    said = re.sub(r"(?<![\w.,])0?(\.\d+)", r"\1", said)
    said = re.sub(r"(?<=\d) ?(?:%|per ?cent\b)", "%", said)
    return _BETWEEN_FIGURES.sub(" ", said.replace("_", " "))
