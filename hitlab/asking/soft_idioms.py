"""Turns of talk that the soft reading puts plainly first, in the words that its tables of cues know.

Most are made of a verb, what may stand between, and a noun: one row has all that is said so. They are read in
order over folded words; what is found by them is offered and never read.
"""

from __future__ import annotations

from hitlab.asking.numbers import MONTHS
from hitlab.asking.text import Rows

__all__ = ["IDIOMS"]

_MONTH = rf"(?:{'|'.join(MONTHS)})"
_DAY = (
    rf"(?:(?:the )?\w+(?: \w+)? of {_MONTH}|(?:\d\d?(?:st|nd|rd|th)? )?{_MONTH}(?: (?:the )?(?:\d\w*|"
    rf"\w+(?:st|nd|rd|th)))?)"
)
_IT = r"(?:it|em|them|one|the ball|the baseball|a ball|balls|pitches|something|anything|everything)"
_YARD = r"(?:yards?|parks?|ballparks?|building|fences?|walls?)"
_BARE = r"(?:nothing|only|just|all|but|mostly|thin|fresh|hot|empty|pure|a lot of|lots of)"
_BATTERS = (
    r"(?:him|her|them|em|you|us|folks|people|guys|batters|hitters|bats|anyone|anybody|everyone|somebody)"
)
_ALL = (
    r"(?:everyone|everybody|all (?:the )?(?:others|hitters|pitchers|clubs)|the others|the rest|most|"
    r"other \w+)"
)
_PAUSE = r"(?:(?= [,.?!;:])|(?= ?$))"

_TYPED: Rows = (
    (r"em", "them"),
    (r"gimme", "give me"),
    (r"(she|he|that|what|there|who|here)s(?= )", r"\1 is"),
    (r"(which|what) (?:side|outfit|bunch|crew)(?= )", r"\1 club"),
)  # fmt: skip
"""Short forms, and of whom it is."""

