"""The base of all results: text and HTML of the same parts, a plain frame, a file whole or not at all."""

from __future__ import annotations

import os
import pickle
import zipfile
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from importlib import import_module
from pkgutil import walk_packages
from xml.etree import ElementTree

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import results
from hitlab.errors import HitlabError, MissingPackageError, ReadingError
from hitlab.results import Listing, Note, Points, Result, Table, harmless, save_table
from tests import needs


@dataclass(frozen=True, slots=True)
class Swings(Listing):
    """Swings by hitter."""

    data: pd.DataFrame
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        return "Swings & misses"


@dataclass(frozen=True, slots=True)
class Sentence(Result):
    """A claim of several paragraphs and tables."""

    evidence: pd.DataFrame

    TEXT_WIDTH = 30

    def table(self) -> pd.DataFrame:
        return self.evidence.copy()

    def contents(self):
        return [
            "Claim: <Ada> hits it hard more often than anybody.",
            "",
            Table(self.evidence),
            Points("Assumed", ("one", "  two")),
            Points("Nothing below"),
            Note("from a sheet", "source"),
            Note("bare", ""),
            Table(self.evidence.head(0)),
            Table(self.evidence.set_index("hitter"), index=True, missing="?"),
        ]


@pytest.fixture
def frame():
    return pd.DataFrame(
        {
            "hitter": ["Ada <b>", "=1+1", "-2"],
            "swings": [12, 5, 7],
            "rate": [0.1, np.nan, 1 / 3],
            "day": [date(2031, 4, 2), date(2031, 4, 3), None],
            "known": [True, False, True],
        }
    )


def test_a_result_is_a_title_notes_and_a_table(frame):
    shown = Swings(frame[["hitter", "swings"]], ("bunts are none",))
    assert str(shown) == (
        "Swings & misses\n  note: bunts are none\n"
        "   hitter  swings\n  Ada <b>      12\n     =1+1       5\n       -2       7"
    )
    page = shown._repr_html_()
    assert page.startswith("<p>Swings &amp; misses</p>\n<p>Note: bunts are none</p>\n<table")
    assert "Ada &lt;b&gt;" in page
    assert "<b>" not in page
    assert len(shown) == 3


def test_the_table_is_a_copy(frame):
    shown = Swings(frame)
    copy = shown.table()
    copy.loc[0, "swings"] = 99
    assert shown.data["swings"].tolist() == [12, 5, 7]
    assert pickle.loads(pickle.dumps(shown)).table().equals(frame)
    with pytest.raises(AttributeError):
        shown.notes = ("changed",)


def test_a_long_table_is_shown_in_part_and_one_without_rows_not_at_all(frame):
    long = Swings(pd.DataFrame({"hitter": [f"h{i}" for i in range(100)], "swings": range(100)}))
    assert len(str(long).splitlines()) == 1 + 1 + 30 + 1
    assert long._repr_html_().count("<tr>") == 31
    assert str(Swings(frame.head(0))) == "Swings & misses"
    assert Swings(frame.head(0))._repr_html_() == "<p>Swings &amp; misses</p>"


def test_a_day_among_other_cells_is_shown_without_an_hour():
    days = [pd.Timestamp("2031-04-02"), "", pd.NaT, pd.Timestamp("2031-04-02 18:30")]
    made = Swings(pd.DataFrame({"day": pd.Series(days, dtype=object)}))
    for told in (str(made), made._repr_html_()):
        assert "2031-04-02" in told
        assert "00:00:00" not in told
        assert "18:30" in told
    assert made.table()["day"].tolist()[0] == days[0]


def test_a_result_without_a_title_begins_with_its_table(frame):
    @dataclass(frozen=True, slots=True)
    class Bare(Result):
        data: pd.DataFrame

    assert str(Bare(frame[["swings"]])) == "   swings\n       12\n        5\n        7"


