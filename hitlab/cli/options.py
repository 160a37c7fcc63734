"""What the commands share: options, the pitches they ask for, and quiet warnings."""

from __future__ import annotations

import warnings
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import click

from hitlab.errors import ClaimError, HitlabWarning, ReadingError

__all__ = [
    "COULD_NOT",
    "EXIT_CODES",
    "claim_options",
    "demand",
    "pitches_and_tally",
    "quiet_warnings",
    "rate_options",
    "source_options",
]

EXIT_CODES = {"holds": 0, "does not hold": 1, "open": 3}
COULD_NOT = 2

Command = Callable[..., Any]


def source_options(command: Command) -> Command:
    """Add what says where the pitches are and how they are counted."""
    for option in reversed(
        (
            click.option(
                "--file",
                "path",
                type=click.Path(path_type=Path),
                help="Pitch table: CSV, Parquet, Feather or Arrow. Default: the demo season.",
            ),
            click.option("--mapping", help="TOML file that translates the file's columns and words."),
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


def rate_options(command: Command) -> Command:
    """Add the two halves of a rate."""
    words = "Of what: swings, contact, in_play, pitches, plate_appearances, at_bats."
    command = click.option("--per", default="swings", show_default=True, help=words)(command)
    words = "What is counted: hard, whiffs, fouls, in_play, contact, swings, hits, and others."
    return click.option("--event", default="hard", show_default=True, help=words)(command)


def claim_options(
    *, ranked: bool = False, record: bool = True, rate: bool = True, cut: bool = True, league: bool = False
) -> Callable[[Command], Command]:
    """Return a decorator that adds what every claim takes.

    Parameters
    ----------
    ranked
        A minimum exposure applies.
    record
        There is a record that counting can settle.
    rate
        The claim is about one rate, which the user names.
    cut
        Single pitches speak for and against it.
    league
        What is known of a larger league, and how swings of a game go together, can be taken into account.
    """

    def add(command: Command) -> Command:
        options = [
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
        if cut:
            words = "List the pitches for and against it: a .csv file, or a .otio edit timeline."
            options.insert(1, click.option("--cut", type=click.Path(path_type=Path), help=words))
            words = "At most so many on either side of the list."
            many = click.IntRange(1)
            options.insert(
                2, click.option("--cut-most", type=many, default=10, show_default=True, help=words)
            )
        if record:
            words = "Check today's list by counting, not the underlying rate."
            options.insert(0, click.option("--record", is_flag=True, help=words))
        if league:
            words = "Pitch table of the whole league: what is usual there is then known."
            options.append(click.option("--league", type=click.Path(path_type=Path), help=words))
            words = "TOML file that translates the league's table. Default: --mapping, if it is not checked."
            options.append(click.option("--league-mapping", help=words))
            words = "Take the swings of one game for independent; needs less time and memory."
            options.append(click.option("--independent", is_flag=True, help=words))
        if ranked:
            options.append(
                click.option(
                    "--minimum",
                    type=click.IntRange(0),
                    help="Fewest swings (or other denominator) to be ranked. Default: a quarter of the most.",
                )
            )
        for option in reversed(options):
            command = option(command)
        return source_options(rate_options(command) if rate else command)

    return add


def pitches_and_tally(options: dict[str, Any]) -> tuple[Any, partial[Any]]:
    """Return the pitches and the tally with the conventions that were asked for.

    Raises
    ------
    ReadingError
        Where most of the file was not understood: what is left of it stands for nothing.
    """
    from hitlab.counting.ledger import Conventions
    from hitlab.counting.tallies import tally
    from hitlab.demonstration import demo_season
    from hitlab.pitches.storing import is_checked

    path, mapping = options["path"], options["mapping"]
    conventions = Conventions(options["hard_mph"], options["foul_tip"], options["hard_fouls"])
    pitches: Any = path if path is not None else demo_season()
    if path is None and mapping is not None:
        raise ClaimError("--mapping needs --file; the demo season needs no mapping")
    if path is not None and (mapping is not None or path.suffix != ".parquet" or not is_checked(path)):
        from hitlab.pitches.reading import read_pitches

        with quiet_warnings():
            pitches = read_pitches(path, mapping)
        if pitches.report.not_understood:
            raise ReadingError(pitches.report.not_understood)
        read = f"`hitlab read {path}{f' --mapping {mapping}' if mapping else ''}`"
        if pitches.report.rows_set_aside or pitches.report.values_made_missing:
            click.echo(
                f"{path}: {pitches.report.rows_set_aside:,} rows set aside, "
                f"{pitches.report.values_made_missing:,} values made missing; {read} tells which",
                err=True,
            )
        for question in pitches.report.questions:
            asked = question.partition("?")[0]
            click.echo(f"{path}: {asked}? {read} shows the lines of the mapping that answer it", err=True)

    return pitches, partial(tally, conventions=conventions)


_MENDS = {
    "game": "where a hitter plays one game a day, its date will do: "
    '[columns] "your heading" = ["date", "game"] in the mapping',
}


def demand(pitches: Any, columns: tuple[str, ...]) -> None:
    """Say in plain words when a situation asks for a column that the table does not have."""
    from hitlab.counting.tallies import columns_of

    there = columns_of(pitches)
    absent = [column for column in columns if column not in there]
    if absent:
        mend = _MENDS.get(absent[0], "map the column of yours that holds it")
        raise ClaimError(f"this needs the column {absent[0]}, which the pitch table does not have; {mend}")


class quiet_warnings(warnings.catch_warnings):  # noqa: N801 (reads as a verb phrase in `with`)
    """Keep hitlab's own warnings out of the terminal: the answer's notes say the same."""

    def __enter__(self) -> None:
        super().__enter__()
        warnings.simplefilter("ignore", HitlabWarning)
