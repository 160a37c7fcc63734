"""Two charts of one game beside each other: matching, agreement, and what is said of it."""

from __future__ import annotations

import itertools
from functools import cache

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

import hitlab
from hitlab.charting import compare_charters
from hitlab.charting.aligning import align
from hitlab.charting.charters import kappa_interval
from hitlab.errors import CountsError, HitlabError, MissingColumnsError
from hitlab.league import charted_by, make_season


@cache
def _season() -> hitlab.league.Season:
    return make_season(hitters=36, clubs=2, pitches=3_000, seed=3)


def _brute(first: list[list[int]], second: list[list[int]], costs: list[int], gap: int) -> int:
    """The lowest cost over every way to match rows in order."""
    n, m = len(first[0]), len(second[0])
    best = (n + m) * gap
    for size in range(1, min(n, m) + 1):
        for mine in itertools.combinations(range(n), size):
            for yours in itertools.combinations(range(m), size):
                cost = (n + m - 2 * size) * gap
                for i, j in zip(mine, yours, strict=True):
                    for a, b, each in zip(first, second, costs, strict=True):
                        cost += each * (a[i] != b[j] and a[i] >= 0 and b[j] >= 0)
                best = min(best, cost)
    return best


_rows = st.lists(st.tuples(st.integers(-1, 2), st.integers(-1, 2)), min_size=1, max_size=5)


@settings(max_examples=60, deadline=None)
@given(_rows, _rows, st.integers(1, 9), st.integers(1, 9), st.integers(1, 9))
def test_the_alignment_is_the_cheapest_there_is(one, other, cost, second_cost, gap):
    first, second = ([list(each) for each in zip(*rows, strict=True)] for rows in (one, other))
    found = align([np.array(c) for c in first], [np.array(c) for c in second], [cost, second_cost], gap)
    mine, yours = (found[found[:, at] >= 0, at].tolist() for at in (0, 1))
    assert mine == list(range(len(one)))
    assert yours == list(range(len(other)))
    paid = 0
    for i, j in found.tolist():
        if i < 0 or j < 0:
            paid += gap
        else:
            for a, b, each in zip(first, second, (cost, second_cost), strict=True):
                paid += each * (a[i] != b[j] and a[i] >= 0 and b[j] >= 0)
    assert paid == _brute(first, second, [cost, second_cost], gap)


def test_kappa_of_a_worked_example_and_of_statsmodels():
    from statsmodels.stats.inter_rater import cohens_kappa

    # Fleiss, Cohen & Everitt 1969, two raters' sorting of 200 patients into three kinds, in hundredths: kappa
    # .429, variance .002885 (from memory).
    table = np.array([[53, 5, 2], [11, 14, 5], [1, 6, 3]]) * 2
    kappa, low, high = kappa_interval(table, 0.90)
    theirs = cohens_kappa(table)
    assert kappa == pytest.approx(0.429, abs=5e-4)
    assert kappa == pytest.approx(theirs.kappa, abs=1e-12)
    assert theirs.var_kappa == pytest.approx(0.002885, abs=1e-6)
    # Of so long a record Wilson's ends are near those of the normal law: its shift is of the order z^2 / n.
    error = 1.6449 * np.sqrt(theirs.var_kappa)
    assert low == pytest.approx(kappa - error, abs=0.012)
    assert high == pytest.approx(kappa + error, abs=0.012)


def test_kappa_of_two_raters_and_two_kinds():
    """Fleiss & Paik, as the documentation of the R package statpsych gives it (read): .6757, error .0734.

    Its 95 % interval, .5317 to .8196, is kappa with 1.96 errors on either side. Ours is as wide, and as
    Wilson's does it lies nearer to the middle, .025 lower; kappa's intervals cover by their own test.
    """
    kappa, low, high = kappa_interval(np.array([[31, 12], [4, 58]]), 0.95)
    assert kappa == pytest.approx(0.6757, abs=5e-5)
    assert high - low == pytest.approx(0.8196 - 0.5317, abs=0.002)
    assert (0.5317 - low, 0.8196 - high) == pytest.approx((0.025, 0.025), abs=0.001)
    # A textbook's (from memory): 20, 5, 10 and 15 of 50.
    assert kappa_interval(np.array([[20, 5], [10, 15]]))[0] == pytest.approx(0.4, abs=1e-12)


def test_kappa_where_everything_agrees_is_not_certain():
    kappa, low, high = kappa_interval(np.diag([20, 10]))
    assert kappa == 1
    assert high == 1
    assert 0.7 < low < 0.9
    assert np.isnan(kappa_interval(np.array([[30]]))[0])


@pytest.mark.slow
@pytest.mark.parametrize("length", [60, 300])
def test_intervals_of_kappa_cover_as_often_as_they_say(length):
    rng = np.random.default_rng(2)
    law = np.array([[0.30, 0.03, 0.02], [0.03, 0.30, 0.02], [0.02, 0.03, 0.25]])
    chance = law.sum(0) @ law.sum(1)
    truth = (np.trace(law) - chance) / (1 - chance)
    inside = 0
    for _ in range(2_000):
        _, low, high = kappa_interval(rng.multinomial(length, law.ravel()).reshape(3, 3))
        inside += low <= truth <= high
    assert 0.88 <= inside / 2_000 <= 0.92


def test_a_charter_without_errors_gives_the_table_back():
    pitches = _season().pitches
    chart = charted_by(_season(), 1, misses=0, doubles=0, wrong_outcome=0, eye_width_mph=0, radar=True)
    pd.testing.assert_frame_equal(chart[pitches.columns], pitches)
    told = chart["hard"].notna()
    assert (chart.loc[told, "hard"] == (chart.loc[told, "exit_mph"] >= 95)).all()
    found = compare_charters(chart, pitches)
    assert (found.pairs["found"] == "both").all()
    assert (found.data["agreement"] == 1).all()
    assert len(found.look_again) == 0


