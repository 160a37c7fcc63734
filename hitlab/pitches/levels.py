"""Levels of play, of which a slip of the pen must not make a second one.

What is called hard, and who may be ranked with whom, depends on the level of all pitches. A level is played
for a whole game at least, so that one in a few rows of many is a slip, and no level.
"""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
from rapidfuzz import fuzz

from hitlab.pitches.cells import Judged
from hitlab.pitches.mapping import Mapping, fold
from hitlab.pitches.schema import LEVELS
from hitlab.pitches.sources import TEXT

__all__ = ["settle_level"]

_RARE = 0.01  # of the rows (a default, no source) ...
_GAME = 50  # ... and pitches: no game has so few (common practice, no source)
_NEAR = 85.0  # likeness of two spellings in percent (a default)
_MORE = 10  # times as often stands the level that a misspelling is held against (a default)

_SLIP = "a level in hardly any row"
_MISSPELLED = "near to the spelling of another level"


def settle_level(judged: Judged, mapping: Mapping) -> Judged:
    """Take spellings of one level together, and slips for missing.

    Parameters
    ----------
    judged
        The column ``level``.
    mapping
        What it explains is no slip.

    Returns
    -------
    Judged
        The usual levels in small letters, others as most of their rows spell them.
    """
    many = judged.cells.times
    spelled: dict[str, dict[str, int]] = {}
    for value, times in zip(judged.values, many.tolist(), strict=True):
        if not pd.isna(value) and times:
            same = spelled.setdefault(fold(value), {})
            same[value] = same.get(value, 0) + times
    rows = {level: sum(same.values()) for level, same in spelled.items()}
    total = sum(rows.values())
    explained = {fold(word) for word in mapping.words.get("level", {}).values()}
    problems = judged.problems.copy()
    values: list[str | None] = []
    for place, value in enumerate(judged.values):
        if pd.isna(value):
            values.append(None)
            continue
        level = fold(value)
        same = spelled.get(level, {value: 1})
        values.append(level if level in LEVELS else max(same, key=lambda one: same[one]))
        if level in explained or level not in rows:
            continue
        if rows[level] < min(_RARE * total, _GAME):
            problems[place] = _SLIP
        elif level not in LEVELS and _misspelled(level, rows):
            problems[place] = _MISSPELLED
        if problems[place]:
            values[-1] = None
    return replace(judged, values=pd.Series(pd.array(values, dtype=TEXT)), problems=problems)


def _misspelled(level: str, rows: dict[str, int]) -> bool:
    return any(
        times >= _MORE * rows[level] and fuzz.ratio(level, other) >= _NEAR for other, times in rows.items()
    )
