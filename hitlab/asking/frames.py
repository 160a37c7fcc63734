"""Grammatical frames: ways to put a claim that leave what is claimed as it is.

Each is put into the plain way to say it, before the words of the trade are looked at: "you'd be hard pressed
to find anyone who" is "nobody", "has cut down on his whiffs" is "less whiffs", "don't throw him a slider: he
kills those" is said of sliders. One table a frame, read from top to bottom; :func:`reframe` has the order of
the tables.
"""

from __future__ import annotations

import re

from hitlab.asking.text import END, Rows, Text
from hitlab.spoken import ONES, TENS

__all__ = ["BROUGHT_IN", "CHANGING", "reframe"]

_ONE = r"(?:hitter|batter|pitcher|club|team|player|bat|guy|man|woman|soul|person|kid|arm)"
_SOMEBODY = (
    r"(?:anybody|anyone|somebody|someone|(?:a|an|any|another|one|a single|any other|"
    r"one other) "
    rf"(?:other |better )?{_ONE}s?)(?: else)?"
    r"(?: (?:in|around|across) (?:the|this|our) (?:whole |entire )?(?:league|game))?"
    r"(?: (?:alive|anywhere|around|out there))?"
)
_FIND = r"(?:find|name|show me|think of|come up with|point to|list|give me|tell me|see|pick out)"
_FINDING = r"(?:finding|naming|thinking of|coming up with|seeing)"
_NOT_FOUND = (
    r"(?:there (?:is|are) not(?: exactly)?|"
    rf"(?:you|i|we) (?:will|can|could|would) not (?:possibly |ever )?{_FIND}(?: me)?|"
    rf"(?:good luck|try|have fun) {_FINDING}|i (?:dare|defy) you to {_FIND}|"
    rf"(?:(?:you|i|we) )?(?:would |will |are |am )?(?:be )?(?:hard pressed|hard put) to {_FIND}|"
    r"(?:i|we|you) (?:do not know(?: of)?|have not seen|have yet to (?:see|meet|find)|have never seen|"
    r"know of no))"
)
_DARED = r"(?<=^ )(?:find|name|show|tell|give)(?: me)?"

NOBODY: Rows = (
    (
        r"(?<= <who> )(?:, )?(?:then )?(?:i have not (?:seen|met|heard of) (?:it|him|her|"
        r"them|one)|i do not know "
        r"(?:who|him|her|it|of one|about it)|i would (?:like|love) to (?:see|meet|know) "
        r"(?:it|him|her|who|them)|"
        r"i have yet to (?:see|meet) (?:it|him|her|them))(?=(?: [,.?!])| $)",
        ", unseen",
    ),
    (r"[.,] (?:you can not|go ahead|i dare you|you will not|i will wait)(?=(?: [.?!])? $| $)", ", unseen"),
    (rf"(?<=^ )if (?:there is )?{_SOMEBODY}(?: (?:who|that))?(?=.* than (?:the )?<who> , unseen )", "nobody"),
    (rf"{_DARED} {_SOMEBODY} with (?=.* than (?:the )?<who> (?:.* )?, unseen )", "nobody has "),
    (rf"{_DARED} {_SOMEBODY} (?:who|that)(?=.* than (?:the )?<who> (?:.* )?, unseen )", "nobody"),
    (r", unseen(?=(?: [,.?!])| $)", ""),
    (r"(?:there )?(?:is|are) not (?=(?:nobody|no one|no (?:other )?(?:hitter|pitcher|club|team)s?) )", ""),
    (
        rf"is there (?:a|any) (?=(?:better|tougher|harder|more [a-z]+) [^,.;:]*than (?:the )?<who> )|"
        rf"{_NOT_FOUND} (?:a|any) (?=(?:better|tougher|harder|more [a-z]+) [^,.;:]*than (?:the )?<who> )",
        "nobody is a ",
    ),
    (rf"{_NOT_FOUND} {_SOMEBODY} with (?=.* than (?:the )?<who> )", "nobody has "),
    (rf"{_NOT_FOUND} {_SOMEBODY}(?: (?:who|that))?(?=.* (?:than|like|as) )", "nobody"),
)
"""That nobody is found who does it more often."""

