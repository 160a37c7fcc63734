"""What an unknown word is suggested to mean: a slip of a known word, or nothing."""

from __future__ import annotations

import tomllib

import pandas as pd
import pytest

from hitlab.errors import ReadingError
from hitlab.pitches.drafting import draft_mapping
from hitlab.pitches.mapping import load_mapping
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.suggesting import TELLING, may_be, near_word

_OPEN = (
    *("Hit", "Hits", "H", "Safe", "Ground", "Grounder", "Fly", "Line", "Liner", "Pop", "Popup", "Swing"),
    *("Swung", "Swings", "K", "Pitch", "Batter", "Hitter", "Strike", "Strike 3", "Strike three", "S", "SS"),
    *(
        "Bunt",
        "Bunted",
        "Foul bunt",
        "Bunt foul",
        "Missed bunt",
        "Sacrifice",
        "Doubled off",
        "Bloop",
        "Dinger",
    ),
    *("Hard hit", "Hard", "Soft", "Weak", "In the dirt", "Dropped third strike", "Catcher", "Interference"),
    *("Contact", "Play", "Fielder", "Choice", "Take", "No swing", "Check swing", "Checked", "Back", "Pull"),
    *("Up the middle", "Low", "High", "Outside", "Reached", "4 balls", "Full", "Fair", "Dead ball", "None"),
    *("Automatic", "Intentional", "Fist", "Double switch", "Home", "Run", "Two-out", "Fielded", "Strikeout"),
    *("Struck out", "Obstruction", "F"),
    # German, Spanish, Japanese
    *("Treffer", "Schwung", "Flugball", "Bodenball", "Opfer", "Foul gefangen", "Imparable", "Fallo"),
    *(
        "Toque",
        "Sacrificio",
        "Ponche",
        "Pelotazo",
        "Sin swing",
        "ヒット",
        "ゴロ",
        "フライ",
        "三振",
        "バント",
        "安打",
    ),
)


def _chart(words: list[str]) -> pd.DataFrame:
    known = ["ball", "called strike", "whiff", "foul"] * len(words)
    return pd.DataFrame({"hitter": "Ada Frusk", "outcome": [*words, *known]})


def test_a_word_of_several_meanings_or_of_none_is_suggested_as_nothing() -> None:
    """ "Hit" was nearest to hit by pitch, "Line" to an intentional ball, "Weak" to a walk."""
    report = read_pitches(_chart(list(_OPEN)), most_set_aside=1).report
    assert set(report.unknown["word"]) == set(_OPEN)
    suggested = report.unknown[report.unknown["nearest"] != ""]
    assert suggested.set_index("word")["nearest"].to_dict() == {}
    drafted = draft_mapping(_chart(list(_OPEN)))
    assert "nearest:" not in drafted
    words = tomllib.loads(drafted)["words"] | tomllib.loads(drafted).get("patterns", {})
    assert [word for word in _OPEN if words[word] != "?"] == []


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("Hit", "a ball in play, a single, double, triple or home run, or hit by pitch"),
        ("Swing", "a whiff, a foul or a ball in play"),
        ("Ground", "a ground ball or a ground out"),
        ("K", "whiff, strikeout or called strike, strikeout"),
        ("ヒット", "a ball in play, a single, double, triple or home run, or hit by pitch"),
    ],
)
def test_which_meanings_a_word_may_have_is_said(word: str, said: str) -> None:
    report = read_pitches(_chart([word]), most_set_aside=1).report
    assert f"{word!r} in outcome; may be {said}" in str(report)
    assert f'"{word}" = "?"  # 1 row; may be {said}' in draft_mapping(_chart([word]))
    with pytest.raises(ReadingError) as told:
        read_pitches(pd.DataFrame({"hitter": "Ada Frusk", "outcome": [word] * 20}), most_set_aside=0)
    assert 'hit by pitch" in' not in str(told.value)
    assert '= "hit by pitch"' not in str(told.value)
    assert f"may be {said}" in str(told.value)


@pytest.mark.parametrize(
    ("word", "near"),
    [
        *(("foull", "foul"), ("wiff", "whiff"), ("calld strike", "called strike"), ("fuol tip", "foul tip")),
        *(("hit by ptich", "hit by pitch"), ("swinging strik", "whiff"), ("homre run", "home run")),
    ],
)
def test_a_slip_of_a_known_word_is_still_suggested(word: str, near: str) -> None:
    report = read_pitches(_chart([word]), most_set_aside=1).report
    assert report.unknown["nearest"].tolist() == [near]


def test_what_a_mapping_misspells_is_not_answered_with_another_thing() -> None:
    with pytest.raises(ReadingError) as told:
        load_mapping({"words": {"outcome": {"H": "hit"}}})
    assert "Nearest" not in str(told.value)
    with pytest.raises(ReadingError, match="Nearest: 'whiff'"):
        load_mapping({"words": {"outcome": {"M": "wiff"}}})
    with pytest.raises(ReadingError) as told:
        load_mapping({"words": {"H": "hit"}})
    assert "Nearest" not in str(told.value)


