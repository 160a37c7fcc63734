"""What cannot be asked of a table of pitches: the words that ask for it, and the plain reason."""

from __future__ import annotations

__all__ = [
    "ASKABLE_OTHERWISE",
    "LIMITS",
    "MANNERS_OF_SPEAKING",
    "OF_HABITS",
    "OF_SPEAKERS",
    "OF_THE_FIELD",
    "ONE_SEASON",
]

_NO_RATE = "that is not one of the rates that these claims are about"
_MADE_OF = (
    "what a hitter is made of is no count of pitches; a rate in a situation is (runner on second or third, "
    "two "
    "strikes)"
)
_LUCK = (
    "whether somebody was treated unfairly, or was lucky, is no count of pitches; a rate and its "
    "chance can be asked"
)
_OF_CLUBS = "what a club does with its hitters is not in a table of pitches"
_IN_MIND = "what a hitter has in mind is not in a table of pitches"
_DEALINGS = "people's dealings with each other are not in a table of pitches"
_FIELDING = "fielding is not in a table of pitches"
_FUTURE = "what has not been played yet is in no table; whether the true rate is higher can be asked"
_HONOURS = "wins, runs and honours are not what these claims count; a rate can be asked"
_HALVES = (
    "where a game was played is in no column; the home club bats in the bottom half of an inning, though, "
    "and that half can be asked"
)
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
        r"lineup card|(?<!in )(?:the|my|our|his|her|starting|batting) lineup|(?<!off the )bench(?:ed)?|"
        r"promot(?:e|ed)|manager|front office)",
        _OF_CLUBS,
    ),
    (
        r"(?:trying|tries|wants to|intends?|intention|guess(?:es|ing)?|thinks|(?<!i am )(?<!im )thinking|"
        r"looking for|(?:sitting|sits) on(?! (?:his|her|their) hands)|anticipat(?:es|ing)|hunting)",
        _IN_MIND,
    ),
    (
        r"(?:(?<!i )(?<!we )(?<!you )will(?! not)(?! (?:he|she|they|it) [,.?])|"
        r"(?<!i am )(?<!we are )(?<!you "
        r"are )going to|(?<!is it )(?<!it )gonna|tomorrow|(?<!hill )(?<!mound )(?<!here )"
        r"(?<!out there )tonight|next (?:week|month|year|season|game|monday|"
        r"tuesday|wednesday|thursday|"
        r"friday|saturday|sunday|series)|upcoming|by the end of|on pace|pennant|playoffs?|"
        r"forecast|predict(?:s|ed)?)",
        _FUTURE,
    ),
    (
        r"(?:defen[sc]e|defensive|defender|glove|fielding|fielder|shortstop|catcher|outfielder|"
        r"infielder|errors?|(?:strong|strongest|throwing|weak|golden|rocket|great|best|his|her) arm|"
        r"throws out)",
        _FIELDING,
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
        r"(?:at home|on the road|road games?|home games?|away games?|in (?:his|her|their|its|"
        r"the) (?:own|home) "
        r"(?:parks?|yard)|away from home|away from <who>|(?:other|somebody|someone|opposing) (?:people |"
        r"else |clubs )?(?:"
        r"is )?(?:parks?|ballparks?|yards?)|own (?:parks?|ballparks?|yard))",
        _HALVES,
    ),
    (
        r"(?:batting practice|in (?:the )?(?:cages?|bullpen|practice)|"
        r"weather|cold (?:out|outside|air|nights?|days?)|(?:it is|gets|beer) cold|hot (?:nights?|days?|"
        r"out)|warm|wind(?:y)?|rain(?:y|ing|s)?(?! or shine)|temperature|humid|sun(?:shine)?|day "
        r"games?|night games?|under the lights|ballparks?(?! (?:figure|number|"
        r"guess|\d|ten|eleven|twelve|[a-z]+teen|[a-z]+ty|half|a ))|this park|indoors|dome|turf|altitude)",
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
        r"(?:teammates?|clubhouse|coach(?:es)?|respects?|(?<!to )fans?(?! (?:less|more|the|on|with|"
        r"a lot|at|whenever|when|often|too))|crowd|media|friends?|get along|"
        r"wife|husband|brother|sister|chemistry|"
        r"(?:family|parents|girlfriend|boyfriend|mother|father|kids) (?:is|are) (?:in|at|there|watching))",
        _DEALINGS,
    ),
    (
        r"(?:win(?:s|ning)?|won|lose(?:s)?(?! the (?:plate|zone|strike|handle|feel))|"
        r"lost(?! the (?:plate|zone|strike|handle|feel))|losing|runs? batted in|rbis?|runs scored|scores|"
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
ASKABLE_OTHERWISE = frozenset((_HALVES,))
"""Reasons that name another way to ask the same: it is offered."""
OF_HABITS = frozenset((_FUTURE,))
"""Reasons whose words may tell what somebody is wont to do: she will swing at it."""
OF_THE_FIELD = frozenset((_FIELDING,))
"""Reasons that play no part in who is to hit."""
OF_SPEAKERS = frozenset((_OF_CLUBS, _IN_MIND, _DEALINGS))
"""Reasons whose words (my coach, the lineup) are often those of whoever speaks, beside the claim."""
