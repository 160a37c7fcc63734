"""The claim "missed one badly and then did not miss the next": verdicts, sentences, one hitter and all."""

from itertools import product

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from hitlab import tally
from hitlab.approach.responses import after_whiff
from hitlab.claims.checking import check_response
from hitlab.claims.verdicts import MEASURE_MORE
from hitlab.errors import ClaimError, UnknownHitterError
from hitlab.league import make_season
from tests.test_responses_power import pitch_table
from tests.visits import draw


@pytest.fixture(scope="module")
def season():
    return make_season(hitters=40, clubs=2, pitches=12_000, seed=8).pitches


@pytest.fixture(scope="module")
def counts(season):
    return tally(season)


@pytest.fixture(scope="module")
def told(season):
    return after_whiff(season)


@pytest.mark.slow
def test_all_hitters_are_decided_by_the_difference(counts, told):
    claim = check_response(counts, responses=told)
    row = told.of("whiff")
    assert claim.chance == pytest.approx(stats.norm.cdf(-row["log_odds_ratio"] / row["error"]), rel=1e-9)
    more = check_response(counts, responses=told, direction="more")
    assert more.chance == pytest.approx(1 - claim.chance, abs=1e-12)
    assert claim.claim == (
        "hitters as a group swing and miss at the next pitch less often after a whiff than after another "
        "strike that brings the same count"
    )
    likely = {
        "holds": "is most likely true",
        "does not hold": "is most likely not true",
        "open": "may be true" if claim.chance >= 0.5 else "is more likely not true",
    }
    assert claim.say_in_full.startswith(f"It {likely[claim.verdict]} that {claim.claim}, judging by ")
    assert claim.became.empty


def test_a_strong_effect_holds_and_its_opposite_does_not():
    league = pitch_table(draw(150_000, 6, hitters=60, effect=-0.5)).astype({"hitter": str})
    counts, told = tally(league), after_whiff(league, responses=("whiff",))
    claim = check_response(counts, responses=told)
    assert claim.verdict == "holds"
    assert any("22 % had such a verdict" in note for note in claim.notes)
    assert check_response(counts, responses=told, direction="more").verdict == "does not hold"
    one = check_response(counts, counts.labels[0], responses=told)
    assert one.verdict == "holds"
    assert "is most likely true that" in one.say_in_full


@pytest.mark.slow
def test_one_hitter_is_pulled_toward_all(counts, told):
    ratios, own = [], []
    for label in counts.labels[:12]:
        claim = check_response(counts, label, responses=told)
        table = told.hitters[told.hitters["response"] == "whiff"]
        mine = table[table["hitter_id"] == counts.data["hitter_id"].iloc[counts.labels.index(label)]].iloc[0]
        if mine["information"] > 0:
            ratios.append(claim.numbers["log_odds_ratio"])
            own.append(mine["score"] / mine["information"])
        assert any("all hitters together the rest" in note for note in claim.notes)
    assert np.std(ratios) < 0.5 * np.std(own)
    assert np.corrcoef(ratios, own)[0, 1] > 0


def test_the_record_is_settled_by_counting(counts, told):
    table = told.hitters[told.hitters["response"] == "hard"]
    for line in table.head(8).to_dict("records"):
        claim = check_response(counts, line["hitter_id"], responses=told, response="hard", about="record")
        more = line["whiff_yes"] / line["whiff_pitches"] > line["other_yes"] / line["other_pitches"]
        assert claim.verdict == ("holds" if more else "does not hold")
        assert claim.chance is None
        assert (
            f"{line['whiff_yes']:,} in {line['whiff_pitches']:,} pitches after a whiff" in claim.say_in_full
        )
        assert ("no more often" in claim.say_in_full) != more