def test_a_result_of_paragraphs_and_tables(frame):
    shown = Sentence(frame[["hitter", "rate"]].iloc[:2])
    assert str(shown) == (
        "Claim: <Ada> hits it hard more\n  often than anybody.\n\n"
        "   hitter  rate\n  Ada <b>   0.1\n     =1+1   NaN\n"
        "Assumed:\n  one\n    two\nNothing below\n  source: from a sheet\n  bare\n"
        "           rate\n  hitter       \n  Ada <b>   0.1\n  =1+1        ?"
    )
    page = shown._repr_html_()
    assert page.count("<table") == 2
    assert "<p>Claim: &lt;Ada&gt; hits it hard more often than anybody.</p>" in page
    assert "<p><b>Assumed</b></p>\n<ul><li>one</li><li>two</li></ul>\n<p><b>Nothing below</b></p>" in page
    assert "<p>Source: from a sheet</p>\n<p>bare</p>" in page
    with pytest.raises(TypeError):
        len(shown)


def _sheet(path):
    """Read the cells of a spreadsheet file as the file holds them: text, and formulas."""
    space = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
    with zipfile.ZipFile(path) as file:
        shared = ElementTree.fromstring(file.read("xl/sharedStrings.xml"))
        words = ["".join(text.text or "" for text in one.iter(f"{space}t")) for one in shared]
        sheet = ElementTree.fromstring(file.read("xl/worksheets/sheet1.xml"))
    assert not list(sheet.iter(f"{space}f"))
    rows = []
    for row in sheet.iter(f"{space}row"):
        cells = [(cell.get("t"), cell.findtext(f"{space}v")) for cell in row]
        rows.append([words[int(value)] if kind == "s" else value for kind, value in cells])
    return rows


def test_saved_as_csv_and_parquet_it_comes_back(frame, tmp_path):
    shown = Swings(frame)
    path = shown.save(tmp_path / "swings.CSV")
    assert path == tmp_path / "swings.CSV"
    assert path.read_bytes().startswith(b"\xef\xbb\xbfhitter,swings,rate,day,known\n")
    back = pd.read_csv(path)
    assert back["hitter"].tolist() == ["Ada <b>", "'=1+1", "-2"]
    assert back["rate"].tolist()[2] == 1 / 3
    same = pd.read_parquet(shown.save(str(tmp_path / "swings.parquet")))
    assert same["hitter"].tolist() == frame["hitter"].tolist()
    assert same["day"].tolist() == frame["day"].tolist()
    assert same["rate"].equals(frame["rate"])
    assert sorted(name.name for name in tmp_path.iterdir()) == ["swings.CSV", "swings.parquet"]


def test_a_column_of_several_kinds_is_text_in_parquet(tmp_path):
    mixed = Swings(pd.DataFrame({"fact": ["a", "b", "c"], "value": ["x", 0.5, None]}, dtype=object))
    back = pd.read_parquet(mixed.save(tmp_path / "m.parquet"))["value"]
    assert back.tolist()[:2] == ["x", "0.5"]
    assert back.isna().tolist() == [False, False, True]


def test_half_of_a_character_is_saved_as_an_escape(tmp_path):
    """As comes of bytes that were read with the wrong encoding; no file can hold it."""
    names = pd.Series(["A\ud800da", "B\udcff", None], dtype=object)
    frame = pd.DataFrame({"hitter": names, "swings": [3, 4, 5], "mixed": ["C\udfff", 1, None]})
    frame = frame.set_axis(pd.Index(["hitter", "swings", "mixed\ud800"], dtype=object), axis="columns")
    for ending in (".parquet", ".csv", ".xlsx"):
        save_table(frame, tmp_path / f"saved{ending}")
    back = pd.read_parquet(tmp_path / "saved.parquet")
    assert list(back) == ["hitter", "swings", "mixed\\ud800"]
    assert back["hitter"].tolist()[:2] == ["A\\ud800da", "B\\udcff"]
    assert back["hitter"].isna().tolist() == [False, False, True]
    assert back["mixed\\ud800"].tolist()[:2] == ["C\\udfff", "1"]
    again = pd.read_csv(tmp_path / "saved.csv")
    assert again["hitter"].tolist()[:2] == back["hitter"].tolist()[:2]
    assert frame["hitter"][0] == "A\ud800da"


