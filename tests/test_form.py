"""Form and periods: published intervals, brute force, exact luck, false alarms, power, calibration."""

from itertools import permutations

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab import Counts, demo_season, tally
from hitlab.errors import CountsError, UnknownHitterError
from hitlab.over_time.form import form_over_time
from hitlab.over_time.form_law import _LEVEL_SPREADS, _MEANS, _STREAK_SHARES, _STREAKS, fit_form
from hitlab.over_time.periods import compare_periods, paired_halves, paired_interval
from tests.benchmarks.bench_form import blocks, season


def _games(rows, by=("hitter", "game")):
    frame = pd.DataFrame(rows, columns=["hitter", "game", "hard", "swings"])
    return Counts.from_table(frame, by=list(by))


def _one(k, n):
    return _games([("a", f"g{j:03d}", *pair) for j, pair in enumerate(zip(k, n, strict=True))])


def test_paired_difference_as_published():
    # Newcombe 1998, Stat. Med. 17:2635-2650, method 10: cells 36, 12, 2, 0.
    low, high = paired_interval(36, 12, 2, 0, level=0.95)
    assert (round(float(low), 4), round(float(high), 4)) == (0.0569, 0.3404)
    # Without discordance there is no difference; with all of it there is nothing else.
    low, high = paired_interval([10, 0], [0, 10], [0, 0], [10, 0])
    assert low[0] == pytest.approx(-high[0])
    assert high[1] == pytest.approx(1)


def test_halves_take_every_other_game_or_the_earlier_ones():
    rows = [("a", f"g{j}", j, 10) for j in range(5)] + [("b", "g0", 3, 7)]
    one, two = paired_halves(_games(rows))
    assert one.column("hard").tolist() == [0 + 2 + 4, 3]
    assert two.column("hard").tolist() == [1 + 3]
    one, two = paired_halves(_games(rows), "time")
    assert (one.column("hard").tolist(), two.column("hard").tolist()) == ([0 + 1 + 2, 3], [3 + 4])
    with pytest.raises(CountsError, match="give 'alternate' or 'time'"):
        paired_halves(_games(rows), "odd")  # type: ignore[arg-type]


def test_periods_give_the_raw_difference_beside_the_posterior():
    # Newcombe 1998, Stat. Med. 17:873-890, method 10: 56/70 - 48/80 has .0524 to .3339 at 95 %.
    names = [f"h{i}" for i in range(12)]
    rng = np.random.default_rng(1)
    k1, k2 = rng.binomial(80, 0.6, 12), rng.binomial(70, 0.6, 12)
    k1[0], k2[0] = 48, 56
    one = Counts.from_table(pd.DataFrame({"hitter": names, "hard": k1, "swings": 80}))
    two = Counts.from_table(pd.DataFrame({"hitter": [*names[:-1], "new"], "hard": k2, "swings": 70}))
    change = compare_periods(one, two, "hard", "swings", level=0.95)
    row = change.data.iloc[0]
    assert (round(row["low"], 4), round(row["high"], 4)) == (0.0524, 0.3339)
    assert (change.first_only, change.second_only, len(change.data)) == (1, 1, 11)
    # Eleven others who hardly changed pull the chance below what the two records alone say.
    alone = stats.norm.cdf(0.2 / np.sqrt(0.8 * 0.2 / 70 + 0.6 * 0.4 / 80))
    assert 0.5 < row["chance_higher"] < alone
    assert "left out: 1 and 1" in str(change)
    assert "<table" in change._repr_html_()
    with pytest.raises(CountsError, match="count both the same way"):
        compare_periods(one, _one([1], [2]), "hard", "swings")


def test_shuffled_seasons_are_all_orders():
    k, n = np.array([3, 0, 1, 2, 0]), np.array([5, 4, 6, 5, 5])
    p = k.sum() / n.sum()

    def hottest(order):
        kk, nn = k[list(order)], n[list(order)]
        pairs = [(kk[i : i + 2].sum(), nn[i : i + 2].sum()) for i in range(4)]
        return max((a - p * b) / np.sqrt(b * p * (1 - p)) for a, b in pairs)

    every = np.array([hottest(order) for order in permutations(range(5))])
    exact = (every >= hottest(range(5)) - 1e-9).mean()
    form = form_over_time(_one(k, n), "a", window=2, luck="shuffled games", draws=20_000)
    assert stats.binomtest(round(form.chance_as_hot * 20_001) - 1, 20_000, exact).pvalue > 1e-4


