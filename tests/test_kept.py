"""What each answer tells of the calibration report."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.claims.kept import kept_words, missed_words, name_in_report
from hitlab.questions import Question
from hitlab.wording import percent
from tests.benchmarks.calibration_kinds import KINDS
from tests.benchmarks.calibration_report import KEPT, condensed, read


def test_the_table_of_the_package_is_condensed_from_the_committed_report():
    pd.testing.assert_frame_equal(pd.read_csv(KEPT), condensed(read()[1]), check_dtype=False)


def test_every_kind_of_the_report_is_some_question():
    asked = [
        (Question(kind="leads"), True),
        (Question(kind="leads"), False),
        (Question(kind="leads", direction="less"), True),
        (Question(kind="leads", club="Kites"), True),
        (Question(kind="top"), False),
        (Question(kind="above", options={"value": 0.2}), False),
        (Question(kind="above", options={"value": "league"}), False),
        (Question(kind="near"), False),
        (Question(kind="ahead"), False),
        (Question(kind="split"), False),
        (Question(kind="split", options={"against": "usual"}), False),
        (Question(kind="more"), False),
        (Question(kind="more", direction="either"), False),
        (Question(kind="hot"), False),
        (Question(kind="steady"), False),
    ]
    assert {name_in_report(question, first=first) for question, first in asked} == set(KINDS)


def test_the_words_give_the_rows_of_the_report():
    table = pd.read_csv(KEPT)
    row = table[(table["kind"] == "above") & (table["hitters"] == 40) & (table["tenth"] == 6)].iloc[0]
    question = Question(kind="above", options={"value": 0.2})
    said = kept_words(question, 33, 0.64)
    assert f"{int(row['number']):,} claims" in said
    assert "about 40 hitters" in said
    assert f"{100 * row['came']:.0f} % of them came true" in said
    below = kept_words(Question(kind="above", direction="less", options={"value": 0.2}), 33, 0.36)
    assert f"{100 * (1 - row['came']):.0f} % of them came true" in below


@pytest.mark.parametrize("kind", ["response", "together", "spot"])
def test_what_was_not_tried_is_not_told(kind):
    assert kept_words(Question(kind=kind), 150, 0.6) == ""
    assert kept_words(Question(kind="above", subject="pitcher"), 150, 0.6) == ""


@pytest.mark.parametrize(
    "known",
    [
        {"prior": (0.15, 0.03, 100, "a league")},
        {"groups": "role"},
        {"conventions": hitlab.Conventions(eye=(84, 100, 180, 200))},
        {"options": {"value": 0.2, "looked_at": "all days"}},
    ],
    ids=["prior", "groups", "eye", "looked at"],
)
def test_what_was_asked_otherwise_than_in_the_report_is_not_told(known):
    usual = Question(kind="above", options={"value": 0.2})
    assert kept_words(usual, 150, 0.6)
    assert kept_words(replace(usual, **known), 150, 0.6) == ""


def test_an_answer_has_it_and_a_record_has_not():
    counts = hitlab.tally(hitlab.demo_season())
    claim = hitlab.check_ahead(counts, "Izezno", "Larkditch")
    assert sum("that were drawn" in note for note in claim.notes) == 1
    record = hitlab.check_ahead(counts, "Izezno", "Larkditch", about="record")
    assert not any("that were drawn" in note for note in record.notes)


def row_of(kind, setting):
    rows = read()[0]
    return rows[(rows["kind"] == kind) & (rows["setting"] == setting)].iloc[0]


def test_a_leader_and_a_rate_of_forty_hear_how_many_intervals_held():
    rows = read()[0]
    covered = rows["coverage"][(rows["kind"] == "above") & rows["setting"].str.startswith("40")]
    said = missed_words(Question(kind="above", options={"value": 0.2}), 40, "open")
    assert f"{percent(covered.min())[:2]} to {percent(covered.max())} of the 90 % intervals held" in said
    for kind, first in (("near", True), ("ahead", False), ("top", True), ("leads", False)):
        assert missed_words(Question(kind=kind), 25, "holds", first=first) == said
    assert missed_words(Question(kind="leads"), 40, "open", first=True) == ""  # hears it of leaders instead
    for hitters in (24, 60):  # of 15 and of 150 as many held as stated
        assert missed_words(Question(kind="ahead"), hitters, "open") == ""


def test_what_is_left_open_about_steadiness_is_said_to_be_too_high_under_streaks_and_too_low_without_form():
    bins = read()[1]
    left_open = bins[(bins["kind"] == "steady") & bins["bin"].between(0.1, 0.8)]
    said = missed_words(Question(kind="steady"), 150, "open")
    for settings in (["150, streaks"], ["150, no form", "150, no form, day form"]):
        those = left_open[left_open["setting"].isin(settings)]
        stated, came = (np.average(those[name], weights=those["number"]) for name in ("stated", "came"))
        assert percent(stated) in said
        assert (percent(came) if came < 1 else "and all") in said
    assert missed_words(Question(kind="steady"), 150, "holds") == ""


def test_swings_of_a_game_that_go_together_are_told_where_they_make_verdicts_false():
    usual = row_of("split, usual", "150, split, day form")
    right = np.average(usual[["holds_right", "fails_right"]], weights=usual[["holds", "fails"]])
    question = Question(kind="split", options={"against": "usual"})
    assert f"{percent(1 - right)} of such verdicts were false" in missed_words(question, 150, "does not hold")
    other = row_of("more, different", "150, more, day form")
    question = Question(kind="more", direction="either")
    assert f"{percent(1 - other['holds_right'])} of such verdicts" in missed_words(question, 150, "holds")
    assert (
        missed_words(question, 150, "open") == missed_words(replace(question, prior=(1,)), 9, "holds") == ""
    )


def test_a_called_split_hears_of_few_who_differ_much():
    for against in ("rest", "usual"):
        question = Question(kind="split", options={"against": against})
        assert "one hitter in eight differed" in missed_words(question, 60, "holds")
        assert missed_words(question, 60, "open") == ""


def test_an_answer_says_where_such_were_less_often_right():
    rng = np.random.default_rng(4)
    league = pd.DataFrame({"hitter": [f"hitter {i}" for i in range(40)], "swings": 300})
    league["hard"] = rng.binomial(300, rng.beta(27, 165, 40))
    notes = hitlab.check_above(league, "hitter 3", 0.15).notes
    assert notes[-1] == "in leagues of 40 hitters that were drawn, 86 to 88 % of the 90 % intervals held"
    assert "86 to 88 %" not in " ".join(hitlab.check_above(league, "hitter 3", 0.15, about="record").notes)
