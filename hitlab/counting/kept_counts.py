"""Counts of a folder of saved tables, kept part by part, so that what did not change is not counted again.

What is kept of a part are the sums of every count by all that tells hitters, games and pitchers apart: of
these the tally adds up what is asked by any of them. They are counted as ``tally`` counts, with the same
functions, under conventions that stand beside them; parts that changed, and new ones, are counted anew.
"""

from __future__ import annotations

import json
import os
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.counts import LABELS_OF
from hitlab.counting.events import EVENTS
from hitlab.counting.facts import PITCH_FACTS, Conventions, pitch_facts
from hitlab.counting.numbering import code_in_order, numbered_in_order
from hitlab.counting.situations import Situation
from hitlab.counting.summing import ROWS, cells, collected, sums_of, weights
from hitlab.pitches.kept_files import Name, forget, keep, kept, writing
from hitlab.pitches.regular import regular
from hitlab.pitches.schema import COLUMNS, OUTCOMES, RESULTS
from hitlab.pitches.season_folder import PartsOfOne, Sealed
from hitlab.pitches.storing import demand_stamp, folder_of

__all__ = ["KEYS", "KeptCounts", "kept_counts"]

KEYS = (
    *("hitter_id", "hitter", "club", "game", "date", "half", "pitcher_id", "pitcher"),
    *("level", "bat", "season"),
)
"""Columns that parts are counted by, where they have them: who met whom, when, and what hard means there."""

_OF_HITTERS = ("hitter_id", "hitter", "club", "level", "bat", "season")
"""Those of a second, small table of each part, of which most of what is asked can be added up."""

_SUMS = (ROWS, *EVENTS)
_KIND, _SMALL, _WHOLE = "counts", "totals", "whole"
_GROUP = "group"
_MOST_WAYS = 2  # to count that are kept (a default): the usual one, and one that is tried beside it
_MOST_CHOSEN = 24  # spans of days, clubs and ways of which the sums by hitter are kept (a default)
_AT_ONCE = 122_880  # rows that are counted at a time (a default): as many as saved tables have in a group


@dataclass(frozen=True, slots=True)
class KeptCounts:
    """What a whole folder counts, by those of ``KEYS`` that one of its parts has.

    Attributes
    ----------
    small, large
        Arrow tables: keys, then one column of whole numbers a count, and of the pitches. In the large one are
        the keys and counts that were asked for; it is not there where the small one tells all, and the small
        one not where some pitches were chosen.
    """

    small: Any
    large: Any

    def rows_by(self, *names: str) -> pd.DataFrame:
        """Return each combination that some columns have, what is missing among them, and its pitches."""
        return self.sums_by(names, (ROWS,))

    def sums_by(self, keys: Sequence[str], names: Iterable[str]) -> pd.DataFrame:
        """Return the groups in ascending order of the keys, what is missing last, and some counts, int64."""
        groups, sums = _summed(self._telling(keys), keys, names)
        return collected(nw.from_native(groups)).assign(**sums)

    def total(self, name: str) -> int:
        """Return the sum of one count over all."""
        return int(self._telling(()).column(name).to_numpy().sum(dtype=np.int64))

    def _telling(self, keys: Iterable[str]) -> Any:
        told = self.small is not None and {*keys} <= {*self.small.column_names}
        return self.small if told else self.large


