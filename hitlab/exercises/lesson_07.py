"""Lesson 7, follow the ball: speed, angle, air, and how far a ball carries."""

from __future__ import annotations

from functools import cache

import numpy as np

from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.physics.air import air_density
from hitlab.physics.flight import Conditions, fly

__all__ = ["BACKSPIN_RPM", "LESSON", "best_angle", "carry"]

BACKSPIN_RPM = 2000.0
"""Backspin of the lesson's balls: near the average of a fly ball (2,237 rpm at 25 degrees to centre field in
Nathan's model, as quoted)."""


def carry(
    exit_mph: float, launch_deg: float, *, density_kg_m3: float = 1.194, wind_out_mph: float = 0.0
) -> float:
    """Return how far a ball carries, in feet."""
    where = Conditions(density_kg_m3=density_kg_m3, wind_out_mph=wind_out_mph)
    return float(fly(exit_mph, launch_deg, 0.0, BACKSPIN_RPM, conditions=where).carry_ft)


@cache
def best_angle(exit_mph: float, density_kg_m3: float = 1.194) -> float:
    """Return the launch angle that carries farthest, to a quarter of a degree."""
    angles = np.arange(10, 60.01, 0.25)
    where = Conditions(density_kg_m3=density_kg_m3)
    spin = BACKSPIN_RPM if density_kg_m3 else 0.0
    return float(angles[fly(exit_mph, angles, 0.0, spin, conditions=where).carry_ft.argmax()])


def _up_high() -> float:
    return float(air_density(5000.0, 70.0, 50.0))


def _verdict() -> str:
    return "holds" if abs(best_angle(100.0) - 45) < 3 else "does not hold"


