"""Whether the hitters of a claim met comparable pitching, and the rates where they did not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from hitlab.claims.source import Source
from hitlab.counting.counts import Counts
from hitlab.errors import MissingColumnsError
from hitlab.estimates.crossed import fit_crossed
from hitlab.estimates.faced import faced_columns, faced_words, meetings, unequal
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import Fit

__all__ = ["COMPARABLE", "FacedPitching", "allow_for_faced", "columns_to_count"]

COMPARABLE = "all met comparable pitching, parks and measuring"
_ALIKE = (
    "pitchers, staffs and parks change everybody's log odds alike, their effects are normal around 0, "
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


def columns_to_count(source: Source) -> list[str]:
    """Return the columns that a source's pitches are counted by to know what hitters faced; empty for none."""
    if not source.pitches or source.question.subject != "hitter":
        return []
    by = faced_columns(source.columns)
    doubted = source.doubts.reason(by, source.question.conventions.most_contradicted)
    return [] if doubted else by


def allow_for_faced(source: Source, met: Counts | None, plain: Fit) -> FacedPitching:
    """Find out by how much what hitters faced differs, and whether that matters.

    Parameters
    ----------
    source
        Where the counts are from.
    met
        Counts by hitter and :func:`columns_to_count`; ``None`` where nothing tells what was faced.
    plain
        The rates as they are without.
    """
    supposed = "so comparable pitching is supposed"
    if met is None:
        what = "these counts do" if not source.pitches else "the table does"
        return FacedPitching(f"{what} not tell whom the hitters faced, {supposed}")
    try:
        found = meetings(met, source.table, plain.event, plain.per)
    except MissingColumnsError:
        found = None
    if found is None:
        return FacedPitching(f"all hitters faced the same pitcher in the same park, {supposed}")
    apart, start = unequal(found)
    compared = plain.exposure >= usual_minimum(plain.exposure)
    if not apart.matters(plain):
        rate = plain.posterior.mean()
        difference = apart.log_odds * rate * (1 - rate)
        return FacedPitching(
            f"the pitching and parks that hitters faced ({found.words}): what they met "
            f"{faced_words(difference[compared])}; too little to matter, so nothing is allowed for",
            difference=difference,
        )
    drawn = fit_crossed(found.cells, found=start)
    difference = drawn.mean_of(drawn.rate)
    return FacedPitching(
        f"the pitching and parks that hitters faced ({found.words}): what they met "
        f"{faced_words(difference[compared])}; that matters, so true rates are those against what the whole "
        "league met, and the chance allows for what is not known of it",
        _ALIKE,
        difference,
        drawn,
    )
