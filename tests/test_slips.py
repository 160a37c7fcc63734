"""A slip is mended where one reading is possible; what is no pitch, or still to be decided, is none."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest

from hitlab.pitches.chart_words import NO_PITCH
from hitlab.pitches.reading import Reading, read_pitches

MEND: dict[str, Any] = {"mend_slips": True}


def _read(words: list[str], mapping: dict[str, Any], **columns: list[str]) -> Reading:
    sheet = pd.DataFrame({"hitter": "Ada", "outcome": ["ball", *words]})
    for name, cells in columns.items():
        sheet[name] = ["", *cells]
    return read_pitches(sheet, mapping, most_set_aside=1)


@pytest.mark.parametrize("word", ["balk", "call", "wall", "fool", "bail", "fowl", "hall", "wail", *NO_PITCH])
def test_what_is_no_pitch_is_not_mended_into_one(word: str) -> None:
    near = {"words": {"timed": "ball", "stole base": "single", "wild pitcher": "ball"}}
    for mapping in (MEND, near | MEND):
        reading = _read([word], mapping)
        assert reading.set_aside["value"].tolist() == [word]
        assert reading.report.mended.empty


@pytest.mark.parametrize(
    ("word", "read_as"),
    [
        *(("foull", "foul"), ("fooul", "foul"), ("wiff", "whiff"), ("balll", "ball"), ("whfif", "whiff")),
        *(("caled strike", "called strike"), ("hit by pitc", "hit by pitch")),
    ],
)
def test_a_slip_of_one_letter_is_mended(word: str, read_as: str) -> None:
    reading = _read([word], MEND)
    assert reading.report.mended["read_as"].tolist() == [read_as]
    assert reading.table["outcome"].tolist() == ["ball", read_as]


def test_a_word_near_to_one_that_scorers_use_for_something_else_waits() -> None:
    # "flyout" stands in no mapping here, and is two letters off the first of these.
    reading = _read(["flyoft", "flyofff"], {"words": {"flyoff": "ball"}} | MEND)
    assert reading.report.mended[["value", "read_as"]].to_numpy().tolist() == [["flyofff", "flyoff"]]
    assert reading.set_aside["value"].tolist() == ["flyoft"]


@pytest.mark.parametrize(
    ("word", "undecided"),
    [
        ("foull", {"words": {"foull": "?"}}),
        ("foull", {"words": {"outcome": {"Foull": "?"}}}),
        ("foul 11", {"words": {"foul 1": "foul"}, "patterns": {"foul ##": "?"}}),
    ],
)
def test_a_word_that_somebody_has_still_to_decide_waits(word: str, undecided: dict[str, Any]) -> None:
    decided = {"words": {name: told for name, told in undecided["words"].items() if told == "foul"}}
    assert len(_read([word], {**decided, **MEND}).report.mended) == 1
    reading = _read([word], {**undecided, **MEND})
    assert reading.set_aside["value"].tolist() == [word]
    assert reading.report.unknown["word"].tolist() == [word]
    assert reading.report.mended.empty


def test_a_word_of_ours_that_is_put_in_question_waits_too() -> None:
    reading = _read(["foul", "whiff"], {"words": {"foul": "?"}})
    assert reading.set_aside["value"].tolist() == ["foul"]
    kinds = _read(
        ["foul", "foul"], {"words": {"pitch_kind": {"slider": "?"}}}, pitch_kind=["slider", "cutter"]
    )
    assert kinds.table["pitch_kind"].fillna("").tolist() == ["", "", "cutter"]


def test_the_first_pattern_that_fits_counts_also_where_it_is_undecided() -> None:
    patterns = {"patterns": {"GB 1-*": "?", "GB *": "out"}}
    reading = _read(["GB 1-3", "GB 6-3"], patterns)
    assert reading.set_aside["value"].tolist() == ["GB 1-3"]
    assert not [one for one in reading.report.alerts if "GB 1-*" in one]


def test_a_number_that_is_mended_has_to_be_one_that_can_be() -> None:
    sheet = pd.DataFrame({"hitter": "Ada", "outcome": "ball", "outs": ["l2", "l", "O", "2"]})
    reading = read_pitches(sheet, MEND, most_set_aside=1)
    assert reading.report.mended[["value", "read_as"]].to_numpy().tolist() == [["l", "1"], ["O", "0"]]
    assert reading.table["outs"].fillna(-1).astype(int).tolist() == [-1, 1, 0, 2]
    assert reading.set_aside["value"].tolist() == ["l2"]


def test_a_word_tells_besides_only_what_the_mapping_says() -> None:
    # "t" is true in a column of flags of its own, and no bunt here.
    mapping = {
        "words": {"x": "whiff, check swing", "sq": "sacrifice bunt, bunt"},
        "patterns": {"t": "foul tip"},
    }
    table = _read(["t", "x", "sq", "ball"], mapping).table
    assert table["bunt"].fillna(False).tolist() == [False, False, False, True, False]
    assert table["check_swing"].fillna(False).tolist() == [False, False, True, False, False]
    assert table["outcome"].tolist() == ["ball", "foul tip", "whiff", "in play", "ball"]


# what is proposed


def test_only_words_of_the_outcome_would_bring_rows() -> None:
    reading = _read(["blip", "foul"], {}, pitch_kind=["slyder", "floater"], result=["zap", ""])
    unknown = reading.report.unknown
    assert unknown[["column", "word", "rows"]].to_numpy().tolist() == [["outcome", "blip", 1]]


@pytest.mark.parametrize(
    ("word", "near"), [("w", ""), ("zz", ""), ("wh", ""), ("whif", "whiff"), ("balk", "")]
)
def test_to_one_or_two_letters_no_word_is_near(word: str, near: str) -> None:
    assert _read([word], {}).report.unknown["nearest"].tolist() == [near]


def test_rows_that_are_the_same_are_named_by_their_sheet(tmp_path: Any) -> None:
    one = "hitter,outcome,speed_mph\n" + "".join(f"Ada,ball,{70 + at % 20}.{at}\n" for at in range(60))
    for name in ("a", "b"):
        (tmp_path / f"{name}.csv").write_text(one)
    said = " ".join(read_pitches([tmp_path / "a.csv", tmp_path / "b.csv"]).report.cannot_tell)
    assert "60 rows are the same in every column" in said
    assert "the first of them b.csv, row 1 as a.csv, row 1:" in said


@pytest.mark.parametrize(
    ("mapping", "said"),
    [
        ({"file": {"skip": ["Legende"]}}, "[file] skip names 'Legende', and no sheet or file is called so."),
        ({"also": {"Batter": "hitter"}}, "[also] names 'Batter', and no column is called so."),
    ],
)
def test_a_name_that_is_nowhere_is_said(mapping: dict[str, Any], said: str) -> None:
    assert said in _read([], mapping).report.alerts


def test_a_column_of_a_frame_may_be_called_otherwise_too() -> None:
    sheet = pd.DataFrame({"Batter": ["Ada"], "outcome": "ball"})
    reading = read_pitches(sheet, {"also": {"Batter": "hitter"}})
    assert reading.table["hitter"].tolist() == ["Ada"]
    assert not reading.report.alerts
