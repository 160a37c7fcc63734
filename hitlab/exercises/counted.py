"""What the numbers of a sentence count, and of what: each as in our own sentences, or it is not told right.

A number that was shown may still stand in the wrong place: 108 of 103 swings, 547 hits, a chance of 9 % where
nine balls were seen. So each is held to what it counts ("547 swings", "a 26% chance") and to the number that
it is a part of ("108 of 547"), as they stand in the model, in the good sentences, or in ``Sentence.phrases``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

__all__ = ["miscounted"]

_THINGS = {
    "swings": "swing swings",
    "hits": "ball balls hits contact contacts",
    "hitters": "hitter hitters regulars regular qualifiers women men everybody choices",
    "others": "others else teammates",
    "pitches": "pitch pitches",
    "fouls": "foul fouls",
    "misses": "misses whiffs",
    "leagues": "leagues seasons attempts tries",
    "games": "game games inning innings week weeks",
    "chances": "chance chances likely unlikely likelihood probability probable sure certain certainty "
    "confidence confident level odds",
    "times": "time times",
    "late": "milliseconds ms thousandths seconds second",
    "degrees": "degree degrees",
    "inches": "inch inches",
    "mph": "mph miles",
}
_COUNTED = {word: thing for thing, words in _THINGS.items() for word in words.split()}
# fmt: off
_BETWEEN = frozenset((
    "hard", "late", "foul", "hit", "such", "next", "first", "last", "own", "of", "her", "his", "the",
    "their", "these", "those", "our", "all", "or", "and", "more", "plus", "simulated", "invented",
    "regular", "qualified", "qualifying", "league", "'s", "a", "opening", "listed", "other",
))
"""Words between a number and what it counts."""
# fmt: on
_ARTICLES = frozenset(
    ["the", "all", "our", "these", "those", "about", "only", "just", "roughly", "around", "some"]
)
_AT_LEAST = frozenset(["with", "least", "minimum", "have", "took", "taking"])
_AMONG = frozenset(["among", "of", "from", "'s"])
_BEFORE = frozenset(
    ["is", "are", "was", "of", "about", "only", "just", "at", "the", "that", "roughly", "around", "with", "a"]
)
"""Words between a chance and its number."""
_NUMBER = r"\.?\d[\d.]*(?:%|th)?"
_NO_PART = "one|two|instead|with|who|against|among|at|than|but|and|to"
_PART = re.compile(
    rf"(?<=\s)({_NUMBER}|one|two|once)(?=((?: (?!(?:{_NO_PART}) |\d)[a-z<>'-]+){{0,3}}?) "
    rf"(?:in|of|out of|on|from|for)"
    rf"(?: (?:her|his|the|their|those|these|all|of|an?|our|every|<[ab]> 's|first|next|such))*"
    rf" ({_NUMBER})(?=\s))"
)
_LISTS = frozenset(["list", "table", "chart", "ranking"])
_REACH = 4  # words


def miscounted(said: str, ours: Iterable[str]) -> frozenset[int]:
    """Return where the numbers stand that count something else than in our own sentences.

    Parameters
    ----------
    said
        The sentence, as ``accounting.plainly`` gives it.
    ours
        Our own, likewise.

    Returns
    -------
    frozenset
        Places of their first letters.
    """
    known = {what for one in ours for _, what in _counts(one)}
    return frozenset(place for place, what in _counts(said) if what not in known)


def _counts(said: str) -> Iterator[tuple[int, tuple[str, ...]]]:
    """Give the place of each number with what it counts, or is a part of: ``("108", "of", "547")``."""
    places = list(re.finditer(r"\S+", said))
    words = [place[0] for place in places]
    parts = set[int]()
    for found in _PART.finditer(said):
        parts |= {found.start(), found.start(3)}
        yield found.start(), (found[1], "of", found[3])
    for n, place in enumerate(places):
        if not re.fullmatch(_NUMBER, place[0]):
            continue
        thing = _thing(words, n)
        if thing:
            yield place.start(), (place[0], thing)
        elif place.start() not in parts:
            before = next((word for word in reversed(words[:n]) if word not in _ARTICLES), ",")
            yield place.start(), (place[0], _stands(before))


def _stands(before: str) -> str:
    """Return how a number stands that counts nothing told, by the word before it."""
    if before in _AT_LEAST:
        return "at least"
    if before in _AMONG:
        return "among"
    return before if before == "than" else "alone"


def _thing(words: list[str], at: int) -> str:
    """Return what a number counts; nothing where that is not told."""
    other = at > 0 and words[at - 1] == "other"
    if words[at - 1] == "of" and words[at - 2] in _LISTS:
        return "on the list"
    a_share = words[at][0] == "." or words[at].endswith("%")
    if a_share and " ".join(words[at + 1 : at + 3]).startswith(("hard", "late", "of them")):
        return "of the record"
    for ahead in words[at + 1 : at + 2 + _REACH]:
        if ahead in _COUNTED:
            each = _COUNTED[ahead] == "swings" and words[at - 1] in _AT_LEAST
            return "others" if other else "swings each" if each else _COUNTED[ahead]
        if ahead not in _BETWEEN:
            break
        other = other or ahead == "other"
    if other:
        return "others"
    if words[at].endswith("%"):
        for before in reversed(words[max(0, at - _REACH) : at]):
            if _COUNTED.get(before) == "chances":
                return "chances"
            if before not in _BEFORE:
                break
    return ""
