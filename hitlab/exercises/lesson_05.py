"""Lesson 5, name the leader: whoever is picked because he leads was lucky, and by how much."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pandas as pd

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
from hitlab.exercises.shared import fresh, season
from hitlab.wording import percent, rate_text

__all__ = ["LESSON", "MINIMUM", "second_throw"]

MINIMUM = 150
"""Swings that a hitter needs to be on the lesson's list."""

THE_HITTER = "Kerstin Ravbeck"
CLAIMED = 5 / 6

THROWERS, DICE, PARTIES, SEED = 200, 60, 2_000, 5  # people at a party who throw dice; parties
LEAGUES, RIGHT = 2_000, 417  # of the exercise with these numbers in its text
CONTACT, SWINGS, MEAN, HALF_WEIGHT = 90, 100, 0.740, 200
HERS, HER_SWINGS = 127, 152  # the leader's record, which her sentence for air has to name
HITTERS, SEEN, CORRECTED, OF_ALL, IS_BEST = (
    103,
    0.836,
    0.780,
    0.740,
    0.09,
)  # on the list; her rate, with the luck off; the mean; the chance that she is the best
CALLS_MEAN, CALLS_SIZE, CALLS = 0.800, 100, ((52, 60), (510, 600))  # of the two who answer calls


@cache
def second_throw() -> float:
    """Return how many sixes the winners of the first throw have in their second one, on average."""
    rng = np.random.default_rng(SEED)
    first = rng.binomial(DICE, 1 / 6, (PARTIES, THROWERS))
    second = rng.binomial(DICE, 1 / 6, (PARTIES, THROWERS))
    winner = first.argmax(axis=1)
    return float(second[np.arange(PARTIES), winner].mean())


def _corrected(contact: float, swings: float) -> float:
    return (contact + MEAN * HALF_WEIGHT) / (swings + HALF_WEIGHT)


def _solved(which: int) -> float:
    solved, calls = CALLS[which]
    return (solved + CALLS_MEAN * CALLS_SIZE) / (calls + CALLS_SIZE)


def _excess() -> float:
    return CONTACT / SWINGS - _corrected(CONTACT, SWINGS)


def _verdict() -> str:
    return hitlab.check_above(season(), THE_HITTER, CLAIMED, event="contact").verdict


def on_top(contact, swings, mean, m, rng):  # type: ignore[no-untyped-def]
    a = contact + mean * m
    b = swings - contact + (1 - mean) * m
    drawn = rng.beta(a, b, (4_000, len(contact)))
    best = drawn.argmax(axis=1)
    return np.bincount(best, minlength=len(contact)) / 4_000


_on_top: Callable[..., Any] = on_top


def _few_to_rank(
    rng: np.random.Generator,
) -> tuple[np.ndarray, np.ndarray, float, float, np.random.Generator]:
    swings = rng.integers(20, 600, 6)
    contact = rng.binomial(swings, rng.uniform(0.68, 0.82, 6))
    return (
        contact,
        swings,
        0.74,
        float(rng.integers(120, 260)),
        fresh(rng),
    )


def _not_pulled(
    contact: np.ndarray, swings: np.ndarray, mean: float, m: float, rng: np.random.Generator
) -> np.ndarray:
    true = rng.beta(contact + 1e-9, swings - contact + 1e-9, (4_000, len(contact)))
    return np.bincount(true.argmax(axis=1), minlength=len(contact)) / 4_000


def _one_for_certain(
    contact: np.ndarray, swings: np.ndarray, mean: float, m: float, rng: np.random.Generator
) -> np.ndarray:
    rates = (contact + mean * m) / (swings + m)
    return np.asarray(rates == rates.max(), dtype=float)


def _lowest(
    contact: np.ndarray, swings: np.ndarray, mean: float, m: float, rng: np.random.Generator
) -> np.ndarray:
    true = rng.beta(contact + mean * m, swings - contact + (1 - mean) * m, (4_000, len(contact)))
    return np.bincount(true.argmin(axis=1), minlength=len(contact)) / 4_000


