"""One table on every engine: the same counts, to the last one."""

from __future__ import annotations

import threading
import warnings
from typing import Any

import narwhals as nw
import numpy as np
import pandas as pd
import pyarrow as pa
import pytest

from hitlab import tally
from hitlab.counting.facts import Conventions
from hitlab.errors import HitlabWarning
from hitlab.pitches.connecting import own_connection
from hitlab.pitches.schema import OUTCOMES, RESULTS
from tests.needs import needs_java, package

ROWS = 1_500


def invented_pitches() -> dict[str, list[Any]]:
    """Every word and a missing value in every column that may have one; NaN among the speeds."""
    rng = np.random.default_rng(20)

    def some(values: list[Any], share_missing: float = 0.15) -> list[Any]:
        picked = [values[k] for k in rng.integers(0, len(values), ROWS)]
        return [
            None if gone else value
            for value, gone in zip(picked, rng.random(ROWS) < share_missing, strict=True)
        ]

    speeds = [float(v) for v in np.round(rng.normal(90, 12, 60), 1)]
    return {
        "hitter": some(["Ada Fruskill", "Bo Quirl", "Cyd <b>Lorv</b>", "Émile Zed"]),
        "club": some(["North", "South"]),
        "outcome": some(list(OUTCOMES), 0.0),
        "strikes": some([0, 1, 2]),
        "bunt": some([True, False, False, False]),
        "check_swing": some([True, False, False]),
        "exit_mph": some([*speeds, float("nan"), 95.0, float("nan")], 0.3),
        "hard": some([True, False], 0.6),
        "hard_source": some(["eye", "radar"], 0.5),
        "result": some(list(RESULTS), 0.7),
    }


PITCHES = invented_pitches()
ARROW = pa.table(PITCHES)  # a null stays a null and NaN stays NaN


def as_pandas() -> Any:
    return pd.DataFrame(
        {
            name: pd.array(values, dtype="boolean") if name in ("bunt", "check_swing", "hard") else values
            for name, values in PITCHES.items()
        }
    )


def as_pandas_objects() -> Any:
    """Return pandas as it comes from plain Python: flags with None in object columns."""
    return pd.DataFrame(PITCHES)


def as_polars() -> Any:
    return package("polars").DataFrame(PITCHES, strict=False)


def as_polars_lazy() -> Any:
    return as_polars().lazy()


def as_arrow() -> Any:
    return ARROW


def as_duckdb() -> Any:
    return own_connection().from_arrow(ARROW)


def as_dask() -> Any:
    return package("dask.dataframe").from_pandas(as_pandas(), npartitions=3)


HARD_AT_92 = Conventions(hard_mph=92.0)
QUESTIONS: dict[str, dict[str, Any]] = {
    "by hitter": {},
    "by hitter and club": {"by": ["hitter", "club"]},
    "by a whole number": {"by": "strikes"},
    "a threshold, tips as contact, hard fouls": {
        "conventions": Conventions(hard_mph=92.0, foul_tip="contact", hard_fouls=True)
    },
    "where": {"where": nw.col("strikes") == 2, "by": "club"},
    "own events": {
        "events": {
            "first_pitch_swings": (nw.col("strikes") == 0) & nw.col("outcome").is_in(["whiff", "foul"]),
            "flagged": nw.col("hard"),
        },
        "where": nw.col("club") == "North",
    },
}


def answers(pitches: Any) -> dict[str, pd.DataFrame]:
    with pytest.warns(HitlabWarning, match="by eye"):
        return {name: tally(pitches, **question).table() for name, question in QUESTIONS.items()}


@pytest.fixture(scope="module")
def expected() -> dict[str, pd.DataFrame]:
    return answers(as_arrow())


def assert_equal(found: dict[str, pd.DataFrame], expected: dict[str, pd.DataFrame]) -> None:
    for name, table in expected.items():
        pd.testing.assert_frame_equal(one_missing(found[name]), one_missing(table), obj=name)


def one_missing(table: pd.DataFrame) -> pd.DataFrame:
    """Write a missing word in one way: before pandas 3 it is None or NaN, as the engine has it."""
    words = table.select_dtypes(exclude="number")
    return table.assign(**{name: words[name].where(words[name].notna(), None) for name in words})


@pytest.mark.slow
@pytest.mark.parametrize(
    "engine",
    [as_pandas, as_pandas_objects, as_polars, as_polars_lazy, as_duckdb, as_dask],
)
def test_every_engine_gives_the_same_counts(engine: Any, expected: dict[str, pd.DataFrame]) -> None:
    assert_equal(answers(engine()), expected)


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_spark_gives_the_same_counts(request: Any, expected: dict[str, pd.DataFrame]) -> None:
    session = request.getfixturevalue("spark")
    fields = {"strikes": "long", "exit_mph": "double", "bunt": "boolean", "check_swing": "boolean"}
    schema = ", ".join(f"{name} {fields.get(name, 'string')}" for name in PITCHES if name != "hard")
    schema = schema.replace("hard_source string", "hard boolean, hard_source string")
    rows = list(zip(*PITCHES.values(), strict=True))
    assert_equal(answers(session.createDataFrame(rows, schema)), expected)


