"""Lesson 13, chart your own team: what a tick is worth, and what is left of it in a club of twelve."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from numbers import Real
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.exercises.definitions import Bounds, Choice, Exercise, Lesson, Number, Wrong
from hitlab.wording import percent, rate_text

__all__ = [
    "HARD_MPH",
    "LESSON",
    "RADAR_DAY",
    "THE_HITTER",
    "chart_of",
    "eye_of",
    "long_run_ticks",
    "measured_pitches",
    "on_fresh_charts",
    "paper_sheet",
    "struck_balls",
    "true_rates",
]

THE_HITTER = "Dalia Tavenzal"
HARD_MPH = 95.0
RADAR_DAY = "second day"

_HITTERS = (
    "Dalia Tavenzal",
    "Oona Crescombe",
    "Runa Vikholt",
    "Tamsin Wychfield",
    "Tariq Myrkfjell",
    "Ilse Quarmoor",
    "Sade Mbotombe",
    "Linnea Stenacre",
    "Renzo Faloba",
    "Hana Kurozuma",
    "Viggo Nystmarr",
    "Astrid Pellwold",
)
_SEED = 3
"""The first from 1 up with which one hitter has most ticks and the eye misses some hard balls."""

_USUAL = 0.08, 0.18  # nine hitters in ten of the league lie between
_DAYS, _TURNS = ("first day", RADAR_DAY), 10
_KINDS = ("ball", "called strike", "whiff", "foul", "in play")
_SHARES = (0.36, 0.16, 0.11, 0.17, 0.20)
_IN_PLAY = _SHARES[-1] / sum(_SHARES[2:])  # of swings
_SPREAD_MPH = 12.0  # of a hitter's speeds off the bat
_EYES = {"first": (91.0, 5.0, _SEED), "second": (96.0, 5.0, _SEED + 1)}  # says hard from; errs by; seed

Floats = NDArray[np.float64]


@cache
def true_rates() -> pd.Series[float]:
    """Return the club's true rates of hard balls per swing, by hitter.

    They are those of twelve hitters who stand evenly in a league of whom nine in ten are between 8 and 18 %;
    a seed says who has which.
    """
    from scipy.special import betaincinv

    law = hitlab.estimates.LeagueLaw.between(*_USUAL)
    even = (np.arange(len(_HITTERS)) + 0.5) / len(_HITTERS)
    rates = betaincinv(law.mean * law.size, (1 - law.mean) * law.size, even)
    return pd.Series(np.random.default_rng(_SEED).permutation(rates), _HITTERS)


def _usual_mph(rate: Any) -> Any:
    """Return the middle of the speeds of a hitter with such a rate of hard balls per swing."""
    from scipy.special import ndtri

    return HARD_MPH + _SPREAD_MPH * ndtri(np.asarray(rate) / _IN_PLAY)


@cache
def measured_pitches() -> pd.DataFrame:
    """Return both days as a radar would have told them; the club had it on the second day alone."""
    rng = np.random.default_rng([_SEED, 1])
    middle = _usual_mph(true_rates())
    rows = []
    for day in _DAYS:
        for turn in range(1, _TURNS + 1):
            for hitter, usual in zip(_HITTERS, middle, strict=True):
                rows += [(day, turn, hitter, *pitch) for pitch in _plate_appearance(usual, rng)]
    names = ["game", "inning", "hitter", "balls", "strikes", "outcome", "exit_mph"]
    return pd.DataFrame(rows, columns=names)


def _plate_appearance(usual_mph: float, rng: np.random.Generator) -> list[tuple[int, int, str, float]]:
    """Return one turn's pitches: balls and strikes before each, what it became, the speed off the bat."""
    pitches: list[tuple[int, int, str, float]] = []
    balls = strikes = 0
    while balls < 4 and strikes < 3:
        what = str(rng.choice(_KINDS, p=_SHARES))
        in_play = what == "in play"
        pitches.append((balls, strikes, what, rng.normal(usual_mph, _SPREAD_MPH) if in_play else np.nan))
        if in_play:
            break
        balls += what == "ball"
        strikes += what != "ball" and (what != "foul" or strikes < 2)
    return pitches


@cache
def chart_of(which: str) -> pd.DataFrame:
    """Return what the ``first`` or the ``second`` charter wrote down of both days, without a radar."""
    eye_mph, off_mph, seed = _EYES[which]
    return hitlab.league.charted_by(
        measured_pitches(), seed, wrong_outcome=0.02, eye_mph=eye_mph, eye_width_mph=off_mph
    )


def paper_sheet(chart: pd.DataFrame) -> pd.DataFrame:
    """Return a chart as it stands on paper: an ``x`` for a hard ball, and nothing for all else."""
    ticked = chart["hard"].fillna(False).to_numpy(bool)
    return chart.assign(hard=np.where(ticked, "x", "")).drop(columns="hard_source")


