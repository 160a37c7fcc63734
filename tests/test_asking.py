"""Sentences in one's own words: read right, asked back or refused, and never taken for another question."""

import json
import re
import statistics
import time
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.asking import Asked, Known
from hitlab.asking.differing import differing
from hitlab.asking.order import out_of_order
from hitlab.asking.reading import asked_in_words
from hitlab.asking.risk import IDLE_IN_TALK
from hitlab.asking.slots import going_together
from hitlab.asking.text import Text
from hitlab.claims.clauses import clause_of
from hitlab.cli.commands import run
from hitlab.errors import ClaimError
from hitlab.idle_words import WEIGHTY
from hitlab.questions import KINDS, Question
from tests.benchmarks.asked import (
    FILES,
    STRANGER,
    TALK,
    THREE,
    TRAPS,
    TRAPS_TALK,
    USERS,
    VOICES,
    means,
    measured,
    offered,
    offers,
    ordered,
    plain,
    salads,
    strangers_season,
    wanted,
)
from tests.sentences import known

REACHED = dict(zip(FILES, (168 / 170, 108 / 110, 266 / 276, 107 / 110, 78 / 80, 296 / 300), strict=True))
"""The share that was read right when this was written (``tests/reference/measured.md``)."""
STRANGERS_READ, STRANGERS_SERVED = 26, 63
"""Of a stranger's 80 questions, those that were read when this was written, and these with those offered."""
TALK_READ = 111
"""Of 171 of the makers' own in that manner that ask one question, those that were read as it."""
VOICES_READ, VOICES_SERVED = 128, 171
USERS_READ, USERS_SERVED = 34, 47
"""Of 179 questions in four voices, those read when this was written, and these with those offered."""
THREE_READ = {
    "broadcaster": (24, 30, 60),
    "coach and analyst": (22, 30, 60),
    "parent, student, blogger": (17, 22, 60),
    "sixth": (19, 60, 90),
    "seventh": (23, 60, 90),
    "eighth": (26, 60, 90),
    "ninth": (27, 53, 90),
    "tenth": (4, 55, 90),
    "eleventh": (5, 49, 90),
    "twelfth": (1, 50, 90),
}
"""Of strangers' questions, those read when this was written, these with those offered; and all sentences."""
CHOICES = 26
"""Of 39 sentences that are written with choices, those to which just these were offered."""
LEAGUE = {"options": {"value": "league"}}
LESS: dict[str, Any] = {"direction": "less"}
RUNNERS_ON = ["runners on"]
ASKED_FOR = 0.85
"""The share that is asked for of every file that the tables were made with."""


@cache
def found_in(path: Path) -> list[tuple[dict[str, Any], Asked, str]]:
    return measured(path)[0]


def understood(text: str) -> Question:
    asked = hitlab.ask(text, known())
    assert asked.outcome == "understood", asked
    return asked.question


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_of_the_sentences_that_people_say_none_is_wrong_in_silence(path: Path):
    found = found_in(path)
    told = [verdict for _, _, verdict in found]
    silent = [item["text"] for item, _, verdict in found if verdict == "wrong in silence"]
    assert silent == []
    mute = [item["text"] for item, asked, _ in found if asked.outcome != "understood" and not asked.said]
    assert mute == []
    assert told.count("right") >= max(ASKED_FOR, REACHED[path]) * len(told) - 1e-9


def test_a_strangers_sentences_are_read_or_offered_and_none_is_wrong_in_silence():
    """At first look 9 of the 80 questions were read (``tests/reference/measured.md``)."""
    found = found_in(STRANGER)
    assert [item["text"] for item, _, verdict in found if verdict == "wrong in silence"] == []
    asked = [(item, one, verdict) for item, one, verdict in found if means(item) == "question"]
    read = [item for item, one, verdict in asked if verdict == "right" and one.outcome == "understood"]
    also = [item for item, one, _ in asked if one.outcome != "understood" and offers(item, one)]
    assert len(asked) == 80
    assert len(read) >= STRANGERS_READ
    assert len(read) + len(also) >= STRANGERS_SERVED
    none = [one for item, one, _ in found if means(item) == "none"]
    assert sum(one.outcome == "refused" for one in none) >= 20


@pytest.mark.slow
def test_talk_and_what_is_nearly_so_is_not_wrong_in_silence():
    for path in (TALK, TRAPS_TALK):
        found = found_in(path)
        assert [item["text"] for item, _, verdict in found if verdict == "wrong in silence"] == []
        assert [item["text"] for item, one, _ in found if one.outcome != "understood" and not one.said] == []
    read = [one for _, one, told in found_in(TALK) if told == "right" and one.outcome == "understood"]
    assert len(read) >= TALK_READ


def test_in_four_voices_most_is_read_or_one_key_away_and_nothing_is_wrong_in_silence():
    """At first look 47 of 80, 25 of 59 and 23 of 40 were read (``tests/reference/measured.md``)."""
    found = found_in(VOICES)
    assert [item["text"] for item, _, verdict in found if verdict == "wrong in silence"] == []
    asked = [(item, one, told) for item, one, told in found if item["voice"] != "nearly a question"]
    read = [one for _, one, told in asked if told == "right" and one.outcome == "understood"]
    also = [one for item, one, _ in asked if one.outcome != "understood" and offers(item, one, first=3)]
    assert len(asked) == 179
    assert len(read) >= VOICES_READ
    assert len(read) + len(also) >= VOICES_SERVED


def test_of_what_users_say_most_is_read_or_one_key_away_and_nothing_is_wrong_in_silence():
    """Mending was done on these; at first look 28 of 49 were read (``tests/reference/measured.md``)."""
    found = found_in(USERS)
    assert len(found) == 80
    assert [item["text"] for item, _, verdict in found if verdict == "wrong in silence"] == []
    asked = [(item, one, told) for item, one, told in found if item["expect"] == "question"]
    read = [one for _, one, told in asked if told == "right" and one.outcome == "understood"]
    also = [one for item, one, _ in asked if one.outcome != "understood" and offers(item, one, first=3)]
    assert len(read) >= USERS_READ
    assert len(read) + len(also) >= USERS_SERVED


@pytest.mark.slow
@pytest.mark.parametrize("voice", THREE_READ)
def test_of_what_strangers_say_nothing_is_wrong_in_silence(voice: str):
    """At first look few were read (``tests/reference/measured.md``)."""
    found = [one for one in found_in(THREE) if one[0]["set"] == voice]
    assert len(found) == THREE_READ[voice][2]
    assert [item["text"] for item, _, verdict in found if verdict == "wrong in silence"] == []
    assert [item["text"] for item, one, _ in found if one.outcome != "understood" and not one.said] == []
    asked = [(item, one, told) for item, one, told in found if item["expect"] == "question"]
    read = [one for _, one, told in asked if told == "right" and one.outcome == "understood"]
    also = [one for item, one, _ in asked if one.outcome != "understood" and offers(item, one, first=3)]
    assert len(read) >= THREE_READ[voice][0]
    assert len(read) + len(also) >= THREE_READ[voice][1]


@pytest.mark.parametrize(
    "text",
    [
        "Is Falandra hitting .300?",
        "Does Falandra hit .300?",
        "Falandra bats .300",
        "Falandra is batting .300",
    ],
)
def test_a_bare_average_may_be_a_floor_or_a_middle(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert asked.asks == "at .300 or above, or about .300?"
    assert [one.kind for one in asked.choices] == ["above", "near"]
    for middle in (
        "Is Falandra hitting about .300?",
        "Falandra hits about .300, give or take",
        "Falandra is hitting .300 or so",
    ):
        assert understood(middle).kind == "near"
    assert understood("Is Falandra a .300 hitter?").kind == "near"
    for floor in (
        "Does Falandra hit over .300?",
        "Is Falandra a .300 hitter or better?",
        "Falandra is hitting .300 or better",
    ):
        assert understood(floor).kind == "above"


@pytest.mark.parametrize(
    ("text", "event", "kind"),
    [
        ("Burgenzal walks too many?", "walks", "above"),
        ("Burgenzal strikes out more than the league", "strikeouts", "above"),
        ("Nobody fans more than Burgenzal", "strikeouts", "leads"),
        ("Burgenzal's whiff rate is above 30 percent", "whiffs", "above"),
        ("Burgenzal's walk rate is down since May 15", "walks", "more"),
        ("Velenzal is better against lefties than against righties", "hard", "split"),
    ],
)
def test_a_surname_of_a_hitter_and_a_pitcher_is_asked_back_where_both_do_it(text: str, event: str, kind: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert asked.asks.endswith("who pitches?")
    assert [(one.subject, one.event, one.kind) for one in asked.choices] == [
        ("hitter", event, kind),
        ("pitcher", event, kind),
    ]


@pytest.mark.parametrize(
    ("text", "who"),
    [
        ("Runa Burgenzal walks too many", "Runa Burgenzal"),
        ("Burgenzal the hitter walks more than the league", "Runa Burgenzal"),
        ("Burgenzal walks more than Kestelow", "Runa Burgenzal"),
        ("Burgenzal walks fewer than Kvaltorp", "Vesna Burgenzal"),
        ("Burgenzal walks more than the league against lefties", "Runa Burgenzal"),
        ("Burgenzal misses more than the league", "Runa Burgenzal"),
        ("Burgenzal whiffs more than the league", "Runa Burgenzal"),
        ("Burgenzal misses more bats than the league", "Vesna Burgenzal"),
    ],
)
def test_a_surname_of_two_is_read_where_the_sentence_tells_which(text: str, who: str):
    assert understood(text).who == who


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("best batting average 2031", {"kind": "leads", "event": "hits", "per": "at_bats"}),
        ("top five home run hitters", {"kind": "top", "event": "home_runs", "per": "plate_appearances",
                                       "options": {"top": 5}}),
        ("Izezno's whiff rate was constant over the season",
         {"kind": "steady", "who": "Nadia Izezno", "event": "whiffs"}),
        ("Izezno is on fire these last games", {"kind": "hot", "who": "Nadia Izezno"}),
        ("Kvaltorp walks more hitters than the league",
         {"kind": "above", "who": "Gideon Kvaltorp", "subject": "pitcher", "event": "walks",
          "per": "plate_appearances", **LEAGUE}),
        ("It's Izezno who fans less than Kestelow and not the other way round",
         {"kind": "ahead", "who": "Nadia Izezno", "event": "strikeouts", "per": "plate_appearances", **LESS,
          "options": {"other": "Greta Kestelow"}}),
        ("Is Izezno a different hitter since May 15, for better or worse I don't care, just different "
         "when it comes to hitting the ball hard?",
         {"kind": "more", "who": "Nadia Izezno", "since": "2031-05-15", "direction": "either"}),
    ],
)  # fmt: skip
def test_words_that_only_repeat_what_was_found_are_no_reason_to_ask_back(text: str, told: dict[str, Any]):
    asked = hitlab.ask(text, known())
    assert plain(asked.question) == ordered({**Question(kind=told["kind"]).to_dict(), **told})
    assert asked.left_out


@pytest.mark.parametrize(
    "text",
    [
        "Izezno misses more than the league, not 2031 alone",
        "best batting average 2030",
        "Izezno misses less than most hitters' brothers",
        "Recently Izezno misses more than the league",
        "Izezno misses more often over the season than before",
        "Kestelow walks more hitters than the league",
        "Izezno misses more than the league and not the other way round",
        "Izezno whiffs on a quarter of her swings, give or take ten swings",
        "Across hitters Izezno misses more than before",
        "who strikes out the most hitters",
        "who misses the most bats of all hitters' bats",
        "top five in walking hitters",
        "Izezno was hot over the season",
    ],
)
def test_the_same_words_are_asked_back_where_they_do_not_repeat(text: str):
    assert hitlab.ask(text, known()).outcome != "understood"


@pytest.mark.parametrize(
    ("text", "subject"),
    [
        ("top 5 pitchers by whiffs", "pitcher"),
        ("top five arms in strikeout rate", "pitcher"),
        ("bottom three clubs in contact", "club"),
        ("top three teams in contact", "club"),
        ("top five hitters in contact", "hitter"),
    ],
)
def test_a_list_is_of_those_that_it_names(text: str, subject: str):
    asked = understood(text)
    assert (asked.kind, asked.subject, asked.who) == ("top", subject, "")
    for best, of in (
        ("who is the best pitcher at strikeouts", "pitcher"),
        ("who has the best club whiff rate", "club"),
    ):
        assert {one.subject for one in hitlab.ask(best, known()).choices} == {of}
    either = hitlab.ask("top five pitchers in walk rate", known())
    assert [(one.subject, one.direction) for one in either.choices] == [
        ("pitcher", "more"),
        ("pitcher", "less"),
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Izezno swings and misses once and then she's up there hacking at everything",
         {"kind": "response", "options": {"response": "swing", "direction": "more"}}),
        ("Once Izezno's been beat on a pitch she starts taking more",
         {"kind": "response", "options": {"response": "take"}}),
        ("Izezno whiffs once, after that she lays off",
         {"kind": "response", "options": {"response": "take"}}),
        ("Izezno comes up empty and next thing you know she misses more",
         {"kind": "response", "options": {"direction": "more"}}),
        ("Is P(hard | in play) for Izezno below forty percent?",
         {"kind": "above", "per": "in_play", **LESS, "options": {"value": 0.4}}),
        ("Safe to call Izezno one of the three scariest bats on fastballs?",
         {"kind": "top", "when": ["pitch_kind=fastball"], "options": {"top": 3}}),
        ("Izezno's power is gone since May 15, I tell you straight",
         {"kind": "more", "since": "2031-05-15", **LESS}),
    ],
)  # fmt: skip
def test_what_is_not_read_is_offered_first(text: str, told: dict[str, Any]):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    about = {**Question(kind=told["kind"]).to_dict(), "who": "Nadia Izezno", **told}
    assert plain(asked.choices[0]) == ordered(about)


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("GRETA IS ON FIRE these last games isnt she", "2 hitters are called so: which?"),
        ("Does poor Kaveh get worse with the bases loaded, hits wise", "Kaveh Odazelik, or Kaveh Carvoba?"),
        ("Once Izezno's been beat on a pitch she starts taking more",
         "after a miss: takes more often, or misses again more often?"),
        ("since June 1 Izezno hardly misses, before that she missed plenty, I swear by my dog",
         "less often than before, or than the league?"),
    ],
)  # fmt: skip
def test_what_is_asked_back_names_the_doubt(text: str, asks: str):
    assert hitlab.ask(text, known()).asks == asks