@pytest.mark.slow
def test_a_record_of_hard_balls_is_settled_where_whatever_the_unmeasured_were_it_is_the_same(season):
    seen = set()
    for number, name in enumerate(season["hitter_id"].unique()[:5]):
        mine = season[season["hitter_id"] == name].reset_index(drop=True)
        hit = mine.index[(mine["outcome"] == "in play") & mine["exit_mph"].notna()].to_numpy()
        lost = np.random.default_rng(number).choice(hit, 3, replace=False)

        def asked(speeds, mine=mine, lost=lost, name=name):
            table = mine.copy()
            table.loc[lost, "exit_mph"] = speeds
            ask = {"responses": after_whiff(table, responses=("hard",)), "response": "hard"}
            ways = ("more", "less")
            return [check_response(tally(table), name, about="record", direction=way, **ask) for way in ways]

        filled = [asked(speeds) for speeds in product((60.0, 100.0), repeat=len(lost))]
        for claim, others in zip(asked([np.nan] * len(lost)), zip(*filled, strict=True), strict=True):
            could_be = {one.verdict for one in others}
            assert claim.verdict == (could_be.pop() if len(could_be) == 1 else "open")
            seen.add(claim.verdict)
            if claim.verdict == "open":
                assert claim.say_in_full.startswith("It is open whether, in the record, ")
                assert claim.say_in_full.endswith(
                    " balls not measured). That depends on the balls that were not measured."
                )
                assert claim.would_change == MEASURE_MORE
                assert 0 < claim.evidence["unknown"].sum() <= len(lost)
    assert seen == {"holds", "does not hold", "open"}


def test_the_answer_is_whole(counts, told):
    claim = check_response(counts, counts.labels[3], responses=told, response="same kind")
    assert claim.kind == "response"
    assert claim.table()["record"].tolist() == ["after a whiff", "after another strike"]
    assert claim.became_words.startswith(counts.labels[3])
    assert claim.to_dict()["numbers"]["direction"] == "more"
    assert "go back to what worked" in claim.avoid
    assert any("things were looked at" in note for note in claim.notes)
    assert claim.fingerprint == counts.fingerprint
    assert "<table" in claim._repr_html_()


def test_unknown_hardness_leaves_it_open(season):
    lost = season.copy()
    hit = lost.index[lost["outcome"] == "in play"]
    lost.loc[hit[::5], "exit_mph"] = np.nan
    counts, told = tally(lost), after_whiff(lost, responses=("hard",))
    claim = check_response(counts, responses=told, response="hard", holds_at=0.51, fails_at=0.49)
    assert claim.verdict == "open"
    assert any("hardness is unknown for 2" in note for note in claim.notes)
    assert int(told.counts["unknown"].iloc[0]) > 0


def test_what_cannot_be_checked_is_refused(season, counts, told):
    with pytest.raises(ClaimError, match="choose a response"):
        check_response(counts, responses=told, response="bunt")
    with pytest.raises(ClaimError, match="the second below"):
        check_response(counts, responses=told, holds_at=0.1, fails_at=0.9)
    with pytest.raises(UnknownHitterError):
        check_response(counts, "Nobody Whosoever", responses=told)
    few = season[season["hitter_id"].isin(season["hitter_id"].unique()[:3])]
    with pytest.raises(ClaimError, match="takes 10"):
        check_response(tally(few), few["hitter_id"].iloc[0], responses=after_whiff(few, responses=("whiff",)))
    one_pitch = pd.DataFrame(
        [("g", 1, p, "ann", "whiff" if p < 3 else "ball") for p in (1, 2, 3)],
        columns=["game", "plate_appearance", "pitch", "hitter", "outcome"],
    )
    with pytest.raises(ClaimError, match="too few pitches"):
        check_response(tally(one_pitch), responses=after_whiff(one_pitch))


def test_where_nothing_after_a_whiff_was_measured_the_record_is_open():
    rows = []
    for game in range(12):
        for turn, first in enumerate(("whiff", "called strike"), start=1):
            speed = None if first == "whiff" else 80.0
            rows.append(("Ada Yarl", f"g{game}", turn, 1, first, 0, 0, None))
            rows.append(("Ada Yarl", f"g{game}", turn, 2, "in play", 0, 1, speed))
    columns = ["hitter", "game", "plate_appearance", "pitch", "outcome", "balls", "strikes", "exit_mph"]
    table = pd.DataFrame(rows, columns=columns)
    claim = check_response(table, "Ada Yarl", response="hard", direction="more", about="record")
    assert claim.verdict == "open"
    assert "nan" not in claim.say_in_full + claim.say + claim.claim
