"""One way to take whatever stands for a pitch table: a checked file's path, a ``Reading``, a frame."""

from __future__ import annotations

from dataclasses import dataclass, field
from os import PathLike, fspath
from os.path import isdir
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.errors import ReadingError
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.report import Reading
from hitlab.pitches.schema import COLUMNS
from hitlab.showing import quoted

__all__ = ["Opened", "demand_here", "doubts_of", "file_of", "frame_of", "native_of", "refuse_counts"]

_NUMBERS = ("whole", "number")
_TEXTS = ("text", "word")
_DECODED = {"pandas": '.str.decode("utf-8")', "polars": ".cast(pl.String)", "pyarrow": '.cast("string")'}


@dataclass(frozen=True, slots=True)
class Opened:
    """A pitch table that is open already: to open a file anew takes another database, and all its checksums.

    Attributes
    ----------
    frame
        The narwhals frame.
    name
        What to call the table in messages.
    doubts
        What reading it left in doubt.
    """

    frame: Any
    name: str
    doubts: Doubts = field(default_factory=Doubts)


def frame_of(pitches: Any, *, trust: bool = False) -> tuple[Any, str]:
    """Return a narwhals frame, and what to call the table in messages.

    Parameters
    ----------
    pitches
        A path to a Parquet file saved with ``write_checked`` (scanned lazily, not checked again), or to a
        folder of such files; a ``Reading``; any eager or lazy frame that narwhals knows; or one of them
        ``Opened``.
    trust
        Accept a file without the schema mark.

    Raises
    ------
    ReadingError
        Where the file has no schema mark, cannot be opened, or is not as it was saved or opened; or it is no
        table, or counts already; or it is a frame that holds bytes for texts.
    """
    refuse_counts(pitches)
    from hitlab.pitches.storing import demand_unchanged, open_checked

    if isinstance(pitches, str | PathLike):
        path = fspath(pitches)
        # Without its folders a file is known by its ending, and a folder by the stroke behind it.
        name = f"{path.rstrip('/')}/" if isdir(path) else path
        return nw.from_native(open_checked(path, trust=trust)), name
    if isinstance(pitches, Opened):
        demand_unchanged(nw.to_native(pitches.frame))
        return pitches.frame, pitches.name
    read = isinstance(pitches, Reading)
    table = pitches.table if read else pitches
    demand_unchanged(nw.to_native(table, pass_through=True))
    try:
        frame = nw.from_native(table)
    except nw.exceptions.DuplicateError as error:
        names = [str(name) for name in getattr(table, "column_names", table.columns)]
        twice = next((name for name in names if names.count(name) > 1), "")
        raise ReadingError(
            f"column {quoted(twice)} stands twice in the pitch table: rename one of them, or drop it"
        ) from error
    except TypeError as error:
        raise ReadingError(
            f"a pitch table is a path, a Reading or a data frame; this is a {type(pitches).__name__}"
        ) from error
    frame = _with_days(_with_plain_kinds(frame))
    return (frame, pitches.report.source) if read else (_with_ids(frame), "the pitch table")


def doubts_of(pitches: Any, *, trust: bool = False) -> Doubts:
    """Return what reading the table left in doubt; nothing for a frame, which nobody here has checked.

    Parameters
    ----------
    pitches, trust
        As in :func:`frame_of`.
    """
    if isinstance(pitches, Opened):
        return pitches.doubts
    if isinstance(pitches, Reading):
        return pitches.report.doubts
    if isinstance(pitches, str | PathLike):
        from hitlab.pitches.storing import doubts_in

        return doubts_in(pitches, trust)
    return Doubts()


def native_of(pitches: Any) -> Any:
    """Return the frame of its own engine; a path as it is.

    Parameters
    ----------
    pitches
        As :func:`frame_of` takes them.
    """
    table = pitches.table if isinstance(pitches, Reading) else pitches
    return nw.to_native(table.frame if isinstance(table, Opened) else table, pass_through=True)


