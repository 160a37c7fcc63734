"""Files that are not what they should be: each gives one clear error or one clear report."""

from __future__ import annotations

import codecs
import itertools
import tempfile
from pathlib import Path

import pandas as pd
import pyarrow as pa
import pyarrow.feather
import pyarrow.parquet
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab.errors import ReadingError
from hitlab.pitches.reading import read_pitches

GOOD = b"hitter,outcome\nA,ball\nB,foul\n"


def _file(folder: Path, data: bytes, name: str = "pitches.csv") -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", ["is empty (0 bytes)"]),
        (b" \n\n", ["is empty"]),
        (b"\xef\xbb\xbf", ["is empty"]),
        (b"hitter,outcome\n", ["a header (hitter, outcome) and no rows"]),
        (b"hitter,outcome\n,\n\n", ["only blank rows"]),
        (b"hitter,outcome\nA,ball,\nB,foul,\n", ["Line 2 has 3, the header 2"]),
        (b"hitter,outcome\nAd\xe9,ball\n", ["byte 18 (line 2)", "0xe9", '[file] encoding = "cp1252"']),
        (b"PK\x03\x04 and so on", ["cannot be read as a workbook", "cut short or damaged"]),
        (b"\xd0\xcf\x11\xe0 and so on", ["older kind (.xls)", "Save it as .xlsx or as CSV"]),
        (b"\x1f\x8b and so on", ["compressed"]),
        (b"PAR1 cut short", ["cannot be read as Parquet", "cut short or damaged"]),
        (b"ARROW1 cut short", ["cannot be read as Feather/Arrow"]),
        (b'hitter,outcome\n"B,foul\n', ["Line 2", "a quotation mark that is not closed"]),
        (b'hitter,"outcome\nA,ball\n', ["on line 1", "never closed"]),
        (b"\x00\x01\x02\x03\n\x00", ["no column hitter"]),
    ],
)
def test_a_bad_text_file_gives_one_clear_error(tmp_path: Path, data: bytes, words: list[str]) -> None:
    with pytest.raises(ReadingError) as error:
        read_pitches(_file(tmp_path, data))
    for word in ["pitches.csv", *words]:
        assert word in str(error.value)


@pytest.mark.parametrize(("sign", "written"), [(";", '";"'), ("\t", '"\\t"'), ("|", '"|"')])
def test_a_wrong_delimiter_names_the_right_one(tmp_path: Path, sign: str, written: str) -> None:
    path = _file(tmp_path, GOOD.replace(b",", sign.encode()))
    with pytest.raises(ReadingError) as error:
        read_pitches(path, {"file": {"delimiter": ","}})
    assert f"[file] delimiter = {written}" in str(error.value)
    # Left alone, it is found.
    reading = read_pitches(path)
    assert reading.table["outcome"].tolist() == ["ball", "foul"]
    assert any("Cells are separated by" in sentence for sentence in reading.report.assumed)


def test_missing_files_and_folders_name_what_is_near(tmp_path: Path) -> None:
    _file(tmp_path, GOOD, "april_games.csv")
    with pytest.raises(ReadingError, match=r"Nearest in that folder: april_games\.csv"):
        read_pitches(tmp_path / "april_game.csv")
    assert len(read_pitches(tmp_path).table) == 2  # a folder is read as what is in it
    (tmp_path / "empty").mkdir()
    with pytest.raises(ReadingError, match=r"empty is a folder without a table in it"):
        read_pitches(tmp_path / "empty")
    with pytest.raises(ReadingError, match=r"the folder .* does not exist"):
        read_pitches(tmp_path / "nowhere" / "x.csv")
    with pytest.raises(ReadingError, match="cannot be opened"):
        read_pitches("a\0b.csv")


def test_encodings(tmp_path: Path) -> None:
    text = "hitter,outcome\nZoé,ball\n"
    for encoding in ("utf-8", "utf-8-sig", "utf-16", "utf-32"):
        table = read_pitches(_file(tmp_path, text.encode(encoding))).table
        assert table["hitter"].tolist() == ["Zoé"]
    for mark, encoding in ((codecs.BOM_UTF32_BE, "utf-32-be"), (codecs.BOM_UTF16_BE, "utf-16-be")):
        table = read_pitches(_file(tmp_path, mark + text.encode(encoding))).table
        assert table["hitter"].tolist() == ["Zoé"]
    path = _file(tmp_path, text.encode("cp1252"))
    assert read_pitches(path, {"file": {"encoding": "cp1252"}}).table["hitter"].tolist() == ["Zoé"]
    with pytest.raises(ReadingError, match="cannot be read with the encoding 'hex'"):
        read_pitches(path, {"file": {"encoding": "hex"}})


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_ragged_lines_are_set_aside_with_their_line(tmp_path: Path, end: str) -> None:
    lines = [
        "hitter,outcome,clip",
        "A,ball,",
        "B,foul",
        "",
        'C,ball,"a',
        'b"',
        "D,foul,x,y,z",
        "E,ball,",
        "F,bad,",
    ]
    reading = read_pitches(_file(tmp_path, end.join(lines).encode()))
    assert reading.table["hitter"].tolist() == ["A", "C", "E"]
    aside = reading.set_aside
    assert aside["line"].tolist() == [3, 7, 9]
    assert aside["row"].tolist() == [2, 5, 7]
    assert aside["reason"].tolist()[:2] == ["a row with too few cells", "a row with too many cells"]
    assert aside["value"].tolist()[1] == "D,foul,x,y,z"
    assert aside["source: hitter"].tolist() == ["B", "D", "F"]
    assert reading.report.rows_read == 6
    assert reading.report.rows_kept + reading.report.rows_set_aside == reading.report.rows_read


