"""Where a file of many pitches is cut into pieces, and what the whole tells that no piece can.

A file is gone through once before anything of it is judged. What is then known of it: where each game begins
and ends; how often each text stands in the columns in which it is decided by how often (levels, the decimals
of numbers in another unit, what kind a column carried along is, days, words that the mapping names); and
where every line went. It is cut where no game is open, so that games charted side by side stay in one piece.

Where games are open over more rows than two pieces have, as in a file that is sorted by hitter, no such place
comes: then each row of that stretch is put aside on the disk, with those of the piece that its game is in,
and the pieces are read from there, in the file's own order. DuckDB's sort was not taken for it: its reader
splits text by rules of its own, and the lines that it cannot split are then nobody's.

Where all cells of a text file are needed, those of the first look are kept on the disk for the second
(:mod:`hitlab.pitches.kept_blocks`).

Whatever newly rests on how often a text stands asks ``Cells.times``, and its column is counted in
``_Survey``.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Collection, Generator, Iterator, Mapping, Sequence
from contextlib import closing, suppress
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa

from hitlab.errors import ReadingError
from hitlab.pitches.cells import Cells, are_numbers, decimals_in, judge, source_cells, split_cells
from hitlab.pitches.coded import in_order_of_rows
from hitlab.pitches.converting import usual
from hitlab.pitches.filling import part_of_games, place_of
from hitlab.pitches.games import labels
from hitlab.pitches.headings import Headings, asked_for, match_headings
from hitlab.pitches.joining import renamed
from hitlab.pitches.kept_blocks import KeptBlocks, has_room
from hitlab.pitches.mapping import Mapping as Rules
from hitlab.pitches.matched import has_pattern
from hitlab.pitches.origin import Bounds, Lines, RaggedRow, Source
from hitlab.pitches.preparing import Whole
from hitlab.pitches.reading import dated
from hitlab.pitches.rosters import Roster
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.slips import mended_split
from hitlab.pitches.streams import cut, open_rows, stitched
from hitlab.pitches.telling import TOLD
from hitlab.pitches.textfiles import Plain

__all__ = ["Piece", "Plan", "pieces_of", "plan"]

_OPEN = 2
"""Pieces' worth of rows over which games may be open before the rows are put aside by their games."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Rows of a file that are read by themselves.

    Attributes
    ----------
    number
        From 1.
    first, last
        Numbers of the first and the last of its rows in the file.
    games
        Of the rows between them those of these games; None for all.
    """

    number: int
    first: int
    last: int
    games: frozenset[str] | None = None


@dataclass(slots=True)
class Plan:
    """What is known of a file before it is read.

    Attributes
    ----------
    rows
        Number of its last row.
    pieces
        How it is cut.
    whole
        What the whole of it tells, but for what is carried along.
    numbers
        Name of a column that is carried along -> whether it holds numbers alone; None where it is blank.
    games
        Its games, in the order in which they begin; none where no column tells them.
    again
        Games that come again after others.
    lines, said
        Where every line of a text file went, and sentences about how it was read.
    rules
        The mapping, with the year of the dates.
    plain
        Which of its blocks need no second look, see :class:`hitlab.pitches.textfiles.TextFile`.
    kept
        Its cells, where all are needed and were kept.
    """

    rows: int
    pieces: tuple[Piece, ...]
    whole: Whole
    numbers: Mapping[str, bool | None]
    games: tuple[str, ...]
    again: tuple[str, ...]
    lines: Lines | None
    said: tuple[str, ...]
    rules: Rules
    plain: Plain
    kept: KeptBlocks | None = None


@dataclass(slots=True)
class _Games:
    """Where each game begins and ends, block by block."""

    codes: dict[str, int] = field(default_factory=dict)
    first: list[int] = field(default_factory=list)
    last: list[int] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    runs: list[int] = field(default_factory=list)
    now: int = -1

    def take(self, codes: np.ndarray, names: Sequence[str], rows: np.ndarray) -> None:
        """Take the games of some rows; a row without one is with the row before it."""
        told, order = in_order_of_rows(codes, len(names))
        here = [names[place] for place in order.tolist()]
        for name in here:
            if name not in self.codes:
                self.codes[name] = len(self.codes)
                for listed in (self.first, self.last, self.rows, self.runs):
                    listed.append(0)
        known = np.append(np.array([self.codes[name] for name in here], dtype=np.int64), -1)[told]
        filled = np.flatnonzero(known >= 0)
        if not filled.size:
            return
        known, rows = known[filled], rows[filled]
        for code in known[np.flatnonzero(np.append(self.now, known[:-1]) != known)].tolist():
            self.runs[code] += 1
        some, at, many = np.unique(known, return_index=True, return_counts=True)
        ends = rows[::-1][np.unique(known[::-1], return_index=True)[1]]
        of_each = (some.tolist(), rows[at].tolist(), ends.tolist(), many.tolist())
        for code, begin, end, times in zip(*of_each, strict=True):
            self.first[code] = self.first[code] or begin
            self.last[code] = end
            self.rows[code] += times
        self.now = int(known[-1])


class _Survey:
    """What is counted of the columns of a file, block by block."""

    def __init__(self, name: str, rules: Rules, players: Roster | None, year: int | None) -> None:
        self.name = name
        self.given, self.players, self.year = rules, players, year
        self.rules = rules
        self.headings: Headings | None = None
        self.games = _Games()
        self.tells_games = False
        self._counted: set[int] = set()
        self._converted: dict[int, str] = {}
        self._times: dict[int, Counter[str]] = {}
        self._decimals: dict[int, Counter[int]] = {}
        self._numeric: dict[str, set[bool]] = {}

    def asked(self, names: Sequence[str]) -> list[int]:
        """Say which columns are looked at, and refuse a file that cannot be read by the mapping."""
        columns = [pa.array([], pa.string())] * len(names)
        nothing = Source(self.name, pa.table(columns, names=list(names)), np.zeros(0, dtype=np.int64))
        return self._look_at(renamed(nothing, self.given)[0])

    def _look_at(self, source: Source) -> list[int]:
        rules, headings = self.given, match_headings(source, self.given)
        self.headings = headings
        everywhere = any(map(has_pattern, rules.missing))
        for target, place in headings.columns.items():
            by_count = target in ("level", "date") or (target == "club" and self.players is not None)
            if by_count or target in rules.words or (rules.telling and target in TOLD) or everywhere:
                self._counted.add(place)
            if target in COLUMNS and rules.factor(target) != 1.0:
                self._converted[place] = target
        self._counted |= set(headings.split)
        for place in self._counted:
            self._converted.pop(place, None)
        self.tells_games = "game" in headings.targets or bool(rules.games)
        of_games = {place_of("game", headings), *(part_of_games(name, headings) for name in rules.games)}
        of_games |= {place_of("date", headings)} if rules.games else set()
        places = {place for place in of_games if isinstance(place, int)}
        return sorted({*self._counted, *self._converted, *headings.keep.values(), *places})

    def take(self, source: Source) -> None:
        """Count a block."""
        headings = self.headings
        if headings is None:
            self._look_at(source)
            headings = self.headings
            assert headings is not None
        self.rules = dated(self.given, source, self.year)
        cells: dict[int, Cells] = {}

        def at(place: int) -> Cells:
            if place not in cells:
                cells[place] = source_cells(source.columns[place], source.table.column(place))
            return cells[place]

        for place in self._counted:
            counted = self._times.setdefault(place, Counter())
            one = at(place)
            for text, times in zip(one.texts, one.times.tolist(), strict=True):
                if times:
                    counted[text] += times
        for place, target in self._converted.items():
            self._decimals.setdefault(place, Counter()).update(decimals_in(target, at(place), self.rules))
        for name, place in headings.keep.items():
            told = are_numbers(at(place))
            if told is not None:
                self._numeric.setdefault(name, set()).add(told or at(place).numbers is not None)
        if self.tells_games:
            self.games.take(*games_in(source, headings, self.rules, at), source.rows)

    @property
    def whole(self) -> Whole:
        """What the whole tells."""
        decimals = {
            place: usual(np.array(list(found)), np.array(list(found.values())))
            for place, found in self._decimals.items()
            if found
        }
        return Whole(self._times, decimals)

    @property
    def numbers(self) -> dict[str, bool | None]:
        """Which columns that are carried along hold numbers alone."""
        keep = self.headings.keep if self.headings is not None else {}
        told = {name: self._numeric.get(name) for name in keep}
        return {name: None if some is None else some == {True} for name, some in told.items()}


def games_in(
    source: Source, headings: Headings, rules: Rules, at: Callable[[int], Cells]
) -> tuple[np.ndarray, list[str]]:
    """Name the game of each row as reading names it, but for several games of one name.

    Parameters
    ----------
    source, headings, rules
        The rows, and how they are read.
    at
        Cells of a column by its place.

    Returns
    -------
    tuple
        For each row the place of its game among the names, -1 for none; and the names.
    """
    if "game" in headings.constants:
        return np.zeros(source.table.num_rows, dtype=np.int64), [rules.constants["game"]]
    place = place_of("game", headings)
    if place is not None:
        cells = _cells_of("game", place, headings, rules, at)
        new, names = pd.factorize(judge("game", cells, rules).values)
        return np.asarray(new, dtype=np.int64)[cells.codes], [str(name) for name in names]
    day = place_of("date", headings)
    dates = None
    if day is not None:
        dates = judge("date", _cells_of("date", day, headings, rules, at), rules).series()
    found, missing, _ = labels(source, headings, rules, at, dates)
    found[missing] = None
    codes, names = pd.factorize(pd.Series(found, dtype=object))
    return np.asarray(codes, dtype=np.int64), list(names)


def _cells_of(target: str, place: int, headings: Headings, rules: Rules, at: Callable[[int], Cells]) -> Cells:
    """Give the cells of a column of ours, slips mended, also where its column holds several of ours."""
    split = headings.split.get(place)
    if split is None:
        return at(place)
    cells = mended_split(at(place), split, rules)[0] if rules.mend_slips else at(place)
    return split_cells(cells, split)[0][split.into.index(target)]


def plan(
    path: Path,
    rules: Rules,
    players: Roster | None,
    year: int | None,
    bounds: Bounds,
    rows_a_piece: int,
    beside: Path,
    heard: Callable[[int], object],
) -> Plan | None:
    """Go through a file once.

    Parameters
    ----------
    path
        The file.
    rules, players, year
        The mapping, the roster and the year of the dates.
    bounds
        How much is accepted.
    rows_a_piece
        Rows that a piece has at most, where its games are not longer.
    beside
        A folder in which the cells of a text file may be kept.
    heard
        Is told of the bytes, how many each time.

    Returns
    -------
    Plan or None
        None for a workbook, which is read whole.

    Raises
    ------
    ReadingError
        Where it cannot be read, or cannot be cut.
    """
    survey = _Survey(path.name, rules, players, year)
    rows = many = 0
    kept: KeptBlocks | None = None

    def of_text(names: Sequence[str]) -> Sequence[int]:
        nonlocal kept
        few = survey.asked(names)
        # Of a file of which few columns are needed the others are shown from its own lines.
        if 2 * len(asked_for(names, mapping=rules)) <= len(names):
            return few
        if not has_room(beside, path.stat().st_size):
            return few
        kept = KeptBlocks(beside)
        return range(len(names))

    read = 0

    def listened(size: int) -> None:
        nonlocal read
        read += size
        heard(size)

    with open_rows(
        path, rules, bounds, survey.asked, of_text=of_text, to_show=False, heard=listened
    ) as opened:
        if opened is None:
            return None
        said: list[str] = []
        for block in opened.sources():
            if kept is not None:
                kept.take(block, read)
                read = 0
            source, words = renamed(block, rules)
            said = said or list(words)
            survey.take(source)
            rows = max(rows, int(block.rows.max(initial=0)), *(one.row for one in block.ragged), 0)
            many += len(block.rows) + len(block.ragged)
        if kept is not None:
            kept.close()
        lines = opened.lines
        said += opened.said
        plain = opened.plain
    if many <= rows_a_piece:
        pieces: tuple[Piece, ...] = (Piece(1, 1, rows),)
    else:
        _demand_cut(path, survey, many, rows_a_piece)
        pieces = _pieces(survey.games, rows, rows_a_piece)
    names = list(survey.games.codes)
    again = tuple(name for name, runs in zip(names, survey.games.runs, strict=True) if runs > 1)
    return Plan(
        rows,
        pieces,
        survey.whole,
        survey.numbers,
        tuple(names),
        again,
        lines,
        tuple(said),
        survey.rules,
        plain,
        kept if kept is not None and kept.whole else None,
    )


def _demand_cut(path: Path, survey: _Survey, rows: int, rows_a_piece: int) -> None:
    """Refuse a large file that cannot be cut."""
    whole = (
        f"or read it whole, where memory holds it: rows_a_piece={rows}, or hitlab read {path} --save "
        "season.parquet"
    )
    many = f"{path} has {rows:,} rows, more than the {rows_a_piece:,} of a piece"
    if not survey.tells_games:
        raise ReadingError(
            f"{many}, and it is cut where the game changes, but no column tells the game. Say in the mapping "
            f'which does, [columns] "its name in the source" = "game", or what makes a game: [games] from = '
            f'["date", "Opponent"]; {whole}'
        )
    if survey.given.fill_down:
        raise ReadingError(
            f"{many}, and fill_down takes cells from rows above, which may be in another piece. Fill the "
            f"blanks in the file itself; {whole}"
        )


def _pieces(games: _Games, rows: int, rows_a_piece: int) -> tuple[Piece, ...]:
    """Cut the rows where no game is open; by the games where that comes too rarely."""
    order = np.argsort(games.first, kind="stable")
    first, last = np.array(games.first)[order], np.array(games.last)[order]
    until = np.maximum.accumulate(np.append(0, last[:-1])) if len(last) else last
    begins = np.flatnonzero(first > until)
    begins = begins[1:] if len(begins) else begins  # before the first game is no place to cut
    edges = [1, *first[begins].tolist(), rows + 1]
    found: list[Piece] = []
    at = 0
    while edges[at] <= rows:
        end = at + 1
        while end + 1 < len(edges) and edges[end + 1] - edges[at] <= rows_a_piece:
            end += 1
        begin, stop = edges[at], edges[end]
        at = end
        inside = [int(code) for code in order if begin <= games.first[code] < stop]
        if stop - begin <= _OPEN * rows_a_piece or len(inside) < 2:
            found.append(Piece(len(found) + 1, begin, stop - 1))
            continue
        names = list(games.codes)
        for some in _packed(inside, games.rows, rows_a_piece):
            found.append(Piece(len(found) + 1, begin, stop - 1, frozenset(names[code] for code in some)))
    return tuple(found)


def _packed(games: Sequence[int], rows: Sequence[int], rows_a_piece: int) -> list[list[int]]:
    """Put games together, in their order, to no more rows than a piece has."""
    packs: list[list[int]] = [[]]
    held = 0
    for game in games:
        if packs[-1] and held + rows[game] > rows_a_piece:
            packs.append([])
            held = 0
        packs[-1].append(game)
        held += rows[game]
    return packs


def pieces_of(
    path: Path,
    found: Plan,
    bounds: Bounds,
    wanted: Collection[int],
    asked: Callable[[Sequence[str]], Sequence[int]],
    beside: Path,
    heard: Callable[[int], object],
) -> Iterator[tuple[Piece, Source]]:
    """Give pieces of a file, one after the other.

    Parameters
    ----------
    path
        The file.
    found
        What is known of it.
    bounds
        How much is accepted.
    wanted
        Numbers of the pieces that are needed.
    asked
        Gives the columns that are needed.
    beside
        A folder in which rows may be put aside meanwhile.
    heard
        Is told of the bytes, how many each time.

    Raises
    ------
    ReadingError
        Where it cannot be read, or rows cannot be put aside.
    """
    stretches: dict[tuple[int, int], list[Piece]] = {}
    for piece in found.pieces:
        stretches.setdefault((piece.first, piece.last), []).append(piece)
    waiting = [(ends, some) for ends, some in stretches.items() if {one.number for one in some} & {*wanted}]
    by_game = any(one.games is not None for _, some in waiting for one in some)
    # Rows that are put aside go with all of their cells.
    needed = None if by_game else asked
    buffer: list[Source] = []
    apart: _Apart | None = None
    with closing(_again(path, found, bounds, needed, beside, heard)) as blocks:
        for block in blocks:
            source = renamed(block, found.rules)[0]
            reached = max([int(source.rows.max(initial=0)), *(one.row for one in source.ragged)])
            while waiting:
                (first, last), some = waiting[0]
                here = cut(source, first, last)
                if len(here.rows) or here.ragged:
                    if some[0].games is None:
                        buffer.append(here)
                    else:
                        apart = apart or _Apart(some, found.rules, beside)
                        apart.take(here)
                if reached < last:
                    break
                waiting.pop(0)
                if apart is not None:
                    for piece, back in apart.pieces():
                        if piece.number in wanted:
                            yield piece, back
                    apart = None
                elif buffer:
                    yield some[0], _emptied(buffer)
        if waiting:
            raise ReadingError(f"{path} was changed while it was read. Read it again.")


def _emptied(buffer: list[Source]) -> Source:
    """Put blocks together, and keep none: else their cells are twice in memory while they are judged."""
    blocks = buffer.copy()
    buffer.clear()
    return stitched(blocks)


def _again(
    path: Path,
    found: Plan,
    bounds: Bounds,
    needed: Callable[[Sequence[str]], Sequence[int]] | None,
    beside: Path,
    heard: Callable[[int], object],
) -> Generator[Source, None, None]:
    """Give the blocks of a file a second time, from what was kept of it or else from itself."""
    if found.kept is not None:
        try:
            for block, size in found.kept.blocks():
                yield block
                heard(size)
        except (OSError, pa.ArrowException) as error:
            raise ReadingError(
                f"What was kept in {beside} of {path} cannot be read again: {error}. Read it again."
            ) from error
        return
    with open_rows(path, found.rules, bounds, needed, heard=heard, plain=found.plain) as opened:
        assert opened is not None
        yield from opened.sources()


class _Apart:
    """Rows on the disk, those of each piece by themselves.

    Parameters
    ----------
    pieces
        The pieces, by their games.
    rules
        How the rows are read.
    beside
        The folder.
    """

    def __init__(self, pieces: Sequence[Piece], rules: Rules, beside: Path) -> None:
        self._pieces, self._rules, self._beside = pieces, rules, beside
        self._of = {game: place for place, one in enumerate(pieces) for game in one.games or ()}
        self._writers: dict[int, Any] = {}
        self._now = 0
        self._like: Source | None = None
        self._names: list[str] = []

    def _path(self, place: int, what: str) -> Path:
        return self._beside / f"apart-{place}.{what}"

    def take(self, source: Source) -> None:
        """Put rows aside; what is no row, and a row without a game, goes with the row before it."""
        from pyarrow import parquet

        headings = match_headings(source, self._rules)
        self._like = self._like or source

        def at(place: int) -> Cells:
            return source_cells(source.columns[place], source.table.column(place))

        codes, games = games_in(source, headings, self._rules, at)
        told = np.array([*(self._of.get(game, -1) for game in games), -1], dtype=np.int64)[codes]
        last = np.maximum.accumulate(np.where(told >= 0, np.arange(len(told)), -1))
        to = np.where(last >= 0, told[np.maximum(last, 0)], self._now)
        lines = None if source.lines is None else source.lines(source.rows)
        lines = np.zeros(len(source.rows), dtype=np.int64) if lines is None else lines
        names = [str(place) for place in range(len(source.columns))]
        table = source.table.rename_columns(names)
        plain = [
            column.cast(column.type.value_type) if pa.types.is_dictionary(column.type) else column
            for column in table.columns
        ]
        table = pa.table(plain, names=names)
        table = table.append_column("row", pa.array(source.rows)).append_column("line", pa.array(lines))
        try:
            for place in np.unique(to).tolist():
                some = table.filter(pa.array(to == place))
                if place not in self._writers:
                    self._writers[place] = parquet.ParquetWriter(
                        self._path(place, "rows"), some.schema, compression="lz4"
                    )
                self._writers[place].write_table(some)
            if source.ragged:
                before = np.searchsorted(source.rows, [one.row for one in source.ragged]) - 1
                numbers = np.array([one.row for one in source.ragged], dtype=np.int64)
                of_lines = None if source.lines is None else source.lines(numbers)
                of_lines = np.zeros(len(numbers), dtype=np.int64) if of_lines is None else of_lines
                for one, row, line in zip(source.ragged, before.tolist(), of_lines.tolist(), strict=True):
                    place = int(to[row]) if row >= 0 else self._now
                    with self._path(place, "lines").open("a", encoding="utf-8") as file:
                        file.write(json.dumps([asdict(one), line]) + "\n")
        except OSError as error:
            raise _no_room(self._beside, error) from error
        self._now = int(to[-1]) if len(to) else self._now

    def pieces(self) -> Iterator[tuple[Piece, Source]]:
        """Give the pieces."""
        from pyarrow import parquet

        like = self._like
        assert like is not None
        try:
            for writer in self._writers.values():
                writer.close()
        except OSError as error:
            raise _no_room(self._beside, error) from error
        for place, piece in enumerate(self._pieces):
            ragged, of_ragged = self._ragged(place)
            if place in self._writers:
                table = parquet.read_table(self._path(place, "rows"))
            else:
                table = pa.table({"row": pa.array([], pa.int64()), "line": pa.array([], pa.int64())})
            rows, lines = (table.column(name).to_numpy() for name in ("row", "line"))
            cells = table.select(table.column_names[:-2])
            cells = pa.table(
                [
                    column.dictionary_encode() if column.type == pa.string() else column
                    for column in cells.columns
                ],
                names=cells.column_names,
            ).unify_dictionaries()
            order = np.argsort(numbers := np.append(rows, [one.row for one in ragged]), kind="stable")
            known, at = numbers[order].astype(np.int64), np.append(lines, of_ragged)[order]

            def find(some: np.ndarray, known: np.ndarray = known, at: np.ndarray = at) -> np.ndarray:
                return np.asarray(at[np.searchsorted(known, some)], dtype=np.int64)

            yield (
                piece,
                replace(
                    like,
                    table=cells.rename_columns(like.columns)
                    if place in self._writers
                    else like.table.slice(0, 0),
                    rows=rows,
                    lines=None if like.lines is None else find,
                    ragged=tuple(ragged),
                    original=None,
                ),
            )
            for what in ("rows", "lines"):
                with suppress(OSError):
                    self._path(place, what).unlink(missing_ok=True)

    def _ragged(self, place: int) -> tuple[list[RaggedRow], list[int]]:
        path = self._path(place, "lines")
        if not path.exists():
            return [], []
        told = [json.loads(line) for line in path.read_text("utf-8").splitlines()]
        rows = [RaggedRow(**{**one, "cells": tuple(one["cells"])}) for one, _ in told]
        return rows, [line for _, line in told]


def _no_room(folder: Path, error: OSError) -> ReadingError:
    return ReadingError(
        f"Rows cannot be put aside in {folder}: {error.strerror or error}. The games of the file come again "
        "after others, so that as much room as the file takes is needed there"
    )
