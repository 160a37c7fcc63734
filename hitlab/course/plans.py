"""The teacher's plan of a lesson as one page to print: minutes, board, votes written out, what to cut."""

from __future__ import annotations

import os
import re
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from hitlab.course.minutes import minutes_of
from hitlab.course.questions import asked
from hitlab.course.sheets import from_markdown, page
from hitlab.course.sources import (
    CourseError,
    Source,
    in_a_sentence,
    lessons_folder,
    read_source,
    source_paths,
)
from hitlab.errors import HitlabError
from hitlab.exercises.definitions import Choice, Exercise, Lesson
from hitlab.exercises.letters import in_own_order
from hitlab.exercises.library import find_lesson
from hitlab.wording import capitalised
from hitlab.writing import make_folder, write_file

__all__ = ["HEADINGS", "Plan", "Vote", "plan_html", "read_plan", "write_plans"]

HEADINGS = ("Minutes", "On the board", "Votes", "What to cut")
"""Of the cell tagged ``plan``, in this order."""

VOTES = 3
MOST_BOARD_LINES = 6
MOST_WORDS = 300

_HEADING = re.compile(r"^### (.+)$", re.M)
_SLOT = re.compile(r"- (\d+)-(\d+): (\S.*)")


@dataclass(frozen=True, slots=True)
class Said:
    """An option of a vote, and what there is to say to those who chose it."""

    letter: str
    text: str
    right: bool
    says: str


