"""Every line of a text file is accounted for: read, set aside, blank, a heading or above it."""

from __future__ import annotations

import io
import itertools
import subprocess
import sys
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.reading import Reading, read_pitches
from tests.test_reading_safely import PEAK

HEAD = "game,plate_appearance,pitch,hitter,outcome,speed_mph,bunt,note"
OUTCOMES = itertools.cycle(["ball", "foul", "whiff", "in play", "called strike"])


def _rows(many: int) -> list[str]:
    return [
        f"G{i // 250},{i % 250 // 5 + 1},{i % 5 + 1},Ada Frusk,{next(OUTCOMES)},{80 + i % 15}.5,,"
        for i in range(many)
    ]


def _file(folder: Path, lines: list[str] | bytes, name: str = "pitches.csv") -> Path:
    path = folder / name
    path.write_bytes(lines if isinstance(lines, bytes) else ("\n".join(lines) + "\n").encode())
    return path


def _adds_up(reading: Reading, path: Path) -> None:
    lines = reading.report.lines
    assert lines is not None
    data = path.read_bytes()
    in_file = data.count(b"\n") + (not data.endswith(b"\n"))
    assert lines.in_file == in_file
    assert lines.above + lines.header + lines.rows + lines.set_aside + lines.blank == in_file
    assert reading.report.rows_kept + reading.report.rows_set_aside == reading.report.rows_read


def test_the_report_says_where_every_line_went(tmp_path: Path) -> None:
    rows = _rows(20)
    rows[3] += ",x"
    rows.insert(8, "")
    path = _file(tmp_path, [HEAD, *rows])
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert "22 lines in the file: 1 of the header, 19 of rows read, 1 set aside as no row, 1 blank" in str(
        reading
    )
    table = reading.report.table()
    lines = table[table["topic"] == "lines"].set_index("item")["count"].to_dict()
    assert lines == {"in the file": 22, "header": 1, "rows read": 19, "set aside": 1, "blank": 1}


@pytest.mark.parametrize("place", [0, 1, 700, 1998, 1999])
@pytest.mark.parametrize("column", [0, 3, 7])
def test_a_stray_quote_costs_the_row_it_stands_in_and_no_other(
    tmp_path: Path, place: int, column: int
) -> None:
    rows = _rows(2000)
    cells = rows[place].split(",")
    cells[column] = '"' + cells[column]
    rows[place] = ",".join(cells)
    path = _file(tmp_path, [HEAD, *rows])
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert reading.report.rows_kept >= 1999
    assert reading.report.rows_read == 2000
    aside = reading.set_aside
    assert aside["line"].tolist() == [place + 2]
    assert "quotation mark" in aside["reason"][0]
    assert aside["value"][0] == rows[place]


def test_two_stray_quotes_in_one_column_swallow_nothing(tmp_path: Path) -> None:
    rows = _rows(6045)
    for place in (300, 310):
        cells = rows[place].split(",")
        cells[7] = '"' if place == 300 else 'x"'
        rows[place] = ",".join(cells)
    path = _file(tmp_path, [HEAD, *rows])
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert reading.report.rows_read == 6045
    assert reading.report.rows_kept == 6044
    assert reading.set_aside["line"].tolist() == [302]


def test_quoted_files_keep_their_rows_around_a_quote_that_is_lost(tmp_path: Path) -> None:
    rows = [",".join(f'"{cell}"' for cell in row.split(",")) for row in _rows(500)]
    rows[40] = rows[40].replace('"Ada Frusk"', '"Ada Frusk')
    path = _file(tmp_path, [HEAD, *rows])
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert reading.report.rows_kept == 499
    assert reading.set_aside["line"].tolist() == [42]


def test_a_note_with_line_breaks_is_a_cell_like_others(tmp_path: Path) -> None:
    rows = _rows(50)
    rows[10] += '"late, and\n\nunder it, he said\n""again"""'
    path = _file(tmp_path, [HEAD, *rows])
    reading = read_pitches(path, {"keep": ["note"]})
    _adds_up(reading, path)
    assert reading.report.rows_kept == 50
    assert reading.report.lines.rows == 53
    assert reading.table["note"][10] == 'late, and\n\nunder it, he said\n"again"'
    # The lines below are named as they stand in the file.
    rows[30] = rows[30].replace("8", "x8", 1).replace("G", "G") + ",,,"
    reading = read_pitches(_file(tmp_path, [HEAD, *rows]))
    assert reading.set_aside["line"].tolist() == [35]


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n"])
def test_line_ends_of_all_kinds_are_counted_alike(tmp_path: Path, end: str) -> None:
    rows = _rows(30)
    rows[4] += ",too,many"
    path = _file(tmp_path, end.join([HEAD, *rows]).encode())
    reading = read_pitches(path)
    assert reading.report.rows_kept == 29
    assert reading.set_aside["line"].tolist() == [6]
    assert reading.report.lines.in_file == 31


