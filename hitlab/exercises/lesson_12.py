"""Lesson 12, choose the hitter: what is asked, what is right, and what people mix up."""

from __future__ import annotations

from functools import cache

import numpy as np

import hitlab
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.game.advancing import BASES
from hitlab.game.outcome_rates import OutcomeRates
from hitlab.game.outcomes import OUTCOMES
from hitlab.game.spots import SpotRanks, wins_text
from hitlab.wording import percent

__all__ = ["CLARA", "LESSON", "SALLY", "SPOT", "THE_HITTER", "rates"]

THE_HITTER = "Nadia Izezno"
SPOT = hitlab.game.Spot(0, 1, "full")
"""Tied, bases full, one out, in the home half of the last inning."""

SALLY = (0.30, 0.35, 0.10, 0.01, 0.10, 0.045, 0.005, 0.08, 0.01)
CLARA = (0.10, 0.52, 0.09, 0.01, 0.20, 0.05, 0.01, 0.01, 0.01)
"""Two invented hitters: shares of the nine outcomes, in the order of ``OUTCOMES``."""

# The routes of the transfer exercise: chance of arriving in time with an hour left and in a hurry.
_HOUR_LEFT = 0.75
_RING, _TOWN = (1.0, 0.0), (0.6, 0.6)


@cache
def rates() -> OutcomeRates:
    """Return the outcome rates of the demo season."""
    return hitlab.game.shrink_outcomes(hitlab.game.outcome_counts(hitlab.demo_season()))


@cache
def _ranked() -> SpotRanks:
    return hitlab.game.best_for_spot(rates(), SPOT)


@cache
def _bases_full() -> float:
    return float(hitlab.game.half_inning(rates().league).expected_runs[0, BASES.index("full")])


@cache
def _values(spot: hitlab.game.Spot, tie_wins: float = 0.5) -> tuple[float, ...]:
    return tuple(hitlab.game.outcome_values(spot, rates().league, tie_wins=tie_wins))


def _clara_wins() -> float:
    return float(np.dot(CLARA, _values(SPOT)))


def _at_once() -> float:
    return float(sum(CLARA[2:]))


def _plain_average() -> float:
    return float(np.mean(_values(SPOT)))


def _first() -> float:
    return float(_ranked().data["win_chance"].iloc[0])


def _league() -> float:
    return _ranked().league_win_chance


def _homer_ties(tie_wins: float) -> float:
    spot = hitlab.game.Spot(-1, 2, "empty")
    return _values(spot, tie_wins)[OUTCOMES.index("home run")]


def _by_route(route: tuple[float, float]) -> float:
    return _HOUR_LEFT * route[0] + (1 - _HOUR_LEFT) * route[1]


@cache
def _verdict() -> str:
    return str(hitlab.check_spot(rates(), SPOT, THE_HITTER).verdict)


