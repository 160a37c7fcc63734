"""Lesson 12, choose the hitter: what is asked, what is right, and what people mix up."""

from __future__ import annotations

from functools import cache

import numpy as np
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
from hitlab.exercises.shared import fresh, middle
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

_LEAGUES = 200

Floats = NDArray[np.float64]


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


def lead_of_equals(shares, worth, hitters, turns, rng):  # type: ignore[no-untyped-def]
    endings = rng.multinomial(turns, shares, (200, hitters))
    records = endings @ worth / turns
    return records.max(axis=1).mean() - shares @ worth


def _equal_hitters(rng: np.random.Generator) -> tuple[Floats, Floats, int, int, np.random.Generator]:
    shares = rng.dirichlet(100 * (np.array(SALLY) + CLARA))
    worth = np.array([rng.uniform(0.5, 0.7), rng.uniform(0.7, 0.85), *[1.0] * 7])
    hitters, turns = int(rng.integers(30, 150)), int(rng.integers(100, 400))
    return shares, worth, hitters, turns, fresh(rng)


def _records_of_equals(
    shares: Floats, worth: Floats, hitters: int, turns: int, rng: np.random.Generator
) -> Floats:
    return np.asarray(rng.multinomial(turns, shares, (_LEAGUES, hitters)) @ worth / turns)


def _lead_surely(shares: Floats, worth: Floats, hitters: int, turns: int, _: np.random.Generator) -> float:
    """Return the mean lead exactly; in the drawn tables all endings but the first two are worth 1."""
    from scipy.special import gammaln, xlogy

    first, second = np.mgrid[: turns + 1, : turns + 1]
    rest = turns - first - second
    first, second, rest = (each[rest >= 0] for each in (first, second, rest))
    ways = gammaln(turns + 1) - gammaln(first + 1) - gammaln(second + 1) - gammaln(rest + 1)
    left = 1 - shares[0] - shares[1]
    chance = np.exp(ways + xlogy(first, shares[0]) + xlogy(second, shares[1]) + xlogy(rest, left))
    record = (first * worth[0] + second * worth[1] + rest) / turns
    order = np.argsort(record)
    all_below = np.cumsum(chance[order]) ** hitters  # the highest of them is at most so high
    return float(record[order] @ np.diff(all_below, prepend=0.0) - shares @ worth)


def _first_as_it_is(
    shares: Floats, worth: Floats, hitters: int, turns: int, rng: np.random.Generator
) -> float:
    return float(_records_of_equals(shares, worth, hitters, turns, rng).max(axis=1).mean())


def _all_of_them(shares: Floats, worth: Floats, hitters: int, turns: int, rng: np.random.Generator) -> float:
    return float(_records_of_equals(shares, worth, hitters, turns, rng).mean() - shares @ worth)


def _first_of_all_leagues(
    shares: Floats, worth: Floats, hitters: int, turns: int, rng: np.random.Generator
) -> float:
    return float(_records_of_equals(shares, worth, hitters, turns, rng).max() - shares @ worth)


def _one_turn_each(
    shares: Floats, worth: Floats, hitters: int, turns: int, rng: np.random.Generator
) -> float:
    return float(_records_of_equals(shares, worth, hitters, 1, rng).max(axis=1).mean() - shares @ worth)


def how_sure(drawn):  # type: ignore[no-untyped-def]
    first = drawn.mean(axis=0).argmax()
    low, high = np.quantile(drawn[:, first], [0.05, 0.95])
    truly_best = (drawn.argmax(axis=1) == first).mean()
    return low, high, truly_best


def _drawn_chances(rng: np.random.Generator) -> tuple[Floats]:
    hitters = int(rng.integers(5, 12))
    middle = rng.normal(0.845, 0.004, hitters)
    middle[int(rng.integers(1, hitters))] = (
        middle.max() + 0.002
    )  # whoever is first is not in the first column
    return (rng.normal(middle, 0.005, (400, hitters)),)


def _truly_best(drawn: Floats) -> float:
    return float((drawn.argmax(axis=1) == drawn.mean(axis=0).argmax()).mean())


