"""The exercises mark themselves: every state, every wrong answer, every sort of nonsense."""

from __future__ import annotations

import itertools
import json
import math
import re
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from html.parser import HTMLParser
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab.errors import HitlabError
from hitlab.exercises import check, confidence, hint, keeping, progress, solution
from hitlab.exercises.definitions import KINDS, Bounds, Choice, Code, Exercise, Number, Sentence, Wrong
from hitlab.exercises.forecasts import brier_score
from hitlab.exercises.letters import in_own_order
from hitlab.exercises.library import find_exercise, find_lesson, lessons
from hitlab.exercises.marking import mark
from hitlab.exercises.notices import Notice
from tests.right_answers import right_answer

EXERCISES = [exercise for lesson in lessons() for exercise in lesson.exercises]
FIRST, SECOND = find_lesson("01").exercises[:2]
EVERY = pytest.mark.parametrize("exercise", EXERCISES, ids=lambda e: e.id)


@pytest.fixture(autouse=True)
def own_progress(tmp_path, monkeypatch):
    path = tmp_path / "progress.json"
    monkeypatch.setenv("HITLAB_PROGRESS", str(path))
    keeping._memory.clear()
    keeping._told.clear()
    return path


def told(notice):
    """All that a notice says, in one string."""
    return " ".join(notice.lines)


def _exercise(form, *wrong):
    return Exercise("99.x", "compute", form, wrong, ("one", "two"), "so", "good", minutes=1)


THIRD = _exercise(
    Number(1 / 3, 0.001, share=True),
    Wrong(3, "upside down"),
    Wrong(lambda: 2 / 3, "the other share"),
    Wrong(-1, "below zero", when=lambda value: value < 0),
)
PICK = _exercise(Choice("b", {"a": "one", "b": "two swings"}), Wrong("a", "no"))
RANGE = _exercise(Bounds(7, widest=3), Wrong((0, 1), "low", when=lambda ends: ends[1] < 2))


# --- what the lessons define


@pytest.mark.slow_beyond_first
@EVERY
def test_the_right_answer_is_right(exercise):
    notice = check(exercise.id, right_answer(exercise.form))
    assert notice.state == "right"
    assert notice.lines[0] == exercise.praise


@pytest.mark.slow_beyond_first
@EVERY
def test_every_wrong_answer_gets_its_own_message(exercise):
    if isinstance(exercise.form, Sentence):
        assert exercise.wrong == ()
        return
    assert len(exercise.wrong) >= 2
    for wrong in in_own_order(exercise).wrong:
        given = wrong.given if isinstance(exercise.form, Code) else wrong.answer()
        notice = check(exercise.id, given)
        assert notice.state == "not yet"
        assert told(notice) == wrong.says
    assert len({wrong.says for wrong in exercise.wrong}) == len(exercise.wrong)


@pytest.mark.slow_beyond_first
@EVERY
def test_no_wrong_answer_lies_within_the_tolerance(exercise):
    form = exercise.form
    if isinstance(form, Code | Sentence):
        return
    if isinstance(form, Choice):
        assert {wrong.answer() for wrong in exercise.wrong} == form.options.keys() - {form.right}
        return
    if isinstance(form, Number):
        # Two tolerances apart, so that nothing is near both; the same for two wrong answers.
        answers = [form.truth(), *(wrong.answer() for wrong in exercise.wrong)]
        for one, other in itertools.combinations(answers, 2):
            assert abs(one - other) > 2 * form.tolerance
        assert form.tolerance < 0.05 * max(abs(form.truth()), 1e-9) or form.tolerance == 0
        return
    for wrong in exercise.wrong:
        low, high = wrong.answer()
        assert not low <= form.truth() <= high
        assert wrong.when is None or not wrong.when(right_answer(form))


@pytest.mark.parametrize("lesson", lessons()[6:], ids=lambda lesson: lesson.number)
def test_a_range_beside_the_truth_hears_what_to_think_of(lesson):
    for exercise in (one for one in lesson.exercises if isinstance(one.form, Bounds)):
        truth, wide = exercise.form.truth(), 0.9 * exercise.form.widest
        for off in (0.02, 0.1, 0.3, 0.6):
            for low in (truth - off * truth - wide, truth + off * truth):
                assert mark(exercise, (low, low + wide)).mistake, (exercise.id, low)


@EVERY
def test_the_texts_are_complete(exercise):
    assert exercise.kind in KINDS
    assert exercise.id.partition(".")[0].isdigit()
    assert 1 <= exercise.minutes <= 15
    assert all(len(text) > 10 for text in exercise.hints)  # a hint may end in code
    for text in (exercise.way(), exercise.praise, *(wrong.says for wrong in exercise.wrong)):
        assert text.strip().endswith((".", "?", "!"))
    assert exercise.hints[0] != exercise.hints[1]


