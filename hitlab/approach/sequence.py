"""What came before: the previous pitch of the same plate appearance, beside each pitch.

Pitches are put in the order of their key (``game``, ``plate_appearance``, ``pitch``); the order of the rows
does not matter. A plate appearance whose order cannot be trusted is set aside whole and reported by
:func:`sequence_faults`: a pitch is missing, a number stands twice, a pitch follows the end, or the count
contradicts the order. A plate appearance without a result is none of these. Where the hitter changes in
mid-count, the substitute's first pitch has no previous one: it was thrown to somebody else.

A frame in memory is put in order here (:func:`put_in_order`). A lazy one stays where it is: its engine does
the same by the window functions of :mod:`hitlab.pitches.in_order`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from hitlab.counting.events import EVENTS, event_expression
from hitlab.counting.facts import FACT_COLUMNS, PITCH_FACTS, Conventions, pitch_facts
from hitlab.counting.hardness import why_hard_is_unknown
from hitlab.counting.summing import collected
from hitlab.counting.value_kinds import demand_kinds
from hitlab.errors import CountsError, MissingColumnsError, ReadingError
from hitlab.pitches.counting import has_whole_key, key_order, rebuild
from hitlab.pitches.in_order import (
    AFTER_END,
    APPEARANCE,
    CONTRADICTED,
    FAULT,
    FIRST,
    GAP,
    TWICE,
    WHOLE,
    WRONG,
    by_games,
    coded,
    has_order,
    in_order,
    is_dask,
    pitch_by_pitch,
)
from hitlab.pitches.opening import frame_of, native_of
from hitlab.pitches.schema import KEY
from hitlab.pitches.sources import TEXT

__all__ = [
    "PREVIOUS",
    "Order",
    "demand_order",
    "demand_told",
    "eager",
    "ledger_flags",
    "previous_beside",
    "put_in_order",
    "same_as_before",
    "sequence_faults",
    "stays_lazy",
    "who_bats",
    "with_previous",
]

PREVIOUS = {
    "previous_kind": "pitch_kind",
    "previous_outcome": "outcome",
    "previous_speed_mph": "speed_mph",
    "previous_inside_in": "inside_in",
    "previous_height_in": "height_in",
}
"""Added column -> the pitch table's column that it repeats from the pitch before."""

_PREVIOUS_FLAGS = {"previous_swing": "swings", "previous_whiff": "whiffs"}
_TRUSTED = "sequence_trusted"

_FAULTS = {
    CONTRADICTED: "the count contradicts the order",
    AFTER_END: "a pitch follows the end",
    GAP: "a pitch is missing",
    TWICE: "a pitch number stands twice",
}
_NO_KEY = "no whole key"
_LOOKED_AT = (*KEY, "outcome", "balls", "strikes", "bunt")
_HITTER_BEFORE = "in_order_hitter_before"

_NULLABLE = {pa.bool_(): pd.BooleanDtype(), pa.string(): TEXT, pa.large_string(): TEXT}


@dataclass(frozen=True, eq=False, slots=True)
class Order:
    """How the rows of a pitch table follow each other.

    Attributes
    ----------
    places
        The rows (from 0) that have their whole key, in the order of the key.
    previous, following
        For each row: the row (from 0) of the pitch before and after it in the same plate appearance; -1
        where there is none, where the plate appearance is set aside, and across a change of hitter.
    appearance
        For each row: the number (from 0) of its plate appearance; -1 where its key is not whole.
    trusted
        For each row: whether its plate appearance is in order.
    balls, strikes
        For each row: the count before the pitch, rebuilt from the order; -1 where it is not trusted.
    faults
        See :func:`sequence_faults`.
    searched, set_aside
        Number of plate appearances in order, and of those set aside.
    """

    places: NDArray[np.int64]
    previous: NDArray[np.int64]
    following: NDArray[np.int64]
    appearance: NDArray[np.int64]
    trusted: NDArray[np.bool_]
    balls: NDArray[np.int64]
    strikes: NDArray[np.int64]
    faults: pd.DataFrame
    searched: int
    set_aside: int


