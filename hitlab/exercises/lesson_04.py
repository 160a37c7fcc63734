"""Lesson 4, say how sure: what a range promises, and why few hitters break the promise."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab
from hitlab.estimates.shrinkage import Estimator
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.wording import percent

__all__ = ["CLUBS", "LESSON", "SEED", "coverage", "made_up_club", "ranges_that_hold"]

CLUBS, SEED = 60, 4
"""How many clubs the lesson makes up, and where its random numbers start."""

THE_CLUB, KEPT, BEFORE = "Westering Ploughs", 12, pd.Timestamp(2031, 5, 1)
NINE_IN_TEN = 0.88, 0.92  # "about nine in ten", fixed before any club was drawn
FIRST_SWINGS, FIRST_LENGTH, WANTED_LENGTH = 60, 0.160, 0.040
PARCELS, IN_TIME, PROMISED = 60, 42, 0.90
WITHIN, ONE_LAW, OTHER_LAW = 0.020, 0.120, 0.160


def made_up_club(rng: np.random.Generator, hitters: int = 15) -> tuple[pd.DataFrame, NDArray[np.float64]]:
    """Draw a club: its law, true rates from it, 20 to 200 swings each, and which were hard.

    The law's mean is drawn evenly from .10 to .18, its standard deviation from .01 to .04; true rates
    follow a Beta law.

    Returns
    -------
    sheet, true
        One row a hitter (``hitter``, ``hard``, ``swings``), and the true rates in the same order.
    """
    mean, spread = rng.uniform(0.10, 0.18), rng.uniform(0.01, 0.04)
    size = mean * (1 - mean) / spread**2 - 1
    true = rng.beta(mean * size, (1 - mean) * size, hitters)
    swings = rng.integers(20, 201, hitters)
    who = [f"hitter {number + 1}" for number in range(hitters)]
    return pd.DataFrame({"hitter": who, "hard": rng.binomial(swings, true), "swings": swings}), true


@cache
def coverage(estimator: Estimator) -> float:
    """Return the share of 90 % ranges that hold the true rate, over the lesson's made-up clubs."""
    rng = np.random.default_rng(SEED)
    held = []
    for _ in range(CLUBS):
        sheet, true = made_up_club(rng)
        table = hitlab.shrink(sheet, "hard", "swings", level=0.90, estimator=estimator).table()
        held.append(((table["low"] <= true) & (true <= table["high"])).mean())
    return float(np.mean(held))


@cache
def ranges_that_hold(level: float) -> int:
    """Return how many of the club's twelve ranges, each from own swings alone, hold the true rate."""
    season = pd.read_parquet(hitlab.demo_season())
    early = pd.to_datetime(season["date"]) < BEFORE
    some = hitlab.tally(season[early & (season["club"] == THE_CLUB)]).table().nlargest(KEPT, "swings")
    known = pd.read_csv(hitlab.demonstration.demo_folder() / "truth.csv").set_index("hitter_id")
    true = known["hard_per_swing"][some["hitter_id"]].to_numpy()
    low, high = hitlab.counting.share_interval(some["hard"], some["swings"], level=level)
    return int(np.sum((low <= true) & (true <= high)))


def _between() -> float:
    return float(np.std([ONE_LAW, OTHER_LAW]))


def _verdict() -> str:
    least, most = NINE_IN_TEN
    found = coverage("likelihood")
    error = np.sqrt(0.25 / CLUBS)  # the largest that a mean over so many clubs can have
    if least <= found <= most:
        return "holds"
    return "does not hold" if found + 2 * error < least or found - 2 * error > most else "open"


