"""What every kind of claim needs: who is meant, the fit, the verdict, and what would change it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.kept import kept_words, missed_words
from hitlab.claims.result import ON_RECORD, Claim, Finding, Verdict, denies, how_likely, how_sure
from hitlab.claims.verdicts import MEASURE_MORE, fewest, first_enough, left_open, settled_by, verdict_on
from hitlab.counting.counts import Counts
from hitlab.counting.events import EVENTS, per_words
from hitlab.counting.rates import denominators
from hitlab.estimates.shrinkage import Posterior
from hitlab.over_time.seasons import moved
from hitlab.questions.finely import Finely
from hitlab.questions.fitted import Fitted, Wholes
from hitlab.spoken import share_of
from hitlab.wording import capitalised

__all__ = ["Setting", "became_of"]


_MOST_MORE = 51_200  # more swings than a career has: past it "would not settle it" is the answer
_BECAME = ("pitches", "swings", "whiffs", "fouls", "in_play", "hard", "check_swings_went", "bunts")
_LEAST_LEFT = 0.01  # attempts of a kind that a changed record keeps under each law
_SOME_LAWS = 12  # the heaviest prior laws, with which a number is looked for


class Setting(Fitted):
    """A claim's common ground: everybody's rates, and what is said of one of them.

    Attributes
    ----------
    reasons, untold
        Why it is left open, and why no chance is given, once the verdict is known.
    """

    reasons: tuple[str, ...] = ()
    untold: str = ""

    def evidence(self, places: Sequence[int] | np.ndarray[Any, Any]) -> pd.DataFrame:
        """Return the numbers behind a claim, one row a hitter in the order of the places.

        Where too much is unknown for a rate, its two bounds alone are told.
        """
        names = (self.event, self.per, "least", "most", "rate", "shrunk", "low", "high")
        told = [name for name in names if name in self.fit.data]
        both, at = self.both, list(places)
        evidence = self.rows_of(places)[told].reset_index(drop=True)
        evidence[self.per] = both.exposure[at]
        if both.unknown.any():
            evidence.insert(2, "unknown", both.unknown[at])
        evidence.loc[both.bounded[at], ["rate", "shrunk", "low", "high"]] = np.nan
        evidence.insert(0, self.question.subject, [self.labels[place] for place in places])
        return evidence

    def beside(self, place: int, compared: np.ndarray[Any, Any]) -> pd.DataFrame:
        """Return the event of one hitter over each denominator, ranked among those compared."""
        if self.event not in EVENTS or EVENTS[self.event].ending:
            return pd.DataFrame()
        chosen = np.zeros(len(self.fit.data), dtype=bool)
        chosen[compared] = True
        chosen[place] = True
        laid = denominators(self.counts.only(chosen), self.event)
        return laid.of(int(chosen[:place].sum()), [self.labels[at] for at in np.flatnonzero(chosen)])

    def numbers_of(self, place: int) -> dict[str, float | int | str]:
        """Return the single numbers of a hitter's rate, by name."""
        row = self.fit.data.iloc[place]
        told = ("least", "most") if self.both.bounded[place] else ("rate", "shrunk")
        faced = None if self.record or self.faced is None else self.faced.difference
        measured = float(self.both.measured_exposure.sum())
        return {
            self.question.subject: self.labels[place],
            "event": self.event,
            "per": self.per,
            "events": int(row[self.event]),
            "exposure": int(self.both.exposure[place]),
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
        whose, rate = self.called(place).whose, self.rate_name
        if chance is None:
            observed = f"{whose} observed rate of {rate}"
            said = f"{observed} {ON_RECORD[verdict]} {so}: {basis}."
            return f"{observed} is {so}", left_open(said, verdict)
        sure = how_sure(chance, denies(verdict, chance), of or f"that it is {so}")
        true = f"{whose} true rate of {rate}"
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
        q, counts, called = self.question, self.counts, self.called(place)
        if called.first != called.name:
            finding = finding._replace(
                claim=capitalised(finding.claim),
                say_in_full=capitalised(finding.say_in_full),
                tempting=finding.tempting.replace(f"“{called.name}", f"“{called.first}"),
            )
        noted = self.notes_for(q.about if beside else "record")
        notes = [*self.reasons, *finding.notes, *self._of_seasons(place), *noted]
        untold = counts.cannot_tell(self.event, self.per)
        undecided = self.record and finding.verdict == "open"
        if finding.chance is not None and not self.untold:
            field = np.arange(len(counts.data)) if compared is None else compared
            first = bool(self.both.rate[place] >= np.nanmax(self.both.rate[field], initial=0.0))
            notes.append(kept_words(q, len(field), finding.chance, first=first))
            told_by = int((self.both.exposure > 0).sum())
            notes.append(missed_words(q, told_by, finding.verdict, first=first))
        over_each = pd.DataFrame()
        if beside and not self.of_league:
            over_each = self.beside(place, self.usual_field if compared is None else compared)
        return Claim.of(
            replace(q, who=self.labels[place], club=self.club),
            finding._replace(
                notes=tuple(note for note in notes if note not in (untold, "")),
                would_change=MEASURE_MORE if self.reasons or undecided else finding.would_change,
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
            several_years=self.source.several_years,
        )

    def _of_seasons(self, place: int) -> tuple[str, ...]:
        """Say which seasons were used, and of several whether the rate moved between them."""
        source, said = self.source, self.season_notes
        if self.record or not source.pitches or not source.may_span_seasons:
            return said
        each = Finely(source, (*self.question.when, *source.days), (), self.counts).by_season()
        return (*said, *moved(each[each["place"] == place], self.per, float(self.effect[place])))

    def settle(self, chance: float, places: Sequence[int], judged: float = 0.0, where: str = "") -> Verdict:
        """Return the verdict on a chance; open where too much was not measured (see ``unmeasured``)."""
        self.reasons, self.untold = self.unmeasured(places, judged, where)
        return "open" if self.reasons else self._verdict(chance)

    def _verdict(self, chance: float) -> Verdict:
        return verdict_on(chance, self.question.holds_at, self.question.fails_at)

    def would_change(
        self,
        verdict: Verdict,
        chance_in: Callable[[Posterior], float],
        who: np.ndarray[Any, Any],
        who_words: str,
        place: int,
        rivals: Callable[[Posterior], float] | None = None,
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
        rivals
            From what is known of that one's rate alone to the claim's chance, while all others' stay: quicker
            than ``chance_in`` where there are many.
        """
        noun = per_words(self.per, 2)
        if self.reasons:
            return MEASURE_MORE
        if verdict == "open":
            return self._would_settle(chance_in, who, who_words)
        if self.question.kind == "near":
            return self._would_leave_near(verdict, chance_in, place)
        fewer = (verdict == "holds") != self.less
        needed = self._fewest_other(verdict, chance_in, place, -1 if fewer else 1, rivals=rivals)
        word = "fewer" if fewer else "more"
        if needed is None:
            return f"no number of {word} {per_words(self.event, 2)} in the same {noun} would"
        return f"{needed:,} {word} {per_words(self.event, needed)} in the same {noun} would leave it open"

    def _fewest_other(
        self,
        verdict: Verdict,
        chance_in: Callable[[Posterior], float],
        place: int,
        sign: int,
        most: int | None = None,
        rivals: Callable[[Posterior], float] | None = None,
    ) -> int | None:
        """Return how many fewer (-1) or more (1) events in the same chances leave the verdict, if any do."""
        most = self._room(place, sign) if most is None else most
        if rivals is not None:

            def leaves_them(events: int) -> bool:
                return self._verdict(rivals(self.with_record(place, sign * events, 0, alone=True))) != verdict

            return fewest(leaves_them, 1, most)

        def leaves(events: int, laws: int | None = None) -> bool:
            chance = chance_in(self.with_record(place, sign * events, 0, laws))
            return self._verdict(chance) != verdict

        return fewest(leaves, 1, most, near=lambda events: leaves(events, _SOME_LAWS))

    def _room(self, place: int, sign: int) -> int:
        """Return how many events a record can lose (-1) or gain (1)."""
        mine, exposure = int(self.fit.events[place]), int(self.fit.exposure[place])
        return mine if sign < 0 else exposure - mine

    def _would_leave_near(self, verdict: Verdict, chance_in: Callable[[Posterior], float], place: int) -> str:
        """Say which records are no longer near a value, either way, or which are no longer far from it."""
        same = f"in the same {per_words(self.per, 2)} would"
        none = f"no other number of {per_words(self.event, 2)} {same}"
        if verdict == "holds":
            each = {sign: self._fewest_other(verdict, chance_in, place, sign) for sign in (-1, 1)}
        else:
            # Toward the value and no farther: past it a record is far from it once more.
            value = share_of(self.question.options.get("value", ""))
            sign = 1 if self.fit.posterior.mean()[place] < value else -1

            def short(events: int) -> float:
                known = self.with_record(place, sign * events, 0, _SOME_LAWS)
                return sign * (value - float(known.mean()[place]))

            room = self._room(place, sign)
            most = fewest(lambda events: short(events) <= 0, 1, room) or room
            each = {sign: self._fewest_other(verdict, chance_in, place, sign, most)}
            none = f"{none}: so few tell no rate so closely"
        found = [(many, "fewer" if sign < 0 else "more") for sign, many in each.items() if many is not None]
        if not found:
            return none
        said = " or ".join(f"{many:,} {word}" for many, word in found)
        return f"{said} {per_words(self.event, found[-1][0])} {same} leave it open"

    def _would_settle(
        self, chance_in: Callable[[Posterior], float], who: np.ndarray[Any, Any], who_words: str
    ) -> str:
        """Say how many more chances would settle what is open."""
        noun = per_words(self.per, 2)

        @cache
        def few(more: int) -> float:
            return chance_in(self.with_more(who, more, _SOME_LAWS))

        @cache
        def all_of_them(more: int) -> float:
            return chance_in(self.with_more(who, more))

        # Looked for with the heaviest laws, and then made sure of with all of them, in steps of 2 %.
        needed = fewest(lambda m: self._verdict(few(m)) != "open", 25, _MOST_MORE) or _MOST_MORE
        if self._verdict(all_of_them(needed)) == "open":
            off = _log_odds(all_of_them(needed)) - _log_odds(few(needed))
            steps = [needed]
            while steps[-1] < _MOST_MORE:
                steps.append(min(steps[-1] + max(steps[-1] // 50, 1), _MOST_MORE))

            def about(more: int) -> bool:
                return self._verdict(1 / (1 + math.exp(-_log_odds(few(more)) - off))) != "open"

            guess = fewest(about, needed, _MOST_MORE) or _MOST_MORE
            needed = first_enough(lambda m: self._verdict(all_of_them(m)) != "open", steps, guess)
        then = self._verdict(all_of_them(needed))
        if then == "open":
            more = f"{_MOST_MORE:,} more {noun} by {who_words}"
            return f"not even {more} at today's estimated rates would settle it"
        step = 100 if needed >= 1000 else 10
        rounded = -(-needed // step) * step  # upward, so that the number said is enough
        more = f"{rounded:,} more {noun} by {who_words}, at the rates estimated today"
        return settled_by(f"{more}, would settle it", then)

    def with_record(
        self,
        place: int,
        more_events: float,
        more_exposure: float,
        laws: int | None = None,
        *,
        alone: bool = False,
    ) -> Posterior:
        """Return the posterior as it would be had one hitter other counts; the law stays.

        ``alone``: what is known of that hitter's rate only, instead of everybody's.
        """
        effect = self.effect[place] / self.worth[place]
        if self.fit.eye is not None and self.fit.eye_share is not None:
            # A tick more is more than a hard ball more, for some are missed; one measured is what it is.
            by_eye = float(self.fit.eye_share[place])
            more_events *= 1 - by_eye + by_eye / (sum(self.fit.eye.expected) - 1)
        at, posterior = np.array([place]), self.fit.posterior.of_heaviest_laws(laws)
        if alone:
            at, posterior = np.array([0]), posterior.only(at)
        events, others = more_events / effect, (more_exposure - more_events) / effect
        # What is taken away may be more than a record has room for that was judged by an eye, or of which
        # what he faced took something; then next to nothing of a side is left.
        least = [np.minimum(_LEAST_LEFT, side[:, at]) - side[:, at] for side in (posterior.a, posterior.b)]
        return posterior.after(at, np.maximum(events, least[0]), np.maximum(others, least[1]))

    def with_more(self, places: np.ndarray[Any, Any], more: float, laws: int | None = None) -> Posterior:
        """Return the posterior after more chances for some, at their shrunk rates."""
        mean = self.fit.posterior.mean()[places]
        more_each = more * self.worth[places] / self.effect[places]
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


def _log_odds(chance: float) -> float:
    """Return the log odds of a chance; of what is as good as sure they end somewhere."""
    chance = min(max(chance, 1e-12), 1 - 1e-12)
    return math.log(chance / (1 - chance))