_DONE: Rows = (
    (r"(?:in|into) fair (?:ground|territory|grass)", "in play rate"),
    (r"(?:put|puts|putting|let|lets|letting) ((?:\w+ ){0,4}?)on (?:for free|for nothing|free|"
     r"without a swing|base for free)", r"\1 walks"),
    (r"(?:knocks?|(?<!<who> )(?<!h.. )hits|balls|it) (?:drop|fall|land)\w*(?: in)?"
     r"(?: all over)?", "base hits"),
    (r"(?:let|lets|letting|leave|leaves) (?:\w+ ){1,4}alone(?= )", "takes"),
    (r"loudest", "hits it hard most"),
    (r"lay(?:s|ing)? off (?:the |of )?(?:junk|garbage|slop|trash|bad (?:pitches|stuff|balls|ones)|"
     r"(?:pitches|stuff|balls) (?:off|out of|outside) (?:of )?the (?:zone|plate))", "chases less"),
    (r"out ?homers?(?:ed)?(?= )", "home runs more than"),
    (r"(?:cut|cuts|trimmed|trims|slashed|shaved|curbed|lowered|reduced|shrunk) (?:back |"
     r"down )?(?:on )?(?:his|her|their|the)(?= )", "less"),
    (r"(?:raised|upped|boosted|hiked|doubled|lifted|bumped up|jacked up) (?:his|her|their|the)(?= )", "more"),
    (r"(?:hit|hits|hitting) ((?:the )?(?:most|fewest|more|fewer|a lot of|plenty of|many|"
     r"so many)) (?=(?:home runs?|homers?|bombs?|dingers?|long ?balls?|taters?))", r"\1 "),
    (r"comes? up with (?:nothing but |only |just )?(?:thin |fresh )?air", "whiffs"),
    (r"(?:nastiest|meanest|filthiest|trickiest|cruelest|worst) (?=(?:\w+ ){0,4}to (?:get|touch|hit|make|"
     r"square|barrel|put|reach|find))", "toughest "),
    (r"(?:get|put|lay) (?:a |the )?(?:bat|stick|wood|barrel) on(?= ?(?:[.,?!]|$))", "make contact"),
    (r"fair balls", "balls in play"),
    (r"(?:go|goes|going|went) for (?:it|one|them)(?= )", "swings at"),
    (r"fan(?:s|ned|ning)? on (?=(?:it|them|those|that|these|<in>|sliders?|curves?|fastballs?|changeups?|"
     r"heaters?))", "whiffs on "),
    (r"off (?:his|her|their) swings", "of her swings"),
    (rf"(?:find|hit|cut|catch|get|beat|fan|touch|carve|grab|swing at|come up with)(?:s|es|ing|ting|"
     rf"ning)? (?:{_BARE} )*(?:air|breeze|wind)|found (?:{_BARE} )*air|(?:creat|mak|generat)(?:es?|"
     rf"ing) (?:a |some )?"
     r"breeze|windmill(?:s|ing)?|swings? and nothing", "whiffs"),
    (r"(?<!not )(?:find|meet|meets|finds|meeting|finding) (?:the (?:ball|baseball)|it|"
     r"them)(?: with (?:the|his|her) bat)?|(?:get|gets|getting|got|put|puts|putting) (?:a |some |any |"
     r"the )?(?:wood|lumber|bat|barrel|stick|piece) (?:on|of) "
     rf"(?:{_IT})|nicks? (?:it|one|them)(?! foul)", "makes contact"),
    (r"(?:good|solid|real|loud|firm|serious) (?:wood|lumber|knocks?|thump|thunder|noise|smacks?)|(?:put|"
     r"puts|putting|lay|lays) (?:good wood|a (?:hurt|hurting|jolt|licking|charge|dent)) (?:on|in|into) "
     rf"(?:{_IT})|with (?:authority|venom|thunder|malice)|on the (?:fat part|meat)(?: of the bat)?|"
     r"(?:make|makes|making) (?:it|the ball|them) (?:scream|hum|sing|hurt|pay|squeal)|(?:ring|rings|jump|"
     r"jumps|comes?|rockets?|leaps?) (?:loud |hot )?off (?:the|his|her|their) (?:bat|barrel)|"
     r"frozen ropes?|(?:hit|hits|knock|knocks|beat|beats|rip|rips) the (?:\w+ ){1,2}(?:out of|off) (?:it|"
     r"them|the ball)|(?:tagg?|bash|clout|slug|sock|wail|rattl|thwack|whal|muscl|thump|sting|clock|bruis|"
     r"hurt)(?:e|s|es|ed|ing|er|ers)?"
     rf"(?: on)? (?={_IT} )", "hits it hard "),
    (rf"(?:rung|ring|rings|ringing|rang) (?:{_BATTERS} )?up|(?:sit|sits|sat|set|sets|sitting|setting|go|"
     rf"goes|going|went|sent|send|sends|mow|mows|mowing|put|puts) (?:{_BATTERS} )?(?:back )?(?:down|"
     rf"away) (?:on strikes|looking|"
     r"swinging|by strikeout)|(?:back|trudg\w*|heads?|heading|returns?) (?:back )?to the (?:bench|"
     r"dugout) (?:on strikes|empty handed)|mow(?:s|ing)? (?:them|batters|hitters|people) down|"
     r"strikes? three", "strikes out"),
    (r"(?:trot|stroll|jog|amble|saunter|wander|mosey|stroll|skip|head|get|walk)(?:s|ed|ing|ting|"
     r"ging)? (?:\w+ )?(?:down )?to first(?: base)?|four balls|ball four|(?:freebie|free base|free ninety|"
     r"free ticket|free trip|free bag)s?(?: to first)?|(?:put|puts|"
     r"putting) (?:[^ ]+ ){0,6}?on with (?:a )?walks?|(?:tak|work|coax|earn|draw)(?:e|es|ing|s|"
     r"ed) (?:\w+ ){0,2}(?:free (?:pass|base)(?:es|s)?)", "walks"),
    (rf"(?:leav|clear)(?:e|es|s|ed|ing) the {_YARD}|(?:fly|flies|flying|flew|sail|go|carry|carries|hit|hitt|"
     r"launch|deposit|put|putt|send|sent|land|knock)(?:s|es|ed|ing)? (?:\w+ ){0,3}?(?:over the (?:fences?|"
     rf"walls?)|out of (?:the )?{_YARD}|(?:into|in) the (?:seats|stands|bleachers|bullpen))|"
     r"touch(?:es|ed|ing)? them all|four baggers?|four bases at once",
     "home runs "),
    (r"(?:sit|sits|sat|sitting) on (?:his|her|their) hands|(?:bat|stick|lumber) (?:glued|stuck|"
     r"nailed) (?:\w+ )?(?:to )?(?:his|her|the) shoulder|(?:freez|star|gaz|gawk)(?:e|es|ing|"
     r"s)?(?: at)? (?:the|it|them|a|that)? ?(?:pitch(?:es)?|strikes?|one|it|first one)?(?= (?:go|sail|"
     r"drift|float)?)|(?:let|lets) (?:it|them|the \w+(?: \w+)?) (?:sail|drift|float|go) by|left alone|"
     r"leaves? (?:it|them|those|\w+ \w+) alone|(?:is|are|gets?) (?:left|taken)"
     r"(?= (?:[,.?!]|by|with|alone)| ?$)",
     "takes "),
    (r"(?:let|lets|letting) (?:it |one |her |him |them )?(?:fly|rip|go at it)|(?:have|has|having|take|"
     r"takes|taking) (?:a |another )?(?:go|hack|cut|swipe|poke|whack|lash|rip) at|hack(?:s|ing)? (?:away|"
     r"again)|come(?:s)? out (?:swinging|hacking)|(?:swipe|lash|jump|pounc)(?:s|e|es|ing)? (?:at|"
     r"on)", "swings at"),
)  # fmt: skip
"""What is done, and out of what: a verb, what may stand between, and a noun."""

