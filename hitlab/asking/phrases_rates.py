"""The trade's words for what is done, and the rates that they ask for."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hitlab.asking.text import GAP

__all__ = [
    "CHASES",
    "CONTACT",
    "FOULS",
    "HARD",
    "HITS",
    "HOMERS",
    "IN_PLAY",
    "LAYS_OFF",
    "OF_HARD",
    "PERS",
    "PHRASAL",
    "RATES",
    "STRIKEOUTS",
    "SWINGS",
    "TAKES",
    "WALKS",
    "WHIFFS",
    "Rate",
]


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
    (
        r"(?:go|goes|going|gone|went)(?: right| straight)?(?: back)? after|offer(?:s|ed|ing)? at|"
        r"jump(?:s|ed|ing)? on|ambush(?:es)?",
        SWINGS,
    ),
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
        r"hits(?= <per>| than )",
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
        rf"{_OF} {_HIS}balls in play|per balls? in play|when(?:ever)? (?:he|she|they) (?:does |do |"
        rf"actually )?"
        rf"{_PUT} (?:it|the ball) in play",
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
