"""What is kept of a folder of saved tables: the same answers from it, and never those of something else."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import fields
from pathlib import Path
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.parquet as pq
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.counting import Conventions, kept_counts, tallies
from hitlab.errors import ReadingError
from hitlab.pitches import kept_files, open_checked, season_folder, write_checked
from hitlab.pitches.kept_files import FOLDER, SWITCH
from hitlab.pitches.sealing import seal
from hitlab.pitches.storing import doubts_in, open_parts, write_parts
from tests.test_season_folder import cut, forged
from tests.test_season_in_parts import HITTERS, game

posix = pytest.mark.skipif(os.name == "nt", reason="links and names of open files are of POSIX")
pytestmark = pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")

WAYS = {
    "usual": Conventions(),
    "hard from 85 mph": Conventions(hard_mph=85),
    "tips are contact": Conventions(foul_tip="contact"),
    "hard fouls": Conventions(hard_fouls=True),
    "an eye": Conventions(eye=(80, 100, 190, 200)),
}
BYS = (
    "hitter",
    "pitcher",
    ["hitter", "game"],
    ["hitter", "game", "date", "pitcher"],
    "club",
    ["game", "level"],
)


@pytest.fixture(autouse=True)
def small(monkeypatch):
    """Keep something of small folders, too, and start as a new process does."""
    for name in ("FEWEST_ROWS", "FEWEST_ROWS_OF_A_PART"):
        monkeypatch.setattr(kept_files, name, 0)
    monkeypatch.delenv(SWITCH, raising=False)
    season_folder._doubts.cache_clear()


@pytest.fixture(scope="module")
def twelve(tmp_path_factory) -> Path:
    """The demo season in twelve parts; nothing is kept of it."""
    games = pc.unique(open_parts(hitlab.demo_season())[0].column("game")).to_pylist()
    groups = {f"part-{n + 1}.parquet": games[n::12] for n in range(12)}
    return cut(Path(hitlab.demo_season()), groups, tmp_path_factory.mktemp("twelve"))


@pytest.fixture
def parts(tmp_path) -> Path:
    """Three parts of a game each."""
    for number in range(1, 4):
        save_game(tmp_path / "parts", number)
    return tmp_path / "parts"


def save_game(folder: Path, number: int, seed: int | None = None, **more: Any) -> Path:
    folder.mkdir(exist_ok=True)
    frame = game(f"g{number}", number if seed is None else seed, **more)
    return write_checked(frame, folder / f"part-{number}.parquet")


def plainly(folder: Any, *asked: Any, **more: Any) -> hitlab.Counts:
    """Count from the pitches."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv(SWITCH, "off")
        season_folder._doubts.cache_clear()
        counts = hitlab.tally(folder, *asked, **more)
    season_folder._doubts.cache_clear()
    return counts


def held_equal(one: hitlab.Counts, other: hitlab.Counts) -> None:
    """Hold all that counts say equal, kinds of columns as well."""
    pd.testing.assert_frame_equal(one.data, other.data)
    for field in fields(one):
        if field.name != "data":
            assert getattr(one, field.name) == getattr(other, field.name), field.name
    assert one.fingerprint == other.fingerprint
    assert one.labels == other.labels


def inside(folder: Path, kind: str = "counts") -> list[Path]:
    return sorted((folder / FOLDER).glob(f"{kind}-*.parquet"))


@pytest.fixture
def counted(monkeypatch) -> list[int]:
    """Give the rows of each part that is counted."""
    rows: list[int] = []
    before = kept_counts._counted

    def noted(file: Any, part: Any, conventions: Any) -> Any:
        rows.append(part.rows)
        return before(file, part, conventions)

    monkeypatch.setattr(kept_counts, "_counted", noted)
    return rows


@pytest.fixture
def no_pitches(monkeypatch):
    """Fail where pitches are counted, or names and speeds looked at."""

    def refuse() -> None:
        def fail(*_: Any, **__: Any) -> None:
            raise AssertionError("counted from the pitches")

        season_folder._doubts.cache_clear()
        for module, name in (
            (tallies, "cells"),
            (tallies, "Pitched"),
            (kept_counts, "_counted"),
            (season_folder, "odd_in_table"),
        ):
            monkeypatch.setattr(module, name, fail)

    return refuse


