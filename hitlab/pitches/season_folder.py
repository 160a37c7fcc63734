"""A folder of saved tables as one table: its parts by season, by game, or as they came.

Each part is held against its checksums and its mark as a single saved table is. Beyond that they have to be
parts of one table: a game stands in one of them only, and a column means the same in all.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO, NamedTuple

from hitlab.errors import ReadingError
from hitlab.pitches.kept_files import Name, forget, keep, kept, pays, writing
from hitlab.pitches.regular import TABLE_ENDINGS, entries, regular
from hitlab.pitches.schema import COLUMNS, SCHEMA_VERSION
from hitlab.pitches.sealing import seal_of, verify
from hitlab.pitches.storing import (
    ODD_BY,
    PARTS,
    SEEN,
    demand_checked,
    demand_stamp,
    just_opened,
    rows_of_games,
    seen_in_table,
    stamp_of,
    version_in,
)
from hitlab.showing import shown_name
from hitlab.wording import listed

if TYPE_CHECKING:
    from hitlab.pitches.doubts import Doubts
    from hitlab.pitches.parts import Part
    from hitlab.pitches.seen import Seen

__all__ = [
    "MOVING",
    "WORK",
    "PartsOfOne",
    "Sealed",
    "Told",
    "doubts_in_folder",
    "saved_in",
    "tables_in",
    "uppermost_tables",
]

WORK = ".hitlab-reading"
"""Where readings into a folder keep what they need; what begins with a dot is no part."""

MOVING = f"{WORK}/moving"
"""Is there while a reading puts its parts into the folder."""

_IDS = (("hitter_id", "hitter"), ("pitcher_id", "pitcher"))
_NUMBERS, _TEXTS = "numbers", "texts"
_SQL = {_NUMBERS: "DOUBLE", "bool": "BOOLEAN", "date32[day]": "DATE"}
_KIND, _WHOLE = "doubts", "together"
_NAMED = 12  # columns that a sentence names


def tables_in(folder: Path) -> list[Path]:
    """List the parts of a folder of saved tables, those in folders within it, too.

    Parameters
    ----------
    folder
        The folder. What is hidden, and files whose names are none of tables, are passed over.

    Returns
    -------
    list of pathlib.Path
        In the order of their names, with numbers in them by size.

    Raises
    ------
    ReadingError
        Where it has no table, or one that is not Parquet: its pitches would be missing unseen. Also where a
        reading into it was stopped while it put its parts there.
    """
    if os.path.exists(folder / MOVING):
        raise ReadingError(
            f"{folder} is not whole: a reading was stopped while it put its parts there. Give the same "
            f"command again (hitlab read FILES --save {folder}{os.sep}); what is read already stays."
        )
    found = [path for path in _walked(folder, set()) if _is_table(path)]
    others = [path for path in found if path.suffix.lower() != ".parquet"]
    if others:
        raise ReadingError(
            f"{others[0]} is no saved table, and {folder} is opened as a folder of these: its pitches would "
            f"not be counted. Read and save it (hitlab read {others[0]} --save "
            f"{others[0].with_suffix('.parquet')}), and take it to another folder."
        )
    if not found:
        raise ReadingError(
            f"{folder} is a folder without a saved table in it. Put some there: hitlab read FILES --save "
            f"{folder / 'season.parquet'}"
        )
    return found


def uppermost_tables(folder: Path) -> list[Path]:
    """List the tables of a folder itself or, where it has none, those in folders within it.

    Raises
    ------
    ReadingError
        Where a folder cannot be looked into.
    """
    own = [path for path in entries(folder) if _is_table(path) and not os.path.isdir(path)]
    return own or [path for path in _walked(folder, set()) if _is_table(path)]


def saved_in(folder: Path) -> list[Path]:
    """List the files of a folder whose names are those of tables, those in folders within it, too.

    Parameters
    ----------
    folder
        The folder; it may have none.

    Raises
    ------
    ReadingError
        Where it cannot be looked into.
    """
    return [path for path in _walked(folder, set()) if _is_table(path)]


def _is_table(path: Path) -> bool:
    return path.suffix.lower() in TABLE_ENDINGS


def _walked(folder: Path, seen: set[str]) -> Iterator[Path]:
    """Give every file; a folder that is reached twice, by a link to it, is looked into once."""
    real = os.path.realpath(folder)
    if real in seen:
        return
    seen.add(real)
    for path in entries(folder):
        if os.path.isdir(path):
            yield from _walked(path, seen)
        else:
            yield path


class Sealed(NamedTuple):
    """What is in a part, told from what was ever in one of its name.

    Attributes
    ----------
    seal
        The hash of its checksums.
    rows
        Its pitches.
    columns
        Its columns.
    """

    seal: str
    rows: int
    columns: tuple[str, ...]


class Told(NamedTuple):
    """What stands in a part beside its pitches.

    Attributes
    ----------
    part
        What is in it.
    mark
        Its mark.
    seen
        What it says that its names, days and speeds show; empty where an older hitlab saved it.
    """

    part: Sealed
    mark: Mapping[bytes, bytes]
    seen: bytes


def _seal_of_all(folder: Path, parts: Mapping[Path, Sealed]) -> str:
    """Return what tells all parts of a folder from any others: the hash of their names and seals.

    Parameters
    ----------
    folder
        The folder.
    parts
        All of its parts, in their order.
    """
    told = [(_called(path, folder), part.seal) for path, part in parts.items()]
    return hashlib.sha256(json.dumps(told).encode()).hexdigest()


@dataclass(slots=True)
class PartsOfOne:
    """Saved tables that are taken one after the other as the parts of one.

    Attributes
    ----------
    folder
        Where they are.
    trust
        Whether parts without a mark are taken, too.
    stamps
        Each file, and what tells it from another of its name.
    sealed
        Each file whose content is told; none of those on trust.
    """

    folder: Path
    trust: bool = False
    stamps: dict[Path, tuple[int, ...]] = field(default_factory=dict)
    sealed: dict[Path, Sealed] = field(default_factory=dict)
    _names: dict[Path, list[str]] = field(default_factory=dict)
    _kinds: dict[str, tuple[str, Path]] = field(default_factory=dict)
    _blank: set[str] = field(default_factory=set)
    _games: dict[str, Path] = field(default_factory=dict)
    _days: list[tuple[str, str] | None] = field(default_factory=list)
    _untold: dict[Path, str] = field(default_factory=dict)

    @property
    def files(self) -> list[Path]:
        """The files."""
        return list(self.stamps)

    @property
    def seal(self) -> str:
        """What tells all that is in them from anything else."""
        return _seal_of_all(self.folder, self.sealed)

    @property
    def seals(self) -> set[str]:
        """That of each, and that of all."""
        return {self.seal, *(part.seal for part in self.sealed.values())}

    @property
    def days(self) -> tuple[str, str] | None:
        """The first day and the last, such as 2031-05-04; ``None`` where a part does not tell its own."""
        told = [one for one in self._days if one is not None]
        if not told or len(told) < len(self._days):
            return None
        return min(first for first, _ in told), max(last for _, last in told)

    @property
    def pays(self) -> bool:
        """Whether something is to be kept of them."""
        return pays(sum(part.rows for part in self.sealed.values()), len(self.sealed))

    def take(self, path: Path, stamp: tuple[int, ...], file: BinaryIO) -> Told | None:
        """Take one more part; give what stands in it, but for one on trust, which may have no checksums.

        Parameters
        ----------
        path
            The file.
        stamp
            What tells it from another of its name.
        file
            The same, open, and found to be as it was saved.

        Raises
        ------
        ReadingError
            Where it cannot be a part of the same table as those before; it names both.
        """
        from pyarrow import parquet

        opened = parquet.ParquetFile(file)
        schema = opened.schema_arrow
        self._take_columns(path, schema, opened.metadata)
        self._days.append(_days_in(schema.names, opened.metadata))
        mark = {} if self.trust else schema.metadata or {}
        if "game" in schema.names:
            self._take_games(path, _games_in(mark, opened))
        elif not self.trust:
            self._untold[path] = "no column tells the game"
        self.stamps[path] = stamp
        told = None if self.trust else _told(file, opened)
        if told is not None:
            self.sealed[path] = told.part
        if self._untold and len(self.stamps) > 1:
            path, why = next(iter(self._untold.items()))
            raise ReadingError(
                f"{path} cannot be one of several parts: {why}, and without one the same game could stand "
                "in two of them unseen. Read it again with the column that tells the game; or say in the "
                'mapping what makes a game: [games] from = ["date", "Opponent"]'
            )
        return told

    def _take_columns(self, path: Path, schema: Any, metadata: Any) -> None:
        self._names[path] = list(schema.names)
        for place, column in enumerate(schema):
            kind = _kind_of(column.type)
            if not kind:
                continue
            if kind == _TEXTS and column.name not in COLUMNS and _is_blank(metadata, place):
                self._blank.add(column.name.casefold())
                continue
            before, first = self._kinds.setdefault(column.name.casefold(), (kind, path))
            if before != kind:
                raise ReadingError(
                    f"{path} has another schema: its column {shown_name(column.name)} holds {kind}, and that "
                    f"of {first} holds {before}. Save one of the two again with the column as the other has "
                    "it, under another name, or without it."
                )

    def _take_games(self, path: Path, games: Mapping[str, int]) -> None:
        if games.get("", 0) and not self.trust:
            number = games[""]
            self._untold[path] = f"{number:,} pitch{'' if number == 1 else 'es'} without a game"
        alike = () if self._games.keys().isdisjoint(games) else games.items()
        twice = [game for game, rows in alike if game and rows and game in self._games]
        if twice:
            first, more = self._games[twice[0]], f", and {len(twice) - 1:,} more games" if twice[1:] else ""
            raise ReadingError(
                f"{path}: the game {shown_name(twice[0])} stands in {first} already{more}: its pitches would "
                "count twice. Where it is the same game, keep it in one part: take one of the files away, or "
                f"put them together (hitlab add {path} --to {first}) and then take {path.name} away. Where "
                "it is another game, give each a name of its own in the mapping, under [games]: "
                'from = ["date"], and save it again.'
            )
        self._games |= {game: path for game, rows in games.items() if game and rows}

    @property
    def stand_in(self) -> dict[str, str]:
        """The ids that a part does not have, and the names that stand in for them."""
        names = _spellings(self._names)
        absent = {name for some in _lacking(self._names).values() for name in some}
        return {one: of for one, of in _IDS if one in absent and of in names}

    @property
    def columns(self) -> str:
        """The columns of all parts, for DuckDB to select; empty where all have the same ones."""
        lacking = _lacking(self._names)
        names = _spellings(self._names)
        # To the reader a column that is blank holds texts, and so would the column of all parts.
        held = {names[name]: self._kinds[name][0] for name in self._blank & set(self._kinds)}
        as_held = {name: _SQL[kind] for name, kind in held.items() if kind in _SQL}
        if not any(lacking.values()) and not as_held:
            return ""
        stand_in = self.stand_in
        ours = [name for name in COLUMNS if name in names.values()]
        others = [name for name in names.values() if name not in COLUMNS]

        def selected(name: str) -> str:
            if name in stand_in:
                return f"coalesce({name}, {stand_in[name]}) AS {name}"
            quoted = _quoted(name)
            return f"CAST({quoted} AS {as_held[name]}) AS {quoted}" if name in as_held else quoted

        return ", ".join(selected(name) for name in (*ours, *others))


def _quoted(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def _kind_of(kind: Any) -> str:
    """Say what a column holds; nothing where it has no kind."""
    import pyarrow as pa

    kind = kind.value_type if pa.types.is_dictionary(kind) else kind
    if pa.types.is_null(kind):
        return ""
    if pa.types.is_integer(kind) or pa.types.is_floating(kind):
        return _NUMBERS
    if pa.types.is_string(kind) or pa.types.is_large_string(kind):
        return _TEXTS
    return str(kind)


def _is_blank(metadata: Any, place: int) -> bool:
    """Say whether nothing stands in a column, as the file's own counts of what is missing tell."""
    told = [metadata.row_group(group).column(place).statistics for group in range(metadata.num_row_groups)]
    return all(one is not None and one.has_null_count for one in told) and (
        sum(one.null_count for one in told) == metadata.num_rows
    )