def _middle_four_fifths(drawn: Floats) -> tuple[float, float, float]:
    first = drawn.mean(axis=0).argmax()
    low, high = middle(drawn[:, first], 0.1)
    return low, high, _truly_best(drawn)


def _all_cut_above(drawn: Floats) -> tuple[float, float, float]:
    first = drawn.mean(axis=0).argmax()
    low, high = np.quantile(drawn[:, first], [0.0, 0.9])
    return low, high, _truly_best(drawn)


def _first_column(drawn: Floats) -> tuple[float, float, float]:
    low, high = middle(drawn[:, drawn.mean(axis=0).argmax()])
    return low, high, float((drawn.argmax(axis=1) == 0).mean())


def _more_cut_above(drawn: Floats) -> tuple[float, float, float]:
    first = drawn.mean(axis=0).argmax()
    low, high = np.quantile(drawn[:, first], [0.05, 0.9])
    return low, high, _truly_best(drawn)


@cache
def _verdict() -> str:
    return str(hitlab.check_spot(rates(), SPOT, THE_HITTER).verdict)


HITTERS, CLOSE, PLACE = 103, 12, 20
"""Hitters on the list, so many of its first of whom none is settled to be worse than the first, her place."""

# Of being the best: hers, and that of the first of the list; of being better than she: the first's.
_CHANCE_BEST, _FIRST_IS_BEST, _FIRST_IS_BETTER = 0.01, 0.19, 0.86
_WINS, _FIRST_WINS = 0.85, 0.857

_SHE = r"(?:nadia izezno|nadia|(?<!nadia )izezno|she)"
_IS_BEST = (
    rf"\b{_SHE}(?: truly| really)?(?:'s| is| was| to be| would be| being| as)? "
    r"(?:(?:truly|really|clearly|surely|indeed|by far) )*"
    r"(?:the |our )?(?:(?:very )?best|right|top|first|safest)\b|"
    rf"\bbest\b(?:(?!\bnot\b|n't)[^.;:,]){{0,30}} (?:is|was|would be) {_SHE}\b|"
    rf"\b{_SHE} (?:\w+ ){{0,2}}?beats? (?:all|any|each|every)"
)
_ASKED = (
    r"\bwhether\b|\bif\b|\bthat\b|\bchances?\b|\bunlikely\b|\bdoubt|\bnot\b|n't\b|\bhardly\b|\bodds\b|"
    r"\bless\b|"
    r"\blong shot\b"
)
_TURNED_ROUND = (
    *patterns.makes_likely(_IS_BEST),
    TooMuch(
        rf"\b{_SHE}(?:'s| is| must be| would be) (?:(?:almost|nearly|quite|very|most|all but|"
        rf"practically|virtually) )*"
        r"(?:surely|certain(?:ly)?|likely|probably|sure(?: to be)?|presumably|doubtless) (?:to be )?(?:the )?"
        r"(?:best|right|top|safest)\b",
        patterns.TURNED,
    ),
    TooMuch(
        patterns.clause_with(_IS_BEST, _ASKED)
        + r"(?![^.;]*(?:(?:one|1|a)(?: chance)? in (?:a |one )?(?:hundred|100)|"
        r"\b(?:one|1(?:\.\d)?) ?(?:%|per ?cent)))",
        patterns.TURNED,
    ),
    TooMuch(
        rf"\b{_SHE}(?: \w+)? (?:may|might|could) (?:very )?well be (?:the )?(?:best|right)\b", patterns.TURNED
    ),
    TooMuch(
        r"\b(?:no one|nobody|none|no other \w+|few|hardly any(?:one|body)?|"
        r"(?:unlikely|doubt\w*|not likely) (?:that )?(?:any|some|another|a better)(?:one|body)?)"
        r"(?! (?:knows|can|could|would|is sure))\b[^.;:]{0,60}\b(?:better|beats?|ahead of)\b|"
        rf"\b(?:doubtful|unlikely|doubt) (?:(?!{_SHE}\b)[^.;:]){{0,50}}?\bbetter\b|"
        r"\bno better (?:choice|pick|hitter|one|bat|option)\b|"
        r"\b(?:hardly|cannot|can't|could not|couldn't|never) (?:\w+ )?find (?:any(?:one|body) |a )better\b",
        patterns.TURNED,
    ),
    TooMuch(
        rf"\bwhether {_IS_BEST}[^.;:]*\b(?:open|unclear|undecided|unsettled|toss-?up)\b|"
        rf"\b(?:open|unclear|undecided|unsettled|toss-?up|(?:cannot|can't) (?:say|tell)) whether {_IS_BEST}",
        "that leaves open what was shown to be hardly so",
    ),
    TooMuch(
        r"\b(?:[2-9]|[1-9]\d)(?:[.,]\d+)? ?(?:%|per ?cent)"
        rf"(?:(?!\bnot\b|n't\b|\belse\b|\bthan\b)[^.;:,]){{0,50}}{_IS_BEST}",
        "that is a chance that she has not",
    ),
)


