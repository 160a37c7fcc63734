"""Save a checked pitch table and open it again without reading it through.

A saved table is a Parquet file with a schema mark in its key-value metadata and checksums of its bytes. The
mark says that every row went through :func:`hitlab.read_pitches`, so that opening it can trust names, words
and ranges and scan only the columns that a question needs; the checksums say that nothing changed since.
Several of them in a folder are opened as one table (:mod:`hitlab.pitches.season_folder`).
"""

from __future__ import annotations

import itertools
import os
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

from hitlab.errors import ReadingError
from hitlab.pitches.connecting import own_connection
from hitlab.pitches.doubts import Doubts, Odd
from hitlab.pitches.regular import regular
from hitlab.pitches.schema import COLUMNS, NEEDED, SCHEMA_VERSION
from hitlab.pitches.sealing import seal, verify
from hitlab.writing import files_read, note_read, write_file

# Opening a table pays for nothing of the reader, which what is remembered of a reading is made of.
if TYPE_CHECKING:
    from hitlab.pitches.parts import Part
    from hitlab.pitches.season_folder import PartsOfOne, Told
    from hitlab.pitches.seen import Seen

__all__ = [
    "DOUBTS",
    "MARK",
    "ODD_BY",
    "PARTS",
    "SEEN",
    "demand_checked",
    "demand_stamp",
    "demand_unchanged",
    "doubts_in",
    "folder_of",
    "is_checked",
    "is_opened",
    "just_opened",
    "odd_in_table",
    "open_checked",
    "open_parts",
    "opens_as_checked",
    "rows_of_games",
    "seen_in_table",
    "stamp_of",
    "version_in",
    "whole_files",
    "write_checked",
    "write_parts",
]

MARK = "hitlab_schema"
DOUBTS = "hitlab_doubts"
PARTS = "hitlab_parts"
SEEN = "hitlab_seen"
"""What names, days and speeds of a saved table show, beside its mark: of several it is added up."""

# A scan is shared between threads by whole row groups: with DuckDB's own size a season of 700,000 pitches
# keeps six threads busy, and peak memory is a little lower than with twice that.
_ROWS_IN_GROUP = 122_880

