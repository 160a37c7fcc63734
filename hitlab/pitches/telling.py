"""Words that tell several things at once: what the pitch became, how the plate appearance ended, and more.

``GB 6-3`` is a ball in play and an out, ``K swing`` a whiff and a strikeout, ``foul pull`` a foul to the pull
side. In a mapping each such word, or each pattern of words, stands once, with what it tells::

    [words]
    "K swing" = "whiff, strikeout"
    "1B" = "single"                # in play follows
    "foul pull" = "foul, pull"

    [patterns]                     # * stands for anything, # for one digit; the first that fits counts
    "GB #-#" = "out"
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from hitlab.pitches.schema import (
    BALL_OUTCOMES,
    COLUMNS,
    NOT_IN_PLAY_RESULTS,
    OUTCOMES,
    RESULTS,
    STRIKE_OUTCOMES,
)
from hitlab.pitches.wordforms import fold

__all__ = ["TELLABLE", "TOLD", "Telling", "as_pattern", "tell"]

TOLD = ("outcome", "result", "foul_side", "bunt", "check_swing", "hard")
"""Columns of ours that one word may fill together."""

_MOST_STARS = 4
_BOTH = tuple(word for word in OUTCOMES if word in RESULTS)

_SINGLE: dict[str, dict[str, str]] = {
    **{word: {"outcome": word} for word in OUTCOMES},
    **{word: {"result": word} for word in RESULTS},
    **{word: {"outcome": word, "result": word} for word in _BOTH},
    **{word: {"foul_side": word} for word in COLUMNS["foul_side"].words},
    "bunt": {"bunt": "true"},
    "check swing": {"check_swing": "true"},
    "hard": {"hard": "true"},
    "not hard": {"hard": "false"},
}

TELLABLE = tuple(_SINGLE)
"""What may stand on the right side, several with commas between them."""


def tell(text: str) -> dict[str, str] | str:
    """Take the right side of a line apart: our column -> our word, or what is wrong with it.

    What follows needs not be said: a single is in play, a walk came on a ball.

    Parameters
    ----------
    text
        Our words with commas between them.

    Examples
    --------
    >>> tell("single"), tell("whiff, strikeout")
    ({'result': 'single', 'outcome': 'in play'}, {'outcome': 'whiff', 'result': 'strikeout'})
    >>> tell("strikeout").partition(":")[0]
    'a strikeout does not say what the pitch was'
    """
    told: dict[str, str] = {}
    for word in (fold(part) for part in text.split(",")):
        if word not in _SINGLE:
            return f"{word!r} is none of the words that can stand here"
        for column, value in _SINGLE[word].items():
            if column in told and told[column] != value:
                return f"{told[column]!r} and {value!r} are two for {column}, and a pitch has one"
            told[column] = value
    result = told.get("result")
    if "outcome" not in told and result is not None:
        if result == "strikeout":
            return (
                "a strikeout does not say what the pitch was: add called strike, whiff or foul tip, as in "
                '"whiff, strikeout"'
            )
        told["outcome"] = "ball" if result == "walk" else "in play"
    outcome = told.get("outcome")
    if outcome is None:
        return 'it does not say what the pitch became: add it, as in "foul, pull"'
    if result is not None and not _stand_together(outcome, result, "bunt" in told):
        return f"{outcome!r} and {result!r} cannot stand together"
    if "foul_side" in told and outcome != "foul":
        return f"{told['foul_side']!r} tells where a foul went, and {outcome!r} is none"
    return told


def _stand_together(outcome: str, result: str, bunt: bool) -> bool:
    if result == "strikeout":
        return outcome in STRIKE_OUTCOMES or (outcome == "foul" and bunt)
    if result == "walk":
        return outcome in BALL_OUTCOMES
    return outcome == (result if result in NOT_IN_PLAY_RESULTS else "in play")


def as_pattern(text: str) -> re.Pattern[str] | str:
    """Turn a pattern of a mapping into what finds it in folded text, or say what is wrong with it.

    Parameters
    ----------
    text
        ``*`` stands for anything, ``#`` for one digit.
    """
    folded = fold(text)
    if folded.count("*") > _MOST_STARS:
        return f"it has more than {_MOST_STARS} stars"
    if not re.search(r"[^\W_]|#", folded):
        return "it has nothing but stars in it, and would fit any word"
    escaped = re.escape(folded).replace(r"\*", ".*").replace(r"\#", "[0-9]")
    return re.compile(escaped, re.DOTALL)


@dataclass(frozen=True, slots=True)
class Telling:
    """What words and patterns of a mapping tell.

    Attributes
    ----------
    words
        Folded word -> our column -> our word.
    patterns
        Pattern as spelled, what finds it, and what it tells, in order; None where that is not decided yet.
    """

    words: dict[str, dict[str, str]] = field(default_factory=dict)
    patterns: tuple[tuple[str, re.Pattern[str], dict[str, str] | None], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.words or self.patterns)

    @property
    def targets(self) -> tuple[str, ...]:
        """Columns of ours that are told."""
        every = [*self.words.values(), *(told for _, _, told in self.patterns if told is not None)]
        return tuple(column for column in TOLD if any(column in told for told in every))

    def told(self, text: str) -> dict[str, str] | None:
        """Say what a cell tells, None where nothing does: whole words first, then ours, then patterns."""
        word = fold(text)
        whole = self._whole(word)
        return self._like(word)[1] if whole is None else whole

    def waits(self, text: str) -> bool:
        """Say whether the pattern that a cell is like is still to be decided."""
        word = fold(text)
        spelled, told = self._like(word)
        return spelled is not None and told is None and self._whole(word) is None

    def _whole(self, word: str) -> dict[str, str] | None:
        if word in self.words:
            return self.words[word]
        own = tell(word) if word in _SINGLE else ""
        return own if isinstance(own, dict) else None

    def _like(self, word: str) -> tuple[str | None, dict[str, str] | None]:
        """First pattern that a folded word is like, and what it tells."""
        found = ((spelled, told) for spelled, form, told in self.patterns if form.fullmatch(word))
        return next(found, (None, None))

    def without_use(self, texts: Iterable[str]) -> tuple[str, ...]:
        """Patterns that decide no cell.

        Parameters
        ----------
        texts
            The cells.
        """
        used = {self._like(word)[0] for word in map(fold, texts) if word and self._whole(word) is None}
        return tuple(
            spelled for spelled, _, told in self.patterns if told is not None and spelled not in used
        )
