"""The frame that every lesson has, and what is wrong with a source that leaves it."""

from __future__ import annotations

import re

from hitlab.course.plans import read_plan
from hitlab.course.slides import slide_faults
from hitlab.course.sources import Cell, Source, checked_in, heading_of
from hitlab.errors import HitlabError
from hitlab.exercises.definitions import KINDS, Choice
from hitlab.exercises.library import find_lesson, lessons

__all__ = ["MOST_CODE_LINES", "MOST_CODE_WIDTH", "MOST_PROSE_WORDS", "SECTIONS", "frame_faults"]

SECTIONS = (
    "The claim",
    "What you need",
    "Your verdict first",
    "Three goals",
    "New words",
    "Look",
    "Simulate",
    "Move it",
    "Exercises",
    "Where this breaks",
    "Your verdict again",
    "We learned",
)
"""The headings of a lesson, in this order, once each. Goals may give a verdict away: they follow it."""

MOST_PROSE_WORDS = 120
MOST_CODE_LINES = 15
MOST_CODE_WIDTH = 88

_IMPORTED = {"hitlab", "matplotlib", "numpy", "pandas", "seaborn", "textwrap"}
_NUMBERS = re.compile(r"(?<![\w.])(?:\d+(?:\.\d+)? %|\.\d{2,})(?!\w)")  # 23 %, .197
_MINUTES = re.compile(r"Core: about (\d+) minutes\. Optional: about (\d+) minutes\.")


def frame_faults(source: Source) -> list[str]:
    """Return what keeps a lesson from the frame, one sentence each; empty where nothing does."""
    faults = [
        *_headings(source),
        *_lengths(source),
        *_goals_words_minutes(source),
        *_needed_cells(source),
        *_exercises(source),
        *_numbers(source),
        *slide_faults(source),
        *read_plan(source)[1],
    ]
    return [f"{source.path.name}: {fault}" for fault in faults]


def _section(source: Source, name: str, kind: str = "") -> list[Cell]:
    return [cell for cell in source.cells if cell.section == name and kind in ("", cell.kind)]


def _prose(source: Source, name: str) -> str:
    return "\n\n".join(cell.text for cell in _section(source, name, "markdown"))


def _headings(source: Source) -> list[str]:
    found = [
        line[3:].strip()
        for cell in source.cells
        if cell.kind == "markdown"
        for line in cell.text.splitlines()
        if line.startswith("## ")
    ]
    faults = []
    if found != list(SECTIONS):
        faults.append(f"the headings are {found}; they have to be {list(SECTIONS)}")
    first = source.cells[0] if source.cells else None
    title = rf"# {int(source.number)}\. \S.*"
    if first is None or first.kind != "markdown" or not re.fullmatch(title, first.text.splitlines()[0]):
        faults.append(f"the first cell has to be the title, '# {int(source.number)}. ...'")
    return faults


def _lengths(source: Source) -> list[str]:
    faults = []
    for cell in source.cells:
        words, lines = len(cell.text.split()), len(cell.text.splitlines())
        prose = cell.kind == "markdown" and not cell.tags & {
            "plan",
            "slide",
        }  # those have bounds of their own
        if prose and words > MOST_PROSE_WORDS:
            faults.append(f"cell {cell.id} has {words} words; {MOST_PROSE_WORDS} is the most, split it")
        if cell.kind == "code" and lines > MOST_CODE_LINES:
            faults.append(
                f"cell {cell.id} has {lines} lines of code; {MOST_CODE_LINES} is the most, split it"
            )
        if cell.kind == "code":
            wide = max((len(line) for line in cell.text.splitlines()), default=0)
            if wide > MOST_CODE_WIDTH:
                faults.append(
                    f"cell {cell.id} has a line of {wide} characters; {MOST_CODE_WIDTH} is the most"
                )
            names = re.findall(r"^\s*(?:from|import) (\w+)", cell.text, re.M)
            strange = set(names) - _IMPORTED
            if strange:
                faults.append(
                    f"cell {cell.id} imports {min(strange)}; allowed are {', '.join(sorted(_IMPORTED))}"
                )
    return faults


def _goals_words_minutes(source: Source) -> list[str]:
    faults = []
    goals = re.findall(r"^\d\. ", _prose(source, "Three goals"), re.M)
    if len(goals) != 3:
        faults.append(f"there are {len(goals)} goals ('1. ', '2. ', '3. '); three are wanted")
    learned = re.findall(r"^\d\. ", _prose(source, "We learned"), re.M)
    if len(learned) != 3:
        faults.append(f"'We learned' has {len(learned)} points; it answers the three goals one by one")
    terms = re.findall(r"^- \*\*[^*]+\*\*: \S", _prose(source, "New words"), re.M)
    bullets = re.findall(r"^- ", _prose(source, "New words"), re.M)
    if not 1 <= len(terms) <= 5 or len(terms) != len(bullets):
        faults.append("'New words' has one to five lines '- **term**: what it means'")
    if not re.search(r"^> \S", _prose(source, "The claim"), re.M):
        faults.append("'The claim' quotes what somebody says, in a line '> ...'")
    minutes = _MINUTES.search(_prose(source, "What you need"))
    if minutes is None:
        faults.append("'What you need' says 'Core: about N minutes. Optional: about N minutes.'")
    elif minutes:
        asked = {
            kind: sum(m for k, m in _asked_minutes(source) if k == kind) for kind in ("core", "optional")
        }
        for kind, said in zip(("core", "optional"), minutes.groups(), strict=True):
            if asked[kind] > int(said):
                faults.append(f"the {kind} exercises alone take {asked[kind]} minutes; {said} are announced")
    return faults