@dataclass(frozen=True, slots=True)
class Vote:
    """A question that is put to the class.

    Attributes
    ----------
    id
        Of the exercise, or of a question for reviews.
    title
        The exercise's heading; empty for a question for reviews.
    text
        The question, as Markdown.
    options
        In the order of the printed lessons.
    """

    id: str
    title: str
    text: str
    options: tuple[Said, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """A lesson's plan.

    Attributes
    ----------
    number, title
        Of the lesson.
    core, optional, sittings
        The minutes that a learner alone needs, and those of the core's one or two sittings.
    slots
        From minute, to minute, what.
    board
        Lines to write or draw, as they are.
    votes
        Three.
    cut
        What to leave out, as Markdown.
    """

    number: str
    title: str
    core: int
    optional: int
    sittings: tuple[int, ...]
    slots: tuple[tuple[int, int, str], ...]
    board: tuple[str, ...]
    votes: tuple[Vote, ...]
    cut: str


def read_plan(source: Source) -> tuple[Plan | None, list[str]]:
    """Return a lesson's plan, and what is wrong with it.

    Parameters
    ----------
    source
        The lesson's source; its last cell is tagged ``plan``.

    Returns
    -------
    tuple
        The plan, ``None`` where it has a fault, and a sentence for each fault, by lesson.
    """
    where = f"lesson {int(source.number)}, plan"
    cells = [cell for cell in source.cells if "plan" in cell.tags]
    if len(cells) != 1 or cells[0] is not source.cells[-1] or cells[0].kind != "markdown":
        return None, [
            f"{where}: one cell of prose is tagged plan, the last of the lesson; found {len(cells)}"
        ]
    text = cells[0].text
    found = tuple(_HEADING.findall(text))
    if found != HEADINGS:
        return None, [f"{where}: its headings are {list(found)}; they have to be {list(HEADINGS)}"]
    minutes, board, votes, cut = (part.strip() for part in _HEADING.split(text)[2::2])
    faults = []
    slots = tuple(
        (int(slot[1]), int(slot[2]), slot[3]) for slot in map(_SLOT.fullmatch, _items(minutes)) if slot
    )
    if len(slots) != len(_items(minutes)) or not slots or not _follow(slots):
        faults.append("its minutes are lines '- 0-8: ...', each beginning where the one before ends")
    on_board = _lines(board)
    if not 0 < len(on_board) <= MOST_BOARD_LINES:
        faults.append(f"{len(on_board)} lines for the board; {MOST_BOARD_LINES} is the most")
    words = len(text.split())
    if words > MOST_WORDS:
        faults.append(f"{words} words; {MOST_WORDS} is the most")
    names = [line.removeprefix("- ").strip().strip("`") for line in _items(votes)]
    if len(names) != VOTES or len(set(names)) != VOTES:
        faults.append(f"its votes are {names}; {VOTES} ids are wanted, as lines '- ID'")
    put: list[Vote] = []
    try:
        lesson = find_lesson(source.number)
        with _printed_order():
            put = [_vote(name, lesson, source) for name in names]
    except HitlabError as error:
        faults.append(str(error))
    if faults:
        return None, [f"{where}: {fault}" for fault in faults]
    plan = Plan(source.number, source.title, *minutes_of(source).rounded, slots, on_board, tuple(put), cut)
    return plan, []


def _items(text: str) -> list[str]:
    """Return the lines of a list; a line that begins no item goes on with the one before."""
    items: list[str] = []
    for line in text.splitlines():
        if items and line.strip() and not line.startswith("- "):
            items[-1] += f" {line.strip()}"
        elif line.strip():
            items.append(line.strip())
    return items


def _lines(text: str) -> tuple[str, ...]:
    """Return the lines of the board: the items of a list, or else the lines as they are."""
    if text.startswith("- "):
        return tuple(item.removeprefix("- ") for item in _items(text))
    return tuple(line.strip() for line in text.splitlines() if line.strip())


def _follow(slots: tuple[tuple[int, int, str], ...]) -> bool:
    begins, ends = [slot[0] for slot in slots], [slot[1] for slot in slots]
    return begins == [0, *ends[:-1]] and all(one < other for one, other in zip(begins, ends, strict=True))


@contextmanager
def _printed_order() -> Iterator[None]:
    """Give choices in the order of the printed lessons, and leave whoever makes the page his own."""
    before = os.environ.get("HITLAB_PROGRESS")
    os.environ["HITLAB_PROGRESS"] = "off"
    try:
        yield
    finally:
        if before is None:
            del os.environ["HITLAB_PROGRESS"]
        else:
            os.environ["HITLAB_PROGRESS"] = before


def _vote(name: str, lesson: Lesson, source: Source) -> Vote:
    exercise = next((one for one in lesson.exercises if one.id == name), None)
    again = next((one for one in lesson.again if one.id == name), None)
    if exercise is not None:
        title, text = asked(exercise.id, source)
    elif again is not None:
        title = ""
        text, exercise = again.draw(np.random.default_rng([0, zlib.crc32(name.encode())]))
    else:
        raise CourseError(f"this lesson has no exercise or review question {name}")
    if not isinstance(exercise.form, Choice):
        raise CourseError(f"{name} is no choice, and cannot be voted on")
    return Vote(name, title, text, _options(in_own_order(exercise)))


def _options(exercise: Exercise) -> tuple[Said, ...]:
    form = exercise.form
    assert isinstance(form, Choice)
    says = {str(wrong.given): wrong.says for wrong in exercise.wrong}
    return tuple(
        Said(letter, text, letter == form.right, capitalised(says.get(letter, exercise.way())))
        for letter, text in form.options.items()
    )


def plan_html(plan: Plan, lesson: str) -> str:
    """Return a plan as HTML.

    Parameters
    ----------
    plan
        From ``read_plan``.
    lesson
        The name of the lesson's files: ``01_count_every_swing``.
    """
    return page(
        "plan",
        f"Plan of lesson {int(plan.number)}: {in_a_sentence(plan.title)}",
        plan=plan,
        lesson=lesson,
        markdown=from_markdown,
    )


def write_plans(numbers: tuple[str, ...], folder: Path, lessons: Path | None = None) -> Iterator[Path]:
    """Write the plan of each lesson, and the two plans of a course, as HTML and give the paths.

    Parameters
    ----------
    numbers
        Of the lessons; none for all, and then the plans of a course go with them.
    folder
        Where to; made where it is not there.
    lessons
        The folder with the notebooks and their sources; that of the clone where not given.

    Raises
    ------
    CourseError
        Where a plan has a fault; all are said, and nothing is written.
    """
    from hitlab.course.course_plans import course_pages

    lessons = lessons or lessons_folder()
    sources = [read_source(path) for path in source_paths(numbers, lessons)]
    read = [(source, *read_plan(source)) for source in sources]
    faults = [fault for _, _, wrong in read for fault in wrong]
    if faults:
        raise CourseError("\n".join(faults))
    pages: dict[str, Any] = {
        f"{source.name}_plan": plan_html(plan, source.name) for source, plan, _ in read if plan
    }
    if not numbers:
        pages |= course_pages(sources, lessons)
    make_folder(folder)
    for name, text in pages.items():
        yield write_file(folder / f"{name}.html", text.encode())
