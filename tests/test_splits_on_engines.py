"""Splits on every engine: the same counts in every situation, to the last one, and the same answers."""

from __future__ import annotations

from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyarrow import parquet

from hitlab import all_splits, check_split, tally
from hitlab.approach import with_previous
from hitlab.counting import brought_home
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.league import make_season
from hitlab.pitches.connecting import own_connection
from hitlab.splits import situation_counts
from tests.needs import needs_java, package

EVENTS = ("hard", "unmeasured", "in_play", "whiffs", "swings", "hits")
ASKED: dict[str, Any] = {
    "breaking": "pitch_kind=breaking",
    "late": ("strikes=2", "balls=3"),
    "up and in": "up and in",
    "own side": nw.col("hitter_side") == nw.col("pitcher_hand"),
    "after a whiff": "after a whiff",
    "in no pitch": "speed_mph>=119",
}


def _season() -> pd.DataFrame:
    """A season with gaps: kinds and speeds off the bat that are missing, and hitters without a name."""
    frame = make_season(hitters=20, clubs=2, pitches=3_000, seed=3).pitches
    rng = np.random.default_rng(4)
    for name, share in (("pitch_kind", 0.2), ("exit_mph", 0.1), ("hitter_side", 0.1), ("hitter_id", 0.02)):
        frame.loc[rng.random(len(frame)) < share, name] = None
    frame.loc[frame["hitter_id"].isna(), "hitter"] = None  # else the name stands in for the id
    return frame


SEASON = _season()
ARROW = pa.Table.from_pandas(SEASON, preserve_index=False)


def as_pandas() -> Any:
    return SEASON


def as_arrow() -> Any:
    return ARROW


def as_polars() -> Any:
    return package("polars").from_arrow(ARROW)


def as_polars_lazy() -> Any:
    return as_polars().lazy()


def as_duckdb() -> Any:
    return own_connection().from_arrow(ARROW)


def as_dask() -> Any:
    return package("dask.dataframe").from_pandas(SEASON, npartitions=4)


ENGINES = [as_pandas, as_arrow, as_polars, as_polars_lazy, as_duckdb, as_dask]


def _counted(pitches: Any) -> pd.DataFrame:
    return situation_counts(pitches, ASKED, EVENTS)


@pytest.mark.slow
def test_the_reference_is_the_tally_of_each_situation() -> None:
    found = _counted(as_arrow()).set_index(["situation", "hitter_id"])
    for name, form in ASKED.items():
        terms = " ".join(form) if isinstance(form, tuple) else form
        part = tally(with_previous(ARROW), where=terms).data.set_index("hitter_id")
        mine = found.loc[name]
        for event in EVENTS:
            told = part[event].reindex(mine.index).fillna(0)
            assert (mine[event] == told).all(), (name, event)
    assert found.loc["breaking", "whiffs"].sum() > 100
    assert found.loc["after a whiff", "swings"].sum() > 100
    assert found.loc["in no pitch", "swings"].sum() == 0


@pytest.mark.slow
@pytest.mark.parametrize("engine", ENGINES)
def test_every_engine_counts_the_same_in_every_situation(engine: Any) -> None:
    pd.testing.assert_frame_equal(_counted(engine()), _counted(as_arrow()), check_dtype=False)


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_spark_counts_the_same_in_every_situation(request: Any, tmp_path: Any) -> None:
    session = request.getfixturevalue("spark")
    parquet.write_table(ARROW, tmp_path / "season.parquet", coerce_timestamps="us")
    pitches = session.read.parquet(str(tmp_path / "season.parquet"))
    pd.testing.assert_frame_equal(_counted(pitches), _counted(as_arrow()), check_dtype=False)


@pytest.mark.slow
@pytest.mark.parametrize("engine", [as_duckdb, as_polars_lazy, as_dask])
def test_answers_on_an_engine_are_those_in_memory(engine: Any) -> None:
    asked = ["pitch_kind=breaking", "strikes=2", "up and in"]
    here, there = (all_splits(table, asked, "whiffs", "swings").table() for table in (SEASON, engine()))
    pd.testing.assert_frame_equal(here, there, check_dtype=False)
    name = SEASON["hitter"].iloc[0]
    claims = [
        check_split(table, name, when="pitch_kind=breaking", event="whiffs", per="swings")
        for table in (SEASON, engine())
    ]
    assert claims[0].chance == claims[1].chance
    restricted = [
        check_split(table, name, when="pitch_kind=breaking", event="whiffs at strikes=2", per="swings")
        for table in (SEASON, engine())
    ]
    assert restricted[0].chance == restricted[1].chance
    assert restricted[0].chance != claims[0].chance


WORDS = st.sampled_from(["whiff", "foul", "in play", "ball", "called strike"])
ROWS = st.lists(
    st.tuples(
        st.sampled_from(["Ada Frusk", "Bea Plome", "Cyd Lorv", None]),
        WORDS,
        st.sampled_from(["slider", "sinker", None]),
        st.sampled_from([0, 1, 2, None]),
    ),
    min_size=1,
    max_size=40,
)


@pytest.mark.slow
@given(ROWS)
def test_any_table_is_counted_alike_in_memory_and_on_an_engine(rows: list[tuple[Any, ...]]) -> None:
    frame = pd.DataFrame(rows, columns=["hitter", "outcome", "pitch_kind", "strikes"])
    frame = frame.assign(strikes=frame["strikes"].astype("Int64"))
    table = pa.Table.from_pandas(frame, preserve_index=False).cast(
        pa.schema(
            [
                ("hitter", pa.string()),
                ("outcome", pa.string()),
                ("pitch_kind", pa.string()),
                ("strikes", pa.int64()),
            ]
        )
    )
    asked = ["pitch_kind=slider", "strikes=2"]
    here = situation_counts(table, asked, ["whiffs", "swings"])
    there = situation_counts(own_connection().from_arrow(table), asked, ["whiffs", "swings"])
    pd.testing.assert_frame_equal(here, there, check_dtype=False)


@pytest.mark.parametrize("engine", [as_arrow, as_duckdb])
def test_what_cannot_be_counted_is_refused_alike(engine: Any) -> None:
    with pytest.raises(MissingColumnsError, match=r"'odd' asks for a column that is not there"):
        situation_counts(engine(), {"odd": nw.col("wind") == 3}, ["swings"])
    with pytest.raises(CountsError, match="counts more than once a pitch"):
        situation_counts(engine(), ["strikes=2"], ["bases"])
    with pytest.raises(MissingColumnsError, match="no_such"):
        situation_counts(engine(), ["strikes=2"], ["no_such"])


def test_only_sums_come_home_from_an_engine() -> None:
    """A row a hitter, whatever is asked, for what needs the pitch before and for what does not."""
    pitches = as_duckdb()
    with brought_home() as by_tally:
        tally(pitches)
    with brought_home() as tables:
        _counted(pitches)
    assert [one.rows for one in tables[: len(by_tally)]] == [one.rows for one in by_tally]
    hitters = SEASON["hitter_id"].nunique(dropna=False)
    assert [table.rows for table in tables[len(by_tally) :]] == 2 * [hitters]
