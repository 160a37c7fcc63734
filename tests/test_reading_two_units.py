"""Speeds of two units in one column: found by game, by row and beyond the bounds, and never invented."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.charting import add_to_season
from hitlab.cli.commands import run
from hitlab.pitches import write_checked
from hitlab.pitches.opening import doubts_of
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.speeds import in_two_units, speeds_in

IN_A_MILE = {"km/h": 1.609344, "m/s": 0.44704}
SEEM = "seem to stand in"


@pytest.fixture(scope="module")
def charted() -> pd.DataFrame:
    """Thirty games of the demo season: some 1,600 balls in play, as a club's season has."""
    season = pd.read_parquet(hitlab.demo_season())
    return season[season["game"].isin(season["game"].unique()[:30])].reset_index(drop=True)


def _mixed(table: pd.DataFrame, column: str, unit: str, of: str) -> pd.DataFrame:
    rng = np.random.default_rng(12)
    games = rng.permutation(table["game"].unique())
    picked = {
        "a game": table["game"].isin(games[:1]),
        "a tenth of the games": table["game"].isin(games[:3]),
        "half of the games": table["game"].isin(games[:15]),
        "a tenth of the rows": rng.random(len(table)) < 0.1,
        "half of the rows": rng.random(len(table)) < 0.5,
    }[of]
    written = (table[column] * IN_A_MILE[unit]).round(1)
    return table.assign(**{column: table[column].where(~picked, written)})


@pytest.mark.parametrize("column", ["exit_mph", "speed_mph"])
@pytest.mark.parametrize("unit", ["km/h", "m/s"])
@pytest.mark.parametrize(
    "of",
    ["a game", "a tenth of the games", "half of the games", "a tenth of the rows", "half of the rows"],
)
def test_a_mixture_is_found_and_travels(charted: pd.DataFrame, column: str, unit: str, of: str) -> None:
    report = read_pitches(_mixed(charted, column, unit, of)).report
    for told in (report.alerts, report.cannot_tell, report.doubts.said):
        assert [one for one in told if one.startswith(column) and SEEM in one], (column, told)
        other = {"exit_mph": "speed_mph", "speed_mph": "exit_mph"}[column]
        assert not [one for one in told if one.startswith(other)]


@pytest.mark.parametrize("of", ["a game", "half of the games", "half of the rows"])
def test_miles_among_kilometres_are_found(charted: pd.DataFrame, of: str) -> None:
    given = _mixed(charted, "exit_mph", "km/h", of)
    miles = given["exit_mph"] == charted["exit_mph"]
    turned = charted["exit_mph"].where(~miles, charted["exit_mph"] * IN_A_MILE["km/h"])
    for odd in (given, charted.assign(exit_mph=turned)):  # a game in miles, a game in kilometres
        report = read_pitches(odd, {"units": {"exit_mph": "km/h"}}).report
        assert any(SEEM in one for one in report.alerts)


def test_the_game_is_named_with_what_it_looks_like(charted: pd.DataFrame) -> None:
    (said,) = read_pitches(_mixed(charted, "exit_mph", "m/s", "a game")).report.alerts
    assert "as m/s are to mph: speeds of two units seem to stand in one column. If they do" in said
    assert said.startswith("exit_mph is in game-")
    assert "0.4" in said


def test_speeds_in_one_unit_say_nothing(charted: pd.DataFrame) -> None:
    one_unit = {"exit_mph": "km/h", "speed_mph": "km/h"}
    turned = charted.assign(**{name: charted[name] * IN_A_MILE["km/h"] for name in one_unit})
    bare = charted.drop(columns=["game", "bunt", "level", "plate_appearance", "pitch"])
    first = charted[charted["game"] == charted["game"].iloc[0]]
    for table, mapping in ((charted, None), (turned, {"units": one_unit}), (bare, None), (first, None)):
        report = read_pitches(table, mapping).report
        assert report.odd_speeds == ()
        assert report.alerts == ()


def test_two_kinds_of_pitches_are_no_second_unit_in_a_saved_table_either(tmp_path: Path) -> None:
    rng, rows = np.random.default_rng(1), 4000
    fast = rng.random(rows) < 0.6
    pitches = {
        "hitter": "Ada Frusk",
        "outcome": "ball",
        "game": [f"g{row // 400}" for row in range(rows)],
        "pitch_kind": np.where(fast, "fastball", "changeup"),
        "speed_mph": np.where(fast, rng.normal(70, 1.5, rows), rng.normal(44, 1.5, rows)).round(1),
    }
    reading = read_pitches(pd.DataFrame(pitches))
    assert reading.report.alerts == ()
    assert doubts_of(write_checked(reading, tmp_path / "whole.parquet")).said == ()
    without = {name: column for name, column in pitches.items() if name != "pitch_kind"}
    assert any(SEEM in said for said in read_pitches(pd.DataFrame(without)).report.alerts)


