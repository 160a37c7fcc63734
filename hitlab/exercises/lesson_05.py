"""Lesson 5, name the leader: whoever is picked because he leads was lucky, and by how much."""

from __future__ import annotations

from functools import cache

import numpy as np

import hitlab
from hitlab.estimates.ranking import Ranks
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.wording import percent, rate_text

__all__ = ["LESSON", "MINIMUM", "in_order", "season", "second_throw"]

MINIMUM = 150
"""Swings that a hitter needs to be on the lesson's list."""

THE_HITTER = "Kerstin Ravbeck"
CLAIMED = 5 / 6

THROWERS, DICE, PARTIES, SEED = 200, 60, 2_000, 5  # people at a party who throw dice; parties
LEAGUES, RIGHT = 2_000, 417  # of the exercise with these numbers in its text
CONTACT, SWINGS, MEAN, HALF_WEIGHT = 90, 100, 0.740, 200
FUNDS, YEARS = 512, 7


@cache
def season() -> hitlab.Counts:
    """Return the counts of the demo season, one row a hitter."""
    return hitlab.tally(hitlab.demo_season())


@cache
def in_order() -> Ranks:
    """Return the ranks of contact per swing, among those with the lesson's minimum."""
    return hitlab.ranks(hitlab.shrink(season(), "contact", "swings"), top=5, minimum=MINIMUM)


@cache
def second_throw() -> float:
    """Return how many sixes the winners of the first throw have in their second one, on average."""
    rng = np.random.default_rng(SEED)
    first = rng.binomial(DICE, 1 / 6, (PARTIES, THROWERS))
    second = rng.binomial(DICE, 1 / 6, (PARTIES, THROWERS))
    winner = first.argmax(axis=1)
    return float(second[np.arange(PARTIES), winner].mean())


def _chance(column: str) -> float:
    table = in_order().table()
    return float(table.loc[table["hitter"] == THE_HITTER, column].iloc[0])


def _corrected(contact: float, swings: float) -> float:
    return (contact + MEAN * HALF_WEIGHT) / (swings + HALF_WEIGHT)


def _excess() -> float:
    return CONTACT / SWINGS - _corrected(CONTACT, SWINGS)


def _verdict() -> str:
    return hitlab.check_above(season(), THE_HITTER, CLAIMED, event="contact").verdict


