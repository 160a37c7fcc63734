"""What the usual situations of a pitch table say beside the one that is asked.

The usual situations are counted whatever is asked, so that every way of asking fits a split together with the
same others.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import Counts, unknown_and_contact, unknown_contact
from hitlab.counting.events import EVENTS
from hitlab.counting.situations import situation
from hitlab.errors import CountsError
from hitlab.pitches.opening import frame_of
from hitlab.splits.inside import BEFORE, Counter, counter_of
from hitlab.splits.split_law import FourCounts
from hitlab.splits.usual import usual_situations

__all__ = ["Pitched", "pitched_for"]

Wholes = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Pitched:
    """The pitches that enter the counts of a rate.

    Attributes
    ----------
    whole
        Everybody's counts, with these counts only.
    event, per
        The rate.
    columns
        Those of the table.
    counter
        Counts some of the pitches.
    """

    whole: Counts
    event: str
    per: str
    columns: frozenset[str]
    counter: Counter

    @classmethod
    def of(
        cls, frame: Any, whole: Counts, event: str, per: str, own: Mapping[str, str] | None = None
    ) -> Pitched:
        """Look once at what each pitch was.

        Parameters
        ----------
        frame
            A narwhals frame of pitches, in memory or on another engine.
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
        columns = frozenset(frame.collect_schema().names())
        who = whole.data[[column for column in whole.data.columns if column not in whole.names]]
        narrow = replace(whole, data=pd.concat([who, whole.data[names]], axis=1))
        return cls(narrow, event, per, columns, counter_of(frame, narrow, names, own))

    def splits(
        self, asked: Mapping[str, nw.Expr], *, usual: bool = True
    ) -> tuple[dict[str, Counts], list[FourCounts]]:
        """Count the pitches in some situations and, at the same time, in the usual ones.

        Parameters
        ----------
        asked
            Expressions by their names; a missing value is in none.
        usual
            Whether the usual situations are counted.

        Returns
        -------
        parts, beside
            Counts by situation; and those of the usual situations that lie within no other, as far as the
            table itself tells them. Sliders are breaking balls, and up and in is up: they would tell of the
            same swings again. What came before a pitch has to be looked for in order, which would take as
            long as all the others.
        """
        beside = self._usual() if usual else {}
        sums = self.counter.sums({**asked, **beside})
        who = self.whole.data[[c for c in self.whole.data.columns if c not in self.whole.names]]
        parts = {name: replace(self.whole, data=who.assign(**sums[name])) for name in asked}
        told = [self._four(sums[name]) for name in beside]
        return parts, [counts for counts in told if len(counts.events)]

    def _usual(self) -> dict[str, nw.Expr]:
        most = self.whole.conventions.most_contradicted
        trusted = {name for name in self.columns if not self.whole.doubts.reason([name], most)}
        usual = usual_situations(trusted - BEFORE, widest=True)
        # Whoever asks for one of them under its own words may mean another.
        return {f"usual: {one.words}": one.on(self.columns) for one in usual}

    def _four(self, inside: Mapping[str, Wholes]) -> FourCounts:
        """Return what those with exposure on both sides have inside and outside."""
        rest = {name: self.whole.column(name) - inside[name] for name in inside}
        (k, n), (rest_k, rest_n) = self._known(inside), self._known(rest)
        both = (n > 0) & (rest_n > 0)
        return FourCounts(k[both], n[both], rest_k[both], rest_n[both])

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
        Nothing where a count is not counted pitch by pitch.
    """
    frame, _ = frame_of(pitches)
    if terms:
        columns = frozenset(frame.collect_schema().names())
        frame = frame.filter(situation(*terms).on(columns) == True)  # noqa: E712
    try:
        return Pitched.of(frame, whole, event, per, own)
    except CountsError:
        return None
