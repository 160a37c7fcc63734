"""Lesson 4, say how sure: what a range promises, and how ranges from few hitters keep the promise."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

import hitlab
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
from hitlab.wording import percent

__all__ = [
    "ABOUT",
    "CLUBS",
    "LESSON",
    "MEANS",
    "SEED",
    "SPREADS",
    "WAYS",
    "coverage",
    "lengths",
    "made_up_club",
    "ranges_that_hold",
]

CLUBS, SEED = 60, 4
"""How many clubs the lesson makes up, and where its random numbers start."""

MEANS, SPREADS = (0.10, 0.18), (0.01, 0.04)
"""Between which a made-up club's law is drawn: its mean, and its standard deviation."""

THE_CLUB, KEPT, BEFORE = "Westering Ploughs", 12, pd.Timestamp(2031, 5, 1)
ABOUT = 0.85, 0.95
"""What the claim's "about nine in ten" means, fixed before any club was drawn."""

FIRST_SWINGS, FIRST_LENGTH, WANTED_LENGTH = 60, 0.160, 0.040
PARCELS, IN_TIME, PROMISED = 60, 42, 0.90
THE_HITTER, HARD, SWINGS, LOW, HIGH = "Basil Carvenzal", 35, 212, 0.125, 0.164  # of the sentence for air
SEEN, LEVEL = 0.165, 0.90  # his record, and how often such ranges are right

Floats = NDArray[np.float64]


def made_up_club(rng: np.random.Generator, hitters: int = 15) -> tuple[pd.DataFrame, Floats]:
    """Draw a club: its law, true rates from it, 20 to 200 swings each, and which were hard.

    The law's mean is drawn evenly from ``MEANS``, its standard deviation from ``SPREADS``; true rates follow
    a Beta law.

    Returns
    -------
    sheet, true
        One row a hitter (``hitter``, ``hard``, ``swings``), and the true rates in the same order.
    """
    mean, spread = rng.uniform(*MEANS), rng.uniform(*SPREADS)
    size = mean * (1 - mean) / spread**2 - 1
    true = rng.beta(mean * size, (1 - mean) * size, hitters)
    swings = rng.integers(20, 201, hitters)
    who = [f"hitter {number + 1}" for number in range(hitters)]
    return pd.DataFrame({"hitter": who, "hard": rng.binomial(swings, true), "swings": swings}), true


def _own_ranges(hard: Floats, swings: Floats) -> tuple[Floats, Floats]:
    low, high = hitlab.counting.share_interval(hard, swings, level=0.90)
    return np.asarray(low), np.asarray(high)


def _quick_ranges(hard: Floats, swings: Floats) -> tuple[Floats, Floats]:
    from scipy.special import betaincinv

    from hitlab.estimates.shrinkage import fit_beta_binomial

    a, b = fit_beta_binomial(hard, swings)
    ends = (betaincinv(a + hard, b + swings - hard, end) for end in (0.05, 0.95))
    return next(ends), next(ends)


def _careful_ranges(hard: Floats, swings: Floats) -> tuple[Floats, Floats]:
    from hitlab.estimates.designs import average
    from hitlab.estimates.questions import questions

    laws = average(hard, swings, questions(swings, by_exposure=False))
    return laws.posterior(hard, swings).interval(0.90)


WAYS: dict[str, Callable[[Floats, Floats], tuple[Floats, Floats]]] = {
    "own swings": _own_ranges,
    "quick": _quick_ranges,
    "careful": _careful_ranges,
}
"""The ranges alone of ``rate`` and of ``shrink``, which the lesson calls, in half of their time."""


@cache
def _club_by_club(way: str) -> tuple[Floats, Floats]:
    """Return for each made-up club the share of ranges that hold the true rate, and their mean length."""
    rng = np.random.default_rng(SEED)
    held, long = [], []
    for _ in range(CLUBS):
        sheet, true = made_up_club(rng)
        low, high = WAYS[way](sheet["hard"].to_numpy(float), sheet["swings"].to_numpy(float))
        held.append(((low <= true) & (true <= high)).mean())
        long.append((high - low).mean())
    return np.array(held), np.array(long)


