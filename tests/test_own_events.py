"""The caller's own events: every form counts the same pitches, and what is none is refused."""

from __future__ import annotations

import narwhals as nw
import numpy as np
import pandas as pd
import polars as pl
import pytest

import hitlab
from hitlab.counting.counts import pair
from hitlab.counting.own_events import base_and_situation, chosen_text
from hitlab.errors import ClaimError, CountsError, MissingColumnsError
from tests.needs import package

PLAIN = pd.read_parquet(hitlab.demo_season()).head(6000)
FIRST = (PLAIN["balls"] == 0) & (PLAIN["strikes"] == 0)
FORMS = {
    "an expression": (nw.col("balls") == 0) & (nw.col("strikes") == 0),
    "a pandas mask": FIRST,
    "an array": FIRST.to_numpy(),
    "a list": FIRST.tolist(),
    "a column": "first_one",
    "a situation": hitlab.situation("balls=0", "strikes=0"),
    "terms": "balls=0 strikes=0",
    "terms apart": "balls=0; strikes=0",
    "a name": "first pitch",
}


@pytest.mark.slow
@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
def test_every_form_counts_the_same_pitches(form):
    table = PLAIN.assign(first_one=FIRST)
    wanted = FIRST.groupby(table["hitter_id"]).sum()
    counts = hitlab.tally(table, events={"mine": form})
    assert counts.data.set_index("hitter_id")["mine"].equals(wanted.rename("mine"))
    chosen = hitlab.tally(table, where=form)
    assert chosen.column("pitches").sum() <= int(FIRST.sum())
    assert chosen.data.equals(hitlab.tally(table[FIRST]).data)


def test_a_mask_of_a_frame_in_another_order_keeps_to_its_rows():
    shuffled = PLAIN.sample(frac=1, random_state=1)
    mask = (shuffled["balls"] == 0) & (shuffled["strikes"] == 0)
    expected = hitlab.tally(PLAIN, events={"mine": FIRST}).data
    assert hitlab.tally(shuffled, events={"mine": mask}).data.equals(expected)


@pytest.mark.slow
def test_a_mask_of_a_polars_frame_is_taken():
    table = pl.from_pandas(PLAIN)
    mask = (table["balls"] == 0) & (table["strikes"] == 0)
    counts = hitlab.tally(table, events={"mine": mask}, where=mask)
    assert (
        counts.column("mine") == hitlab.tally(PLAIN, where=FIRST, events={"mine": FIRST}).column("mine")
    ).all()


@pytest.mark.parametrize(
    ("form", "message"),
    [
        (lambda row: True, r"events\['mine'\] is a function; give a narwhals expression"),
        (3, r"events\['mine'\] is a int"),
        (None, r"events\['mine'\] is a NoneType"),
        ("nothing_of_it", "is not a situation"),
        ("hiter=Ada", "did you mean hitter"),
        ("hitter", r"gives String and not true or false|gives Object and not true or false"),
        ("swings", "is a count already"),
        ([True, False], "a mask of 2 values and the table has 6,000 rows"),
        (np.arange(6000), "holds 0; a mask is true or false"),
        (nw.col("balls") + 1, "and not true or false"),
        (nw.col("nowhere") == 1, "cannot be worked out on this table"),
        ("bases at strikes=2", "bases count more than once a pitch"),
        ("swings at previous=whiff", "no column 'previous'"),
    ],
)
def test_what_is_no_event_is_refused_before_anything_is_counted(form, message):
    with pytest.raises((CountsError, ClaimError), match=message):
        hitlab.tally(PLAIN, events={"mine": form})


def test_a_mask_needs_the_table_in_memory_and_a_situation_its_columns():
    with pytest.raises(CountsError, match="the table is not in memory"):
        hitlab.tally(hitlab.demo_season(), events={"mine": FIRST})
    with pytest.raises(MissingColumnsError, match="needs the column strikes"):
        hitlab.tally(PLAIN.drop(columns="strikes"), events={"mine": "strikes=2"})
    with pytest.raises(MissingColumnsError, match="with_previous"):
        hitlab.tally(PLAIN, where="after a whiff")


