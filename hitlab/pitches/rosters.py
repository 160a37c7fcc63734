"""Jersey numbers and nicknames turned into names by a roster; spellings that may be one name.

A roster is a table with the columns ``name``, and where they are known ``number``, ``nickname`` (several with
commas between them), ``side``, ``class`` and ``club``. A number that is not in it stays a number and is
listed; a spelling that is merely near a name is proposed, and never taken for it.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError, UnknownHitterError
from hitlab.names import find_name
from hitlab.names import fold as plain_name
from hitlab.pitches.cells import Cells, source_cells
from hitlab.pitches.mapping import Mapping, even, fold, nearest
from hitlab.pitches.origin import Bounds

__all__ = ["Resolved", "Roster", "line_for", "load_roster", "near_names", "number_in"]

COLUMNS = ("number", "name", "nickname", "side", "class", "club")
"""Columns of a roster; all but ``name`` may be missing."""

_SIDES = {"r": "right", "right": "right", "l": "left", "left": "left"}
_BOTH_SIDES = {"s", "b", "switch", "both", ""}
_NUMBER = re.compile(r"(?:#|no\.?|nr\.?|num\.?|number|jersey)?\s*#?\s*([0-9]{1,3})(?:\.0)?", re.IGNORECASE)
_NUMBER_AND_NAME = re.compile(r"(?:#|no\.?|nr\.?)?\s*([0-9]{1,3})[\s.,:)-]+(\D+)", re.IGNORECASE)
_MOST_NAMES = 1_000  # a comparison of all with all beyond it takes long and says little (a default)
_SHORTEST = 4
_ALIKE = 84.0  # likeness of two spellings, of 100, from which they may be one name (a default)


def number_in(text: str) -> str | None:
    """Give the jersey number that a cell is; None where it is none.

    0 and 00 are two numbers, and 07 is 7.

    Parameters
    ----------
    text
        The cell.

    Examples
    --------
    >>> number_in("#12"), number_in("No. 7"), number_in("00"), number_in("Smitty")
    ('12', '7', '00', None)
    """
    found = _NUMBER.fullmatch(text.strip())
    return None if found is None else _plain_number(found[1])


def _plain_number(digits: str) -> str:
    return digits if set(digits) == {"0"} else digits.lstrip("0")


@dataclass(frozen=True, slots=True)
class _Player:
    row: int
    name: str
    number: str
    nicknames: tuple[str, ...]
    side: str
    year: str
    club: str

    @property
    def called(self) -> str:
        number = f"number {self.number}, " if self.number else ""
        return f"{self.name} ({number}row {self.row})"


@dataclass(frozen=True, slots=True)
class Resolved:
    """What became of the cells of names.

    Attributes
    ----------
    cells
        Names in the place of numbers and nicknames.
    problems
        One reason for each of its texts; empty where nothing is wrong.
    said
        Sentences about what was done.
    unknown
        Text that the roster does not have -> rows.
    """

    cells: Cells
    problems: list[str]
    said: tuple[str, ...]
    unknown: dict[str, int]


@dataclass(frozen=True, eq=False)
class Roster:
    """A roster that was read and checked.

    Attributes
    ----------
    name
        What to call it in messages.
    players
        One for each of its rows.
    """

    name: str
    players: tuple[_Player, ...]
    _known: dict[tuple[str, str], str] = field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """Every name."""
        return tuple(dict.fromkeys(player.name for player in self.players))

    def resolve(self, cells: Cells, clubs: Cells | None, mapping: Mapping) -> Resolved:
        """Turn numbers and nicknames into names.

        Parameters
        ----------
        cells
            Cells of the hitters.
        clubs
            Cells of their clubs, where there are any: they tell two of one number apart.
        mapping
            Its words for ``hitter`` come first.
        """
        width = 1 if clubs is None else len(clubs.texts)
        pairs = cells.codes * width + (0 if clubs is None else clubs.codes)
        distinct, codes = np.unique(pairs, return_inverse=True)
        times = np.bincount(codes, minlength=len(distinct))
        words = mapping.words.get("hitter", {})
        told: list[tuple[str, str]] = []
        became: dict[tuple[str, str], int] = {}
        unknown: dict[str, int] = {}
        for pair, many in zip(distinct.tolist(), times.tolist(), strict=True):
            text = cells.texts[pair // width]
            club = "" if clubs is None else clubs.texts[pair % width]
            text = words.get(fold(text), text) if text.strip() else text
            if not text.strip() or fold(text) in mapping.missing:
                told.append((text, ""))
                continue
            name, problem, known = self._one(text, club)
            told.append((name, problem))
            if problem:
                continue
            if not known:
                unknown[name] = unknown.get(name, 0) + many
            elif fold(name) != fold(text):
                became[text.strip(), name] = became.get((text.strip(), name), 0) + many
        said: tuple[str, ...] = ()
        if became:
            often = sorted(became.items(), key=lambda item: -item[1])
            listed = ", ".join(f"{text!r} -> {name} ({many:,})" for (text, name), many in often[:_LISTED])
            rest = f", ... and {len(often) - _LISTED:,} more" if len(often) > _LISTED else ""
            said = (f"Names by {self.name}: {listed}{rest}.",)
        names = [name for name, _ in told]
        reasons = [problem for _, problem in told]
        return Resolved(Cells(codes.astype(np.int64), [*names, ""]), [*reasons, ""], said, unknown)

    def _one(self, text: str, club: str) -> tuple[str, str, bool]:
        """Name of a cell, what is wrong with it, and whether the roster has it."""
        number = number_in(text)
        if number is not None:
            found = self._by_number(number, club)
            if len(found) == 1:
                return found[0].name, "", True
            if found:
                both = " and ".join(player.called for player in found[:3])
                return text, f"a number of two in the roster: {both}", False
            return f"#{number}", "", False
        both_said = _NUMBER_AND_NAME.fullmatch(text.strip())
        if both_said is not None:
            name, known = self._by_name(both_said[2], club)
            found = self._by_number(_plain_number(both_said[1]), club)
            if found and known and name not in {player.name for player in found}:
                return text, f"a number and a name of two in the roster: {found[0].called} and {name}", False
            if known:
                return name, "", True
            if len(found) == 1:  # a slip in the name beside a good number is still two things that differ
                return text, f"a number of {found[0].called} with a name that the roster does not have", False
            return even(text), "", False
        name, known = self._by_name(text, club)
        return name, "", known

    def _by_number(self, number: str, club: str) -> list[_Player]:
        found = [player for player in self.players if player.number == number]
        of_club = [player for player in found if player.club and fold(player.club) == fold(club)]
        return of_club or found

    def _by_name(self, text: str, club: str) -> tuple[str, bool]:
        key = (fold(text), fold(club))
        if key not in self._known:
            self._known[key] = self._found(text, club)
        name = self._known[key]
        return (name, True) if name else (even(text), False)

    def _found(self, text: str, club: str) -> str:
        wanted = plain_name(text)
        by_nickname = {player.name for player in self.players if wanted in map(plain_name, player.nicknames)}
        exact = {player.name for player in self.players if plain_name(player.name) == wanted}
        if len(exact | by_nickname) == 1:
            return next(iter(exact | by_nickname))
        if exact or by_nickname:
            return ""
        of_club = [player.name for player in self.players if player.club and fold(player.club) == fold(club)]
        for among in (of_club, list(self.names)):
            try:
                return among[find_name(text, among)]
            except UnknownHitterError:
                continue
        return ""

    def sides(self) -> dict[str, str]:
        """Name -> side of the plate, of those whose side is known and who have a name of their own."""
        return self._of("side")

    def classes(self) -> dict[str, str]:
        """Name -> class, likewise."""
        return self._of("year")

    def _of(self, what: str) -> dict[str, str]:
        found: dict[str, set[str]] = {}
        for player in self.players:
            found.setdefault(player.name, set()).add(getattr(player, what))
        return {name: next(iter(told)) for name, told in found.items() if len(told) == 1 and next(iter(told))}


_LISTED = 40


def load_roster(roster: str | os.PathLike[str] | pd.DataFrame | Roster | None) -> Roster | None:
    """Read and check a roster.

    Parameters
    ----------
    roster
        Path of a text file or a workbook, a data frame, a roster that was read, or None.

    Returns
    -------
    Roster or None
        None for None.

    Raises
    ------
    ReadingError
        Where it cannot be read, has no column ``name``, a side that is none, or two of one number in one
        club; both rows are named.

    Examples
    --------
    >>> roster = load_roster(pd.DataFrame({"number": [12, 7], "name": ["Ada Frusk", "Bea Plome"]}))
    >>> roster.names
    ('Ada Frusk', 'Bea Plome')
    """
    if roster is None or isinstance(roster, Roster):
        return roster
    from hitlab.pitches.sources import open_source

    try:
        if isinstance(roster, str | os.PathLike):
            # Its names of columns tell where its header is.
            rules = Mapping(name="the roster", keep=COLUMNS)
            source = _table_of(roster, rules)
        else:
            source = open_source(roster, Mapping())
    except ReadingError as error:
        raise ReadingError(f"The roster cannot be read: {error}") from error
    places = {fold(name): place for place, name in reversed(list(enumerate(source.columns)))}
    if "name" not in places:
        near = nearest("name", source.columns)
        hint = f" Nearest: {near!r}." if near else ""
        raise ReadingError(
            f"The roster {source.name} has no column 'name'.{hint} Its columns may be {', '.join(COLUMNS)}; "
            "it "
            f"has {', '.join(map(repr, source.columns[:12]))}."
        )
    texts = {}
    for name in COLUMNS:
        if name in places:
            cells = source_cells(name, source.table.column(places[name]))
            texts[name] = [even(cells.texts[code]) for code in cells.codes]
        else:
            texts[name] = [""] * source.table.num_rows
    lines = source.lines(source.rows) if source.lines is not None else None
    if lines is None:
        lines = source.where(source.rows)["row"].to_numpy() if source.parts else source.rows
    players = []
    for at, row in enumerate(lines.tolist()):
        if texts["name"][at]:
            players.append(_player({name: texts[name][at] for name in COLUMNS}, row, source.name))
    if not players:
        raise ReadingError(f"The roster {source.name} has no name in it.")
    _refuse_two_of_a_number(players, source.name)
    return Roster(source.name, tuple(players))


def _table_of(path: str | os.PathLike[str], rules: Mapping) -> Any:
    from hitlab.pitches.files import open_pieces

    pieces = open_pieces(path, rules, Bounds())
    for _, one in pieces.parts:
        if "name" in map(fold, one.columns):
            return one
    if not pieces.parts:
        raise ReadingError(f"{path} has no sheet with a table in it.")
    return pieces.parts[0][1]


def _player(told: dict[str, str], row: int, name: str) -> _Player:
    number = ""
    if told["number"]:
        found = number_in(told["number"])
        if found is None:
            raise ReadingError(
                f"The roster {name}, row {row}: {told['number']!r} is no number of a jersey. Such as 12 or "
                "00."
            )
        number = found
    side = fold(told["side"])
    if side not in _SIDES and side not in _BOTH_SIDES:
        raise ReadingError(
            f"The roster {name}, row {row}: {told['side']!r} is no side. Write R, L, or S for both."
        )
    nicknames = tuple(even(one) for one in re.split(r"[,;/]", told["nickname"]) if one.strip())
    return _Player(row, told["name"], number, nicknames, _SIDES.get(side, ""), told["class"], told["club"])


def _refuse_two_of_a_number(players: Sequence[_Player], name: str) -> None:
    seen: dict[tuple[str, str], _Player] = {}
    for player in players:
        if not player.number:
            continue
        key = (player.number, fold(player.club))
        before = seen.setdefault(key, player)
        if before is not player:
            raise ReadingError(
                f"The roster {name} has two of number {player.number}: {before.called} and {player.called}. "
                "A "
                "column 'club' tells numbers of two clubs apart; else write the number that is right."
            )


def near_names(counts: dict[str, int], known: Sequence[str] = ()) -> list[tuple[str, str, int]]:
    """Find spellings that may be one name.

    Parameters
    ----------
    counts
        Name -> rows.
    known
        Names that are sure to be names; these are taken for nobody else's.

    Returns
    -------
    list of tuple
        A spelling, the name that it may be, and rows of the spelling; the most frequent first.
    """
    from rapidfuzz import fuzz, process

    sure = {plain_name(name) for name in known}
    names = sorted(
        {*counts, *known}, key=lambda name: (plain_name(name) not in sure, -counts.get(name, 0), name)
    )
    if not 1 < len(names) <= _MOST_NAMES:
        return []
    forms = [plain_name(name) for name in names]
    likeness = process.cdist(forms, forms, scorer=fuzz.ratio, score_cutoff=_ALIKE, workers=1)
    found = []
    for at in range(1, len(names)):
        # A number is near many others and is none of them.
        if len(forms[at]) < _SHORTEST or forms[at] in sure or number_in(names[at]) is not None:
            continue
        before = likeness[at, :at]
        best = int(before.argmax())
        if before[best] >= _ALIKE and number_in(names[best]) is None:
            found.append((names[at], names[best], counts.get(names[at], 0)))
    return sorted(found, key=lambda one: -one[2])


def line_for(spelling: str, name: str) -> str:
    """Write the line of a mapping that makes one name of two."""
    return f"{json.dumps(spelling, ensure_ascii=False)} = {json.dumps(name, ensure_ascii=False)}"
