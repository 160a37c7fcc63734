"""The words of the trade, and what each asks for: one table a slot, all of them read from top to bottom.

A pattern is read over folded words with single blanks between; what was found before stands as a mark
(``<who>``, ``<in>``, ``<rate>``, ...). Of a pattern with groups only the groups are taken.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from hitlab.asking.text import GAP

# fmt: off
__all__ = [
    "BARE", "BEFORE", "COMPARING", "CONNECTED", "EARLY", "FILLERS", "HANDS", "KINDS_OF_CLAIM", "LIMITS",
    "MANNERS_OF_SPEAKING", "OF_EASE", "OF_HARD", "ONE_SEASON", "ONE_SIDE_ONLY", "PERS", "PHRASAL",
    "RATES", "RESPONDING", "SETTING_ASIDE", "SITUATIONS", "SPOTS", "Rate", "slot_words", "vocabulary",
]
# fmt: on


@dataclass(frozen=True, slots=True)
class Rate:
    """What somebody does so often.

    Attributes
    ----------
    event, per
        As in a question.
    when
        The situation that is a part of it: chasing is swinging outside the zone.
    sign
        -1 where the words say that it is not done: ``lays off``.
    luckless
        Whether more of it is worse for the hitter; ``None`` where it is neither good nor bad.
    either
        Said where the words leave open what it is divided by: the other denominator.
    """

    event: str
    per: str = "swings"
    when: tuple[str, ...] = ()
    sign: int = 1
    luckless: bool | None = False
    either: str = ""

    def done(self) -> Rate:
        """Return what is done where the words say that something is not: who lays off a pitch takes it."""
        if self.sign > 0 or self.event != "swings":
            return self
        return replace(self, event="takes", sign=1, luckless=False)


HARD = Rate("hard")
WHIFFS = Rate("whiffs", luckless=True)
CONTACT = Rate("contact")
IN_PLAY = Rate("in_play")
FOULS = Rate("fouls", luckless=None)
SWINGS = Rate("swings", "pitches", luckless=None)
TAKES = Rate("takes", "pitches", luckless=None)
CHASES = Rate("swings", "pitches", ("outside the zone",), luckless=True)
LAYS_OFF = Rate("swings", "pitches", ("outside the zone",), -1, luckless=True)
STRIKEOUTS = Rate("strikeouts", "plate_appearances", luckless=True)
WALKS = Rate("walks", "plate_appearances")
HOMERS = Rate("home_runs", "plate_appearances")
HITS = Rate("hits", "at_bats")

_SWING = "(?:swing|swings|swinging|swung)"
_PUT = "(?:put|puts|putting)"
_MAKE = "(?:make|makes|making|made|get|gets|getting)"

PHRASAL: tuple[tuple[str, Rate], ...] = (
    (r"lay(?:s|ing)? off(?= (?:of )?<next>)", TAKES),
    (r"lay(?:s|ing)? off (?=(?:of )?(?:the |a )?(?:<in>))", LAYS_OFF),
    (r"lay(?:s|ing)? off(?: (?:bad pitches|balls))?|laid off", LAYS_OFF),
    (
        rf"{_SWING} (?:right )?through(?: (?:one|it|stuff|them|pitches|balls))?|"
        rf"{_SWING} (?:right )?(?:over(?: the top of)?|under(?:neath)?)(?: (?:one|it|them|those))?"
        r"(?! (?:half|\d|a |one |two |three|four|five|six|seven|eight|nine|ten|twenty|thirty|"
        r"forty|fifty|sixty|"
        r"seventy|eighty|ninety))",
        WHIFFS,
    ),
    (r"(?:go|goes|going|gone|went) after|offer(?:s|ed|ing)? at|jump(?:s|ed|ing)? on|ambush(?:es)?", SWINGS),
    (r"spit(?:s|ting)? on", TAKES),
    (r"(?:go|goes|going|went) (?:out of|outside) the (?:strike )?zone", CHASES),
    (r"attack(?:s|ing|ed)?(?= (?:<|the |first |a |any))", SWINGS),
)
"""Verbs whose second word could be read as the beginning of a situation: found before situations are."""

RATES: tuple[tuple[str, Rate], ...] = (
    (r"(?:whiff|miss) (?:prone|happy|heavy)|whiffers?", WHIFFS),
    (r"(?:strikeout|strike out) (?:prone|heavy)", STRIKEOUTS),
    (r"chase (?:prone|happy)", CHASES),
    (r"swing happy", SWINGS),
    (r"hard hit (?:ball )?(?:rate|percentage|share)|rate of hard contact", Rate("hard", either="in_play")),
    (r"hard (?:hit )?(?:contact )?rate|hard contact percentage", Rate("hard", either="in_play")),
    (r"(?:solid|loud|hard) contact", HARD),
    (r"hard hit balls?|hard hits?|hit hard|hitting hard", HARD),
    (r"(hit|hits|hitting) " + GAP + "(hard)", HARD),
    (r"(square|squares|squaring|squared) " + GAP + "(up)", HARD),
    (r"(barrel|barrels|barreling|barreled|barrelling|barrelled) (?:(?:it|them|the ball|balls) )?(up)", HARD),
    (r"barrel(?:s|ing|ed)? (?:it|the ball|balls)|(?:power|thump)", HARD),
    (rf"{_SWING} and miss(?:es|ing|ed)?(?: rate)?|swings and misses|swing and misses", WHIFFS),
    (
        r"whiff(?:s|ed|ing)?(?: rates?| percentage)?(?: per swing)?|(?:come|comes|coming|came) up empty",
        WHIFFS,
    ),
    (r"empty swings?|swinging strikes?|can not touch|miss rates?", WHIFFS),
    (r"(miss|misses|missed|missing) (?:more |fewer |the most |the fewest )?(bats)", WHIFFS),
    (r"miss(?:es|ed|ing)?(?: one(?= [,.?!]))?", WHIFFS),
    (rf"{_MAKE} contact", CONTACT),
    (rf"({_MAKE}) {GAP}(contact)", CONTACT),
    (r"contact (?:rate|percentage|hitter)|contact per swing|contact|bat to ball(?: skills?)?", CONTACT),
    (
        rf"(?:{_PUT}|{_MAKE}) (?:the|his|her|a) bat (?:on|to) (?:the ball|it)|{_MAKE} a piece of "
        rf"(?:it|the ball)",
        CONTACT,
    ),
    (rf"({_PUT}) {GAP}{GAP}(in play)", IN_PLAY),
    (r"balls? in play(?: rate)?(?: per swing)?|in play rate", IN_PLAY),
    (r"(foul|fouls|fouling|fouled) " + GAP + "(off)", FOULS),
    (r"foul balls?|fouls?|fouled|fouling", FOULS),
    (r"chas(?:e|es|ed|ing)(?: rate| percentage)?(?: pitches)?", CHASES),
    (
        r"expand(?:s|ing|ed)? (?:the|his|her|their) (?:strike )?zone|go(?:es|ing)? fishing|fish(?:es|ing)?",
        CHASES,
    ),
    (
        rf"{_SWING} at (?:balls|bad pitches|bad balls|(?:pitches |balls )?(?:out of|outside|off) "
        r"(?:of )?(?:the )?(?:strike )?(?:zone|plate))",
        CHASES,
    ),
    (r"(?:strike|strikes|striking|struck) out|strikeouts?(?: rate)?", STRIKEOUTS),
    (
        r"(?:draw|draws|drawing|drew|take|takes|taking) (?:a )?(?:more )?walks?|walks?(?: rate)?|"
        r"walked|walking",
        WALKS,
    ),
    (r"(?:hits? |hitting )?(?:home runs?|homers?)(?: rate)?|homered|homering|(?:go|goes|going) deep", HOMERS),
    (
        r"(?:(?<=more )|(?<=fewer )|(?<=less )|(?<=most )|(?<=fewest )|(?<=for )|(?<=in )|(?<=of )|"
        r"(?<=whose ))"
        r"hits(?= <per>)",
        HITS,
    ),
    (r"batting averages?|(?:hit|hits|hitting) for average|base hits?", HITS),
    (r"(?:get|gets|getting|got) (?:(?:him|her)self )?(?:a hit|on base with a hit|hits)", HITS),
    (r"(get|gets|getting|got) (?:more |fewer |the most |the fewest )(hits)", HITS),
    (
        r"(?:batting|batted|bats|hitting|hits) "
        r"(?=(?:about |around |over |under |above |below |roughly )?<average>)",
        HITS,
    ),
    (r"(let|lets|letting) " + GAP + "(go by|go)", TAKES),
    (r"(take|takes|taking|taken|took) (?:more |fewer |the |a )*(pitch|pitches)", TAKES),
    (r"(?:take|takes|taking|taken|took)", TAKES),
    (rf"{_SWING}(?: rate| percentage)?|swingers?|free swingers?|aggressive(?:ly)?(?: swingers?)?", SWINGS),
)
"""What is done, and the rate that it asks for: per swing where the trade means that."""

OF_HARD = 8
"""So many rates are found before "hits it harder" is: "hard-hit balls" are one of them."""

_OF = r"(?:of|on)"
_HIS = r"(?:all |the |his |her |their |its |a |those )*"
PERS: tuple[tuple[str, str], ...] = (
    (rf"({_OF} {_HIS}balls?) (?:(?:he|she|they|<who>) )?({_PUT} in play)", "in_play"),
    (rf"(?<=> )(balls?) (?:that )?(?:he|she|they|<who>) ({_PUT} in play)", "in_play"),
    (r"(?<=> )(?:that )?(?:he|she|they|hitters|batters) swings?(?=(?: [,.?!])| $)", "swings"),
    (r"(of|on) (?:<who> )(balls in play)|(balls in play)(?= (?:are|is|get|that) )", "in_play"),
    (r"(when) (?:<who> )(puts (?:it|the ball) in play)", "in_play"),
    (
        rf"{_OF} {_HIS}balls in play|per balls? in play|when (?:he|she) {_PUT} (?:it|the ball) in play",
        "in_play",
    ),
    (
        rf"{_OF} {_HIS}contact|per contact|when(?:ever)? (?:he|she|they) (?:does |"
        r"do )?(?:makes? contact|connects?|touch(?:es)? it)",
        "contact",
    ),
    (
        r"per swings?|(?:(?<=misses )|(?<=whiffs )|(?<=fouls ))a swing(?= (?:[,.?!]|of |in ))|(?:as a "
        r")?share of (?:his|her|their|its|all) swings|(?:a )?(?:higher |lower "
        r")?share of swings",
        "swings",
    ),
    (
        rf"(?<!nobody )(?<!no one )(?<!anyone )(?<!anybody )(of|on) (?:(?:{_HIS})|"
        r"more |fewer |<who> |<in> |<(?:above|below|near)> |of )*(swings)",
        "swings",
    ),
    (rf"{_PUT} (?:(?!than |and )[^ ,.;:]+ ){{0,3}}?(swings)(?= in play)", "swings"),
    (
        r"(?<=> )plate appearances|(?<=> )(?:that )?(?:he|she|they) (?:steps? (?:in|up)|digs? in|"
        r"comes? (?:up|to the plate))(?=(?: [,.?!])| $)",
        "plate_appearances",
    ),
    (r"(?:of (?:the |all )?pitches )?(?:he|she|they) (?:swings?|offers?) at(?=(?: [,.?!])| $)", "swings"),
    (
        r"(?:that|of those|of the ones|which|of what|of everything|of whatever) (?:he|she|"
        r"they) (?:swings?|offers?) at",
        "swings",
    ),
    (r"(of (?:what|everything|whatever)) <who> ((?:swings?|offers?) at)", "swings"),
    (r"(?<=<who> )swings(?= (?:makes contact|misses|are|is|end|come))", "swings"),
    (
        r"<(?:above|below|near)> (swings)|when (?:he|she|they) (?:actually )?swings?(?: at (?:it|one))?|"
        r"(when) <who> (swings)",
        "swings",
    ),
    (
        r"per pitch|(?:of|on) (?:all |the )*pitches(?: (?:he|she|they) (?:sees?|faces?))?"
        r"(?! (?:up|down|in|away|inside|outside|over|at|that|near|from|out))",
        "pitches",
    ),
    (r"per at bats?|of (?:(?:all|the|his|her|their) )*at bats", "at_bats"),
    (r"per plate appearances?|of (?:(?:all|the|his|her|their) )*plate appearances", "plate_appearances"),
)
"""What it is divided by, where that is said."""

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
        r"(?:bases (?:are )?empty|nobody on(?: base)?(?! the)|no one on(?: base)?(?! the)|none on|"
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
    (r"(?:runners|men|traffic|people|guys)(?: on(?: base| the bases)?)", ("runners on",)),
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

_NOUN = r"(?:hitters?|batters?|pitchers?|clubs?|teams?|players?|bats?|ones?|man|men|woman|guys?|kids?)"
_LEAGUE = (
    r"(?:in|of|across|around|throughout) (?:the|this|all the) (?:whole |entire )?(?:league|game|circuit)"
)
COMPARING: tuple[tuple[str, str, object], ...] = (
    (r"no better", "nobetter", None),
    (
        r"(?:one of|among|amongst|up there with) (?:the|these|those)(?= (?:very )?(?:best|worst|"
        r"most|least|finest|highest|lowest|leaders|elite))",
        "oneof",
        None,
    ),
    (r"arguably|almost|nearly|not quite", "hedge", None),
    (
        r"than (?:anyone|anybody|everyone|everybody)(?: else)? (?:on|in) (?:his|her|the|their) "
        r"(?:own )?(?:club|team)",
        "ownclub",
        None,
    ),
    (r"than anything else", "otherwise", None),
    (
        rf"than (?:any other|any|all other|all the other|all) {_NOUN}(?: (?:does|do|has|have|"
        rf"is))?(?: {_LEAGUE})?",
        "anyone",
        None,
    ),
    (
        rf"than (?:anyone|anybody|everyone|everybody|all others|all the others|the others)(?: else)?"
        rf"(?: (?:does|do|has|have|is))?(?: {_LEAGUE})?",
        "anyone",
        None,
    ),
    (
        r"than (?:the )?(?:rest of )?(?:the |this )(?:whole )?league(?: as a whole)?(?: "
        r"(?:average|at large))?(?: (?:does|do|has|is))?",
        "league",
        None,
    ),
    (
        rf"than (?:through |against |off |with )?(?:the |an )?(?:league )?(?:average|typical|"
        rf"ordinary)(?: {_NOUN})?(?: (?:does|do|has|is))?",
        "league",
        None,
    ),
    (
        rf"than (?:through |against |off |with )?(?:most|other)(?: other)?(?: {_NOUN})?(?: (?:do|"
        rf"does|are|have))?(?: {_LEAGUE})?",
        "league",
        None,
    ),
    (r"than is (?:average|usual) in the league|compared (?:with|to) the league", "league", None),
    (
        r"than (?:it is |it does )?(?:for|to) (?:everybody|everyone)(?: else)?|than (?:everybody|"
        r"everyone) else does there",
        "usual",
        None,
    ),
    (
        r"than (?:(?:he|she|it|they) )?(?:does |do |is |are )?(?:otherwise|usual|usually|normal|"
        r"normally)(?: does| do)?",
        "otherwise",
        None,
    ),
    (
        r"than (?:(?:he|she|they) (?:(?:does|do|is|are|has|sees|gets|hits|misses|swings|<rate>) )?)?"
        r"(?:against |on |off |at |with |versus )?(?:everything else|anything else|all else|other pitches|"
        r"the rest|any other pitch|all other pitches|other kinds)"
        r"(?: (?:he|she|they) (?:sees?|faces?)| (?:they|you|pitchers) (?:throw|give|feed)s? (?:him|her|"
        r"them))?",
        "otherwise",
        None,
    ),
    (
        r"than (?:(?:he|she|it|they) (?:does|do|is|are) )?(?:in|on|at|with) (?:(?:all|the|any) )*others? "
        r"(?:situations?|spots?|counts?|times?)|than (?:on|against) any other(?=(?: [,.?!])| $)",
        "otherwise",
        None,
    ),
    (
        r"than (?:(?:he|she|they|it) )?(?:did |was |were |had |has )?(?:(?:up )?(?:to|until|till) "
        r"then|before(?: then| that)?|earlier)",
        "before",
        None,
    ),
    (
        r"than (?:he|she|they) (?:used to(?: be)?|once (?:did|was))|than (?:in the past|previously)",
        "before",
        None,
    ),
    (
        r"than (?:he|she|they|it) (?:did|was|were|had)(?: been)? (?:before|earlier|until then|up to then)",
        "before",
        None,
    ),
    (rf"(?:the )?rest of the league|everybody else {_LEAGUE}", "rest", None),
)
"""With what it is compared."""

OF_EASE = 5
"""So many of the next table are found before rates are: their words are a part of one."""

CONNECTED: tuple[tuple[str, str, int], ...] = (
    (
        r"(drop off|drop|dropoff|decline) " + GAP + r"(?:is |be )?(bigger|larger|greater|steeper|worse)",
        "better",
        -1,
    ),
    (r"(hardest|toughest|most difficult) " + GAP + r"(to)(?= (?!<who>))", "most", -1),
    (r"(harder|tougher|more difficult) " + GAP + r"(to)(?= (?!<who>))", "more", -1),
    (r"(easier) " + GAP + r"(to)(?= (?!<who>))", "more", 1),
    (r"(easiest) " + GAP + r"(to)(?= (?!<who>))", "most", 1),
    (r"(?:least|fewest|lowest|rarest|smallest)(?: often| likely to| of(?= all))?", "most", -1),
    (r"(?:most|highest|oftenest|biggest|largest|greatest)(?: often| frequently| of(?= all))?", "most", 1),
    (r"(?:less|fewer|lower|smaller)(?: of(?! the time))?(?: often| frequently| likely(?: to)?)?", "more", -1),
    (
        r"(?:more|higher|bigger|greater|oftener|larger)(?: of)?(?: often| frequently| likely(?: "
        r"to)?)?(?: times)?",
        "more",
        1,
    ),
    (r"harder", "more", 1),
    (r"(?:best|finest|premier|leading)", "best", 1),
    (r"(?:worst|poorest|weakest)", "best", -1),
    (r"(?:better|stronger|improved|improves|superior)(?: hitter| hitters)?", "better", 1),
    (r"(?:worse|poorer|weaker)(?: hitter| hitters)?", "better", -1),
    (
        r"(?:has|have|is|are)? ?(?:dropped off|dropped|fallen off|fallen|declined|gone down)|"
        r"(?<!it )(?:has|have|is|are|been) down|(?<=<rate> )down",
        "more",
        -1,
    ),
    (
        r"(?:has|have|is|are)? ?(?:risen|climbed|gone up|on the rise|jumped|increased)|"
        r"(?<!it )(?:has|have|is|are|been) up|(?<=<rate> )up",
        "more",
        1,
    ),
    (r"(?:drop off|dropoff)", "better", -1),
)
"""More or less; said of a rate, or of how good somebody is."""

KINDS_OF_CLAIM: tuple[tuple[str, str], ...] = (
    (r"neither hot nor cold(?: ,)?", ""),
    (r"(?:in (?:the )?(?:middle|midst) of )?(?:a |an )?hot (?:streak|stretch|spell|run)", "hot"),
    (r"(?:no ups and no downs|no ups and downs|no hot spells and no cold ones)", ""),
    (
        r"(?:in|having) (?:a |the midst of a )?(?:bad |deep )?slump(?:ing)?|slumping|ice cold|"
        r"stone cold|cold as ice|gone cold|scuffling",
        "slump",
    ),
    (r"(?:red hot|white hot|scorching hot|scorching|hot streak|hot stretch|hot hand|hot)(?: streak)?", "hot"),
    (
        r"(?:on|in the middle of|in) (?:a |an )?(?:tear|roll|heater|run)|on fire|caught fire|"
        r"locked in|in the "
        r"zone right now",
        "hot",
    ),
    (r"(?:seeing (?:it|the ball) (?:well|like a beach ball))", "hot"),
    (r"(?:steady|consistent|consistently|the same hitter|even keeled|steadily|unchanged)", "steady"),
    (
        r"(?:held|holds|holding|stayed|stays|kept|keeps|keeping|remained|remains|maintained|maintains)"
        r"(?: (?:a|an|the|his|her|their|it))?(?= <steady>)",
        "",
    ),
    (
        r"(?:a )?(?:different|new|changed) (?:hitter|man|woman|player|pitcher|club|team)|"
        r"changed as a hitter",
        "different",
    ),
    (r"lately|recently|of late|these days|nowadays", "lately"),
    (r"(?:gives?|giving|throws?) (?:his |her |the )?at bats away|automatic outs?|easy outs?", "giveaway"),
    (
        r"forget (?:about )?it(?=(?: [,.?!])| $)|no chance(?=(?: [,.?!])| $)|good night(?=(?: [,.?!])| $)",
        "struggles",
    ),
    (
        r"(?:is )?(?:an? )?(?:absolute |total )?(?:monster|beast|stud|force)"
        r"(?=(?: [,.;:?!])| $| (?:with|against|on|in|when|at) )",
        "good",
    ),
    (r"(?:halfway |pretty |fairly )?(?:decent|solid)(?=(?: [,.;:?!])| $)", "good"),
    (r"(?:is |are )?undisciplined", "undisciplined"),
    (r"(?:is )?dreaded", "dreaded"),
    (r"as the league", "asleague"),
    (
        r"(?:(?:positively|strongly|closely) )?(?:correlated?|correlates|correlation|related|linked|tied "
        r"together)|"
        r"(?:go|goes|move|moves|travel|travels) (?:together|hand in hand)|(?:relationship|connection)(?: "
        r"between)?",
        "gotogether",
    ),
    (
        r"(?:owns|own|crushes|crush|hammers|hammer|punishes|destroys|mashes|murders|feasts on|"
        r"eats up|rakes against|"
        r"kills|torches|tees off on|smashes|pounds|devours|lights up|clobbers)",
        "owns",
    ),
    (
        r"(?:struggles?|struggled|struggling|has trouble|have trouble|has problems)(?: (?:with|"
        r"against|to hit))?|can not (?:hit|handle|solve)",
        "struggles",
    ),
    (
        r"(?:good|great|terrific|excellent|outstanding|deadly|strong|tough|dangerous)(?= "
        r"(?:against|with|on|<|at))",
        "good",
    ),
    (r"(?:lousy|terrible|bad|awful|weak|helpless|lost)(?= (?:against|with|on|<|at))", "struggles"),
    (r"(?:a )?tough(?:est)? outs?", "toughout"),
    (r"sees? (?=<in>) ?(?:well)?", "sees"),
    (r"(?:more |less )?patient|patience|(?:better |good )?eye|discipline(?:d)?", "patient"),
    (r"always|every time|every single time", "always"),
    (r"never|hardly ever|almost never", "never"),
    (
        r"(?:tops|leads|lead|leading|topped|led)(?: (?:everyone|everybody|all hitters|all pitchers|all))?",
        "leads",
    ),
    (r"(?:number one|first in|no 1|second to none|tops)", "leads"),
)
"""What settles the kind of claim by itself."""

EARLY = 7
"""So many kinds of claim are found before numbers and situations are."""

RESPONDING: tuple[tuple[str, str], ...] = (
    (
        r"(?:after|following|when|whenever|once|as soon as|(?:every|each|any) time) (?:(?:he|"
        r"she|they|hitters|a hitter|"
        r"you) )?"
        r"(?:(?:has|have|is) )?(?:just )?(?:misses|missed|miss|(?:swings?|swung) through|(?:swings "
        r"and misses|swung and missed)|"
        r"swing and miss|whiffs|whiffed(?: on)?|whiff|(?:comes|came|come) up empty)"
        r"(?: one| a pitch| once| badly)?",
        "aftermiss",
    ),
    (
        r"(after|following|when|whenever|once|every time|each time|any time) (?:<who> )((?:has "
        r")?(?:just )?(?:misses|missed|"
        r"(?:swings|swung) "
        r"through|swings and misses|swung and missed|whiffs|whiffed|(?:comes|came) up empty))"
        r"((?: on)? one| a pitch| once| badly)?",
        "aftermiss",
    ),
    (
        r"(?:after|following|off|given) (?:a|the|one|every|each|his|her) (?:bad )?(?:miss|whiff|swing "
        r"and miss|swinging strike)",
        "aftermiss",
    ),
    (r"after (?:missing|whiffing|swinging and missing)(?: one)?", "aftermiss"),
    (r"learns? from (?:a|his|her|their|the) (?:miss|misses|whiffs?)", "learns"),
    (r"(you make) <who> (miss)", "aftermiss"),
    (
        r"(?:on |at )?the (?:very )?(?:next|following) (?:one|pitch|pitches|"
        r"swing)(?: after that)?(?: (?:that )?(?:he|she|they) (?:swings? at|sees?|gets?))?|"
        r"the (?:very )?next(?=(?: [,.?!])| $)",
        "next",
    ),
    (r"(?:comes|come) back swinging(?: harder)?(?: and)?", ""),
)
"""What follows a miss."""

SPOTS: tuple[tuple[str, str], ...] = (
    (
        r"(?:the )?right (?:hitter|man|woman|one|choice|bat|person)(?: (?:for|in) "
        r"(?:this|the|that) (?:spot|situation|job|last inning))?|(?:the )?(?:best|better) "
        r"(?:hitter|man|woman|one|choice|bat|person) (?:for|in) (?:this|the|that) (?:spot|"
        r"situation|job|last inning)"
        r"|(?:a |the )?(?:better|best) (?:choice|option)",
        "spot",
    ),
    (
        r"(?:is )?the (?:one|hitter|bat|man|woman) (?:i|we|you|they) (?:would )?want(?: up| at "
        r"the plate| there)?",
        "spot",
    ),
    (r"(?<=<who> )(?:your|our|my) (?:hitter|man|woman|bat|choice|pick)(?=(?: [,.?!])| $)", "spot"),
    (r"(?:the one to )?(?:send|sends|sending) up|should (?:bat|hit|pinch hit|be up)", "spot"),
    (
        r"(?:in )?(?:the )?(?:bottom|last|home half)(?: half)?(?: of)?(?: the)? (?:ninth|nine|9th|"
        r"last inning|last)(?: inning)?",
        "lasthalf",
    ),
    (r"(?:in )?(?:the )?(?:home ninth|last half inning|last inning)", "lasthalf"),
    (r"(?:with )?the game (?:tied|on the line)|tie game|tied game|tied|all even|score tied", "tied"),
)
"""The last half inning: who should bat."""

_NO_RATE = "that is not one of the rates that these claims are about"
_MADE_OF = (
    "what a hitter is made of is no count of pitches; a rate in a situation is (runner on second or third, "
    "two "
    "strikes)"
)
_LUCK = "whether somebody was treated unfairly, or was lucky, is no count of pitches; a rate and its "
"chance can be asked"
_HONOURS = "wins, runs and honours are not what these claims count; a rate can be asked"
ONE_SEASON = (
    "this table holds one season; give the earlier one to a claim of the kind `more` in Python (before=)"
)
LIMITS: tuple[tuple[str, str], ...] = (
    (
        r"throws? (?:hard|harder|hardest|faster|fastest|the hardest|gas|strikes)|(?:taller|"
        r"tallest|shorter|heavier|stronger) than|"
        r"spins? (?:more|less|tighter|faster)|(?:more|less|most|least) spin|spin rate|"
        r"height|weighs?|(?<!home )runs? (?:to|the|out|like)|(?:fastest|faster|slowest|quickest|"
        r"slower) (?:runner|man|woman|player|feet|on the)|"
        r"(?:faster|slower|quicker) than|on his feet|(?:longer|shorter|quicker|prettier|"
        r"smoother|sweetest) (?:than|swing)|"
        r"swing is (?:longer|shorter|slower|quicker|faster|pretty|ugly|flat|steep)",
        "how somebody throws, runs or is built is not in a table of pitches",
    ),
    (
        r"yesterday|last night|the other (?:day|night)|this (?:morning|afternoon|evening)|"
        r"in (?:the first|his first|her first|his last|her last) at bat|"
        r"(?:one|two|three|four|five|\d+) (?:hits|home runs|homers|strikeouts|walks|doubles|"
        r"singles|times) (?:yesterday|last|on)",
        "what happened in one game is looked up in the table and needs no claim; ask since a day",
    ),
    (
        r"(?:bat|hit|batting|hitting) (?:first|second|third|fourth|fifth|sixth|seventh|eighth|"
        r"ninth|leadoff|cleanup)|lead off|a natural|hit by (?:a |the )?(?:pitch|pitches)|bunts?|"
        r"bunting|sacrifices?|stolen|double plays?|triples?|deserves?|born for|born to|"
        r"big moments?|"
        r"moment|destiny|overrated|underrated|anthem|prettiest|prettier|ugly|pretty swing",
        _NO_RATE,
    ),
    (
        r"(?:sore|injur(?:y|ed|ies)|hurt|hurting|wrist|knee|(?<!(?:on|"
        r"of) the )(?<!on his )(?<!on her )(?<!off the )(?<!off his )(?<!off her )(?<!off their "
        r")shoulders?|"
        r"hamstring|elbow|ankle|groin|concussion|surgery|sprain(?:s|ed)?|"
        r"banged up|playing through pain|"
        r"rehab(?:bing)?|healthy)",
        "injuries are not in a table of pitches",
    ),
    (
        r"(?:clutch|heart|guts|character|leader(?:ship)?|winner|grit|gritty|confidence|confident|"
        r"nervous|nerves|choke[sd]?|"
        r"mental(?:ly)?|toughness|pressure|swagger|gamer|loves|hates|afraid|scared|hungry|focused)",
        _MADE_OF,
    ),
    (
        r"(?:contracts?|salar(?:y|ies)|wages?|bonus(?:es)?|scholarships?|sponsors?|tickets?|attendance|"
        r"penny|(?<!my )money(?: player)?|paid|overpaid|underpaid|worth|million|dollars?|raise)",
        "pay is not in a table of pitches",
    ),
    (
        r"(?:trade[ds]?|trading|deadline|signed?|waivers?|draft(?:ed)?|roster|"
        r"(?<!in the )(?<!in this )lineup|(?<!off the )bench(?:ed)?|"
        r"promot(?:e|ed)|manager|front office)",
        "what a club does with its hitters is not in a table of pitches",
    ),
    (
        r"(?:trying|tries|wants to|intends?|intention|guess(?:es|ing)?|thinks|(?<!i am )(?<!im )thinking|"
        r"looking for|sitting on|anticipat(?:es|ing)|hunting|sits on)",
        "what a hitter has in mind is not in a table of pitches",
    ),
    (
        r"(?:(?<!i )(?<!we )(?<!you )will(?! not)(?! (?:he|she|they|it) [,.?])|"
        r"(?<!i am )(?<!we are )(?<!you "
        r"are )going to|(?<!is it )(?<!it )gonna|tomorrow|(?<!hill )(?<!mound )(?<!here )"
        r"(?<!out there )tonight|next (?:week|month|year|season|game|monday|"
        r"tuesday|wednesday|thursday|"
        r"friday|saturday|sunday|series)|upcoming|by the end of|on pace|pennant|playoffs?|"
        r"forecast|predict(?:s|ed)?)",
        "what has not been played yet is in no table; whether the true rate is higher can be asked",
    ),
    (
        r"(?:defen[sc]e|defensive|defender|glove|fielding|fielder|shortstop|catcher|outfielder|"
        r"infielder|errors?|(?<!other )(?<!any )(?<!an )(?<!average )arm|throws out)",
        "fielding is not in a table of pitches",
    ),
    (
        r"(?:steals?|stolen|stealing|base runner|baserunning|fastest runner|speed on the bases|sprint)",
        "running the bases is not in a table of pitches",
    ),
    (
        r"(?:halftime|half time|touchdowns?|free throws?|volleyball|handball|rugby|football|"
        r"soccer|basketball|hockey|tennis|golf|cricket|goalkeeper|quarterback)",
        "this is about another sport",
    ),
    (
        r"(?:bat speed|fastest bat|quick(?:est)? bat|fast bat|bat path|swing path|swing plane|"
        r"uppercut|swings? (?:up|down|level) (?:at|on|through)|"
        r"swings? (?:harder|hardest|faster|fastest)|stance|mechanics|hands are|load|stride|hips|"
        r"leg kick|grip|choked up)",
        "how the bat moves is not measured in a table of pitches",
    ),
    (
        r"(?:umpires?|umps?|calls go|robbed|raw deal|strike zone judgment|cheat(?:s|ed|ing)?|"
        r"unlucky|lucky|luck)",
        _LUCK,
    ),
    (
        r"(?:batting practice|in (?:the )?(?:cages?|bullpen|practice)|"
        r"weather|cold (?:out|outside|air|nights?|days?)|(?:it is|gets|beer) cold|hot (?:nights?|days?|"
        r"out)|warm|wind(?:y)?|rain(?:y|ing|s)?(?! or shine)|temperature|humid|sun(?:shine)?|day "
        r"games?|night games?|under the lights|at home|on the road|"
        r"road games?|home games?|ballparks?|this park|indoors|dome|turf|altitude)",
        "weather, hour and place of a game are not in a table of pitches",
    ),
    (
        r"(?:years? ago|last (?:year|season)|previous (?:year|season)|career|lifetime|rookie "
        r"(?:year|season)|in his prime|(?:two|three) seasons|ever before|"
        r"all time|in history|of all time|decade)",
        ONE_SEASON,
    ),
    (
        r"(?:because|thanks to|due to|caused|the reason|which is why|(?<=^ )(?:so |and |but )?why(?= )|"
        r"makes (?:him|her|them) (?:a )?better|so that)",
        "a table of pitches shows what happened, not why",
    ),
    (
        r"(?:teammates?|clubhouse|coach(?:es)?|respects?|fans?|crowd|media|friends?|get along|"
        r"wife|husband|brother|sister|chemistry|"
        r"(?:family|parents|girlfriend|boyfriend|mother|father|kids) (?:is|are) (?:in|at|there|watching))",
        "people's dealings with each other are not in a table of pitches",
    ),
    (
        r"(?:win(?:s|ning)?|won|lose(?:s)?|lost|losing|runs? batted in|rbis?|runs scored|scores|"
        r"scored|standings|championship|title|valuable|mvp|hall of fame|all star)",
        _HONOURS,
    ),
    (
        r"(?:exit (?:speed|velocity|velo)|launch angle|(?<!ninety )(?<!90 )feet|distance|farther|farthest|"
        r"longest|spray|pulls (?:it|the|more|everything)|pulled|ball carr(?:y|ies)|opposite field|"
        r"the other way|"
        r"ground balls?|"
        r"fly balls?|line drives?|pop(?:s)? (?:up|ups)|grounders?|on base percentage|slugging|ops|"
        r"run value|total bases|extra base)",
        "that quantity is not one of the rates that these claims are about",
    ),
    (
        r"(?:bat flip|uniform|haircut|hair|smile|handsome|tall|strong arm|(?:too|so|years?|is) old|older|"
        r"oldest|young(?! <who>)|age)",
        "this is not in a table of pitches",
    ),
)
"""What cannot be asked of a table of pitches, and the plain reason."""
MANNERS_OF_SPEAKING = frozenset((_NO_RATE, _MADE_OF, _LUCK, _HONOURS))
"""Reasons whose words (luck, clutch, a winner, ugly) are often only talk: the rate beside them is offered."""

SETTING_ASIDE: tuple[str, ...] = (
    r"(?:is it|it is|is this) (?:true|right|so|correct|accurate|"
    r"(?:fair|safe|okay|ok|right|accurate|honest) to (?:say|write|claim|conclude|argue|think))(?: that)?",
    r"(?:check|tell me|say|find out|see|ask|i wonder|wonder|wondering|show me)(?: me)? (?:whether|if)",
    (
        r"(?:i would|i will|i|you could|you can|let me|we) (?:say|think|believe|tell you|argue|"
        r"bet|reckon|guess)(?: you)?(?: this)?(?: that)?"
    ),
    (
        r"(?:let us|lets) talk about it|(?:two strike )?approach(?=,)|i mean|that is(?= ,)|you "
        r"know|mind you|no question|no doubt|without a doubt"
    ),
    (
        r"for my money|in my (?:book|view|opinion)|if you ask me|believe me|make no mistake|"
        r"believe it or not|of course|by far|hands down"
    ),
    (
        r"(?:ladies and gentlemen|folks|partner|my friends|well|look|listen|hey|boy|man oh man|"
        r"wow|say|okay|ok|yes|mister|right now(?! leads)|miss(?=,))(?= )"
    ),
    (
        r"let (?:us )?talk about (?:it|that|this)|(?:nobody|no one) (?:is going to|will|would) "
        r"call (?=<who> an? [^,.:;]*[:;.] )"
    ),
    r"the one(?= who| that)|when it comes to|in terms of|as far as|by the numbers",
    r"at the plate|at a|clip",
    (
        r"or so|or (?:not?|nah)(?=(?: [.?!])| $)|allow(?:s|ing)?|draw(?:s|ing)|inducing|earn(?:s|ing)?|"
        r"collects?|racks? up|gives? up|surrenders?|induces?|generat(?:es?|ing)|(?:he|she|they) (?:sees|"
        r"faces|gets(?! (?:(?:more|fewer|less|the most|the fewest|a) )?hits? ))|(?:does|do)(?= ,|$)|in "
        r"general|as a hitter|as hitters|in the batters box|"
        r"stepping in|young (?:man|lady)"
    ),
    r"(?:far|much|way|even|a lot|lots|a good deal|considerably|significantly|noticeably|"
    r"clearly|slightly|a bit|a little|somewhat)"
    r"(?= <| more| less| fewer| better| worse| higher| lower| harder| greater| larger| smaller| easier)",
)
"""Turns of speech that ask for nothing."""

# fmt: off
FILLERS = frozenset((
    "a", "an", "the", "of", "in", "on", "at", "to", "for", "with", "by", "from", "and", "is", "are",
    "be", "been", "being", "has", "have", "had", "having", "do", "does", "did", "it", "its", "he",
    "she", "they", "him", "her", "his", "their", "them", "we", "us", "you", "i", "me", "my", "your",
    "our", "that", "this", "these", "those", "there", "here", "as", "so", "really", "truly",
    "actually", "simply", "quite", "very", "still", "already", "ever", "hitter", "hitters",
    "batter", "batters", "pitcher", "pitchers", "club", "clubs", "team", "teams", "player",
    "players", "guy", "guys", "man", "woman", "ball", "balls", "pitch", "pitches", "rate", "rates",
    "percentage", "share", "time", "times", "kind", "type", "get", "gets",
    "getting", "got", "gotten", "go", "when", "where", "which", "who", "what", "whom", "into",
    "against", "facing", "versus", "about", "him", "herself", "himself", "hit", "hits", "hitting",
    "bat", "bats", "batting", "make", "makes", "making", "made", "put", "puts", "putting",
    "all", "ones", "thing", "anything", "season", "now", "overall",
    "league", "game", "games", "year", "like", "look", "looks", "gets", "another", "lot", "lots",
    "way", "even", "question", "claim", "check", "please", "rank", "ranks", "ranked",
    "suit", "suits", "approach", "true", "sure", "around", "case", "seem", "seems",
    "bit", "own", "such", "stands", "show", "shows", "showing", "faced", ",", ".", ":", ";", "!",
    "?",
))
# fmt: on
"""Words that change nothing where no phrase has taken them."""

# fmt: off
BARE = frozenset((
    "he", "she", "they", "him", "her", "his", "hers", "it",
))
# fmt: on
"""Somebody who is not named."""


def vocabulary() -> frozenset[str]:
    """Return the words of all tables: what is one of them is not taken for a name by itself."""
    tables = (
        RATES,
        PHRASAL,
        PERS,
        SITUATIONS,
        COMPARING,
        CONNECTED,
        KINDS_OF_CLAIM,
        RESPONDING,
        SPOTS,
        LIMITS,
    )
    texts = [str(row[0]) for table in tables for row in table] + list(SETTING_ASIDE)
    return frozenset(word for text in texts for word in re.findall(r"[a-z]{3,}", text)) | FILLERS


def slot_words() -> frozenset[str]:
    """Return the words of which situations and rates are made: where one stands, something is said."""
    tables = (RATES, PHRASAL, PERS, SITUATIONS, SPOTS, HANDS)
    texts = [str(row[0]) for table in tables for row in table]
    counted = frozenset(("strike", "strikes", "outs", "inning", "innings", "pitches", "left", "right"))
    found = frozenset(word for text in texts for word in re.findall(r"[a-z]{4,}", text))
    return (found - FILLERS - {"over"}) | counted
