"""Saved tables counted by their codes: the counts of an engine, whatever the table, or the engine counts."""

from __future__ import annotations

from pathlib import Path

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.counting import Conventions, brought_home, scanning
from hitlab.counting.scanning import scanned
from hitlab.counting.summing import Pitched
from hitlab.errors import ReadingError
from hitlab.pitches import open_checked, storing, write_checked
from hitlab.pitches.doubts import Doubts
from hitlab.pitches.schema import OUTCOMES, RESULTS

KEYS = [
    *(
        "hitter",
        "pitcher",
        "club",
        "half",
        "outcome",
        "result",
        "strikes",
        "bunt",
        "exit_mph",
        "date",
        "game",
    ),
    *(("hitter", "game"), ("club", "strikes", "bunt"), ("result", "outcome")),
]


def season(rows: int, seed: int, missing: float = 0.2) -> pd.DataFrame:
    """Make pitches of which each column that may be blank is so in a share of the rows."""
    rng = np.random.default_rng(seed)

    def some(values: list, kind: str = "object") -> pd.Series:
        found = pd.Series(rng.choice(np.array(values, dtype=object), rows), dtype="object")
        return found.where(rng.random(rows) >= missing, None).astype(kind)

    speeds = [12.0, 60.0, 94.9, 95.0, 95.1, 119.0]
    return pd.DataFrame(
        {
            "hitter": rng.choice([f"Invented {name}" for name in "ÄBCDéF"], rows),
            "outcome": rng.choice(OUTCOMES, rows),
            "game": [f"game {row // 9}" for row in range(rows)],
            "date": [f"2031-05-{1 + row // 9 % 28:02d}" for row in range(rows)],
            "pitcher": some(["Invented P", "Invented Q"]),
            "club": some(["North", "South"]),
            "half": some(["top", "bottom"]),
            "strikes": some([0, 1, 2], "Int64"),
            "bunt": some([True, False], "boolean"),
            "check_swing": some([True, False], "boolean"),
            "exit_mph": some(speeds, "Float64"),
            "hard": some([True, False], "boolean"),
            "hard_source": some(["radar", "eye"]),
            "result": some(list(RESULTS)),
            "level": some(["professional"]),
        }
    )


