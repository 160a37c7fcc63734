"""Lesson 3, check a claim: record and underlying rate, verdicts with fixed bounds, and searches."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pandas as pd

import hitlab
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT, verdict_on
from hitlab.estimates.top_places import chance_of_top
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
from hitlab.exercises.shared import dealt_at_least, fresh, season
from hitlab.wording import percent

__all__ = ["LESSON", "MINIMUM", "chance_best"]

MINIMUM = 150
"""Swings that a hitter needs to be on the lesson's list."""

THE_HITTER = "Nadia Izezno"
THE_OTHER = "Alenka Larkditch"
VALUE = 0.15
FUNDS, YEARS = 320, 6
HARD, SWINGS = 108, 547  # the hitter's record, which her sentence for air has to name
ABOUT, SEEN, ITS_CHANCE, HITTERS = 550, 0.197, 0.26, 103  # roundly; her rate; to be the best of so many


@cache
def chance_best() -> float:
    """Return the chance that the lesson's hitter truly has the highest rate.

    As ``check_leads`` works it out, without the rest of its answer, which takes longer.
    """
    fit = hitlab.shrink(season(), "hard", "swings")
    compared = np.flatnonzero(fit.exposure >= MINIMUM)
    names = fit.data["hitter"].to_numpy()[compared]
    return float(chance_of_top(fit.posterior.only(compared), 1)[names == THE_HITTER][0])


@cache
def _above(hitter: str, value: float) -> float:
    chance = hitlab.check_above(season(), hitter, value).chance
    assert chance is not None  # it is one only for a record
    return chance


def shuffled(hard, inside, rng):  # type: ignore[no-untyped-def]
    seen = hard[inside].mean() - hard[~inside].mean()
    as_large = 0
    for _ in range(1_000):
        dealt = rng.permutation(hard)
        as_large += dealt[inside].mean() - dealt[~inside].mean() >= seen
    return as_large / 1_000


def _swings_to_shuffle(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, np.random.Generator]:
    """Draw so few swings that an equal difference is common: drawn with replacement, it is less so."""
    swings = int(rng.integers(50, 90))
    inside = rng.random(swings) < 0.4
    hard = (rng.random(swings) < 0.15 + rng.uniform(-0.04, 0.08) * inside).astype(int)
    return hard, inside, fresh(rng)


