"""The lesson sources keep the frame, and the build makes from them what it says."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from hitlab.course import building, frame
from hitlab.course.__main__ import main
from hitlab.course.building import comparable, copies, differences, without_outputs
from hitlab.course.frame import MOST_CODE_LINES, MOST_CODE_WIDTH, MOST_PROSE_WORDS, SECTIONS, frame_faults
from hitlab.course.handouts import handout, write_handouts
from hitlab.course.questions import asked
from hitlab.course.sources import (
    TAGS,
    CourseError,
    Heading,
    checked_in,
    heading_of,
    lessons_folder,
    read_source,
    source_paths,
)  # fmt: skip
from hitlab.exercises.definitions import KINDS
from hitlab.exercises.library import find_lesson, lessons
from tests.needs import package

package("jupytext")
package("nbformat")

ROOT = Path(__file__).resolve().parent.parent
FOLDER = lessons_folder()
PATHS = source_paths()
FIRST = next(path for path in PATHS if path.stem.startswith("01_"))
EVERY = pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)


@EVERY
def test_every_source_keeps_the_frame(path):
    assert frame_faults(read_source(path)) == []


def test_every_lesson_has_source_copies_exercises_and_a_line_in_the_readme():
    numbers = [path.stem[:2] for path in PATHS]
    assert numbers == [lesson.number for lesson in lessons()]
    assert numbers == sorted(set(numbers))
    readme = (FOLDER / "README.md").read_text(encoding="utf-8")
    for path in PATHS:
        assert f"[{read_source(path).title}]({path.stem}.ipynb)" in readme
    for folder, start in ((FOLDER, ["start_here"]), (FOLDER / "solutions", [])):
        found = sorted(p.stem for p in folder.glob("[0-9]*.ipynb"))
        assert found == [path.stem for path in PATHS]
        assert all((folder / f"{name}.ipynb").is_file() for name in start)


def test_the_readme_names_every_section_tag_and_limit():
    readme = (FOLDER / "README.md").read_text(encoding="utf-8")
    for word in (*SECTIONS, *(f"`{tag}`" for tag in TAGS)):
        assert word in readme
    for number in (MOST_PROSE_WORDS, MOST_CODE_LINES, MOST_CODE_WIDTH):
        assert f" {number} " in readme


# Each line takes something away from a lesson that keeps the frame, and names the fault that has to be seen.
BROKEN = [
    ("## Three goals", "## Goals", "headings"),
    ("# # 1. Count every swing", "# # Count every swing", "title"),
    ("# # 1. Count every swing", "# # 1. Count some swings", "lesson_01.py says"),
    ("# 3. spot", "# spot", "goals"),
    ('# 3. "Of', '# "Of', "We learned"),
    ('# > "Hana', '# "Hana', "quotes"),
    ("Core: about", "Core: about 9 minutes. Optional: about 9 minutes. Core: about", "alone take"),
    ("Core: about", "Core about", "Core: about N"),
    ("# - **whiff**: a swing", "# - whiff, a swing", "New words"),
    ("# - **whiff**", "# - **a**: b\n# - **whiff**", "New words"),
    ('tags=["slider"]', "", "tagged slider"),
    ('confidence("01", "before", verdict, sure)', "print(verdict)", "Your verdict first"),
    ('confidence("01", "after", verdict, sure)', "print(verdict)", "Your verdict again"),
    ("eady for air", "of your own", "ready for air"),
    ("verdict = ...", "verdict = hitlab.tally(hitlab.demo_season())", "before the learner"),
    ('progress("01")', "progress()", "last cell"),
    ('check("01.job-letters", answer)', "print(answer)", "the answer cells check"),
    (
        "(transfer, optional, 4 min)",
        "(transfer, core, 9 min)",
        "begins '### Title (transfer, optional, 4 min)'",
    ),
    ("# ### Job letters (transfer, optional, 4 min)", "# Job letters", "begins"),
    ("Per swing he is at 4 %", "Per swing he is at 5 %", "says 5 %"),
    ("He misses 24 times.", "He misses " + "and misses " * 100, "words"),
    ("lou = hitlab", "x = 1\n" * 15 + "lou = hitlab", "lines of code"),
    ("lou = hitlab", "x = '" + "y" * 90 + "'\nlou = hitlab", "characters"),
    ('choose("01.which-denominator")', 'choose("01.another")', "tagged choices"),
    ('tags=["choices"]', "", "tagged choices"),
    ("import numpy", "import sklearn\nimport numpy", "imports sklearn"),
    ('tags=["slide"]', 'tags=["plan"]', "has 0 slides; 10 are wanted"),
    ("# picture: above", "# picture: below", "lesson 1, slide 5: its last line is 'picture: below'"),
    ("# - 01.which-denominator", "# - 01.which-one", "plan: this lesson has no exercise or review question"),
    ("# ### What to cut", "# ### What to leave", "lesson 1, plan: its headings are"),
]


@pytest.mark.parametrize(("old", "new", "fault"), BROKEN, ids=[f"{i}-{b[2]}" for i, b in enumerate(BROKEN)])
def test_a_source_that_leaves_the_frame_is_told(tmp_path, old, new, fault):
    path = next(path for path in PATHS if path.stem.startswith("01_"))
    text = path.read_text(encoding="utf-8")
    assert old in text
    (tmp_path / path.name).write_text(text.replace(old, new), encoding="utf-8")
    found = frame_faults(read_source(tmp_path / path.name))
    assert any(fault in one for one in found), found
    assert all(path.name in one for one in found)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('review("02")\n', "\n"),
        ('review("02", ..., ..., ...)', 'review("02", ..., ...)'),
        ('review("02", *right_of_review("02"))', 'review("02", 1, 2, 3)'),
        ("# ## The claim\n", "# ## The claim\n\n# %% tags=[\"review\"]\nreview('02')\n"),
    ],
)
def test_a_lesson_without_its_review_is_told(tmp_path, old, new):
    path = next(path for path in PATHS if path.stem.startswith("02_"))
    text = path.read_text(encoding="utf-8")
    assert old in text
    (tmp_path / path.name).write_text(text.replace(old, new), encoding="utf-8")
    assert any("tagged review" in one for one in frame_faults(read_source(tmp_path / path.name)))


@pytest.mark.parametrize("kind", KINDS)
def test_a_lesson_without_an_exercise_of_some_kind_is_told(monkeypatch, kind):
    lesson = find_lesson("01")
    less = replace(lesson, exercises=tuple(one for one in lesson.exercises if one.kind != kind))
    monkeypatch.setattr(frame, "find_lesson", lambda number: less)
    fault = f"{FIRST.name}: at least five exercises, one of each kind; without: {kind}"
    assert fault in frame_faults(read_source(FIRST))


def test_headings_and_checks_are_read_by_one_rule():
    assert heading_of("### Which (and why)? (compute, optional, 4 min)\n\nText.") == Heading(
        "Which (and why)?", "compute", False, 4
    )
    for other in ("## Which (compute, core, 4 min)", "### Which (compute, core, 4 min) now", "### Which", ""):
        assert heading_of(other) is None
    assert checked_in('x = 1\ncheck("01.a", x)\ncheck(\n    "01.b", 2)\nrecheck("01.c")') == ["01.a", "01.b"]


def test_a_question_whose_heading_is_not_one_is_told(tmp_path):
    text = FIRST.read_text(encoding="utf-8").replace("(transfer, optional, 4 min)", "(transfer, 4 min)")
    (tmp_path / FIRST.name).write_text(text, encoding="utf-8")
    with pytest.raises(CourseError, match=r"01\.job-letters has no heading '### Title \(kind"):
        asked("01.job-letters", read_source(tmp_path / FIRST.name))


def test_a_lesson_without_exercises_is_told(tmp_path):
    path = tmp_path / "98_say_nothing.py"
    path.write_text("# %% [markdown]\n# # 98. Say nothing\n", encoding="utf-8")
    found = frame_faults(read_source(path))
    assert any("lesson_98.py is missing" in one for one in found)
    assert any("headings" in one for one in found)


@pytest.mark.parametrize("name", ["1_count.py", "01_count.py", "01-count-it.py", "01_Count_it.py"])
def test_a_name_that_is_not_ours_is_refused(tmp_path, name):
    (tmp_path / name).write_text("", encoding="utf-8")
    with pytest.raises(CourseError, match="NN_verb_topic"):
        read_source(tmp_path / name)


def test_a_tag_that_is_not_ours_is_refused(tmp_path):
    path = tmp_path / "01_do_it.py"
    path.write_text('# %% tags=["answers"]\n1\n', encoding="utf-8")
    with pytest.raises(CourseError, match="no tag 'answers'; there are: answer, "):
        read_source(path)


def test_a_number_that_is_not_there_is_refused():
    with pytest.raises(CourseError, match="no lesson 77"):
        source_paths(("77",))


@EVERY
def test_the_learner_sees_no_solution_and_the_teacher_no_dots(path):
    source = read_source(path)
    learner, solutions = (copy.notebook.cells for copy in copies(source, FOLDER))
    tags = {kind: [set(c.metadata.get("tags", [])) for c in cells] for kind, cells in
            (("learner", learner), ("solutions", solutions))}  # fmt: skip
    assert not any(t & {"solution", "asserted"} for t in tags["learner"])
    assert not any("answer" in t for t in tags["solutions"])
    assert any("asserted" in t for t in tags["solutions"])
    for cells in (learner, solutions):
        assert len({cell.id for cell in cells}) == len(cells)
    shared = {c.id: c.source for c in learner}
    assert all(shared[c.id] == c.source for c in solutions if c.id in shared)
    assert [c.id for c in solutions if "HITLAB_PROGRESS" in c.source] == ["solutions-copy"]


def test_ids_do_not_move_when_another_section_grows(tmp_path):
    path = FIRST
    text = path.read_text(encoding="utf-8")
    more = text.replace("# ## Simulate", "# more\n\n# %% [markdown]\n# ## Simulate", 1)
    (tmp_path / path.name).write_text(more, encoding="utf-8")
    before = {cell.id: cell.text for cell in read_source(path).cells}
    after = {cell.id: cell.text for cell in read_source(tmp_path / path.name).cells}
    assert before.items() <= after.items() or sum(before[i] != after.get(i) for i in before) <= 1


def test_outputs_lose_what_changes_from_run_to_run():
    root = FOLDER.parent
    outputs = [
        {"output_type": "stream", "name": "stderr", "text": "careful"},
        {
            "output_type": "stream",
            "name": "stdout",
            "text": f"<f at 0x7f0011223344> {root}/data_demo/season.parquet",
        },
        {
            "output_type": "display_data",
            "metadata": {"a": 1},
            "data": {
                "application/vnd.jupyter.widget-view+json": {"model_id": "random"},
                "text/plain": f"{root}/data_demo",
            },
        },
    ]
    printed, shown = list(building._clean(outputs))
    assert printed["text"] == "<f at 0x0> data_demo/season.parquet"
    assert shown["data"] == {"text/plain": "data_demo"}
    assert shown["metadata"] == {}


def test_pictures_are_compared_by_their_words():
    one, other = (f'<img alt="{words}" src="data:image/png;base64,{png}=="> text' for words, png in
                  (("a", "AAAA+/"), ("a", "BBBB")))  # fmt: skip
    assert comparable(one) == comparable(other)
    assert comparable(one) != comparable(other.replace('alt="a"', 'alt="b"'))
    assert "text" in comparable(one)


def _small_course(tmp_path: Path) -> Path:
    folder = tmp_path / "notebooks"
    (folder / "source").mkdir(parents=True)
    (folder / "solutions").mkdir()
    shutil.copy(FIRST, folder / "source")
    return folder


@pytest.mark.slow
@pytest.mark.pinned
def test_building_again_changes_nothing_and_a_change_is_seen(tmp_path):
    package("nbclient")
    folder = _small_course(tmp_path)
    name = FIRST.stem
    assert [line.split()[-1] for line in differences((), folder)] == ["missing", "missing"]
    first = {copy.path: copy.text() for copy in building.build((), folder)}
    for path, text in first.items():
        path.write_text(text, encoding="utf-8", newline="\n")
    assert {copy.path: copy.text() for copy in building.build((), folder)} == first  # byte for byte
    learner, solved = folder / f"{name}.ipynb", folder / "solutions" / f"{name}.ipynb"
    assert first[learner] == without_outputs(first[learner])
    assert first[solved] != without_outputs(first[solved])
    assert differences((), folder, run=False) == []
    source = folder / "source" / FIRST.name
    kept = source.read_text(encoding="utf-8")
    source.write_text(kept + "\n# %%\nprint(1)\n", encoding="utf-8")
    assert len(differences((), folder, run=False)) == 2
    source.write_text(kept, encoding="utf-8")
    solved.write_text(first[solved].replace("38 %", "39 %"), encoding="utf-8", newline="\n")
    (folder / "99_old_one.ipynb").write_text("{}", encoding="utf-8")
    found = differences((), folder)
    assert len(found) == 2
    assert f"notebooks/solutions/{name}.ipynb differs" in found[0]
    assert "39 %" in found[0]
    assert found[1].endswith("99_old_one.ipynb has no source")


@pytest.mark.slow
def test_a_lesson_whose_number_is_wrong_does_not_build(tmp_path):
    package("nbclient")
    folder = _small_course(tmp_path)
    source = folder / "source" / FIRST.name
    text = source.read_text(encoding="utf-8")
    source.write_text(text.replace('"100 %", "swings": "4 %"', '"100 %", "swings": "5 %"'), encoding="utf-8")
    with pytest.raises(Exception, match="AssertionError"):
        list(building.build((), folder))


@pytest.mark.slow
def test_a_learners_copy_that_does_not_run_is_not_built(tmp_path):
    package("nbclient")
    folder = _small_course(tmp_path)
    (learner, _) = copies(read_source(folder / "source" / FIRST.name), folder)
    learner.notebook.cells = learner.notebook.cells[:1]
    learner.notebook.cells[0] = package("nbformat").v4.new_code_cell("1 / 0")
    with pytest.raises(Exception, match="ZeroDivisionError"):
        building.run_copy(learner)


BUILD_ONE = """
import sys
from pathlib import Path
import nbformat
import tests.taken_ports
from hitlab.course.building import Copy, run_copy
path = Path(sys.argv[1])
(cell,) = run_copy(Copy(path, nbformat.read(path, 4), True)).notebook.cells
print(cell.outputs[0]["text"])
"""


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="kernels listen on ports there")
@pytest.mark.parametrize("runner", ["build", "nbval"])
def test_a_kernel_starts_where_its_ports_are_taken_before_it_gets_to_them(tmp_path, runner):
    """Kernels start beside other tests, and on machines where other programs take ports."""
    for needed in ("nbclient", "nbval"):
        package(needed)
    notebook = tmp_path / "one.ipynb"
    cell = package("nbformat").v4.new_code_cell("print(6 * 7)", id="one")
    notebook.write_text(json.dumps(building.new_notebook([cell])), encoding="utf-8")
    plugins = [word for name in ("kernels_by_files", "taken_ports") for word in ("-p", f"tests.{name}")]
    command, said = {
        "build": (["-c", BUILD_ONE], "42"),
        "nbval": (["-m", "pytest", "-p", "no:cacheprovider", *plugins, "--nbval-lax"], "1 passed"),
    }[runner]
    here = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])}
    done = subprocess.run(
        [sys.executable, *command, str(notebook)],
        cwd=tmp_path,
        env=here,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    assert said in done.stdout


@pytest.mark.slow
@EVERY
def test_a_handout_asks_for_nothing_from_the_network(path):
    package("nbconvert")
    text = handout(FOLDER / f"{path.stem}.ipynb", FOLDER / "solutions" / f"{path.stem}.ipynb")
    assert "<script" not in text
    assert "No description has been provided" not in text
    assert f"<title>{int(path.stem[:2])}. " in text
    assert "<th></th>" not in text


@pytest.mark.slow
def test_handouts_are_written_where_asked(tmp_path):
    package("nbconvert")
    (path,) = write_handouts((FIRST.stem[:2],), tmp_path / "new" / "folder", solutions=True)
    assert path == tmp_path / "new" / "folder" / f"{FIRST.stem}_solutions.html"
    assert path.stat().st_size > 100_000
    with pytest.raises(CourseError, match="build it first"):
        handout(tmp_path / "01_none.ipynb")
    learner = FOLDER / f"{FIRST.stem}.ipynb"
    with pytest.raises(CourseError, match="build it first"):
        handout(learner, tmp_path / "01_none.ipynb")


def _printed(name, *cells, run=True):
    """Write a small notebook: a heading is prose, a number is code that puts it out."""
    v4 = package("nbformat").v4
    made = []
    for at, (text, *tags) in enumerate(cells):
        code = text.isdigit() or "(" in text.split()[0]
        new = (v4.new_code_cell if code else v4.new_markdown_cell)(text, id=f"c{at}", metadata={"tags": tags})
        if code and run:
            new.outputs = [v4.new_output("stream", text=f"put out {text}")]
        made.append(new)
    name.write_text(package("nbformat").writes(v4.new_notebook(cells=made)), encoding="utf-8")
    return name


@pytest.mark.slow
def test_a_learners_handout_shows_the_outputs_and_folds_what_answers_a_prediction(tmp_path):
    package("nbconvert")
    cells = [
        ("# 1. Look",),
        ("111",),
        ("### Guess <it> (predict, core, 3 min)", "exercise"),
        ('check("01.guess", ...)', "answer"),
        ("222",),
        ("it is so",),
        ("### Work it out (compute, core, 3 min)", "exercise"),
        ('check("01.work", ...)', "answer"),
        ("333",),
        ("### Guess on (predict, core, 3 min)", "exercise"),
        ('check("01.on", ...)', "answer"),
        ("## Next",),
        ("### Guess more (predict, core, 3 min)", "exercise"),
        ("read this",),
        ('check("01.more", ...)', "answer"),
        ("444",),
        ('progress("01")',),
    ]
    learner = _printed(tmp_path / "learner.ipynb", *cells, run=False)
    solved = _printed(tmp_path / "solved.ipynb", *(cell for cell in cells))
    text = handout(learner, solved).split("<body", 1)[1]
    folds = re.findall(r"<details class=\"answer-first\">(.*?)</details>", text, re.S)
    assert text.count("<details") == text.count("</details>") == len(folds) == 2
    for fold, exercise in zip(folds, ("01.guess", "01.more"), strict=True):
        assert fold.startswith(f"<summary>Exercise {exercise}: write your answer down first.")
    open_text = re.sub(r"<details.*?</details>", "", text, flags=re.S)
    assert [f"put out {n}" in open_text for n in (111, 222, 333, 444)] == [True, False, True, False]
    assert ["put out 222" in folds[0], "it is so" in folds[0], "put out 444" in folds[1]] == [True] * 3
    assert "read this" in open_text
    assert "put out progress" not in text  # that of the solutions is not the learner's
    assert "<details" not in handout(solved).split("<body", 1)[1]
    assert "put out 222" in handout(solved)


def test_the_commands_say_what_is_wrong(monkeypatch, tmp_path):
    run = CliRunner().invoke
    assert "export" in run(main, ["--help"]).output
    done = run(main, ["check", "77"])
    assert isinstance(done.exception, CourseError)
    folder = _small_course(tmp_path)
    source = folder / "source" / FIRST.name
    source.write_text("# %%\n1\n", encoding="utf-8")
    monkeypatch.setattr("hitlab.course.__main__.source_paths", lambda numbers: [source])
    for command in ("check", "build"):
        assert "headings" in str(run(main, [command]).exception)
    assert list(folder.glob("*.ipynb")) == []


def test_copies_are_plain_json_with_one_kernel_name():
    for copy in copies(read_source(FIRST), FOLDER):
        parsed = json.loads(copy.text())
        assert parsed["metadata"]["kernelspec"]["name"] == "python3"
        assert copy.text().endswith("}\n")
