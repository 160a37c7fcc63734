"""Whether stated chances come true, in leagues drawn from a known law."""

import numpy as np
import pandas as pd
import pytest

from hitlab.counting.counts import Counts
from hitlab.splits.one_split import split_rates
from tests.benchmarks.calibration_leagues import LAWS, score_law


@pytest.mark.slow
def test_large_leagues():
    """150 hitters, mean .14, spread .025, 20 to 1,300 swings; bounds from the project's aims.

    Measured over 600 leagues: coverage .897, by band .897 .894 .898 .900, leader .902; "above" off by .0055;
    the leader's rate off by .0012, .0003, .0003, -.0003 after correction (standard errors .0011 to .0006).
    """
    scores = score_law(LAWS["large"], 150, 11, ("default", "oracle"), tops=True)
    ours, oracle = scores["default"], scores["oracle"]
    assert 0.88 <= ours.coverage() <= 0.92
    assert all(0.86 <= share <= 0.94 for share in ours.coverage_by_band())
    assert ours.error("above") <= 0.01
    assert ours.error("ahead") <= oracle.error("ahead") + 0.01
    for name in ("leads, named", "leads, any", "top 5, named", "top 5, any"):
        # The oracle on the same leagues: on 150 of them either is noisy, the difference is not.
        assert ours.error(name) <= oracle.error(name) + 0.02
    _, left, error = ours.excess()
    assert (np.abs(left) < 0.002 + 3 * error).all()


@pytest.mark.slow
def test_small_leagues_cover_and_a_plugged_in_law_does_not():
    """15 hitters of 20 to 200 swings; each league's mean and spread drawn from a law of their own.

    Where the means of the leagues differ by little (standard deviation .015), "above .16" is off by .05, more
    than the .03 that was aimed at, for the fit knows nothing of the other leagues and takes every mean for as
    likely as another. Told of the wider league that the 15 belong to, it is off no more than the oracle.
    """
    methods = ("default", "wider league", "plugged in", "oracle")
    scores = score_law(LAWS["small"], 150, 12, methods, tops=False, most_pairs=0)
    assert scores["default"].coverage() >= 0.88
    assert scores["plugged in"].coverage() < 0.70
    assert 0.03 < scores["default"].error("above") < scores["plugged in"].error("above")
    assert 0.88 <= scores["wider league"].coverage() <= 0.92
    assert scores["wider league"].error("above") <= min(0.03, scores["oracle"].error("above") + 0.01)


@pytest.mark.slow
def test_small_leagues_of_different_levels():
    """As above, with means that differ as those of schools, clubs and professionals may (.03)."""
    scores = score_law(LAWS["small, levels"], 150, 13, ("default", "wider league"), tops=False, most_pairs=0)
    for score in scores.values():
        assert 0.88 <= score.coverage() <= 0.93
        assert score.error("above") <= 0.03


@pytest.mark.slow
def test_split_chances_come_true_about_as_often_as_stated():
    """100 leagues of 150 hitters, log odds ratios normal with mean -.1 and spread .25, 30 % of swings inside.

    The 90 % intervals cover less than stated (.856 over these 100 leagues; the standard error with leagues as
    the unit is .007): one situation by itself does not tell the spread of its law well enough (see
    ``hitlab.splits.one_split``). The bracket holds that figure, so that a change for better or worse shows.
    """
    rng = np.random.default_rng(5)
    stated, came, covered = [], [], []
    for _ in range(100):
        swings = np.exp(rng.uniform(np.log(60), np.log(600), 150)).astype(np.int64)
        inside = np.clip(rng.binomial(swings, 0.3), 1, swings - 1)
        level, ratio = rng.normal(-1.8, 0.15, 150), rng.normal(-0.1, 0.25, 150)
        hard_inside = rng.binomial(inside, 1 / (1 + np.exp(-level - ratio)))
        hard = hard_inside + rng.binomial(swings - inside, 1 / (1 + np.exp(-level)))
        names = [f"hitter {i:03d}" for i in range(150)]
        whole = Counts.from_table(pd.DataFrame({"hitter": names, "hard": hard, "swings": swings}))
        part = Counts.from_table(pd.DataFrame({"hitter": names, "hard": hard_inside, "swings": inside}))
        split = split_rates(whole, part, "hard", "swings").table()
        stated.append(split["chance_above_rest"].to_numpy())
        came.append(ratio > 0)
        covered.append((split["low"].to_numpy() <= ratio) & (ratio <= split["high"].to_numpy()))
    chance, true = np.concatenate(stated), np.concatenate(came)
    bins = np.digitize(chance, np.arange(0.1, 1, 0.1))
    off = [
        abs(chance[bins == b].mean() - true[bins == b].mean()) * (bins == b).mean() for b in np.unique(bins)
    ]
    assert sum(off) < 0.03
    assert 0.85 < np.concatenate(covered).mean() < 0.90
