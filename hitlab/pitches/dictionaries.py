"""Columns of texts in codes, whose chunks may each have texts of their own, and their memory."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pyarrow as pa

__all__ = ["pool", "unified"]


def pool() -> pa.MemoryPool:
    """Give the memory in which blocks of cells come and go, one after the other.

    What one gives back the next one takes. Arrow's own gives more of it back to the system, and to get that
    from there again took up to a tenth of the processor's time.
    """
    import pyarrow as pa

    return pa.system_memory_pool()


def unified(column: pa.ChunkedArray) -> pa.ChunkedArray:
    """Give a column in codes whose chunks have their texts in common; as it is where they have.

    Arrow does not notice that: it looks through the texts of every chunk once more, so that many chunks of
    many texts cost more the second time than the first.

    Parameters
    ----------
    column
        Of a dictionary type.
    """
    held = {_where(chunk.dictionary) for chunk in column.chunks}
    return column.unify_dictionaries(memory_pool=pool()) if len(held) > 1 else column


def _where(texts: pa.Array) -> tuple[int, ...]:
    """Tell texts that lie at one place in memory from all others."""
    return len(texts), texts.offset, *(0 if part is None else part.address for part in texts.buffers())
