"""Columns against each other, and the count told from the order of the pitches.

The plate appearances are written by the Official Baseball Rules' definitions of ball, strike,
foul tip and walk.
"""

from __future__ import annotations

from typing import Any

import duckdb
import numpy as np
import pandas as pd
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.errors import CountsError, ReadingError
from hitlab.pitches.consistency import CHECKS, contradictions
from hitlab.pitches.counting import rebuild, rebuild_count
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.schema import OUTCOMES


def _appearance(*outcomes: str, number: int = 1, **columns: Any) -> pd.DataFrame:
    frame = pd.DataFrame({"game": "G", "plate_appearance": number, "pitch": range(1, len(outcomes) + 1)})
    frame["hitter"], frame["outcome"] = "A", outcomes
    return frame.assign(**columns)


def _found(frame: pd.DataFrame, check: str) -> list[int]:
    found = contradictions(frame)
    assert set(found["check"]) <= set(CHECKS)
    return found.loc[found["check"] == check, "row"].tolist()


LONG = ("ball", "foul", "called strike", "foul", "foul", "automatic ball", "ball", "foul tip")
LONG_BALLS, LONG_STRIKES = [0, 1, 1, 1, 1, 1, 2, 3], [0, 0, 1, 2, 2, 2, 2, 2]


def test_a_long_plate_appearance_holds_together() -> None:
    frame = _appearance(*LONG, balls=LONG_BALLS, strikes=LONG_STRIKES, result=[None] * 7 + ["strikeout"])
    assert contradictions(frame).empty
    assert list(contradictions(frame)) == ["check", "row", "columns", "what"]


def test_a_count_that_does_not_follow_is_found_whatever_the_order_of_the_rows() -> None:
    frame = _appearance("ball", "foul", "ball", balls=[0, 1, 2], strikes=[0, 0, 1])
    assert _found(frame, "count") == [3]
    assert _found(frame.iloc[::-1], "count") == [1]
    assert _found(_appearance("ball", balls=1, strikes=0), "count") == [1]
    # After a gap in the pitch numbers nothing is known.
    assert _found(frame.assign(pitch=[1, 2, 4]), "count") == []
    over = _appearance("whiff", "ball", balls=0, strikes=[2, 2], pitch=[3, 4])
    assert "it is over" in contradictions(over)["what"][0]


@pytest.mark.parametrize(
    ("outcome", "result", "columns", "wrong"),
    [
        ("whiff", "strikeout", {}, False),
        ("foul tip", "strikeout", {"strikes": 2}, False),
        ("automatic strike", "strikeout", {}, False),
        ("ball", "strikeout", {}, True),
        ("whiff", "strikeout", {"strikes": 1}, True),
        ("foul", "strikeout", {"bunt": True}, False),
        ("foul", "strikeout", {"bunt": False}, True),
        ("foul", "strikeout", {}, False),  # bunts are not charted here
        ("ball", "walk", {"balls": 3}, False),
        ("ball", "walk", {"balls": 2}, True),
        ("intentional ball", "walk", {"balls": 0}, False),
        ("foul", "walk", {}, True),
        ("in play", "single", {}, False),
        ("ball", "single", {}, True),
        ("whiff", "out", {}, True),
        ("hit by pitch", "hit by pitch", {}, False),
        ("ball", "hit by pitch", {}, True),
        ("catcher's interference", "catcher's interference", {}, False),
        ("in play", None, {}, True),
        ("ball", None, {"balls": 3}, True),
        ("ball", None, {"balls": 2}, False),
        ("whiff", None, {"strikes": 2}, True),
        ("foul", None, {"strikes": 2}, False),
    ],
)
def test_result_and_last_pitch(
    outcome: str, result: str | None, columns: dict[str, Any], wrong: bool
) -> None:
    frame = _appearance(outcome, result=pd.Series([result], dtype=object), **columns)
    assert _found(frame, "ending") == ([1] if wrong else [])


def test_results_stand_on_the_last_pitch_only() -> None:
    frame = _appearance("whiff", "ball", result=["strikeout", None])
    assert _found(frame, "ending") == [1]
    frame = _appearance("in play", "ball", result=[None, None])
    assert set(_found(frame, "ending")) == {1}


