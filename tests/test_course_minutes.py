"""Minutes are worked out by a stated formula, and the table, the ways and the sources tell those."""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner

from hitlab.course.__main__ import main
from hitlab.course.building import difference, without_outputs
from hitlab.course.frame import MOST_PROSE_WORDS
from hitlab.course.minutes import (
    LONGEST_SITTING,
    minutes_line,
    minutes_of,
    write_minutes,
    write_table,
)
from hitlab.course.routes import ROUTES
from hitlab.course.sources import Cell, CourseError, Source, lessons_folder, read_source, source_paths
from hitlab.course.start import minutes_of_route, start_copy
from hitlab.exercises.library import lessons
from hitlab.lessons.copies import FIRST
from tests.needs import package

package("jupytext")
package("nbformat")
package("IPython")

FOLDER = lessons_folder()
SOURCES = {path.stem[:2]: read_source(path) for path in source_paths()}
EVERY = pytest.mark.parametrize("source", SOURCES.values(), ids=lambda source: source.name)


def source(tmp_path, *cells):
    made = []
    for at, (kind, text, *tags) in enumerate(cells):
        made.append(Cell(kind, text, frozenset(tags), "Look" if at < 6 else "Simulate", f"c{at}"))
    return Source(tmp_path / "98_try_it.py", tuple(made))


WORDS = ("markdown", "word " * 170)
CODE = ("code", "x = 1\n\n" * 20)
PICTURES = ("code", "plots.show(ax)\nmove_it(draw, 1)", "slider")
OPTIONAL = ("markdown", "### Say (compute, optional, 10 min)", "exercise")
ANSWER = ("code", "answer = ...\ncheck(1, answer)", "answer")


@pytest.mark.parametrize(
    ("cells", "core", "optional"),
    [
        ([WORDS], 1, 0),
        ([CODE], 3, 0),  # blank lines are not read
        ([PICTURES], 3 + 0.3, 0),
        ([("markdown", "### Say (predict, core, 10 min)", "exercise"), ANSWER], 14 + 6 / 170 + 0.3, 0),
        ([OPTIONAL, ANSWER, WORDS], 1, 14 + 6 / 170 + 0.3),
        ([OPTIONAL, WORDS, ANSWER], 0, 15 + 6 / 170 + 0.3),
        ([("code", "a\nb", "answer", "confidence"), ("code", "a", "solution", "confidence")], 3 + 0.3, 0),
        ([("code", "assert 1", "asserted")], 0, 0),
        ([(*WORDS, "slide"), (*WORDS, "plan")], 0, 0),
        ([("markdown", "Core: about 40 minutes. Optional: about 10 minutes.")], 0, 0),
    ],
)
def test_minutes_follow_the_formula(tmp_path, cells, core, optional):
    found = minutes_of(source(tmp_path, *cells))
    assert found.core == pytest.approx(core, rel=1e-12)
    assert found.optional == pytest.approx(optional, rel=1e-12)


def test_a_long_lesson_is_cut_in_two_where_a_cell_says_so(tmp_path):
    stop = ("markdown", "**A good place to stop.**", "sitting")
    whole = minutes_of(source(tmp_path, *[WORDS] * 62))
    assert (whole.rounded, whole.uncut, whole.half) == ((60, 0, (60,)), False, "Simulate")
    assert minutes_of(source(tmp_path, *[WORDS] * 66)).uncut
    cut = source(tmp_path, *[WORDS] * 43, stop, *[WORDS] * 29)
    assert minutes_of(cut).rounded == (70, 0, (45, 25))
    assert not minutes_of(cut).uncut
    said = "Core: about 70 minutes. Optional: about 0 minutes. In two sittings: about 45 and 25 minutes."
    assert minutes_line(cut) == said
    with pytest.raises(CourseError, match="2 cells are tagged sitting"):
        minutes_of(source(tmp_path, stop, WORDS, stop))


def test_minutes_are_written_into_source_and_table_and_a_second_time_changes_nothing(tmp_path):
    stop = ("markdown", "Stop.", "sitting")
    lesson = source(tmp_path, *[WORDS] * 43, stop, *[WORDS] * 29)
    text = "# before\n# Core: about 5 minutes. Optional: about 5 minutes.\n# after\n"
    lesson.path.write_text(text, encoding="utf-8")
    assert write_minutes(lesson)
    written = lesson.path.read_text(encoding="utf-8")
    assert written == f"# before\n# {minutes_line(lesson)}\n# after\n"
    assert not write_minutes(lesson)
    short = source(tmp_path, WORDS)
    assert write_minutes(short)  # the sittings go again
    assert "# Core: about 5 minutes. Optional: about 0 minutes.\n" in lesson.path.read_text(encoding="utf-8")
    readme = tmp_path / "README.md"
    row = "| 98. [Try it](98_try_it.ipynb) | {} | {} | 50 min of it |\n"
    readme.write_text(row.format("5 min", "5 min"), encoding="utf-8")
    assert write_table([lesson], readme)
    assert readme.read_text(encoding="utf-8") == row.format("70 min (45 + 25)", "0 min")
    assert not write_table([lesson], readme)
    readme.write_text("none", encoding="utf-8")
    with pytest.raises(CourseError, match=r"0 rows for 98_try_it\.ipynb"):
        write_table([lesson], readme)
    lesson.path.write_text("none", encoding="utf-8")
    with pytest.raises(CourseError, match="has no line"):
        write_minutes(lesson)


