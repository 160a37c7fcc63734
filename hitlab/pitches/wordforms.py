"""The forms in which two texts are one: with single blanks, without what is unseen, without capitals."""

from __future__ import annotations

__all__ = ["even", "fold"]

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
