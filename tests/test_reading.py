"""Reading: what becomes of good cells, bad cells and whole bad rows."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.reading import read_pitches

HEAD = "game,plate_appearance,pitch,hitter,outcome,speed_mph\n"


def _csv(folder: Path, text: str, name: str = "pitches.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8", newline="")
    return path


def test_declared_types_whatever_the_cells_look_like(tmp_path: Path) -> None:
    text = (
        "hitter,hitter_id,outcome,date,outs,speed_mph,bunt,game\n"
        "Ada Frusk,007, Whiff ,2031-05-04,1,91.25,yes,1\n"
        "Bea Plome,012,BALL,2031-05-04 19:05,,,,2\n"
    )
    table = read_pitches(_csv(tmp_path, text)).table
    assert table["hitter_id"].tolist() == ["007", "012"]
    assert table["game"].tolist() == ["1", "2"]
    assert table["outcome"].tolist() == ["whiff", "ball"]
    assert str(table["outs"].dtype) == "Int64"
    assert table["outs"].isna().tolist() == [False, True]
    assert table["speed_mph"].dtype == np.float64
    assert math.isnan(table["speed_mph"][1])
    assert str(table["bunt"].dtype) == "boolean"
    assert table["date"].tolist() == [pd.Timestamp("2031-05-04")] * 2
    assert isinstance(table["hitter"].dtype, pd.StringDtype)
    assert list(table) == ["game", "date", "hitter", "hitter_id", "outs", "speed_mph", "outcome", "bunt"]


def test_one_name_in_two_spellings_of_its_accent_is_one_name() -> None:
    table = read_pitches(pd.DataFrame({"hitter": ["Zoé", "Zoe\u0301 "], "outcome": "foul"})).table
    assert table["hitter"].nunique() == 1


def test_a_bad_cell_is_made_missing_and_its_row_kept(tmp_path: Path) -> None:
    rows = [
        "G,1,1,A,ball,fast",
        "G,1,2,A,ball,900",
        "G,1,3,A,ball,-5",
        "G,1,4,A,ball,inf",
        "G,1,5,A,ball,nan",
    ]
    reading = read_pitches(_csv(tmp_path, HEAD + "\n".join(rows)))
    assert len(reading.table) == 5
    assert reading.table["speed_mph"].isna().all()
    assert reading.set_aside["value"].tolist() == ["fast", "900", "-5", "inf", "nan"]
    assert reading.set_aside["reason"].tolist() == [
        "not a number",
        "out of range",
        "out of range",
        "not a finite number",
        "not a number",
    ]
    assert set(reading.set_aside["action"]) == {"value made missing"}
    assert set(reading.set_aside["accepted"]) == {"a number from 20 to 120 mph"}
    assert reading.set_aside["line"].tolist() == [2, 3, 4, 5, 6]
    assert reading.set_aside["source: speed_mph"].tolist() == ["fast", "900", "-5", "inf", "nan"]
    assert reading.report.values_made_missing == 5
    assert reading.report.rows_set_aside == 0


def test_a_bad_needed_cell_or_key_sets_the_row_aside(tmp_path: Path) -> None:
    rows = ["G,1,1,A,ball,90", "G,1,2,,ball,90", "G,1,3,A,balk?,90", "G,one,4,A,ball,90", "G,,5,A,ball,90"]
    reading = read_pitches(_csv(tmp_path, HEAD + "\n".join(rows)))
    assert reading.set_aside["row"].tolist() == [2, 3, 4]
    assert reading.set_aside["column"].tolist() == ["hitter", "outcome", "plate_appearance"]
    assert set(reading.set_aside["action"]) == {"row set aside"}
    assert reading.report.rows_set_aside == 3
    # An empty part of the key is simply missing.
    assert len(reading.table) == 2
    assert '[words.outcome] "balk?"' in reading.set_aside["accepted"][1]


def test_repeated_pitches_are_set_aside_after_the_first(tmp_path: Path) -> None:
    rows = ["G,1,1,A,ball,90", "G,1,1,A,ball,90", "G,1,1,A,foul,90", "G,1,2,A,ball,", "G,1,2,A,ball,"]
    reading = read_pitches(_csv(tmp_path, HEAD + "\n".join(rows)))
    assert reading.table["outcome"].tolist() == ["ball", "ball"]
    assert reading.set_aside["row"].tolist() == [2, 3, 5]
    assert reading.set_aside["reason"].tolist() == [
        "a repeated pitch, the same in every column",
        "a repeated pitch, different in other columns",
        "a repeated pitch, the same in every column",
    ]
    assert reading.set_aside["accepted"].tolist() == [
        f"each pitch once; the first is row {row}" for row in (1, 1, 4)
    ]


def test_infinite_is_reported_and_nan_is_missing_in_a_frame() -> None:
    frame = pd.DataFrame({"hitter": "A", "outcome": "in play", "exit_mph": [np.nan, np.inf, -np.inf, 101.5]})
    reading = read_pitches(frame)
    assert reading.table["exit_mph"].isna().tolist() == [True, True, True, False]
    assert reading.set_aside["row"].tolist() == [2, 3]
    assert set(reading.set_aside["reason"]) == {"not a finite number"}


def test_fractions_of_a_whole_number_and_whole_floats() -> None:
    frame = pd.DataFrame(
        {"hitter": "A", "outcome": "ball", "inning": [1.0, 2.5, np.nan], "hitter_id": [7.0, 8.0, 9.5]}
    )
    reading = read_pitches(frame)
    assert reading.table["inning"].isna().tolist() == [False, True, True]
    assert reading.set_aside["reason"].tolist() == ["not a whole number"]
    assert reading.table["hitter_id"].tolist() == ["7", "8", "9.5"]


def test_out_of_order_pitches_keep_the_files_order_and_are_reported(tmp_path: Path) -> None:
    reading = read_pitches(_csv(tmp_path, HEAD + "G,1,2,A,ball,90\nG,1,1,A,ball,90\n"))
    assert reading.table["pitch"].tolist() == [2, 1]
    assert any("out of order in 1 place" in sentence for sentence in reading.report.assumed)


def test_kept_columns_and_unused_columns(tmp_path: Path) -> None:
    text = "hitter,outcome,Mood,Effort,Code,Extra\nA,ball,calm,3,007,x\nB,foul,,4.5,010,y\n"
    reading = read_pitches(_csv(tmp_path, text), {"keep": ["Mood", "Effort", "Code"]})
    assert reading.report.unused == ("Extra",)
    assert reading.table["Mood"].isna().tolist() == [False, True]
    assert reading.table["Effort"].tolist() == [3.0, 4.5]
    assert reading.table["Code"].tolist() == ["007", "010"]


@pytest.mark.parametrize(
    ("view", "side", "given", "expected"),
    [
        ("catcher", "right", 5.0, -5.0),
        ("catcher", "left", 5.0, 5.0),
        ("pitcher", "right", 5.0, 5.0),
        ("pitcher", "left", 5.0, -5.0),
        ("hitter", "left", -5.0, -5.0),
    ],
)
def test_locations_are_turned_toward_the_hitter(view: str, side: str, given: float, expected: float) -> None:
    frame = pd.DataFrame({"hitter": ["A"], "outcome": "ball", "hitter_side": side, "inside_in": given})
    table = read_pitches(frame, {"location": {"charted_from": view}}).table
    assert table["inside_in"].tolist() == [expected]


def test_spray_is_turned_toward_the_pull_side() -> None:
    frame = pd.DataFrame(
        {"hitter": "A", "outcome": "in play", "hitter_side": ["left", "right"], "spray_deg": 20.0}
    )
    turned = read_pitches(frame, {"location": {"spray_positive": "right field"}}).table
    assert turned["spray_deg"].tolist() == [20.0, -20.0]


def test_a_location_without_a_side_is_made_missing_and_without_the_column_an_error() -> None:
    rules = {"location": {"charted_from": "catcher"}}
    frame = pd.DataFrame({"hitter": "A", "outcome": "ball", "hitter_side": [None, "left"], "inside_in": 5.0})
    reading = read_pitches(frame, rules)
    assert reading.table["inside_in"].isna().tolist() == [True, False]
    assert "hitter_side is missing" in reading.set_aside["reason"][0]
    with pytest.raises(ReadingError, match="Map a source column to hitter_side"):
        read_pitches(frame.drop(columns="hitter_side"), rules)


def test_a_split_cell_that_cannot_be_split_is_reported() -> None:
    frame = pd.DataFrame({"hitter": "A", "outcome": "ball", "Count": ["2-1", "21", ""]})
    reading = read_pitches(frame, {"split": {"Count": {"into": ["balls", "strikes"]}}})
    assert reading.table["balls"].tolist()[0] == 2
    assert reading.table["strikes"].isna().tolist() == [False, True, True]
    assert reading.set_aside["value"].tolist() == ["21"]
    assert reading.set_aside["source_column"].tolist() == ["Count"]


def test_missing_words_date_format_and_header_line(tmp_path: Path) -> None:
    text = "Club sheet\n\nhitter,outcome,date,outs\nA,ball,04.05.2031,-\nB,ball,31.02.2031,1\n"
    rules = {"file": {"header_line": 3, "date_format": "%d.%m.%Y", "missing": ["-"]}}
    reading = read_pitches(_csv(tmp_path, text), rules)
    assert reading.table["date"].tolist()[0] == pd.Timestamp("2031-05-04")
    assert reading.table["outs"].isna().tolist() == [True, False]
    assert reading.set_aside["value"].tolist() == ["31.02.2031"]
    assert reading.set_aside["line"].tolist() == [5]


def test_empty_ids_take_the_name_and_this_is_said() -> None:
    frame = pd.DataFrame({"hitter": ["A", "B"], "hitter_id": ["1", None], "outcome": "ball"})
    reading = read_pitches(frame)
    assert reading.table["hitter_id"].tolist() == ["1", "B"]
    assert "hitter_id is empty in 1 row(s)" in str(reading)


def test_the_count_is_rebuilt_where_the_mapping_asks_for_it() -> None:
    frame = pd.DataFrame(
        {
            "game": "G",
            "plate_appearance": 1,
            "pitch": [1, 2],
            "hitter": "A",
            "outcome": "ball",
            "balls": 0,
            "strikes": 0,
        }
    )
    reading = read_pitches(frame, {"count": {"from": "order"}})
    assert reading.table["balls"].tolist() == [0, 1]
    assert "The file's own count differed from the rebuilt one in 1 row(s)." in reading.report.assumed
    with pytest.raises(ReadingError, match="cannot be rebuilt"):
        read_pitches(frame.drop(columns="game"), {"count": {"from": "order"}})


def test_the_swing_flag_is_checked_and_left_out() -> None:
    frame = pd.DataFrame({"hitter": "A", "outcome": ["whiff", "ball"], "Went": ["n", "n"]})
    reading = read_pitches(frame, {"columns": {"Went": "swing"}})
    assert "swing" not in reading.table
    assert reading.report.contradictions["check"].tolist() == ["swing flag"]
    assert reading.report.contradictions["row"].tolist() == [1]


def test_contradictions_name_the_row_of_the_source() -> None:
    frame = pd.DataFrame({"hitter": [None, "A"], "outcome": ["ball", "ball"], "result": [None, "single"]})
    reading = read_pitches(frame)
    assert reading.report.contradictions["row"].tolist() == [2]


@pytest.mark.parametrize("columns", [{"Who": "hitter"}, {"who ": "hitter"}])
def test_source_names_are_found_whatever_their_capitals(columns: dict[str, str]) -> None:
    assert (
        read_pitches(pd.DataFrame({" Who": ["A"], "outcome": "ball"}), {"columns": columns}).report.rows_kept
        == 1
    )


@pytest.mark.parametrize(
    ("frame", "mapping", "words"),
    [
        (pd.DataFrame({"Hiter": ["A"], "outcome": "ball"}), None, ["no column hitter", '"Hiter" = "hitter"']),
        (pd.DataFrame({"x": [1], "outcome": "ball"}), None, ["no column hitter", "'x', 'outcome'"]),
        (
            pd.DataFrame({"hitter": ["A"], "What": "b"}),
            {"columns": {"Waht": "outcome"}},
            ["'Waht'", "Nearest: 'What'"],
        ),
        (
            pd.DataFrame([["A", "B", "ball"]], columns=["hitter", "Hitter", "outcome"]),
            None,
            ["filled twice", "column 2"],
        ),
        (
            pd.DataFrame([["A", "B", "ball"]], columns=["W", "W", "outcome"]),
            {"columns": {"W": "hitter"}},
            ["more than once", "1 and 2"],
        ),
        (
            pd.DataFrame({"hitter": ["A"], "outcome": "ball", "level": "x"}),
            {"constants": {"level": "y"}},
            ["level", "twice"],
        ),
        (
            pd.DataFrame({"hitter": ["A"], "outcome": "ball"}),
            {"constants": {"outs": 7}},
            ["'7'", "out of range", "0 to 2"],
        ),
        (
            pd.DataFrame({"hitter": ["A"], "outcome": "Swung on"}),
            None,
            ["No row", "[words.outcome]", "'Swung on'"],
        ),
        (pd.DataFrame({"hitter": [], "outcome": []}), None, ["no rows"]),
        (pd.DataFrame({"hitter": [["A"]], "outcome": "ball"}), None, ["'hitter'", "list"]),
        (42, None, ["A int cannot be read", "DuckDB"]),
    ],
)
def test_what_cannot_be_read_says_why_and_what_to_do(
    frame: object, mapping: dict | None, words: list[str]
) -> None:
    with pytest.raises(ReadingError) as error:
        read_pitches(frame, mapping)
    for word in words:
        assert word in str(error.value)