def eager(pitches: Any, columns: Sequence[str] | None = None) -> tuple[nw.DataFrame[Any], str]:
    """Return a pitch table as an eager narwhals frame, and its kind: ``eager``, ``polars lazy``, ``duckdb``.

    Parameters
    ----------
    pitches
        As for :func:`with_previous`.
    columns
        Keep only those of these that the table has, so that a file or a relation is not read whole.

    Raises
    ------
    ReadingError
        Where it is no table, or one whose rows are spread over workers (Dask, Spark).
    """
    home = type(native_of(pitches)).__module__.partition(".")[0]
    if home in ("dask", "pyspark"):
        raise _spread_out(home)
    frame, _ = frame_of(pitches)
    if columns is not None:
        there = set(frame.collect_schema().names())
        frame = frame.select([name for name in dict.fromkeys(columns) if name in there])
    if isinstance(frame, nw.DataFrame):
        return frame, "eager"
    kind = str(frame.implementation.value)
    if kind not in ("duckdb", "polars"):
        raise _spread_out(kind)
    backend = "pyarrow" if kind == "duckdb" else "polars"
    return frame.collect(backend=backend), "duckdb" if kind == "duckdb" else "polars lazy"


def _spread_out(kind: str) -> ReadingError:
    return ReadingError(
        f"What follows what cannot be told on a {kind} table: its rows are spread over workers in no order. "
        "Bring it into memory first (Dask: .compute(), Spark: .toPandas()), or save it with write_checked "
        "and give the file's path."
    )


def demand_told(
    table: Any, columns: Sequence[str], events: tuple[str, ...], conventions: Conventions
) -> None:
    """Refuse a table that does not tell whether a pitch enters some counts.

    Parameters
    ----------
    table
        Of any kind.
    columns
        Its columns.
    events, conventions
        As for :func:`ledger_flags`.

    Raises
    ------
    MissingColumnsError, CountsError
        As :func:`ledger_flags`.
    """
    for name in events:
        lacking = ("outcome",) if "outcome" not in columns else EVENTS[name].lacking(set(columns))
        if lacking:
            raise MissingColumnsError(f"{name} cannot be told: the table has no column {', '.join(lacking)}")
    if any(EVENTS[name].hardness for name in events):
        why = why_hard_is_unknown(table, conventions, trust=True)
        if why:
            raise CountsError(why)


def ledger_flags(
    frame: nw.DataFrame[Any], events: tuple[str, ...], conventions: Conventions | None = None
) -> dict[str, NDArray[np.bool_]]:
    """Tell for each pitch whether it enters each of some counts, by the rules of ``hitlab.counting.events``.

    Parameters
    ----------
    frame
        From :func:`eager`.
    events
        Names of counts, such as ``swings``, ``whiffs``, ``hard``.
    conventions
        How the debatable cases are counted.

    Raises
    ------
    MissingColumnsError
        Where the table lacks the columns of an event.
    CountsError
        Where hard balls are asked for and the level or the bat needs a threshold of its own.
    ReadingError
        Where numbers are written as texts.
    """
    conventions = conventions or Conventions()
    columns = set(frame.columns)
    demand_kinds(frame, FACT_COLUMNS)
    demand_told(frame.to_native(), frame.columns, events, conventions)
    extra = [nw.col("result")] if any(EVENTS[name].ending for name in events) else []
    facts = frame.select(*pitch_facts(columns, conventions), *extra)
    told = facts.select(*(event_expression(EVENTS[name], conventions).alias(name) for name in events))
    return {name: np.asarray(told[name].to_numpy()) > 0 for name in events}