_LOOKED_AT = 10_000  # rows by which a column is judged to repeat itself


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
        written or is one that was read.

    Examples
    --------
    >>> import tempfile
    >>> rows = [{"hitter": "Ada Velm", "outcome": "whiff"}, {"hitter": "Cy Drul", "outcome": "foul"}]
    >>> import pandas as pd
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     is_checked(write_checked(pd.DataFrame(rows), Path(folder) / "checked.parquet"))
    True
    """
    from hitlab.pitches.opening import file_of
    from hitlab.pitches.parts import part_of
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
    seen = seen_in_table(table)
    part = part_of(reading, seen=seen)
    return write_parts(table, [part], path, inputs=(file_of(reading_or_table),), seen=seen)


def write_parts(
    table: Any,
    parts: Sequence[Part],
    path: str | os.PathLike[str],
    *,
    inputs: Iterable[Any] = (),
    more: Mapping[str, str] | None = None,
    seen: Seen | None = None,
) -> Path:
    """Save a table of checked pitches with the mark that its parts add up to.

    Parameters
    ----------
    table
        Arrow table of what was read and checked.
    parts
        What is remembered of each reading that it was made of.
    path
        The file to write.
    inputs
        Files that were read for it, beside those that the program read.
    more
        What goes into the mark beside.
    seen
        What its names, days and speeds show; looked for where left out.

    Returns
    -------
    pathlib.Path
        The file written.

    Raises
    ------
    ReadingError
        Where the file cannot be written, or is one that was read.
    """
    from pyarrow import parquet

    from hitlab.pitches.parts import mark_of

    shown = seen_in_table(table) if seen is None else seen
    mark = mark_of(parts, shown.odd, list(rows_of_games(table)))
    table = table.replace_schema_metadata({**mark, **(more or {})})

    def write(file: BinaryIO) -> None:
        # zstd was as quick to scan as snappy on a season of pitches, and takes less room.
        how: dict[str, Any] = {"compression": "zstd", "use_dictionary": _repeating(table)}
        with parquet.ParquetWriter(file, table.schema, **how) as writer:
            writer.write_table(table, row_group_size=_ROWS_IN_GROUP)
            # Not in the schema, which is looked at wherever the table is opened.
            writer.add_key_value_metadata({SEEN: shown.to_text()})
        seal(file)

    # A saved table may be replaced by a better one; what it was read from may not.
    sources = [one for one in files_read() if not is_checked(one)]
    return write_file(path, write, inputs=(*inputs, *sources))


def _repeating(table: Any) -> list[str]:
    """Columns that are written with each value once: small, quick to write and to group.

    In what differs on almost every pitch, such as a clip, that is work for nothing.
    """
    if table.num_rows < _LOOKED_AT:
        return list(table.column_names)
    some = table.slice(0, _LOOKED_AT)
    return [name for name in table.column_names if 2 * len(some.column(name).unique()) <= len(some)]


def open_parts(path: str | os.PathLike[str]) -> tuple[Any, list[Part]]:
    """Read a saved table whole, with what is remembered of each reading that it was made of.

    Parameters
    ----------
    path
        A file written by :func:`write_checked` or :func:`write_parts`.

    Returns
    -------
    tuple
        Arrow table, and the parts.

    Raises
    ------
    ReadingError
        As :func:`open_checked`.
    """
    from pyarrow import parquet

    from hitlab.pitches.parts import parts_in_mark

    path = Path(path)
    # One opening for all of it: who replaces the file meanwhile leaves this one whole.
    with regular(path) as file:
        stamp = demand_checked(file, path)
        table = parquet.ParquetFile(file).read()
        demand_stamp(path, os.fstat(file.fileno()), stamp)
    mark = table.schema.metadata or {}
    table = table.replace_schema_metadata(None)
    return table, parts_in_mark(mark, rows_of_games(table), odd_in_table(table))


ODD_BY = (
    *("hitter", "hitter_id", "pitcher", "pitcher_id", "game", "date"),
    *("level", "outcome", "bunt", "pitch_kind", "speed_mph", "exit_mph"),
)
"""Columns in which something can be odd about a whole table, and those that tell whether it is."""


def seen_in_table(table: Any) -> Seen:
    """Give what names, days and speeds of an Arrow table show; texts may be codes of a dictionary."""
    from hitlab.pitches.seen import Seen

    there = table.select([name for name in ODD_BY if name in table.column_names])
    return Seen.of(there.to_pandas(date_as_object=False))


def odd_in_table(table: Any) -> Odd:
    """Say what is odd about names, days and speeds of an Arrow table."""
    return seen_in_table(table).odd


def rows_of_games(table: Any) -> dict[str, int]:
    """Count the rows of each game of an Arrow table, in its order; those of no game under ``""``."""
    if "game" not in table.column_names:
        return {"": table.num_rows}
    counted = table.column("game").value_counts().to_pylist()
    return {one["values"] or "": one["counts"] for one in counted}


def is_checked(path: str | os.PathLike[str]) -> bool:
    """Say whether a file is a Parquet file with this version's schema mark.

    Parameters
    ----------
    path
        Any file; one that is not there, or is not Parquet, is not checked.

    Examples
    --------
    >>> is_checked("data_demo/week.csv")
    False
    """
    try:
        with regular(Path(path)) as file:
            return version_in(file, str(path))[0] == str(SCHEMA_VERSION)
    except ReadingError:
        return False


def opens_as_checked(path: str | os.PathLike[str]) -> bool:
    """Say whether a path is to be opened as checked: a saved table, or a folder of them.

    Parameters
    ----------
    path
        Any path. Of a folder the uppermost tables decide: charts that have a saved table somewhere below
        them are charts still, but a saved table among charts makes it a folder of saved tables.

    Examples
    --------
    >>> opens_as_checked("data_demo/season.parquet"), opens_as_checked("data_demo/week.csv")
    (True, False)
    """
    if os.path.isdir(path):
        from hitlab.pitches.season_folder import uppermost_tables

        return any(is_checked(one) for one in uppermost_tables(Path(path)))
    return Path(path).suffix == ".parquet" and is_checked(path)


def open_checked(path: str | os.PathLike[str], trust: bool = False) -> Any:
    """Open a saved pitch table, or a folder of them, as a lazy DuckDB relation.

    Parameters
    ----------
    path
        A file written by :func:`write_checked`; or a folder of such files, in folders of their own where
        wished (a season each), which are parts of one table: a row of one part follows the rows of those
        before it by name, with numbers in names by size. A column that a part does not have is blank in its
        rows; where it has no ids, names stand in for them.
    trust
        Open a Parquet file without the mark as well: nothing about its names, words and ranges is
        then sure, and a wrong word is simply counted as none.

    Returns
    -------
    duckdb.DuckDBPyRelation
        No cell is decoded before it is asked for; it has an in-memory connection of its own, over which
        no other file can be read.

    Raises
    ------
    ReadingError
        Where the file is not there, is no regular file or not Parquet, carries no mark of this version, is
        not as it was saved (every byte of it is held against its checksums), or has columns that are not
        the pitch table's. In a folder it names the part; and there is no table, or one that is not Parquet,
        a game stands in two parts or pitches in none, or a column is of two kinds.

    Examples
    --------
    >>> import pandas as pd, tempfile
    >>> sheet = pd.DataFrame({"hitter": ["Ada Frusk", "Bea Plome"], "outcome": ["whiff", "foul"]})
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     saved = write_checked(sheet, f"{folder}/pitches.parquet")
    ...     open_checked(saved).project("hitter").fetchall()
    [('Ada Frusk',), ('Bea Plome',)]
    """
    path = Path(path)
    one = None
    if os.path.isdir(path):
        from hitlab.pitches.season_folder import PartsOfOne, tables_in

        one, told = PartsOfOne(path, trust), dict[Path, Any]()
        for part in tables_in(path):
            with regular(part) as file:
                found = one.take(part, demand_checked(file, part, trust), file)
                told |= {} if found is None else {part: found}
        _LAST.clear()
        if told:
            _LAST[path] = one.stamps, told
        relation, stamps = _relation(path, one.files), one.stamps
        relation = relation.project(one.columns) if one.columns else relation
    else:
        with regular(path) as file:
            stamps = {path: demand_checked(file, path, trust)}
        relation = _relation(path, [path])
    _demand_same(path, stamps)
    name = f"{_ALIAS}{next(_NUMBERS)}"
    _OPENED[name] = (path, stamps)
    relation = relation.set_alias(name)
    if not trust:
        _WHOLE[name] = (relation.sql_query(), one)
    return relation


def folder_of(relation: Any) -> PartsOfOne | None:
    """Return the parts that a relation consists of, where it is all of an opened folder, and no part of it.

    Parameters
    ----------
    relation
        Made by :func:`open_checked`, or of what it gave; or anything else, which is no folder.
    """
    whole = _whole_in(relation)
    return None if whole is None else whole[1]


def whole_files(relation: Any) -> list[Path] | None:
    """Return the saved tables whose rows and columns a relation gives, all of them and as they are there.

    Parameters
    ----------
    relation
        Made by :func:`open_checked`, or of what it gave; or anything else.

    Returns
    -------
    list of pathlib.Path, or None
        ``None`` where something was chosen or made of them, they were opened on trust, or a part of a folder
        does not have all of its columns.
    """
    whole = _whole_in(relation)
    if whole is None or (whole[1] is not None and whole[1].columns):
        return None
    return list(_OPENED[_alias_of(relation)][1])


def _whole_in(relation: Any) -> tuple[str, PartsOfOne | None] | None:
    whole = _WHOLE.get(_alias_of(relation))
    # What was chosen of it keeps its alias, and has another query.
    return whole if whole is not None and relation.sql_query() == whole[0] else None


def just_opened(folder: Path, stamps: Mapping[Path, tuple[int, ...]]) -> dict[Path, Told] | None:
    """Return, once, what stands in the parts of the folder that was opened last, held against its checksums.

    Parameters
    ----------
    folder
        The folder.
    stamps
        Each of its files, and what tells it from another of its name.

    Returns
    -------
    dict, or None
        ``None`` where the last that was opened is another folder, or a part of it changed since.
    """
    before, told = _LAST.pop(folder, ({}, None))
    return told if before == stamps else None


def _relation(path: Path, files: Sequence[Path]) -> Any:
    """Scan files one after the other; a column that one of them does not have is blank there."""
    import duckdb

    absolute = [os.path.abspath(file) for file in files]
    literal = [_literal(file) for file in absolute]
    connection = own_connection(*absolute, *literal)
    try:
        # What stands in the names of folders is no column.
        return connection.read_parquet(literal, union_by_name=len(files) > 1, hive_partitioning=False)
    except duckdb.Error as error:
        raise ReadingError(
            f"{path} cannot be opened: {str(error).strip().splitlines()[0][:200]}. {_anew(path)}"
        ) from error


def demand_checked(file: BinaryIO, path: Path, trust: bool = False) -> tuple[int, ...]:
    """Refuse an open file that is no saved table, or not as it was saved; return its stamp.

    Parameters
    ----------
    file, path
        The open file, and its name.
    trust
        As for :func:`open_checked`.
    """
    note_read(path)
    stamp = stamp_of(os.fstat(file.fileno()))
    sealed = verify(file, str(path))
    version, schema = version_in(file, str(path))
    if version != str(SCHEMA_VERSION) and not trust:
        if version is None:
            why = "carries no schema mark, so nobody has checked its rows"
        else:
            why = f"has version {version} of the pitch table, and this hitlab has version {SCHEMA_VERSION}"
        raise ReadingError(f"{path} {why}. {_anew(path)}")
    if not sealed and not trust:
        raise ReadingError(
            f"{path} carries the schema mark, but no checksum of what is in it: an older hitlab or another "
            "program wrote it, so that nothing shows whether its rows are those that were checked. "
            f"{_anew(path)}"
        )
    if not trust:
        _demand_columns(path, schema)
    return stamp


def doubts_in(path: str | os.PathLike[str], trust: bool = False) -> Doubts:
    """Return what was in doubt when a saved table was read, or those of a folder.

    Nothing for a file without the schema mark.

    Parameters
    ----------
    path
        The file, or the folder.
    trust
        As it is opened: of a folder that is taken on trust nothing is kept.
    """
    if os.path.isdir(path):
        from hitlab.pitches.season_folder import doubts_in_folder

        return doubts_in_folder(Path(path), trust)
    with regular(Path(path)) as file:
        schema = version_in(file, str(path))[1]
    found = (schema.metadata or {}).get(DOUBTS.encode())
    return Doubts() if found is None else Doubts.from_json(found.decode())


def demand_unchanged(relation: Any) -> None:
    """Refuse a relation whose file, or folder, is no longer the one that was opened.

    Parameters
    ----------
    relation
        Made by :func:`open_checked`, or of what it gave; others pass.

    Raises
    ------
    ReadingError
        Where a file was deleted, replaced or written to since, or another was put into the folder.
    """
    for name in _opened_in(relation):
        _demand_same(*_OPENED[name])


def is_opened(relation: Any) -> bool:
    """Say whether it is a relation made by :func:`open_checked`, or of what it gave.

    Parameters
    ----------
    relation
        A native frame of any engine.
    """
    return bool(_opened_in(relation))


def _opened_in(relation: Any) -> set[str]:
    """Give the aliases of what was opened that a relation reads."""
    query = getattr(relation, "sql_query", None)
    if not callable(query) or not _OPENED:
        return set()
    # Older DuckDBs leave the name of the relation itself out of its query.
    return {*_ALIASES.findall(query()), _alias_of(relation)} & set(_OPENED)


def _alias_of(relation: Any) -> str:
    """Give the name of a relation; a frame may have a column of this name, and no alias."""
    alias = getattr(relation, "alias", "")
    return alias if isinstance(alias, str) else ""


_ALIAS = "hitlab_saved_"
_ALIASES = re.compile(rf"\b{_ALIAS}[0-9]+\b")
_NUMBERS = itertools.count(1)
_OPENED: dict[str, tuple[Path, dict[Path, tuple[int, ...]]]] = {}
"""Alias of each relation -> what was opened, and the files that it reads, each with its stamp."""
_LAST: dict[Path, tuple[Mapping[Path, tuple[int, ...]], dict[Path, Told]]] = {}
"""The folder that was opened last -> the stamps of its files, and what stands in them, which is large."""
_WHOLE: dict[str, tuple[str, PartsOfOne | None]] = {}
"""Alias of each relation over what was not opened on trust -> its query, and the parts of a folder."""


def _demand_same(path: Path, stamps: Mapping[Path, tuple[int, ...]]) -> None:
    """Refuse files that are no longer those that were opened, and a folder that has others."""
    for file, stamp in stamps.items():
        try:
            now = os.stat(file)
        except OSError as error:
            raise ReadingError(
                f"{file} is not there any more: it was deleted or moved after it was opened. Open it again."
            ) from error
        demand_stamp(file, now, stamp)
    if path not in stamps:
        from hitlab.pitches.season_folder import tables_in

        for file in tables_in(path):
            if file not in stamps:
                raise ReadingError(f"{file} was put there after {path} was opened. Open it again.")


def stamp_of(status: os.stat_result) -> tuple[int, ...]:
    """Give what tells a file from another of its name, and from itself before it was written to."""
    return status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns


def demand_stamp(path: Path, status: os.stat_result, stamp: tuple[int, ...]) -> None:
    """Refuse a file that is no longer the one that was opened.

    Parameters
    ----------
    path
        The file.
    status
        What it is now.
    stamp
        From :func:`stamp_of`, when it was opened.

    Raises
    ------
    ReadingError
        Where it is another, or was written to.
    """
    if stamp_of(status) != stamp:
        raise ReadingError(f"{path} was replaced or changed after it was opened. Open it again.")


def _anew(path: Path) -> str:
    return (
        f'Make a checked table of it: write_checked(read_pitches({str(path)!r}), "checked.parquet"), with a '
        "mapping where it has other names than ours; or open it as it is with trust=True."
    )


def version_in(file: BinaryIO, name: str) -> tuple[str | None, Any]:
    """Version in the schema mark of a Parquet file (None where it has no mark), and its schema."""
    import pyarrow as pa
    from pyarrow import parquet

    file.seek(0)
    try:
        # The footer can be damaged in many ways, and each gives another error.
        schema = parquet.ParquetFile(file).schema_arrow
    except (pa.ArrowException, OSError, ValueError, OverflowError, KeyError, MemoryError) as error:
        said = (str(error).strip().splitlines() or [type(error).__name__])[0][:200]
        raise ReadingError(
            f"{name} is not a whole Parquet file, so it is no saved pitch table. Take it from a "
            f"copy, or read the table anew with read_pitches and save it with write_checked. ({said})"
        ) from error
    found = (schema.metadata or {}).get(MARK.encode())
    return None if found is None else found.decode("utf-8", errors="replace"), schema


def _demand_columns(path: Path, schema: Any) -> None:
    """Refuse a table whose columns are not what the mark says they are."""
    import pyarrow as pa

    kinds = {
        "text": (pa.string(), pa.large_string()),
        "word": (pa.string(), pa.large_string()),
        "date": (pa.date32(),),
        "whole": (pa.int64(),),
        "number": (pa.float64(),),
        "flag": (pa.bool_(),),
    }
    problems = [f"it has no column {name}" for name in NEEDED if name not in schema.names]
    problems += [f"it has two columns {name}" for name in COLUMNS if schema.names.count(name) > 1]
    problems += [
        f"{field.name} holds {field.type}"
        for field in schema
        if field.name in COLUMNS and field.type not in kinds[COLUMNS[field.name].kind]
    ]
    if problems:
        raise ReadingError(
            f"{path} carries the schema mark, but is no pitch table: {'; '.join(problems[:5])}. {_anew(path)}"
        )


def _literal(path: str) -> str:
    """Path in which DuckDB takes no sign for a wild card."""
    return "".join(f"[{sign}]" if sign in "*?[" else sign for sign in path)
