"""Whether the hitters of a claim met comparable pitching, and the rates where they did not."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from hitlab.estimates.faced import faced_columns, faced_words
from hitlab.estimates.faced_in_parts import PartsFaced
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import Fit
from hitlab.questions.finely import Finely
from hitlab.questions.source import Source

__all__ = [
    "ALIKE",
    "COMPARABLE",
    "OTHERWISE",
    "SAME",
    "UNTOLD",
    "FacedPitching",
    "allow_for_faced",
    "faced_note",
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


def allow_for_faced(source: Source, met: Finely | None, plain: Fit) -> FacedPitching:
    """Find out by how much what hitters faced differs, and whether that matters.

    Parameters
    ----------
    source
        Where the counts are from.
    met
        The rate by what hitters faced; ``None`` where nothing tells that.
    plain
        The rates as they are without.
    """
    if met is None:
        met_by = "hitters" if source.question.subject == "pitcher" else "pitching"
        return FacedPitching(untold(source), COMPARABLE.replace("pitching", met_by))
    found = met.against()
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
