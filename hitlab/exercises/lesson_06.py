"""Lesson 6, strike under the middle: launch angle, and how much of it is the swing's own angle."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pandas as pd

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
from hitlab.physics.margin import HeldStill, Margin, Scatter, hold_still, swing_margin
from hitlab.physics.one_swing import aim_for_launch, swing_outcomes
from hitlab.physics.scatter_fit import HITTER

__all__ = ["AIM_IN", "HITTER", "LESSON", "SCATTER", "held_still", "margin_of"]

SCATTER = Scatter(miss_in=1.5, timing_ms=14.0, attack_deg=4.0, sideways_in=2.1)
"""The lesson's hitter from swing to swing: near the middle of what ``fit_scatter`` gives for usual shares
(miss 1.50 to 1.66 in, timing 11 to 14 ms, 2.1 to 2.4 in along the bat); no published figure was found."""
AIM_IN = 1.0
"""How far under the ball he aims; from the same fit."""

INCHES, DEGREES, PER_QUARTER, SHARES = (0.25, 0.1, 0.5), 7, (5, 6), (0.86, 0.02)
"""What the sentence for air may say: steps on the ball (in); the degrees of swing that a quarter of an inch
is worth, and those of launch that it brings, from and to; the shares that go with the place and the climb."""


@cache
def margin_of(attack_deg: float) -> Margin:
    """Return what becomes of 10,000 swings of one attack angle, aimed at a launch angle of 15 degrees."""
    swing = replace(HITTER, attack_deg=attack_deg)
    aim = aim_for_launch(15, swing=swing)
    return swing_margin(swing=swing, scatter=SCATTER, aim_in=aim, swings=10_000)


@cache
def held_still(miss_in: float = SCATTER.miss_in) -> HeldStill:
    """Return what the launch angles of the lesson's hitter follow, for some scatter of his aim."""
    return hold_still(replace(SCATTER, miss_in=miss_in), swing=HITTER, aim_in=AIM_IN, swings=20_000)


def _launch(miss_in: float, attack_deg: float) -> float:
    return float(swing_outcomes(miss_in, 0.0, attack_deg, swing=HITTER).launch_deg)


def _per_tenth() -> float:
    return _launch(0.45, 8) - _launch(0.35, 8)


def _per_degree() -> float:
    return (_launch(0.4, 13) - _launch(0.4, 3)) / 10


def _per_quarter() -> float:
    return _launch(0.525, 8) - _launch(0.275, 8)


def _home_runs(attack_deg: float) -> float:
    return margin_of(attack_deg).shares["home run"]


def _per_ball_in_play(attack_deg: float) -> float:
    played = margin_of(attack_deg).shares
    return played["home run"] / (1 - played["whiff"] - played["foul"])


def _verdict() -> str:
    found = held_still()
    return "holds" if found.offset_share > found.attack_share else "does not hold"


def goes(spreads, held, rng):  # type: ignore[no-untyped-def]
    errors = rng.normal(0, spreads, (20_000, len(spreads)))
    all_differ = errors.sum(axis=1).var()
    errors[:, held] = 0
    return 1 - errors.sum(axis=1).var() / all_differ


_goes: Callable[..., float] = goes


def _sources(rng: np.random.Generator) -> tuple[list[int], int, np.random.Generator]:
    spreads = [int(one) for one in rng.integers(3, 25, int(rng.integers(3, 5)))]
    return spreads, int(rng.integers(len(spreads))), fresh(rng)


def _goes_surely(spreads: list[int], held: int, _: np.random.Generator) -> float:
    return spreads[held] ** 2 / sum(one**2 for one in spreads)


def _what_is_left(spreads: list[int], held: int, rng: np.random.Generator) -> float:
    return 1 - _goes(spreads, held, rng)


def _by_spreads(spreads: list[int], held: int, rng: np.random.Generator) -> float:
    return 1 - float(np.sqrt(1 - _goes(spreads, held, rng)))


def _one_swing_held(spreads: list[int], held: int, rng: np.random.Generator) -> float:
    errors = rng.normal(0, spreads, (20_000, len(spreads)))
    all_differ = errors.sum(axis=1).var()
    errors[held] = 0
    return float(1 - errors.sum(axis=1).var() / all_differ)


def _not_a_share(spreads: list[int], held: int, rng: np.random.Generator) -> float:
    errors = rng.normal(0, spreads, (20_000, len(spreads)))
    all_differ = errors.sum(axis=1).var()
    errors[:, held] = 0
    return float(all_differ - errors.sum(axis=1).var())


def _part_of_the_sum(spreads: list[int], held: int, rng: np.random.Generator) -> float:
    return spreads[held] / sum(spreads)


def explained(table):  # type: ignore[no-untyped-def]
    fair = table[table["fair"]]
    by_place = fair["launch"].corr(fair["offset"])
    by_angle = fair["launch"].corr(fair["attack"])
    return by_place**2, by_angle**2


_explained: Callable[..., tuple[float, float]] = explained


