"""All splits at once: counts against a tally, the looks, false calls in drawn leagues, and bad input."""

import narwhals as nw
import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from hitlab import Counts, check_split, demo_season, situation, tally
from hitlab.approach import with_previous
from hitlab.counting.looks import Looks, call_by_chance, call_by_p, exact_p
from hitlab.errors import ClaimError, CountsError, MissingColumnsError
from hitlab.league import make_season
from hitlab.pitches import write_checked
from hitlab.splits.beside import pitched_for
from hitlab.splits.many_splits import all_splits
from hitlab.splits.split_law import fit_laws
from hitlab.splits.usual import usual_situations
from tests.benchmarks.bench_splits import calls, league
from tests.needs import package


@pytest.fixture(scope="module")
def season():
    return make_season(hitters=36, clubs=4, pitches=24_000, seed=3).pitches


def _same_side():
    return nw.col("hitter_side") == nw.col("pitcher_hand")


@pytest.mark.slow
def test_every_split_has_the_counts_of_a_tally_of_its_own(season):
    asked = {
        "breaking": "pitch_kind=breaking",
        "late": ("strikes=2", "balls=3"),
        "own side": _same_side(),
        "after a whiff": nw.col("previous_whiff") == True,  # noqa: E712
    }
    found = all_splits(season, asked).table().set_index(["situation", "hitter_id"])
    wide = with_previous(season)
    whole = tally(season).data.set_index("hitter_id")
    expressions = {
        "breaking": situation("pitch_kind=breaking").on(()),
        "late": situation("strikes=2", "balls=3").on(()),
        "own side": _same_side(),
        "after a whiff": asked["after a whiff"],
    }
    for name, expression in expressions.items():
        part = tally(wide, where=expression).data.set_index("hitter_id")
        mine = found.loc[name]
        part, total = part.loc[mine.index], whole.loc[mine.index]
        assert (mine["inside_events"] == part["hard"]).all()
        assert (mine["inside_all"] == part["swings"]).all()
        assert (mine["inside_unknown"] == part["unmeasured"]).all()
        assert (mine["rest_events"] == total["hard"] - part["hard"]).all()
        assert (mine["rest_all"] == total["swings"] - part["swings"]).all()


@pytest.mark.slow
def test_the_usual_situations_are_thirty_and_are_asked_by_default(season):
    columns = {*season.columns, "previous_whiff"}
    names = [one.words for one in usual_situations(columns)]
    assert len(names) == len(set(names)) == 30
    found = all_splits(season, event="whiffs")
    assert {*found.situations["situation"], *found.left_out} == set(names)
    assert found.situations["hitters"].sum() == len(found.data) == found.so_far.looked_at
    # Every usual situation has pitches in it, and none has all of them.
    assert found.left_out == ()
    assert usual_situations(["outcome", "hitter"]) == []


def test_places_are_told_from_the_hitters_own_zone_where_he_has_one():
    table = pd.DataFrame(
        {
            "hitter": "Ada",
            "outcome": "whiff",
            "inside_in": [5.0, 5.0, -5.0, 0.0, np.nan, 5.0],
            "height_in": [40.0, 40.0, 20.0, 30.0, 40.0, np.nan],
            # The second hitter is tall: 40 inches is over the middle for him. The third has no zone.
            "zone_bottom_in": [19.0, 24.0, np.nan, 19.0, 19.0, 19.0],
            "zone_top_in": [42.0, 54.0, np.nan, 42.0, 42.0, 42.0],
        }
    )
    chosen = {
        one.words: tally(table, where=one).data["swings"].sum() for one in usual_situations(table.columns)
    }
    expected = {"up": 2, "down": 1, "inside": 3, "away": 1, "up and in": 1, "up and away": 0}
    expected |= {"down and in": 0, "down and away": 1, "over the middle": 2}
    assert chosen == {f"on pitches {place}": number for place, number in expected.items()}


