"""``hitlab check``: one command a kind of claim, each ending in the same way."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from typing import Any

import click

from hitlab.cli.once import OnceGroup
from hitlab.cli.options import (
    EXIT_CODES,
    claim_options,
    demand,
    pitches_and_tally,
    quiet_warnings,
)
from hitlab.errors import ClaimError, HitlabError

__all__ = ["check"]

_WHEN: dict[str, Any] = {
    "multiple": True,
    "metavar": "TERM",
    "help": "The situation, such as pitch_kind=breaking or strikes=2; may be given several times.",
}


@click.group(cls=OnceGroup)
def check() -> None:
    """Check a claim, and end with a sentence that is safe to say.

    Exit code: 0 it holds, 1 it does not hold, 3 it is open, 2 it could not be checked.
    """


@check.command()
@click.argument("hitter", required=False)
@claim_options(ranked=True, league=True)
def leads(hitter: str | None, **options: Any) -> int:
    """Nobody does it more often than HITTER (default: whoever has the highest observed rate)."""
    return _rate_claim("leads", options, hitter)


@check.command()
@click.argument("hitter", required=False)
@click.option("--top", type=int, default=5, show_default=True, help="How many places.")
@claim_options(ranked=True, league=True)
def top(hitter: str | None, top: int, **options: Any) -> int:
    """HITTER is one of the five (--top) best at it (default: whoever has the highest observed rate)."""
    return _rate_claim("top", options, hitter, top=top)


@check.command()
@click.argument("hitter")
@click.argument("value", type=float)
@claim_options(league=True)
def above(hitter: str, value: float, **options: Any) -> int:
    """HITTER does it more often than VALUE, a rate such as 0.16."""
    return _rate_claim("above", options, hitter, value)


@check.command()
@click.argument("hitter")
@click.argument("other")
@claim_options(league=True)
def ahead(hitter: str, other: str, **options: Any) -> int:
    """HITTER does it more often than OTHER."""
    return _rate_claim("ahead", options, hitter, other)


@check.command()
@click.argument("hitter")
@click.option("--when", "terms", required=True, **_WHEN)
@claim_options()
def split(hitter: str, terms: tuple[str, ...], **options: Any) -> int:
    """HITTER does it more often in a situation than otherwise."""
    return _rate_claim("split", options, hitter, terms=terms)


@check.command()
@click.argument("hitter")
@click.option(
    "--stretch", type=click.IntRange(1), default=12, show_default=True, help="Games that are 'now'."
)
@claim_options()
def hot(hitter: str, stretch: int, **options: Any) -> int:
    """HITTER is on a hot streak: far above the hitter's usual rate over the last games."""
    return _by_game("hot", options, hitter, stretch=stretch)


@check.command()
@click.argument("hitter")
@click.option("--since", metavar="DATE", help="From this day on, such as 2031-05-01.")
@click.option("--stretch", type=click.IntRange(1), default=12, show_default=True, help="Games a stretch.")
@claim_options(cut=False)
def steady(hitter: str, since: str | None, stretch: int, **options: Any) -> int:
    """HITTER has kept to a usual rate, neither far above nor far below."""
    from hitlab.splits.situations import day_of

    day = None if since is None else day_of(since).date().isoformat()
    return _by_game("steady", options, hitter, since=day, stretch=stretch)


@check.command()
@click.argument("hitter")
@click.option("--since", metavar="DATE", required=True, help="The later period begins on this day.")
@claim_options()
def more(hitter: str, since: str, **options: Any) -> int:
    """HITTER does it more often since a day than before."""
    import narwhals as nw

    from hitlab.splits.situations import day_of, situation

    extra = _rate_and_record(options)
    later, earlier = situation(f"date>={since}"), nw.col("date") < day_of(since)

    def checked(pitches: Any, counted: partial[Any], **bounds: float) -> Any:
        demand(pitches, ("date",))
        before, now = (counted(pitches, where=part) for part in (earlier, later.expression))
        for part, words in ((before, "before"), (now, "since")):
            if not len(part.data):
                raise ClaimError(f"the table has no pitch {words} {since}, so there is nothing to compare")
        return _kind("more")(before, now, hitter, than=f"before {since}", **extra, **bounds)

    return _answer(options, checked, later)