_WHERE: Rows = (
    (r"(?:on |at )?pitch (?:one|1|number one|no 1)|(?:opening|initial|very first|leadoff|first) (?:pitch|"
     r"ball|offering|one|delivery)(?:es|s)?", "first pitch"),
    (r"(?:if )?(?:you are )?(?:scoring|watching|playing along|listening|following along|"
     r"keeping score) at home", ""),
    (r"(?:anything|stuff|pitches|balls|something|things|whatever|everything|one|ones) that (?:bends?|"
     r"breaks?|curves?|spins?|hooks?|dives?|snaps?)", "breaking balls"),
    (r"(?:tying|winning|go ahead|insurance|lead) run (?=(?:on|at|in))", "a runner "),
    (r"(?:with )?(?:one|two|three|a couple|a pair|a man|men) on(?= (?:and|,|[.?!]|with|in|when|nobody|two|"
     r"one|no|$))", "runners on"),
    (r"ninety feet (?:away )?from (?:home|the plate|scoring)(?: plate)?", "on third"),
    (r"in (?:other|somebody|someone|opposing|enemy) (?:else )?(?:\w+ )?(?:parks?|ballparks?|yards?)|"
     r"in (?:their|other) buildings?", "awayhalf"),
    (r"own (?:park|yard|ballpark|ground) only|in (?:his|her|their) own (?:park|yard)", "homehalf"),
    (r"(?:a|one) strike (?:away )?from (?:\w+ ?){1,3}|(?:one|a) strike (?:left|to go|remaining)|"
     r"down to (?:one|the last|a last) strike|with two on (?:him|her|them)|(?:once|when|"
     r"after) (?:\w+ )?(?:has|have|is|are|gets?) (?:\w+ )?(?:at |to )?two strikes", "with two strikes "),
    (r"(left|right)(?:y|ies|ie)? (?:handed )?(?:sticks?|bats|swingers?|thumpers?|sluggers?|"
     r"batters?)", r"\1 handed hitters"),
    (r"(?:late|later|deep) in(?:to)? (?:the )?(?:games?|ball ?games?|contests?)|(?:in )?the (?:late|later|"
     r"closing|final|last (?:two|three|few)) innings|(?:seventh|7th)(?: inning)? (?:on|onwards?|forward|"
     r"and (?:beyond|later|on|after)|or (?:after|later))", "late innings"),
    (r"(?:with )?(?:company|passengers|traffic|ducks|customers|mates|teammates|runners|somebody|someone|"
     r"anybody|anyone|men|people|guys|bodies)(?: (?:is|are))? (?:on (?:the )?(?:pond|bases?|paths|"
     r"basepaths|sacks|bags)|aboard|around|out there)",
     "runners on"),
    (r"(?:with|than|than with|when) (?:nobody|no one|none|no company)(?: (?:is|are))? (?:about|around|"
     r"out there)|"
     r"(?:nobody|no one) on the bases",
     "bases empty"),
    (r"(?:at home|in (?:his|her|their|its|the) (?:own |home )(?:park|yard|ballpark|ground|digs|house|"
     r"building)|home (?:games?|cooking|dates)|(?<=in )home parks?|on home (?:turf|soil|ground|dirt)|"
     r"before (?:his|her|their) own (?:fans|crowd))",
     "homehalf"),
    (r"(?:on the road|road games?|away games?|on (?:their|his|her) travels|as (?:the )?(?:visitors?|"
     r"guests?)|as the road (?:team|club)|in (?:someone|somebody|other people|"
     r"other clubs?)(?: else)? (?:s )?(?:parks?|yards?)|away from (?:home|<who>))",
     "awayhalf"),
)  # fmt: skip
"""Where and when; the home club bats in the bottom half."""

