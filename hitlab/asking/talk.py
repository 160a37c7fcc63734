"""What is said beside a claim and changes nothing of it, and what turns it round.

A clause of its own such as "mark it down" or "I'd bet the farm, the tractor and both the cows" is left out,
and said to be: the rows are read over a whole clause, so that none of them takes a word of the claim with it.
Mockery ("tell me again how", "oh sure", "yeah right") says the opposite of its words, or may: asked back.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

from hitlab.names import fold

__all__ = ["common_talk", "mocking"]

_AND = r"(?:and |but |so |well |man |yeah |oh )?"
_ME = r"(?:me|us)"
_CLAUSES = (
    # Beyond doubt.
    r"(?:you can |go ahead and )?(?:mark|write|jot|put) (?:it|that|this) (?:down|in the book|in ink)",
    r"(?:you can )?(?:take (?:it|that) to the bank|bank on (?:it|"
    r"that)|book it|count on it|bet on it|bet the house on it)",
    r"(?:i would|id|ill|i will|you can|ya can|wanna|want to)? "
    r"?bet(?: you)?(?: (?:on it|the (?:farm|house|ranch)|my [a-z]+"
    r"(?: on it)?|money|anything|it all))?",
    r"(?:thats |that is |its |it is )?(?:a )?facts?|period|full stop|"
    r"end of(?: story| discussion)?|case closed|no cap|no debate|"
    r"real talk|straight facts|fr|frfr|on god|ong|deadass|iykyk",
    r"(?:believe|trust) (?:you )?me|believe it(?: or not)?|can you "
    r"believe (?:it|that)|i kid you not|no joke|swear to god|i swear",
    r"(?:it|this|that)? ?(?:sure |just |really )?(?:feels|seems|"
    r"looks|sounds) (?:like it|that way|so|right)(?: to me)?",
    r"(?:plain and simple|pure and simple|simple as that|its that "
    r"simple|nuff said|enough said|thats that|that is that|thats it"
    r"|that is it|thats all|that is all|there you go|there you have "
    r"it|put it that way|let me put it that way|say what you want"
    r"|just saying|just sayin|im just saying|just so you know|for "
    r"what its worth|who knew|who would have thought|whod have thunk"
    r"|what can i say|you know it|i said it|there i said it|i mean "
    r"it|you heard me|and i mean that|dont at me|fight me|sue me"
    r"|change my mind|prove me wrong|tell me im wrong|come at me)",
    r"(?:and )?(?:its|it is|it aint|it isnt|its really|this is|this isnt) "
    r"?(?:not |nt )?(?:even )?(?:close|a contest|debatable|up for debate)",
    r"(?:and )?(?:everybody|everyone|we all|you all|yall|they all|the "
    r"whole (?:town|league|building|park)) knows? (?:it|that|this)",
    r"(?:id|i would|ill|i will|you can) put (?:my |good |real )?(?:money|house|paycheck|life) on (?:it|that)",
    r"(?:ill|i will|id|i would|i) fight (?:anybody|anyone|you|"
    r"whoever) who (?:says|thinks) (?:different|otherwise|not)",
    r"(?:my|oh my|good) (?:gosh|goodness|god|word|lord)|unreal|"
    r"unbelievable|incredible|insane|wild|ridiculous|nuts",
    r"(?:its|it is|hes|shes|thats) driving [a-z]+ (?:nuts|crazy|mad|up the wall|insane)",
    r"(?:id|i would|ill|i|we) (?:wager|say|guess|reckon|venture|imagine|suppose|figure)(?: (?:so|that))?",
    # The one who says it, and those who listen.
    r"(?:and )?(?:you|they|yall|everybody|everyone|people|some of "
    r"you)(?: all)? (?:laughed|yelled|screamed|hollered|booed)(?: at "
    rf"{_ME})?(?: (?:back )?(?:in|on) [a-z]+)?",
    r"(?:lol|lmao+|rofl|haha+|hehe|omg|wow|whoa|sheesh|jeez|geez|"
    r"dang|damn|ugh|meh|yikes|woo+|oo+h|oh+|wooo+|bruh|bro|dude|man"
    r"|folks|friends|fellas|buddy|pal|kid|kiddo|skip|coach|jack|"
    r"ladies and gentlemen)(?: (?:lol|lmao+|man|bro|dude|folks))?",
    r"(?:pls|plz|please|thx|thanks|thank you|ty|cheers|help|asap)(?: and (?:thanks|thank you))?",
    r"(?:anyone|anybody|somebody|someone) (?:got|have|know) (?:it|that|them|this)",
    r"(?:thats|that is|its|it is|whats|now thats) a (?:problem|shame|"
    r"worry|concern|red flag|good sign|bad sign|beautiful thing)",
    r"(?:what )?(?:do|dont|did) (?:you|ya|we) (?:think|know|see|agree)",
    r"(?:is|isnt|was|wasnt|does|doesnt|do|dont|did|didnt|has|"
    r"hasnt|have|havent|can|cant|will|wont|aint|are|arent) "
    r"(?:it|he|she|they|that)(?: not)?",
    r"(?:i am|im) (?:telling|begging|not kidding|not joking|dead serious|serious)(?: (?:you|ya))?",
    r"(?:i|we) (?:am|m|have|ve|ive|got|have got|own|keep|bought|"
    r"brought|caught) (?:got )?(?:a |an |my |the |some |[a-z]+ )"
    r"(?:[a-z]+ ){0,2}?(?:in|on|from) my (?:garage|basement|attic|"
    r"closet|house|pocket|wall|shelf|desk|truck|car|office|seat|lap)",
    r"(?:ive|i have) got [a-z]+ (?:base)?balls in my [a-z]+",
    r"(?:my|our) (?:wife|husband|mother|mom|dad|father|uncle|aunt|kid|"
    r"son|daughter|dog|cat|cousin|neighbou?r|grandma|grandpa|buddy"
    r"|boss)(?:s)? (?:agrees|knows it|says so|said so|thinks so|could tell you(?: that)?)",
    r"(?:i )?(?:do not|dont|couldnt|could not) care(?: less)?",
)
_CLAUSE = re.compile(rf"{_AND}(?:{'|'.join(_CLAUSES)})")
_ANSWERED = re.compile(
    r"(?:no way|nope|nah|no|yep|yes|yeah|you bet|of course|absolutely|not "
    r"a chance|no chance|i doubt it|doubt it|i (?:dont|do not) think so|"
    r"i think so|i say (?:yes|no)|i wonder)"
)
"""What the one who asks answers himself, behind a question mark."""
_OWN_ANSWER = re.compile(
    r"\?(?:\s*(?:no way|nope|nah|no|never|(?:no|not a|fat) chance)[.!]*)+\s*$", re.IGNORECASE
)
_STAKE = re.compile(
    r"(?:(?:and|or|plus) )?(?:(?:the|my|all|both|every) )?(?:(?:the|my|"
    r"of|last) ){0,2}[a-z]+(?: and (?:(?:the|my|both|all) ){1,3}[a-z]+)?"
)
_SPEAKER = re.compile(
    r"(?:(?:and|so|well|man|now|boy|but) )?(?:i|im|ive|id|ill|we|weve|"
    r"were|wed|well|you|youd|youll|youve|yall|my|our|let me|lets)\b.*"
)
"""A clause about the one who speaks or listens: without a word of the tables, nobody else is spoken of."""
# fmt: off
_CHANGES = frozenset((
    "not", "no", "never", "nobody", "none", "nor", "neither", "nothing", "without", "except", "only",
    "unless", "if", "when", "whenever", "while", "since", "until", "till", "before", "after", "because",
    "than", "instead", "opposite", "wrong", "false", "doubt", "doubts", "lie", "lying", "myth",
    "unlikely", "against", "once", "during", "though", "although", "however", "used", "hope", "wish",
    "dream", "disagree", "deny", "kidding", "joking", "hardly", "barely", "rarely", "seldom",
    "contrary", "elsewhere", "otherwise", "minus", "early", "earlier", "late", "later", "lately",
    "today", "tonight", "tomorrow", "yesterday", "night", "nights", "day", "days", "week", "weeks",
    "weekend", "weekends", "month", "months", "morning", "evening", "summer", "spring", "fall",
    "winter", "home", "road", "park", "away", "some", "few", "many", "most", "half", "every", "dont",
    "cant", "wont", "didnt", "isnt", "wasnt", "couldnt", "wouldnt", "shouldnt", "aint", "havent",
    "hadnt", "him", "her", "he", "she", "his", "them", "hes", "shes", "corrected", "correct",
    "mistaken", "mistake", "confuse", "mix", "mixed", "meant", "back", "take", "somebody", "someone",
))
# fmt: on
"""Words of such a clause that may deny, limit or date what is claimed beside it."""
_SPOKEN_TO = re.compile(r"\b(?:you|ya|yall|hey|look|listen|see|well|now|say)\b(?: ya)?$")
_DENIALS = ("not", "no", "never", "nope")
_BETTING = re.compile(r"\bbet\b")
_MOCKING = re.compile(
    r"(?:^|[.!?,;:] *)(?:yeah (?:right|sure)|sure (?:he|she|they) "
    r"(?:does|do|is|has|can)|as if|said no ?(?:one|body)(?: ever)?|"
    r"not in a million years|not in this life(?:time)?|when pigs fly|in "
    r"your dreams|my foot|like hell|which is to say,? no(?:t|pe)|not!?\s*$)"
    r"|^(?:oh,? )?(?:sure|right|great|brilliant|yeah),? (?:let's |"
    r"let us |just )?(?:throw|keep throwing|give|feed|pitch|hang)\b"
    r"|(?<!\?)[.!,;:] *(?:no|nope|nah|(?:no|not a|fat) chance|"
    r"no way|not (?:really|true|so)|wrong|false|never)[.!]*\s*$"
    r"|\b(?:bet|wager|bank|count) against (?:it|that|him|her|them)\b|\b(?:you|i|they) wish(?=[.,!?]|\s*$)"
    r"|^oh,? (?:sure|yeah|right)\b|\b(?:tell|remind) me (?:again|once more) (?:how|"
    r"that|why)\b|^(?:oh,? )?(?:sure|yeah),? (?:and )?(?:i'm|i am|pigs|he's|she's)\b",
    re.IGNORECASE,
)


def common_talk(
    parts: list[str], names: frozenset[str], claims: Callable[[str], bool], called: frozenset[str]
) -> list[bool]:
    """Say of each clause of a sentence whether it is talk that changes nothing.

    Parameters
    ----------
    parts
        The clauses as they were typed, with the marks behind them.
    names
        The words of all names, folded.
    claims
        Says whether a part says something of its own.
    called
        Words that stand alone where somebody is spoken to, and that are nobody's name.
    """
    told = [_folded(part) for part in parts]
    found = [bool(_CLAUSE.fullmatch(one)) for one in told]
    for n, (ahead, one) in enumerate(pairwise(told), start=1):
        if found[n] or not one:
            continue
        staked = found[n - 1] and any(_BETTING.search(words) for words in told[:n])
        answered = parts[n - 1].rstrip().endswith("?") and bool(_ANSWERED.fullmatch(one))
        again = (one in ahead.split() or one == ahead) and one not in _DENIALS
        mine = not set(one.split()) & names
        found[n] = mine and bool(
            (staked and _STAKE.fullmatch(one) and not claims(parts[n]))
            or again
            or answered
            or (_of_the_speaker(parts[n], one) and not claims(parts[n]))
            or (one in called and _SPOKEN_TO.search(ahead))
        )
    return found


def _of_the_speaker(part: str, told: str) -> bool:
    """Say whether a clause is about the one who speaks or listens, and denies, limits and dates nothing."""
    return bool(
        _SPEAKER.fullmatch(told)
        and not _CHANGES.intersection(told.split())
        and not re.search(r"\d|(?<=\s)(?!I\b)[A-Z][a-z]+", part.strip())
    )


def _folded(part: str) -> str:
    return " ".join(fold(re.sub(r"[^\w'’]+", " ", part)).split())


def mocking(sentence: str) -> tuple[str, str] | None:
    """Return the mockery in a sentence and the sentence without it; nothing where there is none."""
    sentence = _OWN_ANSWER.sub("?", sentence.replace("’", "'"))
    match = _MOCKING.search(sentence)
    if match is None:
        return None
    rest = f"{sentence[: match.start()]} {sentence[match.end() :]}".strip(" ,;:")
    return match[0].strip(" ,.;:!?"), rest
