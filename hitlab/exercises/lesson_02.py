"""Lesson 2, weigh small samples: why leaders fall, and how far to pull a rate toward the mean."""

from __future__ import annotations

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
from hitlab.exercises.shared import first_swings, fresh, later_swings, middle
from hitlab.wording import rate_text

__all__ = ["EARLY", "LEFT", "LESSON", "first_and_rest"]

EARLY = 40
"""Swings after which the lesson's claim is made."""

LEFT = 150
"""Swings that a hitter needs after those, to be on the lesson's lists."""

THE_HITTER = "Greta Kestelow"
CLAIMED = 0.25
LEADERS = 8
KEPT = 0.212  # share of the distance from the mean that Efron & Morris kept (1977, from memory)

HARD, SWINGS, MEAN, HALF_WEIGHT = 13, 40, 0.140, 200  # of the exercises with numbers in their text
SEEN, PULLED, INTERVAL, ITS_CHANCE = 0.325, 0.171, (0.218, 0.454), 0.02  # her rate, and what to make of it
HITTERS, OF_EARLY = 150, 0.131  # in the league, and their rate over the first 40 swings
LATER_HARD, LATER_SWINGS, LATER = 24, 162, 0.148  # the rest of her season


def first_and_rest() -> pd.DataFrame:
    """Return the rates ``early`` and ``later`` of those with enough swings left, one row a hitter."""
    columns = ["hitter_id", "hard", "swings"]
    first, rest = (counts.table()[columns] for counts in (first_swings(EARLY), later_swings(EARLY)))
    both = first.merge(rest, on="hitter_id", suffixes=("", "_rest"))
    both = both[both["swings_rest"] >= LEFT]
    return both.assign(early=both["hard"] / both["swings"], later=both["hard_rest"] / both["swings_rest"])


def _still_on_top() -> float:
    both = first_and_rest()
    leaders = both.nlargest(LEADERS, "early")["hitter_id"]
    return float(both.nlargest(LEADERS, "later")["hitter_id"].isin(leaders).sum())


def _pulled(own_weight: float) -> float:
    return own_weight * HARD / SWINGS + (1 - own_weight) * MEAN


def _own_weight() -> float:
    return SWINGS / (SWINGS + HALF_WEIGHT)


def _stars(own_weight: float) -> float:
    return 4.0 + own_weight * (5.0 - 4.0)


def _closer() -> float:
    real = hitlab.datasets.first_at_bats()
    early, later = real["hits"] / real["at_bats"], real["rest_hits"] / real["rest_at_bats"]
    theirs = early.mean() + KEPT * (early - early.mean())
    return float(((theirs - later).abs() < (early - later).abs()).sum())


def redrawn(hard, swings, rng):  # type: ignore[no-untyped-def]
    again = rng.binomial(swings, hard / swings, 2_000)
    rates = again / swings
    return np.quantile(rates, [0.05, 0.95])


