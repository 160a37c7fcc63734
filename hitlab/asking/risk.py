"""Words that nothing explains: which of them may be left out, said in the open, and which forbid an answer.

A word may be left out where it cannot change what is asked: an adverb of manner, a word that praises or calls
somebody something. One that denies, counts, limits or compares may not, nor one that stands beside the noun
or the verb of a slot ("hanging sliders"). What may be left out is listed; what is in no list may not.
"""

from __future__ import annotations

import re

from hitlab.asking.text import Text, Word
from hitlab.idle_words import ADDRESS, GRAMMAR, WEIGHTY

__all__ = ["IDLE_IN_TALK", "TURNING", "plain_word", "risky", "take_lead"]

TURNING = frozenset(
    (
        *("down", "cut", "half", "halved", "drop", "drops", "dropped", "disappear", "disappears"),
        *("vanish", "vanished", "stop", "stops", "stopped", "colder", "worse", "rarely", "seldom"),
        *("barely", "hardly", "without", "under", "below"),
    )
)
"""Words that may turn round how often something is done: with no more or less beside, nothing is offered."""
# fmt: off
_ADVERBS = frozenset((
    "absolutely", "actually", "admittedly", "amazingly", "basically", "boldly", "bravely", "calmly",
    "candidly", "certainly", "cheerfully", "clearly", "coolly", "definitely", "evidently", "famously",
    "fiercely", "frankly", "furiously", "genuinely", "gladly", "gleefully", "gracefully", "happily",
    "honestly", "humbly", "incredibly", "interestingly", "magnificently", "merrily", "naturally",
    "notably", "obviously", "oddly", "openly", "plainly", "politely", "predictably", "presumably",
    "proudly", "quickly", "quietly", "remarkably", "ruthlessly", "sadly", "savagely", "seriously",
    "simply", "sincerely", "strangely", "stubbornly", "surely", "surprisingly", "thankfully", "truly",
    "undeniably", "understandably", "undoubtedly", "unfortunately", "unquestionably", "unsurprisingly",
    "utterly", "viciously", "visibly", "wonderfully",
))
"""Adverbs that change neither how often something is done nor where, nor whether it is so."""
_ANYWHERE = ADDRESS | frozenset((
    "guess", "think", "bet", "say", "says", "said", "fact",
))
_PRAISE = frozenset((
    "pretty", "again", "indeed", "can", "kid", "fella", "fellow", "lad", "lass", "gal", "rookie",
    "veteran", "slugger", "youngster", "star", "superstar", "phenom", "ace", "mighty", "famed", "great",
    "beloved", "gifted", "talented", "young", "feared", "famous", "legendary", "wonderful", "amazing",
    "incredible", "marvelous", "sensational", "brilliant", "fantastic", "fine", "nice", "dear", "old",
    "dangerous", "mister", "mr", "mrs", "ms", "master", "himself", "herself", "boy", "girl", "everyone",
    "hereby", "somehow", "thus", "therefore", "hence", "moreover", "furthermore", "also", "damn",
    "darn", "freaking", "friggin", "hell", "heck", "super", "mega", "ultra", "test", "claim",
    "statement", "hypothesis", "verify", "confirm", "whether", "ha", "homework", "exercise",
    "underlying", "true", "real", "really", "ever", "seen", "sweet", "swinger", "evidence", "sits",
    "stands", "become", "becomes", "became", "remains", "proven", "certified", "bona", "fide",
    "undisputed", "outright", "name", "named", "called", "sort", "kinda", "sorta", "must", "tends",
    "tend", "keeps", "keep", "continues", "continue", "bloody", "absolute", "total", "complete", "pure",
    "plain", "sheer", "ability", "abilities", "skill", "skills", "tool", "tools", "talk", "email",
    "listener", "there",
))
_TALK = GRAMMAR | frozenset((
    "yo", "um", "im", "ive", "id", "ill", "weve", "youre", "youve", "youd", "youll", "ya", "yall",
    "hes", "shes", "thats", "theres", "heres", "tells", "telling", "told", "saying", "know", "knows",
    "thinks", "swear", "promise", "wager", "listen", "look", "looking", "see", "watch", "hear",
    "hearing", "heard", "ask", "asking", "believe", "right", "yep", "man", "wow", "dang", "sheesh",
    "jeez", "whoa", "skip", "got", "get", "let", "thank", "pls", "plz", "thx", "talking", "mark",
    "notes", "tell",
))
_SPEAKERS = frozenset((
    "sense", "study", "under", "kids", "class", "students", "listeners", "viewers", "readers",
    "feeling", "hunch", "view", "idea", "notion", "theory", "question", "somebody", "someone", "pull",
    "check", "point", "thesis", "finding", "everybody", "team", "staff", "boss", "scout", "scouts",
    "producer", "daughter", "son", "wife", "husband", "mother", "father", "uncle", "aunt", "mom", "dad",
    "neighbor", "neighbour", "grandma", "grandpa", "dog", "cat", "viewer", "text", "caller", "writer",
    "reader", "fan", "fans", "analyst", "broadcaster", "announcer", "people", "player", "mine",
    "article", "report", "paper", "book", "from", "been", "whole", "park", "yard", "town", "building",
    "ballpark", "stadium", "dugout", "booth", "in", "has", "have", "lede", "lead", "headline", "column",
    "copy", "caption", "draft", "script", "desk", "editor", "colleague", "partner", "intern", "buddy",
    "proud",
))
# fmt: on
_HARMLESS = _ANYWHERE | _PRAISE
"""Idle beside the words of a claim."""
IDLE_IN_TALK = _ANYWHERE | _TALK | _ADVERBS
"""Of these a clause beside a claim may consist and be left out, and of no other words."""
_LEADING = _HARMLESS | IDLE_IN_TALK | _SPEAKERS
"""Idle in front of a claim that somebody is said to make."""
_SUBJECTS = ("<who>", "<nobody>", "<whose>", "<theleague>", "<anybody>")
_PAUSE = frozenset(",.:;!?")


