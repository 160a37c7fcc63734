"""Connections to DuckDB that live as long as the relations made on them."""

from __future__ import annotations

from functools import cache
from typing import Any

__all__ = ["own_connection"]

# Older DuckDB closes a connection as soon as nobody holds it, under the relations made on it, and a
# relation cannot be made to hold it. So they are held here, until the process ends. They share one
# database and its threads; one more of them costs next to nothing.
_HELD: list[Any] = []


@cache
def _database() -> Any:
    import duckdb

    return duckdb.connect(":memory:")


def own_connection() -> Any:
    """Make a connection to hitlab's own in-memory database; no progress bar, no outside state."""
    connection = _database().cursor()
    connection.execute("SET enable_progress_bar=false")
    _HELD.append(connection)
    return connection