@pytest.mark.slow
def test_ids_are_unique_and_begin_with_the_lesson():
    for lesson in lessons():
        for exercise in lesson.exercises:
            assert exercise.id.startswith(f"{lesson.number}.")
        assert KINDS.keys() - {"write", "complete", "say"} <= {one.kind for one in lesson.exercises}
        assert lesson.verdict() in ("holds", "does not hold", "open")
    assert len({exercise.id for exercise in EXERCISES}) == len(EXERCISES)


# --- what an answer may be


@pytest.mark.parametrize(
    "answer",
    [
        1 / 3,
        np.float64(1 / 3),
        np.float32(1 / 3),
        np.array([[1 / 3]]),
        [1 / 3],
        pd.Series([1 / 3]),
        pd.DataFrame({"a": [1 / 3]}),
        Fraction(1, 3),
        "1/3",
        " 0.333 ",
        ".333",
        "33.3 %",
        Decimal("0.333"),
    ],
)
def test_many_ways_to_give_the_same_number(answer):
    assert mark(THIRD, answer).state == "right"


@pytest.mark.parametrize("answer", [..., None, "", "  ", "...", "\n\t", "\u00a0", " …\n"])
def test_untouched_is_not_answered(answer):
    for exercise in (THIRD, PICK, RANGE):
        assert mark(exercise, answer).state == "not answered yet"


class Hostile:
    """Raises at whatever it is asked."""

    def __raise(self, *_):
        raise RuntimeError("no")

    __repr__ = __str__ = __eq__ = __float__ = __iter__ = __len__ = __bool__ = __array__ = __raise
    __hash__ = None


class NoDigits(float):
    def __float__(self):
        raise KeyError("no")


NONSENSE = [
    float("nan"),
    np.nan,
    float("inf"),
    -math.inf,
    pd.NA,
    pd.NaT,
    "a lot",
    "1/0",
    "1e99999999",
    "nan",
    True,
    np.bool_(False),
    [],
    [1, 2, 3],
    (5, 1),
    ("x", "y"),
    {},
    {"a": 1},
    {1, 2},
    len,
    lambda: 0.2,
    int,
    object(),
    Hostile(),
    NoDigits(2),
    10**400,
    1 + 2j,
    b"0.2",
    pd.DataFrame({"a": [1, 2], "b": [3, 4]}),
    pd.Series(["a"]),
    pd.DataFrame(),
    np.array([]),
    itertools.count(),
    "x" * 100_000,
    "<script>alert(1)</script>",
    type("T", (), {}),
    sys,
    NotImplemented,
]


@pytest.mark.parametrize("answer", NONSENSE, ids=lambda a: type(a).__name__)
@pytest.mark.parametrize("exercise", [THIRD, PICK, RANGE], ids=["number", "choice", "bounds"])
def test_nonsense_is_not_yet_and_never_raises(exercise, answer):
    notice = mark(exercise, answer)
    assert notice.state == "not yet"
    assert 10 < len(told(notice)) < 300
    assert "<script" not in notice._repr_html_()
    assert check(FIRST.id, answer).state == "not yet"
    assert confidence("01", "before", answer, 0.5).state == "not yet"
    assert confidence("01", "before", "open", answer).state == "not yet"


def test_not_even_an_object_that_hides_its_class_raises():
    class Worse(Hostile):
        @property
        def __class__(self):
            raise RuntimeError("no")

    for exercise in (THIRD, PICK, RANGE):
        assert mark(exercise, Worse()).state == "not yet"
    assert check(FIRST.id, Worse()).state == "not yet"
    assert check(Worse(), 1).state == "note"
    assert confidence("01", "before", Worse(), Worse()).state == "not yet"


@given(st.one_of(st.text(), st.floats(), st.integers(), st.lists(st.floats(), max_size=3), st.binary()))
def test_marking_never_raises_and_is_right_only_within_the_tolerance(answer):
    for exercise in (THIRD, PICK, RANGE):
        state = mark(exercise, answer).state
        assert state in ("right", "not yet", "not answered yet")
        if exercise is THIRD and isinstance(answer, (int, float)):
            assert (state == "right") == (abs(answer - 1 / 3) <= 0.001)


