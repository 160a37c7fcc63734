"""Lesson 11, watch what follows a whiff: what is asked, what is right, and what people mix up."""

from __future__ import annotations

from functools import cache

import pandas as pd

import hitlab
from hitlab.approach.patterns import after, called_strike, foul, whiff
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.wording import rate_text

__all__ = ["LESSON", "THE_HITTER", "by_strikes"]

THE_HITTER = "Tamsin Kolmbulo"

# The late trains of the transfer exercise: share late, and trains that followed a late one.
_CLEAR, _SNOW = (0.1, 20), (0.6, 80)
_OBSERVED_LATE = 52


@cache
def _responses() -> hitlab.approach.responses.Responses:
    return hitlab.approach.after_whiff(hitlab.demo_season(), responses=["whiff"])


@cache
def by_strikes() -> pd.DataFrame:
    """Return the hitter's next pitches by strikes before and kind of strike: pitches, whiffs, rate."""
    season = pd.read_parquet(hitlab.demo_season())
    own = season[season["hitter"] == THE_HITTER]
    lines = []
    for strikes in (0, 1):
        for name, kinds in (("a whiff", [whiff]), ("another strike", [called_strike, foul])):
            patterns = [after(kind(strikes=strikes)).then(whiff()) for kind in kinds]
            found = [hitlab.approach.find_sequences(own, pattern) for pattern in patterns]
            pitches, again = sum(one.chances for one in found), sum(len(one) for one in found)
            lines.append((strikes, name, pitches, again))
    table = pd.DataFrame(lines, columns=["strikes", "after", "pitches", "whiffs"])
    return table.assign(rate=table["whiffs"] / table["pitches"])


def _sides() -> tuple[pd.DataFrame, pd.DataFrame]:
    table = by_strikes().set_index("strikes")
    return table[table["after"] == "a whiff"], table[table["after"] == "another strike"]


def _expected() -> float:
    mine, other = _sides()
    return float((mine["pitches"] * other["rate"]).sum())


def _expected_by_hand() -> str:
    mine, other = _sides()
    parts = [f"{mine['pitches'][n]} times {rate_text(other['rate'][n])}" for n in (0, 1)]
    return (
        f"{parts[0]}, plus {parts[1]}, is {_expected():.1f}. She missed {mine['whiffs'].sum()}: "
        "fewer than that, like with like."
    )


def _expected_lumped() -> float:
    mine, other = _sides()
    return float(mine["pitches"].sum() * other["whiffs"].sum() / other["pitches"].sum())


def _expected_by_plain_average() -> float:
    mine, other = _sides()
    return float(mine["pitches"].sum() * other["rate"].mean())


def _missed() -> float:
    return float(_sides()[0]["whiffs"].sum())


def _again_in_100() -> float:
    counts = _responses().counts.iloc[0]
    return float(100 * counts["whiff_yes"] / counts["whiff_pitches"])


@cache
def _p() -> float:
    alone = hitlab.approach.after_whiff(hitlab.demo_season(), hitter=THE_HITTER, responses=["whiff"])
    return float(alone.of("whiff", "after a whiff")["p"])


@cache
def _hitters() -> int:
    return len(_responses().hitters)


@cache
def _verdict() -> str:
    counts = hitlab.tally(hitlab.demo_season())
    return str(hitlab.check_response(counts, THE_HITTER, responses=_responses()).verdict)


