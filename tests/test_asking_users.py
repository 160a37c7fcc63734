"""Sentences as a coach, an analyst and a broadcaster say them, by the classes in which they were misread."""

from __future__ import annotations

from functools import cache

import pytest

import hitlab
from hitlab.asking import Asked, Known


@cache
def known() -> Known:
    return Known.of(hitlab.demo_season())


def asked(sentence: str) -> Asked:
    return hitlab.ask(sentence, known())


@pytest.mark.parametrize(
    ("sentence", "event", "club"),
    [
        ("Which of our guys on the Larks strikes out the least?", "strikeouts", "Dunmarrow Larks"),
        ("Which of our hitters on the Larks strikes out the least?", "strikeouts", "Dunmarrow Larks"),
        ("Who of the guys on the Otters whiffs most?", "whiffs", "Port Quillan Otters"),
        ("Which of the men on the Kites walks the most?", "walks", "Copperhollow Kites"),
        ("Which guys on the Masons chase the least?", "swings", "Highfell Masons"),
        ("Who among our guys on the Herons makes the most contact?", "contact", "Brindle Bay Herons"),
        ("Which of our girls on the Larks fouls off the most?", "fouls", "Dunmarrow Larks"),
        ("Nobody of the guys on the Larks whiffs more than Izeirol", "whiffs", "Dunmarrow Larks"),
    ],
)
def test_the_guys_on_a_club_are_its_hitters_and_no_runners(sentence, event, club):
    told = asked(sentence)
    assert told.choices, told.said
    first = told.choices[0]
    assert (first.kind, first.subject, first.event, first.club) == ("leads", "hitter", event, club)
    assert first.direction == ("less" if "least" in sentence else "more")
    assert not [one for one in told.choices if "runners on" in one.when]


@pytest.mark.parametrize(
    "sentence", ["With guys on, Larkditch whiffs more", "Larkditch whiffs more with men on base"]
)
def test_guys_on_without_a_club_are_runners(sentence):
    assert asked(sentence).question.when == ("runners on",)


@pytest.mark.parametrize(
    ("sentence", "denies", "kind", "direction"),
    [
        ("Nobody says Izeirol whiffs most", "Nobody says", "leads", "more"),
        ("No one claims Nystvall chases more than the league", "No one claims", "above", "less"),
        ("Nobody is saying Kolmbulo strikes out more than anyone", "Nobody is saying", "leads", "more"),
        ("I'm not saying Tovemarr whiffs more than the league", "I'm not saying", "above", "less"),
        ("Nobody thinks Thornister hits it harder than Larkditch", "Nobody thinks", "ahead", "less"),
        ("Don't tell me Kurobane misses more than anyone", "Don't tell me", "leads", "more"),
        ("I wouldn't say Izeirol owns sliders", "I wouldn't say", "above", "less"),
        ("I would not call Nystvall the best hitter in the league", "I would not call", "leads", "more"),
        ("I don't think Kolmbulo chases more than the league", "I don't think", "above", "less"),
        ("You can't tell me Larkditch whiffs more than Tovemarr", "You can't tell me", "ahead", "less"),
        ("I wouldn't call Ekembulo hot", "I wouldn't call", "hot", "more"),
        ("I doubt Haxfield walks more than the league", "I doubt", "above", "less"),
        ("I doubt that Pasosende hits it harder than Kvalbakk", "I doubt that", "ahead", "less"),
        ("I'm not sold that Tovemarr hits lefties harder", "I'm not sold that", "split", "less"),
        ("I'm not convinced Stengarth is steady", "I'm not convinced", "steady", "more"),
        ("It is false that Izeirol whiffs more than the league", "It is false that", "above", "less"),
        ("I don't believe Nystvall strikes out less than Kolmbulo", "I don't believe", "ahead", "more"),
        ("No way Izeirol whiffs more than the league", "No way", "above", "less"),
        ("It's a stretch to say Izeirol owns sliders", "It's a stretch to say", "above", "less"),
        (
            "You'd be wrong to say Kolmbulo chases less than Odarovitz",
            "You'd be wrong to say",
            "ahead",
            "more",
        ),
        ("Izeirol owns sliders? I wouldn't say so.", "I wouldn't say so", "above", "less"),
        ("Tovemarr whiffs more than the league, I don't think", "I don't think", "above", "less"),
    ],
)
def test_who_does_not_say_it_is_told_so_and_is_offered_the_other_way_first(sentence, denies, kind, direction):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.asks.startswith(f"“{denies}” denies or doubts it"), told.asks
    first = told.choices[0]
    assert (first.kind, first.direction) == (kind, direction)
    assert not told.nearly


