"""The words of the trade, and what each asks for: one table a slot, all of them read from top to bottom.

A pattern is read over folded words with single blanks between; what was found before stands as a mark
(``<who>``, ``<in>``, ``<rate>``, ...). Of a pattern with groups only the groups are taken.
"""

from __future__ import annotations

import re

from hitlab.asking.limits import LIMITS
from hitlab.asking.phrases_rates import PERS, PHRASAL, RATES
from hitlab.asking.phrases_situations import HANDS, SITUATIONS
from hitlab.asking.text import GAP

__all__ = [
    "BARE",
    "COMPARING",
    "CONNECTED",
    "EARLY",
    "FILLERS",
    "KINDS_OF_CLAIM",
    "OF_EASE",
    "RESPONDING",
    "SETTING_ASIDE",
    "SPOTS",
    "slot_words",
    "vocabulary",
]

_NOUN = r"(?:hitters?|batters?|pitchers?|clubs?|teams?|players?|bats?|ones?|man|men|woman|guys?|kids?)"
_LEAGUE = (
    r"(?:in|of|across|around|throughout) (?:the|this|all the) (?:whole |entire )?(?:league|game|circuit)"
)
COMPARING: tuple[tuple[str, str, object], ...] = (
    (r"no better", "nobetter", None),
    (
        r"(?:one of|among|amongst|up there with) (?:the|these|those)(?= (?:very )?(?:best|worst|"
        r"most|least|finest|highest|lowest|leaders|elite))",
        "oneof",
        None,
    ),
    (r"arguably|almost|nearly|not quite", "hedge", None),
    (
        r"than (?:anyone|anybody|everyone|everybody)(?: else)? (?:on|in) (?:his|her|the|their) "
        r"(?:own )?(?:club|team)",
        "ownclub",
        None,
    ),
    (r"than anything else", "otherwise", None),
    (
        rf"than (?:any other|any|all other|all the other|all) {_NOUN}(?: (?:does|do|has|have|"
        rf"is))?(?: {_LEAGUE})?",
        "anyone",
        None,
    ),
    (
        rf"than (?:anyone|anybody|everyone|everybody|all others|all the others|the others)(?: else)?"
        rf"(?: (?:does|do|has|have|is))?(?: {_LEAGUE})?",
        "anyone",
        None,
    ),
    (
        r"than (?:the )?(?:rest of )?(?:the |this )(?:whole )?league(?: as a whole)?(?: "
        r"(?:average|at large))?(?: (?:does|do|has|is))?",
        "league",
        None,
    ),
    (
        rf"than (?:through |against |off |with )?(?:the |an )?(?:league )?(?:average|typical|"
        rf"ordinary)(?: {_NOUN})?(?: (?:does|do|has|is))?",
        "league",
        None,
    ),
    (
        rf"than (?:through |against |off |with )?(?:most|other)(?: other)?(?: {_NOUN})?(?: (?:do|"
        rf"does|are|have))?(?: {_LEAGUE})?",
        "league",
        None,
    ),
    (r"than is (?:average|usual) in the league|compared (?:with|to) the league", "league", None),
    (
        r"than (?:it is |it does )?(?:for|to) (?:everybody|everyone)(?: else)?|than (?:everybody|"
        r"everyone) else does there",
        "usual",
        None,
    ),
    (
        r"than (?:(?:he|she|it|they) )?(?:does |do |is |are )?(?:otherwise|usual|usually|normal|"
        r"normally)(?: does| do)?",
        "otherwise",
        None,
    ),
    (
        r"than (?:(?:he|she|they) (?:(?:does|do|is|are|has|sees|gets|hits|misses|swings|<rate>) )?)?"
        # "Than the rest" alone may be the rest of them who hit.
        r"(?:(?:against |on |off |at |with |versus )?(?:everything else|anything else|all else|other pitches|"
        r"any other pitch|all other pitches|other kinds)|(?:against |on |off |at |with |versus )the rest)"
        r"(?: (?:he|she|they) (?:sees?|faces?)| (?:they|you|pitchers) (?:throw|give|feed)s? (?:him|her|"
        r"them))?",
        "otherwise",
        None,
    ),
    (
        r"than (?:(?:he|she|it|they) (?:does|do|is|are) )?(?:in|on|at|with) (?:(?:all|the|any) )*others? "
        r"(?:situations?|spots?|counts?|times?)|than (?:on|against) any other(?=(?: [,.?!])| $)",
        "otherwise",
        None,
    ),
    (
        r"than (?:(?:he|she|they|it) )?(?:did |was |were |had |has )?(?:(?:up )?(?:to|until|till) "
        r"then|before(?: then| that)?|earlier)",
        "before",
        None,
    ),
    (
        r"than (?:he|she|they) (?:used to(?: be)?|once (?:did|was))|than (?:in the past|previously)",
        "before",
        None,
    ),
    (
        r"than (?:he|she|they|it) (?:did|was|were|had)(?: been)? (?:before|earlier|until then|up to then)",
        "before",
        None,
    ),
    (rf"(?:the )?rest of the league|everybody else {_LEAGUE}", "rest", None),
)
"""With what it is compared."""
OF_EASE = 5
"""So many of the next table are found before rates are: their words are a part of one."""
CONNECTED: tuple[tuple[str, str, int], ...] = (
    (
        r"(drop off|drop|dropoff|decline) " + GAP + r"(?:is |be )?(bigger|larger|greater|steeper|worse)",
        "better",
        -1,
    ),
    (r"(hardest|toughest|most difficult) " + GAP + r"(to)(?= (?!<who>))", "most", -1),
    (r"(harder|tougher|more difficult) " + GAP + r"(to)(?= (?!<who>))", "more", -1),
    (r"(easier) " + GAP + r"(to)(?= (?!<who>))", "more", 1),
    (r"(easiest) " + GAP + r"(to)(?= (?!<who>))", "most", 1),
    (r"(?:least|fewest|lowest|rarest|smallest)(?: often| likely to| of(?= all))?", "most", -1),
    (r"(?:most|highest|oftenest|biggest|largest|greatest)(?: often| frequently| of(?= all))?", "most", 1),
    (r"(?:less|fewer|lower|smaller)(?: of(?! the time))?(?: often| frequently| likely(?: to)?)?", "more", -1),
    (
        r"(?:more|higher|bigger|greater|oftener|larger)(?: of)?(?: often| frequently| likely(?: "
        r"to)?)?(?: times)?",
        "more",
        1,
    ),
    (r"harder", "more", 1),
    (r"(?:best|finest|premier|leading)", "best", 1),
    (r"(?:worst|poorest|weakest)", "best", -1),
    (r"(?:better|stronger|improved|improves|superior)(?: hitter| hitters)?", "better", 1),
    (r"(?:worse|poorer|weaker)(?: hitter| hitters)?", "better", -1),
    (
        r"(?:has|have|is|are)? ?(?:dropped off|dropped|fallen off|fallen|declined|gone down)|"
        r"(?<!it )(?:has|have|is|are|was|were|been) down|(?<=<rate> )down",
        "more",
        -1,
    ),
    (
        r"(?:has|have|is|are)? ?(?:risen|climbed|gone up|on the rise|jumped|increased)|"
        r"(?<!it )(?:has|have|is|are|was|were|been) up|(?<=<rate> )up",
        "more",
        1,
    ),
    (r"(?:drop off|dropoff)", "better", -1),
)
"""More or less; said of a rate, or of how good somebody is."""
KINDS_OF_CLAIM: tuple[tuple[str, str], ...] = (
    (r"neither hot nor cold(?: ,)?", ""),
    (r"(?:in (?:the )?(?:middle|midst) of )?(?:a |an )?hot (?:streak|stretch|spell|run)", "hot"),
    (r"(?:no ups and no downs|no ups and downs|no hot spells and no cold ones)", ""),
    (
        r"(?:in|having) (?:a |the midst of a )?(?:bad |deep )?slump(?:ing)?|slumping|ice cold|"
        r"stone cold|cold as ice|gone cold|scuffling",
        "slump",
    ),
    (r"(?:red hot|white hot|scorching hot|scorching|hot streak|hot stretch|hot hand|hot)(?: streak)?", "hot"),
    (
        r"(?:on|in the middle of|in) (?:a |an )?(?:tear|roll|heater|run)|on fire|caught fire|"
        r"locked in|in the "
        r"zone right now",
        "hot",
    ),
    (r"(?:seeing (?:it|the ball) (?:well|like a beach ball))", "hot"),
    (r"(?:steady|consistent|consistently|the same hitter|even keeled|steadily|unchanged)", "steady"),
    (
        r"(?:held|holds|holding|stayed|stays|kept|keeps|keeping|remained|remains|maintained|maintains)"
        r"(?: (?:a|an|the|his|her|their|it))?(?= <steady>)",
        "",
    ),
    (
        r"(?:a )?(?:different|new|changed) (?:hitter|man|woman|player|pitcher|club|team)|"
        r"changed as a hitter",
        "different",
    ),
    (r"lately|recently|of late|these days|nowadays", "lately"),
    (r"(?:gives?|giving|throws?) (?:his |her |the )?at bats away|automatic outs?|easy outs?", "giveaway"),
    (
        r"forget (?:about )?it(?=(?: [,.?!])| $)|no chance(?=(?: [,.?!])| $)|good night(?=(?: [,.?!])| $)",
        "struggles",
    ),
    (
        r"(?:is )?(?:an? )?(?:absolute |total )?(?:monster|beast|stud|force)"
        r"(?=(?: [,.;:?!])| $| (?:with|against|on|in|when|at) )",
        "good",
    ),
    (r"(?:halfway |pretty |fairly )?(?:decent|solid)(?=(?: [,.;:?!])| $)", "good"),
    (r"(?:is |are )?undisciplined", "undisciplined"),
    (r"(?:is )?dreaded", "dreaded"),
    (r"as the league", "asleague"),
    (
        r"(?:(?:positively|strongly|closely) )?(?:correlated?|correlates|correlation|related|linked|tied "
        r"together)|"
        r"(?:go|goes|move|moves|travel|travels) (?:together|hand in hand)|(?:relationship|connection)(?: "
        r"between)?",
        "gotogether",
    ),
    (
        r"(?:owns|own|crushes|crush|hammers|hammer|punishes|destroys|mashes|murders|feasts on|"
        r"eats up|rakes against|"
        r"kills|torches|tees off on|smashes|pounds|devours|lights up|clobbers)",
        "owns",
    ),
    (
        r"(?:struggles?|struggled|struggling|has trouble|have trouble|has problems)(?: (?:with|"
        r"against|to hit))?|can not (?:hit|handle|solve)",
        "struggles",
    ),
    (
        r"(?:good|great|terrific|excellent|outstanding|deadly|strong|tough|dangerous)(?= "
        r"(?:against|with|on|<|at))",
        "good",
    ),
    (r"(?:lousy|terrible|bad|awful|weak|helpless|lost)(?= (?:against|with|on|<|at))", "struggles"),
    (r"(?:a )?tough(?:est)? outs?", "toughout"),
    (r"sees? (?=<in>) ?(?:well)?", "sees"),
    (r"(?:more |less )?patient|patience|(?:better |good )?eye|discipline(?:d)?", "patient"),
    (r"always|every time|every single time", "always"),
    (r"never|hardly ever|almost never", "never"),
    (
        r"(?:tops|leads|lead|leading|topped|led)(?: (?:everyone|everybody|all hitters|all pitchers|all))?",
        "leads",
    ),
    (r"(?:number one|first in|no 1|second to none|tops)", "leads"),
)
"""What settles the kind of claim by itself."""
EARLY = 7
"""So many kinds of claim are found before numbers and situations are."""
RESPONDING: tuple[tuple[str, str], ...] = (
    (
        r"(?:after|following|when|whenever|once|as soon as|(?:every|each|any) time) (?:(?:he|"
        r"she|they|hitters|a hitter|"
        r"you) )?"
        r"(?:(?:has|have|is) )?(?:just )?(?:misses|missed|miss|(?:swings?|swung) through|(?:swings "
        r"and misses|swung and missed)|"
        r"swing and miss|whiffs|whiffed(?: on)?|whiff|(?:comes|came|come) up empty)"
        r"(?: one| a pitch| once| badly)?",
        "aftermiss",
    ),
    (
        r"(after|following|when|whenever|once|every time|each time|any time) (?:<who> )((?:has "
        r")?(?:just )?(?:misses|missed|"
        r"(?:swings|swung) "
        r"through|swings and misses|swung and missed|whiffs|whiffed|(?:comes|came) up empty))"
        r"((?: on)? one| a pitch| once| badly)?",
        "aftermiss",
    ),
    (
        r"(?:after|following|off|given) (?:a|the|one|every|each|his|her) (?:bad )?(?:miss|whiff|swing "
        r"and miss|swinging strike)",
        "aftermiss",
    ),
    (r"after (?:missing|whiffing|swinging and missing)(?: one)?", "aftermiss"),
    (r"learns? from (?:a|his|her|their|the) (?:miss|misses|whiffs?)", "learns"),
    (r"(you make) <who> (miss)", "aftermiss"),
    (
        r"(?:on |at )?the (?:very )?(?:next|following) (?:one|pitch|pitches|"
        r"swing)(?: after that)?(?: (?:that )?(?:he|she|they) (?:swings? at|sees?|gets?))?|"
        r"the (?:very )?next(?=(?: [,.?!])| $)",
        "next",
    ),
    (r"(?:comes|come) back swinging(?: harder)?(?: and)?", ""),
)
"""What follows a miss."""
SPOTS: tuple[tuple[str, str], ...] = (
    (
        r"(?:the )?right (?:hitter|man|woman|one|choice|bat|person)(?: (?:for|in) "
        r"(?:this|the|that) (?:spot|situation|job|last inning))?|(?:the )?(?:best|better) "
        r"(?:hitter|man|woman|one|choice|bat|person) (?:for|in) (?:this|the|that) (?:spot|"
        r"situation|job|last inning)"
        r"|(?:a |the )?(?:better|best) (?:choice|option)",
        "spot",
    ),
    (
        r"(?:is )?the (?:one|hitter|bat|man|woman) (?:i|we|you|they) (?:would )?want(?: up| at "
        r"the plate| there)?",
        "spot",
    ),
    (r"(?<=<who> )(?:your|our|my) (?:hitter|man|woman|bat|choice|pick)(?=(?: [,.?!])| $)", "spot"),
    (r"(?:the one to )?(?:send|sends|sending) up|should (?:bat|hit|pinch hit|be up)", "spot"),
    (
        r"(?:in )?(?:the )?(?:bottom|last|home half)(?: half)?(?: of)?(?: the)? (?:ninth|nine|9th|"
        r"last inning|last)(?: inning)?",
        "lasthalf",
    ),
    (r"(?:in )?(?:the )?(?:home ninth|last half inning|last inning)", "lasthalf"),
    (r"(?:with )?the game (?:tied|on the line)|tie game|tied game|tied|all even|score tied", "tied"),
)
"""The last half inning: who should bat."""
SETTING_ASIDE: tuple[str, ...] = (
    r"(?:is it|it is|is this) (?:true|right|so|correct|accurate|"
    r"(?:fair|safe|okay|ok|right|accurate|honest) to (?:say|write|claim|conclude|argue|think))(?: that)?",
    r"(?:check|tell me|say|find out|see|ask|i wonder|wonder|wondering|show me)(?: me)? (?:whether|if)",
    (
        r"(?:i would|i will|i|you could|you can|let me|we) (?:say|think|believe|tell you|argue|"
        r"bet|reckon|guess)(?: you)?(?: this)?(?: that)?"
    ),
    (
        r"(?:let us|lets) talk about it|(?:two strike )?approach(?=,)|i mean|that is(?= ,)|you "
        r"know|mind you|no question|no doubt|without a doubt"
    ),
    (
        r"for my money|in my (?:book|view|opinion)|if you ask me|believe me|make no mistake|"
        r"believe it or not|of course|by far|hands down"
    ),
    (
        r"(?:ladies and gentlemen|folks|partner|my friends|well|look|listen|hey|boy|man oh man|"
        r"wow|say|okay|ok|yes|mister|right now(?! leads)|miss(?=,))(?= )"
    ),
    (
        r"let (?:us )?talk about (?:it|that|this)|(?:nobody|no one) (?:is going to|will|would) "
        r"call (?=<who> an? [^,.:;]*[:;.] )"
    ),
    r"the one(?= who| that)|when it comes to|in terms of|as far as|by the numbers",
    r"at the plate|at a|clip",
    (
        r"or so|or (?:not?|nah)(?=(?: [.?!])| $)|allow(?:s|ing)?|draw(?:s|ing)|inducing|earn(?:s|ing)?|"
        r"collects?|racks? up|gives? up|surrenders?|induces?|generat(?:es?|ing)|(?:he|she|they) (?:sees|"
        r"faces|gets(?! (?:(?:more|fewer|less|the most|the fewest|a) )?hits? ))|(?:does|do)(?= ,|$)|in "
        r"general|as a hitter|as hitters|in the batters box|"
        r"stepping in|young (?:man|lady)"
    ),
    r"(?:far|much|way|even|a lot|lots|a good deal|considerably|significantly|noticeably|"
    r"clearly|slightly|a bit|a little|somewhat)"
    r"(?= <| more| less| fewer| better| worse| higher| lower| harder| greater| larger| smaller| easier)",
)
"""Turns of speech that ask for nothing."""
# fmt: off
FILLERS = frozenset((
    "a", "an", "the", "of", "in", "on", "at", "to", "for", "with", "by", "from", "and", "is", "are",
    "be", "been", "being", "has", "have", "had", "having", "do", "does", "did", "it", "its", "he",
    "she", "they", "him", "her", "his", "their", "them", "we", "us", "you", "i", "me", "my", "your",
    "our", "that", "this", "these", "those", "there", "here", "as", "so", "really", "truly",
    "actually", "simply", "quite", "very", "still", "already", "ever", "hitter", "hitters",
    "batter", "batters", "pitcher", "pitchers", "club", "clubs", "team", "teams", "player",
    "players", "guy", "guys", "man", "woman", "ball", "balls", "pitch", "pitches", "rate", "rates",
    "percentage", "share", "time", "times", "kind", "type", "get", "gets",
    "getting", "got", "gotten", "go", "when", "where", "which", "who", "what", "whom", "into",
    "against", "facing", "versus", "about", "him", "herself", "himself", "hit", "hits", "hitting",
    "bat", "bats", "batting", "make", "makes", "making", "made", "put", "puts", "putting",
    "all", "ones", "thing", "anything", "season", "now", "overall",
    "league", "game", "games", "year", "like", "look", "looks", "gets", "another", "lot", "lots",
    "way", "even", "question", "claim", "check", "please", "rank", "ranks", "ranked",
    "suit", "suits", "approach", "true", "sure", "around", "case", "seem", "seems",
    "bit", "own", "such", "stands", "show", "shows", "showing", "faced", ",", ".", ":", ";", "!",
    "?",
))
# fmt: on
"""Words that change nothing where no phrase has taken them."""
# fmt: off
BARE = frozenset((
    "he", "she", "they", "him", "her", "his", "hers", "it",
))
# fmt: on
"""Somebody who is not named."""


def vocabulary() -> frozenset[str]:
    """Return the words of all tables: what is one of them is not taken for a name by itself."""
    tables = (
        RATES,
        PHRASAL,
        PERS,
        SITUATIONS,
        COMPARING,
        CONNECTED,
        KINDS_OF_CLAIM,
        RESPONDING,
        SPOTS,
        LIMITS,
    )
    texts = [str(row[0]) for table in tables for row in table] + list(SETTING_ASIDE)
    return frozenset(word for text in texts for word in re.findall(r"[a-z]{3,}", text)) | FILLERS


def slot_words() -> frozenset[str]:
    """Return the words of which situations and rates are made: where one stands, something is said."""
    tables = (RATES, PHRASAL, PERS, SITUATIONS, SPOTS, HANDS)
    texts = [str(row[0]) for table in tables for row in table]
    counted = frozenset(("strike", "strikes", "outs", "inning", "innings", "pitches", "left", "right"))
    found = frozenset(word for text in texts for word in re.findall(r"[a-z]{4,}", text))
    return (found - FILLERS - {"over"}) | counted