def kept_counts(
    frame: Any,
    keys: Collection[str],
    columns: set[str],
    conventions: Conventions,
    names: Iterable[str] = (),
    where: Situation | None = None,
) -> KeptCounts | None:
    """Return the counts of a folder, counting only those parts that none are kept of.

    Parameters
    ----------
    frame
        The narwhals frame that is counted.
    keys
        What it is counted by.
    columns
        Its columns.
    conventions
        How it is counted.
    names
        The counts that are wanted.
    where
        Which pitches, by some of ``KEYS``.

    Returns
    -------
    KeptCounts, or None
        ``None`` where the pitches have to be counted: they are no whole folder, it does not pay, they are
        counted or chosen by something else, or what would be counted for it cannot be kept.
    """
    one = folder_of(nw.to_native(frame))
    chosen_by = set() if where is None else set(where.columns)
    if one is None or not {*keys, *chosen_by} <= set(KEYS):
        return None
    parts = one.sealed
    spelled = {name for part in parts.values() for name in part.columns}
    # To DuckDB a column of somebody's own that differs in capitals alone is ours.
    odd = any(name not in COLUMNS and name.casefold() in COLUMNS for name in spelled)
    if odd or not one.pays:
        return None
    present = [key for key in KEYS if key in columns]
    small = [key for key in present if key in _OF_HITTERS]
    asked = {*keys, *(label for key in keys for label in LABELS_OF.get(key, ()))}
    everything = {*asked, *small, *chosen_by}
    large = [key for key in present if key in (asked if where is None else everything)]
    by_hitter = set(keys) <= set(small) and (where is None or bool(where.terms))
    counted = _SUMS if where is None else tuple(dict.fromkeys((ROWS, *names)))
    of_all = Name(_WHOLE, one.seal, json.dumps([_way(conventions), where.terms if where else []]))
    if by_hitter and (told_of_all := _kept_of_all(one, of_all, small, counted)) is not None:
        return KeptCounts(told_of_all, None)
    wanted: list[tuple[str, list[str], tuple[str, ...]]] = []
    if where is None:
        wanted.append((_SMALL, small, _SUMS))
    if where is not None or not set(keys) <= set(small):
        wanted.append((_KIND, large, (ROWS, *names)))
    found = {kind: _found(one, kind, told, sums, conventions) for kind, told, sums in wanted}
    absent = [path for path in parts if any(path not in tables for tables in found.values())]
    if absent:
        if not _count(one, absent, conventions):
            return None
        forget(one.folder, one.seals, _way(conventions), (_KIND, _SMALL), _MOST_WAYS)
        found = {kind: _found(one, kind, told, sums, conventions) for kind, told, sums in wanted}
        if any(path not in tables for tables in found.values() for path in parts):
            return None
    small_table, whole = None, None
    for kind, told, sums in wanted:
        tables = [found[kind][path] for path in parts]
        together = _together(one, tables, told, tuple(dict.fromkeys(sums)))
        if kind == _SMALL:
            small_table = together
        else:
            whole = together if where is None else _chosen(together, where, columns)
    if not by_hitter:
        return KeptCounts(small_table, whole)
    small_table = _added_up(whole if small_table is None else small_table, small, counted)
    with writing(one.folder) as mine:
        if mine:
            keep(one.folder, of_all, small_table)
    forget(one.folder, one.seals, of_all.way, (_WHOLE,), _MOST_CHOSEN)
    return KeptCounts(small_table, None)


def _kept_of_all(one: PartsOfOne, name: Name, keys: Sequence[str], sums: Sequence[str]) -> Any:
    """Return what is kept of all parts together by hitter, so that it is one small table however many."""
    import pyarrow.compute as pc

    rows = sum(part.rows for part in one.sealed.values())
    table = kept(one.folder, name, rows, lambda schema: schema.names if _is_of(schema, keys, sums) else [])
    if table is None or any(table.column(name).null_count for name in sums):
        return None
    told = pc.sum(table.column(ROWS)).as_py() or 0
    return table if told == rows or (told < rows and sums is not _SUMS) else None


def _chosen(table: Any, where: Situation, columns: set[str]) -> Any:
    return nw.from_native(table).filter(where.on(columns) == True).to_native()  # noqa: E712  (an expression)


def _found(
    one: PartsOfOne, kind: str, keys: Sequence[str], sums: Sequence[str], conventions: Conventions
) -> dict[Path, Any]:
    """Return what is kept of the parts, as far as it is."""
    found = {}
    lent = {of for name, of in one.stand_in.items() if name in keys}
    for path, part in one.sealed.items():
        of = _OF_HITTERS if kind == _SMALL else KEYS
        own = [key for key in of if key in part.columns]
        wanted = [key for key in own if key in keys or key in lent]

        def choose(schema: Any, own: list[str] = own, wanted: list[str] = wanted) -> list[str]:
            return [*wanted, *dict.fromkeys(sums)] if _is_of(schema, own) else []

        name = Name(kind, part.seal, _way(conventions))
        table = kept(one.folder, name, part.rows, choose)
        if table is not None and _fits(table, part):
            found[path] = table
    return found


def _way(conventions: Conventions) -> str:
    """Give what of the conventions decides how a pitch is counted."""
    return json.dumps(
        [
            conventions.threshold_mph,
            conventions.foul_tip,
            conventions.hard_fouls,
            conventions.eye is not None,
        ]
    )


