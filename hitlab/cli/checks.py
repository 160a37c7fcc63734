"""``hitlab check``: one command a kind of claim. Each puts what was typed into a question, and asks it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import click

from hitlab.cli.once import OnceGroup
from hitlab.cli.options import (
    EXIT_CODES,
    WHEN,
    claim_options,
    conventions_of,
    kinds_options,
    pitches_of,
    quiet_warnings,
    tried,
)
from hitlab.cli.usual import season_of, usual_of
from hitlab.errors import ClaimError
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs

if TYPE_CHECKING:
    from hitlab.questions import Question

__all__ = ["check"]

_STRETCH = click.option("--stretch", type=click.IntRange(1), help="Games a stretch. Default: 12.")
_FACTOR = click.option("--factor", type=float, help="How many times the usual odds. Default: 1.25.")
_LOOKED_AT = click.option(
    "--looked-at",
    type=click.Choice(["one day", "all days", "all hitters", "all days and hitters"]),
    help="What was looked at before day and hitter were chosen: the best of many changes by luck. "
    "Default: one day, chosen beforehand.",
)


@click.group(cls=OnceGroup)
def check() -> None:
    """Check a claim, and end with a sentence that is safe to say.

    Names need no quotes, and a surname is enough where only one has it. Exit code: 0 it holds, 1 it does not
    hold, 3 it is open, 2 it could not be checked.
    """


@check.command()
@click.argument("who", nargs=-1, metavar="[NAME]")
@claim_options(ranked=True, law=True)
def leads(who: tuple[str, ...], **options: Any) -> int:
    """Nobody does it more often than NAME (default: whoever has the highest observed rate)."""
    return _ask("leads", options, who)


@check.command()
@click.argument("who", nargs=-1, metavar="[NAME]")
@click.option("--top", type=int, default=5, show_default=True, help="How many places.")
@claim_options(ranked=True, law=True)
def top(who: tuple[str, ...], top: int, **options: Any) -> int:
    """NAME is one of the five (--top) best at it (default: whoever has the highest observed rate)."""
    return _ask("top", options, who, top=top)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME VALUE")
@claim_options(law=True)
def above(who: tuple[str, ...], **options: Any) -> int:
    """NAME does it more often than VALUE: 0.16, 16%, 1/6, or league for everybody else together."""
    name, value = _name_and_value(who, league=True)
    return _ask("above", options, name, value=value)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME VALUE")
@claim_options(law=True, less=False)
def below(who: tuple[str, ...], **options: Any) -> int:
    """NAME does it less often than VALUE: 0.16, 16%, 1/6, or league for everybody else together."""
    name, value = _name_and_value(who, league=True)
    return _ask("above", {**options, "less": True}, name, value=value)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME VALUE")
@click.option("--within", help="How far off it may be, such as 0.02. Default: a tenth of VALUE.")
@claim_options(law=True, less=False)
def near(who: tuple[str, ...], within: str | None, **options: Any) -> int:
    """NAME does it about as often as VALUE: 0.2, 20%, 1/5 or "one in five"."""
    name, value = _name_and_value(who)
    return _ask("near", options, name, value=value, within=within)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME OTHER")
@claim_options(law=True)
def ahead(who: tuple[str, ...], **options: Any) -> int:
    """NAME does it more often than OTHER."""
    return _ask("ahead", options, who, two_names=True)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@click.option(
    "--against",
    type=click.Choice(["rest", "usual"]),
    default="rest",
    show_default=True,
    help="Compare with the hitter's own rest, or the difference with everybody's.",
)
@claim_options(when_required=True)
def split(who: tuple[str, ...], against: str, **options: Any) -> int:
    """NAME does it more often in a situation than in the hitter's own rest.

    Whether it is more often there than the league does is: above NAME league --when ...
    """
    return _ask("split", options, who, against=None if against == "rest" else against)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@_STRETCH
@_FACTOR
@claim_options(one_hitter=True)
def hot(who: tuple[str, ...], stretch: int | None, factor: float | None, **options: Any) -> int:
    """NAME is on a hot streak: far above the hitter's usual rate over the last games."""
    return _ask("hot", options, who, stretch=stretch, factor=factor)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@_STRETCH
@_FACTOR
@claim_options(one_hitter=True, cut=False)
def steady(who: tuple[str, ...], stretch: int | None, factor: float | None, **options: Any) -> int:
    """NAME has kept to a usual rate (--since: from that day on), neither far above nor far below."""
    return _ask("steady", options, who, stretch=stretch, factor=factor)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@_LOOKED_AT
