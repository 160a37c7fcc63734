"""The command line: ask, check a claim, list a rate, read a file, add it to a season, make one, fly a ball.

Exit codes: 0 the claim holds (or the command did its work), 1 it does not hold, 3 it is open, 2 it could
not be checked.
"""

from __future__ import annotations

import codecs
import errno
import gc
import io
import json
import re
import sys
from pathlib import Path

import click

from hitlab import __version__
from hitlab.cli.add import add
from hitlab.cli.asking import ask
from hitlab.cli.boards import board, dugout
from hitlab.cli.chart import chart
from hitlab.cli.charts import charters, eye
from hitlab.cli.checks import check
from hitlab.cli.desk import desk
from hitlab.cli.flights import carry, swing
from hitlab.cli.lessons import lessons
from hitlab.cli.lists import list_rates
from hitlab.cli.once import OnceGroup
from hitlab.cli.options import A_FILE, A_FILE_OR_FOLDER, COULD_NOT, LOOK_AT, FileOrFolder, quiet_warnings
from hitlab.cli.pages import page
from hitlab.errors import ClaimError, HitlabError, ReadingError
from hitlab.pitches.report import HALF_EMPTY, SOME_SET_ASIDE
from hitlab.showing import json_text, shown, shown_lines
from hitlab.writing import check_outputs, make_folder, write_file

__all__ = ["main"]

# What is imported for one command only is imported inside it: a text answer has to come in well under two
# seconds from a cold start.


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    gc.freeze()  # what is loaded by now stays to the end, and need not be gone through again and again
    if isinstance(sys.stdout, io.TextIOWrapper) and sys.stdout.errors == "strict":
        sys.stdout.reconfigure(errors=_ESCAPED)
    sys.exit(run(arguments))


def run(arguments: list[str] | None = None) -> int:
    """Run the command line and return its exit code; nothing but a plain sentence reaches the user."""
    _not_drawn()  # what pictures before this command lacked is none of its own
    try:
        return _run(arguments)
    finally:
        _tell_what_no_font_has()


def _run(arguments: list[str] | None) -> int:
    try:
        code = hitlab.main(args=arguments, prog_name="hitlab", standalone_mode=False)
    except click.exceptions.Abort:
        _complain("stopped")
        return COULD_NOT
    except click.ClickException as error:
        held = io.StringIO()
        error.show(held)
        click.echo(shown_lines(held.getvalue()), err=True, nl=False)
        return COULD_NOT
    except HitlabError as error:
        _complain(str(error), *getattr(error, "__notes__", ()))
        return COULD_NOT
    except SystemExit:
        # The reader of the output closed it, as `head` does: click leaves by itself then, and with 1, which
        # would say that the claim does not hold.
        return COULD_NOT
    except Exception as error:
        if isinstance(error, OSError) and error.errno == errno.ENOSPC:
            _complain(f"the answer cannot be written: {error.strerror}")
            return COULD_NOT
        _complain(
            f"an unexpected {type(error).__name__}: {error}. This is a fault of hitlab; please report it "
            "with the command you gave"
        )
        return COULD_NOT
    return int(code or 0)


def _not_drawn() -> list[str]:
    """Return the letters for which pictures had ? since last asked; no pictures are loaded for it."""
    lettering = sys.modules.get("hitlab.plots.lettering")
    return lettering.take_not_drawn() if lettering is not None else []


def _tell_what_no_font_has() -> None:
    """Say which letters a picture has not: whoever reads ? there takes it for what the table says."""
    letters = _not_drawn()
    if not letters:
        return
    more = f" and {len(letters) - _NAMED} more" if len(letters) > _NAMED else ""
    named = f"{', '.join(letters[:_NAMED])}{more}"
    them = "it" if len(letters) == 1 else "them"
    click.echo(
        f"In pictures ? stands for {named}: no installed font has {them}; install one that has.", err=True
    )


_NAMED = 8  # letters
_ESCAPED = "hitlab.escaped"