def put_in_order(frame: nw.DataFrame[Any]) -> Order:
    """Find out what follows what in an eager frame.

    Raises
    ------
    MissingColumnsError
        Where a column of the key or ``outcome`` is absent, or no row has its whole key.
    ReadingError
        Where numbers are written as texts.
    """
    demand_order(frame.columns)
    asked = [name for name in _LOOKED_AT if name in frame.columns]
    demand_kinds(frame, asked)
    narrow = frame.select(asked).to_pandas().reset_index(drop=True)
    order = key_order(narrow) if len(narrow) else None
    if order is None:
        raise MissingColumnsError(f"what follows what cannot be told: no row has its {', '.join(KEY)}")
    balls, strikes, _ = rebuild(narrow)
    lost = balls.isna().to_numpy()[order.places]
    before = np.append(0, order.pitch[:-1])
    twice = ~order.first & (order.pitch == before)
    gap = np.where(order.first, order.pitch != 1, order.pitch != before + 1)
    differs = np.zeros(len(order.places), dtype=bool)
    for name, rebuilt in (("balls", balls), ("strikes", strikes)):
        if name in narrow:
            said = narrow[name].astype("Float64").to_numpy(dtype=float, na_value=np.nan)[order.places]
            told = rebuilt.to_numpy(dtype=float, na_value=np.nan)[order.places]
            differs |= (said != told) & ~np.isnan(said) & ~np.isnan(told)
    number = int(order.appearance[-1]) + 1
    fault = np.zeros(number, dtype=np.int8)
    # The gravest is named; the others follow from it more often than not.
    for flag, why in ((differs, CONTRADICTED), (lost, AFTER_END), (gap, GAP), (twice, TWICE)):
        fault[order.appearance[flag]] = why
    trusted_here = (fault == 0)[order.appearance]

    same = ~order.first[1:] & trusted_here[1:]
    who = who_bats(frame.columns)
    if who:
        hitter = pd.factorize(frame.select(who).to_pandas()[who])[0][order.places]
        same &= hitter[1:] == hitter[:-1]
    previous, following, appearance = np.full((3, len(narrow)), -1, dtype=np.int64)
    trusted = np.zeros(len(narrow), dtype=bool)
    previous[order.places[1:][same]] = order.places[:-1][same]
    following[order.places[:-1][same]] = order.places[1:][same]
    appearance[order.places] = order.appearance
    trusted[order.places] = trusted_here
    faults = _faults(narrow, order, fault)
    sound = int((fault == 0).sum())
    before_balls, before_strikes = (
        np.where(trusted, rebuilt.to_numpy(dtype=np.int64, na_value=-1), -1) for rebuilt in (balls, strikes)
    )
    return Order(
        order.places,
        previous,
        following,
        appearance,
        trusted,
        before_balls,
        before_strikes,
        faults,
        sound,
        number - sound,
    )


def demand_order(columns: Sequence[str]) -> None:
    """Refuse a table that lacks what its order is told by.

    Raises
    ------
    MissingColumnsError
        Naming what is absent.
    """
    absent = [name for name in (*KEY, "outcome") if name not in columns]
    if absent:
        raise MissingColumnsError(
            f"what follows what needs the columns {', '.join((*KEY, 'outcome'))}; "
            f"this table has no {', '.join(absent)}"
        )


def who_bats(columns: Sequence[str]) -> str | None:
    """Return the column that tells hitters apart, if there is one."""
    return next((name for name in ("hitter_id", "hitter") if name in columns), None)


def _faults(narrow: pd.DataFrame, order: Any, fault: NDArray[np.int8]) -> pd.DataFrame:
    bad = np.flatnonzero(fault)
    first = order.places[order.first][bad]
    found: pd.DataFrame = narrow.loc[first, ["game", "plate_appearance"]].reset_index(drop=True)
    found["pitches"] = np.bincount(order.appearance, minlength=len(fault))[bad]
    found["fault"] = fault[bad]
    return _listed(found, len(narrow) - len(order.places))


def _listed(found: pd.DataFrame, loose: int) -> pd.DataFrame:
    """Put what was found in the order of the key, with the faults' names, and the rows without a key last."""
    found = found.sort_values(["game", "plate_appearance"], kind="stable", ignore_index=True)
    found["fault"] = [_FAULTS[int(number)] for number in found["fault"]]
    found["fault"] = found["fault"].astype(object)
    if loose:
        rest = {"game": [None], "plate_appearance": [None], "pitches": [loose], "fault": [_NO_KEY]}
        found = pd.concat([found.astype(object), pd.DataFrame(rest, dtype=object)], ignore_index=True)
    found["plate_appearance"] = found["plate_appearance"].astype("Int64")
    found["pitches"] = found["pitches"].astype("int64")
    return found


