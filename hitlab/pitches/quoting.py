"""Which lines of a text file make one row: a quoted cell may hold line breaks, a stray quote must not.

A quotation mark that nobody closed makes one cell of all the rows down to the next one, and they are gone
without a word. So every cell that goes on over a line end is looked at: where the lines in it look like rows
themselves, the line that opened it is set aside and the reading goes on below it. Marks within a cell that
are not doubled are settled row by row (:mod:`hitlab.pitches.escaping`).
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np

from hitlab.pitches.blocks import lines_in
from hitlab.pitches.escaping import SLASHED, Quotes, Settled
from hitlab.pitches.mapping import fold

__all__ = ["RowLikeness", "Structure", "cells_of", "still_open", "structure"]

_QUOTE, _BACKSLASH = 34, 92
_LOOKED_AT = 200  # lines within a cell that are looked at; one that is a row shows itself at once
_SOUGHT = 10_000  # lines with quotation marks among which the closing one is sought
_LEARNED = 2_000
_AT_ONCE = 1 << 19  # bytes in which marks are looked for at once
_NOT_YET = 1 << 25  # bytes that are kept to be learned from, should a line have to be judged
_WIDE_ENOUGH = 6  # columns from which a line with one cell too few or too many may still be a row
_NUMBER = re.compile(r"\s*[+-]?[0-9]*[.,]?[0-9]+\s*")


@dataclass(slots=True)
class Structure:
    """How the lines of a block make rows.

    Attributes
    ----------
    lines
        Lines in the block.
    strays
        Lines (from 0) that open a cell which would swallow rows.
    spans
        First line -> last line of each row that has line breaks in its cells.
    mended
        First line of each row whose marks are written another way -> what it comes to.
    unclear
        First line of each row whose marks fit no way, or two.
    torn
        First and last line of what no row can be found in, at the end of the file; or None.
    stop
        Byte from which the block is undecided, as what follows is needed; or None.
    endless
        Line whose cell goes on beyond the largest that is accepted; or None.
    starts
        Byte at which each line begins, where that had to be found out.
    plain
        Whether no line was looked at by itself: each is a row as it stands.
    """

    lines: int
    strays: list[int] = field(default_factory=list)
    spans: dict[int, int] = field(default_factory=dict)
    mended: dict[int, Settled] = field(default_factory=dict)
    unclear: list[int] = field(default_factory=list)
    torn: tuple[int, int] | None = None
    stop: int | None = None
    endless: int | None = None
    starts: np.ndarray | None = None
    plain: bool = False


class RowLikeness:
    """Tells whether a line could be a row of the file: by its number of cells, and by what stands in them.

    Parameters
    ----------
    delimiter
        Between the cells.
    width
        Cells in the header.
    words
        Folded words that cells of such files hold.
    """

    def __init__(self, delimiter: str, width: int, words: Iterable[str]) -> None:
        self.delimiter = delimiter
        self.width = width
        self._words = frozenset(words)
        self._seen: list[Counter[str]] = [Counter() for _ in range(width)]
        self._numbers = [0] * width
        self._filled = [0] * width
        self._learned = 0
        self._waiting: list[bytes] = []

    def learn(self, data: bytes) -> None:
        """Look at lines of which most are rows, until enough were seen; at once only where they are many."""
        if self._learned >= _LEARNED:
            return
        ends = np.flatnonzero(np.frombuffer(data, np.uint8, count=min(len(data), 2 * _AT_ONCE)) == 10)
        self._waiting.append(data[: ends[_LEARNED - 1] + 1] if len(ends) >= _LEARNED else data)
        if sum(map(len, self._waiting)) > _NOT_YET:
            self._learn()

    def _learn(self) -> None:
        for data in self._waiting:
            self._learn_from(data)
        self._waiting.clear()

    def _learn_from(self, data: bytes) -> None:
        if self._learned >= _LEARNED:
            return
        separator = self.delimiter.encode()
        rows = []
        for line in data.split(b"\n", _LEARNED - self._learned)[: _LEARNED - self._learned]:
            cells = cells_of(line, self.delimiter)
            if len(cells) == self.width and not (b'"' in line and still_open(line, separator, False)):
                rows.append(cells)
        self._learned += len(rows)
        for place, column in enumerate(zip(*rows, strict=True)):
            for cell, times in Counter(column).items():
                if cell.strip():
                    self._filled[place] += times
                    self._numbers[place] += times * (_NUMBER.fullmatch(cell) is not None)
                    self._seen[place][fold(cell)] += times

    def __call__(self, line: bytes) -> bool:
        """Say whether a line looks like a row."""
        self._learn()
        # Every separator that is one of the line's own gives a cell: a cheap look before the careful one.
        if line.count(self.delimiter.encode()) < self.width - 2:
            return False
        cells = cells_of(line, self.delimiter)
        filled = [(place, cell) for place, cell in enumerate(cells) if cell.strip()]
        if not filled:
            return False
        if len(cells) == self.width:
            return 2 * sum(self._fits(place, cell) for place, cell in filled) >= len(filled)
        if abs(len(cells) - self.width) > 1 or self.width < _WIDE_ENOUGH:
            return False
        # Displaced by one from some cell on.
        fit = [
            any(self._fits(at, cell) for at in {place - 1, place, place + 1} if 0 <= at < self.width)
            for place, cell in filled
        ]
        return 2 * sum(fit) >= len(filled)

    def _fits(self, place: int, cell: str) -> bool:
        word = fold(cell)
        if word in self._words or self._seen[place][word] > 1:  # not by the line itself alone
            return True
        numeric = self._filled[place] > 0 and self._numbers[place] == self._filled[place]
        return numeric and _NUMBER.fullmatch(cell) is not None


def cells_of(line: bytes, delimiter: str) -> tuple[str, ...]:
    """Cells of one line by itself.

    Parameters
    ----------
    line
        Without its end.
    delimiter
        Between the cells.
    """
    text = line.decode("utf-8", errors="replace")
    try:
        return tuple(next(csv.reader([text], delimiter=delimiter), ()))
    except csv.Error:
        return tuple(text.split(delimiter))


def still_open(line: bytes, delimiter: bytes, inside: bool) -> bool:
    """Say whether a quoted cell is open at the end of a line.

    As the parser reads: a quotation mark opens a cell only as its first sign, two within a quoted cell are
    one, and what stands between the closing one and the separator belongs to the cell.

    Parameters
    ----------
    line
        Without its end.
    delimiter
        Between the cells.
    inside
        Whether a quoted cell is open at its beginning.
    """
    place = 0
    while True:
        if not inside:
            if line[place : place + 1] == b'"':
                inside, place = True, place + 1
                continue
            at = line.find(delimiter, place)
        else:
            at = line.find(b'"', place)
            if at < 0:
                return True
            if line[at + 1 : at + 2] == b'"':
                place = at + 2
                continue
            inside = False
            at = line.find(delimiter, at + 1)
        if at < 0:
            return False
        place = at + 1


def structure(
    data: bytes, quotes: Quotes, delimiter: bytes, like_row: Callable[[bytes], bool], last: bool, largest: int
) -> Structure:
    """Find out which lines of a block make one row.

    Parameters
    ----------
    data
        Whole lines, from the beginning of a row.
    quotes
        Settles what a row's quotation marks come to.
    delimiter
        Between the cells.
    like_row
        Says of a line whether it looks like a row.
    last
        Whether nothing follows.
    largest
        Bytes beyond which a cell is none.
    """
    if b'"' not in data:
        return Structure(lines_in(data), plain=True)
    signs = np.frombuffer(data, dtype=np.uint8)
    slashed = b"\\" in data and SLASHED in data  # one sign is looked for many times as fast as two
    if not slashed and (lines := _plain_lines(data, signs, delimiter[0])):
        return Structure(lines, plain=True)
    ends = np.flatnonzero(signs == 10)
    if not data.endswith(b"\n"):
        ends = np.append(ends, len(data))
    many = len(ends)
    found = Structure(many)
    starts = np.concatenate([[0], ends[:-1] + 1])
    found.starts = starts
    marks = np.flatnonzero(signs == _QUOTE)
    # Lines are looked up among the marks, and not each of many more marks among the lines.
    until = np.searchsorted(marks, ends)
    in_line = np.diff(until, prepend=0)
    quoted = np.flatnonzero(in_line)
    suspicious = _not_plain(signs, marks, until, in_line, delimiter[0], slashed)
    found.plain = not suspicious.size

    def line(place: int) -> bytes:
        return data[starts[place] : ends[place]]

    position = 0
    for place in suspicious.tolist():
        if place < position:
            continue
        left_open = still_open(line(place), delimiter, False)
        settled = quotes.settle(line(place), left_open)
        if settled.verdict == "plain":
            continue
        if settled.verdict == "open" and SLASHED in line(place):
            end, settled = _slashed(line, place, many, like_row, quotes, settled)
            if end >= many and not last:
                found.stop = int(starts[place])
                found.lines = place
                return found
            if settled.verdict == "mended":
                found.spans[place] = end
            elif not left_open:
                settled = Settled("unclear")
        position = found.spans.get(place, place) + 1
        if settled.verdict == "mended":
            found.mended[place] = settled
            continue
        if settled.verdict == "unclear":
            found.unclear.append(place)
            continue
        limit = int(starts[place]) + largest
        begin = int(np.searchsorted(quoted, place, side="right"))
        closes = None
        for other in quoted[begin : begin + _SOUGHT].tolist():
            if ends[other] > limit:
                break
            if not still_open(line(other), delimiter, True):
                closes = other
                break
        if closes is None and len(data) > limit:
            found.endless = place
            return found
        if closes is None and not last:
            found.stop = int(starts[place])
            found.lines = place
            return found
        end = many - 1 if closes is None else closes
        inner = range(place + 1, min(end, place + _LOOKED_AT) + 1)
        if any(like_row(line(at)) for at in inner) or (closes is None and end == place):
            found.strays.append(place)
            position = place + 1
        elif closes is None:
            found.torn = (place, end)
            return found
        else:
            found.spans[place] = closes
            position = closes + 1
            settled = quotes.settle(data[starts[place] : ends[closes]], False)
            if settled.verdict == "mended":
                found.mended[place] = settled
            elif settled.verdict != "plain":
                found.unclear.append(place)
    return found


def _slashed(
    line: Callable[[int], bytes],
    place: int,
    many: int,
    like_row: Callable[[bytes], bool],
    quotes: Quotes,
    settled: Settled,
) -> tuple[int, Settled]:
    """Last line of a row with backslashes before its marks and a line break in a cell, and what it comes to.

    The line is that below the block where it has to be looked for there.
    """
    parts = [line(place)]
    if not quotes.goes_on(parts[0]):
        return place, settled
    for end in range(place + 1, min(place + _LOOKED_AT, many)):
        if like_row(line(end)):
            return place, settled
        parts.append(line(end))
        if b'"' in parts[-1]:
            whole = quotes.settle(b"\n".join(parts), True)
            if whole.verdict == "mended":
                return end, whole
    return (place if place + _LOOKED_AT < many else many), settled


def _plain_lines(data: bytes, signs: np.ndarray, separator: int) -> int:
    """Count the lines where in each of them marks do no more than stand around whole cells; else 0.

    Part by part, so that the places of the marks, of which each takes eight times the room of its sign, stay
    in a processor's cache.
    """
    lines = begin = 0
    while begin < len(data):
        end = data.rfind(b"\n", begin, begin + _AT_ONCE) + 1 if begin + _AT_ONCE < len(data) else len(data)
        if end <= begin:
            return 0
        part = signs[begin:end]
        marks, ends = np.flatnonzero(part == _QUOTE), np.flatnonzero(part == 10)
        lines += len(ends)
        if marks.size:
            if marks.size & 1 or (np.searchsorted(marks, ends) & 1).any():
                return 0
            opening, closing = marks[::2], marks[1::2] + 1
            # A part begins behind a line end, and ends with one or with the data.
            opening = opening[1:] if opening[0] == 0 else opening
            closing = closing[:-1] if closing[-1] == len(part) else closing
            for beside in (part[opening - 1], part[closing]):
                if not ((beside == separator) | (beside == 10) | (beside == _QUOTE)).all():
                    return 0
        begin = end
    return lines + (not data.endswith(b"\n"))


def _not_plain(
    signs: np.ndarray,
    marks: np.ndarray,
    until: np.ndarray,
    in_line: np.ndarray,
    separator: int,
    slashed: bool,
) -> np.ndarray:
    """Lines in which quotation marks do more than stand around whole cells of that line.

    ``until`` is how many marks there are up to the end of each line, ``in_line`` how many in it; ``slashed``
    whether a backslash stands before any.
    """
    odd = np.flatnonzero(in_line & 1)
    # What stands before an opening mark, and after a closing one; a line end where there is nothing.
    if odd.size:
        opening = np.arange(len(marks)) & 1 == 0
        # From there on a line begins with a mark of an odd number.
        opening ^= np.repeat((until - in_line) & 1 == 1, in_line)
        at = marks + np.where(opening, -1, 1)
        at[0] = max(at[0], 0)
        at[-1] = min(at[-1], len(signs) - 1)
        beside = signs[at]
        closes = not opening[-1]
    else:  # they open and close in turn
        beside = np.empty(len(marks), dtype=np.uint8)
        beside[::2] = signs[marks[::2] - 1]
        beside[1:-1:2] = signs[marks[1:-1:2] + 1]
        beside[-1] = signs[min(int(marks[-1]) + 1, len(signs) - 1)]
        closes = True
    beside[0] = 10 if marks[0] == 0 else beside[0]
    beside[-1] = 10 if marks[-1] == len(signs) - 1 and closes else beside[-1]
    plain = (beside == separator) | (beside == 10) | (beside == _QUOTE)
    if slashed:
        plain &= (signs[np.maximum(marks - 1, 0)] != _BACKSLASH) | (marks == 0)
    return np.union1d(np.searchsorted(until, np.flatnonzero(~plain), side="right"), odd)
