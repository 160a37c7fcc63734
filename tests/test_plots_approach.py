"""Pictures of readiness, links, responses, spots and plate appearances: the drawn data read back."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import narwhals as nw
import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.approach.readiness import fastball_readiness, zone_parts
from hitlab.approach.responses import after_whiff
from hitlab.counting.places import Borders
from hitlab.errors import MissingColumnsError, UnknownHitterError
from hitlab.game.base_out import Spot
from hitlab.game.spots import best_for_spot
from hitlab.pitches.schema import FAMILIES
from hitlab.two_rates.together import RateOf, correlate_rates
from hitlab.wording import chance_text, percent, rate_text
from tests.needs import package

package("matplotlib")

from matplotlib.backends.backend_agg import FigureCanvasAgg  # noqa: E402
from matplotlib.colors import to_hex  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402

from hitlab import plots  # noqa: E402
from hitlab.plots import look  # noqa: E402
from hitlab.plots.readiness_picture import against_league, zone_borders  # noqa: E402
from hitlab.plots.response_picture import whiff_answers  # noqa: E402
from hitlab.plots.spot_picture import win_chances  # noqa: E402
from hitlab.plots.visit_strip import plate_appearance_strip  # noqa: E402
from tests.test_plots import assert_no_text_is_cut_or_covered  # noqa: E402

LONG = "Maria-Magdalena Konstantinopolitanska-Feathermoorhollow von und zu Oberunterwaldhausen"
NAMES = [LONG, "שרה למט-גיר", "محمد الغزمري", "Íñigo Žižum-Grönvall", "$5 a_b^2 $x$ {O'Nurl}", "Bo"]


def assert_readable(ax):
    # Labels that looked for their place know it only after they were drawn.
    FigureCanvasAgg(ax.figure).draw()
    assert_no_text_is_cut_or_covered(ax.figure)


@cache
def season():
    return pd.read_parquet(hitlab.demo_season())


@cache
def readiness(measure="fair"):
    return fastball_readiness(season(), measure=measure)


@cache
def link():
    kinds = ("fastball", "breaking")
    rates = [
        RateOf("whiffs", "swings", nw.col("pitch_kind").is_in(FAMILIES[kind]), words=f"on {kind} pitches")
        for kind in kinds
    ]
    return correlate_rates(season(), *rates)


@cache
def responses(against="any strike"):
    return after_whiff(season(), against=against)


@cache
def spot():
    return best_for_spot(hitlab.game.outcome_counts(season()), Spot(-2, 1, "first second"), draws=500)


def renamed(data, column, number):
    """The first rows of a result's table, with hard names."""
    data = data.head(number).reset_index(drop=True)
    return data.assign(**{column: [*NAMES, *data[column]][: len(data)]})


def made(name, ax=None):
    """A picture of each result: whole, and with few and hard names."""
    what, _, few = name.partition(", few: ")
    number = int(few or 0)
    if what == "readiness":
        found = readiness()
        found = replace(found, data=renamed(found.data, "hitter", number)) if few else found
    elif what == "link":
        found = replace(link(), data=renamed(link().data, "hitter", number)) if few else link()
    elif what == "spot":
        found = replace(spot(), data=renamed(spot().data, "label", number)) if few else spot()
    elif what == "responses":
        found = responses()
        if few:
            found = replace(found, data=found.data.head(3 * number), descriptions=found.descriptions.head(0))
    elif what == "zone":
        return zone_borders(None, ax)
    else:
        return plate_appearance_strip(season(), *visit_of(int(what.split()[1])), ax)
    return plots.draw(found, ax)


@cache
def visit_of(number):
    sizes = season().groupby(["game", "plate_appearance"]).size()
    game, appearance = sizes[sizes == number].index[0]
    return game, int(appearance)


PICTURES = [
    "zone",
    "readiness",
    "readiness, few: 1",
    "readiness, few: 7",
    "link",
    "link, few: 3",
    "link, few: 7",
    "responses",
    "responses, few: 1",
    "spot",
    "spot, few: 1",
    "spot, few: 7",
    "pitches 1",
    "pitches 4",
    "pitches 7",
    "pitches 14",
]


@pytest.mark.slow
@pytest.mark.parametrize("name", PICTURES)
def test_every_text_is_inside_and_none_covers_another(name):
    ax = made(name)
    assert_readable(ax)
    assert len(plots.describe(ax)) > 100
    assert "nan" not in plots.describe(ax)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["zone", "readiness", "link", "responses", "spot", "pitches 4"])