@claim_options(less=False, since_required=True)
def more(who: tuple[str, ...], looked_at: str | None, **options: Any) -> int:
    """NAME does it more often since a day than before."""
    return _ask("more", options, who, looked_at=looked_at)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@_LOOKED_AT
@claim_options(less=False, since_required=True)
def fewer(who: tuple[str, ...], looked_at: str | None, **options: Any) -> int:
    """NAME does it less often since a day than before."""
    return _ask("more", {**options, "less": True}, who, looked_at=looked_at)


@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@_FACTOR
@_LOOKED_AT
@claim_options(less=False, since_required=True)
def different(who: tuple[str, ...], factor: float | None, looked_at: str | None, **options: Any) -> int:
    """NAME is a different hitter since a day: the odds have changed by a quarter or more, up or down."""
    return _ask("more", {**options, "direction": "either"}, who, factor=factor, looked_at=looked_at)


@check.command()
@click.argument("who", nargs=-1, metavar="[NAME]")
@click.option(
    "--response",
    type=click.Choice(["whiff", "hard", "swing", "take", "same kind"]),
    default="whiff",
    show_default=True,
    help="What is said of the next pitch.",
)
@claim_options(rate=False)
def response(who: tuple[str, ...], response: str, **options: Any) -> int:
    """NAME misses less after a miss (default: all hitters together)."""
    return _ask("response", options, who, response=response)


@check.command()
@click.argument("first")
@click.argument("second")
@click.option("--first-when", "first_terms", **WHEN)
@click.option("--second-when", "second_terms", **WHEN)
@claim_options(record=False, rate=False, cut=False)
def together(
    first: str, second: str, first_terms: tuple[str, ...], second_terms: tuple[str, ...], **options: Any
) -> int:
    """Hitters who do FIRST more often do SECOND more often, too; each is written "hard per swings"."""

    def rate_of(words: str, terms: tuple[str, ...]) -> dict[str, Any]:
        from hitlab.two_rates.disjoint import RateOf

        rate = RateOf.called(words)
        return {"event": rate.event, "per": rate.per, **({"when": terms} if terms else {})}

    return _ask(
        "together", options, (), first=rate_of(first, first_terms), second=rate_of(second, second_terms)
    )


@check.command()
@click.argument("who", nargs=-1, metavar="[NAME]")
@click.option(
    "--behind", type=click.IntRange(0), default=0, show_default=True, help="Runs the club trails by."
)
@click.option("--outs", type=click.IntRange(0, 2), default=0, show_default=True)
@click.option("--bases", default="empty", show_default=True, help='Such as "first second", or full.')
@click.option(
    "--among", "candidates", multiple=True, metavar="NAME", help="Only these; may be given several times."
)
@click.option("--pitcher", metavar="NAME", help="The pitcher they would face.")
@click.option("--tie-wins", type=float, default=0.5, show_default=True, help="Chance to win after a tie.")
@click.option("--minimum", type=click.IntRange(0), help="Fewest plate appearances to be compared.")
@click.option("--plan", is_flag=True, help="Say how many more plate appearances would settle it.")
@kinds_options
@claim_options(record=False, rate=False)
def spot(
    who: tuple[str, ...],
    behind: int,
    outs: int,
    bases: str,
    candidates: tuple[str, ...],
    pitcher: str | None,
    tie_wins: float,
    plan: bool,
    **options: Any,
) -> int:
    """NAME is the right one for a spot in the home half of the last inning."""
    return _ask(
        "spot",
        options,
        who,
        gap=-behind,
        outs=outs,
        bases=bases,
        candidates=list(candidates) or None,
        pitcher={"pitcher": pitcher} if pitcher else None,
        tie_wins=tie_wins,
        plan=plan or None,
    )


def _name_and_value(words: tuple[str, ...], *, league: bool = False) -> tuple[tuple[str, ...], Any]:
    """Part what was typed into a name and the value behind it, which may be several words."""
    from hitlab.questions.question import LEAGUE_NAMES
    from hitlab.spoken import share_of

    if len(words) < 2:
        raise ClaimError("give a name and a value, such as: Izezno 16%")
    named = [name.split() for name in reversed(LEAGUE_NAMES)]
    for there in [name for name in named if league]:
        if [word.casefold() for word in words[-len(there) :]] == there:
            return words[: -len(there)], LEAGUE_NAMES[0]
    for at in range(1, len(words)):
        try:
            return words[:at], share_of(" ".join(words[at:]))
        except ClaimError:
            continue
    share_of(words[-1])  # says what a value looks like
    raise ClaimError(f"{' '.join(words)!r} is no name and value")


