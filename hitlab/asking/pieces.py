"""What of a sentence can be asked where the whole of it cannot: its clauses, each about the one who is named.

Offered only, never read: what is left out may matter.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from hitlab.asking.people import Known
from hitlab.asking.restating import named_in, with_name
from hitlab.questions.question import Question

__all__ = ["askable_pieces"]

_PAUSES = (
    re.compile(r"(?<=[.!?;:–—…])\s+|\s+[–—-]\s+"),
    re.compile(r"(?<=[.!?;:–—…,])\s+|\s+[–—-]\s+|\s+(?=but\s|and (?:he|she)\s)", re.IGNORECASE),
)
_JOINED = re.compile(r"^(?:and|but|so|then|because|cause|'cause)\s+", re.IGNORECASE)
_MOST = 4
_LONGEST = 12
"""Clauses of one sentence; somebody who says more tells a story."""


def askable_pieces(
    sentence: str, known: Known, read: Callable[[str], tuple[Question, ...]]
) -> list[Question]:
    """Return what the clauses of a sentence ask, each once; the longest run of clauses counts.

    Parameters
    ----------
    sentence
        As it was typed.
    known
        The table's names.
    read
        Gives what a piece asks by itself.
    """
    names = list(dict.fromkeys(named_in(sentence, known)))
    found: list[Question] = []
    for pause in _PAUSES:
        parts = [part for part in pause.split(sentence) if part.strip()]
        if not 1 < len(parts) <= _LONGEST:
            continue
        at = 0
        while at < len(parts):
            for end in range(min(len(parts), at + 3), at, -1):
                if end - at == len(parts):
                    continue
                asked = read(_told_of(" ".join(parts[at:end]), names, known))
                if asked:
                    found += [one for one in asked if one not in found]
                    at = end - 1
                    break
            at += 1
        if found:
            break
    return found[:_MOST]


def _told_of(piece: str, names: list[str], known: Known) -> str:
    """Return a clause with the one name of the sentence in the place of its pronoun, or in front."""
    piece = _JOINED.sub("", piece)
    if len(names) != 1 or named_in(piece, known):
        return piece
    return with_name(piece, names[0])
