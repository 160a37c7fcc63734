"""Lesson 1, count every swing: what is asked, what is right, and what people mix up."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pandas as pd

import hitlab
from hitlab.exercises.definitions import Again, Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.wording import percent, rate_text

__all__ = ["AT_BAT", "LESSON", "MINIMUM", "season"]

MINIMUM = 150
"""Swings that a hitter needs to be on the lesson's lists."""

THE_HITTER = "Hana Falandra"
THE_OTHER = "Nadia Izezno"
THE_SECOND = "Zoë Quarmoor"

AT_BAT = pd.DataFrame(
    {
        "hitter": "Odile Farrowmere",
        "outcome": ["whiff", "ball", "foul tip", "foul", "ball", "foul", "in play"],
        "bunt": [True, False, False, False, False, False, False],
        "check_swing": [False, True, False, False, True, False, False],
        "strikes": [0, 1, 1, 2, 2, 2, 2],
    }
)


@cache
def season() -> hitlab.Counts:
    """Return the counts of the demo season, one row a hitter."""
    return hitlab.tally(hitlab.demo_season())


@cache
def _table() -> pd.DataFrame:
    return hitlab.counting.denominators(season(), "hard", minimum=MINIMUM).table().set_index("hitter")


def _row(hitter: str) -> dict[str, Any]:
    return {str(name): value for name, value in _table().loc[hitter].items()}


def _rate(hitter: str, per: str) -> float:
    return float(_row(hitter)[f"per_{per}"])


def _count(hitter: str, name: str) -> int:
    return int(_row(hitter)[name])


def _in_play_per_swing(hitter: str) -> float:
    return float(_row(hitter)["in_play"] / _row(hitter)["swings"])


def _in_both_tens() -> float:
    table = _table()
    return float(np.sum((table["rank_in_play"] <= 10) & (table["rank_swings"] <= 10)))


def _verdict() -> str:
    return hitlab.check_leads(season(), THE_HITTER, about="record", minimum=MINIMUM).verdict


