"""Workbooks, several files and folders: every row is where it was, and what is no table is said."""

from __future__ import annotations

import datetime as dt
import io
import tempfile
import zipfile
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import numpy as np
import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hitlab.cli.commands import run
from hitlab.errors import MissingPackageError, ReadingError
from hitlab.pitches import unpacking
from hitlab.pitches.reading import read_pitches
from hitlab.results import save_table
from hitlab.showing import shown_name
from tests.clipboards import season, workbook
from tests.needs import package

xlsxwriter: Any = package("xlsxwriter")
package("python_calamine")

GOOD = pd.DataFrame({"hitter": ["Ada Frusk", "Bea Plome"], "outcome": ["ball", "foul"]})


def _book(path: Path, fill: Any) -> Path:
    with xlsxwriter.Workbook(path) as book:
        fill(book)
    return path


def _rewritten(path: Path, change: Any) -> Path:
    """Write the members of a workbook anew, each as ``change`` gives it back."""
    with zipfile.ZipFile(path) as old:
        members = {name: old.read(name) for name in old.namelist()}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name, content in members.items():
            new.writestr(name, change(name, content))
    return path


def ods(path: Path, sheets: dict[str, list[list[str]]], rows_xml: str = "") -> Path:
    """Write an .ods of texts; ``rows_xml`` comes behind the rows of each sheet."""
    head = (
        '<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
        'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
        'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>'
    )
    body = ""
    for name, rows in sheets.items():
        body += f'<table:table table:name="{escape(name)}">'
        for row in rows:
            cells = "".join(
                "<table:table-cell "
                f'office:value-type="string"><text:p>{escape(cell)}</text:p></table:table-cell>'
                if cell
                else "<table:table-cell/>"
                for cell in row
            )
            body += f"<table:table-row>{cells}</table:table-row>"
        body += f"{rows_xml}</table:table>"
    content = f"{head}{body}</office:spreadsheet></office:body></office:document-content>"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", content)
        archive.writestr("META-INF/manifest.xml", "<manifest/>")
    return path


