"""Reading what is not meant to be read: each gives one clear error, soon and in little memory."""

from __future__ import annotations

import io
import os
import pickle
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import duckdb
import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

import hitlab
from hitlab.errors import ReadingError
from hitlab.pitches.connecting import own_connection
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.sealing import seal, verify
from hitlab.pitches.storing import is_checked, open_checked, write_checked

FRAME = pd.DataFrame({"hitter": ["Ada", "Bea"], "outcome": ["ball", "foul"]})


# Not ru_maxrss, which a process takes over from the one that started it.
PEAK = (
    "status = open('/proc/self/status').read().split() if sys.platform == 'linux' else ['VmHWM:', '0']\n"
    "print(status[status.index('VmHWM:') + 1])"
)


def _in_own_process(code: str, *arguments: Any) -> tuple[str, int]:
    """What a program says, and its peak memory in kilobytes; whatever waits for ever fails."""
    whole = (
        "import sys\nfrom hitlab.pitches.reading import read_pitches\n"
        "from hitlab.pitches.mapping import load_mapping\nfrom hitlab.pitches.storing import open_checked\n"
        f"try:\n    print({code})\nexcept Exception as error:\n    print(type(error).__name__, error)\n"
        f"{PEAK}"
    )
    run = subprocess.run(
        [sys.executable, "-c", whole, *map(str, arguments)],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
        stdin=subprocess.DEVNULL,
    )
    said, peak = run.stdout.strip().rsplit("\n", 1)
    return said, int(peak)


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with a name")
@pytest.mark.parametrize(
    "code",
    ["read_pitches(sys.argv[1])", "load_mapping(sys.argv[1])", "open_checked(sys.argv[1])"],
)
def test_pipes_and_devices_are_not_opened(tmp_path: Path, code: str) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    said, _ = _in_own_process(code, tmp_path / "pipe.csv")
    assert said.startswith("ReadingError")
    assert "a pipe, not a regular file" in said
    said, peak = _in_own_process(code, "/dev/zero")
    assert said.startswith("ReadingError")
    assert "a device, not a regular file" in said
    assert peak < 400_000


@pytest.mark.parametrize(
    "path", ["x" * 5000, "x/" * 2500, "x\0y", "nowhere/" + "x" * 300], ids=["long", "deep", "nul", "name"]
)
def test_paths_that_no_file_has(path: str) -> None:
    for call in (read_pitches, load_mapping, open_checked):
        with pytest.raises(ReadingError) as error:
            call(path)
        assert len(str(error.value)) < 1500
    assert not is_checked(path)


def _nested(depth: int) -> list[Any]:
    value: list[Any] = []
    for _ in range(depth):
        value = [value]
    return value


