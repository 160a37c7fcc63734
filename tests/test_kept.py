"""What each answer tells of the calibration report."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

import hitlab
from hitlab.claims import Question
from hitlab.claims.kept import kept_words, name_in_report
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
