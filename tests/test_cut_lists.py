"""Cut lists: which pitches, on which side, in which order; the table and the timeline."""

import narwhals as nw
import pandas as pd
import pytest

import hitlab
from hitlab import check_above, check_ahead, check_hot, check_leads, check_more, check_split, situation, tally
from hitlab.approach.patterns import after, find_sequences, swing, whiff
from hitlab.approach.responses import after_whiff
from hitlab.claims.checking import check_response
from hitlab.errors import ClaimError, HitlabError, MissingColumnsError, ReadingError
from hitlab.evidence.cut_lists import AGAINST, SUPPORTS, cut_list
from hitlab.game.outcome_rates import OUTCOME_COUNTS, RESULTS_OF
from hitlab.game.outcomes import OUTS
from hitlab.league import make_season
from hitlab.pitches.schema import RESULTS
from tests import needs


@pytest.fixture(scope="module")
def season():
    return make_season(hitters=40, clubs=2, pitches=12_000, seed=8).pitches


@pytest.fixture(scope="module")
def counts(season):
    return tally(season)


@pytest.fixture(scope="module")
def who(counts):
    return counts.labels[counts.data["hard"].to_numpy().argmax()]


def numbers(made):
    """Shots a side."""
    sides = made.table().drop_duplicates("shot")["side"].value_counts()
    return int(sides.get(SUPPORTS, 0)), int(sides.get(AGAINST, 0))


@pytest.mark.slow
def test_a_claim_lists_what_its_own_counts_say(season, counts, who):
    for claim in (check_above(counts, who, 0.16), check_leads(counts, who, about="record")):
        made = cut_list(season, claim)
        hard, swings = claim.numbers["events"], claim.numbers["exposure"]
        row = counts.data.iloc[counts.labels.index(who)]
        assert numbers(made) == (hard, swings - hard - made.unknown)
        assert made.unknown == row["unmeasured"]
        assert made.about == claim.claim
        told = made.table()
        assert set(told["hitter_id"] if "hitter_id" in told else told["hitter"]) == {who}


@pytest.mark.slow
def test_the_order_is_that_of_a_story(season, counts, who):
    told = cut_list(season, check_above(counts, who, 0.16)).table()
    assert told["place"].tolist() == list(range(1, len(told) + 1))
    sides = told["side"].tolist()
    assert sides == sorted(sides, key=[SUPPORTS, AGAINST].index)
    support = told[told["side"] == SUPPORTS]
    assert (support["why"] == "hit hard").all()
    assert support["exit_mph"].is_monotonic_decreasing
    against = told[told["side"] == AGAINST]
    reasons = ["whiff", "soft contact", "foul"]
    assert against["why"].tolist() == sorted(against["why"], key=reasons.index)
    assert against.loc[against["why"] == "soft contact", "exit_mph"].is_monotonic_increasing
    whiffs = against[against["why"] == "whiff"]
    assert whiffs["date"].is_monotonic_decreasing


def test_most_keeps_the_first_of_each_side(season, counts, who):
    claim = check_above(counts, who, 0.16)
    whole, short = cut_list(season, claim).table(), cut_list(season, claim, most=3)
    assert numbers(short) == (3, 3)
    assert short.left_out == len(whole) - 6
    for side in (SUPPORTS, AGAINST):
        expected = whole.loc[whole["side"] == side, "row"].head(3).tolist()
        assert short.data.loc[short.data["side"] == side, "row"].tolist() == expected


def test_two_hitters_stand_against_each_other(season, counts, who):
    rival = next(label for label in counts.labels if label != who)
    claim = check_ahead(counts, who, rival, about="record")
    made = cut_list(season, claim)
    hard = counts.data["hard"].to_numpy()
    assert numbers(made) == (hard[counts.labels.index(who)], hard[counts.labels.index(rival)])


def test_a_split_needs_its_situation_and_looks_at_both_parts(season, counts, who):
    breaking = situation("pitch_kind=breaking")
    claim = check_split(counts, who, inside=tally(season, where=breaking), situation=breaking.words)
    with pytest.raises(ClaimError, match="situation="):
        cut_list(season, claim)
    made = cut_list(season, claim, situation=breaking)
    inside, outside = claim.numbers["events"], claim.numbers["rest_events"]
    support, against = numbers(made)
    assert support == inside
    elsewhere = made.data["why"].str.endswith(", but not against breaking balls")
    assert elsewhere.sum() == outside
    assert against > outside
    same = cut_list(season, breaking, hitter=who)
    pd.testing.assert_frame_equal(made.table(), same.table())