@pytest.mark.parametrize(
    "content",
    [
        {"file": {"date_format": "%d/%d/%Y"}},
        {"file": {"date_format": "%d/%m/%Q/%Y"}},
        {"file": {"date_format": "%d/%m/%Y %"}},
        {"file": {"date_format": "%Y-%m-%d %c"}},
        {"file": {"header_line": 10**30}},
        {"file": {"header_line": 10**9}},
        {"file": {"missing": _nested(100_000)}},
        {"constants": {"outs": 10**30}},
        {"constants": {"game": 10**5000}},
        {"dates": {"year": -(10**5000)}, "file": {"date_format": "%d/%m"}},
        {"columns": {"x" * 20_000: "hitter"}},
        {"words": {"outcome": {f"w{i}": "ball" for i in range(200_000)}}},
    ],
)
def test_mappings_beyond_all_measure(content: dict[str, Any]) -> None:
    with pytest.raises(ReadingError) as error:
        load_mapping(content)
    assert len(str(error.value)) < 1000


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 5000 + "]" * 5000,
        "a = " + "{a = " * 5000 + "1" + "}" * 5000,
        "a." * 5000 + "a = 1",
        "[file]\nheader_line = " + "1" * 5000,
        "[file]\nheader_line = " + "1" * 30,
        "# " + "x" * 2_000_000,
    ],
    ids=["lists", "tables", "dots", "5000 digits", "30 digits", "large"],
)
def test_mapping_files_beyond_all_measure(tmp_path: Path, text: str) -> None:
    (tmp_path / "m.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ReadingError, match=r"m\.toml") as error:
        load_mapping(tmp_path / "m.toml")
    assert len(str(error.value)) < 1000


def test_numbers_of_many_digits_in_cells_are_out_of_range(tmp_path: Path) -> None:
    frame = pd.DataFrame(
        {"outs": ["1" * 30, "1" * 5000, "1e300"], "speed_mph": ["9" * 30, "1e-400", "1e999"]}
    )
    frame.assign(hitter="Ada", outcome="ball").to_csv(tmp_path / "p.csv", index=False)
    reading = read_pitches(tmp_path / "p.csv", {"units": {"speed_mph": "km/h"}})
    assert reading.table[["outs", "speed_mph"]].isna().all(axis=None)


@pytest.mark.slow
def test_a_small_file_that_unfolds_is_refused_before_it_does(tmp_path: Path) -> None:
    rows = 30_000_000
    indices = pa.array(np.zeros(rows, dtype=np.int8))
    names = pa.DictionaryArray.from_arrays(indices, pa.array(["Ada"]))
    outcomes = pa.DictionaryArray.from_arrays(indices, pa.array(["ball"]))
    path = tmp_path / "small.parquet"
    pq.write_table(pa.table({"hitter": names, "outcome": outcomes}), path, compression="zstd")
    assert path.stat().st_size < 400_000
    said, peak = _in_own_process("read_pitches(sys.argv[1])", path)
    assert said.startswith("ReadingError")
    assert "more than 20,000,000 rows (30,000,000" in said
    assert "most_rows" in said
    assert peak < 500_000


@pytest.mark.parametrize("name", ["p.csv", "p.parquet", "p.feather"])
def test_the_most_rows_can_be_chosen(tmp_path: Path, name: str) -> None:
    frame = pd.concat([FRAME] * 50, ignore_index=True)
    getattr(frame, {"p.csv": "to_csv", "p.parquet": "to_parquet", "p.feather": "to_feather"}[name])(
        tmp_path / name, **({"index": False} if name == "p.csv" else {})
    )
    assert read_pitches(tmp_path / name, most_rows=100).report.rows_read == 100
    with pytest.raises(ReadingError, match="more than 99 rows"):
        read_pitches(tmp_path / name, most_rows=99)


def _not_text() -> pa.Array:
    return pa.Array.from_buffers(pa.string(), 2, pa.array([b"A\xff", b"B"], pa.binary()).buffers())


@pytest.mark.parametrize("dictionary", [True, False])
def test_text_in_parquet_that_is_no_text(tmp_path: Path, dictionary: bool) -> None:
    table = pa.table({"hitter": _not_text(), "outcome": ["ball", "foul"]})
    pq.write_table(table, tmp_path / "p.parquet", use_dictionary=dictionary)
    with pytest.raises(ReadingError, match=r"'hitter'.*not UTF-8.*0xff"):
        read_pitches(tmp_path / "p.parquet")


@pytest.mark.parametrize("kind", [pa.date32(), pa.date64(), pa.timestamp("us"), pa.time64("ns")])
@pytest.mark.parametrize("sign", [1, -1])
def test_days_beyond_every_calendar_are_no_dates(tmp_path: Path, kind: pa.DataType, sign: int) -> None:
    number = pa.array([sign * (2**31 - 1 if kind == pa.date32() else 2**55 + 1), 0])
    days = number.cast(pa.int32() if kind == pa.date32() else pa.int64()).view(kind)
    pq.write_table(
        pa.table({"hitter": ["Ada", "Bea"], "outcome": ["ball", "oops"], "date": days, "x": days}),
        tmp_path / "p.parquet",
    )
    reading = read_pitches(tmp_path / "p.parquet", {"keep": ["x"]})
    assert reading.report.rows_kept == 1
    assert reading.table["date"].isna().all()
    assert "date: " in str(reading.report.reasons)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (pickle.dumps(FRAME), "a Python pickle"),
        (b"\xff\xff\xff\xff\x10\x00\x00\x00", "an Arrow stream"),
        (b"BZh91AY", "compressed (bzip2)"),
        (b"\x28\xb5\x2f\xfd\x04", "compressed (zstd)"),
        (b"SQLite format 3\x00", "an SQLite database"),
        (b"%PDF-1.7", "a PDF document"),
        (b"\n <!DOCTYPE html><html>", "a web page"),
        (b'[{"hitter": "Ada"}]', "JSON"),
        (b"\x89PNG\r\n", "a picture (PNG)"),
        (b"\x93NUMPY\x01", "a NumPy array"),
    ],
)
@pytest.mark.parametrize("name", ["p.csv", "p.parquet", "p.arrow"])
def test_other_kinds_of_files_are_called_by_their_names(
    tmp_path: Path, data: bytes, words: str, name: str
) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(ReadingError, match=r"Accepted: \.csv") as error:
        read_pitches(tmp_path / name)
    assert words in str(error.value)


