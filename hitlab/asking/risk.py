"""Words that nothing explains: which of them may be left out, said in the open, and which forbid an answer.

A word may be left out where it cannot change what is asked: an adverb of manner, a word that praises or calls
somebody something, a clause of talk before or behind the claim. One that denies, counts, limits or compares
may not, nor one that stands beside the noun or the verb of a slot ("hanging sliders").
"""

from __future__ import annotations

import re
from collections.abc import Callable

from hitlab.asking.talk import common_talk
from hitlab.asking.text import Text, Word
from hitlab.names import fold

__all__ = ["asides", "plain_word", "risky", "take_lead"]

# fmt: off
_WEIGHTY = frozenset((
    # Denials and doubts.
    "not", "no", "never", "nobody", "noone", "nor", "neither", "none", "nothing", "hardly", "barely",
    "scarcely", "rarely", "seldom", "without", "doubt", "doubts", "deny", "denies", "denied", "disprove",
    "refute", "reject", "false", "myth", "wrong", "untrue", "nonsense", "lie", "lies", "unlikely",
    "impossible", "disagree", "disagrees", "dispute", "forget", "fail", "fails", "failed", "cannot", "stop",
    "stops", "stopped", "refuse", "refuses", "avoid", "avoids", "lack", "lacks", "lacking", "contrary",
    "opposite", "instead", "unable", "quit", "quits", "ceased",
    # Limits and conditions.
    "excluded", "excepted", "included", "aside", "minus", "dreams", "why", "often", "foot",
    "except", "excluding", "including", "besides", "apart", "only", "just", "if", "unless", "when",
    "whenever", "while", "whereas", "because", "since", "until", "till", "once", "after", "before",
    "during", "despite", "although", "though", "but", "yet", "however", "provided", "assuming", "suppose",
    "supposing", "imagine", "or", "than", "other", "others", "otherwise", "else", "same", "different",
    "mainly", "mostly", "largely", "partly", "especially", "particularly", "specifically", "merely",
    "solely", "alone", "almost", "nearly", "exactly", "precisely", "likely", "unlike", "per", "both",
    "either", "each", "every", "any", "some", "few", "several", "many", "most", "more", "less", "least",
    "fewer", "half", "double", "twice", "thrice", "triple", "dozen", "percent", "points", "first", "last",
    "second", "third", "next", "previous", "previously", "former", "formerly", "another", "rest", "equally",
    "similarly", "differently", "relatively", "proportionally",
    # Times.
    "today", "yesterday", "tonight", "tomorrow", "night", "nights", "morning", "afternoon", "evening",
    "week", "weeks", "weekend", "month", "months", "day", "days", "daily", "weekly", "monthly", "early",
    "late", "earlier", "later", "lately", "recently", "april", "june", "july", "august", "september",
    "october", "may", "march", "november", "december", "january", "february", "monday", "tuesday",
    "wednesday", "thursday", "friday", "saturday", "sunday", "was", "were", "used", "might", "could",
    "should", "will", "would", "shall", "inning", "innings", "initially", "originally", "eventually",
    "finally", "suddenly", "temporarily", "currently", "nightly", "yearly", "annually", "historically",
    "potentially", "theoretically", "allegedly", "faster", "slower", "rally", "family", "longer", "shorter",
    "bigger", "smaller", "fly", "rule", "ruled", "rules", "little", "out", "good", "too", "bluff", "bluffs",
    "joke", "jokes", "joking", "pretend", "pretends", "pretended", "supposed", "mistake", "mistaken",
    "exaggerate", "exaggerates", "exaggeration", "debunk", "debunked", "debunks", "legend", "hoax",
    "doubtful",
    "doubted", "questionable", "against", "denying", "disproved", "disproves", "rejected", "rejects",
    "overstate",
    "overstated", "fiction", "fantasy", "cease", "ceases", "poor", "bad", "misses", "half", "hard", "soft",
    "corrected", "correct", "tired", "rested",
    "summer", "spring", "autumn", "fall", "winter", "midday", "noon", "dusk", "dawn", "midnight",
))
_LEADS_ASTRAY = frozenset((
    "of", "facing", "against", "for", "behind", "like", "to", "than", "from", "besides", "with", "by",
    "before", "after", "without", "versus", "and", "or", "over", "under", "between", "on", "in", "at", "as",
    "off",
))
_CONDITIONS = frozenset((
    "after", "before", "in", "on", "with", "against", "during", "without", "despite", "at", "under", "when",
    "if", "unless", "while", "until", "till", "since", "as", "because", "for", "among", "versus", "facing",
    "off", "to", "from", "whenever", "once", "where", "except", "than", "over", "between", "through", "by",
    "amid", "following", "per", "given", "but", "or", "nor", "though", "although", "yet", "whereas", "only",
    "especially", "minus", "plus",
))
_ADVERBS = frozenset((
    "absolutely", "actually", "admittedly", "amazingly", "basically", "boldly", "bravely", "calmly",
    "candidly",
    "certainly", "cheerfully", "clearly", "coolly", "definitely", "evidently", "famously", "fiercely",
    "frankly", "furiously", "genuinely", "gladly", "gleefully", "gracefully", "happily", "honestly", "humbly",
    "incredibly", "interestingly", "ironically", "magnificently", "merrily", "naturally", "notably",
    "obviously", "oddly", "openly", "plainly", "politely", "predictably", "presumably", "proudly", "quickly",
    "quietly", "remarkably", "ruthlessly", "sadly", "savagely", "seriously", "simply", "sincerely",
    "strangely", "stubbornly", "surely", "surprisingly", "thankfully", "truly", "undeniably",
    "understandably", "undoubtedly", "unfortunately", "unquestionably", "unsurprisingly", "utterly",
    "viciously", "visibly", "wonderfully",
))
"""Adverbs that change neither how often something is done nor where, nor whether it is so."""
_LEADING_WORDS = frozenset((
    "claim", "sense", "study", "under", "tell", "kids", "class", "students", "listeners", "viewers",
    "readers",
    "feeling", "hunch", "view", "idea", "notion", "theory", "question", "statement", "somebody", "someone",
    "pull", "check", "is", "that", "the", "my", "our", "a", "can", "we", "i", "you", "me", "us", "whether",
    "if", "and", "so", "well", "now", "today's", "here", "point", "thesis", "finding", "everyone",
    "everybody",
    "folks", "team", "staff", "boss", "please",
))
_HARMLESS = frozenset((
    "pretty", "again", "indeed", "can", "kid", "fella", "fellow", "lad", "lass", "gal", "rookie", "veteran",
    "slugger", "youngster", "star", "superstar", "phenom", "ace", "mighty", "famed", "great", "beloved",
    "gifted", "talented", "young", "feared", "famous", "legendary", "wonderful", "amazing", "incredible",
    "marvelous", "sensational", "brilliant", "fantastic", "fine", "nice", "dear",
    "old", "dangerous", "mister", "mr", "mrs", "ms", "master", "himself", "herself", "boy", "girl",
    "buddy", "pal", "friends", "friend", "everyone", "folks", "hereby", "somehow", "thus", "therefore",
    "hence", "moreover", "furthermore", "also", "damn", "darn", "freaking", "friggin", "hell",
    "heck", "super", "mega", "ultra", "guess", "think", "bet", "say", "says", "said",
    "test", "claim", "statement", "hypothesis", "verify", "confirm", "whether", "then", "well", "oh",
    "ok", "hmm", "ha", "please", "thanks", "homework", "exercise", "underlying", "true", "real", "really",
    "best", "ever", "seen", "bat", "sweet", "swing", "swinger", "evidence", "sits", "stands", "become",
    "becomes", "became", "remains", "proven", "certified", "bona", "fide", "undisputed", "simply",
    "outright", "name", "named", "called", "fact", "sort", "kinda", "sorta", "must", "tends",
    "tend", "keeps", "keep", "continues", "continue",
    "bloody", "absolute", "total", "complete", "pure", "plain", "sheer", "ability", "abilities", "skill",
    "skills", "tool", "tools", "talk", "email", "listener", "there",
)) - {"bat", "swing", "best"}
# fmt: on
_ADVERB = re.compile(r"[a-z]{3,}ly")
_TALKS = frozenset(
    ("i", "we", "you", "they", "somebody", "someone", "my", "our", "speaking", "talking", "what", "how")
)
_SUBJECTS = ("<who>", "<nobody>", "<whose>", "<theleague>", "<anybody>")
_PAUSE = frozenset(",.:;!?")