_CUT = ("cut", "cutting")
_LOWERED = (
    *("trimmed", "trimming", "lowered", "lowering", "reduced", "reducing", "slashed", "slashing"),
    *("curbed", "curbing"),
)
_BROUGHT_DOWN = ("brought", "bringing")
_HEIGHTENED = ("upped", "upping", "raised", "raising", "boosted", "boosting", "increased", "increasing")
_PUSHED_UP = ("bumped", "bumping", "pushed", "pushing", "jacked", "jacking", "ramped", "ramping")
_STOPPED = ("stops", "stopped", "quit", "quits")
CHANGING = (*_STOPPED, *_CUT, *_LOWERED, *_BROUGHT_DOWN, *_HEIGHTENED, *_PUSHED_UP)
"""Verbs of what somebody does to a rate of his own."""
_MOVED = (
    r"(?:(?:has|have|is|are) )?(?:gone|went|going|shot|jumped|climbed|been going) (?:straight "
    r"|right |clean )?"
)
_FALLING = (
    r"(?:off a cliff|in the tank|into the tank|down the drain|in the tubes|through the floor|off the table)"
)
_LESSENED = (
    rf"(?:(?:has|have|is|are) )?(?:been )?(?:(?:{'|'.join(_CUT)}) (?:way |right )?(?:down|back)(?: on)?|"
    rf"{'|'.join(_LOWERED)}|(?:{'|'.join(_BROUGHT_DOWN)}) down)"
)
_RAISED = rf"(?:(?:has|have|is|are) )?(?:been )?(?:{'|'.join(_HEIGHTENED)}|(?:{'|'.join(_PUSHED_UP)}) up)"
_ITS_RATE = (
    r"(?: (?:his|her|their|the))? (?=(?:(?:strikeout|whiff|contact|swing and miss|chase|walk|foul|miss|"
    r"hard (?:hit|contact)|swing|first pitch swing) (?:rate|percentage)|contact|strikeouts|whiffs|misses|"
    r"swings and misses|chasing|chases|walks|fouls|in play rate|hard hit balls?) )"
)
CHANGED: Rows = (
    (rf"{_MOVED}(?:through the roof|off the charts|sky high|to the moon)", "is risen"),
    (rf"(?:{_MOVED}|(?:(?:has|have) )?(?:fallen|fell|dropped) ){_FALLING}", "is fallen"),
    (_LESSENED + _ITS_RATE, "less "),
    (_RAISED + _ITS_RATE, "more "),
)
"""What somebody has done to a rate of his own."""

_SURELY = r"(?:just|simply|flat out|straight up|plain|flat|literally|really and truly)"
_ASIDE_FROM = r"(?:in|into) (?:there|this one|the game)"
_A_LEFTY = {
    side: rf"(?:a |an |the |another )?(?:{side}y|{side} hander|{side} handed (?:pitcher|arm|"
    rf"starter|reliever){more})"
    for side, more in (("left", "|southpaw|lefty pitcher"), ("right", "|righty pitcher"))
}
_MOUND = r"(?:on|up on|out on|takes|toeing) the (?:mound|hill|bump|rubber|hump)"
_NO_SUCH = (
    r"(?:(?:is|has been) |(?<=<who> ))(?:not|never|no)(?: (?:much of|really|exactly|"
    r"that much of|any kind of))?(?: an?)?"
)
_SENT = ("put", "send", "bring", "run", "trot", "throw")
_SHOWN = ("give", "show")
BROUGHT_IN = (*_SENT, *_SHOWN)
"""Verbs by which a pitcher is brought in: "put a lefty out there"."""
_BRING = rf"(?:{'|'.join(_SENT)}|(?:{'|'.join(_SHOWN)}) (?:him|her|<who>))"
SETTING: Rows = (
    (r"will not(?: ever| often)? (?=(?:chase|swing|miss|whiff|expand|offer|strike out|bite) ?)", "does not "),
    (rf"{_NO_SUCH} chasers?", "does not chase"),
    (rf"{_NO_SUCH} (?:big )?(?:free )?swingers?", "does not swing"),
    (rf"{_NO_SUCH} whiffers?", "does not miss"),
    (rf"{_NO_SUCH} strikeout (?:guy|hitter|victim|candidate)", "does not strike out"),
    (
        r"(?:is |(?<=<who> ))not (?:one|the (?:type|kind|sort)(?: of (?:hitter|guy|player))?|"
        r"prone|apt|inclined|likely|known) (?:to|for) "
        r"(?=(?:chas|miss|whiff|swing|strik|foul))",
        "does not ",
    ),
    (
        r"(?<=<who> )(?:bat|stick)(?= (?:has|is|went|cooled|came|got))",
        "",
    ),
    (r"(?<= cooled )(?:way |right |considerably |quite a bit )(?=off|down)", ""),
    (r"(?<=^ )(?:put|send|bring|get) <who> up(?: there)?(?= (?:with|against|in|on|when) )", ""),
    (r"(?<= )when it (?:all )?comes (?:right )?(?:down )?to (?=[a-z]+ing )", "at "),
    (rf"{_SURELY} (?=(?:does|do|did|can|could|will|is|are|has|have) not )", ""),
    (
        r"(?:this|that|my|our|your) (?:kid|guy|fella|fellow|gal|lady|dude|one|cat|man|woman) (?=<who>)",
        "",
    ),
    (
        r"(?<=^ )(?:do not|never|you do not want to|you never want to|you better not|better not|"
        r"i would not|you can not|do not ever|do not you dare|be careful|careful|think twice before|"
        r"beware of) (?:throw(?:ing)?|giv(?:e|ing)|feed(?:ing)?|hang(?:ing)?|leav(?:e|ing)|serv(?:e|ing)|"
        r"groov(?:e|ing)) "
        r"(?=<who> (?:(?!than )[^,.;:]+ )+[,.;:] )",
        "throw ",
    ),
    *(
        (
            rf"(?:{_BRING}(?: in| out)? |"
            rf"(?:with|against|(?:when|once|if) there is|when|if|once|facing) )?{one}(?: is| gets| "
            rf"comes)?(?: {_MOUND}|"
            rf" {_ASIDE_FROM}| out there| in there| pitching| throwing)(?: and| ,)?",
            f"with {side} handed pitchers ",
        )
        for side, one in _A_LEFTY.items()
    ),
    *(
        (
            rf"(?<=^ ){_BRING}(?: in| out| on)? {one}(?: at (?:him|her|<who>))?(?: and| ,)",
            f"with {side} handed pitchers ,",
        )
        for side, one in _A_LEFTY.items()
    ),
)
"""Where it is said to be so, and how surely."""

