"""The tally's public face: the worked case, thresholds, who judged, labels, and bad input."""

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

import hitlab
from hitlab.counting import summing
from hitlab.errors import CountsError, HitlabWarning, MissingColumnsError, ReadingError
from tests.needs import package


def pitches(*rows: tuple, columns=("hitter", "outcome", "exit_mph")) -> pd.DataFrame:
    return pd.DataFrame(list(rows), columns=list(columns))


def on_engine(table: pd.DataFrame, engine: str) -> Any:
    if engine == "pandas":
        return table
    if engine == "duckdb":
        return package("duckdb").from_arrow(pa.Table.from_pandas(table, preserve_index=False))
    if engine == "polars":
        return package("polars").from_pandas(table)
    return package("dask.dataframe").from_pandas(table, npartitions=3)


def one_hard_ball() -> pd.DataFrame:
    """25 swings, of which 24 miss and one is put in play hard: the job's worked case."""
    return pitches(*[("Ada", "whiff", None)] * 24, ("Ada", "in play", 101.0))


def test_one_lucky_contact_reads_all_per_ball_in_play_and_little_per_swing():
    counts = hitlab.tally(one_hard_ball())
    assert hitlab.rate(counts, "hard", per="in_play").table()["rate"].tolist() == [1.0]
    assert hitlab.rate(counts, "hard", per="swings").table()["rate"].tolist() == [1 / 25]
    laid = hitlab.counting.denominators(counts, "hard")
    assert laid.table()[["swings", "contact", "in_play"]].iloc[0].tolist() == [25, 1, 1]
    product = laid.identity.iloc[0]
    assert product["in_play_per_swing"] * product["event_per_in_play"] == product["event_per_swing"] == 1 / 25
    assert set(laid.left_out) == {"plate_appearances"}


def test_what_the_columns_cannot_tell_is_missing_and_explained():
    counts = hitlab.tally(pitches(("Ada", "whiff"), columns=("hitter", "outcome")))
    assert "plate_appearances" not in counts.names
    with pytest.raises(MissingColumnsError, match="hits cannot be counted: the table has no column result"):
        hitlab.rate(counts, "hits", per="at_bats")
    with pytest.raises(MissingColumnsError, match="no column exit_mph or hard"):
        counts.column("hard")


def test_college_bats_need_a_threshold_of_their_own():
    table = one_hard_ball().assign(level="college", bat="certified non-wood")
    counts = hitlab.tally(table)
    with pytest.raises(
        MissingColumnsError, match=r"hard cannot be counted: 95 mph is the custom .*hard_mph="
    ):
        counts.column("hard")
    given = hitlab.tally(table, conventions=hitlab.Conventions(hard_mph=90))
    assert given.column("hard").tolist() == [1]
    assert "hard means 90 mph or more off the bat" in given.notes_on("hard")
    assert given.notes == ()
    untold = "what this table cannot tell: no column tells bunt attempts, which count as swings here"
    assert given.notes_on("whiffs", "swings") == (untold,)


def test_mixed_levels_are_never_pooled_silently():
    table = pd.concat([one_hard_ball().assign(level="college"), one_hard_ball().assign(level="youth")])
    with pytest.warns(HitlabWarning, match=r"levels are mixed here \(college, youth\)"):
        counts = hitlab.tally(table, conventions=hitlab.Conventions(hard_mph=80))
    assert any("do not rank across them" in note for note in counts.notes)


def test_mixed_levels_warn_without_a_threshold_too():
    table = pd.concat([one_hard_ball().assign(level="college"), one_hard_ball().assign(level="youth")])
    with pytest.warns(HitlabWarning, match="levels are mixed here"):
        assert "hard" in hitlab.tally(table).missing


def test_flags_do_not_lend_college_speeds_the_professional_threshold():
    counts = hitlab.tally(one_hard_ball().assign(level="college", hard=None))
    assert "hard_mph=" in counts.missing["hard"]