@cache
def eye_of(which: str) -> Any:
    """Return a charter's eye against the radar, on the day when there was one."""
    one, other = (each[each["game"] == RADAR_DAY] for each in (chart_of(which), measured_pitches()))
    return hitlab.charting.eye_against_radar(one, other)


def struck_balls(number: int, seed: int) -> Floats:
    """Return speeds off the bat, in mph, of so many balls that these twelve put in play."""
    rng = np.random.default_rng(seed)
    return rng.normal(rng.choice(_usual_mph(true_rates()), number), _SPREAD_MPH)


def long_run_ticks() -> pd.Series[float]:
    """Return where the first charter's ticks per swing would settle, by hitter."""
    from scipy.special import ndtr

    eye_mph, off_mph, _ = _EYES["first"]
    seen = ndtr((_usual_mph(true_rates()) - eye_mph) / np.hypot(_SPREAD_MPH, off_mph))
    return pd.Series(seen * _IN_PLAY, _HITTERS)


@cache
def _fresh_charts() -> tuple[tuple[int, ...], ...]:
    """Return charts that no cell shows: ticked, judged, hard ticked, hard, others unticked, others."""
    rng = np.random.default_rng(1313)
    charts = []
    for _ in range(30):
        judged, hard, soft = int(rng.integers(8, 40)), int(rng.integers(20, 60)), int(rng.integers(40, 90))
        hits, false = rng.uniform(0.75, 0.95), rng.uniform(0.05, 0.25)
        really = rng.binomial(judged, rng.choice([0.05, 0.3, 0.4]))
        ticked = rng.binomial(really, hits) + rng.binomial(judged - really, false)
        four = rng.binomial(hard, hits), hard, rng.binomial(soft, 1 - false), soft
        charts.append((int(ticked), judged, *(int(one) for one in four)))
    return tuple(charts)


def on_fresh_charts(function: Callable[..., Any]) -> Any:
    """Return the mean of what a learner's function makes of charts that nobody has seen.

    Parameters
    ----------
    function
        Takes ticks, balls judged, and the eye's four counts; returns a share.

    Returns
    -------
    float
        Or the first thing it returned that is no number, for ``check`` to say what it is: dots where nothing
        is written yet.
    """
    given = [function(*chart) for chart in _fresh_charts()]
    odd = [one for one in given if not isinstance(one, Real) and np.shape(one) != (1,)]
    return odd[0] if odd else float(np.mean(np.hstack(given)))


def _by_hand(share: float, sensitivity: float, specificity: float) -> float:
    return (share + specificity - 1) / (sensitivity + specificity - 1)


def _over_fresh(rule: Callable[[float, float, float], float]) -> float:
    return float(np.mean([rule(k / n, a / b, c / d) for k, n, a, b, c, d in _fresh_charts()]))


def _right_share(share: float, sensitivity: float, specificity: float) -> float:
    return float(np.clip(_by_hand(share, sensitivity, specificity), 0, 1))


@cache
def _both_ticked() -> NDArray[np.int64]:
    """Return balls by what the first (rows) and the second charter said of them: no, yes."""
    found = hitlab.charting.compare_charters(chart_of("first"), chart_of("second")).confusion("hard")
    return np.asarray(found.loc[["no", "yes"], ["no", "yes"]], dtype=np.int64)


def _luck(table: Any) -> float:
    shares = np.asarray(table) / np.sum(table)
    return float(shares.sum(axis=0) @ shares.sum(axis=1))


_SWUNG = np.array([[90, 4], [3, 3]])
"""The check swings of an exercise: said not to have gone (first row, first column), or to have gone."""


def _kappa(table: Any) -> float:
    agreed = float(np.trace(table) / np.sum(table))
    return (agreed - _luck(table)) / (1 - _luck(table))


@cache
def _second_share() -> float:
    totals = hitlab.tally(chart_of("second")).table()
    return float(totals["hard"].sum() / totals["in_play"].sum())


def _second_by_hand() -> float:
    eye = eye_of("second")
    return _by_hand(_second_share(), eye.sensitivity, eye.specificity)


@cache
def _chance_best() -> float:
    """Return the chance that she truly is the best of the twelve, as the claim of the lesson has it."""
    told = hitlab.Conventions(eye=eye_of("first").errors)
    counts = hitlab.tally(chart_of("first"), conventions=told)
    fit = hitlab.shrink(counts, prior=hitlab.estimates.LeagueLaw.between(*_USUAL))
    best = hitlab.ranks(fit).table().set_index("hitter")["chance_best"]
    return float(best[THE_HITTER])


