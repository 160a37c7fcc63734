"""Lesson 13, chart your own team: what a tick is worth, and what is left of it in a club of twelve."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.exercises import frames, patterns
from hitlab.exercises.definitions import (
    Again,
    Bounds,
    Choice,
    Code,
    Exercise,
    Lesson,
    Number,
    Point,
    Sentence,
    TooMuch,
    Wrong,
    others,
)
from hitlab.exercises.shared import fresh
from hitlab.pitches.schema import SWING_OUTCOMES
from hitlab.spoken import number_spoken
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
_SHARES = {"ball": 0.36, "called strike": 0.16, "whiff": 0.11, "foul": 0.17, "in play": 0.20}
_IN_PLAY = _SHARES["in play"] / sum(_SHARES[one] for one in SWING_OUTCOMES if one in _SHARES)
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
        what = str(rng.choice(list(_SHARES), p=list(_SHARES.values())))
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


def correct(ticked, judged, hard_ticked, hard, soft_unticked, soft):  # type: ignore[no-untyped-def]
    sensitivity = hard_ticked / hard
    specificity = soft_unticked / soft
    share = ticked / judged
    rate = (share + specificity - 1) / (sensitivity + specificity - 1)
    return min(max(rate, 0), 1)


def _fresh_chart(rng: np.random.Generator) -> tuple[int, ...]:
    """Return a chart that no cell shows: ticked, judged, hard ticked, hard, others unticked, others."""
    judged, hard, soft = int(rng.integers(8, 40)), int(rng.integers(20, 60)), int(rng.integers(40, 90))
    hits, false = rng.uniform(0.75, 0.95), rng.uniform(0.05, 0.25)
    really = rng.binomial(judged, rng.choice([0.05, 0.3, 0.4]))
    ticked = rng.binomial(really, hits) + rng.binomial(judged - really, false)
    four = rng.binomial(hard, hits), hard, rng.binomial(soft, 1 - false), soft
    return (int(ticked), judged, *(int(one) for one in four))


def _by_hand(share: float, sensitivity: float, specificity: float) -> float:
    return (share + specificity - 1) / (sensitivity + specificity - 1)


def _as_ticked(ticked: int, judged: int, *_: int) -> float:
    return ticked / judged


def _unbounded(ticked: int, judged: int, a: int, hard: int, d: int, soft: int) -> float:
    return _by_hand(ticked / judged, a / hard, d / soft)


def _false_ones_off(ticked: int, judged: int, a: int, hard: int, d: int, soft: int) -> float:
    return max(ticked / judged + d / soft - 1, 0)


def _missed_ones_back(ticked: int, judged: int, a: int, hard: int, d: int, soft: int) -> float:
    return min(ticked / judged / (a / hard), 1)


def _places_changed(ticked: int, judged: int, a: int, hard: int, d: int, soft: int) -> float:
    return float(np.clip(_by_hand(ticked / judged, d / soft, a / hard), 0, 1))


def kappa_by_shuffling(first, second, rng):  # type: ignore[no-untyped-def]
    agree = (first == second).mean()
    by_luck = []
    for _ in range(500):
        blind = rng.permutation(second)
        by_luck.append((first == blind).mean())
    return (agree - np.mean(by_luck)) / (1 - np.mean(by_luck))


_Ticks = NDArray[np.bool_]


def _two_sheets(rng: np.random.Generator) -> tuple[_Ticks, _Ticks, np.random.Generator]:
    balls = int(rng.integers(120, 240))
    first = rng.random(balls) < rng.uniform(0.3, 0.4)
    second = np.where(rng.random(balls) < 0.7, first, False) & (rng.random(balls) < 0.7)
    return first, second, fresh(rng)


def _agree_and_luck(first: _Ticks, second: _Ticks, rng: np.random.Generator) -> tuple[float, float]:
    blind = [(first == rng.permutation(second)).mean() for _ in range(500)]
    return float((first == second).mean()), float(np.mean(blind))


def _way_gone(first: _Ticks, second: _Ticks, rng: np.random.Generator) -> float:
    agree, luck = _agree_and_luck(first, second, rng)
    return agree - luck


def _divided_by_the_rest(first: _Ticks, second: _Ticks, rng: np.random.Generator) -> float:
    agree, luck = _agree_and_luck(first, second, rng)
    return (agree - luck) / (1 - agree)


def _others_ticks_alone(first: _Ticks, second: _Ticks, rng: np.random.Generator) -> float:
    agree = float((first == second).mean())
    _, luck = _agree_and_luck(second, second, rng)
    return (agree - luck) / (1 - luck)


def _own_ticks_shuffled(first: _Ticks, second: _Ticks, rng: np.random.Generator) -> float:
    agree = float((first == second).mean())
    _, luck = _agree_and_luck(first, first, rng)
    return (agree - luck) / (1 - luck)


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


HARD, SWINGS = 9, 28
"""Her record on the first charter's sheet: ticks and swings."""

