"""A table spread over processes is counted as one in memory, or not at all: never a count too short."""

from __future__ import annotations

import os
import re
import signal
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pytest
from pyarrow import parquet

from hitlab import (
    all_splits,
    check_above,
    check_ahead,
    check_hot,
    check_leads,
    check_more,
    check_near,
    check_response,
    check_split,
    check_steady,
    check_together,
    check_top,
    cut_list,
    tally,
)
from hitlab.approach import (
    after,
    after_whiff,
    fastball_readiness,
    find_sequences,
    sequence_faults,
    swing,
    whiff,
)
from hitlab.charting import compare_charters, eye_against_radar
from hitlab.counting import brought_home, hard_threshold, situation, swing_ledger
from hitlab.errors import ReadingError
from hitlab.league import charted_by, make_season
from hitlab.pitches import contradictions
from hitlab.plots import plate_appearance_strip
from hitlab.splits import situation_counts
from hitlab.two_rates import RateOf
from tests.needs import needs_java, package

PAGE = Path(__file__).parents[1] / "notebooks" / "from_a_laptop_to_a_cluster.md"
PARTS = 4
ASKED = {"breaking": "pitch_kind=breaking", "late": ("strikes=2", "balls=3"), "up and in": "up and in"}
SITUATION_EVENTS = ("hard", "whiffs", "swings")


@pytest.fixture(scope="module")
def season() -> pd.DataFrame:
    return make_season(hitters=40, clubs=4, pitches=8_000, seed=31).pitches


