"""All that a teacher needs in one folder: slides, plans, tests, marking guide, handouts with solutions."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from hitlab.course.forms import write_forms
from hitlab.course.handouts import handout
from hitlab.course.marking_guide import guide_html
from hitlab.course.plans import read_plan, write_plans
from hitlab.course.sheets import page
from hitlab.course.slides import read_slides, write_slides
from hitlab.course.sources import CourseError, lessons_folder, read_source, source_paths
from hitlab.writing import make_folder, write_file

__all__ = ["write_guide", "write_teacher"]


def write_guide(folder: Path, lessons: Path | None = None) -> Path:
    """Write the marking guide as HTML and return its path.

    Parameters
    ----------
    folder
        Where to; made where it is not there.
    lessons
        The folder with the notebooks and their sources; that of the clone where not given.
    """
    lessons = lessons or lessons_folder()
    sources = [read_source(path) for path in source_paths((), lessons)]
    return write_file(make_folder(folder) / "marking_guide.html", guide_html(sources, lessons).encode())


def write_teacher(folder: Path, lessons: Path | None = None) -> Iterator[Path]:
    """Write everything for a teacher, with a page that leads to it, and give the paths.

    Parameters
    ----------
    folder
        Where to; made where it is not there.
    lessons
        The folder with the notebooks and their sources; that of the clone where not given.

    Raises
    ------
    CourseError
        Where a slide or a plan has a fault; all are said, and nothing is written.
    MissingPackageError
        Without nbconvert, which comes with JupyterLab.
    """
    lessons = lessons or lessons_folder()
    sources = [read_source(path) for path in source_paths((), lessons)]
    solved = {source.name: lessons / "solutions" / f"{source.name}.ipynb" for source in sources}
    faults = [fault for source in sources for fault in read_slides(source, solved[source.name])[1]]
    faults += [fault for source in sources for fault in read_plan(source)[1]]
    if faults:
        raise CourseError("\n".join(faults))
    written = [
        *write_plans((), folder / "plans", lessons),
        *write_forms(folder / "tests"),
        write_guide(folder, lessons),
    ]
    handouts = make_folder(folder / "handouts")
    for name, notebook in solved.items():
        path = handouts / f"{name}_solutions.html"
        written.append(write_file(path, handout(notebook).encode(), inputs=(notebook,)))
    yield from written
    text = page("index", "For teachers", sources=sources)
    yield write_file(folder / "index.html", text.encode())
    yield from write_slides((), folder / "slides", lessons)
