"""A question is one object: a claim keeps it, a card carries it, and asked again it gives the same answer."""

from __future__ import annotations

import functools
import json
from typing import Any

import numpy as np
import pandas as pd
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import hitlab
from hitlab.errors import ClaimError, HitlabError
from hitlab.evidence.cards import facts_of
from hitlab.questions import KINDS, Question

WHO, OTHER, PITCHER = "Nadia Izezno", "Ada Mondezno", "Magnus Yorigane"


@functools.cache
def table() -> pd.DataFrame:
    return pd.read_parquet(hitlab.demo_season())


def season() -> Any:
    return hitlab.demo_season()


def again(claim: hitlab.Claim, **given_beside: Any) -> hitlab.Claim:
    """Through the card's facts as they stand in a file, and asked of the same table."""
    facts = facts_of(claim, claim.source, "", "")
    kept = json.loads(json.dumps(facts.question))
    return Question.from_dict(kept).ask(season(), **given_beside)


BREAKING = "pitch_kind=breaking"
ASKED: dict[str, dict[str, Any]] = {
    "leads": {"when": BREAKING, "minimum": 40, "event": "in_play", "per": "contact"},
    "leads in a club": {"club": "Saltmere", "direction": "less", "event": "whiffs"},
    "top": {"top": 3, "since": "May 2", "until": "2031-06-01"},
    "above": {"value": "1/6", "when": ("strikes=2", BREAKING), "holds_at": 0.8},
    "above the league": {"value": "league", "when": BREAKING},
    "below": {"value": "20%", "direction": "less", "about": "record"},
    "near": {"value": "one in five", "within": 0.03},
    "ahead": {"other": OTHER, "event": "swings", "per": "pitches", "when": "first pitch"},
    "restricted": {"value": 0.3, "event": "swings at balls=0 strikes=0", "per": "pitches"},
    "split": {"when": BREAKING, "against": "usual", "until": "June"},
    "hot": {"stretch": 8, "factor": 1.5, "event": "in_play"},
    "steady": {"since": "May", "stretch": 8, "until": "June 20"},
    "more": {"since": "May 15", "when": BREAKING},
    "different": {"since": "May", "direction": "either", "factor": 1.4},
    "a pitcher": {"subject": "pitcher", "when": "hitter_side=left"},
    "hard fouls": {"conventions": hitlab.Conventions(hard_fouls=True), "per": "contact", "value": 0.2},
    "response": {"response": "swing", "direction": "more"},
}
CHECKS = {
    "leads in a club": "leads",
    "above the league": "above",
    "below": "above",
    "restricted": "above",
    "different": "more",
    "a pitcher": "split",
    "hard fouls": "above",
}


def made(name: str, pitches: Any = None) -> hitlab.Claim:
    check = getattr(hitlab, f"check_{CHECKS.get(name, name)}")
    options = dict(ASKED[name])
    who = [] if name == "leads in a club" else [PITCHER if name == "a pitcher" else WHO]
    placed = [options.pop(key) for key in ("value", "other") if key in options]
    return check(season() if pitches is None else pitches, *who, *placed, **options)


@pytest.mark.slow
@pytest.mark.parametrize("name", ASKED)
def test_a_claim_is_remade_from_what_its_card_carries(name):
    claim = made(name)
    assert again(claim).to_dict() == claim.to_dict()
    assert claim.question.kind == claim.kind


@pytest.mark.slow
def test_a_spot_with_candidates_and_a_pitcher_is_remade():
    against = hitlab.game.opposing_pitcher(season(), pitcher=PITCHER)
    spot, others = hitlab.game.Spot(-1, 2, "first second"), [OTHER, "Hana Falandra"]
    claim = hitlab.check_spot(season(), spot, WHO, candidates=others, pitcher=against)
    assert claim.numbers["compared"] == 3
    assert again(claim).to_dict() == claim.to_dict()


@pytest.mark.slow
def test_two_rates_together_are_remade():
    fast, slow = hitlab.situation("pitch_kind=fastball"), hitlab.situation(BREAKING)
    rates = (
        hitlab.two_rates.RateOf("in_play", "contact", fast),
        hitlab.two_rates.RateOf("hard", "swings", slow),
    )
    claim = hitlab.check_together(season(), *rates)
    assert again(claim).to_dict() == claim.to_dict()


