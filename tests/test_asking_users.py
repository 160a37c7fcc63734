"""Sentences as a coach, an analyst and a broadcaster say them, by the classes in which they were misread."""

from __future__ import annotations

from functools import cache

import pytest

import hitlab
from hitlab.asking import Asked, Known


@cache
def known() -> Known:
    return Known.of(hitlab.demo_season())


def asked(sentence: str) -> Asked:
    return hitlab.ask(sentence, known())


@pytest.mark.parametrize(
    ("sentence", "event", "club"),
    [
        ("Which of our guys on the Larks strikes out the least?", "strikeouts", "Dunmarrow Larks"),
        ("Which of our hitters on the Larks strikes out the least?", "strikeouts", "Dunmarrow Larks"),
        ("Who of the guys on the Otters whiffs most?", "whiffs", "Port Quillan Otters"),
        ("Which of the men on the Kites walks the most?", "walks", "Copperhollow Kites"),
        ("Which guys on the Masons chase the least?", "swings", "Highfell Masons"),
        ("Who among our guys on the Herons makes the most contact?", "contact", "Brindle Bay Herons"),
        ("Which of our girls on the Larks fouls off the most?", "fouls", "Dunmarrow Larks"),
        ("Nobody of the guys on the Larks whiffs more than Izeirol", "whiffs", "Dunmarrow Larks"),
    ],
)
def test_the_guys_on_a_club_are_its_hitters_and_no_runners(sentence, event, club):
    told = asked(sentence)
    assert told.choices, told.said
    first = told.choices[0]
    assert (first.kind, first.subject, first.event, first.club) == ("leads", "hitter", event, club)
    assert first.direction == ("less" if "least" in sentence else "more")
    assert not [one for one in told.choices if "runners on" in one.when]


@pytest.mark.parametrize(
    "sentence", ["With guys on, Larkditch whiffs more", "Larkditch whiffs more with men on base"]
)
def test_guys_on_without_a_club_are_runners(sentence):
    assert asked(sentence).question.when == ("runners on",)
