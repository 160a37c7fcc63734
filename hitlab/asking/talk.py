"""What is said beside a claim and changes nothing of it, and what turns it round.

A clause is left out, and said to be, where every word of it is known to be idle (``risk.IDLE_IN_TALK``), or
where the whole of it is a saying that is. Any other clause that no part of a question explains may deny,
limit or date what is claimed beside it, and is asked back. So is what is only supposed. Mockery ("tell me
again how", "oh sure", "yeah right") says the opposite of its words, or may: asked back with both.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from hitlab.asking.risk import IDLE_IN_TALK
from hitlab.asking.text import Text
from hitlab.idle_words import WEIGHTY
from hitlab.names import fold

__all__ = ["asides", "mocking", "spoken_to", "supposed", "unexplained"]

_AND = r"(?:and |but |so |well |man |yeah |oh )?"
_SAYINGS = (
    # Beyond doubt.
    r"(?:you can |go ahead and )?(?:mark|write|jot|put) (?:it|that|this) (?:down|in the book|in ink)",
    r"(?:you can )?(?:take (?:it|that) to the bank|bank on (?:it|that)|book it|count on it|bet on it)",
    r"(?:i would|id|ill|i will|you can|ya can|wanna|want to)? ?bet(?: you)?"
    r"(?: (?:on it|the (?:farm|house|ranch)|my (?:house|life|money|truck|boots|hat)(?: on it)?|"
    r"money|anything|it all))?",
    r"(?:thats |that is |its |it is )?(?:a )?facts?|period|full stop|end of(?: story| discussion)?|"
    r"case closed|no cap|no debate|no question(?: about it)?|no doubt(?: about (?:it|that))?|real talk|"
    r"straight facts|fr|frfr|on god|hands down|bar none|easily|easy",
    r"(?:believe|trust) (?:you )?me|believe it(?: or not)?|can you believe (?:it|that)|i kid you not|"
    r"no joke|swear to god",
    r"(?:it|this|that)? ?(?:sure |just |really )?(?:feels|seems|looks|sounds) (?:like it|that way|so|right)"
    r"(?: to me)?",
    r"plain and simple|pure and simple|simple as that|its that simple|nuff said|enough said|"
    r"thats that|that is that|thats it|that is it|thats all|that is all|there you go|there you have it|"
    r"say what you want|just saying|just sayin|im just saying|just so you know|for what its worth|"
    r"who knew|who would have thought|what can i say|you know it|i said it|there i said it|and i mean it|"
    r"i mean it|and i mean that|i mean that|you heard me|dont at me|fight me|sue me|change my mind|"
    r"prove me wrong|tell me im wrong|what do you know|tell you what|(?:ill|i will) tell (?:you|ya) what|"
    r"you know what|how about that|look at that|get this|guess what|mind you|in my (?:book|opinion|view)|"
    r"as (?:i|we|they) (?:say|said)|as you know|if you ask me|to be (?:honest|fair|sure|clear)|of course|"
    r"for sure|after all|note to self|(?:that is|thats|by) the record|"
    r"(?:i|ive|i have) (?:looked|checked|counted)(?: it up| them)?",
    r"(?:you can )?(?:look it up|check it|check the (?:tape|book|numbers)|do the math|watch the tape)",
    # What is written or asked in front.
    r"question(?: \d+)?|hypothesis|true or false|discuss|game plan|(?:fact|gut) check(?: please| pls)?|"
    r"rank(?:ing|ings)?(?: note| the (?:hitters|batters|pitchers|clubs))?|quick (?:q|question)|who bats|"
    r"who do (?:i|we|you) (?:want|send up)|let me throw (?:a name|one) at you",
    r"(?:its|it is|this is) not (?:even )?(?:close|a contest|debatable|up for debate)|"
    r"(?:it |this )?(?:isnt|aint) (?:even )?(?:close|a contest|debatable|up for debate)",
    r"(?:everybody|everyone|we all|you all|yall|they all|the whole (?:town|league|building|park)) "
    r"knows? (?:it|that|this)",
    r"(?:id|i would|ill|i will|you can) put (?:my |good |real )?(?:money|house|paycheck|life) on (?:it|that)",
    r"(?:ill|i will|id|i would|i) fight (?:anybody|anyone|you|whoever) who (?:says|thinks) "
    r"(?:different|otherwise|not)",
    r"(?:and )?i will die on (?:this|that) hill",
    r"(?:my|oh my|good) (?:gosh|goodness|god|word|lord)",
    r"(?:id|i would|ill|i|we) (?:wager|say|guess|reckon|venture|imagine|suppose|figure)(?: (?:so|that))?",
    r"(?:and )?(?:you|they|yall|everybody|everyone|people)(?: all)? "
    r"(?:laughed|yelled|screamed|hollered|booed) at (?:me|us)(?: (?:back )?in [a-z]+)?",
    # Those who listen.
    r"(?:it )?has to be said|(?:i|we) have (?:got )?to (?:say|admit|tell you)|my (?:dude|man|friends?)|omg|"
    r"bruh|bro|dude|ladies and gentlemen|(?:hi|hello|good (?:morning|evening|night)|all right)"
    r"(?: (?:all|folks|everybody|everyone))?|everybody|everyone|like|go|coach here|help|asap|cheers|ty",
    r"(?:anyone|anybody|somebody|someone) (?:got|have|know) (?:it|that|them|this)",
    r"(?:thats|that is|its|it is|whats|now thats) a (?:problem|shame|worry|concern|red flag|good sign|"
    r"bad sign|beautiful thing)",
    r"(?:what )?(?:do|dont|did) (?:you|ya|we) (?:think|know|see|agree)",
    r"(?:is|isnt|was|wasnt|does|doesnt|do|dont|did|didnt|has|hasnt|have|havent|can|cant|will|wont|aint|are|"
    r"arent) (?:it|he|she|they|that)(?: not)?",
    r"(?:i am|im) (?:telling|begging|not kidding|not joking|dead serious|serious)(?: (?:you|ya))?",
    r"(?:my|our) (?:wife|husband|mother|mom|dad|father|uncle|aunt|kid|son|daughter|dog|cat|cousin|neighbou?r|"
    r"grandma|grandpa|buddy|boss) (?:agrees|knows it|says so|said so|thinks so)",
)
_SAYING = re.compile(rf"{_AND}(?:{'|'.join(_SAYINGS)})")
_ANSWERS = re.compile(
    r"(?:yep|yes|yeah|you bet|of course|absolutely|i think so|i say yes|i wonder|(?:what )?do you think|"
    r"(?:is|isnt|does|doesnt|do|dont|has|hasnt|are|arent) (?:it|he|she|they)|(?:please )?(?:and )?(?:thanks|"
    r"thank you)|anyone got it|case closed|easy|change my mind|tell me)"
)
"""What leaves a question as it is behind its mark; all else may answer it, or mock it."""
_ASKS = re.compile(
    r"(?:does|do|did|is|are|was|were|has|have|had|can|will|who|which|how|isnt|doesnt|hasnt|arent)(?= )",
    re.IGNORECASE,
)
_DENIED = re.compile(
    r"(?:no way|nope|nah|no|never|(?:no|not a|fat) chance|(?:i )?doubt it|i (?:dont|do not) think so|"
    r"i say no)"
)
"""What leaves a question open that is asked as one, and denies what only ends in its mark."""
_DENIALS = ("not", "no", "never", "nope")
_BETTING = re.compile(r"\bbet\b")
_STAKE = re.compile(
    r"(?:and |or |plus )?(?:(?:the|my|all|both|every|of|last) ){0,3}(?P<what>[a-z]+)"
    r"(?: and (?:(?:the|my|both|all) ){1,3}(?P<more>[a-z]+))?"
)
# fmt: off
_STAKES = frozenset((
    "farm", "house", "ranch", "tractor", "tractors", "barn", "cow", "cows", "pig", "pigs", "horse", "horses",
    "goat", "goats", "chickens", "truck", "car", "boat", "boots", "hat", "shirt", "mortgage", "savings",
    "money", "cash", "dollar", "dollars", "paycheck", "pension", "life", "dog", "cat",
))
# fmt: on
_SPOKEN_TO = re.compile(r"\b(?:you|ya|yall|hey|look|listen|see|well|now|say)\b(?: ya)?$")
_PART = re.compile(r"[^,;:.!?()—–]+(?:\.\d+[^,;:.!?()—–]*)*[,;:.!?()—–]*\s*")
_MARKS = re.compile(r"[,;:.!?()—–…]+")
_MOST_PARTS = 30
_OWN_ANSWER = re.compile(
    r"\?(?:\s*(?:no way|nope|nah|no|never|(?:no|not a|fat) chance)[.!]*)+\s*$", re.IGNORECASE
)
_MOCKING = re.compile(
    r"(?:^|[.!?,;:] *)(?:yeah (?:right|sure)|sure (?:he|she|they) "
    r"(?:does|do|is|has|can)|as if|said no ?(?:one|body)(?: ever)?|"
    r"not in a million years|not in this life(?:time)?|when pigs fly|in "
    r"your dreams|my foot|like hell|which is to say,? no(?:t|pe)|not!?\s*$)"
    r"|^(?:the|like) (?:hell|heck)(?= )"
    r"|\bthe (?:hell|heck) (?:he|she|they) (?:do|does|is|are|has|have|can|will)\b"
    r"|^(?:oh,? )?(?:sure|right|great|brilliant|yeah),? (?:let's |"
    r"let us |just )?(?:throw|keep throwing|give|feed|pitch|hang)\b"
    r"|[.!,;:?] *(?:no|nope|nah|(?:no|not a|fat) chance|"
    r"no way|not (?:really|true|so)|wrong|false|never)[.!]*\s*$"
    r"|\b(?:bet|wager|bank|count) against (?:it|that|him|her|them)\b|\b(?:you|i|they) wish(?=[.,!?]|\s*$)"
    r"|^(?:who (?:says|said|claims|thinks|told you)|since when)\b|\bsays who\b"
    r"|^oh,? (?:sure|yeah|right)\b|\b(?:tell|remind) me (?:again|once more) (?:how|"
    r"that|why)\b|^(?:oh,? )?(?:sure|yeah),? (?:and )?(?:i'm|i am|pigs|he's|she's)\b",
    re.IGNORECASE,
)

_SUPPOSED = re.compile(
    r"^(?:(?:so|but|ok|okay|well|and),? )?((?:let'?s|let us) (?:just )?say(?: that)?(?! (?:about )?[\d.])|"
    r"say(?= (?!what|when|hello|so|it|that|this|who|whether|if)[^,]))",
    re.IGNORECASE,
)


def supposed(sentence: str) -> str:
    """Return the words by which a sentence only supposes what it says; empty where it does not."""
    match = _SUPPOSED.match(sentence.replace("’", "'").lstrip())
    return match[1] if match is not None else ""


def spoken_to(sentence: str, near: Callable[[str], Any]) -> frozenset[str]:
    """Return the words, folded, that stand alone between commas as a name does, and are nearly nobody's."""
    words = {fold(word) for word in re.findall(r"(?<=, )[A-Z][a-z]+(?= ?,)", sentence)}
    return frozenset(word for word in words if not near(word))


