"""What the reader found goes with the table: into counts, claims, saved files and commands."""

from __future__ import annotations

import json

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import Conventions, all_splits, check_above, check_leads, check_spot, read_pitches, tally
from hitlab.cli.commands import run
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches import write_checked
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.opening import doubts_of


@pytest.fixture(scope="module")
def whole():
    """Six weeks of the demo season, as somebody would hand it over."""
    pitches = pd.read_parquet(hitlab.demo_season())
    return pitches[pitches["date"] < pd.Timestamp("2031-05-15").date()].reset_index(drop=True)


@pytest.fixture(scope="module")
def repeated(whole):
    """The result of the plate appearance on every pitch of it."""
    last = whole.groupby(["game", "plate_appearance"])["result"].transform("last")
    return whole.assign(result=last)


@pytest.fixture(scope="module")
def counted_after(whole):
    """The count after the pitch, where ours stands before it."""
    outcome, strikes = whole["outcome"], whole["strikes"]
    strike = outcome.isin(["called strike", "whiff", "foul tip"]) | ((outcome == "foul") & (strikes < 2))
    return whole.assign(
        balls=(whole["balls"] + (outcome == "ball")).clip(upper=3), strikes=(strikes + strike).clip(upper=2)
    )


def _sums(counts, *names):
    return [int(counts.column(name).sum()) for name in names]


@pytest.mark.slow
def test_a_result_on_every_pitch_is_kept_on_the_last_one(whole, repeated):
    right = tally(read_pitches(whole))
    reading = read_pitches(repeated)
    assert _sums(tally(reading), "hits", "at_bats") == _sums(right, "hits", "at_bats")
    assert any("is repeated on" in said for said in reading.report.assumed)
    assert "ending" not in reading.report.doubts.contradicted


@pytest.mark.slow
def test_a_result_before_the_last_pitch_that_differs_is_no_hit_and_is_counted_as_a_doubt(whole):
    ends = np.flatnonzero(whole["result"] == "single")[:5]
    moved = whole.copy()
    first = [
        int(np.flatnonzero((whole["game"] == g) & (whole["plate_appearance"] == n))[0])
        for g, n in zip(whole["game"].iloc[ends], whole["plate_appearance"].iloc[ends], strict=True)
    ]
    first = [place for place, end in zip(first, ends, strict=True) if place != end]
    moved.loc[first, "result"] = "home run"
    reading = read_pitches(moved)
    assert _sums(tally(reading), "hits", "bases") == _sums(tally(read_pitches(whole)), "hits", "bases")
    assert reading.report.doubts.contradicted["ending"] == len(first)


@pytest.mark.slow
def test_where_nothing_tells_the_last_pitch_no_hit_is_counted(repeated):
    reading = read_pitches(repeated.drop(columns=["pitch"]))
    counts = tally(reading)
    assert not {"hits", "at_bats", "bases", "plate_appearances"} & set(counts.names)
    with pytest.raises(
        MissingColumnsError, match=r"hits cannot be counted: the result contradicts other columns in"
    ):
        hitlab.rate(counts, "hits", "at_bats")
    # The pitches themselves say what they became, whatever stands under result.
    assert counts.column("swings").sum() == tally(read_pitches(repeated)).column("swings").sum()
    with pytest.raises(
        CountsError, match=r"how plate appearances end cannot be told: the result contradicts"
    ):
        check_spot(reading, hitlab.game.Spot(gap=-1, outs=2, bases="empty"))


@pytest.mark.slow
def test_a_count_after_the_pitch_gives_no_two_strike_counts(whole, counted_after):
    reading = read_pitches(counted_after)
    counts = tally(reading)
    assert not [name for name in counts.names if name.startswith("two_strike")]
    assert _sums(counts, "swings", "hits") == _sums(tally(read_pitches(whole)), "swings", "hits")
    with pytest.raises(CountsError, match=r"what is asked for cannot be told: the count contradicts"):
        tally(reading, where="strikes=2")
    with pytest.raises(CountsError, match=r"the count contradicts"):
        check_leads(reading, event="swings at balls=0 strikes=0", per="pitches at balls=0 strikes=0")
    named = set(all_splits(reading, event="swings", per="pitches").data["situation"])
    assert named
    assert not {name for name in named if "two strikes" in name}
    with pytest.raises(CountsError, match=r"a split with two strikes cannot be told"):
        all_splits(reading, ["strikes=2"], event="swings", per="pitches")
    # Whoever knows better says so.
    allowed = tally(reading, conventions=Conventions(most_contradicted=1.0))
    assert "two_strike_swings" in allowed.names
    assert "the count contradicts" in allowed.cannot_tell("two_strike_swings")