def _balls(rng: np.random.Generator) -> tuple[pd.DataFrame]:
    """Touched balls: a foul is struck far under or over, and its launch angle follows nothing."""
    offset, attack = rng.normal(0.3, 0.8, 300), rng.normal(8, 5, 300)
    launch = 8 + rng.uniform(12, 22) * offset + rng.uniform(0.8, 1.6) * attack + rng.normal(0, 6, 300)
    fair = np.abs(offset - 0.3) < 0.9
    launch = np.where(fair, launch, rng.uniform(-60, 80, 300))
    return (pd.DataFrame({"launch": launch, "offset": offset, "attack": attack, "fair": fair}),)


def _not_squared(table: pd.DataFrame) -> tuple[float, float]:
    by_place, by_angle = _explained(table)
    return float(np.sqrt(by_place)), float(np.sqrt(by_angle))


def _with_fouls(table: pd.DataFrame) -> tuple[float, float]:
    return _explained(table.assign(fair=True))


def _only_fouls(table: pd.DataFrame) -> tuple[float, float]:
    return _explained(table.assign(fair=~table["fair"]))


def _place_twice(table: pd.DataFrame) -> tuple[float, float]:
    fair = table[table["fair"]]
    place, between = fair["launch"].corr(fair["offset"]), fair["offset"].corr(fair["attack"])
    return float(place**2), float(between**2)


