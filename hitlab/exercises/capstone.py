"""The capstone: ten claims without a hint of the method, each with a verdict and how sure one is of it.

Nine of the ten tables are drawn by a seed and stand in no lesson; one is of the demo season. Five are
outside the sport. What is right is worked out from the
table when it is asked for, with the bounds of every claim here: it holds from a chance of 90 % on, and does
not hold up to 10 %.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.errors import HitlabError
from hitlab.exercises.answers import UnreadableAnswerError, is_blank
from hitlab.exercises.asking import tried_once
from hitlab.exercises.definitions import Choice, Exercise, Wrong
from hitlab.exercises.forecasts import VERDICTS, brier_score, read_verdict
from hitlab.exercises.keeping import change, read_all, trouble_to_tell
from hitlab.exercises.marking import mark
from hitlab.exercises.notices import NOT_ANSWERED, NOT_YET, RIGHT, Notice
from hitlab.league.names import hitter_names
from hitlab.two_rates import RateOf, correlate_counts
from hitlab.wording import chance_text, percent, rate_text

__all__ = ["CLAIMS", "Heard", "capstone", "capstone_table"]

_DRAWS = 20_000


@dataclass(frozen=True, slots=True)
class Heard:
    """One claim of the capstone.

    Attributes
    ----------
    table
        What there is to look at.
    chance
        How likely the claim is to be true, by that table; from 0 to 1.
    baseball
        Whether it is about hitters.
    mistakes
        Verdict -> what is mixed up by whoever gives it, for the two that are wrong; the first sentence names
        it.
    because
        Why the right one is right; ``{}`` stands for the chance.
    """

    table: Callable[[], pd.DataFrame]
    chance: Callable[[], float]
    baseball: bool
    mistakes: dict[str, str]
    because: str

    def verdict(self) -> str:
        """Return the right verdict, worked out now."""
        return verdict_on(self.chance(), HOLDS_AT, FAILS_AT)


def _numbered(what: str, many: int) -> list[str]:
    return [f"{what} {number:03d}" for number in range(1, many + 1)]


def _above(table: pd.DataFrame, who: str, event: str, per: str, value: float) -> float:
    """Return the chance that one row's true rate is above a value, by the scatter of the whole table."""
    hitter, place = table.columns[0], list(table[table.columns[0]]).index(who)
    fit = hitlab.shrink(table.rename(columns={hitter: "hitter"}), event, per)
    return float(np.asarray(fit.posterior.above(value))[place])


@cache
def _drivers() -> pd.DataFrame:
    rng = np.random.default_rng(9106)
    true = rng.normal(0.85, 0.03, 120).clip(0.7, 0.99)
    return pd.DataFrame(
        {"driver": _numbered("driver", 120), "parcels": 40, "in_time": rng.binomial(40, true)}
    )


@cache
def _season(seed: int) -> pd.DataFrame:
    """Return a season of another invented league: 90 hitters, and what their swings became."""
    rng = np.random.default_rng(seed)
    club, rank = np.repeat(np.arange(6), 15), np.tile(np.arange(15), 6)
    names = hitter_names(club + 10, rank, rng)
    swings = rng.integers(120, 620, 90)
    power = rng.normal(0, 1, 90)
    whiffs = rng.binomial(swings, (0.24 + 0.05 * power + rng.normal(0, 0.04, 90)).clip(0.08, 0.45))
    fouls = rng.binomial(swings - whiffs, (0.50 + 0.03 * power).clip(0.3, 0.7))
    in_play = swings - whiffs - fouls
    hard = rng.binomial(in_play, (0.37 + 0.09 * power + rng.normal(0, 0.02, 90)).clip(0.1, 0.7))
    counts = {"swings": swings, "whiffs": whiffs, "fouls": fouls, "in_play": in_play, "hard": hard}
    return pd.DataFrame({"hitter": names, **counts})


@cache
def _clinics() -> pd.DataFrame:
    rng = np.random.default_rng(9301)
    small = np.arange(160) % 4 < 3
    patients = np.where(small, rng.integers(25, 100, 160), rng.integers(400, 1500, 160))
    infections = rng.binomial(patients, np.where(small, 0.055, 0.040))
    return pd.DataFrame({"clinic": _numbered("clinic", 160), "patients": patients, "infections": infections})


