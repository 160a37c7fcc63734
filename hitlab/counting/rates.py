"""Rates with their exposure and interval, and one event over every denominator."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from hitlab.counting.counts import Counts, pair
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.intervals import DEFAULT_LEVEL, INTERVAL_NAMES, IntervalKind, share_interval
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.results import Listing, Note, Part, Table
from hitlab.wording import level_words, rate_text

__all__ = ["DENOMINATORS", "Denominators", "Rates", "as_counts", "denominators", "rate"]

DENOMINATORS = ("pitches", "swings", "contact", "in_play", "plate_appearances")


def as_counts(counts: Any) -> Counts:
    """Return ``Counts`` as they are, and take any other table of counts through its check.

    Raises
    ------
    CountsError
        Where it is a pitch table, which has to be counted first, or holds what is no count.
    """
    return counts if isinstance(counts, Counts) else Counts.from_table(counts)


@dataclass(frozen=True, slots=True)
class Rates(Listing):
    """A rate for every group.

    Attributes
    ----------
    data
        One row a group in the counts' order: who it is, the event's count, the exposure, ``rate``,
        ``low``, ``high``. Where contact of unknown hardness is in the exposure also ``unknown`` (how
        many), ``rate_if_none`` and ``rate_if_all`` (the rate if none, or all, of it were hard);
        ``rate`` then supposes it as often hard as the measured contact, and the interval reaches
        from the low end if none were to the high end if all were.
    event, per
        The two counts.
    interval, level
        Kind and level of the interval.
    """

    data: pd.DataFrame
    event: str
    per: str
    interval: IntervalKind
    level: float
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The rate and its interval in words."""
        name = INTERVAL_NAMES[self.interval]
        return f"{rate_words(self.event, self.per)}, {level_words(self.level)} {name} intervals"

    def table_for_people(self) -> pd.DataFrame:
        """Return the groups with the highest rate first, rates as they are said."""
        shown = self.data.sort_values("rate", ascending=False, kind="stable")
        for name in shown.columns:
            if pd.api.types.is_float_dtype(shown[name]):
                shown[name] = [rate_text(value) for value in shown[name]]
        return shown


def rate(
    counts: Any,
    event: str = "hard",
    per: str = "swings",
    *,
    interval: IntervalKind = "wilson",
    level: float = DEFAULT_LEVEL,
    minimum: int = 0,
) -> Rates:
    """Rate of an event per denominator, with its interval.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts (see ``Counts.from_table``).
    event, per
        Names of two counts, such as ``"hard"`` and ``"swings"``.
    interval, level
        Kind (``wilson``, ``jeffreys``, ``clopper-pearson``) and level of the interval.
    minimum
        Leave out groups with a smaller exposure.

    Returns
    -------
    Rates
        Missing (NaN) rates where the exposure is 0.

    Raises
    ------
    MissingColumnsError, CountsError
        Where a count is absent, or the event does not lie within the denominator.
    """
    counts = as_counts(counts)
    both = pair(counts, event, per)
    data = counts.identity.copy()
    data[event], data[per] = both.events, both.exposure
    low, high = share_interval(both.events, both.exposure, interval, level)
    notes = counts.notes_on(event, per)
    if both.unknown.any():
        most = np.minimum(both.events + both.unknown, both.exposure)
        data["unknown"] = both.unknown
        with np.errstate(invalid="ignore", divide="ignore"):
            data["rate_if_none"] = both.events / both.exposure
            data["rate_if_all"] = most / both.exposure
        _, high = share_interval(most, both.exposure, interval, level)
        notes = (*notes, "the interval reaches from 'no unknown ball was hard' to 'all were'")
    data["rate"], data["low"], data["high"] = both.rate, low, high
    kept = data[both.exposure >= minimum].reset_index(drop=True)
    return Rates(kept, event, per, interval, level, notes)