def _is_of(schema: Any, keys: Sequence[str], sums: Sequence[str] = _SUMS) -> bool:
    """Say whether a table can be what was counted of a part, by the names and kinds of its columns."""
    import pyarrow as pa

    if schema.names != [*keys, *sums] or any(schema.field(name).type != pa.int32() for name in sums):
        return False
    return all(schema.field(name).type == _kind(name) for name in keys)


def _fits(table: Any, part: Sealed) -> bool:
    """Say whether a table can be what was counted of a part: nothing missing, and as many pitches."""
    import pyarrow.compute as pc

    sums = [name for name in _SUMS if name in table.column_names]
    if any(table.column(name).null_count for name in sums):
        return False
    return (pc.sum(table.column(ROWS)).as_py() or 0) == part.rows


def _count(one: PartsOfOne, absent: Sequence[Path], conventions: Conventions) -> bool:
    """Count parts and keep it; not where it cannot be kept, because to count what is asked alone costs less.

    Where the pitches are no pitch table's it is for the tally to say so.
    """
    way = _way(conventions)
    with writing(one.folder) as mine:
        for path in absent if mine else ():
            part = one.sealed[path]
            with regular(path) as file:
                demand_stamp(path, os.fstat(file.fileno()), one.stamps[path])
                table = _counted(file, part, conventions)
                demand_stamp(path, os.fstat(file.fileno()), one.stamps[path])
            if table is None:
                return False
            small = _added_up(table, [key for key in _OF_HITTERS if key in part.columns])
            tables = {_KIND: table, _SMALL: small}
            if not all(keep(one.folder, Name(kind, part.seal, way), told) for kind, told in tables.items()):
                return False
        return mine


def _counted(file: BinaryIO, part: Sealed, conventions: Conventions) -> Any:
    """Count what is in a part; ``None`` where it has words that are none of the pitch table's."""
    import pyarrow as pa
    from pyarrow import parquet

    columns = set(part.columns)
    keys = [name for name in KEYS if name in columns]
    asked = {name for event in EVENTS.values() for name in event.rests_on} | {"hard_source"}
    wanted = [name for name in part.columns if name in asked or name in KEYS]
    texts = [name for name in keys if name != "date"]
    # Each name once and then its codes: those who met each other are numbered before any rule is weighed.
    opened = parquet.ParquetFile(file, read_dictionary=texts)
    tables, rules = [], _Rules(conventions)
    batches = (pa.Table.from_batches([one]) for one in opened.iter_batches(_AT_ONCE, columns=wanted))
    for rows in batches if part.rows else (opened.read(columns=wanted),):
        table = _counted_rows(rows, keys, columns, conventions, rules)
        if table is None:
            return None
        tables.append(table)
    return tables[0] if len(tables) == 1 else _added_up(pa.concat_tables(tables), keys)


def _added_up(table: Any, keys: Sequence[str], names: Sequence[str] = _SUMS) -> Any:
    """Add all counts up by some keys, as they are kept."""
    import pyarrow as pa

    groups, sums = _summed(table, keys, names)
    for name in names:
        groups = groups.append_column(name, pa.array(sums[name].astype(np.int32)))
    return groups


class _Rules:
    """The rules, each weighed once for each combination of facts however often rows are counted."""

    def __init__(self, conventions: Conventions) -> None:
        pitched = [event for event in EVENTS.values() if not event.ending]
        ending = [event for event in EVENTS.values() if event.ending]
        self._of = {"outcome": partial(weights, events=pitched), "result": partial(weights, events=ending)}
        self._conventions = conventions
        self._known: dict[str, dict[tuple[Any, ...], tuple[int, ...]]] = {name: {} for name in self._of}
        self._names: dict[str, list[str]] = {}

    def of_pitches(self, kinds: pd.DataFrame) -> dict[str, np.ndarray[Any, Any]]:
        """Weigh what a pitch became; it also counts as a row."""
        return {ROWS: np.ones(len(kinds), dtype=np.int64), **self._weighed("outcome", kinds)}

    def of_endings(self, kinds: pd.DataFrame) -> dict[str, np.ndarray[Any, Any]]:
        """Weigh how the plate appearance ended."""
        return self._weighed("result", kinds)

    def _weighed(self, of: str, kinds: pd.DataFrame) -> dict[str, np.ndarray[Any, Any]]:
        known = self._known[of]
        told = kinds.astype(object)
        rows = list(told.where(told.notna(), None).itertuples(index=False, name=None))
        fresh = [place for place, row in enumerate(rows) if row not in known]
        if fresh or of not in self._names:
            new = self._of[of](kinds.iloc[fresh].reset_index(drop=True), conventions=self._conventions)
            self._names[of] = list(new)
            each = zip(*(column.astype(np.int64).tolist() for column in new.values()), strict=True)
            known.update(zip([rows[place] for place in fresh], each, strict=True))
        names = self._names[of]
        table = np.array([known[row] for row in rows], dtype=np.int64).reshape(len(rows), len(names))
        return dict(zip(names, table.T, strict=True))