@pytest.mark.slow
@pytest.mark.parametrize(
    "asked",
    [nw.col("exit_mph") > nw.col("exit_mph").mean(), nw.col("exit_mph") > nw.col("exit_mph").max() - 5],
)
@pytest.mark.parametrize("by", ["hitter", ["hitter", "game"]])
def test_what_is_asked_of_all_pitches_is_not_asked_of_each_partition(asked, by):
    """The partitions lie apart in what is averaged."""
    apart = PLAIN.sort_values("exit_mph", ignore_index=True)
    table = package("dask.dataframe").from_pandas(apart, npartitions=12)
    here, there = (hitlab.tally(one, by, events={"mine": asked}) for one in (apart, table))
    assert there.column("mine").tolist() == here.column("mine").tolist()


def test_what_dask_gives_in_another_order_is_refused_and_the_mend_is_right():
    games = PLAIN["game"].unique()
    parts = [PLAIN[PLAIN["game"].isin(games[place::3])].reset_index(drop=True) for place in range(3)]
    table = package("dask.dataframe").from_map(lambda place: parts[place], range(3), meta=PLAIN.head(0))
    asked = nw.col("outs").sum().over("game") > 300
    for given in ({"where": asked}, {"events": {"mine": asked}}):
        with pytest.raises(CountsError, match=r"asks of several rows together, .*map_partitions"):
            hitlab.tally(table, **given)

    def told(part: pd.DataFrame) -> pd.DataFrame:
        return part.assign(long=part.groupby("game")["outs"].transform("sum") > 300)

    there = hitlab.tally(table.map_partitions(told), events={"mine": "long"})
    here = hitlab.tally(pd.concat(parts, ignore_index=True), events={"mine": asked})
    assert there.column("mine").tolist() == here.column("mine").tolist()
    assert 0 < there.column("mine").sum() < here.column("pitches").sum()


def test_where_takes_no_count_in_silence():
    with pytest.raises(CountsError, match="begins with the count swings"):
        hitlab.tally(PLAIN, where="swings at strikes=2")


def test_a_count_restricted_by_a_situation_is_a_part_of_that_count():
    counts = hitlab.tally(
        PLAIN, events={"mine": "swings at balls=0 strikes=0", "firsts": "pitches first pitch"}
    )
    ledger = hitlab.counting.swing_ledger(PLAIN)
    assert counts.column("mine").sum() == int((ledger["swing"] & FIRST.to_numpy()).sum())
    assert {"swings", "pitches", "firsts"} <= set(counts.own["mine"].within)
    assert hitlab.rate(counts, "mine", "firsts").data["rate"].between(0, 1).all()
    with pytest.raises(CountsError, match="no rate: not all mine are balls in play; it has a rate per"):
        hitlab.rate(counts, "mine", "in_play")
    with pytest.raises(CountsError, match="no rate: not all hard-hit balls are mine"):
        hitlab.rate(counts, "hard", "mine")


def test_hard_balls_in_a_situation_know_what_of_them_is_unknown():
    table = PLAIN.assign(exit_mph=PLAIN["exit_mph"].where(np.arange(len(PLAIN)) % 3 > 0))
    deep = table["strikes"] == 2
    counts = hitlab.tally(table, events={"mine": "hard at strikes=2"})
    wanted = hitlab.tally(table[deep])
    both, alone = pair(counts, "mine", "swings"), pair(wanted, "hard", "swings")
    at = counts.data["hitter_id"].isin(wanted.data["hitter_id"])
    assert both.events.sum() == alone.events.sum()
    assert (both.unknown[at] == alone.unknown).all()
    assert both.unknown.sum() > 0


def test_takes_in_the_zone_take_the_hitters_own_zone():
    table = PLAIN.dropna(subset=["inside_in", "height_in"])
    own = "zone_top_in" in table
    top = table["zone_top_in"].fillna(42.0) if own else 42.0
    bottom = table["zone_bottom_in"].fillna(19.0) if own else 19.0
    reach = 1.45  # half of a ball of 9 1/8 inches around
    inside = table["inside_in"].abs().le(8.5 + reach) & table["height_in"].between(
        bottom - reach, top + reach
    )
    taken = table["outcome"].isin(["ball", "called strike", "hit by pitch"])
    counts = hitlab.tally(table, events={"let_by": "takes in the zone"})
    assert counts.column("let_by").sum() == int((inside & taken).sum())
    outside = hitlab.tally(table, events={"let_by": "takes outside the zone"})
    assert counts.column("let_by").sum() + outside.column("let_by").sum() == int(taken.sum())