def demand_here(pitches: Any, what: str) -> None:
    """Refuse a table whose rows are spread over workers, where single pitches are looked at.

    Parameters
    ----------
    pitches
        As :func:`frame_of` takes them.
    what
        What looks at them, as a sentence begins.

    Raises
    ------
    ReadingError
        Where it is a table of Dask or Spark.
    """
    engine = type(native_of(pitches)).__module__.partition(".")[0]
    ways = {"dask": ("Dask", ".compute()"), "pyspark": ("Spark", ".toPandas()")}
    if engine in ways:
        name, way = ways[engine]
        raise ReadingError(
            f"{what} looks at single pitches, and this {name} table is spread over workers: choose those "
            f"that are asked about, such as one hitter's or one game's, and bring them into memory with {way}"
        )


def file_of(pitches: Any) -> str:
    """Return the path of the file that pitches are from.

    Parameters
    ----------
    pitches
        As :func:`frame_of` takes them.

    Returns
    -------
    str
        Empty where they are from no file.

    Examples
    --------
    >>> file_of("season.parquet")
    'season.parquet'
    >>> file_of(pd.DataFrame())
    ''
    """
    if isinstance(pitches, str | PathLike):
        return str(fspath(pitches))
    return pitches.file if isinstance(pitches, Reading) else ""


def _with_plain_kinds(frame: Any) -> Any:
    """Turn texts that Arrow only looks at, and decimals among Python objects, into what is compared.

    Polars gives the first through Arrow's interface, databases give the second to pandas.
    """
    native = nw.to_native(frame)
    if frame.implementation.is_pyarrow():
        import pyarrow as pa

        own = [
            field.with_type(pa.large_string()) if pa.types.is_string_view(field.type) else field
            for field in native.schema
        ]
        schema = pa.schema(own, native.schema.metadata)
        return frame if schema == native.schema else nw.from_native(native.cast(schema))
    if frame.implementation.is_pandas():
        there = [name for name, one in COLUMNS.items() if one.kind in _NUMBERS and name in native]
        kinds = native.dtypes[there]
        decimals = {
            name: native[name].astype(float)
            for name in kinds.index[kinds == np.dtype(object)]
            if pd.api.types.infer_dtype(native[name]) == "decimal"
        }
        return nw.from_native(native.assign(**decimals)) if decimals else frame
    return frame


def _with_ids(frame: Any) -> Any:
    """Put the name in the place of an id that is blank, as reading does; texts have to be texts.

    Else all who have none would be one nameless hitter.
    """
    from hitlab.pitches.storing import is_opened

    if is_opened(nw.to_native(frame)):
        return frame
    _refuse_bytes(frame)
    kinds = frame.collect_schema()
    filled = []
    for name in ("hitter", "pitcher"):
        number = f"{name}_id"
        if not {name, number} <= set(kinds.names()):
            continue
        if frame.implementation.is_pandas() or frame.implementation.is_dask():
            # On Dask of the two columns alone: the others are read where they are asked for.
            native = nw.to_native(frame)
            ids, names = native[number], native[name]
            if isinstance(native, pd.DataFrame):
                told = _filled(ids, names, all_blank=bool(ids.isna().all()))
            else:
                told = ids.map_partitions(_filled, names, meta=ids._meta)
            if told is not ids:
                frame = nw.from_native(native.assign(**{number: told}))
        elif kinds[number] in (nw.String, nw.Categorical, nw.Enum) or _is_blank(frame, number):
            text = nw.col(number).cast(nw.String)
            there = ~nw.col(number).is_null() & (text.str.strip_chars() != "")
            filled.append(nw.when(there).then(text).otherwise(nw.col(name).cast(nw.String)).alias(number))
    return frame.with_columns(*filled) if filled else frame


def _is_blank(frame: Any, column: str) -> bool:
    """Say whether a column of a table in memory holds nothing: then its kind says nothing, either."""
    return isinstance(frame, nw.DataFrame) and bool(frame[column].is_null().all())


