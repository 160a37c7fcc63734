"""A season in parts: the new charts are added to the checked table, and no game twice."""

from __future__ import annotations

import hashlib
import itertools
import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, Literal, get_args

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from hitlab.charting.same_games import (
    ALIKE,
    HARDLY,
    TELLING,
    Game,
    alike,
    differences,
    may_be_alike,
    same,
)
from hitlab.errors import ReadingError
from hitlab.locking import held
from hitlab.names import fold
from hitlab.pitches.gathering import files_of
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.origin import Source
from hitlab.pitches.parts import UNTOLD, Part, part_of
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.report import Reading
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.sources import checked_to_arrow, open_source
from hitlab.pitches.storing import is_checked, open_parts, write_parts
from hitlab.pitches.wordforms import in_toml
from hitlab.results import Listing, Note, Points, Table
from hitlab.results import Part as Shown
from hitlab.showing import quoted, shown, shown_name
from hitlab.wording import listed
from hitlab.writing import STANDARD_INPUT, refusal

__all__ = ["Added", "Twice", "add_to_season"]

Twice = Literal["refuse", "keep", "replace", "add"]
"""What becomes of a game that may be in the season already."""

_LISTED = 4  # names in a sentence
_DIFFERENCES_SHOWN = 12

_ADDED, _WAITS, _THERE, _DIFFERS = "added", "waits", "there already", "differs"
_KEPT, _LOOKS = "kept as it was", "looks like "

_WAYS = {
    "keep": "the season's game stays",
    "replace": "the new one takes its place",
    "add": "it is another game",
}


@dataclass(frozen=True, slots=True, eq=False)
class Added(Listing):
    """What became of the games of new charts.

    Attributes
    ----------
    data
        One row a game: ``game``, ``date`` (its first day; missing where none is told), ``rows``, ``what``:
        added, there already, differs, looks like another game, and where it was decided: kept as it was, in
        the place of another; ``waits`` where it would be added, and others have to be decided first.
    differences
        What differs in games of one name: ``game``, ``old_row`` and ``new_row`` (within the game, from 1;
        missing where it has none), ``hitter``, ``column`` (empty for a whole pitch), ``old``, ``new``.
    season
        Path of the season.
    written
        Whether anything was written.
    open_games
        Games that have to be decided; where there are any, nothing was written.
    rows, games
        Pitches and games that the season has now.
    notes
        What has to be known.
    choices
        What ``twice`` may be said for the games that are open.
    readings
        What was read for it, with the reports and all that was set aside.
    """

    data: pd.DataFrame
    differences: pd.DataFrame
    season: str
    written: bool
    open_games: int
    rows: int
    games: int
    notes: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    readings: tuple[Reading, ...] = ()

    @property
    def title(self) -> str:
        """What was done, in a sentence."""
        name = shown_name(Path(self.season).name)
        now = f"{name} has {_games(self.games)} and {_pitches(self.rows)}"
        if self.open_games:
            wait = (
                f"{_games(self.open_games)} {'has' if self.open_games == 1 else 'have'} to be decided first"
            )
            return (
                f"Nothing was added: {wait}. {f'{now}, as before' if self.games else f'{name} was not made'}."
            )
        if not self.written:
            return f"Nothing to add. {now}."
        came = self.data[~self.data["what"].isin([_THERE, _KEPT])]
        replaced = int((came["what"] != _ADDED).sum())
        done = [f"{_games(len(came) - replaced)} added"] if replaced < len(came) else []
        done += [f"{_games(replaced)} replaced"] if replaced else []
        return f"{listed(done)}, {_pitches(int(came['rows'].sum()))}. {now}."

    def table_for_people(self) -> pd.DataFrame:
        """Return the games, days as they are written."""
        days = pd.to_datetime(self.data["date"])
        table = self.data.assign(date=days.dt.strftime("%Y-%m-%d"))
        return table if days.notna().any() else table.drop(columns="date")

    @property
    def set_aside(self) -> pd.DataFrame:
        """All that was set aside in what was read, as :class:`hitlab.pitches.Reading` has it."""
        each = [one.set_aside for one in self.readings]
        if len(each) == 1:
            return each[0]
        named = [
            found if "file" in found else found.assign(file=one.report.source)
            for one, found in zip(self.readings, each, strict=True)
        ]
        return pd.concat(named, ignore_index=True) if named else pd.DataFrame()

    @property
    def ways(self) -> dict[str, str]:
        """What ``twice`` may be said for the games that are open, and what it means."""
        return {one: _WAYS[one] for one in self.choices}

    def told(self) -> list[Shown]:
        """Return what became of the games, and what differs."""
        found = self.differences
        people = found.assign(
            column=found["column"].replace("", "whole pitch"),
            **{name: found[name].astype(str).replace("<NA>", "") for name in ("old_row", "new_row")},
        ).rename(columns={"old_row": "old pitch", "new_row": "new pitch"})
        table = Table(people, _DIFFERENCES_SHOWN, missing="")
        return [
            self.title,
            *(Note(note) for note in self.notes),
            Table(self.table_for_people(), self.MOST_ROWS, missing=""),
            *(("What differs, pitch by pitch:", table) if len(people) else ()),
        ]

    def contents(self) -> Iterable[Shown]:
        """Return the same, and what can be said where games are open."""
        ways = tuple(f'twice="{one}": {what}' for one, what in self.ways.items())
        if self.open_games > 1:
            ways += (f'twice={{"GAME": "{self.choices[0]}"}}: of one game alone, of others likewise',)
        return [*self.told(), *([Points("To decide, say one of these", ways)] if ways else [])]


