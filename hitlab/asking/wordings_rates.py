"""Other ways to say what is done: rates in the words of the trade's tables."""

from __future__ import annotations

from hitlab.asking.text import Rows

__all__ = ["ALOT", "RATES"]

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
)

ALOT = (
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
