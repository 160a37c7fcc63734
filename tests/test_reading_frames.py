"""Every kind of frame gives the same table, in the caller's own kind."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import duckdb
import narwhals as nw
import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

from hitlab.counting import tally
from hitlab.errors import ReadingError
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.storing import write_checked
from tests.needs import needs_java

CONNECTION = duckdb.connect()  # older DuckDB closes what nobody holds
ROWS = pa.table(
    {
        "date": pa.array([None, "2031-05-04", "2031-05-05", "2031-05-05"]).cast(pa.date32()),
        "hitter": ["A", "B", "C", None],
        "outs": pa.array([0, None, 2, 1], pa.int32()),
        "speed_mph": [90.5, None, 300.0, 88.0],
        "outcome": ["Whiff", "ball", "in play", "ball"],
        "bunt": [True, None, False, False],
        "unused": [1, 2, 3, 4],
    }
)


def _frame(kind: str) -> Any:
    if kind == "pandas":
        return ROWS.to_pandas()
    if kind == "polars":
        return pl.from_arrow(ROWS)
    if kind == "polars lazy":
        return pl.from_arrow(ROWS).lazy()  # type: ignore[union-attr]
    if kind == "pyarrow":
        return ROWS
    if kind == "duckdb":
        return CONNECTION.from_arrow(ROWS)
    dask = pytest.importorskip("dask.dataframe")
    return dask.from_pandas(ROWS.to_pandas(types_mapper=pd.ArrowDtype), npartitions=2)


NATIVE = {
    "pandas": pd.DataFrame,
    "polars": pl.DataFrame,
    "polars lazy": pl.LazyFrame,
    "pyarrow": pa.Table,
    "duckdb": duckdb.DuckDBPyRelation,
}


@pytest.mark.parametrize("kind", [*NATIVE, "dask"])
def test_each_kind_of_frame_gives_the_same_table(kind: str) -> None:
    reading = read_pitches(_frame(kind))
    if kind in NATIVE:
        assert type(reading.table) is NATIVE[kind]
    native = reading.table
    frame = nw.from_native(native.compute() if kind == "dask" else native)
    if kind == "dask" or isinstance(frame, nw.LazyFrame):
        assert any("collected into memory" in sentence for sentence in reading.report.assumed)
    if isinstance(frame, nw.LazyFrame):
        frame = frame.collect(backend="pyarrow")
    table = frame.to_arrow().to_pydict()
    assert list(table) == ["date", "hitter", "outs", "speed_mph", "outcome", "bunt"]
    assert [str(day)[:10] for day in table["date"][1:]] == ["2031-05-04", "2031-05-05"]
    assert table["date"][0] is None
    assert table["hitter"] == ["A", "B", "C"]
    assert table["outs"] == [0, None, 2]
    assert table["speed_mph"] == [90.5, None, None]
    assert table["outcome"] == ["whiff", "ball", "in play"]
    assert table["bunt"] == [True, None, False]
    assert reading.set_aside["row"].tolist() == [3, 4]
    assert reading.report.unused == ("unused",)


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_a_spark_frame_is_read(request: Any) -> None:
    session = request.getfixturevalue("spark")
    schema = "date date, hitter string, outs int, speed_mph double, outcome string, bunt boolean, unused long"
    rows = [tuple(row.values()) for row in ROWS.to_pylist()]
    reading = read_pitches(session.createDataFrame(rows, schema))
    assert type(reading.table).__module__.startswith("pyspark")
    assert [row.outcome for row in reading.table.collect()] == ["whiff", "ball", "in play"]
    assert [row.speed_mph for row in reading.table.collect()] == [90.5, None, None]
    assert reading.set_aside["row"].tolist() == [3, 4]
    assert any("collected into memory" in sentence for sentence in reading.report.assumed)


def test_a_lazy_frame_whose_query_fails_is_a_reading_error() -> None:
    broken = pl.LazyFrame({"hitter": ["A"], "outcome": ["ball"]}).with_columns(pl.col("nowhere"))
    with pytest.raises(ReadingError, match="cannot be collected"):
        read_pitches(broken)


def test_a_pandas_column_of_mixed_values_is_read_as_text() -> None:
    frame = pd.DataFrame(
        {"hitter": ["A", 7, 2.5], "outcome": "ball", "outs": [1, "two", None]}, index=[5, 5, 9]
    )
    reading = read_pitches(frame)
    assert reading.table["hitter"].tolist() == ["A", "7", "2.5"]
    assert reading.table["outs"].isna().tolist() == [False, True, True]
    assert reading.set_aside["value"].tolist() == ["two"]
    assert reading.set_aside["row"].tolist() == [2]


@pytest.mark.parametrize("dtype", ["category", "string", "object"])
def test_pandas_text_of_any_type(dtype: str) -> None:
    frame = pd.DataFrame({"hitter": ["A", None], "outcome": ["ball", "ball"]}).astype(dtype)
    reading = read_pitches(frame)
    assert reading.table["hitter"].tolist() == ["A"]
    assert reading.set_aside["reason"].tolist() == ["empty, and it is needed"]


def test_the_source_frame_is_left_as_it_was() -> None:
    frame = pd.DataFrame({"hitter": ["A"], "outcome": "Ball", "outs": np.array([1.0])})
    before = frame.copy(deep=True)
    read_pitches(frame)
    pd.testing.assert_frame_equal(frame, before)


def test_arrow_text_of_any_type_and_in_several_pieces() -> None:
    table = pa.table(
        {
            "hitter": pa.chunked_array([pa.array(["A"]), pa.array(["B", "A"])]).cast(pa.large_string()),
            "outcome": pa.array(["ball", "x", "foul"], pa.string_view()),
            "pitcher": pa.chunked_array([pa.array([p]).dictionary_encode() for p in ("P", "Q", "R")]),
            "club": pa.nulls(3),
        }
    )
    reading = read_pitches(table)
    assert reading.table.to_pydict() == {
        "hitter": ["A", "A"],
        "pitcher": ["P", "R"],
        "club": [None, None],
        "outcome": ["ball", "foul"],
    }
    assert reading.set_aside["source: outcome"].tolist() == ["x"]


def _halved() -> pd.DataFrame:
    """Names as they come of bytes that were read with the wrong encoding."""
    names = pd.Series(["Ada", "B\udcff", "C\ud800"], dtype=object)
    return pd.DataFrame({"hitter": names, "outcome": ["whiff", "foul", "ball"]})


def test_half_of_a_character_is_read_as_an_escape_and_said(tmp_path: Path) -> None:
    reading = read_pitches(_halved())
    assert reading.table["hitter"].tolist() == ["Ada", "B\\udcff", "C\\ud800"]
    said = [one for one in reading.report.assumed if "half of a character" in one]
    assert len(said) == 1
    assert said[0].startswith("hitter holds half of a character in 2 row(s), first in row 2,")
    saved = write_checked(reading, tmp_path / "saved.parquet")
    assert tally(saved).table()["hitter"].tolist() == ["Ada", "B\\udcff", "C\\ud800"]
    assert not any("half" in one for one in read_pitches(_halved().head(1)).report.assumed)


def test_half_of_a_character_in_an_unread_frame_is_named_with_its_row() -> None:
    with pytest.raises(ReadingError, match=r"hitter, row 2: 'B\\udcff' holds half of a character"):
        tally(_halved())


@pytest.mark.parametrize(
    "mapping",
    [
        {"constants": {"club": "A\ud800"}},
        {"columns": {"h\ud800": "hitter"}},
        {"words": {"outcome": {"k\udcff": "whiff"}}},
    ],
)
def test_a_mapping_with_half_of_a_character_is_refused_with_the_mend(mapping: dict[str, Any]) -> None:
    with pytest.raises(ReadingError, match=r"half of a character .* write it so"):
        read_pitches(_halved(), mapping)