def add_to_season(
    season: str | os.PathLike[str],
    source: Any,
    mapping: Any = None,
    *,
    roster: Any = None,
    year: int | None = None,
    twice: Twice | Mapping[str, Twice] = "refuse",
) -> Added:
    """Add new charts to a season's checked table; no game twice, and all of it or nothing.

    Parameters
    ----------
    season
        Path of the season, a saved table (.parquet); it is made where it is not there yet.
    source
        The new charts, as :func:`hitlab.read_pitches` takes them; a saved table is taken as it is.
    mapping, roster, year
        How they are read, as for :func:`hitlab.read_pitches`.
    twice
        What becomes of a game that the season has with other pitches, or that looks like one that it has.
        ``"refuse"``: nothing is written, and what differs is listed. ``"keep"``: the season's stays.
        ``"replace"``: the new one takes its place. ``"add"``: a game of another name is another game. Or a
        mapping from a game, as the new charts name it, to one of these; ``""`` in it stands for all others,
        which are else refused.

    Returns
    -------
    Added
        What became of each game.

    Raises
    ------
    ReadingError
        Where the charts cannot be read, or most of them was not understood; no column tells the game; the
        season is no checked table, is damaged, is one of the charts or cannot be written; another process
        is writing it; or ``twice`` says what it cannot, or of a game that is not in the charts.

    Notes
    -----
    The season is written beside and takes its name when it is whole. A lock keeps two from writing at once.
    The mark of the season is the sum of what reading found in each of its games, so that its answers are
    those of one reading of all charts.

    Examples
    --------
    >>> import pandas as pd, tempfile
    >>> from hitlab.charting import add_to_season
    >>> friday = pd.DataFrame({"game": "g1", "hitter": ["Ada Frusk", "Bea Plome"], "outcome": "foul"})
    >>> saturday = friday.assign(game="g2", outcome=["ball", "whiff"])
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     made = add_to_season(f"{folder}/season.parquet", friday)
    ...     both = add_to_season(f"{folder}/season.parquet", pd.concat([friday, saturday]))
    >>> both.title
    '1 game added, 2 pitches. season.parquet has 2 games and 4 pitches.'
    >>> both.table()[["game", "rows", "what"]]
      game  rows           what
    0   g1     2  there already
    1   g2     2          added
    """
    ways = _Ways.of(twice)
    path = Path(season)
    files = _files(source, roster)
    _demand_writable(path, files, (mapping, roster))
    before = _opened(path)
    sums = {file: _sha256(file) for file in files}
    known = {} if before is None else _known(before.parts, sums)
    notes: list[str] = []
    if known and not ways.replace:
        notes.append(_said_of_known(known))
        files = [file for file in files if file not in known]
        if not files:
            return _nothing(path, before, notes)
        source = files
    del before  # what is there is read again under the lock, and a season is long
    batches = _read(source, files, mapping, roster, year, sums)
    ways.demand([game for one in batches for game in one.games])
    readings = tuple(one.reading for one in batches if one.reading is not None)
    notes += [note for one in readings for note in _said_of_reading(one)]
    with held(path):
        old = _opened(path)
        work = _Work(old, ways)
        for one in batches:
            work.take(one)
        if work.newcomers:
            notes.append(f"hitters that the season did not have: {_some(sorted(work.newcomers))}")
        if work.changed and not work.open_games:
            inputs = [*files, mapping, roster]
            write_parts(work.now.table, work.now.parts, path, inputs=[i for i in inputs if _is_path(i)])
    now = work.now if work.changed and not work.open_games else old
    return Added(
        work.data(),
        _joined(work.differences),
        os.fspath(path),
        work.changed and not work.open_games,
        work.open_games,
        0 if now is None else now.table.num_rows,
        0 if now is None else len(now.games),
        tuple(dict.fromkeys((*notes, *work.said))),
        tuple(one for one in _WAYS if one in work.choices),
        readings,
    )