@pytest.mark.parametrize(
    "text",
    [
        "Which pitcher strikes out the most hitters?",
        "Which pitcher walks the fewest batters?",
        "Kvaltorp strikes out more hitters than anyone",
        "Kvaltorp strikes out the most hitters",
    ],
)
def test_how_many_hitters_a_pitcher_strikes_out_may_be_a_sum(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert asked.asks == "how many in all, or how often, per plate appearance?"
    assert (asked.choices[0].kind, asked.choices[0].subject) == ("leads", "pitcher")
    assert understood("Which pitcher strikes out the most?").kind == "leads"
    assert understood("Which pitcher strikes out the most hitters per plate appearance?").kind == "leads"


@pytest.mark.parametrize(
    "text",
    [
        "Lanterns pitchers walk more hitters than the league",
        "The Lanterns' pitchers miss more bats than the league",
        "The Lanterns' pitching staff walks fewer than the league",
        "The Lanterns give up more hits than anyone",
        "Which club allows the most hard contact?",
    ],
)
def test_of_the_pitchers_of_a_club_nothing_of_its_hitters_is_offered(text: str):
    asked = hitlab.ask(text, known())
    assert asked.asks == "the rates of a club are those of its hitters: of which pitcher is it said?"
    assert asked.choices == ()


def test_of_a_club_that_is_faced_nothing_is_offered_and_it_is_named_as_left_out():
    assert hitlab.ask("Hitters whiff more against the Lanterns", known()).choices == ()
    asked = hitlab.ask("Izezno strikes out more against the Herons", known())
    assert {one.who for one in asked.choices} == {"Nadia Izezno"}
    assert "Herons" in asked.left_out
    own = understood("The Lanterns hit left-handed pitchers harder than anyone")
    assert (own.who, own.when) == ("Saltmere Lanterns", ("pitcher_hand=left",))


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        (
            "Izezno walks more after a whiff",
            "of the next pitch can be asked whether it is missed, swung at, let go or hit hard",
        ),
        (
            "Izezno walked more in April or in June",
            "several days are named: from which one to which?",
        ),
        ("Izezno walks less than she used to", "since which day?"),
        (
            "Izezno homers per ball in play more often than the league",
            "home runs are not counted per ball in play, but per hit, at-bat, plate appearance: divided "
            "by what?",
        ),
        (
            "lanterns hot?",
            "whether a club is hot or steady cannot be asked, only a hitter; of a club: since a day",
        ),
    ],
)
def test_what_stands_in_the_way_is_said_beside_what_is_offered(text: str, asks: str):
    asked = hitlab.ask(text, known())
    assert asked.asks == asks
    assert asked.choices


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("Izezno walks more with the game tied", "tied"),
        ("Izezno whiffs more with her new bat", "new bat"),
        ("Izezno whiffs more as a pinch hitter", "pinch hitter"),
        ("Izezno walks less than she used to", "used to"),
        ("Izezno homers per ball in play more often than the league", "per ball in play"),
    ],
)
def test_what_no_choice_says_is_left_out_and_said(text: str, left: str):
    asked = hitlab.ask(text, known())
    assert asked.choices
    assert left in asked.left_out
    after = hitlab.ask("You fool Falandra once in an at-bat, you won't fool her a second time", known())
    assert [one.kind for one in after.choices][:1] == ["response"]
    assert not any("fool" in word for word in after.left_out)


def test_what_is_offered_begins_a_sentence_of_its_own():
    asks = hitlab.ask("Izezno homers twice as often as the league", known()).asks
    assert asks.endswith("more or less often can. What is offered leaves out “twice”.")


def test_who_has_hit_home_runs_is_offered_no_hits():
    for text in ("Izezno has hit more than 10 home runs", "Which club has hit the most home runs?"):
        assert {one.event for one in hitlab.ask(text, known()).choices} == {"home_runs"}


@pytest.mark.parametrize(
    ("text", "subject", "event"),
    [
        ("Who misses most often against Kvaltorp?", "hitter", "whiffs"),
        ("Who has been struck out most often by Kvaltorp?", "hitter", "strikeouts"),
        ("Who does Kvaltorp strike out most?", "hitter", "strikeouts"),
        ("Which club misses most often against Kvaltorp?", "club", "whiffs"),
    ],
)
def test_who_does_it_most_against_a_pitcher_is_one_who_faces_him(text: str, subject: str, event: str):
    question = understood(text)
    assert (question.kind, question.who, question.subject) == ("leads", "", subject)
    assert (question.event, question.when) == (event, ("pitcher=Gideon Kvaltorp",))
    assert understood("Kvaltorp walks more hitters than the league").subject == "pitcher"


@pytest.mark.parametrize(
    "text",
    [
        "Against whom does Izezno strike out most?",
        "Which pitcher does Izezno miss most against?",
        "Which pitchers strike out Izezno most?",
    ],
)
def test_which_pitcher_somebody_does_it_against_is_not_taken_for_more_than_anyone(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert asked.asks == "which of all pitchers it is cannot be asked of a hitter; of one who is named can"


@pytest.mark.parametrize(
    ("text", "terms"),
    [
        (
            "Does Izezno miss more on sliders or on fastballs?",
            ["pitch_kind=slider", "pitch_kind=fastball"],
        ),
        (
            "Does Izezno miss more against lefties or against righties?",
            ["pitcher_hand=left", "pitcher_hand=right"],
        ),
    ],
)
def test_on_which_of_two_is_not_taken_for_both_together(text: str, terms: list[str]):
    asked = hitlab.ask(text, known())
    assert asked.asks == "one situation against one other cannot be asked; against all the rest can"
    assert [(one.kind, *one.when) for one in asked.choices[:2]] == [("split", term) for term in terms]
    stated = hitlab.ask("Izezno misses more on sliders or on fastballs", known())
    assert stated.outcome == "asked back"
    together = ("pitch_kind=slider,fastball",)
    assert [one.when for one in stated.choices] == [
        ("pitch_kind=slider",),
        ("pitch_kind=fastball",),
        together,
    ]


def test_hard_hit_balls_are_no_hits():
    asked = hitlab.ask("Izezno has the most hard-hit balls", known())
    assert asked.asks == "how many in all, or how often, per swing?"
    assert [(one.kind, one.event, one.per) for one in asked.choices] == [("leads", "hard", "swings")]


def test_home_runs_are_no_running():
    away = hitlab.ask("Izezno hits more home runs at home", known())
    assert (away.outcome, away.why) == ("refused", hitlab.ask("Izezno homers more at home", known()).why)
    assert {one.when for one in away.choices} == {("half=bottom",)}, "the home club bats in the bottom half"
    given = understood("Kvaltorp gives up more home runs to lefties")
    assert (given.kind, given.subject, given.event) == ("split", "pitcher", "home_runs")
    assert given.when == ("hitter_side=left",)
    assert hitlab.ask("Izezno runs to first faster than anyone", known()).outcome == "refused"


def test_nobody_stands_on_the_bases_while_they_are_empty():
    with pytest.raises(ClaimError, match="who is on base cannot be two things"):
        going_together("runners on", "bases=empty")
    assert going_together("runners on", "outs=2").words == "with runners on and two outs"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Kestelow leads the league in contact, sorry, other way round, Izezno leads the league in contact",
         {"kind": "leads", "who": "Nadia Izezno", "event": "contact"}),
        ("Izezno misses on one swing in four... no, I'll go further, more than one in four",
         {"kind": "above", "who": "Nadia Izezno", "event": "whiffs", "options": {"value": 0.25}}),
        ("Righties miss more off Kvaltorp, scratch that, lefties miss more off him than righties do",
         {"kind": "split", "who": "Gideon Kvaltorp", "subject": "pitcher", "event": "whiffs",
          "when": ["hitter_side=left"]}),
    ],
)  # fmt: skip
def test_what_is_corrected_is_read_as_corrected(text: str, told: dict[str, Any]):
    asked = hitlab.ask(text, known())
    assert plain(asked.question) == ordered(told)
    assert asked.left_out
    for unclear in ("sorry, other way round", "scratch that, less", "scratch that, Falandra"):
        assert hitlab.ask(f"Izezno misses more than Kestelow, {unclear}", known()).outcome == "asked back"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Before I print that, does Izezno really miss more than the league, at least against lefties?",
         {"event": "whiffs", "when": ["pitcher_hand=left"], **LEAGUE}),
        ("How's Izezno with two strikes? My hunch is she misses more than most",
         {"event": "whiffs", "when": ["strikes=2"], **LEAGUE}),
        ("Izezno misses more than the league, no?", {"event": "whiffs", **LEAGUE}),
        ("Izezno fouls off one in three he offers at", {"kind": "near", "event": "fouls",
                                                        "options": {"value": 1 / 3}}),
        ("Would you put Izezno in the top five in contact?", {"kind": "top", "event": "contact",
                                                              "options": {"top": 5}}),
        ("Same Izezno every single day. Her whiff rate don't go up, don't go down",
         {"kind": "steady", "event": "whiffs"}),
        ("Izezno swings through one and you won't see her miss again", {"kind": "response"}),
        ("I like Izezno with men on, she misses less with men on than with nobody on",
         {"kind": "split", "event": "whiffs", "direction": "less", "when": RUNNERS_ON}),
        ("I could be wrong, but Izezno misses more than most", {"event": "whiffs", **LEAGUE}),
        ("What if I told you that nobody whiffs less than Izezno?",
         {"kind": "leads", "event": "whiffs", "direction": "less"}),
        ("Izezno's contact rate with two strikes, is it lower than her usual?",
         {"kind": "split", "event": "contact", "direction": "less", "when": ["strikes=2"]}),
        ("Does the data back up the idea that Izezno whiffs more against lefties?",
         {"kind": "split", "event": "whiffs", "when": ["pitcher_hand=left"]}),
        ("Is Izezno's hot streak just luck?", {"kind": "hot"}),
        ("Bases loaded and two gone, tie game. I'm thinking Izezno off the bench",
         {"kind": "spot", "options": {"gap": 0, "outs": 2, "bases": "full"}}),
        ("Dad here. I have a question for the class: does Izezno whiff more than most?",
         {"event": "whiffs", **LEAGUE}),
        ("For my stats class: does Izezno whiff more than most?", {"event": "whiffs", **LEAGUE}),
        ("April 20th. Mark it, since that day Izezno misses more", {"kind": "more", "event": "whiffs",
                                                                    "since": "2031-04-20"}),
        ("Izezno misses less with runners on versus nobody on",
         {"kind": "split", "event": "whiffs", "direction": "less", "when": RUNNERS_ON}),
    ],
)  # fmt: skip
def test_run_ups_and_tags_leave_what_is_claimed(text: str, told: dict[str, Any]):
    asked = Question(kind=told.get("kind", "above"), who="Nadia Izezno").to_dict()
    assert plain(understood(text)) == ordered({**asked, **told})


@pytest.mark.parametrize(
    "text",
    [
        "Izezno gets more hits per ball in play than most",  # No rate of this table.
        "Not that she misses more, but Izezno chases more than the league",
        "For my slider report, and my dog is big: Izezno misses more than most, lefties here",
        "Before we put in a lefty, Izezno misses more than the league",
        "Izezno misses more than the league with a lefty off the bench",
        "Izezno has a bigger swing than Mondezno",
        "You will see Izezno miss more than the league",
        "There was that week where Izezno missed more than before",
        "Izezno misses more than the league, few know it",
        "Izezno hits the ball harder when she's behind",
        "Somewhere along the line Izezno turned a corner",
        "Izezno hasn't turned the corner since May",
        "Izezno is not the hitter she was in May",
        "Izezno is not the same hitter as in May",
        "Not that it matters in May, but Izezno misses more than the league",
        "I have to check with two strikes, but Izezno misses more than the league",
        "Before I post that about lefties, Izezno misses more than the league",
        "Izezno misses more than the league, or are we being fooled by sliders?",
        "The numbers in May say Izezno misses more than the league",
        "The report on sliders says Izezno misses more than the league",
        "The models at night say Izezno misses more than the league",
    ],
)
def test_run_ups_that_date_or_limit_are_asked_back(text: str):
    assert hitlab.ask(text, known()).outcome != "understood"


@pytest.mark.parametrize(
    "text",
    [
        "Is whiff rate correlated with strikeouts?",
        "Do whiffs and strikeouts go hand in hand across all hitters?",
        "Is there a relationship between whiff rate and strikeouts across the league?",
    ],
)
def test_two_rates_are_asked_together_in_many_words(text: str):
    question = understood(text)
    assert question.kind == "together"
    assert {question.options[name]["per"] for name in ("first", "second")} == {"swings", "plate_appearances"}
    assert hitlab.ask("Whiff rate is not correlated with strikeouts", known()).outcome == "asked back"
    assert hitlab.ask("Is whiff rate linked with strikeouts for Izezno?", known()).outcome == "asked back"


def test_a_span_of_days_is_read_in_many_words():
    for said in (
        "From May 2 to May 16",
        "Between the 2nd and the 16th of May",
        "From the second of May through the sixteenth",
    ):
        question = understood(f"{said} Izezno missed more than before")
        assert (question.kind, question.since, question.until) == ("more", "2031-05-02", "2031-05-16")
    assert (
        hitlab.ask("From May 16 to May 2 Izezno missed more than the league", known()).outcome == "asked back"
    )
    early = hitlab.ask("Since February 20 Izezno has missed more than before", known())
    assert "nothing is before that day" in early.why


def test_a_first_name_tells_whose_surname_was_mistyped():
    asked = hitlab.ask("Ilse Garnfeild misses more than the league", known())
    assert asked.question.who == "Ilse Garnfield"
    assert asked.taken == (("Garnfeild", "Ilse Garnfield"),)


def test_who_is_on_base_is_offered_where_it_may_be_several():
    asked = hitlab.ask("Bottom nine, two away, ducks on the pond, down a run. Give me Otenzal.", known())
    assert asked.outcome == "asked back"
    assert asked.choices[0].options == {"gap": -1, "outs": 2, "bases": "full"}