def test_unknown_fouls_leave_a_contact_denominator_once():
    """Of four contacts one was not measured and one was hard: one in three, however it is asked."""
    table = pitches(
        ("Ada", "foul", 99.0), ("Ada", "foul", None), ("Ada", "in play", 60.0), ("Ada", "in play", 70.0)
    )
    counts = hitlab.tally(table, conventions=hitlab.Conventions(hard_fouls=True))
    told = hitlab.rate(counts, "hard", per="contact", most_unknown=0.5)
    assert told.table()["rate"].tolist() == [1 / 3]
    laid = hitlab.counting.denominators(counts, "hard", ("swings", "contact"), most_unknown=0.5).table()
    assert laid["per_contact"].tolist() == [1 / 3]
    assert laid["per_swings"].tolist() == [1 / 3]


def test_a_threshold_from_the_leagues_own_balls_in_play():
    speeds = pitches(*[("Ada", "in play", float(mph)) for mph in range(1, 101)], ("Ada", "foul", 129.0))
    threshold = hitlab.counting.hard_threshold(speeds, top_share=0.35)
    counts = hitlab.tally(speeds, conventions=hitlab.Conventions(hard_mph=threshold))
    assert counts.column("hard").tolist() == [35]
    with pytest.raises(CountsError, match="top_share=35"):
        hitlab.counting.hard_threshold(speeds, top_share=35)
    with pytest.raises(MissingColumnsError, match="no ball in play has a speed"):
        hitlab.counting.hard_threshold(pitches(("Ada", "whiff", None)), top_share=0.3)


def test_radar_and_eye_are_never_pooled_silently():
    table = pitches(
        ("Ada", "in play", 99.0, True, "radar"),
        ("Ada", "in play", None, True, "eye"),
        ("Ada", "in play", None, False, "eye"),
        columns=("hitter", "outcome", "exit_mph", "hard", "hard_source"),
    )
    with pytest.warns(HitlabWarning, match="judged by eye 2 times and by radar 1 times"):
        counts = hitlab.tally(table)
    assert counts.column("hard").tolist() == [2]
    assert counts.column("hard_by_eye").tolist() == [2]


def test_an_odd_share_of_hard_balls_is_pointed_out():
    table = pitches(*[("Ada", "in play", 99.0)] * 150, *[("Ada", "in play", 60.0)] * 50)
    with pytest.warns(HitlabWarning, match="75% of the balls in play with known hardness are hard"):
        hitlab.tally(table)


@pytest.mark.parametrize("kind", ["int8", "Int8", "int16", "uint8"])
def test_a_key_of_small_whole_numbers_is_no_other_one(kind):
    """From -90 to 90 degrees: eight bits hold each of them, and not how far they are apart."""
    degrees = [*range(-90, 91)] if kind[0] != "u" else [*range(181)]
    rows = pd.DataFrame({"hitter": ["Ada", "Bea", "Cyd"] * 181, "spray_deg": degrees * 3, "outcome": "whiff"})
    told = hitlab.tally(rows.astype({"spray_deg": kind}), ["hitter", "spray_deg"]).data
    assert told["pitches"].tolist() == rows.groupby(["hitter", "spray_deg"]).size().tolist()
    assert told["spray_deg"].tolist() == sorted(degrees) * 3


def ended() -> pd.DataFrame:
    columns = ("hitter", "outcome", "result", "bases", "hard")
    rows = [("Ada", "whiff", None), ("Ada", "in play", "single"), ("Ada", "in play", "home run")]
    rows += [("Bea", "in play", "single"), ("Bea", "whiff", "strikeout"), ("Bea", "ball", None)]
    return pd.DataFrame([(*row, "empty", row[1] == "in play") for row in rows], columns=columns)


