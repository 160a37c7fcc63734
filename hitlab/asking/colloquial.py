"""Turns of talk that say what the tables know by a roundabout way, put plainly before anything else is read.

"Gotta be Greta" guesses at who leads, "I'd rather have X than Y" sets X ahead of Y, "everybody and his
brother chases less than X" says that X leads, "the whiffs dry up" that there are fewer. What is only colour
beside a claim is left out, and said to be; every row of :data:`LEFT_OUT` names words that change neither who,
nor what, nor where, nor when.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from hitlab.asking.numbers import MONTHS
from hitlab.asking.phrases import slot_words
from hitlab.asking.sides import everybody, put_sides_plainly
from hitlab.asking.spans import put_days_plainly
from hitlab.asking.text import END, Rows, Text
from hitlab.idle_words import WEIGHTY
from hitlab.spoken import ONES, TENS

__all__ = ["ANY_IDLE", "CARRYING", "WHETHER", "colour", "put_plainly", "restore_g"]

_MONTH = rf"(?:{'|'.join(MONTHS)})"
_HE = r"(?:he|she|they|<who>)"
_TRADE = (slot_words() - {*ONES, *TENS}) | {"lefty", "lefties", "righty", "righties"}
CARRYING = WEIGHTY | _TRADE
"""What dates, limits or turns a claim, and the words of the trade: left out nowhere with what is idle."""


def _none_of(words: Iterable[str]) -> str:
    stems = sorted(word if word.endswith("ss") else word.removesuffix("s") for word in words)
    return rf"(?!(?:{'|'.join(stems)})s?(?![^ ,.;:!?]))[a-z]+"


ANY_IDLE = _none_of(CARRYING)
"""The pattern of any word that carries nothing, in rows that leave open which words they leave out."""
_ANY = _none_of({*_TRADE, *MONTHS})
"""The same in a clause that is about whoever speaks: its nights and days are his."""
_WEEKDAY = "(?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)"
_DROPPED = re.compile(r"[a-z]{3,}in")
_ENDS_IN_IN = frozenset(
    (
        *("again", "begin", "within", "cousin", "margin", "origin", "virgin", "cabin", "basin", "resin"),
        *("robin", "login", "muffin", "pumpkin", "penguin", "vitamin", "violin", "raisin", "satin", "ruin"),
        *("twin", "chin", "spin", "thin", "skin", "grin", "bulletin", "napkin", "dolphin", "coffin", "admin"),
        *("herein", "therein", "javelin", "goblin", "kevin", "martin", "plugin", "built in"),
    )
)

WHETHER = (
    r"(?:(?:am i|are we)(?: (?:all|just|the only one|really))* (?:wrong|crazy|nuts|mad|blind|biased|"
    r"right|lying|dreaming|imagining (?:it|things)|seeing (?:things|ghosts)|making (?:it|this|that) up|"
    r"losing it|fooled|"
    r"(?:fooling|kidding) (?:myself|ourselves)|"
    rf"being {_ANY}(?: by(?: {_ANY}){{1,4}})?)(?: here| about (?:it|that|this))?|"
    r"is (?:it|that|this) (?:(?:all|just|only|really|actually) )*(?:me|us|my imagination|real|for real|legit|"
    r"true|right|fair|accurate|so|correct|luck|noise|chance|a fluke)(?: being [a-z]+)?|real or (?:not|"
    r"luck|noise))"
)
"""What asks whether a claim is so, as every claim is asked."""

LEFT_OUT: tuple[str, ...] = (
    # What asks for assent at the end, and for attention at the beginning.
    r"(?<=[,.?!;:] )(?:y n|yes no|settle (?:it|this)|sounds? (?:right|about right|fair)|fair(?: enough)?|"
    r"correct|agreed?|close|facts?|thoughts|discuss|bet you [a-z]+|(?:do )?you agree|am i close|case closed|"
    r"(?:mark|write) it down|book it|bank it|take it to the bank|put it in ink|check (?:me|it|that)|"
    r"look it up|cross my heart|hand on heart|(?:i )?swear to [a-z]+|i swear|shoot it down|off you go|"
    r"go on|quick|hurry|cheers|ta)(?=(?: [.,?!])* $)",
    r"(?<=^ )(?:eyeballing it|gut feeling|gut check|quick (?:one|q|check|favou?r)|analyst question|"
    r"real quick|straight up|settle (?:a bet|this|it|something)(?: for (?:me|us))?|my theory|theory|"
    r"hang on(?: hang on)?|hear me out|bear with me|riddle me this|help me out(?: here)?|"
    r"one for the (?:desk|stats people))(?= [,:.])",
    # Who does not know why, and says that it is so all the same.
    r"(?<=^ )i (?:do not|could not|can not) (?:know|care|tell|say)(?: you)? (?:if|whether|what|why|how|who)"
    r"(?:(?! <who>) [^ .;:!?]+)*? , but",
    rf"(?<=^ )i (?:(?:would )?have|need|ought) to (?:double )?(?:check|look|ask)(?: {_ANY})* , but",
    # What is said of what is said.
    r"(?<=^ )(?:okay |ok )?(?:so )?before (?:i|we) (?:put|write|say|post|print|send|use) (?:it|that|this)"
    rf"(?: {_ANY})* ,",
    r"(?<=^ )(?:i|we) (?:could|may|might) be (?:wrong|off|mistaken|biased)(?: here| about (?:this|"
    r"it))?(?: ,)? but",
    r"(?:is it|it is) (?:just )?(?:luck|noise|a fluke) or(?= is <who> )|(?<=streak )(?:just |only |all "
    r")*(?:luck|noise)(?= \?)",
    r"(?<=^ )correct me if i am (?:wrong|off|mistaken) ,(?: but)?",
    r"(?<=^ )i (?:love|like|adore|hate) (?:them|him|her|this (?:guy|kid|team))(?: to (?:bits|death|"
    r"pieces))?(?: ,)? but",
    rf"(?<=^ )not that (?:i|we|it)(?: {_ANY}){{1,6}} ,(?: (?:he|she) is my [a-z]+ ,)? but",
    r"(?<=^ )for (?:my|our|the|a) (?:[a-z]+ )?(?:project|homework|class|essay|paper|report|blog|post)(?= "
    r"(?:i|we) )",
    r"(?:hitter|player|batter|man|kid) by (?:hitter|player|batter|man|kid)|, proportionally(?= , than )",
    r"that (?:he|she|they) would have (?:hacked|swung|chased|offered|waved) at"
    rf"(?: (?:in {_MONTH}|before|earlier|back then))?",
    r", would not you (?:say|agree|think)(?= \?)|, just(?= <who> (?:[.!]|$))|a real one(?= ,)",
    # Behind a pause or a rate: "on 1-2 not counts" is no sentence of hers.
    r"(?:, (?:i mean (?:, )?)?|i mean (?:, )?|(?<= rate )|(?<= rates )|(?<= swing ))"
    r"not (?:the )?(?:raw |total |plain )?(?:counts?|totals?|volume)(?= [.,?!]|$| $)",
    r"not (?:just )?(?:a couple of |a few |some )?lucky (?:bounces|hops|hits|breaks)(?= [.,:;])",
    r"my (?:hunch|guess|feeling|bet|theory|gut|read) is(?: that)?",
    r", no(?= \?)|with the bat on (?:the|his|her) shoulder|at least(?= (?:to|against|with|on|when|off|in) )",
    r"(?<=thinking <who> )off the bench|(?:so |but )?talk me out of it|there , i said it|(?<=^ )how is "
    r"(?=<who> (?:with|against|on|in|when|facing) )",
    r"(?:(?:is|gets|turns) (?:he |she )?)?(?:kind of |sort of |a (?:bit|little) )?(?:gun )?shy(?=(?: "
    r"[,.?!])| on )",
    r"(?:(?<= he )|(?<= she )|(?<= they ))just (?=(?:lets?|takes?|spits?|hits?|chases?|swings?) )",
    r"(?:it|this|that) is not just (?:luck|noise|chance|a fluke|bloops?|balls finding holes)(?: , right)?",
    r"(?<=^ )(?:say|think) what (?:you|they) (?:like|want|will) about <who> (?:, )?but",
    r"(?<=^ )(?:(?:the|my|one|here is the) (?:thing|problem|trouble|knock|rap|beauty|issue|story|key|deal)"
    r"(?: (?:about|with|on|of|for))?|what (?:gets|makes|keeps|kills|saves|worries|bothers|amazes|strikes)"
    r"(?: me| us)?(?: about)?)(?: <who>)?(?: (?:in|into) trouble)? is(?: that)?(?= (?:<who>|he|she|they|"
    r"the) )",
    r"(?<=^ )there was (?:that|this|a) (?:fortnight|week|month|stretch|spell|run)"
    rf"(?= , [^,]*{_MONTH} )",
    rf"(?:true )?or {WHETHER}{END}",
    r", what(?= ,)|(?<=, )(?:just|purely|strictly) (?=(?:on|in|for|at) [^,.;:?<]{3,25} :)",
    r"in (?:the|this|our) (?:data|dataset|table)|(?:percentage|rate|numbers?|stats?) wise",
    r"(?<= )and (?:they|we|you) (?:still|keep|always) (?:bat|batting|hit|hitting) (?:him|her) "
    r"[a-z]+(?=(?: [,.?!])| $)",
    r"(?<=^ )(?:i|we) (?:hate|would hate|love|am sorry|am loath) to "
    r"(?:say|admit|tell you|break it to you)(?: (?:it|this|that))?"
    r"(?: ,)?(?: but)?",
    # Everybody knows it.
    r"(?:everybody|everyone|the whole (?:park|yard|town|"
    r"building|league)|they all) (?:(?:in|around) (?:the|this) "
    r"(?:yard|park|ballpark|building|stadium|house|place|stands|dugout|booth) )?knows(?: that| it)?"
    r"(?= (?:<who>|,|\.|$))",
    r"or am i (?:just )?making (?:that|this|it) up|to save (?:his|her|their) (?:life|lives)",
    # How the swing looks: no pitch is counted by it.
    rf"(?<= ){_HE} (?:shortens|chokes) up(?: on (?:it|the bat))?(?= [,.;]| and)",
    r"(?<!not )yet(?= (?:or what|\?)| $)",
    r"out of (?:his|her|their) shoes|from (?:his|her|their) heels",
    # More than anybody can count, which is how much and not than whom.
    r"than (?:i|you|we) (?:can|could) (?:count|keep track of|remember)(?=(?: [,.?!;:])| $| and | but )",
    r"(?:stinking|freaking|blessed|blasted|lousy|flipping|single)(?= (?:time|game|night|pitch|swing|at) )",
    r"(?<=\. )every \. (?:single \. )?time(?= [.!]|$)",
)
"""Colour: left out, and said to be left out."""

_WORN = r"(?:uniform|jersey|shirt|colou?r)s?"
PLAIN: Rows = (
    (r"(?<=^ )(?:rank|list|sort|order|name)(?: me)? (?=(?:the )?top )", ""),
    (rf"(?:in|wearing) (?:an? |the )?(?=<who> {_WORN} )", "on the "),
    (rf"(?<=<who> ){_WORN}", ""),
    # Whom one would rather face is the lesser hitter.
    (
        r"(?:i|we|you|they) would (?:much )?(?:sooner|rather) (?:(?:pitch|throw) to|face) "
        r"(?=<who> than (?:to )?<who> )",
        "ratherface",
    ),
    (r"(?<=ratherface <who> )than(?: to)?", "is a worse hitter than"),
    (r"ratherface", ""),
    (r"who would (?:you|we|i) (?:much )?(?:sooner|rather) (?:(?:pitch|throw) to|face)", "who is worse"),
    (r"thru", "through"),
    (r"ppl", "hitters"),
    (r"ya", "you"),
    (r"gimme", "give me"),
    (r"would had", "had"),
    (
        r"would i be (?:wrong|right|lying|crazy|out of line|off) (?:to|in|if i) (?:say|saying|think|"
        r"thinking|claim|said)"
        r"(?: that)?",
        "",
    ),
    (r"(?<!hard )hit rate", "batting average"),
    (r"counted (?=per )", ""),
    (
        r"(?:provided|as long as|when|if)(?: that)? the (?:batter|hitter) (?:is )?(?:a )?(left|"
        r"right)(?:y| handed)",
        r"against \1 handed hitters",
    ),
    (
        r"everything (?:he|she) (?:is|has|puts) (?:put |putting )?in play (?:lately |right now )?(?:has "
        r"been|is|gets) "
        r"(?:scorched|smoked|crushed|hammered|hit hard)",
        "hits it hard per ball in play lately",
    ),
    (r"(?:get|gets|getting) left alone", "takes"),
    (r"(?:the )?same on (?:a|his|her) good day as on (?:a|his|her) bad (?:one|day)", "steady"),
    (r"(?:the )?free swingers (?=(?:also|tend) )", "hitters who swing all the time also "),
    (r"(?:just plain|just|plain|simply) (?=not (?:swinging|missing|chasing) )", ""),
    (
        r"(?:a (?:new|changed|different) (?:man|woman|guy|player|kid)|(?<=been )(?:somebody|someone) else)"
        r"(?: up there)?",
        "a different hitter",
    ),
    (
        rf"(?<=^ )({_MONTH} (?:the )?[a-z0-9]+) [.,:;] (?:(?:write|mark|remember|note) (?:that|it|the "
        rf"date)(?: down)? , )?"
        r"(?:because )?(?:from|since) (?:that day|then|that point)(?: on)?(?: forward)?",
        r"since \1",
    ),
    (
        r"(?:just )?(swings?|swinging) at (?:a ton |a lot |way )?(more|fewer|less) (?:stuff|things)(?= "
        r"[,.?!]|$| $)",
        r"\1 \2",
    ),
    (r"(?<=who )hit it (?:the )?hardest", "hit it hard more"),
    (r"(let|lets|letting) everything (go by|go|pass)", r"\1 it go by all the time"),
    (r"[a-z]+ (?:bats|hitters|guys) , (?:the )?ones (?:that|who)", "hitters who"),
    (r"(?:(?<=<who> )|(?<=is )|(?<=been ))on one(?= (?:[,.?!]|with|right now|lately) )", "on a tear"),
    (r"([a-z]+) , (?:and )?(?:i mean )?(?:only|just) \1(?= ,)", r"\1"),
    (
        r"(?:(?<=^ )|(?<=, ))(?:does|do) (?:it|that|this) (?:hold up|hold|stand up|check out|hold water|"
        r"add up)"
        r"(?: league wide| across the league)?(?: that)?(?= (?:the|hitters|guys|<who>) )",
        "",
    ),
    (
        r"are (?:usually |often |generally |also )?(?:the|those) (?:very )?(?:same )?"
        r"(?:guys|ones|hitters|batters|kids|players|people) (?:who|that)",
        "also",
    ),
    (r"(?:would|do|could) (?:you|we|i) put (?=<who> (?:in|among) )", "is "),
    (r"(?:base )?knocks", "hits"),
    (r"(hits|whiffs|misses|fouls|contact) per trip", r"\1 per plate appearance"),
    (r"then(?= than )", ""),
    (
        r"(?:you|u|we) (?:will|can|do) not (?:see|catch) (?:him|her|<who>) (?=(?:swing|miss|whiff|"
        r"chas)[a-z]* )",
        "he does not ",
    ),
    (
        r"(swing through|miss|whiff on|whiff|missing|whiffing) (?:another(?: one)?|a second one|again)"
        r"(?: (?:in )?(?:that|the)(?: same)? (?:at bat|plate appearance))?",
        r"\1 the next one",
    ),
    (r"who (?:i|we) would (?:pinch hit|send up|bat|bring up|use)(?= )", "who should bat"),
    (r"i am thinking (?:about )?(?=<who>(?: ,| but| [.?!]|$| $))", "send up "),
    (r"of (?:all|the) (?:\d+|hundred and fifty)(?: of)?(?: them| hitters)(?= )", "in the league"),
    (r"(?<= )(?:it|that) is (?=<who> who )", ""),
    (r"for every swing(?: (?:he|she|they) takes?)?", "per swing"),
    (
        r"(?:(?<=he )|(?<=they )|(?<=<who> ))(?:offers?|hacks?|cuts?|waves?) at(?=(?: [,.;:?!])| "
        r"$)",
        "swings at",
    ),
    (r"(?:the )?same <who> every (?:single )?(?:day|night|game|week|time)", "steady in"),
    (
        r"(?:, )?(?:versus|vs|as opposed to|compared (?:to|with)) (?=(?:with )?(?:nobody|no one|none) on "
        r"|(?:the )?bases empty )",
        "than with ",
    ),
    (r"(?:you|we) will (?:see|watch) (?=<who> )", "going to "),
    (
        r"(?<=^ )(?:what if i told you(?: that)?|(?:i|we) (?:am|are|do) not (?:sure|certain|"
        r"know) (?:if|whether)|(?:do|would) not you (?:say|think|agree)(?: that)?)",
        "",
    ),
    (r"(?<=^ )if i (?:told|tell) (?:you|them)(?: that)?(?=.* , would (?:i|you|that) )", ""),
    (
        r", would (?:i be (?:lying|wrong|right|far off|out of line|crazy)|you (?:believe|buy) (?:it|me|that)|"
        r"that be (?:right|fair|wrong|true|a lie))(?: to [^,.;:?<]*)?(?= \?| $)",
        "",
    ),
    (r"(?<=^ )(?:would|do|can|could|should) (?:you|we|i) (?:call|consider|label) (?=<who> )", "is "),
    (r"(?<=^ )(?:just )?(?:watch|look at|check out|keep an eye on) (?=<who> )", ""),
    (r"(?:likelier|more (?:apt|prone|inclined)) to", "more likely to"),
    (r"(puts?|putting|hits?|hitting) the (?:thing|pill|rock|apple)(?= )", r"\1 it"),
    (r"than (?:his|her|their) usual(?: (?:self|rate|number))?", "than otherwise"),
    (r"than (?:he|she|they|it) (?:otherwise|normally|usually) (?:would|does|do)", "than otherwise"),
    (r"same (?:amount|number|rate|share) of (?=(?:hard|contact|whiffs|chases|swings|fouls) )", "steady in "),
    (
        # Only of what is the same on each: elsewhere the days would limit the claim.
        rf"(steady in(?: [^ ,.;:]+){{1,3}}?) (?:(?:on|from) )?(?:a )?{_WEEKDAY}s?"
        rf"(?: (?:as|and|or|to|through)(?: (?:on|a|the|next))* {_WEEKDAY}s?(?: after)?)+",
        r"\1",
    ),
    (
        r"(?:you|we) will (?:wait|be waiting) (?:(?:all (?:night|day)|forever|a (?:long )?while) )?for "
        r"(him|her|<who>) to (?=(?:miss|chase|whiff) )",
        "he does not ",
    ),
    (r"or (?:near|close) enough (?:quit|stopped)", ""),
    (r"yr", "year"),
    (r"(?<!i )(?<!you )(?<!we )(?:gotta|got to) be", "has to be"),
    # A situation.
    (r"(?:less|fewer) than (?:two|2) (?:outs?|down|away)", "nobody or one man out"),
    *(
        (rf"(?:with |on |at )?{ball} balls? (?:and |, )?{strike} strikes?", f"on {n}-{m} counts")
        for n, ball in enumerate(("(?:no|zero)", "one", "two", "three"))
        for m, strike in enumerate(("(?:no|zero)", "one", "two"))
    ),
    *(
        (
            rf"(?:(?<=^ ){ball} and {strike}(?: count)?(?= [.,:])"
            rf"|(?<=, ){ball} and {strike}(?: count)?(?= [.!?]| $))",
            f"on {n}-{m} counts",
        )
        for n, ball in enumerate(("(?:oh|zero)", "one", "two", "three"))
        for m, strike in enumerate(("(?:oh|zero)", "one", "two"))
    ),
    (r"next pitch (?=after )", ""),
    (r"wav(?:es?|ing|ed) at (?:everything|anything)", "misses all the time"),
    (
        r"wav(?:es?|ing|ed) at (?=(?:the |a |an |any )?(?:fast|"
        r"heat|slid|curv|break|chang|off|high|low|spin|first))",
        "misses on ",
    ),
    (r"(?:the )?bat on (?:the )?(?:ball|it)", "contact"),
    (r"(he|she|they) will (?=(?:[a-z]+ ){1,6}(?:all day|all night|every time|till midnight)(?= ))", r"\1 "),
    (
        r"(?:swings?|swinging|hacks?|hacking) at (?:just about |damn near )?anything(?=(?: [,.?!])| $)",
        "undisciplined",
    ),
    # Less of it, and more.
    (
        r"(?<!never )(?<!not )(?:has |have )?(?:stops|stopped|quits?) (?=(?:missing|"
        r"whiffing|chasing|swinging|striking|fouling|going after (?:bad |lousy )?balls)(?: out)?"
        r"(?:(?: [,.?!])| $| (?:with|against|on|since|when|at)))",
        "less ",
    ),
    # By how much is not asked, and so "twice" stays and is asked back.
    (
        r"(?:(?<=whiffs )|(?<=rate )|(?<=strikeouts ))(?:(?:has|have|has been) )?(?:doubled|tripled)",
        "is risen twice",
    ),
    (
        r"(?:(?<=whiffs )|(?<=rate )|(?<=strikeouts )|(?<=chases )|(?<=contact ))(?:\? |, )?"
        r"(?:(?:is|are|was|were|has been|have been) )?(?:cut in half|halved|sliced in half)",
        "is fallen twice",
    ),
    (r"(?<=whiffs )(?:is|are) (?:way |right |well )down", "is fallen"),
    (
        r"(?<=whiffs )(?:just |simply |all but |pretty much |"
        r"kind of )?(?:disappears?|vanish(?:es)?|dr(?:y|ies) up|"
        r"goes? away|evaporates?|melts? away)(?=(?: [,.?!;:])|"
        r" $| (?:with|against|on|when|for|for him|for her) )",
        "is fallen",
    ),
    (
        r"(?:squar(?:es?|ed|ing) up|barrel(?:s|ed|ing)?(?: up)?) (more|fewer|less|the most|"
        r"the fewest) (?:balls|pitches)(?= (?!in |on |away|inside|outside|up |down ))",
        r"squares it up \1",
    ),
    # Who leads, and who is guessed at.
    (r"(?:the )?best (?:bat|hitter|stick|man|woman)(?= (?:in|on|of) (?:the )?<who> )", "who is best"),
    (
        r"(?:(?:give|show|get) me )?(?:the )?(?:league )?leaders? (?:for|in|at|when it comes to)(?= )",
        "leads in",
    ),
    (
        r"(?:not (?:a )?single|not one(?: of the)?|not (?:a|another)) "
        r"(?=<who> (?:swings?|miss|chas|whiff|hits?|makes?|puts?"
        r"|takes?|strikes?|fouls?|walks?)[a-z]* )",
        "nobody among the ",
    ),
    (r"(whiff|contact|chase|swing|foul|strikeout|walk|hard contact|hard hit) leaders?(?= )", r"leads in \1"),
    (r"(?:(?:give|show|find|get) me )(?:the )?(?:guy|man|woman|kid|bat|one|gal|dude) (?:who|that)", "who"),
    (r"(?:the )?(?:toughest|hardest) strikeout", "least often strikes out"),
    (r"who should (?:i|we|you) (?:pinch hit with|go with|use)", "who should bat"),
    (r"(puts?|putting) (more|fewer|less|the most|the fewest) balls in play", r"\1 it in play \2"),
    (
        r"(hits?|hitting) everything (?=(?:on the (?:screws|nose|button|barrel)|hard|squarely|solidly) )",
        r"\1 it ",
    ),
    (
        r"(?:show|give|tell|list|name)(?: me)? the (two|three|four|"
        r"five|six|seven|eight|nine|ten|\d+) (?=<who> (?:who|that) )",
        r"top \1 ",
    ),
    (r"(hardest|toughest|easiest) (?:guy|man|woman|bat|kid)(?= (?:on|in|of|to) )", r"\1 hitter"),
    (
        r"(?:we|they|i|you) (?:should|ought to|have to|need to) "
        r"(?:pinch hit|send up|go with|bat)(?: with)? (?=<who>)",
        "send up ",
    ),
    (r"what (?:i|we) (?:see|saw|notice|hear|like) is (?=<who>)|between you and (?:me|i)(?= ,)", ""),
    # Two of whom one is preferred.
    (r"who would (?:you|we|i) (?:rather|sooner) have", "who is better"),
    (r"(?<=<who> )on (?=(?:contact|whiff|swing|chase|in play|hard hit) (?:rate|percentage) )", "in "),
    (r"(?<!if )all (?:i|we|you) (?:need|want) (?:here |right now )?is", "for"),
    (r"if (?:all )?(?:you|i|we) (?:need|want|care about)(?: is)?", "for"),
    (r"any day (?:of the week )?(?=(?:for|with|against|on|when) )", ""),
    (r"(?<=<who> )more than(?= <who> (?!(?:does|do|is|has|did) ))", "over"),
    (r"(?<=<who> )is no(?= <who>)", "no"),
    # Somebody is steady, or is not.
    (r"(?:you (?:can|could|may) )?set (?:your|a|the) (?:watch|clock) (?:by|to)", "steady in"),
    (r"(?:the )?same (?:old|ol)(?= <who> (?::|, [a-z]+ing) )", "sameold"),
    (r"(?:the )?same (?:old|ol)(?= <who>)", "steady"),
    (r"(?:has |is )?(?:been )?a rock(?= [.,!]| $)", "steady"),
    (
        r"(?:the )?same (?=(?:whiff|contact|chase|swing|miss|foul) (?:number|rate|percentage)(?! as))",
        "steady in ",
    ),
    (
        r"up and down(?: all (?:year|season)(?: long)?)?(?: (?:and up and down "
        r")?like a (?:yo yo|yo|roller ?coaster|seesaw|elevator)?)?(?= ,|$| $| \.)"
        r"|all over the (?:place|map)|hot one (?:week|day|night) and cold the next",
        "is not steady",
    ),
    (
        rf"(?<=^ )({_MONTH}) (?:was|is) the only (?:good |decent )?month(?: (?:that|where|when|in which))?",
        r"in \1 only",
    ),
    (
        r"(?<=rate )(?:sitting|running|hovering|hanging|"
        r"hanging out) (?:right )?(?=(?:around|about|at|near) )",
        "is ",
    ),
    (r"(?:tak(?:es?|ing|en)|took) (?:one|two|three) strikes(?= )", "takes countedstrikes"),
    (
        r"tak(?:es?|ing) (too many |so many |a lot of |more |fewer )?strikes(?! more| less)",
        r"takes \1pitches in the zone",
    ),
    (r"tak(?:es?|ing) (?:strike one|the first strike)", "takes the first pitch calledstrike"),
    # Days.
    (r"(?<=, )(last|past) (?=[a-z0-9]+ (?:days|weeks|games|months))", r"the \1 "),
    (
        r"(?<=since )(?:he|she|they|<who>) (?:came back|changed "
        r"(?:his|her|their) (?:stance|swing|grip|approach)|got back|"
        rf"returned|came off [a-z ]{{2,20}}?|joined (?:us|them))"
        rf"(?: on| in)?(?= (?:the )?(?:{_MONTH}|[a-z0-9]+ of {_MONTH}))",
        "",
    ),
    # Who it is like.
    (
        r"(?:a (?:whole )?(?:nother|different|other) |another )(?:animal|beast|breed|story|cat)",
        "a different hitter",
    ),
    (r"(?<=^ )(?:is|are|does|do|has) not (?=<who> [^?]*\?)", ""),
    (
        r"(?<=<who> )(?:right )?(?:about|around|near) (?:the )?league average(?: (?:at|in|for|on))?",
        "as the league",
    ),
)
"""Other ways to say it, put plainly."""


_OTHER_SEASONS = r"(?:has|have|did|does|do|could|would|will|was)"
_DENIALS = " (?:not|never|nobody(?! on| out| aboard)) "


def colour(text: Text) -> None:
    """Leave out what is only colour beside a claim."""
    for pattern in LEFT_OUT:
        text.leave(pattern)
    # "Never could" goes on with what is denied, and denies what is not.
    for word in ("always", "never"):
        went_on = rf"(?<=[.!,;] ){word} {_OTHER_SEASONS}{END}"
        before = re.split(rf"(?<= ){went_on}", text.line())[0]
        if (re.search(_DENIALS, before) is not None) == (word == "never"):
            text.leave(went_on)


def _said_average(text: Text) -> None:
    """Take "league average is what, 38? He's below that" for less than the league, whatever the number is."""
    told = r"(?:the )?league average is (?:(?:what|about|around|like|at|,) )*\d+ ?%?(?: percent)? [?.,]"
    under, above = "(?:below|under)", "(?:above|over)"
    stands = rf"(?:way |well |far |just )?(?:{under}|{above}) (?:that|it){END}"
    if re.search(rf"^ {told} .*(?<= ){stands}", text.line()) is None:
        return
    text.leave(rf"(?<=^ ){told}")
    for side, than in ((under, "less than the league"), (above, "more than the league")):
        text.reword(rf"(?:way |well |far |just )?{side} (?:that|it){END}", than)
        text.leave(rf"(?<=than the league \. )(?:way|well|far|just) {side}{END}")


def restore_g(text: Text) -> None:
    """Give a verb the end that talk drops: missin."""
    for word in text.words:
        if (
            _DROPPED.fullmatch(word.text)
            and not word.text.endswith("ain")
            and word.text not in _ENDS_IN_IN
            and text.said[word.at][:1].islower()
        ):
            text.respell(word, f"{word.text}g")


def put_plainly(text: Text) -> None:
    """Put turns of talk into the words that the tables know."""
    restore_g(text)
    put_days_plainly(text)
    put_sides_plainly(text)
    everybody(text)
    _said_average(text)
    text.reword_all(PLAIN)
