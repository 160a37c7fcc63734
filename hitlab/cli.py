"""The command line: check a claim, list a rate, read a file, make a season.

Exit codes: 0 the claim holds (or the command did its work), 1 it does not hold, 3 it is open, 2 it could
not be checked.
"""

from __future__ import annotations

import json
import sys
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from hitlab import __version__
from hitlab.errors import ClaimError, HitlabError, HitlabWarning

__all__ = ["main"]

EXIT_CODES = {"holds": 0, "does not hold": 1, "open": 3}
COULD_NOT = 2

# What is imported for one command only is imported inside it: a text answer has to come in well under two
# seconds from a cold start.


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    sys.exit(run(arguments))


def run(arguments: list[str] | None = None) -> int:
    """Run the command line and return its exit code; nothing but a plain sentence reaches the user."""
    try:
        code = hitlab.main(args=arguments, prog_name="hitlab", standalone_mode=False)
    except click.exceptions.Abort:
        _complain("stopped")
        return COULD_NOT
    except click.ClickException as error:
        error.show()
        return COULD_NOT
    except HitlabError as error:
        _complain(str(error))
        return COULD_NOT
    except BrokenPipeError:  # the reader of the output closed it, as `head` does
        sys.stderr.close()
        return COULD_NOT
    except Exception as error:
        _complain(
            f"an unexpected {type(error).__name__}: {error}. This is a fault of hitlab; please report it "
            "with the command you gave"
        )
        return COULD_NOT
    return int(code or 0)


def _complain(text: str) -> None:
    click.echo(f"Could not be checked: {text.rstrip('.')}.", err=True)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="hitlab %(version)s")
def hitlab() -> None:
    """From a table of pitches to a claim about a hitter that is safe to say.

    Without --file, every command uses the demo season: an invented league.
    """


Command = Callable[..., Any]


def _source_options(command: Command) -> Command:
    for option in reversed(
        (
            click.option(
                "--file",
                "path",
                type=click.Path(path_type=Path),
                help="Pitch table: CSV, Parquet, Feather or Arrow. Default: the demo season.",
            ),
            click.option("--mapping", help="TOML file that translates the file's columns and words."),
            click.option("--event", default="hard", show_default=True, help="What is counted."),
            click.option("--per", default="swings", show_default=True, help="The denominator."),
            click.option("--hard-mph", type=float, help="Speed off the bat that counts as hard."),
            click.option(
                "--foul-tip",
                type=click.Choice(["miss", "contact"]),
                default="miss",
                show_default=True,
                help="What a foul tip counts as.",
            ),
            click.option("--hard-fouls", is_flag=True, help="Count hard-hit fouls as hard, too."),
            click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs."),
        )
    ):
        command = option(command)
    return command


def _claim_options(*, ranked: bool) -> Callable[[Command], Command]:
    def add(command: Command) -> Command:
        options = [
            click.option(
                "--record",
                is_flag=True,
                help="Check today's list by counting, not the underlying rate.",
            ),
            click.option(
                "--card",
                type=click.Path(path_type=Path),
                help="Put the answer on a picture, too: a .png or .svg file.",
            ),
            click.option(
                "--holds-at", type=float, default=0.9, show_default=True, help="Holds from this chance."
            ),
            click.option(
                "--fails-at",
                type=float,
                default=0.1,
                show_default=True,
                help="Does not hold up to this chance.",
            ),
        ]
        if ranked:
            options.append(
                click.option(
                    "--minimum",
                    type=int,
                    help="Fewest swings (or other denominator) to be ranked. Default: a quarter of the most.",
                )
            )
        for option in reversed(options):
            command = option(command)
        return _source_options(command)

    return add


@hitlab.group()
def check() -> None:
    """Check a claim, and end with a sentence that is safe to say.

    Exit code: 0 it holds, 1 it does not hold, 3 it is open, 2 it could not be checked.
    """


@check.command()
@click.argument("hitter", required=False)
@_claim_options(ranked=True)
def leads(hitter: str | None, **options: Any) -> int:
    """Nobody does it more often than HITTER (default: whoever has the highest observed rate)."""
    return _check("leads", options, hitter)


@check.command()
@click.argument("hitter", required=False)
@click.option("--top", type=int, default=5, show_default=True, help="How many places.")
@_claim_options(ranked=True)
def top(hitter: str | None, top: int, **options: Any) -> int:
    """HITTER is one of the five best at it."""
    return _check("top", options, hitter, top=top)


@check.command()
@click.argument("hitter")
@click.argument("value", type=float)
@_claim_options(ranked=False)
def above(hitter: str, value: float, **options: Any) -> int:
    """HITTER does it more often than VALUE, a rate such as 0.16."""
    return _check("above", options, hitter, value)