_WHAT = (
    r"\blaunch",
    r"\bangle of the ball",
    r"\b(?:fly|flies|flew|flight)\b",
    r"\bpop(?:s|ped)?\b|\bpop-?ups?\b",
    r"\bground(?:er|ers|ed)?\b",
    r"\bline(?:r|rs| drives?)\b",
    r"\bhow (?:high|steep\w*|far up) (?:the|it|a) ",
    r"\bheight\b",
    r"\bgo(?:es)? (?:up|high)",
    r"\b(?:the|a|his|that|its) balls? (?:goes|went|leaves|left|comes|came|takes off|took "
    r"off|climb|rise|rose)",
    r"\bwhere (?:the|a|his|that) ball (?:goes|went|ends)",
    r"\bin the air\b",
    r"\bsen(?:t|d|ds) .{0,30}(?:ball|out|up|high|higher|far)\b",
)
_PLACE = (
    r"\bwhere\b.{0,40}\b(?:meet|met|hit|struck|strike|touch|contact|catch|caught|got)",
    r"\b(?:place|point|spot|height) (?:of|where|on|at)\b",
    r"\bcontact (?:point|spot|place|height)|\bcontact (?:[\w'-]+ ){0,2}(?:low|high)",
    r"\b(?:bottom|top|lower half|upper half|underside|middle) of the ball",
    r"\bspot\b",
    r"\b(?:under|lower|beneath|below|underneath)\b",
    r"\binch(?:es)?\b",
)
_CLIMB = (
    r"\bup-?swing\b",
    r"\b(?:attack|swing|bat) (?:angle|path|plane)",
    r"\b(?:angle|path|plane|climb|tilt|slope|steepness) of (?:the|his|her|your|a) (?:[\w'-]+ )?(?:swing|bat)",
    r"\b(?:swing|bat)'s (?:own )?(?:angle|path|plane|climb|tilt|slope|steepness)",
    r"\bswing(?:s|ing)? (?:[\w'-]+ ){0,2}(?:up|upward|flat|level|steep|flatter|steeper)",
    r"\b(?:steep|flat|level)(?:er|ly)? (?:[\w'-]+ ){0,2}(?:swing|bat)",
    r"\bhow (?:steep|flat|much)(?:ly)? (?:[\w'-]+ ){0,3}(?:swing|bat|climb|upper)",
    r"\bswing(?:s|ing)? (?:[\w'-]+ ){0,5}steep(?:ly|er)?\b",
    r"\bupper-?cut",
    r"\bbat (?:climb|rise|goes up|travels up|comes up)",
    r"\bdegrees (?:[\w'-]+ ){0,2}(?:of )?(?:swing|bat)",
    r"\b(?:swing|bat) (?:[\w'-]+ ){0,3}degrees",
    r"\bthan (?:the|his|her|your|how) (?:[\w'-]+ ){0,3}swing",
    r"\bsame swing",
    r"\bhow (?:he|she|they|one|a hitter|the hitter) swings?\b",
    r"\bswings?'? (?:own )?(?:angle|path|plane)",
    r"\b(?:tilt|steepen|lift|rais)ing (?:the|his|her|your|a) (?:swing|bat)",
    r"\bswings? (?:[\w'-]+ ){0,4}(?:steep|flat|level|alike)",
)
_WITHIN = (
    r"\b(?:swing|cut)(?: of (?:his|hers))? to (?:the |his |her )?(?:next|swing|another|cut)",
    r"\bone swing (?:and|or|of|after)\b",
    r"\bnext (?:swing|one|cut)\b",
    r"\bsame (?:hitter|batter|man|player|guy|kid|swing)",
    r"\b(?:one|a|any|the|this|our|single) (?:single |given |particular )?(?:hitter|batter)(?:'s)?\b",
    r"\b(?:his|her|my (?:hitter|guy|man|kid)'?s?) (?:own )?(?:two )?swings?\b",
    r"\btwo swings\b",
    r"\bwithin (?:one|a|the same) (?:hitter|batter)",
    r"\bsame (?:pitch|person)",
)
_MODEL = (
    r"\bmodel|\bcomputer\b",
    r"\bsimulat",
    r"\b(?:comput|calculat|reckon)",
    r"\bphysics\b",
    r"\bon paper\b",
    r"\bin theory\b|\btheoretical",
    r"\b(?:not|never|nobody|no one|hasn't|haven't|didn't|wasn't) (?:[\w'-]+ ){0,3}(?:measure|clock|film)",
    r"\bunmeasured\b",
    r"\bestimate",
    *patterns.DOUBT,
)
_PART = r"[^,;:.]"  # of a clause
# the place on the ball, in a word, and the climb of the bat
_P = r"\b(?:where|contact|spot|place|point|under(?:neath)?|lower|beneath|below|inch(?:es)?|height)\b"
_C = (
    r"\b(?:attack|path|plane|steep\w*|tilt\w*|climb\w*|upper-?cut\w*|slope|degrees?|(?:swing|"
    r"bat)(?:'s)? (?:own )?angle|"
    r"angle of (?:the|his|her|a) (?:[\w'-]+ )?(?:swing|bat))\b"
)
_NOT_P, _NOT_C = rf"(?:(?!{_P}|\bnot\b|n't){_PART})", rf"(?:(?!{_C}|\bnot\b|n't){_PART})"
_MORE = r"(?<!no )(?<!not )\b(?:more|better|stronger|bigger|larger|greater|further|twice|double|times)\b"
_TURNED = tuple(
    TooMuch(pattern, patterns.TURNED)
    for pattern in (
        rf"{_C}{_NOT_P}{{0,70}}?{_MORE}{_PART}{{0,80}}?\b(?:than|as)\b{_PART}{{0,30}}?{_P}",
        rf"{_P}{_NOT_C}{{0,70}}?\b(?:less|fewer|smaller|weaker|"
        rf"worse)\b{_PART}{{0,80}}?\bthan\b{_PART}{{0,30}}?{_C}",
        rf"\b(?:mainly|mostly|chiefly|above all|largely|primarily|most of all)\b{_NOT_P}{{0,30}}?{_C}",
        rf"\b(?:less|hardly|little|barely|not) (?:so much )?(?:on|with|by|from|"
        rf"to do with) {_NOT_C}{{0,20}}?{_P}",
        rf"{_C}{_NOT_P}{{0,15}}?\b(?:decides?|determines?|drives?|governs?|rules?)\b(?! how much)",
        rf"\bmore (?:to|from|on|with|by|of) {_NOT_P}{{0,25}}?{_C}{_PART}{{0,25}}?\bthan\b"
        rf"{_PART}{{0,20}}?{_P}",
        rf"{_P}{_NOT_C}{{0,20}}?\b(?:matters?|counts?|does|says?|tells?) (?:very )?(?:little|nothing|"
        rf"hardly)\b",
        r"\b(?:counts?|matters?|weighs?|says?|tells?) the same\b|\bthe same (?:amount|weight)\b",
        rf"{_C}{_NOT_P}{{0,10}}?\b(?:beats?|beating|outweighs?|trumps?|tops?|exceeds?)\b{_PART}{{0,20}}?{_P}",
        rf"{_C}{_NOT_P}{{0,30}}?, (?:and )?not {_PART}{{0,25}}?{_P}",
        r"\b(?:equally|alike|to the same (?:extent|degree))\b",
        rf"\b(?:matters?|counts?|tells?|says?|affects?|weighs?|is|are|does)\b{_PART}{{0,20}}?"
        r"\bas (?:much|important|strong\w*|far)\b(?!.*\bdegrees?\b)",
    )
)
_TOO_MUCH = (
    *_TURNED,
    TooMuch(
        rf"\b(?:86|eighty[- ]six)(?: ?%| per ?cent){_NOT_P}{{0,80}}?(?:{_C}|\bhow (?:he|steep))|"
        rf"\b(?:2|two)(?: ?%| per ?cent){_NOT_C}{{0,60}}?{_P}",
        patterns.TURNED,
    ),
    TooMuch(
        r"\b(?:90|75|50|ninety|fifty|seventy-five)(?: ?%| per ?cent)", "that is a number that nobody showed"
    ),
    TooMuch(
        r"\b(?:swing|angle|climb|path|plane|uppercut|steepness)\b.{0,25}"
        r"\b(?:doesn't|does not|don't|do not|didn't|did not) (?:matter|count)|"
        r"\bnothing to do with|\b(?:makes?|made) no difference|\birrelevant|"
        r"\bnothing (?:else|but)\b|\ball that (?:counts|matters)|\bonly thing\b",
        "that leaves the swing nothing, and it decides how much error is forgiven",
    ),
    TooMuch(
        r"\b(?:between|among|across) (?:all |different |the )?(?:hitters|batters|players)\b"
        r"(?!.{0,40}\b(?:open|another|other|not|nobody|unknown|may|might|can't|cannot))|"
        r"\b(?:all|every) (?:hitters?|batters?|players?)\b",
        "that speaks of other hitters, and only one was looked at",
    ),
    TooMuch(
        r"\b(?:stop|quit|forget)(?: about)? (?:teaching|swinging|the swing|your swing|uppercut|launch)|"
        r"\b(?:should|must|ought to|has to|have to)\b.{0,20}\bswing",
        "that is advice, and no other swing was tried on him",
    ),
)
_GOOD = (
    "According to a model, where the bat meets the ball tells more about the launch angle from one swing to "
    "the next than how steeply the same hitter swings.",
    "He may have popped that one up because he got a hair under it; on paper that does more from swing to "
    "swing than a steeper swing.",
    "Nobody measured his, but by the physics a hitter's contact point says more than his attack angle about "
    "whether it's a liner or a grounder.",
    "Same swing, a quarter inch lower, and a liner becomes a fly ball: that's what a simulation of one "
    "hitter says.",
    "In our model, for a single hitter, hitting the ball a quarter inch lower changes launch angle about as "
    "much as swinging seven degrees more steeply.",
    "Simulations say a hitter's launch angle varies from swing to swing mainly with how far under the ball "
    "he "
    "gets, less with his attack angle.",
    "In our model the swing plane of a hitter says less about his launch angle from one swing to the next "
    "than the contact point.",
    "In a model how steeply a hitter swings doesn't matter as much to his launch angle from swing to swing "
    "as "
    "where he meets the ball.",
    "On paper, 86 percent of how one hitter's launch angle varies from swing to swing comes from where he "
    "meets the ball, two percent from how steeply he swings.",
)
_BAD = (
    (
        "In a model the launch angle follows the place of contact from one swing to the next.",
        "against what",
    ),
    (
        "Where a hitter meets the ball does more to the launch angle than how steeply he swings, from swing "
        "to swing.",
        "how sure",
    ),
    (
        "In a model the spot on the ball tells more of the launch angle than the angle of the swing does.",
        "among what",
    ),
    (
        "In a model, one hitter's launch angle has little to do with how steeply he swings.",
        "by what",
    ),
    (
        "In a model of one hitter's swings the spot on the ball is all that counts for its launch angle, the "
        "swing angle does not matter.",
        "too much",
    ),
    (
        "In our model every hitter's launch angle follows the place of contact more than the swing's angle, "
        "from one swing to the next.",
        "too much",
    ),
    (
        "A model proves that from swing to swing the same hitter's launch angle follows the contact point "
        "more than his swing path.",
        "too much",
    ),
    (
        "In a model, how steeply a hitter swings tells more about his launch angle from one swing to the "
        "next "
        "than where he meets the ball.",
        "too much",
    ),
    (
        "From swing to swing of the same hitter the swing path does far more to launch angle than the "
        "contact "
        "point, a model says.",
        "too much",
    ),
    (
        "A model says that where he meets the ball and how steeply he swings matter equally to the launch "
        "angle from one swing to the next.",
        "too much",
    ),
    (
        "Where the bat meets the ball tells less of the launch angle than the swing path, from swing to "
        "swing "
        "of one hitter, on paper.",
        "too much",
    ),
    (
        "In a model, from swing to swing of one hitter the launch angle depends mostly on the swing plane, "
        "hardly on the contact point.",
        "too much",
    ),
    (
        "In a model, from one swing to the next the swing's angle matters twice as much to a hitter's launch "
        "angle as the contact point.",
        "too much",
    ),
    (
        "In a model it is the steepness of a hitter's swing, not the point of contact, that sets the launch "
        "angle from swing to swing.",
        "too much",
    ),
    (
        "In a model, from one swing to the next a quarter of an inch lower does as much to a hitter's launch "
        "angle as thirty degrees more swing.",
        "too much",
    ),
)


