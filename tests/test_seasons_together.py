"""One season of a folder with the ones before it as history, a career, and what is not pooled with either."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pytest
from pyarrow import parquet

import hitlab
from hitlab.claims.setting import Setting
from hitlab.cli.commands import run
from hitlab.counting import Counts, kept_counts, tallies
from hitlab.errors import ClaimError, ReadingError
from hitlab.evidence.shots import of_claim
from hitlab.over_time.seasons import each_season, moved, seasons_of
from hitlab.pitches import kept_files, sealing, season_folder, write_checked
from hitlab.questions import Question, finely

HITTERS = 24
WHO, VALUE = "Hitter 3", 0.24
pytestmark = pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")


def talents(rng: np.random.Generator, seasons: int, kept: float, hitters: int, spread: float = 0.35) -> Any:
    """Draw log odds by season and hitter, of which a share is kept from one season to the next."""
    drawn = [rng.normal(0, spread, hitters)]
    for _ in range(seasons - 1):
        drawn.append(kept * drawn[-1] + rng.normal(0, spread * np.sqrt(1 - kept**2), hitters))
    return np.array(drawn) - 1.2


def chance(log_odds: Any) -> Any:
    """Return chances from log odds."""
    return 1 / (1 + np.exp(-np.asarray(log_odds)))


def season(year: int, events: Any, swings: Any, **columns: Any) -> pd.DataFrame:
    """Lay out so many swings a hitter over ten games, the events first: whiffs, or hard balls in play."""
    who = np.repeat(np.arange(len(swings)), swings)
    number = np.concatenate([np.arange(many) for many in swings])
    happened = number < np.repeat(events, swings)
    game = number % 10
    struck = "exit_mph" in columns or "hard" in columns
    table = pd.DataFrame(
        {
            "game": [f"{year}, {one}" for one in game],
            "date": pd.Timestamp(f"{year}-05-01") + pd.to_timedelta(game, unit="D"),
            "hitter_id": [f"h{one}" for one in who],
            "hitter": [f"Hitter {one}" for one in who],
            "club": "Larks" if year % 2 else "Wrens",
            "outcome": "in play" if struck else np.where(happened, "whiff", "foul"),
        }
    )
    for name, value in columns.items():
        if name == "exit_mph":
            table[name] = np.where(happened, 100.0, 80.0)
        elif name == "hard":
            table[name] = happened
        else:
            table[name] = value if isinstance(value, str) else np.asarray(value)[who]
    return table


@pytest.fixture(scope="module")
def frames() -> dict[int, pd.DataFrame]:
    """Three seasons of whiffs; clubs change every year."""
    return make(range(2029, 2032))


def make(years: Any, seed: int = 3, **columns: Any) -> dict[int, pd.DataFrame]:
    """Draw seasons of the same hitters, by year."""
    rng = np.random.default_rng(seed)
    drawn = talents(rng, len(years), 0.9, HITTERS)
    swings = rng.integers(30, 90, (len(years), HITTERS))
    rows = zip(years, rng.binomial(swings, chance(drawn)), swings, strict=True)
    return {year: season(year, events, many, **columns) for year, events, many in rows}


def saved(frames: dict[int, pd.DataFrame], folder: Path) -> Path:
    """Save each season in a file of its own."""
    folder.mkdir()
    for year, frame in frames.items():
        write_checked(frame, folder / f"season-{year}.parquet")
    return folder


@pytest.fixture(scope="module")
def store(frames: dict[int, pd.DataFrame], tmp_path_factory: pytest.TempPathFactory) -> Path:
    return saved(frames, tmp_path_factory.mktemp("seasons") / "store")


def above(table: Any, **asked: Any) -> hitlab.Claim:
    """Ask whether one hitter misses more often than a value."""
    return hitlab.check_above(table, WHO, VALUE, **{"event": "whiffs", **asked})


def noted(claim: hitlab.Claim) -> str:
    """Return all that is noted."""
    return "; ".join(claim.notes)


# A season and its history.


def test_a_season_of_a_folder_has_the_ones_before_it_as_history(store, frames):
    told = above(store, season="2031")
    by_hand = above(frames[2031], earlier=[frames[2030], frames[2029]])
    assert told.chance == by_hand.chance
    assert told.numbers["exposure"] == (frames[2031]["hitter"] == WHO).sum()
    assert "2030 and 2029 are the history of 2031, and 24 of 24 have one" in noted(told)
    assert "a hitter who changed clubs stays one" in noted(told)
    assert "in 2031" in told.say
    assert "one of the last season's swings" in "; ".join(told.assumptions)


def test_what_comes_after_a_season_says_nothing_of_it(store, frames):
    told = above(store, season="2030")
    assert told.chance == above(frames[2030], earlier=frames[2029]).chance
    assert "2029 is the history of 2030" in noted(told)


def test_a_season_by_itself_is_its_own_table(store, frames):
    told = above(store, season="2031", history="none")
    assert told.chance == above(frames[2031]).chance
    assert "2031 stands alone, as was asked" in noted(told)
    first = above(store, season=2029)
    assert "2029 stands alone: nobody in it has a record before it that could be its history" in noted(first)
    assert first.chance == above(frames[2029]).chance


def test_a_frame_of_several_seasons_will_do_as_well(store, frames):
    whole = pd.concat(frames.values())
    assert above(whole, season="2031").chance == above(store, season="2031").chance


def test_asked_again_it_is_the_same_and_another_history_is_refused(store, frames):
    claim = above(store, season="2031")
    question = Question.from_dict(json.loads(json.dumps(claim.question.to_dict())))
    again = question.ask(store)
    assert (again.chance, again.question) == (claim.chance, claim.question)
    with pytest.raises(ClaimError, match=r"was asked with the history .* what the table has now is another"):
        question.ask(pd.concat([frames[2030], frames[2031]]))


def test_the_command_asks_the_same(store, capsys):
    asked = ["check", "above", *WHO.split(), str(VALUE), "--file", str(store), "--event", "whiffs", "--json"]
    run([*asked, "--season", "2031"])
    assert json.loads(capsys.readouterr().out)["chance"] == above(store, season="2031").chance
    run([*asked, "--season", "2031", "--history", "none"])
    told = json.loads(capsys.readouterr().out)
    assert told["chance"] == above(store, season="2031", history="none").chance
    assert run([*asked, "--season", "2027"]) == 2
    said = capsys.readouterr().err
    assert "--season '2027': the table's seasons are 2029, 2030 and 2031" in " ".join(said.split())


def test_what_cannot_be_asked_of_seasons_is_said(store, frames):
    for kind in ("hot", "steady"):
        with pytest.raises(ClaimError, match=r"give one season, such as season='2031'"):
            Question(kind=kind, who=WHO, event="whiffs", season="career").ask(store)
    with pytest.raises(ClaimError, match="leave earlier= out"):
        above(store, season="2031", earlier=frames[2030])
    with pytest.raises(ClaimError, match="give season="):
        above(store, history="none")
    with pytest.raises(ClaimError, match="a career is all seasons"):
        above(store, season="career", history="none")
    with pytest.raises(ClaimError, match="needs the column date"):
        above(frames[2031].drop(columns="date"), season="2031")


def test_who_is_who_is_told_by_ids_and_by_names_only_where_that_is_said(frames):
    whole = pd.concat(frames.values()).drop(columns="hitter_id")
    for asked in ({"season": "2031"}, {"season": "career"}):
        with pytest.raises(ClaimError, match="no hitter_id tells who is who over several seasons"):
            above(whole, **asked)
    by_id = above(pd.concat(frames.values()), season="2031").chance
    assert above(whole, season="2031", history="names").chance == by_id
    assert above(whole, season="2031", history="none").chance is not None


def test_a_name_that_changes_with_the_id_kept_is_one_hitter(frames):
    renamed = frames[2030].assign(hitter=frames[2030]["hitter"] + " Senior")
    told = above(pd.concat([renamed, frames[2031]]), season="2031")
    assert told.chance == above(frames[2031], earlier=frames[2030]).chance


def test_seasons_over_the_new_year_are_told_by_their_column(frames):
    winter = frames[2030].assign(date=frames[2030]["date"] + pd.Timedelta(days=300), season="2030-31")
    summer = frames[2031].assign(season="2031-32")
    told = above(pd.concat([winter, summer]), season="2031-32")
    assert told.chance == above(frames[2031], earlier=frames[2030]).chance
    assert "2030-31 is the history of 2031-32" in noted(told)
    assert "in the season 2031-32" in told.say_in_full
    odd = pd.concat([winter, summer.assign(season="2031,32")])
    with pytest.raises(ClaimError, match="has a comma in its name"):
        above(odd, season="2031,32")


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "names", [("Fall 2030", "Spring 2031"), ("Season 9", "Season 10"), ("20301", "20311")]
)
@pytest.mark.parametrize("asked", [0, 1, "career"])
def test_seasons_whose_names_do_not_tell_their_order_are_refused(frames, names, asked):
    whole = pd.concat([frames[2030].assign(season=names[0]), frames[2031].assign(season=names[1])])
    with pytest.raises(ClaimError, match="does not begin with its year"):
        above(whole, season=asked if asked == "career" else names[asked])
    assert above(whole[whole["season"] == names[1]], season=names[1]).chance == above(frames[2031]).chance


@pytest.mark.parametrize("kind", [int, float, object])
def test_seasons_that_are_numbers_are_to_be_read_first(frames, kind):
    years = pd.concat(frames.values()).assign(season=lambda table: table["date"].dt.year.astype(kind))
    for asked in ("2031", "career"):
        with pytest.raises(ReadingError, match=r"the column season holds .*, no texts: .* Read it first"):
            above(years, season=asked)
    read = years.assign(season=years["date"].dt.year.astype(str).astype("category"))
    told = above(read, season="2031")
    assert told.numbers["exposure"] == (frames[2031]["hitter"] == WHO).sum()


def test_days_are_days_of_the_season_that_is_asked_for(store, frames):
    first, then = above(store, season="2031", since="May 3"), above(store, season="2030", until="May 3")
    assert first.question.since == "2031-05-03"
    assert first.numbers["exposure"] == above(frames[2031], since="May 3").numbers["exposure"]
    assert then.question.until == "2030-05-03"
    assert then.numbers["exposure"] == above(frames[2030], until="May 3").numbers["exposure"]
    # "In 2031 since May the third" would be said of all of it, "in 2030 until May the third" as well.
    with pytest.raises(ClaimError, match="is in 2030, and the season's games begin on 2031-05-01"):
        above(store, season="2031", since="2030-05-03")
    with pytest.raises(ClaimError, match="is in 2031, and the season's games end on 2030-05-10"):
        above(store, season="2030", until="2031-05-03")
    with pytest.raises(ClaimError, match="is in 2032, and the table's games end on 2031-05-10"):
        above(store, season="career", until="2032-05-03")
    with pytest.raises(ClaimError, match="the season's games are from 2030-05-01 to 2030-05-10, so none"):
        above(store, season="2030", since="2031-05-03")


def test_pitches_without_a_day_are_of_no_season_and_said(frames):
    whole = pd.concat(frames.values(), ignore_index=True)
    lost = whole.index[whole["date"].dt.year == 2030][:7]
    told = above(whole.assign(date=whole["date"].where(~whole.index.isin(lost))), season="2031")
    assert "because no season is told: 7 pitches without a date" in noted(told)


def test_all_together_have_no_history_and_clubs_have_one(store, frames):
    told = hitlab.check_above(store, "league", 0.2, event="whiffs", season="2031")
    assert "2031 stands alone: all together have no history here" in noted(told)
    assert told.chance == hitlab.check_above(frames[2031], "league", 0.2, event="whiffs").chance
    club = hitlab.check_above(store, "Larks", 0.2, event="whiffs", season="2031", subject="club")
    assert "2029 is the history" not in noted(club)
    assert "2030 and 2029 are the history of 2031, and 1 of 1 have one" in noted(club)


def test_the_list_of_pitches_is_of_the_season(store, frames):
    import narwhals as nw

    whole = pd.concat(frames.values(), ignore_index=True)
    claim = above(store, season="2031")
    shots = of_claim(nw.from_native(whole), claim, None, None)
    assert set(whole["date"].dt.year.iloc[shots.last]) == {2031}


# What is kept apart.


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("column", "then", "now", "said"),
    [
        ("level", "college", "professional", "of 2029 and 2030 at the level college"),
        ("level", "", "professional", "of 2029 and 2030 without a level"),
        ("bat", "certified non-wood", "wood", "with a bat that is certified non-wood"),
    ],
)
def test_another_level_or_bat_is_another_record(frames, column, then, now, said):
    changed = {year: frame.assign(**{column: then if year < 2031 else now}) for year, frame in frames.items()}
    whole = pd.concat(changed.values())
    whole[column] = whole[column].replace("", None)
    told = above(whole, season="2031")
    assert told.chance == above(frames[2031]).chance
    assert said in noted(told)
    career = above(whole, season="career")
    assert career.numbers["exposure"] == (frames[2031]["hitter"] == WHO).sum()
    assert said in noted(career)
    assert said in noted(above(whole, season="career", about="record"))


def test_a_level_with_a_comma_in_its_name_is_refused_where_a_term_would_choose_it(frames):
    same = pd.concat([frames[2030], frames[2031]]).assign(level="college, first division")
    whole = pd.concat([frames[2029].assign(level="youth"), same])
    for asked in ("2031", "career"):
        with pytest.raises(ClaimError, match=r"the level .college, first division. has a comma in its name"):
            above(whole, season=asked)
    assert above(same, season="2031").chance == above(frames[2031], earlier=frames[2030]).chance


def test_pitches_of_the_last_season_that_a_career_leaves_out_are_said(frames):
    untold = frames[2031]["hitter_id"].isin([f"h{one}" for one in range(0, HITTERS, 2)])
    levels = np.where(untold, None, "professional")
    last = frames[2031].assign(level=levels, bat=np.where(levels == "professional", "wood", None))
    same = frames[2030].assign(level="professional", bat="wood")
    whole = pd.concat([frames[2029].assign(level="college", bat="certified non-wood"), same, last])
    career = above(whole, season="career")
    mine = career.numbers["exposure"]
    assert mine == sum((one["hitter"] == WHO).sum() for one in (frames[2030], last[~untold]))
    assert f"{untold.sum():,} pitches of 2031 without a level" in noted(career)
    assert f"{len(frames[2029]):,} pitches of 2029 at the level college" in noted(career)
    assert noted(career).count(f"{untold.sum():,} pitches of 2031") == 1
    assert "of 2031 without" not in noted(above(whole, season="2031"))  # where they are counted
    # Nothing is left out where no season before was another one.
    alone = above(pd.concat([same, last]), season="career")
    assert alone.numbers["exposure"] == sum((one["hitter"] == WHO).sum() for one in (same, last))
    assert "left out" not in noted(alone)


def test_a_season_that_is_left_out_between_two_is_not_counted_with_them(frames):
    levels = {2029: None, 2030: "college", 2031: None}
    whole = pd.concat([frame.assign(level=levels[year]) for year, frame in frames.items()])
    many = {year: (frame["hitter"] == WHO).sum() for year, frame in frames.items()}
    career = above(whole, season="career")
    assert f"{len(frames[2030]):,} pitches of 2030 at the level college; 2029, which comes" in noted(career)
    assert career.numbers["exposure"] == many[2031]
    told = above(whole.assign(season=whole["date"].dt.year.astype(str)), season="career")
    assert f"{len(frames[2030]):,} pitches of 2030 at the level college" in noted(told)
    assert told.numbers["exposure"] == many[2029] + many[2031]


def test_who_was_at_this_level_then_has_a_history_and_who_came_has_none(frames):
    young = frames[2030]["hitter_id"].isin([f"h{one}" for one in range(0, HITTERS, 2)])
    mixed = frames[2030].assign(level=np.where(young, "college", "professional"))
    whole = pd.concat([mixed, frames[2031].assign(level="professional")])
    told = above(whole, season="2031")
    assert told.chance == above(frames[2031], earlier=frames[2030][~young]).chance
    assert "and 12 of 24 have one" in noted(told)
    assert f"{young.sum():,} pitches of 2030 at the level college" in noted(told)


def test_a_season_of_two_levels_is_asked_which(frames):
    young = frames[2031]["hitter_id"].isin(["h1", "h2"])
    mixed = frames[2031].assign(level=np.where(young, "college", "professional"))
    whole = pd.concat([frames[2030].assign(level="professional"), mixed])
    with pytest.raises(ClaimError, match=r"2031 has more than one level \(college and professional\)"):
        above(whole, season="2031")
    told = above(whole, season="2031", when="level=professional")
    assert told.numbers["exposure"] == (frames[2031]["hitter"] == WHO).sum()


@pytest.fixture(scope="module")
def by_radar() -> dict[int, pd.DataFrame]:
    return make(range(2029, 2032), exit_mph=True)


def test_hard_balls_told_otherwise_are_no_history(by_radar):
    eye = by_radar[2029].assign(hard=by_radar[2029]["exit_mph"] > 95).drop(columns="exit_mph")
    flags = eye.assign(
        hard_source="radar",
        game="other " + eye["game"],
        date=eye["date"] + pd.DateOffset(years=-1),
    )
    whole = pd.concat([flags, eye, by_radar[2030], by_radar[2031]])
    told = above(whole, event="hard", season="2031")
    alone = above(pd.concat([by_radar[2030], by_radar[2031]]), event="hard", season="2031")
    assert told.chance == alone.chance
    assert "2029, where hard balls were told by eye (by speed in 2031)" in noted(told)
    assert "2028, where hard balls were told by a flag of the source (by speed in 2031)" in noted(told)
    career = above(whole, event="hard", season="career")
    assert career.numbers["exposure"] == sum(
        (f["hitter"] == WHO).sum() for y, f in by_radar.items() if y > 2029
    )
    # Whiffs are whiffs, however hard balls are told.
    assert "2030, 2029 and 2028 are the history of 2031" in noted(
        above(whole, event="in_play", season="2031")
    )


def test_a_season_partly_by_eye_is_like_no_other(by_radar):
    some = np.arange(len(by_radar[2031])) % 3 == 0
    mixed = {
        year: frame.assign(
            hard=frame["exit_mph"] > 95, exit_mph=frame["exit_mph"].where(~np.resize(some, len(frame)))
        )
        for year, frame in by_radar.items()
    }
    told = above(pd.concat(mixed.values()), event="hard", season="2031")
    assert "2031 stands alone: nobody in it has a record before it that could be its history" in noted(told)
    assert "2030, where hard balls were told partly by eye (partly by eye in 2031)" in noted(told)


# A career.


def test_a_career_is_one_record_and_said_to_be_an_average(store, frames):
    told = above(store, season="career")
    plain = above(store)
    assert told.chance == plain.chance == above(pd.concat(frames.values())).chance
    for claim in (told, plain, above(store, since="2029-01-01")):
        assert (
            "over 2029 to 2031 this rate is an average, in which each season weighs by its swings"
            in noted(claim)
        )
    assert "over the whole career" in told.say_in_full
    since = above(store, since="2030-01-01")
    assert "over 2030 and 2031 this rate is an average" in noted(since)
    assert "is an average" not in noted(above(store, since="2031-01-01"))
    assert "is an average" not in noted(above(store, season="2031"))


def years(rng: np.random.Generator, log_odds: Any, swings: int = 300) -> Counts:
    """Draw one hitter's seasons."""
    table = pd.DataFrame(
        {
            "hitter": "Hitter 3",
            "date": [pd.Timestamp(f"{2025 + place}-06-01") for place in range(len(log_odds))],
            "swings": swings,
            "whiffs": rng.binomial(swings, chance(log_odds)),
        }
    )
    return Counts.from_table(table, by=["hitter", "date"])


