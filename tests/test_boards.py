"""The list for the wall and the sheet for the next game: what stands on them, and how they read."""

from __future__ import annotations

import json
import re
import shutil
from functools import cache

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import Conventions, check_spot, check_top, demo_season
from hitlab.claims.verdicts import HOLDS_AT
from hitlab.cli.commands import run
from hitlab.errors import ClaimError, HitlabError, MissingColumnsError, ReadingError, UnknownHitterError
from hitlab.pages import board_list, dugout_sheet, printing
from hitlab.pages.dugout import COLUMNS, SPOTS
from hitlab.pages.opponents import FEW, thrown, thrown_words
from tests.hostile_names import HOSTILE, REAL, unseen
from tests.needs import needs_chromium, package
from tests.test_pages import HITTERS, Elements, pitches_of

JARGON = re.compile(
    r"posterior|shrunk|Wilson|interval|denominator|odds|log |estimate|prior|verdict|per ?cent|%|sample|"
    r"significan|statistic|split|rate\b|\.\d{3}\b|probab|variance|regress",
    re.I,
)


def team(number=10, seed=4, name="Hitter {}".format):
    """Counts of some hitters; the last has one hard ball in play, and no more."""
    rng = np.random.default_rng(seed)
    swings = rng.integers(200, 500, number)
    in_play = rng.binomial(swings, 0.45)
    hard = rng.binomial(in_play, np.linspace(0.6, 0.2, number))
    table = pd.DataFrame(
        {"hitter": [name(i) for i in range(number)], "swings": swings, "in_play": in_play, "hard": hard}
    )
    if number > 2:
        table.loc[number - 1, ["swings", "in_play", "hard"]] = [4, 1, 1]
    return table


@cache
def board():
    return board_list(team())


@cache
def wall():
    return board().html()


# The board list: its numbers.


@pytest.mark.slow
def test_a_place_is_the_claim_of_the_top():
    rows = board().listed.set_index("hitter")
    told = rows[rows["place"] != "too close to call"]
    assert set(told["place"].str.split().str[0]) == {"first", "last"}
    for hitter, row in told.iterrows():
        end, _, many = row["place"].partition(" ")
        less = {"direction": "less"} if end == "last" else {}
        claim = check_top(team(), hitter, top=int(many or 1), **less)
        assert claim.chance == pytest.approx(row["place_chance"], abs=1e-9)
        assert claim.verdict == "holds"
        if many:  # and one fewer is not enough
            assert check_top(team(), hitter, top=int(many) - 1, **less).verdict != "holds"
    half = len(rows) // 2
    for hitter in rows.index[rows["place"] == "too close to call"]:
        for less in ({}, {"direction": "less"}):
            assert check_top(team(), hitter, top=half, **less).chance < HOLDS_AT


@pytest.mark.slow
def test_the_numbers_are_those_of_a_claim():
    hitter = board().listed["hitter"].iloc[0]
    for per, before in (("swings", ""), ("in_play", "beside_")):
        evidence = check_top(team(), hitter, per=per, minimum=0).evidence.set_index("hitter").loc[hitter]
        row = board().data.set_index("hitter").loc[hitter]
        for name in ("rate", "shrunk", "low", "high"):
            assert row[f"{before}{name}"] == pytest.approx(evidence[name], abs=1e-9)
    assert board().data["record"].iloc[-1] == "1 in 4 swings"
    assert board().data["beside_record"].iloc[-1] == "1 in 1 ball in play"
    assert board().listed["shrunk"].is_monotonic_decreasing


def test_who_leads_by_one_contact_is_marked_and_nobody_else():
    said = board().data.set_index("hitter")["said"]
    assert said["Hitter 9"].startswith("highest per ball in play on one contact")
    assert said["Hitter 9"].endswith("per swing too little to say")
    assert (said.drop("Hitter 9") == "").all()