def sequence_faults(pitches: Any) -> pd.DataFrame:
    """List the plate appearances whose order cannot be trusted.

    Parameters
    ----------
    pitches
        As for :func:`with_previous`.

    Returns
    -------
    pandas.DataFrame
        One row a plate appearance set aside: ``game``, ``plate_appearance``, ``pitches`` (rows that it has
        here), ``fault`` (the first that applies of: a pitch number stands twice; a pitch is missing; a
        pitch follows the end; the count contradicts the order). Rows without a whole key come last, in
        one line.

    Raises
    ------
    MissingColumnsError, ReadingError
        As for :func:`with_previous`.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.approach import sequence_faults
    >>> pitches = pd.DataFrame({"game": "game 1", "plate_appearance": [1, 1, 2, 2],
    ...                         "pitch": [1, 2, 1, 3], "outcome": ["ball", "in play", "foul", "whiff"]})
    >>> sequence_faults(pitches)
         game  plate_appearance  pitches               fault
    0  game 1                 2        2  a pitch is missing
    """
    if is_dask(table := native_of(pitches)):
        demand_order(list(table.columns))
        meta = pd.DataFrame({"game": table._meta["game"], "plate_appearance": 0, "pitches": 0, "fault": 0})
        narrow = table[[name for name in _LOOKED_AT if name in table.columns]]
        parts = collected(nw.from_native(by_games(narrow, _faults_in, meta.iloc[:0])))
        loose = parts["fault"] == _LOOSE
        return _listed(parts[~loose], int(parts["pitches"][loose].sum()))
    frame, _ = frame_of(pitches)
    if not stays_lazy(frame):
        return put_in_order(eager(pitches, _LOOKED_AT)[0]).faults
    columns = frame.collect_schema().names()
    demand_order(columns)
    frame = frame.select([name for name in _LOOKED_AT if name in columns])
    told, game = _numbered(frame, ["game"])
    told = pitch_by_pitch(told, {}, game=game).select(
        nw.when(nw.col(WHOLE)).then(nw.col("game")).alias("game"),
        nw.col(APPEARANCE).alias("plate_appearance"),
        nw.when(nw.col(WHOLE)).then(nw.col(WRONG)).otherwise(nw.lit(_LOOSE)).alias("fault"),
    )
    found = collected(
        told.group_by("game", "plate_appearance", drop_null_keys=False)
        .agg(nw.len().alias("pitches"), nw.col("fault").max())
        .filter(nw.col("fault") != 0)
    )[["game", "plate_appearance", "pitches", "fault"]]
    loose = found["fault"] == _LOOSE
    return _listed(found[~loose], int(found["pitches"][loose].sum()))


_LOOSE = -1


def _faults_in(part: pd.DataFrame) -> pd.DataFrame:
    """Find the plate appearances of a partition that are set aside, and its rows without a whole key."""
    narrow = part.reset_index(drop=True)
    there = has_whole_key(narrow)
    loose = int((~there).sum())
    found = pd.DataFrame({"game": narrow["game"].iloc[:0], "plate_appearance": 0, "pitches": 0, "fault": 0})
    if there.any():
        found = put_in_order(nw.from_native(narrow, eager_only=True)).faults
        found = found[found["fault"] != _NO_KEY].copy()
        numbers = {words: number for number, words in _FAULTS.items()}
        found["fault"] = found["fault"].map(numbers)
    rest = pd.DataFrame({"game": [None], "plate_appearance": 0, "pitches": loose, "fault": _LOOSE})
    rest["game"] = rest["game"].astype(narrow["game"].dtype)
    whole = {"plate_appearance": "int64", "pitches": "int64", "fault": "int64"}
    return pd.concat([one.astype(whole) for one in (found, rest) if len(one)], ignore_index=True)