def test_connections_reach_no_other_file_and_load_nothing(tmp_path: Path) -> None:
    FRAME.to_csv(tmp_path / "other.csv", index=False)
    write_checked(FRAME, tmp_path / "t.parquet")
    opened = open_checked(tmp_path / "t.parquet")
    assert opened.aggregate("count(*)").fetchall() == [(2,)]
    asked = f"(SELECT count(*) FROM read_csv('{tmp_path / 'other.csv'}'))"
    with pytest.raises(duckdb.Error, match="disabled"):
        opened.project(asked).fetchall()
    connection = own_connection()
    with pytest.raises(duckdb.Error, match="disabled"):
        connection.sql(f"FROM read_csv('{tmp_path / 'other.csv'}')").fetchall()
    for setting in ("autoinstall_known_extensions", "autoload_known_extensions", "enable_external_access"):
        assert connection.sql(f"SELECT current_setting('{setting}')").fetchall() == [(False,)]


def _saved(folder: Path, rows: int = 400) -> Path:
    rng = np.random.default_rng(1)
    frame = pd.DataFrame(
        {
            "hitter": rng.choice(["Ada", "Bea", "Cyd"], rows),
            "outcome": rng.choice(["ball", "foul", "whiff", "in play"], rows),
            "exit_mph": rng.uniform(60, 110, rows).round(1),
            "bunt": rng.choice([True, False, None], rows),
        }
    )
    return write_checked(frame, folder / "saved.parquet")


