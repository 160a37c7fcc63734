"""A season in parts: charts are added to the checked table, no game twice, and the old one stays whole."""

from __future__ import annotations

import datetime as dt
import hashlib
import itertools
import json
import os
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import numpy as np
import pandas as pd
import pyarrow.parquet as pq
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab import check_above, check_leads, tally
from hitlab.charting import add_to_season, season
from hitlab.charting.same_games import ALIKE, Game, alike, may_be_alike
from hitlab.cli.commands import run
from hitlab.errors import CountsError, MissingColumnsError, ReadingError
from hitlab.locking import held, lock_of
from hitlab.pitches import read_pitches, storing, write_checked
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.opening import doubts_of
from hitlab.pitches.parts import part_of
from hitlab.pitches.storing import is_checked, open_parts
from tests.hostile_names import HOSTILE

posix = pytest.mark.skipif(os.name == "nt", reason="signals and mounts are of POSIX")

HITTERS = [f"{first} {last}" for first in ("Ada", "Bea", "Cyd") for last in ("Frusk", "Plome", "Velm")]
OUTCOMES = ["ball", "called strike", "whiff", "foul", "in play"]


def game(name, seed=0, rows=40, day=None, **columns):
    """A game by chance, without a key."""
    rng = np.random.default_rng(seed)
    told = {
        "game": name,
        "hitter": np.repeat(HITTERS, 1 + rows // len(HITTERS))[:rows],
        "outcome": rng.choice(OUTCOMES, rows),
    }
    return pd.DataFrame(told | ({"date": day} if day else {}) | columns)


def saved(path, *games):
    path.parent.mkdir(exist_ok=True)
    pd.concat(games).to_csv(path, index=False)
    return path


def digest(path):
    return hashlib.sha256(Path(path).read_bytes()).hexdigest()


def alone(folder):
    return sorted(os.listdir(folder))


def what(added):
    return dict(zip(added.data["game"], added.data["what"], strict=True))


@pytest.fixture
def friday(tmp_path):
    return saved(tmp_path / "in" / "friday.csv", game("g1", 1), game("g2", 2))


@pytest.fixture
def saturday(tmp_path):
    return saved(tmp_path / "in" / "saturday.csv", game("g3", 3))


@pytest.fixture
def table(tmp_path, friday):
    """A season with Friday's games in it."""
    path = tmp_path / "season.parquet"
    assert add_to_season(path, friday).written
    return path


# What is added.


def test_new_games_are_added_behind_the_old_ones(table, saturday):
    before = pd.read_parquet(table)
    added = add_to_season(table, saturday)
    after = pd.read_parquet(table)
    assert added.title == "1 game added, 40 pitches. season.parquet has 3 games and 120 pitches."
    assert what(added) == {"g3": "added"}
    assert (added.written, added.rows, added.games) == (True, 120, 3)
    pd.testing.assert_frame_equal(after[:80], before)
    assert after["game"].tolist() == ["g1"] * 40 + ["g2"] * 40 + ["g3"] * 40
    assert is_checked(table)


def test_games_stand_in_the_order_of_their_days(tmp_path):
    path = tmp_path / "season.parquet"
    for number, day in enumerate(["2031-05-08", "2031-05-01", "2031-05-15"]):
        add_to_season(path, game(f"g{number}", number, day=day))
    assert list(dict.fromkeys(pd.read_parquet(path)["game"])) == ["g1", "g0", "g2"]


def test_the_same_file_twice_is_said_at_once_and_nothing_is_done(
    table, friday, saturday, monkeypatch, capsys
):
    before = digest(table)
    copy = friday.with_name("copy.csv")
    copy.write_bytes(friday.read_bytes())
    monkeypatch.setattr(season, "read_pitches", None)  # it is not even read
    assert run(["add", str(copy), "--to", str(table)]) == 0
    said = capsys.readouterr().out
    assert "Nothing to add. season.parquet has 2 games and 80 pitches." in said
    assert "copy.csv was added before, byte for byte, and is passed over" in said
    assert digest(table) == before
    monkeypatch.undo()
    assert what(add_to_season(table, [friday, saturday])) == {"g3": "added"}
    assert what(add_to_season(table, friday.parent)) == {}  # of the folder all is known


def test_a_file_that_grows_brings_its_new_games_and_no_row_twice(tmp_path):
    path = tmp_path / "season.parquet"
    bad = pd.DataFrame({"game": ["g1"], "hitter": ["Ada Frusk"], "outcome": ["oops"]})
    grown = [game("g1", 1), bad, game("g2", 2), bad.assign(game="g2"), game("g3", 3)]
    add_to_season(path, saved(tmp_path / "chart.csv", *grown[:2]))
    again = add_to_season(path, saved(tmp_path / "chart.csv", *grown))
    assert what(again) == {"g1": "there already", "g2": "added", "g3": "added"}
    mark = pq.read_schema(path).metadata
    assert (mark[b"hitlab_rows_read"], mark[b"hitlab_rows_set_aside"]) == (b"122", b"2")
    assert doubts_of(path).said == read_pitches(tmp_path / "chart.csv").report.doubts.said


def test_a_saved_table_is_the_first_part_and_another_may_be_added(tmp_path, friday, saturday):
    path, other = (tmp_path / name for name in ("season.parquet", "saturday.parquet"))
    write_checked(read_pitches(friday), path)
    write_checked(read_pitches(saturday), other)
    assert what(add_to_season(path, other)) == {"g3": "added"}
    assert [one.source for one in open_parts(path)[1]] == ["friday.csv", "saturday.csv"]
    assert what(add_to_season(path, [friday, saturday])) == dict.fromkeys(["g1", "g2", "g3"], "there already")


def test_a_table_that_was_saved_without_parts_is_one_part(tmp_path, saturday):
    friday = pd.concat([game("g1", 1), game("g2", 2).assign(outcome="oops"), game("g2", 2)])
    path = write_checked(read_pitches(friday), tmp_path / "season.parquet")
    whole = doubts_of(path)
    stored = pq.read_table(path)
    mark = {key: value for key, value in stored.schema.metadata.items() if key != b"hitlab_parts"}
    from hitlab.pitches.sealing import seal

    with path.open("w+b") as file:
        pq.write_table(stored.replace_schema_metadata(mark), file)
        seal(file)
    assert doubts_of(path) == whole
    add_to_season(path, saturday)
    assert doubts_of(path).said == (
        "40 of 160 rows are set aside, not counted, 40 of them for this: outcome: not a known word",
    )
    changed = game("g2", 5)
    told = add_to_season(path, changed, twice="replace")
    assert any("was not kept game by game, and still counts" in note for note in told.notes)


def test_columns_of_one_part_alone_are_blank_in_the_other_and_it_is_said(table):
    speeds = game("g3", 3, exit_mph=90.5, bench="left")
    added = add_to_season(table, speeds, {"keep": ["bench"]})
    assert "the season had no exit_mph and bench; blank in those pitches" in added.notes
    after = pd.read_parquet(table)
    assert after["exit_mph"].notna().sum() == 40
    assert after["exit_mph"].tail(40).eq(90.5).all()
    fewer = add_to_season(table, game("g4", 4))
    assert "the new charts had no exit_mph and bench; blank in those pitches" in fewer.notes
    # A carried column that is a number in one chart and text in the other is text.
    text = add_to_season(table, game("g5", 5, bench=7), {"keep": ["bench"]})
    assert text.written
    assert pd.read_parquet(table)["bench"].tail(40).eq("7").all()


def test_a_name_stands_in_for_an_id_and_levels_are_spelled_as_in_the_season(table):
    ids = game("g3", 3)
    ids = ids.assign(hitter_id=ids["hitter"].str.lower(), level="Under Fifteen")
    added = add_to_season(table, ids)
    assert any("the season has no hitter_id, and the name stands in for it" in note for note in added.notes)
    after = pd.read_parquet(table)
    assert (after["hitter_id"][:80] == after["hitter"][:80]).all()
    renamed = ids.assign(game="g4", outcome=ids["outcome"][::-1].to_numpy(), level="UNDER FIFTEEN")
    renamed["hitter"] += " II"
    other = add_to_season(table, renamed)
    assert any("has several names: Ada Frusk and Ada Frusk II" in note for note in other.notes)
    assert set(pd.read_parquet(table)["level"].dropna()) == {"Under Fifteen"}
    # The chart without ids, charted anew, is still the game that is there.
    assert what(add_to_season(table, game("g1", 1))) == {"g1": "there already"}


def test_hitters_that_are_new_are_named(table):
    new = game("g3", 3).replace("Ada Frusk", "Ada Frusc")
    assert "hitters that the season did not have: Ada Frusc" in add_to_season(table, new).notes


# A game twice.


def test_equal_rows_are_passed_over_and_other_rows_are_listed_and_not_written(table):
    before = digest(table)
    assert what(add_to_season(table, game("g1", 1))) == {"g1": "there already"}
    changed = game("g1", 1)
    changed.loc[3, "outcome"] = "hit by pitch"
    changed = changed.drop(index=20)
    added = add_to_season(table, pd.concat([changed, game("g9", 9)]))
    assert not added.written
    assert what(added) == {"g1": "differs", "g9": "waits"}
    assert added.open_games == 1
    assert added.choices == ("keep", "replace")
    assert "g1: 1 of 39 pitches in both differs, 1 only in the season" in added.notes
    lines = added.differences.astype(object).where(added.differences.notna(), None).to_dict("records")
    was = game("g1", 1)["outcome"]
    assert lines[0] == {
        "game": "g1",
        "old_row": 4,
        "new_row": 4,
        "hitter": "Ada Frusk",
        "column": "outcome",
        "old": was[3],
        "new": "hit by pitch",
    }
    assert lines[1]["column"] == ""
    assert lines[1]["new_row"] is None
    assert (lines[1]["old"], lines[1]["new"]) == (was[20], "not there")
    assert len(lines) == 2
    assert digest(table) == before


@pytest.mark.parametrize("twice", ["keep", "replace"])
def test_keep_leaves_the_old_game_and_replace_puts_the_new_one_in_its_place(twice, table, tmp_path, capsys):
    before = pd.read_parquet(table)
    new = game("g1", 7, rows=30)
    chart = saved(tmp_path / "in" / "again.csv", new, game("g9", 9))
    assert run(["add", str(chart), "--to", str(table)]) == 3
    said = capsys.readouterr().out
    assert "Nothing was added: 1 game has to be decided first." in said
    assert f"--twice {twice}" in said
    assert run(["add", str(chart), "--to", str(table), "--twice", twice]) == 0
    after = pd.read_parquet(table)
    assert list(dict.fromkeys(after["game"])) == ["g1", "g2", "g9"]
    first = after[after["game"] == "g1"]
    there = before[before["game"] == "g1"] if twice == "keep" else new
    assert first["outcome"].tolist() == there["outcome"].tolist()
    assert "replaced" in capsys.readouterr().out or twice == "keep"


def test_a_game_of_another_name_that_looks_the_same_waits(table):
    again = game("Lanterns at home", 1)
    again.loc[[2, 5], "outcome"] = "hit by pitch"
    again["hitter"] = again["hitter"].str.upper()  # another hand
    added = add_to_season(table, again)
    assert what(added) == {"Lanterns at home": "looks like g1"}
    assert added.choices == ("keep", "replace", "add")
    assert not added.written
    assert what(add_to_season(table, again, twice="keep")) == {"Lanterns at home": "kept as it was"}
    assert what(add_to_season(table, again, twice="replace")) == {"Lanterns at home": "in place of g1"}
    assert set(pd.read_parquet(table)["game"]) == {"Lanterns at home", "g2"}
    assert what(add_to_season(table, again.assign(game="g1"), twice="add")) == {"g1": "added"}


def test_each_game_is_decided_by_itself(table, tmp_path, capsys):
    before = pd.read_parquet(table)
    one, other = game("g1", 7, rows=30), game("g2", 8, rows=30)
    third = game("Otters away", 2)  # as g2 was, but for one pitch
    third.loc[2, "outcome"] = "hit by pitch"
    chart = saved(tmp_path / "in" / "again.csv", one, other)
    command = ["add", str(chart), "--to", str(table)]
    assert run(command) == 3
    assert "Of one game alone: --twice keep:GAME, once for each." in capsys.readouterr().out
    # One alone leaves the other to be decided, and nothing is written.
    assert run([*command, "--twice", "replace:g2"]) == 3
    assert pd.read_parquet(table).equals(before)
    assert run([*command, "--twice", "keep:G1", "--twice", "replace: g2"]) == 0
    after = pd.read_parquet(table)
    was, new = before[before["game"] == "g1"], other
    assert after.loc[after["game"] == "g1", "outcome"].tolist() == was["outcome"].tolist()
    assert after.loc[after["game"] == "g2", "outcome"].tolist() == new["outcome"].tolist()
    # A word for all others stands beside those that are named; of a game that looks like one, its new name.
    added = add_to_season(table, [game("g1", 5, rows=30)], twice={"": "keep", "g1": "replace"})
    assert what(added) == {"g1": "in place of the old one"}
    path = tmp_path / "other.parquet"
    add_to_season(path, before)
    assert what(add_to_season(path, third, twice={"Otters away": "add"})) == {"Otters away": "added"}


def test_a_game_that_is_not_there_or_decided_in_two_ways_is_refused(table, tmp_path, capsys):
    before = digest(table)
    chart = saved(tmp_path / "in" / "again.csv", game("g1", 7, rows=30))
    for typed, said in (
        (["replace:G7"], "no game of the new charts is called 'G7'. They have g1"),
        (["keep:g1", "replace:g1"], "says both keep and replace of 'g1'"),
        (["keep", "replace"], "says both keep and replace of all games"),
        (["kept:g1"], "--twice 'kept' of 'g1': say one of refuse, keep, replace, add"),
    ):
        options = [part for one in typed for part in ("--twice", one)]
        assert run(["add", str(chart), "--to", str(table), *options]) == 2
        assert said in " ".join(capsys.readouterr().err.split())
    assert digest(table) == before


@pytest.mark.parametrize(("share", "looks"), [(0.79, False), (0.8, True)])
def test_four_fifths_of_the_pitches_look_like_the_same_game(share, looks, tmp_path):
    path = tmp_path / "season.parquet"
    add_to_season(path, game("g1", 1, rows=100))
    other = game("g2", 1, rows=100)
    other.loc[: round(100 * (1 - share)) - 1, "outcome"] = "hit by pitch"
    assert what(add_to_season(path, other)) == {"g2": "looks like g1" if looks else "added"}


def test_on_another_day_it_is_another_game(tmp_path):
    path = tmp_path / "season.parquet"
    add_to_season(path, game("g1", 1, day="2031-05-01"))
    assert what(add_to_season(path, game("g2", 1, day="2031-05-02"))) == {"g2": "added"}
    assert what(add_to_season(path, game("g3", 1, day="2031-05-02"))) == {"g3": "looks like g2"}


def test_a_game_of_which_each_has_a_part_is_said_plainly(table, tmp_path):
    whole = game("g5", 5, rows=80)
    one, other = (
        saved(tmp_path / "in" / f"half-{n}.csv", part) for n, part in enumerate([whole[:40], whole[40:]])
    )
    add_to_season(table, one)
    added = add_to_season(table, other)
    assert what(added) == {"g5": "differs"}
    assert any("40 pitches only in the season and 40 only in the new charts" in note for note in added.notes)
    assert any("add all of its files at once" in note for note in added.notes)
    assert len(added.differences) == 80
    both = add_to_season(table, [one, other], twice="replace")  # as the note says
    assert what(both) == {"g5": "in place of the old one"}
    after = pd.read_parquet(table)
    assert after[after["game"] == "g5"]["outcome"].tolist() == whole["outcome"].tolist()
    lost = add_to_season(table, whole[:10].assign(outcome="foul tip"), twice="replace")
    assert any("the 80 pitches of the old one are gone" in note for note in lost.notes)


def test_two_files_that_hold_one_game_are_held_against_each_other(tmp_path):
    path = tmp_path / "season.parquet"
    keyed = {"plate_appearance": 1 + np.arange(40) // 4, "pitch": 1 + np.arange(40) % 4}
    for columns, folder in (({}, "plain"), (keyed, "keyed")):
        one = saved(tmp_path / folder / "a.csv", game("g1", 1, **columns), game("g2", 2, **columns))
        slip = game("g2", 2, **columns)
        slip.loc[4, "outcome"] = "hit by pitch"
        same = saved(tmp_path / folder / "b.csv", game("g2", 2, **columns), game("g3", 3, **columns))
        unlike = saved(tmp_path / folder / "c.csv", slip)
        refused = add_to_season(path, [one, same, unlike])
        assert refused.open_games == 1
        assert not path.exists()
        added = add_to_season(path, [one, same, unlike], twice="keep")
        assert added.data["what"].tolist() == ["added", "added", "there already", "added", "kept as it was"]
        assert len(pd.read_parquet(path)) == 120
        assert doubts_of(path).said == ()
        path.unlink()


def test_two_sheets_that_hold_one_game_are_refused_with_the_line_that_mends_it(tmp_path):
    book = tmp_path / "book.xlsx"
    with pd.ExcelWriter(book, engine="xlsxwriter") as writer:
        game("g1", 1).to_excel(writer, sheet_name="Friday", index=False)
        game("g1", 1).to_excel(writer, sheet_name="Friday (copy)", index=False)
    with pytest.raises(ReadingError, match=r'skip = \["Friday \(copy\)"\]'):
        add_to_season(tmp_path / "season.parquet", book)
    mapping = {"file": {"skip": ["Friday (copy)"]}}
    assert add_to_season(tmp_path / "season.parquet", book, mapping).rows == 40


def test_within_the_new_charts_one_game_takes_the_place_of_another(tmp_path):
    path = tmp_path / "season.parquet"
    both = pd.concat([game("g1", 1), game("g2", 2), game("g1 again", 1)])
    assert what(add_to_season(path, both))["g1 again"] == "looks like g1"
    added = add_to_season(path, both, twice="replace")
    assert what(added)["g1 again"] == "in place of g1"
    assert set(pd.read_parquet(path)["game"]) == {"g2", "g1 again"}
    assert added.rows == 80


# The mark adds up.


def test_three_parts_answer_as_one_reading_of_the_folder(ten_files, tmp_path):
    """Ten files in three parts: counts, claims, doubts and what is withheld are those of the folder."""
    whole = read_pitches(ten_files)
    path = tmp_path / "season.parquet"
    files = sorted(ten_files.iterdir())
    for some in (files[:3], files[3:4], files[4:]):
        assert add_to_season(path, some).written
    assert doubts_of(path) == whole.report.doubts
    assert "count" in doubts_of(path).contradicted
    assert doubts_of(path).contradicted["count"] > 0.01 * doubts_of(path).rows
    mark = pq.read_schema(path).metadata
    report = whole.report
    for name in ("rows_read", "rows_set_aside", "values_made_missing"):
        assert int(mark[f"hitlab_{name}".encode()]) == getattr(report, name) > 0
    for by in ("hitter", "pitch_kind", "club"):
        mine, yours = (tally(one, by=by).table().sort_values(by, ignore_index=True) for one in (path, whole))
        pd.testing.assert_frame_equal(mine, yours)
    with pytest.raises((CountsError, MissingColumnsError), match="the count contradicts other columns"):
        check_above(path, "Nadia Izezno", 0.5, event="swings", per="pitches", when="balls=0")


@pytest.fixture(scope="module")
def ten_files(tmp_path_factory):
    """Games of the demo season in ten files; some rows set aside, in one the count after the pitch."""
    pitches = pd.read_parquet(hitlab.demo_season())
    pitches = pitches[pitches["date"] < pd.Timestamp("2031-04-06").date()].reset_index(drop=True)
    folder = tmp_path_factory.mktemp("charts")
    games = pitches["game"].unique()
    for number, some in enumerate(np.array_split(games, 10)):
        chart = pitches[pitches["game"].isin(some)].copy()
        if number == 3:
            chart["balls"] = (chart["balls"] + (chart["outcome"] == "ball")).clip(upper=3)
        if number in (2, 7):
            chart["outcome"] = chart["outcome"].mask(np.arange(len(chart)) % 37 == 5, "oops")
            chart["hitter"] = chart["hitter"].mask(np.arange(len(chart)) % 41 == 7)
        chart["outs"] = chart["outs"].astype(object).mask(np.arange(len(chart)) % 97 == 3, "many")
        chart.to_csv(folder / f"chart-{number:02}.csv", index=False)
    return folder


def _answers_alike(one, other):
    for ask in (
        lambda table: check_leads(table, "Nadia Izezno"),
        lambda table: check_leads(table, "Nadia Izezno", event="whiffs", when="pitch_kind=breaking"),
        lambda table: hitlab.check_hot(table, "Nadia Izezno", stretch=2),
    ):
        mine, yours = ask(one), ask(other)
        assert mine.say == yours.say
        assert mine.verdict == yours.verdict
        assert mine.chance == pytest.approx(yours.chance, abs=1e-9)
        assert mine.notes == yours.notes


@pytest.mark.slow
@settings(max_examples=10, deadline=None)
@given(
    orders=st.permutations(range(4)),
    cut=st.sets(st.integers(1, 3)),
    bad=st.lists(st.integers(0, 159), max_size=12),
)
def test_any_order_and_any_cut_gives_equal_doubts_and_rows(orders, cut, bad, tmp_path_factory):
    folder = tmp_path_factory.mktemp("order")
    keyed = {
        "plate_appearance": 1 + np.arange(40) // 4,
        "pitch": 1 + np.arange(40) % 4,
        "balls": 0,
        "strikes": 0,
    }
    games = [game(f"g{n}", n, day=f"2031-05-{n + 1:02}", **keyed) for n in range(4)]
    whole = pd.concat(games, ignore_index=True)
    whole.loc[bad, "outcome"] = ["oops" if n % 2 else "" for n in bad]
    ends = [0, *sorted(cut), 4]
    path = folder / "season.parquet"
    for first, last in itertools.pairwise(ends):
        some = [f"g{n}" for n in orders[first:last]]
        # In the order of the file, whatever the order of adding.
        add_to_season(path, whole[whole["game"].isin(some)])
    read = read_pitches(whole)
    assert doubts_of(path) == read.report.doubts
    pd.testing.assert_frame_equal(tally(path).table(), tally(read).table())
    stored = pd.read_parquet(path)
    assert stored["outcome"].tolist() == read.table["outcome"].tolist()


@pytest.mark.slow
def test_any_order_of_adding_gives_the_claims_of_the_folder(ten_files, tmp_path):
    files = sorted(ten_files.iterdir())
    rng = np.random.default_rng(5)
    whole = read_pitches(ten_files)
    for number in range(3):
        path = tmp_path / f"season-{number}.parquet"
        for file in rng.permutation(np.array(files, dtype=object)):
            add_to_season(path, file)
        assert doubts_of(path) == whole.report.doubts
        _answers_alike(path, whole)


def test_what_was_in_doubt_goes_with_the_game_that_is_replaced(tmp_path):
    path = tmp_path / "season.parquet"
    keyed = {"plate_appearance": 1 + np.arange(40) // 4, "pitch": 1 + np.arange(40) % 4, "strikes": 0}
    good, wrong = game("g1", 1, balls=0, **keyed), game("g2", 2, balls=3 - np.arange(40) % 4, **keyed)
    rest = game("g3", 3, balls=0, **keyed).assign(outcome="foul tip")
    wrong.loc[0, "outcome"] = "oops"
    add_to_season(path, saved(tmp_path / "in" / "both.csv", good, wrong, rest))
    before = doubts_of(path)
    right = wrong.assign(balls=0, strikes=0, outcome="foul tip")
    add_to_season(path, saved(tmp_path / "in" / "right.csv", right), twice="replace")
    after = doubts_of(path)
    expected = read_pitches(pd.concat([good, right, rest])).report.doubts
    assert before.contradicted["count"] > after.contradicted["count"] > 0
    assert before.said
    assert after == expected
    assert what(add_to_season(path, tmp_path / "in" / "both.csv"))["g2"] == "differs"  # its file is forgotten


def test_phrases_are_said_once_where_they_are_equal_and_of_their_part_where_not(tmp_path):
    path = tmp_path / "season.parquet"
    columns = [{"exit": 90}, {"exit": 91}, {"Hiter_Side": "left"}]
    files = [
        saved(tmp_path / f"{n}.csv", game(n, ord(n), **one)) for n, one in zip("abc", columns, strict=True)
    ]
    for file in files[:2]:
        add_to_season(path, file)
    ((once,),) = (doubts_of(path).said,)
    assert once.startswith("'exit' looks like exit_mph")
    add_to_season(path, files[2])
    one, other = doubts_of(path).said
    assert one == f"in a.csv and b.csv: {once}"
    assert other.startswith("in c.csv: 'Hiter_Side' looks like hitter_side")


def test_what_is_odd_about_names_and_days_is_said_of_the_whole(tmp_path):
    path = tmp_path / "season.parquet"
    later = dt.date.today() + dt.timedelta(days=40)
    days = [str(later), str(later + dt.timedelta(days=1))]
    games = [game(day, n, day=day, pitcher_id=("7", "007")[n]) for n, day in enumerate(days)]
    for one in games:
        add_to_season(path, one)
    whole = read_pitches(pd.concat(games)).report
    assert "pitcher_id has one number in two spellings" in whole.doubts.said[0]
    assert f"80 dates lie in the future, the last {days[1]}" in whole.doubts.of_days[0]
    assert doubts_of(path) == whole.doubts


def test_doubts_add_up_and_are_decided_once():
    first = Doubts(100, {}, failed={"ending": 3, "ending by the count": 3, "count or ending by it": 3})
    other = Doubts(200, {}, failed={"count": 9, "count or ending by it": 9}, steps={"exit_mph": 0.6})
    both = Doubts.of_parts([("a", first), ("b", other)])
    assert both.rows == 300
    assert both.contradicted == {"count": 9}  # the count is contradicted more often than the result by it
    assert Doubts.of_parts([("a", first)]).contradicted == {"ending": 3}
    assert both.steps == {"exit_mph": 0.6}
    assert Doubts.from_json(both.to_json()) == both
    old = json.loads(Doubts(10, {"count": 2, "ending": 1}).to_json())
    del old["failed"], old["ordered"]
    assert Doubts.of_parts([("old", Doubts.from_json(json.dumps(old)))]).contradicted == {
        "count": 2,
        "ending": 1,
    }


def test_a_row_that_was_set_aside_is_of_the_game_before_it_in_its_sheet(tmp_path):
    book = tmp_path / "book.xlsx"
    with pd.ExcelWriter(book, engine="xlsxwriter") as writer:
        for name, seed in (("one", 1), ("two", 2)):
            sheet = game(name, seed)
            sheet.loc[[0, 39], "outcome"] = "oops"
            sheet.loc[20] = None  # a blank row has no number of its own
            sheet.to_excel(writer, sheet_name=name, index=False)
    path = tmp_path / "season.parquet"
    add_to_season(path, book)
    ((part,),) = (open_parts(path)[1],)
    assert {name: (one.rows, one.set_aside) for name, one in part.games.items()} == {
        "one": (37, 2),
        "two": (37, 2),
    }
    untold = part_of(read_pitches(book))  # without the source nothing tells where the blank row was
    assert sum(one.set_aside for one in untold.games.values()) == 4


# What is refused.


def test_without_a_game_the_mend_is_named(tmp_path, table):
    plain = saved(tmp_path / "in" / "plain.csv", game("g7", 7, day="2031-05-01").drop(columns="game"))
    before = digest(table)
    with pytest.raises(ReadingError, match=r"no column tells the game.*\[games\].*from = \[\"date\"\]"):
        add_to_season(table, plain)
    assert digest(table) == before
    assert add_to_season(table, plain, {"games": {"from": ["date"]}}).written
    some = game("g8", 8)
    some.loc[5, "game"] = None
    with pytest.raises(ReadingError, match="1 pitch without a game"):
        add_to_season(table, some)
    bare = write_checked(game("g1", 1).drop(columns="game"), tmp_path / "bare.parquet")
    with pytest.raises(ReadingError, match="cannot be part of a season: no column tells the game"):
        add_to_season(bare, plain, {"games": {"from": ["date"]}})


def test_charts_that_were_not_understood_are_refused_as_by_read(table, tmp_path, capsys):
    before = digest(table)
    bad = saved(tmp_path / "in" / "bad.csv", game("g7", 7).assign(outcome=["oops"] * 30 + ["ball"] * 10))
    assert run(["add", str(bad), "--to", str(table)]) == 2
    assert "Most of bad.csv was not understood" in capsys.readouterr().err
    assert digest(table) == before


@pytest.mark.parametrize(
    ("kind", "why"),
    [
        ("plain", "carries no schema mark"),
        ("older", "has version 0 of the pitch table"),
        ("damaged", "is not as it was saved"),
        ("text", "is not a whole Parquet file"),
        ("folder", "it is a folder, not a file"),
        ("name", "end its name with .parquet"),
        ("nowhere", "there is no folder"),
    ],
)
def test_a_season_that_is_none_is_refused_and_stays(kind, why, table, saturday, tmp_path, capsys):
    path = tmp_path / "other.parquet"
    if kind == "plain":
        game("g1", 1).to_parquet(path)
    elif kind == "older":
        stored = pq.read_table(table)
        pq.write_table(stored.replace_schema_metadata({"hitlab_schema": "0"}), path)
    elif kind == "damaged":
        whole = bytearray(table.read_bytes())
        whole[200] ^= 1
        path.write_bytes(whole)
    elif kind == "text":
        path.write_text("game,hitter,outcome\n")
    elif kind == "folder":
        path.mkdir()
    elif kind == "name":
        path = tmp_path / "season.csv"
    else:
        path = tmp_path / "none" / "season.parquet"
    before = digest(path) if path.is_file() else None
    assert run(["add", str(saturday), "--to", str(path)]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert why in said
    assert "unexpected" not in said
    assert before is None or digest(path) == before
    assert not lock_of(path).exists()


def test_no_chart_is_written_over(friday, saturday, table, tmp_path, capsys):
    before = digest(table), digest(saturday)
    assert run(["add", str(table), "--to", str(table)]) == 2
    link = tmp_path / "link.parquet"
    link.symlink_to(saturday)
    assert run(["add", str(saturday), "--to", str(link)]) == 2
    assert run(["add", str(saturday), "--to", str(table), "--set-aside", str(saturday)]) == 2
    assert "it is the file that is read" in capsys.readouterr().err
    with pytest.raises(ReadingError, match="it is the file that is read"):
        add_to_season(table, table)
    assert (digest(table), digest(saturday)) == before


def test_hostile_names_are_shown_harmlessly(table, capsys, tmp_path):
    names = [name for name in HOSTILE if len(name) < 200 and name.strip()][::2]
    both = pd.concat([game(name, 1 + n, rows=20).assign(hitter=name) for n, name in enumerate(names)])
    parquet = tmp_path / "in" / "hostile.parquet"
    both.to_parquet(parquet)
    run(["add", str(parquet), "--to", str(table)])
    other = both.assign(outcome="foul")
    other.to_parquet(parquet)
    run(["add", str(parquet), "--to", str(table)])
    said = capsys.readouterr()
    told = said.out + said.err
    assert "differs" in told
    assert not [sign for sign in told if ord(sign) < 32 and sign != "\n"]
    assert not set(told) & set("\x9b\x85\u2028\u2029\u202e\u2066\u2067\u200f")
    assert not [line for line in told.splitlines() if line.startswith(("Verdict", "Ada", "="))]


def test_what_was_set_aside_is_saved_and_json_tells_it_all(table, tmp_path, capsys):
    chart = game("g3", 3)
    chart.loc[4, "outcome"] = "oops"
    path = saved(tmp_path / "in" / "chart.csv", chart)
    aside = tmp_path / "aside.csv"
    assert run(["add", str(path), "--to", str(table), "--set-aside", str(aside), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["written"]
    assert answer["games"] == [{"game": "g3", "rows": 39, "what": "added"}]
    assert (answer["rows"], answer["games_in_season"]) == (119, 3)
    assert any("1 of 40 rows set aside" in note for note in answer["notes"])
    assert pd.read_csv(aside)["value"].tolist() == ["oops"]
    assert str(add_to_season(table, path, twice="replace")).startswith("Nothing to add.")


def test_what_is_printed_reads_well(table, saturday, tmp_path, capsys):
    slip = game("g2", 2)
    slip.loc[3, "outcome"] = "hit by pitch"
    chart = saved(tmp_path / "in" / "sunday.csv", slip, game("g4", 4))
    assert run(["add", str(chart), "--to", str(table)]) == 3
    was = game("g2", 2)["outcome"][3]
    lines = [" ".join(line.split()) for line in capsys.readouterr().out.splitlines()]
    assert lines == [
        "Nothing was added: 1 game has to be decided first. "
        "season.parquet has 2 games and 80 pitches, as before.",
        "note: g2: 1 of 40 pitches in both differs",
        "game rows what",
        "g2 40 differs",
        "g4 40 waits",
        "What differs, pitch by pitch:",
        "game old pitch new pitch hitter column old new",
        f"g2 4 4 Ada Frusk outcome {was} hit by pitch",
        "To decide, give the same command again with one of these:",
        "--twice keep the season's game stays",
        "--twice replace the new one takes its place",
    ]


# Whatever happens the old table stays whole.


KILLED = """
import sys, time
import hitlab.writing as writing

whole = writing._filled

def halfway(file, content):
    class Slow:
        def __getattr__(self, name):
            return getattr(file, name)
        def write(self, data):
            file.write(bytes(data)[: len(data) // 2])
            file.flush()
            print("ready", flush=True)
            time.sleep(60)
    whole(Slow(), content)

writing._filled = halfway
from hitlab.cli.commands import run
print("ended", run(sys.argv[1:]))
"""


@posix
def test_killed_while_it_writes_it_leaves_the_old_season_and_no_lock(table, saturday, tmp_path, capsys):
    before = digest(table)
    words = ["add", str(saturday), "--to", str(table)]
    writer = subprocess.Popen([sys.executable, "-c", KILLED, *words], stdout=subprocess.PIPE, text=True)
    try:
        assert writer.stdout.readline() == "ready\n"
        # While it works, nobody else does, and is told who does.
        with (
            pytest.raises(ReadingError, match=rf"another hitlab \(process {writer.pid}, since"),
            held(table, 0.2),
        ):
            pytest.fail("two at once")
        assert digest(table) == before
    finally:
        os.kill(writer.pid, signal.SIGKILL)
        writer.wait()
        writer.stdout.close()
    assert digest(table) == before
    assert any(name.endswith(".unfinished") for name in alone(tmp_path))
    assert run(words) == 0
    assert set(pd.read_parquet(table)["game"]) == {"g1", "g2", "g3"}
    assert alone(tmp_path) == ["in", "season.parquet"]
    capsys.readouterr()


@pytest.mark.slow
@posix
def test_where_the_room_ends_the_old_season_stays_whole(table, saturday, tmp_path):
    before = digest(table)
    words = ["add", str(saturday), "--to", str(table)]
    code = textwrap.dedent(
        f"""
        import resource, sys
        from hitlab.cli.commands import run
        resource.setrlimit(resource.RLIMIT_FSIZE, (600, 600))
        sys.exit(run({words!r}))
        """
    )
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert ended.returncode == 2
    assert "cannot be written" in ended.stderr
    assert "Traceback" not in ended.stderr
    assert digest(table) == before
    assert alone(tmp_path) == ["in", "season.parquet"]


@pytest.mark.slow
@posix
def test_on_a_full_disk_the_old_season_stays_whole(friday, saturday, tmp_path, capsys):
    place = tmp_path / "disk"
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(place)]
    try:
        tried = subprocess.run(mount, capture_output=True, text=True, check=False)
    except FileNotFoundError:
        pytest.skip("there is no mount on this machine")
    if tried.returncode:
        pytest.skip(f"no disk may be mounted here: {tried.stderr.strip()}")
    try:
        path = place / "season.parquet"
        add_to_season(path, friday)
        before = digest(path)
        filler = place / "filler"
        with pytest.raises(OSError, match="No space left"), filler.open("wb") as file:  # noqa: PT012
            for _ in range(1000):
                file.write(b"x" * 4096)
                file.flush()
        assert run(["add", str(saturday), "--to", str(path)]) == 2
        assert "No space left" in capsys.readouterr().err
        assert digest(path) == before
        assert alone(place) == ["filler", "season.parquet"]
        filler.unlink()
        assert run(["add", str(saturday), "--to", str(path)]) == 0
        assert alone(place) == ["season.parquet"]
    finally:
        subprocess.run(["umount", str(place)], check=True)


@pytest.mark.slow
@posix
def test_two_at_once_end_with_both_in(table, tmp_path):
    charts = [saved(tmp_path / "in" / f"{n}.csv", game(f"n{n}", 10 + n)) for n in range(3)]
    words = [[sys.executable, "-m", "hitlab", "add", str(one), "--to", str(table)] for one in charts]
    running = [subprocess.Popen(one, stdout=subprocess.PIPE, stderr=subprocess.PIPE) for one in words]
    ended = [one.communicate() for one in running]
    assert [one.returncode for one in running] == [0, 0, 0], ended
    assert set(pd.read_parquet(table)["game"]) == {"g1", "g2", "n0", "n1", "n2"}
    assert is_checked(table)
    assert alone(tmp_path) == ["in", "season.parquet"]


@posix
def test_a_season_that_is_replaced_while_it_is_opened_is_the_one_before(table, friday, tmp_path, monkeypatch):
    """The new charts are read before the lock is asked for: another may write the season meanwhile."""
    other = add_to_season(tmp_path / "other.parquet", pd.read_csv(friday).assign(game="another")).season
    whole, games = storing.verify, set(pd.read_parquet(table)["game"])

    def verify(file, name):
        found = whole(file, name)
        if Path(name) == table and Path(other).exists():
            os.replace(other, table)
        return found

    monkeypatch.setattr(storing, "verify", verify)
    assert set(open_parts(table)[0].column("game").to_pylist()) == games
    assert set(open_parts(table)[0].column("game").to_pylist()) == {"another"}


@posix
def test_a_season_that_is_written_to_while_it_is_read_is_refused(table, monkeypatch):
    whole = storing.verify

    def verify(file, name):
        found = whole(file, name)
        os.utime(table, (1e9, 1e9))  # as a write in place does
        return found

    monkeypatch.setattr(storing, "verify", verify)
    with pytest.raises(ReadingError, match="was replaced or changed after it was opened"):
        open_parts(table)


def test_a_lock_waits_for_the_other_and_goes_when_it_is_given_back(tmp_path):
    path = tmp_path / "season.parquet"
    with held(path):
        assert lock_of(path).exists()
        began = time.monotonic()
        with pytest.raises(ReadingError, match="is being written by another hitlab"), held(path, 0.1):
            pytest.fail("two at once")
        assert time.monotonic() - began >= 0.1
    assert alone(tmp_path) == []
    lock_of(path).write_text("what a killed one left")
    with held(path, 0.1):
        pass
    assert alone(tmp_path) == []


def test_a_long_season_is_counted_once_and_not_for_each_new_game(tmp_path, monkeypatch):
    from hitlab.charting import same_games

    path = tmp_path / "season.parquet"
    add_to_season(path, pd.concat([game(f"g{at}", at) for at in range(12)]))
    counted = []

    class Counting(same_games.Counter):
        def __init__(self, *given):
            counted.append(given)
            super().__init__(*given)

    monkeypatch.setattr(same_games, "Counter", Counting)
    added = add_to_season(path, pd.concat([game(f"g{at}", at) for at in range(20, 26)]))
    assert what(added) == {f"g{at}": "added" for at in range(20, 26)}
    # Each of the 18 games is counted in two steps; held against each other they were 87 pairs.
    assert len([given for given in counted if given]) <= 18


def test_two_games_of_the_same_clubs_are_far_from_alike():
    pitches = pd.read_parquet(hitlab.demo_season())
    pitches = pitches[pitches["date"] < pd.Timestamp("2031-04-25").date()]
    sides = pitches.groupby("game")["club"].agg(frozenset)
    first = sides.value_counts().index[0]
    games = [pitches[pitches["game"] == name] for name in sides[sides == first].index]
    assert len(games) >= 2
    for one, other in itertools.combinations(games[:4], 2):
        share = alike(one, other) / max(len(one), len(other))
        assert share < ALIKE / 2
        assert not may_be_alike(Game(one), Game(other)) or share < ALIKE