def _record_to_redraw(rng: np.random.Generator) -> tuple[int, int, np.random.Generator]:
    """So many swings that a step of the rates, one swing, is below the tolerance.

    And so few, in few cases, that a plain loop over every swing of 2,000 draws ends in time.
    """
    swings = int(rng.integers(70, 91))
    return int(rng.integers(swings // 4, swings // 2)), swings, fresh(rng)


def _redrawn_surely(hard: int, swings: int, _: np.random.Generator) -> np.ndarray:
    from scipy.special import bdtr

    at_most = bdtr(np.arange(swings + 1), swings, hard / swings)
    return np.searchsorted(at_most, [0.05, 0.95]) / swings


def _one_swing_each(hard: int, swings: int, rng: np.random.Generator) -> np.ndarray:
    return middle(rng.binomial(1, hard / swings, 2_000))


def _counts_not_rates(hard: int, swings: int, rng: np.random.Generator) -> np.ndarray:
    return middle(rng.binomial(swings, hard / swings, 2_000))


def _middle_four_fifths(hard: int, swings: int, rng: np.random.Generator) -> np.ndarray:
    return middle(rng.binomial(swings, hard / swings, 2_000) / swings, 0.1)


def _outermost(hard: int, swings: int, rng: np.random.Generator) -> np.ndarray:
    return middle(rng.binomial(swings, hard / swings, 2_000) / swings, 0)


def pulled(table, m):  # type: ignore[no-untyped-def]
    mean = table["hard"].sum() / table["swings"].sum()
    seen = table["hard"] / table["swings"]
    own = table["swings"] / (table["swings"] + m)
    return own * seen + (1 - own) * mean


def _list_to_pull(rng: np.random.Generator) -> tuple[pd.DataFrame, float]:
    swings = rng.integers(5, 400, 12)
    hard = rng.binomial(swings, rng.normal(0.14, 0.03, 12).clip(0.05, 0.25))
    return pd.DataFrame({"hard": hard, "swings": swings}), float(rng.integers(80, 300))


def _mean_of_rates(table: pd.DataFrame, m: float) -> pd.Series:
    seen = table["hard"] / table["swings"]
    own = table["swings"] / (table["swings"] + m)
    return own * seen + (1 - own) * seen.mean()


def _weights_turned(table: pd.DataFrame, m: float) -> pd.Series:
    mean = table["hard"].sum() / table["swings"].sum()
    own = table["swings"] / (table["swings"] + m)
    return (1 - own) * table["hard"] / table["swings"] + own * mean


def _mean_counts_in_full(table: pd.DataFrame, m: float) -> pd.Series:
    mean = table["hard"].sum() / table["swings"].sum()
    return table["hard"] / (table["swings"] + m) + mean


def _verdict() -> str:
    return hitlab.check_above(first_swings(EARLY), THE_HITTER, CLAIMED).verdict


_IN_FOUR = (
    r"\b(?:one|1)(?: swing| time)?[ -](?:in|of|out of)[ -](?:every )?(?:four|4)\b|"
    r"\b(?:25|twenty[- ]five)(?: ?%| per ?cent)|\ba quarter\b|(?<![\d])0?\.25|"
    r"(?:\b(?:one|1)[ -]in[ -](?:three|3)|\.325) hitter|\b(?:twice|double) (?:as|the)\b"
)
_KEEPS = (
    r"(?<!whether she )(?<!whether it )(?<!whether that )(?<!if she )(?<!if it )(?<!if that )"
    r"\b(?:will|'ll|should|is going to|likely to|expected to|sure to|bound to) (?:(?!not\b)\w+ ){0,2}"
    r"(?:keep|stay|remain|go on|continue|last|hold|repeat)\b"
)
_TURNED = (
    TooMuch(
        r"\bfor (?:all |the )*(?:rest of the league|others|other hitters)\b", "that says it of the others"
    ),
    *patterns.makes_likely(_IN_FOUR),
    *patterns.makes_unlikely(rf"\b(?:only|just|merely) (?:an? )?(?:{_IN_FOUR})"),
    *patterns.makes_likely(
        r"\b(?:keeps?|stays?|remains?|holds?|lasts?|continues?)\b(?! (?:below|under|short))"
    ),
    *patterns.makes_unlikely(
        r"\b(?:falls?|comes?|drops?|goes|sinks?|returns?) (?:back|down|below|off|to)\b|\b(?:below|under|"
        r"lower|too much)\b"
    ),
    *(
        TooMuch(pattern, patterns.TURNED)
        for pattern in (
            rf"{patterns.ASKED}(?<!that she )(?<!that her )(?<!whether she )(?<!if she )(?<!that she is "
            r")\b(?:she is|she's|"
            r"greta is|kestelow is|makes her|truly|really|true rate is) "
            rf"(?:(?!not\b|no\b|n't|unlikely|hardly|below|under|less|never|"
            rf"too\b)[\w'-]+ ){{0,4}}?(?:{_IN_FOUR})",
            _KEEPS,
            r"\bchances? of the (?:league|others|rest)\b|\b(?:league|others|hitters)'s? one in four\b",
            r"\b(?:not|no|hardly|n't) (?:an? |so |such |very )*"
            r"(?:great|hot|fine|good|nice|impressive) start\b",
            r"\b(?:league|mean|others?|average)\b[^,;:.]{0,15}\b(?:nothing|(?:does not|doesn't|no) matter|"
            r"irrelevant)\b",
            r"\b(?:worse|lower|less|fewer|poorer|below|behind|under) (?:\w+ )?(?:than )?(?:the |her )?"
            r"(?:league|others|average|rest|mean)\b|\bbad luck\b|\bunlucky\b",
            r"\b(?:league|others?|everyone|everybody|average|rest)\b[^,;:.]{0,30}"
            r"\b(?:hits?|does|do|is|are|were|was)\b[^,;:.]{0,15}\b(?:more|better|higher|harder)\b",
        )
    ),
)

_ONE_IN_FOUR = (
    r"(?:(?:her |a )?true rate of |an? )?(?:one in 4|one in four|25%|\.25|a quarter)(?: hitter| rate)?"
)
_IMPROBABLE = (
    r"(?:(?:most |very |quite |rather )?unlikely|not (?:very |too )?likely|a long shot|doubtful|out of reach|"
    r"too (?:much|high|good))"
)
_LASTS = frames.fill("to last hold holds up stay be true continue stand survive for her true rate")
_SHE_DOES = frames.fill(
    "that she <a> it her is to be an? truly really true rate hits keeps? up stays? staying of at above holds?"
)
_LEAGUE = frames.fill(
    "the all rest of other others whole everyone everybody else league 's hitters in this our rates "
    "average mean a do does hit usually their records? what how as history says knowing"
)
_FRAMES = (
    *frames.record(HARD, SWINGS, "swings", frames.HARD),
    rf"(?:a |her )?(?:true )?rate of {_ONE_IN_FOUR}{frames.fill('is looks seems would to be are')} "
    rf"{_IMPROBABLE}",
    rf"(?:her |these |the |after )*(?:first )?{SWINGS} swings(?: are too few| is too few)?",
    rf"{SWINGS} swings (?:gave|brought|had|held|with) {HARD}(?: {frames.HARD})?",
    rf"{HARD} for(?: her first)? {SWINGS}(?: start)?(?: (?:in|on) hard (?:hits|swings)(?: on swings)?)?|"
    rf"{HARD} hard swings in {SWINGS}",
    r"(?:next to|against|given|beside|knowing|by|with|than|as|about|from|seeing|of|toward|"
    rf"at){_LEAGUE}(?: tells us| says)?",
    r"(?:the )?rest of the league (?:tells us|says)|everyone else 's rates",
    rf"{_ONE_IN_FOUR}{frames.fill('is looks seems would to be are may probably likely')} "
    rf"{_IMPROBABLE}{_LASTS}",
    rf"{_ONE_IN_FOUR} (?:will|would|does|is)(?: probably| most likely| likely)? not(?: likely| going)?(?: "
    r"to)? "
    r"(?:last|hold up|hold|stay|be true)",
    rf"(?:{_IMPROBABLE}|chance|doubt|bet on|bank on)"
    rf"{_SHE_DOES} {_ONE_IN_FOUR}(?: lasts| is her true rate)?",
    rf"(?:is )?(?:most likely|probably|likely)(?: is)? not {_ONE_IN_FOUR}|(?:below|under|less than) "
    rf"{_ONE_IN_FOUR}",
    rf"{_IMPROBABLE}{_LASTS}|(?:will |would )?(?:probably|likely) not (?:last|hold up)|expect her to "
    r"(?:come|fall) back",
    r"(?:makes? it doubtful )?(?:that )?(?:she|<a>) (?:can |will )?(?:keeps?|holds?|stays?)(?: up| at| "
    rf"above| on to)? {_ONE_IN_FOUR}",
    r"(?:there is |only |about |under |below |less than |a |just )*(?:10%|2%|98%|(?:2|two) in 100|small|slim|"
    r"slight|tiny)(?: (?:chance|probability|likely|sure))?(?: that)?",
    r"(?:partly|probably|mostly|likely|may be|most likely|some of it)(?: just| partly)? luck|most of that "
    r"edge over the league",
    r"it is(?: still)? (?:early|too early)|(?:does|do) far less|league average(?: at 14%)?|\.140|14%",
    r"(?:true rate|rate) is(?: probably| likely| most likely)?(?: closer to| near| about| nearer)? "
    r"(?:\.171|17%)",
    rf"make {_ONE_IN_FOUR} possible but {_IMPROBABLE}|{_ONE_IN_FOUR} is real",
    rf"(?:a )?true rate of {_ONE_IN_FOUR}(?: looks| is| seems) {_IMPROBABLE}|(?:a )?lasting rate",
    rf"hitters (?:in|of) this league (?:rarely|seldom|hardly ever) stay(?: there| that high| up there)|"
    rf"{_ONE_IN_FOUR} is(?: probably| most likely)? too much to (?:ask|expect)",
    rf"(?:chance|unlikely)(?: that)? she (?:truly )?does so (?:once|one time) in (?:4|four)|"
    rf"two in 100|she can (?:keep up|hold|keep) {_ONE_IN_FOUR}",
    r"pulled (?:in )?toward the (?:other hitters|others|rest|league|mean)|it points to about one in 6|"
    r"points to \.171",
    rf"{_IMPROBABLE}(?: that)? (?:she|<a>) (?:really |truly )?(?:keeps|stays|goes on|holds)(?: (?:on|"
    r"hitting|doing|at|up|with))*"
    rf" {_ONE_IN_FOUR}|(?:will|is likely to|should)(?: probably| most likely| likely)? (?:come|fall|drop|"
    r"drift) back"
    r"(?: (?:to|toward))?(?: the league)?(?: 's)?(?: (?:average|mean))?",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "02.still-on-top",
        "predict",
        Bounds(_still_on_top, widest=2),
        (
            Wrong(
                (6, 8),
                "that is what one would see if 40 swings told who is good. Look at the column 'later' of the "
                "leaders again: are those the rates of the best?",
                when=lambda ends: ends[0] >= 5,
            ),
            Wrong(
                (4, 5),
                "still too much trust. Nearly a hundred hitters were waiting for those eight places, and "
                "most of the distance at the top was luck.",
                when=lambda ends: ends[0] > 3,
            ),
        ),
        (
            "Most of what set the leaders apart was luck, and luck does not come along to the next swings.",
            "Fewer than half of them. In some years it is hardly anybody.",
        ),
        lambda: (
            f"Take the {LEADERS} highest of 'later' and count the leaders among them: {_still_on_top():.0f}."
        ),
        "whoever leads after 40 swings is rather more likely good than bad. That is all the list knows.",
        minutes=3,
    ),
    Exercise(
        "02.draw-again",
        "write",
        Code(redrawn, _record_to_redraw, tolerance=0.015, cases=3, surely=_redrawn_surely),
        (
            Wrong(
                _one_swing_each, "each of your 2,000 draws is one swing. Draw as many swings as there were."
            ),
            Wrong(_counts_not_rates, "these are counts of hard balls. Divide them by the swings."),
            Wrong(_middle_four_fifths, "that is the middle 80 %: a tenth is cut off at either end."),
            Wrong(
                _outermost,
                "those are the least and the most of 2,000 draws. Cut off a twentieth at either end.",
            ),
        ),
        (
            "rng.binomial(n, p, 2_000) draws 2,000 times how many of n swings are hard, where p is the "
            "chance.",
            "again = rng.binomial(swings, hard / swings, 2_000); then rates, then np.quantile(..., "
            "[0.05, 0.95]).",
        ),
        "Draw counts, divide by the swings, and cut off a twentieth at either end.",
        "luck alone spreads a record that far. An interval by formula says the same without a single draw.",
        minutes=6,
    ),
    Exercise(
        "02.how-large",
        "denominator",
        Choice(
            "d",
            {"a": "weeks", "b": "games", "c": "pitches", "d": "swings", "e": "turns at bat"},
        ),
        (
            Wrong(
                "a", "in three weeks one hitter swings 20 times and another 150. Luck counts neither days."
            ),
            Wrong(
                "b", "a game in which he swung once and one in which he swung nine times are not the same."
            ),
            Wrong("c", "most of the pitches he let go. They tell nothing about what his swings become."),
            Wrong("e", "the question is about swings, and a turn at bat has none, one or several."),
        ),
        (
            "The sentence gives a rate. Which of the numbers stands below its line?",
            "He hits it hard 'on one ... in five'.",
        ),
        "The sample's size is the denominator of the rate: hard balls per swing, so swings.",
        "always ask for the denominator's own number. Weeks and games make a small sample sound large.",
        minutes=2,
    ),
    Exercise(
        "02.pull-her",
        "compute",
        Number(lambda: _pulled(_own_weight()), tolerance=0.0015, share=True),
        (
            Wrong(HARD / SWINGS, "that is her own rate, as seen. Nothing was pulled yet."),
            Wrong(
                lambda: _pulled(1 - _own_weight()),
                "the weights are the wrong way round: with 40 swings against 200 most of the weight belongs "
                "to the mean.",
            ),
            Wrong(
                lambda: _pulled(0.5), "that is half way. It would be right after 200 swings, not after 40."
            ),
            Wrong(
                lambda: _pulled(SWINGS / HALF_WEIGHT),
                "close: below the line of the weight stands n + m, not m alone.",
            ),
            Wrong(MEAN, "that is the mean. 40 swings are not much, but they are not nothing."),
        ),
        (
            "First her own weight: n / (n + m), with 40 swings and a half-weight size of 200.",
            "Own weight times her rate, plus what is left of the weight times the mean.",
        ),
        lambda: (
            f"Own weight 40 / 240 is {_own_weight():.3f}; that times {rate_text(HARD / SWINGS)} "
            f"plus {1 - _own_weight():.3f} times {rate_text(MEAN)} is {rate_text(_pulled(_own_weight()))}."
        ),
        "better than the mean, and far from one in three. That is a fair price for forty swings.",
        minutes=4,
    ),
    Exercise(
        "02.thirteen-and-ten",
        "predict",
        Choice(
            "b",
            {
                "a": "in about nine deals of ten",
                "b": "in about six deals of ten",
                "c": "in about one deal of ten",
                "d": "in about one deal of a hundred",
            },
        ),
        (
            Wrong("a", "a bit much: in more than a third of the deals they are only one apart, 12 and 11."),
            Wrong("c", "chance puts them seven or more apart oftener than that. Three is a small step."),
            Wrong(
                "d",
                "so seldom chance puts them eleven or more apart. Luck in 40 swings is larger than it looks.",
            ),
        ),
        (
            "Each should get 11 or 12 of the 23 hard cards. How often does one get 10 or fewer, or 13 or "
            "more?",
            "Exactly 11 or exactly 12 come up in fewer than four deals of ten.",
        ),
        "Only with 11 to 12 are they nearer than three apart, and that is so in fewer than four deals of "
        "ten. In the others chance alone does what these two did.",
        "the difference of the two is within the noise: equals do as much most of the time.",
        minutes=3,
    ),
    Exercise(
        "02.whole-list",
        "complete",
        Code(pulled, _list_to_pull, tolerance=5e-4),
        (
            Wrong(
                _mean_of_rates,
                "you averaged the rates, so that a hitter with 5 swings counts as much as one with 400. "
                "Add up first, then divide.",
            ),
            Wrong(_weights_turned, "the weights are the wrong way round: own goes with what was seen."),
            Wrong(_mean_counts_in_full, "the mean gets only the weight that is left, 1 - own."),
        ),
        (
            "The mean: all hard balls by all swings. The own weight: n / (n + m), for a whole column at "
            "once.",
            'The first gap is table["swings"].sum(), the third (table["swings"] + m); the last is what own '
            "leaves.",
        ),
        "Sum by sum for the mean, record by record for what was seen, and each weight for its own part.",
        "four lines, and every list of the season can be read without its luck.",
        minutes=5,
    ),
    Exercise(
        "02.four-fifths",
        "compute",
        Number(4 * HALF_WEIGHT, tolerance=2),
        (
            Wrong(0.8 * HALF_WEIGHT, "that is 80 % of m. After so few swings the mean still weighs more."),
            Wrong(HALF_WEIGHT, "after 200 swings both weigh the same; that is what half-weight size means."),
            Wrong(HALF_WEIGHT / 0.8, "put it into n / (n + m): that comes to little more than a half."),
            Wrong(HALF_WEIGHT / 0.2, "that is n + m together. How many of them are swings?"),
            Wrong(HALF_WEIGHT / 4, "upside down: with that many swings the mean weighs 80 %."),
        ),
        (
            "Look for the n at which n / (n + 200) is 0.8. Trying numbers is allowed.",
            "Own record and mean weigh as n to 200. Four to one, then.",
        ),
        "n to 200 has to be as 80 to 20, four to one: 800 swings, and 800 / (800 + 200) is 0.8.",
        "that is more than a whole season of this league. Half comes soon, certainty never.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "02.geniuses",
        "fault",
        Choice(
            "b",
            {
                "a": "hard balls should have been divided by balls in play",
                "b": "with few swings luck alone throws rates to both ends of a list",
                "c": "regulars face the better pitchers, which keeps them in the middle",
                "d": "part-timers are called when they suit, so their rates are not their own",
            },
        ),
        (
            Wrong(
                "a", "with any denominator the same would happen. Look at how large the numbers below are."
            ),
            Wrong("c", "better pitchers would put regulars at the bottom, not in the middle."),
            Wrong(
                "d",
                "that would lift part-timers, and they fill the bottom as well. How many swings has each?",
            ),
        ),
        (
            "Part-timers stand at both ends. What do the two ends have in common?",
            "With 7 swings the rate can only be 0/7, 1/7, 2/7 and so on. How close to the mean can it stay?",
        ),
        "Rates from few swings scatter widely, so they fill the top and the bottom of every list. "
        "The mistake is old; Howard Wainer (American Scientist, 2007) collected costly cases of it.",
        "a list on which few swings are enough is a list of the smallest samples, at both of its ends.",
        minutes=4,
    ),
    Exercise(
        "02.five-stars",
        "transfer",
        Number(lambda: _stars(3 / 23), tolerance=0.015),
        (
            Wrong(5.0, "that is what 3 reviews say. How much do 3 reviews weigh?"),
            Wrong(
                lambda: _stars(20 / 23),
                "the weights are the wrong way round: 3 reviews are few against 20.",
            ),
            Wrong(4.5, "that is half way between. It would be right after 20 reviews."),
            Wrong(
                lambda: 4.0 + 200 / 220 * 0.6,
                "that is the café next door, and it is what you should expect of that one.",
            ),
            Wrong(4.0, "that is the town's average. 3 reviews with 5 stars weigh a little."),
        ),
        (
            "Reviews are swings, stars are the rate. The own weight is 3 / (3 + 20).",
            "From 4.0 go that share of the way to 5.",
        ),
        lambda: (
            f"Own weight 3 / 23; from 4.0 that share of the way to 5 gives {_stars(3 / 23):.2f}. The one "
            f"next door comes to {4.0 + 200 / 220 * 0.6:.2f}: eat there."
        ),
        "a list sorted by the raw average sends you to whatever opened yesterday.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "02.one-by-one",
        "compute",
        Number(_closer, tolerance=0),
        (
            Wrong(18, "that would be everybody. Shrinking is best on the whole, not for each one."),
            Wrong(lambda: 18 - _closer(), "you counted those for whom the early average was closer."),
            Wrong(9, "by chance it would be about half. Measure both distances as absolute values."),
        ),
        (
            "Work out their value first: the mean of the 18 plus .212 times the distance from it.",
            "Then compare (theirs - later).abs() with (early - later).abs() and sum.",
        ),
        lambda: (
            "The mean of the early averages plus .212 times each one's distance; its distance from 'later' "
            f"is the smaller one for {_closer():.0f} of the 18."
        ),
        "nobody had to know who these people were. The other averages of the same list were enough.",
        minutes=5,
        core=False,
    ),
    Exercise(
        "02.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point("what", "what was counted", patterns.HARD_HIT),
                Point("out of what", "her swings, with their number", patterns.swings_of(SWINGS)),
                Point(
                    "against whom",
                    "that the others of the league tell something, too",
                    (
                        r"\bleague",
                        r"\ball (?:the )?(?:other )?hitters",
                        r"\b(?:the )?others?\b",
                        r"\beverybody",
                        r"\beveryone",
                        r"\baverage",
                        r"\bthe mean\b",
                        r"\bhitters (?:like|do)\b",
                    ),
                ),
                Point(
                    "how sure",
                    "a chance, or that one in four is unlikely",
                    (*patterns.CHANCE, *patterns.DOUBT, r"\bluck"),
                ),
            ),
            "Thirteen of Greta Kestelow's first 40 swings were hard, but next to what all hitters do, "
            "one in four is unlikely to last.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "a 2% chance",
                "2%",
                "25%",
                ".25",
                ".171",
                "17%",
                ".140",
                "14%",
                "13 hard swings",
                "once in 4",
                "two in 100",
                "2 in 100",
                "one in 6",
                "a 98% chance",
                "a 10% chance",
                "next to the others it is unlikely",
                "one in four will probably not last",
                "a true rate of one in four is unlikely",
                "only a small chance that she keeps one in four up",
                "next to others one in four is not likely",
                "it is unlikely that one in four lasts",
                "next to others it is doubtful",
                "it is doubtful that one in four lasts",
                "unlikely to stay above one in four",
                "most of that is probably luck",
                "next to everyone else only a 2% chance that she keeps one in four up",
                "25% is probably out of reach",
                "her true rate is likely closer to .171",
                "probably too good to last",
                "one in four is probably too much to ask",
                "one in four is doubtful",
                "one in four is very unlikely",
                "from what we know of others one time in four is unlikely",
                "the average of 14% says that there is a 2% chance of one in four",
                "the average of 14% makes one in four unlikely",
                "next to others it is unlikely that she hits one in four",
                "one in four is not likely",
                "next to others it is doubtful that she stays at one in four",
                "likely luck and the league",
                "do not bank on one in four",
                "13 swings in 40 make one in four possible",
                "not likely",
                "a 2% chance that she is a one in four hitter",
                "the chance that she does so",
                "once in four is only about two in 100",
                "the odds that one in four is true are 2 in 100",
                "the others point to one in six",
                "very unlikely she can keep up one in four",
                "one in four is a long shot",
                "with what we know of others unlikely",
                "13 for 40 is unlikely to last against one in four, next to a league average of .140",
                "unlikely to last",
                ".140 of the league",
                "with what we know of others so one time in four",
                "others: one time in four",
                "with 13 hard ones",
            ),
            figures=(
                HARD,
                SWINGS,
                CLAIMED,
                SEEN,
                MEAN,
                OF_EARLY,
                HALF_WEIGHT,
                PULLED,
                *INTERVAL,
                0.1,
                ITS_CHANCE,
                HITTERS,
                LATER_HARD,
                LATER_SWINGS,
                LATER,
            ),
            too_much=(
                *_TURNED,
                patterns.turned_over(HARD, SWINGS),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:one|1) in (?:four|4) (?:is|was) (?:wrong|impossible|out)",
                    "that rules out what is only unlikely",
                ),
                TooMuch(
                    r"\b(?:just|only|pure(?:ly)?|all|nothing but) luck",
                    "that leaves her nothing, and she is good as well",
                ),
            ),
            good=(
                "Greta Kestelow's 13 hard balls in 40 swings were partly luck; compared with the league, "
                "the chance that she is a one-in-four hitter is under ten percent.",
                "Forty swings are too few: Kestelow hit thirteen of them hard, yet everyone else's rates "
                "say that one in four is unlikely.",
                "Greta Kestelow has hit 13 of her first 40 swings hard, but history says rates like that "
                "come "
                "back toward the league's, so one in four is a long shot.",
                "Kestelow is 13 for 40 on hard swings; given how the rest of the league hits, I would not "
                "bet "
                "on her staying above one in four.",
                "Greta Kestelow, 13 hard hits in 40 swings, is off to a hot start, but with league average "
                "at "
                "14 percent she most likely is not a 25 percent hitter.",
                "Greta's 13-for-40 on hard swings is impressive, but compared with the league average the "
                "odds "
                "are against one in four.",
                "Greta hit 13 of 40 swings hard; next to the league it is 98 percent likely that she truly "
                "stays below one in four.",
            ),
            bad=(
                (
                    "Greta Kestelow hit 13 of her first 40 swings hard, and that is a lot in this league.",
                    "how sure",
                ),
                (
                    "Kestelow hits it hard one time in three, which nobody else in the league does, "
                    "probably.",
                    "out of what",
                ),
                (
                    "Thirteen of 40 swings of hers were hard, but against the league one in four is "
                    "unlikely.",
                    "who",
                ),
                (
                    "Greta's 13 hard balls in 40 swings were just luck, as the others in the league show.",
                    "too much",
                ),
                (
                    "Greta Kestelow, with 13 hard balls in 40 swings, is definitely above the league; "
                    "the chance is high.",
                    "too much",
                ),
                (
                    "Greta Kestelow hit 13 of her first 40 swings hard, and next to the league the chance is "
                    "95 percent that she truly does so one time in four.",
                    "too much",
                ),
                (
                    "Greta Kestelow hit 13 of 40 swings hard, the league hits far fewer, so she is very "
                    "likely a one-in-four hitter.",
                    "too much",
                ),
                (
                    "Thirteen of Greta's 40 swings were hard, and she will probably keep hitting one in "
                    "three, unlike the others.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard, and next to the league nine times in ten she truly "
                    "does one in four.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard, so unlike the league she truly is a 25 percent hitter, "
                    "most likely.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard; the rest of the league hits more, and one in four is "
                    "unlikely.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard, and chances are she keeps it up, unlike others.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard, so the league's mean says nothing about her, probably.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard; it is unlikely that she falls back to the league.",
                    "too much",
                ),
                (
                    "Greta Kestelow hit 13 of her 40 swings hard, and next to the league one in four is a "
                    "sure thing.",
                    "too much",
                ),
                (
                    "Greta hit 13 of 40 swings hard, worse than the league, and that is likely bad luck.",
                    "too much",
                ),
                (
                    "Greta hit 40 of 13 swings hard, but next to the league one in four is unlikely.",
                    "too much",
                ),
                (
                    "Greta hit 16 of her 40 swings hard, but next to the league one in four is unlikely.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Begin with the record as it is: how many hard, in how many swings. Then what it is worth.",
            "For instance: so many of her first 40 swings were hard, but next to what all hitters do, so "
            "much is unlikely.",
        ),
        "The record in full, what it is held against, and how much of it to believe; no cause, and no "
        "promise.",
        "that can be said on air, and nobody can call it wrong in September.",
        minutes=4,
    ),
)


