"""The list for the wall: a rate per swing beside the same per ball in play, with the record behind each."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, ClassVar, NamedTuple

import numpy as np
import pandas as pd

from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT
from hitlab.counting.events import event_words, per_words, rate_words
from hitlab.counting.facts import Conventions
from hitlab.demonstration import called
from hitlab.errors import HitlabError, quiet_warnings
from hitlab.estimates.league_law import what_is_usual
from hitlab.estimates.shrinkage import Posterior
from hitlab.estimates.top_places import chance_of_top
from hitlab.evidence.cards import game_dates
from hitlab.pages.saving import OnPaper
from hitlab.pitches.opening import file_of
from hitlab.questions.fitted import Fitted, Wholes
from hitlab.questions.question import History, Question
from hitlab.questions.source import is_pitches, keeping
from hitlab.results import Listing, Note, Part, Points, Table
from hitlab.showing import shown_name
from hitlab.wording import capitalised, level_words, percent, rate_text, source_name

__all__ = ["BoardList", "board_list"]

_PER, _BESIDE = "swings", "in_play"
_MOST_PLACES = 10  # nobody asks who is surely among the first forty
_STEP = 0.05  # the bars' scale begins and ends at whole ones
_TOO_CLOSE = "too close to call"
_UNTOLD = "not known"

_PAGE_POINTS = 735.0  # of a sheet 11 inches high, after its margins
_HEAD, _HEAD_AGAIN, _COLUMNS, _LITTLE = 22.0, 16.0, 24.0, 40.0  # title, and above either part
_LINE, _MORE, _MARK = 19.3, 16.0, 12.6  # a row, each further line of its name, what is said of it
_SMALL, _SMALL_SIGNS = 13.2, 100  # a line under the title or of the rules, and its signs
_NAME_SIGNS = 18  # of a name that go on one line


@dataclass(frozen=True, eq=False, slots=True)
class BoardList(OnPaper, Listing):
    """A list for the wall.

    Attributes
    ----------
    data
        One row a hitter, first those who are listed, the highest shrunk rate first: ``hitter``, ``listed``,
        ``events``, ``exposure``, ``unknown`` (balls that nobody measured), ``rate`` (observed), ``least`` and
        ``most`` (its bounds), ``shrunk``, ``low``, ``high``, ``record`` in words; ``place`` (``first``,
        ``first 3``, ``last 2``, ``too close to call``) and ``place_chance``; the same per ball in play with
        ``beside_`` in front; ``said`` (what is marked in words); of those who are not listed ``needed`` (how
        many more swings would put them on the list) and ``why``.
    heading
        What is listed.
    about
        The lines under the title: club, situation, days, table.
    event
        What is counted.
    minimum
        Fewest swings to be listed.
    level
        Of the intervals.
    usual
        What hitters of the whole table do on average.
    rules
        How to read it, in sentences.
    notes
        What a careful reader wants to know of the counts.
    beside_missing
        Why nothing stands per ball in play; empty where it does.
    fingerprint
        First digits of the counts' hash.
    source
        The file that the pitches are from; empty where they are from none.
    """

    CALLED: ClassVar[str] = "list"

    data: pd.DataFrame
    heading: str
    about: tuple[str, ...]
    event: str
    minimum: int
    level: float
    usual: float
    rules: tuple[str, ...]
    notes: tuple[str, ...]
    beside_missing: str
    fingerprint: str
    source: str = ""

    @property
    def title(self) -> str:
        """What is listed."""
        return self.heading

    @property
    def listed(self) -> pd.DataFrame:
        """Those who are listed."""
        return self.data[self.data["listed"]].reset_index(drop=True)

    @property
    def little(self) -> pd.DataFrame:
        """Those of whom there is too little to say."""
        return self.data[~self.data["listed"]].reset_index(drop=True)

    @property
    def foot(self) -> str:
        """The line that tells the numbers apart from all others."""
        return f"Counts {self.fingerprint}."

    def table_for_people(self) -> pd.DataFrame:
        """Return those who are listed, as it is read."""
        rows = self.listed
        table = pd.DataFrame(
            {
                "place": rows["place"],
                "hitter": rows["hitter"],
                "per swing": rows["record"],
                "best guess": [rate_text(value) for value in rows["shrunk"]],
                "probably between": [
                    f"{rate_text(low)} and {rate_text(high)}"
                    for low, high in zip(rows["low"], rows["high"], strict=True)
                ],
            }
        )
        if not self.beside_missing:
            table["per ball in play"] = rows["beside_record"]
            table["its best guess"] = [
                rate_text(value) if value == value else "" for value in rows["beside_shrunk"]
            ]
        table["said"] = rows["said"]
        return table

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of."""
        parts: list[Part] = [self.title, *(Note(line, "") for line in self.about)]
        parts.append(Table(self.table_for_people(), missing=""))
        little = tuple(f"{row.hitter}: {_little_words(row)}" for row in self.little.itertuples())
        if little:
            parts.append(Points("Too little to say", little))
        parts.append(Points("How to read it", self.rules))
        parts += [*(Note(note) for note in self.notes), self.foot]
        return parts

    def html(self) -> str:
        """Return the list as HTML: one file that asks nothing of any other machine.

        Raises
        ------
        MissingPackageError
            Where Jinja2 is not installed.
        """
        from hitlab.pages.html import sheet_html

        scale = _Scale.of(self.listed, self.usual)
        return sheet_html(
            "board",
            self,
            pages=list(_pages(self)),
            scale=scale,
            event=event_words(self.event),
            rate_text=rate_text,
            needed=_needed_words,
            noun=_noun,
            too_close=_TOO_CLOSE,
            untold=_UNTOLD,
        )