def coverage(way: str) -> float:
    """Return the share of 90 % ranges that hold the true rate, over the lesson's made-up clubs.

    Parameters
    ----------
    way
        ``own swings``, ``quick`` (one law taken for certain) or ``careful`` (all laws that fit).
    """
    return float(_club_by_club(way)[0].mean())


def lengths(way: str) -> float:
    """Return the mean length of these ranges, by the same names."""
    return float(_club_by_club(way)[1].mean())


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


def _verdict() -> str:
    """Hold both halves of the claim against the made-up clubs: kept within what was named, and shorter."""
    held = _club_by_club("careful")[0]
    error = 2 * float(held.std(ddof=1)) / np.sqrt(CLUBS)  # ranges of one club share their law
    low, high = float(held.mean()) - error, float(held.mean()) + error
    least, most = ABOUT
    shorter = lengths("careful") < lengths("own swings")
    if least <= low and high <= most and shorter:
        return "holds"
    return "does not hold" if high < least or low > most or not shorter else "open"


def kept(rate, swings, make, rng):  # type: ignore[no-untyped-def]
    hard = rng.binomial(swings, rate, 2_000)
    low, high = make(hard, swings)
    return ((low <= rate) & (rate <= high)).mean()


_kept: Callable[..., Any] = kept


def _promise_to_count(
    rng: np.random.Generator,
) -> tuple[float, int, Callable[..., Any], np.random.Generator]:
    level = float(rng.choice([0.5, 0.7, 0.8, 0.9]))

    def make(hard: Any, swings: int) -> tuple[Floats, Floats]:
        low, high = hitlab.counting.share_interval(hard, swings, level=level)
        return np.asarray(low), np.asarray(high)

    return (
        float(rng.uniform(0.1, 0.3)),
        int(rng.integers(60, 300)),
        make,
        fresh(rng),
    )


def _kept_surely(rate: float, swings: int, make: Callable[..., Any], _: np.random.Generator) -> float:
    from scipy.special import bdtr

    every = np.arange(swings + 1)
    low, high = make(every, swings)
    law = np.diff(bdtr(every, swings, rate), prepend=0.0)
    return float(law @ ((low <= rate) & (rate <= high)))


def _one_season(rate: float, swings: int, make: Callable[..., Any], rng: np.random.Generator) -> float:
    low, high = make(rng.binomial(swings, rate), swings)
    return float(low <= rate <= high)


def _missed(rate: float, swings: int, make: Callable[..., Any], rng: np.random.Generator) -> float:
    return float(1 - _kept(rate, swings, make, rng))


def _holds_its_record(rate: float, swings: int, make: Callable[..., Any], rng: np.random.Generator) -> float:
    hard = rng.binomial(swings, rate, 2_000)
    low, high = make(hard, swings)
    return float(((low <= hard / swings) & (hard / swings <= high)).mean())


def _one_end(rate: float, swings: int, make: Callable[..., Any], rng: np.random.Generator) -> float:
    low, _ = make(rng.binomial(swings, rate, 2_000), swings)
    return float((low <= rate).mean())


def _so_many(rate: float, swings: int, make: Callable[..., Any], rng: np.random.Generator) -> float:
    return float(2_000 * _kept(rate, swings, make, rng))


def _mean_length(rate: float, swings: int, make: Callable[..., Any], rng: np.random.Generator) -> float:
    low, high = make(rng.binomial(swings, rate, 2_000), swings)
    return float((high - low).mean())


def all_laws(means, doubts, weights):  # type: ignore[no-untyped-def]
    share = weights / weights.sum()
    mean = (share * means).sum()
    within = (share * doubts**2).sum()
    between = (share * (means - mean) ** 2).sum()
    return mean, (within + between) ** 0.5


