"""The law integrated over, against a fine grid on scipy's Beta-binomial law; what the mean depends on."""

import json
import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from scipy import special, stats
from scipy.special import expit

from hitlab import shrink
from hitlab.errors import CountsError, HitlabWarning, MissingColumnsError
from hitlab.estimates.designs import _thinned, average
from hitlab.estimates.league_law import LeagueLaw
from hitlab.estimates.prior_laws import LARGEST_R, Records, _simplex, gauss_rule, heaviest, integrate
from hitlab.estimates.questions import exposure_part
from hitlab.estimates.shrinkage import ESTIMATORS
from hitlab.estimates.top_places import chance_of_top


def _league(seed, groups, lowest=20, highest=1300, slope=0.0, spread=0.025):
    rng = np.random.default_rng(seed)
    exposure = np.rint(np.exp(rng.uniform(np.log(lowest), np.log(highest), groups))).astype(int)
    mean = expit(np.log(0.14 / 0.86) + slope * (np.log(exposure) - np.log(exposure).mean()))
    size = mean * (1 - mean) / spread**2 - 1
    truth = rng.beta(mean * size, (1 - mean) * size)
    return rng.binomial(exposure, truth), exposure, truth


def _lines(events, exposure, **more):
    names = [f"h{i:05d}" for i in range(len(events))]
    return pd.DataFrame({"hitter": names, "swings": exposure, "hard": events, **more})


def _records(events, exposure):
    groups = len(events)
    nothing = np.zeros(groups)
    one = np.ones((groups, 1))
    k, n = np.asarray(events, float), np.asarray(exposure, float)
    return Records(k, n, np.ones(groups), one, np.array([np.inf]), nothing, nothing)


def _fine_grid(events, exposure, means=241, spreads=160):
    """Posterior over (mean, r) on a dense grid, flat on both, by scipy's Beta-binomial law."""
    pooled, error = events.sum() / exposure.sum(), 0.3 / np.sqrt(len(events)) + 1 / np.sqrt(exposure.sum())
    mean = np.linspace(max(pooled - 3 * error, 1e-3), min(pooled + 3 * error, 1 - 1e-3), means)
    r = (np.arange(spreads) + 0.5) / spreads * LARGEST_R
    m, rr = (x.ravel() for x in np.meshgrid(mean, r))
    size = 1 / rr**2 - 1
    log = sum(
        stats.betabinom.logpmf(k, n, m * size, (1 - m) * size) for k, n in zip(events, exposure, strict=True)
    )
    weight = np.exp(log - log.max())
    # The chance of the successes in one order: without the binomial coefficients, which no law changes.
    orders = sum(np.log(special.comb(n, k)) for k, n in zip(events, exposure, strict=True))
    evidence = log.max() + np.log(weight.sum() * (mean[1] - mean[0]) / spreads) - orders
    return m, rr, weight / weight.sum(), evidence


@pytest.mark.slow
@pytest.mark.parametrize(("groups", "within"), [(2, 0.007), (8, 0.002), (15, 0.002), (40, 0.001)])
def test_few_laws_against_a_fine_grid(groups, within):
    events, exposure, _ = _league(groups, groups, 20, 200)
    m, r, weight, evidence = _fine_grid(events, exposure)
    laws = integrate(_records(events, exposure))
    assert laws.log_evidence == pytest.approx(evidence, abs=0.01)
    assert laws.weights @ laws.r == pytest.approx(weight @ r, rel=0.01)
    mean = expit(laws.coefficients[:, 0])
    kept = weight > 1e-9
    for k, n in zip(events[:2], exposure[:2], strict=True):
        size = 1 / r[kept] ** 2 - 1
        true = stats.beta(m[kept] * size + k, (1 - m[kept]) * size + n - k)
        ours = stats.beta(mean * laws.sizes + k, (1 - mean) * laws.sizes + n - k)
        assert laws.weights @ ours.mean() == pytest.approx(
            weight[kept] @ true.mean() / weight[kept].sum(), abs=2e-4
        )
        for x in np.linspace(0.05, 0.3, 11):
            assert laws.weights @ ours.cdf(x) == pytest.approx(weight[kept] @ true.cdf(x), abs=within)


def test_gauss_rule_keeps_the_moments_of_its_table():
    x = np.linspace(0, 1, 40)
    mass = stats.beta(2, 5).pdf(x)
    mass /= mass.sum()
    nodes, weights = gauss_rule(x, mass, 5)
    for power in range(10):
        assert weights @ nodes**power == pytest.approx(mass @ x**power, rel=1e-9)


