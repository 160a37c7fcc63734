"""Slips of the pen, mended where one reading alone is possible and the mapping allows it.

A word one letter off a single known word, and near to no other that the trade uses; a letter O for a nought,
another sign between balls and strikes, and what spreadsheet programs make of ``3-2``: the second of March.
Each is listed; where two readings are possible, the row waits.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.pitches.cells import Cells, Judged, judge
from hitlab.pitches.chart_words import AMBIGUOUS, NO_PITCH, OTHERS, WORDS
from hitlab.pitches.mapping import Mapping, Split, fold
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.telling import TELLABLE, tell

__all__ = ["mended_split", "mended_words"]

_SHORTEST = 4  # letters of a word in which one may be doubled or dropped: "wiff", not "HR" (a default)
_ANY = (
    5  # letters of a word in which any one may be wrong: "call" and "wall" are no slips of "ball" (a default)
)
_ONE_OFF, _NEAR = 1, 2  # letters; a second meaning as near as the latter leaves two readings
_LETTERS = str.maketrans({"O": "0", "o": "0", "l": "1", "I": "1", "|": "1"})
_BETWEEN = re.compile(r"\s*[-\u2010-\u2015\u2212/:.,_]\s*|\s+")
_DAY = re.compile(r"[0-9]{4}-([0-9]{2})-([0-9]{2})")

Became = dict[int, str]
"""Place of a text in the cells -> what it became."""


def mended_words(
    targets: Sequence[str], cells: Cells, mapping: Mapping, told: Collection[str] = ()
) -> tuple[Cells, Became]:
    """Mend the cells of a column of words, or of whole numbers.

    Parameters
    ----------
    targets
        Our columns that it fills.
    cells
        Its cells.
    mapping
        How they are read.
    told
        Those of the columns that only the words of the outcome tell.

    Returns
    -------
    tuple
        The cells with other texts, and what became of which.
    """
    kinds = {COLUMNS[target].kind for target in targets if target in COLUMNS}
    wrong = _wrong(targets, cells, mapping, told)
    times = cells.times
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
        known = _meanings(targets, mapping, told)
        others = _others(targets, mapping, known)
        for at in bad:
            text = cells.texts[at]
            if not _waits(text, targets, mapping):
                found = _of_a_day(text, targets, mapping, told) or _one_reading(text, known, others)
                became |= {at: found} if found else {}
    # A mended text must be understood, or it was no slip.
    mended = Cells(np.arange(len(became)), [*became.values(), ""])
    senseless = _wrong(targets, mended, mapping, told)[:-1]
    return _put_in(
        cells, {at: text for (at, text), no in zip(became.items(), senseless, strict=True) if not no}
    )


def _judged(targets: Sequence[str], cells: Cells, mapping: Mapping, told: Collection[str]) -> list[Judged]:
    return [judge(target, cells, mapping, told_only=target in told) for target in targets]


def _wrong(targets: Sequence[str], cells: Cells, mapping: Mapping, told: Collection[str]) -> np.ndarray:
    """Say for each text whether nothing can be made of it; of an outcome's column its outcome."""
    judged = _judged(["outcome"] if "outcome" in targets else targets, cells, mapping, told)
    return np.asarray(np.all([one.problems != "" for one in judged], axis=0))


def _waits(text: str, targets: Sequence[str], mapping: Mapping) -> bool:
    """Say whether somebody has still to decide what a word means."""
    named = any(fold(text) in mapping.undecided.get(target, ()) for target in targets)
    return named or ("outcome" in targets and mapping.telling.waits(text))


def _meanings(targets: Sequence[str], mapping: Mapping, told: Collection[str]) -> dict[str, tuple[str, ...]]:
    """Every known word, folded, and what it means in each of the columns."""
    words: set[str] = set()
    for target in targets:
        words |= {fold(word) for word in COLUMNS[target].words} if target in COLUMNS else set()
        words |= {word for word in mapping.words.get(target, {}) if word}
    words |= (
        {*mapping.telling.words, *map(fold, TELLABLE)} if "outcome" in targets and mapping.telling else set()
    )
    listed = sorted(words)
    one_each = Cells(np.arange(len(listed)), [*listed, ""])
    judged = _judged(targets, one_each, mapping, told)
    wrong = _wrong(targets, one_each, mapping, told)
    return {
        word: tuple(_plain(one.values.iloc[at]) for one in judged)
        for at, word in enumerate(listed)
        if not wrong[at]
    }


def _others(
    targets: Sequence[str], mapping: Mapping, known: dict[str, tuple[str, ...]]
) -> dict[str, tuple[str, ...]]:
    """Words that scorers use and nobody explained here, and what each would mean; () where that is open."""
    found: dict[str, tuple[str, ...]] = {}
    alone = [word for target in targets for word in AMBIGUOUS.get(target, ())]
    if "outcome" in targets:
        alone += NO_PITCH
        for told, words in (*((word, (word,)) for word in TELLABLE), *WORDS.items()):
            meant = tell(told)
            for word in map(fold, words):
                if isinstance(meant, dict):
                    found[word] = tuple(meant.get(target, "") for target in targets)
                else:
                    alone.append(word)
    for target in targets:
        alone += mapping.undecided.get(target, ())
        for ours, words in OTHERS.get(target, {}).items():
            found |= {fold(word): tuple(ours if one == target else "" for one in targets) for word in words}
    found |= {fold(word): () for word in alone}
    return {word: meant for word, meant in found.items() if word not in known}


def _plain(value: Any) -> str:
    return "" if pd.isna(value) else str(value).lower()


def _one_reading(text: str, known: dict[str, tuple[str, ...]], others: dict[str, tuple[str, ...]]) -> str:
    from rapidfuzz.distance import OSA

    word = fold(text)
    if len(word) < _SHORTEST or word in others:
        return ""
    far = {one: OSA.distance(word, one, score_cutoff=_NEAR) for one in known | others}
    near = {(known | others)[one] for one, letters in far.items() if letters <= _NEAR}
    beside = any(far[one] <= _ONE_OFF for one, meant in others.items() if not meant)
    if beside or len(near - {()}) != 1:
        return ""
    off = sorted(one for one in known if far[one] <= _ONE_OFF)
    slips = [one for one in off if len(word) >= _ANY or _dropped(one, word) or _doubled(one, word)]
    return slips[0] if slips else ""


def _dropped(word: str, slip: str) -> bool:
    return any(word[:at] + word[at + 1 :] == slip for at in range(len(word)))


def _doubled(word: str, slip: str) -> bool:
    return any(word[:at] + word[at] + word[at:] == slip for at in range(len(word)))


def _of_a_day(text: str, targets: Sequence[str], mapping: Mapping, told: Collection[str]) -> str:
    """Undo what a spreadsheet program made of ``6-3``, where both orders mean the same."""
    day = _DAY.fullmatch(text.strip())
    if day is None:
        return ""
    month, number = int(day[1]), int(day[2])
    both = [f"{month}-{number}", f"{number}-{month}"]
    meant = []
    for target in targets:
        judged = judge(target, Cells(np.arange(2), [*both, ""]), mapping, told_only=target in told)
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
    times = cells.times
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
