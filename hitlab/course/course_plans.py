"""Two plans of the course: twelve weeks and one day, with minutes worked out from the lessons."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hitlab.course import forms
from hitlab.course.minutes import minutes_of
from hitlab.course.projects import Project, projects_of
from hitlab.course.sheets import page
from hitlab.course.sources import Source, in_a_sentence
from hitlab.exercises.before_after import TEMPLATES
from hitlab.wording import capitalised, listed

__all__ = ["DAY", "WEEKS", "Entry", "LeftOut", "Week", "course_pages", "day", "left_out", "weeks"]

MEETING = 100
"""Minutes of a meeting; a week that needs more has a second one."""

SHORT = 30
"""Minutes of a lesson that is cut as its plan says under "What to cut"."""

_BEGINS = 9 * 60  # the day, in minutes from midnight


@dataclass(frozen=True, slots=True)
class Week:
    """A week of the course.

    Attributes
    ----------
    lessons
        Numbers, in their order.
    first, last
        What comes before the lessons, and after them, with its minutes; the capstone has its own.
    home
        What is done at home beside the optional exercises of its lessons.
    """

    lessons: tuple[str, ...]
    home: str = ""
    first: tuple[tuple[str, int], ...] = ()
    last: tuple[tuple[str, int] | str, ...] = ()


_BEFORE = ("test before: half the class form A, half form B", forms.MINUTES)
_AFTER = ("test after: each the other form", forms.MINUTES)

_CAPSTONE = "capstone: ten claims"
_HALF = "capstone: five of its claims"

WEEKS: tuple[Week, ...] = (
    Week(("00", "01"), first=(_BEFORE,)),
    Week(("02",)),
    Week(("03", "04")),
    Week(("05",), "project 2, a claim heard this week: minimum and bounds are written before looking"),
    Week(("06",), "project 2"),
    Week(("07",), "project 2 is handed in"),
    Week(("08",), "project 2 comes back with its marks"),
    Week(("09",)),
    Week(("10", "11")),
    Week(("12",)),
    Week(("13",), "project 1, from a spoiled sheet to a card"),
    Week((), "project 1 is handed in, and comes back with its marks", last=(_CAPSTONE, _AFTER)),
)
"""Every lesson once."""

DAY: tuple[tuple[str, int] | str, ...] = (
    ("welcome", 5),
    _BEFORE,
    "01 short",
    "02 short",
    ("break", 15),
    "03",
    ("lunch", 45),
    "04 short",
    "05 short",
    ("break", 15),
    "12 short",
    _HALF,
    _AFTER,
    ("project 2 is given out, to be done at home with a claim of one's own desk or club", 10),
)
"""What is done, with its minutes; or a lesson, whole or short; or half of the capstone."""

SWAPPED = "12"
"""The lesson of the day that makes room for another where a class needs that more."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of a plan.

    Attributes
    ----------
    name
        Which week, or what time.
    what
        What is done.
    minutes
        How long that takes.
    meetings
        How many of at most ``MEETING`` minutes; 0 for a time of day.
    home
        What is done at home.
    home_minutes
        Of the optional exercises.
    """

    name: str
    what: tuple[str, ...]
    minutes: int
    meetings: int = 0
    home: str = ""
    home_minutes: int = 0


def weeks(sources: Sequence[Source], projects: Sequence[Project]) -> list[Entry]:
    """Return the twelve weeks."""
    known, capstone = {source.number: source for source in sources}, _capstone(projects)
    entries = []
    for number, week in enumerate(WEEKS, 1):
        here = [known[lesson] for lesson in week.lessons if lesson in known]
        minutes = [minutes_of(source).rounded for source in here]
        told = [(_named(source), core) for source, (core, _, _) in zip(here, minutes, strict=True)]
        last = [(one, capstone) if isinstance(one, str) else one for one in week.last]
        steps = [*week.first, *told, *last]
        total = sum(each for _, each in steps)
        what = tuple(f"{name} ({each} min)" if each else name for name, each in steps)
        optional = sum(each for _, each, _ in minutes)
        entries.append(Entry(str(number), what, total, math.ceil(total / MEETING), week.home, optional))
    return entries


def day(sources: Sequence[Source], projects: Sequence[Project]) -> list[Entry]:
    """Return the day, from nine o'clock."""
    known = {source.number: source for source in sources}
    entries, now = [], _BEGINS
    for step in DAY:
        if isinstance(step, tuple):
            name, minutes = step
        elif step == _HALF:
            name, minutes = step, math.ceil(_capstone(projects) / 2)
        else:
            number, _, short = step.partition(" ")
            if number not in known:
                continue
            name = _named(known[number]) + (", cut short" if short else "")
            minutes = SHORT if short else minutes_of(known[number]).rounded[0]
        entries.append(Entry(_clock(now), (name,), minutes))
        now += minutes
    return [*entries, Entry(_clock(now), ("end",), 0)]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A lesson that the day leaves out.

    Attributes
    ----------
    lesson
        Its number and title.
    questions
        Numbers of the questions of the tests that belong to it.
    """

    lesson: str
    questions: tuple[int, ...]


def left_out(sources: Sequence[Source]) -> list[LeftOut]:
    """Return the lessons that the day leaves out, each with the questions of the tests that it teaches."""
    taken = {step.partition(" ")[0] for step in DAY if isinstance(step, str)}
    return [
        LeftOut(capitalised(_named(source)), _questions_of(source.number))
        for source in sources
        if source.number not in taken
    ]


def _questions_of(lesson: str) -> tuple[int, ...]:
    return tuple(number for number, one in enumerate(TEMPLATES, 1) if one.lesson == lesson)


def _capstone(projects: Sequence[Project]) -> int:
    return next((one.minutes for one in projects if one.name == "capstone"), 0)


def _clock(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d}"


def _named(source: Source) -> str:
    return f"lesson {int(source.number)}, {in_a_sentence(source.title)}"


def course_pages(sources: Sequence[Source], lessons: Path) -> dict[str, str]:
    """Return both plans as HTML, by the names of their files.

    Parameters
    ----------
    sources
        Of all lessons.
    lessons
        The folder with the notebooks, among them the projects.
    """
    projects = projects_of(lessons)
    of_weeks, of_day = weeks(sources, projects), day(sources, projects)
    out = left_out(sources)
    total = sum(one.minutes for one in of_weeks)
    return {
        "twelve_weeks": page(
            "weeks",
            "The course in twelve weeks",
            weeks=of_weeks,
            total=total,
            meeting=MEETING,
            projects=projects,
        ),
        "one_day": page(
            "day",
            "The course in one day",
            steps=of_day,
            short=SHORT,
            left_out=out,
            questions=len(TEMPLATES),
            not_taught=sorted(number for one in out for number in one.questions),
            swapped=SWAPPED,
            swap=_questions_of(SWAPPED),
            listed=lambda numbers: listed([str(number) for number in numbers]),
        ),
    }
