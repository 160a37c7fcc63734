"""A count knows what it is a part of: every pair, by rule and on the demo season row by row."""

from __future__ import annotations

import functools
from dataclasses import replace
from itertools import permutations

import narwhals as nw
import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.counting.counts import pair
from hitlab.counting.events import (
    EVENTS,
    Event,
    event_expression,
    event_words,
    every_pitch,
    fitting_denominators,
    per_words,
    rate_words,
    within,
)
from hitlab.counting.facts import Conventions
from hitlab.errors import CountsError
from hitlab.pitches.schema import RESULTS

CONVENTIONS = [
    Conventions(foul_tip=tip, hard_fouls=fouls) for tip in ("miss", "contact") for fouls in (False, True)
]
PITCH_EVENTS = [event for event in EVENTS.values() if not event.ending]


@functools.cache
def every_kind(conventions: Conventions) -> pd.DataFrame:
    """Each kind of pitch with each result it can have: a ball in play ends the plate appearance."""
    facts = every_pitch(conventions)
    results = pd.DataFrame({"result": [None, *RESULTS]})
    both = facts.merge(results, how="cross")
    return both[(both["outcome"] != "in play") | both["result"].notna()].reset_index(drop=True)


def flag(event: Event, conventions: Conventions) -> np.ndarray:
    table = nw.from_native(every_kind(conventions), eager_only=True)
    return table.select(event_expression(event, conventions).alias("flag"))["flag"].to_numpy() > 0


def lies_within(event: Event, other: Event, conventions: Conventions) -> bool:
    return not (flag(event, conventions) & ~flag(other, conventions)).any()


def faults(event: Event, conventions: Conventions) -> list[str]:
    """What is said of a count and not so by its rule, and what is so and not said."""
    others = [other for other in EVENTS.values() if other.name != event.name and other.share]
    said = set(event.parts_of(conventions))
    said |= {more for name in said for more in within(name, conventions)}
    found = {other.name for other in others if lies_within(event, other, conventions)}
    return sorted(said ^ found)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize("conventions", CONVENTIONS, ids=str)
@pytest.mark.parametrize("event", EVENTS.values(), ids=lambda event: event.name)
def test_what_is_said_to_lie_within_is_what_the_rules_put_there(event, conventions):
    assert faults(event, conventions) == []


@pytest.mark.parametrize(
    "wrong",
    [
        replace(EVENTS["whiffs"], rule=EVENTS["swings"].rule, name="mine", within=("whiffs",)),
        replace(EVENTS["fouls"], rule=EVENTS["takes"].rule, name="mine"),
        replace(EVENTS["hard"], within=("takes",), name="mine"),
        replace(EVENTS["in_play"], within=("contact",), name="mine"),
    ],
    ids=["all swings for whiffs", "takes for fouls", "hard among takes", "not said to end the appearance"],
)
def test_a_rule_that_is_deliberately_wrong_is_found(wrong):
    assert faults(wrong, Conventions())


@functools.cache
def counted(conventions: Conventions) -> hitlab.Counts:
    return hitlab.tally(hitlab.demo_season(), conventions=conventions)


@pytest.mark.slow
@pytest.mark.parametrize("conventions", CONVENTIONS, ids=str)
def test_a_rate_is_accepted_only_where_every_event_is_one_of_its_denominator(conventions):
    """All ordered pairs of counts on the demo season, row by row."""
    ledger = hitlab.counting.swing_ledger(hitlab.demo_season(), conventions=conventions).df()
    counts, accepted, refused = counted(conventions), 0, 0
    for event, per in permutations([name for name in EVENTS if name in counts.names], 2):
        outside = (ledger[EVENTS[event].flag] > 0) & ~(ledger[EVENTS[per].flag] > 0)
        try:
            pair(counts, event, per)
            accepted += 1
            assert not outside.any(), f"{event} per {per}: {int(outside.sum())} events lie outside"
        except CountsError:
            refused += 1
            assert per not in fitting_denominators(event, conventions), f"{event} per {per}"
    assert accepted > 60, accepted
    assert refused > 400, refused


@pytest.mark.parametrize(
    ("event", "per"),
    [
        ("hard", "two_strike_pitches"),
        ("fouls", "takes"),
        ("two_strike_whiffs", "in_play"),
        ("whiffs", "plate_appearances"),
        ("hits", "in_play"),
        ("bases", "at_bats"),
        ("swings", "two_strike_swings"),
        ("hard", "hard"),
    ],
)
def test_what_is_no_share_is_refused_by_every_door(event, per):
    counts = counted(Conventions())
    for ask in (
        lambda: hitlab.rate(counts, event, per),
        lambda: hitlab.shrink(counts, event, per),
        lambda: hitlab.check_leads(counts, event=event, per=per),
        lambda: hitlab.check_above(counts, "Nadia Izezno", 0.1, event=event, per=per),
    ):
        with pytest.raises(CountsError, match="is no rate"):
            ask()


def test_a_refusal_names_the_denominators_that_fit():
    with pytest.raises(CountsError, match="it has a rate per in_play, contact, plate_appearances, swings, p"):
        hitlab.rate(counted(Conventions()), "hard", "takes")
    with pytest.raises(CountsError, match="hard fouls are counted here"):
        hitlab.rate(counted(Conventions(hard_fouls=True)), "hard", "in_play")


def test_every_count_has_words_for_one_and_for_many():
    for event in EVENTS.values():
        assert event.one
        assert event.many
        assert "_" not in event.one + event.many
    assert len({event.many for event in EVENTS.values()}) == len(EVENTS)


@pytest.mark.parametrize(
    ("name", "one", "many"),
    [
        ("contact", "contact", "contacts"),
        ("two_strike_contact", "contact with two strikes", "contacts with two strikes"),
        ("unmeasured", "contact of unknown hardness", "contacts of unknown hardness"),
        (
            "two_strike_unmeasured",
            "contact of unknown hardness with two strikes",
            "contacts of unknown hardness with two strikes",
        ),
        ("hard_by_eye", "contact judged by eye", "contacts judged by eye"),
        ("hard_ticked", "ball called hard by eye", "balls called hard by eye"),
        ("hard_disputed", "contact of disputed hardness", "contacts of disputed hardness"),
        ("in_play", "ball in play", "balls in play"),
        ("first_swings", "first swing", "first swings"),
    ],
)
def test_behind_a_number_stands_a_word_for_many(name, one, many):
    assert [per_words(name, number) for number in (0, 1, 2)] == [many, one, many]


def test_a_rate_keeps_the_word_for_contact_in_general():
    assert rate_words("contact", "swings") == "contact per swing"
    assert rate_words("hard", "contact") == "hard-hit balls per contact"
    assert event_words("unmeasured") == "contact of unknown hardness"


def test_a_count_in_a_situation_has_words_for_one():
    assert per_words("swings on the first pitch") == "swing on the first pitch"
    assert per_words("balls in play with two strikes") == "ball in play with two strikes"
    assert per_words("swings on the first pitch", 2) == "swings on the first pitch"
