"""How sure a sentence is of what: each chance stands with what it is a chance of in our own sentences.

"18 % that she is the best" and "18 % that somebody else is better" are made of the same words, and one of
them is false. So every clause that weighs something (a chance in figures, "likely", "open", "may") is held to
those of the model, of the good sentences, and of ``Sentence.phrases``, by the few words that tell what it
weighs: who, better or worse, more or less, luck, and whether it is denied.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

__all__ = ["WEIGHING", "misweighed"]

_ENDS = frozenset(["and", "but", "yet", "so", "though", "although", "while", "which", "because", "since"]) | {
    ","
}
_TOLD_BY = {
    "not": "not no never none nor neither hardly scarcely barely without rarely seldom",
    "nobody": "nobody",
    "else": "else another other others somebody someone anybody anyone",
    "all": "every everybody everyone any",
    "best": "best number highest",
    "better": "better",
    "worse": "worse worst",
    "later": "later late",
    "earlier": "earlier",
    "luck": "luck lucky fluke coincidence noise fortune",
    "skill": "skill anything",
    "less": "below under lower less fewer beneath",
    "more": "above over higher more greater beyond",
    "out": "outside wrong misses",
    "in": "inside between within",
    "first": "first leads lead leading leader ahead",
    "behind": "behind trails last",
    "lasts": "keep keeps last lasts stay staying up",
    "too much": "too",
    "together": "together link linked related hand",
    "good": "good",
    "b": "<b>",
}
_KEYS = {word: key for key, words in _TOLD_BY.items() for word in words.split()}
_NEARLY = frozenset(["almost", "nearly", "quite", "practically", "virtually", "most"])
_TURN = frozenset(("not", "less", "more"))
"""Of the keys, what turns a sentence over once more where it stands twice."""
_TRULY = frozenset(("truly", "really", "true", "real"))
_WEIGHS = {
    "likely": "likely probably probable presumably",
    "unlikely": "unlikely improbable improbably shot",
    "doubt": "doubt doubtful doubted",
    "even": "even coin toss",
    "open": "open unclear uncertain undecided unsettled unproven",
    "settled": "settled settles clear certain certainly sure surely known know",
    "too early": "early soon",
    "may": "may might could maybe perhaps possibly",
    "chance": "chance chances odds probability",
    "luck": _TOLD_BY["luck"],
    "asked": "whether",
}
WEIGHING = frozenset(word for words in _WEIGHS.values() for word in words.split())
"""Words that weigh: known everywhere, and only their place may not be."""
_WEIGHTS = {word: weight for weight, words in _WEIGHS.items() for word in words.split()}
_ASIDE = 4  # words of a clause that only weighs the one before it: "..., most likely"
_SHARE = re.compile(
    r"(?<=\s)(one|two|once|\d\d?)(?: [a-z]+){0,2}? (?:in|of|out of|to) (?:an? |every )?"
    r"(10|[2-9]|100|one)(?=\s)"
)
_SAME = {"1": "one", "once": "one", "2": "two"}


def misweighed(said: str, ours: Iterable[str]) -> frozenset[int]:
    """Return where something is weighed otherwise than in our own sentences.

    Parameters
    ----------
    said
        The sentence, as ``accounting.plainly`` gives it.
    ours
        Our own, likewise.

    Returns
    -------
    frozenset
        Places of the first letters of what weighs it.
    """
    known = {what for one in ours for _, what in _weighed(one)}
    return frozenset(at for places, what in _weighed(said) if what not in known for at in places)


def _weighed(said: str) -> Iterator[tuple[tuple[int, ...], frozenset[str]]]:
    """Give each clause that weighs something: where that stands, and what tells what it weighs."""
    clause: list[re.Match[str]] = []
    before: list[str] = []
    for place in re.finditer(r"\S+", said + " ,"):
        if place[0] not in _ENDS or (place[0] == "but" and clause and clause[-1][0] == "nothing"):
            clause.append(place)
            continue
        if clause:
            begin, end = clause[0].start(), clause[-1].end()
            weights = dict(_weights(f" {said[begin:end]} "))
            if weights:
                words = [one[0] for one in clause]
                keys = _keys(words) or (before if len(words) <= _ASIDE else [])
                yield (
                    tuple(begin + at - 1 for at in weights),
                    frozenset({*keys, *weights.values()}),
                )
            before = _keys([one[0] for one in clause])
        clause = []


def _keys(words: list[str]) -> list[str]:
    """Return what a clause is about, in keys; one that stands there twice a second time as well."""
    found: list[str] = []
    for word, before, after in zip(words, ["", *words], [*words[1:], ""], strict=False):
        key = _KEYS.get(word, "")
        if key == "first" and before in _TRULY:
            key = "best"
        if not key or (word == "more" and after in ("likely", "unlikely")):
            continue
        if (key == "good" and _KEYS.get(after) == "luck") or (word == "over" and after[-1:] != "%"):
            continue
        found.append(f"{key} again" if key in found and key in _TURN else key)
    return found


def _weights(clause: str) -> Iterator[tuple[int, str]]:
    before = ""
    for found in re.finditer(r"\S+", clause):
        weight = _WEIGHTS.get(found[0], found[0] if found[0].endswith("%") else "")
        if weight == "settled" and (before in _NEARLY or before.endswith("%")):
            weight = "nearly settled"
        if weight == "luck" and before == "by":
            weight = "by luck"
        if weight:
            yield found.start(), weight
        before = found[0]
    for found in _SHARE.finditer(clause):
        if found[2] == "one" and " to one" not in found[0]:  # "two swings of one hitter"
            continue
        yield found.start(), f"{_SAME.get(found[1], found[1])} of {found[2]}"
