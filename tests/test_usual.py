"""What is usual, stated from outside: a range, a league's law, its spread alone."""

from __future__ import annotations

import json

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

import hitlab
from hitlab import check_above, check_leads, shrink
from hitlab.cli.commands import run
from hitlab.errors import ClaimError, CountsError, HitlabWarning
from hitlab.estimates import LeagueLaw
from hitlab.estimates.league_law import stated_range
from hitlab.questions.question import Question
from hitlab.spoken import range_of, share_of


@given(
    low=st.floats(0.005, 0.6), width=st.floats(0.01, 0.3), share=st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99])
)
def test_a_range_holds_the_share_that_is_stated(low, width, share):
    high = low + width
    if width > 0.55 * share or high / low > 20:  # may be wider than the flat law, and is refused then
        return
    law = LeagueLaw.between(low, high, share=share)
    ends = beta.ppf([(1 - share) / 2, (1 + share) / 2], law.mean * law.size, (1 - law.mean) * law.size)
    np.testing.assert_allclose(ends, [low, high], rtol=1e-3)
    assert law.mean * (1 - law.mean) / (law.size + 1) == pytest.approx(law.spread**2)


@pytest.mark.parametrize(
    ("low", "high", "share", "mend"),
    [
        (0.18, 0.08, 0.9, "the lower one first"),
        (8, 18, 0.9, "two rates between 0 and 1"),
        (float("nan"), 0.2, 0.9, "two rates between 0 and 1"),
        (0.08, 0.18, 1.0, "a share of the hitters between 0 and 1"),
        (0.02, 0.98, 0.9, "nearly every rate"),
    ],
)
def test_what_is_no_range_is_refused(low, high, share, mend):
    with pytest.raises(CountsError, match=mend):
        LeagueLaw.between(low, high, share=share)


@pytest.mark.parametrize(
    "text",
    [
        "8% to 18%",
        "between 8 and 18 % of swings",
        "Between 8 and 18 percent of the swings",
        "from 8 to 18 per cent",
        "8-18%",
        "8 \u2013 18 %",
        ".08 to .18",
        "0.08-0.18",
        "2/25 to 9/50",
    ],
)
def test_a_range_is_read_as_it_is_said(text):
    assert range_of(text) == pytest.approx((0.08, 0.18))


def test_numbers_whose_letters_hold_a_joining_word_are_read():
    assert share_of("nine in ten") == pytest.approx(0.9)
    assert share_of("nine of twenty") == pytest.approx(0.45)
    assert share_of("1/5") == share_of("1 / 5") == pytest.approx(0.2)


def test_a_range_may_be_said_in_words():
    assert range_of("one in twelve to one in five") == pytest.approx((1 / 12, 1 / 5))
    assert range_of("a tenth to a quarter") == pytest.approx((0.1, 0.25))
    assert range_of("twenty-five to thirty-five percent") == pytest.approx((0.25, 0.35))


@pytest.mark.parametrize(
    "text", ["", " ", "8%", "many", "8 to 18", "8% to", "to", " to 8%", "1.2 to 1.3", "8% to 8%"]
)
def test_what_is_no_range_in_words_is_refused(text):
    with pytest.raises(ClaimError, match=r"such as 8% to 18%"):
        range_of(text)


def test_a_range_that_falls_is_turned_round():
    with pytest.raises(ClaimError, match="the lower rate comes first; give 8% to 18%"):
        range_of("18% to 8%")


@pytest.mark.parametrize("text", ["", " ", "-"])
def test_a_rate_of_no_words_is_refused(text):
    with pytest.raises(ClaimError, match="give a rate between 0 and 1"):
        share_of(text)


