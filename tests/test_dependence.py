"""Dependence within games: against plain loops, shuffles, and seasons with a known correlation."""

import warnings
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab import Counts, check_leads, check_more, check_split, demo_season, shrink, tally
from hitlab.counting import share_interval
from hitlab.errors import CountsError
from hitlab.estimates.league_law import LeagueLaw
from hitlab.over_time.dependence import overdispersion, resample_by_game
from hitlab.over_time.stretches import by_game, cut, hitter_totals


def _games(rows):
    frame = pd.DataFrame(rows, columns=["hitter", "game", "hard", "swings"])
    return Counts.from_table(frame, by=["hitter", "game"])


def _season(rng, hitters=20, games=40, correlation=0.0, mean=0.2):
    n = rng.integers(1, 12, (hitters, games))
    p = rng.uniform(mean / 2, mean * 1.5, (hitters, 1)) * np.ones(n.shape)
    if correlation:
        size = 1 / correlation - 1
        p = rng.beta(p * size, (1 - p) * size)
    k = rng.binomial(n, p)
    return _games(
        [(f"h{i:02d}", f"g{j:02d}", k[i, j], n[i, j]) for i in range(hitters) for j in range(games)]
    )


def _by_loops(counts):
    """The definition, one pair of attempts after the other."""
    excess = scale = 0.0
    for _, rows in counts.data.groupby("hitter"):
        outcomes = np.concatenate(
            [np.r_[np.ones(k), np.zeros(n - k)] for k, n in zip(rows["hard"], rows["swings"], strict=True)]
        )
        unit = np.repeat(np.arange(len(rows)), rows["swings"])
        away = outcomes - outcomes.mean()
        products, same = np.outer(away, away), unit[:, None] == unit
        other = ~same
        np.fill_diagonal(same, False)
        if not same.any() or not other.any():
            continue
        excess += products[same].sum() - same.sum() * products[other].mean()
        scale += same.sum() * outcomes.var(ddof=1)
    return excess / scale


@given(st.integers(0, 2**32 - 1))
@settings(max_examples=15, deadline=None)
def test_the_sums_are_the_pairs(seed):
    rng = np.random.default_rng(seed)
    counts = _season(rng, hitters=3, games=6, correlation=0.2, mean=0.4)
    assert overdispersion(counts, "hard", "swings").correlation == pytest.approx(_by_loops(counts), abs=1e-12)


def test_one_outcome_a_game_correlates_at_one_and_balanced_games_below_zero():
    alike = _games([("a", f"g{j}", 4 * (j % 2), 4) for j in range(60)])
    assert overdispersion(alike, "hard", "swings").correlation == pytest.approx(1, abs=0.05)
    balanced = _games([("a", f"g{j}", 2, 4) for j in range(60)])
    # Two hits and two misses in every game: the correlation is -1 / (n - 1).
    found = overdispersion(balanced, "hard", "swings")
    assert found.correlation == pytest.approx(-1 / 3, abs=0.01)
    # Less scatter than luck narrows nothing.
    assert (found.data["design_effect"] == 1).all()
    assert found.data["wide_low"].tolist() == found.data["low"].tolist()


@pytest.mark.parametrize("correlation", [0.0, 0.05, 0.2])
def test_a_known_correlation_is_found(correlation):
    rng = np.random.default_rng(3)
    found = overdispersion(_season(rng, hitters=80, games=60, correlation=correlation), "hard", "swings")
    assert abs(found.correlation - correlation) < 4 * found.standard_error
    assert found.standard_error < 0.02
    assert ("that matters" in found.explanation) == (correlation > 0)


@pytest.mark.slow
def test_the_error_is_what_shuffles_of_outcomes_give():
    rng = np.random.default_rng(8)
    found = [overdispersion(_season(rng, hitters=10), "hard", "swings") for _ in range(150)]
    spread = np.std([f.correlation for f in found])
    stated = np.mean([f.standard_error for f in found])
    # The standard deviation of 150 values is itself known to 6 %.
    assert stated == pytest.approx(spread, rel=0.25)