@pytest.mark.slow
def test_a_lead_on_a_long_record_is_not_marked_and_one_in_many_swings_is():
    sure = team()
    sure.loc[9, ["swings", "in_play", "hard"]] = [300, 150, 150]
    assert (board_list(sure).data["said"] == "").all()
    rare = team()
    rare.loc[9, ["swings", "in_play", "hard"]] = [400, 1, 1]
    row = board_list(rare).data.set_index("hitter").loc["Hitter 9"]
    assert row["listed"]
    assert row["said"].endswith("per swing not near it")


def test_who_has_too_little_stands_beneath_with_what_is_needed():
    row = board().little.iloc[0]
    assert (row["hitter"], row["needed"]) == ("Hitter 9", board().minimum - 4)
    assert f"{board().minimum - 4} more" in Elements(wall()).words
    assert f"{board().minimum - 4} more swings would do" in str(board())
    with pytest.raises(ClaimError, match="nobody has at least 900 swings"):
        board_list(team(), minimum=900)
    assert board_list(team(), minimum=1).little.empty


def test_a_rate_that_is_none_per_ball_in_play_says_so():
    whiffs = board_list(team().drop(columns="hard").assign(whiffs=lambda one: one["swings"] // 4), "whiffs")
    assert whiffs.beside_missing
    assert "Nothing stands per ball in play: not all whiffs are balls in play." in whiffs.rules
    assert "in play best guess" not in Elements(whiffs.html()).words
    assert whiffs.title == "Whiffs per swing"


def test_one_hitter_has_nobody_to_be_compared_with():
    alone = board_list(team(1))
    assert alone.listed["place"].tolist() == [""]
    assert "nobody to compare with" in Elements(alone.html()).words


def test_what_nobody_measured_is_withheld():
    dark = pitches_of(HITTERS[:4], games=8)
    hidden = dark["exit_mph"].where(np.arange(len(dark)) % 2 == 0)
    withheld = board_list(dark.assign(exit_mph=hidden))
    assert withheld.listed.empty
    assert withheld.little["why"].str.contains("unknown hardness").all()
    assert any(rule.startswith("Nobody is listed: hardness is unknown for") for rule in withheld.rules)
    assert "Ada Velm" in Elements(withheld.html()).words
    # One alone who was not measured is beneath; who were are listed, and nothing is settled.
    other = dark["exit_mph"].where((dark["hitter"] != "Ada Velm") | (np.arange(len(dark)) % 4 == 0))
    some = board_list(dark.assign(exit_mph=other))
    assert some.little["hitter"].tolist() == ["Ada Velm"]
    assert not some.listed["place"].str.contains("first|last").any()


@pytest.mark.slow
def test_ticks_of_an_eye_are_corrected_and_days_and_situations_taken():
    season = pitches_of(games=14)
    ticked = season.assign(
        hard_source="eye", hard=(season["exit_mph"] >= 92).where(season["exit_mph"].notna())
    )
    ticked = ticked.drop(columns="exit_mph")
    eye = Conventions(eye=(84, 100, 180, 200))
    plain, corrected = board_list(ticked), board_list(ticked, conventions=eye)
    assert (plain.listed["shrunk"] != corrected.listed["shrunk"]).all()
    claim = check_top(ticked, HITTERS[0], top=1, conventions=eye)
    mine = claim.evidence.set_index("hitter")["shrunk"]
    assert corrected.data.set_index("hitter").loc[HITTERS[0], "shrunk"] == pytest.approx(
        mine[HITTERS[0]], abs=1e-9
    )
    dated = season.assign(date=pd.to_datetime(season["date"]))
    late = board_list(dated, club="herons", since="May 5", when="strikes=1")
    assert set(late.data["hitter"]) == set(HITTERS[1::2])
    assert late.about[0] == "Herons; with one strike since May 5, 2031"
    assert late.data["exposure"].sum() < plain.data["exposure"].sum()


# The board list: how it reads.


def test_the_bars_draw_the_numbers():
    text = wall()
    bars = re.findall(r'class="interval" x="([\d.]+)" y="4" width="([\d.]+)"', text)
    guesses = re.findall(r'class="guess" x="(-?[\d.]+)"', text)
    low, high = (
        float(one) for one in re.search(r"<span>([\d.]+)</span> <span>([\d.]+)</span>", text).groups()
    )
    assert len(bars) == len(guesses) == len(board().listed)
    for (x, width), guess, row in zip(bars, guesses, board().listed.itertuples(), strict=True):
        ends = low + (high - low) * np.array([float(x), float(x) + float(width)]) / 100
        assert ends == pytest.approx([row.low, row.high], abs=2e-4)
        assert low + (high - low) * (float(guess) + 1.6) / 100 == pytest.approx(row.shrunk, abs=2e-4)


def test_what_stands_on_the_wall():
    told = Elements(wall())
    assert "Hard-hit balls per swing and per ball in play" in told.words
    assert "1 in 4 swings" in told.words
    assert "1 in 1 ball in play" in told.words
    assert board().fingerprint in told.words
    assert "too close to call" in told.words
    assert "14pt" in wall()
    season = board_list(pitches_of(HITTERS[:3], games=6), minimum=1)
    assert season.about[0].startswith("games May 1 to 6, 2031")


@pytest.mark.parametrize("text", [wall, lambda: dugout().html()], ids=["board", "dugout"])
def test_it_stands_alone(text):
    text = text()
    told = Elements(text)
    assert told.all("html") == [{"lang": "en"}]
    policy = next(meta["content"] for meta in told.all("meta") if "http-equiv" in meta)
    assert policy.startswith("default-src 'none'")
    assert not told.all("script", "link", "img", "iframe", "a")
    assert not re.search(r"https?:|url\(|@import|@font-face", text)
    assert len(told.all("h1")) == 1
    assert len(told.all("th")) == sum(attrs.get("scope") in ("col", "row") for attrs in told.all("th"))
    for picture in told.all("svg"):
        assert picture["role"] == "img"
        assert picture["aria-label"].startswith("probably between .")


def test_the_same_table_gives_the_same_bytes():
    assert board_list(team()).html() == wall()


def test_more_than_a_page_is_continued():
    long = board_list(team(40))
    text = long.html()
    assert re.findall(r"continued: page \d of \d", text) == ["continued: page 2 of 2"]
    told = Elements(text).words
    assert all(f"Hitter {number} " in told for number in range(40))
    assert "continued" not in wall()


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "names", [(*HOSTILE[:4], HOSTILE[19], "N" * 300), (*HOSTILE, *REAL)], ids=["some", "all"]
)
def test_no_name_from_a_file_breaks_a_list(names):
    listed = board_list(team(len(names), name=lambda at: names[at]))
    text = listed.html()
    told = Elements(text)
    assert not unseen(text.replace("\n", ""))
    assert not told.all("script", "b", "a", "img", "iframe", "link", "object")
    assert {tag for tag, _ in told.found} <= {tag for tag, _ in Elements(wall()).found}
    assert "&lt;script&gt;" in text
    for line in str(listed).splitlines():
        assert not line.startswith("Verdict")


# The dugout sheet: its numbers.


@cache
def pitches():
    """Invented pitches with every kind of result and two pitchers who can be told apart."""
    table = pitches_of(games=12)
    rng = np.random.default_rng(8)
    ended = table["result"].notna()
    results = rng.choice(
        ["single", "double", "walk", "home run", "out", "strikeout"],
        len(table),
        p=[0.2, 0.05, 0.1, 0.03, 0.42, 0.2],
    )
    table["result"] = np.where(ended, results, None)
    table["hitter_side"], table["pitcher_hand"] = "right", "left"
    table["pitcher"] = np.where(table["half"] == "top", "Una Brask", "Ott Fenn")
    return table


@cache
def dugout(**given):
    return dugout_sheet(pitches(), "Larks", **(given or {"against": "Ott"}))


def test_what_is_said_holds_as_a_split():
    data = dugout().data
    assert set(data["hitter"]) == set(HITTERS[::2])
    for event, per in (("whiffs", "swings"), ("swings", "pitches")):
        terms = data.loc[data["event"] == event, "situation"].unique().tolist()
        splits = hitlab.all_splits(pitches(), {term: term for term in terms}, event, per, against="league")
        rows = splits.data.set_index(["label", "situation"])
        for row in data[data["event"] == event].itertuples():
            chance = rows.loc[(row.hitter, row.situation), "chance_above_league"]
            assert row.chance_above == pytest.approx(chance)
            assert {"often": chance >= 0.9, "seldom": chance <= 0.1, "open": True}[row.verdict]
    said = dugout().hitters.set_index("hitter")
    assert said.loc["Ada Velm", "Breaking balls"].startswith("misses seldom: about one in")
    told = {row.hitter for row in data.itertuples() if row.verdict != "open"}
    assert set(said.index) == told
    silent = set(HITTERS[::2]) - told
    assert all(any(one in line for line in dugout().little) for one in silent)


@pytest.mark.slow
def test_whom_to_send_up_is_the_claim_of_the_spot():
    for (words, spot), row in zip(SPOTS.items(), dugout(opponent="herons").spots.itertuples(), strict=True):
        claim = check_spot(pitches(), spot=spot, candidates=list(HITTERS[::2]))
        assert row.spot == words
        assert (row.first, row.verdict) == (claim.numbers["hitter"], claim.verdict)
        assert row.chance == pytest.approx(claim.chance)
        assert row.hardly == (row.gap < 0.01)
        assert row.said.startswith("Hardly makes a difference: with ") == row.hardly
        assert row.first in row.said
    assert not JARGON.search(Elements(dugout(opponent="herons").html()).words)


def test_what_they_throw_is_counted():
    rows, they = thrown(pitches(), pitcher="Fenn")
    assert they == "Ott Fenn"
    own = pitches()[pitches()["pitcher"] == "Ott Fenn"]
    first = own[(own["balls"] == 0) & (own["strikes"] == 0)]["pitch_kind"].value_counts()
    told = rows[rows["count"] == "First pitch"].set_index("pitch_kind")["pitches"]
    assert told.to_dict() == first.to_dict()
    # The club that bats in the bottom half has the pitcher of the top half.
    club, they = thrown(pitches(), club="Herons")
    assert they == "Herons"
    assert set(club["who"]) == {"All of them", "Una Brask"}
    assert dugout().against == "Ott Fenn"
    few = pd.DataFrame({"pitch_kind": ["slider"], "pitches": [FEW - 1], "of": [FEW - 1]})
    assert thrown_words(few) == ""
    assert thrown_words(few.assign(pitches=FEW, of=FEW)) == f"slider all ({FEW} pitches)"
    # Nobody is ahead in these pitches: too little is known, and that stands at the foot.
    assert any("hitter ahead 0" in line for line in dugout().little)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("club", "against"), [("Marl Herons", "the Marl Herons"), ("The Herons", "The Herons"), ("Marl", "Marl")]
)
def test_whose_pitches_they_are_is_said_as_in_any_sentence(club, against):
    sheet = dugout_sheet(pitches().replace({"Herons": club}), "Larks", opponent=club)
    assert sheet.against == against


