"""Counts of the pitches in situations, a hitter at a time: many situations at once, on any engine.

In memory whose each pitch is and which counts it enters is found once, and a situation is then a mask. On
other engines all situations are summed in one pass over the pitches, and those that ask for the pitch before
in a second; only the sums come home: a number for each hitter, situation and count.
"""

from __future__ import annotations

import operator
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from typing import Any, Protocol

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.sequence import PREVIOUS, ledger_flags, with_previous
from hitlab.counting.counts import Counts
from hitlab.counting.events import EVENTS, event_expression
from hitlab.counting.facts import Conventions, pitch_facts
from hitlab.counting.own_events import base_and_situation
from hitlab.counting.situations import Situation
from hitlab.counting.summing import summed
from hitlab.counting.tallies import tally
from hitlab.counting.value_kinds import COMPARED, demand_kinds
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.pitches.schema import KEY
from hitlab.splits.usual import Asked, asked_situations

__all__ = ["BEFORE", "Counter", "counter_of", "situation_counts"]

Wholes = NDArray[np.int64]
Mask = NDArray[np.bool_]
Expressions = Mapping[str, nw.Expr]
Sums = dict[str, dict[str, Wholes]]

BEFORE = {*PREVIOUS, "previous_swing", "previous_whiff"}
"""Columns that tell what came before a pitch."""

_WHO = "who"


class Counter(Protocol):
    """Counts the pitches in situations, a hitter at a time, in the order of his row in the tally."""

    def sums(self, asked: Expressions) -> Sums:
        """Return for each situation its counts by name; a missing value is in none."""


def situation_counts(
    pitches: Any,
    situations: Sequence[Asked] | Mapping[str, Asked] | None = None,
    events: Sequence[str] = ("hard", "swings"),
    *,
    by: str = "hitter",
    conventions: Conventions | None = None,
) -> pd.DataFrame:
    """Count every hitter's pitches in every situation, in one pass over the table by its own engine.

    Parameters
    ----------
    pitches, situations, by, conventions
        As for :func:`hitlab.all_splits`.
    events
        Names of counts that a pitch enters once, as in ``hitlab.counting.EVENTS``.

    Returns
    -------
    pandas.DataFrame
        One row a hitter and situation, hitters in the tally's order within the situations' order:
        ``situation``, who it is, and the counts, int64. What is missing on a pitch is in no situation.

    Raises
    ------
    ClaimError, MissingColumnsError, CountsError, ReadingError
        As for :func:`hitlab.all_splits`.

    Examples
    --------
    >>> import hitlab
    >>> from hitlab.splits import situation_counts
    >>> found = situation_counts(hitlab.demo_season(), ["strikes=2", "first pitch"], ["whiffs", "swings"])
    >>> found.groupby("situation", sort=False)[["whiffs", "swings"]].sum().reset_index()
                situation  whiffs  swings
    0    with two strikes    4039   15198
    1  on the first pitch    2671   10799
    """
    conventions = conventions or Conventions()
    frame, _ = frame_of(pitches)
    doubts = doubts_of(pitches)
    asked = asked_situations(frame, situations, doubts, conventions)
    whole = tally(frame.to_native(), by, conventions=conventions, doubts=doubts)
    for name in events:
        whole.column(name)  # says why where it cannot be counted
    sums = counter_of(frame, whole, list(events)).sums(asked)
    parts = [whole.identity.assign(situation=name, **counts) for name, counts in sums.items()]
    table = pd.concat(parts, ignore_index=True)
    return table[["situation", *whole.identity.columns, *events]]


def counter_of(
    frame: Any, whole: Counts, names: Sequence[str], own: Mapping[str, str] | None = None
) -> Counter:
    """Look once at what each pitch was.

    Parameters
    ----------
    frame
        A narwhals frame of pitches, in memory or on another engine.
    whole
        The tally of it.
    names
        The counts that are asked for.
    own
        The texts of those that a situation restricts, by name.

    Raises
    ------
    CountsError
        Where a count is not counted pitch by pitch.
    MissingColumnsError
        Where the table lacks the columns of a count.
    ReadingError
        Where numbers are written as texts.
    """
    demand_kinds(frame, COMPARED)
    rules = _rules(names, own or {}, frozenset(frame.collect_schema().names()))
    counter = _InMemory if isinstance(frame, nw.DataFrame) else _OnEngine
    return counter.of(frame, whole, rules)


