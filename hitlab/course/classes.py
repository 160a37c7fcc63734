"""Gathers the progress files of a class into one table, without names unless they are given."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pandas as pd

from hitlab.course.sources import CourseError
from hitlab.exercises.definitions import Exercise
from hitlab.exercises.forecasts import VERDICTS
from hitlab.exercises.keeping import VERSION, parsed, whole
from hitlab.exercises.library import lessons
from hitlab.exercises.notices import COMPARE, NOT_YET, RIGHT
from hitlab.results import Listing, Note
from hitlab.showing import quoted, shown
from hitlab.writing import AnyPath

__all__ = ["COLUMNS", "ClassProgress", "gather"]

COLUMNS: dict[str, str] = {
    "learner": "learner-1, learner-2, ... in the order of the files' names; the name where names are given",
    "lesson": "its number",
    "exercise": "its id",
    "kind": "what is asked; blank for an exercise that this version does not have",
    "core": "whether it is core; blank as above",
    "first_try": "right, wrong, or compare (see below); blank where none was made, or more than one before "
    "first tries were kept",
    "tries": "how often it was tried, up to the first right answer",
    "compared": "how often a sentence had all its points, and words that its list does not know: neither "
    "right nor wrong, and to be read by you",
    "right": "whether it came out right in the end",
    "first_mistake": "the named mistake of a wrong first try",
    "mistakes": "the named mistakes of all wrong tries, with how often each was made",
    "unnamed_wrong_tries": "wrong tries whose mistake nobody named",
    "hints": "how many of the two hints were read",
    "solution_seen": "whether the solution was asked for",
    "first_try_at_utc": "when it was first tried",
    "minutes_first_to_last_try": "from then to the last try",
    "verdict_before": "the verdict on the lesson's claim before any data",
    "sure_before": "how sure, from 1/3 to 1",
    "verdict_after": "the verdict after the lesson",
    "sure_after": "how sure",
}
"""The columns of the table, and what stands in each."""

_STATES: dict[str, str] = {RIGHT: "right", NOT_YET: "wrong", COMPARE: "compare"}
_MOST_OF_A_PATH = 200  # characters of it in a message


@dataclass(frozen=True, slots=True)
class ClassProgress(Listing):
    """A class's progress: one row a learner and exercise.

    Attributes
    ----------
    data
        With the columns of :data:`COLUMNS`.
    learners
        How many there are.
    left_out
        A sentence for each file that could not be read.
    notes
        What else there is to know.
    """

    data: pd.DataFrame
    learners: int
    left_out: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """How much was gathered."""
        tried = int((self.data["tries"] > 0).sum())
        who = "1 learner" if self.learners == 1 else f"{self.learners:,} learners"
        return (
            f"Progress of {who}: {tried:,} exercises tried, {int(self.data['right'].sum()):,} of them right"
        )

    def contents(self) -> list[str | Note]:
        """Return the title, what was left out and the notes; the table is for a file."""
        return [
            self.title,
            *(Note(text, "left out") for text in self.left_out),
            *(Note(text) for text in self.notes),
        ]


@dataclass(slots=True)
class _File:
    path: Path
    learner: str
    named: bool = False
    found: dict[str, Any] = field(default_factory=dict)


def gather(paths: Sequence[AnyPath], names: AnyPath | None = None) -> ClassProgress:
    """Gather the progress of a class.

    Parameters
    ----------
    paths
        Progress files, and folders in which every ``.json`` file is one.
    names
        A table (``.csv``) with the columns ``file`` and ``name``. A file is told by its name, or, where
        several have one name, by the end of its path, such as ``ada/progress.json``.

    Returns
    -------
    ClassProgress
        Every learner with every exercise of the course, tried or not, and with those that only the file
        knows. A file that cannot be read keeps its number and is said.

    Raises
    ------
    CourseError
        Where there is no file, none can be read, or the names cannot be.
    """
    files = [_File(path, f"learner-{number}") for number, path in enumerate(_files_of(paths), 1)]
    notes = _name(files, Path(names)) if names is not None else []
    left_out = []
    for file in files:
        try:
            file.found = _read(file.path)
        except CourseError as error:
            left_out.append(f"{file.learner}: {shown(file.path, _MOST_OF_A_PATH)} {error}")
            continue
        if file.found.get("version") != VERSION:
            notes.append(f"{file.learner}: written by another version of hitlab; what this one knows is read")
    read = [file for file in files if file.found]
    if not read:
        raise CourseError(f"none of the {len(files)} file(s) is a progress file: {'; '.join(left_out)}")
    known = {exercise.id: exercise for lesson in lessons() for exercise in lesson.exercises}
    rows = [row for file in read for row in _rows(file, known)]
    table = pd.DataFrame(rows, columns=list(COLUMNS)).astype(
        {
            "core": "boolean",
            "unnamed_wrong_tries": "Int64",
            "minutes_first_to_last_try": "Float64",
            "sure_before": "Float64",
            "sure_after": "Float64",
        }
    )
    for learner, older in table[(table["tries"] > 0) & table["first_try"].isna()].groupby("learner"):
        notes.append(
            f"{learner}: of {len(older)} exercise(s) the first try is not known; they were tried more than "
            "once before first tries and mistakes were kept"
        )
    return ClassProgress(table, len(read), tuple(left_out), tuple(notes))


def _files_of(paths: Sequence[AnyPath]) -> list[Path]:
    """Return the files, each once, in the order of their names, which the order of typing does not change."""
    found: dict[Path, Path] = {}
    for one in map(Path, paths):
        if one.is_dir():
            inside = sorted(path for path in one.rglob("*.json") if path.is_file())
            if not inside:
                raise CourseError(f"there is no .json file in {shown(one, _MOST_OF_A_PATH)}")
        elif one.exists():
            inside = [one]
        else:
            raise CourseError(f"there is no {shown(one, _MOST_OF_A_PATH)}; name progress files or folders")
        for path in inside:
            found.setdefault(path.resolve(), path)
    order = sorted(found, key=lambda path: (path.name.casefold(), path.as_posix()))
    return [found[path] for path in order]


def _name(files: list[_File], names: Path) -> list[str]:
    """Give files the names of their learners; return what the names leave open."""
    where, absent = shown(names, _MOST_OF_A_PATH), 0
    for file, name in _named(names):
        wanted = Path(file).parts
        here = [one for one in files if one.path.resolve().parts[-len(wanted) :] == wanted]
        if len(here) > 1:
            raise CourseError(
                f"{where}: {quoted(file)} is the end of {len(here)} paths; write more "
                f"of it, as in {quoted('/'.join(here[0].path.resolve().parts[-len(wanted) - 1 :]))}"
            )
        for one in here:
            if one.named and one.learner != name:
                both = f"{quoted(one.learner)} and {quoted(name)}"
                raise CourseError(f"{where}: {quoted(file)} has two names, {both}; keep one")
            one.learner, one.named = name, True
        absent += not here
    learners = [one.learner for one in files]
    twice = sorted({name for name in learners if learners.count(name) > 1})
    if twice:
        raise CourseError(f"{where}: {quoted(twice[0])} would be two learners; tell them apart")
    nameless = sum(not one.named for one in files)
    return [
        *([f"{nameless} file(s) have no name in {where}"] if nameless else []),
        *([f"{absent} name(s) in {where} are of files that were not given"] if absent else []),
    ]


def _named(names: Path) -> list[tuple[str, str]]:
    where = shown(names, _MOST_OF_A_PATH)
    try:
        text = names.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise CourseError(f"{where} cannot be read ({error.strerror})") from error
    except UnicodeDecodeError:
        raise CourseError(f"{where} is no text in UTF-8; save it as .csv in UTF-8") from None
    separator = ";" if ";" in text.partition("\n")[0] else ","
    try:
        reader = csv.DictReader(io.StringIO(text), delimiter=separator, strict=True)
        rows = [(reader.line_num, row) for row in reader]
    except csv.Error as error:
        raise CourseError(f"{where} is no table that can be read: {error}") from error
    if not rows or not {"file", "name"} <= rows[0][1].keys():
        raise CourseError(f"{where}: the first line names the columns file and name, and rows follow")
    pairs = []
    for line, row in rows:
        file, name = ((row[column] or "").strip() for column in ("file", "name"))
        if bool(file) != bool(name):
            raise CourseError(f"{where}, line {line}: a file and a name are wanted, and one of them is blank")
        if file:
            pairs.append((file, name))
    return pairs


def _read(path: Path) -> dict[str, Any]:
    """Return what a file holds, or raise with the second half of a sentence."""
    try:
        content = path.read_bytes()
    except OSError as error:
        raise CourseError(f"cannot be read ({error.strerror})") from error
    if not content.strip():
        raise CourseError("is empty")
    try:
        return parsed(content)
    except (ValueError, RecursionError):
        raise CourseError("is no progress file") from None


def _rows(file: _File, known: dict[str, Exercise]) -> list[dict[str, Any]]:
    kept = file.found["exercises"]
    rows = []
    for name in (*known, *sorted(kept.keys() - known.keys())):
        entry, exercise = kept.get(name, {}), known.get(name)
        number = name.partition(".")[0]
        rows.append(
            {
                "learner": file.learner,
                "lesson": number,
                "exercise": name,
                "kind": exercise.kind if exercise else None,
                "core": exercise.core if exercise else None,
                **_tries(entry),
                **_confidence(file.found["confidence"].get(number, {})),
            }
        )
    return rows


def _tries(entry: dict[str, Any]) -> dict[str, Any]:
    """Return what one entry tells; what is not kept, or was edited into something else, is blank."""
    tries, right = _count(entry.get("tries")), entry.get("state") == RIGHT
    first = _STATES.get(_text(entry.get("first_state")))
    if first is None and tries == 1:  # an older file: the only try was the first
        first = _STATES.get(_text(entry.get("state")))
    compared = _count(entry.get("compared"))
    began, ended = _time(entry.get("first_try")), _time(entry.get("last_try"))
    kept = entry.get("mistakes")
    kept = kept if isinstance(kept, dict) else {}
    mistakes = {name: times for name, one in kept.items() if (times := _count(one))}
    # Where first tries were not kept yet, neither were mistakes, and none named does not mean none made.
    counted = tries > 0 and "first_state" in entry
    return {
        "first_try": first,
        "tries": tries,
        "compared": compared,
        "right": right,
        "first_mistake": _text(entry.get("first_mistake")) or None,
        "mistakes": "\n".join(f"{name} ({times})" for name, times in sorted(mistakes.items())) or None,
        "unnamed_wrong_tries": max(tries - right - compared - sum(mistakes.values()), 0) if counted else None,
        "hints": min(_count(entry.get("hints")), 2),
        "solution_seen": entry.get("solution_seen") is True,
        "first_try_at_utc": None if began is None else began.strftime("%Y-%m-%d %H:%M:%S"),
        "minutes_first_to_last_try": _minutes(began, ended),
    }


def _minutes(began: datetime | None, ended: datetime | None) -> float | None:
    if began is None or ended is None or ended < began:  # the clock was set back
        return None
    return round((ended - began).total_seconds() / 60, 1)


def _time(value: Any) -> datetime | None:
    try:
        time = datetime.fromisoformat(_text(value))
        return None if time.tzinfo is None else time.astimezone(UTC)
    except (ValueError, OverflowError):
        return None


def _count(value: Any) -> int:
    """Return a count; one that nobody can reach was edited in, and counts as 0."""
    count = whole(value)
    return count if count < 1_000_000 else 0


def _confidence(entry: dict[str, Any]) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for when in ("before", "after"):
        pair = entry.get(when)
        word, sure = pair if isinstance(pair, list) and len(pair) == 2 else (None, None)
        number = isinstance(sure, int | float) and not isinstance(sure, bool) and 0 <= sure <= 1
        if not number or word not in VERDICTS:
            word = sure = None
        out |= {f"verdict_{when}": word, f"sure_{when}": sure}
    return out


def _text(value: Any) -> str:
    return value if isinstance(value, str) else ""