def test_a_pattern_lists_both_pitches_of_each_shot(season):
    pattern = after(whiff(kind="breaking")).then(swing(kind="fastball"))
    found = find_sequences(season, pattern)
    for what in (pattern, found):
        made = cut_list(season, what)
        assert numbers(made) == (len(found), found.chances - len(found))
        told = made.table()
        assert len(told) == 2 * found.chances
        assert told["why"].iloc[0] == "a whiff on a breaking ball"
        pairs = told.groupby("shot")["row"].agg(list)
        expected = found.table().sort_values("row")[["first_row", "row"]].to_numpy().tolist()
        assert sorted(pairs.iloc[: len(found)].tolist()) == sorted(expected)
    assert not len(cut_list(season, after(whiff(kind="knuckleball", balls=3)).then(swing(kind="sinker"))))


@pytest.mark.parametrize("response", ["whiff", "hard", "same kind"])
def test_a_response_lists_as_many_as_it_counted(season, counts, response):
    claim = check_response(counts, responses=after_whiff(season), response=response, about="record")
    support, against = numbers(cut_list(season, claim))
    yes, all_of_them = claim.numbers["events"], claim.numbers["exposure"]
    if claim.numbers["direction"] == "less":
        support, against = against, support
    # The claim leaves out pitches with a bunt before or on them and a change of pitcher.
    assert yes <= support <= yes + 10
    assert all_of_them - yes <= against <= all_of_them - yes + 40


def test_the_csv_is_harmless_and_comes_back(season, counts, who, tmp_path):
    odd = season.assign(clip="=cmd|' /C calc'!A0", half=season["half"].where(season.index > 5, "-2+3"))
    made = cut_list(odd, check_above(counts, who, 0.16))
    back = pd.read_csv(made.save(tmp_path / "list.csv"))
    assert (back["clip"] == "'=cmd|' /C calc'!A0").all()
    assert back["row"].tolist() == made.data["row"].tolist()
    assert made.without_time_code == len(made)


def test_the_timeline_comes_back_through_opentimelineio(season, counts, who, tmp_path):
    otio = needs.package("opentimelineio")
    frame = season.copy()
    frame["clip"] = "game one.mov 00:12:31:05"
    frame.loc[frame["pitch"] == 2, "clip"] = "b.mp4 01:00:00"
    frame.loc[frame["pitch"] == 3, "clip"] = "b.mp4 00:00:01.50"
    frame.loc[frame["pitch"] == 4, "clip"] = "somewhere on tape 7"
    made = cut_list(frame, check_above(counts, who, 0.16))
    path = made.save(tmp_path / "list.otio", frames_per_second=25, before_s=3, after_s=5)
    timeline = otio.adapters.read_from_file(str(path))
    clips = list(timeline.find_clips())
    kept = made.data[made.data["time_code"].notna()]
    assert len(clips) == len(kept) == len(made) - made.without_time_code
    assert made.without_time_code == (made.data["pitch"] == 4).sum() > 0
    starts = {"00:12:31:05": (751 - 3) * 25 + 5, "01:00:00": 3597 * 25, "00:00:01.50": 0}
    lengths = {"00:12:31:05": 200, "01:00:00": 200, "00:00:01.50": 162}
    for clip, row in zip(clips, kept.to_dict("records"), strict=True):
        assert clip.media_reference.target_url == row["file"]
        assert clip.source_range.start_time == otio.opentime.RationalTime(starts[row["time_code"]], 25)
        assert clip.source_range.duration.value == lengths[row["time_code"]]
        told = clip.metadata["hitlab"]
        assert (told["place"], told["side"], told["row"]) == (row["place"], row["side"], row["row"])
    assert {"game one.mov", "b.mp4"} == set(kept["file"])
    assert timeline.metadata["hitlab"]["about"] == made.about


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "clip",
    ["game.mp4", "00:12:31:05", "game.mp4 12:31", "game.mp4 00:61:00", "game.mp4 00:12:31:5", "", None],
)
def test_other_clips_are_without_time_code(season, counts, who, clip, tmp_path):
    needs.package("opentimelineio")
    made = cut_list(season.assign(clip=clip), check_above(counts, who, 0.16), most=2)
    assert made.without_time_code == len(made) == 4
    with pytest.raises(ClaimError, match="accepted form"):
        made.save(tmp_path / "list.otio")


def test_a_frame_that_cannot_be_is_refused(season, counts, who, tmp_path):
    needs.package("opentimelineio")
    made = cut_list(season.assign(clip="a.mp4 00:00:10:29"), check_above(counts, who, 0.16), most=1)
    made.save(tmp_path / "list.otio")
    with pytest.raises(ClaimError, match="frames_per_second"):
        made.save(tmp_path / "list.otio", frames_per_second=25)


def test_what_it_prints(season, counts, who):
    made = cut_list(season, check_above(counts, who, 0.16), most=1)
    text = str(made)
    assert text.startswith(
        f"Cut list: {who}'s true rate of hard-hit balls per swing is above .160\n1 for it, 1 against"
    )
    assert "hit hard" in text
    assert "The first" not in text
    whole = cut_list(season, check_above(counts, who, 0.16), most=None)
    assert f"\nThe first 12 of {len(whole.data):,} pitches:\n" in str(whole)
    page = cut_list(season.assign(clip="<script>"), check_above(counts, who, 0.16), most=1)._repr_html_()
    assert "&lt;script&gt;" in page
    assert "<script>" not in page


