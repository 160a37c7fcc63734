"""Functions that a learner wrote: right however they are written, and the wrong ones told by name."""

from __future__ import annotations

import ast
import functools
import re
import time
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from hitlab.exercises import solution
from hitlab.exercises.definitions import Code, Exercise, Wrong
from hitlab.exercises.library import lessons
from hitlab.exercises.marking import mark

LESSONS = Path(__file__).parents[1] / "notebooks" / "source"
CODES = {one.id: one for lesson in lessons() for one in lesson.exercises if isinstance(one.form, Code)}


@pytest.fixture(autouse=True)
def time_enough(monkeypatch):
    """On a busy machine nothing that ends is stopped; those that do not end set a limit of their own."""
    monkeypatch.setattr("hitlab.exercises.trying.LIMIT_S", 120.0)
    monkeypatch.setenv("HITLAB_PROGRESS", "off")


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


def test_on_a_busy_machine_a_function_has_its_time(monkeypatch):
    """Waiting for the processor is no loop: the processor's time counts, and the clock only far out."""
    monkeypatch.setattr("hitlab.exercises.trying.LIMIT_S", 0.3)

    def waits(hard, swings):
        time.sleep(0.15)
        return per_swing(hard, swings)

    assert RATE.form.cases * 0.15 > 0.3
    assert mark(RATE, waits).state == "right"


def test_what_waits_for_ever_is_stopped_by_the_clock(monkeypatch):
    monkeypatch.setattr("hitlab.exercises.trying.LIMIT_S", 0.05)

    def waits(hard, swings):
        while True:
            time.sleep(0.01)

    began = time.monotonic()
    assert "had not ended after 0.5 seconds" in told(mark(RATE, waits))
    assert time.monotonic() - began < 5


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


@pytest.mark.parametrize("form", [complex, np.complex128, np.atleast_1d, pd.Series, lambda one: [one]])
def test_a_complex_number_is_no_number_in_any_form(form):
    """Its real part alone would be right."""
    assert "a number is wanted" in told(mark(RATE, lambda hard, swings: form(hard / swings + 2j)))


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
        ([("Ada", 0.4), ("Bo",)], "It returns a list; a name"),
        (RATES + 2j, "It returns a column; a name"),
        (0.4, "It returns a number; a name beside each number is wanted"),
    ],
    ids=str,
)  # fmt: skip
def test_what_is_wrong_with_a_list_of_names_is_told(answer, said):
    notice = mark(LIST, lambda _: answer)
    assert notice.state == "not yet"
    assert said in told(notice)


# --- the lessons' functions, written otherwise

TRIED = ["whiff", "foul", "foul tip", "in play"]


def listed(sheet, minimum, enough=np.greater_equal):
    sums = sheet.groupby("hitter")[["hard", "swings"]].sum()
    sums = sums[enough(sums["swings"], minimum)]
    return (sums["hard"] / sums["swings"]).sort_values(ascending=False)


def excess(table, m, minimum, enough=np.greater_equal, mean_of=lambda table, on_list: table):
    on_list = table[enough(table["swings"], minimum)]
    own = mean_of(table, on_list)
    mean = own["contact"].sum() / own["swings"].sum()
    rates = on_list["contact"] / on_list["swings"]
    swings = on_list["swings"][rates == rates.max()].iloc[0]
    return m / (swings + m) * (rates.max() - mean)


def drawn_again(first, second, rng, draws=4_000, cut_off=0.05):
    links = []
    for _ in range(draws):
        pick = rng.choice(len(first), len(first))
        links.append(np.corrcoef(first[pick], second[pick])[0, 1])
    return np.quantile(links, [cut_off, 1 - cut_off])


def dealt(first, second, rng, deal):
    seen, heap = abs(first.mean() - second.mean()), np.append(first, second)
    gaps = []
    for _ in range(1_000):
        mine = deal(rng, heap)
        gaps.append(abs(mine[: len(first)].mean() - mine[len(first) :].mean()))
    return np.mean(np.array(gaps) >= seen)


