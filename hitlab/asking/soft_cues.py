"""Words of the trade for where and when, with whom it is compared and what kind of claim it is: read softly.

As those for rates (``soft_rates``); what is found by these is offered and never read.
"""

from __future__ import annotations

__all__ = ["CUES", "LATER_CUES", "SITUATION"]

_PITCH = (
    r"(?:fast ?balls?|heat|heaters?|cheese|gas|velo(?:city)?|sliders?|curves?|curveballs?|breaking|"
    r"change ?ups?|sinkers?|cutters?|off ?speed)"
)
_SOME = (
    r"(?:runners?|men|man|guys?|people|traffic|ducks|somebody|someone|anybody|teammates?|folks|bodies|"
    r"a runner)"
)
SITUATION: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"(?:bases|sacks|bags) (?:are |is |is all |all )?(?:loaded|full|juiced|packed|drunk|jammed)|"
     r"full bases|loaded bases|(?:bags|sacks) full", ("bases=full",)),
    (r"(?:bases|sacks|bags) (?:are |is |all )?(?:empty|clear|clean|vacant)|(?:nobody|no one|none|"
     r"no runners?|no men) "
     r"(?:is |are )?(?:on|aboard)(?: base| the bases)?(?! (?:the|this|my|our|a|any))|empty bases|"
     r"clean bases",
     ("bases=empty",)),
    (rf"(?:{_SOME} (?:is |are )?(?:on|at) |two on |both )?(?:first and second|1st and 2nd|"
     r"first n second)(?: base)?(?= )", (
     "bases=first second",)),
    (rf"(?:{_SOME} (?:is |are )?(?:on|at) |two on )?(?:first and third|1st and 3rd|(?:the )?corners)",
     ("bases=first third",)),
    (rf"(?:{_SOME} (?:is |are )?(?:on|at) |two on )?(?:second and third|2nd and 3rd)",
     ("bases=second third",)),
    (rf"(?:{_SOME} (?:is |are )?(?:in|on) |in |with )?(?:scoring position|risp)|(?:{_SOME} (?:on|"
     r"at) )?(?:second or third(?: base)?)",
     ("runner on second or third",)),
    (rf"{_SOME} (?:is |are )?(?:on|at) first(?! pitch)", ("bases=first",)),
    (rf"{_SOME} (?:is |are )?(?:on|at) second", ("bases=second",)),
    (rf"{_SOME} (?:is |are )?(?:on|at) third|(?:runner |man |somebody )?ninety feet away", ("bases=third",)),
    (rf"{_SOME} (?:is |are )?(?:on(?: base| the bases| the pond)?(?! (?:the|my|our|this|that|his|her) )|"
     r"aboard|out there)|traffic|ducks|"
     r"men on|runners(?= )|(?:somebody|someone) on", ("runners on",)),
    (r"homehalf", ("half=bottom",)),
    (r"awayhalf", ("half=top",)),
    (r"full counts?|count (?:is |goes |runs |gets )?(?:full|to full)|three (?:and|balls) two|3 and 2|"
     r"three two(?: counts?)?|"
     r"three balls and two strikes|(?:runs|works|works it|it is) full|payoff pitch", ("full count",)),
    (r"(?:ahead in (?:the )?count|hitters counts?|in (?:his|her) favor|(?:he|she) (?:is|gets) ahead)", (
     "ahead in the count",)),
    (r"(?:behind in (?:the )?count|pitchers counts?|(?:he|she) (?:is|falls|gets) behind|in the hole)", (
     "behind in the count",)),
    (r"(?:the )?(?:very )?(?:first|opening|1st) (?:pitch(?:es)?|ones?(?= )|offerings?|strike|ball)|"
     r"pitch (?:number )?one|"
     r"first pitch(?:es)?|0-0|oh and oh", ("first pitch",)),
    (r"(?:with |on |at |down to |to )?(?:two|2) strikes?(?: (?:counts?|pitch(?:es)?|on (?:him|her|them)))?|"
     r"two strike|one strike away|down to (?:his|her|the) last strike|oh (?:and )?two|"
     r"backs? (?:is )?against the wall",
     ("strikes=2",)),
    (r"(?:late and close|late innings|late in (?:the |a )?(?:games?|ball ?games?)|late(?:r)? (?:in|"
     r"on) (?:in )?(?:the )?games?|"
     r"(?:the |from the )?(?:seventh|7th) (?:inning )?(?:on|onward|or later|and later)|close and late|"
     r"crunch time|"
     r"game (?:is )?on the line|when it (?:is|gets) late|late and tight|late(?= (?:and|,|with|in)))", (
     "inning>=7",)),
    *((rf"(?:in |of )?(?:the )?{word}(?: inning| frame)(?! (?:on|pitch))|in (?:the |"
    rf"that )?{word}(?= (?:[,.?!<]|than|with|more|less|"
       rf"he|she)| $)|inning {number}|{number}(?:st|nd|rd|th) (?:inning)?", (f"inning={number}",))
      for number, word in enumerate(("first", "second", "third", "fourth", "fifth", "sixth", "seventh",
      "eighth",
                                     "ninth"), start=1)),
    (rf"(?:high|elevated|up) (?={_PITCH}(?: |$))|(?:at|near) the top of the (?:strike )?zone|"
     r"up in (?:the )?(?:strike )?zone", (
     "up",)),
    (rf"low (?={_PITCH}(?: |$))|(?:at|near) the bottom of the (?:strike )?zone|"
     r"down in (?:the )?(?:strike )?zone", (
     "down",)),
    (rf"inside (?={_PITCH}(?: |$))", ("inside",)),
    (rf"outside (?={_PITCH}(?: |$))", ("away",)),
    (r"(?:up|high) and (?:in|inside|tight)", ("up and in",)),
    (r"(?:up|high) and (?:away|outside)", ("up and away",)),
    (r"(?:down|low) and (?:in|inside)", ("down and in",)),
    (r"(?:down|low) and (?:away|outside)", ("down and away",)),
    (r"(?:over|down|right down|in) the (?:heart|middle|pipe)(?: of the plate)?|middle middle|grooved", (
     "over the middle",)),
    (r"(?:off|out of|outside|beyond|not in|nowhere near|away from|"
     r"out) (?:of )?(?:the )?(?:strike )?(?:zone|plate)|"
     r"out of zone|in the dirt|non strikes|balls off", ("outside the zone",)),
    (r"(?:in|inside|within|over|through) the (?:strike )?(?:zone|plate)|in zone|(?:pitches |"
     r"balls )?that (?:are |is )?strikes|"
     r"over the plate", ("in the zone",)),
    (r"four ?seam(?:er|ers)?(?: fastballs?)?", ("pitch_kind=four-seam fastball",)),
    (r"fast ?balls?|heaters?|heat(?= )|gas|cheese|number one|high heat|velo(?:city)?|the hard stuff|"
     r"straight stuff|"
     r"smoke|fastball(?: hitter)?", ("pitch_kind=fastball",)),
    (r"sinkers?|two seam(?:er|ers)", ("pitch_kind=sinker",)),
    (r"cutters?", ("pitch_kind=cutter",)),
    (r"(?:sliders?|slide pieces?)(?: (?:and|or|nor|,) (?:the |a )?(?:curve ?balls?|curves?|hooks?|"
     r"breakers?))|"
     r"(?:curve ?balls?|curves?|hooks?)(?: (?:and|or|nor|,) (?:the |a )?sliders?)|"
     r"break(?:ing)?(?: (?:balls?|pitch(?:es)?|stuff|ones?))?|breakers?|spin|bendy (?:stuff|ones)|benders?|"
     r"breaking|"
     r"the (?:bendy|curvy|twisty) (?:stuff|ones)|crooked (?:stuff|ones)", ("pitch_kind=breaking",)),
    (r"sliders?|slide pieces?", ("pitch_kind=slider",)),
    (r"curve ?balls?|curves?|hooks?|hammers?|uncle charlie", ("pitch_kind=curveball",)),
    (r"change ?ups?|change(?:s)?(?= (?:[,.?!<]|and|or|than|more|less|in|up)| $)|cambios?|soft stuff", (
     "pitch_kind=changeup",)),
    (r"splitters?|split finger", ("pitch_kind=splitter",)),
    (r"knuckle ?balls?|knucklers?", ("pitch_kind=knuckleball",)),
    (r"off ?speed(?: (?:pitch(?:es)?|stuff))?|slow stuff", ("pitch_kind=offspeed",)),
    (r"up in the zone|high (?:pitch(?:es)?|stuff|ones?)|elevated|up high|the high pitch", ("up",)),
    (r"down in the zone|low (?:pitch(?:es)?|stuff|ones?)|down low|at the knees|the low pitch", ("down",)),
    (r"(?:inside|in tight)(?: (?:pitch(?:es)?|stuff|corner))?|(?:on|at) the hands", ("inside",)),
    (r"outside (?:pitch(?:es)?|stuff|corner|half)|pitches away|outer half", ("away",)),
)  # fmt: skip
"""Where and when."""