# The same answers.


@pytest.mark.parametrize("way", WAYS)
def test_counts_that_are_kept_are_those_of_the_pitches(twelve, tmp_path, no_pitches, way):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    asked = {"conventions": WAYS[way]}
    expected = [plainly(folder, by, **asked) for by in BYS]
    held_equal(hitlab.tally(folder, **asked), expected[0])
    assert len(inside(folder)) == 12
    no_pitches()
    for by, one in zip(BYS, expected, strict=True):
        held_equal(hitlab.tally(folder, by, **asked), one)


def test_conventions_of_the_rates_alone_are_answered_from_the_same(parts, no_pitches):
    asked = {"conventions": Conventions(most_unknown=0.5, most_contradicted=0.5)}
    expected = plainly(parts, **asked)
    hitlab.tally(parts)
    no_pitches()
    held_equal(hitlab.tally(parts, **asked), expected)


def test_names_clubs_and_columns_that_differ_between_parts(tmp_path, no_pitches):
    frame = game("g1", 1, day="2031-05-04", level="professional", bat="wood", club="Arden")
    ids = frame["hitter"].map(HITTERS.index).map("h{}".format)
    rng = np.random.default_rng(5)
    speeds = rng.normal(88, 12, 40).round(1)
    frames = [
        frame.assign(hitter_id=ids, exit_mph=speeds),
        # One id with another name and in another club, and metal bats.
        game("g2", 2, club="Brack", bat="metal", hitter_id=ids).assign(
            hitter=frame["hitter"].where(ids != "h1", "Ada F. Plome")
        ),
        game("g3", 3, hitter_id=ids.where(ids != "h2", None), pitcher="Zed Orme", hard=[True, False] * 20),
        game("g4", 4).assign(hitter="ada FRUSK", strikes=2, bunt=True),
    ]
    for number in range(len(frames)):
        folder = tmp_path / str(number)
        for at in range(number + 1):
            folder.mkdir(exist_ok=True)
            write_checked(frames[at], folder / f"{at}.parquet")
        bys = ["hitter", ["hitter", "club"]] + ([["hitter", "pitcher"]] if number > 1 else [])
        expected = [plainly(folder, by) for by in bys]
        held_equal(hitlab.tally(folder), expected[0])
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(tallies, "cells", None)
            for by, other in zip(bys, expected, strict=True):
                held_equal(hitlab.tally(folder, by), other)
    assert any("come with more than one name" in note for note in expected[0].notes)
    assert expected[0].data["club"].str.contains(" and ").any()
    assert expected[0].missing


def test_hitters_without_ids_in_two_clubs_and_spellings(tmp_path):
    for number, (name, club) in enumerate(
        [("Ada Frusk", "Arden"), ("Ada Frusk", "Brack"), ("ada frusk", "Arden")]
    ):
        write_checked(
            game(f"g{number}", number, club=club).assign(hitter=name), tmp_path / f"{number}.parquet"
        )
    expected = plainly(tmp_path)
    for _ in range(2):
        held_equal(hitlab.tally(tmp_path), expected)
    assert len(expected.notes) == 2


def test_ticks_alone_and_coarse_speeds_are_said_as_of_the_pitches(tmp_path):
    for number in range(3):
        frame = game(f"g{number}", number, rows=90)
        struck = frame["outcome"] == "in play"
        ticked = np.where(struck & (np.arange(90) % 4 == 0), "yes", None)
        (tmp_path / "ticks").mkdir(exist_ok=True)
        write_checked(frame.assign(hard=ticked), tmp_path / "ticks" / f"{number}.parquet")
        metres = pd.Series(np.random.default_rng(number).normal(39, 5, 90).round()).where(struck)
        (tmp_path / "speeds").mkdir(exist_ok=True)
        write_checked(
            frame.assign(exit_mph=metres),
            tmp_path / "speeds" / f"{number}.parquet",
            {"units": {"exit_mph": "m/s"}},
        )
    for folder in ("ticks", "speeds"):
        expected = plainly(tmp_path / folder)
        for _ in range(2):
            held_equal(hitlab.tally(tmp_path / folder), expected)
        assert expected.hard_doubts if folder == "speeds" else "hard" in expected.missing