def test_bytes_that_are_no_text_cost_their_lines_and_no_other(tmp_path: Path) -> None:
    rows = [row.encode() for row in _rows(120)]
    rows[5] = rows[5].replace(b"Ada Frusk", "Zoé".encode())
    rows[50] = rows[50].replace(b"Ada Frusk", "Zoé".encode("cp1252"))
    rows[60] = rows[60].replace(b"Ada", b"A\x00da")
    path = _file(tmp_path, b"\n".join([HEAD.encode(), *rows]))
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert reading.report.rows_kept == 118
    assert set(reading.table["hitter"]) == {"Ada Frusk", "Zoé"}
    assert reading.set_aside["line"].tolist() == [52, 62]
    assert "not utf-8" in reading.set_aside["reason"][0]
    assert "NUL" in reading.set_aside["reason"][1]
    assert "cp1252" not in str(reading)


def test_one_bad_byte_in_a_file_of_plain_letters_costs_one_line(tmp_path: Path) -> None:
    rows = [row.encode() for row in _rows(120)]
    rows[50] = rows[50].replace(b"Ada", b"\xe9da")
    reading = read_pitches(_file(tmp_path, b"\n".join([HEAD.encode(), *rows])))
    assert reading.report.rows_kept == 119
    assert "cp1252" not in str(reading)


def test_a_file_in_another_encoding_throughout_is_refused_with_its_name(tmp_path: Path) -> None:
    rows = [row.replace("Ada Frusk", "Zoé").encode("cp1252") for row in _rows(120)]
    path = _file(tmp_path, b"\n".join([HEAD.encode(), *rows]))
    with pytest.raises(ReadingError, match=r'line 2.*0xe9.*\[file\] encoding = "cp1252"'):
        read_pitches(path)
    reading = read_pitches(path, {"file": {"encoding": "cp1252"}})
    assert set(reading.table["hitter"]) == {"Zoé"}


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-8-sig", "latin-1", "utf-32"])
def test_other_encodings_are_read_in_blocks_as_well(tmp_path: Path, encoding: str) -> None:
    text = "\r\n".join([HEAD, *(row.replace("Ada Frusk", "Zoé") for row in _rows(3000))])
    reading = read_pitches(_file(tmp_path, text.encode(encoding)), {"file": {"encoding": encoding}})
    assert reading.report.rows_kept == 3000
    assert set(reading.table["hitter"]) == {"Zoé"}


@pytest.mark.slow
def test_a_cell_that_never_ends_is_refused_with_its_line_and_little_memory(tmp_path: Path) -> None:
    path = tmp_path / "endless.csv"
    with path.open("wb") as file:
        file.write(b'hitter,outcome\nA,ball\n"B,foul\n')
        for _ in range(300):
            file.write(b"C,whiff\n" * (1 << 17))
    code = (
        "import sys\nfrom hitlab.pitches.reading import read_pitches\n"
        "try:\n    read_pitches(sys.argv[1])\n"
        "except Exception as error:\n    print(type(error).__name__, error)\n"
        f"{PEAK}"
    )
    run = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True)
    said, peak = run.stdout.strip().splitlines()[-2:]
    assert said.startswith("ReadingError")
    assert "line 3" in said
    assert int(peak) < 500_000  # kilobytes


def test_the_largest_cell_can_be_chosen(tmp_path: Path) -> None:
    rows = _rows(40)
    rows[7] += '"' + "late again\n" * 300 + '"'
    path = _file(tmp_path, [HEAD, *rows])
    assert read_pitches(path).report.rows_kept == 40
    with pytest.raises(ReadingError, match=r"line 9.*1,000 bytes.*largest_cell"):
        read_pitches(path, largest_cell=1000)
    long = _file(tmp_path, [HEAD, *_rows(3), "G,1,1," + "x" * 5000], "long.csv")
    with pytest.raises(ReadingError, match=r"line 5.*1,000 bytes"):
        read_pitches(long, largest_cell=1000)