def spreads(hitters, swings, rate, rng, **less):
    drawn = [np.std(rng.binomial(swings, rate, hitters) / swings, **less) for _ in range(2_000)]
    return np.percentile(drawn, [5, 95])


RIGHT = [
    ("00.luck-alone", spreads),
    ("00.luck-alone", lambda n, swings, rate, rng: np.sort(
        pd.DataFrame(rng.binomial(swings, rate, (2_000, n)) / swings).std(axis=1, ddof=0))[[100, 1_899]]),
    ("01.swings-in", lambda pitches: sum(
        row.outcome in TRIED and not row.bunt for row in pitches.itertuples())),
    ("01.swings-in", lambda pitches: pitches[~pitches["bunt"]]["outcome"].value_counts()
        .reindex(TRIED).sum()),
    ("02.draw-again", lambda hard, swings, rng: np.quantile(
        (rng.random((2_000, swings)) < hard / swings).mean(axis=1), [0.05, 0.95])),
    ("02.draw-again", lambda hard, swings, rng: np.quantile(
        [rng.choice([1] * hard + [0] * (swings - hard), swings).mean() for _ in range(2_000)], [0.05, 0.95])),
    ("03.the-list", listed),
    ("03.the-list", lambda sheet, minimum: listed(sheet, minimum).reset_index()),
    ("03.the-list", lambda sheet, minimum: listed(sheet, minimum).to_dict()),
    ("05.take-it-off", excess),
    ("07.by-luck", lambda first, second, rng: dealt(
        first, second, rng, lambda rng, heap: rng.permutation(heap))),
    ("10.drawn-again", drawn_again),
]  # fmt: skip

WRONG = [
    ("00.luck-alone", lambda *given: spreads(*given, ddof=1), "by one less than the hitters"),
    ("00.luck-alone", lambda n, swings, rate, rng: pd.DataFrame(
        rng.binomial(swings, rate, (2_000, n)) / swings).std(axis=1).quantile([0.05, 0.95]),
     "by one less than the hitters, as pandas does"),
    ("01.swings-in", lambda pitches: (
        ~pitches["outcome"].isin(["ball", "called strike"]) & ~pitches["bunt"]).sum(), "hit by pitch"),
    ("03.the-list", lambda *given: listed(*given, np.greater), "somebody has the minimum exactly"),
    ("03.the-list", lambda *given: pd.Series(
        listed(*given).to_numpy(), index=listed(*given).sort_index().index), "names beside them were not"),
    ("03.the-list", lambda *given: listed(*given).to_list(), "a name beside each number is wanted"),
    ("05.take-it-off", lambda *given: excess(*given, mean_of=lambda table, on_list: on_list),
     "mean of those on the list"),
    ("05.take-it-off", lambda *given: excess(*given, np.greater), "somebody has the minimum exactly"),
    ("07.by-luck", lambda first, second, rng: dealt(
        first, second, rng, lambda rng, heap: rng.choice(heap, len(heap))), "with replacement"),
    ("08.by-luck", lambda late, spread, window, rng: np.mean(
        (rng.normal(late, spread, 10_000) > -window) & (rng.normal(late, spread, 10_000) < window)),
     "two swings are judged as one"),
    ("10.drawn-again", lambda *given: drawn_again(*given, cut_off=0.07), "of 3 tries come out otherwise"),
    ("10.drawn-again", lambda *given: drawn_again(*given, cut_off=0.1), "the middle 80 %"),
]  # fmt: skip


def numbered(cases):
    return {"argvalues": cases, "ids": [f"{case[0]}-{number}" for number, case in enumerate(cases)]}


@pytest.mark.parametrize(("name", "function"), **numbered(RIGHT))
def test_what_is_right_and_written_otherwise_is_right(name, function):
    notice = mark(CODES[name], function)
    assert notice.state == "right", notice