def _days_in(names: Sequence[str], metadata: Any) -> tuple[str, str] | None:
    """Give the first and the last day of a part, as the file's own ends of each group of rows tell."""
    if "date" not in names:
        return None
    place = names.index("date")
    told = [metadata.row_group(group).column(place).statistics for group in range(metadata.num_row_groups)]
    if not told or any(one is None or not one.has_min_max for one in told):
        return None
    return min(str(one.min) for one in told), max(str(one.max) for one in told)


def _spellings(names: Mapping[Path, Sequence[str]]) -> dict[str, str]:
    """Give each column's first spelling: to DuckDB those that differ in capitals alone are one."""
    found: dict[str, str] = {}
    for some in names.values():
        for name in some:
            found.setdefault(name.casefold(), name)
    return found


def _lacking(names: Mapping[Path, Sequence[str]]) -> dict[Path, list[str]]:
    """Give for each part the columns of others that it does not have."""
    all_of_them = _spellings(names)
    own = {path: {name.casefold() for name in some} for path, some in names.items()}
    return {path: [all_of_them[one] for one in all_of_them if one not in own[path]] for path in names}


def _games_in(mark: Mapping[bytes, bytes], opened: Any) -> dict[str, int]:
    """Give the rows of each game, as the mark tells them or, where it is older, as they are counted."""
    told = mark.get(PARTS.encode())
    if told is None:
        return rows_of_games(opened.read(columns=["game"]))
    games: dict[str, int] = {}
    for part in json.loads(told):
        for game, one in part["games"].items():
            games[game] = games.get(game, 0) + int(one.get("rows", 0))
    return games


