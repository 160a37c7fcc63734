"""Pitches and plate appearances numbered from 0: all are read, in order, and a slip stays a slip."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.pitches.reading import read_pitches

KEY = ["game", "plate_appearance", "pitch"]


@pytest.fixture(scope="module")
def week() -> pd.DataFrame:
    season = pd.read_parquet(hitlab.demo_season())
    games = season["game"].unique()[:6]
    return season[season["game"].isin(games)].reset_index(drop=True)


def _from_zero(table: pd.DataFrame, *columns: str) -> pd.DataFrame:
    return table.assign(**{name: table[name] - 1 for name in columns})


@pytest.mark.parametrize("columns", [["pitch"], ["plate_appearance"], ["plate_appearance", "pitch"]])
@pytest.mark.parametrize("order", ["as played", "newest first"])
def test_a_file_numbered_from_0_reads_as_one_numbered_from_1(
    week: pd.DataFrame, tmp_path: Path, columns: list[str], order: str
) -> None:
    right = week if order == "as played" else week.iloc[::-1].reset_index(drop=True)
    path = tmp_path / "charted.csv"
    _from_zero(right, *columns).to_csv(path, index=False)
    reading = read_pitches(path)
    plain = tmp_path / "plain.csv"
    right.to_csv(plain, index=False)
    pd.testing.assert_frame_equal(reading.table, read_pitches(plain).table)
    assert reading.report.rows_set_aside == 0
    assert len(reading.report.contradictions) == 0
    said = [one for one in reading.report.assumed if "begins with 0" in one]
    assert said == [
        f"{name} begins with 0: it is numbered from 1 here, each of its numbers there one higher."
        for name in columns
    ]


def test_only_the_games_that_begin_with_0_are_numbered_anew(week: pd.DataFrame) -> None:
    some = week["game"].isin(week["game"].unique()[:2])
    mixed = pd.concat([_from_zero(week[some], *KEY[1:]), week[~some]], ignore_index=True)
    reading = read_pitches(mixed)
    assert reading.table[KEY[1:]].to_numpy().tolist() == week[KEY[1:]].to_numpy().tolist()
    assert "pitch begins with 0 in 2 of 6 games" in str(reading.report)


def test_the_count_is_rebuilt_by_numbers_from_0(week: pd.DataFrame) -> None:
    given = _from_zero(week, "pitch").drop(columns=["balls", "strikes"])
    table = read_pitches(given, {"count": {"from": "order"}}).table
    assert table["balls"].tolist() == week["balls"].tolist()
    assert table["strikes"].tolist() == week["strikes"].tolist()


@pytest.mark.parametrize("column", ["plate_appearance", "pitch"])
def test_a_0_among_numbers_from_1_is_a_slip_and_its_row_waits(week: pd.DataFrame, column: str) -> None:
    tenth = np.flatnonzero((week["plate_appearance"] == 10) & (week["pitch"] == 2))[:3]
    slipped = week.copy()
    slipped.loc[tenth, column] = 0
    reading = read_pitches(slipped)
    assert reading.report.rows_set_aside == len(tenth) == 3
    assert reading.set_aside["row"].tolist() == (tenth + 1).tolist()
    assert not any("begins with 0" in one for one in reading.report.assumed)


def test_a_slip_in_a_game_of_three_plate_appearances_is_a_slip() -> None:
    given = pd.DataFrame(
        {
            "hitter": "Ada Frusk",
            "outcome": "foul",
            "game": "g1",
            "plate_appearance": [1, 1, 1, 2, 2, 2, 3, 3, 3],
            "pitch": [1, 2, 3, 0, 2, 3, 1, 2, 3],
        }
    )
    reading = read_pitches(given)
    assert reading.report.rows_set_aside == 1
    assert reading.table["pitch"].tolist() == [1, 2, 3, 2, 3, 1, 2, 3]


def test_swings_alone_that_are_numbered_from_0(week: pd.DataFrame) -> None:
    swings = week[week["outcome"].isin(["whiff", "foul", "foul tip", "in play"])].reset_index(drop=True)
    reading = read_pitches(_from_zero(swings, "pitch"))
    assert reading.report.rows_set_aside == 0
    assert reading.table["pitch"].tolist() == swings["pitch"].tolist()


def test_a_table_without_games_is_judged_as_one(week: pd.DataFrame) -> None:
    reading = read_pitches(_from_zero(week, "pitch").drop(columns=["game", "plate_appearance"]))
    assert reading.report.rows_set_aside == 0
    assert reading.table["pitch"].tolist() == week["pitch"].tolist()
