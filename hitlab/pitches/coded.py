"""Columns of a checked table as the checks look at them: each text once, whole numbers as float64.

A season has some hundred texts and some hundred thousand rows. Whoever asks a column of text for anything
takes its codes from :func:`texts_of`, which looks through it once for all who ask.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

if TYPE_CHECKING:
    from hitlab.pitches.counting import KeyOrder

__all__ = [
    "Coded",
    "Finding",
    "distinct",
    "in_order_of_rows",
    "looked_through_once",
    "remember",
    "rows_kept",
    "texts_of",
    "wholes",
]

Finding = tuple[str, np.ndarray, str, Any]
"""Check, places (from 0), columns, and one text for all places or one for each."""

_Texts = tuple[np.ndarray, list[str]]

_KNOWN: ContextVar[dict[int, tuple[Any, _Texts]] | None] = ContextVar("known", default=None)
"""Place of a text column's cells in memory -> the cells, which so stay there, and its codes and texts."""


@contextmanager
def looked_through_once() -> Iterator[None]:
    """Look through each column of text once, however many ask for it; one that changes is another."""
    before = _KNOWN.set({} if _KNOWN.get() is None else _KNOWN.get())
    try:
        yield
    finally:
        _KNOWN.reset(before)


def texts_of(column: pd.Series) -> _Texts:
    """Give the code of each row, -1 where nothing stands, and the texts in the order in which they come.

    Parameters
    ----------
    column
        A column.
    """
    known, cells = _KNOWN.get(), _cells_of(column)
    if known is not None and cells is not None and id(cells) in known:
        return known[id(cells)][1]
    codes, found = pd.factorize(column)
    told = np.asarray(codes), [str(text) for text in found]
    if known is not None and cells is not None:
        known[id(cells)] = cells, told
    return told


def remember(column: pd.Series, codes: np.ndarray, texts: list[str]) -> None:
    """Say which texts stand in a column, where that is known already.

    Parameters
    ----------
    column
        The column.
    codes
        Place of each row's text among the texts, -1 where nothing stands.
    texts
        Each once, in any order; some may stand nowhere.
    """
    known, cells = _KNOWN.get(), _cells_of(column)
    if known is None or cells is None:
        return
    codes, order = in_order_of_rows(codes, len(texts))
    known[id(cells)] = cells, (codes, [texts[place] for place in order.tolist()])


def rows_kept(frame: pd.DataFrame, kept: np.ndarray) -> pd.DataFrame:
    """Give some rows of a table, numbered from 0, whose texts need not be looked through again.

    Parameters
    ----------
    frame
        The table, which nobody asks any more.
    kept
        For each row whether it is among them.
    """
    some, known = frame[kept].reset_index(drop=True), _KNOWN.get()
    for name in frame.columns:
        told = None if known is None else known.pop(id(_cells_of(frame[name])), None)
        if told is not None:
            codes, texts = told[1]
            remember(some[name], codes[kept], texts)
    return some


def in_order_of_rows(codes: np.ndarray, many: int) -> tuple[np.ndarray, np.ndarray]:
    """Give codes new numbers in the order in which they come, and say which the old ones were.

    Parameters
    ----------
    codes
        From 0; -1 for none, which stays.
    many
        More than the highest of them.
    """
    first = np.full(many + 1, len(codes), dtype=np.int64)
    # Of several the last that is put there counts: that of the first row.
    first[codes[::-1]] = np.arange(len(codes) - 1, -1, -1)
    order = np.argsort(first[:many], kind="stable")
    order = order[first[order] < len(codes)]
    if len(order) == many and (order == np.arange(many)).all():
        return codes, order
    new = np.full(many + 1, -1, dtype=np.int64)
    new[order] = np.arange(len(order))
    return new[codes], order


def distinct(frame: pd.DataFrame, names: list[str]) -> pd.DataFrame:
    """Give the first row of each combination of texts, of the rows in which all of them stand.

    Parameters
    ----------
    frame
        The table, its rows numbered from 0.
    names
        Columns of text.
    """
    both, whole = np.zeros(len(frame), dtype=np.int64), np.ones(len(frame), dtype=bool)
    for name in names:
        codes, found = texts_of(frame[name])
        whole &= codes >= 0
        both = both * len(found) + codes
    places = np.flatnonzero(whole)
    return frame[names].iloc[places[~pd.Series(both[places]).duplicated().to_numpy()]]


def _cells_of(column: pd.Series) -> Any:
    """Give what holds the texts of a column, where that never changes; else None."""
    kind = column.dtype
    if isinstance(kind, pd.StringDtype) and kind.storage == "pyarrow":
        return column.array.__arrow_array__()
    return None


class Coded:
    """A column of text, each text once and where it stands.

    Parameters
    ----------
    frame
        The table; a column that it does not have is missing in every row.
    name
        The column.
    order
        Order of the rows; that of the table where left out.
    """

    def __init__(self, frame: pd.DataFrame, name: str, order: KeyOrder | None = None) -> None:
        if name in frame:
            self.codes, self.found = texts_of(frame[name])
        else:
            self.codes, self.found = np.full(len(frame), -1), []
        if order is not None:
            self.codes = order.of(self.codes)

    def among(self, words: tuple[str, ...]) -> np.ndarray:
        """Say where some words stand; ``""`` is nothing."""
        flags = np.array([*(text in words for text in self.found), "" in words], dtype=bool)
        return np.asarray(flags[self.codes])

    def valued(self, values: dict[str, int], missing: float = np.nan) -> np.ndarray:
        """Give a number for each word."""
        numbers = [float(values.get(text, missing)) for text in self.found]
        return np.asarray(np.array([*numbers, missing])[self.codes])

    def text(self, at: Any) -> str:
        """Text of one row."""
        code = int(self.codes[at])
        return "" if code < 0 else self.found[code]

    @property
    def filled(self) -> np.ndarray:
        """Say where anything stands."""
        return np.asarray(self.codes >= 0)


def wholes(frame: pd.DataFrame, name: str) -> np.ndarray:
    """Give a whole-number column as float64, NaN where missing; all NaN where it is absent."""
    if name not in frame:
        return np.full(len(frame), np.nan)
    column = frame[name]
    if not column.isna().any():
        return np.asarray(column.to_numpy(dtype=np.float64))
    return np.asarray(column.astype("Float64").to_numpy(dtype=np.float64, na_value=np.nan))
