"""Whether stated chances come true, in leagues drawn from a known law."""

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab.counts import Counts
from hitlab.ranking import chance_of_top
from hitlab.shrinkage import Posterior, fit_beta_binomial
from hitlab.splits import split_rates

_LEAGUES, _HITTERS = 1_000, 150


@pytest.mark.slow
def test_stated_chances_come_true():
    rng = np.random.default_rng(20_240)
    mean, spread = 0.14, 0.025
    size = mean * (1 - mean) / spread**2 - 1
    covered, chances, best, above, truly = [], [], [], [], []
    for _ in range(_LEAGUES):
        rates = rng.beta(mean * size, (1 - mean) * size, _HITTERS)
        swings = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), _HITTERS))).astype(int)
        hard = rng.binomial(swings, rates)
        a, b = fit_beta_binomial(hard, swings)
        posterior = Posterior(np.ones(1), (a + hard)[None], (b + swings - hard)[None])
        low, high = posterior.interval(0.9)
        covered.append(((low <= rates) & (rates <= high)).mean())
        field = np.flatnonzero(swings >= swings.max() // 4)
        chances.append(chance_of_top(posterior.only(field), 1))
        best.append(np.arange(len(field)) == rates[field].argmax())
        for one, other in rng.permutation(_HITTERS)[:20].reshape(10, 2):
            above.append(chance_of_top(posterior.only(np.array([one, other])), 1)[0])
            truly.append(rates[one] > rates[other])
    assert 0.88 <= np.mean(covered) <= 0.92
    stated, came = np.array(above), np.array(truly)
    bins = np.minimum((stated * 10).astype(int), 9)
    # Mean distance of stated and realised shares over ten bins of about 1,000 pairs: luck alone makes it
    # about 0.8 times a standard error of .012, or .010.
    distance = sum(
        abs(stated[bins == i].mean() - came[bins == i].mean()) * (bins == i).mean() for i in range(10)
    )
    assert distance <= 0.015
    stated, came = np.concatenate(chances), np.concatenate(best)
    for low, high in ((0, 0.02), (0.02, 0.1), (0.1, 0.3), (0.3, 0.6), (0.6, 1.01)):
        chosen = (stated >= low) & (stated < high)
        # One in ten thousand a bin, from luck alone.
        test = stats.binomtest(int(came[chosen].sum()), int(chosen.sum()), float(stated[chosen].mean()))
        assert test.pvalue > 1e-4


@pytest.mark.slow
def test_split_chances_come_true_about_as_often_as_stated():
    """100 leagues of 150 hitters, log odds ratios normal with mean -.1 and spread .25, 30 % of swings inside.

    The 90 % intervals cover less than stated (.865 over 300 leagues, where the standard error with leagues as
    the unit is about .003): the fit conditions on each hitter's total, which the spread of the ratios moves
    too. The bracket holds that figure, so that a change for better or worse shows.
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