EXERCISES = (
    Exercise(
        "04.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "the swings of one hitter",
                "b": "the hitters whose range is short",
                "c": "all ranges that were made this way",
                "d": "the values between the two ends of one range",
            },
        ),
        (
            Wrong("a", "swings stand below the line of his rate. Here we count ranges, not swings."),
            Wrong("b", "whoever counts the short ones only has picked; the promise was made for each."),
            Wrong(
                "d",
                "the true rate is one number. It is in this range or it is not; there is no share of it.",
            ),
        ),
        (
            "Above the line stand ranges that hold the truth. What are they a part of?",
            "Count what the promise was made for: the long, the short, the lucky and the unlucky.",
        ),
        "Coverage is the number of ranges that hold the truth, divided by the number of ranges made.",
        "a promise about 'nine in ten' can only be judged over many, and none may be left out.",
        minutes=2,
    ),
    Exercise(
        "04.nine-in-ten",
        "predict",
        Bounds(lambda: 100 * coverage("likelihood"), widest=16),
        (
            Wrong(
                (84, 96),
                "that is what it says on the box. The program takes a guess at the law for the truth.",
                when=lambda ends: ends[0] >= 72,
            ),
            Wrong(
                (0, 10),
                "that club above was picked because it was bad. Most clubs fare better.",
                when=lambda ends: ends[1] <= 40,
            ),
        ),
        (
            "In some clubs it finds no difference at all between hitters. Then nearly every range misses.",
            "About one club in five is like that, and in the others the ranges are somewhat too short.",
        ),
        lambda: (
            f"Of {15 * CLUBS:,} ranges {percent(coverage('likelihood'))} hold the truth, and "
            f"{percent(0.90)} were promised."
        ),
        "a range that is too short still says '90 %' on it. Only counting shows.",
        minutes=3,
    ),
    Exercise(
        "04.a-quarter",
        "compute",
        Number(FIRST_SWINGS * (FIRST_LENGTH / WANTED_LENGTH) ** 2, tolerance=10),
        (
            Wrong(
                FIRST_SWINGS * 4, "four times the swings make the range half as long. You need half of that."
            ),
            Wrong(
                FIRST_SWINGS * 8,
                "close: half costs four times the swings, and half of that four times as many again.",
            ),
            Wrong(FIRST_SWINGS * 2, "twice the swings do not even halve it."),
            Wrong(FIRST_SWINGS / 16, "upside down: fewer swings make a range longer."),
        ),
        (
            "Four times the swings, half the length. Do that twice.",
            "A quarter of the length needs 4 times 4 as many swings.",
        ),
        "A quarter is half of a half. Each half costs four times the swings, so 16 times 60: 960.",
        "being twice as sure costs four times the work. That is why nobody is ever very sure.",
        minutes=3,
    ),
    Exercise(
        "04.count-the-hits",
        "compute",
        Number(lambda: float(ranges_that_hold(0.50)), tolerance=0),
        (
            Wrong(lambda: KEPT - ranges_that_hold(0.50), "those are the ranges that miss."),
            Wrong(
                lambda: ranges_that_hold(0.90),
                "that is the count at 90 %. Give level=0.50, and the ranges get shorter.",
            ),
            Wrong(
                0.50 * KEPT,
                "that is what was promised on average. One club has a count of its own.",
            ),
        ),
        (
            'Begin with hitlab.rate(ploughs, "hard", "swings", level=0.50).',
            "Give its table() to the function inside(...) above, which compares both ends with the truth.",
        ),
        lambda: (
            "Make the ranges with level=0.50 and compare both ends with the true rate, row by row: "
            f"{ranges_that_hold(0.50)} of {KEPT} hold it."
        ),
        "six were promised. Twelve ranges are too few to judge by, but they are a start. Keep a list.",
        minutes=5,
    ),
    Exercise(
        "04.twice-as-exact",
        "fault",
        Choice(
            "b",
            {
                "a": "half as long is four times as exact",
                "b": "short ranges are worth something only if nine in ten of them hold the truth, "
                "and that is not said",
                "c": "ranges from the same swings always have the same length",
                "d": "they should have used 95 %",
            },
        ),
        (
            Wrong("a", "that would be a nice sum, but it does not touch what is missing from the sentence."),
            Wrong("c", "they need not: one may use what other hitters tell, and get a shorter one honestly."),
            Wrong("d", "any level will do if it is named and kept. Is it?"),
        ),
        (
            "How would you make ranges half as long by tomorrow, without any work?",
            "Cut each one in half. What is lost?",
        ),
        "Anybody can make a range shorter by cutting it. The length counts only among ranges that keep "
        "their promise, so first ask for the count: how many held?",
        "first coverage, then length. Never the other way round.",
        minutes=4,
    ),
    Exercise(
        "04.parcel",
        "transfer",
        Number(PROMISED * PARCELS - IN_TIME, tolerance=0.1),
        (
            Wrong(PARCELS - IN_TIME, "those are all that came outside. One in ten was allowed to."),
            Wrong((1 - PROMISED) * PARCELS, "that many were allowed to miss. How many more did?"),
            Wrong(PROMISED * PARCELS, "that many were promised. Now take away what came in time."),
            Wrong(IN_TIME / PARCELS, "that is the coverage. The question asks for a number of parcels."),
        ),
        (
            "How many of 60 should have come within their window?",
            "Nine in ten of 60, less the 42 that did.",
        ),
        "Nine in ten of 60 is 54; 42 came in time, so 12 are missing. Coverage: 42 / 60, or .700.",
        "you need not know how they make their windows. Keeping a list is enough.",
        minutes=3,
    ),
    Exercise(
        "04.two-laws",
        "compute",
        Number(lambda: float(np.hypot(WITHIN, _between())), tolerance=0.0006),
        (
            Wrong(WITHIN, "that is the doubt within one law. Which law it is, is in doubt as well."),
            Wrong(lambda: WITHIN + _between(), "the squares add up, not the numbers."),
            Wrong(
                lambda: float(np.hypot(WITHIN, OTHER_LAW - ONE_LAW)),
                "the two laws lie that far from each other, but only half as far from their middle.",
            ),
            Wrong(lambda: WITHIN**2 + _between() ** 2, "that is the square of it. Take the root at the end."),
        ),
        (
            "Their middle is .140. How far is each of the two laws from it?",
            "The root of .020 squared plus .020 squared.",
        ),
        lambda: (
            f"Each law lies {_between():.3f} from the middle; the root of {WITHIN:.3f} squared plus that "
            f"squared is {np.hypot(WITHIN, _between()):.4f}."
        ),
        "who takes one law for certain keeps the first square and forgets the second.",
        minutes=6,
        core=False,
    ),
)

LESSON = Lesson(
    "04",
    "Say how sure",
    _verdict,
    "Fifteen hitters cannot tell how far apart hitters are, and the program takes its guess for certain.",
    EXERCISES,
)