@dataclass(frozen=True, slots=True)
class _Batch:
    """Checked pitches, what is remembered of them, and what to call them."""

    table: pa.Table
    parts: tuple[Part, ...]
    name: str
    reading: Reading | None = None

    @property
    def games(self) -> list[str]:
        return [one for one in pc.unique(self.table.column("game")).to_pylist() if one is not None]


@dataclass(frozen=True, slots=True)
class _Ways:
    """What becomes of games that may be there already: of some that are named, and of all others."""

    others: Twice
    named: Mapping[str, Twice]
    typed: tuple[str, ...]

    @classmethod
    def of(cls, twice: Twice | Mapping[str, Twice]) -> _Ways:
        given: Mapping[str, Twice] = twice if isinstance(twice, Mapping) else {"": twice}
        named: dict[str, Twice] = {}
        for game, way in given.items():
            if way not in get_args(Twice):
                of_game = f" of {game!r}" if game else ""
                raise ReadingError(f"twice={way!r}{of_game}: say one of {', '.join(get_args(Twice))}")
            if named.setdefault(fold(game), way) != way:
                raise ReadingError(f"twice: of {game!r} both {named[fold(game)]!r} and {way!r} are said")
        return cls(named.pop("", "refuse"), named, tuple(game for game in given if fold(game)))

    @property
    def replace(self) -> bool:
        """Whether any game may take another one's place."""
        return "replace" in (self.others, *self.named.values())

    def demand(self, games: list[str]) -> None:
        """Refuse a name that no game of the new charts has: a slip would decide nothing, unseen."""
        there = {fold(game) for game in games}
        for name in self.typed:
            if fold(name) not in there:
                raise ReadingError(
                    f"twice: no game of the new charts is called {quoted(name)}. They have "
                    f"{_some(list(dict.fromkeys(games)))}"
                )

    def of_game(self, game: str) -> Twice:
        return self.named.get(fold(game), self.others)