@pytest.fixture(scope="module")
def some(tmp_path_factory) -> tuple[pd.DataFrame, list[str]]:
    frame = pq.read_table(hitlab.demo_season()).to_pandas()
    games = list(frame["game"].unique()[::30])
    return frame[frame["game"].isin(games)].reset_index(drop=True), games


@settings(max_examples=12, deadline=None)
@given(data=st.data())
def test_any_cut_into_parts_counts_alike(some, tmp_path_factory, data):
    frame, games = some
    where = data.draw(st.lists(st.integers(0, 4), min_size=len(games), max_size=len(games)))
    lacking = data.draw(
        st.lists(st.sampled_from(["hitter_id", "club", "bunt", "exit_mph", "result"]), max_size=5)
    )
    folder = tmp_path_factory.mktemp("cut")
    of_game = frame["game"].map(dict(zip(games, where, strict=True)))
    for number in sorted(set(where)):
        mine = frame[of_game == number].drop(columns=lacking[number : number + 1])
        write_parts(pa.Table.from_pandas(mine, preserve_index=False), [], folder / f"{number}.parquet")
    by = data.draw(st.sampled_from(["hitter", ["hitter", "game"], ["hitter", "pitcher"], "game"]))
    expected = plainly(folder, by)
    for _ in range(2):
        held_equal(hitlab.tally(folder, by), expected)


def test_claims_and_lists_are_those_of_the_pitches(twelve, tmp_path, no_pitches, monkeypatch):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    monkeypatch.setenv(SWITCH, "off")
    expected = hitlab.check_leads(folder, event="whiffs").to_dict()
    monkeypatch.delenv(SWITCH)
    season_folder._doubts.cache_clear()
    assert hitlab.check_leads(folder, event="whiffs").to_dict() == expected
    no_pitches()
    assert hitlab.check_leads(folder, event="whiffs").to_dict() == expected


# What changed is counted, and nothing else.


def test_a_new_part_costs_only_itself(parts, counted):
    hitlab.tally(parts)
    assert counted == [40, 40, 40]
    save_game(parts, 4, rows=30)
    held_equal(hitlab.tally(parts), plainly(parts))
    assert counted == [40, 40, 40, 30]
    hitlab.tally(parts, ["hitter", "game"])
    assert len(counted) == 4


def test_a_changed_part_is_counted_anew_and_what_was_kept_of_it_goes(parts, counted):
    hitlab.tally(parts)
    before = inside(parts)
    save_game(parts, 2, seed=9, rows=35)
    held_equal(hitlab.tally(parts), plainly(parts))
    assert counted == [40, 40, 40, 35]
    assert len(inside(parts)) == 3
    assert len(set(inside(parts)) - set(before)) == 1
    (parts / "part-1.parquet").unlink()
    held_equal(hitlab.tally(parts), plainly(parts))
    assert len(counted) == 4


def test_an_old_time_on_other_content_and_a_clock_that_goes_back(parts, counted):
    hitlab.tally(parts)
    part = parts / "part-2.parquet"
    old = part.stat()
    # The same size as well: outcomes of as many signs in another order.
    frame = game("g2", 2)
    other = write_checked(
        frame.assign(outcome=frame["outcome"].to_numpy()[::-1]), parts.parent / "other.parquet"
    )
    data = other.read_bytes()
    part.write_bytes(data)
    os.utime(part, ns=(old.st_atime_ns, old.st_mtime_ns))
    held_equal(hitlab.tally(parts), plainly(parts))
    assert len(counted) == 4
    for path in parts.glob("*.parquet"):
        os.utime(path, (0, 0))
    for path in inside(parts):
        os.utime(path, (10, 10))
    held_equal(hitlab.tally(parts), plainly(parts))
    moved = shutil.copytree(parts, parts.parent / "copied")
    held_equal(hitlab.tally(moved), plainly(moved))
    assert len(counted) == 4  # neither times nor places tell what is in a part


