"""Questions of every kind about the demo season, from which its sentences, cards and pictures are shown."""

from __future__ import annotations

from hitlab.questions.question import Question

__all__ = ["SAMPLES"]

_FASTBALLS, _BREAKING, _TWO_STRIKES = "pitch_kind=fastball", "pitch_kind=breaking", "strikes=2"
_HER, _HIM = "Nadia Izezno", "Alenka Larkditch"
_CONTACT = {"event": "contact", "per": "swings"}

_OF_RATES: tuple[Question, ...] = (
    Question(kind="leads"),
    Question(kind="leads", who=_HIM, event="whiffs", direction="less"),
    Question(kind="leads", who=_HER, event="whiffs", when=(_BREAKING,), since="May 15"),
    Question(kind="top", who=_HER),
    Question(kind="top", who=_HIM, event="in_play", direction="less", when=("first pitch",)),
    Question(kind="above", who=_HER, options={"value": "16%"}),
    Question(kind="above", who=_HER, direction="less", options={"value": "1/5"}),
    Question(kind="above", who=_HER, when=(_BREAKING,), options={"value": "league"}),
    Question(kind="above", who="league", options={"value": "10%"}),
    Question(kind="above", who=_HER, event="hits", per="at_bats", options={"value": "30%"}),
    Question(kind="near", who=_HER, options={"value": "one in five"}),
    Question(kind="ahead", who=_HER, options={"other": _HIM}),
    Question(kind="split", who=_HER, when=(_BREAKING,)),
    Question(kind="split", who=_HER, when=(_TWO_STRIKES,), direction="less", options={"against": "usual"}),
    Question(kind="hot", who=_HER),
    Question(kind="hot", who=_HIM, event="whiffs"),
    Question(kind="steady", who=_HER),
    Question(kind="steady", who=_HER, since="May"),
    Question(kind="more", who=_HER, since="May 15"),
    Question(kind="more", who=_HER, since="May 15", direction="either"),
    Question(kind="more", who=_HER, since="June", event="whiffs", direction="less", when=(_BREAKING,)),
    Question(kind="response"),
    Question(kind="response", who=_HER, options={"response": "hard"}),
    Question(kind="leads", subject="pitcher", event="whiffs"),
    Question(kind="leads", subject="club"),
)

SAMPLES: tuple[Question, ...] = (
    *_OF_RATES,
    *(Question(**{**one.to_dict(), "about": "record"}) for one in _OF_RATES),
    Question(
        kind="together",
        options={"first": {**_CONTACT, "when": [_FASTBALLS]}, "second": {**_CONTACT, "when": [_BREAKING]}},
    ),
    Question(kind="spot", who=_HER, options={"gap": -1, "outs": 2, "bases": "first second"}),
    Question(kind="spot", who=_HER, options={"gap": -1, "outs": 1, "candidates": [_HIM]}),
)
"""A record has no spot, and says nothing of two rates together."""