def _counts_on_top(
    contact: np.ndarray, swings: np.ndarray, mean: float, m: float, rng: np.random.Generator
) -> np.ndarray:
    return np.asarray(4_000 * _on_top(contact, swings, mean, m, rng))


def _rates_only(
    contact: np.ndarray, swings: np.ndarray, mean: float, m: float, rng: np.random.Generator
) -> np.ndarray:
    return np.asarray((contact + mean * m) / (swings + m))


def excess_of(table, m, minimum):  # type: ignore[no-untyped-def]
    mean = table["contact"].sum() / table["swings"].sum()
    listed = table[table["swings"] >= minimum]
    seen = listed["contact"] / listed["swings"]
    leader = listed.loc[seen.idxmax()]
    expected = (leader["contact"] + mean * m) / (leader["swings"] + m)
    return seen.max() - expected


_excess_of: Callable[..., Any] = excess_of


def _league_to_lead(rng: np.random.Generator) -> tuple[pd.DataFrame, float, int]:
    """Draw a league whose short hitters are worse, and a minimum that the leader of its list has exactly.

    Beside that leader stand longer records, all lower, and below the minimum is a higher one.
    """
    swings = 500 - np.arange(0, 500, 20) + rng.integers(0, 20, 25)  # from the longest record to the shortest
    contact = rng.binomial(swings, (0.68 + swings / 5_000 + rng.normal(0, 0.02, 25)).clip(0.6, 0.9))
    leads, above = int(rng.integers(6, 16)), int(rng.integers(16, 25))
    contact[leads] = (contact[:leads] / swings[:leads]).max() * swings[leads] + 2
    contact[above] = contact[leads] / swings[leads] * swings[above] + 1
    table = pd.DataFrame({"contact": contact, "swings": swings}).sample(frac=1, random_state=int(swings[0]))
    return table.reset_index(drop=True), float(rng.integers(120, 260)), int(swings[leads])


def _from_the_mean(table: pd.DataFrame, m: float, minimum: int) -> float:
    _, record, mean = _led(table, "swings", minimum)
    return float(_excess_of(table, m, minimum) - record + mean)


def _nobody_left_out(table: pd.DataFrame, m: float, minimum: int) -> float:
    return float(_excess_of(table, m, 0))


def _led(table: pd.DataFrame, by: str, minimum: int) -> tuple[Any, float, float]:
    """Return the leader of those with enough of something, that record, and the mean of all."""
    listed = table[table[by] >= minimum]
    seen = listed["contact"] / listed["swings"]
    leader = listed.iloc[int(seen.to_numpy().argmax())]
    return leader, float(seen.max()), float(table["contact"].sum() / table["swings"].sum())


def _minimum_of_contact(table: pd.DataFrame, m: float, minimum: int) -> float:
    leader, record, mean = _led(table, "contact", minimum)
    return float(record - (leader["contact"] + mean * m) / (leader["swings"] + m))


def _to_the_mean(table: pd.DataFrame, m: float, minimum: int) -> float:
    _, record, mean = _led(table, "swings", minimum)
    return record - mean


def _mean_of_the_listed(table: pd.DataFrame, m: float, minimum: int) -> float:
    return float(_excess_of(table[table["swings"] >= minimum], m, minimum))


def _more_than_minimum(table: pd.DataFrame, m: float, minimum: int) -> float:
    return float(_excess_of(table, m, minimum + 1))


def _by_own_swings(table: pd.DataFrame, m: float, minimum: int) -> float:
    leader, record, mean = _led(table, "swings", minimum)
    return float(record - (leader["contact"] + mean * m) / leader["swings"])


