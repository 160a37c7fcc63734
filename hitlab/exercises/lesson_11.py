"""Lesson 11, watch what follows a whiff: what is asked, what is right, and what people mix up."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd

import hitlab
from hitlab.approach.patterns import after, called_strike, foul, whiff
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
from hitlab.wording import rate_text

__all__ = ["LESSON", "THE_HITTER", "by_strikes"]

THE_HITTER = "Tamsin Kolmbulo"

# The late trains of the transfer exercise: share late, and trains that followed a late one.
_CLEAR, _SNOW = (0.1, 20), (0.6, 80)
_OBSERVED_LATE = 52


@cache
def _responses() -> hitlab.approach.responses.Responses:
    return hitlab.approach.after_whiff(hitlab.demo_season(), responses=["whiff"])


@cache
def by_strikes() -> pd.DataFrame:
    """Return the hitter's next pitches by strikes before and kind of strike: pitches, whiffs, rate."""
    season = pd.read_parquet(hitlab.demo_season())
    own = season[season["hitter"] == THE_HITTER]
    lines = []
    for strikes in (0, 1):
        for name, kinds in (("a whiff", [whiff]), ("another strike", [called_strike, foul])):
            patterns = [after(kind(strikes=strikes)).then(whiff()) for kind in kinds]
            found = [hitlab.approach.find_sequences(own, pattern) for pattern in patterns]
            pitches, again = sum(one.chances for one in found), sum(len(one) for one in found)
            lines.append((strikes, name, pitches, again))
    table = pd.DataFrame(lines, columns=["strikes", "after", "pitches", "whiffs"])
    return table.assign(rate=table["whiffs"] / table["pitches"])


def _sides() -> tuple[pd.DataFrame, pd.DataFrame]:
    table = by_strikes().set_index("strikes")
    return table[table["after"] == "a whiff"], table[table["after"] == "another strike"]


def _expected() -> float:
    mine, other = _sides()
    return float((mine["pitches"] * other["rate"]).sum())


def _expected_by_hand() -> str:
    mine, other = _sides()
    parts = [f"{mine['pitches'][n]} times {rate_text(other['rate'][n])}" for n in (0, 1)]
    return (
        f"{parts[0]}, plus {parts[1]}, is {_expected():.1f}. She missed {mine['whiffs'].sum()}: "
        "fewer than that, like with like."
    )


def _expected_lumped() -> float:
    mine, other = _sides()
    return float(mine["pitches"].sum() * other["whiffs"].sum() / other["pitches"].sum())


def _expected_by_plain_average() -> float:
    mine, other = _sides()
    return float(mine["pitches"].sum() * other["rate"].mean())


def _missed() -> float:
    return float(_sides()[0]["whiffs"].sum())


def _again_in_100() -> float:
    counts = _responses().counts.iloc[0]
    return float(100 * counts["whiff_yes"] / counts["whiff_pitches"])


@cache
def _p() -> float:
    alone = hitlab.approach.after_whiff(hitlab.demo_season(), hitter=THE_HITTER, responses=["whiff"])
    return float(alone.of("whiff", "after a whiff")["p"])


@cache
def _hitters() -> int:
    return len(_responses().hitters)


_SEASONS = 2_000

_League = tuple[np.ndarray, float, float, np.random.Generator]


def somebody(pitches, chance, seen, rng):  # type: ignore[no-untyped-def]
    missed = rng.binomial(pitches, chance, size=(2_000, len(pitches)))
    lowest = (missed / pitches).min(axis=1)
    return np.mean(lowest <= seen)


def _league_of_equals(rng: np.random.Generator) -> _League:
    """Draw a league in which somebody is as low now and then: in a tenth to a half of its seasons."""
    pitches = rng.integers(60, 120, int(rng.integers(40, 110)))
    chance = float(rng.uniform(0.12, 0.18))
    return (
        pitches,
        chance,
        chance * float(rng.uniform(0.3, 0.4)),
        fresh(rng),
    )


def _somebody_surely(pitches: np.ndarray, chance: float, seen: float, _: np.random.Generator) -> float:
    from scipy.special import bdtrc

    nobody = bdtrc(np.floor(pitches * seen), pitches, chance)
    return float(1 - nobody.prod())


def _one_alone(pitches: np.ndarray, chance: float, seen: float, rng: np.random.Generator) -> float:
    return float(np.mean(rng.binomial(pitches, chance, (_SEASONS, len(pitches))) / pitches <= seen))