def _drawn_rates(found: Any, of: Any, rng: np.random.Generator) -> NDArray[np.float64]:
    """Return draws of true rates, one row each, under Jeffreys' law (a half on either side)."""
    k, n = np.asarray(found, dtype=float)[:, None], np.asarray(of, dtype=float)[:, None]
    return rng.beta(k + 0.5, n - k + 0.5, (len(k), _DRAWS))


def _small_are_safer() -> float:
    """Return the chance that clinics below 100 patients have the lower rate, all of them together."""
    clinics = _clinics()
    sums = clinics.groupby(clinics["patients"] < 100)[["infections", "patients"]].sum()
    large, small = _drawn_rates(sums["infections"], sums["patients"], np.random.default_rng(1))
    return float((small < large).mean())


@cache
def _referees() -> pd.DataFrame:
    rng = np.random.default_rng(9432)
    true = rng.normal(0.52, 0.05, 40)
    return pd.DataFrame(
        {"referee": _numbered("referee", 40), "close_calls": 30, "for_home": rng.binomial(30, true)}
    )


@cache
def _demo() -> pd.DataFrame:
    columns = ["hitter_id", "hitter", "club", "swings", "whiffs", "fouls", "in_play", "hard"]
    return hitlab.tally(hitlab.demo_season()).table()[columns]


@cache
def _agents() -> pd.DataFrame:
    rng = np.random.default_rng(9513)
    true = rng.normal(0.62, 0.05, 60)
    calls = rng.integers(50, 110, 60), rng.integers(50, 110, 60)
    return pd.DataFrame(
        {
            "agent": _numbered("agent", 60),
            "calls_morning": calls[0],
            "calls_afternoon": calls[1],
            "solved_morning": rng.binomial(calls[0], true),
            "solved_afternoon": rng.binomial(calls[1], true),
        }
    )


def _go_together() -> float:
    agents = _agents()
    morning, afternoon = (
        pd.DataFrame(
            {"hitter": agents["agent"], "solved": agents[f"solved_{half}"], "calls": agents[f"calls_{half}"]}
        )
        for half in ("morning", "afternoon")
    )
    link = correlate_counts(
        morning,
        afternoon,
        RateOf("solved", "calls", words="in the morning"),
        RateOf("solved", "calls", words="in the afternoon"),
        apart="no call is in both halves of the day",
    )
    return float(hitlab.check_together(link).chance or 0.0)


@cache
def _on_third() -> pd.DataFrame:
    rng = np.random.default_rng(9803)
    there, elsewhere = rng.integers(30, 80, 90), rng.integers(200, 500, 90)
    true = rng.normal(0.14, 0.025, 90).clip(0.05)  # a runner on third changes nothing
    hard = rng.binomial(there, true)
    return pd.DataFrame(
        {
            "hitter": _numbered("hitter", 90),
            "swings_there": there,
            "hard_there": hard,
            "swings_elsewhere": elsewhere,
            "hard_elsewhere": rng.binomial(elsewhere, true),
        }
    )


def _more_with_third() -> float:
    table = _on_third()
    inside: Any = pd.DataFrame(
        {"hitter": table["hitter"], "swings": table["swings_there"], "hard": table["hard_there"]}
    )
    every = inside.assign(
        swings=inside["swings"] + table["swings_elsewhere"], hard=inside["hard"] + table["hard_elsewhere"]
    )
    claim = hitlab.check_split(every, "hitter 041", inside=inside, situation="with a runner on third")
    return float(claim.chance or 0.0)


@cache
def _exams() -> pd.DataFrame:
    """Return what the marker did: to all papers, and to those that a board had judged before."""
    rng = np.random.default_rng(9901)
    return pd.DataFrame(
        {
            "papers": ["all of the year", "known to be bad", "known to be good"],
            "marked": [600, 100, 200],
            "failed": [240, int(rng.binomial(100, 0.90)), int(rng.binomial(200, 0.25))],
        }
    )


def _fewer_than_a_third() -> float:
    exams = _exams()
    share, seen, false = _drawn_rates(exams["failed"], exams["marked"], np.random.default_rng(1))
    bad = np.clip((share - false) / (seen - false), 0, 1)
    return float((bad < 1 / 3).mean())


def _chance(claim: Any) -> float:
    return float(claim.chance)


