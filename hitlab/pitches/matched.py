"""The words of a mapping held against the words of the source, whole and never as patterns."""

from __future__ import annotations

import re
from collections.abc import Collection

from hitlab.errors import ReadingError
from hitlab.pitches.cells import Judged
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping, fold
from hitlab.pitches.telling import TOLD
from hitlab.pitches.wordforms import in_toml

__all__ = ["has_pattern", "patterns_without_use", "refuse_patterns", "unseen_words"]

_LINES_SHOWN = 3
# Signs that make people think of a pattern. Question marks alone are none: sheets write them for "not known".
_PATTERN = re.compile(r"(?!\?+$).*[*?]")


def unseen_words(judged: dict[str, Judged], mapping: Mapping) -> dict[str, tuple[str, ...]]:
    """Our column -> words that the mapping translates and that never occurred, spelled as there.

    A column that nothing fills has seen none of its words; what an empty cell means is no word.
    """
    found = {}
    for target, words in mapping.words.items():
        seen = _seen(judged[target]) if target in judged else {}
        unseen = tuple(mapping.spelled(word) for word in words if word and word not in seen)
        if unseen:
            found[target] = unseen
    everywhere = {text for target in TOLD if target in judged for text in _seen(judged[target])}
    told = tuple(mapping.spelled(word) for word in mapping.telling.words if word not in everywhere)
    if told:
        found["outcome"] = (*found.get("outcome", ()), *told)
    return found


def patterns_without_use(judged: dict[str, Judged], mapping: Mapping) -> tuple[str, ...]:
    """Patterns of the mapping that decide no cell.

    Parameters
    ----------
    judged
        The columns that the source fills.
    mapping
        Its ``[patterns]``.
    """
    if not mapping.telling.patterns:
        return ()
    texts = {text for target in TOLD if target in judged for text in _seen(judged[target])}
    return mapping.telling.without_use(texts)


def refuse_patterns(judged: dict[str, Judged], mapping: Mapping, headings: Headings, source: str) -> None:
    """Refuse a word with * or ? in it that never occurred: it was meant as a pattern, and matches nothing.

    Parameters
    ----------
    judged
        The columns that the source fills.
    mapping
        Its words, and those that mean missing in every column.
    headings
        Which source column fills which of ours.
    source
        What to call the source in the message.

    Raises
    ------
    ReadingError
        With the lines to write instead, one for each word of the source that is like the pattern.
    """
    for target, words in mapping.words.items():
        if target not in judged:
            continue
        seen = _seen(judged[target])
        for word, meaning in words.items():
            if not _PATTERN.match(word) or word in seen:
                continue
            quoted = meaning if judged[target].column.kind == "flag" and meaning else f'"{meaning}"'
            like = _like(word, seen, {*words, *_known(judged[target])})
            raise _refused(
                f"[words.{target}]",
                mapping,
                word,
                f"{headings.source_of(target)!r} of {source}",
                [f"{in_toml(text)} = {quoted}" for text in like],
            )
    patterns = sorted(word for word in mapping.missing if _PATTERN.match(word))
    if not patterns:  # the usual case, in which the words of every column need not be gone through
        return
    everywhere = {text: spelled for one in judged.values() for text, spelled in _seen(one).items()}
    for word in patterns:
        if word not in everywhere:
            like = _like(word, everywhere, mapping.missing)
            raise _refused("[file] missing", mapping, word, source, [in_toml(text) for text in like])


def has_pattern(word: str) -> bool:
    """Say whether a word of a mapping looks like a pattern.

    Parameters
    ----------
    word
        Folded.
    """
    return _PATTERN.match(word) is not None


def _seen(judged: Judged) -> dict[str, str]:
    """Folded words of a column, and each as it is spelled at its first place among them."""
    seen: dict[str, str] = {}
    for text, many in zip(judged.cells.texts, judged.cells.times, strict=True):
        if many and text.strip():
            seen.setdefault(fold(text), text.strip())
    return seen


def _known(judged: Judged) -> set[str]:
    """Folded words that need no line: they are understood as they stand."""
    words = zip(judged.cells.texts, judged.problems, strict=True)
    return {fold(text) for text, problem in words if not problem} if judged.column.kind != "text" else set()


def _like(pattern: str, seen: dict[str, str], settled: Collection[str]) -> list[str]:
    """Words of the source that the pattern would stand for, without those that are settled."""
    form = re.compile(re.escape(pattern).replace(r"\*", ".*").replace(r"\?", "."), re.DOTALL)
    return [spelled for text, spelled in seen.items() if form.fullmatch(text) and text not in settled]


def _refused(where: str, mapping: Mapping, word: str, place: str, lines: list[str]) -> ReadingError:
    word = mapping.spelled(word)
    if lines:
        more = " and so on" if len(lines) > _LINES_SHOWN else ""
        mend = f"Write a line for each word that is meant, such as: {'; '.join(lines[:_LINES_SHOWN])}{more}."
    else:
        mend = "Nothing in it is like that; take the line out."
    return ReadingError(
        f"In {mapping.name}, {where} {word!r}: words are matched whole, * and ? stand for themselves, and "
        f"{word!r} never occurs in {place}. {mend}"
    )
