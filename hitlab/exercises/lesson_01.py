"""Lesson 1, count every swing: what is asked, what is right, and what people mix up."""

from __future__ import annotations

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
from hitlab.exercises.shared import season
from hitlab.pitches.schema import OUTCOMES, SWING_OUTCOMES, TAKE_OUTCOMES
from hitlab.wording import percent, rate_text

__all__ = ["LESSON", "MINIMUM", "TWO_TURNS"]

MINIMUM = 150
"""Swings that a hitter needs to be on the lesson's lists."""

THE_HITTER = "Hana Falandra"
THE_OTHER = "Nadia Izezno"
THE_SECOND = "Zoë Quarmoor"
HITTERS, PLACE = 103, 8  # on the list, and where the hitter stands per swing
HARD, SWINGS, IN_PLAY, PER_SWING, PER_IN_PLAY = 96, 553, 207, (0.174, 0.175), 0.468  # the hitter's
HARD_OF_OTHER, SWINGS_OF_OTHER, PER_SWING_OF_OTHER = 108, 547, 0.197

TWO_TURNS = pd.DataFrame(
    {
        "hitter": "Odile Farrowmere",
        "outcome": ["whiff", "ball", "foul tip", "foul", "in play", "whiff", "ball", "foul", "in play"],
        "bunt": [True, *[False] * 8],
        "check_swing": [False, True, False, False, False, True, True, False, False],
        "strikes": [0, 1, 1, 2, 2, 0, 1, 1, 2],
    }
)
"""Two turns at bat, one row a pitch."""

_NOT = r"(?:\bnot|n't|\bno longer|\bnever)(?: \w+){0,6}"  # a denial, and what is denied not far behind

_BUT_TIPS = [word for word in SWING_OUTCOMES if word != "foul tip"]
_LET_GO = [word for word in TAKE_OUTCOMES if word != "hit by pitch"]
_NO_SWING = [word for word in OUTCOMES if word not in SWING_OUTCOMES]


@cache
def _table() -> pd.DataFrame:
    return hitlab.counting.denominators(season(), "hard", minimum=MINIMUM).table().set_index("hitter")


def _row(hitter: str) -> dict[str, Any]:
    return {str(name): value for name, value in _table().loc[hitter].items()}


def _rate(hitter: str, per: str) -> float:
    return float(_row(hitter)[f"per_{per}"])


def _count(hitter: str, name: str) -> int:
    return int(_row(hitter)[name])


def _in_play_per_swing(hitter: str) -> float:
    counted = season().table().set_index("hitter")  # balls in play that were not measured, too
    both = counted.loc[hitter, ["in_play", "swings"]].to_numpy(dtype=float)
    return float(both[0] / both[1])


def _in_both_tens() -> float:
    table = _table()
    return float(np.sum((table["rank_in_play"] <= 10) & (table["rank_swings"] <= 10)))


def _verdict() -> str:
    return hitlab.check_leads(season(), THE_HITTER, about="record", minimum=MINIMUM).verdict


def swings_in(pitches):  # type: ignore[no-untyped-def]
    tried = pitches["outcome"].isin(["whiff", "foul", "foul tip", "in play"])
    meant = ~pitches["bunt"]
    return (tried & meant).sum()


def _by_the_ledger(pitches: pd.DataFrame) -> int:
    return int(hitlab.counting.swing_ledger(pitches)["swing"].sum())


def _some_pitches(rng: np.random.Generator) -> tuple[pd.DataFrame]:
    outcomes = rng.permutation([*SWING_OUTCOMES, *_NO_SWING, *rng.choice([*SWING_OUTCOMES, "ball"], 20)])
    pitches = pd.DataFrame({"outcome": outcomes})
    many = len(pitches)
    pitches["bunt"] = pitches["outcome"].isin(_BUT_TIPS) & (rng.random(many) < 0.3)
    pitches["check_swing"] = (
        pitches["outcome"].isin(["whiff", *_LET_GO]) & (rng.random(many) < 0.5) & ~pitches["bunt"]
    )
    more = pd.DataFrame(
        {
            "outcome": ["foul", "ball", "whiff"],
            "bunt": [True, False, False],
            "check_swing": [False, True, True],
        }
    )
    pitches = pd.concat([pitches, more])
    return (pitches.sample(frac=1, random_state=int(rng.integers(2**31))).reset_index(drop=True),)


def _with_bunts(pitches: pd.DataFrame) -> int:
    return int(pitches["outcome"].isin(SWING_OUTCOMES).sum())


def _without_foul_tips(pitches: pd.DataFrame) -> int:
    return int((pitches["outcome"].isin(_BUT_TIPS) & ~pitches["bunt"]).sum())


def _without_check_swings(pitches: pd.DataFrame) -> int:
    tried = pitches["outcome"].isin(SWING_OUTCOMES) & ~pitches["bunt"]
    return int((tried & ~pitches["check_swing"]).sum())


def _with_held_ones(pitches: pd.DataFrame) -> int:
    tried = pitches["outcome"].isin(SWING_OUTCOMES) | pitches["check_swing"]
    return int((tried & ~pitches["bunt"]).sum())


def _not_let_go(pitches: pd.DataFrame) -> int:
    let_go = pitches["outcome"].isin(_LET_GO)
    return int((~let_go & ~pitches["bunt"]).sum())


def _every_pitch(pitches: pd.DataFrame) -> int:
    return len(pitches)