def _how_many(pitches: np.ndarray, chance: float, seen: float, rng: np.random.Generator) -> float:
    low = rng.binomial(pitches, chance, (_SEASONS, len(pitches))) / pitches <= seen
    return float(low.sum(axis=1).mean())


def _lowest_of_a_hitter(pitches: np.ndarray, chance: float, seen: float, rng: np.random.Generator) -> float:
    shares = rng.binomial(pitches, chance, (_SEASONS, len(pitches))) / pitches
    return float(np.mean(shares.min(axis=0) <= seen))


def day_taken_out(real, placebo):  # type: ignore[no-untyped-def]
    factors = []
    for table in (real, placebo):
        odds = table["missed"] / (table["pitches"] - table["missed"])
        factors.append(odds["whiff"] / odds["other"])
    return factors[0] / factors[1]


def _real_and_placebo(rng: np.random.Generator) -> tuple[pd.DataFrame, pd.DataFrame]:
    def table(after_whiff: float, after_other: float) -> pd.DataFrame:
        pitches = rng.integers([300, 900], [600, 2_000])
        missed = np.round(pitches * [after_whiff, after_other]).astype(int)
        return pd.DataFrame({"pitches": pitches, "missed": missed}, index=pd.Index(["whiff", "other"]))

    usual, day, left = (
        float(rng.uniform(0.15, 0.25)),
        float(rng.uniform(0.04, 0.12)),
        float(rng.uniform(0.03, 0.1)),
    )
    return table(usual + day + left, usual), table(usual + day, usual)


def _shares_for_odds(real: pd.DataFrame, placebo: pd.DataFrame) -> float:
    shares = [table["missed"] / table["pitches"] for table in (real, placebo)]
    return float(np.divide(*(share["whiff"] / share["other"] for share in shares)))


def _factor(table: pd.DataFrame) -> float:
    odds = table["missed"] / (table["pitches"] - table["missed"])
    return float(odds["whiff"] / odds["other"])


def _day_left_in(real: pd.DataFrame, placebo: pd.DataFrame) -> float:
    return _factor(real)


def _upside_down(real: pd.DataFrame, placebo: pd.DataFrame) -> float:
    return _factor(placebo) / _factor(real)


def _multiplied(real: pd.DataFrame, placebo: pd.DataFrame) -> float:
    return _factor(real) * _factor(placebo)


@cache
def _verdict() -> str:
    return str(hitlab.check_response(season(), THE_HITTER, responses=_responses()).verdict)


MISSED, NEXT, HITTERS = 4, 85, 150
"""Her record, misses of pitches right after a whiff, and the hitters out of whom she was picked."""

_CHANCE, _EVEN = 0.52, 50  # of 100: "fifty-fifty"
_BY_LUCK = 0.17  # of the seasons in which all are alike somebody is as low: .168, one in six

