r"""Rows in which a quotation mark within a cell is not doubled, read as what was meant where it can be told.

RFC 4180 doubles it; many programs put a backslash before it, and some write it bare. Read by the standard
alone such a cell is no error: ``"Ada \"Ace\" Frusk"`` comes out as ``Ada \Ace\" Frusk"``, a hitter of his
own. So each way is tried on the whole row. It is believed where every quoted cell then ends at a separator,
the row has as many cells as the header, and no other way gives as much; what nothing fits is set aside. A row
is judged by itself, so that no damaged one decides how others are read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

__all__ = ["WAYS", "Quotes", "Settled", "Way"]

Way = Literal["backslash", "bare"]

WAYS: dict[Way, str] = {"backslash": 'written \\" in place of ""', "bare": "not doubled"}
"""How quotation marks within cells stand in rows that are written anew, in words."""

SLASHED = b'\\"'


@dataclass(frozen=True, slots=True)
class Settled:
    """What a row's quotation marks come to.

    Attributes
    ----------
    verdict
        ``plain`` (as the standard has it), ``mended``, ``unclear`` (no way fits, or two do), or ``open``: a
        quoted cell goes on below the line.
    row
        A row that was mended, as the standard writes it, without its end.
    way
        How it was written.
    """

    verdict: Literal["plain", "mended", "unclear", "open"]
    row: bytes = b""
    way: Way = "backslash"


_PLAIN, _UNCLEAR, _OPEN = Settled("plain"), Settled("unclear"), Settled("open")


class Quotes:
    """Reads rows in each of the ways to write a quotation mark within a cell.

    Parameters
    ----------
    delimiter
        Between the cells, one sign.
    width
        Cells of a row; None where any number will do.
    """

    def __init__(self, delimiter: bytes, width: int | None) -> None:
        sign = re.escape(delimiter)
        blanks = b"".join(re.escape(one) for one in (b" ", b"\t") if one != delimiter)
        end = rb"[%s]*(?:%s|\Z)" % (blanks, sign)
        self._delimiter, self._width = delimiter, width
        # Each takes one cell with the separator behind it; the first group is what a quoted one holds.
        self._standard = re.compile(rb'"([^"]*(?:""[^"]*)*)"%s|((?!")[^%s]*)(?:%s|\Z)' % (end, sign, sign))
        self._escaped = re.compile(
            rb'"([^"\\]*(?:\\.[^"\\]*)*)"%s|([^"\\%s]*(?:\\"?[^"\\%s]*)*)(?:%s|\Z)' % (end, sign, sign, sign),
            re.DOTALL,
        )
        self._bare = re.compile(
            rb'"([^"]*(?:(?:"(?!"|%s)|"(?="%s))[^"]*)*)"%s|([^"%s]*)(?:%s|\Z)' % (end, end, end, sign, sign)
        )
        self._left_open = re.compile(rb'"[^"\\]*(?:\\.[^"\\]*)*\\?\Z', re.DOTALL)

    def settle(self, row: bytes, left_open: bool) -> Settled:
        """Say how a row is to be read.

        Parameters
        ----------
        row
            Without its end; it may hold line ends.
        left_open
            Whether the standard way leaves a quoted cell open at the end.
        """
        slashed = SLASHED in row
        standard = None if left_open else self._cells(row, self._standard)
        if standard is not None and slashed and any(SLASHED in cell for cell in self._unquoted(row)):
            standard = None  # a mark that needs no backslash, where nothing is quoted, has one
        escaped = self._cells(row, self._escaped) if slashed else None
        fits = escaped is not None and self._width in (None, len(escaped))
        if standard is not None and (not fits or self._width is None):
            return _PLAIN
        row_escaped = self._anew(escaped, _without_backslash) if fits and escaped is not None else b""
        if standard is not None and len(standard) == self._width:
            same = self._anew(standard, lambda cell: cell.replace(b'""', b'"')) == row_escaped
            return _PLAIN if same else _UNCLEAR
        if fits:
            return Settled("mended", row_escaped, "backslash")
        if left_open or (slashed and self.goes_on(row)):
            return _OPEN
        bare = None if slashed else self._cells(row, self._bare)
        if bare is not None and self._width in (None, len(bare)):
            return Settled("mended", self._anew(bare, bytes), "bare")
        return _UNCLEAR

    def goes_on(self, row: bytes) -> bool:
        """Say whether, with backslashes before the marks, a quoted cell is open at the end of a row."""
        place = 0
        while place <= len(row):
            found = self._escaped.match(row, place)
            if found is None:
                return self._left_open.match(row, place) is not None
            if found.end() == len(row):
                return False
            place = found.end()
        return False

    def _cells(self, row: bytes, pattern: re.Pattern[bytes]) -> list[bytes] | None:
        """Cells as they are written; None where the marks do not fit."""
        cells, place = [], 0
        while True:
            found = pattern.match(row, place)
            if found is None:
                return None
            cells.append(found[1] if found[1] is not None else found[2])
            place = found.end()
            if place == len(row) and not found[0].endswith(self._delimiter):
                return cells

    def _unquoted(self, row: bytes) -> Sequence[bytes]:
        return [found[2] for found in self._standard.finditer(row) if found[2]]

    def _anew(self, cells: list[bytes], meant: Callable[[bytes], bytes]) -> bytes:
        return self._delimiter.join(b'"%s"' % meant(cell).replace(b'"', b'""') for cell in cells)


def _without_backslash(cell: bytes) -> bytes:
    """Take away the backslashes that stand for a mark; all others stay, as in the path of a clip."""
    return re.sub(rb"\\(.)", lambda pair: b'"' if pair[1] == b'"' else pair[0], cell, flags=re.DOTALL)
