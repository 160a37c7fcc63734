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

from hitlab.asking.colloquial import CARRYING, WHETHER
from hitlab.asking.risk import IDLE_IN_TALK
from hitlab.asking.text import WITHOUT_APOSTROPHE, Text
from hitlab.idle_words import WEIGHTY
from hitlab.names import fold

__all__ = ["asides", "corrected", "mocking", "spoken_to", "supposed", "unexplained"]

_MAY_I = (
    r"(?:can|may|could|should) (?:i|we) (?:say|write|print|claim|post|publish|use|put) (?:that|it|this|so)"
    r"(?: (?:in|on) [a-z]+(?: [a-z]+)?)?|would (?:that|it) be (?:right|fair|true|correct|accurate)"
)
_AND = r"(?:and |but |so |like |well |man |yeah |oh )?"
_SAYINGS = (
    # Beyond doubt.
    r"(?:you can |go ahead and )?(?:mark|write|jot|put) (?:it|that|this) (?:down|in the book|in ink)",
    r"(?:you can )?(?:take (?:it|that) to the bank|bank on (?:it|that)|book it|count on it|bet on it)",
    r"(?:i would|i will|you can|ya can|wanna|want to)? ?bet(?: you)?"
    r"(?: (?:on it|an? [a-z]+|the (?:(?:[a-z]+ )?money|farm|house|ranch)(?: on it)?|my (?:house|life|"
    r"money|truck|boots|hat)(?: on it)?|"
    r"money|anything|it all))?",
    r"(?:that is |it is )?(?:a )?facts?|period|full stop|end of(?: story| discussion)?|"
    r"case closed|no cap|no debate|no question(?: about it)?|no doubt(?: about (?:it|that))?|real talk|"
    r"straight facts|fr|frfr|on god|hands down|bar none|easily|easy",
    r"(?:believe|trust) (?:you )?me|believe it(?: or not)?|can you believe (?:it|that)|i kid you not|"
    r"no joke|swear to god",
    r"(?:it|this|that)? ?(?:sure |just |really )?(?:feels|seems|looks|sounds) (?:like it|that way|so|right)"
    r"(?: to me)?(?: (?:from|in|up in|here in) (?:the |my |our )?(?:row|section|seat|stands|bleachers|booth|"
    r"couch|cheap seats|press box|upper deck|dugout)(?: [a-z0-9]+)?)?|come on",
    r"plain and simple|pure and simple|simple as that|it is that simple|nuff said|enough said|"
    r"that is (?:that|it|all)|there you (?:go|have it)|"
    r"say what you want|(?:i am )?just (?:saying|sayin|curious)|just so you know|for what it is worth|"
    r"who knew|who would have thought|what can i say|you know it|i said it|there i said it|and i mean it|"
    r"i mean it|and i mean that|i mean that|you heard me|do not at me|fight me|sue me|change my mind|"
    r"prove me wrong|tell me i am wrong|what do you know|tell you what|i will tell (?:you|ya) what|"
    r"you know what|how about that|look at that|get this|guess what|mind you|in my (?:book|opinion|view)|"
    r"as (?:i|we|they) (?:say|said)|as you know|if you ask me|to be (?:honest|fair|sure|clear)|of course|"
    r"for sure|after all|note to self|(?:that is|by) the record|"
    r"(?:i|i have) (?:looked|checked|counted)(?: it up| them)?",
    r"(?:(?:do|can|may|should|shall) (?:i|we) )?(?:write|print|run|air|use|post|publish|keep) (?:it|that)"
    r"(?: or (?:not|(?:cut|kill|spike|drop|scrap) (?:it|that)))?",
    r"(?:true|fact|real|right|myth) or (?:not|(?:just )?(?:a )?(?:fable|fiction|myth|legend|nonsense|"
    r"fairy tale|noise|bunk))",
    r"(?:reject|accept|keep|retain)(?: (?:it|that|this))? or (?:not|accept|reject|fail to reject)|h ?0",
    r"(?:or )?(?:will|would) (?:some|any|a|my|our|the) (?:readers?|viewers?|listeners?|editors?|callers?|"
    r"fans?|one) "
    r"(?:write in|complain|call in|object|correct me|catch me|yell at me|email me)",
    r"(?:you can )?(?:look it up|check it|check the (?:tape|book|numbers)|do the math|watch the tape)",
    # What is written or asked in front.
    r"question(?: \d+)?|hypothesis|true or false|discuss|game plan|(?:(?:quick|fact|gut|sanity|reality) "
    r")+check(?: please| pls)?|"
    r"rank(?:ing|ings)?(?: note| the (?:hitters|batters|pitchers|clubs))?|quick (?:q|question)|who bats|"
    r"who do (?:i|we|you) (?:want|send up)|let me throw (?:a name|one) at you",
    r"(?:it is|this is|is) not (?:even )?(?:close|a contest|debatable|up for debate)|"
    r"(?:all )?(?:knows? (?:it|that|this)|says? so|said so|agrees?|thinks? so)",
    r"(?:i would|i will|you can) put (?:my |good |real )?(?:money|house|paycheck|life) on (?:it|that)",
    r"(?:i will|i would|i) fight (?:anybody|anyone|you|whoever) who (?:says|thinks) "
    r"(?:different|otherwise|not)",
    r"(?:and )?i will die on (?:this|that) hill",
    r"(?:my|oh my|good) (?:gosh|goodness|god|word|lord)",
    r"(?:i would|i will|i|we) (?:wager|say|guess|reckon|venture|imagine|suppose|figure)(?: (?:so|that))?",
    r"(?:and )?(?:you|they|yall|everybody|everyone|people)(?: all)? "
    r"(?:laughed|yelled|screamed|hollered|booed) at (?:me|us)(?: (?:back )?in [a-z]+)?",
    # Those who listen.
    r"(?:it )?has to be said|(?:i|we) have (?:got )?to (?:say|admit|tell you)|my (?:dude|man|friends?)|omg|"
    r"bruh|bro|dude|ladies and gentlemen|(?:hi|hello|good (?:morning|evening|night)|all right)"
    r"(?: (?:all|folks|everybody|everyone))?|everybody|everyone|like|go|coach here|help|asap|cheers|ty",
    r"(?:anyone|anybody|somebody|someone) (?:got|have|know) (?:it|that|them|this)",
    r"(?:that is|it is|what is|now that is) a (?:problem|shame|worry|concern|red flag|good sign|"
    r"bad sign|beautiful thing)",
    r"(?:what )?(?:do|dont|did) (?:you|ya|we) (?:think|know|see|agree)",
    r"(?:is|isnt|was|wasnt|does|doesnt|do|dont|did|didnt|has|hasnt|have|havent|can|cant|will|wont|aint|are|"
    r"arent) (?:it|he|she|they|that)(?: not)?",
    r"i am (?:telling|begging|not kidding|not joking|dead serious|serious)(?: (?:you|ya))?",
    r"for (?:those|anyone|anybody|everyone|everybody|folks|all)(?: of you)?(?: who (?:is|are))?(?: just)? "
    r"(?:tuning in|joining(?: us)?|listening|watching|following|keeping score|scoring)"
    r"(?: (?:along|at home|in the car|now|late))*",
    r"(?:that is|it is) what i (?:like|love|see|mean|hear|think)(?: (?:about|in) (?:him|her|it))?",
    r"(?:(?:that is|here is) )?my (?:claim|take|story|case|point|two cents|theory|hunch|opinion|read|view)"
    r"(?: and i am sticking (?:to|with) it)?|next question|did you know(?: that| it)?",
    # Who asks.
    r"(?:(?:long ?time |first time |big |proud )*(?:fan|dad|mom|mum|coach|parent|student|teacher|"
    r"listener|reader|"
    r"viewer|subscriber|caller|analyst) here)",
    r"(?:he|she|they) (?:is|are) (?:my|our)(?: [a-z]+)? favou?rite(?: (?:player|hitter|one))?(?: by far)?",
    r"if i (?:remember|recall|heard|read|understand)(?: (?:it|that))?(?: (?:right|rightly|correctly))?|"
    r"(?:if|unless) i am (?:not )?(?:mistaken|wrong)|if memory serves(?: me)?(?: right)?",
    r"(?:this is |that is )?(?:no|not a) joke|(?:just )?watch(?: (?:him|her|it|this))?",
    r"that is the (?:whole )?(?:post|story|note|headline|take)|not that i am (?:biased|counting|complaining)",
    r"(?:he|she) is my (?:kid|son|daughter|niece|nephew|cousin|brother|sister)(?: ,)?",
    _MAY_I,
    # Whether it is so.
    rf"(?:or )?{WHETHER}(?: or {WHETHER})?",
)
_SAYING = re.compile(rf"{_AND}(?:{'|'.join(_SAYINGS)})")
_OPEN_SAYINGS = (
    r"(?:(?:the|my|our|your|even|we|you|they|whole) )*[a-z]+ "
    r"(?:all )?(?:knows? (?:it|that|this)|says? so|said so|agrees?|thinks? so)",
    r"(?:i would|i will|i) (?:show|tell|say|shout|swear|repeat|teach|sing|send) (?:it|that|this|so)"
    r"(?: to [a-z]+(?: [a-z]+){0,5})?",
    r"(?:i |we )?(?:have )?had (?:this|that) (?:argument|debate|conversation|discussion)(?: [a-z]+){0,6}",
    r"(?:i|we) (?:keep|always|have been) (?:telling|tell|saying|say)(?: [a-z]+){0,3}",
    r"for (?:my|our|the|a|his|her|this)(?: [a-z]+){0,2} (?:class|homework|blog|post|project|assignment|essay|"
    r"paper|report|column|podcast|newsletter|show|broadcast|segment|article|presentation)",
    r"(?:(?:i|we) have )?(?:a|an|another|my)(?: [a-z]+){0,2} (?:question|thought|theory|claim)"
    r"(?: for [a-z]+(?: [a-z]+)?)?",
)
_OPEN_SAYING = re.compile(rf"{_AND}(?:{'|'.join(_OPEN_SAYINGS)})")
"""Sayings that are idle where none of their words carries meaning or is one of the trade."""
_ANSWERS = re.compile(
    r"(?:yep|yes|yeah|you bet|of course|absolutely|i think so|i say yes|i wonder|(?:what )?do you think|"
    r"(?:is|isnt|does|doesnt|do|dont|has|hasnt|are|arent) (?:it|he|she|they)|(?:please )?(?:and )?(?:thanks|"
    r"thank you)|anyone got it|case closed|easy|change my mind|tell me|"
    rf"{_MAY_I}|(?:or )?{WHETHER}(?: or {WHETHER})?)"
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
_WRITTEN_OUT = {
    **{word: " ".join(parts) for word, parts in WITHOUT_APOSTROPHE.items()},
    **{f"{word}s": f"{word} is" for word in ("that", "it", "what", "there", "here", "he", "she", "who")},
    **{f"{word}ll": f"{word} will" for word in ("you", "they", "he", "she")},
    **{f"{word}d": f"{word} would" for word in ("you", "they", "he")},
    **{f"{word}ve": f"{word} have" for word in ("i", "you", "we", "they")},
    **{f"{word}re": f"{word} are" for word in ("you", "they")},
    "ill": "i will",
    "id": "i would",
    "im": "i am",
}
"""Short forms as sayings have them."""
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


_CORRECTED = re.compile(
    r"[\s,.;:–—-]+(?:(?:no|sorry|wait|hold on|hang on|actually|my mistake)[\s,]+)*(?:(?:the )?other way "
    r"(?:a)?round|"
    r"scratch that|strike that|correction|make (?:that|it)|i(?:'ll| will) go further|i misspoke|no wait|"
    r"wait,? no)(?:[\s,.;:–—-]+(?:no|sorry|i mean|it's))*[\s,.;:–—-]+",
    re.IGNORECASE,
)


def corrected(sentence: str) -> tuple[str, str] | None:
    """Return what is withdrawn, and what is said in its place: "other way round, lefties"."""
    parts = _CORRECTED.split(sentence.replace("’", "'"))
    return (parts[0], parts[1]) if len(parts) == 2 and all(part.strip() for part in parts) else None


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
            found[n] = not one or denied or bool(_ANSWERS.fullmatch(one)) or _said_openly(one)
        elif not found[n] and one:
            staked = found[n - 1] and any(_BETTING.search(words) for words in told[:n])
            found[n] = bool(
                (staked and _staked(one))
                or one == ahead
                or (one in called and one not in WEIGHTY and _SPOKEN_TO.search(ahead))
            )
    return found


def _known_to_be_idle(told: str) -> bool:
    idle = all(word in IDLE_IN_TALK for word in told.split())
    return idle or any(_SAYING.fullmatch(one) for one in (told, _written_out(told))) or _said_openly(told)


def _said_openly(told: str) -> bool:
    """Say whether a clause is a saying of which some words are anybody's, and none carries meaning."""
    told = _written_out(told)
    words = set(re.sub(r"^(?:and )?i (?:would|will) ", "", told).split())
    words |= {f"{word}s" for word in words}
    return _OPEN_SAYING.fullmatch(told) is not None and not CARRYING & words


def _written_out(told: str) -> str:
    return " ".join(_WRITTEN_OUT.get(word, word) for word in told.split())


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
