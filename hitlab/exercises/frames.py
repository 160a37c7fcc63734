"""Frames of sentences for air: with which neighbours a record, a list or a claim may stand in them.

They are patterns of texts as ``accounting.plainly`` gives them; what lies in none of them is not told right.
"""

from __future__ import annotations

import re

__all__ = [
    "HARD",
    "MAY_BE_LUCK",
    "SELDOM",
    "ahead",
    "among",
    "asked",
    "fill",
    "higher_share",
    "most_often",
    "record",
    "unbeaten",
    "words_of",
]

HARD = r"(?:hits? |hitting |struck )?hard(?: hit)?(?: (?:hits?|balls?|contact|rates?|ones))?"
"""Hard-hit balls."""

SELDOM = (
    r"(?:(?:would|could|will|does|do|can) )?(?:hardly(?: ever)?|(?:almost|practically|virtually|nearly) "
    r"never|"
    r"never(?: once)?|(?:very |only )?(?:rarely|seldom))(?: ever)?"
)
"""That something hardly happens."""
MAY_BE_LUCK = (
    r"(?:luck|chance)(?: alone)? (?:may|might|could|can)(?: well| easily| perhaps)? (?:explain|account for|"
    r"be behind|do|"
    r"have done|make) (?:it|that|this|all of it|such a (?:gap|record))|"
    r"(?:that|it|this|which) (?:may|might|could|can)(?: well| easily| perhaps| still)? (?:happen|come "
    r"about|come|be|have been)"
    r"(?: just| only| all| pure| partly| nothing but| no more than)*(?: by| down to)? (?:luck|"
    r"chance|a coincidence)|"
    r"(?:luck|chance) (?:may|might|could)(?: well)? be (?:all (?:of it|there is to it|that it is)|"
    r"behind (?:it|that|this))"
)
"""That luck may be all of it: only where that is open."""

_OWN = r"(?:all )?(?:of )?(?:(?:the|her|his|their|those|<[ab]> 's) )?(?:first |opening )?"
_ONLY = r"(?:(?:only|just) )?"
_GROUP = (
    r"(?:qualified |qualifying |regular |other |of the |of our )?"
    r"(?:hitters|regulars|qualifiers|others|women|men)"
)


def fill(words: str) -> str:
    """Return the pattern of a run of these words, in any order, or of none.

    Parameters
    ----------
    words
        With blanks between them; each may be a pattern.
    """
    return rf"(?: (?:{'|'.join(words.split())}))*"


def record(part: int, of: int, unit: str, what: str) -> tuple[str, ...]:
    """Return the frames of a record, so many of so many.

    Parameters
    ----------
    part, of
        The two numbers.
    unit, what
        Patterns of what is divided by, and of what was counted.
    """
    ends = r"(?= (?:,|and|but|is|was|were|against|to|puts?|hard (?:,|and|but|in|is))\s)"
    whole = rf"{_OWN}{of}(?: {unit}\b|{ends})"
    verb = r"(?:were |was |went |have been |has been |that were |with )*"
    return (
        rf"{_ONLY}{part}(?: {what})? (?:in|of|out of|for|from|on) {whole}(?: {verb}{what})?",
        rf"{_ONLY}{part} (?:balls|times) (?:{what} )?(?:in|of|out of|on) {_OWN}{of} {unit}",
        rf"(?:after )?{of} {unit} , (?:and )?{part} (?:of (?:them|those|which) )?{verb}{what}",
        rf"(?:of|in|on|with|over) {_OWN}{of} {unit}(?: by <[ab]>)?(?: ,)? (?:<[ab]> |she |he )?"
        rf"(?:has |have |hit |sent |met |missed )*{_ONLY}{part} (?:balls )?(?:{verb}{what}|of them)",
        rf"{part}(?: (?:times|such|of the|of her|of his|{'|'.join(sorted(words_of(what)))}))* (?:in|of|"
        rf"out of|from|on|over)"
        rf" {_OWN}{of}(?: {unit}\b(?: {verb}{what})?|(?= [^\W\d]))",
        # Whatever stands between two numbers of one record has to be known itself.
        rf"(?P<part>{part})(?: [a-z'<>]+){{0,4}} (?:in|of|out of|from|on|over|for)(?: "
        rf"[a-z']+){{0,2}} (?P<of>{of})",
        rf"(?P<of>{of}) {unit}(?: [a-z'<>]+| ,){{0,6}} (?P<part>{part})",
        what,
    )


