"""Text files (CSV and its kin) read as untouched cells, with every line accounted for.

Cells are read as text and judged later, once for each distinct value; nothing is guessed from
the first rows, so a code such as ``007`` stays what it was. The parser is PyArrow's; which lines it is given,
and where each of them went, is counted here.
"""

from __future__ import annotations

import csv
import io
import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from collections.abc import Mapping as AnyMapping
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from pyarrow import csv as arrow_csv

from hitlab.errors import ReadingError
from hitlab.pitches.blocks import Bytes, TextBlocks, lines_in, too_large
from hitlab.pitches.dictionaries import pool
from hitlab.pitches.escaping import WAYS, Quotes, Way
from hitlab.pitches.mapping import Mapping, fold
from hitlab.pitches.origin import Bounds, Lines, RaggedRow, Source
from hitlab.pitches.quoting import RowLikeness, Structure, cells_of, still_open, structure
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.titles import DELIMITERS, find_header

__all__ = ["Asked", "Plain", "TextFile", "open_text"]

Asked = Callable[[Sequence[str]], Sequence[int]]
"""Gives of the names of columns the places (from 0) of those that are needed."""

Plain = AnyMapping[int, tuple[int, int]]
"""First line of a block in which each line is a row as it stands -> its bytes and its lines."""

# As in TOML, for the line that an error tells the user to write.
_WRITTEN = {",": '","', ";": '";"', "\t": '"\\t"', "|": '"|"'}

_MOST_COLUMNS = 10_000  # a header with more is none
_HEADER_LINES = 50  # lines that the names of the columns may take where there are line breaks in them
_SHOWN = 10_000  # bytes of a line set aside that are kept to be shown
_TITLES_SHOWN = 3

_CELL = pa.dictionary(pa.int32(), pa.string())
"""How a cell is held: each distinct text once a block."""

_STRAY = "a row with a quotation mark that is not closed in it"
_UNCLEAR = "a row with quotation marks that can be read in no way, or in two"
_NOT_UNCLEAR = 'a quotation mark within a quoted cell written twice ("")'
_NOT_STRAY = 'each cell whole: delete the quotation mark ("), or close it'


@dataclass(frozen=True, slots=True)
class _Header:
    """The names of the columns, and what stands above them.

    Attributes
    ----------
    names
        Trimmed.
    delimiter
        Between the cells.
    line
        Line of the file on which they stand, from 1.
    lines
        How many lines they take.
    above, blank
        Lines above them that are passed over, with something in them and without.
    end
        Bytes up to their end.
    said
        Sentences about what was done.
    """

    names: tuple[str, ...]
    delimiter: str
    line: int
    lines: int
    above: int
    blank: int
    end: int
    said: tuple[str, ...]


@dataclass(slots=True)
class _Parsed:
    """One block of lines after parsing.

    Attributes
    ----------
    table
        Cells of the rows that are not blank.
    records
        Rows of the file in the block, whatever became of them.
    kept
        Place (from 0) among them of each of the table's rows.
    first_line
        Line of the file on which the block begins.
    starts
        Line (from 0, in the block) on which each row of the file begins; None where each has one line.
    aside
        What is no row, ``row`` being its place (from 0) in the block.
    mended
        Places of the rows whose marks are written another way than the standard's, by the way.
    read, set_aside, blank
        Lines.
    raw
        The block, where ``table`` has not all of its cells.
    """

    table: pa.Table
    records: int
    kept: np.ndarray
    first_line: int
    starts: np.ndarray | None
    aside: list[RaggedRow]
    mended: dict[Way, list[int]]
    read: int
    set_aside: int
    blank: int
    raw: _Raw | None = None

    def lines_of(self, records: np.ndarray) -> np.ndarray:
        """Line of the file on which each of some rows begins, by their places in the block."""
        return np.asarray(self.first_line + (records if self.starts is None else self.starts[records]))


