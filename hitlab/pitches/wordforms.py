"""The forms in which two texts are one: with single blanks, without what is unseen, without capitals."""

from __future__ import annotations

import json
import unicodedata

__all__ = ["even", "fold", "in_toml", "many_rows", "one_spelling"]

# Signs without width, which nobody sees: zero-width blank, word joiner, mark of the byte order, soft hyphen.
_UNSEEN = str.maketrans(dict.fromkeys("\u200b\u2060\ufeff\u00ad"))


def even(text: str) -> str:
    """Give a text with single blanks, and without signs that nobody sees."""
    if not text.isascii():
        text = text.translate(_UNSEEN)
    return " ".join(text.split())


def fold(word: str) -> str:
    """Form in which two words are compared: with single blanks, trimmed and case-folded."""
    return even(word).casefold()


def one_spelling(name: str) -> str:
    """Give a name its one spelling: an accent may be one character or two, which look alike."""
    return even(name if name.isascii() else unicodedata.normalize("NFC", name))


def in_toml(text: str) -> str:
    """Give a text between quotation marks, as a mapping takes it."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")  # but for it, as JSON does


def many_rows(number: int) -> str:
    """Give a number of rows in words."""
    return f"{number:,} row{'' if number == 1 else 's'}"
