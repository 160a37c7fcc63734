"""What a learner calls: see choices, check an answer, ask for a hint or the solution, see the progress."""

from __future__ import annotations

import hashlib
import inspect
import textwrap
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from hitlab.errors import HitlabError
from hitlab.exercises.calibration import own_calibration
from hitlab.exercises.definitions import Bounds, Choice, Code, Exercise, Lesson, Sentence
from hitlab.exercises.forecasts import read_chance
from hitlab.exercises.keeping import change, read_all, trouble_to_tell, whole
from hitlab.exercises.letters import choices_of, in_own_order
from hitlab.exercises.library import find_exercise, find_lesson, lessons
from hitlab.exercises.marking import mark
from hitlab.exercises.notices import COMPARE, COMPARED, NOT_YET, RIGHT, Notice
from hitlab.exercises.patterns import as_read

__all__ = ["check", "choose", "hint", "progress", "solution", "tried_once"]


def choose(exercise: str) -> Notice:
    """Show what a choice offers, each with its letter, in an order of the learner's own.

    Parameters
    ----------
    exercise
        The exercise's id, such as ``"02.how-large"``.

    Returns
    -------
    Notice
        The options; an exercise without any gives a ``note``. Never raises.
    """
    try:
        known = find_exercise(exercise)
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    if not isinstance(known.form, Choice):
        return Notice("note", (f"{known.id} offers no choices; it asks for an answer of your own.",))
    return _with_trouble(choices_of(known))


def check(exercise: str, answer: Any = ..., sure: Any = ...) -> Notice:
    """Mark an answer.

    Parameters
    ----------
    exercise
        The exercise's id, such as ``"01.hard-per-swing"``.
    answer
        Anything; the dots ``...`` mean "not answered yet".
    sure
        How sure you are of it, from 0 to 1, if you like to say so, with the first try; ``progress()`` shows
        whether you were right as often as you said.

    Returns
    -------
    Notice
        Its ``state`` is ``not answered yet``, ``right`` or ``not yet``; of a sentence with words that its
        list does not know ``compare the two``, and ``compared`` where it was given just before; an id that
        does not exist gives a ``note``. Never raises.
    """
    try:
        known = in_own_order(find_exercise(exercise))
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    notice = mark(known, answer)
    if notice.state in (RIGHT, NOT_YET, COMPARE):
        kept = read_all()["exercises"].get(known.id, {})
        news = {}
        if notice.state == COMPARE:
            news["compared_sentence"] = _sign_of(answer)
            if kept.get("compared_sentence") == news["compared_sentence"]:
                notice = Notice(COMPARED, (_COMPARED, *notice.lines[:2]))
        if kept.get("state") not in _DONE or (kept.get("state") == COMPARED and notice.state == RIGHT):
            chance, why_not = _read_sure(sure)
            news |= tried_once(kept, notice, chance)
            notice = replace(notice, lines=(*notice.lines, *why_not))
        if news:
            change("exercises", known.id, **news)
    return _with_trouble(notice)


_DONE = (RIGHT, COMPARED)
_COMPARED = "it counts as tried and compared; whether it says the same is yours to judge, and your teacher's."


def _sign_of(sentence: str) -> str:
    """Return a sign by which a sentence is known again, whatever its capitals and blanks; not its words."""
    return hashlib.sha256(as_read(sentence).encode()).hexdigest()[:16]


def _read_sure(sure: Any) -> tuple[float | None, tuple[str, ...]]:
    """Return how sure somebody is, and in a line why that cannot be read; never raises."""
    try:
        return (None if sure is ... else read_chance(sure, least=0.0)), ()
    except HitlabError as error:
        return None, (f"How sure you are was not kept: {error}.",)
    except Exception as error:  # what was given may raise anything
        return None, (f"How sure you are was not kept: it cannot be read ({type(error).__name__}).",)


def tried_once(kept: dict[str, Any], notice: Notice, sure: float | None) -> dict[str, Any]:
    """Return what is kept of one more try: how often, when, how the first one ended, and the named mistakes.

    Of an exercise that was tried before these were kept, the first try stays unknown.
    """
    now = datetime.now(UTC).isoformat(timespec="seconds")
    tries = whole(kept.get("tries")) + 1
    entry: dict[str, Any] = {"state": notice.state, "tries": tries, "last_try": now}
    if tries == 1:
        entry |= {"first_state": notice.state, "first_mistake": notice.mistake, "first_try": now}
        entry |= {} if sure is None else {"sure": sure}
    if notice.mistake:
        before = kept.get("mistakes")
        before = before if isinstance(before, dict) else {}
        entry["mistakes"] = {**before, notice.mistake: whole(before.get(notice.mistake)) + 1}
    if notice.state in (COMPARE, COMPARED):
        entry["compared"] = whole(kept.get("compared")) + 1
    return entry