_HOW_SURE = (
    r"\bcan (?:well |easily )?(?:happen|come about) by (?:luck|chance)\b",
    *patterns.DOUBT,
    r"\bchances? (?:is|are|of (?:about|5)|that)|\b(?:even|small|good|fair|high) chance",
    r"\bprobab",
    r"\b(?:un)?likel",
    r"\b(?:may|might|could)\b",
    r"\b(?:even (?:chance|money|odds)|fifty[ -]fifty|50[ -/]50|52(?: ?%| per ?cent))",
    r"\b(?:luck|lucky|noise|fluke|coincidence|accident)\b",
    r"\btoo much (?:of|into)\b|\bnot much (?:of|to)\b",
    r"\b(?:you|one|we)(?:'d| would)? expect|\bbound to\b",
    r"\bodds are\b|\babout even\b|\bwhether\b",
    r"\b(?:not|no reason to) (?:\w+ )?(?:believe|conclude|read)",
)
_TURNED_ROUND = (
    TooMuch(
        r"\b(?:miss\w*|whiff\w*) (?:[\w']+ )?(?:more (?:often )?|oftener )"
        r"(?:on the (?:next|pitch)|(?:right )?after (?!(?:an|the )?other|called))|"
        r"\bmore (?:misses|whiffs) (?:right )?after (?!(?:an|the )?other|called)|"
        r"\b(?:misse[sd]|whiff(?:s|ed)) (?:the )?most\b|"
        rf"\b(?:all but|touched|hit|made contact with) (?:only |just )?(?:{patterns.number(MISSED)})",
        patterns.TURNED,
    ),
    TooMuch(
        rf"(?:{patterns.number(NEXT)}) (?:of|out of|in) (?:the )?(?:{patterns.number(HITTERS)})|"
        rf"(?:{patterns.number(MISSED)}) (?:of|out of|in) (?:the )?(?:{patterns.number(HITTERS)})",
        "that mixes her record with the hitters who were looked at",
    ),
    TooMuch(
        rf"{patterns.ASKED}\b(?:she|tamsin kolmbulo|tamsin|(?<!tamsin )kolmbulo) (?:really|truly) "
        r"(?:misses|whiffs) (?:less|fewer)\b",
        "that settles what is open",
    ),
    TooMuch(r"\bmiss(?:es)? more (?:often )?(?:then|there|afterwards?)\b", patterns.TURNED),
    patterns.turned_over(MISSED, NEXT),
    patterns.NO_LUCK,
)
_OVERCLAIMS = (
    *_TURNED_ROUND,
    TooMuch(
        r"\b(?:somebody|someone) (?:[\w']+ ){0,5}(?:five|5) (?:seasons? )?(?:times )?(?:in|of|out of) "
        r"(?:every )?(?:six|6)\b",
        patterns.TURNED,
    ),
    patterns.CAUSE,
    TooMuch(
        r"(?<!whether )(?<!if )(?<!whether tamsin )(?<!if tamsin )"
        r"\b(?:she|tamsin|kolmbulo|and|who) (?:\w+ly )?"
        r"(?:learns|learned|learnt|adjusts|adjusted|remembers|adapts|adapted)\b",
        "that names a reason, and nothing here shows one",
    ),
    TooMuch(
        r"\b(?:focus\w*|concentrat\w*|angr\w+|smart\w*|clever\w*|sharp(?:er|ens)?|because of (?:the|her)|"
        r"(?:bear|knuckle|buckle)(?:s|ing)? down|(?:dig|digs|digging|dug|lock|locks|locked|locking) in|"
        r"grit|tough\w*|wis(?:er|ely)|the one (?:who|that))\b",
        "that names a reason, and nothing here shows one",
    ),
    TooMuch(
        r"\b(?:best|quickest|smartest|first|lowest|fewest|top|number one) (?:\w+ )?(?:of|in|among)\b",
        "that ranks her, and nobody's rank was asked",
    ),
    TooMuch(
        r"\b(?:is|are|was|were) (?:just|only|pure(?:ly)?|nothing but|all|simply) (?:luck|chance|a "
        r"fluke|noise)\b|(?<!may be )(?<!might be )(?<!could be )(?<!well be )\b(?:pure|sheer|nothing but) "
        r"(?:luck|chance)\b",
        "luck may be all of it, and her record alone does not say so",
    ),
    TooMuch(
        r"\bexpect (?:her|tamsin|kolmbulo) to\b|"
        r"\bwill (?:\w+ )?(?:most likely |probably )?(?:not )?(?:miss|hit|be|do|learn)\b",
        "that foretells the next pitch, and the record only counts",
    ),
)

