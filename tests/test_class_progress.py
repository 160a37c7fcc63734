"""A class's progress files become one table: without names unless given, whatever the files hold."""

from __future__ import annotations

import json

import pandas as pd
import pytest
from click.testing import CliRunner

from hitlab.course.__main__ import main
from hitlab.course.classes import COLUMNS, gather
from hitlab.course.sources import CourseError
from hitlab.exercises import check, confidence, hint, keeping, solution
from hitlab.exercises.library import find_exercise, lessons
from tests.needs import package
from tests.right_answers import right_answer

FIRST, SECOND = (find_exercise(f"01.{name}") for name in ("both-lists", "count-the-swings"))
ALL = sum(len(lesson.exercises) for lesson in lessons())


@pytest.fixture
def class_of(tmp_path, monkeypatch):
    """Make a progress file as a learner at the lessons does, by name."""
    keeping._memory.clear()

    def make(name, *doings):
        path = tmp_path / "class" / name
        monkeypatch.setenv("HITLAB_PROGRESS", str(path))
        for do in doings:
            do()
        return path

    return make


def right(exercise):
    return lambda: check(exercise.id, right_answer(exercise.form))


def wrong(exercise, which=0):
    return lambda: check(exercise.id, exercise.wrong[which].answer())


def written(path, **exercises):
    path.parent.mkdir(parents=True, exist_ok=True)
    known = {name.replace("_", ".", 1).replace("_", "-"): entry for name, entry in exercises.items()}
    path.write_text(json.dumps({"version": 1, "exercises": known, "confidence": {}}), encoding="utf-8")
    return path


def row(table, learner, exercise):
    (found,) = table[(table["learner"] == learner) & (table["exercise"] == exercise)].to_dict("records")
    return found


def test_a_sentence_that_was_compared_is_neither_right_nor_a_mistake(class_of):
    said = "Sorry, kid: 45 is for the moon; in air a ball hit this hard goes farthest at about 30 degrees."
    once = class_of("ada.json", lambda: check("07.for-air", said))
    table = gather([once, class_of("ben.json", *[lambda: check("07.for-air", said)] * 3)]).table()
    for learner, tries in (("learner-1", 1), ("learner-2", 2)):
        found = row(table, learner, "07.for-air")
        assert (found["first_try"], found["tries"], found["compared"]) == ("compare", tries, tries)
        assert (found["right"], found["unnamed_wrong_tries"]) == (False, 0)
        assert pd.isna(found["first_mistake"])
        assert pd.isna(found["mistakes"])


def test_one_row_a_learner_and_exercise(class_of):
    ada = class_of(
        "ada.json",
        lambda: confidence("01", "before", "holds", 0.9),
        wrong(FIRST),
        wrong(FIRST, 1),
        wrong(FIRST),
        lambda: check(FIRST.id, "a lot"),
        lambda: hint(FIRST.id),
        lambda: solution(FIRST.id),
        right(FIRST),
        right(SECOND),
        lambda: confidence("01", "after", "does not hold", 0.8),
    )
    ben = class_of("ben.json", wrong(SECOND, 2))
    table = gather([ben, ada]).table()
    assert list(table.columns) == list(COLUMNS)
    assert len(table) == 2 * ALL
    assert not table.duplicated(["learner", "exercise"]).any()
    assert "ada" not in table.to_csv().lower().replace("nadia", "")
    one, two = (exercise.wrong[n].mistake for exercise, n in ((FIRST, 0), (FIRST, 1)))
    found = row(table, "learner-1", FIRST.id)
    assert found | {"first_try_at_utc": ""} == {
        "learner": "learner-1",
        "lesson": "01",
        "exercise": FIRST.id,
        "kind": FIRST.kind,
        "core": True,
        "first_try": "wrong",
        "tries": 5,
        "compared": 0,
        "right": True,
        "first_mistake": one,
        "mistakes": "\n".join(sorted([f"{one} (2)", f"{two} (1)"])),
        "unnamed_wrong_tries": 1,
        "hints": 1,
        "solution_seen": True,
        "first_try_at_utc": "",
        "minutes_first_to_last_try": pytest.approx(0, abs=0.5),
        "verdict_before": "holds",
        "sure_before": 0.9,
        "verdict_after": "does not hold",
        "sure_after": 0.8,
    }
    assert pd.Timestamp(found["first_try_at_utc"]).year >= 2024
    at_once = row(table, "learner-1", SECOND.id)
    assert (at_once["first_try"], at_once["tries"], at_once["right"]) == ("right", 1, True)
    assert pd.isna(at_once["mistakes"])
    not_yet = row(table, "learner-2", SECOND.id)
    assert (not_yet["first_try"], not_yet["right"]) == ("wrong", False)
    assert not_yet["first_mistake"] == SECOND.wrong[2].mistake
    assert pd.isna(not_yet["verdict_before"])
    untouched = row(table, "learner-2", "12.it-is-proven")
    assert (untouched["tries"], untouched["right"]) == (0, False)
    assert pd.isna(untouched["first_try"])


