"""Words of the trade for each slot, found wherever they stand: what a sentence may be about, read softly.

What is found by these is offered and never read. A pattern is read over folded words with single blanks
between; each takes what it finds, so that the longer stands before the shorter.
"""

from __future__ import annotations

from hitlab.asking.numbers import MONTHS
from hitlab.asking.phrases import (
    CHASES,
    CONTACT,
    FOULS,
    HARD,
    HITS,
    HOMERS,
    IN_PLAY,
    STRIKEOUTS,
    SWINGS,
    TAKES,
    WALKS,
    WHIFFS,
    Rate,
)

__all__ = ["CUES", "DENIED", "DROPPED", "IDLE", "LATER_CUES", "PER", "RATE", "RATE_APART", "SITUATION", "USUAL"]

USUAL = (HARD, HITS, WHIFFS)
"""Where none is named."""

_IT = r"(?:it|the ball|them|one|balls|pitches|stuff|a ball|a pitch|that|everything|anything)"
_A = r"(?:the|a|an|his|her|their|that|this|some|any|my|your)"
_FEW = r"(?:(?!than |and |but |as |or )[^ ,.;:!?<]+ ){0,4}?"
_THEM = r"(?:him|her|them|you|<who>)"

_APART = r"(?:(?!than (?!\d|\.|a |one |two |three |four |half )|and |but |as |or |because )[^ ,;:!?]+ ){0,8}?"
RATE_APART: tuple[tuple[str, tuple[Rate, ...]], ...] = (
    (rf"(hit|hits|hitting|struck|sting|stings|drive|drives) {_APART}(hard)(?! (?:to|hit|contact))", (HARD,)),
    (rf"(hit|hits|hitting|struck|sting|stings) (?={_APART}hard(?:er|est)(?! to))", (HARD,)),
    (rf"(get|gets|getting|throw|throws|blow|blows|sneak|slip|sneaks|slips) {_APART}(past|by)(?= (?:<who>|him|her|them|you) )", (WHIFFS,)),
    (rf"(put|puts|putting) {_APART}(in(?:to)? (?:play|fair territory|the field of play))|"
     rf"(end|ends|ended|wind|winds|goes|go) (up )?(in play)", (IN_PLAY,)),
    (rf"(square|squares|squaring|squared|barrel|barrels|barreled|barreling) {_APART}(up)(?! (?:and|in|by|at|to))", (HARD,)),
    (rf"(let|lets|letting) {_APART}(go(?: by| past)?|pass|be)|(leave|leaves|leaving|left) {_APART}(alone)", (TAKES,)),
    (rf"(foul|fouls|fouling|fouled|spoil|spoils|fight|fights) {_APART}(off)(?! the plate)", (FOULS,)),
    (rf"(strike|strikes|struck|striking|punch|punches|punched|punching|ring|rings|rung|rang) "
     r"(?:(?:him|her|them|us|guys|hitters|people|batters|folks|everybody|more|fewer|less|the|most|fewest|of|<who>|<in>) ){0,3}(out)",
     (STRIKEOUTS,)),
    (rf"(make|makes|making|made|get|gets|getting) (?:(?!hard |loud |solid |harder |louder |firm |than |and |but |as |or )[^ ,.;:!?]+ ){{0,5}}?(contact)(?! hard)",
     (CONTACT, IN_PLAY)),
    (r"batting averages?|(?:hit|hits|hitting|hitter) (for average)|(?:for|a|his|her|their) (?:better |higher |lower |worse |good )?average(?! (?:hitter|player|of|than|bat|arm|pitcher))|"
     r"(?<=better )average(?! (?:hitter|than))|(?<=higher )average|(?<=lower )average|(?<=worse )average|(?<=best )average|(?<=highest )average", (HITS,)),
)  # fmt: skip
"""What is done, said in two parts between which something else may stand."""

