"""Which of our columns a chart's columns fill, by what stands over them and in them."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from collections.abc import Mapping as AnyMapping
from datetime import date, timedelta

from hitlab.errors import ReadingError
from hitlab.pitches.chart_words import KINDS, OTHERS, WORDS
from hitlab.pitches.dates import read_day
from hitlab.pitches.heading_words import COUNT, HEADINGS, apart, plain
from hitlab.pitches.identity import NOTHING
from hitlab.pitches.in_shapes import bases_told, half_inning
from hitlab.pitches.mapping import Mapping, Split, accepted_units, fold
from hitlab.pitches.origin import Source
from hitlab.pitches.rosters import Roster, number_in
from hitlab.pitches.schema import BASES, COLUMNS, ENDING_OUTCOMES, PITCH_KINDS, SWING_OUTCOMES, TAKE_OUTCOMES
from hitlab.pitches.suggesting import KNOWN
from hitlab.pitches.telling import tell
from hitlab.pitches.words_abroad import OTHERS_ABROAD, WORDS_ABROAD

__all__ = ["columns_by_cells", "columns_by_name", "half_innings", "told_columns", "unit_in"]

_SEASON = timedelta(days=366)  # days that lie further apart may be days of birth (a default)
_MOSTLY = 0.3  # of the rows of a column understood, for it to tell outcomes (a default)

# SL and FB are pitches thrown as well as what became of them: they make no column one of outcomes.
_KINDS = {fold(word) for words in KINDS.values() for word in words}

# What ends no turn at bat is on every sheet, only foul tips are not.
_USUAL = {*SWING_OUTCOMES, *TAKE_OUTCOMES}.difference(ENDING_OUTCOMES, ("foul tip",))
_OF_EVERY_PITCH = {
    fold(word) for told in _USUAL for word in (told, *WORDS[told], *WORDS_ABROAD.get(told, ()))
}


def unit_in(name: str, target: str) -> str | None:
    """Give the unit of what stands under a heading, ours where it tells none; None where ours has no such."""
    own, told = COLUMNS[target].unit, apart(fold(name))[1]
    if not told:
        return own or ""
    return told if own and told in accepted_units(target) else None


def _share_of_outcomes(counts: dict[str, int]) -> float:
    """Share of the rows whose word says what a pitch became; 0 where all say how a plate appearance ended."""
    if not any(fold(text) in _OF_EVERY_PITCH for text in counts):
        return 0.0
    told = {text for text in counts if fold(text) in KNOWN or isinstance(tell(text), dict)}
    return sum(counts[text] for text in told if fold(text) not in _KINDS) / sum(counts.values())


def told_columns(origin: Source, rules: Mapping) -> tuple[dict[int, tuple[str, ...]], dict[int, Split]]:
    """Give what a mapping says of the columns, and which it takes apart, by their places.

    Parameters
    ----------
    origin
        The source.
    rules
        The mapping.

    Raises
    ------
    ReadingError
        Where it names a column that is not there.
    """
    places = {fold(name): place for place, name in reversed(list(enumerate(origin.columns)))}
    unknown = [name for name in (*rules.columns, *rules.split) if fold(name) not in places]
    if unknown:
        raise ReadingError(
            f"{rules.name} names the column {unknown[0]!r}, which {origin.name} does not have. Its columns: "
            f"{', '.join(repr(name) for name in origin.columns if name)}."
        )
    told = {places[fold(name)]: targets for name, targets in rules.columns.items()}
    return told, {places[fold(name)]: split for name, split in rules.split.items()}


def half_innings(names: list[str], counts: list[dict[str, int]], taken: Collection[int]) -> list[int]:
    """Give the places of the columns whose cells tell an inning and its half together.

    Parameters
    ----------
    names, counts
        What stands over each column, and its texts with their rows.
    taken
        Places of those that are something else.
    """
    return [
        place
        for place, name in enumerate(names)
        if place not in taken and counts[place] and plain(name) in HEADINGS["inning"]
        if all(half_inning(text) for text in counts[place])
    ]


def columns_by_name(
    names: list[str],
    counts: list[dict[str, int]],
    told: AnyMapping[int, tuple[str, ...]],
    apart_already: Collection[int],
) -> tuple[dict[int, str], list[int]]:
    """Say which of ours each column fills, as far as its name and its cells say; and which holds the count.

    Parameters
    ----------
    names, counts
        What stands over each column, and its texts with their rows.
    told
        What a mapping says of them, by their places.
    apart_already
        Places of those that it takes apart.
    """
    called = [plain(name) for name in names]
    found = {place: targets[0] for place, targets in told.items() if targets[0] in COLUMNS}
    settled = {*told, *apart_already}
    split: list[int] = []
    taken = {target for targets in told.values() for target in targets}
    if "outcome" not in map(fold, names) and "outcome" not in taken:
        # What a column tells counts for more than its name: "result" is what many call every pitch's.
        telling = [_share_of_outcomes(one) for one in counts]
        free = [at for at in range(len(names)) if at not in settled]
        best = max(free, key=lambda at: telling[at], default=-1)
        so_called = best >= 0 and called[best] in (*HEADINGS["outcome"], "result")
        if best >= 0 and (telling[best] >= _MOSTLY or (so_called and telling[best])):
            found[best] = "outcome"
            taken.add("outcome")
    for place, name in enumerate(names):  # ours as they stand
        if place in found or place in settled:
            continue
        # "Pitch" is our number of it, and over words what was thrown.
        unlike = fold(name) in _NUMBERED and bool(counts[place]) and not _few_numbers(counts[place])
        if fold(name) in COLUMNS and fold(name) not in taken and not unlike:
            found[place] = fold(name)
            taken.add(fold(name))
    for target, spellings in HEADINGS.items():
        if target in taken:
            continue
        for spelling in spellings:
            wanted = spelling.strip(" ?#")
            there = [at for at, one in enumerate(called) if one == wanted and at not in {*found, *settled}]
            if spelling in _NO_NUMBERS.get(target, ()):
                there = [at for at in there if not _numeric(counts[at])]
            there = [at for at in there if unit_in(names[at], target) is not None]
            fits = _FITS.get(target, _anything)
            there = [at for at in there if fits(counts[at])]
            if there:
                found[there[0]] = target
                taken.add(target)
                break
    for place, name in enumerate(called):
        if name in COUNT and place not in {*found, *settled} and not {"balls", "strikes"} & taken:
            split.append(place)
            break
    return found, split


def columns_by_cells(
    counts: list[dict[str, int]], free: Collection[int], open_ones: Collection[str], roster: Roster | None
) -> tuple[dict[int, str], dict[int, tuple[str, str]]]:
    """Say what columns are by their cells alone; and what they may be, with the reason.

    Parameters
    ----------
    counts
        The texts of each column with their rows.
    free
        Places of those whose names say nothing.
    open_ones
        Our columns that none fills.
    roster
        Where there is one.
    """
    found: dict[int, str] = {}
    may_be: dict[int, tuple[str, str]] = {}
    if "date" in open_ones:
        days = {at: _days(counts[at]) for at in free}
        dated = [at for at in free if days[at]]
        if len(dated) == 1 and max(days[dated[0]]) - min(days[dated[0]]) < _SEASON:
            found[dated[0]] = "date"
        may_be |= {at: ("date", "all are days") for at in dated if at not in found}
    if "hitter" in open_ones and roster is not None:
        known = [at for at in free if counts[at] and all(map(roster.has, counts[at]))]
        # A number may as well be that of a pitch or of a turn at bat.
        named = [at for at in known if not any(map(number_in, counts[at]))]
        if len(named) == 1:
            found[named[0]] = "hitter"
        else:
            may_be |= dict.fromkeys(known, ("hitter", "all are in the roster"))
    return found, may_be


def _days(texts: Iterable[str]) -> list[date]:
    """Give the days that texts are, written year first; none where one is no day."""
    found = []
    for text in texts:
        day = read_day(text, None)[0]
        if day is None:
            return []
        found.append(day)
    return found


def _anything(_: dict[str, int]) -> bool:
    return True


def _numeric(counts: dict[str, int], sign: str = "") -> bool:
    told = [text for text in counts if fold(text) not in NOTHING]
    return bool(told) and all(re.fullmatch(rf"{sign}[0-9]+([.,][0-9]+)?", text) for text in told)


def _few_numbers(counts: dict[str, int]) -> bool:
    good = sum(many for text, many in counts.items() if text.isdecimal() and int(text) < 100)
    return good > 0.8 * sum(counts.values())


def _kinds(counts: dict[str, int]) -> bool:
    abroad = OTHERS_ABROAD["pitch_kind"].values()
    known = _KINDS | {fold(word) for words in (*abroad, PITCH_KINDS) for word in words} | {"cu"}
    letters = {word for word in known if word.isascii() and len(word) == 1}  # F may be a foul
    return any(fold(text) in known - letters for text in counts)


def _angles(counts: dict[str, int]) -> bool:
    return _numeric(counts, r"[-+\N{MINUS SIGN}]?")


def _runners(counts: dict[str, int]) -> bool:
    known = {fold(word) for words in OTHERS["bases"].values() for word in words} | set(BASES)
    return any(fold(text) in known or bases_told(text) for text in counts)


_NO_NUMBERS = {"hitter": ("at bat",)}  # above names it is who is up, above numbers which turn it is
_NUMBERED = ("pitch", "plate_appearance")

_FITS: dict[str, Callable[[dict[str, int]], bool]] = {
    "inning": _few_numbers,
    "outs": _few_numbers,
    "balls": _few_numbers,
    "strikes": _few_numbers,
    "plate_appearance": _few_numbers,
    "pitch": _few_numbers,
    "speed_mph": _numeric,
    "exit_mph": _numeric,
    "launch_deg": _angles,
    "bases": _runners,
    "runs": _few_numbers,
    "pitch_kind": _kinds,
}
