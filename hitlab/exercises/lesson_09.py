"""Lesson 9, be ready for the fastball: what a foul's side tells, and what fair shares and whiffs do not."""

from __future__ import annotations

from functools import cache

import pandas as pd

import hitlab
from hitlab.approach.readiness import zone_parts
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.pitches.schema import FAMILIES
from hitlab.wording import percent, rate_text

__all__ = ["FAST_MPH", "LEAST_FOULS", "LESSON", "foul_sides", "fouls", "real_fastballs"]

FAST_MPH = 94.0
LEAST_FOULS = 30
"""A fast fastball, and the fouls that a hitter needs to be on the lesson's list."""

THE_HITTER = "Sade Tovebakk"
THE_EARLY_ONE = "Íñigo Hoshidori"
THE_MISSER = "Zora Pasosende"

_SIDES = {"late": "opposite", "early": "pull", "back": "straight back"}


def _fastball_swings(pitches: pd.DataFrame) -> pd.DataFrame:
    """Return the swings at fastballs, a foul tip being a miss, as in the lesson."""
    swung = pitches["outcome"].isin(["whiff", "foul", "foul tip", "in play"])
    bunt = pitches["bunt"].fillna(False).astype(bool)
    swings = pitches[pitches["pitch_kind"].isin(FAMILIES["fastball"]) & swung & ~bunt].copy()
    swings["fair"] = swings["outcome"] == "in play"
    swings["foul"] = swings["outcome"] == "foul"
    swings["deep"] = (swings["strikes"] == 2).fillna(False).astype(bool)
    return swings


@cache
def _swings() -> pd.DataFrame:
    season = pd.read_parquet(hitlab.demo_season())
    swings = _fastball_swings(season)
    swings["part"] = zone_parts(swings)
    for name, side in _SIDES.items():
        swings[name] = swings["foul"] & (swings["foul_side"] == side).fillna(False).astype(bool)
    return swings


@cache
def fouls() -> pd.DataFrame:
    """Return one row a hitter: fastballs with fewer than two strikes, and which way the fouls went."""
    early = _swings()[~_swings()["deep"]]
    groups = early.assign(swings=1, contact=early["fair"] | early["foul"]).groupby(["hitter_id", "hitter"])
    names = ["swings", "contact", "fair", "foul", *_SIDES]
    counted: pd.DataFrame = groups[names].sum().astype("int64").rename(columns={"foul": "fouls"})
    return counted.reset_index()


def _row(hitter: str) -> dict[str, int]:
    table = fouls()
    row = table[table["hitter"] == hitter].iloc[0]
    return {name: int(row[name]) for name in ("swings", "contact", "fair", "fouls", *_SIDES)}


def _of(hitter: str, event: str, per: str) -> float:
    return _row(hitter)[event] / _row(hitter)[per]


def foul_sides() -> pd.DataFrame:
    """Return one row a foul on a fastball, fewer than two strikes: speed, part of the zone, which side."""
    swings = _swings()
    chosen: pd.DataFrame = swings.loc[swings["foul"] & ~swings["deep"], ["speed_mph", "part", *_SIDES]]
    return chosen.reset_index(drop=True)


def _late_per_hundred(fast: bool) -> float:
    sides = foul_sides()
    return float(100 * sides.loc[(sides["speed_mph"] >= FAST_MPH) == fast, "late"].mean())


def _foul_share(deep: bool | None) -> float:
    swings = _swings() if deep is None else _swings()[_swings()["deep"] == deep]
    return float(swings["foul"].sum() / (swings["foul"] | swings["fair"]).sum())


def _fouls_per_swing_deep() -> float:
    return float(_swings()[_swings()["deep"]]["foul"].mean())


@cache
def real_fastballs() -> pd.DataFrame:
    """Return the real swings at fastballs, with part of the zone; one left-handed pitcher threw them all."""
    swings = _fastball_swings(hitlab.open_pitches().table)
    swings["part"] = zone_parts(swings)
    return swings.reset_index(drop=True)


def _real_fair(part: str, *, deep: bool = False, per: str = "contact") -> float:
    swings = real_fastballs()
    swings = swings[swings["part"] == part]
    if not deep:
        swings = swings[~swings["deep"]]
    below = len(swings) if per == "swings" else (swings["fair"] | swings["foul"]).sum()
    return float(swings["fair"].sum() / below)