@check.command()
@click.argument("hitter")
@click.argument("other")
@_claim_options(ranked=False)
def ahead(hitter: str, other: str, **options: Any) -> int:
    """HITTER does it more often than OTHER."""
    return _check("ahead", options, hitter, other)


@check.command()
@click.argument("hitter")
@click.option(
    "--when",
    "terms",
    multiple=True,
    required=True,
    metavar="TERM",
    help="The situation, such as pitch_kind=breaking or strikes=2; may be given several times.",
)
@_claim_options(ranked=False)
def split(hitter: str, terms: tuple[str, ...], **options: Any) -> int:
    """HITTER does it more often in a situation than otherwise."""
    return _check("split", options, hitter, terms=terms)


def _check(
    kind: str, options: dict[str, Any], *arguments: Any, terms: tuple[str, ...] = (), **extra: Any
) -> int:
    from hitlab.claims import KINDS
    from hitlab.situations import situation

    as_json, card_path = options.pop("as_json"), options.pop("card")
    given = {name: options.pop(name) for name in ("holds_at", "fails_at", "event", "per")}
    if "minimum" in options:
        given["minimum"] = options.pop("minimum")
    given["about"] = "record" if options.pop("record") else "underlying"
    pitches, counted = _pitches(options)
    with _quiet_warnings():
        counts = counted(pitches)
        if terms:
            chosen = situation(*terms)
            _demand(pitches, chosen.columns)
            arguments = (counted(pitches, where=chosen.expression), *arguments)
            given["situation"] = chosen.words
        claim = KINDS[kind](counts, *arguments, **extra, **given)
    if as_json:
        click.echo(json.dumps(claim.to_dict(), ensure_ascii=False, indent=2))
    else:
        from hitlab.console import print_claim

        print_claim(claim)
    if card_path is not None:
        from hitlab.cards import card, game_dates

        try:
            card(claim, card_path, dates=game_dates(pitches))
        except HitlabError as error:  # the answer stands, only its picture does not
            click.echo(f"No card was made: {str(error).rstrip('.')}.", err=True)
            return COULD_NOT
        click.echo(f"Card saved as {card_path}", err=as_json)
    return EXIT_CODES[claim.verdict]


@hitlab.command("list")
@_source_options
@click.option("--minimum", type=int, default=0, show_default=True, help="Leave out smaller exposures.")
@click.option("--most", type=click.IntRange(1), default=20, show_default=True, help="Rows shown.")
@click.option(
    "--denominators",
    "lay_out",
    is_flag=True,
    help="Show the event over pitches, swings, contact, balls in play and plate appearances, side by side.",
)
@click.option("--when", "terms", multiple=True, metavar="TERM", help="Only in this situation.")
def list_rates(
    minimum: int,
    most: int,
    lay_out: bool,
    terms: tuple[str, ...],
    as_json: bool,
    event: str,
    per: str,
    **options: Any,
) -> int:
    """List a rate with its interval and its shrunk value, highest first."""
    from hitlab.rates import denominators, rate
    from hitlab.shrinkage import shrink
    from hitlab.situations import situation

    pitches, counted = _pitches(options)
    with _quiet_warnings():
        if terms:
            chosen = situation(*terms)
            _demand(pitches, chosen.columns)
            counts = counted(pitches, where=chosen.expression)
        else:
            counts = counted(pitches)
        if lay_out:
            laid = denominators(counts, event, minimum=minimum)
            title, notes = laid.title, counts.notes
            table, shown = laid.table(), laid.table_for_people()
            order = "per_swings" if "swings" in laid.over else f"per_{laid.over[0]}"
        else:
            rates, fit = rate(counts, event, per), shrink(counts, event, per)
            title, notes, order = f"{rates.title}; {fit.explanation}", fit.notes, "shrunk"
            table = rates.table()
            table[["shrunk", "own_weight"]] = fit.table()[["shrunk", "own_weight"]]
            shown = table[[event, per, "rate", "low", "high", "shrunk", "own_weight"]].copy()
            shown.insert(0, "hitter", counts.labels)
            table = table[table[per] >= minimum]
    table = table.sort_values(order, ascending=False, kind="stable").head(most)
    if as_json:
        answer = {"title": title, "rows": json.loads(table.to_json(orient="records")), "notes": list(notes)}
        click.echo(json.dumps(answer, ensure_ascii=False, indent=2))
    else:
        from hitlab.console import print_table

        print_table(title, shown.loc[table.index], notes)
    return 0


