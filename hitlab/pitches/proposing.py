"""Where each row is, what was left out, and which lines of a mapping would help."""

from __future__ import annotations

import re
from collections.abc import Mapping as AnyMapping
from pathlib import PurePath

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError
from hitlab.pitches.cells import Judged
from hitlab.pitches.games import line_of, proposed_games
from hitlab.pitches.headings import Headings
from hitlab.pitches.identity import NOTHING
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.origin import Source
from hitlab.pitches.preparing import Prepared
from hitlab.pitches.rosters import Roster, counted_names, line_for, near_names, told_apart
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.suggesting import TELLING, near_word
from hitlab.pitches.wordforms import fold, in_toml, many_rows
from hitlab.wording import listed, percent

__all__ = [
    "parts_read",
    "placed",
    "propose",
    "refuse_shares",
    "said_of_left_out",
    "said_of_names_nowhere",
    "said_of_share",
    "said_of_unread",
]

_UNKNOWN = ["column", "word", "rows", "nearest"]
_NUMBER = re.compile(r"-?[0-9]+(\.0+)?")


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
    mend = "If {} no pitches, write in the mapping, under [file]: skip = [{}]"
    said = [
        f"{one.name} was left out whole: {one.reason}. "
        f"{mend.format('it holds', in_toml(one.sheet or one.file))}"
        for one in origin.left_out
        if not one.meant and not one.lacking
    ]
    # Notes and line-ups lie beside the pitches in many a workbook: one line for all of them.
    beside = [one for one in origin.left_out if one.lacking and not one.meant]
    if beside:
        several = len(beside) > 1
        skip = ", ".join(dict.fromkeys(in_toml(one.sheet or one.file) for one in beside))
        each = listed([f"{one.name} (no {one.lacking})" for one in beside])
        said.append(
            f"{each} {'were' if several else 'was'} left out whole. "
            f"{mend.format('they hold' if several else 'it holds', skip)}"
        )
    return said


def said_of_names_nowhere(origin: Source, mapping: Mapping) -> list[str]:
    """Say which sheets, files and columns the mapping names that are nowhere.

    Parameters
    ----------
    origin
        The source.
    mapping
        Its ``[file] skip`` and ``[also]``.
    """
    there = {fold(name) for one in origin.left_out for name in (one.sheet, PurePath(one.file).name)}
    said = [
        f"[file] skip names {mapping.spelled(name)!r}, and no sheet or file is called so."
        for name in sorted(mapping.skip - there)
    ]
    return said + [
        f"[also] names {mapping.spelled(name)!r}, and no column is called so."
        for name in sorted(mapping.also.keys() - origin.also)
    ]


def refuse_shares(**shares: object) -> None:
    """Refuse what is no share of rows or cells.

    Parameters
    ----------
    **shares
        By the name of the argument.

    Raises
    ------
    ReadingError
        With the first that is none.
    """
    for name, share in shares.items():
        number = isinstance(share, int | float | np.number) and not isinstance(share, bool)
        if not number or not 0 <= float(share) <= 1:  # type: ignore[arg-type]  # a number by now
            raise ReadingError(f"{name}={share!r}: give a share from 0 to 1, such as 0.1.")


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


def said_of_unread(
    judged: AnyMapping[str, Judged], set_aside: pd.DataFrame, examples: AnyMapping[str, str], most: float
) -> list[str]:
    """Say in which columns many cells could not be read, though their rows are kept.

    Parameters
    ----------
    judged
        The columns.
    set_aside, examples
        What could not be used.
    most
        Share of the filled cells above which it is said.
    """
    said = []
    made = set_aside[set_aside["action"] == "value made missing"]
    for column, lines in made.groupby("column", sort=False):
        name = str(column).partition(", ")[0]  # of cells that hold several
        counts = lines["value"].astype(str).value_counts()
        meant = counts[[fold(value) not in NOTHING for value in counts.index]]
        numeric = name in COLUMNS and COLUMNS[name].kind in ("number", "whole")
        # One number that none can have, where nothing was measured, is how programs write nothing.
        texts = [str(value).strip().replace(",", ".") for value in meant.index]
        if numeric and all(map(_NUMBER.fullmatch, texts)) and len({float(text) for text in texts}) == 1:
            continue
        cells = judged[name].cells
        times = np.bincount(cells.codes, minlength=len(cells.texts))
        filled = int(times[[bool(text.strip()) for text in cells.texts]].sum())
        of = filled + (int(counts.sum()) if name != column else 0)  # the parts of what has none are empty
        many = int(meant.sum())
        if many <= most * of:
            continue
        reason = f"{column}: {lines['reason'].value_counts().index[0]}"
        such = f", such as {examples[reason]}" if reason in examples else ""
        said.append(f"{column} could not be read in {many:,} of {of:,} cells, which count as missing{such}.")
    return said


def propose(
    origin: Source,
    headings: Headings,
    rules: Mapping,
    prepared: Prepared,
    roster: Roster | None,
    strange: AnyMapping[str, int],
    judged: AnyMapping[str, Judged],
    set_aside: pd.DataFrame,
) -> tuple[tuple[str, ...], pd.DataFrame]:
    """Say which lines of a mapping would help, and which words are not known.

    Parameters
    ----------
    origin, headings, rules, prepared, roster, judged
        The source, and all that was made of it.
    strange
        Name that is not in the roster -> rows.
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
        said.append(
            f"Which pitches are of one game is not said ({why}). It may be, in the mapping, under [games]: "
            f"{line_of(parts)}"
        )
    said += _of_names(strange, roster, judged)
    return tuple(said), _unknown(set_aside)


def _of_names(
    strange: AnyMapping[str, int], roster: Roster | None, judged: AnyMapping[str, Judged]
) -> list[str]:
    hitters = judged["hitter"]
    counts = counted_names(hitters)
    said = []
    if strange:
        often = sorted(strange.items(), key=lambda item: -item[1])
        listed = ", ".join(f"{name} ({many:,})" for name, many in often)
        said.append(f"Not in the roster, and kept as they stand: {listed}.")
    if roster is not None or len(counts) > 1:
        apart = told_apart(hitters, judged.get("hitter_id"), judged.get("club"), roster)
        near = near_names(counts, roster.names if roster is not None else (), apart)
        if near:
            lines = "; ".join(
                f"{line_for(spelling, name)}  ({many_rows(many)})" for spelling, name, many in near
            )
            said.append(
                "Spellings that may be one name; nothing was merged. Of these lines write in the mapping, "
                f"under [words.hitter], those that are right: {lines}"
            )
    return said


def _unknown(set_aside: pd.DataFrame) -> pd.DataFrame:
    """Words that nobody explained, by the rows that each would bring; of all words only the outcome's do."""
    words = set_aside[(set_aside["reason"] == "not a known word") & (set_aside["column"] == "outcome")]
    if words.empty:
        return pd.DataFrame(columns=_UNKNOWN).astype({"rows": np.int64})
    texts = words.assign(word=words["value"].astype(str).str.strip(), column=words["source_column"])
    counted = texts.groupby(["column", "word"], sort=False).size().reset_index(name="rows")
    counted["nearest"] = [near_word(word, TELLING) for word in counted["word"]]
    return counted.sort_values("rows", ascending=False, kind="stable", ignore_index=True)
