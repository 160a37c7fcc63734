"""What the commands share: options, the pitches they ask for, and quiet warnings."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from hitlab.errors import ClaimError, HitlabError, ReadingError, quiet_warnings
from hitlab.evidence.time_codes import FRAME_RATES
from hitlab.pitches.regular import TABLE_ENDINGS
from hitlab.showing import shown, shown_lines

if TYPE_CHECKING:
    from hitlab.counting.facts import Conventions

__all__ = [
    "A_FILE",
    "A_FILE_OR_FOLDER",
    "COULD_NOT",
    "EXIT_CODES",
    "LOOK_AT",
    "WHEN",
    "FileOrFolder",
    "claim_options",
    "conventions_of",
    "pitches_of",
    "quiet_warnings",
    "rate_options",
    "season_options",
    "source_options",
    "tried",
    "usual_options",
]

EXIT_CODES = {"holds": 0, "does not hold": 1, "open": 3}
COULD_NOT = 2
LOOK_AT = 3
"""The command did its work, and its first lines name what has to be looked at."""

Command = Callable[..., Any]


class _File(click.Path):
    """A path that can be: an empty one would be the folder that one is in."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> str | bytes | os.PathLike[str]:
        if value == "":
            self.fail("it is empty; name a file.", param, ctx)
        if isinstance(value, str) and "\0" in value:
            self.fail("no name of a file has a character of code 0 in it.", param, ctx)
        return super().convert(value, param, ctx)


A_FILE = _File(path_type=Path)


class FileOrFolder(NamedTuple):
    """A path that was typed, and whether a folder is meant: one that is there, or a name with a stroke."""

    path: Path
    is_folder: bool