@pytest.mark.slow
@pytest.mark.parametrize("gone", [["result"], []], ids=["no key, no result", "no key"])
def test_a_count_after_the_pitch_is_seen_without_a_key_too(whole, counted_after, gone):
    """Nothing orders the pitches then; the results, and the counts themselves, speak against it."""
    gone = [*gone, "game", "plate_appearance", "pitch"]
    right = tally(read_pitches(whole.drop(columns=gone)))
    assert right.column("two_strike_swings").sum() > 0
    counts = tally(read_pitches(counted_after.drop(columns=gone)))
    assert "the count contradicts other columns" in counts.missing["two_strike_swings"]
    assert _sums(counts, "swings") == _sums(right, "swings")


@pytest.mark.parametrize("picked", ["strikes == 2", "balls == 3 and strikes == 2", "balls == 0", "balls > 0"])
def test_pitches_that_were_picked_by_their_count_are_not_in_doubt(whole, picked):
    some = whole.query(picked).drop(columns=["game", "plate_appearance", "pitch", "result"])
    assert not read_pitches(some).report.doubts.contradicted


@pytest.mark.slow
def test_a_chart_of_balls_in_play_alone_leaves_its_count_in_no_doubt(whole, counted_after):
    """Nobody wrote how strikeouts and walks ended: that is missing, and says nothing against the count."""
    loose = ["plate_appearance", "pitch"]
    in_play = whole["outcome"] == "in play"
    chart = read_pitches(whole.drop(columns=loose).assign(result=whole["result"].where(in_play)))
    counts = tally(chart)
    firsts = {"first_swings": "swings at balls=0 strikes=0"}
    kept = tally(whole, events=firsts).table()["first_swings"]
    assert tally(chart, events=firsts).table()["first_swings"].sum() == kept.sum()
    assert counts.table()["two_strike_swings"].sum() == tally(whole).table()["two_strike_swings"].sum()
    with pytest.raises(MissingColumnsError, match="the result contradicts other columns"):
        check_above(chart, "Izezno", 0.2, event="hits", per="at_bats")
    # A count that is wrong is found by itself, and where some ended in strikeouts, as it was.
    after = counted_after.drop(columns=loose)
    for table in (after, after.assign(result=after["result"].where(in_play))):
        with pytest.raises(CountsError, match="the count contradicts other columns"):
            tally(read_pitches(table), events=firsts)


@pytest.mark.slow
def test_a_few_slips_are_counted_and_said(whole):
    slipped = whole.copy()
    full = np.flatnonzero((whole["strikes"] == 2) & (whole["pitch"] > 3))[:40:4]
    slipped.loc[full, "strikes"] = 0
    reading = read_pitches(slipped)
    number = reading.report.doubts.contradicted["count"]
    assert 10 <= number <= 20
    claim = check_leads(reading, event="two_strike_whiffs", per="two_strike_swings")
    said = (
        f"what this table cannot tell: the count contradicts other columns in {number} of {len(whole):,} rows"
    )
    assert claim.cannot_tell.startswith(said)
    assert said[1:] in " ".join(str(claim).split())
    assert claim.to_dict()["cannot_tell"] == claim.cannot_tell
    assert check_leads(reading).cannot_tell == ""  # swings ask for no count


@pytest.mark.slow
def test_a_clean_table_has_nothing_that_it_cannot_tell():
    assert check_leads(hitlab.demo_season()).cannot_tell == ""
    assert doubts_of(hitlab.demo_season()).phrases(["outcome", "result", "strikes"]) == ()


