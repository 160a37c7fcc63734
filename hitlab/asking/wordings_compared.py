"""Other ways to say with what it is compared: with others, all, the time before."""

from __future__ import annotations

from hitlab.asking.text import Rows

__all__ = ["COMPARED", "DATED", "LEADING", "LEVEL", "STREAKS"]

_PEOPLE = r"(?:hitters?|batters?|pitchers?|clubs?|teams?|players?|bats?|guys?|man|woman|soul|person|kid)"
_ONE = r"(?:hitter|batter|pitcher|club|team|player|bat|guy|man|woman|soul|person)"
_IN_LEAGUE = r"(?: (?:in|of|across|around) (?:the|this|our|all the) (?:whole |entire )?(?:league|game))?"

_PLACES = ("second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")

# With whom or with what it is compared.
COMPARED: Rows = (
    *(
        (rf"(?<={word} )(?:lineup|offen[sc]e|batting order|ball ?club)(?= )", "club")
        for word in ("no", "any", "other", "which", "what", "every")
    ),
    (r"in (?=(?:the )?<who> (?:lineup|order|batting order)(?= ))", "on "),
    (r"(?<=on the <who> )(?:lineup|order|batting order)", ""),
    (
        r"of (?:any|all|all the|any other) (?:other )?(?:hitters?|batters?|pitchers?|clubs?|teams?|"
        r"players?)(?= (?:$|[,.?!]|in |on |with |against |when ))",
        "in the league",
    ),
    (
        r"(?:nobody|no one) ,(?: (?:folks|friends|people|partner|believe me|trust me) ,)? "
        r"(?:but|and|absolutely|and i mean|i mean|just)?(?: absolutely)? ?(?:nobody|no one)(?: ,)?",
        "nobody",
    ),
    (
        r"there is (?:nobody|no one|none)(?: in (?:the|this) (?:league|game))? (?:who|that)|"
        r"(?:there is )?no way (?:anybody|anyone)",
        "nobody",
    ),
    (
        rf"(?:not a (?:single )?|not one |no single |no other |no ){_ONE}(?: alive| anywhere|"
        rf" around| out there)?(?={_IN_LEAGUE} )",
        "no hitter",
    ),
    (
        r"(?:than )every(?: single)? other (?=(?:hitter|batter|pitcher|club|team|player|man|woman))",
        "than any other ",
    ),
    (
        r"than (?:all|any) (?:of )?(?:the )?(?:other (?:nine|ones)|others|rest|rest of them|"
        r"his peers|her peers|their peers|comers|of them|of the lot)(?= )(?! of the league)",
        "than anyone",
    ),
    (r"than (?:his|her|their) peers", "than other hitters"),
    (
        r"(?:in (?:all of )?(?:baseball|the majors|the big leagues|the circuit|the sport|"
        r"the land|the world|the business|our league|this league)|of (?:anyone|anybody|everyone|"
        r"everybody|them all|all hitters|the lot|the bunch)|there is(?= $)|around(?= $)|"
        r"league wide|leaguewide|bar none)",
        "in the league",
    ),
    (
        r"than (?:league|(?:the|an|your) (?:average|typical|ordinary) (?:arm|bat|stick)|the "
        r"average guy|the average joe|the next guy|the norm|the mean|par|"
        r"standard|your average (?:hitter|guy|joe)|the usual (?:hitter|guy)|"
        r"the run of the mill (?:hitter|guy)|a typical (?:hitter|guy)|the common run)(?= )",
        "than the league",
    ),
    (r"exceeds (?=the league )", "is higher than "),
    (r"than the league (?:norm|mean|standard|rate|number|figure|mark|does|has|is)", "than the league"),
    (r"(?<=a lot )(.*? )?versus (?:the )?league(?: average)?(?= [.,?]|$| $)", r"\1more than the league"),
    (r"like (?:nobody|no one)(?: else)?", "more than anyone"),
    (
        r"(?<= )(?:and )?(?:nobody|no one)(?: else)? (?:is|does it) better(?= [.,!?]|$| $)",
        "better than anyone",
    ),
    (
        r"(?:above|better than|over) average(?= (?!(?:at|in|for|with|on|against|when) ))",
        "more than the league ",
    ),
    (r"(?:below|worse than|under|sub|lower than) average(?= )", "less than the league "),
    (r"(?:across|among|over|for|of|taking) all (?:the )?(?:hitters|batters|players)(?= )", "in the league"),
    (
        r"(?:above|over) (?:the )?(?:league )?(?:average|norm|par)(?= (?:at|in|for|with|on|against|when) )",
        "better than the league ",
    ),
    (
        r"than (?:just about |almost |nearly )?(?:most|the majority)(?: of (?:the league|them|"
        r"hitters|the hitters|his peers|her peers))?(?= )",
        "than most",
    ),
    (r"(?:higher|lower|more|less) , (?=than)", ""),
    (
        r"than (?:(?:he|she|they) (?:do|does) )?(?:on |to |at |with |against |off )?(?:the )?rest"
        r" of (?:his|her|their) (?:stuff|pitches|arsenal|offerings|mix)",
        "than otherwise",
    ),
    (  # "than the rest" alone may be the rest of those who hit, and is asked back
        r"than (?:(?:he|she|they) (?:do|does)(?: on| to| at| with| against| off)?|on|to|at|with|against|off) "
        r"(?:the )?rest(?= )(?! of)",
        "than otherwise",
    ),
    (r"than the rest (?:do|does|of (?:the )?(?:hitters|pitchers|clubs))(?= )", "than the league"),
    (
        r"than (?:(?:he|she|they) (?:does|do) )?(?:with (?:fewer|less|more|one or none)|"
        r"without(?: them| it)?|in between|the rest of the time|other times|any other time|"
        r"normal|elsewhere|in any other spot|in other spots|in other counts)(?= )",
        "than otherwise",
    ),
    (r"rather than(?= )", "more than"),
    (
        r"than (?:(?:he|she|they) does )?(?:on |against |with |at |off |to )?(?:other|the other|"
        r"all other|his other|her other) (?:pitches|kinds|types|stuff)",
        "than otherwise",
    ),
    (
        r"(?:outpaces|outperforms|surpasses|beats|outdoes|bests|betters)(?= (?:the )?(?:league|rest))",
        "more than",
    ),
    (r"(?:outpaces|outperforms|surpasses|beats|outdoes|bests|betters|edges|edges out)(?= <who>)", "outdoes"),
    (
        r"(?:exceeds?|exceeding|exceeded|surpass(?:es)?|clears?|tops)(?= (?:\d|"
        r"[a-z]+ (?:percent|in|out|of)|a (?:third|quarter|half|fifth|sixth)|half))",
        "more than",
    ),
    (r"exceeds?(?= (?:<who>|his|her|their))", "is higher than"),
    (r"(?:under|below) (?:a )?half", "less than half"),
    (
        r"within (?:a|one) (?:percentage )?point(?: of that| or so)?|(?:give or take|"
        r"plus or minus) (?:a|one) (?:percentage )?point",
        "within 1 points",
    ),
    (
        r"(?:more or less|or thereabouts|give or take(?! (?:\d+|[a-z]+) points?)|ish|"
        r"roughly speaking)(?= ,| $| \.| \?)",
        "",
    ),
    (
        r"taken (?:together|as a whole)|all together|put together|as a group|as a whole|"
        r"collectively|on the whole",
        "",
    ),
    (
        r"(?<=^ )(?:everybody|everyone|all hitters|every hitter|the hitters|hitters|"
        r"the average hitter) in (?:this|the|our) league",
        "the league",
    ),
)