def test_a_part_that_is_replaced_while_it_is_counted_is_noticed(parts, monkeypatch):
    before = kept_counts._counted

    def replaced(file: Any, part: Any, conventions: Any) -> Any:
        with (parts / "part-2.parquet").open("r+b") as written:
            written.write(b"PAR1")
        return before(file, part, conventions)

    monkeypatch.setattr(kept_counts, "_counted", replaced)
    with pytest.raises(ReadingError, match=r"part-2\.parquet was replaced or changed after it was opened"):
        hitlab.tally(parts)


def test_a_part_that_is_replaced_between_opening_and_counting_is_noticed(parts, monkeypatch):
    before = kept_counts.folder_of

    def later(relation: Any) -> Any:
        found = before(relation)
        save_game(parts, 2, seed=9)
        return found

    monkeypatch.setattr(kept_counts, "folder_of", later)
    with pytest.raises(ReadingError, match=r"part-2\.parquet was replaced or changed after it was opened"):
        hitlab.tally(parts)
    monkeypatch.undo()
    held_equal(hitlab.tally(parts), plainly(parts))


def test_a_damaged_part_is_named_though_its_counts_are_kept(parts):
    hitlab.tally(parts)
    part = parts / "part-2.parquet"
    whole = part.read_bytes()
    for place in range(0, len(whole), 307):
        data = bytearray(whole)
        data[place] ^= 4
        part.write_bytes(data)
        with pytest.raises(ReadingError, match=r"part-2\.parquet"):
            hitlab.tally(parts)
        with pytest.raises(ReadingError, match=r"part-2\.parquet"):
            doubts_in(parts)


# What is kept is not right.


