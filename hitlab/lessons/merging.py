"""Brings an older copy of a lesson up to date without touching what its owner wrote.

A copy that is laid out bears a mark: for each cell the fingerprint of its text as it came, and which
exercise it answers. So what its owner changed is told from what the lesson changed. Whatever text the owner
wrote stays: a changed answer in its place; another changed cell in its place where the lesson left that cell
alone, and else below the lesson's new one; a cell of the owner's own behind the cell that it stood behind.
Order and tags of the lesson's own cells are the lesson's. So are the outputs of cells that it ships with
outputs, as solutions do; what its owner's run put out below a cell that the lesson ships without any stays
where that cell's text is the same now, and goes with a text that is gone.
"""

from __future__ import annotations

import hashlib
import itertools
import json
import re
from dataclasses import dataclass
from typing import Any

from hitlab.errors import HitlabError

__all__ = ["CHECK", "Merged", "UnmergeableError", "is_marked", "marked", "merged"]

_MARK = "hitlab_lesson"
CHECK = r'check\(\s*"([^"]+)"'
"""How a cell of code names the exercise that it answers, as a regular expression with one group."""
_ASKS = re.compile(rf'\b(?:{CHECK}|confidence\(\s*"[^"]+",\s*"([^"]+)"|capstone\(\s*(\d+)|(review)\()')
_NAMES = re.compile(r"(\w+) =")  # what a cell of a project fills
_HEADING = re.compile(r"## (.+)")
_MOST_OF_AN_ID = 64  # characters, says the notebook format

Cell = dict[str, Any]


class UnmergeableError(HitlabError):
    """A notebook whose cells cannot be told; the message says why, as the second half of a sentence."""


@dataclass(frozen=True, slots=True)
class Merged:
    """What became of an older copy.

    Attributes
    ----------
    content
        The new notebook; ``None`` where the copy is that of this version already.
    changed, kept
        What the lesson changed, and what of the owner's was kept, in words.
    """

    content: bytes | None
    changed: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()


def marked(lesson: bytes) -> bytes:
    """Return a lesson with its mark, as it is laid out.

    Raises
    ------
    UnmergeableError
        Where it is no notebook whose cells have ids.
    """
    notebook = _read(lesson)
    notebook["metadata"] = {**notebook["metadata"], _MARK: _mark_for(lesson, notebook["cells"])}
    return _written(notebook)


def is_marked(content: bytes) -> bool:
    """Say whether a file is a lesson that was laid out."""
    try:
        return bool(_mark_of(_read(content))["of"])
    except UnmergeableError:
        return False


def merged(copy: bytes, lesson: bytes) -> Merged:
    """Bring a copy up to date.

    Parameters
    ----------
    copy
        The notebook as its owner left it; without a mark, whatever differs from the lesson is the owner's.
    lesson
        The lesson as this version has it.

    Returns
    -------
    Merged
        The new notebook, and what was changed and kept. Outputs of cells whose text is the same in both stay
        the copy's where the lesson ships none (a learner's copy), and are the lesson's where it ships some
        (solutions). Answers and other cells that the owner wrote keep their outputs in any case.

    Raises
    ------
    UnmergeableError
        Where the copy's cells cannot be told: broken JSON, no ids, an id twice, another format.
    """
    old, new = _read(copy), _read(lesson)
    mark, came = _mark_of(old), _mark_for(lesson, new["cells"])
    if mark["of"] == came["of"]:
        return Merged(None)
    places = _places(old["cells"], new["cells"], mark)
    stay: dict[int, Cell] = {}
    behind: dict[int, list[Cell]] = {}
    answers: list[str] = []
    changed_cells = own_cells = 0
    last = -1
    for at, cell in enumerate(old["cells"]):
        was, now = mark["cells"].get(cell["id"]), _fingerprint(cell)
        place = places.get(at)
        if place is None:
            if was != now:
                behind.setdefault(last, []).append(cell)
                # JupyterLab itself adds an empty cell below the last one that is run.
                own_cells += bool(was is None and _text(cell).strip())
                if cell["id"] in mark["asked"]:
                    answers.append(mark["asked"][cell["id"]])
                else:
                    changed_cells += was is not None
            continue
        last = place
        fresh = new["cells"][place]
        if now == _fingerprint(fresh):
            stay[place] = _with_outputs_of(cell, fresh)
            continue
        if now == was:
            continue
        asked = came["asked"].get(fresh["id"])
        if asked is not None:
            answers.append(asked)
        else:
            changed_cells += 1
        if asked is not None or was == _fingerprint(fresh):
            stay[place] = {**cell, "id": fresh["id"]}
        else:
            behind.setdefault(place, []).append(cell)
    taken = {cell["id"] for cell in new["cells"]}
    cells = [_with_free_id(cell, taken) for cell in behind.get(-1, ())]
    for at, fresh in enumerate(new["cells"]):
        cells.append(stay.get(at, fresh))
        cells += [_with_free_id(cell, taken) for cell in behind.get(at, ())]
    notebook = {
        **new,
        "cells": cells,
        "metadata": {**new["metadata"], **old["metadata"], _MARK: came},
        "nbformat_minor": max(old.get("nbformat_minor", 5), new["nbformat_minor"]),
    }
    kept = (
        *([f"your answers to {', '.join(answers)}"] if answers else []),
        *([_many(changed_cells, "cell that you changed", "cells that you changed")] if changed_cells else []),
        *([_many(own_cells, "cell of your own", "cells of your own")] if own_cells else []),
    )
    there = {cell["id"] for cell in old["cells"]} | {new["cells"][at]["id"] for at in places.values()}
    back = len(mark["cells"].keys() & came["cells"].keys() - there)
    order = [places[at] for at in sorted(places)]
    return Merged(_written(notebook), _differences(mark, new["cells"], back, order), kept)