def _differences(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    dealt = rng.permuted(np.tile(hard, (1_000, 1)), axis=1)
    return np.asarray(dealt[:, inside].mean(axis=1) - dealt[:, ~inside].mean(axis=1))


def _seen(hard: np.ndarray, inside: np.ndarray) -> float:
    return float(hard[inside].mean() - hard[~inside].mean())


def _shuffled_surely(hard: np.ndarray, inside: np.ndarray, _: np.random.Generator) -> float:
    return dealt_at_least(int(hard[inside].sum()), int(inside.sum()), int(hard.sum()), len(hard))


def _at_most(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    return float(np.mean(_differences(hard, inside, rng) <= _seen(hard, inside)))


def _both_sides(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    return float(np.mean(np.abs(_differences(hard, inside, rng)) >= abs(_seen(hard, inside))))


def _counted(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    return float(np.sum(_differences(hard, inside, rng) >= _seen(hard, inside)))


def _larger(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    return float(np.mean(_differences(hard, inside, rng) > _seen(hard, inside) + 1e-12))


def _once(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    return float(_seen(rng.permutation(hard), inside) >= _seen(hard, inside))


def _drawn_back(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    again = (rng.choice(hard, len(hard)) for _ in range(1_000))
    return float(np.mean([_seen(one, inside) >= _seen(hard, inside) for one in again]))


def _not_shuffled(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    order = rng.permutation(len(hard))
    return float(_seen(hard[order], inside[order]) >= _seen(hard, inside) - 1e-12)


def _their_mean(hard: np.ndarray, inside: np.ndarray, rng: np.random.Generator) -> float:
    return float(_differences(hard, inside, rng).mean())


def listed(sheet, minimum):  # type: ignore[no-untyped-def]
    named = sheet.dropna(subset=["hitter"])
    sums = named.groupby("hitter")[["hard", "swings"]].sum()
    enough = sums[sums["swings"] >= minimum]
    rates = enough["hard"] / enough["swings"]
    return rates.sort_values(ascending=False)


_listed: Callable[..., pd.Series] = listed


def _sheet_to_list(rng: np.random.Generator) -> tuple[pd.DataFrame, int]:
    """Draw a sheet, and a minimum that somebody has exactly."""
    rows = 60
    swings = rng.integers(1, 16, rows)
    who = rng.choice([f"hitter {number}" for number in range(8)], rows, p=np.arange(1, 9) / 36).astype(object)
    who[rng.choice(rows, 4, replace=False)] = None
    sheet = pd.DataFrame(
        {
            "game": rng.integers(1, 7, rows),
            "hitter": who,
            "hard": rng.binomial(swings, 0.3),
            "swings": swings,
        }
    )
    return sheet, int(rng.choice(_sums(sheet)["swings"].nsmallest(4)))


def _sums(sheet: pd.DataFrame, key: str = "hitter") -> pd.DataFrame:
    return sheet.dropna(subset=["hitter"]).groupby(key)[["hard", "swings"]].sum()


def _by_game(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    sums = _sums(sheet, "game")
    enough = sums[sums["swings"] >= minimum]
    return (enough["hard"] / enough["swings"]).sort_values(ascending=False)


def _minimum_of_hard(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    sums = _sums(sheet)
    enough = sums[sums["hard"] >= minimum]
    return (enough["hard"] / enough["swings"]).sort_values(ascending=False)


def _by_minimum(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    sums = _sums(sheet)
    enough = sums[sums["swings"] >= minimum]
    return (enough["hard"] / minimum).sort_values(ascending=False)


def _more_than_minimum(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    return _listed(sheet, minimum + 1)


def _names_as_they_came(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    rates = _listed(sheet, minimum)
    return rates.set_axis(rates.index.sort_values())


def _lowest_first(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    return _listed(sheet, minimum).sort_values()


def _minimum_of_rows(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    return _listed(sheet[sheet["swings"] >= minimum], 0)


def _mean_of_rates(sheet: pd.DataFrame, minimum: int) -> pd.Series:
    named = sheet.dropna(subset=["hitter"])
    rates = (named["hard"] / named["swings"]).groupby(named["hitter"]).mean()
    return rates[_sums(sheet)["swings"] >= minimum].sort_values(ascending=False)


def _verdict() -> str:
    return verdict_on(chance_best(), HOLDS_AT, FAILS_AT)


_TURNED = tuple(
    TooMuch(pattern, patterns.TURNED)
    for pattern in (
        r"\b(?:one|1) (?:chance )?(?:in|out of) (?:four|4)\b[^,;:.]{0,30}\b(?:somebody|someone|another|"
        r"anybody|any other|"
        r"one of the others)\b[^,;:.]{0,20}\b(?:better|best)\b",
        r"\b(?:somebody|someone|another|anybody|others?)\b[^,;:.]{0,20}\b(?:better|"
        r"best)\b(?:(?!\bnot\b|n't)[^,;:.]){0,40}\b(?:is |in |at )?"
        r"(?:only )?(?:one|1|2[5-7])(?: chance)?(?: (?:in|out of) (?:four|4)| ?%| per ?cent)",
        r"\b2[5-7](?: ?%| per ?cent)[^,;:.]{0,30}\b(?:somebody|someone|another|"
        r"anybody)\b[^,;:.]{0,20}\b(?:better|best)\b",
        r"\b(?:nadia|izezno|she)\b(?:(?!whether|if\b|where)[^,;:.]){0,20}\b(?:is|ranks|comes|"
        r"stands) (?:only )?"
        r"(?:second|third|fourth|fifth|last|behind|below)\b",
        patterns.clause_with(
            r"\b(?:leads?|leading|ahead of|beats?|outhits) (?:nadia|izezno|her)\b",
            r"\b(?:no|nobody|none|not|never)\b|n't",
        ),
        r"\b(?:nadia|izezno|she)\b[^,;:.]{0,15}\b(?:trails?|lags?|follows?)\b",
        r"\b(?:fewest|lowest|least (?:often|frequently))\b",
        r"\bless often than (?:any|all|every|the others|nobody)\b",
    )
)

_FRAMES = (
    *frames.record(HARD, SWINGS, "swings", frames.HARD),
    *frames.among(HITTERS, MINIMUM),
    *frames.most_often(
        "hit hits hard balls contact rate hitting",
        f"hitters regulars them all those list league {HITTERS} {MINIMUM} swings",
    ),
    r"(?:<a>|103 regulars|swings|,)(?: (?:stands|is|comes|ranks|sits|stays))* (?:first|number "
    r"one)(?= (?:,|of|among|with))",
    r"(?:one|1) in 4|(?:26%|one in 4)(?: chance)?(?: that)? (?:she|<a>) (?:is|'s)(?: truly| "
    r"really)? the best(?: (?:of|one|"
    r"hitter|them|all))*(?: for real)?",
    *frames.asked(
        r"(?:the )?best(?: (?:of|hitter|one|them|all|the|in|league|among|number one))*|number one|better|"
        r"skill"
    ),
    r"<a> (?:is|stands|sits|ranks|comes|comes in|was|now|currently|has|currently is)*(?: (?:in|at|"
    r"is))*(?: the)? ?"
    r"(?:leads?|tops|heads|first|on top|number one|first place|at the top|the leader|leading)(?: (?:of|"
    r"the|all|list|place|our|league|'s|in|among|those|with))*",
    r"(?:first|at the top|top|on top)(?: (?:of|among|in|on|the|place|list))* (?:103|regulars|hitters|the "
    r"list|them|the league)(?: (?:hitters|regulars))?(?: (?:stands|is|sits))?(?: <a>)?",
    r"(?:has|with|is|for|at) the (?:league 's )?(?:highest|best|top)(?: (?:mark|rate|share|record|hard "
    r"hit rate|hard hit|hard|of|hits|figure|hitting))+",
    r"the (?:best|top|highest) (?:mark|rate|record|share)(?: (?:of any regular|of all|among|of))?",
    r"(?:nobody|no one|no hitter|no regular|none) (?:has|hits|had|beats|is ahead of|hit)(?: (?:a|the|it|"
    r"of|hard|higher|better|larger|rate|share|swings|balls|hard hit|hits|more|often))* "
    r"(?:than )?<a>",
    frames.unbeaten(
        rf"among those these in our list league {HITTERS} {MINIMUM} with hitters listed hard hit balls"
    ),
    r"leads? (?:all |the |our |league 's |of )*(?:103 )?(?:hitters|regulars|qualifiers|list|league)",
    r"(?:whether|if)(?: that)? (?:makes her|makes <a>) (?:the )?best(?: (?:hitter|one|of them))*",
    r"does not (?:settle|tell us|say|mean|show|prove)(?: that| if| whether)?(?: (?:who|she|<a>))?(?: "
    r"is)?(?: truly| really)?(?: the)? best(?: of them| hitter)?",
    r"it is (?:far from clear|another question|one chance in 4|three to one against)|26%|one in 4|a "
    r"quarter|three times (?:out of|in) (?:4|four)",
    r"(?<=it is )(?:somebody|someone) else|"
    r"(?:somebody|someone) else(?: (?:is|of them))?(?: truly| really)?(?: the)? (?:better|best)|another "
    r"one(?: of them)? is(?: the)? best",
    r"skill or luck|(?:that|it|this)(?: all)? (?:could|may|might)(?: well)? be luck|(?:yet|but|and|"
    r"though)? ?(?:probably|most likely|perhaps) not(?: the)? best|maybe not(?= ,)",
    r"about (?:a quarter|one in 4|26%)|(?:we|i) give her(?: (?:about|only))* (?:one chance in 4|a 26% "
    r"chance)(?: of being| to be)(?: the)? best|is tops",
    r"puts <a> first|puts her first|hits it hard most often|as(?= 108 of)|may not be the best|"
    r"no one on the list(?: of 103)? beats <a>|among the 103(?: with)?",
    r"tops (?:the|our) (?:chart|table|ranking)(?: of 103)?|so more likely it is somebody else",
    r"(?:no one|nobody)(?: among (?:the|our) 103(?: hitters| regulars)?(?: on (?:the|our) list)?)? has hit "
    r"a (?:larger|"
    r"higher|bigger) share of (?:her )?swings hard than <a>",
    r"(?:does not|do not) tell us(?: yet)? who is(?: truly| really)?(?: the)? best",
    frames.MAY_BE_LUCK,
    rf"no other hitter on our list of {HITTERS} has a higher share of hard swings than <a>",
    r"that she is(?: truly| really)? the best(?: (?:hitter|one))?(?: of (?:them|all))? is (?:not "
    r"(?:certain|sure|settled|proven|"
    r"clear)|open|uncertain|another (?:question|matter))",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "03.first-and-best",
        "predict",
        Bounds(lambda: 100 * chance_best(), widest=20, per_cent=True),
        (
            Wrong(
                (80, 99),
                "that takes the list for the truth. Remember who led after few swings in lesson 2, and that "
                "more than a hundred others are being compared with her.",
                when=lambda ends: ends[0] >= 60,
            ),
            Wrong(
                (50, 59),
                "for that she would have to be a better bet than all others together. Her lead over the next "
                "is small beside the intervals.",
                when=lambda ends: 45 <= ends[0] < 60,
            ),
            Wrong(
                (0, 2),
                "that is one in 103, as if we had not looked at all. Her record does tell something.",
                when=lambda ends: ends[1] < 5,
            ),
        ),
        (
            "Look at the intervals in the list: how many of the others reach up to her rate?",
            "She is the likeliest of all, but all others together are likelier than she is.",
        ),
        lambda: (
            f"check_leads gives {percent(chance_best())}: the chance that after a million swings of all "
            "she would still be first."
        ),
        "to be the likeliest to be best is not the same as to be best.",
        minutes=3,
    ),
    Exercise(
        "03.two-of-them",
        "fault",
        Choice(
            "b",
            {
                "a": "they play in different parks, and rates of two parks are never set side by side",
                "b": "luck alone makes such records differ by more than that, so it settles nothing",
                "c": "Nadia swung twice as often, so it is no wonder that she has more hard balls",
                "d": "a newsletter should give balls in play, where a difference shows more clearly",
            },
        ),
        (
            Wrong("a", "they may be, with care. And in one park the sentence would be as hasty."),
            Wrong("c", "that would be a fault of counts. Here both are divided by their own swings."),
            Wrong("d", "another denominator answers another question, and its records scatter as well."),
        ),
        (
            "Look at the two lines in the list. Where do they lie?",
            "Each line is what luck leaves possible for one hitter. The two rates lie well inside both.",
        ),
        "The two rates differ by about a hundredth, and each line reaches several hundredths to either side. "
        "A difference as large comes about by luck in most pairs of such records.",
        "two numbers always differ. Ask how much luck alone would make them differ.",
        minutes=3,
    ),
    Exercise(
        "03.shuffle-it",
        "write",
        Code(shuffled, _swings_to_shuffle, tolerance=0.07, surely=_shuffled_surely),
        (
            Wrong(_at_most, "you count the shuffles whose difference is at most the one seen."),
            Wrong(
                _both_sides,
                "you count large differences of either sign. The claim is that she is better there, so only "
                "one sign speaks for it.",
            ),
            Wrong(_counted, "that is how many of the 1,000. Divide, and it is a share."),
            Wrong(
                _not_shuffled,
                "nothing came apart: hard balls and situation were moved together. Shuffle one of the two.",
            ),
            Wrong(
                _larger,
                "you count only those that are larger. One that is just as large is as striking, and counts.",
            ),
            Wrong(_once, "that is one shuffle, which says yes or no. Take 1,000, and the share of yes."),
            Wrong(
                _drawn_back,
                "your swings are drawn with replacement, so that there are more hard ones at one time and "
                "fewer at another. Deal out the same ones: rng.permutation.",
            ),
            Wrong(
                _their_mean,
                "that is the mean of the shuffled differences, which is about nothing. Hold each against "
                "the one that was seen.",
            ),
        ),
        (
            "seen = hard[inside].mean() - hard[~inside].mean(); ~ turns True and False round.",
            "In a loop of 1,000: dealt = rng.permutation(hard), and the same difference of it; add 1 where "
            "it is at least seen.",
        ),
        "Work the difference out once as it was seen and 1,000 times with the hard balls dealt anew; the "
        "share that is at least as large is the answer.",
        "a difference that the shuffle often makes needs no reason. This works for any two groups.",
        minutes=6,
    ),
    Exercise(
        "03.one-in-three",
        "denominator",
        Choice("d", {"a": "pitches", "b": "swings", "c": "balls in play", "d": "plate appearances"}),
        (
            Wrong("a", "she sees several pitches each time she steps up. The sentence counts the times."),
            Wrong("b", "she may swing three times in one turn, or not at all. The sentence counts turns."),
            Wrong("c", "that leaves out every turn that ends without a ball in play."),
        ),
        (
            "What follows 'whenever' in the sentence?",
            "One time of stepping up to the plate has a name; it stands among the new words.",
        ),
        "'Whenever she steps up' is each plate appearance: what follows 'whenever' goes below the line.",
        "the same hitter is at one in five and at one in three; both are right. Say which one you mean.",
        minutes=2,
    ),
    Exercise(
        "03.the-list",
        "complete",
        Code(listed, _sheet_to_list),
        (
            Wrong(_by_game, "these are the rates of games. The list is one of hitters."),
            Wrong(_minimum_of_hard, "the minimum is one of swings; yours asks for so many hard balls."),
            Wrong(_by_minimum, "you divide by the minimum. Each hitter has swings of his own."),
            Wrong(
                _more_than_minimum,
                "somebody has the minimum exactly, and that is enough: >= takes him, and > does not.",
            ),
            Wrong(
                _names_as_they_came,
                "the rates were sorted, and the names beside them were not. Sort both together.",
            ),
            Wrong(_lowest_first, "the lowest rate stands first. Who leads belongs on top."),
            Wrong(
                _minimum_of_rows,
                "the minimum was held against single games. Add up a hitter's games first.",
            ),
            Wrong(
                _mean_of_rates,
                "you averaged the rates of single games, so that one swing in one game counts as much as "
                "ten in another.",
            ),
        ),
        (
            "One row a hitter: by which column are the rows put together? Then: how many swings are enough?",
            'The gaps: "hitter", minimum, enough["swings"], False.',
        ),
        "Rows without a name go first, then sums a hitter, then the minimum, then hard balls by swings, the "
        "highest first.",
        "every list you will ever read was made by lines like these. Ask for its minimum.",
        minutes=5,
    ),
    Exercise(
        "03.above-it",
        "compute",
        Number(lambda: _above(THE_OTHER, VALUE), tolerance=0.011, share=True),
        (
            Wrong(
                lambda: 1 - _above(THE_OTHER, VALUE),
                "that is the chance that she is below it.",
            ),
            Wrong(
                lambda: _above(THE_HITTER, VALUE),
                "that is Nadia's chance; if you put in the other name, the number was not hers.",
            ),
            Wrong(lambda: _above(THE_OTHER, 0.16), "that is for .160; the question asks for .150."),
            Wrong(
                1.0,
                "that is settled for the record: she has been above it. Whether she truly is has a chance.",
            ),
        ),
        (
            "Which of the checks takes a hitter and a value?",
            'hitlab.check_above(counts, "Alenka Larkditch", 0.15), and then its .chance',
        ),
        lambda: (
            f"hitlab.check_above(counts, 'Alenka Larkditch', 0.15).chance is {_above(THE_OTHER, VALUE):.2f}. "
            f"With the usual bounds that is: {verdict_on(_above(THE_OTHER, VALUE), HOLDS_AT, FAILS_AT)}."
        ),
        "with the bounds that were fixed before, you now know whether it may go on air.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "03.twenty-looks",
        "compute",
        Number(1 - 0.9**20, tolerance=0.006, share=True),
        (
            Wrong(0.9**20, "that is the chance that none of the 20 strikes him."),
            Wrong(0.1, "that is for one look. He looked 20 times."),
            Wrong(1 - 0.9**10, "that is for ten looks."),
            Wrong(1.0, "nearly, but he may be lucky. Chances of independent looks are not added."),
            Wrong(0.9, "that is the chance that one single look is not fooled."),
        ),
        (
            "Ask first for the chance that none of the looks is fooled.",
            "One look is not fooled with 0.9, two looks with 0.9 * 0.9. Go on to 20, and take it from 1.",
        ),
        "None of 20 is fooled with a chance of 0.9 to the power of 20, about .12; at least one: about .88.",
        "who looks often enough always finds something. Counting the looks is part of the claim.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "03.cutters",
        "fault",
        Choice(
            "c",
            {
                "a": "what he does to cutters should be counted per ball in play, not per swing",
                "b": "with 24 swings he has hardly more than the minimum, which should be higher",
                "c": "the chance is one for a pair named beforehand, and this one was searched for",
                "d": "cutters may be easier to hit for everybody, and the league's rate is missing",
            },
        ),
        (
            Wrong("a", "the newsletter speaks of his swings and divides by them. That part is in order."),
            Wrong("b", "with another minimum another pair is on top, found in the same way."),
            Wrong("d", "against the league he would stand out as well: he was picked for standing out."),
        ),
        (
            "How many pairs did the writer go through before he chose this one?",
            "If each of some hundred pairs has one chance in a few hundred, how many will come up?",
        ),
        "One in a hundred is rare for a pair that was named beforehand. Among many hundred pairs of a hitter "
        "and a pitch some such turn up by luck alone, and the search picks just these.",
        "the best of many is always striking. Ask what was looked at, not only what was found.",
        minutes=5,
    ),
    Exercise(
        "03.six-good-years",
        "transfer",
        Number(FUNDS / 2**YEARS, tolerance=0),
        (
            Wrong(1 / 2**YEARS, "that is the chance of one fund named beforehand. There are 320 of them."),
            Wrong(FUNDS / YEARS, "six years in a row halve the number six times; do not divide by six."),
            Wrong(FUNDS / 2, "those are left after the first year. Five more tosses follow."),
            Wrong(0, "rare for one, but 320 are trying."),
            Wrong(1, "with 64 funds you would expect one. There are more."),
        ),
        (
            "After one year half of the funds are left, after two years a quarter.",
            "320 times one in 64.",
        ),
        "320 / 64 is 5: five funds with six good years, and none of them knows anything.",
        "the advertisement shows one of the five. The other 315 do not advertise.",
        minutes=4,
    ),
    Exercise(
        "03.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point("what", "what was counted", patterns.HARD_HIT),
                Point(
                    "the record",
                    "that she is first",
                    (
                        r"\blead",
                        r"\bled\b",
                        r"\bfirst\b(?! \d)",
                        r"\b(?:on|at the|the|is|ranks) top\b(?! \w+ (?:three|five|ten))",
                        r"\btops\b|\bheads\b",
                        r"\btop (?:[\w-]+ ){0,3}(?:rate|record|mark|share|figure|number)\b",
                        r"\bno (?:\w+ )?(?:regular|hitter|qualif\w+)\b",
                        r"\bhighest",
                        r"\bmost (?:often|frequently)",
                        r"\bmore (?:often|frequently|than any)",
                        r"\bthe most\b",
                        r"\bahead of\b",
                        r"\bnumber one\b|\bno\. ?1\b|# ?1\b",
                        r"\b(?:nobody|no one|no other|none)\b",
                        r"\bbest (?:rate|record|mark|figure|share|number)",
                    ),
                ),
                Point(
                    "out of what",
                    "her swings, with their number",
                    (
                        *patterns.swings_of(SWINGS),
                        rf"\b(?:about|nearly|almost|some|around|roughly) (?:{patterns.number(ABOUT)}) swing",
                    ),
                ),
                Point(
                    "among whom",
                    "those on the list, or its minimum",
                    patterns.on_the_list(MINIMUM, HITTERS),
                ),
                Point(
                    "how sure",
                    "a chance, or that who is best is open",
                    (
                        r"\bchances?\b",
                        *patterns.LIKELY,
                        patterns.share(ITS_CHANCE, 0.03),
                        r"\btwenty[- ]six per ?cent",
                        patterns.chances_in(ITS_CHANCE),
                        *patterns.DOUBT,
                    ),
                ),
            ),
            "Nadia Izezno leads the hitters with at least 150 swings, with 108 of her 547 swings hit hard; "
            "whether she is truly the best of them, it is too early to say.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "108 times",
                "150 times",
                "one of 103 hitters",
                "4 chances",
                "26%",
                "whether she is best is open",
                "that does not settle who is best",
                "we do not know",
                "she may not be the best",
                "probably not the best",
                "maybe she is the best",
                "maybe not",
                "odds are somebody else is better",
                "whether anybody is better is open",
                "more likely it is somebody else",
                "it is 26% likely that she is the best",
                "too early to know",
                "the chance that she is best is a quarter",
                "about one chance in four",
                "list of 103",
                "among the 103",
                "at least 150",
                "nobody knows whether it is skill or luck",
                "if she is best is open",
                "we do not know if she is best",
                "we do not know whether she is best",
                "it is too early to say that she is the best",
                "too soon to call her the best",
            ),
            figures=(HARD, SWINGS, ABOUT, MINIMUM, HITTERS, HITTERS - 1, SEEN, ITS_CHANCE),
            too_much=(
                *patterns.takes_first_for_best(THE_HITTER),
                *patterns.makes_likely(
                    r"\bbest\b(?! (?:rate|record|mark|figure|share|number))",
                    "that makes much of one chance in four",
                ),
                *_TURNED,
                patterns.turned_over(HARD, SWINGS),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:she is|she's|nadia is|izezno is) (?:clearly |simply |just )?not (?:truly "
                    r"|really )?the best\b",
                    "that rules out what is open",
                ),
                TooMuch(
                    r"\b(?:list|record|ranking|statistics?) (?:is|are|was|lies?) "
                    r"?(?:wrong|false|useless|$|and)",
                    "that blames the list, which counts rightly",
                ),
                TooMuch(
                    r"(?:\bwill|'ll) (?:stay|remain|keep|finish|win|end up|lead|be first)\b|\bfor ?ever\b|"
                    r"\bof all time\b|\bever\b|\bgreatest\b|\b(?:nobody|no one|none)\b.{0,40}\bever\b",
                    "that says what is to come, or for how long",
                ),
            ),
            good=(
                "With 108 hard balls in 547 swings Nadia Izezno is first among 103 hitters, but the chance "
                "that she is the best of them is only one in four.",
                "Izezno, 108-for-547 on hard swings, tops the regulars; nobody can say yet if she is the "
                "best.",
                "Among players with a hundred and fifty swings or more, nobody has a higher share of hard "
                "hits than Nadia Izezno, 108 in 547 swings, though it may be luck.",
                "Nadia Izezno has the highest hard-hit rate among 103 hitters, 108 of 547 swings, but "
                "there is "
                "only a 26 percent chance she is really the best.",
                "Nadia Izezno tops the list of hitters with 150 swings, 108 hard in 547, and three times out "
                "of four somebody else is truly better.",
                "With 108 hard hits in 547 swings, Izezno is first of the qualifiers; whether she's the best "
                "is up in the air.",
                "Nadia Izezno leads 103 regulars by hitting 108 of 547 swings hard, though it's far from "
                "clear "
                "she is the best.",
                "With 108 hard hits in 547 swings Nadia Izezno heads the regulars, but it's three to one "
                "against "
                "her being the best.",
                "Nadia Izezno has the league's top hard-hit rate at 108 of 547 swings among qualified "
                "hitters; "
                "that doesn't tell us she's the best.",
                "No regular hits a larger share of swings hard than Nadia Izezno, 108 of 547, though we "
                "can't "
                "say she is the best hitter.",
                "First of 103 in hard hits per swing is Nadia Izezno, 108 of 547; the best hitter is most "
                "likely someone else.",
                "Nadia Izezno is number one of the regulars, 108 of 547 swings hard, but most likely another "
                "one of them is the best.",
            ),
            bad=(
                (
                    "Nadia Izezno leads all who swung at least 150 times, with 108 hard hits in 547 swings.",
                    "how sure",
                ),
                (
                    "Nadia Izezno hits it hard more often than any other regular, though whether she is the "
                    "best is open.",
                    "out of what",
                ),
                (
                    "Nadia Izezno's 108 hard balls in 547 swings lead the list; who is best is too early to "
                    "say.",
                    "among whom",
                ),
                (
                    "She leads the 103 regulars with 108 hard hits in 547 swings, and it is open who is "
                    "best.",
                    "who",
                ),
                (
                    "Nadia Izezno had 108 hard hits in 547 swings, well above the usual of the 103 regulars, "
                    "and it is likely no luck.",
                    "the record",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, so she is the "
                    "best, with a chance of 26 percent.",
                    "too much",
                ),
                (
                    "Nadia Izezno, 108 of 547 swings hard, leads the regulars and will finish first, the "
                    "odds say.",
                    "too much",
                ),
                (
                    "Nadia Izezno, 20 percent hard on 547 swings, leads the 103 regulars in this league.",
                    "how sure",
                ),
                (
                    "Nadia Izezno leads the regulars thanks to a new swing, 108 hard hits in 547 swings, "
                    "probably.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, and the chance "
                    "that she is the best is 80 percent.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, and the chance "
                    "is 74 percent that she is the best.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, and she is most "
                    "likely the best of them.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, so we are sure "
                    "that nobody is better.",
                    "too much",
                ),
                (
                    "With 108 hard of 547 swings Nadia Izezno leads the regulars and that proves nothing "
                    "about luck: odds are she is truly the best.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings; the chance that "
                    "somebody else is better is one in four.",
                    "too much",
                ),
                (
                    "With 108 hard hits in 547 swings Nadia Izezno ranks second, and another one leads the "
                    "103 regulars; who is best is open.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings; nobody else is "
                    "likely to be best.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, a truly better "
                    "hitter than the rest, likely.",
                    "too much",
                ),
                (
                    "Nadia Izezno trails the 103 regulars with 108 hard hits in 547 swings, and who is first "
                    "is open.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 108 hard hits in 547 swings, which makes her "
                    "the best, probably.",
                    "too much",
                ),
                (
                    "Nadia Izezno leads the 103 regulars with 120 hard hits in 547 swings; who is best is "
                    "open.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Two things were asked: who leads, and who is best. The first is a fact, the second is open.",
            "For instance: so many of so many swings, first among those with so many; whether she is the "
            "best, and how sure.",
        ),
        "The record as a fact, in full and with the list's minimum; then what it does not settle.",
        "a sentence that says what is not known is stronger than one that has to be taken back.",
        minutes=4,
    ),
)


def _again_looks(rng: np.random.Generator) -> tuple[str, Exercise]:
    text = (
        "A paper tries {} dates of birth on its league, though none of them means a thing",
        "A shop tries {} colours for one button, and no colour matters",
        "A clinic tests a useless powder on {} complaints",
        "A school compares its two rooms in {} subjects, and the rooms are alike",
        "A scout tries {} situations for a hitter to whom none of them matters",
        "An office tries {} star signs on its drivers, and no sign matters",
    )[int(rng.integers(6))]
    looks, fooled = ((8, 0.1), (9, 0.1), (10, 0.1), (12, 0.1), (9, 0.05), (10, 0.05), (12, 0.05))[
        int(rng.integers(7))
    ]
    none = (1 - fooled) ** looks
    return (
        f"{text.format(looks)}. Each look is fooled with a chance of {fooled:g}, and none knows of the "
        "others. How large is the chance that at least one strikes? A share from 0 to 1, two decimals.",
        Exercise(
            "03.again-looks",
            "compute",
            Number(1 - none, tolerance=0.006, share=True),
            (
                Wrong(none, "that is the chance that none of them strikes."),
                Wrong(fooled * looks, "chances of looks that know nothing of each other do not add up."),
                Wrong(fooled, "that is one look. All of them were taken."),
            ),
            ("How likely is it that none is fooled?", f"1 - {1 - fooled:g}**{looks}"),
            f"None is fooled with {1 - fooled:g} to the power of {looks}, {none:.2f}; at least one: "
            f"{1 - none:.2f}.",
            "who looks often enough finds something; so count the looks.",
            minutes=1,
        ),
    )


def _again_first(rng: np.random.Generator) -> tuple[str, Exercise]:
    who, what = (
        ("One of 60 drivers", "delivers in time"),
        ("One of 40 referees", "is confirmed by the replay"),
        ("One of 90 hitters", "meets the ball"),
        ("One of 50 clinics", "heals the break in six weeks"),
    )[int(rng.integers(4))]
    right = ("a", "b", "c")[int(rng.integers(3))]
    least, most = {"a": (92, 97), "b": (4, 9), "c": (22, 40)}[right]
    chance = int(rng.integers(least, most + 1))
    why = {
        "a": "the likeliest of many may still be unlikely. Hold the chance against the bounds.",
        "b": "not surely is not yet surely not. Hold the chance against the bounds.",
        "c": "open is what lies between the two bounds. Does this chance?",
        "d": "that it leads was counted, and no chance can change it.",
    }
    return (
        f"{who} {what} at the highest rate of the list. By the numbers the chance that this one is truly "
        f"the best is {chance} %. A claim holds from 90 % up, and does not hold up to 10 %. What may be "
        "said?",
        Exercise(
            "03.again-first",
            "fault",
            Choice(
                right,
                {
                    "a": "it leads, and that it is the best holds",
                    "b": "it leads, and that it is the best does not hold",
                    "c": "it leads, and whether it is the best is open",
                    "d": "that it leads does not hold, as others may be better",
                },
            ),
            others(why, right),
            ("Two questions: who leads, and who is best?", "Hold the chance against both bounds."),
            f"Leading is a record, and counted. {chance} % is held against the bounds: 90 % and 10 %.",
            "the record is a fact, and what is behind it has a chance.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "03",
    "Check a claim",
    _verdict,
    "She leads the record, but the chance that she is truly the best lies between the two bounds.",
    EXERCISES,
    (Again("03.again-looks", _again_looks), Again("03.again-first", _again_first)),
)