RATE: tuple[tuple[str, tuple[Rate, ...]], ...] = (
    (r"hard(?:est)? hit(?: balls?)?(?: rate)?|hard hits?|(?:hard|solid|loud|quality|firm) contact(?: rate)?|(?=(?:harder|louder|firmer) contact)(?:harder|louder|firmer) contact|"
     r"hitting hard|hit hard|hard hitters?|hard hitting|hard ones|loud ones", (HARD,)),
    # Misses.
    (r"swing\w* (?:and|n) (?:a )?miss\w*|swung and miss\w*|swings and misses|swing miss", (WHIFFS,)),
    (r"(?:swing\w*|swung) (?:right |clean |straight )?(?:through|past|over|under(?:neath)?)"
     rf"(?: (?:the top of )?{_IT})?(?! half)", (WHIFFS,)),
    (r"(?:swinging strikes?|empty swings?|air swings?|swings? (?:at )?(?:nothing|air))", (WHIFFS,)),
    (rf"(?:wav|flail|fann?|whiff)(?:e|es|ed|ing|s)? (?:at|through) (?:air|nothing|{_IT})", (WHIFFS,)),
    (r"(?:cut|cuts|cutting|hits?|hitting|catch|catches|get|gets|got) "
     r"(?:nothing but |only |just |all )?air|(?:up )?with air|hits? nothing|(?:finds?|gets?) nothing but air", (WHIFFS,)),
    (r"whiff\w*", (WHIFFS,)),
    (r"(?:miss|misses|missed|missing) (?:more |fewer |less |the most |the fewest |a lot of |many )*bats",
     (WHIFFS,)),
    (r"(?:com|cam)(?:e|es|ing)? up empty|holes? in (?:his|her|that|the) swing|(?:throw|blow)\w* "
     rf"(?:it |one |that )?(?:past|by|right by) {_THEM}|gets? (?:it |one |a \w+ )?(?:past|by) {_THEM}|"
     rf"fool(?:s|ed|ing)?|(?:beat|beats|blows?) {_THEM}|overmatched|tied up|"
     r"catch up (?:to|with)|(?:can|could) not (?:ever )?(?:touch|reach|find)", (WHIFFS,)),
    # Contact.
    (rf"(?:mak|get)(?:e|es|ing|s|ting)? (?:(?!than |and |but |as |or |hard |loud |solid )[^ ,.;:!?<]+ ){{0,4}}?contact(?! hard)|bat to ball(?: skills?)?|contact"
     r"(?: (?:rate|percentage|hitters?|skills?|guy))?", (CONTACT, IN_PLAY)),
    (rf"(?:put|puts|putting|get|gets|getting|got|lay|lays) (?:{_A} )?(?:bat|wood|barrel|piece|stick|lumber)"
     rf"(?: of the bat)?(?: (?:on|to|of) {_IT})?|(?:the |a )?bat on (?:the ball|it|a ball)|connect(?:s|ed|ing)?|touch(?:es|ed|ing)? {_IT}",
     (CONTACT, HARD)),
    # What goes where.
    (rf"(?:put|puts|putting|hit|hits) {_FEW}in(?:to)? (?:play|fair territory|the field of play)|"
     r"balls? in play(?: rate)?(?= (?:rate|per|more|less|most))|in play (?:rate|percentage)", (IN_PLAY,)),
    (r"(?:foul|fouls|fouling|fouled|spoil|spoils|spoiling|spoiled|fight|fights|fighting)"
     rf" (?:\w+ ){{0,3}}?off|foul\w*(?: (?:balls?|{_IT}))?|(?:spoil|waste)(?:s|d|ed|ing)?", (FOULS,)),
    # Hit hard.
    (rf"(?:hit|hits|hitting|struck|strikes|sting|stings) {_FEW}(?:hard(?:er|est)?)(?! to)"
     r"|hard(?:er)? off (?:his|her|the) bat", (HARD,)),
    (r"square\w* (?:(?!and |than )[^ ,.;:<]+ ){0,5}?up|square\w*(?: up)?|barrel\w*(?: up)?|"
     r"on the (?:screws|button|nose|barrel|sweet spot)", (HARD,)),
    (r"(?:crush|smok|scald|mash|hammer|scorch|sting|stung|rip|rope|lac|blister|clobber|tattoo|"
     r"pummel|smash|punish|wallop|drill|pound|torch|roast|blast|thump|demolish|destroy|obliterat|pulveriz|"
     r"murder|wear|tee|bang|belt|crack|smack|whack|spank|laser|rocket|missil|bullet|rake|rak)"
     r"(?:s|es|ed|d|ing|ping|ped|ting|ted|e|er|ers)?(?: (?:out|off on|the cover off))?|"
     r"(?:lights?|lit) up|(?:does|do|doing|did) (?:\w+ )?damage|damage|thunder|loud|"
     r"ninety five(?: (?:plus|or more|or better|mph))*|95(?: (?:plus|or more|or better|mph|miles an hour))*|"
     r"exit (?:velo|velocity|speed)s?|power|(?:puts?|putting) a charge(?: in(?:to)?)?|charge into|pop(?= |$)|impact|driv(?:e|es|ing) (?:the ball|it)", (HARD,)),
    # Strikeouts, walks, home runs, hits.
    (r"(?:strik\w*|struck|punch\w*|ring|rings|rung|rang)(?: (?:him|her|them|us|guys|hitters|"
     r"people|batters|folks|everybody|<who>))? (?:out|down)|strike ?outs?(?: (?:rate|percentage|prone))?|"
     r"(?:goes?|going|went|sent|send|sends) (?:down|away) (?:swinging|looking|on strikes)|k(?: s)?(?: (?:rate|"
     r"percentage))?|ks|kay|punch ?outs?|fan(?:s|ned|ning)?(?=(?: (?:more|less|the|most|too|a|[,.?!<]|on|with|"
     r"when|at|against|in|often)| $))|walks? back to the dugout|whiffed out", (STRIKEOUTS,)),
    (r"(?:tak|draw|drew|work|earn|coax|issu|giv|gett?|hand)(?:e|es|ing|s|ed)? (?:\w+ ){0,2}?"
     r"(?:bases? on balls|walks?|free pass(?:es)?|free bases?)|bases? on balls|free (?:pass(?:es)?|bases?)|"
     r"walk(?:s|ed|ing|er|ers)?(?: (?:rate|percentage|batters|hitters|people|guys))?|bb(?: rate)?|"
     r"(?:issues?|four) wide ones", (WALKS,)),
    (r"(?:hits? |hitting )?(?:home ?runs?|homers?|hrs?|dingers?|bombs?|long ?balls?|round trippers?|taters?|"
     r"moon ?shots?|jacks?|big flies|big fly)(?: rate)?|homer(?:ed|ing)|(?:go|goes|going|went|gone|took|take|takes) "
     r"(?:\w+ )?(?:deep|yard)|(?:leav|clear)(?:e|es|ing|s) the (?:yard|park|fence|wall)|"
     r"(?:over|out of) the (?:fence|wall|yard|park)", (HOMERS,)),
    (r"batting averages?|avg|ba(?= )|batting (?=<)|averag(?:e|ing)(?= (?:late|when|in|by|off|from|versus|vs|a|[,.?!<]))|hit(?:s|ting)? for average|average(?= (?:with|against|on|above|over|of|is|since|"
     r"drops?|goes|better|higher|lower|up|down))|(?:base|clean) (?:hits?|knocks?)|knocks?|"
     rf"(?:get|gets|getting|got|find|finds|finding|collect|collects|give|gives|giving|gave|allow|allows|have|"
     rf"has|had) (?:up )?{_FEW}(?:a |more |fewer |less |most |fewest |any )?hits?(?! (?:it |the ball )?hard)|"
     r"(?:more|fewer|less|most|fewest|for|of|many) hits|singles|hits? safely|(?:drop|drops|fall|falls|go|goes) (?:in )?for (?:a )?hits?|a hit|bats \d\d\d|hitting (?=\.)",
     (HITS,)),
    # Swings and takes.
    (r"chas(?:e|es|ed|ing|er|ers)(?: (?:rate|percentage))?(?: (?:after )?(?:bad |outside )?(?:pitches|stuff|"
     r"balls|junk|garbage|slop))?(?: (?:(?:out of|outside|off|below|above) (?:of )?(?:the )?(?:zone|plate)|in the dirt))?|"
     r"expand\w*(?: (?:the|his|her|their) (?:strike )?zone)?|"
     r"(?:go|goes|going|went|gone)? ?fish(?:es|ed|ing)?|"
     r"(?:swing\w*|swung|hack\w*|offer\w*|reach\w*|bit|bites?|biting|lung\w*|flail\w*|go|goes|going|went) "
     r"(?:at |for |on |after )?(?:a lot of |any |all |the |that |more |so many |too many |those |his share of )*"
     r"(?:balls(?= (?:off|out|outside|that|in the dirt|way|nowhere|[,.?!<]| $))|balls (?:out of|off|outside|in the dirt)|"
     r"bad (?:pitches|balls|stuff|ones)|junk|garbage|slop|trash|stuff|pitches|anything)?"
     r" ?(?:that (?:is|are) )?(?:(?:out of|outside|off|below|above|well off|way off|way outside) (?:of )?(?:the )?"
     r"(?:strike )?(?:zone|plate)|in the dirt)|go(?:es|ing)? after (?:bad )?balls|went after (?:bad )?balls|"
     r"(?:swing\w*|swung|hack\w*|bit|bites?|biting|offer\w*|lung\w*) (?:at |on )(?:the |any |those |so many |more |fewer )*"
     r"(?:junk|garbage|slop|trash|bad (?:pitches|balls|stuff|ones)|balls(?= (?:more|less|than|[,.?!<]|nobody)| $))",
     (CHASES,)),
    (r"swing happy|free swing\w*|(?:let|lets|letting) (?:it|her|one|er) (?:rip|fly)|"
     r"hack(?:s|er|ers|ing|ed)?(?: (?:at|away))?|offer(?:s|ed|ing)? at|"
     r"pull(?:s|ed|ing)? the trigger|jump(?:s|ed|ing)? (?:on|all over)|ambush\w*|go(?:es|ing)? after|"
     r"tak(?:e|es|ing) (?:a |his |her |big |healthy )*(?:cut|cuts|rips?|hacks?)(?: at)?|attack(?:s|ing|ed)?|"
     r"aggressive(?:ness|ly)?|first pitch swing\w*", (SWINGS,)),
    (rf"lay(?:s|ing)? off|laid off|spit(?:s|ting)? on|(?:let|lets|letting) {_FEW}(?:go(?: by| past)?|pass|be)|"
     rf"(?:tak|watch)(?:e|es|ing|ed)? {_FEW}(?:pitch(?:es)?|strikes?|it|them|balls|one)?(?: (?:go )?by)?|"
     r"tak(?:e|es|ing|en)(?= (?:[<,.?!]|more|less|the|a|most|too|with|on|at|first|so|almost|about|over|as)| $)|"
     r"(?:bat|stick|lumber) (?:on|stays on|never leaves) (?:his|her|the) shoulders?|sit(?:s|ting)? back|"
     r"patient|patience|keep(?:s|ing)? (?:the|his|her) bat (?:on (?:his|her|the) shoulder|still|quiet)|"
     r"look(?:s|ing)? at (?=(?:more |a lot of |the first |strike|<))|stand(?:s|ing)? there", (TAKES,)),
    (r"swing(?:s|ing|er|ers)?(?: (?:rate|percentage|away))?(?: at)?|swung(?: at)?|goes? up (?:there )?hacking",
     (SWINGS,)),
    (r"miss(?:es|ed|ing)?(?: (?:one|it|them|rate))?|(?:wav|flail)(?:e|es|ing|s)?(?: (?:at|through))?", (WHIFFS,)),
    (r"(?:discipline\w*|good eye|eye|eyes|selective)", (CHASES,)),
    (r"hit(?:s|ting)?|bat(?:s|ting|ted)?(?= (?:better|worse|well|against|with|<))", (HITS, HARD)),
)  # fmt: skip
"""What is done, and the rates that it may be, the likeliest first."""