def _places(old: list[Cell], new: list[Cell], mark: dict[str, Any]) -> dict[int, int]:
    """Return which cell of the lesson each cell of the copy was, by their places.

    An answer is told by its exercise; another cell by the text that it came with, then by its id: ids move
    where a section gets one more cell. A cell with an id that did not come with the lesson is its owner's,
    but for an answer that was cut and pasted elsewhere.
    """
    places: dict[int, int] = {}
    free = dict(enumerate(new))
    asking = {_asked(cell): at for at, cell in free.items() if _asked(cell) is not None}

    def put(at: int, place: int | None) -> None:
        if at not in places and place in free:
            places[at] = place
            del free[place]

    came, without_mark = mark["cells"], not mark["cells"]
    for at, cell in enumerate(old):
        put(at, asking.get(mark["asked"].get(cell["id"])))
    for at, cell in enumerate(old):
        if cell["id"] not in came:
            put(at, asking.get(_asked(cell)))
    for place in asking.values():  # what else there is can be no answer
        free.pop(place, None)
    for same_id in (True, False):
        for at, cell in enumerate(old):
            text = came.get(cell["id"])
            found = (p for p, c in free.items() if _fingerprint(c) == text)
            put(at, next((p for p in found if not same_id or free[p]["id"] == cell["id"]), None))
    by_id = {cell["id"]: place for place, cell in free.items()}
    for at, cell in enumerate(old):
        if cell["id"] in came or without_mark:
            put(at, by_id.get(cell["id"]))
    return places


def _differences(mark: dict[str, Any], cells: list[Cell], back: int, order: list[int]) -> tuple[str, ...]:
    """Say what a lesson changed since a copy of it was laid out, and under which headings.

    ``back`` deleted cells are there again; ``order`` are the places of the copy's cells, as they stood in it.
    """
    if not mark["cells"]:
        return ("all that is not yours",)
    then, now = set(mark["cells"].values()), {_fingerprint(cell) for cell in cells}
    new, where, place = [], [], "at the top"
    for cell in cells:
        found = _HEADING.match(_text(cell)) if cell["cell_type"] == "markdown" else None
        place = f'under "{found[1].strip()}"' if found else place
        if _fingerprint(cell) not in then:
            new.append(cell["id"])
            where += [place] if place not in where else []
    gone = [name for name, text in mark["cells"].items() if text not in now]
    both = len(set(new) & set(gone))
    told = (
        (both, "changed"),
        (len(new) - both, "new"),
        (len(gone) - both, "gone"),
        (back, "back that you had deleted"),
    )
    lines = [f"{_many(number, 'cell', 'cells')} {what}" for number, what in told if number]
    lines += ["the order of its cells"] if order != sorted(order) else []
    put_out = any(cell.get("outputs") for cell in cells)
    return (*lines, *where) or ("what its cells put out" if put_out else "nothing that is read",)


