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

from hitlab.counting.counts import Counts, pair, unknown_contact
from hitlab.counting.finding import find_row
from hitlab.counting.rates import as_counts
from hitlab.errors import CountsError

__all__ = [
    "ByGame",
    "by_game",
    "cut",
    "hitter_key",
    "hitter_totals",
    "in_order",
    "measured_part",
    "summed_by_hitter",
]

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]

_TIMES = ("date", "season")
_NOBODY = ("game", "date", "season", "inning", "half", "plate_appearance", "pitch")  # tell no hitters apart


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
        Counts of the rate, all of them: contact of unknown hardness stays in a denominator of contact, too.
        Games without exposure are left out, those of which nothing was measured are not.
    measured
        What the events of each game stand for where some of its contact is of unknown hardness: the exposure
        without that share of it, rounded.
    unknown, contact
        For each game the contact of unknown hardness behind the events, and all contact; 0 where the events
        are not about hardness.
    told
        For each game whether it is known which one it is: a row without an id may be many games.
    """

    totals: Counts
    hitter: Wholes
    when: NDArray[Any]
    events: Wholes
    exposure: Wholes
    measured: Wholes
    unknown: Wholes
    contact: Wholes
    told: NDArray[np.bool_]

    def of(self, place: int) -> slice:
        """Return where the games of one hitter stand."""
        return slice(*(int(at) for at in np.searchsorted(self.hitter, [place, place + 1])))

    def place(self, hitter: str) -> int:
        """Return the row of a hitter in ``totals``; see :func:`hitlab.names.find_name`."""
        return find_row(self.totals, hitter)


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
    both, exposure = pair(counts, event, per), counts.column(per)
    if not exposure.any():
        raise CountsError(f"no {per} was counted, so there is nothing to follow over time")
    key = hitter_key(counts)
    totals = hitter_totals(counts)
    there = exposure > 0
    others = [name for name in counts.by if name != key]
    times = [name for name in _TIMES if name in others] or others
    when = counts.data[times[0]].astype(str).to_numpy(object)
    for name in times[1:]:
        when = when + ", " + counts.data[name].astype(str).to_numpy(object)
    unknown, contact = unknown_contact(counts, event)
    return ByGame(
        totals,
        pd.factorize(counts.data[key], use_na_sentinel=False)[0].astype(np.int64)[there],
        when[there],
        both.events[there],
        exposure[there],
        both.measured_exposure[there],
        unknown[there],
        contact[there],
        _told(counts, others)[there],
    )


def measured_part(exposure: Any, unknown: Any = 0, contact: Any = 0) -> Floats:
    """Return the exposure that known events stand for: without the share that is unknown of its contact.

    Of several games together, give their sums: games apart are too small for that share, for in one without
    contact nothing is unknown, and it would weigh more than it is worth.
    """
    exposure, unknown, contact = (np.asarray(each, dtype=float) for each in (exposure, unknown, contact))
    share = np.divide(unknown, contact, out=np.zeros(contact.shape), where=contact > 0)
    return np.asarray(exposure * (1 - share))


def in_order(counts: Counts) -> Counts:
    """Return counts by hitter and game with each hitter's rows together and in order of time.

    Raises
    ------
    CountsError
        Where the counts are not by hitter and game.
    """
    key = hitter_key(counts)
    others = [name for name in counts.by if name != key]
    if not others:
        raise CountsError(
            f"these counts are by {key} alone; count them by game as well, such as "
            "tally(pitches, by=['hitter', 'game', 'date'])"
        )
    order = pd.DataFrame({"hitter": pd.factorize(counts.data[key], use_na_sentinel=False)[0]})
    for name in _TIMES:
        if name in others:
            order[name] = counts.data[name].to_numpy()
    places = order.sort_values(list(order.columns), kind="stable").index
    return replace(counts, data=counts.data.iloc[places].reset_index(drop=True))


def hitter_totals(counts: Counts) -> Counts:
    """Sum counts over everything but the hitter; the hitters stay in their order."""
    return counts.summed((hitter_key(counts),))


def summed_by_hitter(counts: Counts) -> Counts:
    """Return counts by hitter: counts by game summed, others as they are."""
    return hitter_totals(counts) if "game" in counts.by else counts


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


def hitter_key(counts: Counts) -> str:
    """Return the column that tells the hitters apart.

    Raises
    ------
    CountsError
        Where the counts are not by hitter.
    """
    named = [name for name in ("hitter_id", "hitter") if name in counts.by]
    found = [*named, *(name for name in counts.by if name not in _NOBODY)]
    if not found:
        raise CountsError(f"these counts are by {' and '.join(counts.by)}; count them by hitter as well")
    return found[0]


def _told(counts: Counts, others: list[str]) -> NDArray[np.bool_]:
    """Say of which rows it is known what one game, or part of one, they are."""
    there = counts.data[others].notna()
    if "plate_appearance" not in others and "date" in others:
        return (there["date"] | there.drop(columns=[n for n in _TIMES if n in others]).all(axis=1)).to_numpy()
    return there.all(axis=1).to_numpy()
