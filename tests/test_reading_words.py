"""Words of a mapping are matched whole: patterns are refused, and words that never occurred are listed."""

from __future__ import annotations

import tomllib
from typing import Any

import pandas as pd
import pytest

import hitlab
from hitlab.errors import ReadingError
from hitlab.pitches.reading import Reading, read_pitches


def _read(outcomes: dict[str, Any], cells: list[str], **more: Any) -> Reading:
    frame = pd.DataFrame({"hitter": "Ada", "What": cells})
    return read_pitches(
        frame,
        {"columns": {"What": "outcome"}, **more, "words": {"outcome": outcomes, **more.get("words", {})}},
    )


def test_a_pattern_is_refused_with_the_lines_that_it_was_meant_for() -> None:
    with pytest.raises(ReadingError) as error:
        _read({"GB*": "in play", "K": "whiff"}, ["GB6", "gb6 ", "GB3", "GBP", "K", "ball"])
    text = str(error.value)
    for words in (
        "In the mapping, [words.outcome] 'GB*': words are matched whole",
        "'GB*' never occurs in 'What' of the pandas data frame",
        "* and ? stand for themselves",
    ):
        assert words in text
    lines = text.partition("such as: ")[2].rstrip(".").replace("; ", "\n")
    assert tomllib.loads(lines) == {"GB6": "in play", "GB3": "in play", "GBP": "in play"}


@pytest.mark.parametrize(
    ("word", "cells", "listed"),
    [
        ("GB?", ["GB6", "GB66", "ball"], '"GB6" = "in play".'),
        ("*", ["ball", "oops", "whiff"], '"oops" = "in play".'),  # what is known by itself needs no line
        ("F?.*", ["F8.x", "Fyx", "ball"], '"F8.x" = "in play".'),  # a dot is a dot
        ("GB*", ["ball", "LD7"], "Nothing in it is like that; take the line out."),
    ],
)
def test_what_a_pattern_would_stand_for(word: str, cells: list[str], listed: str) -> None:
    with pytest.raises(ReadingError) as error:
        _read({word: "in play"}, cells)
    assert str(error.value).endswith(listed)


def test_stars_and_question_marks_that_occur_are_words_like_others() -> None:
    reading = _read({"K*": "whiff", "hit?": "in play"}, ["k*", "Hit? ", "K*"])
    assert reading.table["outcome"].tolist() == ["whiff", "in play", "whiff"]
    assert reading.report.unseen == {}


def test_a_question_mark_alone_is_how_sheets_write_not_known() -> None:
    reading = _read({"?": "", "??": ""}, ["ball"], file={"missing": ["?"]})
    assert reading.report.unseen == {"outcome": ("?", "??")}


def test_patterns_are_refused_in_flags_and_among_the_words_for_missing_too() -> None:
    frame = pd.DataFrame(
        {"hitter": "Ada", "outcome": "foul", "hard": ["x1", "x2"], "speed_mph": ["n/a 1", "90"]}
    )
    with pytest.raises(ReadingError, match=r'\[words\.hard\] \'x\*\'.*"x1" = true; "x2" = true\.$'):
        read_pitches(frame, {"words": {"hard": {"x*": True}}})
    with pytest.raises(ReadingError, match=r"\[file\] missing 'n/a\*'.*\"n/a 1\"\.$"):
        read_pitches(frame, {"words": {"hard": {"x1": True, "x2": False}}, "file": {"missing": ["n/a*"]}})


def test_words_that_never_occurred_are_listed_and_harm_nothing() -> None:
    reading = _read(
        {"K": "whiff", "Wiff": "whiff", "": ""},
        ["k", "ball"],
        words={"foul_side": {"L": "pull"}},
        file={"missing": ["-"]},
    )
    assert reading.report.unseen == {"outcome": ("Wiff",), "foul_side": ("L",)}
    text = str(reading.report)
    assert (
        "Words of the mapping that never occurred:\n"
        "  outcome: Wiff\n"
        "  foul_side, which no column here fills: L\n" in text
    )
    table = reading.report.table()
    listed = table[table["topic"] == "word never seen"]
    assert listed[["item", "note"]].to_numpy().tolist() == [
        ["outcome: Wiff", ""],
        ["foul_side: L", "no column fills it"],
    ]


def test_a_category_without_rows_did_not_occur() -> None:
    frame = pd.DataFrame(
        {"hitter": "Ada", "outcome": pd.Categorical(["K", "ball"], categories=["K", "ball", "Wiff", "GB*"])}
    )
    read = {"words": {"outcome": {"K": "whiff", "Wiff": "whiff"}}}
    assert read_pitches(frame, read).report.unseen == {"outcome": ("Wiff",)}
    with pytest.raises(ReadingError, match="matched whole"):
        read_pitches(frame, {"words": {"outcome": {"K": "whiff", "GB*": "in play"}}})


def test_the_demo_week_had_no_triple_and_no_sacrifice_bunt() -> None:
    report = hitlab.read_pitches("data_demo/week.csv", "data_demo/week.toml").report
    assert report.unseen == dict.fromkeys(("outcome", "result"), ("three bases", "bunted him over"))
    assert not {"triple", "sacrifice bunt"} & set(
        report.words.loc[report.words["column"] == "result", "word"]
    )
