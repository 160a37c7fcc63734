"""What is kept of a folder of saved tables: the same answers from it, and never those of something else."""

from __future__ import annotations

import base64
import datetime as dt
import json
import os
import shutil
import subprocess
import sys
import zlib
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
from hitlab import as_loaded
from hitlab.counting import Conventions, kept_counts, tallies
from hitlab.counting.situations import situation
from hitlab.errors import ReadingError
from hitlab.estimates import faced
from hitlab.pitches import kept_files, open_checked, season_folder, storing, write_checked
from hitlab.pitches.kept_files import FOLDER, SWITCH
from hitlab.pitches.sealing import seal
from hitlab.pitches.seen import Seen
from hitlab.pitches.storing import PARTS, SEEN, doubts_in, open_parts, write_parts
from hitlab.questions import finely
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


FINE = ["hitter", "game"]  # by which the small table of each part cannot tell


def inside(folder: Path, kind: str = "counts") -> list[Path]:
    return sorted((folder / FOLDER).glob(f"{kind}-*.parquet"))


@pytest.fixture
def older(monkeypatch):
    """Save tables as before they told what their names, days and speeds show."""
    monkeypatch.setattr(storing, "SEEN", "hitlab_other")


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
            (season_folder, "_looked_at"),
        ):
            monkeypatch.setattr(module, name, fail)

    return refuse


# The same answers.


@pytest.mark.slow
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