_CHANCE = 0.18

_SHE = r"(?:dalia tavenzal|dalia|(?<!dalia )tavenzal|she)"
_TURNED_ROUND = (
    *patterns.takes_first_for_best(THE_HITTER),
    *patterns.makes_likely(
        rf"\b{_SHE}(?: truly| really)?(?:'s| is| was| to be| being)? "
        r"(?:(?:truly|really|clearly|surely|indeed|still) )*(?:the |our )?(?:[\w'-]+'s "
        r")?(?:(?:very )?best|number one)\b|"
        rf"\b{_SHE} (?:truly|really) (?:leads|is (?:the )?first|tops)\b"
    ),
    patterns.turned_over(HARD, SWINGS),
    TooMuch(
        r"\b(?:last|lowest|bottom|worst|weakest|poorest|fewest|second|third|least)(?: place| rate| hitter)? "
        r"(?:on|of|in|among)\b|"
        r"\b(?:fewer|less|lower) than (?:any|all|every|most|the (?:other|rest))\b|"
        rf"\b(?:unlikely|doubtful|doubt) (?:(?!{_SHE}\b)[^.;:]){{0,50}}?\bbetter\b|"
        r"\b(?:trails?|trailing|is behind) (?:all |most |many )?(?:of )?(?:the |our )?"
        r"(?:others?|team|rest|club)\b",
        patterns.TURNED,
    ),
    TooMuch(
        r"\b(?:nobody|no one|none|no other \w+)(?! (?:knows|can|could))\b[^.;:]{0,40}"
        r"\b(?:likely|probably)\b[^.;:]{0,15}\bbetter\b",
        patterns.TURNED,
    ),
    patterns.NO_LUCK,
)

