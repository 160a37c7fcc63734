"""What every kind of claim needs: who is meant, the fit, the verdict, and what would change it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.beside import Beside
from hitlab.claims.faced_pitching import COMPARABLE, FacedPitching, allow_for_faced
from hitlab.claims.finely import Finely
from hitlab.claims.kept import kept_words, missed_words
from hitlab.claims.question import OF_SHRUNK_RATES, THE_LEAGUE, About, Question
from hitlab.claims.result import ON_RECORD, Claim, Finding, Verdict, denies, how_likely, how_sure
from hitlab.claims.source import Source, once
from hitlab.claims.verdicts import MEASURE_MORE, fewest, on_unmeasured, verdict_on
from hitlab.counting.counts import Counts, pair, unknown_contact
from hitlab.counting.events import EVENTS, per_words, rate_words
from hitlab.counting.finding import find_row
from hitlab.counting.rates import denominators
from hitlab.errors import ClaimError
from hitlab.estimates.league_law import LeagueLaw
from hitlab.estimates.ranking import usual_minimum
from hitlab.estimates.shrinkage import Fit, Posterior, shrink
from hitlab.names import find_name
from hitlab.over_time.dependence import MATTERS, Overdispersion
from hitlab.over_time.seasons import moved
from hitlab.over_time.stretches import hitter_key, hitter_totals
from hitlab.showing import shown_name
from hitlab.wording import capitalised, listed, rate_or_bounds

__all__ = ["Setting", "Wholes", "became_of"]

Wholes = np.ndarray[Any, np.dtype[np.int64]]

_MOST_MORE = 51_200  # more swings than a career has: past it "would not settle it" is the answer
_BECAME = ("pitches", "swings", "whiffs", "fouls", "in_play", "hard", "check_swings_went", "bunts")
_LEAST_LEFT = 0.01  # attempts of a kind that a changed record keeps under each law
_SOME_LAWS = 12  # the heaviest prior laws, with which a number is looked for


class Setting:
    """A claim's common ground: counts, fit, who qualifies, and the two bounds.

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
        # Why it is left open, and why no chance is given, once the verdict is known.
        self.reasons, self.untold = tuple[str, ...](), ""
        self.counts = counts
        self.prior = None if self.question.prior is None else LeagueLaw(*self.question.prior)
        # Refuses what is no rate before anybody is looked for.
        self.both = pair(counts, self.event, self.per, most_unknown=self.question.conventions.most_unknown)

    @classmethod
    def asked(cls, question: Question, table: Any, traits: Any = None, earlier: Any = None) -> Setting:
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
        kind = "" if q.kind in OF_SHRUNK_RATES else q.kind
        asked = repr(replace(q, kind=kind, who="", direction="more", options={}).to_dict())
        key = (asked, self.fingerprint, self.counts.by, self.by_game, self.asks_faced, self.record)
        return once(key, self._fitted)

    def _fitted(self) -> tuple[Fit, FacedPitching | None]:
        effect = None if self._matters is None else self._matters.data["design_effect"]
        options: dict[str, Any] = {"prior": self.prior, "design_effect": effect}
        if self.known is not None and not self.record:
            options |= self.known.options(self.source, self.counts)
        plain = shrink(self.counts, self.event, self.per, intervals=False, **options)
        if not self.asks_faced or plain.eye is not None:
            return plain.with_intervals(), None
        faced = allow_for_faced(self.source, self.met, plain)
        if faced.drawn is None:
            return plain.with_intervals(), faced
        return shrink(self.counts, self.event, self.per, faced=faced.drawn, **options), faced

    @property
    def fit(self) -> Fit:
        """The law of all true rates, fitted when first asked for; adjusted where what was faced matters."""
        return self._fits[0]

    @property
    def faced(self) -> FacedPitching | None:
        """By how much the pitching faced differs; ``None`` where that is not asked."""
        return self._fits[1]

    @cached_property
    def minimum(self) -> int:
        """Fewest exposures to be compared; a quarter of the largest by default, never none."""
        least = self.question.minimum
        return max(usual_minimum(self.fit.exposure[self.members]) if least is None else int(least), 1)

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
            raise ClaimError("the table has no column club, so nobody's club is known")
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
    def _worth(self) -> np.ndarray[Any, np.dtype[np.float64]]:
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
        places = self.members[self.fit.exposure[self.members] >= self.minimum]
        if not len(places):
            most = int(self.fit.exposure[self.members].max(initial=0))
            raise ClaimError(
                f"nobody has at least {self.minimum:,} {per_words(self.per, 2)}; the most is {most:,}. "
                "Lower minimum="
            )
        return places

    @property
    def usual_field(self) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Places of those with the minimum that a ranking would ask for by default."""
        return np.flatnonzero(self.fit.exposure >= usual_minimum(self.fit.exposure))

    @property
    def field_words(self) -> str:
        """Who is compared, in words."""
        least = f"{self.minimum:,} {per_words(self.per, self.minimum)}"
        of = f" of the {shown_name(self.club)}" if self.club else ""
        return f"the {len(self.qualified):,} {self.question.subject}s{of} with at least {least}"

    def place(self, name: str, *, qualified: bool = False) -> int:
        """Return a hitter's row, who must have exposure (and the minimum where asked)."""
        place = find_row(self.counts, name)
        exposure = int(self.both.exposure[place])
        label = self.counts.labels[place]
        if not exposure:
            raise ClaimError(
                f"{label} has no {per_words(self.per, 2)} here, so nothing can be said of this rate"
            )
        if qualified and place not in self.members:
            raise ClaimError(
                f"{label} does not play for the {shown_name(self.club)}, who alone are compared; "
                "leave club= out"
            )
        if qualified and exposure < self.minimum:
            raise ClaimError(
                f"{label} has {exposure:,} {per_words(self.per, exposure)}, fewer than the minimum of "
                f"{self.minimum:,}; lower minimum= or choose another claim"
            )
        return place

    def record_of(self, place: int) -> str:
        """Return a hitter's record in words: ``97 in 422 swings``, and what of it is unknown."""
        exposure, unknown = int(self.both.exposure[place]), int(self.both.unknown[place])
        balls = "one ball" if unknown == 1 else f"{unknown:,} balls"
        untold = f" ({balls} not measured)" if unknown else ""
        return f"{int(self.both.events[place]):,} in {exposure:,} {per_words(self.per, exposure)}{untold}"

    def observed_words(self, place: int) -> str:
        """Return a hitter's observed rate, or its bounds where too much is unknown for one."""
        bounds = (float(bound[place]) for bound in self.bounds_of_record())
        return rate_or_bounds(float(self.both.rate[place]), *bounds)

    def evidence(self, places: Sequence[int] | np.ndarray[Any, Any]) -> pd.DataFrame:
        """Return the numbers behind a claim, one row a hitter in the order of the places.

        Where too much is unknown for a rate, its two bounds alone are told.
        """
        told = [
            n
            for n in (self.event, self.per, "unknown", "least", "most", "rate", "shrunk", "low", "high")
            if n in self.fit.data
        ]
        evidence = self.fit.data.iloc[list(places)][told].reset_index(drop=True)
        evidence.loc[self.both.bounded[list(places)], ["rate", "shrunk", "low", "high"]] = np.nan
        labels = self.counts.labels
        evidence.insert(0, self.question.subject, [labels[place] for place in places])
        return evidence

    def beside(self, place: int, compared: np.ndarray[Any, Any]) -> pd.DataFrame:
        """Return the event of one hitter over each denominator, ranked among those compared."""
        if self.event not in EVENTS or EVENTS[self.event].ending:
            return pd.DataFrame()
        chosen = np.zeros(len(self.fit.data), dtype=bool)
        chosen[compared] = True
        chosen[place] = True
        laid = denominators(self.counts.only(chosen), self.event)
        me = int(chosen[:place].sum())
        labels = [label for label, there in zip(self.counts.labels, chosen, strict=True) if there]
        rows = []
        for per in laid.over:
            value = laid.data[f"per_{per}"]
            if value.isna().all():
                continue
            best = int(value.fillna(-1).to_numpy(float).argmax())
            rank = laid.data[f"rank_{per}"].iloc[me]
            names = [name for name in ("least", "most") if f"{name}_{per}" in laid.data.columns]
            rows.append(
                {
                    "per": per_words(per),
                    "of": int(laid.data[per].iloc[me]),
                    **{name: float(laid.data[f"{name}_{per}"].iloc[me]) for name in names},
                    "rate": float(value.iloc[me]),
                    "rank": f"{rank} of {int(value.notna().sum())}" if not pd.isna(rank) else "none",
                    "highest": labels[best],
                    "best_rate": float(value.iloc[best]),
                }
            )
        return pd.DataFrame(rows)

    def numbers_of(self, place: int) -> dict[str, float | int | str]:
        """Return the single numbers of a hitter's rate, by name."""
        row = self.fit.data.iloc[place]
        told = ("least", "most") if self.both.bounded[place] else ("rate", "shrunk")
        faced = None if self.record or self.faced is None else self.faced.difference
        measured = float(self.both.measured_exposure.sum())
        return {
            self.question.subject: self.counts.labels[place],
            "event": self.event,
            "per": self.per,
            "events": int(row[self.event]),
            "exposure": int(row[self.per]),
            **{name: float(row[name]) for name in told},
            **({} if faced is None else {"faced_rate": float(faced[place])}),
            **({"mean_rate": float(self.both.events.sum()) / measured} if measured and self.record else {}),
        }

    def stated(
        self, place: int, so: str, basis: str, verdict: Verdict, chance: float | None = None, of: str = ""
    ) -> tuple[str, str]:
        """Say that a rate is so: the claim, and all that is safe to say of it.

        Parameters
        ----------
        place
            Whose rate it is.
        so
            What is said of it: ``above .200``.
        basis
            The records that it rests on; of a true rate also how it is judged by them.
        verdict, chance
            As they were found; no chance for a record.
        of
            Of what it is the chance; that it is so, where not given.
        """
        name, rate = self.counts.labels[place], self.rate_name
        if chance is None:
            observed = f"{name}'s observed rate of {rate}"
            return f"{observed} is {so}", f"{observed} {ON_RECORD[verdict]} {so}: {basis}."
        sure = how_sure(chance, denies(verdict, chance), of or f"that it is {so}")
        true = f"{name}'s true rate of {rate}"
        return f"{true} is {so}", f"{true} {how_likely(verdict, chance)} {so}, {basis}: {sure}."

    def answer(
        self,
        place: int,
        finding: Finding,
        evidence: pd.DataFrame,
        numbers: Mapping[str, float | int | str],
        *,
        beside: bool = True,
        compared: Wholes | None = None,
    ) -> Claim:
        """Put an answer about one of them together; what all kinds have alike is added.

        Parameters
        ----------
        place
            Who it is about.
        finding
            What was found; where too much was not measured, what would change it is said here.
        evidence, numbers
            As in :class:`Claim`.
        beside
            Whether the claim rests on the shrunk rates of these counts, so that what is noted of them is
            told, and the same event over each denominator.
        compared
            Places of those who were compared; by default who would be in a ranking.
        """
        q, counts = self.question, self.counts
        if self.of_league:
            finding = finding._replace(
                claim=capitalised(finding.claim),
                say_in_full=capitalised(finding.say_in_full),
                tempting=finding.tempting.replace(f"“{THE_LEAGUE}", f"“{capitalised(THE_LEAGUE)}"),
            )
        noted = self.notes_for(q.about if beside else "record")
        notes = [*self.reasons, *finding.notes, *self._of_seasons(place), *noted]
        untold = counts.cannot_tell(self.event, self.per)
        if finding.chance is not None:
            field = np.arange(len(counts.data)) if compared is None else compared
            first = bool(self.both.rate[place] >= np.nanmax(self.both.rate[field], initial=0.0))
            notes.append(kept_words(q, len(field), finding.chance, first=first))
            told_by = int((self.both.exposure > 0).sum())
            notes.append(missed_words(q, told_by, finding.verdict, first=first))
        over_each = pd.DataFrame()
        if beside and not self.of_league:
            over_each = self.beside(place, self.usual_field if compared is None else compared)
        return Claim.of(
            replace(q, who=counts.labels[place]),
            finding._replace(
                notes=tuple(note for note in notes if note not in (untold, "")),
                would_change=MEASURE_MORE if self.reasons else finding.would_change,
            ),
            untold=self.untold,
            evidence=evidence,
            numbers=dict(numbers),
            cannot_tell=untold,
            became=became_of(counts, place) if q.subject == "hitter" else pd.DataFrame(),
            beside=over_each,
            source=counts.source,
            fingerprint=self.fingerprint,
            where=self.source.words,
        )

    def _of_seasons(self, place: int) -> tuple[str, ...]:
        """Say which seasons were used, and of several whether the rate moved between them."""
        source, said = self.source, self.season_notes
        if self.record or not source.pitches or not source.may_span_seasons:
            return said
        each = Finely(source, (*self.question.when, *source.days), (), self.counts).by_season()
        return (*said, *moved(each[each["place"] == place], self.per, float(self.effect[place])))

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

    def bounds_of_record(self) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
        """Return each observed rate if no unknown ball was hard, and if all were."""
        return np.nan_to_num(self.both.least), np.nan_to_num(self.both.most)

    def settle(self, chance: float, places: Sequence[int]) -> tuple[Verdict, tuple[str, ...]]:
        """Return the verdict on a chance, open where too much contact was not measured."""
        unknown, contact = (float(each.sum()) for each in unknown_contact(self.counts, self.event))
        shares = [unknown / contact if contact else 0.0, *(float(self.both.unknown_share[p]) for p in places)]
        self.reasons, self.untold = on_unmeasured(max(shares), self.question.conventions.most_unknown)
        return ("open" if self.reasons else self._verdict(chance)), self.reasons

    def _verdict(self, chance: float) -> Verdict:
        return verdict_on(chance, self.question.holds_at, self.question.fails_at)

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

    def would_change(
        self,
        verdict: Verdict,
        chance_in: Callable[[Posterior], float],
        who: np.ndarray[Any, Any],
        who_words: str,
        place: int,
    ) -> str:
        """Say what would change the verdict, where it is not that too little is measured.

        Parameters
        ----------
        verdict
            The verdict now.
        chance_in
            From what is known of all rates to the claim's chance.
        who, who_words
            Who would get further chances, at the rates estimated today: places, and in words.
        place
            Whose record would have to be another.
        """
        noun = per_words(self.per, 2)
        if self.reasons:
            return MEASURE_MORE
        if verdict == "open":
            return self._would_settle(chance_in, who, who_words)
        if self.question.kind == "near":
            return f"a record farther from it or nearer to it, or fewer or more {noun}"

        def leaves(events: int, laws: int | None = None) -> bool:
            chance = chance_in(self.with_record(place, sign * events, 0, laws))
            return self._verdict(chance) != verdict

        fewer = (verdict == "holds") != (self.question.direction == "less")
        sign = -1 if fewer else 1
        mine, exposure = int(self.fit.events[place]), int(self.fit.exposure[place])
        most = mine if fewer else exposure - mine
        needed = fewest(leaves, 1, most, near=lambda events: leaves(events, _SOME_LAWS))
        word = "fewer" if fewer else "more"
        if needed is None:
            return f"no number of {word} {per_words(self.event, 2)} in the same {noun} would"
        return f"{needed:,} {word} {per_words(self.event, needed)} in the same {noun} would leave it open"

    def _would_settle(
        self, chance_in: Callable[[Posterior], float], who: np.ndarray[Any, Any], who_words: str
    ) -> str:
        """Say how many more chances would settle what is open."""
        noun = per_words(self.per, 2)

        def then_is(more: int, laws: int | None = None) -> Verdict:
            known = self.with_more(who, more, laws)
            return self._verdict(chance_in(known))

        # Looked for with the heaviest laws, and then made sure of with all of them.
        needed = fewest(lambda m: then_is(m, _SOME_LAWS) != "open", 25, _MOST_MORE) or _MOST_MORE
        then = then_is(needed)
        while then == "open" and needed < _MOST_MORE:
            needed = min(needed + max(needed // 50, 1), _MOST_MORE)
            then = then_is(needed)
        if then == "open":
            more = f"{_MOST_MORE:,} more {noun} by {who_words}"
            return f"not even {more} at today's estimated rates would settle it"
        step = 100 if needed >= 1000 else 10
        rounded = -(-needed // step) * step  # upward, so that the number said is enough
        would = "hold" if then == "holds" else "not hold"
        return (
            f"about {rounded:,} more {noun} by {who_words}, at the rates estimated today, would settle it: "
            f"it would then {would}"
        )

    def with_record(
        self, place: int, more_events: float, more_exposure: float, laws: int | None = None
    ) -> Posterior:
        """Return the posterior as it would be had one hitter other counts; the law stays."""
        effect = self.effect[place] / self._worth[place]
        if self.fit.eye is not None and self.fit.eye_share is not None:
            # A tick more is more than a hard ball more, for some are missed; one measured is what it is.
            by_eye = float(self.fit.eye_share[place])
            more_events *= 1 - by_eye + by_eye / (sum(self.fit.eye.expected) - 1)
        at, posterior = np.array([place]), self.fit.posterior.of_heaviest_laws(laws)
        events, others = more_events / effect, (more_exposure - more_events) / effect
        # What is taken away may be more than a record has room for that was judged by an eye, or of which
        # what he faced took something; then next to nothing of a side is left.
        least = [np.minimum(_LEAST_LEFT, side[:, at]) - side[:, at] for side in (posterior.a, posterior.b)]
        return posterior.after(at, np.maximum(events, least[0]), np.maximum(others, least[1]))

    def with_more(self, places: np.ndarray[Any, Any], more: float, laws: int | None = None) -> Posterior:
        """Return the posterior after more chances for some, at their shrunk rates."""
        mean = self.fit.posterior.mean()[places]
        more_each = more * self._worth[places] / self.effect[places]
        posterior = self.fit.posterior.of_heaviest_laws(laws)
        return posterior.after(places, more_each * mean, more_each * (1 - mean))


def became_of(counts: Counts, place: int, names: Sequence[str] = _BECAME) -> pd.DataFrame:
    """Return what became of every swing of a hitter; empty where the counts are not of pitches."""
    told = [name for name in names if name in counts.names]
    if not set(_BECAME[:5]) <= set(told):
        return pd.DataFrame()
    row = counts.data.iloc[[place]][told].reset_index(drop=True)
    row.insert(0, "hitter", [counts.labels[place]])
    return row
