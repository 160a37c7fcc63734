"""Which pitches the question "and after a whiff?" is put to, and what each of them is compared with.

Only the first pitch at each count of a plate appearance, and only where the pitch before was thrown by the
same pitcher and was the strike that brought the count about. Bunt attempts are left out on both sides, and so
are pitches of which nobody wrote down who was up, or who threw.

Whoever holds the pitches chooses them: an engine its lazy frame, Dask each partition, this module a frame in
memory. What comes home is the same for all: small whole numbers and flags, in the order of the key. Names are
numbered by their own order, so that nothing hangs on the order of rows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from hitlab.approach.sequence import (
    demand_order,
    ledger_flags,
    put_in_order,
    same_as_before,
    stays_lazy,
    who_bats,
)
from hitlab.counting.events import EVENTS, event_expression
from hitlab.counting.facts import PITCH_FACTS, Conventions, pitch_facts
from hitlab.counting.finding import find_rows
from hitlab.counting.summing import collected, collected_arrow
from hitlab.errors import ClaimError, MissingColumnsError
from hitlab.pitches.counting import has_whole_key
from hitlab.pitches.in_order import (
    APPEARANCE,
    BALLS,
    FAULT,
    FIRST,
    STRIKES,
    WHOLE,
    WRONG,
    by_games,
    coded,
    is_dask,
    pitch_by_pitch,
    with_faults,
)
from hitlab.pitches.opening import frame_of, native_of
from hitlab.pitches.schema import FAMILIES, KEY, STRIKE_OUTCOMES

__all__ = [
    "Against",
    "Asked",
    "Compared",
    "Rows",
    "choose_rows",
    "hitters_of",
    "joint_codes",
    "looked_at",
    "one_hitter",
    "pitcher_groups_of",
    "strata_named",
    "strata_of",
]

Against = Literal["any strike", "foul", "called strike"]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

_LOOKED_AT = (
    *KEY,
    *("hitter", "hitter_id", "club", "pitcher", "pitcher_id", "pitch_kind", "outcome", "balls", "strikes"),
    *("bunt", "level", "bat", "exit_mph", "hard", "hard_source"),
)
_STRIKES = (*STRIKE_OUTCOMES, "foul")
_EVENTS = ("swings", "takes", "whiffs", "pitches")
_MOST_GROUPS = 5
_ROWS_A_STRATUM = 10  # thinner strata lose more rows to empty margins than grouping pitchers is worth
_PRIOR_PITCHES = 200  # pulls the whiff rate of a pitcher with few pitches to the league's, before grouping
_SET_ASIDE = "set aside"
_TOLD, _STRUCK, _STRUCK_BEFORE = "in_order_told", "in_order_struck", "in_order_struck_before"
_PLAIN = (
    4  # in ``_STRUCK``: a swing or a take; beside it 1 for a strike that is compared, 2 where it was a whiff
)
_NUMBERS = {"appearance": "int64", "balls": "int8", "strikes": "int8", _SET_ASIDE: "int32"}


@dataclass(frozen=True, slots=True)
class Asked:
    """Which pitches are chosen, and what is told of each.

    Attributes
    ----------
    columns
        The table's.
    against, conventions
        As for ``after_whiff``.
    alike
        Columns in which the rows of a stratum are alike.
    events
        Counts of the ledger that are looked at on the next pitch.
    clubs
        Whether the club is told, by which a hitter may be called.
    """

    columns: tuple[str, ...]
    against: Against
    conventions: Conventions
    alike: tuple[str, ...]
    events: tuple[str, ...]
    clubs: bool

    @property
    def named(self) -> dict[str, str]:
        """What is told by its number -> the column that it is in, by id where there is one."""
        told = {"game": "game", "hitter": self._column("hitter"), "name": "hitter"}
        if "pitcher" in self.columns:
            told["pitcher"] = self._column("pitcher")
        if "pitch_kind" in self.columns:
            told["kind"] = "pitch_kind"
        if self.clubs and "club" in self.columns:
            told["club"] = "club"
        return told | {f"alike {name}": self._column(name) for name in self.alike if name != "pitcher"}

    def _column(self, name: str) -> str:
        return f"{name}_id" if f"{name}_id" in self.columns else name

    @property
    def flags(self) -> tuple[str, ...]:
        """Counts of the ledger that are asked of a pitch."""
        return tuple(dict.fromkeys((*_EVENTS, *self.events)))


@dataclass(frozen=True, eq=False, slots=True)
class Compared:
    """The pitches that are compared, in the order of game, plate appearance and count.

    Attributes
    ----------
    told
        One row a pitch: the numbers of ``Asked.named`` from 0, -1 where it is not known, and of the kind of
        the pitch before (``kind before``); ``appearance``, ``balls``, ``strikes``; ``whiffed``, whether the
        strike before was a whiff; and of each event whether the pitch enters it.
    values
        What the numbers stand for, in its own order.
    whiffs, thrown
        Of each pitcher, on all his pitches; shape (pitchers,).
    set_aside
        Number of plate appearances whose order cannot be trusted.
    """

    told: pd.DataFrame
    values: Mapping[str, Sequence[Any]]
    whiffs: Whole
    thrown: Whole
    set_aside: int

    def numbers(self, name: str) -> Whole:
        """Return one column as whole numbers."""
        return self.told[name].to_numpy(np.int64)

    def flag(self, name: str) -> Flags:
        """Return one column as flags."""
        return self.told[name].to_numpy(bool)


@dataclass(frozen=True, eq=False, slots=True)
class Rows:
    """Where the pitches that are compared stand.

    Attributes
    ----------
    whiffed
        Whether the strike before was a whiff.
    stratum, stratum_by_kind
        Numbers of the strata, with the family of the pitch before and with its very kind.
    stage
        Strikes before the pitch.
    visit, hitter, unit
        Numbers of hitter, pitcher and game together, of the hitter, of the plate appearance.
    """

    whiffed: Flags
    stratum: Whole
    stratum_by_kind: Whole
    stage: Whole
    visit: Whole
    hitter: Whole
    unit: Whole


def strata_named(columns: Sequence[str], alike: Sequence[str], pitcher_groups: int | None) -> tuple[str, ...]:
    """Name what the rows of a stratum share."""
    if isinstance(alike, str) or (pitcher_groups is not None and pitcher_groups not in range(51)):
        raise ClaimError(
            f"alike={alike!r}, pitcher_groups={pitcher_groups!r}: give a sequence of columns, and a whole "
            "number of groups from 1 to 50, 0 for each pitcher by himself, or None for as many as fit"
        )
    absent = [name for name in ("hitter", *alike) if name not in columns]
    if absent:
        raise MissingColumnsError(f"the responses to a whiff need the column {', '.join(absent)}")
    named = list(alike)
    if "pitcher" in columns:
        named.append("pitcher" if pitcher_groups == 0 else "group of pitchers")
    named.append("count")
    if "pitch_kind" in columns:
        named.append("family of the pitch before")
    return tuple(named)


def looked_at(pitches: Any, alike: Sequence[str]) -> tuple[Any, tuple[str, ...]]:
    """Return a pitch table with the columns that are looked at alone, and their names.

    Parameters
    ----------
    pitches
        As for :func:`hitlab.approach.with_previous`.
    alike
        Columns that are looked at besides the usual ones.

    Returns
    -------
    tuple
        A narwhals frame, which may be lazy, or a Dask frame.

    Raises
    ------
    ReadingError
        Where it is no table, or on an engine that knows no order.
    """
    names = list(dict.fromkeys((*_LOOKED_AT, *([] if isinstance(alike, str) else alike))))
    if is_dask(table := native_of(pitches)):
        there = [name for name in names if name in table.columns]
        return table[there], tuple(there)
    frame, _ = frame_of(pitches)
    stays_lazy(frame)
    columns = set(frame.collect_schema().names())
    there = [name for name in names if name in columns]
    return frame.select(there), tuple(there)


def choose_rows(frame: Any, asked: Asked) -> Compared:
    """Choose the first pitch at each count that a strike brought about, where the pitches are.

    Parameters
    ----------
    frame
        From :func:`looked_at`.
    asked
        What is asked of it.

    Raises
    ------
    ClaimError
        Where there is none.
    MissingColumnsError
        Where the table lacks its key, or no row in memory has it.
    """
    demand_order(asked.columns)
    if is_dask(frame):
        found = _on_dask(frame, asked)
    elif isinstance(frame, nw.LazyFrame):
        found = _on_engine(frame, asked)
    else:
        numbers, values = {}, {}
        for name, column in asked.named.items():
            numbers[name], values[name] = _in_order_of_value(_column(frame, column))
        small, set_aside = _in_memory(frame, asked, numbers)
        who = numbers.get("pitcher", np.full(len(frame), -1, dtype=np.int64))
        flags = ledger_flags(frame, ("whiffs", "pitches"), asked.conventions)
        number = len(values.get("pitcher", ()))
        whiffs, thrown = (
            np.bincount(who[(who >= 0) & flags[event]], minlength=number) for event in ("whiffs", "pitches")
        )
        found = Compared(small, values, whiffs, thrown, set_aside)
    if not len(found.told):
        raise ClaimError("no pitch here follows a strike that changed the count, so nothing can be compared")
    keys = [found.told[name].to_numpy() for name in ("strikes", "appearance", "game")]
    told = found.told.iloc[np.lexsort(keys)].reset_index(drop=True)
    return Compared(told, found.values, found.whiffs, found.thrown, found.set_aside)


def _column(frame: nw.DataFrame[Any], name: str) -> pd.Series:
    column: pd.Series = frame.select(name).to_pandas()[name]
    return column


def _in_order_of_value(column: pd.Series) -> tuple[Whole, list[Any]]:
    """Give the values of a column numbers in their own order, -1 for a missing one."""
    number, found = pd.factorize(column)
    there, values = _ranked(np.asarray(found, dtype=object))
    return np.append(there, -1)[number], values


def _ranked(found: Iterable[Any]) -> tuple[Whole, list[Any]]:
    """Return the place of each of different values in their order, -1 for a missing one; and the values."""
    listed = list(found)
    known = [place for place, value in enumerate(listed) if not pd.isna(value)]
    try:
        known.sort(key=lambda place: listed[place])
    except TypeError:  # values of several kinds
        known.sort(key=lambda place: (type(listed[place]).__name__, str(listed[place])))
    ranks = np.full(len(listed), -1, dtype=np.int64)
    ranks[known] = np.arange(len(known))
    return ranks, [listed[place] for place in known]


def _in_memory(
    frame: nw.DataFrame[Any], asked: Asked, numbers: Mapping[str, Whole]
) -> tuple[pd.DataFrame, int]:
    """Choose the rows of an eager frame; with the number of plate appearances set aside."""
    order = put_in_order(frame)
    flags = ledger_flags(frame, asked.flags, asked.conventions)
    outcome = _column(frame, "outcome")
    # A swing or a take: bunts are neither. A strike that was thrown and raised the count.
    plain = flags["swings"] | flags["takes"]
    compared = plain & outcome.isin(_STRIKES).to_numpy()
    if asked.against != "any strike":
        compared &= flags["whiffs"] | (outcome == asked.against).to_numpy(bool, na_value=False)
    here = np.flatnonzero(plain & (order.previous >= 0))
    before = order.previous[here]
    kept = compared[before] & (order.strikes[here] == order.strikes[before] + 1)
    kept &= numbers["hitter"][here] >= 0
    if "pitcher" in numbers:
        pitcher = numbers["pitcher"]
        kept &= (pitcher[here] == pitcher[before]) & (pitcher[here] >= 0)
    here, before = here[kept], before[kept]
    told: dict[str, Any] = {name: number[here].astype(np.int32) for name, number in numbers.items()}
    if "kind" in numbers:
        told["kind before"] = numbers["kind"][before].astype(np.int32)
    told["appearance"] = _whole_numbers(frame, "plate_appearance", here)
    told["balls"], told["strikes"] = order.balls[here].astype(np.int8), order.strikes[here].astype(np.int8)
    told["whiffed"] = flags["whiffs"][before]
    return pd.DataFrame(told | {name: flags[name][here] for name in asked.events}), order.set_aside


def _whole_numbers(frame: nw.DataFrame[Any], name: str, places: Whole) -> Whole:
    return np.asarray(_column(frame, name).iloc[places].to_numpy(dtype=np.int64))


def _on_engine(frame: Any, asked: Asked) -> Compared:
    """Let the engine of a lazy frame choose the rows."""
    named = asked.named
    told, tables = coded(frame, named.values())
    number = {name: f"in_order_number_{column}" for name, column in named.items()}
    kept = [name for name in asked.columns if name in _LOOKED_AT]
    told = told.select(*kept, *dict.fromkeys(number.values()))
    facts = zip(PITCH_FACTS, pitch_facts(set(kept), asked.conventions), strict=True)
    told = told.with_columns(*(fact for name, fact in facts if name != "outcome"))
    event = {name: f"in_order_event_{name}" for name in asked.flags}
    told = told.with_columns(
        *(event_expression(EVENTS[name], asked.conventions).alias(column) for name, column in event.items())
    )
    plain = (nw.col(event["swings"]) + nw.col(event["takes"])) > 0
    compared = plain & nw.col("outcome").is_in(list(_STRIKES))
    if asked.against != "any strike":
        compared = compared & ((nw.col(event["whiffs"]) == 1) | (nw.col("outcome") == asked.against))
    whiffed = nw.col(event["whiffs"]) == 1
    told = told.with_columns(
        # One byte, as what goes through the windows is held at once.
        sum((_bit(nw.col(event[name]) == 1, place) for place, name in enumerate(asked.events)), nw.lit(0))
        .cast(nw.Int8)
        .alias(_TOLD),
        (_bit(compared, 0) + _bit(compared & whiffed, 1) + _bit(plain, 2)).cast(nw.Int8).alias(_STRUCK),
    )
    values = {name: collected(table) for name, table in tables.items()}
    ranks = {name: _renumbered(values[column], column) for name, column in named.items()}
    pitchers = (np.zeros(0, dtype=np.int64),) * 2
    if "pitcher" in named:
        pitchers = _by_pitcher(frame.select(kept), named["pitcher"], ranks["pitcher"][1], asked.conventions)
    batting = f"in_order_number_{who_bats(asked.columns)}"
    before = {_STRUCK_BEFORE: _STRUCK, "in_order_hitter_before": batting}
    for name in ("pitcher", "kind"):
        if name in named:
            before[f"in_order_{name}_before"] = number[name]
    told = pitch_by_pitch(told, before, game=number["game"])
    chosen = (
        nw.col(WHOLE)
        & ~nw.col(FIRST)
        & (nw.col(_STRUCK) >= _PLAIN)
        & nw.col(_STRUCK_BEFORE).is_in([_PLAIN + 1, _PLAIN + 3])
        & (nw.col(STRIKES) <= 2)  # more are fouls, which changed no count
        & same_as_before(batting, "in_order_hitter_before")
        & ~nw.col(number["hitter"]).is_null()
    )
    if "pitcher" in named:
        chosen = chosen & (nw.col(number["pitcher"]) == nw.col("in_order_pitcher_before"))

    def home(column: str) -> nw.Expr:
        return nw.coalesce(nw.col(column), nw.lit(-1)).cast(nw.Int32)

    # Where nothing is wrong and nothing is compared, a row decides nothing about the others.
    told = told.filter(chosen | (nw.col(WRONG) > 0)).select(
        *(home(column).alias(column) for column in dict.fromkeys(number.values())),
        *([home("in_order_kind_before").alias("kind before")] if "kind" in named else []),
        *(APPEARANCE, BALLS, STRIKES, WRONG, _TOLD),
        (nw.col(_STRUCK_BEFORE) == _PLAIN + 3).alias("whiffed"),
    )
    told = with_faults(told, game=number["game"])
    table = collected_arrow(told)
    fault = np.asarray(table.column(FAULT)) > 0
    aside = np.column_stack([np.asarray(table.column(name))[fault] for name in (number["game"], APPEARANCE)])
    table = table.filter(pa.array(~fault))

    def column(name: str) -> NDArray[Any]:
        return np.asarray(table.column(name))

    back: dict[str, Any] = {name: ranks[name][0][column(number[name])] for name in named}
    if "kind" in named:
        back["kind before"] = ranks["kind"][0][column("kind before")]
    back |= {"appearance": column(APPEARANCE), "balls": column(BALLS), "strikes": column(STRIKES)}
    back["whiffed"] = column("whiffed")
    back |= {name: column(_TOLD) >> place & 1 == 1 for place, name in enumerate(asked.events)}
    found = {name: rank[1] for name, rank in ranks.items()}
    return Compared(pd.DataFrame(back, copy=False), found, *pitchers, len(np.unique(aside, axis=0)))


def _bit(condition: nw.Expr, place: int) -> nw.Expr:
    return nw.when(condition).then(nw.lit(1 << place)).otherwise(nw.lit(0))


def _renumbered(table: pd.DataFrame, column: str) -> tuple[NDArray[np.int32], list[Any]]:
    """Return for each number of an engine the place of its value in their order, at the end for none."""
    ranks, values = _ranked(table[column].tolist())
    number = table[f"in_order_number_{column}"].to_numpy(np.int64)
    place = np.full(int(number.max(initial=0)) + 2, -1, dtype=np.int32)
    place[number] = ranks
    return place, values


def _by_pitcher(
    frame: Any, column: str, pitchers: Sequence[Any], conventions: Conventions
) -> tuple[Whole, Whole]:
    """Sum the whiffs and the pitches of each pitcher, by the engine; by name, as a number takes a join."""
    facts = zip(PITCH_FACTS, pitch_facts(set(frame.collect_schema().names()), conventions), strict=True)
    told = frame.with_columns(*(fact for name, fact in facts if name != "outcome"))
    sums = collected(
        told.with_columns(
            *(event_expression(EVENTS[name], conventions).alias(name) for name in ("whiffs", "pitches"))
        )
        .group_by(column)
        .agg(nw.col("whiffs").sum(), nw.col("pitches").sum())
    )
    sums = sums[sums[column].notna()].set_index(column)
    whiffs, thrown = (
        np.array([sums.at[one, name] for one in pitchers], dtype=np.int64) for name in ("whiffs", "pitches")
    )
    return whiffs, thrown


def _on_dask(table: Any, asked: Asked) -> Compared:
    """Let the partitions of a Dask frame choose their rows, with whole games in each."""
    values = {
        name: _ranked(_of_dask(table[[column]].drop_duplicates())[column].unique())[1]
        for name, column in asked.named.items()
    }
    kinds = dict.fromkeys((*values, *(["kind before"] if "kind" in values else [])), "int32")
    kinds |= _NUMBERS | dict.fromkeys(("whiffed", *asked.events), "bool")
    meta = pd.DataFrame({name: pd.Series(dtype=kind) for name, kind in kinds.items()})
    parts = _of_dask(by_games(table, _in_partition, meta, asked, values, kinds))
    pitchers = (np.zeros(0, dtype=np.int64),) * 2
    if "pitcher" in values:
        whole = {"number": "int64", "whiffs": "int64", "pitches": "int64"}
        shape = pd.DataFrame({name: pd.Series(dtype=kind) for name, kind in whole.items()})
        sums = _of_dask(table.map_partitions(_pitchers_in, asked, values["pitcher"], meta=shape))
        number = sums["number"].to_numpy(np.int64)
        both = np.zeros((2, len(values["pitcher"])), dtype=np.int64)
        for row, name in zip(both, ("whiffs", "pitches"), strict=True):
            np.add.at(row, number, sums[name].to_numpy(np.int64))
        pitchers = (both[0], both[1])
    aside = parts[_SET_ASIDE] > 0
    set_aside = int(parts[_SET_ASIDE].sum())
    return Compared(parts[~aside].drop(columns=_SET_ASIDE), values, *pitchers, set_aside)


def _of_dask(table: Any) -> pd.DataFrame:
    return collected(nw.from_native(table))


def _in_partition(
    part: pd.DataFrame, asked: Asked, values: Mapping[str, Sequence[Any]], kinds: Mapping[str, str]
) -> pd.DataFrame:
    """Choose the rows of a partition; a last one counts its plate appearances set aside, if there are any."""
    small, set_aside = pd.DataFrame({name: [] for name in kinds}), 0
    part = part.reset_index(drop=True)
    if has_whole_key(part).any():
        numbers = {
            name: pd.Index(values[name]).get_indexer(part[column]).astype(np.int64)
            for name, column in asked.named.items()
        }
        small, set_aside = _in_memory(nw.from_native(part, eager_only=True), asked, numbers)
    small[_SET_ASIDE] = 0
    told = small.astype(dict(kinds))[list(kinds)]
    if not set_aside:
        return told
    last = pd.DataFrame({name: [0] for name in kinds}).assign(**{_SET_ASIDE: set_aside})
    return pd.concat([told, last.astype(dict(kinds))], ignore_index=True)


def _pitchers_in(part: pd.DataFrame, asked: Asked, values: Sequence[Any]) -> pd.DataFrame:
    number = pd.Index(values).get_indexer(part[asked.named["pitcher"]])
    flags = ledger_flags(nw.from_native(part, eager_only=True), ("whiffs", "pitches"), asked.conventions)
    sums = pd.DataFrame({"number": number, **{name: flag.astype(np.int64) for name, flag in flags.items()}})
    return sums[sums["number"] >= 0].groupby("number").sum().reset_index().astype("int64")


def strata_of(compared: Compared, asked: Asked, pitcher_groups: int | None) -> Rows:
    """Say in which stratum each pitch that is compared stands.

    Parameters
    ----------
    compared
        From :func:`choose_rows`.
    asked
        The same.
    pitcher_groups
        As for ``after_whiff``.
    """
    number = compared.numbers
    length = len(compared.told)
    pitcher = number("pitcher") if "pitcher" in compared.told else np.zeros(length, dtype=np.int64)
    family, kind = np.zeros((2, length), dtype=np.int64)
    if "kind" in compared.values:
        kind = number("kind before")
        place = {kind: place for place, name in enumerate(FAMILIES) for kind in FAMILIES[name]}
        of_kind = np.array([*(place.get(one, -1) for one in compared.values["kind"]), -1], dtype=np.int64)
        family = of_kind[kind] + 1
    hitter, balls, strikes = number("hitter"), number("balls"), number("strikes")
    others = [number(name) for name in asked.named if name.startswith("alike ")]
    alike = joint_codes(balls, strikes, *others)
    if pitcher_groups is None:
        cells = len(np.unique(joint_codes(alike, family)))
        pitcher_groups = min(max(length // (cells * _ROWS_A_STRATUM), 1), _MOST_GROUPS)
    groups = pitcher
    if pitcher_groups and len(compared.thrown):
        groups = pitcher_groups_of(compared.whiffs, compared.thrown, pitcher_groups)[pitcher]
    game = number("game")
    return Rows(
        compared.flag("whiffed"),
        joint_codes(groups, alike, family),
        joint_codes(groups, alike, kind),
        strikes,
        joint_codes(hitter, pitcher, game),
        hitter,
        joint_codes(game, _from_zero(number("appearance"))),
    )


def _from_zero(numbers: Whole) -> Whole:
    return np.asarray(np.unique(numbers, return_inverse=True)[1], dtype=np.int64)


def joint_codes(*columns: Whole) -> Whole:
    """Return the combinations of columns as numbers from 0."""
    key = np.zeros(len(columns[0]), dtype=np.int64)
    for column in columns:
        key = key * (int(column.max(initial=0)) + 2) + column + 1
    return _from_zero(key)


def pitcher_groups_of(whiffs: Whole, thrown: Whole, groups: int) -> Whole:
    """Put pitchers into groups of about as many pitches, by their whiffs a pitch.

    Parameters
    ----------
    whiffs, thrown
        Of each pitcher; of two alike, the one who comes first belongs to the lower group.
    groups
        How many groups.
    """
    league = whiffs.sum() / max(thrown.sum(), 1)
    rate = (whiffs + _PRIOR_PITCHES * league) / (thrown + _PRIOR_PITCHES)
    best_last = np.argsort(rate, kind="stable")
    share = (np.cumsum(thrown[best_last]) - thrown[best_last] / 2) / max(thrown.sum(), 1)
    group = np.empty(len(thrown), dtype=np.int64)
    group[best_last] = (share * groups).astype(np.int64).clip(0, groups - 1)
    return group


def hitters_of(compared: Compared, asked: Asked) -> pd.DataFrame:
    """Return one row a hitter, at the place of his number: name, and id where there is one.

    Of several spellings of a name the one that stands there most often, and of those alike the first by name.
    """
    hitter, name = compared.numbers("hitter"), compared.numbers("name")
    names = compared.values["name"]
    pairs, rows = np.unique((hitter * len(names) + name)[name >= 0], return_counts=True)
    of_whom, spelled = np.divmod(pairs, max(len(names), 1))
    best = np.lexsort((spelled, -rows, of_whom))
    who, first = np.unique(of_whom[best], return_index=True)
    called = dict(zip(who.tolist(), spelled[best[first]].tolist(), strict=True))
    number = np.unique(hitter)
    told = {"hitter": [names[called[one]] if one in called else None for one in number.tolist()]}
    if asked.named["hitter"] == "hitter_id":
        told = {"hitter_id": [compared.values["hitter"][one] for one in number.tolist()], **told}
    return pd.DataFrame(told, index=pd.Index(number, name="number"))


def one_hitter(compared: Compared, asked: Asked, hitter: str) -> Flags:
    """Tell which rows are one hitter's; see :func:`hitlab.names.find_name`."""
    columns = {"hitter_id": "hitter"} if asked.named["hitter"] == "hitter_id" else {}
    columns |= {"hitter": "name"} | ({"club": "club"} if "club" in compared.values else {})
    seen = {
        column: np.array([*compared.values[name], None], dtype=object)[compared.numbers(name)]
        for column, name in columns.items()
    }
    return find_rows(pd.DataFrame(seen), hitter, where="who saw a pitch after a strike")