EXERCISES = (
    Exercise(
        "01.both-lists",
        "predict",
        Bounds(_in_both_tens, widest=3),
        (
            Wrong(
                (9, 10),
                "that would mean that both lists tell nearly the same story. Think of a hitter who misses "
                "often and hits the rest hard: one list never sees the misses.",
                when=lambda ends: ends[0] >= 8,
            ),
            Wrong(
                (0, 1),
                "that would mean that the two lists have nothing to do with each other. But the same hard "
                "balls stand on top of both fractions.",
                when=lambda ends: ends[1] <= 2,
            ),
        ),
        (
            "Both lists have the same hard balls on top. Only what they are divided by differs.",
            "Somewhat more than half of the names are shared.",
        ),
        "Count the hitters whose rank is 10 or better in both columns of the table.",
        "the lists share some names, not all. Who is on top depends on what you divide by.",
        minutes=3,
    ),
    Exercise(
        "01.count-the-swings",
        "compute",
        Number(lambda: float(hitlab.tally(AT_BAT).column("swings")[0]), tolerance=0),
        (
            Wrong(1, "that is the balls in play. Fouls and foul tips are swings too."),
            Wrong(5, "close: the first pitch was a bunt attempt, and a bunt is not a swing."),
            Wrong(
                7,
                "that is every pitch. A pitch that is let go is no swing, and a held check swing is let go.",
            ),
            Wrong(3, "one short: a foul tip is a swing too; the bat came round."),
            Wrong(6, "held check swings are not swings: the bat started, and stopped in time."),
        ),
        (
            "Go through the pitches one by one and ask: did the bat go all the way, and was it no bunt?",
            "The held check swings and the bunt do not count. Fouls, the foul tip and the ball in play do.",
        ),
        "Foul tip, foul, foul, in play: four swings. The missed bunt has its own count, and the two held "
        "check swings are balls.",
        "now you count as the ledger does: whiffs, fouls, foul tips, balls in play, without bunts.",
        minutes=4,
    ),
    Exercise(
        "01.which-denominator",
        "denominator",
        Choice(
            "b",
            {
                "a": "balls in play",
                "b": "swings",
                "c": "plate appearances (turns at bat)",
                "d": "hits",
            },
        ),
        (
            Wrong("a", "then a swing that misses costs her nothing, and this pitcher lives on misses."),
            Wrong("c", "that mixes in how often she swings at all. The question begins when the bat starts."),
            Wrong("d", "a hit is a hit whether it was struck hard or not, and hard balls get caught."),
        ),
        (
            "Read the question again and underline the word after 'each time she'.",
            "Whatever follows 'each time' goes below the line.",
        ),
        "The question says 'each time she swings'. What comes after 'each time' is the denominator.",
        "what follows 'each time' in a question goes below the line.",
        minutes=2,
    ),
    Exercise(
        "01.hard-per-swing",
        "compute",
        Number(lambda: _rate(THE_OTHER, "swings"), tolerance=0.0006, share=True),
        (
            Wrong(
                lambda: _rate(THE_OTHER, "in_play"),
                "that is per ball in play: her whiffs and fouls are missing below the line.",
            ),
            Wrong(
                lambda: _rate(THE_OTHER, "contact"),
                "that is per contact: her whiffs are missing below the line.",
            ),
            Wrong(
                lambda: _rate(THE_OTHER, "pitches"),
                "that is per pitch: pitches she let go are below the line.",
            ),
            Wrong(lambda: _rate(THE_OTHER, "plate_appearances"), "that is per plate appearance."),
            Wrong(
                lambda: 1 / _rate(THE_OTHER, "swings"),
                "upside down: that is how many swings she needs for one hard ball.",
            ),
        ),
        (
            "Hard balls above the line, swings below it. Both are in her row of the table.",
            'Try row["hard"] / row["swings"].',
        ),
        lambda: (
            f"Her row says {_count(THE_OTHER, 'hard')} hard balls and {_count(THE_OTHER, 'swings')} swings; "
            f"the first over the second is {rate_text(_rate(THE_OTHER, 'swings'))}."
        ),
        "about one swing in five. That is what a seat behind the plate sees.",
        minutes=4,
    ),
    Exercise(
        "01.of-the-time",
        "fault",
        Choice(
            "c",
            {
                "a": "the ranking is wrong: she is not second on that list",
                "b": "she has too few swings to be on any list",
                "c": "'of the time' sounds like every swing, but the number leaves out her whiffs and fouls",
                "d": "hard balls that were caught should not count",
            },
        ),
        (
            Wrong("a", "the ranking is right, on the list that was used. Check what the list divides by."),
            Wrong("b", "she has more than 300 swings. That leaves doubt, but it is not what is wrong here."),
            Wrong("d", "whether it was caught is another question. Hard is about the bat, not the glove."),
        ),
        (
            "Look her up in the table and find the column in which her number stands.",
            "Ask: 46 % of what?",
        ),
        lambda: (
            f"The {percent(_rate(THE_SECOND, 'in_play'))} is per ball in play. Per swing she is at "
            f"{rate_text(_rate(THE_SECOND, 'swings'))}. 'Of the time' is a denominator in disguise."
        ),
        "whenever you hear 'of the time', ask: of which time?",
        minutes=4,
    ),
    Exercise(
        "01.job-letters",
        "transfer",
        Number(3 / 80, tolerance=0.0006, share=True),
        (
            Wrong(0.75, "that is per interview. The 76 letters without an answer are the whiffs here."),
            Wrong(0.05, "that is interviews per letter; the question asks for offers."),
            Wrong(80 / 3, "upside down: that is how many letters she needs for one offer."),
            Wrong(0.2, "that is the other one's number: 4 offers for 20 letters."),
        ),
        (
            "Which event in this story is the swing?",
            "Each letter is a swing. An interview is only a ball in play.",
        ),
        "3 offers for 80 letters is .0375, against 4 for 20, which is .200. "
        "Per interview it looked the other way round.",
        "the same trap: success among those that got through forgets all that did not.",
        minutes=4,
    ),
    Exercise(
        "01.swap-the-factors",
        "compute",
        Number(
            lambda: _in_play_per_swing(THE_OTHER) * _rate(THE_HITTER, "in_play"), tolerance=0.0015, share=True
        ),
        (
            Wrong(
                lambda: _in_play_per_swing(THE_HITTER) * _rate(THE_OTHER, "in_play"),
                "the other way round: that is Nadia's hard balls with Hana's contact.",
            ),
            Wrong(lambda: _rate(THE_HITTER, "swings"), "that is Hana as she is. Swap the first factor."),
            Wrong(lambda: _rate(THE_OTHER, "swings"), "that is Nadia as she is. Keep Hana's second factor."),
            Wrong(
                lambda: _in_play_per_swing(THE_OTHER) + _rate(THE_HITTER, "in_play"),
                "the factors are multiplied, not added.",
            ),
        ),
        (
            "Rate per swing = (in play per swing) times (hard per ball in play). Take one factor from each.",
            "Nadia's in play per swing, times Hana's hard per ball in play.",
        ),
        lambda: (
            f"Nadia puts {rate_text(_in_play_per_swing(THE_OTHER))} of her swings in play, and "
            f"{rate_text(_rate(THE_HITTER, 'in_play'))} of Hana's balls in play are hard; multiply the two."
        ),
        "all that Hana lacks to lead is getting the ball into play; no need to swing harder.",
        minutes=5,
        core=False,
    ),
)


