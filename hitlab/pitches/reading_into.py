"""Files of more pitches than memory holds, read into a folder of saved tables.

Each file becomes one saved table or, where it is large, several: pieces of so many rows, cut where no game is
open (:mod:`hitlab.pitches.pieces`), so that a game stands in one of them. Together they are what
:func:`hitlab.pitches.open_checked` opens as one table.

What is decided of a file is decided once, not piece by piece. From its names of columns: which column fills
which of ours. From all of its rows, which are gone through before any is judged: how a text file is written,
which levels are slips, with how many decimals the numbers of a column in another unit are written, whether a
column carried along holds numbers, whether its days are of years that no charted game has, and which words of
the mapping ever occur. From the rows of a game, as always: whether its numbers begin with 0, which pitches
are repeated, which result is the last pitch's. From the rows of a piece alone is told what changes no cell:
sentences about blanks, speeds of two units, names that look alike, and in what order rows without numbers
stand; each names the rows that it is of. Opening the folder says again of the whole what is odd about its
names, days and speeds. Several files are decided one by one, as if each were read by itself.

A piece that is read lies in the hidden folder ``.hitlab-reading`` within the folder until all of them are
there; then they are put in their places, in a moment. So whoever opens the folder meanwhile finds what was
there before, and never half of a season; the moment itself is marked, and who opens the folder after a crash
within it is told. Each part knows what it was read from: the file's name, its SHA-256, which piece, the rows
and lines, and by which mapping. A reading that was stopped goes on where a piece is missing; a file that was
changed is read anew, and what came of it before is replaced, which is said. What came of a file that is not
named any more stays, and that is said, too.

Rows set aside are written piece by piece, too, beside the pieces, and stay there: a table of them can be made
at any time (``set_aside=``) without reading anything again.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import partial
from io import BufferedReader
from pathlib import Path
from typing import Any, BinaryIO, cast

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError
from hitlab.locking import held
from hitlab.pitches.coded import looked_through_once
from hitlab.pitches.doubts import said_of_parts
from hitlab.pitches.files import open_file, unreadable
from hitlab.pitches.gathering import files_of, names_of
from hitlab.pitches.headings import asked_for
from hitlab.pitches.mapping import Mapping as Rules
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.origin import LARGEST_CELL, Bounds, Lines, Source
from hitlab.pitches.parts import Part as OfReading
from hitlab.pitches.parts import part_of
from hitlab.pitches.pieces import Piece, Plan, pieces_of, plan
from hitlab.pitches.preparing import Whole
from hitlab.pitches.proposing import refuse_shares, said_of_share
from hitlab.pitches.reading import dated, read_rows
from hitlab.pitches.regular import regular
from hitlab.pitches.report import HALF_EMPTY, MOST_SET_ASIDE, SOME_SET_ASIDE, Reading
from hitlab.pitches.rosters import Roster, load_roster
from hitlab.pitches.schema import SCHEMA_VERSION
from hitlab.pitches.sealing import seal, verify
from hitlab.pitches.season_folder import MOVING, WORK, PartsOfOne, saved_in, tables_in
from hitlab.pitches.sources import checked_to_arrow
from hitlab.pitches.storing import demand_checked, is_checked, stamp_of, version_in, write_parts
from hitlab.results import Part, Points, Result, table_as_csv
from hitlab.showing import shown_name
from hitlab.wording import listed
from hitlab.writing import (
    STANDARD_INPUT,
    AnyPath,
    check_outputs,
    make_folder,
    make_sure_of_the_name,
    safe_name,
    write_file,
)

__all__ = ["ROWS_A_PIECE", "FolderReading", "Progress", "read_into"]

ROWS_A_PIECE = 200_000
"""Rows that a piece has at most, where its games are not longer (a default): with 39 columns a process that
reads such pieces stays below a gigabyte, and larger ones are read no faster."""

_PIECE = "hitlab_piece"
_NUMBER = re.compile(r"\.[0-9]+\Z")  # of one of several parts; no name made of a file's has a dot
_TEXT_ENDING = ".csv"
_SAID_EVERY = 0.2  # seconds between two reports of progress, but for the last


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a reading is.

    Attributes
    ----------
    file
        Name of the file that is read.
    rows
        Rows of all files that were read so far.
    share
        Part of the work that is done, from 0 to 1; as far as it is known.
    rows_a_second
        Rows that were read in a second, since the beginning.
    seconds_left
        Seconds that the rest will take, if it goes on like that.
    """

    file: str
    rows: int
    share: float
    rows_a_second: float
    seconds_left: float


