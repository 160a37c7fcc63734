"""The bytes of a text file as blocks of whole lines in UTF-8, with the lines named that are no text.

A file is never held whole: a cell that nobody closed would otherwise be as large as the file, in every
form that it takes on its way. Line ends of all kinds become one, and a line with bytes that mean nothing in
the file's encoding keeps its place, so that its neighbours stay what they are.
"""

from __future__ import annotations

import codecs
from collections.abc import Iterator
from typing import Protocol

import numpy as np
import pyarrow as pa

from hitlab.errors import ReadingError

__all__ = ["BLOCK", "Bytes", "OtherEncodingError", "TextBlocks", "lines_in", "too_large"]

BLOCK = 1 << 22
"""Bytes that are read at once. More of 39 columns do not fit a processor's cache, and take half as long
again to parse; with less, what is done once a block counts."""

FIRST = 1 << 24
"""Bytes of the first block, by which it is judged in what encoding a file is (a default)."""

_MANY_BAD = 0.1
"""Share of the lines above which a file without one good accent is in another encoding (a default)."""

_WIDE = 0.4
"""Share of NUL bytes above which a file is in two bytes a letter; plain letters would give a half."""


class OtherEncodingError(ReadingError):
    """A text that is in another encoding than it is read in.

    Parameters
    ----------
    said, mend
        What shows it, and what to do.
    encoding
        The one that it may be in.
    """

    def __init__(self, said: str, mend: str, encoding: str) -> None:
        super().__init__(f"{said}. {mend}")
        self.said, self.encoding = said, encoding


class Bytes(Protocol):
    """What bytes can be read from, once."""

    def read(self, size: int = -1, /) -> bytes:
        """Give so many bytes, or fewer at the end."""