def test_units_whose_size_depends_on_the_outcome_do_not_fool_it():
    # Tries until the first event: nothing depends on anything, yet every unit ends with its one event.
    rng = np.random.default_rng(1)
    tries = rng.geometric(0.3, (10, 300))
    counts = _games([(f"h{i}", f"g{j:03d}", 1, tries[i, j]) for i in range(10) for j in range(300)])
    found = overdispersion(counts, "hard", "swings")
    # Variance of the ratio 1 / mean(tries) is p^2 (1 - p) / units: the one of independent tries.
    assert found.width_factor == pytest.approx(1, abs=0.05)


def test_the_widened_interval_is_wilson_at_the_effective_exposure():
    rng = np.random.default_rng(4)
    found = overdispersion(_season(rng, correlation=0.2), "hard", "swings")
    row = found.data.iloc[0]
    assert row["design_effect"] > 1.3
    # Wilson's formula takes fractions: the same roots of (p - x)^2 = z^2 x (1 - x) / n.
    z, n, p = 1.6448536269514722, row["effective_exposure"], row["rate"]
    for x in (row["wide_low"], row["wide_high"]):
        assert (p - x) ** 2 == pytest.approx(z * z * x * (1 - x) / n, rel=1e-9)
    assert row["wide_low"] < row["low"] < row["high"] < row["wide_high"]