def hint(exercise: str) -> Notice:
    """Give the next of an exercise's two hints; after the second, the second again."""
    try:
        known = find_exercise(exercise)
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    seen = whole(read_all()["exercises"].get(known.id, {}).get("hints"))
    step = min(seen, 1)
    change("exercises", known.id, hints=step + 1)
    more = "" if step == 0 else f' Still stuck: solution("{known.id}").'
    again = f' Once more for the next one: hint("{known.id}").' if step == 0 else ""
    return _with_trouble(Notice("hint", (f"{step + 1} of 2. {known.hints[step]}{again}{more}",)))


def solution(exercise: str) -> Notice:
    """Give an exercise's answer and the way to it."""
    try:
        known = in_own_order(find_exercise(exercise))
        lines = (_in_words(known), known.way())
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    change("exercises", known.id, solution_seen=True)
    return _with_trouble(Notice("solution", lines, code=_code_of(known)))


def _in_words(exercise: Exercise) -> str:
    form = exercise.form
    if isinstance(form, Choice):
        return f'The answer is "{form.right}": {form.options[form.right]}.'
    if isinstance(form, Code):
        return "One way to write it stands below."
    if isinstance(form, Sentence):
        return f"One way to say it: {form.said()}"
    truth = f"{form.truth():.4g}"
    if isinstance(form, Bounds):
        return f"The truth is {truth}; your two ends should hold it."
    return f"The answer is {truth}."


def _code_of(exercise: Exercise) -> str:
    form = exercise.form
    if not isinstance(form, Code):
        return ""
    lines = textwrap.dedent(inspect.getsource(form.right)).strip().splitlines()
    return "\n".join(line.partition("  # type:")[0] for line in lines)  # what a type checker is told


def progress(lesson: str | None = None) -> Notice:
    """Say which exercises are done, and what to do next.

    Parameters
    ----------
    lesson
        A lesson's number for that lesson alone; all of them where not given.
    """
    try:
        shown = lessons() if lesson is None else (find_lesson(lesson),)
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    everything = read_all()
    kept = everything["exercises"]
    lines = [_lesson_line(one, kept) for one in shown]
    left = [
        (one, exercise)
        for core in (True, False)
        for one in shown
        for exercise in one.exercises
        if exercise.core is core and kept.get(exercise.id, {}).get("state") not in _DONE
    ]
    if left:
        place, exercise = left[0]
        optional = "" if exercise.core else ", optional"
        where = "" if lesson else f" in lesson {place.number}, {place.title.lower()}"
        lines.append(f"Next: {exercise.id}{where} ({exercise.minutes} minutes{optional}).")
    else:
        after = [] if lesson is None else [one for one in lessons() if one.number > shown[0].number]
        lines.append(
            f"All is done here. Next: lesson {after[0].number}, {after[0].title.lower()}."
            if after
            else "All is done here. Take a claim that you heard today and check it."
        )
    own = own_calibration(everything)
    return _with_trouble(Notice("progress", (*lines, *own.lines), picture=own.picture()))


def _lesson_line(lesson: Lesson, kept: dict[str, Any]) -> str:
    done, compared = (
        {e.id for e in lesson.exercises if kept.get(e.id, {}).get("state") == state} for state in _DONE
    )
    core = {e.id for e in lesson.exercises if e.core}
    text = f"Lesson {lesson.number}, {lesson.title.lower()}: "
    text += f"{len(done & core)} of {len(core)} core exercises right"
    extra = len(lesson.exercises) - len(core)
    text += f", {len(done - core)} of {extra} optional" if extra else ""
    text += f", {len(compared)} compared with ours" if compared else ""
    return text + (". You may move on." if core <= done | compared else ".")


def _with_trouble(notice: Notice) -> Notice:
    trouble = trouble_to_tell()
    return replace(notice, lines=(*notice.lines, *trouble)) if trouble else notice
