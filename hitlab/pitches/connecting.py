"""Connections to DuckDB that live as long as the relations made on them, and reach nothing else.

A connection sees the files that it was made for, if any, and no extension is fetched or loaded: neither a
name nor a word that somebody wrote into a table can make it read another file or ask the network.
"""

from __future__ import annotations

import gc
from functools import cache
from typing import Any

__all__ = ["own_connection"]

# Older DuckDB closes a connection as soon as nobody holds it, under the relations made on it, and a
# relation cannot be made to hold it. There they are held here, until the process ends.
_HELD: list[Any] = []
_TRIED: list[bool] = []  # whether a relation holds its connection, once that was tried


def own_connection(*paths: str) -> Any:
    """Make a connection to an in-memory database of hitlab's own; no progress bar, no outside state.

    Parameters
    ----------
    *paths
        The files that may be read over it, as absolute paths in each of their spellings; none for none.
    """
    connection = _of_files(paths) if paths else _shared().cursor()
    connection.execute("SET enable_progress_bar=false")
    if not _relations_hold(connection):
        _HELD.append(connection)
    return connection


@cache
def _shared() -> Any:
    connection = _database()
    connection.execute("SET enable_external_access=false")
    return connection


def _of_files(paths: tuple[str, ...]) -> Any:
    connection = _database()
    quoted = ", ".join("'" + path.replace("'", "''") + "'" for path in paths)
    connection.execute(f"SET allowed_paths=[{quoted}]")
    connection.execute("SET enable_external_access=false")  # which cannot be taken back
    return connection


def _database() -> Any:
    import duckdb

    return duckdb.connect(
        ":memory:", config={"autoinstall_known_extensions": "false", "autoload_known_extensions": "false"}
    )


def _relations_hold(connection: Any) -> bool:
    """Say whether a relation keeps the connection that it was made on; tried once, beside the one given."""
    import duckdb

    if not _TRIED:
        relation = connection.cursor().sql("SELECT 1 AS one")
        gc.collect(1)  # what was just made is young, and going through all that is old takes long
        try:
            _TRIED.append(bool(relation.filter("one = 1").fetchall() == [(1,)]))
        except duckdb.Error:
            _TRIED.append(False)
    return _TRIED[0]
