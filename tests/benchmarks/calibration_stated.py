"""What is stated of one drawn league, kind of claim by kind of claim, and what of it is true."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]


@dataclass(slots=True)
class Stated:
    """What was stated of one league: chances and what was true; with the true prior; intervals that held."""

    chance: dict[str, Floats] = field(default_factory=dict)
    came: dict[str, Truths] = field(default_factory=dict)
    oracle: dict[str, Floats] = field(default_factory=dict)
    covered: dict[str, tuple[int, int]] = field(default_factory=dict)  # how many of how many

    def add(self, kind: str, chance: Floats, came: Truths, oracle: Floats | None = None) -> None:
        """Keep a kind's chances."""
        self.chance[kind] = np.asarray(chance, dtype=np.float64)
        self.came[kind] = np.asarray(came, dtype=np.bool_)
        if oracle is not None:
            self.oracle[kind] = np.asarray(oracle, dtype=np.float64)

    def cover(self, kind: str, inside: Truths) -> None:
        """Keep how many intervals held the truth."""
        self.covered[kind] = (int(np.sum(inside)), int(np.size(inside)))


def counts_of(**columns: NDArray[np.int64]) -> Counts:
    """Make counts of hitters h000, h001, ..."""
    names = [f"h{i:03d}" for i in range(len(next(iter(columns.values()))))]
    return Counts.from_table(pd.DataFrame({"hitter": names, **columns}))
