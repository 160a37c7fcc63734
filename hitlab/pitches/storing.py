"""Save a checked pitch table and open it again without reading it through.

A saved table is a Parquet file with a schema mark in its key-value metadata. The mark says that
every row went through :func:`hitlab.read_pitches`, so that opening it can trust names, words
and ranges and scan only the columns that a question needs.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any, BinaryIO

from hitlab.errors import ReadingError
from hitlab.pitches.connecting import own_connection
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.schema import SCHEMA_VERSION
from hitlab.writing import write_file

__all__ = ["doubts_in", "is_checked", "open_checked", "write_checked"]

_MARK = "hitlab_schema"
_DOUBTS = "hitlab_doubts"

# A scan is shared between threads by whole row groups: with DuckDB's own size a season of 700,000 pitches
# keeps six threads busy, and peak memory is a little lower than with twice that.
_ROWS_IN_GROUP = 122_880


def write_checked(reading_or_table: Any, path: str | os.PathLike[str], mapping: Any = None) -> Path:
    """Save a checked pitch table as Parquet with a schema mark.

    Parameters
    ----------
    reading_or_table
        A :class:`hitlab.pitches.Reading`; or anything that :func:`hitlab.read_pitches` takes, which is then
        read and checked by it first (rows that it sets aside are not saved; their number is).
    path
        The file to write; a file of that name is replaced once the new one is complete.
    mapping
        For :func:`hitlab.read_pitches`, where something else than a reading is given.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    ReadingError
        Where the table cannot be read, a mapping is given for a reading, or the file cannot be
        written or is the one that was read.

    Examples
    --------
    >>> import tempfile
    >>> rows = [{"hitter": "Ada Velm", "outcome": "whiff"}, {"hitter": "Cy Drul", "outcome": "foul"}]
    >>> import pandas as pd
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     is_checked(write_checked(pd.DataFrame(rows), Path(folder) / "checked.parquet"))
    True
    """
    import pyarrow as pa
    from pyarrow import parquet

    from hitlab.pitches.opening import file_of
    from hitlab.pitches.reading import Reading, read_pitches
    from hitlab.pitches.sources import checked_to_arrow

    if isinstance(reading_or_table, Reading):
        if mapping is not None:
            raise ReadingError(
                f"mapping={str(mapping)!r} has no use here: a Reading is already mapped. Leave it out."
            )
        reading = reading_or_table
    else:
        reading = read_pitches(reading_or_table, mapping)
    table = checked_to_arrow(reading.table)
    report = reading.report
    mark = {
        _MARK: str(SCHEMA_VERSION),
        "hitlab_source": report.source,
        "hitlab_rows_read": str(report.rows_read),
        "hitlab_rows_set_aside": str(report.rows_set_aside),
        "hitlab_values_made_missing": str(report.values_made_missing),
        _DOUBTS: report.doubts.to_json(),
        "hitlab_questions": json.dumps(report.questions),
        "hitlab_assumed": json.dumps(report.assumed),
    }
    table = table.replace_schema_metadata(mark)
    texts = [
        field.name
        for field in table.schema
        if pa.types.is_string(field.type) or pa.types.is_large_string(field.type)
    ]

    def write(file: BinaryIO) -> None:
        # Few distinct names and words: a dictionary makes text columns small and quick to group.
        # zstd was as quick to scan as snappy on a season of pitches, and takes less room.
        parquet.write_table(
            table, file, row_group_size=_ROWS_IN_GROUP, compression="zstd", use_dictionary=texts
        )

    return write_file(path, write, inputs=(file_of(reading_or_table),))


def is_checked(path: str | os.PathLike[str]) -> bool:
    """Say whether a file is a Parquet file with this version's schema mark.

    Parameters
    ----------
    path
        Any file; one that is not there, or is not Parquet, is not checked.
    """
    try:
        return _version(Path(path)) == str(SCHEMA_VERSION)
    except ReadingError:
        return False


def open_checked(path: str | os.PathLike[str], trust: bool = False) -> Any:
    """Open a saved pitch table as a lazy DuckDB relation.

    Parameters
    ----------
    path
        A file written by :func:`write_checked`.
    trust
        Open a Parquet file without the mark as well: nothing about its names, words and ranges is
        then sure, and a wrong word is simply counted as none.

    Returns
    -------
    duckdb.DuckDBPyRelation
        Nothing is read before it is asked; it has an in-memory connection of its own.

    Raises
    ------
    ReadingError
        Where the file is not there, is not Parquet, or carries no mark of this version.
    """
    path = Path(path)
    version = _version(path)
    if version != str(SCHEMA_VERSION) and not trust:
        if version is None:
            why = "carries no schema mark, so nobody has checked its rows"
        else:
            why = f"has version {version} of the pitch table, and this hitlab has version {SCHEMA_VERSION}"
        raise ReadingError(
            f"{path} {why}. Make a checked table of it: write_checked(read_pitches({str(path)!r}), "
            '"checked.parquet"), with a mapping where it has other names than ours; or open it as it is with '
            "trust=True."
        )
    return own_connection().read_parquet(_literal(path))


def doubts_in(path: str | os.PathLike[str]) -> Doubts:
    """Return what was in doubt when a saved table was read; nothing for a file without the schema mark."""
    found = _marks(Path(path)).get(_DOUBTS)
    return Doubts() if found is None else Doubts.from_json(found)


def _version(path: Path) -> str | None:
    """Version in the schema mark of a Parquet file; None where it has no mark."""
    return _marks(path).get(_MARK)


def _marks(path: Path) -> dict[str, str]:
    """Return what stands in the key-value metadata of a Parquet file."""
    import duckdb

    if not path.is_file():
        if path.is_dir():
            raise ReadingError(f"{path} is a folder, not a file. Name one Parquet file.")
        from hitlab.pitches.mapping import nearest

        folder = path.parent
        near = nearest(path.name, [p.name for p in folder.iterdir()]) if folder.is_dir() else None
        hint = f" Nearest in that folder: {near}." if near else ""
        raise ReadingError(f"There is no file {path}.{hint}")
    with duckdb.connect() as connection:
        try:
            found = connection.execute(
                "SELECT key, value FROM parquet_kv_metadata(?)", [_literal(path)]
            ).fetchall()
        except duckdb.Error as error:
            raise ReadingError(
                f"{path} is not a whole Parquet file, so it is no saved pitch table. Read it with "
                f"read_pitches and save it with write_checked. ({str(error).strip().splitlines()[0][:200]})"
            ) from error
    return {key.decode("utf-8", "replace"): value.decode("utf-8", "replace") for key, value in found}


def _literal(path: Path) -> str:
    """Path in which DuckDB takes no sign for a wild card."""
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in str(path))