def test_a_result_is_suggested_by_the_words_of_results() -> None:
    chart = _chart(["in play"] * 3).assign(result=["Hit", "singel", "base hit"] + [""] * 12)
    table = read_pitches(chart, most_set_aside=1)
    said = "\n".join(table.set_aside["accepted"])
    assert "'Hit' may be a single, double, triple or home run, or hit by pitch: " in said
    assert '[words.result] "singel" = "single"' in said
    assert '[words.result] "base hit" = "single"' in said


@pytest.mark.parametrize(
    ("column", "word", "meant"),
    [
        *(("pitch_kind", "FB", "fastball"), ("pitch_kind", "F", "fastball")),
        *(("result", "K", "strikeout"), ("result", "1B", "single"), ("bases", "1B", "first")),
        *(("pitch_kind", "SL", "slider"), ("outcome", "SL", "called strike"), ("outcome", "FB", "in play")),
    ],
)
def test_an_abbreviation_means_what_its_column_alone_can_have(column: str, word: str, meant: str) -> None:
    """FB was left open between a fly ball and a fastball even in a column of pitch kinds."""
    chart = _chart(["foul"])
    chart.loc[0, column] = word
    drafted = tomllib.loads(draft_mapping(chart.fillna("")))["words"]
    assert drafted.get(column, drafted)[word] == meant


@pytest.mark.parametrize(
    ("column", "word", "said"),
    [
        ("pitch_kind", "CU", "curveball or changeup"),
        ("pitch_kind", "C", "a curveball, a changeup or a cutter"),
        ("pitch_kind", "S", "a slider, a sinker or a splitter"),
        ("result", "FB", "a fly ball, a fly out or a sacrifice fly"),
        ("result", "GB", "a ground ball or a ground out"),
        ("hitter_side", "S", "a switch hitter, who stood left or right on each pitch"),
    ],
)
def test_what_stays_open_is_open_between_what_its_column_can_have(column: str, word: str, said: str) -> None:
    chart = _chart(["foul"])
    chart.loc[0, column] = word
    assert f'"{word}" = "?"  # 1 row; may be {said}\n' in draft_mapping(chart.fillna(""))


def test_a_column_of_kinds_that_no_heading_names_is_none_of_outcomes() -> None:
    chart = _chart(["foul"] * 4).assign(zz=["FB", "SL", "CB", "CH"] * 5)
    assert "zz" not in tomllib.loads(draft_mapping(chart.drop(columns="outcome")))["columns"]


def test_one_row_is_told_as_one() -> None:
    said = str(read_pitches(_chart(["blip", "blop", "blop"]), most_set_aside=1).report)
    assert "1 row: 'blip' in outcome" in said
    assert "2 rows: 'blop' in outcome" in said
    with pytest.raises(ReadingError, match=r"not a known word \(1 row\)"):
        read_pitches(_chart(["blip"]).head(1))


@pytest.mark.parametrize(
    "word",
    [
        "ball 1",
        "ball 2",
        "ball 3",
        "ball #",
        "called strike 3",
        "swinging strike 3",
    ],
)
def test_another_number_is_no_slip(word: str) -> None:
    """Ball 3 is one sign from ball 4, which is a walk."""
    for target in ("outcome", "result", TELLING):
        assert "walk" not in near_word(word, target)
    assert near_word(word, "outcome") not in ("whiff", "called strike")


@pytest.mark.parametrize("word", ["1,0,3", "1,2,0", "1-0-3", "1 2 X", "1-2-X"])
def test_an_empty_base_is_no_slip_of_one_that_is_taken(word: str) -> None:
    assert near_word(word, "bases") == ""


@pytest.mark.parametrize("word", ["fouled out", "foul out", "foul pop", "pop foul", "home out"])
def test_outs_are_no_slips_of_fouls_nor_of_home_runs(word: str) -> None:
    assert near_word(word, TELLING) == ""
    assert near_word(word, "outcome") == ""
    assert ("caught in foul ground" in may_be(word, "outcome")) == ("foul" in word)


@pytest.mark.parametrize("word", ["dropped third strike", "strike 3", "strike three"])
def test_among_results_a_third_strike_is_a_strikeout(word: str) -> None:
    assert near_word(word, "result") == "strikeout"


@pytest.mark.parametrize(
    ("word", "meant"), [("swinging strke", "whiff"), ("foul bal", "foul"), ("caled strike", "called strike")]
)
def test_a_slip_in_a_word_of_several_is_still_one(word: str, meant: str) -> None:
    assert near_word(word, "outcome") == meant