@pytest.mark.slow
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    kind=st.sampled_from(["leads", "top", "above", "near", "ahead", "split", "more"]),
    rate=st.sampled_from([("hard", "swings"), ("whiffs", "swings"), ("in_play", "contact")]),
    when=st.sampled_from([(), (BREAKING,), ("strikes=2",), ("first pitch",)]),
    less=st.booleans(),
    record=st.booleans(),
    who=st.sampled_from([WHO, OTHER, "Hana Falandra"]),
    bound=st.sampled_from([0.7, 0.9, 0.95]),
)
def test_any_question_is_remade(kind, rate, when, less, record, who, bound):
    options: dict[str, Any] = {
        "top": {"top": 4},
        "above": {"value": 0.15},
        "near": {"value": 0.15},
        "ahead": {"other": "Alenka Larkditch"},
    }.get(kind, {})
    asked = Question(
        kind=kind,
        who=who,
        event=rate[0],
        per=rate[1],
        when=when or ((BREAKING,) if kind == "split" else ()),
        since="2031-05-10" if kind == "more" else "",
        direction="less" if less and kind != "near" else "more",
        about="record" if record else "underlying",
        minimum=20 if kind in ("leads", "top") else None,
        holds_at=bound,
        fails_at=1 - bound,
        options=options,
    )
    assert Question.from_dict(json.loads(json.dumps(asked.to_dict()))) == asked
    try:
        claim = asked.ask(season())
    except HitlabError:  # too few attempts in a situation
        return
    assert again(claim).to_dict() == claim.to_dict()
    assert (claim.holds_at, claim.about) == (bound, asked.about)


@pytest.mark.slow
def test_the_other_direction_is_the_other_side_of_the_chance():
    for check in (
        functools.partial(hitlab.check_above, season(), WHO, 0.16),
        functools.partial(hitlab.check_above, season(), WHO, "league", when=BREAKING),
        functools.partial(hitlab.check_ahead, season(), WHO, OTHER),
        functools.partial(hitlab.check_split, season(), WHO, when=BREAKING),
        functools.partial(hitlab.check_more, season(), WHO, since="May 15"),
    ):
        more, less = check(), check(direction="less")
        assert more.chance + less.chance == pytest.approx(1, abs=1e-9)
        assert check(about="record", direction="less").verdict != check(about="record").verdict
    leaders = hitlab.check_leads(season(), direction="less", event="whiffs", about="record")
    rates = hitlab.rate(hitlab.tally(season()), "whiffs", "swings").table()
    least = rates[rates["swings"] >= leaders.numbers["minimum"]].sort_values("rate").iloc[0]
    assert leaders.numbers["hitter"] == least["hitter"]
    assert leaders.verdict == "holds"


@pytest.mark.slow
def test_a_situation_and_days_are_those_pitches_and_no_others():
    late = pd.to_datetime(table()["date"]) >= "2031-05-02"
    chosen = table()[table()["pitch_kind"].isin(["slider", "curveball"]) & late]
    claim = hitlab.check_leads(table(), when=BREAKING, since="May 2", minimum=40)
    alone = hitlab.check_leads(chosen, minimum=40)
    assert claim.chance == pytest.approx(alone.chance, abs=1e-12)
    assert "against breaking balls since May 2, 2031" in claim.say_in_full
    assert claim.became_words.startswith("Against breaking balls since May 2, 2031, Roksana Tovemarr saw ")


@pytest.mark.slow
def test_near_is_the_chance_between_two_values():
    near = hitlab.check_near(season(), WHO, 0.16, within=0.02)
    above = [hitlab.check_above(season(), WHO, value).chance for value in (0.14, 0.18)]
    assert near.chance == pytest.approx(above[0] - above[1], abs=1e-12)


@pytest.mark.slow
def test_a_clubs_leader_is_sought_in_the_club_with_the_leagues_law():
    claim = hitlab.check_leads(season(), club="lanterns")
    of_club = set(table().loc[table()["club"] == "Saltmere Lanterns", "hitter"])
    assert set(claim.evidence["hitter"]) <= of_club
    assert claim.evidence["chance_best"].sum() <= 1 + 1e-6
    assert "of the Saltmere Lanterns" in claim.say_in_full
    everybody = hitlab.shrink(hitlab.tally(season())).table().set_index("hitter")
    mine = claim.numbers["hitter"]
    assert claim.numbers["shrunk"] == pytest.approx(everybody.loc[mine, "shrunk"], rel=1e-3)
    other = next(name for name in table()["hitter"].unique() if name not in of_club)
    with pytest.raises(ClaimError, match="does not play for the Saltmere Lanterns"):
        hitlab.check_leads(season(), other, club="lanterns", minimum=1)


