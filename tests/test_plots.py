"""Pictures of results: the drawn data read back, the words, the labels, and what is left alone."""

from __future__ import annotations

import base64
import re
import subprocess
import sys
from dataclasses import replace
from functools import cache
from itertools import combinations

import matplotlib
import numpy as np
import pandas as pd
import pytest
from matplotlib import pyplot
from matplotlib.collections import PathCollection
from matplotlib.figure import Figure

import hitlab
from hitlab import plots
from hitlab.errors import HitlabError, MissingColumnsError, UnknownHitterError
from hitlab.estimates.ranking import Ranks
from hitlab.plots.registry import draws
from hitlab.questions import KINDS
from hitlab.wording import chance_text, rate_text
from tests.needs import package

LONG = "Maria-Magdalena Konstantinopolitanska-Feathermoorhollow von und zu Oberunterwaldhausen"
NAMES = [
    "Ada Yarl",
    LONG,
    "Íñigo Žižum-Grönvall",
    "שרה למט-גיר",
    "محمد الغزمري",
    "$5 a_b^2 $x$ {O'Nurl}",
    "Bo",
]


@cache
def counts(hitters):
    """Counts of so many hitters, with ties and one without a swing where there are more than two."""
    rng = np.random.default_rng(3)
    number = np.arange(hitters)
    swings = rng.integers(40, 600, hitters)
    in_play = (swings * rng.uniform(0.3, 0.6, hitters)).astype(int)
    hard = rng.binomial(in_play, 0.35)
    names = [NAMES[n] if n < len(NAMES) else f"Hitter {n:03d}" for n in number]
    if hitters > 2:
        swings[1], in_play[1], hard[1] = swings[0], in_play[0], hard[0]
        swings[2] = in_play[2] = hard[2] = 0
    contact = in_play + (swings - in_play) // 2
    table = pd.DataFrame({"hitter": names, "pitches": 2 * swings, "swings": swings})
    return hitlab.Counts.from_table(
        table.assign(
            whiffs=swings - contact, fouls=contact - in_play, contact=contact, in_play=in_play, hard=hard
        )
    )


@cache
def result(kind, hitters):
    table = counts(hitters)
    if kind == "denominators":
        return hitlab.counting.denominators(table, "hard")
    if kind == "rate":
        return hitlab.rate(table, "hard", "swings")
    fit = hitlab.shrink(table, "hard", "swings")
    return fit if kind == "fit" else hitlab.ranks(fit)


PICTURES = {
    "two_denominators": ("denominators", plots.two_denominators, {}),
    "two_denominators by rate": ("denominators", plots.two_denominators, {"by": "rate"}),
    "denominators_side_by_side": ("denominators", plots.denominators_side_by_side, {}),
    "rate_list": ("rate", plots.rate_list, {}),
    "rate_list of a fit": ("fit", plots.rate_list, {}),
    "shrinkage": ("fit", plots.shrinkage, {}),
    "rank_chances": ("ranks", plots.rank_chances, {}),
}


def picture(name, hitters, ax=None):
    kind, function, options = PICTURES[name]
    return function(result(kind, hitters), ax, **options)


def written(figure):
    figure.canvas.draw()
    axes = [*figure.axes, *(child for ax in figure.axes for child in ax.child_axes)]
    found = [text for ax in axes for text in ax.texts if text.get_text()]
    for ax in axes:
        if ax.axison:
            low, high = sorted(ax.get_xlim())
            found += [
                label
                for label, place in zip(ax.get_xticklabels(), ax.get_xticks(), strict=True)
                if low <= place <= high and label.get_text()
            ]
            found += [ax.xaxis.label] if ax.xaxis.label.get_text() else []
    return found


def assert_no_text_is_cut_or_covered(figure):
    texts = written(figure)
    # The box of the letters; an annotation's own box has its thin line in it.
    boxes = [matplotlib.text.Text.get_window_extent(text) for text in texts]
    for text, box in zip(texts, boxes, strict=True):
        assert box.x0 >= 0, text
        assert box.y0 >= 0, text
        assert box.x1 <= figure.bbox.x1, text
        assert box.y1 <= figure.bbox.y1, text
    for (one, a), (other, b) in combinations(zip(texts, boxes, strict=True), 2):
        width, height = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        assert width <= 0.5 or height <= 0.5, (one, other, width, height)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("hitters", [1, 2, 10, 150])