@pytest.mark.slow
def test_what_is_meant_is_among_the_first_three_where_it_is_offered():
    late = [
        item["text"]
        for path in (*FILES, STRANGER, TALK, VOICES, USERS, THREE)
        for item, asked, _ in found_in(path)
        if wanted(item) and offers(item, asked) and not offers(item, asked, first=3)
    ]
    assert late == []


@pytest.mark.parametrize(
    "said",
    [
        "They say {}",
        "{}, they say",
        "Word is {}",
        "Reportedly, {}",
        "A scout told me {}",
        "According to our data {}",
    ],
)
def test_hearsay_is_checked_and_called_so(said: str):
    asked = hitlab.ask(said.format(CLAIMS[0]), known())
    assert plain(asked.question) == plain(understood(CLAIMS[0]))
    assert asked.heard
    assert "hearsay; whether it is so is checked" in asked.read_as


@pytest.mark.parametrize(
    "said",
    [
        *(
            "Let's say {}",
            "Let us say that {}",
            "Say {}",
            "So let's say {}",
            "{}, let's say",
            "If {}",
            "What if {}?",
        ),
        *("Suppose {}", "Let's assume {}", "Imagine {}", "Supposedly {}", "Allegedly {}"),
    ],
)
def test_what_is_only_supposed_is_asked_back_and_offered(said: str):
    asked = hitlab.ask(said.format(CLAIMS[0]), known())
    assert asked.outcome == "asked back"
    assert [plain(one) for one in asked.choices] == [plain(understood(CLAIMS[0]))]


def test_what_is_said_in_the_open_is_supposed_by_no_turn_of_talk():
    for said in ("Say, {}", "I'd say {}", "Say what you want, {}", "Say it with me: {}"):
        assert plain(understood(said.format(CLAIMS[0]))) == plain(understood(CLAIMS[0]))


@pytest.mark.parametrize(
    "text",
    [
        "Put two strikes on Izezno and she misses more than the league",
        "Get Izezno to two strikes and she misses more than the league",
        "When Izezno has two strikes, she misses more than the league",
        "With two strikes Izezno shortens up and misses more than the league",
        "Izezno gets two strikes on her and she misses more than the league",
    ],
)
def test_a_name_is_never_lost_among_other_words(text: str):
    asked = Question(kind="above", who="Nadia Izezno", event="whiffs", when=("strikes=2",), **LEAGUE)
    assert plain(understood(text)) == plain(asked)


@pytest.mark.parametrize(
    ("text", "kind", "event", "told"),
    [
        ("izezno whiff% vs lhp higher than lg avg?", "above", "whiffs",
         {"when": ["pitcher_hand=left"], **LEAGUE}),
        ("is izezno's k% below 20?", "above", "strikeouts",
         {"per": "plate_appearances", "direction": "less", "options": {"value": 0.2}}),
        ("izezno since 5/20 whiffing more?", "more", "whiffs", {"since": "2031-05-20"}),
        ("izezno up in zone misses more than league or nah", "above", "whiffs", {"when": ["up"], **LEAGUE}),
        ("Izezno sees a slider and she misses more than most", "above", "whiffs",
         {"when": ["pitch_kind=slider"], **LEAGUE}),
        ("Lefties give Izezno fits: she misses more against them", "split", "whiffs",
         {"when": ["pitcher_hand=left"]}),
        ("Izezno makes contact like nobody else", "leads", "contact", {}),
        ("Izezno's not striking out as often as most", "above", "strikeouts",
         {"per": "plate_appearances", "direction": "less", **LEAGUE}),
    ],
)  # fmt: skip
def test_short_names_and_set_ups_are_read_by_their_classes(
    text: str, kind: str, event: str, told: dict[str, Any]
):
    asked = Question(kind=kind, who="Nadia Izezno", event=event).to_dict()
    assert plain(understood(text)) == ordered({**asked, **told})


def test_a_club_that_is_only_the_place_is_not_what_is_asked_about():
    question = understood("most whiffs per swing on the Larks")
    assert (question.kind, question.who, question.subject, question.club) == (
        "leads",
        "",
        "hitter",
        "Dunmarrow Larks",
    )


@pytest.mark.parametrize(
    "text",
    [
        "Izezno hits it hard more than most for a rookie",
        "Was Izezno ever hot this year",
        "izezno since 4/5 whiffing more?",  # The fourth of May, or the fifth of April.
    ],
)
def test_what_limits_or_dates_a_claim_in_passing_is_asked_back(text: str):
    assert hitlab.ask(text, known()).outcome == "asked back"


def test_what_only_talk_parts_from_a_question_is_one_yes_away():
    assert hitlab.ask(f"{CLAIMS[0]}, and I have two cats", known()).nearly
    assert hitlab.ask("Izezon misses more than the league", known()).nearly
    for said in ("{}, hardly", "{}, not really", "If {}", "{}, I mean partly", "Kanagane owns sliders"):
        assert not hitlab.ask(said.format(CLAIMS[0]), known()).nearly
    for said in ("Izezno misses 5+ sliders", "Izezno's whiff rate is above 20 on pitches above 95"):
        assert not hitlab.ask(said, known()).nearly, "a number is no talk"


def test_enter_at_a_terminal_takes_what_only_talk_parts_from_a_question(monkeypatch, capsys):
    import click

    from hitlab.cli import asking

    asked: list[tuple[str, Any]] = []

    def prompt(text: str, default: Any = None, **_: Any) -> Any:
        asked.append((text, default))
        return default

    monkeypatch.setattr(click, "prompt", prompt)
    for stream in (asking.sys.stdin, asking.sys.stdout):
        monkeypatch.setattr(stream, "isatty", lambda: True, raising=False)
    assert run(["ask", f"{CLAIMS[0]}, and I have two cats"]) in (0, 1, 3)
    assert run(["ask", "Kanagane owns breaking balls"]) == 2
    assert [default for _, default in asked] == [1, 0]
    assert "Enter for yes" in asked[0][0]
    capsys.readouterr()


@pytest.mark.parametrize(("typed", "codes"), [("", (0, 1, 3)), ("y", (0, 1, 3)), ("0", (2,)), ("no", (2,))])
def test_a_yes_or_no_is_taken_where_it_is_asked_for(monkeypatch, capsys, typed: str, codes: tuple[int, ...]):
    import click

    from hitlab.cli import asking

    answers = iter((typed,))
    monkeypatch.setattr(click.termui, "visible_prompt_func", lambda *_: next(answers))
    for stream in (asking.sys.stdin, asking.sys.stdout):
        monkeypatch.setattr(stream, "isatty", lambda: True, raising=False)
    assert run(["ask", f"{CLAIMS[0]}, and I have two cats"]) in codes
    assert capsys.readouterr().err == ""


IDLE = (
    "{}, and the whole town knows it",
    "{}, am I wrong",
    "{}. Is that real, or are we being fooled by it?",
    "For those of you just tuning in: {}",
    "{}, had this argument in three pubs already",
    "{}, I'd show it to my class",
    "{}, that's my claim and I'm sticking to it",
    "{}, mark it down",
    "{}. Facts.",
    "{}, I'd bet the farm, the tractor and both the cows",
    "{}, and everybody knows it",
    "{}, feels like it",
    "{}, doesn't he",
    "I'll tell ya, Jim, {}",
    "{}, and you all laughed at me in April",
    "{}. Every. Time.",
    "I hate to say it, but {}",
)
TURNED = (
    "Yeah right, {}",
    "{}, yeah right",
    "{}. Not!",
    "Tell me again how {}",
    "{}, said nobody ever",
    "Oh sure, {}",
    "{}. Which is to say, not.",
    "{}, when pigs fly",
    "{}. No.",
    "{}, I'd bet against it",
    "{}, you wish",
)
CLAIMS = (
    "Izezno misses more than the league",
    "Kestelow leads the league in contact",
    "Nobody chases less than Quarmoor",
    "Haxditch whiffs on one swing in four",
    "Since May 20 Falandra has whiffed less",
)


SOURCES = "".join(
    path.read_text(encoding="utf-8").casefold() for path in Path(hitlab.asking.__file__).parent.glob("*.py")
)
IN_NO_LIST = (
    ("poppycock", "{}. Poppycock."),
    ("tommyrot", "{}? Tommyrot"),
    ("balderdash", "{}, what balderdash"),
    ("fibbed", "{}, I fibbed"),
    ("fantasize", "{}, you fantasize"),
    ("scoff", "{}, we scoff at it"),
    ("repudiate", "{}, I repudiate that"),
    ("walrus", "{}, and I'm a walrus"),
    ("scrimmage", "{}, I'm talking scrimmages"),
    ("astroturf", "{}, I mean on astroturf"),
    ("simulator", "{}, we saw in the simulator"),
    ("preseason", "{}, you know, in preseason"),
    ("lunatic", "Only a lunatic thinks that {}"),
    ("delusional", "You're delusional saying that {}"),
    ("gutless", "Gutless talk, {}"),
    ("cartwheel", "{}. He cartwheels home."),
)
"""Words that stand nowhere in the package, and clauses with them that deny, limit or mock."""


@pytest.mark.parametrize("claim", CLAIMS)
@pytest.mark.parametrize(("word", "said"), IN_NO_LIST)
def test_a_clause_of_words_that_no_list_knows_is_asked_back(claim: str, word: str, said: str):
    assert word not in SOURCES
    asked = hitlab.ask(said.format(claim), known())
    assert asked.outcome != "understood", asked


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("frame", ["{}, I mean {}", "{}, {}", "{}. {}.", "{}? {}", "{}, we call it {}"])
@pytest.mark.parametrize("claim", CLAIMS)
def test_a_weighty_word_beside_a_claim_is_never_left_out(claim: str, frame: str):
    """A word that the claim has itself is only said again."""
    said = [frame.format(claim, word) for word in sorted(WEIGHTY) if word not in claim.casefold().split()]
    assert [text for text in said if hitlab.ask(text, known()).outcome == "understood"] == []


def test_no_word_is_both_weighty_and_idle():
    assert not WEIGHTY & IDLE_IN_TALK
    asked = {word: hitlab.ask(f"{word} {CLAIMS[0]}", known()) for word in sorted(WEIGHTY)}
    assert [word for word, one in asked.items() if one.outcome == "understood" and word in one.left_out] == []


def test_the_line_is_that_of_the_words_at_every_step(monkeypatch):
    """It is kept from step to step."""
    line, changed = Text.line, []

    def looked_at(text: Text) -> str:
        kept = line(text)
        assert kept.split() == [word.text for word in text.words]
        changed.append(kept)
        return kept

    monkeypatch.setattr(Text, "line", looked_at)
    for said in (*CLAIMS, "Who's swingin' at half of them", "Ada does not even swing at half of them"):
        hitlab.ask(said, known())
    hitlab.ask("Sliders can't touch Izezno", known())
    hitlab.ask("tell me about Falandrra and sliders", known())
    hitlab.ask("Everybody and his brother swings more often than Izezno", known())
    assert len(set(changed)) > 40


@pytest.mark.parametrize("claim", CLAIMS)
def test_what_is_said_beside_a_claim_is_left_out_and_said(claim: str):
    plainly = understood(claim)
    for said in IDLE:
        asked = hitlab.ask(said.format(claim), known())
        assert plain(asked.question) == plain(plainly), said
        assert asked.left_out, said


@pytest.mark.parametrize("claim", CLAIMS)
def test_what_turns_a_claim_round_is_asked_back_and_offered(claim: str):
    plainly = understood(claim)
    for said in TURNED:
        asked = hitlab.ask(said.format(claim), known())
        assert asked.outcome == "asked back", said
        assert "turn it round" in asked.asks, said
        assert plain(plainly) in [plain(one) for one in asked.choices], said


def test_what_is_bet_beside_a_claim_takes_no_situation_with_it():
    asked = hitlab.ask("I'd bet the farm, two strikes, Izezno misses more than the league", known())
    assert asked.question.when == ("strikes=2",)
    more = hitlab.ask("Since May 20 Izezno has whiffed more than I can count against lefties", known())
    assert more.outcome == "asked back"