@dataclass(slots=True)
class _Work:
    """The season as it becomes, game by game."""

    old: _Batch | None
    ways: _Ways
    now: _Batch = field(init=False)
    lines: list[tuple[Any, ...]] = field(default_factory=list)
    differences: list[pd.DataFrame] = field(default_factory=list)
    open_games: int = 0
    changed: bool = False
    said: list[str] = field(default_factory=list)
    choices: set[str] = field(default_factory=set)
    newcomers: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        if self.old is not None:
            self.now = self.old

    def take(self, batch: _Batch) -> None:
        """Take the games of a batch that are not there yet."""
        if not hasattr(self, "now"):
            empty = batch.table.slice(0, 0)
            self.now = replace(batch, table=empty, parts=())
        there, come, said = _together(self.now.table, batch.table)
        if there.num_rows:
            self.said += said
        pool, new = _games_of(there, come)
        left_out: set[str] = set()
        taken_out: set[str] = set()
        new_here: set[str] = set()
        place: dict[str, str] = {}
        for game, mine in new.items():
            what, other = self._decide(game, mine, pool)
            if what in (_THERE, _KEPT):
                left_out.add(game)
            else:
                if other is not None and what != _DIFFERS and not what.startswith(_LOOKS):
                    # One of the same charts is left out of them, one of the season taken out of it.
                    (left_out if other in new_here else taken_out).add(other)
                    place[game] = place.pop(other, other)
                    pool.pop(other)
                pool[game] = mine
                new_here.add(game)
            day = pd.Timestamp(min(mine.days)) if mine.days else pd.NaT
            self.lines.append((game, day, len(mine), what))
        if self.open_games:
            return
        if left_out >= set(new):
            return
        self.changed = True
        self._said_of_new(there, come)
        untold = [one for one in self.now.parts if UNTOLD in one.games and set(one.games) & taken_out]
        self.said += [
            f"what was set aside or in doubt in {shown_name(one.source)} was not kept game by game, and "
            "still counts with its other games"
            for one in untold
        ]
        parts = [
            *(one.without(taken_out, forget=True) for one in self.now.parts),
            *(one.without(left_out, forget=False) for one in batch.parts),
        ]
        table = _joined_tables(there, come, left_out, taken_out, place)
        self.now = replace(self.now, table=table, parts=tuple(one for one in parts if one is not None))

    def _decide(self, game: str, mine: Game, pool: dict[str, Game]) -> tuple[str, str | None]:
        """Say what becomes of a game, and which of the games there it is about."""
        way = self.ways.of_game(game)
        if game in pool:
            old, rows = pool[game].rows, mine.rows
            if same(old, rows):
                return _THERE, game
            if way == "keep":
                return _KEPT, game
            if way == "replace":
                if _in_common(old, rows) is not None:
                    self.said.append(
                        f"{shown_name(game)}: the {_pitches(len(old))} of the old one are gone, and "
                        "hardly any of them is in the new one"
                    )
                return "in place of the old one", game
            self._tell_differences(game, old, rows)
            return _DIFFERS, game
        other, pitches = _looks_like(mine, pool)
        if other is None or way == "add":
            return _ADDED, None
        name = shown_name(other)
        if way == "keep":
            self.said.append(f"{shown_name(game)} looks like {name}, which stays as it was")
            return _KEPT, other
        if way == "replace":
            return f"in place of {name}", other
        self.open_games += 1
        self.choices |= {"keep", "replace", "add"}
        self.said.append(
            f"{shown_name(game)} looks like {name}: {pitches:,} of its {len(mine):,} pitches are the same in "
            f"the same order, and {name} has {len(pool[other]):,}"
        )
        return f"{_LOOKS}{name}", other

    def _tell_differences(self, game: str, old: pd.DataFrame, new: pd.DataFrame) -> None:
        self.open_games += 1
        self.choices |= {"keep", "replace"}
        name = shown_name(game)
        if (common := _in_common(old, new)) is not None:
            found = differences(old, new, apart=True)
            self.differences.append(found.assign(game=game))
            self.said.append(
                f"{name}: {_pitches(len(old))} only in the season and {len(new):,} only in the new charts, "
                f"{common or 'none'} alike. If each has a part of the game, add all of its files at once, in "
                "the place of the old one. If they are two games, give one of them another name"
            )
            return
        found = differences(old, new)
        self.differences.append(found.assign(game=game))
        only_old = int(found["new_row"].isna().sum())
        only_new = int(found["old_row"].isna().sum())
        changed = int(found[found["column"] != ""]["old_row"].nunique())
        both = len(old) - only_old
        told = [
            f"{changed:,} of {both:,} pitches in both differ{'s' if changed == 1 else ''}"
            if changed
            else f"{_pitches(both)} the same",
            *([f"{only_old:,} only in the season"] if only_old else []),
            *([f"{only_new:,} only in the new charts"] if only_new else []),
        ]
        self.said.append(f"{name}: {', '.join(told)}")

    def _said_of_new(self, there: pa.Table, come: pa.Table) -> None:
        """Say which hitters are new, and which ids have got a second name."""
        if not there.num_rows:
            return
        old, new = (set(pc.unique(each.column("hitter")).to_pylist()) for each in (there, come))
        if self.old is not None:
            self.newcomers |= new - old
        if "hitter_id" not in come.column_names:
            return
        both = pa.concat_tables([each.select(["hitter_id", "hitter"]) for each in (there, come)])
        pairs = both.group_by(["hitter_id", "hitter"]).aggregate([]).to_pandas()
        several = pairs.groupby("hitter_id")["hitter"].agg(list)
        several = several[several.map(len) > 1]
        for number, names in list(several.items())[:_LISTED]:
            if set(names) & (new - old):
                self.said.append(
                    f"hitter_id {shown_name(number)} has several names: {_some(sorted(names))}; they count "
                    "as one hitter"
                )

    def data(self) -> pd.DataFrame:
        """Return what became of each game; where some are open the others wait."""
        data = pd.DataFrame(self.lines, columns=["game", "date", "rows", "what"])
        decided = data["what"].isin([_THERE, _DIFFERS]) | data["what"].astype(str).str.startswith(_LOOKS)
        return data.assign(what=data["what"].where(decided, _WAITS)) if self.open_games else data


