"""The capstone: what is right is right by another route too, and a verdict is marked and kept once."""

from __future__ import annotations

import json
import os
import re
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.claims.verdicts import FAILS_AT, HOLDS_AT
from hitlab.counting import difference_interval, share_interval
from hitlab.course.classes import gather
from hitlab.exercises import keeping, progress
from hitlab.exercises.calibration import forecasts_of
from hitlab.exercises.capstone import CLAIMS, capstone, capstone_table
from hitlab.exercises.definitions import Wrong
from hitlab.exercises.forecasts import VERDICTS, read_verdict

NUMBERS = range(1, len(CLAIMS) + 1)
SOURCE = Path(__file__).parent.parent / "notebooks" / "source" / "projects" / "capstone.py"


@pytest.fixture(autouse=True)
def own_progress(tmp_path, monkeypatch):
    path = tmp_path / "progress.json"
    monkeypatch.setenv("HITLAB_PROGRESS", str(path))
    keeping._memory.clear()
    keeping._told.clear()
    return path


def told(notice):
    return " ".join(notice.lines)


def wrong_of(number):
    return next(iter(CLAIMS[number - 1].mistakes))


# --- the ten


@pytest.mark.slow
def test_half_are_outside_the_sport_and_the_verdicts_are_spread():
    assert len(CLAIMS) == 10
    for baseball in (True, False):
        half = Counter(claim.verdict() for claim in CLAIMS if claim.baseball is baseball)
        assert half.total() == 5
        assert set(half) == set(VERDICTS)
    assert sorted(Counter(claim.verdict() for claim in CLAIMS).values()) == [3, 3, 4]


@pytest.mark.parametrize("number", NUMBERS)
def test_no_verdict_hangs_on_a_hair(number):
    """Another sound method has to come to the same verdict, so a chance lies well away from the bounds."""
    chance = CLAIMS[number - 1].chance()
    assert min(abs(chance - HOLDS_AT), abs(chance - FAILS_AT)) > 0.05


@pytest.mark.parametrize("number", NUMBERS)
def test_both_wrong_verdicts_name_a_mistake_of_their_own(number):
    claim = CLAIMS[number - 1]
    assert claim.mistakes.keys() == set(VERDICTS) - {claim.verdict()}
    names = [Wrong(word, says).mistake for word, says in claim.mistakes.items()]
    assert len(set(names)) == 2
    assert all(len(name.split()) >= 3 for name in names)
    assert all(says.endswith((".", "?")) for says in claim.mistakes.values())
    assert claim.because.count("{}") == 1


def test_tables_are_the_same_each_time_and_nobody_can_change_them():
    for number in NUMBERS:
        table = capstone_table(number)
        table.iloc[:, -1] = 0
        assert not capstone_table(number).equals(table)
        assert capstone_table(number).notna().all(axis=None)
    for number in (0, 11, "1", 1.0, True, None):
        with pytest.raises(hitlab.HitlabError, match="1 to 10"):
            capstone_table(number)


# --- the same verdicts by other routes


def test_drivers_by_moments():
    """The record pulled by the weight that the scatter of all drivers gives, as in lesson 2."""
    drivers = capstone_table(1)
    rates = drivers["in_time"] / 40
    mean = rates.mean()
    true = rates.var() - mean * (1 - mean) / 40
    weight = true / (true + mean * (1 - mean) / 40)
    expected = mean + weight * (rates.max() - mean)
    assert rates.idxmax() == 27
    assert (rates == rates.max()).sum() == 1
    assert expected + 1.2816 * np.sqrt(true * (1 - weight)) < 0.95


def test_clinics_by_a_difference():
    clinics = capstone_table(3)
    sums = clinics.groupby(clinics["patients"] < 100)[["infections", "patients"]].sum()
    low, _ = difference_interval(*sums.loc[True], *sums.loc[False], 0.80)
    assert low > 0


def test_hedda_without_any_shrinking_and_with_too_much():
    league = capstone_table(4).set_index("hitter")
    hard, swings = league.loc["Hedda Faleirol", ["hard", "swings"]]
    assert share_interval(hard, swings, level=0.80)[0] > 0.15
    mean = league["hard"].sum() / league["swings"].sum()
    assert (hard + 200 * mean) / (swings + 200) > 0.165


