"""Jersey numbers and nicknames turned into names by a roster; spellings that may be one name.

A roster is a table with the columns ``name``, and where they are known ``number``, ``nickname`` (several with
commas between them), ``side``, ``class`` and ``club``. A number that is not in it stays a number and is
listed; a spelling that is merely near a name is proposed, and never taken for it.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import numpy as np
import pandas as pd

from hitlab.errors import ReadingError, UnknownHitterError
from hitlab.names import find_name
from hitlab.names import fold as plain_name
from hitlab.pitches.cells import Cells, Judged, source_cells, spanned
from hitlab.pitches.lookalikes import looks, strange_signs
from hitlab.pitches.mapping import Mapping, nearest
from hitlab.pitches.origin import Bounds
from hitlab.pitches.sources import TEXT
from hitlab.pitches.wordforms import even, fold, in_toml, one_spelling

__all__ = [
    "Resolved",
    "Roster",
    "counted_names",
    "line_for",
    "load_roster",
    "near_names",
    "number_in",
    "told_apart",
]

COLUMNS = ("number", "name", "nickname", "side", "class", "club")
"""Columns of a roster; all but ``name`` may be missing."""

_ONCE = ("side", "class", "club")
_SIDES = {"r": "right", "right": "right", "l": "left", "left": "left"}
_BOTH_SIDES = {"s", "b", "switch", "both", ""}
_NUMBER = re.compile(r"(?:#|no\.?|nr\.?|num\.?|number|jersey)?\s*#?\s*([0-9]{1,3})(?:\.0)?", re.IGNORECASE)
_NUMBER_AND_NAME = re.compile(r"(?:#|no\.?|nr\.?)?\s*([0-9]{1,3})[\s.,:)-]+(\D+)", re.IGNORECASE)
_DIGITS = re.compile(r"[0-9]+")
_MOST_NAMES = 1_000  # a comparison of all with all beyond it takes long and says little (a default)
_SHORTEST = 4
_ALIKE = 84.0  # likeness of two spellings, of 100, from which they may be one name (a default)
_MANY = (
    50  # rows from which, on both sides, two near names are two people: no slip comes so often (a default)
)


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
    """What became of the hitters.

    Attributes
    ----------
    judged
        Names in the place of numbers and nicknames.
    said
        Sentences about what was done.
    alerts
        What seems to be wrong with the whole.
    unknown
        Text that the roster does not have -> rows.
    """

    judged: Judged
    said: tuple[str, ...]
    alerts: tuple[str, ...]
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

    def resolve(self, hitter: Judged, club: Judged | None) -> Resolved:
        """Turn numbers and nicknames into names.

        Parameters
        ----------
        hitter
            The hitters, as the words of the mapping made them.
        club
            Their clubs likewise, where there are any: they tell two of one number apart.
        """
        names = ["" if pd.isna(name) else str(name) for name in hitter.values]
        clubs = [""] if club is None else ["" if pd.isna(name) else str(name) for name in club.values]
        pairs = hitter.cells.codes * len(clubs) + (0 if club is None else club.cells.codes)
        distinct, codes = np.unique(pairs, return_inverse=True)
        times = np.bincount(codes, minlength=len(distinct))
        told: list[str | None] = []
        problems: list[str] = []
        texts: list[str] = []
        became: dict[tuple[str, str], int] = {}
        unknown: dict[str, int] = {}
        for pair, many in zip(distinct.tolist(), times.tolist(), strict=True):
            place = pair // len(clubs)
            text, problem = names[place], str(hitter.problems[place])
            name, known = text, True
            if text:
                name, problem, known = self._one(text, clubs[pair % len(clubs)])
            texts.append(hitter.cells.texts[place])
            told.append(name if name and not problem else None)
            problems.append(problem)
            if not known and not problem:
                unknown[name] = unknown.get(name, 0) + many
            elif not problem and fold(name) != fold(text):
                became[text, name] = became.get((text, name), 0) + many
        said: tuple[str, ...] = ()
        if became:
            often = sorted(became.items(), key=lambda item: -item[1])
            listed = ", ".join(f"{text!r} -> {name} ({many:,})" for (text, name), many in often[:_LISTED])
            rest = f", ... and {len(often) - _LISTED:,} more" if len(often) > _LISTED else ""
            said = (f"Names by {self.name}: {listed}{rest}.",)
        judged = replace(
            hitter,
            cells=Cells(codes.reshape(-1).astype(np.int64), [*texts, ""]),
            values=pd.Series(pd.array([*told, None], dtype=TEXT)),
            problems=np.array([*problems, ""], dtype=object),
        )
        return Resolved(judged, said, self._other_clubs(clubs), unknown)

    def _other_clubs(self, clubs: Iterable[str]) -> tuple[str, ...]:
        """Say that no club of a table is in the roster: then nobody is found by it."""
        here = {fold(club): club for club in clubs if club}
        there = {fold(player.club): player.club for player in self.players if player.club}
        if not here or not there or here.keys() & there.keys():
            return ()
        return (
            f"No club of the table ({', '.join(list(here.values())[:_FEW])}) is one of {self.name} "
            f"({', '.join(list(there.values())[:_FEW])}), so that nobody of a club is found in it. If they "
            "are called otherwise, say so in the mapping, under [words.club].",
        )

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
        return _of_club([player for player in self.players if player.number == number], club)

    def _by_name(self, text: str, club: str) -> tuple[str, bool]:
        key = (fold(text), fold(club))
        if key not in self._known:
            self._known[key] = self._found(text, club)
        name = self._known[key]
        return (name, True) if name else (even(text), False)

    def _found(self, text: str, club: str) -> str:
        wanted = plain_name(text)
        named = [player for player in self.players if plain_name(player.name) == wanted]
        named += [player for player in self.players if wanted in map(plain_name, player.nicknames)]
        if named:
            found = {player.name for player in _of_club(named, club)}
            return next(iter(found)) if len(found) == 1 else ""
        own = [player for player in self.players if _plays_for(player, club)]
        free = [player for player in self.players if not (player.club and club)]
        for players in (own, [*own, *free]):
            names = list(dict.fromkeys(player.name for player in players))
            try:
                return names[find_name(text, names)]
            except UnknownHitterError:
                continue
        return ""

    def has(self, text: str) -> bool:
        """Say whether a number, a nickname or a name is one player's, whatever the club."""
        return self._one(text, "")[2]

    def clubs(self) -> dict[str, set[str]]:
        """Name -> folded clubs of those who bear it, where they are known."""
        found: dict[str, set[str]] = {}
        for player in self.players:
            if player.club:
                found.setdefault(player.name, set()).add(fold(player.club))
        return found

    def sides(self, hitters: pd.Series, clubs: pd.Series | None) -> pd.Series:
        """Give the side of the plate of each hitter; missing where it is not known, or two of a name differ.

        Parameters
        ----------
        hitters
            Their names.
        clubs
            Their clubs, where there are any.
        """
        return self._of(hitters, clubs, "side")

    def classes(self, hitters: pd.Series, clubs: pd.Series | None) -> pd.Series:
        """Give the class of each hitter, likewise.

        Parameters
        ----------
        hitters, clubs
            As for :meth:`sides`.
        """
        return self._of(hitters, clubs, "year")

    def clubs_of(self, hitters: pd.Series, clubs: pd.Series | None, here: Sequence[str]) -> pd.Series:
        """Give the club of each hitter, likewise, and as the table spells it.

        Of nobody where no club of the table is one of these: they are called otherwise there, and one club
        would become two.

        Parameters
        ----------
        hitters, clubs
            As for :meth:`sides`.
        here
            The clubs of the whole table, of which these rows may be a piece.
        """
        if self._other_clubs(here):
            return pd.Series(None, hitters.index, TEXT)
        spelled = {fold(club): club for club in reversed(here)}
        found = self._of(hitters, clubs, "club")
        names = {club: spelled.get(fold(club), club) for club in found.dropna().unique()}
        return found.map(names).astype(TEXT)

    def _of(self, hitters: pd.Series, clubs: pd.Series | None, what: str) -> pd.Series:
        who, names = pd.factorize(hitters)
        where, of_clubs = pd.factorize(pd.Series(None, hitters.index, TEXT) if clubs is None else clubs)
        width = len(of_clubs) + 1
        distinct, codes = np.unique((who + 1) * width + where + 1, return_inverse=True)
        found: list[str | None] = []
        for pair in distinct.tolist():
            name, club = pair // width - 1, pair % width - 1
            players = [player for player in self.players if name >= 0 and player.name == names[name]]
            told = {
                getattr(player, what) for player in _of_club(players, of_clubs[club] if club >= 0 else "")
            }
            found.append((next(iter(told)) or None) if len(told) == 1 else None)
        values = pd.array([*found, None], dtype=TEXT).take(codes.reshape(-1))
        return pd.Series(values, index=hitters.index)