@dataclass(frozen=True, slots=True)
class _Raw:
    """The rows of a block as they are written.

    Attributes
    ----------
    block
        Whole lines.
    found
        What its lines are.
    starts
        As in :class:`_Parsed`.
    mended
        Place of each row that is written another way than the standard's -> the row in it.
    """

    block: bytes
    found: Structure
    starts: np.ndarray | None
    mended: dict[int, bytes]

    def rows(self, places: Sequence[int]) -> list[bytes]:
        """Give some rows, each with its end."""
        edges = _edges(self.block, self.found, self.starts)
        rows = (self.mended.get(at, self.block[edges[at] : edges[at + 1]]) for at in places)
        return [row if row.endswith(b"\n") else row + b"\n" for row in rows]


def open_text(
    file: Bytes, path: Path, mapping: Mapping, bounds: Bounds, asked: Asked | None = None
) -> Source:
    """Read a delimited text file as cells of text.

    Parameters
    ----------
    file
        The open file, at its beginning; it is read once.
    path
        Its name.
    mapping
        Its delimiter, encoding and header line, where they are not the usual ones.
    bounds
        How much is accepted.
    asked
        Which columns are needed: of others nothing is parsed where they are half of all or more. All
        cells of a row are still there to be shown (:meth:`hitlab.pitches.origin.Source.cells_of`).

    Raises
    ------
    ReadingError
        Where the bytes are not in the encoding, there is no row, the delimiter is wrong, every row has
        another number of cells than the header, or something in it is larger than the bounds allow.
    """
    text = TextFile(file, path, mapping, bounds, asked)
    return text.put_together(list(text.parsed()))


