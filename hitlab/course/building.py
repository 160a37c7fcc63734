"""Makes both copies of a lesson from its source: executed, cleaned, the same bytes every time.

A learner's copy is run as well, so that it is known to work, and then bears no outputs: whoever is asked to
predict a number finds it nowhere before the cells are run.
"""

from __future__ import annotations

import asyncio
import json
import os
import re
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from hitlab.course.kernels import reached_by_files
from hitlab.course.sources import PROJECTS, Source, lessons_folder, project_paths, read_source, source_paths
from hitlab.optional import load

__all__ = [
    "START",
    "Copy",
    "build",
    "comparable",
    "copies",
    "difference",
    "differences",
    "new_notebook",
    "run_copy",
    "without_outputs",
]

START = "start"
"""What the notebook to start from is built by; it is no lesson and has no source."""

_DROPPED = {"learner": ("solution", "asserted", "plan", "slide"), "solutions": ("answer", "plan", "slide")}
_KERNEL = {"display_name": "Python 3", "language": "python", "name": "python3"}
_WIDGET = "application/vnd.jupyter.widget-view+json"
_PNG = re.compile(r"data:image/png;base64,[A-Za-z0-9+/=\s]+")
_ADDRESS = re.compile(r"\b0x[0-9a-fA-F]{6,}\b")
_SOLUTIONS_FIRST = (
    '# A solutions copy leaves your own progress alone.\nimport os\n\nos.environ["HITLAB_PROGRESS"] = "off"'
)