CHOSEN = [
    ("date>=2031-05-02", "hitter"),
    ("date<=2031-05-02", ["hitter", "game"]),
    ("club=North", ["hitter", "pitcher"]),
    ("half=bottom", "pitcher"),
]


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(("where", "by"), CHOSEN)
def test_days_clubs_and_halves_are_chosen_of_what_is_kept(twelve, tmp_path, no_pitches, where, by):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    table = pq.read_table(next(folder.glob("*.parquet"))).to_pandas()
    if where.startswith("date"):
        where = where[:6] + sorted(table["date"].astype(str))[len(table) // 2][:10]
    if where.startswith("club"):
        where = f"club={table['club'].iloc[0]}"
    expected = plainly(folder, by, where=situation(where))
    assert 0 < expected.data["pitches"].sum() < plainly(folder).data["pitches"].sum()
    hitlab.tally(folder)
    no_pitches()
    held_equal(hitlab.tally(folder, by, where=situation(where)), expected)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("by", ["hitter", ["hitter", "date"], "date", ["pitcher", "game"]])
def test_days_on_which_nothing_was_thrown_have_no_groups(twelve, tmp_path, no_pitches, by):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    expected = plainly(folder, by, where=situation("date>=2099-01-01"))
    assert len(expected.data) == 0
    hitlab.tally(folder)
    no_pitches()
    held_equal(hitlab.tally(folder, by, where=situation("date>=2099-01-01")), expected)


def test_only_some_counts_are_those_of_all(twelve, tmp_path, no_pitches):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    all_of_them = plainly(folder, FINE)
    hitlab.tally(folder)
    no_pitches()
    few = hitlab.tally(folder, FINE, only=["whiffs", "swings"])
    assert set(few.names) == {"whiffs", "swings"}
    for name in ("whiffs", "swings"):
        assert (few.column(name) == all_of_them.column(name)).all()
    hard = hitlab.tally(folder, FINE, only=["hard", "swings"])
    assert {"hard", "swings", "unmeasured", "in_play", "contact"} <= set(hard.names)
    assert (hard.column("unmeasured") == all_of_them.column("unmeasured")).all()
    assert hard.notes_on("hard", "swings") == all_of_them.notes_on("hard", "swings")


def test_conventions_of_the_rates_alone_are_answered_from_the_same(parts, no_pitches):
    asked = {"conventions": Conventions(most_unknown=0.5, most_contradicted=0.5)}
    expected = plainly(parts, **asked)
    hitlab.tally(parts)
    no_pitches()
    held_equal(hitlab.tally(parts, **asked), expected)


@pytest.mark.slow
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


@pytest.mark.slow
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


RATES = [
    (hitlab.check_leads, {"event": "whiffs"}),
    (hitlab.check_leads, {"event": "hard", "per": "in_play", "conventions": Conventions(most_unknown=0.5)}),
    (hitlab.check_top, {"event": "whiffs", "since": "2031-05-01"}),
]


@pytest.fixture
def met(monkeypatch) -> list[str]:
    """Tell what is worked out of games and pitchers, and never laid on one side."""
    done: list[str] = []
    for name in ("crowded", "unequal", "fit_crossed"):
        before = getattr(finely, name)

        def noted(*given: Any, before: Any = before, name: str = name, **more: Any) -> Any:
            done.append(name)
            return before(*given, **more)

        monkeypatch.setattr(finely, name, noted)
    return done


def matters(monkeypatch) -> None:
    """Let what hitters faced matter always."""
    monkeypatch.setattr(faced, "MATTERS", 0.0)


@pytest.mark.slow
@pytest.mark.parametrize(("ask", "asked"), RATES)
def test_what_games_and_pitchers_tell_of_a_rate_is_kept(twelve, tmp_path, monkeypatch, met, ask, asked):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    matters(monkeypatch)
    monkeypatch.setenv(SWITCH, "off")
    expected = ask(folder, **asked).to_dict()
    monkeypatch.delenv(SWITCH)
    met.clear()
    for _ in range(3):
        season_folder._doubts.cache_clear()
        assert ask(folder, **asked).to_dict() == expected
    assert met == ["crowded", "unequal", "fit_crossed"]
    assert len(inside(folder, "alike")) == len(inside(folder, "faced")) == 1
    # With one part less nothing of it holds, and it goes.
    next(folder.glob("*.parquet")).unlink()
    other = ask(folder, **asked).to_dict()
    assert met == ["crowded", "unequal", "fit_crossed"] * 2
    assert len(inside(folder, "alike")) == len(inside(folder, "faced")) == 1
    monkeypatch.setenv(SWITCH, "off")
    assert other == ask(folder, **asked).to_dict() != expected


@pytest.mark.slow
def test_what_does_not_matter_is_drawn_where_it_does(twelve, tmp_path, monkeypatch, met):
    folder = Path(shutil.copytree(twelve, tmp_path / "seasons"))
    monkeypatch.setattr(faced, "MATTERS", 1e9)
    monkeypatch.setattr(faced, "_MATTERS_FOR_ONE", 1e9)
    for _ in range(2):
        hitlab.check_leads(folder, event="whiffs")
    assert met == ["crowded", "unequal"]
    matters(monkeypatch)
    found = [hitlab.check_leads(folder, event="whiffs").to_dict() for _ in range(2)]
    assert met.count("fit_crossed") == 1
    monkeypatch.setenv(SWITCH, "off")
    assert found == [hitlab.check_leads(folder, event="whiffs").to_dict()] * 2


@pytest.fixture(scope="module")
def told_once(twelve, tmp_path_factory) -> tuple[Path, dict[str, Any]]:
    """A folder of which all is kept that a claim asks, and the claim; what hitters faced matters there."""
    folder = Path(shutil.copytree(twelve, tmp_path_factory.mktemp("once") / "seasons"))
    with pytest.MonkeyPatch.context() as patched:
        for name in ("FEWEST_ROWS", "FEWEST_ROWS_OF_A_PART"):
            patched.setattr(kept_files, name, 0)
        matters(patched)
        return folder, hitlab.check_leads(folder, event="whiffs").to_dict()


def longer(table: pa.Table, name: str) -> pa.Table:
    """Give one number more for a hitter than there are hitters."""
    told = table.column(name)[0].as_py()
    return table.set_column(table.schema.get_field_index(name), name, pa.array([[*told, 1.0]]))


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("kind", "change"),
    [
        ("alike", lambda table: longer(table, "others")),
        ("alike", lambda table: table.drop_columns(["pairs"])),
        ("alike", lambda table: table.slice(1)),
        ("alike", lambda table: table.set_column(0, "others", pa.nulls(1))),
        ("faced", lambda table: table.set_column(1, "apart", pa.array([[None, 1.0]]))),
        ("faced", lambda table: longer(table, "apart")),
        ("faced", lambda table: longer(table, "rate")),
        ("faced", lambda table: longer(table, "weights")),
        ("faced", lambda table: table.drop_columns(["useful"])),
        ("faced", lambda table: table.drop_columns(["words"])),
        ("whole", lambda table: doubled(table, "rows_counted")),
        ("whole", lambda table: table.slice(1)),
        ("whole", lambda table: table.drop_columns(["whiffs"])),
        ("whole", lambda table: doubled(table, "whiffs").replace_schema_metadata(None)),
    ],
)
def test_what_is_forged_of_a_rate_is_worked_out_anew(told_once, monkeypatch, kind, change):
    folder, expected = told_once
    matters(monkeypatch)
    (path,) = inside(folder, kind)
    whole = path.read_bytes()
    rewritten(path, change)
    assert hitlab.check_leads(folder, event="whiffs").to_dict() == expected
    assert path.read_bytes() == whole


# What changed is counted, and nothing else.