class TextFile:
    """A text file that is read block by block.

    Parameters
    ----------
    file, path, mapping, bounds, asked
        As for :func:`open_text`.
    to_show
        Whether cells of columns that are not needed may have to be shown.
    plain
        What :attr:`plain` was after an earlier look at the same file.

    Attributes
    ----------
    plain
        Of the blocks given out so far those in which each line is a row as it stands, as :data:`Plain`.

    Raises
    ------
    ReadingError
        Where there is no row, or the names of the columns cannot be read.
    """

    def __init__(
        self,
        file: Bytes,
        path: Path,
        mapping: Mapping,
        bounds: Bounds,
        asked: Asked | None = None,
        *,
        to_show: bool = True,
        plain: Plain | None = None,
    ) -> None:
        self._plain = {} if plain is None else plain
        self.plain: dict[int, tuple[int, int]] = {}
        self._path, self._mapping, self._bounds, self._to_show = path, mapping, bounds, to_show
        self._text = TextBlocks(file, str(path), mapping.encoding, bounds.largest_cell)
        self._pieces = iter(self._text)
        data, self._last = next(self._pieces)
        while not self._last and lines_in(data) < (mapping.header_line or 1) + _HEADER_LINES:
            more, self._last = next(self._pieces)
            data += more
        if not data.strip():
            raise ReadingError(f"{path} is empty: there is nothing in it but blanks.")
        self._header = _header(path, data, mapping, self._text)
        self._data = data[self._header.end :]
        places = [] if asked is None else sorted(asked(self._header.names))
        # To keep the lines that the others stand in costs as much as some columns do.
        many = len(places) <= len(self._header.names) / 2 or not to_show
        self._places = tuple(places) if 0 < len(places) < len(self._header.names) and many else None
        self._records = self._read = self._aside = self._blank = 0
        self._ways: dict[Way, tuple[int, int]] = {}
        self._first_aside: tuple[RaggedRow, int] | None = None
        self._all_of_cells = True

    @property
    def names(self) -> list[str]:
        """Names of the columns."""
        return list(self._header.names)

    def parsed(self) -> Iterator[_Parsed]:
        """Give the blocks, once; they are parsed beside each other."""
        path, header = self._path, self._header
        workers = max(1, min(os.cpu_count() or 1, 4))
        with ThreadPoolExecutor(workers) as pool:
            waiting: deque[Future[_Parsed]] = deque()
            stray: int | None = None
            for block, found, first_line in _blocks(
                path, self._data, self._last, self._pieces, header, self._mapping, self._bounds, self._plain
            ):
                self._data = b""
                if found.plain:
                    self.plain[first_line] = len(block), found.lines
                if stray is None and found.strays:
                    stray = first_line + found.strays[0]
                if first_line + found.lines - header.line - header.lines > self._bounds.most_rows:
                    opened = f" A quotation mark is opened on line {stray:,} and not closed." if stray else ""
                    raise ReadingError(
                        f"{path} has more than {self._bounds.most_rows:,} rows. Cut it into several files, "
                        f"or, where so many are meant, say most_rows=.{opened}"
                    )
                known = self._text.bad
                bad = {n - first_line: known[n] for n in known if 0 <= n - first_line < found.lines}
                waiting.append(
                    pool.submit(
                        _parse, path, block, found, bad, first_line, header, self._places, self._to_show
                    )
                )
                while len(waiting) > workers:
                    yield self._counted(waiting.popleft().result())
            while waiting:
                yield self._counted(waiting.popleft().result())

    def sources(self) -> Iterator[Source]:
        """Give the blocks as sources of their own, whose rows and lines are those of the file."""
        before = 0
        for part in self.parsed():
            yield self._source([part], before, _LineFinder([part], before))
            before += part.records

    def _counted(self, part: _Parsed) -> _Parsed:
        self._read += part.read
        self._aside += part.set_aside
        self._blank += part.blank
        for way, rows in part.mended.items():
            if rows:
                many, first = self._ways.get(way, (0, 0))
                self._ways[way] = (many + len(rows), first or int(part.lines_of(np.array(rows[:1]))[0]))
        if part.aside and self._first_aside is None:
            first_aside = min(part.aside, key=lambda one: one.row)
            self._first_aside = first_aside, int(part.lines_of(np.array([first_aside.row]))[0])
        self._all_of_cells &= all("cells" in one.reason for one in part.aside)
        self._records += len(part.kept)
        return part

    @property
    def lines(self) -> Lines:
        """Where every line went, once all blocks were given.

        Raises
        ------
        ReadingError
            Where one is missing, or there is no row.
        """
        header, path = self._header, self._path
        lines = Lines(
            in_file=self._text.lines,
            above=header.above,
            header=header.lines,
            rows=self._read,
            set_aside=self._aside,
            blank=header.blank + self._blank,
        )
        if lines.unaccounted:
            raise ReadingError(
                f"{path} has {lines.in_file:,} lines and what became of {lines.unaccounted:,} of them cannot "
                "be told. Save it anew as CSV."
            )
        if not self._records:
            raise ReadingError(self._without_rows(lines))
        return lines

    def _without_rows(self, lines: Lines) -> str:
        path, names = self._path, ", ".join(self._header.names[:10])
        if self._first_aside is None:
            what = "only blank rows below it" if lines.blank > self._header.blank else "no rows below it"
            return f"{path} has a header ({names}) and {what}."
        first, line = self._first_aside
        if self._all_of_cells:
            return (
                f"Every row of {path} has another number of cells than the header. Line {line} has "
                f"{len(first.cells)}, the header {first.expected}: {first.text[:120]!r}. Give every column a "
                "name, or name the right delimiter in the mapping."
            )
        return (
            f"No row of {path} can be read. Line {line} is {first.reason}: {first.text[:120]!r}. Needed: "
            f"{first.accepted}."
        )

    @property
    def said(self) -> tuple[str, ...]:
        """Sentences about how it was read, once all blocks were given."""
        said = [*self._header.said]
        for way, how in WAYS.items():
            if way in self._ways:
                many, line = self._ways[way]
                one = many == 1
                said.append(
                    f"{many:,} row{'' if one else 's'}{' on' if one else ', the first on'} line {line:,}"
                    f"{' has' if one else ', have'} quotation marks within a cell that are {how}; they were "
                    "read as part of it."
                )
        if self._blank:
            said.append(f"{self._blank} blank line(s) were passed over.")
        return tuple(said)

    def put_together(self, parts: list[_Parsed]) -> Source:
        """Make one source of all blocks, and see that no line is missing."""
        lines = self.lines
        return replace(self._source(parts, 0, _LineFinder(parts)), said=self.said, lines_read=lines)

    def _source(self, parts: list[_Parsed], before: int, find_lines: _LineFinder) -> Source:
        ragged: list[RaggedRow] = []
        rows: list[np.ndarray] = []
        for part in parts:
            rows.append(part.kept + (before + 1))
            aside = sorted(part.aside, key=lambda one: one.row)
            ragged += [one.numbered(one.row + before + 1) for one in aside]
            before += part.records
        table = pa.concat_tables([part.table for part in parts]).unify_dictionaries(memory_pool=pool())
        return Source(
            self._path.name,
            table.rename_columns(list(self._header.names)),
            np.concatenate(rows),
            find_lines,
            tuple(ragged),
            original=self._original(parts) if self._places and self._to_show else None,
        )

    def _original(self, parts: list[_Parsed]) -> Callable[[np.ndarray], pa.Table]:
        """Make what gives all cells of some rows."""
        names, ends = list(self._header.names), np.cumsum([part.table.num_rows for part in parts])

        def original(places: np.ndarray) -> pa.Table:
            some, which = np.unique(np.asarray(places, dtype=np.int64), return_inverse=True)
            of, rows = np.searchsorted(ends, some, side="right"), []
            for number in np.unique(of).tolist():
                part, raw = parts[number], parts[number].raw
                assert raw is not None
                here = some[of == number] - (ends[number] - part.table.num_rows)
                rows += raw.rows(part.kept[here].tolist())
            data = b"".join(rows)
            table, _ = _cells(self._path, data, len(names), self._header.delimiter, True)
            return table.take(pa.array(which.reshape(-1))).rename_columns(names)

        return original