def board_list(
    counts_or_pitches: Any,
    event: str = "hard",
    *,
    club: str = "",
    minimum: int | None = None,
    when: str | Sequence[str] = (),
    since: str = "",
    until: str = "",
    season: str = "",
    history: History = "ids",
    conventions: Conventions | None = None,
    prior: Any = None,
) -> BoardList:
    """Make the list for the wall: who does it how often per swing, beside per ball in play.

    A place is told only where the chances tell hitters apart: where the chance that the true rate is one of
    the so many highest (or lowest) of the list is 90 % or more, these being half of the list at most, and ten
    at most. It is the chance of :func:`hitlab.check_top`. The rest is too close to call.

    Parameters
    ----------
    counts_or_pitches
        A pitch table (a checked file's path, a ``Reading``, a frame), or a table of counts.
    event
        What is counted per swing, and per ball in play where it is a part of these.
    club
        Only its hitters are listed; how far true rates differ is told by everybody all the same.
    minimum
        Fewest swings to be listed; a quarter of the most where not given. Those with fewer stand beneath,
        with what is missing.
    when, since, until
        Take part of the pitches: terms of a situation, first and last day.
    season, history
        One season of a table of several, the earlier ones being its history, as claims take them.
    conventions
        How the debatable cases are counted.
    prior
        What is usual per swing, stated from outside: a range such as ``"8% to 18%"``, or a law, as claims
        take it.

    Returns
    -------
    BoardList
        Prints as text; its ``save`` writes one ``.html`` that needs no network, or a ``.pdf``: one page for
        up to 25 hitters, more are continued.

    Raises
    ------
    ClaimError
        Where nobody has the minimum, or a club, a situation or a day is not understood.
    HitlabError
        Where the rate cannot be counted.

    Examples
    --------
    One lucky contact leads per ball in play, and is too little to be listed per swing:

    >>> import pandas as pd
    >>> from hitlab.pages import board_list
    >>> team = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor", "Bo Wychditch"],
    ...                      "swings": [400, 380, 350, 4], "in_play": [190, 200, 150, 1],
    ...                      "hard": [104, 70, 63, 1]})
    >>> board = board_list(team)
    >>> board.listed[["hitter", "record", "place"]]
              hitter             record              place
    0  Runa Kvalbakk  104 in 400 swings              first
    1  Nils Haxditch   70 in 380 swings  too close to call
    2  Zora Quarmoor   63 in 350 swings  too close to call
    >>> board.data["said"].iloc[3]
    'highest per ball in play on one contact, and without it not; per swing too little to say'
    """
    question = Question(
        kind="top",
        event=event,
        per=_PER,
        club=club,
        minimum=minimum,
        when=(when,) if isinstance(when, str) else tuple(when),
        since=since,
        until=until,
        season=season,
        history=history,
        prior=None if prior is None else what_is_usual(prior),
        conventions=conventions or Conventions(),
    )
    with quiet_warnings(), keeping({}):
        return _made(question, counts_or_pitches)


