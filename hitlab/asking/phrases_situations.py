"""The trade's words for where and when, and for which hand."""

from __future__ import annotations

__all__ = ["BEFORE", "HANDS", "ONE_SIDE_ONLY", "SITUATIONS"]

# fmt: off
BEFORE = frozenset((
    "with", "against", "on", "in", "at", "off", "for", "versus", "from", "by", "to", "of", "as",
    "facing", "through", "the", "a", "an", "any", "anything", "all", "pitches", "his", "her",
    "when", "if", "he", "she", "they", "it", "is", "are", "has", "gets", "sees", "faces",
))
# fmt: on
"""Words that lead to a situation and are a part of it: ``when he is behind in the count``."""
_BALL = r"(?: (?:pitch|pitches|balls?|stuff))?"
_KIND = {
    "four-seam fastball": r"four seam(?:er|ers)?(?: fastballs?)?",
    "fastball": r"fastballs?|heaters?|(?<!in the )(?<!in this )(?<!in that )(?<!in such )heat",
    "sinker": r"sinkers?|two seam(?:er|ers)(?: fastballs?)?",
    "cutter": r"cutters?",
    "slider": r"sliders?",
    "curveball": r"curve ?balls?|curves?",
    "changeup": r"change ?ups?|changeups?",
    "splitter": r"splitters?|split finger(?: fastballs?)?",
    "knuckleball": r"knuckle ?balls?|knucklers?",
    "breaking": r"breaking (?:balls?|pitch|pitches|stuff)|breakers|spin",
    "offspeed": r"off ?speed(?: pitch| pitches| stuff)?",
}
_ON = r"(?:a )?(?:runners?|men|man|hitters?|one|two|someone|somebody) (?:on|at)"
SITUATIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"nobody or one man out", ("outs=0,1",)),
    (
        r"(?:bases )?(?:loaded|(?<!it is )full)(?= (?:<|and|with|,|no|nobody|one|two))|"
        r"bases (?:are )?loaded",
        ("bases=full",),
    ),
    (
        r"(?:bases (?:are )?empty|(?:nobody|no one) on(?: base)?(?! (?:the|this|that|his|her|their|our) )|"
        r"none on|"
        r"nobody aboard)",
        ("bases=empty",),
    ),
    (rf"{_ON} first and second", ("bases=first second",)),
    (rf"(?:{_ON} first and third|{_ON} the corners|runners at the corners)", ("bases=first third",)),
    (rf"{_ON} second and third", ("bases=second third",)),
    (
        r"(?:(?:runners?|men|a man|a runner|somebody|someone|anybody|two|one) )?(?:(?:on|in) "
        r")*scoring position",
        ("runner on second or third",),
    ),
    (rf"{_ON} second or third", ("runner on second or third",)),
    (r"(?:two )?on (?:at )?first and second", ("bases=first second",)),
    (r"(?:two )?on (?:at )?second and third", ("bases=second third",)),
    (r"(?:two )?on (?:at )?first and third", ("bases=first third",)),
    (rf"{_ON} first(?! pitch| inning| and second| and third)", ("bases=first",)),
    (rf"{_ON} second(?! inning| and third)", ("bases=second",)),
    (rf"{_ON} third(?! inning)", ("bases=third",)),
    (
        r"(?:runners|men|traffic|people|guys) on(?: base| the bases)?(?:(?<=with men on)|(?<=with guys on)|"
        r"(?<=runners on)|(?! (?:the|our) <who>))",
        ("runners on",),
    ),
    (
        r"(?:first pitch|first pitches|first one (?:he|she) sees|opening pitch)(?: of (?:the|an) at bats?)?",
        ("first pitch",),
    ),
    (r"full counts?|count full", ("full count",)),
    (r"hitter ahead in the count", ("hitter ahead in the count",)),
    (r"hitter behind in the count", ("hitter behind in the count",)),
    (r"ahead in the count", ("ahead in the count",)),
    (r"behind in the count", ("behind in the count",)),
    (
        r"(?:late in (?:games|the game|ballgames)|(?:the )?late innings|seventh inning on|seventh on)",
        ("inning>=7",),
    ),
    (r"up and in|" + r"high and (?:inside|tight|in)", ("up and in",)),
    (r"up and away|" + r"high and (?:outside|away)", ("up and away",)),
    (r"(?:down|low) and (?:in|inside)", ("down and in",)),
    (r"(?:down|low) and (?:away|outside)", ("down and away",)),
    (
        r"(?:over the|down the|in the) (?:middle|heart)(?: of the plate)?|" + "middle middle",
        ("over the middle",),
    ),
    (
        r"(?:out of|outside|off|out side|outside of) (?:the |of the )?(?:strike )?(?:zone|plate)",
        ("outside the zone",),
    ),
    (r"(?:in|inside|within) the (?:strike )?zone", ("in the zone",)),
    (r"(?:same side|own side|same handed)(?: pitchers| pitching)?", ("own side",)),
    (r"(?:other side|opposite side|opposite handed)(?: pitchers| pitching)?", ("other side",)),
    *((rf"(?:high|elevated) (?=(?:{words}) )", ("up",)) for words in ("|".join(_KIND.values()),)),
    *((rf"low (?=(?:{words}) )", ("down",)) for words in ("|".join(_KIND.values()),)),
    *((rf"inside (?=(?:{words}) )", ("inside",)) for words in ("|".join(_KIND.values()),)),
    *((rf"outside (?=(?:{words}) )", ("away",)) for words in ("|".join(_KIND.values()),)),
    *((rf"(?:{words})", (f"pitch_kind={kind}",)) for kind, words in _KIND.items()),
    (r"(?:up in the zone|high pitch(?:es)?|up high|high stuff|the high pitch)", ("up",)),
    (r"(?:down in the zone|low pitch(?:es)?|down low|low stuff|the low pitch)", ("down",)),
    (r"(?:inside|on the inner (?:half|third))" + _BALL, ("inside",)),
    (r"(?:pitches away|outside pitch(?:es)?|outside corner|on the outer (?:half|third))", ("away",)),
)
"""Situations by the trade's words; those with numbers are read in ``hitlab.asking.numbers``."""
ONE_SIDE_ONLY = (
    r"(?:among|amongst|leads?|tops|of) (?:(?:all|the|other) )*(?:left|right)"
    r"(?:y|ies| handers?| handed (?:hitters|batters|bats))"
)
"""Compared with the left-handed hitters only: no question has that, so it is asked back."""
HANDS: tuple[tuple[str, str, str], ...] = tuple(
    row
    for side, one in (("left", "left(?:y|ies)|southpaws?"), ("right", "right(?:y|ies)"))
    for row in (
        (
            rf"as an? (?:{side} handed (?:hitter|batter|bat)|{side} hander|{one})|"
            rf"(?:batting|hitting) {side}(?! around| about| near)",
            "hitter_side",
            side,
        ),
        (rf"{side} hand(?:ed|ers?)? (?:pitchers?|pitching|arms?|starters?|relievers?)", "pitcher_hand", side),
        (
            rf"{side} handed (?:hitters?|batters?|bats)|from the {side} side|(?:batting|hitting) "
            rf"{side} handed",
            "hitter_side",
            side,
        ),
        (rf"(?:{side} handers?|{one}|{side} handed)", "hand", side),
    )
)
"""Which hand or side; what is only called a left-hander depends on whom the sentence is about."""