@pytest.mark.parametrize("name", PICTURES)
def test_every_text_is_inside_and_none_covers_another(name, hitters):
    ax = picture(name, hitters)
    assert_no_text_is_cut_or_covered(ax.figure)
    assert len(plots.describe(ax)) > 60


def collections(ax):
    return {each.get_label(): each for each in ax.collections}


def segments(*groups):
    return sorted(tuple(map(tuple, line)) for group in groups for line in group.get_segments())


@pytest.mark.parametrize("by", ["rank", "rate"])
@pytest.mark.parametrize("hitters", [2, 10, 150])
def test_the_slope_is_drawn_from_the_table(by, hitters):
    laid = result("denominators", hitters)
    table = laid.table().dropna()
    column = "rank" if by == "rank" else "per"
    ax = plots.two_denominators(laid, by=by)
    drawn = collections(ax)
    wanted = sorted(
        ((0.0, float(left)), (1.0, float(right)))
        for left, right in zip(table[f"{column}_in_play"], table[f"{column}_swings"], strict=True)
    )
    np.testing.assert_allclose(segments(drawn["named"], drawn["others"]), wanted)
    assert (ax.get_ylim()[0] > ax.get_ylim()[1]) == (by == "rank")  # the first is at the top


def test_a_tie_is_marked_and_said_on_both_sides():
    laid = result("denominators", 10)
    table = laid.table()
    assert table["rank_swings"].iloc[0] == table["rank_swings"].iloc[1]
    ax = plots.two_denominators(laid, names=["Ada Yarl", LONG])
    labels = [text.get_text() for text in ax.texts if "Ada Yarl" in text.get_text()]
    assert any(label.startswith(f"{int(table['rank_swings'].iloc[0])}=  Ada Yarl") for label in labels)
    assert f"equal number {int(table['rank_swings'].iloc[0])} per swing" in plots.describe(ax)


def test_the_leaders_of_both_lists_are_in_the_title_and_the_words():
    laid = result("denominators", 150)
    table = laid.table()
    ax = plots.two_denominators(laid)
    title = next(text.get_text() for text in ax.texts if text.get_weight() == "bold")
    for per in ("in_play", "swings"):
        first = table.loc[table[f"rank_{per}"] == 1].iloc[0]
        assert first["hitter"] in title
        told = f"{rate_text(first[f'per_{per}'])}, {first['hard']} of {first[per]}"
        assert told in plots.describe(ax)
        assert any(first["hitter"] in t.get_text() and told in t.get_text() for t in ax.texts)


def test_panels_show_the_same_hitters_in_the_same_order():
    laid = result("denominators", 150)
    shown = laid.table().sort_values("rank_swings", kind="stable").head(10)
    ax = plots.denominators_side_by_side(laid)
    assert len(ax.child_axes) == len(laid.over)
    for panel, per in zip(ax.child_axes, laid.over, strict=True):
        places = panel.collections[0].get_offsets()
        ranks = shown[f"rank_{per}"].to_numpy(float)
        np.testing.assert_array_equal(places[:, 0], ranks)
        np.testing.assert_array_equal(places[:, 1], np.arange(10))
        # One scale for all panels: a rank stands at the same place in each.
        assert panel.get_xlim() == ax.child_axes[0].get_xlim()
        written_there = [text.get_text() for text in panel.texts]
        for _, row in shown.iterrows():
            told = f"{rate_text(row[f'per_{per}'])}\n{int(row['hard'])} of {int(row[per]):,}"
            assert any(
                told in text and text.startswith(str(int(row[f"rank_{per}"]))) for text in written_there
            )
        # Who leads per swing, and who per ball in play, are marked in every panel where they are shown.
        shades = {tuple(color) for color in panel.collections[0].get_facecolors()}
        leads = [frozenset(shown.index[shown[f"rank_{name}"] == 1]) for name in ("swings", "in_play")]
        assert len(shades) == 1 + len({lead for lead in leads if lead})


def test_equal_exposures_are_not_said_to_be_pulled_by_size():
    alike = pd.DataFrame({"hitter": list("ABCDE"), "swings": 100, "hard": [10, 20, 15, 15, 30]})
    ax = plots.shrinkage(hitlab.shrink(alike, "hard", "swings"))
    said = " ".join(text.get_text() for text in ax.texts)
    assert "small records" not in said
    assert "all are pulled alike" in said
    assert "1 under another of the same rates" in said.replace("\n", " ")
    ax = plots.shrinkage(hitlab.shrink(alike.assign(swings=[100, 100, 90, 100, 100]), "hard", "swings"))
    assert "small records are pulled most" in " ".join(text.get_text() for text in ax.texts)


