"""Lesson 3, check a claim: record and underlying rate, verdicts with fixed bounds, and searches."""

from __future__ import annotations

from functools import cache

import numpy as np

import hitlab
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.estimates.ranking import chance_of_top
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.wording import percent

__all__ = ["LESSON", "MINIMUM", "chance_best", "season"]

MINIMUM = 150
"""Swings that a hitter needs to be on the lesson's list."""

THE_HITTER = "Nadia Izezno"
THE_OTHER = "Alenka Larkditch"
VALUE = 0.15
FUNDS, YEARS = 320, 6


@cache
def season() -> hitlab.Counts:
    """Return the counts of the demo season, one row a hitter."""
    return hitlab.tally(hitlab.demo_season())


@cache
def chance_best() -> float:
    """Return the chance that the lesson's hitter truly has the highest rate.

    As ``check_leads`` works it out, without the rest of its answer, which takes longer.
    """
    fit = hitlab.shrink(season(), "hard", "swings")
    compared = np.flatnonzero(fit.exposure >= MINIMUM)
    names = fit.data["hitter"].to_numpy()[compared]
    return float(chance_of_top(fit.posterior.only(compared), 1)[names == THE_HITTER][0])


@cache
def _above(hitter: str, value: float) -> float:
    chance = hitlab.check_above(season(), hitter, value).chance
    assert chance is not None  # it is one only for a record
    return chance


def _verdict() -> str:
    return verdict_on(chance_best(), HOLDS_AT, FAILS_AT)


