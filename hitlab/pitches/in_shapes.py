"""Cells that tell by their shape: ``T5`` an inning and its half, ``x-x`` and ``1B,3B`` the bases."""

from __future__ import annotations

import re

from hitlab.pitches.chart_words import HALVES
from hitlab.pitches.schema import BASES
from hitlab.pitches.wordforms import fold
from hitlab.pitches.words_abroad import OTHERS_ABROAD

__all__ = ["bases_told", "half_inning"]

_HALF_OF = {
    word: half
    for words in (HALVES, OTHERS_ABROAD["half"], {"top": ("▲", "△"), "bottom": ("▼", "▽")})
    for half, some in words.items()
    for word in some
}
_HALF = "|".join(sorted(map(re.escape, _HALF_OF), key=len, reverse=True))
_NUMBER = r"(?P<{}>[0-9]{{1,2}})(?:st|nd|rd|th|回|\.)?"
_SHAPES = (
    re.compile(rf"(?P<half>{_HALF})\.?(?: of(?: the)?)? ?{_NUMBER.format('inning')}"),
    re.compile(rf"{_NUMBER.format('inning')} ?(?P<half>{_HALF})"),
)
_BASE_OF = {
    **dict.fromkeys(("1b", "1st", "first"), "first"),
    **dict.fromkeys(("2b", "2nd", "second"), "second"),
    **dict.fromkeys(("3b", "3rd", "third"), "third"),
}
_THREE = re.compile(r"[x*_-]{3}")
_BETWEEN = re.compile(r"\s*(?:[,/&+;]|\band\b|\s)\s*")


def half_inning(text: str) -> tuple[int, str] | None:
    """Inning and half that a cell tells together; None where it tells none.

    Parameters
    ----------
    text
        The cell.

    Examples
    --------
    >>> half_inning("T5"), half_inning("Bot 7th"), half_inning("2回裏"), half_inning("5")
    ((5, 'top'), (7, 'bottom'), (2, 'bottom'), None)
    """
    word = fold(text)
    for shape in _SHAPES:
        found = shape.fullmatch(word)
        if found and int(found["inning"]):
            return int(found["inning"]), _HALF_OF[found["half"]]
    return None


def bases_told(text: str) -> str:
    """Our word for the bases that a cell names, or marks in three places; empty where it tells none.

    Parameters
    ----------
    text
        The cell.

    Examples
    --------
    >>> bases_told("1B,3B"), bases_told("x-x"), bases_told("---"), bases_told("2")
    ('first third', 'first third', 'empty', '')
    """
    word = fold(text)
    if _THREE.fullmatch(word):
        on = [base for base, sign in zip(("first", "second", "third"), word, strict=True) if sign in "x*"]
    else:
        parts = _BETWEEN.split(word)
        on = [_BASE_OF.get(part, "") for part in parts]
        if "" in on or len(set(on)) < len(on):
            return ""
        on = [base for base in ("first", "second", "third") if base in on]
    told = {0: "empty", 3: "full"}.get(len(on), " ".join(on))
    return told if told in BASES else ""
