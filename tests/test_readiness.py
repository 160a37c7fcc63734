"""Ready for the fastball: parts of the zone, what became of the swings, and which way the fouls went."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.approach.readiness import fastball_readiness, zone_parts
from hitlab.counting.places import Borders
from hitlab.errors import CountsError, MissingColumnsError, UnknownHitterError


@pytest.fixture(scope="module")
def season() -> pd.DataFrame:
    return pd.read_parquet(hitlab.demo_season())


def test_parts_of_the_zone_are_relative_to_the_hitter() -> None:
    pitches = pd.DataFrame(
        {
            "inside_in": [5.0, -5.0, 5.0, 0.0, 0.0, 14.0, np.nan, 7.0],
            "height_in": [40.0, 40.0, 22.0, 30.0, 47.0, 40.0, 30.0, 34.0],
            "zone_bottom_in": [19.0] * 7 + [17.0],
            "zone_top_in": [42.0] * 7 + [38.0],
        }
    )
    found = zone_parts(pitches).tolist()
    assert found[:6] == ["up and in", "elsewhere", "elsewhere", "over the middle", "elsewhere", "elsewhere"]
    assert found[6] is None or pd.isna(found[6])
    # 34 in is up for a hitter whose zone ends at 38 in, and not for one whose zone ends at 42 in.
    assert found[7] == "up and in"
    assert zone_parts(pitches.drop(columns=["zone_bottom_in", "zone_top_in"]))[7] == "elsewhere"
    assert zone_parts(pitches, Borders(in_from_in=6.0))[0] == "elsewhere"


def test_the_counts_are_those_of_the_tally(season: pd.DataFrame) -> None:
    found = fastball_readiness(season)
    import narwhals as nw

    fastballs = ["four-seam fastball", "sinker", "cutter"]
    counts = hitlab.tally(season, where=nw.col("pitch_kind").is_in(fastballs)).table()
    both = found.table().merge(counts, on="hitter_id", suffixes=("", "_tally"))
    assert len(both) == len(counts)
    for ours, theirs in (("swings", "swings"), ("whiffs", "whiffs"), ("fouls", "fouls"), ("fair", "in_play")):
        assert (both[ours] == both[theirs if ours != theirs else f"{theirs}_tally"]).all(), ours
    assert (both["hard"] == both["hard_tally"]).all()
    parts = found.parts.groupby("hitter_id")[["contact", "fair", "fouls"]].sum()
    own = found.table().set_index("hitter_id")
    assert (parts["contact"] == own["early_contact"]).all()
    assert (parts["fair"] == own["early_fair"]).all()
    deep = found.parts["two_strike_fouls"].sum() + found.parts["fouls"].sum()
    assert deep == own["fouls"].sum()


@pytest.mark.slow
def test_readiness_finds_what_the_generator_put_in(season: pd.DataFrame) -> None:
    truth = pd.read_csv(hitlab.demonstration.demo_folder() / "truth.csv")
    late = fastball_readiness(season)
    assert late.measure == "not_late"
    ours = late.table().merge(truth, on="hitter_id")
    assert ours["effect"].corr(ours["talent_readiness"]) > 0.5
    assert abs(ours["effect"].corr(ours["talent_foul"])) < 0.2  # and it is not who fouls off much
    found = fastball_readiness(season, measure="touched").table()
    both = found.merge(truth, on="hitter_id")
    # Whiffs on fastballs are where the invented league's readiness shows.
    assert both["effect"].corr(-both["whiffs_per_swing_fastball"]) > 0.5
    assert both["effect"].corr(both["talent_readiness"]) > 0.3


@pytest.mark.slow
@pytest.mark.parametrize(("size", "least"), [(1.0, 0.55), (3.0, 0.80), (0.0, None)])
def test_the_default_finds_readiness_in_leagues_of_every_size(size, least) -> None:
    """Correlation with what was built in, over three leagues; where nothing was, calls stay rare."""
    from hitlab.league.effects import Effects

    found, calls, hitters = [], 0, 0
    for seed in (31, 32, 33):
        made = hitlab.league.make_season(seed=seed, effects=Effects(readiness=size))
        ready = fastball_readiness(made.pitches)
        both = ready.table().merge(made.truth, on="hitter_id")
        calls += int(((both["chance_above"] > 0.95) | (both["chance_above"] < 0.05)).sum())
        hitters += len(both)
        if size:
            found.append(both["effect"].corr(both["talent_readiness"]))
            assert abs(both["effect"].corr(both["talent_foul"])) < 0.25
    if least is None:
        assert calls <= 0.1 * hitters
    else:
        assert np.mean(found) >= least


@pytest.mark.slow
def test_directions_are_told_or_said_to_be_missing(season: pd.DataFrame) -> None:
    found = fastball_readiness(season)
    rows = found.parts[found.parts["hitter"] == "Nadia Izezno"]
    late, early = int(rows["fouls_late"].sum()), int(rows["fouls_early"].sum())
    assert found.direction_words("Nadia Izezno").startswith(f"Nadia Izezno: of {rows['fouls'].sum()} fouls")
    assert f"{late} went to the opposite side (late), {early} to the pull side" in found.direction_words(
        "Nadia Izezno"
    )
    blind = fastball_readiness(season.drop(columns="foul_side"))
    assert "lateness cannot be told" in blind.notes[0]
    assert "lateness cannot be told" in blind.direction_words("Nadia Izezno")
    assert blind.measure == "touched"
    told = season["foul_side"].notna()
    few = season.assign(foul_side=season["foul_side"].where(~told | (np.arange(len(season)) % 3 == 0)))
    assert fastball_readiness(few).measure == "touched"
    with pytest.raises(UnknownHitterError, match="Nobody"):
        found.direction_words("Nobody")


def test_what_cannot_be_done_says_why(season: pd.DataFrame) -> None:
    with pytest.raises(MissingColumnsError, match="needs the column speed_mph"):
        fastball_readiness(season.drop(columns="speed_mph"))
    with pytest.raises(CountsError, match="the league's chances need at least"):
        fastball_readiness(season.head(300))
    with pytest.raises(CountsError, match="measure='late'"):
        fastball_readiness(season, measure="late")  # type: ignore[arg-type]


def test_missing_places_are_counted_and_left_out(season: pd.DataFrame) -> None:
    holed = season.copy()
    swings = holed["outcome"].isin(["whiff", "foul", "foul tip", "in play"])
    fast = holed["pitch_kind"].isin(["four-seam fastball", "sinker", "cutter"])
    rows = holed.index[swings & fast & ~holed["bunt"].fillna(False).astype(bool)][:25]
    holed.loc[rows, "inside_in"] = np.nan
    found = fastball_readiness(holed)
    assert found.left_out == 25
    assert any("25 swings at fastballs have no speed or place" in note for note in found.notes)
