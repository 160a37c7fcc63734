"""Saving a checked table and opening it again."""

from __future__ import annotations

import gc
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pandas as pd
import polars as pl
import pyarrow.parquet as pq
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab.errors import ReadingError
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.schema import COLUMNS, SCHEMA_VERSION, Column
from hitlab.pitches.sources import checked_to_arrow
from hitlab.pitches.storing import is_checked, odd_in_table, open_checked, write_checked

SHEET = pd.DataFrame(
    {"hitter": ["A", "B", None], "outcome": "ball", "outs": [1, None, 2], "date": "2031-05-04"}
)


def _values(column: Column) -> st.SearchStrategy[object]:
    if column.kind == "word":
        return st.sampled_from(column.words)
    if column.kind == "flag":
        return st.booleans()
    if column.kind == "date":
        return st.dates()
    low, high = column.lowest, column.highest
    if column.kind == "whole":
        assert low is not None
        assert high is not None
        return st.integers(int(low), int(high))
    if column.kind == "number":
        return st.floats(low, high)
    return st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=6).filter(str.strip)


@st.composite
def _tables(draw: st.DrawFn) -> pd.DataFrame:
    names = draw(st.sets(st.sampled_from(sorted(COLUMNS)))) | {"hitter", "outcome"}
    rows = draw(st.integers(1, 5))
    content = {}
    for name in sorted(names):
        values = _values(COLUMNS[name])
        if name not in ("hitter", "outcome"):
            values = st.none() | values
        content[name] = pd.Series(draw(st.lists(values, min_size=rows, max_size=rows)), dtype=object)
    return pd.DataFrame(content)


@pytest.mark.slow
@settings(max_examples=30, deadline=None)
@given(frame=_tables())
def test_what_is_written_is_what_is_opened(frame: pd.DataFrame) -> None:
    reading = read_pitches(frame)
    with tempfile.TemporaryDirectory() as folder:
        opened = open_checked(write_checked(reading, Path(folder) / "t.parquet"))
        names, rows = opened.columns, opened.fetchall()
        del opened
    assert names == list(reading.table)
    for place, row in enumerate(rows):
        for name, value in zip(names, row, strict=True):
            before = reading.table[name][place]
            if pd.isna(before):
                assert value is None
            elif COLUMNS[name].kind == "date":
                assert value == before.date()
            else:
                assert value == before


def test_the_mark_tells_what_was_set_aside(tmp_path: Path) -> None:
    path = write_checked(read_pitches(SHEET), tmp_path / "t.parquet")
    mark = pq.read_schema(path).metadata
    assert mark[b"hitlab_schema"] == str(SCHEMA_VERSION).encode()
    assert mark[b"hitlab_rows_set_aside"] == b"1"
    assert b"hitters are told apart by name" in mark[b"hitlab_assumed"]
    assert is_checked(path)
    assert os.listdir(tmp_path) == ["t.parquet"]
    assert "RLE_DICTIONARY" in pq.ParquetFile(path).metadata.row_group(0).column(1).encodings