def doubts_in_folder(folder: Path, trust: bool = False) -> Doubts:
    """Add up what was in doubt when the parts of a folder were read, and say which columns some lack.

    Parameters
    ----------
    folder
        The folder.
    trust
        Whether it is opened on trust: then nothing is kept of it.

    Raises
    ------
    ReadingError
        Where a part cannot be read, or is not as it was saved.
    """
    stamps = []
    for path in tables_in(folder):
        with regular(path) as file:
            stamps.append((path, stamp_of(os.fstat(file.fileno()))))
    return _doubts(folder, tuple(stamps), trust)


@lru_cache(maxsize=8)  # a claim asks several times
def _doubts(folder: Path, files: tuple[tuple[Path, tuple[int, ...]], ...], trust: bool) -> Doubts:
    from hitlab.pitches.dates import odd_years
    from hitlab.pitches.doubts import Doubts

    found = (None if trust else just_opened(folder, dict(files))) or _checked(files, trust)
    if not found:
        return Doubts()
    parts = {path: one.part for path, one in found.items()}
    known = not trust and len(found) == len(files)
    to_keep = known and pays(sum(one.rows for one in parts.values()), len(parts))
    whole = Name(_WHOLE, _seal_of_all(folder, parts))
    together = _kept_together(folder, whole, parts.values()) if to_keep else None
    if together is None:
        together = _added_up(folder, found, _looks(folder, found, dict(files), to_keep))
        # What an older table's own mark says of its days was said on another day.
        if to_keep and all(PARTS.encode() in one.mark for one in found.values()):
            with writing(folder) as mine:
                if mine:
                    keep(folder, whole, together.to_table())
    if known:
        forget(folder, {whole.seal, *(one.seal for one in parts.values())})
    of_days = (one.rstrip(".") for one in odd_years(together.days))
    return replace(together.doubts, of_days=(*of_days, *together.doubts.of_days))


