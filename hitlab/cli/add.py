"""``hitlab add``: the new charts of a weekend, added to the season's checked table."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import A_FILE, EXIT_CODES, quiet_warnings
from hitlab.errors import ClaimError
from hitlab.results import TABLE_ENDINGS, as_text, save_table
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs

if TYPE_CHECKING:
    from hitlab.charting.season import Added, Twice

__all__ = ["add"]


@click.command(cls=OnceCommand)
@click.argument("paths", type=A_FILE, nargs=-1, required=True, metavar="FILES...")
@click.option(
    "--to",
    "season",
    type=A_FILE,
    required=True,
    help="The season's checked table (.parquet), or its new name.",
)
@click.option("--mapping", help="TOML file that translates the files' columns and words.")
@click.option("--roster", type=A_FILE, help="Table with number, name, nickname, side, class, club.")
@click.option("--year", type=int, help="Year of the dates, where they tell none.")
@click.option(
    "--twice",
    multiple=True,
    metavar="WAY[:GAME]",
    help="A game that the season has with other pitches: refuse (the default), keep the season's, replace "
    "it by the new one, or, under another name, add it as another game. WAY:GAME says it of one game, as the "
    "new charts name it, and may be given several times.",
)
@click.option("--set-aside", type=A_FILE, help="Save what was set aside as CSV.")
@click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs.")
def add(
    paths: tuple[Path, ...],
    season: Path,
    mapping: str | None,
    roster: Path | None,
    year: int | None,
    twice: tuple[str, ...],
    set_aside: Path | None,
    as_json: bool,
) -> int:
    """Add the games in FILES to a season; none of them twice.

    FILES are new charts, as for `hitlab read`, or tables that it saved. All of them are added, or none; the
    season stays whole whatever happens. A file that was added before is passed over.

    Exit code: 0; 3 where nothing was added because a game has to be decided with --twice, or where the charts
    have to be looked at; 2 where they could not be added.
    """
    from hitlab.charting.season import add_to_season
    from hitlab.pitches.gathering import files_of

    source = paths[0] if len(paths) == 1 else list(paths)
    inputs = [path for path in paths if str(path) == "-" or not path.is_dir()]
    if len(inputs) < len(paths):
        inputs = files_of(source, aside=(roster,))[0]
    check_outputs({"--to": season, "--set-aside": set_aside}, inputs=(*inputs, mapping, roster))
    if set_aside is not None and set_aside.suffix.lower() not in TABLE_ENDINGS:
        raise ClaimError(f"{set_aside}: end the name with {' or '.join(TABLE_ENDINGS)}")
    with quiet_warnings():
        added = add_to_season(season, source, mapping, roster=roster, year=year, twice=_ways(twice))
    saved = []
    if set_aside is not None and added.readings:
        save_table(added.set_aside, set_aside, inputs=inputs)
        saved.append(f"rows and values set aside saved as {shown(set_aside)}")
    if as_json:
        click.echo(json_text(_told(added, saved), indent=2))
    else:
        click.echo(as_text(added.told()))
        for line in saved:
            click.echo(line)
        if added.ways:
            click.echo("To decide, give the same command again with one of these:")
        for way, what in added.ways.items():
            click.echo(f"  --twice {way:<9}{what}")
        if added.open_games > 1:
            click.echo(f"Of one game alone: --twice {next(iter(added.ways))}:GAME, once for each.")
    look = added.open_games or any(one.report.alerts for one in added.readings)
    return EXIT_CODES["open"] if look else 0


def _ways(twice: tuple[str, ...]) -> dict[str, Twice]:
    """Read what --twice says: of all games, or of one whose name stands behind a colon."""
    ways: dict[str, Any] = {}
    for one in twice:
        way, _, game = (part.strip() for part in one.partition(":"))
        if ways.setdefault(game, way) != way:
            what = f"of {game!r}" if game else "of all games"
            raise click.UsageError(f"--twice says both {ways[game]} and {way} {what}. Say one of them.")
    return ways


def _told(added: Added, saved: list[str]) -> dict[str, object]:
    return {
        "title": added.title,
        "written": added.written,
        "open_games": added.open_games,
        "choices": added.ways,
        "games": json.loads(added.table_for_people().to_json(orient="records")),
        "differences": json.loads(added.differences.to_json(orient="records")),
        "rows": added.rows,
        "games_in_season": added.games,
        "notes": list(added.notes),
        "saved": saved,
    }
