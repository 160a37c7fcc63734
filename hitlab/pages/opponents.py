"""What a pitcher, or a club's pitchers, throw by count; nothing where too few pitches are known."""

from __future__ import annotations

from typing import Any

import narwhals as nw
import pandas as pd

from hitlab.counting.facts import Conventions
from hitlab.counting.finding import find_rows
from hitlab.counting.situations import situation
from hitlab.counting.summing import ROWS, cells
from hitlab.errors import ClaimError, MissingColumnsError
from hitlab.estimates.faced import sides
from hitlab.names import find_name
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.showing import shown_name
from hitlab.spoken import share_said

__all__ = ["COUNTS_TOLD", "FEW", "thrown", "thrown_words"]

FEW = 50
"""Of fewer pitches in a count nothing is said: half of them can as well be a third or two thirds."""

COUNTS_TOLD = {
    "first pitch": "First pitch",
    "ahead in the count": "Hitter ahead",
    "strikes=2": "Two strikes",
}
"""The counts that are told, as terms of a situation, and what they are called."""

_PITCHERS = 3  # of a club, beside all of them together
_LEAST_SHARE = 0.05

_COLUMNS = ["who", "count", "pitch_kind", "pitches", "of"]


def thrown(
    pitches: Any, *, pitcher: str = "", club: str = "", conventions: Conventions | None = None
) -> tuple[pd.DataFrame, str]:
    """Count what is thrown, by count.

    Parameters
    ----------
    pitches
        The pitch table.
    pitcher
        Whose pitches; or
    club
        whose pitchers', who are told by the club that bats against them.
    conventions
        How much may be in doubt.

    Returns
    -------
    tuple
        One row a pitcher (or all of the club), count and kind of pitch: ``who``, ``count``, ``pitch_kind``,
        ``pitches`` and ``of`` (pitches of known kind in that count), the commonest kind first; and whose they
        are, by the proper name.

    Raises
    ------
    UnknownHitterError
        Where no pitcher or club, or more than one, is called so.
    ClaimError
        Where a column contradicts the others too often.
    MissingColumnsError
        Where a column is missing.
    """
    frame, _ = frame_of(pitches)
    there = set(frame.collect_schema().names())
    conventions = conventions or Conventions()
    needed = ["pitch_kind", "balls", "strikes"]
    told: list[str] = [one for one in ("pitcher_id", "pitcher") if one in there]
    _demand(there, [*needed, *(["game", "club"] if club else [])])
    doubts_of(pitches).refuse(needed, conventions.most_contradicted, "what is thrown by count")
    seen = cells(frame, [*told, *(["game", "club"] if club else []), *needed], ())
    if pitcher:
        seen = seen[find_rows(seen, pitcher, who="pitcher")]
        name = _called(seen, told)
        parts = [(name, seen)]
    else:
        clubs = sorted({str(one) for one in seen["club"].dropna()})
        name = clubs[find_name(club, clubs, what="club")]
        staff = sides(seen, pitches, told[0] if told else "club").get("staff")
        if staff is None or not (staff == name).any():
            raise ClaimError(f"the table does not tell who pitches for the {shown_name(name)}")
        seen = seen[(staff == name).to_numpy()]
        parts = [("All of them", seen)]
        if told:
            many = seen.groupby(told[0])[ROWS].sum().sort_values(ascending=False, kind="stable")
            own = [seen[seen[told[0]] == one] for one in many.index[:_PITCHERS]]
            parts += [(_called(one, told), one) for one in own]
    rows = [row for who, part in parts for row in _by_count(who, part)]
    return pd.DataFrame(rows, columns=_COLUMNS), shown_name(name)


def _demand(there: set[str], needed: list[str]) -> None:
    absent = [one for one in needed if one not in there]
    if absent:
        raise MissingColumnsError(f"the table has no column {absent[0]}")


def _called(seen: pd.DataFrame, told: list[str]) -> str:
    """Return the name under which most of the pitches stand."""
    many = seen.groupby(told[-1])[ROWS].sum().sort_values(ascending=False, kind="stable")
    return shown_name(many.index[0] if len(many) else seen[told[0]].iloc[0])


def _by_count(who: str, seen: pd.DataFrame) -> list[tuple[str, str, str, int, int]]:
    """Return the rows of one pitcher, or of all together."""
    rows: list[tuple[str, str, str, int, int]] = []
    frame = nw.from_native(seen.dropna(subset=["pitch_kind"]), eager_only=True)
    for term, name in COUNTS_TOLD.items():
        inside = frame.filter(situation(term).on(frame.columns)).to_native()
        many = inside.groupby("pitch_kind")[ROWS].sum().sort_values(ascending=False, kind="stable")
        of = int(many.sum())
        rows += [(who, name, str(kind), int(number), of) for kind, number in many.items()] or [
            (who, name, "", 0, 0)
        ]
    return rows


def thrown_words(rows: pd.DataFrame, kinds: int = 3) -> str:
    """Say what is thrown in one count; empty where too little is known.

    Parameters
    ----------
    rows
        Of one pitcher in one count, as :func:`thrown` gives them.
    kinds
        How many kinds are named, the commonest first; those of fewer than one pitch in twenty are not.

    Examples
    --------
    >>> rows = pd.DataFrame({"pitch_kind": ["sinker", "slider", "curveball"], "pitches": [52, 26, 2]})
    >>> rows["of"] = 80
    >>> thrown_words(rows)
    'sinker about two in three, slider about one in three (80 pitches)'
    """
    of = int(rows["of"].iloc[0])
    if of < FEW:
        return ""
    head: Any = rows.head(kinds).itertuples()
    said = [
        f"{shown_name(row.pitch_kind)} {share_said(row.pitches / of)}"
        for row in head
        if row.pitches >= _LEAST_SHARE * of
    ]
    return f"{', '.join(said)} ({of:,} pitches)"
