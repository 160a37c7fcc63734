"""Whom and what a table knows: hitters, pitchers, clubs, columns and days; and who is meant by some words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from os import PathLike
from pathlib import Path
from typing import Any, Literal

import narwhals as nw

from hitlab.counting.rates import as_counts
from hitlab.errors import ClaimError, HitlabError, ReadingError, UnknownHitterError
from hitlab.names import find_places, fold, told_apart, words_of
from hitlab.pitches.mapping import read_toml
from hitlab.pitches.opening import frame_of
from hitlab.questions.question import CAREER, Question
from hitlab.questions.seasons import season_days
from hitlab.questions.source import Source, days_of, is_pitches
from hitlab.showing import shown_name

__all__ = ["Known", "Person", "nicknames_of"]

_NEAR = 74  # how alike a word and a part of a name have to be for the name to be offered, of 100
_MOST_OFFERED = 3
_SOME_SWINGS = 50
_SHORTEST_BEGINNING = 4  # letters of a name cut short
_LONGEST_NAME = 6  # words
_SHORTEST_BENT = 5  # letters of a name that is known without its ending


@dataclass(frozen=True, slots=True)
class Person:
    """A hitter, a pitcher or a club.

    Attributes
    ----------
    subject
        What it is.
    label
        What it is called where it has to be told from the others.
    club
        A hitter's; empty where the table does not tell it.
    """

    subject: Literal["hitter", "pitcher", "club"]
    label: str
    club: str = ""


@dataclass(frozen=True)
class Known:
    """What a table knows, as far as a sentence can name it; look once and ask many sentences of it.

    Attributes
    ----------
    table
        The table itself.
    people
        Hitters, pitchers and clubs.
    columns
        The pitch table's columns; ``None`` where counts were given.
    days
        The first and the last day; nothing where no day is recorded.
    nicknames
        Nickname, folded as names are, to name.
    seasons
        The seasons that the table tells, in order, with their first and last days.

    Examples
    --------
    >>> import hitlab
    >>> known = hitlab.asking.Known.of(hitlab.demo_season())
    >>> [person.label for person in known.find("izezno")]
    ['Nadia Izezno']
    >>> [person.label for person in known.find("kanagane")]
    ['Aiko Kanagane', 'Malik Kanagane']
    """

    table: Any
    people: tuple[Person, ...]
    columns: frozenset[str] | None
    days: tuple[datetime, datetime] | None = None
    nicknames: Mapping[str, str] = field(default_factory=dict)
    seasons: Mapping[str, tuple[datetime, datetime]] = field(default_factory=dict)

    @classmethod
    def of(cls, table: Any, nicknames: Mapping[str, str] | None = None) -> Known:
        """Look at a table: its names, its columns and its days, and nothing else.

        Parameters
        ----------
        table
            A pitch table (a checked file's path, a ``Reading``, a frame) or counts.
        nicknames
            Nickname to name.

        Raises
        ------
        HitlabError
            Where it is no table of these.
        """
        told = {fold(nick): name for nick, name in (nicknames or {}).items()}
        if not is_pitches(table):
            counts = as_counts(table)
            by = next((who for who in ("pitcher", "club") if who in counts.by), "hitter")
            by = "pitcher" if "pitcher_id" in counts.by else by
            clubs = [""] * len(counts.data)
            if "club" in counts.data and by == "hitter":
                clubs = [str(club) for club in counts.data["club"]]
            rows = zip(counts.labels, clubs, strict=True)
            people = dict.fromkeys(Person(by, label, club) for label, club in rows)  # type: ignore[arg-type]
            return cls(table, tuple(people), None, None, told)
        frame = frame_of(table)[0]
        columns = frozenset(frame.collect_schema().names())
        people = dict.fromkeys((*_people(frame, columns, "hitter"), *_people(frame, columns, "pitcher")))
        named = sorted({person.club for person in people if person.club and " and " not in person.club})
        people |= dict.fromkeys(Person("club", club) for club in named)
        days = days_of(table) if "date" in columns else None
        several = days is not None and ("season" in columns or days[0].year < days[1].year)
        return cls(table, tuple(people), columns, days, told, season_days(frame) if several else {})

    def within(self, season: str) -> Known:
        """Return the same with the days of a season; of a career, or of none, as it is."""
        return self if season in ("", CAREER) else replace(self, days=self.seasons.get(season, self.days))

    @cached_property
    def _words(self) -> list[set[str]]:
        """The folded words of every label, by place."""
        return [set(words_of(person.label)) for person in self.people]

    @cached_property
    def _own(self) -> list[set[str]]:
        """The folded words of every name, without the club or id that only tells it from another."""
        return [
            set(words_of(one.label if one.subject == "club" else one.label.partition(" (")[0]))
            for one in self.people
        ]

    @cached_property
    def hardest(self) -> float:
        """The highest share of swings that a hitter with some swings hits hard; 1 where it cannot be told."""
        try:
            data = Source.of(Question(kind="leads"), self.table).counts().data
        except HitlabError:
            return 1.0
        often = data[data["swings"] >= _SOME_SWINGS]
        return float((often["hard"] / often["swings"]).max()) if len(often) else 1.0

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word that a name may be found by, folded."""
        nicks = {word for nick in self.nicknames for word in nick.split()}
        return frozenset({word for words in self._words for word in words} | nicks)

    def find(self, wanted: str) -> list[Person]:
        """Return those who may be meant: one where the name decides it, all that fit where it does not."""
        folded = fold(wanted)
        if folded in self.nicknames:
            return self.find(self.nicknames[folded])
        typed = set(folded.split())
        fitting = [
            place for place, words in enumerate(self._words) if typed & self._own[place] and typed <= words
        ]
        found: list[Person] = []
        for subject in ("hitter", "pitcher", "club"):
            several = [self.people[place] for place in fitting if self.people[place].subject == subject]
            if len(several) > 1:
                try:
                    places = find_places(wanted, [person.label for person in several], what=subject)
                    several = [several[place] for place in places]
                except UnknownHitterError:
                    pass  # all of them are offered
            found += several
        return found

    def near(self, word: str) -> list[Person]:
        """Return those of whose name a part is spelled nearly so, the nearest first."""
        from rapidfuzz import process

        close = process.extract(word, sorted(self.words), limit=_MOST_OFFERED, score_cutoff=_NEAR)
        begun = [
            one for one in sorted(self.words) if one.startswith(word) and len(word) >= _SHORTEST_BEGINNING
        ]
        people = [
            self.people[place]
            for match in (*begun, *(match for match, _, _ in close))
            for place, words in enumerate(self._words)
            if match in words
        ]
        return list(dict.fromkeys(people))[: 2 * _MOST_OFFERED]

    def named_at(self, words: list[str], at: int) -> tuple[int, list[Person]]:
        """Return how many words from a place on are one name, and whose it may be; the longest counts."""
        for many in range(min(_LONGEST_NAME, len(words) - at), 0, -1):
            part = words[at : at + many]
            if all(word in self.words for word in part):
                found = self.find(" ".join(part))
                if found:
                    return many, found
        # A possessive without its apostrophe, and one of a club: "kvalvalls swings", "no Miller".
        word = words[at]
        for other in (word[:-1] if word.endswith("s") else "", f"{word}s"):
            if len(other) >= _SHORTEST_BENT and other in self.words and word not in self.words:
                found = [one for one in self.find(other) if (one.subject == "club") == (other != word[:-1])]
                if found and (other == word[:-1] or not any(one.subject != "club" for one in found)):
                    return 1, found
        return 0, []


def _people(frame: Any, columns: frozenset[str], who: Literal["hitter", "pitcher"]) -> list[Person]:
    """Return a table's hitters or pitchers, called as its counts call them."""
    if who not in columns and f"{who}_id" not in columns:
        return []
    key = f"{who}_id" if f"{who}_id" in columns else who
    name = who if who in columns else key
    wanted = list(dict.fromkeys([key, name, *(["club"] if who == "hitter" and "club" in columns else [])]))
    seen = frame.lazy().group_by(wanted).agg(nw.len().alias("_rows")).collect().to_dict(as_series=False)
    rows = sorted(
        zip(*(seen[column] for column in (*wanted, "_rows")), strict=True), key=lambda row: -row[-1]
    )
    names: dict[str, str] = {}
    clubs: dict[str, list[str]] = {}
    for row in rows:
        told = dict(zip(wanted, row[:-1], strict=True))
        if not _there(told[key]):
            continue
        own = str(told[key])
        if _there(told[name]):
            names.setdefault(own, shown_name(str(told[name])))
        names.setdefault(own, shown_name(own))
        if _there(told.get("club")) and str(told["club"]) not in clubs.setdefault(own, []):
            clubs[own].append(str(told["club"]))
    ids = sorted(names)
    joined = {own: " and ".join(clubs.get(own, ())) for own in ids}
    apart = told_apart(
        [names[own] for own in ids],
        [shown_name(joined[own]) if joined[own] else "" for own in ids],
        map(shown_name, ids),
    )
    return [Person(who, label, joined[own]) for own, label in zip(ids, apart, strict=True)]


def _there(value: Any) -> bool:
    return value is not None and value == value and str(value) not in ("<NA>", "NaT")


def nicknames_of(given: Mapping[str, str] | str | PathLike[str] | None) -> dict[str, str]:
    """Return nicknames from a mapping or from a TOML file of lines ``"The Comet" = "Nadia Izezno"``.

    Raises
    ------
    ClaimError
        Where the file cannot be read or holds something else.
    """
    if given is None:
        return {}
    told: Iterable[tuple[Any, Any]]
    if isinstance(given, Mapping):
        told = given.items()
    else:
        path = Path(given)
        try:
            told = read_toml(
                path,
                "list of nicknames",
                'Each line is a pair such as "The Comet" = "Nadia Izezno".',
                "Name the TOML file that says who is meant by them.",
            ).items()
        except ReadingError as error:
            raise ClaimError(f"{path}: the nicknames cannot be read: {error}") from error
    found = dict(told)
    for nick, name in found.items():
        if not isinstance(nick, str) or not isinstance(name, str) or not fold(nick):
            raise ClaimError(f'nicknames: {nick!r} = {name!r}; write "nickname" = "name"')
    return found
