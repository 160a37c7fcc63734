"""A copy of the lessons is laid out, and an older one brought up to date; what was written stays."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab.cli.commands import run
from hitlab.errors import ReadingError
from hitlab.lessons import copies, merging
from hitlab.lessons.copies import FIRST, GLOSSARY, lay_out, lessons_carried
from hitlab.lessons.merging import UnmergeableError, is_marked, marked, merged
from tests.needs import package

ROOT = Path(__file__).resolve().parent.parent
NOTEBOOKS = ROOT / "notebooks"
BOOKS = sorted(path for path in NOTEBOOKS.glob("*.ipynb") if path.stem != "desk")
CARRIED = sorted([*BOOKS, NOTEBOOKS / GLOSSARY])
FIRST_LESSON = "01_count_every_swing.ipynb"
ANSWER = 'answer = ...\ncheck("01.x", answer)'


def cell(name, text, *tags, kind="code"):
    extra = {"outputs": [], "execution_count": None} if kind == "code" else {}
    metadata = {"tags": list(tags)} if tags else {}
    return {"cell_type": kind, "id": name, "metadata": metadata, "source": text, **extra}


def notebook(*cells, **metadata):
    return json.dumps({"cells": cells, "metadata": metadata, "nbformat": 4, "nbformat_minor": 5}).encode()


def with_cells(content, change):
    """Return a notebook whose cells, by id, somebody changed."""
    book = json.loads(content)
    book["cells"] = change({one["id"]: one for one in book["cells"]})
    return json.dumps(book).encode()


def texts(content):
    return ["".join(one["source"]) for one in json.loads(content)["cells"]]


def ids(content):
    return [one["id"] for one in json.loads(content)["cells"]]


OLD = notebook(
    cell("start-01", "# 1. Look", kind="markdown"),
    cell("look-01", "rate = 1"),
    cell("exercises-01", "Say it.", "exercise", kind="markdown"),
    cell("exercises-02", ANSWER, "answer"),
    cell("exercises-03", 'answer = ...\ncheck("01.y", answer)', "answer"),
)
# The lesson grew by a cell before the answers, whose ids moved; the title and one cell of code are others.
NEW = notebook(
    cell("start-01", "# 1. Look well", kind="markdown"),
    cell("look-01", "rate = 2"),
    cell("exercises-01", "First a thought.", kind="markdown"),
    cell("exercises-02", "Say it.", "exercise", kind="markdown"),
    cell("exercises-03", ANSWER, "answer"),
    cell("exercises-04", 'answer = ...\ncheck("01.y", answer)', "answer"),
)


def answered(by_id, name, text):
    by_id[name] |= {"source": text.splitlines(keepends=True), "execution_count": 7}
    by_id[name]["outputs"] = [{"output_type": "stream", "name": "stdout", "text": "mine"}]


# --- one notebook


def test_an_answer_is_kept_where_its_exercise_stands_now():
    def learner(by_id):
        answered(by_id, "exercises-02", ANSWER.replace("...", "5 / 9"))
        return list(by_id.values())

    result = merged(with_cells(marked(OLD), learner), NEW)
    assert texts(result.content) == [
        "# 1. Look well",
        "rate = 2",
        "First a thought.",
        "Say it.",
        'answer = 5 / 9\ncheck("01.x", answer)',
        'answer = ...\ncheck("01.y", answer)',
    ]
    assert ids(result.content) == ids(NEW)
    mine = json.loads(result.content)["cells"][4]
    assert (mine["execution_count"], mine["outputs"][0]["text"]) == (7, "mine")
    assert result.kept == ("your answers to 01.x",)
    assert result.changed == ("2 cells changed", "1 cell new", "at the top")


def test_an_answer_that_lost_its_call_or_was_pasted_elsewhere_is_still_the_answer():
    def without_call(by_id):
        answered(by_id, "exercises-02", "five of nine")
        return list(by_id.values())

    def pasted(by_id):
        moved = {**by_id.pop("exercises-02"), "id": "b7a1c9d2", "source": ANSWER.replace("...", "0.5")}
        return [moved, *by_id.values()]

    for learner, text in ((without_call, "five of nine"), (pasted, 'answer = 0.5\ncheck("01.x", answer)')):
        result = merged(with_cells(marked(OLD), learner), NEW)
        assert texts(result.content)[4] == text
        assert len(texts(result.content)) == 6
        assert result.kept == ("your answers to 01.x",)


def test_answers_to_the_questions_from_before_are_kept_where_those_stand_now():
    asked = 'review("02", ..., ..., ...)'
    old = notebook(
        cell("start-01", "# 2. Look", kind="markdown"), cell("start-03", asked, "answer", "review")
    )
    new = notebook(cell("start-01", "# 2. Look", kind="markdown"), cell("start-02", "Read.", kind="markdown"),
                   cell("start-04", asked, "answer", "review"))  # fmt: skip

    def learner(by_id):
        answered(by_id, "start-03", 'review("02", "a", 0.5, 3)')
        return list(by_id.values())

    result = merged(with_cells(marked(old), learner), new)
    assert texts(result.content) == ["# 2. Look", "Read.", 'review("02", "a", 0.5, 3)']
    assert ids(result.content) == ids(new)
    assert result.kept == ("your answers to the questions from before",)


def test_what_else_was_written_stays_where_it_stood():
    def learner(by_id):
        by_id["look-01"]["source"] = "rate = 1  # why?"  # the lesson changed it as well
        by_id["exercises-01"]["source"] = "Say it. (I did.)"  # the lesson did not
        first, *rest = by_id.values()
        note = cell("9f3a0c11", "a note of mine", kind="markdown")
        scratch = cell("exercises-09", "2 + 2")
        return [note, first, *rest, scratch, cell("0a0a0a0a", "")]

    result = merged(with_cells(marked(OLD), learner), NEW)
    assert texts(result.content) == [
        "a note of mine",
        "# 1. Look well",
        "rate = 2",
        "rate = 1  # why?",
        "First a thought.",
        "Say it. (I did.)",
        ANSWER,
        'answer = ...\ncheck("01.y", answer)',
        "2 + 2",
        "",
    ]
    assert result.kept == ("2 cells that you changed", "2 cells of your own")
    assert len(set(ids(result.content))) == 10


def test_an_answer_to_an_exercise_that_is_gone_stays_and_an_untouched_one_goes():
    fewer = with_cells(NEW, lambda by_id: [by_id[name] for name in ("start-01", "look-01")])

    def learner(by_id):
        answered(by_id, "exercises-02", ANSWER.replace("...", "1"))
        return list(by_id.values())

    result = merged(with_cells(marked(OLD), learner), fewer)
    assert texts(result.content) == ["# 1. Look well", "rate = 2", 'answer = 1\ncheck("01.x", answer)']
    assert result.changed == ("2 cells changed", "3 cells gone", "at the top")
    assert result.kept == ("your answers to 01.x",)


def test_a_copy_of_this_version_is_not_touched_whatever_was_written_in_it():
    def learner(by_id):
        answered(by_id, "exercises-02", "x")
        return [by_id["exercises-02"]]

    assert merged(with_cells(marked(OLD), learner), OLD).content is None


def test_deleted_cells_are_back_and_said():
    result = merged(with_cells(marked(OLD), lambda by_id: [by_id["start-01"]]), NEW)
    assert texts(result.content) == texts(NEW)
    assert result.changed == (
        "2 cells changed",
        "1 cell new",
        "4 cells back that you had deleted",
        "at the top",
    )


def test_cells_that_were_moved_are_back_in_their_order_and_it_is_said():
    """The lesson's steps follow each other; no text is lost by it."""

    def moved(by_id):
        by_id["look-01"]["source"] = "rate = 3"
        cells = list(by_id.values())
        return [cells[1], cells[0], *cells[2:]]

    result = merged(with_cells(marked(OLD), moved), NEW)
    assert texts(result.content)[:3] == ["# 1. Look well", "rate = 2", "rate = 3"]
    assert result.changed == ("2 cells changed", "1 cell new", "the order of its cells", "at the top")