@check.command()
@click.argument("hitter", required=False)
@click.option(
    "--response",
    type=click.Choice(["whiff", "hard", "swing", "take", "same kind"]),
    default="whiff",
    show_default=True,
    help="What is said of the next pitch.",
)
@claim_options(record=False, rate=False)
def response(hitter: str | None, response: str, **options: Any) -> int:
    """HITTER misses less after a miss (default: all hitters together)."""
    from hitlab.approach.responses import after_whiff

    def checked(pitches: Any, counted: partial[Any], **bounds: float) -> Any:
        answers = after_whiff(
            pitches, responses=(response,), conventions=counted.keywords["conventions"]
        )  # one thing is looked at: the one that was asked
        return _kind("response")(counted(pitches), answers, hitter, response=response, **bounds)

    return _answer(options, checked)


@check.command()
@click.argument("first")
@click.argument("second")
@click.option("--first-when", "first_terms", **_WHEN)
@click.option("--second-when", "second_terms", **_WHEN)
@claim_options(record=False, rate=False, cut=False)
def together(
    first: str, second: str, first_terms: tuple[str, ...], second_terms: tuple[str, ...], **options: Any
) -> int:
    """Hitters who do FIRST more often do SECOND more often, too; each is written "hard per swings"."""
    from hitlab.splits.situations import situation
    from hitlab.two_rates.apart import RateOf
    from hitlab.two_rates.together import correlate_rates

    def rate_of(words: str, terms: tuple[str, ...]) -> RateOf:
        event, divided, per = words.replace(" ", "_").partition("_per_")
        if not divided:
            raise ClaimError(f'{words!r} is no rate; write it as "hard per swings"')
        return RateOf(event, per, situation(*terms) if terms else None)

    def checked(pitches: Any, counted: partial[Any], **bounds: float) -> Any:
        link = correlate_rates(
            pitches,
            rate_of(first, first_terms),
            rate_of(second, second_terms),
            conventions=counted.keywords["conventions"],
        )
        return _kind("together")(link, **bounds)

    return _answer(options, checked)


@check.command()
@click.argument("hitter", required=False)
@click.option(
    "--behind", type=click.IntRange(0), default=0, show_default=True, help="Runs the club trails by."
)
@click.option("--outs", type=click.IntRange(0, 2), default=0, show_default=True)
@click.option("--bases", default="empty", show_default=True, help='Such as "first second", or full.')
@click.option(
    "--among", "candidates", multiple=True, metavar="NAME", help="Only these; may be given several times."
)
@click.option("--against", "pitcher", metavar="NAME", help="The pitcher they would face.")
@click.option("--tie-wins", type=float, default=0.5, show_default=True, help="Chance to win after a tie.")
@click.option("--minimum", type=click.IntRange(0), help="Fewest plate appearances to be compared.")
@claim_options(record=False, rate=False, cut=False)
def spot(
    hitter: str | None,
    behind: int,
    outs: int,
    bases: str,
    candidates: tuple[str, ...],
    pitcher: str | None,
    tie_wins: float,
    minimum: int | None,
    **options: Any,
) -> int:
    """HITTER is the right one for a spot in the home half of the last inning."""
    from hitlab.game.base_out import Spot
    from hitlab.game.opposing import opposing_pitcher
    from hitlab.game.outcome_rates import outcome_counts

    def checked(pitches: Any, counted: partial[Any], **bounds: float) -> Any:
        counts = outcome_counts(pitches, conventions=counted.keywords["conventions"])
        against = opposing_pitcher(pitches, pitcher=pitcher) if pitcher else None
        return _kind("spot")(
            counts,
            Spot(-behind, outs, bases),
            hitter,
            candidates=list(candidates) or None,
            against=against,
            tie_wins=tie_wins,
            minimum=minimum,
            **bounds,
        )

    return _answer(options, checked)


def _kind(name: str) -> Callable[..., Any]:
    from hitlab.claims import KINDS

    return KINDS[name]


def _rate_claim(
    kind: str, options: dict[str, Any], *arguments: Any, terms: tuple[str, ...] = (), **extra: Any
) -> int:
    """Check a claim about one rate."""
    extra |= _rate_and_record(options)
    if "minimum" in options:
        extra["minimum"] = options.pop("minimum")
    league, league_mapping = options.pop("league", None), options.pop("league_mapping", None)
    independent = options.pop("independent", True)
    chosen = None
    if terms:
        from hitlab.splits.situations import situation

        chosen = situation(*terms)

    def checked(pitches: Any, counted: partial[Any], **bounds: float) -> Any:
        inside: list[Any] = []
        if chosen is not None:
            demand(pitches, chosen.columns)
            inside = [counted(pitches, where=chosen.expression)]
            extra["situation"] = chosen.words
        alone = independent or extra["about"] == "record"
        if league is not None:
            asked = {**options, "path": league, "mapping": league_mapping}
            rate = extra["event"], extra["per"]
            extra["prior"] = _law_of(asked, options["mapping"], counted(pitches), rate, alone)
        counts = _counts(pitches, counted, alone)
        return _kind(kind)(counts, *inside, *arguments, **extra, **bounds)

    return _answer(options, checked, chosen)


