"""A frame that nobody read first: ids that are blank in some rows, texts as bytes."""

from __future__ import annotations

import duckdb
import numpy as np
import pandas as pd
import polars as pl
import pyarrow as pa
import pytest

import hitlab
from hitlab.errors import ReadingError
from hitlab.pitches import open_checked


def season() -> pd.DataFrame:
    """Return two months of six hitters, told by ids; of three of them no id was written."""
    rows = []
    for number, name in enumerate(("Ada Yarl", "Ben Drox", "Cy Plome", "Dot Zelm", "Eve Skarn", "Flo Narb")):
        for day in range(40):
            for swing in range(6):
                speed = 100.0 if (swing + day) % (3 + number % 3) == 0 else 80.0
                met = swing < 4
                date = pd.Timestamp("2031-04-01") + pd.Timedelta(days=day)
                kind = "slider" if swing % 2 else "sinker"
                hit = ("in play", speed, kind) if met else ("whiff", None, kind)
                rows.append((name, f"h{number}" if number < 3 else None, "Larks", f"g{day}", date, *hit))
    columns = ["hitter", "hitter_id", "club", "game", "date", "outcome", "exit_mph", "pitch_kind"]
    return pd.DataFrame(rows, columns=columns)


WAYS = {
    "pandas": lambda table: table,
    "pandas of objects": lambda table: table.assign(hitter_id=table["hitter_id"].astype(object)),
    "categories": lambda table: table.astype({"hitter_id": "category", "hitter": "category"}),
    "blank texts": lambda table: table.assign(hitter_id=table["hitter_id"].fillna(" ")),
    "polars": pl.from_pandas,
    "lazy polars": lambda table: pl.from_pandas(table).lazy(),
    "lazy polars, blank texts": lambda table: (
        pl.from_pandas(table).with_columns(pl.col("hitter_id").fill_null("")).lazy()
    ),
    "arrow": lambda table: pa.Table.from_pandas(table),
}


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("way", WAYS)
def test_where_an_id_is_blank_the_name_stands_in_as_where_a_file_is_read(way, tmp_path):
    path = tmp_path / "season.csv"
    season().to_csv(path, index=False)
    read = hitlab.read_pitches(path)
    frame = WAYS[way](season())
    counts = hitlab.tally(frame, by=["hitter", "game", "date"])
    assert "Dot Zelm, not recorded" not in counts.labels
    known, told = (hitlab.tally(table).data for table in (read, frame))
    pd.testing.assert_frame_equal(told.astype({"hitter_id": "str"}), known.astype({"hitter_id": "str"}))
    assert told["hitter_id"].tolist() == ["Dot Zelm", "Eve Skarn", "Flo Narb", "h0", "h1", "h2"]
    note = "in 720 rows the name stands for the hitter_id"
    assert note in hitlab.tally(frame).notes
    asked = {"event": "hard", "per": "in_play"}
    for check, rest in (
        (hitlab.check_above, {"value": 0.3}),
        (hitlab.check_split, {"when": "pitch_kind=slider"}),
        (hitlab.check_more, {"since": "2031-04-20"}),
        (hitlab.check_hot, {}),
    ):
        ours, theirs = (check(table, "Dot Zelm", **rest, **asked) for table in (frame, read))
        assert ours.say_in_full == theirs.say_in_full
        assert ours.numbers == theirs.numbers
    assert hitlab.check_leads(frame, **asked).numbers["compared"] == 6


def test_where_every_id_is_there_nothing_is_noted():
    table = season()
    table["hitter_id"] = table["hitter_id"].fillna(table["hitter"].str.upper())
    assert not [note for note in hitlab.tally(table).notes if "hitter_id" in note]


@pytest.mark.parametrize("way", ["pandas", "polars", "lazy polars", "arrow", "duckdb"])
def test_ids_that_are_numbers_have_no_name_stand_in_for_them(way):
    """Told where they are what is counted by; a question that does not need them is answered."""
    table = season()
    table["hitter_id"] = pd.to_numeric(table["hitter_id"].str[1:]).astype("Int64")
    told = (
        r"^hitter_id is blank in 720 rows that tell a name, such as '\w+ \w+', and others hold '\d', for "
        r"which no name can stand in: fill them, or read the table with read_pitches$"
    )
    ways = {**WAYS, "duckdb": lambda frame: duckdb.from_df(frame)}
    frame = ways[way](table)
    for ask in (hitlab.tally, hitlab.check_leads):
        with pytest.raises(ReadingError, match=told):
            ask(frame)
    assert hitlab.tally(frame, "club").data["pitches"].tolist() == [1_440]
    pitchers = table.drop(columns="hitter_id").assign(pitcher="P Low", pitcher_id=table["hitter_id"])
    assert hitlab.check_above(ways[way](pitchers), "Ada Yarl", 0.3, event="hard", per="in_play").verdict
    hitlab.tally(table[table["hitter_id"].notna()])
    table.loc[table["hitter_id"].isna(), "hitter"] = None  # nobody who could be named
    counts = hitlab.tally(ways[way](table))
    assert counts.data["hitter_id"].tolist()[:3] == [0, 1, 2]
    assert not [note for note in counts.notes if "more than one name" in note]


