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
from hitlab.wording import level_words, rate_or_bounds, rate_text

__all__ = ["DENOMINATORS", "Denominators", "Rates", "as_counts", "denominators", "rate", "rates_or_bounds"]

DENOMINATORS = ("pitches", "swings", "contact", "in_play", "plate_appearances")


def as_counts(counts: Any) -> Counts:
    """Return ``Counts`` as they are, and take any other table of counts through its check.

    Raises
    ------
    CountsError
        Where it is a pitch table, which has to be counted first, or holds what is no count.
    """
    return counts if isinstance(counts, Counts) else Counts.from_table(counts)


def rates_or_bounds(
    data: pd.DataFrame, rate: str = "rate", least: str = "least", most: str = "most"
) -> list[str]:
    """Return a column of rates as they are said; where one is missing and has bounds, these."""
    if least not in data.columns:
        return [rate_text(value) for value in data[rate]]
    return [rate_or_bounds(*row) for row in data[[rate, least, most]].itertuples(index=False)]


@dataclass(frozen=True, slots=True)
class Rates(Listing):
    """A rate for every group.

    Attributes
    ----------
    data
        One row a group in the counts' order: who it is, the event's count, the exposure, ``rate``,
        ``low``, ``high``. Where contact of unknown hardness is in the exposure also ``unknown`` (how
        many), ``least`` and ``most`` (the rate if none, or all, of it were hard); ``rate`` then supposes it
        as often hard as the measured contact, and is missing where more of the contact is unknown than
        can be supposed. The interval reaches from the low end if none were to the high end if all were.
    event, per
        The two counts.
    interval, level
        Kind and level of the interval.
    notes
        What a careful reader wants to know.
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
        """Return the groups with the highest rate first, rates as they are said.

        Those that have bounds in place of a rate stand below, the highest lower bound first.
        """
        by = ["rate", "least"] if "least" in self.data else ["rate"]
        shown = self.data.sort_values(by, ascending=False, kind="stable")
        shown["rate"] = rates_or_bounds(shown)
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
    most_unknown: float | None = None,
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
    most_unknown
        Share of a group's contact of unknown hardness beyond which no rate is given, only its bounds. Such
        contact then stays in a denominator of contact or balls in play, which it else leaves. The counts' own
        (``Conventions.most_unknown``) where not given.

    Returns
    -------
    Rates
        Missing (NaN) rates where the exposure is 0, and beyond ``most_unknown``.

    Raises
    ------
    MissingColumnsError, CountsError
        Where a count is absent, or the event does not lie within the denominator.

    Examples
    --------
    >>> import hitlab
    >>> import pandas as pd
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch"],
    ...                      "swings": [200, 40], "hard": [50, 14]})
    >>> print(hitlab.rate(team, "hard", per="swings"))
    hard-hit balls per swing, 90 % Wilson intervals
             hitter  hard  swings rate  low high
      Nils Haxditch    14      40 .350 .239 .480
      Runa Kvalbakk    50     200 .250 .203 .303
    """
    counts = as_counts(counts)
    most_unknown = counts.conventions.most_unknown if most_unknown is None else most_unknown
    both = pair(counts, event, per, most_unknown=most_unknown)
    data = counts.identity.copy()
    data[event], data[per] = both.events, both.exposure
    low, high = share_interval(both.events, both.exposure, interval, level)
    notes = (*counts.notes_on(event, per), *both.notes(most_unknown))
    if both.unknown.any():
        data["unknown"], data["least"], data["most"] = both.unknown, both.least, both.most
        _, high = share_interval(both.all_hard, both.exposure, interval, level)
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
        equal rates share the better rank, no exposure no rank). Where too much contact is of unknown
        hardness for some rate, rate and rank are missing and its bounds stand in ``least_...`` and
        ``most_...``.
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
    notes: tuple[str, ...] = ()

    @property
    def order(self) -> list[str]:
        """The columns by which the groups are listed, highest first: rates per swing, then lower bounds."""
        per = "swings" if "swings" in self.over else self.over[0]
        return [name for name in (f"per_{per}", f"least_{per}") if name in self.data.columns]

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
        ranked = "each rate with its rank"
        if self.notes:
            ranked += ", or two bounds in place of both"
            if self.data[self.order[0]].isna().all():
                ranked = "two bounds in place of each rate, in order of the lower bound"
        return f"{event_words(self.event)} over {len(self.over)} denominators; {ranked}"

    def table_for_people(self) -> pd.DataFrame:
        """Return who it is, the count, and each rate with its rank behind it, as text."""
        shown = pd.DataFrame({"hitter": list(self.labels), self.event: self.data[self.event]})
        for per in self.over:
            rates = rates_or_bounds(self.data, f"per_{per}", f"least_{per}", f"most_{per}")
            shown[f"per {per_words(per)}"] = [
                text if pd.isna(place) else f"{text} ({place})"
                for text, place in zip(rates, self.data[f"rank_{per}"], strict=True)
            ]
        return shown

    def of(self, place: int, labels: Sequence[str] | None = None) -> pd.DataFrame:
        """Return one group's rate over each denominator, with its rank and who has the highest.

        Parameters
        ----------
        place
            Of the group among those laid side by side.
        labels
            What they are called; as ``labels`` where not given.

        Returns
        -------
        pandas.DataFrame
            One row a denominator over which somebody has a rate.
        """
        called, rows = self.labels if labels is None else labels, []
        for per in self.over:
            value, rank = self.data[f"per_{per}"], self.data[f"rank_{per}"].iloc[place]
            if value.isna().all():
                continue
            best = int(value.fillna(-1).to_numpy(float).argmax())
            bounds = [name for name in ("least", "most") if f"{name}_{per}" in self.data.columns]
            rows.append(
                {
                    "per": per_words(per),
                    "of": int(self.data[per].iloc[place]),
                    **{name: float(self.data[f"{name}_{per}"].iloc[place]) for name in bounds},
                    "rate": float(value.iloc[place]),
                    "rank": f"{rank} of {int(value.notna().sum())}" if not pd.isna(rank) else "none",
                    "highest": called[best],
                    "best_rate": float(value.iloc[best]),
                }
            )
        return pd.DataFrame(rows)

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
        lines += [Note(note) for note in self.notes]
        best_first = self.data.sort_values(self.order, ascending=False, kind="stable").index
        return [self.title, *lines, Table(self.table_for_people().loc[best_first], most_rows=20)]


