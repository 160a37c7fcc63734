"""The sheet for the next game: one side in plain words, with what is too little to say at the foot."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, ClassVar, NamedTuple

import numpy as np
import pandas as pd

from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.counting.facts import Conventions
from hitlab.counting.looks import call_by_chance
from hitlab.counting.situations import situation
from hitlab.demonstration import called
from hitlab.errors import ClaimError, HitlabError, MissingColumnsError, UnknownHitterError, quiet_warnings
from hitlab.estimates.ranking import usual_minimum
from hitlab.evidence.cards import game_dates
from hitlab.game.base_out import Spot
from hitlab.game.opposing import Opposing, opposing_pitcher
from hitlab.game.outcome_rates import outcome_counts, shrink_outcomes
from hitlab.game.spots import SpotRanks, best_for_spots
from hitlab.names import fold
from hitlab.pages.opponents import COUNTS_TOLD, FEW, thrown, thrown_words
from hitlab.pages.saving import OnPaper
from hitlab.pitches.opening import doubts_of, file_of, frame_of
from hitlab.questions.fitted import Fitted
from hitlab.questions.question import CAREER, History, Question
from hitlab.questions.source import is_pitches
from hitlab.results import Note, Part, Points, Result, Table
from hitlab.showing import shown_name
from hitlab.splits.many_splits import all_splits
from hitlab.spoken import chance_spoken, number_spoken, share_said
from hitlab.wording import capitalised, club_called, listed, source_name

__all__ = ["SPOTS", "DugoutSheet", "dugout_sheet"]

_ASKED: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("swings", "pitches", ("first pitch",)),
    ("whiffs", "swings", ("strikes=2", "pitch_kind=breaking")),
    ("hard", "swings", ("strikes=2", "pitch_kind=breaking")),
)
"""What is looked at: a rate, and the situations in which."""

COLUMNS = {"first pitch": "First pitch", "strikes=2": "Two strikes", "pitch_kind=breaking": "Breaking balls"}
"""The situations, and what they are called."""

_DOES = {"swings": "swings", "whiffs": "misses", "hard": "hits it hard"}
_THEY_DO = {"swings": "swing at", "whiffs": "miss", "hard": "hit hard"}
_WHAT = {"swings": "Swings at the first pitch", "whiffs": "Misses", "hard": "Balls hit hard"}

SPOTS: dict[str, Spot] = {
    "Tied, a runner on third, one out": Spot(0, 1, "third"),
    "Trailing by one, two on, two out": Spot(-1, 2, "first second"),
    "Needing baserunners: two behind, none on, none out": Spot(-2, 0, "empty"),
}
"""The usual spots of the last inning, in the half of the home club."""

_HARDLY = 0.01
"""One win in a hundred such spots, which no season has: what makes less hardly makes a difference."""

_SIDE, _LARGEST, _SMALLEST = 565.0, 10.5, 8.0  # lines on one side times points of a letter, and points
_NEXT = 3  # named, of those who are not told apart from the first


@dataclass(frozen=True, eq=False, slots=True)
class DugoutSheet(OnPaper, Result):
    """A sheet for the next game.

    Attributes
    ----------
    data
        Everything that was looked at of our hitters, one row each: ``hitter``, ``situation``, ``event``,
        ``per``, ``events``, ``exposure``, ``share`` (the best estimate there), ``everybody`` (what all
        hitters do there), ``chance_above`` (that it is more than the average hitter's), ``verdict``
        (``often``, ``seldom`` or ``open``).
    club
        Whose hitters.
    about
        The lines under the title.
    hitters
        What is said of whom something holds: ``hitter`` and one column a situation.
    everybody
        What all hitters do in these situations, in words by the column's name.
    spots
        One row a spot of the last inning: ``spot``, ``first``, ``verdict`` and ``chance`` that nobody of ours
        is better, ``gap`` (how much more often the first wins than the middle one of those compared),
        ``hardly``, ``said``.
    thrown
        What they throw: ``who``, ``count``, ``pitch_kind``, ``pitches``, ``of``.
    pitchers
        The same as it is read: ``who`` and one column a count.
    against
        Who pitches, or which club; empty where neither was named.
    little
        What is too little to say.
    foot
        What the sheet does not know, and where its numbers are from.
    source
        The file that the pitches are from; empty where they are from none.
    """

    CALLED: ClassVar[str] = "sheet"

    data: pd.DataFrame
    club: str
    about: tuple[str, ...]
    hitters: pd.DataFrame
    everybody: dict[str, str]
    spots: pd.DataFrame
    thrown: pd.DataFrame
    pitchers: pd.DataFrame
    against: str
    little: tuple[str, ...]
    foot: tuple[str, ...]
    source: str = ""

    @property
    def title(self) -> str:
        """What it is."""
        return "A sheet for the next game"

    def contents(self) -> Iterable[Part]:
        """Return what text and HTML are made of."""
        parts: list[Part] = [self.title, Note(self.club, ""), *(Note(line, "") for line in self.about)]
        parts.append(Points("All hitters", tuple(f"{name}: {said}" for name, said in self.everybody.items())))
        parts.append(Table(self.hitters, missing=""))
        parts.append(
            Points("Last inning", tuple(f"{row.spot}: {row.said}" for row in self.spots.itertuples()))
        )
        parts.append(Table(self.pitchers, missing=""))
        parts.append(Points("Too little to say", self.little))
        parts += [Note(line, "") for line in self.foot]
        return parts

    def html(self) -> str:
        """Return the sheet as HTML: one file that asks nothing of any other machine.

        Raises
        ------
        MissingPackageError
            Where Jinja2 is not installed.
        """
        from hitlab.pages.html import sheet_html

        return sheet_html("dugout", self, letters=_letters(self))


def dugout_sheet(
    pitches: Any,
    club: str,
    *,
    against: str = "",
    opponent: str = "",
    season: str = "",
    history: History = "ids",
    conventions: Conventions | None = None,
) -> DugoutSheet:
    """Make the sheet for the next game: our hitters, the last inning, and what they throw.

    Of a hitter stands what the table can say: swings at the first pitch, misses and hard balls with two
    strikes and against breaking balls, where the chance to be above or below the average hitter there is
    90 % or more (:func:`hitlab.all_splits`, against the league). Whom to send up is the claim of
    :func:`hitlab.check_spot`
    among the club's hitters. The rest stands at the foot as too little to say.

    Parameters
    ----------
    pitches
        A pitch table: a checked file's path, a ``Reading``, or a frame.
    club
        Whose hitters.
    against
        The pitcher who is expected; or
    opponent
        the club whose pitchers are.
    season
        One season of a table of several, by itself, or ``career``: all as one record.
    history
        Who is who over the seasons of a career: by ``ids``, or by ``names``.
    conventions
        How the debatable cases are counted.

    Returns
    -------
    DugoutSheet
        Prints as text; its ``save`` writes one ``.html`` that needs no network, or a ``.pdf``.

    Raises
    ------
    ClaimError
        Where both a pitcher and a club are named, the clubs are the same, or the season is not there.
    ReadingError
        Where there are only counts.
    UnknownHitterError
        Where no club or pitcher, or more than one, is called so.
    MissingColumnsError
        Where a pitcher is named and the table has none.
    HitlabError
        Where swings cannot be counted.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.pages import dugout_sheet
    >>> swung = {"Runa Kvalbakk": 8, "Nils Haxditch": 52, "Zora Quarmoor": 30, "Bo Wychditch": 28}
    >>> rows = [(hitter, "Larks" if number < 2 else "Herons", strikes, "foul" if n < many else "ball")
    ...         for number, (hitter, first) in enumerate(swung.items())
    ...         for strikes, many in ((0, first), (1, 55)) for n in range(100)]
    >>> pitches = pd.DataFrame(rows, columns=["hitter", "club", "strikes", "outcome"]).assign(balls=0)
    >>> sheet = dugout_sheet(pitches, "Larks")
    >>> print(sheet.hitters[["hitter", "First pitch"]].to_string(index=False))
           hitter                     First pitch
    Runa Kvalbakk swings seldom: about one in ten
    >>> sheet.everybody["First pitch"]
    'all hitters swing at about three in ten'
    >>> sheet.little[0]
    'Nothing that can be told from luck: Nils Haxditch.'
    """
    if against and opponent:
        raise ClaimError("name the pitcher or the club, and not both")
    frame_of(pitches)  # refuses what is no table of pitches
    if not is_pitches(pitches):
        raise ClaimError("a sheet for the next game asks for single pitches, and these are counts")
    if not club.strip():
        raise ClaimError("whose hitters? Give a club")
    with quiet_warnings():
        asked = Question(
            kind="spot",
            event="swings",
            per="pitches",
            club=club,
            season=season,
            history=history,
            independent=True,
            conventions=conventions or Conventions(),
        )
        return _Maker(pitches, asked, against, opponent).sheet()


class _Spot(NamedTuple):
    """One spot, as it stands on the sheet."""

    spot: str
    first: str
    verdict: str
    chance: float
    gap: float
    hardly: bool
    said: str


@dataclass
class _Maker:
    """A sheet in the making."""

    table: Any
    question: Question
    against: str
    opponent: str
    little: list[str] = field(default_factory=list)

    @property
    def conventions(self) -> Conventions:
        """How the debatable cases are counted."""
        return self.question.conventions

    @cached_property
    def setting(self) -> Fitted:
        """Everybody's swings per pitch."""
        return Fitted.asked(self.question, self.table)

    @property
    def pitches(self) -> Any:
        """The pitches that are looked at: of one season, where one is asked for."""
        return self.setting.source.asked_of if self.question.season else self.table

    def sheet(self) -> DugoutSheet:
        """Put the sheet together."""
        setting = self.setting
        if self.against and not {"pitcher", "pitcher_id"} & setting.source.columns:
            raise MissingColumnsError("a pitcher is found by the column pitcher, which the table has not")
        key = setting.counts.by[0]
        members = list(setting.members)
        labels = {setting.counts.data[key].iloc[at]: setting.labels[at] for at in members}
        club = setting.club
        rows, they = self._thrown(club)
        data = self._looked_at(setting, labels)
        hitters, everybody, expected = self._hitters(data, labels)
        spots = self._spots(labels, key)
        source = source_name(called(setting.counts.source))
        days = game_dates(self.pitches)
        asked = self.question.season
        season = "the whole career" if asked == CAREER else f"season {shown_name(asked)}" if asked else ""
        about = [f"Against {they}" if they else "", season, f"games {days}" if days else "", source]
        untold = setting.counts.cannot_tell("swings", "pitches")
        means = setting.counts.hard_means
        foot = [
            *((expected,) if expected else ()),
            *((f"Hard means {means}.",) if means and "hard" in set(data["event"]) else ()),
            *((f"{capitalised(untold)}.",) if untold else ()),
            *(f"{capitalised(note)}." for note in setting.season_notes),
            "The sheet knows the pitches that were counted, and nothing of today. The coach decides.",
            f"Counts {setting.fingerprint}.",
        ]
        return DugoutSheet(
            data,
            shown_name(club),
            tuple(part for part in about if part),
            hitters,
            everybody,
            spots,
            rows,
            self._pitchers(rows),
            they,
            tuple(self.little),
            tuple(foot),
            file_of(self.table),
        )

    def _looked_at(self, setting: Fitted, labels: dict[Any, str]) -> pd.DataFrame:
        """Look at every hitter of ours in every situation."""
        key, tables = setting.counts.by[0], []
        for event, per, terms in _ASKED:
            unsure = self._unsure(event, per)
            if unsure is None:
                continue
            there = [term for term in terms if self._there(term, setting.source.columns)]
            if not there:
                continue
            try:
                asked = {term: situation(term) for term in there}
                splits = all_splits(self.pitches, asked, event, per, conventions=self.conventions)
            except HitlabError as error:
                self._note(f"{_WHAT[event]}: {_plain(error)}.")
                continue
            ours = splits.data[splits.data[key].isin(list(labels))]
            chance = ours["chance_above_league"].to_numpy(float)
            verdicts = [
                "open" if who in unsure else _often(one, more)
                for who, one, more in zip(
                    ours[key], chance, ours["shrunk_rate"] - ours["league_rate"], strict=True
                )
            ]
            tables.append(
                pd.DataFrame(
                    {
                        "hitter": [labels[who] for who in ours[key]],
                        "situation": ours["situation"].to_numpy(),
                        "event": event,
                        "per": per,
                        "events": ours["inside_events"].to_numpy(),
                        "exposure": ours["inside_exposure"].to_numpy(),
                        "share": ours["shrunk_rate"].to_numpy(float),
                        "everybody": ours["league_rate"].to_numpy(float),
                        "chance_above": chance,
                        "verdict": verdicts,
                    }
                )
            )
        columns = ["hitter", "situation", "event", "per", "events", "exposure"]
        columns += ["share", "everybody", "chance_above", "verdict"]
        return pd.concat(tables, ignore_index=True) if tables else pd.DataFrame(columns=columns)

    def _there(self, term: str, columns: frozenset[str]) -> bool:
        """Say whether the table can tell a situation, and note where it cannot."""
        absent = [one for one in situation(term).columns if one not in columns]
        if absent:
            self._note(f"{COLUMNS[term]}: the table has no column {absent[0]}.")
            return False
        doubts = doubts_of(self.pitches)
        if doubts.reason(situation(term).columns, self.conventions.most_contradicted):
            self._note(f"{COLUMNS[term]}: the table contradicts itself in it, and `hitlab read` shows where.")
            return False
        return True

    def _note(self, line: str) -> None:
        if line not in self.little:
            self.little.append(line)

    def _unsure(self, event: str, per: str) -> set[Any] | None:
        """Return of whom too little is measured for a verdict; ``None`` where it is of everybody."""
        if event != "hard":
            return set()
        if self.conventions.eye is not None:
            self._note(
                "Balls hit hard: an eye told which were, and its slips are not allowed for by situation."
            )
            return None
        try:
            setting = Fitted.asked(replace(self.question, event=event, per=per, club=""), self.table)
            everybody = range(len(setting.counts.data))
            unsure = {at for at in everybody if setting.unmeasured([at])[0]}
        except HitlabError as error:
            self._note(f"Balls hit hard: {_plain(error)}.")
            return None
        if len(unsure) == len(everybody):
            self._note("Balls hit hard: how hard is unknown for too many of them.")
            return None
        return set(setting.counts.data[setting.counts.by[0]].iloc[sorted(unsure)])

    def _hitters(
        self, data: pd.DataFrame, labels: dict[Any, str]
    ) -> tuple[pd.DataFrame, dict[str, str], str]:
        """Say what each does often and seldom, and what all do; name those of whom nothing holds."""
        told = data[data["verdict"] != "open"]
        rows = []
        for label in sorted(set(told["hitter"]), key=fold):
            own = told[told["hitter"] == label]
            cells = {
                name: "; ".join(_does(row) for row in own[own["situation"] == term].itertuples())
                for term, name in COLUMNS.items()
            }
            rows.append({"hitter": label, **cells})
        everybody = {}
        for term, name in COLUMNS.items():
            there: Any = data[data["situation"] == term].drop_duplicates("event").itertuples()
            said = [f"{_THEY_DO[row.event]} {share_said(row.everybody)}" for row in there]
            if said:
                everybody[name] = f"all hitters {listed(said)}"
        silent = sorted(set(labels.values()) - set(told["hitter"]), key=fold)
        if silent and len(data):
            self.little.insert(0, f"Nothing that can be told from luck: {listed(silent)}.")
        return pd.DataFrame(rows, columns=["hitter", *COLUMNS.values()]), everybody, _expected(told)

    def _spots(self, labels: dict[Any, str], key: str) -> pd.DataFrame:
        """Say whom to send up in the usual spots."""
        found: list[_Spot] = []
        try:
            counts = outcome_counts(self.pitches, conventions=self.conventions)
            rates = shrink_outcomes(counts)
        except HitlabError as error:
            self._note(f"Whom to send up: {_plain(error)}.")
            return pd.DataFrame(found, columns=_Spot._fields)
        names = [
            label
            for label, who in zip(counts.labels, counts.data[counts.by[0]], strict=True)
            if who in labels
        ]
        ended = {label: int(many) for label, many in zip(counts.labels, rates.plate_appearances, strict=True)}
        least = usual_minimum(np.array([ended[label] for label in names] or [0]))
        some = [label for label in names if ended[label] >= least]
        few = [f"{label} ({ended[label]:,})" for label in names if ended[label] < least]
        if few:
            self._note(f"Whom to send up: fewer than {least:,} times at the plate: {listed(few)}.")
        if len(some) < 2:
            self._note("Whom to send up: there are not two hitters to choose from.")
            return pd.DataFrame(found, columns=_Spot._fields)
        pitcher = self._pitcher()
        ranks = best_for_spots(rates, list(SPOTS.values()), candidates=some, pitcher=pitcher)
        found += [_sent_up(words, ranked) for words, ranked in zip(SPOTS, ranks, strict=True)]
        return pd.DataFrame(found, columns=_Spot._fields)

    def _pitcher(self) -> Opposing | None:
        """Return what the pitcher does to everybody, where one is named and it is known."""
        if not self.against:
            return None
        try:
            return opposing_pitcher(self.pitches, pitcher=self.against)
        except HitlabError as error:
            self._note(
                f"Whom to send up against this pitcher: {_plain(error)}; it is against average pitching."
            )
            return None

    def _thrown(self, club: str) -> tuple[pd.DataFrame, str]:
        """Count what they throw; say whose pitches they are."""
        none = pd.DataFrame(columns=["who", "count", "pitch_kind", "pitches", "of"])
        if not (self.against or self.opponent):
            return none, ""
        try:
            rows, they = thrown(
                self.pitches, pitcher=self.against, club=self.opponent, conventions=self.conventions
            )
        except HitlabError as error:
            if isinstance(error, UnknownHitterError):
                raise
            self._note(f"What they throw: {_plain(error)}.")
            return none, shown_name(self.against or self.opponent)
        if self.opponent and they == shown_name(club):
            called = club_called(they)
            played = called.does("does not play against itself", "do not play against themselves")
            raise ClaimError(f"{called.name} {played}; name another club")
        return rows, they if self.against else club_called(they).name

    def _pitchers(self, rows: pd.DataFrame) -> pd.DataFrame:
        """Return what they throw as it is read, and note where too little is known."""
        read, kinds = [], 3 if self.against else 2
        for who, own in rows.groupby("who", sort=False):
            said = {name: thrown_words(own[own["count"] == name], kinds) for name in COUNTS_TOLD.values()}
            few = [
                f"{name.lower()} {int(own.loc[own['count'] == name, 'of'].iloc[0]):,}"
                for name, words in said.items()
                if not words
            ]
            if few:
                self._note(
                    f"What is thrown: fewer than {FEW} pitches by {_lower(str(who))}, {', '.join(few)}."
                )
            if any(said.values()):
                read.append({"who": who, **said})
        return pd.DataFrame(read, columns=["who", *COUNTS_TOLD.values()])


def _letters(sheet: DugoutSheet) -> float:
    """Return how large letters may be, in points, for all of it to go on one side; never too small."""
    told = (
        sheet.hitters[list(COLUMNS.values())].map(lambda cell: -(-len(cell) // 27)).max(axis=1).clip(lower=1)
    )
    thrown = sheet.pitchers[list(COUNTS_TOLD.values())].map(lambda cell: -(-len(cell) // 30)).max(axis=1)
    spots = sum(max(2, -(-len(said) // 82)) for said in sheet.spots["said"])
    little = sum(-(-len(line) // 105) for line in sheet.little)
    lines = 20 + int(told.sum()) + spots + int(thrown.sum()) + little + len(sheet.foot)
    return round(float(np.clip(_SIDE / lines, _SMALLEST, _LARGEST)), 1)


def _lower(who: str) -> str:
    return "all of them" if who == "All of them" else who


def _plain(error: HitlabError) -> str:
    """Return a reason as it ends a line, without the numbers and the mend, which ``hitlab read`` gives."""
    text = str(error)
    if "contradicts other columns" in text:
        return "the table contradicts itself in it, and `hitlab read` shows where"
    if "hardness is unknown" in text or "unknown hardness" in text:
        return "how hard is unknown for too many of them"
    return text.partition(";")[0].rstrip(".")


def _often(chance: float, more: float) -> str:
    """Return the verdict on a chance to be above; open where the shares themselves say otherwise."""
    if np.isnan(chance) or np.isnan(more):
        return "open"
    verdict = verdict_on(chance, HOLDS_AT, FAILS_AT)
    if verdict == "open" or (verdict == "holds") != (more > 0):
        return "open"
    return "often" if verdict == "holds" else "seldom"


def _does(row: Any) -> str:
    """Say what somebody does often or seldom, and how often; that of all hitters stands above."""
    mine = share_said(row.share)
    if mine == share_said(row.everybody):
        mine = f"a little {'more' if row.verdict == 'often' else 'less'}"
    return f"{_DOES[row.event]} {row.verdict}: {mine}"


def _expected(told: pd.DataFrame) -> str:
    """Say how many of the things that are said are expected to be luck."""
    if not len(told):
        return ""
    wrong = call_by_chance(told, "chance_above", HOLDS_AT)
    number, many = round(wrong.false_share * len(wrong.data)), len(told)
    said = f"{number_spoken(many)} thing{' is' if many == 1 else 's are'} said of our hitters"
    likely = f"about {number_spoken(number)}" if number else "fewer than one"
    return f"{capitalised(said)}; {likely} of them may be expected to be luck."


def _sent_up(words: str, ranked: SpotRanks) -> _Spot:
    """Say whom to send up in one spot."""
    first = ranked.data.iloc[0]
    label, chance = str(first["label"]), float(first["chance_best"])
    verdict = verdict_on(chance, HOLDS_AT, FAILS_AT)
    gap = float(first["win_chance"] - ranked.data["win_chance"].median())
    return _Spot(words, label, verdict, chance, gap, gap < _HARDLY, _spot_words(ranked, verdict, chance, gap))


def _spot_words(ranked: SpotRanks, verdict: str, chance: float, gap: float) -> str:
    """Say who comes first, who is not told apart, and what it makes."""
    label = str(ranked.data["label"].iloc[0])
    behind = ranked.data.iloc[1:]
    near = [str(one) for one in behind.loc[behind["first_ahead"] < HOLDS_AT, "label"]]
    sure = chance_spoken(chance, HOLDS_AT, FAILS_AT)
    if gap < _HARDLY:
        return (
            f"Hardly makes a difference: with {label}, the first of our list, fewer than one more win in a "
            "hundred such spots than with a middle one of ours."
        )
    if verdict == "holds":
        said = f"{label}: most likely nobody of ours is better, {sure}."
    else:
        said = f"{label}, but too close to call: {sure} that nobody of ours is better."
    if near:
        more = len(near) - _NEXT
        told = listed(near) if more <= 0 else f"{', '.join(near[:_NEXT])} and {more} more"
        said = f"{said} Not told apart from the first: {told}."
    return f"{said} One more win in about {_round(1 / gap):,} such spots than with a middle one of ours."


def _round(number: float) -> int:
    """Return a number as it is said: in tens from twenty up."""
    return round(number) if number < 20 else int(round(number, -1))