_FIELDS = (
    *("event", "per", "when", "since", "until", "club", "minimum", "subject", "direction", "independent"),
    *("groups", "covariates", "by_exposure", "season", "history"),
)


def _ask(
    kind: str, options: dict[str, Any], who: tuple[str, ...], *, two_names: bool = False, **own: Any
) -> int:
    """Put the options into a question, ask it, print the answer, and write what was asked for beside it."""
    from hitlab.questions import Question

    paths = {name: options.pop(name, None) for name in ("card", "size", "cut", "cut_most", "frames")}
    if paths["card"] is not None:  # said before the work, not after it
        from hitlab.evidence.cards import size_of

        size_of(paths["size"])
    for path, endings in ((paths["card"], (".png", ".svg")), (paths["cut"], (".csv", ".otio"))):
        if path is not None and path.suffix.lower() not in endings:
            raise ClaimError(f"{path}: end the name with {' or '.join(endings)}")
    check_outputs(
        {"--card": paths["card"], "--cut": paths["cut"]},
        inputs=[
            *(options.get(name) for name in ("path", "mapping", "league", "league_mapping", "traits")),
            *options.get("earlier", ()),
        ],
    )
    if options.pop("less", False):
        options["direction"] = "less"
    if options.get("by_exposure") is not None:
        options["by_exposure"] = options["by_exposure"] == "yes"
    fields = {name: options.pop(name) for name in _FIELDS if options.get(name) is not None}
    question = Question(
        kind=kind,
        who="" if two_names else " ".join(who),
        about="record" if options.pop("record", False) else "underlying",
        holds_at=options.pop("holds_at"),
        fails_at=options.pop("fails_at"),
        conventions=conventions_of(options),
        options={name: value for name, value in own.items() if value is not None},
        **fields,
    )
    as_json = options.pop("as_json")
    pitches = pitches_of(options["path"], options["mapping"])
    with quiet_warnings():
        if two_names:
            question = _two_names(question, pitches, who)
        question = replace(question, prior=usual_of(question, options, pitches))
        beside = {} if options.get("traits") is None else {"traits": options["traits"]}
        if options.get("earlier"):
            beside["earlier"] = [season_of(path, options["mapping"]) for path in options["earlier"]]
        claim = question.ask(pitches, **beside)
    try:
        if as_json:
            click.echo(json_text(claim.to_dict(), indent=2))
        else:
            from hitlab.cli.console import print_claim

            print_claim(claim)
    finally:  # although the reader of the output closed it, as `head` does
        _write(claim, pitches, as_json, **paths)
    return EXIT_CODES[claim.verdict]


def _two_names(question: Question, pitches: Any, who: tuple[str, ...]) -> Question:
    """Part what was typed into two names: as two words or quoted texts, else where each part is somebody."""
    from hitlab.counting.finding import find_row
    from hitlab.names import split_names
    from hitlab.questions.source import Source

    if len(who) < 2:
        raise ClaimError("give two names, such as: Izezno Mondezno")
    if len(who) == 2:
        name, other = who
    else:
        counts = Source.of(question, pitches).counts()
        name, other = split_names(list(who), lambda text: find_row(counts, text))
    return replace(question, who=name).with_options(other=other)


def _write(
    claim: Any, pitches: Any, as_json: bool, card: Any, size: str, cut: Any, cut_most: Any, frames: Any
) -> None:
    """Write the card and the cut list that were asked for; the answer stands where one cannot be made."""
    says = []
    if card is not None:
        from hitlab.evidence.cards import card as draw
        from hitlab.evidence.cards import game_dates

        says.append(
            tried(
                "card",
                lambda: draw(claim, card, size=size, dates=game_dates(pitches, claim.question)),
                f"Card saved as {shown(card)}",
                as_json=as_json,
            )
        )
    if cut is not None:
        from hitlab.evidence.cut_lists import cut_list
        from hitlab.evidence.time_codes import FRAME_RATES

        said = f"Pitches for and against it saved as {shown(cut)}"
        if cut.suffix.lower() == ".otio":
            said += f"; supposed of the video: {FRAME_RATES[frames].words}"
        says.append(
            tried(
                "cut list",
                lambda: cut_list(pitches, claim, most=cut_most).save(cut, frames_per_second=frames),
                said,
                as_json=as_json,
            )
        )
    for say in says:
        say()
