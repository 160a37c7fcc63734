"""Files and sheets put together: columns by their names, every row with its place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from hitlab.errors import ReadingError
from hitlab.pitches.cells import source_cells
from hitlab.pitches.mapping import Mapping, fold
from hitlab.pitches.origin import LeftOut, Lines, Part, RaggedRow, Source
from hitlab.pitches.schema import NEEDED
from hitlab.pitches.wordforms import many_rows
from hitlab.wording import listed

__all__ = ["Piece", "join", "one_column_each", "renamed"]

Piece = tuple[str, str, Source]
"""Name of the file, name of the sheet (or nothing), cells."""

_LISTED = 12


def renamed(source: Source, mapping: Mapping) -> tuple[Source, tuple[str, ...]]:
    """Give columns that have another name here the one that the mapping knows; and say which.

    Parameters
    ----------
    source
        The cells.
    mapping
        Its ``[also]`` says which name means which.
    """
    if not mapping.also:
        return source, ()
    there = {fold(name) for name in source.columns}
    names, said = [], []
    for name in source.columns:
        other = mapping.also.get(fold(name))
        if other is None or fold(other) in there:
            names.append(name)
        else:
            names.append(other)
            said.append(f"{source.name}: the column {name!r} is {other!r}, as the mapping says.")
    also = frozenset(there & mapping.also.keys())
    return replace(source, table=source.table.rename_columns(names), also=also), tuple(said)


def join(
    pieces: Sequence[Piece],
    left_out: Sequence[LeftOut],
    mapping: Mapping,
    name: str,
    *,
    all_of_them: bool = False,
) -> Source:
    """Put files and sheets together.

    Parameters
    ----------
    pieces
        What is to be put together, in this order.
    left_out
        What was left out before.
    mapping
        Tells which of them hold pitches: those in which something fills every needed column.
    name
        What to call the whole in messages.
    all_of_them
        Take the others, too.

    Raises
    ------
    ReadingError
        Where none of them holds pitches.
    """
    out = list(left_out)
    taken: list[Piece] = []
    said: list[str] = []
    also: frozenset[str] = frozenset()
    for file, sheet, source in pieces:
        source, words = renamed(source, mapping)
        also |= source.also
        lacking = [] if all_of_them else _lacking(source.columns, mapping)
        if lacking:
            columns = ", ".join(repr(one) for one in source.columns[:_LISTED])
            more = ", ..." if len(source.columns) > _LISTED else ""
            out.append(
                LeftOut(
                    file,
                    sheet,
                    f"no column of it is {' or '.join(lacking)} ({many_rows(source.table.num_rows)}; its "
                    f"columns: {columns}{more})",
                    lacking=" or ".join(lacking),
                )
            )
        else:
            taken.append((file, sheet, source))
            said += [*words, *source.said]
    if not taken:
        if len(pieces) == 1:
            return renamed(pieces[0][2], mapping)[0]  # the usual message names the columns
        unfilled = [one.name for one in out if one.unfilled and not _lacking(one.unfilled, mapping)]
        if unfilled and not pieces:
            theirs = ("have", "their") if unfilled[1:] else ("has", "its")
            raise ReadingError(
                f"No pitch stands in {name}: {listed(unfilled)} {theirs[0]} the names of {theirs[1]} columns "
                "and no row below them"
            )
        reasons = "; ".join(f"{one.name}: {one.reason}" for one in out[:_LISTED])
        raise ReadingError(
            f"Nothing in {name} is a table of pitches: {reasons or 'it is empty'}. Say in the mapping which "
            'columns these are, such as: [columns] "its name in the source" = "hitter"'
        )
    return replace(_put_together(taken, out, said, name), also=also)


def _lacking(columns: Sequence[str], mapping: Mapping) -> list[str]:
    """Needed columns that nothing in a part fills."""
    there = {fold(name) for name in columns}
    filled = set(mapping.constants)
    for column, targets in mapping.columns.items():
        if fold(column) in there:
            filled |= set(targets)
    for column, split in mapping.split.items():
        if fold(column) in there:
            filled |= set(split.into)
    return [target for target in NEEDED if target not in filled | there]


def _put_together(taken: list[Piece], out: list[LeftOut], said: list[str], name: str) -> Source:
    keys: dict[tuple[str, int], str] = {}  # folded name and which of that name -> as it is spelled first
    places: list[dict[tuple[str, int], int]] = []
    for _, _, source in taken:
        times: dict[str, int] = {}
        here: dict[tuple[str, int], int] = {}
        for place, column in enumerate(source.columns):
            folded = fold(column)
            key = (folded, times.get(folded, 0))
            times[folded] = key[1] + 1
            keys.setdefault(key, column)
            here[key] = place
        places.append(here)
    columns = []
    for key in keys:
        chunks = [_texts(source, here.get(key)) for (_, _, source), here in zip(taken, places, strict=True)]
        columns.append(pa.chunked_array(chunks))
    table = pa.table(columns, names=[str(place) for place in range(len(columns))])
    parts: list[Part] = []
    rows: list[np.ndarray] = []
    ragged: list[RaggedRow] = []
    merged: list[tuple[int, int, int]] = []
    before = 0
    at = {key: place for place, key in enumerate(keys)}
    for (file, sheet, source), here in zip(taken, places, strict=True):
        joined = {place: at[key] for key, place in here.items()}
        merged += [(joined[place], first + before, last + before) for place, first, last in source.merged]
        parts.append(Part(file, sheet, before, len(source.rows) + len(source.ragged)))
        rows.append(source.rows + before)
        ragged += [one.numbered(one.row + before) for one in source.ragged]
        before += max([int(source.rows.max(initial=0)), *(one.row for one in source.ragged)])
    sources = [source for _, _, source in taken]
    return Source(
        name=name,
        table=table.rename_columns(list(keys.values())),
        rows=np.concatenate(rows),
        lines=_lines(sources, parts),
        ragged=tuple(ragged),
        said=tuple(said),
        lines_read=_lines_read(sources),
        parts=tuple(parts),
        left_out=tuple(out),
        typed_days=any(source.typed_days for source in sources),
        merged=tuple(merged),
    )


def one_column_each(source: Source, also: dict[str, str]) -> Source:
    """Put columns of one meaning, which stand in different parts under different names, into one.

    Parameters
    ----------
    source
        Its parts together.
    also
        Name of a column -> the name that it gets.
    """
    if not also:
        return source
    names = source.columns
    goes = {place: names.index(also[name]) for place, name in enumerate(names) if name in also}
    columns = {place: source.table.column(place) for place in range(len(names))}
    for place, other in goes.items():
        both = [columns[one].cast(pa.string()) for one in (other, place)]
        columns[other] = pc.coalesce(*both)
    kept = [place for place in columns if place not in goes]
    table = pa.table([columns[place] for place in kept], names=[str(place) for place in kept])
    merged = tuple((kept.index(goes.get(place, place)), first, last) for place, first, last in source.merged)
    return replace(source, table=table.rename_columns([names[place] for place in kept]), merged=merged)


def _texts(source: Source, place: int | None) -> pa.DictionaryArray:
    """Give a column as distinct texts and where each stands; nothing where the part does not have it."""
    if place is None:
        nothing = pa.nulls(source.table.num_rows, pa.int32())
        return pa.DictionaryArray.from_arrays(nothing, pa.array([], pa.string()))
    cells = source_cells(source.columns[place], source.table.column(place))
    return pa.DictionaryArray.from_arrays(
        pa.array(cells.codes, pa.int32()), pa.array(cells.texts, pa.string())
    )


def _lines(sources: list[Source], parts: list[Part]) -> Callable[[np.ndarray], np.ndarray | None] | None:
    if any(source.lines is None for source in sources):
        return None
    before = np.array([part.before for part in parts], dtype=np.int64)

    def find(rows: np.ndarray) -> np.ndarray:
        lines = np.zeros(len(rows), dtype=np.int64)
        which = np.searchsorted(before, rows, side="left") - 1
        for number in np.unique(which):
            here, lines_of = which == number, sources[number].lines
            assert lines_of is not None
            found = lines_of(rows[here] - before[number])
            if found is not None:
                lines[here] = found
        return lines

    return find


def _lines_read(sources: list[Source]) -> Lines | None:
    read = [source.lines_read for source in sources if source.lines_read is not None]
    if len(read) < len(sources):
        return None
    names = ("in_file", "above", "header", "rows", "set_aside", "blank")
    return Lines(**{name: sum(getattr(one, name) for one in read) for name in names})