_all_laws: Callable[..., Any] = all_laws


def _laws_to_weigh(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    laws = int(rng.integers(3, 7))
    return rng.uniform(0.08, 0.2, laws), rng.uniform(0.01, 0.03, laws), rng.uniform(0.5, 9, laws)


def _within_only(means: np.ndarray, doubts: np.ndarray, weights: np.ndarray) -> tuple[float, float]:
    share = weights / weights.sum()
    return (share * means).sum(), (share * doubts**2).sum() ** 0.5


def _roots_added(means: np.ndarray, doubts: np.ndarray, weights: np.ndarray) -> tuple[float, float]:
    mean, within = _within_only(means, doubts, weights)
    return mean, _all_laws(means, 0 * doubts, weights)[1] + within


def _no_root(means: np.ndarray, doubts: np.ndarray, weights: np.ndarray) -> tuple[float, float]:
    mean, doubt = _all_laws(means, doubts, weights)
    return mean, doubt**2


def _all_alike(means: np.ndarray, doubts: np.ndarray, weights: np.ndarray) -> tuple[float, float]:
    mean, doubt = _all_laws(means, doubts, np.ones_like(weights))
    return mean, doubt


def _from_nothing(means: np.ndarray, doubts: np.ndarray, weights: np.ndarray) -> tuple[float, float]:
    share = weights / weights.sum()
    mean = (share * means).sum()
    return mean, ((share * doubts**2).sum() + (share * means**2).sum()) ** 0.5


def _weights_as_they_are(means: np.ndarray, doubts: np.ndarray, weights: np.ndarray) -> tuple[float, float]:
    mean = (weights * means).sum()
    doubt = (weights * doubts**2).sum() + (weights * (means - mean) ** 2).sum()
    return mean, doubt**0.5


_NINE_IN_TEN = r"(?:(?:nine|9)(?: times?)? (?:in|of|out of) (?:ten|10)|(?:90|ninety)(?: ?%| per ?cent))"
_ONE_IN_TEN = r"(?:(?:one|1)(?: time| chance)? (?:in|of|out of) (?:ten|10)|(?:10|ten)(?: ?%| per ?cent))"
_INSIDE = r"(?:between|from \.|from 1|from tw|within|inside|in it\b|right\b|holds?\b|contains?\b|true\b)"
_WRONG = r"(?:wrong|miss|misses|missed|fails?|false|mistaken|outside)"
_TURNED = tuple(
    TooMuch(pattern, patterns.TURNED)
    for pattern in (
        r"\b(?:no|not an?|isn't an?|hardly an?) (?:90|ninety)(?: ?%| per ?cent)|\bno (?:chance|probability|"
        r"likelihood)\b",
        r"\b(?:rate|he|basil|carvenzal|level)\b(?:[^,;:.]|\.\d){0,30}\b(?:outside|beyond|"
        r"not (?:\w+ )?(?:between|"
        r"from|in|within)|"
        r"(?:isn't|isnt) (?:\w+ )?(?:between|from|in|within))\b",
        rf"\b{_NINE_IN_TEN}[^;:]{{0,40}}\b{_WRONG}\b|\b{_WRONG}\b(?:[^,;:.]|\.\d){{0,20}}\b{_NINE_IN_TEN}",
        rf"\b{_ONE_IN_TEN}(?:(?!\b(?:not|n't|{_WRONG})\b)[^;:]){{0,40}}\b{_INSIDE}(?! (?:wrong|not))|"
        rf"\b{_INSIDE}[^;:]{{0,40}}\bwith (?:a chance of )?{_ONE_IN_TEN}|\bright (?:only )?{_ONE_IN_TEN}",
        rf"\b(?:un|not |less |hardly )likel\w+[^;:]{{0,40}}\b{_INSIDE}|\b{_INSIDE}[^;:]{{0,30}}\bunlikel",
        rf"^(?!.*\b{_ONE_IN_TEN}).*\b(?:(?:lower|less|below|under|smaller) (?:than )?(?:0?\.125|12\.5)|"
        r"(?:higher|more|above|over|larger|greater) (?:than )?(?:0?\.164|16\.4))",
        r"(?:0?\.125|12\.5(?: ?%| per ?cent)?) or (?:less|lower|under)|0?\.164 or (?:more|higher|over)",
        r"\b(?:nine|9) to (?:one|1) against\b",
        r"(?<!would )(?<!should )(?<!could )(?<!might )(?<!may )(?<!likely to )(?<!expected to )"
        r"\bhit (?:it )?(?:hard )?(?:between|from) (?:0?\.|1|tw)",
        rf"\b{_NINE_IN_TEN} of (?:the|his|a|this) (?:season|year|month|game)",
        r"\b(?:rarely|seldom|hardly ever|never) (?:right|true|holds?)\b",
        r"(?:n't|\bnot) (?:\w+ ){0,2}(?:between|from \.|within|inside)\b",
        r"\b(?:true|real|long-run) rate (?:is|of|was) (?:35|0?\.165|16[.,]5)",
    )
)

_LOW = r"(?:\.125|12\.5%?|12%?|\.12|\.13|13%?|one in 8)"
_HIGH = r"(?:\.164|16\.4%|16%|17%|\.16|one in 6)"
_RIGHT = (
    r"(?:right|true|correct|hit|hold|holds|has the truth in it|holds it|hold it|catch it|contains? it|"
    r"hold the true rate|holds the true rate)"
)
_NINE = (
    r"(?:about |some |roughly )*(?:9 (?:times |chances |cases )?(?:in|out of|of) (?:every )?10|90% of the "
    r"time)"
)
_FRAMES = (
    *frames.record(HARD, SWINGS, "swings", frames.HARD),
    r"(?:(?:is|lies|lie|sits|falls|should|could|may|will|be|runs|somewhere|anywhere|most|likely|probably|"
    r"at|from|between|of|to|"
    rf"ranges?|like|the|a|such|as) )*{_LOW} (?:and|to|through) {_HIGH}",
    r"(?:(?:such|those|these|ranges?|like|that|this|kind|of|a|an|the|ours|it|is|are|be|would|expect|to|"
    rf"we|i|one|they) )*{_RIGHT} {_NINE}",
    rf"{_NINE}(?= (?:,|that|his|the|it|is|this|such|a range|we))",
    r"(?:(?:only|and|about|just) )*one(?: such)? (?:range|time|line)?(?: like (?:that|it|ours))? ?(?:in|"
    r"of|out of) 10(?: (?:is wrong|misses(?: it)?|is off|goes wrong|it is not|it does not))?",
    r"wrong (?:about |only )*one (?:time |range |case )?(?:in|out of) 10",
    r"(?:his|a|the) (?:true|real|long run) rate(?: (?:is|should be))?|probably means",
    r"ranges? (?:made )?(?:like|as) (?:that|this|these)|what (?:the )?other clubs (?:show|do)",
    r"90% (?:sure|certain|confidence|chance|level|probability|range)",
    r"we would|(?:hits the ball|balls) hard|<a> 's 35 for 212|35 for 212|kind of range|the range (?:from|"
    r"between)|hit 35 balls hard(?: "
    r"in)?",
    rf"(?:holds?|contains?|has|catches) his true rate(?: (?:with|at))? (?:{_NINE}|(?:(?:with|a|at|chance|"
    r"of|level|probability|confidence) )*90%)",
    r"(?:we|you|i) can be(?: about)? 90%(?: sure| certain)(?: that)?",
    r"(?:of a kind|a range|one) that (?:holds|has|contains) the (?:truth|true rate) 9 times in 10|"
    r"is our best (?:word|guess)(?: (?:on|for|at))? his (?:lasting|true|real) rate",
    r"(?<=, )a range that is right 9 times(?: out of| in) 10|9 times in 10 a range like (?:ours|this|that) "
    r", \.125 to \.164 , "
    r"(?:contains|holds|has) the true rate",
    r"9 (?:in|of|out of) 10(?: of)?(?: (?:such|these))? ranges (?:hold|are right|keep it|(?:hold|contain) "
    r"the (?:truth|true "
    r"rate))",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "04.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "the swings behind these ranges",
                "b": "the ranges short enough to be of use",
                "c": "all ranges that were made this way",
                "d": "the rates between the two ends of a range",
            },
        ),
        (
            Wrong("a", "swings stand below the line of a rate. Here ranges are counted, not swings."),
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
        Bounds(lambda: 100 * coverage("quick"), widest=16, per_cent=True),
        (
            Wrong(
                (84, 96),
                "that is what it says on the box. The quick way takes a guess at the law for the truth.",
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
            f"Of {15 * CLUBS:,} ranges {percent(coverage('quick'))} hold the truth, and "
            f"{percent(0.90)} were promised."
        ),
        "a range that is too short still says '90 %' on it. Only counting shows.",
        minutes=3,
    ),
    Exercise(
        "04.count-the-promise",
        "write",
        Code(kept, _promise_to_count, tolerance=0.045, surely=_kept_surely),
        (
            Wrong(_missed, "that is the share that misses. Coverage is the share that holds."),
            Wrong(
                _holds_its_record,
                "you look for the rate that was seen, and a range always holds that. Look for the true one.",
            ),
            Wrong(_one_end, "you look at the low end alone. The truth has to be below the high one, too."),
            Wrong(_so_many, "that is how many of the 2,000. Divide, and it is a share."),
            Wrong(_one_season, "that is one season, and one range holds or misses. Draw 2,000 of them."),
            Wrong(_mean_length, "that is how long the ranges are. The question is how many hold the truth."),
        ),
        (
            "hard = rng.binomial(swings, rate, 2_000), and then low, high = make(hard, swings), all 2,000 at "
            "once.",
            "(low <= rate) & (rate <= high) says for each range whether it holds; mean() makes it a share.",
        ),
        "Draw 2,000 records of a hitter whose true rate is known, make a range of each, and take the share "
        "that has the true rate inside.",
        "any maker of ranges can be put into this function. That is how one checks what a label promises.",
        minutes=6,
    ),
    Exercise(
        "04.all-laws",
        "complete",
        Code(all_laws, _laws_to_weigh, tolerance=5e-5),
        (
            Wrong(
                _within_only,
                "the doubt about which law it is has been left out: that is what the quick way does.",
            ),
            Wrong(_roots_added, "the squares add up, not the numbers. Take one root, at the end."),
            Wrong(_no_root, "that is still squared. Take the root of the sum."),
            Wrong(_all_alike, "each law counts the same there. Some fit the club better than others."),
            Wrong(
                _from_nothing, "between: how far a law's mean lies from the mean of all, not from nothing."
            ),
            Wrong(
                _weights_as_they_are,
                "the weights have to add up to one before they can be shares. Divide by their sum.",
            ),
        ),
        (
            "Shares add up to one: divide by the sum of the weights. A mean over laws is (share * "
            "...).sum().",
            "The gaps: weights.sum(), means, mean, 0.5.",
        ),
        "Shares first; the mean over all laws; the doubt within them, the distance between them, and the "
        "root of both squares together.",
        "the second square is what honesty costs. It shrinks as more hitters say what the law is.",
        minutes=5,
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
        "a range half as long costs four times the work. That is why nobody is ever very sure.",
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
        core=False,
    ),
    Exercise(
        "04.twice-as-exact",
        "fault",
        Choice(
            "b",
            {
                "a": "half as long is four times as exact, so it says too little",
                "b": "how many of them hold the truth is not said, and was not counted",
                "c": "from the same swings no honest range can be shorter than another's",
                "d": "the level is too low for a comparison; such ranges need 95 %",
            },
        ),
        (
            Wrong("a", "that would be a nice sum, but it does not touch what is missing from the sentence."),
            Wrong("c", "it can: one may use what other hitters tell, and get a shorter one honestly."),
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
        core=False,
    ),
    Exercise(
        "04.two-services",
        "transfer",
        Choice(
            "d",
            {
                "a": "the first is the better one, as it kept two windows more",
                "b": "neither keeps its promise, as 54 windows were promised",
                "c": "both have proved their promise, as both came near it",
                "d": "nothing yet, as luck alone moves such counts by more",
            },
        ),
        (
            Wrong("a", "so it did. Would it again? Toss 60 coins twice and see how far two counts differ."),
            Wrong("b", "nine in ten is a promise on average. A few less than 54 happen by luck quite often."),
            Wrong("c", "to come near it by luck is easy for a service that keeps eight in ten as well."),
        ),
        (
            "Nine in ten of 60 is 54. By how much does luck move such a count?",
            "The luck in one window has the size .9 times .1, in 60 windows 60 times that; its root is about "
            "2.3.",
        ),
        "Luck moves each count by two or three. The two differ by two, and lie one and three below 54: that "
        "neither tells them apart nor shows that one of them breaks its promise.",
        "a difference within the noise is no difference yet. Longer lists can settle it.",
        minutes=3,
    ),
    Exercise(
        "04.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point("what", "what was counted", patterns.HARD_HIT),
                Point("out of what", "his swings, with their number", patterns.swings_of(SWINGS)),
                Point(
                    "the range",
                    "both ends of the range for his true rate",
                    tuple(
                        rf"(?:{low}).*(?:{high})"
                        for low in (
                            patterns.rate(LOW),
                            r"\.12\b|\.13\b|\b12[.,]5|\btwelve|\bthirteen|\b1[23]\b|\beighth\b",
                        )
                        for high in (
                            patterns.rate(HIGH),
                            r"\.16\b|\b16[.,]4|\bsixteen|\b16\b|\bsixth\b",
                        )
                    ),
                ),
                Point(
                    "how sure",
                    "the level, or a chance",
                    (
                        patterns.share(0.90),
                        r"\bninety per ?cent",
                        r"\b(?:nine|9)(?: \w+)? (?:in|of|out of) (?:every )?(?:ten|10)\b",
                        r"\b(?:nine|9) to (?:one|1)\b",
                        r"\bchances?\b",
                        *patterns.LIKELY,
                        r"\bconfiden",
                        r"\bone (?:such )?(?:range |line )?in ten\b",
                    ),
                ),
            ),
            "Basil Carvenzal hit 35 of his 212 swings hard; his true rate is between .125 and .164, and such "
            "ranges are right nine times in ten.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "9 chances in 10",
                "12.5%",
                "12%",
                "16.4%",
                "16%",
                "one in 10 misses",
                "16.4% of his swings",
                "35 times",
                "17%",
                "one in 6",
                "one in 8",
                "13%",
                ".12",
                ".13",
                ".16",
                ".125",
                ".164",
                "with a chance of 9 in 10",
                "with a 90% chance",
                "we are 90% sure that it is between these",
                "with 90% confidence it is between these",
                "probably between 12.5%",
                "9 chances in 10 that it is between these",
                "likely from 12.5 to 16.4%",
                "it could be there",
                "it is likely there",
                "likely between one in eight",
                "one time in ten it is not",
                "likely between one in eight and one in six",
                "likely between these and 17 %",
                "to 16.4 percent with 90 percent confidence",
                "between these and 16.4 percent with 90 percent confidence",
            ),
            figures=(HARD, SWINGS, SEEN, LOW, HIGH, LEVEL),
            too_much=(
                *_TURNED,
                patterns.turned_over(HARD, SWINGS),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:nine|9) (?:of )?(?:his |these |such )?(?:swings|hits|hitters|games) (?:in|of|"
                    r"out of)\b|"
                    r"\b(?:(?:nine|9)(?: times)? (?:in|of|out of) (?:every )?(?:ten|10)|90 ?(?:%|per ?cent)|"
                    r"ninety per ?cent) (?:of )?(?:[\w']+ ){0,3}"
                    r"(?:swings|hits|hitters?|batters?|players?|men|games|pitches)\b",
                    "that makes the level a share of swings or of hitters",
                ),
                TooMuch(
                    r"\b(?:best(?! (?:word|guess|estimate|answer|say)\b)|worst|better|worse|ahead of)\b",
                    "that sets him against others, and nobody was compared",
                ),
                TooMuch(
                    r"\b(?:will|'ll) (?:hit|stay|remain|keep|run out|improve|fall|drop)\b|\bfor "
                    r"?ever\b|\bnext (?:week|month|year|season)\b",
                    "that says what is to come",
                ),
                TooMuch(
                    r"\bnever\b|\bcannot be (?:\w+ )?(?:out|above|below)",
                    "that leaves no doubt, and one in ten is left",
                ),
                TooMuch(
                    r"\b(?:exactly|precisely) (?:0?\.\d|one in|\d)",
                    "that knows the true rate, and there is a range",
                ),
                TooMuch(
                    r"\b(?:record|seen rate|mark|average|hitting|share) (?:is|was|lies|sits|falls) "
                    r"(?:[\w-]+ ){0,2}(?:between|from)\b|\bseen (?:[\w-]+ ){0,2}(?:between|from)\b",
                    "that is about what was seen, and the range is for his true rate",
                ),
            ),
            good=(
                "With 35 hard hits in 212 swings, Carvenzal's long-run rate probably lies between 12.5 and "
                "16.4 percent.",
                "We are ninety percent sure that Basil Carvenzal, 35-for-212 on hard swings, truly sits "
                "somewhere from .125 to .164.",
                "Basil Carvenzal has hit 35 of 212 swings hard, and nine times out of ten a range like ours, "
                "one in eight to one in six, has the truth in it.",
                "Basil Carvenzal hit 35 of 212 swings hard; a 90 percent range for his true rate runs from "
                "12.5 to 16.4 percent.",
                "Basil Carvenzal has 35 hard hits in 212 swings, and there's a 90% chance his true rate is "
                "somewhere between 12 and 16 percent.",
                "On 212 swings Basil hit 35 hard; we put his real rate at .125 to .164, and we expect to be "
                "right nine times out of ten.",
                "Basil's 35 hard hits in 212 swings point to a true rate of .125 to .164, with 90% "
                "confidence.",
                "Basil hit 35 of 212 swings hard; from .125 to .164 is where his true rate lies, and only "
                "one "
                "such range in ten is wrong.",
            ),
            bad=(
                (
                    "Basil Carvenzal hit 35 of 212 swings hard, which is about one in six, probably.",
                    "the range",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard, and his true rate is between .125 and .164.",
                    "how sure",
                ),
                (
                    "Basil Carvenzal truly hits it hard between .125 and .164, nine times in ten.",
                    "out of what",
                ),
                (
                    "He hit 35 of 212 swings hard, so between .125 and .164 with a chance of 90 %.",
                    "who",
                ),
                (
                    "Basil Carvenzal had 35 in 212 swings, a true rate of .125 to .164 at 90 %.",
                    "what",
                ),
                (
                    "Basil Carvenzal, 35 of 212 swings hard, will hit between .125 and .164 next month, 90 % "
                    "sure.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; nine in ten of his swings are between .125 "
                    "and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal, 35 of 212 swings hard, is the best Plough, likely between .125 and "
                    ".164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; there is no 90 % chance that his true rate "
                    "is between .125 and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard, and 90 percent of the time he hits between "
                    ".125 and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; we are 50 percent sure, likely, that his "
                    "rate is from .125 to .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard, and nine of ten such hitters lie between "
                    ".125 and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; with a chance of 90 % his true rate is not "
                    "between .125 and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; his true rate is between .125 and .164, and "
                    "such ranges are wrong nine times in ten.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; the chance is 10 percent that his true rate "
                    "is between .125 and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard, so it is unlikely that his true rate is from "
                    ".125 to .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; he probably won't be between .125 and .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; his true rate is lower than .125 with 90 "
                    "percent certainty, or higher than .164.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 35 of 212 swings hard; between .125 and .164 he will be 90 percent "
                    "of the season.",
                    "too much",
                ),
                (
                    "Basil Carvenzal hit 45 of 212 swings hard; his true rate is between .125 and .164, and "
                    "such ranges are right nine times in ten.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Three parts: what was counted, the two ends, and how often ranges of that kind are right.",
            "For instance: so many of so many swings were hard; the true rate is from here to there, and "
            "such ranges are right so often.",
        ),
        "The record in full, both ends of the range, and its level in words that a listener knows.",
        "whoever says both ends and the level has said all that the swings know.",
        minutes=4,
    ),
)