_JUNK = (
    r"(?:junk|garbage|slop|trash|(?:bad|lousy) (?:pitches|balls|stuff)|balls|"
    r"(?:pitches|balls|stuff) (?:off|outside|out of) (?:of )?(?:the )?(?:strike )?(?:zone|plate))"
)
_AT = (
    r"(?:(?:swing|swings|swinging|swung|offer|offers|hack|hacks|flail|flails|wave|waves) "
    r"at|(?:goes|go|going) after)"
)
_DOING = r"(?:chasing|missing|whiffing|swinging and missing|striking out|fouling|making contact|swinging) "
COMPARED: Rows = (
    (
        rf"(?:(?:spit|spits|spitting|spat) on|(?:let|lets|letting) go of|(?:take|takes|taking)) {_JUNK}(?= )",
        "takes pitches outside the zone",
    ),
    (
        r"than any (?:other )?(?=<who> (?:[,.?!] |$))|than (?:any|all) of the (?:other )?(?=<who> "
        r"(?:[,.?!] |$))",
        "than anyone on the ",
    ),
    (
        r"than (?:your|a|the|an) (?:typical|average|normal|ordinary|run of the mill) (?:bear|"
        r"joe|guy|hitter|bat|player)",
        "than the league",
    ),
    (
        rf"than (?:(?:against|off|with) any other {_ONE}(?: around here)?|"
        rf"any (?:other )?{_ONE} (?:going|alive|around|out there|we have(?: got)?))",
        "than anyone",
    ),
    (
        r"than (?:(?:they|he|she) (?:do|does) )?(?:against |off |on |with )?(?:the|your|"
        r"a|an) (?:typical|average|usual|ordinary) "
        r"(?:pitcher|arm|starter|reliever)(?: does)?",
        "than the league",
    ),
    *(
        (
            rf"(?:{does}) {lead} (?:the )?{many} (?=(?:first|slid|fast|curv|chang|break|off ?speed|"
            r"high|low|heat|splitt|sink|cut|pitches|inside|outside)[a-z]*(?: |$))",
            f"{verb} {told} {lead} ",
        )
        for does, verb, lead in (
            ("swing|swings|swinging|swung|offers?|hacks?", "swings", "at"),
            ("whiff|whiffs|whiffing|whiffed|miss|misses|missing|missed", "misses", "on"),
        )
        for many, told in (
            ("more", "more"),
            ("(?:fewer|less)", "less"),
            ("most", "the most"),
            ("(?:fewest|least)", "the least"),
        )
    ),
    (r"than the rest of (?:them|the bunch|the pack|the field)", "than anyone"),
    (r"(?<= )(?:above|over) (?:the )?league average(?=(?: [,.?!])| $)", "higher than the league"),
    (r"(?:below|under) (?:the )?league average(?=(?: [,.?!])| $)", "lower than the league"),
    (r"at an above average (?:clip|rate|pace)", "more than the league"),
    (r"at a below average (?:clip|rate|pace)", "less than the league"),
    (r"at the highest (?:rate|clip|pace|frequency)", "the most"),
    (r"at the lowest (?:rate|clip|pace|frequency)", "the least"),
    (
        r"(?:, )?(?:and )?(?:by (?:a (?:mile|lot|ton|wide margin|country mile|landslide|"
        r"wide berth)|plenty|miles|"
        r"leaps and bounds)|no contest|(?:it|that) is not (?:even )?(?:close|a contest|funny)|far and away|"
        r"not even close|and then some)(?=(?: [,.?!])| $| the )",
        "",
    ),
    (
        r"(?<=^ )(?:compared|relative|next) (?:with|to) (?:most|other|the average|the typical|"
        r"your average)(?: (?:hitters?|guys?))? ,",
        "than the league",
    ),
    (
        r"(?:nobody|no one)(?: else)?(?: even| really)? comes (?:anywhere )?(?:close|near) to(?= <who> )",
        "nobody more than",
    ),
    (r"than anything(?=(?: [,.?!])| $)", "than otherwise"),
    (
        r"than (?:when|if) (?:he|she|it|they|there) (?:is|are|does|do|has|have) not(?: one|"
        r" any)?(?=(?: [,.?!])| $)",
        "than otherwise",
    ),
    (
        r"(?:a (?:whole|heck of a|hell of a) (?:lot|bunch)|an awful lot|awfully|a (?:ton|"
        r"bunch|good bit|fair bit|great deal|hair|touch|tad|tick|notch|step|"
        r"smidge|shade|little bit)|tons|loads|quite a bit|so much|ever so slightly|miles|"
        r"substantially|markedly|"
        r"measurably|dramatically|drastically|vastly|decidedly|distinctly|visibly|appreciably|"
        r"way way|waay|waaay|wayyy|just plain)(?= (?:more|less|fewer|better|worse|harder|"
        r"higher|lower|easier|tougher) )",
        "",
    ),
    (
        r"(?:the )?(?:best|finest) (?:hitter |bat )?(?:in the league )?(?:at|when it comes "
        rf"to) not (?={_DOING})",
        "least ",
    ),
    (rf"better (?:at|when it comes to) not (?={_DOING})", "less "),
    (rf"(?:at|for|when it comes to|in terms of) not (?={_DOING})", "for least "),
    (rf"{_AT} more {_JUNK}(?= )", "chases more"),
    (rf"{_AT} (?:fewer|less) {_JUNK}(?= )", "chases less"),
)