# First and among the first.
LEADING: Rows = (
    (
        r"(?:tops|topped|topping|heads|heading|is atop|sits atop|(?:is |sits )?(?:at|on) (?:the )?"
        r"top of) (?:the |this |our )*(?:list|table|chart|charts|board|rankings?|leaderboard)"
        r"(?: (?:for|in|of))?",
        "leads",
    ),
    *(
        (
            rf"(?:among |in |one of )?the best {many}(?= (?!strike|pitch|out))",
            f"among the {many} best",
        )
        for many in ("three", "four", "five", "six", "seven", "eight", "nine", "ten", "5", "10")
    ),
    *(
        (rf"(?:in )?{place} (?:place )?or (?:better|higher|above)", f"in the top {many}")
        for many, place in enumerate(_PLACES, start=2)
    ),
    (
        r"(?:the )?(?:goat|greatest|king|queen|gold standard|class of the league|champion|"
        r"premier|top|cream of the crop|master) (?:of|at|for|in|when it comes to) (?=(?:<|two|"
        r"the|hitting|with|making|putting|lay))",
        "the best at ",
    ),
    (
        r"(?:belongs?|is|ranks?|sits?|stands?|finds (?:him|her)self|lands?|places?|figures?|"
        r"cracks?|makes?)(?: (?:right )?(?:up )?(?:there )?(?:with|among|in|amongst|into|"
        r"one of|to))? the (?=(?:league )?(?:two|three|four|five|six|seven|eight|nine|ten|\d+) )",
        "among the ",
    ),
    (
        r"(?:cracks|makes|belongs in|sits in|is inside|lands in|finishes in|ranks (?:in|among)|"
        r"would make) the (?=(?:top|bottom) )",
        "in the ",
    ),
)

