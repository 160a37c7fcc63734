"""Files whose rows are read block by block, so that memory does not hold them all: text, Parquet, Feather."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

import numpy as np
import pyarrow as pa

from hitlab.pitches.dictionaries import pool
from hitlab.pitches.files import (
    PARQUET,
    START,
    TEXT,
    WORKBOOK,
    Again,
    bounded,
    columnar_errors,
    kind_of,
    unreadable,
)
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.origin import Bounds, Lines, Source
from hitlab.pitches.regular import regular
from hitlab.pitches.sources import from_arrow
from hitlab.pitches.textfiles import Asked, Plain, TextFile
from hitlab.writing import note_read

__all__ = ["ColumnarFile", "cut", "open_rows", "stitched"]

_BATCH = 1 << 16
"""Rows of a Parquet file that are read at once: what is done once a block then costs little."""


@contextmanager
def open_rows(
    path: Path,
    mapping: Mapping,
    bounds: Bounds,
    asked: Asked | None = None,
    *,
    of_text: Asked | None = None,
    to_show: bool = True,
    heard: Callable[[int], object] | None = None,
    plain: Plain | None = None,
) -> Iterator[TextFile | ColumnarFile | None]:
    """Open a file whose rows are read block by block.

    Parameters
    ----------
    path
        The file.
    mapping, bounds
        How a text file is written, and how much is accepted.
    asked
        Which columns are needed; None for all. The others may hold nothing.
    of_text
        The same of a text file, where that is something else.
    to_show
        Whether cells of the others may have to be shown.
    heard
        Is told of the bytes that are read, how many each time.
    plain
        Of a text file that was gone through before what :attr:`TextFile.plain` was then.

    Yields
    ------
    TextFile, ColumnarFile or None
        The open file; None for a workbook, which is read whole.

    Raises
    ------
    ReadingError
        Where it cannot be read; also while it is read.
    """
    with regular(path) as file:
        note_read(path)
        try:
            start = file.read(START)
            kind = kind_of(start, path)
            if kind == WORKBOOK:
                yield None
            elif kind == TEXT:
                again = Again(start, file, heard)
                yield TextFile(again, path, mapping, bounds, of_text or asked, to_show=to_show, plain=plain)
            else:
                yield ColumnarFile(path, kind, bounds, asked, to_show=to_show, heard=heard)
        except OSError as error:
            raise unreadable(path, error) from error


class ColumnarFile:
    """A Parquet or Feather file that is read block by block.

    Parameters
    ----------
    path, kind, bounds
        The file, which of the two it is, and how much is accepted.
    asked, to_show, heard
        As for :func:`open_rows`.

    Raises
    ------
    ReadingError
        Where it is damaged, has no rows, or more than is accepted.
    """

    lines: Lines | None = None
    said: tuple[str, ...] = ()
    plain: Plain = MappingProxyType({})

    def __init__(
        self,
        path: Path,
        kind: str,
        bounds: Bounds,
        asked: Asked | None,
        *,
        to_show: bool = True,
        heard: Callable[[int], object] | None = None,
    ) -> None:
        self._path, self._kind, self._heard = path, kind, heard
        with columnar_errors(path, kind), self._opened() as opened:
            self._schema = opened.schema_arrow if kind == PARQUET else opened.schema
            self.rows = opened.metadata.num_rows if kind == PARQUET else _rows_of(opened)
        bounded(self.rows, path, bounds)
        self.names = [name.strip() for name in self._schema.names]
        if not self.rows:
            from_arrow(path.name, self._schema.empty_table())
        # A block is taken apart by names.
        alone = kind == PARQUET and not to_show and len(set(self._schema.names)) == len(self.names)
        needed = sorted(asked(self.names)) if asked is not None and alone else []
        self._places = needed or list(range(len(self.names)))

    @contextmanager
    def _opened(self) -> Iterator[Any]:
        from pyarrow import parquet

        with pa.OSFile(str(self._path)) as file:
            if self._kind != PARQUET:
                yield pa.ipc.open_file(file)
                return
            footer = parquet.ParquetFile(file)
            # Texts stay where they stand once for all, as most files have them.
            kinds = (pa.string(), pa.large_string())
            texts = [field.name for field in footer.schema_arrow if field.type in kinds]
            yield parquet.ParquetFile(
                file, metadata=footer.metadata, read_dictionary=texts, page_checksum_verification=True
            )

    def _batches(self) -> Iterator[pa.RecordBatch]:
        names = [self._schema.names[place] for place in self._places]
        with self._opened() as opened:
            if self._kind == PARQUET:
                whole = len(names) == len(self.names)
                yield from opened.iter_batches(batch_size=_BATCH, columns=None if whole else names)
                return
            for number in range(opened.num_record_batches):
                batch = opened.get_batch(number)
                for begin in range(0, batch.num_rows, _BATCH):
                    yield batch.slice(begin, _BATCH)

    def sources(self) -> Iterator[Source]:
        """Give the blocks as sources of their own, whose rows are those of the file."""
        before, batches = 0, self._batches()
        while True:
            with columnar_errors(self._path, self._kind):
                batch = next(batches, None)
            if batch is None:
                return
            if batch.num_rows:
                columns: list[Any] = [pa.nulls(batch.num_rows)] * len(self.names)
                for place, column in zip(self._places, batch.columns, strict=True):
                    columns[place] = column
                names = [str(place) for place in range(len(columns))]
                source = from_arrow(self._path.name, pa.table(columns, names=names))
                table = source.table.rename_columns(self.names)
                yield replace(source, table=table, rows=source.rows + before)
                before += batch.num_rows
                if self._heard is not None:
                    self._heard(self._path.stat().st_size * batch.num_rows // self.rows)


def _rows_of(opened: Any) -> int:
    return sum(opened.get_batch(number).num_rows for number in range(opened.num_record_batches))


def cut(source: Source, first: int, last: int) -> Source:
    """Give some rows of a source by themselves, with what was no row among them.

    Parameters
    ----------
    source
        The source.
    first, last
        Numbers of the first and the last of the rows.
    """
    begin, end = np.searchsorted(source.rows, [first, last + 1]).tolist()
    whole = source.original
    return replace(
        source,
        table=source.table.slice(begin, end - begin),
        rows=source.rows[begin:end],
        ragged=tuple(one for one in source.ragged if first <= one.row <= last),
        original=None if whole is None else lambda places: whole(np.asarray(places) + begin),
    )


def stitched(sources: list[Source]) -> Source:
    """Put pieces of one file together that follow each other.

    Parameters
    ----------
    sources
        One or more, from :func:`cut`.
    """
    if len(sources) == 1:
        return sources[0]
    of_rows = np.array([_first(one) for one in sources])
    ends = np.cumsum([one.table.num_rows for one in sources])
    # Not the sources themselves, whose cells would stay in memory beside the same ones together.
    finders = [one.lines for one in sources]

    def lines(rows: np.ndarray) -> np.ndarray | None:
        rows = np.asarray(rows, dtype=np.int64)
        found = np.zeros(len(rows), dtype=np.int64)
        which = np.searchsorted(of_rows, rows, side="right") - 1
        for number in np.unique(which).tolist():
            lines_of = finders[number]
            told = None if lines_of is None else lines_of(rows[which == number])
            if told is None:
                return None
            found[which == number] = told
        return found

    shown = (
        [(one.cells_of, one.table.num_rows) for one in sources]
        if any(one.original for one in sources)
        else []
    )

    def original(places: np.ndarray) -> pa.Table:
        places = np.asarray(places, dtype=np.int64)
        order = np.argsort(places, kind="stable")
        which = np.searchsorted(ends, places[order], side="right")
        tables = []
        for number in np.unique(which).tolist():
            cells_of, many = shown[number]
            tables.append(cells_of(places[order][which == number] - (ends[number] - many)))
        back = np.empty(len(order), dtype=np.int64)
        back[order] = np.arange(len(order))
        return _one_below_the_other(tables).take(pa.array(back))

    return replace(
        sources[0],
        table=_one_below_the_other([one.table for one in sources]),
        rows=np.concatenate([one.rows for one in sources]),
        lines=None if sources[0].lines is None else lines,
        ragged=tuple(row for one in sources for row in one.ragged),
        original=original if shown else None,
    )


def _first(source: Source) -> int:
    rows = [int(source.rows[0])] if len(source.rows) else []
    return min([*rows, *(one.row for one in source.ragged)], default=0)


def _one_below_the_other(tables: list[pa.Table]) -> pa.Table:
    names = tables[0].column_names
    numbered = [table.rename_columns([str(place) for place in range(len(names))]) for table in tables]
    return pa.concat_tables(numbered).unify_dictionaries(memory_pool=pool()).rename_columns(names)