def test_titles_above_the_header_are_passed_over_and_said(tmp_path: Path) -> None:
    path = _file(tmp_path, ["Dunmarrow Larks, charted by hand", "", "May 2031,,,,", HEAD, *_rows(10)])
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert reading.report.rows_kept == 10
    assert reading.report.lines.above == 2
    assert reading.report.lines.blank == 1
    said = "2 lines above the header were passed over: 'Dunmarrow Larks, charted by hand', 'May 2031,,,,'"
    assert said in str(reading)
    mapped = _file(tmp_path, ["Title;x", "Who;What", "A;ball"], "mapped.csv")
    reading = read_pitches(mapped, {"columns": {"Who": "hitter", "What": "outcome"}})
    assert reading.table["hitter"].tolist() == ["A"]


def test_a_title_above_a_header_that_is_not_known_is_refused_with_the_mend(tmp_path: Path) -> None:
    titled = ["Dunmarrow Larks", "Who,What,Where", "A,b,c", "B,b,c"]
    padded = ["Dunmarrow Larks;;", "Who;What;Where", "A;b;c", "B;b;c"]
    for lines in (titled, padded):
        with pytest.raises(ReadingError, match=r"\[file\] header_line = 2"):
            read_pitches(_file(tmp_path, lines))


def test_lines_of_blanks_are_blank(tmp_path: Path) -> None:
    path = _file(tmp_path, [HEAD, *_rows(3), "   ", ",,,,,,,", *_rows(1)])
    reading = read_pitches(path)
    _adds_up(reading, path)
    assert reading.report.lines.blank == 2
    assert reading.report.rows_set_aside == 1  # the repeated pitch


def test_a_file_of_many_blocks_reads_as_a_file_of_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from hitlab.pitches import blocks

    rng = np.random.default_rng(5)
    rows = _rows(4000)
    for place in rng.choice(4000, 40, replace=False):
        rows[place] += rng.choice(['"x\ny, z\n"', ",x", '"', 'u"', "é", '"é""'])
    path = _file(tmp_path, [HEAD, *rows])
    whole = read_pitches(path, {"keep": ["note"]})
    _adds_up(whole, path)
    for size in (997, 4096, 60_001):
        for name in ("FIRST", "BLOCK"):
            monkeypatch.setattr(blocks, name, size)
        parts = read_pitches(path, {"keep": ["note"]})
        pd.testing.assert_frame_equal(parts.table, whole.table)
        pd.testing.assert_frame_equal(parts.set_aside, whole.set_aside)
        assert parts.report.lines == whole.report.lines


@pytest.mark.slow
def test_standard_input_is_read_once_and_only_where_asked(tmp_path: Path) -> None:
    text = "\n".join([HEAD, *_rows(300)])
    code = "from hitlab.pitches.reading import read_pitches\nprint(read_pitches('-').report.rows_kept)"
    run = subprocess.run([sys.executable, "-c", code], input=text, capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "300"
    code = (
        "from hitlab.pitches.reading import read_pitches\n"
        "try:\n    read_pitches('/dev/stdin')\n"
        "except Exception as error:\n    print(type(error).__name__, error)"
    )
    run = subprocess.run([sys.executable, "-c", code], input=text, capture_output=True, text=True, check=True)
    if Path("/dev/stdin").exists():
        assert run.stdout.startswith("ReadingError")
        assert "'-'" in run.stdout


def test_parquet_comes_through_standard_input_too(monkeypatch: pytest.MonkeyPatch) -> None:
    data = io.BytesIO()
    pd.DataFrame({"hitter": ["A"], "outcome": ["ball"]}).to_parquet(data)
    data.seek(0)
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(data))
    assert read_pitches("-").report.rows_kept == 1


def test_a_file_that_is_said_to_be_ascii_has_no_other_signs(tmp_path):
    path = tmp_path / "week.csv"
    rows = ["hitter,outcome", *["Ada Frusk,ball"] * 30, "Íñigo Velm,whiff"]
    path.write_text("\n".join(rows), encoding="utf-8")
    assert read_pitches(path).table["hitter"].iloc[-1] == "Íñigo Velm"
    reading = read_pitches(path, {"file": {"encoding": "ascii"}})
    assert reading.set_aside["reason"].tolist() == ["a line that is not ascii"]
