"""Three questions from earlier lessons, with numbers of their own each time, spaced by what was missed."""

from __future__ import annotations

import random
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from hitlab.errors import HitlabError
from hitlab.exercises.definitions import Again, Choice, Exercise, Number
from hitlab.exercises.keeping import change, read_all, trouble_to_tell, whole
from hitlab.exercises.letters import in_own_order, own_seed
from hitlab.exercises.library import find_lesson, lessons
from hitlab.exercises.marking import mark
from hitlab.exercises.notices import NOT_ANSWERED, NOT_YET, RIGHT, Notice
from hitlab.wording import capitalised

__all__ = ["QUESTIONS", "review", "right_of_review"]

QUESTIONS = 3
"""Questions of a round."""

_LONGEST = 8  # rounds until a question that was always right comes again


@dataclass(frozen=True, slots=True)
class _Asked:
    """A question as it was drawn."""

    text: str
    exercise: Exercise


def review(lesson: str, *answers: Any) -> Notice:
    """Ask three questions from earlier lessons, or mark the answers to them.

    A round stays until all three are right; then the next call asks new ones. What was missed comes again
    in the next round, what was right after two rounds, then four, then eight.

    Parameters
    ----------
    lesson
        The lesson at whose head it stands, such as ``"05"``; the questions are of those before it.
    answers
        One an answer, in the order of the questions; the dots mean "not answered yet". Without any the
        questions are shown.

    Returns
    -------
    Notice
        The questions, or what became of each answer. Never raises.
    """
    try:
        known = find_lesson(lesson)
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    there = _questions_before(known.number)
    if not there:
        return Notice("note", ("there is nothing to review before this lesson.",))
    asked = _open_round(known.number, there, new=not answers)
    if not answers:
        return _shown(known.number, asked)
    if len(answers) != len(asked):
        said = (
            f"there are {len(asked)} questions, and {len(answers)} answers; use the dots for one left open."
        )
        return Notice(NOT_ANSWERED, (said,))
    # An idea that was missed is helped on at once: these questions have no hints that could be asked for.
    notices = [
        mark(one.exercise, answer, helps=one.exercise.hints[0])
        for one, answer in zip(asked, answers, strict=True)
    ]
    _keep(known.number, notices)
    lines = [
        f"{place}. {notice.state.upper()}. {' '.join(map(capitalised, notice.lines))}"
        if notice.state != NOT_ANSWERED
        else f"{place}. {notice.state.upper()}."
        for place, notice in enumerate(notices, 1)
    ]
    right = sum(notice.state == RIGHT for notice in notices)
    first = f"{right} of {len(asked)} right." + ("" if right < len(asked) else " On with the lesson.")
    return Notice("review", (first, *trouble_to_tell()), items=tuple(lines))


def right_of_review(lesson: str) -> tuple[Any, ...]:
    """Return the right answers of the round that is open: for the teacher's copy.

    Parameters
    ----------
    lesson
        As for ``review``.

    Raises
    ------
    HitlabError
        Where no such lesson is there.
    """
    known = find_lesson(lesson)
    there = _questions_before(known.number)
    return tuple(_right(one.exercise) for one in _open_round(known.number, there, new=False))


def _questions_before(lesson: str) -> dict[str, Again]:
    """Return the questions of earlier lessons by their ids: of those worked in, if they are enough.

    Somebody who takes a way of his own through the lessons is not asked of those that he left out.
    """
    kept = read_all()["exercises"]
    worked = {name.partition(".")[0] for name, entry in kept.items() if whole(entry.get("tries"))}
    earlier = [one for one in lessons() if one.number < lesson]
    own = {again.id: again for one in earlier if one.number in worked for again in one.again}
    return own if len(own) >= QUESTIONS else {again.id: again for one in earlier for again in one.again}


def _right(exercise: Exercise) -> Any:
    form = exercise.form
    if isinstance(form, Choice):
        return form.right
    assert isinstance(form, Number)
    return form.truth()


