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

import narwhals as nw
import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.approach.matched import FEWEST, match_to_league
from hitlab.counting.counts import Counts
from hitlab.counting.facts import Conventions
from hitlab.counting.finding import find_row
from hitlab.counting.hardness import why_hard_is_unknown
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.counting.ledger import swing_ledger
from hitlab.counting.places import HALF_PLATE_IN, Borders
from hitlab.counting.summing import ROWS, Pitched, collected
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches.in_order import known as has_value
from hitlab.pitches.opening import doubts_of, frame_of
from hitlab.pitches.schema import FAMILIES
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

_COUNTED = {"whiffs": "whiff", "fouls": "foul", "fair": "fair", "hard": "hard"}
_PLACE = ("inside_in", "height_in")
_ZONE = ("zone_bottom_in", "zone_top_in")
_PITCH = ("speed_mph", *_PLACE)
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
    measured = pd.DataFrame(
        {
            name: pd.to_numeric(pitches[name]).astype("Float64").to_numpy(dtype=float, na_value=np.nan)
            for name in (*_PLACE, *_ZONE)
            if name in pitches
        }
    )
    frame = nw.from_native(measured, eager_only=True)
    told = frame.select(_part(dict(frame.schema), borders or Borders()).alias("part"))["part"].to_list()
    return pd.Series(
        [PARTS[place] if place >= 0 else None for place in told], index=pitches.index, dtype=object
    )