def risky(text: Text, strange: list[Word]) -> list[Word]:
    """Return those of the words that nothing explains which could change what is asked."""
    unsafe = []
    words = text.words
    for word in strange:
        place = next(n for n, one in enumerate(words) if one is word)
        harmless = word.text in _HARMLESS and not _narrows(words, place)
        if not (harmless or word.text in _ADVERBS or _leads_in(words, place, text.said)):
            unsafe.append(word)
    return unsafe


def plain_word(word: str) -> bool:
    """Say whether a word is known for one of the language, and so is no name that was typed wrongly."""
    return word in WEIGHTY or word in _HARMLESS or word in _ADVERBS


_GROUP = (
    *("hitter", "hitters", "batter", "batters", "pitcher", "pitchers", "club", "clubs", "team"),
    *("player", "players"),
)


def _narrows(words: list[Word], place: int) -> bool:
    """Say whether a word stands where it says among whom is compared: "the best rookie hitter"."""
    before = words[place - 1].text if place else ""
    behind = words[place + 1].text if place + 1 < len(words) else ""
    if [word.text for word in words[max(place - 2, 0) : place]] in (["for", "a"], ["for", "an"]):
        return True  # "More than most for a rookie": among rookies.
    oath = words[place].text in (
        *("damn", "darn", "freaking", "friggin", "bloody", "absolute", "outright", "name", "seen"),
    )
    return not oath and (
        before in ("<best>", "<most>", "<top>", "<leads>", "<more>", "<better>", "any", "<anyone>")
        or (behind in _GROUP and before != "<who>")
    )


def _leads_in(words: list[Word], place: int, said: list[str]) -> bool:
    """Say whether a word stands in front of the one whom it is about, in words that only lead to the name."""
    begin = place
    while begin > 0 and words[begin - 1].text not in _PAUSE:
        begin -= 1
    end = begin
    while end < len(words) and not words[end].text.startswith("<") and words[end].text not in _PAUSE:
        end += 1
    if not begin <= place < end or end == len(words) or words[end].text not in _SUBJECTS:
        return False
    lead = [word.text for word in words[begin:end]]
    names = [said[word.at] for word in words[max(begin, 1) : end]]
    return (
        "under" not in (lead[0], lead[-1])
        and lead[:2] != ["in", "theory"]
        and lead[-1] != "and"
        and all(word in _LEADING for word in lead)
        and not any(name[:1].isupper() and name != "I" for name in names)
    )


_SAYING = (
    r"(?:asks?|asked|asking|wonders?|wondered|wondering|curious|check|checks|checking|pull|"
    r"pulls|see|know|knows|find out|"
    r"decide|unsure|debating|debate|argue about|question)"
)
_CLAIMING = (
    r"(?:says?|said|saying|claims?|claimed|claiming|swears?|swore|thinks?|thought|thinking|"
    r"believes?|believed|believing|"
    r"convinced|sure|certain|adamant|positive|insists?|insisted|insisting|tells?|told|telling|"
    r"argues?|argued|arguing|"
    r"reports?|reported|reporting|notes?|noted|noting|hears?|heard|reads?|read|reckons?|"
    r"figures?|suspects?|guesses|"
    r"shows?|showed|suggests?|suggested|writes?|wrote|writing|texted|emailed|mentioned|"
    r"announced|states?|stated|conjectured|"
    r"hypothesized|claimed|assumed|expected|alleged|known|rumored)(?: (?:me|us|you|him|her|it|everybody))?"
)
_LEAD = re.compile(
    rf"^ ((?:[^\W_]+ )*?(?:{_SAYING} (?:if|whether|how often|that)|{_CLAIMING} that|{_CLAIMING}(?= <)))"
    r"(?= (?:<|is |does |do |are |has |have |hitters |batters |nobody |no one |no |the |a |in |"
    r"there |which |who |any))"
)
_SPOKEN = re.compile(rf"{_SAYING}|{_CLAIMING}|if|whether|how|often|him|her|out|about")
"""Words of those patterns."""


def take_lead(text: Text) -> str:
    """Take off who says a claim or asks about it: "a listener asks whether"; return it as it was said.

    Every word of it is known to be idle there.
    """
    match = _LEAD.match(text.line())
    if match is None:
        return ""
    lead = match[1].split()
    if not all(word in _LEADING or _SPOKEN.fullmatch(word) for word in lead):
        return ""
    taken, text.words = text.words[: len(lead)], text.words[len(lead) :]
    return " ".join(text.said[at] for at in dict.fromkeys(word.at for word in taken))
