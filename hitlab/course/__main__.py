"""``python -m hitlab.course``: build and check lessons, write handouts and the reference, gather a class."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

import click

from hitlab.cli.options import A_FILE, LOOK_AT
from hitlab.course.building import START, Copy, build, difference, differences, run_copy
from hitlab.course.classes import gather
from hitlab.course.frame import frame_faults
from hitlab.course.glossary import write_glossary
from hitlab.course.handouts import write_handouts
from hitlab.course.minutes import LONGEST_SITTING, minutes_of, write_minutes, write_table
from hitlab.course.reference import build_reference
from hitlab.course.routes import ROUTES
from hitlab.course.sources import PROJECTS, lessons_folder, read_source, source_paths
from hitlab.course.start import minutes_of_route, start_copy
from hitlab.course.teaching_commands import COMMANDS
from hitlab.errors import HitlabError
from hitlab.results import TABLE_ENDINGS, save_table
from hitlab.showing import shown
from hitlab.writing import check_outputs, make_folder, write_file


@click.group(help="Build the lessons, check them, write handouts, gather a class's progress.")
def main() -> None:
    """Group of the commands."""


@main.command("build", help="Make the notebooks from their sources: all, lessons by number, projects, start.")
@click.argument("numbers", nargs=-1)
def build_command(numbers: tuple[str, ...]) -> None:
    """Check the frame, run both copies, write them."""
    asked, start_too = _asked(numbers)
    began = time.perf_counter()
    made = build(asked) if asked or not numbers else iter(())
    for copy in chain(made, map(run_copy, _start(start_too))):
        make_folder(copy.path.parent)
        write_file(copy.path, copy.text().encode())
        click.echo(f"{copy.path}")
    click.echo(f"{time.perf_counter() - began:.1f} s")


@main.command(
    "check", help="Fail where a source leaves the frame, or building it again would change anything."
)
@click.argument("numbers", nargs=-1)
def check_command(numbers: tuple[str, ...]) -> None:
    """Compare without writing."""
    asked, start_too = _asked(numbers)
    found = differences(asked) if asked or not numbers else []
    for copy in _start(start_too):
        found += difference(run_copy(copy), lessons_folder())
    _stop_at(found)
    click.echo("the notebooks are what their sources make")


@main.command("minutes", help="Print how long the lessons take, worked out from their sources.")
@click.argument("numbers", nargs=-1)
@click.option("--write", is_flag=True, help="Put the minutes into the sources and the README's table.")
def minutes_command(numbers: tuple[str, ...], write: bool) -> None:
    """Print the table, and the ways through the lessons; write where asked."""
    sources = [read_source(path) for path in source_paths(numbers)]
    taken = [(source, minutes_of(source)) for source in sources]
    for source, minutes in taken:
        core, optional, sittings = minutes.rounded
        parts = f", in two sittings: {sittings[0]} and {sittings[1]}" if sittings[1:] else ""
        told = f"lesson {source.number}: core {core} ({minutes.core:.1f}), optional {optional}"
        click.echo(f"{told} ({minutes.optional:.1f}){parts}")
    if not numbers:
        by_number = {source.number: source for source in sources}
        for route in ROUTES:
            lessons = ", ".join(str(int(number)) for number, _ in route.steps)
            click.echo(f"{route.name}: {minutes_of_route(route, by_number)} (lessons {lessons})")
    for source, minutes in taken:
        if minutes.uncut:
            click.echo(
                f"lesson {source.number} is longer than {LONGEST_SITTING} minutes: tag a place to stop "
                f'"sitting"; half is over under "{minutes.half}"'
            )
    if write:
        changed = [source.path for source in sources if write_minutes(source)]
        readme = lessons_folder() / "README.md"
        for path in [*changed, *([readme] if write_table(sources, readme) else [])]:
            click.echo(f"{path}")


@main.command("handouts", help="Write handouts: one HTML file a lesson that needs no network.")
@click.argument("numbers", nargs=-1)
@click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("handouts"), show_default=True)
@click.option("--solutions", is_flag=True, help="The solutions copies, for the teacher.")
def handouts_command(numbers: tuple[str, ...], folder: Path, solutions: bool) -> None:
    """Turn notebooks into handouts."""
    for path in write_handouts(numbers, folder, solutions=solutions):
        click.echo(f"{path}")


@main.command("glossary", help="Write the glossary: every term of the lessons, one HTML file.")
@click.option(
    "--to", "folder", type=click.Path(path_type=Path), help="Where to; beside the lessons if not given."
)
def glossary_command(folder: Path | None) -> None:
    """Write the page and say where."""
    click.echo(f"{write_glossary(folder)}")


@main.command("export")
@click.argument("paths", type=A_FILE, nargs=-1, required=True, metavar="FILES...")
@click.option(
    "--to", "table", type=A_FILE, required=True, help=f"The table to write: {', '.join(TABLE_ENDINGS)}."
)
@click.option(
    "--names", type=A_FILE, help="Table (.csv) with the columns file and name; without it, nobody is named."
)
@click.pass_context
def export_command(context: click.Context, paths: tuple[Path, ...], table: Path, names: Path | None) -> None:
    """Gather a class's progress files into one table: one row a learner and exercise.

    FILES are progress files, or folders of them. First try, tries, whether it came out right, the mistakes
    of wrong tries by name, the minutes, and how sure learners were of the lesson's claim.

    Exit code: 0; 3 where a file could not be read and was left out; 1 where no table could be written.
    """
    if table.suffix.lower() not in TABLE_ENDINGS:
        raise HitlabError(f"{shown(table)}: end the name with {', '.join(TABLE_ENDINGS)}")
    check_outputs({"--to": table}, inputs=(*paths, names))
    gathered = gather(paths, names)
    save_table(gathered.data, table, inputs=(*paths, names))
    click.echo(str(gathered))
    click.echo(f"saved as {shown(table)}")
    context.exit(LOOK_AT if gathered.left_out else 0)


@main.command("reference", help="Write the reference: every public name, as HTML that needs no network.")
@click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("reference"), show_default=True)
def reference_command(folder: Path) -> None:
    """Write the pages and say where."""
    for page in build_reference(folder):
        click.echo(f"{page}")


def _asked(numbers: tuple[str, ...]) -> tuple[tuple[str, ...], bool]:
    """Return what is asked for, and whether the notebook to start from is; stop at lessons' faults."""
    asked = tuple(number for number in numbers if number != START)
    lessons = tuple(number for number in asked if number != PROJECTS)
    paths = source_paths(lessons) if lessons or not numbers else []
    _stop_at([fault for path in paths for fault in frame_faults(read_source(path))])
    return asked, asked != numbers or not numbers


def _start(wanted: bool) -> Iterator[Copy]:
    if wanted:
        yield start_copy(lessons_folder())


for command in COMMANDS:
    main.add_command(command)


def _stop_at(faults: list[str]) -> None:
    if faults:
        raise HitlabError("\n".join(faults))


if __name__ == "__main__":
    try:
        main(prog_name="python -m hitlab.course")
    except HitlabError as error:
        click.echo(error, err=True)
        sys.exit(1)
