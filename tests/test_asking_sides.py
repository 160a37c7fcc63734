"""Of which side it is said: others do it more, one does it to another, one of two, before or after a day.

What is read or offered is never the inverse of what was said.
"""

from __future__ import annotations

import pytest

from tests.sentences import asked


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("The rest of the league whiffs more than Kurobane", "whiffs", "less"),
        ("The rest of the league hits it harder than Izeirol.", "hard", "less"),
        ("Rest of the league strikes out less than Tovemarr", "strikeouts", "more"),
        ("Does the rest of the league chase more than Stengarth?", "swings", "less"),
        ("The rest of the league makes more contact than Nystvall on sliders", "contact", "less"),
        ("The rest of the league walks less often than Thornister", "walks", "more"),
    ],
)
def test_what_the_rest_of_the_league_does_more_is_done_less_by_the_one(sentence, event, direction):
    told = asked(sentence)
    assert told.outcome == "understood", told.asks
    question = told.question
    assert (question.kind, question.event, question.direction) == ("above", event, direction)
    assert question.options == {"value": "league"}


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("Anybody strikes out less than Kurobane", "strikeouts", "more"),
        ("Anyone makes more contact than Izeirol.", "contact", "less"),
        ("Any hitter walks more than Tovemarr", "walks", "less"),
        ("Any other hitter hits it harder than Nystvall.", "hard", "less"),
        ("Honestly, anybody chases less than Stengarth", "swings", "more"),
        ("Everybody whiffs more than Kolmbulo", "whiffs", "less"),
        ("Everyone else fouls off more pitches than Thornister", "fouls", "less"),
        ("Every hitter in the league takes more pitches than Wychister", "takes", "less"),
        ("All the others walk less than Larkditch", "walks", "more"),
    ],
)
def test_what_anybody_or_everybody_does_more_is_done_least_by_the_one(sentence, event, direction):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.choices, told.said
    ways = {(one.kind, one.event, one.direction) for one in told.choices if one.kind in ("leads", "above")}
    assert ways, told.choices
    assert {(one, way) for _, one, way in ways if one == event} == {(event, direction)}


@pytest.mark.parametrize(
    ("sentence", "direction"),
    [
        ("Does anybody strike out less than Kurobane?", "less"),
        ("Is there anyone who strikes out more than Izeirol?", "more"),
        ("Nobody strikes out less than Tovemarr", "less"),
        ("I don't think anybody strikes out more than Nystvall", "more"),
        ("Hardly anyone strikes out less than Stengarth", "less"),
        ("Tell me whether any hitter strikes out more than Kolmbulo", "more"),
    ],
)
def test_whether_anybody_does_it_more_asks_who_does_it_most(sentence, direction):
    told = asked(sentence)
    assert told.choices
    assert {one.direction for one in told.choices if one.event == "strikeouts"} == {direction}


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("others do it more than Izeirol: whiff", "whiffs", "less"),
        ("Others whiff more than Kolmbulo", "whiffs", "less"),
        ("Plenty of others chase more than Tovemarr", "swings", "less"),
        ("Most hitters strike out more than Tovemarr", "strikeouts", "less"),
        ("The league makes more contact than Nystvall", "contact", "less"),
        ("The average hitter walks more than Thornister", "walks", "less"),
        ("Other hitters foul off more pitches than Stengarth", "fouls", "less"),
        ("His rivals whiff less than Ekembulo", "whiffs", "more"),
        ("A lot of guys take more first pitches than Hjelfjell", "takes", "less"),
        ("the average bat hits it harder than Myrkvall", "hard", "less"),
    ],
)
def test_what_others_are_said_to_do_more_is_never_offered_as_done_more_by_the_one(sentence, event, direction):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.choices, told.said
    assert {one.direction for one in told.choices if one.event == event} == {direction}


@pytest.mark.parametrize(
    ("sentence", "first"),
    [
        ("Is Nystvall best on sliders or on curveballs?", "split"),
        ("Is Nystvall best on sliders or on curveballs", "split"),
        ("Does Izeirol miss more on sliders or on fastballs since May 10?", "split"),
        ("Izeirol misses more on sliders or on fastballs since May 10", "split"),
        ("Is Kolmbulo worst on changeups or splitters?", "split"),
        ("Does Stengarth chase more on cutters or on sinkers lately?", "split"),
        ("Does Tovemarr hit it harder than the league on sliders or on cutters?", "above"),
        ("Does Thornister whiff more against lefties or against righties since June 1?", "split"),
        ("Larkditch chases less on curveballs or on sliders in May", "split"),
    ],
)
def test_which_of_two_situations_is_asked_back_whatever_it_is_compared_with(sentence, first):
    told = asked(sentence)
    assert told.outcome == "asked back"
    one, other = told.choices[:2]
    assert (one.kind, other.kind) == (first, first)
    assert not set(one.when) <= set(other.when)
    assert not set(other.when) <= set(one.when)
    assert not any("," in term for term in (*one.when, *other.when))
    assert (one.since, one.until, one.direction) == (other.since, other.until, other.direction)
    if "May 10" in sentence:
        assert one.since == "2031-05-10"