@dataclass(frozen=True, slots=True)
class _Rule:
    """How a count is found: a count of the ledger, in a situation where one restricts it."""

    base: str
    where: nw.Expr | None


@dataclass(frozen=True, slots=True)
class _InMemory:
    """Pitches whose hitters and counts are found once; situations are masks.

    Attributes
    ----------
    frame, rows
        All pitches, and the places of those that enter one of the counts.
    place
        For each of these the row of the counts that it belongs to.
    flags
        Which of them enter each count.
    size
        How many rows the counts have.
    """

    frame: nw.DataFrame[Any]
    rows: Wholes
    place: Wholes
    flags: dict[str, Mask]
    size: int

    @classmethod
    def of(cls, frame: nw.DataFrame[Any], whole: Counts, rules: Mapping[str, _Rule]) -> _InMemory:
        ledger = ledger_flags(frame, tuple({rule.base: 0 for rule in rules.values()}), whole.conventions)
        asked = {name: rule.where for name, rule in rules.items() if rule.where is not None}
        inside = _masks(_wide(frame, asked), asked)
        flags = {name: ledger[rule.base] & inside.get(name, True) for name, rule in rules.items()}
        key = whole.by[0]
        place = pd.Index(whole.data[key]).get_indexer(pd.Index(frame.select(key).to_pandas()[key]))
        # Pitches that enter none of the counts are dropped before anything is asked of them.
        rows = np.flatnonzero(np.logical_or.reduce(list(flags.values())) & (place >= 0))
        kept = {name: flag[rows] for name, flag in flags.items()}
        return cls(frame, rows, place[rows], kept, len(whole.data))

    def sums(self, asked: Expressions) -> Sums:
        masks = _masks(_wide(self.frame, asked)[self.rows], asked)
        return {
            name: {
                count: np.bincount(self.place[mask & flag], minlength=self.size)
                for count, flag in self.flags.items()
            }
            for name, mask in masks.items()
        }


@dataclass(frozen=True, slots=True)
class _OnEngine:
    """Pitches on another engine, which sums everything that is asked in one pass, or in two."""

    frame: nw.LazyFrame[Any]
    whole: Counts
    rules: Mapping[str, _Rule]

    @classmethod
    def of(cls, frame: nw.LazyFrame[Any], whole: Counts, rules: Mapping[str, _Rule]) -> _OnEngine:
        return cls(frame, whole, rules)

    def sums(self, asked: Expressions) -> Sums:
        # What came before is looked for in order: what needs no order does not go through that.
        later = _wanting(self.frame, asked)
        first = {name: one for name, one in asked.items() if name not in later}
        told = self._in_one_pass(first) | self._in_one_pass({name: asked[name] for name in later})
        return {name: told[name] for name in asked}

    def _in_one_pass(self, asked: Expressions) -> Sums:
        if not asked:
            return {}
        conventions, key = self.whole.conventions, self.whole.by[0]
        bounds = {name: rule.where for name, rule in self.rules.items() if rule.where is not None}
        wide = _wide(self.frame, {**asked, **bounds})
        columns = set(wide.collect_schema().names())
        within = {name: f"within_{place}" for place, name in enumerate(bounds)}
        told = {f"told_{place}": expression for place, expression in enumerate(asked.values())}
        ends = [nw.col("result")] if any(EVENTS[rule.base].ending for rule in self.rules.values()) else []
        facts = pitch_facts(columns, conventions)
        narrow = wide.select(
            nw.col(key).alias(_WHO),
            *facts,
            *ends,
            *(_told(expression).alias(name) for name, expression in told.items()),
            *(_told(expression).alias(within[name]) for name, expression in bounds.items()),
        )
        flags = []
        for place, (name, rule) in enumerate(self.rules.items()):
            flag = event_expression(EVENTS[rule.base], conventions)
            flag = flag * nw.col(within[name]) if name in within else flag
            flags.append(flag.alias(f"flag_{place}"))
        counted = narrow.select(_WHO, *told, *flags)
        # Added one by one: for a sum over a row Dask sends every column from process to process.
        some = reduce(operator.add, (nw.col(f"flag_{place}") for place in range(len(self.rules)))) > 0
        wanted = [
            (f"{one}_{place}", one, f"flag_{place}") for one in told for place in range(len(self.rules))
        ]
        inside = counted.filter(some).select(
            _WHO, *((nw.col(one) * nw.col(flag)).alias(name) for name, one, flag in wanted)
        )
        sums = summed(inside, [_WHO], [name for name, _, _ in wanted]).rename(columns={_WHO: key})
        table = self.whole.data[[key]].merge(sums, on=key, how="left", validate="one_to_one")
        return {
            name: {
                count: table[f"{one}_{place}"].fillna(0).to_numpy().astype(np.int64)
                for place, count in enumerate(self.rules)
            }
            for name, one in zip(asked, told, strict=True)
        }


