"""What a table cannot tell, and columns that look like ours and are not: said, with the mend."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from pyarrow import parquet

import hitlab
from hitlab.pitches.reading import Reading, read_pitches
from hitlab.pitches.storing import write_checked

WHOLE = {
    "hitter": "Ada Frusk",
    "hitter_id": "7",
    "outcome": ["whiff", "foul", "foul tip", "in play"],
    "bunt": False,
    "check_swing": False,
    "level": "professional",
    "bat": "wood",
    "balls": 1,
    "strikes": 1,
    "exit_mph": [None, None, None, 91.0],
    "result": [None, None, None, "single"],
    "date": "2019-05-04",
}


def _read(**changed: object) -> Reading:
    frame = pd.DataFrame(WHOLE | changed)
    return read_pitches(frame.drop(columns=[name for name, value in changed.items() if value is None]))


def test_a_table_that_tells_all_says_nothing() -> None:
    report = _read().report
    assert report.cannot_tell == ()
    assert report.unlike == ()
    assert "cannot tell" not in str(report)


@pytest.mark.parametrize(
    ("column", "words"),
    [
        ("bunt", "a bunt attempt cannot be told from a swing"),
        ("level", "whether 95 mph"),
        ("bat", "kind of bat"),
        ("hitter_id", "two hitters of one name"),
        ("result", "plate appearance ended"),
        ("balls", "count"),
        ("exit_mph", "how hard"),
        ("date", "when"),
    ],
)
def test_a_missing_column_says_what_cannot_be_told(column: str, words: str) -> None:
    report = _read(**{column: None}).report
    assert len(report.cannot_tell) == 1
    assert report.cannot_tell[0].startswith(f"{column} is missing")
    assert words in report.cannot_tell[0]
    assert f"What this table cannot tell:\n  {report.cannot_tell[0]}" in str(report)
    table = report.table()
    assert table.loc[table["topic"] == "cannot tell", "item"].tolist() == list(report.cannot_tell)
    # A column that is there and empty tells no more.
    empty = _read(**{column: [""] * 4}).report
    assert len(empty.cannot_tell) == 1
    assert empty.cannot_tell[0].startswith(f"{column} is empty")


def test_a_table_without_foul_tips_says_so() -> None:
    (said,) = _read(outcome=["whiff", "foul", "whiff", "in play"]).report.cannot_tell
    assert said.startswith("No foul tip is recorded")
    assert _read(outcome=["ball", "called strike", "ball", "in play"]).report.cannot_tell == ()


@pytest.mark.parametrize(
    ("day", "words"), [("1949-10-01", "before 1950"), ("1903-05-04", "before 1950"), (None, "in the future")]
)
def test_dates_of_other_times_are_said(day: str | None, words: str) -> None:
    day = day or (dt.date.today() + dt.timedelta(days=2)).isoformat()
    (said,) = _read(date=[day, "2019-05-04", "2019-05-04", day]).report.cannot_tell
    assert words in said
    assert said.startswith("2 dates")
    assert day in said


@pytest.mark.parametrize("day", ["1950-01-01", dt.date.today().isoformat()])
def test_dates_within_living_memory_are_not(day: str) -> None:
    assert _read(date=day).report.cannot_tell == ()


@pytest.mark.parametrize(
    ("written", "ours"),
    [
        ("bunts", "bunt"),
        ("Bunt?", "bunt"),
        ("hiter_id", "hitter_id"),
        ("exit mph", "exit_mph"),
        ("exit_kmh", "exit_mph"),
        ("Exit", "exit_mph"),
        ("levels", "level"),
        ("reslut", "result"),
    ],
)
def test_a_column_that_looks_like_ours_is_a_warning_with_the_mend(written: str, ours: str) -> None:
    frame = pd.DataFrame(WHOLE).rename(columns={ours: written})
    report = read_pitches(frame).report
    (said,) = report.unlike
    assert f'[columns] "{written}" = "{ours}"' in said
    assert f"Warning: columns that look like ours and are not used:\n  {said}" in str(report)
    assert written in report.table().query("topic == 'column like ours'")["item"].iloc[0]
    mended = read_pitches(frame, {"columns": {written: ours}}).report
    assert mended.unlike == ()


def test_columns_of_other_names_and_those_that_are_filled_are_no_warning() -> None:
    frame = pd.DataFrame(WHOLE).assign(bunts=1, weather="dry", umpire="Kirnov", pitcher="Bo", mood="calm")
    assert read_pitches(frame).report.unlike == ()
    left_out = frame.drop(columns="bunt")
    assert read_pitches(left_out, {"keep": ["bunts"]}).report.unlike == ()


def test_a_saved_table_keeps_what_it_cannot_tell(tmp_path: Path) -> None:
    path = write_checked(_read(bunt=None), tmp_path / "t.parquet")
    assert b"a bunt attempt cannot be told" in parquet.read_schema(path).metadata[b"hitlab_cannot_tell"]


def _days(first: str, second: str, many: int = 4502) -> tuple[list[str], list[str]]:
    rng = np.random.default_rng(4)
    days = [dt.date(2019, 4, 1) + dt.timedelta(days=int(x)) for x in rng.integers(0, 180, many)]
    written = [day.strftime(first if i % 2 else second) for i, day in enumerate(days)]
    return written, [day.isoformat() for day in days]


@pytest.mark.parametrize(("first", "second"), [("%d/%m/%Y", "%m/%d/%Y"), ("%m/%d/%y", "%d/%m/%Y")])
def test_no_form_is_advised_where_days_and_months_change_places(first: str, second: str) -> None:
    written, days = _days(first, second)
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "foul", "date": written})
    example = read_pitches(frame).report.examples["date: not a date"]
    assert "date_format" not in example
    assert "the day before the month" in example
    # Where the mapping takes one of them all the same, the report says what that means.
    reading = read_pitches(frame, {"file": {"date_format": "%d/%m/%Y"}})
    read = reading.table["date"].dt.strftime("%Y-%m-%d")
    wrong = (read.notna() & (read != days)).any()
    assert wrong == (first == "%d/%m/%Y")  # two digits are no year of four, so that nothing is mistaken there
    assert any("exchanged" in said for said in reading.report.cannot_tell) == wrong


@pytest.mark.parametrize(("first", "second"), [("%d/%m/%Y", "%d/%m/%Y"), ("%m/%d/%Y", "%m/%d/%Y")])
def test_the_form_that_is_advised_reads_every_day_as_it_was(first: str, second: str) -> None:
    written, days = _days(first, second)
    written[5] = "rain"
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "foul", "date": written})
    example = read_pitches(frame).report.examples["date: not a date"]
    assert f'[file] date_format = "{first}" in the mapping reads 4,501 of 4,502 cells' in example
    reading = read_pitches(frame, {"file": {"date_format": first}})
    assert reading.table["date"].dropna().dt.strftime("%Y-%m-%d").tolist() == days[:5] + days[6:]
    assert not any("exchanged" in said for said in reading.report.cannot_tell)


def test_where_the_cells_do_not_tell_the_order_nobody_guesses() -> None:
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "foul", "date": ["05/04/2019", "06/04/2019"]})
    example = read_pitches(frame).report.examples["date: not a date"]
    assert "the cells do not tell which" in example


@pytest.mark.parametrize("word", ["NaN", "NULL", "n/a", "-", " None "])
@pytest.mark.parametrize("column", ["hitter", "hitter_id", "game"])
def test_a_name_that_programs_write_for_nothing_is_said_in_every_answer(column: str, word: str) -> None:
    reading = _read(**{column: ["G1", word, word, "G1"]})
    said = f"{column} is {word.strip()!r} in 2 rows: whether that is a name or nothing cannot be told"
    assert [one for one in reading.report.cannot_tell if one.startswith(said)]
    assert said in hitlab.tally(reading).cannot_tell("swings")
    mended = read_pitches(reading.table, {"file": {"missing": [word]}})
    assert not mended.report.odd_names


@pytest.mark.parametrize(
    ("column", "one", "other"),
    [
        ("hitter_id", "h029", "h29"),
        ("hitter_id", "12", "12.0"),
        ("game", "G1", "g1"),
        ("pitcher_id", "007", "7"),
    ],
)
def test_a_number_in_two_spellings_is_said_in_every_answer(column: str, one: str, other: str) -> None:
    reading = _read(**{column: [one, other, one, other]})
    said = f"{column} has one number in two spellings ({one!r} and {other!r}): whether they are one"
    assert said in hitlab.tally(reading).cannot_tell("swings")
    assert not _read(**{column: ["12", "21", "120", "1.2"]}).report.odd_names


def test_names_that_differ_by_signs_of_a_web_page_are_said_to_count_as_two() -> None:
    frame = pd.DataFrame({"hitter": ["Ada Frusk", "Ada&nbsp;Frusk", "Bo"], "outcome": "whiff", "bunt": False})
    notes = hitlab.tally(read_pitches(frame)).notes
    assert "'Ada Frusk' and 'Ada&nbsp;Frusk' count as 2 hitters" in notes


def test_a_sheet_that_was_pasted_twice_is_said_where_no_key_tells() -> None:
    rng = np.random.default_rng(5)
    sheet = pd.DataFrame(
        {"hitter": rng.choice(["Ada", "Bo"], 60), "outcome": rng.choice(["ball", "whiff", "foul"], 60)}
    )
    twice = read_pitches(pd.concat([sheet, sheet.iloc[5:50]], ignore_index=True))
    said = (
        "45 rows are the same in every column as earlier ones in the same order, the first of them row 61 as"
    )
    assert f"{said} row 6:" in hitlab.tally(twice).cannot_tell("swings")
    assert not read_pitches(sheet).report.odd_names
    assert not read_pitches(pd.concat([sheet, sheet.iloc[:31]], ignore_index=True)).report.odd_names
    alike = pd.DataFrame({"hitter": "Ada", "outcome": ["ball"] * 40 + ["foul"] + ["ball"] * 80})
    assert not read_pitches(alike).report.odd_names
    keyed = pd.concat([sheet, sheet], ignore_index=True).assign(game="G1", pitch=1)
    keyed["plate_appearance"] = np.arange(len(keyed)) + 1
    assert not read_pitches(keyed).report.odd_names


def test_a_speed_of_nothing_is_not_a_ball_that_was_not_hit_hard() -> None:
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "in play", "exit_mph": [0, 0.0, 96.0, 80.0]})
    counts = hitlab.tally(read_pitches(frame))
    assert counts.column("hard").tolist() == [1]
    assert counts.column("unmeasured").tolist() == [2]
