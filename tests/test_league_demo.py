"""The committed demo is what the command makes, and its files read as they say."""

from pathlib import Path

import pandas as pd
import pytest

from hitlab.league import make_demo
from hitlab.league.demo import DEMO_FILES
from hitlab.league.names import CLUBS, LONG_NAME, SHARED_NAME
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.storing import is_checked

DEMO = Path(__file__).parents[1] / "data_demo"


@pytest.fixture(scope="module")
def season():
    return pd.read_parquet(DEMO / "season.parquet")


@pytest.fixture(scope="module")
def week():
    return read_pitches(DEMO / "week.csv", mapping=DEMO / "week.toml")


@pytest.mark.slow
def test_the_command_makes_the_committed_files_again(tmp_path):
    made = make_demo(tmp_path / "demo")
    assert [file.name for file in made] == list(DEMO_FILES)
    pd.testing.assert_frame_equal(pd.read_parquet(made[0]), pd.read_parquet(DEMO / "season.parquet"))
    for name in ("week.csv", "week.toml", "README.md"):
        assert (tmp_path / "demo" / name).read_text("utf-8") == (DEMO / name).read_text("utf-8")
    # Another processor may round the last place of a true rate the other way.
    pd.testing.assert_frame_equal(
        pd.read_csv(tmp_path / "demo" / "truth.csv"), pd.read_csv(DEMO / "truth.csv"), rtol=0, atol=2e-5
    )


def test_the_season_carries_the_schema_mark_and_is_small(season):
    assert is_checked(DEMO / "season.parquet")
    assert (DEMO / "season.parquet").stat().st_size < 4_000_000
    assert 95_000 < len(season) < 105_000
    assert season["club"].nunique() == 10


def test_truth_and_season_speak_of_the_same_hitters(season):
    truth = pd.read_csv(DEMO / "truth.csv")
    assert set(season["hitter_id"]) == set(truth["hitter_id"])
    names = season.drop_duplicates("hitter_id").set_index("hitter_id")["hitter"]
    assert names.sort_index().equals(truth.set_index("hitter_id")["hitter"].sort_index().astype(names.dtype))


def test_the_readme_states_the_size_and_the_columns(season):
    text = (DEMO / "README.md").read_text("utf-8")
    assert f"{len(season):,} pitches of {season['game'].nunique()} games" in text
    for column in pd.read_csv(DEMO / "truth.csv", nrows=1).columns:
        assert f"- `{column}`" in text


def test_two_hitters_of_different_clubs_share_a_name(season):
    people = season.drop_duplicates("hitter_id")
    shared = people[people["hitter"] == SHARED_NAME]
    assert len(shared) == 2
    assert shared["club"].nunique() == 2
    others = people.loc[people["hitter"] != SHARED_NAME, "hitter"]
    assert others.is_unique
    assert LONG_NAME in set(others)
    assert not set(people["hitter"]) & set(season["pitcher"])
    assert set(people["club"]) == set(CLUBS[:10])


def test_the_coach_s_sheet_reads_whole_and_agrees_with_the_season(season, week):
    assert len(week.set_aside) == 0
    assert week.report.values_made_missing == 0
    key = ["game", "plate_appearance", "pitch"]
    both = week.table.merge(season, on=key, suffixes=("", "_true"))
    assert len(both) == len(week.table) > 1_000
    for column in ("hitter", "outcome", "pitch_kind", "hitter_side", "balls", "strikes", "bunt", "clip"):
        same = both[column].astype(object).eq(both[f"{column}_true"].astype(object))
        assert (same | (both[column].isna() & both[f"{column}_true"].isna())).all(), column
    assert both["result"].fillna("").eq(both["result_true"].fillna("")).all()
    # Written down to 1 cm and 1 km/h, from tenths of an inch and of a mile an hour; and with a zero behind
    # the point, within half of which the roundest value is read.
    for column, half_step in (
        ("inside_in", 0.55 / 2.54),
        ("height_in", 0.55 / 2.54),
        ("speed_mph", 0.55 / 1.609344),
    ):
        assert (both[column] - both[f"{column}_true"]).abs().max() <= half_step + 1e-9


def test_the_coach_s_eye_is_good_but_not_a_radar(season, week):
    both = week.table.merge(season[["game", "plate_appearance", "pitch", "exit_mph"]])
    measured = both[both["exit_mph"].notna()]
    agree = measured["hard"].astype(bool) == (measured["exit_mph"] >= 95)
    assert 0.85 < agree.mean() < 1
    assert (week.table["hard_source"].dropna() == "eye").all()