def _filled(ids: pd.Series[Any], names: pd.Series[Any], all_blank: bool = False) -> pd.Series[Any]:
    """Fill the blank ids of a column in pandas, or of a partition; ids that are numbers stay.

    Of a column that is blank as a whole (``all_blank``) the kind says nothing.
    """
    # No cast to texts: in older pandas what is missing would be the text "None".
    blank = [one for one in ids.unique() if isinstance(one, str) and not one.strip()]
    told = ids.notna() & ~ids.isin(blank)
    others = ids[told]  # where they are no texts, no name can stand in
    numbers = pd.api.types.is_numeric_dtype(ids) and not all_blank
    if told.all() or numbers or (len(others) and not isinstance(others.iloc[0], str)):
        return ids
    filled = ids.astype(object).where(told, names.astype(object))
    keeps = isinstance(ids.dtype, pd.CategoricalDtype) or all_blank
    return filled if keeps else filled.astype(ids.dtype)


def _refuse_bytes(frame: Any) -> None:
    """Refuse columns of bytes where the pitch table has texts."""
    kinds, native = frame.collect_schema(), nw.to_native(frame)
    for name in (name for name, one in COLUMNS.items() if one.kind in _TEXTS and name in kinds):
        held = kinds[name] == nw.Binary
        if kinds[name] == nw.Object and frame.implementation.is_pandas():
            first = next((one for one in native[name] if isinstance(one, str | bytes)), "")
            # Of texts and bytes in one column others say more.
            held = isinstance(first, bytes) and pd.api.types.infer_dtype(native[name]) == "bytes"
        if held:
            way = _DECODED.get(str(frame.implementation), "")
            way = f", with {way}" if way else " to text"
            raise ReadingError(
                f"column {name} holds bytes where the pitch table has texts: decode it first{way}"
            )


def _with_days(frame: Any) -> Any:
    """Turn days that pandas keeps as Python objects into its own, and times into days, as their clock told.

    A day that is asked for is its midnight, up to which a game of that evening would be left out.
    """
    if isinstance(frame, nw.DataFrame) and frame.schema.get("date") == nw.Object:
        native = frame.to_native()  # as pandas reads days from Parquet
        try:
            frame = nw.from_native(native.assign(date=pd.to_datetime(native["date"])))
        except (ValueError, TypeError):  # no days: whoever asks for them will say so
            return frame
    from hitlab.pitches.storing import is_opened

    kind = frame.collect_schema().get("date")
    if not isinstance(kind, nw.Datetime) or is_opened(nw.to_native(frame)):  # what is saved has days
        return frame
    if frame.implementation.is_pandas() and kind.time_zone is not None:
        native = frame.to_native()  # of zones on Arrow older pandas gives Greenwich's time
        own = native["date"].astype(pd.DatetimeTZDtype(tz=kind.time_zone))
        frame = nw.from_native(native.assign(date=own))
    clock = nw.col("date") if kind.time_zone is None else nw.col("date").dt.replace_time_zone(None)
    days = frame.with_columns(clock.dt.truncate("1d"))
    if isinstance(frame, nw.DataFrame) and kind.time_zone is None:
        told = frame["date"].drop_nulls()
        return frame if bool((told == days["date"].drop_nulls()).all()) else days
    return days


def refuse_counts(pitches: Any) -> None:
    """Raise where counts stand in the place of pitches: what they were counted from is not in them.

    Raises
    ------
    ReadingError
        Where it is what ``tally`` gives.
    """
    # Counting is built on this package, so its class is told by what it looks like. No frame is taken for
    # it, not even one with columns of these names.
    if isinstance(getattr(pitches, "by", None), tuple) and hasattr(pitches, "data"):
        raise ReadingError(
            f"these are counts already ({type(pitches).__name__} by {', '.join(pitches.by)}), and single "
            "pitches are needed: give the pitch table that they were counted from, or its file"
        )