def places_lost(table):  # type: ignore[no-untyped-def]
    per_ball = table["hard"] / table["in_play"]
    per_swing = table["hard"] / table["swings"]
    before = per_ball.rank(ascending=False)
    after = per_swing.rank(ascending=False)
    return after - before


def _some_hitters(rng: np.random.Generator) -> tuple[pd.DataFrame]:
    swings = rng.integers(150, 600, 8)
    in_play = rng.binomial(swings, rng.uniform(0.25, 0.5, 8))
    return (
        pd.DataFrame(
            {
                "swings": swings,
                "in_play": in_play,
                "hard": rng.binomial(in_play, rng.uniform(0.25, 0.5, 8)),
            }
        ),
    )


def _lists_swapped(table: pd.DataFrame) -> pd.Series:
    per_ball, per_swing = table["hard"] / table["in_play"], table["hard"] / table["swings"]
    return per_ball.rank(ascending=False) - per_swing.rank(ascending=False)


def _from_the_bottom(table: pd.DataFrame) -> pd.Series:
    per_ball, per_swing = table["hard"] / table["in_play"], table["hard"] / table["swings"]
    return per_swing.rank(ascending=True) - per_ball.rank(ascending=False)


def _one_list_twice(table: pd.DataFrame) -> pd.Series:
    return 0.0 * table["hard"]


def _for_air() -> str:
    return (
        f"Counting every swing, {THE_HITTER} does not lead in hard-hit balls: among the {len(_table())} "
        f"hitters with {MINIMUM} swings {THE_OTHER}, for one, is ahead of her."
    )


_ABOUT_SEVENTH = (
    r"\b(?:(?:about|around|roughly|at best) (?:number )?(?:seventh|7th|seven)|seventh or (?:so|eighth))\b"
)
"""The package has her seventh at best, and the list eighth: two balls of hers were not measured."""

_HER = r"\b(?:hana falandra|hana|(?<!hana )falandra|she)\b"
_NOT_DENIED = r"(?:(?!\bnot\b|n't|\bno longer\b|\bnever\b|\bhardly\b|\bnowhere\b)[^,;:.])"
_LEADS = (
    r"(?<!'s )(?<!her )\b(?:leads?|led|tops?|heads|outranks|outhits|beats|is (?:the )?(?:very )?(?:first|"
    r"leader|number one|"
    r"no\. ?1|on top|"
    r"best)|ranks (?:first|highest)|comes (?:first|out on top)|stands (?:first|on top))\b"
)
_OTHERS = r"(?:nadia|izezno|any\w*|every\w*|all|each|the (?:other|rest)|most)"
_AGAIN = (
    # that she leads, where no ball in play is spoken of before it or behind
    rf"^(?:(?!\bin play\b|\bfair\b).)*?{_HER}{_NOT_DENIED}{{0,20}}?{_LEADS}"
    r"(?! only (?:if|when|where|with) (?:misses|whiffs|fouls))"
    r"(?! (?:ten|five|three|eight|10|8))(?![^,;:.]{0,50}\b(?:in play|fair)\b)",
    rf"\b(?:per|every|each|all(?: \w+)?) swings?\b(?:(?!\bbut\b|\byet\b|\bin play\b|\bwhile\b)[^;:.]){{0,30}}"
    rf"{_HER}{_NOT_DENIED}{{0,20}}?{_LEADS}(?! (?:ten|10))(?![^,;:.]{{0,50}}\b(?:in play|fair)\b)",
    rf"\bnot (?:just|only) (?:the )?(?:balls|ones) (?:(?:that are|put|hit) )?(?:in play|fair),? "
    rf"{_HER}{_NOT_DENIED}{{0,20}}?{_LEADS}",
    r"\b(?:not|n't|no longer|never) (?:\w+ ){1,3}but (?:the )?(?:first|leader|on top|best|top|number one)\b",
    rf"{_HER}{_NOT_DENIED}{{0,40}}\b(?:ahead of|in front of|above|before) {_OTHERS}\b",
    rf"(?<!than ){_HER}(?:(?!\bin play\b){_NOT_DENIED}){{0,60}}\b(?:more|better|harder|higher|oftener)\b"
    rf"[^,;:.]{{0,40}}\bthan {_OTHERS}\b",
    rf"\b(?:nadia|izezno)\b{_NOT_DENIED}{{0,40}}\b(?:behind|below|trails?|after|second to|"
    rf"less (?:often )?than|"
    r"fewer (?:\w+ )?than) (?:her|hana|falandra)\b",
    rf"\b(?:seven|7|some|others?|several|a few)\b{_NOT_DENIED}{{0,40}}\b(?:less often|fewer|lower|worse|"
    rf"behind her|"
    r"behind hana|below her)\b",
    r"\b(?:nobody|no one|none|no other)\b[^,;:.]{0,40}\b(?:ahead of|above|before|better than|beats?|"
    r"outdoes)\b",
    r"\bonly (?:nadia|izezno|one|somebody|someone)\b[^,;:.]{0,40}\b(?:ahead|above|better|before|more)\b",
    r"(?<!nadia is )(?<!izezno is )\b(?:first|on top|number one|best)\b (?:in hard[- ]hit\w*(?: balls)? )?"
    r"(?:per|for every|counting every|of all|over all) swings?\b",
    r"\b(?:eighth|8th)\b[^,;:.]{0,25}\bin play\b",
    r"\b(?:eighth|8th)[ -](?:\w+ )?(?:worst|lowest|from the (?:bottom|end)|from below|last)\b|"
    r"\b(?:dead )?last (?:of|among)\b",
)
_TURNED = (
    *(TooMuch(pattern, patterns.TURNED) for pattern in _AGAIN),
    TooMuch(
        rf"(?!{_ABOUT_SEVENTH})\b(?:(?<!about )(?<!around )(?<!roughly )(?<!at best )(?:seventh|"
        rf"7th)(?! or (?:so|eighth))|second|2nd|runner-up)\b|"
        r"(?<!at best )\b(?:number|no\.?|place|ranks?|ranked|#) ?(?:seven|7)\b",
        "that is not her place: count those who are ahead of her, and then herself",
    ),
    TooMuch(rf"{_NOT} (?:first|lead|leads|leader|best) (?:\w+ ){{0,5}}per ball in play", patterns.TURNED),
    TooMuch(
        r"(?<!number )(?<!no\. )(?<!place )(?<!ranks )(?<!ranked )(?<!is )\b(?:eight|8) (?:\w+ ){0,4}"
        r"(?:ahead|beat|better|before|more often|hit|hits|do|did|have|are)\b",
        "that is one too many: she is the eighth herself",
    ),
    TooMuch(
        r"(?<!nadia and )(?<!izezno and )(?<!nadia, and )\b(?:six|6)\b",
        "those are too few: count all who are ahead of her",
    ),
)