_FILL = (
    r"(?: (?:on|the|ball|it|its|his|a|an|hitter|'s|to|for|about|of|from|in|by|at|where|that|which|does|do|"
    r"says?|"
    r"tells?|matters?|decides?|changes?|moves?|sets?|drives?|counts?|affects?|hinges|depends|owes|comes|"
    r"goes|flies|"
    r"raises|lifts|launch|angle|how|high|swings?|one|same|model|our|he|and|bat|,))*"
)
_THE_PLACE = (
    r"(?:where|(?:the )?(?:place|spot|point|height) (?:where|at which)|how far under|how high on)"
    rf"{_FILL} (?:meets?|hits?|strikes?|gets|touches)(?: (?:the ball|it|bat))?|"
    r"(?:contact|point of contact|contact (?:point|height)|(?:place|spot|height) on the ball)|"
    r"(?:hitting|meeting|getting|striking|catching) (?:the ball|it)"
)
_THE_CLIMB = (
    r"(?:how steep(?:ly)?|steepness|tilt|swing plane|attack angle|swing(?: 's)? angle|climb|slope)"
    r"(?: (?:of|the|his|a|bat|swing|is|climbs|swings?|he|hitter|same|'s|one|that))*"
)
_LOWER = (
    r"quarter(?: of)?(?: an)? inch(?: (?:lower|under|below|farther under|further down))?(?: on the ball| "
    r"the ball)?"
)
_STEEPER = (
    r"(?:swinging )?7 (?:more )?degrees?(?: (?:more|of|extra|steeper|steeply|swing|swinging|uppercut|bat "
    r"angle|climb|in))*"
)
_CONTACT_AT = (
    r"(?:where (?:the |his )?(?:he|bat) (?:hits|meets|strikes) (?:the )?ball|the (?:point|place|spot|"
    r"height) (?:of contact|"
    r"where (?:the |his )?bat (?:meets|hits) (?:the )?ball|at which (?:the )?bat meets (?:the )?ball)(?: "
    r"on the ball)?)"
)
_TELLS_OF = r"(?:says|tells(?: (?:you|us))?|decides|explains|matters|counts|determines|does)"
_HOW_HIGH = (
    r"(?: (?:for|of|about|to))?(?: (?:the|his|its|a hitter 's))?(?: (?:launch angle|how (?:high|steeply) "
    r"(?:it|the ball) "
    r"comes off|how it came off|where (?:it|the ball) goes))?"
)
_HOW_STEEP = (
    r"(?:how steeply (?:he|the bat|his bat) (?:swings|climbs)|(?:the )?(?:angle|steepness|slope|upward "
    r"slope|upward tilt|tilt|"
    r"climb) of (?:the|his) (?:swing|bat)|a steeper swing)(?: (?:does|is))?"
)
_FRAMES = (
    rf"{_CONTACT_AT}(?: (?:that|which))? {_TELLS_OF} (?:far |much |a lot )?(?:more|better){_HOW_HIGH} than "
    rf"{_HOW_STEEP}",
    rf"{_CONTACT_AT}(?: (?:that|which))? {_TELLS_OF}{_HOW_HIGH} (?:far |much |a lot )?(?:more|better) than "
    rf"{_HOW_STEEP}",
    rf"{_CONTACT_AT} , (?:far |much )?more than {_HOW_STEEP} , (?:that )?{_TELLS_OF}{_HOW_HIGH}|it is "
    rf"{_CONTACT_AT} , more than {_HOW_STEEP}",
    rf"{_CONTACT_AT} {_TELLS_OF} most(?: (?:about|of))?{_HOW_HIGH}(?: ,)? (?:and )?{_HOW_STEEP} "
    rf"{_TELLS_OF} (?:far|much) less",
    r"if you compare one hitter 's swings at the same pitch|(?:from )?(?:one|his) (?:swing|cut)(?: of "
    r"(?:his|one hitter))? to "
    r"(?:the|his) next|same hitter , one swing and the next|between two swings of (?:one|the same) hitter",
    r"a hair lower on contact separates liner from pop up far more than the steepness of his swing does",
    rf"(?:{_THE_PLACE})|{_THE_CLIMB}",
    rf"{_LOWER}{_FILL} (?:as much|about as much|equals?|is worth|by as much|much){_FILL}(?: as| "
    rf"about)*{_FILL} {_STEEPER}",
    rf"(?:{_THE_PLACE}){_FILL} (?:far |much )?more{_FILL} than{_FILL} (?:{_THE_CLIMB})(?: does)?",
    rf"more{_FILL} (?:{_THE_PLACE}){_FILL} than{_FILL} (?:{_THE_CLIMB})",
    rf"(?:{_THE_PLACE}){_FILL} more than{_FILL} (?:{_THE_CLIMB}){_FILL}",
    rf"less{_FILL} (?:{_THE_CLIMB}){_FILL} than{_FILL} (?:{_THE_PLACE}){_FILL}",
    rf"(?:{_THE_CLIMB}){_FILL} less{_FILL} than{_FILL} (?:{_THE_PLACE})",
    rf"(?:{_THE_PLACE}){_FILL} not{frames.fill('the his from in a')} (?:{_THE_CLIMB}){_FILL}(?: mostly| "
    rf"mainly)?{_FILL}",
    r"(?:from|between)(?: (?:one|two|his|of|'s|the|a|hitter|same))* swings?(?: (?:of|a|one|the|same|his|"
    r"hitter))*"
    r"(?: (?:and|to) (?:the|his)(?: next| other)?(?: swing| one)?)?",
    r"swing to swing|one of his swings|nobody measured (?:it|his|him)|on paper|in theory|how high (?:it|"
    r"the ball) goes|"
    r"one hitter(?: 's)?|depends|hinges|owes|shows|computed",
)
"""Frames of its sentence: the place and the climb, and which of them counts for more."""

