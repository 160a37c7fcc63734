"""Slips of the pen, mended where one reading alone is possible and the mapping allows it.

A word one letter off a single known word, a letter O for a nought, another sign between balls and strikes,
and what spreadsheet programs make of ``3-2``: the second of March. Each is listed; where two readings are
possible, the row waits.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from hitlab.pitches.cells import Cells, judge
from hitlab.pitches.mapping import Mapping, Split, fold
from hitlab.pitches.schema import COLUMNS

__all__ = ["mended_split", "mended_words"]

_SHORTEST = 4  # letters of a word that may have one wrong: of "foul" one, of "HR" none (a default)
_ONE_OFF, _NEAR = 1, 2  # letters; a second meaning as near as the latter leaves two readings
_LETTERS = str.maketrans({"O": "0", "o": "0", "l": "1", "I": "1", "|": "1"})
_BETWEEN = re.compile(r"\s*[-\u2010-\u2015\u2212/:.,_]\s*|\s+")
_DAY = re.compile(r"[0-9]{4}-([0-9]{2})-([0-9]{2})")

Became = dict[int, str]
"""Place of a text in the cells -> what it became."""


def mended_words(targets: Sequence[str], cells: Cells, mapping: Mapping) -> tuple[Cells, Became]:
    """Mend the cells of a column of words, or of whole numbers.

    Parameters
    ----------
    targets
        Our columns that it fills.
    cells
        Its cells.
    mapping
        How they are read.

    Returns
    -------
    tuple
        The cells with other texts, and what became of which.
    """
    kinds = {COLUMNS[target].kind for target in targets if target in COLUMNS}
    judged = [judge(target, cells, mapping) for target in targets]
    wrong = np.all([one.problems != "" for one in judged], axis=0)
    if "outcome" in targets:
        wrong = judged[list(targets).index("outcome")].problems != ""
    times = np.bincount(cells.codes, minlength=len(cells.texts))
    bad = [int(at) for at in np.flatnonzero(wrong) if times[at]]
    became: Became = {}
    if not bad:
        return cells, became
    if kinds == {"whole"}:
        for at in bad:
            plain = cells.texts[at].strip().translate(_LETTERS)
            if plain.isascii() and plain.isdecimal():
                became[at] = plain
    elif "word" in kinds:
        known = _meanings(targets, mapping)
        for at in bad:
            found = _of_a_day(cells.texts[at], targets, mapping) or _one_reading(cells.texts[at], known)
            if found:
                became[at] = found
    # A mended text must be understood, or it was no slip.
    cells, became = _put_in(cells, became)
    return cells, became


def _meanings(targets: Sequence[str], mapping: Mapping) -> dict[str, tuple[str, ...]]:
    """Every known word, folded, and what it means in each of the columns."""
    words: set[str] = set()
    for target in targets:
        words |= {fold(word) for word in COLUMNS[target].words} if target in COLUMNS else set()
        words |= {word for word in mapping.words.get(target, {}) if word}
    words |= set(mapping.telling.words) if "outcome" in targets or "result" in targets else set()
    listed = sorted(words)
    one_each = Cells(np.arange(len(listed)), [*listed, ""])
    judged = [judge(target, one_each, mapping) for target in targets]
    return {
        word: tuple(str(one.values.iloc[at]) for one in judged)
        for at, word in enumerate(listed)
        if any(one.problems[at] == "" for one in judged)
    }


def _one_reading(text: str, known: dict[str, tuple[str, ...]]) -> str:
    from rapidfuzz.distance import OSA

    word = fold(text)
    if len(word) < _SHORTEST:
        return ""
    near = {one: OSA.distance(word, one, score_cutoff=_NEAR) for one in known}
    close = {one: known[one] for one, far in near.items() if far <= _NEAR}
    best = sorted(one for one, far in near.items() if far <= _ONE_OFF)
    return best[0] if best and len(set(close.values())) == 1 else ""


def _of_a_day(text: str, targets: Sequence[str], mapping: Mapping) -> str:
    """Undo what a spreadsheet program made of ``6-3``, where both orders mean the same."""
    day = _DAY.fullmatch(text.strip())
    if day is None:
        return ""
    month, number = int(day[1]), int(day[2])
    both = [f"{month}-{number}", f"{number}-{month}"]
    meant = []
    for target in targets:
        judged = judge(target, Cells(np.arange(2), [*both, ""]), mapping)
        if judged.problems[0] or judged.problems[1]:
            return ""
        meant.append(str(judged.values.iloc[0]) == str(judged.values.iloc[1]))
    return both[0] if all(meant) else ""


def mended_split(cells: Cells, split: Split, mapping: Mapping) -> tuple[Cells, Became]:
    """Mend the cells of a column that holds several of ours, such as ``3-2``.

    Parameters
    ----------
    cells
        Its cells.
    split
        How they are taken apart.
    mapping
        How the parts are read.

    Returns
    -------
    tuple
        As :func:`mended_words`.
    """
    became: Became = {}
    times = np.bincount(cells.codes, minlength=len(cells.texts))
    days: dict[int, tuple[str, str]] = {}
    for at, text in enumerate(cells.texts):
        plain = text.strip()
        there = [part.strip() for part in plain.split(split.separator)]
        if not plain or not times[at] or (len(there) == len(split.into) and _fit(there, split, mapping)):
            continue
        day = _DAY.fullmatch(plain)
        if day is not None and len(split.into) == 2:
            days[at] = str(int(day[1])), str(int(day[2]))
            continue
        parts = [part.translate(_LETTERS) for part in _BETWEEN.split(plain) if part]
        if len(parts) == len(split.into) and _fit(parts, split, mapping):
            became[at] = split.separator.join(parts)
    # A program writes all days in one order: one that cannot be told from the cells is not guessed.
    orders = [order for order in (1, -1) if all(_fit(day[::order], split, mapping) for day in days.values())]
    for at, both in days.items():
        if len(orders) == 1 or (orders and both[0] == both[1]):
            became[at] = split.separator.join(both[:: orders[0]])
    return _put_in(cells, became)


def _fit(parts: Sequence[str], split: Split, mapping: Mapping) -> bool:
    for target, part in zip(split.into, parts, strict=True):
        if judge(target, Cells(np.zeros(1, dtype=np.int64), [part, ""]), mapping).problems[0]:
            return False
    return True


def _put_in(cells: Cells, became: Became) -> tuple[Cells, Became]:
    if not became:
        return cells, became
    texts = [became.get(at, text) for at, text in enumerate(cells.texts)]
    numbers = None if cells.numbers is None else cells.numbers.copy()
    return replace(cells, texts=texts, numbers=numbers), became
