"""Counts by game put in order of time: what dependence, form and half-weight sizes start from.

A table counted by hitter and game (``tally(pitches, by=["hitter", "game", "date"])``) becomes one row for
each game of each hitter, the hitters in the table's order and their games in order of time: by date (else
season) where the table is counted by it, then in the order of the rows, which a tally sorts by its keys.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.counts import LABELS, Counts, pair
from hitlab.counting.rates import as_counts
from hitlab.errors import CountsError, UnknownHitterError

__all__ = ["ByGame", "by_game", "cut", "hitter_totals", "in_order"]

Wholes = NDArray[np.int64]

_TIMES = ("date", "season")


@dataclass(frozen=True, slots=True)
class ByGame:
    """One rate, game by game.

    Attributes
    ----------
    totals
        The counts summed over the games, one row a hitter.
    hitter
        For each game the row of its hitter in ``totals``; ascending.
    when
        For each game its date where the table has one, else what tells the games apart, as text.
    events, exposure
        Counts of the rate; games without exposure are left out.
    unknown_share
        Share of contact of unknown hardness behind the events, all hitters together.
    """

    totals: Counts
    hitter: Wholes
    when: NDArray[Any]
    events: Wholes
    exposure: Wholes
    unknown_share: float

    def of(self, place: int) -> slice:
        """Return where the games of one hitter stand."""
        return slice(*(int(at) for at in np.searchsorted(self.hitter, [place, place + 1])))

    def place(self, hitter: str) -> int:
        """Return the row of a hitter in ``totals``, by id, label or name as it stands there."""
        data, labels = self.totals.data, self.totals.labels
        columns = [[str(v) for v in data[n]] for n in ("hitter_id", "hitter") if n in data]
        for values in (*columns, labels):
            found = [row for row, value in enumerate(values) if value == hitter]
            if len(found) == 1:
                return found[0]
        raise UnknownHitterError(
            f"nobody here, or more than one, is called {hitter!r}; give the id, or one of the "
            f"{len(labels):,} "
            f"names as they stand: {', '.join(labels[:3])}, ..."
        )


def by_game(counts: Any, event: str, per: str) -> ByGame:
    """Put a rate counted by hitter and game in order of time.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts, by the hitter and at least one more column.
    event, per
        The rate.

    Raises
    ------
    CountsError
        Where the counts are not by hitter and game, or there is no exposure.
    MissingColumnsError
        As in ``rate``.
    """
    counts = in_order(as_counts(counts))
    both = pair(counts, event, per)
    if not both.exposure.sum():
        raise CountsError(f"no {per} was counted, so there is nothing to follow over time")
    key = _hitter_key(counts)
    totals = hitter_totals(counts)
    numbers = pd.Series(np.arange(len(totals.data)), index=totals.data[key])
    there = both.exposure > 0
    others = [name for name in counts.by if name != key]
    times = [name for name in _TIMES if name in others] or others
    when = counts.data[times[0]].astype(str).to_numpy(object)
    for name in times[1:]:
        when = when + ", " + counts.data[name].astype(str).to_numpy(object)
    whole = pair(totals, event, per)
    contact = whole.unknown_share @ whole.exposure / max(int(whole.exposure.sum()), 1)
    return ByGame(
        totals,
        counts.data[key].map(numbers).to_numpy(np.int64)[there],
        when[there],
        both.events[there],
        both.exposure[there],
        float(contact),
    )


def in_order(counts: Counts) -> Counts:
    """Return counts by hitter and game with each hitter's rows together and in order of time.

    Raises
    ------
    CountsError
        Where the counts are not by hitter and game.
    """
    key = _hitter_key(counts)
    others = [name for name in counts.by if name != key]
    if not others:
        raise CountsError(
            f"these counts are by {key} alone; count them by game as well, such as "
            "tally(pitches, by=['hitter', 'game', 'date'])"
        )
    order = pd.DataFrame({"hitter": pd.factorize(counts.data[key])[0]})
    for name in _TIMES:
        if name in others:
            order[name] = counts.data[name].to_numpy()
    places = order.sort_values(list(order.columns), kind="stable").index
    return replace(counts, data=counts.data.iloc[places].reset_index(drop=True))


def hitter_totals(counts: Counts) -> Counts:
    """Sum counts over everything but the hitter; the hitters stay in their order."""
    key = _hitter_key(counts)
    labels = [n for n in LABELS if n in counts.data.columns and n != key]
    names = [n for n in counts.names if n not in labels]
    summed = counts.data.groupby(key, sort=False)[names].sum()
    kept = counts.data.drop_duplicates(key)[[key, *labels]].reset_index(drop=True)
    data = pd.concat([kept, summed.reset_index(drop=True)], axis=1)
    return replace(counts, data=data, by=(key,))


def cut(games: int, length: int) -> Wholes:
    """Return the number of each game's stretch, counted back from the last game.

    The last ``length`` games are the last stretch, and so on; games left over at the start are a stretch of
    their own where they are half of the length or more, else they go with the first one.
    """
    back: Wholes = np.arange(games)[::-1] // length
    left = games % length
    if left and left < length / 2 and games > length:
        back = np.minimum(back, games // length - 1)
    numbers: Wholes = back.max(initial=0) - back
    return numbers


def _hitter_key(counts: Counts) -> str:
    return next((name for name in ("hitter_id", "hitter") if name in counts.by), counts.by[0])