@pytest.mark.slow
def test_files_and_other_frames_give_the_same(season, tmp_path):
    asked = ["pitch_kind=breaking", "strikes=2"]
    ours = all_splits(season, asked).table()
    path = tmp_path / "season.parquet"
    import polars as pl

    theirs = all_splits(pl.from_pandas(season), asked).table()
    pd.testing.assert_frame_equal(ours, theirs, check_dtype=False)
    from hitlab import read_pitches

    write_checked(read_pitches(season), path)
    pd.testing.assert_frame_equal(ours, all_splits(path, asked).table(), check_dtype=False)


@pytest.mark.slow
def test_one_situation_is_what_split_rates_gives_beside_the_usual_ones(season):
    from hitlab import split_rates

    breaking = situation("pitch_kind=breaking")
    whole, part = tally(season), tally(season, where=breaking)
    pitched = pitched_for(season, whole, "whiffs", "swings", {})
    alone = split_rates(whole, part, "whiffs", "swings", beside=pitched.splits({})[1]).table()
    found = all_splits(season, [breaking], "whiffs").table()[alone.columns]
    pd.testing.assert_frame_equal(found, alone)


@pytest.mark.slow
def test_a_small_split_is_pulled_to_the_hitter_and_the_league(season):
    found = all_splits(season, ["pitch_kind=breaking", "strikes=2"], "whiffs").table()
    observed = np.abs(found["inside_rate"] - found["league_rate"])
    few = found["inside_exposure"] < found["inside_exposure"].median()
    pulled = np.abs(found["shrunk_rate"] - found["league_rate"])
    assert pulled[few].mean() < observed[few].mean()
    assert ((found["low"] < found["log_odds_ratio"]) & (found["log_odds_ratio"] < found["high"])).all()


@pytest.mark.slow
def test_the_number_of_looks_goes_with_the_answer(season):
    looks = Looks()
    first = all_splits(season, ["pitch_kind=breaking"], against="rest", looks=looks)
    assert looks.number == len(first.data)
    again = all_splits(season, ["pitch_kind=breaking"], against="rest", looks=looks)
    assert looks.number == len(first.data), "the same split twice is one look"
    second = all_splits(season, ["strikes=2"], against="rest", looks=looks)
    assert looks.number == len(first.data) + len(second.data)
    assert f"{looks.number:,} splits" in str(looks)
    assert "With what was looked at before" in second.explanation
    assert "With what was looked at before" not in again.explanation
    assert again.so_far.looked_at == len(first.data)
    called = looks.by_chance()
    assert called.looked_at == looks.number
    both = pd.concat([first.data, second.data])["chance_above_rest"].to_numpy()
    sure = np.maximum(both, 1 - both)
    assert called.false_share == pytest.approx(1 - sure[sure >= 0.9].mean())
    # The two ways are never mixed.
    assert {called.rule, looks.by_p().rule} == {"chance", "p-value"}
    all_splits(season, ["balls=3"], looks=looks)
    with pytest.raises(CountsError, match="have no p-value; call by chance"):
        looks.by_p()


@pytest.mark.slow
def test_a_claim_counts_as_a_look(season):
    whole, breaking = tally(season), situation("pitch_kind=breaking")
    part, looks = tally(season, where=breaking), Looks()
    names = [str(name) for name in whole.data["hitter_id"][:3]]
    for at, name in enumerate(names):
        claim = check_split(whole, name, inside=part, situation=breaking.words, looks=looks)
        assert looks.number == at + 1
        assert claim.numbers["splits_looked_at"] == at + 1
        assert any(f"{at + 1} split" in note and "looked at" in note for note in claim.notes)
    assert np.isfinite(looks.table()["p_value"]).all()
    alone = check_split(whole, names[0], inside=part, situation=breaking.words)
    assert any("looks= keeps count" in note for note in alone.notes)


