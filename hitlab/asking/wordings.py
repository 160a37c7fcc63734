"""Other ways to say what the tables of phrases know: each is put into their words before they are looked at.

One table a slot, read in order over folded words; ``<who>`` stands for whoever is named. Some rows ask that
something else be said, too: "went cold" is a change where a day is told, and a slump elsewhere.
"""

from __future__ import annotations

import re

from hitlab.asking.colloquial import ANY_IDLE, colour, put_plainly
from hitlab.asking.frames import reframe
from hitlab.asking.text import Text

__all__ = ["reword", "reword_dated"]

Rows = tuple[tuple[str, str], ...]

_PEOPLE = r"(?:hitters?|batters?|pitchers?|clubs?|teams?|players?|bats?|guys?|man|woman|soul|person|kid)"
_ONE = r"(?:hitter|batter|pitcher|club|team|player|bat|guy|man|woman|soul|person)"
_HE = r"(?:he|she|they|it|<who>)"
_IN_LEAGUE = r"(?: (?:in|of|across|around) (?:the|this|our|all the) (?:whole |entire )?(?:league|game))?"

_PLACES = ("second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")

# Letters and short forms of messages.
SHORT: Rows = (
    (r"(?:vs|v)(?: \.)?", "versus"),
    (
        r"(?:hits|bats|hit|bat)(?= (?:(?:right )?(?:about|around|roughly|near|over|under|above|below|"
        r"close to|at least|"
        r"better than|less than|more than|only) )?0?\.\d\d)",
        "hitting",
    ),
    (r"(0?\.\d\d\d?) or (?:better|above|higher|more)", r"at least \1"),
    (r"(0?\.\d\d\d?) or (?:so|thereabouts)", r"about \1"),
    (r"a (0?\.\d\d\d?) (?:hitter|bat) or (?:better|above|higher)", r"hitting at least \1"),
    (
        r"(?<=^ )(?:can|may|could|should) (?:i|we) (?:safely )?(?:say|write|print|claim|post|publish|"
        r"report|run|"
        r"tell (?:people|them|viewers|readers|listeners))(?: that| it that)(?= )",
        "",
    ),
    (r"(?<=^ )(?:fair|safe|okay|ok|accurate) to (?:say|write|claim|print)(?: that)?(?= )", ""),
    (r"n(?= (?:second|third|2nd|3rd) )", "and"),
    (r"(?<= any other )(?:arm|hurler|twirler)(?= )", "pitcher"),
    (r"(?<= any other )(?:bat|stick)(?= )", "hitter"),
    (r"(?<= lefty )(?:stick|bat)(?= )|(?<= righty )(?:stick|bat)(?= )", "hitter"),
    (r"(?:isnt|is not) (?:he|she|it)(?=(?: [.?!])* $)", ""),
    (r"(?:in|of|around) (?:the|this) (?:circuit|loop)(?= )", "in the league"),
    (
        r"(?<=^ )(?:the )?(pitcher|hitter|batter|club|team) with (?:the )?(most|fewest|highest|lowest)(?= )",
        r"which \1 has the \2",
    ),
    (r"(top|bottom) (\w+) for (?=hits|walks|strikeouts|homers|home runs|whiffs)", r"\1 \2 in "),
    (r"w", "with"),
    (r"w o", "without"),
    (r"pls|plz", "please"),
    (r"u", "you"),
    (r"ur", "your"),
    (r"r", "are"),
    (r"bc|cuz|cause|cos|coz", "because"),
    (r"theres", "there is"),
    (r"whos", "who is"),
    (
        r"(?:through|as of|up to|until|till) (?:today|tonight|now|yesterday|this (?:point|"
        r"morning|evening|date|week)|last night)",
        "so far",
    ),
    (r"(?:a )?half (?:a )?dozen", "six"),
    (r"(?<=the )dozen|a dozen", "twelve"),
    (r"whats", "what is"),
    (r"thats", "that is"),
    (r"id(?= (?:rather|take|say|like|bet))", "i would"),
    (r"im(?= )", "i am"),
    (r"ive(?= )", "i have"),
    (r"gotta", "i have to"),
    (r"gonna", "going to"),
    (r"wanna", "want to"),
    (r"dunno if", "i wonder if"),
    (r"hes", "he is"),
    (r"shes", "she is"),
    (r"lhp|lefty pitching|lefty pitchers?|port ?siders?|left handers on the mound", "left handed pitchers"),
    (r"rhp|righty pitching|righty pitchers?|right handers on the mound", "right handed pitchers"),
    (r"pct", "percent"),
    (r"avg", "average"),
    (r"lg", "league"),
    (r"hh", "hard hit"),
    (r"fbs?", "fastballs"),
    (r"bbs?(?= (?:rate|percentage))", "walk"),
    (r"ks?(?= percentage)", "strikeout"),
    (
        r"(?:once|whenever|as soon as|any ?time)(?= (?:<who>|he|she|they|it) (?:is|gets|falls|sees|faces) )",
        "when",
    ),
    (r"(?<=the )baseball", "ball"),
    (r"baseballs", "balls"),
    (r"em", "them"),
    (r"risp", "runners in scoring position"),
)

_ASKING = (
    r"(?:check(?: out| on)?|confirm|verify|test|examine|investigate|determine|decide|establish|prove|show|"
    r"demonstrate|estimate|evaluate|assess|judge|compute|calculate|work out|figure out|find out|look into|"
    r"look up|dig into|see|tell|know|learn|wonder|settle|quantify|report|discuss|consider|answer|explore|"
    r"find|hear|ask|say|remind|convince|state|show)"
)
_WANTING = (
    r"(?:please|can|could|would|will|i|we|you|let|lets|us|me|need|needs|want|wants|like|have|"
    r"try|trying|to|help|"
    r"somebody|someone|just|do|may|might|must|should|am|are|is|also|now|then|hey|quick|our|my|"
    r"the|group|class|"
    r"table|team|staff|anyone|love|curious|go|ahead|and|any way|once more)"
)

_THE = r"(?:(?:a|the|our|my|his|her|club|team|season|scouting|some|most|many|all|several|opposing) )*"
_TELLERS = (
    r"(?:officials?|scouts?|reports?|numbers|data|announcers?|analysts?|experts?|stats|statistics|sources?|"
    r"insiders?|observers?|staff|papers?|newspapers?|columns?|columnists?|homework|people|folks|they|"
    r"writers?|critics|commentators?|figures|tables?|charts?|sheets?|evidence|film|tape|everybody|everyone|"
    r"forums?|internet|comments|threads?|readers|subscribers|commenters|spreadsheets?|dashboards?|models?|"
    r"notes|notebook|cards?|scorebook|printout|site|blog|article|post|"
    r"teacher|colleague|friend|buddy|dad|mom|uncle|neighbou?r|grandma|grandpa|kids?|coaches|broadcast|"
    r"record book|book)"
)
_TELL = (
    r"(?:(?:say|note|claim|insist|swear|think|believe|suggest|show|argue|report|agree|maintain|indicate|"
    r"know)(?:s|ed)?|said|tells?|told|telling|saying|shown|points? out|have it|make clear)"
)
HEARD: tuple[str, ...] = (
    rf"(?:according to|per|so says?|says) {_THE}{_TELLERS}(?: {_TELL}(?: us)?)?(?: that)?",
    rf"(?:as|so|or so) {_THE}{_TELLERS} {_TELL}(?: us)?",
    rf"{_THE}{_TELLERS}(?: (?:in|on|at|from) (?:the |my |our )?{ANY_IDLE})? (?:(?:has|have|will|would|all|"
    rf"keeps?) )*{_TELL}(?: us| me| you)?(?: that)?(?= )",
    r"some (?:say|claim|think|believe)(?: that)?|reportedly|apparently",
    r"(?:the )?(?:word|talk|rumou?r|story|legend|consensus|book|report|line|verdict|feeling|thinking)"
    r"(?: (?:in|on|from|around|of) (?:the |this )?(?:booth|street|league|clubhouse|dugout|town|stands|game|"
    r"press box|day|broadcast|report|table|class|paper))? (?:is|has it|goes|being)(?: that)?(?: ,)?",
    r"it (?:is|has been) (?:often |widely |commonly )?(?:said|rumou?red|believed|claimed|reported)(?: that)?",
    r"(?<=<who> )(?:is|are) (?:said|rumou?red|reported|believed|claimed|thought|reputed) to(?: be)?(?= )",
    r"(?<=<who> )(?:says|claims|thinks|swears|insists)(?: that)?(?= (?:he|she) )",
    r"(?:i|we) (?:hear|heard|am told|are told|was told|were told|read somewhere|read)(?: that)?"
    r"(?= (?:<who>|,|nobody|no one)|$| \.)",
)
"""That others say so: whether it is so is what is checked, and it is said to be hearsay.

"Supposedly" and "allegedly" doubt it as well, and so they are asked back.
"""