@EVERY
def test_the_line_in_a_lesson_is_what_the_formula_gives(source):
    assert minutes_line(source) in "\n".join(cell.text for cell in source.cells)


@EVERY
def test_a_lesson_fits_a_sitting_or_is_cut(source):
    minutes = minutes_of(source)
    assert not minutes.uncut
    assert max(minutes.rounded[2]) <= LONGEST_SITTING


def test_the_table_has_the_minutes(tmp_path):
    kept = (FOLDER / "README.md").read_text(encoding="utf-8")
    (tmp_path / "README.md").write_text(kept, encoding="utf-8")
    assert not write_table(list(SOURCES.values()), tmp_path / "README.md")


def test_the_command_prints_lessons_and_ways_and_writes_only_when_asked(monkeypatch):
    for name in ("write_minutes", "write_table"):
        monkeypatch.setattr(f"hitlab.course.__main__.{name}", lambda *_: pytest.fail("it wrote"))
    done = CliRunner().invoke(main, ["minutes"])
    assert done.exception is None, done.exception
    core, optional, _ = minutes_of(SOURCES["01"]).rounded
    assert re.search(rf"^lesson 01: core {core} \(.*\), optional {optional} \(", done.output, re.M)
    for route in ROUTES:
        assert f"{route.name}: {minutes_of_route(route, SOURCES)} (lessons 0, 1, " in done.output
    assert "is longer than" not in done.output
    done = CliRunner().invoke(main, ["minutes", "13"])
    assert "lesson 01" not in done.output


def test_the_command_writes_sources_and_table(monkeypatch, tmp_path):
    (tmp_path / "source").mkdir()
    path = tmp_path / "source" / SOURCES["01"].path.name
    path.write_text(SOURCES["01"].path.read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "README.md").write_text(f"| [x]({path.stem}.ipynb) | 1 min | 1 min |\n", encoding="utf-8")
    monkeypatch.setattr("hitlab.course.__main__.source_paths", lambda numbers: [path])
    monkeypatch.setattr("hitlab.course.__main__.lessons_folder", lambda: tmp_path)
    done = CliRunner().invoke(main, ["minutes", "01", "--write"])
    assert done.exception is None, done.exception
    assert done.output.splitlines()[-1] == str(tmp_path / "README.md")
    assert minutes_line(SOURCES["01"]) in path.read_text(encoding="utf-8")
    table = (tmp_path / "README.md").read_text(encoding="utf-8")
    core, optional, sittings = minutes_of(SOURCES["01"]).rounded
    assert f"| {core} min ({' + '.join(map(str, sittings))}) | {optional} min |" in table


# --- the notebook to start from


def test_the_ways_are_three_each_begins_with_words_and_counting_and_every_lesson_is_named_once_in_it():
    assert [route.name for route in ROUTES] == ["The broadcaster", "The coach", "The analyst"]
    known = {lesson.number for lesson in lessons()}
    for route in ROUTES:
        numbers = [number for number, _ in route.steps]
        assert numbers[:2] == ["00", "01"]
        assert len(set(numbers)) == len(numbers) >= 5
        assert set(numbers) <= known
        assert all(5 <= len(why.split()) <= 16 for _, why in route.steps)
    for number in ("12",):  # it leans on lesson 2, says its "What you need"
        steps = [n for route in ROUTES for n, _ in route.steps if number in dict(route.steps)]
        assert steps.index("02") < steps.index(number)


def test_the_notebook_to_start_from_is_what_is_made_and_tells_what_has_to_be_told():
    copy = start_copy(FOLDER)
    assert difference(copy, FOLDER, run=False) == []
    kept = (FOLDER / FIRST).read_text(encoding="utf-8")
    assert kept == without_outputs(kept)
    package("nbformat").validate(copy.notebook)
    text = "\n".join("".join(cell["source"]) for cell in json.loads(kept)["cells"])
    for target in re.findall(r"\]\(([^)]+)\)", text):
        assert (FOLDER / target).is_file()
    for route in ROUTES:
        way = text.split(f"### {route.name}\n")[1].split("\n#")[0]
        for number, why in route.steps:
            parts = minutes_of(SOURCES[number]).rounded[2]
            assert f"]({SOURCES[number].name}.ipynb) | {' + '.join(map(str, parts))} min | {why} |" in way
        hours = float(re.search(r"about ([\d.]+) hours", way)[1])
        assert abs(60 * hours - minutes_of_route(route, SOURCES)) <= 3  # one decimal of an hour
    for word in ("Shift+Enter", "check(", "hint(", "solution(", "progress(", ".hitlab/progress.json"):
        assert word in text
    for word in ("local rules", "licensed medical", "pitching machine", "heat", "staff"):
        assert word in text
    for cell in copy.notebook.cells:
        prose = [line for line in cell["source"].splitlines() if not line.startswith("|")]
        assert len(" ".join(prose).split()) <= MOST_PROSE_WORDS


def test_a_notebook_to_start_from_that_somebody_edited_is_noticed(tmp_path):
    (tmp_path / "notebooks" / "source").mkdir(parents=True)
    copy = start_copy(FOLDER)
    moved = type(copy)(tmp_path / "notebooks" / FIRST, copy.notebook)
    assert difference(moved, tmp_path / "notebooks", run=False) == [f"notebooks/{FIRST} is missing"]
    moved.path.write_text(copy.text().replace("Start here", "Begin here"), encoding="utf-8")
    (found,) = difference(moved, tmp_path / "notebooks", run=False)
    assert "Begin here" in found