@pytest.mark.parametrize(
    "text",
    [
        "Sliders own Izezno",
        "Fastballs destroy Haxditch",
        "Two strikes kill Izezno",
        "lefties eat Falandra for lunch",
    ],
)
def test_who_is_owned_by_a_pitch_is_not_said_to_own_it(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert [(one.event, one.direction) for one in asked.choices] == [("whiffs", "more"), ("hard", "less")]


@pytest.mark.parametrize(
    ("text", "ahead", "other", "event", "direction"),
    [
        ("izezno > kestelow contact", "Nadia Izezno", "Greta Kestelow", "contact", "more"),
        (
            "I'd rather have Izezno than Kestelow for contact",
            "Nadia Izezno",
            "Greta Kestelow",
            "contact",
            "more",
        ),
        ("Kestelow is no Falandra at making contact", "Hana Falandra", "Greta Kestelow", "contact", "more"),
        ("Who whiffs less, Izezno or Kestelow?", "Nadia Izezno", "Greta Kestelow", "whiffs", "less"),
        (
            "I'd rather have Kestelow up than Haxditch, she doesn't strike out",
            "Greta Kestelow",
            "Basil Haxditch",
            "strikeouts",
            "less",
        ),
    ],
)
def test_the_one_who_is_preferred_is_ahead(text: str, ahead: str, other: str, event: str, direction: str):
    question = understood(text)
    assert (question.kind, question.who, question.options["other"]) == ("ahead", ahead, other)
    assert (question.event, question.direction) == (event, direction)


@pytest.mark.parametrize(
    "text",
    [
        "izezno > kestelow whiff rate",
        "I'd rather have Kestelow than Haxditch, she strikes out",
        "Kestelow is no Falandra, she misses more",
        "Who's better, Izezno or Quarmoor?",
        "Give me Haxditch over Quarmoor with two strikes",
    ],
)
def test_which_is_better_is_asked_back_where_it_is_not_sure(text: str):
    assert hitlab.ask(text, known()).outcome == "asked back"


def test_without_a_rate_the_usual_ones_are_offered():
    asked = hitlab.ask("Give me Haxditch over Quarmoor with two strikes", known())
    assert [one.event for one in asked.choices] == ["contact", "hard", "swings", "whiffs"]
    assert {one.kind for one in asked.choices} == {"ahead"}


@pytest.mark.parametrize(
    "text", ["Top five in contact", "top 5 in contact pls", "who are the top five in contact"]
)
def test_a_list_can_be_asked_for(text: str):
    question = understood(text)
    assert (question.kind, question.who, question.event, question.options) == (
        "top",
        "",
        "contact",
        {"top": 5},
    )


def test_somebody_who_is_not_named_is_no_list():
    for text in (
        "Our kid is top five in contact",
        "My guy: top five in contact",
        "She's top five in contact",
    ):
        assert hitlab.ask(text, known()).outcome == "asked back"


def test_a_number_above_every_rate_per_swing_is_asked_back_with_both_denominators():
    asked = hitlab.ask("Is Izezno over fifty percent hard hit?", known())
    assert [one.per for one in asked.choices] == ["swings", "in_play"]
    assert "more than 20% of swings" in asked.asks
    assert understood("Izezno hits it hard more than a quarter of the time").per == "swings"
    assert understood("Over 40 percent of Izezno's swings are hit hard").per == "swings"


@pytest.mark.parametrize(
    ("text", "asks", "kind"),
    [
        ("Only three Kites whiff more than a third of the time", "how many of a club", "leads"),
        ("Nobody on the Kites cracks the top ten in contact", "how many of a club", "leads"),
        ("Izezno is second in the league in contact", "one place by itself", "top"),
        ("Isn't Haxditch about league average at contact?", "about as often as the league", "above"),
        ("Izezno isn't chasing anymore", "since which day", "hot"),
        (
            "Haxditch hits it hard more on fastballs than on breaking balls",
            "one situation against one",
            "split",
        ),
        ("Falandra whiffs more than she did in April", "since then", "more"),
        ("More whiffs than fouls for Quarmoor", "two rates of one hitter", "above"),
        ("What does Haxditch do with the next pitch after he misses?", "next pitch", "response"),
        (
            "Kestelow whiffs less than anyone; Falandra chases more than anyone",
            "more than one thing",
            "leads",
        ),
    ],
)
def test_what_no_kind_asks_is_told_with_what_can_be_asked(text: str, asks: str, kind: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert asks in asked.asks
    assert asked.choices[0].kind == kind


def test_no_direction_is_offered_where_a_word_may_turn_it():
    assert hitlab.ask("Izezno's whiffs under the lamps, kaput", known()).choices == ()
    assert understood("With two strikes Falandra's whiffs disappear").direction == "less"
    assert understood("Kestelow's whiffs are way down since May 20").direction == "less"


def test_a_club_s_leader_is_guessed_at():
    for text in (
        "Larks leader for contact? Gotta be Kestelow",
        "Who's the contact leader on the Larks? Kestelow",
    ):
        question = understood(text)
        assert (question.kind, question.who, question.club) == ("leads", "Greta Kestelow", "Dunmarrow Larks")


def test_the_months_of_the_whole_table_are_the_whole_season():
    season = Known.of(strangers_season())
    assert hitlab.ask("April to September Izezno has been steady", season).question.kind == "steady"


@pytest.mark.parametrize("path", TRAPS, ids=lambda path: path.stem)
def test_none_of_the_sentences_that_are_nearly_a_question_is_taken_for_another(path: Path):
    found = found_in(path)
    assert [item["text"] for item, _, verdict in found if verdict == "wrong in silence"] == []
    mute = [item["text"] for item, asked, _ in found if asked.outcome != "understood" and not asked.said]
    assert mute == []
    assert len(found) >= 100


def test_the_choices_that_a_sentence_is_written_with_are_offered():
    """The shares that were reached when the choices were first compared (``tests/reference/measured.md``)."""
    told = [
        fits
        for path in FILES
        for item, asked, _ in found_in(path)
        if (fits := offered(item, asked)) is not None
    ]
    assert len(told) == 39
    assert sum(told) >= CHOICES


def test_words_that_cannot_stand_side_by_side_are_in_no_sentence_and_in_many_that_are_shuffled():
    """240 of 500 were found when this was written; halves of two sentences are mostly in order."""
    texts = [item["text"] for path in (*FILES, *TRAPS) for item, _, _ in found_in(path)]
    assert [text for text in texts if out_of_order(text)] == []
    shuffled, _ = salads(500, 1)
    assert sum(bool(out_of_order(text)) for text in shuffled) >= 240


@pytest.mark.slow
def test_words_thrown_together_are_asked_back():
    """Of ten in 500 the words say the same in another order: "since May whiffing more Izezno"."""
    shuffled, _ = salads(500, 1)
    read = [text for text in shuffled if hitlab.ask(text, known()).outcome == "understood"]
    assert len(read) <= 10


@pytest.mark.parametrize("head", ["And...", "And…", "And ...", "Well...", "And,"])
def test_a_word_and_a_pause_before_the_sentence_change_nothing(head: str):
    asked = hitlab.ask(f"{head} Izezno misses more than the league", known())
    assert plain(asked.question) == plain(understood("Izezno misses more than the league"))


def test_dots_are_one_pause():
    for dots in ("...", "…"):
        assert understood(f"Izezno never chases{dots} less than anyone").direction == "less"
    assert hitlab.ask("Izezno misses more than... Izoba", known()).outcome == "asked back"


@pytest.mark.parametrize(
    "text",
    [
        "than miss less Fenbeck Does Jarokwali",
        "goriches against than sliders more makes contact otosende",
        "first pitch, at the She Otenzal Linnea swings does always",
        "Urrivar? Top three in the league at putting the has two strikes on him",
        "Across all hitters the whiff the first pitch go by",
        "Tsukibane is more aggressive fewer than one swing in four?",
        "in the last two weeks hoshibane has steady whiff rate all year",
        # Two kinds of one pitch, on one side of what goes together.
        "hitters who chase on sliders fastballs also miss more on curveballs",
        # What is missed, led in, or preferred is no rate.
        "Nobody misses her more than Izezno",
        "Izezno is here and nobody misses her more",
        "Izezno misses him more than most",
        "Izezno leads the league in home runs",
        "Izezno has the most walks in the league",
        "I'd take Izezno's swing over Urrivar's any day",
        "Izezno does not have a good eye: she chases more than most",
        "Don't call Izezno a top ten bat at putting it in play",
        "With runners on Izezno misses more than she does earlier in games",
        "Izezno makes more contact than before May 1 against lefties than righties",
        "Izezno misses balls more than most",
        "Throw Izezno a curve and Urrivar will miss more than most",
    ],
)
def test_what_is_jumbled_or_nearly_a_question_is_asked_back(text: str):
    assert hitlab.ask(text, known()).outcome != "understood"


@pytest.mark.parametrize(
    ("text", "kind", "event", "told"),
    [
        ("Stenlade tops the list for contact per swing", "leads", "contact", {}),
        ("Stenlade is one of the half dozen hitters who miss most", "top", "whiffs", {"options": {"top": 6}}),
        ("Stenlade is the most whiff-prone hitter in the league", "leads", "whiffs", {}),
        ("Stenlade has kept a steady contact rate", "steady", "contact", {}),
        ("Stenlade misses more since the calendar turned to June", "more", "whiffs", {"since": "2031-06-01"}),
        ("Stenlade misses more since 12 May", "more", "whiffs", {"since": "2031-05-12"}),
        ("Stenlade misses more than she did before June 1", "more", "whiffs", {"since": "2031-06-01"}),
        (
            "With two strikes Stenlade misses more than she does earlier in the count",
            "split",
            "whiffs",
            {"when": ["strikes=2"]},
        ),
        ("Stenlade makes more contact then the rest of the league", "above", "contact", LEAGUE),
        (
            "You can't sneak a slider by Stenlade",
            "above",
            "whiffs",
            {"direction": "less", "when": ["pitch_kind=slider"], **LEAGUE},
        ),
        ("Stenlade eats curves for lunch", "above", "hard", {"when": ["pitch_kind=curveball"], **LEAGUE}),
        ("Leave it up and Stenlade hits it hard more than most", "above", "hard", {"when": ["up"], **LEAGUE}),
        (
            "Against ninety-two and up Stenlade misses on over a third of her swings",
            "above",
            "whiffs",
            {"when": ["speed_mph>=92"], "options": {"value": 1 / 3}},
        ),
        (
            "Stenlade strikes out in more than one in five trips to the plate",
            "above",
            "strikeouts",
            {"per": "plate_appearances", "options": {"value": 0.2}},
        ),
        ("Here's Stenlade: nobody misses more", "leads", "whiffs", {}),
        (
            "Stenlade has an eye, she chases less than most",
            "above",
            "swings",
            {"per": "pitches", "direction": "less", "when": ["outside the zone"], **LEAGUE},
        ),
        (
            "Two out, bottom nine, runner on third, down one: give me Stenlade up there",
            "spot",
            "hard",
            {"options": {"gap": -1, "outs": 2, "bases": "third"}},
        ),
        ("Stenlade is hot, hitting balls hard", "hot", "hard", {}),
    ],
)
def test_turns_of_speech_are_read_by_their_classes(text: str, kind: str, event: str, told: dict[str, Any]):
    asked = Question(kind=kind, who="Freya Stenlade", event=event).to_dict()
    assert plain(understood(text)) == ordered({**asked, **told})


CHASING: dict[str, Any] = {"per": "pitches", "when": ["outside the zone"]}


@pytest.mark.parametrize(
    ("text", "kind", "event", "told"),
    [
        # That nobody is found who does it more often.
        ("I can't think of anyone who chases less than Stenlade", "leads", "swings", {**CHASING, **LESS}),
        ("Good luck finding somebody who whiffs less than Stenlade", "leads", "whiffs", LESS),
        ("You'd be hard pressed to find a hitter who misses more than Stenlade", "leads", "whiffs", {}),
        ("Ain't nobody in this league makes more contact than Stenlade", "leads", "contact", {}),
        ("If anyone in the league misses less than Stenlade I haven't met him", "leads", "whiffs", LESS),
        ("Show me a hitter with a better contact rate than Stenlade. You can't.", "leads", "contact", {}),
        ("Find me someone who whiffs less than Stenlade, I'll wait", "leads", "whiffs", LESS),
        ("Is there a better contact hitter than Stenlade?", "leads", "contact", {}),
        ("There isn't a hitter in this league who misses as often as Stenlade", "leads", "whiffs", {}),
        ("The highest contact rate in the league belongs to Stenlade", "leads", "contact", {}),
        ("Stenlade misses less than any other Mason", "leads", "whiffs", {**LESS, "club": "Highfell Masons"}),
        # What somebody has done to a rate.
        ("Since May 12 Stenlade has cut back on whiffs", "more", "whiffs", {"since": "2031-05-12", **LESS}),
        ("Stenlade has raised her contact rate since June", "more", "contact", {"since": "2031-06-01"}),
        ("Stenlade's whiffs have gone through the roof since May", "more", "whiffs", {"since": "2031-05-01"}),
        ("Since the second week of May Stenlade misses more", "more", "whiffs", {"since": "2031-05-08"}),
        # Denied numbers and amounts.
        ("Stenlade can't even put a third of her swings in play", "above", "in_play",
         {**LESS, "options": {"value": 1 / 3}}),
        ("Stenlade whiffs on no more than one swing in five", "above", "whiffs",
         {**LESS, "options": {"value": 0.2}}),
        ("Stenlade whiffs on one pitch in ten", "near", "whiffs",
         {"per": "pitches", "options": {"value": 0.1}}),
        ("Stenlade whiffs once every four swings", "near", "whiffs", {"options": {"value": 0.25}}),
        ("Stenlade misses a third of what she swings at", "near", "whiffs", {"options": {"value": 1 / 3}}),
        ("Stenlade lets go half of everything she sees", "near", "takes",
         {"per": "pitches", "options": {"value": 0.5}}),
        # Not as often.
        ("Stenlade doesn't miss nearly as often as most hitters", "above", "whiffs", {**LESS, **LEAGUE}),
        ("Stenlade doesn't chase like other hitters", "above", "swings", {**CHASING, **LESS, **LEAGUE}),
        ("Stenlade doesn't hit it as hard as Izoba", "ahead", "hard",
         {**LESS, "options": {"other": "Octavia Izoba"}}),
        ("Stenlade isn't one to chase", "above", "swings", {**CHASING, **LESS, **LEAGUE}),
        # A habit, and in the same breath by how much.
        ("Stenlade never swings and misses, less often than anyone in the league", "leads", "whiffs", LESS),
        ("With two strikes Stenlade never misses: less often than anyone", "leads", "whiffs",
         {**LESS, "when": ["strikes=2"]}),
        ("Stenlade never chases, less than anyone in the league", "leads", "swings", {**CHASING, **LESS}),
        ("Stenlade never misses with two strikes, less than most", "above", "whiffs",
         {**LESS, "when": ["strikes=2"], **LEAGUE}),
        # Warnings, and where.
        ("Don't throw Stenlade a fastball, she kills those", "above", "hard",
         {"when": ["pitch_kind=fastball"], **LEAGUE}),
        ("With a lefty on the hill Stenlade misses less than most", "above", "whiffs",
         {"when": ["pitcher_hand=left"], **LESS, **LEAGUE}),
        ("On oh and two Stenlade misses more than most", "above", "whiffs",
         {"when": ["balls=0", "strikes=2"], **LEAGUE}),
        ("On pitches up, Stenlade misses more than most", "above", "whiffs", {"when": ["up"], **LEAGUE}),
        ("When they pitch her in, Stenlade misses more than most", "above", "whiffs",
         {"when": ["inside"], **LEAGUE}),
        ("When they come at her inside, Stenlade misses more than most", "above", "whiffs",
         {"when": ["inside"], **LEAGUE}),
        ("When the pitch is up Stenlade misses more than most", "above", "whiffs",
         {"when": ["up"], **LEAGUE}),
        ("When the count is two nothing Stenlade misses more than most", "above", "whiffs",
         {"when": ["balls=2", "strikes=0"], **LEAGUE}),
        ("When nobody's on, Stenlade misses more than most", "above", "whiffs",
         {"when": ["bases=empty"], **LEAGUE}),
        ("With two strikes is when Stenlade misses the most", "split", "whiffs", {"when": ["strikes=2"]}),
        ("Stenlade misses more with two strikes than when there aren't any", "split", "whiffs",
         {"when": ["strikes=2"]}),
        # Who it is.
        ("Who makes more contact, Izoba or Stenlade? I say Stenlade.", "ahead", "contact",
         {"options": {"other": "Octavia Izoba"}}),
        ("Two down, runner on third, down a run, last of the ninth. I'm going with Stenlade", "spot", "hard",
         {"options": {"gap": -1, "outs": 2, "bases": "third"}}),
        ("Make Stenlade miss once and she'll take the next one", "response", "hard",
         {"options": {"response": "take"}}),
        ("No streaks with Stenlade, she's been steady all year", "steady", "hard", {}),
    ],
)  # fmt: skip
def test_frames_of_a_sentence_leave_what_is_claimed(text: str, kind: str, event: str, told: dict[str, Any]):
    asked = Question(kind=kind, who="Freya Stenlade", event=event).to_dict()
    assert plain(understood(text)) == ordered({**asked, **told})


@pytest.mark.parametrize(
    ("said", "when"),
    [
        ("With a righty on the mound", ["pitcher_hand=right"]),
        ("Throw a lefty at her, and", ["pitcher_hand=left"]),
        ("Bring in a righty and", ["pitcher_hand=right"]),
        ("When he runs the count full,", ["full count"]),
        ("On oh and oh", ["first pitch"]),
        ("On oh and one", ["balls=0", "strikes=1"]),
        ("On one and oh", ["balls=1", "strikes=0"]),
        ("On one and one", ["balls=1", "strikes=1"]),
        ("On one and two", ["balls=1", "strikes=2"]),
        ("On two and one", ["balls=2", "strikes=1"]),
        ("On two and two", ["balls=2", "strikes=2"]),
        ("On three and oh", ["balls=3", "strikes=0"]),
        ("On three and one", ["balls=3", "strikes=1"]),
        ("On three and two", ["full count"]),
        ("When they pitch her up", ["up"]),
        ("When they pitch down", ["down"]),
        ("When the ball is down", ["down"]),
        ("On stuff down", ["down"]),
        ("When the ball is in", ["inside"]),
        ("On balls inside", ["inside"]),
        ("When they pitch her away", ["away"]),
        ("When the ball is away", ["away"]),
        ("On anything away", ["away"]),
        ("At the top of the zone", ["up"]),
        ("On low balls", ["down"]),
        ("On the inside corner", ["inside"]),
        ("On the outer edge", ["away"]),
        ("On balls over the middle", ["over the middle"]),
        ("On balls out of the zone", ["outside the zone"]),
        ("With traffic", RUNNERS_ON),
        ("In two strike situations", ["strikes=2"]),
        ("With two strikes on the board", ["strikes=2"]),
        ("When it goes full,", ["full count"]),
        ("In two out situations", ["outs=2"]),
        ("In bad counts", ["behind in the count"]),
        ("When behind,", ["behind in the count"]),
        ("On pitch one", ["first pitch"]),
        ("After the sixth", ["inning>=7"]),
        ("On slide pieces", ["pitch_kind=slider"]),
        ("Off changes", ["pitch_kind=changeup"]),
        ("Off the number one", ["pitch_kind=fastball"]),
        ("Off the hammer", ["pitch_kind=curveball"]),
        ("Vs. lefties", ["pitcher_hand=left"]),
    ],
)
def test_a_situation_is_read_in_many_words(said: str, when: list[str]):
    told = {"kind": "above", "who": "Freya Stenlade", "event": "whiffs", "when": when, **LEAGUE}
    assert plain(understood(f"{said} Stenlade misses more than most")) == ordered(told)


@pytest.mark.parametrize(
    ("text", "kind", "event", "told"),
    [
        (
            "If there is a hitter who misses less than Stenlade, I'd like to meet him",
            "leads",
            "whiffs",
            LESS,
        ),
        ("You won't find anybody with a better contact rate than Stenlade", "leads", "contact", {}),
        (
            "Stenlade's contact rate has fallen off a cliff since May",
            "more",
            "contact",
            {**LESS, "since": "2031-05-01"},
        ),
        ("Stenlade is not much of a swinger", "above", "swings", {**LEAGUE, **LESS, "per": "pitches"}),
        (
            "Stenlade is not much of a whiffer with two strikes",
            "above",
            "whiffs",
            {**LEAGUE, **LESS, "when": ["strikes=2"]},
        ),
        (
            "Stenlade is not a strikeout guy",
            "above",
            "strikeouts",
            {**LEAGUE, **LESS, "per": "plate_appearances"},
        ),
        ("Stenlade misses more than your run of the mill hitter", "above", "whiffs", LEAGUE),
        (
            "Stenlade swings at more first pitches than most",
            "above",
            "swings",
            {**LEAGUE, "per": "pitches", "when": ["first pitch"]},
        ),
        (
            "Stenlade swings at fewer first pitches than anyone",
            "leads",
            "swings",
            {**LESS, "per": "pitches", "when": ["first pitch"]},
        ),
        (
            "Stenlade swings at the fewest first pitches in the league",
            "leads",
            "swings",
            {**LESS, "per": "pitches", "when": ["first pitch"]},
        ),
        ("Stenlade misses on more sliders than anyone", "leads", "whiffs", {"when": ["pitch_kind=slider"]}),
        (
            "Stenlade misses on fewer sliders than anyone",
            "leads",
            "whiffs",
            {**LESS, "when": ["pitch_kind=slider"]},
        ),
        (
            "Stenlade misses on the most sliders in the league",
            "leads",
            "whiffs",
            {"when": ["pitch_kind=slider"]},
        ),
        (
            "Stenlade misses on the fewest sliders in the league",
            "leads",
            "whiffs",
            {**LESS, "when": ["pitch_kind=slider"]},
        ),
        ("Stenlade misses less than the rest of the pack", "leads", "whiffs", LESS),
        ("Stenlade's contact rate is over the league average", "above", "contact", LEAGUE),
        ("Stenlade's whiff rate is below league average", "above", "whiffs", {**LEAGUE, **LESS}),
        ("Stenlade misses at an above average clip", "above", "whiffs", LEAGUE),
        ("Stenlade whiffs at a below average pace", "above", "whiffs", {**LEAGUE, **LESS}),
        ("Stenlade misses at the highest rate in the league", "leads", "whiffs", {}),
        ("Stenlade whiffs at the lowest clip in the league", "leads", "whiffs", LESS),
        ("Compared to most, Stenlade misses more", "above", "whiffs", LEAGUE),
        ("When it comes to contact nobody comes close to Stenlade", "leads", "contact", {}),
        ("Stenlade misses sliders more than anything", "split", "whiffs", {"when": ["pitch_kind=slider"]}),
        ("Stenlade is the best in the league at not missing", "leads", "whiffs", LESS),
        (
            "Stenlade is better at not missing than Izoba",
            "ahead",
            "whiffs",
            {**LESS, "options": {"other": "Octavia Izoba"}},
        ),
        (
            "Stenlade misses not nearly as often as Izoba",
            "ahead",
            "whiffs",
            {**LESS, "options": {"other": "Octavia Izoba"}},
        ),
        ("Stenlade swings at nearly everything", "above", "swings", {**LEAGUE, "per": "pitches"}),
        ("Stenlade has been the same hitter from day one", "steady", "hard", {}),
        ("There are no ups and downs with Stenlade", "steady", "hard", {}),
        ("Stenlade is on another planet right now", "hot", "hard", {}),
        ("Stenlade is having herself a week", "hot", "hard", {}),
        ("I'd put Stenlade among the five best in contact", "top", "contact", {"options": {"top": 5}}),
        (
            "Stenlade whiffs on a third of everything he gets",
            "near",
            "whiffs",
            {"per": "pitches", "options": {"value": 1 / 3}},
        ),
    ],
)
def test_every_frame_is_read_in_a_sentence(text: str, kind: str, event: str, told: dict[str, Any]):
    asked = Question(kind=kind, who="Freya Stenlade", event=event).to_dict()
    assert plain(understood(text)) == ordered({**asked, **told})


def test_which_of_a_club_is_looked_for_is_one_of_its_hitters():
    question = understood("Which Mason swings at the most first pitches?")
    assert (question.kind, question.who, question.subject) == ("leads", "", "hitter")
    assert question.club == "Highfell Masons"


@pytest.mark.parametrize(
    "text",
    [
        "Izezno misses most against sliders",
        "It's sliders that Izezno misses most",
        "With anybody out there Izezno misses more than most",
        "When it's hot Izezno hits it hard more than most",
        "When he's in the lineup Izezno makes more contact than most",
        "There isn't a lefty who chases less than Izezno",
        "If anyone chases less than Izezno it's Izoba",
        "Izezno doesn't chase as much as she misses",
        "Izezno does not swing as often as she should",
        "Izezno has cut down on her swing with two strikes",
        "Izezno cut her strikeout rate in half since May",
        "Izezno has raised her whiff rate to thirty percent since May",
        "Izezno has raised her whiff rate since May to over 30 percent",
        "Izezno has raised her contact rate to over 80 percent",
        "There are not many hitters who miss more than Izezno",
        "There aren't too many guys who miss more than Izezno",
        "I can't think of many guys who miss more than Izezno",
        "Name a hitter who misses more than Izezno",
        "Show me a hitter who misses more than Izezno",
        "Give me somebody with a better contact rate than Izezno",
        "Izezno never chases, fewer swings than anyone",
        "Izezno never chases, more than anyone",
        "Izezno misses most when she's on",
        "When she is on, Izezno misses more on sliders than most",
        "When she is on Izezno misses more on sliders than most",
        "Izezno misses more than most when it counts",
        "When it's tight Izezno misses more than most",
        "When they are away Izezno misses more than most",
        "When people come in Izezno misses more than most",
        "When teams go away Izezno misses more than most",
        "When it's two nothing Izezno misses more than most",
        "Don't throw Izezno a fastball unless she's behind, she kills those",
        "Sliders are where most hitters miss",
        "Izezno does not even swing at the first pitch more than a third of the time",
        "Out of ten hitters, three miss more than Izezno",
        "Every other hitter chases more than Izezno",
        "Izezno never chases, but nobody swings more than her",
        "Izezno never misses with two strikes, fewer whiffs than anyone on the first pitch",
        "Izezno doesn't hit it hard, more than most",
        "Izezno is known for missing more games than anyone",
        "Izezno hits rockets off righties more than lefties hit rockets",
        "Kites versus Beacons: Izezno hits it hard more",
        "Who chases more, Izezno or Izoba? Not Izoba",
        "Izezno misses more in June than in April",
        "Izezno is no longer a chaser",
        "After she misses, Izezno usually swings at the next one harder",
    ],
)
def test_frames_make_no_question_of_what_is_none(text: str):
    assert hitlab.ask(text, known()).outcome != "understood"


@pytest.mark.parametrize(
    ("text", "kind", "since", "until"),
    [
        ("Stenlade is the same bat from May to June", "steady", "2031-05-01", "2031-06-30"),
        ("Stenlade was the same guy in May and June", "steady", "2031-05-01", "2031-06-30"),
        ("Through April, May, and June Stenlade has been steady", "steady", "2031-04-01", "2031-06-30"),
        ("In April, May and June Stenlade misses more than most", "above", "2031-04-01", "2031-06-30"),
        ("Stenlade misses more than most in April and May", "above", "2031-04-01", "2031-05-31"),
    ],
)
def test_months_that_follow_each_other_are_one_span(text: str, kind: str, since: str, until: str):
    question = understood(text)
    assert (question.kind, question.since, question.until) == (kind, since, until)
    assert question.event == ("hard" if kind == "steady" else "whiffs")


@pytest.mark.parametrize(
    "text",
    [
        "Izezno has been the same hitter in April and June",
        "Izezno misses more than most in June, May and April",
        "Izezno misses more than most in April, May and July",
    ],
)
def test_months_that_do_not_follow_each_other_are_asked_back(text: str):
    assert hitlab.ask(text, known()).outcome == "asked back"


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Izezno leads the league in home runs", "leads"),
        ("Izezno leads the league in home runs against lefties", "leads"),
        ("Nobody has more home runs than Izezno", "leads"),
        ("Izezno has fewer strikeouts than anyone", "leads"),
        ("Izezno makes fewer swings than anyone", "leads"),
        ("Izezno is top ten in home runs", "top"),
        ("Izezno has more home runs than Izoba", "ahead"),
        ("Izezno draws more walks than Izoba", "ahead"),
        ("Izezno gets more hits than most", "above"),
    ],
)
def test_what_may_be_a_total_is_asked_back_with_the_rate_to_choose(text: str, kind: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert "how many in all" in asked.asks
    assert [one.kind for one in asked.choices] == [kind]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Izezno homers more than anyone", "leads"),
        ("Izezno walks more than Izoba", "ahead"),
        ("Izezno strikes out more than most", "above"),
        ("Izezno leads the league in home run rate", "leads"),
        ("Izezno leads the league in home runs per plate appearance", "leads"),
        ("Izezno has cut down on strikeouts since May", "more"),
    ],
)
def test_what_is_done_more_often_is_no_total(text: str, kind: str):
    assert understood(text).kind == kind