def test_the_callers_axes_come_back_and_no_others_are_touched(name):
    figure = Figure((16, 9))
    mine, other = figure.subplots(1, 2)
    before = other.get_position().bounds
    assert made(name, mine) is mine
    assert other.get_position().bounds == before
    assert not [*other.texts, *other.lines, *other.collections, *other.patches, *other.child_axes]
    assert plots.describe(mine) == plots.describe(made(name))


def collections(ax):
    return {each.get_label(): each for each in ax.collections}


def patches(ax):
    return {each.get_label(): each for each in ax.patches}


def boxed(patch):
    (x0, y0), (x1, y1) = patch.get_bbox().min, patch.get_bbox().max
    return x0, x1, y0, y1


def texts(ax):
    return [text.get_text() for text in ax.texts]


def read(ax):
    """All that is written on the axes, lines of a text joined."""
    return " ".join(" ".join(texts(ax)).split())


@pytest.mark.parametrize(
    "borders", [Borders(), Borders(in_from_in=4.3, up_from=0.55, beyond_in=2.2, middle_half_width_in=5.1)]
)
def test_the_zone_is_drawn_where_pitches_are_put(borders):
    """A pitch inside a rectangle belongs to that part by ``zone_parts``, one outside of both to neither."""
    ax = zone_borders(borders)
    assert_readable(ax)
    rng = np.random.default_rng(1)
    pitches = pd.DataFrame({"inside_in": rng.uniform(-20, 20, 4000), "height_in": rng.uniform(5, 60, 4000)})
    seen = {}
    for name in ("up and in", "over the middle"):
        x0, x1, y0, y1 = boxed(patches(ax)[name])
        seen[name] = pitches["inside_in"].between(x0, x1) & pitches["height_in"].between(y0, y1)
    wanted = np.select(
        [seen["up and in"], seen["over the middle"]], ["up and in", "over the middle"], "elsewhere"
    )
    assert (seen["up and in"] & seen["over the middle"]).any() or borders != Borders()
    assert (zone_parts(pitches, borders) == wanted).all()
    # What goes first lies on top, and is not seen through.
    assert patches(ax)["up and in"].get_zorder() > patches(ax)["over the middle"].get_zorder()
    assert patches(ax)["up and in"].get_alpha() is None
    assert boxed(patches(ax)["zone"]) == (-8.5, 8.5, borders.bottom_in, borders.top_in)
    assert ax.get_aspect() == 1.0
    for number in (borders.in_from_in, borders.middle_half_width_in):
        assert any(f"{number:.1f} inches" in text for text in texts(ax)), number
        assert f"{number:.1f}" in plots.describe(ax)


def test_readiness_is_drawn_from_the_table():
    found = readiness()
    table = found.table().sort_values("effect", ascending=False, kind="stable")
    ax = plots.draw(found)
    drawn = collections(ax)
    places = np.vstack([drawn[f"{who}: effect"].get_offsets() for who in ("named", "others")])
    places = places[np.argsort(places[:, 1])]
    np.testing.assert_allclose(places[:, 0], table["effect"])
    np.testing.assert_array_equal(places[:, 1], np.arange(len(table)))
    lines = [line for who in ("named", "others") for line in drawn[f"{who}: intervals"].get_segments()]
    lines = np.array(sorted(lines, key=lambda line: line[0][1]))
    np.testing.assert_allclose(lines[:, :, 0], table[["low", "high"]])
    first = table.iloc[0]
    assert any(text.startswith(f"{first['hitter']}  {first['successes']:.0f} of ") for text in texts(ax))
    assert f"{rate_text(first['adjusted'])}   {chance_text(first['chance_above'])}" in texts(ax)
    words = plots.describe(ax)
    assert f"odds times {np.exp(first['effect']):.2f}" in words
    assert "90 % posterior interval" in read(ax)
    assert f"league {rate_text(found.rate)}" in texts(ax)


def test_the_odds_are_marked_by_what_they_are_multiplied_with():
    ax = plots.draw(readiness())
    marks = {
        label.get_text(): place for place, label in zip(ax.get_xticks(), ax.get_xticklabels(), strict=True)
    }
    assert marks["×1"] == 0
    assert marks["×1.1"] == pytest.approx(np.log(1.1))
    assert marks["×0.91"] == pytest.approx(-np.log(1.1))


def test_who_is_asked_for_is_named():
    names = ["Nadia Izezno", "Zora Pasosende"]
    for ax in (against_league(readiness(), names=names), plots.draw(link(), names=names).child_axes[0]):
        for name in names:
            assert any(name in text for text in texts(ax))
        marked = next(each for label, each in collections(ax).items() if label in ("named", "named: effect"))
        assert len(marked.get_offsets()) == 2
    with pytest.raises(UnknownHitterError, match="Nadia Izezno"):
        against_league(readiness(), names=["Nadja Izezno"])