def _made(question: Question, table: Any) -> BoardList:
    """Put the list together."""
    setting = Fitted.asked(question, table)
    beside, missing = _beside(question, table)
    fit, both = setting.fit, setting.both
    qualified = setting.qualified  # refused now, where nobody has the minimum
    ranked = qualified if fit.unknown_share <= fit.most_unknown else qualified[:0]
    ranked = ranked[~both.bounded[ranked]]
    data = pd.DataFrame(_rows(setting, setting.members, ""))
    data.index = pd.Index(setting.members)
    if beside is not None:
        same = _rows(beside, setting.members, "beside_")
        data = data.join(pd.DataFrame(same, index=data.index).drop(columns="hitter"))
    data["listed"] = np.isin(data.index, ranked)
    places = _Places.of(fit.posterior.only(ranked))
    words, chances = (dict(zip(ranked.tolist(), one, strict=True)) for one in places[:2])
    for place in words:
        reasons, untold = setting.unmeasured([place])
        if reasons:  # too much is unmeasured
            words[place], chances[place] = _UNTOLD if untold else _TOO_CLOSE, np.nan
    data["place"] = [words.get(place, "") for place in data.index]
    data["place_chance"] = [chances.get(place, np.nan) for place in data.index]
    leads = dict(zip(ranked.tolist(), places.first, strict=True))
    data["said"] = _on_one_contact(data, leads) if beside is not None else ""
    needed = np.maximum(setting.minimum - data["exposure"].to_numpy(), 0)
    data["needed"] = np.where(data["listed"], 0, needed)
    data["why"] = [
        "" if listed else _why(setting, int(place))
        for place, listed in zip(setting.members, data["listed"], strict=True)
    ]
    order = data.assign(unlisted=~data["listed"], shrunk=data["shrunk"].where(data["listed"]))
    order = order.sort_values(
        ["unlisted", "shrunk", "exposure"], ascending=[True, False, False], kind="stable"
    )
    data = data.loc[order.index].reset_index(drop=True)
    data.insert(1, "listed", data.pop("listed"))
    noted = tuple(dict.fromkeys([*setting.season_notes, *setting.notes_for("underlying")]))
    return BoardList(
        data,
        capitalised(rate_words(setting.event, _PER)) + ("" if missing else f" and per {per_words(_BESIDE)}"),
        _about(setting, table),
        setting.event,
        setting.minimum,
        fit.level,
        fit.mean,
        _rules(setting, missing, int(data["listed"].sum())),
        noted,
        missing,
        setting.fingerprint,
        file_of(table) if is_pitches(table) else "",
    )


def _beside(question: Question, table: Any) -> tuple[Fitted | None, str]:
    """Look at the same per ball in play; nothing where it is no rate, and why."""
    try:
        found = Fitted.asked(replace(question, per=_BESIDE, prior=None), table)
        found.fit  # noqa: B018 (refused now, where there is nothing to fit)
        return found, ""
    except HitlabError as error:
        text = str(error).rstrip(".")
        return None, text.partition(" is no rate: ")[2].partition(";")[0] or text


def _rows(setting: Fitted, places: Wholes, before: str) -> list[dict[str, Any]]:
    """Return the numbers of some hitters' rates."""
    rows = setting.rows_of(places)
    return [_row(setting, int(place), rows.iloc[at], before) for at, place in enumerate(places)]


