"""Ready for the fastball: what becomes of swings at fastballs, by part of the zone, and which way fouls go.

A hitter who is late fouls the fastball off to the opposite side, one who is early to the pull side, and
straight back means on time and off-centre. So where the directions of fouls are written down, the measure is
the share of his fouls that did *not* go late; up and in is the hard test, over the middle the easy one. Where
they are not, it is contact per swing, which tells less. Each hitter is set against the league at the same
speed and place (``hitlab.approach.matched``).

In invented leagues, whose readiness is known, the default's effect correlates with it by .54 to .67 (five
leagues of the usual size), contact per swing by .42 to .56, and the fair share of contact not at all: who
fouls off much is mostly somebody who fouls off much. It is counted all the same, with two strikes apart,
because it is what a coach sees; it is no measure of being on time.

When it fails: hitters who aim at the opposite field, or spoil pitches on purpose; pitchers who are not the
league's; a barrel that droops at contact sends some early balls foul on the late side and the reverse; parts
of the zone with a handful of swings. None of the measures but ``hard`` says how hard the ball was hit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar, Literal

import numpy as np
import pandas as pd

from hitlab.approach.matched import FEWEST, match_to_league
from hitlab.counting.counts import Counts
from hitlab.counting.facts import Conventions
from hitlab.counting.finding import find_row
from hitlab.counting.hardness import why_hard_is_unknown
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.ledger import swing_ledger
from hitlab.counting.places import HALF_PLATE_IN, Borders
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.pitches.schema import FAMILIES
from hitlab.pitches.sources import checked_to_pandas
from hitlab.results import Listing
from hitlab.wording import chance_text, level_words, rate_text

__all__ = ["MEASURES", "Readiness", "fastball_readiness", "zone_parts"]

PARTS = ("up and in", "over the middle", "elsewhere")
"""Parts of the zone, in the order in which they are asked: the first that fits."""

Measure = Literal["not_late", "fair", "touched", "hard"]
MEASURES: dict[str, str] = {
    "not_late": "fouls that did not go late",
    "fair": "fair share of contact",
    "touched": "contact per swing",
    "hard": "hard-hit balls per swing",
}
"""What can be set against the league, in words."""

_COLUMNS = (
    "hitter",
    "hitter_id",
    "club",
    "outcome",
    "bunt",
    "strikes",
    "pitch_kind",
    "speed_mph",
    "inside_in",
    "height_in",
    "zone_bottom_in",
    "zone_top_in",
    "exit_mph",
    "hard",
    "foul_side",
    "spray_deg",
)
_TOLD_AT_LEAST = 0.5  # of all fouls: where fewer have a direction, those may be special ones
_NEEDED = ("hitter", "outcome", "pitch_kind", "speed_mph", "inside_in", "height_in")
_FLAGS = {
    "fair": "put_in_play",
    "contact": "touched",
    "whiff": "missed",
    "hard": "hit_hard",
    "unknown": "hardness_unknown",
    "deep": "deep_pitch",
}
"""What is asked of a swing, and the column of the swing ledger that tells it."""

_DIRECTIONS = {"opposite": "fouls_late", "pull": "fouls_early", "straight back": "fouls_straight_back"}


@dataclass(frozen=True, slots=True)
class Readiness(Listing):
    """Fastball swings by hitter and part of the zone.

    Attributes
    ----------
    data
        One row a hitter: who it is; ``swings``, ``whiffs``, ``fouls``, ``fair``, ``hard`` (of those whose
        hardness is known) at fastballs; ``fair_share`` of contact with fewer than two strikes; ``tries``
        and ``successes`` of the measure, how many successes the ``league`` would have had on the same
        pitches, ``adjusted`` (the measure on the league's pitches, shrunk), ``effect``, ``low``, ``high``
        (log odds against the league at the same speed and place), ``chance_above`` (that he is better than
        the league).
    parts
        One row a hitter and part of the zone: counts with fewer than two strikes, ``fair_share``,
        ``foul_share``, and fouls by direction; ``two_strike_contact`` and ``two_strike_fouls`` beside.
    borders, level
        As asked.
    measure
        A key of ``MEASURES``.
    rate, spread
        The league's rate of the measure, and how much it truly differs between hitters (log odds).
    left_out
        Swings at fastballs without speed or place.
    direction_told
        Share of fouls whose direction was written down; 0 means that lateness cannot be told.
    notes
        What a reader wants to know.
    """

    data: pd.DataFrame
    parts: pd.DataFrame
    borders: Borders
    level: float
    measure: Measure
    rate: float
    spread: float
    left_out: int
    direction_told: float
    notes: tuple[str, ...]

    MOST_ROWS: ClassVar[int | None] = 20

    @property
    def title(self) -> str:
        """What is shown, in words."""
        return (
            f"{MEASURES[self.measure]} on fastballs, {self.count_words}, against the league at the same "
            f"speed and place; {level_words(self.level)} posterior intervals of the log odds"
        )

    @property
    def count_words(self) -> str:
        """At which counts the measure is taken: where a foul went is asked with two strikes as well."""
        return "at any count" if self.measure == "not_late" else "fewer than two strikes"

    def direction_words(self, hitter: str) -> str:
        """Say of a hitter by name where the fouls under two strikes went; or that it cannot be told.

        Parameters
        ----------
        hitter
            Id, name, or some words of the name.

        Raises
        ------
        UnknownHitterError
            Where nobody, or more than one, of those who swung at a fastball of known speed and place is
            called so.
        """
        told = [name for name in ("hitter_id", "hitter", "club") if self.data[name].notna().any()]
        people = Counts(self.data[told], ("hitter_id",))
        place = find_row(people, hitter, where="who swung at a fastball of known speed and place")
        return f"{people.labels[place]}: {self.direction_finding(self.data['hitter_id'].iloc[place])}"

    def direction_finding(self, hitter_id: Any) -> str:
        """Say where the fouls under two strikes went, without a name: the rest of ``direction_words``.

        Parameters
        ----------
        hitter_id
            As it stands in ``data``.
        """
        own = self.parts[self.parts["hitter_id"] == hitter_id]
        late, early, back = (int(own[column].sum()) for column in _DIRECTIONS.values())
        number = late + early + back
        if not number:
            return "no foul under two strikes has its direction written down, so lateness cannot be told."
        fouls = f"{number} foul{'' if number == 1 else 's'} under two strikes with a direction"
        return (
            f"of {fouls}, {late} went to the opposite side (late), {early} to the pull side (early), "
            f"{back} straight back (on time, off-centre)."
        )

    def table_for_people(self) -> pd.DataFrame:
        """Return the hitters with the largest effect first, shares and chances as they are said."""
        shown = self.data.sort_values("effect", ascending=False, kind="stable")
        columns = [
            "hitter",
            "swings",
            "whiffs",
            "fouls",
            "fair",
            "hard",
            "fair_share",
            "adjusted",
            "chance_above",
        ]
        shown = shown[columns].copy()
        for name in ("fair_share", "adjusted"):
            shown[name] = [rate_text(value) for value in shown[name]]
        shown["chance_above"] = [chance_text(value) for value in shown["chance_above"]]
        return shown


def zone_parts(pitches: pd.DataFrame, borders: Borders | None = None) -> pd.Series[Any]:
    """Name each pitch's part of the zone, relative to the hitter.

    Parameters
    ----------
    pitches
        ``inside_in`` and ``height_in``; ``zone_bottom_in`` and ``zone_top_in`` where known.
    borders
        Where the parts end.

    Returns
    -------
    pandas.Series
        One of ``PARTS``; missing where the place is.
    """
    borders = borders or Borders()
    bottom, top = (
        pd.to_numeric(pitches[name]).astype("Float64").fillna(default).astype(float)
        if name in pitches
        else pd.Series(default, index=pitches.index)
        for name, default in (("zone_bottom_in", borders.bottom_in), ("zone_top_in", borders.top_in))
    )
    inside, height = pitches["inside_in"].astype(float), pitches["height_in"].astype(float)
    share = (height - bottom) / (top - bottom)
    up_and_in = (
        (inside >= borders.in_from_in)
        & (inside <= HALF_PLATE_IN + borders.beyond_in)
        & (share >= borders.up_from)
        & (height <= top + borders.beyond_in)
    )
    middle = (
        (inside.abs() <= borders.middle_half_width_in)
        & (share >= borders.middle_low)
        & (share <= borders.middle_high)
    )
    part = pd.Series(np.select([up_and_in, middle], PARTS[:2], PARTS[2]), index=pitches.index, dtype=object)
    return part.where(inside.notna() & height.notna())


def fastball_readiness(
    pitches: Any,
    *,
    measure: Measure | None = None,
    borders: Borders | None = None,
    conventions: Conventions | None = None,
    level: float = DEFAULT_LEVEL,
) -> Readiness:
    """Tell who is ready for the fastball.

    Parameters
    ----------
    pitches
        Path of a checked file, a ``Reading``, or a frame of the pitch table.
    measure
        What is set against the league: ``not_late`` (of the fouls whose direction is written down, those that
        did not go to the opposite side; at any count), or with fewer than two strikes ``touched`` (contact
        of swings), ``fair`` (of contact), ``hard`` (hard-hit balls of swings). Where not given ``not_late``
        if at least half of the fouls have a direction and they are enough for the league's chances, else
        ``touched``.
    borders
        Where the parts of the zone end.
    conventions
        How the debatable cases are counted.
    level
        Level of the posterior intervals.

    Returns
    -------
    Readiness
        One row a hitter: the record at fastballs, and the measure against the league's on the same speeds and
        places.

    Raises
    ------
    MissingColumnsError
        Where a needed column is absent; the message names it.
    CountsError
        Where there is too little contact for the league's chances.

    Examples
    --------
    >>> import hitlab
    >>> from hitlab.approach import fastball_readiness
    >>> ready = fastball_readiness(hitlab.demo_season())
    >>> ready.measure
    'not_late'
    >>> ready.table()[["hitter", "tries", "successes", "league", "adjusted"]].head(3).round(2)
                 hitter  tries  successes  league  adjusted
    0   Íñigo Hoshidori    103         82   64.22      0.72
    1  Tobiah Sorashige    107         63   67.55      0.60
    2      Nadia Izezno    104         79   67.40      0.69
    """
    if measure is not None and measure not in MEASURES:
        raise CountsError(f"measure={measure!r}: give one of {', '.join(MEASURES)}")
    borders, conventions = borders or Borders(), conventions or Conventions()
    unknown = why_hard_is_unknown(pitches, conventions)
    if unknown and measure == "hard":
        raise CountsError(f"hard-hit balls cannot be counted: {unknown}")
    table = _fastball_swings(pitches, conventions)
    placed = table[["speed_mph", "inside_in", "height_in"]].notna().all(axis=1)
    known = table[placed].reset_index(drop=True)
    known["part"] = zone_parts(known, borders)
    parts = _by_part(known)
    data = _by_hitter(known)
    measure = measure or _finds_most(known)
    tries, success = _tries(known, measure)
    codes = pd.Index(data["hitter_id"]).get_indexer(tries["hitter_id"])
    matched = match_to_league(
        success,
        codes.astype(np.int64),
        tries[["speed_mph", "inside_in", "height_in"]].astype(float).reset_index(drop=True),
        groups=len(data),
        level=level,
    )
    data = pd.concat(
        [
            data,
            matched.table()[
                ["tries", "successes", "league", "adjusted", "effect", "low", "high", "chance_above"]
            ],
        ],
        axis=1,
    )
    fouls = int(known["foul"].sum())
    told = int(known["foul_side"].notna().where(known["foul"], False).sum())
    notes = []
    if not told:
        notes.append("no foul has its direction written down, so lateness cannot be told")
    elif told < fouls:
        notes.append(f"{fouls - told:,} of {fouls:,} fouls have no direction")
    if len(table) > len(known):
        notes.append(
            f"{len(table) - len(known):,} swings at fastballs have no speed or place and are left out"
        )
    if table["strikes"].isna().all():
        notes.append("the count is not known, so swings with two strikes could not be set apart")
    if unknown:
        for counted in (data, parts):
            counted["hard"] = pd.array([pd.NA] * len(counted), "Int64")
        notes.append(f"hard-hit balls are not counted: {unknown}")
    elif known["unknown"].any():
        struck, unmeasured = int(known["contact"].sum()), int(known["unknown"].sum())
        notes.append(f"hardness is unknown for {unmeasured:,} of {struck:,} contacts")
    return Readiness(
        data,
        parts,
        borders,
        level,
        measure,
        matched.rate,
        matched.spread,
        len(table) - len(known),
        told / fouls if fouls else 0.0,
        tuple(notes),
    )


def _finds_most(known: pd.DataFrame) -> Measure:
    """Choose the measure that tells most of being on time, by what was written down and never by results."""
    fouls = known[known["foul"]]
    told = fouls["foul_side"].dropna()
    late = int((told == "opposite").sum())
    enough = len(told) >= _TOLD_AT_LEAST * len(fouls) and min(late, len(told) - late) >= FEWEST
    return "not_late" if enough else "touched"


def _tries(known: pd.DataFrame, measure: Measure) -> tuple[pd.DataFrame, Any]:
    """Return the swings that a measure is taken of, and which of them succeeded."""
    if measure == "not_late":
        tries = known[known["foul"] & known["foul_side"].notna().astype(bool)]
        return tries, (tries["foul_side"] != "opposite").to_numpy(bool)
    tries = known[~known["deep"]]
    if measure == "fair":
        tries = tries[tries["contact"]]
    if measure == "hard":  # what was not measured is not soft
        tries = tries[~tries["unknown"]]
    return tries, tries["contact" if measure == "touched" else measure].to_numpy(bool)


def _fastball_swings(pitches: Any, conventions: Conventions) -> pd.DataFrame:
    """Return the swings at fastballs with what each became; columns that are absent come back missing."""
    import narwhals as nw

    frame, _ = frame_of(pitches)
    there = set(frame.collect_schema().names())
    absent = [name for name in _NEEDED if name not in there]
    if absent:
        raise MissingColumnsError(
            f"readiness for the fastball needs the column {absent[0]}; the table has: "
            f"{', '.join(sorted(there))}"
        )
    doubts_of(pitches).refuse(["outcome"], conventions.most_contradicted, "readiness")
    told = nw.from_native(swing_ledger(frame.to_native(), conventions=conventions, trust=True))
    flags = {"swing", *_FLAGS.values()}
    chosen = told.filter(nw.col("pitch_kind").is_in(FAMILIES["fastball"]) & nw.col("swing")).select(
        *(name for name in _COLUMNS if name in there),
        *sorted(flags.intersection(told.collect_schema().names())),
    )
    table: pd.DataFrame = checked_to_pandas(chosen.to_native())[0]
    for name in (*_COLUMNS, *_FLAGS.values()):
        if name not in table:
            missing = False if name in _FLAGS.values() else pd.NA
            table[name] = table["hitter"] if name == "hitter_id" else missing
    for name, flag in _FLAGS.items():
        table[name] = table[flag].eq(True).astype(bool)
    table["foul"] = table["contact"] & ~table["fair"]
    return table.reset_index(drop=True)


def _who(table: pd.DataFrame) -> Any:
    return table.groupby("hitter_id", sort=True)


def _by_hitter(known: pd.DataFrame) -> pd.DataFrame:
    groups = _who(known)
    data = groups[["hitter", "club"]].first()
    data["swings"] = groups.size()
    for name, column in (("whiffs", "whiff"), ("fouls", "foul"), ("fair", "fair"), ("hard", "hard")):
        data[name] = groups[column].sum().astype(np.int64)
    early = known[~known["deep"]]
    contact = _who(early)["contact"].sum().reindex(data.index, fill_value=0)
    fair = _who(early)["fair"].sum().reindex(data.index, fill_value=0)
    data["early_contact"], data["early_fair"] = contact.astype(np.int64), fair.astype(np.int64)
    data["fair_share"] = _share(data["early_fair"], data["early_contact"])
    ordered: pd.DataFrame = data.reset_index()[
        ["hitter", "hitter_id", *(name for name in data.columns if name != "hitter")]
    ]
    return ordered


def _by_part(known: pd.DataFrame) -> pd.DataFrame:
    flags = known[["hitter", "hitter_id", "part"]].copy()
    early = ~known["deep"]
    flags["swings"] = early
    for name, column in (("whiffs", "whiff"), ("fouls", "foul"), ("fair", "fair"), ("hard", "hard")):
        flags[name] = known[column] & early
    flags["contact"] = known["contact"] & early
    for side, name in _DIRECTIONS.items():
        flags[name] = (known["foul_side"] == side).fillna(False).astype(bool) & known["foul"] & early
    told = known["foul_side"].notna().astype(bool)
    flags["fouls_not_told"] = known["foul"] & early & ~told
    flags["two_strike_contact"] = known["contact"] & known["deep"]
    flags["two_strike_fouls"] = known["foul"] & known["deep"]
    parts = flags.groupby(["hitter_id", "hitter", "part"], sort=True).sum().astype(np.int64).reset_index()
    parts["fair_share"] = _share(parts["fair"], parts["contact"])
    parts["foul_share"] = _share(parts["fouls"], parts["contact"])
    return parts


def _share(top: pd.Series[Any], below: pd.Series[Any]) -> Any:
    out = np.full(len(top), np.nan)
    np.divide(top.to_numpy(float), below.to_numpy(float), out=out, where=below.to_numpy() > 0)
    return out