EXERCISES = (
    Exercise(
        "05.second-throw",
        "predict",
        Bounds(second_throw, widest=4),
        (
            Wrong(
                (17, 20),
                "that is what she had the first time. Do the dice remember?",
                when=lambda ends: ends[0] >= 15,
            ),
            Wrong(
                (12, 15),
                "half way down, as if she were a little better at it. What is there to be good at?",
                when=lambda ends: ends[0] >= 11,
            ),
            Wrong(
                (2, 5),
                "luck does not have to be paid back. Her dice are as good as anybody's.",
                when=lambda ends: ends[1] <= 8,
            ),
        ),
        (
            "What made her win: something of hers that she still has, or the dice?",
            "With 60 dice one sixth are sixes on average. That holds for winners, too.",
        ),
        lambda: f"The dice do not know who won: 60 / 6 is 10, and in the simulation {second_throw():.1f}.",
        "where nobody is better, all that the winner has ahead of the others is luck, and it stays behind.",
        minutes=3,
    ),
    Exercise(
        "05.how-often-right",
        "denominator",
        Choice(
            "a",
            {
                "a": "the 2,000 leaders who were named",
                "b": "all 300,000 hitters of these leagues",
                "c": "the 150 hitters of one league",
                "d": "the 1,583 leaders who were not the best",
            },
        ),
        (
            Wrong("b", "nobody claimed anything about most of those. One hitter a league was named."),
            Wrong("c", "417 of 150 would be more than all of them."),
            Wrong(
                "d", "right against wrong is what bookmakers quote. A share has all claims below the line."
            ),
        ),
        (
            "How many times was the sentence 'the leader is the best' said?",
            "Once in each league.",
        ),
        lambda: (
            f"The sentence was said once a league, {LEAGUES:,} times; {RIGHT} times it was true, "
            f"which is {percent(RIGHT / LEAGUES)}."
        ),
        "to judge a habit of speaking, count every time that it was used.",
        minutes=2,
    ),
    Exercise(
        "05.somebody-else",
        "compute",
        Number(lambda: 1 - _chance("chance_best"), tolerance=0.004, share=True),
        (
            Wrong(lambda: _chance("chance_best"), "that is the chance that she is."),
            Wrong(lambda: _chance("chance_top"), "that is her chance to be among the five best."),
            Wrong(lambda: 1 - _chance("chance_top"), "that is the chance that she is not even among five."),
        ),
        (
            "Her row is in the table `order`. Which column says how likely she is the best?",
            "One less chance_best.",
        ),
        lambda: (
            f"Her chance_best is {percent(_chance('chance_best'))}; what is left of certainty, "
            f"{percent(1 - _chance('chance_best'))}, is everybody else's."
        ),
        "leading the list and probably not being the best go together well.",
        minutes=3,
    ),
    Exercise(
        "05.leaders-excess",
        "compute",
        Number(_excess, tolerance=0.0012, share=True),
        (
            Wrong(
                lambda: _corrected(CONTACT, SWINGS),
                "that is the corrected rate. How far below her record is it?",
            ),
            Wrong(
                CONTACT / SWINGS - MEAN,
                "that is all of the distance to the mean. A hundred swings are worth something.",
            ),
            Wrong(
                lambda: _corrected(CONTACT, SWINGS) - MEAN,
                "that is what is left of her lead over the mean. The question is what was taken off.",
            ),
            Wrong(
                lambda: (CONTACT / SWINGS - MEAN) / 2,
                "that is half of the distance. It would be right after 200 swings.",
            ),
        ),
        (
            "First the corrected rate: her own weight is 100 / (100 + 200).",
            "Record less corrected rate. Two thirds of the distance to the mean go.",
        ),
        lambda: (
            f"Own weight a third: {rate_text(_corrected(CONTACT, SWINGS))} is what to expect, and "
            f"{rate_text(CONTACT / SWINGS)} less that is {rate_text(_excess())}."
        ),
        "that much of her record is the price of having been picked from the top.",
        minutes=4,
    ),
    Exercise(
        "05.higher-bar",
        "fault",
        Choice(
            "b",
            {
                "a": "the minimum should have been counted in games",
                "b": "a higher minimum removes the records that luck moves most, so the top falls by itself",
                "c": "regulars really are worse, because they get tired",
                "d": "the leader with 250 swings cannot be compared with anybody",
            },
        ),
        (
            Wrong(
                "a", "the same would happen. Ask what kind of record is highest when few swings are enough."
            ),
            Wrong("c", "nobody's rate was changed here. Only the list of those who may lead it was."),
            Wrong("d", "he can be compared with everybody on his list, and better than the others can."),
        ),
        (
            "In the simulation nobody with few swings is better. Did the leader's rate fall all the same?",
            "Which records reach very high: those with 60 swings or those with 600?",
        ),
        "With few swings allowed, somebody was lucky enough to be very high. A higher minimum removes him. "
        "Who is better cannot be read from it.",
        "the leader's rate says as much about the minimum as about the leader.",
        minutes=4,
    ),
    Exercise(
        "05.fund-of-the-year",
        "transfer",
        Number(FUNDS / 2**YEARS, tolerance=0),
        (
            Wrong(0, "with one fund it would be next to nothing. Here are 512 that try."),
            Wrong(1 / 2**YEARS, "that is the chance of one of them. How many are there?"),
            Wrong(
                FUNDS / (2 * YEARS), "the chances are multiplied year by year: a half of a half of a half."
            ),
            Wrong(FUNDS / 2, "that many are left after the first year. Six more years follow."),
            Wrong(1, "that is the one in the advertisement. How many would there be on average?"),
        ),
        (
            "After one year half of the 512 are left, after two years half of those.",
            "Halve 512 seven times.",
        ),
        "512, 256, 128, 64, 32, 16, 8, 4: on average four funds beat the others seven years running, "
        "by coin.",
        "before you admire the winner, ask how many played.",
        minutes=4,
    ),
    Exercise(
        "05.tie",
        "compute",
        Number(lambda: _corrected(400, 500) - _corrected(120, 150), tolerance=0.0008, share=True),
        (
            Wrong(0, "the records are equal. What to expect of the two is not."),
            Wrong(
                lambda: _corrected(120, 150) - _corrected(400, 500),
                "the other way round: who has more swings keeps more of his lead over the mean.",
            ),
            Wrong(
                lambda: _corrected(400, 500), "that is the rate of the one with 500. Take the other's off."
            ),
            Wrong(
                lambda: 500 / 700 - 150 / 350,
                "that is the difference of their weights. Multiply by the distance to the mean.",
            ),
        ),
        (
            "Work out both corrected rates: (contact + .740 * 200) / (swings + 200).",
            "548 / 700 less 268 / 350.",
        ),
        lambda: (
            f"{rate_text(_corrected(400, 500))} for the one with 500 swings, "
            f"{rate_text(_corrected(120, 150))} for the other."
        ),
        "a tie in the record is broken by the number of swings, if one has to bet.",
        minutes=5,
        core=False,
    ),
)

LESSON = Lesson(
    "05",
    "Name the leader",
    _verdict,
    "She leads, and her record is right; but she was picked because it is high, so luck is in it.",
    EXERCISES,
)
