"""One season of several in every kind of claim, in lists, pages, sentences and on the desk.

A question of a season of the folder is held against the same question of that season's table alone, the
seasons before it given as history where its kind takes one.
"""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.asking import Known, ask
from hitlab.asking.seasons import season_named
from hitlab.claims import Claim
from hitlab.cli.commands import run
from hitlab.desk import Desk
from hitlab.errors import ClaimError, CountsError
from hitlab.evidence import cut_list, game_dates
from hitlab.pitches import write_checked
from hitlab.questions import KINDS, Question, season_fit

pytestmark = pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")

WHO, OTHER = "Alenka Larkditch", "Renzo Otonte"
_WHIFFS = {"event": "whiffs", "per": "swings"}
ASKED: dict[str, dict[str, Any]] = {
    "leads": {},
    "top": {"options": {"top": 3}},
    "above": {"who": WHO, "options": {"value": 0.2}},
    "near": {"who": WHO, "options": {"value": 0.2}},
    "ahead": {"who": WHO, "options": {"other": OTHER}},
    "split": {"who": WHO, "when": ("pitch_kind=breaking",)},
    "hot": {"who": WHO, "options": {"stretch": 3}},
    "steady": {"who": WHO, "options": {"stretch": 3}},
    "more": {"who": WHO, "since": "May 20"},
    "response": {"options": {"response": "swing"}},
    "together": {"options": {"first": _WHIFFS, "second": {"event": "in_play", "per": "contact"}}},
    "spot": {"options": {"gap": -1, "outs": 1, "bases": "first", "candidates": [WHO, OTHER]}},
}


@pytest.fixture(scope="module")
def frames() -> dict[int, pd.DataFrame]:
    """Every third game of four clubs of the demo season is taken for one of another year."""
    pitches = pd.read_parquet(hitlab.demo_season())
    clubs = {*sorted(pitches["club"].unique())[:4]}
    among = pitches.groupby("game")["club"].agg(lambda seen: {*seen} <= clubs)
    games = sorted(among.index[among])
    found = {}
    for place, year in enumerate((2029, 2030, 2031)):
        season = pitches[pitches["game"].isin(games[place::3])]
        found[year] = season.assign(date=season["date"] - pd.DateOffset(years=2031 - year))
    return found