def _demand_writable(path: Path, files: Iterable[Path], others: Iterable[Any]) -> None:
    if path.suffix.lower() != ".parquet":
        raise ReadingError(f"{shown(path)}: a season is a saved table; end its name with .parquet")
    why = refusal(path, (*files, *(one for one in others if _is_path(one))))
    if why:
        raise ReadingError(f"{shown(path)} cannot be written: {why}")


def _is_path(one: Any) -> bool:
    return isinstance(one, str | os.PathLike)


def _opened(path: Path) -> _Batch | None:
    """Open the season, if it is there."""
    if not os.path.lexists(path):
        return None
    table, parts = open_parts(path)
    return _with_games(_Batch(table, tuple(parts), path.name), f"{shown(path)}")


def _with_games(batch: _Batch, name: str, proposal: str = "") -> _Batch:
    """Refuse pitches of no game: nothing would tell when they are added twice."""
    there = "game" in batch.table.column_names
    none = batch.table.column("game").null_count if there else batch.table.num_rows
    if none:
        many = (
            "no column tells the game" if none == batch.table.num_rows else f"{_pitches(none)} without a game"
        )
        line = proposal or (
            'Name the column that tells it, or say in the mapping what makes a game: [games] from = ["date", '
            '"Opponent"]'
        )
        raise ReadingError(
            f"{name} cannot be part of a season: {many}, and without one the same game could be added twice "
            f"unseen. {line}"
        )
    return batch


def _files(source: Any, roster: Any) -> list[Path]:
    """List the files that are read; none for frames and the standard input."""
    several = isinstance(source, list | tuple)
    if several and not all(_is_path(one) for one in source):
        return []
    if not several and (not _is_path(source) or os.fspath(source) == STANDARD_INPUT):
        return []
    return files_of(source, aside=(roster,))[0] if source else []


def _sha256(file: Path) -> str:
    from hitlab.pitches.regular import regular

    found = hashlib.sha256()
    with regular(file) as opened:
        while piece := opened.read(1 << 20):
            found.update(piece)
    return found.hexdigest()


def _known(parts: Iterable[Part], sums: dict[Path, str]) -> dict[Path, str]:
    """Give the files that were added before, and as what."""
    there = {one: part.source for part in parts for one in part.files}
    return {file: there[number] for file, number in sums.items() if number in there}


def _said_of_known(known: dict[Path, str]) -> str:
    one = len(known) == 1
    return (
        f"{_some([file.name for file in known])} {'was' if one else 'were'} added before, byte for byte, and "
        f"{'is' if one else 'are'} passed over"
    )


def _nothing(path: Path, there: _Batch | None, notes: list[str]) -> Added:
    assert there is not None
    none = pd.DataFrame(columns=["game", "date", "rows", "what"])
    return Added(
        none, _joined([]), os.fspath(path), False, 0, there.table.num_rows, len(there.games), tuple(notes)
    )