@dataclass(frozen=True, slots=True)
class Denominators(Listing):
    """One event over several denominators, side by side.

    Attributes
    ----------
    data
        One row a group: who it is, then for each denominator the exposure (its name), the rate
        (``per_...``) and the rank of the rate among the groups shown (``rank_...``; 1 is the highest,
        equal rates share the better rank, no exposure no rank).
    event
        The event.
    over
        The denominators, widest first.
    left_out
        Denominators asked for and not there, with the reason.
    """

    data: pd.DataFrame
    event: str
    over: tuple[str, ...]
    left_out: dict[str, str]
    minimum: int
    labels: tuple[str, ...]

    @property
    def identity(self) -> pd.DataFrame:
        """The two factors of the rate per swing, and their product.

        ``in_play_per_swing`` times ``event_per_in_play`` is ``event_per_swing``: a rate per ball
        in play forgets the first factor, which is why the two lists disagree.
        """
        who = [c for c in self.data.columns if c in ("hitter", "hitter_id", "club")]
        out = self.data[who].copy()
        with np.errstate(invalid="ignore", divide="ignore"):
            out["in_play_per_swing"] = self.data["in_play"] / self.data["swings"]
        out["event_per_in_play"] = self.data["per_in_play"]
        out["event_per_swing"] = out["in_play_per_swing"] * out["event_per_in_play"]
        return out

    @property
    def title(self) -> str:
        """What is shown, in words."""
        return f"{event_words(self.event)} over {len(self.over)} denominators; each rate with its rank"

    def table_for_people(self) -> pd.DataFrame:
        """Return who it is, the count, and each rate with its rank behind it, as text."""
        shown = pd.DataFrame({"hitter": list(self.labels), self.event: self.data[self.event]})
        for per in self.over:
            rates, places = self.data[f"per_{per}"], self.data[f"rank_{per}"]
            shown[f"per {per_words(per)}"] = [
                "none" if pd.isna(place) else f"{rate_text(value)} ({place})"
                for value, place in zip(rates, places, strict=True)
            ]
        return shown

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of: who leads over each denominator, too."""
        lines = []
        for per in self.over:
            ranked = self.data[self.data[f"rank_{per}"] == 1]
            if len(ranked):
                who = " and ".join(self.labels[place] for place in ranked.index[:3])
                value, exposure = ranked[f"per_{per}"].iloc[0], int(ranked[per].iloc[0])
                leads = "leads" if len(ranked) == 1 else "lead"
                lines.append(
                    Note(f"{who} {leads}, {rate_text(value)} of {exposure:,}", f"per {per_words(per)}")
                )
        lines += [Note(f"per {per_words(per)} ({why})", "not shown") for per, why in self.left_out.items()]
        order = "per_swings" if "swings" in self.over else f"per_{self.over[0]}"
        best_first = self.data.sort_values(order, ascending=False, kind="stable").index
        return [self.title, *lines, Table(self.table_for_people().loc[best_first], most_rows=20)]


def denominators(
    counts: Any, event: str = "hard", over: Sequence[str] = DENOMINATORS, *, minimum: int = 0
) -> Denominators:
    """Lay the same event over several denominators, with each group's rank in each.

    Parameters
    ----------
    counts
        ``Counts``, or any table of counts.
    event
        The event, such as ``"hard"``.
    over
        Denominators; those that the counts do not have are left out and named.
    minimum
        Leave out groups with fewer swings (of the first denominator where there are no swings).

    Returns
    -------
    Denominators
        Rates are missing (NaN) where an exposure is 0. A denominator that does not contain every
        event (plate appearances for whiffs) is left out and named.

    Raises
    ------
    MissingColumnsError
        Where the event, or every denominator, is absent.
    """
    counts = as_counts(counts)
    counts.column(event)
    left_out = {
        per: counts.missing.get(per, "not among the counts") for per in over if per not in counts.names
    }
    for per in over:
        if per in counts.names:
            try:
                pair(counts, event, per)
            except CountsError:
                left_out[per] = f"not all {event_words(event)} are {event_words(per)}"
    there = tuple(per for per in over if per in counts.names and per not in left_out)
    if not there:
        raise MissingColumnsError(f"none of the denominators {', '.join(over)} was counted")
    gate = counts.column("swings" if "swings" in there else there[0])
    counts = counts.only(gate >= minimum)
    data = counts.identity.copy()
    data[event] = counts.column(event)
    for per in there:
        both = pair(counts, event, per)
        data[per], data[f"per_{per}"] = both.exposure, both.rate
        ranked = pd.Series(both.rate).rank(method="min", ascending=False)
        data[f"rank_{per}"] = ranked.astype("Int64").array
    return Denominators(data, event, there, left_out, minimum, tuple(counts.labels))