EXERCISES = (
    Exercise(
        "12.bases-full",
        "predict",
        Bounds(_bases_full, widest=1.0),
        (
            Wrong(
                (3.2, 4.2),
                "then nearly everybody would come home every time. Three outs end it, and some runners are "
                "left standing.",
                when=lambda ends: ends[0] >= 2.9,
            ),
            Wrong(
                (0.5, 1.4),
                "three runners are on already and nobody is out; most often more than one comes home.",
                when=lambda ends: ends[1] <= 1.8,
            ),
        ),
        (
            "Three runners are on, and it takes three outs to stop them.",
            "More than one and a half, fewer than three.",
        ),
        lambda: (
            f"The league's average from there is {_bases_full():.1f} runs; the table below has all 24 states."
        ),
        "an average is not a promise: one time in ten nobody scores even from there.",
        minutes=3,
    ),
    Exercise(
        "12.clara-by-hand",
        "compute",
        Number(_clara_wins, tolerance=0.002, share=True),
        (
            Wrong(
                _at_once,
                "that is her chance to end it at once. After an out the next hitters may still win it, or "
                "the extra innings.",
            ),
            Wrong(_plain_average, "that weighs all nine outcomes alike; weigh each with her share of it."),
            Wrong(
                lambda: float(np.dot(SALLY, _values(SPOT))),
                "that is Sally's. Take Clara's shares.",
            ),
            Wrong(
                lambda: float(_at_once() + CLARA[1] * _values(SPOT)[1]),
                "her strikeouts are missing: after one of them there is still some chance.",
            ),
        ),
        (
            "Go down the table: her share of the outcome, times what it is worth, and add up.",
            'Try (worth["Clara"] * worth["win_chance"]).sum().',
        ),
        lambda: f"Share times worth, outcome by outcome, added up: {wins_text(_clara_wins())}.",
        "that is the whole method. The rest is about how well the shares are known.",
        minutes=5,
    ),
    Exercise(
        "12.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "her hits in such spots",
                "b": "all games of her club",
                "c": "all such spots in which she was at bat",
                "d": "her home runs",
            },
        ),
        (
            Wrong(
                "a", "then the times she made an out are left out, and these are the ones that cost games."
            ),
            Wrong("b", "in most games no such spot came up, so they say nothing about her in one."),
            Wrong(
                "d",
                "then it would say how often a home run wins. The question is about her.",
            ),
        ),
        (
            "The coach asks before the pitch is thrown.",
            "What has happened at that moment: the spot is there, and she is at bat. Nothing else.",
        ),
        "The question begins when she walks up; every ending of it belongs below the line.",
        "choose the denominator as you choose the hitter: before you know how it ends.",
        minutes=2,
    ),
    Exercise(
        "12.it-is-proven",
        "fault",
        Choice(
            "b",
            {
                "a": "another hitter is first in the list",
                "b": "being first of 103 close ones is partly luck; she need not be truly best",
                "c": "she has too few plate appearances to be ranked",
                "d": "the chance to win should be counted from the games she won",
            },
        ),
        (
            Wrong("a", "she is first. Look at the column that says how sure that is."),
            Wrong("c", "hers is one of the longest records. Even so it is short for so small a gap."),
            Wrong("d", "she had such a spot a few times at most; that would be far noisier."),
        ),
        (
            "Compare the gap between the first and the second with the width of the lines.",
            "The last column says how often she would truly be the best.",
        ),
        lambda: (
            f"She is the best guess, and that is all: the chance that she truly is the best of "
            f"{len(_ranked().data)} is {percent(float(_ranked().data['chance_best'].iloc[0]))}."
        ),
        "a best guess is worth having. 'Proven' is another word.",
        minutes=4,
    ),
    Exercise(
        "12.one-more-win",
        "compute",
        Number(lambda: 1 / (_first() - _league()), tolerance=2.0),
        (
            Wrong(
                lambda: _first() - _league(),
                "that is the gain in one spot, or in a hundred. How many spots make a whole win?",
                when=lambda given: given < 3,
            ),
            Wrong(lambda: 1 / (1 - _first()), "that is how many spots until one is lost with her."),
            Wrong(
                lambda: 2 / (_first() - _league()),
                "twice too many: a win more is one game, not one won and one not lost.",
            ),
        ),
        (
            "Each such spot gains the difference of the two chances.",
            "One win divided by the gain per spot.",
        ),
        lambda: (
            f"{wins_text(_first())} less {wins_text(_league())}, one divided by it: about "
            f"{1 / (_first() - _league()):.0f} spots."
        ),
        "this very spot is rare, a few in a whole season. Choose her, but do not call it decisive.",
        minutes=4,
    ),
    Exercise(
        "12.two-routes",
        "transfer",
        Number(_by_route(_RING), tolerance=0.005, share=True),
        (
            Wrong(
                _by_route(_TOWN),
                "that is the town, faster on average. Which road is in time more often?",
            ),
            Wrong(1.0, "that holds for the days with an hour left. One day in four there is less."),
            Wrong(0.9, "that picks the better route anew each day; she has to settle on one."),
            Wrong(0.675, "that is the average of the two routes, and nobody drives both."),
        ),
        (
            "Work out for each road how often she is in time on each kind of day.",
            "Ring road: always with an hour left, never with 45 minutes. Town: 6 times in 10 on both.",
        ),
        "The ring road is in time on three days of four; the town on 6 days of 10, whatever the day. And if "
        "every day were one with 45 minutes, the town would be the only choice.",
        "the road that is better on average loses here. What counts is to be in time.",
        minutes=5,
    ),
    Exercise(
        "12.weak-in-ties",
        "compute",
        Number(lambda: _homer_ties(0.3), tolerance=0.005, share=True),
        (
            Wrong(0.3, "close, but the inning goes on after the home run: the next ones may still score."),
            Wrong(lambda: _homer_ties(0.5), "that is for a club that wins half of its ties."),
            Wrong(
                lambda: _homer_ties(0.5) - 0.2,
                "the chance to win at once does not change; only the tied part does.",
            ),
            Wrong(
                lambda: 0.6 * _homer_ties(0.5),
                "not everything shrinks: what is won at once is won, whatever ties are worth.",
            ),
        ),
        (
            "Two ways to win after it: score at once, or stay level and win the tie.",
            "The chance of a run with the bases empty and two out, plus the rest times 0.3.",
        ),
        lambda: (
            f"The chance of a run from there, plus what is left times 0.3: {wins_text(_homer_ties(0.3))}, "
            f"and {wins_text(_homer_ties(0.5))} for a club that wins half of its ties."
        ),
        "what a tie is worth is a guess that you have to make, so say which one you made.",
        minutes=4,
        core=False,
    ),
)

LESSON = Lesson(
    "12",
    "Choose the hitter",
    _verdict,
    "With the bases full a walk wins as surely as a home run, and she hardly ever walks; a dozen others "
    "are as good.",
    EXERCISES,
)
