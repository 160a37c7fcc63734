"""``python -m hitlab.course``: build the lessons, check them, export handouts, write the reference."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from hitlab.course.building import build, differences
from hitlab.course.frame import frame_faults
from hitlab.course.handouts import export
from hitlab.course.reference import build_reference
from hitlab.course.sources import read_source, source_paths
from hitlab.errors import HitlabError
from hitlab.writing import make_folder, write_file


@click.group(help="Build the lessons, check them, export handouts.")
def main() -> None:
    """Group of the commands."""


@main.command("build", help="Make the notebooks from their sources; all lessons, or those of the numbers.")
@click.argument("numbers", nargs=-1)
def build_command(numbers: tuple[str, ...]) -> None:
    """Check the frame, run both copies, write them."""
    _stop_at([fault for path in source_paths(numbers) for fault in frame_faults(read_source(path))])
    start = time.perf_counter()
    for copy in build(numbers):
        make_folder(copy.path.parent)
        write_file(copy.path, copy.text().encode())
        click.echo(f"{copy.path}")
    click.echo(f"{time.perf_counter() - start:.1f} s")


@main.command(
    "check", help="Fail where a source leaves the frame, or building it again would change anything."
)
@click.argument("numbers", nargs=-1)
def check_command(numbers: tuple[str, ...]) -> None:
    """Compare without writing."""
    _stop_at([fault for path in source_paths(numbers) for fault in frame_faults(read_source(path))])
    _stop_at(differences(numbers))
    click.echo("the notebooks are what their sources make")


@main.command("export", help="Write handouts: one HTML file a lesson that needs no network.")
@click.argument("numbers", nargs=-1)
@click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("handouts"), show_default=True)
@click.option("--solutions", is_flag=True, help="The solutions copies, for the teacher.")
def export_command(numbers: tuple[str, ...], folder: Path, solutions: bool) -> None:
    """Turn notebooks into handouts."""
    for path in export(numbers, folder, solutions=solutions):
        click.echo(f"{path}")


@main.command("reference", help="Write the reference: every public name, as HTML that needs no network.")
@click.option("--to", "folder", type=click.Path(path_type=Path), default=Path("reference"), show_default=True)
def reference_command(folder: Path) -> None:
    """Write the pages and say where."""
    for page in build_reference(folder):
        click.echo(f"{page}")


def _stop_at(faults: list[str]) -> None:
    if faults:
        raise HitlabError("\n".join(faults))


if __name__ == "__main__":
    try:
        main(prog_name="python -m hitlab.course")
    except HitlabError as error:
        click.echo(error, err=True)
        sys.exit(1)
