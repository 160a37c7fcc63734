"""Who is meant by a name, in a table of counts or of pitches; the rule itself is in ``hitlab.names``."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts
from hitlab.errors import MissingColumnsError, UnknownHitterError
from hitlab.names import find_name, find_places, words_of
from hitlab.showing import quoted

__all__ = ["find_row", "find_rows"]


def find_row(counts: Counts, name: str, *, where: str = "here") -> int:
    """Return the row of a hitter, or of whoever is counted, by id, label, name or some words of the name.

    Parameters
    ----------
    counts
        Counts by hitter, pitcher or club; of more columns, a name has to tell the row (``Ada Yarl, 2031``).
    name
        See :func:`hitlab.names.find_name`.
    where
        Where it is looked for, in the messages.

    Raises
    ------
    UnknownHitterError
        Where nobody is called so (the nearest spellings are offered), more than one is, or one person has
        several rows.
    """
    columns = set(counts.data.columns)
    what = next((one for one in ("hitter", "pitcher") if columns & {one, f"{one}_id"}), "hitter")
    if what not in columns and counts.by == ("club",):
        what = "club"
    ids, names = (counts.data.get(column) for column in (f"{what}_id", what))
    labels = counts.labels
    places = find_places(name, labels, ids=ids, names=names, what=what, where=where)
    if len(places) > 1:
        rows = ", ".join(labels[place] for place in places[:5])
        more = f" and {len(places) - 5:,} more" if len(places) > 5 else ""
        raise UnknownHitterError(
            f"{quoted(name)} has {len(places):,} rows here: {rows}{more}. Give one of these, or count by "
            f"{what} alone"
        )
    return places[0]


def find_rows(
    table: pd.DataFrame, name: str, *, who: str = "hitter", where: str = "here"
) -> NDArray[np.bool_]:
    """Tell for each row of a table of pitches or results whether it is this hitter's.

    Parameters
    ----------
    table
        One row a pitch or a result, with the columns ``hitter``, ``hitter_id`` and ``club`` as far as there.
    name
        See :func:`hitlab.names.find_name`; also what ``Counts`` of this table calls him, with the clubs or
        the id that tell him from another. One of several clubs after the name, such as ``Ada Yarl (Larks)``,
        leaves the rows in which he played for it.
    who
        ``pitcher`` finds by ``pitcher`` and ``pitcher_id`` instead.
    where
        Where it is looked for, in the messages.

    Returns
    -------
    numpy.ndarray
        True where the row is his, shape (rows,): by id where the table has ids, whatever the spelling.

    Raises
    ------
    UnknownHitterError
        Where nobody is called so (the nearest spellings are offered), or more than one.
    MissingColumnsError
        Where the table has no column that says who it was.
    """
    key = f"{who}_id"
    columns = [one for one in (key, who, *(["club"] if who == "hitter" else [])) if one in table.columns]
    if not {key, who} & set(columns):
        raise MissingColumnsError(f"a {who} is found by the column {who} or {key}; the table has neither")
    number = table.groupby(columns, dropna=False, sort=False, observed=True).ngroup().to_numpy(np.int64)
    seen = _spelled(table[columns], number, key, who)
    try:
        place = find_name(name, _labels(seen), ids=seen["id"], names=seen["name"], what=who, where=where)
        person = seen["id"].iloc[place]
    except UnknownHitterError as error:
        played = seen.dropna(subset=["name", "club"])
        try:
            place = find_name(name, played["name"] + " (" + played["club"] + ")", ids=played["id"])
        except UnknownHitterError:
            raise error from None
        person = played["id"].iloc[place]
    mine = seen[seen["id"] == person]
    beside = words_of(name)
    for own in ("id", person, *mine["name"].dropna()):
        beside -= words_of(str(own))
    named = np.array([bool(beside & words_of(str(club))) for club in mine["club"]])
    return np.isin(number, mine.index[named] if named.any() else mine.index)


def _spelled(table: pd.DataFrame, number: NDArray[Any], key: str, who: str) -> pd.DataFrame:
    """Return each way in which a person stands in the table: his id (else the name), name, club, and rows."""
    first = ~pd.Series(number).duplicated().to_numpy()
    rows = table[first].astype(object).set_axis(number[first])
    rows = rows.where(rows.notna(), None)
    name = rows[who] if who in rows else rows[key]
    told = rows[key].notna() if key in rows else pd.Series(False, index=rows.index)
    person = rows[key].where(told, name) if key in rows else name
    seen: pd.DataFrame = pd.DataFrame(
        {"id": person.astype(str), "name": name, "club": rows.get("club"), "rows": np.bincount(number)}
    )
    # A row without an id is nobody's whose name stands with an id elsewhere: so it is in the counts, too.
    stray = ~told & name.isin(set(name[told]))
    return seen[person.notna() & ~stray]


def _labels(seen: pd.DataFrame) -> list[str]:
    """Return for each way in which a person stands in the table what counts of the table call him."""
    ordered = seen.sort_values(["rows", "name"], ascending=[False, True], kind="stable")
    clubs = (
        seen.dropna(subset=["club"])
        .groupby("id", observed=True)["club"]
        .agg(lambda own: " and ".join(sorted(set(own))))
    )
    people = ordered.groupby("id", observed=True)[["name"]].first().rename(columns={"name": "hitter"})
    people = people.assign(club=clubs).rename_axis("hitter_id")
    known = people.loc[:, ["hitter", *(["club"] if people["club"].notna().any() else [])]].reset_index()
    labels = dict(zip(people.index, Counts(known, ("hitter_id",)).labels, strict=True))
    return [labels[person] for person in seen["id"]]