def _shown(lesson: str, asked: Sequence[_Asked]) -> Notice:
    items = []
    for place, one in enumerate(asked, 1):
        items.append(f"{place}. {one.text}")
        form = one.exercise.form
        if isinstance(form, Choice):
            items += [f"   {letter}) {text}" for letter, text in form.options.items()]
    dots = ", ".join(["..."] * len(asked))
    how = f'put your answers in the order of the questions: review("{lesson}", {dots}).'
    return Notice(
        "review", (f"{len(asked)} questions from before; {how}", *trouble_to_tell()), items=tuple(items)
    )


def _open_round(lesson: str, there: dict[str, Again], *, new: bool) -> list[_Asked]:
    """Return the round that is open; a new one where none is, or all was right and one is asked for."""
    kept = read_all()["reviews"].get(lesson, {})
    questions = _readable(kept.get("questions"), there)
    if questions is None or (new and kept.get("right") is True):
        number = whole(kept.get("round")) + 1
        picked = _picked(there, lesson, number)
        questions = [(name, number) for name in picked]
        change(
            "reviews",
            lesson,
            questions=[list(one) for one in questions],
            round=number,
            right=False,
            marked=False,
        )
    return [_drawn(there[name], lesson, number) for name, number in questions]


def _readable(kept: Any, there: dict[str, Again]) -> list[tuple[str, int]] | None:
    """Return the questions that a file names; ``None`` where it names none, or others than there are now."""
    if not isinstance(kept, list) or not kept:
        return None
    found = []
    for one in kept:
        if not isinstance(one, list) or len(one) != 2 or one[0] not in there:
            return None
        found.append((str(one[0]), whole(one[1])))
    return found


def _picked(there: dict[str, Again], lesson: str, number: int) -> list[str]:
    """Pick the questions of a round: those that are due the longest, of as many lessons as there are."""
    kept = read_all()["reviews"]
    rounds = sum(whole(entry.get("round")) for entry in kept.values())
    order = list(there)
    random.Random(f"{own_seed()} {lesson} {number}").shuffle(order)

    def overdue(name: str) -> int:
        entry = kept.get(name, {})
        if not whole(entry.get("asked")):
            return 1  # never asked: before what was right not long ago, after what was missed
        wait = min(2 ** whole(entry.get("rightly")), _LONGEST) if whole(entry.get("rightly")) else 0
        late = rounds - whole(entry.get("at")) - wait
        return late + (_LONGEST if not whole(entry.get("rightly")) else 0)

    order.sort(key=overdue, reverse=True)
    picked: list[str] = []
    for apart in (True, False):  # first one of each lesson, then whatever is left
        for name in order:
            lessons_so_far = {one.partition(".")[0] for one in picked}
            if (
                len(picked) < QUESTIONS
                and name not in picked
                and not (apart and name.partition(".")[0] in lessons_so_far)
            ):
                picked.append(name)
    return picked


def _drawn(again: Again, lesson: str, number: int) -> _Asked:
    seed = [own_seed(), zlib.crc32(f"{again.id} {lesson}".encode()), number]
    text, exercise = again.draw(np.random.default_rng(seed))
    return _Asked(text, in_own_order(exercise))


def _keep(lesson: str, notices: Sequence[Notice]) -> None:
    """Keep how the first answers went, a question at a time, and whether the round is done."""
    kept = read_all()["reviews"]
    entry = kept.get(lesson, {})
    names = [str(one[0]) for one in entry.get("questions", [])]
    marked = entry.get("marked") if isinstance(entry.get("marked"), list) else []
    rounds = sum(whole(one.get("round")) for one in kept.values())
    for name, notice in zip(names, notices, strict=True):
        if notice.state not in (RIGHT, NOT_YET) or name in marked:
            continue
        before = kept.get(name, {})
        right = notice.state == RIGHT
        change(
            "reviews",
            name,
            asked=whole(before.get("asked")) + 1,
            missed=whole(before.get("missed")) + (not right),
            rightly=whole(before.get("rightly")) + 1 if right else 0,
            at=rounds,
        )
        marked = [*marked, name]
    change("reviews", lesson, marked=marked, right=all(notice.state == RIGHT for notice in notices))