def test_an_id_column_that_is_blank_is_none():
    table = season()
    table["hitter_id"] = np.nan
    named = hitlab.tally(table.drop(columns="hitter_id")).data
    for way in ("pandas", "polars", "arrow"):
        counts = hitlab.tally(WAYS[way](table))
        assert counts.data["hitter"].tolist() == named["hitter"].tolist()
        assert hitlab.check_above(WAYS[way](table), "Dot Zelm", 0.3, event="hard", per="in_play").verdict
    for lazy in (pl.from_pandas(table).lazy(), duckdb.from_df(table)):
        with pytest.raises(ReadingError, match="hitter_id is blank in every row: leave the column out"):
            hitlab.tally(lazy)


@pytest.mark.parametrize("subject", ["hitter", "pitcher", "club"])
def test_nobody_is_no_hitter(subject, tmp_path):
    """Who neither an id nor a name tells is several people: no claim takes them for one."""
    table = season().assign(pitcher=lambda rows: "P " + rows["hitter"])
    table["club"] = "C " + table["hitter"]
    table.loc[table["hitter"] == "Dot Zelm", ["hitter", "pitcher", "club"]] = None
    for frame in (table, pl.from_pandas(table), pl.from_pandas(table).lazy()):
        asked = {"subject": subject, "event": "hard", "per": "in_play"}
        leads = hitlab.check_leads(frame, about="record", **asked)
        assert leads.numbers["compared"] == 5
        assert f"240 of 1,440 pitches tell no {subject}, and are left out" in leads.notes
        assert "not recorded" not in str(leads)
        who = {"hitter": "Ada Yarl", "pitcher": "P Ada Yarl", "club": "C Ada Yarl"}[subject]
        split = hitlab.check_split(frame, who, when="pitch_kind=slider", **asked)
        alone = hitlab.check_split(table[table[subject].notna()], who, when="pitch_kind=slider", **asked)
        assert split.numbers == alone.numbers
    # A count of all pitches still has them.
    assert hitlab.tally(table).data["pitches"].sum() == 1_440


@pytest.mark.parametrize("column", ["hitter", "club", "hitter_id", "pitch_kind"])
@pytest.mark.parametrize("engine", ["pandas", "polars", "lazy polars", "arrow"])
def test_bytes_are_no_texts(column, engine):
    table = season()
    table["hitter_id"] = table["hitter_id"].fillna(table["hitter"])
    table[column] = pd.Series([text.encode() for text in table[column]], dtype=object)
    frame = WAYS[engine](table)
    for ask in (hitlab.tally, hitlab.check_leads):
        with pytest.raises(ReadingError) as told:
            ask(frame)
        way = {"pandas": '.str.decode("utf-8")', "arrow": '.cast("string")'}.get(engine, ".cast(pl.String)")
        assert str(told.value) == (
            f"column {column} holds bytes where the pitch table has texts: decode it first, with {way}"
        )


def test_the_clubs_of_those_with_several_alone_are_put_together(monkeypatch):
    number = 300
    people = pd.DataFrame({"hitter_id": [f"h{at}" for at in range(number)], "hitter": "Ada Yarl"})
    people["club"], moved = "Larks", people.iloc[[7, 20]].assign(club=["Owls", "Finches"])
    table = pd.concat([people, people, moved], ignore_index=True).assign(outcome="whiff")
    joined = []
    agg = pd.core.groupby.SeriesGroupBy.agg
    monkeypatch.setattr(
        pd.core.groupby.SeriesGroupBy,
        "agg",
        lambda self, *given: (joined.append(self.ngroups), agg(self, *given))[1],
    )
    clubs = hitlab.tally(table).data.set_index("hitter_id")["club"]
    assert clubs.drop(["h7", "h20"]).eq("Larks").all()
    assert clubs[["h7", "h20"]].tolist() == ["Larks and Owls", "Larks and Finches"]  # most pitches first
    assert sum(joined) == 2


def test_a_column_of_ones_own_may_be_called_as_a_part_of_an_engine_is():
    opened = open_checked(hitlab.demo_season())  # what was opened before is looked for among its names
    table = season()
    table["hitter_id"] = table["hitter_id"].fillna(table["hitter"])
    named = table.assign(alias="Tusker", sql_query="x", collect="y", schema="z", text="w")
    assert hitlab.check_leads(named).to_dict() == hitlab.check_leads(table).to_dict()
    assert opened.alias