def test_dealt_attempts_are_the_exact_scan():
    # Two windows of one game each: the chance that either has 5 or more of 6 events in 10 and 10 attempts.
    form = form_over_time(_one([5, 1], [10, 10]), "a", window=1, draws=20_000)
    assert form.luck == "dealt attempts"
    exact = 2 * stats.hypergeom(20, 6, 10).sf(4)
    assert stats.binomtest(round(form.chance_as_hot * 20_001) - 1, 20_000, exact).pvalue > 1e-4


def test_windows_of_attempts_have_that_many():
    rng = np.random.default_rng(2)
    n = rng.integers(1, 9, 40)
    k = rng.binomial(n, 0.3)
    form = form_over_time(_one(k, n), "a", window=30, of="attempts", draws=300)
    assert (form.data["swings"] == 30).all()
    # A window that ends with the first game which fills it: cut in proportion inside its oldest game.
    total = np.cumsum(n)
    end = int(np.searchsorted(total, 30))
    first = form.data.iloc[0]
    assert first["game"] == end + 1
    over = total[end] - 30
    inside = k[: end + 1].sum() - (
        over / n[0] * k[0] if over <= n[0] else np.interp(over, np.r_[0, total], np.r_[0, np.cumsum(k)])
    )
    assert first["hard"] == pytest.approx(inside)
    one = form_over_time(_one(k, np.maximum(n, 1)), "a", window=12, draws=300)
    assert one.data["hard"].tolist() == [k[i : i + 12].sum() for i in range(29)]


@pytest.mark.slow
def test_a_season_of_luck_stays_in_the_band_as_often_as_said():
    rng = np.random.default_rng(3)
    alarms = {"hot": 0, "uneven": 0, "outside": 0}
    for _ in range(300):
        n = rng.integers(3, 12, 60)
        form = form_over_time(_one(rng.binomial(n, 0.18), n), "a", draws=300, seed=rng)
        alarms["hot"] += form.chance_as_hot <= 0.10
        alarms["uneven"] += not form.within_luck
        data = form.data
        alarms["outside"] += ((data["rate"] > data["luck_high"]) | (data["rate"] < data["luck_low"])).any()
        assert (data["luck_low"] <= data["point_low"]).all()
    for name, found in alarms.items():
        assert stats.binomtest(found, 300, 0.10).pvalue > 0.001, (name, found)


@pytest.mark.slow
def test_a_real_streak_is_seen_as_often_as_said():
    rng = np.random.default_rng(4)
    n = np.full(60, 7)
    odds = np.full(60, 0.2)
    odds[30:42] *= 3
    seen = 0
    for _ in range(120):
        form = form_over_time(_one(rng.binomial(n, odds / (1 + odds)), n), "a", draws=300, seed=rng)
        seen += form.chance_as_hot <= 0.10
    said = form_over_time(_one(rng.binomial(n, 0.2), n), "a", draws=2_000).chance_to_see(3, 12, draws=2_000)
    assert said == pytest.approx(seen / 120, abs=0.15)
    assert said > 0.5


def test_what_form_refuses():
    counts = _one([1, 0, 2], [4, 5, 6])
    with pytest.raises(CountsError, match="a window of 12 moves nowhere; give a shorter window="):
        form_over_time(counts, "a")
    with pytest.raises(CountsError, match=r"a has 1 game, so a window of 12 moves nowhere$"):
        form_over_time(_one([1], [4]), "a")
    with pytest.raises(UnknownHitterError, match="nobody here is called 'b'"):
        form_over_time(counts, "b")
    with pytest.raises(CountsError, match="a rate that never varies has no form"):
        form_over_time(_one([0] * 30, [4] * 30), "a")
    with pytest.raises(CountsError, match="never varies has no form"):
        fit_form(_one([0] * 30, [4] * 30), "hard", "swings")
    with pytest.raises(CountsError, match="a whole number of games"):
        fit_form(counts, "hard", "swings", stretch=0)
    with pytest.raises(CountsError, match="give a factor above 0"):
        form_over_time(counts, "a", window=1).chance_to_see(0)


def test_a_career_is_followed_by_season():
    frame = pd.DataFrame({"hitter": "a", "season": range(2001, 2013), "hits": 120, "at_bats": 450}).assign(
        hits=lambda t: t["hits"] + [0, 3, -8, 5, 1, -2, 70, 66, 2, -5, 0, 4]
    )
    counts = Counts.from_table(frame, by=["hitter", "season"])
    form = form_over_time(counts, "a", "hits", "at_bats", window=2)
    assert form.luck == "dealt attempts"
    assert (form.data.iloc[form.hottest]["from"], form.data.iloc[form.hottest]["to"]) == ("2007", "2008")
    assert form.chance_as_hot < 0.01
    assert "the best 2 seasons (2007 to 2008)" in form.explanation
    assert form.explanation.endswith("The hot spell is more than luck usually makes.")