EXERCISES = (
    Exercise(
        "06.tenth-of-an-inch",
        "predict",
        Bounds(_per_tenth, widest=1.5),
        (
            Wrong(
                (0.2, 1.2),
                "that little? The ball is round and small, so its surface turns away quickly under the bat.",
                when=lambda ends: ends[1] < _per_tenth(),
            ),
            Wrong(
                (9, 10),
                "that much would mean that a quarter of an inch turns a line drive into a pop-up. It takes "
                "more than half an inch.",
                when=lambda ends: ends[0] > 5,
            ),
            Wrong(
                (3, 4.5),
                "so much for a tenth? The line tips by the step over the distance of the two middles, and "
                "these are nearly three inches apart.",
                when=lambda ends: ends[0] > _per_tenth(),
            ),
        ),
        (
            "Lower by a tenth of an inch, the line through the two middles tips a little. They are about 2.8 "
            "inches apart.",
            "A tenth over 2.8 is a slope of one in 28. A slope of one in 57 is one degree.",
        ),
        lambda: f"A tenth of an inch lower is {_per_tenth():.1f} degrees of launch angle more.",
        "that is why the same swing gives a grounder, a liner and a fly ball: a few tenths of an inch.",
        minutes=3,
    ),
    Exercise(
        "06.by-hand",
        "write",
        Code(goes, _sources, tolerance=0.03, surely=_goes_surely),
        (
            Wrong(_what_is_left, "that is the share that is left. Asked is what went."),
            Wrong(
                _by_spreads,
                "you compared standard deviations. Variances add up, standard deviations do not.",
            ),
            Wrong(
                _one_swing_held,
                "errors[held] is one swing, a row. Hold a source still in all of them, a column.",
            ),
            Wrong(_not_a_share, "that is how much variance went. Out of how much?"),
            Wrong(
                _part_of_the_sum,
                "that is its part of the sum of the standard deviations. Small ones hardly count in a sum "
                "of squares.",
            ),
        ),
        (
            "A row's sum is a launch angle: errors.sum(axis=1). Measure .var() of it before and after.",
            "errors[:, held] = 0 holds it still. The share that went is 1 less the second variance over the "
            "first.",
        ),
        "Sum the rows, take the variance, put the column at 0, take it again; one less their ratio.",
        "the largest of the errors takes far more than its part, since squares add up. Work on that one "
        "first.",
        minutes=7,
    ),
    Exercise(
        "06.out-of-what",
        "denominator",
        Choice(
            "b",
            {
                "a": "per ball in the air",
                "b": "per swing",
                "c": "per ball in play",
                "d": "per turn at bat",
            },
        ),
        (
            Wrong("a", "a ball in the air has already happened. The whiffs and grounders are gone."),
            Wrong("c", "then the swings that miss cost nothing, and the steep swing misses most."),
            Wrong("d", "a turn at bat has one swing, or four, or none. She asked about each swing."),
        ),
        (
            "What does the swing that is being taught do to every try, also to those that miss?",
            "The word after 'each time he' goes below the line.",
        ),
        "'Each time he swings' asks for home runs per swing, the misses included.",
        "a swing is judged on all its swings. Lesson 1 again.",
        minutes=2,
    ),
    Exercise(
        "06.quarter-inch",
        "compute",
        Number(lambda: _per_quarter() / _per_degree(), tolerance=0.3),
        (
            Wrong(
                _per_quarter,
                "that takes one degree of swing for one degree of launch. The ball does not follow the "
                "swing in full: see what one degree of swing gives.",
            ),
            Wrong(
                lambda: _per_quarter() * _per_degree(),
                "multiplied; you want to know how many times the small step goes into the big one.",
            ),
            Wrong(
                lambda: _per_degree() / _per_quarter(),
                "upside down: the big step over the small one is asked.",
            ),
        ),
        (
            "First the launch angle that a quarter of an inch brings, then what one degree of swing brings.",
            "Divide the first by the second.",
        ),
        lambda: (
            f"A quarter of an inch brings {_per_quarter():.1f} degrees of launch, one degree of swing brings "
            f"{_per_degree():.2f}; so it takes {_per_quarter() / _per_degree():.1f} degrees of swing."
        ),
        "about seven degrees: another swing altogether does no more than a quarter of an inch does.",
        minutes=5,
    ),
    Exercise(
        "06.explained",
        "complete",
        Code(explained, _balls, tolerance=1e-6),
        (
            Wrong(_not_squared, "those are correlations. The share explained is the correlation, squared."),
            Wrong(_with_fouls, "the fouls are still in it. Asked is about fair balls."),
            Wrong(_only_fouls, "you kept the fouls and dropped the fair balls."),
            Wrong(
                _place_twice,
                "the second is to explain the launch angle, too; you held the swing's angle against the "
                "place.",
            ),
        ),
        (
            'table[table["fair"]] keeps the rows where fair is true.',
            'The third gap is a whole line of the same form as the one above it, with "attack"; the last is '
            "an exponent.",
        ),
        "Keep the fair balls, take the correlation of the launch angle with each, and square both.",
        "two numbers from one table, and the quarrel between the swing and the spot can be settled.",
        minutes=5,
    ),
    Exercise(
        "06.times-as-many",
        "compute",
        Number(lambda: _home_runs(16) / _home_runs(6), tolerance=0.06),
        (
            Wrong(
                lambda: _per_ball_in_play(16) / _per_ball_in_play(6),
                "that is per ball in play: the steep swing's many misses are gone.",
            ),
            Wrong(
                lambda: _home_runs(6) / _home_runs(16), "upside down: the steep swing goes above the line."
            ),
            Wrong(
                lambda: _home_runs(16) - _home_runs(6), "that is the difference; 'times as many' is a ratio."
            ),
        ),
        (
            'The shares are per swing: margins[16].shares["home run"], and the other one.',
            "Sixteen degrees above the line, six below.",
        ),
        lambda: (
            f"{_home_runs(16):.3f} of the swings at 16 degrees and {_home_runs(6):.3f} of those at 6 go out: "
            f"{_home_runs(16) / _home_runs(6):.2f} times as many."
        ),
        "and it misses more often, too. Which is better depends on what a home run brings and a whiff costs.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "06.steeper-than-the-rest",
        "fault",
        Choice(
            "b",
            {
                "a": "a correlation of 0.6 leaves most of the launch angle unexplained, so the swing hardly "
                "matters",
                "b": "it compares hitters with one another, and the advice is for one hitter who changes his "
                "swing",
                "c": "an average launch angle mixes grounders with pop-ups, so such averages tell nothing",
                "d": "200 hitters are too few for a correlation of 0.6 to be told from luck",
            },
        ),
        (
            Wrong(
                "a",
                "between those hitters it explains a third, which is a good deal. Ask between whom, first.",
            ),
            Wrong(
                "c", "an average over hundreds of balls tells something of its hitter. Ask who was compared."
            ),
            Wrong("d", "luck gives 200 dots a correlation of about 0.07. This one is far beyond it."),
        ),
        (
            "Each dot of that study is one hitter. What differs between two hitters besides the swing?",
            "Hitters who swing up may also choose other pitches and aim elsewhere.",
        ),
        "The study is between hitters. The advice is about one hitter who changes. Two hitters differ "
        "in what "
        "they swing at, where they aim and how hard they swing, and one hitter who swings up changes his "
        "timing's margin as well.",
        "between people and within a person are two questions. Watch which one the numbers answer.",
        minutes=4,
    ),
    Exercise(
        "06.bus-and-walk",
        "transfer",
        Number(2**2 / (8**2 + 2**2), tolerance=0.0015, share=True),
        (
            Wrong(2 / 10, "spreads do not add, their squares do: square both first."),
            Wrong(
                2 / 8,
                "that sets one spread against the other. The whole is wanted below the line, in squares.",
            ),
            Wrong(4 / 64, "below the line goes the whole, not only the bus."),
            Wrong(64 / 68, "that is the bus."),
        ),
        (
            "Square the two spreads; the squares add up.",
            "4 over the sum of 64 and 4.",
        ),
        "The squares are 4 and 64; the walk's share is 4 over 68, about .059.",
        "whoever wants to be punctual should look at the bus, not at her shoes.",
        minutes=4,
    ),
    Exercise(
        "06.within-the-noise",
        "fault",
        Choice(
            "a",
            {
                "a": "within it: luck alone moves such a difference by about six degrees",
                "b": "beyond it: 40 balls a side make an average that luck hardly moves",
                "c": "beyond it: five degrees is more than a swing's angle brings in one ball",
                "d": "within it: five degrees is less than the 27 by which single balls differ",
            },
        ),
        (
            Wrong("b", "27 over the square root of 40 is more than four degrees, and both averages have it."),
            Wrong("c", "how large an effect could be does not say how much luck there is."),
            Wrong(
                "d",
                "the averages are steadier than single balls; 27 is not what to hold the difference against.",
            ),
        ),
        (
            "How much does luck move the average of 40 balls? Of which there are two.",
            "Each by 27 over the square root of 40, the difference by the root of 2 times that.",
        ),
        lambda: (
            f"Luck moves each average by 27 over the root of 40, {27 / 40**0.5:.1f} degrees, and their "
            f"difference by {27 * (2 / 40) ** 0.5:.1f}. The five that were seen are less, and twice as much "
            "would be within the noise."
        ),
        "it may have worked. Eighty balls cannot tell; some 500 a side could.",
        minutes=4,
    ),
    Exercise(
        "06.for-air",
        "say",
        Sentence(
            (
                Point("what", "where a ball goes: its launch angle, how high, how it came off", _WHAT),
                Point("by what", "the place where bat and ball meet", _PLACE),
                Point("against what", "how steeply the bat climbs", _CLIMB),
                Point("among what", "swings of one hitter, or one swing and the next", _WITHIN),
                Point("how sure", "that it comes from a model, or was not measured on him", _MODEL),
            ),
            "From one swing of a hitter to his next, a quarter of an inch lower on the ball does as much to "
            "its launch angle as seven degrees more swing, in a model of bat and ball.",
            frames=_FRAMES,
            figures=(*INCHES, DEGREES, *PER_QUARTER, *SHARES),
            too_much=_TOO_MUCH,
            good=_GOOD,
            bad=_BAD,
        ),
        (),
        (
            "Begin with what differed: the place on the ball. Then what it is held against.",
            "For instance: from one swing to his next, so much lower on the ball does as much as so much "
            "more swing, in a model.",
        ),
        "What, by what, against what, among whose swings, and where the number comes from; nothing about "
        "other hitters, and no advice.",
        "short, and nobody who measures it later will have to laugh.",
        minutes=4,
    ),
)


