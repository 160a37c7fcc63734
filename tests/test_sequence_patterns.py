"""Patterns: found where a plain loop finds them, counted, and said in words."""

import narwhals as nw
import pandas as pd
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab.approach.patterns import (
    after,
    any_pitch,
    ball,
    called_strike,
    find_sequences,
    foul,
    hard_hit,
    in_play,
    swing,
    take,
    whiff,
)
from hitlab.errors import ClaimError, CountsError, MissingColumnsError
from hitlab.league import make_season

BREAKING = ("slider", "curveball")
FASTBALL = ("four-seam fastball", "sinker", "cutter")


@pytest.fixture(scope="module")
def season():
    return make_season(hitters=40, clubs=2, pitches=4_000, seed=4).pitches


def plain(frame, first, second, at_once=True):
    """Where ``second`` follows ``first``, by walking through each plate appearance."""
    pairs, chances = [], 0
    for _, rows in frame.groupby(["game", "plate_appearance"], sort=True):
        rows = rows.sort_values("pitch")
        places, records = rows.index.tolist(), rows.to_dict("records")
        for at in range(len(records) - 1):
            if not first(records[at]):
                continue
            chances += 1
            ahead = [at + 1] if at_once else range(at + 1, len(records))
            for later in ahead:
                if second(records[later]):
                    pairs.append((places[at], places[later]))
                    break
    return sorted(pairs), chances


def missed(row):
    return row["outcome"] in ("whiff", "foul tip") and not row["bunt"]


def swung(row):
    return row["outcome"] in ("whiff", "foul tip", "foul", "in play") and not row["bunt"]


@pytest.mark.slow
@pytest.mark.parametrize("at_once", [True, False])
def test_a_pattern_is_found_where_a_plain_loop_finds_it(season, at_once):
    first = after(whiff(kind="breaking"))
    last = swing(kind="fastball")
    found = find_sequences(season, first.then(last) if at_once else first.later(last))
    pairs, chances = plain(
        season,
        lambda row: missed(row) and row["pitch_kind"] in BREAKING,
        lambda row: swung(row) and row["pitch_kind"] in FASTBALL,
        at_once,
    )
    told = found.table()
    assert sorted(zip(told["first_row"], told["row"], strict=True)) == pairs
    assert len(pairs) > 10
    assert found.chances == chances == len(found) + len(found.missed_rows)
    assert found.searched == len(season.groupby(["game", "plate_appearance"]))


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.lists(st.sampled_from(["ball", "called strike", "whiff", "foul"]), min_size=1, max_size=5),
        min_size=1,
        max_size=5,
    ),
    st.booleans(),
    st.booleans(),
)
def test_any_table_gives_what_a_plain_loop_gives(appearances, at_once, long):
    rows = [
        ("g", a, p, "h", outcome, False)
        for a, outcomes in enumerate(appearances, 1)
        for p, outcome in enumerate(_cut_at_the_end(outcomes), 1)
    ]
    frame = pd.DataFrame(rows, columns=["game", "plate_appearance", "pitch", "hitter", "outcome", "bunt"])
    pattern = after(whiff()).then(swing()) if at_once else after(whiff()).later(swing())
    found = find_sequences(pl.from_pandas(frame) if long else frame, pattern)
    pairs, chances = plain(frame, missed, swung, at_once)
    told = found.table()
    assert sorted(zip(told["first_row"], told["row"], strict=True)) == pairs
    assert found.chances == chances


def _cut_at_the_end(outcomes):
    """Drop what would follow a third strike or a fourth ball."""
    kept, balls, strikes = [], 0, 0
    for outcome in outcomes:
        kept.append(outcome)
        balls += outcome == "ball"
        strikes = (
            min(strikes + 1, 2) if outcome == "foul" else strikes + (outcome in ("called strike", "whiff"))
        )
        if balls == 4 or strikes == 3:
            break
    return kept


@pytest.mark.slow
def test_never_is_an_answer_with_the_number_searched(season):
    found = find_sequences(season, after(ball(balls=3)).then(whiff()))
    assert len(found) == 0
    assert found.chances == 0
    number = len(season.groupby(["game", "plate_appearance"]))
    assert str(found) == (
        f"After a ball with 3 balls, then a whiff: never, of {number:,} plate appearances searched. "
        "A pitch followed a ball with 3 balls 0 times."
    )


def test_patterns_say_themselves_in_words():
    pattern = after(whiff(kind="breaking", strikes=0)).later(hard_hit(kind="offspeed", balls=1, strikes=2))
    assert str(pattern) == (
        "after a whiff on a breaking ball with 0 strikes, later a hard-hit ball off an offspeed pitch at 1-2"
    )
    assert str(after(take(kind="slider")).then(any_pitch())) == "after a take of a slider, then a pitch"
    assert str(after(foul()).then(called_strike()).then(in_play())) == (
        "after a foul, then a called strike, then a ball in play"
    )


def test_conditions_of_ones_own(season):
    fast = find_sequences(season, after(whiff(where=nw.col("speed_mph") >= 95)))
    expected = season[
        season["outcome"].isin(["whiff", "foul tip"]) & ~season["bunt"] & (season["speed_mph"] >= 95)
    ]
    assert len(fast) == len(expected) > 0


def test_set_aside_plate_appearances_are_left_out_and_said(season):
    holed = season.drop(index=season.index[(season["pitch"] == 1)][:3])
    found = find_sequences(holed, after(any_pitch()))
    assert found.set_aside >= 1
    assert "set aside (see sequence_faults)" in str(found)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: whiff(kind="heater"), "no kind of pitch"),
        (lambda: swing(strikes=3), "from 0 to 2"),
        (lambda: swing(balls=True), "from 0 to 3"),
        (lambda: after("whiff"), "no step"),
        (lambda: after(whiff()).then(whiff), "no step"),
    ],
)
def test_steps_that_cannot_be_are_refused(call, words):
    with pytest.raises(ClaimError, match=words):
        call()


def test_tables_that_cannot_tell_are_refused(season):
    with pytest.raises(ClaimError, match="no pattern"):
        find_sequences(season, whiff())
    with pytest.raises(MissingColumnsError, match="pitch_kind"):
        find_sequences(season.drop(columns="pitch_kind"), after(whiff(kind="slider")))
    with pytest.raises(MissingColumnsError, match="strikes"):
        find_sequences(season.drop(columns="strikes"), after(whiff(strikes=1)))
    with pytest.raises(CountsError, match="hard_mph"):
        find_sequences(season.assign(level="college"), after(hard_hit()))
