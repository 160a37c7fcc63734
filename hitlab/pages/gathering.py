"""What everybody's pages need, looked at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, TypeVar

import narwhals as nw
import numpy as np
import pandas as pd

from hitlab.approach.readiness import Readiness, fastball_readiness
from hitlab.approach.sequence import eager
from hitlab.counting.counts import Counts
from hitlab.counting.events import rate_words
from hitlab.counting.facts import Conventions
from hitlab.counting.rates import as_counts
from hitlab.counting.tallies import tally
from hitlab.errors import ClaimError, HitlabError, MissingColumnsError, quiet_warnings
from hitlab.estimates.league_law import what_is_usual
from hitlab.estimates.ranking import ranks, usual_minimum
from hitlab.evidence.cards import game_dates
from hitlab.over_time.stretches import in_order
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.pitches.schema import KEY
from hitlab.questions.fitted import Fitted
from hitlab.questions.question import CAREER, History, Question
from hitlab.questions.source import is_pitches, keeping
from hitlab.splits.many_splits import ManySplits, all_splits
from hitlab.splits.usual import usual_situations

__all__ = ["RATES", "League"]

RATES = (
    ("swings", "pitches"),
    ("whiffs", "swings"),
    ("fouls", "swings"),
    ("in_play", "swings"),
    ("hard", "swings"),
    ("hard", "in_play"),
    ("hits", "at_bats"),
)
"""The rates of a page, the way of a pitch: swung at, met, in play, hard; and what came of it."""

_SINGLE = "these are counts, and single pitches are needed"

Found = TypeVar("Found")


@dataclass
class League:
    """A table looked at for the pages of its hitters; each part is worked out when first asked for.

    Attributes
    ----------
    table
        Pitches or counts.
    event, per
        The rate that situations, form and pitches are looked at by.
    conventions
        How the debatable cases are counted.
    prior
        What is usual of that rate, stated from outside, as a question keeps it.
    season, history
        Which season of the table is looked at, and how hitters are found in those before it.
    missing
        Why a part is not there, for all hitters.
    """

    table: Any
    event: str
    per: str
    conventions: Conventions
    prior: tuple[float, float, int | None, str, bool] | None = None
    season: str = ""
    history: History = "ids"
    missing: dict[str, str] = field(default_factory=dict)
    _kept: dict[Any, Any] = field(default_factory=dict)

    @classmethod
    def of(
        cls,
        table: Any,
        event: str,
        per: str,
        conventions: Conventions | None,
        prior: Any = None,
        season: str = "",
        history: History = "ids",
    ) -> League:
        """Look at a table.

        Raises
        ------
        HitlabError
            Where the rate that is asked for cannot be counted.
        """
        if not is_pitches(table):
            table = as_counts(table)
        told = None if prior is None else what_is_usual(prior)
        league = cls(table, event, per, conventions or Conventions(), told, season, history)
        league.settings  # noqa: B018 (refused now, where the rate cannot be counted)
        return league

    @cached_property
    def pitches(self) -> bool:
        """Whether single pitches are there."""
        return is_pitches(self.table)

    @cached_property
    def settings(self) -> dict[tuple[str, str], Fitted]:
        """Every rate's counts and fit; those that cannot be counted are noted."""
        found: dict[tuple[str, str], Fitted] = {}
        asked = (self.event, self.per)
        for pair in RATES if asked in RATES else (asked, *RATES):
            question = Question(
                kind="above",
                event=pair[0],
                per=pair[1],
                prior=self.prior if pair == asked else None,
                season=self.season,
                history=self.history,
                conventions=self.conventions,
            )
            try:
                with quiet_warnings(), keeping(self._kept):
                    found[pair] = _fitted(question, self.table)
            except HitlabError as error:
                if pair == asked:
                    raise
                self.missing[rate_words(*pair)] = f"{error}".rstrip(".")
        return found

    @property
    def main(self) -> Fitted:
        """The rate that is asked for."""
        return self.settings[self.event, self.per]

    @property
    def asked_of(self) -> Any:
        """The pitches that are looked at: of one season, where one is asked for."""
        return self.main.source.asked_of

    @property
    def counts(self) -> Counts:
        """Everybody's counts, one row a hitter."""
        return self.main.counts

    @cached_property
    def columns(self) -> frozenset[str]:
        """The pitch table's columns."""
        return frozenset(frame_of(self.table)[0].collect_schema().names()) if self.pitches else frozenset()

    def places(self, club: str = "") -> list[int]:
        """Return everybody's rows, or a club's.

        Raises
        ------
        ClaimError
            Where no club is called so, or none is known.
        """
        if not club:
            return list(range(len(self.counts.data)))
        question = Question(
            kind="above", event=self.event, per=self.per, club=club, conventions=self.conventions
        )
        among = Fitted(replace(self.main.source, question=question), self.counts, totals=True)
        return [int(place) for place in among.members]

    @cached_property
    def ranks(self) -> dict[tuple[str, str], dict[str, tuple[int, int]]]:
        """By rate and label the interval of the true rank, of those who are ranked."""
        found: dict[tuple[str, str], dict[str, tuple[int, int]]] = {}
        for pair, setting in self.settings.items():
            try:
                ranked = ranks(setting.fit, minimum=usual_minimum(setting.fit.exposure)).data
            except HitlabError:
                found[pair] = {}
                continue
            found[pair] = {
                str(label): (int(low), int(high))
                for label, low, high in zip(
                    ranked["label"], ranked["rank_low"], ranked["rank_high"], strict=True
                )
            }
        return found

    @cached_property
    def splits(self) -> ManySplits | None:
        """Everybody in the usual situations."""

        def split() -> ManySplits:
            previous = {"previous_whiff"} if {*KEY, "outcome"} <= self.columns else set()
            doubts, most = doubts_of(self.table), self.conventions.most_contradicted
            usual = [
                one
                for one in usual_situations({*self.columns, *previous}, widest=True)
                if not doubts.reason(one.columns, most)
            ]
            if not usual:
                raise MissingColumnsError("no column tells a situation, such as pitch_kind, strikes or bases")
            return all_splits(self.asked_of, usual, self.event, self.per, conventions=self.conventions)

        return self._tried("situations", split)

    @cached_property
    def games(self) -> Counts | None:
        """Everybody's counts game by game, in order of time."""

        def by_game() -> Counts:
            if not self.pitches:
                counts: Counts = self.table
                if not {"date", "season", "game"} & set(counts.by):
                    raise MissingColumnsError("these counts are not by game")
                return in_order(counts)
            if "date" not in self.columns:
                raise MissingColumnsError("the table has no column date")
            if self.main.question.season == CAREER:
                raise ClaimError("form is told of the games of one season, and a career has several")
            by = [name for name in ("game", "date") if name in self.columns]
            counted = tally(self.asked_of, ["hitter", *by], conventions=self.conventions)
            return in_order(counted)

        return self._tried("form", by_game, single=False)

    @cached_property
    def readiness(self) -> Readiness | None:
        """Everybody against fastballs."""
        return self._tried(
            "fastballs", lambda: fastball_readiness(self.asked_of, conventions=self.conventions)
        )

    @cached_property
    def frame(self) -> nw.DataFrame[Any] | None:
        """The pitches, in memory."""
        return self._tried("pitches", lambda: eager(self.asked_of)[0])

    @cached_property
    def rows(self) -> dict[Any, np.ndarray[Any, Any]]:
        """By hitter the rows of his pitches."""
        assert self.frame is not None
        keys = self.frame.select(self.counts.by[0]).to_pandas()[self.counts.by[0]]
        found = keys.groupby(keys, sort=False).indices
        return {who: np.asarray(rows) for who, rows in found.items()}

    @cached_property
    def dates(self) -> str:
        """The days of the games; empty where they are not told."""
        return game_dates(self.asked_of) if self.pitches else ""

    @cached_property
    def evened(self) -> dict[tuple[str, str], pd.DataFrame]:
        """By rate the shrunk rates of those who are compared, one row each with its place in the counts."""
        found = {}
        for pair, setting in self.settings.items():
            fit = setting.fit
            there = (fit.exposure >= usual_minimum(fit.exposure)) & ~fit.bounded
            found[pair] = pd.DataFrame(
                {"place": np.flatnonzero(there), "shrunk": fit.data["shrunk"].to_numpy(float)[there]}
            )
        return found

    def _tried(self, part: str, work: Callable[[], Found], *, single: bool = True) -> Found | None:
        """Return what was found, or note why it cannot be."""
        try:
            if single and not self.pitches:
                raise MissingColumnsError(_SINGLE)
            with quiet_warnings():
                return work()
        except HitlabError as error:
            self.missing[part] = str(error).rstrip(".")
            return None


def _fitted(question: Question, table: Any) -> Fitted:
    """Look at a rate, and fit its law."""
    setting = Fitted.asked(question, table)
    setting.fit  # noqa: B018 (refused now, where there is nothing to fit)
    return setting