_GROUP = (
    r"(?:hitters?|batters?|pitchers?|clubs?|teams?|players?|bats?|ones?|man|men|woman|guys?|kids?|arms?|"
    r"people|folks|"
    r"lineups?|starters?|hurlers?|soul|body)"
)
_LEAGUE = (
    r"(?:(?:whole|entire|rest of the|rest of this|rest of) )*(?:league|circuit|loop|field|sport|game|"
    r"baseball|pack)"
)
_NUM = r"(?:two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|\d\d?)"
CUES: tuple[tuple[str, str, object], ...] = (
    # What follows a miss.
    (r"(?:after|given|following|off|on the heels of|coming off|right after|once|when|whenever|every time|"
     r"each time|as soon as) "
     r"(?:(?:he|she|they|you|<who>|hitters?|a hitter|just|has|have|is|make|makes|fool|fools|get|gets|him|"
     r"her|them) )*(?:a |one |his "
     r"|her |that |the |an? ugly |bad |first |swinging |empty |big )*(?:swing and (?:a )?miss(?:es)?|"
     r"swings? and misses|"
     r"swung and missed|whiff(?:s|ed|ing)?|miss(?:es|ed|ing)?(?! (?:bats|bat))|swung through|"
     r"swings through|"
     r"com(?:e|es|ing) up empty|came up empty|swinging strike|empty swing|swinging and missing|"
     r"fooled)(?: (?:on )?(?:one|once|"
     r"a pitch|badly|it|him|her))?", "after", None),
    (r"(?:once|after|when|whenever|as soon as) (?:(?:he|she|they|<who>) )?(?:has |have |is |are )?(?:been "
     r"|gets? |got )?"
     r"(?:beat(?:en)?|fooled|blown away|embarrassed|made to look (?:bad|silly|foolish))"
     r"(?: (?:on|by|with) (?:a|one|that|the)(?: pitch| one| heater| fastball| slider| curve)?)?(?: "
     r"once)?", "after", None),
    (r"(?:he|she|they|<who>) (?:just )?(?:swings? and misses|misses|whiffs|swings through(?: one)?|comes "
     r"up empty)"
     r"(?: (?:one|once|badly|at one|on one|at it|by a foot)){0,2} ?(?:,|[.])? ?(?:and |but )?(?:then|"
     r"after that|"
     r"from then on|from there|suddenly|all of a sudden|right away|next thing you know|the very next|the "
     r"next)"
     r"(?= )", "after", None),
    (r"(?:he|she|they|<who>) (?:just )?(?:swings? and misses|misses|whiffs|swings through)(?: (?:one|once|"
     r"badly))? ?"
     r"(?:,|and)? ?(?:then )?(?=.*\bnext\b)", "after", None),
    (r"(?:learns?|adjusts?|recovers?|bounces? back|shakes? (?:it )?off|tightens? up) (?:from|after|"
     r"off) (?:a |an? \w+ |his |her |the )?"
     r"(?:miss(?:es)?|whiffs?|swing and miss|swinging strike)", "learns", None),
    (r"(?:on |at |to )?(?:the |his |her )?(?:very )?next (?:one|pitch|swing|offering|time)(?! week)|"
     r"following (?:one|pitch|swing)|"
     r"same (?:at bat|plate appearance|trip|turn|time up)|twice in a row|two in a row|back to back|"
     r"another(?: one)?(?= (?!hitter|man|guy|player|club|bat|day|week|game))|a second (?:one|time)|"
     r"the next(?=(?: [,.?!])| $)",
     "next", None),
    (r"(?:(?<=miss )|(?<=misses )|(?<=whiff )|(?<=whiffs )|(?<=missing )|(?<=them )|(?<=it )|"
     r"(?<=one ))again(?=(?: [,.?!])| $| (?:on|in) )",
     "next", None),
    # Who to send up.
    (r"who (?:do )?(?:ya|you|we|yall) (?:got|have|want)|the one to (?:hit|bat|send|swing)|(?:rather|"
     r"want to|like to) (?:see|have)(?: up)?|off the bench|(?:who|which \w+|whom)(?: else)? (?:(?:would|"
     r"should|do|did|will|can|could|is|are|am|i|you|we|they) )+(?:\w+ )?(?:pick|send|want|take|"
     r"like|call|use|choose|bat|hit|pinch hit|put|trust|go with|need|rather have|have|prefer)(?: (?:up|on|"
     r"in|to (?:hit|bat)|at the plate|"
     r"for|there|out there|swinging))*|pinch ?hit(?:s|ting|ter)?|send(?:s|ing)? (?:him |her |"
     r"<who> )?up(?: there)?|"
     r"(?:the )?right (?:hitter|man|woman|one|choice|bat|person|guy|gal|pick|option)|(?:best|"
     r"better) (?:choice|pick|option|bet)|"
     r"(?:your|our|my) (?:hitter|man|woman|guy|gal|pick|choice|bat)(?=(?: [,.?!])| $)|the (?:guy|one|man|"
     r"woman|bat)(?=(?: [.?!]){1,3} ?$)|"
     r"(?:the )?(?:hitter|one|bat|guy|man|woman|stick|gal) (?:i|we|you|they) (?:would |should |had |"
     r"will )*(?:want|need|like|send|pick|take)"
     r"(?: up| at the plate| there)*|whose (?:turn|job)|who (?:gets the bat|bats|hits|comes? up|"
     r"goes up)(?= )|"
     r"(?:i|we|you) (?:would |will )?(?:want|need|send|take|have)(?= <who>)|give me(?= <who>)", "spot", None),
    (r"(?:bottom|home half|last|end)(?: half)?(?: of)?(?: the)? (?:ninth|nine|9th|9|last inning|"
     r"last)(?: inning)?|bottom nine|"
     r"(?:home|last of the) (?:ninth|9th)|last (?:half )?inning|ninth inning|(?:in )?the ninth",
     "ninth", None),
    (r"(?:tie[ds]?|tied up|all square|all even|knotted(?: up)?|deadlocked|even)(?: (?:game|ball ?game|"
     r"score))?(?= )",
     "gap", 0),
    (r"(?:down|trail(?:s|ing)?|behind|losing|need(?:s|ing)?)(?: by)? (?:a|one|1)(?: (?:run|"
     r"to tie))?(?= (?!strike|pitch|day|week))|"
     r"(?:one|1|a) (?:run )?(?:behind|back|short)|(?:a|one|1) run (?:down|game|deficit)|down to (?:a )?run",
     "gap", -1),
    (r"(?:down|trail(?:s|ing)?|behind|losing)(?: by)? (?:two|2|a pair)(?: runs?)?(?= (?!strike|pitch|day|"
     r"week))|(?:two|2) (?:runs )?(?:behind|back|short)|(?:two|2) runs down",
     "gap", -2),
    (r"(?:down|trail(?:s|ing)?|behind|losing)(?: by)? (?:three|3)(?: runs?)?(?= (?!strike|pitch))",
     "gap", -3),
    (r"(?:up|leads?|leading|ahead)(?: by)? (?:a run|one run|one|1)(?= (?!strike|pitch))", "gap", 1),
    # Places of a list.
    (rf"(?:top|best|leading|highest|first) (?P<n>{_NUM})(?! (?:games|weeks|days|strikes?|outs?|pitches|"
     r"times))",
     "top", 1),
    (rf"(?:bottom|worst|lowest|last) (?P<n>{_NUM})(?! (?:games|weeks|days|strikes|outs|pitches|times|"
     r"innings))",
     "bottom", 1),
    (r"(?:one |any |who |which |what )?(?:of |among |are |is |r |in |be |me |list |name |show |see |for |"
     r"pick )+(?:the |our |your |my |this league is |a )+"
     rf"(?:league )?(?P<n>{_NUM})(?= (?!games|weeks|days|strikes?|outs?|pitches|times|innings|hundred|"
     r"months|runs?|percent|tool))",
     "top", 1),
    (rf"(?:which|what|list|name|give me|show me|who are|whos) (?:the |our |your )?(?P<n>{_NUM})"
     r"(?= (?:\w+ )?(?:hitters|batters|pitchers|arms|clubs|teams|guys|players|bats) )",
     "top", 1),
    (rf"(?P<n>{_NUM}) (?=(?:hitters|batters|pitchers|arms|clubs|teams|players|bats|sticks) (?:nobody|"
     rf"no one|who|that|with|in) )",
     "top", 1),
    (rf"(?:the )(?P<n>{_NUM}) (?=(?:biggest|best|toughest|hardest|easiest|wildest|worst|most|least|highest|"
     r"lowest|fewest|freest|"
     rf"steadiest|hitters|batters|pitchers|arms|clubs|teams|guys|players|bats) )", "top", 1),
    (rf"(?P<n>{_NUM}) (?=(?:biggest|best|toughest|hardest|easiest|wildest|worst|highest|lowest|freest|"
     r"steadiest) )",
     "top", 1),
    # Said by itself.
    (r"(?:(?:on|in|having|going through|in the midst of|riding|amid|middle of) )*(?:(?:a|an|the|such a|"
     r"quite a|one of those) )?"
     r"(?:(?:\w+ )?(?:hot|torrid|hitting|winning|good|nice|crazy|heat) (?:streak|stretch|spell|run|hand|"
     r"patch|bat|stick|week)|tear|roll|"
     r"rampage|binge)|(?:red |white |piping |smoking |scorching )?hot(?:ter|test)?(?! dog)|(?<=is )on (?:a|"
     r"quite a) heater|(?<=been )on (?:a|quite a) heater|on fire|caught fire|"
     r"en fuego|locked in|scorching|sizzling|heat(?:s|ing|ed) up|com(?:e|es|ing) alive|catch(?:es|"
     r"ing) fire|(?:seeing|sees) (?:it|the ball) (?:well|good|like \w+ \w+ \w*)|"
     r"in the zone (?:right now|lately|these days)|unconscious|out of (?:his|her) mind|feeling it|"
     r"swinging (?:a )?(?:good|great|hot) (?:bat|stick)",
     "hot", None),
    (r"(?:ice |stone )?cold(?:er)?|slump\w*|scuffling|in a (?:funk|rut|hole|drought)|funk|fallen off|"
     r"cooled(?: off| down)?|gone quiet|"
     r"dried up|fading|faded", "cold", None),
    (r"not (?:been |looked )?(?:himself|herself|themselves)|differs?|"
     r"not (?:been )?(?:the )?same(?: (?:hitter|man|woman|player|pitcher|club|team|guy|bat|person))?|"
     r"somebody else(?: entirely| altogether)?(?= (?!does|but))|"
     r"(?:a )?(?:new|different|changed) (?:hitter|man|woman|player|pitcher|guy|person|animal|bat|fella|"
     r"kid)|"
     r"(?:any |a |some |big |real )*differen(?:ce|t|ces|tly)(?: at all)?|(?:better|more|up) or (?:worse|"
     r"less|down)|(?:worse|less|down|up) or (?:better|more|up|down)|"
     r"(?:do|does) not (?:care|matter) (?:which|what)(?: way| direction)?|either (?:way|direction)|(?:has|"
     r"have|did) (?:\w+ )?change[d]?(?= )",
     "different", None),
    (r"(?:steady|steadily|steadier|consisten(?:t|tly|cy)|even keel(?:ed)?|like clockwork|"
     r"same (?:old )?(?:hitter|guy|player|bat|thing|rate|"
     r"story|clip|pace)(?: (?:all|every|since|from|as|day|week|he|she))?|(?:no|without) (?:ups|highs|peaks|"
     r"hot|slumps?|valleys|streaks?)"
     r"(?: (?:and|or|,|no) (?:no )?(?:downs?|lows?|valleys?|cold|slumps?)\w*)?|day in (?:and )?day out|"
     r"week in (?:and )?week out|"
     r"metronome|stable|regular(?! season)|unchanged|(?:no|any|little) variation|not (?:\w+ )?(?:change|"
     r"vary|varied|waver)[ds]?(?= (?!hitter))|"
     r"a rock|machine|automatic|rain or shine|you could set your watch|level all|streaky|up and down|"
     r"same(?= <who>)|every (?:single )?(?:day|night|week)|"
     r"never (?:\w+ )?(?:slumps?|changes?|wavers?))", "steady", None),
    (r"(?:go|goes|going|come|comes|move|travel|tied|linked|run|hang)(?: \w+)? (?:together|hand in hand|"
     r"along with)|correlat\w*|"
     r"(?:relationship|connection|link) between|(?:related|linked|tied) to|same (?:guys|hitters|people|"
     r"ones) who",
     "gotogether", None),
    (r"(?:not )?(?:the same|a (?:whole )?(?:different|new|changed)|another|a totally different|"
     r"brand new) (?:hitter|man|woman|player|pitcher|"
     r"club|team|guy|person|bat|animal|gal|fella|kid)|chang(?:ed|es)(?: (?:as a hitter|at all))?|made over|"
     r"reinvent\w*|transform\w*",
     "different", None),
    # With what it is compared.
    (r"than (?:his|her|their) (?:own )?(?:usual|normal|average|rest)|than (?:on |against |at |"
     r"with )?(?:(?:he|she|they|it) )?(?:(?:does|do|is|are|did|gets?|hits?|swings?|misses|"
     r"[a-z]+s) )?(?:through |at |on |against )?(?:otherwise|"
     r"usual(?:ly)?|normal(?:ly)?|everything else|anything else|(?:all )?other (?:pitch(?:es)?|times|"
     r"situations?|spots?|kinds?|counts?|innings?)|"
     r"(?:in )?(?:the )?rest(?: of (?:the|his|her) (?:time|games?|at bats|pitches|innings?|season|"
     r"counts?))?(?! of)|(?:the )?(?:other )?(?:pitches|stuff)|"
     r"elsewhere|(?:any|every) other (?:time|inning|pitch|spot|count|situation|kind)|the others?|"
     r"in any old \w+|earlier|with(?:out)? (?:none|nobody|them empty|"
     r"nobody on|the bases empty|them)|early in (?:games|the count)|in other \w+|the other (?:kind|way|"
     r"stuff|side|ones?))"
     r"(?: (?:he|she|they) \w+)?", "otherwise", None),
    (r"(?:compared to|versus|vs|against|than) (?:the )?(?:rest of the time|everything else|the rest|"
     r"otherwise)|the rest of the time|everywhere else",
     "otherwise", None),
    (r"(?:on|in|of) (?:his|her|their|the|this|our) (?:own |whole )?(?:club|team|lineup|roster)(?= )",
     "ownclub", None),
    (r"(?:than|as|like|versus|vs|beats?|outdoes|beating) (?:through |on |against |in |off )?(?:the |this |"
     r"our )?(?:whole |entire |rest of the )?"
     r"(?:league|field|pack|rest|circuit)(?! leader)(?: (?:average|norm|mean|rate|as a whole|does|do|is|"
     r"at large))*",
     "league", None),
    (r"(?:than|as|like|of|to|over|from|with|beats?|above) (?:(?:any|all|every|each)(?: other| of the|"
     rf" the)?(?: other)? {_GROUP}|"
     r"(?:any|every|no) ?(?:one|body)(?: else)?|all (?:of )?(?:them|others|comers|the others))(?: (?:in|"
     rf"of|on|around) (?:the |this |our |all )*{_LEAGUE})?",
     "anyone", None),
    (rf"(?:across|throughout) (?:the |this |our |all )*(?:whole )?(?:{_LEAGUE})|leaguewide|league wide|"
     r"as a league|across (?:everybody|everyone|the board)|"
     r"(?:the|this|does this|whole|entire) (?:whole |entire )?league(?= )|(?:everybody|everyone)(?= (?:is|"
     r"has|,|hits|misses|swings|chases))|(?:the )?league as a whole|league(?= (?:has|hits|misses|whiffs|"
     r"swings|chases|puts|makes|strikes|walks|is))",
     "group", None),
    (r"(?:the |a |an )?(?:league s |league is )?(?:league )?(?:average|norm|par|typical|ordinary|usual|"
     r"run of the mill|garden variety)"
     rf"(?: (?:{_GROUP}|joe|league|league \w+|major leaguer))?(?: in (?:this|the) {_LEAGUE})?|(?:than |"
     r"like |as |against )?(?:most|other|the other|the rest of the)(?: other)? "
     rf"(?:{_GROUP}|of (?:the|this) {_LEAGUE})|than most|than others|(?:the )?rest of (?:the |this |us |"
     rf"them )*{_LEAGUE}|(?:the )?league as a whole|"
     rf"(?:than|as|like|with|against|versus|beats?) (?:the |this )(?:whole |rest of the )?(?:{_LEAGUE}|"
     r"rest)(?! leader)|than (?:the )?rest|the others|league (?:average|wide|rate)|your average \w+|"
     r"the next (?:guy|man|gal|hitter)|normal|par for the course",
     "league", None),
    (r"(?:than|as|like|of|to|over|from|with|in|beats?|above) (?:(?:any|all|every|each)(?: other| of the|"
     rf" the)?(?: other)? {_GROUP}|"
     r"(?:any|every|no) ?(?:one|body)(?: else)?|all (?:of )?(?:them|others|comers|the others)|"
     rf"the others)(?: (?:in|of|on|around) (?:the |this |our |all )*{_LEAGUE})?|"
     r"any ?(?:one|body)(?: else)?(?= (?:in|who|that|hit|hits|miss|misses|do|does|chase|swing|get|gets|"
     r"out|around|alive)|(?: [,.?!])| $)|"
     r"is there (?:a|an|another)(?= )|(?:is there |find me |show me |name |name me |know )?any ?(?:one|"
     rf"body|{_GROUP})|(?:in|of|around) (?:the |this |our |all (?:of )?(?:the )?|whole |entire )*"
     rf"(?:{_LEAGUE})(?! average)|out there|on (?:the |this )?planet|anywhere|in the land|in the majors|"
     r"in town|in the business|alive|of them all|of all",
     "anyone", None),
    (rf"(?:nobody|no ?one|not a soul|none(?: of them)?|no (?:other )?(?:{_GROUP})|there is not (?:a |an |"
     rf"any )?(?:one|{_GROUP}|body|other)?|not one|ain t (?:nobody|no one|a))"
     r"(?: else)?(?: (?:in|on|around|out|there|who|that) (?:this |the |here )?(?:league |club |team |"
     r"there )?)?",
     "nobody", None),
    (r"(?:lead|leads|leading|led|tops?|topped|paces?|pacing|number one|no 1|first in|second to none|"
     r"league leader|leader|king|queen|goat|master|champ(?:ion)?|"
     r"at the top(?! of the (?:strike )?zone)|sits atop|atop|crown|tougher than all|in a class (?:of|by)|"
     r"unmatched|unrivaled|ahead of (?:everyone|everybody|the pack))",
     "leads", None),
    # More and less.
    (r"(?:harder|tougher|more difficult|not as easy|not easy) (?:for \w+ )?to(?= )", "more", -1),
    (r"(hardest|toughest|most difficult) (?:[^ ,.;]+ ){0,4}?(to)(?= )", "most", -1),
    (r"(?:easier) (?:\w+ ){0,2}?to(?= )", "more", 1),
    (r"(easiest) (?:[^ ,.;]+ ){0,4}?(to)(?= )", "most", 1),
    (r"(?:tough|hard|difficult|a pain|a bear|a nightmare) to(?= )", "deny", None),
    (r"toughest(?= <rate>)", "most", -1),
    (r"hardest(?! to)", "most", 1),
    (r"(?:fewest|least|lowest|smallest|rarest|stingiest)(?: (?:often|likely|of(?= all)))?", "most", -1),
    (r"(?:most|highest|biggest|largest|greatest|freest|wildest|oftenest)(?: (?:often|frequently|likely|"
     r"of(?= all)))?",
     "most", 1),
    (r"(?:best|finest|premier|elite|greatest|scariest|deadliest|purest|sharpest)", "best", 1),
    (r"(?:worst|poorest|weakest|ugliest|sorriest)", "best", -1),
    (r"(?:not (?:as|so|nearly as|quite as|half as) (?:often|much|many|hard|good|well|likely|frequently|"
     r"\w+))",
     "more", -1),
    (r"(?:no more|not more|not any more)(?: often)?(?= than)", "more", -1),
    (r"(?:less|fewer|lower|smaller|seldomer|rarer)(?: (?:often|frequently|likely|of|times|apt|prone))*",
     "more", -1),
    (r"(?:cut|cuts|cutting) (?:\w+ )?(?:down|back)(?: on)?|(?:drop|dropped|drops|dropping|fall|falls|fell|"
     r"fallen|falling|declin\w*|plummet\w*|shrunk|shrank|shrink\w*|dips|dipped|dipping|sagged|crater\w*|"
     r"slowed|tanked|tanking)(?: (?:off|down|away))?|"
     r"(?:is|are|has|have|been) gone(?= (?:[,.?!<]|since|in|with|against|when)| $)|(?<=<rate> )gone(?= "
     r"(?:[,.?!<]|since)| $)|"
     r"(?:gone|going|went|goes|way|is|are|been|come|came|coming) down(?! (?:swinging|looking|on|to|the|"
     r"in))|stop(?:s|ped|ping)?|quit(?:s|ting)?|no longer|not anymore|vanish\w*|disappear\w*|dried up|"
     r"dry up|dries up|halved",
     "more", -1),
    (r"(?:more|higher|bigger|greater|larger|oftener|likelier)(?: (?:often|frequently|likely|of|times|apt|"
     r"prone))*|extra|"
     r"(?:go|goes|going|gone|went|is|are|been|way|come|came) up(?= (?:[,.?!<]|since|in|with|against|when|a|"
     r"to)| $)|(?:rising|risen|rises|rose|climb\w*|jumped|jumping|spik\w*|increas\w*|soar\w*|"
     r"skyrocket\w*|shot up)(?: up)?|start(?:ed|s)? (?=<|to|hitting|missing|chasing|swinging|striking|"
     r"walking|making)",
     "more", 1),
    (r"harder|(?:above|over|north of|exceeds?)(?= <league>| <group>| that )", "more", 1),
    (r"(?:below|under|beneath|south of|short of)(?= <league>| <group>| that | it )", "more", -1),
    (r"(?:better|stronger|improv\w*|sharper|superior|nicer|upgrade|a step up|tougher|waking up|woke up|"
     r"woken up|picked (?:it )?up|turned (?:it|things) around|"
     r"figured (?:it|something|things) out|come (?:alive|around))", "better", 1),
    (r"(?:worse|poorer|weaker|slipp\w*|regress\w*|lost (?:it|something)|step down|backslid\w*|"
     r"struggling (?:since|more)|drop off|off a cliff)",
     "better", -1),
    (r"(?:feasting on|own(?:s)?(?= (?:the|a|that|this|any|all|every|<|him|her|sliders|lefties))|"
     r"feasts?(?: on)?|eats?(?: up| alive)?|kills?|loves?(?= (?:<|the|a|seeing|hitting|it))|"
     r"lives? (?:on|for|off)|good|great|terrific|excellent|outstanding|deadly|strong|lethal|solid|decent|"
     r"dangerous|monster|beast|stud|nails|money|handles?|comfortable|likes?(?= (?:the|a|<|it|to see|"
     r"seeing|fastballs|lefties)))"
     r"(?= )", "good", 1),
    (r"(?:struggl\w*|trouble|lousy|terrible|bad|awful|helpless|lost|hopeless|useless|trash|garbage|"
     r"handcuff\w*|stinks?|problems?|weak(?:ness)?|brutal|eaten alive|hates?|can not (?:hit|handle|"
     r"solve)|cannot hit|"
     r"dead (?:against|on)|nightmare|kryptonite|achilles)(?= )", "good", -1),
    # Denied and counted.
    (r"(?:a lot|lots|a ton|tons|a bunch|so much|too much|too many|so many|too often|so often|all the time|"
     r"constantly|always|forever|way too \w+|plenty|prone|happy|much|often|frequently|regularly|"
     r"every time|keeps?|many)(?= )",
     "lot", None),
    (r"(?:never|hardly(?: ever)?|rarely|seldom|barely|scarcely|almost never|does not|do not|did not|is not|"
     r"are not|will not|can not|could not|cannot|not|refuses? to|allergic to|"
     r"without|no|avoids?|will never|ain t|hard to)(?= )", "deny", None),
    (r"than|over(?= (?:the )?<who>)|ahead of|compared (?:to|with)|versus|vs", "than", None),
    (r"(?:or)(?= )", "or", None),
    (r"(?:lately|recently|of late|these days|nowadays|right now|this (?:past )?(?:week|month)|last (?:week|"
     r"few (?:days|weeks|games)|couple (?:of )?(?:days|weeks)|month)|"
     r"(?:past|last) (?:few|couple(?: of)?|two|three|several|ten) (?:days|weeks|games|months)|"
     r"the last (?:few|couple|two) \w+|recent(?: games| weeks| days)?|anymore|any more|now|yet)(?= )",
     "lately", None),
    (r"(?:used to(?: be)?|once (?:was|did)|before(?:hand)?|earlier|previously|prior|back (?:in|then)|"
     r"until then|at first|early on|than (?:he|she|they|it) (?:did|was|were|had)(?: been)?)",
     "before", None),
    (r"(?:all (?:season|year)(?: long)?|every (?:week|month|day|night|game)|from (?:day one|april|"
     r"start) (?:to|through) (?:\w+)|(?:start|wire) to (?:finish|wire)|throughout|the whole (?:season|"
     r"year|way)|all along|month (?:after|to|by) month|week (?:after|to|by) week|from (?:the )?(?:start|"
     r"beginning|opening day))",
     "allyear", None),
)  # fmt: skip
"""What tells the kind of claim, its direction and with what it is compared."""

