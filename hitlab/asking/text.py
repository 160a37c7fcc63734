"""A sentence as words and slots: what was found in it stands as a mark, what was not is still a word."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from typing import Any

from hitlab.names import fold

__all__ = ["END", "GAP", "MOST_SPOKEN", "WITHOUT_APOSTROPHE", "Rows", "Text", "Word", "slip_of"]

Rows = tuple[tuple[str, str], ...]
"""A table of rewordings: a pattern over a line, and what is put in its place."""

MOST_SPOKEN = 90
"""Words of one sentence; somebody who says more says several things."""

GAP = r"(?:(?!than |and |but |as )[^ ,.;:!?]+ ){0,4}?"
"""A few words between two parts of a phrase, on one side of a comparison."""

END = r"(?=(?: [,.?!;:])| $)"
"""A pause, or the end, behind the last word of a phrase."""

_TOKENS = re.compile(
    r"\d{4}-\d{2}-\d{2}|\d+-\d+|\d+/\d+|\d*\.\d+ ?%?|\d+ ?%|(?<=[a-z])%|(?<=[a-z] )%|\d+(?:st|nd|rd|th)?|"
    r"[^\W\d_]+(?:'[^\W\d_]+)*|\.\.+|[,.;:!?()—–…<>]|(?<=\d)\+"
)
_QUOTES = str.maketrans(dict.fromkeys("‘’ʼ`´", "'"))
_PAUSES = str.maketrans(dict.fromkeys("()—–", ","))
_ENDINGS = {"ve": "have", "re": "are", "ll": "will", "d": "would", "m": "am"}
_COMPARATIVES = ("better", "more", "less", "worse", "other")
"""Before "than", where only its end is typed: better'n."""
_PRONOUNS = ("it", "he", "she", "that", "there", "who", "what", "how", "here", "nobody", "everybody")
_WITHOUT_NOT = {"ca": "can", "wo": "will", "ai": "is", "sha": "shall"}
_SIGNS = {">": ["more", "than"], "<": ["less", "than"], "%": ["percentage"], "+": ["plus"]}
WITHOUT_APOSTROPHE = {
    f"{word}nt": (word, "not")
    for word in ("does", "do", "did", "is", "was", "are", "were", "has", "have", "had", "could", "would")
} | {
    "cant": ("can", "not"),
    "cannot": ("can", "not"),
    "wont": ("will", "not"),
    "aint": ("is", "not"),
}
"""Denials that are typed without the apostrophe."""


@dataclass(slots=True)
class Word:
    """A word of the sentence, or a mark such as ``<rate>`` with what it stands for."""

    text: str
    at: int
    value: Any = None
    span: tuple[int, ...] = ()

    @property
    def places(self) -> tuple[int, ...]:
        """Where the words stood, as they were typed, that it was made of."""
        return self.span or (self.at,)