@pytest.mark.slow
def test_it_goes_with_a_saved_table(whole, counted_after, tmp_path):
    cut = counted_after.copy()
    cut.loc[:6, "outcome"] = "sneeze"
    reading = read_pitches(cut)
    path = write_checked(reading, tmp_path / "saved.parquet")
    assert doubts_of(path) == doubts_of(reading)
    assert "7 of " in check_leads(path).cannot_tell
    assert check_leads(path).cannot_tell == check_leads(reading).cannot_tell
    with pytest.raises(MissingColumnsError, match="the count contradicts"):
        check_leads(path, event="two_strike_whiffs", per="two_strike_swings")


@pytest.mark.slow
def test_a_question_that_asks_for_the_pitch_before_keeps_them(counted_after):
    reading = read_pitches(counted_after)
    with pytest.raises((CountsError, MissingColumnsError), match="the count contradicts"):
        check_leads(reading, event="two_strike_whiffs", per="two_strike_swings", when="after a whiff")


@pytest.mark.slow
def test_no_column_for_bunts_is_said_where_it_matters(whole):
    without = read_pitches(whole.drop(columns=["bunt"]))
    said = "what this table cannot tell: no column tells bunt attempts, which count as swings here"
    assert check_above(without, "Izezno", 0.2).cannot_tell == said
    assert said in hitlab.rate(tally(without), "whiffs", "swings").notes
    assert check_above(without, "Izezno", 0.2, event="hits", per="at_bats").cannot_tell == ""
    own = tally(without, events={"first": "swings at balls=0 strikes=0"})
    assert own.cannot_tell("first") == said


@pytest.mark.slow
def test_the_commands_say_it(counted_after, tmp_path, capsys):
    path = tmp_path / "after.csv"
    counted_after.to_csv(path, index=False)
    asked = ["--event", "two_strike_whiffs", "--per", "two_strike_swings", "--file", str(path)]
    assert run(["check", "leads", *asked]) == 2
    assert "the count contradicts other columns" in " ".join(capsys.readouterr().err.split())
    assert run(["check", "leads", *asked, "--most-contradicted", "1", "--json"]) in (0, 1, 3)
    told = json.loads(capsys.readouterr().out)
    assert told["cannot_tell"].startswith("what this table cannot tell: the count contradicts")
    assert told["question"]["conventions"] == {"most_contradicted": 1.0}


@pytest.mark.parametrize("share", [-0.1, 1.5])
def test_the_share_is_a_share(share):
    with pytest.raises(CountsError, match=r"most_contradicted=.*give a share from 0 to 1"):
        Conventions(most_contradicted=share)


def test_doubts_pass_through_text():
    said = ("2 of 122 rows are set aside, not counted",)
    doubts = Doubts(120, {"count": 3, "ending": 1}, said, steps={"exit_mph": 2.236936292054402})
    assert Doubts.from_json(doubts.to_json()) == doubts
    assert doubts.reason(["strikes"], 0.03) == ""
    assert doubts.reason(["strikes"], 0.02).startswith("the count contradicts other columns in 3 of 120 rows")
    assert doubts.phrases(["outcome"]) == doubts.said


def test_a_saved_table_of_before_has_no_steps():
    assert Doubts.from_json('{"rows": 9, "contradicted": {}, "said": [], "of_days": []}') == Doubts(9)


_MPH_OF = {"m/s": 1 / 0.44704, "km/h": 1 / 1.609344}


def _struck(unit, decimals):
    """Balls of two hitters with speeds as written in another unit, and the bounds of each in mph."""
    rng = np.random.default_rng(6)
    mph = rng.normal(91, 8, 500)
    written = np.round(mph / _MPH_OF[unit], decimals)
    half = 0.5 / 10**decimals
    frame = pd.DataFrame({"hitter": np.tile(["Ada Frusk", "Bo Vint"], 250), "outcome": "in play"})
    frame = pd.concat([frame.assign(exit_mph=written), frame.assign(outcome="whiff")], ignore_index=True)
    return frame, (written - half) * _MPH_OF[unit], (written + half) * _MPH_OF[unit]