class _FileOrFolder(_File):
    """A path of a file, or of a folder, which ends with a stroke or is there."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        path = Path(os.fsdecode(super().convert(value, param, ctx)))
        strokes = tuple(sign for sign in (os.sep, os.altsep, "/") if sign)
        # A name that ends like a file's means one, and no folder that bears it.
        there = path.suffix.lower() not in TABLE_ENDINGS and os.path.isdir(path)
        return FileOrFolder(path, os.fspath(value).endswith(strokes) or there)


A_FILE_OR_FOLDER = _FileOrFolder(path_type=Path)


def source_options(command: Command) -> Command:
    """Add what says where the pitches are and how they are counted."""
    for option in reversed(
        (
            click.option(
                "--file",
                "path",
                type=A_FILE,
                help="Pitch table, or a folder: CSV, Parquet, Feather or Arrow. Default: the demo season.",
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
            click.option(
                "--most-contradicted",
                type=float,
                default=0.01,
                show_default=True,
                help="Share of rows in which a column may contradict others and still be counted by.",
            ),
            click.option(
                "--most-unknown",
                type=float,
                default=0.20,
                show_default=True,
                help="Share of contact of unknown hardness beyond which bounds stand in place of a rate.",
            ),
            click.option(
                "--eye",
                metavar="84/100,180/200",
                help="Hard balls were ticked by an eye that ticked so many of so many hard ones and left so "
                "many of so many others unticked; hitlab eye measures it.",
            ),
            click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs."),
        )
    ):
        command = option(command)
    return command


def rate_options(command: Command) -> Command:
    """Add the two halves of a rate."""
    words = "Of what: swings, contact, in_play, pitches, plate_appearances, at_bats; what contains the event."
    command = click.option("--per", default="swings", show_default=True, help=words)(command)
    words = 'What is counted: hard, whiffs, contact, hits, strikeouts ...; or "swings at balls=0 strikes=0".'
    return click.option("--event", default="hard", show_default=True, help=words)(command)


WHEN: dict[str, Any] = {
    "multiple": True,
    "metavar": "TERM",
    "help": 'The situation: pitch_kind=breaking, strikes=2, "first pitch"; may be given several times.',
}


def claim_options(
    *,
    ranked: bool = False,
    law: bool = False,
    record: bool = True,
    rate: bool = True,
    cut: bool = True,
    less: bool = True,
    one_hitter: bool = False,
    when_required: bool = False,
    since_required: bool = False,
) -> Callable[[Command], Command]:
    """Return a decorator that adds what a claim takes.

    Parameters
    ----------
    ranked
        Some are compared: a minimum exposure and a club apply.
    law
        What is known of a larger league and of the hitters beside the table, and how alike swings of a game
        are, can be taken into account.
    record
        There is a record that counting can settle.
    rate
        The claim is about one rate, which the user names, in a situation and days.
    cut
        Single pitches speak for and against it.
    less
        It can be said the other way round.
    one_hitter
        It is about hitters only.
    when_required, since_required
        There is no such claim without a situation, or a day.
    """
    options = []
    if record:
        words = "Check today's list by counting, not the underlying rate."
        options.append(click.option("--record", is_flag=True, help=words))
    if rate:
        options += [
            click.option("--when", required=when_required, **WHEN),
            click.option(
                "--since",
                metavar="DAY",
                required=since_required,
                help="From this day on: 2031-05-15, or May 15 where the games are of one year.",
            ),
            click.option("--until", metavar="DAY", help="Up to this day."),
        ]
        if not one_hitter:
            who = click.Choice(["hitter", "pitcher", "club"])
            words = "Whose rate: a pitcher's is that of the hitters faced."
            options.append(
                click.option("--of", "subject", type=who, default="hitter", show_default=True, help=words)
            )
            if less:
                words = "The other way round: lowest, below, fewer."
                options.append(click.option("--less", is_flag=True, help=words))
    if ranked:
        words = "Fewest swings (or other denominator) to be ranked. Default: a quarter of the most."
        options += [
            click.option("--minimum", type=click.IntRange(0), help=words),
            click.option("--club", metavar="NAME", help="Compare the hitters of this club only."),
        ]
    words = "Put the answer on a picture, too: a .png or .svg file."
    options.append(click.option("--card", type=A_FILE, help=words))
    words = "Of the card: wide, square, upright, strip, or width and height in pixels, such as 1280x720."
    options.append(click.option("--size", default="wide", metavar="SIZE", show_default=True, help=words))
    if cut:
        words = "List the pitches for and against it: a .csv file, or a .otio edit timeline."
        options.append(click.option("--cut", type=A_FILE, help=words))
        words, many = "At most so many on either side of the list.", click.IntRange(1)
        options.append(click.option("--cut-most", type=many, default=10, show_default=True, help=words))
        words = "Of the video, and how its time codes count, for a timeline."
        rates = click.Choice(list(FRAME_RATES))
        options.append(
            click.option(
                "--frames-per-second", "frames", type=rates, default="30", show_default=True, help=words
            )
        )
    options += [
        click.option(
            "--holds-at", default=0.9, type=float, show_default=True, help="Holds from this chance."
        ),
        click.option(
            "--fails-at", default=0.1, type=float, show_default=True, help="Does not hold up to this chance."
        ),
    ]
    if law:
        options += _of_what_is_usual()
        options += _of_hitters()
        words = "Whether the mean may follow how many swings a hitter has. Default: weighed."
        answers = click.Choice(["yes", "no"])
        options.append(click.option("--by-exposure", type=answers, help=words))
        words = (
            "Pitch table of an earlier season of these hitters; may be given several times, the last first."
        )
        options.append(click.option("--earlier", type=A_FILE, multiple=True, help=words))
        words = "Take swings of one game for independent, without looking whether they are."
        options.append(click.option("--independent", is_flag=True, help=words))

    def add(command: Command) -> Command:
        command = season_options(command)
        for option in reversed(options):
            command = option(command)
        return source_options(rate_options(command) if rate else command)

    return add


def season_options(command: Command) -> Command:
    """Add what chooses a season of a table of several."""
    words = "Who is who in other seasons: by ids, by names, or none: the season by itself. Default: ids."
    answers = click.Choice(["ids", "names", "none"])
    command = click.option("--history", type=answers, help=words)(command)
    words = (
        "One season of a table of several, the earlier ones being its history where a rate has one; or "
        "career: all as one record. A season is a calendar year, or what the column season says."
    )
    return click.option("--season", metavar="SEASON", help=words)(command)


def usual_options(command: Command) -> Command:
    """Add the options by which is told what is usual, in a league or in somebody's own words."""
    for option in reversed(_of_what_is_usual()):
        command = option(command)
    return command


def kinds_options(command: Command) -> Command:
    """Add the options by which is told what the hitters are."""
    for option in reversed(_of_hitters()):
        command = option(command)
    return command


