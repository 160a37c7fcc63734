"""Twelve sentences as they are said on air: each is one command, and gets the answer to its own question."""

from __future__ import annotations

import functools
import json

import pandas as pd
import pytest

import hitlab
from hitlab.cli.commands import run
from hitlab.cli.options import EXIT_CODES
from hitlab.evidence.cards import read_card

SAID = {
    "nobody hits it hard more often than X": (
        ["leads", "Nadia", "Izezno"],
        "Nadia Izezno truly has the highest rate of hard-hit balls per swing among the",
    ),
    "X is on a tear": (
        ["hot", "Izezno"],
        "true odds of hard-hit balls per swing over the last 12 games are at least 1.25 times",
    ),
    "X owns breaking balls": (
        ["above", "Izezno", "league", "--when", "pitch_kind=breaking"],
        "true rate of hard-hit balls per swing against breaking balls is above that of everybody",
    ),
    "after a miss X does not miss again": (
        ["response", "Izezno"],
        "swings and misses at the next pitch less often after a whiff than after another strike",
    ),
    "X is the one to send up with two on and two out, trailing by one": (
        ["spot", "Izezno", "--behind", "1", "--outs", "2", "--bases", "first second"],
        "Nadia Izezno truly gives the highest chance to win, of",
    ),
    "X is best at putting fastballs in play": (
        ["leads", "Izezno", "--event", "in_play", "--when", "pitch_kind=fastball"],
        "Nadia Izezno truly has the highest rate of balls in play per swing against fastballs among the",
    ),
    "X is better than Y": (
        ["ahead", "Nadia", "Izezno", "Hana", "Falandra"],
        "Nadia Izezno's true rate of hard-hit balls per swing is above Hana Falandra's",
    ),
    "since May X is a different hitter": (
        ["different", "Izezno", "--since", "May"],
        "per swing is at least 1.25 times higher or lower in its odds than before May 1, 2031",
    ),
    "one in five of X's swings is hit hard": (
        ["near", "Izezno", "one", "in", "five"],
        "Nadia Izezno's true rate of hard-hit balls per swing is between .180 and .220",
    ),
    "X always swings at the first pitch": (
        ["above", "Izezno", "90%", "--event", "swings", "--per", "pitches", "--when", "first pitch"],
        "Nadia Izezno's true rate of swings per pitch on the first pitch is above .900",
    ),
    "left-handed hitters do better against her": (
        ["split", "{pitcher}", "--of", "pitcher", "--when", "hitter_side=left"],
        "per swing by the hitters faced is higher hitting left-handed than otherwise",
    ),
    "X leads the club": (
        ["leads", "Izezno", "--club", "Lanterns"],
        "hitters of the Saltmere Lanterns with at least",
    ),
}


@functools.cache
def a_pitcher() -> str:
    season = pd.read_parquet(hitlab.demo_season(), columns=["pitcher"])
    return str(season["pitcher"].value_counts().index[0])


@pytest.mark.slow
@pytest.mark.parametrize("sentence", SAID)
def test_a_sentence_is_one_command(sentence, tmp_path, capsys):
    words, claimed = SAID[sentence]
    command = [word.format(pitcher=a_pitcher()) for word in words]
    card, cut = tmp_path / "card.png", tmp_path / "cut.csv"
    asked = ["check", *command, "--card", str(card), "--json"]
    if words[0] != "spot":
        asked += ["--cut", str(cut)]
    code = run(asked)
    answer = json.loads(capsys.readouterr().out)
    assert code == EXIT_CODES[answer["verdict"]]
    assert claimed in answer["claim"]
    assert answer["say"].endswith(".")
    # The card carries the question, and asked again it gives the same chance.
    assert read_card(card).asked.ask(hitlab.demo_season()).chance == answer["chance"]
    if words[0] != "spot":
        listed = pd.read_csv(cut)
        assert set(listed["side"]) == {"supports", "speaks against"}


@pytest.mark.slow
def test_owning_breaking_balls_is_asked_of_the_league_and_not_of_the_hitters_own_rest():
    """Twenty hitters get answers that follow their own records there, from below to above."""
    counts = hitlab.tally(hitlab.demo_season(), where="pitch_kind=breaking")
    most = counts.data.sort_values("swings", ascending=False)["hitter_id"].head(20)
    chances = [
        hitlab.check_above(hitlab.demo_season(), who, "league", when="pitch_kind=breaking").chance
        for who in most
    ]
    assert max(chances) > 0.85
    assert min(chances) < 0.15
    rates = hitlab.rate(counts).table().set_index("hitter_id").loc[most, "rate"]
    assert pd.Series(chances, rates.index).corr(rates, method="spearman") > 0.95