def _counts(pitches: Any, counted: partial[Any], independent: bool) -> Any:
    """Count by game, where there are games, unless swings are to be taken for independent."""
    from hitlab.counting.tallies import columns_of

    if independent or "game" not in columns_of(pitches):
        return counted(pitches)
    return counted(pitches, by=["hitter", "game"])


def _law_of(
    asked: dict[str, Any], mapping: str | None, counts: Any, rate: tuple[str, str], independent: bool
) -> Any:
    """Give what is usual in a league of which the table is a part."""
    from hitlab.claims.setting import Setting
    from hitlab.pitches.storing import is_checked

    path = asked["path"]
    if asked["mapping"] is None and not (path.suffix == ".parquet" and path.exists() and is_checked(path)):
        asked["mapping"] = mapping
    try:
        pitches, counted = pitches_and_tally(asked)
        league = counted(pitches)
        law = Setting.of(_counts(pitches, counted, independent), *rate, 0).fit.law
    except HitlabError as error:
        raise ClaimError(f"the league, {path}: {error}") from error
    if league.fingerprint == counts.fingerprint:
        raise ClaimError(f"the league, {path}, is the table itself; give the table of all its clubs")
    if len(league.data) < len(counts.data):
        raise ClaimError(
            f"the league, {path}, has {len(league.data):,} hitters, fewer than the table's "
            f"{len(counts.data):,}; give the table of all its clubs"
        )
    ours, theirs = (table.hard_means or "not known" for table in (counts, league))
    if "hard" in rate[0] and ours != theirs:
        raise ClaimError(
            f"the league, {path}, is counted otherwise: there hard means {theirs}, in the table {ours}; "
            "what is usual for one says nothing of the other. Leave --league out, or give a league that was "
            "judged alike"
        )
    return law


def _by_game(kind: str, options: dict[str, Any], hitter: str, **extra: Any) -> int:
    """Check a claim about form, which needs counts by game."""
    extra |= _rate_and_record(options)

    def checked(pitches: Any, counted: partial[Any], **bounds: float) -> Any:
        demand(pitches, ("game", "date"))
        return _kind(kind)(counted(pitches, by=["hitter", "game", "date"]), hitter, **extra, **bounds)

    return _answer(options, checked)


def _rate_and_record(options: dict[str, Any]) -> dict[str, Any]:
    rate = {name: options.pop(name) for name in ("event", "per")}
    return {**rate, "about": "record" if options.pop("record") else "underlying"}


def _answer(options: dict[str, Any], checked: Callable[..., Any], chosen: Any = None) -> int:
    """Check, print, and write the card and the cut list that were asked for."""
    as_json, card_path = (options.pop(name) for name in ("as_json", "card"))
    cut_path, most = options.pop("cut", None), options.pop("cut_most", None)
    for path, endings in ((card_path, (".png", ".svg")), (cut_path, (".csv", ".otio"))):
        if path is not None and path.suffix.lower() not in endings:  # said before the work, not after it
            raise ClaimError(f"{path}: end the name with {' or '.join(endings)}")
    bounds = {name: options.pop(name) for name in ("holds_at", "fails_at")}
    pitches, counted = pitches_and_tally(options)
    with quiet_warnings():
        claim = checked(pitches, counted, **bounds)
    if as_json:
        click.echo(json.dumps(claim.to_dict(), ensure_ascii=False, indent=2))
    else:
        from hitlab.cli.console import print_claim

        print_claim(claim)
    if card_path is not None:
        from hitlab.evidence.cards import card, game_dates

        try:
            card(claim, card_path, dates=game_dates(pitches))
            click.echo(f"Card saved as {card_path}", err=as_json)
        except HitlabError as error:  # the answer stands, only its picture does not
            click.echo(f"No card was made: {str(error).rstrip('.')}.", err=True)
    if cut_path is not None:
        from hitlab.evidence.cut_lists import cut_list

        try:
            with quiet_warnings():
                listed = cut_list(
                    pitches,
                    claim,
                    situation=chosen,
                    most=most,
                    conventions=counted.keywords["conventions"],
                )
            listed.save(cut_path)
            click.echo(f"Pitches for and against it saved as {cut_path}", err=as_json)
        except HitlabError as error:
            click.echo(f"No cut list was made: {str(error).rstrip('.')}.", err=True)
    return EXIT_CODES[claim.verdict]
