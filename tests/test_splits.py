"""Splits: the conditional law against scipy, pooling, and parts that are no parts."""

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab import Counts, split_rates
from hitlab.errors import CountsError
from hitlab.splits import _RATIOS, _conditional_log_likelihood


def _counts(hard, swings, **others):
    names = [f"h{i:02d}" for i in range(len(hard))]
    return Counts.from_table(pd.DataFrame({"hitter": names, "swings": swings, "hard": hard, **others}))


def _league(seed, hitters=80, effect=0.0, differ=0.0):
    """Whole and inside counts of hitters whose log odds inside differ from those outside."""
    rng = np.random.default_rng(seed)
    outside = rng.normal(np.log(0.14 / 0.86), 0.2, hitters)
    ratio = rng.normal(effect, differ, hitters) if differ else np.full(hitters, effect)
    n, rest_n = rng.integers(20, 300, hitters), rng.integers(60, 900, hitters)
    k = rng.binomial(n, 1 / (1 + np.exp(-outside - ratio)))
    rest_k = rng.binomial(rest_n, 1 / (1 + np.exp(-outside)))
    return _counts(k + rest_k, n + rest_n), _counts(k, n), ratio


@pytest.mark.parametrize(
    "row", [(3, 20, 40, 300), (0, 5, 7, 50), (5, 5, 7, 50), (1, 3, 150, 900), (60, 300, 0, 40)]
)
def test_the_conditional_law_is_the_non_central_hypergeometric(row):
    k, n, rest_k, rest_n = row
    theirs = [
        stats.nchypergeom_fisher.logpmf(k, n + rest_n, k + rest_k, n, np.exp(ratio))
        for ratio in _RATIOS[::20]
    ]
    # scipy's routine is accurate to about 1e-7.
    np.testing.assert_allclose(_conditional_log_likelihood(*row)[::20], theirs, atol=1e-6)


def test_a_small_split_is_pulled_to_what_the_situation_does_to_everybody():
    everything, inside, _ = _league(1, effect=-0.3, differ=0.1)
    data, part = everything.table(), inside.table()
    data.loc[0, ["hard", "swings"]], part.loc[0, ["hard", "swings"]] = [63, 403], [3, 3]
    fit = split_rates(Counts.from_table(data), Counts.from_table(part), "hard", "swings")
    row = fit.data.iloc[0]
    assert row["inside_rate"] == 1
    assert fit.league_ratio < -0.2
    # Three hard-hit balls in three swings move him by less than one spread from the others.
    assert abs(row["log_odds_ratio"] - fit.league_ratio) < fit.league_spread
    assert row["chance_above_rest"] < 0.2


def test_a_league_without_splits_gives_few_striking_chances():
    striking = []
    for seed in range(12):
        everything, inside, _ = _league(100 + seed)
        data = split_rates(everything, inside, "hard", "swings").data
        striking.append(((data["chance_above_rest"] >= 0.9) | (data["chance_above_rest"] <= 0.1)).mean())
    # Two hitters in ten would be called so by their own records alone.
    assert np.mean(striking) < 0.1


def test_large_differences_are_found():
    everything, inside, ratio = _league(2, hitters=150, effect=0.2, differ=0.5)
    fit = split_rates(everything, inside, "hard", "swings")
    assert fit.league_ratio == pytest.approx(0.2, abs=4 * 0.6 / np.sqrt(150))
    assert fit.league_spread == pytest.approx(0.5, abs=0.2)
    covered = ((fit.data["low"] <= ratio) & (ratio <= fit.data["high"])).sum()
    assert stats.binomtest(int(covered), 150, 0.90).pvalue > 1e-4


def test_counts_on_both_sides_are_given():
    everything, inside = _counts([20, 5, 1], [100, 60, 9]), _counts([8, 0], [30, 0])
    data = split_rates(everything, inside, "hard", "swings").table()
    assert data["hitter"].tolist() == ["h00"]
    row = data.iloc[0]
    assert [row[f"{side}_{what}"] for side in ("inside", "rest") for what in ("events", "exposure")] == [
        8,
        30,
        12,
        70,
    ]
    assert (row["inside_rate"], row["rest_rate"]) == pytest.approx((8 / 30, 12 / 70))


def test_unknown_hardness_on_one_side_is_set_aside_there():
    # All unmeasured balls are outside: the whole's share of them must not be taken from the inside.
    everything = _counts([2, 5], [10, 40], in_play=[6, 20], unmeasured=[2, 0])
    inside = _counts([2, 3], [6, 20], in_play=[2, 10], unmeasured=[0, 0])
    row = split_rates(everything, inside, "hard", "swings").data.iloc[0]
    # Outside: 4 balls in play, 2 unmeasured, so half of its 4 swings.
    assert (row["inside_exposure"], row["rest_exposure"]) == (6, 2)


def test_parts_that_are_no_parts_are_refused():
    everything = _counts([20, 5], [100, 60])
    for part in (_counts([21, 0], [30, 10]), _counts([8, 0], [30, 61]), _counts([8, 0, 1], [30, 10, 5])):
        with pytest.raises(CountsError, match="are not a part of the whole; count both from one table"):
            split_rates(everything, part, "hard", "swings")
    with pytest.raises(CountsError, match="nobody has swings both inside the situation and outside it"):
        split_rates(everything, everything, "hard", "swings")
    by_club = Counts.from_table(pd.DataFrame({"club": ["A"], "swings": [30], "hard": [8]}))
    with pytest.raises(CountsError, match="count both the same way"):
        split_rates(everything, by_club, "hard", "swings")
