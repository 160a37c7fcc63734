"""Speeds of two units in one column: found by game and by row, and said; nothing is converted.

Metres a second among miles an hour are slow balls, every one of them in range. What gives them away is that
whole games are faster than others by the ratio of two units, that the speeds lie in two heaps at that ratio,
or that many lie beyond what any ball does.
"""

from __future__ import annotations

from collections.abc import Mapping as AnyMapping
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, NamedTuple, cast

import numpy as np
import pandas as pd

from hitlab.pitches.cells import OUT_OF_RANGE, Judged, judge
from hitlab.pitches.coded import Coded, in_order_of_rows, texts_of
from hitlab.pitches.mapping import Mapping, accepted_units
from hitlab.pitches.schema import COLUMNS
from hitlab.showing import shown_name
from hitlab.wording import listed, percent

__all__ = ["Mixed", "Speeds", "in_two_units", "speeds_in", "written_in_two_units"]

_SPEEDS = ("speed_mph", "exit_mph")
_MEND = "If they do, read what is of each unit by itself, with its own line under [units] in the mapping."

# All of these are defaults, chosen so that nothing is said of seasons in one unit.
_SURE = 4.0  # standard errors by which it has to be more than chance
_FEWEST = 8  # speeds of a game
_NEAR = 0.15  # by which a ratio may differ from that of two units, on the scale of logarithms
_NEAR_HEAP = 0.08  # the same of two heaps, whose tops are told more closely than the middles of games
_DEEP = 1.5  # times as dense as between the heaps has to be the smaller heap
_BEYOND = 0.01  # of the speeds beyond what any ball does, from which they are no slips
_NAMED = 3  # games that are named
_TENTHS = 1 << 20  # more tenths of a mile an hour than any speed has

_BELL = np.exp(-0.5 * (np.arange(-6, 7) / 2.0) ** 2)
_BELL /= _BELL.sum()
_BELL_REACH = 5  # bins on either side within which a top of its own is the highest
_BINS = 5.0  # of the histogram in the width of the bell


class Mixed(NamedTuple):
    """What is said of the speeds of a column as they were written.

    Attributes
    ----------
    said
        The sentence.
    beyond
        The cells, as they stand, that no ball has in the column's unit: the sentence tells of them, too.
    """

    said: str
    beyond: frozenset[str]


class Games(NamedTuple):
    """Games with enough speeds, in their order: one place a game in each.

    Attributes
    ----------
    names
        What they are called.
    many
        How many speeds a game has.
    middle
        The middle of their logarithms.
    quarters
        How wide the middle half of these is.
    """

    names: list[str]
    many: np.ndarray
    middle: np.ndarray
    quarters: np.ndarray

    @classmethod
    def together(cls, some: Sequence[Games]) -> Games:
        """Put those of several parts one after the other."""
        names = [name for one in some for name in one.names]
        columns = zip(*(one[1:] for one in some), strict=True)
        return cls(names, *(np.concatenate(column) for column in columns))


