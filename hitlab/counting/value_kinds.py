"""What stands in a column is of the kind that the rules compare it with: a text is no number.

A text ``"2"`` equals no number 2 on some engines, which say nothing: its pitch would be missing from a count
without a word. So the kinds of columns are looked at before anything is counted. A Dask frame says of all its
partitions what its first one holds; there each partition looks at itself, and only what is wrong comes home.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import narwhals as nw
import pandas as pd

from hitlab.counting.summing import collected
from hitlab.errors import ReadingError
from hitlab.pitches.schema import COLUMNS
from hitlab.showing import quoted

__all__ = ["COMPARED", "demand_kinds", "demand_one_kind", "looked_at"]

COMPARED = frozenset(name for name, column in COLUMNS.items() if column.kind in ("whole", "number", "flag"))
"""Columns of the pitch table that hold numbers or yes and no."""

_FOUND = ("column", "value")


def demand_kinds(frame: Any, names: Iterable[str]) -> None:
    """Refuse a table that has texts where numbers, or yes and no, are compared.

    Parameters
    ----------
    frame
        A narwhals frame.
    names
        Columns that will be compared; others than those of ``COMPARED`` are passed over.

    Raises
    ------
    ReadingError
        Naming the column and one of its texts.
    """
    engine, there = frame.implementation, frame.collect_schema()
    asked = _compared(frame, names)
    # The SQL engines read a text as the number that it is written for, or say that they cannot.
    if not asked or not (engine.is_dask() or isinstance(frame, nw.DataFrame) or engine.is_polars()):
        return
    narrow = frame.select(asked)
    where = ""
    if engine.is_dask():
        native = nw.to_native(narrow)
        empty = pd.DataFrame({name: pd.Series(dtype=object) for name in _FOUND})
        found = collected(nw.from_native(native.map_partitions(_texts_in, meta=empty)))
        if len(found):
            times = int((found["column"] == found["column"].iloc[0]).sum())
            where = f" in {times} of {native.npartitions} partitions"
    elif engine.is_pandas():
        found = _texts_in(nw.to_native(narrow))
    else:
        texts = [name for name in asked if there[name] in (nw.String, nw.Categorical, nw.Enum)]
        found = _texts_in(collected(narrow.select(texts))) if texts else pd.DataFrame()
    _refuse(found, where)


def demand_one_kind(frame: Any, names: Iterable[str]) -> None:
    """Refuse columns of Python objects of several kinds, such as numbers on the back among names.

    Parameters
    ----------
    frame
        A narwhals frame; only pandas has such columns.
    names
        Columns by which groups are told apart, and put in order.

    Raises
    ------
    ReadingError
        Naming the column and one of each kind.
    """
    if not frame.implementation.is_pandas():
        return
    native = nw.to_native(frame)
    for name in names:
        values = native[name]
        found = pd.api.types.infer_dtype(values) if values.dtype == object else ""
        if not found.startswith("mixed") or found == "mixed-integer-float":
            continue
        one_of: dict[type, Any] = {}
        for value in values.dropna():
            one_of.setdefault(type(value), value)
        if len(one_of) > 1:
            first, other = list(one_of.values())[:2]
            raise ReadingError(
                f"column {name} holds {quoted(first)} ({type(first).__name__}) and {quoted(other)} "
                f"({type(other).__name__}), which cannot be told apart in order; read the table with "
                "read_pitches, or give the column one type before it is counted"
            )


def looked_at(frame: Any, names: Iterable[str]) -> Any:
    """Return a narwhals frame on Dask of which each partition is looked at as it is read.

    So nothing is read twice: what is wrong is said by the counting itself, of one partition, and
    :func:`demand_kinds` says of how many. All columns of the frame are read.

    Parameters
    ----------
    frame, names
        As for :func:`demand_kinds`.
    """
    asked = _compared(frame, names)

    def seen(part: pd.DataFrame) -> pd.DataFrame:
        _refuse(_texts_in(part[asked]), " in a partition")
        return part

    native = nw.to_native(frame)
    return nw.from_native(native.map_partitions(seen, meta=native))


def _compared(frame: Any, names: Iterable[str]) -> list[str]:
    there = frame.collect_schema()
    return [name for name in dict.fromkeys(names) if name in COMPARED and name in there]


def _refuse(found: pd.DataFrame, where: str) -> None:
    """Say which column holds texts, if one does."""
    if not len(found):
        return
    name, value = found[["column", "value"]].iloc[0]
    wanted = "true and false" if COLUMNS[name].kind == "flag" else "numbers"
    raise ReadingError(
        f"column {name} holds texts{where}, such as {quoted(value)}, where the pitch table has {wanted}; "
        "read the table with read_pitches, or give the column one type before it is counted"
    )


def _texts_in(frame: pd.DataFrame) -> pd.DataFrame:
    """Return the columns that hold a text, and the first one of each."""
    rows = []
    for name in frame:
        values = frame[name]
        if isinstance(values.dtype, pd.CategoricalDtype):
            values = values.cat.categories.to_series()
        if pd.api.types.is_bool_dtype(values.dtype) or pd.api.types.is_numeric_dtype(values.dtype):
            continue
        texts = (value for value in values.unique() if isinstance(value, str))
        rows += [(name, text) for text in texts][:1]
    return pd.DataFrame(rows, columns=list(_FOUND), dtype=object)