def test_other_outputs_alone_are_brought_too():
    def ran(by_id):
        by_id["look-01"]["outputs"] = [{"output_type": "stream", "name": "stdout", "text": "new"}]
        return list(by_id.values())

    result = merged(marked(OLD), with_cells(OLD, ran))
    assert result.changed == ("what its cells put out",)
    assert json.loads(result.content)["cells"][1]["outputs"][0]["text"] == "new"


def test_what_a_learner_ran_stays_below_the_cells_whose_text_stays():
    """A learner's copy ships without outputs: bringing it up to date takes none away."""

    def ran(by_id):
        for number, one in enumerate(by_id.values()):
            if one["cell_type"] == "code":
                put_out = [{"output_type": "stream", "text": f"{number}"}]
                one |= {"execution_count": number, "outputs": put_out}
        by_id["exercises-03"]["source"] = 'answer = 3\ncheck("01.y", answer)'
        return list(by_id.values())

    result = merged(with_cells(marked(OLD), ran), NEW)
    put_out = {
        one["id"]: (one["execution_count"], [output["text"] for output in one["outputs"]])
        for one in json.loads(result.content)["cells"]
        if one["cell_type"] == "code"
    }
    assert put_out == {
        "look-01": (None, []),  # the lesson's text is another now, and what the old one put out is gone
        "exercises-03": (3, ["3"]),
        "exercises-04": (4, ["4"]),
    }
    tagged = with_cells(OLD, lambda by_id: [{**one, "metadata": {"tags": ["x"]}} for one in by_id.values()])
    result = merged(with_cells(marked(OLD), ran), tagged)
    assert result.changed == ("nothing that is read",)
    assert json.loads(result.content)["cells"][1]["outputs"] == [{"output_type": "stream", "text": "1"}]
    assert json.loads(result.content)["cells"][1]["metadata"] == {"tags": ["x"]}


