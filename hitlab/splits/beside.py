"""What the usual situations of a pitch table say beside the one that is asked.

Whose each pitch is and which counts it enters is found once; a situation is then a mask, and its counts are
sums over the hitters' places. The usual situations are counted whatever is asked, so that every way of asking
fits a split together with the same others.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.sequence import PREVIOUS, eager, ledger_flags, with_previous
from hitlab.counting.counts import Counts, unknown_and_contact, unknown_contact
from hitlab.counting.events import EVENTS
from hitlab.counting.own_events import base_and_situation
from hitlab.counting.situations import Situation, situation
from hitlab.errors import CountsError, MissingColumnsError, ReadingError
from hitlab.pitches.schema import KEY
from hitlab.splits.split_law import FourCounts
from hitlab.splits.usual import usual_situations

__all__ = ["Pitched", "pitched_for"]

Wholes = NDArray[np.int64]
Mask = NDArray[np.bool_]

_BEFORE = {*PREVIOUS, "previous_swing", "previous_whiff"}


@dataclass(frozen=True, slots=True)
class Pitched:
    """The pitches that enter the counts of a rate.

    Attributes
    ----------
    whole
        Everybody's counts, with these counts only.
    event, per
        The rate.
    frame, rows
        All pitches, and the places of those that enter one of the counts.
    place
        For each of these the row of ``whole`` that it belongs to.
    flags
        Which of them enter each count.
    """

    whole: Counts
    event: str
    per: str
    frame: nw.DataFrame[Any]
    rows: Wholes
    place: Wholes
    flags: dict[str, Mask]

    @classmethod
    def of(
        cls,
        frame: nw.DataFrame[Any],
        whole: Counts,
        event: str,
        per: str,
        own: Mapping[str, str] | None = None,
    ) -> Pitched:
        """Look once at what each pitch was.

        Parameters
        ----------
        frame
            From ``eager``.
        whole
            The tally of it.
        event, per
            Names of two counts.
        own
            The texts of those that a situation restricts, by name.

        Raises
        ------
        CountsError
            Where a count is not counted pitch by pitch.
        MissingColumnsError
            Where the table lacks the columns of a count.
        """
        for name in (event, per):
            whole.column(name)  # says why where it cannot be counted
        names = [event, per]
        if unknown_contact(whole, event)[1].any():
            # In this order a table of the parts has them beside the counts that they belong to.
            prefix = event.removesuffix("hard")
            more = (f"{prefix}unmeasured", f"{prefix}in_play", f"{prefix}contact")
            names += more if event in EVENTS else unknown_and_contact(whole, event)
        names = list(dict.fromkeys(names))
        flags = _flags(frame, names, whole, dict(own or {}))
        key = whole.by[0]
        place = pd.Index(whole.data[key]).get_indexer(pd.Index(frame.select(key).to_pandas()[key]))
        for name in names:
            if int(flags[name].sum()) != int(whole.column(name).sum()):
                raise CountsError(
                    f"{name} counts more than once a pitch, so it has no share inside a situation"
                )
        # Pitches that enter none of the counts are dropped before anything is asked of them.
        rows = np.flatnonzero(np.logical_or.reduce([flags[name] for name in names]))
        who = whole.data[[column for column in whole.data.columns if column not in whole.names]]
        whole = replace(whole, data=pd.concat([who, whole.data[names]], axis=1))
        kept = {name: flags[name][rows] for name in names}
        return cls(whole, event, per, frame, rows, place[rows], kept)

    def inside(self, asked: Mapping[str, nw.Expr]) -> dict[str, Mask]:
        """Tell for the pitches which situations they are in; a missing value is in none."""
        wide = _asks_before(self.frame, asked)
        return self._masks(_with_before(self.frame) if wide else self.frame, asked)

    def _masks(self, frame: nw.DataFrame[Any], asked: Mapping[str, nw.Expr]) -> dict[str, Mask]:
        frame = frame[self.rows]
        told = [
            # An expression; a missing value is false.
            nw.when(expression == True).then(nw.lit(1)).otherwise(nw.lit(0)).alias(f"told_{at}")  # noqa: E712
            for at, expression in enumerate(asked.values())
        ]
        try:
            masks = frame.select(*told)
        except nw.exceptions.ColumnNotFoundError:
            for name, one in zip(asked, told, strict=True):
                _select(frame, name, one)
            raise
        return {name: masks[f"told_{at}"].to_numpy() > 0 for at, name in enumerate(asked)}

    def counted(self, mask: Mask) -> dict[str, Wholes]:
        """Count some of the pitches by hitter."""
        size = len(self.whole.data)
        return {
            name: np.bincount(self.place[mask & flag], minlength=size) for name, flag in self.flags.items()
        }

    def part(self, mask: Mask) -> Counts:
        """Return the counts of some of the pitches."""
        who = self.whole.data[[c for c in self.whole.data.columns if c not in self.whole.names]]
        return replace(self.whole, data=who.assign(**self.counted(mask)))

    def usual(self) -> list[FourCounts]:
        """Count the usual situations that lie within no other, as far as the table itself tells them.

        Sliders are breaking balls, and up and in is up: they would tell of the same swings again. What came
        before a pitch has to be looked for in order, which would take as long as all the others.
        """
        columns = set(self.frame.columns)
        most = self.whole.conventions.most_contradicted
        trusted = {name for name in columns if not self.whole.doubts.reason([name], most)}
        asked = {one.words: one.on(columns) for one in usual_situations(trusted - _BEFORE, widest=True)}
        total = {name: self.whole.column(name) for name in self.flags}
        found = []
        for mask in self._masks(self.frame, asked).values() if asked else ():
            inside = self.counted(mask)
            rest = {name: total[name] - inside[name] for name in inside}
            (k, n), (rest_k, rest_n) = self._known(inside), self._known(rest)
            both = (n > 0) & (rest_n > 0)
            if both.any():
                found.append(FourCounts(k[both], n[both], rest_k[both], rest_n[both]))
        return found

    def _known(self, counts: Mapping[str, Wholes]) -> tuple[Wholes, Wholes]:
        """Return events and the exposure that they stand for, by the rule of ``counts.pair``."""
        events, exposure = counts[self.event], counts[self.per]
        unknown, contact = (
            counts.get(name, np.zeros_like(events)) for name in unknown_and_contact(self.whole, self.event)
        )
        if not unknown.any():
            return events, exposure
        if self.per == unknown_and_contact(self.whole, self.event)[1]:
            return events, np.maximum(exposure - unknown, events)
        share = np.divide(unknown, contact, out=np.zeros(len(events)), where=contact > 0)
        return events, np.maximum(np.rint(exposure * (1 - share)).astype(np.int64), events)


def pitched_for(
    pitches: Any, whole: Counts, event: str, per: str, own: Mapping[str, str], *terms: str
) -> Pitched | None:
    """Look at the single pitches of a rate.

    Parameters
    ----------
    pitches
        A pitch table.
    whole
        The tally of it, of the pitches that ``terms`` choose.
    event, per, own
        As in :meth:`Pitched.of`.
    terms
        Which pitches are taken, such as those of some days.

    Returns
    -------
    Pitched or None
        Nothing where single pitches cannot be looked at: in a table that is spread over workers, or where a
        count is not counted pitch by pitch.
    """
    try:
        frame, _ = eager(pitches)
    except ReadingError:
        return None
    if terms:
        frame = frame.filter(situation(*terms).on(set(frame.columns)) == True)  # noqa: E712
    try:
        return Pitched.of(frame, whole, event, per, own)
    except CountsError:
        return None


def _flags(frame: nw.DataFrame[Any], names: list[str], whole: Counts, own: dict[str, str]) -> dict[str, Mask]:
    """Tell which pitches enter each count; of a restricted one those in its situation."""
    plain = {name: (name, None) for name in names if name in EVENTS}
    wanted: dict[str, tuple[str, Situation | None]] = {**plain}
    for name in names:
        if name in own:
            wanted[name] = base_and_situation(own[name])
    # Contact behind hard balls in a situation is counted under its words.
    for _, where in list(wanted.values()):
        for base in EVENTS if where is not None else ():
            words = f"{EVENTS[base].many} {where.words}" if where is not None else ""
            if words in names and words not in wanted:
                wanted[words] = (base, where)
    ledger = ledger_flags(frame, tuple(dict.fromkeys(base for base, _ in wanted.values())), whole.conventions)
    flags = {}
    for name in names:
        base, where = wanted[name]
        flags[name] = ledger[base]
        if where is not None:
            expression = where.on(set(frame.columns))
            within = _with_before(frame) if _asks_before(frame, {name: expression}) else frame
            one = nw.when(expression == True).then(nw.lit(1)).otherwise(nw.lit(0)).alias("told")  # noqa: E712
            flags[name] = flags[name] & (_select(within, name, one)["told"].to_numpy() > 0)
    return flags


def _select(frame: nw.DataFrame[Any], name: str, told: nw.Expr) -> nw.DataFrame[Any]:
    try:
        return frame.select(told)
    except nw.exceptions.ColumnNotFoundError as error:
        raise MissingColumnsError(
            f"the situation {name!r} asks for a column that is not there: {error}"
        ) from error


def _with_before(frame: nw.DataFrame[Any]) -> nw.DataFrame[Any]:
    """Add what came before each pitch."""
    known = (*KEY, "hitter", "hitter_id", "outcome", "balls", "strikes", "bunt", *PREVIOUS.values())
    before = [name for name in dict.fromkeys(known) if name in frame.columns]
    narrow = nw.from_native(with_previous(frame.select(before).to_native()), eager_only=True)
    added = narrow.select([name for name in narrow.columns if name in _BEFORE])
    return nw.concat([frame, added], how="horizontal")


def _asks_before(frame: nw.DataFrame[Any], asked: Mapping[str, nw.Expr]) -> bool:
    """Tell whether a situation uses what came before and the table does not have it yet."""
    if _BEFORE & set(frame.columns) or not {*KEY, "outcome"} <= set(frame.columns):
        return False
    empty = frame.head(0)
    for expression in asked.values():
        try:
            empty.select(expression.alias("told"))
        except nw.exceptions.ColumnNotFoundError:
            return True
    return False
