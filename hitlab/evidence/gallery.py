"""Every picture and every card of the demo season in one folder, with a page that shows them all.

To be looked at after a change, and compared: ``python -m hitlab.evidence --to FOLDER``. With ``--prints
FILE`` is written, too, what the tests hold the drawing to.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pandas as pd

from hitlab.claims.result import Claim
from hitlab.demonstration import demo_season
from hitlab.evidence.cards import SIZES, card, game_dates
from hitlab.evidence.drawn import Drawn, Print, save_prints
from hitlab.evidence.samples import SAMPLES
from hitlab.evidence.strokes import draw_png
from hitlab.questions.question import Question
from hitlab.showing import shown
from hitlab.wording import record_text
from hitlab.writing import make_folder, write_file

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from hitlab.counting.counts import Counts
    from hitlab.estimates.shrinkage import Fit

__all__ = ["gallery", "main", "pictures", "write_gallery"]

_DOTS_PER_INCH = 100
_HITTER = "Nadia Izezno"


def pictures() -> dict[str, Callable[[], Axes]]:
    """Return what draws each picture of the package, by its name: one entry at least a public function."""
    import hitlab
    from hitlab import approach, game, physics, plots, two_rates
    from hitlab.counting import denominators

    season = demo_season()
    counts = hitlab.tally(season)
    fit = hitlab.shrink(counts, "hard", "swings")
    games = hitlab.tally(season, by=["hitter", "game", "date"])
    club = pd.read_parquet(season, filters=[("club", "==", "Saltmere Lanterns")])
    sides = denominators(counts, "hard", minimum=150)
    longest: Any = club.groupby(["game", "plate_appearance"]).size().idxmax()
    fast, spin = hitlab.situation("pitch_kind=fastball"), hitlab.situation("pitch_kind=breaking")
    bins = pd.DataFrame(
        {
            "kind": "above",
            "setting": "all settings",
            "number": [120, 200, 180],
            "stated": [0.15, 0.60, 0.90],
            "came": [0.17, 0.58, 0.91],
            "error": [0.03, 0.035, 0.022],
        }
    )
    return {
        "rate_list": lambda: plots.rate_list(hitlab.rate(counts, "hard", per="swings")),
        "rate_list_most": lambda: plots.rate_list(fit, most=12),
        "rate_crowd": lambda: plots.rate_crowd(fit, names=[_HITTER]),
        "shrinkage": lambda: plots.shrinkage(fit),
        "rank_chances": lambda: plots.rank_chances(hitlab.ranks(fit)),
        "two_denominators": lambda: plots.two_denominators(sides),
        "two_denominators_rate": lambda: plots.two_denominators(sides, by="rate"),
        "denominators_side_by_side": lambda: plots.denominators_side_by_side(sides),
        "moving_rate": lambda: plots.moving_rate(hitlab.form_over_time(games, _HITTER)),
        "talent_link": lambda: plots.talent_link(
            two_rates.correlate_rates(
                season,
                two_rates.RateOf("contact", "swings", fast),
                two_rates.RateOf("contact", "swings", spin),
            )
        ),
        "against_league": lambda: plots.against_league(approach.fastball_readiness(club, measure="touched")),
        "zone_borders": plots.zone_borders,
        "whiff_answers": lambda: plots.whiff_answers(approach.after_whiff(season)),
        "win_chances": lambda: plots.win_chances(
            game.best_for_spot(game.outcome_counts(season), game.Spot(-1, 2, "first second"))
        ),
        "plate_appearance_strip": lambda: plots.plate_appearance_strip(club, *longest),
        "pitch_timeline": lambda: plots.pitch_timeline(expected_mph=95.0, thrown_mph=85.0),
        "calibration": lambda: plots.calibration(bins),
        "carry_against_launch": lambda: plots.carry_against_launch([90, 100]),
        "flight_paths": lambda: plots.flight_paths(
            physics.fly_path([90.0, 100.0], 28.0, backspin_rpm=2000.0)
        ),
        "collision_side_view": lambda: plots.collision_side_view(offset_in=0.5),
        "launch_against_offset": plots.launch_against_offset,
        "field_view": lambda: plots.field_view(physics.swing_outcomes([0.0, 0.5, 0.7, 1.5, 4.0])),
        "margin_map": plots.margin_map,
        "margin_shares": lambda: plots.margin_shares(physics.swing_margin(swings=2_000, seed=1)),
        "swings_became": lambda: plots.swings_became(_became(counts)),
        "swings_became_plain": lambda: plots.swings_became(_became(counts), plain=True),
        "standing": lambda: plots.standing(_standing(fit)),
        "standing_plain": lambda: plots.standing(_standing(fit), plain=True),
    }


def _became(counts: Counts) -> pd.DataFrame:
    """Return what became of the swings of the gallery's hitter, and of the others'."""
    table = counts.table()
    own = table["hitter"] == _HITTER
    ends = {"missed": "whiffs", "fouled off": "fouls", "in play": "in_play"}
    return pd.DataFrame(
        [
            {
                "words": words,
                "number": int(table.loc[own, name].sum()),
                "others": int(table.loc[~own, name].sum()),
            }
            for words, name in ends.items()
        ]
    )


def _standing(fit: Fit) -> pd.DataFrame:
    """Return where the gallery's hitter stands in a rate."""
    table = fit.table()
    own = table["hitter"] == _HITTER
    hard, swings = (table[name] for name in ("hard", "swings"))
    return table[["shrunk", "low", "high"]].assign(
        rate="hard-hit balls per swing",
        mine=own,
        others=hard[~own].sum() / swings[~own].sum(),
        said=[record_text(*each) for each in zip(hard, swings, strict=True)],
    )


