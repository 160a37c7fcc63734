"""What is made of the sentences in ``tests/asked_sentences*.json``: right, or in which way not.

Each has the outcome that it was written for, and under ``also`` others that the writer accepts. ``choices``
are the questions that are to be offered where it is asked back; ``note`` says to a reader why it is so.

``python -m tests.benchmarks.asked`` prints the figures; ``--show`` the sentences that were not read right.
"""

from __future__ import annotations

import json
import random
import sys
import time
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any

import pandas as pd

import hitlab
from hitlab.asking import Asked, Known

_TESTS = Path(__file__).parent.parent
SENTENCES = _TESTS / "asked_sentences.json"
FOURTH = _TESTS / "asked_sentences_fourth.json"
"""Sixty sentences as said on air, and twenty that mean something else or cannot be asked."""
ROUNDS = _TESTS / "asked_sentences_rounds.json"
"""Six times fifty as said on air, each written and looked at after mending by those before; see ``round``."""
FILES = (
    SENTENCES,
    _TESTS / "asked_sentences_held_back.json",
    _TESTS / "asked_sentences_own.json",
    _TESTS / "asked_sentences_third.json",
    FOURTH,
    ROUNDS,
)
"""Sentences the tables were made with, those held back until then, the makers' own, two sets, the rounds."""
TRAPS = (_TESTS / "asked_sentences_traps.json", _TESTS / "asked_sentences_traps_own.json")
"""Sentences that are nearly a question and are none: a stranger's, and the makers' own of these classes."""
STRANGER = _TESTS / "asked_sentences_stranger.json"
"""By somebody who knew nothing of the project: what was said, and in plain words what it means (``means``).

They are about the season of :func:`strangers_season`. ``offers`` are the questions of which one is to be
among the choices where no single question is meant; some are meant as questions that no kind asks.
"""
TALK = _TESTS / "asked_sentences_talk.json"
"""The makers' own in the stranger's manner, about the same season."""
TRAPS_TALK = _TESTS / "asked_sentences_traps_talk.json"
"""Nearly the same words as in :data:`TALK` and the stranger's, with another meaning or none."""
VOICES = _TESTS / "asked_sentences_voices.json"
"""Three sets (``set``) of the makers' own in four voices, each with what it means before it was asked.

The second was written after mending by the first, the third after mending by both; nothing was mended by it.
"""
USERS = _TESTS / "asked_sentences_users.json"
"""Eighty as a coach, an analyst and a broadcaster say them, with what they mean; mended by since."""
THREE = _TESTS / "asked_sentences_strangers.json"
"""By ten who had never seen the reader (``set``), each looked at after mending by those before.

``means`` is in the writer's words. What is meant as no kind of question, or is not of this table, is written
to be asked back or refused, and ``note`` says so.
"""
_STRANGERS = (STRANGER, TALK, TRAPS_TALK)
_STRANGERS_NAMES = {
    "Freya Stenlade": "Odile Farrowmere",
    "Zoë Yorigane": "Dalia Stenlade",
    "Dalia Vradosu": "Edda Vradosu",
    "Zoë Dryndesen": "Edda Dryndesen",
    "Greta Elziches": "Edda Elziches",
    "Hana Larkwold": "Edda Larkwold",
    "Basil Wychister": "Edda Wychister",
    "Basil Carvenzal": "Edda Carvenzal",
    "Nadia Nkobarev": "Edda Nkobarev",
    "Íñigo Hoshidori": "Íñigo Burgoba",
    "Viggo Hjelbakk": "Maren Hoshidori",
}
"""Who of the demo season bears a name of the stranger's; who bore a part of one bears another first name."""
OUTCOMES = {"question": "understood", "asks back": "asked back", "refused": "refused"}


def plain(question: hitlab.Question) -> dict[str, Any]:
    """Return a question as the file of sentences writes it; the order of situations does not matter."""
    return ordered(question.to_dict())


def ordered(told: dict[str, Any]) -> dict[str, Any]:
    """Return a question's plain values in one order, so that two that ask the same are the same."""

    def of(value: Any, name: str = "") -> Any:
        if isinstance(value, dict):
            kept = {key: of(one, key) for key, one in value.items()}
            return {key: one for key, one in kept.items() if one != {} and (key, one) != ("per", "swings")}
        if isinstance(value, list | tuple):
            return sorted(map(str, value))
        return round(value, 9) if isinstance(value, float) else value

    usual = hitlab.Question(kind=told["kind"]).to_dict()
    return {key: value for key, value in of(told).items() if value not in ("", []) or key in usual}


def verdict(item: dict[str, Any], asked: Asked, *, strictly: bool = False) -> str:
    """Return what became of a sentence: right, or in which way it was not; strictly, without ``also``."""
    accepted = [item, *([] if strictly else item.get("also", ()))]
    if asked.outcome == "understood":
        mine = plain(asked.question)
        fits = any(one["expect"] == "question" and ordered(one["question"]) == mine for one in accepted)
        return "right" if fits else "wrong in silence"
    fits = any(OUTCOMES[one["expect"]] == asked.outcome for one in accepted)
    return "right" if fits else asked.outcome


def offered(item: dict[str, Any], asked: Asked) -> bool | None:
    """Say whether just the choices are offered that a sentence is written with; None where it has none."""
    if "choices" not in item:
        return None
    written = sorted(repr(ordered(hitlab.Question.from_dict(one).to_dict())) for one in item["choices"])
    return written == sorted(repr(plain(one)) for one in asked.choices)