def _escaped(error: UnicodeError) -> tuple[str, int]:
    """Write letters that the output's encoding lacks as JSON would, for people and programs."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return json.dumps(error.object[error.start : error.end])[1:-1], error.end


codecs.register_error(_ESCAPED, _escaped)


def _complain(text: str, *notes: str) -> None:
    told = ". ".join(shown_lines(_ASKED.sub(_as_typed, part)).rstrip(".") for part in (text, *notes))
    click.echo(f"Could not be checked: {told}{'' if told.endswith('?') else '.'}", err=True)


_ASKED = re.compile(r"(?<![\w(])([a-z_]+)=(?:True\b)?(?=(\S?))")


def _as_typed(found: re.Match[str]) -> str:
    """Write an argument of a function as the option that it was given by."""
    option = f"--{found[1].replace('_', '-')}"
    if option not in _options(hitlab):
        return found[0]
    return option if found[2] in ("", ".", ",", ";", ":") else f"{option} "


def _options(command: click.Command) -> set[str]:
    own = {option for parameter in command.params for option in parameter.opts}
    for part in getattr(command, "commands", {}).values():
        own |= _options(part)
    return own


@click.group(
    cls=OnceGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__, message="hitlab %(version)s")
def hitlab() -> None:
    """From a table of pitches to a claim about a hitter that is safe to say.

    Without --file, every command uses the demo season: an invented league.
    """


hitlab.add_command(add)
hitlab.add_command(ask)
hitlab.add_command(check)
hitlab.add_command(carry)
hitlab.add_command(chart)
hitlab.add_command(charters)
hitlab.add_command(eye)
hitlab.add_command(desk)
hitlab.add_command(swing)
hitlab.add_command(list_rates)
hitlab.add_command(page)
hitlab.add_command(board)
hitlab.add_command(dugout)
hitlab.add_command(lessons)


@hitlab.command("read")
@click.argument("paths", type=A_FILE, nargs=-1, required=True, metavar="FILES...")
@click.option("--mapping", help="TOML file that translates the files' columns and words.")
@click.option("--roster", type=A_FILE, help="Table with number, name, nickname, side, class, club.")
@click.option("--year", type=int, help="Year of the dates, where they tell none.")
@click.option("--draft", type=A_FILE, help="Write a mapping to be completed, with every word seen.")
@click.option(
    "--most-set-aside",
    type=click.FloatRange(0, 1),
    default=SOME_SET_ASIDE,
    show_default=True,
    help="Share of rows set aside above which the report begins with it and the exit code is 3.",
)
@click.option(
    "--most-empty",
    type=click.FloatRange(0, 1),
    default=HALF_EMPTY,
    show_default=True,
    help="The same, of blanks in a column that has something to say on every pitch.",
)
@click.option(
    "--save",
    type=A_FILE_OR_FOLDER,
    help="Save the checked table as Parquet; into a folder (FOLDER/) a table a file, of a large one several.",
)
@click.option("--set-aside", type=A_FILE, help="Save what was set aside as CSV.")
@click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs.")
def read_files(
    paths: tuple[Path, ...],
    mapping: str | None,
    roster: Path | None,
    year: int | None,
    draft: Path | None,
    most_set_aside: float,
    most_empty: float,
    save: FileOrFolder | None,
    set_aside: Path | None,
    as_json: bool,
) -> int:
    """Show what the reader made of FILES: rows kept, set aside, assumed, contradicted.

    FILES are texts (.csv), workbooks (.xlsx, .ods), Parquet or Feather files, or folders of them; all are one
    table. With --draft a mapping to be completed is written instead, which the next run takes with --mapping;
    the columns that a --mapping names are taken over into it, and their words drafted.

    With --save FOLDER/ the files may have more rows than memory holds: each is read in pieces, and a run that
    was stopped goes on where it was. The folder is then given like a table: hitlab list --file FOLDER.

    Exit code: 0; 3 where the first lines of the report name what has to be looked at; 2 where FILES could not
    be read or more than half of their rows are set aside.
    """
    from hitlab.pitches.gathering import files_of
    from hitlab.pitches.reading import read_pitches
    from hitlab.pitches.storing import write_checked
    from hitlab.results import TABLE_ENDINGS

    source = paths[0] if len(paths) == 1 else list(paths)
    inputs = [path for path in paths if str(path) == "-" or not path.is_dir()]
    if len(inputs) < len(paths):
        inputs = files_of(source, aside=(roster,))[0]
    into = save.path if save is not None and save.is_folder else None
    table = save.path if save is not None and into is None else None
    outputs = {"--save": table, "--set-aside": set_aside, "--draft": draft}
    check_outputs(outputs, inputs=(*inputs, mapping, roster))
    if draft is not None:
        return _write_draft(source, draft, mapping, roster, year)
    if set_aside is not None and set_aside.suffix.lower() not in TABLE_ENDINGS:
        raise ClaimError(f"{set_aside}: end the name with {' or '.join(TABLE_ENDINGS)}")
    if into is not None:
        from hitlab.cli.reading import read_into_folder

        options = {"roster": roster, "year": year, "most_set_aside": most_set_aside, "most_empty": most_empty}
        found = read_into_folder(list(paths), into, mapping, set_aside=set_aside, as_json=as_json, **options)
        return LOOK_AT if found.alerts else 0
    with quiet_warnings():
        reading = read_pitches(
            source, mapping, roster=roster, year=year, most_set_aside=most_set_aside, most_empty=most_empty
        )
    saved = []
    failed = reading.report.not_understood
    if table is not None and not failed:
        write_checked(reading, table)
        saved.append(f"checked table saved as {shown(table)}")
    if set_aside is not None:
        reading.save_set_aside(set_aside)
        saved.append(f"rows and values set aside saved as {shown(set_aside)}")
    if as_json:
        rows = json.loads(reading.report.table().to_json(orient="records"))
        answer = {"report": rows, "saved": saved, "not_understood": failed or None}
        click.echo(json_text(answer, indent=2))
    else:
        click.echo(str(reading.report))
        for line in saved:
            click.echo(shown(line))
    if failed:  # a saved table would pass for checked, and nothing after it would tell what is missing
        raise ReadingError(f"{failed}{'. The table is not saved' if table is not None else ''}")
    return LOOK_AT if reading.report.alerts else 0


def _write_draft(
    source: Path | list[Path],
    draft: Path,
    mapping: str | None,
    roster: Path | None,
    year: int | None,
) -> int:
    """Write a mapping to be completed."""
    from hitlab.pitches.drafting import UNDECIDED_LINE, draft_mapping, lacking
    from hitlab.writing import files_read

    told = [name for name in _OF_A_TABLE if _given(name)]
    if told:
        named = " and ".join(f"--{name.replace('_', '-').removeprefix('as-')}" for name in told)
        raise ClaimError(f"--draft writes a mapping and reads no table: leave out {named}")
    if draft.suffix.lower() != ".toml":
        raise ClaimError(f"{draft}: a mapping is a TOML file; end the name with .toml")
    if draft.exists():
        raise ClaimError(f"{draft} is there already, and may hold what somebody completed: name another file")
    with quiet_warnings():
        text = draft_mapping(source, roster=roster, year=year, mapping=mapping)
    write_file(draft, text.encode(), inputs=files_read())
    waiting = len(UNDECIDED_LINE.findall(text))
    click.echo(
        f"mapping drafted as {shown(draft)}: {waiting:,} line(s) with a question mark. Complete it, then "
        f"read the files with --mapping {shown(draft)}"
    )
    absent = lacking(text)
    if absent:
        click.echo(
            f"no column was found that tells {' or '.join(absent)}, and without it nothing can be read: name "
            f"the right one under [columns], and have its words drafted: --mapping {shown(draft)} --draft "
            "ANOTHER.toml"
        )
    return 0


_OF_A_TABLE = ("save", "set_aside", "as_json", "most_set_aside", "most_empty")
"""What --draft has no use for."""


def _given(name: str) -> bool:
    """Say whether an option of the running command was typed."""
    source = click.get_current_context().get_parameter_source(name)
    return source is not None and source is not click.core.ParameterSource.DEFAULT


@hitlab.command("make")
@click.argument("folder", type=A_FILE)
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
    table, truth = make_folder(folder) / "season.parquet", folder / "truth.csv"
    check_outputs({"the season": table, "its truth": truth})
    season = make_season(hitters=hitters, clubs=clubs, pitches=pitches, seed=seed, effects=effects)
    write_checked(season.pitches, table)
    write_file(truth, season.truth.to_csv(index=False, lineterminator="\n").encode())
    click.echo(f"{len(season.pitches):,} pitches to {len(season.truth):,} hitters saved as {shown(table)}")
    click.echo(f"their true rates saved as {shown(truth)}")
    return 0
