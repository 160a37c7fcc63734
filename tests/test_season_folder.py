"""A folder of saved tables is one table: the same answers, and no wrong number where a part is not right."""

from __future__ import annotations

import json
import os
import shutil
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
import pytest

import hitlab
from hitlab.cli.commands import run
from hitlab.counting.summing import collected
from hitlab.desk.tables import open_table
from hitlab.errors import ReadingError
from hitlab.pitches import open_checked, read_pitches, write_checked
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.sealing import seal
from hitlab.pitches.storing import doubts_in, is_checked, open_parts, opens_as_checked, write_parts
from hitlab.questions import KINDS, source
from tests.test_questions import ASKED, BREAKING, CHECKS, PITCHER, WHO, made
from tests.test_season_in_parts import HITTERS, game

posix = pytest.mark.skipif(os.name == "nt", reason="links and pipes are of POSIX")


def cut(path: Path, groups: dict[str, list[str]], folder: Path) -> Path:
    """Save the games of a saved table in parts; name of a part -> its games."""
    table, parts = open_parts(path)
    every = set(pc.unique(table.column("game")).to_pylist())
    for name, games in groups.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        rows = table.filter(pc.is_in(table.column("game"), pa.array(games, table.column("game").type)))
        remembered = [part.without(every - set(games), forget=True) for part in parts]
        write_parts(rows, [part for part in remembered if part is not None], folder / name)
    return folder


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo season, saved anew in one file."""
    table, parts = open_parts(hitlab.demo_season())
    return write_parts(table, parts, tmp_path_factory.mktemp("whole") / "season.parquet")


@pytest.fixture(scope="module")
def folder(whole: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same in twelve parts, of which some stand in folders of their own."""
    games = pc.unique(open_parts(whole)[0].column("game")).to_pylist()
    size = -(-len(games) // 12)
    names = [f"{'early' if number < 5 else 'late'}/part-{number + 1}.parquet" for number in range(12)]
    groups = {name: games[number * size : (number + 1) * size] for number, name in enumerate(names)}
    return cut(whole, groups, tmp_path_factory.mktemp("seasons"))


@pytest.fixture(scope="module")
def mixed(whole: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same in three parts, whose games do not follow each other."""
    games = pc.unique(open_parts(whole)[0].column("game")).to_pylist()
    groups = {f"part-{number}.parquet": games[number::3] for number in range(3)}
    return cut(whole, groups, tmp_path_factory.mktemp("mixed"))


def told(claim: hitlab.Claim) -> dict[str, Any]:
    """Give all that a claim says but for what its table is called; the fingerprint of its counts, too."""
    return {name: value for name, value in claim.to_dict().items() if name != "source"}


def save(frame: pd.DataFrame, path: Path) -> Path:
    """Save a table with those of its columns that are its own."""
    own = [name for name in frame if name.startswith("my_")]
    return write_checked(frame, path, {"keep": own})


# The same answers.


@pytest.mark.parametrize(
    "blank", ["nowhere", "in some rows", "in one part", "everywhere", "no column in one"]
)
def test_the_days_of_a_folder_are_those_of_its_pitches(blank, tmp_path, monkeypatch):
    """Its parts tell them without a look at the pitches, but for a part that does not."""
    told = [("2031-05-04", "2030-09-30"), ("2029-12-31", "2031-04-01"), ("2030-01-01", "2030-01-01")]
    for number, days in enumerate(told):
        rows = pd.concat([game(f"g{number}-{one}", 4).assign(date=day) for one, day in enumerate(days)])
        if blank == "everywhere" or (blank, number) == ("in one part", 1):
            rows["date"] = None
        elif blank == "in some rows":
            rows.loc[rows.index % 2 == 0, "date"] = None
        elif (blank, number) == ("no column in one", 2):
            rows = rows.drop(columns="date")
        save(rows, tmp_path / f"{number}.parquet")
    opened = open_checked(tmp_path)
    asked = []
    monkeypatch.setattr(source, "collected", lambda frame: asked.append(1) or collected(frame))
    found = source.days_of(opened)
    assert len(asked) == (blank in ("in one part", "everywhere", "no column in one"))
    by_query = opened.aggregate("min(date), max(date)").fetchall()[0]
    ends = None if by_query[0] is None else tuple(datetime.fromisoformat(str(day)[:10]) for day in by_query)
    assert found == ends
    # Some of its pitches are not all of them.
    some = opened.filter("date > '2030-01-01'")
    assert source.days_of(some) != found or blank == "everywhere"


@pytest.mark.slow
@pytest.mark.parametrize("name", ASKED)
def test_a_claim_from_a_folder_is_that_from_one_file(whole, folder, mixed, tmp_path, name):
    expected = made(name, whole)
    for parts in (folder, mixed):
        claim = made(name, parts)
        if (name, parts) == ("response", mixed):
            # The placebo of a response is drawn for one row after the other, in one file as well.
            rows = open_checked(mixed).to_arrow_table()
            expected = made(name, write_parts(rows, open_parts(whole)[1], tmp_path / "other order.parquet"))
        assert told(claim) == told(expected)
        assert claim.source == f"{parts}/"


@pytest.mark.slow
def test_claims_of_a_spot_and_of_two_rates_from_a_folder_are_those_from_one_file(whole, folder):
    fast, slow = hitlab.situation("pitch_kind=fastball"), hitlab.situation(BREAKING)
    rate_of = hitlab.two_rates.RateOf
    rates = (rate_of("in_play", "contact", fast), rate_of("hard", "swings", slow))
    asked = [hitlab.check_together(pitches, *rates) for pitches in (whole, folder)]
    assert told(asked[0]) == told(asked[1])
    spots = []
    for pitches in (whole, folder):
        against = hitlab.game.opposing_pitcher(pitches, pitcher=PITCHER)
        spot = hitlab.game.Spot(-1, 2, "first second")
        spots.append(hitlab.check_spot(pitches, spot, WHO, candidates=["Hana Falandra"], pitcher=against))
    assert told(spots[0]) == told(spots[1])
    assert {CHECKS.get(name, name) for name in ASKED} | {"spot", "together"} == set(KINDS)


@pytest.mark.slow
def test_counts_splits_and_cut_lists_from_a_folder_are_those_from_one_file(whole, folder):
    for by in ("hitter", ["pitcher", "game"]):
        one, other = (hitlab.tally(pitches, by) for pitches in (whole, folder))
        pd.testing.assert_frame_equal(one.data, other.data)
        assert (one.doubts, one.fingerprint) == (other.doubts, other.fingerprint)
    situations = {"breaking balls": BREAKING, "two strikes": "strikes=2"}
    splits = [hitlab.all_splits(pitches, situations).table() for pitches in (whole, folder)]
    pd.testing.assert_frame_equal(*splits)
    lists = [hitlab.cut_list(one, made("above", one), most=5) for one in (whole, folder)]
    pd.testing.assert_frame_equal(lists[0].data, lists[1].data)
    assert open_checked(folder).fetchall() == open_checked(whole).fetchall()


def test_a_part_of_one_game_each_and_names_by_size(tmp_path):
    frames = [game(f"g{number}", number, rows=12) for number in range(1, 12)]
    whole = write_checked(pd.concat(frames), tmp_path / "whole.parquet")
    (tmp_path / "parts").mkdir()
    for number, frame in enumerate(frames, 1):
        write_checked(frame, tmp_path / "parts" / f"week-{number}.PARQUET")
    assert open_checked(tmp_path / "parts").fetchall() == open_checked(whole).fetchall()
    assert doubts_in(tmp_path / "parts") == doubts_in(whole)


# What was in doubt is summed.


def test_doubts_are_those_of_one_reading_of_all(tmp_path):
    bad = pd.DataFrame({"game": ["g1"], "hitter": ["Ada Frusk"], "outcome": ["oops"]})
    frames = [
        pd.concat([game("g1", 1), bad]),
        pd.concat([game("g2", 2).assign(hitter="Ada FRUSK"), bad.assign(game="g2"), bad.assign(game="g2")]),
        game("g3", 3).assign(hitter="null"),
    ]
    whole = write_checked(pd.concat(frames, ignore_index=True), tmp_path / "whole.parquet")
    parts = tmp_path / "parts"
    parts.mkdir()
    for number, frame in enumerate(frames):
        write_checked(frame.reset_index(drop=True), parts / f"{number}.parquet")
    doubts = doubts_in(parts)
    assert doubts == doubts_in(whole)
    assert doubts.said[0].startswith("3 of 123 rows are set aside, not counted, 3 of them for this: outcome")
    # Each part by itself knows nothing of the two ways in which a name is written.
    assert "'Ada Frusk' in 5 rows and 'Ada FRUSK' in 40 rows" in "; ".join(doubts.said)
    assert not any("Ada FRUSK" in said for part in parts.iterdir() for said in doubts_in(part).said)
    assert hitlab.tally(parts).doubts == doubts


def test_speeds_of_another_unit_in_one_part_are_said(tmp_path):
    for number in range(6):
        frame = game(f"g{number}", number, rows=80)
        rng = np.random.default_rng(number)
        frame["speed_mph"] = rng.normal(88, 4, 80).round(1) / (1.609 if number > 3 else 1)
        write_checked(frame, tmp_path / f"{number}.parquet")
    assert not any("two units" in said for part in tmp_path.iterdir() for said in doubts_in(part).said)
    assert any("speed_mph is in g4 and g5" in said for said in doubts_in(tmp_path).said)


def test_an_older_part_without_what_reading_remembered_counts_too(tmp_path):
    shutil.copy(hitlab.demo_season(), tmp_path / "old.parquet")
    write_checked(game("g1", 1), tmp_path / "new.parquet")
    rows = pd.read_parquet(hitlab.demo_season()).shape[0]
    assert doubts_in(tmp_path).rows == rows + 40
    assert open_checked(tmp_path).aggregate("count(*)").fetchall() == [(rows + 40,)]
    write_checked(game("game-0007", 1), tmp_path / "twice.parquet")
    with pytest.raises(ReadingError, match=r"twice\.parquet: the game game-0007 stands in .*old\.parquet"):
        open_checked(tmp_path)


# Columns that a part lacks.

_BLANK = 'in b.parquet: no date, bunt and my_"own", blank there'


def test_columns_that_a_part_lacks_are_blank_there_and_said(tmp_path):
    with_more = game("g1", 1, day="2031-05-04", bunt=False, my_note="x")
    with_more['my_"own"'] = "z"
    save(with_more, tmp_path / "a.parquet")
    save(game("g2", 2, my_note="y"), tmp_path / "b.parquet")
    found = open_checked(tmp_path).project("game, bunt, date, my_note").distinct().order("game").fetchall()
    assert [row[:2] for row in found] == [("g1", False), ("g2", None)]
    assert [row[3] for row in found] == ["x", "y"]
    assert found[1][2] is None
    assert open_checked(tmp_path).columns == [
        "game",
        "date",
        "hitter",
        "outcome",
        "bunt",
        "my_note",
        'my_"own"',
    ]
    doubts = doubts_in(tmp_path)
    assert _BLANK in doubts.said
    claim = hitlab.check_above(tmp_path, HITTERS[0], 0.1, event="whiffs")
    assert _BLANK in claim.cannot_tell
    only = hitlab.tally(tmp_path, where="date>=2031-01-01")
    assert only.data["pitches"].sum() == 40


def test_names_stand_in_for_ids_that_a_part_lacks(tmp_path):
    frame = game("g1", 1)
    write_checked(
        frame.assign(hitter_id=frame["hitter"].map(HITTERS.index).map("h{}".format)), tmp_path / "a.parquet"
    )
    write_checked(game("g2", 2), tmp_path / "b.parquet")
    counts = hitlab.tally(tmp_path)
    # Not one nameless hitter with all pitches of the part.
    assert len(counts.data) == 2 * frame["hitter"].nunique()
    assert counts.data["hitter_id"].notna().all()
    assert (
        "in b.parquet: no hitter_id: the hitter's name stands in for it, and who has an id in another part "
        "counts as two"
    ) in doubts_in(tmp_path).said


# Faults.


@pytest.fixture
def parts(tmp_path) -> Path:
    """Three parts of a game each."""
    made_in = tmp_path / "parts"
    made_in.mkdir()
    for number in range(1, 4):
        save(game(f"g{number}", number, my_mark=number), made_in / f"part-{number}.parquet")
    return made_in


@pytest.mark.parametrize("share", [0.02, 0.5, 0.99])
def test_a_truncated_part_is_named(parts, share):
    part = parts / "part-2.parquet"
    data = part.read_bytes()
    part.write_bytes(data[: int(share * len(data))])
    for ask in (hitlab.tally, open_checked, doubts_in):
        with pytest.raises(ReadingError, match=r"part-2\.parquet is not a whole Parquet file.*write_checked"):
            ask(parts)


def test_a_changed_byte_of_any_part_is_noticed(parts):
    for part in sorted(parts.iterdir()):
        whole = part.read_bytes()
        for place in range(0, len(whole), 101):
            data = bytearray(whole)
            data[place] ^= 4
            part.write_bytes(data)
            for ask in (open_checked, doubts_in):
                with pytest.raises(ReadingError, match=part.name):
                    ask(parts)
        part.write_bytes(whole)
    assert hitlab.tally(parts).data["pitches"].sum() == 120


def forged(path: Path, change: Any) -> None:
    """Write a part anew as another program or another version would, with checksums."""
    table = pa.parquet.read_table(path)
    pa.parquet.write_table(change(table), path)
    with path.open("r+b") as file:
        seal(file)


def marked(table: pa.Table, **mark: str) -> pa.Table:
    added = {name.encode(): text.encode() for name, text in mark.items()}
    return table.replace_schema_metadata({**(table.schema.metadata or {}), **added})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda table: marked(table, hitlab_schema="0"), r"has version 0 of the pitch table.*write_checked"),
        (lambda table: table.replace_schema_metadata(None), r"carries no schema mark.*write_checked"),
        (lambda table: table.drop_columns(["outcome"]), r"no column outcome"),
        (lambda table: table.set_column(2, "outcome", pa.array([1] * 40)), r"outcome holds int64"),
        (
            lambda table: table.set_column(3, "my_mark", pa.array(["x"] * 40)),
            r"its column my_mark holds texts, and that of .*part-1\.parquet holds numbers\. Save",
        ),
        (lambda table: table.drop_columns(["game"]), r"no column tells the game.*\[games\] from"),
        (
            lambda table: marked(
                table.set_column(0, "game", pa.array([None] * 3 + ["g2"] * 37)), hitlab_parts=""
            ),
            r"3 pitches without a game",
        ),
    ],
)
def test_a_part_of_another_schema_or_mark_is_named(parts, change, words):
    def changed(table: pa.Table) -> pa.Table:
        found = change(table)
        mark = dict(found.schema.metadata or {})
        if mark.get(b"hitlab_parts") == b"":
            del mark[b"hitlab_parts"]
        return found.replace_schema_metadata(mark)

    forged(parts / "part-2.parquet", changed)
    for ask in (open_checked, hitlab.tally):
        with pytest.raises(ReadingError, match=rf"(?s)part-2\.parquet.*{words}"):
            ask(parts)


def test_whole_numbers_and_others_go_together(parts):
    save(game("g9", 9, my_mark=9.5), parts / "part-9.parquet")
    save(game("g8", 8, my_mark=None), parts / "part-8.parquet")
    marks = open_checked(parts).project("my_mark").distinct().order("my_mark").fetchall()
    assert marks == [(1.0,), (2.0,), (3.0,), (9.5,), (None,)]


def test_a_game_in_two_parts_is_named_with_the_mend(parts, capsys):
    more = pd.concat([game("g1", 1, my_mark=1), game("g7", 7, my_mark=1)])
    save(more, parts / "part-4.parquet")
    words = r"part-4\.parquet: the game g1 stands in .*part-1\.parquet already: its pitches would count twice"
    for trust in (False, True):
        with pytest.raises(ReadingError, match=words) as error:
            open_checked(parts, trust=trust)
    # The mend that it names.
    assert f"hitlab add {parts / 'part-4.parquet'} --to {parts / 'part-1.parquet'}" in str(error.value)
    assert run(["add", str(parts / "part-4.parquet"), "--to", str(parts / "part-1.parquet")]) == 0
    (parts / "part-4.parquet").unlink()
    assert hitlab.tally(parts).data["pitches"].sum() == 160
    shutil.copy(parts / "part-2.parquet", parts / "copy of part-2.parquet")
    assert run(["list", "--file", str(parts)]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert "the game g2 stands in" in said


def test_tables_that_are_not_saved_are_not_passed_over(parts, capsys):
    game("g4", 4).to_csv(parts / "part-4.csv", index=False)
    words = r"part-4\.csv is no saved table.*--save .*part-4\.parquet"
    for ask in (open_checked, hitlab.tally, doubts_in):
        with pytest.raises(ReadingError, match=words):
            ask(parts)
    assert run(["list", "--file", str(parts)]) == 2
    assert "part-4.csv is no saved table" in " ".join(capsys.readouterr().err.split())
    os.replace(parts / "part-4.csv", parts / "part-4.md")
    (parts / ".hitlab-1-2-3.unfinished").write_bytes(b"half")
    (parts / ".hidden").mkdir()
    shutil.copy(parts / "part-1.parquet", parts / ".hidden" / "old.parquet")
    assert hitlab.tally(parts).data["pitches"].sum() == 120


def test_a_folder_of_charts_is_read_as_charts(tmp_path, capsys):
    game("g1", 1).to_csv(tmp_path / "chart.csv", index=False)
    swings = game("g1", 1)["outcome"].isin(["whiff", "foul", "in play"]).sum()
    (tmp_path / "kept").mkdir()
    write_checked(game("g2", 2), tmp_path / "kept" / "season.parquet")
    assert not opens_as_checked(tmp_path)
    assert opens_as_checked(tmp_path / "kept")
    assert run(["list", "--file", str(tmp_path), "--event", "whiffs", "--minimum", "1", "--json"]) == 0
    assert sum(one["swings"] for one in json.loads(capsys.readouterr().out)["rows"]) == swings


def test_empty_folders_and_names_that_are_nothing(tmp_path):
    (tmp_path / "empty" / "inside").mkdir(parents=True)
    with pytest.raises(
        ReadingError, match=r"empty is a folder without a saved table in it.*hitlab read FILES"
    ):
        open_checked(tmp_path / "empty")
    assert not opens_as_checked(tmp_path / "empty")
    assert not is_checked(tmp_path)


@posix
def test_links_and_pipes_in_a_folder(parts):
    os.mkfifo(parts / "pipe.parquet")
    with pytest.raises(ReadingError, match=r"pipe\.parquet is a pipe"):
        open_checked(parts)
    (parts / "pipe.parquet").unlink()
    (parts / "around").symlink_to(parts, target_is_directory=True)
    elsewhere = parts.parent / "elsewhere"
    elsewhere.mkdir()
    write_checked(game("g9", 9), elsewhere / "part-9.parquet")
    (parts / "more").symlink_to(elsewhere, target_is_directory=True)
    assert hitlab.tally(parts).data["pitches"].sum() == 160
    (parts / "gone.parquet").symlink_to(parts / "nothing.parquet")
    with pytest.raises(ReadingError, match=r"no file .*gone\.parquet"):
        open_checked(parts)


@pytest.mark.parametrize("name", ["season=2031", "it's [x]*", "a b é"])
def test_names_of_folders_are_no_columns_and_no_wild_cards(tmp_path, name):
    if os.name == "nt" and "*" in name:
        pytest.skip("Windows does not allow such a file name")
    for year in ("2031", "2032"):
        inside = tmp_path / name / f"year={year}"
        inside.mkdir(parents=True)
        write_checked(game(f"g{year}", 1), inside / "games.parquet")
    opened = open_checked(tmp_path / name)
    assert opened.columns == ["game", "hitter", "outcome"]
    assert opened.aggregate("count(*)").fetchall() == [(80,)]


@pytest.mark.parametrize("columns", ["the same", "others"])
def test_what_is_changed_after_opening_is_noticed(parts, columns):
    if columns == "others":
        write_checked(game("g3", 3), parts / "part-3.parquet")

    def opened() -> tuple[Any, Any]:
        relation = open_checked(parts)
        return relation, relation.filter("outcome = 'whiff'")

    def refused(both: tuple[Any, Any], words: str) -> None:
        for one in both:
            with pytest.raises(ReadingError, match=words):
                hitlab.tally(one)

    before = opened()
    assert hitlab.tally(before[1]).data["pitches"].sum() > 0
    save(game("g4", 4, my_mark=4), parts / "part-4.parquet")
    refused(before, r"part-4\.parquet was put there after .*parts was opened")
    before = opened()
    save(game("g2", 5, my_mark=2), parts / "part-2.parquet")
    refused(before, r"part-2\.parquet was replaced or changed after it was opened")
    before = opened()
    (parts / "part-1.parquet").unlink()
    refused(before, r"part-1\.parquet is not there any more")
    before = opened()
    shutil.rmtree(parts)
    refused(before, r"part-2\.parquet is not there any more")


def test_doubts_are_looked_at_again_where_a_part_changed(parts):
    assert doubts_in(parts).rows == 120
    save(game("g3", 3, rows=30, my_mark=3), parts / "part-3.parquet")
    assert doubts_in(parts).rows == 110
    save(game("g4", 4, my_mark=3), parts / "part-4.parquet")
    assert doubts_in(parts).rows == 150


def test_parts_without_a_mark_are_taken_on_trust_alone(parts):
    frame = game("g5", 5, my_mark=5)
    frame.to_parquet(parts / "part-5.parquet")
    with pytest.raises(ReadingError, match=r"part-5\.parquet carries no schema mark"):
        open_checked(parts)
    assert hitlab.tally(parts, trust=True).data["pitches"].sum() == 160
    assert doubts_in(parts).rows == 120


def test_on_trust_pitches_may_lack_their_game_and_texts_be_kept_as_codes(parts):
    frame = game("g5", 5, my_mark=5)
    frame.loc[:2, "game"] = None
    frame["hitter"] = frame["hitter"].astype("category")
    frame.to_parquet(parts / "part-5.parquet")
    assert hitlab.tally(parts, trust=True).data["pitches"].sum() == 160


def test_a_folder_all_on_trust_has_no_doubts(tmp_path):
    game("g5", 5).to_parquet(tmp_path / "part-5.parquet")
    assert doubts_in(tmp_path) == Doubts()


# The command line and the desk.


@pytest.mark.slow
def test_the_command_line_takes_a_folder(whole, folder, tmp_path, capsys):
    asked = ["check", "above", WHO, "15%", "--when", BREAKING]
    code = run([*asked, "--file", str(whole), "--cut", str(tmp_path / "one.csv"), "--json"])
    one = capsys.readouterr().out
    assert run([*asked, "--file", str(folder), "--cut", str(tmp_path / "parts.csv"), "--json"]) == code
    assert capsys.readouterr().out.replace(f"{folder}/", str(whole)) == one
    assert (tmp_path / "one.csv").read_bytes() == (tmp_path / "parts.csv").read_bytes()
    for command in (["list", "--event", "whiffs"], ["list", "--club", "Saltmere"]):
        said = []
        for path in (whole, folder):
            assert run([*command, "--file", str(path)]) == 0
            said.append(capsys.readouterr())
        assert said[0] == said[1]
    assert run([*asked, "--file", str(folder), "--league", str(folder)]) == 2
    assert run(["list", "--file", str(folder), "--save", str(folder / "late" / "part-6.parquet")]) == 2
    assert "it is the file that is read" in " ".join(capsys.readouterr().err.split())


def test_the_desk_takes_a_folder(folder, tmp_path):
    opened = open_table(f' "{folder}" ')
    assert opened.said[0] == (
        f"{folder.name}: 102,614 rows, 150 hitters, games from 2031-04-03 to 2031-06-23."
    )
    (tmp_path / "nothing").mkdir()
    with pytest.raises(ReadingError, match="is a folder"):
        open_table(tmp_path / "nothing")


def test_reading_a_folder_of_saved_tables_says_what_to_do(parts, capsys):
    with pytest.raises(ReadingError, match=r"are saved and checked already.*hitlab list --file"):
        read_pitches(parts)
    assert run(["list", "--file", str(parts), "--mapping", "data_demo/week.toml"]) == 2
    assert "Give the folder without a mapping" in " ".join(capsys.readouterr().err.split())