EXERCISES = (
    Exercise(
        "03.first-and-best",
        "predict",
        Bounds(lambda: 100 * chance_best(), widest=20),
        (
            Wrong(
                (80, 99),
                "that takes the list for the truth. Remember who led after few swings in lesson 2, and that "
                "more than a hundred others are being compared with her.",
                when=lambda ends: ends[0] >= 60,
            ),
            Wrong(
                (50, 59),
                "for that she would have to be a better bet than all others together. Her lead over the next "
                "is small beside the intervals.",
                when=lambda ends: 45 <= ends[0] < 60,
            ),
            Wrong(
                (0, 2),
                "that is one in 103, as if we had not looked at all. Her record does tell something.",
                when=lambda ends: ends[1] < 5,
            ),
        ),
        (
            "Look at the intervals in the list: how many of the others reach up to her rate?",
            "She is the likeliest of all, but all others together are likelier than she is.",
        ),
        lambda: (
            f"check_leads gives {percent(chance_best())}: the chance that after a million swings of all "
            "she would still be first."
        ),
        "to be the likeliest to be best is not the same as to be best.",
        minutes=3,
    ),
    Exercise(
        "03.one-in-three",
        "denominator",
        Choice("d", {"a": "pitches", "b": "swings", "c": "balls in play", "d": "plate appearances"}),
        (
            Wrong("a", "she sees several pitches each time she steps up. The sentence counts the times."),
            Wrong("b", "she may swing three times in one turn, or not at all. The sentence counts turns."),
            Wrong("c", "that leaves out every turn that ends with a strikeout or a walk."),
        ),
        (
            "What follows 'whenever' in the sentence?",
            "One time of stepping up to the plate has a name; it stands among the new words.",
        ),
        "'Whenever she steps up' is each plate appearance: what follows 'whenever' goes below the line.",
        "the same hitter is at one in five and at one in three; both are right. Say which one you mean.",
        minutes=2,
    ),
    Exercise(
        "03.above-it",
        "compute",
        Number(lambda: _above(THE_OTHER, VALUE), tolerance=0.011, share=True),
        (
            Wrong(
                lambda: 1 - _above(THE_OTHER, VALUE),
                "that is the chance that she is below it.",
            ),
            Wrong(lambda: _above(THE_HITTER, VALUE), "that is Nadia's chance. Put in the other name."),
            Wrong(lambda: _above(THE_OTHER, 0.16), "that is for .160; the question asks for .150."),
            Wrong(
                1.0,
                "that is settled for the record: she has been above it. Whether she truly is has a chance.",
            ),
        ),
        (
            "Which of the checks takes a hitter and a value?",
            'hitlab.check_above(counts, "Alenka Larkditch", 0.15), and then its .chance',
        ),
        lambda: (
            f"hitlab.check_above(counts, 'Alenka Larkditch', 0.15).chance is {_above(THE_OTHER, VALUE):.2f}. "
            f"With the usual bounds that is: {verdict_on(_above(THE_OTHER, VALUE), HOLDS_AT, FAILS_AT)}."
        ),
        "with the bounds that were fixed before, you now know whether it may go on air.",
        minutes=4,
    ),
    Exercise(
        "03.twenty-looks",
        "compute",
        Number(1 - 0.9**20, tolerance=0.006, share=True),
        (
            Wrong(0.9**20, "that is the chance that none of the 20 strikes him."),
            Wrong(0.1, "that is for one look. He looked 20 times."),
            Wrong(1 - 0.9**10, "that is for ten looks."),
            Wrong(1.0, "nearly, but he may be lucky. Chances of independent looks are not added."),
            Wrong(0.9, "that is the chance that one single look is not fooled."),
        ),
        (
            "Ask first for the chance that none of the looks is fooled.",
            "One look is not fooled with 0.9, two looks with 0.9 * 0.9. Go on to 20, and take it from 1.",
        ),
        "None of 20 is fooled with a chance of 0.9 to the power of 20, about .12; at least one: about .88.",
        "who looks often enough always finds something. Counting the looks is part of the claim.",
        minutes=4,
    ),
    Exercise(
        "03.cutters",
        "fault",
        Choice(
            "c",
            {
                "a": "the rate should be per ball in play",
                "b": "the list has a minimum of 20 swings, and it should be 25",
                "c": "the chance is that of a hitter and a pitch named beforehand; he was found by a search",
                "d": "cutters are easier to hit than other pitches",
            },
        ),
        (
            Wrong("a", "the newsletter speaks of his swings and divides by them. That part is in order."),
            Wrong("b", "with 25 another pair would be on top, found in the same way. That is the point."),
            Wrong("d", "even if they were: it would help all hitters alike, not him alone."),
        ),
        (
            "How many pairs did the writer go through before he chose this one?",
            "If each of some hundred pairs has one chance in a few hundred, how many will come up?",
        ),
        "One in a hundred is rare for a pair that was named beforehand. Among many hundred pairs of a hitter "
        "and a pitch some such turn up by luck alone, and the search picks just these.",
        "the best of many is always striking. Ask what was looked at, not only what was found.",
        minutes=5,
    ),
    Exercise(
        "03.six-good-years",
        "transfer",
        Number(FUNDS / 2**YEARS, tolerance=0),
        (
            Wrong(1 / 2**YEARS, "that is the chance of one fund named beforehand. There are 320 of them."),
            Wrong(FUNDS / YEARS, "six years in a row halve the number six times; do not divide by six."),
            Wrong(FUNDS / 2, "those are left after the first year. Five more tosses follow."),
            Wrong(0, "rare for one, but 320 are trying."),
            Wrong(1, "with 64 funds you would expect one. There are more."),
        ),
        (
            "After one year half of the funds are left, after two years a quarter.",
            "320 times one in 64.",
        ),
        "320 / 64 is 5: five funds with six good years, and none of them knows anything.",
        "the advertisement shows one of the five. The other 315 do not advertise.",
        minutes=4,
    ),
    Exercise(
        "03.safe-to-say",
        "fault",
        Choice(
            "c",
            {
                "a": "The numbers prove it: nobody beats Nadia Izezno.",
                "b": "Nadia Izezno is probably not the best, so the list is wrong.",
                "c": "Nadia Izezno leads the list today; whether she is the best, it is too early to say.",
                "d": "Numbers cannot tell anything about hitters.",
            },
        ),
        (
            Wrong("a", "the record proves that she leads the record. For the rest the chance is too small."),
            Wrong("b", "the list is right about what it counts. It was asked the wrong question."),
            Wrong("d", "they tell that she leads, and that she is better than the usual hitter."),
        ),
        (
            "Two questions, two answers: record and underlying rate. Which sentence keeps them apart?",
            "One of the four gives the record as a fact and leaves the rest open.",
        ),
        "The record holds and is said as a fact; the underlying claim is open and is said as open.",
        "a sentence that says what is not known is stronger than one that has to be taken back.",
        minutes=3,
        core=False,
    ),
)

LESSON = Lesson(
    "03",
    "Check a claim",
    _verdict,
    "She leads the record, but the chance that she is truly the best lies between the two bounds.",
    EXERCISES,
)
