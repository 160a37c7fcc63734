"""``hitlab page``: a page about a hitter, or about everybody."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import (
    A_FILE,
    conventions_of,
    pitches_of,
    quiet_warnings,
    rate_options,
    season_options,
    source_options,
    usual_options,
)
from hitlab.cli.usual import usual_of
from hitlab.errors import ClaimError
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs, make_folder, safe_name

__all__ = ["page"]

_ENDINGS = (".html", ".pdf")


@click.command(cls=OnceCommand)
@click.argument("who", nargs=-1, metavar="[NAME]")
@source_options
@rate_options
@usual_options
@season_options
@click.option(
    "--to", type=A_FILE, required=True, help="The page, .html or .pdf; with --all or --club a folder."
)
@click.option("--all", "everybody", is_flag=True, help="A page about every hitter, into a folder.")
@click.option("--club", default="", metavar="NAME", help="A page about every hitter of this club.")
@click.option(
    "--for",
    "reader",
    type=click.Choice(["coach", "player"]),
    default="coach",
    show_default=True,
    help="Two sides with all numbers, or one side in plain words.",
)
@click.option("--pdf", is_flag=True, help="With --all or --club: PDF in place of HTML.")
@click.option(
    "--paper",
    type=click.Choice(["letter", "A4"]),
    default="letter",
    show_default=True,
    help="Of a PDF.",
)
def page(
    who: tuple[str, ...],
    to: Path,
    everybody: bool,
    club: str,
    reader: Any,
    pdf: bool,
    paper: Any,
    event: str,
    per: str,
    season: str | None,
    history: Any,
    as_json: bool,
    **options: Any,
) -> int:
    """Make a page about NAME to print or to open offline: what is known, how sure, and what is not.

    --event and --per name the rate that situations, form and the pitches to watch are looked at by, and of
    which --usual or --league tells what is usual.
    """
    several = everybody or bool(club)
    if several and who:
        raise ClaimError("give a name, or --all or --club, and not both")
    if not several and not who:
        raise ClaimError("nobody was named: give a name, or --all for everybody, or --club for a club")
    if not several and to.suffix.lower() not in _ENDINGS:
        raise ClaimError(f"{to}: end the name with {' or '.join(_ENDINGS)}")
    inputs = tuple(options[name] for name in ("path", "mapping", "league", "league_mapping"))
    if not several:
        check_outputs({"--to": to}, inputs=inputs)
    conventions = conventions_of(options)
    ending = ".pdf" if pdf else to.suffix.lower() if not several else ".html"
    if not several and pdf and to.suffix.lower() != ".pdf":
        raise ClaimError(f"{to}: end the name with .pdf, or leave --pdf out")
    _look_for_what_is_needed(ending)
    folder = make_folder(to) if several else to.parent
    pitches = pitches_of(options["path"], options["mapping"])
    from hitlab.pages import hitter_page, hitter_pages
    from hitlab.questions import Question

    with quiet_warnings():
        seasons: Any = {"season": season or "", "history": history or "ids"}
        asked = Question(kind="above", event=event, per=per, conventions=conventions, **seasons)
        told = {"conventions": conventions, "prior": usual_of(asked, options, pitches), **seasons}
        if several:
            pages = hitter_pages(pitches, event, per, club=club, reader=reader, **told)
            saved = list(_all(pages, folder, ending, paper))
        else:
            one = hitter_page(pitches, " ".join(who), event, per, reader=reader, **told)
            saved = [_saved(one, to, paper)]
    if as_json:
        click.echo(json_text({"saved": [str(path) for path in saved]}, indent=2))
    elif several:
        click.echo(f"{len(saved):,} page{'' if len(saved) == 1 else 's'} saved in {shown(to)}")
    else:
        click.echo(f"Page saved as {shown(to)}")
    return 0


def _all(pages: Iterator[Any], folder: Path, ending: str, paper: Any) -> Iterator[Path]:
    """Save pages, each under its hitter's name."""
    taken: set[str] = set()
    for one in pages:
        yield _saved(one, folder / f"{safe_name(one.hitter, taken)}{ending}", paper)


def _saved(page: Any, path: Path, paper: Any) -> Path:
    """Save a page, and say where it has more sides than it was to have."""
    from hitlab.pages.printing import SidesWarning

    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("ignore")
        warnings.simplefilter("always", SidesWarning)
        saved: Path = page.save(path, paper=paper)
    for one in caught:
        click.echo(f"Note: {shown(path)}: {shown(str(one.message))}.", err=True)
    return saved


def _look_for_what_is_needed(ending: str) -> None:
    """Say before the work what is not installed."""
    from hitlab.optional import load

    load("jinja2", "pages about a hitter", "pages")
    load("matplotlib", "pages about a hitter", "pages")
    if ending == ".pdf":
        from hitlab.pages.printing import demand_browser

        demand_browser()