@pytest.mark.parametrize(
    ("text", "kind", "per"),
    [
        ("Izezno leads the league in whiffs", "leads", "per swing?"),
        ("Izezno has the most fouls in the league", "leads", "per swing?"),
        ("Izezno has the most takes in the league", "leads", "per pitch?"),
        ("Izezno has more whiffs than Haxditch", "ahead", "per swing?"),
        ("Top five in balls in play", "top", "per swing?"),
        ("Izezno has whiffed more times than anyone", "leads", "per swing?"),
        ("Izezno has hit more balls hard than anybody", "leads", "per swing?"),
    ],
)
def test_what_a_box_score_may_sum_is_asked_back_with_the_rate_to_choose(text: str, kind: str, per: str):
    """The one with the most whiffs of the demo season is not the one who misses most often."""
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert asked.asks.endswith(per)
    assert [one.kind for one in asked.choices] == [kind]


def test_what_is_done_most_often_is_no_total():
    for text in (
        "Izezno misses the most often",
        "Izezno misses more often than anyone",
        "Top five in whiff rate",
    ):
        assert understood(text).kind in ("leads", "top")


@pytest.mark.parametrize(
    "text",
    [
        "Izezno misses more, I mean less, than the league",
        "Izezno misses less, well, more, than the league",
        "Kestelow makes more contact, I mean less, than Haxditch",
        "Kestelow makes less contact, make that more, than the league",
    ],
)
def test_more_and_less_in_one_sentence_are_asked_back_with_both(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert [one.direction for one in asked.choices] in (["more", "less"], ["less", "more"])


@pytest.mark.parametrize(
    "text",
    [
        "Izezno hits it hard on 20% of swings, make that 25%",
        "Izezno hits it hard on 1 in 5 swings, sorry, 1 in 4",
        "Izezno misses on 1 in 5 swings, I mean 1 in 4",
        "Izezno misses on more than 20% of swings, I mean more than 25%",
    ],
)
def test_of_two_numbers_none_gets_lost(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert "more than one number" in asked.asks


def test_a_degree_of_a_count_turns_nothing_round():
    question = understood("Izezno misses more than the league with fewer than two outs")
    assert (question.direction, question.when) == ("more", ("outs=0,1",))
    assert understood("Izezno misses on no fewer than one in five swings").kind == "above"


@pytest.mark.parametrize(
    ("text", "when"),
    [
        ("Izezno misses more than the league, two and two", ["balls=2", "strikes=2"]),
        ("Izezno misses more than anyone, oh and two", ["balls=0", "strikes=2"]),
        ("Izezno misses more than anyone, three and two", ["full count"]),
    ],
)
def test_a_count_behind_a_claim_is_read(text: str, when: list[str]):
    assert sorted(understood(text).when) == when


def test_of_the_sliders_that_somebody_sees_is_per_pitch():
    told = understood("Izezno misses on over a quarter of the sliders she sees")
    assert (told.per, told.when) == ("pitches", ("pitch_kind=slider",))
    swung = understood("Izezno misses on over a quarter of the sliders she swings at")
    assert (swung.per, swung.when) == ("swings", ("pitch_kind=slider",))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("misses on a quarter of the sliders", "miss on 22.5 to 27.5 percent of swings against sliders"),
        (
            "misses on a third of the sliders she swings at",
            "miss on 30 to 36.7 percent of swings against sliders",
        ),
        ("misses half the sliders she offers at", "miss on 45 to 55 percent of swings against sliders"),
        ("swings at half of the sliders she sees", "swing on 45 to 55 percent of pitches against sliders"),
        ("swings at half the curveballs", "swing on 45 to 55 percent of pitches against curveballs"),
        ("swings at more than half the sliders", "swing on more than half of pitches against sliders"),
        (
            "hits a fifth of the fastballs hard",
            "hit the ball hard on 18 to 22 percent of swings against fastballs",
        ),
    ],
)
def test_a_part_of_the_pitches_of_a_kind_is_a_number(text: str, meant: str):
    asked = hitlab.ask(f"Izezno {text}", known())
    assert asked.outcome == "understood"
    assert f"does Nadia Izezno {meant}?" in str(asked)