def test_the_dugout_sheet_is_in_plain_words():
    told = Elements(dugout().html()).words
    assert not JARGON.search(told), JARGON.search(told)
    assert "about" in told
    assert "The coach decides." in told
    assert "Too little to say" in told
    assert not re.search(r"\b(bad|poor|weak|lazy|problem|injur|tired|should|must)\w*", told)


def test_what_the_table_cannot_tell_stands_at_the_foot():
    bare = pitches()[["hitter", "club", "outcome", "balls", "strikes"]].head(1500)
    sheet = dugout_sheet(bare, "Larks", opponent="Herons")
    foot = " ".join(sheet.little)
    assert "Breaking balls: the table has no column pitch_kind." in foot
    assert "Balls hit hard: " in foot
    assert "Whom to send up: " in foot
    assert "What they throw: " in foot
    assert sheet.spots.empty
    assert not JARGON.search(Elements(sheet.html()).words)
    with pytest.raises(MissingColumnsError, match="column pitcher"):
        dugout_sheet(bare, "Larks", against="Fenn")


@pytest.mark.slow
def test_eyes_and_unmeasured_balls_say_nothing_of_hard_ones():
    by_eye = dugout_sheet(pitches(), "Larks", conventions=Conventions(eye=(84, 100, 180, 200)))
    assert "hard" not in set(by_eye.data["event"])
    assert any(line.startswith("Balls hit hard: an eye told") for line in by_eye.little)
    dark = pitches().assign(exit_mph=pitches()["exit_mph"].where(np.arange(len(pitches())) % 2 == 0))
    unknown = dugout_sheet(dark, "Larks")
    assert "hard" not in set(unknown.data["event"])
    assert any(line.startswith("Balls hit hard: ") for line in unknown.little)