_OF_US = frames.fill(
    "of the our on in my team club others? rest her teammates hitters all 's us 12 hard balls hits"
)
_CHARTS = r"(?:(?:our|the|my)(?: own)? )?(?:charts?|charting|sheet|eyes?|count|notes)"
_FRAMES = (
    *frames.record(HARD, SWINGS, "swings", rf"(?:as )?{frames.HARD}"),
    r"(?:kept|charted|ticked|counted|judged) by (?:eye|hand|our charter)|(?:hand )?kept charts?|"
    r"our charter (?:ticked|saw)|"
    r"(?<=<a> )in front(?= with)",
    *frames.most_often("hit hits hard balls contact rate swings", "hitters regulars them all team 12 others"),
    *frames.asked(
        r"(?:the )?best(?: (?:of|hitter|one|them|all|the|on|team|in|among|us))*|number one|better|leads|"
        r"that holds"
    ),
    rf"(?:<a>|she|{SWINGS} swings|{SWINGS} swings hard and|,)(?: (?:is|stands|sits|'s|now))* (?:leads?|"
    rf"tops?|first|on top|ahead|number one){_OF_US}",
    rf"puts (?:her|<a>) (?:first|ahead|on top){_OF_US}|(?:most|best|top rate){_OF_US}",
    frames.unbeaten("on in our the team sheet club of 12 other hard hit balls it"),
    rf"(?:nobody|no one){_OF_US} (?:hits|has|hit)(?: it| more)*(?: hard)?(?: more often)? than <a>",
    r"more(?: often)? than (?:anybody|anyone|any other|anybody 's rate|any of the other 11)(?: "
    rf"else)?{_OF_US}",
    r"of the (?:12|team|club)|the other 11|the others|(?:as far as|by|from|on|according to|going by|"
    rf"with) {_CHARTS}(?: goes| say| says)?",
    rf"(?:our|the|my)(?: own)? {_CHARTS}(?: says?| has| shows)?|(?:by|with) (?:hand|eye)|we keep(?: the "
    r"charts)?|(?:we|as we|as) charted(?: it| by| at)*|charted by eye",
    rf"the (?:highest|best|top) (?:rate|share|record|mark){_OF_US}",
    r"ticked|(?:about )?one in 5|18%|so few swings|marked",
    r"does not (?:make|mean|say|show)(?: (?:that|us|she|<a>|her|is))*(?: the)? best|(?:whether|if) that "
    r"makes her(?: the)? best",
    r"(?:somebody else|another (?:hitter|one))(?: of the (?:12|team))? is(?: truly| really)? better|more "
    r"likely than not|not likely(?= that)",
    r"luck (?:may|might|could) have helped|if that holds",
    r"(?:counted|judged|seen|ticked) by (?:eye|hand)(?: and not by radar)?|(?<=eye , )no radar|"
    r"(?:more often|more per swing|more) than any(?: of (?:her|the))?(?: other)?(?: 11)? teammates?",
    r"(?:the )?most on the team|(?<=, )tops on (?:the|our) team|(?:but )?it is more likely that somebody "
    r"else is truly first|"
    r"there is only about one chance in 5 that nobody really hits it hard more often|one of our assistants "
    r"ticked",
    r"nobody on our team has more hard balls per swing on the sheet than <a>|"
    r"is first of 12|there is only(?: about)? an? 18% chance that she is truly the best|"
    r"(?:it is )?too early to call her the best|(?:at the top|first) of our team|though that may be luck",
    frames.MAY_BE_LUCK,
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "13.by-luck",
        "predict",
        Bounds(lambda: 100 * _luck(_both_ticked()), widest=14, per_cent=True),
        (
            Wrong(
                (0, 14),
                "far more. Where both leave most balls unticked, they agree on many of them without looking.",
                when=lambda ends: ends[1] < 100 * _luck(_both_ticked()),
            ),
            Wrong(
                (68, 80),
                "that is about what they reached with open eyes. With closed ones it has to be less.",
                when=lambda ends: ends[0] > 100 * _luck(_both_ticked()),
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
        "13.by-shuffling",
        "complete",
        Code(kappa_by_shuffling, _two_sheets, tolerance=0.02),
        (
            Wrong(
                _others_ticks_alone,
                "that holds the second against a blind self. Blind ticks are held against those of the "
                "other charter.",
            ),
            Wrong(
                _own_ticks_shuffled,
                "you shuffled the first one's ticks, so the first is held against a blind self. It is "
                "the other one's ticks that have to be spread blindly.",
            ),
            Wrong(_way_gone, "that is the way they went. Divide it by the way there was to go."),
            Wrong(
                _divided_by_the_rest,
                "you divided by what they left out. The whole way begins at luck, not where they arrived.",
            ),
        ),
        (
            "Blind ticks are the second one's, in a random order: as many as before, on other balls.",
            "rng.permutation(second), held against first; and below the line 1 less the mean of by_luck.",
        ),
        "Shuffle the second's ticks, see how often the first agrees with them, and do so 500 times. That "
        "is luck; kappa is the share of the way from there to 1.",
        "no formula was needed, and the same works where people sort into five kinds instead of two.",
        minutes=5,
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
                float(_SWUNG[1, 1] / _SWUNG[1].sum()),
                "that is how many of the first one's yes the second shares. Kappa goes by all hundred.",
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
        core=False,
    ),
    Exercise(
        "13.out-of-what",
        "denominator",
        Choice(
            "d",
            {
                "a": "the balls in play that he ticked",
                "b": "the balls in play that he judged",
                "c": "the swings that he wrote down",
                "d": "the balls in play that were hard",
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
        "write",
        Code(correct, _fresh_chart, tolerance=5e-4, cases=30),
        (
            Wrong(_as_ticked, "that is the share he ticked. Neither of his two errors is taken out."),
            Wrong(
                _unbounded,
                "nearly: on some charts that gives less than none. Return 0 there, and 1 where it is above.",
            ),
            Wrong(
                _false_ones_off,
                "the false ticks are out. The hard balls that he missed are still missing; divide.",
            ),
            Wrong(
                _missed_ones_back,
                "the missed ones are back in. The false ticks are still there; take them off first.",
            ),
            Wrong(
                _places_changed,
                "sensitivity and specificity have changed places: hard balls go with the first.",
            ),
        ),
        (
            "Sensitivity is hard_ticked / hard, specificity soft_unticked / soft. Then the formula above.",
            "rate = (share + specificity - 1) / (sensitivity + specificity - 1); return min(max(rate, 0), 1)",
        ),
        "Two shares from the radar's four counts, the share that is ticked, the formula, and nothing "
        "below 0 or above 1.",
        "your function works on charts that you have never seen. With yours it will, too.",
        minutes=7,
    ),
    Exercise(
        "13.it-is-certain",
        "fault",
        Choice(
            "a",
            {
                "a": "one ball more is a difference that luck makes, with any eye",
                "b": "an eye that errs can order nobody, so the sheet says nothing of the two",
                "c": "the errors were counted on one day, and should not be taken off the other",
                "d": "ticks belong over balls in play, and over those Dalia would surely be first",
            },
        ),
        (
            Wrong("b", "an eye whose errors are known still tells something. How much, the interval says."),
            Wrong("c", "it is the same eye on both days. What is not known of it makes the interval longer."),
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
        "his list was too long, hers too short. Corrected, they change places: so much is in doubt after "
        "one day with a radar.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "13.the-wrong-range",
        "fault",
        Choice(
            "c",
            {
                "a": "what is usual has to be computed from the sheet, and not stated",
                "b": "twelve hitters are too few to say that a range does not fit",
                "c": "that is usual for balls in play, and the rate here is per swing",
                "d": "the range is too narrow, as hitters of a league differ by more",
            },
        ),
        (
            Wrong("a", "it may, if it is said aloud and before looking. This one is of another rate."),
            Wrong("b", "for a small gap they are. This one is larger than luck makes even with twelve."),
            Wrong("d", "a wider one around the same middle would still be of something else."),
        ),
        (
            "Where have you seen a share between 30 and 45 % in this lesson?",
            "What did we divide by there, and what do we divide by here?",
        ),
        "About two swings in five put the ball in play. So a range for balls in play is more than twice "
        "as high as one for swings.",
        "the package cannot know what is usual. But it can see that a team is somewhere else.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "13.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point(
                    "what",
                    "that hard-hit balls were counted",
                    patterns.HARD_HIT,
                ),
                Point(
                    "out of what",
                    "her swings, with their number",
                    patterns.swings_of(SWINGS),
                ),
                Point(
                    "how seen",
                    "that an eye counted them, and no device",
                    (
                        r"\bchart",
                        r"\b(?:tick|mark|jot|not)ed\b|\bticks?\b|\bwr(?:o|i)te|\bput down\b",
                        r"\beyes?\b",
                        r"\bby (?:hand|sight)\b",
                        r"\b(?:without|no|not by|not a) (?:a )?radar\b",
                        r"\b(?:our|my|the) (?:own )?(?:sheet|notes?|count)\b",
                    ),
                ),
                Point(
                    "against whom",
                    "the team, or the other hitters of it",
                    (
                        r"\bteam",
                        r"\bclub\b|\bsquad\b|\bside\b",
                        patterns.number(len(_HITTERS)),
                        r"\bothers?\b|\brest\b",
                        r"\b(?:any|every|no|some)(?:one|body)\b|\bno one\b",
                        r"\bhitters\b",
                        r"\bgroup\b",
                    ),
                ),
                Point(
                    "how sure",
                    "a chance, or that it is open",
                    (
                        *patterns.DOUBT,
                        patterns.share(_CHANCE, 0.02),
                        patterns.chances_in(_CHANCE),
                        *patterns.LIKELY,
                        r"\bchances? (?:that|of (?:being|her)|is|are|she)\b",
                        r"\bwhether\b",
                        r"\bearly\b",
                        r"\bmay (?:or may not|not|truly be|really be)\b",
                        r"\bpartly luck\b|\bluck\b",
                        r"\bsays? (?:little|not much)\b|\bsmall sample\b",
                    ),
                ),
            ),
            f"By our own charting Dalia leads the team, with {number_spoken(HARD)} hard balls in {SWINGS} "
            "swings; whether she truly is the best is open.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "one of 12 hitters",
                "11 others",
                "18%",
                "an 18% chance",
                "9 times",
                "one in 5",
                "not sure that she is the best",
                "we do not know if she is the best",
                "the chance that she truly leads is 18%",
                "most likely somebody else is better",
                "more likely that somebody else is first",
                "only one chance in five that nobody hits it more often",
                "we do not know",
                "one in five that she is best",
                "it is more likely than not that another one is better",
                "somebody else is more likely truly first",
                "more likely that somebody else is truly the best of all others",
                "if she is best is open",
                "whether she is best",
            ),
            figures=(HARD, SWINGS, len(_HITTERS), len(_HITTERS) - 1, HARD / SWINGS, _CHANCE),
            too_much=(
                *_TURNED_ROUND,
                TooMuch(
                    r"(?<!whether )(?<!that )(?<!if )\b(?:nobody|no one) (?:(?:else )?(?:on|in) "
                    r"(?:this|the|our) team |else )?(?:hits|does|strikes)",
                    "that settles what is open",
                ),
                TooMuch(
                    r"\b(?:her|his|their) (?:own )?(?:chart|sheet|count\b|eyes?\b)",
                    "that says she charted herself, and we did",
                ),
                TooMuch(
                    r"\bradar (?:says|shows|showed|measured|clocked|confirm\w*)|"
                    r"\b(?:measured|clocked|confirmed) (?:by|with|on) (?:the |a |our )?radar",
                    "that says a radar measured them, and they were ticked by eye",
                ),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:will|is going to|is sure to) (?:\w+ly )?"
                    r"(?:stay|remain|keep|lead|hit|be|end|finish|last)\b",
                    "that promises what comes, and a sheet tells what was",
                ),
            ),
            good=(
                "Our charter ticked nine hard balls in Dalia Tavenzal's 28 swings, more than anybody's "
                "rate on the team, but it is too early to say that she is the best.",
                "Going by our charts, Dalia's nine hard hits in twenty-eight swings top the team so far; "
                "the chance that she really is number one is about 18 percent.",
                "Tavenzal: 9 hard in 28 swings by eye, first of the twelve, and more likely than not "
                "somebody else is truly better.",
                "Nine of 28 swings hard by our own count puts Dalia ahead of the others, and that may "
                "well be luck.",
                "Our charter has Dalia Tavenzal with 9 hard-hit balls in 28 swings, best on the team, but "
                "the odds are someone else is really better.",
                "By eye, Dalia hit nine of 28 swings hard, the top rate on the club, with roughly a one in "
                "five chance that she is truly best.",
            ),
            bad=(
                (
                    "By our own charting she leads the team, with nine hard balls in 28 swings; the rest "
                    "is open.",
                    "who",
                ),
                (
                    "Dalia Tavenzal leads the team with nine hard balls in 28 swings, and it is too "
                    "early to say more.",
                    "how seen",
                ),
                (
                    "By our charting Dalia leads the team with nine hard balls, and whether that lasts "
                    "is open.",
                    "out of what",
                ),
                (
                    "Our charter ticked nine hard balls in Dalia Tavenzal's 28 swings, the most on the team.",
                    "how sure",
                ),
                (
                    "Our charter ticked nine hard balls in Dalia's 28 swings, and what that is worth is "
                    "open.",
                    "against whom",
                ),
                (
                    "By our charts nobody on this team hits it hard more often than Dalia, nine in 28 "
                    "swings; it is early.",
                    "too much",
                ),
                (
                    "Nine of Dalia's 28 swings were hard, the radar shows, and whether she leads the "
                    "team by chart is open.",
                    "too much",
                ),
                (
                    "Our chart has Dalia at nine hard balls in 28 swings, probably first of twelve, and "
                    "she will stay there.",
                    "too much",
                ),
                (
                    "By our own charting Dalia leads the team, with nine hard balls in 28 swings; the chance "
                    "that she truly is the best is 85 percent.",
                    "too much",
                ),
                (
                    "By our own charting Dalia leads the team, with nine hard balls in 28 swings; the chance "
                    "that she truly is the best is 82 percent.",
                    "too much",
                ),
                (
                    "By our charting Dalia has nine hard balls in 28 swings, last on the team, but that is "
                    "early.",
                    "too much",
                ),
                (
                    "By our own charting Dalia leads the team with 20 hard balls in 28 swings, though that "
                    "may be luck.",
                    "too much",
                ),
                (
                    "By our charting Dalia is first of twelve, nine hard in 28 swings, and likely the best "
                    "hitter on the team.",
                    "too much",
                ),
                (
                    "By our charting Dalia leads the team, nine hard in 28 swings, most likely thanks to a "
                    "new swing.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "What was counted, out of how many swings, and by whose eye? Then who she is ahead of, and "
            "what is open.",
            "For instance: by our charting she leads the team, so many in so many swings; whether she "
            "truly is the best, who knows?",
        ),
        "Name, hard balls, swings, that they were charted by eye, the team, and that it is open; nothing "
        "about what comes, and no radar.",
        "whoever hears that knows what you have, and what you do not have.",
        minutes=4,
    ),
)


def _again_sorted(rng: np.random.Generator) -> tuple[str, Exercise]:
    really, seen, false = (
        float(rng.choice(list(values))) for values in ((0.1, 0.15, 0.25, 0.4, 0.6), (0.8, 0.9), (0.05, 0.1))
    )
    flagged = really * seen + (1 - really) * false
    text = (
        "A filter takes {} of all mails for junk. Tried on known ones it took {} of the junk for junk, "
        "and {} of the others. What share of the mails is truly junk?",
        "A test finds something in {} of all patients. Tried on known cases it found something in {} of "
        "the sick, and in {} of the others. What share of the patients is truly sick?",
        "A marker fails {} of all papers. Tried on papers judged with care, {} of the bad ones failed, "
        "and {} of the others. What share of the papers is truly bad?",
    )[int(rng.integers(3))]
    shown = (f"{100 * one:g} %" for one in (flagged, seen, false))
    return (
        f"{text.format(*shown)} A share from 0 to 1, three decimals.",
        Exercise(
            "13.again-sorted",
            "compute",
            Number(really, tolerance=0.004, share=True),
            (
                Wrong(flagged, "that is what was sorted out, with both kinds of errors in it."),
                Wrong(
                    flagged - false,
                    "the false alarms are off, roughly. Now those that passed: divide.",
                ),
                Wrong(
                    flagged / seen, "that puts back what passed. The false alarms have to come off before."
                ),
            ),
            ("As for the ticks: two errors, one formula.", "(share - false) / (seen - false)."),
            f"({flagged:.4f} - {false:.2f}) / ({seen:.1f} - {false:.2f}) is {really:.3f}.",
            "whoever knows how a sorter errs can count without a better one.",
            minutes=1,
        ),
    )


def _again_agree(rng: np.random.Generator) -> tuple[str, Exercise]:
    who, what = (
        ("Two referees judged the same 100 scenes", "called a foul on {} of them"),
        ("Two doctors looked at the same 100 pictures", "found a break on {} of them"),
        ("Two teachers marked the same 100 papers", "failed {} of them"),
    )[int(rng.integers(3))]
    few = int(rng.integers(3, 6))
    agreed, rare = 100 - 2 * few, bool(rng.random() < 0.5)
    often = few if rare else 50
    luck = (often / 100) ** 2 + (1 - often / 100) ** 2
    right = "a" if rare else "b"
    told = f"with {often} of 100 each, spread blindly"
    why = {
        "a": f"work it out: how often would they say the same {told}? Far less.",
        "b": f"work it out: how often would they say the same {told}? About as often.",
        "c": "that they say the same does not make it true; both may make one mistake.",
    }
    return (
        f"{who}. Each {what.format(often)}, and they said the same of {agreed}. What does that tell?",
        Exercise(
            "13.again-agree",
            "denominator",
            Choice(
                right,
                {
                    "a": "hardly anything: two who judge blindly would agree about as often",
                    "b": "that they judge much alike: blindly they would agree far less often",
                    "c": "that they are right that often, as two heads seldom err together",
                },
            ),
            others(why, right),
            ("How often would two agree who do not look?", "Both yes, or both no: two products, added."),
            f"Blindly they would agree on {percent(luck)}, and they agreed on {percent(agreed / 100)}.",
            f"blindly they would agree on {percent(luck)}.",
            minutes=1,
        ),
    )


def _ticked_shares() -> Floats:
    table = _both_ticked() / _both_ticked().sum()
    return np.array([table[1].sum(), table[:, 1].sum()])


LESSON = Lesson(
    "13",
    "Chart your own team",
    _verdict,
    f"{number_spoken(HARD).capitalize()} ticks in {SWINGS} swings, by an eye that ticks one other ball in "
    "five, leave it likelier that somebody else is the best.",
    EXERCISES,
    (Again("13.again-sorted", _again_sorted), Again("13.again-agree", _again_agree)),
)