def _of_hitters() -> list[Command]:
    kinds = "Column that makes kinds of hitters (role, club), each with a law of its own where they differ."
    numbers = (
        "Column of numbers (age) that the mean may follow, with --groups alike in all kinds; "
        "may be given several times."
    )
    traits = "Table with one row a hitter that has these columns, where the pitches have not."
    return [
        click.option("--groups", metavar="COLUMN", help=kinds),
        click.option("--covariates", multiple=True, metavar="COLUMN", help=numbers),
        click.option("--traits", type=A_FILE, help=traits),
    ]


def _of_what_is_usual() -> list[Command]:
    league = "Pitch table of the whole league: what is usual there is then known."
    mapping = "TOML file that translates the league's table. Default: --mapping, if it is not checked."
    usual = "What is usual, in your own words: a range in which nine hitters in ten lie, as '8% to 18%'."
    sure = "How sure --usual is: as so many hitters' true rates would make it. Default: a club's."
    return [
        click.option("--league", type=A_FILE, help=league),
        click.option("--league-mapping", help=mapping),
        click.option("--usual", metavar="RANGE", help=usual),
        click.option("--usual-hitters", type=click.IntRange(2), metavar="NUMBER", help=sure),
    ]


def conventions_of(options: dict[str, Any]) -> Conventions:
    """Take the conventions out of what was typed."""
    from hitlab.counting.facts import Conventions

    names = ("hard_mph", "foul_tip", "hard_fouls", "most_contradicted", "most_unknown")
    return Conventions(**{name: options.pop(name) for name in names}, eye=_eye_of(options.pop("eye")))


def _eye_of(text: str | None) -> tuple[int, int, int, int] | None:
    """Take an eye's four counts out of what was typed."""
    if text is None:
        return None
    found = re.fullmatch(r"\s*(\d{1,9})\s*/\s*(\d{1,9})\s*,\s*(\d{1,9})\s*/\s*(\d{1,9})\s*", text)
    if found is None:
        raise ClaimError(
            f"--eye {text!r}: give hard balls ticked and others left unticked, as 84/100,180/200"
        )
    one, two, three, four = (int(part) for part in found.groups())
    return one, two, three, four


def pitches_of(path: Path | None, mapping: str | None) -> Any:
    """Return the pitches of a file, read and checked; the demo season where none is named.

    Raises
    ------
    ReadingError
        Where most of the file was not understood: what is left of it stands for nothing.
    """
    from hitlab.demonstration import demo_season
    from hitlab.pitches.storing import opens_as_checked

    pitches: Any = path if path is not None else demo_season()
    if path is None and mapping is not None:
        raise ClaimError("--mapping needs --file; the demo season needs no mapping")
    if path is not None and (mapping is not None or not opens_as_checked(path)):
        from hitlab.pitches.reading import read_pitches

        with quiet_warnings():
            pitches = read_pitches(path, mapping)
        if pitches.report.not_understood:
            raise ReadingError(pitches.report.not_understood)
        read = f"`hitlab read {path}{f' --mapping {mapping}' if mapping else ''}`"
        if pitches.report.rows_set_aside or pitches.report.values_made_missing:
            click.echo(
                f"{shown(path)}: {pitches.report.rows_set_aside:,} rows set aside, "
                f"{pitches.report.values_made_missing:,} values made missing; {shown(read)} tells which",
                err=True,
            )
        for question in pitches.report.questions:
            asked = question.partition("?")[0]
            answers = f"{path}: {asked}? {read} shows the lines of the mapping that answer it"
            click.echo(shown(answers), err=True)

    return pitches


def tried(what: str, made: Callable[[], Any], said: str, *, as_json: bool) -> Callable[[], None]:
    """Make something beside an answer; the answer stands where it cannot be made.

    Parameters
    ----------
    what
        What it is called where it cannot be made.
    made
        Makes it.
    said
        What is said once it is made; aside where the answer is JSON.
    as_json
        Whether the answer is.

    Returns
    -------
    callable
        Says what became of it. To be called once everything is made: whoever reads the output may have
        closed it, and then saying stops the command.
    """
    try:
        with quiet_warnings():
            made()
    except HitlabError as error:
        failed = f"No {what} was made: {shown_lines(str(error)).rstrip('.')}."
        return partial(click.echo, failed, err=True)
    return partial(click.echo, said, err=as_json)