# What is said round a claim and asks for nothing.
ROUND: Rows = (
    (
        r"(?:is|are) there (?:any |some )?(?:real |good |actual )?(?:evidence|proof|signs?|indication|"
        r"support)"
        r"(?: (?:at all|in the (?:data|numbers)))?(?: that| for)",
        ",",
    ),
    (
        rf"(?:does|do|can|would) {_THE}{_TELLERS} (?:back(?: up)?|support|bear out|confirm|show|agree)"
        r"(?: (?:the|my|that|this) (?:idea|claim|notion|theory|story|talk|hunch))?(?: that)?",
        ",",
    ),
    (r"(?:honest|serious|silly|dumb|simple|stupid|genuine|follow up|real) question(?= [:,])", ""),
    (
        r"(?:as )?(?:she|he|they)? ?always (?:has|does|did|have|do|will)(?: this (?:season|"
        r"year))?(?=(?: [,.?!])| $)",
        "",
    ),
    (
        r"for (?:tomorrow|today|tonight|the|our|my|this|next)(?: (?:morning|evening|"
        r"club|team|staff|weekly|pre|post|game|next|first)){0,2} (?:meeting|report|"
        r"broadcast|show|class|assignment|project|blog|post|podcast|newsletter|thread|presentation|piece|"
        r"homework|column|segment|slide|deck|lesson|notes|discussion|paper|essay)(?= [,:])",
        "",
    ),
    (
        r"(?:dad|daddy|mom|mommy|mum|teacher|professor|coach|skipper|grandpa|grandma|son|kiddo|"
        r"team|gang|everyone|"
        r"class|students|guys|fellas|boss|sir|madam|partner|buddy|mate|man|people|listeners|viewers)(?= ,)",
        "",
    ),
    (
        r"(?:spicy|bold|hot|cold|fiery|quick|unpopular|scorching) (?:take|opinion|one)(?= [,:])|"
        r"real talk|serious question",
        "",
    ),
    (
        r"(?:i|we) (?:just )?looked (?:it|this|that|them) up"
        r"(?: (?:this (?:morning|afternoon|evening)|before the game|last night|yesterday|"
        r"today))?(?: ,)?(?: and)?|(?:i|we) (?:did|ran|"
        r"crunched) the (?:math|numbers|figures)(?: ,)?(?: and)?",
        "",
    ),
    (r"true or false|yes or no|right or wrong|fact or fiction|agree or disagree", ","),
    (r"or am i (?:just )?(?:seeing|imagining|hearing|dreaming)(?: it| this| that)?(?: up)?(?: things)?", ""),
    (
        r"pound for pound|inch for inch|year in(?: and)? year out|any day(?: of the week)?(?=(?: [,.!])| $)",
        "",
    ),
    (r"(?:between|of) the two(?: of them)?(?= ,)", ""),
    (r"(?<=^ )(?:(?:can|could|let) (?:we|us|you|i) )?(?:please |just )*(?:talk|speak) about how(?= )", ""),
    (
        r"(?:(?<=^ )|(?<=, ))(?:you can |you could |you may |go ahead and |just )?call (?=<who> "
        r"(?:a|an|the|one) )",
        "",
    ),
    (r"that is (?:the|a|one) (?:word|phrase|label|description) (?:for|to describe)", ","),
    (r"is (?:about )?(?:what|where) (?:i|we|you) would (?:put|peg|place|set|have)", ","),
    (
        r"(?:quick |next )?(?:question|exercise|problem|item|task|number|no|part|q)(?: \d+)?(?= (?:[:.,)]) )",
        ",",
    ),
    (
        rf"(?:{_WANTING} )*{_ASKING}(?: (?:me|us|it|for me|for us|please|once and for all))*"
        rf"(?: (?:that|whether|if|the (?:claim|statement|idea|hypothesis|notion|theory) that))",
        ",",
    ),
    (
        rf"(?<=^ )(?:{_WANTING} )*{_ASKING}(?: (?:me|us|out))*(?= (?:,|:|who|which|what|is|does|"
        r"do|has|are|<))",
        ",",
    ),
    (
        r"(?:how|what) (?:sure|certain|confident|likely|safe) (?:are we|can we be|is it)(?: to say)? that|"
        r"how (?:sure|certain|confident) are you that",
        ",",
    ),
    (
        r"(?:it|there)(?: (?:just|really|sure|surely|certainly|always|also|now))? "
        r"(?:seems|appears|looks|feels|sounds)(?: to me| to us)?(?: like|"
        r" as if| as though| that)|"
        r"(?:it is|its) (?:clear|obvious|plain|well known|common knowledge|no secret|a fact|"
        r"my impression|safe to say|"
        r"evident|the truth)(?: to (?:me|us|all|everyone))?(?: that)?",
        ",",
    ),
    (
        r"(?:i|we)(?: (?:am|are|have|had|would|do|really|just|honestly|firmly|still|always|ve))* "
        r"(?:think(?:ing)?|thought|believe[ds]?|feel|felt|say(?:ing)?|said|tell(?:ing)?|told|"
        r"bet(?:ting)?|reckon|guess|"
        r"swear|claim|argue[ds]?|maintain|insist|suspect(?:ed)?|notice[ds]?|noticed|hear[ds]?|"
        r"heard|read|seen|figured?|"
        r"know|promise|submit|hold|contend|sense|gather|imagine|suppose|hypothesi[sz]ed?|"
        r"conjectured?|propose[ds]?|"
        r"expected|assumed)(?: (?:you|that|this|it|me|somewhere|once|folks|people))*"
        r"(?= (?:,|:|<who>|the|nobody|no|one|hitters|a|over|about|there|in|at|is|she|he|with|on|against))",
        ",",
    ),
    (
        r"(?:<who> is |the |my |our )?(?:claim|hypothesis|theory|statement|idea|thesis|conjecture)"
        r"(?: (?:in|on|from|around|of) (?:the |this )?(?:day|class|paper))? (?:is|goes|being)(?: that| ,)?",
        ",",
    ),
    (
        r"(?:hypothesis|conjecture|theory|thesis|claim|statement|fun fact|hot take|"
        r"quick q(?:uestion)?|note|fact|"
        r"news ?flash|reminder|update|spoiler|side note|bottom line|takeaway|prediction free|"
        r"fyi)(?= (?:,|:|\.) )",
        ",",
    ),
    (
        r"(?:using|given|from|based on|looking at|going by|judging by|judging from|in light of|with) "
        r"(?:the |this |our |what |all |season |whole |full |pitch |these )*(?:table|data|"
        r"dataset|numbers|figures|"
        r"we learned|we know|records?|evidence|sheet|file|season table|we have seen|"
        r"counts)(?: of pitches| so far)?(?= ,)",
        ",",
    ),
    (
        r"as (?:you|we|i|everybody|everyone|they|many) (?:all |well )?(?:know|can see|see|said|"
        r"say|may recall|remember|"
        r"might expect|might imagine|might guess|would expect)|as (?:things|it|they) stands?|"
        r"as expected|as usual(?= ,)",
        ",",
    ),
    (
        r"(?:in (?:plain|simple|other|short|so many|a few) (?:terms|words|english)|in (?:short|"
        r"brief|a word|a nutshell|sum|"
        r"essence|fact|truth|effect|all honesty|all fairness|my humble opinion|hindsight)|"
        r"to be (?:honest|fair|frank|sure|"
        r"exact|precise|clear|blunt|specific)|i want to say|i would say|i dare say|"
        r"to put it (?:plainly|simply|bluntly|mildly)|truth be told|"
        r"for what it is worth|at the end of the day|all in all|by and large|"
        r"all things considered|if anything|"
        r"statistically(?: speaking)?|generally speaking|broadly speaking|strictly speaking|"
        r"frankly|honestly|seriously|"
        r"personally|obviously|clearly|basically|literally|undoubtedly|unquestionably|evidently|"
        r"interestingly|naturally|incidentally|importantly|notably|remarkably|"
        r"amazingly|incredibly|"
        r"absolutely|totally|completely|genuinely|legitimately|legit|needless to say|"
        r"rest assured|mark my words|"
        r"i kid you not|no joke|no lie|no kidding|no cap|sad to say|i must say|i have to say|"
        r"i will give you that|"
        r"is it just me or|is it me or|am i (?:just )?(?:wrong|crazy|nuts|mad|dreaming) (?:or|to think|"
        r"in thinking)|correct me if i am wrong(?: but)?|"
        r"tell me i am wrong(?: but)?|"
        r"change my mind|fight me|prove me wrong|sue me|you heard it here first|period|"
        r"full stop|end of story|"
        r"end of discussion|bar none|my word|good lord|goodness|gracious|oh my|oh boy|"
        r"boy oh boy|my oh my|holy cow|"
        r"wow|omg|lol|lmao|imo|imho|tbh|ngl|fwiw|btw|fyi|smh|haha|hahaha|bruh|bro|dude|man oh man|y all|yall|"
        r"sorry(?: but)?|excuse me(?: but)?|thanks|thank you|cheers|ok|okay|hi|hello|"
        r"good (?:morning|evening|afternoon)|"
        r"dear (?:all|class|coach)|coach(?= ,)|skip(?= ,)|you betcha|for sure|for real|by golly|by gosh|"
        r"or what|or am i wrong|am i right|huh|eh|yeah|yep|yes|yo|oh|ah|uh|um|er|anyway|anyhow|"
        r"meanwhile|"
        r"by the way|speaking of which|what a (?:hitter|player|sight|game|season|stretch|night|kid)(?: for)?|"
        r"without question|no two ways about it|there is no (?:doubt|question|denying|"
        r"way around it)(?: that| about it)?|"
        r"here comes|here is|that is(?= <who>)|for you(?= ,)|i tell you(?: what)?|"
        r"i will tell you(?: what| that)?|"
        r"so to speak|as it were|as the saying goes|if you will|mind you|you see|"
        r"i mean(?: more often)?|meaning|that is to say|by which i mean(?: more often)?|namely|in particular|"
        r"the way i see it|from what i (?:see|can see|can tell|hear)|as far as i (?:know|can tell|can see)|"
        r"to my (?:eye|eyes|mind|ear)|in my eyes|from where i sit|in these parts|i dare say|dare i say)",
        "",
    ),
    (r"(?:normally|usually|ordinarily|typically|traditionally)(?= (?:calm|quiet|reserved|reliable) )", ""),
    (r"(?<!to )(?<!the )(?<!from )(?<!in )(?<!and )(?<!or )right(?= \?| $)", ""),
)