# How it goes over time.
STREAKS: Rows = (
    (r"(?<=, )same (?=hitter )", "the same "),
    (r"(?:mr|mister|ms|miss|mrs)(?: \.)? consistency", "steady"),
    (
        r"(?<=since )(?:the |we )?(?:calendar|page|month)?(?: has)? ?(?:turned|flipped|switched|"
        r"rolled|changed)"
        r"(?: over)? (?:to|into)",
        "",
    ),
    (r"(?:(?<=is )|(?<=been )|(?<=are )|(?<=<who> ))on (?:a|an) (?:heater|hot one|hot run)", "hot"),
    (r"the same (?:guy|player|man|woman|batter|bat|person)(?= )", "the same hitter"),
    (
        r"(?:is |has |was )?not (?:been )?(?:him|her|them)sel(?:f|ves)|"
        r"(?:has )?not been the same(?: hitter| player)?",
        "a different hitter",
    ),
    (
        r"(?:differs?|differed|differing|changed?|changes|moved|shifted)(?= (?:since|from before))|"
        r"(?:approach )?(?:any |completely |totally )?different from (?:the rest of the time|otherwise)|"
        r"(?:(?:any |completely |totally )?different|another (?:hitter|man|player)|changes(?: completely| "
        r"totally)?)(?= (?:with|against|when|late|on) )",
        "a different hitter",
    ),
    (r"(?:from|compared with|compared to|relative to) (?:before|earlier|previously)", ""),
    (
        r"(?:swinging|swings|has) (?:a |the )?(?:really |very |red )?hot (?:bat|stick|hand)|"
        r"(?:heating|heats|heated) up|(?:has )?caught fire|catching fire|"
        r"(?:in|found|in one of (?:those|his|her)) (?:a |his |her )?grooves?|(?:zoned|dialed|"
        r"dialled|locked) in|ablaze|sizzling|smoking(?= )|"
        r"en fuego|can ?not (?:miss|be stopped|be retired) (?:right now|these days|lately|"
        r"at the moment)|feeling it(?: right now| lately)?|"
        r"on (?:a |an )?(?:rampage|spree|hot run|surge|absolute tear)|(?:has )?(?:come|came|"
        r"coming) alive|torrid|"
        r"tearing (?:the cover off(?: the ball| it)?|it up)|burning (?:it )?up|"
        r"hot as (?:they come|anyone|a pistol|can be|a firecracker|blazes|fire)|"
        r"as hot as (?:they come|anyone|a pistol|can be)|(?:has been |been |is )?(?:on fire|"
        r"unconscious|unstoppable|(?:scalding|scorching)(?! (?:it|the ball|balls|everything)))|"
        r"(?:swinging|hitting) (?:it|the bat) (?:great|really well|beautifully)(?: lately|"
        r" right now)|(?:is |been )?raking lately|mashing lately|"
        r"in a hot (?:spell|stretch|streak)|hotter than (?:a pistol|anyone|july|the sun|"
        r"a stove)|(?:has |have )?(?:turned it on|gone off)(?: lately)?|"
        r"seeing (?:it|the ball) (?:like a (?:beach ?ball|grapefruit|watermelon|melon|balloon|"
        r"pumpkin)|well|great|big|really well)",
        "hot",
    ),
    (r"grooves?(?= )", "hot"),
    (
        r"(?:in|going through|mired in|fallen into|stuck in|having) (?:a |an |"
        r"the )*(?:terrible |awful |deep |bad |prolonged |long )*(?:slump|funk|rut|drought|skid|"
        r"slide|cold spell|cold snap|cold stretch|"
        r"rough patch|dry spell|rough stretch)|(?:ice|stone) cold|(?:has |have |is |"
        r"been )?(?:freezing|frigid)|"
        r"(?:could|can) not hit (?:a |the )(?:beach ?ball|barn(?: door)?|broad side of a barn|"
        r"water)(?: right now| lately| if)?|"
        r"(?:struggling|scuffling|slumping) (?:lately|right now|these days|of late|"
        r"at the moment|recently)|out of sorts|lost (?:his|her) (?:swing|stroke|timing)",
        "slumping",
    ),
    (
        r"(?:as )?(?:regular|steady|constant|reliable|dependable|consistent) as (?:a |an |"
        r"the )?(?:clock|clockwork|rock|metronome|sunrise|they come|anyone|ever|can be|tide|"
        r"tides)|"
        r"like (?:a )?(?:clockwork|metronome)|rock (?:steady|solid)|metronomic|(?:a |"
        r"the )?(?:model|picture) of consistency|even keel(?:ed)?|"
        r"(?:very |remarkably |fairly )?(?:stable|constant|level|flat|unwavering|unvarying)|"
        r"has not (?:gone up or down|changed|budged|moved|wavered|varied)|"
        r"not (?:gone up or down|changed|budged|moved|wavered|varied)|neither up nor down|"
        r"never (?:changes|wavers|varies)|"
        r"(?:the )?same (?:hitter|player) every (?:day|week|month)|day in (?:and )?day out|"
        r"week in (?:and )?week out",
        "steady",
    ),
    (
        r"no (?:hot )?(?:streaks|peaks|highs|ups)(?: and| or| ,)? no (?:slumps|valleys|lows|"
        r"downs|cold spells)(?: this (?:season|year))?|no streaks and slumps|just(?= steady)",
        "",
    ),
    (
        # "That she was in May" dates it from behind.
        r"not the (?:same (?:hitter|player|man|woman|batter|pitcher|club|team)|"
        r"(?:hitter|player|man|woman|bat|guy)(?= (?:he|she) ))(?: (?:he|she|they) (?:was|were|used to be))?"
        r"(?! (?:as |(?:that )?(?:he|she|they) [a-z]+ )?(?:as |in |last |back |before |during ))",
        "a different hitter",
    ),
    (
        r"(?:has |have |is |are )?(?:changed|transformed|reinvented)(?: (?:him|her)self)?(?= since| $)",
        "a different hitter",
    ),
    (
        r"(?:went|gone|goes|going|came|come|coming|trended|trending|ticked|inched|crept|edged) down"
        r"(?! (?:on strikes|swinging|looking))",
        "is fallen",
    ),
    *(
        (rf"(?:(?<=rate )|(?<=whiffs )|(?<=contact )|(?<=percentage )|(?<=strikeouts )){moves}", told)
        for moves, told in (
            ("(?:climbs|jumps|rises|spikes|soars|balloons|skyrockets|shoots up)", "is risen"),
            ("(?:drops|falls|dips|plummets|sinks|shrinks|craters|tumbles|plunges)(?: off)?", "is fallen"),
        )
    ),
    (
        r"(?:went|gone|goes|going|trended|trending|ticked|inched|crept|edged|shot|spiked|jumped)"
        r"(?: way| right| straight)? up",
        "is risen",
    ),
    (
        r"(?:sunk|sank|dipped|slid|plunged|tumbled|fell|shrunk|shrank|decreased|diminished|"
        r"plummeted|cratered|nosedived)(?= )",
        "fallen",
    ),
    (r"(?:rose|soared|surged|spiked|grown|grew|skyrocketed|ballooned|swelled)(?= )", "risen"),
    (
        r"(?:than (?:earlier|early)(?: (?:in|on)(?: in)?)?(?: the| this)? ?(?:year|season)?|"
        r"than (?:beforehand|previously|in the (?:games|weeks|months) before|the (?:games|weeks|"
        r"months) before|over the first part of the (?:year|season)|ever before this year))(?= )",
        "than before",
    ),
)

LEVEL = (
    r"(?:as|so) (?:often|much|well|frequently|regularly|consistently|many|good|hard|rarely|seldom|"
    r"little) as(?= (?:the )?(?:<who>))"
)

# Where a day is told, going cold is a change.
DATED: Rows = (
    (r"(?:has |have )?(?:found|rediscovered) (?:his|her|their) (?:power|thump)", "hits it hard more"),
    (r"(?:has |have )?lost (?:his|her|their) (?:power|thump)", "hits it hard less"),
    (
        r"(?:has |have |is |are |was )?(?:cooled(?: off| down)?|tailed off|slipped|faded|"
        r"regressed|gone (?:cold|quiet|south|downhill)|(?:gotten|got|been|grown|"
        r"turned) (?:colder|worse|weaker)|fallen (?:off|apart)|declined|dropped off|"
        r"gotten worse|slumped|been slumping|(?:gone )?slumping|been cold|been ice cold)",
        "worse",
    ),
    (
        r"than (?:he|she|they|it) (?:has|had|did|was|were|used to)(?: been| done)?(?: before|"
        r" earlier)?(?=(?: [,.?!])| $)",
        "than before",
    ),
)