class _Together(NamedTuple):
    """What is in doubt about a folder, and its days: whether these have come is asked each time."""

    doubts: Doubts
    days: Mapping[str, int]

    def to_table(self) -> Any:
        import pyarrow as pa

        return pa.table({"doubts": [self.doubts.to_json()], "days": [json.dumps(self.days)]})


def _kept_together(folder: Path, name: Name, parts: Iterable[Sealed]) -> _Together | None:
    """Give what is kept of all parts together, if it can be what is in them."""
    from hitlab.pitches.doubts import Doubts

    try:
        doubts, days = _kept_texts(folder, name, "doubts", "days")
        of_days = {date.fromisoformat(day).isoformat(): int(rows) for day, rows in json.loads(days).items()}
        together = _Together(Doubts.from_json(doubts), of_days)
        rows = sum(part.rows for part in parts)
        return together if together.doubts.rows == rows >= sum(of_days.values()) else None
    except (AttributeError, KeyError, TypeError, ValueError):
        return None


def _kept_texts(folder: Path, name: Name, *columns: str) -> list[str]:
    """Give the texts of what is kept in one row."""
    table = kept(folder, name, 1)
    ((*texts,),) = zip(*(table.column(one).to_pylist() for one in columns), strict=True)
    return texts


def _looks(
    folder: Path, found: Mapping[Path, Told], stamps: Mapping[Path, tuple[int, ...]], to_keep: bool
) -> dict[Path, Seen]:
    """Give what each part shows, looking at older ones that do not tell it and of which it is not kept."""
    looks: dict[Path, Seen] = {}
    absent = {}
    for path, one in found.items():
        name = Name(_KIND, one.part.seal)
        look = _look_in(one.seen, one.part)
        if look is None and to_keep:
            look = _kept_look(folder, name, one.part)
        if look is None:
            look = _looked_at(path, stamps[path], one.part)
            absent[name] = look
        looks[path] = look
    if to_keep and absent:
        import pyarrow as pa

        with writing(folder) as mine:
            for name, look in absent.items() if mine else ():
                keep(folder, name, pa.table({"seen": [look.to_text()]}))
    return looks


def _kept_look(folder: Path, name: Name, part: Sealed) -> Seen | None:
    """Give what is kept of what a part shows, if it can be what is in it."""
    try:
        (text,) = _kept_texts(folder, name, "seen")
    except (AttributeError, KeyError, TypeError, ValueError):
        return None
    return _look_in(text, part)