@pytest.mark.parametrize(
    "text",
    ["in the first half Izezno missed more with two strikes", "Izezno is half as good against sliders"],
)
def test_half_is_not_always_a_number(text: str):
    assert "45 to 55" not in str(hitlab.ask(text, known()))


def test_until_a_month_is_until_the_day_before_it():
    for told, until in (
        ("until May", "2031-04-30"),
        ("through May", "2031-05-31"),
        ("until June 5", "2031-06-05"),
    ):
        assert understood(f"Izezno misses more than anyone {told}").until == until
    for vague in ("since late May", "since early June", "until late May"):
        assert hitlab.ask(f"Izezno misses more than anyone {vague}", known()).outcome == "asked back"


def test_what_a_pitch_does_to_a_hitter_is_not_what_the_hitter_does():
    for text in (
        "Sliders can't touch Izezno",
        "Heat can't touch Izezno",
        "A lefty can't touch Izezno",
        "Sliders chase Izezno",
    ):
        asked = hitlab.ask(text, known())
        assert asked.outcome == "asked back"
        assert [(one.event, one.direction) for one in asked.choices] == [("whiffs", "more"), ("hard", "less")]
    for text in (
        "Sliders Izezno misses more than the league",
        "Against sliders Izezno misses more than the league",
    ):
        assert understood(text).when == ("pitch_kind=slider",)


def test_a_sentence_is_understood_in_a_tenth_of_a_second():
    texts = ["Izezno owns breaking balls", "Since May Izezno hits it hard more often than before"]
    hitlab.ask(texts[0], known())
    took = []
    for text in texts * 5:
        start = time.perf_counter()
        hitlab.ask(text, known())
        took.append(time.perf_counter() - start)
    assert statistics.median(took) < 0.1


# Sentences composed of parts: whoever composes one knows what it asks.

WHO = {
    "Izezno": "Nadia Izezno",
    "Nadia Izezno": "Nadia Izezno",
    "Izezno Nadia": "Nadia Izezno",
    "stenlade": "Freya Stenlade",
    "Íñigo Hoshidori": "Íñigo Hoshidori",
    "Inigo Hoshidori": "Íñigo Hoshidori",
    "Carvenzal": "Basil Carvenzal",
    "Zhegorin": "Jiří Zhegorin",
}
OTHERS = {"Ada Mondezno": "Ada Mondezno", "urrivar": "Saoirse Urrivar", "Otonte": "Renzo Otonte"}
CHASED = ("outside the zone",)
RATES: dict[str, tuple[str, str, tuple[str, ...]]] = {
    "hits it hard": ("hard", "swings", ()),
    "squares it up": ("hard", "swings", ()),
    "barrels it up": ("hard", "swings", ()),
    "misses": ("whiffs", "swings", ()),
    "whiffs": ("whiffs", "swings", ()),
    "swings and misses": ("whiffs", "swings", ()),
    "comes up empty": ("whiffs", "swings", ()),
    "makes contact": ("contact", "swings", ()),
    "puts it in play": ("in_play", "swings", ()),
    "fouls it off": ("fouls", "swings", ()),
    "chases": ("swings", "pitches", CHASED),
    "expands the zone": ("swings", "pitches", CHASED),
}
WHERE: dict[str, tuple[str, ...]] = {
    "": (),
    "with two strikes": ("strikes=2",),
    "against breaking balls": ("pitch_kind=breaking",),
    "against sliders": ("pitch_kind=slider",),
    "on the high fastball": ("pitch_kind=fastball", "up"),
    "against lefties": ("pitcher_hand=left",),
    "against right-handed pitchers": ("pitcher_hand=right",),
    "on the first pitch": ("first pitch",),
    "with the bases loaded": ("bases=full",),
    "with runners in scoring position": ("runner on second or third",),
    "when behind in the count": ("behind in the count",),
    "with one out": ("outs=1",),
    "on pitches low and away": ("down and away",),
    "on 1-2 counts": ("balls=1", "strikes=2"),
}
OFTEN = {"more": "more", "more often": "more", "less": "less", "less often": "less"}
SHARES = {
    "20 percent": 0.2,
    "a quarter": 0.25,
    "one in six": 1 / 6,
    "half": 0.5,
    "12%": 0.12,
    "two in five": 0.4,
}


def _same(mine: Question, told: Question) -> bool:
    return plain(mine) == plain(told)


@st.composite
def composed(draw: Any) -> tuple[str, Question]:
    """Return a sentence and what it asks."""
    name, who = draw(st.sampled_from(sorted(WHO.items())))
    verb, (event, per, own) = draw(st.sampled_from(sorted(RATES.items())))
    inside, terms = draw(st.sampled_from(sorted(WHERE.items())))
    often, direction = draw(st.sampled_from(sorted(OFTEN.items())))
    kind = draw(st.sampled_from(["league", "anyone", "nobody", "other", "value", "since", "rest"]))
    common: dict[str, Any] = {"who": who, "event": event, "per": per, "when": (*terms, *own)}
    if kind == "value":
        share, value = draw(st.sampled_from(sorted(SHARES.items())))
        word = "more" if direction == "more" else "less"
        core, told = f"{name} {verb} {word} than {share} of the time", {"value": value}
        question = Question(kind="above", direction=direction, options=told, **common)
    elif kind == "league":
        core = f"{name} {verb} {often} than the league"
        question = Question(kind="above", direction=direction, options={"value": "league"}, **common)
    elif kind == "anyone":
        core = f"{name} {verb} {often} than anyone"
        question = Question(kind="leads", direction=direction, **common)
    elif kind == "nobody":
        core = f"nobody {verb} {often} than {name}"
        question = Question(kind="leads", direction=direction, **common)
    elif kind == "other":
        second, other = draw(st.sampled_from(sorted(OTHERS.items())))
        core = f"{name} {verb} {often} than {second}"
        question = Question(kind="ahead", direction=direction, options={"other": other}, **common)
    elif kind == "since":
        core = f"{name} {verb} {often} since May 15"
        question = Question(kind="more", direction=direction, since="2031-05-15", **common)
    else:
        if not terms:
            inside, terms = "with two strikes", ("strikes=2",)
        core = f"{name} {verb} {often}"
        place = " ".join(own)
        common |= {"event": f"{event} {place}".strip(), "per": f"{per} {place}".strip(), "when": terms}
        question = Question(kind="split", direction=direction, **common)
        return draw(
            st.sampled_from([f"{core} {inside} than otherwise", f"{inside} {core} than otherwise"])
        ), question
    text = draw(
        st.sampled_from([f"{core} {inside}", f"{inside}, {core}", f"is it true that {core} {inside}?"])
    )
    return text.strip(), question


@settings(max_examples=60, deadline=None)
@given(composed())
def test_a_composed_sentence_asks_what_it_was_composed_of(case: tuple[str, Question]):
    text, told = case
    asked = hitlab.ask(text, known())
    if told.event == "hard" and told.options.get("value") in (0.4, 0.5):
        # Nobody hits so many swings hard: of balls in play, then?
        assert [one.per for one in asked.choices] == ["swings", "in_play"], (text, asked)
        assert _same(asked.choices[0], told), (text, asked)
        return
    assert asked.outcome == "understood", (text, asked)
    assert _same(asked.question, told), (text, asked.question)


@settings(max_examples=80, deadline=None)
@given(composed(), st.data())
def test_a_slip_of_a_finger_never_makes_another_question(case: tuple[str, Question], data: Any):
    text, told = case
    at = data.draw(st.integers(0, len(text) - 2))
    slip = data.draw(st.sampled_from(["drop", "swap", "double", "other"]))
    letter = data.draw(st.sampled_from("aeiorstn"))
    made = {
        "drop": text[:at] + text[at + 1 :],
        "swap": text[:at] + text[at + 1] + text[at] + text[at + 2 :],
        "double": text[: at + 1] + text[at:],
        "other": text[:at] + letter + text[at + 1 :],
    }[slip]
    if any(mark.isdigit() for mark in text[max(at - 1, 0) : at + 2]):
        return  # a slip in a number makes another number, and nobody can tell
    asked = hitlab.ask(made, known())
    assert asked.outcome != "understood" or _same(asked.question, told), (made, asked.question)


@pytest.mark.parametrize(
    "slip", ["agains tlefties", "agains tleft-handers", "wit hrunners on", "wit htwo strikes", "i nMay"]
)
def test_a_blank_that_slipped_leaves_no_situation_out(slip):
    asked = hitlab.ask(f"{slip}, Izezno barrels it up less than the league", known())
    assert asked.outcome != "understood" or asked.question.when or asked.question.since


@pytest.mark.parametrize(
    ("place", "term"), [("Up", "up"), ("In", "inside"), ("down", "down"), ("Low", "down")]
)
@pytest.mark.parametrize("rest", ["", " on sliders", " with two strikes"])
def test_a_place_alone_at_the_head_is_asked_about(place, term, rest):
    asked = hitlab.ask(f"{place}, Izezno misses more than the league{rest}", known())
    assert asked.outcome == "asked back"
    assert place in asked.asks
    assert understood(f"On pitches {place}, Izezno misses more than the league").when == (term,)


def test_a_place_at_the_head_that_is_read_or_is_part_of_a_word_is_not_asked_about():
    assert understood("Up, Izezno misses more than the league on pitches up").when == ("up",)
    question = understood("In-play rate: Izezno leads the league")
    assert (question.kind, question.event, question.when) == ("leads", "in_play", ())
    for text in ("In - Izezno misses more than the league", "Low, away, Izezno misses more than the league"):
        assert hitlab.ask(text, known()).outcome == "asked back"


def test_pitchers_before_a_hitter_are_those_he_faces():
    told = "against left-handed pitchers Izezno hits it hard more than otherwise"
    asked = hitlab.ask(told, known())
    assert asked.outcome == "understood"
    assert (asked.question.kind, asked.question.when) == ("split", ("pitcher_hand=left",))
    told = "pitchers Izezno hits chase more than the league"
    assert hitlab.ask(told, known()).outcome != "understood"


def test_a_blank_that_slipped_makes_no_aside_of_a_situation():
    for text in (
        "wit hone out, Izezno chases more than the league",
        "witho ne out, Izezno chases",
        "againstlefties, Izezno barrels it up less than the league",
        "withaone out, Izezno barrels it up less than the league",
        "withone out, Izezno barrels it up less than the league",
        "withtwo strikes, Izezno barrels it up less than the league",
    ):
        assert hitlab.ask(text, known()).outcome != "understood"


ADDED = (
    "not",
    "because",
    "in wins",
    "twice",
    "next week",
    "except sliders",
    "and Mondezno chases",
    "on the road",
    "37",
)


@settings(max_examples=40, deadline=None)
@given(composed(), st.sampled_from(ADDED))
def test_words_that_carry_meaning_forbid_a_silent_answer(case: tuple[str, Question], added: str):
    text, _ = case
    asked = hitlab.ask(f"{text.rstrip('?')} {added}", known())
    assert asked.outcome != "understood", asked


DENIALS = ("not", "never", "hardly", "half", "wrongly", "little")
NOUNS = ("games", "time", "pitchers", "teammates")
"""Nouns of another claim; one that stands apart, before or behind a pause, may be left out in the open."""


