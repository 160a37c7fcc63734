"""Values as sources write them: units, blanks, flags and levels, none of them lost and none bent."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pytest

import hitlab
from hitlab.pitches.dictionaries import unified
from hitlab.pitches.reading import Reading, read_pitches

# How many miles an hour one of each is, exactly: the mile is 1609.344 m by definition.
UNITS = {"km/h": Fraction(1000, 1609344) * 1000, "m/s": Fraction(3600 * 1000, 1609344)}


def _read(column: str, cells: Any, mapping: dict[str, Any] | None = None) -> Reading:
    return read_pitches(pd.DataFrame({"hitter": "Ada", "outcome": "in play", column: cells}), mapping)


def _written(mph: Fraction, unit: str, decimals: int) -> str:
    scaled = mph / UNITS[unit] * 10**decimals
    whole = int(scaled + Fraction(1, 2))
    return f"{whole // 10**decimals}.{whole % 10**decimals:0{decimals}d}" if decimals else str(whole)


@pytest.mark.parametrize(
    ("unit", "decimals", "tenths"),
    [
        ("km/h", 0, range(200, 1200, 10)),  # whole miles an hour, as thresholds are
        ("km/h", 1, range(200, 1200)),
        ("km/h", 2, range(200, 1200)),
        ("km/h", 5, range(200, 1200)),
        ("m/s", 1, range(200, 1200, 10)),
        ("m/s", 2, range(200, 1200)),
        ("m/s", 5, range(200, 1200)),
    ],
)
@pytest.mark.parametrize("numbers", [False, True])
def test_a_speed_in_another_unit_reads_as_the_speed_it_was(unit, decimals, tenths, numbers) -> None:
    cells: list[Any] = [_written(Fraction(tenth, 10), unit, decimals) for tenth in tenths]
    if numbers:
        cells = [float(cell) for cell in cells]
    table = _read("exit_mph", cells, {"units": {"exit_mph": unit}}).table
    assert table["exit_mph"].tolist() == [tenth / 10 for tenth in tenths]


@pytest.mark.parametrize("unit", ["km/h", "m/s"])
def test_numbers_of_full_precision_keep_their_side_of_a_threshold(unit: str) -> None:
    mph = np.arange(200, 1200) / 10
    read = _read("exit_mph", mph / float(UNITS[unit]), {"units": {"exit_mph": unit}}).table["exit_mph"]
    assert read.tolist() == mph.tolist()
    exact = _read("exit_mph", ["152.88768"], {"units": {"exit_mph": "km/h"}}).table["exit_mph"]
    assert exact.tolist() == [95.0]


def test_hard_balls_of_a_season_are_the_same_in_every_unit() -> None:
    frame = pd.DataFrame(
        {"hitter": "Ada", "outcome": "in play", "exit_mph": np.tile([94.9, 95.0, 95.1, 88.0, 101.3], 40)}
    )
    hard = hitlab.tally(read_pitches(frame).table).data["hard"].sum()
    assert hard == 120
    for unit, decimals in (("km/h", 1), ("km/h", 3), ("m/s", 2), ("m/s", 6)):
        cells = [_written(Fraction(round(x * 10), 10), unit, decimals) for x in frame["exit_mph"]]
        read = read_pitches(frame.assign(exit_mph=cells), {"units": {"exit_mph": unit}})
        assert hitlab.tally(read).data["hard"].sum() == hard


@pytest.mark.parametrize("unit", ["km/h", "m/s"])
@pytest.mark.parametrize("decimals", [0, 1, 2, 3])
def test_no_speed_is_moved_by_more_than_half_of_its_last_digit(unit: str, decimals: int) -> None:
    rng = np.random.default_rng(3)
    cells = [f"{x:.{decimals}f}" for x in rng.uniform(40, 52, 400) * (3.6 if unit == "km/h" else 1)]
    read = _read("exit_mph", cells, {"units": {"exit_mph": unit}}).table["exit_mph"]
    half = float(UNITS[unit]) / 2 / 10**decimals
    exact = np.array([float(Fraction(cell) * UNITS[unit]) for cell in cells])
    assert np.abs(read - exact).max() <= half * (1 + 1e-9)


def test_the_decimals_of_the_column_count_where_zeros_were_left_out() -> None:
    read = _read("exit_mph", ["161", "160.9", "152.7", "140.3", "133.1"], {"units": {"exit_mph": "km/h"}})
    assert read.table["exit_mph"].iloc[0] == pytest.approx(161 / 1.609344, abs=0.05 / 1.609344)


def test_numbers_in_four_bytes_are_what_they_were_written_as() -> None:
    read = _read("exit_mph", np.array([95.1, 100.3, 88.7], dtype=np.float32))
    assert read.table["exit_mph"].tolist() == [95.1, 100.3, 88.7]


@pytest.mark.parametrize(
    ("column", "cells", "mapping", "expected"),
    [
        ("speed_mph", ["93.0 mph", "91 MPH", "88.5mph", "87"], None, [93.0, 91.0, 88.5, 87.0]),
        ("speed_mph", ["152.9 km/h", "152.9"], {"units": {"speed_mph": "km/h"}}, [95.0, 95.0]),
        ("launch_deg", ["12.5°", "-3 deg"], None, [12.5, -3.0]),
        ("inside_in", ["3.5 in", "-2"], None, [3.5, -2.0]),
        ("speed_mph", ["93,5 mph"], {"file": {"decimal": ","}}, [93.5]),
    ],
)
def test_a_cell_may_say_the_unit_of_its_column(column, cells, mapping, expected) -> None:
    reading = _read(column, cells, mapping)
    assert reading.table[column].tolist() == expected
    assert reading.report.values_made_missing == 0


def test_a_cell_in_another_unit_than_its_column_is_not_taken_for_it() -> None:
    reading = _read("speed_mph", ["93 mph", "93 km/h"])
    assert reading.table["speed_mph"].isna().tolist() == [False, True]
    assert reading.report.reasons == {"speed_mph: in another unit than its column": 1}


def test_blanks_within_words_and_names_are_one_blank() -> None:
    frame = pd.DataFrame(
        {
            "hitter": ["Ada  Frusk", "Ada Frusk", "Ada\u00a0Frusk", " Ada \t Frusk", "Ada\u200b Frusk"],
            "outcome": ["called  strike", "in\u00a0play", "In  Play", "swing  and miss", "foul"],
            "clip": ["my  film.mp4", "", "", "", ""],
        }
    )
    reading = read_pitches(frame, {"words": {"outcome": {"swing and  miss": "whiff"}}})
    assert reading.table["outcome"].tolist() == ["called strike", "in play", "in play", "whiff", "foul"]
    assert reading.table["hitter"].unique().tolist() == ["Ada Frusk"]
    assert reading.table["clip"].iloc[0] == "my  film.mp4"  # a path is what it is


@pytest.mark.parametrize(
    "cells", [["1.0", "0.0", ""], [1.0, 0.0, None], ["1", "0", None], ["1,0", "0,0", ""]]
)
def test_flags_written_as_numbers(cells: list[Any]) -> None:
    reading = _read("bunt", cells)
    assert reading.table["bunt"].isna().tolist() == [False, False, True]
    assert reading.table["bunt"].tolist()[:2] == [True, False]
    assert reading.report.values_made_missing == 0


def _levels(cells: list[Any]) -> Reading:
    speeds = np.where(np.arange(len(cells)) % 3 == 0, 96.0, 80.0)
    frame = pd.DataFrame({"level": cells, "hitter": "Ada", "outcome": "in play", "bat": "wood"})
    return read_pitches(frame.assign(exit_mph=speeds))


def test_levels_are_words_whatever_their_capitals() -> None:
    reading = _levels(["Professional", "PROFESSIONAL ", "professional"])
    assert reading.table["level"].unique().tolist() == ["professional"]
    assert "level: Professional -> professional (1)" in str(reading.report)
    assert hitlab.tally(reading).data["hard"].sum() == 1


@pytest.mark.parametrize("slip", ["profesional", "professionall", "7", "college", "?"])
def test_one_slip_among_levels_blocks_nothing(slip: str) -> None:
    cells = ["professional"] * 6055
    cells[77] = slip
    reading = _levels(cells)
    assert reading.report.rows_kept == 6055
    assert reading.report.values_made_missing == 1
    assert reading.set_aside["row"].tolist() == [78]
    assert "[words.level]" in reading.set_aside["accepted"][0]
    assert hitlab.tally(reading).data["hard"].sum() == 2019


def test_a_level_that_the_mapping_explains_is_none() -> None:
    frame = pd.DataFrame({"hitter": "Ada", "outcome": "foul", "level": ["professional"] * 500 + ["college"]})
    reading = read_pitches(frame, {"words": {"level": {"college": "college"}}})
    assert reading.table["level"].tolist()[-1] == "college"
    assert reading.report.values_made_missing == 0


def test_levels_that_were_played_stay_apart() -> None:
    reading = _levels(["professional"] * 900 + ["college"] * 100 + ["AA"] * 50)
    assert reading.table["level"].value_counts().to_dict() == {"professional": 900, "college": 100, "AA": 50}


def test_a_minus_of_a_printer_and_wide_digits_are_numbers() -> None:
    cells = ["\u22121.5", "\u20132", "\uff0d\uff13\uff0e\uff15", "\uff11\uff10", "-4"]
    assert _read("launch_deg", cells).table["launch_deg"].tolist() == [-1.5, -2.0, -3.5, 10.0, -4.0]
    odd = _read("launch_deg", ["8\u00b2", "1\u20132", "\u2013", "\u00bd", "\u0663"])
    assert odd.table["launch_deg"].isna().all()  # a power, a span, a dash and a half are no such numbers
    assert odd.report.values_made_missing == 5


def test_texts_that_lie_at_one_place_are_not_looked_through_again():
    """Arrow would, once for every chunk: of a path for every pitch that took longer than to read them."""
    chunks = [pa.array(texts).dictionary_encode() for texts in (["a.mp4", None], ["b.mp4", "a.mp4"])]
    apart = pa.chunked_array(chunks)
    together = unified(apart)
    assert [chunk.dictionary.to_pylist() for chunk in together.chunks] == [["a.mp4", "b.mp4"]] * 2
    assert together.to_pylist() == apart.to_pylist()
    assert unified(together) is together
    # Others of the same texts lie elsewhere.

    texts = pa.array(["a.mp4", "b.mp4", "c.mp4"])
    some = [pa.DictionaryArray.from_arrays(pa.array([0, 1]), texts.slice(at, 2)) for at in (0, 1)]
    assert unified(pa.chunked_array(some)).to_pylist() == ["a.mp4", "b.mp4", "b.mp4", "c.mp4"]


@pytest.mark.parametrize("given", [{}, {"file": {"missing": ["none"]}}, {"words": {"clip": {"b": "c.mp4"}}}])
def test_paths_of_clips_stay_as_they_are(given):
    """The quick way for a path a pitch, and the way of all other cells, which words ask for."""
    frame = pd.DataFrame(
        {
            "hitter": ["Ada Frusk"] * 5,
            "outcome": ["ball"] * 5,
            "clip": ["  two  words/é.mp4 ", "", " ", "none", "b"],
        }
    )
    clips = read_pitches(frame, given).table["clip"].tolist()
    usual = ["two  words/é.mp4", None, None, "none", "b"]
    expected = {"file": [*usual[:3], None, "b"], "words": [*usual[:4], "c.mp4"]}
    assert [None if pd.isna(one) else one for one in clips] == expected.get(next(iter(given), ""), usual)