def test_times_are_told_in_minutes(tmp_path):
    entry = {"state": "right", "tries": 2, "first_state": "not yet"}
    times = {"first_try": "2031-05-01T10:00:00+00:00", "last_try": "2031-05-01T12:07:30+02:00"}
    table = gather([written(tmp_path / "a.json", **{"01_both_lists": {**entry, **times}})]).table()
    found = row(table, "learner-1", FIRST.id)
    assert found["first_try_at_utc"] == "2031-05-01 10:00:00"
    assert found["minutes_first_to_last_try"] == 7.5
    back = {**times, "last_try": "2031-05-01T09:00:00+00:00"}  # the clock was set back
    table = gather([written(tmp_path / "a.json", **{"01_both_lists": {**entry, **back}})]).table()
    assert pd.isna(row(table, "learner-1", FIRST.id)["minutes_first_to_last_try"])


def test_an_older_file_is_read_and_what_it_did_not_keep_is_blank_and_said(tmp_path):
    path = written(
        tmp_path / "old.json",
        **{
            "01_both_lists": {"state": "right", "tries": 1},
            "01_count_the_swings": {"state": "right", "tries": 3, "hints": 2},
            "01_gone_now": {"state": "not yet", "tries": 1},
        },
    )
    gathered = gather([path])
    table = gathered.table()
    assert row(table, "learner-1", FIRST.id)["first_try"] == "right"  # the only try was the first
    found = row(table, "learner-1", SECOND.id)
    assert (found["tries"], found["right"], found["hints"]) == (3, True, 2)
    for name in ("first_try", "mistakes", "unnamed_wrong_tries", "minutes_first_to_last_try"):
        assert pd.isna(found[name]), name
    gone = row(table, "learner-1", "01.gone-now")
    assert pd.isna(gone["kind"])
    assert gone["first_try"] == "wrong"
    assert len(table) == ALL + 1
    assert any("learner-1: of 1 exercise(s) the first try is not known" in note for note in gathered.notes)


def test_broken_and_empty_files_are_said_and_the_others_keep_their_numbers(tmp_path, class_of):
    class_of("d.json", right(FIRST))
    folder = tmp_path / "class"
    (folder / "a.json").write_text("", encoding="utf-8")
    (folder / "b.json").write_text('{"exercises": {"01', encoding="utf-8")
    (folder / "c.json").write_bytes(b"\xff\xfe\x00")
    (folder / "e.json").write_text("[" * 100_000, encoding="utf-8")
    (folder / "f.json").write_text('{"version": 9, "exercises": {}, "confidence": {}}', encoding="utf-8")
    (folder / "notes.txt").write_text("no progress", encoding="utf-8")
    gathered = gather([folder])
    assert set(gathered.data["learner"]) == {"learner-4", "learner-6"}
    assert row(gathered.data, "learner-4", FIRST.id)["right"]
    assert [line.split("/")[-1] for line in gathered.left_out] == [
        "a.json is empty",
        *(f"{name}.json is no progress file" for name in "bce"),
    ]
    assert [line.partition(":")[0] for line in gathered.left_out] == [f"learner-{n}" for n in (1, 2, 3, 5)]
    assert any("learner-6: written by another version" in note for note in gathered.notes)
    assert "left out: learner-1" in str(gathered)


def test_edited_values_do_no_harm(tmp_path):
    entry = {
        "state": ["right"],
        "tries": 10**400,
        "hints": -3,
        "first_state": {},
        "first_mistake": 7,
        "first_try": "0001-01-01T00:00:00+23:59",
        "last_try": "yesterday",
        "mistakes": {"=cmd()": 2, "x": "many"},
        "solution_seen": "yes",
    }
    path = written(tmp_path / "odd.json", **{"01_both_lists": entry})
    known = json.loads(path.read_text(encoding="utf-8"))
    known["confidence"] = {"01": {"before": ["holds", 7], "after": ["perhaps", 0.5]}, "02": {"before": 3}}
    path.write_text(json.dumps(known), encoding="utf-8")
    found = row(gather([path]).table(), "learner-1", FIRST.id)
    assert (found["tries"], found["right"], found["hints"], found["solution_seen"]) == (0, False, 0, False)
    for name in ("first_try", "first_mistake", "first_try_at_utc", "sure_before", "verdict_after"):
        assert pd.isna(found[name]), name


def test_numbers_do_not_depend_on_the_order_of_typing_and_no_file_counts_twice(class_of, tmp_path):
    ada, ben = class_of("ada.json", right(FIRST)), class_of("Ben.json", wrong(FIRST))
    expected = gather([tmp_path / "class"]).table()
    for paths in ([ada, ben], [ben, ada], [ben, tmp_path / "class", ada]):
        pd.testing.assert_frame_equal(gather(paths).table(), expected)
    assert row(expected, "learner-1", FIRST.id)["right"]