@pytest.mark.slow
@pytest.mark.parametrize("measure", ["touched", "hard"])
def test_each_measure_is_called_by_its_name(measure):
    ax = plots.draw(readiness(measure))
    words = {"touched": "contact per swing", "hard": "hard-hit balls per swing"}[measure]
    assert words in plots.describe(ax)
    assert words in texts(ax)[-1]


def test_the_link_is_drawn_from_the_table_and_its_curve():
    found, ax = link(), plots.draw(link())
    hitters, curve = ax.child_axes
    drawn, table = collections(hitters), found.table()
    places = np.vstack([drawn[name].get_offsets() for name in ("named", "others")])
    wanted = table[["first_shrunk", "second_shrunk"]].to_numpy()
    np.testing.assert_allclose(places[np.lexsort(places.T)], wanted[np.lexsort(wanted.T)])
    np.testing.assert_allclose(drawn["observed"].get_offsets(), table[["first_rate", "second_rate"]])
    area = np.concatenate([drawn[name].get_sizes() for name in ("named", "others")])
    least = table[["first_exposure", "second_exposure"]].min(axis=1).to_numpy()
    np.testing.assert_allclose(np.sort(area / area.max()), np.sort(least / least.max()))
    (x0, x1), (y0, y1) = hitters.get_xlim(), hitters.get_ylim()
    assert table["first_shrunk"].between(x0, x1).all()
    assert table["second_shrunk"].between(y0, y1).all()
    out = ~(table["first_rate"].between(x0, x1) & table["second_rate"].between(y0, y1))
    assert f"{out.sum():,} observed records lie beyond the edges" in plots.describe(ax)
    lines = {line.get_label(): line for line in curve.lines}
    np.testing.assert_allclose(lines["posterior"].get_xydata(), found.curve())
    shaded = collections(curve)["interval"].get_paths()[0].vertices[:, 0]
    step = np.diff(found.curve()["correlation"]).max()
    assert shaded.min() == pytest.approx(found.low, abs=step)
    assert shaded.max() == pytest.approx(found.high, abs=step)
    assert lines["observed rates"].get_xdata()[0] == found.naive
    assert "90 % posterior interval (shaded)" in texts(ax)


@pytest.mark.parametrize(
    ("changes", "title"),
    [
        ({"low": 0.1, "high": 0.5}, "Who is higher in one is higher in the other"),
        ({"low": -0.6, "high": -0.1}, "Who is higher in one is lower in the other"),
        ({"low": -0.2, "high": 0.4}, "Whether the two go together is open"),
        ({"why_not": "the first shows no spread"}, "Whether the two go together cannot be told"),
    ],
)
def test_the_title_of_a_link_says_no_more_than_the_interval(changes, title):
    ax = plots.draw(replace(link(), **changes))
    assert title in texts(ax)
    assert ("cannot be told" in texts(ax)) == ("why_not" in changes)
    if "why_not" in changes:
        assert "cannot be told. the first shows no spread" in plots.describe(ax)
        assert "the first shows no spread." in read(ax)


@pytest.mark.slow
def test_answers_are_drawn_from_the_table_and_descriptions_apart():
    found, ax = responses(), whiff_answers(responses())
    answers, described = ax.child_axes
    drawn = collections(answers)
    for test in ("difference", "after a whiff", "placebo"):
        rows = found.data[found.data["test"] == test]
        np.testing.assert_allclose(drawn[test].get_offsets()[:, 0], np.log(rows["odds_ratio"]))
        ends = np.array(drawn[f"{test}: intervals"].get_segments())[:, :, 0]
        np.testing.assert_allclose(ends, np.log(rows[["low", "high"]]))
    (alone,) = whiff_answers(found, descriptions=False).child_axes
    assert len(collections(alone)["placebo"].get_offsets()) == len(found.data) / 3
    assert "Descriptions only" in plots.describe(ax)
    assert "Descriptions only" not in plots.describe(alone.figure.axes[0])
    # The answer is the largest mark and the only one in the accent.
    assert drawn["difference"].get_sizes() > drawn["placebo"].get_sizes()
    assert to_hex(drawn["difference"].get_facecolors()[0]) == look.ACCENTS[0].lower()
    assert to_hex(drawn["after a whiff"].get_facecolors()[0]) == look.FAINT.lower()
    lower = collections(described)
    for side in ("whiff_rate", "other_rate"):
        np.testing.assert_allclose(lower[side].get_offsets()[:, 0], found.descriptions[side])
    assert "description only" in texts(described)
    assert "Descriptions only" in plots.describe(ax)


