"""Rates, their intervals with unknown hardness, and one event over several denominators."""

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab import rate
from hitlab.counting import denominators
from hitlab.counting.intervals import share_interval
from hitlab.errors import CountsError, MissingColumnsError


@pytest.fixture
def lines():
    return pd.DataFrame(
        {
            "hitter": ["Ada <b>", "Ben", "Cy", "Dot"],
            "pitches": [200, 100, 50, 4],
            "swings": [100, 60, 25, 0],
            "whiffs": [20, 20, 24, 0],
            "contact": [80, 40, 1, 0],
            "in_play": [40, 20, 1, 0],
            "hard": [15, 11, 1, 0],
            "plate_appearances": [50, 30, 9, 1],
        }
    )


@pytest.mark.parametrize("kind", ["wilson", "jeffreys", "clopper-pearson"])
def test_rate_and_interval_by_hand(lines, kind):
    table = rate(lines, "hard", "swings", interval=kind, level=0.8).table()
    assert table["rate"].iloc[:3].tolist() == [0.15, 11 / 60, 0.04]
    assert table[["rate", "low", "high"]].iloc[3].isna().all()
    low, high = share_interval(table["hard"], table["swings"], kind, 0.8)
    np.testing.assert_array_equal(table[["low", "high"]], np.stack([low, high], axis=1))


def test_minimum_leaves_groups_out_and_keeps_the_order(lines):
    assert rate(lines, "hard", "swings", minimum=60).table()["hitter"].tolist() == ["Ada <b>", "Ben"]


def test_kind_and_level_are_named_and_html_is_escaped(lines):
    shown = rate(lines, "hard", "swings", interval="jeffreys", level=0.8)
    assert shown.title == "hard-hit balls per swing, 80 % Jeffreys intervals"
    assert str(shown).startswith(shown.title)
    assert "none" in str(shown)
    assert "Ada &lt;b&gt;" in shown._repr_html_()
    assert "<b>" not in shown._repr_html_()


def test_unknown_hardness_widens_the_interval():
    # 40 of 50 balls in play measured: the same share (a fifth) of 100 swings is set aside.
    counts = pd.DataFrame(
        {"hitter": ["Ada"], "swings": [100], "in_play": [50], "unmeasured": [10], "hard": [16]}
    )
    row = rate(counts, "hard", "swings").table().iloc[0]
    assert row["unknown"] == 10
    assert (row["rate"], row["least"], row["most"]) == pytest.approx((0.2, 0.16, 0.26))
    assert row["low"] == share_interval(16, 100)[0]
    assert row["high"] == share_interval(26, 100)[1]
    in_play = rate(counts, "hard", "in_play").table().iloc[0]
    assert in_play["in_play"] == 40
    assert in_play["rate"] == 0.4


@pytest.mark.slow
@given(st.integers(0, 30), st.integers(0, 30), st.integers(0, 30), st.integers(0, 30))
def test_unknown_hardness_keeps_the_rate_between_its_bounds(hard, soft, unknown, others):
    in_play = hard + soft + unknown
    counts = pd.DataFrame(
        {
            "hitter": ["Ada", "Ben"],
            "swings": [in_play + others, 10],
            "in_play": [in_play, 5],
            "unmeasured": [unknown, 1],
            "hard": [hard, 2],
        }
    )
    row = rate(counts, "hard", "swings").table().iloc[0]
    if not np.isnan(row["rate"]):
        assert row["least"] - 1e-12 <= row["rate"] <= row["most"] + 1e-12
        assert row["low"] <= row["least"] + 1e-12
        assert row["high"] >= row["most"] - 1e-12


def test_an_event_outside_its_denominator_is_refused(lines):
    with pytest.raises(CountsError, match="pitches per swings is no rate: not all pitches are swings"):
        rate(lines, "pitches", "swings")
    with pytest.raises(MissingColumnsError, match="no count is called 'steals'; there are: pitches, swings"):
        rate(lines, "steals", "swings")


def test_denominators_by_hand(lines):
    laid = denominators(lines, "hard")
    table = laid.table()
    assert laid.over == ("pitches", "swings", "contact", "in_play", "plate_appearances")
    assert table["per_in_play"].iloc[:3].tolist() == [0.375, 0.55, 1.0]
    assert table["rank_in_play"].iloc[:3].tolist() == [3, 2, 1]
    assert table["rank_swings"].iloc[:3].tolist() == [2, 1, 3]
    assert pd.isna(table["rank_swings"].iloc[3])


def test_per_swing_is_in_play_per_swing_times_per_in_play(lines):
    factors = denominators(lines, "hard", minimum=1).identity
    assert factors["event_per_swing"].tolist() == pytest.approx([0.15, 11 / 60, 0.04], abs=1e-15)


def test_denominators_read_in_plain_english(lines):
    first = str(denominators(lines, "hard", ("swings", "in_play", "takes"), minimum=1)).splitlines()[:4]
    assert first == [
        "hard-hit balls over 2 denominators; each rate with its rank",
        "  per swing: Ben leads, .183 of 60",
        "  per ball in play: Cy leads, 1.000 of 1",
        "  not shown: per take (not among the counts)",
    ]
    shown = denominators(lines, "hard")._repr_html_()
    assert shown.startswith("<p>hard-hit balls over 5 denominators; each rate with its rank</p>")
    assert "<b>" not in shown


def test_equal_rates_share_the_better_rank():
    lines = pd.DataFrame({"hitter": ["A", "B", "C"], "swings": [10, 20, 30], "hard": [2, 4, 3]})
    assert denominators(lines, "hard", ("swings",)).table()["rank_swings"].tolist() == [1, 1, 3]


def test_no_denominator_at_all_is_refused(lines):
    with pytest.raises(MissingColumnsError, match="none of the denominators takes was counted"):
        denominators(lines, "hard", ("takes",))


def test_a_denominator_that_an_event_is_no_part_of_is_left_out():
    table = {
        "hitter": ["Ada", "Bo"],
        "whiffs": [9, 1],
        "pitches": [40, 40],
        "swings": [20, 20],
        "in_play": [4, 9],
    }
    laid = denominators(pd.DataFrame(table), "whiffs", over=("pitches", "swings", "in_play"))
    assert laid.over == ("pitches", "swings")
    assert laid.left_out["in_play"] == "not all whiffs are balls in play"
    with pytest.raises(MissingColumnsError):
        denominators(pd.DataFrame(table), "whiffs", over=("in_play",))