def stays_lazy(frame: Any) -> bool:
    """Say whether a narwhals frame is put in order by its engine, and does not come home for it.

    Raises
    ------
    ReadingError
        Where it is on an engine that cannot, or numbers are written as texts.
    """
    if not isinstance(frame, nw.LazyFrame):
        return False
    if not has_order(frame):
        raise _spread_out(str(frame.implementation.value))
    demand_kinds(frame, (*_LOOKED_AT, *FACT_COLUMNS))
    return True


def _numbered(frame: Any, names: Sequence[str]) -> tuple[Any, str]:
    """Give values numbers where that makes the windows quicker; with the column that tells games apart."""
    # Polars would lose the order of the rows over it, and groups names as quickly as numbers.
    if str(frame.implementation.value) == "polars":
        return frame, "game"
    return coded(frame, names)[0], "in_order_number_game"


def with_previous(pitches: Any, *, conventions: Conventions | None = None) -> Any:
    """Add to each pitch the one before it in the same plate appearance.

    Parameters
    ----------
    pitches
        A pitch table: a path to a file saved with ``write_checked`` or to a folder of them, a ``Reading``, a
        pandas, Polars, PyArrow, Dask or Spark frame, or a DuckDB relation. ``game``, ``plate_appearance``,
        ``pitch`` and ``outcome`` are needed.
    conventions
        Whether a foul tip is a miss; see ``hitlab.counting.facts``.

    Returns
    -------
    frame
        The caller's own kind of frame (of a path a DuckDB relation), with ``previous_outcome``,
        ``previous_swing`` and ``previous_whiff`` (true or false), and, where the table has what they
        repeat, ``previous_kind``, ``previous_speed_mph``, ``previous_inside_in``, ``previous_height_in``.
        They are missing on the first pitch, after a change of hitter, and where the plate appearance is
        set aside. ``sequence_trusted`` is false there; see :func:`sequence_faults` for why. A frame in
        memory keeps its rows in their order. A lazy one is not collected: its engine does this when
        it is asked for, and what has no order of rows (DuckDB, Dask, Spark) gives them in any.

    Raises
    ------
    MissingColumnsError
        Where a needed column is absent, or no row in memory has its whole key.
    CountsError
        Where the table has one of the new columns already.
    ReadingError
        Where it is no table, on an engine that knows no order, or numbers are written as texts.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.approach import with_previous
    >>> pitches = pd.DataFrame({"game": "game 1", "plate_appearance": [1, 1, 1, 2], "pitch": [1, 2, 3, 1],
    ...                         "outcome": ["whiff", "ball", "in play", "foul"]})
    >>> told = with_previous(pitches)
    >>> told["previous_outcome"].fillna("none").tolist()
    ['none', 'whiff', 'ball', 'none']
    """
    conventions = conventions or Conventions()
    if is_dask(table := native_of(pitches)):
        demand_order(list(table.columns))
        _refuse_taken(list(table.columns))
        meta = _like(table._meta)
        return by_games(table, _previous_in, meta, meta.dtypes.to_dict(), conventions)
    frame, _ = frame_of(pitches)
    if stays_lazy(frame):
        return previous_beside(frame, conventions).to_native()
    order = put_in_order(frame)
    columns = _repeated(frame.columns)
    _refuse_taken(frame.columns)
    places = pa.array(order.previous, mask=order.previous < 0)
    flags = ledger_flags(frame, tuple(_PREVIOUS_FLAGS.values()), conventions)
    source = frame.select(list(columns.values())).to_arrow()
    added = {new: source.column(old).take(places) for new, old in columns.items()}
    added |= {new: pa.array(flags[event]).take(places) for new, event in _PREVIOUS_FLAGS.items()}
    added[_TRUSTED] = pa.array(order.trusted)
    return _attach(frame, pa.table(added))


def _repeated(columns: Sequence[str]) -> dict[str, str]:
    return {new: old for new, old in PREVIOUS.items() if old in columns}


def _refuse_taken(columns: Sequence[str]) -> None:
    taken = sorted({*PREVIOUS, *_PREVIOUS_FLAGS, _TRUSTED} & set(columns))
    if taken:
        raise CountsError(f"the table already has the column {taken[0]!r}; drop or rename it first")