# Who is looked for, and what somebody is called.
WHO: Rows = (
    *(
        (
            rf"(?<!not )(?<!never )(?:please )?(?:find|name|give me|tell me|show me|identify|pick out|pick|"
            rf"list)(?: me)? (?:the |a )?(?:one )?{one} (?:whose|who|that|with|on whom)",
            f"which {one}",
        )
        for one in ("hitter", "pitcher", "club", "team", "batter", "player")
    ),
    (
        r"(?<!as )(?<!as a )(?<!as an )(?<!as the )(?:our |the |their |my |your |a |young |old |"
        r"rookie |veteran |star |slugging |backup |"
        r"starting )*(?:catcher|shortstop|(?:out|in|center|left|right) ?fielder|(?:first|second|"
        r"third) base(?:man|woman)?|leadoff (?:hitter|man)|cleanup (?:hitter|man)|"
        r"captain|rookie|veteran|slugger|kid|youngster|star) (?=<who>)",
        "",
    ),
    (
        r"(?:this|that) (?:kid|guy|fella|fellow|gal|lady|batter|hitter|player|one)(?= (?:can|is|"
        r"has|does|hits|really|sure))",
        "he",
    ),
    (r"guess (?=who)", ""),
    (r"compare (?=<who> (?:and|with|to) <who>)", ""),
    (r"(?<=<who> )(?:stuff|offerings|arsenal)", ""),
    (
        r"(?<=<who> )(?:stinks|sucks|is (?:a (?:disaster|mess|train wreck|nightmare)|trash|"
        r"garbage|useless|hopeless|brutal|horrible|toast))"
        r"(?= (?:with|against|on|at|when|[,.;]) )",
        "is terrible",
    ),
    (
        r"is (?:money|nails|deadly|lethal|lights out)(?= [.,;:!?]|$| $| (?:with|against|on|in|when|at) )",
        "is a monster",
    ),
    (r"(?:between|of) (?=<who> (?:and|or|,) <who>)", ""),
    (r"will (?=(?:chase|swing at|whiff at|hack at) (?:anything|everything|whatever)|go fishing|expand )", ""),
    (r"(?<=, )(?:<who> |he |she )(?:will|does|is|can|has)(?= [.,;:!?])", ""),
    (
        r"(?:can|could) not (?:stop|help|quit) (?:him |her |them )?(?:self |"
        r"selves )?chasing(?: (?:pitches|balls))?",
        "chases all the time",
    ),
    (r"something (?:has )?changed (?:with|for|in|about)(?= <who>)", ""),
    (r"(?:pitching|hitting|batting|baseball) (?:talk|question|corner|notes?|news|nugget)(?= [,:.])", ""),
)

# How often, without a comparison.
OFTEN: Rows = (
    (r"any (?=(?:better|worse|more|less|harder) )", ""),
    (
        r"(?:very |quite |only )*(?:rarely|seldom|scarcely ever|scarcely|infrequently|next to never|"
        r"hardly at all|once in a blue moon)|(?:barely|hardly) ever",
        "hardly ever",
    ),
    (
        r"(?:more|most) (?:frequently|regularly|consistently|routinely|reliably|commonly|habitually)",
        "more often",
    ),
    (r"(?:much|far|way|a lot) (?:oftener)", "more often"),
    (r"(?:more frequent)", "more"),
    (r"most frequent", "most"),
    (
        r"(?:a (?:higher|bigger|larger|greater) (?:proportion|share|slice|chunk|percentage|fraction|part|"
        r"portion|number) of|"
        r"at a (?:higher|greater|bigger|better) (?:rate|clip|pace|frequency))",
        "more of",
    ),
    (
        r"(?:a (?:lower|smaller|lesser) (?:proportion|share|slice|chunk|percentage|fraction|part|portion|"
        r"number) of|"
        r"at a (?:lower|smaller|slower) (?:rate|clip|pace|frequency))",
        "less of",
    ),
    (
        r"the (?:highest|biggest|largest|greatest) (?:proportion|share|percentage|fraction|part|"
        r"portion|rate) of",
        "most of",
    ),
    (r"the (?:lowest|smallest) (?:proportion|share|percentage|fraction|part|portion|rate) of", "least of"),
    (r"(?:highest|biggest|best) (?=(?:share|proportion|percentage) )", "highest "),
)