@pytest.mark.slow
def test_the_reference_is_right_by_plain_counting(expected: dict[str, pd.DataFrame]) -> None:
    """Counts from a Python loop, so that the engines are not merely wrong together."""
    rows = [dict(zip(PITCHES, values, strict=True)) for values in zip(*PITCHES.values(), strict=True)]
    swing_words = {"whiff", "foul", "foul tip", "in play"}
    table = expected["by hitter"].set_index("hitter")
    assert table.index.isna().sum() == 1  # pitches of an unknown hitter stay a group of their own
    for hitter, counts in table.iterrows():
        own = [row for row in rows if row["hitter"] == (None if pd.isna(hitter) else hitter)]
        swings = [row for row in own if row["outcome"] in swing_words and row["bunt"] is not True]
        in_play = [row for row in swings if row["outcome"] == "in play"]
        hard = 0
        for row in in_play:
            speed = row["exit_mph"]
            fast = speed is not None and speed >= 95  # False for NaN
            hard += row["hard"] is True or (row["hard"] is None and fast)
        assert counts["swings"] == len(swings)
        assert counts["in_play"] == len(in_play)
        assert counts["hard"] == hard
        assert counts["two_strike_swings"] == sum(row["strikes"] == 2 for row in swings)
        assert counts["plate_appearances"] == sum(row["result"] is not None for row in own)


def test_counts_are_int64_in_order_of_the_keys(expected: dict[str, pd.DataFrame]) -> None:
    table = expected["by hitter and club"]
    counts = table.drop(columns=["hitter", "club"])
    assert set(counts.dtypes) == {np.dtype(np.int64)}
    assert len(table) == 15  # five hitters (one of them unknown) by three clubs (one of them unknown)
    known = table["hitter"].dropna().tolist()
    assert known == sorted(known)
    assert table["hitter"].iloc[-3:].isna().all()


@pytest.mark.parametrize("nothing", [None, float("nan")], ids=["no kind", "numbers"])
@pytest.mark.parametrize("engine", ["pandas", "arrow", "polars lazy", "duckdb", "dask"])
def test_plate_appearances_of_which_no_result_is_written_down_are_none(engine: str, nothing: Any) -> None:
    """An empty column has no kind of its own, or that of numbers, and is compared with words."""
    pitches = as_pandas().drop(columns=["exit_mph", "hard", "hard_source"])
    pitches["result"] = pd.Series([nothing] * len(pitches), dtype=object if nothing is None else float)
    table: Any = pa.Table.from_pandas(pitches, preserve_index=False)
    if engine == "pandas":
        table = pitches
    elif engine == "polars lazy":
        table = package("polars").from_arrow(table).lazy()
    elif engine == "duckdb":
        table = own_connection().from_arrow(table)
    elif engine == "dask":
        table = package("dask.dataframe").from_pandas(pitches, npartitions=3)
    counts = tally(table)
    without = tally(as_pandas().drop(columns=["exit_mph", "hard", "hard_source", "result"]))
    assert counts.column("swings").tolist() == without.column("swings").tolist()
    assert counts.column("plate_appearances").sum() == 0


@pytest.mark.parametrize("spread", [False, True])
def test_a_table_without_rows_is_counted_on_every_engine(spread: bool) -> None:
    pitches = as_pandas().iloc[:0]
    table = package("dask.dataframe").from_pandas(pitches, npartitions=1) if spread else pitches
    assert tally(table).table().empty


def test_what_is_silenced_in_threads_of_an_engine_is_not_silenced_afterwards():
    """Two partitions silence warnings for a moment, and the one that began last ends last."""
    one, two, done = threading.Event(), threading.Event(), threading.Event()

    def read(number: int) -> pd.DataFrame:
        if number:
            one.wait(20)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            (two if number else one).set()
            (done if number else two).wait(20)
        done.set()
        return pd.DataFrame({"hitter": ["h1"], "outcome": ["whiff"]})

    meta = pd.DataFrame({"hitter": ["h1"], "outcome": ["whiff"]}).iloc[:0]
    dask = package("dask")
    parts = [dask.delayed(read, pure=False)(number) for number in (0, 1)]
    table = package("dask.dataframe").from_delayed(parts, meta=meta)
    before = list(warnings.filters)
    with package("dask.config").set(scheduler="threads", num_workers=2):
        counted = tally(table).data
    assert counted["whiffs"].tolist() == [2]
    assert warnings.filters == before