_SPOT = (
    r"(?:(?:with|and|the|in|a|an|score|game|this|spot|for|when|all|when the) )*(?:bases (?:full|loaded)|"
    r"score tied|game tied|tied(?: (?:game|score))?|tie(?: (?:game|score))?|three on)"
)
_THE_BEST = (
    r"(?:the )?(?:best|right)(?: (?:choice|hitter|one|pick|bat|option|to choose|to send(?: up)?|for "
    r"(?:the|this) spot|there|then|here))*"
    rf"(?: (?:of|out of|among|from|in|the|all|league|'s|our|these|regular|{HITTERS}|{HITTERS - 1}|a "
    r"hundred|100|hitters|regulars|choices|others|to choose|to send up))*"
)
_SHE_SAID = r"(?:<a>|she)"
_LOW = (
    r"(?:(?:about|only|just|roughly|around|some|an?|there|is|are|the) )*"
    r"(?:chances? (?:is|are|of)?(?: (?:only|about|just|roughly))*(?: ?(?:one|1|1%) ?(?:in (?:a |one "
    r")?(?:hundred|100))?)?|(?:one|1)(?: chance)? in (?:a |one )?(?:hundred|100)|1% chance|1%)"
)
_FRAMES = (
    _SPOT,
    r"(?:if|when|where) (?:the (?:game|score) is (?:tied|level)|the bases are full)",
    *frames.ahead(
        rf"(?:(?:somebody|someone|one|another|others)(?: else)?|other hitters)(?: (?:of|among|"
        rf"in|the|our|league|'s|"
        rf"other|others|hitters|regulars|{HITTERS}|{HITTERS - 1}))*(?: (?:is|are|may|might|would|"
        rf"be|probably|likely|most|"
        r"almost|certainly|surely))*",
        "<a>|she|her",
        "a choice pick option bet",
        "choice|pick|option|bet",
    ),
    rf"{_SHE_SAID} is (?:most likely|probably|almost surely|almost certainly|likely) not the "
    rf"one(?: who)? (?:gives|with|has)"
    r"(?: us)? the (?:best|highest) chance(?: (?:to win|of winning))?",
    rf"{_LOW}(?: (?:that|of|for|,|with|bases|full|and|the|tied|score|game|103|regulars|in|hitters|league|"
    rf"'s|all))* {_SHE_SAID} (?:is|being|to be|as)(?: (?:truly|really))* {_THE_BEST}",
    rf"{_SHE_SAID} has(?: (?:about|only|roughly))* (?:one|1) (?:chance )?in (?:a )?(?:hundred|100)(?: "
    rf"chance)? (?:to be|of being) {_THE_BEST}",
    rf"(?:chance|chances)(?: (?:that|of))* {_SHE_SAID} (?:is|being) {_THE_BEST}(?: with the bases (?:full|"
    r"loaded))?(?: is(?: (?:only|about|just|roughly))* (?:1%|one in (?:a )?hundred|one in 100|1 in 100))?",
    r"(?<!not )(?:(?:very|most|quite|rather) )?unlikely(?: (?:that|to be|it|is|with|would|,|of|the|103|"
    rf"regulars))* (?:{_SHE_SAID} )?(?:is |would be |to be )?{_THE_BEST}",
    rf"{_SHE_SAID} is (?:(?:very|most|quite) )?unlikely to be {_THE_BEST}",
    rf"{_SHE_SAID} is (?:(?:most likely|very likely|probably|almost surely|likely|almost certainly|surely|"
    rf"in all likelihood) )not {_THE_BEST}",
    rf"(?:(?:some|somebody|someone|one|another|other|else|hitter|in|of|among|the|league|'s|{HITTERS}|"
    rf"{HITTERS - 1}|regulars|others|is|would|be|very|most|almost|likely|surely|probably|a) )*(?:else|"
    r"other|another)"
    rf"(?: (?:hitter|one|of|in|among|the|league|'s|regulars|{HITTERS}|others|is|would|be|very|most|almost|"
    rf"likely|surely|probably|a))* better (?:choice|pick|option|bet)(?: than {_SHE_SAID})?",
    rf"(?:of|out of|among|from)(?: (?:the|all|league|'s|our|these|other))* (?:{HITTERS}|{HITTERS - 1}|a "
    r"hundred)(?: (?:regular hitters|hitters|regulars|choices|others))?",
    r"who is(?: truly| really)? the best(?= (?:stays|is|remains))|whether the first of the list is",
    rf"i doubt that {_SHE_SAID} is {_THE_BEST}",
    r"(?:close to|near) the top|(?:but|,|(?<=tie )<a> is|(?<=full )<a> is|(?<=tied )<a> is) hardly "
    rf"{_THE_BEST}|when the bases are (?:full|loaded)|bases packed|all even|for "
    r"this spot|in this spot",
    r"(?:somebody|someone)(?: else)?(?: (?:among|of|in|the|other|others|102|103|regulars|hitters))* is a "
    r"better (?:choice|pick|option)(?: than <a>)?",
    r"with the score (?:level|tied) and (?:a runner on every base|3 on)|(?<=full , )one out|"
    rf"(?:the|of the|among the) {HITTERS}(?: hitters)? (?:we )?compared",
    r"(?:the )?chance that <a> is the best choice among the 103 hitters compared is only about one in 100|"
    r"(?:the )?odds that <a> is the best one to send up are about one in 100",
    r"it is very likely that one of the other 102 hitters is a better choice than <a>|a walk would do|"
    r"against 102 others it is very unlikely that she is the right choice",
    rf"in a tied game|the chance that <a> is the best of the {HITTERS} regulars is only about (?:one "
    r"percent|1%)|"
    r"she has one chance in 100",
    rf"best of all {HITTERS} hitters for this is(?: only| about)* one in 100|"
    rf"(?<=, )any of the other {HITTERS - 1} hitters may be better",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "12.bases-full",
        "predict",
        Bounds(_bases_full, widest=1.0),
        (
            Wrong(
                (3.2, 4.2),
                "then nearly everybody would come home every time. Three outs end it, and some runners "
                "are left standing.",
                when=lambda ends: ends[0] > _bases_full(),
            ),
            Wrong(
                (0.5, 1.4),
                "three runners are on already and nobody is out; most often more than one comes home.",
                when=lambda ends: ends[1] < _bases_full(),
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
                "that is her chance to end it at once. After an out the next hitters may still win it, "
                "or the extra innings.",
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
            Wrong(
                sum(CLARA[:2]),
                "so low? Seven endings win, and after either out two chances in three or more are left.",
                when=lambda given: 0 <= given < _at_once() + sum(CLARA[:2]) * min(_values(SPOT)),
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
        "12.lead-of-equals",
        "write",
        Code(lead_of_equals, _equal_hitters, tolerance=0.0015, surely=_lead_surely),
        (
            Wrong(
                _first_as_it_is,
                "that is where the best record stands. How far above the truth is it, which all of them "
                "share?",
            ),
            Wrong(
                _all_of_them,
                "that is the average of all records, and luck leaves it where it is. Who leads the list?",
            ),
            Wrong(
                _first_of_all_leagues,
                "that is the one best record of all 200 leagues. Each league has a leader; average them.",
            ),
            Wrong(
                _one_turn_each,
                "each of your records is one plate appearance long. Draw as many as a season has.",
            ),
        ),
        (
            "rng.multinomial(turns, shares, (200, hitters)) draws the nine counts of every hitter, 200 "
            "times over.",
            "records = ... @ worth / turns; in each league the highest, .max(axis=1); their mean, less "
            "shares @ worth.",
        ),
        "Draw the endings, make records of them, take each league's leader, and see how far above the "
        "truth all these leaders stand on average.",
        "nobody is better than anybody there, and still somebody leads by that much. So much of any lead "
        "may be nothing.",
        minutes=6,
    ),
    Exercise(
        "12.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "the spots of this kind in which she got a hit",
                "b": "the spots of this kind that her club had",
                "c": "the spots of this kind in which she came up",
                "d": "the turns at bat that she had all season",
            },
        ),
        (
            Wrong(
                "a", "then the times she made an out are left out, and these are the ones that cost games."
            ),
            Wrong("b", "in most of these somebody else was at bat, so they tell of the club and not of her."),
            Wrong(
                "d",
                "most of her turns came in other spots, where nothing of the kind could be won.",
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
                "a": "the best one may be among those with too few turns to be listed",
                "b": "the first of so many close ones owes part of her place to luck",
                "c": "one season is too short to rank anybody, so a list says nothing",
                "d": "the games that she won in such spots should have been counted",
            },
        ),
        (
            Wrong("a", "that may be, but it is proven as little among the 103 that are on the list."),
            Wrong("c", "it says who is a good guess. How good a guess, the last column says."),
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
        "12.how-sure",
        "complete",
        Code(how_sure, _drawn_chances),
        (
            Wrong(_middle_four_fifths, "that is the middle 80 %: a tenth is cut off at either end."),
            Wrong(
                _all_cut_above,
                "all that is cut off, you cut off above. An interval leaves out as much at either end.",
            ),
            Wrong(
                _first_column,
                "that is how often whoever stands in the first column is the best. Who is first on average?",
            ),
            Wrong(
                _more_cut_above,
                "from .05 to .90 lie 85 of 100 leagues. An interval leaves out as much at either end.",
            ),
        ),
        (
            "A column is a hitter, a row a league that may be. A hitter's mean goes down it (axis=0).",
            "A twentieth is left out at either end. And argmax(axis=1) names the best of each row: is it "
            "first?",
        ),
        "The column of the first, a twentieth cut off at either end, and in how many rows the best one "
        "is the first.",
        "a chance to be truly best is counted like that: in how many leagues that may be.",
        minutes=5,
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
        core=False,
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
        "The ring road is in time on three days of four; the town on 6 days of 10, whatever the day. And "
        "if every day were one with 45 minutes, the town would be the only choice.",
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
                lambda: 2 * _homer_ties(0.5) - 1 + 0.3,
                "the two overlap: only a game that is not won at once goes on to be won in 3 of 10 cases.",
            ),
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
    Exercise(
        "12.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point(
                    "the spot",
                    "the bases full, or a tied score",
                    (
                        r"\bbases (?:are |were |being )?(?:full|loaded|jammed|packed)",
                        r"\b(?:full|loaded) bases",
                        r"\b(?:runner|man|men|runners|somebody|someone) on (?:every|each|all|first, second)",
                        r"\b(?:three|3) (?:runners |men )?on\b",
                        r"\btied?\b",
                        r"\blevel\b",
                        r"\bthis spot\b.*\blast inning|\blast inning\b.*\bspot\b",
                    ),
                ),
                Point(
                    "what",
                    "that it is about the best choice",
                    (
                        r"\bbest\b|\bhighest chance\b",
                        r"\bchoice\b",
                        r"\b(?:right|better|safest|top|first) (?:hitter|one|pick|bet|person|bat)\b",
                        r"\boptions?\b",
                        r"\bbetter (?:with|off)\b",
                        r"\bbeats? (?:her|every|all|the)\b",
                        r"\bbetter than\b",
                        r"\bpick\b",
                    ),
                ),
                Point(
                    "against whom",
                    "the other hitters she is compared with",
                    (
                        patterns.number(HITTERS),
                        patterns.number(HITTERS - 1),
                        r"\bhundred (?:others?|hitters|regulars)",
                        r"\bothers?\b",
                        r"\bleague",
                        r"\bregulars?\b",
                        r"\bhitters\b",
                        r"\b(?:any|every|no|some)(?:one|body)\b|\bno one\b",
                        r"\bdozen\b",
                    ),
                ),
                Point(
                    "how sure",
                    "a chance, or that it is unlikely",
                    (
                        *patterns.DOUBT,
                        r"\b(?:one|1|a) (?:chance )?(?:in|out of) (?:a |one )?(?:hundred|100)",
                        r"\b(?:one|two|a|1(?:\.\d)?|2) ?(?:%|per ?cent)",
                        r"\bchances? (?:that|of (?:being|her)|is|are|she)\b",
                        r"\b(?:small|slim|slight|low|tiny|little|long) (?:chance|odds)",
                        *patterns.LIKELY,
                        r"\b(?:hardly|scarcely)\b",
                        r"\b(?:almost|nearly) surely\b",
                    ),
                ),
            ),
            "Tied and the bases full, there is about one chance in a hundred that Nadia Izezno is the "
            f"best choice of the league's {HITTERS} regulars.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "who is the best stays open",
                "whether the first is best stays open",
                "1%",
                "a 1% chance",
                "102 others",
                "1 in 100",
                "99%",
                "a 99% chance",
                "one in 100",
                "100 chances",
                "one of 103 hitters",
                "one of 102 others",
                "99 in 100",
                "unlikely that she is the best to send up",
                "a 1% chance that she is the best",
                "the chance that she is the best is one in 100",
                "the chance that she is the best to send up is one in 100",
                "somebody else is almost surely better",
                "probably close to the top",
                "99% sure that somebody else is better",
                "all even",
                "unlikely that she is the one to send up",
                "against others it is very unlikely",
                "a 1% chance that she is the best to send up",
                "any of the others may be better",
                "most likely not the one with the highest chance",
                "almost surely not the best",
                "probably not the best; out of 103 hitters she has one chance in 100",
                "somebody else is likely a better choice",
                "another hitter is likely a better choice",
                "of the 103",
            ),
            figures=(
                HITTERS,
                HITTERS - 1,
                CLOSE,
                PLACE,
                1,
                3,
                100,
                _CHANCE_BEST,
                _FIRST_IS_BEST,
                _FIRST_IS_BETTER,
                _WINS,
                _FIRST_WINS,
            ),
            too_much=(
                TooMuch(r"\b(?:best|right) choice,? but for\b", patterns.TURNED),
                TooMuch(
                    r"\b(?:one|1|a) (?:chance )?(?:in|out of) (?:a |one )?(?:hundred|100) that "
                    r"(?:she|nadia|izezno|nadia izezno)(?: is not|isn't) ",
                    patterns.TURNED,
                ),
                *_TURNED_ROUND,
                TooMuch(
                    r"\b(?:wrong|bad|terrible|poor|worst|awful) (?:choice|hitter|pick|one|option|idea)",
                    "that makes her bad, and she gives nearly the same chance to win as the first of the "
                    "list",
                ),
                TooMuch(
                    r"\b(?:jarobarev|alenka|urrivar|saoirse)\b[^.;]{0,25}\b(?:is|are|would be) "
                    r"(?:clearly )?(?:the )?(?:best|right)",
                    "that names the best one, and who that is is open",
                ),
                TooMuch(
                    r"\b(?:will|would|is going to|are going to|must) (?:strike|lose|fail|win|whiff)|"
                    r"\b(?:costs?|loses?) (?:us |them |you )?the game",
                    "that tells how it ends, and a chance to win does not",
                ),
                TooMuch(
                    r"\b(?:because|since|as) (?:she|nadia|izezno) (?:chokes|cannot|can't|is "
                    r"(?:nervous|scared|afraid))|\bnerves?\b|\bpressure\b|\bclutch\b",
                    "that gives a cause, and none was looked for",
                ),
                TooMuch(
                    r"\b(?:nadia|izezno)\b(?:(?!not\b|n't|hardly)[^,;.]){0,30}\b(?:likely|probably) "
                    r"(?:is |to be )?the (?:best|right|pick|one|choice|top|safest|first)\b",
                    "that says the opposite of what was found",
                ),
                TooMuch(
                    r"\b(?:clearly|obviously|of course) not\b|\bimpossible\b|\bout of the question\b",
                    "that rules out what is only unlikely",
                ),
            ),
            good=(
                "With the score tied and the bases loaded, Nadia Izezno is probably not the best hitter "
                "to send: a hundred others are listed.",
                "Izezno leads in home runs, but tied with three on, somebody else in the league is very "
                "likely the better pick.",
                "Bases full, tied: chances are 1 % that of 103 regular hitters Nadia is the right one.",
                "It is unlikely that Nadia Izezno is the best of the league's regulars with a tied score "
                "and the bases full.",
                "Tied with the bases full, there is about one chance in a hundred that Nadia Izezno is the "
                "best choice of 103, and whether the first of the list is, stays open.",
                "With the game tied and the bases loaded, Nadia Izezno is very unlikely to be the best of "
                "the league's hitters, about one in a hundred.",
                "Bases loaded, tie game, I doubt that Nadia Izezno is the best of 103 choices.",
                "Tied, three on: Nadia Izezno is the right choice of 103 with one chance in a hundred.",
            ),
            bad=(
                (
                    "Nadia Izezno is most likely not the best of the 103 regular hitters.",
                    "the spot",
                ),
                (
                    "Tied with the bases full, the home-run leader is unlikely to be the best choice of 103.",
                    "who",
                ),
                (
                    "With the bases full and the score tied, Nadia Izezno is not the best choice in this "
                    "league.",
                    "how sure",
                ),
                (
                    "Tied and bases loaded: it is unlikely that Nadia Izezno is the best choice.",
                    "against whom",
                ),
                (
                    "Tied, bases full, and with 102 others in the league, Nadia Izezno likely makes an out.",
                    "what",
                ),
                (
                    "Tied, bases full: Nadia Izezno is a bad choice, and others in the league are likely "
                    "better.",
                    "too much",
                ),
                (
                    "Tied and bases full, Alenka Jarobarev is the best of the league, and Nadia Izezno "
                    "probably not.",
                    "too much",
                ),
                (
                    "With the bases full and a tied score, Nadia Izezno is probably the best of the "
                    "league's 103 regulars.",
                    "too much",
                ),
                (
                    "Bases full, tied: the odds say Nadia Izezno would strike out, so any other hitter "
                    "is better than her.",
                    "too much",
                ),
                (
                    "Tied with the bases full, there is a 90 percent chance that Nadia Izezno is the best "
                    "choice of the league's 103 regulars.",
                    "too much",
                ),
                (
                    "Tied with the bases full, there is a 99 percent chance that Nadia Izezno is the best "
                    "choice of the league's 103 regulars.",
                    "too much",
                ),
                (
                    "Tied and the bases full, chances are that Nadia Izezno is the best choice of the 103 "
                    "regulars.",
                    "too much",
                ),
                (
                    "Bases full, tied: no one of the 103 is likely to be a better choice than Nadia Izezno.",
                    "too much",
                ),
                (
                    "Tied with the bases full, it is unlikely that anyone in the league is a better pick "
                    "than Nadia Izezno.",
                    "too much",
                ),
                (
                    "Tied with the bases full, Nadia Izezno is the best choice of the league, most likely.",
                    "too much",
                ),
                (
                    "Tied with the bases full, there is one chance in a hundred that Nadia Izezno is the "
                    "best choice of 150.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Name her and the spot. Then: what is she most likely not, and among how many?",
            "For instance: in this spot there is about so much of a chance that she is the best choice "
            "of so many.",
        ),
        "Her name, the spot, that it is about the best choice, the hitters she is compared with, and the "
        "chance of it; nobody else is named the best, and nobody is bad.",
        "nobody was called a bad hitter, and the home runs stay what they are.",
        minutes=4,
    ),
)