def test_a_game_may_cross_midnight_but_not_last_three_days() -> None:
    days = pd.to_datetime(["2031-05-04", "2031-05-05", "2031-05-07"])
    frame = _appearance("ball", "ball", "ball", date=days)
    assert _found(frame, "dates") == [3]


def test_names_ids_and_clubs() -> None:
    frame = _appearance("ball", "ball", "ball", hitter_id=["1", "1", "2"])
    frame["hitter"] = ["A", "B", "C"]
    assert _found(frame, "names") == [2]
    frame = _appearance("ball", "ball", "ball", club=["X", "Y", "Y"])
    found = contradictions(frame)
    assert found["row"].tolist() == [2]
    assert "two people of one name" in found["what"][0]
    found = contradictions(frame.assign(game=["G1", "G2", "G2"]))
    assert found["row"].tolist() == [2]
    assert "one who moved" in found["what"][0]
    assert contradictions(frame.assign(hitter_id=["1", "2", "2"])).empty


def test_the_side_changes_within_a_plate_appearance() -> None:
    frame = _appearance("ball", "ball", "ball", hitter_side=["left", "right", None])
    assert _found(frame, "side") == [2]
    frame["hitter"] = ["A", "B", "B"]  # another hitter came in
    assert _found(frame, "side") == []


@pytest.mark.parametrize(
    ("columns", "wrong"),
    [
        ({"result": "double play", "outs": 2}, 1),
        ({"result": "double play", "bases": "empty"}, 1),
        ({"result": "double play", "outs": 1, "bases": "first"}, 0),
        ({"result": "sacrifice fly", "outs": 2, "bases": "third"}, 1),
        ({"result": "fielder's choice", "bases": "empty"}, 1),
        ({"result": "home run", "bases": "first third", "runs": 3}, 0),
        ({"result": "home run", "bases": "first third", "runs": 2}, 1),
        ({"result": "single", "bases": "first", "runs": 3}, 1),
    ],
)
def test_outs_bases_and_runs(columns: dict[str, Any], wrong: int) -> None:
    assert len(_found(_appearance("in play", **columns), "outs and bases")) == wrong


def test_outs_never_fall_within_a_half_inning() -> None:
    frame = _appearance("ball", "ball", "ball", outs=[1, 0, 0], inning=[1, 1, 2], half="top")
    assert _found(frame, "outs and bases") == [2]


def test_a_swing_flag_is_compared_where_it_can_be() -> None:
    frame = _appearance("whiff", "ball", "foul", "foul", "in play", result=[None] * 4 + ["out"])
    frame = frame.assign(Flag=["n", "y", "n", "y", ""], bunt=[False, False, True, False, False])
    reading = read_pitches(frame, {"columns": {"Flag": "swing"}})
    assert reading.report.contradictions["row"].tolist() == [1, 2]


def test_a_pitch_that_nobody_hit_has_no_speed_off_the_bat() -> None:
    outcomes = ("whiff", "ball", "foul tip", "foul", "called strike", "in play")
    frame = _appearance(*outcomes, exit_mph=[71.0, 60.5, 80.0, 77.0, None, 98.0])
    assert _found(frame, "exit speed") == [1, 2]
    assert contradictions(frame)["what"].tolist() == [
        "whiff has a speed off the bat",
        "ball has a speed off the bat",
    ]
    # Without foul tips they stand among the whiffs, and a radar follows them.
    assert _found(frame[frame["outcome"] != "foul tip"], "exit speed") == [2]
    interfered = _appearance("catcher's interference", "hit by pitch", exit_mph=50.0)
    assert _found(interfered, "exit speed") == [2]


def test_a_pitch_that_nobody_hit_was_not_hit_hard() -> None:
    outcomes = ("whiff", "ball", "foul tip", "foul", "called strike", "in play")
    frame = _appearance(*outcomes, hard=[True, True, True, True, None, True])
    assert _found(frame, "hard") == [1, 2]
    assert _found(frame.assign(hard=False), "hard") == []


