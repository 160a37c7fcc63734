"""What is filled down, what a merged cell says, and where one game ends."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.reading import read_pitches
from tests.needs import package

package("xlsxwriter")
package("python_calamine")


def _sheet(**columns: Any) -> pd.DataFrame:
    many = max(len(column) for column in columns.values() if isinstance(column, list))
    return pd.DataFrame(
        {name: told if isinstance(told, list) else [told] * many for name, told in columns.items()}
    )


# games


SPLIT = {"split": {"inn": {"into": ["half", "inning"], "separator": " "}}}
HALVES = {"words": {"half": {"T": "top", "B": "bottom"}}}
TWO = [f"2031-04-03, game {one}" for one in (1, 1, 1, 2, 2)]


@pytest.mark.parametrize(
    ("innings", "mapping"),
    [
        (["T 1", "T 3", "B 7", "T 1", "T 2"], {**SPLIT, **HALVES}),
        (["1.0", "3.0", "7.0", "1.0", "2.0"], {"columns": {"inn": "inning"}}),
        (
            ["1st", "3rd", "7th", "1st", "2nd"],
            {
                "columns": {"inn": "inning"},
                "words": {"inning": {"1st": "1", "2nd": "2", "3rd": "3", "7th": "7"}},
            },
        ),
        (["1", "7", "seven", "1", "2"], {"columns": {"inn": "inning"}}),
        (["1", "7", "", "1", "2"], {"columns": {"inn": "inning"}}),
    ],
)
def test_two_games_of_a_day_stay_two_however_the_inning_is_written(
    innings: list[str], mapping: dict[str, Any]
) -> None:
    sheet = _sheet(date="2031-04-03", inn=innings, hitter="Ada", outcome="ball")
    reading = read_pitches(sheet, {**mapping, "games": {"from": ["date", "inning"]}})
    assert reading.table["game"].tolist() == TWO


@pytest.mark.parametrize("name", ["Inning", "INNING", "Inn", "inn", "inning"])
def test_the_column_of_the_inning_is_the_inning_by_whatever_name(name: str) -> None:
    sheet = _sheet(Date="2031-04-03", Inn=["1", "3", "7", "1", "2"], hitter="Ada", outcome="ball")
    if name.casefold() == "inning":
        sheet = sheet.rename(columns={"Inn": "Inning"})
    columns = {"columns": {"Inn": "inning"}} if "Inn" in sheet else {}
    reading = read_pitches(sheet, {**columns, "games": {"from": ["DATE", name]}})
    assert reading.table["game"].tolist() == TWO


def test_date_and_inning_are_what_was_read_and_not_a_column_of_that_name() -> None:
    sheet = _sheet(Day=["4/3", "04/03"], Date="Friday", hitter="Ada", outcome="ball")
    mapping = {"columns": {"Day": "date"}, "keep": ["Date"], "file": {"date_format": "%m/%d"}}
    reading = read_pitches(sheet, {**mapping, "games": {"from": ["Date"]}}, year=2031)
    assert reading.table["game"].tolist() == ["2031-04-03", "2031-04-03"]


# fill-down


@pytest.mark.parametrize(
    ("parts", "told"),
    [
        (["Opp"], {"Opp": ["Owls", "Owls", "Larks", "Larks"]}),
        (["inning"], {"inning": ["1", "7", "1", "1"]}),
        (["inning"], {"inning": ["1.0", "7.0", "1.0", "1.0"]}),
        (["Inning"], {"Inning": ["1", "7", "1", "1"]}),
    ],
)
def test_nothing_is_filled_beyond_any_part_of_a_game(parts: list[str], told: dict[str, list[str]]) -> None:
    sheet = _sheet(date="2031-04-03", **told, hitter=["Ada", "", "", "Bea"], outcome="ball")
    reading = read_pitches(sheet, {"fill_down": ["hitter"], "games": {"from": ["date", *parts]}})
    assert reading.table["hitter"].tolist() == ["Ada", "Ada", "Bea"]
    assert reading.set_aside["row"].tolist() == [3]


@pytest.mark.parametrize("column", ["outcome", "result", "pitch", "speed_mph", "balls"])
def test_only_what_is_written_once_for_several_pitches_is_filled_down(column: str) -> None:
    with pytest.raises(ReadingError, match=f"'{column}' is not a column that is filled down"):
        read_pitches(_sheet(hitter=["Ada"], outcome="ball"), {"fill_down": [column]})


# merged cells


def _merged(path: Path, names: list[str], merge: tuple[int, int, int, str], rows: list[list[str]]) -> Path:
    import xlsxwriter

    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("One")
        for at, row in enumerate([names, *rows]):
            sheet.write_row(at, 0, row)
        first, last, column, text = merge
        sheet.merge_range(first, column, last, column, text)
    return path


def test_an_outcome_that_is_merged_over_rows_came_once(tmp_path: Path) -> None:
    rows = [["Ada", ""], ["Ada", ""], ["Ada", ""], ["Bea", "foul"]]
    path = _merged(tmp_path / "one.xlsx", ["hitter", "outcome"], (1, 3, 1, "ball"), rows)
    reading = read_pitches(path, most_set_aside=1)
    assert reading.table["outcome"].tolist() == ["ball", "foul"]
    assert reading.set_aside["row"].tolist() == [3, 4]
    (alert,) = reading.report.alerts
    assert alert.startswith("outcome: 1 merged cell(s), the first at one.xlsx, One, row 2:")


def test_a_merged_name_is_of_each_of_its_rows_by_whatever_heading(tmp_path: Path) -> None:
    rows = [["", "ball"], ["", "foul"], ["Bea", "ball"]]
    path = _merged(tmp_path / "one.xlsx", ["Batter", "outcome"], (1, 2, 0, "Ada"), rows)
    reading = read_pitches(path, {"columns": {"Batter": "hitter"}})
    assert reading.table["hitter"].tolist() == ["Ada", "Ada", "Bea"]
    assert "Batter: 1 merged cell(s)" in " ".join(reading.report.assumed)
    assert not reading.report.alerts


def test_a_merged_opponent_is_of_each_of_its_rows_where_it_makes_the_game(tmp_path: Path) -> None:
    rows = [["Ada", "ball", ""], ["Ada", "foul", ""], ["Bea", "ball", "Larks"]]
    path = _merged(tmp_path / "one.xlsx", ["hitter", "outcome", "Opp"], (1, 2, 2, "Owls"), rows)
    games = {"games": {"from": ["Opp"]}}
    assert read_pitches(path, games).table["game"].tolist() == ["Owls", "Owls", "Larks"]
    kept = read_pitches(path, {"keep": ["Opp"]})
    assert kept.table["Opp"].fillna("").tolist() == ["Owls", "", "Larks"]
    assert "Opp: 1 merged cell(s)" in " ".join(kept.report.alerts)


def test_merged_cells_of_two_sheets_keep_their_rows(tmp_path: Path) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "two.xlsx") as book:
        for name, columns in (("A", ["hitter", "outcome"]), ("B", ["outcome", "hitter"])):
            sheet = book.add_worksheet(name)
            sheet.write_row(0, 0, columns)
            for row in range(1, 4):
                sheet.write_string(row, columns.index("outcome"), "ball")
            place = columns.index("hitter")
            sheet.write_string(1 if name == "B" else 3, place, f"{name} one")
            sheet.merge_range(*((2, place, 3, place) if name == "B" else (1, place, 2, place)), f"{name} two")
    reading = read_pitches(tmp_path / "two.xlsx")
    assert reading.table["hitter"].tolist() == ["A two", "A two", "A one", "B one", "B two", "B two"]


def test_names_of_columns_in_merged_cells_are_read(tmp_path: Path) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "one.xlsx") as book:
        sheet = book.add_worksheet("One")
        sheet.merge_range(0, 0, 1, 0, "hitter")
        sheet.merge_range(0, 1, 0, 2, "The pitch")
        sheet.write_row(1, 1, ["pitch_kind", "outcome"])
        sheet.write_row(2, 0, ["Ada", "slider", "ball"])
    reading = read_pitches(tmp_path / "one.xlsx")
    assert reading.table[["hitter", "pitch_kind", "outcome"]].to_numpy().tolist() == [
        ["Ada", "slider", "ball"]
    ]


def test_a_club_that_is_merged_over_its_players_in_a_roster_is_theirs(tmp_path: Path) -> None:
    rows = [["12", "Ada Frusk", ""], ["7", "Bea Plome", ""], ["12", "Cy Drul", "Owls"]]
    path = _merged(tmp_path / "roster.xlsx", ["number", "name", "club"], (1, 2, 2, "Larks"), rows)
    sheet = _sheet(hitter=["12", "7", "12"], club=["Larks", "Larks", "Owls"], outcome="ball")
    assert read_pitches(sheet, roster=path).table["hitter"].tolist() == ["Ada Frusk", "Bea Plome", "Cy Drul"]