_AFTER = (
    r"(?:(?:right |directly )?after (?:a|each|her) (?:miss|whiff)|after (?:missing|whiffing)|that (?:came|"
    r"followed|come|follow)"
    r"(?: right)?(?: after)? (?:a|each|her) (?:miss|whiff)|following (?:a|each) (?:miss|whiff))"
)
_ON_NEXT = (
    rf"(?:of|in|out of|on|for){frames.fill('the her next')} {NEXT}(?: (?:next )?pitches)?(?: {_AFTER}| "
    r"that (?:came|followed) (?:right )?after a (?:miss|whiff))?"
)
_MISSED_ON = (
    r"(?:swung and )?(?:missed|misses|whiffed|whiffs|swung through)(?: again)?(?: on| at)?(?: only| just)?"
)
_SO_MANY = rf"(?:{HITTERS}|{HITTERS - 1})(?: (?:other )?hitters)?"
_LUCKY = frames.fill(
    "is was it that this all of may might could well just pure mere only partly plain simple be by have been"
)
_FRAMES = (
    rf"{_MISSED_ON} {MISSED}(?: {_ON_NEXT})?|{MISSED}(?: misses| whiffs)? {_ON_NEXT}",
    rf"of (?:the |her )?{NEXT} pitches(?: {_AFTER})? ,? ?(?:<a> )?{_MISSED_ON} {MISSED}",
    _AFTER,
    rf"(?P<part>{MISSED})(?: [a-z']+){{0,3}} (?:in|of|out of|on)(?: [a-z']+){{0,2}} (?P<of>{NEXT})",
    rf"{MISSED} times (?:in|of|out of) {NEXT}|{MISSED} of {NEXT} such pitches|somebody had to "
    rf"(?:come out|be|look) (?:so )?low(?:est)?",
    rf"that <a> , picked (?:from|out of) {_SO_MANY} , (?:really|truly) (?:misses|whiffs) less(?: often)?"
    r"(?: right)? after a (?:miss|whiff)(?= ,)|"
    r"chance is(?: (?:about|only|roughly|just))* one in two(?= that)|that <a>(?= , picked)",
    rf"(?:picked|chosen|found|taken)(?: her)?(?: out of| from| among| of) {_SO_MANY}|picked(?: <a>| her)",
    r"(?:among|of|out of|from|with|one of|only one of|one among|looked at|checked|searched|one hitter of|"
    rf"best of){frames.fill('all the these our')} {_SO_MANY}"
    r"(?: (?:we )?(?:looked at|checked|searched|to look at|to choose from))*",
    rf"{_SO_MANY} (?:were )?(?:looked at|checked|searched)|we (?:checked|searched|looked at) {_SO_MANY}",
    *frames.asked(
        r"(?:more than )?(?:luck|chance)|anything to it|anything|a coincidence|"
        r"misses? less(?: often)?(?: then)?|(?:learns|changes) anything(?: for (?:her|<a>))?"
    ),
    rf"(?:may|might|could)(?: well| just| all| only)* be{_LUCKY} (?:luck|chance|a coincidence|a fluke|the "
    r"lucky one)",
    r"luck (?:could|might|may)(?: well)? (?:do|have done|be behind)(?: (?:that|it|this))?|(?:happen|look "
    r"like that|do that) by (?:luck|chance)",
    r"(?:about )?(?:(?:an )?even|a coin flip)(?: chance)?(?: (?:that|whether))?(?: there is anything to it|"
    r" (?:it|that) means anything)?",
    rf"(?:was|is|somebody|someone|one)(?: (?:of|among|in|out of) {_SO_MANY})?{frames.fill('was is')} "
    r"(?:bound to|had to|sure to|will|would) (?:look|do|come out)(?: (?:like|so|that|this))*",
    r"(?:do|would|should|could) not read too much into it|truly misses less(?: then)?|is it luck|the next "
    r"pitch|which luck could do|anything to it|record|coincidence|found(?= <a>)",
    r"by luck alone (?:somebody|someone) (?:is|comes out|looks|does)(?: (?:that|so|as|just as))* low in"
    r"(?: (?:about|around|roughly|only))* (?:one season (?:in|out of) 6|17% of (?:the |all )?seasons)",
    rf"(?:with|from|out of) {_SO_MANY} to (?:pick|choose) from|that could easily be (?:chance|luck)|(?:so "
    r")?it may be luck",
    rf"{_SO_MANY} somebody (?:had to|was bound to|may well) (?:be that low|look like <a>(?: by luck)?)|to "
    r"find her|"
    rf"{_SO_MANY} hitters somebody (?:had to|was bound to|may well) (?:be that low|look like <a>(?: by "
    r"luck)?)",
    r"whether a miss makes her miss less(?: remains| stays| is)?|whether she truly misses less then can "
    r"not be told|"
    rf"(?:whiffed|missed) {MISSED} times|missed on just {MISSED} of {NEXT}|it is about a coin flip whether "
    r"it is real",
    frames.MAY_BE_LUCK,
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "11.missed-again",
        "predict",
        Bounds(_again_in_100, widest=6, per_cent=True),
        (
            Wrong(
                (27, 32),
                "that is nearer to a number per swing. About half of the next pitches are let go, and a "
                "pitch let go cannot be missed.",
                when=lambda ends: ends[0] > _again_in_100(),
            ),
            Wrong(
                (3, 8),
                "hitters swing at about half of the pitches, and of these swings more than a quarter miss. "
                "Multiply.",
                when=lambda ends: ends[1] < _again_in_100(),
            ),
        ),
        (
            "Two steps: how many of the 100 does he swing at, and how many of these swings miss?",
            "About half, and of these between a quarter and a third.",
        ),
        "Of 100 next pitches about 50 are swung at, and some 15 are missed; look at the next table.",
        "a next pitch is seldom missed, after a whiff or not. So 'he did not miss the next' is true most "
        "of the time, of everybody.",
        minutes=3,
    ),
    Exercise(
        "11.out-of-what",
        "denominator",
        Choice(
            "b",
            {
                "a": "all her whiffs, with those that ended a turn at bat",
                "b": "pitches that came right after a whiff in the same turn at bat",
                "c": "swings at what came right after a whiff",
                "d": "all pitches that came in a turn at bat with a whiff",
            },
        ),
        (
            Wrong(
                "a",
                "a whiff with two strikes ends the turn. Nothing follows it, so there is nothing to miss.",
            ),
            Wrong(
                "c",
                "whether there is a swing comes after the whiff and may be part of the answer. Swings alone "
                "leave out the pitches that she let go.",
            ),
            Wrong("d", "most of these do not come right after a whiff, and the question begins with one."),
        ),
        (
            "What has to have happened before the coach can ask the question, and nothing more?",
            "There was a whiff, and another pitch was thrown. Whether she swings is not yet known.",
        ),
        "The question begins when the next pitch is thrown; all that comes later belongs above the line.",
        "below the line stands what is known when the question is asked, and nothing that comes later.",
        minutes=2,
    ),
    Exercise(
        "11.like-with-like",
        "compute",
        Number(_expected, tolerance=0.06),
        (
            Wrong(_missed, "that is how often she missed. The question is how often you would expect it."),
            Wrong(
                _expected_lumped,
                "that lumps the counts together, no strikes and one strike alike. Go row by row.",
            ),
            Wrong(
                _expected_by_plain_average,
                "that averages the two rates as if both rows had as many pitches. "
                "Weigh each with its own pitches.",
            ),
            Wrong(
                lambda: float(_sides()[0]["pitches"][0] * _sides()[1]["rate"][0]),
                "that is the first row alone; add the pitches that followed a whiff with one strike.",
            ),
        ),
        (
            "Take her pitches after a whiff, row by row, and the other rate at the same count.",
            "pitches (0 strikes, a whiff) times rate (0 strikes, another), plus the same with 1 strike.",
        ),
        _expected_by_hand,
        "she did miss less than her own other pitches lead one to expect. How much that is worth comes next.",
        minutes=5,
    ),
    Exercise(
        "11.take-the-day-out",
        "compute",
        Number(2.0 / 1.6, tolerance=0.01),
        (
            Wrong(2.0, "that is before anything is taken out: form is still in it."),
            Wrong(1.6, "that is the placebo: what the day alone does."),
            Wrong(
                0.4, "factors are not subtracted. A factor of one means no difference, not a factor of zero."
            ),
            Wrong(1.4, "close, but factors multiply: 1.6 times what makes 2.0?"),
            Wrong(0.8, "upside down: you asked what is left of the placebo."),
            Wrong(3.2, "that puts the day in a second time; it should come out."),
        ),
        (
            "Both numbers are factors on the odds. The day is in both of them.",
            "1.6 times something makes 2.0.",
        ),
        "2.0 divided by 1.6 is 1.25.",
        "most of the factor was the day; the rest may be a memory. The picture shows the same division.",
        minutes=3,
        core=False,
    ),
    Exercise(
        "11.divide-by-placebo",
        "complete",
        Code(day_taken_out, _real_and_placebo, tolerance=0.004),
        (
            Wrong(
                _shares_for_odds,
                "you divided by all pitches: those are shares. Odds are misses for each pitch that was "
                "not missed.",
            ),
            Wrong(_day_left_in, "that is the factor of the real whiffs; the day is still in it."),
            Wrong(_upside_down, "upside down: the placebo goes below the line."),
            Wrong(_multiplied, "you put the day in a second time. It should come out."),
        ),
        (
            "Odds are misses over what is not missed. A factor is the odds after a whiff over those "
            "after another strike.",
            'table["missed"], odds["other"], and at the end the two factors, the real one first.',
        ),
        "Odds of a miss in each row, the factor of the two rows, and the real factor over that of the "
        "placebo.",
        "one division takes out whatever lasts for a game, without knowing what it is.",
        minutes=5,
    ),
    Exercise(
        "11.once-in-nineteen",
        "fault",
        Choice(
            "c",
            {
                "a": "misses are to be counted out of swings, and once in five is how often she "
                "misses such pitches",
                "b": "a miss on another kind of pitch would be a better sign that she learns",
                "c": "the nineteen were picked by what came after the whiff, and she let most of them go",
                "d": "the misses on other kinds of pitches were left out of the nineteen",
            },
        ),
        (
            Wrong(
                "a",
                "five swings tell little, and whether she swings comes after the whiff, too. That picks once "
                "more.",
            ),
            Wrong("b", "it would be one more number of the same make: picked by what came after."),
            Wrong(
                "d",
                "so they have to be, where only the same kind is counted. Ask how these pitches were chosen.",
            ),
        ),
        (
            "Who decided, after the whiff, that the same kind came again? And how many did she swing at?",
            "The row of swings says how many of the nineteen she offered at.",
        ),
        "The pitcher chose to repeat, in spots that suited him, and she swung at five of the nineteen. One "
        "miss in five swings is no wonder, and nothing says that the other fourteen would have been hit.",
        "a number among picked pitches describes. It does not say what a whiff does.",
        minutes=4,
    ),
    Exercise(
        "11.late-trains",
        "transfer",
        Number(_CLEAR[0] * _CLEAR[1] + _SNOW[0] * _SNOW[1], tolerance=0.5),
        (
            Wrong(
                15,
                "that takes the share of all days together. Most late trains run in snow.",
            ),
            Wrong(
                35,
                "that weighs clear days and snow days alike. Look at how many trains each had.",
            ),
            Wrong(
                _OBSERVED_LATE, "that is how many were late. What would the weather alone lead you to expect?"
            ),
            Wrong(60, "that treats all hundred as snow days; twenty of them were clear."),
            Wrong(10, "that treats all hundred as clear days; eighty of them were snowy."),
        ),
        (
            "Take the clear days and the snow days one by one.",
            "20 trains at 10 in 100, and 80 trains at 60 in 100.",
        ),
        "20 at 10 in 100 are 2, and 80 at 60 in 100 are 48: together 50. Observed were 52.",
        "snow makes late trains follow late trains, as a bad day makes whiffs follow whiffs. 52 "
        "against 50 says little about infection.",
        minutes=5,
    ),
    Exercise(
        "11.somebody",
        "write",
        Code(somebody, _league_of_equals, tolerance=0.055, cases=4, surely=_somebody_surely),
        (
            Wrong(
                _one_alone,
                "that is the chance for one hitter. Asked is whether anybody of the season is so low.",
            ),
            Wrong(
                _how_many, "you counted how many are so low. A season counts once, however many there are."
            ),
            Wrong(
                _lowest_of_a_hitter,
                "you took the lowest of each hitter over all seasons. Take the lowest of each season: "
                "axis=1.",
            ),
        ),
        (
            "rng.binomial(pitches, chance, size=(2_000, len(pitches))) has a row a season and a column a "
            "hitter.",
            "(missed / pitches).min(axis=1) is the lowest share of each season; then the mean of lowest "
            "<= seen.",
        ),
        "Draw, divide, take the lowest of each season, and see how often it is as low as what was seen.",
        "whoever is talked about was picked. So ask how often somebody could have been.",
        minutes=6,
    ),
    Exercise(
        "11.one-of-many",
        "compute",
        Number(lambda: _hitters() * _p(), tolerance=0.2),
        (
            Wrong(_p, "that is the chance for one hitter. How many hitters were there to look at?"),
            Wrong(
                lambda: _hitters() * _p() / 2,
                "that is those who stand out in her direction alone; the question counts both.",
            ),
            Wrong(lambda: 1 / _p(), "that is among how many hitters you would expect one."),
            Wrong(lambda: _hitters() * (1 - _p()), "that is how many would not stand out."),
        ),
        (
            "Each of them has the same small chance to stand out by luck.",
            "The number of hitters times the chance.",
        ),
        lambda: f"{_hitters()} hitters times {rate_text(_p())} is {_hitters() * _p():.1f}.",
        "some hitters always look as if they learn from a miss, and as many as if they fall to pieces.",
        minutes=3,
        core=False,
    ),
    Exercise(
        "11.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point(
                    "what",
                    "misses on the pitch after a miss",
                    (
                        r"\b(?:miss|whiff|swing\w* through|swung "
                        r"through)\w*.*\b(?:next|after|follow\w*|in a row|again)\b",
                        r"\b(?:next|after|follow\w*)\b.*\b(?:miss|whiff|swing\w* through|swung through)\w*",
                    ),
                ),
                Point(
                    "out of what", "the pitches that came next, with their number", (patterns.number(NEXT),)
                ),
                Point(
                    "among whom",
                    "that 150 hitters were looked at",
                    (
                        patterns.number(HITTERS),
                        patterns.number(HITTERS - 1),
                    ),
                ),
                Point("how sure", "a chance, or that it is open", _HOW_SURE),
            ),
            f"Tamsin Kolmbulo missed {MISSED} of the {NEXT} pitches right after a miss, but she was picked "
            f"out of {HITTERS} hitters, and whether it is more than luck is open.",
            people=(THE_HITTER,),
            frames=_FRAMES,
            phrases=(
                "4 misses",
                "4",
                "150",
                "4 times",
                "52%",
                "a 52% chance",
                "one of 150 hitters",
                "50%",
                "a 50% chance",
                "about even whether it is luck",
                "about even whether she misses less",
                "it is open",
                "nothing is settled",
                "that can happen by chance",
                "whether it means anything is open",
                "it may be nothing but luck",
                "whether she misses less is open",
                "an even chance",
                "somebody may look like that by luck",
                "we do not know if it is skill or luck",
                "whether she truly misses less is open, an even chance",
                "whether a miss makes her miss less is open",
                "whether she makes fewer is open",
                "from 150",
                "whether that is luck",
                "we cannot tell if it is more than luck",
                "one had to look so by luck",
                "whether she misses less cannot be told",
                "open whether she learns",
                "by luck somebody is that low in one season in six",
                "by luck somebody is that low in 17% of seasons",
            ),
            figures=(MISSED, NEXT, HITTERS, HITTERS - 1, MISSED / NEXT, _CHANCE, _EVEN, _BY_LUCK),
            too_much=_OVERCLAIMS,
            good=(
                "After a miss Kolmbulo missed only 4 of the next 85, yet with 150 hitters to look at, "
                "that may well be luck.",
                "Out of 150 hitters we picked Tamsin, who whiffed on four of eighty-five pitches after a "
                "whiff; it is about an even chance that there is anything to it.",
                "Tamsin Kolmbulo is 4-for-85 in missing the next pitch, one of a hundred and fifty hitters "
                "checked, so we cannot say yet.",
                "Tamsin Kolmbulo whiffed on only 4 of the 85 pitches that followed a whiff, but we picked "
                "her out of 150 hitters, so it may be chance.",
                "Tamsin Kolmbulo missed just 4 of 85 pitches after a whiff, yet somebody among 150 hitters "
                "was bound to look like that.",
                "We looked at 150 hitters; Tamsin missed four of 85 pitches right after a whiff, and it's a "
                "coin flip whether that means anything.",
            ),
            bad=(
                ("Tamsin Kolmbulo missed 4 of the 85 pitches after a miss, which may be luck.", "among whom"),
                (
                    "Of 150 hitters Tamsin hardly ever misses the pitch after a miss, but that is open.",
                    "out of what",
                ),
                ("Of 150 hitters Tamsin Kolmbulo missed 4 of 85 pitches right after a miss.", "how sure"),
                ("She missed 4 of 85 pitches after a miss, of 150 hitters, and that is open.", "who"),
                (
                    "Tamsin learned: of 150 hitters she missed 4 of 85 pitches after a miss, probably no "
                    "luck.",
                    "too much",
                ),
                (
                    "Tamsin's 4 misses in the 85 pitches after a miss are just luck, as she is one of 150.",
                    "too much",
                ),
                (
                    "Picked from 150 hitters, Tamsin will most likely not miss the next pitch after a "
                    "miss: 4 of 85.",
                    "too much",
                ),
                (
                    "Tamsin Kolmbulo missed 40 of the 85 pitches right after a miss, but she is one of 150 "
                    "hitters and it may be luck.",
                    "too much",
                ),
                (
                    "Tamsin Kolmbulo missed 4 of the 85 pitches after a miss, first of 150 hitters: it is "
                    "unlikely to be luck.",
                    "too much",
                ),
                (
                    "Tamsin Kolmbulo missed 4 of the 85 pitches after a miss, picked from 150 hitters: it is "
                    "unlikely to be luck.",
                    "too much",
                ),
                (
                    "Tamsin Kolmbulo missed 4 of 85 pitches right after a miss, and of 150 hitters she is "
                    "probably the one who bears down.",
                    "too much",
                ),
                (
                    "Out of 150 hitters Tamsin Kolmbulo may miss more often right after a miss, all but 4 of "
                    "85.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Begin with the record: how many missed, of how many pitches. Then among how many hitters "
            "she was found.",
            "For instance: ... missed so many of the so many pitches right after a miss, but she was "
            "picked out of ...",
        ),
        "Her record with its denominator, how many hitters were looked at, and that it is open: no "
        "learning, no promise.",
        "whoever hears it knows what was seen, and from how large a heap it was picked.",
        minutes=4,
    ),
)