def test_the_demo_season_reads_well():
    counts = tally(demo_season(), by=["hitter", "game", "date"])
    who = counts.data.groupby("hitter_id")["swings"].sum().idxmax()
    form = form_over_time(counts, who)
    assert form.luck == "shuffled games"
    assert "in 100 seasons of luck alone have one as hot" in form.explanation
    columns = ["from", "to", "rate", "low", "high", "luck_low", "luck_high"]
    assert form.table()[columns].notna().all(axis=None)
    assert "<table" in form._repr_html_()
    assert "2031-" in str(form)


def _posterior_by_sampling(counts, place, factor, rng):
    """Chances from a million draws of the model, weighted by the likelihood: no grid in it."""
    fit = fit_form(counts, "hard", "swings", stretch=2)
    draws = 1_000_000
    streaky = rng.random(draws) < 0.5
    widest = 0.34 / 0.25  # form outside streaks, where there are some, ends there
    calm = np.abs(stats.truncnorm.rvs(-widest, widest, 0, 0.25, size=draws, random_state=rng))
    usual = np.where(streaky, calm, np.abs(rng.normal(0, 0.25, draws)))
    share = np.where(streaky, rng.choice(_STREAK_SHARES, draws), 0.0)
    streak = rng.choice(_STREAKS, draws)
    spread = np.sqrt(usual**2 + share * streak**2)
    centre = fit.centre
    hitters = np.unique(fit.hitter)
    # The law of usual levels is drawn from the grid; levels, forms and the spread of form are not.
    mean = centre + rng.choice(np.linspace(-1, 1, _MEANS), draws) * 2 / np.sqrt(len(hitters))
    cells = np.gradient(_LEVEL_SPREADS)
    differ = rng.choice(_LEVEL_SPREADS, draws, p=cells / cells.sum())
    weight, form = np.zeros(draws), None
    for hitter in hitters:
        level = rng.normal(mean, differ)
        mine = fit.of(int(hitter))
        size = (mine.stop - mine.start, draws)
        streaks = np.where(rng.random(size) < share, streak * rng.choice([-1.0, 1.0], size), 0.0)
        shift = rng.normal(0, 1, size) * usual + streaks
        odds = level + shift
        k, n = fit.events[mine][:, None], fit.exposure[mine][:, None]
        weight += (k * odds - n * np.logaddexp(0, odds)).sum(axis=0)
        if hitter == place:
            form, rates, swings = shift, 1 / (1 + np.exp(-odds)), n
    weight = np.exp(weight - weight.max())
    hot = np.average(form[-1] > np.log(factor), weights=weight)
    season = (rates * swings).sum(axis=0) / swings.sum()
    away = np.log(rates / (1 - rates)) - np.log(season / (1 - season))
    steady = np.average((abs(away) < np.log(factor)).all(axis=0), weights=weight)
    return fit, hot, steady, np.average(spread, weights=weight), weight.sum() ** 2 / (weight**2).sum()