@pytest.fixture(scope="module")
def store(frames: dict[int, pd.DataFrame], tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("seasons") / "store"
    folder.mkdir()
    for year, frame in frames.items():
        write_checked(frame, folder / f"season-{year}.parquet")
    return folder


def question(kind: str, **told: Any) -> Question:
    rate = {} if kind in ("response", "together", "spot") else {"event": "whiffs"}
    return Question(kind=kind, **rate, **{**ASKED[kind], **told})


def noted(claim: Claim) -> str:
    return "; ".join(claim.notes)


def test_every_kind_is_tried():
    assert ASKED.keys() == KINDS.keys()


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("year", [2030, 2031])
@pytest.mark.parametrize("kind", KINDS)
def test_a_season_of_a_folder_is_its_own_table_and_history(store, frames, kind, year):
    told = question(kind, season=str(year)).ask(store)
    earlier = [frames[one] for one in range(year - 1, 2028, -1)]
    alone = question(kind).ask(frames[year], **({"earlier": earlier} if KINDS[kind].shrunk else {}))
    for part in ("chance", "verdict", "numbers", "fingerprint", "assumptions"):
        mine = getattr(told, part)
        if part == "assumptions":
            mine = tuple(text.replace("over this season", "over this table") for text in mine)
        assert mine == getattr(alone, part)
    pd.testing.assert_frame_equal(told.evidence, alone.evidence)
    # Its sentences say which season is meant, those without it say the same of the table.
    for text in (told.claim, told.say_in_full, told.say):
        assert f"in {year}" in text
    assert told.claim.replace(f" in {year}", "").replace(", as they hit", "") == alone.claim
    history = f"{year - 1} and 2029 are the history" if year == 2031 else "2029 is the history"
    assert (history if KINDS[kind].shrunk else f"{year} stands alone: what is asked here") in noted(told)
    if KINDS[kind].shots:
        whole = pd.concat(frames.values(), ignore_index=True)
        lists = [cut_list(whole, told), cut_list(frames[year].reset_index(drop=True), alone)]
        first, second = (one.data.drop(columns="row", errors="ignore") for one in lists)
        assert len(first)
        pd.testing.assert_frame_equal(first, second)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("column", ["date", "season"])
def test_pitches_of_no_told_season_are_counted_in_a_note(frames, kind, column):
    whole = pd.concat(frames.values(), ignore_index=True)
    if column == "season":
        whole["season"] = pd.to_datetime(whole["date"]).dt.year.astype(str)
    whole[column] = whole[column].where(whole.index % 50 != 0)
    untold = int(whole[column].isna().sum())
    told = question(kind, season="2031").ask(whole)
    assert f"left out, because no season is told: {untold:,} pitches without a {column}" in noted(told)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("kind", KINDS)
def test_a_card_gives_the_question_back_with_its_season(store, kind, tmp_path):
    claim = question(kind, season="2031").ask(store)
    path = tmp_path / "card.png"
    hitlab.card(claim, path, dates=game_dates(store, claim.question))
    facts = hitlab.read_card(path)
    assert facts.asked == claim.question
    assert facts.asked.season == "2031"
    again = facts.asked.ask(store)
    assert (again.chance, again.say) == (claim.chance, claim.say)
    assert game_dates(store, claim.question) == "April 10 to June 22, 2031"


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("kind", KINDS)
def test_a_career_is_all_of_the_table_or_is_refused_with_the_mend(store, kind):
    told = {"since": "2031-05-20"} if kind == "more" else {}
    if KINDS[kind].one_season:
        with pytest.raises(ClaimError, match=r"give one season, such as season='2031'"):
            question(kind, season="career").ask(store)
        return
    career, plain = (question(kind, season=one, **told).ask(store) for one in ("career", ""))
    assert (career.chance, career.numbers, career.fingerprint) == (
        plain.chance,
        plain.numbers,
        plain.fingerprint,
    )
    for text in (career.claim, career.say_in_full):
        assert "career" in text
    if kind == "more":
        assert "within the career since May the twentieth, 2031 than before" in career.say


@pytest.mark.slow
def test_a_career_leaves_out_another_level_in_every_kind(frames):
    whole = pd.concat([frames[2029].assign(level="youth"), frames[2030], frames[2031]])
    last_two = pd.concat([frames[2030], frames[2031]])
    for kind in ("split", "more", "response", "spot"):
        told = {"since": "2031-05-20"} if kind == "more" else {}
        career = question(kind, season="career", **told).ask(whole)
        assert career.numbers == question(kind, **told).ask(last_two).numbers
        pitches = hitlab.tally(frames[2029]).column("pitches").sum()
        assert f"{pitches:,} pitches of 2029 at the level youth" in noted(career)


def test_levels_are_told_apart_only_where_seasons_are_put_together(frames):
    young = frames[2031]["hitter_id"].isin(sorted(frames[2031]["hitter_id"].unique())[::2])
    whole = pd.concat([frames[2030], frames[2031].assign(level=np.where(young, "college", "professional"))])
    assert question("hot", season="2031").ask(whole).chance == question("hot").ask(frames[2031]).chance
    alone = question("above", season="2031", history="none").ask(whole)
    assert alone.chance == question("above").ask(frames[2031]).chance
    with pytest.raises(ClaimError, match=r"2031 has more than one level .* or give a table of its pitches"):
        question("response", season="career").ask(whole)


def test_hard_balls_told_otherwise_part_a_career_only_where_they_are_asked_about(frames):
    by_eye = frames[2029].assign(hard=frames[2029]["exit_mph"] > 95).drop(columns="exit_mph")
    whole = pd.concat([by_eye, frames[2030], frames[2031]])
    for response, many in (("hard", 2), ("swing", 3)):
        career = question("response", season="career", options={"response": response}).ask(whole)
        last = pd.concat(list(frames.values())[-many:])
        alone = question("response", options={"response": response}).ask(last)
        assert career.numbers["exposure"] == alone.numbers["exposure"]


def test_seasons_may_name_their_games_alike(frames):
    """What a hitter faced is told by game: those of another season are others, whatever they are called."""
    numbered = {}
    for year, frame in frames.items():
        names = {game: f"game {place}" for place, game in enumerate(sorted(frame["game"].unique()))}
        numbered[year] = frame.assign(game=frame["game"].map(names))
    told = question("more", season="2031").ask(pd.concat(numbered.values()))
    assert told.numbers == question("more").ask(numbered[2031]).numbers


@pytest.mark.slow
def test_kinds_and_clubs_are_those_of_the_season(frames):
    """Who was of another role, or played for another club, a year ago is what he is now."""
    roles = ["bench", "regular"]
    place = {who: at for at, who in enumerate(sorted(frames[2031]["hitter_id"].unique()))}
    changed = {
        year: frame.assign(role=[roles[(place.get(who, 0) + year) % 2] for who in frame["hitter_id"]])
        for year, frame in frames.items()
    }
    whole = pd.concat(changed.values())
    for kind in ("above", "spot"):
        told = question(kind, season="2031", history="none", groups="role").ask(whole)
        assert told.chance == question(kind, groups="role").ask(changed[2031]).chance
    moved = pd.concat([frames[2030].assign(club="Zyqquards"), frames[2031]]).drop(columns="hitter_id")
    with pytest.raises(hitlab.HitlabError, match="Zyqquards"):
        question("leads", season="2031", history="none", club="Zyqquards").ask(moved)


@pytest.mark.slow
def test_bad_input_names_the_mend_in_every_kind(store, frames):
    whiffs, contact = ASKED["together"]["options"].values()
    link = hitlab.two_rates.correlate_rates(
        frames[2031],
        hitlab.two_rates.RateOf(whiffs["event"], whiffs["per"]),
        hitlab.two_rates.RateOf(contact["event"], contact["per"]),
    )
    for kind in KINDS:
        with pytest.raises(ClaimError, match=r"season='2027': the table's seasons are 2029, 2030 and 2031"):
            question(kind, season="2027").ask(store)
        counts: Any = link if kind == "together" else hitlab.tally(frames[2031])
        # For a change, and a split, a day or a situation asks for pitches first.
        told = {"since": ""} if kind == "more" else {"when": ()} if kind == "split" else {}
        given = {"inside": counts} if kind == "split" else {}
        with pytest.raises(ClaimError, match="season asks for single pitches, and these are counts"):
            question(kind, season="2031", **told).ask(counts, **given)
    for kind in ("above", "response"):  # a table of one season
        one = question(kind, season="2031").ask(frames[2031])
        assert one.chance == question(kind).ask(frames[2031]).chance
    for kind in ("hot", "steady", "more", "split"):
        with pytest.raises(
            ClaimError, match=r"the season's games are from 2031-04-10 to 2031-06-22|is in 2030"
        ):
            question(kind, season="2031", since="2030-05-20").ask(store)
    with pytest.raises(ClaimError, match="when asks for single pitches"):
        question("steady", when="pitch_kind=breaking").ask(hitlab.tally(frames[2031], by=["hitter", "game"]))


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("kind", ["split", "more", "together", "spot", "response"])
def test_who_is_who_in_a_career_is_told_by_ids_or_said_to_be_told_by_names(frames, kind):
    whole = pd.concat(frames.values()).drop(columns=["hitter_id", "pitcher_id"])
    told = {"since": "2031-05-20"} if kind == "more" else {"who": WHO} if kind == "response" else {}
    with pytest.raises(ClaimError, match="no hitter_id tells who is who over several seasons"):
        question(kind, season="career", **told).ask(whole)
    career = question(kind, season="career", history="names", **told).ask(whole)
    assert career.numbers == question(kind, **told).ask(whole).numbers
    # One season takes none before it, so that nobody has to be found again; nor have all together.
    assert (
        question(kind, season="2031").ask(whole).chance
        == question(kind).ask(whole[pd.to_datetime(whole["date"]).dt.year == 2031]).chance
    )
    everybody = Question(kind="response", season="career", options={"response": "swing"})
    assert everybody.ask(whole).chance is not None


# Lists and pages.


def told_by(capsys: pytest.CaptureFixture[str], *words: Any) -> str:
    capsys.readouterr()
    assert run([str(word) for word in words]) in (0, 1, 3)
    return " ".join(capsys.readouterr().out.split())


@pytest.mark.slow
def test_a_list_of_a_season_has_its_history(store, frames, capsys):
    asked = ["list", "--file", store, "--event", "whiffs", "--most", 60, "--json"]
    rows = json.loads(told_by(capsys, *asked, "--season", 2031))
    earlier = [hitlab.tally(frames[2030]), hitlab.tally(frames[2029])]
    fit = hitlab.shrink(hitlab.tally(frames[2031]), "whiffs", "swings", earlier=earlier).table()
    by_hand = fit.set_index("hitter_id")["shrunk"]
    assert "in 2031" in rows["title"]
    assert rows["notes"][0].startswith("2030 and 2029 are the history of 2031, and ")
    assert len(rows["rows"]) == len(by_hand)
    for row in rows["rows"]:
        assert row["shrunk"] == pytest.approx(by_hand[row["hitter_id"]], abs=1e-9)
    alone = json.loads(told_by(capsys, *asked, "--season", 2031, "--history", "none"))
    plain = hitlab.shrink(hitlab.tally(frames[2031]), "whiffs", "swings").table().set_index("hitter_id")
    assert alone["rows"][0]["shrunk"] == pytest.approx(plain["shrunk"].max(), abs=1e-9)
    records = json.loads(told_by(capsys, *asked, "--season", 2030, "--denominators"))
    whiffs = hitlab.tally(frames[2030]).data.set_index("hitter_id")["whiffs"]
    assert {row["hitter_id"]: row["whiffs"] for row in records["rows"]} == whiffs.to_dict()
    career = json.loads(told_by(capsys, *asked, "--season", "career"))
    assert "over the whole career" in career["title"]


def test_ranks_of_a_season_are_those_of_its_claims(store):
    fit = season_fit(store, 2031, "whiffs", "swings")
    claim = question("above", season="2031").ask(store)
    mine = fit.data[fit.data["hitter"] == WHO].iloc[0]
    assert mine["shrunk"] == claim.numbers["shrunk"]
    told = claim.evidence.iloc[0]
    assert [mine["low"], mine["high"]] == pytest.approx([told["low"], told["high"]], rel=1e-9)
    assert fit.data[["low", "high"]].notna().all(axis=None)
    assert len(hitlab.ranks(fit).data) == len(fit.data)
    with pytest.raises(ClaimError, match="the table's seasons are"):
        season_fit(store, "2027", "whiffs", "swings")
    table = hitlab.rank_table(fit, minimum=40)
    assert table.set_index("hitter")["shrunk"][WHO] == mine["shrunk"]
    assert {*table["hitter"]} == {*hitlab.ranks(fit, minimum=40).data["hitter"]}
    with pytest.raises(CountsError, match="choose what is fitted"):
        hitlab.rank_table(fit, where="strikes=2")
    with pytest.raises(CountsError, match="the fit is of whiffs per swings, not of contact per swings"):
        hitlab.rank_table(fit, "contact", minimum=40)
    assert hitlab.rank_table(fit, "whiffs", minimum=40).equals(table)


@pytest.mark.slow
def test_a_sheet_for_the_next_game_is_of_the_season(store, frames, tmp_path, capsys):
    club = frames[2031]["club"].iloc[0]
    sheet = hitlab.pages.dugout_sheet(store, club, season="2031")
    alone = hitlab.pages.dugout_sheet(frames[2031], club)
    for name in ("data", "hitters", "spots"):
        pd.testing.assert_frame_equal(getattr(sheet, name), getattr(alone, name))
    assert "season 2031" in sheet.about
    assert any(line.startswith("2031 stands alone") for line in sheet.foot)
    assert not sheet.data.equals(hitlab.pages.dugout_sheet(store, club).data)
    career = hitlab.pages.dugout_sheet(store, club, season="career")
    assert "the whole career" in career.about
    with pytest.raises(ClaimError, match="the table's seasons are"):
        hitlab.pages.dugout_sheet(store, club, season="2027")
    to = tmp_path / "sheet.html"
    told_by(capsys, "dugout", "--file", store, "--club", club, "--season", 2031, "--to", to)
    assert "season 2031" in to.read_text("utf-8")


@pytest.mark.slow
def test_a_page_and_the_wall_s_list_are_of_the_season(store, frames):
    page = hitlab.hitter_page(store, WHO, "whiffs", "swings", season="2031")
    alone = hitlab.hitter_page(frames[2031], WHO, "whiffs", "swings")
    told, plain = str(page), str(alone)
    assert "season 2031; games April 10 to June 22, 2031" in " ".join(told.split())
    assert "2030 and 2029 are the history of 2031" in " ".join(told.split())
    pd.testing.assert_frame_equal(page.data[["events", "exposure"]], alone.data[["events", "exposure"]])
    mine = season_fit(store, 2031, "whiffs", "swings").data.set_index("hitter")["shrunk"][WHO]
    assert page.data.set_index("rate_words")["shrunk"]["whiffs per swing"] == mine
    for name in ("situations", "form", "fastballs", "pitches"):
        assert page.sections[name] == alone.sections[name] or str(page.sections[name]) == str(
            alone.sections[name]
        )
    assert "2029" not in plain
    career = hitlab.hitter_page(store, WHO, "whiffs", "swings", season="career")
    assert "form is told of the games of one season" in " ".join(str(career).split())
    assert "the whole career; games April 3, 2029 to June 22, 2031" in " ".join(str(career).split())
    board = hitlab.pages.board_list(store, "whiffs", season="2031")
    assert board.about[0] == "In 2031"
    assert board.data.set_index("hitter")["shrunk"][WHO] == mine
    assert board.notes[0].startswith("2030 and 2029 are the history of 2031")


@pytest.mark.slow
def test_the_commands_ask_for_a_season(store, tmp_path, capsys):
    whiffs = ["--file", store, "--event", "whiffs", "--season", "2031"]
    told = told_by(capsys, "check", "hot", *WHO.split(), *whiffs, "--stretch", "3", "--json")
    assert json.loads(told)["chance"] == question("hot", season="2031").ask(store).chance
    told = told_by(capsys, "check", "response", "--response", "swing", "--file", store, "--season", "2031")
    assert "than after another strike in 2031" in told
    page = tmp_path / "page.html"
    told_by(capsys, "page", *WHO.split(), *whiffs, "--to", page)
    assert "season 2031; games April 10 to June 22, 2031" in page.read_text(encoding="utf-8")
    said = told_by(capsys, "ask", f"{OTHER} misses more often than anyone else in 2030", "--file", store)
    assert f"does {OTHER} miss more often per swing in 2030 than anyone else?" in said
    assert "2029 is the history of 2030" in said
    assert run(["list", "--file", str(store), "--season", "2027"]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert "--season '2027': the table's seasons are 2029, 2030 and 2031" in said


# Sentences.


@pytest.fixture(scope="module")
def known(store: Path) -> Known:
    return Known.of(store)


@pytest.mark.parametrize(
    ("sentence", "asked"),
    [
        ("Larkditch misses more often than anyone else in 2031", ("leads", "2031", "", "")),
        ("In 2030, Larkditch misses more often than Otonte", ("ahead", "2030", "", "")),
        ("Larkditch missed more often than Otonte during the 2030 season", ("ahead", "2030", "", "")),
        ("Larkditch missed more often than Otonte last season", ("ahead", "2030", "", "")),
        ("nobody misses more often than Larkditch this season", ("leads", "2031", "", "")),
        ("Larkditch has missed more often than anyone in his career", ("leads", "career", "", "")),
        ("over her whole career Larkditch misses more often than Otonte", ("ahead", "career", "", "")),
        ("Larkditch owns breaking balls in 2030", ("above", "2030", "", "")),
        ("Larkditch is hot this season", ("hot", "2031", "", "")),
        ("after a miss Larkditch misses less often in 2030", ("response", "2030", "", "")),
        ("hitters who miss more often hit it hard more often in 2031", ("together", "2031", "", "")),
        ("In May 2030 Larkditch misses more than Otonte", ("ahead", "2030", "2030-05-01", "2030-05-31")),
        ("Larkditch misses more since May 15, 2031 than before", ("more", "", "2031-05-15", "")),
        ("Larkditch has missed more since May 15 this year than before", ("more", "2031", "2031-05-15", "")),
        ("Larkditch misses more often since 2030 than before", ("more", "career", "2030-04-08", "")),
        ("Larkditch misses more this season than in past seasons", ("more", "career", "2031-04-10", "")),
        ("Larkditch is hot", ("hot", "", "", "")),
    ],
)
def test_a_sentence_names_a_season(known, sentence, asked):
    told = ask(sentence, known)
    assert told.text == sentence
    assert told.outcome == "understood", told.said
    q = told.question
    assert (q.kind, q.season, q.since, q.until) == asked
    if q.season:
        words = "career" if q.season == "career" else f"in {q.season}"
        assert words in told.read_as


@pytest.mark.parametrize(
    ("sentence", "said"),
    [
        ("Larkditch misses more often than Otonte in 2027", "2027 is none of them"),
        ("in 2029 and 2030 Larkditch misses more than Otonte", "one of them can be asked at a time"),
        ("Larkditch had a career year", "one can be asked, as in 2031, or all together as a career"),
        ("2031", "nothing was said"),
    ],
)
def test_a_sentence_that_names_no_season_of_the_table_is_refused(known, sentence, said):
    told = ask(sentence, known)
    assert told.outcome == "refused"
    assert said in told.why


def test_one_season_against_the_one_before_it_is_asked_back(known):
    for sentence in (
        "Larkditch misses more often than last year",
        "Larkditch misses more in 2031 than in 2030",
    ):
        told = ask(sentence, known)
        assert told.outcome == "asked back"
        assert "2031 can be asked against all seasons before it together" in told.said
        assert (told.nearest.kind, told.nearest.since) == ("more", "2031-04-10")


def test_a_season_is_told_beside_a_sentence_that_names_none(known, store):
    told = ask("Larkditch misses more often than Otonte", known, season="2030", history="none").question
    assert (told.season, told.history) == ("2030", "none")
    assert ask("Larkditch misses more than Otonte in 2031", known, season="2030").question.season == "2031"
    answer = ask("Larkditch misses more often than Otonte in 2031", store).answer()
    assert answer.chance == question("ahead", season="2031").ask(store).chance


def test_seasons_of_a_column_are_named_by_what_it_says(frames):
    named = {2029: "2028-29", 2030: "2029-30", 2031: "2030-31"}
    whole = pd.concat([frame.assign(season=named[year]) for year, frame in frames.items()])
    known = Known.of(whole)
    assert list(known.seasons) == ["2028-29", "2029-30", "2030-31"]
    assert season_named("in the 2029-30 season Larkditch misses more", known).season == "2029-30"
    assert season_named("Larkditch misses more on 2-1 counts", known).season == ""
    odd = Known.of(whole.assign(season=whole["season"].map(lambda name: f"season {name}")))
    assert odd.seasons == {}


def test_a_table_of_one_season_is_read_as_before(frames):
    known = Known.of(frames[2031])
    assert known.seasons == {}
    assert season_named("Larkditch misses more in his career", known).rest.endswith("career")
    assert ask("Larkditch misses more often than Otonte this season", known).question.season == ""
    assert "this table holds one season" in ask("Larkditch leads in his career", known).why


def test_days_of_a_sentence_are_those_of_its_season():
    days = {str(year): (datetime(year, 4, 1), datetime(year, 9, 1)) for year in (2030, 2031)}
    known = Known(None, (), frozenset({"date"}), (datetime(2030, 4, 1), datetime(2031, 9, 1)), seasons=days)
    assert known.within("2030").days == days["2030"]
    assert known.within("career").days == known.days == known.within("").days


# The desk.


@pytest.mark.slow
def test_the_desk_chooses_a_season(store, frames, tmp_path):
    desk = Desk(str(store), tmp_path)
    assert [words for words, _ in desk.season.options] == [
        "all of the table",
        "2031",
        "2030",
        "2029",
        "the whole career",
    ]
    assert desk.season.layout.display is None
    desk.season.value = ("2031", "ids")
    desk.who.value, desk.claimed.value, desk.rate.value, desk.value.value = (
        WHO,
        "above",
        ("whiffs", "swings"),
        "20%",
    )
    desk.check.click()
    assert desk.claim is not None
    assert desk.claim.chance == question("above", season="2031").ask(store).chance
    assert "in 2031" in desk.read.value
    for what in ("picture", "page about the hitter", "cut list"):
        desk.saves[what].click()
        assert "is saved" in desk.saved.value
    [page] = tmp_path.glob("*.html")
    assert "season 2031; games April 10 to June 22, 2031" in page.read_text(encoding="utf-8")
    desk.sentence.value = "Larkditch misses more often than Otonte"
    desk.ask.click()
    assert desk.claim.question.season == "2031"
    desk.sentence.value = "Larkditch misses more often than Otonte in 2030"
    desk.ask.click()
    assert desk.claim.question.season == "2030"
    # Another table has other seasons, or one.
    desk.demo.click()
    assert desk.season.value == ("", "ids")
    assert desk.season.layout.display == "none"


def test_without_ids_the_desk_looks_at_each_season_by_itself(frames, tmp_path):
    path = tmp_path / "two.parquet"
    write_checked(pd.concat([frames[2030], frames[2031]]).drop(columns="hitter_id"), path)
    desk = Desk(str(path), tmp_path)
    assert [words for words, _ in desk.season.options] == [
        "all of the table",
        "2031, by itself",
        "2030, by itself",
    ]
    desk.season.value = ("2031", "none")
    desk.who.value = WHO
    desk.claimed.value = "league"
    desk.check.click()
    assert desk.claim is not None
    assert "2031 stands alone, as was asked" in noted(desk.claim)
