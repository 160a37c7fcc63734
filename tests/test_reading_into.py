"""Files read into a folder of saved tables, piece by piece: together they are the whole reading."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import textwrap
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
import pytest

import hitlab
from hitlab import read_pitches, tally
from hitlab.charting.season import add_to_season
from hitlab.cli.commands import run
from hitlab.errors import ReadingError
from hitlab.locking import held
from hitlab.pitches import open_checked, read_into, textfiles, write_checked
from hitlab.pitches import reading_into as module
from hitlab.pitches.kept_blocks import KeptBlocks
from hitlab.pitches.origin import Source
from hitlab.pitches.quoting import structure
from hitlab.pitches.season_folder import MOVING, WORK
from hitlab.pitches.storing import doubts_in, is_checked

posix = pytest.mark.skipif(os.name == "nt", reason="signals and permissions are of POSIX")

MAPPING = {
    "columns": {
        "Match": "game",
        "Bat": "hitter",
        "What": "outcome",
        "PA": "plate_appearance",
        "No": "pitch",
        "League": "level",
        "Exit": "exit_mph",
        "Count": "count",
    },
    "keep": ["Note"],
    "units": {"exit_mph": "km/h"},
    "words": {"outcome": {"swing and miss": "whiff", "b": "ball"}},
}
MAPPING["columns"].pop("Count")
MAPPING["split"] = {"Count": {"into": ["balls", "strikes"], "separator": "-"}}


def charts(games=12, rows=60, seed=1):
    """A chart in words and units of its own, with slips of every kind."""
    rng = np.random.default_rng(seed)
    many = games * rows
    frame = pd.DataFrame(
        {
            "Match": np.repeat([f"game {number}" for number in range(games)], rows),
            "Bat": rng.choice(["Ada Frusk", "Bea Plome", "Cyd Velm"], many),
            "What": rng.choice(["swing and miss", "b", "foul", "in play"], many),
            "PA": np.tile(np.arange(rows) // 3 + 1, games),
            "No": np.tile(np.arange(rows) % 3 + 1, games),
            "League": "college",
            "Exit": rng.choice(["150.1", "161.2", "155.9", ""], many),
            "Count": rng.choice(["0-0", "1-2", "3-1"], many),
            "Note": rng.choice(["1", "2", ""], many),
            **{f"extra {number}": rng.integers(0, 9, many).astype(str) for number in range(12)},
        }
    )
    frame.loc[[5, many - 7], "What"] = "???"  # set aside
    frame.loc[[9, many // 2], "Bat"] = ""
    frame.loc[many // 3, "Count"] = "x"
    frame.loc[40, "Exit"] = "161"  # of a column with a decimal
    frame.loc[many - 1, "Note"] = "late"  # one text makes the column one of texts
    frame.loc[3, "League"] = "colege"  # a slip by all rows alone
    return frame


def written(frame, path, *, ragged=True):
    """As CSV, with lines that are no rows and blank ones."""
    lines = frame.to_csv(index=False).splitlines()
    if ragged:
        lines.insert(8, "one,two")
        lines.insert(len(lines) // 2, "")
        lines.insert(len(lines) - 5, "three,four")
        # Nothing but in a column that nobody asks for: a row all the same, and set aside.
        lines.append("," * (len(frame.columns) - 1) + "7")
    path.write_text("\n".join(lines) + "\n")
    return path


def in_order(relation):
    frame = relation.df() if hasattr(relation, "df") else relation
    return frame.astype(object).where(frame.notna(), None).reset_index(drop=True)


def same(parts, whole):
    left, right = in_order(parts), in_order(whole)
    assert list(left) == list(right)
    if "date" in left:
        for one in (left, right):
            one["date"] = pd.to_datetime(one["date"])
    pd.testing.assert_frame_equal(left, right, check_dtype=False)


def saved(folder):
    return sorted(name for name in os.listdir(folder) if name.endswith(".parquet"))


def sums(report):
    return (report.rows_read, report.rows_kept, report.rows_set_aside, report.values_made_missing)


@pytest.fixture(scope="module")
def season_csv(tmp_path_factory):
    """The demo season as CSV, with rows that cannot be used."""
    frame = open_checked(hitlab.demo_season()).df()
    frame["date"] = frame["date"].dt.strftime("%Y-%m-%d")
    frame = frame.astype(object)
    frame.loc[[100, 30_000, len(frame) - 3], "outcome"] = "dunno"
    frame.loc[[200, 45_000], "speed_mph"] = 900.0
    frame.loc[50_000, "level"] = "profesional"
    path = tmp_path_factory.mktemp("season") / "season.csv"
    frame.to_csv(path, index=False)
    return path


@pytest.fixture(scope="module")
def both(season_csv, tmp_path_factory):
    folder = tmp_path_factory.mktemp("parts") / "season"
    found = read_into(season_csv, folder, rows_a_piece=15_000)
    return found, read_pitches(season_csv), folder


@pytest.mark.slow
def test_the_pieces_of_the_season_are_the_whole_reading(both):
    found, whole, folder = both
    assert len(found.data) > 4
    assert len(saved(folder)) == len(found.data)
    same(open_checked(folder), whole.table)
    assert sums(found) == sums(whole.report)
    assert dict(found.reasons) == whole.report.reasons
    assert dict(found.set_aside_for) == whole.report.set_aside_for
    assert dict(found.contradictions) == whole.report.contradictions["check"].value_counts().to_dict()
    assert found.lines["season.csv"] == whole.report.lines
    words = [frame.sort_values(list(frame), ignore_index=True) for frame in (found.words, whole.report.words)]
    pd.testing.assert_frame_equal(*words)
    assert all(parts <= 15_000 for parts in found.data["read"])


def test_every_row_and_line_is_in_one_piece(both):
    found, whole, _ = both
    data = found.data
    assert data["first_row"].iloc[0] == 1
    assert (data["first_row"].iloc[1:].to_numpy() == data["last_row"].iloc[:-1].to_numpy() + 1).all()
    assert (data["first_line"].to_numpy() == data["first_row"].to_numpy() + 1).all()
    assert data["read"].sum() == whole.report.rows_read
    assert (data["read"] == data["kept"] + data["set_aside"]).all()


def test_doubts_of_the_folder_are_those_of_the_whole(both, tmp_path):
    _, whole, folder = both
    parts = doubts_in(folder)
    alone = doubts_in(write_checked(whole, tmp_path / "whole.parquet"))
    assert (parts.rows, parts.contradicted, parts.failed) == (alone.rows, alone.contradicted, alone.failed)
    assert (parts.steps, parts.ordered, parts.said) == (alone.steps, alone.ordered, alone.said)
    assert tally(folder).table().equals(tally(tmp_path / "whole.parquet").table())


@pytest.fixture
def chart(tmp_path):
    return written(charts(), tmp_path / "week.csv")


def aside_of(reading, tmp_path):
    reading.save_set_aside(tmp_path / "whole-aside.csv")
    return (tmp_path / "whole-aside.csv").read_bytes()


def test_what_rests_on_all_rows_is_decided_once(chart, tmp_path):
    folder, aside = tmp_path / "parts", tmp_path / "aside.csv"
    found = read_into(chart, folder, MAPPING, rows_a_piece=130, set_aside=aside)
    whole = read_pitches(chart, MAPPING)
    assert len(found.data) >= 6
    same(open_checked(folder), whole.table)
    # Slips of level, decimals, the kind of what is carried along: each shows in the table.
    assert set(whole.table["Note"].dropna()) == {"1", "2", "late"}
    assert "level: a level in hardly any row" in whole.report.reasons
    assert aside.read_bytes() == aside_of(whole, tmp_path)
    assert sums(found) == sums(whole.report)
    assert dict(found.reasons) == whole.report.reasons
    assert found.lines["week.csv"] == whole.report.lines
    assert found.lines["week.csv"].unaccounted == 0
    parts = doubts_in(folder)
    assert (parts.steps, parts.failed) == (whole.report.doubts.steps, whole.report.doubts.failed)


def test_one_piece_alone_would_have_decided_otherwise(chart, tmp_path):
    """What the survey is for is there to be found: without it a piece has other values."""
    rows = chart.read_text().splitlines()
    (tmp_path / "first.csv").write_text("\n".join(rows[:130]) + "\n")
    alone = read_pitches(tmp_path / "first.csv", MAPPING).table
    whole = read_pitches(chart, MAPPING).table.head(len(alone))
    assert alone["Note"].dtype != whole["Note"].dtype


def test_columns_that_nobody_asks_for_are_shown_with_what_is_set_aside(chart):
    reading = read_pitches(chart, MAPPING)
    given = charts()
    row = reading.set_aside[reading.set_aside["reason"] == "not a known word"].iloc[0]
    names = [name for name in given if name.startswith("extra")]
    assert [row[f"source: {name}"] for name in names] == given.loc[5, names].tolist()
    last = reading.set_aside.iloc[-1]
    assert (last["source: extra 11"], last["reason"]) == ("7", "empty, and it is needed")


def side_by_side(frame):
    """Two games charted by turns."""
    turns = frame.groupby("Match").cumcount()
    pairs = frame["Match"].str.split().str[1].astype(int) // 2
    return (
        frame.assign(turn=turns, pair=pairs)
        .sort_values(["pair", "turn", "Match"], kind="stable")
        .drop(columns=["turn", "pair"])
    )


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("ending", [".csv", ".parquet", ".feather"])
@pytest.mark.parametrize("order", ["side by side", "by hitter"])
def test_games_that_come_again_are_each_in_one_part(order, ending, tmp_path):
    frame = charts()
    frame["row"] = np.arange(len(frame)).astype(str)
    frame = side_by_side(frame) if order == "side by side" else frame.sort_values("Bat", kind="stable")
    source = tmp_path / f"week{ending}"
    mapping = {**MAPPING, "keep": ["Note", "row"]}
    if ending == ".csv":
        written(frame, source)
    else:
        plain = frame.reset_index(drop=True)
        plain.to_parquet(source) if ending == ".parquet" else plain.to_feather(source)
    found = read_into(source, tmp_path / "parts", mapping, rows_a_piece=150, set_aside=tmp_path / "a.csv")
    whole = read_pitches(source, mapping)
    assert len(found.data) >= 4
    parts = open_checked(tmp_path / "parts").df()
    assert parts.groupby("game").size().to_dict() == whole.table.groupby("game").size().to_dict()
    order_of = [frame.sort_values("row", ignore_index=True) for frame in (parts, whole.table)]
    same(*order_of)
    for _, some in parts.groupby("game"):  # in the order of the file
        at = whole.table["row"].isin(some["row"])
        assert some["row"].tolist() == whole.table.loc[at, "row"].tolist()
    aside = pd.read_csv(tmp_path / "a.csv", dtype=str).sort_values(["row", "column"], ignore_index=True)
    whole.save_set_aside(tmp_path / "w.csv")
    told = pd.read_csv(tmp_path / "w.csv", dtype=str).sort_values(["row", "column"], ignore_index=True)
    pd.testing.assert_frame_equal(aside, told)
    assert "again after others" in str(found)
    assert not list((tmp_path / "parts" / WORK).glob("apart-*"))


def test_several_files_are_each_a_part_and_what_is_set_aside_names_its_file(tmp_path):
    frame = charts()
    games = frame["Match"].unique()
    written(frame[frame["Match"].isin(games[:3])], tmp_path / "a.csv")
    written(frame[frame["Match"].isin(games[3:])], tmp_path / "b.csv")
    paths = [tmp_path / "a.csv", tmp_path / "b.csv"]
    found = read_into(paths, tmp_path / "parts", MAPPING, set_aside=tmp_path / "aside.csv")
    assert saved(tmp_path / "parts") == ["a.parquet", "b.parquet"]
    whole = read_pitches(paths, MAPPING)
    aside = pd.read_csv(tmp_path / "aside.csv")
    assert list(aside)[:4] == ["file", "sheet", "row", "line"]
    assert set(aside["file"]) == {"a.csv", "b.csv"}
    assert found.rows_read == whole.report.rows_read
    assert set(found.lines) == {"a.csv", "b.csv"}


def test_games_made_of_date_and_opponent_are_told_apart_by_the_inning_in_pieces(tmp_path):
    rows = []
    for day in range(1, 9):
        for inning in [*range(1, 8), *range(1, 8)] if day % 2 else range(1, 10):
            rows += [(f"2031-05-{day:02d}", "Owls", inning, "Ada Frusk", "whiff")] * 4
    frame = pd.DataFrame(rows, columns=["date", "Opponent", "inning", "hitter", "outcome"])
    frame.to_csv(tmp_path / "season.csv", index=False)
    mapping = {"games": {"from": ["date", "Opponent", "inning"]}}
    read_into(tmp_path / "season.csv", tmp_path / "parts", mapping, rows_a_piece=100)
    same(open_checked(tmp_path / "parts"), read_pitches(tmp_path / "season.csv", mapping).table)


def test_how_days_are_written_is_advised_by_all_rows(tmp_path):
    days = [f"0{game + 1}/05/2031" for game in range(5)] + ["25/05/2031"]  # the last tells the order
    pitches = pd.DataFrame({"game": range(6), "date": days, "hitter": "Ada Frusk", "outcome": "ball"})
    pitches.loc[pitches.index.repeat(4)].to_csv(tmp_path / "week.csv", index=False)
    read_into(tmp_path / "week.csv", tmp_path / "parts", rows_a_piece=5, set_aside=tmp_path / "aside.csv")
    assert (tmp_path / "aside.csv").read_bytes() == aside_of(read_pitches(tmp_path / "week.csv"), tmp_path)


def test_a_slip_that_is_mended_tells_its_game_before_it_is_cut(tmp_path):
    cells = [f"G{row // 4}/{1 + row % 4}" for row in range(24)]
    cells[8] = "G2 - 1"  # the first of its game
    pitches = pd.DataFrame({"Game": cells, "hitter": "Ada Frusk", "outcome": "ball"})
    pitches.to_csv(tmp_path / "week.csv", index=False)
    mapping = {"mend_slips": True, "split": {"Game": {"into": ["game", "inning"], "separator": "/"}}}
    found = read_into(tmp_path / "week.csv", tmp_path / "parts", mapping, rows_a_piece=5)
    assert found.data["kept"].tolist() == [4] * 6
    same(open_checked(tmp_path / "parts"), read_pitches(tmp_path / "week.csv", mapping).table)


def test_a_column_that_is_filled_twice_is_refused_with_the_name_of_the_file(tmp_path):
    (tmp_path / "week.csv").write_text("game,hitter,outcome,hitter\ng,Ada Frusk,ball,Bea Plome\n")
    with pytest.raises(ReadingError, match=r"hitter is filled twice in week\.csv"):
        read_into(tmp_path / "week.csv", tmp_path / "parts")


def stop_after(monkeypatch, pieces):
    """Let a reading end after some pieces, as where it is interrupted."""
    original, done = module.write_parts, []

    def writes(*given, **more):
        if len(done) == pieces:
            raise KeyboardInterrupt
        done.append(given)
        return original(*given, **more)

    monkeypatch.setattr(module, "write_parts", writes)
    return done


def test_a_reading_that_was_stopped_goes_on_and_shows_nothing_before(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    with monkeypatch.context() as patched:
        stop_after(patched, 3)
        with pytest.raises(KeyboardInterrupt):
            read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert not saved(folder)
    with pytest.raises(ReadingError, match="without a saved table"):
        open_checked(folder)
    with monkeypatch.context() as patched:
        done = stop_after(patched, 99)
        found = read_into(chart, folder, MAPPING, rows_a_piece=130, set_aside=tmp_path / "aside.csv")
    assert found.data["was_there"].tolist() == [True] * 3 + [False] * (len(found.data) - 3)
    assert len(done) == len(found.data) - 3
    whole = read_pitches(chart, MAPPING)
    same(open_checked(folder), whole.table)
    assert sums(found) == sums(whole.report)
    assert (tmp_path / "aside.csv").read_bytes() == aside_of(whole, tmp_path)


def test_what_is_there_is_not_read_again(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    first = read_into(chart, folder, MAPPING, rows_a_piece=130)
    stamps = {name: os.stat(folder / name).st_mtime_ns for name in saved(folder)}
    done = stop_after(monkeypatch, 0)
    monkeypatch.setattr(module, "plan", lambda *_: pytest.fail("the file is gone through again"))
    again = read_into(chart, folder, MAPPING, rows_a_piece=130, set_aside=tmp_path / "aside.csv")
    assert not done
    assert again.data["was_there"].all()
    assert sums(again) == sums(first)
    assert str(again).replace(", as read before", "") == str(first)
    assert {name: os.stat(folder / name).st_mtime_ns for name in saved(folder)} == stamps
    assert (tmp_path / "aside.csv").read_bytes() == aside_of(read_pitches(chart, MAPPING), tmp_path)


def test_a_file_that_was_changed_is_read_anew_and_its_parts_are_replaced(chart, tmp_path):
    folder = tmp_path / "parts"
    many = len(read_into(chart, folder, MAPPING, rows_a_piece=130).data)
    written(charts(games=5), chart)
    found = read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert len(saved(folder)) == len(found.data) < many
    same(open_checked(folder), read_pitches(chart, MAPPING).table)
    assert f"week.csv was changed since it was read: it was read anew, and {many} parts" in str(found)


def test_another_mapping_reads_anew(chart, tmp_path):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    other = {**MAPPING, "words": {"outcome": {"swing and miss": "called strike", "b": "ball"}}}
    found = read_into(chart, folder, other, rows_a_piece=130)
    assert "was read in another way before" in str(found)
    same(open_checked(folder), read_pitches(chart, other).table)


def test_what_is_to_be_looked_at_is_by_the_share_that_is_named_now(tmp_path):
    rows = [f"g,Ada Frusk,in play,{f'x{row}' if row < 30 else 90}" for row in range(300)]
    week = tmp_path / "week.csv"
    week.write_text("\n".join(["game,hitter,outcome,exit_mph", *rows]))
    assert read_into(week, tmp_path / "parts", most_set_aside=0.5).alerts == ()
    first = read_into(week, tmp_path / "parts", most_set_aside=0.05).alerts[0]
    assert first.startswith("exit_mph could not be read in 30 of 300 cells")


def test_typed_days_of_what_is_set_aside_are_written_as_those_of_the_whole(tmp_path):
    frame = charts().assign(day=pd.Timestamp("2031-05-04"), rank=1.5, sure=True)
    frame.loc[5, "day"] = pd.NaT
    frame.to_parquet(tmp_path / "week.parquet")
    mapping = {**MAPPING, "columns": {**MAPPING["columns"], "day": "date"}}
    read_into(tmp_path / "week.parquet", tmp_path / "parts", mapping, set_aside=tmp_path / "aside.csv")
    whole = read_pitches(tmp_path / "week.parquet", mapping)
    assert (tmp_path / "aside.csv").read_bytes() == aside_of(whole, tmp_path)


def test_parts_whose_file_is_not_named_stay_and_are_said(chart, tmp_path):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    before = saved(folder)
    more = charts(games=2, seed=3).assign(Match=lambda one: "late " + one["Match"])
    found = read_into(written(more, tmp_path / "late.csv"), folder, MAPPING)
    assert saved(folder) == ["late.parquet", *before]
    assert f"{len(before)} parts of the folder, from week.001.parquet on, are of week.csv" in str(found)
    assert open_checked(folder).aggregate("count(*)").fetchall()[0][0] == found.rows_kept + sum(
        pq.read_metadata(folder / name).num_rows for name in before
    )


def test_a_file_of_another_name_is_known_by_what_is_in_it(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    chart = chart.rename(tmp_path / "first week.csv")
    done = stop_after(monkeypatch, 0)
    found = read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert not done
    assert found.data["was_there"].all()
    assert set(found.data["file"]) == {"first week.csv"}


KILLED = """
    import sys
    from hitlab.pitches import reading_into as module
    from tests.test_reading_into import MAPPING
    original = module.write_parts
    def slowly(*given, **more):
        found = original(*given, **more)
        print("piece", flush=True)
        return found
    module.write_parts = slowly
    module.read_into(sys.argv[1], sys.argv[2], MAPPING, rows_a_piece=130)
