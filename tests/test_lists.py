"""``hitlab list``: a club, somebody asked for, a file of the whole list, and a picture of it."""

from __future__ import annotations

import json
import re

import numpy as np
import pandas as pd
import pytest
from matplotlib.colors import to_hex
from PIL import Image

from hitlab import rate, shrink, tally
from hitlab.cli.commands import run
from hitlab.errors import UnknownHitterError
from hitlab.pitches import read_pitches, write_checked
from hitlab.plots import describe, look, rate_crowd, rate_list
from tests.needs import package

MANY = 36


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    """A league of 36 hitters of two clubs, each with 30 swings and more."""
    rng = np.random.default_rng(11)
    rows = []
    for number in range(MANY):
        swings = 30 + number
        outcomes = rng.choice(
            ["whiff", "foul", "in play"], swings, p=[0.15 + 0.008 * number, 0.35, 0.5 - 0.008 * number]
        )
        rows += [
            {
                "hitter": f"Hitter {number:02d}",
                "club": ("Larks", "Marl Herons")[number % 2],
                "outcome": outcome,
            }
            for outcome in outcomes
        ]
    path = tmp_path_factory.mktemp("lists") / "league.parquet"
    write_checked(read_pitches(pd.DataFrame(rows)), path)
    return path


def listed(file, capsys, *words):
    """Run the command on whiffs, and return what it prints as JSON."""
    assert run(["list", "--file", str(file), "--event", "whiffs", "--json", *words]) == 0
    return json.loads(capsys.readouterr().out)


def test_a_club_s_rates_are_those_of_the_whole_list(file, capsys):
    whole = {row["hitter"]: row for row in listed(file, capsys, "--most", "99")["rows"]}
    club = listed(file, capsys, "--most", "99", "--club", "herons")
    assert "the 18 hitters of the Marl Herons" in club["title"]
    assert [row["hitter"] for row in club["rows"]] == [
        name for name in whole if int(name.removeprefix("Hitter ")) % 2
    ]
    for row in club["rows"]:
        assert row == whole[row["hitter"]]


def test_who_is_asked_for_stands_on_the_list_whatever_the_place(file, capsys):
    rows = listed(file, capsys, "Hitter", "00", "--most", "3")["rows"]
    assert len(rows) == 4
    assert rows[-1]["hitter"] == "Hitter 00"
    assert run(["list", "Hitter 00", "--file", str(file), "--event", "whiffs", "--most", "3"]) == 0
    said = capsys.readouterr().out
    assert "Hitter 00" in said
    assert f"... and {MANY - 4} more" in said
    rows = listed(file, capsys, "Hitter", "35", "--most", "40")["rows"]
    assert len(rows) == MANY


@pytest.mark.parametrize("ending", [".csv", ".parquet", ".xlsx"])
def test_the_whole_list_is_saved(file, capsys, tmp_path, ending):
    if ending == ".xlsx":
        package("xlsxwriter")
    path = tmp_path / f"list{ending}"
    listed_rows = listed(file, capsys, "--most", "5", "--save", str(path), "--minimum", "40")["rows"]
    if ending == ".xlsx":
        package("python_calamine")
        saved = pd.read_excel(path, engine="calamine")
    else:
        saved = pd.read_csv(path) if ending == ".csv" else pd.read_parquet(path)
    assert len(saved) == MANY - 10
    assert saved["shrunk"].is_monotonic_decreasing
    assert saved["hitter"].head(5).tolist() == [row["hitter"] for row in listed_rows]
    assert saved["shrunk"].head(5).tolist() == pytest.approx([row["shrunk"] for row in listed_rows])


def test_a_list_is_put_on_a_picture(file, capsys, tmp_path):
    png, svg = tmp_path / "list.png", tmp_path / "list.svg"
    listed(file, capsys, "Hitter", "00", "--card", str(png))
    with Image.open(png) as picture:
        assert picture.size == (1920, 1080)
        words = picture.info["Description"]
    assert words.startswith("List of 36 hitters by shrunk rate of whiffs per swing")
    assert re.search(r"[23]\d: Hitter 00 ", words)
    assert "The other 25 as a cloud of dots" in words
    listed(file, capsys, "--club", "Larks", "--card", str(svg))
    text = svg.read_text("utf-8")
    assert '<svg role="img" aria-labelledby="hitlab-list-title hitlab-list-words"' in text
    assert '<title id="hitlab-list-title">Whiffs per swing, ' in text
    words = re.search(r'<desc id="hitlab-list-words">(.*?)</desc>', text)[1]
    assert words.startswith("List of 18 hitters by shrunk rate of whiffs per swing, the 18 hitters of Larks")
    listed(file, capsys, "--denominators", "--card", str(tmp_path / "sides.png"))
    assert (tmp_path / "sides.png").stat().st_size > 10_000