def _read(
    source: Any, files: list[Path], mapping: Any, roster: Any, year: int | None, sums: dict[Path, str]
) -> list[_Batch]:
    """Read the charts; saved tables among them are taken as they are."""
    saved = [file for file in files if file.suffix.lower() == ".parquet" and is_checked(file)]
    batches = []
    for file in saved:
        table, parts = open_parts(file)
        parts = [replace(part, files=(*part.files, sums[file])) for part in parts]
        batches.append(_with_games(_Batch(table, tuple(parts), file.name), shown(file)))
    if saved:
        files = [file for file in files if file not in saved]
        source = files
        if not files:
            return batches
    if isinstance(source, list) and len(source) == 1:
        source = source[0]
    reading = read_pitches(source, mapping, roster=roster, year=year)
    report = reading.report
    if report.not_understood:
        raise ReadingError(f"{report.not_understood}. Nothing was added")
    origin = open_source(source, load_mapping(mapping), aside=(roster,)) if files else None
    changed = [file for file in files if _sha256(file) != sums[file]]
    if changed:
        raise ReadingError(f"{shown(changed[0])} was changed while it was read. Try again")
    batch = _Batch(
        checked_to_arrow(reading.table),
        (part_of(reading, origin, [sums[file] for file in files]),),
        report.source,
        reading,
    )
    proposal = next((one for one in report.proposals if "[games]" in one), "")
    if not proposal and "date" in report.used:
        proposal = (
            "Name the column that tells it; or, where a day has one game, write in the mapping, under "
            '[games]: from = ["date"]'
        )
    _with_games(batch, shown_name(report.source), proposal)
    if origin is not None and origin.parts and _in_two_files(batch, origin):
        # Read by themselves they are held against each other game by game, as all that is added.
        for file in files:
            batches += _read(file, [file], mapping, roster, year, sums)
        return batches
    return [*batches, batch]


def _in_two_files(batch: _Batch, origin: Source) -> bool:
    """Say whether a game stands in two files of one reading, pitch by pitch; refuse one in two sheets."""
    reading = batch.reading
    assert reading is not None
    for game, one, other in _doubled(batch.table, reading, origin):
        if one[0] != other[0]:
            return True
        skip = in_toml(other[1])
        raise ReadingError(
            f"{shown_name(game)} stands in the sheet {shown_name(one[1])} of {shown_name(one[0])} and again "
            f"in {shown_name(other[1])}, pitch by pitch. Leave one of them out; in the mapping, under "
            f"[file]: skip = [{shown(skip)}]"
        )
    return False


def _doubled(
    table: pa.Table, reading: Reading, origin: Source
) -> Iterator[tuple[str, tuple[str, str], tuple[str, str]]]:
    """Give each game that stands in two files or sheets, and these."""
    at = ["file", "sheet", "row"]
    aside = reading.set_aside[reading.set_aside["action"] == "row set aside"]
    where = origin.where(origin.rows)
    lost = where.merge(aside[at].drop_duplicates().assign(lost=True), how="left", on=at)["lost"].notna()
    where = where[~lost.to_numpy()].reset_index(drop=True)
    frame = table.to_pandas()
    # What has the key of an earlier pitch is not in the table any more.
    again = aside[aside["reason"].astype(str).str.startswith("a repeated pitch")]
    keyed = again["value"].astype(str).str.rsplit("/", n=2).str[0]
    repeats = Counter(zip(keyed, again["file"].astype(str), again["sheet"].astype(str), strict=True))
    for game, rows in frame.groupby("game", sort=False):
        pieces = {
            (str(file), str(sheet)): Game(frame.loc[here.index])
            for (file, sheet), here in where.loc[rows.index].groupby(["file", "sheet"], sort=False)
        }
        first = next(iter(pieces))
        for (name, file, sheet), many in repeats.items():
            second = (file, sheet)
            if name == game and second != first and many >= ALIKE * (many + len(pieces.get(second, ()))):
                yield str(game), first, second
        for (one, earlier), (other, later) in itertools.combinations(pieces.items(), 2):
            if may_be_alike(earlier, later) and _enough(alike(earlier.rows, later.rows), earlier, later):
                yield str(game), one, other


def _in_common(old: pd.DataFrame, new: pd.DataFrame) -> int | None:
    """Count the pitches alike in two tables of one game where they are too few for one game, else None."""
    pitches = alike(old, new)
    return pitches if pitches < HARDLY * min(len(old), len(new)) else None