def _verdict() -> str:
    """She is on time if her fouls go late no more often than the league's."""
    table = fouls()[["hitter_id", "hitter", "late", "fouls"]]
    table = table[table["fouls"] >= LEAST_FOULS]
    league = float(table["late"].sum() / table["fouls"].sum())
    late = hitlab.check_above(table, THE_HITTER, league, event="late", per="fouls").verdict
    return {"holds": "does not hold", "does not hold": "holds"}.get(late, "open")


EXERCISES = (
    Exercise(
        "09.the-fast-ones",
        "predict",
        Bounds(lambda: _late_per_hundred(True), widest=12),
        (
            Wrong(
                (33, 41),
                "that would be about the same as at all speeds. What does a faster pitch leave less of?",
                when=lambda ends: 33 <= ends[1] < _late_per_hundred(True),
            ),
            Wrong(
                (15, 25),
                "that would be fewer than at all speeds: late less often with less time.",
                when=lambda ends: ends[1] < 33,
            ),
            Wrong(
                (75, 85),
                "so many? Hitters in this league know that the pitch may be fast; many are on time or early "
                "even then.",
                when=lambda ends: ends[0] > 60,
            ),
        ),
        (
            "A faster pitch leaves less time, so more bats are late than at all speeds together.",
            "It is a little less than half.",
        ),
        lambda: (
            f"Of the fouls on fastballs of {FAST_MPH:.0f} miles an hour or more "
            f"{percent(_late_per_hundred(True) / 100)} went to the opposite side, of those on slower ones "
            f"{percent(_late_per_hundred(False) / 100)}."
        ),
        "the faster the pitch, the later the bat: what you see in the side of the fouls is time.",
        minutes=3,
    ),
    Exercise(
        "09.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "her swings at fastballs",
                "b": "the fastballs that she touched",
                "c": "her fouls whose side was written down",
                "d": "all her fouls",
            },
        ),
        (
            Wrong("a", "then she looks less late when she misses more. A whiff has no side."),
            Wrong("b", "then she looks less late when more stay fair. The question begins at the foul."),
            Wrong(
                "d",
                "a foul without a side is neither late nor not late: it would count as not late in silence.",
            ),
        ),
        (
            "What follows 'when she fouls one off' goes below the line.",
            "And what nobody wrote down cannot answer.",
        ),
        "The question starts with a foul, and only those whose side is known can say late or not late.",
        "what you do not know belongs neither above nor below the line; say how much of it there is.",
        minutes=2,
    ),
    Exercise(
        "09.the-other-one",
        "compute",
        Number(lambda: _of(THE_EARLY_ONE, "late", "fouls"), tolerance=0.003, share=True),
        (
            Wrong(
                lambda: _of(THE_EARLY_ONE, "late", "contact"),
                "that is out of all that he touched; the fair balls belong out of it.",
            ),
            Wrong(
                lambda: _of(THE_EARLY_ONE, "late", "swings"),
                "that is out of his swings; whiffs and fair balls have no foul's side.",
            ),
            Wrong(
                lambda: _of(THE_EARLY_ONE, "early", "fouls"),
                "those are the fouls to the pull side: early, not late.",
            ),
            Wrong(
                lambda: _of(THE_EARLY_ONE, "back", "fouls"),
                "those went straight back: on time, and off-centre.",
            ),
            Wrong(
                lambda: (
                    _row(THE_EARLY_ONE)["late"] / (_row(THE_EARLY_ONE)["late"] + _row(THE_EARLY_ONE)["early"])
                ),
                "that leaves out the fouls straight back. They are fouls too.",
            ),
        ),
        (
            "Late means to the opposite side. Out of what? Out of the fouls.",
            'row["late"] / row["fouls"]',
        ),
        lambda: (
            f"{_row(THE_EARLY_ONE)['late']} of {_row(THE_EARLY_ONE)['fouls']} fouls is "
            f"{rate_text(_of(THE_EARLY_ONE, 'late', 'fouls'))}."
        ),
        "the same fair share as hers, and the opposite story: if anything, he is early.",
        minutes=4,
    ),
    Exercise(
        "09.two-strikes",
        "compute",
        Number(lambda: _foul_share(True), tolerance=0.0015, share=True),
        (
            Wrong(lambda: _foul_share(False), "that is with fewer than two strikes."),
            Wrong(lambda: _foul_share(None), "that is both together; the question is about two strikes."),
            Wrong(lambda: 1 - _foul_share(True), "that is the fair share. Asked is the share of fouls."),
            Wrong(_fouls_per_swing_deep, "that is out of all swings; a whiff is no contact."),
        ),
        (
            "Contact is fouls and fair balls. The two columns for two strikes count both.",
            'Add up parts["two_strike_fouls"] and divide by the sum of parts["two_strike_contact"].',
        ),
        lambda: (
            f"With two strikes {rate_text(_foul_share(True))} of the contact goes foul, with fewer "
            f"{rate_text(_foul_share(False))}."
        ),
        "with two strikes a foul keeps the turn at bat alive. Part of it is meant, so it is counted apart.",
        minutes=4,
    ),
    Exercise(
        "09.look-at-the-whiffs",
        "fault",
        Choice(
            "b",
            {
                "a": "she has too few whiffs to say anything",
                "b": "a whiff does not say whether the bat was late, early, or over the ball",
                "c": "whiffs on fastballs do not count as swings",
                "d": "nothing; who misses a fastball is late",
            },
        ),
        (
            Wrong("a", "she has more than fifty. Their number is not what is wrong."),
            Wrong("c", "they do: the bat went all the way."),
            Wrong("d", "one can miss early, over it, and under it. Look where her fouls went."),
        ),
        (
            "How would you know from a whiff that the bat was late, and not above the ball?",
            "Compare the sides of her fouls with the league's.",
        ),
        lambda: (
            f"A whiff has no direction. Her fouls have: {_row(THE_MISSER)['late']} of "
            f"{_row(THE_MISSER)['fouls']} went late, {percent(_of(THE_MISSER, 'late', 'fouls'))}, just like "
            "the league's. She misses a lot, and nothing here says that time is the reason."
        ),
        "she misses; why she misses is another question, and the fouls do not say late.",
        minutes=4,
    ),
    Exercise(
        "09.the-bus",
        "transfer",
        Number(18 / 20, tolerance=0.01, share=True),
        (
            Wrong(0.18, "that is out of all its trips; asked is out of those off the timetable."),
            Wrong(0.80, "that is the share on time, which both lines have."),
            Wrong(0.10, "those are the ones that came too soon."),
            Wrong(0.50, "that is the other line."),
            Wrong(18 / 80, "late ones over those on time: two different lots."),
        ),
        (
            "How many trips of line A were off the timetable?",
            "20 were; and how many of these were late?",
        ),
        "18 of 20 is .900, against 10 of 20 for line B. Both are on time equally often, and need opposite "
        "mending: A has to be quicker, B steadier.",
        "how often it goes wrong and which way it goes wrong are two numbers.",
        minutes=3,
    ),
    Exercise(
        "09.real-middle",
        "compute",
        Number(lambda: _real_fair("over the middle"), tolerance=0.006, share=True),
        (
            Wrong(lambda: _real_fair("elsewhere"), "that is elsewhere in the zone and around it."),
            Wrong(lambda: _real_fair("up and in"), "that is up and in."),
            Wrong(
                lambda: _real_fair("over the middle", deep=True),
                "that has the swings with two strikes in it. Take them out first.",
            ),
            Wrong(
                lambda: _real_fair("over the middle", per="swings"),
                "that is out of all swings; asked is out of contact.",
            ),
            Wrong(lambda: 1 - _real_fair("over the middle"), "that is the share of fouls."),
        ),
        (
            "Keep the rows over the middle with fewer than two strikes, then fair over contact.",
            'chosen = real[(real["part"] == "over the middle") & ~real["deep"]]; then the sum of '
            'chosen["fair"] over that of fair and foul.',
        ),
        lambda: (
            f"Over the middle {rate_text(_real_fair('over the middle'))} of the contact stayed fair, up and "
            f"in {rate_text(_real_fair('up and in'))}."
        ),
        "real hitters, real pitches, and still one pitcher's: it says where, not who.",
        minutes=5,
        core=False,
    ),
)

LESSON = Lesson(
    "09",
    "Be ready for the fastball",
    _verdict,
    "As much stays fair as the claim says, but her fouls go to the opposite side far more often than the "
    "league's: she is late.",
    EXERCISES,
)