def _of_club(players: Iterable[_Player], club: str) -> list[_Player]:
    """Those of a club, else those of no club that is known: who plays for another is somebody else."""
    players = list(players)
    own = [player for player in players if _plays_for(player, club)]
    return own or [player for player in players if not (player.club and club)]


def _plays_for(player: _Player, club: str) -> bool:
    return bool(player.club) and fold(player.club) == fold(club)


_LISTED = 40
_FEW = 3


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
            f"it has {', '.join(map(repr, source.columns[:12]))}."
        )
    texts = {}
    for name in COLUMNS:
        if name in places:
            cells = source_cells(name, source.table.column(places[name]))
            if name in _ONCE:  # a club is written once for its players
                spans = [(first, last) for place, first, last in source.merged if place == places[name]]
                cells = spanned(cells, source.rows, spans)
            texts[name] = [one_spelling(cells.texts[code]) for code in cells.codes]
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
                "A column 'club' tells numbers of two clubs apart; else write the number that is right."
            )


def counted_names(hitter: Judged) -> dict[str, int]:
    """Count the rows of each name.

    Parameters
    ----------
    hitter
        The hitters.
    """
    times = np.bincount(hitter.cells.codes, minlength=len(hitter.cells.texts))
    counts: dict[str, int] = {}
    for value, many in zip(hitter.values, times.tolist(), strict=False):
        if many and isinstance(value, str):
            counts[value] = counts.get(value, 0) + many
    return counts


