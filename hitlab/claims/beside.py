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

import narwhals as nw
import pandas as pd

from hitlab.claims.question import Question
from hitlab.claims.source import Source
from hitlab.counting.counts import Counts
from hitlab.errors import ClaimError, HitlabError
from hitlab.wording import source_name

__all__ = ["Beside", "read_traits"]


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
        """
        given = () if earlier is None else tuple(earlier) if isinstance(earlier, list | tuple) else (earlier,)
        frame = None if traits is None else _frame_of(traits)
        seasons = tuple(_season(question, one, place) for place, one in enumerate(given, start=1))
        told: dict[str, Any] = {
            "traits": "" if frame is None else _named(traits, frame.to_csv(index=False)),
            "earlier": tuple(f"{source_name(one.source)}, {one.fingerprint}" for one in seasons),
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
        if frame is not None and not (question.groups or question.covariates):
            raise ClaimError(
                "traits= says what the hitters are; say by groups= or covariates= what to take of it"
            )
        return cls(replace(question, **told), frame, seasons)

    def options(self, source: Source, counts: Counts) -> dict[str, Any]:
        """Return what ``shrink`` is given."""
        q = self.question
        told: dict[str, Any] = {}
        if q.by_exposure != "auto":
            told["by_exposure"] = q.by_exposure
        if q.groups or q.covariates:
            told["groups"], told["covariates"] = q.groups or None, q.covariates
            traits = self._traits(source, counts)
            if traits is not None:
                told["traits"] = traits
        if self.earlier:
            told["earlier"] = [_by_subject(one, counts) for one in self.earlier]
        return told

    def _traits(self, source: Source, counts: Counts) -> pd.DataFrame | None:
        """Return groups and covariates by the column that tells the subjects apart."""
        names = [name for name in (self.question.groups, *self.question.covariates) if name]
        own = {name: counts.data[name] for name in names if name in counts.data.columns}
        key, subject = counts.by[0], self.question.subject
        table = counts.data[[key]].assign(**own)
        for name in (name for name in names if name not in own):
            if self.traits is not None and name in self.traits.columns:
                table[name] = self._of_traits(counts, key, subject, name)
            elif source.pitches and name in source.columns:
                table[name] = _of_pitches(source, table[key], name)
            else:
                where = "the table" if self.traits is None else "the table and traits="
                raise ClaimError(
                    f"there is no column {name!r} in {where}; traits= takes a table with one row a {subject} "
                    "that has it"
                )
        return table

    def _of_traits(self, counts: Counts, key: str, subject: str, name: str) -> pd.Series[Any]:
        """Return a column of the traits in the order of the counts, found by id or by name."""
        assert self.traits is not None
        keys = [one for one in (key, subject) if one in self.traits.columns and one in counts.data.columns]
        if not keys:
            raise ClaimError(
                f"traits= has no column {' or '.join(dict.fromkeys((key, subject)))} to find them by"
            )
        on = keys[0]
        at = self.traits[on].astype(str)
        if at.duplicated().any():
            row = int(at.duplicated().to_numpy().nonzero()[0][0]) + 1
            raise ClaimError(
                f"traits=, row {row}: {at.iloc[row - 1]!r} stands there twice; keep one row a {subject}"
                + ("" if on == key else f", and tell those of one name apart by {key}")
            )
        named = counts.data[on].astype(str)
        alike = named[named.duplicated(keep=False) & named.isin(at)]
        if len(alike):
            raise ClaimError(
                f"traits=, {on}: several of the table are called {alike.iloc[0]!r}; tell them apart by {key}"
            )
        found = named.map(pd.Series(self.traits[name].to_numpy(), index=at))
        if found.isna().all():
            raise ClaimError(
                f"traits= tells {name} of nobody here: its {on} ({_some(at)}) are none of the table's "
                f"({_some(named)})"
            )
        return found


def read_traits(path: str | PathLike[str]) -> pd.DataFrame:
    """Read a table with one row a hitter.

    Parameters
    ----------
    path
        CSV, Parquet, Feather or Arrow.

    Raises
    ------
    ClaimError
        Where it cannot be read as a table.
    """
    file = Path(path)
    if not file.is_file():
        raise ClaimError(f"{file}: there is no such file of traits")
    try:
        if file.suffix.lower() == ".parquet":
            return pd.read_parquet(file)
        if file.suffix.lower() in (".feather", ".arrow"):
            return pd.read_feather(file)
        return pd.read_csv(file, dtype=str, encoding="utf-8-sig")
    except (OSError, ValueError, UnicodeError) as error:
        raise ClaimError(f"{file}: it cannot be read as a table of traits: {error}") from error


def _frame_of(traits: Any) -> pd.DataFrame:
    if isinstance(traits, str | PathLike):
        return read_traits(traits)
    try:
        frame: pd.DataFrame = nw.from_native(traits, eager_only=True).to_pandas()
    except TypeError as error:
        raise ClaimError(
            f"traits= takes a table with one row a hitter, no {type(traits).__name__}"
        ) from error
    return frame


def _of_pitches(source: Source, keys: pd.Series[Any], name: str) -> pd.Series[Any]:
    """Return a column of the pitches by subject; missing for who has several values."""
    pairs = nw.from_native(source.frame).lazy().select(keys.name, name).unique().collect().to_pandas()
    pairs = pairs.dropna()
    one = pairs[~pairs.duplicated(keys.name, keep=False)]
    return keys.map(one.set_index(keys.name)[name])


def _named(given: Any, text: str) -> str:
    """Return where a table came from, and what is in it in twelve digits."""
    name = Path(fspath(given)).name if isinstance(given, str | PathLike) else "a table"
    return f"{name}, {hashlib.sha256(text.encode()).hexdigest()[:12]}"


def _season(question: Question, season: Any, place: int) -> Counts:
    """Count an earlier season as this one is counted."""
    q = replace(question, since="", until="", traits="", earlier=())
    try:
        return Source.of(q, season).counts(*q.when)
    except HitlabError as error:
        raise ClaimError(f"earlier=, table {place}: {error}") from error


def _by_subject(then: Counts, counts: Counts) -> Counts:
    """Sum a season by what tells the subjects of this one apart."""
    key, name = counts.by[0], source_name(then.source)
    if key not in then.data.columns:
        raise ClaimError(f"earlier=, {name}: it has no {key}, by which this season tells them apart")
    if then.hard_means != counts.hard_means:
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


def _some(values: pd.Series[Any]) -> str:
    return ", ".join(repr(value) for value in values.head(2))