# What is done.
RATES: Rows = (
    (
        r"(whiff|contact|chase|swing|foul|strikeout|walk|hard hit|miss) (?:probability|likelihood|frequency|"
        r"proportion|incidence|propensity)",
        r"\1 rate",
    ),
    (
        r"(?:hits?|hitting) (?:rockets|missiles|lasers|bullets|ropes|bombs|lasers|seeds|"
        r"frozen ropes|scorchers|rocks|"
        r"screamers)|(?:lash(?:es|ing)?|whack(?:s|ing)?|pummel(?:s|ing)?|impact(?:s|ing)?|"
        r"crack(?:s|ing)?|rock(?:s|eting)?) (?:it|the ball|balls|them)|(?:catch(?:es)?|catching|"
        r"gets?) (?:it|them|one|balls) "
        r"(?:flush|solid|all)|gets? all of (?:it|them|one)|(?:hits?|hitting|knocks?|tears?) "
        r"the (?:snot|cover|stuffing|"
        r"stitches) (?:out of|off)(?: of)? (?:it|the ball|balls)",
        "hits it hard",
    ),
    (
        r"(?:sees?|seeing|watch(?:es)?|watching) (more |fewer |less |the most |the fewest )?strikes "
        r"(?:go|sail|fly) by",
        r"takes \1pitches in the zone",
    ),
    (r"(?<=squares )one(?= up)|(?<=squaring )one(?= up)|(?<=puts )one(?= in play)", "it"),
    (r"(?:barrel|barrels) (?:up )?(?:one|pitches)", "barrels it"),
    (
        r"swings? (?:past|by) (?:it|the ball|them|balls|pitches)|(?:cuts?|hacks?|swings?|"
        r"waves?) and (?:misses|comes up empty|"
        r"whiffs)|(?:cut|hack|wave)(?:ting|ing)? and miss(?:ing)?|(?:gets?|is|are|getting|"
        r"getting) (?:blown away|beat)(?: (?:by|on))?",
        "misses",
    ),
    (
        r"(?:puts?|putting|gets?|getting) (?:the |a |his |her )?(?:bat|wood|lumber|stick) "
        r"(?:on|to) (?:the )?(?:ball|pitch|it)",
        "makes contact",
    ),
    (
        r"(?:gets?|getting|hits?|hitting|keeps?|keeping) (?:it|the ball|balls|them) (?:in "
        r"play|into play|fair)",
        "puts it in play",
    ),
    (
        r"(?:hits?|hitting) (?:foul balls|fouls)|(?:fouls?|fouling) (?:it|them|balls|pitches|"
        r"stuff) (?:off|back|away)|"
        r"(?:spoils?|spoiling|fights? off|fighting off|fouls? off|fouling off) (?:good |"
        r"tough |nasty |great |quality )+(?:pitches|stuff|ones|balls)|"
        r"stay(?:s|ing)? alive (?:with|by) (?:fouls|foul balls|fouling (?:pitches|balls|it|them) off)",
        "fouls off",
    ),
    (
        r"(?:goes?|going|went|gone) after (?:bad |lousy )?(?:balls|pitches out of the zone)(?= [,.?!]| $|"
        r" more| less| since| than)",
        "chases",
    ),
    (
        r"(?:goes?|going) chasing|(?:chases?|chasing) (?:after )?(?:junk|garbage|slop|trash|"
        r"(?:bad|lousy) (?:balls|pitches|stuff))|"
        r"(?:goes?|going|went) after (?:bad|lousy) (?:pitches|balls|stuff)|(?:offers?|offering|"
        r"swings?|swinging|hacks?|hacking) at (?:balls|stuff|"
        r"pitches) (?:off|out of|outside) (?:of )?the (?:strike )?(?:plate|zone)",
        "chases",
    ),
    (
        r"(?:swings?|swinging) the bat(?! (?:well|great|hot|like|hard|faster|harder|better))|"
        r"(?:lets?|letting) (?:it|her|one) (?:rip|eat|fly)|(?:lets?|letting) loose|"
        r"(?:cuts?|cutting) (?:it|her|one) loose|hack(?:s|ing)?(?! (?:and|at))|"
        r"(?:gets?|taking|takes) (?:the|his|her) bat off (?:the|his|her) shoulder",
        "swings",
    ),
    (
        r"(?:swings?|swinging) at (?:pitch one|pitch number one|the first strike he sees|the opener)",
        "swings at the first pitch",
    ),
    (r"hunts?(?: for)? (?=the first pitch)", "swings at "),
    (r"(?:watch(?:es)?|watching) (?:pitches|balls|strikes)(?: go| pass| sail by)?(?: by)?", "takes"),
    (
        r"k d|(?:(?<=<who> )|(?<=he )|(?<=she )|(?<=they ))k|(?:gets?|got|getting|is|are) "
        r"(?:rung up|k d|sat down|set down on strikes|retired on strikes)|(?:takes?|taking) "
        r"a seat|"
        r"(?:whiffs?|swings?) (?:for|at|through) strike three|go(?:es|ing)? down (?:on strikes|"
        r"swinging|looking)(?: or (?:swinging|looking))?|"
        r"fan(?:s|ning) in (?:his|her) (?:trips|at bats)",
        "strikes out",
    ),
    (
        r"(?:works?|working|earns?|earning|coaxes?|takes?|taking|draws?|drawing|gets?|getting) "
        r"(?:a |the |his |her |some )?(?:free pass(?:es)?|base on balls|bases on balls)|"
        r"(?:works?|working|earns?|coaxes?) (?:a |the )?walks?|(?:takes?|taking) (?:his|"
        r"her|their|the) walks?|"
        r"(?:takes?|taking) ball four",
        "walks",
    ),
    (
        r"(?:hits?|hitting) safely|(?:collects?|comes? up with|raps? out|strokes?|bangs? "
        r"out|gets?) (?:(?:a|some|his|her) )?(?:base )?hits|(?:collects?|comes? up with|"
        r"gets?) a (?:base )?hit",
        "gets hits",
    ),
    (r"swing and a miss", "swing and miss"),
    (r"eats?(?= (?:(?!and |but )[^ ,.;:]+ ){1,4}for (?:breakfast|lunch|dinner)(?: [,.!]|) )", "owns"),
    (r"eats? (?=(?:(?!and |but )[^ ,.;:]+ ){1,4}alive )", "owns "),
    (
        r"(?:for (?:breakfast|lunch|dinner)|(?<!came )(?<!come )(?<!comes )(?<! be )(?<!stays "
        r")alive)(?=(?: [,.!?])| $)",
        "",
    ),
    (r"(?:comes?|came|coming|goes) (?:up|out)(?: there)? (?:swinging|hacking)", "swings"),
    (
        r"(?:trips?|visits?|turns?|times?) (?:to|up to|at) (?:the plate|bat)|(?<!road )trips(?= [.,?!]|$| $)",
        "plate appearances",
    ),
    (r"(?:finds?|finding|found|catch(?:es)?|meets?) (?:nothing but|only) air", "misses"),
    (
        r"(?:puts?|putting) a (?:charge|jolt|sting|hurt|licking|dent) (?:into|in|on) "
        r"(?:it|the ball|one|them|balls|baseballs)",
        "hits it hard",
    ),
    (
        r"(?:turns?|turning|turned|gets around|gets? to|getting to) on (?=(?:the |an? |any |"
        r"all )?(?:inside|inner|pitches|fast|heat|high|low|four|breaking|slider|curve|change|"
        r"off))",
        "hits it hard on ",
    ),
    (
        r"(?:does|do|doing|did|done|deals|inflicts?)(?: (?:real|serious|some|"
        r"big))? damage(?: (?:to|on)(?= <))?",
        "hits it hard",
    ),
    *(
        (
            rf"(?:does|do|doing|did|done|deals|inflicts?) {many} damage(?: (?:to|on)(?= <))?",
            f"hits it hard {many}",
        )
        for many in ("more", "less", "the most", "the least")
    ),
    (r"damage rate", "hard hit rate"),
    (r"hard hitters?", "hard contact hitter"),
    (
        r"(?:drives?|driving|stings?|stinging|scalds?|scalding|scorches|smokes?|smoking|ropes?|"
        r"roping|rips?|ripping|laces?|"
        r"lacing|drills?|drilling|tattoos?|blisters?|thumps?|wallops?|clobbers?|crushes|crush|"
        r"crushing|hammers?|"
        r"hammering|smashes|smashing|belts?|belting|tags?|nails?|pounds?|pounding|smacks?|smacking|creams?|"
        r"launches|blasts?|mashes) (?:it|the ball|balls|baseballs|the baseball)(?: with authority| around)?",
        "hits it hard",
    ),
    (
        r"(?:hits?|hitting|hit) (?:it|the ball|balls|them) (?:on the (?:nose|screws|button|"
        r"barrel|sweet spot|money)|with "
        r"authority|squarely|solidly|flush|cleanly|well)",
        "hits it hard",
    ),
    (
        r"(?:gets?|getting|puts?|putting) (?:good (?:wood|barrel|contact)|the barrel|"
        r"the sweet spot|the fat part of the bat) "
        r"(?:on|to) (?:it|the ball|balls|them)|(?:finds?|finding) the barrel",
        "hits it hard",
    ),
    (r"(?:connects?|connecting|connected) (?:solidly|squarely|with authority|hard)", "hits it hard"),
    (
        r"(?:hit|struck|strikes|strike|hits|meets?) (?:the ball |it )?(?:squarely|solidly|on the screws)",
        "hits it hard",
    ),
    (r"(?:well (?:hit|struck) balls?|quality contact|good contact)(?= )", "hard contact"),
    (r"(?:connects?|connecting|connected)(?: with (?:it|the ball))?", "makes contact"),
    (
        r"(?:gets?|getting|got|puts?) (?:the |his |her |a |some |their )?(?:bat|wood|barrel|"
        r"lumber) (?:on|to) (?:it|the ball|the pitch)|"
        r"(?:touches|touch) the ball|(?:meets?) the ball",
        "makes contact",
    ),
    (
        r"(?:fails?|failing|failed) to (?:connect|make contact|touch (?:it|the ball))|(?:hits?|"
        r"hitting) (?:nothing but )?air|"
        r"(?:waves?|waving|flails?|flailing) (?:and misses|through(?: it)?)|"
        r"(?:comes?|coming|came) up with (?:nothing|air)|(?:swings?|swinging) (?:at|through) air|"
        r"(?:swing and miss|swings and misses) (?:percentage|share)",
        "misses",
    ),
    (r"(?:misfires?|misfiring|strikes? at nothing)", "misses"),
    (r"(?:in ?to play|in ?to the field of play|between the lines|in fair territory)", "in play"),
    (
        r"spoil(?:s|ed|ing)?(?= (?:, )?(?:about |roughly |around )?(?:\d|a |one |two |three |four "
        r"|five ))|"
        r"(?:fights? off|fighting off|spoils?|spoiling|fouls? (?:away|back)|fouling (?:away|"
        r"back)|wastes) (?=(?:pitches|two|the|<|with|a|more|less|good|tough))",
        "fouls off ",
    ),
    (
        r"(?:ends?|ending|ended|results?|resulting) (?:up )?(?:in|as|with) (?:a )?(?=(?:foul|"
        r"whiff|miss|hard))",
        "are ",
    ),
    (
        r"(?:pulls?|pulling) the trigger|takes? (?:a |his |her )?(?:cut|cuts|hack|hacks|rip|"
        r"swing|swings)(?: at)?|(?:hacks?|hacking|cuts?) (?=at)|(?:lets?|letting) it fly|"
        r"(?:waves?|flails?) (?=at)",
        "swings ",
    ),
    (r"first pitch swing(?:ing)?(?: rate| percentage)?|swings? first pitch", "swings at the first pitch"),
    (r"(?:eats?|eating|gobbles?|lights?|chews?) (?:it|them|those|that|these) up", "owns"),
    (
        r"(?:punishes|punish|punishing|demolish(?:es)?|annihilat(?:es|e)|obliterat(?:es|e)|"
        r"slaughters?|shreds?|wrecks?|bludgeons?|thrashes|thrash|torch|torching|dominates?|"
        r"dominating|rakes|raking|smokes|scorches|crushing|hammering|mashing|feasting on|"
        r"feast on|lives (?:off|on)|makes a living (?:off|on|against)|thrives (?:on|against)|"
        r"licks (?:his|her) chops (?:at|against)|drools over|makes hay (?:off|against|with)|"
        r"has a field day with|goes to town on|lays waste to)(?= )",
        "owns",
    ),
    (
        r"the first (?:offering|one thrown|one|ball) (?:he|she|they) (?:sees?|gets?)|"
        r"the first (?:offering|one)(?= )",
        "the first pitch",
    ),
    (r"chaser|(?<!more )(?<!fewer )chasers", "chase"),
    (
        r"(?:bites?|biting|bit) (?:on|at)|(?:reaches|reaching|lunges|lunging|fishes|fishing|"
        r"goes fishing|gets fooled) "
        r"(?:for|at|after|off|outside)?(?: the)? (?:bad pitches|balls off the plate|"
        r"pitches off the plate|plate)|"
        r"(?:swings?|swinging|hacks?|hacking) at (?:junk|garbage|slop|bad ones|"
        r"balls in the dirt|pitches in the dirt|bad stuff)|"
        r"(?:goes|going|go|went|gets|gone) fishing(?: off the plate| outside)?|"
        r"(?:leaves?|leaving) the (?:strike )?zone|out of zone swing(?:s| rate)?",
        "chases",
    ),
    (
        r"(?:chase|chases|chasing) (?:bad |outside )?(?:balls|pitches|stuff)(?: (?:out of|"
        r"outside|off) the (?:zone|plate))?",
        "chases",
    ),
    (
        r"(?:goes|going|go|went|gone) down (?:on strikes|swinging|looking)|(?:fans|fanning|fanned)|"
        r"(?:punches|punched|punching) out|k s|ks|k rate|k percentage|(?:gets|is|are|being|"
        r"got) (?:struck out|punched out)",
        "strikes out",
    ),
    (r"at not striking out", "less in strikeouts"),
    (
        r"(?:keeps?|keeping|leaves?|leaving) (?:the|his|her) bat on (?:the|his|her) shoulder|"
        r"(?:watches|watching) (?:pitches|strikes|the ball) go by|holds? back",
        "takes",
    ),
    (
        r"(?:never|does not ever) (?:lets?|takes?|watch(?:es)?) (?=(?:the |a )?(?:first pitch|"
        r"first one|opening pitch)(?: go(?: by)?)?)",
        "always swings at ",
    ),
    (
        r"throws? (?:it|the same (?:kind|type|sort) of pitch|the same pitch|the same thing|"
        r"the same)(?: (?:back|again|right back))*|(?:doubles?|doubling) up(?: on it)?|"
        r"(?:repeats?|repeating) the pitch|goes? (?:right )?back to (?:the same pitch|it)",
        "throws samekind",
    ),
    (r"(?:balls|ball|stuff|pitches) (?:in|is|are)? ?in the dirt", "pitches in the dirt"),
)