def _again_expected(rng: np.random.Generator) -> tuple[str, Exercise]:
    easy, hard = int(rng.choice([20, 30])), int(rng.choice([70, 80]))
    in_ten = int(rng.choice([4, 5, 6]))
    who, when, plain, tough = (
        ("deliveries", "after a late one", "on dry days", "on icy days"),
        ("penalties", "after a miss", "at home", "away"),
        ("calls", "after a dropped one", "in town", "in the hills"),
    )[int(rng.integers(3))]
    bad = {"deliveries": "late", "penalties": "missed", "calls": "dropped"}[who]
    right = 0.1 * easy + 0.1 * in_ten * hard
    return (
        f"Of the {easy + hard} {who} {when}, {easy} were {plain}, when 1 in 10 is {bad}, and {hard} "
        f"{tough}, when "
        f"{in_ten} in 10 are. If the one before changed nothing, how many of the {easy + hard} would you "
        f"expect to be {bad}?",
        Exercise(
            "11.again-expected",
            "compute",
            Number(right, tolerance=0.5),
            (
                Wrong(
                    (easy + hard) * (0.1 + 0.1 * in_ten) / 2,
                    "that weighs both kinds alike. Look at their numbers.",
                ),
                Wrong(0.1 * in_ten * hard, "those are the hard ones alone; add the others."),
                Wrong(0.1 * in_ten * (easy + hard), "that treats all as hard ones."),
            ),
            (
                "Kind by kind: number times share. Then add.",
                f"{easy} times 0.1, and {hard} times {in_ten / 10:g}.",
            ),
            f"{easy} × 0.1 + {hard} × {in_ten / 10:g} is {right:g}.",
            "like with like: each kind with its own number.",
            minutes=1,
        ),
    )