def _at_a_gap(draw: Any, text: str, added: str) -> str:
    words = text.split()
    at = draw(st.integers(0, len(words)))
    return " ".join([*words[:at], added, *words[at:]])


def test_that_rates_are_meant_and_not_counts_is_said_behind_a_pause():
    asked = hitlab.ask("Carvenzal whiffs less than the league, not counts", known())
    assert asked.outcome == "understood"
    asked = hitlab.ask("on 1-2 not counts, Carvenzal whiffs less than the league", known())
    assert asked.outcome == "asked back"


@settings(max_examples=60, deadline=None)
@given(composed(), st.sampled_from(DENIALS + NOUNS), st.data())
def test_a_word_of_another_claim_is_never_lost_wherever_it_stands(
    case: tuple[str, Question], added: str, data: Any
):
    made = _at_a_gap(data.draw, case[0].rstrip("?"), added)
    asked = hitlab.ask(made, known())
    told = added in NOUNS and any(added in part for part in asked.left_out)
    assert asked.outcome != "understood" or told, (made, asked)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(sorted(RATES)),
    st.sampled_from(sorted(WHERE)[1:]),
    st.sampled_from(sorted(WHERE)[1:]),
    st.data(),
)
def test_two_situations_are_not_put_together_over_what_is_compared(
    verb: str, first: str, second: str, data: Any
):
    than = data.draw(
        st.sampled_from(["the league", "anyone", "Mondezno", "he does", "anyone else in the league"])
    )
    often = data.draw(st.sampled_from(sorted(OFTEN)))
    made = f"{first}, Izezno {verb} {often} than {than} {second}"
    made = data.draw(st.sampled_from([made, f"Izezno {verb} {often} {first} than {than} {second}"]))
    asked = hitlab.ask(made, known())
    # Of two situations that are each just what the other is not, one is compared with the other.
    assert asked.outcome != "understood" or asked.question.kind == "split", (made, asked)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(["misses", "whiffs on", "makes contact on", "fouls off", "chases", "puts in play"]),
    st.sampled_from(
        ["bigger", "better", "worse", "best", "worst", "tougher", "slower", "livelier", "sharper"]
    ),
    st.sampled_from(["sliders", "fastballs", "breaking balls", "pitchers", "lefties", "clubs"]),
    st.sampled_from(["", " more than the league", " more than Mondezno", " with two strikes"]),
)
def test_what_is_said_of_a_pitch_or_a_pitcher_is_not_said_of_the_rate(
    verb: str, degree: str, noun: str, rest: str
):
    made = f"Izezno {verb} {degree} {noun}{rest}"
    asked = hitlab.ask(made, known())
    assert asked.outcome != "understood", (made, asked)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(sorted(RATES)),
    st.sampled_from(sorted(OFTEN)),
    st.sampled_from(
        ["at the Kites", "against the Kites", "facing the Herons", "in Saltmere", "versus the Larks"]
    ),
    st.integers(0, 2),
)
def test_a_club_that_is_visited_or_faced_is_asked_back(verb: str, often: str, where: str, at: int):
    parts = ["Izezno", f"{verb} {often}", "than the league"]
    made = " ".join([*parts[:at], where, *parts[at:]]) if at else f"{where} {' '.join(parts)}"
    asked = hitlab.ask(made, known())
    assert asked.outcome != "understood", (made, asked)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from(sorted(RATES)),
    st.sampled_from(["left-handed", "right-handed", "lefty", "righty", "southpaw"]),
    st.sampled_from(
        [
            "{hand} Izezno {verb} more than the league",
            "the {hand} Izezno {verb} more than the league",
            "Izezno {verb} more than other {hand} hitters",
            "Izezno {verb} more than any {hand} hitter",
            "Izezno {verb} more than {hand} Mondezno",
        ]
    ),
)
def test_a_hand_that_is_said_of_a_hitter_is_not_the_pitchers(verb: str, hand: str, form: str):
    made = form.format(verb=verb, hand=hand)
    asked = hitlab.ask(made, known())
    assert asked.outcome != "understood", (made, asked)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "Izezno lays off more than 70 percent of pitches outside the zone",
            {"kind": "above", "options": {"value": 0.7}, "when": ["outside the zone"]},
        ),
        (
            "Izezno has been hot at laying off sliders",
            {"kind": "hot", "when": ["pitch_kind=slider", "outside the zone"]},
        ),
    ],
)
def test_who_lays_off_a_pitch_takes_it(text: str, told: dict[str, Any]):
    wanted = Question.from_dict({"who": "Nadia Izezno", "event": "takes", "per": "pitches", **told})
    assert plain(understood(text)) == plain(wanted)


@pytest.mark.parametrize(
    ("text", "term"),
    [
        ("Bjarholt gets more whiffs than the league when ahead in the count", "behind in the count"),
        ("Izezno hits it hard when the pitcher is behind in the count", "ahead in the count"),
        ("Izezno hits it hard when behind in the count", "behind in the count"),
    ],
)
def test_a_pitcher_is_ahead_in_the_count_where_the_hitter_is_behind(text: str, term: str):
    assert understood(text).when == (term,)


@pytest.mark.parametrize(
    "text",
    [
        "Izezno misses more since 2031-02-30",
        "Izezno misses more than the league in the 99th inning",
        "Izezno misses more than the league in the 0th inning",
        "Izezno misses more than the league with 7 strikes",
        "Izezno misses more than the league with 4 balls",
        "Izezno misses more than the league with 3 outs",
        "Izezno has been hot over the last 0 games",
        "Izezno has been hot over the last 0 weeks",
    ],
)
def test_numbers_that_a_game_does_not_have_are_asked_back(text: str):
    assert hitlab.ask(text, known()).outcome != "understood"


def test_a_stretch_that_is_longer_than_the_season_begins_with_it():
    first, _ = known().days or (None, None)
    assert first is not None
    question = understood("Over the last 99999 months Izezno misses more than the league")
    assert question.since == f"{first:%Y-%m-%d}"


@pytest.mark.parametrize(
    "text",
    [
        "Izezno doesn't lead the league in whiffs",
        "Carvenzal chases less than Ada Mondezno and Mondezno chases",
        "Izezno isn't better than Mondezno",
        "I don't think Izezno is better than Mondezno",
        "Izezno is no longer on a tear",
        "Izezno hits it hard twice as often as Mondezno",
        "Izezno hits it hard more often than everyone except Mondezno",
        "Izezno is one of the best two-strike hitters in the league",
        "Only Mondezno hits it hard more often than Izezno",
        "Everyone hits it hard more often than Izezno",
        "Izezno misses more on artificial turf",
        "Izezno misses more after a walk",
        "Izezno leads all lefties in contact",
        "Izezno was the best fastball hitter in the league",
        "top of the ninth, down two, bases loaded, one out: is Izezno the right hitter?",
        "Since July Izezno misses more",
        "Hitters who whiff a lot don't chase",
        "Wexhurst owns lefties",
        "Izezno's fastball is the best in the league",
        "Wexhurst is better than Dagny Otobane",
        "Izezno and the Lanterns chase less than the league",
        "Izezno doesn't just own sliders",
        "Izezno misses against Wexhurst more than against anyone else",
        "Izezno chases more with two strikes than Mondezno with one",
        "Izezno has been hot since May",
        "Izezno hits fastballs harder than breaking balls",
        "<who> <rate> <anyone>",
        "Izezno whiffs more than the league on hanging sliders",
        "Nobody ever said that Izezno whiffs more than the league",
        "Half of the league whiffs more than Izezno",
        "Izezno chases less than half the league",
        "Batters like Izezno chase less than the league",
        "Opponents of Izezno chase less than the league",
        "Izezno's backup chases less than the league",
        "I doubt that Izezno chases more than the league",
        "It is a myth that Izezno chases more than the league",
        "Izezno is far from the best contact hitter in the league",
        "Izezno is the best rookie hitter against lefties",
        "The pitcher Izezno faced chases more than the league",
        "Izezno, who hits lefties, chases more than the league",
        "Izezno, a lefty, chases more than the league",
        "As a pinch hitter, Izezno chases more than the league",
        "Rested, Izezno chases more than the league",
        "gainst lefties, Izezno chases more than the league",
        "Izezno chases less than the league, if it rains",
        "Izezno chases less than the league, and is terrible in the field",
        "Izezno chases more than the league, especially on sliders",
        "Izezno and Larkditch are both better than the league",
        "On Sundays Izezno hits it hard more often than the league",
        "From Monday to Friday Izezno misses more than the league",
        "On Saturdays and Sundays Izezno misses more than the league",
    ],
)
def test_what_says_more_than_a_question_can_is_not_answered_in_silence(text: str):
    assert hitlab.ask(text, known()).outcome != "understood"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "Nobody in the league is harder to strike out than Kvalvall",
            {
                "kind": "leads",
                "who": "Gideon Kvalvall",
                "event": "strikeouts",
                "per": "plate_appearances",
                "direction": "less",
            },
        ),
        (
            "Kvalvall's balls in play are hit hard more than 40 percent of the time",
            {"kind": "above", "who": "Gideon Kvalvall", "per": "in_play", "options": {"value": 0.4}},
        ),
        (
            "Who on the Lanterns whiffs least?",
            {"kind": "leads", "event": "whiffs", "direction": "less", "club": "Saltmere Lanterns"},
        ),
        (
            "Bjarholt's slider gets more whiffs than the league average",
            {
                "kind": "above",
                "who": "Tariq Bjarholt",
                "subject": "pitcher",
                "event": "whiffs",
                "when": ["pitch_kind=slider"],
                "options": {"value": "league"},
            },
        ),
        (
            "Izezno hits sliders and curveballs hard",
            {
                "kind": "above",
                "who": "Nadia Izezno",
                "when": ["pitch_kind=slider,curveball"],
                "options": {"value": "league"},
            },
        ),
        (
            "Hitters whiff more than 25 percent of the time",
            {"kind": "above", "subject": "league", "event": "whiffs", "options": {"value": 0.25}},
        ),
    ],
)
def test_questions_of_pitchers_clubs_and_the_league_are_read(text: str, told: dict[str, Any]):
    assert plain(understood(text)) == plain(Question.from_dict(told))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "nothing was said"),
        ("  \n ", "nothing was said"),
        ("\x1b[31mIzezno owns sliders", "cannot be seen"),
        ("Izezno \u202eowns sliders", "cannot be seen"),
        ("owns " * 5000, "longer than"),
        ("x" * 100_000, "longer than"),
        ("Izezno est la meilleure frappeuse", "nothing in it names"),
        ("سلام دنیا چطوری", "nothing in it names"),
        ("🙂🙂🙂", "there is no word in it"),
        ("''''", "there is no word in it"),
        ("Izezno is clutch", "what a hitter is made of"),
        ("Izezno will lead the league in contact next week", "not been played yet"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_plain_sentence(text: str, why: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "refused"
    assert why in asked.why
    with pytest.raises(ClaimError, match="cannot be asked"):
        _ = asked.question


@pytest.mark.parametrize(
    ("text", "left_out"),
    [
        ("A scout asks whether Izezno chases more than the league", ("A scout asks whether",)),
        ("Izezno quickly chases more than the league", ("quickly",)),
        ("I tell you, friends, Izezno chases more than the league", None),
    ],
)
def test_what_changes_nothing_is_left_out_and_said(text: str, left_out: tuple[str, ...] | None):
    asked = hitlab.ask(text, known())
    assert plain(asked.question) == plain(understood("Izezno chases more than the league"))
    assert asked.left_out
    assert left_out in (None, asked.left_out)
    assert "left out" in str(asked).casefold()


@pytest.mark.parametrize(
    "text",
    [
        "The soup was great, Izezno chases more than the league",
        "Izezno chases more than the league, and then we talked for an hour",
        "Izezno, who arrived with much noise, chases more than the league",
    ],
)
def test_a_story_beside_a_claim_is_asked_about_and_the_claim_is_offered(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert [plain(one) for one in asked.choices] == [plain(understood("Izezno chases more than the league"))]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Larkditch has been swinging a hot bat lately", {"kind": "hot", "who": "Alenka Larkditch"}),
        (
            "the league hits it hard less often with two strikes",
            {"kind": "split", "subject": "league", "direction": "less", "when": ["strikes=2"]},
        ),
        ("nobody in this league squares it up like Izezno", {"kind": "leads", "who": "Nadia Izezno"}),
        (
            "Larkditch has cooled off since June",
            {"kind": "more", "who": "Alenka Larkditch", "direction": "less", "since": "2031-06-01"},
        ),
        (
            "Izezno is a top three hitter, per ball in play",
            {"kind": "top", "who": "Nadia Izezno", "per": "in_play", "options": {"top": 3}},
        ),
    ],
)
def test_idioms_of_the_trade_ask_what_they_mean(text: str, told: dict[str, Any]):
    assert plain(understood(text)) == plain(Question.from_dict(told))


def test_what_is_asked_back_offers_the_nearest_question():
    for text in ("Izezno isn't the best hitter in the league", "Izezno is in a slump"):
        asked = hitlab.ask(text, known())
        assert asked.outcome == "asked back"
        assert asked.choices
        assert all(one.who == "Nadia Izezno" for one in asked.choices)


def test_choices_are_listed_and_one_of_them_is_answered():
    asked = hitlab.ask("Kanagane owns breaking balls", known())
    assert asked.outcome == "asked back"
    assert [one.who for one in asked.readings] == ["Aiko Kanagane", "Malik Kanagane"]
    with pytest.raises(ClaimError, match=r"1: does Aiko Kanagane .* 2: does Malik Kanagane"):
        _ = asked.question
    with pytest.raises(ClaimError, match="there are 2 to choose from"):
        asked.answer(3)
    assert asked.answer(2).numbers["hitter"] == "Malik Kanagane"
    assert len(asked.table()) == 2
    assert "What can be asked" in str(asked)


def test_a_near_spelling_is_offered_and_never_taken():
    asked = hitlab.ask("Izezon owns breaking balls", known())
    assert (asked.outcome, asked.readings) == ("asked back", ())
    assert asked.nearest is not None
    assert asked.nearest.who == "Nadia Izezno"
    assert asked.answer(1).kind == "above"


def test_a_slip_in_a_word_of_the_trade_is_said_in_the_open():
    asked = hitlab.ask("Izezno owns braeking balls", known())
    assert asked.question.when == ("pitch_kind=breaking",)
    assert "“braeking” taken for “breaking”" in asked.read_as


def test_the_usual_rate_is_taken_where_none_is_named_and_said():
    asked = hitlab.ask("Izezno is better than Mondezno", known())
    assert asked.usual
    assert "hard-hit balls per swing, since none is named" in asked.read_as
    assert not hitlab.ask("Izezno hits it hard more often than Mondezno", known()).usual


def test_nicknames_come_from_a_mapping_or_a_file(tmp_path: Any):
    told = {"The Comet": "Nadia Izezno"}
    assert hitlab.ask("the Comet owns sliders", known(), nicknames=told).question.who == "Nadia Izezno"
    path = tmp_path / "nicknames.toml"
    path.write_text('"Doc" = "Izezno"\n', encoding="utf-8")
    assert hitlab.ask("Doc owns sliders", known(), nicknames=path).question.who == "Nadia Izezno"
    path.write_text('\ufeff"Doc" = "Nobody Here"\r\n', encoding="utf-8")
    assert (
        "'Nobody Here', and nobody here is called so"
        in hitlab.ask("Doc owns sliders", known(), nicknames=path).asks
    )
    path.write_text("x = [", encoding="utf-8")
    with pytest.raises(ClaimError, match="cannot be read"):
        hitlab.ask("Doc owns sliders", known(), nicknames=path)


def test_a_table_that_lacks_a_column_or_has_only_counts_is_told():
    pitches = pd.read_parquet(hitlab.demo_season())[["hitter", "outcome"]]
    asked = hitlab.ask("Izezno misses sliders more often than the league", pitches)
    assert asked.why == "this table has no column pitch_kind, which tells whether a pitch was against sliders"
    counts = hitlab.tally(hitlab.demo_season())
    assert hitlab.ask("Izezno misses more often than the league", counts).question.event == "whiffs"
    assert "single pitches" in hitlab.ask("Izezno misses more with two strikes", counts).why


def test_hitters_of_one_name_are_called_as_their_counts_call_them():
    labels = hitlab.tally(hitlab.demo_season()).labels
    mine = [person.label for person in known().people if person.subject == "hitter"]
    assert sorted(mine) == sorted(labels)
    question = understood("Noor Fencombe of the Lanterns whiffs more than the league")
    assert question.who == "Noor Fencombe (Saltmere Lanterns)"


def test_everybody_is_found_by_the_name_that_tells_them_from_others():
    for person in known().people:
        asked = hitlab.ask(f"{person.label} chases more than the league", known())
        assert asked.outcome == "understood", asked
        assert (asked.question.who, asked.question.subject) == (person.label, person.subject)


SAID_BY_KIND = {
    "leads": Question(kind="leads", who="Nadia Izezno", event="whiffs", direction="less"),
    "top": Question(kind="top", who="Nadia Izezno", options={"top": 5}),
    "above": Question(kind="above", who="Nadia Izezno", options={"value": 0.16}),
    "near": Question(kind="near", who="Nadia Izezno", options={"value": 0.2}),
    "ahead": Question(kind="ahead", who="Nadia Izezno", options={"other": "Ada Mondezno"}),
    "split": Question(kind="split", who="Nadia Izezno", when=("strikes=2",)),
    "hot": Question(kind="hot", who="Nadia Izezno"),
    "steady": Question(kind="steady", who="Nadia Izezno"),
    "more": Question(kind="more", who="Nadia Izezno", since="2031-05-15"),
}


@pytest.mark.parametrize(
    "kind",
    [
        kind if kind in ("leads", "above") else pytest.param(kind, marks=pytest.mark.slow)
        for kind in SAID_BY_KIND
    ],
)
def test_what_was_understood_is_said_in_the_words_of_the_answer(kind: str):
    question = SAID_BY_KIND[kind]
    clause = clause_of(question.ask(hitlab.demo_season()))
    # A ranking's answer adds the fewest attempts, which only the table tells.
    rest = re.sub(r" with [\d,]+ .*", "", clause.rest)
    assert rest in asked_in_words(question)
    assert "Nadia Izezno" in asked_in_words(question)


def test_every_kind_can_be_asked_in_words():
    said = {
        "leads": "nobody hits it hard more often than Izezno",
        "top": "Izezno is one of the five best at hitting it hard",
        "above": "Izezno hits it hard on more than 16 % of her swings",
        "near": "one in five of Izezno's swings is hit hard",
        "ahead": "Izezno hits it hard more often than Mondezno",
        "split": "Izezno hits it hard more often against breaking balls than otherwise",
        "hot": "Izezno is on a tear",
        "steady": "Izezno has been steady",
        "more": "since May Izezno hits it hard more often",
        "response": "after a miss Izezno does not miss the next one",
        "together": "hitters who chase more also miss more",
        "spot": "last of the ninth, down one, runners on first and second, two outs: send up Izezno",
    }
    assert set(said) == set(KINDS)
    for kind, text in said.items():
        asked = hitlab.ask(text, known())
        assert asked.question.kind == kind
        assert asked.read_as.startswith("I read this as: ")
        assert asked.read_as.count("?") == 1


def test_the_command_says_what_it_understood_and_then_answers(capsys: pytest.CaptureFixture[str]):
    code = run(["ask", "Izezno", "owns", "breaking", "balls"])
    told = capsys.readouterr().out
    assert code == 3
    assert told.startswith("I read this as: does Nadia Izezno hit the ball hard")
    assert "Safe to say:" in told
    check = run(["check", "above", "Izezno", "league", "--when", "pitch_kind=breaking"])
    assert check == code
    assert capsys.readouterr().out in told


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["Kanagane owns breaking balls"], 2, "--choose 1 to 2 takes one of them"),
        (["Izezno is clutch"], 2, "This cannot be asked"),
        ([""], 2, "nothing was said"),
        (["\x1b[31mred"], 2, "cannot be seen"),
        (["Izezon owns breaking balls", "--choose", "1"], 3, "Safe to say:"),
        (["Izezno is clutch", "--choose", "1"], 2, "This cannot be asked"),
    ],
)
def test_the_command_answers_nothing_that_was_not_understood_or_chosen(
    words: list[str], code: int, said: str, capsys: pytest.CaptureFixture[str]
):
    assert run(["ask", *words]) == code
    told = capsys.readouterr()
    assert said in told.out
    assert "\x1b" not in told.out + told.err