@pytest.mark.slow
def test_no_name_from_a_file_breaks_a_sheet():
    names = (*HOSTILE[3:6], *HOSTILE[18:], *REAL[:4])
    table = pitches_of(names, games=3, clubs=(HOSTILE[3], HOSTILE[19])).assign(pitcher=HOSTILE[1])
    sheet = dugout_sheet(table, HOSTILE[19], opponent=HOSTILE[3])
    text = sheet.html()
    assert not Elements(text).all("script", "b", "a", "img", "iframe", "link", "object")
    assert not unseen(text.replace("\n", ""))
    assert "&lt;script&gt;" in text
    for line in str(sheet).splitlines():
        assert not line.startswith("Verdict")


@pytest.mark.slow
@pytest.mark.parametrize("number", [1, 40])
def test_one_hitter_or_forty(number):
    names = [f"Hitter {at}" for at in range(2 * number)]
    sheet = dugout_sheet(pitches_of(names, games=4), "Larks")
    told = Elements(sheet.html()).words
    assert all(f"Hitter {2 * at}" in told for at in range(number))
    assert sheet.spots.empty == (number == 1)


@pytest.mark.parametrize(
    ("given", "error", "said"),
    [
        ({"against": "Fenn", "opponent": "Herons"}, ClaimError, "and not both"),
        ({"opponent": "larks"}, ClaimError, "Larks does not play against itself"),
        ({"against": "Zzz"}, UnknownHitterError, "no pitcher here is called 'Zzz'"),
        ({"opponent": "Zzz"}, UnknownHitterError, "no club here is called 'Zzz'"),
    ],
)
def test_who_is_not_there_is_said(given, error, said):
    with pytest.raises(error, match=said):
        dugout_sheet(pitches(), "Larks", **given)