_AS_OFTEN = (
    r"(?:(?:nearly|quite|anywhere near|anything like|even close to|remotely) )?"
    r"as (?:often|much|frequently|regularly|consistently|routinely|many times) as(?! (?:any|every))"
)
_LIKE = r"(?:the way|like)(?: (?:they|he|she) (?:does|do))?(?: (?:against|to|with))?"
_UNLIKE_THE_REST = rf"{_LIKE} (?:(?:everybody|everyone) else|the rest(?: of (?:the league|them))?)"
_UNLIKE = rf"{_LIKE} (?=(?:most|other|the average|the league|he used to|she used to) )"
_IS_NOT = r"(?:does|do|did|is|are|has|have|was) not"
EQUATED: Rows = (
    (r"(?:nowhere near|not nearly|not quite|not) as (?:often|much|frequently|regularly) as", "less than"),
)
"""That something is not done as often."""

_NEARLY = r"(?:nearly|almost|just about|practically|virtually|pretty much|damn near|near)"
_AMOUNT_FOLLOWS = (
    r"(?=(?:[^ ,]+ ){1,6}, (?:more than|over|better than|at least|above|well over|upwards of|north of) )"
)
SHARES: Rows = (
    (rf"{_NEARLY} (?:every(?: single)?|all (?:of )?(?:the)?) {_AMOUNT_FOLLOWS}", "the "),
    (rf"{_NEARLY} (?=(?:everything|anything) )", ""),
)
"""An amount in round words, with the number behind it."""

_WANTED = (
    r"i (?:am|would be|will be) (?:going|rolling|riding) with|i (?:am|would be) (?:sending|putting|bringing)"
    r"(?: up)?|i (?:would|will|want to) (?:send up|bring up|go with|bat|pinch hit|put up|have)|"
    r"gimme|get me|let me have|i would love|i (?:would|will) (?:want|take)|my (?:pick|guy|choice|hitter|"
    r"money|bat) (?:is|would be)(?: on)?|(?:who|whom)(?: else)? (?:do|would) (?:you|we|i) (?:want|like|"
    r"take|call on|"
    r"send|put up)(?: up| up there| at the plate)? \?|i like|(?:it|that) has (?:got )?to be"
)
_HIS_PLACE = (
    r"(?:(?:is|would be) )?(?:my|our|your|the) (?:guy|one|hitter|pick|man|woman|choice|gal|bat|call)"
    r"(?: (?:up there|for me|there))?|(?:gets|has) (?:my|the) (?:vote|nod|call|bat)"
)
LAST: Rows = (
    (rf"(?:{_WANTED})(?= <who>)", "send up"),
    (rf"(?<=<who> )(?:{_HIS_PLACE})(?=(?: [,.?!])| $)", "should bat"),
)
"""Who is wanted in the last half inning; read there only."""


