"""What came before: the order of pitches on every engine, and what is set aside."""

import duckdb
import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab.approach.sequence import eager, put_in_order, sequence_faults, with_previous
from hitlab.errors import CountsError, MissingColumnsError, ReadingError
from tests import needs

ROWS = [
    # plate appearance 1: out of order in the table, whole in itself
    (1, 2, "ann", "slider", "foul", 0, 1),
    (1, 1, "ann", "slider", "whiff", 0, 0),
    (1, 3, "ann", "sinker", "in play", 0, 2),
    # 2: the second pitch is not here
    (2, 1, "bea", "sinker", "ball", 0, 0),
    (2, 3, "bea", "sinker", "ball", 1, 1),
    # 3: the count says otherwise
    (3, 1, "cat", "cutter", "ball", 0, 0),
    (3, 2, "cat", "cutter", "whiff", 0, 1),
    # 4: goes on after its end
    (4, 1, "dee", "cutter", "in play", 0, 0),
    (4, 2, "dee", "cutter", "ball", 0, 0),
    # 5: a number twice
    (5, 1, "eve", "cutter", "ball", 0, 0),
    (5, 1, "eve", "cutter", "ball", 0, 0),
    # 6: a substitute inherits the count; no result, which is normal
    (6, 1, "fay", "cutter", "called strike", 0, 0),
    (6, 2, "gil", "slider", "foul tip", 0, 1),
    (6, 3, "gil", "slider", "ball", 0, 2),
]


@pytest.fixture
def table():
    names = ["plate_appearance", "pitch", "hitter", "pitch_kind", "outcome", "balls", "strikes"]
    frame = pd.DataFrame(ROWS, columns=names)
    frame.insert(0, "game", "g1")
    return frame


def _shown(column):
    return ["-" if pd.isna(value) else value for value in column]


def test_the_previous_pitch_of_a_worked_table(table):
    told = with_previous(table)
    assert _shown(told["previous_outcome"]) == (["whiff", "-", "foul", *["-"] * 9, "-", "foul tip"])
    assert _shown(told["previous_kind"])[:3] == ["slider", "-", "slider"]
    assert _shown(told["previous_swing"])[-2:] == ["-", True]
    # A foul tip plays as a whiff by default.
    assert _shown(told["previous_whiff"])[-2:] == ["-", True]
    assert told["sequence_trusted"].tolist() == [True] * 3 + [False] * 8 + [True] * 3
    assert list(told.index) == list(table.index)
    pd.testing.assert_frame_equal(told[table.columns], table)


def test_faults_are_named_once_each(table):
    faults = sequence_faults(table)
    assert faults["plate_appearance"].tolist() == [2, 3, 4, 5]
    assert faults["fault"].tolist() == [
        "a pitch is missing",
        "the count contradicts the order",
        "a pitch follows the end",
        "a pitch number stands twice",
    ]
    assert faults["pitches"].tolist() == [2, 2, 2, 2]


def test_rows_without_a_whole_key_come_last(table):
    table["game"] = table["game"].where(table.index != 3)
    faults = sequence_faults(table)
    assert faults.iloc[-1]["fault"] == "no whole key"
    assert faults.iloc[-1]["pitches"] == 1


def test_a_substitute_has_no_previous_pitch(table):
    order = put_in_order(eager(table)[0])
    assert order.previous[12] == -1
    assert order.previous[13] == 12
    assert (order.searched, order.set_aside) == (2, 4)
    assert (order.balls[13], order.strikes[13]) == (0, 2)


ENGINES = {
    "pandas": lambda frame: frame,
    "polars": pl.from_pandas,
    "polars lazy": lambda frame: pl.from_pandas(frame).lazy(),
    "pyarrow": pa.Table.from_pandas,
    "duckdb": lambda frame: duckdb.from_arrow(pa.Table.from_pandas(frame)),
}


@pytest.mark.parametrize("engine", ENGINES)
def test_engines_agree_and_give_their_own_kind_back(table, engine):
    table["speed_mph"] = np.arange(len(table)) + 80.5
    given_frame = ENGINES[engine](table)
    told = with_previous(given_frame)
    assert type(told) is type(given_frame)
    if engine == "duckdb":  # which has no order of rows
        told = told.order("speed_mph").to_arrow_table()
    if engine == "polars lazy":
        told = told.collect()
    back = told if engine == "pandas" else told.to_pandas()
    expected = with_previous(table)
    for name in expected.columns:
        assert [None if pd.isna(v) else v for v in back[name]] == [
            None if pd.isna(v) else v for v in expected[name]
        ]


def test_what_looks_at_single_pitches_refuses_dask_with_the_way_out(table):
    dask = needs.package("dask.dataframe")
    with pytest.raises(ReadingError, match=r"\.compute\(\)"):
        eager(dask.from_pandas(table, npartitions=2))


@pytest.mark.java
@pytest.mark.slow
@needs.needs_java
def test_what_looks_at_single_pitches_refuses_spark_with_the_way_out(table, request):
    spark = request.getfixturevalue("spark")
    rows = table[["game", "plate_appearance", "pitch", "outcome"]].to_dict("records")
    with pytest.raises(ReadingError, match=r"\.toPandas\(\)"):
        eager(spark.createDataFrame(rows))


def test_faults_come_in_the_order_of_the_key_whatever_the_order_of_rows(table):
    other = table.assign(game="g0")
    both = pd.concat([table.iloc[::-1], other], ignore_index=True)
    faults = sequence_faults(both)
    assert faults["game"].tolist() == ["g0"] * 4 + ["g1"] * 4
    assert faults["plate_appearance"].tolist() == [2, 3, 4, 5] * 2


def test_errors_name_what_is_missing(table):
    with pytest.raises(MissingColumnsError, match="no plate_appearance"):
        with_previous(table.drop(columns="plate_appearance"))
    with pytest.raises(MissingColumnsError, match="no row has its"):
        with_previous(table.assign(game=None))
    with pytest.raises(CountsError, match="previous_outcome"):
        with_previous(table.assign(previous_outcome="x"))
    with pytest.raises(ReadingError, match="this is a list"):
        with_previous([1, 2])


@pytest.mark.slow
@settings(max_examples=50, deadline=None)
@given(st.lists(st.integers(1, 5), min_size=1, max_size=8), st.randoms(use_true_random=False))
def test_any_order_of_rows_gives_the_same_previous_pitches(lengths, random):
    rows = [
        (1, a, p, "h", "ball" if p < 4 else "foul") for a, n in enumerate(lengths, 1) for p in range(1, n + 1)
    ]
    frame = pd.DataFrame(rows, columns=["game", "plate_appearance", "pitch", "hitter", "outcome"])
    shuffled = list(frame.index)
    random.shuffle(shuffled)
    told = with_previous(frame.loc[shuffled].reset_index(drop=True))
    order = put_in_order(eager(frame)[0])
    # Every pitch but the first of its plate appearance has one, and walking back passes each pitch once.
    assert (order.previous >= 0).sum() == len(frame) - len(lengths)
    has = order.previous >= 0
    assert (order.following[order.previous[has]] == np.flatnonzero(has)).all()
    back = told.sort_values(["plate_appearance", "pitch"]).reset_index(drop=True)
    expected = with_previous(frame)
    pd.testing.assert_frame_equal(back, expected)