@pytest.mark.slow
def test_the_grid_is_the_posterior():
    rng = np.random.default_rng(5)
    rows = [("a", f"g{j}", [2, 2, 5][j // 2], 10) for j in range(6)]
    rows += [("b", f"g{j}", [3, 1, 2][j // 2], 10) for j in range(6)]
    fit, hot, steady, spread, worth = _posterior_by_sampling(_games(rows), 0, 1.25, rng)
    error = 0.5 / np.sqrt(worth)
    assert worth > 2_000
    assert fit.chance_above(0, 1.25) == pytest.approx(hot, abs=4 * error)
    assert fit.chance_steady(0, 1.25) == pytest.approx(steady, abs=4 * error)
    assert fit.spread == pytest.approx(spread, abs=4 * 0.2 / np.sqrt(worth) + 0.004)
    assert hot > 2 * fit.chance_above(0, 1.25, stretch=0)  # his last stretch is the one that stands out


@pytest.mark.slow
def test_form_is_found_where_there_is_some_and_not_where_there_is_none():
    rng = np.random.default_rng(6)
    _, _, n = season(np.random.default_rng(60), 100, np.zeros((100, 72)))
    still, _, _ = season(np.random.default_rng(60), 100, np.zeros((100, 72)))
    moving, _, _ = season(np.random.default_rng(60), 100, blocks(rng, 100, 0.4, n))
    none, much = fit_form(still, "hard", "swings"), fit_form(moving, "hard", "swings")
    assert none.spread_low < 0.03
    assert none.spread < 0.12
    assert much.spread_low < 0.4 < much.spread_high
    assert "standard deviation of about 0." in str(much)
    last = much.table()
    assert ((last["low"] < last["shrunk"]) & (last["shrunk"] < last["high"])).all()
    assert fit_form(_one([3, 1, 2, 0] * 9, [9] * 36), "hard", "swings").notes


@pytest.mark.slow
@pytest.mark.parametrize(("correlation", "form"), [(0.05, 0.0), (0.05, 0.4), (0.0, 0.4), (0.0, 0.0)])
def test_swings_of_a_game_that_go_together_are_told_from_form(correlation, form):
    """Over seven leagues of 60 hitters; one has a standard error of .006 at .05, measured over 150."""
    found, spreads, lows, effects = [], [], [], []
    for seed in range(7):
        _, _, n = season(np.random.default_rng(seed), 60, np.zeros((60, 72)))
        shifts = blocks(np.random.default_rng(100 + seed), 60, form, n)
        counts, _, _ = season(np.random.default_rng(seed), 60, shifts, correlation=correlation)
        fit = fit_form(counts, "hard", "swings")
        found.append(fit.games_alike)
        spreads.append(fit.spread)
        lows.append(fit.spread_low)
        effects.append(fit.design_effect)
        assert fit.games_alike >= 0
        assert bool(fit.notes) == (fit.design_effect >= 1.1)
    assert np.mean(found) == pytest.approx(correlation, abs=3 * 0.006 / np.sqrt(7))
    if form:
        assert np.mean(spreads) == pytest.approx(form, abs=0.05)
    else:
        assert max(lows) < 0.06
    # Games of 7.5 swings, and one more in a game of an average swing: 1 + .05 (7.5 + 6.5 / 7.5 - 1).
    assert np.mean(effects) == pytest.approx(1 + correlation * 7.37, abs=0.05)


def test_without_two_games_in_a_stretch_nothing_is_told_of_going_together():
    rows = [(h, f"g{j}", (h == "a") + j % 3, 9) for h in "ab" for j in range(6)]
    fit = fit_form(_games(rows), "hard", "swings", stretch=1)
    assert (fit.games_alike, fit.design_effect) == (0.0, 1.0)


@pytest.mark.slow
def test_chances_of_form_come_true():
    """Chances of a large rise are right; the intervals of the rate now cover less than stated."""
    rng = np.random.default_rng(7)
    said, true, covered = [], [], []
    for _ in range(30):
        seed = int(rng.integers(1 << 31))
        _, _, n = season(np.random.default_rng(seed), 40, np.zeros((40, 72)))
        form = blocks(rng, 40, abs(rng.normal(0, 0.25)), n)
        counts, level, _ = season(np.random.default_rng(seed), 40, form)
        fit = fit_form(counts, "hard", "swings")
        for place, name in list(enumerate(fit.games.totals.labels))[::3]:
            mine = fit.of(place)
            i = int(name[1:])
            played = np.flatnonzero(n[i])
            moved = form[i][played][fit.first[mine] - fit.first[mine.start]]
            said.append(fit.chance_above(place, 1.25))
            true.append(moved[-1] > np.log(1.25))
            row = fit.stretches(place).iloc[-1]
            covered.append(row["low"] <= 1 / (1 + np.exp(-level[i] - moved[-1])) <= row["high"])
    said, true = np.array(said), np.array(true)
    # Hitters of a league share its spread: leagues are what is independent.
    assert said.mean() == pytest.approx(true.mean(), abs=0.04)
    few = said <= 0.10
    assert true[few].mean() == pytest.approx(said[few].mean(), abs=0.03)
    # A little short of .90: .889 over 200 leagues of 40 hitters (standard error .006). The bracket is two
    # standard errors of these 30 leagues about that figure, so that a change for better or worse shows.
    assert 0.859 < np.mean(covered) < 0.919


def test_steady_is_held_against_the_season_and_not_against_the_long_run():
    """Two long stretches within a fifth of the season's odds, wherever the usual ones may be."""
    rng = np.random.default_rng(8)
    p = 1 / (1 + np.exp(1.8 - rng.normal(0, 0.2, (30, 1)) - rng.normal(0, 0.4, (30, 2))))
    p[0] = 0.15, 0.18
    rows = [(f"h{i:02d}", f"g{j}", round(4_000 * p[i, j]), 4_000) for i in range(30) for j in range(2)]
    fit = fit_form(_games(rows), "hard", "swings", stretch=1)
    assert fit.chance_steady(0, 1.25) > 0.99
    assert fit.chance_above(0, 1.25) + fit.chance_above(0, 1.25, stretch=0) > 0.2