def _again_longer(rng: np.random.Generator) -> tuple[str, Exercise]:
    many, what = (
        (40, "swings"),
        (80, "calls"),
        (50, "parcels"),
        (120, "patients"),
        (200, "people asked"),
    )[int(rng.integers(5))]
    times = int(rng.integers(2, 5))
    words = {2: "half", 3: "a third", 4: "a quarter"}[times]
    right = many * times**2
    return (
        f"From {many} {what} a range of a rate comes out too long. About how many {what} in all does it take "
        f"until it is {words} as long?",
        Exercise(
            "04.again-longer",
            "compute",
            Number(right, tolerance=0.025 * right),
            (
                Wrong(many * times, f"that many make it shorter, but not yet {words} as long."),
                Wrong(many * (times**2 - 1), "so many more are needed. How many is that in all?"),
                Wrong(many / times**2, "fewer of them make a range longer."),
            ),
            ("Four times as many make it half as long.", f"{times} times {times} as many."),
            f"{times} squared is {times**2}, and {times**2} times {many} is {right}.",
            "luck averages out slowly: with the root.",
            minutes=1,
        ),
    )


def _again_kept(rng: np.random.Generator) -> tuple[str, Exercise]:
    who, what = (
        ("A forecaster", "temperatures"),
        ("A builder", "costs"),
        ("A scout", "rates"),
        ("A clinic", "waiting times"),
    )[int(rng.integers(4))]
    level, luck = ((80, 4), (90, 3))[int(rng.integers(2))]
    broken = bool(rng.integers(2))
    held = level - (int(rng.integers(14, 20)) if broken else luck - int(rng.integers(2)))
    says = {
        "a": "the gap is what luck makes, so nothing speaks against the promise",
        "b": "the gap is more than luck makes, so the promise is not kept",
        "c": "there is a gap, however small, so the promise is not kept",
        "d": "more than half of the ranges hold, so the promise is kept",
    }
    why = {
        "a": "how many times what luck does is the gap?",
        "b": "hold the gap beside what luck does to such a count.",
        "c": "by luck alone about half of all such counts fall short of the promise.",
        "d": f"a half was not promised; {level} in a hundred were.",
    }
    right = "b" if broken else "a"
    return (
        f"{who} gives {level} % ranges of {what}. Of 100 such ranges {held} held. Luck alone moves such a "
        f"count by about {luck}. What does that say?",
        Exercise(
            "04.again-kept",
            "fault",
            Choice(right, says),
            others(why, right),
            (
                "How far is the count from the promise?",
                "Twice what luck does is rare, four times hardly ever.",
            ),
            f"{level} were promised and {held} held; luck moves the count by about {luck}.",
            "first the promise, then the count, then what luck does to it.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "04",
    "Say how sure",
    _verdict,
    "It weighs every law that fits the fifteen, so its ranges are as long as the doubt is, and no longer.",
    EXERCISES,
    (Again("04.again-longer", _again_longer), Again("04.again-kept", _again_kept)),
)