def test_a_new_part_costs_only_itself(parts, counted):
    hitlab.tally(parts)
    assert counted == [40, 40, 40]
    save_game(parts, 4, rows=30)
    held_equal(hitlab.tally(parts), plainly(parts))
    assert counted == [40, 40, 40, 30]
    hitlab.tally(parts, ["hitter", "game"])
    assert len(counted) == 4


@pytest.mark.usefixtures("older")
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
    assert len(inside(parts)) == len(inside(parts, "doubts")) == 2


def texts_in(folder: Path) -> str:
    """Return all that stands in what is kept."""
    tables = [pq.read_table(path) for path in (folder / FOLDER).glob("*.parquet")]
    return " ".join(str(table.to_pydict()) for table in tables)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "look",
    [
        hitlab.tally,
        doubts_in,
        lambda folder: hitlab.tally(folder, where="strikes=2"),
        lambda folder: hitlab.check_leads(folder, event="whiffs"),
    ],
)
def test_what_is_kept_of_a_part_goes_with_it_at_the_next_look(tmp_path, monkeypatch, look):
    folder = tmp_path / "parts"
    for number, hitter in enumerate(["Ivo Treel", "Una Marsk", "Olla Prand"]):
        save_game(folder, number, strikes=2)
        write_checked(
            game(f"x{number}", number).assign(hitter=hitter, strikes=2), folder / f"x{number}.parquet"
        )
    for _ in range(2):
        hitlab.tally(folder)
    assert "Olla Prand" in texts_in(folder)
    (folder / "x2.parquet").unlink()
    monkeypatch.setenv(SWITCH, "off")
    look(folder)
    assert "Olla Prand" in texts_in(folder)  # turned off it stays until somebody deletes it
    monkeypatch.delenv(SWITCH)
    season_folder._doubts.cache_clear()
    look(folder)
    assert "Olla Prand" not in texts_in(folder)
    assert "Una Marsk" in texts_in(folder)
    # Of a folder that has become too small nothing more is kept, and what was of others goes as well.
    monkeypatch.setattr(kept_files, "FEWEST_ROWS", 10_000)
    (folder / "x1.parquet").unlink()
    look(folder)
    assert "Una Marsk" not in texts_in(folder)
    assert len(inside(folder)) == 4


def test_what_an_older_hitlab_kept_goes(parts):
    hitlab.tally(parts)
    old = parts / FOLDER / f"counts-{'0' * 40}.parquet"
    shutil.copy(inside(parts)[0], old)
    mine = parts / FOLDER / "notes.txt"
    mine.write_text("mine")
    season_folder._doubts.cache_clear()
    hitlab.tally(parts)
    assert not old.exists()
    assert mine.exists()
    assert len(inside(parts)) == 3


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


