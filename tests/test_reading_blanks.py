"""What an empty cell means where only ticks were written: asked, answered in the mapping, never guessed."""

from __future__ import annotations

import tomllib
from typing import Any

import pandas as pd
import pytest

import hitlab
from hitlab.errors import ReadingError
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.reading import Reading, read_pitches

TICKS = {"words": {"hard": {"x": True}}}


def _sheet(**columns: Any) -> pd.DataFrame:
    """Two hitters' swings and takes, with a tick at each ball that was hit hard."""
    rows = [("Ada", "in play", "x")] * 2 + [("Ada", "in play", None)] * 14 + [("Ada", "foul", "")] * 10
    rows += [("Ada", "whiff", None)] * 10 + [("Ada", "ball", None)] * 20
    rows += [("Bo", "in play", "X"), ("Bo", "foul", " ")] + [("Bo", "in play", None)] * 19
    rows += [("Bo", "foul", None)] * 9 + [("Bo", "foul tip", None), ("Bo", "called strike", None)]
    return pd.DataFrame(rows, columns=["hitter", "outcome", "hard"]).assign(**columns)


def _read(frame: pd.DataFrame, **more: Any) -> Reading:
    return read_pitches(frame, {**TICKS, **more})


def test_ticks_and_blanks_are_asked_about_and_nothing_is_guessed() -> None:
    reading = _read(_sheet())
    assert reading.table["hard"].sum() == 3
    assert not (reading.table["hard"] == False).any()  # noqa: E712  (missing is not false)
    (question,) = reading.report.questions
    assert question.startswith(
        'What does a blank in hard mean? All that was ever written there is "x" and "X", for hard (3 times); '
        "33 balls in play and 20 fouls are blank. Until the mapping says it they stay unknown and no rate of "
        "hard balls can be given, for nothing was recorded as not hard."
    )
    text = str(reading)
    assert "Questions that the mapping has to answer:\n  What does a blank in hard mean?" in text
    assert "What does a blank in hard mean?" in reading.report._repr_html_()
    table = reading.report.table()
    assert table.loc[table["topic"] == "question", "item"].tolist() == [question]


def test_the_lines_of_the_question_are_lines_of_a_mapping_that_answer_it() -> None:
    (question,) = _read(_sheet()).report.questions
    answers = [
        tomllib.loads(part.strip()) for part in question.partition("Write in the mapping:")[2].split("or\n")
    ]
    assert answers == [{"blanks": {"hard": False}}, {"blanks": {"hard": "unknown"}}]
    for answer in answers:
        assert _read(_sheet(), **answer).report.questions == ()


def test_a_blank_that_means_not_hard_is_false_on_contact_only() -> None:
    reading = _read(_sheet(), blanks={"hard": False})
    table = reading.table
    struck = table["outcome"].isin(["in play", "foul"])
    assert table.loc[struck, "hard"].notna().all()
    assert table.loc[struck, "hard"].astype(bool).sum() == 3
    assert table.loc[~struck, "hard"].isna().all()
    assert (
        "A blank in hard means not hard, as the mapping says: 33 balls in play and 20 fouls became false; on "
        "other pitches a blank says nothing." in reading.report.assumed
    )
    counts = hitlab.tally(reading)
    hard = counts.column("hard").sum() / counts.column("swings").sum()
    # Three hard balls in 36 swings of Ada's and 31 of Bo's, counted by hand from _sheet().
    assert hard == pytest.approx(3 / (36 + 31))
    assert counts.column("unmeasured").sum() == 0


def test_a_blank_that_was_not_judged_stays_missing_and_gives_no_rate() -> None:
    reading = _read(_sheet(), blanks={"hard": "unknown"})
    assert reading.table["hard"].sum() == 3
    assert reading.table["hard"].isna().sum() == len(reading.table) - 3
    assert (
        "A blank in hard was not judged, as the mapping says: 33 balls in play and 20 fouls stay unknown. "
        "Nothing was ever recorded as not hard, so no rate of hard balls can be given."
        in reading.report.assumed
    )