def test_the_command_answers_programs_and_refuses_a_choice_that_is_not_there(
    capsys: pytest.CaptureFixture[str],
):
    assert run(["ask", "Izezno is on a tear", "--json"]) in (0, 1, 3)
    told = json.loads(capsys.readouterr().out)
    assert told["asked"]["outcome"] == "understood"
    assert told["claim"]["verdict"]
    assert run(["ask", "Kanagane owns breaking balls", "--choose", "9"]) == 2
    assert "there are 2 to choose from" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            "Izezno and whiffs against lefties since June 5, more or not, who knows, the papers wonder",
            ("who: Nadia Izezno", "rate: whiffs per swing", "“against lefties”", "“since June 5”"),
        ),
        ("Izezno has a bad wrist and whiffs more", ("who: Nadia Izezno", "rate: whiffs per swing")),
        ("Kanagane more whiffs as jugglers juggle", ("Aiko Kanagane or Malik Kanagane", "“more”")),
    ],
)  # fmt: skip
def test_what_was_found_is_said_slot_by_slot_though_it_is_not_read(text: str, told: tuple[str, ...]):
    asked = hitlab.ask(text, known())
    assert asked.outcome != "understood"
    for part in told:
        assert part in "; ".join(asked.found)
        assert part in str(asked)


def test_what_was_found_is_told_to_programs(capsys: pytest.CaptureFixture[str]):
    assert run(["ask", "Izezno has a bad wrist and whiffs more", "--json"]) == 2
    told = json.loads(capsys.readouterr().out)["asked"]
    assert told["found"] == ["who: Nadia Izezno", "rate: whiffs per swing", "said of it: “more”"]


@pytest.mark.parametrize(
    ("text", "kinds", "first"),
    [
        ("Since May 20 Izezno, well, the whiffs, they're almost a myth, a lot less than anyone expected",
         ["leads"], {"event": "whiffs", "direction": "less", "since": "2031-05-20"}),
        # The people come first where a name fits two.
        ("Kanagane more whiffs as jugglers juggle",
         ["above", "above", "leads"], {"who": "Aiko Kanagane", "event": "whiffs"}),
        # After a miss, though "the next" is all that tells it.
        ("So Izezno swings and misses, and the next one she simply watches like a monument",
         ["above", "response"], {"who": "Nadia Izezno", "event": "whiffs"}),
    ],
)  # fmt: skip
def test_the_nearest_questions_are_offered_most_likely_first(
    text: str, kinds: list[str], first: dict[str, Any]
):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert [one.kind for one in asked.choices][: len(kinds)] == kinds
    assert len(asked.choices) <= 3
    assert first.items() <= asked.choices[0].to_dict().items()
    assert len(asked.table()) == len(asked.choices)


@pytest.mark.parametrize(
    "text",
    [
        "Izezno's salary is higher than Kestelow's and she whiffs more",
        "Izezno will whiff more than the league next week",
        "Since her knee surgery Izezno whiffs more than the league",
        "Izezno sank more free throws than anyone and fouls more",
        "Izezno whiffs more because of the new hitting coach",
        "Izezno puts more spin on it than anyone",
    ],
)
def test_nothing_is_offered_where_the_main_word_is_in_no_table(text: str):
    asked = hitlab.ask(text, known())
    assert asked.outcome != "understood"
    assert asked.said
    assert asked.choices == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("who r the 8 biggest hackers at pitches in the zone",
         {"kind": "top", "event": "swings", "per": "pitches", "when": ["in the zone"],
          "options": {"top": 8}}),
        ("twenty punchouts every hundred trips, Tsukigane",
         {"kind": "near", "who": "Haruki Tsukigane", "event": "strikeouts",
          "per": "plate_appearances", "options": {"value": 0.2}}),
        ("zoe quarmoor batting under two fifty?",
         {"kind": "above", "who": "Zoë Quarmoor", "event": "hits", "per": "at_bats", "direction": "less",
          "options": {"value": 0.25}}),
        ("haxditch harder contact vs LHP?",
         {"kind": "split", "who": "Basil Haxditch", "when": ["pitcher_hand=left"]}),
        ("When Mizubane actually puts it in play, is it hit hard at least half the time?",
         {"kind": "above", "who": "Hugo Mizubane", "per": "in_play", "options": {"value": 0.5}}),
        ("do hard hitters K more",
         {"kind": "together", "options": {"first": {"event": "hard", "per": "swings"},
          "second": {"event": "strikeouts", "per": "plate_appearances"}}}),
        ("You fool Falandra once in an at-bat, you won't fool her a second time",
         {"kind": "response", "who": "Hana Falandra"}),
        ("Nobody, and I mean NOBODY, gets fewer hits off lefties than Abindrasz",
         {"kind": "leads", "who": "Malik Abindrasz", "event": "hits", "per": "at_bats",
          "when": ["pitcher_hand=left"], "direction": "less"}),
        ("Odazelik, base hits: a different fella since the first of May? Better, worse, don't care which",
         {"kind": "more", "who": "Kaveh Odazelik", "event": "hits", "per": "at_bats", "since": "2031-05-01",
          "direction": "either"}),
        ("Top five Larks in foul balls, no idea myself",
         {"kind": "top", "event": "fouls", "club": "Dunmarrow Larks", "options": {"top": 5}}),
        ("down two in the ninth, runner on second, nobody out, kestelow maybe, or who",
         {"kind": "spot", "who": "Greta Kestelow", "options": {"gap": -2, "outs": 0, "bases": "second"}}),
    ],
)  # fmt: skip
def test_what_is_found_softly_is_offered(text: str, told: dict[str, Any]):
    asked = hitlab.ask(text, known())
    assert asked.outcome == "asked back"
    assert ordered(Question.from_dict(told).to_dict()) in [plain(one) for one in asked.choices]


def test_where_two_choices_differ_in_one_slot_that_is_asked():
    hits = Question(kind="leads", who="Nadia Izezno", event="hits", per="at_bats")
    hard = Question(kind="leads", who="Nadia Izezno")
    assert differing(hits, hard) == "hits per at-bat, or hard-hit balls per swing?"
    assert differing(hits, replace(hits, direction="less")) == "more often, or less often?"
    assert differing(hits, replace(hard, direction="less")) == ""
    names = hitlab.ask("kanagane whiffs on more pitches, the pundits yell", known()).asks
    assert "Aiko Kanagane, or Malik Kanagane?" in names


def test_beside_a_clause_that_cannot_be_asked_the_other_is_offered():
    asked = hitlab.ask("He is paid too well, I say, but Izezno whiffs more than anyone.", known())
    assert asked.outcome == "refused"
    assert [one.kind for one in asked.choices][:1] == ["leads"]
    assert hitlab.ask("Izezno whiffs more than anyone because of the weather", known()).choices == ()


def test_to_whom_one_would_say_it_is_no_situation():
    for text in (
        "Izezno misses more than the league, I'd tell that to lefties",
        "I'd tell that to lefties: Izezno misses more than the league",
    ):
        assert understood(text).when == ()


@settings(max_examples=40, deadline=None)
@given(st.sampled_from([*salads(300, 5)[0], *salads(300, 5)[1]]))
def test_words_thrown_together_are_offered_only_what_can_be_asked(text: str):
    for one in hitlab.ask(text, known()).choices:
        assert asked_in_words(one)
        assert one.kind in KINDS


def test_a_part_that_is_the_only_choice_is_not_read_in_silence():
    for path in (*FILES, STRANGER, TALK, VOICES, USERS, THREE):
        for _, asked, _ in found_in(path):
            assert not (asked.guessed and asked.outcome == "understood")


def test_right_around_a_number_is_no_side_of_the_plate():
    question = understood("Ekembulo's hitting right around .300 off righties, isn't he")
    assert question.when == ("pitcher_hand=right",)
    assert (question.kind, question.options) == ("near", {"value": 0.3})
