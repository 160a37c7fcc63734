"""``hitlab desk``: the page without code."""

from __future__ import annotations

import signal
from pathlib import Path

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import A_FILE
from hitlab.writing import make_folder

__all__ = ["desk"]


@click.command(cls=OnceCommand)
@click.option("--file", "path", type=A_FILE, help="Pitch table to begin with. Default: the demo season.")
@click.option(
    "--folder",
    type=A_FILE,
    default=Path(),
    help="Where what you save goes. Default: the folder you are in.",
)
@click.option("--no-open", is_flag=True, help="Print the address, and open no browser.")
def desk(path: Path | None, folder: Path, no_open: bool) -> int:
    """Open a page on which you ask in your own words, without code; for this machine only.

    It runs until you press Ctrl-C.
    """
    import webbrowser  # not before it is needed: it takes a while

    from hitlab.desk.serving import served

    # Whoever ends this program by its number ends the page's server with it.
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        with served(make_folder(folder), "" if path is None else str(path)) as page:
            click.echo(page.address)
            if not no_open:
                opened = webbrowser.open(page.address)  # says whether there is one, as click.launch does not
                said = (
                    "The desk is opened in your browser; press Ctrl-C here to close it."
                    if opened
                    else f"No browser was found here: open {page.address} in one; press Ctrl-C here to close "
                    "the desk."
                )
                click.echo(said, err=True)
            try:
                page.wait()
            except KeyboardInterrupt:
                click.echo("The desk is closed.", err=True)
    finally:
        signal.signal(signal.SIGTERM, before)
    return 0
