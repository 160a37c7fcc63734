r"""How a text from the data is shown: what cannot be seen stands as an escape, and no name fills a screen.

A name, a word or a heading comes from somebody's file. On its way to a terminal, a notebook, a picture, its
words, a ``.csv`` or a spreadsheet it goes through :func:`shown`, so that it can neither move the cursor, turn
the line around, begin a line of its own, nor look like a name that it is not. Names stay as they are in the
tables themselves, in ``.parquet`` and, as values, in JSON.

Escaped are control characters (C0, DEL, C1), separators of lines and paragraphs, marks that turn the
direction of writing, whatever else is not seen (zero-width characters, soft hyphens, fillers, tags), halves
of surrogates and characters that are none. Letters of every script stay, and so does of the unseen what names
are spelled with:

- a joiner or non-joiner (U+200D, U+200C) behind a virama, or between two letters of one script that is
  written joined (Arabic, Syriac) or with conjuncts (Devanagari, Sinhala, ...): Persian ``علی‌رضا``;
- a variation selector behind an ideograph, which tells two ways to write a Japanese family name;
- a Mongolian one behind a Mongolian letter.

Marks of direction are always escaped: a name needs none to be written from the right, and sentences and
pictures put their own around it.

It is called at two places. Where somebody is *called* something (``Counts.labels``, names in messages) by
:func:`shown_name`, which also bounds the length: sentences are built of labels, and a label finds whom it
calls, as the name itself does. And once more where text leaves: ``as_text`` and ``as_html`` of results, the
terminal's ``console``, ``keep_words`` and ``readable`` of pictures, cells of ``.csv`` and ``.xlsx``, a card's
title and description; it changes nothing the second time. Tables and later lines of a paragraph are indented
in printed text, and a sentence that begins with a name is a ``Note`` (in the terminal ``first=``): no name
begins a line.

>>> shown("Ada\x1b[1m\nVerdict: HOLDS")
'Ada\\x1b[1m\\nVerdict: HOLDS'
>>> shown("Nguyễn Thị Ánh"), shown("שרה")
('Nguyễn Thị Ánh', 'שרה')
>>> shown("a" * 10_000, most=10)
'aaaaaaaaa…'
"""

from __future__ import annotations

import json
import re
import unicodedata
from typing import Any

__all__ = ["MOST_OF_A_NAME", "json_text", "quoted", "shown", "shown_lines", "shown_name", "storable"]

MOST_OF_A_NAME = 120
"""Characters of a name that are shown. The longest real ones have about 100, a hostile one has thousands."""

_RANGES = (
    *("\x00-\x1f", "\x7f-\x9f"),  # C0, DEL, C1
    *("\u2028\u2029", "\ud800-\udfff"),  # separators of lines and paragraphs; halves of surrogates
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069",  # direction
    "\u00ad\u034f\u070f\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200d\u2060-\u2065\u206a-\u206f\u2800",
    "\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufffb",
    *("\U00013430-\U0001343f", "\U0001bca0-\U0001bca3", "\U0001d173-\U0001d17a", "\U000e0000-\U000e0fff"),
    *(
        "\ufdd0-\ufdef",
        *(f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000)),
    ),
)
_UNSEEN = re.compile(f"[{''.join(_RANGES)}]")
_JOINERS = "\u200c\u200d"
# Scripts whose spelling needs joiners, as the names of their letters begin.
_JOINED = (
    *("ARABIC", "SYRIAC", "MANDAIC", "NKO", "MONGOLIAN", "DEVANAGARI", "BENGALI", "GURMUKHI", "GUJARATI"),
    *("ORIYA", "TAMIL", "TELUGU", "KANNADA", "MALAYALAM", "SINHALA", "KHMER", "MYANMAR", "TIBETAN"),
)
_VIRAMA = 9  # the combining class of marks that take a consonant's vowel


def shown(text: Any, most: int | None = None) -> str:
    """Return a text as it may be shown anywhere.

    Parameters
    ----------
    text
        Text from the data; anything else is taken as ``str`` gives it.
    most
        Characters at most, the last of them ``…`` where more was there: :data:`MOST_OF_A_NAME` for a name.
        ``None`` for a sentence of ours, in which names are short already, and for a table that is saved.

    Returns
    -------
    str
        The same text if nothing in it is unseen; shown once more it does not change.
    """
    told: str = text if isinstance(text, str) else str(text)
    long = most is not None and len(told) > most
    told = told[:most]
    if not (told.isascii() and told.isprintable()):
        told = _UNSEEN.sub(_escape, told)
    if most is not None and (long or len(told) > most):
        told = told[: most - 1].rstrip(_JOINERS) + "…"
    return told


def shown_name(name: Any) -> str:
    """Return a name, or another word from the data, as it may be shown: not longer than real names are."""
    return shown(name, MOST_OF_A_NAME)


def quoted(name: Any) -> str:
    """Return a name between quotation marks, as a message repeats it."""
    told = shown_name(name)
    mark = '"' if "'" in told and '"' not in told else "'"
    return f"{mark}{told}{mark}"


def shown_lines(text: str) -> str:
    """Return a text of several lines of ours as it may be shown; line breaks stay."""
    return "\n".join(shown(line) for line in text.split("\n"))


def storable(text: str) -> str:
    r"""Return a text as a file can hold it: halves of surrogates, which UTF-8 has none of, as escapes.

    >>> storable("A\ud800da")
    'A\\ud800da'
    """
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def json_text(value: Any, indent: int | None = None) -> str:
    """Return JSON whose values are whole, and in which what is unseen is written as JSON's own escape."""
    told = json.dumps(value, ensure_ascii=False, indent=indent)
    # Outside of texts JSON has nothing but ASCII, and line breaks there are ours.
    return "\n".join(_UNSEEN.sub(_as_in_json, line) for line in told.split("\n"))


def _as_in_json(found: re.Match[str]) -> str:
    return json.dumps(found[0])[1:-1] if ord(found[0]) != 0x7F else "\\u007f"


def _escape(found: re.Match[str]) -> str:
    if _belongs(found.string, found.start()):
        return found[0]
    return found[0].encode("unicode_escape").decode("ascii")


def _belongs(text: str, place: int) -> bool:
    """Say whether something unseen is part of a word's spelling."""
    sign, before, after = text[place], text[place - 1 : place], text[place + 1 : place + 2]
    if not before:
        return False
    if sign in _JOINERS:
        script = _script(before)
        return bool(script) and (unicodedata.combining(before) == _VIRAMA or _script(after) == script)
    if "\ufe00" <= sign <= "\ufe0f" or "\U000e0100" <= sign <= "\U000e01ef":
        return unicodedata.name(before, "").startswith("CJK ")
    if "\u180b" <= sign <= "\u180f" and sign != "\u180e":
        return _script(before) == "MONGOLIAN" and before.isalpha()
    return False


def _script(letter: str) -> str:
    """Return the script of a letter or mark, where it is one that needs joiners."""
    if not letter or unicodedata.category(letter)[0] not in "LM":
        return ""
    script = unicodedata.name(letter, "").partition(" ")[0]
    return script if script in _JOINED else ""