def _again_per_swing(rng: np.random.Generator) -> tuple[str, Exercise]:
    whiffs, fouls, soft = (int(rng.integers(*ends)) for ends in ((6, 15), (16, 30), (20, 40)))
    hard = int(rng.integers(5, 13))
    swings, in_play = whiffs + fouls + soft + hard, soft + hard
    return (
        f"A hitter swung and missed {whiffs} times, hit {fouls} fouls, and put {in_play} balls in play, "
        f"{hard} of "
        "them hard. How often did she hit it hard per swing? A share from 0 to 1, three decimals.",
        Exercise(
            "01.again-per-swing",
            "compute",
            Number(hard / swings, tolerance=0.002, share=True),
            (
                Wrong(hard / in_play, "that is per ball in play; whiffs and fouls were swings, too."),
                Wrong(hard / (in_play + fouls), "her misses were swings as well."),
                Wrong(hard / (in_play + whiffs), "her fouls were swings as well."),
            ),
            ("Every attempt counts.", f"Below the line: {whiffs} and {fouls} and {in_play}."),
            f"{hard} of {whiffs} + {fouls} + {in_play} is {rate_text(hard / swings)}.",
            "every attempt counts, whatever became of it.",
            minutes=1,
        ),
    )


def _again_one_lucky_ball(rng: np.random.Generator) -> tuple[str, Exercise]:
    swings = int(rng.integers(7, 16))
    return (
        f"He swung {swings} times, missed or fouled all but one, and that one he hit hard. One list says "
        f"100 %. How "
        "often did he hit it hard per swing? A share from 0 to 1, three decimals.",
        Exercise(
            "01.again-one-lucky-ball",
            "compute",
            Number(1 / swings, tolerance=0.002, share=True),
            (
                Wrong(1.0, "that is per ball in play: one of one."),
                Wrong(1 / (swings - 1), "the ball that he hit was a swing as well."),
            ),
            ("How many attempts were there?", f"One hard ball, {swings} swings."),
            f"1 of {swings} is {rate_text(1 / swings)}.",
            "one lucky contact reads 100 % where attempts are left out.",
            minutes=1,
        ),
    )


_ASKED = (
    ("How often does he miss when he swings?", "swings"),
    ("When he hits it fair, how often is it hard?", "balls in play"),
    ("How many pitches does he let go by?", "pitches"),
    ("How often does he strike out when he comes up?", "plate appearances"),
)


def _again_out_of_what(rng: np.random.Generator) -> tuple[str, Exercise]:
    question, right = _ASKED[int(rng.integers(len(_ASKED)))]
    options = dict(zip("abcd", (below for _, below in _ASKED), strict=True))
    letter = next(key for key, below in options.items() if below == right)
    why = {
        "swings": "that counts attempts; does the question ask about attempts?",
        "balls in play": "that leaves out every attempt that met no fair ball; does the question?",
        "pitches": "that counts what he let go as well; does the question?",
        "plate appearances": "that counts his turns; does the question ask about turns?",
    }
    return (
        f'"{question}" Out of what is that to be counted?',
        Exercise(
            "01.again-out-of-what",
            "denominator",
            Choice(letter, options),
            tuple(Wrong(key, why[below]) for key, below in options.items() if key != letter),
            ("Which chances does the question name?", "Look for the word behind 'when' or 'how many'."),
            f"The question is about {right}.",
            "the question names its denominator, if one listens.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "01",
    "Count every swing",
    _verdict,
    "Counted over every swing, she does not lead; the list had left out her whiffs and fouls.",
    EXERCISES,
    (
        Again("01.again-per-swing", _again_per_swing),
        Again("01.again-out-of-what", _again_out_of_what),
        Again("01.again-one-lucky-ball", _again_one_lucky_ball),
    ),
)
