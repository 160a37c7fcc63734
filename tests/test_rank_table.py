"""From a pitch frame to a ranked table in one call: the caller's kind of frame in and out."""

import doctest

import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import hitlab
from hitlab import Conventions, demo_season, rank_table, ranks, rate, shrink, tally
from hitlab.errors import ClaimError, CountsError, ReadingError
from hitlab.estimates import LeagueLaw, ranked_frames
from hitlab.estimates.ranking import usual_minimum
from hitlab.pitches.connecting import own_connection

COLUMNS = [
    *("hitter", "hitter_id", "club", "hard", "swings", "rate", "low", "high"),
    *("shrunk", "own_weight", "chance_best", "rank"),
]


@pytest.fixture(scope="module")
def season():
    return pd.read_parquet(demo_season())


@pytest.fixture(scope="module")
def ranked(season):
    return rank_table(season)


@pytest.mark.slow
def test_it_is_what_the_single_steps_give(season, ranked):
    counts = tally(season)
    fit = shrink(counts, "hard", "swings")
    least = usual_minimum(fit.exposure)
    assert least == 150  # a quarter of 619 swings, rounded down to tens
    assert isinstance(ranked, pd.DataFrame)
    assert list(ranked.columns) == COLUMNS
    assert len(ranked) == (fit.exposure >= least).sum()
    by_hand = ranked.set_index("hitter_id")
    laid = fit.table().set_index("hitter_id").loc[by_hand.index]
    told = ["hitter", "club", "hard", "swings", "rate", "low", "high", "shrunk", "own_weight"]
    pd.testing.assert_frame_equal(by_hand[told], laid[told])
    observed = rate(counts).table().set_index("hitter_id").loc[by_hand.index]
    np.testing.assert_array_equal(by_hand["rate"], observed["rate"])
    chances = ranks(fit, minimum=least).table().set_index("hitter_id")["chance_best"]
    np.testing.assert_array_equal(by_hand["chance_best"], chances.loc[by_hand.index])


def test_the_best_stands_first(ranked):
    assert ranked["shrunk"].is_monotonic_decreasing
    assert ranked["rank"].tolist() == list(range(1, len(ranked) + 1))
    assert ranked["hitter"].iloc[0] == "Nadia Izezno"
    assert ranked["chance_best"].sum() == pytest.approx(1)


def test_equal_records_share_the_better_rank():
    pitches = pd.DataFrame(
        {
            "hitter": [name for name in ("Ada", "Bo", "Cy") for _ in range(8)],
            "outcome": ["whiff", "foul", "foul", "ball"] * 4 + ["foul", "foul", "foul", "ball"] * 2,
        }
    )
    table = rank_table(pitches, "whiffs")
    assert table["rank"].tolist() == [1, 1, 3]
    assert table["hitter"].tolist() == ["Ada", "Bo", "Cy"]


def _lazy_polars(season):
    return pl.from_pandas(season).lazy()


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("turned", "kind"),
    [
        (pl.from_pandas, pl.DataFrame),
        (_lazy_polars, pl.DataFrame),
        (lambda season: pa.Table.from_pandas(season, preserve_index=False), pa.Table),
        (lambda season: own_connection().from_arrow(pa.Table.from_pandas(season)), pd.DataFrame),
        (lambda season: season.set_index(season.index + 7), pd.DataFrame),
    ],
    ids=["polars", "lazy polars", "pyarrow", "duckdb", "pandas with an index"],
)
def test_the_frame_comes_back_in_its_own_kind(season, ranked, turned, kind):
    table = rank_table(turned(season))
    assert isinstance(table, kind)
    names = table.column_names if kind is pa.Table else list(table.columns)
    assert names == COLUMNS
    got = table if kind is pd.DataFrame else table.to_pandas()
    for name in COLUMNS:
        assert got[name].tolist() == ranked[name].tolist(), name