def test_an_answer_that_nobody_foresaw_says_which_way():
    assert f"too high. {THIRD.hints[0]}" in told(mark(THIRD, 0.5))
    assert f"too low. {THIRD.hints[0]}" in told(mark(THIRD, 0.2))
    assert "per cent" in told(mark(THIRD, 33.3))
    assert "between 0 and 1" in told(mark(THIRD, 70))
    assert told(mark(THIRD, 3)) == "upside down"
    assert told(mark(THIRD, 0.6667)) == "the other share"
    assert told(mark(THIRD, -8)) == "below zero"
    assert "8 apart; 3 is the most" in told(mark(RANGE, (1, 9)))
    assert f"above your range. {RANGE.hints[0]}" in told(mark(RANGE, (3, 5)))
    assert "below" in told(mark(RANGE, (8, 9)))
    assert mark(RANGE, "6 to 8").state == "right"
    assert 9.3 - 6.3 > 3
    assert mark(RANGE, (6.3, 9.3)).state == "right", "what is subtracted is not always exact"
    assert "the sign is not" in told(mark(_exercise(Number(6.0, 0.1)), -6.0))
    assert mark(RANGE, [6, 9]).state == "right"
    assert mark(PICK, "B)").state == "right"
    assert mark(PICK, "Two swings").state == "right"
    assert "call it" in told(mark(THIRD, lambda: 1 / 3))
    assert "one number" in told(mark(THIRD, pd.Series([1.0, 2.0])))


NUMBERS = [exercise for exercise in EXERCISES if isinstance(exercise.form, Number | Bounds)]


@pytest.mark.slow
@pytest.mark.parametrize("exercise", NUMBERS, ids=lambda exercise: exercise.id)
def test_no_message_says_a_side_and_nothing_else(exercise):
    """Far off, a little off, on both sides: either a known mistake, or the thought that leads on."""
    truth, form = exercise.form.truth(), exercise.form
    for off in (0.1, 0.37, 0.63, 3.0):
        for by in (-off, off):
            value = truth * (1 + by)
            says = told(mark(exercise, value if isinstance(form, Number) else (value, value)))
            if re.match(r"too (?:high|low)|the truth lies", says):
                assert len(exercise.hints[0].split()) >= 3
                assert exercise.hints[0] in says


def test_data_that_are_missing_are_named_and_do_not_raise():
    def nothing():
        raise HitlabError("the demo season is not here")

    notice = mark(_exercise(Number(nothing, 0.1)), 1)
    assert notice.state == "note"
    assert "demo season" in told(notice)


@pytest.mark.parametrize("call", [lambda name: check(name, 1), hint, solution])
@pytest.mark.parametrize(
    "name", ["01.hard-per-swings", "", None, 7, ["x"], Hostile()], ids=lambda a: type(a).__name__
)
def test_an_unknown_name_offers_the_nearest(call, name):
    notice = call(name)
    assert notice.state == "note"
    assert re.search(r"\b\d\d\.[a-z]", told(notice))


# --- hints, solutions, progress


def test_two_hints_then_the_solution():
    exercise = FIRST
    first, second, third = (told(hint(exercise.id)) for _ in range(3))
    assert exercise.hints[0] in first
    assert exercise.hints[1] in second
    assert f'solution("{exercise.id}")' in second
    assert second == third
    assert exercise.way() in told(solution(exercise.id))


@EVERY
def test_hints_do_not_tell_the_number(exercise):
    if isinstance(exercise.form, Number) and not float(exercise.form.truth()).is_integer():
        shown = f"{exercise.form.truth():.3f}".lstrip("0")
        assert shown not in " ".join(exercise.hints)
        assert f"{exercise.form.truth():.4g}" in told(solution(exercise.id))


def test_progress_is_kept_and_says_what_is_next(own_progress):
    lesson = find_lesson("01")
    first, second = lesson.exercises[:2]
    assert f"Next: {first.id}" in told(progress(lesson.number))
    check(first.id, first.wrong[0].answer())
    assert f"Next: {first.id}" in told(progress(lesson.number))
    check(first.id, right_answer(first.form))
    check(first.id, first.wrong[0].answer())  # right once is right
    assert f"Next: {second.id}" in told(progress(lesson.number))
    kept = json.loads(own_progress.read_text(encoding="utf-8"))
    entry = kept["exercises"][first.id]
    mistake = first.wrong[0].mistake
    assert {key: entry[key] for key in ("state", "tries", "first_state", "first_mistake", "mistakes")} == {
        "state": "right",
        "tries": 2,
        "first_state": "not yet",
        "first_mistake": mistake,
        "mistakes": {mistake: 1},
    }
    began, ended = (datetime.fromisoformat(entry[key]) for key in ("first_try", "last_try"))
    assert timedelta(0) <= ended - began < timedelta(minutes=5)
    assert abs(datetime.now(UTC) - ended) < timedelta(minutes=5)
    for exercise in lesson.exercises:
        if exercise.core:
            check(exercise.id, right_answer(exercise.form))
    assert "You may move on" in told(progress(lesson.number))
    assert own_progress.stat().st_size < 4_000  # a lesson done
    assert "All is done" not in told(progress())
    for exercise in EXERCISES:
        check(exercise.id, right_answer(exercise.form))
    assert "All is done" in told(progress())
    assert "Lesson 01" in told(progress(1))
    assert progress("77").state == "note"


