"""What is known of the hitters beside the table that is asked: kinds, numbers, earlier seasons.

A question keeps the names of the columns and, of a table given with it, where it came from and the
fingerprint of what it holds; the tables themselves are given again when it is asked again.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from os import PathLike, fspath
from pathlib import Path
from typing import Any

import pandas as pd

from hitlab.counting.counts import Counts
from hitlab.counting.summing import Pitched
from hitlab.errors import ClaimError, HitlabError
from hitlab.estimates.traits import frame_of_traits, read_traits, trait_of
from hitlab.pitches.opening import frame_of
from hitlab.questions.question import Question
from hitlab.questions.source import Source
from hitlab.wording import source_name

__all__ = ["Beside"]


@dataclass(frozen=True, slots=True)
class Beside:
    """What a question's rates may follow, ready to be counted with.

    Attributes
    ----------
    question
        The question, with the names of the tables that were given.
    traits
        One row a hitter: groups and covariates that the table itself does not tell.
    earlier
        Earlier seasons, counted as this one is, in the same situation and over all their days; the last one
        first.
    """

    question: Question
    traits: pd.DataFrame | None = None
    earlier: tuple[Counts, ...] = ()

    @classmethod
    def of(cls, question: Question, traits: Any = None, earlier: Any = None) -> Beside:
        """Take what was given, and see that it is what the question was asked with.

        Raises
        ------
        ClaimError
            Where a table that the question was asked with is missing, or is another one.
        CountsError
            As ``frame_of_traits``.
        """
        given = () if earlier is None else tuple(earlier) if isinstance(earlier, list | tuple) else (earlier,)
        path = isinstance(traits, str | PathLike)
        named = question.groups, question.covariates
        frame = frame_of_traits(read_traits(traits) if path else traits, *named)
        if given and question.season:
            raise ClaimError(
                "season= takes the earlier seasons of the table itself for history; leave earlier= out, "
                "or season="
            )
        seasons = tuple(_season(question, one, place) for place, one in enumerate(given, start=1))
        told: dict[str, Any] = {
            "traits": "" if frame is None else _named(traits, frame.to_csv(index=False)),
            "earlier": question.earlier if question.season else _fingerprints(seasons),
        }
        if question.subject == "league" and (
            told["traits"] or seasons or question.groups or question.covariates
        ):
            raise ClaimError(
                "the league is everybody together, who are shrunk toward nobody: leave groups=, covariates=, "
                "traits= and earlier= out"
            )
        for name, now in told.items():
            before = getattr(question, name)
            if before and not now:
                raise ClaimError(f"this was asked with {name}= ({_listed(before)}); give it again")
            if before and before != now:
                raise ClaimError(
                    f"this was asked with {name}= ({_listed(before)}), and what is given now is another "
                    f"table ({_listed(now)})"
                )
        return cls(replace(question, **told), frame, seasons)

    def with_seasons_of(self, source: Source, counts: Counts) -> tuple[Beside, Source]:
        """Take the seasons before the one that is asked for as history, where somebody asked has any there.

        Raises
        ------
        ClaimError
            Where they are not those that the question was asked with, or it is not told who is who in them.
        """
        q = source.question
        if source.seasons is None or q.about == "record" or q.subject == "league":
            return self, source
        key = counts.by[0]
        found = source.seasons.history(key)
        found = found if any(one.data[key].isin(counts.data[key]).any() for one in found) else ()
        now = _fingerprints(found)
        if q.earlier and q.earlier != now:
            raise ClaimError(
                f"this was asked with the history {_listed(q.earlier)}, and what the table has now is "
                f"another ({_listed(now)})"
            )
        q = replace(q, earlier=now)
        return replace(self, question=q, earlier=found), replace(source, question=q)

    def options(self, source: Source, counts: Counts) -> dict[str, Any]:
        """Return what ``shrink`` is given."""
        q = self.question
        told: dict[str, Any] = {}
        if q.by_exposure != "auto":
            told["by_exposure"] = q.by_exposure
        if q.groups or q.covariates:
            told["groups"], told["covariates"] = q.groups or None, q.covariates
            told["traits"] = self.of_hitters(source, counts)
        if self.earlier:
            told["earlier"] = [_by_subject(one, counts, q.event) for one in self.earlier]
        return told

    def of_hitters(self, source: Source, counts: Counts) -> pd.DataFrame:
        """Return groups and covariates by the column that tells the subjects apart."""
        key = counts.by[0]
        given = () if self.traits is None else (self.traits,)
        table = counts.data[[key]].reset_index(drop=True)
        for name in (name for name in (self.question.groups, *self.question.covariates) if name):
            here = name in counts.data.columns or any(name in frame.columns for frame in given)
            if not here and source.pitches and name in source.columns:
                table[name] = _of_pitches(source, table[key], name)
            else:
                table[name] = trait_of(counts, name, given)
        return table


def _fingerprints(seasons: Sequence[Counts]) -> tuple[str, ...]:
    return tuple(f"{source_name(one.source)}, {one.fingerprint}" for one in seasons)


def _of_pitches(source: Source, keys: pd.Series[Any], name: str) -> pd.Series[Any]:
    """Return a column of the pitches by subject; missing for who has several values."""
    pairs = Pitched(frame_of(source.asked_of)[0]).rows_by(str(keys.name), name).dropna()
    one = pairs[~pairs.duplicated(keys.name, keep=False)]
    return keys.map(one.set_index(keys.name)[name])


def _named(given: Any, text: str) -> str:
    """Return where a table came from, and what is in it in twelve digits."""
    name = Path(fspath(given)).name if isinstance(given, str | PathLike) else "a table"
    return f"{name}, {hashlib.sha256(text.encode()).hexdigest()[:12]}"


def _season(question: Question, season: Any, place: int) -> Counts:
    """Count an earlier season as this one is counted."""
    q = replace(question, since="", until="", season="", history="ids", traits="", earlier=())
    try:
        return Source.of(q, season).counts(*q.when)
    except HitlabError as error:
        raise ClaimError(f"earlier=, table {place}: {error}") from error


def _by_subject(then: Counts, counts: Counts, event: str) -> Counts:
    """Sum a season by what tells the subjects of this one apart."""
    key, name = counts.by[0], source_name(then.source)
    if key not in then.data.columns:
        raise ClaimError(f"earlier=, {name}: it has no {key}, by which this season tells them apart")
    if "hard" in event and then.hard_means != counts.hard_means:
        ours, theirs = (table.hard_means or "not known" for table in (counts, then))
        raise ClaimError(
            f"earlier=, {name}: there hard means {theirs}, here {ours}; leave it out, or give a season "
            "that was judged alike"
        )
    then = then.summed((key,))
    if then.fingerprint == counts.fingerprint:
        raise ClaimError(f"earlier=, {name}: it is the table itself; give the season before")
    return then


def _listed(names: str | Sequence[str]) -> str:
    return names if isinstance(names, str) else "; ".join(names) or "none"