@pytest.mark.parametrize("hitters", [1, 2, 10, 150])
@pytest.mark.parametrize("kind", ["rate", "fit"])
def test_the_list_is_drawn_from_the_table(kind, hitters):
    given = result(kind, hitters)
    value = "rate" if kind == "rate" else "shrunk"
    table = given.table()
    table = table[table["rate"].notna()].sort_values(value, ascending=False, kind="stable")
    ax = plots.rate_list(given)
    drawn = collections(ax)
    np.testing.assert_allclose(drawn[value].get_offsets(), np.c_[table[value], np.arange(len(table))])
    np.testing.assert_allclose([s[:, 0] for s in drawn["intervals"].get_segments()], table[["low", "high"]])
    if kind == "fit":
        np.testing.assert_allclose(drawn["rate"].get_offsets()[:, 0], table["rate"])
        (mean,) = [line for line in ax.lines if line.get_label() == "mean"]
        assert set(mean.get_xdata()) == {given.mean}
    said = " ".join(text.get_text() for text in ax.texts).replace("\u00a0", " ").replace("\n", " ")
    assert ("90 % Wilson interval" if kind == "rate" else "90 % posterior interval") in said
    first = table.iloc[0]
    assert f"{first['hard']} of {first['swings']}" in said
    alt = plots.describe(ax)
    assert f"{first['hitter']} {rate_text(first[value])}" in alt
    assert (
        f"{rate_text(first['low'])} to {rate_text(first['high'])}, {first['hard']} of {first['swings']}"
        in alt
    )
    if hitters > 2:
        assert "1 without swings" in said
        assert "1 without swings" in alt


def test_the_kind_and_level_on_the_picture_are_those_of_the_result():
    other = hitlab.rate(counts(10), "hard", "swings", interval="clopper-pearson", level=0.5)
    said = (
        " ".join(text.get_text() for text in plots.draw(other).texts)
        .replace("\u00a0", " ")
        .replace("\n", " ")
    )
    assert "50 % Clopper-Pearson interval" in said
    fit = hitlab.shrink(counts(10), "hard", "swings", level=0.8)
    said = (
        " ".join(text.get_text() for text in plots.rate_list(fit).texts)
        .replace("\u00a0", " ")
        .replace("\n", " ")
    )
    assert "80 % posterior interval" in said


@pytest.mark.parametrize("hitters", [1, 2, 10, 150])
def test_the_shrinkage_is_drawn_from_the_table(hitters):
    fit = result("fit", hitters)
    table = fit.table()
    table = table[table["rate"].notna()]
    ax = plots.draw(fit)
    drawn = collections(ax)
    wanted = sorted(
        ((0.0, raw), (1.0, shrunk)) for raw, shrunk in zip(table["rate"], table["shrunk"], strict=True)
    )
    np.testing.assert_allclose(segments(drawn["named"], drawn["others"]), wanted)
    (mean,) = [line for line in ax.lines if line.get_label() == "mean"]
    assert set(mean.get_ydata()) == {fit.mean}
    # Size by exposure: areas in proportion.
    rings = [c for c in ax.collections if len(c.get_offsets()) and c.get_label().startswith("_")]
    areas = np.concatenate([ring.get_sizes() for ring in rings])
    assert areas.max() / areas.min() == pytest.approx(table["swings"].max() / table["swings"].min())
    alt = plots.describe(ax)
    assert f"mean of all, {rate_text(fit.mean)}" in alt
    top = table.loc[table["rate"].idxmax()]
    assert f"{top['hard']} of {top['swings']}: {rate_text(top['rate'])} to {rate_text(top['shrunk'])}" in alt


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("hitters", [2, 10, 150])
def test_the_chances_are_drawn_from_the_table(hitters):
    given = result("ranks", hitters)
    table = given.table().head(15)
    ax = plots.draw(given)
    drawn = collections(ax)
    for name in ("chance_best", "chance_top"):
        np.testing.assert_allclose(drawn[name].get_offsets(), np.c_[100 * table[name], np.arange(len(table))])
    said = [text.get_text() for text in ax.texts]
    alt = plots.describe(ax)
    for _, row in table.iterrows():
        assert f"{row['rank_low']} to {row['rank_high']}" in said
        assert chance_text(row["chance_best"]) in said
        best, top = chance_text(row["chance_best"]), chance_text(row["chance_top"])
        assert f"best {best}, top {given.top} {top}" in alt