def _counted_rows(
    table: Any, keys: Sequence[str], columns: set[str], conventions: Conventions, rules: _Rules
) -> Any:
    """Count some rows of a part that has these columns, by its keys."""
    import pyarrow as pa

    group, first = numbered_in_order(table, keys)
    frame = nw.from_native(table.drop_columns(list(keys)).append_column(_GROUP, pa.array(group)))
    thrown = cells(frame.select(_GROUP, *pitch_facts(columns, conventions)), [_GROUP], PITCH_FACTS)
    if not set(thrown["outcome"].unique()) <= {*OUTCOMES}:
        return None
    counted = sums_of(thrown[_GROUP].to_numpy(), thrown, PITCH_FACTS, rules.of_pitches, len(first))
    if "result" in columns:
        results = cells(frame.filter(~nw.col("result").is_null()), [_GROUP], ("result",))
        if not set(results["result"].unique()) <= {*RESULTS}:
            return None
        told = results[_GROUP].to_numpy()
        counted |= sums_of(told, results, ("result",), rules.of_endings, len(first))
    groups = table.select(list(keys)).take(first)
    told_by = {name: groups.column(name).cast(_kind(name)) for name in keys}
    nothing = np.zeros(len(first), np.int32)
    sums = {name: pa.array(counted.get(name, nothing).astype(np.int32)) for name in _SUMS}
    return pa.table({**told_by, **sums})


def _summed(
    table: Any, keys: Sequence[str], names: Iterable[str]
) -> tuple[Any, dict[str, np.ndarray[Any, Any]]]:
    """Add rows up that have the same keys: a table of the keys in their order, and the sums, int64."""
    import pyarrow as pa

    code = code_in_order(table, keys)
    order = np.argsort(code, kind="stable")
    begins = np.flatnonzero(np.diff(code[order], prepend=-1))
    # Of no rows at all nothing is added up, not even by this.
    sums = {
        name: np.add.reduceat(table.column(name).to_numpy()[order], begins, dtype=np.int64)
        if len(begins)
        else begins
        for name in names
    }
    first = table.select(list(keys)).take(pa.array(order[begins]))
    return pa.table({name: first.column(name).cast(_kind(name)) for name in keys}), sums


def _kind(key: str) -> Any:
    import pyarrow as pa

    return pa.date32() if key == "date" else pa.large_string()


def _together(one: PartsOfOne, tables: Sequence[Any], keys: Sequence[str], sums: Sequence[str]) -> Any:
    """Put together what parts count as their pitches are; a column that a part lacks is blank there."""
    import pyarrow as pa
    import pyarrow.compute as pc

    lent = [of for name, of in one.stand_in.items() if name in keys and of not in keys]
    alike = []
    for table in tables:
        told = {
            name: _coded(table.column(name), name)
            if name in table.column_names
            else pa.nulls(table.num_rows, _coded_kind(name))
            for name in (*keys, *lent)
        }
        alike.append(pa.table({**told, **{name: table.column(name) for name in sums}}))
    whole = pa.concat_tables(alike)
    for name, of in one.stand_in.items():
        if name in keys:
            at = whole.schema.get_field_index(name)
            both = (whole.column(column).cast(_kind(column)) for column in (name, of))
            whole = whole.set_column(at, name, _coded(pc.coalesce(*both), name))
    return whole.select([*keys, *sums]).unify_dictionaries()


def _coded_kind(key: str) -> Any:
    import pyarrow as pa

    return pa.date32() if key == "date" else pa.dictionary(pa.int32(), pa.large_string())


def _coded(column: Any, key: str) -> Any:
    """Return a column of texts in codes; days are as they are."""
    import pyarrow as pa

    if pa.types.is_dictionary(column.type) or key == "date":
        return column.cast(_coded_kind(key))
    return column.cast(_kind(key)).dictionary_encode()
