"""Rows without numbers are held against those before only where they are seen to be whole and in order."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.pitches.reading import Reading, read_pitches
from hitlab.pitches.schema import FAMILIES, SWING_OUTCOMES
from hitlab.pitches.sources import checked_to_pandas

COUNT = ["balls", "strikes"]


@cache
def _whole() -> pd.DataFrame:
    """A right table, every pitch of it in the order of play, and none numbered."""
    table = checked_to_pandas(hitlab.demo_season())[0].head(6_000)
    texts = {name: object for name, kind in table.dtypes.items() if kind == "category"}
    return table.astype(texts).drop(columns=["plate_appearance", "pitch"])


def _read(table: pd.DataFrame) -> Reading:
    return read_pitches(table.reset_index(drop=True))


def _unchecked(reading: Reading) -> list[str]:
    return [one for one in reading.report.assumed if "was not checked" in one]


@pytest.mark.parametrize("count", [True, False])
@pytest.mark.parametrize(
    ("part", "why"),
    [
        ("swings", "there is no ball in it"),
        ("takes", "plate appearances seem to lack pitches"),
        ("fastballs", "plate appearances seem to lack pitches"),
        ("two strikes", "plate appearances seem to lack pitches"),
        ("first pitches", "the plate appearances do not follow each other"),
        ("last pitches", "plate appearances seem to lack pitches"),
        ("by name", "the plate appearances do not follow each other"),
        ("from the end", "no game in it has its innings in order"),
        ("by chance", "no game in it has its innings in order"),
    ],
)
def test_parts_of_a_right_table_and_rows_in_another_order_contradict_nothing(
    part: str, why: str, count: bool
) -> None:
    table = _whole()
    kept = {
        "swings": table["outcome"].isin(SWING_OUTCOMES),
        "takes": ~table["outcome"].isin(SWING_OUTCOMES),
        "fastballs": table["pitch_kind"].isin(FAMILIES["fastball"]),
        "two strikes": table["strikes"] == 2,
        "first pitches": (table["strikes"] == 0) & (table["balls"] == 0),
        "last pitches": table["result"].notna(),
    }
    if part in kept:
        table = table[kept[part]]
    elif part == "by name":
        table = table.sort_values(["game", "inning", "hitter"], kind="stable")
    else:
        table = table.iloc[::-1] if part == "from the end" else table.sample(frac=1, random_state=3)
    reading = _read(table if count else table.drop(columns=COUNT))
    assert reading.report.contradictions.empty
    (said,) = _unchecked(reading)
    assert why in said


def test_a_table_of_swings_alone_is_counted_by_its_count() -> None:
    table = _whole()
    swings = _read(table[table["outcome"].isin(SWING_OUTCOMES)])
    leaders = hitlab.tally(swings, where="strikes=2").table()
    assert leaders["swings"].sum() == ((table["strikes"] == 2) & table["outcome"].isin(SWING_OUTCOMES)).sum()


@pytest.mark.parametrize("count", [True, False])
def test_slips_in_a_whole_table_are_found_as_before(count: bool) -> None:
    table = _whole().reset_index(drop=True)
    right = _read(table if count else table.drop(columns=COUNT))
    assert right.report.contradictions.empty
    assert not _unchecked(right)
    # A ball too many, in ten plate appearances that ended with a walk.
    walks = np.flatnonzero((table["result"] == "walk") & (table["outcome"] == "ball"))[:10]
    twice = table.drop(columns=[] if count else COUNT).copy()
    more = twice.loc[walks].assign(result=None)
    spoiled = pd.concat([twice, more]).sort_index(kind="stable").reset_index(drop=True)
    spoiled.loc[walks + np.arange(10), "result"], spoiled.loc[walks + np.arange(1, 11), "result"] = (
        None,
        "walk",
    )
    reading = _read(spoiled)
    found = reading.report.contradictions
    check = "count" if count else "balls and strikes"
    assert set(walks + np.arange(2, 12)) <= set(found[found["check"] == check]["row"])
    assert not _unchecked(reading)


def test_a_hitter_out_of_turn_is_found_in_a_whole_table_without_numbers() -> None:
    table = _whole().reset_index(drop=True)
    begins = np.flatnonzero(np.append(True, table["result"].notna().to_numpy()[:-1]))
    hitter, name = begins[40], table["hitter"][begins[39]]
    club = table["club"][hitter]
    assert table["club"][begins[39]] == club
    rows = np.arange(begins[40], begins[41])
    table.loc[rows, ["hitter", "hitter_id"]] = [name, table["hitter_id"][begins[39]]]
    found = _read(table).report.contradictions
    assert (found["check"] == "order of hitters").any()