_PITCH = (
    r"(?:fastballs?|sinkers?|cutters?|sliders?|curveballs?|curves?|changeups?|splitters?|breaking balls?)"
)

# Situations.
SITUATIONS: Rows = (
    (r"(in|of|off|outside) (zone|plate|count|middle)(?= (?:,|\.|\?|<|than|[a-z]+s )|$| $)", r"\1 the \2"),
    (
        r"(?:conditional on|conditioned on|restricted to|limited to|in situations with|"
        r"in cases of|in the case of|when facing|"
        r"when (?:he|she|they) (?:faces?|sees?|gets?)|when (?:thrown|given|fed|served|shown|"
        r"offered)|when it comes to|looking only at|considering only)"
        r"(?= (?:two|one|no|the|a|an|left|right|first|\d|fast|breaking|slider|curve|change|off|"
        r"inside|high|low|runners|men|full|bases|lefties|righties))",
        "with",
    ),
    (
        rf"(?:once|when|whenever|after|if|with) {_HE} (?:has|have|gets?|is|falls?|"
        r"got)(?: (?:down|behind|to|in|into))?(?: the)? (?=(?:two|one|no|2|1|0) strikes?)",
        "with ",
    ),
    (r"(?:put|puts|get|gets|with) (?=(?:two|2) strikes on)", "with "),
    (
        r"(?:down|back|backed up|pinned) (?:to|with|against the wall with) (?:her |"
        r"his )?(?:last|final) strike|(?:on|with) (?:his|her|the) last strike",
        "with two strikes",
    ),
    (r"strikes (?:on|against) (?:him|her|them|<who>)", "strikes"),
    (
        r"(?:bases|bags|sacks) (?:are )?(?:juiced|packed|jammed|chock full|crammed|drunk|full|"
        r"loaded)",
        "bases loaded",
    ),
    (
        r"(?:bases|bags|sacks) (?:are )?(?:empty|clear|clean|clean as a whistle)|(?:with |"
        r"and )?no (?:one|body|runners?|men) (?:on|aboard)(?: base)?|nobody (?:aboard|"
        r"on the bases)",
        "bases empty",
    ),
    (
        r"(?:when|with|if|once|whenever) (?:the|a) pitcher "
        r"(?:is |gets |falls )?ahead(?: (?:in|on) the count)?",
        "hitter behind in the count",
    ),
    (
        r"(?:when|with|if|once|whenever) (?:the|a) pitcher "
        r"(?:is |gets |falls )?behind(?: (?:in|on) the count)?",
        "hitter ahead in the count",
    ),
    (
        r"(?:when|with|if|once|whenever) (?:the|a) (?:hitter|batter) "
        r"(?:is |gets |falls )?(?=(?:ahead|behind) in the count)",
        "hitter ",
    ),
    (
        r"(?:men|runners|guys|teammates|somebody|someone|anybody|anyone) (?:aboard|on the bases|"
        r"on the bags)|ducks on the pond|traffic on the bases|base runners",
        "runners on",
    ),
    (
        r"(?:a |the )?(?:runner|man|hitter) (?:is |standing |waiting |"
        r"stands )?(?:on|at) (?=(?:first|second|third))",
        "a runner on ",
    ),
    (
        r"(?:(?:you|they|pitchers|a pitcher) )?(?:gets?|get|is|are) ahead of (?:him|her|them|<who>)",
        "hitter behind in the count",
    ),
    *(
        (rf"({_PITCH}) (?:{words})(?= (?:[,.?!]|more|less|than)|$| $)", rf"{place} \1")
        for place, words in (("high", "up|high"), ("low", "down|low"), ("outside", "away|outside"))
    ),
    (r"(?:out of|from) the stretch", "with runners on"),
    (r"breaking(?= [.,?!]|$| $)", "breaking balls"),
    (r"than outside (?:of )?it", "than outside the zone"),
    (r"(?:in|on) (?:a )?hitters? counts?", "hitter ahead in the count"),
    (r"(?:in|on) (?:a )?pitchers? counts?", "hitter behind in the count"),
    (
        r"when (?:he|she) (?:is|gets?) ahead(?! in)|"
        r"ahead on the count",
        "ahead in the count",
    ),
    (
        r"in the hole(?: in the count)?|(?:down|"
        r"trailing) in the count|when (?:he|she) (?:is|falls?|gets?) behind(?! in)|"
        r"behind on the count",
        "behind in the count",
    ),
    (
        r"(?:benders?|bendies|bendy (?:stuff|ones|pitches)|breakers|breaking stuff|spinners|spin|"
        r"breaking pitching|the breaking ball)",
        "breaking balls",
    ),
    (r"(?:hooks?|deuces?|yakkers?|hammer curves?|uncle charlie)(?= )", "curveballs"),
    (
        r"(?:cheese|gas|smoke|hard stuff|number ones|high velocity|velocity|velo|fast ones|"
        r"(?<!in the )(?<!in this )(?<!in that )(?<!in such )heat|"
        r"heaters?|fast balls?)(?= )",
        "fastballs",
    ),
    (r"(?:soft stuff|slow stuff|slow pitches|soft pitches|slow balls?|soft serve)", "offspeed pitches"),
    (r"(?:change of pace(?: pitch| pitches)?|cambios?)", "changeups"),
    (
        r"(?:upstairs|up top|at the letters|letter high|at the shoulders|high in the zone|"
        r"up in (?:his|her) eyes|above the belt)",
        "up high",
    ),
    (r"(?:downstairs|at the knees|knee high|at the shoe tops|low in the zone|below the belt)", "down low"),
    (
        r"(?:in on (?:the|his|her) hands|on the hands|in under the hands|inside pitches|"
        r"pitches inside|stuff inside|pitched inside|jammed)",
        "inside pitches",
    ),
    (
        r"(?:down the (?:pipe|middle|gut)|right down broadway|over the heart(?: of the plate)?|"
        r"in (?:his|her|the) wheelhouse|meatballs?|cookies|grooved pitches)",
        "over the middle",
    ),
    (
        r"(?:the )?late innings|late in games|late in ball ?games|in the late going|"
        r"from the seventh on|in the seventh (?:inning )?or later",
        "seventh inning on",
    ),
    (r"(?<=seventh inning on )than before", "than otherwise"),
    (r"(?:batting|hitting) (?:left handed|lefty|left|from the left side)", "as a left handed hitter"),
    (
        r"(?:batting|hitting) (?:right handed|righty|right(?! around| about| near)|from the right side)",
        "as a right handed hitter",
    ),
    (r"up in the (?:strike )?zone", "up high"),
    (r"(?:down|low) in the (?:strike )?zone", "down low"),
    (r"than (?:when )?as an? (?:left|right) handed hitter", "than otherwise"),
    (r"two gone|two out|two down|two away|2 away|2 down|2 out|2 outs", "two outs"),
)

