"""Who is named on a picture."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import LABELS, Counts
from hitlab.counting.events import per_words
from hitlab.names import find_name
from hitlab.wording import listed

__all__ = ["chosen", "labels_of", "nobody", "not_drawn", "place_text"]


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


def not_drawn(data: pd.DataFrame, per: str) -> str:
    """Return how many rows of a table of rates have none, and why; empty where all have one."""
    lacking, exposed = data["rate"].isna(), data[per] > 0
    parts = (
        (int((lacking & ~exposed).sum()), f"without {per_words(per, 2)}"),
        (int((lacking & exposed).sum()), "with bounds in place of a rate"),
    )
    return listed([f"{number:,} {words}" for number, words in parts if number])


def nobody(data: pd.DataFrame, per: str, so: str) -> str:
    """Return the sentence that stands where no row of a table of rates has a rate."""
    if (data[per] > 0).any():
        return f"Nobody here has a rate, as too much contact is of unknown hardness: {so}."
    return f"Nobody here has any {per_words(per, 2)}: {so}."


def place_text(rank: int, tied: bool) -> str:
    """Return a rank in words: ``number 1``, ``equal number 1``."""
    return f"{'equal ' if tied else ''}number {rank}"