def test_saved_as_a_spreadsheet_nothing_runs(frame, tmp_path):
    needs.package("xlsxwriter")
    frame["when"] = pd.Timestamp("2031-04-02", tz="UTC")
    frame["link"] = "https://example.org"
    rows = _sheet(Swings(frame).save(tmp_path / "swings.xlsx"))
    assert rows[0] == ["hitter", "swings", "rate", "day", "known", "when", "link"]
    assert [row[0] for row in rows[1:]] == ["Ada <b>", "'=1+1", "-2"]
    assert [float(row[1]) for row in rows[1:]] == [12, 5, 7]
    assert rows[1][5:] == ["2031-04-02 00:00:00+00:00", "https://example.org"]


def test_a_table_too_long_for_a_spreadsheet_is_refused(frame, tmp_path, monkeypatch):
    needs.package("xlsxwriter")
    monkeypatch.setattr(results, "_MOST_SHEET_ROWS", 2)
    with pytest.raises(HitlabError, match=r"3 rows are more than an .xlsx can hold"):
        Swings(frame).save(tmp_path / "swings.xlsx")
    assert not list(tmp_path.iterdir())


def test_without_the_package_the_message_names_the_extra(frame, tmp_path, monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "xlsxwriter", None)
    with pytest.raises(MissingPackageError, match="with its extra spreadsheet"):
        Swings(frame).save(tmp_path / "swings.xlsx")


@pytest.mark.parametrize("name", ["swings", "swings.pdf", "swings.xls", "swings.csv.gz"])
def test_another_ending_is_refused_with_those_that_are_known(frame, tmp_path, name):
    with pytest.raises(HitlabError, match=r"saved as \.csv, \.parquet or \.xlsx; end the name"):
        Swings(frame).save(tmp_path / name)
    assert not list(tmp_path.iterdir())


def test_where_it_cannot_be_written_the_message_names_the_place(frame, tmp_path):
    (tmp_path / "folder.csv").mkdir()
    (tmp_path / "file").write_text("")
    for path in ("nowhere/swings.csv", "folder.csv", "file/swings.csv"):
        with pytest.raises(ReadingError, match=f"{path} cannot be written"):
            Swings(frame).save(tmp_path / path)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["file", "folder.csv"]


def test_a_write_that_breaks_off_leaves_the_old_file(frame, tmp_path, monkeypatch):
    path = Swings(frame).save(tmp_path / "swings.csv")
    before = path.read_bytes()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(ReadingError, match="No space left"):
        Swings(frame.head(1)).save(path)
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(os.name == "nt", reason="links and modes of files are those of POSIX")
def test_a_link_stays_a_link_and_a_file_keeps_its_mode(frame, tmp_path):
    real = tmp_path / "real.csv"
    real.write_text("old")
    real.chmod(0o640)
    (tmp_path / "link.csv").symlink_to(real)
    Swings(frame).save(tmp_path / "link.csv")
    assert (tmp_path / "link.csv").is_symlink()
    assert real.read_text(encoding="utf-8-sig").startswith("hitter,")
    assert real.stat().st_mode & 0o777 == 0o640


def test_what_a_spreadsheet_would_run_is_told_from_numbers():
    for cell in ("=1+1", "+cmd", "-2+3", "@x", " =1", "＝1", "\tx"):
        assert harmless(cell) == f"'{cell}"
    for cell in ("-5", "+90", "-1.5e3", "Ada", "", "a=b", -5, None):
        assert harmless(cell) is cell


def _all_results():
    for module in walk_packages(hitlab.__path__, "hitlab."):
        if not module.name.endswith("__main__"):
            import_module(module.name)
    found, todo = [], [Result]
    while todo:
        for each in todo.pop().__subclasses__():
            todo.append(each)
            if each.__module__.startswith("hitlab.") and each is not Listing:
                found.append(each)
    return found


def test_no_field_of_a_result_hides_what_the_base_gives():
    # A dataclass would take the base's method for the field's default.
    found = [each for each in _all_results() if is_dataclass(each)]
    assert len(found) >= 24
    for each in found:
        assert not {one.name for one in fields(each)} & set(dir(Listing)), each