@cache
def claims():
    table = counts(150)
    inside = hitlab.Counts.from_table(
        table.table().assign(**{name: table.table()[name] // 3 for name in table.names})
    )
    asked = {"hitter": "Ada Yarl", "top": 5, "value": 0.16, "other": "Bo"}
    made = {}
    for about in ("underlying", "record"):
        made[f"leads {about}"] = hitlab.check_leads(table, about=about)
        made[f"top {about}"] = hitlab.check_top(table, "Ada Yarl", about=about)
        made[f"above {about}"] = hitlab.check_above(table, "Ada Yarl", asked["value"], about=about)
        made[f"ahead {about}"] = hitlab.check_ahead(table, "Ada Yarl", LONG, about=about)
        made[f"split {about}"] = hitlab.check_split(
            table, "Bo", inside=inside, situation="on sliders", about=about
        )
    return made


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("about", ["underlying", "record"])
@pytest.mark.parametrize("kind", ["leads", "top", "above", "ahead", "split"])
def test_a_claim_is_drawn_from_its_evidence(kind, about):
    claim = claims()[f"{kind} {about}"]
    ax = plots.draw(claim)
    assert_no_text_is_cut_or_covered(ax.figure)
    drawn = collections(ax)
    table = claim.table()
    shrunk = "shrunk" in table.columns and about == "underlying"
    compared = kind == "split" and about == "underlying"  # drawn is the difference, which the chance is of
    told = [claim.numbers["log_odds_ratio"]] if compared else table["shrunk" if shrunk else "rate"]
    np.testing.assert_allclose(drawn["value"].get_offsets()[:, 0], told)
    if compared:
        ends = [claim.numbers["ratio_low"], claim.numbers["ratio_high"]]
        np.testing.assert_allclose(drawn["intervals"].get_segments()[0][:, 0], ends)
    elif shrunk or kind == "split":
        np.testing.assert_allclose(
            [s[:, 0] for s in drawn["intervals"].get_segments()], table[["low", "high"]]
        )
    if kind == "above":
        (line,) = [line for line in ax.lines if line.get_label() == "line"]
        assert set(line.get_xdata()) == {claim.numbers["value"]}
    said = " ".join(text.get_text() for text in ax.texts).replace("\u00a0", " ").replace("\n", " ")
    alt = plots.describe(ax)
    assert claim.verdict in said.casefold()
    assert claim.say_in_full in alt
    assert f"{table['hard'].iloc[0]} of {table['swings'].iloc[0]}" in said
    if claim.chance is not None:
        assert chance_text(claim.chance) in said
        assert ("where the true one lies" if compared else "where the true rate lies") + ", 90 % sure" in said


@pytest.mark.slow
def test_the_claims_drawn_here_are_kinds_of_the_registry():
    assert {name.split()[0] for name in claims()} <= set(KINDS)


EMPTY = {
    "rate": lambda: hitlab.rate(counts(10), "hard", "swings", minimum=10_000),
    "denominators": lambda: hitlab.counting.denominators(counts(10), "hard", minimum=10_000),
    "fit": lambda: replace(result("fit", 10), data=result("fit", 10).data.head(0)),
    "ranks": lambda: replace(result("ranks", 10), data=result("ranks", 10).data.head(0)),
    "claim": lambda: replace(claims()["leads record"], evidence=pd.DataFrame()),
}


@pytest.mark.parametrize("kind", EMPTY)
def test_an_empty_result_gives_a_plain_message(kind):
    ax = plots.draw(EMPTY[kind]())
    (text,) = ax.texts
    assert text.get_text() == plots.describe(ax)
    assert re.search("nothing|no rate|no rates", text.get_text())
    assert not ax.collections
    assert_no_text_is_cut_or_covered(ax.figure)
    if kind == "denominators":
        assert plots.denominators_side_by_side(EMPTY[kind]()).texts


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("name", PICTURES)
def test_the_callers_axes_are_used_and_nothing_else_is_touched(name):
    before = dict(matplotlib.rcParams)
    figure, other = Figure((20, 9)), pyplot.figure()
    try:
        left, right = figure.subplots(1, 2)
        right.plot([1, 2], [3, 4])
        held = (
            right.get_position().bounds,
            right.get_xlim(),
            len(right.get_children()),
            left.get_position().bounds,
        )
        assert picture(name, 10, left) is left
        assert (
            right.get_position().bounds, right.get_xlim(), len(right.get_children()),
            left.get_position().bounds,
        ) == held  # fmt: skip
        assert figure.axes == [left, right]
        assert pyplot.gcf() is other
        assert not other.axes
        assert picture(name, 10).figure not in (figure, other)
        assert pyplot.get_fignums() == [other.number]
        assert dict(matplotlib.rcParams) == before
        assert plots.describe(left)
        assert plots.describe(right) == ""
    finally:
        pyplot.close(other)


def test_draw_knows_results_by_type_and_says_what_it_knows():
    class Better(Ranks):
        pass

    fields = {name: getattr(result("ranks", 10), name) for name in Ranks.__slots__}
    assert plots.draw(Better(**fields)).collections

    class Mine:
        pass

    with pytest.raises(
        HitlabError, match="no picture of a Mine; there are pictures of: Claim, Den"
    ) as caught:
        plots.draw(Mine())
    assert "table()" not in str(caught.value)  # it has none
    with pytest.raises(HitlabError, match=r"no picture of an Axes; "):
        plots.draw(Figure().add_subplot())

    @draws(Mine)
    def mine(_, ax=None, *, size=1):
        return ax, size

    assert plots.draw(Mine(), "axes", size=3) == ("axes", 3)


def test_what_cannot_be_drawn_is_said():
    laid = result("denominators", 10)
    with pytest.raises(MissingColumnsError, match="per plate appearance: not among the counts"):
        plots.two_denominators(laid, left="plate_appearances")
    with pytest.raises(
        UnknownHitterError, match="nobody on this picture is called 'Ada Yar'; the nearest is Ada"
    ):
        plots.rate_list(result("rate", 10), names=["Ada Yar"])


def test_names_asked_for_are_the_ones_named():
    ax = plots.two_denominators(result("denominators", 150), names=["hitter 077"])
    assert len(collections(ax)["named"].get_segments()) == 1
    ax = plots.rate_list(result("rate", 150), names=["Hitter 077", "Hitter 100"])
    assert sum("Hitter" in text.get_text() for text in ax.texts) == 2
    shown = plots.rank_chances(result("ranks", 150), names=["Hitter 077"], most=3)
    assert len(collections(shown)["chance_best"].get_offsets()) == 1
    assert len(collections(plots.rate_list(result("rate", 150), most=5))["rate"].get_offsets()) == 5


@pytest.mark.parametrize("hitters", [5, 20, 32, 150])
def test_a_list_is_as_tall_as_a_slide_can_show_unless_its_names_need_more(hitters):
    figure = plots.rate_list(result("rate", hitters)).figure
    names_need = 1.7 + 0.21 * hitters if hitters <= 32 else 0.0
    assert figure.get_figheight() <= max(plots.look.TALLEST, names_need)


def test_outside_a_notebook_show_prints_the_words(capsys):
    ax = plots.draw(result("rate", 10))
    plots.show(ax)
    assert capsys.readouterr().out.strip() == plots.describe(ax)


def test_in_a_notebook_show_puts_the_words_beside_the_picture(monkeypatch):
    shell = type("Shell", (), {"kernel": object()})()
    ipython = package("IPython")
    sent = []
    monkeypatch.setattr(ipython, "get_ipython", lambda: shell)
    monkeypatch.setattr(ipython.display, "display", lambda data, raw: sent.append(data))
    _, ax = pyplot.subplots()
    plots.rate_list(hitlab.rate(counts(10).only(np.arange(10) == 5), "hard", "swings"), ax)
    plots.show(ax)
    assert not pyplot.get_fignums()
    (data,) = sent
    words, picture = re.fullmatch(
        r'<img alt="([^"]*)" width="\d+" style="[^"]*" src="data:image/png;base64,([^"]*)">',
        data["text/html"],
    ).groups()
    assert "{O&#x27;Nurl}" in words
    assert data["text/plain"] == plots.describe(ax)
    assert base64.b64decode(picture).startswith(b"\x89PNG")


@pytest.mark.slow
def test_pictures_are_loaded_at_first_use():
    code = (
        "import sys, hitlab.plots as plots; loaded = 'matplotlib' in sys.modules;"
        "import hitlab; hitlab.plots.rate_list; print(loaded, 'matplotlib.pyplot' in sys.modules);"
        "print([name for name in dir(plots) if not callable(getattr(plots, name))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[:2] == ["False False", "['look']"]


@pytest.mark.slow
def test_without_matplotlib_the_package_to_install_is_named():
    code = (
        "import sys; sys.modules['matplotlib'] = None\n"
        "import hitlab, hitlab.plots\n"
        "from hitlab.evidence.cards import card\n"
        "claim = hitlab.check_leads(hitlab.tally(hitlab.demo_season()))\n"
        "for ask in (lambda: hitlab.plots.rate_list, lambda: hitlab.plots.draw(claim),"
        " lambda: card(claim)):\n"
        "    try: ask()\n"
        "    except hitlab.HitlabError as error: print(type(error).__name__, 'pip install' in str(error))"
    )
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", code], capture_output=True, text=True, check=True
    )
    assert done.stdout.split("\n")[:3] == ["MissingPackageError True"] * 3


def test_beside_denominators_the_rest_are_counted_and_press_nobody():
    many = pd.DataFrame(
        {"hitter": [f"H{n:02d}" for n in range(30)], "swings": 300, "in_play": 120, "hard": range(60, 30, -1)}
    )
    laid = hitlab.counting.denominators(many, "hard", over=["swings", "in_play"])
    ax = plots.denominators_side_by_side(laid, names=["H20"], top=4)
    for panel in ax.child_axes:
        (named,) = panel.collections
        assert list(named.get_offsets()[:, 0]) == [1, 2, 3, 4, 21]
        low, high = sorted(panel.get_ylim())
        assert (low, high) == (-0.5, 4.5)
    written = [text.get_text().replace("\n", " ") for text in ax.texts]
    assert any("H20, asked for" in text and "The other 25 are not drawn" in text for text in written)
    assert plots.describe(ax).endswith("The other 25 are not drawn.")
    # The scale is theirs who are shown: with the first four alone the fourth stands where the 21st stood.
    for panel in plots.denominators_side_by_side(laid, top=4).child_axes:
        assert panel.get_xlim()[0] == pytest.approx(1 - 0.06 * 3)
        assert list(panel.get_xticks()) == [1, 4]
    # All of them: nobody is left to count.
    assert "not drawn" not in plots.describe(plots.denominators_side_by_side(laid, top=30))


@pytest.mark.parametrize("draw", [plots.rate_list, plots.rate_crowd])
def test_the_mark_of_a_rate_of_none_is_not_cut_by_the_axis(draw):
    team = pd.DataFrame({"hitter": list("ABC"), "swings": 40, "in_play": 20, "hard": [9, 4, 0]})
    for result in (hitlab.rate(team, "hard"), hitlab.shrink(team, "hard")):
        ax = draw(result)
        marks = [one for one in ax.collections if isinstance(one, PathCollection)]
        at_the_edge = [one for one in marks if one.get_offsets()[:, 0].min() == ax.get_xlim()[0]]
        assert all(not one.get_clip_on() for one in marks)
        if draw is plots.rate_list:
            assert len(at_the_edge) == 1


def test_a_hitter_without_one_of_the_denominators_leaves_its_panel_empty():
    one = pd.DataFrame({"hitter": ["A"], "swings": [3], "in_play": [0], "hard": [0]})
    ax = plots.denominators_side_by_side(
        hitlab.counting.denominators(one, "hard", over=["swings", "in_play"])
    )
    assert [len(panel.collections[0].get_offsets()) for panel in ax.child_axes] == [1, 0]
    assert plots.describe(ax).endswith("A, 0 hard-hit balls: .000 per swing (rank 1).")


def test_one_hitter_is_told_as_one():
    counts = pd.DataFrame({"hitter": ["Ada Velm"], "swings": 40, "whiffs": 12})
    fit = hitlab.shrink(counts, "whiffs", "swings")
    told = [
        plots.describe(picture(result))
        for result in (hitlab.rate(counts, "whiffs", "swings"), fit)
        for picture in (plots.draw, plots.rate_crowd)
    ]
    assert all("1 hitter" in words for words in told)
    assert not any("1 hitters" in words for words in told)


@pytest.mark.parametrize("whiffs", [0, 30])
def test_marks_at_none_and_all_are_drawn_whole(whiffs):
    others = pd.DataFrame(
        {"hitter": ["Bo Quarz", "Cy Thrumm", "Di Oxley"], "swings": 60, "whiffs": [14, 22, 30]}
    )
    mine = pd.DataFrame({"hitter": ["Ada Velm"], "swings": 30, "whiffs": whiffs})
    claim = hitlab.check_above(pd.concat([mine, others]), "Ada Velm", 0.3, event="whiffs")
    ax = plots.draw(claim)
    rings = next(one for one in ax.collections if one.get_label() == "ring")
    assert rings.get_offsets()[0][0] == whiffs / 30
    assert not any(one.get_clip_on() for one in ax.collections if one.get_label() in ("ring", "value"))