def test_side_by_side_stand_the_head_the_one_asked_for_and_the_rest(file, capsys, tmp_path):
    path = tmp_path / "sides.png"
    listed(file, capsys, "Hitter", "00", "--denominators", "--card", str(path))
    with Image.open(path) as picture:
        words = picture.info["Description"]
    assert len(re.findall(r"Hitter \d\d, [\d,]+ whiffs", words)) == 11
    assert "Hitter 00, " in words
    assert words.endswith("The other 25 are not drawn.")


def test_the_same_list_gives_the_same_bytes_and_names_its_source(file, capsys, tmp_path):
    for ending in ("svg", "png"):
        first, second = (tmp_path / f"{name}.{ending}" for name in ("first", "second"))
        for path in (first, second):
            listed(file, capsys, "--denominators", "--card", str(path))
        assert first.read_bytes() == second.read_bytes()
    counts = tally(file)
    with Image.open(tmp_path / "first.png") as picture:
        assert picture.info["Source"] == f"league.parquet; counts {counts.fingerprint}"


@pytest.fixture(scope="module")
def dated(file):
    """The same league, each pitch on one of two days and with one or two strikes."""
    table = pd.read_parquet(file, columns=["hitter", "club", "outcome"])
    place = np.arange(len(table))
    table["strikes"], table["date"] = (
        1 + place % 2,
        pd.to_datetime("2031-05-14") + pd.to_timedelta(place // 2 % 2, "D"),
    )
    path = file.with_name("dated.parquet")
    write_checked(read_pitches(table), path)
    return path


@pytest.mark.parametrize(
    ("words", "beginning"),
    [
        ((), "List of 36 hitters by shrunk rate of whiffs per swing{}, highest first."),
        (("--club", "Larks"), "List of 18 hitters by shrunk rate of whiffs per swing{}, highest first."),
        (("--denominators",), "2 panels{}."),
        (("--denominators", "--club", "Larks"), "2 panels{}."),
    ],
)
def test_every_way_to_draw_a_list_says_of_whom_it_is(words, beginning, dated, capsys, tmp_path):
    path = tmp_path / "list.png"
    asked = ("Hitter 34", *words, "--when", "strikes=2", "--since", "May 15", "--card", str(path))
    title = listed(dated, capsys, *asked)["title"]
    club = ", the 18 hitters of Larks" if "Larks" in words else ""
    of = f"with two strikes since May 15, 2031{club}"
    with Image.open(path) as picture:
        said = picture.info["Description"]
        assert picture.info["Title"].endswith(f"; {of}")
    assert said.startswith(beginning.format(f", {of}"))
    assert "Hitter 34" in said
    assert title.endswith(f"; {of}")


def test_of_a_club_s_hitters_those_that_are_left_out_are_counted(file, capsys):
    title = listed(file, capsys, "--club", "marl herons", "--minimum", "40")["title"]
    assert title.endswith("; 13 of the 18 hitters of the Marl Herons")


@pytest.mark.parametrize(("club", "of"), [("Larks", "Larks"), ("herons", "the Marl Herons")])
def test_a_club_is_named_as_in_any_sentence(club, of, file, capsys):
    assert run(["list", "--file", str(file), "--event", "whiffs", "--club", club, "Hitter", "99"]) == 2
    capsys.readouterr()
    other = "Hitter 01" if club == "Larks" else "Hitter 00"
    assert run(["list", "--file", str(file), "--event", "whiffs", "--club", club, other]) == 2
    assert f"does not play for {of}" in capsys.readouterr().err


def test_whom_a_list_is_about_has_a_colour_and_a_place_of_its_own():
    result = rate(league(20))
    ordered = result.data.sort_values("rate", ascending=False, kind="stable")["hitter"].tolist()
    ax = rate_list(result, who=ordered[14], source="league.csv; counts 1f0c33a52d1b")
    assert f"Asked for, at place 15: {ordered[14]} " in describe(ax)
    (dots,) = [marks for marks in ax.collections if marks.get_label() == "rate"]
    asked = [to_hex(color).upper() == look.ACCENTS[0] for color in dots.get_facecolors()]
    assert asked == [row == 14 for row in range(20)]
    told = " ".join(text.get_text() for text in ax.texts).replace("\n", " ")
    assert "Source: league.csv; counts 1f0c33a52d1b." in told
    with pytest.raises(UnknownHitterError):
        rate_list(result, who="Somebody")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--card", "x.gif"], "end the name with .png or .svg"),
        (["--save", "x.doc"], "end the name with .csv or .parquet or .xlsx"),
        (["--save", "a.csv", "--card", "none/x.png"], "there is no folder"),
        (["Nobody"], "nobody here is called 'Nobody'"),
        (
            ["Hitter 00", "--club", "marl herons"],
            "Hitter 00 is not on this list: the hitter does not play for the Marl Herons",
        ),
        (
            ["Hitter 00", "--minimum", "40"],
            "Hitter 00 is not on this list: the hitter has fewer than 40 swings",
        ),
        (["--club", "Owls"], "no club here is called 'Owls'"),
        (["--club", "marl herons", "--minimum", "900"], "nobody here has at least 900 swings"),
    ],
)
def test_what_cannot_be_is_said_in_a_sentence(words, said, file, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert run(["list", *words, "--file", str(file), "--event", "whiffs"]) == 2
    told = capsys.readouterr().err
    assert said in told
    assert "unexpected" not in told
    assert not list(tmp_path.iterdir())


def test_the_list_that_was_read_is_not_written_over(file, capsys):
    before = file.read_bytes()
    assert run(["list", "--file", str(file), "--event", "whiffs", "--save", str(file)]) == 2
    assert "it is the file that is read" in capsys.readouterr().err
    assert file.read_bytes() == before


# The picture of a long list.


def league(many=60):
    rng = np.random.default_rng(2)
    swings = rng.integers(200, 500, many)
    return pd.DataFrame(
        {
            "hitter": [f"Hitter {number:02d}" for number in range(many)],
            "swings": swings,
            "hard": rng.binomial(swings, rng.beta(30, 170, many)),
        }
    )


@pytest.mark.parametrize("make", [rate, shrink])
def test_everybody_is_on_the_picture_once(make):
    result = make(league())
    value = "rate" if make is rate else "shrunk"
    ordered = result.data.sort_values(value, ascending=False, kind="stable")
    last = ordered["hitter"].iloc[-1]
    ax = rate_crowd(result, names=[last], top=8)
    drawn = {marks.get_label(): marks for marks in ax.collections}
    named, rest = (drawn[name].get_offsets()[:, 0] for name in ("named", "the rest"))
    assert list(named) == pytest.approx([*ordered[value].head(8), ordered[value].iloc[-1]])
    assert sorted(rest) == pytest.approx(sorted(ordered[value].iloc[8:-1]))
    words = describe(ax)
    assert f"60: {last}" in words
    assert "The other 51 as a cloud" in words
    for number, name in enumerate(ordered["hitter"].head(8), start=1):
        assert f"{number}: {name}" in words


def test_no_dot_of_the_cloud_lies_on_another_name():
    ax = rate_crowd(rate(league()), top=6)
    drawn = {marks.get_label(): marks for marks in ax.collections}
    heights = drawn["the rest"].get_offsets()[:, 1]
    assert heights.min() > 5.5
    assert heights.max() < ax.get_ylim()[0]
    dots = [tuple(dot) for dot in np.round(drawn["the rest"].get_offsets().tolist(), 6)]
    assert len(set(dots)) == len(dots)


def test_short_and_empty_lists_are_drawn_too():
    few = rate(league(3))
    ax = rate_crowd(few)
    assert "the rest" not in {marks.get_label() for marks in ax.collections}
    assert "cloud" not in describe(ax)
    nobody = rate(league(2).assign(swings=0, hard=0))
    assert "there is no list to draw" in describe(rate_crowd(nobody))
    with pytest.raises(UnknownHitterError):
        rate_crowd(few, names=["Somebody"])
