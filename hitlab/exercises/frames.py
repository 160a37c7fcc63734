"""Frames of sentences for air: with which neighbours a record, a list or a claim may stand in them.

They are patterns of texts as ``accounting.plainly`` gives them; what lies in none of them is not told right.
"""

from __future__ import annotations

__all__ = ["HARD", "MAY_BE_LUCK", "SELDOM", "among", "asked", "fill", "record", "unbeaten"]

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
    r"(?: just| only| all| pure| partly)*(?: by| down to)? (?:luck|chance|a coincidence)"
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
        what,
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
