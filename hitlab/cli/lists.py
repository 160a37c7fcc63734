"""``hitlab list``: a rate of everybody, highest first, in the terminal, as a table and as a picture."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click
import numpy as np

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import (
    A_FILE,
    WHEN,
    conventions_of,
    pitches_of,
    quiet_warnings,
    rate_options,
    season_options,
    source_options,
    tried,
    usual_options,
)
from hitlab.cli.usual import usual_of
from hitlab.errors import ClaimError
from hitlab.showing import json_text, shown, shown_name
from hitlab.writing import check_outputs, files_read, write_file

if TYPE_CHECKING:
    from hitlab.estimates import LeagueLaw

__all__ = ["list_rates"]

_ALL_DRAWN = 20  # a longer list is drawn by its head, and the rest as a cloud
_PIXELS_AN_INCH = 200  # of the pictures' 9.6 inches: as wide as a screen


@click.command("list", cls=OnceCommand)
@click.argument("who", nargs=-1, metavar="[NAME]")
@source_options
@rate_options
@usual_options
@click.option(
    "--minimum", type=click.IntRange(0), default=0, show_default=True, help="Leave out smaller exposures."
)
@click.option("--most", type=click.IntRange(1), default=20, show_default=True, help="Rows shown.")
@click.option(
    "--denominators",
    "lay_out",
    is_flag=True,
    help="Show the event over pitches, swings, contact, balls in play and plate appearances, side by side.",
)
@click.option("--when", **WHEN)
@click.option("--since", default="", metavar="DAY", help="From this day on.")
@click.option("--until", default="", metavar="DAY", help="Up to this day.")
@season_options
@click.option("--club", default="", metavar="NAME", help="List the hitters of this club only.")
@click.option("--card", type=A_FILE, help="Put the list on a picture, too: a .png or .svg file.")
@click.option("--save", type=A_FILE, help="Save the whole list, too: .csv, .xlsx or .parquet.")
def list_rates(
    who: tuple[str, ...],
    minimum: int,
    most: int,
    lay_out: bool,
    when: tuple[str, ...],
    since: str,
    until: str,
    season: str | None,
    history: Any,
    club: str,
    card: Path | None,
    save: Path | None,
    as_json: bool,
    event: str,
    per: str,
    **options: Any,
) -> int:
    """List a rate with its interval and its shrunk value, highest first.

    NAME is shown whatever the place. Everybody tells how far true rates differ, also those whom --minimum and
    --club leave out. Where --league or --usual tells what is usual, the shrunk rate without it stands beside.
    """
    from hitlab.counting.events import per_words
    from hitlab.counting.finding import find_row
    from hitlab.counting.rates import denominators, rate, rates_or_bounds
    from hitlab.estimates import LeagueLaw, shrink
    from hitlab.questions import Question
    from hitlab.questions.beside import Beside
    from hitlab.questions.faced_pitching import allow_for_faced
    from hitlab.questions.finely import Finely
    from hitlab.questions.fitted import Fitted
    from hitlab.questions.source import Source
    from hitlab.results import TABLE_ENDINGS, save_table
    from hitlab.wording import capitalised, club_called, percent, source_name

    for path, endings in ((card, (".png", ".svg")), (save, TABLE_ENDINGS)):
        if path is not None and path.suffix.lower() not in endings:  # said before the work, not after it
            raise ClaimError(f"{path}: end the name with {' or '.join(endings)}")
    inputs = tuple(options[name] for name in ("path", "mapping", "league", "league_mapping"))
    if lay_out and (options["league"] is not None or options["usual"] is not None):
        raise ClaimError("--denominators shows records: leave --league and --usual out, which change none")
    check_outputs({"--card": card, "--save": save}, inputs=inputs)
    question = Question(
        kind="list",
        event=event,
        per=per,
        when=when,
        since=since,
        until=until,
        season=season or "",
        history=history or "ids",
        club=club,
        about="record" if lay_out else "underlying",
        conventions=conventions_of(options),
    )
    pitches = pitches_of(options["path"], options["mapping"])
    drawn: Any
    with quiet_warnings():
        source = Source.of(question, pitches)
        by_eye = question.conventions.eye is not None  # the law behind ticks asks nothing of pitching
        faced_by = [] if lay_out or by_eye else source.faced_by
        chosen = (*source.question.when, *source.days)
        parted = Finely.of(source, chosen, faced_by)
        counts = parted.counts
        event, per = source.rate
        asked = find_row(counts, " ".join(who)) if who else None
        known, source = Beside.of(source.question).with_seasons_of(source, counts)
        told_beside = known.options(source, counts)
        among = Fitted(source, counts, totals=True, known=known)
        members, of = np.isin(np.arange(len(counts.data)), among.members), shown_name(among.club)
        told = usual_of(question, options, pitches)
        law = None if told is None else LeagueLaw(*told)
        if lay_out:
            # Laid side by side, the club's hitters are ranked among themselves.
            some = counts.only(members)
            laid = denominators(some, event, minimum=minimum)
            title = called = laid.title
            notes, order = (*counts.notes_on(event), *laid.notes), laid.order
            table, shown_rows, drawn = laid.table(), laid.table_for_people(), laid
            asked_label = None if asked is None else counts.labels[asked]
            asked_row = laid.labels.index(asked_label) if asked_label in laid.labels else None
            listed = np.ones(len(table), dtype=bool)
        else:
            rates, fit = rate(counts, event, per), shrink(counts, event, per, prior=law, **told_beside)
            called = rates.title
            faced = None if by_eye else allow_for_faced(source, parted if faced_by else None, fit)
            if faced is not None and faced.drawn is not None:
                fit = shrink(counts, event, per, faced=faced.drawn, prior=law, **told_beside)
            table, columns = rates.table(), [event, per, "rate", "low", "high"]
            listed = members & (table[per].to_numpy() >= minimum)
            if fit.unknown_share > fit.most_unknown:
                title = (
                    f"{rates.title}; hardness is unknown for {percent(fit.unknown_share)} of the contact, "
                    f"more than {percent(fit.most_unknown)}: two bounds stand in place of a rate, in order "
                    "of the lower bound"
                )
                notes, order = rates.notes, ["least"]
                drawn = replace(rates, data=rates.data[listed].reset_index(drop=True))
            else:
                title, order = f"{rates.title}; {fit.explanation}", ["shrunk"]
                notes = (*fit.notes, *(() if faced is None else (faced.note,)))
                table[["shrunk", "own_weight"]] = fit.table()[["shrunk", "own_weight"]]
                table.loc[fit.bounded, ["shrunk", "own_weight"]] = float("nan")
                columns += ["shrunk", "own_weight"]
                if law is not None:
                    drawn_by = None if faced is None else faced.drawn
                    alone = shrink(counts, event, per, faced=drawn_by, **told_beside).table()["shrunk"]
                    table["alone"] = alone.where(~fit.bounded)
                    columns.append("alone")
                    notes = (_usual_words(law), *notes)
                drawn = replace(fit, data=fit.data[listed].reset_index(drop=True))
            shown_rows = table[columns].copy()
            shown_rows["rate"] = rates_or_bounds(table)
            shown_rows.insert(0, "hitter", counts.labels)
            table, asked_row = table[listed], asked
        if asked is not None and (asked_row is None or not listed[asked_row]):
            few = f"has fewer than {minimum:,} {per_words('swings' if lay_out else per, 2)}"
            why = few if members[asked] else f"does not play for {club_called(of).name}"
            raise ClaimError(f"{counts.labels[asked]} is not on this list: the hitter {why}")
        if table.empty:
            what = per_words("swings" if lay_out else per, 2)
            raise ClaimError(f"nobody here has at least {minimum:,} {what}; lower minimum=")
    notes = (*among.season_notes, *notes)
    restricted = ", ".join(part for part in (source.words, _whom(len(table), int(members.sum()), of)) if part)
    if restricted:
        title, called = f"{title}; {restricted}", f"{called}; {restricted}"
    whole = table.sort_values(order, ascending=False, kind="stable")
    if not lay_out:  # of whom there is no record the shrunk rate is the mean of the others, which is no place
        whole = whole.sort_values(per, key=lambda exposure: exposure == 0, kind="stable")
    rows = whole.index[:most].tolist()
    left_out = max(len(whole) - most, 0)
    if asked_row is not None and asked_row not in rows:
        rows, left_out = [*rows, asked_row], left_out - 1
    try:
        if as_json:
            records = json.loads(table.loc[rows].to_json(orient="records"))
            click.echo(json_text({"title": title, "rows": records, "notes": list(notes)}, indent=2))
        else:
            from hitlab.cli.console import print_table

            print_table(title, shown_rows.loc[rows], notes, left_out)
    finally:  # although the reader of the output closed it, as `head` does
        says: list[Callable[[], None]] = []
        if save is not None:
            save_table(whole.reset_index(drop=True), save, inputs=inputs)
            says.append(partial(click.echo, f"List of {len(whole):,} saved as {shown(save)}", err=as_json))
        if card is not None:
            name = "" if asked is None else counts.labels[asked]
            told = {"of": restricted, "source": f"{source_name(counts.source)}; counts {counts.fingerprint}"}
            says.append(
                tried(
                    "card",
                    lambda: _draw(drawn, card, capitalised(called), name, told, inputs),
                    f"Card saved as {shown(card)}",
                    as_json=as_json,
                )
            )
        for say in says:
            say()
    return 0


def _usual_words(law: LeagueLaw) -> str:
    """Say what was told to be usual, and where the answer without it stands."""
    source = f" ({law.source})" if law.source else ""
    return f"what is usual{source}: {law.words}; “alone” is the shrunk rate from this table alone"


def _whom(listed: int, members: int, club: str) -> str:
    """Say which hitters of a club are listed; nothing where all hitters are."""
    if not club:
        return ""
    from hitlab.wording import club_called

    hitters = f"{members:,} hitter{'' if members == 1 else 's'} of {club_called(club).name}"
    return f"the {hitters}" if listed == members else f"{listed:,} of the {hitters}"


def _draw(
    drawn: Any, path: Path, title: str, name: str, told: dict[str, Any], inputs: tuple[Any, ...]
) -> None:
    """Save the picture of a list, with what is told of it in the picture, in its words and in the file."""
    from hitlab import plots
    from hitlab.counting.rates import Denominators

    asked = [name] if name else []
    if isinstance(drawn, Denominators):
        ax = plots.denominators_side_by_side(drawn, names=asked, **told)
    elif len(drawn.data) > _ALL_DRAWN:
        ax = plots.rate_crowd(drawn, names=asked, **told)
    else:
        ax = plots.rate_list(drawn, who=name, **told)
    figure = ax.get_figure(root=True)
    assert figure is not None
    words = plots.describe(ax)
    # Not before a picture is asked for, which says what to install where nothing can draw.
    from hitlab.plots.described import described_png, described_svg

    if path.suffix.lower() == ".svg":
        made = described_svg(figure, "hitlab-list", title, words)
    else:
        made = described_png(figure, title, words, told["source"], dots_per_inch=_PIXELS_AN_INCH)
    write_file(path, made, inputs=(*inputs, *files_read()))