@pytest.mark.parametrize("mark", [3, {}, {"of": "x"}, {"of": "x", "cells": {"a": 1}, "asked": {}}])
def test_without_a_mark_whatever_differs_is_the_learners(mark):
    book = json.loads(OLD)
    book["metadata"] = {"hitlab_lesson": mark}
    book["cells"][3]["source"] = ANSWER.replace("...", "5")
    content = json.dumps(book).encode()
    assert not is_marked(content)
    result = merged(content, NEW)
    assert texts(result.content)[:3] == ["# 1. Look well", "# 1. Look", "rate = 2"]
    assert 'answer = 5\ncheck("01.x", answer)' in texts(result.content)
    assert ANSWER not in texts(result.content)
    assert set(texts(NEW)) - {ANSWER} <= set(texts(result.content))
    assert is_marked(result.content)


def test_a_kernel_that_the_learner_chose_stays():
    book = json.loads(marked(OLD))
    book["metadata"]["kernelspec"] = {"name": "class-kernel"}
    new = json.loads(NEW)
    new["metadata"]["kernelspec"] = {"name": "python3"}
    result = merged(json.dumps(book).encode(), json.dumps(new).encode())
    assert json.loads(result.content)["metadata"]["kernelspec"] == {"name": "class-kernel"}


BROKEN = {
    "empty": (b" \n", "it is empty"),
    "cut off": (OLD[:200], "no notebook that can be read"),
    "conflict": (b"<<<<<<< mine\n" + OLD, r"can be read \(line 1\)"),
    "bytes": (b"\xff\xfe\x00", "no notebook that can be read"),
    "deep": (b"[" * 100_000, "no notebook that can be read"),
    "a list": (b"[]", "format that JupyterLab writes"),
    "no cells": (b'{"cells": {}, "metadata": {}}', "format that JupyterLab writes"),
    "format 3": (OLD.replace(b'"nbformat": 4', b'"nbformat": 3'), "another format than 4"),
    "no ids": (with_cells(OLD, lambda c: [{k: v for k, v in one.items() if k != "id"} for one in c.values()]),
               "have no ids"),
    "ids twice": (notebook(cell("a", "1"), cell("a", "2")), "have one id"),
    "odd cell": (notebook(cell("a", 1)), "one of its cells"),
}  # fmt: skip


@pytest.mark.parametrize(("content", "why"), BROKEN.values(), ids=BROKEN.keys())
def test_what_cannot_be_merged_says_why(content, why):
    with pytest.raises(UnmergeableError, match=why):
        merged(content, NEW)
    assert not is_marked(content)


WORDS = st.sampled_from(["a", "b = 1", ANSWER, "rate = 1", "rate = 2", "", "Ünï ✓", "x\ny\n", "\ud800"])
LESSON = st.lists(
    st.tuples(st.sampled_from("abcdefgh"), WORDS, st.booleans()), unique_by=lambda one: one[0], max_size=6
)


