"""The few choices from which a question can be put together without a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hitlab.counting.events import rate_words
from hitlab.errors import ClaimError
from hitlab.questions import Question
from hitlab.questions.question import History
from hitlab.spoken import share_of

__all__ = ["CLAIMS", "RATES", "Choice", "question_of"]


@dataclass(frozen=True, slots=True)
class Choice:
    """What can be claimed.

    Attributes
    ----------
    words
        After the name: ``does it more often than anyone else``.
    kind
        A key of ``hitlab.questions.KINDS``.
    needs
        Which fields it cannot do without, of ``who``, ``value``, ``other``, ``when`` and ``since``. Value and
        other hitter are for these claims alone.
    turns
        Whether it can be said the other way round.
    """

    words: str
    kind: str
    needs: tuple[str, ...] = ("who",)
    turns: bool = True


CLAIMS: dict[str, Choice] = {
    "leads": Choice("does it more often than anyone else", "leads", ()),
    "top": Choice("is one of the five who do it most often", "top", ()),
    "league": Choice("does it more often than the rest of the league", "above"),
    "above": Choice("does it more often than the share below says", "above", ("who", "value")),
    "near": Choice("does it about as often as the share below says", "near", ("who", "value"), False),
    "ahead": Choice("does it more often than the other hitter below", "ahead", ("who", "other")),
    "split": Choice("does it more often in the situation below than otherwise", "split", ("who", "when")),
    "more": Choice("does it more often since the day below than before", "more", ("who", "since")),
    "hot": Choice("is on a hot streak", "hot", turns=False),
    "steady": Choice("has been steady", "steady", turns=False),
}
"""By a name of our own; the first is what the page begins with."""

RATES: tuple[tuple[str, str], ...] = (
    ("hard", "swings"),
    ("hard", "in_play"),
    ("whiffs", "swings"),
    ("contact", "swings"),
    ("in_play", "swings"),
    ("fouls", "swings"),
    ("swings", "pitches"),
)

_ASKS_FOR = {
    "who": "say who it is about",
    "value": "give the share, such as 16% or one in five",
    "other": "say who the other hitter is",
    "when": "choose a situation",
    "since": "give the day, such as May 15",
}

_FOR_SOME = {"value": "share", "other": "other hitter"}
"""What only those claims have that need it."""


def rate_choices() -> list[tuple[str, tuple[str, str]]]:
    """Return the rates by their words, as a field of choices takes them."""
    return [(rate_words(event, per), (event, per)) for event, per in RATES]


def question_of(
    claim: str,
    *,
    who: str = "",
    rate: tuple[str, str] = RATES[0],
    when: str = "",
    since: str = "",
    value: str = "",
    other: str = "",
    less: bool = False,
    season: str = "",
    history: History = "ids",
) -> Question:
    """Put choices together into a question.

    Parameters
    ----------
    claim
        A key of :data:`CLAIMS`.
    who, other
        The hitter, and the one who is compared.
    rate
        Names of the two counts.
    when
        The situation's term; empty for all pitches.
    since
        A day, as somebody says it.
    value
        A share, as somebody says it.
    less
        The other way round: less often.
    season, history
        Which season of a table of several, and how hitters are found in those before it.

    Returns
    -------
    Question
        It is not looked at yet whether a table can answer it.

    Raises
    ------
    ClaimError
        Where a field that this claim needs is empty, one that it has no use for is not, or the share is none.

    Examples
    --------
    >>> question_of("above", who="Izezno", value="16%").options
    {'value': 0.16}
    """
    chosen = CLAIMS[claim]
    told = {name: text.strip() for name, text in
            {"who": who, "value": value, "other": other, "when": when, "since": since}.items()}  # fmt: skip
    missing = [_ASKS_FOR[name] for name in chosen.needs if not told[name]]
    if missing:
        raise ClaimError(f"something is still missing for this claim: {', and '.join(missing)}")
    if less and not chosen.turns:
        raise ClaimError("this claim cannot be turned round; choose “more often”")
    for name, what in _FOR_SOME.items():
        if told[name] and name not in chosen.needs:
            raise ClaimError(f"this claim has no {what}; empty that field, or choose another claim")
    options: dict[str, Any] = {}
    if claim == "league":
        options["value"] = "league"
    elif claim in ("above", "near"):
        options["value"] = share_of(told["value"])
    elif claim == "ahead":
        options["other"] = told["other"]
    elif claim == "top":
        options["top"] = 5
    return Question(
        kind=chosen.kind,
        who=told["who"],
        event=rate[0],
        per=rate[1],
        when=(told["when"],) if told["when"] else (),
        since=told["since"],
        season=season,
        history=history if season else "ids",
        direction="less" if less else "more",
        options=options,
    )