_ALIKE = (
    r"(?:streaks?|slumps?|ups (?:and|or) downs|peaks (?:and|or) valleys|highs (?:and|"
    r"or) lows|hot spells?|cold spells?)"
)
STEADY: Rows = (
    (r"(?:does|do|did) not go up(?: ,)?(?: and| or)?(?: (?:does|do|did) not go| not)? down", "steady"),
    (
        r"(?:does|do|has) not (?:really )?(?:budge[d]?|move[d]?|waver(?:ed)?|vary|varied|"
        rf"fluctuate[d]?)(?: (?:all (?:year|season)|at all|much))?{END}|"
        rf"never (?:budges|moves|wavers|varies|fluctuates|changes){END}",
        "steady",
    ),
    (r"from (game|day|week|month|night) to (?:game|day|week|month|night)", ""),
    (
        r"swinging it (?:well|great|good|beautifully)(?: (?:right now|lately|these days|"
        r"at the moment))?(?=(?: [,.?!])| $)",
        "hot",
    ),
    (
        r"the same (?:hitter|guy|player) (?:from (?:day one|start to finish|the start|opening "
        r"day|april on|wire to wire)|"
        r"day in day out|every (?:single )?(?:day|night|game))",
        "steady",
    ),
    (
        rf"there (?:is|are) no (?:hot |cold )?{_ALIKE}(?: (?:and|or) (?:no )?{_ALIKE})* (?:with|"
        r"to|for|in)(?= <who>)",
        "steady",
    ),
    (
        r"(?:(?:is|has|been|really|just|absolutely|flat out) )*(?:raking|mashing|crushing "
        r"(?:it|everything)|swinging it|"
        r"hitting everything|barreling everything|squaring everything up|unreal|unconscious|"
        r"on another planet|"
        r"unbelievable|ridiculous) (?:right now|lately|these days|at the moment|of late)",
        "is hot",
    ),
    (
        r"(?:went|gone|going) nuclear|locked and loaded|(?:having|has) (?:himself|herself|"
        r"himself) (?:a|quite a) (?:week|stretch|run)",
        "hot",
    ),
    (
        rf"no (?:hot |cold )?{_ALIKE}(?: (?:and|or|,) (?:no )?{_ALIKE})*(?: this (?:season|"
        r"year))?(?: (?:with|for|from|in|to))?"
        r"(?: (?:this|that) (?:guy|kid|one|fella))?(?= (?:<who> ,|,(?! no )|<who> is|<who> has))",
        "",
    ),
)
"""What is said of going on alike."""

# fmt: off
_SAID_IN_TALK = (
    r"(?:that (?:is|would be|has to be|has got to be|must be)|(?:it|that) has to be|"
    r"must be|i say|i am saying|i (?:will|would) take|give me|"
    r"i would say|i (?:would )?(?:go|am going|would be going) with|i pick|i am picking|make it|"
    r"the answer is|try|how about|say hello to|look no further than|no other than|none other than)"
)
# fmt: on
ANSWERED: Rows = (
    (
        r"the (?:guy|hitter|man|woman|one|bat|kid|player|batter) (?:with|who has|who owns) the "
        r"(?=(?:fewest|most|highest|lowest|least|best|worst) )",
        "the ",
    ),
    (r"(?:give|show|get) me (?=the (?:league )?leader )", ""),
    (r"i would (?:put|peg|place|set) (?=(?:<who>|his|her) (?:[^ ,.;:<]+ ){1,3}(?:at|around|near) )", ""),
    (r"(?:(?<=^ <who> )|(?<=^ the <who> ))(?:versus|against|or|and)(?= (?:the )?<who> [:?,])", ","),
    (r"(?<=<who> , )the (?=<who> , )", ""),
    (
        r"(?:i am|we are|you are|you will be) (?:seeing|watching|looking at|talking about|"
        r"witnessing)(?: (?:a|an))?"
        r"(?= (?:<who>|hot|steady|locked))",
        "",
    ),
    (
        r"(?:week after week|day after day|night after night|month after month|game after "
        r"game|series after series)(?: ,)?",
        "",
    ),
    (
        r"(?:has|have|with) (?:a|the|this|such a) (?:real |great |nice |bad |nasty )?(?:knack|"
        r"habit|penchant|tendency|talent|gift) "
        r"(?:for|of) (?=[a-z]+ing )|is (?:known|famous|notorious) for (?=[a-z]+ing )",
        "",
    ),
    (
        r"(?:(?<=contact )|(?<=fastball )|(?<=slider )|(?<=two strike )|(?<=curveball )|"
        r"(?<=changeup )|(?<=first pitch )|(?<=hard hit ))"
        r"(?:guy|man|gal|kid|fella|bat|stick)s?(?= )",
        "hitter",
    ),
    (r"(?:belongs? to|goes to|is (?:held|owned) by)(?= (?:the )?<who>(?: [,.?!]|$| $))", "is"),
    (
        r"(?<=^ )(?:(?:you|i|we) (?:could|can|would|will|might) )?(?:make|have) (?:a|the) "
        r"(?:good |strong |real )?case "
        r"(?:that |for )?(?=<who>)|(?:there is|there has to be) a (?:good |strong |real "
        r")?case (?:that |for )?(?=<who>)|"
        r"(?<=^ )(?:you|i|we) (?:could|can|would|will) (?:argue|make the argument)(?: that)? (?=<who>)",
        "",
    ),
    (
        r"(?<=^ )(?:(?:you|i|we) (?:could|can|would|will) )?(?:count|consider|include|rank|"
        r"list|number|mark|label|"
        r"pencil in|put down) (?=<who> (?:as|among|in|one of) )",
        "",
    ),
    (
        r"holy (?:smokes?|moly|toledo|mackerel|cow|cats)|good (?:gracious|grief|heavens)|"
        r"my goodness|whoa|jeez|sheesh|"
        r"dang|man alive|mercy|wowza|oo+h|great scott|lordy|yikes|goodness gracious",
        "",
    ),
    (rf"(?<=[?,.:] ){_SAID_IN_TALK}(?= (?:the )?<who>(?: [.!?]| ,)?(?: $| [^ ]+ $|$))", ""),
    (
        r"(?<=^ )(?:if (?:you are|you)(?: going to)? ask(?:ing)? me|you (?:ask|asked) me|ask(?:ing)? me|"
        r"you want to know|want to know|do you know|you know|any idea|guess|quick|so) (?=(?:who|which) )",
        "",
    ),
    (r"(?<=<who> )or(?= (?:the )?<who> .*<who> )", ","),
    (r"(?:i would |i will )?put (?=<who> (?:in|among|with) (?:the|your|my|that) )", ""),
    (
        r"(?:pitchers |they |you |everybody |everyone |people )?(?:can |are |is |keep |keeps |have been |"
        r"always |will )*(?:get|getting|got|gets) (?=<who> to (?:chase|miss|whiff|swing|"
        r"expand|hit|ground|strike) )",
        "",
    ),
)
"""Who is named as the answer, and who is got to do something."""