def _rules(names: Sequence[str], own: Mapping[str, str], columns: frozenset[str]) -> dict[str, _Rule]:
    """Tell how each count is found."""
    wanted: dict[str, tuple[str, Situation | None]] = {name: (name, None) for name in names if name in EVENTS}
    for name in names:
        if name in own:
            wanted[name] = base_and_situation(own[name])
    # Contact behind hard balls in a situation is counted under its words.
    for _, where in list(wanted.values()):
        for base in EVENTS if where is not None else ():
            words = f"{EVENTS[base].many} {where.words}" if where is not None else ""
            if words in names and words not in wanted:
                wanted[words] = (base, where)
    for name in names:
        if not EVENTS[wanted[name][0]].share:
            raise CountsError(f"{name} counts more than once a pitch, so it has no share inside a situation")
    return {
        name: _Rule(base, None if where is None else where.on(columns))
        for name in names
        for base, where in [wanted[name]]
    }


def _told(expression: nw.Expr) -> nw.Expr:
    """Return an expression as 1 and 0; a missing value is false."""
    return nw.when(expression == True).then(nw.lit(1)).otherwise(nw.lit(0))  # noqa: E712


def _masks(frame: nw.DataFrame[Any], asked: Expressions) -> dict[str, Mask]:
    """Tell for the pitches which situations they are in."""
    told = frame.select(*(_told(one).alias(f"told_{at}") for at, one in enumerate(asked.values())))
    return {name: told[f"told_{at}"].to_numpy() > 0 for at, name in enumerate(asked)}


def _wide(frame: Any, asked: Expressions) -> Any:
    """Return the frame with what came before each pitch where a situation asks for it.

    Raises
    ------
    MissingColumnsError
        Where a situation asks for a column that is not there.
    """
    wanting = _wanting(frame, asked)
    if not wanting:
        return frame
    columns = set(frame.collect_schema().names())
    if not BEFORE & columns and {*KEY, "outcome"} <= columns:
        frame = _with_before(frame)
        wanting = _wanting(frame, asked)
    for name, error in wanting.items():
        raise MissingColumnsError(
            f"the situation {name!r} asks for a column that is not there: {error}"
        ) from error
    return frame


def _wanting(frame: Any, asked: Expressions) -> dict[str, Exception]:
    """Return those situations that ask for a column which is not there."""
    empty = frame.head(0)
    empty = empty.collect() if isinstance(empty, nw.LazyFrame) else empty
    found: dict[str, Exception] = {}
    for name, expression in asked.items():
        try:
            empty.select(expression.alias("told"))
        except nw.exceptions.ColumnNotFoundError as error:
            found[name] = error
    return found


def _with_before(frame: Any) -> Any:
    """Add what came before each pitch."""
    if isinstance(frame, nw.LazyFrame):
        return nw.from_native(with_previous(frame.to_native()))
    known = (*KEY, "hitter", "hitter_id", "outcome", "balls", "strikes", "bunt", *PREVIOUS.values())
    before = [name for name in dict.fromkeys(known) if name in frame.columns]
    narrow = nw.from_native(with_previous(frame.select(before).to_native()), eager_only=True)
    added = narrow.select([name for name in narrow.columns if name in BEFORE])
    return nw.concat([frame, added], how="horizontal")
