"""The commands for teachers: slides, plans, tests, marking guide, and all of it in one folder."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import click

from hitlab.course.forms import write_forms
from hitlab.course.plans import write_plans
from hitlab.course.slides import write_slides
from hitlab.course.teaching import write_guide, write_teacher

__all__ = ["COMMANDS"]


def _to(default: str) -> click.Option:
    return click.Option(
        ["--to", "folder"], type=click.Path(path_type=Path), default=Path(default), show_default=True,
        help="The folder to write into.",
    )  # fmt: skip


_NUMBERS = click.Argument(["numbers"], nargs=-1)


def _say(paths: Iterable[Path]) -> None:
    for path in paths:
        click.echo(f"{path}")


COMMANDS = (
    click.Command(
        "slides", params=[_NUMBERS, _to("slides")],
        callback=lambda numbers, folder: _say(write_slides(numbers, folder)),
        help="Write ten slides a lesson, one PDF each; all lessons, or those of the numbers.",
    ),
    click.Command(
        "plans", params=[_NUMBERS, _to("plans")],
        callback=lambda numbers, folder: _say(write_plans(numbers, folder)),
        help="Write a page a lesson: minutes, board, votes, what to cut; and twelve weeks and one day.",
    ),
    click.Command(
        "tests", params=[_to("tests")],
        callback=lambda folder: _say(write_forms(folder)),
        help="Write two equal forms of a test, for before and after, and their keys.",
    ),
    click.Command(
        "guide", params=[_to("guide")],
        callback=lambda folder: _say([write_guide(folder)]),
        help="Write the marking guide: sentences, projects, the table of a class.",
    ),
    click.Command(
        "teacher", params=[_to("teacher")],
        callback=lambda folder: _say(write_teacher(folder)),
        help="Write all of this, and handouts with solutions, into one folder with a page that leads to it.",
    ),
)  # fmt: skip
"""Of the group in ``__main__``."""