def test_999_for_none_and_two_levels_are_no_second_unit(charted: pd.DataFrame) -> None:
    none = charted["outcome"] == "ball"
    report = read_pitches(charted.assign(exit_mph=charted["exit_mph"].mask(none, 999.0))).report
    assert report.odd_speeds == ()
    young = charted["game"].isin(charted["game"].unique()[:10])
    slower = {name: charted[name].mask(young, charted[name] / 1.61) for name in ("exit_mph", "speed_mph")}
    levels = np.where(young, "youth", "professional")
    assert read_pitches(charted.assign(**slower, level=levels)).report.odd_speeds == ()


@pytest.mark.parametrize(("slow", "kinds"), [(40, True), (44, True), (45, False), (46, False), (50, False)])
def test_fast_and_slow_balls_of_one_pitcher_are_one_unit(slow: float, kinds: bool) -> None:
    """Two heaps that are to each other nearly as mph to km/h, and stand in one unit.

    Nearer than 45 to 65 nothing but the kind of pitch tells them from two units.
    """
    silent = 0
    for seed in range(20):
        rng = np.random.default_rng(seed)
        speeds = np.concatenate([rng.normal(65, 2.5, 225), rng.normal(slow, 2, 75)]).round(1)
        frame = pd.DataFrame({"hitter": "Ada", "outcome": "ball", "speed_mph": speeds})
        if kinds:
            frame["pitch_kind"] = ["fastball"] * 225 + ["offspeed"] * 75
        silent += read_pitches(frame).report.odd_speeds == ()
    assert silent == 20


def test_odd_columns_are_no_error() -> None:
    rng = np.random.default_rng(3)
    odd = [[1.0] * 40 + [468.0] * 60, [1e-300] * 50, [1e300] * 50, rng.uniform(1, 130, 50), [95.0] * 50]
    for speeds in odd:
        frame = pd.DataFrame({"hitter": "Ada", "outcome": "in play", "exit_mph": speeds})
        assert read_pitches(frame).report.odd_speeds == ()


def test_it_goes_into_files_and_answers(charted: pd.DataFrame, tmp_path: Path) -> None:
    mixed = _mixed(charted, "exit_mph", "m/s", "a tenth of the games")
    reading = read_pitches(mixed)
    path = tmp_path / "season.parquet"
    write_checked(reading, path)
    assert doubts_of(path).said == reading.report.doubts.said
    for table in (reading, path):
        claim = hitlab.check_leads(table, mixed["hitter"].iloc[0])
        assert SEEM in str(claim), str(claim)


def test_a_file_in_another_unit_is_found_in_the_season_that_it_is_added_to(
    charted: pd.DataFrame, tmp_path: Path
) -> None:
    games = charted["game"].unique()
    plain = charted[charted["game"].isin(games[:6])]
    added = charted[charted["game"].isin(games[6:8])]
    added = added.assign(exit_mph=added["exit_mph"] * IN_A_MILE["m/s"])
    season = tmp_path / "season.parquet"
    add_to_season(season, plain)
    assert not any(SEEM in one for one in doubts_of(season).said)
    add_to_season(season, added)
    assert any(SEEM in one for one in doubts_of(season).said)
    whole = read_pitches(pd.concat([plain, added])).report.doubts
    assert doubts_of(season).said == whole.said


def test_the_command_looks_at_it_first(charted: pd.DataFrame, tmp_path: Path, capsys) -> None:
    path = tmp_path / "mixed.csv"
    _mixed(charted, "exit_mph", "km/h", "a game").to_csv(path, index=False)
    assert run(["read", str(path)]) == 3
    said = capsys.readouterr().out
    assert said.index("Look at this first") < said.index("as km/h are to mph") < said.index("Columns used")


@pytest.mark.slow
def test_no_league_in_one_unit_is_suspected() -> None:
    for seed in range(200):
        pitches = hitlab.league.make_season(hitters=40, clubs=4, pitches=3000, seed=seed).pitches
        games = pitches["game"].unique()
        for some in (pitches, pitches[pitches["game"] == games[0]], pitches.drop(columns="game")):
            assert in_two_units(speeds_in(some.reset_index(drop=True))) == ()