_COMPARED: Rows = (
    (r"(?:at most|no more than|only|just|maybe) (one|two|three|four) (?:names?|people|hitters|girls|guys|"
     r"others|players|bats)? ?(?:in front of|ahead of|above|over)(?= <who>)", r"\1 hitters do it more than"),
    (r"(?:a )?(half|quarter|third|fourth|fifth|tenth) (?:or (?:so|thereabouts)|give or take|"
     r"ish)(?= of )", r"about a \1"),
    (rf"what {_ALL}(?: else)?(?: (?:manages?|does|do|gets?|can|has|have|hits?|puts? up))", "the league"),
)  # fmt: skip
"""With whom or what it is compared, and numbers."""

_SINCE: Rows = (
    (rf"now (?:that )?(?:it is|its|we are in|it has turned|we have hit) (?=(?:the )?{_DAY})", "since "),
    (rf"(?:since|from) (?:about |around )?late ({_MONTH})", r"since \1 21"),
    (rf"(?:since|from) (?:about |around )?early ({_MONTH})", r"since \1 1"),
)  # fmt: skip
"""Since when."""

_SPELLS: Rows = (
    (r"(?:is|are|been|gone|turned|looks?) (?:ice|frigid|frozen|freezing|icy|chilly|arctic|lifeless|"
     r"a ghost)(?: cold)?(?= )", "cold"),
    (r"(?:just |finally |suddenly )*(?:woke|woken|wakes|waking|sprung) (?:up|to life|alive)", "hot better"),
    (r"(?:at )?(?:an?|the) (?:identical|unchanging|unvarying|constant|uniform|level|even|fixed) (?:clip|"
     r"rate|pace|lick|level|share)|(?:whatever|whichever|no matter (?:the|what|which)|in any|"
     r"in every) (?:month|week|day|date|stretch)(?: (?:it is|you (?:pick|choose|like|look at)))?|"
     r"(?:one )?flat line|(?:april|may) or (?:june|may|july)(?= ,)|never moves|same (?:helping|dose|"
     r"amount|share|number|serving)|start to finish|wire to wire", "steady"),
    (r"(?:can|could) not hit (?:water|a barn|the floor|the ocean|sand|a beach|the broad|a watermelon|"
     r"a cow)(?: (?!at|right|lately|of|these)\w+)*", "cold"),
    (r"seeing (?:\w+ )?(?:beach ?balls?|melons?|grapefruits?|watermelons?|pumpkins?|balloons?)", "hot"),
    (r"gone off (?:again )?(?=(?:on|with) )", "hot "),
    (r"gone? (?:to sleep|silent|missing|dead|flat|dormant|awol|south|dark)|asleep(?: at the \w+)?|"
     r"in hibernation|hit (?:a|the) wall|(?:has|have) lost (?:it|his|her) (?:stroke|swing|touch)?|"
     r"can not buy|in the (?:tank|doldrums)|ice cold|(?:off|gone off) the boil|(?:has |"
     r"have )?forgotten how to hit", "cold"),
    (r"found (?:a|an|his|her|the)(?: real| nice)? (?:groove|rhythm|stroke|stride|range|form)|in (?:a|"
     r"the)(?: real| nice| good)? (?:groove|rhythm)|caught lightning(?: in a bottle)?|(?:seeing|"
     r"hitting) (?:it|the ball) like (?:crazy|mad|(?:a )?(?:beach|house)[a-z]*)|on a hot one|"
     r"can not (?:miss|make an out)(?= (?:[,.?!]|lately|right)| ?$)|"
     r"(?:swinging|waving) a (?:hot|magic) (?:stick|wand|bat)|"
     r"going off(?= (?:[,.?!]|lately|right)| ?$)|red hot|feeling (?:his|her) oats|smoking (?:hot)?", "hot"),
    (r"budged?|flat as \w+ \w+|flat ?lin(?:e|ed|ing)|move[ds]? the needle|stay(?:s|ed|ing)? put|"
     r"on an even keel|(?:one and )?the same (?:clip|pace|rate|lick|level|mark|speed)|like a (?:clock|"
     r"metronome|machine)|(?:not|never) (?:\w+ )?(?:moved|wavered|drifted|strayed|shifted|swung about)|"
     r"set (?:your|my|a|the) watch (?:by|to)|same in "
     rf"{_MONTH} as in {_MONTH}", "steady"),
)  # fmt: skip
"""Hot, cold, steady, changed."""

