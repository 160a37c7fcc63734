"""Lesson 10, ask whether two rates go together: what luck does to a correlation, and how to take it out."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd

import hitlab
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.two_rates.link import Link
from hitlab.wording import percent, rate_text

__all__ = ["LESSON", "TRUE_LINK", "fastball_and_breaking", "hundred_swings", "make_hitters", "observed_link"]

TRUE_LINK = 0.8
"""Correlation of the true rates in the lesson's simulation."""

_MEANS, _SPREADS = np.array([0.79, 0.68]), np.array([0.026, 0.044])


def make_hitters(hitters: int, seed: int) -> np.ndarray:
    """Return true rates, one row a hitter: contact per swing against fastballs and breaking balls."""
    rng = np.random.default_rng(seed)
    covariance = np.outer(_SPREADS, _SPREADS) * np.array([[1.0, TRUE_LINK], [TRUE_LINK, 1.0]])
    return np.clip(rng.multivariate_normal(_MEANS, covariance, hitters), 0.0, 1.0)


def observed_link(true_rates: np.ndarray, swings: int, seed: int) -> float:
    """Return the correlation of the observed rates, after so many swings at each kind of pitch."""
    shown = np.random.default_rng(seed).binomial(swings, true_rates) / swings
    return float(np.corrcoef(shown[:, 0], shown[:, 1])[0, 1])


@cache
def _usual_link(swings: int) -> float:
    """Return the correlation that so many swings show, in a league so large that it has settled."""
    return observed_link(make_hitters(100_000, 1), swings, 2)


@cache
def fastball_and_breaking() -> Link:
    """Return the lesson's link: contact per swing against fastballs and against breaking balls."""
    kinds = [hitlab.situation(f"pitch_kind={kind}") for kind in ("fastball", "breaking")]
    first, second = (hitlab.two_rates.RateOf("contact", "swings", kind) for kind in kinds)
    return hitlab.two_rates.correlate_rates(hitlab.demo_season(), first, second)


def _by_hand() -> float:
    link = fastball_and_breaking()
    return link.naive / float(np.sqrt(np.prod(link.reliabilities)))


def hundred_swings() -> pd.Series:
    """Return rate and true spread of contact per swing against fastballs, rounded as they are shown."""
    link = fastball_and_breaking()
    rate = link.data["first_events"].sum() / link.data["first_exposure"].sum()
    return pd.Series({"rate": round(float(rate), 3), "spread": round(link.spreads[0], 4)})


def _variances() -> tuple[float, float]:
    shown = hundred_swings()
    return float(shown["spread"] ** 2), float(shown["rate"] * (1 - shown["rate"]) / 100)


def _true_share() -> float:
    true, luck = _variances()
    return true / (true + luck)


def _share_of_spreads() -> float:
    true, luck = np.sqrt(_variances())
    return float(true / (true + luck))


def _verdict() -> str:
    return hitlab.check_together(fastball_and_breaking()).verdict


