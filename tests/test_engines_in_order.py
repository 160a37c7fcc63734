"""What came before, and all that rests on it, on every engine: the same to the last digit."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab import check_response
from hitlab.approach import after_whiff, fastball_readiness, sequence_faults, with_previous
from hitlab.approach.patterns import after, any_pitch, find_sequences, whiff
from hitlab.counting import brought_home
from hitlab.counting.summing import collected
from hitlab.errors import ClaimError, CountsError, MissingColumnsError, ReadingError
from hitlab.league import make_season
from hitlab.pitches import rebuild_count
from hitlab.pitches.connecting import own_connection
from hitlab.pitches.schema import OUTCOMES
from tests.needs import needs_java, package

KEY = ["game", "plate_appearance", "pitch"]
COLUMNS = [
    *KEY,
    *("hitter", "hitter_id", "club", "hitter_side", "pitcher", "pitcher_id", "pitch_kind", "outcome"),
    *("balls", "strikes", "bunt", "speed_mph", "exit_mph", "inside_in", "height_in"),
    *("foul_side", "zone_bottom_in", "zone_top_in"),
]


def season_with_faults(pitches: int = 8_000) -> pd.DataFrame:
    """Make a season in which every fault stands, and what may be missing is somewhere; shuffled."""
    rows = make_season(hitters=24, clubs=2, pitches=pitches, seed=11).pitches[COLUMNS].copy()
    rows["row"] = np.arange(len(rows))
    lengths = rows.groupby(KEY[:2])["row"].transform("size")
    number = rows.groupby(KEY[:2], sort=False).ngroup()
    long = [one for one in number.unique()[::9] if lengths[number == one].iloc[0] >= 4]

    def of(place: int, pitch: int) -> pd.Series:
        return (number == long[place]) & (rows["pitch"] == pitch)

    rows.loc[of(0, 2), "pitch"] = 1  # twice
    rows.loc[of(2, 1), "outcome"] = "in play"  # goes on after its end
    rows.loc[of(3, 2), "strikes"] = 0  # the count contradicts the order, or is at least another
    rows.loc[of(3, 2), "balls"] = 3
    rows.loc[of(4, 1), ["outcome", "pitch_kind"]] = [None, None]
    whole = number == long[5]
    rows.loc[whole & (rows["pitch"] >= 3), ["hitter", "hitter_id"]] = [
        "Sub Stitute",
        "id-sub",
    ]  # in mid-count
    rows.loc[number == long[6], ["hitter", "hitter_id"]] = None
    rows.loc[number == long[7], ["pitcher", "pitcher_id"]] = None
    rows["balls"] = rows["balls"].astype("Int64")
    rows.loc[number == long[8], "balls"] = pd.NA
    rows.loc[rows.index[::97], "pitch_kind"] = None
    rows.loc[rows.index[::101], "exit_mph"] = np.nan
    rows.loc[rows.index[::13], "foul_side"] = None
    rows.loc[rows.index[::67], "speed_mph"] = np.nan
    rows.loc[rows.index[::71], "height_in"] = np.nan
    rows.loc[rows.index[::73], "zone_top_in"] = np.nan
    rows["bunt"] = rows["bunt"].astype("boolean")
    rows.loc[rows.index[::89], "bunt"] = pd.NA
    rows["pitch"], rows["plate_appearance"] = (
        rows["pitch"].astype("Int64"),
        rows["plate_appearance"].astype("Int64"),
    )
    for place, column in ((9, "game"), (10, "plate_appearance"), (11, "pitch")):
        rows.loc[of(place, 2), column] = None
    rows.loc[number == long[12], "hitter"] = "Another Spelling"
    gone = of(1, 2)
    order = np.random.default_rng(8).permutation(int((~gone).sum()))
    return rows[~gone].iloc[order].reset_index(drop=True)


SEASON = season_with_faults()


def as_arrow(frame: pd.DataFrame) -> pa.Table:
    return pa.Table.from_pandas(frame, preserve_index=False).replace_schema_metadata(None)


def with_nan(frame: pd.DataFrame) -> pa.Table:
    """Return whole numbers as floats, and NaN where they are missing: what an engine takes for a number."""
    table = as_arrow(frame)
    for name in (*KEY[1:], "balls", "strikes", "speed_mph", "height_in", "zone_top_in", "exit_mph"):
        values = frame[name].astype("Float64").to_numpy(dtype=float, na_value=np.nan)
        place = table.column_names.index(name)
        table = table.set_column(place, name, pa.array(values, from_pandas=False))
    return table


def dask_of(frame: pd.DataFrame) -> Any:
    return package("dask.dataframe").from_pandas(frame, npartitions=4)  # games lie in several of them


ENGINES: dict[str, Callable[[pd.DataFrame], Any]] = {
    "pandas, other rows": lambda frame: frame.sample(frac=1, random_state=3).reset_index(drop=True),
    "polars": lambda frame: package("polars").from_arrow(as_arrow(frame)),
    "polars lazy": lambda frame: package("polars").from_arrow(as_arrow(frame)).lazy(),
    "polars lazy, NaN": lambda frame: package("polars").from_arrow(with_nan(frame)).lazy(),
    "pyarrow": as_arrow,
    "duckdb": lambda frame: own_connection().from_arrow(as_arrow(frame)),
    "duckdb, NaN": lambda frame: own_connection().from_arrow(with_nan(frame)),
    "dask": dask_of,
}


def home(table: Any) -> pd.DataFrame:
    """Bring a table of any kind home."""
    for way in ("compute", "toArrow", "collect", "to_arrow_table"):
        if hasattr(table, way):
            table = getattr(table, way)()
            break
    return table if isinstance(table, pd.DataFrame) else table.to_pandas()


def in_rows(table: Any, names: list[str]) -> list[tuple[Any, ...]]:
    """Give the rows in the order of ``row``, a missing value of any kind as None, numbers as floats."""
    frame = home(table).sort_values("row")
    columns = []
    for name in names:
        values = frame[name].astype(object).tolist()
        columns.append(
            [
                None if pd.isna(v) else float(v) if isinstance(v, int | float | np.number) else v
                for v in values
            ]
        )
    return list(zip(*columns, strict=True))


def assert_same(found: pd.DataFrame, expected: pd.DataFrame) -> None:
    """Hold two tables equal to the last bit, whatever kind of text or missing value is theirs."""
    assert found.columns.tolist() == expected.columns.tolist()
    assert len(found) == len(expected)
    for name in expected:
        left, right = (
            [None if pd.isna(v) else v for v in table[name].astype(object).tolist()]
            for table in (found, expected)
        )
        assert left == right, name


EXPECTED = with_previous(SEASON)
NEW = [name for name in EXPECTED if name not in SEASON]


def test_the_season_has_every_fault_and_a_missing_value_of_each() -> None:
    faults = sequence_faults(SEASON)
    assert set(faults["fault"]) == {
        "a pitch is missing",
        "a pitch number stands twice",
        "a pitch follows the end",
        "the count contradicts the order",
        "no whole key",
    }
    assert EXPECTED["previous_whiff"].sum() > 200
    linked = EXPECTED["previous_swing"].notna()
    assert EXPECTED["hitter"][linked].isna().any()
    assert (linked & EXPECTED["previous_kind"].isna()).any()
    assert (EXPECTED["hitter"] == "Sub Stitute").sum() > 1


def check_all(engine: Callable[[pd.DataFrame], Any]) -> None:
    """Hold everything that rests on the order equal to what it is in memory."""
    table = engine(SEASON)
    told = with_previous(table)
    assert type(told) is type(table)
    kept = ["game", "plate_appearance", "pitch", "outcome", "balls", "speed_mph"]
    assert in_rows(told, [*kept, *NEW]) == in_rows(EXPECTED, [*kept, *NEW])
    assert_same(sequence_faults(table), sequence_faults(SEASON))
    rebuilt = rebuild_count(table)
    assert type(rebuilt) is type(table)
    assert in_rows(rebuilt, ["balls", "strikes", "outcome"]) == in_rows(
        rebuild_count(SEASON), ["balls", "strikes", "outcome"]
    )


@pytest.mark.parametrize("engine", ENGINES)
def test_every_engine_tells_the_same_order(engine: str) -> None:
    check_all(ENGINES[engine])


QUESTIONS: dict[str, dict[str, Any]] = {
    "all": {},
    "by hand, against fouls": {
        "alike": ("hitter_side",),
        "against": "foul",
        "responses": ["whiff", "same kind"],
    },
    "each pitcher by himself": {"pitcher_groups": 0, "against": "called strike", "responses": ["swing"]},
    "three groups": {"pitcher_groups": 3, "responses": ["hard", "take"]},
    "one hitter": {"hitter": "Another Spelling", "responses": ["swing"]},
}


def check_answers(engine: Callable[[pd.DataFrame], Any], names: list[str]) -> None:
    table = engine(SEASON)
    for name in names:
        found, expected = (after_whiff(one, **QUESTIONS[name]) for one in (table, SEASON))
        for part in ("data", "counts", "descriptions", "hitters"):
            assert_same(getattr(found, part), getattr(expected, part))
        assert (found.notes, found.strata) == (expected.notes, expected.strata)


@pytest.mark.parametrize("engine", ENGINES)
def test_every_engine_compares_the_same_pitches(engine: str) -> None:
    check_answers(ENGINES[engine], list(QUESTIONS))


def check_readiness(engine: Callable[[pd.DataFrame], Any], measures: list[Any]) -> None:
    table = engine(SEASON)
    for measure in measures:
        found, expected = (fastball_readiness(one, measure=measure) for one in (table, SEASON))
        for part in ("data", "parts"):
            assert_same(getattr(found, part), getattr(expected, part))
        for name in ("measure", "rate", "spread", "left_out", "direction_told", "notes"):
            assert getattr(found, name) == getattr(expected, name), name


@pytest.mark.parametrize("engine", ENGINES)
def test_every_engine_finds_the_same_hitters_ready(engine: str) -> None:
    check_readiness(ENGINES[engine], [None, "touched"])


def test_readiness_brings_home_counts_and_the_tries_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a hitter and a part of the zone come to is counted where the pitches are."""
    import narwhals as nw

    rows = []
    collect = nw.LazyFrame.collect

    def noted(self: Any, *args: Any, **kwargs: Any) -> Any:
        found = collect(self, *args, **kwargs)
        rows.append((len(found), tuple(found.columns)))
        return found

    monkeypatch.setattr(nw.LazyFrame, "collect", noted)
    many = pd.concat([SEASON] * 4, ignore_index=True)
    found = fastball_readiness(ENGINES["duckdb"](many), measure="not_late")
    tries = int(found.data["tries"].sum())
    assert max(number for number, _ in rows) == tries
    counted = next(number for number, columns in rows if "part" in columns)
    assert counted < tries


