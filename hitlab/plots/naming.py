"""Who is named on a picture."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import LABELS, Counts
from hitlab.errors import UnknownHitterError

__all__ = ["chosen", "labels_of", "place_text", "record_text"]


def labels_of(data: pd.DataFrame, event: str) -> list[str]:
    """Return one label a row of a result's table, whose identity stands before the event."""
    who = list(data.columns)[: list(data.columns).index(event)]
    by = tuple(name for name in who if name not in LABELS) or ("hitter",)
    return Counts(data[who], by).labels


def chosen(labels: Sequence[str], names: Sequence[str] | None, usual: Sequence[int]) -> NDArray[np.int64]:
    """Return the rows to name: those asked for, or the usual ones.

    Raises
    ------
    UnknownHitterError
        Where a name asked for is not on the picture; the nearest spellings are offered.
    """
    if names is None:
        return np.array(sorted(set(usual)), dtype=np.int64)
    places = []
    for name in names:
        same = [i for i, label in enumerate(labels) if label.casefold() == name.casefold()]
        if not same:
            from rapidfuzz import process

            near = ", ".join(label for label, _, _ in process.extract(name, labels, limit=3))
            raise UnknownHitterError(f"nobody on this picture is called {name!r}; the nearest are {near}")
        places += same
    return np.array(sorted(set(places)), dtype=np.int64)


def record_text(events: float, exposure: float) -> str:
    """Return a record: ``97 of 422``."""
    return f"{int(events):,} of {int(exposure):,}"


def place_text(rank: int, tied: bool) -> str:
    """Return a rank in words: ``number 1``, ``equal number 1``."""
    return f"{'equal ' if tied else ''}number {rank}"
