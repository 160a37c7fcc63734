"""Handouts: a lesson as one HTML file that needs no network and that everybody can read.

A learner's copy bears no outputs; its handout shows those of the cells that it shares with the solutions
copy. What follows a question that asks for a prediction is folded: nobody reads the answer by accident.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hitlab.course.sources import CourseError, checked_in, heading_of, lessons_folder, source_paths
from hitlab.optional import load
from hitlab.writing import make_folder, write_file

__all__ = ["handout", "write_handouts"]

_TEMPLATES = Path(__file__).resolve().parent / "templates"
_OWN_PROGRESS = re.compile(r"progress\(")  # what it prints is the learner's own; that of solutions is not


def handout(notebook: Path, outputs_from: Path | None = None) -> str:
    """Return a notebook as HTML.

    Parameters
    ----------
    notebook
        A learner's or a solutions copy.
    outputs_from
        For a learner's copy: the solutions copy, run. Cells of one id have one text in both, and what they
        put out is shown; what follows the answer of an exercise of the kind predict, up to the next exercise
        or the next section, is folded. Without it the notebook is shown as it is.

    Raises
    ------
    CourseError
        Where a notebook is not there.
    MissingPackageError
        Without nbconvert, which comes with JupyterLab.
    """
    nbconvert = load("nbconvert", "handouts", "course")
    node = _read(notebook)
    if outputs_from is not None:
        _show_outputs(node, _read(outputs_from))
        _fold_what_answers(node)
    exporter = nbconvert.HTMLExporter(
        template_name="handout",
        extra_template_basedirs=[str(_TEMPLATES)],
        exclude_input_prompt=True,
        exclude_output_prompt=True,
    )
    title = node.cells[0].source.splitlines()[0].lstrip("# ") if node.cells else notebook.stem
    node.metadata["title"] = title
    text, _ = exporter.from_notebook_node(node)
    # A frame's corner is an empty heading, which a screen reader announces; it is a plain cell.
    return str(text).replace("<th></th>", "<td></td>")


def _read(notebook: Path) -> Any:
    if not notebook.is_file():
        raise CourseError(f"there is no {notebook}; build it first: python -m hitlab.course build")
    return load("nbformat", "handouts", "course").read(notebook, as_version=4)


def _show_outputs(learner: Any, solutions: Any) -> None:
    outputs = {cell.id: cell.outputs for cell in solutions.cells if cell.cell_type == "code"}
    for cell in learner.cells:
        if cell.cell_type == "code" and not _OWN_PROGRESS.match(cell.source):
            cell.outputs = outputs.get(cell.id, [])


def _fold_what_answers(learner: Any) -> None:
    """Mark where a fold opens, with the exercise's id, and where it closes; the template draws it."""
    predicts, asked, last = False, "", None
    for cell in learner.cells:
        tags = cell.metadata.get("tags", [])
        section = cell.cell_type == "markdown" and cell.source.startswith("## ")
        if section or "exercise" in tags:
            if last is not None:
                last.metadata["fold_closes"] = True
            head = heading_of(cell.source)
            predicts, asked, last = head is not None and head.kind == "predict", "", None
        elif asked:
            if last is None:
                cell.metadata["fold_opens"] = asked
            last = cell
        elif predicts and "answer" in tags:
            asked = checked_in(cell.source)[0]
    if last is not None:
        last.metadata["fold_closes"] = True


def write_handouts(numbers: tuple[str, ...], folder: Path, *, solutions: bool = False) -> Iterator[Path]:
    """Write a handout for each lesson and give its path."""
    lessons = lessons_folder()
    for source in source_paths(numbers):
        solved = lessons / "solutions" / f"{source.stem}.ipynb"
        notebook = solved if solutions else lessons / f"{source.stem}.ipynb"
        text = handout(notebook, None if solutions else solved)
        path = make_folder(folder) / f"{source.stem}{'_solutions' if solutions else ''}.html"
        yield write_file(path, text.encode(), inputs=(notebook, solved))
