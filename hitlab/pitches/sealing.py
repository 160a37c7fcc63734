"""A checksum of a saved table, for each column and row group, so that no bit of it changes unseen.

It stands in the Parquet file itself, between the data and the footer, where readers look for nothing: each
part of the file in its order (a column of a row group, or what lies between) with its place, its size and its
CRC-32, then the footer's. So every byte is covered, and to verify it no cell has to be decoded.
"""

from __future__ import annotations

import hashlib
import struct
import zlib
from typing import BinaryIO

from hitlab.errors import ReadingError

__all__ = ["seal", "seal_of", "verify"]

_MAGIC = b"hitlabC1"
_PART = struct.Struct("<QQI")  # place, size, CRC-32
_TAIL = struct.Struct("<III8s")  # CRC-32 of the footer, of the parts before, their number, the magic
_FOOTER = struct.Struct("<I4s")  # size of the footer, and Parquet's own magic
_PIECE = 1 << 22  # bytes read at once


def seal(file: BinaryIO) -> None:
    """Write the checksums of a Parquet file into it.

    Parameters
    ----------
    file
        A whole Parquet file, just written, open for reading and writing.

    Raises
    ------
    OSError
        Where it cannot be read or written.
    """
    from pyarrow import parquet

    file.seek(0)
    metadata = parquet.read_metadata(file)
    start, footer = _footer_of(file)
    parts = []
    at = 0
    for begin, size in [*_chunks(metadata), (start, 0)]:
        if begin > at:  # what lies between columns
            parts.append(_PART.pack(at, begin - at, _checksum(file, at, begin - at)))
        if size:
            parts.append(_PART.pack(begin, size, _checksum(file, begin, size)))
        at = begin + size
    listed = b"".join(parts)
    file.seek(start)
    file.write(listed + _TAIL.pack(zlib.crc32(footer), zlib.crc32(listed), len(parts), _MAGIC))
    file.write(footer)


def verify(file: BinaryIO, name: str) -> bool:
    """Hold a saved table against the checksums in it.

    Parameters
    ----------
    file
        The open file.
    name
        What to call it.

    Returns
    -------
    bool
        Whether there are any.

    Raises
    ------
    ReadingError
        Where a byte is not as it was written; names the column and the row group where it can.
    """
    try:
        start, footer = _footer_of(file)
    except (ValueError, struct.error):
        return False
    file.seek(max(start - _TAIL.size, 0))
    tail = file.read(_TAIL.size)
    if len(tail) < _TAIL.size or not tail.endswith(_MAGIC):
        return False
    of_footer, of_parts, many, _ = _TAIL.unpack(tail)
    end = start - _TAIL.size - many * _PART.size
    listed = b""
    if end >= 0:
        file.seek(end)
        listed = file.read(many * _PART.size)
    if end < 0 or zlib.crc32(listed) != of_parts:
        raise _changed(name, "the list of its checksums")
    if zlib.crc32(footer) != of_footer:
        raise _changed(name, "its footer, which says where the columns are")
    at = 0
    for number, (begin, size, expected) in enumerate(_PART.iter_unpack(listed)):
        if begin != at or _checksum(file, begin, size) != expected:
            raise _changed(name, _called(file, number, begin))
        at = begin + size
    if at != end:
        raise _changed(name, "its length")
    return True


def seal_of(file: BinaryIO) -> str:
    """Return what tells the content of a saved table from any other: the hash of all its checksums.

    Parameters
    ----------
    file
        The open file, which :func:`verify` has found to be as it was saved.
    """
    start, _ = _footer_of(file)
    file.seek(start - _TAIL.size)
    tail = file.read(_TAIL.size)
    many = _TAIL.unpack(tail)[2]
    file.seek(start - _TAIL.size - many * _PART.size)
    return hashlib.sha256(file.read(many * _PART.size) + tail).hexdigest()


def _changed(name: str, what: str) -> ReadingError:
    return ReadingError(
        f"{name} is not as it was saved: {what} has changed, by damage or by another program. Take it from a "
        "copy, or read and save the table anew with write_checked."
    )


def _called(file: BinaryIO, number: int, begin: int) -> str:
    """Name the part of a file that begins at a byte; its footer is known to be whole."""
    from pyarrow import parquet

    file.seek(0)
    metadata = parquet.read_metadata(file)
    names = metadata.schema.names
    for group in range(metadata.num_row_groups):
        for place in range(metadata.num_columns):
            if _place(metadata.row_group(group).column(place))[0] == begin:
                return f"the column {names[place]} in row group {group + 1}"
    return f"part {number + 1} of it, between the columns,"


def _chunks(metadata: object) -> list[tuple[int, int]]:
    """Place and size of each column of each row group, in the order of the file."""
    chunks = [
        _place(metadata.row_group(group).column(place))  # type: ignore[attr-defined]
        for group in range(metadata.num_row_groups)  # type: ignore[attr-defined]
        for place in range(metadata.num_columns)  # type: ignore[attr-defined]
    ]
    return sorted(chunks)


def _place(column: object) -> tuple[int, int]:
    data = column.data_page_offset  # type: ignore[attr-defined]
    dictionary = column.dictionary_page_offset  # type: ignore[attr-defined]
    begin = data if dictionary is None else min(data, dictionary)
    return begin, column.total_compressed_size  # type: ignore[attr-defined]


def _footer_of(file: BinaryIO) -> tuple[int, bytes]:
    """Where the footer of a Parquet file begins, and all from there to the end of the file."""
    size = file.seek(0, 2)
    file.seek(max(size - _FOOTER.size, 0))
    length, magic = _FOOTER.unpack(file.read(_FOOTER.size))
    start = size - _FOOTER.size - length
    if magic != b"PAR1" or start < 4:
        raise ValueError("no Parquet file")
    file.seek(start)
    return start, file.read()


def _checksum(file: BinaryIO, begin: int, size: int) -> int:
    file.seek(begin)
    found = 0
    while size:
        piece = file.read(min(size, _PIECE))
        if not piece:
            return -1
        found = zlib.crc32(piece, found)
        size -= len(piece)
    return found