def test_the_title_of_responses_names_those_whose_interval_leaves_one_out():
    found = responses()
    answer = found.data["test"] == "difference"

    def with_ends(low, high):
        data = found.data.copy()
        data.loc[answer, "low"], data.loc[answer, "high"] = low, high
        return texts(whiff_answers(replace(found, data=data)))[-1]

    assert with_ends(0.9, 1.1) == "After a whiff: nothing here shows that the next pitch goes otherwise"
    one = [1.01, 0.9, 0.9, 0.5, 0.9], [1.2, 1.1, 1.1, 0.9, 1.1]
    assert (
        with_ends(*one) == "After a whiff, of 5 answers looked at: swings more often, hits it hard less often"
    )


@pytest.mark.slow
def test_an_answer_that_cannot_be_told_is_said():
    found = responses()
    data = found.data.copy()
    data.loc[data["response"] == "hard", ["odds_ratio", "low", "high"]] = np.nan
    ax = whiff_answers(replace(found, data=data))
    assert_readable(ax)
    assert texts(ax.child_axes[0]).count("cannot be told") == 3
    assert len(collections(ax.child_axes[0])["difference"].get_offsets()) == 4
    assert "hits it hard: cannot be told" in plots.describe(ax)


def test_what_a_whiff_is_compared_with_is_said():
    ax = whiff_answers(responses("foul"))
    assert "against after a foul" in plots.describe(ax)
    assert "against after a foul" in ax.child_axes[0].get_xlabel()


def test_win_chances_are_drawn_from_the_table_and_on_the_whole_scale():
    found, ax = spot(), plots.draw(spot())
    shown = found.table().head(10)
    panel, whole = ax.child_axes
    drawn = collections(panel)
    for name in ("win_chance", "observed"):
        np.testing.assert_allclose(drawn[name].get_offsets()[:, 0], 100 * shown[name])
    ends = np.array(drawn["intervals"].get_segments())[:, :, 0]
    np.testing.assert_allclose(ends, 100 * shown[["low", "high"]])
    for one in (panel, whole):
        league = next(line for line in one.lines if line.get_label() == "league")
        assert league.get_xdata()[0] == pytest.approx(100 * found.league_win_chance)
    assert whole.get_xlim() == (0, 100)
    marks = np.array(collections(whole)["win_chance"].get_segments())[:, 0, 0]
    np.testing.assert_allclose(marks, 100 * shown["win_chance"])
    assert boxed(patches(whole)["part shown above"])[:2] == pytest.approx(panel.get_xlim())
    over = 100 * (shown["win_chance"].iloc[0] - found.league_win_chance)
    assert f"{shown['label'].iloc[0]}: {over:.1f} points over the league's hitter" in texts(ax)[-1]
    assert f"{percent(found.luck_share)} is luck" in plots.describe(ax)
    asked = win_chances(found, names=[shown["label"].iloc[3]])
    assert len(collections(asked.child_axes[0])["win_chance"].get_offsets()) == 1


def by_label(ax, name):
    return collections(ax)[name].get_offsets()


@pytest.mark.parametrize("side", ["left", "right", None])
def test_a_plate_appearance_is_drawn_pitch_by_pitch_seen_from_the_catcher(side):
    game, appearance = visit_of(5)
    pitches = season()[(season()["game"] == game) & (season()["plate_appearance"] == appearance)]
    pitches = pitches.assign(hitter_side=side).sample(frac=1, random_state=1)
    ax = plate_appearance_strip(pitches, game, appearance)
    inside, height = (pitches.sort_values("pitch")[name].to_numpy() for name in ("inside_in", "height_in"))
    # A right-handed hitter stands at the catcher's left, so toward him is toward the left.
    across = -inside if side == "right" else inside
    assert len(ax.child_axes) == 5
    for number, panel in enumerate(ax.child_axes):
        np.testing.assert_allclose(by_label(panel, "pitch"), [[across[number], height[number]]])
        np.testing.assert_allclose(by_label(panel, "before"), np.column_stack([across, height])[:number])
        stands = next(line for line in panel.lines if line.get_label() == "hitter").get_xdata()[0]
        assert (stands < 0) == (side == "right")
        assert panel.get_aspect() == 1.0
    assert ("Seen from the catcher" in read(ax)) == (side is not None)
    words = plots.describe(ax)
    for number, (_, pitch) in enumerate(pitches.sort_values("pitch").iterrows(), start=1):
        told = f"Pitch {number}, count {pitch['balls']}-{pitch['strikes']}: {pitch['pitch_kind']}"
        assert told in words
        assert f"{pitch['balls']}-{pitch['strikes']}" in texts(ax)


