"""The report: plain English, counted, harmless in a notebook and in a spreadsheet."""

from __future__ import annotations

import csv
from pathlib import Path

import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.reading import Reading, read_pitches


def _reading() -> Reading:
    frame = pd.DataFrame(
        {
            "hitter": ["<b>x</b>", "Ada Field", "=1+1"],
            "outcome": ["swing and miss", "ball", "oops"],
            "speed_mph": ["=cmd()", "-5", "+90"],
            "<i>": ["@x", "-5", "\tx"],
        }
    )
    return read_pitches(frame, {"words": {"outcome": {"swing and miss": "whiff"}}})


def test_the_report_reads_as_plain_english() -> None:
    text = str(_reading())
    for sentence in (
        "the pandas data frame: 3 rows read, 2 kept, 1 set aside; 2 values made missing in others",
        "outcome: not a known word: 1",
        "Columns not used:\n  <i>",
        "outcome: swing and miss -> whiff (1), ball (1), oops -> not known (1)",
        "hitter_id is missing: hitters are told apart by name.",
        "row 1, speed_mph: '=cmd()' is not a number; accepted: a number from 20 to 120 mph; value made",
    ):
        assert sentence in text


def test_contradictions_are_in_the_report_with_their_first_rows() -> None:
    frame = pd.DataFrame({"hitter": "A", "outcome": ["ball"] * 5, "result": ["single"] * 5})
    text = str(read_pitches(frame))
    assert "ending: 5\n    row 1: single on the outcome ball" in text
    assert "row 4" not in text


def test_html_is_escaped() -> None:
    shown = _reading()._repr_html_()
    assert "<i>" not in shown
    assert "&lt;i&gt;" in shown
    named = read_pitches(pd.DataFrame({"hitter": "A", "outcome": ["ball", "<b>x</b>"]}))._repr_html_()
    assert "<b>x</b>" not in named
    assert "&lt;b&gt;x&lt;/b&gt;" in named


def test_the_table_of_the_report_counts_what_the_text_says() -> None:
    table = _reading().report.table()
    rows = table[table["topic"] == "rows"].set_index("item")["count"]
    assert rows.to_dict() == {"read": 3, "kept": 2, "set aside": 1}
    words = table[(table["topic"] == "word") & (table["item"] == "outcome: swing and miss")]
    assert words[["note", "count"]].to_numpy().tolist() == [["whiff", 1]]
    assert repr(_reading()).startswith("<Reading of the pandas data frame: 2 of 3 rows kept")


def test_saved_cells_cannot_run_in_a_spreadsheet(tmp_path: Path) -> None:
    reading = _reading()
    path = reading.save_set_aside(tmp_path / "aside.csv")
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [row["value"] for row in rows] == ["'=cmd()", "-5", "oops"]
    assert [row["source: hitter"] for row in rows] == ["<b>x</b>", "Ada Field", "'=1+1"]
    assert [row["source: <i>"] for row in rows] == ["'@x", "-5", "'\tx"]
    assert [row["source: speed_mph"] for row in rows] == ["'=cmd()", "-5", "+90"]
    with pytest.raises(ReadingError, match="cannot be written"):
        reading.save_set_aside(tmp_path / "nowhere" / "aside.csv")