def test_damaged_and_truncated_counts_are_counted_anew(parts):
    expected = plainly(parts)
    hitlab.tally(parts)
    for path in (*inside(parts)[:1], *inside(parts, "doubts")):
        whole = path.read_bytes()
        damaged = [whole[:size] for size in (0, 3, len(whole) // 2, len(whole) - 1)]
        for place in range(0, len(whole), 211):
            data = bytearray(whole)
            data[place] ^= 4
            damaged.append(bytes(data))
        for data in damaged:
            path.write_bytes(data)
            season_folder._doubts.cache_clear()
            held_equal(hitlab.tally(parts), expected)
            assert path.read_bytes() == whole


def rewritten(path: Path, change: Any) -> None:
    """Write what is kept anew, with checksums that are right."""
    table = change(pq.read_table(path))
    pq.write_table(table, path)
    with path.open("r+b") as file:
        seal(file)


def doubled(table: pa.Table, name: str) -> pa.Table:
    at = table.schema.get_field_index(name)
    return table.set_column(at, name, pc.multiply(table.column(name), pa.scalar(2, pa.int32())))


def remarked(table: pa.Table, **mark: str) -> pa.Table:
    more = {name.encode(): text.encode() for name, text in mark.items()}
    return doubled(table, "whiffs").replace_schema_metadata({**table.schema.metadata, **more})


@pytest.mark.parametrize(
    "change",
    [
        lambda table: doubled(table, "rows_counted"),
        lambda table: table.slice(1),
        lambda table: pa.concat_tables([table, table]),
        lambda table: table.drop_columns(["whiffs"]),
        lambda table: table.rename_columns([n.replace("whiffs", "Whiffs") for n in table.column_names]),
        lambda table: table.set_column(
            table.schema.get_field_index("whiffs"), "whiffs", table.column("whiffs").cast(pa.float64())
        ),
        lambda table: table.set_column(0, table.column_names[0], pa.array(range(table.num_rows))),
        lambda table: remarked(table, hitlab_kept="another version of the rules"),
        lambda table: remarked(table, hitlab_kept_of="counts-of another part"),
        lambda table: doubled(table, "whiffs").replace_schema_metadata(None),
    ],
)
def test_forged_counts_are_counted_anew(parts, counted, change):
    expected = plainly(parts)
    hitlab.tally(parts)
    rewritten(inside(parts)[1], change)
    held_equal(hitlab.tally(parts), expected)
    assert len(counted) == 4


def test_counts_of_another_part_under_its_name(parts, counted):
    expected = plainly(parts)
    hitlab.tally(parts)
    one, other, _ = inside(parts)
    shutil.copy(one, other)
    held_equal(hitlab.tally(parts), expected)
    assert len(counted) == 4


def test_other_rules_are_another_version(parts, counted, monkeypatch):
    hitlab.tally(parts)
    monkeypatch.setattr(kept_files, "rules", lambda: "another")
    hitlab.tally(parts)
    assert len(counted) == 6


def test_the_rules_are_all_that_decides_them(tmp_path, monkeypatch):
    top = Path(hitlab.__file__).parent
    shutil.copytree(top, tmp_path / "hitlab", ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr(kept_files, "__file__", str(tmp_path / "hitlab" / "pitches" / "kept_files.py"))
    found = [kept_files.rules.__wrapped__()]
    for name in ("counting/events.py", "counting/facts.py", "pitches/schema.py", "__init__.py"):
        with (tmp_path / "hitlab" / name).open("a", encoding="utf-8") as file:
            file.write("# changed\n")
        found.append(kept_files.rules.__wrapped__())
    assert len(set(found)) == 5
    assert found[0] == kept_files.rules()


def test_other_conventions_are_counted_from_the_pitches_and_leave_what_is_kept(parts):
    hitlab.tally(parts)
    before = {path: path.read_bytes() for path in inside(parts)}
    for conventions in WAYS.values():
        held_equal(hitlab.tally(parts, conventions=conventions), plainly(parts, conventions=conventions))
    assert {path: path.read_bytes() for path in inside(parts)} == before


# What is chosen of a folder, and what is none.


def test_what_is_chosen_is_not_answered_from_all(parts):
    hitlab.tally(parts)
    for more in (
        {"where": nw.col("outcome") == "whiff"},
        {"events": {"of_ada": nw.col("hitter") == HITTERS[0]}},
    ):
        held_equal(hitlab.tally(parts, **more), plainly(parts, **more))
    relation = open_checked(parts)
    for chosen in (relation.filter("game = 'g1'"), relation.limit(7), relation.order("outcome")):
        held_equal(hitlab.tally(chosen), plainly(chosen))
    assert hitlab.tally(relation.filter("game = 'g1'")).data["pitches"].sum() == 40
    held_equal(hitlab.tally(relation), plainly(relation))


def test_words_that_are_none_are_refused_as_of_the_pitches(parts):
    def changed(table: pa.Table) -> pa.Table:
        at = table.schema.get_field_index("outcome")
        return table.set_column(at, "outcome", pa.array(["oops"] * table.num_rows))

    forged(parts / "part-2.parquet", changed)
    for ask in (plainly, hitlab.tally):
        with pytest.raises(ReadingError, match="oops"):
            ask(parts)


def test_what_was_opened_on_trust_is_not_kept(parts):
    game("g5", 5).to_parquet(parts / "part-5.parquet")
    assert hitlab.tally(parts, trust=True).data["pitches"].sum() == 160
    assert not inside(parts)


def test_small_folders_and_one_file_have_nothing_beside_them(parts, monkeypatch):
    monkeypatch.undo()
    hitlab.tally(parts)
    assert not (parts / FOLDER).exists()
    hitlab.tally(parts / "part-1.parquet")
    assert sorted(path.name for path in parts.iterdir()) == [f"part-{n}.parquet" for n in (1, 2, 3)]


# Writing it.


def test_it_can_be_turned_off(parts, monkeypatch):
    monkeypatch.setenv(SWITCH, "OFF")
    hitlab.tally(parts)
    assert not (parts / FOLDER).exists()
    monkeypatch.delenv(SWITCH)
    hitlab.tally(parts)
    monkeypatch.setenv(SWITCH, "off")
    monkeypatch.setattr(kept_files, "kept", None)
    assert hitlab.tally(parts).data["pitches"].sum() == 120


def test_it_may_be_deleted_at_any_time(parts):
    expected = plainly(parts)
    for _ in range(2):
        held_equal(hitlab.tally(parts), expected)
        shutil.rmtree(parts / FOLDER)
    assert season_folder.tables_in(parts) == [parts / f"part-{n}.parquet" for n in (1, 2, 3)]


@pytest.mark.parametrize("fault", ["mkdir", "os.replace", "os.fsync", "a file there"])
def test_where_it_cannot_be_written_it_is_counted_and_nothing_is_said(parts, monkeypatch, capfd, fault):
    expected = plainly(parts)

    def full(*_: Any, **__: Any) -> None:
        raise OSError(28, "No space left on device")

    if fault == "a file there":
        (parts / FOLDER).write_text("mine")
    else:
        monkeypatch.setattr(f"pathlib.Path.{fault}" if fault == "mkdir" else fault, full)
    for _ in range(2):
        season_folder._doubts.cache_clear()
        held_equal(hitlab.tally(parts), expected)
    assert not inside(parts)
    assert not list(parts.rglob("*.unfinished"))
    assert capfd.readouterr() == ("", "")


@posix
def test_nothing_is_written_through_a_link(parts, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (parts / FOLDER).symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    held_equal(hitlab.tally(parts), plainly(parts))
    assert not list((tmp_path / "elsewhere").iterdir())


def test_a_second_writer_counts_and_leaves_it_to_the_first(parts):
    expected = plainly(parts)
    with kept_files.writing(parts) as mine:
        assert mine
        season_folder._doubts.cache_clear()
        held_equal(hitlab.tally(parts), expected)
        assert not inside(parts)
    held_equal(hitlab.tally(parts), expected)
    assert len(inside(parts)) == 3


_WRITER = """
import sys, hitlab
from hitlab.pitches import kept_files
kept_files.FEWEST_ROWS = kept_files.FEWEST_ROWS_OF_A_PART = 0
print(hitlab.tally(sys.argv[1]).fingerprint)
"""


def test_several_processes_at_once(parts):
    expected = plainly(parts)
    running = [
        subprocess.Popen([sys.executable, "-c", _WRITER, str(parts)], stdout=subprocess.PIPE, text=True)
        for _ in range(4)
    ]
    assert {one.communicate(timeout=300)[0].strip() for one in running} == {expected.fingerprint}
    held_equal(hitlab.tally(parts), expected)
    assert len(inside(parts)) == 3


@posix
def test_a_writer_that_is_killed_leaves_whole_files_and_no_lock(parts):
    killed = _WRITER.replace("print(", "import os\nos.replace = lambda *_: os.kill(os.getpid(), 9)\nprint(")
    done = subprocess.run(
        [sys.executable, "-c", killed, str(parts)], capture_output=True, text=True, check=False
    )
    assert done.returncode == -9
    assert not inside(parts)
    held_equal(hitlab.tally(parts), plainly(parts))
    assert len(inside(parts)) == 3
    assert not list(parts.rglob("*.unfinished"))


# Doubts.


def test_doubts_are_kept_until_a_part_changes(parts, monkeypatch):
    looked: list[int] = []
    before = season_folder.odd_in_table
    monkeypatch.setattr(season_folder, "odd_in_table", lambda table: looked.append(1) or before(table))
    found = doubts_in(parts)
    for _ in range(2):
        season_folder._doubts.cache_clear()
        assert doubts_in(parts) == found
    assert len(looked) == 1
    write_checked(game("g2", 2).assign(hitter="Ada FRUSK"), parts / "part-2.parquet")
    said = "; ".join(doubts_in(parts).said)
    assert "'Ada FRUSK' in 40 rows" in said
    season_folder._doubts.cache_clear()
    assert "; ".join(doubts_in(parts).said) == said
    assert len(looked) == 2
    assert len(inside(parts, "doubts")) == 1


def test_doubts_that_name_parts_follow_their_names(parts):
    write_checked(game("g4", 4, day="2031-05-04"), parts / "part-4.parquet")
    assert any("part-1.parquet" in said for said in doubts_in(parts).said)
    (parts / "part-1.parquet").rename(parts / "renamed.parquet")
    said = "; ".join(doubts_in(parts).said)
    assert "renamed.parquet" in said
    assert "part-1.parquet" not in said