@hitlab.command("read")
@click.argument("path", type=click.Path(path_type=Path))
@click.option("--mapping", help="TOML file that translates the file's columns and words.")
@click.option("--save", type=click.Path(path_type=Path), help="Save the checked table as Parquet.")
@click.option("--set-aside", type=click.Path(path_type=Path), help="Save what was set aside as CSV.")
@click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs.")
def read_file(
    path: Path, mapping: str | None, save: Path | None, set_aside: Path | None, as_json: bool
) -> int:
    """Show what the reader made of PATH: rows kept, set aside, assumed, contradicted."""
    from hitlab.pitches.reading import read_pitches
    from hitlab.pitches.storing import write_checked

    with _quiet_warnings():
        reading = read_pitches(path, mapping)
    saved = []
    if save is not None:
        write_checked(reading, save)
        saved.append(f"checked table saved as {save}")
    if set_aside is not None:
        reading.save_set_aside(set_aside)
        saved.append(f"rows and values set aside saved as {set_aside}")
    if as_json:
        rows = json.loads(reading.report.table().to_json(orient="records"))
        click.echo(json.dumps({"report": rows, "saved": saved}, ensure_ascii=False, indent=2))
    else:
        click.echo(str(reading.report))
        for line in saved:
            click.echo(line)
    return 0


@hitlab.command("make")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--pitches", type=click.IntRange(1000), default=100_000, show_default=True, help="About how many."
)
@click.option("--hitters", type=click.IntRange(18), default=150, show_default=True)
@click.option("--clubs", type=click.IntRange(2), default=10, show_default=True)
@click.option("--seed", type=click.IntRange(0), default=0, show_default=True)
@click.option(
    "--no-differences", is_flag=True, help="A league in which every hitter has the same true rates."
)
def make(folder: Path, pitches: int, hitters: int, clubs: int, seed: int, no_differences: bool) -> int:
    """Make an invented season with known truth in FOLDER: season.parquet and truth.csv."""
    from hitlab.league import Effects, make_season
    from hitlab.pitches.storing import write_checked

    effects = Effects.none() if no_differences else Effects()
    season = make_season(hitters=hitters, clubs=clubs, pitches=pitches, seed=seed, effects=effects)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        season.truth.to_csv(folder / "truth.csv", index=False)
    except OSError as error:
        raise ClaimError(f"{folder} cannot be written: {error.strerror}; choose another folder") from error
    saved = write_checked(season.pitches, folder / "season.parquet")
    click.echo(f"{len(season.pitches):,} pitches to {len(season.truth):,} hitters saved as {saved}")
    click.echo(f"their true rates saved as {folder / 'truth.csv'}")
    return 0


def _pitches(options: dict[str, Any]) -> tuple[Any, Callable[..., Any]]:
    """Return the pitches and the tally with the conventions that were asked for."""
    from hitlab.demonstration import demo_season
    from hitlab.ledger import Conventions
    from hitlab.pitches.storing import is_checked
    from hitlab.tallies import tally

    path, mapping = options["path"], options["mapping"]
    conventions = Conventions(options["hard_mph"], options["foul_tip"], options["hard_fouls"])
    pitches: Any = path if path is not None else demo_season()
    if path is None and mapping is not None:
        raise ClaimError("--mapping needs --file; the demo season needs no mapping")
    if path is not None and (mapping is not None or path.suffix != ".parquet" or not is_checked(path)):
        from hitlab.pitches.reading import read_pitches

        with _quiet_warnings():
            pitches = read_pitches(path, mapping)
        if pitches.report.rows_set_aside or pitches.report.values_made_missing:
            click.echo(
                f"{path}: {pitches.report.rows_set_aside:,} rows set aside, "
                f"{pitches.report.values_made_missing:,} values made missing; "
                f"`hitlab read {path}` tells which",
                err=True,
            )

    def counted(source: Any, **more: Any) -> Any:
        return tally(source, conventions=conventions, **more)

    return pitches, counted


def _demand(pitches: Any, columns: tuple[str, ...]) -> None:
    """Say in plain words when a situation asks for a column that the table does not have."""
    from hitlab.tallies import columns_of

    there = columns_of(pitches)
    absent = [column for column in columns if column not in there]
    if absent:
        raise ClaimError(f"the situation asks for {absent[0]}, which the pitch table does not have")


class _quiet_warnings(warnings.catch_warnings):  # noqa: N801 (reads as a verb phrase in `with`)
    """Keep hitlab's own warnings out of the terminal: the answer's notes say the same."""

    def __enter__(self) -> None:
        super().__enter__()
        warnings.simplefilter("ignore", HitlabWarning)
