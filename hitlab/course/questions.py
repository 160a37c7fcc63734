"""What an exercise asks, as the lesson's source has it."""

from __future__ import annotations

from hitlab.course.sources import CourseError, Source, heading_of
from hitlab.exercises.library import find_lesson

__all__ = ["asked"]


def asked(name: str, source: Source) -> tuple[str, str]:
    """Return an exercise's heading, without kind and minutes, and its question as Markdown.

    Parameters
    ----------
    name
        The exercise's id.
    source
        Its lesson's source, whose cells tagged ``exercise`` stand in the order of the definitions.

    Raises
    ------
    CourseError
        Where the source does not have it.
    """
    names = [exercise.id for exercise in find_lesson(source.number).exercises]
    heads = [cell for cell in source.cells if "exercise" in cell.tags]
    if name not in names or len(heads) != len(names):
        raise CourseError(f"{source.path.name} does not ask {name}")
    text = heads[names.index(name)].text
    head = heading_of(text)
    if head is None:
        raise CourseError(f"{source.path.name}: {name} has no heading '### Title (kind, core, 4 min)'")
    return head.title, text.partition("\n")[2].strip()
