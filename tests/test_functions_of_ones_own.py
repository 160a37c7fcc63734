"""Functions that a learner wrote: right however they are written, and the wrong ones told by name."""

from __future__ import annotations

import functools
import time

import numpy as np
import pandas as pd
import pytest

from hitlab.exercises.definitions import Code, Exercise
from hitlab.exercises.library import lessons
from hitlab.exercises.marking import mark

CODES = {one.id: one for lesson in lessons() for one in lesson.exercises if isinstance(one.form, Code)}


def told(notice):
    return " ".join([*notice.lines, *notice.items])


def make(right, draw, *wrong):
    return Exercise("99.own", "write", Code(right, draw), wrong, ("a", "b"), "so", "good.", minutes=1)


def per_swing(hard, swings):
    return hard / swings


RATE = make(per_swing, lambda rng: (int(rng.integers(1, 9)), int(rng.integers(10, 40))))


# --- however it can be called


def endless(hard, swings):
    while True:
        hard += 1


def helped(hard, swings):
    return endless(hard, swings)


class Called:
    def __init__(self, inside):
        self.inside = inside

    def __call__(self, hard, swings):
        return self.inside(hard, swings)


WAYS = {
    "itself": lambda function: function,
    "partial": functools.partial,
    "partial of what is cached": lambda function: functools.partial(functools.cache(function)),
    "cached": functools.cache,
    "object": Called,
    "method": lambda function: Called(function).__call__,
    "vectorised": np.vectorize,
}


@pytest.mark.parametrize("way", WAYS)
def test_what_does_not_end_is_stopped_however_it_is_called(way, monkeypatch):
    monkeypatch.setattr("hitlab.exercises.trying.LIMIT_S", 0.3)
    began = time.monotonic()
    notice = mark(RATE, WAYS[way](endless))
    assert time.monotonic() - began < 3
    assert "had not ended after 0.3 seconds" in told(notice)


def test_a_helper_of_the_learner_is_stopped_too(monkeypatch):
    """Which in a notebook stands in another cell, and so in another file."""
    monkeypatch.setattr("hitlab.exercises.trying.LIMIT_S", 0.3)
    cells = {}
    for name, cell in (
        ("<cell 1>", "def helper(hard):\n    while True:\n        hard += 1\n"),
        ("<cell 2>", "def rate(hard, swings):\n    return helper(hard)\n"),
    ):
        exec(compile(cell, name, "exec"), cells)
    assert "had not ended after 0.3 seconds" in told(mark(RATE, cells["rate"]))


@pytest.mark.parametrize("way", WAYS)
def test_what_is_right_is_right_however_it_is_called(way):
    assert mark(RATE, WAYS[way](per_swing)).state == "right"
    dots = mark(RATE, WAYS[way](lambda hard, swings: hard / ...))
    assert "dots left" in told(dots)


def test_what_has_no_lines_is_refused_with_a_sentence():
    notice = mark(RATE, max)
    assert notice.state == "not yet"
    assert "give a function written with def" in told(notice)


def test_the_line_is_counted_from_the_function_that_stopped():
    def helper(hard):
        raise KeyError(hard)

    def rate(hard, swings):
        twice = 2 * hard
        return helper(twice)

    assert "at its line 3" in told(mark(RATE, rate))
    assert "at its line 3" in told(mark(RATE, functools.partial(rate)))


# --- what is said


def test_what_it_prints_is_not_shown_and_the_return_is_missed(capsys):
    def prints(hard, swings):
        print(hard / swings)

    notice = mark(RATE, prints)
    assert notice.state == "not answered yet"
    assert "it returns nothing: a line that begins with return is missing" in told(notice)
    assert "dots" not in told(notice)
    assert capsys.readouterr().out == ""
    print("heard")
    assert capsys.readouterr().out == "heard\n"


def generated(hard, swings):
    yield hard / swings


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (generated, "It returns a generator, which holds no values yet; a number is wanted"),
        (lambda table: {"hard": 1}, "It returns a dictionary; a number is wanted"),
        (lambda table: str(len(table)), "It returns '3'; 3 is wanted"),
        (lambda table: table["hard"], "It returns 3 values; 1 value is wanted"),
        (lambda table: 2, "otherwise. It returns 2; 3 is wanted"),
        (lambda table: generated, "It returns a function, which nobody called; a number is wanted"),
        (lambda table: 1j, "It returns a complex number; a number is wanted"),
    ],
)
def test_what_is_wrong_is_said_in_words(answer, said):
    """Where no argument is shown, a sentence begins with a capital."""
    rows = make(lambda table: np.int64(len(table)), lambda rng: (pd.DataFrame({"hard": [1, 2, 3]}),))
    if answer is generated:
        rows = make(lambda *_: np.float64(3), lambda rng: (pd.Series([1.0]), pd.Series([2.0])))
    assert said in told(mark(rows, answer))


# --- names with their numbers

RATES = pd.Series([0.4, 0.3, 0.3, 0.1], index=["Ada", "Bo", "Cy", "Di"])
LIST = make(lambda _: RATES, lambda rng: (pd.DataFrame(),))


@pytest.mark.parametrize(
    "answer",
    [
        RATES,
        RATES.to_frame("rate"),
        RATES.rename_axis("hitter").reset_index(),
        RATES.reset_index()[[0, "index"]],
        RATES.to_dict(),
        list(RATES.items()),
        RATES.iloc[[0, 2, 1, 3]],
        RATES.rename(str.upper).rename(str.capitalize) + 1e-12,
    ],
    ids=str,
)
def test_names_and_numbers_are_right_in_any_form(answer):
    """Bo and Cy are level, and either may stand first."""
    assert mark(LIST, lambda _: answer).state == "right"


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (RATES.set_axis(["Di", "Cy", "Bo", "Ada"]), "beside the wrong names: 'Ada' has 0.1; 0.4 is wanted"),
        (RATES.set_axis(["Ada", "Bo", "Cy", "Ed"]), "the names are not: 'Di' is missing"),
        (RATES.set_axis(["Ada", "Bo", "Bo", "Di"]), "the names are not: 'Cy' is missing"),
        (RATES.sort_values(), "It returns 0.1, 0.3, 0.3, 0.4; 0.4, 0.3, 0.3, 0.1 are wanted"),
        (RATES[:3], "It returns 3 values; 4 values are wanted"),
        (RATES[:0], "It returns 0 values; 4 values are wanted"),
        (RATES.to_list(), "It returns a list; a name beside each number is wanted"),
        (RATES.to_numpy(), "It returns an array; a name beside each number is wanted"),
        (RATES.reset_index(drop=True), "It returns a column; a name beside each number is wanted"),
        (RATES.index, "It returns an Index; a name beside each number is wanted"),
        (RATES.to_frame("rate").assign(swings=9), "It returns 2 columns beside the names; 1 column"),
        ({"Ada": "high", "Bo": 1, "Cy": 1, "Di": 1}, "a name beside each number is wanted"),
        (pd.DataFrame(), "It returns 0 columns beside the names"),
        ({}, "It returns 0 values"),
        ([], "It returns a list; a name"),
        (0.4, "It returns a number; a name beside each number is wanted"),
    ],
    ids=str,
)  # fmt: skip
def test_what_is_wrong_with_a_list_of_names_is_told(answer, said):
    notice = mark(LIST, lambda _: answer)
    assert notice.state == "not yet"
    assert said in told(notice)
