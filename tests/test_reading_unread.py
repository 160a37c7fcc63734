"""Columns of which many cells could not be read: said first, with the mend, though every row is kept."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from hitlab.cli.commands import run
from hitlab.pitches.reading import Reading, read_pitches


def _read(column: str, cells: list[str], mapping: dict | None = None) -> Reading:
    return read_pitches(pd.DataFrame({"hitter": "Ada", "outcome": "in play", column: cells}), mapping)


@pytest.mark.parametrize(
    ("column", "cells", "words"),
    [
        ("exit_mph", ["95,5", "88,1", "101,0", "77,7"], 'in 4 of 4 cells, .* decimal = "," in the mapping'),
        (
            "exit_mph",
            ["95.5", "88.1", "~101", "90+"],
            "in 2 of 4 cells, which count as missing, such as '~101'",
        ),
        ("pitch_kind", ["SL", "SL", "slider", ""], "in 2 of 3 cells, .*'SL'"),
        ("date", ["May the 4th", "2031-05-04", "", ""], "in 1 of 2 cells"),
        ("runs", ["7", "8", "1", "0"], "in 2 of 4 cells"),
    ],
)
def test_many_cells_that_cannot_be_read_are_said_first(column: str, cells: list[str], words: str) -> None:
    report = _read(column, cells).report
    assert report.rows_kept == 4
    (said,) = report.alerts
    assert said.startswith(f"{column} could not be read in")
    assert pd.Series([said]).str.contains(words).all(), said


def test_cells_that_hold_several_values_too() -> None:
    mapping = {"split": {"count": {"into": ["balls", "strikes"]}}}
    (said,) = _read("count", ["1:2", "0:0", "1-1", "3:2"], mapping).report.alerts
    assert said.startswith("balls, strikes could not be read in 3 of 4 cells")


@pytest.mark.parametrize("nothing", ["n/a", "NaN", "-", "?", "0.0", "-1", "999"])
def test_what_stands_for_nothing_is_no_alarm(nothing: str) -> None:
    report = _read("exit_mph", [nothing, nothing, nothing, "88.1"]).report
    assert report.alerts == ()
    assert report.values_made_missing == 3


def test_one_number_in_two_spellings_stands_for_nothing() -> None:
    assert _read("exit_mph", ["-999", "-999.0", "-999", "88.1"]).report.alerts == ()


def test_speeds_of_another_unit_are_said_once() -> None:
    metres = [f"{speed:.1f}" for speed in range(142, 160)]
    report = _read("exit_mph", [*metres, "88.1", "91.0"]).report
    assert len([one for one in report.alerts if one.startswith("exit_mph")]) == 1


def test_words_beside_speeds_of_another_unit_are_said_as_well() -> None:
    fast = [f"{speed:.1f}" for speed in range(131, 171)]
    slow = [f"{70 + place / 4:.1f}" for place in range(115)]
    report = _read("exit_mph", [*fast, *["soft"] * 45, *slow]).report
    unread, above = report.alerts
    assert above.startswith("exit_mph is above 130 mph in 40 of 155 rows")
    assert unread.startswith("exit_mph could not be read in 45 of 200 cells")
    assert "'soft'" in unread
    assert "'150.0'" not in unread


def test_what_no_unit_can_mean_is_said_beside_speeds_of_another_unit() -> None:
    fast = [f"{speed:.1f}" for speed in range(131, 171)]
    slow = [f"{70 + place / 4:.1f}" for place in range(115)]
    absurd = [f"{speed}" for speed in range(9000, 9045)]
    report = _read("exit_mph", [*fast, *absurd, *slow]).report
    (unread,) = [one for one in report.alerts if "could not be read" in one]
    assert "in 45 of 200 cells" in unread
    assert "'9000'" in unread
    assert "'150.0'" not in unread


def test_slips_are_no_alarm() -> None:
    assert _read("exit_mph", [*["88.1"] * 18, "~90", "+-"]).report.alerts == ()


def test_the_command_ends_with_3(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "comma.csv"
    path.write_text("hitter;outcome;exit_mph\nAda;in play;95,5\nAda;in play;88,1\n", encoding="utf-8")
    assert run(["read", str(path)]) == 3
    said = capsys.readouterr().out
    assert "Look at this first" in said
    assert "exit_mph could not be read in 2 of 2 cells" in said


@pytest.mark.parametrize("mapping", [None, {"file": {"decimal": ","}}])
@pytest.mark.parametrize("nothing", ["999,0", "0,0", "-1,0"])
def test_one_number_with_a_comma_stands_for_nothing(nothing: str, mapping: dict | None) -> None:
    speeds = ["88,1", "91,4"] if mapping else ["88.1", "91.4"]
    report = _read("exit_mph", [nothing, nothing, *speeds], mapping).report
    assert report.alerts == ()
    assert report.values_made_missing == 2