def _team(rng, law, hitters=12, low=60, high=220):
    truth = rng.beta(law.mean * law.size, (1 - law.mean) * law.size, hitters)
    swings = rng.integers(low, high, hitters)
    table = pd.DataFrame({"hitter": [f"h{i:02d}" for i in range(hitters)], "swings": swings})
    return table.assign(hard=rng.binomial(swings, truth)), truth


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")
def test_a_stated_range_helps_a_club_and_its_intervals_stay_right():
    """Whoever knows twelve hitters' true rates, and no more, states a range as good as it is said to be."""
    rng, usual = np.random.default_rng(17), LeagueLaw(0.13, 0.03)
    errors, inside = {"alone": [], "told": []}, {"alone": [], "told": []}
    for _ in range(300):
        table, truth = _team(rng, usual)
        known = rng.beta(usual.mean * usual.size, (1 - usual.mean) * usual.size, 12)
        mean, spread = known.mean(), known.std(ddof=1)
        size = mean * (1 - mean) / spread**2 - 1
        low, high = beta.ppf([0.05, 0.95], mean * size, (1 - mean) * size)
        for name, prior in (("alone", None), ("told", LeagueLaw.between(low, high))):
            data = shrink(table, "hard", "swings", prior=prior).data
            errors[name].append(((data["shrunk"] - truth) ** 2).mean())
            inside[name].append(((data["low"] <= truth) & (truth <= data["high"])).mean())
    saved = np.array(errors["told"]) - np.array(errors["alone"])
    assert saved.mean() + 3 * saved.std() / np.sqrt(len(saved)) < 0
    error = np.std(inside["told"], ddof=1) / np.sqrt(len(inside["told"]))
    assert abs(np.mean(inside["told"]) - 0.90) <= 0.02 + 2 * error, np.mean(inside["told"])


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::hitlab.errors.HitlabWarning")
@pytest.mark.parametrize(("ticks", "false"), [(0.6, 0.02), (0.95, 0.06)])
def test_an_eye_may_borrow_the_spread_and_not_the_level(ticks, false):
    """Its rates are other rates: it ticks 60 (or 95) of 100 hard balls, and 2 (or 6) of 100 other swings."""
    rng, usual = np.random.default_rng(18), LeagueLaw(0.13, 0.03)
    league, _ = _team(rng, usual, hitters=150, low=200, high=600)
    law = shrink(league, "hard", "swings").law
    errors, inside = {}, {}
    for _ in range(200):
        table, truth = _team(rng, usual)
        ticked = ticks * truth + false * (1 - truth)
        table["hard"] = rng.binomial(table["swings"], ticked)
        for name, prior in (("alone", None), ("spread", law.spread_alone), ("level too", law)):
            data = shrink(table, "hard", "swings", prior=prior).data
            errors.setdefault(name, []).append(((data["shrunk"] - ticked) ** 2).mean())
            inside.setdefault(name, []).append(((data["low"] <= ticked) & (ticked <= data["high"])).mean())
    error, share = ({name: np.mean(one) for name, one in many.items()} for many in (errors, inside))
    assert error["spread"] < min(error["alone"], error["level too"]), error
    assert 0.88 <= share["spread"] <= 0.93, share
    assert share["level too"] < share["spread"], share


def test_the_spread_alone_leaves_the_level_to_the_table():
    rng = np.random.default_rng(3)
    table, _ = _team(rng, LeagueLaw(0.30, 0.02), hitters=12, low=300, high=301)
    pooled = table["hard"].sum() / table["swings"].sum()
    borrowed = LeagueLaw(0.13, 0.03, 150, "a radar league").spread_alone
    fit = shrink(table, "hard", "swings", prior=borrowed)
    assert fit.mean == pytest.approx(pooled, abs=0.004)
    assert borrowed.spread_at(pooled) == pytest.approx(0.8 * 0.03)
    assert fit.spread == pytest.approx(0.8 * 0.03, rel=0.1)
    # Half as many ticked: differences are half as large, and a little more.
    assert borrowed.spread_at(0.065) == pytest.approx(0.8 * 0.03 * 0.065 * 0.935 / (0.13 * 0.87))
    wild = table.assign(hard=np.where(np.arange(12) % 2, 280, 20))
    assert shrink(wild, "hard", "swings").spread > 0.25
    with pytest.warns(HitlabWarning, match="scatter more than the stated spread"):
        shrink(wild, "hard", "swings", prior=borrowed)


@pytest.fixture
def team():
    names = ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor", "Ib Wychditch", "Oda Fencombe", "Per Amakiri"]
    return pd.DataFrame({"hitter": names, "swings": [90, 80, 70, 60, 50, 40], "hard": [17, 9, 8, 7, 5, 3]})


@pytest.mark.parametrize(
    "prior",
    ["8% to 18%", LeagueLaw(0.13, 0.03, 20, "last year"), LeagueLaw(0.2, 0.05, 40, "radar").spread_alone],
)
def test_a_claim_says_what_was_stated_and_what_it_changed(team, prior):
    told, alone = (check_above(team, "Kvalbakk", 0.13, prior=one) for one in (prior, None))
    assert told.numbers["chance_alone"] == alone.chance != told.chance
    assert told.notes[0].startswith("without what is stated of the league, from this table alone, the answer")
    assert "agree with what is known of the league" in told.assumptions[1]
    again = Question.from_dict(json.loads(json.dumps(told.question.to_dict()))).ask(team)
    assert again.to_dict() == told.to_dict()
    assert check_above(team, "Kvalbakk", 0.13, prior=told.question.prior).chance == told.chance