@pytest.mark.slow
@pytest.mark.usefixtures("older")
def test_damaged_and_truncated_counts_are_counted_anew(parts):
    expected = plainly(parts, FINE)
    hitlab.tally(parts)
    for path in (
        *(inside(parts)[:1] + inside(parts, "totals")[:1]),
        *(inside(parts, "together") + inside(parts, "doubts")),
    ):
        whole = path.read_bytes()
        damaged = [whole[:size] for size in (0, 3, len(whole) // 2, len(whole) - 1)]
        for place in range(0, len(whole), 211):
            data = bytearray(whole)
            data[place] ^= 4
            damaged.append(bytes(data))
        for data in damaged:
            path.write_bytes(data)
            looked_for_anew(parts, path)
            held_equal(hitlab.tally(parts, FINE), expected)
            assert path.read_bytes() == whole


def looked_for_anew(folder: Path, of_a_part: Path) -> None:
    """See that what is kept of a part is asked for, and not what is kept of all of them."""
    season_folder._doubts.cache_clear()
    for path in (*inside(folder, "together"), *inside(folder, "whole")):
        if path != of_a_part:
            path.unlink()


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


@posix
@pytest.mark.usefixtures("older")
def test_nobody_but_the_owner_may_look_into_it(parts):
    before = os.umask(0)
    try:
        (parts / FOLDER).mkdir()
        hitlab.tally(parts)
    finally:
        os.umask(before)
    assert (parts / FOLDER).stat().st_mode & 0o777 == 0o700
    files = list((parts / FOLDER).iterdir())
    assert len(files) == 12
    assert {path.stat().st_mode & 0o777 for path in files} == {0o600}
    # What is written anew does not take over what the file before allowed.
    path = inside(parts)[0]
    path.write_bytes(b"")
    path.chmod(0o644)
    hitlab.tally(parts, FINE)
    assert path.stat().st_size
    assert path.stat().st_mode & 0o777 == 0o600


def test_what_one_may_not_look_into_is_as_if_it_were_not_there(parts, monkeypatch):
    expected = plainly(parts)
    hitlab.tally(parts)
    season_folder._doubts.cache_clear()
    before = os.stat

    def refused(path: Any, *given: Any, **more: Any) -> Any:
        if FOLDER in os.fsdecode(path) and not os.fsdecode(path).endswith(FOLDER):
            raise PermissionError(13, "Permission denied")
        return before(path, *given, **more)

    monkeypatch.setattr(os, "stat", refused)
    held_equal(hitlab.tally(parts), expected)


@pytest.mark.slow_beyond_first
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
@pytest.mark.parametrize("kind", ["counts", "totals"])
def test_forged_counts_are_counted_anew(parts, counted, change, kind):
    expected = plainly(parts, FINE)
    hitlab.tally(parts)
    rewritten(inside(parts, kind)[1], change)
    held_equal(hitlab.tally(parts, FINE), expected)
    assert len(counted) == 4


def test_counts_of_another_part_under_its_name(parts, counted):
    expected = plainly(parts, FINE)
    hitlab.tally(parts)
    one, other, _ = inside(parts)
    shutil.copy(one, other)
    held_equal(hitlab.tally(parts, FINE), expected)
    assert len(counted) == 4


@pytest.mark.usefixtures("older")
def test_other_rules_are_another_version(parts, counted, monkeypatch):
    hitlab.tally(parts)
    before = [*inside(parts), *inside(parts, "doubts")]
    monkeypatch.setattr(kept_files, "rules", lambda **_: "another")
    season_folder._doubts.cache_clear()
    hitlab.tally(parts)
    assert len(counted) == 6
    after = [*inside(parts), *inside(parts, "doubts")]
    assert len(after) == 6
    assert not set(before) & set(after)


@pytest.mark.usefixtures("older")
def test_two_conventions_are_kept_and_the_one_that_was_kept_first_goes(parts, counted):
    for number, way in enumerate(WAYS, 1):
        conventions = WAYS[way]
        held_equal(hitlab.tally(parts, conventions=conventions), plainly(parts, conventions=conventions))
        assert len(counted) == 3 * number
        assert len(inside(parts)) == 3 * min(number, 2)
        for path in inside(parts):
            aged = path.stat().st_mtime_ns - 10**9
            os.utime(path, ns=(aged, aged))
    for way in list(WAYS)[-2:]:
        held_equal(hitlab.tally(parts, conventions=WAYS[way]), plainly(parts, conventions=WAYS[way]))
    assert len(counted) == 3 * len(WAYS)
    assert len(inside(parts, "doubts")) == 3


def test_conventions_that_came_first_do_not_keep_others_out(parts, no_pitches):
    hitlab.tally(parts, conventions=WAYS["hard from 85 mph"])
    expected = plainly(parts)
    hitlab.tally(parts)
    no_pitches()
    held_equal(hitlab.tally(parts), expected)
    hitlab.tally(parts, conventions=WAYS["hard from 85 mph"])


# The sources on the disk, and what was loaded of them.


@pytest.fixture
def copied(tmp_path, monkeypatch) -> Path:
    """A copy of the sources, of which the running rules are told."""
    top = Path(hitlab.__file__).parent
    shutil.copytree(top, tmp_path / "hitlab", ignore=shutil.ignore_patterns("__pycache__", "notebooks"))
    monkeypatch.setattr(as_loaded, "_TOP", str(tmp_path / "hitlab"))
    return tmp_path / "hitlab"


def loaded_anew(monkeypatch) -> str:
    """Look at the sources as a new process does."""
    monkeypatch.setattr(as_loaded, "_AT_FIRST", as_loaded._stamps())
    as_loaded._hashed.cache_clear()
    return as_loaded.rules()


@pytest.fixture
def afterwards():
    """Forget the hash of a copy."""
    yield
    as_loaded._hashed.cache_clear()


@pytest.mark.usefixtures("afterwards")
def test_the_rules_are_all_that_decides_them(copied, monkeypatch):
    assert loaded_anew(monkeypatch) == as_loaded.rules(fresh=True) != ""
    found = [as_loaded.rules()]
    for name in ("counting/events.py", "counting/facts.py", "pitches/schema.py", "__init__.py"):
        with (copied / name).open("a", encoding="utf-8") as file:
            file.write("# changed\n")
        assert as_loaded.rules() == ""
        found.append(loaded_anew(monkeypatch))
    assert len(set(found)) == 5
    monkeypatch.undo()
    as_loaded._hashed.cache_clear()
    assert found[0] == as_loaded.rules()


@pytest.mark.usefixtures("afterwards")
@pytest.mark.parametrize(
    "change", ["written", "time put back", "replaced", "added", "removed", "folder removed"]
)
def test_sources_that_were_changed_after_loading_tell_no_rules(copied, monkeypatch, change):
    assert loaded_anew(monkeypatch)
    source = copied / "counting" / "events.py"
    text, status = source.read_text("utf-8"), source.stat()
    if change == "replaced":
        shutil.copy2(source, copied / "other.txt")
        (copied / "other.txt").replace(source)
    elif change == "added":
        (copied / "counting" / "more.py").touch()
    elif change == "removed":
        source.unlink()
    elif change == "folder removed":
        shutil.rmtree(copied / "counting")
    else:
        source.write_text(text[::-1], "utf-8")
    if change == "time put back":
        if os.name == "nt":
            pytest.skip("there no time of the last change is kept that cannot be set back")
        os.utime(source, ns=(status.st_atime_ns, status.st_mtime_ns))
    assert as_loaded.rules() == ""


@pytest.mark.usefixtures("afterwards", "older")
def test_a_change_that_shows_in_no_time_is_found_before_something_is_kept(copied, monkeypatch, parts):
    stamps = as_loaded._stamps()
    assert loaded_anew(monkeypatch)
    monkeypatch.setattr(as_loaded, "_stamps", lambda: stamps)
    source = copied / "counting" / "events.py"
    source.write_text(source.read_text("utf-8").replace("e", "i"), "utf-8")
    held_equal(hitlab.tally(parts), plainly(parts))
    assert not inside(parts)
    assert not inside(parts, "doubts")


_PROGRAM = """
import sys, warnings
from pathlib import Path

warnings.simplefilter("ignore")
folder, when, source = sys.argv[1:]
import hitlab

def upgrade():
    text = Path(source).read_text("utf-8")
    Path(source).write_text(text.replace('("whiff", "foul tip")', '("foul tip",)'), "utf-8")

if when == "events alone are loaded":
    import hitlab.counting.events
elif when == "all is loaded":
    hitlab.tally(next(Path(folder).glob("*.parquet")))
if when == "it counts":
    from hitlab.counting import kept_counts
    before = kept_counts._counted

    def counted(*given):
        upgrade()
        return before(*given)

    kept_counts._counted = counted
elif when != "afterwards":
    upgrade()
from hitlab.pitches import kept_files

kept_files.FEWEST_ROWS = kept_files.FEWEST_ROWS_OF_A_PART = 0
print(hitlab.tally(folder).data["whiffs"].sum())
"""


@pytest.mark.slow
@pytest.mark.parametrize(
    "when", ["nothing is loaded", "events alone are loaded", "all is loaded", "it counts"]
)
def test_an_upgrade_under_a_running_program_leaves_no_counts_of_the_other_rules(tmp_path, parts, when):
    own = tmp_path / "hitlab"
    shutil.copytree(Path(hitlab.__file__).parent, own, ignore=shutil.ignore_patterns("__pycache__"))

    def run(when: str, switch: str = "") -> int:
        command = [sys.executable, "-c", _PROGRAM, str(parts), when, str(own / "counting" / "events.py")]
        env = {**os.environ, "PYTHONPATH": str(tmp_path), SWITCH: switch}
        done = subprocess.run(command, capture_output=True, text=True, env=env, cwd=tmp_path, check=False)
        assert not done.stderr, done.stderr
        return int(done.stdout)

    old = run("afterwards", "off")
    run(when)
    new = run("afterwards", "off")
    assert new < old
    assert run("afterwards") == new
    assert len(inside(parts)) == 3


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


@pytest.mark.parametrize("more", [True, False])
def test_what_was_opened_on_trust_is_not_kept(parts, more):
    if more:
        game("g5", 5).to_parquet(parts / "part-5.parquet")
    assert hitlab.tally(parts, trust=True).data["pitches"].sum() == (160 if more else 120)
    assert not (parts / FOLDER).exists()


def test_an_outcome_that_is_a_word_for_results_is_refused_as_of_the_pitches(parts):
    def changed(table: pa.Table) -> pa.Table:
        at = table.schema.get_field_index("outcome")
        return table.set_column(at, "outcome", pa.array(["single"] * table.num_rows))

    forged(parts / "part-2.parquet", changed)
    for ask in (plainly, hitlab.tally):
        with pytest.raises(ReadingError, match="column outcome holds 'single', which is not a word"):
            ask(parts)


def test_a_result_that_is_a_word_for_outcomes_is_refused_as_of_the_pitches(parts):
    for path in parts.glob("*.parquet"):
        table = pq.read_table(path)
        whiffs = np.where(np.arange(40) % 4, None, "whiff")
        frame = table.to_pandas().assign(result=np.where(whiffs == "whiff", "single", None))
        write_checked(frame.assign(outcome=np.where(whiffs == "whiff", "in play", frame["outcome"])), path)

    def changed(table: pa.Table) -> pa.Table:
        at = table.schema.get_field_index("result")
        return table.set_column(at, "result", pa.array(["whiff"] * table.num_rows))

    forged(parts / "part-2.parquet", changed)
    for ask in (plainly, hitlab.tally):
        with pytest.raises(ReadingError, match="column result holds 'whiff', which is not a word"):
            ask(parts)


@pytest.mark.parametrize("rows", [7, 40])
def test_a_part_is_counted_some_rows_at_a_time(parts, monkeypatch, rows):
    save_game(parts, 4, club="Arden", day="2031-05-04", exit_mph=np.linspace(60, 110, 40).round(1))
    expected = plainly(parts)
    monkeypatch.setattr(kept_counts, "_AT_ONCE", rows)
    many: list[int] = []
    before = kept_counts._counted_rows
    monkeypatch.setattr(
        kept_counts, "_counted_rows", lambda table, *more: many.append(len(table)) or before(table, *more)
    )
    held_equal(hitlab.tally(parts), expected)
    assert max(many) == rows
    assert sum(many) == 160
    assert [pq.read_metadata(path).num_rows for path in inside(parts)] == [8] * 4


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
def test_where_it_cannot_be_written_it_is_counted_and_nothing_is_said(
    parts, monkeypatch, capfd, counted, fault
):
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
    # What could not be kept is not counted for it: where only writing shows it, one part is.
    assert len(counted) == (2 if fault.startswith("os.") else 0)
    assert not inside(parts)
    assert not list(parts.rglob("*.unfinished"))
    assert capfd.readouterr() == ("", "")


@posix
def test_nothing_is_written_through_a_link(parts, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (parts / FOLDER).symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    held_equal(hitlab.tally(parts), plainly(parts))
    assert not list((tmp_path / "elsewhere").iterdir())


def test_a_second_writer_counts_and_leaves_it_to_the_first(parts, counted):
    expected = plainly(parts)
    with kept_files.writing(parts) as mine:
        assert mine
        season_folder._doubts.cache_clear()
        held_equal(hitlab.tally(parts), expected)
        assert not inside(parts)
        assert not counted
    held_equal(hitlab.tally(parts), expected)
    assert len(inside(parts)) == 3


_WRITER = """
import sys, hitlab
from hitlab.pitches import kept_files
kept_files.FEWEST_ROWS = kept_files.FEWEST_ROWS_OF_A_PART = 0
print(hitlab.tally(sys.argv[1]).fingerprint)
"""


@pytest.mark.slow
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


@pytest.fixture
def looked(monkeypatch) -> list[str]:
    """Give the name of each part whose names, days and speeds are looked at."""
    names: list[str] = []
    before = season_folder._looked_at

    def noted(path: Path, *more: Any) -> Any:
        names.append(path.name)
        return before(path, *more)

    monkeypatch.setattr(season_folder, "_looked_at", noted)
    return names


@pytest.mark.usefixtures("older")
def test_doubts_are_kept_part_by_part(parts, looked):
    found = doubts_in(parts)
    for _ in range(2):
        season_folder._doubts.cache_clear()
        assert doubts_in(parts) == found
    assert sorted(looked) == ["part-1.parquet", "part-2.parquet", "part-3.parquet"]
    write_checked(game("g2", 2).assign(hitter="Ada FRUSK"), parts / "part-2.parquet")
    said = "; ".join(doubts_in(parts).said)
    assert "'Ada FRUSK' in 40 rows" in said
    season_folder._doubts.cache_clear()
    assert "; ".join(doubts_in(parts).said) == said
    assert looked[3:] == ["part-2.parquet"]
    save_game(parts, 4)
    doubts_in(parts)
    assert looked[4:] == ["part-4.parquet"]
    assert len(inside(parts, "doubts")) == 4


def told(text: str) -> str:
    """Return a text as what a table shows is written."""
    return base64.b64encode(zlib.compress(text.encode())).decode("ascii")


NO_LOOKS = [
    *("", "{", "{}", "é", told("["), told("[]"), told("{}"), told("null"), told("[]")[:-8] + "AAAAAAA="),
    *(
        told(json.dumps({"names": {"hitter": {"Ada Frusk": 40}}, "days": {}, "speeds": {}, **other}))
        for other in (
            {"names": {"hitter": {"Ada Frusk": 39}}},
            {"names": {"hitter": {"Ada Frusk": "40"}}},
            {"names": {"hitter": {"Ada Frusk": 40}, "game": {"g2": 41}}},
            {"names": {"game": {"g2": 40}}},
            {"days": {"2031-05-04": 41}},
            {"speeds": {"speed_mph": {}}},
            {
                "speeds": {
                    "speed_mph": {
                        "by": "game",
                        "games": [[None, ["g2"], ["many"], [4.0], [0.1]]],
                        "heaps": [],
                    }
                }
            },
        )
    ),
]
"""Texts that cannot tell what a part of 40 pitches shows."""


def test_what_a_part_shows_is_told_in_it(parts, looked):
    found = doubts_in(parts)
    write_checked(game("g2", 2).assign(hitter="Ada FRUSK"), parts / "part-2.parquet")
    said = doubts_in(parts)
    assert "'Ada FRUSK' in 40 rows" in "; ".join(said.said)
    assert looked == []
    assert not inside(parts, "doubts")
    for path in parts.glob("*.parquet"):
        forged(
            path, lambda table: table
        )  # as a program writes it that leaves out what is told beside the mark
    assert doubts_in(parts) == said != found
    assert sorted(looked) == ["part-1.parquet", "part-2.parquet", "part-3.parquet"]


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("text", NO_LOOKS)
def test_what_cannot_be_what_a_part_shows_is_looked_for(parts, looked, text):
    found = doubts_in(parts)
    path = parts / "part-2.parquet"
    table = pq.read_table(path)
    with pq.ParquetWriter(path, table.schema) as writer:
        writer.write_table(table)
        writer.add_key_value_metadata({SEEN: text})
    with path.open("r+b") as file:
        seal(file)
    assert doubts_in(parts) == found
    assert looked == ["part-2.parquet"]


@pytest.mark.slow_beyond_first
@pytest.mark.usefixtures("older")
@pytest.mark.parametrize(
    "change",
    [
        lambda table: table.rename_columns(["others"]),
        lambda table: pa.concat_tables([table, table]),
        lambda table: table.slice(1),
        *(lambda table, text=text: table.set_column(0, "seen", pa.array([text])) for text in NO_LOOKS),
        lambda table: table.set_column(0, "seen", pa.nulls(1)),
    ],
)
def test_forged_doubts_are_looked_for_anew(parts, looked, change):
    found = doubts_in(parts)
    path = inside(parts, "doubts")[1]
    rewritten(path, lambda table: change(table).replace_schema_metadata(table.schema.metadata))
    looked_for_anew(parts, path)
    assert doubts_in(parts) == found
    assert len(looked) == 4


def in_doubts(table: pa.Table, **told: Any) -> pa.Table:
    """Say something else in what is kept of the doubts of all parts."""
    doubts = {**json.loads(table.column("doubts")[0].as_py()), **told}
    return table.set_column(0, "doubts", pa.array([json.dumps(doubts)]))


@pytest.mark.slow_beyond_first
@pytest.mark.usefixtures("older")
@pytest.mark.parametrize(
    "change",
    [
        lambda table: table.rename_columns(["more", "days"]),
        lambda table: pa.concat_tables([table, table]),
        lambda table: table.slice(1),
        lambda table: in_doubts(table, rows=119),
        lambda table: in_doubts(table, said=None),
        lambda table: table.set_column(0, "doubts", pa.array(["{"])),
        lambda table: table.set_column(0, "doubts", pa.nulls(1)),
        lambda table: table.set_column(1, "days", pa.array(['{"2031-05-04": 121}'])),
        lambda table: table.set_column(1, "days", pa.array(['{"2031-05-04": null}'])),
        lambda table: table.set_column(1, "days", pa.array(['{"a day": 1}'])),
        lambda table: in_doubts(table, said=["forged"]).replace_schema_metadata(None),
    ],
)
def test_forged_doubts_of_all_parts_are_added_up_anew(parts, looked, change):
    found = doubts_in(parts)
    (path,) = inside(parts, "together")
    mark = pq.read_schema(path).metadata
    forged = change(pq.read_table(path))
    rewritten(path, lambda _: forged.replace_schema_metadata(mark if forged.schema.metadata else None))
    season_folder._doubts.cache_clear()
    assert doubts_in(parts) == found
    assert len(looked) == 3


@pytest.mark.usefixtures("older")
def test_doubts_of_all_parts_are_read_alone(parts, looked, monkeypatch):
    found = doubts_in(parts)
    season_folder._doubts.cache_clear()
    with monkeypatch.context() as patched:
        patched.setattr(season_folder, "_looks", None)
        assert doubts_in(parts) == found
    os.utime(parts / "part-2.parquet", (10, 10))
    shutil.move(parts / "part-2.parquet", parts / "part-4.parquet")
    season_folder._doubts.cache_clear()
    doubts_in(parts)
    assert len(inside(parts, "together")) == 1
    assert len(looked) == 3


def test_tables_of_an_older_hitlab_are_asked_each_time(parts, monkeypatch):
    """What their marks say of days rests on the day of the reading."""

    def older(table: pa.Table) -> pa.Table:
        mark = {key: text for key, text in table.schema.metadata.items() if key != PARTS.encode()}
        return table.replace_schema_metadata(mark)

    forged(parts / "part-2.parquet", older)
    found = doubts_in(parts)
    assert not inside(parts, "together")
    season_folder._doubts.cache_clear()
    assert doubts_in(parts) == found


@pytest.mark.usefixtures("older")
def test_a_day_that_was_to_come_when_it_was_kept_is_in_the_future_no_more(tmp_path, monkeypatch, looked):
    class Later(dt.date):
        @classmethod
        def today(cls) -> dt.date:
            return dt.date(2031, 6, 1)

    for number in (1, 2):
        save_game(tmp_path / "parts", number, day="2031-05-04")
    assert any("80 dates lie in the future" in said for said in doubts_in(tmp_path / "parts").of_days)
    monkeypatch.setattr("hitlab.pitches.dates.dt.date", Later)
    season_folder._doubts.cache_clear()
    assert not doubts_in(tmp_path / "parts").of_days
    assert len(looked) == 2


@pytest.mark.usefixtures("older")
def test_speeds_of_two_units_in_parts_that_are_kept_are_found(tmp_path, looked):
    rng = np.random.default_rng(6)
    for number in range(1, 7):
        speeds = rng.normal(88, 4, 40) * (0.44704 if number in (4, 5) else 1)
        save_game(tmp_path / "parts", number, speed_mph=speeds.round(1))
        if number > 3:
            found = doubts_in(tmp_path / "parts")
            if number > 4:
                assert any("speed_mph is in g4 and g5 0.45 times" in said for said in found.said)
    season_folder._doubts.cache_clear()
    assert doubts_in(tmp_path / "parts") == found
    assert len(looked) == 6


@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_what_parts_show_adds_up_to_what_the_whole_shows(data):
    seed, games = data.draw(st.integers(0, 99)), data.draw(st.integers(2, 12))
    rng = np.random.default_rng(seed)
    number = np.repeat(np.arange(games), rng.integers(1, 60, games))
    rows = len(number)
    level = rng.choice(["college", "professional", None], games)[number]
    unit = np.where(rng.random(games) < 0.3, 0.44704, 1.0)[number]
    by_row = np.where(rng.random(rows) < data.draw(st.sampled_from([0.0, 0.4])), 1.609344, 1.0)
    frame = pd.DataFrame(
        {
            "game": [f"g{one:02d}" if one % 5 else f"G{one}" for one in number],
            "hitter": rng.choice(["Ada Frusk", "Bea Plome", "ADA FRUSK", "total", "n/a"], rows),
            "outcome": rng.choice(["in play", "ball"], rows),
            "date": pd.to_datetime(rng.choice(["2031-05-04", "1799-01-02", None], rows)),
            "level": level,
            "speed_mph": (rng.normal(88, 4, rows) * unit).round(1),
            "exit_mph": np.where(rng.random(rows) < 0.9, (rng.normal(60, 8, rows) * by_row).round(1), np.nan),
        }
    )
    cut = np.array(data.draw(st.lists(st.integers(0, 3), min_size=games, max_size=games)))
    order = np.argsort(cut[number], kind="stable")  # as parts follow each other
    whole = frame.iloc[order].reset_index(drop=True)
    parts = [
        Seen.of(some.drop(columns="level") if some["level"].isna().all() else some)
        for _, some in whole.groupby(cut[number][order])
    ]
    kept = [Seen.from_text(one.to_text()) for one in parts]
    for some in (parts, kept):
        assert Seen.together(some).odd == Seen.of(whole).odd
    assert Seen.of(whole).odd.names


def test_doubts_that_name_parts_follow_their_names(parts):
    write_checked(game("g4", 4, day="2031-05-04"), parts / "part-4.parquet")
    assert any("part-1.parquet" in said for said in doubts_in(parts).said)
    (parts / "part-1.parquet").rename(parts / "renamed.parquet")
    said = "; ".join(doubts_in(parts).said)
    assert "renamed.parquet" in said
    assert "part-1.parquet" not in said
