"""What an unknown word of a chart may mean: a slip of a known word, one of several meanings, or nothing.

A suggestion is copied into a mapping, and every row of the word is then counted by it. So only a word of the
trade, or a slip of one, suggests a meaning: what merely shares letters with one of ours ("hit" with "hit by
pitch", "line" with "intentional ball") suggests nothing.
"""

from __future__ import annotations

from functools import cache

from hitlab.pitches.chart_words import AMBIGUOUS, NO_PITCH, OTHERS, WORDS
from hitlab.pitches.schema import COLUMNS
from hitlab.pitches.telling import TELLABLE, tell
from hitlab.pitches.wordforms import fold
from hitlab.pitches.words_abroad import OTHERS_ABROAD, WORDS_ABROAD

__all__ = ["KNOWN", "TELLING", "may_be", "near_word"]

TELLING = "telling"
"""In the place of a column: what one word may tell of several columns together."""

KNOWN = {fold(word): told for words in (WORDS, WORDS_ABROAD) for told, some in words.items() for word in some}
"""Folded word -> what it tells."""

_SHORT, _LONG = 5, 8  # letters: of shorter words a slip changes none, of longer ones two (a default)


def near_word(word: str, target: str) -> str:
    """Give the one meaning of a word, or of the words that it is a slip of; nothing where there is none.

    Parameters
    ----------
    word
        As it stands.
    target
        Our column that it would fill, or :data:`TELLING`.
    """
    from rapidfuzz.distance import OSA

    folded, meanings = fold(word), _meanings(target)
    if folded in meanings:
        return meanings[folded]
    if len(folded) < _SHORT - 1:
        return ""
    most = 2 if len(folded) >= _LONG else 1
    # The first letter is right in a slip: "doubled off" is none of "fouled off".
    alike = [one for one in meanings if one[0] == folded[0] and _digits(one) == _digits(folded)]
    far = {one: OSA.distance(folded, one, score_cutoff=most) for one in alike}
    near = {
        one: letters
        for one, letters in far.items()
        if letters <= most
        and (len(folded) >= _SHORT or _same_letters(folded, one))
        and _word_by_word(folded, one)
    }
    nearest = {meanings[one] for one, letters in near.items() if letters == min(near.values())}
    return nearest.pop() if len(nearest) == 1 else ""


def may_be(word: str, target: str) -> str:
    """Say what a word may mean that has several meanings, or none of a pitch; nothing of any other.

    Parameters
    ----------
    word, target
        As for :func:`near_word`.
    """
    of = "outcome" if target == TELLING else target
    folded = fold(word)
    said = AMBIGUOUS.get(of, {}).get(folded, "")
    return said or ("no pitch" if of in ("outcome", "result") and folded in NO_PITCH else "")


def _digits(text: str) -> list[str]:
    """Return the numbers in a text, and the signs that stand for one: ball 3 is no slip of ball 4."""
    return [one for one in text if one.isdigit() or one == "#"]


def _word_by_word(slip: str, word: str) -> bool:
    """Say whether every word of several is a slip of its own: "fouled out" is none of "fouled off"."""
    from rapidfuzz.distance import OSA

    theirs, ours = slip.split(), word.split()
    if len(theirs) != len(ours):
        return True
    return all(
        OSA.distance(one, other) <= int(max(len(one), len(other)) >= _SHORT - 1)
        for one, other in zip(theirs, ours, strict=True)
    )


def _same_letters(slip: str, word: str) -> bool:
    """Say whether letters were dropped, doubled or swapped, and none put in another's place."""
    return sorted(slip) == sorted(word) or (len(slip) != len(word) and set(slip) <= set(word))


@cache
def _meanings(target: str) -> dict[str, str]:
    """Folded word of the trade -> what it means in a column; nothing where that is open."""
    found: dict[str, str] = {}
    if target == TELLING:
        found |= KNOWN | {fold(word): word for word in TELLABLE}
        found["strikeout"] = ""  # alone it does not say what the pitch was
    else:
        if target == "outcome":
            told = {word: tell(meant) for word, meant in KNOWN.items()}
            found |= {word: one["outcome"] for word, one in told.items() if isinstance(one, dict)}
        for table in (OTHERS, OTHERS_ABROAD):
            for ours, words in table.get(target, {}).items():
                found |= {fold(word): ours for word in words}
        column = COLUMNS[target]
        words = ("true", "false") if column.kind == "flag" else column.words
        found |= {fold(word): word for word in words}
    of = "outcome" if target == TELLING else target
    sure = {fold(word) for words in OTHERS.get(target, {}).values() for word in words}
    found |= dict.fromkeys(AMBIGUOUS.get(of, {}).keys() - sure, "")
    if of in ("outcome", "result"):
        found |= dict.fromkeys(NO_PITCH, "")
    return found
