"""Sums over groups: rows reduced to cells, and the rules weighed once a combination of facts."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Any, Protocol

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.counting.events import Event, event_expression
from hitlab.counting.facts import Conventions
from hitlab.counting.numbering import numbered
from hitlab.errors import HitlabError, ReadingError
from hitlab.showing import quoted

__all__ = [
    "ROWS",
    "BroughtHome",
    "Counted",
    "Gathered",
    "Pitched",
    "Rows",
    "Weigh",
    "brought_home",
    "cells",
    "collected",
    "collected_arrow",
    "is_spread",
    "looked_up",
    "note_brought",
    "summed",
    "sums_of",
    "sums_there",
    "weights",
]

ROWS = "rows_counted"
"""Column of a grouped table that says how many rows each cell stands for."""

Weigh = Callable[[pd.DataFrame], dict[str, np.ndarray[Any, Any]]]

_AT_ONCE = 2_000_000  # combinations of group and kind that are summed at a time (a default): 16 MB


@dataclass(frozen=True, slots=True)
class BroughtHome:
    """A table that came from an engine into this process.

    Attributes
    ----------
    rows, columns
        Its size.
    size_bytes
        What it takes as an Arrow table, in bytes.
    """

    rows: int
    columns: int
    size_bytes: int


_BROUGHT: ContextVar[list[BroughtHome] | None] = ContextVar("tables brought home", default=None)


@contextmanager
def brought_home() -> Iterator[list[BroughtHome]]:
    """List what comes home from an engine while something is asked of a table there.

    Pitches that are in memory already are not listed.

    Yields
    ------
    list of BroughtHome
        One a table, in the order in which they came; it grows while the context is open.

    Examples
    --------
    >>> import hitlab
    >>> from hitlab.counting import brought_home
    >>> with brought_home() as tables:
    ...     counts = hitlab.tally(hitlab.demo_season(), where="strikes=2")
    >>> bool(max(table.rows for table in tables) < counts.column("pitches").sum() / 10)
    True
    """
    tables: list[BroughtHome] = []
    before = _BROUGHT.set(tables)
    try:
        yield tables
    finally:
        _BROUGHT.reset(before)


def collected(frame: Any) -> pd.DataFrame:
    """Return a narwhals frame as pandas, whatever engine it is on.

    Raises
    ------
    ReadingError
        Where the engine fails on the way: nothing is known of its rows then, and nothing is counted.
    """
    if isinstance(frame, nw.DataFrame):
        return _as_pandas(frame)
    table = _as_pandas(_from_engine(frame))
    if _BROUGHT.get() is not None:
        note_brought(nw.from_native(table, eager_only=True).to_arrow())
    return table


def collected_arrow(frame: Any) -> Any:
    """Return a lazy narwhals frame as an Arrow table: for many rows of small numbers, which pandas widens.

    Raises
    ------
    ReadingError
        As :func:`collected`.
    """
    table = _from_engine(frame, backend="pyarrow").to_native()
    note_brought(table)
    return table


def note_brought(table: Any) -> None:
    """Tell those who listen of an Arrow table that came home.

    Parameters
    ----------
    table
        The table.
    """
    tables = _BROUGHT.get()
    if tables is not None:
        tables.append(BroughtHome(table.num_rows, table.num_columns, table.nbytes))


def _from_engine(frame: Any, backend: Any = None) -> Any:
    """Let an engine compute, and say what is wrong where it cannot."""
    engine = frame.implementation
    try:
        # What is silenced for a moment in an engine's threads would stay silent where two of them overlap.
        with warnings.catch_warnings():
            return frame.collect(backend=backend)
    except (HitlabError, nw.exceptions.NarwhalsError):
        raise
    except Exception as error:
        # The engine reads and computes only here, and what is wrong shows; its classes are not imported.
        said = (str(error).strip().splitlines() or [type(error).__name__])[0][:200]
        if type(error).__module__ in ("duckdb", "_duckdb"):
            raise ReadingError(
                f"the pitch table cannot be read through: {said}. Is its file still there, and whole?"
            ) from error
        if is_spread(frame):
            raise ReadingError(
                f"the {engine.value} table could not be counted, and nothing of it was: "
                f"{type(error).__name__}: {said}. Mend what it names and ask again"
            ) from error
        raise


def _as_pandas(eager: Any) -> pd.DataFrame:
    # Its columns are put in place of others: a frame of pandas is the caller's own, or a part of it.
    table: pd.DataFrame = eager.to_pandas().copy(deep=False)
    own_text = pd.Series(["text"]).dtype
    for name in table.columns:  # engines differ in the kind of text that they give: take pandas' own
        kind = table[name].dtype
        # Before pandas 3 its own is any object, in which what is missing stands in two ways; and categories
        # stand in the order in which an engine met them, which would be the groups'.
        other = isinstance(kind, pd.StringDtype) and kind != own_text
        arbitrary = isinstance(kind, pd.CategoricalDtype) and not kind.ordered
        if other or arbitrary or kind == own_text == np.dtype(object):
            values = table[name].astype(object)
            plain = pd.Series(values.mask(values.isna(), np.nan).to_numpy(), index=table.index)
            table[name] = plain.infer_objects() if arbitrary else plain
    return table


class Rows(Protocol):
    """Something whose rows can be counted: pitches, or what was counted of them."""

    def rows_by(self, *names: str) -> pd.DataFrame:
        """Return each combination that some columns have, what is missing among them, and its pitches."""


@dataclass(frozen=True, slots=True)
class Pitched:
    """A narwhals frame of pitches, of which each row is one."""

    frame: Any

    def rows_by(self, *names: str) -> pd.DataFrame:
        """Return each combination that some columns have, what is missing among them, and its pitches."""
        names = tuple(dict.fromkeys(names))
        if self.frame.implementation.is_dask():
            return _by_partitions(self.frame, names, names)
        return collected(self.frame.group_by(*names, drop_null_keys=False).agg(nw.len().alias(ROWS)))


@dataclass(frozen=True, slots=True)
class Gathered:
    """Pitches that were counted once by all that will be asked of them.

    Where rows are spread over workers each question is a job, and a job costs more than a larger answer.

    Attributes
    ----------
    data
        One row a combination, with ``ROWS``.
    """

    data: pd.DataFrame

    @classmethod
    def of(cls, frame: Any, told: Sequence[Any], names: Sequence[str]) -> Gathered:
        """Count the rows of a narwhals frame by what some expressions tell, and what these are called."""
        if frame.implementation.is_dask():
            return cls(_by_partitions(frame, told, names))
        return cls(cells(frame.select(*told), names, ()))

    def rows_by(self, *names: str) -> pd.DataFrame:
        """Return each combination that some columns have, what is missing among them, and its pitches."""
        groups = self.data.groupby(list(dict.fromkeys(names)), dropna=False, observed=True, sort=False)
        found: pd.DataFrame = groups[ROWS].sum().reset_index()
        return found


@dataclass(frozen=True, slots=True)
class Counted:
    """How many pitches of each kind there are in each group.

    Attributes
    ----------
    groups
        Each combination of the keys once, in ascending order, what is missing last.
    kinds
        Combinations of facts.
    group, kind
        Whole numbers, one a cell: its row in ``groups``, and in ``kinds``.
    size
        Pitches of each cell, int64.
    """

    groups: pd.DataFrame
    kinds: pd.DataFrame
    group: np.ndarray[Any, Any]
    kind: np.ndarray[Any, Any]
    size: np.ndarray[Any, Any]

    @classmethod
    def of(cls, rows: pd.DataFrame, keys: Sequence[str], facts: Sequence[str]) -> Counted:
        """Take what :func:`cells` gives."""
        group, kind = numbered(rows[list(keys)]), numbered(rows[list(facts)])
        groups, kinds = rows[list(keys)], rows[list(facts)]
        groups = groups.iloc[_firsts(group)].reset_index(drop=True)
        groups = groups.sort_values(list(keys), na_position="last")
        place = np.empty(len(groups), dtype=np.int64)
        place[groups.index] = np.arange(len(groups))
        kinds = kinds.iloc[_firsts(kind)].reset_index(drop=True)
        size = rows[ROWS].to_numpy(np.int64)
        return cls(groups.reset_index(drop=True), kinds, place[group], kind, size)

    def by_kind(self) -> pd.DataFrame:
        """Return the kinds with their pitches in all groups, as ``ROWS``."""
        total = np.bincount(self.kind, self.size, len(self.kinds))  # exact: far below 2**53
        return self.kinds.assign(**{ROWS: total.astype(np.int64)})

    def having(self, fact: str) -> Counted:
        """Leave out the pitches of those kinds of which a fact is missing."""
        has = self.kinds[fact].notna().to_numpy()
        mine, place = has[self.kind], np.cumsum(has) - 1
        kinds = self.kinds[has].reset_index(drop=True)
        return Counted(self.groups, kinds, self.group[mine], place[self.kind[mine]], self.size[mine])

    def add_to(self, data: pd.DataFrame, keys: Sequence[str], weigh: Weigh) -> None:
        """Add to a frame with all groups, each once, one column a name: what kinds weigh, summed, int64."""
        keys = list(keys)
        # Its rows stand first, so that the number of a group is its row there.
        place = numbered(pd.concat([data[keys], self.groups[keys]], ignore_index=True))[len(data) :]
        sums = _weighed(weigh, self.kinds, place[self.group], self.kind, self.size, len(data))
        for name, total in sums.items():
            data[name] = total


def _firsts(number: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    return np.flatnonzero(~pd.Series(number).duplicated())


def is_spread(frame: Any) -> bool:
    """Say whether the rows of a narwhals frame are spread over workers."""
    engine = frame.implementation
    return bool(engine.is_dask() or engine.is_spark_like())


def summed(frame: Any, keys: Sequence[str], columns: Sequence[str], kind: str = "int64") -> pd.DataFrame:
    """Return the sums of some columns for each combination of keys, what is missing among them.

    Parameters
    ----------
    frame
        A narwhals frame.
    keys
        Columns to group by.
    columns
        Columns of whole numbers.
    kind
        Of the sums as they come: a narrower one where they are known to be small.
    """
    if frame.implementation.is_dask():
        # Brought together along a tree: what narwhals asks of Dask is sent from every process to every other
        # one, far more work for a small table, and it fails on some versions between processes.
        native = nw.to_native(frame.select(*keys, *columns))
        groups = native.groupby(list(keys), sort=False, dropna=False, observed=True)
        return collected(nw.from_native(groups.sum(split_out=1).astype(kind).reset_index()))
    sums = frame.group_by(*keys, drop_null_keys=False).agg(*(nw.col(name).sum() for name in columns))
    narrow = [nw.col(name).cast(nw.Int32) for name in columns] if kind == "int32" else []
    return collected(sums.with_columns(*narrow) if narrow else sums)


def _by_partitions(frame: Any, told: Sequence[Any], names: Sequence[str]) -> pd.DataFrame:
    """Count the rows of a Dask frame by what some expressions tell, each partition by itself first.

    One step a partition: Dask looks at a step for each fact far longer than a partition takes for it.
    """
    rows = nw.to_native(frame)
    # What comes out is told by no rows: of those that Dask invents, some kinds cannot be compared.
    native = rows.map_partitions(_groups, list(told), meta=_groups(rows._meta, told))
    return summed(nw.from_native(native), names, [ROWS])


def _groups(part: pd.DataFrame, told: Sequence[Any]) -> pd.DataFrame:
    """Return each combination that some expressions tell of some rows, and how often."""
    # Pandas cannot join its own truth values, where some are missing, with what texts on Arrow compare to.
    flags = [name for name, kind in part.dtypes.items() if isinstance(kind, pd.BooleanDtype)]
    part = part.astype(dict.fromkeys(flags, "bool[pyarrow]"))
    rows = nw.from_native(part, eager_only=True).select(*told).to_native()
    rows = rows.astype({name: "boolean" for name in flags if name in rows})
    number = numbered(rows)
    first = _firsts(number)
    return rows.iloc[first].assign(**{ROWS: np.bincount(number, minlength=len(first))})


def sums_there(
    frame: Any,
    keys: Sequence[str],
    told: Sequence[Any],
    rules: Mapping[tuple[str, ...], Weigh],
    flags: Sequence[nw.Expr],
    most: int,
) -> pd.DataFrame:
    """Add up by keys what spread rows count, so that a row a group comes home, not a row a fact.

    Parameters
    ----------
    frame
        A narwhals frame on Dask or Spark.
    keys
        Columns to group by.
    told
        Expressions that give the keys and facts.
    rules
        For the names of some facts, what combinations of them weigh, by the name of a count: for Dask.
    flags
        The same counts as expressions of the facts: for Spark, which has no rows of pandas.
    most
        No sum can be larger.
    """
    asked = list(keys)
    if not frame.implementation.is_dask():
        facts = frame.select(*told).select(*asked, *(flag.fill_null(0) for flag in flags))
        names = [name for name in facts.collect_schema().names() if name not in asked]
        data = summed(facts, asked, names, "int32" if most < 2**31 else "int64")
        data[names] = data[names].astype("int64")
        return data.sort_values(asked, na_position="last", ignore_index=True)

    def sums(part: pd.DataFrame) -> pd.DataFrame:
        groups = _groups(part, told)
        data = groups[asked].drop_duplicates().reset_index(drop=True)
        for facts, weigh in rules.items():
            counted = Counted.of(groups.dropna(subset=list(facts)), asked, facts)
            counted.add_to(data, asked, weigh)
        return data

    rows = nw.to_native(frame)
    native = rows.map_partitions(sums, meta=sums(rows._meta))
    names = [name for name in native.columns if name not in asked]
    data = summed(nw.from_native(native), asked, names, "int32" if most < 2**31 else "int64")
    data[names] = data[names].astype("int64")
    return data.sort_values(asked, na_position="last", ignore_index=True)


def cells(frame: Any, keys: Sequence[str], facts: Sequence[str]) -> pd.DataFrame:
    """Group by keys and facts and count the rows: the one step that touches every row."""
    try:
        data = Pitched(frame).rows_by(*keys, *facts)
        for name in (*keys, *facts):
            if not pd.api.types.is_numeric_dtype(data[name]):
                "".join(text for text in data[name].unique() if isinstance(text, str)).encode()
    except UnicodeEncodeError as error:  # some versions of pandas group by such a text, and others cannot
        text = str(error.object)[error.start]
        where, cell = next(
            (f"{name}, row {row}", cell)
            for name in (*keys, *facts)
            for row, cell in enumerate(frame[name].to_list(), 1)
            if isinstance(cell, str) and text in cell
        )
        raise ReadingError(
            f"{where}: {quoted(cell)} holds half of a character, as where bytes were read with the wrong "
            "encoding. Read the table with read_pitches, which writes it as an escape, or mend the text"
        ) from error
    return data


def looked_up(column: pd.Series[Any], told: pd.Series[Any]) -> pd.Series[Any]:
    """Return for each value of a long column what is told of it by its index; each is looked for once."""
    code, values = pd.factorize(column)
    place = np.append(told.index.get_indexer(pd.Index(values)), -1)[code]
    return pd.Series(pd.api.extensions.take(told.values, place, allow_fill=True), index=column.index)


def sums_of(
    place: np.ndarray[Any, Any], cells: pd.DataFrame, facts: Sequence[str], weigh: Weigh, groups: int
) -> dict[str, np.ndarray[Any, Any]]:
    """Sum the cells' sizes times their weights by group, int64.

    Parameters
    ----------
    place
        For each cell its group, whole numbers from 0.
    cells
        With the facts, and ``ROWS``.
    facts, weigh
        What tells cells apart, and what each counts as.
    groups
        How many groups there are.
    """
    kind = numbered(cells[list(facts)])
    kinds = cells[list(facts)].iloc[_firsts(kind)].reset_index(drop=True)
    return _weighed(weigh, kinds, place, kind, cells[ROWS].to_numpy(np.int64), groups)


def _weighed(
    weigh: Weigh,
    kinds: pd.DataFrame,
    place: np.ndarray[Any, Any],
    kind: np.ndarray[Any, Any],
    size: np.ndarray[Any, Any],
    groups: int,
) -> dict[str, np.ndarray[Any, Any]]:
    """Sum sizes times weights, which are asked for once a kind and not once a cell: kinds are few."""
    weighed = weigh(kinds)
    if not weighed:
        return {}
    each = np.column_stack([weight.astype(np.float64) for weight in weighed.values()])
    return dict(zip(weighed, _summed_by_kind(place, kind, size, each, groups).T, strict=True))


def _summed_by_kind(
    place: np.ndarray[Any, Any],
    kind: np.ndarray[Any, Any],
    size: np.ndarray[Any, Any],
    each: np.ndarray[Any, Any],
    groups: int,
) -> np.ndarray[Any, Any]:
    """Return sums by group: a table of groups by kinds, some groups at a time, times each kind's weights.

    Products of whole numbers are exact as floats, and take a tenth of the time of one sum after the other.
    """
    kinds, sums = len(each), np.zeros((groups, each.shape[1]), dtype=np.int64)
    at_once = max(_AT_ONCE // max(kinds, 1), 1)
    if groups > at_once:
        order = np.argsort(place, kind="stable")
        place, kind, size = place[order], kind[order], size[order]
    for first in range(0, groups, at_once):
        number = min(at_once, groups - first)
        ends = [0, len(place)] if groups <= at_once else np.searchsorted(place, [first, first + number])
        mine = slice(*ends)
        cell = (place[mine] - first) * kinds + kind[mine]
        table = np.bincount(cell, size[mine], number * kinds).reshape(number, kinds)
        sums[first : first + number] = table @ each
    return sums


def weights(
    kinds: pd.DataFrame, events: Iterable[Event], conventions: Conventions
) -> dict[str, np.ndarray[Any, Any]]:
    """Evaluate the rules on combinations of facts.

    There are few of them, and forty expressions on a short table cost pandas several times what they cost
    Arrow.
    """
    import pyarrow as pa

    table = pa.Table.from_pandas(kinds, preserve_index=False)
    for name in ("outcome", "result"):
        if name in kinds:
            # A column in which nothing stands may be of any kind; its missing values are compared with words.
            words = table.column(name).cast(pa.large_string())
            table = table.set_column(table.schema.get_field_index(name), name, words)
    flags = nw.from_native(table, eager_only=True).select(
        *(event_expression(event, conventions).alias(event.name) for event in events)
    )
    return {event.name: flags[event.name].to_numpy() for event in events}
