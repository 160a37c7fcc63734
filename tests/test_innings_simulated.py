"""A million simulated half innings, play by play, against the chain: the game stopped when it is won."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import binomtest, chisquare

from hitlab.game.advancing import Advancing
from hitlab.game.base_out import Spot
from hitlab.game.innings import half_inning, last_half
from tests.plain_half_inning import STATES, simulate
from tests.test_innings import HITTER, LEAGUE

MANY = 1_000_000
ALARM = 1e-4  # chance of a false alarm of each check


def test_a_million_full_half_innings():
    runs = simulate(HITTER, LEAGUE, (0, STATES[0]), MANY, Advancing(), np.random.default_rng(11))
    found = half_inning(HITTER, LEAGUE)
    seen = np.bincount(np.minimum(runs, 10), minlength=11)
    law = found.runs[0, 0]
    wanted = np.array([*law[:10], law[10:].sum() + found.tail[0, 0]]) * MANY
    assert chisquare(seen, wanted * seen.sum() / wanted.sum()).pvalue > ALARM
    error = runs.std() / np.sqrt(MANY)
    print(f"runs a half inning: {runs.mean():.4f} simulated, {found.expected_runs[0, 0]:.4f} by the chain")
    assert abs(runs.mean() - found.expected_runs[0, 0]) < 4 * error
    assert binomtest(int((runs > 0).sum()), MANY, found.chance_of_run[0, 0]).pvalue > ALARM


def test_a_million_last_halves_stopped_when_won():
    spot = Spot(-2, 1, "first second")
    runs = simulate(
        HITTER, LEAGUE, (1, STATES[4]), MANY, Advancing(), np.random.default_rng(12), stop_above=2
    )
    found = last_half(HITTER, LEAGUE)
    ahead, level = (float(part[2, 1, 4]) for part in (found.ahead, found.level))
    print(f"ahead: {np.mean(runs > 2):.4f} simulated, {ahead:.4f} by the chain")
    assert binomtest(int((runs > 2).sum()), MANY, ahead).pvalue > ALARM
    assert binomtest(int((runs == 2).sum()), MANY, level).pvalue > ALARM
    assert float(found.at(spot)) == pytest.approx(ahead + 0.5 * level, abs=1e-15)
    assert runs.max() <= 6  # two runs are in, and the play that wins brings in four at most