# With whom or with what it is compared.
COMPARED: Rows = (
    (r"of all (?=(?:the )?<who> )", "among "),
    *(
        (rf"(?<={word} )(?:lineup|offen[sc]e|batting order|ball ?club)(?= )", "club")
        for word in ("no", "any", "other", "which", "what", "every")
    ),
    (r"in (?=(?:the )?<who> (?:lineup|order|batting order)(?= ))", "on "),
    (r"(?<=on <who> )(?:lineup|order|batting order)", ""),
    (r"(?<=on the <who> )(?:lineup|order|batting order)", ""),
    (r"(?:(?<=^ <who> )|(?<=^ the <who> ))or(?= (?:the )?<who> [?:,])", ","),
    (
        r"of (?:any|all|all the|any other) (?:other )?(?:hitters?|batters?|pitchers?|clubs?|teams?|"
        r"players?)(?= (?:$|[,.?!]|in |on |with |against |when ))",
        "in the league",
    ),
    (
        rf"(?:there (?:is|are)|you (?:will|can|could|would|do)) (?:not|never)(?: (?:find|name|"
        r"see|show me|be|have))?(?: (?:a|an|any|another|one|single|"
        rf"other))* {_PEOPLE}{_IN_LEAGUE} (?:who|that)",
        "nobody",
    ),
    (
        r"(?:nobody|no one) ,(?: (?:folks|friends|people|partner|believe me|trust me) ,)? "
        r"(?:but|and|absolutely|and i mean|i mean|just)?(?: absolutely)? ?(?:nobody|no one)(?: ,)?",
        "nobody",
    ),
    (
        rf"(?:i|we|you|they) (?:have |had )?never (?:seen|met|found|known|watched|see|"
        rf"saw) (?:anybody|anyone|any|a|another)(?: {_PEOPLE})?(?: (?:who|that|to))?",
        "nobody",
    ),
    (rf"(?:there (?:is|are)) no (?:other |single )?{_PEOPLE}{_IN_LEAGUE} (?:who|that)", "nobody"),
    (
        r"there is (?:nobody|no one|none)(?: in (?:the|this) (?:league|game))? (?:who|that)|"
        r"(?:there is )?no way (?:anybody|anyone)",
        "nobody",
    ),
    (
        rf"(?:you|we) (?:will|can|could|would) not find (?:anyone|anybody|a {_ONE}|"
        rf"another {_ONE}){_IN_LEAGUE} (?:who|that)",
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
    (
        r"than (?:anyone|anybody|everyone|everybody)(?: else)? (?:alive|around|out there|"
        r"in baseball|in the business|in uniform|on earth|on the planet|you can name|"
        r"you could name|i have seen|under the sun)",
        "than anyone",
    ),
    (
        rf"than any {_ONE} (?:in baseball|in the business|in uniform|on earth|you can name)",
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
    (
        r"(?:compared|relative|in comparison) (?:with|to) (?:the )?(?:league|rest of the league|"
        r"average|league average|others|everyone else)(?: average)?(?= )",
        "than the league",
    ),
    (r"(?:higher|lower|more|less) , (?=than)", ""),
    (
        r"than (?:(?:he|she|they) (?:do|does) )?(?:on |to |at |with |against |off )?(?:the )?rest"
        r"(?: of (?:his|her|their) (?:stuff|pitches|arsenal|offerings|mix)|(?= )(?! of))",
        "than otherwise",
    ),
    (
        r"than (?:(?:he|she|they) (?:does|do) )?(?:with (?:fewer|less|more|one or none)|"
        r"without(?: them| it)?|in between|the rest of the time|other times|any other time|"
        r"normal|elsewhere|in any other spot|in other spots|in other counts)(?= )",
        "than otherwise",
    ),
    (r"rather than(?= )", "more than"),
    (r"a better (?:hitter|batter|bat)(?= than| with| against| on| when)", "better"),
    (r"a worse (?:hitter|batter|bat)(?= than| with| against| on| when)", "worse"),
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
    (r"(?:falls short of|trails|undershoots|lags)(?= (?:\d|a (?:third|quarter|half|fifth)))", "less than"),
    (r"(?:under|below) (?:a )?half", "less than half"),
    (
        r"(?:(?<!when it )comes? (?:out )?to|comes? in at|sits? (?:at|around|near)|"
        r"(?<!home )runs? (?:at|around|about)|"
        r"stands? at|checks? in at|hovers? (?:at|around|near)|amounts? to|works? out (?:to|at)|"
        r"lands? (?:at|around)|measures?|hangs? around|settles? (?:at|around)|ends? up (?:at|"
        r"around)|clocks? in at)(?= )",
        "is about",
    ),
    (
        r"(?:in the (?:neighbou?rhood|vicinity|ballpark|region|area) of|somewhere (?:around|"
        r"near|close to)|circa|in or around)",
        "about",
    ),
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
    (r"better than (?=(?:four|five|three|two|half|one) )", "more than "),
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
        r"(?:paces|heads|sets the pace(?: in| for)?|sits atop|is atop|at the (?:top|head) of|"
        r"ranks (?:first|number one|no 1)(?: in| for)?|comes (?:in )?first(?: in| for)?|"
        r"is (?:first|tops|king|queen)(?: in| at| of)?|takes the (?:crown|cake)(?: for| in)?|"
        r"holds the (?:lead|top spot)(?: in| for)?|(?:is )?the league leader in) ?(?=(?:the |"
        r"all |<|contact|hard|whiff|chase|swing|league))",
        "leads ",
    ),
    (
        r"(?:the )?(?:goat|greatest|king|queen|gold standard|class of the league|champion|"
        r"premier|top|cream of the crop|master) (?:of|at|for|in|when it comes to) (?=(?:<|two|"
        r"the|hitting|with|making|putting|lay))",
        "the best at ",
    ),
    (
        r"(?:the )?(?:top|number one|no 1|premier|foremost|supreme) (?=(?:hitter|batter|contact|"
        r"fastball|slider|breaking|curveball|changeup|two strike|pitcher|club))",
        "best ",
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
        r"(?:differs?|differed|differing|changed?|changes|moved|shifted)(?= (?:since|from before))",
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
    (r"(?:over |in |during )?(?:these|those) (?:past|last) (?=(?:\d+|[a-z]+) games)", "over the last "),
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

# What follows a miss, and the last half inning.
REST: Rows = (
    (
        r"(?:(?<=^ )|(?<=, )|(?<=: ))<who> (?:, he |, she )?(?:misses|whiffs|swings (?:and misses|through)) "
        r"(?:once|one) (?:and|,) (?:then )?(?:he|she|they)"
        r"(?=.* next )",
        "after a miss",
    ),
    (r"(?:right|directly|immediately|straight|just) (?=(?:after|following) )", ""),
    (
        r"(?<!there )(?:whoever|anyone who|anybody who|those who|everyone who|everybody who|"
        r"(?:the )?(?:players|batters|guys|ones|people|kids|bats|girls|boys|folks) who)(?= )",
        "hitters who",
    ),
    (
        r"(?:hitters|players|batters|guys|those|people) with (?:a )?(?:high|higher|big|large|"
        r"lots of|a lot of|plenty of)(?= )",
        "hitters who more",
    ),
    (
        r"(?:tends? to|tend also to|are (?:likely|apt|prone) to|usually|generally|"
        r"are also known to)(?= (?:have|hit|miss|make|chase|also|whiff|swing|be))",
        "also",
    ),
    (r"(?<=also )have (?:high|higher|big|large|lots of|a lot of|plenty of)", "more"),
    (
        r"(?:we|they|the club|my club|the home side|the home club|you) (?:trail|are trailing|are down|"
        r"are behind) (?:by )?(?=(?:\d|a|one|two|three|four|five|six) )",
        "down ",
    ),
    (
        r"(?:is |be )?the (?:one|man|woman|guy|hitter) (?:to (?:hit|bat|send up|bring up|"
        r"have up|see up)|(?:i|we|you) (?:want|send)(?: up)?)",
        "is the right hitter",
    ),
    (
        r"who (?:(?:do|should|would|to) (?:i|we|you|they) (?:send up|bat|use|hit|pick|put up|"
        r"bring in|bring up|call on|want|like|go with|have)(?: up)?(?: there| at the plate)?|bats)",
        "who should hit",
    ),
    (
        r"(?:and )?(?:there is )?(?:nobody|no one)(?: else)? (?:you|i|we|"
        r"they) would rather (?:see|have|send up|want|send)(?: up| hitting|"
        r" at the plate)? than(?= <who>)",
        "send up",
    ),
    (
        r"(?:is )?(?:it )?(?:is )?(?:smart|wise|sensible|reasonable|a good idea|"
        r"the right (?:move|call|thing)|right|best) (?:for (?:us|me|them) )?to (?=(?:send up|"
        r"bring up|bat|use|hit))",
        "",
    ),
    (
        r"(?:ninth inning|the ninth) , (?:last|bottom|home) half|(?:last|bottom|"
        r"home) half of (?:the )?(?:ninth|9th|last)(?: inning)?|bottom (?:nine|9)",
        "bottom of the ninth",
    ),
    (r"(?:the )?home (?:side|club|team) (?=(?:down|trailing|behind))", ""),
    (
        r"(tied|tie game|down (?:a|one|two|three|\d)(?: runs?)?)(?: in)? (?:the )?(?:9th|ninth)",
        r"\1 ninth inning",
    ),
    (r"(?:rather|sooner) have", "take"),
    (r"bottom (?:of )?(?:the )?(?=(?:9|nine|9th|ninth))", "bottom of the "),
    (r"bottom of the 9(?= )", "bottom of the ninth"),
)

_LEVEL = (
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
        r"(?:has |have |is |are |was )?(?:picked (?:it|things) up|turned it (?:around|up)|"
        r"come on(?: strong)?|(?:gotten|got|been|grown|turned) (?:hotter|better|stronger)|"
        r"bounced back|rebounded|gotten better|stepped it up|come around|recovered|blossomed|"
        r"taken off)",
        "better",
    ),
    (
        r"than (?:he|she|they|it) (?:has|had|did|was|were|used to)(?: been| done)?(?: before|"
        r" earlier)?(?=(?: [,.?!])| $)",
        "than before",
    ),
)

_ALOT = (
    r"(?:has |have )?(?:many(?= (?:first|pitches|sliders|fastballs|breaking|curve|change|balls|"
    r"bad))|plenty of|a ton(?: of)?|tons(?: of)?|a lot(?: of)?|lots(?: of)?|"
    r"way too (?:much|often|many)|far too (?:much|often)|too (?:much|often|many)|"
    r"(?:at )?(?:anything|everything)(?: (?:he|she|they) sees?| that moves| thrown at (?:him|"
    r"her)| you throw)?(?=(?: [,.?!])| $)|constantly|all the time|like crazy|nonstop|non stop|"
    r"a great deal|a bunch|"
    r"loads of|galore|with abandon|at will|to no end|habitually|left and right|"
    r"all day(?: long)?|day and night|like there is no tomorrow|his fair share of|"
    r"her fair share of)"
)


def reword(text: Text) -> None:
    """Put other ways to say something into the words that the tables of phrases know."""
    colour(text)
    put_plainly(text)
    text.take(r"(?:very |so )?far from|nowhere near|a long way from|nothing like", "not")
    text.take(r"anything but", "anything but")
    text.reword(r"i will take(?= <who> (?:(?!and |but )[^ ,.;:<]+ ){0,2}over (?:the )?<who>)", "i like")
    if re.search(
        r" (?:more|less|fewer|often|better|worse|harder) (?:(?!and |but )[^ ,.;:]+ ){0,6}then ", text.line()
    ):
        text.reword(
            r"then(?= (?:the (?:rest of the |average |typical )?(?:league|hitter)|anyone|anybody|"
            r"everyone|everybody|"
            r"most|any other|the others|(?:the )?<who>) )",
            "than",
        )
    text.reword_all(SHORT)
    reframe(text)
    for pattern in HEARD:
        text.leave(pattern, text.heard)
    for rows in (WHO, ROUND, OFTEN, COMPARED, STREAKS, LEADING, RATES, SITUATIONS, REST):
        text.reword_all(rows)
    text.take(
        r"(?:why )?(can not|could not) (?:seem to )?<who> (hit|handle|touch|solve|catch up to)", "struggles"
    )
    text.take(
        r"(?:batters|hitters|pitchers|clubs|players|guys|people|those|anyone|anybody|someone|"
        r"others|everyone|everybody|men|kids|bats|all|<who>) "
        r"(?:like|such as|besides|other than|around|behind|alongside|but|except|near|in front of)(?= <who>)",
        "others than",
    )
    text.take(
        r"(?<=than )(?:half|(?:a|one|two|three|four|\d+) (?:third|quarter|fourth|fifth|tenth)s?|"
        r"(?:\d+|[a-z]+(?: [a-z]+)?) (?:percent|%)|\d+%|a good part|much|part|some)"
        r" (?:of )?(?:the|this|our) (?:league|hitters|batters|clubs|pitchers|others|lineup|club|"
        r"team|roster|game|players)",
        "part of the league",
    )
    text.take(
        r"(?:the )?(?:pitchers?|hitters?|batters?) (?=<who> (?:faced|faces|has faced|beat|struck|"
        r"hits(?! (?:it|the|them|balls?|hard|well)\b)))",
        "others than",
    )
    text.take(r"(?<=<who> )had been", "past")
    if re.search(r" (?:ninth|nine|9th|last|tied?|down|trailing) ", text.line()):
        text.take(r"pinch hits?|pinch hitting|pinch hitter")
    _troubled(text)
    _thrown(text)
    text.take(r"throws? samekind(?: again| right back| back)*", "samekind")
    text.take(r"no(?= <who> (?:(?:hitter|batter|player) )?)(?=.* (?:than|as) )", "nobody")
    _fooled(text)
    if re.search(r" (?:nobody|no one|no hitter|<nobody>|none) ", text.line()):
        text.reword(_LEVEL, "more than")
        text.reword(r"(?:quite |just )?(?:like|the way)(?= (?:the )?<who>)", "more than")
    text.take(
        rf"{_ALOT}(?! (?:more|less|better|worse|higher|lower|fewer|harder))(?: in (?:his|her|their) game)?",
        "alot",
    )


def reword_dated(text: Text) -> None:
    """Do so with what is a change only where a day is told."""
    if text.has("since"):
        text.reword_all(DATED)


def _thrown(text: Text) -> None:
    """Take what can be thrown past nobody for what is not missed, and a pitch to somebody for a situation."""
    thrown = r"(?:throw|sneak|get|blow|slip|run)"
    past = rf"{thrown} (?=(?:a|an|the|that|any) (?:(?!and |but )[^ ,.;:]+ ){{1,3}}(?:past|by) <who> )"
    text.reword(rf"(?:(?:you|they|we|pitchers) can not|(?:nobody|no one) can) {past}", "does not miss ")
    if " does not miss " in text.line():
        text.take(r"(?:past|by)(?= <who>)")
    text.reword(r"(?<=^ )(?:leave|put|keep) (?:it|one) (?=(?:up|down|low|high|inside|away|over) )", "thrown ")
    text.reword(
        r"(?<=^ )(?:throw|feed|show|serve|give|hang) (?=(?:<who>|him|her) (?:a|an|the|any|anything) )",
        "thrown ",
    )
    if text.take(r"(?<=^ )thrown"):
        for side, placed in (("up|high", "up high"), ("down|low", "down low")):
            text.reword(rf"(?<=^ )(?:{side})(?: (?:over|near|around) the plate)?(?= (?:,|and) )", placed)
        text.reword(r"and (?=(?:he|she|<who>) )", ", ")
        text.take(r"(?:(?<=<who> )|(?<=he )|(?<=she ))will")


def _fooled(text: Text) -> None:
    """Take being fooled for a miss: what follows is what is done with the next pitch."""
    past = r"(?:get|sneak|throw|blow|slip)"
    if re.search(rf" {past} (?:one|it) (?:by|past) <who> ", text.line()):
        text.reword(
            rf"(?:(?:you|they) )?(?:will|can|do) not {past} (?:a second|another|two|the next)(?: one)? "
            r"(?:by|past) (?:him|her)",
            "does not miss the next one",
        )
        if " does not miss the next one " in text.line():
            text.take(
                rf"(?:(?:you|they) (?:can|might|may) )?({past} (?:one|it) (?:by|past)) <who>", "aftermiss"
            )
            text.take(
                r"(?:, )?(?:fine|okay|sure) , but|(?:not )?in (?:the|that) same (?:at bat|plate appearance)"
            )
    if text.take(
        r"(?:you )?(fool|beat|trick|get) (?:<who>) (once|with one)(?: and)?|"
        r"(?:you )?(make) (?:<who>) ((?:miss|whiff|swing and miss|swing through one)(?: "
        r"once| one)?)(?: (?:and|,))?",
        "aftermiss",
    ) or re.search(r" (?:after|once) .*(?:miss|missed|fooled) ", text.line()):
        text.reword(r"(?:will|would) not", "does not")
        text.take(r"(?:(?<=he )|(?<=she )|(?<=<who> ))(?:will|would)")


def _troubled(text: Text) -> None:
    """Take trouble that somebody is given: of a pitcher it is being hit hard, of a hitter it may be much."""
    given = r"(?:gives?|giving|gave|given|causes?)"
    whos = text.values("who")
    text.take(rf"({given}) <who> (no|little|hardly any) (trouble|problems?|headaches?|fits)(?= ,)", "")
    if whos and all(person.subject == "pitcher" for value in whos for person in value):
        text.take(rf"({given}) <who> (more (?:trouble|problems|headaches|fits))", "hitharder")
    text.take(
        rf"({given}) <who> (?:(?:more|all sorts of|lots of|a lot of|plenty of) )?(trouble|"
        r"problems|headaches|fits)",
        "struggles",
    )