_FRAMES = (
    *frames.record(96, 553, "swings", frames.HARD),
    *frames.among(HITTERS, MINIMUM),
    *frames.ahead(
        r"<b>|(?:7|several|others?|some|a few)(?: (?:other|others|of|the|these|our|103|hitters|"
        r"regulars|them|on|"
        r"list|with|at|least|150|swings|or|more))*",
        "<a>|she|her",
        r"hit hits hard balls contact per\sswing it",
        "hard|contact",
    ),
    r"<a> (?:is|'s|was) not (?:in )?(?:the )?(?:first|top|on top|at the top)(?: (?:of|in|on|the|"
    r"list|hard|hits|"
    r"hit|balls|among|103|hitters))*",
    r"(?:and |, )?not (?:just|only) (?:the )?(?:balls|ones)(?: that (?:were|are))?(?: put| hit)? "
    r"(?:in play|fair)",
    r"(?:about|roughly|only|just|maybe|or|around|at best) (?:number )?(?:7th|8th|7|8)(?: or (?:so|"
    r"8th))?(?= (?:,|or|in|"
    r"when|if|among|of|on|per))",
    r"(?:\.174|17\.4%|17%)(?: of (?:her|all her) swings)?",
    r"(?:count|counting|counted|look at|out of|of|on|over|per|in|with)(?: (?:all|each|every|of|her|the|"
    r"single|one))* swings?"
    r"(?: (?:she|that she)(?: (?:takes|took|swings|has taken))?)?",
    r"once (?:you )?(?:count )?every swing(?: is)?(?: counted| counts)?",
    r"<a>(?: [a-z]+ (?:misses|fouls))? (?:is|'s|stands|ranks|sits|comes|comes in|comes out|drops|falls|"
    r"slips|was)(?: in| to| only| just| at| no better than)*"
    r" (?:8th|number 8)(?: place| best)?",
    r"(?<!<b> )(?:she|and|,|swings|that is|puts her|makes her|only|is|ranks?|rank|for|place|sits|stands|"
    r"not first but)(?: in| only| just| to| at)* (?:8th|number 8)"
    r"(?: place| best| hardest)?(?= (?:,|in|of|among|once|when|out|on|and|best|when|per|place))",
    r"<a> (?:is not|does not|may not|did not|'s not|would not) (?:the )?(?:first|lead|leader|on top|at "
    r"the top|number one|the leader|the best|the one who leads)(?: in| the)?",
    r"<a> , with|<a> 's hard hit rate|(?:it is|<b> ,|<b>) not <a>|no leader|(?:, )?not first(?: ,)?(?: "
    r"but)?|rather than <a>",
    r"<b>(?: ,? ?(?:for one|for example|with 108 of 547))?(?: ,)? (?:is|stands|sits|ranks|comes|was|hits?|"
    r"does)(?: it| the most balls)?"
    r"(?: hard| hits?)* (?:ahead|better|more often|in front|ahead of (?:her|<a>)|above (?:her|<a>)|first)",
    r"<b> (?:leads|is first|tops|is ahead|stands first)(?: of| among| the| all)*(?: regulars)?",
    r"<b>(?: and (?:6|six) others)?(?: (?:is|stands|sits))? ahead of <a>|<a> (?:is|stands|sits|comes|"
    r"ranks|trails)(?: behind| only behind)? (?:<b>|7)",
    r"(?:7|several|others|some)(?: (?:other|of|the|these|our|103|hitters|regulars|them|on|list|"
    r"with|at|least|150|swings|or|more|is|are|stand|sit|rank|,))* "
    r"(?:ahead(?: of (?:her|<a>))?|do better|do it more often|did it more often|did better|better|beat "
    r"(?:her|<a>)|in front(?: of (?:her|<a>))?|hit (?:it|them) hard more often)",
    r"(?:more|less) often than (?:she|<a>)(?: does| did)?|who hits (?:the most balls hard|it hard most "
    r"often|most often)",
    r"per ball in play|per balls? put in play",
    r"if you (?:count|divide by|look at)(?: (?:all|every|of|her|the|single))* swings?",
    r"(?:8th|8) (?:of|among|out of)(?: the| our)? 103|out of 103|(?:of|among) 103",
    r"(?:,|<a> ,)? the leader per ball in play|<a> (?:may|does|might) lead per ball in play|(?:<a> 's |"
    r"her )lead in hard hits (?:vanishes|is gone)",
    r"she (?:hits|hit) it hard less often than (?:7|several)(?: other)?(?: regulars| hitters)?|better "
    r"than <a> at hitting it hard",
    r"comes in (?:8th|at number 8)|only the 8th hardest hitter|on a per swing basis",
    r"(?:when|if|once) (?:every|each) swing counts|(?:when|once|if) you divide her hard hit balls by "
    r"(?:all|every one)(?: of)? "
    r"her swings|"
    r"(?:misses and fouls|fouls and misses)(?= too)|too(?= , <a>)|each time she swung",
    r"<a> 's (?:share|rate|hard contact|number)(?: of hard hit balls)?(?: so far)? (?:ranks|is|comes|stands)"
    r"(?: about| only| in)? 8th",
    rf"<b> and (?:several|some|six|6)(?: of the)? others among the {HITTERS}|"
    r"(?:hit|have hit|hits) a (?:larger|bigger|higher) share of all (?:their|her) swings hard(?: this "
    r"season)? than <a>"
    r"(?: (?:has|does|did))?",
    rf"puts her 8th of the {HITTERS}|behind <b>(?= ,$)|"
    rf"<b> , not <a> , has the most hard hit balls per swing|"
    r"<a> is first only (?:if|when) (?:misses and fouls|fouls and misses) are (?:thrown|left) out",
    r"(?<=, )7 hit a (?:larger|bigger|higher) share of all their swings hard than <a>(?: (?:has|does|did))?",
    r"(?<=per swing , )not just per ball in play",
    rf"of everybody(?= who has swung at least {MINIMUM})",
    r"<b> (?:hits|has hit|hit) (?:it|the ball|balls) hard (?:on|in) (?:more|a (?:larger|higher|bigger) "
    r"share) of her swings than "
    r"<a>|<b> has (?:hit )?more hard (?:hit )?balls per swing than <a>",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "01.both-lists",
        "predict",
        Bounds(_in_both_tens, widest=3),
        (
            Wrong(
                (9, 10),
                "that would mean that both lists tell nearly the same story. Think of a hitter who misses "
                "often and hits the rest hard: one list never sees the misses.",
                when=lambda ends: ends[0] >= 8,
            ),
            Wrong(
                (0, 1),
                "that would mean that the two lists have nothing to do with each other. But the same hard "
                "balls stand on top of both fractions.",
                when=lambda ends: ends[1] <= 2,
            ),
        ),
        (
            "Both lists have the same hard balls on top. Only what they are divided by differs.",
            "Somewhat more than half of the names are shared.",
        ),
        "Count the hitters whose rank is 10 or better in both columns of the table.",
        "the lists share some names, not all. Who is on top depends on what you divide by.",
        minutes=3,
    ),
    Exercise(
        "01.count-the-swings",
        "compute",
        Number(lambda: float(hitlab.tally(TWO_TURNS).column("swings")[0]), tolerance=0),
        (
            Wrong(2, "that is the balls in play. Fouls and foul tips are swings too."),
            Wrong(
                5,
                "one short: a foul tip is a swing, and so is a check swing that went too far. Both counted?",
            ),
            Wrong(
                7,
                "one too many: a bunt attempt is no swing, nor is a check swing held in time. Which was it?",
            ),
            Wrong(4, "two short: foul tips are swings, and a check swing that went too far is one."),
            Wrong(8, "two too many: the held check swings were stopped in time, or a bunt slipped in."),
            Wrong(
                9,
                "that is every pitch. A pitch that is let go is no swing, and a held check swing is let go.",
            ),
        ),
        (
            "Go through the pitches one by one and ask: did the bat go all the way, and was it no bunt?",
            "The held check swings and the bunt do not count. Fouls, the foul tip, the check swing that went "
            "and the balls in play do.",
        ),
        "Foul tip, foul, in play; check swing gone, foul, in play: six swings. The missed bunt has its own "
        "count, and the two held check swings are balls.",
        "now you count as the ledger does: whiffs, fouls, foul tips, balls in play, without bunts.",
        minutes=3,
    ),
    Exercise(
        "01.swings-in",
        "write",
        Code(swings_in, _some_pitches, surely=_by_the_ledger),
        (
            Wrong(_with_bunts, "the bunt attempts are still among them."),
            Wrong(_without_foul_tips, "foul tips are missing: the bat came round, and the ball was brushed."),
            Wrong(
                _without_check_swings,
                "you took out every check swing, and one that went too far is a swing like any other.",
            ),
            Wrong(_with_held_ones, "held check swings are among them, and those were stopped in time."),
            Wrong(
                _not_let_go,
                "you took whatever is neither a ball nor a called strike. A hit by pitch, an automatic call "
                "and a call of no pitch come of no swing either.",
            ),
            Wrong(_every_pitch, "that is every pitch, let go or not."),
        ),
        (
            "Four outcomes come of a swing. Then take away the rows in which the bat was held out.",
            'tried = pitches["outcome"].isin([...]) with the four; meant = ~pitches["bunt"]; sum both.',
        ),
        "Whiffs, fouls, foul tips and balls in play, of which those that were bunts are left out.",
        "three lines, and any season's swings are counted by one rule.",
        minutes=5,
    ),
    Exercise(
        "01.which-denominator",
        "denominator",
        Choice(
            "b",
            {
                "a": "balls in play",
                "b": "swings",
                "c": "plate appearances (turns at bat)",
                "d": "pitches",
            },
        ),
        (
            Wrong("a", "then a swing that misses costs her nothing, and this pitcher lives on misses."),
            Wrong("c", "that mixes in how often she swings at all. The question begins when the bat starts."),
            Wrong("d", "most pitches she lets go by. The question begins when the bat starts."),
        ),
        (
            "Read the question again and underline the word after 'each time she'.",
            "Whatever follows 'each time' goes below the line.",
        ),
        "The question says 'each time she swings'. What comes after 'each time' is the denominator.",
        "what follows 'each time' in a question goes below the line.",
        minutes=2,
    ),
    Exercise(
        "01.hard-per-swing",
        "compute",
        Number(lambda: _rate(THE_OTHER, "swings"), tolerance=0.0006, share=True),
        (
            Wrong(
                lambda: _rate(THE_OTHER, "in_play"),
                "that is per ball in play: her whiffs and fouls are missing below the line.",
            ),
            Wrong(
                lambda: _rate(THE_OTHER, "contact"),
                "that is per ball that she touched: her whiffs are missing below the line.",
            ),
            Wrong(
                lambda: _rate(THE_OTHER, "pitches"),
                "that is per pitch: pitches she let go are below the line.",
            ),
            Wrong(lambda: _rate(THE_OTHER, "plate_appearances"), "that is per plate appearance."),
            Wrong(
                lambda: 1 / _rate(THE_OTHER, "swings"),
                "upside down: that is how many swings she needs for one hard ball.",
            ),
        ),
        (
            "Hard balls above the line, swings below it. Both are in her row of the table.",
            'Try row["hard"] / row["swings"].',
        ),
        lambda: (
            f"Her row says {_count(THE_OTHER, 'hard')} hard balls and {_count(THE_OTHER, 'swings')} swings; "
            f"the first over the second is {rate_text(_rate(THE_OTHER, 'swings'))}."
        ),
        "about one swing in five. That is what a seat behind the plate sees.",
        minutes=3,
        core=False,
    ),
    Exercise(
        "01.of-the-time",
        "fault",
        Choice(
            "c",
            {
                "a": "hard balls that were caught are counted, though they did her no good",
                "b": "her rate may be luck alone, with fewer swings than the other regulars",
                "c": "'of the time' sounds like every swing, but whiffs and fouls are left out",
                "d": "a list should go by how many hard balls there were, not by their share",
            },
        ),
        (
            Wrong("a", "whether it was caught is another question. Hard is about the bat, not the glove."),
            Wrong(
                "b",
                "she has more than 300 swings. Some luck is in it, but the sentence errs without any luck.",
            ),
            Wrong("d", "then whoever plays most leads. A share is what was promised; but a share of what?"),
        ),
        (
            "Look her up in the table and find the column in which her number stands.",
            "Ask: 46 % of what?",
        ),
        lambda: (
            f"The {percent(_rate(THE_SECOND, 'in_play'))} is per ball in play. Per swing she is at "
            f"{rate_text(_rate(THE_SECOND, 'swings'))}. 'Of the time' is a denominator in disguise."
        ),
        "whenever you hear 'of the time', ask: of which time?",
        minutes=3,
    ),
    Exercise(
        "01.second-and-third",
        "fault",
        Choice(
            "a",
            {
                "a": "hardly anything: one more hard ball of Greta's, and they change places",
                "b": "that Roksana is the better one, if only by a little: a rate is a rate",
                "c": "that Roksana is the better one, as she did it over more swings",
                "d": "that Greta is the better one, as she needed fewer swings for it",
            },
        ),
        (
            Wrong("b", "each rate is right. But how many balls make the difference of the two?"),
            Wrong("c", "more swings make her rate surer, not higher. How many balls lie between the two?"),
            Wrong("d", "fewer swings make a rate less sure, not better. How many balls lie between them?"),
        ),
        (
            "Give Greta one hard ball more and divide again.",
            "38 of 202, beside 46 of 250.",
        ),
        f"With one more, Greta has 38 of 202, {rate_text(38 / 202)}, and is ahead of 46 of 250, "
        f"{rate_text(46 / 250)}. Two places on a list, and one ball between them.",
        "before two places on a list are compared, count the balls that lie between them.",
        minutes=2,
    ),
    Exercise(
        "01.who-falls",
        "complete",
        Code(places_lost, _some_hitters),
        (
            Wrong(_lists_swapped, "the other way round: who falls has a larger number on the second list."),
            Wrong(
                _from_the_bottom,
                "the second list is numbered from its lowest rate. The best has to be number 1 on both.",
            ),
            Wrong(_one_list_twice, "nobody loses a place: both lists are divided by the same."),
        ),
        (
            "Each list has its own denominator; both are numbered from the highest rate.",
            "The gaps: the column in_play, the column swings, and False.",
        ),
        "Two rates of the same hard balls, two lists numbered from the top, and the second place less the "
        "first.",
        "who misses often falls, and by how many places says how much one list hid.",
        minutes=5,
    ),
    Exercise(
        "01.job-letters",
        "transfer",
        Number(3 / 80, tolerance=0.0006, share=True),
        (
            Wrong(0.75, "that is per interview. The 76 letters without an answer are the whiffs here."),
            Wrong(0.05, "that is interviews per letter; the question asks for offers."),
            Wrong(80 / 3, "upside down: that is how many letters she needs for one offer."),
            Wrong(0.2, "that is the other one's number: 4 offers for 20 letters."),
        ),
        (
            "Which event in this story is the swing?",
            "Each letter is a swing. An interview is only a ball in play.",
        ),
        "3 offers for 80 letters is .0375, against 4 for 20, which is .200. "
        "Per interview it looked the other way round.",
        "the same trap: success among those that got through forgets all that did not.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "01.swap-the-factors",
        "compute",
        Number(
            lambda: _in_play_per_swing(THE_OTHER) * _rate(THE_HITTER, "in_play"), tolerance=0.0015, share=True
        ),
        (
            Wrong(
                lambda: _in_play_per_swing(THE_HITTER) * _rate(THE_OTHER, "in_play"),
                "the other way round: that is Nadia's hard balls with Hana's share in play.",
            ),
            Wrong(lambda: _rate(THE_HITTER, "swings"), "that is Hana as she is. Swap the first factor."),
            Wrong(lambda: _rate(THE_OTHER, "swings"), "that is Nadia as she is. Keep Hana's second factor."),
            Wrong(
                lambda: _in_play_per_swing(THE_OTHER) + _rate(THE_HITTER, "in_play"),
                "the factors are multiplied, not added.",
            ),
        ),
        (
            "Rate per swing = (in play per swing) times (hard per ball in play). Take one factor from each.",
            "Nadia's in play per swing, times Hana's hard per ball in play.",
        ),
        lambda: (
            f"Nadia puts {rate_text(_in_play_per_swing(THE_OTHER))} of her swings in play, and "
            f"{rate_text(_rate(THE_HITTER, 'in_play'))} of Hana's balls in play are hard; multiply the two."
        ),
        "all that Hana lacks to lead is getting the ball into play; no need to swing harder.",
        minutes=5,
        core=False,
    ),
    Exercise(
        "01.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter's name", patterns.name(THE_HITTER)),
                Point("what", "what was counted", patterns.HARD_HIT),
                Point(
                    "out of what",
                    "every swing, not only some of them",
                    (
                        r"\b(?:per|each|every|all|any|of|one|her|by a) swings?\b",
                        r"\bof (?:hana|falandra|hana falandra)'s swings\b",
                        rf"(?:{patterns.number(SWINGS)}) swings\b",
                        r"\bper[ -]swing\b|\ball (?:of )?(?:their|her|his|the|those) swings\b",
                        r"\b(?:divid\w+|count\w*) by (?:all |every |her )*swings?\b",
                        r"\bswings? (?:taken|counted|and all|included)",
                        r"\b(?:she|they|one|you|anyone|anybody|who(?:ever)?) swings?\b",
                        r"\bswung\b",
                        r"\bswing[ -](?:for|by)[ -]swing\b",
                        r"\b(?:misses|whiffs)(?: and|,) (?:\w+ )?fouls,? (?:too |also )?(?:are |were |is )?"
                        r"(?:count\w*|included|as swings|taken)",
                    ),
                ),
                Point(
                    "among whom",
                    "those who are on the list: how many, or with how many swings",
                    patterns.on_the_list(MINIMUM, HITTERS),
                ),
                Point(
                    "where she stands",
                    "her place, or that somebody is ahead of her",
                    (
                        r"\b(?:eighth|8th)\b",
                        _ABOUT_SEVENTH,
                        r"\b(?:seven|7|several|some|a few|others)\b(?! of her)[^;:.,]{0,60}\b(?:do|"
                        r"did|does|hit|hits) "
                        r"(?:so |it |that )?(?:hard )?more often\b",
                        r"\b(?:number|no\.?|place|rank(?:s|ed)?|#) ?(?:eight|8)\b|#8\b",
                        r"\b(?:seven|7|several|some|a few|others?|somebody|someone) "
                        r"(?:other |others |\w+ )?(?:\w+ )?"
                        r"(?:do|did|are|is|have|has|hit|hits|ahead|better|beat|beats|outdo|outhit|lead|"
                        r"top)\b",
                        r"\b(?:seven|7|several|a few|others) (?:[\w']+ ){0,11}?"
                        r"(?:do|did|are|hit|ahead|better|beat|outdo|outhit|more often|higher)\b",
                        r"\b(?:fewer|less often|less) (?:\w+ ){0,2}than (?:nadia|izezno|seven|7|others|"
                        r"several)\b",
                        r"\b(?:ahead of|in front of|above|over) (?:her|hana|falandra)\b",
                        r"\b(?:is|are|comes?|stands?|ranks?|sits?|falls?|drops?|trails?) "
                        r"(?:\w+ )?(?:behind|below)\b",
                        r"\bnot (?:hana|falandra)\b",
                        r"\b(?:trails?|behind) (?:nadia|izezno|seven|7|others|a few)",
                        rf"{_NOT} (?:first|lead|leads|leader|leading)\b",
                        rf"{_NOT} (?:on top|top|number one|no\. 1)\b",
                        rf"{_NOT} (?:the most|most often|more often)\b",
                        r"\b(?:nadia|izezno)\b[^;:.]{0,40}\b(?:leads?|ahead|more|better|first|above|tops?|"
                        r"higher|best|beats?|before)\b",
                        r"\bmore often than (?:hana|falandra|she|her)\b",
                        r"\b(?:nadia|izezno|seven|7|several|others?)\b[^;:.]{0,90}\b(?:more|higher|larger|"
                        r"better)\b[^;:.]{0,60}\bthan (?:hana|falandra|she|her)\b",
                        r"\btop ten\b",
                    ),
                ),
            ),
            _for_air,
            people=(THE_HITTER, "Nadia Izezno"),
            frames=_FRAMES,
            phrases=(
                "103",
                "150 times",
                "96 hard balls",
                "7 other regulars",
                "8th of the regulars",
                "17.4% of her swings",
                "7th or so",
                "17%",
                "17% of her swings",
                "Hana may lead per ball in play",
                "among the 103",
                "she's eighth",
            ),
            figures=(
                MINIMUM,
                HITTERS,
                PLACE,
                PLACE - 1,
                PLACE - 2,
                10,
                HARD,
                SWINGS,
                IN_PLAY,
                *PER_SWING,
                PER_IN_PLAY,
                HARD_OF_OTHER,
                SWINGS_OF_OTHER,
                PER_SWING_OF_OTHER,
            ),
            too_much=(
                *_TURNED,
                patterns.turned_over(HARD, SWINGS),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:overrated|over-?hyped|a fraud|nothing special|no good|a bad hitter|bad at)\b",
                    "that judges her, and a place on a list was counted",
                ),
                TooMuch(
                    r"\b(?:truly|really|simply|clearly|by far) (?:the )?(?:best|better|worse)\b",
                    "that is about who is better, and a record was counted",
                ),
                TooMuch(
                    r"\b(?:the best hitter|a better hitter)\b",
                    "that is about who is better, and a record was counted",
                ),
                TooMuch(
                    r"\b(?:nobody|no one|none|no other) .{0,40}\bmore often\b",
                    "that is the claim again, and the count says otherwise",
                ),
                TooMuch(r"\bwill (?:never|not|lead|always|be)\b|\bwon't\b", "that tells the future"),
                TooMuch(
                    r"\b(?:lied|lies|liar|cheat\w*)\b", "that is about a motive, and the arithmetic was right"
                ),
            ),
            good=(
                "Per swing, Hana Falandra is eighth in hard-hit balls among the 103 hitters with at "
                "least 150 swings.",
                "Falandra leads per ball in play, but of every swing others hit more of theirs hard: of the "
                "regulars she is number eight.",
                "Among all who have 150 swings, several hit the ball hard more often per swing than Hana "
                "does.",
                "Hana Falandra leads per ball in play, but once her misses and fouls count as swings she is "
                "only eighth of the 103 regulars in hard hits.",
                "Among hitters with 150 or more swings, seven beat Hana Falandra in hard-hit balls per "
                "swing.",
                "Per ball in play, Hana leads in hard hits; per swing she trails seven of the 103 regulars.",
                "Of the regulars, Nadia Izezno hits more of her swings hard than Hana Falandra, who is "
                "eighth: "
                "96 of 553 swings, or .174.",
                "Per swing Hana Falandra is not first but eighth in hard hits among the 103 regulars.",
                "Hana Falandra is first in hard hits per ball in play, but per swing seven of the 103 "
                "regulars "
                "do better.",
                "Hana Falandra hit 96 of her 553 swings hard, and seven hitters with at least 150 swings did "
                "it more often.",
                "Nadia Izezno, not Hana Falandra, hits the most balls hard per swing among regulars.",
                "Out of all her swings, Hana Falandra hits fewer hard than Nadia Izezno and six others of "
                "the "
                "103 regulars.",
            ),
            bad=(
                (
                    "Hana Falandra is eighth in hard-hit balls among hitters with at least 150 swings.",
                    "out of what",
                ),
                (
                    "Per swing nobody of the 103 regulars hits it hard more often than Hana Falandra.",
                    "too much",
                ),
                ("Hana Falandra is not first in hard-hit balls among the 103 regulars.", "out of what"),
                ("Counting every swing, Hana Falandra is only eighth in hard-hit balls.", "among whom"),
                ("Per swing she is eighth of 103 hitters in hard-hit balls.", "who"),
                (
                    "Of her 553 swings Hana Falandra hit 96 hard, and she is one of 103 regulars.",
                    "where she stands",
                ),
                (
                    "Per swing Hana Falandra is eighth of 103 in hard hits, because she misses so often.",
                    "too much",
                ),
                (
                    "Per swing Falandra is eighth in hard hits of all with 150 swings, so she is overrated.",
                    "too much",
                ),
                (
                    "Per swing Hana Falandra is seventh in hard-hit balls among the 103 hitters with at "
                    "least 150 swings.",
                    "too much",
                ),
                (
                    "Counting every swing, Hana Falandra is ahead of Nadia Izezno in hard-hit balls among "
                    "103 regulars.",
                    "too much",
                ),
                (
                    "Per swing Hana Falandra leads the 103 regulars in hard-hit balls, ahead of Nadia "
                    "Izezno.",
                    "too much",
                ),
                (
                    "Of every swing, Hana hits it hard more often than Nadia among the regulars.",
                    "too much",
                ),
                (
                    "Counting every swing, Hana Falandra is not seventh but first of the 103 regulars in "
                    "hard-hit balls.",
                    "too much",
                ),
                (
                    "Per swing eight of the 103 regulars are ahead of Hana Falandra in hard hits.",
                    "too much",
                ),
                (
                    "Per swing Hana Falandra tops all 103 regulars in hard hits, and Nadia is behind her.",
                    "too much",
                ),
                (
                    "Per swing seven of the 103 regulars hit it hard less often than Hana Falandra.",
                    "too much",
                ),
                (
                    "Per swing Hana Falandra is eighth from the bottom of 103 regulars in hard hits.",
                    "too much",
                ),
                (
                    "Per swing, nobody among the 103 regulars is ahead of Hana Falandra in hard hits.",
                    "too much",
                ),
                (
                    "Per swing only Nadia Izezno is ahead of Hana Falandra in hard hits among regulars.",
                    "too much",
                ),
                (
                    "Hana Falandra is eighth in hard hits per ball in play but first per swing among the 103 "
                    "regulars.",
                    "too much",
                ),
                (
                    "Per swing six of the 103 regulars are ahead of Hana Falandra in hard hits.",
                    "too much",
                ),
                (
                    "Per swing Hana Falandra is eighth of the 103 regulars, with 120 of 553 swings hard.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Name her, what was counted, and out of what; then the list she is on, and her place.",
            "For instance: per swing, so-and-so is not first in ... among the hitters with ... swings.",
        ),
        "Who, hard-hit balls, per swing, among those with enough swings, and where she stands.",
        "the denominator is said aloud, so nobody has to guess it.",
        minutes=4,
    ),
)