def saved(table: pd.DataFrame, path: Path, in_group: int = 122_880) -> Path:
    """Save pitches in row groups of some size."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(storing, "_ROWS_IN_GROUP", in_group)
        return write_checked(table, path)


def by_engine(path: Path, by: str | tuple[str, ...], **how: object) -> hitlab.Counts:
    """Count the same pitches where something is chosen of them, which an engine groups."""
    return hitlab.tally(open_checked(path).filter("outcome IS NOT NULL"), by, doubts=Doubts(), **how)


def by_codes(path: Path, by: str | tuple[str, ...], **how: object) -> hitlab.Counts:
    """Count them as they lie in their file; what invented pitches contradict withholds nothing."""
    return hitlab.tally(path, by, doubts=Doubts(), **how)


def alike(found: hitlab.Counts, expected: hitlab.Counts) -> None:
    pd.testing.assert_frame_equal(found.data, expected.data)
    assert found.names == expected.names
    assert (found.missing, found.hard_notes) == (expected.missing, expected.hard_notes)


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return saved(season(3_000, 1), tmp_path_factory.mktemp("scanned") / "season.parquet", 170)


@pytest.mark.filterwarnings("ignore::hitlab.HitlabWarning")
@pytest.mark.parametrize("by", KEYS, ids=str)
def test_counts_are_those_of_an_engine_by_any_key(path, by):
    alike(by_codes(path, by), by_engine(path, by))


@pytest.mark.filterwarnings("ignore::hitlab.HitlabWarning")
@pytest.mark.parametrize(
    "conventions",
    [
        Conventions(hard_mph=60.0),
        Conventions(hard_fouls=True, foul_tip="contact"),
        Conventions(eye=(80, 100, 90, 100)),
    ],
    ids=str,
)
def test_counts_are_those_of_an_engine_by_any_convention(path, conventions):
    found = by_codes(path, "club", conventions=conventions)
    alike(found, by_engine(path, "club", conventions=conventions))


def test_what_has_few_groups_is_counted_by_codes_and_nothing_else(path):
    told = scanned(nw.from_native(open_checked(path)))
    for by in (["hitter"], ["club", "strikes", "bunt"], ["result", "outcome"], ["half", "pitcher"]):
        counted = told.counted(by, Conventions())
        assert counted is not None
        assert counted.size.sum() == 3_000
        assert not counted.groups.duplicated().any()
    # These have no few values, or too many groups.
    assert told.counted(["hitter", "game"], Conventions()) is None
    assert told.counted(["exit_mph"], Conventions()) is None
    assert told.counted(["date"], Conventions()) is None


@settings(max_examples=40, deadline=None)
@given(
    rows=st.integers(1, 60),
    seed=st.integers(0, 2**32 - 1),
    missing=st.sampled_from([0.0, 0.3, 1.0]),
    in_group=st.integers(1, 40),
    at_once=st.integers(1, 5),
    together=st.integers(2, 4),
    few=st.sampled_from([2, 128]),
    threads=st.integers(1, 3),
    by=st.sampled_from([("hitter",), ("club", "strikes"), ("pitcher", "result", "half")]),
)
def test_pieces_of_any_size_add_up_to_a_loop(
    rows, seed, missing, in_group, at_once, together, few, threads, by, tmp_path_factory
):
    table = season(rows, seed, missing)
    path = saved(table, tmp_path_factory.mktemp("pieces") / "few.parquet", in_group)
    before = pa.cpu_count()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(scanning, "_AT_ONCE", at_once)
        patch.setattr(scanning, "_PUT_TOGETHER", together)
        patch.setattr(scanning, "_FEW", few)
        try:
            pa.set_cpu_count(threads)
            told = scanned(nw.from_native(open_checked(path)))
            by = tuple(name for name in by if name in open_checked(path).columns)
            counted = told.counted(by, Conventions())
        finally:
            pa.set_cpu_count(before)
    rows_of = counted.kinds["outcome"].to_numpy()[counted.kind]
    found: dict[tuple, int] = {}
    for group, outcome, size in zip(counted.group, rows_of, counted.size.tolist(), strict=True):
        key = (*counted.groups.iloc[group].astype(object).where(lambda one: one.notna(), None), outcome)
        found[key] = found.get(key, 0) + size
    expected: dict[tuple, int] = {}
    for row in open_checked(path).project(", ".join((*by, "outcome"))).fetchall():
        expected[row] = expected.get(row, 0) + 1
    assert found == expected
    # In their order, what is missing last.
    ordered = counted.groups.sort_values(list(by), na_position="last", ignore_index=True)
    pd.testing.assert_frame_equal(counted.groups, ordered)


@pytest.mark.parametrize("names", [("hitter", "club"), ("level",), ("half", "bunt"), ("game", "strikes")])
def test_rows_by_some_columns_are_those_of_an_engine(path, names, monkeypatch):
    frame = nw.from_native(open_checked(path))
    order = {"by": list(names), "na_position": "last", "ignore_index": True}
    expected = Pitched(frame).rows_by(*names).sort_values(**order)
    monkeypatch.setattr(Pitched, "rows_by", None)  # it is not asked
    found = scanned(frame).rows_by(*names)
    pd.testing.assert_frame_equal(found, found.sort_values(**order))
    pd.testing.assert_frame_equal(found, expected)


def test_rows_by_what_has_many_values_are_those_of_an_engine(path):
    frame = nw.from_native(open_checked(path))
    for names in (("date",), ("hitter", "exit_mph")):
        found, expected = (rows.rows_by(*names) for rows in (scanned(frame), Pitched(frame)))
        order = {"by": list(names), "ignore_index": True}
        pd.testing.assert_frame_equal(found.sort_values(**order), expected.sort_values(**order))


@pytest.mark.filterwarnings("ignore::hitlab.HitlabWarning")
def test_many_groups_are_counted_by_the_engine(path, monkeypatch):
    expected = by_codes(path, ("hitter", "game"))
    monkeypatch.setattr(scanning, "_MOST_CELLS", 50)
    assert scanned(nw.from_native(open_checked(path))).counted(["hitter"], Conventions()) is None
    alike(by_codes(path, ("hitter", "game")), expected)


def test_what_was_chosen_or_opened_on_trust_is_no_whole_table(path):
    opened = open_checked(path)
    assert scanned(nw.from_native(opened)) is not None
    assert scanned(nw.from_native(opened.filter("strikes = 2"))) is None
    assert scanned(nw.from_native(opened.project("hitter, outcome"))) is None
    assert scanned(nw.from_native(open_checked(path, trust=True))) is None
    assert scanned(nw.from_native(opened.df())) is None


@pytest.mark.filterwarnings("ignore::hitlab.HitlabWarning")
def test_a_file_that_is_replaced_while_it_is_counted_is_not_counted(path, tmp_path, monkeypatch):
    mine = tmp_path / "season.parquet"
    mine.write_bytes(path.read_bytes())
    other = saved(season(500, 2), tmp_path / "other.parquet")
    frame = nw.from_native(open_checked(mine))
    whole = scanning._whole

    def replaced(*given, **how):
        other.replace(mine)
        return whole(*given, **how)

    monkeypatch.setattr(scanning, "_whole", replaced)
    with pytest.raises(ReadingError, match="was replaced or changed after it was opened"):
        hitlab.tally(frame)


@pytest.mark.parametrize(
    "fields",
    [
        {"hitter": pa.string(), "club": pa.string(), "Club": pa.string()},
        {"hitter": pa.string(), "CLUB": pa.string()},
        {"hitter": pa.string()},
        {"hitter": pa.string(), "club": pa.int64()},
    ],
    ids=["in capitals beside", "in capitals", "not there", "numbers"],
)
def test_columns_that_are_not_what_saved_tables_have_are_left_to_the_engine(fields):
    with pytest.raises(scanning._OtherwiseError):
        scanning._texts_of(pa.schema(fields), ["hitter", "club"])
    assert scanning._texts_of(pa.schema(fields), ["hitter"]) == ["hitter"]


@pytest.mark.filterwarnings("ignore::hitlab.HitlabWarning")
def test_parts_of_a_folder_are_counted_as_one_table(tmp_path):
    (tmp_path / "parts").mkdir()
    table = season(2_700, 4)
    for number in range(3):
        some = table.iloc[number * 900 : (number + 1) * 900]
        saved(some, tmp_path / "parts" / f"{number}.parquet", 200)
    whole = saved(table, tmp_path / "whole.parquet")
    told = scanned(nw.from_native(open_checked(tmp_path / "parts")))
    assert told.counted(["hitter"], Conventions()).size.sum() == 2_700
    for by in ("hitter", "club", ("half", "strikes")):
        alike(by_codes(tmp_path / "parts", by), by_codes(whole, by))


def test_a_part_without_a_column_of_the_others_leaves_it_to_the_engine(tmp_path):
    table = season(600, 5)
    saved(table.iloc[:297], tmp_path / "1.parquet")
    saved(table.iloc[297:].drop(columns="club"), tmp_path / "2.parquet")
    assert scanned(nw.from_native(open_checked(tmp_path))) is None


@pytest.mark.filterwarnings("ignore::hitlab.HitlabWarning")
def test_what_comes_home_is_told(path):
    with brought_home() as tables:
        counts = hitlab.tally(path)
    assert len(counts.data) in {table.rows for table in tables}
    assert max(table.rows for table in tables) < 3_000
