"""Handouts: a lesson as one HTML file that needs no network and that everybody can read."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from hitlab.course.sources import CourseError, lessons_folder, source_paths
from hitlab.optional import load
from hitlab.writing import make_folder, write_file

__all__ = ["handout", "write_handouts"]

_TEMPLATES = Path(__file__).resolve().parent / "templates"


def handout(notebook: Path) -> str:
    """Return a notebook as HTML.

    Raises
    ------
    CourseError
        Where the notebook is not there.
    MissingPackageError
        Without nbconvert, which comes with JupyterLab.
    """
    nbformat = load("nbformat", "handouts", "course")
    nbconvert = load("nbconvert", "handouts", "course")
    if not notebook.is_file():
        raise CourseError(f"there is no {notebook}; build it first: python -m hitlab.course build")
    exporter = nbconvert.HTMLExporter(
        template_name="handout",
        extra_template_basedirs=[str(_TEMPLATES)],
        exclude_input_prompt=True,
        exclude_output_prompt=True,
    )
    node = nbformat.read(notebook, as_version=4)
    title = node.cells[0].source.splitlines()[0].lstrip("# ") if node.cells else notebook.stem
    node.metadata["title"] = title
    text, _ = exporter.from_notebook_node(node)
    # A frame's corner is an empty heading, which a screen reader announces; it is a plain cell.
    return str(text).replace("<th></th>", "<td></td>")


def write_handouts(numbers: tuple[str, ...], folder: Path, *, solutions: bool = False) -> Iterator[Path]:
    """Write a handout for each lesson and give its path."""
    lessons = lessons_folder()
    for source in source_paths(numbers):
        notebook = (lessons / "solutions" if solutions else lessons) / f"{source.stem}.ipynb"
        text = handout(notebook)
        path = make_folder(folder) / f"{source.stem}{'_solutions' if solutions else ''}.html"
        yield write_file(path, text.encode(), inputs=(notebook,))
