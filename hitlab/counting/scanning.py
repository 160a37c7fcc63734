"""Whole saved tables counted by the codes in which their files hold what tells pitches apart.

A saved table holds each of its texts once and then their numbers. Pitches are counted by these numbers, some
row groups at a time, and the texts are looked at once for all pitches that have them. Of other columns only
that is taken which the rules can tell apart: of a speed off the bat, whether it is hard. The rules themselves
are asked about one pitch of each kind that was found.

That is quick where there are few groups: by the hitter, the club, the count. Where there are many, or a key
is of a kind that has many values, such as a speed, nothing is counted so, and an engine that groups has to.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.facts import FACT_COLUMNS, FASTEST_MPH, Conventions, pitch_facts
from hitlab.counting.numbering import numbered_in_order
from hitlab.counting.summing import ROWS, Counted, Pitched, collected, note_brought
from hitlab.pitches.dictionaries import unified
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.storing import demand_unchanged, whole_files

if TYPE_CHECKING:
    import pyarrow as pa

__all__ = ["Scanned", "scanned"]

_AT_ONCE = 4  # row groups that are counted at a time (a default): half a million pitches
_PUT_TOGETHER = 4  # such pieces are kept at most before they are added up (a default)
_MOST_CELLS = 1_048_576  # groups times kinds that are counted so (a default): 8 MB
_FEW = 128  # combinations that are not looked through for those that occur (a default)
_MOST_WHOLE = 254  # the largest whole number of a column that has few values

_READ = (*FACT_COLUMNS, "result")


class _OtherwiseError(Exception):
    """It has to be counted otherwise."""


@dataclass(frozen=True, slots=True)
class _Coded:
    """A column of some pitches in codes.

    Attributes
    ----------
    codes
        Whole numbers from 0, one a pitch.
    values
        Arrow array of what each stands for; one of them may be missing.
    """

    codes: np.ndarray[Any, Any]
    values: Any


@dataclass(frozen=True, slots=True)
class _Table:
    """A file, its metadata, and those of its columns that are asked for and hold texts."""

    file: Path
    metadata: Any
    texts: Sequence[str]

    def opened(self) -> Any:
        """Open it, its texts in codes; what else stands in the file is not looked through once more."""
        from pyarrow import parquet

        with _said_by_an_engine():
            return parquet.ParquetFile(self.file, metadata=self.metadata, read_dictionary=self.texts)


@dataclass(frozen=True, slots=True)
class _Piece:
    """What some row groups count: how many pitches of each kind (a column) there are in each group (a row).

    ``groups`` and ``kinds`` are Arrow tables that have each combination of values once.
    """

    groups: pa.Table
    kinds: pa.Table
    counts: np.ndarray[Any, Any]


@dataclass(frozen=True, slots=True)
class Scanned:
    """Pitches of whole saved tables.

    Attributes
    ----------
    frame
        The narwhals frame over all of them.
    files
        The files, in their order.
    columns
        The names of all columns.
    """

    frame: Any
    files: Sequence[Path]
    columns: set[str]

    def rows_by(self, *names: str) -> pd.DataFrame:
        """Return each combination that some columns have, what is missing among them, and its pitches."""
        names = tuple(dict.fromkeys(names))
        whole = self._counted(names, (), 0.0)
        if whole is None:
            return Pitched(self.frame).rows_by(*names)
        return _brought(whole.groups).assign(**{ROWS: whole.counts.sum(axis=1)})

    def counted(self, keys: Sequence[str], conventions: Conventions) -> Counted | None:
        """Count pitches by some columns and the facts of a pitch, with how its plate appearance ended.

        Parameters
        ----------
        keys
            The columns.
        conventions
            How pitches are counted.

        Returns
        -------
        Counted, or None
            Its kinds have the pitch's facts and, where the table has it, the ``result``. ``None`` where it
            has to be counted otherwise.
        """
        told = [name for name in _READ if name in self.columns]
        whole = self._counted(keys, told, conventions.threshold_mph)
        if whole is None:
            return None
        ending = [nw.col("result")] if "result" in self.columns else []
        facts = nw.from_native(whole.kinds).select(*pitch_facts(self.columns, conventions), *ending)
        group, kind = np.nonzero(whole.counts)
        return Counted(_brought(whole.groups), collected(facts), group, kind, whole.counts[group, kind])

    def _counted(self, keys: Sequence[str], told: Sequence[str], threshold_mph: float) -> _Piece | None:
        """Count by keys and what the rules can tell apart of other columns; ``None`` where it cannot be."""
        import pyarrow as pa

        with suppress(_OtherwiseError):
            whole = _whole(self.files, list(keys), list(told), threshold_mph)
            with _said_by_an_engine():
                whole.groups.validate(full=True)
            demand_unchanged(nw.to_native(self.frame))
            occur = whole.counts.any(axis=1)
            return _Piece(whole.groups.filter(pa.array(occur)), whole.kinds, whole.counts[occur])
        return None


def scanned(frame: Any) -> Scanned | None:
    """Return the pitches of a frame as those of the saved tables that it is all of; ``None`` for any other.

    Parameters
    ----------
    frame
        A narwhals frame.
    """
    files = whole_files(nw.to_native(frame))
    return None if files is None else Scanned(frame, files, set(frame.collect_schema().names()))


def _brought(groups: pa.Table) -> pd.DataFrame:
    note_brought(groups)
    return collected(nw.from_native(groups, eager_only=True))


def _whole(files: Sequence[Path], keys: list[str], told: list[str], threshold_mph: float) -> _Piece:
    """Count the pitches of files, on as many threads as Arrow has."""
    import pyarrow as pa
    from pyarrow import parquet

    names = list(dict.fromkeys([*keys, *told]))
    threads, tasks = pa.cpu_count(), list[tuple[_Table, list[int]]]()
    for file in files:
        with _said_by_an_engine():
            metadata = parquet.read_metadata(file)
        table = _Table(file, metadata, _texts_of(metadata.schema.to_arrow_schema(), names))
        groups = [one for one in range(metadata.num_row_groups) if metadata.row_group(one).num_rows]
        size = min(_AT_ONCE, -(-len(groups) // threads) or 1) if len(files) == 1 else _AT_ONCE
        tasks += [(table, groups[at : at + size]) for at in range(0, len(groups), size)]
    if not tasks:
        raise _OtherwiseError

    def work(share: Sequence[tuple[_Table, list[int]]]) -> _Piece:
        pieces, room = list[_Piece](), np.empty(0, dtype=np.int64)
        before, opened = None, None
        for table, groups in share:
            if table is not before:
                before, opened = table, table.opened()
            columns = _columns(opened, groups, names)
            pitches = len(columns[names[0]])
            if len(room) < pitches:  # taken anew each time, it cost as much as half of what it is for
                room = np.empty(pitches, dtype=np.int64)
            pieces.append(_piece(columns, keys, told, threshold_mph, room[:pitches]))
            if len(pieces) == _PUT_TOGETHER:
                pieces = [_put_together(pieces)]
        return _put_together(pieces)

    shares = [share for first in range(threads) if (share := tasks[first::threads])]
    if len(shares) < 2:
        return _put_together([work(share) for share in shares])
    with ThreadPoolExecutor(len(shares)) as pool:
        return _put_together(list(pool.map(work, shares)))


def _piece(
    columns: Mapping[str, pa.ChunkedArray],
    keys: Sequence[str],
    told: Sequence[str],
    threshold_mph: float,
    cell: np.ndarray[Any, Any],
) -> _Piece:
    """Count pitches by keys and what else is told of them; ``cell`` has room for a whole number a pitch."""
    import pyarrow as pa

    groups, by_group = _combined({name: _coded(columns[name]) for name in keys}, len(cell))
    facts = {
        name: _judged(columns[name], threshold_mph) if name == "exit_mph" else _coded(columns[name])
        for name in told
    }
    kinds, by_kind = _combined(facts, len(cell))
    many, few = len(groups), max(len(kinds), 1)
    _demand_few(many * few)
    np.multiply(by_group, few, out=cell, casting="unsafe", dtype=np.int64)
    cell += by_kind
    counts = np.bincount(cell, minlength=many * few).reshape(many, few)
    if not told:
        return _Piece(groups, kinds, counts)
    occur = counts.any(axis=0)
    return _Piece(groups, kinds.filter(pa.array(occur)), counts[:, occur])


@contextmanager
def _said_by_an_engine() -> Iterator[None]:
    """Leave what cannot be read to the engine, which says what is wrong."""
    import pyarrow as pa

    try:
        yield
    except (OSError, pa.ArrowException) as error:
        raise _OtherwiseError from error


def _demand_few(combinations: int) -> None:
    if combinations > _MOST_CELLS:
        raise _OtherwiseError


def _texts_of(schema: pa.Schema, names: Sequence[str]) -> list[str]:
    """Return those columns that hold texts; refuse any that is not there, or not what saved tables have."""
    import pyarrow as pa

    kinds = {"flag": pa.types.is_boolean, "number": pa.types.is_float64, "whole": pa.types.is_int64}
    for name in names:
        # To an engine a column of somebody's own that differs in capitals alone is ours.
        alike = [field for field in schema if field.name.casefold() == name.casefold()]
        known = COLUMNS.get(name)
        fits = kinds.get(known.kind if known else "", _is_text)
        if len(alike) != 1 or alike[0].name != name or not fits(alike[0].type):
            raise _OtherwiseError
    return [name for name in names if _is_text(schema.field(name).type)]


def _is_text(kind: pa.DataType) -> bool:
    import pyarrow as pa

    kind = kind.value_type if pa.types.is_dictionary(kind) else kind
    return bool(pa.types.is_string(kind) or pa.types.is_large_string(kind))


def _columns(opened: Any, groups: Sequence[int], names: Sequence[str]) -> dict[str, pa.ChunkedArray]:
    """Read columns of some row groups."""
    import pyarrow as pa

    with _said_by_an_engine():
        # One after the other: read together, columns would lie in pieces of other lengths.
        tables = [opened.read_row_group(group, columns=list(names), use_threads=False) for group in groups]
    return {name: pa.chunked_array([p for one in tables for p in one.column(name).chunks]) for name in names}


def _coded(column: pa.ChunkedArray) -> _Coded:
    """Give a column of few values in codes."""
    import pyarrow as pa
    import pyarrow.compute as pc

    missing = column.null_count > 0
    if pa.types.is_boolean(column.type):
        codes = _yes(column)
        if missing:
            codes += 2 * _yes(column.is_null())
        return _Coded(codes, pa.array([False, True, *([None] if missing else [])], pa.bool_()))
    if pa.types.is_integer(column.type):
        low, high = (pc.min_max(column)[end].as_py() or 0 for end in ("min", "max"))
        if low < 0 or high > _MOST_WHOLE:
            raise _OtherwiseError
        codes = pc.cast(pc.fill_null(column, high + 1), pa.uint8()).to_numpy()
        return _Coded(codes, pa.array([*range(high + 1), *([None] if missing else [])], column.type))
    if not pa.types.is_dictionary(column.type):
        raise _OtherwiseError
    column = unified(column)
    values = column.chunk(0).dictionary
    if values.null_count or len(values.unique()) < len(values):
        raise _OtherwiseError
    small = np.min_scalar_type(len(values))
    codes = np.concatenate([_indices(part) for part in column.chunks], dtype=small, casting="unsafe")
    if missing:
        codes[_yes(column.is_null()).view(np.bool_)] = len(values)
    values = values.cast(pa.large_string())
    return _Coded(codes, pa.concat_arrays([values, pa.nulls(1, values.type)]) if missing else values)


def _indices(coded: pa.DictionaryArray) -> np.ndarray[Any, Any]:
    """Give the codes of an array; where a value is missing, anything."""
    codes = coded.indices
    kind = codes.type.to_pandas_dtype()
    return np.frombuffer(codes.buffers()[1], kind, len(codes), codes.offset * np.dtype(kind).itemsize)


def _yes(flags: pa.ChunkedArray) -> np.ndarray[Any, Any]:
    """Give 1 where a column of yes and no says yes, and 0 where it says no or nothing.

    Arrow holds both in bits. To fill in what is missing took it ten times as long as to look at the bits.
    """
    told = [np.zeros(0, dtype=np.uint8)]
    for part in flags.chunks:
        if len(part):
            end = part.offset + len(part)
            valid, bits = part.buffers()
            size = -(-end // 8)
            yes = np.frombuffer(bits, np.uint8, size)
            if valid is not None:
                yes = yes & np.frombuffer(valid, np.uint8, size)
            told.append(np.unpackbits(yes, count=end, bitorder="little")[part.offset :])
    return np.concatenate(told)


def _judged(speeds: pa.ChunkedArray, threshold_mph: float) -> _Coded:
    """Tell of speeds off the bat what the rules can: none that counts, below the threshold, or from it on."""
    import pyarrow as pa
    import pyarrow.compute as pc

    known = pc.and_(pc.greater_equal(speeds, 0.0), pc.less_equal(speeds, FASTEST_MPH))
    codes = _yes(known)
    codes += _yes(pc.and_(known, pc.greater_equal(speeds, threshold_mph)))
    return _Coded(codes, pa.array([None, 0.0, threshold_mph]))


def _combined(columns: Mapping[str, _Coded], pitches: int) -> tuple[pa.Table, np.ndarray[Any, Any]]:
    """Give the combinations that columns in codes can have, and that of each pitch.

    Those that do not occur are left out where there are many.
    """
    import pyarrow as pa

    number: np.ndarray[Any, Any] = np.zeros(1, dtype=np.uint8)
    many, picked = 1, dict[str, np.ndarray[Any, Any]]()
    for name, one in columns.items():
        values = len(one.values)
        if many == 1:
            number = one.codes
        elif values > 1:
            _demand_few(many * values)
            number = number.astype(np.min_scalar_type(many * values - 1))
            number *= number.dtype.type(values)
            np.add(number, one.codes, out=number, casting="unsafe")
        picked = {other: np.repeat(codes, values) for other, codes in picked.items()}
        picked[name] = np.tile(np.arange(values), many)
        many *= values
        if len(picked) > 1 and many > _FEW:
            occur = np.flatnonzero(np.bincount(number, minlength=many))
            if 2 * len(occur) <= many:
                place = np.zeros(many, dtype=np.min_scalar_type(max(len(occur) - 1, 0)))
                place[occur] = np.arange(len(occur))
                number, many = place.take(number), len(occur)
                picked = {other: codes[occur] for other, codes in picked.items()}
    table = pa.table({name: one.values.take(pa.array(picked[name])) for name, one in columns.items()})
    return table, number if columns else np.zeros(pitches, dtype=np.uint8)


def _put_together(pieces: Sequence[_Piece]) -> _Piece:
    """Add pieces up: each group and each kind once, in their order, what is missing last."""
    import pyarrow as pa

    together = []
    for tables in ([piece.groups for piece in pieces], [piece.kinds for piece in pieces]):
        table = pa.concat_tables(tables)
        if not table.num_columns:
            together.append((table, [np.zeros(1, dtype=np.int64)] * len(pieces), 1))
            continue
        place, first = numbered_in_order(table, table.column_names)
        ends = np.cumsum([len(one) for one in tables])[:-1]
        together.append((table.take(first), np.split(place, ends), len(first)))
    (groups, rows, many), (kinds, columns, few) = together
    _demand_few(many * few)
    counts = np.zeros((many, few), dtype=np.int64)
    for piece, row, column in zip(pieces, rows, columns, strict=True):
        wide = np.zeros((len(row), few), dtype=np.int64)
        wide[:, column] = piece.counts  # row by row: cell by cell takes three times as long
        counts[row] += wide
    return _Piece(groups, kinds, counts)