def _part(schema: dict[str, Any], borders: Borders) -> nw.Expr:
    """Return the place in ``PARTS`` of a pitch's part of the zone; -1 where it is not known."""
    bottom, top = (
        nw.when(has_value(name, schema)).then(nw.col(name)).otherwise(nw.lit(default))
        if name in schema
        else nw.lit(default)
        for name, default in zip(_ZONE, (borders.bottom_in, borders.top_in), strict=True)
    )
    inside, height = (nw.col(name) for name in _PLACE)
    share = (height - bottom) / nw.when(top > bottom).then(top - bottom)  # a zone of no height has no parts
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
    part = nw.when(middle).then(nw.lit(1)).otherwise(nw.lit(2))
    part = nw.when(up_and_in).then(nw.lit(0)).otherwise(part)
    placed = has_value("inside_in", schema) & has_value("height_in", schema)
    return nw.when(placed).then(part).otherwise(nw.lit(-1))


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
        Path of a checked file or of a folder of them, a ``Reading``, or a frame of the pitch table on any
        engine: the swings are counted where they are.
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
    swings = _fastball_swings(pitches, borders, conventions)
    table = _counted(swings)
    known = table[table["part"].notna()].reset_index(drop=True)
    parts = _by_part(known)
    data = _by_hitter(known)
    measure = measure or _finds_most(known)
    codes, success, places = _tries(swings, measure, pd.Index(data["hitter_id"]))
    matched = match_to_league(
        success,
        codes,
        places,
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
    fouls = _number(known, known["foul"])
    told = _number(known, known["foul"] & known["foul_side"].notna())
    left_out = int(table[ROWS].sum()) - int(known[ROWS].sum())
    notes = []
    if not told:
        notes.append("no foul has its direction written down, so lateness cannot be told")
    elif told < fouls:
        notes.append(f"{fouls - told:,} of {fouls:,} fouls have no direction")
    if left_out:
        notes.append(f"{left_out:,} swings at fastballs have no speed or place and are left out")
    if not table["counted"].any():
        notes.append("the count is not known, so swings with two strikes could not be set apart")
    if unknown:
        for counted in (data, parts):
            counted["hard"] = pd.array([pd.NA] * len(counted), "Int64")
        notes.append(f"hard-hit balls are not counted: {unknown}")
    elif known["unknown"].any():
        struck, unmeasured = _number(known, known["contact"]), _number(known, known["unknown"])
        notes.append(f"hardness is unknown for {unmeasured:,} of {struck:,} contacts")
    return Readiness(
        data,
        parts,
        borders,
        level,
        measure,
        matched.rate,
        matched.spread,
        left_out,
        told / fouls if fouls else 0.0,
        tuple(notes),
    )


def _number(counted: pd.DataFrame, flag: pd.Series) -> int:
    return int(counted[ROWS][flag.astype(bool)].sum())


def _finds_most(known: pd.DataFrame) -> Measure:
    """Choose the measure that tells most of being on time, by what was written down and never by results."""
    told = known["foul"] & known["foul_side"].notna()
    number, late = _number(known, told), _number(known, told & (known["foul_side"] == "opposite"))
    enough = number >= _TOLD_AT_LEAST * _number(known, known["foul"]) and min(late, number - late) >= FEWEST
    return "not_late" if enough else "touched"


def _tries(
    swings: Any, measure: Measure, hitters: pd.Index
) -> tuple[NDArray[np.int64], NDArray[np.bool_], pd.DataFrame]:
    """Return the swings that a measure is taken of: whose, whether they succeeded, and the pitch.

    They come in an order of their own values, so that the sums over them hang on no order of rows.
    """
    deep, contact, fair, unknown = (nw.col(name) == 1 for name in ("deep", "contact", "fair", "unknown"))
    if measure == "not_late":
        asked = contact & ~fair & ~nw.col("foul_side").is_null()
        success = nw.col("foul_side") != "opposite"
    else:
        asked = ~deep
        if measure == "fair":
            asked = asked & contact
        if measure == "hard":  # what was not measured is not soft
            asked = asked & ~unknown
        success = nw.col("contact" if measure == "touched" else measure) == 1
    asked = asked & (nw.col("part") >= 0) & ~nw.col("hitter_id").is_null()
    tries = collected(
        swings.filter(asked).select(
            "hitter_id",
            *(nw.col(name).cast(nw.Float64) for name in _PITCH),
            nw.when(success).then(nw.lit(1)).otherwise(nw.lit(0)).cast(nw.Int32).alias("success"),
        )
    )
    codes = hitters.get_indexer(pd.Index(tries["hitter_id"])).astype(np.int64)
    order = np.lexsort((*(tries[name].to_numpy() for name in ("success", *_PITCH)), codes))
    succeeded = tries["success"].to_numpy()[order] == 1
    return codes[order], succeeded, tries[list(_PITCH)].iloc[order].reset_index(drop=True)


def _fastball_swings(pitches: Any, borders: Borders, conventions: Conventions) -> Any:
    """Return the swings at fastballs with what each became, where the pitches are.

    Columns: who it was; ``_PITCH``; ``part``, the place in ``PARTS``, -1 without a speed or a place;
    ``foul_side``; ``counted``, whether the count is known; and the keys of ``_FLAGS``, as 1 and 0.
    """
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
    schema = dict(told.collect_schema())

    def yes(condition: nw.Expr) -> nw.Expr:
        return nw.when(condition).then(nw.lit(1)).otherwise(nw.lit(0))

    def text(name: str) -> nw.Expr:
        return nw.col(name) if name in schema else nw.lit(None, dtype=nw.String)

    placed = nw.when(has_value("speed_mph", schema)).then(_part(schema, borders)).otherwise(nw.lit(-1))
    return told.filter(nw.col("pitch_kind").is_in(FAMILIES["fastball"]) & nw.col("swing")).select(
        "hitter",
        nw.col("hitter_id" if "hitter_id" in schema else "hitter").alias("hitter_id"),
        text("club").alias("club"),
        *_PITCH,
        placed.alias("part"),
        text("foul_side").alias("foul_side"),
        (yes(has_value("strikes", schema)) if "strikes" in schema else nw.lit(0)).alias("counted"),
        *(
            (yes(nw.col(flag) == True) if flag in schema else nw.lit(0)).alias(name)  # noqa: E712
            for name, flag in _FLAGS.items()
        ),
    )


def _counted(swings: Any) -> pd.DataFrame:
    """Count the swings that are alike in everything but speed and place, by whoever holds them."""
    names = ("hitter", "hitter_id", "club", "part", "foul_side", "counted", *_FLAGS)
    found = Pitched(swings.select(*names)).rows_by(*names)
    found = found.sort_values(list(names), kind="stable", ignore_index=True)
    found["part"] = [PARTS[int(place)] if place >= 0 else None for place in found["part"]]
    for name in ("counted", *_FLAGS):
        found[name] = found[name] == 1
    found["foul"] = found["contact"] & ~found["fair"]
    return found


def _who(table: pd.DataFrame) -> Any:
    return table.groupby("hitter_id", sort=True)


def _by_hitter(known: pd.DataFrame) -> pd.DataFrame:
    early = ~known["deep"]
    numbers = {
        "swings": known[ROWS],
        **{name: known[ROWS] * known[column] for name, column in _COUNTED.items()},
        "early_contact": known[ROWS] * (known["contact"] & early),
        "early_fair": known[ROWS] * (known["fair"] & early),
    }
    counts = _who(pd.DataFrame(numbers).assign(hitter_id=known["hitter_id"])).sum().astype(np.int64)
    data = pd.concat([_called(known, name) for name in ("hitter", "club")], axis=1).reindex(counts.index)
    data = pd.concat([data, counts], axis=1).rename_axis("hitter_id")
    data["fair_share"] = _share(data["early_fair"], data["early_contact"])
    ordered: pd.DataFrame = data.reset_index()[
        ["hitter", "hitter_id", *(name for name in data.columns if name != "hitter")]
    ]
    return ordered


def _called(known: pd.DataFrame, name: str) -> pd.Series:
    """Return what each hitter is called most often; of those alike the first by name."""
    rows = known.groupby(["hitter_id", name], sort=True)[ROWS].sum().reset_index()
    best = rows.sort_values(["hitter_id", ROWS, name], ascending=[True, False, True], kind="stable")
    told: pd.Series = best.drop_duplicates("hitter_id").set_index("hitter_id")[name]
    return told


def _by_part(known: pd.DataFrame) -> pd.DataFrame:
    flags = known[["hitter", "hitter_id", "part"]].copy()
    rows, early = known[ROWS], ~known["deep"]
    told = known["foul_side"].notna().astype(bool)
    asked = {
        "swings": early,
        **{name: known[column] & early for name, column in _COUNTED.items()},
        "contact": known["contact"] & early,
        **{
            name: (known["foul_side"] == side).fillna(False).astype(bool) & known["foul"] & early
            for side, name in _DIRECTIONS.items()
        },
        "fouls_not_told": known["foul"] & early & ~told,
        "two_strike_contact": known["contact"] & known["deep"],
        "two_strike_fouls": known["foul"] & known["deep"],
    }
    for name, flag in asked.items():
        flags[name] = rows * flag
    parts = flags.groupby(["hitter_id", "hitter", "part"], sort=True).sum().astype(np.int64).reset_index()
    parts["fair_share"] = _share(parts["fair"], parts["contact"])
    parts["foul_share"] = _share(parts["fouls"], parts["contact"])
    return parts


def _share(top: pd.Series[Any], below: pd.Series[Any]) -> Any:
    out = np.full(len(top), np.nan)
    np.divide(top.to_numpy(float), below.to_numpy(float), out=out, where=below.to_numpy() > 0)
    return out
