"""Splits: the law against quadrature and closed forms, pooling, and parts that are no parts."""

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab import Counts, split_rates
from hitlab.errors import CountsError
from hitlab.over_time import compare_periods
from hitlab.splits.split_law import GRID, FourCounts, fit_laws, law_weights


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


def test_weights_give_the_mean_of_a_function_over_a_normal_law():
    mean, spread = np.array([0.0, 0.013, -0.7, 0.4]), np.array([0.0, 0.05, 0.3, 0.8])
    weights = law_weights(mean, spread)
    np.testing.assert_allclose(weights.sum(axis=1), 1, atol=1e-12)
    # Closed forms: the mean of x, and of exp(x), over a normal law; linear between points 1/32 apart.
    np.testing.assert_allclose(weights @ GRID, mean, atol=1e-4)
    close = weights @ np.exp(GRID) / np.exp(mean + spread**2 / 2)
    np.testing.assert_allclose(close, 1, atol=(1 / 32) ** 2 / 8 + 1e-3)
    above = law_weights(mean, spread, mean).sum(axis=1)
    np.testing.assert_allclose(above, 0.5, atol=1e-4)
    # scipy's normal law above 0, where the spread is not 0.
    chance = law_weights(mean[1:], spread[1:], np.zeros(3)).sum(axis=1)
    np.testing.assert_allclose(chance, stats.norm.sf(0, mean[1:], spread[1:]), atol=1e-4)


def test_one_hitter_agrees_with_quadrature_where_the_laws_are_known():
    """The posterior of one hitter's difference, by brute force over the difference.

    A crowd with large records fixes the laws: levels alike, differences at the quantiles of a normal law with
    mean 0 and spread .25.
    """
    crowd, many, k, n, rest_k, rest_n = 400, 20_000, 9, 20, 30, 200
    level, spread = np.log(0.15 / 0.85), 0.25
    drawn = spread * stats.norm.ppf((np.arange(crowd) + 0.5) / crowd)
    counts = FourCounts(
        np.append(np.rint(many / (1 + np.exp(-level - drawn))).astype(int), k),
        np.append(np.full(crowd, many), n),
        np.append(np.full(crowd, many * 15 // 100), rest_k),
        np.append(np.full(crowd, many), rest_n),
    )
    [law] = fit_laws([counts])
    assert law.mean == pytest.approx(0, abs=0.02)
    # 400 differences tell a spread to .25 / sqrt(800), or .009; the grid of spreads is 19 % wide.
    assert law.spread == pytest.approx(spread, abs=0.04)
    difference = np.linspace(-3, 3, 6_001)
    inside = 1 / (1 + np.exp(-level - difference))
    posterior = stats.binom.pmf(k, n, inside) * stats.norm.pdf(difference, 0, spread)
    posterior /= posterior.sum()
    assert law.ratio[-1] == pytest.approx(posterior @ difference, abs=0.02)
    assert law.above_rest[-1] == pytest.approx(posterior[difference > 0].sum(), abs=0.01)
    assert law.rate[-1] == pytest.approx(posterior @ inside, abs=0.005)
    ends = np.interp([0.05, 0.95], posterior.cumsum(), difference)
    np.testing.assert_allclose([law.low[-1], law.high[-1]], ends, atol=0.04)


@pytest.mark.slow
def test_many_situations_tell_the_spread_that_one_cannot():
    rng = np.random.default_rng(8)
    tables, truths = [], []
    for _ in range(20):
        everything, inside, ratio = _league(int(rng.integers(1 << 30)), hitters=100, differ=0.25)
        k, n = inside.column("hard"), inside.column("swings")
        tables.append(FourCounts(k, n, everything.column("hard") - k, everything.column("swings") - n))
        truths.append(ratio)
    together = [law.spread for law in fit_laws(tables)]
    alone = [fit_laws([table])[0].spread for table in tables]
    assert np.abs(np.array(together) - 0.25).mean() < np.abs(np.array(alone) - 0.25).mean()
    # 20 situations of 100: the spread's standard error is about .02.
    assert np.mean(together) == pytest.approx(0.25, abs=0.08)


def test_no_event_and_all_events_are_answered():
    counts = FourCounts(*(np.array(c) for c in ([0, 3, 0], [3, 3, 1], [0, 40, 5], [50, 40, 9])))
    [law] = fit_laws([counts])
    for values in (law.ratio, law.low, law.high, law.rate, law.above_rest, law.above_usual, law.above_league):
        assert np.isfinite(values).all()
    assert ((law.low < law.ratio) & (law.ratio < law.high)).all()
    assert ((law.rate > 0) & (law.rate < 1)).all()


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


@pytest.mark.slow
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


def test_swapping_the_two_sides_turns_every_chance_round():
    """A hitter's level is midway between the sides, so neither is preferred: P(A > B) + P(B > A) = 1."""
    rng = np.random.default_rng(5)
    n = rng.integers(20, 300, (2, 60))
    k = rng.binomial(n, np.clip(rng.normal(0.15, 0.03, 60), 0.02, 0.5))
    one, two = (
        pd.DataFrame({"hitter": [f"h{i}" for i in range(60)], "swings": n[side], "hard": k[side]})
        for side in (0, 1)
    )
    there, back = (
        compare_periods(a, b, "hard", "swings").table().set_index("hitter")
        for a, b in ((one, two), (two, one))
    )
    assert (there["chance_higher"] + back["chance_higher"]).to_numpy() == pytest.approx(np.ones(60), abs=1e-6)
    assert (there["log_odds_ratio"] + back["log_odds_ratio"]).to_numpy() == pytest.approx(
        np.zeros(60), abs=1e-6
    )