def test_sheets_are_read_together_and_every_row_says_where_it_is(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        one = book.add_worksheet("Friday")
        one.write_string(0, 0, "Lanterns against Larks")
        one.write_row(2, 1, ["hitter", "outcome"])
        one.write_row(3, 1, ["Ada", "ball"])
        one.write_row(5, 1, ["Bea", "blip"])
        one.write_row(6, 1, ["hitter", "outcome"])  # the names again, on a second page
        one.write_row(7, 1, ["Cy", "foul"])
        other = book.add_worksheet("Sunday")
        other.write_row(0, 0, ["outcome", "Hitter", "speed_mph"])
        other.write_row(1, 0, ["whiff", 12, 80.5])
        legend = book.add_worksheet("Legend")
        legend.write_row(0, 0, ["sign", "meaning"])
        legend.write_row(1, 0, ["b", "a ball"])
        book.add_worksheet("Nothing")
        hidden = book.add_worksheet("Old")
        hidden.hide()
        hidden.write_row(0, 0, ["hitter", "outcome"])
        hidden.write_row(1, 0, ["Dee", "ball"])

    path = _book(tmp_path / "week.xlsx", fill)
    reading = read_pitches(path)
    assert reading.table["hitter"].tolist() == ["Ada", "Cy", "12"]
    assert reading.table["outcome"].tolist() == ["ball", "foul", "whiff"]
    assert reading.table["speed_mph"].tolist()[2] == 80.5
    aside = reading.set_aside.iloc[0]
    assert (aside["file"], aside["sheet"], aside["row"], aside["value"]) == ("week.xlsx", "Friday", 6, "blip")
    parts = reading.report.parts.set_index("sheet")
    assert parts.loc[["Friday", "Sunday"], ["read", "kept", "set_aside"]].to_numpy().tolist() == [
        [3, 2, 1],
        [1, 1, 0],
    ]
    assert "no column of it is hitter or outcome" in parts.loc["Legend", "note"]
    assert "hidden (1 row)" in parts.loc["Old", "note"]
    alerts = " ".join(reading.report.alerts)
    assert "Legend" in alerts
    assert "Old" in alerts
    assert "Nothing" not in alerts
    said = " ".join(reading.report.assumed)
    assert "Friday: 1 row above the names of the columns passed over: 'Lanterns against Larks'" in said
    assert "the names of the columns stand again in 1 row(s), the first of them row 7" in said
    assert "Friday: 1 blank row(s) were passed over" in said
    assert "week.xlsx, Friday, row 6" in str(reading)
    silent = read_pitches(path, {"file": {"skip": ["legend", "Old"]}})
    assert not [one for one in silent.report.alerts if "left out" in one]


def test_notes_beside_the_pitches_are_one_line(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        sheet = book.add_worksheet("Saturday")
        sheet.write_row(0, 0, ["hitter", "outcome"])
        sheet.write_row(1, 0, ["Ada", "ball"])
        for title, rows in {
            "Notes": [["Weather", "windy"], ["Umpire", "strict low"]],
            "Line-up": [["No", "hitter"], [7, "Ada"]],
            "Totals": [["hitter", "AB"], ["Ada", 4]],
        }.items():
            other = book.add_worksheet(title)
            for row, cells in enumerate(rows):
                other.write_row(row, 0, cells)

    reading = read_pitches(_book(tmp_path / "week.xlsx", fill))
    said = [one for one in reading.report.alerts if "left out" in one]
    assert said == [
        "week.xlsx, Notes (no hitter or outcome), week.xlsx, Line-up (no outcome) and week.xlsx, Totals (no "
        "outcome) were left out whole. If they hold no pitches, write in the mapping, under [file]: skip = "
        '["Notes", "Line-up", "Totals"]'
    ]
    # Their columns stand where each sheet is named.
    assert "its columns: 'No', 'hitter'" in reading.report.parts.set_index("sheet").loc["Line-up", "note"]


def test_what_cells_hold_is_read_and_nothing_is_worked_out(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        sheet = book.add_worksheet("One")
        day = book.add_format({"num_format": "m/d"})
        sheet.write_row(0, 0, ["date", "hitter", "outcome", "speed_mph", "hard", "inning"])
        sheet.merge_range(1, 1, 3, 1, "Ada")
        for row in (1, 2, 3, 4):
            sheet.write_datetime(row, 0, dt.datetime(2031, 4, 3), day)
            sheet.write_string(row, 2, "foul")
        sheet.write_string(4, 1, "Bea")
        sheet.write_formula(1, 3, "=40+50", None, 90)
        sheet.write_formula(2, 3, "=1/0", None, "#DIV/0!")
        sheet.write_formula(3, 3, "=A1", None, "")
        sheet.write_boolean(1, 4, True)
        sheet.write_number(1, 5, 7)

    reading = read_pitches(_book(tmp_path / "one.xlsx", fill))
    assert reading.table["hitter"].tolist() == ["Ada", "Ada", "Ada", "Bea"]
    assert reading.table["speed_mph"].isna().tolist() == [False, True, True, True]
    assert pd.to_datetime(reading.table["date"]).dt.strftime("%Y-%m-%d").unique().tolist() == ["2031-04-03"]
    assert reading.table["hard"][0]
    assert reading.table["inning"][0] == 7
    # A formula that failed is said, and not taken for an empty cell.
    assert reading.set_aside[["value", "row"]].to_numpy().tolist() == [["#DIV/0!", 3]]
    said = " ".join(reading.report.assumed)
    assert "1 merged cell(s)" in said
    assert "3 cell(s) hold formulas" in said


def test_days_of_a_workbook_stand_beside_a_form_of_dates(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        sheet = book.add_worksheet("One")
        sheet.write_row(0, 0, ["date", "hitter", "outcome"])
        day = book.add_format({"num_format": "m/d"})
        for row, year in ((1, 2031), (2, 2026)):
            sheet.write_datetime(row, 0, dt.datetime(year, 4, 3), day)
        sheet.write_string(3, 0, "4/5")
        for row in (1, 2, 3):
            sheet.write_row(row, 1, ["Ada", "foul"])

    path = _book(tmp_path / "one.xlsx", fill)
    reading = read_pitches(path, {"file": {"date_format": "%m/%d"}}, year=2031)
    days = pd.to_datetime(reading.table["date"])
    assert days[0] == pd.Timestamp("2031-04-03")
    assert days[2] == pd.Timestamp("2031-04-05")
    assert reading.set_aside["reason"].tolist() == ["a date of another year than the mapping says (2031)"]


def test_dates_that_come_out_as_1900_are_refused_as_a_reading(tmp_path: Path) -> None:
    def fill(book: Any) -> None:
        sheet = book.add_worksheet("One")
        sheet.write_row(0, 0, ["date", "hitter", "outcome"])
        day = book.add_format({"num_format": "m/d"})
        for row in (1, 2):
            sheet.write_datetime(row, 0, dt.datetime(1900, 4, 3), day)
            sheet.write_row(row, 1, ["Ada", "foul"])

    with pytest.raises(ReadingError, match=r"most dates in 'date' come out before 1950"):
        read_pitches(_book(tmp_path / "one.xlsx", fill))


def test_an_ods_is_read_like_an_xlsx(tmp_path: Path) -> None:
    rows = [["hitter", "outcome"], ["Ada", "ball"], ["", ""], ["Bea", "foul"]]
    # As programs write it: a million empty rows behind.
    empty = (
        '<table:table-row table:number-rows-repeated="1048570">'
        '<table:table-cell table:number-columns-repeated="16384"/></table:table-row>'
    )
    path = ods(tmp_path / "one.ods", {"Friday": rows, "Sunday": rows}, empty)
    reading = read_pitches(path)
    assert reading.table["hitter"].tolist() == ["Ada", "Bea"] * 2
    assert reading.report.parts["sheet"].tolist() == ["Friday", "Sunday"]
    assert "Friday: 1 blank row(s) were passed over" in " ".join(reading.report.assumed)


def test_merged_cells_of_an_ods_are_filled_too(tmp_path: Path) -> None:
    rows = [["hitter", "outcome"], ["Ada", "ball"], ["", "foul"]]
    path = ods(tmp_path / "one.ods", {"Friday": rows})

    def merge(name: str, content: bytes) -> bytes:
        cell = b'<table:table-cell office:value-type="string"><text:p>Ada'
        return content.replace(cell, cell.replace(b"cell ", b'cell table:number-rows-spanned="2" '))

    assert read_pitches(_rewritten(path, merge)).table["hitter"].tolist() == ["Ada", "Ada"]


def _far_cell(name: str, content: bytes) -> bytes:
    return content.replace(
        b"</sheetData>", b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    )


def _typed(name: str, content: bytes) -> bytes:
    head, _, rest = content.partition(b"?>\n")
    return head + b'?>\n<!DOCTYPE x [<!ENTITY a "b">]>' + rest if name.endswith("sheet1.xml") else content


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (_far_cell, "cells up to row 1,048,576 and column 16,384"),
        (_typed, "XML with a document type"),
        (lambda name, content: content[:200] if name.endswith("sheet1.xml") else content, "damaged"),
        (lambda name, content: b"" if name == "xl/workbook.xml" else content, "damaged"),
    ],
)
def test_a_workbook_that_would_do_harm_gives_one_clear_error(tmp_path: Path, change: Any, words: str) -> None:
    path = workbook(tmp_path / "one.xlsx", {"One": GOOD})
    with pytest.raises(ReadingError, match=words):
        read_pitches(_rewritten(path, change))


def test_an_archive_that_unfolds_beyond_bounds_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(unpacking, "MOST_UNPACKED", 1 << 20)
    path = workbook(tmp_path / "one.xlsx", {"One": GOOD})
    bomb = b"<x>" + b" " * (1 << 21) + b"</x>"
    _rewritten(path, lambda name, content: bomb if name.endswith("styles.xml") else content)
    assert path.stat().st_size < 1 << 16
    with pytest.raises(ReadingError, match="unpacks to more than"):
        read_pitches(path)
    # A size that is not what the archive says is found as well.
    data = bytearray(path.read_bytes())
    at = data.index(b"PK\x01\x02")
    while at >= 0 and at < len(data) - 46 and data[at : at + 4] == b"PK\x01\x02":
        if int.from_bytes(data[at + 24 : at + 28], "little") > 1 << 20:
            data[at + 24 : at + 28] = (100).to_bytes(4, "little")
        at += 46 + sum(int.from_bytes(data[at + n : at + n + 2], "little") for n in (28, 30, 32))
    path.write_bytes(data)
    with pytest.raises(ReadingError, match="cut short or damaged"):
        read_pitches(path)


def test_rows_and_repeated_cells_are_bounded(tmp_path: Path) -> None:
    many = pd.DataFrame({"hitter": ["Ada"] * 60, "outcome": ["ball"] * 60})
    with pytest.raises(ReadingError, match="more than 20 rows"):
        read_pitches(workbook(tmp_path / "one.xlsx", {"One": many}), most_rows=20)
    with pytest.raises(ReadingError, match="more than 100 rows together"):
        read_pitches([workbook(tmp_path / f"{n}.xlsx", {"One": many}) for n in (1, 2)], most_rows=100)
    bomb = (
        '<table:table-row table:number-rows-repeated="1048000"><table:table-cell office:value-type="string" '
        'table:number-columns-repeated="16000"><text:p>x</text:p></table:table-cell></table:table-row>'
    )
    path = ods(tmp_path / "one.ods", {"One": [["hitter", "outcome"], ["Ada", "ball"]]}, bomb)
    with pytest.raises(ReadingError, match="together more than 20,000,000"):
        read_pitches(path)


def test_locked_older_and_other_workbooks_are_named(tmp_path: Path) -> None:
    locked = tmp_path / "locked.xlsx"
    locked.write_bytes(b"\xd0\xcf\x11\xe0" + bytes(100) + "EncryptedPackage".encode("utf-16-le") + bytes(100))
    with pytest.raises(ReadingError, match="protected by a password"):
        read_pitches(locked)
    path = ods(tmp_path / "locked.ods", {"One": [["hitter", "outcome"], ["Ada", "ball"]]})
    secret = b"<manifest><encryption-data/></manifest>"
    _rewritten(path, lambda name, content: secret if name.startswith("META") else content)
    with pytest.raises(ReadingError, match="protected by a password"):
        read_pitches(path)
    plain = tmp_path / "some.zip"
    with zipfile.ZipFile(plain, "w") as archive:
        archive.writestr("week.csv", "hitter,outcome\n")
    with pytest.raises(ReadingError, match="zip archive and no workbook"):
        read_pitches(plain)
    whole = workbook(tmp_path / "whole.xlsx", {"One": GOOD}).read_bytes()
    for share in (0.2, 0.5, 0.9, 0.99):
        cut = tmp_path / "cut.xlsx"
        cut.write_bytes(whole[: int(len(whole) * share)])
        with pytest.raises(ReadingError, match="cut short or damaged"):
            read_pitches(cut)


def test_macros_are_said_and_not_run(tmp_path: Path) -> None:
    path = workbook(tmp_path / "one.xlsm", {"One": GOOD})
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/vbaProject.bin", b"\xd0\xcf\x11\xe0 anything")
    reading = read_pitches(path)
    assert len(reading.table) == 2
    assert "one.xlsm holds macros; they were not run." in reading.report.assumed


@given(
    st.integers(0, 10_000), st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=6)
)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_damaged_workbook_is_read_or_refused_and_never_breaks(
    tmp_path: Path, cut: int, changes: list[tuple[float, int]]
) -> None:
    data = bytearray(workbook(tmp_path / "whole.xlsx", {"One": GOOD}).read_bytes())
    for share, value in changes:
        data[int(share * (len(data) - 1))] = value
    path = tmp_path / "damaged.xlsx"
    path.write_bytes(bytes(data[: len(data) - cut % 50]))
    told = "damaged.xlsx"
    try:
        outcomes = set(read_pitches(path).table["outcome"])
    except ReadingError as error:
        told, outcomes = str(error), set()
    assert "damaged.xlsx" in told
    assert outcomes <= {"ball", "foul"}


def test_without_the_package_the_extra_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = workbook(tmp_path / "one.xlsx", {"One": GOOD})
    monkeypatch.setitem(__import__("sys").modules, "python_calamine", None)
    with pytest.raises(MissingPackageError, match=r"extra spreadsheet.*\[spreadsheet\]"):
        read_pitches(path)


def test_a_season_cut_into_ten_files_is_the_whole_season(tmp_path: Path) -> None:
    whole = season(600).drop(columns="scheduled_innings")
    names = []
    for number, places in enumerate(np.array_split(np.arange(len(whole)), 10), 1):
        piece = whole.iloc[places]
        path = tmp_path / f"week-{number}.{('csv', 'xlsx', 'parquet')[number % 3]}"
        if path.suffix == ".parquet":
            piece.to_parquet(path)
        else:
            save_table(piece, path)
        names.append(path.name)
    one = tmp_path / "whole"
    one.mkdir()
    whole.to_csv(one / "all.csv", index=False)
    read, expected = read_pitches(tmp_path), read_pitches(one / "all.csv")
    pd.testing.assert_frame_equal(read.table, expected.table)
    assert read.report.parts["file"].tolist()[:10] == names  # week-2 before week-10
    assert (
        read.report.parts["note"].tolist()[10]
        == "left out whole: it is a folder in the folder, and is not looked into"
    )
    assert not read.report.alerts
    listed = read_pitches([tmp_path / name for name in names])
    pd.testing.assert_frame_equal(listed.table, expected.table)


def test_a_folder_is_read_in_order_and_nothing_twice(tmp_path: Path) -> None:
    for name in ("b.csv", "a.csv"):
        (tmp_path / name).write_text(f"hitter,outcome\n{name},ball\n")
    (tmp_path / "notes.md").write_text("no table")
    (tmp_path / ".hidden.csv").write_text("hitter,outcome\nX,ball\n")
    (tmp_path / "~$a.csv").write_text("lock")
    assert run(["read", str(tmp_path), "--save", str(tmp_path / "all.parquet")]) == 0
    reading = read_pitches(tmp_path)  # the saved table lies there, too
    assert reading.table["hitter"].tolist() == ["a.csv", "b.csv"]
    assert "a checked table that was saved" in " ".join(reading.report.parts["note"])
    with pytest.raises(ReadingError, match="named twice"):
        read_pitches([tmp_path / "a.csv", tmp_path])
    with pytest.raises(ReadingError, match="empty list"):
        read_pitches([])


def test_no_output_goes_over_one_of_several_inputs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("a.csv", "b.csv"):
        (tmp_path / name).write_text("hitter,outcome\nAda,ball\n")
    roster = tmp_path / "roster.csv"
    roster.write_text("name\nAda\n")
    before = {path: path.read_bytes() for path in tmp_path.iterdir()}
    for target in ("b.csv", "roster.csv"):
        typed = ["read", str(tmp_path), "--roster", str(roster), "--set-aside", str(tmp_path / target)]
        assert run(typed) == 2
        assert "file that is read" in capsys.readouterr().err
    with pytest.raises(ReadingError, match="file that is read"):
        read_pitches(tmp_path, roster=roster).save_set_aside(tmp_path / "a.csv")
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_line_of_a_text_file_is_named_among_several(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text("hitter,outcome\nAda,ball\nBea\n")
    (tmp_path / "b.csv").write_text("A title\n\noutcome,hitter\nball,Cy\nblip,Dee\n")
    reading = read_pitches(tmp_path, most_set_aside=1)
    found = reading.set_aside[["file", "sheet", "row", "line"]].to_numpy().tolist()
    assert found == [["a.csv", "", 2, 3], ["b.csv", "", 2, 5]]
    assert reading.report.rows_read == 4
    assert reading.report.lines is not None
    assert reading.report.lines.unaccounted == 0


def test_two_names_of_one_column_are_one_where_the_mapping_says_so(tmp_path: Path) -> None:
    other = GOOD.rename(columns={"hitter": "Batter"})
    path = workbook(tmp_path / "one.xlsx", {"A": GOOD, "B": other})
    assert len(read_pitches(path).table) == 2
    reading = read_pitches(path, {"also": {"batter": "hitter"}})
    assert reading.table["hitter"].tolist() == ["Ada Frusk", "Bea Plome"] * 2
    assert any("'Batter' is 'hitter'" in one for one in reading.report.assumed)


_TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12)
_ROWS = st.lists(
    st.tuples(
        _TEXT.map(lambda text: f"N{text}".strip()),
        st.sampled_from(["ball", "foul", "whiff", "in play"]),
        st.one_of(st.none(), st.floats(20, 120)),
        st.one_of(st.none(), st.booleans()),
        st.one_of(st.none(), st.dates(dt.date(1950, 1, 1), dt.date(2027, 1, 1))),
        st.sampled_from(["=1+1", "+a", "-x", "@b", "'c", "2-1", "plain", "007"]),
    ),
    min_size=1,
    max_size=8,
)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
@given(rows=_ROWS)
@settings(max_examples=20, deadline=None)
def test_what_is_written_read_and_written_again_is_the_same(ending: str, rows: list[tuple[Any, ...]]) -> None:
    frame = pd.DataFrame(rows, columns=["hitter", "outcome", "speed_mph", "hard", "date", "note"])
    frame["speed_mph"] = frame["speed_mph"].astype("float64")
    frame["hard"] = frame["hard"].astype("boolean")
    frame["date"] = pd.to_datetime(frame["date"])
    mapping = {"keep": ["note"]}
    first = read_pitches(frame, mapping).table
    with tempfile.TemporaryDirectory() as folder:
        one = save_table(first, f"{folder}/one{ending}")
        again = read_pitches(one, mapping)
        twice = read_pitches(save_table(again.table, f"{folder}/two{ending}"), mapping)
    # A sign that cannot be seen is written as an escape; every other cell is as it was.
    plain = first["hitter"].map(lambda name: shown_name(name) == name).to_numpy()
    columns = [name for name in first if name in again.table and name != "note"]
    pd.testing.assert_frame_equal(first[columns][plain], again.table[columns][plain], check_dtype=False)
    # What a spreadsheet would run is neutral from the first writing on, and stays as it then is.
    pd.testing.assert_frame_equal(again.table, twice.table)
    assert not again.table["note"].astype(str).str.match(r"[=@]").any()


def test_a_formula_in_a_text_is_text_in_a_workbook(tmp_path: Path) -> None:
    frame = pd.DataFrame({"hitter": ["=cmd()", "+Ada", "@Bea", "-7"], "outcome": "ball"})
    path = save_table(frame, tmp_path / "one.xlsx")
    with zipfile.ZipFile(path) as book:
        sheet = book.read("xl/worksheets/sheet1.xml")
    assert b"<f>" not in sheet
    assert read_pitches(path).table["hitter"].tolist() == ["'=cmd()", "'+Ada", "'@Bea", "-7"]


def test_a_workbook_on_the_standard_input(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    data = workbook(tmp_path / "one.xlsx", {"One": GOOD}).read_bytes()

    class Stdin:
        buffer = io.BytesIO(data)

    monkeypatch.setattr("sys.stdin", Stdin())
    assert len(read_pitches("-").table) == 2