def _says_it_moved(counts: Counts, effect: float = 1.0) -> bool:
    return "moved by more than luck" in "; ".join(
        moved(each_season(counts, "date", "whiffs", "swings"), "swings", effect)
    )


@pytest.mark.slow
def test_a_rate_that_moved_is_found_and_luck_is_hardly_taken_for_it():
    rng = np.random.default_rng(8)
    found = sum(_says_it_moved(years(rng, [-1.6, -1.2, -0.8, -0.8])) for _ in range(40))
    falsely = sum(_says_it_moved(years(rng, [-1.2] * 4)) for _ in range(400))
    assert found >= 38
    # A test at five in a hundred: 20 of 400 expected, standard deviation 4.4.
    assert 8 <= falsely <= 33


def test_where_attempts_of_a_game_are_alike_more_is_needed():
    counts = Counts.from_table(
        pd.DataFrame(
            {
                "hitter": "Hitter 3",
                "date": pd.to_datetime(["2030-06-01", "2031-06-01"]),
                "swings": [300, 300],
                "whiffs": [60, 88],
            }
        ),
        by=["hitter", "date"],
    )
    assert _says_it_moved(counts)
    assert not _says_it_moved(counts, 3.0)
    assert moved(each_season(counts, "date", "whiffs", "swings").head(1), "swings", 1.0) == ()