@pytest.mark.parametrize(("name", "function", "said"), **numbered(WRONG))
def test_what_people_get_wrong_is_told(name, function, said):
    notice = mark(CODES[name], function)
    assert notice.state == "not yet"
    assert said in told(notice)


def test_what_is_held_against_is_worked_out_once():
    """However often somebody tries: what is right, and what the known mistakes come to."""
    worked_out = []

    def ours(hard, swings):
        worked_out.append("right")
        return hard / swings

    def turned(hard, swings):
        worked_out.append("wrong")
        return swings / hard

    exercise = make(ours, RATE.form.draw, Wrong(turned, "turned over."))
    for _ in range(3):
        assert told(mark(exercise, lambda hard, swings: swings / hard)) == "turned over."
        assert mark(exercise, per_swing).state == "right"
    assert worked_out == ["right"] * exercise.form.cases + ["wrong"] * exercise.form.cases


# --- other draws


def shown(exercise):
    """Return the function that ``solution`` shows, as somebody has it who copies it into a cell."""
    cell = {"np": np, "pd": pd}
    exec(solution(exercise.id).code, cell)
    return cell[exercise.form.right.__name__]


def with_draws(function, number):
    """Return a function that draws from a generator of its own."""

    def with_own(*arguments):
        *given, rng = arguments
        return function(*given, np.random.default_rng([number, int(rng.integers(2**31))]))

    return with_own


def draws(exercise):
    return isinstance(exercise.form.draw(np.random.default_rng(1))[-1], np.random.Generator)


DRAWING = [one for one in CODES.values() if draws(one)]


def shuffled_at_once(hard, inside, rng):
    seen = hard[inside].mean() - hard[~inside].mean()
    dealt = rng.permuted(np.tile(hard, (1_000, 1)), axis=1)
    return np.mean(dealt[:, inside].mean(axis=1) - dealt[:, ~inside].mean(axis=1) >= seen)


def drawn_at_once(first, second, rng, cut_off=0.05):
    pick = rng.integers(len(first), size=(4_000, len(first)))
    one, other = (rates[pick] - rates[pick].mean(axis=1, keepdims=True) for rates in (first, second))
    sums = [np.einsum("ij,ij->i", *pair) for pair in ((one, other), (one, one), (other, other))]
    return np.quantile(sums[0] / np.sqrt(sums[1] * sums[2]), [cut_off, 1 - cut_off])


def gaps_at_once(values, size, deals, rng):
    dealt = np.empty((deals, len(values)))
    for row in dealt:
        rng.shuffle(values)
        row[:] = values
    return dealt[:, :size].mean(axis=1) - dealt[:, size:].mean(axis=1)


def heaps_at_once(first, second, rng):
    gaps = gaps_at_once(np.append(first, second), len(first), 1_000, rng)
    return np.mean(np.abs(gaps) >= abs(first.mean() - second.mean()))


def hats_at_once(late, fouls, other_late, other_fouls, rng):
    tardy = late + other_late
    hat = np.repeat([1, 0], [tardy, fouls + other_fouls - tardy])
    return np.mean(gaps_at_once(hat, fouls, 2_000, rng) >= late / fouls - other_late / other_fouls)


AT_ONCE = {
    "03.shuffle-it": shuffled_at_once,
    "07.by-luck": heaps_at_once,
    "09.one-hat": hats_at_once,
    "10.drawn-again": drawn_at_once,
}
"""The slowest of what solutions show, many times as quick: the same numbers from the same generator."""


@pytest.mark.parametrize("name", AT_ONCE)
def test_what_is_drawn_at_once_is_what_the_solution_draws(name):
    form = CODES[name].form
    for number in range(5):
        ours, shown_ones = (form.draw(np.random.default_rng(number)) for _ in range(2))
        expected = shown(CODES[name])(*shown_ones)
        np.testing.assert_allclose(AT_ONCE[name](*ours), expected, rtol=0, atol=1e-12)
        assert ours[-1].bit_generator.state == shown_ones[-1].bit_generator.state