_AFTER: Rows = (
    (r"(?:you |they |we )?(?:blow|get|throw|sneak|zip|slip|buzz)s? (?:one|it|something|a \w+) (?:by|"
     r"past)(?= <who> .*(?:next|following|then|again) )", "after a miss"),
    (r"the one (?:right )?(?:behind|after) it|whatever comes next|the next thing|"
     r"what comes next", "the next one"),
    (r"(?:one|a|an|his|her|the)(?: \w+){0,2} (?:hack|miss|whiff|swing and miss|swing and a miss|"
     r"empty swing)s? (?:leads?|begets?|breeds?|brings?|invites?|follows?|turns?|makes?)(?: \w+)? (?:to |"
     r"on |into |for )?another", "after a miss misses next "),
    (r"(?:climb|rise|go|travel|move|walk|march|run|track|rise and fall|hang out|show up|come)(?:s|"
     r"es)? (?:side by side|hand in (?:hand|glove)|in (?:step|tandem|lockstep|pairs?|pair)|arm in arm|"
     r"as a pair|together|with each other)|(?:part of )?a package deal|come (?:as|in) a (?:pair|set)|"
     r"two sides of (?:the same|one) coin|birds of a feather|line up|track (?:each other|"
     r"one another)", "go together"),
)  # fmt: skip
"""What follows a miss, and what goes with what."""

_SENT_UP: Rows = (
    (r"who (?:ve|have) (?:i|we|you) got|who (?:do|should|would) (?:i|we|you) (?:got|have|want|need|like)|"
     r"(?:give|need|want|tell|throw) (?:me )?(?:a|the|one|your|some) names?|name (?:a|one|"
     r"the) name", "who should hit"),
    (r"(?:pinch|sub|swap) (?:hit )?for (?:the |my )?\w+", "who should hit"),
    (r"(?:which|what|whose) (?:bat|stick|hitter|kid|player|guy) off (?:my|the|"
     r"our) bench", "who should hit off the bench"),
    (r"who (?:do|would|should|will|can|could) (?:you|we|i|they|the \w+) (?:\w+ )?(?:hand|give|trust|call|"
     r"tab|tap|turn|go|reach|roll|bring|summon|back|choose|pick|send|sub)(?: (?:to|on|for|with|out|in|up|"
     r"off))*(?: (?:the|that|a) (?:bat|stick|lumber|ball|nod|call|at bat))?(?: (?:to|with|"
     r"for))*", "who should hit"),
    (r"(?:whose|what|which) (?:name|number) (?:goes|do|would|should|is|gets|comes)(?: \w+){0,5}|"
     r"who(?: \w+)? (?:gets?|grabs?) the (?:call|nod|bat|stick|start)|who is (?:your|my|our|the) (?:pick|"
     r"hitter|man|woman|choice|bat|pinch hitter|call)|(?:name|pick|find|give|get|hand|choose|show) (?:me |"
     r"us )?(?:a|one|the|some|my|your|our)?(?: right| best| good)?(?: <who>)? ?(?:pinch )?(?:hitter|bat|"
     r"stick|batter)(?= |$)", "who should hit"),
)  # fmt: skip
"""Who is to hit."""

IDIOMS: Rows = (
    *(*_TYPED, *_SINCE, *_AFTER, *_DONE),
    *(*_WHERE, *_COMPARED, *_SPELLS, *_SENT_UP),
)
"""What is said so, and the plain words for it, in the order in which it is looked for.

What follows a miss stands before what is done: "blow one by her" is a miss, and what leads to the next pitch.
"""