def test_counts_make_no_sheet_and_a_club_is_needed():
    with pytest.raises(ClaimError, match="single pitches"):
        dugout_sheet(team(), "Larks")
    with pytest.raises(ReadingError, match="single pitches are needed"):
        dugout_sheet(hitlab.tally(pitches()), "Larks")
    with pytest.raises(ClaimError, match="whose hitters"):
        dugout_sheet(pitches(), " ")
    with pytest.raises(ClaimError, match="no column club"):
        dugout_sheet(pitches().drop(columns="club"), "Larks")


# Saving, and the commands.


def test_where_they_may_be_saved(tmp_path, monkeypatch):
    with pytest.raises(HitlabError, match=r"or the whole list as \.html or \.pdf"):
        board().save(tmp_path / "board.docx")
    with pytest.raises(ReadingError, match="there is no folder"):
        dugout().save(tmp_path / "none" / "sheet.html")
    assert board().save(tmp_path / "board.html").read_text("utf-8") == wall()
    assert board().save(tmp_path / "board.csv").read_text("utf-8-sig").startswith("hitter,listed")
    assert dugout().save(tmp_path / "sheet.csv").read_text("utf-8-sig").startswith("hitter,situation")
    monkeypatch.setattr(printing, "browser", lambda: "")
    with pytest.raises(HitlabError, match="no browser that prints a PDF was found"):
        board().save(tmp_path / "board.pdf")