def test_mistakes_are_kept_by_name_and_an_older_file_is_gone_on_with(own_progress):
    exercise = FIRST
    older = {"exercises": {exercise.id: {"state": "not yet", "tries": 2}}, "confidence": {}, "version": 1}
    own_progress.write_text(json.dumps(older), encoding="utf-8")
    for _ in range(2):
        check(exercise.id, exercise.wrong[0].answer())
    check(exercise.id, exercise.wrong[1].answer())
    check(exercise.id, "no answer at all")
    entry = json.loads(own_progress.read_text(encoding="utf-8"))["exercises"][exercise.id]
    assert entry.pop("last_try")
    assert entry == {  # how the first try ended, nobody knows any more
        "state": "not yet",
        "tries": 6,
        "mistakes": {exercise.wrong[0].mistake: 2, exercise.wrong[1].mistake: 1},
    }


def test_every_mistake_has_a_name_of_its_own():
    for exercise in EXERCISES:
        names = [wrong.mistake for wrong in exercise.wrong]
        assert len(set(names)) == len(names), exercise.id
        assert all(len(name.split()) >= 3 and not name.endswith(".") for name in names), exercise.id
    assert Wrong(1, "so many? Few are late. More.").mistake == "so many? Few are late"
    assert Wrong(1, "that is 1.5 per swing. Ask again.").mistake == "that is 1.5 per swing"
    assert mark(THIRD, 33.3).mistake == "that is a per cent value; give a share, from 0 to 1"
    assert [mark(THIRD, answer).mistake for answer in (3, 0.5, "x", 1 / 3)] == ["upside down", "", "", ""]


def test_what_cannot_be_marked_is_no_try(own_progress, monkeypatch):
    def nothing():
        raise HitlabError("the demo season is not here")

    exercise = _exercise(Number(nothing, 0.1))
    monkeypatch.setattr("hitlab.exercises.asking.find_exercise", lambda name: exercise)
    assert check(exercise.id, 1).state == "note"
    assert not own_progress.exists()


