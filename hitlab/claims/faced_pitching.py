"""Whether the hitters of a claim met comparable pitching, and the rates where they did not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.finely import Against, Finely, meetings_of
from hitlab.claims.source import Source
from hitlab.counting.counts import Counts, Pair, pair
from hitlab.counting.tallies import columns_of, tally
from hitlab.errors import MissingColumnsError
from hitlab.estimates.faced import (
    MATTERS,
    Unequal,
    faced_columns,
    faced_words,
    meetings,
    unequal,
    unequal_in_parts,
)
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import Fit
from hitlab.pitches.opening import doubts_of
from hitlab.wording import signed_text

__all__ = [
    "ALIKE",
    "COMPARABLE",
    "OTHERWISE",
    "SAME",
    "UNTOLD",
    "FacedPitching",
    "PartsFaced",
    "allow_for_faced",
    "compare_inside",
    "compare_parts",
    "faced_note",
    "met_in",
    "untold",
]

OTHERWISE = "pitchers, parks, measuring"
COMPARABLE = "all met comparable pitching, parks and measuring"
SAME = "all hitters faced the same pitcher in the same park, as far as the table tells"
_SUPPOSED = "so comparable pitching is supposed"
UNTOLD = f"the table does not tell whom the hitters faced, {_SUPPOSED}"
ALIKE = (
    "pitchers, staffs and parks change everybody's log odds alike, with effects that are normal around 0, "
    "and all were measured alike"
)


@dataclass(frozen=True, slots=True)
class FacedPitching:
    """What was found of the pitching and the parks that the hitters faced.

    Attributes
    ----------
    note
        By how much it differs and what was done about it, or why nothing was.
    assumption
        What the answer supposes of it.
    difference
        By hitter: the rate expected against what he faced, less that against what the whole league did;
        ``None`` where the table does not tell.
    drawn
        For ``shrink``, where it matters.
    """

    note: str
    assumption: str = COMPARABLE
    difference: np.ndarray[Any, np.dtype[np.float64]] | None = None
    drawn: Any = None


def untold(source: Source) -> str:
    """Say why it cannot be told what was faced."""
    subject = source.question.subject
    if subject == "pitcher":
        return "which hitters each pitcher faced is not allowed for, so comparable ones are supposed"
    if subject == "club":
        return f"which pitching each club faced is not allowed for, {_SUPPOSED}"
    if not source.pitches or source.faced_by:  # counts, or a part of the pitches that is given as counts
        return UNTOLD.replace("the table does", "these counts do")
    doubted = faced_columns(source.columns)
    contradict = f"the columns that tell whom the hitters faced contradict others too often, {_SUPPOSED}"
    return contradict if doubted else UNTOLD


def allow_for_faced(source: Source, met: Counts | Finely | None, plain: Fit) -> FacedPitching:
    """Find out by how much what hitters faced differs, and whether that matters.

    Parameters
    ----------
    source
        Where the counts are from.
    met
        Counts by hitter and ``Source.faced_by``, or what is kept of them; ``None`` where nothing tells what
        was faced.
    plain
        The rates as they are without.
    """
    if met is None:
        met_by = "hitters" if source.question.subject == "pitcher" else "pitching"
        return FacedPitching(untold(source), COMPARABLE.replace("pitching", met_by))
    found = met.against() if isinstance(met, Finely) else Against.of(met, source, plain.event, plain.per)
    apart = found.apart
    if apart is None:
        return FacedPitching(SAME)
    compared = plain.exposure >= usual_minimum(plain.exposure)
    what = f"the pitching and parks that hitters faced ({found.words}): what they met "
    if not apart.matters(plain):
        rate = plain.posterior.mean()
        difference = apart.log_odds * rate * (1 - rate)
        done = "too little to matter, so nothing is allowed for"
        return FacedPitching(f"{what}{faced_words(difference[compared])}; {done}", difference=difference)
    drawn = found.draw()
    difference = drawn.mean_of(drawn.rate)
    done = (
        "that matters, so true rates are those against what the whole league met, and the chance allows for "
        "what is not known of it"
    )
    return FacedPitching(f"{what}{faced_words(difference[compared])}; {done}", ALIKE, difference, drawn)


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


def faced_note(
    source: Source, found: PartsFaced | None, name: str, key: Any, parts: tuple[str, str], done: str
) -> str:
    """Say by how much what was faced differs between two parts of a record, or why that is not told.

    Parameters
    ----------
    source
        Where the counts are from.
    found
        What was found of it.
    name, key
        The hitter, and what he is counted by.
    parts
        The part and what it is held against, in words.
    done
        What is done about it where it matters.
    """
    if found is None:
        return SAME if source.faced_by else untold(source)
    told = found.words(name, key, *parts)
    return f"{told}; {done if found.matters(key) else 'too little to matter'}"


def compare_parts(
    source: Source, met: Counts, part: np.ndarray[Any, Any], asked: list[int]
) -> PartsFaced | None:
    """Hold what hitters faced in parts of their records against what they faced in the rest.

    Parameters
    ----------
    source
        Where the counts are from.
    met
        Counts by hitter, ``Source.faced_by`` and what tells the parts.
    part
        For each of their rows the part: whole numbers.
    asked
        Which parts.

    Returns
    -------
    PartsFaced, or None
        ``None`` where there are not two of anything.
    """
    event, per = source.rate
    found = meetings_of(met, source, event, per, part)
    if found is None or found.part is None:
        return None
    cells, spread = found.cells, _spread(pair(found.counts, event, per))
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


def compare_inside(source: Source, whole: Counts, inside: Counts) -> PartsFaced | None:
    """Hold what hitters faced inside a situation against what they faced in the rest of their records.

    Parameters
    ----------
    source
        Where the counts are from.
    whole, inside
        Counts by hitter and ``Source.faced_by``; the second are a part of the first.
    """
    keys = list(whole.by)
    names = [name for name in whole.names if name in inside.names and name not in keys]
    some = whole.data[keys].merge(inside.data[[*keys, *names]], on=keys, how="left")[names].fillna(0)
    rest = whole.data.copy()
    rest[names] -= some.to_numpy(np.int64)
    rows = pd.concat([rest, whole.data.assign(**some.astype(np.int64))], ignore_index=True)
    part = np.repeat([0, 1], [len(rest), len(rest)])
    return compare_parts(source, replace(whole, data=rows), part, [1])


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
    try:
        found = meetings(counts, table, event, per)
    except MissingColumnsError:
        return ""
    if found is None:
        return ""
    both = pair(found.counts, event, per)
    difference = unequal(found)[0].log_odds * _spread(both)
    return f"{faced_words(difference[both.exposure >= usual_minimum(both.exposure)])}, told by {found.words}"


def _spread(both: Pair) -> float:
    """Return everybody's chance times chance of not, which turns log odds into rates, about."""
    pooled = float((both.events.sum() + 0.5) / (both.measured_exposure.sum() + 1))
    return pooled * (1 - pooled)
