"""The notebooks that people open: what is committed, that it runs, in order and out of order."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from hitlab.course.building import differences
from hitlab.exercises import check, confidence, keeping, review
from hitlab.exercises.library import find_lesson
from tests.needs import package

package("matplotlib")
package("IPython")

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "notebooks"
START = FOLDER / "start_here.ipynb"
LEARNER = sorted(FOLDER.glob("[0-9]*.ipynb"))  # the desk is no lesson either
PROJECTS = [path for one in ("project*", "capstone*") for path in sorted(FOLDER.glob(f"{one}.ipynb"))]
SOLUTIONS = sorted((FOLDER / "solutions").glob("[0-9]*.ipynb"))
MARKED = [FOLDER / "solutions" / path.name for path in PROJECTS]
BOTH = pytest.mark.parametrize(
    "path", [*LEARNER, *PROJECTS, *SOLUTIONS, *MARKED], ids=lambda p: f"{p.parent.name}-{p.stem}"
)


def _cells(path, kind="code"):
    notebook = json.loads(path.read_text(encoding="utf-8"))
    return [cell for cell in notebook["cells"] if cell["cell_type"] == kind]


def _output_text(cell):
    parts = []
    for output in cell["outputs"]:
        found = output.get("text", "")
        values = (found, *output.get("data", {}).values())
        parts += ["".join(value) if isinstance(value, list) else str(value) for value in values]
    return "\n".join(parts)


@BOTH
def test_what_is_committed_is_clean(path):
    text = path.read_text(encoding="utf-8")
    assert len(text) < 3_000_000
    for stray in (str(ROOT), '"stderr"', "widget-view", "iopub", "Traceback", '"output_type": "error"'):
        assert stray not in text
    assert not re.search(r"\b0x[0-9a-f]{6,}", text)
    notebook = json.loads(text)
    assert notebook["metadata"]["kernelspec"]["name"] == "python3"
    shown = [(cell["execution_count"], cell["outputs"]) for cell in _cells(path)]
    if path.parent.name == "solutions":
        assert all(count for count, _ in shown)
        assert any(outputs for _, outputs in shown)
    else:  # whoever is asked to predict runs the cells himself
        assert set(map(str, shown)) == {"(None, [])"}


@pytest.mark.parametrize("path", SOLUTIONS, ids=lambda p: p.stem)
def test_every_picture_has_its_words(path):
    found = [image for cell in _cells(path) for image in re.findall(r"<img [^>]*>", _output_text(cell))]
    assert len(found) >= 2
    for image in found:
        words = re.search(r'alt="([^"]*)"', image)
        assert words is not None
        assert len(words[1]) > 40
        assert re.search(r"\d", words[1])
    assert not re.search(r"!\[\s*\]", path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", LEARNER, ids=lambda p: p.stem)
def test_untouched_exercises_say_that_they_are_not_answered(path, monkeypatch):
    monkeypatch.setenv("HITLAB_PROGRESS", "off")
    answers = [cell for cell in _cells(path) if "answer" in cell["metadata"].get("tags", [])]
    reviews = sum("review" in cell["metadata"]["tags"] for cell in answers)
    assert reviews <= 1
    assert len(answers) == len(find_lesson(path.stem[:2]).exercises) + 2 + reviews
    for cell in answers:
        *before, last = ast.parse("".join(cell["source"])).body
        assert isinstance(last, ast.Expr)
        lesson = import_module(f"hitlab.exercises.lesson_{path.stem[:2]}")
        names: dict[str, object] = {
            "check": check,
            "confidence": confidence,
            "review": review,
            "team": lesson,
        }
        exec(compile(ast.Module(before, []), cell["id"], "exec"), names)
        said = eval(compile(ast.Expression(last.value), cell["id"], "eval"), names)
        assert "NOT ANSWERED YET" in str(said)


@pytest.mark.parametrize("path", SOLUTIONS, ids=lambda p: p.stem)
def test_every_solution_is_right(path):
    lesson = find_lesson(path.stem[:2])
    texts = {
        exercise.id: [
            _output_text(c) for c in _cells(path) if f'check("{exercise.id}"' in "".join(c["source"])
        ]
        for exercise in lesson.exercises
    }
    for exercise, found in texts.items():
        assert len(found) == 1, exercise
        assert "RIGHT" in found[0], exercise


@pytest.mark.slow
@pytest.mark.parametrize("path", LEARNER, ids=lambda p: p.stem)
def test_cells_run_out_of_order(path, monkeypatch, capsys):
    """Answers right after the imports; then all in order, and all again from the last to the first."""
    monkeypatch.setenv("HITLAB_PROGRESS", "off")
    keeping._memory.clear()
    codes = [(c["id"], "".join(c["source"]), c["metadata"].get("tags", [])) for c in _cells(path)]
    compiled = {name: compile(text, name, "exec") for name, text, _ in codes}
    names: dict[str, object] = {}
    exec(compiled[codes[0][0]], names)
    for name, _, tags in codes:
        if "answer" in tags:
            exec(compiled[name], dict(names))
    for name, _, _ in (*codes, *reversed(codes)):
        exec(compiled[name], names)
    assert "Traceback" not in capsys.readouterr().out


def test_the_cells_are_those_of_the_sources():
    """What they put out is compared below, where they run once."""
    package("jupytext")
    assert differences(run=False) == []


@pytest.mark.slow
@pytest.mark.pinned
@pytest.mark.parametrize("kind", ["solutions", "learner"])
def test_nbval_runs_every_cell_and_finds_the_same_outputs(kind):
    """Solutions put out what is committed; a learner's copy bears no outputs, so that it has to run.

    Lessons' learners' copies run in JupyterLab, in ``test_lab.py``.
    """
    package("nbval")
    paths, how = (
        ([*SOLUTIONS, *MARKED], "--nbval") if kind == "solutions" else ([START, *PROJECTS], "--nbval-lax")
    )
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-p", "tests.kernels_by_files"]
    command += [how, *map(str, paths)]
    command += ["--nbval-sanitize-with", str(FOLDER / "nbval.cfg")]
    environment = {**os.environ, "HITLAB_PROGRESS": "off"}
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-3000:]
    cells = sum(len(_cells(path)) for path in paths)
    assert f"{cells} passed" in done.stdout