def _blocks(
    path: Path,
    data: bytes,
    last: bool,
    pieces: Iterator[tuple[bytes, bool]],
    header: _Header,
    mapping: Mapping,
    bounds: Bounds,
    plain: Plain,
) -> Iterator[tuple[bytes, Structure, int]]:
    """Give blocks of whole rows, what their lines are, and the line of the file on which each begins."""
    words = {fold(word) for column in COLUMNS.values() for word in column.words}
    words.update(word for translated in mapping.words.values() for word in translated)
    like = RowLikeness(header.delimiter, len(header.names), words)
    quotes = Quotes(header.delimiter.encode(), len(header.names))
    line = header.line + header.lines
    while True:
        if data:
            if b'"' in data:
                like.learn(data)
            size, lines = plain.get(line, (0, 0))
            if size == len(data):
                found = Structure(lines, plain=True)
            else:
                found = structure(data, quotes, header.delimiter.encode(), like, last, bounds.largest_cell)
            if found.endless is not None:
                raise too_large(str(path), line + found.endless, bounds.largest_cell, quoted=True)
            cut = len(data) if found.stop is None else found.stop
            if cut:
                yield data[:cut], found, line
            line += found.lines
            data = data[cut:]
        if last:
            return
        more, last = next(pieces)
        data += more


