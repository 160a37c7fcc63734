"""The words that a lesson itself gives its reader: those of its claim and its prose.

Whoever says them again says nothing unknown, so they are never named as words that a list does not know.
"""

from __future__ import annotations

import json
from functools import cache
from typing import Any

from hitlab.errors import ReadingError
from hitlab.exercises.accounting import plainly
from hitlab.lessons.copies import lessons_carried

__all__ = ["given_words"]


@cache
def given_words(number: str) -> frozenset[str]:
    """Return the words of a lesson's text, plainly: small letters, short forms written out.

    Parameters
    ----------
    number
        The lesson's: ``05``.

    Returns
    -------
    frozenset of str
        Empty where the lessons were not carried along, or there is no such lesson.
    """
    try:
        carried = lessons_carried()
    except ReadingError:
        return frozenset()
    words: set[str] = set()
    for name, path in carried.items():
        if name.startswith(f"{number}_"):
            cells: list[dict[str, Any]] = json.loads(path.read_text(encoding="utf-8"))["cells"]
            prose = ("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
            words.update(word.strip("*>#_`'") for text in prose for word in plainly(text).split())
    return frozenset(words)