EXERCISES = (
    Exercise(
        "11.missed-again",
        "predict",
        Bounds(_again_in_100, widest=6),
        (
            Wrong(
                (27, 32),
                "that is nearer to a number per swing. About half of the next pitches are let go, and a "
                "pitch let go cannot be missed.",
                when=lambda ends: ends[0] >= 20,
            ),
            Wrong(
                (3, 8),
                "hitters swing at about half of the pitches, and a swing misses more often than one time in "
                "ten. Multiply.",
                when=lambda ends: ends[1] <= 11,
            ),
        ),
        (
            "Two steps: how many of the 100 does he swing at, and how many of these swings miss?",
            "About half, and of these between a quarter and a third.",
        ),
        "Of 100 next pitches about 50 are swung at, and some 15 are missed; look at the next table.",
        "a next pitch is seldom missed, after a whiff or not. So 'he did not miss the next' is true most "
        "of the time, of everybody.",
        minutes=3,
    ),
    Exercise(
        "11.out-of-what",
        "denominator",
        Choice(
            "b",
            {
                "a": "all whiffs",
                "b": "pitches that came right after a whiff in the same turn at bat",
                "c": "swings that came right after a whiff in the same turn at bat",
                "d": "all pitches",
            },
        ),
        (
            Wrong(
                "a",
                "a whiff with two strikes ends the turn. Nothing follows it, so there is nothing to miss.",
            ),
            Wrong(
                "c",
                "whether there is a swing comes after the whiff and may be part of the answer. Swings alone "
                "leave out the pitches that she let go.",
            ),
            Wrong(
                "d", "most of these follow no whiff. They are the other side of the comparison, not this one."
            ),
        ),
        (
            "What has to have happened before the coach can ask the question, and nothing more?",
            "There was a whiff, and another pitch was thrown. Whether she swings is not yet known.",
        ),
        "The question begins when the next pitch is thrown; all that comes later belongs above the line.",
        "below the line stands what is known when the question is asked, and nothing that comes later.",
        minutes=2,
    ),
    Exercise(
        "11.like-with-like",
        "compute",
        Number(_expected, tolerance=0.06),
        (
            Wrong(_missed, "that is how often she missed. The question is how often you would expect it."),
            Wrong(
                _expected_lumped,
                "that lumps the counts together, no strikes and one strike alike. Go row by row.",
            ),
            Wrong(
                _expected_by_plain_average,
                "that averages the two rates as if both rows had as many pitches. "
                "Weigh each with its own pitches.",
            ),
            Wrong(
                lambda: float(_sides()[0]["pitches"][0] * _sides()[1]["rate"][0]),
                "that is the first row alone; add the pitches that followed a whiff with one strike.",
            ),
        ),
        (
            "Take her pitches after a whiff, row by row, and the other rate at the same count.",
            "pitches (0 strikes, a whiff) times rate (0 strikes, another), plus the same with 1 strike.",
        ),
        _expected_by_hand,
        "she did miss less than her own other pitches lead one to expect. How much that is worth comes next.",
        minutes=5,
    ),
    Exercise(
        "11.take-the-day-out",
        "compute",
        Number(2.0 / 1.6, tolerance=0.01),
        (
            Wrong(2.0, "that is before anything is taken out: form is still in it."),
            Wrong(1.6, "that is the placebo: what the day alone does."),
            Wrong(
                0.4, "factors are not subtracted. A factor of one means no difference, not a factor of zero."
            ),
            Wrong(1.4, "close, but factors multiply: 1.6 times what makes 2.0?"),
            Wrong(0.8, "upside down: you asked what is left of the placebo."),
            Wrong(3.2, "that puts the day in a second time; it should come out."),
        ),
        (
            "Both numbers are factors on the odds. The day is in both of them.",
            "1.6 times something makes 2.0.",
        ),
        "2.0 divided by 1.6 is 1.25.",
        "most of the factor was the day; the rest may be a memory. The picture shows the same division.",
        minutes=3,
    ),
    Exercise(
        "11.once-in-nineteen",
        "fault",
        Choice(
            "c",
            {
                "a": "the count is wrong",
                "b": "a miss on another kind of pitch would be a better sign of learning",
                "c": "the nineteen were picked by what came after the whiff, and she let most of them go",
                "d": "foul tips should be left out",
            },
        ),
        (
            Wrong("a", "the count is right; it stands in the table. Ask how these pitches got into it."),
            Wrong("b", "it would be one more number of the same make: picked by what came after."),
            Wrong("d", "a foul tip counts as a miss here, on both sides. It is not what is wrong."),
        ),
        (
            "Who decided, after the whiff, that the same kind came again? And how many did she swing at?",
            "The row of swings says how many of the nineteen she offered at.",
        ),
        "The pitcher chose to repeat, in spots that suited him, and she swung at five of the nineteen. One "
        "miss in five swings is no wonder, and nothing says that the other fourteen would have been hit.",
        "a number among picked pitches describes. It does not say what a whiff does.",
        minutes=4,
    ),
    Exercise(
        "11.late-trains",
        "transfer",
        Number(_CLEAR[0] * _CLEAR[1] + _SNOW[0] * _SNOW[1], tolerance=0.5),
        (
            Wrong(
                15,
                "that takes the share of all days together. Most late trains run in snow.",
            ),
            Wrong(
                35,
                "that weighs clear days and snow days alike. Look at how many trains each had.",
            ),
            Wrong(
                _OBSERVED_LATE, "that is how many were late. What would the weather alone lead you to expect?"
            ),
            Wrong(60, "that treats all hundred as snow days; twenty of them were clear."),
            Wrong(10, "that treats all hundred as clear days; eighty of them were snowy."),
        ),
        (
            "Take the clear days and the snow days one by one.",
            "20 trains at 10 in 100, and 80 trains at 60 in 100.",
        ),
        "20 at 10 in 100 are 2, and 80 at 60 in 100 are 48: together 50. Observed were 52.",
        "snow makes late trains follow late trains, as a bad day makes whiffs follow whiffs. 52 "
        "against 50 says little about infection.",
        minutes=5,
    ),
    Exercise(
        "11.one-of-many",
        "compute",
        Number(lambda: _hitters() * _p(), tolerance=0.2),
        (
            Wrong(_p, "that is the chance for one hitter. How many hitters were there to look at?"),
            Wrong(
                lambda: _hitters() * _p() / 2,
                "that is those who stand out in her direction alone; the question counts both.",
            ),
            Wrong(lambda: 1 / _p(), "that is among how many hitters you would expect one."),
            Wrong(lambda: _hitters() * (1 - _p()), "that is how many would not stand out."),
        ),
        (
            "Each of them has the same small chance to stand out by luck.",
            "The number of hitters times the chance.",
        ),
        lambda: f"{_hitters()} hitters times {rate_text(_p())} is {_hitters() * _p():.1f}.",
        "some hitters always look as if they learn from a miss, and as many as if they fall to pieces.",
        minutes=3,
        core=False,
    ),
)

LESSON = Lesson(
    "11",
    "Watch what follows a whiff",
    _verdict,
    "Her record is what was said, but it is 4 of 85, picked out of 150 hitters, and the league as a whole "
    "leans the other way.",
    EXERCISES,
)
