"""Numbers of a learner's sentence, in figures and in words: which of them nobody showed."""

from __future__ import annotations

import pytest

from hitlab.exercises.figures import not_shown

SHOWN = (3, 13, 40, 103, 0.25, 0.325, 0.88, 95, 30.5)


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
        "88 percent of her 40 swings",
        "at 95 miles an hour and 30.5 degrees",
        "one of them, two at most, both",
        "a third of her swings",
        "among 103 hitters",
        "she is only one of 103",
        "another one of the 103",
        "three to one, or one to three, and from 13 to 40",
        "Nadia, one of a hundred and three hitters",
        "no number at all",
        "third place, fourth inning",
        "she is thirteenth, or 13th, of a hundred and three",
        "one hundred three hitters, one hundred and three",
        "one-oh, a first, the second",
        "her half-weight size",
        "three to one against it",
        "between 12 and 33 percent, 12-33 %, 32.5 to 88 per cent, twelve to twenty-five percent",
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
        ("she hit only one of 40 swings", "one of 40"),
        ("half of her swings", "half"),
        ("four to three", "four to three"),
        ("she hit .300", ".300"),
        ("one in six", "one in six"),
        ("on 1,300 swings", "1,300"),
        ("among 104 hitters", "104"),
        ("at twenty-nine degrees", "twenty-nine"),
        ("two thirds of them fail", ""),
        ("five of them are ahead", "five"),
        ("she is seventh", "seventh"),
        ("one to one, an even bet", "one to one"),
        ("from 14 to 33 percent", "14 to "),
        ("7th of 103", "7th"),
        ("a sixth of them", "a sixth"),
        ("a hundred and fifty swings", "a hundred and fifty"),
        ("one fifty swings", "one fifty"),
        ("five hundred forty-seven swings", "five hundred forty-seven"),
        ("of two thousand leagues", "two thousand"),
    ],
)
def test_what_nobody_showed_is_told(text, said):
    assert not_shown(text, SHOWN) == said


def test_large_numbers_in_words_are_read():
    text = (
        "one hundred and fifty, one fifty, a hundred, five hundred and forty-seven, 400, two thousand, four "
    )
    text += "hundred"
    assert not_shown(text, (150, 100, 547, 400, 2_000)) == ""


def test_none_of_so_many_is_shown_only_where_it_was():
    assert not_shown("0 of 2,000 leagues", (0, 2_000)) == ""
    assert not_shown("0 of 2,000 leagues", (1, 2_000)) == "0 of 2,000"


def test_a_small_chance_in_parts_is_held_against_the_share():
    assert not_shown("one chance in a hundred, about one in 110", (0.009,)) == ""
    assert not_shown("one chance in a thousand", (0.009,)) == "one chance in a thousand"
    assert not_shown("one in fifty", (0.009,)) == "one in fifty"
