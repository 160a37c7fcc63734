"""Whether words stand as in a sentence: words of the trade thrown together are no question.

Each rule names two words that no sentence has side by side, or a word in front of what it has to follow; none
of them occurs in the sentences that people say (``tests/asked_sentences*.json``). Where one is found, what
could be made of the words is asked back.
"""

from __future__ import annotations

from itertools import pairwise

from hitlab.asking.text import Text, Word

__all__ = ["out_of_order"]

_END = ""
# fmt: off
_HELPERS = frozenset(("is", "are", "was", "were", "does", "do", "did", "has", "have", "had"))
_PAUSES = frozenset((",", ".", ";", ":", "?", "!", _END))
_NAMELESS = frozenset(("he", "she", "they", "it", "we", "i"))
_PLACES = frozenset(("in", "on", "at", "by"))
_NEVER_BESIDE: tuple[tuple[frozenset[str], frozenset[str]], ...] = (
    # An article, or whose something is, leads to a noun.
    (
        frozenset(("the", "a", "an")),
        frozenset(("the", "a", "an", "of", "than", "and", "or", "to", "with", "for", "from", "against"))
        | frozenset(("when",)) | _HELPERS | _NAMELESS | _PAUSES | _PLACES,
    ),
    (
        frozenset(("his", "their", "my", "our", "your")),
        frozenset(("the", "a", "an", "of", "than", "and", "or", "to", "with", "from", "against", "when"))
        | _HELPERS | _NAMELESS,
    ),
    # What leads to somebody or something.
    (
        frozenset(("of", "with", "from", "against", "for")),
        frozenset(("of", "than", "and", "or", "to")) | _HELPERS,
    ),
    (frozenset(("of", "with", "against")), frozenset(("in", "on"))),
    (frozenset(("in", "on", "at")), frozenset(("of", "does", "did", "has", "have"))),
    (frozenset(("in", "at", "by", "than")), frozenset(("than", "or"))),
    (frozenset(("than", "and", "or")), frozenset(("of", "or", "than")) | _PAUSES - {","}),
    (frozenset(("is", "are", "does", "do", "has", "have")), frozenset(("does", "did", "than"))),
    *((frozenset((word,)), frozenset((word,))) for word in ("is", "are", "has", "have")),
)
_COMPOUND = frozenset(("play", "base", "bat", "bats", "deck"))
"""Behind ``in``, ``on`` and ``at`` these make nouns: the in-play rate."""
_COMPARATIVES = frozenset((
    "more", "less", "fewer", "better", "worse", "other", "rather", "else", "different", "oftener",
    "likelier", "further",
))
_NOT_COMPARED = frozenset((
    "hitter", "batter", "pitcher", "player", "slider", "sinker", "cutter", "splitter", "heater", "over",
    "under", "after", "never", "ever", "her", "per", "whether", "either", "neither", "hander", "number",
    "runner", "another", "together",
))
# fmt: on


def out_of_order(sentence: str) -> tuple[str, ...]:
    """Return the words, as they were typed, that stand where no sentence has them; none where all can."""
    text = Text.of(sentence)
    words = text.words
    found: list[Word] = []
    for place, (one, other) in enumerate(pairwise([*words, Word(_END, -1)]), start=2):
        if other.text in _PLACES and place < len(words) and words[place].text in _COMPOUND:
            continue
        if place == 2 and other.text in _PAUSES:
            continue  # A word before the sentence begins: "And... she misses more".
        if any(one.text in ahead and other.text in behind for ahead, behind in _NEVER_BESIDE):
            found += [word for word in (one, other) if word.at >= 0]
    compared = next((n for n, word in enumerate(words) if _compares(word.text)), len(words))
    found += [word for word in words[:compared] if word.text == "than"]
    return tuple(text.said[at] for at in sorted({word.at for word in found}))


def _compares(word: str) -> bool:
    return word in _COMPARATIVES or (word.endswith("er") and word not in _NOT_COMPARED)
