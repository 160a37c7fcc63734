"""The numbers that a lesson's sentence may say are those that its data give."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

import hitlab
from hitlab.exercises import lesson_00, lesson_01
from hitlab.exercises.definitions import Sentence
from hitlab.exercises.library import find_lesson
from hitlab.exercises.shared import middle, season


def _read_a_spread() -> tuple[float, ...]:
    seen, swings, leagues = lesson_00.rates(), lesson_00.SWINGS, lesson_00.LEAGUES
    rng = np.random.default_rng(1)
    equals = (rng.binomial(swings, seen.mean(), (leagues, seen.size)) / swings).std(axis=1)
    luck = float((equals**2).mean())
    as_wide = int((equals >= seen.std()).sum())
    return (
        as_wide, as_wide + 1, swings, leagues, seen.size, seen.mean(), seen.std(), *middle(equals),
        luck / seen.var(), 0.9,
    )  # fmt: skip


def _count_every_swing() -> tuple[float, ...]:
    both = hitlab.counting.denominators(season(), "hard", minimum=lesson_01.MINIMUM).table()
    both = both.set_index("hitter")
    counts = season().table().set_index("hitter")
    hers, other = both.loc[lesson_01.THE_HITTER], both.loc[lesson_01.THE_OTHER]
    ahead = int((both["per_swings"] > hers["per_swings"]).sum())
    in_play = counts.loc[lesson_01.THE_HITTER, "in_play"]
    return (
        lesson_01.MINIMUM, len(both), ahead + 1, ahead, 10, hers["hard"], hers["swings"], in_play,
        hers["hard"] / hers["swings"], hers["per_swings"], hers["per_in_play"],
        other["hard"], other["swings"], other["hard"] / other["swings"],
    )  # fmt: skip


SHOWN: dict[str, Callable[[], tuple[float, ...]]] = {
    "00.for-air": _read_a_spread,
    "01.for-air": _count_every_swing,
}
"""Exercise -> its numbers, counted or worked out anew."""


@pytest.mark.parametrize("name", SHOWN)
def test_the_numbers_of_a_sentence_are_those_of_the_data(name):
    """In the order of the form; a share is rounded to the decimals that it is said with."""
    form = next(one.form for one in find_lesson(name[:2]).exercises if one.id == name)
    assert isinstance(form, Sentence)
    assert form.figures is not None
    given = SHOWN[name]()
    assert len(form.figures) == len(given)
    for said, found in zip(form.figures, given, strict=True):
        assert said == round(float(found), len(repr(float(said)).partition(".")[2]))
