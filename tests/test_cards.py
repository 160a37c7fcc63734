"""Cards: what is on them, that nothing is cut or covered, and that they can be traced and made again."""

from __future__ import annotations

import hashlib
import re
import warnings
from dataclasses import replace
from functools import cache, partial
from itertools import combinations

import matplotlib
import numpy as np
import pandas as pd
import pytest
from matplotlib import pyplot
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection, PathCollection
from matplotlib.text import Text
from PIL import Image

import hitlab
import hitlab.claims
from hitlab.claims.rows import rows_of
from hitlab.errors import HitlabError, HitlabWarning
from hitlab.evidence.cards import SIZES, card, game_dates, read_card, size_of
from hitlab.plots import claim as draw_claim
from hitlab.plots import describe
from hitlab.plots.card_picture import Origin
from hitlab.plots.verdict_marks import SIGNS
from hitlab.wording import chance_text, rate_text
from tests.hostile_names import HOSTILE, REAL

LONG = "Maria-Magdalena Konstantinopolitanska-Feathermoorhollow von und zu Oberunterwaldhausen"
DAYS = "April 3 to June 23, 2031"
NAMES = [
    "Ada Yarl",
    LONG,
    "Íñigo Žižum-Grönvall",
    "שרה למט-גיר",
    "محمد الغزمري",
    "$5 a_b^2 $x$ {O'Nurl}",
    "Bo",
    "Nguyểm Thị Ánh",
    "Cy Plome",
    "Dot Zelm",
    "Eve Skarn",
]


