"""The marking guide: what a sentence has to say, how projects are marked, how a class's table is read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hitlab.course.classes import COLUMNS
from hitlab.course.projects import projects_of
from hitlab.course.questions import asked
from hitlab.course.sheets import from_markdown, page
from hitlab.course.sources import Source
from hitlab.exercises.definitions import Sentence
from hitlab.exercises.library import find_lesson
from hitlab.exercises.sentences import held
from hitlab.wording import capitalised

__all__ = ["Guided", "guide_html", "sentences_of"]


@dataclass(frozen=True, slots=True)
class Guided:
    """An exercise in the learner's own words.

    Attributes
    ----------
    id, title
        Of the exercise.
    form
        Its points and examples.
    model
        A sentence that says all of it.
    told
        Each bad example, with what the marker says to it.
    """

    id: str
    title: str
    form: Sentence
    model: str
    told: tuple[tuple[str, tuple[str, ...]], ...]


def sentences_of(source: Source) -> list[Guided]:
    """Return the exercises of a lesson that ask for a sentence."""
    return [
        Guided(
            exercise.id,
            asked(exercise.id, source)[0],
            exercise.form,
            exercise.form.said(),
            tuple((text, _told(text, exercise.form)) for text, _ in exercise.form.bad),
        )
        for exercise in find_lesson(source.number).exercises
        if isinstance(exercise.form, Sentence)
    ]


def _told(text: str, form: Sentence) -> tuple[str, ...]:
    return tuple(capitalised(line) for line in held(text, form).lines)


def guide_html(sources: Sequence[Source], lessons: Path) -> str:
    """Return the marking guide as HTML.

    Parameters
    ----------
    sources
        Of all lessons.
    lessons
        The folder with the notebooks.
    """
    told: dict[str, Any] = {
        "sentences": [(source, guided) for source in sources if (guided := sentences_of(source))],
        "projects": projects_of(lessons),
        "columns": COLUMNS,
        "markdown": from_markdown,
    }
    return page("marking", "Marking guide", **told)