def test_the_referee_by_draws_of_forty():
    """True shares that scatter as these do: of referees with 25 of 30, how many are truly above .55?"""
    referees = capstone_table(5)
    assert referees["for_home"].idxmax() == 23
    assert sorted(referees["for_home"])[-2:] == [22, 25]
    rates = referees["for_home"] / 30
    spread = np.sqrt(rates.var() - rates.mean() * (1 - rates.mean()) / 30)
    rng = np.random.default_rng(5)
    true = rng.normal(rates.mean(), spread, 4_000_000).clip(0.01, 0.99)
    above = true[rng.binomial(30, true) == 25] > 0.55
    assert above.size > 1_500
    assert above.mean() == pytest.approx(0.66, abs=0.05)


def test_lorcan_and_tamsin_by_a_difference():
    season = capstone_table(6).set_index("hitter")
    pair = [season.loc[name, ["whiffs", "swings"]] for name in ("Lorcan Tsukitachi", "Tamsin Kolmbulo")]
    low, high = difference_interval(*pair[0], *pair[1], 0.80)
    assert low < 0 < high


def test_agents_by_shuffling():
    agents = capstone_table(7)
    morning, afternoon = (
        agents[f"solved_{half}"] / agents[f"calls_{half}"] for half in ("morning", "afternoon")
    )
    rng = np.random.default_rng(7)
    blind = [np.corrcoef(morning, rng.permutation(afternoon))[0, 1] for _ in range(2_000)]
    assert np.mean(np.array(blind) >= morning.corr(afternoon)) < 0.05


def test_the_largest_of_ninety_gaps_comes_by_luck_now_and_then():
    table = capstone_table(8)
    there, elsewhere = table["hard_there"] / table["swings_there"], table["hard_elsewhere"]
    gap = there - elsewhere / table["swings_elsewhere"]
    assert gap.idxmax() == 40
    rng = np.random.default_rng(8)
    both = table["hard_there"] + elsewhere
    swings = table["swings_there"] + table["swings_elsewhere"]
    again = rng.hypergeometric(both, swings - both, table["swings_there"], (2_000, 90))
    gaps = (
        again / table["swings_there"].to_numpy()
        - (both.to_numpy() - again) / table["swings_elsewhere"].to_numpy()
    )
    assert np.mean(gaps.max(axis=1) >= gap.max()) == pytest.approx(0.66, abs=0.05)


def test_exams_by_an_interval():
    failed = capstone_table(9)["failed"].tolist()
    errors = (failed[1], 100, 200 - failed[2], 200)
    assert hitlab.charting.corrected_interval(failed[0], 600, errors, level=0.80)[2] < 1 / 3


def test_per_and_deniz_by_a_difference():
    league = capstone_table(10).set_index("hitter")
    per, deniz = (league.loc[name] for name in ("Per Iroruma", "Deniz Aldgarth"))
    assert per["hard"] / per["in_play"] > deniz["hard"] / deniz["in_play"] + 0.05
    assert difference_interval(per["hard"], per["swings"], deniz["hard"], deniz["swings"], 0.80)[1] < 0


# --- marking


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("number", NUMBERS)
def test_the_right_verdict_is_right_and_the_others_are_told(number):
    claim = CLAIMS[number - 1]
    for word, says in claim.mistakes.items():
        notice = capstone(number, word, 0.5)
        assert notice.state == "not yet"
        assert notice.lines[0] == says
        assert claim.verdict() not in notice.lines[0]
    notice = capstone(number, claim.verdict(), 0.5)
    assert notice.state == "right"
    assert "chance" in notice.lines[0]


