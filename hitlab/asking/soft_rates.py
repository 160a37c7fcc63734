"""Words of the trade for what is done, and out of what: read softly, wherever they stand.

What is found by these is offered and never read. A pattern is read over folded words with single blanks
between; each takes what it finds, so that the longer stands before the shorter. Of one with groups only the
groups are taken.
"""

from __future__ import annotations

from hitlab.asking.phrases_rates import (
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

__all__ = ["PER", "RATE", "RATE_APART", "UNNAMED"]

UNNAMED = (HARD, HITS, WHIFFS)
"""Where none is named."""

_IT = r"(?:it|the ball|them|one|balls|pitches|stuff|a ball|a pitch|that|everything|anything)"
_A = r"(?:the|a|an|his|her|their|that|this|some|any|my|your)"
_FEW = r"(?:(?!than |and |but |as |or )[^ ,.;:!?<]+ ){0,4}?"
_THEM = r"(?:him|her|them|you|<who>)"

_NOT_IT = (
    r"(?! (?:it |the ball )?hard)"
    r"(?! (?:(?:the|a|an|most|fewest|more|fewer|less|than|\d+|<above>) )*(?:home ?runs?|homers?|<rate>) )"
)
"""Behind "has hit": nothing that is hit, and so a hit."""
_APART = (
    r"(?:(?!than (?!\d|\.|a |one |two |three |four |half )|and |but |as |or |because )"
    r"[^ ,;:!?]+ ){0,8}?"
)
RATE_APART: tuple[tuple[str, tuple[Rate, ...]], ...] = (
    (r"(?:(?<=hardest )|(?<=harder ))hitt(?:ing|ers?)", (HARD,)),
    (rf"(hit|hits|hitting|struck|sting|stings|drive|drives) {_APART}(hard)(?! (?:to|hit|contact))", (HARD,)),
    (rf"(hit|hits|hitting|struck|sting|stings) (?={_APART}hard(?:er|est)(?! to))", (HARD,)),
    (rf"(put|puts|putting) {_APART}(in(?:to)? (?:play|fair territory|the field of play))|"
     rf"(end|ends|ended|wind|winds|goes|go) (up )?(in play)", (IN_PLAY,)),
    (rf"(square|squares|squaring|squared|barrel|barrels|barreled|barreling) {_APART}(up)(?! (?:and|in|by|"
     r"at|to))", (HARD,)),
    (rf"(let|lets|letting) {_APART}(go(?: by| past)?|pass|be)|(leave|leaves|leaving|left) {_APART}(alone)",
     (TAKES,)),
    (rf"(foul|fouls|fouling|fouled|spoil|spoils|fight|fights) {_APART}(off)(?! the plate)", (FOULS,)),
    (r"(strike|strikes|struck|striking|punch|punches|punched|punching|ring|rings|rung|rang) "
     r"(?:(?:him|her|them|us|guys|hitters|people|batters|folks|everybody|more|fewer|less|the|most|fewest|"
     r"of|<who>|<in>) ){0,3}(out)",
     (STRIKEOUTS,)),
    (r"(make|makes|making|made|get|gets|getting) (?:(?!hard |loud |solid |harder |louder |firm |than |"
     r"and |but |as |or )[^ ,.;:!?]+ ){0,5}?(contact)(?! hard)",
     (CONTACT, IN_PLAY)),
    (r"(get|gets|getting|got|find|finds|finding|collect|collects|have|has|had|give|gives|giving|gave|"
     rf"allow|allows) (up )?{_FEW}"
     r"(?<!hard )(?<!hardest )(?<!harder )(hits?)" + _NOT_IT, (HITS,)),
    (rf"(take|takes|taking|draw|draws|drew|work|works|earn|earns|issue|issues|give|gives|hand|hands) {_FEW}"
     r"(walks?|free pass(?:es)?|bases? on balls)", (WALKS,)),
    (rf"(do|does|doing|did) {_FEW}(damage)", (HARD,)),
    (rf"(miss|misses|missed|missing) {_FEW}(bats)", (WHIFFS,)),
    (r"batting averages?|(?:hit|hits|hitting|hitter) (for average)|(?:for|a|his|her|their) (?:better |"
     r"higher |lower |worse |good )?average(?! (?:hitter|player|of|than|bat|arm|pitcher))|"
     r"(?<=better )average(?! (?:hitter|than))|(?<=higher )average|(?<=lower )average|(?<=worse )average|"
     r"(?<=best )average|(?<=highest )average", (HITS,)),
)  # fmt: skip
"""What is done, said in two parts between which something else may stand."""

RATE: tuple[tuple[str, tuple[Rate, ...]], ...] = (
    (r"hard(?:est)? hit(?: balls?)?(?: rate)?|hard hits?|(?:hard|solid|loud|quality|"
     r"firm) contact(?: rate)?|(?=(?:harder|louder|firmer) contact)(?:harder|louder|firmer) contact|"
     r"hitting hard|hit hard|hard hitters?|hard hitting|hard ones|loud ones", (HARD,)),
    # Misses.
    (r"swing\w* (?:and|n) (?:a )?miss\w*|swung and miss\w*|swings and misses|swing miss", (WHIFFS,)),
    (r"(?:swing\w*|swung) (?:right |clean |straight )?(?:through|past|over|under(?:neath)?)"
     rf"(?: (?:the top of )?{_IT})?(?! half)", (WHIFFS,)),
    (r"(?:swinging strikes?|empty swings?|air swings?|swings? (?:at )?(?:nothing|air))", (WHIFFS,)),
    (rf"(?:wav|flail|fann?|whiff)(?:e|es|ed|ing|s)? (?:at|through) (?:air|nothing|{_IT})", (WHIFFS,)),
    (r"(?:cut|cuts|cutting|hits?|hitting|catch|catches|get|gets|got) "
     r"(?:nothing but |only |just |all )?air|(?:up )?with air|hits? nothing(?! but)|(?:finds?|"
     r"gets?) nothing but air", (WHIFFS,)),
    (r"whiff\w*", (WHIFFS,)),
    (r"(?:com|cam)(?:e|es|ing)? up empty|holes? in (?:his|her|that|the) swing|(?:throw|blow)\w* "
     rf"(?:it |one |that )?(?:past|by|right by) {_THEM}|gets? (?:it |one |a \w+ )?(?:past|by) {_THEM}|"
     rf"fool(?:s|ed|ing)?|(?:beat|beats|blows?) {_THEM}|overmatched|tied up|"
     r"catch up (?:to|with)|(?:can|could) not (?:ever )?(?:touch|reach|find)", (WHIFFS,)),
    # Contact.
    (r"(?:mak|get)(?:e|es|ing|s|ting)? (?:(?!than |and |but |as |or |hard |loud |"
     r"solid )[^ ,.;:!?<]+ ){0,4}?contact(?! hard)|bat to ball(?: skills?)?|contact"
     r"(?: (?:rate|percentage|hitters?|skills?|guy))?", (CONTACT, IN_PLAY)),
    (rf"(?:put|puts|putting|get|gets|getting|got|lay|lays) (?:{_A} )?(?:bat|wood|barrel|piece|stick|lumber)"
     rf"(?: of the bat)?(?: (?:on|to|of) {_IT})?|(?:the |a )?bat on (?:the ball|it|a ball)|connect(?:s|ed|"
     rf"ing)?|touch(?:es|ed|ing)? {_IT}",
     (CONTACT, HARD)),
    # What goes where.
    (rf"(?:put|puts|putting|hit|hits) {_FEW}in(?:to)? (?:play|fair territory|the field of play)|"
     r"balls? in play(?: rate)?(?= (?:rate|per|more|less|most))|in play (?:rate|percentage)", (IN_PLAY,)),
    (r"(?:foul|fouls|fouling|fouled|spoil|spoils|spoiling|spoiled|fight|fights|fighting)"
     rf" (?:\w+ ){{0,3}}?off|foul\w*(?: (?:balls?|{_IT}))?|(?:spoil|waste)(?:s|d|ed|ing)?", (FOULS,)),
    # Hit hard.
    (r"square\w* (?:(?!and |than )[^ ,.;:<]+ ){0,5}?up|square\w*(?: up)?|barrel\w*(?: up)?|"
     r"on the (?:screws|button|nose|barrel|sweet spot)", (HARD,)),
    (r"(?:crush|smok|scald|mash|hammer|scorch|sting|stung|rip|rope|lac|blister|clobber|tattoo|"
     r"pummel|smash|punish|wallop|drill|pound|torch|roast|blast|thump|demolish|destroy|obliterat|pulveriz|"
     r"murder|wear|tee|bang|belt|crack|smack|whack|spank|laser|rocket|missil|bullet|rake|rak)"
     r"(?:s|es|ed|d|ing|ping|ped|ting|ted|e|er|ers)?(?: (?:out|off on|the cover off))?|"
     r"(?:lights?|lit) up|(?:does|do|doing|did) (?:\w+ )?damage|damage|thunder|loud|"
     r"ninety five(?: (?:plus|or more|or better|mph))*|95(?: (?:plus|or more|or better|mph|"
     r"miles an hour))*|"
     r"exit (?:velo|velocity|speed)s?|power|(?:puts?|putting) a charge(?: in(?:to)?)?|charge into|pop(?= |"
     r"$)|impact|driv(?:e|es|ing) (?:the ball|it)", (HARD,)),
    # Strikeouts, walks, home runs, hits.
    (r"(?:strik\w*|struck|punch\w*|ring|rings|rung|rang)(?: (?:him|her|them|us|guys|hitters|"
     r"people|batters|folks|everybody|<who>))? (?:out|down)|strike ?outs?(?: (?:rate|percentage|prone))?|"
     r"(?:goes?|going|went|sent|send|sends) (?:down|away) (?:swinging|looking|on strikes)|"
     r"k(?: s)?(?: (?:rate|"
     r"percentage))?|ks|kay|punch ?outs?|fan(?:s|ned|ning)?(?=(?: (?:more|less|the|most|too|a|[,.?!<]|on|"
     r"with|"
     r"when|at|against|in|often)| $))|walks? back to the dugout|whiffed out", (STRIKEOUTS,)),
    (r"(?:tak|draw|drew|work|earn|coax|issu|giv|gett?|hand)(?:e|es|ing|s|ed)? (?:\w+ ){0,2}?"
     r"(?:bases? on balls|walks?|free pass(?:es)?|free bases?)|bases? on balls|free (?:pass(?:es)?|bases?)|"
     r"walk(?:s|ed|ing|er|ers)?(?: (?:rate|percentage|batters|hitters|people|guys))?|bb(?: rate)?|"
     r"(?:issues?|four) wide ones", (WALKS,)),
    (r"(?:hits? |hitting )?(?:home ?runs?|homers?|hrs?|dingers?|bombs?|long ?balls?|round trippers?|"
     r"taters?|"
     r"moon ?shots?|jacks?|big flies|big fly)(?: rate)?|homer(?:ed|ing)|(?:go|goes|going|went|gone|took|"
     r"take|takes) "
     r"(?:\w+ )?(?:deep|yard)|(?:leav|clear)(?:e|es|ing|s) the (?:yard|park|fence|wall)|"
     r"(?:over|out of) the (?:fence|wall|yard|park)", (HOMERS,)),
    (r"(?:reach|reaches|reaching|gets?|getting|got) (?:on )?(?:base|aboard)(?= )", (HITS, WALKS)),
    (r"batting averages?|avg|ba(?= )|batting (?=<)|averag(?:e|ing)(?= (?:late|when|in|by|off|from|versus|"
     r"vs|a|[,.?!<]))|hit(?:s|ting)? for average|average(?= (?:with|against|on|above|over|about|near|"
     r"around|under|of|is|since|"
     r"drops?|goes|better|higher|lower|up|down))|(?:base|clean) (?:hits?|knocks?)|knocks?|"
     r"(?:get|gets|getting|got|find|finds|finding|collect|collects|give|gives|giving|gave|allow|allows|"
     r"have|"
     rf"has|had) (?:up )?{_FEW}(?:a |more |fewer |less |most |fewest |any )?hits?{_NOT_IT}|"
     r"(?:(?<=more )|(?<=fewer )|(?<=less )|(?<=most )|(?<=fewest ))hits|(?:for|of|many) hits|singles|"
     r"hits? safely|(?:drop|drops|fall|falls|go|"
     r"goes) (?:in )?for (?:a )?hits?|a hit|bats \d\d\d|hitting (?=\.)",
     (HITS,)),
    # Swings and takes.
    (r"chas(?:e|es|ed|ing|er|ers)(?: (?:rate|percentage))?(?: (?:after )?(?:bad |outside )?(?:pitches|"
     r"stuff|"
     r"balls|junk|garbage|slop))?(?: (?:(?:out of|outside|off|below|above) (?:of )?(?:the )?(?:zone|plate)|"
     r"in the dirt))?|"
     r"expand\w*(?: (?:the|his|her|their) (?:strike )?zone)?|"
     r"(?:go|goes|going|went|gone)? ?fish(?:es|ed|ing)?|"
     r"(?:swing\w*|swung|hack\w*|offer\w*|reach\w*|bit|bites?|biting|lung\w*|flail\w*|go|goes|going|went) "
     r"(?:at |for |on |after )?(?:a lot of |any |all |the |that |more |so many |too many |those |"
     r"his share of )*"
     r"(?:balls(?= (?:off|out|outside|that|in the dirt|way|nowhere|[,.?!<]| $))|balls (?:out of|off|"
     r"outside|in the dirt)|"
     r"bad (?:pitches|balls|stuff|ones)|junk|garbage|slop|trash|stuff|pitches|anything)?"
     r" ?(?:that (?:is|are) )?(?:(?:out of|outside|off|below|above|well off|way off|"
     r"way outside) (?:of )?(?:the )?"
     r"(?:strike )?(?:zone|plate)|in the dirt)|go(?:es|ing)? after (?:bad )?balls|"
     r"went after (?:bad )?balls|"
     r"(?:swing\w*|swung|hack\w*|bit|bites?|biting|offer\w*|lung\w*) (?:at |on )(?:the |any |those |"
     r"so many |more |fewer )*"
     r"(?:junk|garbage|slop|trash|bad (?:pitches|balls|stuff|ones)|balls(?= (?:more|less|than|[,.?!<]|"
     r"nobody)| $))",
     (CHASES,)),
    (r"swing happy|free swing\w*|(?:let|lets|letting) (?:it|her|one|er) (?:rip|fly)|"
     r"hack(?:s|er|ers|ing|ed)?(?: (?:at|away))?|offer(?:s|ed|ing)? at|"
     r"pull(?:s|ed|ing)? the trigger|jump(?:s|ed|ing)? (?:on|all over)|ambush\w*|go(?:es|ing)? after|"
     r"tak(?:e|es|ing) (?:a |his |her |big |healthy )*(?:cut|cuts|rips?|hacks?)(?: at)?|attack(?:s|ing|"
     r"ed)?|"
     r"aggressive(?:ness|ly)?|first pitch swing\w*", (SWINGS,)),
    (rf"lay(?:s|ing)? off|laid off|spit(?:s|ting)? on|(?:let|lets|letting) {_FEW}(?:go(?: by| past)?|pass|"
     r"be)|"
     rf"(?:tak|watch)(?:e|es|ing|ed)? {_FEW}(?:pitch(?:es)?|strikes?|it|them|balls|one)?(?: (?:go )?by)?|"
     r"tak(?:e|es|ing|en)(?= (?:[<,.?!]|more|less|the|a|most|too|with|on|at|first|so|almost|about|over|as)|"
     r" $)|"
     r"(?:bat|stick|lumber) (?:on|stays on|never leaves) (?:his|her|the) shoulders?|sit(?:s|ting)? back|"
     r"patient|patience|keep(?:s|ing)? (?:the|his|her) bat (?:on (?:his|her|the) shoulder|still|quiet)|"
     r"look(?:s|ing)? at (?=(?:more |a lot of |the first |strike|<))|stand(?:s|ing)? there", (TAKES,)),
    (r"swing(?:s|ing|er|ers)?(?: (?:rate|percentage|away))?(?: at)?|swung(?: at)?|"
     r"goes? up (?:there )?hacking",
     (SWINGS,)),
    (r"missers?|whiffers?|miss(?:es|ed|ing)?(?: (?:one|it|them|rate))?|(?:wav|flail)(?:e|es|ing|"
     r"s)?(?: (?:at|through))?",
     (WHIFFS,)),
    (r"(?:discipline\w*|good eye|eye|eyes|selective)", (CHASES,)),
    (r"hit(?:s|ting)?|bat(?:s|ting|ted)?(?= (?:better|worse|well|against|with|<))", (HITS, HARD)),
)  # fmt: skip
"""What is done, and the rates that it may be, the likeliest first."""

_SEES = r"(?:sees?|saw|seen|faces?|faced|gets?|thrown?|throws|throw|comes? (?:his|her) way)"
PER: tuple[tuple[str, str], ...] = (
    (r"(?:per|a|each|every|for every) (?:ball )?(?:put )?in play|(?:per|of|on|when|once|if|whenever|"
     r"all)(?: (?!than |and )"
     r"[^ ,.;:<]+){0,5}(?: <who>)?(?: [a-z]+)? (?:puts? (?:it |the ball |one |balls |them |wood on it |"
     r"the bat on it )*in(?:to)? play|balls? in play|"
     r"balls? (?:(?:that )?(?:he|she|they|<who>) )?(?:puts?|hits?) (?:in(?: play)?|into play|fair))|"
     r"balls? in play|"
     r"balls? (?:(?:that )?(?:he|she|they|<who>) )?(?:puts?|hits?) (?:in(?:to)? play|in|fair)|"
     r"(?:that|which) (?:he|she|they) puts? in play", "in_play"),
    (r"(?:per|each) contact|(?:when|once|if|whenever|every time) (?:he|she|they|<who>) (?:\w+ )?"
     r"(?:makes?(?: \w+)? contact|connects?|touch(?:es)? it|gets? (?:wood|the bat) on it|hits it)|"
     r"on contact(?! (?:rate|percentage|percent))|"
     r"of (?:his|her|their|all|the) contact", "contact"),
    (r"(?:per|for every|each) (?:swing|cut|hack)s?|swing for swing|"
     r"off? (?:(?:all|his|her|their|the|its|your|my|our) )*"
     r"(?:swings|cuts|hacks)|(?:on|in) (?:(?:all|his|her|their|of|the|more|fewer|most|half) )*(?:swings|"
     r"cuts|hacks)|"
     r"(?:when|once|if|whenever|every time|each time|times) (?:(?:he|she|they|<who>) )?"
     r"(?:\w+ )?(?:swings?|offers?|cuts? (?:it )?loose|pulls? the trigger)(?: at)?|"
     r"(?:that |what |whatever |everything |pitches |ones )?(?:he|she|they|<who>) (?:\w+ )?(?:swings?|"
     r"offers?|hacks?) at|"
     r"(?:swings|cuts|hacks)(?= (?:are|is|end|ends|come|comes|miss|that))", "swings"),
    (r"(?:per|for each) pitch(?:es)?(?: (?:seen|faced|thrown))?|pitch for pitch|(?:of|on) (?:(?:all|of|the|"
     r"his|her|every|"
     rf"more|fewer) )*pitches(?: (?:that )?(?:(?:he|she|they|<who>) )?{_SEES})?|"
     rf"(?:pitches|what|whatever|everything|ones|anything) (?:that )?(?:he|she|they|it|<who>) {_SEES}|"
     r"(?:he|she|they|it) (?:sees?|faces?)|pitches seen", "pitches"),
    (r"(?:per|each|of|in|for|every) (?:(?:all|his|her|their|the|every|official|\d+|ten) )*at bats?|"
     r"at bats?|(?:per|each|every|a) ab|abs(?= )",
     "at_bats"),
    (r"(?:per|each|of|in|for|every) (?:(?:all|his|her|their|the|every) )*(?:plate appearances?|"
     r"trips?(?: to the plate|"
     r" up)?|times? up|turns? at bat|trip)|plate appearances?|trips? (?:to the plate|up)|times? (?:up|"
     r"at the plate)|"
     r"(?:every time|each time) (?:(?:he|she) )?(?:comes? up|steps? (?:in|up))|pas?(?= )",
     "plate_appearances"),
)  # fmt: skip
"""What it is divided by."""