def _look_in(text: str | bytes, part: Sealed) -> Seen | None:
    """Give what a text says that a part shows, if it can be what is in it."""
    from hitlab.pitches.seen import Seen

    try:
        seen = Seen.from_text(text)
        rows = [sum(some.values()) for some in (seen.names["hitter"], seen.days, seen.names.get("game", {}))]
        return seen if rows[0] == part.rows == max(rows) else None
    except (AttributeError, KeyError, TypeError, ValueError):
        return None


def _added_up(folder: Path, found: Mapping[Path, Told], looks: Mapping[Path, Seen]) -> _Together:
    """Add up what is in doubt about parts; what is odd about days is not in it."""
    from hitlab.pitches.doubts import said_of_parts
    from hitlab.pitches.parts import doubts_together
    from hitlab.pitches.seen import Seen

    of_files = {_called(path, folder): _parts(one, looks[path]) for path, one in found.items()}
    seen = Seen.together(list(looks.values()))
    order = list(seen.names.get("game", {}))
    doubts = doubts_together(_told_apart(of_files), replace(seen.odd, days=()), order)
    lacking = _lacking({path: one.part.columns for path, one in found.items()})
    blank = [(_called(path, folder), _said_of(some)) for path, some in lacking.items()]
    return _Together(replace(doubts, said=(*doubts.said, *said_of_parts(blank))), seen.days)


def _checked(files: Iterable[tuple[Path, tuple[int, ...]]], trust: bool) -> dict[Path, Told]:
    """Hold files against their checksums; give what is in those that somebody checked, and their marks."""
    from pyarrow import parquet

    found = {}
    for path, stamp in files:
        with regular(path) as file:
            demand_stamp(path, os.fstat(file.fileno()), stamp)
            sealed = verify(file, str(path))
            version, _ = version_in(file, str(path))
            if version != str(SCHEMA_VERSION):
                continue
            if sealed:
                file.seek(0)
                found[path] = _told(file, parquet.ParquetFile(file))
            elif not trust:
                demand_checked(file, path)  # which says what is wrong with it
    return found


def _told(file: BinaryIO, opened: Any) -> Told:
    """Give what stands in a part that is found to be as it was saved."""
    schema, metadata = opened.schema_arrow, opened.metadata
    part = Sealed(seal_of(file), metadata.num_rows, tuple(schema.names))
    return Told(part, schema.metadata or {}, (metadata.metadata or {}).get(SEEN.encode(), b""))


def _called(path: Path, folder: Path) -> str:
    return path.relative_to(folder).as_posix()


def _looked_at(path: Path, stamp: tuple[int, ...], part: Sealed) -> Seen:
    """Look at names, days and speeds of a part."""
    from pyarrow import parquet

    with regular(path) as file:
        demand_stamp(path, os.fstat(file.fileno()), stamp)
        schema = parquet.read_schema(file)
        there = [name for name in ODD_BY if name in part.columns]
        texts = [name for name in there if _kind_of(schema.field(name).type) == _TEXTS]
        file.seek(0)
        # Codes of a dictionary in place of texts: each name is looked at once.
        table = parquet.ParquetFile(file, read_dictionary=texts).read(columns=there).unify_dictionaries()
    return seen_in_table(table)


def _parts(one: Told, seen: Seen) -> list[Part]:
    """Give what is remembered of each reading of a part; older tables remember less."""
    from hitlab.pitches.doubts import Odd
    from hitlab.pitches.parts import parts_in_mark

    if PARTS.encode() in one.mark:
        return parts_in_mark(one.mark, {}, Odd())
    return parts_in_mark(one.mark, seen.games(one.part.rows), seen.odd)


def _told_apart(of_files: Mapping[str, Sequence[Part]]) -> list[Part]:
    """Call parts by their files where what they were read from is called alike."""
    sources = Counter(source for parts in of_files.values() for source in {part.source for part in parts})
    return [
        replace(part, source=name) if sources[part.source] > 1 else part
        for name, parts in of_files.items()
        for part in parts
    ]


def _said_of(lacking: Sequence[str]) -> list[str]:
    """Say what it means that a part lacks columns of others."""
    said = [
        f"no {one}: the {of}'s name stands in for it, and who has an id in another part counts as two"
        for one, of in _IDS
        if one in lacking
    ]
    ids = {one for one, _ in _IDS}
    blank = [shown_name(name) for name in lacking if name not in ids]
    more = [f"{len(blank) - _NAMED:,} more"] if len(blank) > _NAMED else []
    return [*said, f"no {listed([*blank[:_NAMED], *more])}, blank there"] if blank else said