@pytest.mark.parametrize(
    "sentence",
    [
        "Nobody misses more on sliders or on curveballs than Izeirol",
        "Nystvall misses more than the league on sliders or on curveballs",
        "Who is better than anyone on sliders or curveballs?",
    ],
)
def test_two_kinds_of_pitch_stay_one_situation_where_others_are_compared_in_it(sentence):
    told = asked(sentence)
    assert told.choices[0].when == ("pitch_kind=slider,curveball",)


@pytest.mark.parametrize(
    ("sentence", "words"),
    [
        ("Kolmbulo chases sliders, fastballs less than the league", ("sliders", "fastballs")),
        ("Nystvall misses cutters, sinkers more than anyone", ("cutters", "sinkers")),
        ("Izeirol whiffs more than the league against lefties, against righties", ("left", "right")),
        ("Tovemarr makes more contact than the league with two strikes with one strike", ("strike",)),
        ("Stengarth hits it harder than anyone with runners on and the bases empty", ("runners on", "empty")),
    ],
)
def test_situations_that_do_not_go_together_are_told_in_words(sentence, words):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "=" not in told.asks
    assert "_" not in told.asks
    assert all(word in told.asks for word in words), told.asks


@pytest.mark.parametrize(
    ("sentence", "since", "direction"),
    [
        ("Izeirol whiffed before May 10 more than after", "2031-05-10", "less"),
        ("Before May 10 Kolmbulo chased more than after.", "2031-05-10", "less"),
        ("Tovemarr struck out more before May than since", "2031-05-01", "less"),
        ("Thornister hit it harder before June 1 than after that", "2031-06-01", "less"),
        ("Before May 20 Stengarth walked less than he has since", "2031-05-20", "more"),
        ("Larkditch took fewer first pitches before the tenth of May than afterwards", "2031-05-10", "more"),
        ("Does Nystvall make less contact before June 3 than after it?", "2031-06-03", "more"),
        ("Stengarth walked less after May 15 than before", "2031-05-15", "less"),
    ],
)
def test_more_before_a_day_than_after_is_less_since_that_day(sentence, since, direction):
    told = asked(sentence)
    assert told.choices, told.said
    assert {(one.since, one.direction) for one in told.choices if one.kind == "more"} == {(since, direction)}
    assert {one.direction for one in told.choices} == {direction}


@pytest.mark.parametrize(
    ("sentence", "since"),
    [
        ("Since April ended Kolmbulo whiffs more", "2031-05-01"),
        ("Ever since April ended Nystvall chases less", "2031-05-01"),
        ("Since May was over Tovemarr hits it harder", "2031-06-01"),
        ("Once April was done Larkditch struck out more than before", "2031-05-01"),
        ("Since the end of April Izeirol has made more contact", "2031-05-01"),
        ("Stengarth has chased more since the last week of May", "2031-05-25"),
        ("Izeirol has walked less than before since the last week of April", "2031-04-24"),
    ],
)
def test_a_month_that_ended_and_its_last_week_are_days(sentence, since):
    told = asked(sentence)
    assert told.outcome == "understood", told.said
    assert (told.question.kind, told.question.since) == ("more", since)


@pytest.mark.parametrize(
    ("sentence", "since"),
    [
        ("After April Nystvall has been chasing less", "2031-05-01"),
        ("Thornister has made more contact after May", "2031-06-01"),
        ("Past April, Stengarth strikes out less", "2031-05-01"),
        ("Kolmbulo whiffs more after May is over", "2031-06-01"),
        ("After May Izeirol hits sliders harder", "2031-06-01"),
    ],
)
def test_after_a_month_is_from_the_first_of_the_next(sentence, since):
    told = asked(sentence)
    assert told.choices, told.said
    assert {one.since for one in told.choices} == {since}