def risky(text: Text, strange: list[Word]) -> list[Word]:
    """Return those of the words that nothing explains which could change what is asked."""
    unsafe = []
    words = text.words
    for word in strange:
        place = next(n for n, one in enumerate(words) if one is word)
        if (
            _weighs(word.text)
            or any(letter.isdigit() for letter in word.text)
            or (word.text in _HARMLESS and _narrows(words, place))
        ):
            unsafe.append(word)
        elif word.text in _HARMLESS or word.text in _ADVERBS or _leads_in(words, place, text.said):
            continue
        else:
            unsafe.append(word)
    return unsafe


def plain_word(word: str) -> bool:
    """Say whether a word is known for one of the language, and so is no name that was typed wrongly."""
    return word in _WEIGHTY or word in _HARMLESS or word in _ADVERBS


def _weighs(word: str) -> bool:
    """Say whether a word may deny, limit, count or date something, as an adverb may that is not harmless."""
    day = word.removesuffix("s") if word.endswith(("days", "nights")) else word
    return word in _WEIGHTY or day in _WEIGHTY or (bool(_ADVERB.fullmatch(word)) and word not in _ADVERBS)


_GROUP = (
    "hitter",
    "hitters",
    "batter",
    "batters",
    "pitcher",
    "pitchers",
    "club",
    "clubs",
    "team",
    "player",
    "players",
)


