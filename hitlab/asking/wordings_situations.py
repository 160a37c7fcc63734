"""Other ways to say where and when: situations, what follows a miss, the last half inning."""

from __future__ import annotations

from hitlab.asking.text import Rows

__all__ = ["REST", "SITUATIONS"]

_HE = r"(?:he|she|they|it|<who>)"

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
    (
        r"(?:down|back|backed up|pinned) (?:to|with|against the wall with) (?:her |"
        r"his )?(?:last|final) strike|(?:on|with) (?:his|her|the) last strike",
        "with two strikes",
    ),
    (
        r"(?:bases|bags|sacks) (?:are )?(?:juiced|packed|jammed|chock full|crammed|drunk|full|"
        r"loaded)",
        "bases loaded",
    ),
    (
        r"(?:bases|bags|sacks) (?:are )?(?:empty|clear|clean|clean as a whistle)|(?:with |"
        r"and )?no (?:one|body|runners?|men) (?:on|aboard)(?: base|(?! (?:the|this|that|my|our|his|her|their|"
        r"any) ))|(?:with |and )?(?:nobody|no one) (?:aboard|on the bases)",
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
    (
        r"(?:cheese|gas|smoke|hard stuff|number ones|high velocity|velocity|velo|fast ones|"
        r"(?<!in the )(?<!in this )(?<!in that )(?<!in such )heat|"
        r"heaters?|fast balls?)(?= )",
        "fastballs",
    ),
    (r"(?:soft stuff|slow stuff|slow pitches|soft pitches|slow balls?|soft serve)", "offspeed pitches"),
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
    (r"two gone|two out|two down|two away|2 away|2 down|2 out|2 outs", "two outs"),
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
    (r"bottom of the 9(?= )", "bottom of the ninth"),
)