def test_the_first_verdict_counts_and_is_kept(own_progress):
    claim = CLAIMS[1]
    assert "scores .810" in told(capstone(2, wrong_of(2), 0.9))
    assert "scores .810" in told(capstone(2, claim.verdict(), 1))
    capstone(2, wrong_of(2), 1)
    entry = json.loads(own_progress.read_text(encoding="utf-8"))["exercises"]["capstone.02"]
    assert (entry["state"], entry["tries"], entry["first_state"], entry["sure"]) == (
        "right",
        2,
        "not yet",
        0.9,
    )
    assert entry["first_mistake"] == Wrong("", claim.mistakes[wrong_of(2)]).mistake
    assert list(forecasts_of(keeping.read_all())) == [(0.9, False)]
    capstone(3, CLAIMS[2].verdict(), "80 %")
    said = told(capstone())
    assert "2 of 10 claims judged, 1 of them rightly at first (50 %)" in said
    assert "Mean score of the first verdicts: .425" in said
    assert ".222" in said
    assert progress().state == "progress"
    rows = gather([own_progress]).table().set_index("exercise")
    assert rows.loc["capstone.02", ["lesson", "first_try", "right"]].tolist() == ["capstone", "wrong", True]


def test_what_is_left_open_or_cannot_be_read_says_so(own_progress):
    assert capstone().lines == ("no verdict yet; there are 10 claims.",)
    assert capstone(1).state == capstone(1, "open").state == capstone(1, ..., 0.5).state == "not answered yet"
    assert "1 to 10" in told(capstone(0, "open", 0.5))
    assert "1 to 10" in told(capstone("1", "open", 0.5))
    assert "0.8" in told(capstone(1, "open", 80))
    assert "1/3" in told(capstone(1, "open", 0.1))
    assert "does not hold" in told(capstone(1, "perhaps", 0.5))
    assert not own_progress.exists()


@settings(deadline=None)
@given(st.one_of(st.text(), st.floats(), st.integers(), st.binary(), st.lists(st.integers(), max_size=2)))
def test_nonsense_is_no_try_and_never_raises(given_one):
    kept = Path(os.environ["HITLAB_PROGRESS"])  # the file of the test, one for all that is given
    for number, verdict, sure in ((given_one, "open", 0.5), (1, given_one, 0.5), (1, "open", given_one)):
        before = kept.read_bytes() if kept.exists() else None
        notice = capstone(number, verdict, sure)
        assert notice.state in ("note", "not yet", "not answered yet", "right", "progress")
        if _refused(number, verdict, sure):
            assert notice.state != "right"
            assert (kept.read_bytes() if kept.exists() else None) == before


def _refused(number, verdict, sure):
    """Say whether there is no such claim, or nothing that a verdict or a chance could be read from."""
    try:
        read_verdict(verdict, sure)
    except Exception:
        return True
    return type(number) is not int or number not in NUMBERS


@pytest.mark.parametrize(
    "edited",
    ['{"sure": "x", "first_state": "right"}', '{"first_state": 3}', '{"sure": true, "first_state": "right"}',
     '{"sure": 7, "first_state": "right"}', '{"tries": "many", "mistakes": 3}'],
)  # fmt: skip
def test_an_edited_file_harms_nothing(own_progress, edited):
    own_progress.write_text(
        json.dumps({"exercises": {"capstone.04": json.loads(edited)}, "confidence": {}}), encoding="utf-8"
    )
    assert "no verdict yet" in told(capstone())
    assert capstone(4, "holds", 0.9).state == "right"


# --- the notebook


def test_the_notebook_asks_all_ten_in_order_and_answers_them_for_the_teacher_alone():
    cells = re.split(r"^# %%", SOURCE.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
    asked = [cell for cell in cells if "capstone(" in cell and '"answer"' in cell]
    assert [re.search(r"capstone\((\d+), verdict, sure\)", cell)[1] for cell in asked] == [
        str(number) for number in NUMBERS
    ]
    answered = [cell for cell in cells if "capstone(" in cell and '"solution"' in cell]
    found = [re.search(r'capstone\((\d+), "([a-z ]+)", ', cell).groups() for cell in answered]
    assert found == [(str(number), CLAIMS[number - 1].verdict()) for number in NUMBERS]
    shared = [cell for cell in cells if "tags=" not in cell.splitlines()[0]]
    assert not any("check_" in cell or "shrink(" in cell for cell in shared)
    claims = [cell for cell in shared if re.search(r"^# > ", cell, flags=re.MULTILINE)]
    assert len(claims) == len(CLAIMS)
