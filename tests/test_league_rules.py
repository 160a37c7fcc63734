"""The rules of the game, as invariants over an invented season."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab.league import Effects, make_season
from hitlab.league.plays import NEXT_BASES, OUTS, PLAYS, RUNS
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.schema import COLUMNS

ON_BASE = {
    base: sum(word in base for word in ("first", "second", "third")) for base in COLUMNS["bases"].words
}
ON_BASE["full"] = 3
STRIKE_WORDS = ["called strike", "whiff", "foul tip"]


@pytest.fixture(scope="module")
def pitches():
    return make_season(pitches=40_000, seed=4).pitches


@pytest.fixture(scope="module")
def plate_appearances(pitches):
    """Last pitches, with what the next plate appearance of the same game began with."""
    last = pitches[pitches["result"].notna()].copy()
    first = pitches[pitches["pitch"] == 1]
    names = ["inning", "half", "outs", "bases", "score_hitting", "score_fielding"]
    following = first.groupby("game")[names].shift(-1)
    last[[f"next_{name}" for name in names]] = following.to_numpy()
    return last


@pytest.mark.slow
def test_the_reader_finds_nothing_to_mend_and_no_contradiction(pitches):
    reading = read_pitches(pitches)
    assert len(reading.set_aside) == 0
    assert reading.report.values_made_missing == 0
    assert len(reading.report.contradictions) == 0
    assert set(COLUMNS) - set(pitches.columns) == {"hard", "hard_source", "season"}


@pytest.mark.slow
def test_the_count_follows_from_the_outcomes(pitches):
    key = ["game", "plate_appearance"]
    ball = pitches["outcome"].isin(["ball", "intentional ball"])
    strike = pitches["outcome"].isin(STRIKE_WORDS) | (
        (pitches["outcome"] == "foul") & (pitches["strikes"] < 2)
    )
    groups = [pitches[name] for name in key]
    balls = ball.groupby(groups).cumsum() - ball
    strikes = strike.groupby(groups).cumsum() - strike
    assert (balls == pitches["balls"]).all()
    assert (strikes == pitches["strikes"]).all()
    assert pitches.groupby(key).cumcount().add(1).eq(pitches["pitch"]).all()


def test_results_stand_on_the_last_pitch_of_every_plate_appearance(pitches):
    last = ~pitches.duplicated(["game", "plate_appearance"], keep="last")
    assert (pitches["result"].notna() == last).all()
    numbers = pitches.loc[last].groupby("game").cumcount() + 1
    assert (numbers == pitches.loc[last, "plate_appearance"]).all()


def test_the_last_pitch_agrees_with_the_result(plate_appearances):
    last = plate_appearances
    struck_out = last["outcome"].isin(STRIKE_WORDS)
    assert (struck_out == (last["result"] == "strikeout")).all()
    assert (last.loc[struck_out, "strikes"] == 2).all()
    walked = last["outcome"].isin(["ball", "intentional ball"])
    assert (walked == (last["result"] == "walk")).all()
    assert (last.loc[walked, "balls"] == 3).all()
    assert ((last["outcome"] == "hit by pitch") == (last["result"] == "hit by pitch")).all()
    assert (last["outcome"] != "foul").all()


def test_a_ball_in_play_ends_the_plate_appearance(pitches):
    assert pitches.loc[pitches["outcome"] == "in play", "result"].notna().all()


def test_three_outs_end_the_half_and_runners_are_accounted_for(plate_appearances):
    """Hitter and runners all end up out, on base or home, while the half goes on."""
    last = plate_appearances[plate_appearances["next_inning"].notna()]
    same_half = (last["inning"] == last["next_inning"]) & (last["half"] == last["next_half"])
    within = last[same_half]
    outs = (within["next_outs"] - within["outs"]).astype(int)
    assert outs.between(0, 2).all()
    before, after = within["bases"].map(ON_BASE), within["next_bases"].map(ON_BASE)
    assert (before + 1 == after + outs + within["runs"]).all()
    ended = last[~same_half]
    assert (ended["next_outs"] == 0).all()
    assert (ended["next_bases"] == "empty").all()
    made = {"double play": 2} | dict.fromkeys(
        ["strikeout", "out", "fielder's choice", "sacrifice fly", "sacrifice bunt"], 1
    )
    assert (ended["outs"] + ended["result"].map(made) == 3).all()
    assert (ended["runs"] == 0).all()


def test_halves_follow_each_other(plate_appearances):
    halves = plate_appearances.drop_duplicates(["game", "inning", "half"])
    number = halves["inning"] * 2 + (halves["half"] == "bottom")
    assert (number.groupby(halves["game"]).diff().dropna() == 1).all()
    assert (number.groupby(halves["game"]).first() == 2).all()


def test_the_score_follows_from_the_runs(pitches):
    home = pitches["half"] == "bottom"
    for hits in (False, True):
        runs = pitches["runs"].where(home == hits, 0)
        before = runs.groupby(pitches["game"]).cumsum() - runs
        shown = pitches["score_hitting"].where(home == hits, pitches["score_fielding"])
        assert (before == shown).all()


def test_runs_come_on_the_last_pitch_only(pitches):
    assert (pitches.loc[pitches["result"].isna(), "runs"] == 0).all()


def test_games_end_when_the_rules_say_so(pitches):
    last = pitches.groupby("game").tail(1)
    hitting = last["score_hitting"] + last["runs"]
    fielding = last["score_fielding"]
    assert (last["inning"] >= last["scheduled_innings"]).all()
    assert (hitting != fielding).all()
    top = last["half"] == "top"
    assert (fielding[top] > hitting[top]).all()
    walked_off = ~top & (hitting > fielding)
    # A run that is not needed counts on a home run alone.
    needed_only = walked_off & (last["result"] != "home run")
    assert needed_only.any()
    assert (hitting[needed_only] - fielding[needed_only] == 1).all()
    # Nobody hits in the bottom of the ninth, or later, while ahead.
    late_bottom = (pitches["half"] == "bottom") & (pitches["inning"] >= 9)
    assert (pitches.loc[late_bottom, "score_hitting"] <= pitches.loc[late_bottom, "score_fielding"]).all()
    level_after = pitches.groupby("game")["inning"].max()
    assert (level_after > 9).any()


def test_nine_hitters_bat_in_turn(plate_appearances):
    """A place in the order comes round every ninth time; its hitter changes for good at most."""
    for _, club in plate_appearances.groupby(["game", "half"]):
        order = club["hitter_id"].to_numpy()
        seen = [pd.unique(order[place::9]) for place in range(9)]
        everyone = np.concatenate(seen)
        assert len(set(everyone)) == len(everyone)
    assert plate_appearances.groupby(["game", "half"])["club"].nunique().eq(1).all()


@pytest.mark.slow
def test_a_pitcher_who_left_does_not_come_back(plate_appearances):
    for _, half in plate_appearances.groupby(["game", "half"]):
        stints = half["pitcher_id"].ne(half["pitcher_id"].shift()).sum()
        assert stints == half["pitcher_id"].nunique()


def test_what_is_measured_stands_where_it_belongs(pitches):
    in_play = pitches["outcome"] == "in play"
    assert pitches.loc[~in_play, ["exit_mph", "launch_deg", "spray_deg"]].isna().all(axis=None)
    assert pitches.loc[in_play, "spray_deg"].abs().le(45).all()
    assert (pitches["foul_side"].notna() == (pitches["outcome"] == "foul")).all()
    swung = pitches["outcome"].isin(["whiff", "foul", "foul tip", "in play"])
    assert swung[pitches["bunt"]].all()
    assert pitches.loc[pitches["check_swing"], "outcome"].isin(["whiff", "ball", "called strike"]).all()
    for happens in ("bunt", "check_swing"):
        assert pitches[happens].any()
    assert (pitches["outcome"] == "intentional ball").any()


@pytest.mark.slow
def test_switch_hitters_stand_on_the_other_side():
    season = make_season(pitches=6_000, seed=1)
    switch = season.truth.loc[season.truth["side"] == "switch", "hitter_id"]
    rows = season.pitches[season.pitches["hitter_id"].isin(switch)]
    assert len(rows)
    assert (rows["hitter_side"] != rows["pitcher_hand"]).all()


def test_clips_run_forward_in_each_game(pitches):
    parts = pitches["clip"].str.extract(r"^(game-\d{4})\.mp4 (\d\d):(\d\d):(\d\d)$")
    assert (parts[0] == pitches["game"]).all()
    seconds = parts[[1, 2, 3]].astype(int) @ np.array([3600, 60, 1])
    assert (seconds.groupby(pitches["game"]).diff().dropna() > 0).all()


@given(st.sampled_from(range(len(PLAYS))), st.integers(0, 7))
def test_no_runner_is_lost_or_doubled_on_any_play(play, bases):
    before = bin(bases).count("1") + 1
    after = bin(NEXT_BASES[play, bases]).count("1")
    assert after + RUNS[play, bases] + OUTS[play, bases] == before


@pytest.mark.parametrize(
    ("play", "bases", "next_bases", "runs"),
    [
        # Official Baseball Rules, forced advance on a walk: 1 first, 2 second, 4 third (from memory).
        ("walk", 0, 1, 0),
        ("walk", 1, 3, 0),
        ("walk", 2, 3, 0),
        ("walk", 4, 5, 0),
        ("walk", 6, 7, 0),
        ("walk", 5, 7, 0),
        ("walk", 7, 7, 1),
        ("home run", 5, 0, 3),
        ("double, all score", 7, 2, 3),
        ("sacrifice fly", 5, 1, 1),
        ("double play", 5, 0, 1),
        ("fielder's choice", 3, 5, 0),
    ],
)
def test_plays_by_hand(play, bases, next_bases, runs):
    number = PLAYS.index(play)
    assert NEXT_BASES[number, bases] == next_bases
    assert RUNS[number, bases] == runs


def test_double_plays_and_sacrifice_flies_need_their_runners(plate_appearances):
    last = plate_appearances
    twins = last[last["result"] == "double play"]
    assert len(twins)
    assert (twins["bases"].str.contains("first") | (twins["bases"] == "full")).all()
    assert (twins["outs"] < 2).all()
    flies = last[last["result"] == "sacrifice fly"]
    assert len(flies)
    assert (flies["bases"].str.contains("third") | (flies["bases"] == "full")).all()
    assert (flies["outs"] < 2).all()
    assert (flies["runs"] == 1).all()


@pytest.mark.slow
def test_unmeasured_balls_are_as_many_as_asked_for():
    season = make_season(pitches=20_000, seed=2, effects=Effects(unmeasured=0.2))
    balls = season.pitches[season.pitches["outcome"] == "in play"]
    share = balls["exit_mph"].isna().mean()
    # Four standard errors of a binomial share.
    assert abs(share - 0.2) < 4 * np.sqrt(0.2 * 0.8 / len(balls))
    assert balls["launch_deg"].isna().equals(balls["exit_mph"].isna())
