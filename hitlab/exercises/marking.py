"""Marks one answer; nothing here raises, whatever the answer is."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hitlab.errors import HitlabError
from hitlab.exercises.answers import UnreadableAnswerError, is_blank, read_answer
from hitlab.exercises.definitions import Bounds, Choice, Code, Exercise, Form, Number, Sentence, Wrong
from hitlab.exercises.given_words import given_words
from hitlab.exercises.notices import COMPARE, NOT_ANSWERED, NOT_YET, RIGHT, Notice
from hitlab.exercises.sentences import held, wanted
from hitlab.exercises.trying import has_gaps, tried

__all__ = ["mark"]

_PER_CENT = "that is a per cent value; give a share, from 0 to 1"
_SHARES = "those are shares; give them in per cent, from 0 to 100"


def mark(exercise: Exercise, answer: Any, helps: str | None = None) -> Notice:
    """Return the state and the message for an answer.

    Parameters
    ----------
    exercise
        What was asked.
    answer
        Anything at all. ``...``, ``None`` and empty text are "not answered yet".
    helps
        What is said to somebody who is stuck; not given, how to ask for a hint.
    """
    helps = f'hint("{exercise.id}") helps.' if helps is None else helps
    try:
        if answer is None:
            said = "put your answer in place of the dots: what print shows is gone, so give the value itself"
            return Notice(NOT_ANSWERED, (f"{said}; {helps}",))
        if is_blank(answer):
            more = (wanted(exercise.form),) if isinstance(exercise.form, Sentence) else ()
            return Notice(NOT_ANSWERED, (f"put your answer in place of the dots; {helps}", *more))
        return _marked(exercise, answer, helps)
    except UnreadableAnswerError as error:
        return Notice(NOT_YET, (f"{error}.",))
    except HitlabError as error:
        return Notice("note", (f"this exercise cannot be marked here: {error}",))
    except Exception as error:  # an answer's own methods may raise anything, and marking never does
        return Notice(
            NOT_YET, (f"that answer cannot be read ({type(error).__name__}); see the question for its form.",)
        )


def _marked(exercise: Exercise, answer: Any, helps: str) -> Notice:
    form = exercise.form
    given = read_answer(answer, form)
    if isinstance(form, Code):
        return _function(exercise, form, given, helps)
    if isinstance(form, Sentence):
        found = held(given, form, given_words(exercise.id.partition(".")[0]))
        if found.unknown:
            return Notice(COMPARE, found.lines)
        lines = (exercise.praise, *found.lines) if found.right else found.lines
        return Notice(RIGHT if found.right else NOT_YET, lines, found.mistake)
    if _is_right(form, given):
        return Notice(RIGHT, (exercise.praise,))
    if isinstance(form, Bounds) and form.per_cent and _are_shares(given):
        return Notice(NOT_YET, (f"{_SHARES}.",), _SHARES)
    for wrong in exercise.wrong:
        if _matches(wrong, given, form):
            return Notice(NOT_YET, (wrong.says,), wrong.mistake)
    said, mistake = _general(form, given, exercise.hints[0])
    return Notice(NOT_YET, (f"{said} {helps}",), mistake)


def _function(exercise: Exercise, form: Code, given: Callable[..., Any], helps: str) -> Notice:
    """Mark a function by what it does."""
    found = None if has_gaps(given) else tried(given, form, exercise.wrong)
    if found is None or found.state == "dots":
        return Notice(NOT_ANSWERED, (f"there are dots left; put code in place of the dots. {helps}",))
    if found.state == "nothing":
        said = "it returns nothing: a line that begins with return is missing"
        return Notice(NOT_ANSWERED, (f"{said}, or what stands behind it comes to nothing. {helps}",))
    if found.state == "right":
        return Notice(RIGHT, (exercise.praise,))
    if found.mistake is not None:
        return Notice(NOT_YET, (found.mistake.says,), found.mistake.mistake)
    return Notice(NOT_YET, (f"{found.says}. {helps}",))


def _is_right(form: Form, given: Any) -> bool:
    if isinstance(form, Number):
        return bool(abs(given - form.truth()) <= form.tolerance)
    if isinstance(form, Bounds):
        low, high = given
        return bool(low <= form.truth() <= high and not _too_wide(given, form))
    return isinstance(form, Choice) and bool(given == form.right)


def _too_wide(ends: tuple[float, float], form: Bounds) -> bool:
    """Say whether the ends lie too far apart; that 2.7 - 1.7 is a little more than 1 is the computer's."""
    return ends[1] - ends[0] > form.widest + 1e-9


def _are_shares(ends: tuple[float, float]) -> bool:
    """Say whether both ends are shares; 0 and 1 are per cent as well."""
    return ends[0] >= 0 and ends[1] <= 1 and any(end % 1 for end in ends)


def _matches(wrong: Wrong, given: Any, form: Form) -> bool:
    if wrong.when is not None:
        return bool(wrong.when(given))
    expected = wrong.answer()
    if isinstance(form, Number):
        return bool(abs(given - expected) <= form.tolerance)
    return bool(given == expected)


def _general(form: Form, given: Any, thought: str) -> tuple[str, str]:
    """Return what can be said of a wrong answer that nobody foresaw, without giving the right one.

    Where that is only its side, with the thought that leads on, which is the first hint. And the mistake's
    name, where the answer shows which it is.
    """
    if isinstance(form, Bounds):
        if _too_wide(given, form):
            return f"the two ends lie {given[1] - given[0]:g} apart; {form.widest:g} is the most allowed.", ""
        side = "above" if form.truth() > given[1] else "below"
        return f"the truth lies {side} your range. {thought}", ""
    if isinstance(form, Number):
        if form.share and abs(given / 100 - form.truth()) <= form.tolerance:
            return f"{_PER_CENT}.", _PER_CENT
        if form.share and not 0 <= given <= 1:
            return "a share lies between 0 and 1.", ""
        if given < 0 < form.truth() and abs(given + form.truth()) <= form.tolerance:
            return "the size is right, and the sign is not.", ""
        return f"too {'high' if given > form.truth() else 'low'}. {thought}", ""
    return "that is not it.", ""