def _again_per_swing(rng: np.random.Generator) -> tuple[str, Exercise]:
    whiffs, fouls, soft = (int(rng.integers(*ends)) for ends in ((6, 15), (16, 30), (20, 40)))
    hard = int(rng.integers(5, 13))
    swings, in_play = whiffs + fouls + soft + hard, soft + hard
    return (
        f"A hitter swung and missed {whiffs} times, hit {fouls} fouls, and put {in_play} balls in play, "
        f"{hard} of "
        "them hard. How often did she hit it hard per swing? A share from 0 to 1, three decimals.",
        Exercise(
            "01.again-per-swing",
            "compute",
            Number(hard / swings, tolerance=0.002, share=True),
            (
                Wrong(hard / in_play, "that is per ball in play; whiffs and fouls were swings, too."),
                Wrong(hard / (in_play + fouls), "her misses were swings as well."),
                Wrong(hard / (in_play + whiffs), "her fouls were swings as well."),
            ),
            ("Every attempt counts.", f"Below the line: {whiffs} and {fouls} and {in_play}."),
            f"{hard} of {whiffs} + {fouls} + {in_play} is {rate_text(hard / swings)}.",
            "every attempt counts, whatever became of it.",
            minutes=1,
        ),
    )


def _again_one_lucky_ball(rng: np.random.Generator) -> tuple[str, Exercise]:
    swings = int(rng.integers(7, 16))
    return (
        f"He swung {swings} times, missed or fouled all but one, and that one he hit hard. One list says "
        f"100 %. How "
        "often did he hit it hard per swing? A share from 0 to 1, three decimals.",
        Exercise(
            "01.again-one-lucky-ball",
            "compute",
            Number(1 / swings, tolerance=0.002, share=True),
            (
                Wrong(1.0, "that is per ball in play: one of one."),
                Wrong(1 / (swings - 1), "the ball that he hit was a swing as well."),
            ),
            ("How many attempts were there?", f"One hard ball, {swings} swings."),
            f"1 of {swings} is {rate_text(1 / swings)}.",
            "one lucky hit reads 100 % where attempts are left out.",
            minutes=1,
        ),
    )