_BALLS = ("oh|zero|0", "one|1", "two|2", "three|3")
_STRIKES = _BALLS[:3]
_AT_COUNT = (
    r"(?:(?:when|once|if|whenever) (?:it|the count|he|she) (?:is|gets to|goes|goes to|runs to|falls|is at) |"
    r"(?:with|in|on|at|of) (?:a|an|any) |on |at |in |with the count (?:at )?)"
)
# "Two nothing" is a score, too; of a count it is said only beside that word.
_OF_A_COUNT = "|".join(
    rf"(?<=count is {ball} )nothing|(?<= {ball} )nothing(?= counts? )" for ball in ("one", "two", "three")
)
COUNTED: Rows = (
    (
        r"(?:when|once|whenever|if|with) (?:the |a )?count (?:is |gets |goes |runs |has "
        r"gone )?(?:full|to full)|"
        r"when (?:he|she|they) (?:runs?|works?|takes?) (?:the|a) count full",
        "on a full count",
    ),
    (_OF_A_COUNT, "oh"),
    *(
        (
            rf"{_AT_COUNT}(?:{balls}) (?:and )?(?:{strikes})(?: counts?| pitch(?:es)?)?"
            rf"(?=(?: [,.?!])| (?:than|<who>|he|she|nobody|no one|more|less) | $)",
            f"on {ball}-{strike} counts",
        )
        for ball, balls in enumerate(_BALLS)
        for strike, strikes in enumerate(_STRIKES)
    ),
)
"""How the count is said."""

_SEEN = r"(?:sees?|gets?|faces?|is thrown|is given)"
_THAT_HE = r"(?:that )?(?:he|she|it|they|<who>)"
DIVIDED: Rows = (
    (
        r"(?:just|barely|a (?:shade|touch|hair|tick|tad|little|smidge)|slightly|comfortably|safely|easily)"
        r"(?= (?:over|under|above|below|north of|south of|more than|less than|better than|fewer than) "
        rf"(?:\d|a |an |one |half|{'|'.join(ONES[1:])}|{'|'.join(TENS)}))",
        "",
    ),
    (
        r"(?:(?:has|have|is) )?(?:put up|putting up|puts up|posted|posting|posts|boasts|"
        r"boasting|sports|sporting|"
        r"carries|carrying|running|runs) (?=(?:a|an|the) (?:[^ ,.;:<]+ ){1,4}(?:rate|percentage|average) )",
        "has ",
    ),
    (r"(?<=swings )(?:that )?(?:he|she|they) takes?(?= )|(?<=swings <who> )takes?(?= )", ""),
    (
        r"(?:ends?|ended|ending|winds?|wound) up (?:being |getting |as )?(?=(?:hit|missed|"
        r"fouled|in play|a |foul))",
        "are ",
    ),
    (
        r"(?:(?:is|are|has been) )(?:sitting|running|hovering|standing|coming in|checking "
        r"in|settling|hanging|holding)"
        r"(?: (?:right )?(?:at|around|near|about|steady at))?(?= )",
        "is about",
    ),
    (rf"(?:of|on) (?:what|everything|anything|whatever) {_THAT_HE} {_SEEN}", "of the pitches"),
    (
        r"(?<=pitches )(?:thrown (?:to|at) (?:him|her|them)|(?:that )?(?:come|comes|coming) "
        r"(?:his|her|their) way|"
        r"(?:he|she|they) (?:is|are) (?:thrown|given|shown))",
        "",
    ),
    (r"a (?:good|solid|full|healthy|whole|whopping) (?=(?:third|half|quarter|fifth) )", "a "),
)
"""What it is divided by."""


