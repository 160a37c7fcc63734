"""An invented season obeys its own truth: targets, true rates, the null league, each effect."""

import dataclasses

import numpy as np
import pytest
from scipy.stats import chi2

from hitlab.errors import ClaimError
from hitlab.league import RATES, Effects, make_season
from hitlab.league.talents import CORRELATIONS, TALENTS, correlation_matrix, draw_talents

SWINGS = ["whiff", "foul", "foul tip", "in play"]
FAMILY_WORDS = {
    "fastball": ["four-seam fastball", "sinker", "cutter"],
    "breaking": ["slider", "curveball"],
}


def flagged(pitches):
    """The swing-based flags of each pitch, bunt attempts left out."""
    own = ~pitches["bunt"]
    swing = pitches["outcome"].isin(SWINGS) & own
    return pitches.assign(
        swing=swing,
        whiff=(pitches["outcome"] == "whiff") & own,
        foul=(pitches["outcome"] == "foul") & own,
        tip=(pitches["outcome"] == "foul tip") & own,
        in_play=(pitches["outcome"] == "in play") & own,
        hard=(pitches["exit_mph"] >= 95) & own,
        pitch_thrown=pitches["outcome"] != "intentional ball",
    )


def common_rates(season):
    """The rates that the targets speak of."""
    rows = flagged(season.pitches)
    swings, last = rows["swing"].sum(), rows["result"].dropna()
    measured = rows["in_play"] & rows["exit_mph"].notna()
    hits = last.isin(["single", "double", "triple", "home run"]).sum()
    not_at_bats = last.isin(["walk", "hit by pitch", "sacrifice fly", "sacrifice bunt"]).sum()
    halves = rows.groupby(["game", "inning", "half"])["runs"].sum()
    return {
        "swing": swings / len(rows),
        "whiff": rows["whiff"].sum() / swings,
        "foul": (rows["foul"] | rows["tip"]).sum() / swings,
        "in play": rows["in_play"].sum() / swings,
        "hard per in play": rows["hard"].sum() / measured.sum(),
        "hard per swing": rows["hard"].sum() / swings,
        "batting average": hits / (len(last) - not_at_bats),
        "runs a half": halves.mean(),
        "strikeouts": (last == "strikeout").mean(),
        "walks": (last == "walk").mean(),
        "four-seam speed": rows.loc[rows["pitch_kind"] == "four-seam fastball", "speed_mph"].mean(),
    }


# Common practice, no source; the half-width is what seeds 0 to 19 strayed at most (whiffs by .013),
# since a league of 120 drawn pitchers is not the average league, rounded up.
TARGETS = {
    "swing": (0.47, 0.015),
    "whiff": (0.245, 0.020),
    "foul": (0.38, 0.015),
    "in play": (0.375, 0.015),
    "hard per in play": (0.37, 0.015),
    "hard per swing": (0.14, 0.010),
    "batting average": (0.25, 0.015),
    "runs a half": (0.50, 0.06),
    "strikeouts": (0.23, 0.025),
    "walks": (0.085, 0.015),
    "four-seam speed": (93.6, 1.0),
}


@pytest.fixture(scope="module")
def default():
    return make_season(pitches=100_000, seed=12)


@pytest.mark.slow
def test_common_rates_land_near_common_practice(default):
    found = common_rates(default)
    strayed = {name: found[name] for name, (aim, give) in TARGETS.items() if abs(found[name] - aim) > give}
    assert not strayed


@pytest.mark.slow
def test_hard_hit_balls_lie_around_the_line_drive(default):
    hard = default.pitches.loc[default.pitches["exit_mph"] >= 95, "launch_deg"]
    others = default.pitches.loc[default.pitches["exit_mph"] < 95, "launch_deg"]
    assert hard.between(-5, 25).mean() > 0.65
    assert others.between(-5, 25).mean() < 0.45


@pytest.mark.slow
def test_true_spread_of_regulars_is_as_intended(default):
    regulars = default.truth[default.truth["role"] == "regular"]
    # Standard error of a standard deviation of 90 draws: sd / sqrt(180), four of them.
    assert abs(regulars["hard_per_swing"].std() - 0.0155) < 4 * 0.0155 / np.sqrt(180)


