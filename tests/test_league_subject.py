"""The whole league as the subject of a claim: everybody in the table together."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy.stats import beta

import hitlab
from hitlab.cli.commands import main
from hitlab.errors import ClaimError
from hitlab.questions import Question

SEASON = hitlab.demo_season()


@pytest.fixture(scope="module")
def counted() -> tuple[int, int]:
    data = hitlab.tally(SEASON).data
    return int(data["hard"].sum()), int(data["swings"].sum())


def test_its_record_is_everybodys_and_nobody_stands_beside_it(counted):
    hard, swings = counted
    claim = hitlab.check_above(SEASON, "league", 0.13, about="record")
    assert f"The league has {hard:,} in {swings:,} swings" in claim.say_in_full
    assert claim.verdict == ("holds" if hard / swings > 0.13 else "does not hold")
    assert claim.beside.empty
    assert claim.question.subject == "league"


def test_the_chance_is_that_of_one_long_record():
    """With one record and nothing known of others, the rate has nearly the Beta law of its counts."""
    data = pd.DataFrame({"hitter": ["Ada", "Eve", "Bo"], "swings": [300, 500, 200], "hard": [30, 60, 16]})
    for value in (0.09, 0.1, 0.106, 0.12):
        claim = hitlab.check_above(data, "the league", value)
        assert claim.chance == pytest.approx(beta.sf(value, 106 + 1, 894 + 1), abs=0.01)
        same = hitlab.check_above(data, "league", value, direction="less")
        assert claim.chance + same.chance == pytest.approx(1)
    near = hitlab.check_near(data, "league", 0.1, within=0.02)
    assert near.chance == pytest.approx(np.diff(beta.cdf([0.08, 0.12], 107, 895))[0], abs=0.01)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("above", {"value": "13%"}),
        ("near", {"value": "one in seven"}),
        ("more", {}),
    ],
)
def test_the_question_gives_the_same_answer_again(kind, options):
    since = {"since": "May 15"} if kind == "more" else {}
    asked = Question(kind=kind, who="League", when=("pitch_kind=breaking",), options=options, **since)
    claim = asked.ask(SEASON)
    again = Question.from_dict(claim.question.to_dict()).ask(SEASON)
    assert again.to_dict() == claim.to_dict()
    assert claim.say_in_full.startswith("The league")
    assert "hitter at it" not in claim.avoid
    assert "1 league" not in " ".join(claim.assumptions)
    assert not [note for note in claim.notes if "group" in note]


def test_a_change_of_everybody_is_found():
    before = pd.DataFrame({"hitter": ["Ada", "Eve"], "swings": [3000, 4000], "hard": [300, 400]})
    now = before.assign(hard=[360, 500])
    claim = hitlab.check_more(now, "league", before=before, than="in April")
    assert claim.verdict == "holds"
    assert "860 in 7,000 now, 700 in 7,000 in April" in claim.say_in_full
    assert hitlab.check_more(before, "league", before=before).verdict == "open"


@pytest.mark.slow
def test_the_cut_list_takes_everybodys_pitches(counted):
    claim = hitlab.check_above(SEASON, "league", 0.13)
    shots = hitlab.cut_list(SEASON, claim)
    assert f"{counted[0]:,} for it" in str(shots)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: hitlab.check_leads(SEASON, "league"), "one among many"),
        (lambda: hitlab.check_hot(SEASON, "The League"), "one among many"),
        (lambda: hitlab.check_above(SEASON, "league", "league"), "give a value"),
        (lambda: hitlab.check_near(SEASON, "Izezno", 0.1, subject="league"), "everybody together"),
    ],
)
def test_what_it_cannot_be_asked_is_said(ask, words):
    with pytest.raises(ClaimError, match=words):
        ask()


@pytest.mark.slow
def test_hitters_as_a_group_are_asked_for_by_the_same_word():
    of_all, of_nobody = (hitlab.check_response(SEASON, who) for who in ("league", None))
    assert of_all.say_in_full == of_nobody.say_in_full


def test_the_command_line_asks_it(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["check", "near", "league", "1/7"])
    printed = capsys.readouterr().out
    assert "The league's true rate of hard-hit balls per swing" in " ".join(printed.split())
    assert ended.value.code == 0


def test_a_split_of_the_league_compares_two_records():
    """The chance is that of two beta laws: here by drawing from them."""
    claim = hitlab.check_split(SEASON, "league", when="balls=3", event="whiffs")
    assert claim.question.subject == "league"
    inside, outside = claim.evidence["whiffs"], claim.evidence["swings"] - claim.evidence["whiffs"]
    drawn = beta.rvs(inside + 0.5, outside + 0.5, size=(40_000, 2), random_state=1)
    assert claim.chance == pytest.approx((drawn[:, 0] > drawn[:, 1]).mean(), abs=0.01)
    ratios = np.log(drawn[:, 0] / (1 - drawn[:, 0])) - np.log(drawn[:, 1] / (1 - drawn[:, 1]))
    told = [claim.numbers[name] for name in ("ratio_low", "log_odds_ratio", "ratio_high")]
    assert told == pytest.approx(
        [*np.quantile(ratios, 0.05, keepdims=True), ratios.mean(), np.quantile(ratios, 0.95)], abs=0.002
    )
    less = hitlab.check_split(SEASON, "league", when="balls=3", event="whiffs", direction="less")
    assert claim.chance + less.chance == pytest.approx(1)
    text = str(claim)
    assert "The league" in claim.say
    assert "shrunk" not in text
    assert "1 leagues" not in text
    with pytest.raises(ClaimError, match="leave against= out"):
        hitlab.check_split(SEASON, "league", when="balls=3", against="usual")


@pytest.mark.slow
@pytest.mark.parametrize(("shift", "verdict"), [(0.0, "open"), (0.25, "holds"), (-0.25, "does not hold")])
def test_a_split_of_the_league_finds_what_is_there(shift, verdict):
    """Of 40 leagues with that shift of the log odds most get that verdict; of null ones few get any."""
    random = np.random.default_rng(5)
    called = []
    for _ in range(40):
        own = random.normal(-1.8, 0.25, 40)
        there, rest = (1 / (1 + np.exp(-(own + d))) for d in (shift, 0.0))
        inside, out = random.binomial(120, there), random.binomial(240, rest)
        names = [f"h{i}" for i in range(40)]
        part = pd.DataFrame({"hitter": names, "swings": 120, "hard": inside})
        whole = pd.DataFrame({"hitter": names, "swings": 360, "hard": inside + out})
        claim = hitlab.check_split(whole, "league", inside=part)
        called.append(claim.verdict)
    # Where nothing is there a chance is as likely in one tenth as in another: 32 of 40 are open; else power.
    assert called.count(verdict) >= (25 if shift == 0 else 38)
