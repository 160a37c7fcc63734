"""Dates: none without a year, none outside the years in which there are pitch tables."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.reading import read_pitches


def _sheet(*days: str | None, **columns: Any) -> pd.DataFrame:
    return pd.DataFrame({"hitter": "Ada", "outcome": "foul", "Day": list(days)}).assign(**columns)


def _mapping(date_format: str | None, **dates: Any) -> dict[str, Any]:
    content: dict[str, Any] = {"columns": {"Day": "date"}}
    if date_format is not None:
        content["file"] = {"date_format": date_format}
    return content | ({"dates": dates} if dates else {})


@pytest.mark.parametrize(
    ("date_format", "day"), [("%d/%m", "31/05"), ("%b %d", "May 31"), ("%%Y %j", "%Y 151")]
)
def test_a_date_without_a_year_is_refused_with_a_sample_and_the_line_that_mends_it(
    date_format: str, day: str
) -> None:
    with pytest.raises(ReadingError) as error:
        read_pitches(_sheet(None, day), _mapping(date_format))
    for words in ("'Day'", repr(day), f'"{date_format}"', "[dates] year = "):
        assert words in str(error.value)


def test_the_mapping_can_say_the_year() -> None:
    reading = read_pitches(_sheet("31/05", "01/06", None), _mapping("%d/%m", year=2031))
    days = reading.table["date"]
    assert days.dropna().dt.strftime("%Y-%m-%d").tolist() == ["2031-05-31", "2031-06-01"]
    assert days.isna().tolist() == [False, False, True]
    assert "date has no year in the source: 2031 was put in, as the mapping says." in reading.report.assumed
    assert reading.report.values_made_missing == 0


def test_a_leap_day_is_a_day_in_leap_years_only() -> None:
    frame = _sheet("29/02", "28/02")
    leap = read_pitches(frame, _mapping("%d/%m", year=2032)).table["date"]
    assert leap.dt.strftime("%Y-%m-%d").tolist() == ["2032-02-29", "2032-02-28"]
    other = read_pitches(frame, _mapping("%d/%m", year=2031))
    assert other.table["date"].isna().tolist() == [True, False]
    assert "date: not a date" in other.report.reasons


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (_mapping("%d/%m", year="2031"), ["[dates] year", "'2031'", "a whole number from 1871 to 2100"]),
        (_mapping("%d/%m", year=31), ["[dates] year", "31"]),
        (_mapping("%d/%m", year=True), ["[dates] year", "True"]),
        (_mapping("%d/%m", yaer=2031), ["[dates]", "'yaer'", "Nearest: 'year'"]),
        (_mapping("%d/%m/%Y", year=2031), ["[dates] year", "no use", '"%d/%m/%Y"', "has a year"]),
        (_mapping(None, year=2031), ["[dates] year", "no use", "date_format"]),
        (_mapping("%m/%Y"), ["[file] date_format", "'%m/%Y'", "no day"]),
        (_mapping("%d/%Y"), ["[file] date_format", "'%d/%Y'", "no day"]),
    ],
)
def test_a_slip_in_what_is_said_of_dates_is_named(content: dict[str, Any], words: list[str]) -> None:
    with pytest.raises(ReadingError) as error:
        read_pitches(_sheet("2031-05-04"), content)
    for word in words:
        assert word in str(error.value)


@pytest.mark.parametrize("date_format", ["%d.%m.%y", "%x", "%G-W%V-%u", "%Y %U %a", "%Y-%j", "%d %B, %Y"])
def test_forms_of_dates_with_year_and_day_are_accepted(date_format: str) -> None:
    assert load_mapping(_mapping(date_format)).date_format == date_format


@pytest.mark.parametrize("day", ["1870-12-31", "0031-05-04", "1031-05-04", "2101-01-01", "2301-05-04"])
def test_a_year_without_pitch_tables_is_a_slip_and_reported(day: str) -> None:
    reading = read_pitches(_sheet(day, *["2031-05-04"] * 3), _mapping(None))
    assert reading.table["date"].isna().tolist() == [True, False, False, False]
    assert reading.report.reasons == {"date: before 1871 or after 2100": 1}
    assert "1871 to 2100" in reading.report.examples["date: before 1871 or after 2100"]


@pytest.mark.parametrize("day", ["1871-05-04", "2100-10-31"])
def test_the_first_and_the_last_year_are_accepted(day: str) -> None:
    assert read_pitches(_sheet(day), _mapping(None)).table["date"].notna().all()


def test_a_year_out_of_range_is_a_slip_whatever_the_form_of_the_date() -> None:
    reading = read_pitches(_sheet("04.05.1031", "04.05.2031"), _mapping("%d.%m.%Y"))
    assert reading.table["date"].isna().tolist() == [True, False]
    assert reading.report.reasons == {"date: before 1871 or after 2100": 1}


def test_forms_with_and_without_a_year_are_not_offered_together() -> None:
    reading = read_pitches(_sheet("31/05/2031", "31/05"), _mapping(None))
    assert '[file] date_format = "%d/%m/%Y" in the mapping reads 1 of 2' in str(reading.report)


def test_the_report_names_both_lines_that_read_dates_without_a_year(tmp_path: Path) -> None:
    reading = read_pitches(_sheet("31/05", "29/02", "13/06"), _mapping(None))
    assert (
        '[file] date_format = "%d/%m" and [dates] year = (the year it was) in the mapping reads all cells'
        in reading.report.examples["date: not a date"]
    )


@pytest.mark.parametrize(
    ("cells", "mend"),
    [
        (["04/23/2031 7:05 PM", "04/24/2031 1:10 PM"], 'date_format = "%m/%d/%Y %I:%M %p"'),
        (["2031-04-23 07:05 PM", "2031-04-24 01:10 PM"], 'date_format = "%Y-%m-%d %I:%M %p"'),
        (["23.04.2031 19:05", "24.04.2031 13:10"], 'date_format = "%d.%m.%Y %H:%M"'),
        (["47961", "47962"], "these are days as a spreadsheet numbers them"),
    ],
)
def test_times_of_the_day_and_numbers_of_days_have_their_mend(cells: list[str], mend: str) -> None:
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "whiff", "date": cells})
    report = read_pitches(frame).report
    assert mend in report.examples["date: not a date"]
    (said,) = report.alerts
    assert mend in said
    if "date_format" in mend:
        table = read_pitches(frame, {"file": {"date_format": mend.split('"')[1]}}).table
        assert table["date"].astype(str).tolist() == ["2031-04-23", "2031-04-24"]


def test_numbers_that_are_no_days_of_a_spreadsheet_have_no_such_mend() -> None:
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "whiff", "date": ["17", "1932940800"]})
    assert "spreadsheet" not in str(read_pitches(frame).report)
