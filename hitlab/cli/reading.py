"""`hitlab read FILES --save FOLDER/`: files of any size, with how far it is where somebody is looking."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click
from rich.console import Console
from rich.progress import BarColumn, TextColumn, TimeRemainingColumn
from rich.progress import Progress as Bar

from hitlab.cli.options import quiet_warnings
from hitlab.pitches.reading_into import FolderReading, Progress, read_into
from hitlab.showing import json_text, shown, shown_name

__all__ = ["read_into_folder"]


def read_into_folder(
    paths: Sequence[Path],
    folder: Path,
    mapping: str | None,
    *,
    set_aside: Path | None,
    as_json: bool,
    **options: Any,
) -> FolderReading:
    """Read files into a folder and say what was found.

    Parameters
    ----------
    paths, folder, mapping, set_aside, **options
        As for :func:`hitlab.pitches.read_into`.
    as_json
        Whether it is said for programs.
    """
    with quiet_warnings(), _progress() as told:
        found = read_into(list(paths), folder, mapping, set_aside=set_aside, progress=told, **options)
    saved = [f"checked tables saved in {shown(folder)}"]
    if set_aside is not None:
        saved.append(f"rows and values set aside saved as {shown(set_aside)}")
    elif found.rows_set_aside or found.values_made_missing:
        saved.append(
            "with --set-aside FILE.csv the same command lists what was set aside, and reads nothing again"
        )
    if as_json:
        pieces = json.loads(found.table().to_json(orient="records"))
        answer = {
            "pieces": pieces,
            "look_at": list(found.alerts),
            "reasons": dict(found.reasons),
            "saved": saved,
        }
        click.echo(json_text(answer, indent=2))
        return found
    click.echo(str(found))
    for line in saved:
        click.echo(shown(line))
    return found


@contextmanager
def _progress() -> Iterator[Callable[[Progress], object] | None]:
    """Show how far a reading is, on a terminal only; the answer alone goes to the standard output."""
    console = Console(stderr=True, highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        yield None
        return
    columns = (
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TextColumn("{task.percentage:3.0f} %", markup=False),
        TextColumn("{task.fields[rate]}", markup=False),
        TimeRemainingColumn(),
    )
    with Bar(*columns, console=console, transient=True) as bar:
        task = bar.add_task("", total=1.0, rate="")

        def told(one: Progress) -> None:
            rate = f"{one.rows:,} rows, {one.rows_a_second:,.0f} a second"
            bar.update(task, description=shown_name(one.file), completed=one.share, rate=rate)

        yield told