def _header(path: Path, data: bytes, mapping: Mapping, blocks: TextBlocks) -> _Header:
    """Find the names of the columns."""
    many = (mapping.header_line or 1) + _HEADER_LINES
    end = 0
    for _ in range(many):  # what follows is many times as much
        end = data.find(b"\n", end) + 1
        if not end:
            break
    lines = data[: end or len(data)].split(b"\n")
    if lines[-1] == b"":
        lines.pop()
    at = find_header(str(path), lines, mapping)
    above = [line for line in lines[:at] if line.strip()]
    delimiter, said = _delimiter(path, lines[at].decode("utf-8"), mapping)
    end = at
    inside = still_open(lines[at], delimiter.encode(), False)
    settled = Quotes(delimiter.encode(), None).settle(lines[at], inside)
    if settled.verdict == "mended":
        inside = False
    while inside:
        end += 1
        if end >= len(lines):
            raise ReadingError(
                f'{path} has a quotation mark (") on line {at + 1}, among the names of the columns, that is '
                "opened and never closed. Close it, or delete it."
            )
        inside = still_open(lines[end], delimiter.encode(), True)
    for number in range(at + 1, end + 2):
        blocks.refuse_header(number)
    names_line = settled.row if settled.verdict == "mended" else b"\n".join(lines[at : end + 1])
    text = names_line.decode("utf-8")
    try:
        names = tuple(name.strip() for name in next(csv.reader(io.StringIO(text), delimiter=delimiter)))
    except csv.Error as error:
        raise ReadingError(
            f"{path}: the names of the columns on line {at + 1} cannot be read: {error}."
        ) from error
    if len(names) > _MOST_COLUMNS:
        raise ReadingError(
            f"{path} has {len(names):,} columns on line {at + 1}, more than {_MOST_COLUMNS:,}. Is it a table?"
        )
    if len(names) == 1:
        for other, word in DELIMITERS.items():
            if other != delimiter and other in names[0]:
                raise ReadingError(
                    f"{path} has a single column, called {names[0]!r}: its cells seem to be separated by "
                    f"a {word}, not by {delimiter!r}. Write in the mapping: "
                    f"[file] delimiter = {_WRITTEN[other]}"
                )
    if above:
        shown = ", ".join(repr(one.decode("utf-8")[:80]) for one in above[:_TITLES_SHOWN])
        rest = ", ..." if len(above) > _TITLES_SHOWN else ""
        lines_were = (
            f"{len(above)} lines above the header were" if above[1:] else "1 line above the header was"
        )
        said.append(f"{lines_were} passed over: {shown}{rest}.")
    return _Header(
        names=names,
        delimiter=delimiter,
        line=at + 1,
        lines=end - at + 1,
        above=len(above),
        blank=at - len(above),
        end=min(sum(len(line) + 1 for line in lines[: end + 1]), len(data)),
        said=tuple(said),
    )


def _delimiter(path: Path, header: str, mapping: Mapping) -> tuple[str, list[str]]:
    """Delimiter named in the mapping, or the one that the header has most of."""
    if mapping.delimiter is not None:
        return mapping.delimiter, []
    outside = "".join(header.split('"')[::2])  # what stands in quotes separates nothing
    counts = {one: outside.count(one) for one in DELIMITERS}
    if path.suffix.lower() == ".tsv" and counts["\t"]:
        return "\t", []
    best = max(counts, key=lambda one: counts[one])
    if counts[best] == 0:
        return ",", []
    return best, [] if best == "," else [f"Cells are separated by a {DELIMITERS[best]}."]