def previous_beside(frame: Any, conventions: Conventions) -> Any:
    """Put the pitch before beside each pitch of a lazy frame, by its engine: :func:`with_previous`.

    Parameters
    ----------
    frame
        A lazy narwhals frame.
    conventions
        As they are counted.
    """
    own = frame.collect_schema().names()
    demand_order(own)
    _refuse_taken(own)
    columns, who = _repeated(own), who_bats(own)
    # What the rules look at goes by names of its own, which may be somebody's already.
    aside = {name: f"in_order_own_{name}" for name in PITCH_FACTS[1:] if name in own}
    told = frame.rename(aside).with_columns(
        *(
            fact
            for name, fact in zip(PITCH_FACTS, pitch_facts(set(own), conventions), strict=True)
            if name != "outcome"
        )
    )
    flags = {f"in_order_{event}": event for event in _PREVIOUS_FLAGS.values()}
    told = told.with_columns(
        *(event_expression(EVENTS[event], conventions).alias(name) for name, event in flags.items())
    ).drop(*PITCH_FACTS[1:])
    told, game = _numbered(told, ["game", *([who] if who else [])])
    batting = f"in_order_number_{who}" if who and game != "game" else who
    shifted = {**columns, **{new: f"in_order_{event}" for new, event in _PREVIOUS_FLAGS.items()}}
    if batting:
        shifted[_HITTER_BEFORE] = batting
    told = in_order(told, shifted, game=game)
    trusted = nw.col(WHOLE) & (nw.col(FAULT) == 0)
    linked = trusted & ~nw.col(FIRST)
    if batting:
        linked = linked & same_as_before(batting, _HITTER_BEFORE)
    told = told.with_columns(
        *(nw.when(linked).then(nw.col(new)).alias(new) for new in columns),
        *(nw.when(linked).then(nw.col(new) == 1).alias(new) for new in _PREVIOUS_FLAGS),
        trusted.alias(_TRUSTED),
    )
    back = {new: old for old, new in aside.items()}
    return told.rename(back).select(*own, *columns, *_PREVIOUS_FLAGS, _TRUSTED)


def same_as_before(name: str, before: str) -> nw.Expr:
    """Say whether a column is as on the pitch before, a missing value equal to a missing one."""
    one, other = nw.col(name), nw.col(before)
    return (
        nw.when(one == other).then(nw.lit(1)).otherwise(nw.lit(0))
        + nw.when(one.is_null() & other.is_null()).then(nw.lit(1)).otherwise(nw.lit(0))
        > 0
    )


def _like(part: pd.DataFrame) -> pd.DataFrame:
    """Return a partition with the new columns, all of them missing."""
    told = part.copy()
    for new, old in _repeated(list(part.columns)).items():
        number = pd.api.types.is_numeric_dtype(part[old].dtype)
        told[new] = pd.Series(
            pd.NA if not number else np.nan, index=part.index, dtype=float if number else TEXT
        )
    for new in _PREVIOUS_FLAGS:
        told[new] = pd.Series(pd.NA, index=part.index, dtype="boolean")
    told[_TRUSTED] = pd.Series(False, index=part.index, dtype="boolean")
    return told


def _previous_in(part: pd.DataFrame, kinds: dict[str, Any], conventions: Conventions) -> pd.DataFrame:
    """Put the pitch before beside each pitch of a partition that holds whole games."""
    told = with_previous(part, conventions=conventions) if has_whole_key(part).any() else _like(part)
    return told.astype(kinds)


def _attach(frame: nw.DataFrame[Any], added: pa.Table) -> Any:
    """Put columns beside a frame and give back the kind that came in."""
    native = frame.to_native()
    if isinstance(native, pd.DataFrame):
        new = added.to_pandas(types_mapper=_NULLABLE.get)
        new.index = native.index
        return pd.concat([native, new], axis=1)
    other = nw.from_arrow(added, backend=frame.implementation)
    return nw.concat([frame, other], how="horizontal").to_native()
