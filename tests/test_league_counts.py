"""Counts drawn directly agree with the model and with seasons played pitch by pitch."""

import numpy as np
import pytest
from scipy.stats import chi2

from hitlab.errors import ClaimError
from hitlab.league import Effects, draw_counts, make_season
from hitlab.league.counts import average_staff, fitted_rates
from hitlab.league.talents import draw_sides, draw_talents, scaled
from hitlab.league.truth import rates_with_error

PLAIN = Effects(pitchers=0, day_form=0, unmeasured=0)


@pytest.fixture(scope="module")
def drawn():
    return draw_counts(leagues=60, seed=3, effects=PLAIN)


@pytest.mark.slow
def test_counts_add_up(drawn):
    parts = drawn["whiffs"] + drawn["foul_tips"] + drawn["fouls"] + drawn["in_play"]
    assert (parts == drawn["swings"]).all()
    assert (drawn["contact"] == drawn["fouls"] + drawn["in_play"]).all()
    assert (drawn["hard"] + drawn["unmeasured"] <= drawn["in_play"]).all()
    assert (drawn["unmeasured"] == 0).all()
    rates = ["whiffs_per_swing", "fouls_per_swing", "foul_tips_per_swing", "in_play_per_swing"]
    assert np.allclose(drawn[rates].sum(axis=1), 1, atol=1e-12)
    assert np.allclose(drawn["in_play_per_swing"] * drawn["hard_per_in_play"], drawn["hard_per_swing"])
    assert len(drawn) == 60 * 150
    assert drawn.groupby("league")["hitter_id"].nunique().eq(150).all()


@pytest.mark.slow
def test_counts_scatter_around_their_rates_as_binomial_counts_do(drawn):
    some = drawn[drawn["swings"] >= 100]
    # False alarm rate 1 in 1,000 each; the mean and the variance of z.
    low, high = chi2.ppf([0.0005, 0.9995], len(some))
    for count, rate in (
        ("hard", "hard_per_swing"),
        ("whiffs", "whiffs_per_swing"),
        ("fouls", "fouls_per_swing"),
        ("in_play", "in_play_per_swing"),
    ):
        mean = some["swings"] * some[rate]
        z = (some[count] - mean) / np.sqrt(mean * (1 - some[rate]))
        assert abs(z.mean()) < 3.3 / np.sqrt(len(some))
        assert low < (z**2).sum() < high


@pytest.mark.slow
def test_the_fitted_rates_follow_the_model():
    """Hitters who were not in the fit, against the same pitchers, by the full computation."""
    rng = np.random.default_rng(77)
    talents, side = draw_talents(rng, (90,)), draw_sides(rng, (90,))
    effects = Effects()
    exact, error = rates_with_error(scaled(talents, effects), side, average_staff(effects), effects)
    fitted = fitted_rates(talents, side, effects)
    for rate in ("hard_per_swing", "hard_per_in_play", "whiffs_per_swing", "fouls_per_swing"):
        off = fitted[rate] - exact[rate]
        # Close in the spread between hitters; the level bears the numerical error of the fit's own
        # 1,024 points, a quarter of those here, so at most about four times the error.
        assert off.std() < 0.05 * exact[rate].std()
        assert abs(off.mean()) < 5 * 4 * error[rate]


@pytest.mark.slow
def test_drawn_counts_agree_with_a_season_played_pitch_by_pitch():
    """Scatter of hard-hit balls given the swings: both are binomial but for the count's 2 %."""
    season = make_season(pitches=150_000, seed=21, effects=PLAIN)
    rows = season.pitches
    swing = rows["outcome"].isin(["whiff", "foul", "foul tip", "in play"]) & ~rows["bunt"]
    hard = swing & (rows["exit_mph"] >= 95)
    whiff = swing & (rows["outcome"] == "whiff")
    truth = season.truth.set_index("hitter_id")
    low, high = chi2.ppf([0.0005, 0.9995], len(truth))
    swings = swing.groupby(rows["hitter_id"]).sum().reindex(truth.index, fill_value=0)
    for flag, rate in ((hard, "hard_per_swing"), (whiff, "whiffs_per_swing")):
        count = flag.groupby(rows["hitter_id"]).sum().reindex(truth.index, fill_value=0)
        mean = swings * truth[rate]
        z = (count - mean) / np.sqrt(mean * (1 - truth[rate]))
        # The truth's own numerical error (.0002 of a rate of .14) is .02 standard errors here, and
        # the false alarm rate 1 in 1,000; the upper bound is widened for the count's 2 %.
        assert abs(z.mean()) < 3.3 / np.sqrt(len(z)) + 3 * 0.02
        assert low < (z**2).sum() < 1.02 * high


@pytest.mark.slow
def test_drawn_leagues_have_the_exposure_and_the_spread_of_played_ones():
    effects = Effects()
    leagues = draw_counts(leagues=200, seed=1, effects=effects)
    played = [make_season(pitches=98_325, seed=seed, effects=effects) for seed in (31, 32, 33)]
    swings = []
    for season in played:
        rows = season.pitches
        swing = rows["outcome"].isin(["whiff", "foul", "foul tip", "in play"]) & ~rows["bunt"]
        by_hitter = swing.groupby(rows["hitter_id"]).sum()
        swings.append(by_hitter.reindex(season.truth["hitter_id"], fill_value=0).to_numpy())
    by_rank = np.mean([np.sort(one)[::-1] for one in swings], axis=0)
    ours = np.sort(leagues["swings"].to_numpy().reshape(200, 150), axis=1)[:, ::-1].mean(axis=0)
    # Seasons differ in innings and pitchers by about 1 in 50 each; the shape is the point.
    assert ours.sum() / by_rank.sum() == pytest.approx(1, abs=0.04)
    assert np.abs(ours - by_rank).max() < 0.12 * by_rank.max()
    spread = leagues.groupby("league")["hard_per_swing"].std().mean()
    theirs = [season.truth["hard_per_swing"].std() for season in played]
    # Standard error of a standard deviation of 450 draws: 1 / sqrt(900), four of them.
    assert np.mean(theirs) == pytest.approx(spread, rel=4 / np.sqrt(900))


@pytest.mark.slow
def test_null_leagues_have_one_rate():
    null = draw_counts(leagues=2, seed=0, effects=Effects.none())
    for rate in ("hard_per_swing", "whiffs_per_swing", "in_play_per_swing"):
        assert np.ptp(null[rate]) < 1e-9
    exact = make_season(hitters=90, pitches=1, effects=Effects.none())
    error = exact.truth_error["hard_per_swing"]
    # The fit has a quarter of the points, so at most about four times the error.
    difference = null["hard_per_swing"].iloc[0] - exact.truth["hard_per_swing"].iloc[0]
    assert abs(difference) < 5 * 4 * error


@pytest.mark.slow
def test_the_seed_decides():
    assert draw_counts(seed=4).equals(draw_counts(seed=4))
    assert not draw_counts(seed=4).equals(draw_counts(seed=5))


@pytest.mark.parametrize("change", [{"leagues": 0}, {"games_a_club": 0}, {"clubs": 40}, {"hitters": "many"}])
def test_bad_arguments_are_named(change):
    (name,) = change
    with pytest.raises(ClaimError, match=f"{name}="):
        draw_counts(**change)