def wanted(item: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the questions that a sentence may mean, plainly; none where it means none."""
    meant = [one["question"] for one in (item, *item.get("also", ())) if one["expect"] == "question"]
    return [ordered(hitlab.Question.from_dict(one).to_dict()) for one in (*meant, *item.get("offers", ()))]


def offers(item: dict[str, Any], asked: Asked, first: int = 8) -> bool:
    """Say whether one of the questions that a sentence may mean is among the first choices offered."""
    return any(plain(one) in wanted(item) for one in asked.choices[:first])


@cache
def strangers_season() -> pd.DataFrame:
    """Return the demo season with the names of the stranger's sentences, and its days twice as far apart.

    So it goes from April to September, as theirs does.
    """
    season = pd.read_parquet(hitlab.demo_season())
    season["hitter"] = season["hitter"].replace(_STRANGERS_NAMES)
    season["pitcher"] = season["pitcher"].replace(_STRANGERS_NAMES)
    first = season["date"].min()
    season["date"] = first + 2 * (season["date"] - first)
    return season


def salads(many: int, seed: int) -> tuple[list[str], list[str]]:
    """Return sentences with their words shuffled, and halves of two joined."""
    texts = [item["text"] for path in FILES for item in json.loads(path.read_text(encoding="utf-8"))]
    words = [text.split() for text in texts if len(text.split()) >= 5]
    rng = random.Random(seed)
    shuffled = [rng.sample(one := rng.choice(words), len(one)) for _ in range(many)]
    halves = [(rng.choice(words), rng.choice(words)) for _ in range(many)]
    joined = [[*one[: len(one) // 2], *other[len(other) // 2 :]] for one, other in halves]
    return [" ".join(one) for one in shuffled], [" ".join(one) for one in joined]


def measured(path: Path = SENTENCES) -> tuple[list[tuple[dict[str, Any], Asked, str]], float]:
    """Return every sentence with what was made of it, and the seconds that the slowest one took."""
    known = Known.of(strangers_season() if path in _STRANGERS else hitlab.demo_season())
    found, slowest = [], 0.0
    for item in json.loads(path.read_text(encoding="utf-8")):
        start = time.perf_counter()
        asked = hitlab.ask(item["text"], known)
        slowest = max(slowest, time.perf_counter() - start)
        found.append((item, asked, verdict(item, asked)))
    return found, slowest


def main() -> None:
    """Print the figures of every file."""
    for path in (*FILES, STRANGER, TALK, VOICES, USERS, THREE, *TRAPS, TRAPS_TALK):
        print(f"{path.name}:")
        _print(path)
    known = Known.of(hitlab.demo_season())
    for name, texts in zip(("words shuffled", "halves of two joined"), salads(1000, 1), strict=True):
        read = [text for text in texts if hitlab.ask(text, known).outcome == "understood"]
        print(f"{name}: {len(read)} of {len(texts)} taken for a question")


def means(item: dict[str, Any]) -> str:
    """Say what the stranger calls a sentence: none that a table can answer, unclear, or a question."""
    sorts = {"not a question": "none", "unclear": "unclear"}
    return next((sort for start, sort in sorts.items() if item["means"].startswith(start)), "question")


def _print_by_means(found: list[tuple[dict[str, Any], Asked, str]]) -> None:
    for sort in ("question", "unclear", "none"):
        of = [(item, asked, told) for item, asked, told in found if means(item) == sort]
        read = sum(asked.outcome == "understood" and told == "right" for _, asked, told in of)
        also = sum(asked.outcome != "understood" and offers(item, asked) for item, asked, _ in of)
        refused = sum(asked.outcome == "refused" for _, asked, _ in of)
        print(f"{sort}: {len(of)}, read {read}, offered among the choices {also}, refused {refused}")


def _print(path: Path) -> None:
    found, slowest = measured(path)
    counted = Counter(told for _, _, told in found)
    askable = [(asked, told) for item, asked, told in found if item["expect"] == "question"]
    read = sum(told == "right" and asked.outcome == "understood" for asked, told in askable)
    other = [asked for item, asked, told in found if item["expect"] != "question" and told == "right"]
    for told in ("right", "asked back", "refused", "wrong in silence"):
        print(f"{told}: {counted[told]} of {len(found)} ({counted[told] / len(found):.1%})")
    print(f"read as the question itself, of those that ask one: {read} of {len(askable)}")
    meant = [(item, asked) for item, asked, _ in found if wanted(item) and asked.outcome != "understood"]
    served = [sum(offers(item, asked, first) for item, asked in meant) for first in (1, 3, 8)]
    print(
        f"of {len(meant)} that mean a question and were not read, it is the first offered, of three, of all:",
        *served,
    )
    beside = sum(asked.outcome == "understood" for asked in other)
    print(f"read where asking back was expected, as the writer accepts: {beside} of {len(other)}")
    strictly = sum(verdict(item, asked, strictly=True) == "right" for item, asked, _ in found)
    print(f"right without what the writer accepts beside it: {strictly} of {len(found)}")
    told = [fits for item, asked, _ in found if (fits := offered(item, asked)) is not None]
    if told:
        print(f"the choices offered that it is written with: {sum(told)} of {len(told)}")
    if path == STRANGER:
        _print_by_means(found)
    rounds = Counter(item["round"] for item, _, told in found if "round" in item and told == "right")
    if rounds:
        print(
            "right of each round:", ", ".join(f"{number}: {many}" for number, many in sorted(rounds.items()))
        )
    print(f"slowest sentence: {slowest:.3f} s")
    if "--show" in sys.argv:
        for item, asked, told in found:
            if told != "right":
                print(f"\n{told}: {item['text']}\n  expected: {item['expect']} {item.get('question', '')}")
                print(f"  {asked.read_as}", *(f"\n    {one.to_dict()}" for one in asked.choices))


if __name__ == "__main__":
    main()
