"""Cells of a file that was gone through, kept on the disk until its pieces are read.

To take a text apart into cells costs more than anything that is then done with them, and a file is looked at
twice: once to see where it is cut, and once to be read. Between the two its cells lie as Arrow has them, each
text of a block once, in about two thirds of the room that the file takes.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import numpy as np
import pyarrow as pa

from hitlab.pitches.dictionaries import pool
from hitlab.pitches.origin import Source

__all__ = ["KeptBlocks", "has_room"]

_ENDING = ".cells"
_MOST = 0.25  # of the room that is free, so that other programs find some (a default)


def has_room(folder: Path, size: int) -> bool:
    """Say whether the cells of one more file may be kept in a folder without taking others' room.

    All that are kept there together take no more than their share of what was free before.

    Parameters
    ----------
    folder
        The folder.
    size
        Bytes of the file.
    """
    there = sum(path.stat().st_size for path in folder.glob(f"*{_ENDING}"))
    return there + size <= _MOST * (shutil.disk_usage(folder).free + there)


class KeptBlocks:
    """Blocks of a source, kept until they are given back, once.

    Parameters
    ----------
    folder
        Where they are kept.

    Attributes
    ----------
    whole
        Whether all that were given are kept: not where the disk had no room for them.
    """

    def __init__(self, folder: Path) -> None:
        self.whole = True
        self._folder = folder
        self._path: Path | None = None
        self._file: pa.OSFile | None = None
        self._blocks: list[tuple[Source, int, tuple[int, int] | np.ndarray, int]] = []

    def take(self, block: Source, size: int) -> None:
        """Keep a block; the numbers of its rows, its lines and what is no row stay in memory.

        Parameters
        ----------
        block
            The block.
        size
            Bytes of the file that were read for it, given back with it.
        """
        if not self.whole:
            return
        try:
            if self._file is None:
                number, name = tempfile.mkstemp(dir=self._folder, prefix="apart-", suffix=_ENDING)
                os.close(number)
                self._path = Path(name)
                self._file = pa.OSFile(name, "wb")
            begin = self._file.tell()
            # Not by the file's names, of which two may be the same.
            table = block.table.rename_columns([str(place) for place in range(block.table.num_columns)])
            with pa.ipc.new_stream(self._file, table.schema) as stream:
                stream.write_table(table)
        except OSError:
            self.drop()
            return
        rows: tuple[int, int] | np.ndarray = block.rows
        many = len(block.rows)
        if many and int(block.rows[-1]) - int(block.rows[0]) == many - 1:
            rows = int(block.rows[0]), int(block.rows[-1]) + 1
        empty = replace(block, table=block.table.schema.empty_table(), rows=np.zeros(0, dtype=np.int64))
        self._blocks.append((empty, begin, rows, size))

    def close(self) -> None:
        """Say that there are no more."""
        if self._file is not None:
            try:
                self._file.close()
            except OSError:
                self.drop()

    def blocks(self) -> Iterator[tuple[Source, int]]:
        """Give the blocks back, in their order, and the bytes that were read for each.

        Raises
        ------
        OSError, pyarrow.ArrowException
            Where they cannot be read any more.
        """
        if self._path is not None:
            with pa.OSFile(str(self._path)) as file:
                for empty, begin, rows, size in self._blocks:
                    file.seek(begin)
                    table = pa.ipc.open_stream(file, memory_pool=pool()).read_all()
                    table = table.rename_columns(empty.columns)
                    numbers = np.arange(*rows) if isinstance(rows, tuple) else rows
                    yield replace(empty, table=table, rows=numbers), size
        self.drop()

    def drop(self) -> None:
        """Keep nothing any more."""
        self.whole = False
        self._blocks.clear()
        with suppress(OSError):
            if self._file is not None:
                self._file.close()
        with suppress(OSError):
            if self._path is not None:
                self._path.unlink(missing_ok=True)
