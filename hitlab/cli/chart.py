"""``hitlab chart``: the paper and the workbook on which pitches are charted."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import A_FILE, quiet_warnings
from hitlab.errors import ClaimError
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs

__all__ = ["chart"]

_PAPER = ("innings", "half", "away", "paper", "rows")  # options that the workbook knows nothing of


@click.command(cls=OnceCommand)
@click.option(
    "--to",
    "targets",
    type=A_FILE,
    required=True,
    multiple=True,
    help="The paper, .pdf, or the workbook, .xlsx; may be given several times.",
)
@click.option(
    "--roster", type=A_FILE, help="Own club: table with name, and where known number, side, class, club."
)
@click.option("--opponents", type=A_FILE, help="The other club: likewise, pitchers among them.")
@click.option("--club", default="", metavar="NAME", help="The own club.")
@click.option("--opponent", default="", metavar="NAME", help="The other club.")
@click.option("--date", metavar="DAY", help="Day of the game: 2031-05-04.")
@click.option(
    "--innings",
    type=click.IntRange(1, 30),
    default=9,
    show_default=True,
    help="Of the paper: one page a half inning.",
)
@click.option(
    "--half",
    type=click.Choice(["top", "bottom", "both"]),
    default="both",
    show_default=True,
    help="Which halves have pages.",
)
@click.option("--away", is_flag=True, help="The own club is the visitor and bats in the top half.")
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"], case_sensitive=False),
    default="letter",
    show_default=True,
    help="Size of the paper.",
)
@click.option("--rows", type=click.IntRange(1), help="Of a page, four a hitter. Default: as many as fit.")
@click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs.")
def chart(
    targets: tuple[Path, ...],
    roster: Path | None,
    opponents: Path | None,
    club: str,
    opponent: str,
    date: str | None,
    as_json: bool,
    **of_paper: Any,
) -> int:
    """Make the sheets on which a game is charted: paper for the dugout, a workbook to type into.

    The filled workbook is read with `hitlab read` and no mapping.
    """
    targets = tuple(sorted(targets, key=lambda target: target.suffix.lower()))  # the paper may be refused
    endings = [target.suffix.lower() for target in targets]
    for target, ending in zip(targets, endings, strict=True):
        if ending not in (".pdf", ".xlsx"):
            raise ClaimError(f"{target}: end the name with .pdf for the paper or .xlsx for the workbook")
    if ".pdf" not in endings:
        _refuse_what_is_of_paper()
    outputs = {f"--to {target}": target for target in targets}
    if len(outputs) < len(targets):
        raise ClaimError("--to names one file twice; name two files")
    check_outputs(outputs, inputs=(roster, opponents))
    for target in targets:
        if target.suffix.lower() == ".xlsx" and target.exists():
            raise ClaimError(
                f"{target} is there already, and may hold what somebody charted: name another file"
            )
    from hitlab.charting import charting_sheet, charting_workbook

    game: dict[str, Any] = {
        "roster": roster,
        "opponents": opponents,
        "club": club,
        "opponent": opponent,
        "date": date,
    }
    saved = []
    with quiet_warnings():
        for target, ending in zip(targets, endings, strict=True):
            if ending == ".pdf":
                charting_sheet(target, **game, **of_paper)
            else:
                charting_workbook(target, **game)
            saved.append(target)
    if as_json:
        click.echo(json_text({"saved": [str(target) for target in saved]}, indent=2))
        return 0
    for target, ending in zip(targets, endings, strict=True):
        if ending == ".pdf":
            click.echo(f"paper saved as {shown(target)}: print it on {of_paper['paper']} paper at full size")
        else:
            with_roster = f" --roster {roster}" if roster is not None else ""
            again = shown(f"hitlab read {target}{with_roster}")
            click.echo(f"workbook saved as {shown(target)}; filled in, it is read with: {again}")
    return 0


def _refuse_what_is_of_paper() -> None:
    context = click.get_current_context()
    typed = [
        f"--{name}"
        for name in _PAPER
        if context.get_parameter_source(name) is not click.core.ParameterSource.DEFAULT
    ]
    if typed:
        raise ClaimError(f"{', '.join(typed)} says how the paper is: name a .pdf with --to, or leave it out")