_IN_SIX = (
    r"\b(?:five|5)(?: times?)?[ -](?:in|of|out of)[ -](?:every )?(?:six|6)\b|"
    r"\b83(?:[.,]\d)?(?: ?%| per ?cent)|\.83"
)
_TURNED = (
    *patterns.makes_likely(_IN_SIX),
    *patterns.makes_unlikely(rf"\b(?:only|just|merely) (?:{_IN_SIX})"),
    *patterns.makes_unlikely(r"\b(?:lower|less|below|under|falls?|drops?|comes? down|luck)\b"),
    *(
        TooMuch(pattern, patterns.TURNED)
        for pattern in (
            r"\b(?:no|not|without|nothing to do with|hardly any) (?:any )?luck\b(?! alone)|\bunlucky\b|"
            r"\bbad luck\b",
            r"(?<!unlikely that her )(?<!chance that her )(?<!chance her )(?<!than her )"
            r"(?<!whether her )(?<!if her )"
            r"\b(?:true|real|long[- ]run|underlying) (?:rate|level|skill|number)\b(?:(?!not\b|n't|hardly|"
            r"un)[^,;:.]){0,25}"
            r"\b(?:higher|better|more|above|over|beyond|exceeds?)\b",
            r"\b(?:she|kerstin|ravbeck)(?:'s| is) (?:(?!not\b|hardly)\w+ ){0,3}(?:even|still|far|"
            r"much) better\b",
            r"\bexpect\w* (?:\w+ ){0,6}(?:more|higher|better|climb|rise|improve|up)\b|\b(?:underrat|"
            r"understat|underestimat)",
            r"\b(?:miss(?:es|ed)?|whiff(?:s|ed)?) (?:\w+ ){0,2}(?:127|"
            r"one hundred (?:and )?twenty[- ]seven)\b",
            r"\b(?:record|mark|seen rate) (?:is|was|looks) (?:[\w-]+ ){0,3}(?:below|under|lower)\b",
            r"\bbetter still\b|\bwill (?:\w+ ){0,2}(?:do|get|be|become|climb|rise|go) (?:even )?(?:better|"
            r"higher|more|up)\b",
            r"\bluck (?:cannot|can't|can not|could not|won't|does not|doesn't)\b(?! (?:\w+ )?(?:all|"
            r"everything))|\btoo low\b",
            r"(?:n't|\bnot|\bno) (?:[\w]+ ){0,2}(?:lower|less|below|under)\b(?! luck)",
            r"\bluck (?:had|has|played|plays) (?:very )?(?:little|nothing|no|hardly)\b",
            r"\b(?:(?<!to )last|worst|fewest|lowest|least often)\b",
            rf"{patterns.ASKED}(?<!unlikely that her )(?<!unlikely her )(?<!chance that her "
            rf")(?<!chance her )\b(?:true|real) (?:rate|level) is "
            r"(?:(?!not\b|below|under|less|unlikely|"
            rf"lower)\w+ ){{0,3}}?"
            rf"(?:{_IN_SIX})",
        )
    ),
)

