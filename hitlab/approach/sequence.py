"""What came before: the previous pitch of the same plate appearance, beside each pitch.

Pitches are put in the order of their key (``game``, ``plate_appearance``, ``pitch``); the order of the rows
does not matter. A plate appearance whose order cannot be trusted is set aside whole and reported by
:func:`sequence_faults`: a pitch is missing, a number stands twice, a pitch follows the end, or the count
contradicts the order. A plate appearance without a result is none of these. Where the hitter changes in
mid-count, the substitute's first pitch has no previous one: it was thrown to somebody else.
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
from hitlab.counting.facts import Conventions, pitch_facts
from hitlab.counting.hardness import why_hard_is_unknown
from hitlab.errors import CountsError, MissingColumnsError, ReadingError
from hitlab.pitches.counting import key_order, rebuild
from hitlab.pitches.opening import frame_of
from hitlab.pitches.schema import KEY
from hitlab.pitches.sources import TEXT

__all__ = ["PREVIOUS", "Order", "eager", "ledger_flags", "put_in_order", "sequence_faults", "with_previous"]

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

_TWICE = "a pitch number stands twice"
_MISSING = "a pitch is missing"
_AFTER_END = "a pitch follows the end"
_COUNT = "the count contradicts the order"
_NO_KEY = "no whole key"

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
    home = type(getattr(pitches, "table", pitches)).__module__.partition(".")[0]
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
    """
    conventions = conventions or Conventions()
    columns = set(frame.columns)
    for name in events:
        lacking = ("outcome",) if "outcome" not in columns else EVENTS[name].lacking(columns)
        if lacking:
            raise MissingColumnsError(f"{name} cannot be told: the table has no column {', '.join(lacking)}")
    if any(EVENTS[name].hardness for name in events):
        why = why_hard_is_unknown(frame.to_native(), conventions, trust=True)
        if why:
            raise CountsError(why)
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
    """
    absent = [name for name in (*KEY, "outcome") if name not in frame.columns]
    if absent:
        raise MissingColumnsError(
            f"what follows what needs the columns {', '.join((*KEY, 'outcome'))}; "
            f"this table has no {', '.join(absent)}"
        )
    asked = [name for name in (*KEY, "outcome", "balls", "strikes", "bunt") if name in frame.columns]
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
    fault = np.full(number, "", dtype=object)
    # The first that applies is named; the later ones follow from it more often than not.
    for flag, why in ((differs, _COUNT), (lost, _AFTER_END), (gap, _MISSING), (twice, _TWICE)):
        fault[order.appearance[flag]] = why
    trusted_here = (fault == "")[order.appearance]

    same = ~order.first[1:] & trusted_here[1:]
    who = "hitter_id" if "hitter_id" in frame.columns else "hitter" if "hitter" in frame.columns else None
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
    sound = int((fault == "").sum())
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


def _faults(narrow: pd.DataFrame, order: Any, fault: NDArray[np.object_]) -> pd.DataFrame:
    bad = np.flatnonzero(fault != "")
    first = order.places[order.first][bad]
    found: pd.DataFrame = narrow.loc[first, ["game", "plate_appearance"]].reset_index(drop=True)
    found["pitches"] = np.bincount(order.appearance, minlength=len(fault))[bad]
    found["fault"] = fault[bad]
    loose = len(narrow) - len(order.places)
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
    return put_in_order(eager(pitches)[0]).faults


def with_previous(pitches: Any, *, conventions: Conventions | None = None) -> Any:
    """Add to each pitch the one before it in the same plate appearance.

    Parameters
    ----------
    pitches
        A pitch table: a path to a file saved with ``write_checked``, a ``Reading``, a pandas, Polars or
        PyArrow frame, or a DuckDB relation (which is collected for it). ``game``, ``plate_appearance``,
        ``pitch`` and ``outcome`` are needed.
    conventions
        Whether a foul tip is a miss; see ``hitlab.counting.facts``.

    Returns
    -------
    frame
        The caller's own kind of frame, rows in their own order, with ``previous_outcome``,
        ``previous_swing`` and ``previous_whiff`` (true or false), and, where the table has what they
        repeat, ``previous_kind``, ``previous_speed_mph``, ``previous_inside_in``, ``previous_height_in``.
        They are missing on the first pitch, after a change of hitter, and where the plate appearance is
        set aside. ``sequence_trusted`` is false there; see :func:`sequence_faults` for why.

    Raises
    ------
    MissingColumnsError
        Where a needed column is absent, or no row has its whole key.
    CountsError
        Where the table has one of the new columns already.
    ReadingError
        For a Dask or Spark table: its rows have no order.

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
    frame, kind = eager(pitches)
    order = put_in_order(frame)
    columns = {new: old for new, old in PREVIOUS.items() if old in frame.columns}
    taken = sorted({*PREVIOUS, *_PREVIOUS_FLAGS, _TRUSTED} & set(frame.columns))
    if taken:
        raise CountsError(f"the table already has the column {taken[0]!r}; drop or rename it first")
    places = pa.array(order.previous, mask=order.previous < 0)
    flags = ledger_flags(frame, tuple(_PREVIOUS_FLAGS.values()), conventions)
    source = frame.select(list(columns.values())).to_arrow()
    added = {new: source.column(old).take(places) for new, old in columns.items()}
    added |= {new: pa.array(flags[event]).take(places) for new, event in _PREVIOUS_FLAGS.items()}
    added[_TRUSTED] = pa.array(order.trusted)
    return _attach(frame, pa.table(added), kind)


def _attach(frame: nw.DataFrame[Any], added: pa.Table, kind: str) -> Any:
    """Put columns beside a frame and give back the kind that came in."""
    native = frame.to_native()
    if isinstance(native, pd.DataFrame):
        new = added.to_pandas(types_mapper=_NULLABLE.get)
        new.index = native.index
        return pd.concat([native, new], axis=1)
    other = nw.from_arrow(added, backend=frame.implementation)
    joined = nw.concat([frame, other], how="horizontal").to_native()
    if kind == "duckdb":
        from hitlab.pitches.connecting import own_connection

        return own_connection().from_arrow(joined)
    return joined.lazy() if kind == "polars lazy" else joined
