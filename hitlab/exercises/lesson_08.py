"""Lesson 8, meet it on time: how long a pitch takes, and how much error of timing a swing forgives."""

from __future__ import annotations

from functools import cache

import numpy as np

from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.physics.meeting import fair_window, solid_window
from hitlab.physics.timing import mistime, time_pitch

__all__ = ["BAT_MPH", "FAST", "LESSON", "SLOW", "late_ms", "window_ms"]

FAST, SLOW, BAT_MPH = 95.0, 80.0, 70.0
"""Release speeds of the lesson's two pitches, and the speed of its bat, in mph."""


def late_ms(expected_mph: float, thrown_mph: float) -> float:
    """Return how late a swing timed for one speed is on another, in ms; negative is early."""
    return float(mistime(expected_mph, thrown_mph).timing_error_ms)


def window_ms(release_mph: float) -> float:
    """Return how early or late a squarely hit ball may be and stay fair, in ms."""
    return float(fair_window(time_pitch(release_mph).meeting_mph, BAT_MPH).either_way_ms)


def _solid_ms(release_mph: float) -> float:
    return float(solid_window(time_pitch(release_mph).meeting_mph, BAT_MPH).either_way_ms)


@cache
def _slowest_fair(either_way_ms: float | None = None) -> float:
    speeds = np.arange(SLOW, FAST, 0.1)
    early = -mistime(FAST, speeds).timing_error_ms
    if either_way_ms is None:
        allowed = fair_window(time_pitch(speeds).meeting_mph, BAT_MPH).either_way_ms
    else:
        allowed = np.full(speeds.shape, either_way_ms)
    return float(speeds[early <= allowed].min())


def _verdict() -> str:
    return "holds" if late_ms(SLOW, FAST) <= window_ms(FAST) else "does not hold"