@pytest.mark.parametrize(
    "sentence",
    [
        "I can't believe Nystvall strikes out less than Kolmbulo",
        "Don't you think Nystvall strikes out less than Kolmbulo?",
        "Wouldn't you say Nystvall strikes out less than Kolmbulo?",
        "I'm not sure if Nystvall strikes out less than Kolmbulo",
        "We don't know whether Nystvall strikes out less than Kolmbulo",
        "Nobody doubts that Nystvall strikes out less than Kolmbulo",
    ],
)
def test_who_marvels_or_asks_denies_nothing(sentence):
    told = asked(sentence)
    assert "denies" not in told.asks
    assert [(one.kind, one.event, one.direction) for one in told.choices] == [("ahead", "strikeouts", "less")]


@pytest.mark.parametrize(
    ("sentence", "event", "direction", "club"),
    [
        ("Everyone on the Kites but Larkditch walks more than the league", "walks", "less", "Kites"),
        ("Everyone on the Kites but Larkditch chases sliders", "swings", "less", "Kites"),
        ("Everybody on the Masons except Haxfield hits it harder than the league", "hard", "less", "Masons"),
        ("All the Herons other than Stengarth strike out less", "strikeouts", "more", "Herons"),
        ("Every Otter but Kolmbulo whiffs more on sliders", "whiffs", "less", "Otters"),
        ("The other Larks chase more than Izeirol", "swings", "less", "Larks"),
        ("The rest of the Kites whiff more than Nystvall", "whiffs", "less", "Kites"),
        (
            "Everybody on the Otters outside of Kolmbulo fouls off more than the league",
            "fouls",
            "less",
            "Otters",
        ),
        ("Everybody else on the Masons takes more first pitches than Haxfield", "takes", "less", "Masons"),
        ("The whole lineup except Ekembulo makes more contact than the league", "contact", "less", ""),
    ],
)
def test_what_all_others_of_a_club_do_is_never_offered_of_the_one_who_is_left_out(
    sentence, event, direction, club
):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.choices, told.said
    assert {one.direction for one in told.choices} == {direction}
    assert {one.event.split()[0] for one in told.choices} == {event}
    assert all(one.club.endswith(club) for one in told.choices if one.kind == "leads" and one.club)