_TOUCHED = (
    r"(?:contacts?|touch(?:ed|ing)|met|meeting|(?:with|made|making) contact|"
    r"(?:got|gets|put|puts) the bat on the ball|the ball)"
)
_FIVE_IN_SIX = r"(?:(?:an? )?5 (?:times )?(?:in|of|out of) 6(?: hitter)?|83%|\.836)"
_LIKELY = frames.fill(
    "is are was may be would will also most very quite probably likely surely certainly "
    "partly just a bit somewhat well little"
)
_AMONG = frames.fill(
    "of the all in among our list league 's regulars hitters 103 contact with at least 150 swings qualified"
)
_FRAMES = (
    *frames.record(HERS, HER_SWINGS, "swings", _TOUCHED),
    rf"(?:missed|misses|missing)(?: on)?(?: only| just)? {HER_SWINGS - HERS} (?:of|in|out of)(?: her| "
    rf"the)? {HER_SWINGS}(?: swings)?",
    rf"{HERS} times (?:in|on|of|out of)(?: her)? {HER_SWINGS}(?: swings)?",
    *frames.among(HITTERS, MINIMUM),
    *frames.most_often(
        "contact ball met meets meeting touches touched touching on bat makes made rate",
        f"hitters regulars them all those list league {HITTERS} {MINIMUM} swings",
    ),
    rf"she is (?:truly |really )?(?:an? )?{_FIVE_IN_SIX} hitter(?= ,)|(?:with|once) (?:the )?luck "
    rf"(?:is )?taken (?:off|out)",
    r"what she can (?:really |truly )?do is (?:probably|likely|most likely|perhaps)(?: (?:a|bit|"
    r"little|somewhat))* "
    r"(?:less|lower)(?: than (?:that|this|it))?",
    rf"chance that (?:her true rate is|she (?:truly |really )?(?:does|makes|meets)(?: (?:it|"
    rf"contact|the ball|on))*)"
    rf"(?: really| truly)? {_FIVE_IN_SIX}(?: or (?:more|better|higher))? is (?:only )?(?:below|"
    rf"under|less than|about) "
    rf"(?:one in (?:a )?100|1%)",
    rf"(?:<a>|she|{HER_SWINGS} swings|contact|and|,){frames.fill('is stands sits comes now so far')} "
    rf"(?:leads?|tops?|heads|first|on top|number one){_AMONG}",
    r"(?:has|is|with|for|,|which is) the (?:best|highest|"
    rf"top){frames.fill('contact rate record mark share')}{_AMONG}",
    rf"(?:makes|touches|meets){frames.fill('the ball contact it')} (?:most often|more often than anybody)|"
    rf"more often than any(?: other)?{_AMONG}",
    r"makes (?:the )?most contact|mak(?:es|ing) contact",
    frames.unbeaten(f"among in of our the list league {HITTERS} {MINIMUM} with hitters listed contact"),
    rf"(?:nobody|no one){_AMONG}(?: makes contact| touches it| meets the ball)(?: more)?(?: often)? than <a>",
    rf"(?:true|real|long run) (?:rate|level|share|figure){_LIKELY} (?:lower|below|less|under|closer to|"
    r"nearer)(?: than)?(?: that| it| this)?"
    rf"(?: {_FIVE_IN_SIX}| \.780?| 78%)?",
    r"(?:unlikely|not likely|probably not|doubt|chance|not expect|"
    rf"not){frames.fill('that to be her she keeps? truly does hold it a an up')} {_FIVE_IN_SIX}"
    rf"{frames.fill('to last hold up')}",
    rf"{_FIVE_IN_SIX}{_LIKELY} (?:unlikely|not|not likely|too high|too good|"
    rf"doubtful){frames.fill('to last hold up stay keep be true continue her rate')}",
    rf"(?:below|under|less than) {_FIVE_IN_SIX}|{_LIKELY} too (?:high|good) to (?:last|be true)|(?:does|"
    rf"keeps) {_FIVE_IN_SIX} up",
    rf"(?:some|part|a bit|a part|most|a little)(?: of (?:it|that|this))?{_LIKELY} (?:luck|lucky|good luck|"
    r"good fortune)",
    rf"luck{_LIKELY}(?: has)? (?:helped|played a part)(?: her)?|(?:she|<a>|whoever (?:leads|is "
    rf"first)){_LIKELY}(?: has been)? lucky(?: as well| too)?",
    r"puts <a> first|leaders are lucky|whoever (?:leads|is first)|has had some luck|had some luck|some "
    r"luck|part of that|(?:a )?bit of it|"
    r"so few",
    r"(?:unlikely|not likely|not expect her) to (?:keep (?:it|that|this) up|last|stay (?:there|that high)|"
    r"hold up|be (?:truly )?that good)|expect her to settle somewhat lower",
    r"(?:better|higher) than she (?:truly|really) is|a rate that high|overstates her|is not (?:quite "
    r")?that good|chances are she",
    r"(?:(?:something like|closer to|nearer|about|around|near|probably|likely) )+(?:\.780?|78%)(?: is "
    r"more like it| from here| is where she likely belongs)?|truer figure",
    rf"(?:nobody|no one) (?:connects|makes contact|meets the ball|touches the ball) more often than <a>|"
    rf"(?:the )?best (?:of|among) the {HITTERS}(?: on (?:the|our) list)?",
    rf"(?:her bat )?meeting the ball|(?:has )?put the bat on the ball|(?<=, )tops in contact|"
    rf"though a true {_FIVE_IN_SIX} is (?:very )?unlikely",
    rf"that she (?:truly|really) does so {_FIVE_IN_SIX} is (?:very )?unlikely|"
    rf"(?:leaders|whoever leads) (?:are|is) usually lucky|(?:so )?expect her true rate to be lower",
    r"to top the regulars 's list",
    rf"unlikely that her (?:true|real) rate is {_FIVE_IN_SIX}",
)
"""Frames of its sentence, with its numbers."""

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
                "c": "all 20,000 hitters in the first ten of their lists",
                "d": "the 1,583 leaders who were not the best",
            },
        ),
        (
            Wrong("b", "nobody claimed anything about most of those. One hitter a league was named."),
            Wrong("c", "those came near, and of most nothing was said. One hitter a league was named."),
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
        "05.on-top",
        "write",
        Code(on_top, _few_to_rank, tolerance=0.05),
        (
            Wrong(
                _not_pulled,
                "you draw from the records alone, so that few swings on top look likelier than they are. The "
                "mean counts like m more swings.",
            ),
            Wrong(_one_for_certain, "that names one for certain. Draw, and see how often each is on top."),
            Wrong(_lowest, "that is how often each has the lowest rate."),
            Wrong(_counts_on_top, "those are counts. Divide by the number of draws."),
            Wrong(_rates_only, "those are the corrected rates. How often is each the highest of a draw?"),
        ),
        (
            "a = contact + mean * m and b = swings - contact + (1 - mean) * m; rng.beta(a, b, (4_000, "
            "len(contact))) draws.",
            "argmax(axis=1) says who is on top of each draw; np.bincount(best, minlength=len(contact)) "
            "counts.",
        ),
        "Draw a true rate for everybody, 4,000 times, from what the record and the mean leave possible; "
        "count who is on top; divide.",
        "to be the best is an event like any other, and it has a chance. ranks works it out without draws.",
        minutes=6,
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
        "05.take-it-off",
        "complete",
        Code(excess_of, _league_to_lead),
        (
            Wrong(_from_the_mean, "you start from the mean. What has to come off, comes off the record."),
            Wrong(_nobody_left_out, "nobody was left out. Who swings less than the minimum is on no list."),
            Wrong(_minimum_of_contact, "the minimum is one of swings, not of contact."),
            Wrong(
                _mean_of_the_listed,
                "that is the mean of those on the list. The mean is that of all swings, and short records "
                "have a say in it.",
            ),
            Wrong(
                _more_than_minimum,
                "somebody has the minimum exactly, and that is enough: >= takes her, and > does not.",
            ),
            Wrong(_to_the_mean, "that is all of the lead over the mean. Some of it is real."),
            Wrong(_by_own_swings, "the mean counts like m more swings, above the line and below it."),
        ),
        (
            "The mean is that of all swings together; the list takes those with enough swings.",
            'The gaps: table["swings"].sum(), minimum, (leader["swings"] + m), seen.max().',
        ),
        "The mean of all, those with the minimum, the highest record among them, and what is left of it "
        "after the pull.",
        "six lines, and any leader of any list can be read without the luck of the top.",
        minutes=5,
    ),
    Exercise(
        "05.higher-bar",
        "fault",
        Choice(
            "b",
            {
                "a": "a minimum in swings favours those who swing at everything; games would be fair",
                "b": "it takes out the short records, which luck moves most, so the top falls",
                "c": "whoever plays every day gets tired, so the rates of regulars come out too low",
                "d": "the two leaders are different people, so their two rates say nothing together",
            },
        ),
        (
            Wrong(
                "a", "the same would happen. Ask what kind of record is highest when few swings are enough."
            ),
            Wrong("c", "nobody's rate was changed here. Only the list of those who may lead it was."),
            Wrong(
                "d", "they say something: about the lists. What do short records at the top have in common?"
            ),
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
        "05.two-on-the-phone",
        "transfer",
        Choice(
            "c",
            {
                "a": "the first, whose record is higher, however small the difference",
                "b": "either, as a difference within the noise leaves them equal",
                "c": "the second: nothing is settled, but after the pull a better bet",
                "d": "the first, who came as far with only a tenth of the calls",
                "e": "the second, whom 600 calls have made the more practised clerk",
            },
        ),
        (
            Wrong("a", "luck alone moves 52 of 60 by more than the difference. Pull both before you bet."),
            Wrong("b", "within the noise means not settled. One may still be the better bet."),
            Wrong("d", "few calls make a high record easier, not harder. Luck moves it more."),
            Wrong("e", "the list does not tell of practice: it has the lower record of the two there."),
        ),
        (
            "Is the difference larger than what luck does to 60 calls? And what is left after the pull?",
            "(52 + 80) / (60 + 100) against (510 + 80) / (600 + 100).",
        ),
        lambda: (
            "The records differ by less than luck moves the first one. What to expect after the pull: "
            f"{rate_text(_solved(0))} and {rate_text(_solved(1))}."
        ),
        "not settled, and still no toss-up: the longer record keeps more of what it shows.",
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
    Exercise(
        "05.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point(
                    "what",
                    "what was counted",
                    (
                        r"\bcontacts?\b",
                        r"\b(?:meet|met|meets|meeting|touch\w*|connect\w*)\b",
                        r"\b(?:hit|hits|hitting|struck|strikes) (?:the ball|it|at least)\b",
                        r"\bbat[- ](?:on|to)[- ](?:the[- ])?ball\b",
                        r"\bmiss\w*",
                    ),
                ),
                Point("out of what", "her swings, with their number", patterns.swings_of(HER_SWINGS)),
                Point(
                    "among whom",
                    "those on the list, or its minimum",
                    patterns.on_the_list(MINIMUM, HITTERS),
                ),
                Point(
                    "how sure",
                    "that five in six is unlikely, or her true rate likely lower",
                    (
                        r"\bchances?\b",
                        *patterns.LIKELY,
                        *patterns.DOUBT,
                        r"\bluck",
                        r"\bflatter",
                        r"\b(?:less|lower|below|beneath|short of) (?:than )?(?:\w+ ){0,3}"
                        r"(?:that|this|it|is|five|true|truth|real|deserve|should|\.8|0\.8|83)",
                        r"\b(?:higher|better|more) than (?:\w+ ){0,3}(?:true|truth|real|really|truly|"
                        r"deserves?|"
                        r"should)",
                        r"\b(?:true|real|long[- ]run|underlying) "
                        r"(?:rate|level|skill|number)\b.*\b(?:lower|below|less|under|nearer|closer)",
                        r"\btoo high\b",
                        r"(?:n't|\bnot) (?:\w+ )?(?:count on|expect|bet on)\b",
                        r"\boverstat",
                        r"\bexpect\w* (?:\w+ ){0,6}(?:less|lower|fewer|down|\.78|78|four)",
                        r"\binflated\b",
                    ),
                ),
            ),
            "Kerstin Ravbeck leads the hitters with at least 150 swings, meeting the ball on 127 of 152; but "
            "whoever leads was lucky as well, and her true rate is likely below five in six.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "103 hitters",
                "5 times in 6",
                "127 contacts",
                "a 5 in 6 hitter",
                ".780",
                "78%",
                "127 times",
                ".836",
                "83%",
                "one in 100",
                "a 1% chance",
                "some of that is probably luck",
                "it is unlikely that she does that",
                "five in six is unlikely",
                "part is surely luck",
                "five in six is unlikely to last",
                "chances are she is not that good",
                "she is probably not a five in six hitter",
                "it is doubtful",
                "the chance that it is five in six or more is below one in a hundred",
                "it is doubtful that it is five in six",
                "with luck taken off likely below five in six",
                "it is likely lower",
                "do not expect five in six to last",
                "under one chance in 100",
                "unlikely to be that good",
                "list of 103",
                "among 103",
                "at least 150",
            ),
            figures=(
                HERS,
                HER_SWINGS,
                HER_SWINGS - HERS,
                MINIMUM,
                HITTERS,
                HITTERS - 1,
                CLAIMED,
                SEEN,
                CORRECTED,
                OF_ALL,
                0.01,
                IS_BEST,
            ),
            too_much=(
                *_TURNED,
                *patterns.takes_first_for_best(THE_HITTER),
                *patterns.makes_likely(
                    r"\bbest\b(?! (?:rate|record|mark|figure|share|number))|\bkeeps? (?:that|this|it) up\b"
                ),
                patterns.turned_over(HERS, HER_SWINGS),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:just|only|pure(?:ly)?|all|nothing but|sheer) luck|\bluck\w* and nothing "
                    r"(?:else|more)",
                    "that leaves her nothing, and she is better than most",
                ),
                TooMuch(
                    r"\b(?:overrated|an? (?:average|ordinary|mediocre)|a fluke|a fraud|"
                    r"not (?:that |really |so |very )?good|no good|a bad)\b|\bdo(?:es)?(?: not|n't) deserve",
                    "that makes her bad, and she is better than most",
                ),
                TooMuch(
                    r"(?<!probably )(?<!likely )\bwill (?:surely )?(?:fall|drop|come "
                    r"down|stop|lose|stay|remain|keep)\b|\bfor ?ever\b",
                    "that promises what is only to be expected",
                ),
                TooMuch(
                    r"\b(?:five|5) (?:times )?(?:in|of|out of) (?:six|6) (?:is|was) (?:wrong|false|a "
                    r"lie|impossible)",
                    "that calls the record wrong, and it is right",
                ),
            ),
            good=(
                "Of the 103 who have swung at least 150 times, Kerstin Ravbeck makes contact most often, 127 "
                "times in 152 swings, but some of that is luck.",
                "Ravbeck's 127 for 152 swings with contact tops all regulars, and probably flatters her.",
                "Kerstin Ravbeck has missed on only 25 of 152 swings, the best record among the "
                "regulars, yet it is unlikely that she keeps five in six up.",
                "Kerstin Ravbeck leads all hitters with 150 swings in contact, 127 of 152, though expect "
                "her to "
                "settle somewhat lower.",
                "Among qualified hitters, Kerstin Ravbeck has the best contact rate, 127 of 152 swings, but "
                "with so few swings it is probably inflated.",
                "Kerstin Ravbeck tops the regulars with contact on 127 of 152 swings, which is likely better "
                "than she truly is.",
                "Kerstin Ravbeck has met the ball on 127 of 152 swings, tops among qualifiers; I'd expect "
                "something like 78 percent from here.",
                "Kerstin leads the regulars with contact on 127 of 152 swings, but there is less than one "
                "chance in a hundred that she truly does five in six.",
            ),
            bad=(
                (
                    "Kerstin Ravbeck leads all with at least 150 swings, meeting the ball on 127 of 152.",
                    "how sure",
                ),
                (
                    "Kerstin Ravbeck leads the regulars, meeting the ball five times in six, with some luck.",
                    "out of what",
                ),
                (
                    "Kerstin Ravbeck met the ball on 127 of 152 swings and leads, though her true rate is "
                    "likely lower.",
                    "among whom",
                ),
                (
                    "Our leader among the regulars met the ball on 127 of 152 swings, and there is luck "
                    "in it.",
                    "who",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with 127 of 152 swings, probably too high.",
                    "what",
                ),
                (
                    "Kerstin Ravbeck, 127 of 152 swings with contact, leads the regulars by pure luck.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings and is overrated, "
                    "chances are.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck is the best of the regulars, contact on 127 of 152 swings, most likely.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck made contact on 127 of 152 swings, tops among regulars, but it was luck "
                    "and she will fall.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the 103 regulars with contact on 127 of 152 swings, and chances "
                    "are 95 percent that her true rate is five in six or more.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and no luck is in "
                    "it.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and it is "
                    "unlikely "
                    "that anyone is better.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and her true rate "
                    "is likely even higher.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and she is "
                    "probably even better than that.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and her true rate "
                    "is most likely five in six.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck missed 127 of 152 swings, the most of the regulars, and that was partly "
                    "luck.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and her true rate "
                    "is unlikely to be lower.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, so luck had "
                    "little "
                    "to do with it.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and she will "
                    "probably do better still.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and luck cannot "
                    "explain it, chances are.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings, and five in six "
                    "is "
                    "probably too low for her.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 137 of 152 swings, some of it luck.",
                    "too much",
                ),
                (
                    "Kerstin Ravbeck leads the regulars with contact on 127 of 152 swings; expect her to "
                    "climb, as she was unlucky.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "First what is hers: the record, out of what, and among whom she leads. Then what it is worth.",
            "For instance: leads those with so many swings, so many of so many; the true rate is likely "
            "lower.",
        ),
        "The record in full with the list's minimum, and that some of it is luck; no cause, no blame.",
        "she keeps what she did, and nobody has to take anything back.",
        minutes=4,
    ),
)