LATER_CUES: tuple[tuple[str, str, object], ...] = (
    (r"(?:which|what|who) (?:\w+ )?(?:pitchers?|arms?|hurlers?|starters?|relievers?|throwers?|reliever)|"
     r"(?:pitchers?|arms?|hurlers?)(?= (?:who|that|with|get|in|has|have|gets))",
     "whose",
     "pitcher"),
    (r"(?:which|what) (?:\w+ )?(?:clubs?|teams?|lineups?|squads?|offenses?)|(?:clubs?|teams?|"
     r"lineups?)(?= (?:who|that|with|in|has|have|hits|chases|swings|whiffs|strikes|walks))",
     "whose",
     "club"),
    (r"(?:who|which|what|whom|whos|whose) ?(?:hitters?|batters?|players?|bats?|guys?|one|is|are|r|has|does|"
     r"do)?(?= )",
     "whose",
     "hitter"),
    (r"(?:hitters|batters|guys|players|bats|people|folks|everybody|everyone|the league|swingers|hackers|"
     r"sluggers|they|league|ones|those|anybody)(?= )",
     "group", None),
    (r"(?:pitchers?|arms?|hurlers?)(?= )", "group", "pitcher"),
    (r"(?:clubs?|teams?|lineups?)(?= )", "group", "club"),
)  # fmt: skip
"""Of whom it is, where nobody is named."""
