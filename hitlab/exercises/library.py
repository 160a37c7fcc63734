"""Finds the lessons' definition files and the exercises in them."""

from __future__ import annotations

import difflib
import pkgutil
from functools import cache
from importlib import import_module

import hitlab.exercises
from hitlab.errors import HitlabError
from hitlab.exercises.definitions import Exercise, Lesson

__all__ = ["UnknownExerciseError", "find_exercise", "find_lesson", "lessons"]


class UnknownExerciseError(HitlabError, KeyError):
    """No exercise or lesson has that name; the message offers the nearest."""

    def __str__(self) -> str:  # KeyError would show the text in quotes
        return str(self.args[0])


@cache
def lessons() -> tuple[Lesson, ...]:
    """Return every lesson that has a definition file ``lesson_NN.py`` here, in order."""
    names = sorted(
        entry.name
        for entry in pkgutil.iter_modules(hitlab.exercises.__path__)
        if entry.name.startswith("lesson_")
    )
    return tuple(import_module(f"hitlab.exercises.{name}").LESSON for name in names)


def find_lesson(number: object) -> Lesson:
    """Return a lesson by its number: ``"01"``, ``"1"`` or ``1``."""
    wanted = str(number).strip().zfill(2) if type(number) in (str, int) else ""
    for lesson in lessons():
        if lesson.number == wanted:
            return lesson
    there = ", ".join(lesson.number for lesson in lessons())
    raise UnknownExerciseError(f"no lesson {_shown(number)}; there are: {there}")


def find_exercise(name: object) -> Exercise:
    """Return an exercise by its id, or raise with the nearest ids."""
    known = {exercise.id: exercise for lesson in lessons() for exercise in lesson.exercises}
    wanted = str(name).strip() if type(name) is str else ""
    if wanted in known:
        return known[wanted]
    near = difflib.get_close_matches(wanted, known, n=3, cutoff=0.5) or list(known)[:3]
    raise UnknownExerciseError(f"no exercise is called {_shown(name)}; perhaps {' or '.join(near)}")


def _shown(name: object) -> str:
    """Show a name that does not exist; of anything but text and numbers only its type, never its repr."""
    return f"{name!r:.60}" if type(name) in (str, int) else f"a {type(name).__name__}"
