"""What a table cannot tell: columns that are missing, days that are odd, names that are nearly ours.

What is missing counts as something all the same: without ``bunt`` a bunt is a swing. So it is said.
"""

from __future__ import annotations

import re
from collections.abc import Mapping as AnyMapping

import pandas as pd

from hitlab.pitches.cells import Judged
from hitlab.pitches.coded import texts_of
from hitlab.pitches.dates import exchanged, odd_years
from hitlab.pitches.doubts import COARSE_MPH
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import TARGETS, Mapping, fold
from hitlab.pitches.schema import COLUMNS, SWING_OUTCOMES
from hitlab.pitches.wordforms import in_toml

__all__ = ["cannot_tell", "coarse", "days_in", "odd_days", "unlike_columns"]

_NEAR = 80.0  # likeness of two names in percent (a default)

# What cannot be told without a column; the first of several names the group.
_UNTOLD = {
    (
        "bunt",
    ): "a bunt attempt cannot be told from a swing or a take, and is counted as what its outcome says",
    ("level",): "whether 95 mph is what is called hard at this level of play cannot be told, nor whether all "
    "are of one level",
    ("bat",): "the kind of bat cannot be told, and balls fly off others faster",
    ("hitter_id",): "two hitters of one name cannot be told apart",
    ("result",): "how a plate appearance ended cannot be told",
    ("balls", "strikes"): "what happened at which count cannot be told",
    ("exit_mph", "hard"): "how hard balls were hit cannot be told",
    ("date",): "when anything happened cannot be told",
}
# Groups of which any one column is enough; of the others all are needed.
_ANY = {("exit_mph", "hard")}


def unlike_columns(headings: Headings) -> tuple[str, ...]:
    """Say which columns that are not used have names that are nearly ours, while nothing fills that of ours.

    Parameters
    ----------
    headings
        Which source column fills which of ours.
    """
    free = [target for target in TARGETS if target not in headings.targets]
    said = []
    for name in headings.unused:
        plain = _plain(name)
        likeness = {target: _likeness(plain, target) for target in free}
        best = max(likeness, key=lambda target: likeness[target], default="")
        if not plain or not best or likeness[best] < _NEAR:
            continue
        quoted = in_toml(name)
        said.append(
            f"{name!r} looks like {best}, which nothing fills. If that is what it holds, write in the "
            f'mapping: [columns] {quoted} = "{best}"'
        )
    return tuple(said)


def _plain(name: str) -> str:
    """Name as ours are written: small letters, with _ between the words."""
    return re.sub(r"[\W_]+", "_", fold(name)).strip("_")


def _likeness(plain: str, target: str) -> float:
    from rapidfuzz import fuzz  # at first use: counting needs nothing of it

    column = COLUMNS.get(target)
    stem = target.rpartition("_")[0] if column is not None and column.unit else ""
    return 100.0 if plain == stem else float(fuzz.ratio(plain, target))


def cannot_tell(frame: pd.DataFrame, judged: dict[str, Judged]) -> tuple[str, ...]:
    """Say what a table cannot tell for what is missing in it.

    Parameters
    ----------
    frame
        The rows kept.
    judged
        What the cells of each column became.
    """
    said = []
    for names, what in _UNTOLD.items():
        told = [name for name in names if name in frame and _tells(name, frame, judged)]
        if len(told) == len(names) or (told and names in _ANY):
            continue
        name = next(one for one in names if one not in told)
        said.append(f"{name} is {'empty' if name in frame else 'missing'}: {what}.")
    outcomes = set(texts_of(frame["outcome"])[1])
    if outcomes.intersection(SWING_OUTCOMES).difference(("in play",)) and "foul tip" not in outcomes:
        said.append(
            "No foul tip is recorded: whether they stand among the whiffs or among the fouls cannot be told."
        )
    return tuple(said)


def _tells(name: str, frame: pd.DataFrame, judged: dict[str, Judged]) -> bool:
    """Whether a column has anything in it; an empty id was filled with the name."""
    values = judged[name].values if name == "hitter_id" else frame[name]
    return bool(values.notna().any())


def coarse(steps: AnyMapping[str, float], mapping: Mapping) -> tuple[str, ...]:
    """Say that speeds off the bat are too coarse for a threshold.

    Parameters
    ----------
    steps
        How far apart the numbers of columns in another unit are, in the table's unit.
    mapping
        How they were read.
    """
    step = steps.get("exit_mph", 0.0)
    if step <= COARSE_MPH:
        return ()
    unit = mapping.units.get("exit_mph", "another unit")
    return (
        f"exit_mph was written in {unit}, in steps of {step:.2f} mph: whether a ball within half a step of a "
        "threshold, such as 95 mph, is hard cannot be told.",
    )


def days_in(frame: pd.DataFrame) -> dict[str, int]:
    """Give the rows of each day of a table, as 2031-05-04, in their order.

    Parameters
    ----------
    frame
        The rows kept.
    """
    if "date" not in frame:
        return {}
    counts = pd.to_datetime(frame["date"].dropna()).value_counts(sort=False)
    return {day.date().isoformat(): rows for day, rows in zip(counts.index, counts.tolist(), strict=True)}


def odd_days(rows: AnyMapping[str, int], days: Judged | None, mapping: Mapping) -> tuple[str, ...]:
    """Say what is odd about the dates.

    Parameters
    ----------
    rows
        The rows kept of each day, from :func:`days_in`.
    days
        What the cells of the date column became, if there is one.
    mapping
        How they were read.
    """
    if days is None:
        return ()
    said = [*odd_years(rows)]
    texts = [text.strip() for text, times in zip(days.cells.texts, days.cells.times, strict=True) if times]
    kinds, first = exchanged(texts, mapping.date_format, mapping.year)
    if kinds:
        said.append(
            f"Some dates can be read only with day and month exchanged, such as {first!r}: the file has them "
            f"in both orders, so that every date with a day up to the 12th may be another ({kinds:,} of "
            f"{len(texts):,} different dates were not read)."
        )
    return tuple(said)