def _again_pull(rng: np.random.Generator) -> tuple[str, Exercise]:
    swings, size = int(rng.choice([40, 50, 60, 80])), int(rng.choice([100, 150, 200, 250]))
    own = swings / (swings + size)
    return (
        f"The half-weight size is {size} swings. After {swings} swings, how much does a hitter's own "
        f"record weigh? "
        "A share from 0 to 1, two decimals.",
        Exercise(
            "02.again-own-weight",
            "compute",
            Number(own, tolerance=0.006, share=True),
            (
                Wrong(1 - own, "that is what is left for the mean."),
                Wrong(swings / size, "below the line stands n + m, not m alone."),
            ),
            ("n / (n + m).", f"n is {swings}, and n + m is {swings + size}."),
            f"{swings} / ({swings} + {size}) is {own:.2f}.",
            f"{swings} / {swings + size}, and the rest belongs to the mean.",
            minutes=1,
        ),
    )


def _again_top(rng: np.random.Generator) -> tuple[str, Exercise]:
    many, trial, what = (
        (10, "20 free throws", "players"),
        (12, "25 parcels", "drivers"),
        (15, "30 reviews", "cafés"),
    )[int(rng.integers(3))]
    right = "abc"[int(rng.integers(3))]
    picked = {
        "a": f"The {many} best of 300 {what} by their first {trial} each",
        "b": f"{many} of 300 {what}, drawn by lot after {trial} each,",
        "c": f"The {many} worst of 300 {what} by their first {trial} each",
    }[right]
    why = {
        "a": "that would be so of some who were picked for standing on top. How were these picked?",
        "b": "that would be so of any that a lot picks. How were these picked?",
        "c": "that would be so of some who were picked for standing last. How were these picked?",
        "d": "a rate on so few tries is part luck, good or bad. What becomes of the luck?",
    }
    because = {
        "a": "They were picked for what they showed, good luck included, and the luck stays behind.",
        "b": "A lot picks the lucky as often as the unlucky: some come down, and as many go up.",
        "c": "They were picked for what they showed, bad luck included, and the luck stays behind.",
    }[right]
    return (
        f"{picked} are looked at again after ten times as many. What is to be expected of their rates?",
        Exercise(
            "02.again-top-falls",
            "predict",
            Choice(
                right,
                {
                    "a": "most are lower, though nobody changed",
                    "b": "about half are lower and half higher",
                    "c": "most are higher, though nobody changed",
                    "d": "most are the same, for a rate is what one can do",
                },
            ),
            others(why, right),
            ("How were they picked?", "Who was picked for a short record was picked for its luck as well."),
            because,
            "the luck stays behind, whoever is picked.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "02",
    "Weigh small samples",
    _verdict,
    "Forty swings weigh little against what is known of all hitters; one in four is hardly hers.",
    EXERCISES,
    (Again("02.again-own-weight", _again_pull), Again("02.again-top-falls", _again_top)),
)