@pytest.mark.parametrize(
    "sentence",
    [
        "In the first half of the season Izeirol chased more",
        "Kolmbulo chased less in the first half of the season than in the second",
        "Tovemarr whiffs more in the second half of the season",
        "Over the first half of this season nobody hit it hard more than Stengarth",
        "Nystvall took more pitches in the second half of the year than in the first half",
    ],
)
def test_half_of_a_season_is_no_inning_and_no_share(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert told.choices, told.said
    for one in told.choices:
        assert not [term for term in one.when if term.startswith("inning")]
        assert one.options.get("value") != 0.5
        assert one.since or one.until


def test_half_of_a_season_is_told_from_the_other_half():
    told = asked("Kolmbulo chased less in the first half of the season than in the second")
    [more] = [one for one in told.choices if one.kind == "more"]
    assert (more.since, more.direction) == ("2031-05-14", "more")


@pytest.mark.parametrize(
    ("sentence", "days"),
    [
        ("Izeirol chased more than anyone in the last week of May", ("2031-05-25", "2031-05-31")),
        ("In the first week of June nobody whiffed more than Kolmbulo", ("2031-06-01", "2031-06-07")),
        ("Tovemarr chased less than the league in the second week of May", ("2031-05-08", "2031-05-14")),
        ("Stengarth struck out more than anyone during the last week of April", ("2031-04-24", "2031-04-30")),
        ("Nystvall walked more than the league in the last week of May", ("2031-05-25", "2031-05-31")),
    ],
)
def test_a_week_of_a_month_is_its_days(sentence, days):
    told = asked(sentence)
    assert told.choices, told.said
    assert {(one.since, one.until) for one in told.choices} == {days}


@pytest.mark.parametrize(
    "sentence",
    [
        "Nystvall whiffs on over 95",
        "Does the park help Izeirol hit it hard?",
        "Zoë Quarmoor whiffs more than anyone when the socks are blue",
        "Thornister is left handed and whiffs more",
        "Íñigo Hoshidori walks plenty for such a small fellow of few words",
        "Over the first half of this season nobody hit it hard more than Stengarth",
        "Mostly for show Tovemarr hits it harder than the league",
        "Kolmbulo chases more than the league when the bullpen is tired",
        "Nystvall whiffs at the shadows more than the league does",
    ],
)
def test_what_is_said_of_the_offers_is_true_of_all_of_them(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    if len(told.choices) > 1:
        assert "is it this all the same" not in told.asks
        assert "What is offered leaves out" not in told.asks
    if told.asks.startswith("since which day"):
        assert any(one.kind in ("more", "hot") for one in told.choices)


def test_a_question_of_a_half_of_the_season_does_not_offer_all_of_it():
    told = asked("Over the first half of this season nobody hit it hard more than Stengarth")
    assert {one.until for one in told.choices} == {"2031-05-13"}


@pytest.mark.parametrize(
    ("sentence", "side"),
    [
        ("lefties own Wexcombe", "left"),
        ("righties own Garnmoor", "right"),
        ("left-handed hitters own Quiloba", "left"),
        ("lefty bats feast on Chudosu", "left"),
        ("righties crush Wexmoor", "right"),
        ("All righties feast on Nystmarr", "right"),
        ("Do lefties own Velezno?", "left"),
    ],
)
def test_hitters_who_own_a_pitcher_hit_him_more(sentence, side):
    told = asked(sentence)
    assert told.choices
    assert {one.direction for one in told.choices if one.event in ("hard", "hits")} == {"more"}
    assert all(f"hitter_side={side}" in one.when for one in told.choices)


@pytest.mark.parametrize(
    "sentence",
    [
        "Izeirol struggles lately",
        "Nystvall has been struggling on sliders lately",
        "Kolmbulo has a good eye lately",
        "Tovemarr is a tough out of late",
        "Stengarth is patient these days",
        "Thornister does not struggle with curveballs lately",
    ],
)
def test_what_may_mean_several_rates_of_late_is_offered_of_late(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert len({one.event for one in told.choices}) > 1
    assert {(one.kind, one.since) for one in told.choices} == {("more", "2031-06-10")}


@pytest.mark.parametrize(
    "sentence",
    [
        "Is Nystvall better than the rest?",
        "Nystvall is better than the rest on sliders",
        "Kolmbulo hits better than the rest of them",
        "Does Izeirol make more contact than the rest with two strikes?",
        "Thornister is worse than the rest against lefties",
    ],
)
def test_than_the_rest_may_be_than_the_league(sentence):
    told = asked(sentence)
    league = [one for one in told.choices if one.options == {"value": "league"}]
    assert league, told.choices
    assert len({one.direction for one in told.choices if one.event != "whiffs"}) == 1


@pytest.mark.parametrize(
    ("sentence", "left"),
    [
        ("Who should hit for the Herons down one in the ninth?", ("how many are out", "who is on base")),
        (
            "Who should I send up with a runner on first, down by one, bottom of the ninth?",
            ("how many are out",),
        ),
        ("Do I pinch hit Izeirol down two with the bases loaded?", ("how many are out",)),
        ("Two outs, bottom nine, lefty on the mound, down a run: who hits?", ("who is on base", "lefty")),
        ("Give me Tovemarr with the bases loaded and one out in the ninth", ("by how many runs",)),
    ],
)
def test_what_a_spot_takes_for_granted_is_said(sentence, left):
    told = asked(sentence)
    assert [one for one in told.choices if one.kind == "spot"], told.choices
    assert all(any(word in one for one in told.left_out) for word in left), told.left_out


@pytest.mark.parametrize(
    ("sentence", "kind"),
    [
        ("Tovemarr hits it hard more over 95", "split"),
        ("Kolmbulo misses more at anything over 95", "split"),
        ("Nystvall whiffs on over 95", "above"),
        ("Izeirol chases stuff above 93 more than anyone", "leads"),
        ("Stengarth can't catch up to 97 or harder", "above"),
        ("Thornister gets beat by 96 plus", "above"),
    ],
)
def test_a_speed_without_its_unit_is_no_share(sentence, kind):
    told = asked(sentence)
    assert told.choices, told.said
    assert told.choices[0].kind == kind
    assert any(term.startswith("speed_mph>=9") for term in told.choices[0].when)
    assert not [one for one in told.choices if (one.options.get("value") or 0) not in ("league", 0)]


@pytest.mark.parametrize(
    "sentence",
    [
        "Stengarth has more hits than Nystvall",
        "Tovemarr has fewer hits than Kolmbulo",
        "Izeirol had more hits than Larkditch",
        "Does Thornister have more hits than Ekembulo?",
        "Nystvall collects more hits than Tovemarr",
    ],
)
def test_more_hits_than_somebody_offers_hits(sentence):
    told = asked(sentence)
    assert told.outcome == "asked back"
    assert "how many in all" in told.asks
    assert told.choices[0].kind == "ahead"
    assert {one.event for one in told.choices} == {"hits"}


@pytest.mark.parametrize(
    ("sentence", "wrong"),
    [
        ("Tovemarr sends more balls into the seats than anyone", "fouls"),
        ("Stengarth puts more in the stands than anyone", "fouls"),
        ("Kolmbulo hits it to the wall more than anyone", "home_runs"),
        ("Izeirol hits it off the wall more than anyone", "home_runs"),
        ("Nystvall hits it harder in our park than elsewhere", "home_runs"),
        ("Larkditch goes to the park more than anyone", "home_runs"),
        ("Wexcombe goes back to the bullpen more than anyone, and whiffs more", "home_runs"),
        ("Izeirol is left handed", "takes"),
        ("Thornister is left handed and whiffs more", "takes"),
        ("Is Ekembulo left off the list of those who chase most?", "takes"),
    ],
)
def test_a_place_or_a_hand_is_no_rate(sentence, wrong):
    told = asked(sentence)
    assert wrong not in {one.event for one in told.choices}


@pytest.mark.parametrize(
    "sentence",
    [
        "Who gets on base the most?",
        "Thornister gets on base more than anyone",
        "Does Izeirol reach base more than the league?",
        "Kolmbulo is among the top five at getting on base",
        "Nystvall reaches base less than Tovemarr",
    ],
)
def test_who_is_on_base_may_have_hit_or_walked(sentence):
    told = asked(sentence)
    assert told.outcome != "understood"
    assert {"hits", "walks"} <= {one.event for one in told.choices}


@pytest.mark.parametrize(
    ("sentence", "term"),
    [
        ("Nobody out there chases more than Kolmbulo", "bases=empty"),
        ("Is there nobody out there who chases more than Izeirol?", "bases=empty"),
        ("No one around whiffs less than Tovemarr", "bases=empty"),
        ("With nobody out there Kolmbulo chases more", "outs=0"),
        ("Nystvall hits it harder with nobody out there", "outs=0"),
    ],
)
def test_nobody_out_there_is_no_situation_of_another_sort(sentence, term):
    told = asked(sentence)
    assert told.choices
    assert not any(term in one.when for one in told.choices)


@pytest.mark.parametrize(
    "sentence",
    [
        "Nystvall misses more on one slider a game than anyone",
        "Izeirol is hitting the ball like a rookie against lefties",
        "Thornister whiffs hitting off speed more than anyone",
        "Stengarth chases sliders going off the plate more than the league",
        "Tovemarr can not miss a slider more than the league does",
        "Larkditch has more whiffs in innings one through six than in the others",
    ],
)
def test_words_that_are_only_like_an_idiom_are_none(sentence):
    told = asked(sentence)
    assert not [one for one in told.choices if one.kind == "hot"]
    assert not [one for one in told.choices if one.kind == "split" and one.when == ("inning>=7",)]


@pytest.mark.parametrize(
    ("sentence", "direction"),
    [
        ("Odarovitz used to chase less", "more"),
        ("Tovemarr used to whiff more on sliders", "less"),
        ("Kolmbulo used to strike out more often", "less"),
        ("Back then Izeirol walked more", "less"),
        ("Previously Ekembulo fouled off fewer pitches", "more"),
        ("Nystvall used to make more contact with two strikes", "less"),
        ("Stengarth walks less than he used to", "less"),
        ("Larkditch chases more than she used to", "more"),
    ],
)
def test_what_somebody_used_to_do_more_is_done_less_now(sentence, direction):
    told = asked(sentence)
    assert told.outcome == "asked back"
    change = [one.direction for one in told.choices if one.kind == "more"]
    assert set(change) <= {direction}
    assert change
    if not sentence.endswith(("used to", "sliders", "strikes")):
        assert set(change) == {one.direction for one in told.choices}


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("Everybody on the Otters strikes out less than Goriches", "strikeouts", "more"),
        ("All the hitters on the Kites walk more than Burgenzal", "walks", "less"),
        ("I'd bet anybody on that club squares it up more than Carvenzal does", "hard", "less"),
        ("I would say anyone chases less than Dryndesen", "swings", "more"),
        ("The league's chase rate exceeds Szebarev's", "swings", "less"),
        ("The league's walk rate is higher than Kanagane's", "walks", "less"),
        ("The average whiff rate tops Nystvall's", "whiffs", "less"),
        ("There are worse hitters with two strikes than Churovitz", "hard", "more"),
        ("There are guys who whiff more than Ekkvall", "whiffs", "less"),
        ("There are better bats against lefties than Quarmoor", "hard", "less"),
        ("More hitters whiff less than Otozuma", "whiffs", "more"),
        ("Anyone but Nystvall would have more hits by now", "hits", "less"),
        ("Everybody except Toverygg makes more contact", "contact", "less"),
        ("Everyone other than Kuroruma walks less", "walks", "more"),
    ],
)
def test_others_in_other_words_are_never_taken_for_the_one(sentence, event, direction):
    told = asked(sentence)
    assert told.outcome == "asked back"
    ways = {one.direction for one in told.choices if one.event == event}
    assert ways == {direction}, told.choices


@pytest.mark.parametrize(
    ("sentence", "first", "second"),
    [
        ("The only man who chases more than Mondezno is Haxditch", "Basil Haxditch", "Ada Mondezno"),
        ("The one who whiffs less than Izeirol is Tovemarr", "Roksana Tovemarr", "Dagny Izeirol"),
        ("It's not Izeirol who chases most, it's Tovemarr", "Roksana Tovemarr", "Dagny Izeirol"),
        ("It isn't Nystvall who walks more, it is Kolmbulo", "Tamsin Kolmbulo", "Emeka Nystvall"),
        ("Not Stengarth but Thornister strikes out more", "Umberto Thornister", "Kofi Stengarth"),
        ("A man who hits it harder than Kolmbulo: Nystvall", "Emeka Nystvall", "Tamsin Kolmbulo"),
    ],
)
def test_who_stands_behind_than_or_not_is_the_other(sentence, first, second):
    told = asked(sentence)
    ahead = [one for one in told.choices if one.kind == "ahead"]
    assert ahead
    degree = "less" if "less" in sentence else "more"
    for one in ahead:
        told_so = (one.who, one.options["other"], one.direction)
        turned = {"more": "less", "less": "more"}[degree]
        assert told_so in ((first, second, degree), (second, first, turned))


@pytest.mark.parametrize(
    ("sentence", "direction"),
    [
        ("It isn't true that Yorizuma whiffs more than the league", "less"),
        ("Burgoba's whiffs have not gone up since May 20", "less"),
        ("Ekkvall strikes out no more than the league", "less"),
        ("Nystvall does not walk more than Kolmbulo", "less"),
        ("Tovemarr doesn't hit under .250 against righties", "more"),
        ("Kolmbulo's whiff rate is not over 30 percent", "less"),
        ("Izeirol has not chased less since June 1", "more"),
        ("Neither Ekkvall nor Izeirol strikes out more than the league", "less"),
    ],
)
def test_what_is_denied_is_offered_the_other_way_first(sentence, direction):
    told = asked(sentence)
    assert told.choices
    assert told.choices[0].direction == direction
    if len(told.choices) == 1:
        assert "this all the same, without" not in told.asks


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("If anything Iroshige whiffs less lately, not more", "whiffs", "less"),
        ("Ekkvall walks more since May 10, not less", "walks", "more"),
        ("Izeirol chases less than the league, not more", "swings", "less"),
        ("Stengarth makes more contact on sliders, never less", "contact", "more"),
        ("Not one Miller strikes out as seldom as Ekkvall", "strikeouts", "less"),
        ("Nobody whiffs as rarely as Tovemarr", "whiffs", "less"),
        ("No hitter walks as little as Kolmbulo", "walks", "less"),
        ("Vradosu used to swing at everything; now he takes more", "takes", "more"),
        ("Nystvall used to whiff less, but now he whiffs more", "whiffs", "more"),
    ],
)
def test_a_degree_that_is_taken_back_is_not_the_one_that_is_said(sentence, event, direction):
    told = asked(sentence)
    assert told.choices, told.said
    assert {one.direction for one in told.choices if one.event == event} == {direction}