def _enough(pitches: int, one: Game, other: Game) -> bool:
    return pitches >= ALIKE * max(len(one), len(other))


def _looks_like(mine: Game, pool: dict[str, Game]) -> tuple[str | None, int]:
    """Give the game that another looks like most, of those on its day or of unknown day."""
    best: tuple[str | None, int] = (None, 0)
    for name, there in pool.items():
        if mine.days and there.days and not mine.days & there.days:
            continue
        if may_be_alike(there, mine):
            pitches = alike(there.rows, mine.rows)
            if _enough(pitches, there, mine) and pitches > best[1]:
                best = (name, pitches)
    return best


def _games_of(there: pa.Table, come: pa.Table) -> tuple[dict[str, Game], dict[str, Game]]:
    """Give each game of the season, and each new one, their rows all of the same kinds.

    Of the season's games that no new one is called like only those columns are there by which games look like
    each other: a season is long.
    """
    names = pc.unique(come.column("game"))
    called_so = pc.is_in(there.column("game"), value_set=names)
    some = [name for name in (*TELLING, "game", "date") if name in there.column_names]
    others = there.filter(pc.invert(called_so)).select(some).to_pandas()
    old = there.filter(called_so)
    # Together: a column of whole numbers is of another kind where some are missing.
    whole = pa.concat_tables([old, come]).to_pandas()
    parts = [others, whole[: len(old)], whole[len(old) :]]
    first, second, new = (
        {game: Game(rows) for game, rows in one.groupby("game", sort=False)} for one in parts
    )
    return {**first, **second}, new


def _together(old: pa.Table, new: pa.Table) -> tuple[pa.Table, pa.Table, list[str]]:
    """Give two tables the same columns of the same kinds, and say what is blank for it."""
    said = []
    names = [*old.column_names, *(name for name in new.column_names if name not in old.column_names)]
    ours = [name for name in COLUMNS if name in names]
    names = [*ours, *(name for name in names if name not in COLUMNS)]
    new = _levels_as(old, new)
    for number, of in (("hitter_id", "hitter"), ("pitcher_id", "pitcher")):
        lacking = [
            which
            for which, table in (("the season has", old), ("the new charts have", new))
            if number in names and number not in table.column_names and of in table.column_names
        ]
        said += [
            f"{which} no {number}, and the name stands in for it: who has an id in one of them and a name in "
            "the other counts as two"
            for which in lacking
        ]
    for which, one, other in (("the season", old, new), ("the new charts", new, old)):
        blank = [
            name for name in other.column_names if name not in one.column_names and not name.endswith("_id")
        ]
        if blank:
            said.append(f"{which} had no {listed(blank[:12])}; blank in those pitches")
    columns = {name: _alike_kinds(old, new, name) for name in names}
    tables = [pa.table({name: both[place] for name, both in columns.items()}) for place in (0, 1)]
    return _ids_filled(tables[0]), _ids_filled(tables[1]), said


def _alike_kinds(old: pa.Table, new: pa.Table, name: str) -> tuple[Any, Any]:
    """Give a column of two tables in one kind; one that a table does not have is blank there."""
    columns = [table.column(name) if name in table.column_names else None for table in (old, new)]
    kinds = [column.type for column in columns if column is not None and not pa.types.is_null(column.type)]
    kind = kinds[0] if kinds else pa.string()
    if len(set(map(str, kinds))) > 1:
        text = any(pa.types.is_string(one) or pa.types.is_large_string(one) for one in kinds)
        kind = pa.large_string() if text else pa.float64()
    lengths = (old.num_rows, new.num_rows)
    one, other = (
        pa.chunked_array([pa.nulls(many, kind)]) if column is None else _as_kind(column, kind)
        for column, many in zip(columns, lengths, strict=True)
    )
    return one, other


def _as_kind(column: Any, kind: Any) -> Any:
    if pa.types.is_floating(column.type) and not pa.types.is_floating(kind):
        # As a chart has them: 7, not 7.0.
        texts = [None if one is None else f"{one:.12g}" for one in column.to_pylist()]
        return pa.chunked_array([pa.array(texts, kind)])
    return column.cast(kind)