def _again_share(rng: np.random.Generator) -> tuple[str, Exercise]:
    large, small = ((6, 2), (8, 3), (5, 2), (9, 4), (7, 4), (5, 3), (12, 5))[int(rng.integers(7))]
    whole, first, second, unit = (
        ("A delivery takes", "a drive", "a walk to the door", "minutes"),
        ("A dart's height on the board comes from", "the moment of release", "the aim", "centimetres"),
        ("A launch angle comes from", "the place of contact", "the climb of the bat", "degrees"),
    )[int(rng.integers(3))]
    squares = large**2 + small**2
    share = small**2 / squares
    return (
        f"{whole} two parts: {first}, with a standard deviation of {large} {unit}, and {second}, with one of "
        f"{small}. They have nothing to do with each other. Which share of the variance goes when the second "
        "is held still? A share from 0 to 1, three decimals.",
        Exercise(
            "06.again-held-still",
            "compute",
            Number(share, tolerance=0.004, share=True),
            (
                Wrong(small / (large + small), "standard deviations do not add up, their squares do."),
                Wrong(1 - share, "that is what is left. Asked is what goes."),
                Wrong(small**2 / large**2, "below the line stands the whole, not the other part."),
            ),
            ("Square both.", f"{small**2} over the sum of {large**2} and {small**2}."),
            f"{small**2} over {squares} is {share:.3f}.",
            "squares add up, so the smaller part counts for less than it seems.",
            minutes=1,
        ),
    )


