"""Which pitches the question "and after a whiff?" is put to, and what each of them is compared with.

Only the first pitch at each count of a plate appearance, and only where the pitch before was thrown by the
same pitcher and was the strike that brought the count about. Bunt attempts are left out on both sides.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.sequence import Order, ledger_flags
from hitlab.counting.facts import Conventions
from hitlab.counting.finding import find_rows
from hitlab.errors import ClaimError, MissingColumnsError
from hitlab.pitches.schema import FAMILIES, KEY, STRIKE_OUTCOMES

__all__ = [
    "COLUMNS_USED",
    "Against",
    "Rows",
    "choose_rows",
    "hitters_of",
    "joint_codes",
    "one_hitter",
    "pitcher_groups_of",
    "strata_named",
]

Against = Literal["any strike", "foul", "called strike"]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

COLUMNS_USED = (
    *KEY,
    *("hitter", "hitter_id", "club", "pitcher", "pitcher_id", "pitch_kind", "outcome", "balls", "strikes"),
    *("bunt", "level", "bat", "exit_mph", "hard", "hard_source"),
)
"""The pitch table's columns that are looked at, where they are there."""

_STRIKES = (*STRIKE_OUTCOMES, "foul")
_MOST_GROUPS = 5
_ROWS_A_STRATUM = 10  # thinner strata lose more rows to empty margins than grouping pitchers is worth
_PRIOR_PITCHES = 200  # pulls the whiff rate of a pitcher with few pitches to the league's, before grouping


@dataclass(frozen=True, eq=False, slots=True)
class Rows:
    """The pitches that are compared, and the pitch before each.

    Attributes
    ----------
    here, before
        Rows of the table (from 0): the pitch, and the strike before it.
    whiffed
        Whether that strike was a whiff.
    stratum, stratum_by_kind
        Numbers of the strata, with the family of the pitch before and with its very kind.
    stage
        Strikes before the pitch.
    visit, hitter, unit
        Numbers of hitter, pitcher and game together, of the hitter, of the plate appearance.
    """

    here: Whole
    before: Whole
    whiffed: Flags
    stratum: Whole
    stratum_by_kind: Whole
    stage: Whole
    visit: Whole
    hitter: Whole
    unit: Whole


def strata_named(
    frame: nw.DataFrame[Any], alike: Sequence[str], pitcher_groups: int | None
) -> tuple[str, ...]:
    """Name what the rows of a stratum share."""
    if isinstance(alike, str) or (pitcher_groups is not None and pitcher_groups not in range(51)):
        raise ClaimError(
            f"alike={alike!r}, pitcher_groups={pitcher_groups!r}: give a sequence of columns, and a whole "
            "number of groups from 1 to 50, 0 for each pitcher by himself, or None for as many as fit"
        )
    absent = [name for name in ("hitter", *alike) if name not in frame.columns]
    if absent:
        raise MissingColumnsError(f"the responses to a whiff need the column {', '.join(absent)}")
    named = list(alike)
    if "pitcher" in frame.columns:
        named.append("pitcher" if pitcher_groups == 0 else "group of pitchers")
    named.append("count")
    if "pitch_kind" in frame.columns:
        named.append("family of the pitch before")
    return tuple(named)


def _codes(frame: nw.DataFrame[Any], name: str) -> Whole:
    """Return the values of a column as numbers from 0, by id where there is one; -1 for a missing one."""
    column = f"{name}_id" if f"{name}_id" in frame.columns else name
    return np.asarray(pd.factorize(frame.select(column).to_pandas()[column])[0], dtype=np.int64)