def test_a_link_with_exposure_is_found_where_there_is_one():
    rising = shrink(_lines(*_league(1, 300, slope=0.15)[:2]), "hard", "swings")
    level = shrink(_lines(*_league(1, 300)[:2]), "hard", "swings")
    assert rising.weighed["chance"].iloc[0] < 0.01
    assert level.weighed["chance"].iloc[0] > 0.5
    assert "the mean follows the number of swings, from ." in rising.explanation
    assert "the number of swings was not found to tell anything" in level.explanation
    toward = rising.data.sort_values("swings")["toward"].to_numpy()
    assert toward[-1] > toward[0] + 0.02
    assert level.weighed["chance"].sum() == pytest.approx(1)


def test_equal_exposure_asks_no_question_about_it():
    fit = shrink(_lines(np.arange(5, 25), 100), "hard", "swings")
    assert fit.weighed.empty
    assert exposure_part(np.full(20, 100), "auto") is None


def test_groups_are_pooled_in_part():
    events, exposure, _ = _league(4, 120)
    role = np.where(np.arange(120) % 3 == 0, "starter", "bench")
    events = events + np.where(role == "starter", exposure // 12, 0)
    fit = shrink(_lines(events, exposure, role=role), "hard", "swings", groups="role", by_exposure=False)
    toward = fit.data.groupby(role)["toward"].first()
    assert toward["starter"] - toward["bench"] == pytest.approx(1 / 12, abs=0.03)
    assert fit.weighed.set_index("option")["chance"]["no difference by role"] < 0.01
    alike = shrink(
        _lines(*_league(4, 120)[:2], role=role), "hard", "swings", groups="role", by_exposure=False
    )
    toward = alike.data.groupby(role)["toward"].first()
    assert abs(toward["starter"] - toward["bench"]) < 0.01
    assert "role may or may not tell something of the rate (chance 47 %)" in alike.explanation


def test_a_group_of_one_and_covariates_that_are_missing_are_named():
    events, exposure, _ = _league(5, 60)
    role = np.array(["bench"] * 59 + ["captain"])
    age = np.linspace(18, 23, 60)
    age[[3, 7]] = np.nan
    fit = shrink(_lines(events, exposure, role=role), "hard", "swings", groups="role")
    assert np.isfinite(fit.data["shrunk"]).all()
    about = pd.DataFrame({"hitter": [f"h{i:05d}" for i in range(60)], "age": age})
    fit = shrink(_lines(events, exposure), "hard", "swings", covariates=["age"], traits=about)
    assert "age is missing for h00003, h00007, who stand at the mean age" in fit.notes
    same = shrink(_lines(events, exposure, role="bench"), "hard", "swings", groups="role")
    assert "everybody has the same role, so it tells nothing" in same.notes
    with pytest.raises(MissingColumnsError, match="there is no column 'height' in counts"):
        shrink(_lines(events, exposure), "hard", "swings", covariates=["height"])
    twice = pd.concat([about, about.iloc[:1]], ignore_index=True)
    with pytest.raises(CountsError, match="traits, row 61: the hitter stands there twice"):
        shrink(_lines(events, exposure), "hard", "swings", covariates=["age"], traits=twice)


def test_a_plain_table_may_hold_covariates_that_are_no_counts():
    rng = np.random.default_rng(11)
    speed = rng.normal(68.0, 2.0, 80)
    exposure = rng.integers(80, 500, 80)
    rate = 0.14 + 0.012 * (speed - 68.0)
    lines = _lines(rng.binomial(exposure, rate.clip(0.02, 0.4)), exposure, bat_mph=speed)
    beside = shrink(lines, "hard", "swings", covariates=["bat_mph"])
    apart = shrink(
        lines.drop(columns="bat_mph"),
        "hard",
        "swings",
        covariates=["bat_mph"],
        traits=lines[["hitter", "bat_mph"]],
    )
    pd.testing.assert_frame_equal(beside.data, apart.data)
    # A line through 2 mph of bat speed: .024 of the rate a standard deviation.
    assert np.corrcoef(beside.data["toward"], rate)[0, 1] > 0.95
    assert "bat_mph tells something" in beside.explanation
    lines.loc[2, "bat_mph"] = np.nan
    missing = shrink(lines, "hard", "swings", covariates=["bat_mph"])
    assert "bat_mph is missing for h00002, who stands at the mean bat_mph" in missing.notes
    lines["hard"] = lines["hard"].astype(float)
    lines.loc[4, "hard"] = 2.5
    with pytest.raises(
        CountsError, match=r"^hard, row 5: 2\.5 is not a count; give a whole number, 0 or more$"
    ):
        shrink(lines, "hard", "swings", covariates=["bat_mph"])


@pytest.mark.slow
def test_an_earlier_season_is_worth_what_the_table_says():
    rng = np.random.default_rng(8)
    truth = rng.beta(27, 165, 200)
    then, now = rng.integers(50, 600, (2, 200))
    before = _lines(rng.binomial(then, truth), then)
    lines = _lines(rng.binomial(now, truth), now)
    same = shrink(lines, "hard", "swings", earlier=before)
    assert same.weighed.set_index("option")["chance"]["earlier seasons count nothing"] < 1e-3
    alone = shrink(lines, "hard", "swings")
    error = ((same.data["shrunk"] - truth) ** 2).sum() / ((alone.data["shrunk"] - truth) ** 2).sum()
    assert error < 0.8
    stranger = _lines(rng.binomial(then, rng.permutation(truth)), then)
    shuffled = shrink(lines, "hard", "swings", earlier=[stranger])
    assert shuffled.weighed.set_index("option")["chance"]["earlier seasons count nothing"] > 0.5
    with pytest.raises(CountsError, match="nobody in the earlier table is in this one"):
        shrink(lines, "hard", "swings", earlier=before.assign(hitter=[f"x{i}" for i in range(200)]))


def test_a_stated_law_is_used_and_one_that_contradicts_is_warned_about():
    events, exposure, _ = _league(9, 12, 20, 200)
    law = LeagueLaw(0.14, 0.025)
    fit = shrink(_lines(events, exposure), "hard", "swings", prior=law)
    a, b = 0.14 * law.size + events, 0.86 * law.size + exposure - events
    np.testing.assert_allclose(fit.data["shrunk"], a / (a + b))
    assert fit.half_weight_size == pytest.approx(law.size)
    known_from_150 = shrink(_lines(events, exposure), "hard", "swings", prior=LeagueLaw(0.14, 0.025, 150))
    np.testing.assert_allclose(known_from_150.data["shrunk"], fit.data["shrunk"], atol=0.003)
    with pytest.warns(
        HitlabWarning, match=r"stated mean of hard-hit balls per swing is \.400, this table's is \.1"
    ):
        shrink(_lines(events, exposure), "hard", "swings", prior=LeagueLaw(0.4, 0.025))
    wild = np.where(np.arange(12) % 2, exposure // 2, 0)
    with pytest.warns(HitlabWarning, match=r"scatter more than the stated spread of \.025"):
        shrink(_lines(wild, exposure), "hard", "swings", prior=LeagueLaw(0.25, 0.025))
    with pytest.raises(CountsError, match="leaves nothing to learn"):
        shrink(_lines(events, exposure), "hard", "swings", prior=law, by_exposure=True)
    with pytest.raises(CountsError, match=r"the largest that rates with a mean of \.140 can have"):
        LeagueLaw(0.14, 0.5)
    for mean in (0.1, 0.2, 0.5, 0.9):  # the largest itself: everybody is always or never
        with pytest.raises(CountsError, match="below"):
            LeagueLaw(mean, math.sqrt(mean * (1 - mean)))
        with pytest.raises(CountsError, match="below"):
            LeagueLaw(mean, round(math.sqrt(mean * (1 - mean)), 12))
    league = shrink(_lines(*_league(3, 150)[:2]), "hard", "swings")
    # The spread is known from records, so less well than from 150 true rates.
    low, high = league.spread_interval
    assert league.law.rates == round((league.spread / ((high - low) / (2 * 1.6449))) ** 2 / 2) < 150
    assert league.law.spread == pytest.approx(league.spread)


@pytest.mark.parametrize("estimator", ESTIMATORS)
def test_every_estimator_finds_the_law_of_a_large_league(estimator):
    events, exposure, truth = _league(11, 3_000)
    fit = shrink(_lines(events, exposure), "hard", "swings", estimator=estimator)
    # Four standard errors of the mean; a spread that 3,000 rates tell within some per cent.
    assert fit.mean == pytest.approx(0.14, abs=4 * 0.035 / np.sqrt(3_000))
    assert fit.spread == pytest.approx(0.025, rel=0.08)
    assert ((fit.data["shrunk"] - truth) ** 2).mean() < 0.5 * ((fit.data["rate"] - truth) ** 2).mean()


def test_options_that_exclude_each_other_are_refused():
    lines = _lines(*_league(1, 20)[:2])
    with pytest.raises(CountsError, match="estimator='guess': give one of integrated, likelihood"):
        shrink(lines, "hard", "swings", estimator="guess")
    with pytest.raises(CountsError, match="by_exposure='yes': give True, False or 'auto'"):
        shrink(lines, "hard", "swings", by_exposure="yes")
    with pytest.raises(CountsError, match="fits one law to this table alone"):
        shrink(lines, "hard", "swings", estimator="moments", by_exposure=True)


@pytest.mark.parametrize(
    ("events", "exposure"),
    [
        ([10], [50]),
        ([10, 30], [50, 60]),
        ([0] * 15, [30] * 15),
        ([30] * 15, [30] * 15),
        ([3, 0, 5], [20, 0, 40]),
        ([0, 1], [1, 1]),
    ],
    ids=["one hitter", "two hitters", "all zero", "all one", "no exposure", "one swing each"],
)
def test_odd_tables_have_sober_answers(events, exposure):
    fit = shrink(_lines(events, exposure), "hard", "swings")
    data = fit.data
    assert ((data["low"] < data["shrunk"]) & (data["shrunk"] < data["high"])).all()
    assert ((data["low"] >= 0) & (data["high"] <= 1)).all()
    assert any(note.startswith(f"only {sum(n > 0 for n in exposure)} group") for note in fit.notes)
    if 0 in exposure:
        widths = (data["high"] - data["low"]).to_numpy()
        assert widths.argmax() == exposure.index(0)


def test_counts_that_cannot_be_are_refused_with_their_row():
    with pytest.raises(CountsError, match=r"hard, row 2: .*2\.5.* is not a count"):
        shrink(_lines([1, 2.5], [10, 10]), "hard", "swings")
    with pytest.raises(CountsError, match="h00001: hard 11 is more than swings 10"):
        shrink(_lines([1, 11], [10, 10]), "hard", "swings")


def test_equal_records_put_together_change_nothing():
    events, exposure, _ = _league(6, 1_500, 20, 60)
    part = exposure_part(exposure, "auto")
    once = average(events, exposure, [part])
    twice = average(np.tile(events, 2), np.tile(exposure, 2), [exposure_part(np.tile(exposure, 2), "auto")])
    assert len(twice.weights) <= len(once.weights) + 40
    # The mean of twice the same table is the same, its uncertainty smaller.
    assert twice.weights @ twice.means[:, 0] == pytest.approx(once.weights @ once.means[:, 0], abs=0.002)
    laws = integrate(_records(np.tile(events, 2), np.tile(exposure, 2)))
    records = _records(events, exposure)
    doubled = Records(
        records.events,
        records.exposure,
        np.full(1_500, 2.0),
        records.design,
        records.scales,
        records.earlier_events,
        records.earlier_exposure,
    )
    np.testing.assert_allclose(integrate(doubled).log_evidence, laws.log_evidence, rtol=1e-9)


@pytest.mark.slow
def test_a_million_hitters():
    rng = np.random.default_rng(0)
    exposure = rng.integers(0, 600, 1_000_000)
    lines = _lines(rng.binomial(exposure, rng.beta(27, 165, 1_000_000)), exposure)
    fit = shrink(lines, "hard", "swings")
    assert fit.mean == pytest.approx(27 / 192, abs=2e-4)
    assert fit.half_weight_size == pytest.approx(192, rel=0.01)


def test_against_a_full_bayesian_fit():
    """One league by PyMC (``tests/benchmarks/full_bayes.py`` made the file, with its version inside)."""
    path = Path(__file__).parent / "reference" / "full_bayes.json"
    theirs = json.loads(path.read_text())
    lines = _lines(theirs["events"], theirs["exposure"])
    fit = shrink(lines, "hard", "swings", by_exposure=False)
    spread, draws = np.array(theirs["spread"]), theirs["smallest_effective_draws"]
    # Monte Carlo errors of a mean, of a 5 % quantile of a near-normal law (2.1 times that of the mean), and
    # of a share; five of them, for 160 comparisons.
    error = spread / np.sqrt(draws)
    assert (np.abs(fit.data["shrunk"] - theirs["mean"]) < 5 * error).all()
    assert (np.abs(fit.data["low"] - theirs["low"]) < 5 * 2.1 * error).all()
    assert (np.abs(fit.data["high"] - theirs["high"]) < 5 * 2.1 * error).all()
    best = chance_of_top(fit.posterior, 1)
    assert (np.abs(best - theirs["chance_best"]) < 5 * np.sqrt(np.maximum(best, 1e-4) / draws)).all()


@pytest.mark.slow
def test_simulation_based_calibration():
    """Talts et al. 2018, arXiv 1804.06788: truths drawn from the prior itself have uniform ranks.

    The true rate's place in its posterior distribution is uniform when the law is drawn from the very prior
    that is integrated over. Places of one league are dependent, so that each test looks at one hitter a
    league: those with the shortest, the middle and the longest record.
    """
    rng = np.random.default_rng(21)
    places = []
    for _ in range(600):
        mean, r = rng.uniform(), rng.uniform(0, LARGEST_R)
        size = 1 / r**2 - 1
        exposure = np.array([5, 20, 60, 200, 600])
        truth = rng.beta(mean * size, (1 - mean) * size, 5)
        events = rng.binomial(exposure, truth)
        posterior = average(events, exposure, []).posterior(events, exposure)
        places.append(posterior.weights @ stats.beta(posterior.a, posterior.b).cdf(truth))
    for hitter in (0, 2, 4):
        place = np.array(places)[:, hitter]
        assert stats.kstest(place, "uniform").pvalue > 0.001
        # The spread of the places: too wide or too narrow a posterior shows here first.
        assert place.std() == pytest.approx(1 / np.sqrt(12), abs=4 * 0.2582 / np.sqrt(4 * 600))


def test_nearly_equal_exposures_do_not_make_a_link():
    """Eight of nine hitters alike, with 73 to 82 attempts: one odd record must not bend the mean for all."""
    exposure = np.array([73, 74, 75, 75, 76, 77, 78, 79, 82])
    events = np.array([17, 16, 18, 17, 18, 17, 21, 18, 6])
    near = shrink(_lines(events, exposure), "hard", "swings")
    far = shrink(_lines(events * 4, np.round(exposure * np.linspace(1, 9, 9)).astype(int)), "hard", "swings")
    assert not near.exposure_tells
    assert far.exposure_tells
    without = shrink(_lines(events, exposure), "hard", "swings", by_exposure=False)
    np.testing.assert_allclose(near.data["shrunk"], without.data["shrunk"], atol=0.012)


@pytest.mark.parametrize("axes", [1, 2, 3, 4])
def test_the_corners_of_the_simplex_are_exact_to_the_second_degree(axes):
    """Mean 0 and covariance 1 of equal weights, and all corners equally far from the middle."""
    points, log_weights = _simplex(axes)
    assert np.ptp(log_weights) == 0
    np.testing.assert_allclose(points.mean(axis=0), 0, atol=1e-12)
    np.testing.assert_allclose(points.T @ points / (axes + 1), np.eye(axes), atol=1e-12)
    np.testing.assert_allclose((points**2).sum(axis=1), axes, rtol=1e-12)


def test_how_a_processor_rounds_does_not_choose_the_laws():
    """Equal spreads and weights but for the last bits: the same laws stand for all."""
    rng = np.random.default_rng(4)
    r = np.repeat(np.linspace(0.05, 0.2, 20), 15)
    level = np.tile(np.linspace(-2, -1.8, 15), 20)
    weights = np.exp(-np.abs(level + 1.9) * 20)
    rest = rng.normal(size=(300, 2))
    kept, stand = heaviest(weights / weights.sum()), _thinned(weights, r, level[:, np.newaxis], rest, 60)

    def noise():
        return 1 + rng.uniform(-1e-13, 1e-13, 300)

    for _ in range(20):
        moved = weights * noise()
        assert np.array_equal(heaviest(moved / moved.sum()), kept)
        np.testing.assert_allclose(
            _thinned(moved, r * noise(), (level * noise())[:, np.newaxis], rest, 60),
            stand,
            rtol=1e-8,
            atol=1e-12,
        )


ELSEWHERE = """
import json, hitlab
from hitlab.evidence.samples import SAMPLES
season = hitlab.demo_season()
print(json.dumps([one.ask(season).chance for one in SAMPLES if one.kind in ("leads", "above", "near")]))
"""


@pytest.mark.slow
def test_another_processor_gives_the_same_chances():
    """Linear algebra for an old processor rounds otherwise, and once took other axes for equal ones."""

    def told(**settings):
        found = subprocess.run(
            [sys.executable, "-c", ELSEWHERE], env={**os.environ, **settings}, capture_output=True, check=True
        )
        return [np.nan if one is None else one for one in json.loads(found.stdout)]

    here, there = told(), told(OPENBLAS_CORETYPE="Nehalem", NPY_DISABLE_CPU_FEATURES="AVX2 FMA3")
    assert np.isfinite(here).sum() > 5
    np.testing.assert_allclose(there, here, rtol=1e-8, atol=1e-12)