@pytest.mark.parametrize(
    "sentence",
    [
        "Prior to June, Ekkvall walked more than he has since",
        "Until June Izeirol whiffed more than he has since",
        "Up to June 1 Tovemarr chased more than after",
        "Nystvall struck out more prior to June 1 than afterwards",
        "Through May Kolmbulo hit it harder than since",
    ],
)
def test_until_a_day_more_than_since_is_less_since(sentence):
    told = asked(sentence)
    change = {(one.since, one.direction) for one in told.choices if one.kind == "more"}
    assert change == {("2031-06-01", "less")}, told.choices


@pytest.mark.parametrize(
    "sentence",
    [
        "You can count on one hand the guys who hit it hard more often than Kvalvall",
        "Only a handful of hitters hit it hard more often than Kvalvall",
        "Few guys hit it hard more often than Kvalvall",
        "Kvalvall hits it hard more than anyone, guy never swings",
        "Kvalvall hits it hard more than the league, and he never walks",
    ],
)
def test_that_few_do_it_more_turns_nothing_round(sentence):
    told = asked(sentence)
    assert told.choices
    assert {one.direction for one in told.choices if one.event == "hard" and one.kind != "top"} == {"more"}


@pytest.mark.parametrize(
    ("sentence", "event", "direction"),
    [
        ("Kurobane, the rest of the league whiffs more than he does", "whiffs", "less"),
        ("Ekkvall? The rest of the league walks less than he does.", "walks", "more"),
        ("Izeirol: the rest of the league hits it harder than her", "hard", "less"),
        ("Stengarth, everybody chases less than he does", "swings", "more"),
        ("Tovemarr, anyone makes more contact than she does", "contact", "less"),
        ("Nystvall: others foul off more pitches than he does", "fouls", "less"),
        ("Ekkvall, most hitters strike out more than him", "strikeouts", "less"),
    ],
)
def test_others_who_do_it_more_than_he_does(sentence, event, direction):
    told = asked(sentence)
    assert told.choices, told.said
    assert {one.direction for one in told.choices if one.event == event} == {direction}


def test_not_only_denies_nothing():
    told = asked("Ekkvall doesn't just whiff more than the league, he leads it")
    assert told.choices[0].direction == "more"
    assert not [one for one in told.choices if one.kind == "above" and one.direction == "less"]


@pytest.mark.parametrize(
    "sentence",
    [
        "Tavivar lays off the curve better than most",
        "Ekkvall lays off sliders better than the league",
        "Does Nystvall lay off breaking balls better than most hitters?",
        "Stengarth lays off high fastballs better than the league",
        "Kolmbulo lays off changeups better than anyone",
    ],
)
def test_laying_off_better_is_first_offered_as_chasing_less(sentence):
    told = asked(sentence)
    assert told.choices[0].direction == "less" or told.choices[0].event == "takes"