def _lesson(parts):
    seen, cells = set(), []
    for name, text, answers in parts:
        asks = answers and name not in seen
        body = f'answer = ...\ncheck("01.{name}", answer)' if asks else f"{text} {name}"
        cells.append(cell(f"{name}-01", body, *(["answer"] if asks else [])))
        seen.add(name)
    return notebook(*cells)


@given(LESSON, LESSON, st.data())
def test_nothing_that_a_learner_wrote_is_lost_and_every_new_cell_is_there(old, new, data):
    old, new = _lesson(old), _lesson(new)
    written, edited = [], []
    for one in json.loads(marked(old))["cells"]:
        what = data.draw(st.sampled_from(["keep", "change", "delete", "add behind", "copy"]))
        if what == "change":
            one["source"] = f"mine {len(written)} {data.draw(WORDS)}"
            written.append(one["source"])
        if what != "delete":
            edited.append(one)
        if what in ("add behind", "copy"):
            text = one["source"] if what == "copy" else f"mine {len(written)}"
            edited.append({**one, "id": f"{len(edited):08x}", "source": text})
            written.append(text)
    if data.draw(st.booleans()):
        edited = data.draw(st.permutations(edited))
    copy = with_cells(marked(old), lambda _: list(edited))
    result = merged(copy, new)
    if result.content is None:
        assert old == new
        return
    found = texts(result.content)
    for text in set(written):
        assert found.count(text) >= written.count(text)
    asked = {one["id"] for one in json.loads(new)["cells"] if "answer" in one["metadata"].get("tags", [])}
    assert set(ids(new)) <= set(ids(result.content))
    for one in json.loads(new)["cells"]:
        if one["source"] not in found:  # only what the learner changed stands in the place of a lesson's cell
            place = ids(result.content).index(one["id"])
            assert found[place] in written
            assert one["id"] in asked or one["source"] in texts(old)
    assert len(set(ids(result.content))) == len(found)
    assert merged(result.content, new).content is None


# --- a folder


@pytest.fixture
def older(monkeypatch):
    """Lay out with what the lessons were once: another title and one cell of code less."""

    def lay(folder, **options):
        def once(self):
            content = bytes(real(self))
            if self.parent.name not in ("notebooks", "solutions") or self.suffix != ".ipynb":
                return content
            return with_cells(
                content.replace(b"# 1. Count", b"# 1. Count, count"),
                lambda by_id: [one for name, one in by_id.items() if name != "look-02"],
            )

        real = Path.read_bytes
        with monkeypatch.context() as patched:
            patched.setattr(Path, "read_bytes", once)
            return lay_out(folder, **options)

    return lay


def test_the_lessons_are_laid_out_and_open_as_they_are(tmp_path):
    nbformat = package("nbformat")
    laid = lay_out(tmp_path / "new" / "lessons")
    there = sorted(path.name for path in laid.folder.iterdir())
    assert there == sorted(path.name for path in CARRIED)
    assert (laid.folder / GLOSSARY).read_bytes() == (NOTEBOOKS / GLOSSARY).read_bytes()
    there.remove(GLOSSARY)
    for name in there:
        book = nbformat.read(laid.folder / name, as_version=4)
        nbformat.validate(book)
        shipped = json.loads((NOTEBOOKS / name).read_text(encoding="utf-8"))
        assert json.loads((laid.folder / name).read_text(encoding="utf-8"))["cells"] == shipped["cells"]
    teacher = lay_out(laid.folder, teacher=True)
    assert sorted(teacher.same) == sorted([*there, GLOSSARY])
    assert sorted(teacher.new) == [f"solutions/{name}" for name in there if name != FIRST]
    assert teacher.told()[0].startswith("17 solutions copies laid out in ")