@dataclass(slots=True)
class Text:
    """A sentence that is read step by step.

    Attributes
    ----------
    words
        What is left of it: words that nothing has explained yet, and marks. Others are another list: this
        one stays as it is, for its line is kept.
    said
        The words as they were typed, by place.
    idle
        What was left out because it changes nothing, as it was typed; it is said.
    heard
        That others say so, as it was typed; it is said, too.
    """

    words: list[Word]
    said: list[str] = field(default_factory=list)
    idle: list[str] = field(default_factory=list)
    heard: list[str] = field(default_factory=list)
    _joined: tuple[list[Word] | None, str] = (None, "")

    @classmethod
    def of(cls, sentence: str) -> Text:
        """Part a sentence into words: folded as names are, possessives off, contractions written out."""
        plain = unicodedata.normalize("NFC", sentence).translate(_QUOTES)
        words: list[Word] = []
        said: list[str] = []
        for token in _TOKENS.findall(plain):
            at = len(said)
            said.append(token)
            words += [Word(word, at) for word in _plain_words(token)]
        return cls(words, said)

    def line(self) -> str:
        """Return words and marks, with blanks between and on both sides."""
        words, line = self._joined
        if words is not self.words:
            line = f" {' '.join(word.text for word in self.words)} "
            self._joined = self.words, line
        return line

    def respell(self, word: Word, told: str) -> None:
        """Give a word another text; what it stands for, and where, stays."""
        word.text = told
        self._joined = None, ""

    def take(
        self, pattern: str, mark: str = "", value: Any = None, before: frozenset[str] = frozenset()
    ) -> list[Any]:
        """Replace every place where a pattern fits by a mark; without a mark its words are done with.

        Parameters
        ----------
        pattern
            Over the words with single blanks between. Where it has groups without a name, only these are
            taken, and the mark stands in the place of the first.
        mark
            Such as ``rate``; it is written ``<rate>``, and its blanks as ``_``.
        value
            What the mark stands for, or a function from the match to it; nothing found where that is None.
        before
            Words that are taken, too, where they stand directly before it.
        """
        found = []
        compiled, start = _compiled(pattern), 0
        while (match := compiled.search(self.line(), start)) is not None:
            told = value(match) if callable(value) else value
            if callable(value) and told is None:
                start = match.start() + 1
                continue
            named = compiled.groupindex.values()
            parts = [n for n in range(1, compiled.groups + 1) if n not in named and match[n]]
            spans = [match.span(n) for n in parts] or [match.span()]
            if before:
                spans = [(self._begun(spans[0][0], before), spans[0][1]), *spans[1:]]
            self._replace(spans, mark, told)
            start = max(spans[0][0] - 1, 0)
            found.append(told)
        return found

    def leave(self, pattern: str, kept: list[str] | None = None) -> None:
        """Leave out the words that fit a pattern, but for names, and remember them: it is said."""
        compiled = _compiled(pattern)
        while (match := compiled.search(self.line())) is not None:
            first = len(self.line()[: match.start()].split())
            gone = self.words[first : first + len(match[0].split())]
            gone = [word for word in gone if word.text != "<who>"]
            places = dict.fromkeys(place for word in gone for place in word.places)
            (self.idle if kept is None else kept).append(" ".join(self.said[place] for place in places))
            self.words = [word for word in self.words if not any(word is one for one in gone)]

    def reword(self, pattern: str, told: str) -> None:
        r"""Put other words in the place of those that fit a pattern, where the first of them stood.

        Parameters
        ----------
        pattern
            As in :meth:`take`.
        told
            The words that are put there; none where nothing is. ``\1`` is the first group, and so on.
            Who is named stays behind them.
        """
        compiled, start = _compiled(pattern), 0
        while (match := compiled.search(self.line(), start)) is not None:
            if not match[0].strip():
                start = match.end() + 1
                continue
            line = self.line()
            first = len(line[: match.start()].split())
            gone = self.words[first : first + len(match[0].split())]
            new = [Word(word, gone[0].at, None, _joined(gone)) for word in match.expand(told).split()]
            kept = [word for word in gone if word.text == "<who>"]
            self.words = [*self.words[:first], *new, *kept, *self.words[first + len(gone) :]]
            start = match.start() + sum(len(word.text) + 1 for word in new) - 1
            start = max(start, 0)

    def reword_all(self, rows: Iterable[tuple[str, str]]) -> None:
        """Put other words in the place of each pattern of a table, in its order."""
        line = self.line()
        for pattern, told in rows:
            if _compiled(pattern).search(line):
                self.reword(pattern, told)
                line = self.line()

    def _begun(self, start: int, before: frozenset[str]) -> int:
        """Return where the words begin that lead to a place of the line."""
        words = self.line()[:start].split()
        while words and words[-1] in before:
            start -= len(words.pop()) + 1
        return start

    def _replace(self, spans: list[tuple[int, int]], mark: str, value: Any) -> None:
        kept: list[Word] = []
        taken: list[Word] = []
        position, marked = 1, None
        for word in self.words:
            end = position + len(word.text)
            if any(start <= position and end <= stop for start, stop in spans):
                taken.append(word)
                if mark and marked is None:
                    marked = Word(f"<{mark.replace(' ', '_')}>", word.at, value)
                    kept.append(marked)
            else:
                kept.append(word)
            position = end + 1
        if marked is not None:
            marked.span = _joined(taken)
        self.words = kept

    def typed(self, word: Word) -> str:
        """Return the words, as they were typed, that a word or a mark was made of."""
        return " ".join(self.said[place] for place in word.places)

    def has(self, *marks: str) -> bool:
        """Say whether one of some marks is there."""
        return any(word.text == f"<{mark}>" for word in self.words for mark in marks)

    def values(self, mark: str) -> list[Any]:
        """Return what the marks of a name stand for, in the order of the sentence."""
        return [word.value for word in self.words if word.text == f"<{mark}>"]

    def places(self, mark: str) -> list[int]:
        """Return where the marks of a name stand among the words that are left."""
        return [place for place, word in enumerate(self.words) if word.text == f"<{mark}>"]


def slip_of(word: str, choices: Collection[str]) -> str:
    """Return the one choice from which one slip of a finger parts a word; empty where it is none, or several.

    A slip is two letters in the wrong order, one too few or one struck twice, behind the first letter.
    Another letter in place of one, or beside it, is none: it makes other words, as contract is none of
    contact. Nor is an ending that is missing: "sliders are murder on her" has no verb of hers.

    Examples
    --------
    >>> slip_of("brekaing", ("breaking", "bunting"))
    'breaking'
    >>> slip_of("slide", ("slides", "glide"))
    ''
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    struck_once = {word[:n] + word[n + 1 :] for n in range(1, len(word)) if word[n] == word[n - 1]}
    near = [
        meant
        for meant, apart, _ in process.extract(word, choices, scorer=OSA.distance, score_cutoff=1, limit=None)
        if apart == 1
        and meant[0] == word[0]
        and (len(meant) > len(word) or meant in struck_once or sorted(meant) == sorted(word))
        and meant not in (f"{word}s", f"{word}es")
    ]
    return near[0] if len(near) == 1 else ""


def _joined(words: list[Word]) -> tuple[int, ...]:
    return tuple(sorted({place for word in words for place in word.places}))


_KNOWN: dict[str, re.Pattern[str]] = {}


def _compiled(pattern: str) -> re.Pattern[str]:
    known = _KNOWN.get(pattern)
    if known is None:
        known = _KNOWN[pattern] = re.compile(rf"(?<= )(?:{pattern})(?:(?= )|(?<= ))")
    return known


def _plain_words(token: str) -> list[str]:
    if token == "…" or token.startswith(".."):
        return ["."]
    if token in _SIGNS:
        return list(_SIGNS[token])
    if not token[0].isalpha():
        return [token.replace(" ", "").translate(_PAUSES)]
    plain = token.casefold()
    head, quote, tail = plain.rpartition("'")
    if quote and tail == "t" and head.endswith("n"):
        return [_WITHOUT_NOT.get(head[:-1], head[:-1]), "not"]
    if quote and tail == "s":
        return [head, "is"] if head in _PRONOUNS else fold(head).split()
    if quote and tail == "n" and head in _COMPARATIVES:
        return [head, "than"]
    if quote and head == "d" and tail in ("you", "we", "i", "ya", "they"):
        return ["do", "you" if tail == "ya" else tail]
    if quote and tail in _ENDINGS:
        return [*fold(head).split(), _ENDINGS[tail]]
    if plain in WITHOUT_APOSTROPHE:
        return list(WITHOUT_APOSTROPHE[plain])
    return fold(token).split()
