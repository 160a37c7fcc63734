"""By how much what hitters faced moves a rate, in a part of their records against the rest, or in all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.counting.counts import Counts, Pair, pair
from hitlab.counting.tallies import columns_of, tally
from hitlab.estimates.faced import (
    MATTERS,
    Unequal,
    faced_columns,
    faced_words,
    meetings_told,
    unequal,
    unequal_in_parts,
)
from hitlab.estimates.ranking import usual_minimum
from hitlab.pitches.opening import doubts_of
from hitlab.wording import signed_text

__all__ = ["PartsFaced", "compare_inside", "compare_parts", "met_in"]


@dataclass(frozen=True, slots=True)
class PartsFaced:
    """By how much what hitters faced in one part of their record differs from what they faced in the rest.

    Attributes
    ----------
    told
        What it was told by, in words.
    counts
        By hitter.
    apart
        For each part asked for, by hitter; each against what everybody faced in that part.
    compared
        For each part, shape (hitters,): who has enough in it and outside it to be looked at.
    size
        For each part, shape (hitters,): how large that is against the error that his own record leaves of the
        difference in log odds between the part and the rest.
    spread
        Of one attempt: chance times chance of not, which turns log odds into rates, about.
    """

    told: str
    counts: Counts
    apart: tuple[Unequal, ...]
    compared: tuple[np.ndarray[Any, np.dtype[np.bool_]], ...]
    size: tuple[np.ndarray[Any, np.dtype[np.float64]], ...]
    spread: float

    def places(self, keys: Any) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Return the rows of hitters, by what they are counted by; -1 where nothing is known of one."""
        known = pd.Index(self.counts.data[self.counts.by[0]])
        return np.asarray(known.get_indexer(pd.Index(keys)), dtype=np.int64)

    def place(self, key: Any) -> int:
        """Return the row of one hitter."""
        return int(self.places([key])[0])

    def matters(self, key: Any) -> bool:
        """Say whether it matters: for himself in some part, or for all together."""
        place = self.place(key)
        mine = max((float(size[place]) for size in self.size), default=0.0) if place >= 0 else 0.0
        all_of_them = [size[there] for size, there in zip(self.size, self.compared, strict=True)]
        together = max((float(np.sqrt((size**2).mean())) for size in all_of_them if len(size)), default=0.0)
        return max(mine, together) >= MATTERS

    def difference(self, key: Any, part: int = 0) -> float:
        """Return by how much it raises a hitter's rate, about."""
        place = self.place(key)
        return float(self.apart[part].log_odds[place]) * self.spread if place >= 0 else 0.0

    def words(self, name: str, key: Any, second: str, first: str) -> str:
        """Say by how much it differs: for one hitter, and for all."""
        rate = self.apart[0].log_odds * self.spread
        all_of_them = f"; for all, it {faced_words(rate[self.compared[0]])}" if self.compared[0].any() else ""
        return (
            f"the pitching and parks that hitters faced ({self.told}): what {name} met {second} makes a "
            f"difference of {signed_text(self.difference(key))} against {first}, each against what everybody "
            f"met there{all_of_them}"
        )

    def table(self) -> pd.DataFrame:
        """Return it by hitter for the first part, as ``split_rates`` takes it."""
        key = self.counts.by[0]
        only = self.apart[0]
        told = {key: self.counts.data[key], "log_odds": only.log_odds, "error": only.error}
        return pd.DataFrame(told)


def compare_parts(
    met: Counts, pitches: Any, event: str, per: str, part: np.ndarray[Any, Any], asked: Sequence[int]
) -> PartsFaced | None:
    """Hold what hitters faced in parts of their records against what they faced in the rest.

    Parameters
    ----------
    met
        Counts by hitter, by what he faced (``faced_columns``) and by what tells the parts.
    pitches
        What they are counts of.
    event, per
        The rate.
    part
        For each of their rows the part: whole numbers.
    asked
        Which parts.

    Returns
    -------
    PartsFaced, or None
        ``None`` where there are not two of anything.
    """
    found = meetings_told(met, pitches, event, per, part=part)
    if found is None or found.part is None:
        return None
    cells, spread = found.cells, spread_of_one(pair(found.counts, event, per))
    apart = unequal_in_parts(found, asked)
    all_compared, sizes = [], []
    for one, unequal_there in zip(asked, apart, strict=True):
        here, rest = (
            cells.sum_over(np.where(chosen, cells.exposure, 0.0))
            for chosen in (found.part == one, found.part != one)
        )
        smaller = np.minimum(here, rest)
        all_compared.append((smaller > 0) & (smaller >= usual_minimum(smaller)))
        information = spread * here * rest / np.maximum(here + rest, 1e-300)
        sizes.append(unequal_there.size * np.sqrt(information))
    return PartsFaced(found.words, found.counts, tuple(apart), tuple(all_compared), tuple(sizes), spread)


def compare_inside(whole: Counts, inside: Counts, pitches: Any, event: str, per: str) -> PartsFaced | None:
    """Hold what hitters faced inside a situation against what they faced in the rest of their records.

    Parameters
    ----------
    whole, inside
        Counts by hitter and what he faced; the second are a part of the first.
    pitches, event, per
        As in :func:`compare_parts`.
    """
    keys = list(whole.by)
    names = [name for name in whole.names if name in inside.names and name not in keys]
    some = whole.data[keys].merge(inside.data[[*keys, *names]], on=keys, how="left")[names].fillna(0)
    rest = whole.data.copy()
    rest[names] -= some.to_numpy(np.int64)
    rows = pd.concat([rest, whole.data.assign(**some.astype(np.int64))], ignore_index=True)
    part = np.repeat([0, 1], [len(rest), len(rest)])
    return compare_parts(replace(whole, data=rows), pitches, event, per, part, [1])


def met_in(table: Any, event: str, per: str, where: Any, conventions: Any) -> str:
    """Say by how much what hitters faced makes a rate differ; empty where the pitches do not tell.

    Parameters
    ----------
    table
        The pitches.
    event, per
        The rate.
    where
        The pitches that are counted, as in ``tally``.
    conventions
        How the debatable cases are counted.
    """
    by = faced_columns(columns_of(table))
    doubts = doubts_of(table)
    if not by or doubts.reason(by, conventions.most_contradicted):
        return ""
    counts = tally(table, ["hitter", *by], where=where, conventions=conventions, doubts=doubts)
    found = meetings_told(counts, table, event, per)
    if found is None:
        return ""
    both = pair(found.counts, event, per)
    difference = unequal(found)[0].log_odds * spread_of_one(both)
    return f"{faced_words(difference[both.exposure >= usual_minimum(both.exposure)])}, told by {found.words}"


def spread_of_one(both: Pair) -> float:
    """Return everybody's chance times chance of not, which turns log odds into rates, about."""
    pooled = float((both.events.sum() + 0.5) / (both.measured_exposure.sum() + 1))
    return pooled * (1 - pooled)
