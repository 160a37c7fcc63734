"""The forms in which two texts are one: with single blanks, without what is unseen, without capitals."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable

__all__ = ["even", "fold", "fold_each", "in_toml", "many_rows", "one_spelling"]

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


def fold_each(words: Iterable[str]) -> list[str]:
    """Fold many words, as :func:`fold` does each: one a line, since a season has thousands of games."""
    words = list(words)
    lines = "\n".join(words)
    if lines.count("\n") >= len(words):  # a word has lines of its own
        return [fold(word) for word in words]
    if not lines.isascii():
        lines = lines.translate(_UNSEEN)
    single = re.sub(r"(?m)^ +| +$", "", re.sub(r"[^\S\n]+", " ", lines))
    return single.casefold().split("\n")


def one_spelling(name: str) -> str:
    """Give a name its one spelling: an accent may be one character or two, which look alike."""
    return even(name if name.isascii() else unicodedata.normalize("NFC", name))


def in_toml(text: str) -> str:
    """Give a text between quotation marks, as a mapping takes it."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")  # but for it, as JSON does


def many_rows(number: int) -> str:
    """Give a number of rows in words."""
    return f"{number:,} row{'' if number == 1 else 's'}"