# --- names


def test_names_are_there_only_where_given(class_of, tmp_path):
    for name in ("a", "b"):
        class_of(f"{name}/progress.json", right(FIRST))
    class_of("c.json", right(FIRST))
    names = tmp_path / "names.csv"
    names.write_text("\ufefffile;name\na/progress.json;Ada\n\nc.json; Cy \nz.json;Zoe\n", encoding="utf-8")
    gathered = gather([tmp_path / "class"], names)
    assert list(dict.fromkeys(gathered.data["learner"])) == ["Cy", "Ada", "learner-3"]
    assert any(note.startswith("1 file(s) have no name") for note in gathered.notes)
    assert any(note.startswith("1 name(s)") for note in gathered.notes)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "the first line names the columns file and name"),
        ("who,what\na,b\n", "the first line names the columns file and name"),
        ("file,name\n", "rows follow"),
        ("file,name\nc.json\n", "line 2: a file and a name are wanted"),
        ("file,name\nprogress.json,Ada\n", "end of 2 paths; write more of it, as in 'a/progress.json'"),
        ("file,name\na/progress.json,Cy\nc.json,Cy\n", "'Cy' would be two learners"),
        ("file,name\nc.json,learner-2\n", "'learner-2' would be two learners"),
        ('file,name\nc.json,"Cy\n', "no table that can be read"),
        (b"file,name\nc.json,\xff\n", "save it as .csv in UTF-8"),
        (None, "cannot be read"),
    ],
)
def test_names_that_cannot_be_used_are_said(class_of, tmp_path, text, why):
    for name in ("a/progress.json", "b/progress.json", "c.json"):
        class_of(name, right(FIRST))
    names = tmp_path / "names.csv"
    if text is not None:
        names.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(CourseError, match=r"names\.csv") as caught:
        gather([tmp_path / "class"], names)
    assert why in str(caught.value)


# --- the command


@pytest.mark.parametrize("ending", [".csv", ".xlsx", ".parquet"])
def test_the_table_is_saved_by_its_ending(class_of, tmp_path, ending):
    if ending == ".xlsx":
        package("xlsxwriter")
        package("openpyxl")
    class_of("ada.json", wrong(FIRST), right(FIRST))
    class_of("ben.json", right(SECOND))
    (tmp_path / "class" / "cy.json").write_text("{", encoding="utf-8")
    path = tmp_path / f"class{ending}"
    done = CliRunner().invoke(main, ["export", str(tmp_path / "class"), "--to", str(path)])
    assert done.exit_code == 3, done.output
    assert "Progress of 2 learners: 2 exercises tried, 2 of them right" in done.output
    assert "left out: learner-3" in done.output
    assert "cy.json is no progress file" in done.output
    readers = {
        ".csv": pd.read_csv,
        ".xlsx": lambda path: pd.read_excel(path, engine="openpyxl"),
        ".parquet": pd.read_parquet,
    }
    read = readers[ending](path)
    assert list(read.columns) == list(COLUMNS)
    assert len(read) == 2 * ALL
    found = row(read, "learner-1", FIRST.id)
    assert (found["first_try"], found["tries"], bool(found["right"])) == ("wrong", 2, True)


def test_the_command_says_what_is_wrong_and_loses_nothing(class_of, tmp_path):
    path = class_of("ada.json", right(FIRST))
    before = path.read_bytes()
    empty = tmp_path / "empty"
    empty.mkdir()
    (tmp_path / "class.csv").write_text("older", encoding="utf-8")
    (empty.parent / "broken.json").write_text("{", encoding="utf-8")

    def refused(*arguments):
        return str(CliRunner().invoke(main, ["export", *map(str, arguments)]).exception)

    to = ("--to", tmp_path / "class.csv")
    assert "end the name with .csv" in refused(path, "--to", path)
    assert "end the name with .csv" in refused(path, "--to", tmp_path / "class.txt")
    assert "no .json file in" in refused(empty, *to)
    assert "name progress files or folders" in refused(tmp_path / "none.json", *to)
    assert "none of the 1 file(s) is a progress file" in refused(tmp_path / "broken.json", *to)
    assert "there is no folder" in refused(path, "--to", tmp_path / "none" / "class.csv")
    table = path.rename(path.with_suffix(".csv"))
    assert "it is the file that is read" in refused(table, "--to", table)
    assert table.read_bytes() == before
    assert (tmp_path / "class.csv").read_text(encoding="utf-8") == "older"
    done = CliRunner().invoke(main, ["export", str(table), *map(str, to)])
    assert (done.exit_code, done.output.splitlines()[-1]) == (0, f"saved as {tmp_path / 'class.csv'}")
    assert "handouts" in CliRunner().invoke(main, ["--help"]).output