EXERCISES = (
    Exercise(
        "08.fair-window",
        "predict",
        Bounds(lambda: window_ms(92.5), widest=10),
        (
            Wrong(
                (90, 100),
                "that is as long as a whole swing takes, nearly. In that time the ball travels more "
                "than ten feet.",
                when=lambda ends: ends[0] > 60,
            ),
            Wrong(
                (0.5, 3),
                "that small? Then nobody would ever hit a fair ball. The bat sweeps through fair ground "
                "for a while.",
                when=lambda ends: ends[1] < 8,
            ),
        ),
        (
            "A blink takes a tenth of a second, 100 milliseconds. It is much less than that.",
            "It is a few hundredths of a second: between 10 and 40 milliseconds.",
        ),
        lambda: f"About {window_ms(92.5):.0f} milliseconds early or late, and a square hit goes foul.",
        "two hundredths of a second, in a generous model. The blink of an eye is five times as long.",
        minutes=3,
    ),
    Exercise(
        "08.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "all fastballs",
                "b": "all his swings at fastballs",
                "c": "the fastballs that he touched",
                "d": "his strikeouts",
            },
        ),
        (
            Wrong("a", "most of those he let go by: there the bat tells nothing about time."),
            Wrong(
                "b",
                "a whiff has no direction: it does not say whether the bat was early, late, or over the "
                "ball.",
            ),
            Wrong("d", "a strikeout can come from a pitch that he never swung at."),
        ),
        (
            "How do you know that a swing was late? From where the ball went.",
            "Only a touched ball goes anywhere.",
        ),
        "Lateness shows in the direction of the ball, so only contact can tell: late balls over contact.",
        "and the whiffs are reported beside it, because leaving them out is a choice, too.",
        minutes=3,
    ),
    Exercise(
        "08.fifteen-slower",
        "compute",
        Number(lambda: -late_ms(FAST, SLOW), tolerance=1.0),
        (
            Wrong(
                lambda: late_ms(FAST, SLOW),
                "the right size; early was asked for, so give it without the minus.",
            ),
            Wrong(
                lambda: float(time_pitch(SLOW).time_s) * 1000, "that is how long the slow pitch takes in all."
            ),
            Wrong(
                lambda: float(time_pitch(FAST).time_s) * 1000, "that is how long the fast pitch takes in all."
            ),
            Wrong(lambda: FAST - SLOW, "those are miles an hour. Asked is a time."),
        ),
        (
            "How long does each pitch take? The swing is timed for the shorter time.",
            "time_pitch(80).time_s less time_pitch(95).time_s, in thousandths of a second.",
        ),
        lambda: (
            f"{float(time_pitch(SLOW).time_s) * 1000:.0f} ms less "
            f"{float(time_pitch(FAST).time_s) * 1000:.0f} ms is "
            f"{-late_ms(FAST, SLOW):.0f} ms."
        ),
        "more than twice what the most generous model forgives. Fifteen miles an hour is another world.",
        minutes=4,
    ),
    Exercise(
        "08.how-much-slower",
        "compute",
        Number(_slowest_fair, tolerance=0.35),
        (
            Wrong(
                lambda: _slowest_fair(_solid_ms(FAST)),
                "that is for solid contact. Asked is fair, which forgives more.",
            ),
            Wrong(lambda: FAST - window_ms(FAST), "those are milliseconds taken from miles an hour."),
        ),
        (
            "Go down from 95 and watch how early the swing gets.",
            "The last speed at which early_ms is not larger than the window.",
        ),
        lambda: (
            f"At {_slowest_fair():.1f} miles an hour the swing is {-late_ms(FAST, _slowest_fair()):.1f} "
            f"ms early, and "
            f"{window_ms(_slowest_fair()):.1f} are allowed."
        ),
        "about five miles an hour, and less in other models: that is all a single plan covers. Beyond it "
        "the hitter has to see and wait.",
        minutes=5,
    ),
    Exercise(
        "08.pulled-fouls",
        "fault",
        Choice(
            "a",
            {
                "a": "fouls to the pull side speak for an early bat, not for a late one",
                "b": "fouls say nothing about time",
                "c": "four is too many fouls for one turn at bat",
                "d": "nothing; a foul is a late swing",
            },
        ),
        (
            Wrong(
                "b", "their direction does say something: early goes mostly to one side, late to the other."
            ),
            Wrong("c", "there is no limit, and nobody claimed one."),
            Wrong("d", "only those to the opposite side. Think of where the bat points when it comes early."),
        ),
        (
            "Where does the bat point when it gets there too soon?",
            "An early bat has turned too far, toward the pull side.",
        ),
        "An early bat has turned past the middle and sends the ball to the pull side. One foul may mislead, "
        "four on that side hardly. He is ahead of the fastball, and the next slow one may fool him.",
        "the same four fouls, the opposite advice.",
        minutes=4,
    ),
    Exercise(
        "08.diver",
        "transfer",
        Number(14 * 0.08, tolerance=0.02),
        (
            Wrong(14 / 0.08, "divided: how far does something go at 14 metres a second in 0.08 seconds?"),
            Wrong(14 * 80, "0.08 seconds, not 80."),
            Wrong(0.08, "that is the time. Asked is the distance."),
        ),
        (
            "Speed times time is distance.",
            "14 metres a second, for 0.08 seconds.",
        ),
        "14 times 0.08 is 1.12 metres; half the picture's width is one metre, so the diver is out of it.",
        "an error of time is an error of place, and speed is the exchange rate.",
        minutes=3,
    ),
    Exercise(
        "08.in-between",
        "compute",
        Number(lambda: late_ms(87.5, FAST), tolerance=0.8),
        (
            Wrong(lambda: -late_ms(87.5, SLOW), "that is how early he is on the slow one."),
            Wrong(lambda: late_ms(SLOW, FAST) / 2, "not quite half: the slow pitch is slow for longer."),
        ),
        (
            "mistime(expected, thrown) gives the error of a swing timed for the first and thrown the second.",
            "mistime(87.5, 95).timing_error_ms",
        ),
        lambda: (
            f"{late_ms(87.5, FAST):.0f} ms late on the fast one and {-late_ms(87.5, SLOW):.0f} ms early "
            f"on the slow one; "
            f"about {window_ms(FAST):.0f} are allowed."
        ),
        "timed for the middle, he is foul on both. A plan has to choose.",
        minutes=3,
        core=False,
    ),
)

LESSON = Lesson(
    "08",
    "Meet it on time",
    _verdict,
    "Timed for the slow pitch he is more than twice as late on the fast one as the most generous model of a "
    "fair ball allows.",
    EXERCISES,
)