def _row(setting: Fitted, place: int, own: pd.Series, before: str) -> dict[str, Any]:
    """Return the numbers of one hitter's rate, of which the fit's are given."""
    both = setting.both
    bounded = bool(both.bounded[place]) or not both.exposure[place]
    told = (
        dict.fromkeys(("shrunk", "low", "high"), np.nan) if bounded else dict(own[["shrunk", "low", "high"]])
    )
    numbers = {
        "events": int(both.events[place]),
        "exposure": int(both.exposure[place]),
        "unknown": int(both.unknown[place]),
        "rate": float(both.rate[place]),
        "least": float(both.least[place]),
        "most": float(both.most[place]),
        **told,
        "record": setting.record_of(place),
    }
    return {
        "hitter": setting.labels[place],
        **{f"{before}{name}": one for name, one in numbers.items()},
    }


class _Places(NamedTuple):
    """The places of some, as far as the chances tell them apart."""

    words: list[str]
    chances: list[float]
    first: list[float]

    @classmethod
    def of(cls, posterior: Posterior) -> _Places:
        """Find for each the fewest highest, or lowest, among which the true rate most likely is."""
        number = posterior.a.shape[1]
        if number < 2:
            return cls([""] * number, [np.nan] * number, [1.0] * number)
        most = min(number // 2, _MOST_PLACES)
        first = chance_of_top(posterior, 1)
        words, chances = [_TOO_CLOSE] * number, [np.nan] * number
        for end, field in (("last", posterior.of_the_others()), ("first", posterior)):
            open_still = np.ones(number, dtype=bool)
            for many in range(1, most + 1):
                chance = chance_of_top(field, many)
                for at in np.flatnonzero(open_still & (chance >= HOLDS_AT)):
                    words[at], chances[at] = end if many == 1 else f"{end} {many}", float(chance[at])
                    open_still[at] = False
        return cls(words, chances, [float(one) for one in first])


def _on_one_contact(data: pd.DataFrame, leads: dict[int, float]) -> list[str]:
    """Mark in words who is the highest per ball in play by one contact, and is not near it per swing."""
    rate = (data["beside_events"] / data["beside_exposure"]).where(data["beside_exposure"] > 0)
    rate = rate.where(data["beside_unknown"] == 0, data["beside_least"])  # what is surely reached
    highest = rate.max()
    said = []
    for place in (int(one) for one in data.index):
        row = data.loc[place]
        others = rate.drop(index=place).max()
        chance = leads.get(place, 0.0)
        leading = row["beside_events"] > 0 and rate[place] == highest and others == others
        without = (row["beside_events"] - 1) / max(row["beside_exposure"], 1)
        if not (leading and without < others and chance <= FAILS_AT):
            said.append("")
            continue
        near = "per swing not near it" if place in leads else "per swing too little to say"
        said.append(f"highest per ball in play on one contact, and without it not; {near}")
    return said


def _why(setting: Fitted, place: int) -> str:
    """Say why a hitter is not listed."""
    both = setting.both
    exposure, needed = int(both.exposure[place]), setting.minimum - int(both.exposure[place])
    if needed > 0:
        return (
            f"{needed:,} more {per_words(_PER, needed)} would do"
            if exposure
            else f"no {per_words(_PER, 2)} yet"
        )
    share = float(both.unknown_share[place])
    return f"{percent(share)} of the contact of unknown hardness: to be measured"


def _little_words(row: Any) -> str:
    """Say of one who is not listed what there is, and what is missing."""
    return "; ".join(part for part in (row.record, row.why, row.said) if part)


def _needed_words(row: Any) -> str:
    return f"{row.needed:,} more" if row.needed > 0 else row.why


def _noun(number: int, per: str = _PER) -> str:
    return per_words(per, int(number))


def _about(setting: Fitted, table: Any) -> tuple[str, ...]:
    """Say who is listed, of what pitches, and from which table."""
    club = shown_name(setting.club)
    first = "; ".join(part for part in (club, setting.source.words) if part)
    days = game_dates(setting.source.asked_of) if is_pitches(table) else ""
    source = source_name(called(setting.counts.source))
    second = "; ".join(part for part in (f"games {days}" if days else "", source) if part)
    return tuple(
        capitalised(part) if part == setting.source.words else part for part in (first, second) if part
    )


def _rules(setting: Fitted, missing: str, listed: int) -> tuple[str, ...]:
    """Say how to read the list."""
    level, least = level_words(setting.fit.level), level_words(HOLDS_AT)
    rules = [
        "Mark and number: the best guess at the true rate, which is the record pulled toward what hitters "
        f"usually do. Bar: where the true rate lies with a chance of {level}. Tall line: what the hitters of "
        "the table do on average.",
        f"Place: “first 3” says that the true rate is among the 3 highest of these {listed:,} with a chance "
        f"of {least} or more, “last 3” among the 3 lowest. It is told up to half of the list, and up to "
        f"{_MOST_PLACES}. All others are too close to call, whatever their order.",
    ]
    if listed < 2:
        rules[1] = "Place: none, because there is nobody to compare with."
    if setting.fit.unknown_share > setting.fit.most_unknown:
        rules[1] = (
            f"Nobody is listed: hardness is unknown for {percent(setting.fit.unknown_share)} of all contact."
        )
    if missing:
        rules.append(f"Nothing stands per ball in play: {missing}.")
    if setting.both.unknown.any():
        rules.append("A small number behind a record: balls that nobody measured.")
    if setting.prior is not None:
        source = f" ({setting.prior.source})" if setting.prior.source else ""
        rules.append(f"What is usual per swing was told beforehand{source}: {setting.prior.words}.")
    means = setting.counts.hard_means
    if means and "hard" in setting.event:
        rules.append(f"Hard means {means}.")
    untold = setting.counts.cannot_tell(setting.event, setting.per)
    if untold:
        rules.append(f"{capitalised(untold)}.")
    return tuple(rules)


class _Scale(NamedTuple):
    """The scale of the bars: where a rate lies, of 100."""

    low: float
    high: float

    @classmethod
    def of(cls, listed: pd.DataFrame, usual: float) -> _Scale:
        """Take the scale that all bars fit on."""
        if listed.empty:
            return cls(0.0, 1.0)
        low, high = min(listed["low"].min(), usual), max(listed["high"].max(), usual)
        low, high = np.floor(low / _STEP) * _STEP, np.ceil(high / _STEP) * _STEP
        return cls(max(float(low), 0.0), min(float(high), 1.0))

    def at(self, rate: float) -> float:
        """Return where a rate lies on a bar, from 0 to 100."""
        return round(100 * (rate - self.low) / max(self.high - self.low, 1e-9), 2)


class _Page(NamedTuple):
    """What stands on one sheet of paper."""

    number: int
    many: int
    listed: list[Any]
    little: list[Any]
    last: bool


def _pages(board: BoardList) -> Iterator[_Page]:
    """Put the rows on sheets of paper: as many as fit, by how high each is."""
    rows = [(True, row) for row in board.listed.itertuples()] + [
        (False, row) for row in board.little.itertuples()
    ]
    sheets: list[list[tuple[bool, Any]]] = [[]]
    foot = _small((*board.rules, board.foot))
    left = _PAGE_POINTS - _HEAD - _small(board.about) - foot
    kinds: set[bool] = set()
    for listed, row in rows:
        high = _high(row) + (0 if listed in kinds else _COLUMNS if listed else _LITTLE)
        if high > left and sheets[-1]:
            sheets.append([])
            left, kinds = _PAGE_POINTS - _HEAD_AGAIN - foot, set()
            high = _high(row) + (_COLUMNS if listed else _LITTLE)
        sheets[-1].append((listed, row))
        kinds.add(listed)
        left -= high
    for number, sheet in enumerate(sheets, start=1):
        first, second = ([row for listed, row in sheet if listed is which] for which in (True, False))
        yield _Page(number, len(sheets), first, second, number == len(sheets))


def _small(lines: tuple[str, ...]) -> float:
    """Return how high some lines in small letters are."""
    return _SMALL * sum(1 + (len(line) - 1) // _SMALL_SIGNS for line in lines)


def _high(row: Any) -> float:
    """Return how high a row is in points; names are broken where they are too long for their column."""
    signs = sum(2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in str(row.hitter))
    return _LINE + _MORE * (max(signs - 1, 0) // _NAME_SIGNS) + (_MARK if row.said else 0.0)