def _parse(
    path: Path,
    block: bytes,
    found: Structure,
    bad: dict[int, str],
    first_line: int,
    header: _Header,
    places: tuple[int, ...] | None,
    to_show: bool,
) -> _Parsed:
    """Turn a block of lines into cells, and count what became of each line."""
    starts, reasons = _records(block, found, bad)
    records = found.lines if starts is None else len(starts)
    given = np.delete(np.arange(records), list(reasons))
    edges = None
    data = block
    mended = {_place(starts, line): settled for line, settled in found.mended.items()}
    mended = {place: settled for place, settled in mended.items() if place not in reasons}
    new = {place: settled.row + b"\n" for place, settled in mended.items()}
    if reasons or mended:
        edges = _edges(block, found, starts)
        data = _changed(block, edges, new | dict.fromkeys(reasons, b""))
    raw = None if places is None else _Raw(block, found, starts, new)
    table, invalid = _cells(path, data, len(header.names), header.delimiter, bool(found.spans), places)
    if table.num_rows + len(invalid) != len(given):
        raise ReadingError(
            f"{path}: below line {first_line:,} there are {len(given):,} rows by their lines and "
            f"{table.num_rows + len(invalid):,} by their cells. Its quotation marks are not as in other text "
            "files: save it anew as CSV."
        )
    aside, blank = [], []
    for place, (reason, accepted) in reasons.items():
        assert edges is not None
        text = block[edges[place] : edges[place + 1]][:_SHOWN].decode("utf-8", errors="replace").rstrip("\n")
        cells = (text,) if reason in (_STRAY, _UNCLEAR) else cells_of(text.encode("utf-8"), header.delimiter)
        aside.append(RaggedRow(place, cells, len(header.names), text, reason, accepted))
    wrong = np.zeros(records, dtype=bool)
    for number, expected, actual, line in invalid:
        at = int(given[number])
        wrong[at] = True
        if not line.strip():
            blank.append(at)
            continue
        what = "many" if actual > expected else "few"
        cells = cells_of(line.encode("utf-8"), header.delimiter)
        accepted = f"{expected} cells as in the header, not {actual}"
        aside.append(RaggedRow(at, cells, expected, line, f"a row with too {what} cells", accepted))
    kept = given[~wrong[given]]
    empty = _blank_rows(table)
    if raw is not None and empty.any():
        # Something may stand in the columns that were not parsed.
        candidates = np.flatnonzero(empty)
        lines = raw.rows(kept[candidates].tolist())
        empty[candidates] = [not any(cells_of(line.rstrip(b"\n"), header.delimiter)) for line in lines]
    if empty.any():
        blank += kept[empty].tolist()
        kept, table = kept[~empty], table.filter(pa.array(~empty))
    sizes = np.ones(records, dtype=np.int64)
    if starts is not None:
        sizes = np.diff(np.append(starts, found.lines))
    set_aside = int(sizes[[one.row for one in aside]].sum()) if aside else 0
    blanks = int(sizes[blank].sum()) if blank else 0
    read = int(sizes[kept].sum())
    ways = {way: sorted(at for at, settled in mended.items() if settled.way == way) for way in WAYS}
    kept_raw = raw if to_show else None
    return _Parsed(table, records, kept, first_line, starts, aside, ways, read, set_aside, blanks, kept_raw)


def _records(
    block: bytes, found: Structure, bad: dict[int, str]
) -> tuple[np.ndarray | None, dict[int, tuple[str, str]]]:
    """Line on which each row begins (None: one line each), and why some are none, by their place."""
    starts = None
    if found.spans or found.torn:
        first = np.ones(found.lines, dtype=bool)
        for begin, end in [*found.spans.items(), *([found.torn] if found.torn else [])]:
            first[begin + 1 : end + 1] = False
        starts = np.flatnonzero(first)
    reasons = {_place(starts, line): (_STRAY, _NOT_STRAY) for line in found.strays}
    reasons |= {_place(starts, line): (_UNCLEAR, _NOT_UNCLEAR) for line in found.unclear}
    if found.torn:
        reasons[_place(starts, found.torn[0])] = (_STRAY, _NOT_STRAY)
    for line, reason in sorted(bad.items()):
        reasons.setdefault(_place(starts, line), (reason, "text in the encoding of the other lines"))
    return starts, dict(sorted(reasons.items()))


def _place(starts: np.ndarray | None, line: int) -> int:
    """Place of the row that a line belongs to."""
    return line if starts is None else int(np.searchsorted(starts, line, side="right")) - 1


def _line_starts(block: bytes, found: Structure) -> np.ndarray:
    if found.starts is not None:
        return found.starts[: found.lines]
    ends = np.flatnonzero(np.frombuffer(block, dtype=np.uint8) == 10)
    return np.concatenate([[0], ends + 1])[: found.lines]


def _edges(block: bytes, found: Structure, starts: np.ndarray | None) -> np.ndarray:
    """Bytes at which the rows begin, and the end."""
    of_lines = _line_starts(block, found)
    return np.append(of_lines if starts is None else of_lines[starts], len(block))


def _changed(block: bytes, edges: np.ndarray, rows: dict[int, bytes]) -> bytes:
    """Put something else in the place of some rows, or nothing."""
    parts, begin = [], 0
    for place in sorted(rows):
        parts += [block[begin : edges[place]], rows[place]]
        begin = int(edges[place + 1])
    return b"".join([*parts, block[begin:]])


