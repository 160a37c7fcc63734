"""Lesson 6, strike under the middle: launch angle, and how much of it is the swing's own angle."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.physics.margin import HeldStill, Margin, Scatter, hold_still, swing_margin
from hitlab.physics.one_swing import aim_for_launch, swing_outcomes
from hitlab.physics.scatter_fit import HITTER

__all__ = ["AIM_IN", "HITTER", "LESSON", "SCATTER", "held_still", "margin_of"]

SCATTER = Scatter(miss_in=1.5, timing_ms=14.0, attack_deg=4.0, sideways_in=2.1)
"""The lesson's hitter from swing to swing: near the middle of what ``fit_scatter`` gives for usual shares
(miss 1.50 to 1.66 in, timing 11 to 14 ms, 2.1 to 2.4 in along the bat); no published figure was found."""
AIM_IN = 1.0
"""How far under the ball he aims; from the same fit."""


@cache
def margin_of(attack_deg: float) -> Margin:
    """Return what becomes of 10,000 swings of one attack angle, aimed at a launch angle of 15 degrees."""
    swing = replace(HITTER, attack_deg=attack_deg)
    aim = aim_for_launch(15, swing=swing)
    return swing_margin(swing=swing, scatter=SCATTER, aim_in=aim, swings=10_000)


@cache
def held_still(miss_in: float = SCATTER.miss_in) -> HeldStill:
    """Return what the launch angles of the lesson's hitter follow, for some scatter of his aim."""
    return hold_still(replace(SCATTER, miss_in=miss_in), swing=HITTER, aim_in=AIM_IN, swings=20_000)


def _launch(miss_in: float, attack_deg: float) -> float:
    return float(swing_outcomes(miss_in, 0.0, attack_deg, swing=HITTER).launch_deg)


def _per_tenth() -> float:
    return _launch(0.45, 8) - _launch(0.35, 8)


def _per_degree() -> float:
    return (_launch(0.4, 13) - _launch(0.4, 3)) / 10


def _per_quarter() -> float:
    return _launch(0.525, 8) - _launch(0.275, 8)


def _home_runs(attack_deg: float) -> float:
    return margin_of(attack_deg).shares["home run"]


def _per_ball_in_play(attack_deg: float) -> float:
    played = margin_of(attack_deg).shares
    return played["home run"] / (1 - played["whiff"] - played["foul"])


def _verdict() -> str:
    found = held_still()
    return "holds" if found.attack_share > found.offset_share else "does not hold"