def test_an_answer_that_rests_on_the_statement_says_so_in_its_full_sentence(team):
    told = check_above(team, "Kvalbakk", 0.13, prior=LeagueLaw(0.18, 0.02, 200))
    assert told.verdict == "holds"
    assert told.numbers["chance_alone"] < 0.9
    assert told.say_in_full.endswith("told nothing of what is usual, the table would leave it open.")
    with pytest.raises(ClaimError, match="a range such as '8% to 18%'"):
        check_leads(team, prior=0.14)


def test_the_command_takes_a_range(tmp_path, capsys, team):
    rows = []
    for name, swings, hard in team.itertuples(index=False):
        rows += [(name, "in play", 100.0)] * hard + [(name, "whiff", None)] * (swings - hard)
    path = tmp_path / "club.csv"
    pd.DataFrame(rows, columns=["hitter", "outcome", "exit_mph"]).to_csv(path, index=False)
    asked = ["check", "above", "Kvalbakk", "13%", "--file", str(path), "--json"]
    assert run([*asked, "--usual", "between 8 and 18 % of swings"]) in (0, 1, 3)
    said = json.loads(capsys.readouterr().out)
    law = stated_range("8% to 18%")
    expected = shrink(team, "hard", "swings", prior=law).data["shrunk"][0]
    assert said["numbers"]["shrunk"] == pytest.approx(expected)  # rows in another order
    assert run([*asked, "--usual", "8% to 18%", "--usual-hitters", "60"]) in (0, 1, 3)
    assert "as sure as 60 true rates make it" in json.loads(capsys.readouterr().out)["assumptions"][1]
    for wrong, mend in (
        (["--usual", "18% to 8%"], "the lower rate comes first"),
        (["--usual", "often"], "such as 8% to 18%"),
        (["--usual-hitters", "20"], "give that, too"),
        (["--usual", "8% to 18%", "--league", str(hitlab.demo_season())], "leave one out"),
    ):
        assert run([*asked, *wrong]) == 2
        assert mend in " ".join(capsys.readouterr().err.split())


def test_a_list_shows_what_was_stated_beside_the_table_alone(tmp_path, capsys):
    week = ["list", "--file", "data_demo/week.csv", "--mapping", "data_demo/week.toml", "--json"]
    assert run([*week, "--usual", "8% to 18%", "--most", "200"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["notes"][0].startswith(
        "what is usual (stated: 90 % of hitters from .080 to .180): a mean of .126"
    )
    assert run([*week, "--most", "200"]) == 0
    alone = {one["hitter"]: one["shrunk"] for one in json.loads(capsys.readouterr().out)["rows"]}
    told = {one["hitter"]: one for one in said["rows"]}
    assert {name: one["alone"] for name, one in told.items()} == pytest.approx(alone)
    counts = hitlab.tally(hitlab.read_pitches("data_demo/week.csv", "data_demo/week.toml"))
    fit = shrink(counts, "hard", "swings", prior=stated_range("8% to 18%")).data.set_index("hitter")["shrunk"]
    assert {name: one["shrunk"] for name, one in told.items()} == pytest.approx(fit.to_dict())
    assert run([*week, "--usual", "8% to 18%", "--denominators"]) == 2
    assert "leave --league and --usual out" in capsys.readouterr().err


@pytest.mark.slow
def test_pages_and_the_board_take_what_is_usual_and_say_so(tmp_path, capsys, team):
    from hitlab.pages import board_list, hitter_page

    law = stated_range("8% to 18%")
    shrunk = shrink(team, "hard", "swings", prior=law).data.set_index("hitter")["shrunk"]
    told, alone = (hitter_page(team, "Kvalbakk", prior=prior) for prior in ("8% to 18%", None))
    rates = told.table().set_index("rate_words")["shrunk"]
    assert rates["hard-hit balls per swing"] == pytest.approx(shrunk["Runa Kvalbakk"])
    assert "a mean of .126 and a spread of .031" in str(told)
    assert "a mean of .126" not in str(alone)
    assert "was told to us beforehand" in str(hitter_page(team, "Kvalbakk", reader="player", prior=law))
    board = board_list(team, prior=law, minimum=1)
    assert board.data.set_index("hitter")["shrunk"].to_dict() == pytest.approx(shrunk.to_dict())
    assert any(rule.startswith("What is usual per swing was told beforehand") for rule in board.rules)
    week = ["--file", "data_demo/week.csv", "--mapping", "data_demo/week.toml", "--usual", "8% to 18%"]
    for command in (["page", "Izezno"], ["board"]):
        path = tmp_path / f"{command[0]}.html"
        assert run([*command, "--to", str(path), *week]) == 0
        assert "a mean of .126 and a spread of .031" in " ".join(path.read_text(encoding="utf-8").split())
    capsys.readouterr()
