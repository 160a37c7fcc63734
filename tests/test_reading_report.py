"""The report: plain English, counted, harmless in a notebook and in a spreadsheet."""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches import read_into
from hitlab.pitches.reading import Reading, read_pitches
from hitlab.pitches.schema import COLUMNS


def _reading() -> Reading:
    frame = pd.DataFrame(
        {
            "hitter": ["<b>x</b>", "Ada Frusk", "=1+1"],
            "outcome": ["swing and miss", "ball", "oops"],
            "speed_mph": ["=cmd()", "-5", "+90"],
            "<i>": ["@x", "-5", "\tx"],
        }
    )
    return read_pitches(frame, {"words": {"outcome": {"swing and miss": "whiff"}}})


@pytest.mark.parametrize("share", [float("nan"), -0.1, 1.5, "half", None, True])
@pytest.mark.parametrize("name", ["most_set_aside", "most_empty"])
def test_a_share_that_is_none_is_refused(name: str, share: object, tmp_path: Path) -> None:
    sheet = tmp_path / "sheet.csv"
    sheet.write_text("hitter,outcome\nAda Frusk,ball\n")
    given: dict[str, Any] = {name: share}
    with pytest.raises(ReadingError, match=rf"{name}=.*: give a share from 0 to 1"):
        read_pitches(sheet, **given)
    with pytest.raises(ReadingError, match=rf"{name}=.*: give a share from 0 to 1"):
        read_into(sheet, tmp_path / "parts", **given)
    assert not (tmp_path / "parts").exists()


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
    assert [row["source: hitter"] for row in rows] == ["<b>x</b>", "Ada Frusk", "'=1+1"]
    assert [row["source: <i>"] for row in rows] == ["'@x", "-5", r"\tx"]  # a tab is not seen, so it is said
    assert [row["source: speed_mph"] for row in rows] == ["'=cmd()", "-5", "+90"]
    with pytest.raises(ReadingError, match="cannot be written"):
        reading.save_set_aside(tmp_path / "nowhere" / "aside.csv")


def test_the_report_shows_what_could_not_be_used_and_the_line_that_mends_it(tmp_path):
    path = tmp_path / "sheet.csv"
    lines = ["hitter,outcome,speed_mph,exit_mph,date"]
    lines += ["Ada,whiff,147,,31/05/2031", "Ada,foul,150,,31/05/2031", "Bo,in play,148,165,06/05/2031"]
    lines += ["Bo,in play,151,44.5,5/31/31", "Cy,,150,160,2031-05-02", "Cy,foul,88,,2031-05-02"]
    path.write_text("\n".join(lines))
    said = str(read_pitches(path).report)
    assert (
        "speed_mph: out of range: 5\n    such as '150', '147', '148', ...; accepted: if these are km/h, "
        '[units] speed_mph = "km/h" in the mapping says so; a number from 20 to 120 mph' in said
    )
    assert (
        "such as '31/05/2031', '06/05/2031', '5/31/31'; accepted: some have the day before the month and "
        "some behind it ('31/05/2031' and '5/31/31'), so that no one form reads them right: write them as "
        "year-month-day in the source; a date as year-month-day" in said
    )
    assert "(empty) (1)" in said
    mended = read_pitches(
        path, {"file": {"date_format": "%d/%m/%Y"}, "units": {"speed_mph": "km/h", "exit_mph": "km/h"}}
    )
    # 150 km/h are 93.21 miles an hour, and written without decimals say 92.9 to 93.5: the roundest of these.
    assert mended.table["speed_mph"].iloc[1] == 93.0
    assert str(mended.table["date"].iloc[0])[:10] == "2031-05-31"
    # Four dates are left that are of another form; the mapping's own form is what is accepted then.
    assert "accepted: a date as %d/%m/%Y, which is what the mapping says" in str(mended.report)