@pytest.mark.parametrize("engine", ["pandas", "polars", "duckdb", "dask"])
@pytest.mark.parametrize("by", ["outcome", "result", ("hitter", "result"), ("outcome", "result", "hitter")])
def test_outcome_and_result_are_keys_as_others_are(by, engine):
    table = ended().drop(columns="hard")
    there = on_engine(table, engine)
    events = {"mine": "swings at bases=empty"}
    keys = [by] if isinstance(by, str) else list(by)
    told = hitlab.tally(there, by, events=events).table()
    groups = table.groupby(keys, dropna=False)
    rows = groups.agg(
        pitches=("outcome", "size"),
        swings=("outcome", lambda seen: seen.isin(["whiff", "in play"]).sum()),
        plate_appearances=("result", "count"),
        hits=("result", lambda seen: seen.isin(["single", "home run"]).sum()),
    ).assign(mine=lambda found: found["swings"])
    told, expected = (
        frame.set_index([frame[key].astype(object).fillna("none") for key in keys])[list(rows)].sort_index()
        for frame in (told, rows.reset_index())
    )
    pd.testing.assert_frame_equal(told, expected, check_dtype=False, check_index_type=False)


@pytest.mark.parametrize("key", ["bases", "hard", "judged", "own_0"])
@pytest.mark.parametrize("engine", ["pandas", "dask"])
def test_no_count_stands_in_the_place_of_a_key(key, engine):
    table = ended().assign(judged=1, own_0=1, hard_source="eye")
    own = {"mine_too": "swings at bases=empty"} if key == "own_0" else None
    with pytest.raises(CountsError, match=f"by= asks for '{key}'.*copy that column under another name"):
        hitlab.tally(on_engine(table, engine), ["hitter", key], events=own)
    named = on_engine(table.assign(mine=table[key]), engine)
    assert hitlab.tally(named, ["hitter", "mine"]).column("pitches").sum() == len(table)


def test_two_hitters_of_one_name_stay_two_and_get_their_clubs():
    columns = ("hitter", "hitter_id", "club", "outcome")
    counts = hitlab.tally(
        pitches(
            ("Ada", "h1", "Gulls", "whiff"),
            ("Ada", "h2", "Larks", "foul"),
            ("Cy", "h3", "Larks", "ball"),
            columns=columns,
        )
    )
    assert counts.labels == ["Ada (Gulls)", "Ada (Larks)", "Cy"]
    assert counts.column("whiffs").tolist() == [1, 0, 0]


def test_one_id_with_two_spellings_is_one_hitter():
    counts = hitlab.tally(
        pitches(
            ("Ada Velm", "h1", "whiff"),
            ("Ada Velm", "h1", "foul"),
            ("Ada Vulm", "h1", "foul"),
            columns=("hitter", "hitter_id", "outcome"),
        )
    )
    assert counts.labels == ["Ada Velm"]
    assert counts.column("swings").tolist() == [3]
    assert any("more than one name" in note for note in counts.notes)


def test_a_hitter_without_swings_has_a_missing_rate():
    counts = hitlab.tally(pitches(("Ada", "ball", None), ("Cy", "whiff", None)))
    rates = hitlab.rate(counts, "hard", per="swings").table()
    assert rates["rate"].isna().tolist() == [True, False]
    assert rates["low"].isna().tolist() == [True, False]


def test_html_in_a_name_is_shown_as_text():
    table = pitches(("<b>Ada</b>", "whiff", None), ("<b>Ada</b>", "in play", 99.0))
    counts = hitlab.tally(table)
    for result in (
        counts,
        hitlab.rate(counts, "hard", per="swings"),
        hitlab.counting.denominators(counts, "hard"),
        hitlab.shrink(counts, "hard", per="swings"),
    ):
        html = result._repr_html_()
        assert "&lt;b&gt;Ada" in html
        assert "<b>Ada" not in html


def test_events_of_ones_own_and_a_part_of_the_pitches():
    table = one_hard_ball().assign(speed_mph=[90.0] * 20 + [None] * 5)
    fast = (nw.col("speed_mph") >= 85) & (nw.col("speed_mph") <= 200)
    counts = hitlab.tally(table, events={"fast_ones": fast})
    assert counts.column("fast_ones").tolist() == [20]
    assert hitlab.tally(table, where=fast).column("swings").tolist() == [20]


