"""Invented surnames: every one that can be drawn is looked at, by the parts that would make it somebody's."""

from itertools import product
from pathlib import Path

import pandas as pd
import pytest

from hitlab.league.names import _FIRST, _SURNAME_PARTS, LONG_NAME, SHARED_NAME

DEMO = Path(__file__).parents[1] / "data_demo"

# Parts only: with the heads or tails of their own kind they give surnames that players have, or nearly so.
FORBIDDEN_BEGINNINGS = ("berg", "dahl", "esc", "lam", "lund", "merr", "sal", "yama", "naka", "mart", "gonz")
FORBIDDEN_ENDINGS = (
    *("gren", "quist", "kvist", "ström", "berg", "strand", "sson"),
    *("eira", "ueta", "uez", "dez", "ado", "eda"),
    *("zumi", "moto", "hara", "gawa", "saki", "zuki"),
    *("ton", "well", "man", "ridge", "wood", "ford"),
    *("ić", "ski", "czyk", "enko", "ov"),
)


def every_surname() -> list[str]:
    return [head + tail for heads, tails in _SURNAME_PARTS for head, tail in product(heads, tails)]


def test_no_surname_that_can_be_drawn_has_a_part_of_a_player_s():
    surnames = every_surname()
    assert len(surnames) == 17 * 15 + 18 * 12 + 11 * 9 + 14 * 12 + 11 * 9
    assert len(set(surnames)) == len(surnames)
    found = [
        surname
        for surname in map(str.casefold, surnames)
        if surname.startswith(FORBIDDEN_BEGINNINGS) or surname.endswith(FORBIDDEN_ENDINGS)
    ]
    assert found == []


@pytest.mark.parametrize("column", ["hitter", "pitcher"])
def test_the_demo_s_people_have_the_names_that_can_be_drawn(column):
    people = set(pd.read_parquet(DEMO / "season.parquet", columns=[column])[column])
    drawn = {f"{first} {surname}" for first, surname in product(_FIRST, every_surname())}
    assert people - drawn == ({LONG_NAME} if column == "hitter" else set())
    assert (SHARED_NAME in people) == (column == "hitter")