_SEES = r"(?:sees?|saw|seen|faces?|faced|gets?|thrown?|throws|throw|comes? (?:his|her) way)"
PER: tuple[tuple[str, str], ...] = (
    (r"(?:per|a|each|every|for every) (?:ball )?(?:put )?in play|(?:per|of|on|when|once|if|whenever|all)(?: (?!than |and )"
     r"[^ ,.;:<]+){0,5}(?: <who>)?(?: [a-z]+)? (?:puts? (?:it |the ball |one |balls |them |wood on it |the bat on it )*in(?:to)? play|balls? in play|"
     r"balls? (?:(?:that )?(?:he|she|they|<who>) )?(?:puts?|hits?) (?:in(?: play)?|into play|fair))|balls? in play|"
     r"balls? (?:(?:that )?(?:he|she|they|<who>) )?(?:puts?|hits?) (?:in(?:to)? play|in|fair)|"
     r"(?:that|which) (?:he|she|they) puts? in play", "in_play"),
    (r"(?:per|each) contact|(?:when|once|if|whenever|every time) (?:he|she|they|<who>) (?:\w+ )?"
     r"(?:makes?(?: \w+)? contact|connects?|touch(?:es)? it|gets? (?:wood|the bat) on it|hits it)|on contact(?! (?:rate|percentage|percent))|"
     r"of (?:his|her|their|all|the) contact", "contact"),
    (r"(?:per|for every|each) (?:swing|cut|hack)s?|swing for swing|of (?:(?:all|his|her|their|the|its) )*"
     r"(?:swings|cuts|hacks)|(?:on|in) (?:(?:all|his|her|their|of|the|more|fewer|most|half) )*(?:swings|cuts|hacks)|"
     r"(?:when|once|if|whenever|every time|each time|times) (?:(?:he|she|they|<who>) )?"
     r"(?:\w+ )?(?:swings?|offers?|cuts? (?:it )?loose|pulls? the trigger)(?: at)?|"
     r"(?:that |what |whatever |everything |pitches |ones )?(?:he|she|they|<who>) (?:\w+ )?(?:swings?|offers?|hacks?) at|"
     r"(?:swings|cuts|hacks)(?= (?:are|is|end|ends|come|comes|miss|that))", "swings"),
    (r"(?:per|for each) pitch(?:es)?(?: (?:seen|faced|thrown))?|pitch for pitch|(?:of|on) (?:(?:all|of|the|his|her|every|"
     rf"more|fewer) )*pitches(?: (?:that )?(?:(?:he|she|they|<who>) )?{_SEES})?|"
     rf"(?:pitches|what|whatever|everything|ones|anything) (?:that )?(?:he|she|they|it|<who>) {_SEES}|"
     r"(?:he|she|they|it) (?:sees?|faces?)|pitches seen", "pitches"),
    (r"(?:per|each|of|in|for|every) (?:(?:all|his|her|their|the|every|official|\d+|ten) )*at bats?|at bats?|(?:per|each|every|a) ab|abs(?= )", "at_bats"),
    (r"(?:per|each|of|in|for|every) (?:(?:all|his|her|their|the|every) )*(?:plate appearances?|trips?(?: to the plate|"
     r" up)?|times? up|turns? at bat|trip)|plate appearances?|trips? (?:to the plate|up)|times? (?:up|at the plate)|"
     r"(?:every time|each time) (?:(?:he|she) )?(?:comes? up|steps? (?:in|up))|pas?(?= )",
     "plate_appearances"),
)  # fmt: skip
"""What it is divided by."""