@dataclass(frozen=True, eq=False, slots=True)
class FolderReading(Result):
    """What was read into a folder; made by :func:`read_into`.

    Attributes
    ----------
    folder
        The folder, which :func:`hitlab.pitches.open_checked` opens.
    data
        One line for each piece: ``file``, ``piece``, rows from ``first_row`` to ``last_row``, lines from
        ``first_line`` to ``last_line`` (text files only), rows ``read``, ``kept``, ``set_aside``, ``saved``
        as (the part's name; empty where no row was kept), ``by_game`` (whether it has not all rows between
        them, but those of its games) and ``was_there`` (whether an earlier reading had read it).
    lines
        Name of each text file -> where every line of it went.
    values_made_missing
        Cells that could not be used in rows that were kept.
    reasons, set_aside_for
        ``column: reason`` -> how often, as in :class:`hitlab.pitches.Report`.
    words
        Every word seen in every word and flag column, as there.
    contradictions
        Check -> how often columns contradict each other.
    alerts, questions, assumed, cannot_tell
        Sentences as there. What is of some pieces alone begins with which.
    examples, used, unused
        As there, by the first file in which they occur.
    """

    folder: Path
    data: pd.DataFrame
    lines: Mapping[str, Lines]
    values_made_missing: int
    reasons: Mapping[str, int]
    set_aside_for: Mapping[str, int]
    words: pd.DataFrame
    contradictions: Mapping[str, int]
    alerts: tuple[str, ...]
    questions: tuple[str, ...]
    assumed: tuple[str, ...]
    cannot_tell: tuple[str, ...]
    examples: Mapping[str, str]
    used: Mapping[str, str]
    unused: tuple[str, ...]

    @property
    def rows_read(self) -> int:
        """Rows of all files."""
        return int(self.data["read"].sum())

    @property
    def rows_kept(self) -> int:
        """Rows in the saved tables."""
        return int(self.data["kept"].sum())

    @property
    def rows_set_aside(self) -> int:
        """Rows that could not be used at all."""
        return int(self.data["set_aside"].sum())

    @property
    def title(self) -> str:
        """What was read, in a line."""
        files, parts = self.data["file"].nunique(), int((self.data["saved"] != "").sum())
        return (
            f"{_many(files, 'file')} in {_many(parts, 'part')}: {_many(self.rows_read, 'row')} read, "
            f"{self.rows_kept:,} kept, {self.rows_set_aside:,} set aside; {self.values_made_missing:,} "
            "values made missing in others"
        )

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of."""
        parts: list[Part] = [Points(self.title)]
        if self.alerts:
            parts.append(Points("Look at this first", self.alerts))
        lines = []
        for one in self.data.to_dict("records"):
            there = ", as read before" if one["was_there"] else ""
            lines.append(
                f"{_piece_name(one['file'], one)}: {one['kept']:,} of {_many(one['read'], 'row')} kept"
                f"{', saved as ' + one['saved'] if one['saved'] else ''}{there}"
            )
        parts.append(Points("Pieces", tuple(lines)))
        said = tuple(f"{name}: {found.sentence()}" for name, found in self.lines.items())
        if said:
            parts.append(Points("Lines", said))
        if self.questions:
            asked = tuple(line for question in self.questions for line in question.split("\n"))
            parts.append(Points("Questions that the mapping has to answer", asked))
        if self.reasons:
            lines = []
            for reason, count in self.reasons.items():
                lines.append(f"{reason}: {count:,}")
                if reason in self.examples:
                    lines.append(f"  such as {self.examples[reason]}")
            parts.append(Points("What could not be used", tuple(lines)))
        used = [one if one == source else f"{one} from {source}" for one, source in self.used.items()]
        parts.append(Points("Columns used", (", ".join(used),)))
        if self.unused:
            parts.append(Points("Columns not used", (", ".join(self.unused),)))
        for heading, sentences in (
            ("Assumed", self.assumed),
            ("What these tables cannot tell", self.cannot_tell),
        ):
            if sentences:
                parts.append(Points(heading, sentences))
        if self.contradictions:
            lines = [f"{check}: {many:,}" for check, many in self.contradictions.items()]
            parts.append(Points("Columns that contradict each other (nothing was changed)", tuple(lines)))
        return parts


def _many(number: int, what: str) -> str:
    return f"{number:,} {what}{'' if number == 1 else 's'}"


def read_into(
    files: Any,
    folder: AnyPath,
    mapping: str | os.PathLike[str] | Mapping[str, Any] | Rules | None = None,
    *,
    roster: Any = None,
    year: int | None = None,
    rows_a_piece: int = ROWS_A_PIECE,
    largest_cell: int = LARGEST_CELL,
    most_set_aside: float = SOME_SET_ASIDE,
    most_empty: float = HALF_EMPTY,
    set_aside: AnyPath | None = None,
    progress: Callable[[Progress], object] | None = None,
) -> FolderReading:
    r"""Read files of any number of pitches into a folder of saved tables; what is read already stays.

    Parameters
    ----------
    files
        Path of a text file, a workbook, a Parquet or a Feather/Arrow file, or of a folder of them; or a list
        of such paths. Each is read twice, so that the standard input is none.
    folder
        Where the saved tables go; it is made where it is not there. Saved tables that are in it and came of
        none of the files stay. While text files are read their cells lie in it, too, in about two thirds of
        the files' room; where that is more than a quarter of what is free they are taken apart twice.
    mapping, roster, year, largest_cell, most_set_aside, most_empty
        As for :func:`hitlab.read_pitches`.
    rows_a_piece
        Rows that a saved table has at most, unless a game is longer. Memory goes with it.
    set_aside
        A .csv file into which all is written that was set aside or made missing.
    progress
        Is called with how far the reading is (:class:`Progress`).

    Returns
    -------
    FolderReading
        Every row and every line of every file is in one piece of it.

    Raises
    ------
    ReadingError
        Where a file, the mapping or the folder cannot be used, a file was changed meanwhile, most rows of one
        are set aside, or what is in the folder and what was read cannot be opened as one table: as where a
        game stands in two files, or pitches tell no game. The folder is then as it was; pieces that were read
        are kept, and need not be read again.

    Examples
    --------
    >>> import tempfile
    >>> from hitlab import tally
    >>> with tempfile.TemporaryDirectory() as name:
    ...     week = Path(name) / "week.csv"
    ...     rows = ["game,hitter,outcome"]
    ...     rows += [f"g{game},Ada Frusk,{word}" for game in range(3) for word in ("ball", "whiff")]
    ...     _ = week.write_text("\n".join(rows))
    ...     found = read_into(week, Path(name) / "season", rows_a_piece=4)
    ...     print(found.data[["first_row", "last_row", "kept", "saved"]].to_string(index=False))
    ...     print(tally(Path(name) / "season").table()[["hitter", "swings"]].to_string(index=False))
     first_row  last_row  kept            saved
             1         4     4 week.001.parquet
             5         6     2 week.002.parquet
       hitter  swings
    Ada Frusk       3
    """
    if rows_a_piece < 1:
        raise ReadingError(f"rows_a_piece={rows_a_piece}: a piece has at least one row.")
    refuse_shares(most_set_aside=most_set_aside, most_empty=most_empty)
    target = Path(folder)
    if target.exists() and not target.is_dir():
        raise ReadingError(f"{target} is a file, not a folder. Name a folder for the saved tables.")
    paths, left_out = _paths(files, target, roster)
    outputs = {} if set_aside is None else {"set_aside=": set_aside}
    if set_aside is not None and Path(set_aside).suffix.lower() != _TEXT_ENDING:
        raise ReadingError(
            f"{set_aside}: rows set aside of many pitches are saved as .csv; end the name with it."
        )
    if set_aside is not None and _is_within(set_aside, target):
        raise ReadingError(
            f"{set_aside} is in the folder of the saved tables, and would be taken for one of them. Name a "
            "file in another folder."
        )
    rules, players = load_mapping(mapping), load_roster(roster)
    check_outputs(outputs, inputs=(*paths, *_paths_among(mapping, roster)))
    make_folder(target)
    work = _work(target)
    with held(work / "folder", wait_seconds=1.0, called=target):
        reader = _Reader(
            target, rules, players, year, rows_a_piece, largest_cell, most_set_aside, most_empty, progress
        )
        said = [f"{one.name} was left out: {one.reason}." for one in left_out]
        try:
            return reader.read(paths, said, set_aside)
        finally:
            reader.tidy()


def _paths(files: Any, folder: Path, roster: Any) -> tuple[dict[Path, str], list[Any]]:
    """Files that are read, each with what it is called."""
    given = list(files) if isinstance(files, list | tuple) else [files]
    if not given:
        raise ReadingError("An empty list of files was given. Name the files.")
    for one in given:
        if not isinstance(one, str | os.PathLike):
            raise ReadingError(
                f"A {type(one).__name__} cannot be read into a folder: name files. A table in memory is "
                "saved with write_checked."
            )
        if os.fspath(one) == STANDARD_INPUT:
            raise ReadingError(
                "The standard input can be read once only, and files are read twice. Save it as a file first."
            )
        if os.path.realpath(one) == os.path.realpath(folder):
            raise ReadingError(
                f"{one} is the folder that is read into. Name another one for the saved tables."
            )
    paths, left_out = files_of(given, aside=(roster,))
    saved = [
        path for path in paths if path.suffix.lower() == ".parquet" and path.is_file() and is_checked(path)
    ]
    if saved:
        raise ReadingError(
            f"{saved[0]} is saved and checked already, and is not read again. Put it into the folder as it "
            "is."
        )
    return names_of(paths), [one for one in left_out if not one.meant]


def _paths_among(*some: Any) -> list[Any]:
    return [one for one in some if isinstance(one, str | os.PathLike)]


def _is_within(path: AnyPath, folder: Path) -> bool:
    return Path(os.path.realpath(path)).is_relative_to(os.path.realpath(folder))


def _work(folder: Path) -> Path:
    work = folder / WORK
    if work.is_symlink() or (work.exists() and not work.is_dir()):
        raise ReadingError(f"{work} is no folder of hitlab's own. Take it away.")
    try:
        work.mkdir(mode=0o700, exist_ok=True)  # names and days of what was set aside are in it
    except OSError as error:
        raise ReadingError(
            f"{folder} cannot be written into: {error.strerror or error}. Name a folder that is yours."
        ) from error
    return work


@dataclass(frozen=True, slots=True)
class _Read:
    """A piece that is read.

    Attributes
    ----------
    told
        What is known of it: where it is from, what was found.
    path
        The saved table; None where no row was kept.
    aside
        The table of what was set aside.
    was_there
        Whether an earlier reading read it.
    """

    told: dict[str, Any]
    path: Path | None
    aside: Path
    was_there: bool


class _Reader:
    """Reads files into one folder; whoever makes it holds the lock."""

    def __init__(
        self,
        folder: Path,
        rules: Rules,
        players: Roster | None,
        year: int | None,
        rows_a_piece: int,
        largest_cell: int,
        most_set_aside: float,
        most_empty: float,
        progress: Callable[[Progress], object] | None,
    ) -> None:
        self.folder, self.work = folder, folder / WORK
        self.rules, self.players, self.year = rules, players, year
        self.rows_a_piece = rows_a_piece
        self.bounds = Bounds(2**62, largest_cell)
        self.most_set_aside, self.most_empty = most_set_aside, most_empty
        self.clock = _Clock(progress)
        told = (
            replace(rules, name=""),
            players and players.players,
            year,
            rows_a_piece,
            largest_cell,
            most_set_aside,
            most_empty,
        )
        self.how = hashlib.sha256(
            json.dumps([SCHEMA_VERSION, [_plain(one) for one in told]]).encode()
        ).hexdigest()
        self.notes: list[str] = []
        self.damaged: set[Path] = set()
        self.changed: dict[Path, dict[str, Any]] = {}
        self.numeric: dict[str, bool] = {}

    def read(self, paths: dict[Path, str], left_out: list[str], set_aside: AnyPath | None) -> FolderReading:
        """Read all, put the parts in their places, and say what was found."""
        self.tidy()
        if os.path.exists(self.folder / MOVING):
            self._finish_moving()
        if saved_in(self.folder):
            tables_in(self.folder)  # says which table there is none that is saved
        there = self._there()
        files = [_File(path, name) for path, name in paths.items()]
        self._demand_as_read(files)
        self.clock.begin(sum(one.size for one in files))
        stems = self._stems(files, there)
        plans = {one.path: self._planned(one, stems[one.path]) for one in files}
        self._settle_kinds(files, plans, stems)
        self._demand_apart(files, plans, there)
        read: dict[Path, list[_Read]] = {}
        for one in files:
            read[one.path] = self._pieces(one, stems[one.path], plans[one.path], there)
            one.demand_same()
        for one in files:
            self._demand_understood(one, read[one.path])
        gone = self._superseded(files, read, there)
        self._demand_one_table(read, gone)
        self._move(read, gone)
        self._say_of_others(files, there, gone)
        every = [piece for some in read.values() for piece in some]
        if set_aside is not None:
            _write_set_aside(set_aside, every, several=len(files) > 1, inputs=list(paths))
        self.clock.end()
        return self._found(files, every, left_out)

    def tidy(self) -> None:
        """Take away what was put aside while files were read."""
        for old in self.work.glob("apart-*"):
            with suppress(OSError):
                old.unlink()

    def _there(self) -> dict[Path, dict[str, Any]]:
        """Give the parts in the folder that a reading wrote; refuse others that are no whole saved tables."""
        there = {}
        for path in saved_in(self.folder):
            told = _told_of(path)
            if told is None:
                # What was set aside with it tells what it was.
                before = _told_of(self.work / f"{path.name}.aside") if path.parent == self.folder else None
                try:
                    with regular(path) as file:
                        demand_checked(file, path)
                except ReadingError:
                    if before is None:
                        raise
                    told = before
                    self.damaged.add(path)
                else:
                    self.changed |= {} if before is None else {path: before}
            if told is not None:
                there[path] = told
        return there

    def _demand_as_read(self, files: Sequence[_File]) -> None:
        """Refuse to read a file anew into a part that was given other pitches since."""
        for path, before in self.changed.items():
            for one in files:
                if one.name == before["source"] or one.sha256 == before["sha256"]:
                    raise ReadingError(
                        f"{path} was changed after {shown_name(one.name)} was read into it, as by hitlab "
                        "add: to read that anew would take away what was added. Read it into another folder; "
                        f"or take {path.name} away, where nothing in it is needed."
                    )

    def _stems(self, files: Sequence[_File], there: Mapping[Path, dict[str, Any]]) -> dict[Path, str]:
        """Names of the parts of each file, but for their numbers; the same as before where it was read."""
        names = {one.name for one in files}
        before = {told["source"]: told["stem"] for told in there.values()}
        # A file that was given another name is known by what is in it.
        of_sums = {told["sha256"]: told["stem"] for told in there.values() if told["source"] not in names}
        found = {one.path: before.get(one.name) or of_sums.get(one.sha256, "") for one in files}
        others = {_NUMBER.sub("", path.stem) for path in saved_in(self.folder) if path not in there}
        taken = {stem.casefold() for stem in (*others, *before.values())}
        for one in files:
            found[one.path] = found[one.path] or safe_name(Path(one.name).stem, taken)
        return found

    def _known(self, one: _File, stem: str) -> dict[int, _Read]:
        """Pieces of a file that were read before, by their numbers, as far as they are whole."""
        found: dict[int, _Read] = {}
        for aside in sorted(self.work.glob("*.aside")):
            told = _told_of(aside)
            if told is None or (told["sha256"], told["how"], told["stem"]) != (one.sha256, self.how, stem):
                continue
            path = None
            if told["rows_kept"]:
                name = _part_name(told)
                places = [place for place in (self.work / name, self.folder / name) if place.exists()]
                path = next((place for place in places if _told_of(place) == told), None)
                if path is None:
                    continue
            found[told["piece"]] = _Read({**told, "source": one.name}, path, aside, was_there=True)
        return found

    def _planned(self, one: _File, stem: str) -> Plan | None:
        """Go through a file, unless all of its pieces are there."""
        known = self._known(one, stem)
        if known and len(known) == next(iter(known.values())).told["pieces"]:
            one.known = known
            self.clock.passed(2 * one.size)
            return None
        found = self._gone_through(one)
        if found is not None:
            one.known = {
                piece.number: known[piece.number]
                for piece in found.pieces
                if piece.number in known
                and (known[piece.number].told["first_row"], known[piece.number].told["last_row"])
                == (piece.first, piece.last)
                and known[piece.number].told["pieces"] == len(found.pieces)
            }
        return found

    def _gone_through(self, one: _File) -> Plan | None:
        self.clock.now(one.name)
        found = plan(
            one.path,
            self.rules,
            self.players,
            self.year,
            self.bounds,
            self.rows_a_piece,
            self.work,
            self.clock.heard,
        )
        one.whole_file = found is None
        return found

    def _settle_kinds(
        self, files: Sequence[_File], plans: dict[Path, Plan | None], stems: Mapping[Path, str]
    ) -> None:
        """Decide of all files together which columns that are carried along hold numbers."""
        for one in files:
            found = plans[one.path]
            if found is not None:
                one.numbers = dict(found.numbers)
            elif one.known:
                one.numbers = next(iter(one.known.values())).told["numbers"]
        told: dict[str, set[bool]] = {}
        for one in files:
            for name, numbers in one.numbers.items():
                told.setdefault(name, set()).update([] if numbers is None else [numbers])
        self.numeric = {name: some == {True} for name, some in told.items()}
        for one in files:
            known = one.known.values()
            differs = {piece.told["piece"] for piece in known if piece.told["numeric"] != self._numeric(one)}
            if differs and plans[one.path] is None:
                plans[one.path] = self._gone_through(one)
            one.known = {number: piece for number, piece in one.known.items() if number not in differs}

    def _numeric(self, one: _File) -> dict[str, bool]:
        return {name: self.numeric[name] for name in one.numbers}

    def _demand_apart(
        self, files: Sequence[_File], plans: Mapping[Path, Plan | None], there: Mapping[Path, dict[str, Any]]
    ) -> None:
        """Refuse a game that two files have, before any is read."""
        of: dict[str, str] = {}
        for one in files:
            found = plans[one.path]
            for game in found.games if found is not None else ():
                if of.setdefault(game, one.name) != one.name:
                    raise ReadingError(
                        f"The game {shown_name(game)} stands in {shown_name(of[game])} and in "
                        f"{shown_name(one.name)}: its pitches would count twice. Where it is one game, put "
                        "the two files into one, or leave one out; where they are two, name them apart, as "
                        'by [games] from = ["date", "file"] in the mapping.'
                    )

    def _pieces(
        self, one: _File, stem: str, found: Plan | None, there: Mapping[Path, dict[str, Any]]
    ) -> list[_Read]:
        if found is None and not one.whole_file:
            return [one.known[number] for number in sorted(one.known)]
        if found is None:
            return [self._workbook(one, stem)]
        wanted = [piece.number for piece in found.pieces if piece.number not in one.known]
        if found.again and len(found.pieces) > 1:
            several = len(found.again) > 1
            self.notes.append(
                f"{shown_name(one.name)}: {_many(len(found.again), 'game')} "
                f"{'come' if several else 'comes'} again after others, such as {shown_name(found.again[0])}; "
                "all pitches of one are in one part."
            )
        read = dict(one.known)
        if wanted:
            asked = partial(asked_for, mapping=found.rules)
            self.clock.now(one.name)
            pieces = pieces_of(one.path, found, self.bounds, wanted, asked, self.work, self.clock.heard)
            # While one is written, the next is judged.
            with ThreadPoolExecutor(1) as beside:
                writing: Future[_Read] | None = None
                for piece, source in pieces:
                    if piece.number in wanted:
                        write = self._judged(one, stem, found, piece, source)
                        del source  # what is written needs its cells no more, and memory does
                        self._finish(writing, read)
                        writing = beside.submit(write)
                        del write
                self._finish(writing, read)
        else:
            self.clock.passed(one.size)
            if found.kept is not None:
                found.kept.drop()
        if sum(piece.told["rows_read"] for piece in read.values()) and len(read) < len(found.pieces):
            raise ReadingError(f"{one.path} was changed while it was read. Read it again.")
        return [read[number] for number in sorted(read)]

    def _workbook(self, one: _File, stem: str) -> _Read:
        self.clock.now(one.name)
        source = open_file(one.path, self.rules, Bounds(largest_cell=self.bounds.largest_cell))
        rules = dated(self.rules, source, self.year)
        numbers = [*source.rows.tolist(), *(row.row for row in source.ragged)]
        piece = Piece(1, min(numbers, default=1), max(numbers, default=1))
        found = Plan(piece.last, (piece,), Whole(), {}, (), (), source.lines_read, (), rules, {})
        self.clock.passed(2 * one.size)
        read = self._judged(one, stem, found, piece, source)()
        self.clock.saw(read.told["rows_read"])
        return read

    def _finish(self, writing: Future[_Read] | None, read: dict[int, _Read]) -> None:
        """Wait for a piece that is written."""
        if writing is not None:
            piece = writing.result()
            read[piece.told["piece"]] = piece
            self.clock.saw(piece.told["rows_read"])

    def _judged(
        self, one: _File, stem: str, found: Plan, piece: Piece, source: Source
    ) -> Callable[[], _Read]:
        """Judge a piece; give what writes it."""
        with looked_through_once():
            return self._looked_through(one, stem, found, piece, source)

    def _looked_through(
        self, one: _File, stem: str, found: Plan, piece: Piece, source: Source
    ) -> Callable[[], _Read]:
        reading = read_rows(
            source,
            found.rules,
            self.players,
            most_set_aside=self.most_set_aside,
            most_empty=self.most_empty,
            whole=replace(found.whole, numeric=self._numeric(one)),
            is_piece=len(found.pieces) > 1,
        )
        one.demand_same()
        told = self._told(one, stem, found, piece, source, reading)
        part = None
        if reading.report.rows_kept:
            # One that adds such a file to a season looks at what it has by the files' sums.
            files = [one.sha256] if len(found.pieces) == 1 else []
            part = part_of(reading, source, files, reading.report.seen)
        return partial(self._written, one, told, part, reading)

    def _written(self, one: _File, told: dict[str, Any], part: OfReading | None, reading: Reading) -> _Read:
        """Write a piece that was judged."""
        mark = {_PIECE: json.dumps(told)}
        path = None
        if part is not None:
            path = self.work / _part_name(told)
            table, seen = checked_to_arrow(reading.table), reading.report.seen
            write_parts(table, [part], path, inputs=[one.path], more=mark, seen=seen)
        aside = self.work / f"{_part_name(told)}.aside"
        _write_aside(aside, reading.set_aside, mark)
        return _Read(told, path, aside, was_there=False)

    def _told(
        self, one: _File, stem: str, found: Plan, piece: Piece, source: Source, reading: Reading
    ) -> dict[str, Any]:
        report = reading.report
        ends = None
        if source.lines is not None:
            numbers = np.append(source.rows, [row.row for row in source.ragged]).astype(np.int64)
            by_game = piece.games is not None
            first, last = (numbers.min(), numbers.max()) if by_game else (piece.first, piece.last)
            ends = source.lines(np.array([first, last]))
        share = said_of_share(report.rows_set_aside, report.rows_read, self.most_set_aside)
        lines = found.lines
        counts = report.contradictions["check"].value_counts(sort=False)
        return {
            "source": one.name,
            "sha256": one.sha256,
            "size": one.size,
            "stem": stem,
            "how": self.how,
            "piece": piece.number,
            "pieces": len(found.pieces),
            "by_game": piece.games is not None,
            "first_row": piece.first,
            "last_row": piece.last,
            "first_line": None if ends is None else int(ends[0]),
            "last_line": None if ends is None else int(ends[1]),
            "rows_read": report.rows_read,
            "rows_kept": report.rows_kept,
            "rows_set_aside": report.rows_set_aside,
            "values_made_missing": report.values_made_missing,
            "reasons": report.reasons,
            "set_aside_for": report.set_aside_for,
            "examples": report.examples,
            "words": report.words.astype({"count": int}).to_numpy().tolist(),
            "contradictions": {str(check): int(many) for check, many in counts.items()},
            "alerts": [said for said in report.alerts if said not in share],
            "questions": list(report.questions),
            "assumed": list(report.assumed),
            "cannot_tell": list(report.cannot_tell),
            "used": report.used,
            "unused": list(report.unused),
            "numbers": one.numbers,
            "numeric": self._numeric(one),
            "lines": None
            if lines is None
            else {name.name: getattr(lines, name.name) for name in fields(lines)},
            "said": list(found.said),
        }

    def _demand_understood(self, one: _File, read: Sequence[_Read]) -> None:
        rows, aside = (sum(piece.told[name] for piece in read) for name in ("rows_read", "rows_set_aside"))
        if aside <= MOST_SET_ASIDE * rows:
            return
        why: Counter[str] = Counter()
        for piece in read:
            why.update(piece.told["set_aside_for"])
        reason, many = why.most_common(1)[0]
        such = next((f", such as {one[reason]}" for one in _each(read, "examples") if reason in one), "")
        raise ReadingError(
            f"Most of {one.name} was not understood: {aside:,} of {_many(rows, 'row')} are set aside, "
            f"{many:,} of them for this: {reason}{such}. Nothing of it is put into {self.folder}"
        )

    def _superseded(
        self,
        files: Sequence[_File],
        read: Mapping[Path, Sequence[_Read]],
        there: Mapping[Path, dict[str, Any]],
    ) -> list[Path]:
        """Say which parts of the folder are replaced by what was read."""
        stays = {piece.path for some in read.values() for piece in some}
        names = {one.name: one for one in files}
        stems = {piece.told["stem"] for some in read.values() for piece in some}
        gone = []
        for path, told in there.items():
            if path in stays or (told["source"] not in names and told["stem"] not in stems):
                continue
            gone.append(path)
        for name in dict.fromkeys(there[path]["source"] for path in gone):
            some = [path for path in gone if there[path]["source"] == name]
            one = names.get(name)
            why = "was read in another way before"
            if self.damaged >= set(some):
                why = f"was read before into what is damaged now ({listed([path.name for path in some])})"
            elif one is not None and one.sha256 != there[some[0]]["sha256"]:
                why = "was changed since it was read"
            self.notes.append(
                f"{shown_name(name)} {why}: it was read anew, and {_many(len(some), 'part')} of the folder "
                f"{'was' if len(some) == 1 else 'were'} replaced."
            )
        return gone

    def _demand_one_table(self, read: Mapping[Path, Sequence[_Read]], gone: Sequence[Path]) -> None:
        """Refuse parts that cannot be opened as one table, each as opening the folder would."""
        new = [piece.path for some in read.values() for piece in some if piece.path is not None]
        if not new:
            return
        one = PartsOfOne(self.folder)
        old = [path for path in saved_in(self.folder) if path not in new and path not in gone]
        for path in (*old, *new):
            with regular(path) as file:
                # By the name that it is going to have.
                named = self.folder / path.name if path.parent == self.work else path
                one.take(named, demand_checked(file, path), file)

    def _move(self, read: Mapping[Path, Sequence[_Read]], gone: Sequence[Path]) -> None:
        """Put the parts in their places."""
        new = [piece.path for some in read.values() for piece in some if piece.path is not None]
        here = [path.name for path in new if path.parent == self.work]
        # One of the same name is replaced: it must not go where the moving is finished later.
        gone = [path for path in gone if path.parent != self.folder or path.name not in here]
        if here or gone:
            marked = {"here": here, "gone": [path.relative_to(self.folder).as_posix() for path in gone]}
            write_file(self.folder / MOVING, json.dumps(marked).encode())
            self._finish_moving()
        # What is left there is of files that are no longer as they were.
        stays = {piece.aside for some in read.values() for piece in some}
        stems = {piece.told["stem"] for some in read.values() for piece in some}
        for old in self.work.iterdir():
            if old.suffix not in (".aside", ".parquet") or old in stays:
                continue
            told = _told_of(old)
            if told is None or told["stem"] in stems:
                with suppress(OSError):
                    old.unlink()

    def _finish_moving(self) -> None:
        """Do what the mark of a moving tells and is not yet done; all was found good before it was set."""
        marker = self.folder / MOVING
        try:
            told = json.loads(marker.read_bytes())
            for name in told["gone"]:
                (self.folder / name).unlink(missing_ok=True)
            for name in told["here"]:
                if (self.work / name).exists():
                    os.replace(self.work / name, self.folder / name)
            make_sure_of_the_name(self.folder)
            marker.unlink()
        except OSError as error:
            raise ReadingError(
                f"The parts cannot be put into {self.folder}: {error.strerror or error}. Give the same "
                "command again when they can; what is read already stays."
            ) from error
        except (ValueError, KeyError, TypeError) as error:
            raise ReadingError(
                f"{marker} is damaged, so that which parts of {self.folder} are missing cannot be told. Read "
                "the files into another folder."
            ) from error

    def _say_of_others(
        self, files: Sequence[_File], there: Mapping[Path, dict[str, Any]], gone: Sequence[Path]
    ) -> None:
        names = {one.name for one in files} | {one.sha256 for one in files}
        others = {
            path: told
            for path, told in there.items()
            if path not in gone and told["source"] not in names and told["sha256"] not in names
        }
        for name in dict.fromkeys(told["source"] for told in others.values()):
            some = [path.name for path, told in others.items() if told["source"] == name]
            one = len(some) == 1
            self.notes.append(
                f"{_many(len(some), 'part')} of the folder, from {some[0]} on, {'is' if one else 'are'} of "
                f"{shown_name(name)}, which is not among the files now: {'it stays' if one else 'they stay'} "
                f"as before. Take {'it' if one else 'them'} away where those pitches should not count."
            )

    def _found(self, files: Sequence[_File], read: Sequence[_Read], left_out: Sequence[str]) -> FolderReading:
        told = [piece.told for piece in read]
        rows = [
            {
                "file": one["source"],
                "piece": one["piece"],
                "first_row": one["first_row"],
                "last_row": one["last_row"],
                "first_line": one["first_line"],
                "last_line": one["last_line"],
                "read": one["rows_read"],
                "kept": one["rows_kept"],
                "set_aside": one["rows_set_aside"],
                "saved": _part_name(one) if one["rows_kept"] else "",
                "by_game": one["by_game"],
                "was_there": piece.was_there,
            }
            for piece, one in zip(read, told, strict=True)
        ]
        data = pd.DataFrame(rows).astype({"first_line": "Int64", "last_line": "Int64"})
        counters: dict[str, Counter[str]] = {
            name: Counter() for name in ("reasons", "set_aside_for", "contradictions")
        }
        for one in told:
            for name, counter in counters.items():
                counter.update(one[name])
        ordered = {name: dict(found.most_common()) for name, found in counters.items()}

        def together(of: str) -> tuple[str, ...]:
            return said_of_parts([(_piece_name(one["source"], one), one[of]) for one in told])

        shares = [
            f"{shown_name(file.name)}: {said}"
            for file in files
            for said in said_of_share(
                sum(one["rows_set_aside"] for one in told if one["source"] == file.name),
                sum(one["rows_read"] for one in told if one["source"] == file.name),
                self.most_set_aside,
            )
        ]
        first = {one["source"]: one for one in reversed(told)}
        lines = {name: Lines(**one["lines"]) for name, one in reversed(first.items()) if one["lines"]}
        said = said_of_parts([(name, one["said"]) for name, one in reversed(first.items())])
        examples: dict[str, str] = {}
        used: dict[str, str] = {}
        for one in told:
            examples = one["examples"] | examples
            used = one["used"] | used
        return FolderReading(
            folder=self.folder,
            data=data,
            lines=lines,
            values_made_missing=sum(one["values_made_missing"] for one in told),
            reasons=ordered["reasons"],
            set_aside_for=ordered["set_aside_for"],
            words=_words(told),
            contradictions=ordered["contradictions"],
            alerts=(*shares, *left_out, *together("alerts"), *self.notes),
            questions=together("questions"),
            assumed=(*said, *together("assumed")),
            cannot_tell=together("cannot_tell"),
            examples=examples,
            used=used,
            unused=tuple(dict.fromkeys(name for one in told for name in one["unused"])),
        )


class _File:
    """A file that is read, as it is now."""

    def __init__(self, path: Path, name: str) -> None:
        self.path, self.name = path, name
        with regular(path) as file:
            self._stamp = stamp_of(os.fstat(file.fileno()))
            self.size = self._stamp[2]
            try:
                found = hashlib.file_digest(cast(BufferedReader, file), "sha256")
            except OSError as error:
                raise unreadable(path, error) from error
        self.sha256 = found.hexdigest()
        self.whole_file = False
        self.known: dict[int, _Read] = {}
        self.numbers: dict[str, bool | None] = {}

    def demand_same(self) -> None:
        """Refuse it where it was changed."""
        try:
            now = stamp_of(os.stat(self.path))
        except OSError as error:
            raise ReadingError(f"{self.path} was moved or deleted while it was read.") from error
        if now != self._stamp:
            raise ReadingError(
                f"{self.path} was changed while it was read. Nothing of it is put into the folder; read it "
                "again."
            )


class _Clock:
    """Tells how far the reading is."""

    def __init__(self, told: Callable[[Progress], object] | None) -> None:
        self._told = told
        self._start = self._last = time.monotonic()
        self._bytes = self._all = self._rows = 0
        self._file = ""

    def begin(self, size: int) -> None:
        """Take what all files have together; each is gone through twice."""
        self._all = 2 * size

    def now(self, name: str) -> None:
        self._file = name

    def heard(self, size: int) -> None:
        self._bytes += size
        self._say()

    def passed(self, size: int) -> None:
        self._bytes += size

    def saw(self, rows: int, *, counts: bool = True) -> None:
        self._rows += rows if counts else 0
        self._say()

    def end(self) -> None:
        self._bytes = self._all
        self._say(last=True)

    def _say(self, last: bool = False) -> None:
        now = time.monotonic()
        if self._told is None or (not last and now - self._last < _SAID_EVERY):
            return
        self._last = now
        spent = max(now - self._start, 1e-9)
        share = min(self._bytes / self._all, 1.0) if self._all else 1.0
        left = spent * (1 - share) / share if share else float("inf")
        self._told(Progress(self._file, self._rows, share, self._rows / spent, left))


def _each(read: Iterable[_Read], what: str) -> list[dict[str, Any]]:
    return [piece.told[what] for piece in read]


def _part_name(told: Mapping[str, Any]) -> str:
    if told["pieces"] == 1:
        return f"{told['stem']}.parquet"
    width = max(3, len(str(told["pieces"])))
    return f"{told['stem']}.{told['piece']:0{width}d}.parquet"


def _piece_name(file: str, told: Mapping[Any, Any]) -> str:
    what = "lines" if not pd.isna(told["first_line"]) else "rows"
    first, last = (told[f"{end}_{what[:-1]}"] for end in ("first", "last"))
    where = f"{what} {int(first):,} to {int(last):,}"
    where = f"piece {told['piece']}, within {where}" if told["by_game"] else where
    return f"{shown_name(file)}, {where}"


def _words(told: Iterable[Mapping[str, Any]]) -> pd.DataFrame:
    counts: Counter[tuple[Any, ...]] = Counter()
    for one in told:
        for *word, many in one["words"]:
            counts[tuple(word)] += many
    rows = [(*word, many) for word, many in counts.items()]
    frame = pd.DataFrame(rows, columns=["column", "source_word", "word", "known", "count"])
    places = {column: place for place, column in enumerate(dict.fromkeys(frame["column"]))}
    frame = frame.assign(place=frame["column"].map(places))
    frame = frame.sort_values(["place", "count"], ascending=[True, False], kind="stable", ignore_index=True)
    return frame.drop(columns="place").astype({"known": bool, "count": "int64"})


def _told_of(path: Path) -> dict[str, Any] | None:
    """Give what a table says of the piece that it is; None where it is none, or not whole."""
    try:
        with regular(path) as file:
            if not verify(file, str(path)):
                return None
            mark = version_in(file, str(path))[1].metadata or {}
            told = json.loads(mark[_PIECE.encode()])
    except (ReadingError, OSError, KeyError, ValueError):
        return None
    return told if isinstance(told, dict) else None


def _plain(value: Any) -> Any:
    """Give a value in a form that is written alike by every process."""
    if is_dataclass(value):
        return [[one.name, _plain(getattr(value, one.name))] for one in fields(value)]
    if isinstance(value, Mapping):
        return [[str(name), _plain(one)] for name, one in value.items()]
    if isinstance(value, frozenset | set):
        return sorted(str(one) for one in value)
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    if isinstance(value, re.Pattern):
        return value.pattern
    return value if value is None or isinstance(value, bool | int | float | str) else str(value)


def _write_aside(path: Path, set_aside: pd.DataFrame, mark: Mapping[str, str]) -> None:
    """Keep what was set aside of a piece, all of it as text but for rows and lines."""
    import pyarrow as pa
    from pyarrow import parquet

    arrays, names = [], []
    for place, name in enumerate(set_aside.columns):
        column = set_aside.iloc[:, place]
        if not len(column):
            arrays.append(pa.array([], pa.int64() if name in ("row", "line") else pa.string()))
        elif name in ("row", "line"):
            arrays.append(pa.array(column.to_numpy(), pa.int64()))
        else:
            # As they are in a CSV: a day without its time, where none of them has one.
            arrays.append(pa.array(column.astype(str).to_numpy(), pa.string(), mask=column.isna().to_numpy()))
        names.append(str(name))
    table = pa.table(arrays, names=names).replace_schema_metadata(dict(mark))

    def write(file: BinaryIO) -> None:
        with parquet.ParquetWriter(file, table.schema, compression="zstd") as writer:
            if table.num_rows:  # a group without rows has no bytes to be sealed
                writer.write_table(table)
        seal(file)

    write_file(path, write)


def _write_set_aside(path: AnyPath, read: Sequence[_Read], *, several: bool, inputs: Sequence[Path]) -> None:
    """Write all that was set aside as one CSV, piece by piece."""
    from pyarrow import parquet

    names: list[tuple[str, int]] = []
    for piece in read:
        for name in _numbered(parquet.read_schema(piece.aside).names):
            if name not in names:
                names.append(name)
    first = [("file", 0), ("sheet", 0), ("row", 0), ("line", 0)] if several else []
    first = [name for name in first if name in names or name[0] in ("file", "sheet")]
    names = [*first, *(name for name in names if name not in first)]

    def frames() -> Iterator[pd.DataFrame]:
        for piece in read:
            table = parquet.read_table(piece.aside)
            own = _numbered(table.column_names)
            frame = table.rename_columns([str(place) for place in range(len(own))]).to_pandas()
            columns = {name: frame[str(place)] for place, name in enumerate(own)}
            columns.setdefault(("file", 0), pd.Series(piece.told["source"], frame.index, dtype=object))
            columns.setdefault(("sheet", 0), pd.Series("", frame.index, dtype=object))
            nothing = pd.Series(None, frame.index, dtype=object)
            whole = pd.concat([columns.get(name, nothing) for name in names], axis=1)
            yield whole.set_axis([name for name, _ in names], axis=1)

    def write(file: BinaryIO) -> None:
        for number, frame in enumerate(frames()):
            if number == 0 or len(frame):
                file.write(table_as_csv(frame, first=number == 0))

    write_file(path, write, inputs=inputs)


def _numbered(names: Iterable[str]) -> list[tuple[str, int]]:
    """Tell columns of one name apart."""
    seen: Counter[str] = Counter()
    found = []
    for name in names:
        found.append((name, seen[name]))
        seen[name] += 1
    return found