def test_records_count_as_if_they_were_shorter_where_swings_go_together():
    rng = np.random.default_rng(4)
    found = overdispersion(_season(rng, correlation=0.2), "hard", "swings")
    effect = found.data["design_effect"]
    plain = shrink(found.counts, "hard", "swings", by_exposure=False)
    allowed = shrink(found.counts, "hard", "swings", by_exposure=False, design_effect=effect)
    columns = ["hard", "swings", "rate"]
    pd.testing.assert_frame_equal(plain.data[columns], allowed.data[columns])
    assert (allowed.data["own_weight"] < plain.data["own_weight"]).all()
    assert allowed.spread < plain.spread
    # The same as a table of counts so many times smaller, where those are whole.
    lines = pd.DataFrame(
        {"hitter": ["a", "b", "c", "d"], "hard": [20, 30, 44, 10], "swings": [200, 180, 220, 90]}
    )
    half = lines.assign(hard=lines["hard"] // 2, swings=lines["swings"] // 2)
    thin, whole = (
        shrink(table, "hard", "swings", by_exposure=False, design_effect=factor).data
        for table, factor in ((lines, [2.0] * 4), (half, None))
    )
    pd.testing.assert_frame_equal(thin[["shrunk", "low", "high"]], whole[["shrunk", "low", "high"]])
    for wrong in ([2.0] * 3, [0.5, 1, 1, 1], [np.nan, 1, 1, 1]):
        with pytest.raises(
            CountsError, match="design_effect: give one number of 1 or more for each of the 4 rows"
        ):
            shrink(lines, "hard", "swings", design_effect=wrong)
    with pytest.raises(CountsError, match="leave groups, covariates"):
        shrink(lines, "hard", "swings", design_effect=[2.0] * 4, estimator="likelihood")


@pytest.mark.slow
def test_a_claim_on_counts_by_game_allows_for_swings_that_go_together():
    rng = np.random.default_rng(4)
    games = _season(rng, correlation=0.2)
    totals = overdispersion(games, "hard", "swings").counts
    by_game, plain = check_leads(games), check_leads(totals)
    # What is counted stays what was counted; only the chance is another one, nearer to not knowing.
    assert by_game.evidence["swings"].sum() == plain.evidence["swings"].sum()
    assert by_game.numbers["hitter"] == plain.numbers["hitter"]
    assert by_game.chance < plain.chance
    assert "alike within a game" in by_game.assumptions[0]
    assert any("correlate at 0.1" in note or "correlate at 0.2" in note for note in by_game.notes)
    assert by_game.fingerprint == plain.fingerprint == totals.fingerprint
    assert check_leads(games, about="record").say_in_full == check_leads(totals, about="record").say_in_full
    taken = check_leads(games, independent=True)
    assert (taken.chance, taken.say_in_full) == (plain.chance, plain.say_in_full)
    assert "independent draw" in taken.assumptions[0]
    # In the demo season days hardly differ: the note says so, and the chance stays.
    games = tally(demo_season(), by=["hitter", "game"])
    free, plain = check_leads(games), check_leads(tally(demo_season()))
    assert "independent draw" in free.assumptions[0]
    assert any("that is too little to matter" in note for note in free.notes)
    assert free.chance == plain.chance
    assert free.say_in_full == plain.say_in_full
    # One game a hitter: nothing can be told, and nothing is said.
    single = _games([(f"h{i}", f"g{i}", i % 5, 20) for i in range(20)])
    assert not any("correlate" in note for note in check_leads(single).notes)


def test_resampling_a_game_an_attempt_is_the_bootstrap_of_attempts():
    rng = np.random.default_rng(5)
    k = rng.binomial(1, 0.3, 400)
    counts = _games([("a", f"g{j:03d}", k[j], 1) for j in range(400)])
    row = resample_by_game(counts, "hard", "swings", seed=1).data.iloc[0]
    low, high = share_interval([k.sum()], [400])
    # Rates are whole 400ths, and the ends are quantiles of 2,000 draws.
    assert (row["low"], row["high"]) == pytest.approx((low[0], high[0]), abs=0.006)
    assert row["width_factor"] == pytest.approx(1, abs=0.12)


def test_resampling_widens_where_games_are_alike():
    rng = np.random.default_rng(6)
    result = resample_by_game(_season(rng, correlation=0.3), "hard", "swings")
    assert result.data["width_factor"].mean() > 1.3
    assert result.draws.shape == (2_000, 20)
    assert "2,000 resamples of each hitter's games" in str(result)
    assert "<table" in result._repr_html_()


def test_few_games_get_no_interval():
    rows = [("a", f"g{j}", 1, 3) for j in range(4)] + [("b", f"g{j}", j % 3, 4) for j in range(30)]
    data = resample_by_game(_games(rows), "hard", "swings").data
    assert data["low"].isna().tolist() == [True, False]


def test_what_cannot_be_told_is_refused():
    whole = Counts.from_table(pd.DataFrame({"hitter": ["a"], "hard": [3], "swings": [9]}))
    with pytest.raises(CountsError, match="count them by game as well"):
        overdispersion(whole, "hard", "swings")
    single = _games([("a", f"g{j}", j % 2, 1) for j in range(9)])
    with pytest.raises(CountsError, match="nothing can be said of dependence"):
        overdispersion(single, "hard", "swings")
    with pytest.raises(CountsError, match="give 100 or more"):
        resample_by_game(single, "hard", "swings", draws=9)
    with pytest.raises(CountsError, match="nothing to follow over time"):
        overdispersion(_games([("a", "g", 0, 0), ("a", "h", 0, 0)]), "hard", "swings")


def test_games_stand_in_order_of_time():
    frame = pd.DataFrame(
        {
            "hitter": ["b", "a", "b", "a"],
            "game": ["1", "2", "0", "9"],
            "date": ["2031-05-02", "2031-05-03", "2031-05-04", "2031-05-01"],
            "hard": [1, 2, 3, 4],
            "swings": [5, 6, 7, 8],
        }
    )
    games = by_game(Counts.from_table(frame, by=["hitter", "game", "date"]), "hard", "swings")
    assert games.totals.labels == ["b", "a"]
    assert games.events.tolist() == [1, 3, 4, 2]
    assert games.when.tolist() == ["2031-05-02", "2031-05-04", "2031-05-01", "2031-05-03"]


@pytest.mark.parametrize(
    ("games", "sizes"), [(24, [12, 12]), (29, [17, 12]), (30, [6, 12, 12]), (5, [5]), (13, [13])]
)
def test_stretches_are_counted_from_the_end(games, sizes):
    assert np.bincount(cut(games, 12)).tolist() == sizes


def test_the_demo_season_says_whether_it_matters():
    pitches = demo_season()
    by_games = overdispersion(tally(pitches, by=["hitter", "game"]), "hard", "swings")
    # Its generator has a day's form and one set of pitchers a game, and hits harder behind in the count.
    assert by_games.low > 0
    assert by_games.width_high < 1.05
    assert by_games.explanation.endswith("that is too little to matter")
    hardly = replace(by_games, correlation=-0.0002, low=-0.0004, high=-0.0001)
    assert " correlate at 0.000 (90 % from 0.000 to 0.000), so" in hardly.measured
    turns = tally(pitches, by=["hitter", "game", "plate_appearance"])
    in_turns = overdispersion(turns, "hard", "swings")
    assert in_turns.explanation.startswith(
        "hard-hit balls per swing: outcomes of two swings of a hitter in one plate"
    )
    assert in_turns.width_factor == pytest.approx(1.01, abs=0.02)


def _by_games(rng, hitters=5, games=10, missing=()):
    rows = [
        (f"H{h:02d}", f"G{g:03d}", int(rng.integers(0, 4)), 8) for h in range(hitters) for g in range(games)
    ]
    frame = pd.DataFrame(rows, columns=["hitter", "game", "hard", "swings"])
    frame.loc[frame["hitter"].isin(missing), "hitter"] = None
    return frame


def test_a_hitter_without_a_name_takes_nobody_elses_counts():
    frame = _by_games(np.random.default_rng(1), missing=("H02",))
    counts = Counts.from_table(frame, by=["hitter", "game"])
    games = by_game(counts, "hard", "swings")
    for label in ("H00", "H01", "H03", "H04"):
        place = games.totals.data.index[games.totals.data["hitter"] == label][0]
        mine = frame[frame["hitter"] == label]
        assert games.totals.data["hard"][place] == mine["hard"].sum()
        assert games.events[games.of(place)].sum() == mine["hard"].sum()
    assert games.totals.data["swings"].tolist() == [80] * 5


def test_swings_of_unknown_games_are_left_out_of_what_games_tell():
    rng = np.random.default_rng(2)
    counts = _season(rng, correlation=0.1)
    whole = overdispersion(counts, "hard", "swings")
    first = counts.data["hitter"].iloc[0]
    frame = counts.data.copy()
    mine = frame["hitter"] == first
    frame["game"] = frame["game"].astype(object).where(~mine, None)
    frame = frame.groupby(["hitter", "game"], dropna=False, sort=False, as_index=False)[
        ["hard", "swings"]
    ].sum()
    found = overdispersion(Counts.from_table(frame, by=["hitter", "game"]), "hard", "swings")
    effect = found.data.set_index("hitter")["design_effect"]
    assert found.left_out == counts.data.loc[mine, "swings"].sum()
    assert "of which the game is not known" in found.explanation
    # The one game of all his swings would make a design effect of tens.
    assert effect[first] == pytest.approx(effect.drop(first).mean(), rel=0.1)
    assert found.correlation == pytest.approx(whole.correlation, abs=0.02)


@pytest.mark.slow
def test_claims_on_two_tables_by_game_are_those_on_their_sums():
    rng = np.random.default_rng(3)
    before, now = (Counts.from_table(_by_games(rng, 8, 15), by=["hitter", "game"]) for _ in range(2))
    sums = [hitter_totals(counts) for counts in (before, now)]
    assert (
        check_more(now, "H03", before=before).to_dict()
        == check_more(sums[1], "H03", before=sums[0]).to_dict()
    )
    half = Counts.from_table(
        before.data.assign(hard=before.data["hard"] // 2, swings=before.data["swings"] // 2),
        by=["hitter", "game"],
    )
    assert (
        check_split(before, "H03", inside=half, situation="at home").say_in_full
        == check_split(sums[0], "H03", inside=hitter_totals(half), situation="at home").say_in_full
    )


@pytest.mark.slow
def test_a_stated_law_is_not_contradicted_by_swings_that_go_together():
    rng = np.random.default_rng(4)
    size = 1 / 0.1 - 1
    said = 0
    for _ in range(8):
        today = rng.beta(0.14 * size, 0.86 * size, 3_000)
        frame = pd.DataFrame(
            {
                "hitter": [f"h{i // 30:03d}" for i in range(3_000)],
                "game": [f"g{i % 30:02d}" for i in range(3_000)],
                "hard": rng.binomial(10, today),
                "swings": 10,
            }
        )
        counts = Counts.from_table(frame, by=["hitter", "game"])
        with warnings.catch_warnings(record=True) as caught:
            warnings.simplefilter("always")
            check_leads(counts, prior=LeagueLaw(0.14, 0.01, 200))
        said += len(caught) > 0
    # At one chance in a hundred each: more than two of eight would be one in 18,000.
    assert said <= 2


def test_counts_without_a_hitter_are_refused():
    frame = _by_games(np.random.default_rng(5)).groupby("game", as_index=False)[["hard", "swings"]].sum()
    with pytest.raises(CountsError, match="these counts are by game; count them by hitter as well"):
        check_leads(Counts.from_table(frame, by="game"))