def _again_excess(rng: np.random.Generator) -> tuple[str, Exercise]:
    who, doing, tries = (
        ("A goalkeeper", "saves", "shots"),
        ("A driver", "deliveries in time", "deliveries"),
        ("A hitter", "contact", "swings"),
        ("A clerk", "forms without a mistake", "forms"),
    )[int(rng.integers(4))]
    size, many = int(rng.choice([100, 150, 200])), int(rng.choice([20, 40, 60]))
    mean, above = float(rng.choice([0.70, 0.75])), float(rng.choice([0.15, 0.20]))
    record, take = mean + above, above * size / (many + size)
    return (
        f"{who} leads the list with a rate of {rate_text(record)} ({doing}, {many} {tries}). The mean is "
        f"{rate_text(mean)}, the half-weight size {size} {tries}. By how much does the record overstate what "
        "to expect? Three decimals.",
        Exercise(
            "05.again-excess",
            "compute",
            Number(take, tolerance=0.0015, share=True),
            (
                Wrong(record - take, "that is what to expect. How far below the record is it?"),
                Wrong(above, "that is all of the distance to the mean. The record has some weight."),
                Wrong(above - take, "that is what is left of the lead. The question is what comes off."),
            ),
            (
                f"The record's own weight is {many} / ({many} + {size}).",
                f"{above:.2f} * {size} / {many + size}",
            ),
            f"Of the distance {above:.2f} to the mean the share {size} / {many + size} comes off: "
            f"{take:.3f}.",
            "that is the price of having been picked from the top.",
            minutes=1,
        ),
    )


