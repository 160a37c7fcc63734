"""Everybody's rates as a question asks for them: the counts, the fit, and who is compared."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any, Self

import numpy as np
import pandas as pd

from hitlab.counting.counts import MOST_UNMEASURED, Counts, pair, unknown_contact
from hitlab.counting.events import per_words, rate_words
from hitlab.counting.finding import find_row
from hitlab.errors import ClaimError
from hitlab.estimates.league_law import LeagueLaw
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import Fit, shrink
from hitlab.names import find_name
from hitlab.over_time.dependence import MATTERS, Overdispersion
from hitlab.over_time.stretches import hitter_key, hitter_totals
from hitlab.questions.beside import Beside
from hitlab.questions.faced_pitching import COMPARABLE, FacedPitching, allow_for_faced
from hitlab.questions.finely import Finely
from hitlab.questions.question import About, Question
from hitlab.questions.source import Source, once
from hitlab.showing import shown_name
from hitlab.wording import Called, club_called, listed, percent, rate_or_bounds

__all__ = ["Fitted", "Wholes", "on_unmeasured"]

Wholes = np.ndarray[Any, np.dtype[np.int64]]


def on_unmeasured(share: float, most_unknown: float, where: str = "") -> tuple[tuple[str, ...], str]:
    """Return why a claim is left open, and why no chance is given of it, for a share of unmeasured contact.

    Parameters
    ----------
    share
        Of the contact that the claim rests on, the share of unknown hardness.
    most_unknown
        Beyond which no chance is given, as it would take the unknown to be like the known.
    where
        Where that contact was, in words, if it is not all of it.

    Returns
    -------
    tuple
        A note where the share is more than :data:`MOST_UNMEASURED`, else none; and a reason where it is more
        than ``most_unknown``.
    """
    if share <= MOST_UNMEASURED:
        return (), ""
    unknown = f"hardness is unknown for {percent(share)} of the contact {where}".strip()
    note = f"{unknown}, more than {percent(MOST_UNMEASURED)}, so no claim about it is settled either way"
    return (note,), unknown if share > most_unknown else ""


class Fitted:
    """A question's common ground: counts, fit, and who qualifies.

    Attributes
    ----------
    source, question
        What is asked, and of what.
    counts
        By subject.
    event, per
        The rate, by the names of its counts.
    fingerprint
        Of the counts by subject, however they came.
    alike
        How alike attempts of a game are, where that is known.
    by_game
        Whether the counts came by game.
    known
        What is known of the hitters beside the table.
    met
        By hitter and what he faced, where it may have to be allowed for; ``None`` where that is not told.
    both
        The two counts of the rate: all that was done, whatever of it was measured.
    """

    def __init__(
        self,
        source: Source,
        counts: Counts,
        *,
        games: Finely | None = None,
        totals: bool = False,
        met: Finely | None = None,
        known: Beside | None = None,
    ) -> None:
        """Take what is common; with ``totals`` no more is asked of counts by game than their sums."""
        self.source, self.question, self.known = source, source.question, known
        self.event, self.per = source.rate
        if "game" in counts.by:
            by_game, counts = counts, hitter_totals(counts)
            games = Finely(source, (), ("game",), counts, by_game)
        self.fingerprint = counts.fingerprint
        self.by_game = games is not None
        self.alike = None if games is None or totals else games.alike()
        self.met, self.asks_faced = met, False
        self.counts = counts
        self.prior = None if self.question.prior is None else LeagueLaw(*self.question.prior)
        # Refuses what is no rate before anybody is looked for.
        most_unknown = self.question.conventions.most_unknown
        self.both = pair(counts, self.event, self.per, most_unknown=most_unknown, stays=True)

    @classmethod
    def asked(cls, question: Question, table: Any, traits: Any = None, earlier: Any = None) -> Self:
        """Look at a table as a question about one rate asks, and at what is known of the hitters beside it.

        Counted by game as well where that is told, so that attempts of one game need not be independent.
        """
        known = Beside.of(question, traits, earlier)
        source = Source.of(known.question, table)
        q = source.question
        record, chosen = q.about == "record", (*q.when, *source.days)
        by = [] if q.independent or record or "game" not in source.columns else ["game"]
        faced = [] if record else source.faced_by
        parted = Finely.of(source, chosen, [*by, *faced])
        games, met = parted if by else None, parted if faced else None
        known, source = known.with_seasons_of(source, parted.counts)
        setting = cls(source, parted.counts, games=games, totals=q.independent, met=met, known=known)
        setting.asks_faced = not record
        return setting

    @cached_property
    def _fits(self) -> tuple[Fit, FacedPitching | None]:
        """The fit, and what was found of the pitching faced, where that is asked."""
        q = self.question
        if q.traits or q.earlier:
            return self._fitted()
        # Whom it is asked of, which way and against what does not move the league's law.
        kind = "" if q.of_kind.shrunk else q.kind
        asked = repr(replace(q, kind=kind, who="", direction="more", options={}).to_dict())
        key = (asked, self.fingerprint, self.counts.by, self.by_game, self.asks_faced, self.record)
        return once(key, self._fitted)

    def _fitted(self) -> tuple[Fit, FacedPitching | None]:
        effect = None if self._matters is None else self._matters.data["design_effect"]
        options: dict[str, Any] = {"prior": self.prior, "design_effect": effect}
        if self.known is not None and not self.record:
            options |= self.known.options(self.source, self.counts)
        plain = shrink(self.counts, self.event, self.per, intervals=False, doubts=False, **options)
        if not self.asks_faced or plain.eye is not None:
            return plain.with_doubts(), None
        faced = allow_for_faced(self.source, self.met, plain)
        if faced.drawn is None:
            return plain.with_doubts(), faced
        return (
            shrink(self.counts, self.event, self.per, faced=faced.drawn, intervals=False, **options),
            faced,
        )

    @property
    def fit(self) -> Fit:
        """The law of all true rates, fitted when first asked for; adjusted where what was faced matters.

        It leaves the intervals out, of all hitters a third of its time: see :meth:`rows_of`.
        """
        return self._fits[0]

    def rows_of(self, places: Sequence[int] | np.ndarray[Any, Any]) -> pd.DataFrame:
        """Return the fit's rows of some in the order of their places, with their intervals."""
        at = np.asarray(places, dtype=np.intp)
        low, high = self.fit.posterior.only(at).interval(self.fit.level)
        return self.fit.data.iloc[at].assign(low=low, high=high)

    @property
    def faced(self) -> FacedPitching | None:
        """By how much the pitching faced differs; ``None`` where that is not asked."""
        return self._fits[1]

    @property
    def exposure(self) -> Wholes:
        """What a minimum is held against: of a record all that was done, of a chance what it rests on."""
        return self.both.exposure if self.record else self.fit.exposure

    @cached_property
    def minimum(self) -> int:
        """Fewest exposures to be compared; a quarter of the largest by default, never none."""
        least = self.question.minimum
        return max(usual_minimum(self.exposure[self.members]) if least is None else int(least), 1)

    @cached_property
    def _clubs(self) -> list[list[str]]:
        """Every row's clubs; the tally joins several of one hitter."""
        if "club" in self.counts.data.columns:
            told = self.counts.data["club"]
        elif "club" in self.source.columns:  # where names alone tell hitters, the tally keeps no club
            key = hitter_key(self.counts)
            by_club = self.source.counts(*self.source.season_terms, by=["club"]).data.dropna(subset=["club"])
            joined = by_club.groupby(key)["club"].agg(lambda clubs: " and ".join(sorted(map(str, clubs))))
            told = self.counts.data[key].map(joined)
        else:
            raise ClaimError(
                "the table has no column club, so nobody's club is known. Read it with a roster that has the "
                "clubs, or, where all are of one, with a mapping that says so: [constants] club"
            )
        return [one.split(" and ") for one in told.fillna("").astype(str)]

    @cached_property
    def club(self) -> str:
        """The club that is asked for, by its proper name; empty for all."""
        if not self.question.club:
            return ""
        seen = sorted({one for told in self._clubs for one in told if one})
        return seen[find_name(self.question.club, seen, what="club")]

    @cached_property
    def members(self) -> Wholes:
        """Places of those who are compared whatever their exposure: all, or a club's."""
        if not self.club:
            return np.arange(len(self.counts.data))
        return np.flatnonzero([self.club in told for told in self._clubs])

    @property
    def record(self) -> bool:
        """Whether the claim is about the record."""
        return self.question.about == "record"

    @property
    def less(self) -> bool:
        """Whether fewer, lower or below is claimed."""
        return self.question.direction == "less"

    @property
    def side(self) -> str:
        """On which side of a value a rate is claimed to be."""
        return "below" if self.less else "above"

    @property
    def effect(self) -> np.ndarray[Any, np.dtype[np.float64]]:
        """How many times shorter each record counts, because attempts of one game are alike."""
        by_eye = np.ones(len(self.fit.data)) if self.fit.eye_effect is None else self.fit.eye_effect
        return (
            by_eye if self._matters is None else self._matters.data["design_effect"].to_numpy(float) * by_eye
        )

    @property
    def _matters(self) -> Overdispersion | None:
        """How alike attempts of a game are, where that may matter."""
        return self.alike if self.alike is not None and self.alike.may_matter else None

    @cached_property
    def worth(self) -> np.ndarray[Any, np.dtype[np.float64]]:
        """By hitter what an attempt tells of his rate where what he faced is allowed for; 1 where not."""
        drawn = None if self.faced is None else self.faced.drawn
        if drawn is None:
            return np.ones(len(self.fit.data))
        exposure = self.fit.exposure
        told = drawn.mean_of(drawn.exposure)
        return np.asarray(np.divide(told, exposure, out=np.ones(len(told)), where=exposure > 0))

    @property
    def of_league(self) -> bool:
        """Whether it is about everybody together, so that there is nobody to compare or to shrink toward."""
        return self.question.subject == "league"

    @property
    def rate_name(self) -> str:
        """The rate in words, with its situation."""
        faced = " by the hitters faced" if self.question.subject == "pitcher" else ""
        return f"{rate_words(self.event, self.per)}{faced} {self.source.words}".strip()

    @property
    def qualified(self) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Places of those with the minimum exposure."""
        places = self.members[self.exposure[self.members] >= self.minimum]
        if not len(places):
            most = int(self.exposure[self.members].max(initial=0))
            raise ClaimError(
                f"nobody has at least {self.minimum:,} {per_words(self.per, 2)}; the most is {most:,}. "
                "Lower minimum="
            )
        return places

    @property
    def usual_field(self) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Places of those with the minimum that a ranking would ask for by default."""
        return np.flatnonzero(self.exposure >= usual_minimum(self.exposure))

    @cached_property
    def labels(self) -> list[str]:
        """What each row is called, put together once: it takes a look at all of them."""
        return self.counts.labels

    @property
    def field_words(self) -> str:
        """Who is compared, in words."""
        some = bool((self.exposure < self.both.exposure)[self.members].any())
        least = f"{self.minimum:,} {'measured ' if some else ''}{per_words(self.per, self.minimum)}"
        of = f" of {club_called(shown_name(self.club)).name}" if self.club else ""
        return f"the {len(self.qualified):,} {self.question.subject}s{of} with at least {least}"

    def called(self, place: int) -> Called:
        """Return what somebody is called within a sentence."""
        label = self.labels[place]
        return club_called(label) if self.question.subject == "club" else Called(label)

    def place(self, name: str, *, qualified: bool = False) -> int:
        """Return a hitter's row, who must have exposure (and the minimum where asked)."""
        place = find_row(self.counts, name)
        called = self.called(place)
        label, has = called.first, called.does("has", "have")
        if not self.both.exposure[place]:
            raise ClaimError(
                f"{label} {has} no {per_words(self.per, 2)} here, so nothing can be said of this rate"
            )
        if qualified and place not in self.members:
            raise ClaimError(
                f"{label} does not play for {club_called(shown_name(self.club)).name}, who alone are "
                "compared; leave club= out"
            )
        if qualified and (exposure := int(self.exposure[place])) < self.minimum:
            measured = "measured " if exposure < self.both.exposure[place] else ""
            raise ClaimError(
                f"{label} {has} {exposure:,} {measured}{per_words(self.per, exposure)}, fewer than the "
                f"minimum of {self.minimum:,}; lower minimum= or choose another claim"
            )
        return place

    def record_of(self, place: int) -> str:
        """Return a hitter's record in words: ``97 in 422 swings``, and what of it is unknown."""
        exposure, unknown = int(self.both.exposure[place]), int(self.both.unknown[place])
        balls = "one ball" if unknown == 1 else f"{unknown:,} balls"
        untold = f" ({balls} not measured)" if unknown else ""
        return f"{int(self.both.events[place]):,} in {exposure:,} {per_words(self.per, exposure)}{untold}"

    def observed_words(self, place: int, *, bounds: bool = False) -> str:
        """Return a hitter's observed rate; its bounds where they decide, or too much is unknown for one."""
        low, high = (float(bound[place]) for bound in self.bounds_of_record())
        unsure = bounds and low < high
        return rate_or_bounds(np.nan if unsure else float(self.both.rate[place]), low, high)

    def bounds_of_record(self) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
        """Return each observed rate if no unknown ball was hard, and if all were."""
        return np.nan_to_num(self.both.least), np.nan_to_num(self.both.most)

    def unmeasured(
        self, places: Sequence[int], judged: float = 0.0, where: str = ""
    ) -> tuple[tuple[str, ...], str]:
        """Return why a claim about some is left open, and why no chance is given of it.

        Parameters
        ----------
        places
            Whom it is about.
        judged, where
            The largest share of unknown hardness in the part of their record that is judged, and which part
            that is, in words. It is so short that a ball or two are soon more than 5 %, so it counts only
            where no chance is given.
        """
        unknown, contact = (float(each.sum()) for each in unknown_contact(self.counts, self.event))
        shares = [unknown / contact if contact else 0.0, *(float(self.both.unknown_share[p]) for p in places)]
        most_unknown = self.question.conventions.most_unknown
        if judged > max(most_unknown, *shares):
            return on_unmeasured(judged, most_unknown, where)
        return on_unmeasured(max(shares), most_unknown)

    @property
    def season_notes(self) -> tuple[str, ...]:
        """Which seasons were used, what was left out, and why; empty where no season is asked for."""
        earlier = () if self.known is None or not self.source.seasons else self.known.earlier
        return self.source.season_notes(self.counts, earlier)

    def notes_for(self, about: About) -> tuple[str, ...]:
        """Return what is noted about the counts, and about the fit where the answer rests on it."""
        if about == "record":
            return self.counts.notes_on(self.event, self.per)
        # One group alone has nothing to be shrunk toward, and what the fit says of spreads does not matter.
        noted = self.counts.notes_on(self.event, self.per) if self.of_league else self.fit.notes
        faced = () if self.faced is None else (self.faced.note,)
        if self.alike is None:
            return (*noted, *faced)
        done = "none was found, so nothing is allowed for"
        if self.alike.may_matter:
            done = "the chance allows for that"
        elif self.alike.width_high < MATTERS:
            done = "that is too little to matter"
        return (*noted, f"{self.alike.measured}; {done}", *faced)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What the chance of an underlying claim rests on."""
        draws = "each attempt is an independent draw at it"
        if self._matters is not None:
            draws = "attempts are draws at it that are alike within a game"
        if self.of_league:
            return (f"the hitters of this table together have one true rate over it, and {draws}",)
        beside = self._told_beside
        around = f"a mean that may follow {listed(beside)}" if beside else "one mean"
        seasons = self.source.seasons
        over = "this season" if seasons is not None and len(seasons.names) == 1 else "this table"
        return (
            f"each {self.question.subject} has one true rate over {over}, and {draws}",
            f"the true rates of all {len(self.fit.data):,} lie smoothly about {around}{self._known_before()}"
            "; how widely is not known, and every width counts by how well it fits this table",
            *((self.fit.decision,) if self.fit.exposure_tells or beside else ()),
            COMPARABLE if self.faced is None else self.faced.assumption,
        )

    @property
    def _told_beside(self) -> list[str]:
        """What of groups, numbers and earlier seasons the law's mean may follow."""
        weighed = self.fit.weighed
        if weighed.empty:
            return []
        return list(weighed["part"][weighed["kind"].isin(["groups", "covariate", "earlier"])].unique())

    def _known_before(self) -> str:
        if self.prior is None:
            return ""
        source = f" ({self.prior.source})" if self.prior.source else ""
        both = self.both
        k, n = both.events / self.effect, both.measured_exposure / self.effect
        against = self.prior.contradictions(k, n, self.event, self.per)
        but = ", which this table contradicts" if against else ""
        return f" and agree with what is known of the league{source}: {self.prior.words}{but}"