def _again_endings(rng: np.random.Generator) -> tuple[str, Exercise]:
    at_once, later, well = (
        float(rng.choice(list(values))) for values in ((0.5, 0.55, 0.6), (0.2, 0.25, 0.3), (0.3, 0.4, 0.6))
    )
    text, all_of_them = (
        (
            "Of the calls to a help desk {} are solved at once. {} are called back, and of these {} end "
            "well. The rest is lost.",
            "calls end well",
        ),
        (
            "Of the parcels of a driver {} are handed over at the first ring. {} go to a neighbour's, "
            "and of these {} arrive. The rest goes back.",
            "parcels arrive",
        ),
        (
            "Of those who come to a clinic {} are helped on the day. {} are asked to come again, and of "
            "these {} are helped then. The rest stays away.",
            "are helped",
        ),
    )[int(rng.integers(3))]
    right = at_once + later * well
    return (
        f"{text.format(percent(at_once), percent(later), percent(well))} What share of all {all_of_them}? A "
        "share from 0 to 1, three decimals.",
        Exercise(
            "12.again-endings",
            "compute",
            Number(right, tolerance=0.004, share=True),
            (
                Wrong(at_once, "that is what ends well at once. The second way adds something."),
                Wrong(at_once + later, "that counts all of the second kind as if every one ended well."),
                Wrong(later * well, "that is the second way alone. What ended well at once is missing."),
            ),
            ("Each ending's share times what it is worth, added up.", "The first kind is worth 1."),
            f"{at_once:.2f} + {later:.2f} × {well:.1f} is {right:.3f}.",
            "a sum of shares, each times what it is worth, as for a spot.",
            minutes=1,
        ),
    )


