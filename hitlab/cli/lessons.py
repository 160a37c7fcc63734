"""``hitlab lessons``: a copy of the lessons, laid out or brought up to date."""

from __future__ import annotations

import os
import shlex
import subprocess
from importlib.util import find_spec
from pathlib import Path

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import A_FILE, LOOK_AT
from hitlab.optional import with_extra
from hitlab.showing import shown

__all__ = ["lessons"]


@click.command(cls=OnceCommand)
@click.option(
    "--to",
    "folder",
    type=A_FILE,
    required=True,
    help="A folder that is new or empty, or holds lessons that were laid out before.",
)
@click.option("--teacher", is_flag=True, help="With the solutions, in a folder of their own.")
def lessons(folder: Path, teacher: bool) -> int:
    """Lay out the lessons in a folder, or bring those that lie there up to date.

    Of lessons that lie there, what you wrote stays: your answers, cells that you changed, and cells of your
    own.

    Exit code: 0; 3 where a lesson could not be brought up to date and the new one lies beside it; 2 where
    the folder cannot be used.
    """
    from hitlab.lessons.copies import FIRST, lay_out

    laid = lay_out(folder, teacher=teacher)
    for line in laid.told():
        click.echo(shown(line))
    if laid.updated:
        click.echo(
            "A lesson that is open in JupyterLab shows what is new after File, Reload Notebook from Disk"
        )
    command = ["jupyter", "lab", str(folder / FIRST)]
    told = subprocess.list2cmdline(command) if os.name == "nt" else shlex.join(command)
    click.echo(f"Start here: {shown(told)}")
    if find_spec("jupyterlab") is None:
        click.echo(f"JupyterLab is not installed here; {with_extra('course')}")
    return LOOK_AT if laid.beside else 0
