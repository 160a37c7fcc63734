"""Combinations of values in numbers: equal rows have equal ones, and what is missing is equal to itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from hitlab.pitches.dictionaries import unified

if TYPE_CHECKING:
    import pyarrow as pa

__all__ = ["code_in_order", "numbered", "numbered_in_order"]

_FEW = 1_000  # whole numbers in so narrow a span are their own codes
_MOST = 2**62  # combinations that a whole number tells apart


def numbered(columns: pd.DataFrame) -> np.ndarray[Any, Any]:
    """Give each combination of a frame's columns a number, from 0 in the order of first appearance.

    Parameters
    ----------
    columns
        Those by which rows are told apart.
    """
    number, most = np.zeros(len(columns), dtype=np.int64), 1
    for name in columns if len(columns) else ():
        code = _codes(columns[name])
        kinds = int(code.max()) + 1
        if most * kinds >= _MOST:  # made small before it is too large
            number = pd.factorize(number)[0].astype(np.int64)
            most = int(number.max()) + 1
        if kinds > 1:
            number *= kinds
            number += code
            most *= kinds
    return pd.factorize(number)[0].astype(np.int64, copy=False)


def _codes(column: pd.Series[Any]) -> np.ndarray[Any, Any]:
    """Give each value of a column a whole number from 0; what is missing has one as well."""
    if isinstance(column.dtype, np.dtype) and column.dtype.kind == "i":
        numbers = column.to_numpy()
        low, high = int(numbers.min()), int(numbers.max())
        if high - low < _FEW:
            return np.asarray(np.subtract(numbers, low, dtype=np.int64))  # eight bits do not hold every span
    if isinstance(column.dtype, pd.StringDtype) and column.dtype.storage == "pyarrow":
        import pyarrow as pa

        # Arrow takes half the time of pandas, which makes an array of what is distinct as well.
        texts = pa.table([column.array], ["texts"]).column(0)
        coded = unified(texts.dictionary_encode()).combine_chunks()
        return np.asarray(coded.indices.fill_null(len(coded.dictionary)))
    return pd.factorize(column, use_na_sentinel=False)[0]


def numbered_in_order(
    table: pa.Table, keys: Sequence[str]
) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    """Count the combinations of some columns through in their order, what is missing last.

    Parameters
    ----------
    table
        An Arrow table, whose texts may be codes of a dictionary.
    keys
        Columns by which rows are told apart.

    Returns
    -------
    tuple of numpy.ndarray
        Each row's combination, from 0; and the first row of each combination.
    """
    _, first, group = np.unique(code_in_order(table, keys), return_index=True, return_inverse=True)
    return group, first


def code_in_order(table: pa.Table, keys: Sequence[str]) -> np.ndarray[Any, Any]:
    """Give each row a whole number from 0, equal where all keys are and in their order, what is missing last.

    Parameters
    ----------
    table, keys
        As for :func:`numbered_in_order`.
    """
    code = np.zeros(table.num_rows, dtype=np.int64)
    most = 1
    for key in keys:
        ranks = _ranks(table.column(key))
        kinds = int(ranks.max(initial=0)) + 1
        if most * kinds >= _MOST:  # made small before it is too large
            code = np.unique(code, return_inverse=True)[1].astype(np.int64)
            most = int(code.max(initial=0)) + 1
        code, most = code * kinds + ranks, most * kinds
    return code


def _ranks(column: Any) -> np.ndarray[Any, Any]:
    """Give for each value its place in their order; what is missing comes last."""
    import pyarrow as pa
    import pyarrow.compute as pc

    if not len(column):  # an empty column of days has no dictionary that could be put together
        return np.zeros(0, dtype=np.int64)
    coded = column if pa.types.is_dictionary(column.type) else column.dictionary_encode()
    coded = unified(coded).combine_chunks()
    coded = coded.combine_chunks() if isinstance(coded, pa.ChunkedArray) else coded
    values = coded.dictionary
    ranks: np.ndarray[Any, Any] = np.full(len(values) + 1, len(values), dtype=np.int64)
    ranks[pc.sort_indices(values).to_numpy()] = np.arange(len(values))
    found: np.ndarray[Any, Any] = ranks[coded.indices.fill_null(len(values)).to_numpy()]
    return found