@pytest.mark.slow
def test_up_and_in_fastballs_are_fouled_late():
    pitches = make_season(pitches=40_000, seed=6).pitches
    fouls = pitches[pitches["outcome"] == "foul"]
    fast = fouls["pitch_kind"].isin(FAMILY_WORDS["fastball"])
    up_and_in = fast & (fouls["inside_in"] > 4) & (fouls["height_in"] > 32)
    slow_away = ~fast & (fouls["inside_in"] < -4)
    opposite = fouls["foul_side"] == "opposite"
    few = min(up_and_in.sum(), slow_away.sum())
    # Four standard errors of a difference of two shares, at most sqrt(1 / (2 n)).
    assert opposite[up_and_in].mean() - opposite[slow_away].mean() > 4 * np.sqrt(0.5 / few)


def z_scores(rows, truth, numerator, denominator, rate):
    """(Observed - true) / standard error per hitter, the error by plate appearance."""
    true = rows["hitter_id"].map(truth[rate])
    residual = (rows[numerator].astype(float) - true * rows[denominator]).rename("residual")
    keys = [rows["hitter_id"], rows["game"], rows["plate_appearance"]]
    by_turn = residual.groupby(keys).sum()
    by_hitter = by_turn.groupby("hitter_id")
    return by_hitter.sum() / np.sqrt(by_hitter.agg(lambda sums: (sums**2).sum()))


@pytest.mark.slow
def test_observed_rates_converge_to_the_truth():
    """Long season, all effects that act within a hitter on; pitchers alike and no form.

    Differing pitchers and form would add variance that is shared by the hitters of a day.
    """
    effects = Effects(pitchers=0, day_form=0, unmeasured=0)
    season = make_season(hitters=60, clubs=4, pitches=500_000, seed=3, effects=effects)
    rows, truth = flagged(season.pitches), season.truth.set_index("hitter_id")
    fast = rows["pitch_kind"].isin(FAMILY_WORDS["fastball"])
    breaking = rows["pitch_kind"].isin(FAMILY_WORDS["breaking"])
    two = rows["strikes"] == 2
    rows = rows.assign(
        hard_fast=rows["hard"] & fast,
        swing_fast=rows["swing"] & fast,
        whiff_breaking=rows["whiff"] & breaking,
        swing_breaking=rows["swing"] & breaking,
        hard_two=rows["hard"] & two,
        swing_two=rows["swing"] & two,
        ended=rows["result"].notna(),
        out_on_strikes=rows["result"] == "strikeout",
    )
    checks = {
        "hard_per_swing": ("hard", "swing"),
        "hard_per_in_play": ("hard", "in_play"),
        "whiffs_per_swing": ("whiff", "swing"),
        "fouls_per_swing": ("foul", "swing"),
        "foul_tips_per_swing": ("tip", "swing"),
        "in_play_per_swing": ("in_play", "swing"),
        "hard_per_swing_fastball": ("hard_fast", "swing_fast"),
        "whiffs_per_swing_breaking": ("whiff_breaking", "swing_breaking"),
        "hard_per_swing_two_strikes": ("hard_two", "swing_two"),
    }
    number = season.settings["hitters"]
    # Each check at a false alarm rate of 1 in 1,000.
    low, high = chi2.ppf([0.0005, 0.9995], number)
    strayed = {}
    for rate, (numerator, denominator) in checks.items():
        z = z_scores(rows, truth, numerator, denominator, rate)
        swings = rows.groupby("hitter_id")[denominator].sum()
        standard = np.sqrt(truth[rate] * (1 - truth[rate]) / swings)
        # The truth's numerical error is common to the hitters: it shifts the mean of z.
        shift = (season.truth_error[rate] / standard).mean()
        spread = ((z - z.mean()) ** 2).sum()
        if abs(z.mean()) > 3.3 / np.sqrt(number) + 3 * shift or not low < spread < high:
            strayed[rate] = (z.mean(), shift, spread)
    assert not strayed


def null_chi_square(effects, seed):
    season = make_season(hitters=120, clubs=8, pitches=120_000, seed=seed, effects=effects)
    counts = flagged(season.pitches).groupby("hitter_id")[["hard", "swing"]].sum()
    rate = counts["hard"].sum() / counts["swing"].sum()
    square = (counts["hard"] - counts["swing"] * rate) ** 2 / (counts["swing"] * rate * (1 - rate))
    return season, square.sum(), len(counts) - 1


@pytest.mark.slow
def test_the_null_league_has_binomial_variance_only():
    season, square, freedom = null_chi_square(Effects.none(), seed=8)
    for rate in RATES:
        # Summing in another order leaves differences of a few units in the last place.
        assert np.ptp(season.truth[rate]) <= 1e-12
    # False alarm rate 1 in 1,000.
    low, high = chi2.ppf([0.0005, 0.9995], freedom)
    assert low < square < high
    # The same test sees the default league's true differences at once.
    assert null_chi_square(Effects(), seed=8)[1] > high