_WHEN = r"(?:when|once|if|whenever|as soon as)"
_THEM = r"(?:they|you|pitchers|a pitcher|the pitcher|somebody|someone|people|teams|clubs)"
_THROWN = (
    r"(?:throw|throws|give|gives|pitch|pitches|feed|feeds|show|shows|serve|serves|offer|offers|start|starts)"
)
_ENDS = r"(?=(?: [,.?!])| $| (?:more|less|fewer|than|nobody|no one|<who>|he|she|in the league) )"
_A_KIND = (
    r"(?=(?:the |a |any |some )?(?:fast|heat|heaters?|slid|curv|break|chang|off ?speed|"
    r"splitt|sink|cut|knuck|spin|gas|"
    r"cheese|high|low|first|soft|hard stuff)[a-z]*(?: |$))"
)
_ANYBODY_ON = (
    r"(?:somebody|someone|anybody|anyone|guys|people|men|runners|hitters|a (?:guy|man|"
    r"runner)|traffic|ducks|teammates)"
)
_ON_BASE = r"(?:on(?: base| the bases| the pond)?|aboard|out there on base)"
_PLACED = (
    ("high", "up|up there|up top|high|elevated|up in the zone|high in the zone|at the letters"),
    ("low", "down|down there|low|down in the zone|low in the zone|at the knees"),
    ("inside", "in|inside|in tight|tight|in on (?:him|her|them)|in on the hands"),
    ("outside", "away|outside|out there|off the outside corner"),
)
_PITCHED = r"(?:pitches|balls|stuff|anything|things|ones|offerings|it)"
SITUATED: Rows = (
    (rf"{_WHEN} {_THEM} {_THROWN}(?: (?:him|her|them|<who>))? {_A_KIND}", "against "),
    *(
        row
        for place, words in _PLACED
        for row in (
            (
                rf"{_WHEN} {_THEM} (?:(?:pitch|bust|throw|attack|jam)(?:es|s)?(?: "
                r"(?:him|her|them|it|<who>))?|"
                r"(?:come|go|stay|work)(?:es|s)? (?:at |after |with )?(?:him|her|<who>)) "
                rf"(?:{words}){_ENDS}",
                f"on {place} pitches",
            ),
            (rf"{_WHEN} (?:the ball|the pitch|pitches) (?:is|are) (?:{words}){_ENDS}", f"on {place} pitches"),
            (rf"(?:on|against|with|at|off) (?:the )?{_PITCHED} (?:{words}){_ENDS}", f"on {place} pitches"),
        )
    ),
    *(
        (
            rf"(?:on|against|with|at|off) (?:the )?(?:{words}) (?:ones?|stuff|balls?|offerings?){_ENDS}|"
            rf"(?:at|on|in) the (?:{edge}) (?:(?:part|third|half|edge|rail) )?of the (?:strike )?zone",
            f"on {place} pitches",
        )
        for place, words, edge in (
            ("high", "high|elevated|up", "top|upper"),
            ("low", "low|down", "bottom|lower"),
        )
    ),
    *(
        (
            rf"(?:on|at|at the|on the) (?:{words}) (?:corner|edge|black|part of the plate)",
            f"on {place} pitches",
        )
        for place, words in (("inside", "inside|inner"), ("outside", "outside|outer"))
    ),
    (r"(?:mistakes|balls|anything|stuff) (?=(?:over|down|in) the (?:middle|heart|pipe))", "pitches "),
    (
        r"(?<=on )(?:balls|stuff) (?=(?:out of|off|outside|in|inside|out) (?:of )?(?:the "
        r")?(?:strike )?(?:zone|plate))",
        "pitches ",
    ),
    (
        rf"(?:with|{_WHEN} there is|{_WHEN} there are|{_WHEN}) {_ANYBODY_ON} (?:is |are )?{_ON_BASE}{_ENDS}|"
        rf"with (?:traffic|the bases occupied|ducks on the pond){_ENDS}",
        "with runners on",
    ),
    (
        rf"(?:with|{_WHEN} there is|{_WHEN} there are|{_WHEN}) (?:nobody|no one|no runners|no men|none)"
        rf"(?: is| are)? {_ON_BASE}{_ENDS}",
        "with bases empty",
    ),
    (r"two strike (?:situations?|spots?|holes?|moments?|at bats?)", "two strike counts"),
    (r"two strikes on the board|two strikes (?:hanging over|staring at) (?:him|her)", "two strikes"),
    (
        rf"{_WHEN} (?:the count is|(?:it|the count) (?:goes|gets|runs)) full|{_WHEN} (?:he|she) (?:runs|"
        r"works|takes) it full",
        "on a full count",
    ),
    (rf"in two out (?:spots?|situations?)|{_WHEN} (?:two|2) are (?:out|gone|down)", "with two outs"),
    (
        rf"{_WHEN} (?:the )?count (?:is )?in (?:his|her|their) favou?r|in (?:favou?rable|good) counts|"
        rf"{_WHEN} (?:he|she) has the count(?: in (?:his|her) favou?r)?|"
        rf"{_WHEN} (?:(?:he|she) )?(?:(?:is|gets|has gotten) )?ahead{_ENDS}",
        "when ahead in the count",
    ),
    (
        rf"in (?:unfavou?rable|bad) counts|{_WHEN} (?:the )?pitchers? (?:gets?|is|are) ahead(?: "
        rf"of (?:him|her|them))?{_ENDS}",
        "when the hitter behind in the count",
    ),
    # "When she is behind": in the count, or on the scoreboard?
    (rf"{_WHEN} (he|she) is behind(?=(?: [,.?!])| $)", r"when \1 behind in the count whichbehind"),
    (rf"{_WHEN} (?:(?:he|she) )?(?:(?:is|gets|falls|has fallen) )?behind{_ENDS}", "when behind in the count"),
    (
        r"(?:on|at) (?:the )?pitch (?:number )?(?:one|1)|to (?:start|lead off|begin|open) "
        r"(?:an |the |his |her |off )?"
        r"(?:at bats?|plate appearances?|the count)|on the very first pitch",
        "on the first pitch",
    ),
    (
        r"(?:after|past) the sixth(?: inning)?|in innings seven (?:through|to) nine|in the "
        r"(?:last|final) three innings|"
        rf"late in (?:the|a) (?:ball ?)?games?|{_WHEN} it is late|(?<=^ )late(?= ,)",
        "in the late innings",
    ),
    (r"(?:the )?(?:slide piece|slide ?balls?|slide pieces)", "sliders"),
    (rf"(?:off|against|on|sees|gets) (?:the |a |that )?changes?{_ENDS}", "against changeups"),
    (rf"(?:off|against|on) the (?:number one|fast one|fast ones){_ENDS}", "against fastballs"),
    (rf"(?:off|against|on) the hammer{_ENDS}", "against curveballs"),
)
"""Where and when, in more words than the tables of situations have."""