def words_of(*patterns: str) -> frozenset[str]:
    """Return the words that stand in patterns."""
    return frozenset(word for one in patterns for word in re.findall(r"(?<![\\\w])[a-z]{2,}", one))


_AMOUNT = r"(?:(?:an? )?(?:(?:slightly|somewhat|far|much|little) )?(?:higher|larger|bigger|greater)|more)"
_BETTER = rf"(?:{_AMOUNT}|an? better)"  # of a rate alone
_SHARE_OF = r"(?:rate|rates|share|shares|percentage|proportion|record|mark|figure)"
_DOES = "on has have had is was are hits hit makes made does did do gets got it them so that the of her his"


def higher_share(first: str, second: str, what: str) -> tuple[str, ...]:
    """Return the frames in which one has the higher rate by the record, and the other the lower one.

    Parameters
    ----------
    first, second
        Patterns of who is ahead and of who is behind.
    what
        Words of what was counted, with blanks between them; each may be a pattern.
    """
    of_it = rf"{_SHARE_OF}(?: (?:of|per|in|swing|{'|'.join(what.split())}))*"
    lower = r"(?:(?:an? )?(?:(?:slightly|somewhat|far|much) )?(?:lower|smaller))"
    return (
        rf"(?:{first})(?: (?:has|had|with|shows|'s|is|was))* {_AMOUNT}(?: "
        rf"(?:{'|'.join(what.split())}))* {of_it}"
        rf" than (?:{second})(?: 's| has| had| does)?",
        rf"(?:{second})(?: (?:has|had|with|shows|'s|is|was))* {lower}(?: "
        rf"(?:{'|'.join(what.split())}))* {of_it}"
        rf" than (?:{first})(?: 's| has| had| does)?",
    )


def ahead(first: str, second: str, what: str, counted: str) -> tuple[str, ...]:
    """Return the frames in which one is ahead of another by the record, whichever way it is said.

    Parameters
    ----------
    first, second, what
        As there; what both do stands among the words of ``what`` as well.
    counted
        Pattern of what the one has more of: "more swings" tells of no rate.
    """
    does = rf"(?: (?:{'|'.join(_DOES.split())}|{'|'.join(what.split())}))*"
    stands = r"(?: (?:is|are|stands?|ranks?|sits?|comes?|finish(?:es)?|lies?|only|just|still|all))*"
    than = rf"(?: than (?:{second})(?: does| did| has| had| 's)?)?"
    return (
        *higher_share(first, second, what),
        rf"(?:{first}){does} {_AMOUNT}(?={does} (?:{counted})\b){does}"
        rf" than (?:{second})(?: does| did| has| had| 's)?",
        rf"(?:{first}){does} (?:more often|better)(?: (?:{'|'.join(what.split())}))*{than}",
        rf"(?:{second}){does} less often than (?:{first})(?: does| did)?",
        rf"(?:{first}){stands} (?:ahead of|above|in front of|before) (?:{second})",
        rf"(?:{second}){stands} (?:behind|below|after) (?:{first})",
        rf"(?:{first}) (?:beats?|outdo(?:es)?|leads?|tops?) (?:{second})|(?:{second}) trails (?:{first})",
    )