def asides(sentence: str, called: frozenset[str] = frozenset()) -> list[tuple[str, str]]:
    """Return what a sentence is without talk before and behind its claim, the most of it left first.

    Parameters
    ----------
    sentence
        As it was typed.
    called
        Words that stand alone where somebody is spoken to, and are nobody's name: ``I'll tell you, Jim,``.

    Returns
    -------
    list
        Sentence and what was left out of it, in pairs.
    """
    parts = _PART.findall(sentence)
    if not 1 < len(parts) <= _MOST_PARTS:
        return []
    idle = _idle(parts, called)
    before = next((n for n, talk in enumerate(idle) if not talk), len(parts))
    behind = next((n for n, talk in enumerate(reversed(idle)) if not talk), len(parts))
    if before + behind >= len(parts):
        return []
    found = []
    if before or behind:
        left = "".join((*parts[:before], *parts[len(parts) - behind :]))
        found.append(("".join(parts[before : len(parts) - behind]), " ".join(left.split())))
    if any(idle[before : len(parts) - behind]):
        core = "".join(part for part, talk in zip(parts, idle, strict=True) if not talk)
        left = "".join(part for part, talk in zip(parts, idle, strict=True) if talk)
        found.append((core, " ".join(left.split())))
    return found


def unexplained(text: Text, called: frozenset[str] = frozenset()) -> list[tuple[int, ...]]:
    """Return the clauses, by their places, that may change what is claimed beside them.

    Those of which no word was explained and which are not known to be idle, and those of one weighty word.
    """
    marked = {place for word in text.words if word.text.startswith("<") for place in word.places}
    left = {place for word in text.words if word.text[0] not in ",.;:!?" for place in word.places} - marked
    parts: list[list[int]] = [[]]
    typed: list[str] = [""]
    for place, token in enumerate(text.said):
        if _MARKS.fullmatch(token):
            typed[-1] += token
            if parts[-1]:
                parts.append([])
                typed.append("")
        else:
            parts[-1].append(place)
            typed[-1] += f" {token}"
    idle = _idle(typed, called)
    said = [fold(word) for word in text.said]
    found = []
    for places, talk in zip(parts, idle, strict=True):
        again = len(places) == 1 and said.count(said[places[0]]) > 1
        bare = not talk and left.intersection(places) and not marked.intersection(places)
        if places and not again and (bare or _weighty(places, said, text)):
            found.append(tuple(places))
    return found


