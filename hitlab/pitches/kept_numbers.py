"""Numbers by hitter that were worked out of all of a folder of saved tables, kept as one row of arrays."""

from __future__ import annotations

from collections.abc import Callable, Collection
from functools import cached_property
from typing import Any, TypeVar

import numpy as np

from hitlab.pitches.kept_files import Name, forget, keep, kept, writing
from hitlab.pitches.storing import demand_unchanged, folder_of

__all__ = ["KeptNumbers", "numbers"]

T = TypeVar("T")


class KeptNumbers:
    """What is kept of one way to ask a folder, by kind; nothing where it does not pay.

    Parameters
    ----------
    relation
        The pitches; kept is what was worked out of all of an opened folder, and of nothing else.
    way
        Gives all that was asked, and by what it was worked out.
    kinds
        What is kept so.
    most
        How many ways stay.
    """

    def __init__(self, relation: Any, way: Callable[[], str], kinds: Collection[str], most: int) -> None:
        one = None if relation is None else folder_of(relation)
        self._folder = one if one is not None and one.pays else None
        self._relation, self._asked, self._kinds, self._most = relation, way, kinds, most

    @cached_property
    def _way(self) -> str:
        return self._asked()

    def take(self, kind: str, take_back: Callable[[dict[str, Any]], T]) -> T | None:
        """Return what is kept, if it can be what it says.

        Parameters
        ----------
        kind
            One of the kinds.
        take_back
            Makes it of numbers, texts and arrays by name; raises ``ValueError``, ``TypeError`` or
            ``KeyError`` where these cannot be its own.
        """
        one = self._folder
        table = None if one is None else kept(one.folder, Name(kind, one.seal, self._way), 1)
        if table is None or table.num_rows != 1:
            return None
        try:
            return take_back({name: _value(table.column(name)[0]) for name in table.column_names})
        except (KeyError, TypeError, ValueError):
            return None

    def put(self, kind: str, **told: Any) -> None:
        """Keep numbers, texts and arrays by name."""
        import pyarrow as pa

        one = self._folder
        if one is None:
            return
        demand_unchanged(self._relation)
        row = {name: [np.ravel(x) if isinstance(x, np.ndarray) else x] for name, x in told.items()}
        with writing(one.folder) as mine:
            if mine:
                keep(one.folder, Name(kind, one.seal, self._way), pa.table(row))
        forget(one.folder, one.seals, self._way, self._kinds, self._most)


def _value(scalar: Any) -> Any:
    """Give a number, a text, or an array of numbers."""
    import pyarrow as pa

    listed = pa.types.is_list(scalar.type) and scalar.is_valid
    return scalar.values.to_numpy(zero_copy_only=False) if listed else scalar.as_py()


def numbers(told: Any, kind: type = np.float64) -> np.ndarray[Any, Any]:
    """Return an array that was kept, all of whose numbers have to be there."""
    if not np.isfinite(told).all():
        raise ValueError("a number is missing")
    return np.asarray(told, dtype=kind)
