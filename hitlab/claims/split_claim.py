"""Claims about a hitter inside a situation, against his own rest or against what it does to everybody."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pandas as pd

from hitlab.claims.result import Claim, Finding, denies, how_likely, how_sure, not_measured, on_the_record
from hitlab.claims.setting import Setting
from hitlab.claims.verdicts import left_open, recorded
from hitlab.counting.counts import Counts, pair
from hitlab.counting.events import per_words
from hitlab.counting.intervals import share_interval
from hitlab.counting.looks import Looks, exact_p
from hitlab.counting.rates import as_counts
from hitlab.counting.situations import situation
from hitlab.errors import ClaimError
from hitlab.estimates.faced_in_parts import compare_inside
from hitlab.over_time.stretches import summed_by_hitter
from hitlab.questions.faced_pitching import faced_note, untold
from hitlab.questions.question import Question
from hitlab.questions.source import Source, in_one
from hitlab.splits.beside import pitched_for
from hitlab.splits.one_split import SplitFit, four_counts, split_rates
from hitlab.splits.split_law import FourCounts
from hitlab.splits.two_records import two_records
from hitlab.wording import chance_text, rate_text

__all__ = ["answer_split"]

_AGAINST = ("rest", "usual")
_FOUR = ("inside_events", "inside_exposure", "rest_events", "rest_exposure")


def answer_split(
    question: Question, table: Any, inside: Counts | None = None, looks: Looks | None = None
) -> Claim:
    """Answer "he does it more often in that situation than otherwise", or than it does to everybody."""
    against = question.options.get("against", "rest")
    if against not in _AGAINST:
        raise ClaimError(f"against={against!r}: give 'rest' (of his own record) or 'usual' (for everybody)")
    if inside is None and not question.when:
        raise ClaimError("a split needs a situation; give when= such as 'pitch_kind=breaking'")
    if against == "usual" and question.subject == "league":
        raise ClaimError("what a situation does to everybody is the league's own split; leave against= out")
    source = Source.of(question, table)
    if inside is None and not source.pitches:
        raise ClaimError("a split of counts needs those in the situation, too: give inside=")
    words = situation(*question.when).words if question.when else str(question.options.get("words", ""))
    whole, met = source.with_faced(*source.days)
    setting = Setting(source, summed_by_hitter(as_counts(whole)), totals=True)
    beside, there = list[FourCounts](), None
    if inside is None:
        inside, beside = _parts(setting, setting.counts)
        there = met and source.counts(*question.when, *source.days, by=source.faced_by)
    elif question.subject == "league":
        inside = in_one(as_counts(inside))
    split = _Split(setting, summed_by_hitter(as_counts(inside)), words or "in this situation", looks, beside)
    split.faced_by_parts = None if met is None or there is None else (met, there)
    return split.answer()


def _parts(setting: Setting, whole: Counts) -> tuple[Counts, list[FourCounts]]:
    """Count the pitches in the situation, and those of the usual situations where a chance is asked for."""
    source, q = setting.source, setting.question
    asked = source.chosen(*q.when)
    pitched = pitched_for(source.table, whole, *source.rate, source.own, *source.days)
    if asked is None or pitched is None:
        return source.counts(*q.when, *source.days), []
    source.doubts.refuse(asked.columns, q.conventions.most_contradicted, "what is asked for")
    parts, beside = pitched.splits({asked.words: asked.on(source.columns)}, usual=not setting.record)
    return parts[asked.words], beside


class _Split:
    """One hitter's split: two records, what everybody's are, and the chance that the first is above."""

    def __init__(
        self,
        setting: Setting,
        inside: Counts,
        words: str,
        looks: Looks | None,
        beside: list[FourCounts],
    ) -> None:
        self.setting, self.words, self.looks, self.beside = setting, words, looks, beside
        # By what the hitters faced, too: the whole, and what of it is inside; where that is told.
        self.faced_by_parts: tuple[Counts, Counts] | None = None
        self.usual = setting.question.options.get("against") == "usual"
        self.place = setting.place(setting.question.who)
        self.name, self.called = setting.labels[self.place], setting.called(self.place)
        self.fit: SplitFit = split_rates(setting.counts, inside, setting.event, setting.per, beside=beside)
        key = list(setting.counts.by)
        self.mine = self.fit.data.merge(setting.counts.data.iloc[[self.place]][key], on=key)
        if self.mine.empty:
            raise ClaimError(f"{self._one_part_only(inside, words)}, so the two cannot be compared")
        row = self.row = self.mine.iloc[0]
        names = ("inside_events", "inside_all", "rest_events", "rest_all", "inside_unknown", "rest_unknown")
        self.k, self.n, self.rest_k, self.rest_n, self.unknown, self.rest_unknown = (
            int(row[name]) for name in names
        )
        self.records = f"{self.k:,} in {self.n:,} {words}, {self.rest_k:,} in {self.rest_n:,} otherwise"
        self.records += not_measured(self.unknown, self.rest_unknown)
        self.less = setting.less
        self.so = f"{'lower' if self.less else 'higher'} {words} than otherwise"
        self.difference = float(row["inside_rate"] - row["rest_rate"])
        sums = self.fit.data.sum(numeric_only=True)
        self.league = [
            float(sums[f"{part}_events"] / sums[f"{part}_exposure"]) for part in ("inside", "rest")
        ]
        self.two = two_records(*(row[name] for name in _FOUR)) if setting.of_league else None
        others = {
            "pitcher": f"Hitters facing {self.name} are different hitters",
            "club": f"{self.name} hitters are different hitters",
            "league": "Everybody is a different hitter",
        }
        another = others.get(setting.question.subject, f"{self.name} is a different hitter")
        self.tempting = f"“{another} {words}.”"

    def _one_part_only(self, inside: Counts, words: str) -> str:
        """Say in which of the two parts one has nothing."""
        setting, key = self.setting, list(self.setting.counts.by)
        mine = inside.data.merge(setting.counts.data.iloc[[self.place]][key], on=key)
        part = pair(replace(inside, data=mine), setting.event, setting.per, stays=True)
        there, every = int(part.exposure.sum()), int(setting.both.exposure[self.place])
        if 0 < there < every:
            untold, where = (every - there, "otherwise") if part.measured_exposure.sum() else (there, words)
            each = f"all {untold:,} {per_words(setting.per, untold)}"
            return f"of {self.called.whose} {each} {where} none is measured"
        where, other = (words, "otherwise") if there else ("otherwise", words)
        has = self.called.does("has", "have")
        many = f"all {every:,} {per_words(setting.per, every)}"
        return f"{self.called.first} {has} {many} {where} and none {other}"

    def answer(self) -> Claim:
        """Put the answer together."""
        setting, row = self.setting, self.row
        found = self._of_record() if setting.record else self._of_rates()
        size = abs(self.difference)
        way = f"{rate_text(size)} {'up' if self.difference > 0 else 'down'}" if size else "none"
        found = found._replace(notes=(*found.notes, f"the observed difference is {way}"))
        ratio, low, high = self.two[1:] if self.two else row[["log_odds_ratio", "low", "high"]]
        numbers: dict[str, float | int | str] = {
            setting.question.subject: self.name,
            "event": setting.event,
            "per": setting.per,
            "events": self.k,
            "exposure": self.n,
            "rest_events": self.rest_k,
            "rest_exposure": self.rest_n,
            "log_odds_ratio": float(ratio),
            "ratio_low": float(low),
            "ratio_high": float(high),
            "league_log_odds_ratio": self.fit.league_ratio,
            "splits_looked_at": 1 if self.looks is None else self.looks.number,
            "league_spread": self.fit.league_spread,
        }
        return setting.answer(self.place, found, self._evidence(), numbers, beside=False)

    def _of_record(self) -> Finding:
        least = self.k / self.n - (self.rest_k + self.rest_unknown) / self.rest_n
        most = (self.k + self.unknown) / self.n - self.rest_k / self.rest_n
        verdict = recorded(least, most, less=self.less)
        claim, _ = self.setting.stated(self.place, self.so, "", verdict)
        was = {"holds": "was", "does not hold": "was not", "open": "may have been"}[verdict]
        rate = self.setting.rate_name
        return Finding(
            verdict,
            claim,
            left_open(
                f"{self.called.whose} observed rate of {rate} {was} {self.so}: {self.records}.", verdict
            ),
            self.tempting,
            would_change="other counts: a record says what happened, not what will",
        )

    def _of_rates(self) -> Finding:
        setting, words = self.setting, self.words
        factor = float(np.exp(self.fit.league_ratio))
        above = float(self.row["chance_above_usual" if self.usual else "chance_above_rest"])
        above = self.two.chance if self.two else above
        chance = 1 - above if self.less else above
        parts = (self.row["inside_unknown_share"], words), (self.row["rest_unknown_share"], "otherwise")
        verdict = setting.settle(chance, [self.place], *max(parts))
        if self.usual:
            raised = "smaller" if self.less else "larger"
            of = f"{self.called.whose} true difference in {setting.rate_name}, {words} against otherwise,"
            so = f"{raised} than what the situation does to everybody ({factor:.2f} times the odds)"
            sure = how_sure(chance, denies(verdict, chance), f"that it is {raised}")
            judged = f"{how_likely(verdict, chance)} {so}, judging by {self.records}"
            said = (f"{of} is {so}", f"{of} {judged}: {sure}.")
        else:
            basis = on_the_record(self.difference, above, self.records, *self.league)
            of = f"that it is {'lower' if self.less else 'higher'}"
            said = setting.stated(self.place, self.so, basis, verdict, chance, of)
        draws = "within each of the two parts, attempts are independent draws at one true rate"
        assumptions: tuple[str, ...] = (
            draws,
            f"levels of the {len(self.fit.data):,} {setting.question.subject}s, and what the situation does "
            "to each of them, follow normal laws, whose means and spreads are integrated over; that it does "
            "nothing to anybody is one of them",
            "the two parts differ in nothing else that matters, such as the count or the pitchers",
        )
        other = float(self.row["chance_above_rest" if self.usual else "chance_above_usual"])
        is_other = (
            f"above the {setting.question.subject}'s own rest is" if self.usual else "above everybody's is"
        )
        compared = "everybody's difference" if self.usual else f"the {setting.question.subject}'s own rest"
        notes: tuple[str, ...] = (
            f"compared with {compared}; whether the rate itself is above the league's is another "
            f"question (above NAME league, {words})",
            f"for everybody together the odds are {factor:.2f} times as large {words} as otherwise",
            f"the chance that the difference is {is_other} {chance_text(other)}",
            self._told_by(),
        )
        if setting.of_league:
            assumptions = (draws, "who bats, and how often, differs little between the two parts")
            notes = ()
        return Finding(
            verdict,
            *said,
            self.tempting,
            chance,
            assumptions,
            "more swings in both parts; the smaller part decides",
            (*notes, self._looked(), self._faced()),
        )

    def _evidence(self) -> pd.DataFrame:
        # The interval reaches from "no unknown ball was hard" to "all were", as in ``rate``.
        sizes = [self.n, self.rest_n]
        low, _ = share_interval([self.k, self.rest_k], sizes)
        _, high = share_interval([self.k + self.unknown, self.rest_k + self.rest_unknown], sizes)
        unknown = [self.unknown, self.rest_unknown]
        return pd.DataFrame(
            {
                "record": [self.words, "otherwise"],
                self.setting.event: [self.k, self.rest_k],
                self.setting.per: sizes,
                **({"unknown": unknown} if any(unknown) else {}),
                "rate": [self.row["inside_rate"], self.row["rest_rate"]],
                "low": low,
                "high": high,
                "league_rate": self.league,
            }
        )

    def _faced(self) -> str:
        """Say by how much what was faced differs between the two parts, and why nothing is allowed for."""
        source, counts = self.setting.source, self.setting.counts
        if self.faced_by_parts is None:
            return untold(source)
        found = compare_inside(*self.faced_by_parts, source.games, *source.rate)
        key = counts.data[counts.by[0]].iloc[self.place]
        done = "that matters, but whom a situation brings belongs to it, so nothing is allowed for"
        return faced_note(source, found, self.name, key, (self.words, "otherwise"), done)

    def _told_by(self) -> str:
        """Say what tells how much hitters differ."""
        if self.beside:
            return (
                f"how much {self.setting.question.subject}s differ is told by {len(self.beside)} usual "
                "situations of the same pitches, too"
            )
        return (
            f"from counts alone, this one situation tells how much {self.setting.question.subject}s differ, "
            "so little is called; given the pitch table itself, the usual situations tell it too"
        )

    def _looked(self) -> str:
        """Say how many splits were looked at, this one among them, and the share of false ones to expect."""
        looks, setting, mine = self.looks, self.setting, self.mine
        if looks is None:
            return (
                "one situation looked at is one claim; of ten looked at, the most striking is often luck "
                "(in Python, looks= keeps count)"
            )
        counts, against = four_counts(mine), "usual" if self.usual else "rest"
        tested = exact_p(counts.events, counts.exposure, counts.rest_events, counts.rest_exposure)
        looks.add(
            pd.DataFrame(
                {
                    "hitter": mine[setting.counts.by[0]],
                    "situation": self.words,
                    "event": setting.event,
                    "per": setting.per,
                    "against": against,
                    "chance_above": mine[f"chance_above_{against}"],
                    "p_value": np.nan if self.usual else tested,
                }
            )
        )
        return looks.by_chance(max(setting.question.holds_at, 1 - setting.question.holds_at)).explanation
