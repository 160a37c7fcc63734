"""What is said of a sentence for air: quoted as it was written, and no word blamed that the lesson gave."""

from __future__ import annotations

import re

import numpy as np
import pytest

from hitlab.exercises.asking import check
from hitlab.exercises.library import find_exercise
from hitlab.exercises.marking import mark


@pytest.fixture
def own_progress(tmp_path, monkeypatch):
    monkeypatch.setenv("HITLAB_PROGRESS", str(tmp_path / "progress.json"))


def _said(name: str, text: str) -> str:
    return " ".join(mark(find_exercise(name), text).lines)


@pytest.mark.parametrize(
    ("name", "text", "quoted"),
    [
        (
            "04.for-air",
            "Nine times in ten, Basil Carvenzal has hit between .125 and .164 of his 212 swings hard, 35.",
            '"hit between .125"',
        ),
        (
            "05.for-air",
            "Kerstin Ravbeck, 127 of 152 swings, leads 103 hitters in contact; of 2,500 swings she likely "
            "misses fewer.",
            '"2,500"',
        ),
        (
            "03.for-air",
            "Nadia Izezno, 108 of 547 swings hit hard, leads 103 regulars, so then: She Is Truly The Best.",
            '"She Is Truly The Best"',
        ),
        (
            "03.for-air",
            "Nadia Izezno leads 103 regulars with 108 of 547 swings hard; all 54 others say "
            "that who is best is open.",
            '"54"',
        ),
        (
            "13.for-air",
            "Of 121 ticks, 12 of 28, Dalia leads the team, 9 of 28 swings hard by our chart, "
            "and who is best is open.",
            '"121"',
        ),
    ],
)
def test_what_says_too_much_is_quoted_as_it_was_written(name, text, quoted):
    assert f"More than was shown: {quoted};" in _said(name, text)


GIVEN = (
    (
        "09.for-air",
        "Sade's chance to be the later one is about three in four, going by 38 of 63 fouls against Xiomara's "
        "37 of 72, one deal of luck alone, such as it is.",
    ),
    (
        "02.for-air",
        "Greta hit 13 of 40 swings hard, over a true one in four perhaps, and not pulled by luck each, by "
        "what the others of the league do.",
    ),
    (
        "03.for-air",
        "Nadia Izezno, at 108 of 547 swings hard, leads 103 regulars, three in four against her truly as the "
        "best one, not yet each sure.",
    ),
    (
        "12.for-air",
        "Tied with the bases full, Nadia Izezno is not likely the best one of 103 regulars, out of a walk "
        "that wins.",
    ),
)


@pytest.mark.parametrize(("name", "text"), GIVEN)
def test_no_word_that_the_lesson_gave_and_no_number_is_said_to_be_unknown(name, text):
    notice = mark(find_exercise(name), text)
    assert notice.state == "compare the two", notice
    assert not re.findall(r'does not know "', notice.lines[0]), notice.lines[0]
    assert "in the order" in notice.lines[0]
    assert "Say it without" not in notice.lines[-1]


def test_a_word_that_is_the_writers_own_is_named_as_it_was_written():
    said = _said(
        "07.for-air",
        "Sorry, Kiddo: 45 is right where there is no air, but with drag and spin this ball would go farthest "
        "at about thirty degrees.",
    )
    assert 'does not know "Sorry" and "Kiddo" there' in said


def test_words_with_a_hyphen_and_what_is_somebodys_are_named_as_well():
    said = _said(
        "07.for-air",
        "A cock-eyed uncle's ball: 45 is right where there is no air, but with drag and spin this ball "
        "would go farthest at about thirty degrees.",
    )
    assert 'does not know "cock-eyed" and "uncle" there' in said


@pytest.mark.usefixtures("own_progress")
def test_another_sentence_than_the_one_that_was_compared_is_compared_first():
    first, second = (
        "Sorry, kid: 45 is right where there is no air, but with drag and spin this ball would go farthest "
        f"at {about} thirty degrees."
        for about in ("about", "roughly")
    )
    assert check("07.for-air", first).state == "compare the two"
    assert check("07.for-air", second).state == "compare the two"
    assert check("07.for-air", second).state == "compared"
    assert check("07.for-air", first).state == "compare the two"
    assert check("07.for-air", f"  {first.upper()}").state == "compared"


@pytest.mark.parametrize(
    ("name", "answer"),
    [("03.first-and-best", "0.2, 0.4"), ("04.nine-in-ten", (0.6, 0.75)), ("13.by-luck", (0.5, 0.6))],
)
def test_shares_where_per_cent_are_asked_are_told_so(name, answer):
    notice = mark(find_exercise(name), answer)
    assert "those are shares; give them in per cent, from 0 to 100." in notice.lines[0]


def test_a_small_per_cent_is_no_share():
    assert "those are shares" not in _said("03.first-and-best", (0, 1))


def test_a_plain_loop_over_every_swing_of_every_draw_is_not_too_long():
    form = find_exercise("02.draw-again").form
    swings = [form.draw(np.random.default_rng(case))[1] for case in range(form.cases)]
    assert 2_000 * sum(swings) <= 600_000, "half a second or so of a plain loop, and some seconds watched"