"""


@pytest.mark.slow
@posix
def test_killed_in_the_middle_it_leaves_whole_parts_and_goes_on(tmp_path):
    chart, folder = written(charts(games=60), tmp_path / "week.csv"), tmp_path / "parts"
    command = [sys.executable, "-c", textwrap.dedent(KILLED), str(chart), str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        for _ in range(3):
            assert process.stdout.readline() == "piece\n"
        process.send_signal(signal.SIGKILL)
        process.wait()
    assert not saved(folder)
    whole = list((folder / WORK).glob("*.parquet"))
    assert len(whole) >= 3
    assert all(is_checked(path) for path in whole)
    found = read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert found.data["was_there"].sum() >= 2
    same(open_checked(folder), read_pitches(chart, MAPPING).table)
    assert not [name for name in os.listdir(folder / WORK) if "unfinished" in name]


def test_two_do_not_write_at_once(chart, tmp_path):
    folder = tmp_path / "parts"
    (folder / WORK).mkdir(parents=True)
    with (
        held(folder / WORK / "folder"),
        pytest.raises(ReadingError, match="is being written by another hitlab"),
    ):
        read_into(chart, folder, MAPPING)
    assert not saved(folder)


def test_a_full_disk_ends_in_a_sentence_and_leaves_the_folder_as_it_was(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    replace, many = os.replace, []

    def full(beside, path):
        if ".parquet" in Path(path).name and len(many) == 4:
            raise OSError(28, "No space left on device")
        many.append(path)
        replace(beside, path)

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", full)
        with pytest.raises(ReadingError, match="cannot be written: No space left on device"):
            read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert not saved(folder)
    assert read_into(chart, folder, MAPPING, rows_a_piece=130).data["was_there"].any()


def interrupted(chart, folder, monkeypatch, at):
    """Let a reading end while a part is put in its place."""
    replace = os.replace

    def crash(beside, path):
        if Path(path) == folder / at:
            raise OSError(5, "Input/output error")
        replace(beside, path)

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", crash)
        with pytest.raises(ReadingError, match=r"cannot be put into .*Input/output error"):
            read_into(chart, folder, MAPPING, rows_a_piece=130)


def test_a_crash_while_the_parts_are_put_in_their_places_is_told_and_mended(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    interrupted(chart, folder, monkeypatch, "week.003.parquet")
    assert len(saved(folder)) == 2
    with pytest.raises(ReadingError, match="is not whole: a reading was stopped"):
        open_checked(folder)
    found = read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert found.data["was_there"].all()
    assert not (folder / MOVING).exists()
    same(open_checked(folder), read_pitches(chart, MAPPING).table)


def test_parts_half_put_in_their_places_are_all_there_after_another_file_is_read(
    chart, tmp_path, monkeypatch
):
    folder = tmp_path / "parts"
    interrupted(chart, folder, monkeypatch, "week.003.parquet")
    more = written(charts(games=2).assign(Match=lambda one: "late " + one["Match"]), tmp_path / "late.csv")
    found = read_into(more, folder, MAPPING)
    whole = read_pitches(chart, MAPPING).report.rows_kept
    assert open_checked(folder).aggregate("count(*)").fetchall()[0][0] == found.rows_kept + whole


def test_parts_half_replaced_by_others_of_the_same_names_are_the_new_ones(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    written(charts(games=7, seed=2), chart)
    interrupted(chart, folder, monkeypatch, "week.002.parquet")
    done = stop_after(monkeypatch, 0)
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert not done
    same(open_checked(folder), read_pitches(chart, MAPPING).table)


def test_a_damaged_mark_of_a_moving_is_told(chart, tmp_path):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING)
    (folder / MOVING).write_text("[]")
    with pytest.raises(ReadingError, match=r"moving is damaged.*Read the files into another folder"):
        read_into(chart, folder, MAPPING)
    assert saved(folder) == ["week.parquet"]


def test_a_part_that_was_cut_is_said_and_read_anew(chart, tmp_path):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    part = folder / "week.002.parquet"
    part.write_bytes(part.read_bytes()[: part.stat().st_size // 2])
    with pytest.raises(ReadingError, match=r"week\.002\.parquet is not a whole Parquet file"):
        open_checked(folder)
    found = read_into(chart, folder, MAPPING, rows_a_piece=130)
    assert found.data["was_there"].tolist() == [number != 1 for number in range(len(found.data))]
    assert "was read before into what is damaged now (week.002.parquet)" in str(found)
    same(open_checked(folder), read_pitches(chart, MAPPING).table)


def test_what_was_added_to_a_part_is_not_taken_away_by_reading_again(chart, tmp_path):
    folder = tmp_path / "parts"
    read_into(chart, folder, MAPPING, rows_a_piece=130)
    more = charts(games=1, seed=3).assign(Match="late")
    written(more, tmp_path / "late.csv")
    add_to_season(folder / "week.002.parquet", tmp_path / "late.csv", MAPPING)
    before = open_checked(folder).df()
    assert (before["game"] == "late").any()
    told = r"week\.002\.parquet was changed after week\.csv was read into it"
    with pytest.raises(ReadingError, match=told):
        read_into(chart, folder, MAPPING, rows_a_piece=130)
    same(open_checked(folder), before)
    other = written(charts(games=1, seed=4).assign(Match="last"), tmp_path / "last.csv")
    found = read_into(other, folder, MAPPING)
    assert open_checked(folder).aggregate("count(*)").fetchall()[0][0] == len(before) + found.rows_kept


def test_a_strange_part_that_was_cut_is_refused_before_anything_is_read(chart, tmp_path):
    folder = tmp_path / "parts"
    folder.mkdir()
    (folder / "old.parquet").write_bytes(b"PAR1 and no more")
    with pytest.raises(ReadingError, match=r"old\.parquet is not a whole Parquet file"):
        read_into(chart, folder, MAPPING)
    assert saved(folder) == ["old.parquet"]


def test_a_part_of_another_schema_or_mark_is_refused_by_name(chart, tmp_path, monkeypatch):
    folder = tmp_path / "parts"
    folder.mkdir()
    other = pd.DataFrame({"game": ["z"], "hitter": ["Ada Frusk"], "outcome": ["ball"], "Note": [1.5]})
    write_checked(read_pitches(other, {"keep": ["Note"]}), folder / "other.parquet")
    with pytest.raises(ReadingError, match=r"has another schema: its column Note") as error:
        read_into(chart, folder, MAPPING)
    assert "other.parquet" in str(error.value)
    assert saved(folder) == ["other.parquet"]
    from hitlab.pitches import parts

    (folder / "other.parquet").unlink()
    with monkeypatch.context() as patched:
        patched.setattr(parts, "SCHEMA_VERSION", 0)
        write_checked(read_pitches(other.drop(columns="Note")), folder / "older.parquet")
    with pytest.raises(ReadingError, match=r"older\.parquet has version 0 of the pitch table"):
        read_into(chart, folder, MAPPING)


def test_a_game_in_two_files_is_refused_before_it_is_read(tmp_path, monkeypatch):
    frame = charts(games=3)
    written(frame, tmp_path / "a.csv")
    written(frame[frame["Match"] == "game 2"], tmp_path / "b.csv")
    done = stop_after(monkeypatch, 0)
    with pytest.raises(ReadingError, match=r"The game game 2 stands in a\.csv and in b\.csv"):
        read_into([tmp_path / "a.csv", tmp_path / "b.csv"], tmp_path / "parts", MAPPING)
    assert not done


def test_a_game_that_the_folder_has_is_refused(tmp_path):
    frame = charts(games=3)
    folder = tmp_path / "parts"
    read_into(written(frame, tmp_path / "a.csv"), folder, MAPPING)
    other = written(frame[frame["Match"] == "game 2"], tmp_path / "b.csv")
    with pytest.raises(ReadingError, match=r"the game game 2 stands in .*a\.parquet already"):
        read_into(other, folder, MAPPING)
    assert saved(folder) == ["a.parquet"]


def test_a_file_that_changes_while_it_is_read_is_refused(chart, tmp_path, monkeypatch):
    original = module.write_parts

    def changes(*given, **more):
        with chart.open("a") as file:
            file.write("more\n")
        return original(*given, **more)

    monkeypatch.setattr(module, "write_parts", changes)
    with pytest.raises(ReadingError, match=r"week\.csv was changed while it was read"):
        read_into(chart, tmp_path / "parts", MAPPING, rows_a_piece=130)
    assert not saved(tmp_path / "parts")


def test_rows_without_a_game_are_no_part_of_several(tmp_path):
    frame = charts()
    frame.loc[[100, 101], "Match"] = ""
    with pytest.raises(ReadingError, match="2 pitches without a game"):
        read_into(written(frame, tmp_path / "week.csv"), tmp_path / "parts", MAPPING, rows_a_piece=130)
    assert not saved(tmp_path / "parts")
    found = read_into(tmp_path / "week.csv", tmp_path / "parts", MAPPING)  # a single one has no other beside
    assert len(found.data) == 1


def test_a_large_file_whose_games_nothing_tells_is_refused_with_the_mend(tmp_path):
    charts().rename(columns={"Match": "M"}).to_csv(tmp_path / "week.csv", index=False)
    mapping = {**MAPPING, "columns": {n: t for n, t in MAPPING["columns"].items() if t != "game"}}
    with pytest.raises(ReadingError, match=r"no column tells the game.*\[games\] from"):
        read_into(tmp_path / "week.csv", tmp_path / "parts", mapping, rows_a_piece=130)
    mapping = {**MAPPING, "fill_down": ["hitter"]}
    path = written(charts(), tmp_path / "week.csv")
    with pytest.raises(ReadingError, match="fill_down takes cells from rows above"):
        read_into(path, tmp_path / "parts", mapping, rows_a_piece=130)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", r"is empty \(0 bytes\)"),
        ("\n\n \n", "nothing in it but blanks"),
        ("Match,Bat,What\n", "has no column|names the column|no rows below"),
    ],
)
def test_an_empty_file_is_refused(text, said, tmp_path):
    (tmp_path / "week.csv").write_text(text)
    with pytest.raises(ReadingError, match=said):
        read_into(tmp_path / "week.csv", tmp_path / "parts", MAPPING)


def test_a_folder_with_charts_in_it_is_refused_and_with_notes_is_not(chart, tmp_path):
    folder = tmp_path / "parts"
    folder.mkdir()
    (folder / "notes.md").write_text("of last week")
    read_into(chart, folder, MAPPING)
    (folder / "other.csv").write_text("game,hitter,outcome\n")
    with pytest.raises(ReadingError, match=r"other\.csv is no saved table"):
        read_into(chart, folder, MAPPING)
    assert (folder / "notes.md").read_text() == "of last week"


@posix
@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_without_write_access_is_refused(chart, tmp_path):
    folder = tmp_path / "parts"
    folder.mkdir(mode=0o500)
    with pytest.raises(ReadingError, match="cannot be written into"):
        read_into(chart, folder, MAPPING)


def test_what_is_no_folder_and_no_file_is_refused(chart, tmp_path):
    with pytest.raises(ReadingError, match="is a file, not a folder"):
        read_into(chart, chart, MAPPING)
    with pytest.raises(ReadingError, match="standard input can be read once only"):
        read_into("-", tmp_path / "parts", MAPPING)
    with pytest.raises(ReadingError, match="DataFrame cannot be read into a folder"):
        read_into(charts(), tmp_path / "parts", MAPPING)
    with pytest.raises(ReadingError, match="is the folder that is read into"):
        read_into(tmp_path, tmp_path, MAPPING)
    with pytest.raises(ReadingError, match="at least one row"):
        read_into(chart, tmp_path / "parts", MAPPING, rows_a_piece=0)
    with pytest.raises(ReadingError, match=r"aside\.csv is in the folder of the saved tables"):
        read_into(chart, tmp_path / "parts", MAPPING, set_aside=tmp_path / "parts" / "aside.csv")
    with pytest.raises(ReadingError, match=r"saved as \.csv"):
        read_into(chart, tmp_path / "parts", MAPPING, set_aside=tmp_path / "aside.xlsx")


def test_most_of_a_file_not_understood_is_not_put_into_the_folder(chart, tmp_path):
    mapping = {**MAPPING, "words": {"outcome": {"b": "ball"}}}
    frame = charts()
    frame["What"] = frame["What"].replace({"foul": "fl", "in play": "ip"})
    with pytest.raises(
        ReadingError, match=r"Most of week\.csv was not understood: .* of them for this: outcome"
    ):
        read_into(written(frame, chart), tmp_path / "parts", mapping, rows_a_piece=130)
    assert not saved(tmp_path / "parts")


def test_a_piece_of_which_nothing_is_left_is_all_set_aside(tmp_path):
    frame = charts()
    frame.loc[120:239, "What"] = "gibberish"
    path = written(frame, tmp_path / "week.csv", ragged=False)
    found = read_into(path, tmp_path / "parts", MAPPING, rows_a_piece=120, set_aside=tmp_path / "aside.csv")
    assert found.data["kept"].eq(0).any()
    assert found.data.loc[found.data["kept"] == 0, "saved"].eq("").all()
    whole = read_pitches(path, MAPPING)
    same(open_checked(tmp_path / "parts"), whole.table)
    assert sums(found) == sums(whole.report)
    assert (tmp_path / "aside.csv").read_bytes() == aside_of(whole, tmp_path)


def test_progress_is_told(chart, tmp_path, monkeypatch):
    told = []
    monkeypatch.setattr(module, "_SAID_EVERY", 0.0)
    read_into(chart, tmp_path / "parts", MAPPING, rows_a_piece=130, progress=told.append)
    assert [one.share for one in told] == sorted(one.share for one in told)
    assert told[-1].share == 1.0
    assert told[-1].rows == read_pitches(chart, MAPPING).report.rows_read
    assert told[-1].rows_a_second > 0
    assert told[-1].seconds_left == 0.0
    assert {one.file for one in told} == {"week.csv"}


def test_a_roster_gives_all_pieces_the_same_columns(tmp_path):
    frame = charts().drop(columns="League")
    frame["Bat"] = np.where(frame["Match"] == "game 0", "#7", frame["Bat"])
    mapping = {**MAPPING, "columns": {n: t for n, t in MAPPING["columns"].items() if t != "level"}}
    roster = pd.DataFrame(
        {
            "number": ["7", "8"],
            "name": ["Gia Narl", "Hob Sten"],
            "side": ["left", ""],
            "class": ["senior", ""],
        }
    )
    path = written(frame, tmp_path / "week.csv")
    read_into(path, tmp_path / "parts", mapping, roster=roster, rows_a_piece=130)
    same(open_checked(tmp_path / "parts"), read_pitches(path, mapping, roster=roster).table)


def test_quoted_cells_with_line_ends_keep_their_lines(tmp_path):
    frame = charts()
    frame["extra 1"] = np.where(np.arange(len(frame)) % 5 == 0, "two\nlines", "x")
    path = tmp_path / "week.csv"
    frame.to_csv(path, index=False)
    found = read_into(path, tmp_path / "parts", MAPPING, rows_a_piece=130, set_aside=tmp_path / "aside.csv")
    whole = read_pitches(path, MAPPING)
    assert (tmp_path / "aside.csv").read_bytes() == aside_of(whole, tmp_path)
    assert found.lines["week.csv"] == whole.report.lines
    assert "two\\nlines" in set(pd.read_csv(tmp_path / "aside.csv")["source: extra 1"])


@pytest.mark.parametrize("beside", [0, 6])
@pytest.mark.parametrize("block", [300, 1 << 24])
def test_what_the_first_look_found_plain_is_not_gone_through_again(block, beside, tmp_path, monkeypatch):
    """Some of the small blocks have stray, escaped and spread marks in them, and no line is lost."""
    for name in ("FIRST", "BLOCK"):
        monkeypatch.setattr(f"hitlab.pitches.blocks.{name}", block)
    rows = [
        f'"game {row // 40}",{row % 40 // 2 + 1},{row % 2 + 1},"Ada ""Ace"" Frusk",foul' for row in range(400)
    ]
    rows[50] = rows[50].replace('"game', '"game "x"')
    rows[130] = rows[130].replace("Frusk", "Fr\nusk")
    rows[250] = rows[250].replace('Frusk"', "Frusk")
    rows[330] = rows[330].replace('""Ace""', '\\"Ace\\"')
    path = tmp_path / "chart.csv"
    more = ["," * beside + row for row in ["game,plate_appearance,pitch,hitter,outcome", *rows]]
    more[0] = "".join(f"other {number}," for number in range(beside)) + more[0].lstrip(",")
    path.write_text("\n".join(more) + "\n")
    looks = []

    def counted(data, *more):
        looks.append(len(data))
        return structure(data, *more)

    monkeypatch.setattr("hitlab.pitches.textfiles.structure", counted)
    whole = read_pitches(path)
    once, looks[:] = len(looks), []
    parts = read_into(path, tmp_path / "season", rows_a_piece=80)
    if not beside:  # all cells are needed, and kept
        assert len(looks) == once
    else:  # twice where marks are more than around cells: all of a file that is one block
        assert len(looks) == 2 * once if once == 1 else once < len(looks) < 1.5 * once
    assert sums(parts) == sums(whole.report)
    assert parts.lines["chart.csv"] == whole.report.lines
    same(open_checked(tmp_path / "season"), whole.table)


def test_a_workbook_is_one_part(tmp_path):
    pytest.importorskip("xlsxwriter")
    pytest.importorskip("python_calamine")
    charts(games=3).to_excel(tmp_path / "week.xlsx", index=False)
    found = read_into(tmp_path / "week.xlsx", tmp_path / "parts", MAPPING, rows_a_piece=50)
    assert saved(tmp_path / "parts") == ["week.parquet"]
    same(open_checked(tmp_path / "parts"), read_pitches(tmp_path / "week.xlsx", MAPPING).table)
    assert found.rows_kept == len(read_pitches(tmp_path / "week.xlsx", MAPPING).table)


def test_it_is_put_in_writing(chart, tmp_path):
    found = read_into(chart, tmp_path / "parts", MAPPING, rows_a_piece=130)
    text = str(found)
    assert text.startswith(f"1 file in {len(found.data)} parts: {found.rows_read:,} rows read")
    assert "week.csv, lines 2 to " in text
    found.save(tmp_path / "pieces.csv")
    assert len(pd.read_csv(tmp_path / "pieces.csv")) == len(found.data)
    told = json.loads(pq.read_schema(tmp_path / "parts" / "week.001.parquet").metadata[b"hitlab_piece"])
    assert (told["source"], told["piece"], told["first_line"]) == ("week.csv", 1, 2)
    assert len(told["sha256"]) == 64


def command(chart, folder, *more):
    mapping = Path(folder).parent / "team.toml"
    lines = ["keep = ['Note']", "[columns]"]
    lines += [f'{name} = "{target}"' for name, target in MAPPING["columns"].items()]
    lines += ["[split.Count]", 'into = ["balls", "strikes"]', 'separator = "-"']
    lines += ["[units]", 'exit_mph = "km/h"', "[words.outcome]", '"swing and miss" = "whiff"', 'b = "ball"']
    mapping.write_text("\n".join(lines))
    return ["read", str(chart), "--mapping", str(mapping), "--save", folder, *more]


def test_the_command_reads_into_a_folder(chart, tmp_path, capsys):
    folder = f"{tmp_path / 'season'}{os.sep}"
    assert run(command(chart, folder)) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert said.out.startswith("1 file in 1 part: 723 rows read, 716 kept, 7 set aside; 2 values")
    assert f"checked tables saved in {tmp_path / 'season'}" in said.out
    assert "with --set-aside FILE.csv the same command lists" in said.out
    aside = tmp_path / "aside.csv"
    assert run(command(chart, str(tmp_path / "season"), "--set-aside", str(aside))) == 0  # it is there now
    assert "as read before" in capsys.readouterr().out
    assert aside.read_bytes() == aside_of(read_pitches(chart, MAPPING), tmp_path)
    assert run(["list", "--file", folder, "--event", "whiffs"]) == 0
    assert "Ada Frusk" in capsys.readouterr().out
    assert run(command(chart, folder, "--json")) == 0
    told = json.loads(capsys.readouterr().out)
    assert [one["saved"] for one in told["pieces"]] == ["week.parquet"]


def test_the_command_says_in_a_sentence_what_is_wrong(chart, tmp_path, capsys):
    assert run(command(chart, f"{chart}{os.sep}")) == 2
    assert "is a file, not a folder" in capsys.readouterr().err
    assert run(command(chart, f"{tmp_path / 'season'}{os.sep}", "--set-aside", str(tmp_path / "a.xlsx"))) == 2
    assert "end the name with it" in capsys.readouterr().err


@posix
def test_how_far_it_is_stands_on_a_terminal_only(chart, tmp_path):
    import pty

    words = [sys.executable, "-m", "hitlab", *command(chart, f"{tmp_path / 'season'}{os.sep}")]
    ours, theirs = pty.openpty()
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=theirs, text=True) as process:
        os.close(theirs)
        shown = b""
        try:
            while some := os.read(ours, 4096):
                shown += some
        except OSError:  # the terminal's other end is closed
            pass
        out = process.stdout.read()
    os.close(ours)
    assert b"week.csv" in shown
    assert b"rows" in shown
    assert "week.csv, lines 2" in out
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stderr == ""


def others(frame):
    return [name for name in frame if name not in {*MAPPING["columns"], *MAPPING["split"]}]


def kept_blocks_told(monkeypatch):
    """Say of each file that is gone through how often its cells are taken apart, and from where they come."""
    parsed, given = [], []
    parse, blocks = textfiles._parse, KeptBlocks.blocks

    def counted(*given, **more):
        parsed.append(given[4])
        return parse(*given, **more)

    def back(self):
        given.append(len(self._blocks))
        return blocks(self)

    monkeypatch.setattr(textfiles, "_parse", counted)
    monkeypatch.setattr(KeptBlocks, "blocks", back)
    return parsed, given


def test_cells_that_are_all_needed_are_taken_apart_once_and_nothing_of_them_stays(tmp_path, monkeypatch):
    written(charts(), tmp_path / "week.csv")
    mapping = {**MAPPING, "keep": others(charts())}
    monkeypatch.setattr("hitlab.pitches.blocks.FIRST", 1 << 12)
    monkeypatch.setattr("hitlab.pitches.blocks.BLOCK", 1 << 12)
    parsed, given = kept_blocks_told(monkeypatch)
    found = read_into(tmp_path / "week.csv", tmp_path / "parts", mapping, rows_a_piece=130)
    assert len(parsed) == len(set(parsed)) > 5
    assert given == [len(parsed)]
    whole = read_pitches(tmp_path / "week.csv", mapping)
    same(open_checked(tmp_path / "parts"), whole.table)
    assert sums(found) == sums(whole.report)
    assert not list((tmp_path / "parts" / WORK).glob("apart-*"))


@pytest.mark.parametrize("room", ["none", "not enough for others"])
def test_without_room_for_the_cells_they_are_taken_apart_a_second_time(room, tmp_path, monkeypatch):
    written(charts(), tmp_path / "week.csv")
    mapping = {**MAPPING, "keep": others(charts())}
    parsed, given = kept_blocks_told(monkeypatch)

    def full(*_, **__):
        raise OSError(28, "No space left on device")

    if room == "none":
        monkeypatch.setattr("hitlab.pitches.kept_blocks.tempfile.mkstemp", full)
    else:
        free = 3 * (tmp_path / "week.csv").stat().st_size
        monkeypatch.setattr(
            "hitlab.pitches.kept_blocks.shutil.disk_usage", lambda _: SimpleNamespace(free=free)
        )
    found = read_into(tmp_path / "week.csv", tmp_path / "parts", mapping, rows_a_piece=130)
    assert not given
    assert len(parsed) == 2 * len(set(parsed))
    whole = read_pitches(tmp_path / "week.csv", mapping)
    same(open_checked(tmp_path / "parts"), whole.table)
    assert sums(found) == sums(whole.report)


def test_of_cells_that_were_kept_and_are_gone_it_is_said_and_nothing_is_saved(tmp_path, monkeypatch):
    written(charts(), tmp_path / "week.csv")
    close = KeptBlocks.close

    def emptied(self):
        close(self)
        self._path.write_bytes(b"")

    monkeypatch.setattr(KeptBlocks, "close", emptied)
    mapping = {**MAPPING, "keep": others(charts())}
    with pytest.raises(ReadingError, match=r"kept in .* of .*week\.csv cannot be read again"):
        read_into(tmp_path / "week.csv", tmp_path / "parts", mapping, rows_a_piece=130)
    assert not saved(tmp_path / "parts")
    assert not list((tmp_path / "parts" / WORK).glob("apart-*"))


def test_blocks_come_back_as_they_were_given(tmp_path):
    def block(rows, texts, names=("a", "a")):
        cells = pa.array(texts, pa.string()).dictionary_encode()
        return Source("week.csv", pa.table([cells, cells], names=list(names)), np.array(rows, dtype=np.int64))

    kept = KeptBlocks(tmp_path)
    given = [block([1, 2, 3], ["x", "y", "x"]), block([], []), block([5, 7, 8], ["z", "", "x"])]
    for number, one in enumerate(given):
        kept.take(one, number)
    kept.close()
    back = list(kept.blocks())
    assert [size for _, size in back] == [0, 1, 2]
    for one, (other, _) in zip(given, back, strict=True):
        assert other.rows.tolist() == one.rows.tolist()
        assert other.columns == ["a", "a"]
        assert [column.to_pylist() for column in other.table.columns] == [
            column.to_pylist() for column in one.table.columns
        ]
    assert not list(tmp_path.iterdir())


def test_cells_that_are_kept_stay_in_no_memory(tmp_path):
    before = pa.total_allocated_bytes()
    cells = pa.array([f"film {number}" for number in range(50_000)]).dictionary_encode()
    block = Source("week.csv", pa.table({"clip": cells}), np.arange(1, 50_001))
    del cells
    assert pa.total_allocated_bytes() - before > 500_000
    kept = KeptBlocks(tmp_path)
    kept.take(block, 1)
    del block
    assert pa.total_allocated_bytes() - before < 50_000
    kept.close()
    assert [len(one.rows) for one, _ in kept.blocks()] == [50_000]