def test_seasons_are_years_or_what_the_column_says():
    days = pd.Series(pd.to_datetime(["2031-01-01", None, "2030-12-31"]), name="date")
    assert seasons_of(days).tolist() == ["2031", "", "2030"]
    assert seasons_of(pd.Series(["2030-31", None], name="season")).tolist() == ["2030-31", ""]


# From what is kept of the parts.


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("asked", [{"season": "2031"}, {"season": "career"}, {"since": "2030-01-01"}, {}])
def test_no_pitches_are_counted_where_counts_are_kept(store, tmp_path, monkeypatch, asked):
    folder = Path(shutil.copytree(store, tmp_path / "store"))
    plain = above(folder, **asked).to_dict()
    for name in ("FEWEST_ROWS", "FEWEST_ROWS_OF_A_PART"):
        monkeypatch.setattr(kept_files, name, 0)
    season_folder._doubts.cache_clear()
    assert above(folder, **asked).to_dict() == plain

    def fail(*_: Any, **__: Any) -> None:
        raise AssertionError("counted from the pitches")

    for module, name in ((tallies, "cells"), (tallies, "Pitched"), (kept_counts, "_counted")):
        monkeypatch.setattr(module, name, fail)
    assert above(folder, **asked).to_dict() == plain


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "change",
    [
        lambda table: table,
        lambda table: table.drop_columns(["season"]),
        lambda table: table.set_column(2, "events", pa.array([table.column("events")[0].as_py()[1:]])),
        lambda table: table.set_column(3, "exposure", pa.array([[0] * len(table.column("exposure")[0])])),
        lambda table: table.set_column(0, "place", pa.array([[99] * len(table.column("place")[0])])),
    ],
)
def test_how_a_rate_moved_is_kept_and_forged_is_told_anew(store, tmp_path, monkeypatch, change):
    folder = Path(shutil.copytree(store, tmp_path / "store"))
    for name in ("FEWEST_ROWS", "FEWEST_ROWS_OF_A_PART"):
        monkeypatch.setattr(kept_files, name, 0)
    plain = above(folder).to_dict()
    (path,) = (folder / kept_files.FOLDER).glob("seasons-*.parquet")
    whole = path.read_bytes()
    told = parquet.read_table(path)
    forged = change(told)
    with path.open("w+b") as file:
        parquet.write_table(forged.replace_schema_metadata(told.schema.metadata), file, compression="zstd")
        sealing.seal(file)
    if forged is told:
        monkeypatch.setattr(finely, "by_season", None)  # nothing is counted by season
    assert above(folder).to_dict() == plain
    assert forged is told or path.read_bytes() == whole