def _again_placebo(rng: np.random.Generator) -> tuple[str, Exercise]:
    real = int(rng.integers(17, 22))
    of_the_day = bool(rng.integers(2))
    placebo = real - 1 if of_the_day else 11
    who, error, before, other = (
        ("A pianist", "a wrong note", "in the bar before", "in another piece of the same evening"),
        ("A waiter", "a wrong order", "at the table before", "at a table two hours before, the same night"),
        ("A hitter", "a miss", "on the pitch before", "in another turn at bat of the same game"),
    )[int(rng.integers(3))]
    left = f"{real / 10:.1f} over {placebo / 10:.1f} is {real / placebo:.2f}"
    right = "d" if of_the_day else "a"
    why = {
        "a": "the day is in that factor, too. What does it show without the one before?",
        "b": "factors are divided, not subtracted; a factor of 1 is no change.",
        "c": "the odds are higher after one; the question is what makes them so.",
        "d": f"the day alone shows {placebo / 10:.1f}, which is hardly anything. Divide.",
    }
    return (
        f"{who}: the odds of {error} are {real / 10:.1f} times as high if there was one {before}, and "
        f"{placebo / 10:.1f} times as high if there was one {other}. Is what the one {before} does more "
        f"than what "
        "the day does?",
        Exercise(
            "11.again-placebo",
            "fault",
            Choice(
                right,
                {
                    "a": f"yes: most of the {real / 10:.1f} is left once the day is divided out",
                    "b": f"no: taken away from each other the two leave {(real - placebo) / 10:.1f}, no more "
                    "than there was without",
                    "c": f"no: {error} never has to do with the one before, it is a matter of luck",
                    "d": "hardly: the day alone shows nearly as much, and little is left to divide",
                },
            ),
            others(why, right),
            ("Divide the one factor by the other.", f"{left}. Is that near 1?"),
            f"{left}: "
            + (
                "nearly all of it shows without the one before." if of_the_day else "the day is little of it."
            ),
            "what happens together on a bad day need not do anything to each other; divide, and see."
            if of_the_day
            else "the day is taken out by dividing, and what is left is not the day.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "11",
    "Watch what follows a whiff",
    _verdict,
    f"Her record is what was said, but it is {MISSED} of {NEXT}, picked out of {HITTERS} hitters, and the "
    "league as a whole leans the other way.",
    EXERCISES,
    (Again("11.again-expected", _again_expected), Again("11.again-placebo", _again_placebo)),
)
