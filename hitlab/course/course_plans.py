"""Two plans of the course: twelve weeks and one day, with minutes worked out from the lessons."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hitlab.course import forms
from hitlab.course.plans import announced_minutes
from hitlab.course.sheets import page
from hitlab.course.sources import Source

__all__ = ["DAY", "WEEKS", "Entry", "Week", "course_pages", "day", "weeks"]

MEETING = 90
"""Minutes of a meeting; a week that needs more has a second one."""

SHORT = 30
"""Minutes of a lesson that is cut as its plan says under "What to cut"."""

CLAIMS = 10
"""Of the capstone."""

A_CLAIM = 4
"""Minutes for one of them."""

_BEGINS = 9 * 60  # the day, in minutes from midnight


@dataclass(frozen=True, slots=True)
class Week:
    """A week of the course.

    Attributes
    ----------
    lessons
        Numbers, in their order.
    first, last
        What comes before the lessons, and after them, with its minutes.
    home
        What is done at home beside the optional exercises of its lessons.
    """

    lessons: tuple[str, ...]
    home: str = ""
    first: tuple[tuple[str, int], ...] = ()
    last: tuple[tuple[str, int], ...] = ()


_BEFORE = ("test before: half the class form A, half form B", forms.MINUTES)
_AFTER = ("test after: each the other form", forms.MINUTES)

WEEKS: tuple[Week, ...] = (
    Week(("00", "01"), first=(_BEFORE,)),
    Week(("02",)),
    Week(("03",), "project 1, from a spoiled sheet to a card: begins"),
    Week(("04",), "project 1"),
    Week(("05",), "project 1 is handed in"),
    Week(("06",), "project 1 comes back with its marks"),
    Week(("07", "08"), "project 2, a claim heard this week: minimum and bounds are written before looking"),
    Week(("09",), "project 2"),
    Week(("10", "11"), "project 2"),
    Week(("12",), "project 2 is handed in"),
    Week(("13",), "project 2 comes back with its marks"),
    Week(
        (), "the claims that went wrong, looked up again",
        last=((f"capstone: {CLAIMS} claims", CLAIMS * A_CLAIM), _AFTER),
    ),
)  # fmt: skip
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
    (f"capstone: the first {CLAIMS // 2} claims", CLAIMS // 2 * A_CLAIM),
    _AFTER,
    ("project 2 is given out, to be done at home with a claim of one's own desk or club", 10),
)
"""What is done, with its minutes, or a lesson, whole or short."""


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
        How many of at most 90 minutes; 0 for a time of day.
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


def weeks(sources: Sequence[Source]) -> list[Entry]:
    """Return the twelve weeks."""
    known = {source.number: source for source in sources}
    entries = []
    for number, week in enumerate(WEEKS, 1):
        here = [known[lesson] for lesson in week.lessons if lesson in known]
        minutes = [announced_minutes(source) for source in here]
        told = [(_named(source), core) for source, (core, _) in zip(here, minutes, strict=True)]
        steps = [*week.first, *told, *week.last]
        total = sum(each for _, each in steps)
        what = tuple(f"{name} ({each} min)" for name, each in steps)
        optional = sum(each for _, each in minutes)
        entries.append(Entry(str(number), what, total, math.ceil(total / MEETING), week.home, optional))
    return entries


def day(sources: Sequence[Source]) -> list[Entry]:
    """Return the day, from nine o'clock."""
    known = {source.number: source for source in sources}
    return list(_day(known))


def _day(known: dict[str, Source]) -> Iterator[Entry]:
    now = _BEGINS
    for step in DAY:
        if isinstance(step, str):
            number, _, short = step.partition(" ")
            if number not in known:
                continue
            name = _named(known[number]) + (", cut short" if short else "")
            minutes = SHORT if short else announced_minutes(known[number])[0]
        else:
            name, minutes = step
        yield Entry(f"{now // 60}:{now % 60:02d}", (name,), minutes)
        now += minutes
    yield Entry(f"{now // 60}:{now % 60:02d}", ("end",), 0)


def _named(source: Source) -> str:
    return f"lesson {int(source.number)}, {source.title[:1].lower()}{source.title[1:]}"


def course_pages(sources: Sequence[Source]) -> dict[str, str]:
    """Return both plans as HTML, by the names of their files.

    Parameters
    ----------
    sources
        Of all lessons.
    """
    of_weeks, of_day = weeks(sources), day(sources)
    return {
        "twelve_weeks": page(
            "weeks", "The course in twelve weeks", weeks=of_weeks, total=sum(one.minutes for one in of_weeks)
        ),
        "one_day": page("day", "The course in one day", steps=of_day, short=SHORT),
    }