def _again_first_ahead(rng: np.random.Generator) -> tuple[str, Exercise]:
    many, who, what, unit = (
        (80, "call centres", "solve at the first call", "%"),
        (60, "clinics", "of their patients wait less than an hour", "%"),
        (90, "drivers", "of their parcels come in time", "%"),
    )[int(rng.integers(3))]
    close = bool(rng.random() < 0.5)
    first, half = int(rng.integers(88, 95)), int(rng.integers(3, 5))
    other, place = (first - 1, "second") if close else (first - 5 * half, "last")
    side = "the two ranges cover nearly the same" if close else "no share lies in both ranges"
    why = {
        "a": f"look at the ranges, not at the two figures alone: {side}.",
        "b": f"the ranges tell more than that: {side}.",
        "c": f"nothing here shows that two are alike; {side}.",
    }
    right = "b" if close else "a"
    return (
        f"{many} {who} are ranked by how many {unit} {what}. The first has {first} (90 % range "
        f"{first - half} to {first + half}), the {place} {other} ({other - half} to {other + half}). Is "
        f"the first truly better than the {place}?",
        Exercise(
            "12.again-first-ahead",
            "fault",
            Choice(
                right,
                {
                    "a": "it may be said: the difference is more than luck makes",
                    "b": "it stays open: either may truly be the better one",
                    "c": "it may be denied: the two are as good as each other",
                },
            ),
            others(why, right),
            ("Hold the two ranges side by side.", "How much of one range lies in the other?"),
            f"Side by side, {side}.",
            "a place in a list says little where the ranges lie on each other, and much where they do not.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "12",
    "Choose the hitter",
    _verdict,
    "With the bases full a walk wins as surely as a home run, and she hardly ever walks; one of the other "
    f"{HITTERS - 1} is the better choice, all but surely.",
    EXERCISES,
    (Again("12.again-endings", _again_endings), Again("12.again-first-ahead", _again_first_ahead)),
)
