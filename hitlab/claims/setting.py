"""What every kind of claim needs: who is meant, the fit, the verdict, and what would change it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.result import About, Claim, Verdict
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, fewest, verdict_on
from hitlab.counting.counts import MOST_UNMEASURED, Counts, pair
from hitlab.counting.events import EVENTS, per_words, rate_words
from hitlab.counting.finding import find_row
from hitlab.counting.rates import as_counts, denominators
from hitlab.errors import ClaimError, CountsError
from hitlab.estimates.league_law import LeagueLaw
from hitlab.estimates.shrinkage import Fit, Posterior, shrink
from hitlab.over_time.dependence import MATTERS, Overdispersion, overdispersion
from hitlab.over_time.stretches import hitter_key, hitter_totals, summed_over
from hitlab.wording import rate_text

__all__ = ["Prior", "Setting"]

Prior = LeagueLaw | tuple[float, float, int | None, str] | list[Any] | None
"""What is known of the league from outside: a law, or what it is made of (as a card keeps it)."""

_MOST_MORE = 51_200  # more swings than a career has: past it "would not settle it" is the answer
_BECAME = ("pitches", "swings", "whiffs", "fouls", "in_play", "hard", "check_swings_went", "bunts")
_SOME_LAWS = 24  # the heaviest prior laws, with which a number is looked for
_MINIMUM_SHARE = 4  # who has a quarter of the largest exposure is ranked, unless the caller says otherwise


@dataclass(frozen=True, slots=True)
class Setting:
    """A claim's common ground: counts, fit, who qualifies, and the two bounds."""

    counts: Counts
    fit: Fit
    event: str
    per: str
    minimum: int
    holds_at: float
    fails_at: float
    prior: LeagueLaw | None = None
    fingerprint: str = ""
    together: Overdispersion | None = None
    by_game: bool = False

    @classmethod
    def of(
        cls,
        counts: Any,
        event: str,
        per: str,
        minimum: int | None = None,
        holds_at: float = HOLDS_AT,
        fails_at: float = FAILS_AT,
        prior: Prior = None,
    ) -> Setting:
        """Fit the rate and settle the minimum; a quarter of the largest exposure by default."""
        if not 0 <= fails_at < holds_at <= 1:
            raise ClaimError(
                f"holds_at={holds_at!r}, fails_at={fails_at!r}: give two chances, the second below the first"
            )
        counts = as_counts(counts)
        fingerprint, together = counts.fingerprint, None
        by_game = "game" in counts.by
        if by_game:
            counts, together = _by_hitter(counts, event, per)
        if isinstance(prior, tuple | list):  # a card's file gives lists
            prior = LeagueLaw(*prior)
        effect = together.data["design_effect"] if together is not None and together.may_matter else None
        fit = shrink(counts, event, per, prior=prior, design_effect=effect)
        if minimum is None:
            minimum = _usual_minimum(fit)
        if not isinstance(minimum, int | np.integer) or minimum < 0:
            raise ClaimError(f"minimum={minimum!r}: give a whole number, 0 or more")
        return cls(
            counts,
            fit,
            event,
            per,
            max(minimum, 1),
            holds_at,
            fails_at,
            prior,
            fingerprint,
            together,
            by_game,
        )

    @property
    def effect(self) -> np.ndarray[Any, np.dtype[np.float64]]:
        """How many times shorter each record counts, because attempts of one game go together."""
        if self.together is None or not self.together.may_matter:
            return np.ones(len(self.fit.data))
        return self.together.data["design_effect"].to_numpy(float)

    @property
    def rate_name(self) -> str:
        """The rate in words."""
        return rate_words(self.event, self.per)

    @property
    def qualified(self) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Places of those with the minimum exposure."""
        places = np.flatnonzero(self.fit.exposure >= self.minimum)
        if not len(places):
            most = int(self.fit.exposure.max())
            raise ClaimError(
                f"nobody has at least {self.minimum:,} {per_words(self.per, 2)}; the most is {most:,}. "
                "Lower minimum="
            )
        return places

    @property
    def usual_field(self) -> np.ndarray[Any, np.dtype[np.int64]]:
        """Places of those with the minimum that a ranking would ask for by default."""
        return np.flatnonzero(self.fit.exposure >= max(_usual_minimum(self.fit), 1))

    @property
    def field_words(self) -> str:
        """Who is compared, in words."""
        least = f"{self.minimum:,} {per_words(self.per, self.minimum)}"
        return f"the {len(self.qualified):,} hitters with at least {least}"

    def place(self, name: str, *, qualified: bool = False) -> int:
        """Return a hitter's row, who must have exposure (and the minimum where asked)."""
        place = find_row(self.counts, name)
        exposure = int(self.fit.exposure[place])
        label = self.counts.labels[place]
        if not exposure:
            raise ClaimError(
                f"{label} has no {per_words(self.per, 2)} here, so nothing can be said of this rate"
            )
        if qualified and exposure < self.minimum:
            raise ClaimError(
                f"{label} has {exposure:,} {per_words(self.per, exposure)}, fewer than the minimum of "
                f"{self.minimum:,}; lower minimum= or choose another claim"
            )
        return place

    def record_of(self, place: int) -> str:
        """Return a hitter's record in words: ``97 in 422 swings``, and what of it is unknown."""
        exposure = int(self.fit.exposure[place])
        unknown = int(self.fit.data["unknown"].iloc[place]) if "unknown" in self.fit.data.columns else 0
        untold = (
            f" ({unknown:,} balls not measured)"
            if unknown > 1
            else " (one ball not measured)"
            if unknown
            else ""
        )
        return f"{int(self.fit.events[place]):,} in {exposure:,} {per_words(self.per, exposure)}{untold}"

    def evidence(self, places: Sequence[int] | np.ndarray[Any, Any]) -> pd.DataFrame:
        """Return the numbers behind a claim, one row a hitter in the order of the places."""
        told = [
            n
            for n in (self.event, self.per, "unknown", "rate", "shrunk", "low", "high")
            if n in self.fit.data
        ]
        evidence = self.fit.data.iloc[list(places)][told].reset_index(drop=True)
        labels = self.counts.labels
        evidence.insert(0, "hitter", [labels[place] for place in places])
        return evidence

    def became(self, place: int) -> pd.DataFrame:
        """Return what became of every swing of a hitter; empty where the counts are not of pitches."""
        told = [n for n in _BECAME if n in self.counts.names]
        if not {"pitches", "swings", "whiffs", "fouls", "in_play"} <= set(told):
            return pd.DataFrame()
        row = self.counts.data.iloc[[place]][told].reset_index(drop=True)
        row.insert(0, "hitter", [self.counts.labels[place]])
        return row

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
            best = (
                int(value.to_numpy(float).argmax())
                if not value.isna().any()
                else int(value.fillna(-1).argmax())
            )
            rank = laid.data[f"rank_{per}"].iloc[me]
            rows.append(
                {
                    "per": per_words(per),
                    "of": int(laid.data[per].iloc[me]),
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
        return {
            "hitter": self.counts.labels[place],
            **({"by_game": 1} if self.by_game else {}),
            "event": self.event,
            "per": self.per,
            "events": int(row[self.event]),
            "exposure": int(row[self.per]),
            "rate": float(row["rate"]),
            "shrunk": float(row["shrunk"]),
            **self._prior_numbers(),
        }

    def _prior_numbers(self) -> dict[str, float | int | str]:
        if self.prior is None:
            return {}
        law = self.prior
        known: dict[str, float | int | str] = {"prior_mean": law.mean, "prior_spread": law.spread}
        if law.groups is not None:
            known["prior_groups"] = law.groups
        return {**known, "prior_source": law.source}

    def answer(
        self,
        place: int,
        *,
        kind: str,
        claim: str,
        about: About,
        verdict: Verdict,
        chance: float | None,
        evidence: pd.DataFrame,
        say: str,
        avoid: str,
        assumptions: tuple[str, ...],
        would_change: str,
        notes: tuple[str, ...],
        numbers: dict[str, float | int | str],
        beside: pd.DataFrame,
    ) -> Claim:
        """Put an answer about one hitter together; what became of the swings and the source are added."""
        return Claim(
            kind,
            claim,
            about,
            verdict,
            chance,
            self.holds_at,
            self.fails_at,
            evidence,
            say,
            avoid,
            assumptions,
            would_change,
            notes,
            numbers,
            self.became(place),
            beside,
            self.counts.source,
            self.fingerprint,
        )

    def notes_for(self, about: About) -> tuple[str, ...]:
        """Return what is noted about the counts, and about the fit where the answer rests on it."""
        if about == "record":
            return self.counts.notes_on(self.event, self.per)
        if self.together is None:
            return self.fit.notes
        if self.together.may_matter:
            done = "the chance allows for that"
        elif self.together.width_high < MATTERS:
            done = "that is too little to matter"
        else:
            done = "none was found, so nothing is allowed for"
        return (*self.fit.notes, f"{self.together.measured}; {done}")

    def bounds_of_record(self) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
        """Return each observed rate if no unknown ball was hard, and if all were."""
        both = pair(self.counts, self.event, self.per)
        n = np.maximum(both.exposure, 1)
        return both.events / n, np.minimum(both.events + both.unknown, both.exposure) / n

    def settle(self, chance: float, places: Sequence[int]) -> tuple[Verdict, tuple[str, ...]]:
        """Return the verdict on a chance, open where too much contact was not measured."""
        share = max(self.fit.unknown_share, *(float(self.fit.unknown_shares[p]) for p in places))
        if share > MOST_UNMEASURED:
            return "open", (
                f"hardness is unknown for {share:.0%} of the contact, more than {MOST_UNMEASURED:.0%}, "
                "so no claim about it is settled either way",
            )
        return verdict_on(chance, self.holds_at, self.fails_at), ()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What the chance of an underlying claim rests on."""
        draws = "each attempt is an independent draw at it"
        if self.together is not None and self.together.may_matter:
            draws = "attempts are draws at it that go together within a game"
        return (
            f"each hitter has one true rate over this table, and {draws}",
            f"the true rates of all {len(self.fit.data):,} follow one smooth law, averaged over all "
            f"that could have made this table{self._known_before()}",
            *((self.fit.decision,) if self.fit.exposure_tells else ()),
            "all met comparable pitching, parks and measuring",
        )

    def _known_before(self) -> str:
        if self.prior is None:
            return ""
        known = f"a mean of {rate_text(self.prior.mean)} and a spread of {rate_text(self.prior.spread)}"
        worth = "" if self.prior.groups is None else f", as sure as {self.prior.groups:,} true rates make it"
        source = f" ({self.prior.source})" if self.prior.source else ""
        both = pair(self.counts, self.event, self.per)
        k, n = both.events / self.effect, both.measured_exposure / self.effect
        against = self.prior.contradictions(k, n, self.event, self.per)
        but = ", which this table contradicts" if against else ""
        return f" and agree with what is known of the league{source}: {known}{worth}{but}"

    def would_change(
        self,
        verdict: Verdict,
        after: Callable[[Posterior], float],
        who: np.ndarray[Any, Any],
        who_words: str,
        flipped: Callable[[int], float] | None = None,
        most: int = 0,
    ) -> str:
        """Say what would change the verdict.

        Parameters
        ----------
        verdict
            The verdict now.
        after
            From what would be known after further chances to the claim's chance.
        who, who_words
            Who gets them, at the rates estimated today: places, and in words.
        flipped
            From a number of events more (negative: fewer) in the hitter's record to the chance.
        most
            The largest such number.
        """
        noun = per_words(self.per, 2)
        if verdict == "open":

            def then_is(more: int, laws: int | None = None) -> Verdict:
                known = self.with_more(who, more, laws)
                return verdict_on(after(known), self.holds_at, self.fails_at)

            # Looked for with the heaviest laws, and then made sure of with all of them.
            needed = fewest(lambda m: then_is(m, _SOME_LAWS) != "open", 25, _MOST_MORE) or _MOST_MORE
            while needed < _MOST_MORE and then_is(needed) == "open":
                needed = min(needed + max(needed // 50, 1), _MOST_MORE)
            then = then_is(needed)
            if then == "open":
                return (
                    f"not even {_MOST_MORE:,} more {noun} by {who_words} at today's estimated rates would "
                    "settle it"
                )
            step = 100 if needed >= 1000 else 10
            rounded = -(-needed // step) * step  # upward, so that the number said is enough
            would = "hold" if then == "holds" else "not hold"
            return (
                f"about {rounded:,} more {noun} by {who_words}, at the rates estimated today, would settle "
                f"it: it would then {would}"
            )
        if flipped is None:
            return "nothing but other counts"
        sign = -1 if verdict == "holds" else 1
        events_needed = fewest(
            lambda d: verdict_on(flipped(sign * int(d)), self.holds_at, self.fails_at) != verdict, 1, most
        )
        word = "fewer" if verdict == "holds" else "more"
        events = self.rate_name.split(" per ")[0]
        if events_needed is None:
            return f"no number of {word} {events} in the same {noun} would"
        return f"{events_needed:,} {word} {events} in the same {noun} would leave it open"

    def with_record(self, place: int, more_events: float, more_exposure: float) -> Posterior:
        """Return the posterior as it would be had one hitter other counts; the law stays."""
        posterior = self.fit.posterior
        a, b = posterior.a.copy(), posterior.b.copy()
        effect = self.effect[place]
        a[:, place] += more_events / effect
        b[:, place] += (more_exposure - more_events) / effect
        return Posterior(posterior.weights, a, b)

    def with_more(self, places: np.ndarray[Any, Any], more: float, laws: int | None = None) -> Posterior:
        """Return the posterior after more chances for some, at their shrunk rates."""
        mean = self.fit.posterior.mean()[places]
        posterior = self.fit.posterior.of_heaviest_laws(laws)
        a, b = posterior.a.copy(), posterior.b.copy()
        more_each = more / self.effect[places]
        a[:, places] += more_each * mean
        b[:, places] += more_each * (1 - mean)
        return Posterior(posterior.weights, a, b)


def _by_hitter(counts: Counts, event: str, per: str) -> tuple[Counts, Overdispersion | None]:
    """Sum counts by game, and see how attempts of a game go together; ``None`` where that cannot be told."""
    try:
        together = overdispersion(summed_over(counts, (hitter_key(counts), "game")), event, per)
    except CountsError:
        return hitter_totals(counts), None
    return together.counts, together


def _usual_minimum(fit: Fit) -> int:
    least = int(fit.exposure.max()) // _MINIMUM_SHARE
    return least // 10 * 10 if least >= 100 else least  # a round number is easier to say