def near_names(
    counts: dict[str, int], known: Sequence[str] = (), apart: Callable[[str, str], bool] | None = None
) -> list[tuple[str, str, int]]:
    """Find spellings that may be one name.

    Parameters
    ----------
    counts
        Name -> rows. Two of many rows each are two people, unless they look the same or one has an initial.
    known
        Names that are sure to be names; these are taken for nobody else's.
    apart
        Says of two names whether something tells that they are two people.

    Returns
    -------
    list of tuple
        A spelling, the name that it may be, and rows of the spelling; the most frequent first.
    """
    from rapidfuzz import fuzz, process

    sure = {plain_name(name) for name in known}
    names = sorted(
        {*counts, *known},
        key=lambda name: (plain_name(name) not in sure, -counts.get(name, 0), strange_signs(name), name),
    )
    if not 1 < len(names) <= _MOST_NAMES:
        return []
    forms = [plain_name(name) for name in names]
    seen = [looks(name) for name in names]
    drawn = [plain_name(look) for look in seen]
    likeness = process.cdist(drawn, drawn, scorer=fuzz.ratio, score_cutoff=_ALIKE, workers=1)
    found = []
    for at in range(1, len(names)):
        # A number is near many others and is none of them.
        if len(forms[at]) < _SHORTEST or forms[at] in sure or number_in(names[at]) is not None:
            continue
        before = likeness[at, :at]
        for best in np.argsort(-before, kind="stable").tolist():
            if before[best] < _ALIKE:
                break
            other = names[best]
            same = seen[at] == seen[best]
            often = min(counts.get(names[at], 0), counts.get(other, 0)) >= _MANY
            numbers = [_DIGITS.findall(name) for name in (names[at], other)]
            # What looks the same is typed so by one who charts, and often; two numbers are two.
            if not same and (often or (all(numbers) and numbers[0] != numbers[1])):
                continue
            # An initial is no slip of a first name, nor of another initial.
            if not same and _initial(drawn[at]) != _initial(drawn[best]):
                continue
            if number_in(other) is None and not (apart and apart(names[at], other)):
                found.append((names[at], other, counts.get(names[at], 0)))
                break
    near = {one for one, _, _ in found}
    left = {name: form for name, form in zip(names, drawn, strict=True) if name not in near}
    found += _initials(left, sure, counts, apart)
    return sorted(found, key=lambda one: -one[2])


def _initial(form: str) -> str:
    """Return the letter that stands in place of a first name; nothing where there is none."""
    first, _, rest = form.partition(" ")
    return first if len(first) == 1 and rest else ""


def _initials(
    forms: dict[str, str],
    sure: set[str],
    counts: dict[str, int],
    apart: Callable[[str, str], bool] | None,
) -> list[tuple[str, str, int]]:
    """Find names with an initial that may stand for one whole name, and for no second one."""
    whole: dict[tuple[str, str], list[str]] = {}
    short: dict[str, tuple[str, str]] = {}
    for name, form in forms.items():
        first, _, rest = form.partition(" ")
        if not _initial(form) and rest:
            whole.setdefault((first[:1], rest), []).append(name)
        elif rest and plain_name(name) not in sure:
            short[name] = (first, rest)
    return [
        (name, whole[key][0], counts.get(name, 0))
        for name, key in short.items()
        if len(whole.get(key, [])) == 1 and not (apart and apart(name, whole[key][0]))
    ]


def told_apart(
    hitter: Judged, identity: Judged | None, club: Judged | None, roster: Roster | None
) -> Callable[[str, str], bool]:
    """Make the function that says whether two names are two people, for their ids or clubs differ.

    Parameters
    ----------
    hitter, identity, club
        The hitters, their ids and their clubs, where there are any.
    roster
        Its clubs, too.
    """

    @cache
    def known() -> list[dict[str, set[str]]]:  # only once two names are near
        by_roster = {} if roster is None else roster.clubs()
        clubs = {name: set(those) for name, those in by_roster.items()}
        for name, those in _beside(hitter, club).items():
            clubs.setdefault(name, set()).update(those)
        return [_beside(hitter, identity), clubs]

    def apart(one: str, other: str) -> bool:
        return any(one in told and other in told and told[one].isdisjoint(told[other]) for told in known())

    return apart


def _beside(hitter: Judged, other: Judged | None) -> dict[str, set[str]]:
    """Name -> what stands beside it in another column, folded."""
    found: dict[str, set[str]] = {}
    if other is None:
        return found
    width = len(other.cells.texts)
    for pair in np.unique(hitter.cells.codes * width + other.cells.codes).tolist():
        name, what = hitter.values.iloc[pair // width], other.values.iloc[pair % width]
        if isinstance(name, str) and isinstance(what, str):
            found.setdefault(name, set()).add(fold(what))
    return found


def line_for(spelling: str, name: str) -> str:
    """Write the line of a mapping that makes one name of two."""
    return f"{in_toml(spelling)} = {in_toml(name)}"
