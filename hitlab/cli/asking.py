"""``hitlab ask``: a sentence in one's own words; what was understood is said first."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import (
    A_FILE,
    COULD_NOT,
    EXIT_CODES,
    conventions_of,
    pitches_of,
    quiet_warnings,
    season_options,
    source_options,
)
from hitlab.showing import json_text, shown_lines

if TYPE_CHECKING:
    from hitlab.asking import Asked

__all__ = ["ask"]


@click.command(cls=OnceCommand)
@click.argument("words", nargs=-1, required=True, metavar="SENTENCE")
@click.option("--choose", type=click.IntRange(1), metavar="N", help="Which of the choices is meant.")
@click.option("--nicknames", type=A_FILE, help='TOML file of lines "The Comet" = "Nadia Izezno".')
@season_options
@source_options
def ask(
    words: tuple[str, ...],
    choose: int | None,
    nicknames: Path | None,
    season: str | None,
    history: Any,
    as_json: bool,
    **options: Any,
) -> int:
    """Ask in your own words: hitlab ask "Izezno owns breaking balls".

    What was understood is printed first, then the answer as `hitlab check` gives it. Where a sentence can
    mean several things the choices are numbered; --choose takes one, and at a terminal Enter takes the one
    that only idle words part from it. Of a table of several seasons a sentence may name one (in 2031, this
    season, in his career); --season is for one that names none. Exit code: 0 it holds, 1 it does not
    hold, 3 it is open, 2 nothing was checked.
    """
    from hitlab.asking import ask as understood

    conventions = conventions_of(options)
    pitches = pitches_of(options["path"], options["mapping"])
    with quiet_warnings():
        told: Any = {"season": season or "", "history": history or "ids"}
        asked = understood(" ".join(words), pitches, nicknames=nicknames, **told)
    if not as_json:
        click.echo(shown_lines(str(asked)))
    number = choose or 0
    if asked.outcome != "understood" and not number:
        number = _chosen(asked, as_json)
        if not number:
            return COULD_NOT
    if number > len(asked.choices):
        raise click.UsageError(f"--choose {number}: there are {len(asked.choices)} to choose from")
    if asked.why and not asked.choices:
        return COULD_NOT
    question = asked.choices[max(number, 1) - 1] if number else asked.question
    with quiet_warnings():
        claim = replace(question, conventions=conventions).ask(pitches)
    if as_json:
        click.echo(json_text({"asked": _plain(asked), "claim": claim.to_dict()}, indent=2))
    else:
        from hitlab.cli.console import print_claim

        click.echo()
        print_claim(claim)
    return EXIT_CODES[claim.verdict]


def _chosen(asked: Asked, as_json: bool) -> int:
    """Return the number that somebody at a terminal types; 0 where nobody chooses."""
    if as_json:
        click.echo(json_text({"asked": _plain(asked), "claim": None}, indent=2))
        return 0
    many = len(asked.choices)
    if not many:
        return 0
    if sys.stdin.isatty() and sys.stdout.isatty():
        if asked.nearly:
            asks = "Is it this? Enter for yes, 0 for no"
            return int(click.prompt(asks, type=click.BOOL, default=True, show_default=False))
        return int(click.prompt("Which (0 for none)", type=click.IntRange(0, many), default=0))
    click.echo(
        f"Nothing was checked; --choose {'1 takes it' if many == 1 else f'1 to {many} takes one of them'}."
    )
    return 0


def _plain(asked: Asked) -> dict[str, Any]:
    return {
        "text": asked.text,
        "outcome": asked.outcome,
        "nearly": asked.nearly,
        "read_as": asked.read_as,
        "found": list(asked.found),
        "left_out": list(asked.left_out),
        "choices": asked.table().to_dict(orient="records"),
    }