@pytest.mark.slow
def test_truth_is_worked_out_once_and_only_where_it_is_asked_for(monkeypatch):
    asked = []
    monkeypatch.setattr("hitlab.league.seasons.rates_with_error", lambda *_: asked.append(1) or ({}, {}))
    season = make_season(18, 2, 300)
    assert len(season.pitches) == season.settings["pitches"]
    assert "truth" not in repr(season.settings)
    assert not asked
    assert len(season.truth) == 18
    assert season.truth_error == {}
    assert asked == [1]


def test_a_season_is_the_same_for_a_seed_and_another_for_another():
    one, again, other = (make_season(pitches=3_000, seed=seed) for seed in (5, 5, 6))
    assert one.pitches.equals(again.pitches)
    assert one.truth.equals(again.truth)
    assert one.pitcher_truth.equals(again.pitcher_truth)
    assert not one.pitches.equals(other.pitches)


SPREAD_OF = {
    "choice_of_swings": "swings_per_pitch",
    "whiffs": "whiffs_per_swing",
    "fouls": "fouls_per_swing",
    "force_and_aim": "hard_per_in_play",
    "pitch_kinds": "whiffs_per_swing_breaking",
    "locations": "whiffs_per_swing",
    "readiness": "hard_per_swing_fastball",
    "platoon": "whiffs_per_swing",
}


@pytest.mark.slow
@pytest.mark.parametrize("field", SPREAD_OF)
def test_each_spread_alone_makes_hitters_differ(field):
    effects = dataclasses.replace(Effects.none(), **{field: 1.0})
    truth = make_season(hitters=36, clubs=2, pitches=1, seed=1, effects=effects).truth
    assert truth[SPREAD_OF[field]].std() > 1e-4
    talents = truth[[f"talent_{name}" for name in TALENTS]]
    assert np.isfinite(talents).all(axis=None)


@pytest.mark.slow
def test_readiness_alone_leaves_breaking_pitches_alone():
    effects = dataclasses.replace(Effects.none(), readiness=1.0)
    season = make_season(hitters=36, clubs=2, pitches=1, seed=1, effects=effects)
    truth = season.truth
    # Readiness changes which counts come up, and each count has quasi-random pitches of its own: what
    # is left is their numerical error.
    rate = "hard_per_swing_breaking"
    assert np.ptp(truth[rate]) < season.truth_error[rate] < 0.01 * truth[rate].mean()
    together = np.corrcoef(truth["talent_readiness"], truth["hard_per_swing_fastball"])[0, 1]
    assert together > 0.95


@pytest.mark.slow
def test_pitchers_differ_only_when_they_are_let():
    alike = make_season(hitters=18, clubs=2, pitches=1, effects=Effects(pitchers=0)).pitcher_truth
    apart = make_season(hitters=18, clubs=2, pitches=1).pitcher_truth
    for column in ("hard_to_hit", "speed_mph"):
        assert (alike[column] == 0).all()
        assert apart[column].std() > 0
    assert (alike["scatter"] == 1).all()
    assert apart["share_of_pitches"].sum() == pytest.approx(1)


@pytest.mark.slow
def test_a_whiff_raises_the_chance_of_the_next_by_the_size_asked_for():
    effects = dataclasses.replace(Effects.none(), whiff_response=1.0)
    rows = flagged(make_season(pitches=40_000, seed=2, effects=effects).pitches)
    swings = rows[rows["swing"]]
    before = swings.groupby(["game", "plate_appearance"])["outcome"].shift()
    after_whiff = swings.loc[before == "whiff", "whiff"]
    others = swings.loc[before.isna(), "whiff"]

    def log_odds(flags):
        share = flags.mean()
        return np.log(share / (1 - share)), 1 / (len(flags) * share * (1 - share))

    (one, variance), (other, other_variance) = log_odds(after_whiff), log_odds(others)
    # Averaging over pitches pulls a logit step of 1 toward 0, by a tenth or so at most.
    assert abs(one - other - 0.95) < 0.05 + 4 * np.sqrt(variance + other_variance)


