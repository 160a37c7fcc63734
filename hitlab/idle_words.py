"""Words of a sentence that claim nothing, and words that may turn over what it claims.

Whoever reads a sentence may pass over the first, and over the second never.
"""

from __future__ import annotations

__all__ = ["ADDRESS", "GRAMMAR", "WEIGHTY"]

# fmt: off
GRAMMAR = frozenset((
    "a", "an", "the", "this", "that", "these", "those", "my", "our", "your", "i", "you", "we", "he", "she",
    "it", "they", "me", "us", "its", "am", "is", "are", "be", "do", "does", "to", "for", "of", "with",
    "and", "so", "now", "here", "hey", "okay", "yes", "yeah", "coach", "fellas", "ladies", "gentlemen",
))
"""Articles, pronouns, what joins words, and calls before a sentence."""
ADDRESS = frozenset((
    "buddy", "pal", "friends", "friend", "folks", "then", "well", "oh", "ok", "hmm", "please", "thanks",
))
"""How somebody is spoken to, wherever it stands."""
WEIGHTY = frozenset((
    "not", "no", "never", "nobody", "noone", "nor", "neither", "none", "nothing", "hardly", "barely",
    "scarcely", "rarely", "seldom", "without", "doubt", "doubts", "deny", "denies", "denied",
    "disprove", "refute", "reject", "false", "myth", "wrong", "untrue", "nonsense", "lie", "lies",
    "unlikely", "impossible", "disagree", "disagrees", "dispute", "forget", "fail", "fails", "failed",
    "cannot", "stop", "stops", "stopped", "refuse", "refuses", "avoid", "avoids", "lack", "lacks",
    "lacking", "contrary", "opposite", "instead", "unable", "quit", "quits", "ceased", "excluded",
    "excepted", "included", "aside", "minus", "dreams", "why", "often", "foot", "except", "excluding",
    "including", "besides", "apart", "only", "just", "if", "unless", "when", "whenever", "while",
    "whereas", "because", "since", "until", "till", "once", "after", "before", "during", "despite",
    "although", "though", "but", "yet", "however", "provided", "assuming", "suppose", "supposing",
    "imagine", "or", "than", "other", "others", "otherwise", "else", "same", "different", "mainly",
    "mostly", "largely", "partly", "especially", "particularly", "specifically", "merely", "solely",
    "alone", "almost", "nearly", "exactly", "precisely", "likely", "unlike", "per", "both", "either",
    "each", "every", "any", "some", "few", "several", "many", "most", "more", "less", "least", "fewer",
    "half", "double", "twice", "thrice", "triple", "dozen", "percent", "points", "first", "last",
    "second", "third", "next", "previous", "previously", "former", "formerly", "another", "rest",
    "equally", "similarly", "differently", "relatively", "proportionally", "today", "yesterday",
    "tonight", "tomorrow", "night", "nights", "morning", "afternoon", "evening", "week", "weeks",
    "weekend", "month", "months", "day", "days", "daily", "weekly", "monthly", "early", "late",
    "earlier", "later", "lately", "recently", "april", "june", "july", "august", "september", "october",
    "may", "march", "november", "december", "january", "february", "monday", "tuesday", "wednesday",
    "thursday", "friday", "saturday", "sunday", "was", "were", "used", "might", "could", "should",
    "will", "would", "shall", "inning", "innings", "initially", "originally", "eventually", "finally",
    "suddenly", "temporarily", "currently", "nightly", "yearly", "annually", "historically",
    "potentially", "theoretically", "allegedly", "faster", "slower", "rally", "family", "longer",
    "shorter", "bigger", "smaller", "fly", "rule", "ruled", "rules", "little", "out", "good",
    "bluff", "bluffs", "joke", "jokes", "joking", "pretend", "pretends", "pretended", "supposed",
    "mistake", "mistaken", "exaggerate", "exaggerates", "exaggeration", "debunk", "debunked", "debunks",
    "legend", "hoax", "doubtful", "doubted", "questionable", "against", "denying", "disproved",
    "disproves", "rejected", "rejects", "overstate", "overstated", "fiction", "fantasy", "cease",
    "ceases", "poor", "bad", "hard", "soft", "corrected", "correct", "tired", "rested",
    "summer", "spring", "autumn", "fall", "winter", "midday", "noon", "dusk", "dawn", "midnight",
    "lying", "hope", "wish", "dream", "elsewhere", "weekends", "meant", "kidding", "lied", "maximum",
    "minimum", "max", "min", "tops", "reverse", "sarcasm", "tease", "jest", "retract",
))
"""Words that deny, limit, compare, count or date: none is passed over."""
# fmt: on