def test_a_learners_folder_has_lessons_and_nothing_else(tmp_path, monkeypatch, capsys):
    """As both README files say it: no sources, tool files or solutions in sight."""
    command = "hitlab lessons --to lessons"
    for readme in (ROOT / "README.md", NOTEBOOKS / "README.md"):
        told = readme.read_text(encoding="utf-8")
        assert f".venv/bin/{command}\n" in told
        assert ".venv/bin/jupyter lab lessons\n" in told
        assert "jupyter lab notebooks" not in told
    monkeypatch.chdir(tmp_path)
    assert run(command.split()[1:]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[0] == "the page to start from, the glossary, 14 lessons and 3 projects laid out in lessons"
    assert said[1] == f"Start here: jupyter lab {Path('lessons') / FIRST}"
    there = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*"))
    assert there == ["lessons", *sorted(f"lessons/{path.name}" for path in CARRIED)]
    assert "/lessons/" in (ROOT / ".gitignore").read_text(encoding="utf-8").splitlines()


def test_an_older_folder_is_brought_up_to_date_and_the_answers_stay(tmp_path, older, capsys):
    nbformat = package("nbformat")
    folder = tmp_path / "course"
    older(folder)
    path = folder / FIRST_LESSON
    book = nbformat.read(path, as_version=4)  # as JupyterLab reads and writes it
    answers = {
        one["id"]: one["source"].replace("...", f"{number} + 0.25")
        for number, one in enumerate(book.cells)
        if "answer" in one.metadata.get("tags", [])
    }
    assert len(answers) >= 7
    for one in book.cells:
        one["source"] = answers.get(one["id"], one["source"])
    book.cells.insert(3, nbformat.v4.new_code_cell("# a cell of mine"))
    nbformat.write(book, path)
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    assert run(["lessons", "--to", str(folder)]) == 0
    said = capsys.readouterr().out
    changed = '(1 cell changed, 1 cell new, at the top, under "Look"); kept: your '
    assert f"{FIRST_LESSON}: brought up to date {changed}" in said
    assert "01.both-lists" in said
    assert "1 cell of your own" in said
    assert f"Start here: jupyter lab {folder / FIRST}" in said
    assert "Reload Notebook from Disk" in said
    now = json.loads(path.read_text(encoding="utf-8"))
    nbformat.validate(nbformat.reads(json.dumps(now), as_version=4))
    shipped = json.loads((NOTEBOOKS / FIRST_LESSON).read_text(encoding="utf-8"))
    found = {one["id"]: "".join(one["source"]) for one in now["cells"]}
    assert {name: found[name] for name in answers} == answers
    for one in shipped["cells"]:
        assert found[one["id"]] == answers.get(one["id"], "".join(one["source"]))
    assert "# a cell of mine" in found.values()
    assert (folder / "notes.txt").read_text(encoding="utf-8") == "mine"
    before = {one: one.read_bytes() for one in folder.iterdir()}
    assert run(["lessons", "--to", str(folder)]) == 0
    assert {one: one.read_bytes() for one in folder.iterdir()} == before
    said = capsys.readouterr().out
    assert (
        "the page to start from, the glossary, 14 lessons and 3 projects up to date already, not touched"
        in said
    )


@pytest.mark.parametrize("content", [BROKEN["cut off"][0], BROKEN["no ids"][0]], ids=["cut off", "no ids"])
def test_a_copy_that_cannot_be_merged_is_left_and_the_new_one_lies_beside(tmp_path, content, capsys, older):
    older(tmp_path / "c")
    path = tmp_path / "c" / FIRST_LESSON
    path.write_bytes(content)
    beside = tmp_path / "c" / FIRST_LESSON.replace(".ipynb", "_new.ipynb")
    for times in (1, 2):
        assert run(["lessons", "--to", str(tmp_path / "c")]) == 3
        said = capsys.readouterr().out
        assert f"{FIRST_LESSON}: left as it is, because it" in said
        assert "laid out in" not in said
        assert "14 lessons" not in said
        assert f"the new lesson lies beside it as {beside.name}" in said
        assert path.read_bytes() == content
        assert texts(beside.read_bytes()) == texts((NOTEBOOKS / FIRST_LESSON).read_bytes())
        assert len(list((tmp_path / "c").iterdir())) == len(CARRIED) + 1, times
    beside.write_bytes(b"{")
    assert run(["lessons", "--to", str(tmp_path / "c")]) == 2
    assert "Move one of them to another folder" in capsys.readouterr().err
    assert (path.read_bytes(), beside.read_bytes()) == (content, b"{")


def test_a_folder_that_cannot_be_used_is_said_and_left(tmp_path, monkeypatch, capsys):
    def refused(folder, *said):
        assert run(["lessons", "--to", str(folder)]) == 2
        told = " ".join(capsys.readouterr().err.split())
        assert told.startswith("Could not be checked: ")
        for words in (folder.name, *said):
            assert words in told

    a_file = tmp_path / "a file"
    a_file.write_text("mine", encoding="utf-8")
    refused(a_file, "is there and no folder", "new or empty")
    refused(a_file / "below", "cannot be made a folder")
    full = tmp_path / "full"
    full.mkdir()
    (full / "thesis.docx").write_text("mine", encoding="utf-8")
    refused(full, "has other things in it, such as thesis.docx")
    assert [path.name for path in full.iterdir()] == ["thesis.docx"]
    refused(NOTEBOOKS, "no lessons that were laid out before")
    empty = tmp_path / "empty"
    empty.mkdir()
    (empty / ".hidden").write_text("", encoding="utf-8")
    with monkeypatch.context() as patched:
        patched.setattr(copies.os, "access", lambda _, mode: not mode & os.W_OK)  # root may write anywhere
        refused(empty, "is not yours to write in")
    assert run(["lessons", "--to", str(empty)]) == 0
    assert run(["lessons"]) == 2
    assert "--to" in capsys.readouterr().err


def test_a_lesson_in_whose_place_there_is_a_folder_is_laid_beside_it(tmp_path, older):
    older(tmp_path)
    (tmp_path / FIRST_LESSON).unlink()
    (tmp_path / FIRST_LESSON).mkdir()
    before = {one: one.read_bytes() for one in tmp_path.iterdir() if one.is_file()}
    laid = lay_out(tmp_path)
    assert laid.beside[FIRST_LESSON][0].startswith("it cannot be read")
    assert laid.updated.keys() == {one.name for one in before} - {GLOSSARY}


def test_a_read_only_lesson_stops_before_anything_is_written(tmp_path, older, monkeypatch):
    older(tmp_path)
    before = {one: one.read_bytes() for one in tmp_path.iterdir()}
    monkeypatch.setattr("hitlab.writing.os.access", lambda path, _: Path(path).suffix != ".ipynb")
    with pytest.raises(ReadingError, match="read-only"):
        lay_out(tmp_path)
    assert {one: one.read_bytes() for one in tmp_path.iterdir()} == before


def test_a_package_that_was_cut_down_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(copies, "__file__", str(tmp_path / "hitlab" / "lessons" / "copies.py"))
    with pytest.raises(ReadingError, match="install the package again"):
        lessons_carried()


def test_every_committed_lesson_can_be_merged_and_its_answers_are_told():
    carried = lessons_carried()
    assert len(carried) == 2 * len(BOOKS) - 1 + 1
    del carried[GLOSSARY]
    for name, path in carried.items():
        content = path.read_bytes()
        mark = json.loads(marked(content))["metadata"][merging._MARK]
        book = json.loads(content)
        answers = [one["id"] for one in book["cells"] if "answer" in one["metadata"].get("tags", [])]
        assert sorted(mark["asked"]) == sorted(answers)
        assert len(set(mark["asked"].values())) == len(answers)
        assert bool(answers) != (name.startswith("solutions/") or name == FIRST)


def test_the_wheel_is_told_of_every_lesson():
    tomllib = pytest.importorskip("tomllib")
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wheel = told["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    wanted = {f"notebooks/{path.name}" for path in CARRIED} | {"notebooks/solutions"}
    assert {name for name in wheel if name.startswith("notebooks")} == wanted
    assert all(inside == f"hitlab/{name}" for name, inside in wheel.items())


def test_help_and_laying_out_import_no_notebook_machinery(tmp_path):
    code = (
        "import sys\nfrom hitlab.cli.commands import run\n"
        "run(sys.argv[1:])\n"
        "print([m for m in ('nbformat', 'jupytext', 'hitlab.lessons', 'hitlab.course', 'hitlab.exercises')"
        " if m in sys.modules])"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    for arguments, found in (
        (["--help"], "[]"),
        (["lessons", "--to", str(tmp_path / "x")], "['hitlab.lessons']"),
    ):
        done = subprocess.run(
            [sys.executable, "-c", code, *arguments],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
        )
        assert done.stdout.splitlines()[-1] == found