def test_the_zone_of_a_strip_is_the_hitters_own_where_known():
    game, appearance = visit_of(4)
    pitches = season()[(season()["game"] == game) & (season()["plate_appearance"] == appearance)]
    own = pitches["zone_bottom_in"].iloc[0], pitches["zone_top_in"].iloc[0]
    panel = plate_appearance_strip(pitches, game, appearance).child_axes[0]
    assert boxed(patches(panel)["zone"])[2:] == pytest.approx(own)
    without = pitches.drop(columns=["zone_bottom_in", "zone_top_in"])
    panel = plate_appearance_strip(without, game, appearance).child_axes[0]
    assert boxed(patches(panel)["zone"])[2:] == (Borders().bottom_in, Borders().top_in)


VISIT = pd.DataFrame(
    {
        "game": "g1",
        "plate_appearance": 3,
        "pitch": [1, 2, 3, 4, 5],
        "outcome": ["called strike", "whiff", "foul", "ball", "in play"],
        "bunt": [False, True, False, False, False],
        "check_swing": [False, False, False, True, False],
        "foul_side": [None, None, "opposite", None, None],
        "exit_mph": [np.nan, np.nan, np.nan, np.nan, 98.4],
        "launch_deg": [np.nan, np.nan, np.nan, np.nan, -11.6],
        "result": [None, None, None, None, "double"],
    }
)


def test_what_happened_is_said_in_words_and_what_is_not_known_too():
    ax = plate_appearance_strip(VISIT, "g1", 3)
    assert_readable(ax)
    words = plots.describe(ax)
    for told in (
        "A plate appearance: double on 5 pitches",
        "count 0-0: kind not known, speed not known, place not known; called strike.",
        "count 0-2: kind not known, speed not known, place not known; foul, opposite side.",
        "bunt missed.",
        "ball, check swing, held.",
        "in play, double, 98 mph, 12° down.",
    ):
        assert told in words, told
    for panel in ax.child_axes:
        assert "pitch" not in collections(panel)
        assert "place\nnot\nknown" in texts(panel)


def test_an_order_that_cannot_be_trusted_is_said():
    ax = plate_appearance_strip(VISIT[VISIT["pitch"] != 2], "g1", 3)
    assert "The order cannot be trusted: a pitch is missing." in plots.describe(ax)
    assert "?-?" in texts(ax)


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["polars", "pyarrow", "duckdb", "path"])
def test_a_strip_is_drawn_from_any_table_in_memory(kind):
    game, appearance = visit_of(4)
    wanted = plots.describe(plate_appearance_strip(season(), game, appearance))
    if kind == "path":
        pitches = hitlab.demo_season()
    else:
        part = season()[season()["game"] == game]
        arrow = package("pyarrow").Table.from_pandas(part, preserve_index=False)
        pitches = {
            "pyarrow": lambda: arrow,
            "polars": lambda: package("polars").from_arrow(arrow),
            "duckdb": lambda: package("duckdb").from_arrow(arrow),
        }[kind]()
    assert plots.describe(plate_appearance_strip(pitches, game, appearance)) == wanted


def test_a_strip_without_its_columns_names_them():
    with pytest.raises(MissingColumnsError, match="this table has no pitch"):
        plate_appearance_strip(VISIT.drop(columns="pitch"), "g1", 3)


@pytest.mark.parametrize("what", ["readiness", "link", "spot", "responses", "strip", "strip of nothing"])
def test_an_empty_result_is_said_in_words(what):
    ax = {
        "readiness": lambda: plots.draw(replace(readiness(), data=readiness().data.head(0))),
        "link": lambda: plots.draw(replace(link(), data=link().data.head(0))),
        "spot": lambda: plots.draw(replace(spot(), data=spot().data.head(0))),
        "responses": lambda: plots.draw(replace(responses(), data=responses().data.head(0))),
        "strip": lambda: plate_appearance_strip(VISIT, "g2", 3),
        "strip of nothing": lambda: plate_appearance_strip(VISIT.head(0), "g1", 3),
    }[what]()
    assert_readable(ax)
    assert texts(ax) == [plots.describe(ax)]
    assert plots.describe(ax).endswith(".")
