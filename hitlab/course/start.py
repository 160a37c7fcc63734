"""The notebook to start from: three ways through the lessons, and how a lesson is worked. It is no lesson."""

from __future__ import annotations

from pathlib import Path

from hitlab.course.building import Copy, new_notebook
from hitlab.course.minutes import minutes_of
from hitlab.course.routes import ROUTES, Route
from hitlab.course.sources import Source, read_source, source_paths
from hitlab.exercises.library import find_lesson
from hitlab.lessons.copies import FIRST
from hitlab.optional import load

__all__ = ["minutes_of_route", "start_copy"]

_HEAD = """# Start here

Fourteen lessons on what can be said of a hitter, from every swing. You need no baseball, no statistics and no
programming for the first. Choose your way below, or take them in the order of their numbers."""
_WAYS = """## Three ways through

Minutes are those of the core; what is optional comes on top. A sum stands for two sittings."""
_CELL = """## Try a cell

A lesson is made of cells. Click into the grey one below, then press Shift+Enter: the cell runs, what it puts
out stands below it, and the next cell is chosen. Run every lesson from top to bottom that way. If something
looks odd, choose *Run*, then *Restart Kernel and Run All Cells...*: what you wrote stays."""
_TRY = """from hitlab.exercises import progress
from hitlab.wording import percent

hard, swings = 9, 50
print(f"{hard} hard-hit balls in {swings} swings are {percent(hard / swings)}")"""
_EXERCISES = """## Exercises

Put your answer in place of the dots and run the cell.

- `check("01.both-lists", answer)` marks it. Try as often as you like; a wrong answer hears what is behind it.
- `hint("01.both-lists")`, typed into the cell, helps in two steps.
- `solution("01.both-lists")` tells the answer and the way to it.
- `progress()` says what is done and what comes next; `progress("01")` does so for one lesson.

A word that you have forgotten stands in [the glossary](glossary.html), with the lesson that explains it."""
_KEPT = """**Where progress is kept.** In one small file, `.hitlab/progress.json` in your home folder, on this
machine alone. The environment variable `HITLAB_PROGRESS` names another file; with `off` nothing is kept on
disk. What you write into the cells is in the notebooks: save them as you go (Ctrl+S)."""
_SAFETY = """## Before anybody swings

The lessons need no field. If you try something out with live swings, thrown pitches or a pitching machine,
local rules come first, with the helmets, the nets and the marks on bats and balls that they ask for. The
facility's staff decide about machines and cages. In the heat: water, shade and breaks. Pain, a blow or
dizziness end the session, and licensed medical or athletic-training staff decide what follows."""


def start_copy(folder: Path) -> Copy:
    """Return the notebook, not yet run: it bears no outputs, as a learner's copy."""
    v4 = load("nbformat.v4", "lesson builds", "lessons")
    sources = {source.number: source for source in map(read_source, source_paths((), folder))}
    prose, code = v4.new_markdown_cell, v4.new_code_cell
    cells = [
        prose(_HEAD, id="start"),
        prose(_WAYS, id="ways"),
        *(prose(_way(route, sources), id=f"way-{at}") for at, route in enumerate(ROUTES, 1)),
        prose(_CELL, id="cell"),
        code(_TRY, id="cell-try"),
        prose(_EXERCISES, id="exercises"),
        code("progress()", id="exercises-progress"),
        prose(_KEPT, id="exercises-kept"),
        prose(_SAFETY, id="safety"),
    ]
    return Copy(folder / FIRST, new_notebook(cells), keeps_outputs=False)


def minutes_of_route(route: Route, sources: dict[str, Source]) -> int:
    """Return the minutes of a way's lessons, their cores as they are told, added up."""
    return sum(minutes_of(sources[number]).rounded[0] for number, _ in route.steps)


def _way(route: Route, sources: dict[str, Source]) -> str:
    rows = []
    for number, why in route.steps:
        source = sources[number]
        sittings = minutes_of(source).rounded[2]
        told = " + ".join(str(part) for part in sittings)
        link = f"[{int(number)}. {find_lesson(number).title}]({source.name}.ipynb)"
        rows.append(f"| {link} | {told} min | {why} |")
    hours = f"{minutes_of_route(route, sources) / 60:.1f}".removesuffix(".0")
    return "\n".join(
        [
            f"### {route.name}",
            "",
            f"{route.name} {route.wants}: {len(rows)} lessons, about {hours} hours.",
            "",
            "| lesson | core | why |",
            "|---|---|---|",
            *rows,
        ]
    )
