"""Lesson 6, strike under the middle: launch angle, and how much of it is the swing's own angle."""

from __future__ import annotations

from functools import cache

from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.physics.margin import LaunchShares, Margin, Scatter, launch_shares, swing_margin
from hitlab.physics.one_swing import Swing, aim_for_launch, swing_outcomes

__all__ = ["LESSON", "SCATTER", "margin_of", "shares"]

SCATTER = Scatter(miss_in=1.0, timing_ms=10.0, attack_deg=3.0)
"""The lesson's hitter from swing to swing; an illustration, no published figure was found."""


@cache
def margin_of(attack_deg: float) -> Margin:
    """Return what becomes of 20,000 swings of one attack angle, aimed at a launch angle of 15 degrees."""
    swing = Swing(attack_deg=attack_deg)
    aim = aim_for_launch(15, swing=swing)
    return swing_margin(swing=swing, scatter=SCATTER, aim_in=aim, swings=20_000)


@cache
def shares() -> LaunchShares:
    """Return each source's share of the spread in launch angle, from swing to swing of one hitter."""
    return launch_shares(SCATTER.miss_in, SCATTER.timing_ms, SCATTER.attack_deg)


def _launch(miss_in: float, attack_deg: float) -> float:
    return float(swing_outcomes(miss_in, 0.0, attack_deg).launch_deg)


def _per_tenth() -> float:
    return _launch(0.45, 6) - _launch(0.35, 6)


def _per_degree() -> float:
    return (_launch(0.4, 11) - _launch(0.4, 1)) / 10


def _per_quarter() -> float:
    return _launch(0.525, 6) - _launch(0.275, 6)


def _home_runs(attack_deg: float) -> float:
    return margin_of(attack_deg).shares["home run"]


def _per_ball_in_play(attack_deg: float) -> float:
    played = margin_of(attack_deg).shares
    return played["home run"] / (1 - played["whiff"] - played["foul"])


def _verdict() -> str:
    found = shares()
    return "holds" if found.angle_total_share > found.miss_total_share else "does not hold"


EXERCISES = (
    Exercise(
        "06.tenth-of-an-inch",
        "predict",
        Bounds(_per_tenth, widest=1.5),
        (
            Wrong(
                (0.2, 1.2),
                "that little? The ball is round and small, so its surface turns away quickly under the bat.",
                when=lambda ends: ends[1] < 2,
            ),
            Wrong(
                (9, 10),
                "that much would mean that a quarter of an inch turns a line drive into a pop-up. It takes "
                "more than half an inch.",
                when=lambda ends: ends[0] > 5,
            ),
        ),
        (
            "In the table of 'Look', a quarter of an inch changes the launch angle by seven or eight "
            "degrees.",
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
        Number(lambda: _per_quarter() / _per_degree(), tolerance=0.45),
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
        "about ten degrees: a wholly different swing does no more than a quarter of an inch does.",
        minutes=5,
    ),
    Exercise(
        "06.times-as-many",
        "compute",
        Number(lambda: _home_runs(6) / _home_runs(24), tolerance=0.06),
        (
            Wrong(
                lambda: _per_ball_in_play(6) / _per_ball_in_play(24),
                "that is per ball in play: the uppercut's many misses are gone.",
            ),
            Wrong(lambda: _home_runs(24) / _home_runs(6), "upside down: level over uppercut is asked."),
            Wrong(
                lambda: _home_runs(6) - _home_runs(24), "that is the difference; 'times as many' is a ratio."
            ),
        ),
        (
            'The shares are per swing: margins["uppercut"].shares["home run"], and the other one.',
            "Level with the pitch above the line, uppercut below.",
        ),
        lambda: (
            f"{_home_runs(6):.3f} of the level swings and {_home_runs(24):.3f} of the uppercuts go out: "
            f"{_home_runs(6) / _home_runs(24):.2f} times as many."
        ),
        "and both were aimed at the same launch angle. What differs is how much error each swing forgives.",
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
        Number(lambda: float(shares().miss_total_share), tolerance=0.006, share=True),
        (
            Wrong(
                lambda: float(shares().miss_share), "that is the aim by itself, without what it does jointly."
            ),
            Wrong(lambda: float(shares().angle_total_share), "that is the swing's angle."),
            Wrong(lambda: float(shares().timing_total_share), "that is the timing."),
        ),
        (
            "Call launch_shares with the three spreads: launch_shares(1.0, 10.0, 3.0).",
            "The field is called miss_total_share.",
        ),
        lambda: f"launch_shares(1.0, 10.0, 3.0).miss_total_share is {float(shares().miss_total_share):.3f}.",
        "nearly all of the spread would go if only the aim were perfect.",
        minutes=3,
        core=False,
    ),
)

LESSON = Lesson(
    "06",
    "Strike under the middle",
    _verdict,
    "From swing to swing, where the ball is struck explains far more of the launch angle than how the "
    "bat climbs.",
    EXERCISES,
)
