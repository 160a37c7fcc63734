"""A day that is said aloud: with its year where the table has more than one."""

import pandas as pd
import pytest

import hitlab

KINDS = {
    "above": lambda table, **days: hitlab.check_above(table, "Ada 3", 0.2, event="whiffs", **days),
    "leads": lambda table, **days: hitlab.check_leads(table, "Ada 3", event="whiffs", **days),
    "more": lambda table, **days: hitlab.check_more(table, "Ada 3", event="whiffs", **days),
    "different": lambda table, **days: hitlab.check_more(
        table, "Ada 3", event="whiffs", direction="either", **days
    ),
    "hot": lambda table, **days: hitlab.check_hot(table, "Ada 3", event="whiffs", stretch=2, **days),
    "steady": lambda table, **days: hitlab.check_steady(table, "Ada 3", event="whiffs", stretch=3, **days),
}


def table(*years: int) -> pd.DataFrame:
    """Ten games a year of six hitters, twenty swings in each, a few of them whiffs."""
    rows = [
        {
            "date": pd.Timestamp(year, 5, game + 1),
            "game": f"{year}-{game}",
            "hitter_id": f"h{hitter}",
            "hitter": f"Ada {hitter}",
            "outcome": "whiff" if (swing * 7 + game + hitter) % 20 < 3 + hitter else "foul",
        }
        for year in years
        for game in range(10)
        for hitter in range(6)
        for swing in range(20)
    ]
    return pd.DataFrame(rows)


@pytest.mark.parametrize("kind", KINDS)
def test_a_day_has_its_year_where_the_table_has_several(kind):
    several = KINDS[kind](table(2030, 2031), since="2031-05-04")
    assert "since May the fourth, 2031" in several.say
    assert "since May 4, 2031" in several.headline or "since" not in several.headline
    assert several.question.ask(table(2030, 2031)).to_dict() == several.to_dict()


@pytest.mark.parametrize("kind", KINDS)
def test_a_day_has_no_year_where_the_table_has_one(kind):
    one = KINDS[kind](table(2031), since="2031-05-04")
    assert "since May the fourth" in one.say
    assert "2031" not in one.say + one.headline


def test_a_day_of_one_season_that_is_said_has_its_year_once():
    one = KINDS["above"](table(2030, 2031), since="2031-05-04", season="2031")
    assert one.say.count("2031") == 1
    assert "in 2031 since May the fourth" in one.say