@pytest.mark.parametrize("exercise", CODES.values(), ids=CODES)
def test_what_the_solution_shows_runs_as_it_stands(exercise):
    notice = mark(exercise, shown(exercise))
    assert notice.state == "right", notice
    assert "np.ndarray" not in solution(exercise.id).code
    assert "np.random.Generator" not in solution(exercise.id).code


@pytest.mark.parametrize("exercise", CODES.values(), ids=CODES)
def test_the_solution_is_that_of_the_lesson(exercise):
    """Line by line and by its name, which the cell below the gaps checks."""
    [lesson] = LESSONS.glob(f"{exercise.id[:2]}_*.py")
    cells = re.split(r"^# %%", lesson.read_text(encoding="utf-8"), flags=re.MULTILINE)
    check = f'check("{exercise.id}", {exercise.form.right.__name__})'
    [cell] = [one for one in cells if one.startswith(' tags=["solution"]') and check in one]
    ours, theirs = (ast.parse(code).body for code in (solution(exercise.id).code, cell.partition("\n")[2]))
    assert ast.unparse(ours) == ast.unparse(theirs[:-1])


@pytest.mark.parametrize("exercise", CODES.values(), ids=CODES)
def test_a_learner_completes_three_to_six_lines(exercise):
    """Of a function that he writes: all below its head. Of one half there: these, and those with gaps."""
    function = ast.parse(solution(exercise.id).code).body[-1]
    assert isinstance(function, ast.FunctionDef)
    lines = {line for node in ast.walk(function) if isinstance(node, ast.stmt) and node is not function
             for line in range(node.lineno, node.end_lineno + 1)}  # fmt: skip
    assert 3 <= len(lines) <= 6, sorted(lines)
    if exercise.kind == "complete":
        [lesson] = LESSONS.glob(f"{exercise.id[:2]}_*.py")
        cells = re.split(r"^# %%", lesson.read_text(encoding="utf-8"), flags=re.MULTILINE)
        check = f'check("{exercise.id}", {function.name})'
        [cell] = [one for one in cells if one.startswith(' tags=["answer"]') and check in one]
        left = [line for line in cell.splitlines() if "..." in line.partition("#")[0]]
        assert 3 <= len(left) <= 6, left


@pytest.mark.parametrize("lesson", lessons(), ids=lambda one: one.number)
def test_what_a_learner_completes_and_says_is_core_in_every_lesson(lesson):
    """A function of his own, an analysis that is half there, and a sentence in his own words."""
    core = {one.kind for one in lesson.exercises if one.core}
    assert {"write", "complete", "say"} <= core


def test_many_functions_draw():
    assert len(DRAWING) >= 13


@pytest.mark.slow
@pytest.mark.parametrize("exercise", DRAWING, ids=lambda one: one.id)
def test_what_is_right_is_right_whatever_it_draws(exercise):
    function = AT_ONCE.get(exercise.id) or shown(exercise)
    states = [mark(exercise, with_draws(function, number)).state for number in range(200)]
    assert states == ["right"] * 200


@pytest.mark.slow
@pytest.mark.parametrize("exercise", DRAWING, ids=lambda one: one.id)
def test_what_is_wrong_is_wrong_whatever_it_draws(exercise):
    for wrong in exercise.wrong:
        for number in range(10):
            assert mark(exercise, with_draws(wrong.given, number)).state == "not yet", wrong.says


@pytest.mark.slow
def test_ends_that_are_cut_off_too_far_in_are_told():
    """The middle 86 % in place of 90 %, which is little: of 40 no more than one is taken (3 of 400 were)."""
    taken = 0
    for number in range(40):
        cut = with_draws(functools.partial(drawn_at_once, cut_off=0.07), number)
        taken += mark(CODES["10.drawn-again"], cut).state == "right"
    assert taken <= 1
