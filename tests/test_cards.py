"""Cards: what is on them, that nothing is cut or covered, and that they can be traced and made again."""

from __future__ import annotations

import hashlib
import re
from dataclasses import replace
from functools import cache
from itertools import combinations

import matplotlib
import numpy as np
import pandas as pd
import pytest
from matplotlib import pyplot
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import LineCollection, PathCollection
from PIL import Image

import hitlab
import hitlab.claims
from hitlab.errors import HitlabError
from hitlab.evidence.cards import card, game_dates, read_card
from hitlab.plots import describe
from hitlab.plots.look import ACCENTS
from hitlab.wording import chance_text, rate_text

LONG = "Maria-Magdalena Konstantinopolitanska-Feathermoorhollow von und zu Oberunterwaldhausen"
DAYS = "2031-04-03 to 2031-06-23"
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
    """One claim of every kind in the registry that a table of counts can answer, and records beside them."""
    counts = hitlab.Counts.from_table(table(names), source="/home/somebody/games/week 3.csv")
    inside = table(names).assign(**{n: table(names)[n] // 4 for n in table(names).columns[1:]})
    part = hitlab.Counts.from_table(inside)
    claims = {}
    for about in ("underlying", "record"):
        claims |= {
            f"leads {about}": hitlab.check_leads(counts, names[0], about=about),
            f"leads tied {about}": hitlab.check_leads(counts, names[1], about=about),
            f"top {about}": hitlab.check_top(counts, names[3], top=3, about=about),
            f"above {about}": hitlab.check_above(counts, names[4], 0.16, about=about),
            f"ahead {about}": hitlab.check_ahead(counts, names[1], names[4], about=about),
            f"split {about}": hitlab.check_split(
                counts, names[3], inside=part, situation="against breaking balls", about=about
            ),
        }
    return claims


def rows_of(claim, count):
    """The same claim with that many rows of evidence."""
    rows = [claim.evidence.assign(hitter=claim.evidence["hitter"] + " " * turn) for turn in range(2)]
    return replace(claim, evidence=pd.concat(rows, ignore_index=True).head(count))


CLAIMS = every_kind()
CASES = {
    **CLAIMS,
    **{f"{count} rows": rows_of(CLAIMS["leads underlying"], count) for count in (1, 2, 5, 9, 10)},
    "short names": every_kind(["A", "B", "C", "D", "E"])["ahead underlying"],
    "ten plain rows": rows_of(every_kind([f"Hitter Number {n}" for n in range(11)])["leads underlying"], 10),
}


@cache
def drawn(name):
    """A card that is only looked at."""
    figure = card(CASES[name], dates=DAYS)
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


def words_on(figure):
    return " ".join(text.get_text() for text in texts(figure))


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("name", CASES)
def test_nothing_is_cut_covered_or_too_small(name):
    figure = drawn(name)
    written = texts(figure)
    boxes = [text.get_window_extent() for text in written]
    for text, box in zip(written, boxes, strict=True):
        assert box.x0 >= 20, text
        assert box.y0 >= 20, text
        assert box.x1 <= 1900, text
        assert box.y1 <= 1060, text
        assert text.get_fontsize() * 100 / 72 >= 23.99, text
    for (one, a), (other, b) in combinations(zip(written, boxes, strict=True), 2):
        width, height = min(a.x1, b.x1) - max(a.x0, b.x0), min(a.y1, b.y1) - max(a.y0, b.y0)
        assert width <= 0.5 or height <= 0.5, (one, other, width, height)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("name", CASES)
def test_texts_keep_off_the_marks(name):
    figure = drawn(name)
    boxes = [text.get_window_extent() for text in figure.axes[0].texts]
    chart = figure.axes[1]
    frame = chart.get_window_extent()
    inside = [box for box in boxes if box.overlaps(frame) and box.y0 < frame.y1 - 1 and box.x1 > frame.x0 + 1]
    assert not [box for box in inside if box.x0 < frame.x1 - 1]


@pytest.mark.parametrize("name", CLAIMS)
def test_the_card_says_what_the_claim_says(name):
    claim = CLAIMS[name]
    figure = drawn(name)
    words = re.sub(r"[\u200e\u2068\u2069]", "", words_on(figure)).replace("\u00a0", " ")
    squeezed = words.replace(" ", "")
    assert claim.say_in_full.replace(" ", "") in squeezed
    assert claim.verdict.casefold() in words.casefold()
    assert "week 3.csv" in words
    assert "/home" not in words
    assert claim.fingerprint in words
    assert DAYS in words
    assert claim.assumptions[0][1:].replace(" ", "") in squeezed
    if claim.chance is None:
        assert "settled by counting" in words
        assert "chance" not in words
    else:
        assert f"chance {chance_text(claim.chance)}" in words
    alt = describe(figure.axes[0])
    assert claim.say_in_full in alt
    more = re.search(r"(\d+) more in the table", words)
    shown = claim.evidence.head(len(claim.evidence) - (int(more[1]) if more else 0))
    assert len(shown) >= min(len(claim.evidence), 6)
    for row in shown.itertuples():
        assert f"{row.hard} of {row.swings}" in words
        assert f"{row.hard} of {row.swings}" in alt


@pytest.mark.parametrize("name", CLAIMS)
def test_the_drawn_positions_are_the_evidence(name):
    claim = CLAIMS[name]
    chart = drawn(name).axes[1]
    table = claim.evidence
    shrunk = "shrunk" in table.columns and claim.about == "underlying"
    marks = {c.get_label(): c for c in chart.collections}
    dots = marks["value"].get_offsets()
    table = table.head(len(dots))
    np.testing.assert_allclose(dots[:, 0], table["shrunk" if shrunk else "rate"])
    np.testing.assert_allclose(dots[:, 1], np.arange(len(table)))
    segments = marks["intervals"].get_segments()
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


def test_the_chance_stands_at_its_place_between_the_bounds():
    claim = hitlab.check_leads(table(), NAMES[0], holds_at=0.8, fails_at=0.3)
    ax = card(claim).axes[0]
    (dot,) = [line for line in ax.lines if line.get_label() == "chance"]
    line = next(line for line in ax.lines if len(set(line.get_ydata())) == 1 and len(line.get_xdata()) == 2)
    low, high = line.get_xdata()
    assert (dot.get_xdata()[0] - low) / (high - low) == pytest.approx(claim.chance)
    bounds = sorted(
        {line.get_xdata()[0] for line in ax.lines if len(set(line.get_xdata())) == 1 and line is not dot}
    )
    assert [(at - low) / (high - low) for at in bounds] == pytest.approx([0, 0.3, 0.8, 1])


def test_ten_rows_of_plain_names_are_all_shown():
    figure = drawn("ten plain rows")
    assert len(figure.axes[1].collections[0].get_segments()) == 10


def test_the_hitter_in_question_is_never_left_out():
    claim = CASES["10 rows"]
    last = claim.evidence["hitter"].iloc[-1]
    asked = replace(claim, numbers={**claim.numbers, "hitter": last})
    figure = card(asked)
    assert len(figure.axes[1].collections[0].get_segments()) < 10
    assert describe(figure.axes[0]).count(last.strip()) >= 1
    assert [text.get_color() for text in figure.axes[0].texts].count(ACCENTS[0]) >= 4


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("name", "suffix"),
    [*((name, "png") for name in CLAIMS), ("split record", "svg"), ("above underlying", "svg")],
)
def test_a_card_can_be_traced_and_made_again(name, suffix, tmp_path):
    claim = CLAIMS[name]
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
    claim = CLAIMS["leads underlying"]
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


def settings_now():
    # pyplot settles the backend at its first use, which is not ours.
    return {key: value for key, value in matplotlib.rcParams.items() if key != "backend"}


@pytest.mark.slow
def test_the_same_claim_gives_the_same_bytes_whatever_the_settings(tmp_path):
    claim = CLAIMS["top underlying"]
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
    claim = CLAIMS["above record"]
    with pytest.raises(HitlabError, match=r"cannot be written: .*"):
        card(claim, tmp_path / "nowhere" / "card.png")
    (tmp_path / "folder.svg").mkdir()
    with pytest.raises(HitlabError, match="cannot be written"):
        card(claim, tmp_path / "folder.svg")
    with pytest.raises(HitlabError, match=r"\.png or \.svg"):
        card(claim, tmp_path / "card.jpg")
    for size in ((0, 1080), (1920.5, 1080)):
        with pytest.raises(HitlabError, match="whole pixels"):
            card(claim, size=size)
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
    assert game_dates(frame) == "2031-04-30 to 2031-05-02"
    assert game_dates(frame.head(1)) == "2031-05-02"
    assert game_dates(frame[["hitter"]]) == ""
    assert game_dates(frame.assign(date=pd.Series([None] * 3, dtype="str"))) == ""
    assert game_dates(frame.assign(date=pd.to_datetime(frame["date"]))) == "2031-04-30 to 2031-05-02"
    assert game_dates(hitlab.demo_season()).startswith("2031-")


def test_rates_on_the_card_are_written_in_the_packages_way():
    claim = CLAIMS["leads underlying"]
    words = words_on(drawn("leads underlying"))
    for value in claim.evidence["shrunk"].head(5):
        assert rate_text(value) in words