def _claims() -> Iterator[tuple[str, Claim]]:
    """Give the first claim of every kind with each of its answers, and one that cannot be told."""
    season = demo_season()
    seen = set()
    for question in SAMPLES:
        claim = question.ask(season)
        answer = claim.answer
        if (claim.kind, answer) not in seen:
            seen.add((claim.kind, answer))
            yield f"{claim.kind}_{answer}".replace(" ", "_"), claim
    pitches = pd.read_parquet(season)
    pitches.loc[pitches.index % 3 != 0, "exit_mph"] = float("nan")
    claim = Question(kind="above", who=_HITTER, options={"value": "16%"}).ask(pitches)
    yield "above_cannot_be_told", claim


def gallery() -> Iterator[Drawn]:
    """Draw every picture, and of every claim its picture, its card in every size, and its second page."""
    from hitlab import plots

    for name, draw in pictures().items():
        ax = draw()
        yield _drawn("Pictures", name, ax.get_figure(root=True), plots.describe(ax))
    dates = game_dates(demo_season())
    for name, claim in _claims():
        ax = plots.claim(claim)
        yield _drawn("Claims", f"claim_{name}", ax.get_figure(root=True), plots.describe(ax))
        for size in SIZES:
            figure = card(claim, size=size, dates=dates)
            words = plots.describe(figure.axes[0])
            yield _drawn(f"Cards, {size}", f"card_{name}_{size}", figure, words)
        figure = card(claim, page="assumptions", dates=dates)
        words = plots.describe(figure.axes[0])
        yield _drawn("Second pages", f"card_{name}_assumptions", figure, words)


def _drawn(group: str, name: str, figure: Figure | None, words: str) -> Drawn:
    from matplotlib.text import Text

    assert figure is not None
    png, strokes = draw_png(figure, _DOTS_PER_INCH)
    width, height = (round(float(each) * _DOTS_PER_INCH) for each in figure.get_size_inches())
    texts = [text for text in figure.findobj(Text) if isinstance(text, Text) and text.get_visible()]
    written = tuple(said for text in texts if (said := text.get_text().strip()))
    return Drawn(group, name, words, written, strokes, png, (width, height))


def write_gallery(folder: Path, drawn: Iterator[Drawn] | list[Drawn]) -> dict[str, Print]:
    """Write pictures and page into a folder; return by name what they are remembered by.

    Parameters
    ----------
    folder
        Where to; made where it is not there.
    drawn
        From :func:`gallery`.
    """
    place = make_folder(folder)
    prints: dict[str, Print] = {}
    groups: dict[str, list[str]] = {}
    for one in drawn:
        write_file(place / f"{one.name}.png", one.png)
        prints[one.name] = one.print
        title = one.name.replace("_", " ")
        width, height = one.pixels
        groups.setdefault(one.group, []).append(
            f'<figure><a href="{one.name}.png"><img src="{one.name}.png" width="{width}" height="{height}" '
            f'loading="lazy" alt="{escape(shown(one.words))}"></a>'
            f"<figcaption>{escape(title)}</figcaption></figure>"
        )
    parts = "".join(
        f'<section><h2 id="g{number}">{escape(group)}</h2>'
        f'<div class="{_class_of(group)}">{"".join(figures)}</div></section>'
        for number, (group, figures) in enumerate(groups.items())
    )
    ways = "".join(
        f'<li><a href="#g{number}">{escape(group)} ({len(figures)})</a></li>'
        for number, (group, figures) in enumerate(groups.items())
    )
    page = _PAGE.replace("<!-- ways -->", ways).replace("<!-- parts -->", parts)
    write_file(place / "index.html", page.encode())
    return prints


def _class_of(group: str) -> str:
    return "strips" if group.endswith("strip") else "tiles"


_PAGE = """<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Pictures and cards of the demo season</title>
<style>
body { font: 1rem/1.5 sans-serif; margin: 2rem; color: #1F2A33; background: #FFFFFF; }
a { color: #0B6478; }
figure { margin: 0; }
img { max-width: 100%; height: auto; border: 1px solid #868F96; }
.tiles { display: grid; gap: 1.5rem; grid-template-columns: repeat(auto-fill, minmax(22rem, 1fr)); }
.strips { display: grid; gap: 1.5rem; }
.strips img { background: #5A7A5A; }
</style>
</head>
<body>
<main>
<h1>Pictures and cards of the demo season</h1>
<p>Everything here is drawn from an invented league. Behind strips the page is green, to show what of them is
seen through.</p>
<nav aria-label="Groups"><ul><!-- ways --></ul></nav>
<!-- parts -->
</main>
</body>
</html>
"""


def main(arguments: list[str] | None = None) -> None:
    """Draw everything into a folder, and write what it is remembered by where asked."""
    parser = argparse.ArgumentParser(
        prog="python -m hitlab.evidence", description="Draw every picture and card of the demo season."
    )
    parser.add_argument("--to", required=True, type=Path, help="the folder; its index.html shows them all")
    parser.add_argument("--prints", type=Path, help="write what the tests hold them to into this file, too")
    told = parser.parse_args(arguments)
    prints = write_gallery(told.to, gallery())
    print(f"{len(prints):,} pictures drawn; open {told.to / 'index.html'}")
    if told.prints is not None:
        save_prints(prints, told.prints)
        print(f"what they are remembered by is in {told.prints}")
