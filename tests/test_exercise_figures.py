"""Numbers of a learner's sentence, in figures and in words: which of them nobody showed."""

from __future__ import annotations

import pytest

from hitlab.exercises.figures import not_shown

SHOWN = (13, 40, 103, 0.25, 0.325, 0.88, 95, 30.5)


@pytest.mark.parametrize(
    "text",
    [
        "thirteen of forty swings",
        "13 of her first 40 swings",
        "13-for-40",
        "13 in 40, .325",
        "a rate of 0.325, 32.5 percent",
        "33 % of her swings",
        "about one in three",
        "one in four, a quarter",
        "three in four, or 75 %",  # the other side of what was shown
        "nine in ten",  # about .88
        "88 percent; twelve percent is left",
        "at 95 miles an hour and 30.5 degrees",
        "one of them, two at most, both",
        "a third of her swings",
        "among 103 hitters",
        "no number at all",
        "third place, fourth inning",
    ],
)
def test_what_was_shown_may_be_said(text):
    assert not_shown(text, SHOWN) == ""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("14 of 40 swings", "14 of 40"),
        ("thirteen of forty-one swings", "thirteen of forty-one"),
        ("a chance of 50 percent", "50 percent"),
        ("half of her swings", "half"),
        ("she hit .300", ".300"),
        ("one in six", "one in six"),
        ("on 1,300 swings", "1,300"),
        ("among 104 hitters", "104"),
        ("at twenty-nine degrees", "twenty-nine"),
        ("two thirds of them fail", ""),
        ("five of them are ahead", "five"),
    ],
)
def test_what_nobody_showed_is_told(text, said):
    assert not_shown(text, SHOWN) == said
