"""The projects and the capstone run as learner and teacher get them, with all that they assert."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hitlab.course.frame import MOST_PROSE_WORDS
from hitlab.exercises import keeping

FOLDER = Path(__file__).parent.parent / "notebooks" / "source" / "projects"
PATHS = sorted(FOLDER.glob("*.py"))
LEFT_OUT = {"learner": {"solution", "asserted"}, "solutions": {"answer"}}


def cells_of(path):
    """Give the kind, tags and text of each cell."""
    for cell in re.split(r"^# %%", path.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        head, _, text = cell.partition("\n")
        yield "[markdown]" in head, set(re.findall(r'"(\w+)"', head)), text


def test_there_are_two_projects_and_a_capstone():
    assert [path.stem for path in PATHS] == [
        "capstone",
        "project_1_spoiled_sheet",
        "project_2_claim_of_the_week",
    ]


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_tags_are_known_and_the_learner_gets_no_marks(path):
    cells = list(cells_of(path))
    assert {tag for _, tags, _ in cells for tag in tags} == {"answer", "solution", "asserted"}
    for is_prose, tags, text in cells:
        assert len(tags) <= 1
        if is_prose and not tags:
            assert "of 12.**" not in text
            assert len(re.findall(r"[\w']+", text)) <= MOST_PROSE_WORDS


@pytest.mark.parametrize(
    "path", [path for path in PATHS if "project" in path.stem], ids=lambda path: path.stem
)
def test_a_project_has_a_rubric_and_two_marked_submissions(path):
    shared = "\n".join(text for _, tags, text in cells_of(path) if not tags)
    criteria = re.findall(r"^# \| \*\*[^*]+\*\*[^|]*\|([^|]+\|){4}$", shared, flags=re.MULTILINE)
    assert len(criteria) == 4
    assert shared.index("The rubric") > shared.index("Step 4")
    marks = "\n".join(text for _, tags, text in cells_of(path) if "solution" in tags)
    sums = re.findall(r"\*\*Marks: (\d) \+ (\d) \+ (\d) \+ (\d) = (\d+) of 12\.\*\*", marks)
    totals = [int(one[-1]) for one in sums]
    assert [sum(map(int, one[:-1])) for one in sums] == totals
    assert totals[0] < 6
    assert totals[1] >= 10
    given = re.findall(r"^# - \*[\w ,]+?, (\d):\*", marks, flags=re.MULTILINE)
    assert given == [mark for one in sums for mark in one[:-1]]


@pytest.mark.slow
@pytest.mark.parametrize("copy", list(LEFT_OUT))
@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_it_runs_from_top_to_bottom(path, copy, monkeypatch, capsys):
    monkeypatch.setenv("HITLAB_PROGRESS", "off")
    keeping._memory.clear()
    code = [text for is_prose, tags, text in cells_of(path) if not is_prose and not tags & LEFT_OUT[copy]]
    namespace: dict[str, object] = {"__name__": "__main__"}
    for text in code:
        exec(compile(text, path.name, "exec"), namespace)
    assert capsys.readouterr().out