def test_a_decimal_comma_is_recognised(tmp_path):
    path = tmp_path / "sheet.csv"
    path.write_text("hitter;outcome;speed_mph\nAda;whiff;91,5\nBo;foul;88,0\n")
    report = read_pitches(path).report
    assert report.examples["speed_mph: not a number"].startswith(
        "'91,5', '88,0'; accepted: [file] decimal = \",\" in the mapping reads it; "
    )
    assert read_pitches(path, {"file": {"decimal": ","}}).table["speed_mph"].tolist() == [91.5, 88.0]


@pytest.mark.parametrize(
    ("column", "good", "bad", "says"),
    [
        ("exit_mph", ["88"] * 30, ["150"], ""),  # one slip says nothing of the unit
        ("date", ["2031-05-02"] * 30, ["05/04/2031"], ""),
        ("date", [], ["05/04/2031", "05/14/2031"], 'date_format = "%m/%d/%Y" in the mapping reads all cells'),
        ("date", [], ["05/04/2031", "06/04/2031"], '"%d/%m/%Y" or "%m/%d/%Y" in the mapping reads all cells'),
        ("speed_mph", ["92"], ["1,234"], ""),  # no speed either way
        ("balls", ["1"], ["1,5"], ""),
        ("outcome", ["foul"], ['ca"ll\\x'], '[words.outcome] "ca\\"ll\\\\x" = '),
    ],
)
def test_a_mend_is_named_only_where_it_suits_the_column(column, good, bad, says):
    cells = [*good, *bad]
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "foul", column: cells})
    frame.loc[len(frame)] = {**frame.iloc[0].to_dict(), "outcome": "foul", column: good[0] if good else None}
    examples = read_pitches(frame).report.examples
    found = next(text for reason, text in examples.items() if reason.startswith(f"{column}: "))
    if says:
        assert says in found
    else:
        assert "mapping" not in found
    if column == "outcome":
        line = found.partition("accepted: ")[2].partition(" in the mapping")[0]
        section, _, rest = line.partition("] ")
        assert tomllib.loads(f"{section}]\n{rest}") == {"words": {"outcome": {bad[0]: "..."}}}


def _mostly_unknown(known: int, unknown: int) -> pd.DataFrame:
    outcomes = ["foul"] * known + ["GB6"] * (unknown - 2) + ["FB8", ""]
    return pd.DataFrame({"hitter": "Ada", "outcome": outcomes, "speed_mph": ["fast"] * len(outcomes)})


def test_a_source_that_was_mostly_not_understood_says_so_first() -> None:
    report = read_pitches(_mostly_unknown(87, 1169)).report
    assert report.not_understood == (
        "Most of the pandas data frame was not understood: 1,169 of 1,256 rows are set aside, 1,168 of them "
        "for this: outcome: not a known word, such as 'GB6', 'FB8'; accepted: [words.outcome] "
        '"GB6" = "..." in the mapping says what it means; ' + COLUMNS["outcome"].accepted
    )
    # Not the speeds, which are bad in more rows, but set none aside.
    assert report.reasons["speed_mph: not a number"] == 1256
    assert (
        str(report).splitlines()[1].startswith("Most of the pandas data frame was not understood: 1,169 of")
    )
    assert "Most of the pandas data frame was not understood" in report._repr_html_()
    table = report.table()
    assert table.loc[table["topic"] == "not understood", "item"].tolist() == [report.not_understood]


def test_half_is_not_most() -> None:
    assert read_pitches(_mostly_unknown(10, 10)).report.not_understood == ""
    assert read_pitches(_mostly_unknown(10, 11)).report.not_understood != ""


def test_ragged_lines_count_among_what_was_not_understood(tmp_path: Path) -> None:
    path = tmp_path / "sheet.csv"
    path.write_text("hitter,outcome\nAda,foul\nAda,foul,x\nBo,foul,y\n", encoding="utf-8")
    assert read_pitches(path).report.not_understood.startswith(
        "Most of sheet.csv was not understood: 2 of 3 rows are set aside, 2 of them for this: "
        "(the whole row): a row with too many cells, such as "
    )