def _cells(
    path: Path,
    data: bytes,
    width: int,
    delimiter: str,
    breaks: bool,
    places: tuple[int, ...] | None = None,
) -> tuple[pa.Table, list[tuple[int, int, int, str]]]:
    """Cells as text, and (row from 0, expected, actual, text) of each row with a wrong number of cells.

    Of columns at other places than these the cells hold nothing.
    """
    invalid: list[tuple[int, int, int, str]] = []

    def note(row: arrow_csv.InvalidRow) -> str:
        invalid.append((row.number - 1, row.expected_columns, row.actual_columns, row.text))
        return "skip"

    # Not by the file's names, of which two may be the same.
    names = [str(place) for place in range(width)]
    parsed = names if places is None else [names[place] for place in places]
    if not data:
        return _widened(pa.table({name: pa.array([], pa.string()).cast(_CELL) for name in parsed}), names), []
    try:
        table = arrow_csv.read_csv(
            pa.BufferReader(data),
            # One thread and one block, in which rows are numbered; blocks are parsed beside each other.
            arrow_csv.ReadOptions(
                use_threads=False, block_size=max(len(data) + 1, 1 << 20), column_names=names
            ),
            arrow_csv.ParseOptions(
                delimiter=delimiter,
                newlines_in_values=breaks,
                ignore_empty_lines=False,
                invalid_row_handler=note,
            ),
            arrow_csv.ConvertOptions(
                column_types=dict.fromkeys(parsed, _CELL),
                include_columns=parsed,
                strings_can_be_null=False,
                check_utf8=False,
            ),
            memory_pool=pool(),
        )
    except (pa.ArrowException, ValueError, OSError) as error:
        raise ReadingError(
            f"{path} cannot be read as a text file with {delimiter!r} between the cells: "
            f"{(str(error).splitlines() or ['no reason given'])[0][:200]}. Name the right delimiter in the "
            'mapping, such as: [file] delimiter = ";"'
        ) from error
    return _widened(table, names), invalid


def _widened(table: pa.Table, names: list[str]) -> pa.Table:
    """Put columns without anything in them in the place of those that were not parsed."""
    there = table.column_names
    if there == names:
        return table
    nothing = pa.nulls(table.num_rows)
    return pa.table([table.column(name) if name in there else nothing for name in names], names=names)


def _blank_rows(table: pa.Table) -> np.ndarray:
    """Rows in which every cell is empty."""
    blank = np.ones(table.num_rows, dtype=bool)
    for column in table.columns:
        if pa.types.is_null(column.type):
            continue  # it was not parsed
        here = np.zeros(0, dtype=bool)
        for chunk in column.chunks:
            empty = pc.equal(chunk.dictionary, "").to_numpy(zero_copy_only=False)
            here = np.append(
                here, empty[chunk.indices.to_numpy()] if empty.any() else np.zeros(len(chunk), bool)
            )
        blank &= here
        if not blank.any():
            break
    return blank


class _LineFinder:
    """Turns numbers of data rows into lines of the file, also where cells hold line breaks.

    Parameters
    ----------
    parts
        Blocks one after the other.
    before
        Rows of the file before them.
    """

    def __init__(self, parts: list[_Parsed], before: int = 0) -> None:
        # What is needed of them, so that the cells need not be kept for it.
        self._lines = [(part.first_line, part.starts) for part in parts]
        self._ends = before + np.cumsum([part.records for part in parts])
        self._begins = np.append(before, self._ends[:-1])

    def __call__(self, rows: np.ndarray) -> np.ndarray:
        """Lines of the given data rows, from 1."""
        places = np.asarray(rows, dtype=np.int64) - 1
        block = np.searchsorted(self._ends, places, side="right")
        lines = np.zeros(len(places), dtype=np.int64)
        for number in np.unique(block):
            here = block == number
            first, starts = self._lines[number]
            inside = places[here] - self._begins[number]
            lines[here] = first + (inside if starts is None else starts[inside])
        return lines