def test_p_values_are_fishers_and_the_rule_is_the_step_up():
    k, n = np.array([3, 0, 9, 5]), np.array([20, 15, 12, 40])
    rest_k, rest_n = np.array([40, 30, 20, 33]), np.array([200, 90, 80, 264])
    ours = exact_p(k, n, rest_k, rest_n)
    for at in range(4):
        table = [[k[at], n[at] - k[at]], [rest_k[at], rest_n[at] - rest_k[at]]]
        sides = [stats.fisher_exact(table, side).pvalue for side in ("less", "greater")]
        assert ours[at] == pytest.approx(min(1, 2 * min(sides)), rel=1e-9)
    # Benjamini & Hochberg 1995, J. R. Stat. Soc. B 57:289-300, section 3.2 (from memory): fifteen p-values,
    # of which four are called at .05.
    values = [
        *(0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240),
        *(0.4262, 0.5719, 0.6528, 0.7590, 1.0),
    ]
    table = pd.DataFrame({"p_value": values, "beyond": 1.0})
    assert len(call_by_p(table, "p_value", 0.05, above="beyond").data) == 4


@given(st.lists(st.floats(0, 1), min_size=1, max_size=40), st.floats(0.55, 0.99))
def test_the_false_share_is_the_mean_of_one_minus_the_chance(chances, bound):
    called = call_by_chance(pd.DataFrame({"chance_above": chances}), "chance_above", bound)
    assert called.looked_at == len(chances)
    if len(called.data):
        assert 0 <= called.false_share <= 1 - bound + 1e-12
        assert (called.data["chance"] >= bound).all()
    else:
        assert "none of" in called.explanation


@pytest.mark.slow
def test_calls_without_a_law_and_with_one_are_kept_apart(season):
    found = all_splits(season, ["pitch_kind=breaking"], "whiffs", against="league")
    assert {"p_value", "chance_above_league"} <= set(found.data.columns)
    assert found.by_p(0.2).false_share == 0.2
    assert "keeps the expected share of false ones to 20 % at most" in found.by_p(0.2).explanation
    usual = all_splits(season, ["pitch_kind=breaking"], "whiffs")
    assert "p_value" not in usual.data.columns
    with pytest.raises(CountsError, match="have no p-value; ask all_splits for against='rest'"):
        usual.by_p()


@pytest.mark.slow
def test_what_cannot_be_asked_is_refused(season):
    with pytest.raises(ClaimError, match=r"did you mean pitch_kind"):
        all_splits(season, ["pitch_knd=slider"])
    with pytest.raises(ClaimError, match=r"against='best': accepted are rest, usual, league"):
        all_splits(season, ["strikes=2"], against="best")
    with pytest.raises(ClaimError, match="two situations are called 'with two strikes'"):
        all_splits(season, ["strikes=2", "strikes=2"])
    with pytest.raises(ClaimError, match="an expression needs a name"):
        all_splits(season, [_same_side()])
    with pytest.raises(ClaimError, match=r"write .'strikes=2'."):
        all_splits(season, "strikes=2")
    with pytest.raises(ClaimError, match="no situation is given"):
        all_splits(season, [])
    with pytest.raises(MissingColumnsError, match="'windy' asks for a column that is not there"):
        all_splits(season, {"windy": nw.col("wind") == 1})
    with pytest.raises(CountsError, match="bases counts more than once a pitch"):
        all_splits(season, ["strikes=2"], "bases", "plate_appearances")
    with pytest.raises(CountsError, match=r"bound=0\.3: give a chance from \.5"):
        all_splits(season, ["strikes=2"]).by_chance(0.3)


