"""``hitlab board`` and ``hitlab dugout``: the list for the wall, and the sheet for the next game."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import (
    A_FILE,
    WHEN,
    conventions_of,
    pitches_of,
    quiet_warnings,
    season_options,
    source_options,
    usual_options,
)
from hitlab.cli.usual import usual_of
from hitlab.errors import ClaimError
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs

__all__ = ["board", "dugout"]

_ENDINGS = (".html", ".pdf")
_PAPER: dict[str, Any] = {
    "type": click.Choice(["letter", "A4"]),
    "default": "letter",
    "show_default": True,
    "help": "Of a PDF.",
}


@click.command(cls=OnceCommand)
@source_options
@click.option("--to", type=A_FILE, required=True, help="The list, .html or .pdf.")
@click.option(
    "--event",
    default="hard",
    show_default=True,
    help="What is counted per swing, and per ball in play: hard, whiffs, fouls, in_play.",
)
@click.option("--club", default="", metavar="NAME", help="List the hitters of this club only.")
@click.option(
    "--minimum",
    type=click.IntRange(0),
    metavar="NUMBER",
    help="Fewest swings to be listed. Default: a quarter of the most.",
)
@click.option("--when", **WHEN)
@click.option("--since", default="", metavar="DAY", help="From this day on.")
@click.option("--until", default="", metavar="DAY", help="Up to this day.")
@season_options
@usual_options
@click.option("--paper", **_PAPER)
def board(
    to: Path,
    event: str,
    club: str,
    minimum: int | None,
    when: tuple[str, ...],
    since: str,
    until: str,
    season: str | None,
    history: Any,
    paper: Any,
    as_json: bool,
    **options: Any,
) -> int:
    """Make the list for the wall: who does it how often, per swing beside per ball in play.

    A place is told where the chances tell hitters apart, and is too close to call elsewhere. Up to 25 hitters
    stand on one page.
    """
    conventions = _begun(to, options)
    pitches = pitches_of(options["path"], options["mapping"])
    from hitlab.pages import board_list
    from hitlab.questions import Question

    with quiet_warnings():
        days: Any = {"since": since, "until": until, "season": season or "", "history": history or "ids"}
        asked = Question(kind="top", event=event, when=when, conventions=conventions, **days)
        made = board_list(
            pitches,
            event,
            club=club,
            minimum=minimum,
            when=when,
            **days,
            conventions=conventions,
            prior=usual_of(asked, options, pitches),
        )
        saved = made.save(to, paper=paper)
    return _saved("List", saved, as_json)


@click.command(cls=OnceCommand)
@source_options
@click.option("--to", type=A_FILE, required=True, help="The sheet, .html or .pdf.")
@click.option("--club", required=True, metavar="NAME", help="Our club.")
@click.option("--against", default="", metavar="PITCHER", help="The pitcher who is expected.")
@click.option("--opponent", default="", metavar="CLUB", help="The club whose pitchers are.")
@season_options
@click.option("--paper", **_PAPER)
def dugout(
    to: Path,
    club: str,
    against: str,
    opponent: str,
    season: str | None,
    history: Any,
    paper: Any,
    as_json: bool,
    **options: Any,
) -> int:
    """Make the sheet for the next game: our hitters, whom to send up, what they throw; in plain words."""
    if against and opponent:
        raise ClaimError("name the pitcher by --against or the club by --opponent, and not both")
    conventions = _begun(to, options)
    pitches = pitches_of(options["path"], options["mapping"])
    from hitlab.pages import dugout_sheet

    with quiet_warnings():
        days: Any = {"season": season or "", "history": history or "ids"}
        made = dugout_sheet(
            pitches, club, against=against, opponent=opponent, **days, conventions=conventions
        )
        saved = made.save(to, paper=paper)
    return _saved("Sheet", saved, as_json)


_INPUTS = ("path", "mapping", "league", "league_mapping")


def _begun(to: Path, options: dict[str, Any]) -> Any:
    """Say before the work what cannot be; return the conventions."""
    if to.suffix.lower() not in _ENDINGS:
        raise ClaimError(f"{to}: end the name with {' or '.join(_ENDINGS)}")
    check_outputs({"--to": to}, inputs=[options.get(name) for name in _INPUTS])
    from hitlab.optional import load

    load("jinja2", "sheets for the wall", "pages")
    if to.suffix.lower() == ".pdf":
        from hitlab.pages.printing import demand_browser

        demand_browser()
    return conventions_of(options)


def _saved(what: str, path: Path, as_json: bool) -> int:
    click.echo(json_text({"saved": str(path)}, indent=2) if as_json else f"{what} saved as {shown(path)}")
    return 0
