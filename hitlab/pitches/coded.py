"""Columns of a checked table as the checks look at them: each text once, whole numbers as float64."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Any

import numpy as np
import pandas as pd

from hitlab.pitches.counting import KeyOrder

__all__ = ["Coded", "Finding", "looked_through_once", "wholes"]

Finding = tuple[str, np.ndarray, str, Any]
"""Check, places (from 0), columns, and one text for all places or one for each."""

_Texts = tuple[np.ndarray, list[str]]

_KNOWN: ContextVar[tuple[pd.DataFrame, dict[str, _Texts]] | None] = ContextVar("known", default=None)


@contextmanager
def looked_through_once(frame: pd.DataFrame) -> Iterator[None]:
    """Look through each column of a table once, however many checks ask for it; it must not change meanwhile.

    Parameters
    ----------
    frame
        The table.
    """
    before = _KNOWN.set((frame, {}))
    try:
        yield
    finally:
        _KNOWN.reset(before)


def _texts_of(frame: pd.DataFrame, name: str) -> _Texts:
    known = _KNOWN.get()
    kept = known[1] if known is not None and known[0] is frame else {}
    if name not in kept:
        codes, found = pd.factorize(frame[name])
        kept[name] = np.asarray(codes), [str(text) for text in found]
    return kept[name]


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
            self.codes, self.found = _texts_of(frame, name)
        else:
            self.codes, self.found = np.full(len(frame), -1), []
        if order is not None:
            self.codes = self.codes[order.places]

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