_PITCH = (
    r"(?:fast ?balls?|heat|heaters?|cheese|gas|velo(?:city)?|sliders?|curves?|curveballs?|breaking|change ?ups?|sinkers?|cutters?|off ?speed)"
)
_RUNNERS = "bases=first,second,third,first second,first third,second third,full"
_SOME = r"(?:runners?|men|man|guys?|people|traffic|ducks|somebody|someone|anybody|teammates?|folks|bodies|a runner)"
_WHEN = r"(?:when|with|once|if|on|in|at|after|whenever)"
SITUATION: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"(?:bases|sacks|bags) (?:are |is |is all |all )?(?:loaded|full|juiced|packed|drunk|jammed)|"
     r"full bases|loaded bases|(?:bags|sacks) full", ("bases=full",)),
    (r"(?:bases|sacks|bags) (?:are |is |all )?(?:empty|clear|clean|vacant)|(?:nobody|no one|none|no runners?|no men) "
     r"(?:is |are )?(?:on|aboard)(?: base| the bases)?(?! (?:the|this|my|our|a|any))|empty bases|clean bases",
     ("bases=empty",)),
    (rf"(?:{_SOME} (?:is |are )?(?:on|at) |two on |both )?(?:first and second|1st and 2nd|first n second)(?: base)?(?= )", ("bases=first second",)),
    (rf"(?:{_SOME} (?:is |are )?(?:on|at) |two on )?(?:first and third|1st and 3rd|(?:the )?corners)", ("bases=first third",)),
    (rf"(?:{_SOME} (?:is |are )?(?:on|at) |two on )?(?:second and third|2nd and 3rd)", ("bases=second third",)),
    (rf"(?:{_SOME} (?:is |are )?(?:in|on) |in |with )?(?:scoring position|risp)|(?:{_SOME} (?:on|at) )?(?:second or third(?: base)?)",
     ("runner on second or third",)),
    (rf"{_SOME} (?:is |are )?(?:on|at) first(?! pitch)", ("bases=first",)),
    (rf"{_SOME} (?:is |are )?(?:on|at) second", ("bases=second",)),
    (rf"{_SOME} (?:is |are )?(?:on|at) third|(?:runner |man |somebody )?ninety feet away", ("bases=third",)),
    (rf"{_SOME} (?:is |are )?(?:on(?: base| the bases| the pond)?(?! (?:the|my|our|this|that|his|her) )|aboard|out there)|traffic|ducks|"
     r"men on|runners(?= )|(?:somebody|someone) on", (_RUNNERS,)),
    (r"full counts?|count (?:is |goes |runs |gets )?(?:full|to full)|three (?:and|balls) two|3 and 2|three two(?: counts?)?|"
     r"three balls and two strikes|(?:runs|works|works it|it is) full|payoff pitch", ("full count",)),
    (r"(?:ahead in (?:the )?count|hitters counts?|in (?:his|her) favor|(?:he|she) (?:is|gets) ahead)", ("ahead in the count",)),
    (r"(?:behind in (?:the )?count|pitchers counts?|(?:he|she) (?:is|falls|gets) behind|in the hole)", ("behind in the count",)),
    (r"(?:the )?(?:very )?(?:first|opening|1st) (?:pitch(?:es)?|ones?(?= )|offerings?|strike|ball)|pitch (?:number )?one|"
     r"first pitch(?:es)?|0-0|oh and oh", ("first pitch",)),
    (r"(?:with |on |at |down to |to )?(?:two|2) strikes?(?: (?:counts?|pitch(?:es)?|on (?:him|her|them)))?|"
     r"two strike|one strike away|down to (?:his|her|the) last strike|oh (?:and )?two|backs? (?:is )?against the wall",
     ("strikes=2",)),
    (r"(?:late and close|late innings|late in (?:the |a )?(?:games?|ball ?games?)|late(?:r)? (?:in|on) (?:in )?(?:the )?games?|"
     r"(?:the |from the )?(?:seventh|7th) (?:inning )?(?:on|onward|or later|and later)|close and late|crunch time|"
     r"game (?:is )?on the line|when it (?:is|gets) late|late and tight|late(?= (?:and|,|with|in)))", ("inning>=7",)),
    *((rf"(?:in |of )?(?:the )?{word}(?: inning| frame)(?! (?:on|pitch))|in (?:the |that )?{word}(?= (?:[,.?!<]|than|with|more|less|"
       rf"he|she)| $)|inning {number}|{number}(?:st|nd|rd|th) (?:inning)?", (f"inning={number}",))
      for number, word in enumerate(("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth",
                                     "ninth"), start=1)),
    (rf"(?:high|elevated|up) (?={_PITCH}(?: |$))|(?:at|near) the top of the (?:strike )?zone|up in (?:the )?(?:strike )?zone", ("up",)),
    (rf"low (?={_PITCH}(?: |$))|(?:at|near) the bottom of the (?:strike )?zone|down in (?:the )?(?:strike )?zone", ("down",)),
    (rf"inside (?={_PITCH}(?: |$))", ("inside",)),
    (rf"outside (?={_PITCH}(?: |$))", ("away",)),
    (r"(?:up|high) and (?:in|inside|tight)", ("up and in",)),
    (r"(?:up|high) and (?:away|outside)", ("up and away",)),
    (r"(?:down|low) and (?:in|inside)", ("down and in",)),
    (r"(?:down|low) and (?:away|outside)", ("down and away",)),
    (r"(?:over|down|right down|in) the (?:heart|middle|pipe|dick)(?: of the plate)?|middle middle|grooved", ("over the middle",)),
    (r"(?:off|out of|outside|beyond|not in|not in|nowhere near|away from|out) (?:of )?(?:the )?(?:strike )?(?:zone|plate)|"
     r"out of zone|in the dirt|non strikes|balls off", ("outside the zone",)),
    (r"(?:in|inside|within|over|through) the (?:strike )?(?:zone|plate)|in zone|(?:pitches |balls )?that (?:are |is )?strikes|"
     r"over the plate", ("in the zone",)),
    (r"four ?seam(?:er|ers)?(?: fastballs?)?", ("pitch_kind=four-seam fastball",)),
    (r"fast ?balls?|heaters?|heat(?= )|gas|cheese|number one|high heat|velo(?:city)?|the hard stuff|straight stuff|"
     r"smoke|fastball(?: hitter)?", ("pitch_kind=fastball",)),
    (r"sinkers?|two seam(?:er|ers)", ("pitch_kind=sinker",)),
    (r"cutters?", ("pitch_kind=cutter",)),
    (r"(?:sliders?|slide pieces?)(?: (?:and|or|nor|,) (?:the |a )?(?:curve ?balls?|curves?|hooks?|breakers?))|"
     r"(?:curve ?balls?|curves?|hooks?)(?: (?:and|or|nor|,) (?:the |a )?sliders?)|"
     r"break(?:ing)?(?: (?:balls?|pitch(?:es)?|stuff|ones?))?|breakers?|spin|bendy (?:stuff|ones)|benders?|breaking|"
     r"the (?:bendy|curvy|twisty) (?:stuff|ones)|crooked (?:stuff|ones)", ("pitch_kind=breaking",)),
    (r"sliders?|slide pieces?", ("pitch_kind=slider",)),
    (r"curve ?balls?|curves?|hooks?|hammers?|uncle charlie", ("pitch_kind=curveball",)),
    (r"change ?ups?|change(?:s)?(?= (?:[,.?!<]|and|or|than|more|less|in|up)| $)|cambios?|soft stuff", ("pitch_kind=changeup",)),
    (r"splitters?|split finger", ("pitch_kind=splitter",)),
    (r"off ?speed(?: (?:pitch(?:es)?|stuff))?|slow stuff", ("pitch_kind=offspeed",)),
    (r"up in the zone|high (?:pitch(?:es)?|stuff|ones?)|elevated|up high|the high pitch", ("up",)),
    (r"down in the zone|low (?:pitch(?:es)?|stuff|ones?)|down low|at the knees|the low pitch", ("down",)),
    (r"(?:inside|in tight)(?: (?:pitch(?:es)?|stuff|corner))?|(?:on|at) the hands", ("inside",)),
    (r"outside (?:pitch(?:es)?|stuff|corner|half)|pitches away|outer half", ("away",)),
)  # fmt: skip
"""Where and when."""