@pytest.mark.slow
def test_a_split_that_nobody_has_is_named_and_one_hitter_is_enough(season):
    found = all_splits(season, ["strikes=2", "speed_mph>=119"])
    assert found.left_out == ("against pitches of 119 or more mph",)
    assert (
        "Nobody has swings both inside and outside: against pitches of 119 or more mph." in found.explanation
    )
    with pytest.raises(
        ClaimError,
        match="nobody has swings both inside and outside any of: against pitches of 119 or more mph",
    ):
        all_splits(season, ["speed_mph>=119"])
    one = season[season["hitter_id"] == season["hitter_id"].iloc[0]]
    alone = all_splits(one, ["strikes=2"], "whiffs").table()
    assert len(alone) == 1
    assert np.isfinite(alone[["low", "high", "chance_above_rest", "chance_above_usual"]]).all(axis=None)


def test_it_prints_with_escapes(season):
    table = season.assign(hitter=season["hitter"] + " <b>")
    found = all_splits(table, ["pitch_kind=breaking"], "whiffs", against="rest")
    assert len(found.by_chance().data)
    assert "<b>" not in found._repr_html_()
    assert "&lt;b&gt;" in found._repr_html_()
    assert "<b>" not in found.by_chance()._repr_html_()
    assert "in 1 situation" in str(found)


@pytest.mark.slow
def test_no_call_where_hitters_do_not_differ():
    """12 leagues of 150 hitters x 30 situations without own differences: not one split is called."""
    rng = np.random.default_rng(77)
    for _ in range(12):
        drawn, _, own = league(rng, 0.0)
        chances = np.array([law.above_usual for law in fit_laws(drawn)])
        assert calls(chances, own > 0)[0] == 0


@pytest.mark.slow
def test_false_calls_are_as_many_as_stated():
    """8 leagues of 150 hitters x 30 situations at a spread of .25: about 500 calls each, near .05 false.

    The bound is four standard errors, with the league as the unit, of the difference in 16 leagues (.004).
    """
    rng = np.random.default_rng(78)
    rows = []
    for _ in range(8):
        drawn, _, own = league(rng, 0.25)
        rows.append(calls(np.array([law.above_usual for law in fit_laws(drawn)]), own > 0))
    called, stated, false = np.array(rows, dtype=float).sum(axis=0)
    assert called > 1_000
    assert abs(false - stated) / called < 4 * 0.004 * np.sqrt(16 / 8)


def test_by_club_works_on_counts_too():
    table = Counts.from_table(pd.DataFrame({"hitter": ["A", "B"], "swings": [90, 80], "hard": [9, 12]}))
    inside = Counts.from_table(pd.DataFrame({"hitter": ["A", "B"], "swings": [30, 20], "hard": [4, 2]}))
    from hitlab import split_rates

    data = split_rates(table, inside, "hard", "swings").table()
    assert data["chance_above_usual"].between(0, 1).all()


def test_against_the_own_rest_it_is_said_how_much_is_the_situation_and_how_much_the_hitter():
    """Of the demo season 3,078 of 4,425 splits "stand out", by what a fastball does to everybody."""
    found = all_splits(demo_season(), against="rest")
    called, beyond, alone = found.by_chance(), call_by_chance(found.data, "chance_above_usual"), found.by_p()
    assert len(beyond.data) < 0.05 * len(called.data)
    assert (
        " These chances take in what a situation does to everybody, told by all hitters together; beyond "
        f'that {len(beyond.data):,} stand out (against="usual"), and by each own record alone, at most 10 % '
        f"of them false, {len(alone.data):,} (by_p())." in found.explanation
    )
    for against in ("usual", "league"):
        assert "These chances" not in all_splits(demo_season(), against=against).explanation


def test_calls_by_p_are_those_of_statsmodels():
    """Benjamini & Hochberg's rule, as statsmodels has it."""
    multitest = package("statsmodels.stats.multitest")
    rng = np.random.default_rng(8)
    for size in (1, 2, 40, 400):
        values = np.concatenate([rng.random(size), rng.random(size) ** 6])
        told = call_by_p(pd.DataFrame({"p": values, "x": 1.0}), "p", 0.1, above="x")
        assert told.data["p"].tolist() == sorted(values[multitest.multipletests(values, 0.1, "fdr_bh")[0]])