EXERCISES = (
    Exercise(
        "06.tenth-of-an-inch",
        "predict",
        Bounds(_per_tenth, widest=1.5),
        (
            Wrong(
                (0.2, 1.2),
                "that little? The ball is round and small, so its surface turns away quickly under the bat.",
                when=lambda ends: ends[1] < 1.5,
            ),
            Wrong(
                (9, 10),
                "that much would mean that a quarter of an inch turns a line drive into a pop-up. It takes "
                "more than half an inch.",
                when=lambda ends: ends[0] > 5,
            ),
        ),
        (
            "In the table of 'Look', a quarter of an inch changes the launch angle by five or six degrees.",
            "Divide that by two and a half.",
        ),
        lambda: f"A tenth of an inch lower is {_per_tenth():.1f} degrees of launch angle more.",
        "that is why the same swing gives a grounder, a liner and a fly ball: a few tenths of an inch.",
        minutes=3,
    ),
    Exercise(
        "06.out-of-what",
        "denominator",
        Choice(
            "b",
            {"a": "per fly ball", "b": "per swing", "c": "per ball in play", "d": "per home-run trot"},
        ),
        (
            Wrong("a", "a fly ball has already happened. The whiffs and grounders of that swing are gone."),
            Wrong("c", "then the swings that miss cost nothing, and the steep swing misses most."),
            Wrong("d", "every trot is a home run, so that rate is 1 for everybody."),
        ),
        (
            "What does the swing that is being taught do to every try, also to those that miss?",
            "The word after 'each time he' goes below the line.",
        ),
        "'Each time he swings' asks for home runs per swing, the misses included.",
        "a swing is judged on all its swings. Lesson 1 again.",
        minutes=2,
    ),
    Exercise(
        "06.quarter-inch",
        "compute",
        Number(lambda: _per_quarter() / _per_degree(), tolerance=0.3),
        (
            Wrong(
                _per_quarter,
                "that takes one degree of swing for one degree of launch. The ball does not follow the "
                "swing in "
                "full: see what one degree of swing gives.",
            ),
            Wrong(
                lambda: _per_quarter() * _per_degree(),
                "multiplied; you want to know how many times the small step goes into the big one.",
            ),
            Wrong(
                lambda: _per_degree() / _per_quarter(),
                "upside down: the big step over the small one is asked.",
            ),
        ),
        (
            "First the launch angle that a quarter of an inch brings, then what one degree of swing brings.",
            "Divide the first by the second.",
        ),
        lambda: (
            f"A quarter of an inch brings {_per_quarter():.1f} degrees of launch, one degree of swing brings "
            f"{_per_degree():.2f}; so it takes {_per_quarter() / _per_degree():.1f} degrees of swing."
        ),
        "about seven degrees: another swing altogether does no more than a quarter of an inch does.",
        minutes=5,
    ),
    Exercise(
        "06.times-as-many",
        "compute",
        Number(lambda: _home_runs(16) / _home_runs(6), tolerance=0.06),
        (
            Wrong(
                lambda: _per_ball_in_play(16) / _per_ball_in_play(6),
                "that is per ball in play: the steep swing's many misses are gone.",
            ),
            Wrong(
                lambda: _home_runs(6) / _home_runs(16), "upside down: the steep swing goes above the line."
            ),
            Wrong(
                lambda: _home_runs(16) - _home_runs(6), "that is the difference; 'times as many' is a ratio."
            ),
        ),
        (
            'The shares are per swing: margins[16].shares["home run"], and the other one.',
            "Sixteen degrees above the line, six below.",
        ),
        lambda: (
            f"{_home_runs(16):.3f} of the swings at 16 degrees and {_home_runs(6):.3f} of those at 6 go out: "
            f"{_home_runs(16) / _home_runs(6):.2f} times as many."
        ),
        "and it misses more often, too. Which is better depends on what a home run brings and a whiff costs.",
        minutes=4,
    ),
    Exercise(
        "06.steeper-than-the-rest",
        "fault",
        Choice(
            "b",
            {
                "a": "the correlation is too small to count",
                "b": "it compares hitters with each other; it does not say what one hitter gets from a "
                "new swing",
                "c": "launch angles cannot be averaged",
                "d": "nothing: five degrees more swing is five degrees more launch",
            },
        ),
        (
            Wrong("a", "it is not small at all. Ask what was compared with what."),
            Wrong("c", "they can; an average over hundreds of balls is a fine number."),
            Wrong(
                "d", "in 'Look' one degree of swing brought less than one degree of launch even in one ball."
            ),
        ),
        (
            "Each dot of that study is one hitter. What differs between two hitters besides the swing?",
            "Hitters who swing up may also choose other pitches and aim elsewhere.",
        ),
        "The study is between hitters. The advice is about one hitter who changes. Two hitters differ "
        "in what "
        "they swing at, where they aim and how hard they swing, and one hitter who swings up changes his "
        "timing's margin as well.",
        "between people and within a person are two questions. Watch which one the numbers answer.",
        minutes=4,
    ),
    Exercise(
        "06.bus-and-walk",
        "transfer",
        Number(2**2 / (8**2 + 2**2), tolerance=0.0015, share=True),
        (
            Wrong(2 / 10, "spreads do not add, their squares do: square both first."),
            Wrong(
                2 / 8,
                "that sets one spread against the other. The whole is wanted below the line, in squares.",
            ),
            Wrong(4 / 64, "below the line goes the whole, not only the bus."),
            Wrong(64 / 68, "that is the bus."),
        ),
        (
            "Square the two spreads; the squares add up.",
            "4 over the sum of 64 and 4.",
        ),
        "The squares are 4 and 64; the walk's share is 4 over 68, about .059.",
        "whoever wants to be punctual should look at the bus, not at her shoes.",
        minutes=4,
    ),
    Exercise(
        "06.share-of-the-aim",
        "compute",
        Number(lambda: held_still(2.0).goes["miss"], tolerance=0.01, share=True),
        (
            Wrong(
                lambda: held_still().goes["miss"], "that is for an aim that spreads by an inch and a half."
            ),
            Wrong(lambda: held_still(2.0).goes["attack"], "that is the swing's angle."),
            Wrong(lambda: held_still(2.0).goes["timing"], "that is the timing."),
            Wrong(
                lambda: held_still(2.0).offset_share,
                "that is the place where bat and ball met, whatever brought them there.",
            ),
        ),
        (
            "Make a Scatter with an aim of 2.0 and the other three as in SCATTER.",
            'hold_still(..., swing=HITTER, aim_in=AIM_IN, swings=20_000).goes["miss"]',
        ),
        lambda: f"With the aim goes {held_still(2.0).goes['miss']:.2f} of the variance.",
        "the worse the aim, the more there is to gain from it; even so most of the spread has other causes.",
        minutes=3,
        core=False,
    ),
)

LESSON = Lesson(
    "06",
    "Strike under the middle",
    _verdict,
    "From swing to swing, where the ball is struck explains far more of the launch angle than how the "
    "bat climbs, in this model and for all scatter that was tried.",
    EXERCISES,
)