# What it is good for, in leagues that were drawn.


def league(rng: np.random.Generator, seasons: int, kept: float, hitters: int = 150) -> list[pd.DataFrame]:
    """Draw seasons of counts with their true rates, the last one last; the league's level moves, too."""
    drawn = talents(rng, seasons, kept, hitters)
    found = []
    for log_odds in drawn:
        true, swings = chance(log_odds + rng.normal(0, 0.1)), rng.integers(40, 500, hitters)
        names = [f"h{one}" for one in range(hitters)]
        found.append(
            pd.DataFrame(
                {"hitter": names, "swings": swings, "whiffs": rng.binomial(swings, true), "true": true}
            )
        )
    return found


def fitted(seasons: list[pd.DataFrame]) -> hitlab.Fit:
    """Fit the last season, the ones before it as its history."""
    now, *before = [one.drop(columns="true") for one in reversed(seasons)]
    return hitlab.shrink(now, "whiffs", "swings", level=0.9, **({"earlier": before} if before else {}))


def scored(fit: hitlab.Fit, true: pd.Series[float]) -> tuple[float, float]:
    """Return the mean squared error, and how many of the intervals hold the truth."""
    inside = fit.data["low"].le(true) & true.le(fit.data["high"])
    return float(((fit.data["shrunk"] - true) ** 2).mean()), float(inside.mean())