@dataclass(frozen=True, slots=True)
class Copy:
    """One notebook to write.

    Attributes
    ----------
    path
        Where it goes.
    notebook
        The notebook, as nbformat has it.
    keeps_outputs
        Whether it bears what its cells put out: the solutions copy does, the learner's does not.
    """

    path: Path
    notebook: Any
    keeps_outputs: bool = True

    def text(self) -> str:
        """Return the file's text."""
        return json.dumps(self.notebook, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def copies(source: Source, folder: Path) -> list[Copy]:
    """Return the learner's and the solutions copy, not yet run."""
    return [
        Copy(folder / f"{source.name}.ipynb", _notebook(source, "learner"), keeps_outputs=False),
        Copy(folder / "solutions" / f"{source.name}.ipynb", _notebook(source, "solutions")),
    ]


def _notebook(source: Source, kind: str) -> Any:
    v4 = load("nbformat.v4", "lesson builds", "lessons")
    cells = []
    for cell in source.cells:
        if cell.tags & set(_DROPPED[kind]):
            continue
        new = v4.new_markdown_cell if cell.kind == "markdown" else v4.new_code_cell
        metadata = {"tags": sorted(cell.tags)} if cell.tags else {}
        cells.append(new(cell.text, id=cell.id, metadata=metadata))
    if kind == "solutions":
        cells.insert(1, v4.new_code_cell(_SOLUTIONS_FIRST, id="solutions-copy"))
    return new_notebook(cells)


def new_notebook(cells: list[Any]) -> Any:
    """Return a notebook of some cells, for the plain kernel."""
    v4 = load("nbformat.v4", "lesson builds", "lessons")
    return v4.new_notebook(cells=cells, metadata={"kernelspec": _KERNEL, "language_info": {"name": "python"}})


def run_copy(copy: Copy) -> Copy:
    """Run a copy in a fresh kernel; clean what it put out, or empty it where the copy keeps nothing.

    Raises
    ------
    nbclient.exceptions.CellExecutionError
        Where a cell raises; the message shows it.
    """
    client_of = load("nbclient", "lesson builds", "lessons").NotebookClient
    environment = {**os.environ, "HITLAB_PROGRESS": "off", "OMP_NUM_THREADS": "1", "MPLBACKEND": "agg"}
    configuration = load("traitlets.config", "lesson builds", "lessons").Config
    with tempfile.TemporaryDirectory(prefix="hitlab-") as folder:
        client = client_of(
            copy.notebook,
            timeout=120,
            kernel_name="python3",
            record_timing=False,
            extra_arguments=["--IPKernelApp.log_level=ERROR"],
            resources={"metadata": {"path": str(copy.path.parent)}},
            config=configuration({"ConnectionFileMixin": reached_by_files(Path(folder))}),
        )
        # A loop of its own, closed at the end: this runs in a thread.
        asyncio.run(client.async_execute(env=environment))
    notebook = copy.notebook
    notebook.metadata = {"kernelspec": _KERNEL, "language_info": {"name": "python"}}
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.metadata.pop("execution", None)
            cell.outputs = list(_clean(cell.outputs))
    return replace(copy, notebook=notebook if copy.keeps_outputs else _emptied(notebook))


def _clean(outputs: list[Any]) -> Iterator[Any]:
    """Drop stderr and live widgets; join split prints; hide addresses and where this clone lies."""
    here = f"{lessons_folder().parent}{os.sep}"
    kept: list[Any] = []
    for output in outputs:
        if output.get("name") == "stderr":
            continue
        # A busy kernel sends what one cell prints in several pieces.
        if kept and output.get("name") == kept[-1].get("name") == "stdout":
            kept[-1]["text"] = _plain(kept[-1]["text"]) + _plain(output["text"])
            continue
        kept.append(output)
    for output in kept:
        if "data" in output:
            output["data"] = {
                kind: _everywhere(_plain(value), here)
                for kind, value in output["data"].items()
                if kind != _WIDGET
            }
            output["metadata"] = {}
        if "text" in output:
            output["text"] = _everywhere(output["text"], here)
        yield output


def _plain(value: Any) -> Any:
    return "".join(value) if isinstance(value, list) else value


def _everywhere(text: Any, here: str) -> Any:
    return _ADDRESS.sub("0x0", text.replace(here, "")) if isinstance(text, str) else text


def _asked(numbers: tuple[str, ...], folder: Path) -> list[Path]:
    """Return the sources of what is asked for: numbers of lessons, ``projects``; all where nothing is."""
    lessons = tuple(number for number in numbers if number != PROJECTS)
    return [
        *(source_paths(lessons, folder) if lessons or not numbers else ()),
        *(project_paths(folder) if lessons != numbers or not numbers else ()),
    ]


def build(numbers: tuple[str, ...] = (), folder: Path | None = None, *, at_once: int = 2) -> Iterator[Copy]:
    """Make and run both copies of some lessons, of the ``projects``, or of all; nothing is written.

    Two run at once by default: each has its own kernel process.
    """
    folder = folder or lessons_folder()
    todo = [copy for path in _asked(numbers, folder) for copy in copies(read_source(path), folder)]
    with ThreadPoolExecutor(at_once) as pool:
        yield from pool.map(run_copy, todo)


def comparable(text: str) -> str:
    """Return a notebook's text without the bytes of its pictures, which differ between machines.

    What a picture shows stands in its alt text, which is compared.
    """
    return _PNG.sub("data:image/png;base64,", text)


def without_outputs(text: str) -> str:
    """Return a notebook's text as it is before it is run."""
    return Copy(Path(), _emptied(json.loads(text))).text()


def _emptied(notebook: Any) -> Any:
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    return notebook


def differences(numbers: tuple[str, ...] = (), folder: Path | None = None, *, run: bool = True) -> list[str]:
    """Build again and return what differs from the committed notebooks, one line each.

    With ``run=False`` the cells alone are compared, not what they put out, which takes no time.
    """
    folder = folder or lessons_folder()
    unrun = (copy for path in _asked(numbers, folder) for copy in copies(read_source(path), folder))
    made = build(numbers, folder) if run else unrun
    out = [line for copy in made for line in difference(copy, folder, run=run)]
    wanted = {path.stem for path in _asked((), folder)}
    if not numbers:
        ours = ("[0-9]*.ipynb", "project*.ipynb", "capstone*.ipynb", "solutions/*.ipynb")
        left = [path for one in ours for path in sorted(folder.glob(one)) if path.stem not in wanted]
        out += [f"{path.relative_to(folder.parent).as_posix()} has no source" for path in left]
    return out


def difference(copy: Copy, folder: Path, *, run: bool = True) -> list[str]:
    """Return in one line how a copy differs from the committed one; nothing where it does not."""
    name = copy.path.relative_to(folder.parent).as_posix()
    if not copy.path.is_file():
        return [f"{name} is missing"]
    now, then = comparable(copy.text()), comparable(copy.path.read_text(encoding="utf-8"))
    if not run:
        now, then = without_outputs(now), without_outputs(then)
    if now == then:
        return []
    pairs = enumerate(zip(now, then, strict=False))
    at = next((i for i, (one, other) in pairs if one != other), min(len(now), len(then)))
    old, new = (" ".join(text[max(at - 30, 0) : at + 50].split()) for text in (then, now))
    return [f"{name} differs: {old!r} would become {new!r}"]