@pytest.mark.parametrize(
    ("table", "options", "error", "message"),
    [
        (pitches(("Ada", "wiff", None)), {}, ReadingError, "column outcome holds 'wiff'"),
        (pitches(("Ada", None, None)), {}, ReadingError, "an empty cell"),
        (pd.DataFrame({"hitter": ["Ada"]}), {}, MissingColumnsError, "needs the column outcome"),
        (one_hard_ball(), {"by": "club"}, MissingColumnsError, "by= asks for 'club'"),
        (one_hard_ball(), {"by": []}, CountsError, "by= names no column"),
        (one_hard_ball(), {"events": {"whiffs": nw.col("exit_mph") > 1}}, CountsError, "'whiffs' is taken"),
        ({"hitter": ["Ada"]}, {}, ReadingError, "a path, a Reading or a data frame; this is a dict"),
    ],
)
def test_bad_input_is_one_clear_sentence(table, options, error, message):
    with pytest.raises(error, match=message):
        hitlab.tally(table, **options)


def test_a_file_without_the_mark_is_refused_unless_trusted(tmp_path):
    path = tmp_path / "plain.parquet"
    parquet.write_table(pa.Table.from_pandas(one_hard_ball()), path)
    with pytest.raises(ReadingError, match="write_checked"):
        hitlab.tally(path)
    assert hitlab.tally(path, trust=True).column("swings").tolist() == [25]
    hitlab.pitches.write_checked(hitlab.read_pitches(path), tmp_path / "checked.parquet")
    assert hitlab.tally(tmp_path / "checked.parquet").column("hard").tolist() == [1]


def test_a_table_of_counts_is_an_entrance_of_its_own():
    table = pd.DataFrame({"hitter": ["Ada", "Cy"], "hits": [10, 3], "at_bats": [30, 20]})
    counts = hitlab.Counts.from_table(table)
    assert hitlab.rate(counts, "hits", per="at_bats").table()["rate"].tolist() == [1 / 3, 3 / 20]
    for column, value, message in (
        ("hits", 2.5, "hits, row 2: .*2.5.* is not a count"),
        ("hits", -1, "hits, row 2: .*-1.* is not a count"),
        ("hits", 21, "Cy: hits 21 is more than at_bats 20"),
        ("hitter", "Ada", "hitter 'Ada' stands in the table twice"),
    ):
        bad = table.astype({"hits": float}) if column == "hits" else table.copy()
        bad.loc[1, column] = value
        with pytest.raises(CountsError, match=message):
            hitlab.rate(bad, "hits", per="at_bats")


def test_the_real_pitch_sets_own_swing_column_agrees_in_number():
    """1,637 by the ledger; the 30 that the set counts besides are explained in test_datasets."""
    counts = hitlab.tally(hitlab.open_pitches(), by="pitcher")
    assert counts.column("swings").tolist() == [1637]


def test_names_that_may_be_two_people_or_one_are_noted():
    table = pd.DataFrame(
        {
            "hitter": ["Ana Vrol", "Ana Vrol", "Cy Trux", "cy  trux", "Bo Fenk"],
            "club": ["Blau", "Rot", "Rot", "Rot", None],
            "outcome": "whiff",
        }
    )
    notes = " | ".join(hitlab.tally(table).notes)
    assert "'Cy Trux' and 'cy  trux' count as 2 hitters" in notes
    assert "Ana Vrol stands with Blau and Rot and counts as one hitter" in notes
    assert "Bo Fenk" not in notes
    with_ids = hitlab.tally(table.assign(hitter_id=list("abcde")))
    assert not [note for note in with_ids.notes if "count" in note and "hitter" in note]


@given(
    st.lists(
        st.text(st.characters(exclude_categories=["Cs"]), max_size=5) | st.none(), min_size=1, max_size=30
    ),
    st.integers(-5, 10**12),
)
def test_a_fingerprint_is_of_the_same_text_whoever_writes_it(names, number):
    from hitlab.counting import counts as module

    data = pd.DataFrame(
        {"hitter": pd.Series(names, dtype="str"), "swings": number, "whiffs": range(len(names))}
    )
    plain = data.to_csv(index=False, lineterminator="\n").encode()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "_LONG", 0)
        assert module._as_csv(data) == plain


