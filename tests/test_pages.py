"""Pages about a hitter: what stands on them, what they say is missing, and that anybody can read them."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import subprocess
import sys
import zipfile
from collections import Counter
from copy import copy
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import Conventions, Counts, check_above, demo_season, hitter_page, rate, tally
from hitlab.cli.commands import run
from hitlab.errors import ClaimError, CountsError, HitlabError, ReadingError, UnknownHitterError
from hitlab.pages import hitter_pages, printing
from hitlab.pages.gathering import RATES, League
from hitlab.pages.making import _that_fit, page_of
from hitlab.pages.page import HEADINGS
from hitlab.pages.words import looked_at, open_chance, too_little, verdict_word, you_do_it
from hitlab.plots import describe, inline_svg, standing, swings_became
from hitlab.showing import shown_name
from hitlab.spoken import share_said
from hitlab.writing import safe_name
from tests.hostile_names import HOSTILE, REAL, unseen
from tests.needs import needs_chromium, package

pypdf: Any = package("pypdf")

ROOT = Path(__file__).resolve().parent.parent
HITTERS = (
    "Ada Velm",
    "Bo Quarz",
    "Cy Thrumm",
    "Di Oxley-Bram",
    "Ev Skarn",
    "Fay Lurn",
    "Gus Pell",
    "Hal Brox",
)


def pitches_of(names=HITTERS, games=28, seed=3, clubs=("Larks", "Herons")):
    """Invented pitches; the first hitter misses least, the last most."""
    rng = np.random.default_rng(seed)
    rows = []
    for number, name in enumerate(names):
        missing = 0.12 + 0.30 * number / max(len(names) - 1, 1)
        for game in range(games):
            for visit in range(3):
                for pitch in range(3):
                    ended = pitch == 2
                    outcome = "whiff" if rng.random() < missing else ("foul", "ball")[int(rng.random() < 0.4)]
                    outcome = "in play" if ended else outcome
                    rows.append(
                        {
                            "game": f"g{game:02d}",
                            "date": f"2031-05-{game + 1:02d}",
                            "hitter": name,
                            "club": clubs[number % 2],
                            "pitcher": f"Pitcher {int(rng.integers(6))}",
                            "plate_appearance": 3 * number + visit + 1,
                            "pitch": pitch + 1,
                            "inning": visit + 1,
                            "half": ("top", "bottom")[number % 2],
                            "balls": 0,
                            "strikes": min(pitch, 2),
                            "pitch_kind": ("slider", "four-seam fastball")[int(rng.integers(2))],
                            "speed_mph": round(float(rng.normal(88, 4)), 1),
                            "inside_in": round(float(rng.normal(0, 6)), 1),
                            "height_in": round(float(rng.normal(30, 6)), 1),
                            "outcome": outcome,
                            "exit_mph": round(float(rng.normal(90, 10)), 1) if ended else None,
                            "foul_side": ("pull", "opposite")[int(rng.integers(2))]
                            if outcome == "foul"
                            else None,
                            "result": ("single" if rng.random() < 0.3 else "out") if ended else None,
                            "clip": f"g{game:02d}.mp4 00:0{visit}:1{pitch}",
                        }
                    )
    return pd.DataFrame(rows)


@cache
def season():
    return pitches_of()


@cache
def league():
    return League.of(season(), "hard", "swings", None)


@cache
def page(reader="coach", who=0):
    return page_of(league(), who, reader)


@cache
def html(reader="coach", who=0):
    return page(reader, who).html()


class Elements(HTMLParser):
    """The elements of a page with their attributes, and its text."""

    def __init__(self, text):
        super().__init__()
        self.found, self.text, self.drawn = [], [], 0
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data):
        if self.found and self.found[-1][0] not in ("style", "desc"):
            self.text.append(data)

    def all(self, *tags):
        return [attrs for tag, attrs in self.found if tag in tags]

    @property
    def words(self):
        return re.sub(r"\s+", " ", " ".join(self.text)).replace("\u00a0", " ")


# What it says is what is said elsewhere.


def test_a_rate_is_the_one_that_a_claim_is_checked_with():
    found = page().data.set_index(["event", "per"])
    for event, per in (("whiffs", "swings"),):
        claim = check_above(season(), HITTERS[0], "league", event=event, per=per)
        row = found.loc[(event, per)]
        assert row["chance_above"] == pytest.approx(claim.chance, abs=1e-9)
        assert row["verdict"] == {"holds": "above", "does not hold": "below", "open": "open"}[claim.verdict]
        assert row["shrunk"] == pytest.approx(claim.evidence["shrunk"].iloc[0])
        assert f"{row['others']:.3f}".removeprefix("0") in claim.claim
    counts = tally(season())
    observed = rate(counts, "whiffs", "swings").data.set_index("hitter")
    row = found.loc[("whiffs", "swings")]
    assert (row["events"], row["exposure"]) == tuple(observed.loc[HITTERS[0], ["whiffs", "swings"]])
    assert row["rate"] == observed.loc[HITTERS[0], "rate"]


def test_the_first_and_the_last_are_told_apart():
    assert "Whiffs per swing:" in " ".join(page(who=0).sections["short"].said)
    first, last = (page(who=who).data.set_index("event").loc["whiffs", "verdict"] for who in (0, 7))
    assert (first, last) == ("below", "above")


def test_every_swing_is_on_the_bar():
    counts = tally(season()).data.set_index("hitter")
    for who in (0, 7):
        became = page(who=who).became
        assert became["number"].sum() == counts.loc[HITTERS[who], "swings"]
        assert became["others"].sum() == counts["swings"].sum() - counts.loc[HITTERS[who], "swings"]
        assert (became["number"] >= 0).all()
    with_hard_fouls = tally(season(), conventions=Conventions(hard_fouls=True))
    hard_fouls = hitter_page(with_hard_fouls, HITTERS[0])
    assert hard_fouls.became["number"].sum() == counts.loc[HITTERS[0], "swings"]
    assert any(
        "Not counted: hard-hit balls per ball in play" in said for said in hard_fouls.sections["rates"].said
    )


def test_what_a_page_is_made_of():
    assert set(page().sections) == set(HEADINGS["coach"])
    assert set(page("player").sections) == set(HEADINGS["player"])
    assert [tuple(pair) for pair in page().data[["event", "per"]].to_numpy()] == list(RATES)
    text = str(page())
    for part in ("In short:", "Too little to say:", "Pitches to watch:", HITTERS[0]):
        assert part in text
    assert page()._repr_html_()


def test_what_is_too_little_is_said():
    little = " ".join(page().sections["little"].said)
    undecided = page().data[page().data["verdict"] == "open"]
    assert len(undecided)
    for name in undecided["rate_words"]:
        assert name in little
    assert re.search(r"\d+ of \d+ situations: no more is known", little)


def test_how_many_are_expected_to_be_false_is_counted():
    rates = pd.DataFrame(
        {
            "chance_above": [0.95, 0.05, 0.5, np.nan, 0.91],
            "verdict": ["above", "below", "open", "open", "above"],
        }
    )
    # .05 + .05 + .09
    assert (
        looked_at(rates)
        == "4 rates were looked at; 3 stand out, of which about 0.2 are expected to be false."
    )
    assert "nobody else" in looked_at(rates.assign(chance_above=np.nan))


@pytest.mark.parametrize(
    ("chance", "word", "said"),
    [
        (0.9, "above", "90 %"),
        (0.1, "below", "10 %"),
        (0.897, "open", "just under 90 %"),
        (0.102, "open", "just over 10 %"),
    ],
)
def test_a_chance_and_its_word_agree(chance, word, said):
    assert verdict_word(chance) == word
    assert open_chance(chance) == said
    assert verdict_word(chance, settled=False) == "open"


@pytest.mark.parametrize(
    ("share", "said"),
    [
        (0.2, "about one in five"),
        (0.46, "about half"),
        (0.62, "about three in five"),
        (0.0, "none"),
        (1.0, "all"),
    ],
)
def test_shares_that_can_be_pictured(share, said):
    assert share_said(share) == said


# What is missing.


def test_counts_alone_give_the_rates_and_say_why_no_more():
    one = hitter_page(tally(season()), "Velm")
    assert one.data["events"].tolist() == page().data["events"].tolist()
    for name, head in (
        ("situations", "Situations are not shown"),
        ("fastballs", "Fastballs are not shown"),
        ("pitches", "Pitches to watch are not listed"),
    ):
        assert one.sections[name].missing == f"{head}: these are counts, and single pitches are needed."
    assert one.sections["form"].missing == "Form over time is not shown: these counts are not by game."
    assert "not by game" in Elements(one.html()).words
    by_game = hitter_page(tally(season(), by=["hitter", "game", "date"]), "Velm")
    assert by_game.form is not None
    assert by_game.form.hitter == "Ada Velm"


def test_a_few_counts_of_somebody_s_own():
    team = pd.DataFrame({"hitter": ["Ada", "Bo"], "swings": [40, 60], "hard": [9, 6]})
    one = hitter_page(team, "Ada")
    assert one.data["event"].tolist() == ["hard"]
    assert one.sections["became"].missing
    assert "no count is called 'whiffs'" in " ".join(one.sections["rates"].said)
    assert "Ada" in one.html()
    alone = hitter_page(team.iloc[:1], "Ada")
    assert "nobody else" in alone.sections["short"].said[-1]
    assert "Ada" in alone.html()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("column", "part", "said"),
    [
        ("date", "form", "Form over time is not shown: the table has no column date."),
        ("clip", "pitches", "Without clip: the table has no such column."),
        ("pitch_kind", "fastballs", "needs the column pitch_kind"),
        ("result", "rates", "Not counted: hits per at-bat"),
    ],
)
def test_a_column_that_is_missing_is_named_where_it_is_missed(column, part, said):
    lacking = League.of(season().drop(columns=column), "hard", "swings", None)
    one = page_of(lacking, 0, "coach")
    section = one.sections[part]
    assert said in f"{section.missing} {' '.join(section.said)}"
    if column == "clip":
        assert "Clip" not in section.table.columns
        assert "Clip" in page().sections["pitches"].table.columns
    else:
        assert not page().sections[part].missing
    assert said in Elements(one.html()).words


@pytest.mark.slow
def test_who_never_swung_has_a_page_that_says_so():
    taken = pd.DataFrame({"hitter": "Nell Stand", "club": "Larks", "outcome": ["ball"] * 5, "game": "g00"})
    both = pd.concat([season(), taken.assign(date="2031-05-01")], ignore_index=True)
    with_one = League.of(both, "hard", "swings", None)
    place = with_one.counts.labels.index("Nell Stand")
    for reader in ("coach", "player"):
        one = page_of(with_one, place, reader)
        assert "Nell Stand" in one.html()
        assert one.data.set_index("event").loc["whiffs", "exposure"] == 0
        assert one.sections["pitches"].missing == "Pitches to watch are not listed: no swings were counted."
        assert one.sections["became"].missing.endswith("is not shown: no swing was counted.")
    said = " ".join(page_of(with_one, place, "coach").sections["little"].said)
    assert "there is not one to count by" in said


def test_a_table_without_any_swing_is_refused_in_a_sentence():
    taken = pd.DataFrame({"hitter": ["Ada", "Bo"], "outcome": ["ball", "ball"]})
    with pytest.raises(HitlabError, match="no swing was counted"):
        hitter_page(taken, "Ada", "whiffs")


# Names.


def test_two_of_one_name_are_told_by_their_ids():
    twice = season().assign(hitter_id="id " + season()["hitter"])
    twice.loc[twice["hitter"] == "Bo Quarz", "hitter"] = "Ada Velm"
    with pytest.raises(UnknownHitterError, match="2 hitters are called"):
        hitter_page(tally(twice), "Ada Velm")
    found = League.of(tally(twice, by=["hitter", "game", "date"]), "hard", "swings", None)
    pages = [page_of(found, place, "coach") for place in found.places()[:2]]
    assert [one.hitter for one in pages] == ["Ada Velm (Larks)", "Ada Velm (Herons)"]
    for one, own in zip(pages, ("id Ada Velm", "id Bo Quarz"), strict=True):
        assert one.data.set_index("event").loc["swings", "exposure"] == (twice["hitter_id"] == own).sum()
        assert one.form.hitter == one.hitter
    assert hitter_page(tally(twice), "id Bo Quarz").hitter == "Ada Velm (Herons)"


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "names",
    [(HOSTILE[3], HOSTILE[19], "N" * 200), (*HOSTILE, *REAL)],
    ids=["some", "all"],
)
def test_no_name_from_a_file_breaks_a_page(names, tmp_path):
    table = pitches_of(names, games=2).assign(club=HOSTILE[3], pitcher=HOSTILE[19])
    counts = tally(table)
    taken = set()
    shell = Elements(html()).found
    for one in hitter_pages(counts, event="whiffs", reader="player"):
        text = one.html()
        told = Elements(text)
        assert not unseen(text.replace("\n", "")), one.hitter
        assert not told.all("script", "b", "a", "img", "iframe", "link", "object")
        assert {tag for tag, _ in told.found} <= {tag for tag, _ in shell}
        assert one.hitter.split()[0] in told.words
        name = safe_name(one.hitter, taken)
        assert one.save(tmp_path / f"{name}.html").parent == tmp_path
    assert len(list(tmp_path.iterdir())) == len(names) == len(taken)


@pytest.mark.slow
def test_no_name_from_a_file_breaks_a_whole_page():
    table = pitches_of((*HOSTILE, *REAL[:4]), games=3).assign(club=HOSTILE[3], pitcher=HOSTILE[19])
    whole = page_of(League.of(table, "whiffs", "swings", None), 19, "coach")
    assert not whole.sections["pitches"].missing
    text = whole.html()
    assert "&lt;script&gt;" in text
    assert not Elements(text).all("script")
    assert not unseen(text.replace("\n", ""))


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Ada Velm", "Ada-Velm"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\x|y?*", "C-x-y"),
        ("con", "con-1"),
        ("", "nameless"),
        ("Nguyễn Thị Ánh", "Nguyễn-Thị-Ánh"),
        ("שרה למט-גיר", "שרה-למט-גיר"),
        ("a" * 300, "a" * 110),
    ],
)
def test_names_of_files(text, name):
    taken = set()
    assert safe_name(text, taken) == name
    again = safe_name(text.upper(), taken)
    assert again.casefold() != name.casefold()
    assert not set(again) & set('/\\:*?"<>|. ')


# How it reads.


@pytest.mark.parametrize("reader", ["coach", "player"])
def test_a_page_stands_alone(reader):
    text = html(reader)
    told = Elements(text)
    assert told.all("html") == [{"lang": "en"}]
    policy = next(meta["content"] for meta in told.all("meta") if "http-equiv" in meta)
    assert policy.startswith("default-src 'none'")
    assert not told.all("script", "link", "img", "iframe", "a")
    assert not re.search(r"https?:|url\((?!#)|@import|@font-face", re.sub(r'xmlns="[^"]*"', "", text))
    assert len(told.all("h1")) == 1
    assert not told.all("h3")
    assert len(told.all("h2")) == len(page(reader).sections)
    names = Counter(attrs["id"] for _, attrs in told.found if "id" in attrs)
    assert not [name for name, many in names.items() if many > 1]
    asked = re.findall(r'(?:href="|url\()#([\w-]+)', text)
    assert asked
    assert set(asked) <= set(names)
    for picture in told.all("svg"):
        assert picture["role"] == "img"
        assert set(picture["aria-labelledby"].split()) <= set(names)
    assert len(told.all("svg")) == {"coach": 3, "player": 2}[reader]
    assert len(told.all("th")) == sum(attrs.get("scope") in ("col", "row") for attrs in told.all("th"))


def test_the_same_page_gives_the_same_bytes():
    assert page_of(league(), 0, "coach").html() == html()


def test_a_player_s_page_has_no_rates_and_no_jargon():
    for who in (0, 3, 7):
        told = Elements(html("player", who))
        said = f"{told.words} {' '.join(re.findall(r'<desc[^>]*>(.*?)</desc>', html('player', who)))}"
        assert not re.search(r"\.\d{3}\b", said)
        assert not re.search(
            r"posterior|shrunk|Wilson|interval|denominator|odds|log |estimate|prior|verdict|per ?cent|%",
            said,
        )
        assert not re.search(
            r"\b(bad|poor|weak|lazy|terrible|great|awful|problem|injur|tired|pain|health|should|must)\w*",
            said,
        )
        assert "about" in said
        # Nothing of the one in the middle is above or below the others.
        assert ("How sure: " in said) == (set(page("player", who).data["verdict"]) != {"open"})
    assert set(page("player", 0).data["verdict"]) != {"open"}
    first = page("player", 0)
    assert any("You miss the ball on about" in line for line in first.sections["seldom"].said)
    last = page("player", 7)
    assert any("You miss the ball on about" in line for line in last.sections["often"].said)


def test_a_player_is_told_the_true_rate_with_its_chance():
    """The chance is of the true rate, so what stands beside it is the best estimate, not the record."""
    told = {"event": "whiffs", "per": "swings", "rate": 0.5, "shrunk": 0.2, "others": 0.3, "verdict": "below"}
    said = you_do_it(pd.Series({**told, "chance_above": 0.03}))
    assert said.startswith("You miss the ball on about one in five swings; the others on about three in ten.")


def test_what_is_said_of_fouls_is_said_of_the_strikes_that_it_is_counted_under():
    ready = league().readiness
    for who in (0, 7):
        one = page(who=who)
        late = ready.parts[ready.parts["hitter_id"] == HITTERS[who]][
            ["fouls_late", "fouls_early", "fouls_straight_back"]
        ]
        number = int(late.to_numpy().sum())
        said = one.sections["fastballs"].said[-1]
        assert said.startswith(f"Of {number} fouls under two strikes with a direction, ")
        assert f"{HITTERS[who]}: o{said[1:]}" == ready.direction_words(HITTERS[who])


@pytest.mark.parametrize(
    ("chance", "said"),
    [
        (0.28, "is more likely not above them; the chance to be above is 28 %."),
        (0.5, "may or may not be above them; the chance to be above is 50 %."),
        (0.7, "may be above them; the chance is 70 %."),
        (0.96, "is most likely above them; the chance is 96 %."),
        (0.04, "is most likely below them; the chance is 96 %."),
    ],
)
def test_a_chance_is_of_what_was_denied(chance, said):
    asked = copy(league())
    ready = asked.readiness
    asked.readiness = replace(ready, data=ready.data.assign(chance_above=chance))
    section = page_of(asked, 0, "coach").sections["fastballs"]
    assert section.said[0].endswith(f"The hitter {said}")


def test_one_of_something_is_said_as_one():
    rate = {"verdict": "open", "chance_above": 0.5, "exposure": 1, "own_weight": 0.1, "shrunk": 0.3}
    rate |= {"rate_words": "hits per at-bat", "per": "in_play", "half_weight": 40.0}
    assert "(1 ball in play decides 10 %, half after about 40)" in too_little(pd.DataFrame([rate]))[1]
    once = pitches_of(HITTERS[:3], games=1)
    form = hitter_page(tally(once, by=["hitter", "game", "date"]), HITTERS[0]).sections["form"]
    assert form.missing.endswith("and there is 1 game with swings.")


def test_a_part_that_is_not_shown_says_so_once():
    text = str(hitter_page(tally(season()), "Velm"))
    assert "Form over time is not shown: these counts are not by game." in text
    assert not re.search(r"not shown: \w[^.]* is not shown", text, re.I)


def test_so_few_pitches_are_not_said_to_be_ten():
    assert not [said for said in page().sections["pitches"].said if "Ten" in said]


def test_nothing_is_counted_twice_for_the_rates(monkeypatch):
    counted = []

    def count(table, by, **given):
        counted.append((tuple(by), str(given["where"]), str(given["events"])))
        return tally(table, by, **given)

    monkeypatch.setattr("hitlab.questions.source.tally", count)
    League.of(pitches_of(HITTERS[:3], games=2), "hard", "swings", None)
    assert counted
    assert len(counted) == len(set(counted))


def test_a_bar_may_have_more_ends_than_there_are_fills():
    ends = pd.DataFrame({"words": [f"end {number}" for number in range(6)], "number": range(10, 16)})
    ax = swings_became(ends)
    assert len(ax.containers[0]) == 6
    assert "end 5 15 (20 %)" in describe(ax)


def test_the_plain_bar_is_described_without_per_cent():
    ends = pd.DataFrame({"words": ["missed", "in play"], "number": [20, 60], "others": [500, 500]})
    assert describe(swings_became(ends, plain=True)) == (
        "What became of your 80 swings: missed 20, in play 60. Of the others' 1,000: missed about half, in "
        "play about half."
    )


def test_pictures_draw_their_tables():
    became = page().became
    ax = swings_became(became)
    widths = [bar.get_width() for bar in ax.containers[0]]
    assert widths == pytest.approx((became["number"] / became["number"].sum()).tolist())
    assert f"{became['number'].iloc[0]} (" in describe(ax)
    field = page().field
    ax = standing(field)
    marks = {line.get_label(): line for line in ax.lines}
    for words, rows in field.groupby("rate", sort=False):
        mine, values = rows[rows["mine"]].iloc[0], rows["shrunk"].to_numpy(float)
        x = marks[f"others, {words}"].get_xdata()[::3]
        edge = [*values, mine["low"], mine["high"], mine["others"]]
        scaled = 0.04 + 0.92 * (values - min(edge)) / (max(edge) - min(edge))
        assert x == pytest.approx(scaled)
        assert f"{words}: estimated {mine['shrunk']:.3f}".replace(" 0.", " .") in describe(ax)
    with pytest.raises(HitlabError, match="begin with a letter"):
        inline_svg(ax, "1 x", "title")


def test_the_numbers_of_a_scale_stand_apart_from_the_words_beside_it():
    row = {"shrunk": [0.31, 0.40], "mine": [True, False], "low": [0.30, None], "high": [0.42, None]}
    row |= {"others": [0.36, None], "said": ["above, more than 99 %; place 100 to 123 of 123", ""]}
    rates = ["hard-hit balls per ball in play with two strikes", "whiffs per swing"]
    ax = standing(pd.concat([pd.DataFrame(row | {"rate": rate}) for rate in rates]))
    boxes = {(one.get_text(), one.get_window_extent().y0): one.get_window_extent() for one in ax.texts}
    lines = {}
    for (text, _), box in boxes.items():
        lines.setdefault(round((box.y0 + box.y1) / 20), []).append((box.x0, box.x1, text))
    for line in lines.values():
        for (_, end, left), (start, _, right) in zip(sorted(line), sorted(line)[1:], strict=False):
            assert start - end >= 6, (left, right)


def test_nothing_to_draw_is_said():
    nothing = pd.DataFrame({"words": ["missed"], "number": [0], "others": [0]})
    assert describe(swings_became(nothing)) == "There are no swings: nothing to draw."
    assert "no rate to show" in describe(standing(page().field.iloc[:0]))


# Saving.


def test_where_a_page_may_be_saved(tmp_path, monkeypatch):
    one = page()
    with pytest.raises(HitlabError, match=r"or the whole page as \.html or \.pdf"):
        one.save(tmp_path / "page.docx")
    with pytest.raises(HitlabError, match="paper='A5': give one of letter, A4"):
        one.save(tmp_path / "page.pdf", paper="A5")
    with pytest.raises(ReadingError, match="there is no folder"):
        one.save(tmp_path / "none" / "page.html")
    assert one.save(tmp_path / "rates.csv").read_text("utf-8-sig").startswith("event,per")
    monkeypatch.setattr(printing, "browser", lambda: "")
    with pytest.raises(HitlabError, match="no browser that prints a PDF was found: install Chromium"):
        one.save(tmp_path / "page.pdf")
    assert not (tmp_path / "page.pdf").exists()
    monkeypatch.setattr(printing, "browser", lambda: sys.executable)
    with pytest.raises(HitlabError, match="did not print the page"):
        one.save(tmp_path / "page.pdf")
    with pytest.raises(ClaimError, match="give one of coach, player"):
        hitter_page(tally(season()), "Velm", reader="fan")
    with pytest.raises(ClaimError, match="give one of coach, player"):
        hitter_pages(tally(season()), reader="fan")
    with pytest.raises(CountsError, match="is no rate"):
        hitter_page(tally(season()), "Velm", "swings", "whiffs")


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.csv"
    table = pitches_of(HITTERS[:4], games=3)
    table[["hitter", "club", "outcome", "game", "date", "exit_mph"]].to_csv(path, index=False)
    return path


@pytest.mark.slow
def test_the_command_makes_a_page_and_a_folder_of_them(small, tmp_path, capsys):
    out = tmp_path / "page.html"
    asked = ["page", "Velm", "--file", str(small), "--event", "whiffs"]
    assert run([*asked, "--to", str(out)]) == 0
    assert "Ada Velm" in out.read_text("utf-8")
    folder = tmp_path / "pages"
    asked = ["page", "--file", str(small), "--for", "player", "--event", "whiffs", "--to", str(folder)]
    assert run([*asked, "--club", "larks"]) == 0
    assert sorted(path.name for path in folder.iterdir()) == ["Ada-Velm.html", "Cy-Thrumm.html"]
    assert "2 pages saved in" in capsys.readouterr().out
    (folder / "Ada-Velm.html").unlink()
    one = small.with_name("one.csv")
    table = pd.read_csv(small)
    table.assign(club=table["club"].where(table["hitter"] == "Ada Velm", "Owls")).to_csv(one, index=False)
    asked[2] = str(one)
    assert run([*asked, "--club", "larks"]) == 0
    assert "1 page saved in" in capsys.readouterr().out


@pytest.mark.slow
def test_the_command_makes_everybody_s_pages(small, tmp_path, capsys):
    folder = tmp_path / "pages"
    assert run(["page", "--all", "--file", str(small), "--json", "--to", str(folder)]) == 0
    saved = json.loads(capsys.readouterr().out)["saved"]
    assert sorted(saved) == sorted(str(path) for path in folder.iterdir())
    assert len(saved) == 4


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--to", "x.html"], "nobody was named"),
        (["Velm", "--all", "--to", "x"], "give a name, or --all or --club, and not both"),
        (["Velm", "--to", "x.docx"], "end the name with .html or .pdf"),
        (["Velm", "--to", "x.html", "--pdf"], "end the name with .pdf, or leave --pdf out"),
        (["Velm", "--to", "nowhere/x.html"], "there is no folder"),
        (["Zzz", "--to", "x.html"], "nobody here is called 'Zzz'"),
        (["--club", "Zzz", "--to", "x"], "no club here is called 'Zzz'"),
        (["Velm", "--to", "small.csv"], "end the name with"),
    ],
)
def test_a_command_that_cannot_be_is_answered_in_a_sentence(
    words, said, small, tmp_path, monkeypatch, capsys
):
    monkeypatch.chdir(tmp_path)
    assert run(["page", *words, "--file", str(small), "--event", "whiffs"]) == 2
    told = capsys.readouterr().err
    assert told.startswith("Could not be checked: ")
    assert said in told
    assert "unexpected" not in told


def test_a_folder_that_cannot_be_made_is_said(small, tmp_path, capsys):
    (tmp_path / "file").write_text("x")
    assert run(["page", "--all", "--file", str(small), "--to", str(tmp_path / "file" / "pages")]) == 2
    assert "cannot be made a folder" in capsys.readouterr().err


def test_without_jinja_the_extra_is_named(small, tmp_path, monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "jinja2", None)
    assert run(["page", "Velm", "--file", str(small), "--to", str(tmp_path / "x.html")]) == 2
    assert "install hitlab with its extra pages" in " ".join(capsys.readouterr().err.split())


# In a browser, and in the package.


@pytest.fixture(scope="module")
def demo_league():
    return League.of(demo_season(), "hard", "swings", None)


WHO = ("h003", "h061", "h015", "h060", "h147", "h095")
"""Of the demo season: many swings, few, very few."""


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
@pytest.mark.parametrize("who", WHO)
def test_it_prints_on_two_sides_and_a_player_s_on_one(demo_league, who):
    place = demo_league.counts.data["hitter_id"].tolist().index(who)
    for reader, sides in (("coach", 2), ("player", 1)):
        text = page_of(demo_league, place, reader).html()
        for paper in ("letter", "A4"):
            made = printing.printed(text, paper)
            assert printing.sides(made) == sides, (reader, paper)


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
@pytest.mark.parametrize(("reader", "sides"), [("coach", 2), ("player", 1)])
@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_long_names_and_many_notes_need_no_further_side(reader, sides, paper, tmp_path):
    """Names without a blank in them, a line to say in every part, and more notes than there is room for."""
    names = tuple(f"{name.replace(' ', '')}{'ofUpperLowerNetherwychshire' * 8}" for name in HITTERS)
    told = pitches_of(names, clubs=tuple("ThePaleLarksofNowhereInParticular" * 5 + end for end in "ab"))
    told["pitcher"] = told["pitcher"].str.replace(" ", "") + "ofNetherwychshire" * 9
    told["clip"] = told["clip"].str.replace(" ", "") + "archive" * 20
    made = page_of(League.of(told, "hard", "swings", None), 0, reader)
    note = (
        "Whoever kept the table wrote what was seen and what was called into one cell; ask who it was. " * 3
    )
    parts = dict(made.sections)
    for part, many in (("notes", 14), ("little", 9), ("short", 5), ("often", 6)):
        if part in parts:
            parts[part] = replace(parts[part], said=(*parts[part].said, *(note,) * many))
    long = replace(made, sections=parts)
    as_it_is = printing.printed(long.html(), paper)
    assert len(pypdf.PdfReader(io.BytesIO(as_it_is)).pages) == printing.sides(as_it_is) > sides
    path = long.save(tmp_path / "page.pdf", paper=paper)
    read = pypdf.PdfReader(path)
    assert len(read.pages) == sides
    # Long names are broken over lines, and nothing of them is cut.
    written = re.sub(r"\s+", "", "".join(side.extract_text() for side in read.pages))
    assert shown_name(names[0]).replace(" ", "") in written
    if reader == "coach":
        rows = told[told["hitter"] == names[0]]
        for name in ("pitcher", "clip"):
            seen = {"".join(shown_name(one).split()) for one in rows[name]}
            assert any(one in written for one in seen), name
    assert "cell; ask who it was" in re.sub(r"\s+", " ", read.pages[-1].extract_text())


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_what_is_wide_makes_nothing_else_smaller():
    """A browser prints a page that is wider than the paper smaller, all of it."""

    def size_of_headings(pitcher):
        told = season().assign(pitcher=pitcher)
        made = printing.printed(page_of(League.of(told, "hard", "swings", None), 0, "coach").html(), "letter")
        found = []

        def visit(text, _, matrix, __, size):
            if "Pitches to watch" in text:
                found.append(abs(matrix[3]) * size)

        for side in pypdf.PdfReader(io.BytesIO(made)).pages:
            side.extract_text(visitor_text=visit)
        return found[0]

    assert size_of_headings("Netherwychshire" * 20) == pytest.approx(size_of_headings("Nether"), rel=0.01)


def _side_by_side(monkeypatch, needed):
    """Print with a browser that needs so many sides at each size."""
    monkeypatch.setattr(printing, "demand_browser", lambda: "browser")
    asked = []

    def made(program, html, paper, size):
        asked.append(size)
        return b"%PDF" + b"/Type /Page\n" * needed(size)

    monkeypatch.setattr(printing, "_printed", made)
    return asked


def test_more_sides_than_there_may_be_are_said(monkeypatch, tmp_path, small, capsys):
    asked = _side_by_side(monkeypatch, lambda size: 3)
    with pytest.warns(printing.SidesWarning, match="has 3 sides, and was to have 2: at 50 % of its size"):
        made = printing.printed("", "A4", 2)
    assert printing.sides(made) == 3
    assert asked == [1, 0.9, 0.8, 0.7, 0.6, 0.5]
    path = tmp_path / "page.pdf"
    with pytest.warns(printing.SidesWarning):
        page().save(path)
    assert printing.sides(path.read_bytes()) == 3
    capsys.readouterr()
    asked = ["page", "Velm", "--file", str(small), "--event", "whiffs", "--to", str(tmp_path / "one.pdf")]
    assert run(asked) == 0
    told = capsys.readouterr()
    assert "Page saved as" in told.out
    assert "one.pdf: the page has 3 sides, and was to have 2" in told.err
    # What fits at some size, and what may have any number, is not spoken of.
    _side_by_side(monkeypatch, lambda size: 3 if size > 0.7 else 2)
    assert printing.sides(printing.printed("", "A4", 2)) == 2
    assert printing.sides(printing.printed("", "A4")) == 3


def test_notes_that_do_not_fit_are_counted():
    assert _that_fit(["a" * 100] * 8) == ["a" * 100] * 8
    assert len(_that_fit(["a" * 100] * 30)) == 8
    assert len(_that_fit(["a" * 500] * 30)) == 3
    assert len(_that_fit(["a" * 5000] * 30)) == 1
    assert _that_fit([]) == []


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_everybody_can_read_it(demo_league, tmp_path):
    axe = package("axe_playwright_python.sync_playwright").Axe()
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for who in (2, 14):
            for reader in ("coach", "player"):
                (tmp_path / "page.html").write_text(
                    page_of(demo_league, who, reader).html(), encoding="utf-8"
                )
                # What the program that looks for faults puts into a page, the page's own rule would forbid.
                opened = chromium.new_page(bypass_csp=True)
                away = []
                opened.on("request", lambda request, away=away: away.append(request.url))
                opened.goto((tmp_path / "page.html").as_uri())
                found = axe.run(opened).response
                opened.close()
                assert [(v["id"], v["nodes"][0]["html"][:160]) for v in found["violations"]] == []
                assert len(found["passes"]) > 10
                assert [url for url in away if not url.startswith("file:")] == []
        chromium.close()


@pytest.mark.slow
def test_the_wheel_carries_the_templates(tmp_path):
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(tmp_path), str(ROOT)],
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    inside = set(zipfile.ZipFile(wheel).namelist())
    here = {path.name for path in (ROOT / "hitlab/pages/templates").iterdir()}
    names = ("base", "parts", "coach", "player", "board", "dugout")
    assert here == {f"{name}.html.jinja" for name in names}
    assert {f"hitlab/pages/templates/{name}" for name in here} <= inside


def test_the_public_names():
    assert hitlab.hitter_page is hitter_page
    assert isinstance(page(), hitlab.pages.HitterPage)
    assert Counts is hitlab.Counts
    assert os.sep not in safe_name("a/b", set())
