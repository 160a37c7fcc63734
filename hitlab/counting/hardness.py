"""What "hard" means in a table, and when nothing may be said of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.events import EVENTS
from hitlab.counting.facts import FASTEST_MPH, PITCH_FACTS, Conventions, pitch_facts
from hitlab.counting.summing import ROWS, Pitched, Rows, cells, collected, weights
from hitlab.pitches.opening import frame_of

__all__ = [
    "TICKED",
    "circumstances",
    "found",
    "hard_means",
    "near_threshold",
    "ticked_in",
    "why_hard_is_unknown",
    "why_no_threshold",
    "why_ticks_only",
]

_FEWEST_BY_EYE = 20  # were a third of all balls hard, twenty would be alike once in 3,000 tables


def circumstances(rows: Rows, columns: set[str]) -> pd.DataFrame:
    """Return the levels and bats that occur: they decide what hard means and what may be ranked."""
    present = [name for name in ("level", "bat") if name in columns]
    return rows.rows_by(*present) if present else pd.DataFrame()


def found(around: pd.DataFrame, name: str) -> list[str]:
    """Return the levels, or the bats, that occur."""
    return sorted(str(v) for v in around[name].dropna().unique()) if name in around else []


def why_no_threshold(around: pd.DataFrame, columns: set[str], conventions: Conventions) -> str:
    """Say why no speed can be called hard without being told which; empty where one can.

    95 mph is the custom of professionals with wood bats: for anybody else the caller gives a threshold.
    """
    if "exit_mph" not in columns or conventions.hard_mph is not None:
        return ""
    odd = [v for v in found(around, "level") if v != "professional"]
    odd += [v for v in found(around, "bat") if v != "wood"]
    if not odd:
        return ""
    return (
        f"95 mph is the custom for professionals with wood bats and this table has {', '.join(odd)}; "
        "give Conventions(hard_mph=...), for instance from hard_threshold(pitches, top_share=0.35)"
    )


def hard_means(columns: set[str], conventions: Conventions) -> str:
    """Return what is counted as hard, in words; empty where the columns do not tell it."""
    flagged = ["flagged as hard in the source"] if "hard" in columns else []
    fast = [f"{conventions.threshold_mph:g} mph or more off the bat"] if "exit_mph" in columns else []
    return ", else ".join(fast + flagged if conventions.eye is not None else flagged + fast)


TICKED = ("hard", "unmeasured", "contact", "in_play", "hard_by_eye", "hard_ticked")
"""Counts whose sums tell whether a flag is a measurement."""


def ticked_in(grouped: pd.DataFrame, conventions: Conventions) -> dict[str, int]:
    """Sum ``TICKED`` over rows that are grouped by keys and facts."""
    kinds = grouped.groupby(list(PITCH_FACTS), dropna=False, observed=True)[ROWS].sum().reset_index()
    each = weights(kinds, [EVENTS[name] for name in TICKED], conventions)
    return {name: int((kinds[ROWS].to_numpy() * weight).sum()) for name, weight in each.items()}


def why_ticks_only(
    total: Mapping[str, int], whole: Any, filtered: bool, columns: set[str], conventions: Conventions
) -> str:
    """Say why a flag of which one value alone was ever recorded is no measurement; empty where it is one.

    Somebody who ticks the hard ones leaves the others blank: taken for unknown, the blanks would make every
    ball of known hardness a hard one. A part of the table may hold one value by chance, so that the whole is
    asked before anything is refused; and a speed is a measurement whatever its value.

    Parameters
    ----------
    total
        From :func:`ticked_in`, or the sums of the same counts.
    whole, filtered
        The frame before anything was chosen of it, and whether something was.
    columns, conventions
        The table's, and how it is counted.
    """
    if "hard" not in columns:
        return ""
    unknown, hard = total["unmeasured"], total["hard"]
    judged = total["contact" if conventions.hard_fouls else "in_play"] - unknown
    # Beside balls that a radar judged, those of the eye are asked by themselves, where they are too many to
    # be all alike by chance.
    by_eye, ticked = total["hard_by_eye"], total["hard_ticked"]
    eye_alone = _FEWEST_BY_EYE <= by_eye < judged and ticked in (0, by_eye)
    if not judged or not unknown or (0 < hard < judged and not eye_alone):
        return ""
    if filtered:
        facts = cells(whole.select(*pitch_facts(columns, conventions)), (), PITCH_FACTS)
        return why_ticks_only(ticked_in(facts, conventions), whole, False, columns, conventions)
    if eye_alone:
        judged, hard = by_eye, ticked
    elif "exit_mph" in columns and _measured(whole):
        return ""
    value = "hard" if hard else "not hard"
    return (
        f"the column hard says {value!r} {judged:,} times and nothing for {unknown:,} others, so it is not "
        "known what a blank means; say so in the mapping ([blanks] hard = false, where a blank is a ball "
        "that was not hit hard) and read the file again"
    )


def _measured(frame: Any) -> bool:
    """Say whether any speed off the bat stands in a table: a column may be there and empty."""
    told = nw.when(nw.col("exit_mph").is_between(0, FASTEST_MPH)).then(nw.lit(1)).otherwise(nw.lit(0))
    return bool(collected(frame.select(told.alias("told")).select(nw.col("told").sum()))["told"].iloc[0])


def near_threshold(frame: Any, columns: set[str], conventions: Conventions, step: float) -> int:
    """Count the balls whose speed was written too coarsely to tell whether they are hard.

    Parameters
    ----------
    frame, columns
        The pitches that are counted, and the table's columns.
    conventions
        How they are counted.
    step
        How far apart two speeds of the column are, in mph: each tells its ball's to half of it.
    """
    flags = {"hard", "hard_source"}
    threshold = conventions.threshold_mph
    near = frame.filter(nw.col("exit_mph").is_between(threshold - step, threshold + step))
    if "hard" in columns and conventions.eye is None:  # a recorded flag wins over the speed
        near = near.filter(nw.col("hard").is_null())
    kinds = cells(
        near.select("exit_mph", *pitch_facts(columns - flags, conventions)), ("exit_mph",), PITCH_FACTS
    )
    # What was written is the nearest of its numbers: a conversion moves none by more than half a step.
    written = np.rint(kinds["exit_mph"].to_numpy(float) / step) * step
    kinds = kinds[np.abs(written - threshold) < step / 2].reset_index(drop=True)
    struck = "contact" if conventions.hard_fouls else "in_play"
    each = weights(kinds, [EVENTS[name] for name in ("unmeasured", struck)], conventions)
    judged = each[struck].astype(np.int64) - each["unmeasured"].astype(np.int64)
    return int((kinds[ROWS].to_numpy(np.int64) * judged).sum())


def why_hard_is_unknown(pitches: Any, conventions: Conventions, *, trust: bool = False) -> str:
    """Say why nothing may be said of hard balls in a pitch table; empty where nothing speaks against it.

    The tally asks the same of what it has grouped; this is for those who look at single pitches.
    """
    frame, _ = frame_of(pitches, trust=trust)
    columns = set(frame.collect_schema().names())
    why = why_no_threshold(circumstances(Pitched(frame), columns), columns, conventions)
    if why or "hard" not in columns:
        return why
    facts = cells(frame.select(*pitch_facts(columns, conventions)), (), PITCH_FACTS)
    return why_ticks_only(ticked_in(facts, conventions), frame, False, columns, conventions)