_ASKED = (
    ("How often does he miss when he swings?", "swings"),
    ("When he hits it between the lines, how often is it hard?", "balls in play"),
    ("When a pitch comes, how often does he let it go by?", "pitches"),
    ("How often does he strike out when he comes up?", "plate appearances"),
)


def _again_out_of_what(rng: np.random.Generator) -> tuple[str, Exercise]:
    question, right = _ASKED[int(rng.integers(len(_ASKED)))]
    options = dict(zip("abcd", (below for _, below in _ASKED), strict=True))
    letter = next(key for key, below in options.items() if below == right)
    why = {
        "swings": "that counts attempts; does the question ask about attempts?",
        "balls in play": "that leaves out every attempt that missed or went foul; does the question?",
        "pitches": "that counts what he let go as well; does the question?",
        "plate appearances": "that counts his turns; does the question ask about turns?",
    }
    return (
        f'"{question}" Out of what is that to be counted?',
        Exercise(
            "01.again-out-of-what",
            "denominator",
            Choice(letter, options),
            others({key: why[below] for key, below in options.items()}, letter),
            ("Which chances does the question name?", "Look for what stands behind 'when'."),
            f"The question is about {right}.",
            "the question names its denominator, if one listens.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "01",
    "Count every swing",
    _verdict,
    "Counted over every swing, she does not lead; the list had left out her whiffs and fouls.",
    EXERCISES,
    (
        Again("01.again-per-swing", _again_per_swing),
        Again("01.again-out-of-what", _again_out_of_what),
        Again("01.again-one-lucky-ball", _again_one_lucky_ball),
    ),
)