class TextBlocks:
    """Whole lines of a file, in UTF-8 and with plain line ends.

    Attributes
    ----------
    lines
        Lines given out so far.
    bad
        Line of the file, from 1 -> why it is no text.
    """

    def __init__(self, file: Bytes, name: str, encoding: str | None, largest: int) -> None:
        self.lines = 0
        self.bad: dict[int, str] = {}
        self._file = file
        self._name = name
        self._largest = largest
        self._first_bad = ""
        self._accents = False
        self._start = file.read(FIRST)
        # Where the first line has some too, it is no text at all, and its names will tell so.
        end = self._start.find(b"\n")
        self._of_zeros = self._start.find(b"\x00", 0, len(self._start) if end < 0 else end) >= 0
        if encoding is None:
            # The first mark of the one begins like that of the other; no text begins with a NUL.
            if self._start[:4] in (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE):
                encoding = "utf-32"
            elif self._start[:2] in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE):
                encoding = "utf-16"
        self._encoding = encoding or "utf-8"
        self._utf8 = codecs.lookup(self._encoding).name in ("utf-8", "utf-8-sig", "ascii")
        self._by_line = self._utf8 or self._keeps_line_ends()
        # What was decoded to find its line ends is UTF-8 by now.
        self._is_utf8 = not self._by_line or codecs.lookup(self._encoding).name in ("utf-8", "utf-8-sig")
        if self._utf8 and self._start.count(b"\x00") > _WIDE * len(self._start):
            little = self._start[1::2].count(b"\x00") > self._start[::2].count(b"\x00")
            self._refuse_wide("utf-16-le" if little else "utf-16-be")

    def __iter__(self) -> Iterator[tuple[bytes, bool]]:
        """Give pieces of whole lines, and with each whether it is the last."""
        rest, offset, first = b"", 0, True
        for chunk, last in self._chunks():
            cut = len(chunk) if last else chunk.rfind(b"\n") + 1
            # What is copied takes as much as what is looked through, so each sign is copied once.
            piece = b"".join((rest, memoryview(chunk)[:cut])) if cut or last else b""
            rest = chunk[cut:] if cut or last else rest + chunk
            if len(rest) > self._largest:
                raise too_large(self._name, self.lines + piece.count(b"\n") + 1, self._largest)
            self._bounded(piece)
            if not piece and not last:
                continue
            whole = self._as_utf8(piece, offset)
            offset += len(piece)
            if first:
                whole, first = whole.removeprefix(codecs.BOM_UTF8), False
            self.lines += lines_in(whole)
            if last or not self._judged:
                self._judge()
            # The first, by which a file is judged, is larger than what is quick to parse.
            while len(whole) > 2 * BLOCK and (cut := whole.rfind(b"\n", 0, BLOCK) + 1):
                yield whole[:cut], False
                whole = whole[cut:]
            yield whole, last

    _judged = False

    def _chunks(self) -> Iterator[tuple[bytes, bool]]:
        """Give the bytes with plain line ends; in UTF-8 where the encoding keeps line ends no other way."""
        decoder = None if self._by_line else codecs.getincrementaldecoder(self._encoding)()
        chunk, held = self._start, b""
        self._start = b""
        while True:
            following = self._file.read(BLOCK)
            last = not following
            try:
                data = chunk if decoder is None else decoder.decode(chunk, last).encode("utf-8")
            except (UnicodeError, ValueError) as error:
                raise ReadingError(
                    f"{self._name} is not {self._encoding} (line {self.lines + 1:,} or below): {error}. Name "
                    'the right encoding in the mapping, such as: [file] encoding = "utf-8"'
                ) from error
            data, held = held + data, b""
            if b"\r" in data:
                if data.endswith(b"\r") and not last:
                    data, held = data[:-1], b"\r"
                data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
            yield data, last
            if last:
                return
            chunk = following

    def _keeps_line_ends(self) -> bool:
        """Whether lines can be told before they are decoded, as in all encodings of one byte a letter."""
        plain = bytes(range(128))
        try:
            return plain.decode(self._encoding) == plain.decode("ascii")
        except (LookupError, ValueError, UnicodeError, TypeError, AttributeError) as error:
            if isinstance(error, UnicodeError):
                return False
            raise ReadingError(
                f"{self._name} cannot be read with the encoding {self._encoding!r}: {error}. Such as 'utf-8' "
                "or 'cp1252'."
            ) from error

    def _as_utf8(self, piece: bytes, offset: int) -> bytes:
        if piece.isascii() and b"\x00" not in piece:
            return piece
        if b"\x00" not in piece:
            if self._is_utf8 and _is_utf8(piece):
                self._accents = True
                return piece
            try:
                text = piece.decode(self._encoding if self._by_line else "utf-8")
            except UnicodeDecodeError:
                pass
            else:
                self._accents = True
                return piece if self._utf8 or not self._by_line else text.encode("utf-8")
        return self._line_by_line(piece, offset)

    def _line_by_line(self, piece: bytes, offset: int) -> bytes:
        """Name the lines that are no text; what is bad in them becomes a sign for it, to be shown."""
        encoding = self._encoding if self._by_line else "utf-8"
        signs = np.frombuffer(piece, dtype=np.uint8)
        odd = np.flatnonzero((signs >= 128) | (signs == 0))
        lines = piece.split(b"\n")
        ends = np.cumsum([len(line) + 1 for line in lines])
        for place in np.unique(np.searchsorted(ends, odd, side="right")).tolist():
            line = lines[place]
            number = self.lines + place + 1
            if b"\x00" in line and not self._of_zeros:
                self.bad[number] = "a line with a NUL byte in it"
            try:
                text = line.decode(encoding)
                self._accents |= not line.isascii()
            except UnicodeDecodeError as error:
                start = offset + int(ends[place]) - len(line) + error.start
                self.bad[number] = f"a line that is not {self._encoding}"
                if not self._first_bad:
                    byte = line[error.start : error.start + 1].hex()
                    self._first_bad = f"byte {start:,} (line {number}) is 0x{byte}"
                text = line.decode(encoding, errors="replace")
            lines[place] = text.encode("utf-8")
        return b"\n".join(lines)

    def _bounded(self, piece: bytes) -> None:
        """Refuse a line that is longer than any can be."""
        half = self._largest // 2
        if len(piece) <= self._largest or all(
            piece.find(b"\n", at, at + half) >= 0 for at in range(0, len(piece) - half, max(half, 1))
        ):  # a line that long has one of these halves wholly in it
            return
        lengths = [len(line) for line in piece.split(b"\n")]
        if max(lengths) > self._largest:
            number = self.lines + 1 + next(i for i, length in enumerate(lengths) if length > self._largest)
            raise too_large(self._name, number, self._largest)

    def refuse_header(self, line: int) -> None:
        """Refuse a file whose names of columns are no text."""
        if self._first_bad and "NUL" not in self.bad.get(line, "NUL"):
            self._refuse()

    def _judge(self) -> None:
        """Refuse a file that is in another encoding throughout; a few odd lines say nothing of the others."""
        self._judged = True
        if not self._first_bad or self._accents or len(self.bad) <= _MANY_BAD * self.lines:
            return
        self._refuse()

    def _refuse(self) -> None:
        mend = "cp1252" if self._utf8 else "utf-8"
        raise OtherEncodingError(
            f"{self._name} is not {self._encoding}: {self._first_bad}",
            f'If it was saved by a spreadsheet, write in the mapping: [file] encoding = "{mend}"',
            mend,
        )

    def _refuse_wide(self, encoding: str) -> None:
        raise OtherEncodingError(
            f"{self._name} seems to be written in two bytes a letter: half of it are NUL bytes",
            f'Write in the mapping: [file] encoding = "{encoding}"',
            encoding,
        )


def lines_in(data: bytes) -> int:
    """Count lines, the last one also where it has no end; four times as fast as ``bytes.count``.

    Parameters
    ----------
    data
        With plain line ends.
    """
    ends = int(np.count_nonzero(np.frombuffer(data, dtype=np.uint8) == 10))
    return ends + (bool(data) and not data.endswith(b"\n"))


def _is_utf8(piece: bytes) -> bool:
    """Say whether bytes are UTF-8, without making a text of them, which takes some times as long."""
    ends = pa.array([0, len(piece)], pa.int64()).buffers()[1]
    text = pa.LargeStringArray.from_buffers(1, ends, pa.py_buffer(piece))
    try:
        text.validate(full=True)
    except pa.ArrowInvalid:
        return False
    return True


def too_large(name: str, line: int, largest: int, quoted: bool = False) -> ReadingError:
    """Make the error for a cell, or a line, that is longer than any can be.

    Parameters
    ----------
    name
        The file.
    line
        Where it begins, from 1.
    largest
        The bound, in bytes.
    quoted
        Whether a quotation mark opens it.
    """
    if quoted:
        return ReadingError(
            f'{name} has a quotation mark (") on line {line:,} that is opened and never closed within '
            f"{largest:,} bytes. Close it, or delete it; where a cell is that large, say largest_cell="
        )
    return ReadingError(
        f"{name}: line {line:,} goes on for more than {largest:,} bytes. Is it a text file? Where "
        "a cell is that large, say largest_cell="
    )
