"""One name written in two ways: with letters that look the same, the surname before a comma, in capitals.

A Cyrillic a, a Greek omicron or a 0 for an O is seen by nobody, and one hitter counts as two. Nothing is
changed: such names are told, with what differs, and a line of a mapping is proposed. Names that are written
in another script throughout are names like any other.
"""

from __future__ import annotations

import html
import re
import unicodedata

from hitlab.pitches.wordforms import fold, in_toml, many_rows

__all__ = ["alike", "looks", "said_of_look_alikes", "strange_signs"]

# Letters that are drawn like Latin ones, each script's own apart from each other (Unicode Technical Standard
# 39, from memory). Small ones that only resemble a Latin letter are left out, so that no name of another
# script becomes a second one of its own.
_LIKE_LATIN = str.maketrans(
    dict(zip("АВЕКМНОРСТУХІЈЅ", "ABEKMHOPCTYXIJS", strict=True))
    | dict(zip("аеорсухіјѕ", "aeopcyxijs", strict=True))
    | dict(zip("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ", "ABEZHIKMNOPTYX", strict=True))
    | dict(zip("αικνορυ", "aikvopu", strict=True))
)
_DIGITS = str.maketrans("01", "ol")
_SHOWN = 3  # pairs
_LISTED = 20  # lines for a mapping
_SURNAME_FIRST = re.compile(r"^([^,]+),\s*([^,]+)$")
_WORD = re.compile(r"\w+")


def alike(name: str) -> str:
    """Form in which two spellings of one name are the same: without capitals, blanks and signs of web pages.

    Parameters
    ----------
    name
        As it stands.
    """
    return fold(html.unescape(name))


def looks(name: str) -> str:
    """Give the form in which names are the same that look the same, whatever their capitals and order.

    Parameters
    ----------
    name
        As it stands.

    Examples
    --------
    >>> looks("Ｂr0wn") == looks("Вrоwn") == looks("Brown")
    True
    >>> looks("Brown 10") == looks("Brown lo")
    False
    >>> looks("Frusk, Ada") == looks("ADA FRUSK")
    True
    """
    name = name.strip()
    return _drawn(_SURNAME_FIRST.sub(r"\2 \1", name) if "," in name else name)


def _drawn(name: str) -> str:
    # Each step is left out where it has nothing to do: a season has thousands of names.
    plain = name if name.isascii() else unicodedata.normalize("NFKD", name).translate(_LIKE_LATIN)
    digits = "0" in plain or "1" in plain
    return fold(_WORD.sub(lambda word: _without_digits(word[0]), plain) if digits else plain)


def _without_digits(word: str) -> str:
    """Take a 0 or a 1 among letters for the letter; with one letter, such as A1, it is a number."""
    if word.isalpha() or word.isdigit():
        return word
    return word.translate(_DIGITS) if sum(map(str.isalpha, word)) > 1 else word


def said_of_look_alikes(column: str, rows: dict[str, int]) -> list[str]:
    """Say which names of a column seem to be one, and how the mapping makes them one.

    Parameters
    ----------
    column
        Ours.
    rows
        Name -> its rows.
    """
    groups: dict[str, list[str]] = {}
    for name in rows:
        groups.setdefault(looks(name), []).append(name)
    pairs = []
    for group in groups.values():
        best, *others = sorted(group, key=lambda name: (-rows[name], strange_signs(name), name))
        pairs += [(other, best) for other in others]
    if not pairs:
        return []
    told = "; ".join(
        f"{other!r} in {many_rows(rows[other])} and {name!r} in {many_rows(rows[name])}, which differ in "
        f"{_difference(other, name)}"
        for other, name in pairs[:_SHOWN]
    )
    more = f"; and {len(pairs) - _SHOWN:,} more" if len(pairs) > _SHOWN else ""
    lines = ", ".join(f"{in_toml(other)} = {in_toml(name)}" for other, name in pairs[:_LISTED])
    lines += ", ..." if len(pairs) > _LISTED else ""
    return [
        f"{column} has names that seem to be one, written in two ways ({told}{more}): they count as "
        f"different. If they are one, write in the mapping, under [words.{column}]: {lines}"
    ]


def strange_signs(name: str) -> int:
    """Count digits and what no Latin keyboard has: of two names that look the same the one with fewer is it.

    Parameters
    ----------
    name
        As it stands.
    """
    return sum(not sign.isascii() or sign.isdigit() for sign in name)


def _difference(one: str, other: str) -> str:
    """Say in what two names differ: the order of their words, capitals, or a sign as Unicode calls it."""
    if _drawn(one) != _drawn(other):
        return "the order of their words"
    for sign, against in zip(one, other, strict=False):
        if sign.casefold() != against.casefold():
            return " and ".join(unicodedata.name(which, f"U+{ord(which):04X}") for which in (sign, against))
    return "capitals" if len(one) == len(other) else "their length"