_GROUP = r"(?:hitters?|batters?|pitchers?|clubs?|teams?|players?|bats?|ones?|man|men|woman|guys?|kids?|arms?|people|folks|" \
         r"lineups?|starters?|hurlers?|soul|body)"  # fmt: skip
_LEAGUE = r"(?:(?:whole|entire|rest of the|rest of this|rest of) )*(?:league|circuit|loop|field|sport|game|baseball|pack)"
_NUM = r"(?:two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|\d\d?)"
CUES: tuple[tuple[str, str, object], ...] = (
    # What follows a miss.
    (r"(?:after|given|following|off|on the heels of|coming off|right after|once|when|whenever|every time|each time|as soon as) "
     r"(?:(?:he|she|they|you|<who>|hitters?|a hitter|just|has|have|is|make|makes|fool|fools|get|gets|him|her|them) )*(?:a |one |his "
     r"|her |that |the |an? ugly |bad |first |swinging |empty |big )*(?:swing and (?:a )?miss(?:es)?|swings? and misses|"
     r"swung and missed|whiff(?:s|ed|ing)?|miss(?:es|ed|ing)?(?! (?:bats|bat))|swung through|swings through|"
     r"com(?:e|es|ing) up empty|came up empty|swinging strike|empty swing|swinging and missing|fooled)(?: (?:on )?(?:one|once|"
     r"a pitch|badly|it|him|her))?", "after", None),
    (r"(?:he|she|they|<who>) (?:just )?(?:swings? and misses|misses|whiffs|swings through)(?: (?:one|once|badly))? ?"
     r"(?:,|and)? ?(?:then )?(?=.*\bnext\b)", "after", None),
    (r"(?:learns?|adjusts?|recovers?|bounces? back|shakes? (?:it )?off|tightens? up) (?:from|after|off) (?:a |an? \w+ |his |her |the )?"
     r"(?:miss(?:es)?|whiffs?|swing and miss|swinging strike)", "learns", None),
    (r"(?:on |at |to )?(?:the |his |her )?(?:very )?next (?:one|pitch|swing|offering|time)(?! week)|following (?:one|pitch|swing)|"
     r"same (?:at bat|plate appearance|trip|turn|time up)|twice in a row|two in a row|back to back|another(?: one)?(?= (?!hitter|man|guy|player|club|bat|day|week|game))|a second (?:one|time)|the next(?=(?: [,.?!])| $)",
     "next", None),
    (r"(?:(?<=miss )|(?<=misses )|(?<=whiff )|(?<=whiffs )|(?<=missing )|(?<=them )|(?<=it )|(?<=one ))again(?=(?: [,.?!])| $| (?:on|in) )", "next", None),
    # Who to send up.
    (r"who (?:do )?(?:ya|you|we|yall) (?:got|have|want)|the one to (?:hit|bat|send|swing)|(?:rather|want to|like to) (?:see|have)(?: up)?|off the bench|(?:who|which \w+|whom)(?: else)? (?:(?:would|should|do|did|will|can|could|is|are|am|i|you|we|they) )+(?:\w+ )?(?:pick|send|want|take|"
     r"like|call|use|choose|bat|hit|pinch hit|put|trust|go with|need|rather have|have|prefer)(?: (?:up|on|in|to (?:hit|bat)|at the plate|"
     r"for|there|out there|swinging))*|pinch ?hit(?:s|ting|ter)?|send(?:s|ing)? (?:him |her |<who> )?up(?: there)?|"
     r"(?:the )?right (?:hitter|man|woman|one|choice|bat|person|guy|gal|pick|option)|(?:best|better) (?:choice|pick|option|bet)|"
     r"(?:your|our|my) (?:hitter|man|woman|guy|gal|pick|choice|bat)(?=(?: [,.?!])| $)|the (?:guy|one|man|woman|bat)(?=(?: [.?!]){1,3} ?$)|"
     r"(?:the )?(?:hitter|one|bat|guy|man|woman|stick|gal) (?:i|we|you|they) (?:would |should |had |will )*(?:want|need|like|send|pick|take)"
     r"(?: up| at the plate| there)*|whose (?:turn|job)|who (?:gets the bat|bats|hits|comes? up|goes up)(?= )|"
     r"(?:i|we|you) (?:would |will )?(?:want|need|send|take|have)(?= <who>)|give me(?= <who>)", "spot", None),
    (r"(?:bottom|home half|last|end)(?: half)?(?: of)?(?: the)? (?:ninth|nine|9th|9|last inning|last)(?: inning)?|bottom nine|"
     r"(?:home|last of the) (?:ninth|9th)|last (?:half )?inning|ninth inning|(?:in )?the ninth", "ninth", None),
    (r"(?:tie[ds]?|tied up|all square|all even|knotted(?: up)?|deadlocked|even)(?: (?:game|ball ?game|score))?(?= )", "gap", 0),
    (r"(?:down|trail(?:s|ing)?|behind|losing|need(?:s|ing)?)(?: by)? (?:a|one|1)(?: (?:run|to tie))?(?= (?!strike|pitch|day|week))|"
     r"(?:one|1|a) (?:run )?(?:behind|back|short)|(?:a|one|1) run (?:down|game|deficit)|down to (?:a )?run", "gap", -1),
    (r"(?:down|trail(?:s|ing)?|behind|losing)(?: by)? (?:two|2|a pair)(?: runs?)?(?= (?!strike|pitch|day|week))|(?:two|2) (?:runs )?(?:behind|back|short)|(?:two|2) runs down",
     "gap", -2),
    (r"(?:down|trail(?:s|ing)?|behind|losing)(?: by)? (?:three|3)(?: runs?)?(?= (?!strike|pitch))", "gap", -3),
    (r"(?:up|leads?|leading|ahead)(?: by)? (?:a run|one run|one|1)(?= (?!strike|pitch))", "gap", 1),
    # Places of a list.
    (rf"(?:top|best|leading|highest|first) (?P<n>{_NUM})(?! (?:games|weeks|days|strikes?|outs?|pitches|times))", "top", 1),
    (rf"(?:bottom|worst|lowest|last) (?P<n>{_NUM})(?! (?:games|weeks|days|strikes|outs|pitches|times|innings))", "bottom", 1),
    (rf"(?:one |any |who |which |what )?(?:of |among |are |is |r |in |be |me |list |name |show |see |for |pick )+(?:the |our |your |my |this league is |a )+"
     rf"(?:league )?(?P<n>{_NUM})(?= (?!games|weeks|days|strikes?|outs?|pitches|times|innings|hundred|months|runs?|percent|tool))", "top", 1),
    (rf"(?:the )(?P<n>{_NUM}) (?=(?:biggest|best|toughest|hardest|easiest|wildest|worst|most|least|highest|lowest|fewest|freest|"
     rf"steadiest|hitters|batters|pitchers|arms|clubs|teams|guys|players|bats) )", "top", 1),
    (rf"(?P<n>{_NUM}) (?=(?:biggest|best|toughest|hardest|easiest|wildest|worst|highest|lowest|freest|steadiest) )", "top", 1),
    # Said by itself.
    (r"(?:(?:on|in|having|going through|in the midst of|riding|amid|middle of) )*(?:(?:a|an|the|such a|quite a|one of those) )?"
     r"(?:(?:\w+ )?(?:hot|torrid|hitting|winning|good|nice|crazy|heat) (?:streak|stretch|spell|run|hand|patch|bat|stick|week)|tear|roll|"
     r"rampage|binge)|(?:red |white |piping |smoking |scorching )?hot(?:ter|test)?(?! dog)|(?<=is )on (?:a|quite a) heater|(?<=been )on (?:a|quite a) heater|on fire|caught fire|"
     r"en fuego|locked in|scorching|sizzling|heat(?:s|ing|ed) up|com(?:e|es|ing) alive|catch(?:es|ing) fire|(?:seeing|sees) (?:it|the ball) (?:well|good|like \w+ \w+ \w*)|"
     r"in the zone (?:right now|lately|these days)|unconscious|out of (?:his|her) mind|feeling it|swinging (?:a )?(?:good|great|hot) (?:bat|stick)",
     "hot", None),
    (r"(?:ice |stone )?cold(?:er)?|slump\w*|scuffling|in a (?:funk|rut|hole|drought)|funk|fallen off|cooled(?: off| down)?|gone quiet|"
     r"dried up|fading|faded", "cold", None),
    (r"not (?:been |looked )?(?:himself|herself|themselves)|differs?|not (?:been )?(?:the )?same(?: (?:hitter|man|woman|player|pitcher|club|team|guy|bat|person))?|somebody else(?: entirely| altogether)?(?= (?!does|but))|"
     r"(?:a )?(?:new|different|changed) (?:hitter|man|woman|player|pitcher|guy|person|animal|bat|fella|kid)|"
     r"(?:any |a |some |big |real )*differen(?:ce|t|ces|tly)(?: at all)?|(?:better|more|up) or (?:worse|less|down)|(?:worse|less|down|up) or (?:better|more|up|down)|"
     r"(?:do|does) not (?:care|matter) (?:which|what)(?: way| direction)?|either (?:way|direction)|(?:has|have|did) (?:\w+ )?change[d]?(?= )", "different", None),
    (r"(?:steady|steadily|steadier|consisten(?:t|tly|cy)|even keel(?:ed)?|like clockwork|same (?:old )?(?:hitter|guy|player|bat|thing|rate|"
     r"story|clip|pace)(?: (?:all|every|since|from|as|day|week|he|she))?|(?:no|without) (?:ups|highs|peaks|hot|slumps?|valleys|streaks?)"
     r"(?: (?:and|or|,|no) (?:no )?(?:downs?|lows?|valleys?|cold|slumps?)\w*)?|day in (?:and )?day out|week in (?:and )?week out|"
     r"metronome|stable|regular(?! season)|unchanged|(?:no|any|little) variation|not (?:\w+ )?(?:change|vary|varied|waver)[ds]?(?= (?!hitter))|"
     r"a rock|machine|automatic|rain or shine|you could set your watch|level all|streaky|up and down|same(?= <who>)|every (?:single )?(?:day|night|week)|"
     r"never (?:\w+ )?(?:slumps?|changes?|wavers?))", "steady", None),
    (r"(?:go|goes|going|come|comes|move|travel|tied|linked|run|hang)(?: \w+)? (?:together|hand in hand|along with)|correlat\w*|"
     r"(?:relationship|connection|link) between|(?:related|linked|tied) to|same (?:guys|hitters|people|ones) who", "gotogether", None),
    (r"(?:not )?(?:the same|a (?:whole )?(?:different|new|changed)|another|a totally different|brand new) (?:hitter|man|woman|player|pitcher|"
     r"club|team|guy|person|bat|animal|gal|fella|kid)|chang(?:ed|es)(?: (?:as a hitter|at all))?|made over|reinvent\w*|transform\w*", "different", None),
    # With what it is compared.
    (rf"than (?:his|her|their) (?:own )?(?:usual|normal|average|rest)|than (?:on |against |at |with )?(?:(?:he|she|they|it) )?(?:(?:does|do|is|are|did|gets?|hits?|swings?|misses|[a-z]+s) )?(?:through |at |on |against )?(?:otherwise|"
     r"usual(?:ly)?|normal(?:ly)?|everything else|anything else|(?:all )?other (?:pitch(?:es)?|times|situations?|spots?|kinds?|counts?|innings?)|"
     r"(?:in )?(?:the )?rest(?: of (?:the|his|her) (?:time|games?|at bats|pitches|innings?|season|counts?))?(?! of)|(?:the )?(?:other )?(?:pitches|stuff)|"
     r"elsewhere|(?:any|every) other (?:time|inning|pitch|spot|count|situation|kind)|the others?|in any old \w+|earlier|with(?:out)? (?:none|nobody|them empty|"
     r"nobody on|the bases empty|them)|early in (?:games|the count)|in other \w+|the other (?:kind|way|stuff|side|ones?))"
     r"(?: (?:he|she|they) \w+)?", "otherwise", None),
    (r"(?:compared to|versus|vs|against|than) (?:the )?(?:rest of the time|everything else|the rest|otherwise)|the rest of the time|everywhere else", "otherwise", None),
    (r"(?:on|in|of) (?:his|her|their|the|this|our) (?:own |whole )?(?:club|team|lineup|roster)(?= )", "ownclub", None),
    (r"(?:than|as|like|versus|vs|beats?|outdoes|beating) (?:through |on |against |in |off )?(?:the |this |our )?(?:whole |entire |rest of the )?"
     r"(?:league|field|pack|rest|circuit)(?! leader)(?: (?:average|norm|mean|rate|as a whole|does|do|is|at large))*", "league", None),
    (rf"(?:than|as|like|of|to|over|from|with|beats?|above) (?:(?:any|all|every|each)(?: other| of the| the)?(?: other)? {_GROUP}|"
     rf"(?:any|every|no) ?(?:one|body)(?: else)?|all (?:of )?(?:them|others|comers|the others))(?: (?:in|of|on|around) (?:the |this |our |all )*{_LEAGUE})?",
     "anyone", None),
    (r"(?:any|every) other(?= <who>)", "anyone", None),
    (r"(?:no|none|nobody|not a) better(?! (?:<|than))", "best", 1),
    (rf"(?:across|throughout) (?:the |this |our |all )*(?:whole )?(?:{_LEAGUE})|leaguewide|league wide|as a league|across (?:everybody|everyone|the board)|"
     r"(?:the|this|does this|whole|entire) (?:whole |entire )?league(?= )|(?:everybody|everyone)(?= (?:is|has|,|hits|misses|swings|chases))|(?:the )?league as a whole|league(?= (?:has|hits|misses|whiffs|swings|chases|puts|makes|strikes|walks|is))", "group", None),
    (rf"(?:the |a |an )?(?:league s |league is )?(?:league )?(?:average|norm|par|typical|ordinary|usual|run of the mill|garden variety)"
     rf"(?: (?:{_GROUP}|joe|league|league \w+|major leaguer))?(?: in (?:this|the) {_LEAGUE})?|(?:than |like |as |against )?(?:most|other|the other|the rest of the)(?: other)? "
     rf"(?:{_GROUP}|of (?:the|this) {_LEAGUE})|than most|than others|(?:the )?rest of (?:the |this |us |them )*{_LEAGUE}|(?:the )?league as a whole|"
     rf"(?:than|as|like|with|against|versus|beats?) (?:the |this )(?:whole |rest of the )?(?:{_LEAGUE}|rest)(?! leader)|than (?:the )?rest|the others|league (?:average|wide|rate)|your average \w+|the next (?:guy|man|gal|hitter)|normal|par for the course",
     "league", None),
    (rf"(?:than|as|like|of|to|over|from|with|in|beats?|above) (?:(?:any|all|every|each)(?: other| of the| the)?(?: other)? {_GROUP}|"
     rf"(?:any|every|no) ?(?:one|body)(?: else)?|all (?:of )?(?:them|others|comers|the others)|the others)(?: (?:in|of|on|around) (?:the |this |our |all )*{_LEAGUE})?|"
     rf"any ?(?:one|body)(?: else)?(?= (?:in|who|that|hit|hits|miss|misses|do|does|chase|swing|get|gets|out|around|alive)|(?: [,.?!])| $)|"
     rf"is there (?:a|an|another)(?= )|(?:is there |find me |show me |name |name me |know )?any ?(?:one|body|{_GROUP})|(?:in|of|around) (?:the |this |our |all (?:of )?(?:the )?|whole |entire )*"
     rf"(?:{_LEAGUE})(?! average)|out there|on (?:the |this )?planet|anywhere|in the land|in the majors|in town|in the business|alive|of them all|of all",
     "anyone", None),
    (rf"(?:nobody|no ?one|not a soul|none(?: of them)?|no (?:other )?(?:{_GROUP})|there is not (?:a |an |any )?(?:one|{_GROUP}|body|other)?|not one|ain t (?:nobody|no one|a))"
     r"(?: else)?(?: (?:in|on|around|out|there|who|that) (?:this |the |here )?(?:league |club |team |there )?)?", "nobody", None),
    (r"(?:lead|leads|leading|led|tops?|topped|paces?|pacing|number one|no 1|first in|second to none|league leader|leader|king|queen|goat|master|champ(?:ion)?|"
     r"at the top(?! of the (?:strike )?zone)|sits atop|atop|crown|tougher than all|in a class (?:of|by)|unmatched|unrivaled|ahead of (?:everyone|everybody|the pack))", "leads", None),
    # More and less.
    (r"(?:harder|tougher|more difficult|not as easy|not easy) (?:for \w+ )?to(?= )", "more", -1),
    (r"(hardest|toughest|most difficult) (?:[^ ,.;]+ ){0,4}?(to)(?= )", "most", -1),
    (r"(?:easier) (?:\w+ ){0,2}?to(?= )", "more", 1),
    (r"(easiest) (?:[^ ,.;]+ ){0,4}?(to)(?= )", "most", 1),
    (r"(?:tough|hard|difficult|a pain|a bear|a nightmare) to(?= )", "deny", None),
    (r"(?:toughest|hardest)(?= <rate>)", "most", -1),
    (r"(?:fewest|least|lowest|smallest|rarest|stingiest)(?: (?:often|likely|of(?= all)))?", "most", -1),
    (r"(?:most|highest|biggest|largest|greatest|freest|wildest|oftenest)(?: (?:often|frequently|likely|of(?= all)))?", "most", 1),
    (r"(?:best|finest|premier|elite|greatest|scariest|deadliest|purest|sharpest)", "best", 1),
    (r"(?:worst|poorest|weakest|ugliest|sorriest)", "best", -1),
    (r"(?:not (?:as|so|nearly as|quite as|half as) (?:often|much|many|hard|good|well|likely|frequently|\w+))", "more", -1),
    (r"(?:no more|not more|not any more)(?: often)?(?= than)", "more", -1),
    (r"(?:less|fewer|lower|smaller|seldomer|rarer)(?: (?:often|frequently|likely|of|times|apt|prone))*", "more", -1),
    (r"(?:cut|cuts|cutting) (?:\w+ )?(?:down|back)(?: on)?|(?:drop|dropped|drops|dropping|fall|falls|fell|fallen|falling|declin\w*|plummet\w*|shrunk|shrank|shrink\w*|dips|dipped|dipping|sagged|crater\w*|slowed|tanked|tanking)(?: (?:off|down|away))?|"
     r"(?:gone|going|went|goes|way|is|are|been|come|came|coming) down(?! (?:swinging|looking|on|to|the|in))|stop(?:s|ped|ping)?|quit(?:s|ting)?|no longer|not anymore|vanish\w*|disappear\w*|dried up|dry up|dries up|halved", "more", -1),
    (r"(?:more|higher|bigger|greater|larger|oftener|likelier)(?: (?:often|frequently|likely|of|times|apt|prone))*|extra|"
     r"(?:go|goes|going|gone|went|is|are|been|way|come|came) up(?= (?:[,.?!<]|since|in|with|against|when|a|to)| $)|(?:rising|risen|rises|rose|climb\w*|jumped|jumping|spik\w*|increas\w*|soar\w*|skyrocket\w*|shot up)(?: up)?|start(?:ed|s)? (?=<|to|hitting|missing|chasing|swinging|striking|walking|making)", "more", 1),
    (r"harder|(?:above|over|north of|exceeds?)(?= <league>| that )", "more", 1),
    (r"(?:below|under|beneath|south of|short of)(?= <league>| that | it )", "more", -1),
    (r"(?:better|stronger|improv\w*|sharper|superior|nicer|upgrade|a step up|tougher|waking up|woke up|woken up|picked (?:it )?up|turned (?:it|things) around|"
     r"figured (?:it|something|things) out|come (?:alive|around))", "better", 1),
    (r"(?:worse|poorer|weaker|slipp\w*|regress\w*|lost (?:it|something)|step down|backslid\w*|struggling (?:since|more)|drop off|off a cliff)", "better", -1),
    (r"(?:feasting on|own(?:s)?(?= (?:the|a|that|this|any|all|every|<|him|her|sliders|lefties))|feasts?(?: on)?|eats?(?: up| alive)?|kills?|loves?(?= (?:<|the|a|seeing|hitting|it))|"
     r"lives? (?:on|for|off)|good|great|terrific|excellent|outstanding|deadly|strong|lethal|solid|decent|dangerous|monster|beast|stud|nails|money|handles?|comfortable|likes?(?= (?:the|a|<|it|to see|seeing|fastballs|lefties)))"
     r"(?= )", "good", 1),
    (r"(?:struggl\w*|trouble|lousy|terrible|bad|awful|helpless|lost|hopeless|useless|trash|garbage|handcuff\w*|stinks?|problems?|weak(?:ness)?|brutal|eaten alive|hates?|can not (?:hit|handle|solve)|cannot hit|"
     r"dead (?:against|on)|nightmare|kryptonite|achilles)(?= )", "good", -1),
    # Denied and counted.
    (r"(?:a lot|lots|a ton|tons|a bunch|so much|too much|too many|so many|too often|so often|all the time|constantly|always|forever|way too \w+|plenty|prone|happy|much|often|frequently|regularly|every time|keeps?|many)(?= )",
     "lot", None),
    (r"(?:never|hardly(?: ever)?|rarely|seldom|barely|scarcely|almost never|does not|do not|did not|is not|are not|will not|can not|could not|cannot|not|refuses? to|allergic to|"
     r"without|no|avoids?|will never|ain t|hard to)(?= )", "deny", None),
    (r"than|over(?= (?:the )?<who>)|ahead of|compared (?:to|with)|versus|vs", "than", None),
    (r"(?:or)(?= )", "or", None),
    (r"(?:lately|recently|of late|these days|nowadays|right now|this (?:past )?(?:week|month)|last (?:week|few (?:days|weeks|games)|couple (?:of )?(?:days|weeks)|month)|"
     r"(?:past|last) (?:few|couple(?: of)?|two|three|several|ten) (?:days|weeks|games|months)|the last (?:few|couple|two) \w+|recent(?: games| weeks| days)?|anymore|any more|now|yet)(?= )", "lately", None),
    (r"(?:used to(?: be)?|once (?:was|did)|before(?:hand)?|earlier|previously|prior|back (?:in|then)|until then|at first|early on|than (?:he|she|they|it) (?:did|was|were|had)(?: been)?)", "before", None),
    (r"(?:all (?:season|year)(?: long)?|every (?:week|month|day|night|game)|from (?:day one|april|start) (?:to|through) (?:\w+)|(?:start|wire) to (?:finish|wire)|throughout|the whole (?:season|year|way)|all along|month (?:after|to|by) month|week (?:after|to|by) week|from (?:the )?(?:start|beginning|opening day))", "allyear", None),
)  # fmt: skip
"""What tells the kind of claim, its direction and with what it is compared."""