class Heap(NamedTuple):
    """Speeds to a tenth of a mile an hour, each once: as few numbers however many balls there are.

    Attributes
    ----------
    tenths
        In tenths of mph, ascending.
    times
        How often each is there.
    """

    tenths: np.ndarray
    times: np.ndarray

    @classmethod
    def of(cls, speeds: np.ndarray) -> Heap:
        """Count speeds, in mph."""
        tenths = np.rint(speeds * 10).astype(np.int64)
        low = int(tenths.min(initial=0))
        many = np.bincount(tenths - low)  # what a column of speeds may hold is a few thousand tenths
        there = np.flatnonzero(many)
        return cls(there + low, many[there])

    @classmethod
    def together(cls, some: Sequence[Heap]) -> Heap:
        """Add those of several parts up."""
        tenths, place = np.unique(np.concatenate([one.tenths for one in some]), return_inverse=True)
        times = np.zeros(len(tenths), dtype=np.int64)
        np.add.at(times, place, np.concatenate([one.times for one in some]))
        return cls(tenths, times)

    @property
    def middle(self) -> float:
        """The median, in mph."""
        ends = np.cumsum(self.times)
        both = np.searchsorted(ends, [(ends[-1] - 1) // 2, ends[-1] // 2], side="right")
        return float(self.tenths[both].mean() / 10)


@dataclass(frozen=True, slots=True)
class Speeds:
    """What the speeds of a column show, in a form that adds up where parts have no game in common.

    Attributes
    ----------
    by
        ``game`` or ``date``; empty where nothing tells games apart.
    games
        Level, ``None`` where there is none -> its games.
    heaps
        Level and kind of pitch -> the speeds.
    """

    by: str
    games: AnyMapping[str | None, Games]
    heaps: AnyMapping[tuple[str | None, str | None], Heap]

    @classmethod
    def together(cls, parts: Sequence[Speeds]) -> Speeds:
        """Add up those of the parts of one table."""
        games: dict[str | None, list[Games]] = {}
        heaps: dict[tuple[str | None, str | None], list[Heap]] = {}
        for part in parts:
            for level, some in part.games.items():
                games.setdefault(level, []).append(some)
            for of, heap in part.heaps.items():
                heaps.setdefault(of, []).append(heap)
        by = next((part.by for part in parts if part.by), "")
        return cls(
            by,
            {level: Games.together(some) for level, some in games.items()},
            {of: Heap.together(some) for of, some in heaps.items()},
        )

    def to_plain(self) -> dict[str, Any]:
        """Return it as JSON has it."""
        games = [
            (level, some.names, *(one.tolist() for one in some[1:])) for level, some in self.games.items()
        ]
        heaps = [(of, *(one.tolist() for one in heap)) for of, heap in self.heaps.items()]
        return {"by": self.by, "games": games, "heaps": heaps}

    @classmethod
    def from_plain(cls, told: AnyMapping[str, Any]) -> Speeds:
        """Take it from JSON."""
        wholes, numbers = np.dtype(np.int64), np.dtype(np.float64)
        games, heaps = {}, {}
        for level, names, many, *widths in told["games"]:
            games[level] = Games(names, np.array(many, wholes), *(np.array(one, numbers) for one in widths))
        for (level, kind), *counted in told["heaps"]:
            heaps[level, kind] = Heap(*(np.array(one, wholes) for one in counted))
        return cls(told["by"], games, heaps)


def speeds_in(frame: pd.DataFrame) -> dict[str, Speeds]:
    """Look at the speeds of a table that was read; by column.

    Parameters
    ----------
    frame
        The table.
    """
    coded = _Coded(frame)
    return {name: _seen(name, coded, _plain(frame[name])) for name in _SPEEDS if name in frame}


def in_two_units(seen: AnyMapping[str, Speeds]) -> tuple[str, ...]:
    """Say which speeds of a table seem to be of two units.

    Parameters
    ----------
    seen
        By column, from :func:`speeds_in`.

    Returns
    -------
    tuple of str
        A sentence for each column.
    """
    return tuple(said for name in _SPEEDS if name in seen and (said := _said(name, seen[name])))


def written_in_two_units(
    frame: pd.DataFrame,
    judged: AnyMapping[str, Judged],
    kept: np.ndarray,
    mapping: Mapping,
    seen: AnyMapping[str, Speeds],
) -> dict[str, Mixed]:
    """Say it of the speeds as they were written, also of those that no ball has and that were made missing.

    Parameters
    ----------
    frame
        The rows kept.
    judged
        The columns.
    kept
        For each row of the source, whether it is in the table.
    mapping
        How they were read.
    seen
        What the speeds of the rows kept show, by column, from :func:`speeds_in`.

    Returns
    -------
    dict of str to Mixed
        By column.
    """
    found: dict[str, Mixed] = {}
    coded = _Coded(frame)
    for name in _SPEEDS:
        if name not in judged:
            continue
        if not (judged[name].problems == OUT_OF_RANGE).any():  # they are those of the table
            said = _said(name, seen[name])
            found |= {name: Mixed(said, frozenset())} if said else {}
            continue
        own = COLUMNS[name]
        # Beyond the widest ratio of two units it is something else, such as 999 for none.
        times = float(np.exp(max(_ratios().values())))
        wide = replace(own, lowest=cast(float, own.lowest) / times, highest=cast(float, own.highest) * times)
        widely = judge(name, judged[name].cells, mapping, bounds=wide)
        speeds = _plain(widely.series())[kept]
        said = _said(name, _seen(name, coded, speeds)) or _beyond(name, speeds)
        if said:
            beyond = widely.values.notna() & judged[name].values.isna()
            texts = np.array(judged[name].cells.texts, dtype=object)[beyond.to_numpy()]
            found[name] = Mixed(said, frozenset(texts.tolist()))
    return found


def _plain(column: pd.Series) -> np.ndarray:
    return np.asarray(column.to_numpy(dtype=np.float64, na_value=np.nan))


def _beyond(name: str, speeds: np.ndarray) -> str:
    """Say that so many are beyond what any ball does that they are of another unit."""
    most = cast(float, COLUMNS[name].highest)
    told = speeds[np.isfinite(speeds)]
    over = told[told > most]
    if len(np.unique(over)) < _FEWEST or len(over) <= _BEYOND * len(told) or len(over) == len(told):
        return ""
    share = percent(len(over) / len(told))
    return (
        f"{name} is above {most:g} mph in {len(over):,} of {len(told):,} rows ({share}), and missing there: "
        "speeds of another unit, of which the lower ones still count as mph, seem to stand in the column. "
        f"{_MEND}"
    )


class _Coded:
    """The columns of a table that tell games, levels and kinds apart, each text once.

    Parameters
    ----------
    frame
        The table.
    """

    def __init__(self, frame: pd.DataFrame) -> None:
        self.frame = frame
        self._known: dict[str, tuple[np.ndarray, Any]] = {}

    def __call__(self, name: str, at: np.ndarray) -> tuple[np.ndarray, dict[int, str | None]]:
        """Give the words of some rows as numbers in their order, and the words; -1 where none stands."""
        if name not in self.frame:
            return np.full(len(at), -1), {-1: None}
        if name not in self._known:
            self._known[name] = texts_of(self.frame[name])
        codes, words = self._known[name]
        own, here = in_order_of_rows(codes[at], len(words))
        return own, {-1: None, **{place: str(words[code]) for place, code in enumerate(here.tolist())}}


def _seen(name: str, coded: _Coded, speeds: np.ndarray) -> Speeds:
    frame = coded.frame
    told = np.isfinite(speeds)
    if name == "exit_mph":  # of the rest few are tracked, and a bunt is slow in every unit
        told &= Coded(frame, "outcome").among(("in play",))
        if "bunt" in frame:
            told &= ~frame["bunt"].astype("boolean").fillna(False).to_numpy(dtype=bool)
    by = next((one for one in ("game", "date") if one in frame), "")
    at = np.flatnonzero(told)
    level_of, levels = coded("level", at)
    # Fastballs and slow balls may be two heaps by themselves, and one kind of pitch is one.
    kind_of, kinds = coded("pitch_kind" if name == "speed_mph" else "", at)
    games, heaps = {}, {}
    for code in _codes_in(level_of):
        own = level_of == code
        if by:
            games[levels[code]] = _games(*coded(by, at[own]), speeds[at[own]])
        for kind in _codes_in(kind_of[own]):
            heaps[levels[code], kinds[kind]] = Heap.of(speeds[at[own & (kind_of == kind)]])
    return Speeds(by, games, heaps)


def _games(codes: np.ndarray, names: AnyMapping[int, str | None], speeds: np.ndarray) -> Games:
    """Give what the speeds of each game are, of which there are enough."""
    codes, speeds = _sorted(codes[codes >= 0], speeds[codes >= 0])
    begins = np.flatnonzero(np.append(True, codes[1:] != codes[:-1])) if len(codes) else np.zeros(0, int)
    many = np.diff(np.append(begins, len(codes)))
    low, high, first, third = (
        np.log(speeds[begins + at]) for at in ((many - 1) // 2, many // 2, many // 4, (3 * many) // 4)
    )
    middle, quarters = (low + high) / 2, third - first
    enough = many >= _FEWEST
    called = [str(names[code]) for code in codes[begins[enough]].tolist()]
    return Games(called, many[enough], middle[enough], quarters[enough])


def _codes_in(codes: np.ndarray) -> list[int]:
    """Give the codes that stand anywhere, from -1 on."""
    return (np.flatnonzero(np.bincount(codes + 1)) - 1).tolist() if len(codes) else []


def _sorted(codes: np.ndarray, speeds: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Sort speeds by game, and within it: as one whole number each where they are tenths, as most are."""
    tenths = np.rint(speeds * 10)
    if len(speeds) and (tenths / 10 == speeds).all() and tenths.min() >= 0 and tenths.max() < _TENTHS:
        both = np.sort(codes * _TENTHS + tenths.astype(np.int64))
        return both // _TENTHS, (both % _TENTHS) / 10
    order = np.lexsort((speeds, codes))
    return codes[order], speeds[order]


def _said(name: str, seen: Speeds) -> str:
    """Say that a column is in two units, by games or by rows; nothing where it is not."""
    # What is of no level first.
    for level in sorted({level: None for level, _ in seen.heaps}, key=lambda level: level is not None):
        said = _by_game(name, seen.by, seen.games[level]) if level in seen.games else ""
        for (of, _), heap in seen.heaps.items():
            said = said or (_by_heaps(name, heap) if of == level else "")
        if said:
            return said
    return ""


def _by_game(name: str, by: str, games: Games) -> str:
    """Find the games that are faster than others by more than games are."""
    if len(games.names) < 2:
        return ""
    # How far a game's speeds differ, by the quarters within games: a mixed table is wider than any game.
    wide = float(np.median(games.quarters)) / 1.349
    game = np.argsort(games.middle)
    middle, many = games.middle[game], games.many[game]
    gap = np.diff(middle)
    error = 1.2533 * wide * np.sqrt(1 / many[1:] + 1 / many[:-1])  # of a median, where errors are normal
    at = int(np.argmax(gap - _SURE * error)) + 1
    slow, fast = game[:at], game[at:]
    ratio = float(np.median(middle[at:]) - np.median(middle[:at]))
    units = _units(ratio)
    if not units or gap[at - 1] <= max(_SURE * error[at - 1], ratio / 2):
        return ""
    few, pair, times = (fast, units, ratio) if len(fast) <= len(slow) else (slow, units[::-1], -ratio)
    called = [shown_name(games.names[one]) for one in sorted(few.tolist())[:_NAMED]]
    more = [f"{len(few) - _NAMED:,} more"] if len(few) > _NAMED else []
    others = "games" if by == "game" else "days"
    return (
        f"{name} is in {listed([*called, *more])} {np.exp(times):.2g} times what it is in the other {others},"
        f" as {pair[0]} are to {pair[1]}: speeds of two units seem to stand in one column. {_MEND}"
    )


def _ratios() -> dict[tuple[str, str], float]:
    """Give the logarithm of the ratio of two units, the finer one named first."""
    units = accepted_units("speed_mph")
    finer = sorted(units, key=lambda unit: units[unit])
    return {
        (one, other): float(np.log(units[other] / units[one]))
        for place, one in enumerate(finer)
        for other in finer[place + 1 :]
    }


def _units(ratio: float) -> tuple[str, str] | None:
    """Give the two units that a ratio is nearest to, the finer one first; None where it is near none."""
    ratios = _ratios()
    best = min(ratios, key=lambda pair: abs(ratios[pair] - ratio))
    return best if abs(ratios[best] - ratio) < _NEAR else None


def _by_heaps(name: str, heap: Heap) -> str:
    """Find two heaps of speeds whose ratio is that of two units, with hardly anything between them."""
    if heap.times.sum() < 2 * _FEWEST:
        return ""
    middle = heap.middle
    width = 0.02 * middle
    bins = np.arange(0.0, 5 * middle + width, width)
    counts, edges = np.histogram(heap.tenths / 10, bins, weights=heap.times)
    at = (edges[1:] + edges[:-1]) / 2
    smooth = np.convolve(counts, _BELL, mode="same")
    top = int(np.argmax(smooth))
    ratio = np.log(at / at[top])
    apart = np.zeros(len(at), dtype=bool)
    for one in _ratios().values():
        apart |= np.abs(np.abs(ratio) - one) < _NEAR_HEAP
    if not apart.any():
        return ""
    second = int(np.flatnonzero(apart)[np.argmax(smooth[apart])])
    # A top of its own, and not the foot of a heap at another ratio: fastballs and slow balls of one pitcher.
    if smooth[second] < smooth[max(second - _BELL_REACH, 0) : second + _BELL_REACH + 1].max():
        return ""
    low, high = sorted((top, second))
    between, there = float(smooth[low : high + 1].min()), float(smooth[second])
    units = _units(abs(ratio[second]))
    # So many speeds as one width of the bell has.
    if (
        not units
        or there <= _DEEP * between
        or (there - between) * _BINS <= _SURE * np.sqrt((there + between) * _BINS)
    ):
        return ""
    return (
        f"{name} lies in two heaps, about {at[low]:.0f} and about {at[high]:.0f} mph, with few between, as "
        f"{units[1]} and {units[0]} would: speeds of two units seem to stand in one column. {_MEND}"
    )
