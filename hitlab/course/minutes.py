"""How long a lesson takes, worked out from its source by one stated formula.

Prose is read at 170 words a minute, a line of code in 9 seconds, a picture in a minute and a half; exercises
take 1.4 times the minutes that they announce, with hints and second tries; the two verdicts take six minutes.
(Common practice, no source.) Optional is an optional exercise, from its heading to its answer; the rest is
core.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from hitlab.course.sources import Cell, CourseError, Source, heading_of
from hitlab.writing import write_file

__all__ = ["LONGEST_SITTING", "Minutes", "minutes_line", "minutes_of", "write_minutes", "write_table"]

WORDS_A_MINUTE = 170
SECONDS_A_CODE_LINE = 9
MINUTES_A_PICTURE = 1.5
EXERCISE_FACTOR = 1.4
MINUTES_OF_VERDICTS = 6
LONGEST_SITTING = 60
"""Minutes of core after which a lesson is cut in two, at a cell tagged ``sitting``."""

_STEP = 5
_PICTURE = re.compile(r"\b(?:plots\.show|move_it)\(")
_LINE = re.compile(
    r"Core: about \d+ minutes\. Optional: about \d+ minutes\."
    r"(?: In two sittings: about \d+ and \d+ minutes\.)?"
)


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes of one lesson, as the formula gives them.

    Attributes
    ----------
    core, optional
        What everybody does, and what may be left out.
    sittings
        The core's parts, two where a cell tagged ``sitting`` cuts it; one otherwise.
    half
        The section in which half of the core is over: a place to cut is looked for there.
    """

    core: float
    optional: float
    sittings: tuple[float, ...]
    half: str

    @property
    def rounded(self) -> tuple[int, int, tuple[int, ...]]:
        """Core, optional and sittings in steps of five minutes; the sittings add up to the core."""
        core, optional = _rounded(self.core), _rounded(self.optional)
        first = _rounded(self.sittings[0])
        return core, optional, (first, core - first) if len(self.sittings) == 2 else (core,)

    @property
    def uncut(self) -> bool:
        """Whether the core is longer than one sitting, and no cell says where to stop."""
        return self.rounded[0] > LONGEST_SITTING and len(self.sittings) == 1


def minutes_of(source: Source) -> Minutes:
    """Work out a lesson's minutes.

    Raises
    ------
    CourseError
        Where more than one cell is tagged ``sitting``: a lesson is cut in two at most.
    """
    optional, cuts, in_optional = 0.0, [0.0], False
    core = 0.0
    passed: list[tuple[str, float]] = []
    for cell in source.cells:
        if cell.tags & {"solution", "asserted", "plan", "slide"}:  # in no learner's copy
            continue
        head = heading_of(cell.text) if "exercise" in cell.tags else None
        if head is not None:
            in_optional = not head.core
        if "sitting" in cell.tags:
            cuts.append(core)
        taken = _minutes_of_cell(cell) + (EXERCISE_FACTOR * head.minutes if head else 0)
        if in_optional:
            optional += taken
        else:
            core += taken
            passed.append((cell.section, core))
        in_optional = in_optional and "answer" not in cell.tags
    if len(cuts) > 2:
        raise CourseError(f"{source.path.name}: {len(cuts) - 1} cells are tagged sitting; one is the most")
    half = next((section for section, so_far in passed if so_far >= core / 2), "")
    return Minutes(core, optional, tuple(b - a for a, b in pairwise([*cuts, core])), half)


def _minutes_of_cell(cell: Cell) -> float:
    if cell.kind == "markdown":
        return len(_LINE.sub("", cell.text).split()) / WORDS_A_MINUTE
    lines = sum(bool(line.strip()) for line in cell.text.splitlines())
    verdict = MINUTES_OF_VERDICTS / 2 if {"confidence", "answer"} <= cell.tags else 0
    return lines * SECONDS_A_CODE_LINE / 60 + len(_PICTURE.findall(cell.text)) * MINUTES_A_PICTURE + verdict


def _rounded(minutes: float) -> int:
    return max(round(minutes / _STEP), 1) * _STEP if minutes else 0


def minutes_line(source: Source) -> str:
    """Return the line under "What you need" that a lesson's minutes make."""
    core, optional, sittings = minutes_of(source).rounded
    line = f"Core: about {core} minutes. Optional: about {optional} minutes."
    return line + (
        f" In two sittings: about {sittings[0]} and {sittings[1]} minutes." if sittings[1:] else ""
    )


def write_minutes(source: Source) -> bool:
    """Put the minutes into a lesson's source; say whether that changed it.

    Raises
    ------
    CourseError
        Where the source has no line "Core: about N minutes. Optional: about N minutes.".
    """
    text = source.path.read_text(encoding="utf-8")
    if not _LINE.search(text):
        raise CourseError(
            f"{source.path.name} has no line 'Core: about N minutes. Optional: about N minutes.'"
        )
    new = _LINE.sub(minutes_line(source), text, count=1)
    if new != text:
        write_file(source.path, new.encode())
    return new != text


def write_table(sources: list[Source], readme: Path) -> bool:
    """Put the minutes into the table of lessons; say whether that changed it.

    Raises
    ------
    CourseError
        Where a lesson has no row in it.
    """
    text = new = readme.read_text(encoding="utf-8")
    for source in sources:
        core, optional, sittings = minutes_of(source).rounded
        parts = f" ({sittings[0]} + {sittings[1]})" if sittings[1:] else ""
        row = re.compile(rf"^(\| [^|]*\({source.name}\.ipynb\)) \|[^|]*\|[^|]*\|", re.M)
        new, found = row.subn(rf"\g<1> | {core} min{parts} | {optional} min |", new)
        if found != 1:
            raise CourseError(f"{readme.name} has {found} rows for {source.name}.ipynb; one is wanted")
    if new != text:
        write_file(readme, new.encode())
    return new != text