@pytest.mark.parametrize(
    ("text", "base", "words"),
    [
        ("swings at balls=0 strikes=0", "swings", "with no balls and no strikes"),
        ("swings on the first pitch", "swings", "on the first pitch"),
        ("balls in play against breaking balls", None, None),
        ("balls in play where pitch_kind=breaking", "in_play", "against breaking balls"),
        ("pitch_kind=four-seam fastball strikes=2", "", "against four-seam fastballs and with two strikes"),
        ("bases=first second and outs=2", "", "with runners on first and second and two outs"),
        ("up and in; strikes=2", "", "on pitches up and in and with two strikes"),
    ],
)
def test_texts_are_read_as_they_are_meant(text, base, words):
    if base is None:
        with pytest.raises(ClaimError, match="is not a situation"):
            base_and_situation(text)
        return
    found, rest = base_and_situation(text)
    assert (found, rest.words) == (base, words)


def test_a_restricted_count_has_a_name_in_words():
    assert chosen_text("swings at balls=0 strikes=0") == "swings with no balls and no strikes"
    assert chosen_text("hard") == "hard"
    with pytest.raises(ClaimError, match="names no count"):
        chosen_text("strikes=2")


def test_ticks_without_a_word_on_blanks_give_no_rate():
    """One value of a flag was ever recorded: blanks may be soft balls, so that nothing may be said."""
    struck = PLAIN["outcome"] == "in play"
    ticked = PLAIN.drop(columns=["exit_mph"]).assign(
        hard=(PLAIN["exit_mph"] >= 95).where(PLAIN["exit_mph"] >= 95)
    )
    counts = hitlab.tally(ticked)
    assert "hard" not in counts.names
    with pytest.raises(MissingColumnsError, match="not known what a blank means"):
        hitlab.check_leads(counts)
    told = ticked.assign(hard=ticked["hard"].eq(True).where(struck))
    assert hitlab.tally(told).column("hard").sum() == (PLAIN["exit_mph"] >= 95).where(struck, False).sum()
    # A column of speeds without a speed in it measures nothing.
    assert "hard" not in hitlab.tally(ticked.assign(exit_mph=float("nan"))).names
    assert "hard" in hitlab.tally(ticked.assign(exit_mph=PLAIN["exit_mph"])).names
    # A part of a complete table that holds one value by chance is still counted.
    some = told.assign(hard=told["hard"].where(np.arange(len(told)) % 50 > 0))
    few = hitlab.tally(some, where=nw.col("hitter") == some["hitter"].iloc[0])
    assert "hard" in few.names


@pytest.mark.parametrize(
    "text",
    [
        "takes at balls=0 strikes=0; in the zone",
        "takes at balls=0 strikes=0 in the zone",
        "takes at balls=0 strikes=0, in the zone",
        "takes at balls=0 and strikes=0 and In the  zone",
        "takes in the zone balls=0 strikes=0",
    ],
)
def test_a_name_may_stand_behind_values_as_it_may_before_them(text):
    base, rest = base_and_situation(text)
    assert base == "takes"
    assert {term.casefold() for term in rest.terms} == {"balls=0", "strikes=0", "in the zone"}


def test_a_name_of_one_word_stays_with_a_value_that_may_be_somebody_s_name():
    _, rest = base_and_situation("swings at pitcher=Ida Away")
    assert rest.terms == ("pitcher=Ida Away",)
    _, rest = base_and_situation("swings at pitch_kind=four-seam fastball up and in")
    assert rest.terms == ("pitch_kind=four-seam fastball", "up and in")


def test_several_names_may_stand_behind_a_value():
    _, rest = base_and_situation("swings at strikes=2 runners on after a whiff, in the zone")
    assert set(rest.terms) == {"strikes=2", "runners on", "after a whiff", "in the zone"}