@pytest.mark.slow
@pytest.mark.parametrize(("kept", "most"), [(0.9, 0.85), (0.6, 1.0)])
def test_history_makes_a_season_s_rates_better_and_intervals_hold(kept, most):
    rng = np.random.default_rng(11)
    rows = []
    for _ in range(24):
        seasons = league(rng, 4, kept)
        true = seasons[-1]["true"]
        rows.append((*scored(fitted(seasons), true), *scored(fitted(seasons[-1:]), true)))
    error, coverage, error_alone, coverage_alone = np.mean(rows, axis=0)
    assert np.sqrt(error / error_alone) < most
    assert 0.88 <= coverage <= 0.92
    assert 0.88 <= coverage_alone <= 0.92


def worth_in(fit: hitlab.Fit) -> float:
    """Return what an attempt of last season was found to be worth."""
    told = fit.weighed["option"].str.extract(r"last season's counts ([\d.]+)")[0].astype(float).fillna(0.0)
    return float((told * fit.weighed["chance"]).sum())


def worth_between(kept: float, spread: float = 0.35, rate: float = 0.24) -> tuple[float, float]:
    """Return what an attempt a season ago is worth: by what it tells of the mean, and of what is unknown.

    In attempts, the talents' spread is worth ``m``. Last season's ``n`` attempts tell a share ``n / (n + m)``
    of last season's talent, of which ``kept`` is left; so many attempts of now would tell as much.
    """
    m, n = 1 / (rate * (1 - rate) * spread**2), 270
    told = n / (n + m)
    by_mean = m * kept * told / (1 - kept * told) / n
    by_rest = m * (1 / (1 - kept**2 * told) - 1) / n
    return min(by_mean, by_rest), max(by_mean, by_rest)