def denominators(
    counts: Any,
    event: str = "hard",
    over: Sequence[str] = DENOMINATORS,
    *,
    minimum: int = 0,
    most_unknown: float | None = None,
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
    most_unknown
        Share of a group's contact of unknown hardness beyond which it has no rates and no ranks, only bounds.
        The counts' own where not given.

    Returns
    -------
    Denominators
        Rates are missing (NaN) where an exposure is 0, and beyond ``most_unknown``. A denominator that does
        not contain every event (plate appearances for whiffs) is left out and named.

    Raises
    ------
    MissingColumnsError
        Where the event, or every denominator, is absent.

    Examples
    --------
    Who puts few balls in play may lead per ball in play and not per swing:

    >>> import pandas as pd
    >>> from hitlab.counting import denominators
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch"],
    ...                      "swings": [400, 380], "in_play": [120, 190], "hard": [60, 76]})
    >>> sides = denominators(team, "hard", over=["swings", "in_play"])
    >>> sides.table()[["hitter", "per_swings", "rank_swings", "per_in_play", "rank_in_play"]]
              hitter  per_swings  rank_swings  per_in_play  rank_in_play
    0  Runa Kvalbakk        0.15            2          0.5             1
    1  Nils Haxditch        0.20            1          0.4             2
    """
    counts = as_counts(counts)
    most_unknown = counts.conventions.most_unknown if most_unknown is None else most_unknown
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
    notes: tuple[str, ...] = ()
    for per in there:
        both = pair(counts, event, per, most_unknown=most_unknown)
        data[per], data[f"per_{per}"] = both.exposure, both.rate
        ranked = pd.Series(both.rate).rank(method="min", ascending=False)
        data[f"rank_{per}"] = ranked.astype("Int64").array
        if both.bounded.any():
            for name, bound in (("least", both.least), ("most", both.most)):
                data[f"{name}_{per}"] = np.where(both.bounded, bound, np.nan)
            notes = both.notes(most_unknown)
    return Denominators(data, event, there, left_out, minimum, tuple(counts.labels), notes)