@pytest.mark.slow
def test_a_file_and_a_reading_give_a_frame(season, ranked, tmp_path):
    path = hitlab.pitches.write_checked(season, tmp_path / "season.parquet")
    pd.testing.assert_frame_equal(rank_table(path), ranked, check_dtype=False)
    pd.testing.assert_frame_equal(rank_table(str(path)), ranked, check_dtype=False)
    sheet = tmp_path / "sheet.csv"
    pd.DataFrame({"hitter": ["Ada", "Bo"] * 4, "outcome": ["whiff", "foul", "foul", "foul"] * 2}).to_csv(
        sheet, index=False
    )
    reading = hitlab.read_pitches(sheet)
    table = rank_table(reading, "whiffs")
    assert table["hitter"].tolist() == ["Ada", "Bo"]
    assert isinstance(table, type(reading.table))


def test_every_argument_reaches_its_step(season):
    counts = tally(season, "pitcher", where="strikes=2", conventions=Conventions(foul_tip="contact"))
    law = LeagueLaw(0.25, 0.03, 100)
    fit = shrink(counts, "whiffs", "swings", prior=law)
    table = rank_table(
        season,
        "whiffs",
        "swings",
        by="pitcher",
        where="strikes=2",
        minimum=100,
        conventions=Conventions(foul_tip="contact"),
        prior=law,
    )
    laid = fit.table().sort_values("shrunk", ascending=False, kind="stable")
    laid = laid[laid["swings"] >= 100]
    assert list(table.columns[:4]) == ["pitcher", "pitcher_id", "whiffs", "swings"]
    np.testing.assert_array_equal(table["shrunk"], laid["shrunk"])
    assert table["pitcher_id"].tolist() == laid["pitcher_id"].tolist()


def test_with_no_minimum_everybody_with_exposure_is_there(season):
    assert len(rank_table(season, minimum=0)) == 150


def test_who_has_only_bounds_stands_below_without_a_rank():
    rows = [
        (name, outcome, speed)
        for name, hard, soft, unknown in (("Ada", 30, 70, 0), ("Bo", 20, 70, 0), ("Cy", 9, 6, 8))
        for outcome, speed, times in (
            ("in play", 100.0, hard),
            ("in play", 70.0, soft),
            ("in play", None, unknown),
            ("whiff", None, 50),
        )
        for _ in range(times)
    ]
    pitches = pd.DataFrame(rows, columns=["hitter", "outcome", "exit_mph"])
    table = rank_table(pitches).set_index("hitter")
    bounds = rate(tally(pitches)).table().set_index("hitter").loc["Cy"]
    assert list(table.index) == ["Ada", "Bo", "Cy"]
    assert table["rank"].tolist()[:2] == [1, 2]
    assert pd.isna(table.loc["Cy", ["rate", "shrunk", "own_weight", "chance_best", "rank"]]).all()
    assert table.loc["Cy", ["hard", "swings"]].tolist() == [9, 73]
    assert table.loc["Cy", ["low", "high"]].tolist() == bounds[["low", "high"]].tolist()
    there = rank_table(pl.from_pandas(pitches))
    assert there["rank"].to_list() == [1, 2, None]
    assert there["shrunk"].null_count() == 1
    with pytest.raises(ClaimError, match="hardness is unknown for 49 % of the contact"):
        rank_table(demo_season(), conventions=Conventions(hard_fouls=True))


def test_what_cannot_be_ranked_is_said(season):
    with pytest.raises(ReadingError, match="counts already"):
        rank_table(tally(season))
    with pytest.raises(ClaimError, match="nobody has 9,999 swings"):
        rank_table(season, minimum=9_999)
    with pytest.raises(CountsError, match="minimum=-1: give a whole number, 0 or more"):
        rank_table(season, minimum=-1)
    with pytest.raises(CountsError, match="is no rate"):
        rank_table(season, "pitches", "swings")


@pytest.mark.parametrize(
    ("largest", "least"), [(0, 1), (3, 1), (7, 1), (8, 2), (399, 99), (400, 100), (619, 150), (1000, 250)]
)
def test_the_usual_minimum_is_a_quarter_of_the_largest_exposure_rounded_where_that_is_easier_said(
    largest, least
):
    assert usual_minimum(np.array([largest, 0], dtype=np.int64)) == least


def test_the_example_runs():
    assert doctest.testmod(ranked_frames) == doctest.TestResults(failed=0, attempted=3)