CLAIMS: tuple[Heard, ...] = (
    Heard(
        _drivers,
        lambda: _above(_drivers(), "driver 028", "in_time", "parcels", 0.95),
        False,
        {
            "holds": "that takes what was seen for what is so. Forty parcels are few, and this driver "
            "was picked for them.",
            "open": "that leaves the other drivers out. What all of them do weighs more than forty parcels.",
        },
        "The record is pulled toward what all 120 drivers do, and the chance that this one's true share "
        "is 95 % or more is {}.",
    ),
    Heard(
        lambda: _season(9204),
        lambda: _chance(hitlab.check_leads(_season(9204), "Caius Soranobe", minimum=150)),
        True,
        {
            "holds": "that takes the first of a list for the best. Close behind are many, and one of "
            "them is enough.",
            "does not hold": "that takes doubt for a no. Nobody is likelier to be the best.",
        },
        "The chance that the first of the list truly is the best of it is {}: more than anybody's, and "
        "far from sure.",
    ),
    Heard(
        _clinics,
        _small_are_safer,
        False,
        {
            "holds": "that reads one end of the list alone. Look at the other end, and at how few "
            "patients stand behind both.",
            "open": "that stops at the single clinics. All small ones together have patients enough to tell.",
        },
        "Few patients throw rates to both ends of the list. All small clinics together have the higher "
        "rate; the chance that theirs is truly the lower one is {}.",
    ),
    Heard(
        lambda: _season(9205),
        lambda: _above(_season(9205), "Hedda Faleirol", "hard", "swings", 0.15),
        True,
        {
            "does not hold": "that pulls a long record as if it were a short one. How many swings are there?",
            "open": "that doubts more than it has to. Work out how much so long a record weighs by itself.",
        },
        "A record of nearly six hundred swings weighs more than the league's mean; pulled a little it is "
        "still above .150, with a chance of {}.",
    ),
    Heard(
        _referees,
        lambda: _above(_referees(), "referee 024", "for_home", "close_calls", 0.55),
        False,
        {
            "holds": "that forgets how this one was found. Forty were looked at, and the most striking "
            "one was named.",
            "does not hold": "that explains all of it by luck. The most striking of forty may differ as "
            "well.",
        },
        "Picked from forty, and thirty calls are few: the chance is {}.",
    ),
    Heard(
        _demo,
        lambda: _chance(
            hitlab.check_ahead(
                hitlab.tally(hitlab.demo_season()),
                "Lorcan Tsukitachi",
                "Tamsin Kolmbulo",
                event="whiffs",
                direction="less",
            )
        ),
        True,
        {
            "holds": "that compares two figures and not two doubts. Is the difference larger than luck "
            "makes?",
            "does not hold": "that takes a small difference for none. It points one way, and is within "
            "the noise.",
        },
        "The difference is within the noise of some five hundred swings each: the chance is {}.",
    ),
    Heard(
        _agents,
        _go_together,
        False,
        {
            "does not hold": "that takes a weak link of two noisy columns for none. How much of either "
            "is luck?",
            "open": "that asks sixty agents too little. Luck hides a link, and this one shows in spite "
            "of it.",
        },
        "Both columns are noisy, which flattens the link that is seen; the chance that the true ones go "
        "together is {}.",
    ),
    Heard(
        _on_third,
        _more_with_third,
        True,
        {
            "holds": "that counts one look where ninety were taken. The most striking gap of ninety is "
            "large without any cause.",
            "does not hold": "that takes what is unproven for untrue. The gap may be luck, and it may not.",
        },
        "The largest of ninety gaps, on 42 swings: the chance that anything is behind it is {}.",
    ),
    Heard(
        _exams,
        _fewer_than_a_third,
        False,
        {
            "does not hold": "that takes the marker's word for the truth. Good papers were failed, too; "
            "take these off.",
            "open": "that stops at the doubt. Take both errors out, with what is not known of them, and "
            "look at the upper end.",
        },
        "With both of the marker's errors taken out, and with what is not known of them, the chance is {}.",
    ),
    Heard(
        lambda: _season(9205),
        lambda: _chance(hitlab.check_ahead(_season(9205), "Per Iroruma", "Deniz Aldgarth")),
        True,
        {
            "holds": "that divides by balls in play, and the claim is about swings. Who misses puts "
            "nothing in play.",
            "open": "that weighs two questions against each other. Only one of them was asked: per swing.",
        },
        "Per swing it is the other way round, and over many swings: the chance is {}.",
    ),
)
"""In the order of the capstone."""