@pytest.mark.slow
def test_single_bits_of_a_saved_table_are_watched_where_it_is_opened(tmp_path: Path) -> None:
    path = _saved(tmp_path, 60)
    whole = path.read_bytes()
    hitlab.tally(path)
    damaged = tmp_path / "damaged.parquet"
    for bit in range(0, 8 * len(whole), 41):
        data = bytearray(whole)
        data[bit // 8] ^= 1 << bit % 8
        damaged.write_bytes(data)
        with pytest.raises(ReadingError):
            open_checked(damaged)


@pytest.mark.slow
def test_every_single_bit_of_a_saved_table_is_watched(tmp_path: Path) -> None:
    data = bytearray(_saved(tmp_path, 60).read_bytes())
    assert verify(io.BytesIO(data), "whole")
    unseen = []
    for bit in range(8 * len(data)):
        data[bit // 8] ^= 1 << bit % 8
        try:
            if verify(io.BytesIO(data), "damaged"):  # else there is no checksum, and it is not opened
                unseen.append(bit)
        except ReadingError:
            pass
        data[bit // 8] ^= 1 << bit % 8
    assert not unseen


def test_a_changed_column_is_named(tmp_path: Path) -> None:
    path = _saved(tmp_path)
    column = pq.read_metadata(path).row_group(0).column(pq.read_schema(path).names.index("exit_mph"))
    data = bytearray(path.read_bytes())
    data[column.data_page_offset + 30] ^= 16
    path.write_bytes(data)
    with pytest.raises(ReadingError, match="the column exit_mph in row group 1 has changed"):
        hitlab.tally(path)


@pytest.mark.parametrize("cut", [1, 5, 100, 0.5])
def test_cut_and_lengthened_tables_are_refused(tmp_path: Path, cut: float) -> None:
    path = _saved(tmp_path)
    whole = path.read_bytes()
    many = int(cut * len(whole)) if cut < 1 else int(cut)
    for data in (whole[:-many], whole[many:], whole + whole[-many:], whole[:many] + whole):
        path.write_bytes(data)
        with pytest.raises(ReadingError):
            hitlab.tally(path)


def test_a_table_that_is_gone_or_another_one_is_not_counted(tmp_path: Path) -> None:
    path = _saved(tmp_path)
    opened = open_checked(path)
    part = opened.filter("hitter = 'Ada'")
    assert hitlab.tally(part).data["pitches"].sum() > 0
    other = write_checked(FRAME, tmp_path / "other.parquet")
    shutil.copy(path, tmp_path / "copy.parquet")
    os.replace(other, path)
    for one in (opened, part):
        with pytest.raises(ReadingError, match="was replaced or changed after it was opened"):
            hitlab.tally(one)
    path.unlink()
    for one in (opened, part):
        with pytest.raises(ReadingError, match="was deleted or moved"):
            hitlab.tally(one)
    shutil.copy(tmp_path / "copy.parquet", path)
    assert hitlab.tally(open_checked(path)).data["pitches"].sum() == 400


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda table: table, "no checksum"),
        (lambda table: table.drop_columns(["hitter"]), "no column hitter"),
        (lambda table: table.set_column(2, "exit_mph", pa.array(["x"] * 400)), "exit_mph holds string"),
        (lambda table: table.set_column(3, "bunt", pa.array([1] * 400)), "bunt holds int64"),
        (lambda table: table.append_column("hitter", table["hitter"]), "two columns hitter"),
    ],
)
def test_a_forged_mark_is_no_mark(tmp_path: Path, change: Any, words: str) -> None:
    path = _saved(tmp_path)
    forged = change(pq.read_table(path))
    pq.write_table(forged, path)
    assert is_checked(path)
    if words != "no checksum":
        with pytest.raises(ReadingError, match="no checksum"):
            open_checked(path)
        with path.open("r+b") as file:
            seal(file)
    with pytest.raises(ReadingError, match=words):
        open_checked(path)


@pytest.mark.slow
def test_damaged_pages_of_a_trusted_file_are_an_error_not_a_traceback(tmp_path: Path) -> None:
    path = tmp_path / "plain.parquet"
    pq.write_table(pq.read_table(_saved(tmp_path, 5000)), path)
    whole = path.read_bytes()
    rng = np.random.default_rng(2)
    refused = 0
    for _ in range(40):
        data = bytearray(whole)
        for place in rng.integers(4, len(data) // 2, 200):
            data[place] = rng.integers(256)
        path.write_bytes(data)
        try:
            hitlab.tally(path, trust=True)
        except ReadingError:
            refused += 1
    assert refused > 0


def test_other_readers_see_the_table_as_before(tmp_path: Path) -> None:
    path = _saved(tmp_path)
    table = pq.read_table(path)
    assert duckdb.sql(f"SELECT count(*) FROM read_parquet('{path}')").fetchall() == [(400,)]
    assert pd.read_parquet(path)["hitter"].tolist() == table["hitter"].to_pylist()
    assert read_pitches(path).report.rows_kept == 400