_PAIRS = (  # first: high from few; second: from many
    ((27, 30), (260, 300)),
    ((18, 20), (348, 400)),
    ((37, 40), (435, 500)),
    ((47, 50), (246, 300)),
    ((76, 80), (332, 400)),
    ((57, 60), (410, 500)),
)


def _again_bet(rng: np.random.Generator) -> tuple[str, Exercise]:
    first, second = _PAIRS[int(rng.integers(len(_PAIRS)))]
    who, tries = (("surgeons", "operations"), ("referees", "calls"), ("hitters", "swings"))[
        int(rng.integers(3))
    ]
    expected = [(good + 80) / (many + 100) for good, many in (first, second)]
    right = "b" if expected[0] > expected[1] else "c"
    why = {
        "a": "the record alone does not say it: few tries make it high or low by luck.",
        "b": "work it out: (good + 80) / (tries + 100) for either of the two.",
        "c": "work both out once more: the lead of the first may outlast the pull.",
        "d": "more tries make a record surer, not better. Pull both, then compare.",
    }
    return (
        f"Of two {who} the first did well on {first[0]} of {first[1]} {tries}, the second on {second[0]} of "
        f"{second[1]}. The mean of all is .800, the half-weight size 100 {tries}. On whom do you bet, "
        f"and why?",
        Exercise(
            "05.again-bet",
            "fault",
            Choice(
                right,
                {
                    "a": "the first, as the record is the higher one",
                    "b": "the first, who stays ahead after the pull",
                    "c": "the second, who is ahead after the pull",
                    "d": "the second, as more tries lie behind it",
                },
            ),
            others(why, right),
            ("Pull both records toward .800.", "(good + 80) / (tries + 100), once for each."),
            f"After the pull: {rate_text(expected[0])} against {rate_text(expected[1])}.",
            "first the pull, then the bet.",
            minutes=2,
        ),
    )


LESSON = Lesson(
    "05",
    "Name the leader",
    _verdict,
    "She leads, and her record is right; but she was picked because it is high, so luck is in it.",
    EXERCISES,
    (Again("05.again-excess", _again_excess), Again("05.again-bet", _again_bet)),
)