@pytest.mark.parametrize("at_once", [1, 7, 2_000_000])
@pytest.mark.parametrize("groups", [1, 5, 40])
def test_sums_of_some_groups_at_a_time_are_those_of_a_loop(monkeypatch, at_once, groups):
    monkeypatch.setattr(summing, "_AT_ONCE", at_once)
    rng = np.random.default_rng(groups)
    sizes = rng.integers(1, 2**40, 60)
    cells = pd.DataFrame({"balls": rng.integers(0, 4, 60), "outcome": rng.choice(["ball", None], 60)})
    cells[summing.ROWS] = sizes
    place = rng.integers(0, groups, 60)
    rules = {
        "walks": lambda kinds: (kinds["balls"] == 3).to_numpy(),
        "bases": lambda kinds: kinds["balls"].to_numpy(),
    }
    asked = ["balls", "outcome"]
    found = summing.sums_of(
        place, cells, asked, lambda kinds: {name: rule(kinds) for name, rule in rules.items()}, groups
    )
    for name, rule in rules.items():
        expected = [0] * groups
        for group, size, weight in zip(place.tolist(), sizes.tolist(), rule(cells).tolist(), strict=True):
            expected[group] += size * int(weight)
        assert found[name].dtype == np.int64
        assert found[name].tolist() == expected


@pytest.mark.parametrize("engine", ["pandas", "polars", "arrow", "dask"])
def test_the_order_of_categories_orders_nothing(engine):
    """Categories stand in the order in which an engine met them: no answer may depend on it."""
    rows = [("Cy", "slider", 7), ("Ada", None, 2**53 + 1), ("Bo", "fastball", 2**53), ("Cy", "slider", 7)]
    table = pd.DataFrame(rows, columns=["hitter", "pitch_kind", "number"]).assign(outcome="whiff")
    plain = hitlab.tally(table, by=["pitch_kind", "hitter", "number"])
    arrow = pa.Table.from_pandas(table, preserve_index=False)
    for order in (table["hitter"].unique(), sorted(table["hitter"], reverse=True)):
        kinds = pd.CategoricalDtype(pd.unique(np.array(order, dtype=object)))
        told = table.astype({"pitch_kind": pd.CategoricalDtype(["slider", "fastball"]), "hitter": kinds})
        if engine == "arrow":
            encoded = [arrow[name].dictionary_encode() for name in table]  # numbers, too
            told = pa.table(dict(zip(table, encoded, strict=True)))
        elif engine != "pandas":
            told = on_engine(told, engine)
        counts = hitlab.tally(told, by=["pitch_kind", "hitter", "number"])
        assert counts.fingerprint == plain.fingerprint
        pd.testing.assert_frame_equal(counts.data, plain.data)


@pytest.mark.parametrize("zone", [None, "Asia/Tokyo"])
@pytest.mark.parametrize("engine", ["pandas", "pandas on Arrow", "arrow", "polars", "lazy", "duckdb", "dask"])
def test_a_pitch_at_any_hour_is_of_its_day(engine, zone):
    """A day without an hour is its midnight: up to it, all pitches of the evening would be left out."""
    if engine == "duckdb" and zone:
        pytest.skip("DuckDB keeps no zone: its session has one")
    times = ["2031-05-01 00:30", "2031-05-01 23:30", "2031-05-02 00:10", "2031-04-30 23:59"]
    dates = pd.Series(pd.to_datetime(times)).dt.tz_localize(zone)
    table = pd.DataFrame({"hitter": "Ada", "outcome": "whiff", "date": dates})
    before = table.copy()
    arrow = pa.Table.from_pandas(table, preserve_index=False)
    told = {
        "arrow": lambda: arrow,
        "pandas on Arrow": lambda: arrow.to_pandas(types_mapper=pd.ArrowDtype),
        "lazy": lambda: on_engine(table, "polars").lazy(),
    }.get(engine, lambda: on_engine(table, engine))()

    def pitches_of(where: str) -> int:
        return int(hitlab.tally(told, where=where).data["pitches"].sum())

    assert pitches_of("date>=2031-05-01") == 3
    assert pitches_of("date<=2031-05-01") == 3
    assert pitches_of("date=2031-05-01") == 2
    by_day = hitlab.tally(told, by=["hitter", "date"]).data
    assert by_day["pitches"].tolist() == [1, 2, 1]
    assert [str(day)[:10] for day in by_day["date"]] == ["2031-04-30", "2031-05-01", "2031-05-02"]
    pd.testing.assert_frame_equal(table, before)