def _narrows(words: list[Word], place: int) -> bool:
    """Say whether a word stands where it says among whom is compared: "the best rookie hitter"."""
    before = words[place - 1].text if place else ""
    behind = words[place + 1].text if place + 1 < len(words) else ""
    oath = words[place].text in (
        "damn",
        "darn",
        "freaking",
        "friggin",
        "bloody",
        "absolute",
        "outright",
        "name",
        "seen",
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
        lead[0] not in _CONDITIONS
        and lead[-1] not in _LEADS_ASTRAY
        and all(word in _LEADING_WORDS or word in _HARMLESS or word in _ADVERBS for word in lead)
        and not any(word in _WEIGHTY - {"is"} for word in lead)
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


def take_lead(text: Text) -> str:
    """Take off who says a claim or asks about it: "a listener asks whether"; return it as it was said.

    What denies, limits or sets a condition is no such lead.
    """
    match = _LEAD.match(text.line())
    if match is None:
        return ""
    lead = match[1].split()
    # When it was said is no part of what was said: "this morning the coach said".
    if lead[0] in _CONDITIONS or any(_weighs(word) and word not in _HOURS for word in lead[:-1]):
        return ""
    if _weighs(lead[-1]) and lead[-1] != "if":
        return ""
    taken, text.words = text.words[: len(lead)], text.words[len(lead) :]
    return " ".join(text.said[at] for at in dict.fromkeys(word.at for word in taken))


_HOURS = frozenset(("today", "yesterday", "tonight", "morning", "afternoon", "evening", "night", "last"))
_PART = re.compile(r"[^,;:.!?()—–]+(?:\.\d+[^,;:.!?()—–]*)*[,;:.!?()—–]*\s*")
_IDLE = frozenset(
    (
        "was",
        "were",
        "or",
        "over",
        "day",
        "last",
        "good",
        "out",
        "too",
        "little",
        "against",
        "bad",
        "poor",
        "hard",
        "joke",
        "summer",
        "spring",
        "fall",
    )
)
"""Weighty beside a claim, and idle in talk that stands apart from it."""


def asides(
    sentence: str, names: frozenset[str], claims: Callable[[str], bool], called: frozenset[str] = frozenset()
) -> list[tuple[str, str]]:
    """Return what a sentence is without talk before and behind its claim, the most of it left first.

    Parameters
    ----------
    sentence
        As it was typed.
    names
        The words of all names, folded.
    claims
        Says whether a part says something of its own.
    called
        Words that stand alone where somebody is spoken to, and are nobody's name: ``I'll tell you, Jim,``.

    Returns
    -------
    list
        Sentence and what was left out of it, in pairs.
    """
    parts = _PART.findall(sentence)
    if not 1 < len(parts) <= 30:
        return []
    talk = common_talk(parts, names, claims, called)
    idle = [
        talk[n] or (_is_talk(part, names, first=n == 0) and not claims(part)) for n, part in enumerate(parts)
    ]
    before = next((n for n, talk in enumerate(idle) if not talk), len(parts))
    behind = next((n for n, talk in enumerate(reversed(idle)) if not talk), len(parts))
    if before + behind >= len(parts):
        return []
    tried = [(before, behind)] if before or behind else []
    told = [
        (
            "".join(parts[a : len(parts) - b]),
            " ".join("".join((*parts[:a], *parts[len(parts) - b :])).split()),
        )
        for a, b in tried
    ]
    inner = [n for n in range(before, len(parts) - behind) if not idle[n]]
    core = "".join(parts[n] for n in inner)
    if len(inner) < len(parts) - behind - before:
        told.append((core, " ".join("".join(part for n, part in enumerate(parts) if n not in inner).split())))
    return told


def _is_talk(part: str, names: frozenset[str], *, first: bool) -> bool:
    """Say whether a part between two pauses is talk that neither limits nor denies nor claims anything."""
    words = fold(re.sub(r"[^\w'’]+", " ", part)).split()
    if not words:
        return True
    opening = words[1:] if words[0] in ("and", "so", "then", "well") else words
    opening = opening[1:] if opening[:1] == ["then"] else opening
    told_on = words[0] not in ("and", "so") or (opening and opening[0] in ("i", "we", "you"))
    return bool(
        opening
        and told_on
        and opening[0] not in _CONDITIONS
        and not {"hitters", "batters", "pitchers", "clubs", "teams", "players", "regulars"} & set(words)
        and (not re.fullmatch(r"\w+(?:ed|ing)", opening[0]) or _TALKS & set(words))
        and not any(_weighs(word) and word not in _IDLE for word in words)
        and not any(
            word in names or (word.endswith("s") and word[:-1] in names and len(word) > 5) for word in words
        )
        and not re.search(r"\d|n't\b", part.replace("’", "'"))
        and not (not first and re.search(r"(?<!^)(?<=\s)[A-Z][a-z]", part))
    )