_CHANGES = (
    (
        150,
        "runners",
        "who take long strides",
        "are faster",
        "lengthen their strides",
        "A runner lengthens her strides",
    ),
    (
        200,
        "hitters",
        "who swing steeply",
        "hit higher balls",
        "swing steeper",
        "A hitter comes to swing steeper",
    ),
    (
        120,
        "pupils",
        "who sleep long",
        "do better in tests",
        "sleep an hour longer",
        "A pupil sleeps an hour longer",
    ),
    (90, "shops", "that open long", "sell more", "open an hour longer", "A shop opens an hour longer"),
)


def _again_within(rng: np.random.Generator) -> tuple[str, Exercise]:
    many, who, does, result, change, one = _CHANGES[int(rng.integers(len(_CHANGES)))]
    right = "bc"[int(rng.integers(2))]
    study = {
        "b": f"Of {many} {who} half, drawn by lot, had to {change} for a month. They now",
        "c": f"Of {many} {who}, those {does}",
    }[right]
    why = {
        "a": "a mean is one of many. What becomes of each single one lies above it or below.",
        "b": "nobody in the study changed anything, and those differ from the others in more than this.",
        "c": "here half of them did change, and a lot said which. What else sets the two halves apart?",
        "d": f"luck would seldom do that, it says, and {many} are many. Ask who was compared with whom.",
    }
    return (
        f"{study} {result} than the others, on average; luck alone seldom makes as large a difference. "
        f"{one}. "
        "What does the study say about what comes of it?",
        Exercise(
            "06.again-one-or-many",
            "fault",
            Choice(
                right,
                {
                    "a": "just the difference that it found, and no less",
                    "b": "about the difference that it found, on average",
                    "c": "little: it compares some with others, and nobody changed",
                    "d": f"nothing: of {many} one half is always ahead by luck",
                },
            ),
            others(why, right),
            ("Did anybody in the study change anything?", "Between many and within one are two questions."),
            "Who compares many with one another learns little of what one gains who changes; who lets a lot "
            "decide who changes learns it, on average.",
            "between many and within one are two questions.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "06",
    "Strike under the middle",
    _verdict,
    "For one hitter at one pitch the place of contact tells most of the launch angle and the climb of his "
    "bat far less, in this model and for all scatter that was tried; between hitters it is open, and the "
    "climb decides how much error is forgiven.",
    EXERCISES,
    (Again("06.again-held-still", _again_share), Again("06.again-one-or-many", _again_within)),
)
