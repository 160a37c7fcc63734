"""What lessons say in prose and that takes longer to find than a lesson may run."""

from __future__ import annotations

import numpy as np
import pytest

import hitlab
from hitlab.exercises.lesson_04 import MEANS, SPREADS, WAYS, coverage, made_up_club


@pytest.mark.parametrize("way", WAYS)
def test_lesson_4_ranges_are_those_of_the_functions_that_it_calls(way):
    rng = np.random.default_rng(12)
    for _ in range(4):
        sheet, _true = made_up_club(rng)
        called = {
            "own swings": lambda sheet: hitlab.rate(sheet, "hard", "swings", level=0.90),
            "quick": lambda sheet: hitlab.shrink(sheet, "hard", "swings", level=0.90, estimator="likelihood"),
            "careful": lambda sheet: hitlab.shrink(sheet, "hard", "swings", level=0.90, by_exposure=False),
        }[way](sheet).table()
        low, high = WAYS[way](sheet["hard"].to_numpy(float), sheet["swings"].to_numpy(float))
        np.testing.assert_allclose(low, called["low"], rtol=0, atol=1e-12)
        np.testing.assert_allclose(high, called["high"], rtol=0, atol=1e-12)


def _share_held_by_careful_ranges(spread: float, clubs: int = 60) -> float:
    rng, held = np.random.default_rng(11), []
    sheet, _ = made_up_club(rng)
    for _ in range(clubs):
        mean, swings = rng.uniform(*MEANS), rng.integers(20, 201, len(sheet))
        size = mean * (1 - mean) / spread**2 - 1
        true = rng.beta(mean * size, (1 - mean) * size, len(sheet))
        club = sheet.assign(swings=swings, hard=rng.binomial(swings, true))
        table = hitlab.shrink(club, "hard", "swings", by_exposure=False).table()
        held.append(np.mean((table["low"] <= true) & (true <= table["high"])))
    return float(np.mean(held))


@pytest.mark.slow
def test_lesson_4_careful_ranges_hold_more_where_hitters_are_alike_and_fewer_where_they_lie_far_apart():
    alike, far_apart = (_share_held_by_careful_ranges(spread) for spread in SPREADS)
    assert alike > 0.92
    assert 0.85 < far_apart < 0.90


@pytest.mark.slow
def test_lesson_4_own_and_careful_ranges_keep_the_promise_that_the_quick_ones_break():
    assert 0.86 < coverage("own swings") < 0.94
    assert 0.86 < coverage("careful") < 0.94
    assert coverage("quick") < 0.75