@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")
@pytest.mark.parametrize(("unit", "threshold"), [("m/s", None), ("m/s", 90.0), ("km/h", None)])
def test_whole_numbers_of_another_unit_cannot_tell_a_threshold_and_it_is_said(unit, threshold, tmp_path):
    frame, low, high = _struck(unit, 0)
    reading = read_pitches(frame.assign(bunt=False), {"units": {"exit_mph": unit}})
    conventions = Conventions(hard_mph=threshold)
    mph = threshold or 95
    near = int(((low < mph) & (high > mph)).sum())
    assert near > 5
    said = (
        f"what this table cannot tell: whether {near} of 500 balls in play are hard, whose speeds, written "
        f"in steps of {_MPH_OF[unit]:.2f} mph, lie within the rounding of {mph} mph"
    ).replace("90.0", "90")
    path = write_checked(reading, tmp_path / "saved.parquet")
    for table in (reading, path):  # in memory and by another engine
        counts = tally(table, conventions=conventions)
        assert counts.cannot_tell("hard") == said
        assert said in hitlab.rate(counts, "hard", "in_play").notes
        assert counts.cannot_tell("whiffs", "swings") == ""
        own = tally(table, events={"struck": "hard at outcome=in play"}, conventions=conventions)
        assert own.cannot_tell("struck") == said
    chosen = frame["hitter"] == "Bo Vint"
    half = tally(reading, where=chosen.to_numpy(), conventions=conventions)
    near = int(((low < mph) & (high > mph) & chosen[:500].to_numpy()).sum())
    assert f"whether {near} of 250 balls in play" in half.cannot_tell("hard")
    assert any(f"in steps of {_MPH_OF[unit]:.2f} mph" in one for one in reading.report.cannot_tell)


@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")
@pytest.mark.parametrize("unit", _MPH_OF)
def test_one_decimal_tells_a_threshold(unit):
    frame, _, _ = _struck(unit, 1)
    reading = read_pitches(frame.assign(bunt=False), {"units": {"exit_mph": unit}})
    assert tally(reading).cannot_tell("hard") == ""
    assert not any("steps" in one for one in reading.report.cannot_tell)


@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")
def test_a_ball_whose_hardness_was_recorded_is_in_no_doubt():
    frame, low, high = _struck("m/s", 0)
    flagged = frame.assign(bunt=False, hard=[True, False, None, None] * 250)
    near = int(((low < 95) & (high > 95) & np.tile([False, False, True, True], 125)).sum())
    said = tally(read_pitches(flagged, {"units": {"exit_mph": "m/s"}})).cannot_tell("hard")
    assert f"whether {near} of 500 balls in play" in said


@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")
def test_a_claim_says_it_where_doubts_are_said_and_only_where_it_asks_for_hard_balls():
    frame, low, high = _struck("m/s", 0)
    reading = read_pitches(frame.assign(bunt=False), {"units": {"exit_mph": "m/s"}})
    near = int(((low < 95) & (high > 95)).sum())
    claim = check_above(reading, "Ada Frusk", 0.2, event="hard", per="in_play")
    assert f"What this table cannot tell: whether {near} of 500 balls" in " ".join(str(claim).split())
    assert check_above(reading, "Ada Frusk", 0.2, event="whiffs", per="swings").cannot_tell == ""


@pytest.mark.slow
def test_a_column_that_looks_like_ours_and_odd_dates_are_said(whole, tmp_path):
    sheet = whole.rename(columns={"bunt": "bunts"}).astype({"date": str})
    sheet.loc[:2, "date"] = "1931-04-01"
    reading = read_pitches(sheet)
    said = check_leads(reading).cannot_tell
    assert "'bunts' looks like bunt, which nothing fills" in said
    assert "1931" not in said  # no day is asked for
    assert "before 1950" in check_leads(reading, since="2031-04-10").cannot_tell
    path = write_checked(reading, tmp_path / "saved.parquet")
    assert doubts_of(path) == doubts_of(reading)


def test_what_balls_and_strikes_put_in_doubt_is_said_in_words() -> None:
    doubts = Doubts(rows=200, contradicted={"balls and strikes": 4})
    (said,) = doubts.phrases(["result"])
    assert said == "the result contradicts other columns in 4 of 200 rows (2 %)"
