"""What several lessons draw or count in the same way."""

from __future__ import annotations

from functools import cache
from math import comb
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab

__all__ = ["dealt_at_least", "first_swings", "fresh", "later_swings", "middle", "season"]


@cache
def season() -> hitlab.Counts:
    """Return the counts of the demo season, one row a hitter."""
    return hitlab.tally(hitlab.demo_season())


@cache
def first_swings(swings: int) -> hitlab.Counts:
    """Return the counts of every hitter's first so many swings of the demo season."""
    rows, number = _numbered()
    return hitlab.tally(rows[number <= swings])


@cache
def later_swings(swings: int) -> hitlab.Counts:
    """Return the counts of the demo season without every hitter's first so many swings."""
    rows, number = _numbered()
    return hitlab.tally(rows[number > swings])


def _numbered() -> tuple[pd.DataFrame, pd.Series]:
    """Give the demo season's rows, and how many swings their hitter had taken by then."""
    rows = pd.read_parquet(hitlab.demo_season())
    return rows, hitlab.counting.swing_ledger(rows)["swing"].groupby(rows["hitter_id"]).cumsum()


def fresh(rng: np.random.Generator) -> np.random.Generator:
    """Return a new generator whose seed another one draws, to be handed to a learner's function."""
    return np.random.default_rng(int(rng.integers(2**31)))


def dealt_at_least(least: int, hands: int, marked: int, cards: int) -> float:
    """Return the chance that so many cards of a hand, or more, are marked, exactly.

    Parameters
    ----------
    least
        Marked cards that the hand has to hold.
    hands, marked, cards
        How many are dealt, how many of all are marked, and how many there are.
    """
    ways = (comb(marked, some) * comb(cards - marked, hands - some) for some in range(least, hands + 1))
    return sum(ways) / comb(cards, hands)


def middle(numbers: NDArray[Any], cut_off: float = 0.05) -> NDArray[np.float64]:
    """Return the two ends between which numbers lie, with a share of them cut off at either end.

    Parameters
    ----------
    numbers
        Of any shape; taken all together.
    cut_off
        The share that is cut off at each end, from 0 to 0.5.
    """
    return np.asarray(np.quantile(numbers, [cut_off, 1 - cut_off]))
