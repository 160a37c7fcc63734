"""The numbers that a lesson's sentence may say are those that its data give."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from hitlab.exercises.definitions import Sentence
from hitlab.exercises.library import find_lesson

SHOWN: dict[str, Callable[[], tuple[float, ...]]] = {}
"""Exercise -> its numbers, counted or worked out anew."""


@pytest.mark.parametrize("name", SHOWN)
def test_the_numbers_of_a_sentence_are_those_of_the_data(name):
    """In the order of the form; a share may differ by what rounding to two decimals leaves."""
    form = next(one.form for one in find_lesson(name[:2]).exercises if one.id == name)
    assert isinstance(form, Sentence)
    assert form.figures is not None
    given = SHOWN[name]()
    assert len(form.figures) == len(given)
    for said, found in zip(form.figures, given, strict=True):
        assert said == found if said >= 1 else said == pytest.approx(found, abs=0.0051), (said, found)
