"""Other ways to say it: short forms, what is said round a claim, who says it, and of whom it is."""

from __future__ import annotations

from hitlab.asking.colloquial import ANY_IDLE
from hitlab.asking.text import Rows

__all__ = ["HEARD", "OFTEN", "ROUND", "SHORT", "WHO"]

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
    (r"a (0?\.\d\d\d?) (?:hitter|bat) or (?:better|above|higher)", r"hitting at least \1"),
    (
        r"(?<=^ )(?:can|may|could|should) (?:i|we) (?:safely )?(?:say|write|print|claim|post|publish|"
        r"report|run|"
        r"tell (?:people|them|viewers|readers|listeners))(?: that| it that)(?= )",
        "",
    ),
    (r"(?<=^ )(?:fair|safe|okay|ok|accurate) to (?:say|write|claim|print)(?: that)?(?= )", ""),
    (r"(?<= any other )(?:arm|hurler|twirler)(?= )", "pitcher"),
    (r"(?<= any other )(?:bat|stick)(?= )", "hitter"),
    (r"(?<= lefty )(?:stick|bat)(?= )|(?<= righty )(?:stick|bat)(?= )", "hitter"),
    (r"(?:isnt|is not) (?:he|she|it)(?=(?: [.?!])* $)", ""),
    (
        r"(?<=^ )(?:the )?(pitcher|hitter|batter|club|team) with (?:the )?(most|fewest|highest|lowest)(?= )",
        r"which \1 has the \2",
    ),
    (r"w", "with"),
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
    (r"whats", "what is"),
    (r"thats", "that is"),
    (r"id(?= (?:rather|take|say|like|bet))", "i would"),
    (r"im(?= )", "i am"),
    (r"ive(?= )", "i have"),
    (r"gotta", "i have to"),
    (r"gonna", "going to"),
    (r"wanna", "want to"),
    (r"hes", "he is"),
    (r"shes", "she is"),
    (r"lhp|lefty pitching|lefty pitchers?|port ?siders?|left handers on the mound", "left handed pitchers"),
    (r"rhp|righty pitching|righty pitchers?|right handers on the mound", "right handed pitchers"),
    (r"pct", "percent"),
    (r"avg", "average"),
    (r"lg", "league"),
    (r"fbs?", "fastballs"),
    (
        r"(?:once|whenever|as soon as|any ?time)(?= (?:<who>|he|she|they|it) (?:is|gets|falls|sees|faces) )",
        "when",
    ),
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
    rf"{_THE}{_TELLERS}(?: (?:in|on|at|from) (?:the |my |our )?{ANY_IDLE})? (?:(?:has|have|will|would|all|"
    rf"keeps?) )*{_TELL}(?: us| me| you)?(?: that)?(?= )",
    r"some (?:say|claim|think|believe)(?: that)?|reportedly|apparently",
    r"(?:the )?(?:word|talk|rumou?r|story|legend|consensus|book|report|line|verdict|feeling|thinking)"
    r"(?: (?:in|on|from|around|of) (?:the |this )?(?:booth|street|league|clubhouse|dugout|town|stands|game|"
    r"press box|day|broadcast|report|table|class|paper))? (?:is|has it|goes|being)(?: that)?(?: ,)?",
    r"it (?:is|has been) (?:often |widely |commonly )?(?:said|rumou?red|believed|claimed|reported)(?: that)?",
    r"(?<=<who> )(?:is|are) (?:said|rumou?red|reported|believed|claimed|thought|reputed) to(?: be)?(?= )",
)
"""That others say so: whether it is so is what is checked, and it is said to be hearsay.

"Supposedly" and "allegedly" doubt it as well, and so they are asked back.
"""

# What is said round a claim and asks for nothing.
ROUND: Rows = (
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
    (r"the (?:lowest|smallest) (?:proportion|share|percentage|fraction|part|portion|rate) of", "least of"),
)