@pytest.mark.parametrize(
    ("sentence", "event", "when"),
    [
        ("Nystvall used to chase sliders", "swings", ("pitch_kind=slider", "outside the zone")),
        ("Izeirol used to whiff on curveballs", "whiffs", ("pitch_kind=curveball",)),
        ("Back then Kolmbulo hit lefties hard", "hard", ("pitcher_hand=left",)),
        ("Tovemarr used to own left-handers", "hard", ("pitcher_hand=left",)),
        ("Thornister used to hit the ball hard, but not now", "hard", ()),
        ("Stengarth formerly struck out a lot", "strikeouts", ()),
        ("Larkditch used to be hot", "", ()),
    ],
)
def test_what_somebody_used_to_do_asks_since_which_day_no_longer(sentence, event, when):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "since which day" in told.asks
    assert {(one.kind, one.direction) for one in told.choices} <= {("more", "less")}
    assert {(one.event, tuple(sorted(one.when))) for one in told.choices} == (
        {(event, tuple(sorted(when)))} if event else set()
    )


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol walked more before the break",
        "Since the break Nystvall whiffs less",
        "Kolmbulo has chased less after the break",
        "Tovemarr hit it harder before the all-star break",
        "Stengarth strikes out more since the break",
        "Coming out of the break Larkditch has been hot",
        "Thornister's whiffs are up since the midseason break",
    ],
)
def test_the_break_of_a_season_is_a_day_that_no_table_tells(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "break" in told.asks
    assert "which day" in told.asks
    assert not told.choices


@pytest.mark.parametrize(
    "sentence", ["Haxfield misses more on the break", "Ekembulo whiffs on pitches that break"]
)
def test_what_breaks_is_a_pitch_still(sentence):
    assert asked(sentence).choices[0].when == ("pitch_kind=breaking",)


@pytest.mark.parametrize(
    ("sentence", "terms"),
    [
        ("Outside of two-strike counts, Izeirol chases more than the league", {"strikes=0,1"}),
        ("Apart from sliders, Nystvall whiffs more than the league", set()),
        ("Other than with runners on, Kolmbulo hits it harder than anyone", {"bases=empty"}),
        ("Except against lefties Tovemarr strikes out more than the league", {"pitcher_hand=right"}),
        ("Not counting fastballs, Larkditch makes more contact than Thornister", set()),
        ("Stengarth misses more than the league, except on changeups", set()),
        ("Excluding two-strike counts Haxfield swings less than anyone", {"strikes=0,1"}),
    ],
)
def test_a_situation_that_is_left_out_is_never_the_one_that_is_offered(sentence, terms):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "leaves out" in told.asks or "left out" in told.asks
    assert all(set(one.when) - {"outside the zone"} == terms for one in told.choices)
    assert bool(told.choices) == bool(terms)


@pytest.mark.parametrize(
    ("sentence", "event", "direction", "since"),
    [
        ("Nystvall's whiffs fell after May 10", "whiffs", "less", "2031-05-10"),
        ("Kolmbulo's strikeouts rose after June 1", "strikeouts", "more", "2031-06-01"),
        ("After May 20 Izeirol chased less", "swings", "less", "2031-05-20"),
        ("Stengarth has walked more after May 15", "walks", "more", "2031-05-15"),
        ("Larkditch's contact rate went up after the tenth of May", "contact", "more", "2031-05-10"),
        ("Has Tovemarr whiffed less after 3 June?", "whiffs", "less", "2031-06-03"),
    ],
)
def test_after_a_day_is_since_that_day(sentence, event, direction, since):
    told = asked(sentence)
    assert told.outcome == "understood", told.asks
    question = told.question
    assert (question.kind, question.event, question.direction, question.since) == (
        "more", event, direction, since
    )


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("Is it noise that Tovemarr's hits dropped after May 20?", "hits", "less"),
        ("Tovemarr's hits dropped after May 20", "hits", "less"),
        ("Nystvall's hits have fallen off since May 20", "hits", "less"),
        ("Her hits dropped since May 15, Izeirol's I mean", "hits", "less"),
        ("Less contact from Ravcombe this month than last", "contact", "less"),
        ("Larkditch won't expand anymore", "swings", "less"),
        ("Ekembulo walks less these days", "walks", "less"),
        ("Kolmbulo isn't hitting it hard lately", "hard", "less"),
        ("Fewer home runs from Stengarth lately", "home_runs", "less"),
    ],
)
def test_less_of_it_of_late_is_never_offered_as_more(sentence, event, direction):
    told = asked(sentence)
    assert told.choices, told.said
    assert {one.direction for one in told.choices if one.event == event} == {direction}
    assert not [one for one in told.choices if one.kind == "hot" and one.event == event]