def test_each_value_stands_once_in_columns_that_repeat_themselves(tmp_path: Path) -> None:
    many = 20_000
    pitches = pd.DataFrame(
        {
            "hitter": ["Ada Frusk", "Bea Plome"] * (many // 2),
            "outcome": "in play",
            "exit_mph": [90.5, 88.0] * (many // 2),
        }
        | {"clip": [f"{number}.mp4" for number in range(many)]}
    )
    path = write_checked(pitches, tmp_path / "t.parquet")
    group = pq.ParquetFile(path).metadata.row_group(0)
    told = {group.column(at).path_in_schema: group.column(at).encodings for at in range(group.num_columns)}
    assert {name for name, encodings in told.items() if "RLE_DICTIONARY" in encodings} == {
        *("hitter", "outcome", "exit_mph")
    }
    pd.testing.assert_frame_equal(open_checked(path).df().astype(pitches.dtypes), pitches)


def test_what_is_odd_of_a_table_is_said_of_it_whoever_looks(tmp_path: Path) -> None:
    names = ["Ada Frusk", "ada frusk", "Total"] * 20
    reading = read_pitches(pd.DataFrame({"hitter": names, "outcome": "foul"}))
    assert reading.report.seen.odd == odd_in_table(checked_to_arrow(reading.table))
    assert len(reading.report.seen.odd.names) == 2
    assert set(reading.report.seen.odd.names) <= set(reading.report.odd_names)


def test_a_plain_table_is_checked_before_it_is_saved(tmp_path: Path) -> None:
    path = write_checked(SHEET, tmp_path / "t.parquet")
    assert open_checked(path).aggregate("count(*)").fetchall() == [(2,)]
    with pytest.raises(ReadingError, match="no column hitter"):
        write_checked(SHEET.drop(columns="hitter"), tmp_path / "u.parquet")
    assert not (tmp_path / "u.parquet").exists()
    mapping = {"columns": {"Who": "hitter"}}
    assert is_checked(write_checked(SHEET.rename(columns={"hitter": "Who"}), tmp_path / "v.parquet", mapping))
    with pytest.raises(ReadingError, match="already mapped"):
        write_checked(read_pitches(SHEET), tmp_path / "w.parquet", mapping)


def test_a_reading_of_any_engine_is_saved_alike(tmp_path: Path) -> None:
    first = open_checked(write_checked(read_pitches(SHEET), tmp_path / "a.parquet"))
    other = open_checked(write_checked(read_pitches(pl.from_pandas(SHEET).lazy()), tmp_path / "b.parquet"))
    assert first.fetchall() == other.fetchall()
    assert first.types == other.types


@pytest.mark.parametrize(
    "name", ["it's.parquet", 'a "b".parquet', "a[1].parquet", "a*b?.parquet", "é ü.parquet"]
)
def test_file_names_with_quotes_and_wild_cards(tmp_path: Path, name: str) -> None:
    if os.name == "nt" and set(name) & set('"*?'):
        pytest.skip("Windows does not allow such a file name")
    write_checked(SHEET, tmp_path / "a1.parquet")
    path = write_checked(SHEET.head(1), tmp_path / name)
    assert open_checked(path).aggregate("count(*)").fetchall() == [(1,)]


def test_a_relation_outlives_the_call_that_made_it(tmp_path: Path) -> None:
    opened = open_checked(write_checked(SHEET, tmp_path / "t.parquet"))
    again = open_checked(tmp_path / "t.parquet")
    gc.collect()
    assert opened.fetchall() == again.fetchall()


def test_what_carries_no_mark_is_refused_unless_trusted(tmp_path: Path) -> None:
    path = tmp_path / "plain.parquet"
    SHEET.to_parquet(path)
    assert not is_checked(path)
    with pytest.raises(ReadingError, match=r"write_checked\(read_pitches\(.*trust=True"):
        open_checked(path)
    assert open_checked(path, trust=True).aggregate("count(*)").fetchall() == [(3,)]
    table = pq.read_table(path).replace_schema_metadata({"hitlab_schema": "99"})
    pq.write_table(table, path)
    with pytest.raises(ReadingError, match="has version 99"):
        open_checked(path)


def test_files_that_cannot_be_opened_or_written(tmp_path: Path) -> None:
    (tmp_path / "t.parquet").write_bytes(b"PAR1 no more")
    for trust in (False, True):
        with pytest.raises(ReadingError, match="not a whole Parquet file"):
            open_checked(tmp_path / "t.parquet", trust=trust)
        with pytest.raises(ReadingError, match=r"Nearest in that folder: t\.parquet"):
            open_checked(tmp_path / "tt.parquet", trust=trust)
        with pytest.raises(ReadingError, match=r"t\.parquet is not a whole Parquet file"):
            open_checked(tmp_path, trust=trust)
    assert not is_checked(tmp_path / "t.parquet")
    assert not is_checked(tmp_path / "nowhere.parquet")
    with pytest.raises(ReadingError, match="cannot be written"):
        write_checked(SHEET, tmp_path / "nowhere" / "t.parquet")


@pytest.mark.slow
def test_opening_does_not_pay_for_the_reader(tmp_path: Path) -> None:
    path = write_checked(SHEET, tmp_path / "t.parquet")
    code = (
        "import sys; from hitlab.pitches.storing import open_checked; "
        f"open_checked({str(path)!r}); "
        "print([n for n in ('polars', 'dask', 'narwhals', 'hitlab.pitches.reading') "
        "if n in sys.modules])"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert shown.strip() == "[]"


@pytest.mark.slow
def test_reading_imports_no_engine_that_the_caller_did_not_bring() -> None:
    code = (
        "import sys, hitlab.pitches.reading; "
        "print([n for n in ('polars', 'dask', 'pyspark', 'duckdb', 'matplotlib', 'statsmodels') "
        "if n in sys.modules])"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert shown.strip() == "[]"