@pytest.mark.parametrize(("every", "counted"), [(40, False), (400, True)])
def test_many_speeds_on_pitches_that_nobody_hit_put_the_speeds_in_doubt(every: int, counted: bool) -> None:
    frame = pd.DataFrame({"hitter": "Ada", "outcome": ["whiff", "in play", "foul tip", "ball"] * 500})
    exits = pd.Series([None, 97.0, None, None, None, 84.0, None, None] * 250, dtype=float)
    exits[3::every] = 55.0
    reading = read_pitches(frame.assign(exit_mph=exits))
    doubts = reading.report.doubts
    assert doubts.contradicted == {"exit speed": len(frame) // every}
    assert f"exit speed: {len(frame) // every}" in str(reading.report)
    counts = hitlab.tally(reading)
    assert ("hard" in counts.names) is counted
    told = str(hitlab.rate(counts)) if counted else counts.missing["hard"]
    assert "the speed off the bat contradicts other columns" in " ".join(told.split())


def test_the_rebuilt_count_of_a_long_plate_appearance() -> None:
    for place in range(2):
        frame = _appearance(*LONG).iloc[:: -1 if place else 1]
        rebuilt = rebuild_count(frame).sort_values("pitch")
        assert rebuilt["balls"].tolist() == LONG_BALLS
        assert rebuilt["strikes"].tolist() == LONG_STRIKES


@pytest.mark.parametrize(
    ("frame", "why"),
    [
        (_appearance("ball", "ball", "ball", "ball", "ball"), "a pitch follows the end"),
        (_appearance("whiff", "whiff", "whiff", "ball"), "a pitch follows the end"),
        (_appearance("in play", "ball"), "a pitch follows the end"),
        (
            _appearance("foul", "foul", "foul", "ball", bunt=[False, False, True, False]),
            "a pitch follows the end",
        ),
        (_appearance("ball", "ball", pitch=[1, 3]), "a pitch of the plate appearance is not in the table"),
        (_appearance("ball", pitch=[2]), "a pitch of the plate appearance is not in the table"),
    ],
)
def test_a_count_that_cannot_be_is_missing_and_said(frame: pd.DataFrame, why: str) -> None:
    both = pd.concat([frame, _appearance("ball", "foul", number=2)], ignore_index=True)
    balls, strikes, said = rebuild(both)
    assert balls.isna().tolist() == [True] * len(frame) + [False, False]
    assert strikes.tolist()[-2:] == [0, 0]
    assert any(why in sentence and sentence.startswith("1 plate appearance(s)") for sentence in said)


def test_rows_without_a_key_have_no_count_and_a_table_without_any_is_an_error() -> None:
    frame = _appearance("ball", "foul", game=["G", None])
    assert rebuild_count(frame)["balls"].isna().tolist() == [False, True]
    with pytest.raises(ReadingError, match="no row has a game"):
        rebuild_count(frame.assign(game=None))
    with pytest.raises(ReadingError, match="no column pitch"):
        rebuild_count(frame.drop(columns="pitch"))


def test_other_engines_get_their_own_kind_back() -> None:
    frame = pl.from_pandas(_appearance("ball", "foul"))
    rebuilt = rebuild_count(frame)
    assert isinstance(rebuilt, pl.DataFrame)
    assert rebuilt["balls"].to_list() == [0, 1]
    connection = duckdb.connect()
    relation = rebuild_count(connection.from_arrow(frame.to_arrow()))
    assert isinstance(relation, duckdb.DuckDBPyRelation)
    assert [row[0] for row in relation.order("pitch").project("balls").fetchall()] == [0, 1]
    assert contradictions(frame.with_columns(balls=0, strikes=0))["row"].to_list() == [2]


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(games=st.lists(st.lists(st.sampled_from(OUTCOMES), min_size=1, max_size=9), min_size=1, max_size=6))
def test_the_rebuilt_count_never_contradicts_the_order(games: list[list[str]]) -> None:
    """The fast count against the check that walks from pitch to pitch by another formula."""
    frame = pd.concat(
        [_appearance(*outcomes, number=n) for n, outcomes in enumerate(games, 1)], ignore_index=True
    )
    rebuilt = rebuild_count(frame)
    assert _found(rebuilt, "count") == []
    # A plain walk through each plate appearance.
    expected: list[tuple[int, int] | None] = []
    for outcomes in games:
        counts, balls, strikes, over = [], 0, 0, False
        for outcome in outcomes:
            counts.append(None if over else (balls, strikes))
            balls += outcome in ("ball", "automatic ball", "intentional ball")
            if outcome == "foul":
                strikes = min(strikes + 1, 2)
            strikes += outcome in ("called strike", "whiff", "foul tip", "automatic strike")
            over |= balls > 3 or strikes > 2
            over |= outcome in ("in play", "hit by pitch", "catcher's interference")
        expected += [None] * len(outcomes) if None in counts else counts
    shown = [
        None if np.isnan(b) else (int(b), int(s))
        for b, s in zip(rebuilt["balls"].to_numpy(float, na_value=np.nan), rebuilt["strikes"], strict=True)
    ]
    assert shown == expected


def _inning(*appearances: tuple[str, ...], **columns: Any) -> pd.DataFrame:
    """Plate appearances of one half-inning: hitter, result, and the outcomes of its pitches."""
    rows = []
    for number, (hitter, result, *outcomes) in enumerate(appearances, 1):
        for pitch, outcome in enumerate(outcomes, 1):
            last = pitch == len(outcomes)
            rows.append(("G", number, pitch, hitter, outcome, result if last and result else None, 1, "top"))
    names = ["game", "plate_appearance", "pitch", "hitter", "outcome", "result", "inning", "half"]
    return pd.DataFrame(rows, columns=names).assign(**columns)


def test_a_fifth_ball_and_a_strikeout_without_its_third_strike_are_found_without_a_count() -> None:
    right = _inning(
        ("A", "walk", "ball", "ball", "foul", "foul", "foul", "ball", "ball"),
        ("B", "strikeout", "foul", "whiff", "foul", "called strike"),
        ("C", "walk", "intentional ball"),
    )
    assert contradictions(right).empty
    five = _inning(("A", "walk", *["ball"] * 5))
    assert _found(five, "balls and strikes") == [4, 5]
    assert "ball 5 of a plate appearance" in contradictions(five)["what"].tolist()
    short = _inning(("A", "strikeout", "whiff", "foul tip"), ("B", "walk", "ball", "ball", "ball"))
    assert _found(short, "balls and strikes") == [2, 5]
    assert _found(_inning(("A", "strikeout", "whiff", "foul", "whiff", "ball")), "balls and strikes") == [
        3,
        4,
    ]
    # A pitch that is not in the table may have been the strike.
    assert _found(short[short["pitch"] > 1], "balls and strikes") == []


def test_a_fourth_out_is_found_and_an_uncaught_third_strike_is_let_pass() -> None:
    outs = [(name, "out", "in play") for name in "ABC"]
    assert contradictions(_inning(*outs)).empty
    fourth = _inning(*outs, ("D", "out", "in play"))
    assert _found(fourth, "outs and bases") == [4]
    for sacrifice in ("sacrifice fly", "sacrifice bunt"):  # on an error nobody is out
        assert _found(_inning(*outs, ("D", sacrifice, "in play")), "outs and bases") == []
    assert "makes out 4 of inning 1" in contradictions(fourth)["what"][0]
    assert _found(_inning(*outs[:2], ("C", "double play", "in play")), "outs and bases") == [3]
    assert _found(_inning(*outs, ("D", "strikeout", "whiff", "whiff", "whiff")), "outs and bases") == []
    assert _found(fourth.assign(half=["top", "top", "top", "bottom"]), "outs and bases") == []


def test_a_hitter_out_of_turn_is_found() -> None:
    names = [*"ABCDEFGHI"] * 3
    turns = [(name, "single", "in play") for name in names]
    assert _found(_inning(*turns), "order of hitters") == []
    early = [*turns[:12], turns[10], *turns[13:]]  # B again after one other, for D
    found = contradictions(_inning(*early))
    assert found["row"].tolist() == [13, 20]  # and on the turn of B after it
    assert found["what"][0] == "B is up again after 1 other(s), and 8 are in between as a rule"
    # A pinch hitter, an order of five, and a plate appearance that is not in the table are no slips.
    assert _found(_inning(*turns[:12], ("Z", "single", "in play"), *turns[13:]), "order of hitters") == []
    assert (
        _found(_inning(*[(name, "single", "in play") for name in [*"ABCDE"] * 4]), "order of hitters") == []
    )
    gone = _inning(*turns)
    assert _found(gone[gone["plate_appearance"] != 5], "order of hitters") == []


def test_a_runner_that_vanishes_is_found() -> None:
    frame = _inning(
        ("A", "single", "in play"),
        ("B", "home run", "ball", "in play"),
        ("C", "double play", "in play"),
        bases=["empty", "first", "first", "empty"],
        outs=[0, 0, 0, 0],
        runs=[0, 0, 2, 0],
    )
    assert _found(frame.assign(result=["single", None, "home run", "out"]), "outs and bases") == []
    lost = frame.assign(
        bases=["empty", "first", "empty", "empty"], result=["single", None, "home run", "out"]
    )
    assert 3 in _found(lost, "outs and bases")
    assert any("1 vanished" in what for what in contradictions(lost)["what"])
    unknown = lost.assign(runs=pd.array([0, None, 1, 0], dtype="Int64"))
    assert not any("vanished" in what for what in contradictions(unknown)["what"])


def test_a_chart_without_numbers_is_held_against_the_order_of_its_rows() -> None:
    frame = _inning(
        ("A", "strikeout", "whiff", "foul", "called strike"),
        ("B", "strikeout", "whiff", "foul"),
        ("C", "single", "ball", "in play"),
    ).drop(columns=["plate_appearance", "pitch"])
    found = read_pitches(frame).report.contradictions
    assert found[["check", "row"]].to_numpy().tolist() == [["balls and strikes", 5]]
    # Of a plate appearance of which a row is set aside nothing is known.
    assert read_pitches(
        frame.assign(outcome=[*frame["outcome"][:3], "?", *frame["outcome"][4:]])
    ).report.contradictions.empty
    # Nor in a table that is not in the order of play.
    assert read_pitches(frame.assign(inning=[3, 3, 3, 2, 2, 1, 1])).report.contradictions.empty
    counted = frame.assign(balls=[0, 0, 0, 0, 0, 0, 1], strikes=[0, 1, 2, 0, 0, 0, 0])
    assert read_pitches(counted).report.contradictions["check"].tolist() == ["count", "ending"]


@pytest.mark.slow
def test_a_season_of_the_league_contradicts_itself_nowhere() -> None:
    from tests.clipboards import season

    whole = season(20_000)
    assert contradictions(whole.assign(result=whole["result"].replace("", None))).empty


def test_who_pitches_to_himself_is_told() -> None:
    frame = _appearance("ball", "foul", "foul", "ball", "foul").assign(
        hitter=["Ada Velm", "Ada Velm", "#12", "Cy Drul", None],
        pitcher=["Bo Katt", "ada  velm", "#12", None, None],
    )
    found = contradictions(frame)
    told = found[found["check"] == "pitcher"]
    # Two of one number may play for two clubs.
    assert told["row"].tolist() == [2]
    assert told["columns"].tolist() == ["hitter, pitcher"]
    assert told["what"].tolist() == ["Ada Velm hits, and pitches as well"]
    # Two of one name, told apart by ids, are two.
    assert _found(frame.assign(hitter_id="h1", pitcher_id="p1"), "pitcher") == []
    assert _found(frame.assign(hitter_id="h1", pitcher_id=None), "pitcher") == [2]
    assert _found(frame.assign(hitter_id="h1", pitcher_id="h1"), "pitcher") == [2]


def test_many_who_pitch_to_themselves_put_the_pitcher_in_doubt() -> None:
    frame = pd.DataFrame({"hitter": ["Ada Velm", "Cy Drul"] * 20, "pitcher": "Ada Velm", "outcome": "ball"})
    reading = read_pitches(frame)
    assert (reading.report.contradictions["check"] == "pitcher").sum() == 20
    assert hitlab.tally(reading).column("pitches").sum() == 40
    with pytest.raises(CountsError, match="the pitcher contradicts other columns in 20 of 40 rows"):
        hitlab.tally(reading, by="pitcher")