@pytest.fixture(scope="module")
def folder(season: pd.DataFrame, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Parquet parts, each with whole games."""
    path = tmp_path_factory.mktemp("parts")
    part = pd.factorize(season["game"])[0] * PARTS // season["game"].nunique()
    for number in range(PARTS):
        table = pa.Table.from_pandas(season[part == number], preserve_index=False)
        parquet.write_table(table, path / f"part_{number}.parquet", coerce_timestamps="us")
    return path


def start_cluster() -> Any:
    """Two processes of one thread, without a page of its own."""
    return package("distributed").LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0", host="127.0.0.1"
    )


@pytest.fixture(scope="module")
def client() -> Iterator[Any]:
    with start_cluster() as cluster, package("distributed").Client(cluster) as found:
        yield found


@pytest.fixture
def on_cluster(client: Any, folder: Path) -> Any:
    table = package("dask.dataframe").read_parquet(folder)
    assert table.npartitions == PARTS
    return table


def same_counts(there: pd.DataFrame, here: pd.DataFrame) -> None:
    pd.testing.assert_frame_equal(there, here, check_dtype=False)


CLAIMS: dict[str, Callable[[Any, str, str], Any]] = {
    "leads": lambda table, one, _: check_leads(table, one),
    "top": lambda table, one, _: check_top(table, one, top=5),
    "above": lambda table, one, _: check_above(table, one, 0.16, when="pitch_kind=breaking"),
    "near": lambda table, one, _: check_near(table, one, 0.2),
    "ahead": check_ahead,
    "split": lambda table, one, _: check_split(table, one, when="pitch_kind=breaking"),
    "hot": lambda table, one, _: check_hot(table, one, stretch=4),
    "more": lambda table, one, _: check_more(table, one, since="2031-04-11"),
    "steady": lambda table, one, _: check_steady(table, one, stretch=4),
    "together": lambda table, _, __: check_together(
        table, RateOf("whiffs", "swings"), RateOf("in_play", "contact")
    ),
}


@pytest.mark.slow
def test_two_processes_count_what_one_counts_in_memory(on_cluster: Any, season: pd.DataFrame) -> None:
    for by in ("hitter", ["hitter", "date"]):
        same_counts(tally(on_cluster, by).table(), tally(season, by).table())
    own = {"first_swings": "swings at balls=0 strikes=0"}
    same_counts(tally(on_cluster, events=own).table(), tally(season, events=own).table())
    assert hard_threshold(on_cluster, 0.35) == hard_threshold(season, 0.35)


@pytest.mark.slow
def test_two_processes_count_situations_as_in_memory(on_cluster: Any, season: pd.DataFrame) -> None:
    there, here = (situation_counts(table, ASKED, SITUATION_EVENTS) for table in (on_cluster, season))
    same_counts(there, here)
    assert there.groupby("situation")["swings"].sum().min() > 50
    asked = list(ASKED.values())
    there, here = (all_splits(table, asked, "whiffs", "swings").table() for table in (on_cluster, season))
    same_counts(there, here)


@pytest.mark.slow
@pytest.mark.parametrize("kind", CLAIMS)
def test_a_claim_has_one_answer_on_two_processes_and_in_memory(
    kind: str, on_cluster: Any, season: pd.DataFrame
) -> None:
    one, other = season["hitter_id"].value_counts().index[:2]
    there, here = (CLAIMS[kind](table, one, other) for table in (on_cluster, season))
    assert (there.verdict, there.chance) == (here.verdict, here.chance)
    assert str(there) == str(here)


@pytest.mark.slow
def test_what_follows_what_is_told_by_two_processes_as_in_memory(client: Any, season: pd.DataFrame) -> None:
    """Each 97th pitch is lost, and no game stands in one partition alone."""
    gaps = season.drop(index=season.index[5::97])
    dealt = gaps.assign(part=range(len(gaps))).sort_values(
        "part", key=lambda part: part % PARTS, kind="stable"
    )
    spread = package("dask.dataframe").from_pandas(
        dealt.drop(columns="part").reset_index(drop=True), npartitions=PARTS
    )
    faults = sequence_faults(spread)
    assert len(faults) > 50
    same_counts(faults, sequence_faults(gaps))
    assert str(after_whiff(spread)) == str(after_whiff(gaps))
    assert str(fastball_readiness(spread)) == str(fastball_readiness(gaps))
    one = season["hitter_id"].value_counts().index[0]
    there, here = (check_response(table, one, response="whiff") for table in (spread, gaps))
    assert (there.chance, str(there)) == (here.chance, str(here))


@pytest.mark.slow
def test_what_comes_home_does_not_grow_with_the_pitches(client: Any, folder: Path) -> None:
    """Twice the same parts are twice the counts, and not one row more comes home."""
    dask = package("dask.dataframe")
    parts = sorted(folder.iterdir())
    with brought_home() as of_one:
        once = tally(dask.read_parquet(parts))
    with brought_home() as of_two:
        twice = tally(dask.read_parquet([*parts, *parts]))
    assert twice.column("pitches").sum() == 2 * once.column("pitches").sum()
    assert [table.rows for table in of_one] == [table.rows for table in of_two]
    assert max(table.rows for table in of_one) < once.column("pitches").sum() / 5


BY_GAMES = [["hitter", "game", "pitcher"], ["game", "pitcher"], ["hitter", "date"]]


@pytest.mark.parametrize("by", BY_GAMES)
def test_by_games_and_pitchers_a_row_a_group_comes_home(by: list[str], season: pd.DataFrame) -> None:
    """And not a row a group and fact, which are a good part of all pitches."""
    gaps = season.assign(game=season["game"].where(season.index % 50 != 7))
    table = package("dask.dataframe").from_pandas(gaps, npartitions=3)
    with brought_home() as tables:
        there = tally(table, by)
    here = tally(gaps, by)
    same_counts(there.table(), here.table())
    assert len(here.data) in [one.rows for one in tables]
    assert max(one.rows for one in tables) <= max(len(here.data), len(season) / 5)


@pytest.mark.slow
@pytest.mark.parametrize("moment", [0.0, 0.1, 0.3, 0.6, 1.0])
def test_a_process_that_is_killed_makes_no_count_too_short(
    moment: float, folder: Path, season: pd.DataFrame
) -> None:
    """Kill one of two processes while they count: the counts are whole, or an error tells."""

    def slowly(path: Path) -> pd.DataFrame:
        time.sleep(0.2)
        return pd.read_parquet(path)

    dask, distributed = package("dask.dataframe"), package("distributed")
    parts = sorted(folder.iterdir())
    meta = pd.read_parquet(parts[0]).head(0)
    killed = []
    with start_cluster() as cluster, distributed.Client(cluster):
        table = dask.from_map(slowly, parts, meta=meta)

        def kill() -> None:
            number = next(iter(cluster.workers.values())).pid
            os.kill(number, signal.SIGKILL)
            killed.append(number)

        timer = threading.Timer(moment, kill)
        timer.start()
        try:
            found, said = tally(table).table(), ""
        except ReadingError as error:
            found, said = None, str(error)
        timer.join()
    if found is None:
        assert "nothing of it was" in said
    else:
        same_counts(found, tally(season).table())
    assert killed


@pytest.mark.slow
def test_a_partition_that_raises_is_an_error_that_says_so(client: Any, folder: Path) -> None:
    def broken(path: Path) -> pd.DataFrame:
        if path.stem == "part_2":
            raise OSError("disk of part_2 is gone")
        return pd.read_parquet(path)

    parts = sorted(folder.iterdir())
    table = package("dask.dataframe").from_map(broken, parts, meta=pd.read_parquet(parts[0]).head(0))
    with pytest.raises(ReadingError, match=r"nothing of it was: OSError: disk of part_2 is gone"):
        tally(table)
    with pytest.raises(ReadingError, match=r"nothing of it was: OSError: disk of part_2 is gone"):
        situation_counts(table, ASKED, SITUATION_EVENTS)


@pytest.mark.parametrize("share", [0.02, 0.35, 0.5, 0.9])
def test_a_threshold_from_speeds_that_come_once_is_the_quantile_of_all(share: float) -> None:
    speeds = np.round(np.random.default_rng(8).normal(88, 12, 997).clip(20, 120))
    struck = pd.DataFrame({"outcome": "in play", "exit_mph": speeds})
    table = package("dask.dataframe").from_pandas(struck, npartitions=3)
    with brought_home() as tables:
        found = hard_threshold(table, share, trust=True)
    assert found == np.quantile(speeds, 1 - share)
    assert [one.rows for one in tables] == [len(np.unique(speeds))]


def uneven(season: pd.DataFrame, change: Callable[[pd.DataFrame], pd.DataFrame]) -> Any:
    """Return a Dask frame of two partitions, the second one changed."""
    half = len(season) // 2
    parts = [season[:half], change(season[half:])]
    return package("dask.dataframe").from_map(
        lambda number: parts[number], [0, 1], meta=season.head(0), enforce_metadata=False
    )


RIGHT: dict[str, Callable[[pd.DataFrame], pd.DataFrame]] = {
    "other order": lambda part: part[part.columns[::-1]],
    "strikes with a point": lambda part: part.assign(strikes=part["strikes"].astype(float)),
    "flags as numbers": lambda part: part.assign(bunt=part["bunt"].astype(int)),
    "categories": lambda part: part.astype({"hitter": "category", "outcome": "category"}),
}


@pytest.mark.slow
@pytest.mark.parametrize("change", RIGHT)
def test_partitions_of_other_orders_and_types_are_counted_right(change: str, season: pd.DataFrame) -> None:
    same_counts(tally(uneven(season, RIGHT[change])).table(), tally(season).table())


@pytest.mark.parametrize("column", ["strikes", "exit_mph", "bunt", "check_swing"])
def test_texts_in_place_of_numbers_are_refused_wherever_they_stand(column: str, season: pd.DataFrame) -> None:
    """A text "2" equals no 2: the pitch would be in no count of two strikes, and nothing would say so."""
    spoiled = season.assign(**{column: season[column].astype(str)})
    with pytest.raises(ReadingError, match=rf"column {column} holds texts, such as"):
        tally(spoiled)
    with pytest.raises(ReadingError, match=rf"column {column} holds texts, such as"):
        swing_ledger(spoiled)
    with pytest.raises(ReadingError, match=rf"column {column} holds texts, such as"):
        tally(pa.Table.from_pandas(spoiled))
    part = uneven(season, lambda part: part.assign(**{column: part[column].astype(str)}))
    with pytest.raises(ReadingError, match=rf"column {column} holds texts in 1 of 2 partitions, such as"):
        tally(part)


@pytest.mark.parametrize("more", [{}, {"where": "strikes=2"}])
def test_a_tally_reads_no_partition_twice(more: dict[str, Any], season: pd.DataFrame) -> None:
    read = []

    def part(number: int) -> pd.DataFrame:
        read.append(number)
        return season[number * 2_000 : (number + 1) * 2_000]

    table = package("dask.dataframe").from_map(part, [0, 1, 2], meta=season.head(0))
    with package("dask").config.set(scheduler="synchronous"):
        found = tally(table, **more)
    assert sorted(read) == [0, 1, 2]
    same_counts(found.table(), tally(season[:6_000], **more).table())


def test_what_only_a_situation_compares_is_looked_at_as_well(season: pd.DataFrame) -> None:
    spoiled = season.assign(balls=season["balls"].astype(str))
    assert tally(spoiled).column("pitches").sum() == tally(season).column("pitches").sum()
    for ask in (
        lambda table: tally(table, where="balls=3"),
        lambda table: tally(table, events={"full": "swings at balls=3 strikes=2"}),
        lambda table: situation_counts(table, ["balls=3"], ["swings"]),
    ):
        with pytest.raises(ReadingError, match="column balls holds texts"):
            ask(spoiled)
        with pytest.raises(ReadingError, match="column balls holds texts in 1 of 2 partitions"):
            ask(uneven(season, lambda part: part.assign(balls=part["balls"].astype(str))))


@pytest.mark.parametrize(
    ("what", "ask"),
    [
        ("a cut list", lambda table: cut_list(table, situation("strikes=2"))),
        ("a comparison of two charters", lambda table: compare_charters(table, table)),
        ("an eye held against the radar", eye_against_radar),
        ("a search for contradictions", contradictions),
        ("a search for patterns", lambda table: find_sequences(table, after(whiff()).then(swing()))),
        ("a charter", lambda table: charted_by(table, 5)),
        ("a picture of a plate appearance", lambda table: plate_appearance_strip(table, "game-0001", 1)),
    ],
)
def test_what_looks_at_single_pitches_says_how_to_bring_them_home(
    what: str, ask: Callable[[Any], Any], season: pd.DataFrame
) -> None:
    table = package("dask.dataframe").from_pandas(season, npartitions=2)
    with brought_home() as tables, pytest.raises(ReadingError, match=rf"^{what} looks at .*\.compute\(\)$"):
        ask(table)
    assert tables == []


def test_pitches_that_were_brought_home_as_dask_keeps_them_have_a_cut_list(season: pd.DataFrame) -> None:
    days = pa.Table.from_pandas(season.assign(date=season["date"].dt.date), preserve_index=False)
    chosen = situation("strikes=2")
    there, here = (
        cut_list(pitches, chosen, most=20).table()[["side", "game", "plate_appearance", "pitch"]]
        for pitches in (days.to_pandas(types_mapper=pd.ArrowDtype), season)
    )
    same_counts(there.astype(str), here.astype(str))


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_spark_counts_and_answers_as_in_memory(request: Any, folder: Path, season: pd.DataFrame) -> None:
    table = request.getfixturevalue("spark").read.parquet(str(folder))
    same_counts(tally(table).table(), tally(season).table())
    there, here = (situation_counts(pitches, ASKED, SITUATION_EVENTS) for pitches in (table, season))
    same_counts(there, here)
    for by in BY_GAMES:
        with brought_home() as tables:
            counts = tally(table, by)
        same_counts(counts.table(), tally(season, by).table())
        assert max(one.rows for one in tables) <= max(len(counts.data), len(season) / 5)
    one, other = season["hitter_id"].value_counts().index[:2]
    for kind in ("leads", "above", "split", "more"):
        there, here = (CLAIMS[kind](pitches, one, other) for pitches in (table, season))
        assert (there.chance, str(there)) == (here.chance, str(here))
    with pytest.raises(ReadingError, match=r"^a cut list looks at .*\.toPandas\(\)$"):
        cut_list(table, situation("strikes=2"))


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_a_part_that_spark_cannot_read_is_an_error_that_says_so(
    request: Any, folder: Path, tmp_path: Path
) -> None:
    for part in sorted(folder.iterdir()):
        (tmp_path / part.name).write_bytes(part.read_bytes())
    table = request.getfixturevalue("spark").read.parquet(str(tmp_path))
    broken = tmp_path / "part_2.parquet"
    broken.write_bytes(broken.read_bytes()[:2_000])
    with pytest.raises(ReadingError, match="the pyspark table could not be counted, and nothing of it was"):
        tally(table)


def blocks(kind: str) -> list[str]:
    """Return the page's blocks of code of one kind."""
    return re.findall(rf"^```{kind}\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.S | re.M)


@pytest.mark.slow
def test_the_page_runs_as_it_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    package("distributed")
    monkeypatch.chdir(tmp_path)
    names: dict[str, Any] = {}
    code = blocks("python")
    assert len(code) == 7
    for block in code:
        exec(block, names)
    told = capsys.readouterr().out
    assert "2030 is the history of 2031" in told
    assert "a cut list looks at single pitches" in told
    assert "20 pitches to look at" in told
    home = {name: float(size) for name, size in re.findall(r"^(.+): [\d,]+ rows, ([\d.]+) MB$", told, re.M)}
    assert list(home) == ["tally", "tally by hitter and day", "situation_counts", "check_leads"]
    assert home["tally"] <= home["situation_counts"] < home["tally by hitter and day"]
    assert home["tally"] < home["check_leads"]


@pytest.mark.java
@pytest.mark.slow
@needs_java
def test_the_page_runs_on_spark(request: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    request.getfixturevalue("spark")
    monkeypatch.chdir(tmp_path)
    names: dict[str, Any] = {}
    for block in (*blocks("python")[:3], *blocks("python spark")):
        exec(block, names)
    assert names["by_spark"].table()["swings"].sum() > 0


def test_what_the_page_says_of_parts_is_worked_out_right() -> None:
    """The plan's figures follow from the measured ones that stand beside them."""
    text = PAGE.read_text(encoding="utf-8")
    seconds, pitches, rows = 2.88, 2_800_688, 10_000_000_000
    processors = seconds / pitches * rows
    for told in (
        f"{round(processors, -2):,.0f} seconds",
        f"{17.3 * 14_300 / 1000:,.0f} GB",
        f"{10_300 / 64:.0f} seconds",
        f"{2_594_774 / 300:,.0f} bytes a hitter",
        f"{2_594_774 / 300 * 100_000 / 1e6:,.0f} MB for 100,000",
        f"{2_594_774 / 14_631:.0f} bytes",
        f"{20_595_098 / 698_841 * rows / 1e9:.0f} GB",
    ):
        assert told in text