@pytest.mark.slow
def test_progress_outlives_the_process(own_progress):
    exercise = FIRST
    code = (
        "from hitlab.exercises import check\n"
        f"print(check({exercise.id!r}, {right_answer(exercise.form)!r}).state)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "right"
    assert f"Next: {SECOND.id}" in told(progress("01"))


@pytest.mark.parametrize(
    "text", ["{", "[]", '{"exercises": 3}', '{"exercises": {"a": 1}, "confidence": {}}', "null", "\0"]
)
def test_a_broken_file_is_said_once_and_left_as_it_is(own_progress, text):
    own_progress.write_text(text, encoding="utf-8")
    exercise = FIRST
    said = check(exercise.id, right_answer(exercise.form))
    assert said.state == "right"
    assert "not being saved" in told(said)
    assert str(own_progress) in told(said)
    assert "not being saved" not in told(check(exercise.id, 1))
    assert f"Next: {SECOND.id}" in told(progress("01"))  # this session still knows
    assert own_progress.read_text(encoding="utf-8") == text


def test_bytes_that_are_no_text_and_odd_entries_do_no_harm(own_progress):
    own_progress.write_bytes(b"\xff\xfe\x00")
    assert check(FIRST.id, 1).state
    odd = {
        "exercises": {FIRST.id: {"state": 3, "tries": "many", "hints": None}},
        "confidence": {"01": {}},
    }
    own_progress.write_text(json.dumps(odd), encoding="utf-8")
    assert "1 of 2" in told(hint(FIRST.id))
    own_progress.write_text(json.dumps({**odd, "confidence": {"01": {"before": 7}}}), encoding="utf-8")
    assert "After" in told(confidence("01", "after", "open", 0.5))


def test_a_file_that_cannot_be_written_is_said_once(tmp_path, monkeypatch):
    (tmp_path / "a file").write_text("", encoding="utf-8")
    monkeypatch.setenv("HITLAB_PROGRESS", str(tmp_path / "a file" / "progress.json"))
    exercise = FIRST
    said = check(exercise.id, right_answer(exercise.form))
    assert said.state == "right"
    assert "not being saved" in told(said)
    assert "not being saved" not in told(progress())
    assert f"Next: {SECOND.id}" in told(progress("01"))


def test_a_read_only_file_is_said_once(own_progress, monkeypatch):
    check(SECOND.id, 1)
    before = own_progress.read_bytes()
    monkeypatch.setattr(keeping.os, "access", lambda *_: False)  # root may write anything
    assert "read-only" in told(check(FIRST.id, 1))
    assert "read-only" not in told(check(FIRST.id, 1))
    assert own_progress.read_bytes() == before


def test_off_keeps_nothing_on_disk(tmp_path, monkeypatch):
    monkeypatch.setenv("HITLAB_PROGRESS", "off")
    monkeypatch.setenv("HOME", str(tmp_path))
    check(FIRST.id, right_answer(FIRST.form))
    assert f"Next: {SECOND.id}" in told(progress("01"))
    assert list(tmp_path.rglob("*")) == []


def test_by_default_the_file_lies_in_the_home_folder(tmp_path, monkeypatch):
    monkeypatch.delenv("HITLAB_PROGRESS")
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    check(FIRST.id, 1)
    assert (tmp_path / ".hitlab" / "progress.json").is_file()

    def homeless():
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", homeless)
    assert check(FIRST.id, right_answer(FIRST.form)).state == "right"


# --- confidence


def test_brier_score_of_known_cases():
    # Brier 1950 for one event: the squared distance; fifty-fifty always gets a quarter.
    assert brier_score(1, True) == 0
    assert brier_score(1, False) == 1
    assert brier_score(0.5, True) == brier_score(0.5, False) == 0.25
    assert brier_score(0.8, True) == pytest.approx(0.04)


@given(st.floats(0, 1), st.floats(0, 1))
def test_honesty_is_never_punished(truly, said):
    def expected(chance):
        return truly * brier_score(chance, True) + (1 - truly) * brier_score(chance, False)

    assert expected(truly) <= expected(said) + 1e-12


def test_confidence_is_kept_and_scored_at_the_end(own_progress):
    lesson = find_lesson("01")
    truth = lesson.verdict()
    wrong = next(word for word in ("holds", "open") if word != truth)
    before = confidence(lesson.number, "before", wrong, 0.8)
    assert truth not in told(before).replace(wrong, "")
    after = told(confidence(lesson.number, "after", truth.upper(), "90 %"))
    assert f"Before: {wrong}, 80 % sure, wrong: score .640." in after
    assert f"After: {truth}, 90 % sure, right: score .010." in after
    assert lesson.because in after
    kept = json.loads(own_progress.read_text(encoding="utf-8"))["confidence"]["01"]
    every = [one[:3] for one in kept.pop("given")]
    assert every == [["before", wrong, 0.8], ["after", truth, 0.9]]
    assert kept == {"before": [wrong, 0.8], "after": [truth, 0.9], "truth": truth}


def test_confidence_says_what_it_wants():
    assert confidence("01", "before").state == "not answered yet"
    assert confidence("01", "before", "open").state == "not answered yet"
    assert "0.8" in told(confidence("01", "before", "open", 80))
    assert "1/3" in told(confidence("01", "before", "open", 0.1))
    assert "1/3" in told(confidence("01", "before", "open", -2))
    assert "does not hold" in told(confidence("01", "before", "perhaps", 0.5))
    assert confidence("01", "during", "open", 0.5).state == "note"
    assert confidence("77", "before", "open", 0.5).state == "note"
    assert confidence("01", "before", "open", 1 / 3).state == "confidence"
    assert confidence("01", "before", "open", 0.33).state == "confidence"


# --- how it looks


class _Texts(HTMLParser):
    def __init__(self):
        super().__init__()
        self.tags, self.text = [], ""

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)

    def handle_data(self, data):
        self.text += data


def test_a_notice_prints_and_renders_with_its_state_in_words():
    notice = Notice("not yet", ("a <b> & c", "second"))
    assert str(notice) == repr(notice) == "NOT YET. A <b> & c\nSecond"
    parsed = _Texts()
    parsed.feed(notice._repr_html_())
    assert parsed.tags == ["div", "strong", "br"]
    assert parsed.text == "NOT YET. A <b> & cSecond"


@pytest.mark.slow
def test_the_exercises_load_no_picture_library():
    heavy = ("matplotlib", "seaborn", "statsmodels", "IPython", "ipywidgets")
    code = (
        "import sys; from hitlab.exercises import check; check('01.hard-per-swing', 1);"
        f"print([m for m in {heavy} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_finding_is_forgiving_about_blanks():
    assert find_exercise(f" {FIRST.id} ") is FIRST