EXERCISES = (
    Exercise(
        "07.best-angle",
        "predict",
        Bounds(lambda: best_angle(90.0), widest=6),
        (
            Wrong(
                (43, 47),
                "that is the school-book answer, for a stone in a vacuum. Air slows the ball all the way.",
                when=lambda ends: ends[0] >= 38,
            ),
            Wrong(
                (10, 16),
                "that is a line drive. It is in the air for too short a time to go far.",
                when=lambda ends: ends[1] <= 22,
            ),
        ),
        (
            "In 'Look' the ball at 100 miles an hour went farthest at about 30 degrees.",
            "A slower ball has less lift and wants to be a little steeper than a fast one.",
        ),
        lambda: f"At 90 miles an hour the farthest ball leaves at about {best_angle(90.0):.0f} degrees.",
        "a degree or two more than the fast ball, and far below 45.",
        minutes=3,
    ),
    Exercise(
        "07.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "feet per game",
                "b": "feet per home run",
                "c": "average feet over all the balls she hit in the air",
                "d": "feet of her longest ball",
            },
        ),
        (
            Wrong("a", "that grows with the number of balls that she happens to hit in a game."),
            Wrong(
                "b",
                "home runs are picked because they went far; a wind that kills drives leaves no trace "
                "in them.",
            ),
            Wrong("d", "one ball is an anecdote, and the longest of many is picked because it was long."),
        ),
        (
            "Which balls could have been helped or hurt by the air, and are all of them counted?",
            "Count every ball that flew, not only those that cleared something.",
        ),
        "The question is about what the air does to a ball that she hits up. All such balls belong "
        "below the line.",
        "whoever counts only what cleared the fence has already let the wind choose.",
        minutes=3,
    ),
    Exercise(
        "07.feet-per-mile",
        "compute",
        Number(lambda: carry(101, 28) - carry(100, 28), tolerance=0.25),
        (
            Wrong(
                lambda: carry(100, 28) / 100,
                "that is the whole carry over the whole speed. Asked is what one more mile an hour adds.",
            ),
            Wrong(lambda: carry(110, 28) - carry(100, 28), "that is for ten miles an hour."),
        ),
        (
            "Work out the carry at 101 and at 100 miles an hour, at 28 degrees.",
            "Subtract the two.",
        ),
        lambda: (
            f"{carry(101, 28):.1f} less {carry(100, 28):.1f} is {carry(101, 28) - carry(100, 28):.1f} ft."
        ),
        "about five feet a mile an hour. Ten more miles an hour turn a caught ball into a home run.",
        minutes=4,
    ),
    Exercise(
        "07.mountain-air",
        "compute",
        Number(
            lambda: carry(100, 28, density_kg_m3=_up_high()) - carry(100, 28),
            tolerance=0.7,
        ),
        (
            Wrong(
                lambda: carry(100, 28) * (1.194 / _up_high() - 1),
                "carry does not grow as the air thins, step for step: drag is only part of what stops "
                "the ball, and "
                "thin air lifts less too.",
            ),
            Wrong(
                lambda: carry(100, 28, density_kg_m3=_up_high()),
                "that is the carry up there. Asked is how much farther.",
            ),
            Wrong(
                lambda: carry(100, 28, density_kg_m3=0.0) - carry(100, 28),
                "that is without any air at all.",
            ),
        ),
        (
            "First air_density(5000, 70, 50), then fly with Conditions(density_kg_m3=...).",
            "Subtract the carry at sea level, Conditions() without anything.",
        ),
        lambda: (
            f"The density is {_up_high():.3f} kg/m3; the ball carries "
            f"{carry(100, 28, density_kg_m3=_up_high()):.0f} ft against {carry(100, 28):.0f}."
        ),
        "a good twenty feet: the same swing, another park. Compare hitters only after the air is taken out.",
        minutes=5,
    ),
    Exercise(
        "07.hardest-ball",
        "fault",
        Choice(
            "c",
            {
                "a": "no ball can go 440 feet",
                "b": "the exit speed must have been read wrong",
                "c": "the angle is left out: at 8 degrees the same ball comes down long before the fence",
                "d": "nothing; speed is all that counts",
            },
        ),
        (
            Wrong("a", "they can, and do, at the right angle."),
            Wrong("b", "the radar is fine. What else decides how far a ball goes?"),
            Wrong(
                "d", "look at the picture: one curve a speed, and every curve rises and falls with the angle."
            ),
        ),
        (
            "Follow one curve in the picture of 'Look' from left to right.",
            "Where does a curve stand at 8 degrees?",
        ),
        lambda: (
            f"A ball at 105 miles an hour carries {carry(105, 28):.0f} ft at 28 degrees and "
            f"{carry(105, 8):.0f} ft at 8. "
            "The paper took the first number for the second ball."
        ),
        "it takes both, the speed and the angle.",
        minutes=4,
    ),
    Exercise(
        "07.swimmers",
        "transfer",
        Number(5 / 1.25, tolerance=0.05),
        (
            Wrong(5 * 1.25, "multiplied: how many tenths of a second fit into the gap?"),
            Wrong(1.25 / 5, "upside down: the gap goes above the line."),
            Wrong(5 - 1.25, "subtracted; you want to know how many times the small step goes into the gap."),
        ),
        (
            "One unit of cause, so much effect. How many units for the gap?",
            "5 seconds over 1.25 seconds a suit.",
        ),
        "5 over 1.25 is 4: she would have to swim four grades faster to make up for the pool.",
        "before you praise the swimmer, take out the pool.",
        minutes=3,
    ),
    Exercise(
        "07.headwind",
        "compute",
        Number(
            lambda: carry(100, 28) - carry(100, 28, wind_out_mph=-10.0),
            tolerance=0.8,
        ),
        (
            Wrong(
                lambda: carry(100, 28, wind_out_mph=10.0) - carry(100, 28), "that is the wind from behind."
            ),
            Wrong(
                lambda: carry(100, 28) - carry(90, 28),
                "that takes the wind off the ball's speed. The ball loses only what the air drags off "
                "it on the way.",
            ),
        ),
        (
            "Conditions(wind_out_mph=-10) is a wind of ten miles an hour against the ball.",
            "Carry without wind less carry with it.",
        ),
        lambda: f"{carry(100, 28):.0f} ft without wind, {carry(100, 28, wind_out_mph=-10.0):.0f} against it.",
        "some forty feet, if the wind blows like that all the way; a flag tells less than that.",
        minutes=4,
        core=False,
    ),
)

LESSON = Lesson(
    "07",
    "Follow the ball",
    _verdict,
    "Air slows the ball all the way, and backspin holds it up; the farthest ball leaves well below 45 "
    "degrees.",
    EXERCISES,
)
