"""Which rows of two charts of one game are the same pitch: the cheapest alignment of two sequences.

Rows are matched in order of play. Each pair costs by what it disagrees in, each row left alone costs a gap,
and of all alignments the cheapest is taken (Needleman & Wunsch 1970, J. Mol. Biol. 48:443-453). Two rows that
agree in the hitter only are still one pitch or two, depending on the rest; libraries that align text know
equal and unequal alone, so the table of costs is filled here, in whole numbers, a row at a time.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.errors import CountsError

__all__ = ["COSTS", "GAP", "MOST_CELLS", "align"]

Wholes = NDArray[np.int64]

COSTS = {"hitter": 10, "inning": 6, "half": 6, "balls": 3, "strikes": 3, "outcome": 6, "pitch_kind": 2}
"""What it costs to call two rows one pitch that differ in a column; a blank differs from nothing.

Decided beforehand: one slip of the pen, even in the hitter, is cheaper than two rows left alone; another
pitch to another hitter is dearer."""
GAP = 8
MOST_CELLS = 60_000_000


def align(first: Sequence[Wholes], second: Sequence[Wholes], costs: Sequence[int], gap: int = GAP) -> Wholes:
    """Align two sequences of rows at the lowest cost.

    Parameters
    ----------
    first, second
        Column by column the rows' values as whole numbers; a negative one is a blank.
    costs
        What a difference costs, column by column.
    gap
        What a row left alone costs.

    Returns
    -------
    numpy.ndarray
        Shape (pairs, 2): places in both, -1 where there is none; in order.
    """
    n, m = len(first[0]), len(second[0])
    if n * m > MOST_CELLS:
        raise CountsError(
            f"{n:,} rows against {m:,} are no single game; both tables need the column game to be matched by"
        )
    cost = np.zeros((n, m), dtype=np.int32)
    for one, other, each in zip(first, second, costs, strict=True):
        differs = (one[:, np.newaxis] != other) & (one[:, np.newaxis] >= 0) & (other >= 0)
        cost += (differs * each).astype(np.int32)
    best = np.empty((n + 1, m + 1), dtype=np.int32)
    steps = gap * np.arange(m + 1, dtype=np.int32)
    best[0] = steps
    for i in range(n):
        row = np.minimum(best[i] + gap, np.append(np.int32(best[i, 0] + gap), best[i, :-1] + cost[i]))
        # From the left: the least of what comes before, and a gap for each step.
        best[i + 1] = np.minimum.accumulate(row - steps) + steps
    pairs: list[tuple[int, int]] = []
    i, j = n, m
    while i or j:
        if i and j and best[i, j] == best[i - 1, j - 1] + cost[i - 1, j - 1]:
            i, j = i - 1, j - 1
            pairs.append((i, j))
        elif i and best[i, j] == best[i - 1, j] + gap:
            i -= 1
            pairs.append((i, -1))
        else:
            j -= 1
            pairs.append((-1, j))
    return np.array(pairs[::-1], dtype=np.int64).reshape(-1, 2)


def numbered(first: Any, second: Any) -> tuple[Wholes, Wholes]:
    """Return two columns as whole numbers, equal where the values are; a blank is -1."""
    import pandas as pd

    both = pd.concat([first, second], ignore_index=True)
    codes = pd.factorize(both)[0].astype(np.int64)
    return codes[: len(first)], codes[len(first) :]