def _levels_as(old: pa.Table, new: pa.Table) -> pa.Table:
    """Spell levels of play as the season does: two spellings of one are no two levels."""
    if "level" not in old.column_names or "level" not in new.column_names:
        return new
    spelled = {fold(one): one for one in pc.unique(old.column("level")).to_pylist() if one is not None}
    values = [None if one is None else spelled.get(fold(one), one) for one in new.column("level").to_pylist()]
    place = new.column_names.index("level")
    return new.set_column(place, "level", pa.chunked_array([pa.array(values, new.column("level").type)]))


def _ids_filled(table: pa.Table) -> pa.Table:
    """Let the name stand in for an id that is not there, as reading does."""
    for number, name in (("hitter_id", "hitter"), ("pitcher_id", "pitcher")):
        if number in table.column_names and name in table.column_names:
            ids = table.column(number)
            filled = pc.coalesce(ids, table.column(name).cast(ids.type))
            table = table.set_column(table.column_names.index(number), number, filled)
    return table


def _joined_tables(
    there: pa.Table, come: pa.Table, left_out: set[str], taken_out: set[str], place: dict[str, str]
) -> pa.Table:
    """Put the new games behind the old ones, or in their places; by day where every game has one."""
    games = [pd.Series(each.column("game").to_pylist(), dtype=object) for each in (there, come)]
    first = {game: at for at, game in reversed(list(enumerate(games[0]))) if game in taken_out}
    stays, comes = ~games[0].isin(taken_out), ~games[1].isin(left_out)
    at = pd.concat([pd.Series(games[0].index)[stays], _places(games[1], place, first, len(there))[comes]])
    table = pa.concat_tables([there.filter(pa.array(stays)), come.filter(pa.array(comes))])
    table = _in_order(table, at.to_numpy())
    if "date" in table.column_names:
        days = table.select(["game", "date"]).to_pandas()
        day = pd.to_datetime(days["date"]).groupby(days["game"]).transform("min")
        if day.notna().all():
            table = _in_order(table, day.to_numpy())
    return table.combine_chunks()


def _in_order(table: pa.Table, key: np.ndarray[Any, Any]) -> pa.Table:
    """Give a table by a key of its rows; one that is so already is not copied, for a season is long."""
    if (key[:-1] <= key[1:]).all():
        return table
    return table.take(pa.array(np.argsort(key, kind="stable")))


def _places(games: pd.Series[Any], place: dict[str, str], first: dict[str, int], end: int) -> pd.Series[Any]:
    """Give the row that each new row goes before: that of the game in whose place it comes, or the end."""
    where = {game: first.get(place.get(game, ""), end) for game in games.unique()}
    return games.map(where).astype(np.int64)


def _said_of_reading(reading: Reading) -> list[str]:
    """Say what of the new charts has to be looked at, in short; the report has the rest."""
    report = reading.report
    said = [one.rstrip(".") for one in report.alerts]
    aside, missing = report.rows_set_aside, report.values_made_missing
    told = [f"{aside:,} of {report.rows_read:,} rows set aside"] if aside else []
    told += [f"{missing:,} cell{'' if missing == 1 else 's'} left blank"] if missing else []
    if told:
        said.append(f"{shown_name(report.source)}: {', '.join(told)}; `hitlab read` tells why")
    said += [f"{one.partition('?')[0]}? `hitlab read` shows how to answer it" for one in report.questions]
    return said


def _joined(found: list[pd.DataFrame]) -> pd.DataFrame:
    names = ["game", "old_row", "new_row", "hitter", "column", "old", "new"]
    if not found:
        return pd.DataFrame(columns=names)
    return pd.concat(found, ignore_index=True)[names]


def _some(names: list[str]) -> str:
    named = [shown_name(name) for name in names[:_LISTED]]
    more = [f"{len(names) - _LISTED:,} more"] if len(names) > _LISTED else []
    return listed([*named, *more])


def _games(number: int) -> str:
    return f"{number:,} game{'' if number == 1 else 's'}"


def _pitches(number: int) -> str:
    return f"{number:,} pitch{'' if number == 1 else 'es'}"
