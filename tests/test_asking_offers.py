"""What is offered where a sentence cannot be asked as it stands: the nearest question that can."""

from __future__ import annotations

import pytest

import hitlab
from hitlab.questions.question import Question
from tests.sentences import asked, known


@pytest.mark.parametrize(
    "sentence", ["Are the Otters hot right now?", "The Lanterns are on fire", "The Otters are on a tear"]
)
def test_a_club_that_is_called_hot_is_offered_more_than_before(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "whether a club is hot or steady cannot be asked" in told.asks
    first = told.choices[0]
    assert (first.kind, first.subject, first.since, first.direction) == ("more", "club", "2031-06-10", "more")


@pytest.mark.parametrize(
    "sentence",
    [
        "Does Izezno miss more on sliders or fastballs?",
        "Izezno misses more on sliders or fastballs?",
        "Does Izezno chase more on curveballs or changeups",
        "Is Izezno worse on sliders or curveballs at making contact?",
    ],
)
def test_which_of_two_kinds_of_pitch_is_asked_back_as_a_choice_of_the_two(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    split = [one.when for one in told.choices[:2]]
    assert [one.kind for one in told.choices[:2]] == ["split", "split"]
    assert len(set(split)) == 2, split
    assert all(
        sum(term.startswith("pitch_kind=") for term in when) == 1 and "," not in when[0] for when in split
    )


@pytest.mark.parametrize(
    "sentence",
    [
        "Izezno misses more on sliders or curveballs than on anything else",
        "Izezno misses more than the league on sliders or curveballs",
    ],
)
def test_two_kinds_of_pitch_are_one_situation_where_it_is_told_with_what_they_are_compared(sentence):
    told = asked(sentence)
    assert told.outcome == "understood"
    assert told.question.when == ("pitch_kind=slider,curveball",)


def test_home_runs_of_balls_in_play_say_of_what_they_are_a_share():
    """A home run is told by the result and a ball in play by the pitch: neither is within the other."""
    told = asked("Izezno hits more home runs per ball in play than the league")
    assert told.outcome == "asked back"
    assert "home runs are not counted per ball in play, but per hit, at-bat, plate appearance" in told.asks
    pers = [one.per for one in told.choices]
    assert {"at_bats", "plate_appearances"} <= set(pers)
    assert {one.event for one in told.choices} == {"home_runs"}


@pytest.mark.parametrize(
    ("season", "says"), [("2029", "the table's season is 2031, and 2029 is none of it"), ("2031", "")]
)
def test_a_season_that_the_table_has_not_is_not_read_into_a_question(season, says):
    told = asked("Izezno misses more than the league", season=season)
    assert told.why == says
    assert (told.outcome == "understood") == (not says)


def test_a_table_of_counts_has_no_season():
    counts = hitlab.tally(hitlab.demo_season())
    told = hitlab.ask("Izezno misses more than the league", counts, season="2031")
    assert told.outcome == "refused"
    assert "no season is told in a table of counts" in told.why
    assert "2031" not in told.read_as


@pytest.mark.parametrize(
    ("sentence", "offered"),
    [
        (
            "Coach and I argue a lot. Izezno misses less than the league?",
            {"event": "whiffs", "direction": "less", "options": {"value": "league"}},
        ),
        (
            "For the lineup card, does Izezno hit it hard more often than anyone?",
            {"kind": "leads"},
        ),
        (
            "I am looking for a roster spot for Izezno: does she strike out more than the league",
            {"event": "strikeouts", "per": "plate_appearances", "options": {"value": "league"}},
        ),
    ],
)
def test_a_limit_that_may_be_only_talk_leaves_the_claim_beside_it_to_be_offered(sentence, offered):
    told = asked(sentence)
    assert told.outcome != "understood"
    assert Question(**{"kind": "above", "who": "Nadia Izezno", **offered}) in told.choices


@pytest.mark.parametrize(
    "sentence", ["Izezno will hit more homers tomorrow", "Izezno is paid more than the league"]
)
def test_nothing_is_offered_where_the_limit_is_what_is_said(sentence):
    told = asked(sentence)
    assert told.outcome == "refused"
    assert told.choices == ()


@pytest.mark.parametrize(
    "sentence", ["Izezno has more power than Kestelow", "Does Izezno have more power than anyone?"]
)
def test_power_is_hard_hit_balls_or_home_runs(sentence):
    told = asked(sentence)
    assert told.asks == "hard-hit balls, or home runs: which?"
    assert [one.event for one in told.choices[:2]] == ["hard", "home_runs"]
    assert asked("Izezno has lost her power since May 15").question.event == "hard"


@pytest.mark.parametrize(
    "sentence", ["From the fifth on, is Izezno whiffing more?", "Izezno whiffs more from the 3rd on"]
)
def test_an_ordinal_alone_may_be_an_inning_or_a_day(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.asks.endswith("of the innings of a game, or of the days of a month?")
    assert asked("From the fifth inning on Izezno whiffs more").question.when == ("inning>=5",)
    assert asked("From the seventh on Izezno whiffs more").question.when == ("inning>=7",)


def test_at_home_is_the_half_in_which_the_home_club_bats():
    told = asked("Do the Otters hit it hard more often than the league at home?")
    assert told.outcome == "refused"
    assert told.choices[0].when == ("half=bottom",)
    away = asked("Izezno whiffs more than the league on the road")
    assert away.choices[0].when == ("half=top",)
    pitched = asked("Wexcombe walks more than the league at home")
    assert pitched.choices[0].when == ("half=top",), "the home pitcher throws in the top half"


def test_who_is_cold_is_offered_a_change_of_late():
    told = asked("Izezno's bat has gone cold")
    assert told.outcome == "asked back"
    first = told.choices[0]
    assert (first.kind, first.since, first.direction) == ("more", "2031-06-10", "less")


@pytest.mark.parametrize(
    "text",
    [
        "Falandra whiffs on sliders more than the rest",
        "Falandra whiffs more with two strikes than the rest",
        "Does Falandra chase sliders more than the rest?",
    ],
)
def test_the_rest_may_be_other_pitches_or_other_hitters(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    offered = [(one.kind, one.options.get("value")) for one in asked.choices]
    assert ("split", None) in offered[:3]
    assert ("above", "league") in offered[:3]


def test_the_rest_of_something_is_that():
    for text, kind in {
        "Falandra whiffs more on sliders than on the rest": "split",
        "Falandra whiffs more on sliders than on the rest of their pitches": "split",
        "Falandra whiffs on sliders more than the rest do": "above",
        "Falandra whiffs on sliders more than the rest of the league": "above",
    }.items():
        asked = hitlab.ask(text, known())
        assert (asked.outcome, asked.question.kind) == ("understood", kind), text