def _at_his_best(text: Text) -> None:
    """Take "inside is where he hits it hardest" for harder there than elsewhere."""
    if text.take(
        r"(?:is|are) (?:exactly |precisely )?(?:where|when) (?=(?:<who>|he|she) [^,;:]*(?:hardest|"
        r"most|least) (?:often )?[.!?]? ?$)"
    ):
        text.reword(r"(?:the )?hardest", "harder than otherwise")
        text.reword(r"(?:the )?most(?: often)?", "more than otherwise")
        text.reword(r"(?:the )?least(?: often)?", "less than otherwise")


def _not_as_often(text: Text) -> None:
    """Take "does not strike out as often as most" for less often than most: what is denied is how often."""
    line = text.line()
    between = r"(?:(?:swing|swinging|swung) and |(?!and |but |than |because )[^ ,.;:]+ )+?"
    hard = rf"(?<!there ){_IS_NOT} (?=(?:hit|hitting) {between}as hard as )"
    if re.search(rf"(?<= ){hard}", line):
        text.take(hard)
        text.reword("as hard as", "hard less often than")
    for likened, told in (
        (_AS_OFTEN, "less than"),
        (_UNLIKE_THE_REST, "less than most"),
        (_UNLIKE, "less than "),
    ):
        denied = rf"(?<!there )(?:{_IS_NOT}|(?<=<who> )not) (?={between}{likened})"
        if re.search(rf"(?<= ){denied}", line):
            text.take(denied)
            text.reword(likened, told)


def reframe(text: Text) -> None:
    """Put the frames of a sentence into the plain way to say it."""
    for rows in (
        SITUATED,
        COUNTED,
        NOBODY,
        ANSWERED,
        CHANGED,
        SETTING,
        COMPARED,
        EQUATED,
        SHARES,
        DIVIDED,
        STEADY,
    ):
        text.reword_all(rows)
    whos = text.values("who")
    if whos and all(person.subject == "club" for person in whos[0]):
        text.reword(r"(?:which|what) (?=<who> )", "which hitter from the ")
        text.reword(
            r"(?<=<who> )(?:bats|hitters|lineup|offen[sc]e|batting order|boys|guys|sticks)"
            r"(?= (?:chase|swing|miss|whiff|hit|make|put|take|strike|walk|foul|lead|has|have|"
            r"is|are|do|does)[a-z]* )",
            "",
        )
    _not_as_often(text)
    _at_his_best(text)
    if re.search(r" (?:ninth|nine|9th|last) ", text.line()):
        text.reword(
            r"(?:who|whom)(?: else)? (?:do|would|should) (?:you|we|i) (?:want|like|take|call on|send|send "
            r"up|put up)(?: up| up there| there)? [?,](?= [^ ]+ )",
            ",",
        )
        text.reword_all(LAST)