def capstone_table(number: int) -> pd.DataFrame:
    """Return what there is to look at for a claim.

    Parameters
    ----------
    number
        Of the claim, from 1 to 10.

    Returns
    -------
    pandas.DataFrame
        A copy, one row a driver, hitter, clinic, ...

    Raises
    ------
    HitlabError
        For any other number.
    """
    return _claim(number)[1].table().copy()


def _claim(number: Any) -> tuple[str, Heard]:
    if type(number) is not int or not 1 <= number <= len(CLAIMS):
        raise HitlabError(f"the claims have the numbers 1 to {len(CLAIMS)}")
    return f"capstone.{number:02d}", CLAIMS[number - 1]


def capstone(number: Any = ..., verdict: Any = ..., sure: Any = ...) -> Notice:
    """Mark the verdict on one of ten claims, with how sure you are; without a number, say how all went.

    Parameters
    ----------
    number
        Of the claim, from 1 to 10.
    verdict
        ``holds``, ``does not hold`` or ``open``; the dots mean "not answered yet".
    sure
        The chance, from 1/3 to 1, that this verdict is the right one. The first one counts.

    Returns
    -------
    Notice
        ``right``, ``not yet`` or ``not answered yet``; without a number ``progress``. Never raises.
    """
    try:
        if number is ...:
            return Notice("progress", (*_so_far(), *trouble_to_tell()))
        name, claim = _claim(number)
        if is_blank(verdict) or is_blank(sure):
            said = "put a verdict and how sure you are of it, from 1/3 to 1, in place of the dots."
            return Notice(NOT_ANSWERED, (said,))
        word, chance = read_verdict(verdict, sure)
        notice = mark(_exercise(name, claim), word)
        if notice.state not in (RIGHT, NOT_YET):
            return notice
        kept = read_all()["exercises"].get(name, {})
        if kept.get("state") != RIGHT:
            change("exercises", name, **tried_once(kept, notice, chance))
        return replace(notice, lines=(*notice.lines, *_first_score(name), *trouble_to_tell()))
    except UnreadableAnswerError as error:
        return Notice(NOT_YET, (f"{error}.",))
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    except Exception as error:  # what was given may raise anything; this never does
        return Notice(NOT_YET, (f"that cannot be read ({type(error).__name__}).",))


@cache
def _worked_out(name: str) -> float:
    return CLAIMS[int(name.partition(".")[2]) - 1].chance()


def _exercise(name: str, claim: Heard) -> Exercise:
    """Return a claim as an exercise of three choices, worked out now."""
    chance = _worked_out(name)
    return Exercise(
        name,
        "fault",
        Choice(verdict_on(chance, HOLDS_AT, FAILS_AT), {word: word for word in VERDICTS}),
        tuple(Wrong(word, says) for word, says in claim.mistakes.items()),
        ("Which lesson is this one of?", "What is known, of how many, and how was it picked?"),
        claim.because.format(chance_text(chance)),
        claim.because.format(chance_text(chance)),
        minutes=6,
    )


def _first(name: str) -> float | None:
    """Return the score of the first verdict on a claim; none where it is not known."""
    entry = read_all()["exercises"].get(name, {})
    sure, state = entry.get("sure"), entry.get("first_state")
    if state not in (RIGHT, NOT_YET) or type(sure) not in (int, float) or not 0 <= sure <= 1:
        return None
    return brier_score(sure, state == RIGHT)


def _first_score(name: str) -> tuple[str, ...]:
    score = _first(name)
    return () if score is None else (f"Your first verdict scores {rate_text(score)}; 0 is best.",)


def _so_far() -> tuple[str, ...]:
    names = [f"capstone.{place:02d}" for place in range(1, len(CLAIMS) + 1)]
    scores = [score for name in names if (score := _first(name)) is not None]
    if not scores:
        return (f"no verdict yet; there are {len(CLAIMS)} claims.",)
    kept = read_all()["exercises"]
    right = sum(kept[name]["first_state"] == RIGHT for name in names if _first(name) is not None)
    blind = 1 / len(VERDICTS)
    guess = blind * brier_score(blind, True) + (1 - blind) * brier_score(blind, False)
    return (
        f"{len(scores)} of {len(CLAIMS)} claims judged, {right} of them rightly at first ("
        f"{percent(right / len(scores))}).",
        f"Mean score of the first verdicts: {rate_text(sum(scores) / len(scores))}. 0 is best; who guesses "
        f"blindly, and says so, gets {rate_text(guess)}.",
    )
