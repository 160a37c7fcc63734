"""Files as sources of pitches: what kind of file it is, and whether it can be read without harm."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

import pyarrow as pa

from hitlab.errors import ReadingError
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.origin import Bounds, Source
from hitlab.pitches.regular import TABLE_ENDINGS, regular
from hitlab.pitches.sources import first_line, from_arrow
from hitlab.pitches.unpacking import MOST_UNPACKED
from hitlab.pitches.workbooks import Pieces, open_workbook
from hitlab.writing import STANDARD_INPUT, note_read

if TYPE_CHECKING:
    from hitlab.pitches.textfiles import Asked

__all__ = [
    "FEATHER",
    "PARQUET",
    "START",
    "TEXT",
    "WORKBOOK",
    "Again",
    "bounded",
    "columnar_errors",
    "kind_of",
    "open_file",
    "open_pieces",
    "unreadable",
]

TEXT, PARQUET, FEATHER, WORKBOOK = "text", "Parquet", "Feather/Arrow", "workbook"
"""Kinds of files."""

_INPUT = Path("standard input")  # what it is called in messages
_ZIP = b"PK\x03\x04"  # an archive, as .xlsx and .ods are
_OLE = b"\xd0\xcf\x11\xe0"
START = 1 << 12
"""Bytes that tell what a file is."""

# First bytes of files that are taken for text by their name and are none.
_NOT_TEXT = {
    b"\x1f\x8b": "compressed (gzip). Unpack it",
    b"BZh": "compressed (bzip2). Unpack it",
    b"\xfd7zXZ": "compressed (xz). Unpack it",
    b"\x28\xb5\x2f\xfd": "compressed (zstd). Unpack it",
    b"\xff\xff\xff\xff": "an Arrow stream, not an Arrow file. Write it as a file (Feather) or as Parquet,",
    **{
        b"\x80"
        + bytes([version]): "a Python pickle, which may run anything. Save the table as CSV or Parquet"
        for version in range(2, 6)
    },
    b"SQLite format 3": "an SQLite database. Save the table as CSV or Parquet",
    b"%PDF": "a PDF document. Get the table itself, as CSV,",
    b"\x93NUMPY": "a NumPy array. Save the table as CSV or Parquet",
    b"\x89HDF": "an HDF5 file. Save the table as CSV or Parquet",
    b"ORC": "an ORC file. Save the table as CSV or Parquet",
    b"Obj\x01": "an Avro file. Save the table as CSV or Parquet",
    b"\x89PNG": "a picture (PNG). Get the table itself, as CSV,",
    b"\xff\xd8\xff": "a picture (JPEG). Get the table itself, as CSV,",
    b"GIF8": "a picture (GIF). Get the table itself, as CSV,",
    b"\x7fELF": "a program. Name the table",
}
# And of texts that are no tables, in small letters and after blanks.
_NO_TABLE = {
    b"<!doctype html": "a web page. Save the table in it as CSV",
    b"<html": "a web page. Save the table in it as CSV",
    b"<?xml": "an XML document. Save the table in it as CSV",
    b"{": "JSON. Save it as CSV or Parquet",
    b"[{": "JSON. Save it as CSV or Parquet",
    b"[[": "JSON. Save it as CSV or Parquet",
}


def open_file(
    source: str | os.PathLike[str],
    mapping: Mapping,
    bounds: Bounds,
    *,
    all_of_them: bool = False,
    asked: Asked | None = None,
) -> Source:
    """Read a file, or the standard input, as untouched cells; of a workbook all sheets together.

    Parameters
    ----------
    source
        The path; ``-`` for the standard input.
    mapping
        Says how a text file is written.
    bounds
        How much is accepted.
    all_of_them
        Take sheets that lack a needed column, too.
    asked
        Which columns of a text file are needed; None for all.

    Raises
    ------
    ReadingError
        Where it is not there, is no regular file, is of a kind that is not read, is damaged, or goes beyond
        the bounds.
    """
    from hitlab.pitches.joining import join, renamed

    name = str(_INPUT) if os.fspath(source) == STANDARD_INPUT else Path(source).name
    pieces = open_pieces(source, mapping, bounds, asked)
    if pieces.parts and not pieces.parts[0][0]:
        one, said = renamed(pieces.parts[0][1], mapping)
        return replace(one, said=(*said, *one.said)) if said else one
    parts = [(name, sheet, one) for sheet, one in pieces.parts]
    return join(parts, pieces.left_out, mapping, name, all_of_them=all_of_them)


def open_pieces(
    source: str | os.PathLike[str], mapping: Mapping, bounds: Bounds, asked: Asked | None = None
) -> Pieces:
    """Read a file, or the standard input: its sheets, or the one table in it.

    Parameters
    ----------
    source, mapping, bounds, asked
        As for :func:`open_file`.

    Raises
    ------
    ReadingError
        As :func:`open_file`.
    """
    if os.fspath(source) == STANDARD_INPUT:
        stream = getattr(sys.stdin, "buffer", None)
        if stream is None or stream.closed:
            raise ReadingError("There is no standard input to read from. Name a file.")
        return _read(stream, _INPUT, mapping, bounds, asked)
    path = Path(source)
    with regular(path) as file:
        note_read(path)
        return _read(file, path, mapping, bounds, asked)


def _read(file: BinaryIO, path: Path, mapping: Mapping, bounds: Bounds, asked: Asked | None) -> Pieces:
    try:
        start = file.read(START)
    except OSError as error:
        raise ReadingError(f"{path} cannot be read: {error.strerror or error}.") from error
    kind, whole = kind_of(start, path), Again(start, file)
    if kind == WORKBOOK:
        return _workbook(whole, path, mapping, bounds)
    return Pieces([("", _table(kind, whole, path, mapping, bounds, asked))], [])


def _workbook(file: Again, path: Path, mapping: Mapping, bounds: Bounds) -> Pieces:
    try:
        data = file.read(MOST_UNPACKED + 1)
    except OSError as error:
        raise ReadingError(f"{path} cannot be read: {error.strerror or error}.") from error
    if len(data) > MOST_UNPACKED:
        raise ReadingError(
            f"{path} is a workbook of more than {MOST_UNPACKED:,} bytes. Save its sheets as CSV."
        )
    if data.startswith(_OLE):
        # A workbook with a password lies in a container of the older kind.
        if "EncryptedPackage".encode("utf-16-le") in data:
            raise ReadingError(
                f"{path} is protected by a password. Open it in the spreadsheet program and save it "
                "without one."
            )
        raise ReadingError(f"{path} is a workbook of the older kind (.xls). Save it as .xlsx or as CSV.")
    return open_workbook(data, path, mapping, bounds)


def _table(
    kind: str, whole: Again, path: Path, mapping: Mapping, bounds: Bounds, asked: Asked | None
) -> Source:
    if kind != TEXT:
        return _open_columnar(whole, path, kind, bounds)
    from hitlab.pitches.textfiles import open_text

    try:
        return open_text(whole, path, mapping, bounds, asked)
    except OSError as error:
        raise unreadable(path, error) from error


def unreadable(path: Path, error: OSError) -> ReadingError:
    """Make the error for a file that the system does not let be read.

    Parameters
    ----------
    path, error
        The file, and what the system says.
    """
    return ReadingError(f"{path} cannot be read: {error.strerror or error}.")


def kind_of(start: bytes, path: Path) -> str:
    """Tell what a file is: :data:`WORKBOOK`, :data:`PARQUET`, :data:`FEATHER` or :data:`TEXT`.

    Parameters
    ----------
    start
        Its first bytes.
    path
        Its name.

    Raises
    ------
    ReadingError
        Where it is of a kind that is not read.
    """
    if not start:
        raise ReadingError(f"{path} is empty (0 bytes). Is it the right file, and was it saved?")
    if start.startswith((_ZIP, _OLE)):
        return WORKBOOK
    small = start.removeprefix(b"\xef\xbb\xbf").lstrip().lower()
    for what in (
        *(what for magic, what in _NOT_TEXT.items() if start.startswith(magic)),
        *(what for magic, what in _NO_TABLE.items() if small.startswith(magic)),
    ):
        raise ReadingError(f"{path} is {what} and read that. Accepted: {', '.join(TABLE_ENDINGS)} files.")
    ending = path.suffix.lower()
    if start.startswith(b"PAR1") or ending in (".parquet", ".pq"):
        return PARQUET
    if start.startswith(b"ARROW1") or ending in (".feather", ".arrow", ".ipc"):
        return FEATHER
    return TEXT


class Again:
    """A stream with its first bytes put back, for what can be read only once.

    Parameters
    ----------
    start
        The bytes.
    file
        What follows.
    heard
        Is told how many bytes were read each time.
    """

    def __init__(self, start: bytes, file: BinaryIO, heard: Callable[[int], object] | None = None) -> None:
        self._start = start
        self.file = file
        self._heard = heard

    def read(self, size: int = -1, /) -> bytes:
        """Give so many bytes, or fewer at the end."""
        data = self._read(size)
        if self._heard is not None:
            self._heard(len(data))
        return data

    def _read(self, size: int) -> bytes:
        start, self._start = self._start, b""
        if size < 0:
            return start + self.file.read()
        if len(start) > size:
            start, self._start = start[:size], start[size:]
            return start
        return start + self.file.read(size - len(start))


def _open_columnar(file: Again, path: Path, what: str, bounds: Bounds) -> Source:
    with columnar_errors(path, what):
        # A file is read where it lies; the standard input has no place to come back to.
        seekable = file.file.seekable()
        if seekable:
            file.file.seek(0)
        if not seekable:
            source: pa.NativeFile = pa.BufferReader(file.read())
        else:
            source = pa.PythonFile(file.file, "r") if path is _INPUT else pa.OSFile(str(path))
        table = _parquet(source, path, bounds) if what == PARQUET else _arrow(source, path, bounds)
    return from_arrow(path.name, table)


@contextmanager
def columnar_errors(path: Path, what: str) -> Iterator[None]:
    """Say in a sentence what is wrong with a Parquet or Feather file that cannot be read.

    Parameters
    ----------
    path, what
        The file, and which of the two it is.
    """
    try:
        yield
    except (pa.ArrowException, OSError, ValueError, OverflowError, NotImplementedError) as error:
        raise ReadingError(
            f"{path} cannot be read as {what}: it is cut short or damaged, or it is another kind of file "
            f"under this name. Copy or export it again. ({first_line(error)})"
        ) from error


def _parquet(source: pa.NativeFile, path: Path, bounds: Bounds) -> pa.Table:
    from pyarrow import parquet

    footer = parquet.ParquetFile(source)
    bounded(footer.metadata.num_rows, path, bounds)
    # Texts stay where they stand once for all, as most files have them.
    texts = [field.name for field in footer.schema_arrow if field.type in (pa.string(), pa.large_string())]
    file = parquet.ParquetFile(
        source, metadata=footer.metadata, read_dictionary=texts, page_checksum_verification=True
    )
    return file.read()


def _arrow(source: pa.NativeFile, path: Path, bounds: Bounds) -> pa.Table:
    reader = pa.ipc.open_file(source)
    batches, rows = [], 0
    for number in range(reader.num_record_batches):
        batches.append(reader.get_batch(number))
        rows += batches[-1].num_rows
        bounded(rows, path, bounds)
    return pa.Table.from_batches(batches, reader.schema)


def bounded(rows: int, path: Path, bounds: Bounds) -> None:
    """Refuse a file with more rows than are accepted.

    Parameters
    ----------
    rows, path, bounds
        Its rows, the file, and how much is accepted.
    """
    if rows > bounds.most_rows:
        raise ReadingError(
            f"{path} has more than {bounds.most_rows:,} rows ({rows:,} or more). Cut it into several files, "
            "or, where so many are meant, say most_rows=."
        )
