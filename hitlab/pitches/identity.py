"""Names that may be one, or none, and rows that may be one: nothing is changed, and all of it is said.

``NaN`` in the column of names would be a hitter, ``h29`` and ``h029`` two, and a sheet that was pasted twice
twice as much evidence.
"""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterable, Mapping

import numpy as np
import pandas as pd

from hitlab.pitches.cells import Judged
from hitlab.pitches.coded import texts_of
from hitlab.pitches.lookalikes import said_of_look_alikes
from hitlab.pitches.schema import KEY
from hitlab.pitches.wordforms import fold_each, in_toml, many_rows

__all__ = ["NOTHING", "names_in", "odd_names", "repeated_runs"]

NOTHING = {"nan", "null", "none", "nil", "nat", "na", "n/a", "#n/a", "<na>", "undefined", "-", "--", "?"}
"""What programs and people write where there is nothing, folded."""

_SUMS = {
    "total",
    "totals",
    "sum",
    "average",
    "averages",
    "avg",
    "mean",
    "all",
    "team",
    "team total",
    "team totals",
}
"""What stands in the place of a name where a row sums up others, folded."""

_NAMES = ("hitter", "hitter_id", "pitcher", "pitcher_id", "game")
_NUMBERED = ("hitter_id", "pitcher_id", "game")
_CALLED = ("hitter", "pitcher")

_ENDING_ZEROS = re.compile(r"(?<=\d)\.0+$")
_LEADING_ZEROS = re.compile(r"(?<!\d)0+(?=\d)")

_BY_CHANCE = 32
"""Rows one after the other that may be the same as earlier ones before it is said (a default): one
hitter with three outcomes comes to that within 10,000 pitches once in some ten thousand tables."""


def names_in(frame: pd.DataFrame) -> dict[str, dict[str, int]]:
    """Give the rows of each name in each column of names that a table has, in their order.

    Parameters
    ----------
    frame
        The rows kept.
    """
    counted = {}
    for column in _NAMES:
        if column in frame:
            codes, names = texts_of(frame[column])
            rows = np.bincount(codes + 1, minlength=len(names) + 1)[1:].tolist()
            counted[column] = {name: many for name, many in zip(names, rows, strict=True) if many}
    return counted


def odd_names(names: Mapping[str, Mapping[str, int]]) -> tuple[str, ...]:
    """Say which names may be none, which look the same, and which numbers may be one in two spellings.

    Parameters
    ----------
    names
        Column -> its names, and their rows.
    """
    said = []
    for column in _NAMES:
        counts = names.get(column, {})
        for (name, rows), folded in zip(counts.items(), fold_each(counts), strict=True):
            if folded in NOTHING:
                said.append(
                    f"{column} is {name!r} in {rows:,} row{'' if rows == 1 else 's'}: whether that is a name "
                    "or nothing cannot be told, and it counts as a name. If nothing is meant, write in the "
                    f"mapping: [file] missing = [{in_toml(name)}]"
                )
            elif column in _CALLED and folded.rstrip(":.") in _SUMS:
                said.append(
                    f"{column} is {name!r} in {many_rows(rows)}: whether that is a name or a sum of other "
                    "rows cannot be told, and it counts as a name. If it is a sum, take the row out"
                )
        if column in _NUMBERED:
            said += _two_spellings(column, counts)
        if column in _CALLED:
            said += said_of_look_alikes(column, dict(counts))
    return tuple(said)


def _two_spellings(column: str, names: Iterable[str]) -> list[str]:
    """Say where 007 and 7, h12 and h12.0, or G1 and g1 stand in one column."""
    # As alike() has them, but many at once.
    plain = fold_each(html.unescape(name) if "&" in name else name for name in names)
    groups: dict[str, list[str]] = {}
    for name, one in zip(names, plain, strict=True):
        one = _ENDING_ZEROS.sub("", one) if ".0" in one else one
        groups.setdefault(_LEADING_ZEROS.sub("", one) if "0" in one else one, []).append(name)
    several = [group for group in groups.values() if len(group) > 1]
    if not several:
        return []
    first = " and ".join(repr(name) for name in several[0])
    others = f" and {len(several) - 1:,} more" if several[1:] else ""
    return [
        f"{column} has one number in two spellings ({first}{others}): whether they are one cannot be told, "
        "and they count as different."
    ]


def repeated_runs(
    judged: Iterable[Judged], kept: np.ndarray, rows: np.ndarray, row_name: Callable[[int], str]
) -> tuple[str, ...]:
    """Say where many rows in a row are the same as earlier ones, in a table whose key is not there to tell.

    Parameters
    ----------
    judged
        The columns.
    kept
        For each row of the source, whether it is in the table.
    rows
        Number of each row kept in the source.
    row_name
        Names a row by its number.
    """
    columns = list(judged)
    if set(KEY) <= {one.column.name for one in columns} or len(rows) < 2 * _BY_CHANCE:
        return ()
    each = np.zeros(len(kept), dtype=np.uint64)
    for one in columns:
        each = _mixed(each, one.cells.codes.astype(np.uint64))
    each = each[kept]
    # One number for each run of so many rows, by its first: of two of half the length.
    runs, length = each, 1
    while length < _BY_CHANCE:
        runs = _mixed(runs[:-length], runs[length:])
        length *= 2
    many = len(runs)
    order = np.argsort(runs, kind="stable")
    same = runs[order[1:]] == runs[order[:-1]]
    back = np.zeros(many, dtype=np.int64)  # rows back to the last run that was the same; 0 for none
    back[order[1:][same]] = (order[1:] - order[:-1])[same]
    changes = np.concatenate([[0], np.cumsum(each[1:] != each[:-1])])
    varied = changes[_BY_CHANCE - 1 :] > changes[:many]  # of rows that are all alike one is like any other
    again = np.flatnonzero((back >= _BY_CHANCE) & varied)
    if not again.size:
        return ()
    covered = np.zeros(len(each) + 1, dtype=np.int64)
    np.add.at(covered, again, 1)
    np.add.at(covered, again + _BY_CHANCE, -1)
    begin = int(again[0])
    first, before = (row_name(int(rows[place])) for place in (begin, begin - back[begin]))
    return (
        f"{int((np.cumsum(covered) > 0).sum()):,} rows are the same in every column as earlier ones in the "
        f"same order, the first of them {first} as {before}: without "
        "game, plate_appearance and pitch, whether they are the same pitches cannot be told, and they count "
        "again.",
    )


def _mixed(before: np.ndarray, more: np.ndarray) -> np.ndarray:
    """Mix numbers into others, so that equal ones stay equal and others hardly ever become so."""
    mixed: np.ndarray = before * np.uint64(0x9E3779B97F4A7C15) + more + np.uint64(1)  # beyond 64 bits cut off
    mixed ^= mixed >> np.uint64(29)
    return mixed
