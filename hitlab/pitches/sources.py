"""Where pitches come from: a file or a data frame, brought to one form before it is judged.

Everything becomes an Arrow table of untouched cells plus what is needed to name a place in the
source (row and line) and to give the caller back the kind of frame that came in. Text files
are read in :mod:`hitlab.pitches.textfiles`.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa

from hitlab.errors import ReadingError
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.opening import refuse_counts
from hitlab.pitches.origin import Bounds, Source
from hitlab.showing import quoted, storable

__all__ = [
    "TEXT",
    "as_arrow",
    "checked_to_arrow",
    "checked_to_pandas",
    "first_line",
    "frame_kind",
    "from_arrow",
    "open_source",
]

TEXT = pd.StringDtype("pyarrow", na_value=np.nan)
"""How the table holds text: the default of newer pandas, named so that older ones use it too."""


def open_source(
    source: Any,
    mapping: Mapping,
    bounds: Bounds | None = None,
    *,
    aside: Iterable[Any] = (),
    whole: bool = False,
) -> Source:
    """Bring a file or a data frame to one form.

    Parameters
    ----------
    source
        Path of a text file, workbook, Parquet or Feather/Arrow file, or of a folder; a list of paths; or any
        data frame that narwhals knows.
    mapping
        Says how a text file is written.
    bounds
        How much of a file is accepted; the usual where left out.
    aside
        Files of a folder that are no pitches.
    whole
        Take sheets and files that lack a needed column, too, and all columns of a text file: else those
        that nobody asks for may hold nothing.

    Raises
    ------
    ReadingError
        Where there is nothing to read, or it cannot be read.
    """
    if isinstance(source, list | tuple) and not source:
        raise ReadingError("An empty list of files was given. Name the files.")
    if isinstance(source, str | os.PathLike | list | tuple):
        from hitlab.pitches.files import open_file
        from hitlab.pitches.gathering import is_several, open_several
        from hitlab.pitches.headings import asked_for

        if is_several(source):
            return open_several(source, mapping, bounds or Bounds(), aside=aside, all_of_them=whole)
        if isinstance(source, str | os.PathLike):
            asked = None if whole else partial(asked_for, mapping=mapping)
            return open_file(source, mapping, bounds or Bounds(), all_of_them=whole, asked=asked)
    from hitlab.pitches.joining import renamed

    one, said = renamed(_open_frame(source), mapping)
    return replace(one, said=(*said, *one.said)) if said else one


def as_arrow(frame: pd.DataFrame) -> pa.Table:
    """Arrow table of a checked pandas frame; dates become days."""
    table = pa.Table.from_pandas(frame, preserve_index=False).replace_schema_metadata(None)
    if "date" in table.column_names:
        place = table.column_names.index("date")
        table = table.set_column(place, "date", table.column(place).cast(pa.date32()))
    return table


def checked_to_arrow(table: Any) -> pa.Table:
    """Arrow table of a checked table of any kind, lazy ones included."""
    return as_arrow(table if isinstance(table, pd.DataFrame) else checked_to_pandas(table)[0])


def checked_to_pandas(table: Any) -> tuple[pd.DataFrame, Callable[[pd.DataFrame], Any]]:
    """Copy a checked table of any kind into pandas, and give the way back to its kind.

    Whole numbers and flags stay what they are although some are missing.
    """
    if isinstance(table, pd.DataFrame):
        return table.copy(), lambda frame: frame
    source = open_source(table, Mapping())
    return source.table.to_pandas(types_mapper=_NULLABLE.get), source.give_back


_NULLABLE = {
    pa.int64(): pd.Int64Dtype(),
    pa.bool_(): pd.BooleanDtype(),
    pa.string(): TEXT,
    pa.large_string(): TEXT,
}


def first_line(error: BaseException) -> str:
    """Shorten what another library says of an error."""
    return (str(error).strip().splitlines() or [type(error).__name__])[0][:200]


def from_arrow(
    name: str,
    table: pa.Table,
    give_back: Callable[[pd.DataFrame], Any] | None = None,
    said: tuple[str, ...] = (),
) -> Source:
    """Take a table of Arrow as a source.

    Parameters
    ----------
    name
        What to call it in messages.
    table
        Its cells.
    give_back
        Turns the finished pandas frame into the caller's kind; None leaves it.
    said
        Sentences about how it was read.

    Raises
    ------
    ReadingError
        Where it has no rows.
    """
    if table.num_rows == 0:
        raise ReadingError(
            f"{name} has columns ({', '.join(table.column_names[:10]) or 'none'}) and no rows. "
            "Nothing can be read from it."
        )
    # Arrow cannot pick rows of string views.
    columns = [
        column.cast(pa.large_string()) if column.type == pa.string_view() else column
        for column in table.columns
    ]
    table = pa.table(columns, names=[column.strip() for column in table.column_names])
    rows = np.arange(1, table.num_rows + 1)
    keep = give_back if give_back is not None else lambda frame: frame
    return Source(name, table, rows, said=said, give_back=keep)


def frame_kind(source: Any) -> str:
    """Kind of a data frame: ``pandas``, ``polars``, ``polars lazy``, ``pyarrow``, ``duckdb``, ...

    Raises
    ------
    ReadingError
        Where it is no data frame that narwhals knows.
    """
    import narwhals as nw

    if _is_dask(source):
        return "dask"
    try:
        wrapped = nw.from_native(source)
    except Exception as error:
        # narwhals raises several kinds of error here (unknown type, repeated column names).
        if isinstance(source, pd.DataFrame):
            return "pandas"
        raise ReadingError(
            f"A {type(source).__name__} cannot be read as a pitch table. Accepted: the path of a file, a "
            "pandas, Polars, PyArrow or Dask data frame, or a DuckDB relation."
        ) from error
    kind = str(wrapped.implementation.value)
    lazy = isinstance(wrapped, nw.LazyFrame)
    return "polars lazy" if lazy and kind == "polars" else kind


def _is_dask(source: Any) -> bool:
    """Say whether it is a Dask frame; these are collected by Dask itself, without narwhals."""
    return type(source).__module__.partition(".")[0] == "dask" and hasattr(source, "compute")


def _open_frame(source: Any) -> Source:
    import narwhals as nw

    refuse_counts(source)
    kind = frame_kind(source)
    name = f"the {kind} table"
    if kind == "pandas":
        table, escaped = _pandas_to_arrow(source)
        return from_arrow("the pandas data frame", table, said=escaped)
    said: tuple[str, ...] = (f"The {kind} table was collected into memory to be checked.",)
    try:
        if kind == "dask":
            table, escaped = _pandas_to_arrow(source.compute())
            said += escaped
        else:
            wrapped = nw.from_native(source)
            if isinstance(wrapped, nw.LazyFrame):
                table = wrapped.collect(backend="pyarrow").to_native()
            else:
                table, said = wrapped.to_arrow(), ()
    except Exception as error:
        # A lazy frame runs the caller's own query here, so any error of any engine can come out.
        raise ReadingError(f"{name} cannot be collected: {first_line(error)}") from error
    back = _BACK.get(kind)
    if back is None:
        said = (*said, f"The checked table is a pandas data frame, not a {kind} one.")
    return from_arrow(name, table, back, said)


def _pandas_to_arrow(frame: pd.DataFrame) -> tuple[pa.Table, tuple[str, ...]]:
    """Column by column, so that one column of mixed values does not spoil the others."""
    arrays, said = [], []
    names = [storable(str(name)) for name in frame.columns]
    for place in range(frame.shape[1]):
        series = frame.iloc[:, place]
        try:
            arrays.append(pa.chunked_array([pa.Array.from_pandas(series)]))
        except (pa.ArrowException, TypeError, ValueError, OverflowError):
            missing = series.isna().to_numpy()
            texts = [None if gone else str(value) for gone, value in zip(missing, series, strict=True)]
            held = [None if text is None else storable(text) for text in texts]
            arrays.append(pa.chunked_array([pa.array(held, pa.string())]))
            halves = [row for row, pair in enumerate(zip(texts, held, strict=True), 1) if pair[0] != pair[1]]
            if halves:
                said.append(
                    f"{names[place]} holds half of a character in {len(halves):,} row(s), first in row "
                    f"{halves[0]}, as where bytes were read with the wrong encoding: it is written as "
                    f"{quoted(held[halves[0] - 1])}."
                )
        except NotImplementedError as error:
            raise ReadingError(
                f"Column {str(frame.columns[place])!r} of the pandas data frame has the type {series.dtype}, "
                "which cannot be read. Turn it into text or numbers."
            ) from error
    return pa.table(arrays, names=names), tuple(said)


def _to_polars(frame: pd.DataFrame) -> Any:
    import narwhals as nw

    return nw.from_arrow(as_arrow(frame), backend="polars").to_native()


def _to_duckdb(frame: pd.DataFrame) -> Any:
    from hitlab.pitches.connecting import own_connection

    # Not the caller's default connection, which stays untouched.
    return own_connection().from_arrow(as_arrow(frame))


def _to_dask(frame: pd.DataFrame) -> Any:
    from dask import dataframe as dask_frame

    return dask_frame.from_pandas(frame, npartitions=1)


def _to_spark(frame: pd.DataFrame) -> Any:
    from pyspark.sql import SparkSession

    # The caller's frame came from this session, or from one that shares its catalogue.
    return SparkSession.builder.getOrCreate().createDataFrame(as_arrow(frame))


_BACK: dict[str, Callable[[pd.DataFrame], Any]] = {
    "polars": _to_polars,
    "polars lazy": lambda frame: _to_polars(frame).lazy(),
    "pyarrow": as_arrow,
    "duckdb": _to_duckdb,
    "dask": _to_dask,
    "pyspark": _to_spark,
}
