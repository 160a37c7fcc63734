"""Three questions from earlier lessons, with numbers of their own each time, spaced by what was missed."""

from __future__ import annotations

import random
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from hitlab.errors import HitlabError
from hitlab.exercises.answers import is_blank
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


def review(lesson: str, *answers: Any, new: bool = False) -> Notice:
    """Ask three questions from earlier lessons, or mark the answers to them.

    Each lesson has its round, which stays until a new one is asked for, so that running the cells again marks
    the same questions. Into a round come, first, questions that were missed when they were asked last; then
    those that are due, two rounds after they were right once, four after twice, eight from then on; then
    those that were never asked, one a lesson as far as there are.

    Parameters
    ----------
    lesson
        The lesson at whose head it stands, such as ``"05"``; the questions are of those before it.
    answers
        One an answer, in the order of the questions; the dots mean "not answered yet". Without any the
        questions are shown. Where no round is open yet nothing is marked: the questions were never seen.
    new
        Ask three new questions.

    Returns
    -------
    Notice
        The questions, or what became of each answer. Never raises.
    """
    try:
        known = find_lesson(lesson)
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    if not _before(known.number):
        return Notice("note", ("there is nothing to review before this lesson.",))
    seen = not new and _kept_round(known.number) is not None
    asked = _round_of(known.number, new=new)
    if not answers or not (seen or all(map(is_blank, answers))):
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
    return tuple(_right(one.exercise) for one in _round_of(find_lesson(lesson).number))


def _before(lesson: str) -> dict[str, Again]:
    """Return the questions of all earlier lessons by their ids."""
    return {again.id: again for one in lessons() if one.number < lesson for again in one.again}


def _to_pick_from(lesson: str) -> list[str]:
    """Return the questions of earlier lessons that were worked in, if they are enough; else of all of them.

    Somebody who takes a way of his own through the lessons is not asked of those that he left out.
    """
    kept = read_all()["exercises"]
    worked = {name.partition(".")[0] for name, entry in kept.items() if whole(entry.get("tries"))}
    own = [name for name in _before(lesson) if name.partition(".")[0] in worked]
    return own if len(own) >= QUESTIONS else list(_before(lesson))


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
    if read_all()["reviews"].get(lesson, {}).get("right") is True:
        how = f'all are right. For three new ones: review("{lesson}", new=True).'
    return Notice(
        "review", (f"{len(asked)} questions from before; {how}", *trouble_to_tell()), items=tuple(items)
    )


def _round_of(lesson: str, *, new: bool = False) -> list[_Asked]:
    """Return the lesson's round, a new one where none is there or one is asked for."""
    there = _before(lesson)
    questions = None if new else _kept_round(lesson)
    if questions is None:
        number = whole(read_all()["reviews"].get(lesson, {}).get("round")) + 1
        questions = [(name, number) for name in _picked(lesson, number)]
        plain = [list(one) for one in questions]
        change("reviews", lesson, questions=plain, round=number, right=False, marked=[])
    return [_drawn(there[name], lesson, number) for name, number in questions]


def _kept_round(lesson: str) -> list[tuple[str, int]] | None:
    """Return the questions of the round that a lesson has; ``None`` where it has none."""
    return _readable(read_all()["reviews"].get(lesson, {}).get("questions"), _before(lesson))


def _readable(kept: Any, there: dict[str, Again]) -> list[tuple[str, int]] | None:
    """Return the questions that a file names; ``None`` where it names none, or others than there are now."""
    if not isinstance(kept, list) or not kept:
        return None
    found = []
    for one in kept:
        if not isinstance(one, list) or len(one) != 2 or not isinstance(one[0], str) or one[0] not in there:
            return None
        found.append((one[0], whole(one[1])))
    return found


def _picked(lesson: str, number: int) -> list[str]:
    """Pick the questions of a round."""
    kept = read_all()["reviews"]
    rounds = sum(whole(entry.get("round")) for entry in kept.values())
    order = _to_pick_from(lesson)
    random.Random(f"{own_seed()} {lesson} {number}").shuffle(order)

    def rank(name: str) -> tuple[int, int]:
        """Return a question's class, and within it what has waited longest first."""
        entry = kept.get(name, {})
        rightly = whole(entry.get("rightly"))
        late = rounds - whole(entry.get("at")) - min(2**rightly, _LONGEST)
        if not whole(entry.get("asked")):
            return 2, 0
        return (0 if not rightly else 1 if late >= 0 else 3), -late

    picked: list[str] = []
    for own in range(4):
        these = sorted((name for name in order if rank(name)[0] == own), key=rank)
        for apart in (True, False):  # first one of each lesson, then whatever is left
            for name in these:
                lessons_so_far = {one.partition(".")[0] for one in picked}
                near = apart and name.partition(".")[0] in lessons_so_far
                if len(picked) < QUESTIONS and name not in picked and not near:
                    picked.append(name)
    return picked


def _drawn(again: Again, lesson: str, number: int) -> _Asked:
    seed = [own_seed(), zlib.crc32(f"{again.id} {lesson}".encode()), number]
    text, exercise = again.draw(np.random.default_rng(seed))
    return _Asked(text, in_own_order(exercise, f" {lesson} {number}"))


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