def _verdict() -> str:
    return verdict_on(_chance_best(), HOLDS_AT, FAILS_AT)


EXERCISES = (
    Exercise(
        "13.by-luck",
        "predict",
        Bounds(lambda: 100 * _luck(_both_ticked()), widest=14),
        (
            Wrong(
                (0, 14),
                "far more. Where both leave most balls unticked, they agree on many of them without looking.",
                when=lambda ends: ends[1] <= 45,
            ),
            Wrong(
                (68, 80),
                "that is about what they reached with open eyes. With closed ones it has to be less.",
                when=lambda ends: ends[0] >= 61,
            ),
        ),
        (
            "They agree where both tick, and where neither does. Work out each share, and add.",
            "Both tick: 62/151 times 39/151. Neither: 89/151 times 112/151.",
        ),
        lambda: (
            f"Both tick {percent(float(np.prod(_ticked_shares())))} of the balls, neither ticks "
            f"{percent(float(np.prod(1 - _ticked_shares())))}; together {percent(_luck(_both_ticked()))}."
        ),
        "more than half, for nothing. So seven in ten is less than it sounds.",
        minutes=3,
    ),
    Exercise(
        "13.check-swings",
        "compute",
        Number(lambda: _kappa(_SWUNG), tolerance=0.015),
        (
            Wrong(
                float(np.trace(_SWUNG) / np.sum(_SWUNG)),
                "that is how often they agree. Take off what luck alone would give.",
            ),
            Wrong(
                lambda: _luck(_SWUNG), "that is what luck alone would give. How far beyond it did they get?"
            ),
            Wrong(
                lambda: float(np.trace(_SWUNG) / np.sum(_SWUNG)) - _luck(_SWUNG),
                "that is the way they went. Divide it by the way there was to go.",
            ),
        ),
        (
            "The first says yes 6 times, the second 7 times. How often would luck let both say the same?",
            "Luck: 0.06 × 0.07 + 0.94 × 0.93. Then (0.93 - luck) / (1 - luck).",
        ),
        lambda: (
            f"They agree on {percent(float(np.trace(_SWUNG) / np.sum(_SWUNG)))}, luck alone gives "
            f"{percent(_luck(_SWUNG))}. What is between them is {rate_text(_kappa(_SWUNG))} of what is "
            "between luck and 1."
        ),
        "where nearly everything is 'no', two charters agree nearly always, and it says little.",
        minutes=4,
    ),
    Exercise(
        "13.out-of-what",
        "denominator",
        Choice(
            "d",
            {
                "a": "the balls that he ticked",
                "b": "all balls in play",
                "c": "all swings",
                "d": "the balls that were hard by the radar",
            },
        ),
        (
            Wrong("a", "that says how many of his ticks were right, and what he missed is not in it."),
            Wrong("b", "then he looks blind on a day when few balls are hard."),
            Wrong("c", "most swings put nothing in play, so there was nothing for him to see."),
        ),
        (
            "What had to happen before he could tick it rightly, or miss it?",
            "The ball had to be hard. Who says so?",
        ),
        "The question begins with a hard ball, and the radar says which were: all of these, ticked or not.",
        "and for the other question, 'how often does he leave it?', the balls that were not hard.",
        minutes=2,
    ),
    Exercise(
        "13.correct-it",
        "compute",
        Number(lambda: _over_fresh(_right_share), tolerance=0.003, share=True),
        (
            Wrong(
                lambda: _over_fresh(lambda share, *_: share),
                "that is the share he ticked. Neither of his two errors is taken out.",
            ),
            Wrong(
                lambda: _over_fresh(_by_hand),
                "nearly: on some charts that gives less than none. Return 0 there, and 1 where it is above.",
            ),
            Wrong(
                lambda: _over_fresh(lambda share, _, specificity: max(share + specificity - 1, 0)),
                "the false ticks are out. The hard balls that he missed are still missing; divide.",
            ),
            Wrong(
                lambda: _over_fresh(lambda share, sensitivity, _: min(share / sensitivity, 1)),
                "the missed ones are back in. The false ticks are still there; take them off first.",
            ),
            Wrong(
                lambda: _over_fresh(lambda share, a, b: float(np.clip(_by_hand(share, b, a), 0, 1))),
                "sensitivity and specificity have changed places: hard balls go with the first.",
            ),
        ),
        (
            "Sensitivity is hard_ticked / hard, specificity soft_unticked / soft. Then the formula above.",
            "rate = (share + specificity - 1) / (sensitivity + specificity - 1); return min(max(rate, 0), 1)",
        ),
        "Two shares from the radar's four counts, the share that is ticked, the formula, and nothing below 0 "
        "or above 1.",
        "your function works on charts that you have never seen. With yours it will, too.",
        minutes=7,
    ),
    Exercise(
        "13.it-is-certain",
        "fault",
        Choice(
            "a",
            {
                "a": "first of twelve close ones is partly luck, and correcting all alike does not undo that",
                "b": "the eye errs, so nothing can be said of her at all",
                "c": "somebody else has a higher rate of ticks",
                "d": "her 9 ticks should be divided by her 16 balls in play, and then it would be certain",
            },
        ),
        (
            Wrong("b", "an eye whose errors are known still tells something. How much, the interval says."),
            Wrong("c", "by swings she is first. The list is right."),
            Wrong("d", "that answers another question, and 16 balls tell no more than 28 swings did."),
        ),
        (
            "Suppose all twelve were equally good. Would nobody be first?",
            "Look at the last column of the ladder.",
        ),
        lambda: (
            "Correcting takes the eye out, not the luck. The chance that she truly is the best of the twelve "
            f"is {percent(_chance_best())}."
        ),
        "a corrected rate is a better rate. It is not a longer record.",
        minutes=4,
    ),
    Exercise(
        "13.apples",
        "transfer",
        Number(_by_hand(0.13, 0.90, 0.95), tolerance=0.003, share=True),
        (
            Wrong(
                0.13,
                "that is what the machine threw out. Some of these are sound, and some bruised ones passed.",
            ),
            Wrong(0.13 - 0.05, "the sound ones thrown out are off, roughly. Now those that passed: divide."),
            Wrong(0.13 * 0.90, "that lets it throw out bruised apples only. It throws out sound ones, too."),
            Wrong(
                0.13 / 0.90, "that puts back what passed. First take off the sound ones that it threw out."
            ),
        ),
        (
            "The same formula. Sensitivity: of bruised apples. Specificity: of sound ones.",
            "(0.13 + 0.95 - 1) / (0.90 + 0.95 - 1)",
        ),
        lambda: (
            f"(0.13 + 0.95 - 1) / (0.90 + 0.95 - 1) = {rate_text(_by_hand(0.13, 0.90, 0.95))}: fewer than it "
            "threw out."
        ),
        "a test that errs, tried on known cases, can still count what is unknown.",
        minutes=4,
    ),
    Exercise(
        "13.the-strict-one",
        "compute",
        Number(_second_by_hand, tolerance=0.008, share=True),
        (
            Wrong(_second_share, "that is what she ticked. Her own errors are still in it."),
            Wrong(
                lambda: _by_hand(_second_share(), eye_of("first").sensitivity, eye_of("first").specificity),
                "that takes the first charter's errors out of the second one's ticks. Each eye has its own.",
            ),
            Wrong(
                lambda: _second_share() / eye_of("second").sensitivity,
                "that puts the missed ones back. She ticked a few that were not hard, too.",
            ),
        ),
        (
            "Her share, and her sensitivity and specificity, are printed above.",
            "(share + specificity - 1) / (sensitivity + specificity - 1), all three of hers.",
        ),
        lambda: (
            f"{rate_text(_second_share())} + {rate_text(eye_of('second').specificity)} - 1, divided by "
            f"{rate_text(eye_of('second').sensitivity)} + {rate_text(eye_of('second').specificity)} - 1, is "
            f"{rate_text(_second_by_hand())}."
        ),
        "his list was too long, hers too short. Corrected, they change places: so much is in doubt after one "
        "day with a radar.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "13.the-wrong-range",
        "fault",
        Choice(
            "c",
            {
                "a": "a range may not be stated, only computed",
                "b": "the team is too good for any range",
                "c": "30 to 45 % is usual for balls in play, and the rate here is per swing",
                "d": "the range is too narrow",
            },
        ),
        (
            Wrong("a", "it may, if it is said aloud and before looking. This one is of another rate."),
            Wrong("b", "the team is below that range, not above it."),
            Wrong("d", "a wider one around the same middle would still be of something else."),
        ),
        (
            "Where have you seen a share between 30 and 45 % in this lesson?",
            "What did we divide by there, and what do we divide by here?",
        ),
        "About two swings in five put the ball in play. So a range for balls in play is more than twice as "
        "high as one for swings.",
        "the package cannot know what is usual. But it can see that a team is somewhere else.",
        minutes=4,
        core=False,
    ),
)


def _ticked_shares() -> Floats:
    table = _both_ticked() / _both_ticked().sum()
    return np.array([table[1].sum(), table[:, 1].sum()])


LESSON = Lesson(
    "13",
    "Chart your own team",
    _verdict,
    "Nine ticks in 28 swings, by an eye that ticks one other ball in five, leave it likelier that somebody "
    "else is the best.",
    EXERCISES,
)