EXERCISES = (
    Exercise(
        "10.fifty-swings",
        "predict",
        Bounds(lambda: _usual_link(50), widest=0.2),
        (
            Wrong(
                (0.70, 0.85),
                "that is the true correlation. Fifty swings show each true rate through a thick fog.",
                when=lambda ends: ends[0] >= 0.5,
            ),
            Wrong(
                (0.32, 0.48),
                "less: that is what about 200 swings show. With a quarter of them there is much more luck.",
                when=lambda ends: _usual_link(50) < ends[0] < 0.5,
            ),
            Wrong(
                (-0.10, 0.05),
                "so much fog that nothing is left? A little of the link still shows.",
                when=lambda ends: ends[1] < _usual_link(50),
            ),
        ),
        (
            "The fewer the swings, the smaller the correlation of what you see. Look at the printed row.",
            "With 50 swings three quarters or more of it are gone.",
        ),
        lambda: (
            f"The true correlation is {rate_text(TRUE_LINK)}; after 50 swings at each kind of pitch about "
            f"{rate_text(_usual_link(50))} is left to see."
        ),
        "luck in either rate pulls the correlation toward zero. A small one does not tell you 'no link'.",
        minutes=3,
    ),
    Exercise(
        "10.out-of-what",
        "denominator",
        Choice(
            "b",
            {
                "a": "all his swings",
                "b": "his swings at breaking balls",
                "c": "the breaking balls that he saw",
                "d": "his contact with all pitches",
            },
        ),
        (
            Wrong("a", "then who sees few breaking balls looks bad against them."),
            Wrong("c", "then letting a bad one go by counts against him. The question begins at the swing."),
            Wrong("d", "that says which pitches he touches, not how often he touches this one."),
        ),
        (
            "What follows 'when' in the question goes below the line, all of it.",
            "Swings, and only at that kind of pitch.",
        ),
        "Each time he swings at a breaking ball: so swings at breaking balls stand below the line.",
        "and no swing stands in both rates: one counts fastballs, the other breaking balls.",
        minutes=2,
    ),
    Exercise(
        "10.take-the-luck-out",
        "compute",
        Number(_by_hand, tolerance=0.007),
        (
            Wrong(
                lambda: fastball_and_breaking().naive * fastball_and_breaking().largest_naive,
                "multiplied: that puts the luck in a second time. To take it out, divide.",
            ),
            Wrong(
                lambda: fastball_and_breaking().naive / float(np.prod(fastball_and_breaking().reliabilities)),
                "you left out the root. A correlation above 1 cannot be.",
            ),
            Wrong(
                lambda: fastball_and_breaking().naive / fastball_and_breaking().reliabilities[0],
                "that uses the first share twice. Each rate brings its own.",
            ),
            Wrong(
                lambda: fastball_and_breaking().naive / fastball_and_breaking().reliabilities[1],
                "that uses the second share twice. Each rate brings its own.",
            ),
            Wrong(lambda: fastball_and_breaking().naive, "that is what shows. The luck is still in it."),
        ),
        (
            "What shows = what is true × the root of the two shares multiplied. Turn it round.",
            "observed / np.sqrt(share_one * share_two)",
        ),
        lambda: (
            f"{rate_text(fastball_and_breaking().naive)} over the root of "
            f"{rate_text(fastball_and_breaking().reliabilities[0])} × "
            f"{rate_text(fastball_and_breaking().reliabilities[1])} is {rate_text(_by_hand())}."
        ),
        "by hand it is one number without an interval, and it can pass 1. The package weighs all 150 hitters "
        "by their swings, so its number differs a little, and it gives both ends.",
        minutes=4,
    ),
    Exercise(
        "10.same-swings",
        "fault",
        Choice(
            "c",
            {
                "a": "the correlation is too small to mention",
                "b": "misses and hard balls have nothing to do with each other",
                "c": "both rates come from the same swings: a miss more is a hard ball less, by luck alone",
                "d": "it should be per ball in play",
            },
        ),
        (
            Wrong("a", "small or not: would it be there if all hitters were alike?"),
            Wrong("b", "they may well have. The question is whether this number shows it."),
            Wrong("d", "then the misses are out of one rate only, and another question is answered."),
        ),
        (
            "Suppose all hitters were alike. One happens to miss ten more. What of his hard balls?",
            "A swing that misses cannot also be a hard ball.",
        ),
        "Even if all hitters were alike, those who happened to miss more would have fewer swings left for "
        "hard balls. Luck alone makes the two go apart. correlate_rates declines such a pair.",
        "two rates need swings of their own, or their luck is one luck.",
        minutes=4,
    ),
    Exercise(
        "10.two-exams",
        "transfer",
        Number(0.60, tolerance=0.015),
        (
            Wrong(0.15, "multiplied: that adds luck where it should be taken out."),
            Wrong(0.30, "that is what shows. Half of each exam is still luck."),
            Wrong(0.30 / 0.5**0.5, "that takes the luck out of one exam only."),
            Wrong(1.20, "you left out the root. A correlation above 1 cannot be."),
        ),
        (
            "The same formula: what shows, over the root of the two shares multiplied.",
            "The root of 0.5 × 0.5 is 0.5.",
        ),
        "0.30 over the root of 0.5 × 0.5 is .60: who knows one subject tends to know the other.",
        "short exams make subjects look unrelated. So do short seasons.",
        minutes=4,
    ),
    Exercise(
        "10.hundred-swings",
        "compute",
        Number(_true_share, tolerance=0.009, share=True),
        (
            Wrong(lambda: 1 - _true_share(), "that is the share of luck."),
            Wrong(_share_of_spreads, "square the spread first: variances add up, spreads do not."),
            Wrong(
                lambda: _variances()[0] / _variances()[1], "true over luck. Asked is true over both together."
            ),
        ),
        (
            "Two variances: the spread squared, and rate × (1 - rate) / 100. Then the first over their sum.",
            "true = spread**2; luck = rate * (1 - rate) / 100; true / (true + luck)",
        ),
        lambda: (
            f"Of what sets hitters apart after 100 swings, {percent(_true_share())} is true and the rest is "
            "luck."
        ),
        "after 100 swings most of the list is luck. That is why lists hardly agree with each other.",
        minutes=5,
        core=False,
    ),
)

LESSON = Lesson(
    "10",
    "Ask whether two rates go together",
    _verdict,
    "Once the luck is taken out of both rates, hitters who touch more fastballs touch more breaking balls.",
    EXERCISES,
)