@pytest.fixture
def season(tmp_path):
    path = tmp_path / "season.csv"
    pitches().to_csv(path, index=False)
    return path


@pytest.mark.slow
def test_the_commands_make_them(season, tmp_path, capsys):
    out = tmp_path / "board.html"
    asked = ["board", "--file", str(season), "--club", "larks", "--minimum", "10", "--since", "May 3"]
    assert run([*asked, "--to", str(out)]) == 0
    assert f"List saved as {out}" in capsys.readouterr().out
    assert "Ada Velm" in out.read_text("utf-8")
    asked = ["dugout", "--file", str(season), "--club", "Larks", "--opponent", "Herons", "--json"]
    assert run([*asked, "--to", str(tmp_path / "sheet.html")]) == 0
    assert json.loads(capsys.readouterr().out) == {"saved": str(tmp_path / "sheet.html")}
    told = Elements((tmp_path / "sheet.html").read_text("utf-8")).words
    # These pitches contradict themselves, as the reader finds; that is said in plain words, too.
    assert "First pitch: the table contradicts itself in it" in told
    assert not JARGON.search(told)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["board", "--to", "x.docx"], "end the name with .html or .pdf"),
        (["board", "--to", "nowhere/x.html"], "there is no folder"),
        (["board", "--to", "x.html", "--club", "Zzz"], "no club here is called 'Zzz'"),
        (["board", "--to", "x.html", "--event", "hits per"], ""),
        (["dugout", "--to", "x.html"], "Missing option '--club'"),
        (["dugout", "--to", "x.html", "--club", "Larks", "--against", "A", "--opponent", "B"], "not both"),
    ],
)
def test_a_command_that_cannot_be_is_answered_in_a_sentence(words, said, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    small = pitches_of(HITTERS[:3], games=1)
    small.to_csv("small.csv", index=False)
    assert run([*words, "--file", "small.csv"]) == 2
    told = capsys.readouterr().err
    assert said in " ".join(told.split())
    assert "unexpected" not in told


# In a browser.


def _papers():
    """Return documents and on how many pages each goes."""
    season = demo_season()
    yield board_list(season, club="Lanterns").html(), 1
    yield board_list(team(25, name="Someone Nomund {}".format)).html(), 1
    yield board_list(team(40, name="Someone Nomund {}".format)).html(), 2
    yield dugout_sheet(season, "Lanterns", opponent="Larks").html(), 1
    yield dugout_sheet(season, "Kites", against="Wexcombe").html(), 1


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_they_print_on_one_page_and_everybody_can_read_them(tmp_path):
    axe = package("axe_playwright_python.sync_playwright").Axe()
    papers = list(_papers())
    for text, pages in papers:
        for paper in ("letter", "A4"):
            made = printing.printed(text, paper)
            assert printing.sides(made) == pages, paper
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for text, _ in papers:
            (tmp_path / "paper.html").write_text(text, encoding="utf-8")
            opened = chromium.new_page(bypass_csp=True)
            away = []
            opened.on("request", lambda request, away=away: away.append(request.url))
            opened.goto((tmp_path / "paper.html").as_uri())
            found = axe.run(opened).response
            small = opened.evaluate(
                "() => [...document.querySelectorAll('.sheet tbody th, .sheet td.number, .sheet td.place')]"
                ".map(cell => 0.75 * parseFloat(getComputedStyle(cell).fontSize)).filter(size => size < 13.9)"
            )
            opened.close()
            assert [(v["id"], v["nodes"][0]["html"][:160]) for v in found["violations"]] == []
            assert [url for url in away if not url.startswith("file:")] == []
            assert small == []
        chromium.close()


def test_the_public_names():
    assert isinstance(board(), hitlab.pages.BoardList)
    assert isinstance(dugout(), hitlab.pages.DugoutSheet)
    assert list(dugout().hitters.columns) == ["hitter", *COLUMNS.values()]