@pytest.mark.slow
@pytest.mark.parametrize("engine", ["duckdb", "dask"])
def test_a_claim_is_the_same_on_every_engine(engine: str) -> None:
    known = SEASON.dropna(subset=["outcome"]).reset_index(drop=True)
    found, expected = (check_response(one) for one in (ENGINES[engine](known), known))
    assert (found.say_in_full, found.chance) == (expected.say_in_full, expected.chance)
    assert (found.numbers, found.notes) == (expected.numbers, expected.notes)


@pytest.fixture
def as_spark(request: Any) -> Callable[[pd.DataFrame], Any]:
    session = request.getfixturevalue("spark")
    return lambda frame: session.createDataFrame(as_arrow(frame))


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_spark_tells_the_same_order_and_compares_the_same_pitches(as_spark: Any) -> None:
    check_all(as_spark)
    check_answers(as_spark, ["all", "by hand, against fouls"])
    check_readiness(as_spark, [None])


@pytest.mark.parametrize("engine", ["polars lazy", "duckdb", "dask"])
def test_what_is_lazy_stays_so(engine: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is asked of the engine before somebody asks."""
    table = ENGINES[engine](SEASON)

    def never(*_: Any, **__: Any) -> None:
        raise AssertionError("collected")

    import narwhals as nw

    monkeypatch.setattr(nw.LazyFrame, "collect", never)
    if engine == "dask":
        monkeypatch.setattr(type(table), "compute", never)
    with_previous(table)
    rebuild_count(table)


@pytest.mark.parametrize("engine", ["polars lazy", "duckdb", "dask"])
def test_errors_are_those_of_a_frame_in_memory(engine: str) -> None:
    of = ENGINES[engine]
    with pytest.raises(MissingColumnsError, match="no plate_appearance"):
        with_previous(of(SEASON.drop(columns="plate_appearance")))
    with pytest.raises(MissingColumnsError, match="no outcome"):
        sequence_faults(of(SEASON.drop(columns="outcome")))
    with pytest.raises(CountsError, match="previous_outcome"):
        with_previous(of(SEASON.assign(previous_outcome="x")))
    with pytest.raises(MissingColumnsError, match="hitter"):
        after_whiff(of(SEASON.drop(columns=["hitter", "hitter_id"])))
    with pytest.raises(ClaimError, match="no pitch here follows"):
        after_whiff(of(SEASON[SEASON["pitch"] == 1]))
    with pytest.raises(ReadingError, match="no column outcome"):
        rebuild_count(of(SEASON.drop(columns="outcome")))


def test_names_of_ones_own_columns_are_kept() -> None:
    """What the rules look at has names of its own, which may be somebody's."""
    own = SEASON.assign(judged="mine", bunted=7)
    told = with_previous(ENGINES["duckdb"](own))
    assert in_rows(told, ["judged", "bunted", *NEW]) == in_rows(
        with_previous(own), ["judged", "bunted", *NEW]
    )
    assert told.columns == [*own.columns, *NEW]


def test_patterns_are_searched_in_memory_only() -> None:
    with pytest.raises(ReadingError, match=r"\.compute\(\)"):
        find_sequences(ENGINES["dask"](SEASON), after(whiff()).then(any_pitch()))


def test_pitches_of_nobody_are_compared_with_none() -> None:
    """A hitter who is not written down has no stratum, no day and no name."""
    nobody = SEASON["hitter"].isna()
    assert nobody.any()
    known, all_of_them = after_whiff(SEASON[~nobody].reset_index(drop=True)), after_whiff(SEASON)
    assert_same(all_of_them.counts, known.counts)
    assert all_of_them.hitters["hitter"].notna().all()


KEYS = st.tuples(
    st.sampled_from(["g1", "g2", None]), st.sampled_from([1, 2, None]), st.sampled_from([1, 2, 3, 4, 5])
)
PITCH = st.tuples(
    KEYS,
    st.sampled_from([*OUTCOMES, "whiff", "foul", "foul", "ball", None]),
    st.sampled_from(["ann", "ann", "ann", "bea", None]),
    st.sampled_from([True, False, False, None]),
    st.sampled_from([0, 0, 1, 2, None]),
)


def table_of(rows: list[Any], told: bool) -> pd.DataFrame:
    frame = pd.DataFrame(
        [(*key, *rest, place) for place, (key, *rest) in enumerate(rows)],
        columns=[*KEY, "outcome", "hitter", "bunt", "strikes", "row"],
    ).astype({"game": "string", "plate_appearance": "Int64", "pitch": "Int64", "outcome": "string"})
    frame = frame.astype({"hitter": "string", "bunt": "boolean", "strikes": "Int64"})
    return frame if told else frame.drop(columns="strikes")


def in_turn(lengths: list[int], rows: list[Any]) -> list[Any]:
    """Number pitches as they are in plate appearances of some lengths: few random numbers are in order."""
    keys = [("g1", one, pitch) for one, length in enumerate(lengths, 1) for pitch in range(1, length + 1)]
    return [(key, *rest) for key, (_, *rest) in zip(keys, rows, strict=False)]


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(
    st.lists(PITCH, min_size=1, max_size=24),
    st.lists(st.integers(1, 7), min_size=1, max_size=4),
    st.booleans(),
    st.booleans(),
    st.randoms(use_true_random=False),
)
def test_any_table_has_one_order_lazily_and_in_memory(
    rows: list[Any], lengths: list[int], whole: bool, told: bool, random: Any
) -> None:
    rows = in_turn(lengths, rows) if whole else rows
    random.shuffle(rows)
    frame = table_of(rows, told)
    if frame[KEY].notna().all(axis=1).sum() == 0:
        return
    expected = with_previous(frame)
    new = [name for name in expected if name not in frame]
    for engine in ("duckdb", "polars lazy"):
        table = ENGINES[engine](frame)
        assert in_rows(with_previous(table), new) == in_rows(expected, new)
        assert_same(sequence_faults(table), sequence_faults(frame))
        assert in_rows(rebuild_count(table), ["balls", "strikes"]) == in_rows(
            rebuild_count(frame), ["balls", "strikes"]
        )


@pytest.mark.parametrize("column", ["pitch", "balls", "strikes", "bunt"])
@pytest.mark.parametrize("engine", ["pandas, other rows", "polars", "polars lazy", "pyarrow", "dask"])
def test_texts_in_place_of_numbers_are_refused(engine: str, column: str) -> None:
    spoiled = ENGINES[engine](SEASON.assign(**{column: "x" + SEASON[column].astype(str)}))
    for ask in (with_previous, sequence_faults, after_whiff):
        with pytest.raises(ReadingError, match=f"column {column} holds texts, such as 'x"):
            home(ask(spoiled))


def test_what_a_whiff_is_compared_by_is_listed_as_it_comes_home() -> None:
    """On an engine the compared pitches are most of what comes, and on Dask all that comes."""
    for engine in ("polars lazy", "duckdb", "dask"):
        table = ENGINES[engine](SEASON)
        with brought_home() as tables:
            found = after_whiff(table, responses=["swing"])
        compared = int(found.counts[["whiff_pitches", "other_pitches"]].to_numpy().sum())
        assert compared <= max(one.rows for one in tables) < len(SEASON) / 2, engine
        with brought_home() as tables:
            faults = sequence_faults(table)
        assert max(one.rows for one in tables) >= len(faults) - 1, engine


def test_an_engine_that_fails_on_the_way_is_an_error_that_says_so() -> None:
    def broken(number: int) -> pd.DataFrame:
        raise OSError(f"disk of part {number} is gone")

    spread = package("dask.dataframe").from_map(broken, [0, 1], meta=SEASON.head(0))
    for ask in (sequence_faults, after_whiff):
        with pytest.raises(ReadingError, match=r"nothing of it was: OSError: disk of part . is gone"):
            ask(spread)
    spoiled = SEASON.assign(balls="x" + SEASON["balls"].astype(str))
    for ask in (sequence_faults, after_whiff):
        with pytest.raises(ReadingError, match=r"cannot be read through: .* string 'x"):
            ask(ENGINES["duckdb"](spoiled))


def test_a_frame_that_comes_home_is_never_the_callers_own() -> None:
    """Its text is put into one kind in a frame of its own, not into the caller's."""
    whole = pd.DataFrame(
        {
            "hitter": pd.array(["Ilse Garnfield", None, "Hugo Mizubane"], dtype="string"),
            "club": pd.Series(["Otters", pd.NA, "Larks"], dtype=object),
            "pitch": [1, 2, 3],
        }
    )
    part = whole[whole["pitch"] < 3]
    before = whole.copy()
    for own in (whole, part):
        home = collected(nw.from_native(own))
        assert home["hitter"].dtype == pd.Series(["text"]).dtype
        assert home["hitter"].isna().tolist() == own["hitter"].isna().tolist()
    pd.testing.assert_frame_equal(whole, before)
    pd.testing.assert_frame_equal(part, before[before["pitch"] < 3])
