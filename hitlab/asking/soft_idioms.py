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
    rf"(?:(?:the )?\w+(?: \w+)? of {_MONTH}|"
    rf"(?:\d\d?(?:st|nd|rd|th)? )?{_MONTH}(?: (?:the )?(?:\d\w*|\w+(?:st|nd|rd|th)))?)"
)
_HE = r"(?:he|she|they|you|one|somebody|<who>)"
_IT = r"(?:it|em|them|one|the ball|the baseball|a ball|balls|pitches|something|anything|everything)"
_HER = r"(?:his|her|their|a|the|its|that)"
_YARD = r"(?:yards?|parks?|ballparks?|building|fences?|walls?|seats|stands|bleachers|bullpen)"
_BARE = r"(?:nothing|only|just|all|but|mostly|thin|fresh|hot|empty|pure|a lot of|lots of)"
_BATTERS = (
    r"(?:him|her|them|em|you|us|folks|people|guys|batters|hitters|bats|anyone|anybody|everyone|somebody)"
)
_ALL = (
    r"(?:everyone|everybody|all (?:the )?(?:others|hitters|pitchers|clubs)|the others|the rest|most|"
    r"other \w+)"
)
_PAUSE = r"(?:(?= [,.?!;:])|(?= ?$))"

IDIOMS: Rows = (
    (r"(?:ya|ye|yall|y all)(?= )", "you"),
    (r"em", "them"),
    (r"n", "and"),
    (r"(which|what) (?:side|outfit|bunch|crew)(?= )", r"\1 club"),
    (r"(?:get|gets|got|are|is|was|were) left alone(?: by)?", "takes"),
    (r"(?:in the |a )?ballpark(?= (?:\d|a |[a-z]+ty |[a-z]+teen |ten |eleven |twelve ))", "about"),
    (r"d(?= (?:you|we|i) )", "do"),
    (r"(?:bunch|crew|lot|side|group|mob|gang)(?= (?:at|in|for|on|when|with) )", "club"),
    (r"(?<=best )half dozen|(?<=top )half dozen", "six"),
    # Misses.
    (rf"(?:find|hit|cut|catch|get|beat|fan|touch|carve|grab|swing at|come up with)(?:s|es|ing|ting|ning)? "
     rf"(?:{_BARE} )*(?:air|breeze|wind)|found (?:{_BARE} )*air|(?:creat|mak|generat)(?:es?|ing) (?:a |"
     rf"some )?"
     r"breeze|windmill(?:s|ing)?|swings? and nothing", "whiffs"),
    (rf"(?:throw|zip|slip|sneak|get|run|blow|buzz|whistle|beat)(?:s|ing|ting|ning)? (?:\w+ ){{0,3}}?(?:by|"
     rf"past) "
     rf"(?=(?:{_BATTERS}|<who>|the (?:hitter|batter|bat)s?) )", "whiffs by "),
    (r"(?:that|the|his|her) swing has (?:a |some )?holes?(?: in it)?|holes in (?:his|her|the|that|"
     r"their) (?:bat|swing)|"
     r"(?:swing|hack|cut|flail)\w* (?:\w+ )?(?:and|without) (?:get\w* nothing|touch\w*|find\w* (?:it|"
     r"nothing))",
     "whiffs"),
    # Contact.
    (r"(?:find|meet|meets|finds|meeting|finding) (?:the (?:ball|baseball)|it|them)(?: with (?:the|his|"
     r"her) bat)?|"
     r"(?:get|gets|getting|got|put|puts|putting) (?:a |some |any |the )?(?:wood|lumber|bat|barrel|stick|"
     r"piece) (?:on|of) "
     rf"(?:{_IT})|nicks? (?:it|one|them)(?! foul)", "makes contact"),
    (r"(?:keep|keeps|hit|hits|put|puts|leave|leaves) (?:it|them|the ball|one) (?:fair|between the lines|"
     r"in fair "
     r"territory|in the field)", "puts it in play"),
    # Fouls.
    (r"(?:nick|tip|slap|flick|chip|knock|hit|slice|send|poke)(?:s|ped|ed|ping|ing)? (?:\w+ ){0,2}?(?:foul|"
     r"into the "
     r"(?:seats|stands|screen)|out of play|back to the screen)|stay(?:s|ing)? alive|"
     r"foul(?:s|ed|ing)? (?:\w+ ){0,2}?(?:back|away|straight back)", "fouls"),
    # Hit hard.
    (r"(?:good|solid|real|loud|firm|serious) (?:wood|lumber|knocks?|thump|thunder|noise|smacks?)|"
     r"(?:put|puts|putting|lay|lays) (?:good wood|a (?:hurt|hurting|jolt|licking|charge|dent)) (?:on|in|"
     r"into) "
     rf"(?:{_IT})|with (?:authority|venom|thunder|malice)|on the (?:fat part|meat)(?: of the bat)?|"
     r"(?:make|makes|making) (?:it|the ball|them) (?:scream|hum|sing|hurt|pay|squeal)|(?:ring|rings|jump|"
     r"jumps|comes?|"
     r"rockets?|leaps?) (?:loud |hot )?off (?:the|his|her|their) (?:bat|barrel)|frozen ropes?|"
     r"(?:hit|hits|knock|knocks|beat|beats|rip|rips) the (?:\w+ ){1,2}(?:out of|off) (?:it|them|the ball)|"
     r"(?:past|bash|clout|slug|sock|wail|rattl|thwack|whal|muscl|thump|sting|clock|bruis|hurt)(?:e|s|es|"
     r"ed|ing|er|ers)?"
     rf"(?: on)? (?={_IT} )", "hits it hard "),
    # Strikeouts.
    (rf"(?:rung|ring|rings|ringing|rang) (?:{_BATTERS} )?up|(?:sit|sits|sat|set|sets|sitting|setting|go|"
     rf"goes|going|"
     rf"went|sent|send|sends|mow|mows|mowing|put|puts) (?:{_BATTERS} )?(?:back )?(?:down|"
     rf"away) (?:on strikes|looking|"
     r"swinging|by strikeout)|(?:back|trudg\w*|heads?|heading|returns?) (?:back )?to the (?:bench|"
     r"dugout) (?:on "
     r"strikes|empty handed)|mow(?:s|ing)? (?:them|batters|hitters|people) down|"
     r"strikes? three", "strikes out"),
    (r"(?:not|never|hardly|rarely) (?:[a-z]+ ){0,2}go down on strikes", "strikes out less"),
    # Walks.
    (r"(?:trot|stroll|jog|amble|saunter|wander|mosey|stroll|skip|head|get|walk)(?:s|ed|ing|ting|"
     r"ging)? (?:\w+ )?"
     r"(?:down )?to first(?: base)?|four balls|ball four|(?:freebie|free base|free ninety|free ticket|"
     r"free trip|"
     r"free bag)s?(?: to first)?|(?:put|puts|putting) (?:[^ ]+ ){0,6}?on with (?:a )?walks?|(?:tak|work|"
     r"coax|earn|draw)"
     r"(?:e|es|ing|s|ed) (?:\w+ ){0,2}(?:free (?:pass|base)(?:es|s)?)", "walks"),
    # Home runs.
    (rf"(?:leav|clear|fly|flie|flew|sail|go|goe|carr|hit|launch|deposit|park|put|send|land)(?:e|s|es|ed|"
     rf"ing|y|ies|ying)? "
     rf"(?:\w+ ){{0,3}}?(?:over |out of |into |in |from )?(?:the )?{_YARD}(?! (?:factor|is|has))|"
     r"out homer(?:s|ed|ing)?|touch(?:es|ed|ing)? them all|four baggers?|four bases at once|leaves? the yard",
     "home runs "),
    # Hits.
    (r"(?:reach|reaches|reaching|get|gets|getting|get|got) (?:on )?(?:base|aboard|on)(?! (?:with|when|in|"
     r"the|by|error)) ?"
     r"(?:safely|with a hit)?|(?:find|finds|finding) (?:grass|green|holes?|a hole|gaps?)|bingles?|"
     r"safet(?:y|ies)",
     "base hits"),
    (r"(?:average|batting average) (?:north|south) of", "batting average over"),
    # Takes.
    (r"(?:sit|sits|sat|sitting) on (?:his|her|their) hands|(?:bat|stick|lumber) (?:glued|stuck|"
     r"nailed) (?:\w+ )?(?:to )?"
     r"(?:his|her|the) shoulder|"
     r"(?:freez|star|gaz|gawk)(?:e|es|ing|s)?(?: at)? (?:the|it|them|a|that)? ?(?:pitch(?:es)?|strikes?|one|"
     r"it|first one)?(?= (?:go|sail|drift|float)?)|(?:let|lets) (?:it|them|the \w+(?: \w+)?) (?:sail|"
     r"drift|float|go) by|"
     r"left alone|leaves? (?:it|them|those|\w+ \w+) alone|(?:is|are|gets?) (?:left|taken)", "takes "),
    # Swings.
    (r"(?:let|lets|letting) (?:it |one |her |him |them )?(?:fly|rip|go at it)|(?:have|has|having|take|"
     r"takes|taking) (?:a |"
     r"another )?(?:go|hack|cut|swipe|poke|whack|lash|rip) at|hack(?:s|ing)? (?:away|again)|"
     r"come(?:s)? out (?:swinging|"
     r"hacking)|(?:flail|wave|swipe|lash|jump|pounc)(?:s|e|es|ing)? (?:at|on)", "swings at"),
    # Where and when.
    (r"(?:a|one) strike (?:away )?from (?:\w+ ){1,3}(?= |$)|(?:one|a) strike (?:left|to go|remaining)|"
     r"down to (?:one|"
     r"the last|a last) strike|with two on (?:him|her|them)|(?:once|when|after) (?:\w+ )?(?:has|have|is|"
     r"are|gets?) "
     r"(?:\w+ )?(?:at |to )?two strikes", "with two strikes "),
    (r"(?:opening|initial|very first|leadoff|first) (?:pitch|ball|offering|one|delivery)(?:es|s)?|"
     r"pitch number one|"
     r"(?:the )?very first (?:ball|pitch|thing)(?: (?:he|she|they) sees?)?", "first pitch"),
    (r"(left|right)(?:y|ies|ie)? (?:handed )?(?:sticks?|bats|swingers?|thumpers?|sluggers?|"
     r"batters?)", r"\1 handed hitters"),
    (r"southpaw (?:sticks?|bats?|swingers?|hitters?|batters?)", "left handed hitters"),
    (r"(?:a |the )?(left|right)y(?: is)? (?:(?:out )?(?:on|atop) the (?:hill|mound|bump|rubber)|throwing|"
     r"pitching|dealing|"
     r"chucking|in there|toeing \w+ \w+)", r"against \1 handed pitchers"),
    (r"(?:a |the )?southpaw(?: is)? (?:(?:out )?(?:on|atop) the (?:hill|mound|bump|rubber)|throwing|"
     r"pitching|dealing|chucking|"
     r"in there)", "against left handed pitchers"),
    (r"(?:in|from) (?:the )?innings? (?:one|1) (?:to|through) (?:six|6)", "otherwise"),
    (r"(?:late|later|deep) in(?:to)? (?:the )?(?:games?|ball ?games?|contests?)|(?:in )?the (?:late|later|"
     r"closing|final|last "
     r"(?:two|three|few)) innings|(?:seventh|7th)(?: inning)? (?:on|onwards?|forward|and beyond|"
     r"or after)", "late innings"),
    (r"(?:with )?(?:company|passengers|traffic|ducks|customers|mates|teammates|runners|somebody|someone|"
     r"anybody|anyone|men|"
     r"people|guys|bodies)(?: (?:is|are))? (?:on (?:the )?(?:pond|bases?|paths|basepaths|sacks|bags)|"
     r"aboard|around|out there)",
     "runners on"),
    (r"(?:with |than (?:with )?)?(?:nobody|no one|none|no company)(?: (?:is|are))? (?:about|around|"
     r"out there|on the bases)",
     "bases empty"),
    # Home and away: the home club bats in the bottom half.
    (r"(?:at home|in (?:his|her|their|its|the) (?:own |home )(?:park|yard|ballpark|ground|digs|house|"
     r"building)|home (?:games?|"
     r"cooking|dates)|(?<=in )home parks?|on home (?:turf|soil|ground|dirt)|before (?:his|her|"
     r"their) own (?:fans|crowd))",
     "homehalf"),
    (r"(?:on the road|road games?|away games?|on (?:their|his|her) travels|as (?:the )?(?:visitors?|"
     r"guests?)|as the road (?:team|"
     r"club)|in (?:someone|somebody|other people|other clubs?)(?: else)? (?:s )?(?:parks?|yards?)|"
     r"away from (?:home|<who>))",
     "awayhalf"),
    # With whom it is compared.
    (rf"(?:below|under|beneath|short of|behind) (?:what|where|"
     rf"how) {_ALL}(?: else)?(?: (?:\w+)){{0,2}}{_PAUSE}",
     "less than the league"),
    (rf"(?:above|over|beyond|past|ahead of|better than) (?:what|where|"
     rf"how) {_ALL}(?: else)?(?: (?:\w+)){{0,2}}{_PAUSE}",
     "more than the league"),
    (rf"what {_ALL}(?: else)?(?: (?:manages?|does|do|gets?|can|has|have|hits?|puts? up))", "the league"),
    (r"(?:run of the mill|garden variety|bog standard|middling|typical|ordinary|normal|standard|usual|"
     r"average) (?:\w+ )?"
     r"(?=(?:hitter|batter|pitcher|club|team|bat|arm|player|outfit|lineup))", "average "),
    (r"(?:everyone|everybody|all of them|folks|the lot) (?:\w+ (?:and \w+ )?)?(?:in|around|across|of|"
     r"throughout|over|down) (?:the |this |our )?(?:whole |entire )?(?:league|circuit|"
     r"competition)", "the league"),
    (r"(?:whole|entire) league(?: now)?(?= [.,:;])", "across the league"),
    # Since when.
    (rf"(?:(?:it|and it|that|this|things|which)(?: all)? )?(?:began|begun|begin|start(?:ed|s)?|turned|"
     rf"kicked in|came|dates?|"
     rf"happened|changed|flipped|clicked)(?: (?:on|around|about|with|back|to|in|at|from|roughly|"
     rf"i (?:think|reckon)))* "
     rf"(?={_DAY})", "since "),
    (rf"(?:from|as of|starting|beginning|after|past|once) (?:about )?({_DAY})(?: (?:on|onwards?|forward|"
     rf"out|rolled around|came|"
     r"arrived|hit|turned|began|started))", r"since \1 "),
    (rf"since (?P<day>{_DAY}) (?:came|arrived|rolled|hit|began|started|turned)(?: (?:in|around|up|"
     rf"along))?", r"since \g<day> "),
    (rf"({_DAY}) onwards?", r"since \1"),
    # Hot, cold, steady.
    (r"gone? (?:to sleep|silent|missing|dead|flat|dormant|awol|south|dark)|asleep(?: at the \w+)?|"
     r"in hibernation|hit (?:a|the) "
     r"wall|(?:has|have) lost (?:it|his|her) (?:stroke|swing|touch)?|can not buy|in the (?:tank|doldrums)|"
     r"ice cold|"
     r"(?:off|gone off) the boil|(?:has |have )?forgotten how to hit", "cold"),
    (r"found (?:a|an|his|her|the)(?: real| nice)? (?:groove|rhythm|stroke|stride|range|form)|in (?:a|"
     r"the)(?: real| nice| good)? "
     r"(?:groove|rhythm)|caught lightning(?: in a bottle)?|(?:seeing|hitting) (?:it|"
     r"the ball) like (?:a )?[a-z]+(?: "
     r"ball)?s?|(?:on|at) (?:one|a hot one)|can not (?:miss|make an out)|(?:swinging|waving) a (?:hot|"
     r"magic) (?:stick|wand|bat)|"
     r"(?:going|hitting) off(?= |$)|red hot|feeling (?:his|her) oats|smoking (?:hot)?", "hot"),
    (r"budged?|flat as \w+ \w+|flat ?lin(?:e|ed|ing)|move[ds]? the needle|stay(?:s|ed|ing)? put|"
     r"on an even keel|"
     r"(?:one and )?the same (?:clip|pace|rate|lick|level|mark|speed)|like a (?:clock|metronome|machine)|"
     r"(?:not|never) "
     r"(?:\w+ )?(?:moved|wavered|drifted|strayed|shifted|swung about)|set (?:your|my|a|the) watch (?:by|"
     r"to)|same in "
     rf"{_MONTH} as in {_MONTH}", "steady"),
    # What follows a miss.
    (r"^ ?(?:miss(?:es)?|whiffs?|swings? and miss(?:es)?|swings? through|comes? up empty on) (?:once|one|"
     r"at one)? ?(?:,|and|"
     r"then)+(?= .*next )", "after a miss , "),
    (r"(?:one|a|an|his|her|the)(?: \w+){0,2} (?:hack|miss|whiff|swing and miss|swing and a miss|"
     r"empty swing)s? (?:leads?|begets?|"
     r"breeds?|brings?|invites?|follows?|turns?|makes?)(?: \w+)? (?:to |on |into |"
     r"for )?another", "after a miss misses next "),
    (r"on the (?:pitch|one|swing) (?:right )?after|the (?:pitch|one) (?:that follows|right after|"
     r"following|after)", "the next one"),
    # Together.
    (r"(?:climb|rise|go|travel|move|walk|march|run|track|rise and fall|hang out|show up|come)(?:s|"
     r"es)? (?:side by side|hand in "
     r"(?:hand|glove)|in (?:step|tandem|lockstep|pairs?|pair)|arm in arm|as a pair|together|"
     r"with each other)|(?:part of )?a "
     r"package deal|come (?:as|in) a (?:pair|set)|two sides of (?:the same|one) coin|"
     r"birds of a feather", "gotogether"),
    # The last half inning.
    (r"who (?:do|would|should|will|can|could) (?:you|we|i|they|the \w+) (?:\w+ )?(?:hand|give|trust|call|"
     r"tab|tap|turn|go|reach|"
     r"roll|bring|summon|back|choose|pick|send|sub)(?: (?:to|on|for|with|out|in|up|off))*(?: (?:the|that|"
     r"a) (?:bat|stick|lumber|"
     r"ball|nod|call|at bat))?(?: (?:to|with|for))*", "who should hit"),
    (r"(?:whose|what|which) (?:name|number) (?:goes|do|would|should|is|gets|comes)(?: \w+){0,5}|"
     r"who(?: \w+)? (?:gets?|grabs?) the "
     r"(?:call|nod|bat|stick|start)|who is (?:your|my|our|the) (?:pick|hitter|man|woman|choice|bat|"
     r"pinch hitter|call)|"
     r"(?:name|pick|find|give|get|hand|choose|show) (?:me |us )?(?:a|one|the|some|my|your|our)?(?: right|"
     r" best| good)?(?: <who>)? "
     r"?(?:pinch )?(?:hitter|bat|stick|batter)(?= |$)", "who should hit"),
    (r"(?:nothing|none|nobody|no outs?|zero) (?:out|down|away|gone)|(?:none|nobody|"
     r"no one) (?:is )?out", "no outs"),
    (r"(?:none|nobody|no one|nothing) (?:is )?(?:aboard|on base)", "bases empty"),
    (r"(?:bags|sacks|bases) (?:chock )?(?:full|packed|juiced|stuffed|brimming|crammed|"
     r"chocked)", "bases loaded"),
)  # fmt: skip
"""What is said so, and the plain words for it."""