def test_the_errors_built_in_are_found():
    misses, doubles, wrong = 0.03, 0.02, 0.04
    pitches = _season().pitches
    chart = charted_by(pitches, 7, misses=misses, doubles=doubles, wrong_outcome=wrong)
    found = compare_charters(pitches, chart)
    n = len(pitches)
    kinds = found.pairs["found"].value_counts()
    may_err = pitches["result"].isna() & (pitches["outcome"] != "hit by pitch")
    outcome = found.data.set_index("column").loc["outcome"]
    share = wrong * may_err.mean()
    # Each count is binomial, and one of 5,000 tables would be outside.
    for count, size, rate in (
        (kinds["first only"], n, misses),
        (kinds["second only"], n, (1 - misses) * doubles),
        (outcome["compared"] - outcome["agree"], int(outcome["compared"]), share),
    ):
        low, high = binom.ppf([1e-4, 1 - 1e-4], size, rate)
        assert low <= count <= high
    assert found.pairs.loc[found.pairs["found"] == "second only", "doubled"].mean() > 0.9


def test_a_game_and_an_inning_that_one_missed_are_said():
    pitches = _season().pitches
    games = pitches["game"].unique()
    some = pitches[pitches["game"].isin(games[:3])]
    short = some[(some["game"] != games[0]) & ~((some["game"] == games[1]) & (some["inning"] == 4))]
    found = compare_charters(some, short)
    said = " ".join(found.notes)
    assert f"charted by the first alone: {games[0]}" in said
    missing = int(((some["game"] == games[1]) & (some["inning"] == 4)).sum())
    assert f"the second has nothing for {missing} pitches on end in {games[1]}" in said
    # What nobody else charted is in no dispute; the inning is.
    assert set(found.look_again["game"]) == {games[1]}
    assert (found.data["agreement"] == 1).all()


def test_confusions_names_and_the_text():
    first = pd.DataFrame(
        {"hitter": ["Ann Grönholt"] * 6, "outcome": ["ball", "foul", "foul", "whiff", "ball", "in play"]}
    )
    second = first.assign(
        hitter="ann gronholt", outcome=["ball", "foul tip", "foul", "whiff", "ball", "in play"]
    )
    found = compare_charters(first, second)
    assert found.data.set_index("column").loc["hitter", "agree"] == 6
    table = found.confusion("outcome")
    assert table.loc["foul", "foul tip"] == 1
    assert table.to_numpy().sum() == 6
    assert "Two charters: 6 pitches in both" in str(found)
    assert "outcome: foul or foul tip" in found._repr_html_()
    with pytest.raises(MissingColumnsError, match="was not compared"):
        found.confusion("bunt")


def test_one_game_under_two_names_is_taken_for_one_and_two_are_not():
    game = pd.DataFrame({"game": "May 3", "hitter": ["Ann", "Bea"], "outcome": ["ball", "foul"]})
    found = compare_charters(game, game.assign(game="3 May"))
    assert any("taken for the same" in note for note in found.notes)
    two = pd.concat([game, game.assign(game="May 4")])
    with pytest.raises(CountsError, match="no game stands in both"):
        compare_charters(two, game.assign(game="3 May"))


def test_what_is_no_chart_is_refused():
    game = pd.DataFrame({"hitter": ["Ann"], "outcome": ["ball"]})
    with pytest.raises(MissingColumnsError, match="second table has no column outcome"):
        compare_charters(game, game.drop(columns="outcome"))
    with pytest.raises(CountsError, match="has no rows"):
        compare_charters(game, game.iloc[:0])
    with pytest.raises(CountsError, match="level"):
        compare_charters(game, game, level=2)


def test_the_pitches_to_look_at_again_make_a_cut_list(tmp_path):
    pitches = _season().pitches.iloc[:600]
    chart = charted_by(pitches, 4, misses=0.05, doubles=0.05, wrong_outcome=0.05)
    found = compare_charters(chart, pitches)
    cut = hitlab.cut_list(chart, found)
    assert len(cut) == len(found.look_again) > 20
    there = found.look_again["first_row"].notna().to_numpy()
    assert cut.data["row"][there].tolist() == found.look_again["first_row"][there].tolist()
    assert (cut.data["side"] == "look again").all()
    assert "to look at again" in str(cut)
    assert cut.save(tmp_path / "again.csv").exists()
    assert len(hitlab.cut_list(chart, found, most=3)) == 3


def test_the_command(tmp_path, capsys):
    from hitlab.cli.commands import run

    pitches = _season().pitches.iloc[:600]
    files = []
    for name, table in (("one", pitches), ("two", charted_by(pitches, 4, misses=0.05, radar=True))):
        files.append(str(tmp_path / f"{name}.csv"))
        table.to_csv(files[-1], index=False)
    assert run(["charters", *files, "--cut", str(tmp_path / "again.csv")]) == 0
    said = capsys.readouterr().out
    assert "Two charters:" in said
    assert (tmp_path / "again.csv").exists()
    assert run(["charters", *files, "--json"]) == 0
    assert '"look_again"' in capsys.readouterr().out


@pytest.mark.parametrize(
    "wrong", [{"misses": 1}, {"doubles": -0.1}, {"eye_mph": 0}, {"eye_width_mph": -1}, {"wrong_outcome": 2}]
)
def test_an_invented_charter_that_cannot_be(wrong):
    with pytest.raises(HitlabError):
        charted_by(_season(), 1, **wrong)