def _idle(parts: list[str], called: frozenset[str]) -> list[bool]:
    """Say of each clause of a sentence, with the marks behind it, whether it is talk that changes nothing."""
    told = [_folded(part) for part in parts]
    said = [word for one in told for word in one.split()]
    found = [_known_to_be_idle(one) or (said.count(one) > 1 and one not in _DENIALS) for one in told]
    for n, (ahead, one) in enumerate(pairwise(told), start=1):
        before = parts[n - 1]
        if before.rstrip().endswith("?"):
            denied = bool(_ASKS.match(told[0])) and bool(_DENIED.fullmatch(one))
            found[n] = not one or denied or bool(_ANSWERS.fullmatch(one))
        elif not found[n] and one:
            staked = found[n - 1] and any(_BETTING.search(words) for words in told[:n])
            found[n] = bool(
                (staked and _staked(one))
                or one == ahead
                or (one in called and one not in WEIGHTY and _SPOKEN_TO.search(ahead))
            )
    return found


def _known_to_be_idle(told: str) -> bool:
    return all(word in IDLE_IN_TALK for word in told.split()) or bool(_SAYING.fullmatch(told))


def _weighty(places: list[int], said: list[str], text: Text) -> bool:
    """Say whether a clause is one word alone that denies, limits or dates, or ``I mean mostly``.

    It is not where the word is said again, or is a part of what is found, or left out, over a pause.
    """
    words = [said[place] for place in places]
    weighty = [word for word in words if word in WEIGHTY]
    idle = all(word in IDLE_IN_TALK or word in ("mean", *weighty) for word in words)
    if len(weighty) != 1 or not idle or said.count(weighty[0]) > 1:
        return False
    typed = " ".join(text.said[place] for place in places)
    at = places[words.index(weighty[0])]
    beyond = any(at in word.places and not set(word.places) <= set(places) for word in text.words)
    return not beyond and not any(typed in one and typed != one for one in text.idle)


def _staked(told: str) -> bool:
    """Say whether a clause names more of what is bet: ``the tractor and both the cows``."""
    match = _STAKE.fullmatch(told)
    return match is not None and match["what"] in _STAKES and (match["more"] or match["what"]) in _STAKES


def _folded(part: str) -> str:
    return " ".join(fold(re.sub(r"[^\w'’]+", " ", part)).split())


def mocking(sentence: str) -> tuple[str, str] | None:
    """Return the mockery in a sentence and the sentence without it; nothing where there is none."""
    sentence = sentence.replace("’", "'")
    if _ASKS.match(sentence.lstrip()):
        sentence = _OWN_ANSWER.sub("?", sentence)
    match = _MOCKING.search(sentence)
    if match is None:
        return None
    rest = f"{sentence[: match.start()]} {sentence[match.end() :]}".strip(" ,;:")
    return match[0].strip(" ,.;:!?"), rest
