"""Sentences as a coach, an analyst and a broadcaster say them, by the classes in which they were misread."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.sentences import asked


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
        "more",
        event,
        direction,
        since,
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


@pytest.mark.parametrize(
    ("sentence", "event", "top"),
    [
        ("Rank the top ten by walk rate", "walks", 10),
        ("Rank the top five hitters by contact rate", "contact", 5),
        ("List the top ten in whiff rate", "whiffs", 10),
        ("Sort the top ten by strikeout rate", "strikeouts", 10),
        ("Name the top three in chase rate", "swings", 3),
    ],
)
def test_a_list_that_is_to_be_made_is_asked_for(sentence, event, top):
    question = asked(sentence).question
    assert (question.kind, question.who, question.event) == ("top", "", event)
    assert question.options == {"top": top}


@pytest.mark.parametrize(
    ("sentence", "direction", "club"),
    [
        ("Does anybody on this team chase less than Wychister?", "less", "Port Quillan Otters"),
        ("Thornister hits fastballs harder than anybody on this club", "more", "Tarnwick Foxgloves"),
        ("Nobody on this team walks more than Izeirol", "more", "Dunmarrow Larks"),
        ("No one on this team walks more than Izeirol", "more", "Dunmarrow Larks"),
        ("No one on the Larks walks more than Izeirol", "more", "Dunmarrow Larks"),
        ("No one on the Otters chases like Kolmbulo", "more", "Port Quillan Otters"),
        ("Kolmbulo strikes out more than anyone on our club", "more", "Port Quillan Otters"),
        ("Larkditch is the best on this team against lefties", "more", "Copperhollow Kites"),
        ("Does anyone on that team whiff more than Nystvall?", "more", "Copperhollow Kites"),
    ],
)
def test_this_team_is_that_of_the_one_who_is_compared_within_it(sentence, direction, club):
    question = asked(sentence).question
    assert (question.kind, question.direction, question.club) == ("leads", direction, club)


@pytest.mark.parametrize(
    "sentence",
    [
        *("Larkditch whiffs more with no one on", "With no one on base Larkditch whiffs more"),
        *("Larkditch whiffs more with no one on the bases", "With no one on, Larkditch whiffs more"),
    ],
)
def test_no_one_on_is_the_bases_where_it_is_no_club(sentence):
    question = asked(sentence).question
    assert (question.kind, question.when) == ("split", ("bases=empty",))


@pytest.mark.parametrize(
    "sentence", ["Who on this team whiffs most?", "Does this club chase more than the Kites?"]
)
def test_this_team_of_nobody_is_asked_back(sentence):
    assert asked(sentence).outcome == "asked back"


@pytest.mark.parametrize(
    ("sentence", "direction", "since", "until"),
    [
        ("Are Ravcombe's strikeouts up in June?", "more", "2031-06-01", ""),
        ("Is Izeirol's walk rate down in May?", "less", "2031-05-01", "2031-05-31"),
        ("Is Kolmbulo's chase rate up in June?", "more", "2031-06-01", ""),
        ("Tovemarr's contact is down in June", "less", "2031-06-01", ""),
        ("Larkditch's strikeouts were down in May", "less", "2031-05-01", "2031-05-31"),
        ("Stengarth's whiff rate dropped in June", "less", "2031-06-01", ""),
    ],
)
def test_a_rate_that_is_up_in_a_month_is_more_than_before(sentence, direction, since, until):
    question = asked(sentence).question
    assert (question.kind, question.direction) == ("more", direction)
    assert (question.since, question.until) == (since, until)


@pytest.mark.parametrize(
    "sentence",
    [
        "Does the league whiff more on sliders than on fastballs?",
        "Does the league chase more on curveballs than on changeups?",
        "Hitters miss more on splitters than on sinkers",
        "Does the league foul off more cutters than sinkers?",
        "Izeirol misses more on sliders than on fastballs",
        "Do hitters swing less at curveballs than at changeups?",
    ],
)
def test_one_pitch_against_one_other_says_that_all_the_rest_is_compared(sentence):
    told = asked(sentence)
    assert told.asks == "one situation against one other cannot be asked; against all the rest can"
    assert [one.kind for one in told.choices] == ["split"]


@pytest.mark.parametrize(
    ("sentence", "term"),
    [
        ("Ekembulo is a completely different hitter late in games", "inning>=7"),
        ("Is Wychister's two-strike approach any different from the rest of the time?", "strikes=2"),
        ("Is Izeirol different with two strikes?", "strikes=2"),
        ("Nystvall is a different man against lefties", "pitcher_hand=left"),
        ("Kolmbulo changes completely with runners on", "runners on"),
        ("Tovemarr is another hitter with the bases loaded", "bases=full"),
    ],
)
def test_different_in_a_situation_asks_in_which_rate(sentence, term):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.asks.startswith("different there in which rate")
    assert {(one.kind, one.direction, one.when) for one in told.choices} == {("split", "either", (term,))}
    assert len({one.event for one in told.choices}) > 1


@pytest.mark.parametrize(
    ("sentence", "who", "other"),
    [
        ("I'd sooner pitch to Kolmbulo than to Quarmoor with men on", "Tamsin Kolmbulo", "Zoë Quarmoor"),
        ("I'd rather face Izeirol than Tovemarr", "Dagny Izeirol", "Roksana Tovemarr"),
        ("We'd much rather throw to Nystvall than to Stengarth", "Emeka Nystvall", "Kofi Stengarth"),
        ("I would rather pitch to Larkditch than Thornister", "Alenka Larkditch", "Umberto Thornister"),
        ("You'd rather face Ekembulo than Haxfield with two outs", "Bojan Ekembulo", "Edda Haxfield"),
        ("Who would you rather face, Izeirol or Tovemarr?", "Dagny Izeirol", "Roksana Tovemarr"),
    ],
)
def test_whom_one_would_rather_face_is_the_lesser_hitter(sentence, who, other):
    told = asked(sentence)
    ahead = [one for one in told.choices if one.event == "hard"]
    assert ahead, told.said
    assert {(one.who, one.options["other"], one.direction) for one in ahead} == {(who, other, "less")}


@pytest.mark.parametrize(
    ("sentence", "since", "direction"),
    [
        ("Nystvall stopped hitting the moment May ended", "2031-06-01", "less"),
        ("The minute April ended Izeirol chased less", "2031-05-01", "less"),
        ("Kolmbulo has whiffed more from the moment April was over", "2031-05-01", "more"),
        ("The day May was over, Tovemarr walked more", "2031-06-01", "more"),
        ("The second April was done Larkditch made more contact", "2031-05-01", "more"),
    ],
)
def test_the_moment_a_month_ended_is_a_day(sentence, since, direction):
    told = asked(sentence)
    assert told.choices, told.said
    first = told.choices[0]
    assert (first.kind, first.since, first.direction) == ("more", since, direction)


@pytest.mark.parametrize(
    ("sentence", "club"),
    [
        ("Nobody in a Kites uniform whiffs more than Larkditch", "Copperhollow Kites"),
        ("Who in a Larks uniform walks most?", "Dunmarrow Larks"),
        ("Izeirol is the best hitter wearing a Larks jersey", "Dunmarrow Larks"),
        ("Does anyone in a Masons uniform chase less than Haxfield?", "Highfell Masons"),
        ("Nobody in Otters colors strikes out more than Kolmbulo", "Port Quillan Otters"),
        ("No one in a Herons uniform has missed fewer changeups than Stengarth", "Brindle Bay Herons"),
    ],
)
def test_who_wears_a_clubs_uniform_is_of_that_club(sentence, club):
    told = asked(sentence)
    assert told.choices, told.said
    assert (told.choices[0].kind, told.choices[0].club) == ("leads", club)


@pytest.mark.parametrize(
    ("sentence", "kind"),
    [
        ("Whiffs per swing: Larkditch over or under 25%?", "above"),
        ("Is Izeirol's walk rate above or below 10 percent?", "above"),
        ("Is Kolmbulo higher or lower than the league in whiffs?", "above"),
        ("Does Tovemarr whiff more or less than the league?", "above"),
        ("Is Stengarth better or worse than Thornister against lefties?", "ahead"),
        ("Does Nystvall chase more or less often than Kolmbulo?", "ahead"),
    ],
)
def test_more_or_less_offers_both_ways_and_nothing_else(sentence, kind):
    told = asked(sentence)
    assert told.outcome == "asked back"
    one, other = told.choices
    assert (one.kind, {one.direction, other.direction}) == (kind, {"more", "less"})
    assert one == replace(other, direction=one.direction)


@pytest.mark.parametrize(
    "sentence",
    [
        "Stengarth isn't the guy I want up there against a lefty",
        "Izeirol isn't the hitter you want against sliders",
        "Nystvall is not the bat I'd send up with two strikes",
        "Kolmbulo's not who you want with the bases loaded",
        "Haxfield is not the man I'd want up there with men on",
    ],
)
def test_who_is_not_wanted_there_is_not_offered_as_the_best(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert {one.direction for one in told.choices if one.event in ("hard", "hits")} <= {"less"}
    assert not [one for one in told.choices if one.kind in ("leads", "top")]


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol is hot, no hotter than in April",
        "Nystvall is hotter than he was in May",
        "Kolmbulo isn't any hotter than in April",
        "Tovemarr is as hot as in April",
        "Larkditch is not as hot as she was in May",
    ],
)
def test_hot_is_compared_with_no_other_days(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "compared with no other days" in told.asks
    assert [one.kind for one in told.choices] == ["hot"]


@pytest.mark.parametrize(
    ("sentence", "event", "direction", "since", "until"),
    [
        ("Haxfield hits it harder in May than in April", "hard", "more", "2031-05-01", "2031-05-31"),
        (
            "Tovemarr's chase rate is lower in May than it was in April",
            "swings",
            "less",
            "2031-05-01",
            "2031-05-31",
        ),
        ("Izeirol walks more in June than in April and May", "walks", "more", "2031-06-01", ""),
        ("Does Nystvall whiff less in May than in April?", "whiffs", "less", "2031-05-01", "2031-05-31"),
        (
            "Kolmbulo made more contact in May than he did in April",
            "contact",
            "more",
            "2031-05-01",
            "2031-05-31",
        ),
    ],
)
def test_a_span_against_all_that_was_before_it_is_read(sentence, event, direction, since, until):
    question = asked(sentence).question
    assert (question.kind, question.event, question.direction) == ("more", event, direction)
    assert (question.since, question.until) == (since, until)


@pytest.mark.parametrize(
    ("sentence", "direction"),
    [
        ("Thornister whiffs more in June than in April", "more"),
        ("Nystvall is no better in June than in May", "less"),
        ("Kolmbulo whiffs no more in June than in April", "less"),
        ("Stengarth doesn't walk more in June than in April", "less"),
        ("Larkditch isn't hitting it harder in June than in May", "less"),
    ],
)
def test_a_span_against_a_part_of_what_was_before_it_is_said_to_be_more_than_that(sentence, direction):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "all days before" in told.asks
    assert (told.choices[0].kind, told.choices[0].direction) == ("more", direction)


@pytest.mark.parametrize(
    "sentence",
    [
        "Who is worse, Izeirol or Tovemarr?",
        "Izeirol or Tovemarr: who's the worse hitter?",
        "Is Izeirol worse than Tovemarr?",
        "Which one is the weaker hitter, Izeirol or Tovemarr?",
        "Who's the worst of the two, Izeirol or Tovemarr?",
    ],
)
def test_the_worse_of_two_is_not_offered_as_the_better(sentence):
    told = asked(sentence)
    assert told.choices, told.said
    good = {"hard": "less", "contact": "less", "hits": "less", "whiffs": "more", "swings": "more"}
    assert all(
        (one.who, one.direction) == ("Dagny Izeirol", good[one.event])
        for one in told.choices
        if one.kind == "ahead"
    )


@pytest.mark.parametrize(
    ("sentence", "event", "term"),
    [
        ("Hitters whiff more on sliders", "whiffs", "pitch_kind=slider"),
        ("Do hitters swing more at the first pitch?", "swings", "first pitch"),
        ("Batters strike out less with runners on", "strikeouts", "runners on"),
        ("Do batters foul off more with two strikes?", "fouls", "strikes=2"),
        ("Hitters walk more with two outs", "walks", "outs=2"),
    ],
)
def test_what_hitters_do_more_in_a_situation_is_asked_of_the_league(sentence, event, term):
    question = asked(sentence).question
    assert (question.kind, question.subject, question.event, question.when) == (
        "split",
        "league",
        event,
        (term,),
    )


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol is worse than the league",
        "Izeirol is worse than most",
        "Is Izeirol a worse hitter than the average hitter?",
        "Izeirol is a weaker hitter than the league",
        "Izeirol's been poorer than the rest of the league",
    ],
)
def test_who_is_worse_than_the_league_is_not_offered_as_better(sentence):
    told = asked(sentence)
    assert told.choices, told.said
    good = {"hard": "less", "contact": "less", "hits": "less", "whiffs": "more", "swings": "more"}
    assert all(one.direction == good[one.event] for one in told.choices if one.kind == "above"), told.choices


@pytest.mark.parametrize(
    ("sentence", "who", "other"),
    [
        ("All anyone talks about is Izeirol, but Tovemarr hits it harder", "Tovemarr", "Izeirol"),
        ("All year Izeirol has whiffed, but Nystvall whiffs more", "Nystvall", "Izeirol"),
        ("Every time up Izeirol misses, but Tovemarr misses more", "Tovemarr", "Izeirol"),
        ("Kolmbulo chases, but Stengarth chases more", "Stengarth", "Kolmbulo"),
        ("You talk about Haxfield's walks but Ekembulo walks more", "Ekembulo", "Haxfield"),
    ],
)
def test_the_one_behind_but_who_does_it_more_is_ahead(sentence, who, other):
    told = asked(sentence)
    ahead = [one for one in told.choices if one.kind == "ahead"]
    assert ahead, told.choices
    assert all(one.direction == "more" for one in ahead)
    assert all(one.who.endswith(who) and one.options["other"].endswith(other) for one in ahead)


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol whiffs on everything but fastballs",
        "Nystvall hits everything hard except sliders",
        "Kolmbulo can hit anything but a curveball",
        "Tovemarr chases everything but changeups",
        "Stengarth owns everything besides cutters",
    ],
)
def test_everything_but_one_pitch_is_not_that_pitch(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "leaves out a situation" in told.asks
    assert not told.choices


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol hits nothing but fastballs",
        "Nystvall hits nothing but sliders hard",
        "Kolmbulo hits nothing but heaters",
        "Tovemarr hits only fastballs",
        "Stengarth has hit nothing but fastballs all year",
    ],
)
def test_nothing_but_a_pitch_is_no_failing_at_it(sentence):
    told = asked(sentence)
    assert not [one for one in told.choices if one.event == "whiffs"]
    assert {one.direction for one in told.choices if one.event in ("hard", "hits")} <= {"more"}


@pytest.mark.parametrize(
    "sentence",
    [
        "After a swing and miss Stengarth goes right back after the next one",
        "After a whiff Izeirol goes straight after the next pitch",
        "Once he misses, Nystvall goes right back after the next one",
        "Kolmbulo goes back after the next pitch after a miss",
        "After missing one Tovemarr goes right after the next one",
    ],
)
def test_who_goes_right_back_after_the_next_one_swings_at_it(sentence):
    told = asked(sentence)
    assert told.choices, told.said
    first = told.choices[0]
    assert (first.kind, first.options.get("response"), first.options.get("direction")) == (
        "response",
        "swing",
        "more",
    )


@pytest.mark.parametrize(
    ("sentence", "who", "other"),
    [
        ("No one other than Kolmbulo walks more than Tovemarr", "Tamsin Kolmbulo", "Roksana Tovemarr"),
        ("Nobody but Izeirol whiffs more than Tovemarr", "Dagny Izeirol", "Roksana Tovemarr"),
        ("Nobody except Nystvall hits it harder than Stengarth", "Emeka Nystvall", "Kofi Stengarth"),
        ("No hitter besides Larkditch chases less than Ekembulo", "Alenka Larkditch", "Bojan Ekembulo"),
        ("No one apart from Haxfield strikes out more than Kolmbulo", "Edda Haxfield", "Tamsin Kolmbulo"),
    ],
)
def test_nobody_but_one_is_that_one_and_said_to_leave_out_the_others(sentence, who, other):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "all the others" in told.asks
    assert {(one.who, one.options.get("other")) for one in told.choices if one.kind == "ahead"} == {
        (who, other)
    }
    assert {one.direction for one in told.choices} == {"less" if "less" in sentence else "more"}


@pytest.mark.parametrize(
    ("sentence", "who"),
    [
        ("Other than Kolmbulo, who walks most?", ""),
        ("Other than Kolmbulo, nobody walks more than Tovemarr", "Roksana Tovemarr"),
        ("Besides Izeirol, who on the Larks whiffs most?", ""),
        ("Apart from Nystvall, Stengarth hits it harder than anyone", "Kofi Stengarth"),
        ("Except for Haxfield, no one chases less than Ekembulo", "Bojan Ekembulo"),
    ],
)
def test_one_who_is_left_out_is_not_the_one_who_is_asked_about(sentence, who):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "leaves one out" in told.asks
    assert {(one.kind, one.who) for one in told.choices} == {("leads", who)}


@pytest.mark.parametrize(
    ("sentence", "direction", "since", "until"),
    [
        ("Larkditch struck out more in April than in May", "less", "2031-05-01", "2031-05-31"),
        ("Izeirol whiffed less in April than she did in May", "more", "2031-05-01", "2031-05-31"),
        ("Nystvall walked more in April and May than in June", "less", "2031-06-01", ""),
        ("Stengarth made less contact in April than in May", "more", "2031-05-01", "2031-05-31"),
        ("Kolmbulo chased more in April than he did in May", "less", "2031-05-01", "2031-05-31"),
    ],
)
def test_more_in_an_earlier_month_than_in_a_later_one_is_less_since(sentence, direction, since, until):
    question = asked(sentence).question
    assert (question.kind, question.direction) == ("more", direction)
    assert (question.since, question.until) == (since, until)


@pytest.mark.parametrize(
    "sentence",
    [
        "I don't say this lightly: Izeirol whiffs more than anyone",
        "I'm not saying this because he's my kid, Nystvall hits it harder than anyone",
        "Nobody thinks about it but Izeirol walks more than the league",
        "Nystvall is used to fastballs",
        "Stengarth got used to sliders and hits them hard",
        "Tovemarr is hotter than anyone since May 10",
    ],
)
def test_what_only_begins_like_a_denial_or_a_habit_is_not_called_one(sentence):
    told = asked(sentence)
    assert "denies" not in told.asks
    assert "tells of a time" not in told.asks
    assert "no other days" not in told.asks


@pytest.mark.parametrize(
    "sentence",
    [
        "Does this team whiff more than the Otters?",
        "Our club strikes out more than the Kites",
        "My team chases less than the Herons",
        "Does that club make more contact than the Larks?",
        "This lineup hits it harder than the Masons",
    ],
)
def test_this_team_against_a_club_asks_which_it_is(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "which club" in told.asks
    assert not told.choices


@pytest.mark.parametrize(
    ("sentence", "ways", "club"),
    [
        (
            "Who's the toughest out on the Masons?",
            {("strikeouts", "less"), ("contact", "more"), ("fouls", "more")},
            "Highfell Masons",
        ),
        (
            "Who is the toughest out in the league?",
            {("strikeouts", "less"), ("contact", "more"), ("fouls", "more")},
            "",
        ),
        ("Who has the best eye on the Larks?", {("takes", "more"), ("swings", "less")}, "Dunmarrow Larks"),
        (
            "Who's the most patient hitter on the Kites?",
            {("takes", "more"), ("swings", "less")},
            "Copperhollow Kites",
        ),
        ("Which hitter struggles most against lefties?", {("whiffs", "more"), ("hard", "less")}, ""),
        (
            "Who struggles the most with sliders on the Otters?",
            {("whiffs", "more"), ("hard", "less")},
            "Port Quillan Otters",
        ),
    ],
)
def test_who_is_most_of_what_may_mean_several_rates_is_offered_in_each(sentence, ways, club):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert {one.kind for one in told.choices} == {"leads"}, told.choices
    assert {(one.event, one.direction) for one in told.choices} == ways
    assert {one.club for one in told.choices} == {club}


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol is no hotter than Nystvall",
        "Larkditch isn't hotter than Kolmbulo",
        "Stengarth's not hotter than Thornister right now",
        "Ekembulo is not hotter than Haxfield",
        "Tovemarr isn't any hotter than Izeirol",
    ],
)
def test_not_hotter_than_somebody_is_first_offered_as_less(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.choices[0].direction == "less", told.choices


@pytest.mark.parametrize(
    ("sentence", "ways"),
    [
        ("Kolmbulo's strikeouts went down in May but up in June", {"05": "less", "06": "more"}),
        ("Nystvall walks more in May, less in June", {"05": "more", "06": "less"}),
        ("Stengarth's whiffs were up in April and down in May", {"04": "more", "05": "less"}),
        ("Izeirol chased less in May but more in June", {"05": "less", "06": "more"}),
        ("Tovemarr made more contact in April, less in May", {"04": "more", "05": "less"}),
    ],
)
def test_up_in_one_month_and_down_in_the_next_turns_neither(sentence, ways):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert all(one.direction == ways[one.since[5:7]] for one in told.choices), told.choices