def test_texts_that_arrow_only_looks_at_are_texts():
    """So Polars gives them to whoever takes its frame through Arrow's interface."""
    table = pitches(("Ada", "whiff", None), ("Bo", "foul", None), ("Ada", "in play", 101.0))
    table["pitch_kind"] = ["slider", None, "slider"]
    viewed = pa.table(package("polars").from_pandas(table))
    assert viewed.schema.field("hitter").type == pa.string_view()
    for where in (None, "pitch_kind=slider"):
        found, plain = (hitlab.tally(one, where=where) for one in (viewed, table))
        pd.testing.assert_frame_equal(found.data, plain.data)


@pytest.mark.parametrize("engine", ["pandas", "arrow"])
def test_a_column_that_stands_twice_is_named_with_what_to_do(engine):
    table = pitches(("Ada", "whiff", 3), columns=("hitter", "outcome", "outcome"))
    if engine == "arrow":
        table = pa.table([["Ada"], ["whiff"], ["foul"]], names=list(table))
    with pytest.raises(ReadingError, match=r"column 'outcome' stands twice.*rename one of them"):
        hitlab.tally(table)


@pytest.mark.parametrize(
    ("column", "cells"),
    [("hitter", [7, "Ada"]), ("club", ["Larks", 3.5]), ("game", [b"g1", "g2"]), ("hitter", [("Ada",), "Bo"])],
)
def test_a_key_of_several_kinds_is_refused_with_what_to_do(column, cells):
    table = pitches(("Ada", "whiff", None), ("Bo", "foul", None))
    table[column] = pd.Series(cells, dtype=object)
    with pytest.raises(ReadingError, match=f"column {column} holds .* and .*one type"):
        hitlab.tally(table, by=["hitter", column])


def test_speeds_as_decimals_are_numbers():
    from decimal import Decimal

    table = pitches(("Ada", "in play", 101.0), ("Ada", "in play", 80.0), ("Ada", "in play", None))
    exact = [None if pd.isna(speed) else Decimal(str(speed)) for speed in table["exit_mph"]]
    told = table.assign(exit_mph=pd.Series(exact, dtype=object))
    pd.testing.assert_frame_equal(hitlab.tally(told).data, hitlab.tally(table).data)
    where = "exit_mph>=95.5"
    pd.testing.assert_frame_equal(hitlab.tally(told, where=where).data, hitlab.tally(table, where=where).data)


@pytest.mark.parametrize("by", [None, 5, ["hitter", None], [["hitter"]], ["hitter", 5]])
def test_what_names_no_column_is_refused_as_that(by: Any) -> None:
    with pytest.raises((CountsError, MissingColumnsError), match=r"by=.* names no column"):
        hitlab.tally(one_hard_ball(), by=by)


def test_a_column_is_missed_also_among_columns_called_by_numbers() -> None:
    with pytest.raises(MissingColumnsError, match=r"did you mean 'hitter'\?"):
        hitlab.tally(one_hard_ball().assign(**{"0": 1}).rename(columns={"0": 0}), by="hittr")


def test_of_no_rules_nothing_is_summed():
    cells = pd.DataFrame({"balls": [0], summing.ROWS: [1]})
    assert summing.sums_of(np.zeros(1, np.int64), cells, ["balls"], lambda kinds: {}, 1) == {}


@pytest.mark.parametrize(
    ("by", "offer"), [("hitterr", "hitter"), (["hitter", "Outcom"], "outcome"), ("q", None)]
)
def test_a_key_that_is_no_column_is_offered_the_nearest_one(by: Any, offer: str | None) -> None:
    with pytest.raises(MissingColumnsError, match="by= asks for") as refused:
        hitlab.tally(one_hard_ball(), by=by)
    assert (f"did you mean '{offer}'?" in str(refused.value)) is (offer is not None)
    assert ("did you mean" in str(refused.value)) is (offer is not None)