def _with_outputs_of(cell: Cell, fresh: Cell) -> Cell:
    """Return a cell of the lesson with what its owner's run put out, where the lesson ships no outputs."""
    if fresh.get("outputs") or not cell.get("outputs") or "outputs" not in fresh:
        return fresh
    return {**fresh, "outputs": cell["outputs"], "execution_count": cell.get("execution_count")}


def _asked(cell: Cell) -> str | None:
    """Return which exercise, or which verdict, a cell answers; ``None`` for one that answers none."""
    if "answer" not in _tags(cell):
        return None
    found = _ASKS.search(_text(cell))
    if found is None:
        named = _NAMES.search(_text(cell))
        return f"{named[1]!r}" if named else None
    if found[2] or found[3]:
        return f"the verdict {found[2]}" if found[2] else f"claim {found[3]}"
    return found[1] or "the questions from before"


def _tags(cell: Cell) -> list[Any]:
    metadata = cell.get("metadata")
    tags = metadata.get("tags") if isinstance(metadata, dict) else None
    return tags if isinstance(tags, list) else []


def _text(cell: Cell) -> str:
    source = cell["source"]
    return source if isinstance(source, str) else "".join(source)


def _fingerprint(cell: Cell) -> str:
    told = f"{cell['cell_type']}\n{_text(cell).rstrip()}"
    return hashlib.sha256(told.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def _mark_for(lesson: bytes, cells: list[Cell]) -> dict[str, Any]:
    return {
        "of": hashlib.sha256(lesson).hexdigest(),
        "cells": {cell["id"]: _fingerprint(cell) for cell in cells},
        "asked": {cell["id"]: asked for cell in cells if (asked := _asked(cell)) is not None},
    }


def _mark_of(notebook: dict[str, Any]) -> dict[str, Any]:
    """Return the mark of a copy; an empty one where there is none, or somebody edited it."""
    mark = notebook["metadata"].get(_MARK)
    whole = isinstance(mark, dict) and isinstance(mark.get("of"), str)
    parts = [mark.get(part) for part in ("cells", "asked")] if whole else []
    if not parts or not all(
        isinstance(part, dict) and all(isinstance(text, str) for text in part.values()) for part in parts
    ):
        return {"of": "", "cells": {}, "asked": {}}
    return dict(mark)


def _read(content: bytes) -> dict[str, Any]:
    if not content.strip():
        raise UnmergeableError("it is empty")
    try:
        notebook = json.loads(content.decode("utf-8-sig"))
    except json.JSONDecodeError as error:
        raise UnmergeableError(f"it is no notebook that can be read (line {error.lineno})") from None
    except (ValueError, RecursionError):
        raise UnmergeableError("it is no notebook that can be read") from None
    cells = notebook.get("cells") if isinstance(notebook, dict) else None
    if not isinstance(cells, list) or not isinstance(notebook.get("metadata"), dict):
        raise UnmergeableError("it is no notebook of the format that JupyterLab writes")
    if notebook.get("nbformat") != 4 or not isinstance(notebook.get("nbformat_minor", 5), int):
        raise UnmergeableError("it is a notebook of another format than 4")
    if not all(_is_cell(cell) for cell in cells):
        raise UnmergeableError("one of its cells is none that JupyterLab writes")
    ids = [cell.get("id") for cell in cells]
    if not all(isinstance(one, str) and one for one in ids):
        raise UnmergeableError("its cells have no ids, so that nobody can tell which is which")
    if len(set(ids)) < len(ids):
        raise UnmergeableError("two of its cells have one id, so that nobody can tell which is which")
    return dict(notebook)


def _is_cell(cell: Any) -> bool:
    if not isinstance(cell, dict) or not isinstance(cell.get("cell_type"), str):
        return False
    source = cell.get("source")
    lines = source if isinstance(source, list) else [source]
    return all(isinstance(line, str) for line in lines)


def _with_free_id(cell: Cell, taken: set[str]) -> Cell:
    names = (f"{cell['id'][: _MOST_OF_AN_ID - 10]}-own-{number}" for number in itertools.count(1))
    name = next(one for one in itertools.chain([cell["id"]], names) if one not in taken)
    taken.add(name)
    return {**cell, "id": name}


def _written(notebook: dict[str, Any]) -> bytes:
    text = json.dumps(notebook, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
    # Half a surrogate, which JSON can spell and UTF-8 cannot, is spelled as before.
    return text.encode("utf-8", "backslashreplace")


def _many(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