def table(names=NAMES):
    number = np.arange(len(names))
    swings = 420 - 8 * number
    hard = 90 - 4 * number
    hard[2] = hard[1]  # a tie in the record
    swings[2] = swings[1]
    return pd.DataFrame(
        {
            "hitter": names,
            "pitches": 2 * swings,
            "swings": swings,
            "whiffs": swings // 4,
            "fouls": swings // 4,
            "contact": swings - swings // 4,
            "in_play": swings - 2 * (swings // 4),
            "hard": hard,
        }
    )


def every_kind(names=NAMES):
    """What makes one claim of every kind in the registry that a table of counts can answer, and records."""
    counts = hitlab.Counts.from_table(table(names), source="/home/somebody/games/week 3.csv")
    inside = table(names).assign(**{n: table(names)[n] // 4 for n in table(names).columns[1:]})
    part = hitlab.Counts.from_table(inside)
    asked = {
        "leads": (hitlab.check_leads, (names[0],), {}),
        "leads tied": (hitlab.check_leads, (names[1],), {}),
        "top": (hitlab.check_top, (names[3],), {"top": 3}),
        "above": (hitlab.check_above, (names[4], 0.16), {}),
        "ahead": (hitlab.check_ahead, (names[1], names[4]), {}),
        "split": (hitlab.check_split, (names[3],), {"inside": part, "situation": "against breaking balls"}),
    }
    return {
        f"{name} {about}": partial(check, counts, *given, about=about, **more)
        for about in ("underlying", "record")
        for name, (check, given, more) in asked.items()
    }


def with_rows(make, count):
    """The same claim with that many rows of evidence."""
    claim = make()
    rows = [claim.evidence.assign(hitter=claim.evidence["hitter"] + " " * turn) for turn in range(2)]
    return replace(claim, evidence=pd.concat(rows, ignore_index=True).head(count))


CLAIMS = every_kind()
CASES = {
    **CLAIMS,
    **{f"{count} rows": partial(with_rows, CLAIMS["leads underlying"], count) for count in (1, 2, 5, 9, 10)},
    "short names": every_kind(["A", "B", "C", "D", "E"])["ahead underlying"],
    "ten plain rows": partial(
        with_rows, every_kind([f"Hitter Number {n}" for n in range(11)])["leads underlying"], 10
    ),
}


@cache
def made(name):
    """The claim of a case."""
    return CASES[name]()


@cache
def drawn(name, size="wide"):
    """A card that is only looked at."""
    figure = card(made(name), dates=DAYS, size=size)
    # One canvas for all questions; without it every extent that is asked for keeps a renderer of 8 MB.
    FigureCanvasAgg(figure).draw()
    return figure


def texts(figure):
    found = [text for ax in figure.axes for text in ax.texts if text.get_text()]
    for ax in figure.axes:
        if ax.axison:
            low, high = sorted(ax.get_xlim())
            found += [
                label
                for label, place in zip(ax.get_xticklabels(), ax.get_xticks(), strict=True)
                if low <= place <= high and label.get_text()
            ]
    return found


def plain(text):
    return re.sub(r"[\u200e\u2068\u2069]", "", text).replace("\u00a0", " ")


def words_on(figure):
    return plain(" ".join(text.get_text() for text in texts(figure)))


def chart_of(figure):
    """The axes with the picture; none where the rows are left to the table."""
    return next((ax for ax in figure.axes if ax.axison), None)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", CASES)
def test_nothing_is_cut_covered_or_too_small(name, size):
    """At a quarter of its size no letter's type is smaller than 8 pixels."""
    figure = drawn(name, size)
    width, height = SIZES[size]
    written = texts(figure)
    boxes = [Text.get_window_extent(text) for text in written]
    for text, box in zip(written, boxes, strict=True):
        assert box.x0 >= 8, text
        assert box.y0 >= 8, text
        assert box.x1 <= width - 8, text
        assert box.y1 <= height - 8, text
        assert text.get_fontsize() * 100 / 72 / 4 >= 7.99, text
    for (one, a), (other, b) in combinations(zip(written, boxes, strict=True), 2):
        across, along = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        assert across <= 0.5 or along <= 2.5, (one, other, across, along)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", CASES)
def test_texts_keep_off_the_marks(name, size):
    """Of dots, rings and intervals; a dashed line may pass behind a row's words, which have a ground."""
    figure = drawn(name, size)
    chart = chart_of(figure)
    if chart is None:
        assert size == "strip" or "in the table" in words_on(figure)
        return
    boxes = [Text.get_window_extent(text) for text in figure.axes[0].texts]
    for marks in chart.collections:
        offsets = (
            np.concatenate(marks.get_segments())
            if isinstance(marks, LineCollection) and len(marks.get_segments())
            else np.asarray(marks.get_offsets())
            if isinstance(marks, PathCollection)
            else np.empty((0, 2))
        )
        for x, y in chart.transData.transform(offsets[np.isfinite(offsets).all(axis=1)]):
            assert not [box for box in boxes if box.x0 < x < box.x1 and box.y0 - 5 < y < box.y1 + 5]


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", CLAIMS)
def test_the_card_says_what_the_claim_says(name, size):
    claim = made(name)
    figure = drawn(name, size)
    words = words_on(figure)
    assert not re.search(r"\b(posterior|prior|intervals?|shrunk|Wilson|percentile|sigma)\b", words), words
    squeezed = words.replace(" ", "")
    assert claim.headline.replace(" ", "") in squeezed
    assert claim.verdict_words in words
    assert "week 3.csv" in words.replace("Week", "week")
    assert "/home" not in words
    assert claim.fingerprint in words
    assert DAYS in words
    assert "Assumed" not in words
    if claim.chance is None:
        assert "chance" not in words
    else:
        assert f"chance {chance_text(claim.chance, claim.holds_at, claim.fails_at)}" in words
    alt = describe(figure.axes[0])
    assert claim.say_in_full in alt
    if size == "strip":
        return
    seen = rows_of(claim, 10)
    if chart_of(figure) is None:
        assert size == "square"
        assert seen.records[int(np.flatnonzero(seen.subject)[0])] in words
        return
    more = re.search(r"(\d+) more in the table", words)
    every = 1 if seen.odds else len(claim.evidence)
    shown = rows_of(claim, every - (int(more[1]) if more else 0))
    marks = {c.get_label(): c for c in chart_of(figure).collections}
    np.testing.assert_array_equal(marks["value"].get_offsets()[:, 0], shown.value)  # a dot for every row
    bounded = np.isfinite(shown.low)
    if claim.about == "underlying" or claim.kind == "split":
        assert bounded.all()
    else:
        assert not bounded.any()  # a record is counted, there is no interval
        assert " from " not in alt.partition("Dot: ")[2].partition("Source: ")[0]
    drawn_from = [tuple(segment[:, 0]) for segment in marks["intervals"].get_segments()]
    assert drawn_from == list(zip(shown.low[bounded], shown.high[bounded], strict=True))
    for row in shown.records:
        assert row in words
        assert row in alt
    for row in shown.beneath:
        assert row.replace(" ", "") in squeezed
        assert row in alt


@pytest.mark.parametrize("name", CLAIMS)
def test_the_drawn_positions_are_the_evidence(name):
    claim = made(name)
    chart = chart_of(drawn(name))
    table = claim.evidence
    shrunk = "shrunk" in table.columns and claim.about == "underlying"
    marks = {c.get_label(): c for c in chart.collections}
    dots = marks["value"].get_offsets()
    segments = marks["intervals"].get_segments()
    if claim.kind == "split" and claim.about == "underlying":
        numbers = claim.numbers
        np.testing.assert_allclose(dots[:, 0], numbers["log_odds_ratio"])
        np.testing.assert_allclose(segments[0][:, 0], [numbers["ratio_low"], numbers["ratio_high"]])
        assert numbers["ratio_low"] < numbers["log_odds_ratio"] < numbers["ratio_high"]
        (line,) = [line for line in chart.lines if line.get_label() == "line"]
        assert set(line.get_xdata()) == {0.0}
        assert "no difference" in words_on(drawn(name))
        return
    table = table.head(len(dots))
    np.testing.assert_allclose(dots[:, 0], table["shrunk" if shrunk else "rate"])
    heights = chart.transData.transform(dots)[:, 1]
    assert (np.diff(heights) < -30).all()
    if shrunk or "shrunk" not in table.columns:
        np.testing.assert_allclose([s[:, 0] for s in segments], table[["low", "high"]])
    else:
        assert not segments  # a record is counted, there is no interval
    if shrunk:
        np.testing.assert_allclose(marks["ring"].get_offsets()[:, 0], table["rate"])
    if "value" in claim.numbers:
        (line,) = [line for line in chart.lines if line.get_label() == "line"]
        assert set(line.get_xdata()) == {claim.numbers["value"]}
    assert isinstance(marks["value"], PathCollection)
    assert isinstance(marks["intervals"], LineCollection)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("size", ["wide", "square", "upright"])
@pytest.mark.parametrize("name", ["leads underlying", "leads record", "above underlying", "10 rows"])
def test_every_mark_stands_in_the_row_of_its_name(name, size):
    """Whatever the heights of the rows: beside the name, or under it and above the next."""
    figure = drawn(name, size)
    chart, seen = chart_of(figure), rows_of(made(name), 10)
    (dots,) = [c for c in chart.collections if c.get_label() == "value"]
    heights = chart.transData.transform(dots.get_offsets())[:, 1]
    written = [(plain(text.get_text()), Text.get_window_extent(text)) for text in figure.axes[0].texts]
    records = []
    for row in range(len(heights)):  # from above, as equal records are written more than once
        place = next(n for n, (said, _) in enumerate(written) if said.split("   ")[0] == seen.records[row])
        records.append(written.pop(place)[1])
    for row, (height, box) in enumerate(zip(heights, records, strict=True)):
        if size == "wide":
            assert abs(height - (box.y0 + box.y1) / 2) < 12
        else:
            assert height < box.y0 + 5
            assert row + 1 == len(records) or height > records[row + 1].y1


def test_the_chance_stands_at_its_place_between_the_bounds():
    claim = hitlab.check_leads(table(), NAMES[0], holds_at=0.8, fails_at=0.3)
    ax = card(claim).axes[0]
    (dot,) = [line for line in ax.lines if line.get_label() == "chance"]
    ways = [line.get_xdata() for line in ax.lines if line.get_label() == "way"]
    low, high = ways[0][0], ways[-1][1]
    assert (dot.get_xdata()[0] - low) / (high - low) == pytest.approx(claim.chance)
    bounds = sorted(line.get_xdata()[0] for line in ax.lines if line.get_label() == "bound")
    assert [(at - low) / (high - low) for at in bounds] == pytest.approx([0.3, 0.8])


def test_a_chance_beside_a_bound_is_not_said_to_be_it():
    claim = replace(made("above underlying"), verdict="open", chance=0.1004)
    words = words_on(card(claim))
    assert "chance 10.04 %" in words
    assert "does not hold up to 10 %" in words
    assert "chance 10.04 %" in str(claim)


def test_a_chance_that_is_a_bound_is_said_as_one_everywhere():
    """Of what was picked by what it shows, the chance is so much at most."""
    claim = made("above underlying")
    claim = replace(claim, verdict="open", chance=0.42, numbers={**claim.numbers, "chance_unlooked": 0.7})
    assert claim.chance_words == "at most 42 %"
    assert "OPEN (chance at most 42 %; it holds" in str(claim)
    ax = draw_claim(claim)
    titles = [text.get_text().replace("\N{NO-BREAK SPACE}", " ") for text in ax.texts]
    assert "Open: the chance is at most 42 %" in titles
    assert "chance at most 42 %" in words_on(card(claim))
    assert "chance at most 42 %" in describe(ax)
    pyplot.close("all")


def test_ten_rows_of_plain_names_are_all_shown():
    figure = drawn("ten plain rows", "upright")
    assert len(chart_of(figure).collections[0].get_segments()) == 10
    assert "more in the table" not in words_on(figure)


def test_the_hitter_in_question_is_never_left_out():
    claim = made("10 rows")
    last = claim.evidence["hitter"].iloc[-1]
    asked = replace(claim, numbers={**claim.numbers, "hitter": last})
    for size in ("wide", "square"):
        figure = card(asked, size=size)
        assert len(chart_of(figure).collections[0].get_segments()) < 10
        assert describe(figure.axes[0]).count(last.strip()) >= 1
        color = SIGNS[asked.answer].color
        mine = [plain(text.get_text()) for text in figure.axes[0].texts if text.get_color() == color]
        assert last.replace(" ", "") in "".join(mine).replace(" ", "")


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("name", "suffix"),
    [*((name, "png") for name in CLAIMS), ("split record", "svg"), ("above underlying", "svg")],
)
def test_a_card_can_be_traced_and_made_again(name, suffix, tmp_path):
    claim = made(name)
    path = tmp_path / f"card.{suffix}"
    card(claim, path, dates=DAYS)
    facts = read_card(path)
    assert (facts.kind, facts.about, facts.say) == (claim.kind, claim.about, claim.say_in_full)
    assert (facts.chance, facts.fingerprint) == (claim.chance, claim.fingerprint)
    assert (facts.version, facts.source) == (hitlab.__version__, "week 3.csv")
    counts = hitlab.Counts.from_table(table(), source="/home/somebody/games/week 3.csv")
    inside = hitlab.Counts.from_table(table().assign(**{n: table()[n] // 4 for n in table().columns[1:]}))
    given = {"inside": inside} if name.startswith("split") else {}
    again = facts.asked.ask(counts, **given)
    assert again.fingerprint == facts.fingerprint
    assert again.to_dict() == claim.to_dict()
    assert facts.say in str(facts)
    assert dict(zip(*facts.table().to_numpy().T, strict=True))["who"] == claim.numbers["hitter"]


@pytest.mark.slow
def test_the_files_are_what_they_should_be(tmp_path):
    claim = made("leads underlying")
    card(claim, tmp_path / "card.png")
    with Image.open(tmp_path / "card.png") as image:
        assert image.size == (1920, 1080)
        assert image.text["Title"] == claim.claim
        assert claim.say_in_full in image.text["Description"]
    card(claim, tmp_path / "card.svg")
    text = (tmp_path / "card.svg").read_text(encoding="utf-8")
    assert re.search(r'<svg [^>]*width="1920" height="1080"', text) or re.search(
        r'<svg [^>]*height="1080"[^>]*width="1920"', text
    )
    assert "<text" not in text
    assert 'role="img"' in text
    card(claim, tmp_path / "small.png", size=(1280, 720))
    with Image.open(tmp_path / "small.png") as image:
        assert image.size == (1280, 720)
    for size, pixels in SIZES.items():
        card(claim, tmp_path / f"{size}.png", size=size)
        with Image.open(tmp_path / f"{size}.png") as image:
            assert image.size == pixels
            alpha = np.asarray(image.convert("RGBA"))[:, :, 3]
        # Around the panel of a strip nothing is drawn; words stand on it, whatever is beneath.
        clear = size == "strip"
        assert (alpha[:10, :10] == (0 if clear else 255)).all()
        assert (alpha[20:-20, 20:-20] == 255).all()
    card(claim, tmp_path / "strip.svg", size="strip")
    text = (tmp_path / "strip.svg").read_text(encoding="utf-8")
    assert "fill: none" in re.search(r'<g id="patch_1">.*?</g>', text, flags=re.S)[0]


def settings_now():
    # pyplot settles the backend at its first use, which is not ours.
    return {key: value for key, value in matplotlib.rcParams.items() if key != "backend"}


@pytest.mark.slow
def test_the_same_claim_gives_the_same_bytes_whatever_the_settings(tmp_path):
    claim = made("top underlying")
    before = settings_now()
    digests = set()
    for turn, settings in enumerate(
        ({}, {"savefig.bbox": "tight", "font.size": 30, "svg.fonttype": "none", "lines.linewidth": 9})
    ):
        with matplotlib.rc_context(settings):
            held = settings_now()
            for suffix in ("png", "svg"):
                path = tmp_path / f"{turn}.{suffix}"
                card(claim, path)
                digests.add((suffix, hashlib.sha256(path.read_bytes()).hexdigest()))
            assert settings_now() == held
    assert len(digests) == 2
    assert settings_now() == before
    assert not pyplot.get_fignums()
    assert not re.search(r"20[0-9]{2}-[0-9]{2}-[0-9]{2}T", (tmp_path / "0.svg").read_text(encoding="utf-8"))


def test_what_cannot_be_written_or_read_is_said(tmp_path):
    claim = made("above record")
    with pytest.raises(HitlabError, match=r"cannot be written: .*"):
        card(claim, tmp_path / "nowhere" / "card.png")
    (tmp_path / "folder.svg").mkdir()
    with pytest.raises(HitlabError, match="cannot be written"):
        card(claim, tmp_path / "folder.svg")
    with pytest.raises(HitlabError, match=r"\.png or \.svg"):
        card(claim, tmp_path / "card.jpg")
    for size in ((0, 1080), (1920.5, 1080), "19x1080"):
        with pytest.raises(HitlabError, match="whole pixels"):
            card(claim, size=size)
    with pytest.raises(HitlabError, match="wide, square, upright, strip, or width and height"):
        card(claim, size="poster")
    with pytest.raises(HitlabError, match="'claim' or 'assumptions'"):
        card(claim, page="second")
    with pytest.raises(HitlabError, match="a strip has no room"):
        card(claim, size="strip", page="assumptions")
    with pytest.raises(HitlabError, match="cannot be read"):
        read_card(tmp_path / "nowhere.png")
    Image.new("RGB", (3, 3)).save(tmp_path / "plain.png")
    (tmp_path / "plain.svg").write_text("<svg/>", encoding="utf-8")
    (tmp_path / "broken.svg").write_text("<svg", encoding="utf-8")
    (tmp_path / "broken.png").write_bytes(b"no picture")
    for name in ("plain.png", "plain.svg", "broken.svg", "broken.png"):
        with pytest.raises(HitlabError, match="carries no facts of a card"):
            read_card(tmp_path / name)


def test_the_days_of_the_games():
    frame = pd.DataFrame({"hitter": ["A", "A", "B"], "date": ["2031-05-02", "2031-04-30", None]})
    assert game_dates(frame) == "April 30 to May 2, 2031"
    assert game_dates(frame.head(1)) == "May 2, 2031"
    assert game_dates(frame[["hitter"]]) == ""
    assert game_dates(frame.assign(date=pd.Series([None] * 3, dtype="str"))) == ""
    assert game_dates(frame.assign(date=pd.to_datetime(frame["date"]))) == "April 30 to May 2, 2031"
    assert game_dates(hitlab.demo_season()).endswith("2031")


@pytest.mark.parametrize(
    "size", [(1, 2, 3), (1920,), (float("nan"), 1080), (1920, float("inf")), ("1920", 1080), None, 1080]
)
def test_a_size_that_is_none_is_said_in_a_sentence(size):
    with pytest.raises(HitlabError, match=r"give width and height in whole pixels|pixels at most"):
        size_of(size)


def test_a_size_may_be_told_in_any_whole_numbers():
    assert size_of(np.array([1280, 720])) == (1280, 720, "")
    assert size_of((1280.0, 720)) == (1280, 720, "")


def test_rates_on_the_card_are_written_in_the_packages_way():
    claim = made("leads underlying")
    words = words_on(drawn("leads underlying"))
    for value in claim.evidence["shrunk"].head(3):
        assert rate_text(value) in words


def test_the_second_page_says_what_the_first_rests_on():
    claim = made("leads underlying")
    for size in ("wide", "square", "upright"):
        figure = card(claim, size=size, page="assumptions", dates=DAYS)
        FigureCanvasAgg(figure).draw()
        squeezed = words_on(figure).replace(" ", "")
        for told in (claim.claim, claim.assumptions[0][1:], claim.fingerprint):
            assert told.replace(" ", "") in squeezed
        boxes = [Text.get_window_extent(text) for text in texts(figure)]
        assert min(box.y0 for box in boxes) >= 8
        for a, b in combinations(boxes, 2):
            assert min(a.x1, b.x1) - max(a.x0, b.x0) <= 0.5 or min(a.y1, b.y1) - max(a.y0, b.y0) <= 2.5


@pytest.mark.slow
@pytest.mark.parametrize("size", ["square", "strip"])
@pytest.mark.parametrize("name", [*HOSTILE, *REAL], ids=range(len(HOSTILE) + len(REAL)))
def test_no_name_breaks_a_card(name, size):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HitlabWarning)  # of characters that no installed font has
        people = hitlab.Counts.from_table(table([name, *NAMES[-4:]]))
        claim = hitlab.check_ahead(people, people.labels[0], people.labels[1])
        figure = card(claim, size=size)  # none of these is refused, a strip has room for all
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HitlabWarning)
        FigureCanvasAgg(figure).draw()
    boxes = [Text.get_window_extent(text) for text in texts(figure)]
    width, height = SIZES[size]
    assert min(box.x0 for box in boxes) >= 0
    assert max(box.x1 for box in boxes) <= width
    assert min(box.y0 for box in boxes) >= 0
    assert max(box.y1 for box in boxes) <= height


@pytest.mark.parametrize(
    ("source", "begins"),
    [("week 3.csv", "week 3.csv, May"), ("the demo season", "The demo season, May"), ("a.b", "a.b, May")],
)
def test_a_file_keeps_its_name_at_the_head_of_a_line(source, begins):
    assert Origin(source, "May 1", "0f", "1").short.startswith(begins)
