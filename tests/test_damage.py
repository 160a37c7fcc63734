"""Disguised and damaged files: no traceback, every line accounted for, no undamaged row lost."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from tests.benchmarks.damage import COMPARED, KINDS, Damaged, _of_counts, _of_rows, clean_rows, expected, run


@pytest.mark.slow
def test_there_are_many_kinds_and_some_of_them_are_read_here() -> None:
    assert len(KINDS) >= 60
    for name in list(KINDS)[::8]:
        assert run(1, seed=1, workers=1, only=name)[0][3] == ""


def test_the_judge_sees_what_is_wrong() -> None:
    rows = clean_rows(np.random.default_rng(1))
    true = expected(rows).reset_index()
    made = Damaged(b"", touched={3})
    assert _of_rows(rows, made, true) == ""
    assert _of_rows(rows, made, true.drop(index=3)) == ""
    assert "1 undamaged rows are lost: ['t0005']" in _of_rows(rows, made, true.drop(index=5))
    assert "twice" in _of_rows(rows, made, pd.concat([true, true.iloc[[5]]]))
    for column in COMPARED:
        changed = true.copy()
        wrong = {"exit_mph": 94.99999999999, "date": pd.Timestamp("2019-04-05")}
        changed[column] = changed[column].astype(object)
        changed.loc[5, column] = wrong.get(column, 7 if column in ("balls", "strikes", "bunt") else "-1")
        if column in ("speed_mph", "balls", "strikes", "bunt", "exit_mph"):
            changed[column] = pd.to_numeric(changed[column])
        assert f"{column} of t0005" in _of_rows(rows, made, changed)
    fewer = true.drop(index=true.index[true["outcome"] == "foul"][:2])
    assert "foul: " in _of_counts(rows, made, fewer, {})
    assert _of_counts(rows, made, true, {"pitches": len(rows) - 1}) == ""
    assert "pitches: " in _of_counts(rows, made, true, {"pitches": len(rows) - 2})


@pytest.mark.slow
def test_two_thousand_files_are_read_right_or_refused() -> None:
    wrong = [(name, number, said) for name, number, _, said in run(2000, seed=2, workers=2) if said]
    assert not wrong, wrong[:3]
