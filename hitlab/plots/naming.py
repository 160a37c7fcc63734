"""Who is named on a picture."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import LABELS, Counts
from hitlab.names import find_name

__all__ = ["chosen", "labels_of", "place_text"]


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
        Where nobody on the picture, or more than one, is called so; see :func:`hitlab.names.find_name`.
    """
    if names is None:
        return np.array(sorted(set(usual)), dtype=np.int64)
    places = {find_name(name, labels, where="on this picture") for name in names}
    return np.array(sorted(places), dtype=np.int64)


def place_text(rank: int, tied: bool) -> str:
    """Return a rank in words: ``number 1``, ``equal number 1``."""
    return f"{'equal ' if tied else ''}number {rank}"