@pytest.mark.parametrize(
    ("change", "asked"),
    [
        ({"hard": ["x", "no", *[None] * 86]}, False),  # both were recorded: a blank is one that nobody judged
        ({"hard": None}, False),  # nothing was recorded at all
        ({"hard": [*["x"] * 16, *[None] * 72], "outcome": [*["in play"] * 16, *["ball"] * 72]}, False),
        ({"exit_mph": 80.0}, False),  # the speed tells
        ({"exit_mph": [80.0, *[None] * 87]}, True),  # it tells of one ball only
        ({"hard": [True, *[None] * 87]}, True),
    ],
)
def test_only_blanks_that_leave_a_rate_open_are_asked_about(change: dict[str, Any], asked: bool) -> None:
    assert bool(_read(_sheet(**change)).report.questions) is asked


def test_a_word_for_not_known_is_no_blank() -> None:
    frame = _sheet()
    frame.loc[frame["outcome"] == "foul", "hard"] = "-"
    reading = _read(frame, file={"missing": ["-"]}, blanks={"hard": False})
    assert reading.table.loc[frame["outcome"] == "foul", "hard"].isna().all()
    assert "33 balls in play became false" in " ".join(reading.report.assumed)


def test_the_column_is_called_what_the_source_calls_it() -> None:
    frame = _sheet().rename(columns={"hard": "Loud"})
    (question,) = _read(frame, columns={"Loud": "hard"}).report.questions
    assert question.startswith("What does a blank in Loud mean?")
    assert "\n  hard = false" in question


def test_a_swing_flag_of_ticks_alone_is_said_to_be_compared_in_part() -> None:
    frame = pd.DataFrame({"hitter": "A", "outcome": ["whiff", "ball", "foul"], "Went": ["x", None, None]})
    mapping: dict[str, Any] = {"columns": {"Went": "swing"}, "words": {"swing": {"x": True}}}
    reading = read_pitches(frame, mapping)
    sentence = (
        'All that was ever written in Went is "x", for a swing: the 2 pitches with a blank are not compared '
        'with the outcome. If a blank means no swing, write in the mapping: [words.swing] "" = false'
    )
    assert sentence in reading.report.assumed
    mapping["words"]["swing"][""] = False
    reading = read_pitches(frame, mapping)
    assert sentence not in reading.report.assumed
    assert reading.report.contradictions["row"].tolist() == [3]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ({"blanks": {"hard": "no"}}, ["[blanks] hard", "'no'", 'false (not hard) or "unknown" (not judged)']),
        ({"blanks": {"hard": True}}, ["[blanks] hard", "True"]),
        ({"blanks": {"bunt": False}}, ["[blanks]", "'bunt'", "Accepted: hard"]),
        ({"blanks": {"hard": False}, "words": {"hard": {"": False}}}, ["[blanks] hard", "said twice"]),
        ({"blanks": False}, ["[blanks]", "section"]),
    ],
)
def test_a_slip_in_blanks_is_named(content: dict, words: list[str]) -> None:
    with pytest.raises(ReadingError) as error:
        load_mapping(content)
    for word in words:
        assert word in str(error.value)


def test_the_demo_week_leaves_no_question() -> None:
    week = hitlab.read_pitches("data_demo/week.csv", "data_demo/week.toml")
    assert week.report.questions == ()
    # Both were charted on every ball in play; bunts ticks alone, where a blank is none by the schema.
    assert week.table["hard"].value_counts().to_dict() == {False: 202, True: 126}


def test_a_saved_table_keeps_the_question(tmp_path) -> None:
    import pyarrow.parquet

    path = hitlab.pitches.write_checked(_read(_sheet()), tmp_path / "sheet.parquet")
    mark = pyarrow.parquet.read_metadata(path).metadata
    assert b"What does a blank in hard mean?" in mark[b"hitlab_questions"]


@pytest.mark.parametrize("meaning", [False, "unknown"])
def test_a_meaning_without_blanks_is_said_to_have_done_nothing(meaning: object) -> None:
    reading = _read(_sheet(hard="x"), blanks={"hard": meaning})
    assert reading.table["hard"].all()
    assert any("no ball in play and no foul was blank" in sentence for sentence in reading.report.assumed)