def test_leading_blank_lines_do_not_shift_the_lines(tmp_path: Path) -> None:
    reading = read_pitches(_file(tmp_path, b"\n\nhitter,outcome\nA,ball\nB,oops\n"))
    assert reading.set_aside["line"].tolist() == [5]


def test_a_file_of_three_hundred_columns_uses_the_mapped_ones(tmp_path: Path) -> None:
    names = ["hitter", "outcome", *(f"extra {n}" for n in range(298))]
    rows = [",".join(names), ",".join(["A", "ball", *["1"] * 298]), ",".join(["B", "oops", *["2"] * 298])]
    reading = read_pitches(_file(tmp_path, "\n".join(rows).encode()))
    assert list(reading.table) == ["hitter", "outcome"]
    assert len(reading.report.unused) == 298
    assert reading.set_aside["source: extra 297"].tolist() == ["2"]


def test_repeated_names_of_unused_columns_do_no_harm(tmp_path: Path) -> None:
    reading = read_pitches(_file(tmp_path, b"hitter,x,x,,outcome\nA,1,2,3,ball\nB,1,2,3,oops\n"))
    assert reading.report.unused == ("x", "x", "")
    assert reading.set_aside.shape[1] == 8 + 5


def test_parquet_and_feather_are_read_by_their_content(tmp_path: Path) -> None:
    table = pa.table({"hitter": ["A", "B"], "outcome": pa.array(["ball", "foul"]).dictionary_encode()})
    pyarrow.parquet.write_table(table, tmp_path / "p.parquet")
    pyarrow.feather.write_feather(table, tmp_path / "p.feather")
    (tmp_path / "p.dat").write_bytes((tmp_path / "p.parquet").read_bytes())
    for name in ("p.parquet", "p.feather", "p.dat"):
        assert read_pitches(tmp_path / name).table["outcome"].tolist() == ["ball", "foul"]
    whole = (tmp_path / "p.parquet").read_bytes()
    with pytest.raises(ReadingError, match="cannot be read as Parquet"):
        read_pitches(_file(tmp_path, whole[: len(whole) // 2], "half.parquet"))
    with pytest.raises(ReadingError, match="cannot be read as Parquet"):
        read_pitches(_file(tmp_path, GOOD, "text.parquet"))


def test_a_header_line_beyond_the_end_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(ReadingError, match="header_line = 9"):
        read_pitches(_file(tmp_path, GOOD), {"file": {"header_line": 9}})


_PIECES = [
    b"hitter",
    b"outcome",
    b"ball",
    b"A",
    b",",
    b";",
    b"\n",
    b"\r\n",
    b'"',
    b"\xff",
    b"\x00",
    b"\t",
    b"=1",
]
_BYTES = st.one_of(
    st.binary(max_size=60),
    st.lists(st.sampled_from(_PIECES), max_size=30).map(b"".join),
    st.lists(st.sampled_from(_PIECES), max_size=20).map(lambda parts: GOOD + b"".join(parts)),
)


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(data=_BYTES)
def test_whatever_the_bytes_only_a_reading_error_comes_out(data: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = _file(Path(folder), data)
        try:
            reading = read_pitches(path)
        except ReadingError as error:
            message = str(error)
        else:
            message = str(reading)
            report = reading.report
            assert report.rows_kept == len(reading.table) > 0
            assert report.rows_kept + report.rows_set_aside == report.rows_read
        assert "pitches.csv" in message


_CELL = st.text(st.characters(exclude_characters='"\r\n', exclude_categories=("Cs",)), max_size=8)


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(cells=st.lists(st.tuples(_CELL, _CELL, _CELL), min_size=1, max_size=6))
def test_every_row_is_kept_or_set_aside_with_its_own_cells(cells: list[tuple[str, str, str]]) -> None:
    frame = pd.DataFrame(cells, columns=["hitter", "outcome", "speed_mph"])
    frame.loc[len(frame)] = ["A", "ball", "90"]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "pitches.csv"
        frame.to_csv(path, index=False, quoting=1)
        reading = read_pitches(path)
    aside = reading.set_aside[reading.set_aside["action"] == "row set aside"]
    assert len(reading.table) + aside["row"].nunique() == reading.report.rows_read
    for row, column in itertools.product(aside["row"], ("hitter", "outcome", "speed_mph")):
        shown = aside.loc[aside["row"] == row, f"source: {column}"]
        assert set(shown) == {frame[column][row - 1]}