def choose_rows(
    frame: nw.DataFrame[Any],
    order: Order,
    strata: tuple[str, ...],
    against: Against,
    conventions: Conventions,
    pitcher_groups: int | None,
) -> Rows:
    """Choose the first pitch at each count that a strike brought about, and say where it stands."""
    flags = ledger_flags(frame, ("swings", "takes", "whiffs", "pitches"), conventions)
    outcome = frame.select("outcome").to_pandas()["outcome"]
    # A swing or a take: bunts are neither. A strike that was thrown and raised the count.
    plain = flags["swings"] | flags["takes"]
    struck = plain & outcome.isin(_STRIKES).to_numpy()
    compared = (
        struck if against == "any strike" else struck & (flags["whiffs"] | (outcome == against).to_numpy())
    )
    here = np.flatnonzero(plain & (order.previous >= 0))
    before = order.previous[here]
    kept = compared[before] & (order.strikes[here] == order.strikes[before] + 1)
    pitcher = _codes(frame, "pitcher") if "pitcher" in frame.columns else np.zeros(len(plain), dtype=np.int64)
    kept &= (pitcher[here] == pitcher[before]) & (pitcher[here] >= 0)
    here, before = here[kept], before[kept]
    if not len(here):
        raise ClaimError("no pitch here follows a strike that changed the count, so nothing can be compared")
    family, kind = np.zeros((2, len(here)), dtype=np.int64)
    if "pitch_kind" in frame.columns:
        kinds = frame.select("pitch_kind").to_pandas()["pitch_kind"].iloc[before]
        number = {kind: place for place, name in enumerate(FAMILIES) for kind in FAMILIES[name]}
        family = kinds.map(number).fillna(-1).to_numpy(dtype=np.int64) + 1
        kind = np.asarray(pd.factorize(kinds)[0], dtype=np.int64)
    hitter = _codes(frame, "hitter")[here]
    others = [_codes(frame, name)[here] for name in strata if name in frame.columns and name != "pitcher"]
    alike = joint_codes(order.balls[here], order.strikes[here], *others)
    if pitcher_groups is None:
        cells = len(np.unique(joint_codes(alike, family)))
        pitcher_groups = min(max(len(here) // (cells * _ROWS_A_STRATUM), 1), _MOST_GROUPS)
    groups = pitcher
    if pitcher_groups:
        groups = pitcher_groups_of(pitcher, flags["whiffs"], flags["pitches"], pitcher_groups)[pitcher]
    game = _codes(frame, "game")[here]
    return Rows(
        here,
        before,
        flags["whiffs"][before],
        joint_codes(groups[here], alike, family),
        joint_codes(groups[here], alike, kind),
        order.strikes[here],
        joint_codes(hitter, pitcher[here], game),
        hitter,
        joint_codes(order.appearance[here]),
    )


def joint_codes(*columns: Whole) -> Whole:
    """Return the combinations of columns as numbers from 0."""
    key = np.zeros(len(columns[0]), dtype=np.int64)
    for column in columns:
        key = key * (int(column.max(initial=0)) + 2) + column + 1
    return np.asarray(np.unique(key, return_inverse=True)[1], dtype=np.int64)


def pitcher_groups_of(pitcher: Whole, whiffs: Flags, thrown: Flags, groups: int) -> Whole:
    """Put pitchers into groups of about as many pitches, by their whiffs a pitch."""
    known = pitcher >= 0
    number = int(pitcher.max(initial=0)) + 1
    missed = np.bincount(pitcher[known & whiffs], minlength=number)
    total = np.bincount(pitcher[known & thrown], minlength=number)
    league = missed.sum() / max(total.sum(), 1)
    rate = (missed + _PRIOR_PITCHES * league) / (total + _PRIOR_PITCHES)
    best_last = np.argsort(rate, kind="stable")
    share = (np.cumsum(total[best_last]) - total[best_last] / 2) / max(total.sum(), 1)
    group = np.empty(number, dtype=np.int64)
    group[best_last] = (share * groups).astype(np.int64).clip(0, groups - 1)
    return group


def hitters_of(frame: nw.DataFrame[Any], rows: Rows) -> pd.DataFrame:
    """Return one row a hitter, at the place of his number: name, and id where there is one."""
    columns = [name for name in ("hitter_id", "hitter") if name in frame.columns]
    table = frame.select(columns).to_pandas().iloc[rows.here].reset_index(drop=True)
    table["number"] = rows.hitter
    return table.drop_duplicates("number").set_index("number").sort_index()


def one_hitter(rows: Rows, frame: nw.DataFrame[Any], hitter: str) -> Rows:
    """Keep one hitter's rows; see :func:`hitlab.names.find_name`."""
    table = frame.select([name for name in ("hitter_id", "hitter", "club") if name in frame.columns])
    seen = table.to_pandas().iloc[rows.here]
    mine = find_rows(seen, hitter, where="who saw a pitch after a strike")
    return Rows(*(getattr(rows, name)[mine] for name in Rows.__slots__))