@pytest.mark.slow
def test_the_count_moves_swings_only_when_it_is_let():
    first, two_strikes = {}, {}
    for size in (0.0, 1.0):
        effects = dataclasses.replace(Effects.none(), count=size)
        rows = flagged(make_season(pitches=30_000, seed=3, effects=effects).pitches)
        first[size] = rows.loc[(rows["balls"] == 0) & (rows["strikes"] == 0), "swing"]
        two_strikes[size] = rows.loc[rows["strikes"] == 2, "swing"]
    error = np.sqrt(0.25 / len(first[0.0]) + 0.25 / len(two_strikes[0.0]))
    assert abs(first[0.0].mean() - two_strikes[0.0].mean()) < 4 * error
    assert two_strikes[1.0].mean() - first[1.0].mean() > 0.1


@pytest.mark.slow
def test_form_of_the_day_makes_games_differ():
    """Variance of whiffs between games of a hitter, against the binomial within."""
    ratio = {}
    for size in (0.0, 1.0):
        effects = dataclasses.replace(Effects.none(), day_form=size)
        rows = flagged(make_season(pitches=60_000, seed=3, effects=effects).pitches)
        games = rows.groupby(["hitter_id", "game"])[["whiff", "swing"]].sum()
        rate = games["whiff"].sum() / games["swing"].sum()
        games = games[games["swing"] > 0]
        square = (games["whiff"] - games["swing"] * rate) ** 2 / (games["swing"] * rate * (1 - rate))
        ratio[size] = square.mean()
        number = len(games)
    # Pearson's statistic has a variance of 2 and a little more for few swings: 3 covers it.
    assert abs(ratio[0.0] - 1) < 4 * np.sqrt(3 / number)
    assert ratio[1.0] > 1.3


@pytest.mark.slow
def test_better_hitters_play_more_only_when_they_are_let():
    together = {}
    for size in (0.0, 1.0):
        season = make_season(hitters=200, clubs=10, pitches=1, seed=4, effects=Effects(better_play_more=size))
        truth = season.truth
        together[size] = np.corrcoef(truth["expected_plate_appearances"], truth["hard_per_swing"])[0, 1]
    # Standard error of a correlation of 200 pairs: .07; four of them.
    assert abs(together[0.0]) < 0.28
    assert together[1.0] > 0.28


@pytest.mark.slow
def test_expected_plate_appearances_are_near_what_happens():
    season = make_season(pitches=60_000, seed=9)
    came = season.pitches["result"].notna().groupby(season.pitches["hitter_id"]).sum()
    expected = season.truth.set_index("hitter_id")["expected_plate_appearances"]
    came = came.reindex(expected.index, fill_value=0)
    # Innings and runs move a season's total by about 1 in 100 (20 seeds); three times that.
    assert came.sum() / expected.sum() == pytest.approx(1, abs=0.03)
    assert np.corrcoef(came, expected)[0, 1] > 0.95


def test_talents_have_the_documented_correlations():
    matrix = correlation_matrix()
    assert np.linalg.eigvalsh(matrix).min() > 0.05
    drawn = np.corrcoef(draw_talents(np.random.default_rng(1), (40_000,)))
    # Standard error of a correlation near 0 with 40,000 draws: .005; 66 pairs, so five of them.
    assert np.abs(drawn - matrix).max() < 5 * 0.005
    assert CORRELATIONS["readiness", "breaking"] == 0.45


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"clubs": 1}, "clubs=1: a whole number from 2 to 20"),
        ({"hitters": 89}, "hitters=89: a whole number from 90"),
        ({"hitters": 150.0}, "hitters=150.0"),
        ({"pitches": 0}, "pitches=0"),
        ({"pitches": True}, "pitches=True"),
        ({"seed": -1}, "seed=-1"),
        ({"effects": {"platoon": 0}}, "an Effects object is accepted"),
    ],
)
def test_bad_arguments_are_named(change, message):
    with pytest.raises(ClaimError, match=message.replace(".", r"\.")):
        make_season(**change)


@pytest.mark.parametrize(
    "change", [{"whiffs": -0.1}, {"unmeasured": 0.95}, {"better_play_more": 1.1}, {"count": float("nan")}]
)
def test_bad_sizes_of_effects_are_named(change):
    with pytest.raises(ClaimError, match=r"a number from .* is accepted"):
        Effects(**change)


@pytest.mark.slow
@pytest.mark.parametrize("hitters", [27, 28, 44])
def test_small_and_odd_leagues_work(hitters):
    season = make_season(hitters=hitters, clubs=3, pitches=3_000, seed=1)
    assert season.truth["club"].nunique() == 3
    assert set(season.pitches["hitter_id"]) <= set(season.truth["hitter_id"])
    assert set(season.pitches["pitcher_id"]) <= set(season.pitcher_truth["pitcher_id"])
    played = season.pitches.drop_duplicates("game")
    assert len(played) == season.settings["games"]
