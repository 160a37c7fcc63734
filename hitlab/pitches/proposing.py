"""Where each row is, what was left out, and which lines of a mapping would help."""

from __future__ import annotations

from collections.abc import Mapping as AnyMapping

import numpy as np
import pandas as pd

from hitlab.pitches.cells import Judged
from hitlab.pitches.games import line_of, proposed_games
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping, nearest
from hitlab.pitches.origin import Source
from hitlab.pitches.preparing import Prepared
from hitlab.pitches.rosters import Roster, line_for, near_names
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.telling import TELLABLE
from hitlab.wording import percent

__all__ = ["parts_read", "placed", "propose", "said_of_left_out", "said_of_share"]

_WORD_REASONS = ("not a known word", "neither true nor false")
_UNKNOWN = ["column", "word", "rows", "nearest"]


def placed(found: pd.DataFrame, origin: Source) -> pd.DataFrame:
    """Put the file, the sheet and the row in it in the place of rows that run through all parts.

    Parameters
    ----------
    found
        Has a column ``row``.
    origin
        Knows the parts; without any nothing changes.
    """
    if not origin.parts:
        return found
    where = origin.where(found["row"].to_numpy(dtype=np.int64))
    at = list(found.columns).index("row")
    kept = found.drop(columns="row")
    for place, name in enumerate(("file", "sheet", "row")):
        kept.insert(at + place, name, where[name].to_numpy())
    return kept


def parts_read(origin: Source, dropped: np.ndarray) -> pd.DataFrame:
    """Give ``file``, ``sheet``, rows ``read``, ``kept``, ``set_aside``, and ``note`` of each part.

    Parameters
    ----------
    origin
        The source.
    dropped
        For each of its rows whether it was set aside.
    """
    lines: list[tuple[str, str, int, int, int, str]] = []
    if origin.parts:
        part_of = origin.part_of(origin.rows)
        kept = np.bincount(part_of[~dropped], minlength=len(origin.parts))
        lines += [
            (part.file, part.sheet, part.rows, int(many), part.rows - int(many), "")
            for part, many in zip(origin.parts, kept, strict=True)
        ]
    lines += [(one.file, one.sheet, 0, 0, 0, f"left out whole: {one.reason}") for one in origin.left_out]
    return pd.DataFrame(lines, columns=["file", "sheet", "read", "kept", "set_aside", "note"])


def said_of_left_out(origin: Source) -> list[str]:
    """Say which files and sheets were left out, and how the mapping says that they may be.

    Parameters
    ----------
    origin
        The source.
    """
    return [
        f"{one.name} was left out whole: {one.reason}. If it holds no pitches, write in the mapping: [file] "
        "skip = "
        f'["{one.sheet or one.file}"]'
        for one in origin.left_out
        if not one.meant
    ]


def said_of_share(aside: int, read: int, most: float) -> list[str]:
    """Say that more rows are set aside than is usual.

    Parameters
    ----------
    aside, read
        Rows set aside, and all.
    most
        Share above which it is said.
    """
    if aside <= most * read:
        return []
    return [f"{aside:,} of {read:,} rows are set aside, more than {percent(most)}."]


def propose(
    origin: Source,
    headings: Headings,
    rules: Mapping,
    prepared: Prepared,
    roster: Roster | None,
    judged: AnyMapping[str, Judged],
    set_aside: pd.DataFrame,
) -> tuple[tuple[str, ...], pd.DataFrame]:
    """Say which lines of a mapping would help, and which words are not known.

    Parameters
    ----------
    origin, headings, rules, prepared, roster, judged
        The source, and all that was made of it.
    set_aside
        What could not be used.

    Returns
    -------
    tuple
        Sentences; and ``column``, ``word``, ``rows`` that it would bring, ``nearest``.
    """
    said = []
    if prepared.fillable:
        named = ", ".join(f'"{name}"' for name in [*rules.fill_down, *prepared.fillable])
        said.append(
            "If what stands in a cell is meant for the blanks below it, write at the top of the mapping: "
            f"fill_down = [{named}]"
        )
    parts, why = proposed_games(origin, headings, rules, prepared.at)
    if parts and (origin.parts or parts != ["date"]):
        said.append(f"Which pitches are of one game is not said ({why}). It may be: {line_of(parts)}")
    said += _of_names(prepared, roster, judged)
    return tuple(said), _unknown(set_aside)


def _of_names(prepared: Prepared, roster: Roster | None, judged: AnyMapping[str, Judged]) -> list[str]:
    hitters = judged["hitter"]
    times = np.bincount(hitters.cells.codes, minlength=len(hitters.cells.texts))
    counts: dict[str, int] = {}
    for value, many in zip(hitters.values.tolist(), times.tolist(), strict=True):
        if many and isinstance(value, str):
            counts[value] = counts.get(value, 0) + many
    said = []
    if roster is not None and prepared.names is not None and prepared.names.unknown:
        often = sorted(prepared.names.unknown.items(), key=lambda item: -item[1])
        listed = ", ".join(f"{name} ({many:,})" for name, many in often)
        said.append(f"Not in the roster, and kept as they stand: {listed}.")
    if roster is not None or len(counts) > 1:
        near = near_names(counts, roster.names if roster is not None else ())
        if near:
            lines = "; ".join(f"{line_for(spelling, name)}  ({many:,} rows)" for spelling, name, many in near)
            said.append(
                "Spellings that may be one name; nothing was merged. Of these lines write in the mapping, "
                "under "
                f"[words.hitter], those that are right: {lines}"
            )
    return said


def _unknown(set_aside: pd.DataFrame) -> pd.DataFrame:
    """Words that nobody explained, by the rows that each would bring."""
    words = set_aside[set_aside["reason"].isin(_WORD_REASONS) & (set_aside["action"] == "row set aside")]
    if words.empty:
        return pd.DataFrame(columns=_UNKNOWN).astype({"rows": np.int64})
    texts = words.assign(word=words["value"].astype(str).str.strip())
    counted = texts.groupby(["source_column", "column", "word"], sort=False).size().reset_index(name="rows")
    near = []
    for column, word in zip(counted["column"], counted["word"], strict=True):
        among = (
            TELLABLE
            if column in ("outcome", "result")
            else COLUMNS[column].words
            if column in COLUMNS
            else ()
        )
        near.append(nearest(word, among) or "")
    counted["nearest"] = near
    counted = counted.drop(columns="column").rename(columns={"source_column": "column"})
    return counted.sort_values("rows", ascending=False, kind="stable", ignore_index=True)
