"""The report of stated against realised frequency: its figures, its picture, and that it can be remade."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
import pandas as pd
import pytest
from matplotlib.figure import Figure
from statsmodels.api import GLM, OLS, add_constant, families

from hitlab import check_above, check_ahead, check_leads, check_top
from hitlab.errors import MissingColumnsError
from hitlab.plots import describe
from hitlab.plots.calibration_picture import calibration
from tests.benchmarks import calibration_report as report
from tests.benchmarks.calibration_kinds import KINDS, SETTINGS
from tests.benchmarks.calibration_leagues import LAWS, VALUE, calibration_error, draw_events, draw_league
from tests.benchmarks.calibration_rates import state_rates
from tests.benchmarks.calibration_scores import (
    ALL,
    EVERYWHERE,
    Bound,
    bins_of,
    clustered,
    score,
    score_all,
    slope_with_error,
)
from tests.benchmarks.calibration_stated import Stated, counts_of

LAST_DIGIT = 1.1e-5
"""The tables are written to five decimals; another order of adding up may move the last one."""


def claims(leagues=40, each=30, sharper=1.0, seed=2):
    """Chances, what came true and leagues; true log odds are the stated ones over ``sharper``."""
    rng = np.random.default_rng(seed)
    odds = rng.normal(0, 1.5, leagues * each)
    came = (rng.random(len(odds)) < 1 / (1 + np.exp(-odds))).astype(float)
    return 1 / (1 + np.exp(-sharper * odds)), came, np.repeat(np.arange(leagues), each)


def test_the_calibration_error_of_six_claims():
    """By hand: bin .1-.2 states .15 and sees .5 (2 of 6); bin .8-.9 states .85 and sees .75 (4 of 6)."""
    stated = np.array([0.12, 0.18, 0.82, 0.84, 0.86, 0.88])
    came = np.array([True, False, True, True, True, False])
    assert calibration_error(stated, came) == pytest.approx(0.35 * 2 / 6 + 0.10 * 4 / 6)
    table = bins_of(stated, came.astype(float), np.array([0, 0, 1, 1, 2, 2]))
    assert list(table["number"]) == [2, 4]
    assert list(table["leagues"]) == [1, 2]
    assert list(table["stated"]) == pytest.approx([0.15, 0.85])
    assert list(table["came"]) == pytest.approx([0.5, 0.75])
    # One league only: the error is that of two independent draws.
    assert table["error"].iloc[0] == pytest.approx(np.sqrt(0.12 * 0.88 + 0.18 * 0.82) / 2)


def test_errors_are_those_of_a_regression_with_clusters():
    """Against statsmodels: mean and logistic slope with a sandwich of clusters."""
    stated, came, league = claims()
    groups = {"groups": league}
    flat = OLS(came, np.ones(len(came))).fit(cov_type="cluster", cov_kwds=groups)
    assert clustered(came, league) == pytest.approx((flat.params[0], flat.bse[0]), rel=1e-9)
    design = add_constant(np.log(stated / (1 - stated)))
    fit = GLM(came, design, family=families.Binomial()).fit(
        cov_type="cluster", cov_kwds=groups | {"use_correction": False}, tol=1e-12
    )
    assert slope_with_error(stated, came, league) == pytest.approx((fit.params[1], fit.bse[1]), rel=1e-6)


@pytest.mark.parametrize("sharper", [1.0, 2.0])
def test_right_chances_pass_and_overconfident_ones_do_not(sharper):
    stated, came, league = claims(200, 30, sharper)
    slope, error = slope_with_error(stated, came, league)
    assert abs(slope - 1 / sharper) < 3 * error
    leagues = [Stated({"above": stated[league == i]}, {"above": came[league == i] > 0}) for i in range(200)]
    row, table = score("above", leagues)
    assert (row["leagues"], row["chances"], table["number"].sum()) == (200, 6000, 6000)
    assert (row["error"] < 2 * row["luck"]) == (sharper == 1)
    assert (row["holds_right"] > 0.9) == (sharper == 1)


def test_luck_is_the_error_of_right_chances():
    """Mean over 30 tables of right chances against what the report calls luck."""
    found = []
    for seed in range(30):
        stated, came, league = claims(seed=seed)
        leagues = [
            Stated({"above": stated[league == i]}, {"above": came[league == i] > 0}) for i in range(40)
        ]
        row, _ = score("above", leagues)
        found.append((row["error"], row["luck"], row["luck_spread"]))
    error, luck, spread = np.array(found).T
    assert error.mean() == pytest.approx(luck.mean(), rel=0.15)
    # A standard deviation from 30 draws is off by 13 % at one standard error.
    assert error.std() == pytest.approx(spread.mean(), rel=0.4)


def test_verdicts_and_intervals_are_counted():
    chance, came = np.array([0.95, 0.92, 0.5, 0.05]), np.array([True, False, True, False])
    leagues = [Stated({"above": chance}, {"above": came}, covered={"above": (held, 4)}) for held in (4, 3, 2)]
    row, _ = score("above", leagues)
    assert (row["holds"], row["holds_right"], row["fails"], row["fails_right"]) == (0.5, 0.5, 0.25, 1.0)
    assert row["coverage"] == 0.75
    # Three leagues with 1, 0 and -1 more than expected: sqrt(2 * 3 / 2) / 12.
    assert row["coverage_error"] == pytest.approx(np.sqrt(3) / 12)


@pytest.mark.parametrize(
    ("value", "error", "answer"),
    [(0.91, 0.01, "yes"), (0.89, 0.01, "open"), (0.87, 0.01, "no"), (np.nan, np.nan, "")],
)
def test_a_bound_is_met_missed_or_open(value, error, answer):
    bound = Bound("coverage", 0.90, 0.95, "coverage_error")
    assert bound.met(pd.Series({"coverage": value, "coverage_error": error})) == answer
    assert bound.words == "coverage 0.9 to 0.95"


@pytest.mark.parametrize(("chances", "answer"), [(90, "open"), (110, "no")])
def test_fewer_than_ten_verdicts_settle_nothing(chances, answer):
    row = pd.Series({"holds": 0.1, "chances": chances, "holds_right": 0.0, "holds_right_error": 0.1})
    assert EVERYWHERE[0].met(row) == answer


@pytest.mark.parametrize(("value", "answer"), [(0.01, "yes"), (0.03, "open"), (0.05, "no")])
def test_a_calibration_error_is_given_the_room_of_luck(value, answer):
    bound = Bound("error", -np.inf, 0.01, "luck_spread")
    assert bound.met(pd.Series({"error": value, "luck": 0.02, "luck_spread": 0.005})) == answer


@pytest.mark.slow
def test_what_is_scored_is_what_the_claims_say():
    league = draw_league(LAWS["small"], np.random.default_rng(4))
    stated = state_rates(league, 0, np.random.default_rng(5), frozenset(KINDS))
    counts = counts_of(hard=league.events, swings=league.exposure)
    hitters = np.random.default_rng(5).permutation(15)
    name = "h{:03d}".format
    # To rounding: sums over laws are taken for some hitters there, for all here.
    near = partial(pytest.approx, rel=1e-12)
    assert stated.chance["leads"][0] == near(check_leads(counts).chance)
    assert stated.chance["above"][3] == near(check_above(counts, name(3), VALUE).chance)
    assert stated.chance["ahead"][0] == near(check_ahead(counts, name(hitters[0]), name(hitters[1])).chance)
    top = len(league.exposure[league.exposure >= league.exposure.max() // 4 // 10 * 10]) // 3
    assert stated.chance["top"][0] == near(check_top(counts, top=min(top, 5)).chance)
    assert stated.came["ahead"][0] == (league.truth[hitters[0]] > league.truth[hitters[1]])


@pytest.mark.slow
def test_what_is_drawn_does_not_depend_on_the_kinds_asked_for():
    setting = SETTINGS["15, plain"]
    all_kinds = setting.part(0, 2, 3, frozenset(KINDS))
    one = setting.part(0, 2, 3, frozenset({"above"}))
    assert [list(a.chance["above"]) for a in all_kinds] == [list(a.chance["above"]) for a in one]
    assert list(one[0].chance) == ["above"]
    # What a setting is not made for it does not state: there, .16 is below everybody.
    assert not SETTINGS["15, every other"].part(0, 1, 3, frozenset({"above"}))[0].chance
    other = setting.part(1, 1, 3, frozenset({"above"}))
    assert list(other[0].chance["above"]) != list(one[0].chance["above"])


def test_day_form_keeps_the_mean_and_widens_the_counts():
    """Variance of n swings in games of 8 with correlation r: n p (1 - p) (1 + 7 r); 10 games, r = .05."""
    rng = np.random.default_rng(8)
    drawn = draw_events(rng, np.full(40_000, 80), np.full(40_000, 0.14), 0.05)
    assert drawn.mean() == pytest.approx(80 * 0.14, abs=4 * np.sqrt(13 / 40_000))
    assert drawn.var() == pytest.approx(80 * 0.14 * 0.86 * 1.35, rel=4 * np.sqrt(2 / 40_000))
    short = draw_events(rng, np.array([3, 0 + 1, 17]), np.ones(3) * 0.999, 0.05)
    assert (short <= [3, 1, 17]).all()
    assert np.isnan(draw_league(replace(LAWS["small"], day_form=0.05), rng).a).all()


def bins():
    """Two kinds, one of them with two settings and both together."""
    return pd.DataFrame({
        "kind": ["above"] * 4 + ["more"] * 2,
        "setting": ["a", "b", ALL, ALL, "c", "c"],
        "number": [20, 12, 32, 30, 40, 1],
        "stated": [0.15, 0.17, 0.16, 0.85, 0.3, 0.95],
        "came": [0.1, 0.25, 0.18, 0.6, 0.35, 1.0],
        "error": [0.1, 0.1, 0.08, 0.05, 0.07, 0.2],
    })  # fmt: skip


def test_the_picture_is_drawn_from_the_bins():
    ax = calibration(bins())
    above, more = ax.child_axes

    def drawn(panel):
        return {made.get_label(): made for made in panel.collections}

    assert drawn(above)["on it"].get_offsets().tolist() == [[0.16, 0.18]]
    assert drawn(above)["off it"].get_offsets().tolist() == [[0.85, 0.6]]
    assert drawn(above)["settings"].get_offsets().tolist() == [[0.15, 0.1]]
    [bar] = drawn(above)["bars, off it"].get_segments()
    # 1.6449: the 95 % point of the normal law, from its published table.
    assert bar[:, 1] == pytest.approx([0.6 - 1.6449 * 0.05, 0.6 + 1.6449 * 0.05], abs=1e-5)
    assert drawn(more)["on it"].get_offsets().tolist() == [[0.3, 0.35], [0.95, 1.0]]
    assert drawn(more)["bars, on it"].get_segments()[1][:, 1].max() == 1.0
    words = describe(ax)
    assert "1 of 4 points are farther from the line" in words
    assert "90 % Monte Carlo interval" in words
    assert "85 % came true 60 % of 30 times (off)" in words


def test_the_picture_takes_axes_and_says_what_it_cannot_draw():
    given = Figure().add_axes((0.1, 0.1, 0.8, 0.6))
    assert calibration(bins(), given) is given
    assert "nothing to draw" in describe(calibration(bins().iloc[:0]))
    with pytest.raises(MissingColumnsError, match="no column error"):
        calibration(bins().drop(columns="error"))


def test_the_kept_report_says_what_its_tables_say():
    rows, table = report.read()
    text = (report.FOLDER / "calibration.md").read_text(encoding="utf-8")
    assert text == report.as_text(rows)
    assert f"(`--leagues {report.LEAGUES} --seed {report.SEED}`)" in text
    together = table[table["setting"] != ALL].groupby(["kind", "setting"])["number"].sum()
    chances = rows[rows["setting"] != ALL].set_index(["kind", "setting"])["chances"]
    assert together.sort_index().equals(chances.sort_index().rename("number"))
    assert set(rows["kind"]) == set(KINDS)
    assert set(rows["setting"]) == {*SETTINGS, ALL}


def test_a_kept_report_keeps_the_kinds_that_were_not_made_and_says_with_what_each_was(tmp_path):
    kept, kept_bins = report.read()
    before = [one[one["kind"].isin(["above", "near", "hot"])] for one in (kept, kept_bins)]
    assert report.with_kept(tuple(before), tmp_path)[0] is before[0]  # nothing is kept there yet
    report.write(*before, "", tmp_path)
    made = [one[one["kind"].isin(["near", "steady"])] for one in (kept, kept_bins)]
    made = [one[one["setting"].str.startswith("150")] for one in made]
    made[0] = made[0].assign(stated=0.25, made_with="--leagues 8 --seed 2")
    rows, bins = report.with_kept(tuple(made), tmp_path)
    assert list(rows["kind"].unique()) == list(bins["kind"].unique()) == ["above", "near", "hot", "steady"]
    for kind, whole in (("above", before[0]), ("near", made[0]), ("hot", before[0]), ("steady", made[0])):
        there, one = (table[table["kind"] == kind].reset_index(drop=True) for table in (rows, whole))
        pd.testing.assert_frame_equal(there, one)
    text = report.as_text(rows)
    assert "`--leagues 96 --seed 1`: **above**, **hot**; `--leagues 8 --seed 2`: **near**, **steady**" in text


@pytest.mark.slow
def test_the_kept_picture_says_what_the_bins_say():
    _, table = report.read()
    picture = (report.FOLDER / "calibration.svg").read_text(encoding="utf-8")
    assert f"<dc:description>{describe(calibration(table))}</dc:description>" in picture


@pytest.mark.slow
def test_the_command_makes_the_kept_rows_again(tmp_path, capsys):
    """Those of the quickest settings, at the kept report's seed and size, with two processes and with one."""
    made_with = {("15, plain", "above"): "2", ("15, more, plain", "more"): "1"}
    settings, kinds = zip(*made_with, strict=True)
    for (setting, kind), processes in made_with.items():
        asked = ["--settings", setting, "--kinds", kind, "--processes", processes]
        report.main([*asked, "--write", str(tmp_path)])
        printed = capsys.readouterr().out
        assert printed.rstrip("\n") == (tmp_path / "calibration.md").read_text(encoding="utf-8").rstrip("\n")
    for kept, made in zip(report.read(), report.read(tmp_path), strict=True):
        same = kept["setting"].isin(settings) & kept["kind"].isin(kinds)
        made = made[made["setting"] != ALL].reset_index(drop=True)
        pd.testing.assert_frame_equal(
            kept[same].reset_index(drop=True), made, check_dtype=False, rtol=0, atol=LAST_DIGIT
        )


@pytest.mark.slow
def test_the_number_of_processes_changes_nothing():
    one, two = (
        score_all(
            report.state_all(2, 7, ["split", "hot"], ["15, split, plain", "15, stretches"], many), KINDS
        )
        for many in (1, 2)
    )
    for a, b in zip(one, two, strict=True):
        pd.testing.assert_frame_equal(a, b)