def most_often(does: str, among: str) -> tuple[str, ...]:
    """Return the frames of a record that leads.

    Parameters
    ----------
    does
        Words of what was done and counted.
    among
        Words of who is compared, numbers among them.
    """
    of_them = (
        rf"(?: (?:of|on|in|among|with|who|have|has|at|least|or|more|the|our|{'|'.join(among.split())}))*"
    )
    doing = rf"(?: (?:{'|'.join(_DOES.split())}|{'|'.join(does.split())}|per|swing|a))*"
    every = r"(?:anybody|anyone|any|all|every|everybody|everyone|the)(?: (?:other|others|else|rest|one))*"
    return (
        rf"(?:the )?most often(?: of| among)?{of_them}",
        rf"more often(?: per swing)? than {every}{of_them}",
        rf"(?:has|had|with|holds|is|of|by) the (?:highest|largest|biggest|best|top) {_SHARE_OF}{doing}"
        rf"(?: so far)?{of_them}",
        rf"(?:nobody|no one|none|no(?: other)? (?:hitter|regular|qualifier)s?)(?: else)?{of_them}{doing}"
        rf"(?: more)?(?:(?: {_BETTER})? {_SHARE_OF}| {_AMOUNT})?{doing}(?: more)?(?: often)?(?: per swing)? "
        rf"than <a>(?: does| did| 's)?",
        rf"(?:tops|heads|leads|is (?:first|at the top|on top|number one) (?:on|of)) (?:the|our) "
        rf"(?:list|table|ranking)"
        rf"{of_them}",
    )


def among(hitters: int, minimum: int) -> tuple[str, ...]:
    """Return the frames of who is on a list: how many they are, with how many swings at least.

    Parameters
    ----------
    hitters, minimum
        The two numbers.
    """
    these = r"(?:(?:all|the|our|these|those|of|league|this|'s|other) )*"
    enough = r"(?:(?:at least|a minimum of|minimum|no fewer than) )?"
    return (
        rf"(?:among|of|out of|from|in|on|to|over|leads|by) {these}(?:{hitters}|{hitters - 1})"
        rf"(?: {_GROUP}(?: on (?:the|our) list)?| (?=,|who|with|that))",
        rf"{these}(?:{hitters} )?{_GROUP}",
        rf"(?:with|at|of|who have|have|having|took|taking|had|who took|who had) {enough}{minimum}"
        rf"(?: or more| plus)? swings(?: (?:or|and) (?:more|up))?",
        rf"{enough}{minimum}(?: or more)? swings(?: (?:or|and) (?:more|up)| minimum)?",
        rf"(?:swung )?(?:at least|minimum) {minimum}(?: times)?(?= ,| have| has)",
        rf"(?:all|those|hitters|everybody|of them|any) (?:who|that) (?:have |has )?(?:swung|took|"
        rf"taken) {enough}{minimum}"
        rf"(?: or more| plus)?(?: times| swings)",
        rf"(?:on|of|in) (?:the|our|this) list of (?:all )?{hitters}|{these}(?:{hitters} )?{_GROUP} "
        rf"(?:that )?(?:we|you) "
        rf"(?:listed|compared|looked at|have)",
        rf"{hitters}(?: {_GROUP})?(?: who were| that were)? (?:listed|compared|on (?:the|our) list)",
    )


def unbeaten(where: str) -> str:
    """Return the frame of a record that nobody has beaten.

    Parameters
    ----------
    where
        What may stand between nobody and the record: the group, what was counted, of how many.
    """
    between = (
        rf"(?: (?:{'|'.join(where.split())}|has|have|hits?|had|made|a|of|the|so|far|per|swings?|rate|share))*"
    )
    more = r"(?:higher|larger|more(?: often)?)"
    nobody = r"(?:nobody|no one|none|no(?: other)? (?:hitter|regular|qualifier)s?)(?: else)?"
    often = (
        r"(?:makes? contact|meets? the ball|connects?|touch(?:es)? the ball|hits? it hard|has hit it hard)"
    )
    return (
        rf"{nobody}{between} {more}{between} than (?:<a>|she does|hers)|{nobody}{between} {often} more "
        r"often than <a>|"
        rf"{nobody}{between} beats <a>(?: 's)?"
    )


def asked(claim: str) -> tuple[str, ...]:
    """Return the frames in which a claim is asked about, or doubted.

    Parameters
    ----------
    claim
        Its pattern, without who it is said of.
    """
    who = r"(?:<[ab]>|she|he|it|that|this|her|him|anybody|anyone|somebody)"
    true = r"(?:(?:is|'s|was|has been|be|being|of being|to be|as|really|truly|still|in fact) )*"
    return (
        rf"(?:whether|if|that|chance|likely|say|of|call|calling|about)(?: {who})? {true}(?:{claim})",
        rf"(?:who|which)(?: (?:one|of them|of the two|hitter))* {true}(?:{claim})",
    )