def _asked_minutes(source: Source) -> list[tuple[str, int]]:
    heads = [heading_of(cell.text) for cell in source.cells if "exercise" in cell.tags]
    return [("core" if head.core else "optional", head.minutes) for head in heads if head]


def _needed_cells(source: Source) -> list[str]:
    wanted = ("Look", "Simulate", "Move it", "Where this breaks")
    faults = [f"'{name}' has no code" for name in wanted if not _section(source, name, "code")]
    if not any("slider" in cell.tags for cell in _section(source, "Move it")):
        faults.append("'Move it' has no cell tagged slider")
    for name, when in (("Your verdict first", "before"), ("Your verdict again", "after")):
        calls = [c.text for c in _section(source, name) if "confidence" in c.tags and "answer" in c.tags]
        call = f'confidence("{source.number}", "{when}"'
        if not any(call in text for text in calls):
            faults.append(f"'{name}' has no cell tagged answer and confidence with {call}, ...)")
    before = SECTIONS.index("Your verdict first") + 1
    early = [c for c in source.cells if c.section in ("", *SECTIONS[:before]) and "tally(" in c.text]
    if early:
        faults.append(f"cell {early[0].id} counts data before the learner has committed to a verdict")
    code = [cell for cell in source.cells if cell.kind == "code"]
    if not code or code[-1].text.strip() != f'progress("{source.number}")':
        faults.append(f'the last cell of code is progress("{source.number}")')
    if "ready for air" not in _prose(source, "Your verdict again").lower():
        faults.append("'Your verdict again' asks for one sentence ready for air")
    return faults


def _exercises(source: Source) -> list[str]:
    try:
        lesson = find_lesson(source.number)
    except HitlabError:
        return [f"hitlab/exercises/lesson_{source.number}.py is missing"]
    faults = []
    if lesson.title != source.title:
        faults.append(f"the title is {source.title!r}; lesson_{source.number}.py says {lesson.title!r}")
    missing = KINDS.keys() - {exercise.kind for exercise in lesson.exercises}
    if missing or len(lesson.exercises) < 5:
        faults.append(
            f"at least five exercises, one of each kind; without: {', '.join(sorted(missing)) or 'none'}"
        )
    for tag in ("answer", "solution"):
        ids = [i for c in source.cells if tag in c.tags and c.kind == "code" for i in checked_in(c.text)]
        if ids != [exercise.id for exercise in lesson.exercises]:
            faults.append(f"the {tag} cells check {ids}; defined are {[e.id for e in lesson.exercises]}")
    heads = [cell for cell in source.cells if "exercise" in cell.tags]
    if len(heads) != len(lesson.exercises):
        faults.append(
            f"{len(heads)} cells are tagged exercise; {len(lesson.exercises)} exercises are defined"
        )
    for cell, exercise in zip(heads, lesson.exercises, strict=False):
        head = heading_of(cell.text)
        said = (head.kind, head.core, head.minutes) if head else None
        if said != (exercise.kind, exercise.core, exercise.minutes):
            core = "core" if exercise.core else "optional"
            wanted = f"### Title ({exercise.kind}, {core}, {exercise.minutes} min)"
            faults.append(f"cell {cell.id} begins '{wanted}', as lesson_{source.number}.py has it")
    shown = [cell.text.strip() for cell in source.cells if "choices" in cell.tags]
    to_show = [f'choose("{one.id}")' for one in lesson.exercises if isinstance(one.form, Choice)]
    if shown != to_show:
        faults.append(f"the cells tagged choices are {shown}; they have to be {to_show}")
    return [*faults, *_review(source)]


def _review(source: Source) -> list[str]:
    """From the second lesson that can be reviewed on, each begins with three questions from before."""
    if not any(one.again for one in lessons() if one.number < source.number):
        return []
    head = [cell for cell in source.cells if "review" in cell.tags]
    calls = [cell.text.strip() for cell in head if cell.kind == "code"]
    number = source.number
    wanted = [
        f'review("{number}")',
        f'review("{number}", ..., ..., ...)',
        f'from hitlab.exercises import right_of_review\n\nreview("{number}", *right_of_review("{number}"))',
    ]
    if calls != wanted or any(cell.section for cell in head):
        return [
            f"before 'The claim' cells tagged review hold {wanted}; the second is an answer, the third a "
            "solution"
        ]
    return []


def _numbers(source: Source) -> list[str]:
    """Find rates and per cents in the prose that no asserted cell holds as text."""
    held = "\n".join(cell.text for cell in source.cells if "asserted" in cell.tags)
    return [
        f'cell {cell.id} says {number}; no cell tagged asserted holds "{number}"'
        for cell in source.cells
        if cell.kind == "markdown"
        for number in _NUMBERS.findall(cell.text)
        if f'"{number}"' not in held
    ]