def test_bad_input_is_refused_with_the_way_out(season, counts, who, tmp_path):
    claim = check_above(counts, who, 0.16)
    for call, words in (
        (lambda: cut_list(season, "leads"), "has no cut list"),
        (lambda: cut_list(season, claim, most=0), "most=0"),
        (lambda: cut_list(season[season["hitter"] == "x"], claim), "nobody in this table is called"),
        (lambda: cut_list(season, claim).save(tmp_path / "list.pdf"), "saved as .csv"),
    ):
        with pytest.raises(HitlabError, match=words):
            call()
    with pytest.raises(ReadingError, match="cannot be written"):
        cut_list(season, claim).save(tmp_path / "nowhere" / "list.csv")
    with pytest.raises(MissingColumnsError, match="pitch_kind"):
        cut_list(season.drop(columns="pitch_kind"), situation("pitch_kind=slider"), hitter=who)


@pytest.mark.slow
def test_a_hot_streak_lists_the_last_games(season, who):
    games = tally(season, by=["hitter", "hitter_id", "game", "date"])
    claim = check_hot(games, who)
    made = cut_list(season, claim)
    last = claim.evidence.iloc[-1]
    assert numbers(made) == (last["hard"], last["swings"] - last["hard"] - made.unknown)
    days = pd.to_datetime(made.table()["date"])
    assert days.between(last["from"], last["to"]).all()
    assert "in the last games support it" in made.rule
    with pytest.raises(MissingColumnsError, match="told by date"):
        cut_list(season.drop(columns="date"), claim)


def test_a_change_since_a_day_lists_both_sides_of_it(season, who):
    day = str(pd.to_datetime(season["date"]).quantile(0.5).date())
    later = situation(f"date>={day}")
    before, now = (
        tally(season, where=nw.col("date") < pd.Timestamp(day)),
        tally(season, where=later),
    )
    claim = check_more(now, who, before=before, than=f"before {day}")
    told = cut_list(season, claim, situation=later).table()
    since = pd.to_datetime(told["date"]) >= pd.Timestamp(day)
    assert (told["side"] == SUPPORTS).sum() == claim.numbers["events"]
    assert since[told["side"] == SUPPORTS].all()
    assert (~since).sum() == claim.numbers["before_events"]
    assert (told["side"][~since] == AGAINST).all()
    with pytest.raises(ClaimError, match=r"situation=situation\(.date>=2031-05-15.\)"):
        cut_list(season, claim)


@pytest.fixture(scope="module")
def spot_claim():
    return hitlab.check_spot(hitlab.demo_season(), hitlab.game.Spot(-1, 2, "first second"), "Izezno")


def test_a_spot_shows_what_the_hitter_did_with_these_bases_and_outs(spot_claim):
    season = hitlab.demo_season()
    cuts = hitlab.cut_list(season, spot_claim)
    pitches = pd.read_parquet(season)
    there = pitches[
        (pitches["hitter"] == "Nadia Izezno")
        & (pitches["outs"] == 2)
        & (pitches["bases"] == "first second")
        & pitches["result"].notna()
    ]
    table = cuts.table()
    assert sorted(table["row"]) == sorted(there.index)
    out = [result for count in OUTCOME_COUNTS[:OUTS] for result in RESULTS_OF[count]]
    reached = ~there["result"].isin(out)
    assert set(table.loc[table["side"] == "supports", "row"]) == set(there.index[reached])
    assert dict(zip(table["row"], table["why"], strict=True)) == there["result"].to_dict()
    with pytest.raises(MissingColumnsError, match="bases"):
        hitlab.cut_list(pitches.drop(columns="bases"), spot_claim)


def test_the_sides_of_a_spot_are_those_on_which_the_claim_counts(spot_claim):
    """Reaching on an error is no out there, a sacrifice fly is one, and a bunt is none of the nine."""
    there = {"hitter": "Nadia Izezno", "outs": 2, "bases": "first second", "outcome": "in play"}
    cuts = cut_list(pd.DataFrame([{**there, "result": result} for result in RESULTS]), spot_claim)
    sides = dict(zip(cuts.data["why"], cuts.data["side"], strict=True))
    outs = {result for count in OUTCOME_COUNTS[:OUTS] for result in RESULTS_OF[count]}
    assert sides["error"] == SUPPORTS
    assert {result for result, side in sides.items() if side == AGAINST} == outs
    assert set(sides) == {result for results in RESULTS_OF.values() for result in results}
    assert all(result in cuts.rule for result in sides)