LATER_CUES: tuple[tuple[str, str, object], ...] = (
    (r"(?:which|what|who) (?:\w+ )?(?:pitchers?|arms?|hurlers?|starters?|relievers?|throwers?|reliever)|(?:pitchers?|arms?|hurlers?)(?= (?:who|that|with|get|in|has|have|gets))", "whose", "pitcher"),
    (r"(?:which|what) (?:\w+ )?(?:clubs?|teams?|lineups?|squads?|offenses?)|(?:clubs?|teams?|lineups?)(?= (?:who|that|with|in|has|have|hits|chases|swings|whiffs|strikes|walks))", "whose", "club"),
    (r"(?:who|which|what|whom|whos|whose) ?(?:hitters?|batters?|players?|bats?|guys?|one|is|are|r|has|does|do)?(?= )", "whose", "hitter"),
    (r"(?:hitters|batters|guys|players|bats|people|folks|everybody|everyone|the league|swingers|hackers|sluggers|they|league|ones|those|anybody)(?= )", "group", None),
    (r"(?:pitchers?|arms?|hurlers?)(?= )", "group", "pitcher"),
    (r"(?:clubs?|teams?|lineups?)(?= )", "group", "club"),
)  # fmt: skip
"""Of whom it is, where nobody is named."""

DENIED = ("deny",)
DROPPED = rf"(?:{'|'.join(MONTHS)})"
IDLE: frozenset[str] = frozenset()