@pytest.mark.slow
@pytest.mark.parametrize("kept", [0.0, 0.6, 0.75, 0.9])
def test_the_forgetting_that_is_fitted_is_the_one_that_was_built_in(kept):
    rng = np.random.default_rng(12)
    worth = [worth_in(fitted(league(rng, 2, kept))) for _ in range(24)]
    least, most = worth_between(kept)
    error = np.std(worth, ddof=1) / np.sqrt(len(worth))
    assert least - 2 * error - 0.02 <= np.mean(worth) <= most + 2 * error + 0.02


@pytest.mark.slow
def test_where_nothing_is_forgotten_an_attempt_then_is_nearly_one_of_now():
    """The worths that are weighed end at 1, and the last but one is .8: an average of them stays below 1."""
    rng = np.random.default_rng(15)
    assert np.mean([worth_in(fitted(league(rng, 2, 1.0))) for _ in range(12)]) > 0.85


@pytest.mark.slow
def test_a_change_of_level_does_not_mislead_where_pooled_blindly_it_would():
    """Every fifth hitter came from a level at which far fewer are missed."""
    rng = np.random.default_rng(13)
    apart, blind = [], []
    for _ in range(4):
        drawn = talents(rng, 2, 0.9, 80)
        came = np.arange(80) % 5 == 0
        swings = rng.integers([[150], [30]], [[250], [80]], (2, 80))
        before = season(2030, rng.binomial(swings[0], chance(drawn[0] - 0.8 * came)), swings[0])
        now = season(2031, rng.binomial(swings[1], chance(drawn[1])), swings[1], level="professional")
        from_college = before["hitter_id"].isin([f"h{one}" for one in np.flatnonzero(came)])
        told = before.assign(level=np.where(from_college, "college", "professional"))
        for found, then in ((apart, told), (blind, before.assign(level="professional"))):
            question = Question(
                kind="above", who=WHO, event="whiffs", season="2031", options={"value": VALUE}
            )
            fit = Setting.asked(question, pd.concat([then, now])).fit
            place = fit.data["hitter_id"].str[1:].astype(int).to_numpy()
            off = fit.data["shrunk"].to_numpy() - chance(drawn[1])[place]
            found.append(float(off[came[place]].mean()))
    error = np.std(apart, ddof=1) / np.sqrt(len(apart))
    assert abs(np.mean(apart)) < max(2 * error, 0.008)
    # So that the test tells: put in one, those who came would be taken for better than they are.
    assert np.mean(blind) < -0.015


@pytest.mark.slow
def test_the_store_gives_the_same_rates_as_the_counts(tmp_path):
    rng = np.random.default_rng(14)
    seasons = league(rng, 3, 0.9, 60)
    frames = {
        2029 + place: season(2029 + place, one["whiffs"], one["swings"]) for place, one in enumerate(seasons)
    }
    store = saved(frames, tmp_path / "store")
    question = Question(
        kind="above", who=WHO, event="whiffs", season="2031", independent=True, options={"value": VALUE}
    )
    fit = Setting.asked(question, store).fit
    by_counts = fitted(seasons).data.assign(hitter_id=lambda table: table["hitter"]).set_index("hitter_id")
    shrunk = by_counts.loc[fit.data["hitter_id"], "shrunk"].to_numpy()
    np.testing.assert_allclose(fit.data["shrunk"].to_numpy(), shrunk, rtol=1e-9)