def test_pitchers_have_the_rate_of_those_who_face_them():
    claim = hitlab.check_above(season(), PITCHER, 0.3, event="whiffs", subject="pitcher")
    faced = hitlab.counting.swing_ledger(table()[table()["pitcher"] == PITCHER])
    assert claim.numbers["events"] == int(faced["missed"].sum())
    assert claim.numbers["exposure"] == int(faced["swing"].sum())
    assert "by the hitters faced" in claim.say_in_full


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: hitlab.check_above(season(), WHO, 0.2, minimum=50), "not asked by minimum="),
        (lambda: hitlab.check_hot(season(), WHO, direction="less"), "not asked by direction="),
        (lambda: hitlab.check_leads(season(), wen="strikes=2"), "knows no wen="),
        (
            lambda: hitlab.check_leads(hitlab.tally(season()), when="strikes=2"),
            "and these are counts",
        ),
        (
            lambda: hitlab.check_leads(season(), since="1900-05-01"),
            "is in 1900, and the table's games",
        ),
        (lambda: hitlab.check_leads(season(), since="2032-05-01"), "so none are left"),
        (lambda: hitlab.check_leads(season(), since="Smarch"), "is not a day"),
        (lambda: hitlab.check_split(season(), WHO), "needs a situation"),
        (lambda: hitlab.check_more(season(), WHO), "needs two periods"),
        (lambda: hitlab.check_near(season(), WHO, 0.95, within=0.1), "smaller width"),
        (lambda: hitlab.check_above(season(), WHO, "often"), "give a rate between 0 and 1"),
        (lambda: Question(kind="leads", options={"value": 1}).ask(season()), "is not asked by 'value'"),
        (lambda: Question(kind="best").ask(season()), "give one of leads, top"),
        (lambda: Question.from_dict({"kind": "leads", "colour": 1}), "no question of this version"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_sentence(call, message):
    with pytest.raises(ClaimError, match=message):
        call()


@pytest.mark.slow
def test_a_claim_on_counts_is_remade_as_they_were_counted():
    fouls = hitlab.Conventions(hard_fouls=True, foul_tip="contact")
    claim = hitlab.check_above(hitlab.tally(season(), conventions=fouls), WHO, 0.2, about="record")
    assert claim.question.conventions == fouls
    remade = again(claim)
    assert (remade.numbers, remade.verdict) == (claim.numbers, claim.verdict)


@pytest.mark.slow
def test_what_came_before_can_be_asked_of_claims_lists_and_cut_lists():
    claim = hitlab.check_above(table(), WHO, 0.15, when="After a whiff")
    flagged = hitlab.approach.with_previous(table())
    mine = flagged[(flagged["hitter"] == WHO) & (flagged["previous_whiff"] == True)]  # noqa: E712
    assert claim.numbers["exposure"] == int(hitlab.counting.swing_ledger(mine)["swing"].sum())
    listed = hitlab.cut_list(table(), claim, most=None).table()
    assert (listed["side"] == "supports").sum() == claim.numbers["events"]
    restricted = hitlab.check_above(table(), WHO, 0.1, event="swings after a whiff", per="swings")
    assert restricted.numbers["events"] == claim.numbers["exposure"]
    assert "swings after a whiff per swing" in restricted.say_in_full


@pytest.mark.slow
def test_numbers_of_numpy_pass_through_a_file():
    claim = hitlab.check_top(season(), WHO, top=np.int64(3), minimum=np.int64(100))
    assert again(claim).to_dict() == claim.to_dict()
    claim = hitlab.check_above(season(), WHO, np.float64(0.15))
    assert again(claim).to_dict() == claim.to_dict()


@pytest.mark.slow
@pytest.mark.parametrize("subject", ["hitter", "pitcher", "club"])
def test_the_picture_marks_whom_the_claim_is_about(subject):
    who = {"hitter": WHO, "pitcher": PITCHER, "club": "Saltmere Lanterns"}[subject]
    claim = hitlab.check_top(season(), who, top=3, event="whiffs", subject=subject)
    rows = claim.rows()
    assert [name for name, mine in zip(rows.names, rows.subject, strict=True) if mine] == [who]
    assert claim.assumptions[0].startswith(f"each {subject} has one true rate")
    listed = hitlab.cut_list(table(), claim, most=None)
    assert (listed.table()["side"] == "supports").sum() == claim.numbers["events"]
    assert f"The {subject}'s whiffs support it" in listed.rule


@pytest.mark.slow
def test_a_claim_said_the_other_way_turns_its_cut_list_round():
    more, less = (
        hitlab.cut_list(table(), hitlab.check_above(table(), WHO, 0.15, direction=way), most=None)
        for way in ("more", "less")
    )
    sides = [set(listed.table().loc[listed.table()["side"] == "supports", "row"]) for listed in (more, less)]
    assert not sides[0] & sides[1]
    assert "hard-hit balls support it" in more.rule
    assert "hard-hit balls speak against it" in less.rule


def test_every_kind_is_asked_here():
    kinds = {CHECKS.get(name, name) for name in ASKED} | {"spot", "together"}
    assert kinds == set(KINDS)
