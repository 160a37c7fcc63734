"""Claims: verdicts, records, who is meant, sentences, and what would change the verdict."""

import json
import re
from functools import partial

import numpy as np
import pandas as pd
import pytest
from scipy import stats

import hitlab
from hitlab import (
    Counts,
    check_above,
    check_ahead,
    check_leads,
    check_more,
    check_near,
    check_split,
    check_top,
    demo_season,
    ranks,
    shrink,
    tally,
)
from hitlab.claims.verdicts import fewest, first_enough, verdict_on
from hitlab.errors import ClaimError, CountsError, HitlabWarning, UnknownHitterError
from hitlab.estimates import LeagueLaw
from hitlab.league import make_season
from hitlab.pitches import storing


def test_a_saved_table_is_opened_once_for_a_claim(monkeypatch):
    opened, open_it = [], storing.open_checked
    monkeypatch.setattr(
        storing, "open_checked", lambda path, trust: opened.append(path) or open_it(path, trust)
    )
    assert check_leads(demo_season()).source == "the demo season, an invented league"
    assert len(opened) == 1
    check_above(demo_season(), "Nadia Izezno", 0.16, when="pitch_kind=breaking", since="May 15")
    assert len(opened) == 2


@pytest.fixture
def lines():
    return pd.DataFrame(
        {
            "hitter": ["Ada Yarl", "Ben Drox", "Cy Plome", "Dot Zelm", "Eve Skarn"],
            "pitches": [900, 820, 700, 640, 60],
            "swings": [422, 400, 330, 300, 25],
            "whiffs": [84, 90, 80, 70, 24],
            "fouls": [160, 150, 120, 110, 0],
            "contact": [338, 310, 250, 230, 1],
            "in_play": [178, 160, 130, 120, 1],
            "hard": [97, 60, 45, 30, 1],
        }
    )


def _split(lines, hitter="Ada Yarl", **options):
    inside = lines.assign(**{name: lines[name] // 4 for name in lines.columns[1:]})
    inside.loc[0, "hard"] = 35
    return check_split(
        Counts.from_table(lines),
        hitter,
        inside=Counts.from_table(inside),
        situation="against breaking balls",
        **options,
    )


def test_both_bounds_of_the_verdict_are_included():
    assert [verdict_on(chance, 0.9, 0.1) for chance in (0.9, 0.8999, 0.1001, 0.1)] == [
        "holds",
        "open",
        "open",
        "does not hold",
    ]


def test_sentences_of_a_worked_table(lines):
    leads = check_leads(lines, about="record")
    assert leads.verdict == "holds"
    assert leads.chance is None
    assert leads.say_in_full == (
        "Ada Yarl has the highest rate of hard-hit balls per swing so far: .230, 97 in 422 swings, "
        "among the 4 hitters with at least 100 swings."
    )
    above = check_above(lines, "Ben Drox", 0.16)
    assert above.verdict == "open"
    assert above.say_in_full == (
        "Ben Drox's true rate of hard-hit balls per swing is more likely not above .160, "
        "judging by 60 in 400 swings: the chance that it is above .160 is 29 %."
    )
    ahead = check_ahead(lines, "Ben Drox", "Cy Plome", about="record")
    assert ahead.say_in_full == (
        "Ben Drox's observed rate of hard-hit balls per swing is above Cy Plome's: 60 in 400 swings against "
        "45 in 330 swings."
    )


@pytest.mark.slow
def test_one_hard_ball_in_25_swings_with_24_misses_leads_per_ball_in_play_only(lines):
    per_ball = check_leads(lines, per="in_play", minimum=1, about="record")
    assert per_ball.numbers["hitter"] == "Eve Skarn"
    assert check_leads(lines, minimum=1, about="record").numbers["hitter"] == "Ada Yarl"
    assert check_leads(lines, "Eve Skarn", minimum=1).verdict == "does not hold"
    assert check_above(lines, "Eve Skarn", 0.16).became_words == (
        "Eve Skarn saw 60 pitches and swung at 25: 24 whiffs, 0 fouls, 1 ball in play, 1 hard-hit ball"
    )


def test_chances_of_values_are_the_posterior_ones(lines):
    posterior = shrink(lines, "hard", "swings").posterior
    laws = stats.beta(posterior.a[:, 1], posterior.b[:, 1])
    expected = posterior.weights @ laws.sf(0.16)
    assert check_above(lines, "Ben Drox", 0.16).chance == pytest.approx(expected, abs=1e-10)
    one, other = check_ahead(lines, "Ben Drox", "Cy Plome"), check_ahead(lines, "Cy Plome", "Ben Drox")
    assert one.chance + other.chance == pytest.approx(1)


def test_what_would_change_a_verdict_does(lines):
    posterior = shrink(lines, "hard", "swings").posterior
    w, a, b = posterior.weights, posterior.a, posterior.b
    fewer = int(re.match(r"(\d+) fewer", check_above(lines, "Ada Yarl", 0.16).would_change)[1])
    assert w @ stats.beta(a[:, 0] - fewer, b[:, 0] + fewer).sf(0.16) < 0.9
    assert w @ stats.beta(a[:, 0] - fewer + 1, b[:, 0] + fewer - 1).sf(0.16) >= 0.9
    words = check_above(lines, "Ben Drox", 0.16).would_change
    more = int(re.match(r"about ([\d,]+) more", words)[1].replace(",", ""))
    mean = w @ (a[:, 1] / (a[:, 1] + b[:, 1]))

    def chance_after(swings):
        return w @ stats.beta(a[:, 1] + swings * mean, b[:, 1] + swings * (1 - mean)).sf(0.16)

    # The number is rounded up to hundreds and searched to 2 %.
    assert chance_after(more) <= 0.1 < chance_after(more - 100 - 0.02 * more)


def test_what_would_change_a_rate_near_a_value_is_a_record_in_numbers(lines):
    posterior = shrink(lines, "hard", "swings").posterior
    w, a, b = posterior.weights, posterior.a[:, 0], posterior.b[:, 0]

    def chance(more, value, within):
        law = stats.beta(a + more, b - more)
        return w @ (law.cdf(value + within) - law.cdf(value - within))

    def changes(claim, found):
        fewer_or_more = re.fullmatch(found, claim.would_change)
        assert fewer_or_more, claim.would_change
        assert claim.chance == pytest.approx(chance(0, claim.numbers["value"], claim.numbers["within"]))
        return map(int, fewer_or_more.groups())

    rate = float(w @ (a / (a + b)))
    same = "hard-hit balls in the same swings would"
    fewer, more = changes(
        check_near(lines, "Ada Yarl", rate, within=0.06), rf"(\d+) fewer or (\d+) more {same} leave it open"
    )
    for many in (-fewer, more):
        sign = -1 if many < 0 else 1
        assert 0.1 < chance(many, rate, 0.06) < 0.9 <= chance(many - sign, rate, 0.06)
    for value, way in ((rate + 0.15, "more"), (rate - 0.12, "fewer")):
        (many,) = changes(
            check_near(lines, "Ada Yarl", value, within=0.03), rf"(\d+) {way} {same} leave it open"
        )
        sign = 1 if way == "more" else -1
        assert chance(sign * many, value, 0.03) > 0.1 >= chance(sign * (many - 1), value, 0.03)
    closely = check_near(lines, "Ada Yarl", rate, within=0.0005)
    assert closely.verdict == "does not hold"
    assert closely.would_change == f"no other number of {same}: so few tell no rate so closely"
    anything = check_near(lines, "Ada Yarl", 0.5, within=0.5)
    assert anything.would_change == f"no other number of {same}"


def test_a_tie_shares_the_lead_and_is_not_above(lines):
    lines.loc[1, ["swings", "hard"]] = [422, 97]
    tied = check_leads(lines, "Ben Drox", about="record")
    assert tied.verdict == "holds"
    assert "so far, level with Ada Yarl:" in tied.say_in_full
    assert check_ahead(lines, "Ben Drox", "Ada Yarl", about="record").verdict == "does not hold"


def test_the_league_is_a_value_by_either_name(lines):
    said = [check_above(lines, "Ada Yarl", name) for name in ("league", "the league", " The League ")]
    assert [claim.chance for claim in said] == [said[0].chance] * 3
    assert {claim.say for claim in said} == {said[0].say}
    assert "than the rest of the league" in said[0].say


def test_a_width_that_leaves_the_rates_is_named_with_its_value(lines):
    with pytest.raises(ClaimError, match=r"within=0\.3: that far on either side of \.200 there is no rate"):
        check_near(lines, "Ada Yarl", "one in five", within="30%")


def test_an_earlier_period_of_counts_goes_with_no_pitch_table():
    with pytest.raises(ClaimError, match="before= goes with counts of the later period"):
        check_more(demo_season(), "Nadia Izezno", before=tally(demo_season()))


def test_a_leader_of_few_hears_what_few_cannot_tell():
    """From 60 hitters on the table tells a tail; who is not first is not understated by one."""
    rng = np.random.default_rng(3)
    league = pd.DataFrame({"hitter": [f"hitter {i}" for i in range(60)], "swings": 300})
    league["hard"] = rng.binomial(300, rng.beta(27, 165, 60))
    few = league.iloc[:59]
    by_rate = few.sort_values("hard", ascending=False)["hitter"].tolist()

    def told(table, *who, **options):
        return any("so few hardly tell whether" in note for note in check_leads(table, *who, **options).notes)

    assert told(few)
    assert told(few, by_rate[0])
    assert told(few, direction="less")
    assert not told(few, by_rate[1])
    assert not told(few, about="record")
    assert not told(league)


def test_minimum_is_a_quarter_of_the_largest_exposure(lines):
    assert check_leads(lines).numbers["minimum"] == 100  # a quarter of 422, rounded down to tens
    with pytest.raises(ClaimError, match="Eve Skarn has 25 swings, fewer than the minimum of 100"):
        check_leads(lines, "Eve Skarn")


def test_who_is_meant(lines):
    with pytest.raises(UnknownHitterError, match="nobody here is called 'Ada Yar'; the nearest is Ada Yarl"):
        check_leads(lines, "Ada Yar")
    assert check_leads(lines, "ada yarl").numbers["hitter"] == "Ada Yarl"
    twins = lines.assign(hitter_id=["p1", "p2", "p3", "p4", "p5"])
    twins.loc[1, "hitter"] = "Ada Yarl"
    counts = Counts.from_table(twins, by="hitter_id")
    with pytest.raises(UnknownHitterError, match=r"2 hitters are called 'Ada Yarl': .*p1.*p2.*Give the id"):
        check_leads(counts, "Ada Yarl")
    assert check_leads(counts, "p2").numbers["events"] == 60


def test_no_swings_nothing_said(lines):
    lines.loc[4, lines.columns[1:]] = 0
    for check in (
        lambda: check_above(lines, "Eve Skarn", 0.16),
        lambda: check_ahead(lines, "Eve Skarn", "Ben Drox"),
    ):
        with pytest.raises(ClaimError, match="Eve Skarn has no swings here"):
            check()


def test_much_unmeasured_contact_leaves_every_claim_open(lines):
    unmeasured = lines.assign(unmeasured=[20, 2, 2, 2, 0])
    for claim in (
        check_leads(unmeasured),
        check_above(unmeasured, "Ada Yarl", 0.16),
        check_ahead(unmeasured, "Ada Yarl", "Dot Zelm"),
    ):
        assert claim.verdict == "open"
        assert claim.would_change == "measuring the contact whose hardness is unknown"
        assert claim.notes[0].startswith("hardness is unknown for 11 % of the contact")


def test_a_record_with_unknown_balls_is_settled_by_its_bounds(lines):
    unmeasured = lines.assign(unmeasured=[0, 60, 0, 0, 0])  # 60 in 400 may be 120 in 400
    assert check_leads(unmeasured, "Ada Yarl", about="record").verdict == "open"
    assert check_above(unmeasured, "Ben Drox", 0.16, about="record").verdict == "open"
    assert check_above(unmeasured, "Ben Drox", 0.30, about="record").verdict == "does not hold"
    assert check_above(unmeasured, "Ben Drox", 0.14, about="record").verdict == "holds"


@pytest.mark.slow
def test_every_kind_is_json_and_escapes_html(lines):
    lines.loc[0, "hitter"] = "Ada <b>"
    for about in ("underlying", "record"):
        for claim in (
            check_leads(lines, "Ada <b>", about=about),
            check_top(lines, "Ada <b>", top=2, about=about),
            check_above(lines, "Ada <b>", 0.16, about=about),
            check_ahead(lines, "Ada <b>", "Ben Drox", about=about),
            _split(lines, "Ada <b>", about=about),
        ):
            assert json.loads(json.dumps(claim.to_dict(), allow_nan=False))["verdict"] == claim.verdict
            assert claim.verdict == "holds"  # 35 in 105 against 62 in 317 is enough for a split, too
            assert "<b>" not in claim._repr_html_()
            assert "Ada &lt;b&gt;" in claim._repr_html_()


def test_a_record_with_unmeasured_balls_is_said_as_a_best_case():
    counts = tally(demo_season())
    assert counts.column("unmeasured")[counts.labels.index("Hana Falandra")] > 0
    claim = check_leads(counts, "Hana Falandra", about="record", minimum=150)
    assert "is at best number 7 on the list so far" in claim.say_in_full
    assert claim.source == "the demo season, an invented league"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("check", "others"),
    [
        (check_leads, ()),
        (partial(check_top, top=2), ()),
        (check_above, (0.16,)),
        (check_ahead, ("Ben Drox",)),
    ],
)
def test_what_is_known_of_the_league_is_taken_into_account_and_said(lines, check, others):
    law = LeagueLaw(0.14, 0.015, 150)
    alone, told = (check(lines, "Ada Yarl", *others, prior=prior) for prior in (None, law))
    assert told.numbers["shrunk"] == shrink(lines, "hard", "swings", prior=law).data["shrunk"].iloc[0]
    assert told.numbers["shrunk"] < alone.numbers["shrunk"]  # 97 of 422 is far above what is usual there
    assert "a mean of .140 and a spread of .015, as sure as 150 true rates make it" in told.assumptions[1]
    assert "what is known of the league" not in alone.assumptions[1]
    again = check(lines, "Ada Yarl", *others, prior=(0.14, 0.015, 150))
    assert again.to_dict() == told.to_dict()


def test_a_league_of_another_kind_is_noted(lines):
    with pytest.warns(HitlabWarning, match="the stated mean"):
        claim = check_above(lines, "Ada Yarl", 0.16, prior=LeagueLaw(0.4, 0.02, 150))
    assert any(note.startswith("the stated mean of hard-hit balls per swing is .400") for note in claim.notes)


def test_a_rate_that_everybody_shares_is_not_said_to_be_shown_by_the_own_record():
    rng = np.random.default_rng(4)
    swings = np.full(100, 400)
    inside, outside = rng.binomial(swings, 0.20), rng.binomial(swings, 0.12)
    inside[0], outside[0] = 60, 64  # this hitter goes against everybody
    names = [f"h{i:03d}" for i in range(100)]
    whole = pd.DataFrame({"hitter": names, "hard": inside + outside, "swings": 2 * swings})
    part = pd.DataFrame({"hitter": names, "hard": inside, "swings": swings})
    claim = check_split(Counts.from_table(whole), "h000", inside=Counts.from_table(part), situation="at home")
    assert claim.verdict == "holds"
    assert (
        "although the hitter's own record is lower (60 in 400 at home, 64 in 400 otherwise), because"
        in claim.say_in_full
    )
    assert "judging by" not in claim.say_in_full
    usual = check_split(Counts.from_table(whole), "h001", inside=Counts.from_table(part), situation="at home")
    assert "judging by" in usual.say_in_full


@pytest.mark.slow
def test_a_link_with_exposure_that_is_used_is_said():
    rng = np.random.default_rng(2)
    swings = np.rint(np.exp(rng.uniform(np.log(30), np.log(900), 200))).astype(int)
    rate = 1 / (1 + np.exp(2.6 - 0.35 * (np.log(swings) - 5)))
    table = pd.DataFrame({"hitter": [f"h{i:03d}" for i in range(200)], "swings": swings})
    table["hard"] = rng.binomial(swings, rate)
    claim = check_leads(table)
    assert any(one.startswith("the mean follows the number of swings") for one in claim.assumptions)
    level = check_leads(table.assign(hard=rng.binomial(swings, 0.14)))
    assert not any("follows" in one for one in level.assumptions)


def test_who_is_likelier_is_not_called_the_next_likeliest(lines):
    claim = check_leads(lines.assign(hard=[97, 92, 45, 30, 1]), "Ben Drox", holds_at=0.99, fails_at=0.001)
    assert claim.verdict == "open"
    ahead = claim.evidence.set_index("hitter")["chance_best"]
    assert ahead["Ben Drox"] < ahead["Ada Yarl"] or "the next likeliest is" in claim.say_in_full
    other = check_leads(lines.assign(hard=[97, 92, 45, 30, 1]), "Ada Yarl", holds_at=0.99, fails_at=0.001)
    said = {claim.say_in_full.rpartition("; ")[2], other.say_in_full.rpartition("; ")[2]}
    assert len([one for one in said if one.startswith("at least as likely is")]) == 1
    assert len([one for one in said if one.startswith("the next likeliest is")]) == 1


def test_what_is_no_law_and_no_table_of_counts_is_named(lines):
    fit = shrink(lines, "hard", "swings")
    for wrong, mend in ((fit, "give its .law"), (0.14, "give LeagueLaw")):
        with pytest.raises(CountsError, match=mend):
            shrink(lines, "hard", "swings", prior=wrong)
    with pytest.raises(CountsError, match="ranks takes what shrink returns"):
        ranks(lines)


def test_what_is_neither_a_rate_nor_a_question_is_refused(lines):
    for check in (partial(check_leads, lines), partial(check_above, lines, "Ben Drox", 0.16)):
        with pytest.raises(ClaimError, match="about='Record': give 'underlying' or 'record'"):
            check(about="Record")
    with pytest.raises(ClaimError, match="value='16': give a rate between 0 and 1"):
        check_above(lines, "Ben Drox", "16")
    with pytest.raises(ClaimError, match="minimum='150': give a whole number"):
        check_leads(lines, minimum="150")  # type: ignore[arg-type]
    with pytest.raises(CountsError, match="hard per hard is no rate: the two are one"):
        check_leads(lines, per="hard")
    with pytest.raises(
        CountsError,
        match="whiffs per contact is no rate: not all whiffs are contact; it has a rate",
    ):
        check_leads(lines, event="whiffs", per="contact")


def test_a_sentence_that_denies_says_of_what_the_chance_is(lines):
    denied, told = check_above(lines, "Ben Drox", 0.30), check_above(lines, "Ben Drox", 0.05)
    assert denied.say_in_full.endswith(": the chance that it is above .300 is less than 1 %.")
    assert told.say_in_full.endswith(": the chance is more than 99 %.")
    behind = check_leads(lines, "Eve Skarn", minimum=1)
    assert "most likely does not have" in behind.say_in_full
    assert ": the chance that it is so is " in behind.say_in_full


def test_a_club_is_found_where_names_alone_tell_the_hitters():
    """The tally keeps a hitter's club beside his id; without one it is looked for by the name."""
    pitches = pd.read_parquet(demo_season()).drop(columns="hitter_id")
    alone = ~pitches["hitter"].isin(["Noor Fencombe"])  # two hitters of one name, in two clubs
    asked = {"club": "Lanterns", "event": "whiffs", "minimum": 150}
    without = check_leads(pitches[alone], **asked)
    with_ids = check_leads(pd.read_parquet(demo_season())[alone], **asked)
    assert without.verdict == with_ids.verdict
    assert without.numbers["hitter"] == with_ids.numbers["hitter"]
    assert without.numbers["compared"] == with_ids.numbers["compared"]
    with pytest.raises(ClaimError, match="no column club"):
        check_leads(pitches.drop(columns="club"), **asked)


@pytest.mark.parametrize("most", [1, 2, 9, 400, 30_000])
def test_a_number_found_by_a_quicker_answer_is_the_number(most):
    """Wherever the quicker answer leads, right or wrong; where it is right, less is asked."""

    def found(wanted, led=None):
        asked: list[int] = []

        def enough(many):
            asked.append(many)
            return many >= wanted

        near = None if led is None else lambda many: many >= led
        return fewest(enough, 1, most, near=near), len(asked)

    for wanted in sorted({1, 2, 3, 7, 8, 20, most // 3, most - 1, most, most + 1}):
        plain, asked = found(wanted)
        for led in (1, 2, wanted, round(wanted * 1.05), 3 * wanted, most, most + 1):
            assert found(wanted, led)[0] == plain
        if 20 <= wanted <= most // 3:
            assert found(wanted, wanted)[1] <= asked / 2 + 1
    assert fewest(lambda many: True, 5, 4) is None


@pytest.mark.parametrize("many", [1, 2, 3, 50, 385])
def test_the_first_that_is_enough_is_found_wherever_it_is_looked_for_first(many):
    numbers = [25 + 3 * place for place in range(many)]
    # The first of them is known not to be enough; past the last none is.
    for wanted in {*numbers[1:], numbers[-1] + 1}:
        right = next((one for one in numbers[1:] if one >= wanted), numbers[-1])
        for guess in (0, 25, wanted - 3, wanted, wanted + 2, 3 * wanted):
            asked: list[int] = []

            def enough(number, wanted=wanted, asked=asked):
                asked.append(number)
                return number >= wanted

            assert first_enough(enough, numbers, guess) == right
            assert len(set(asked)) == len(asked) <= (2 if guess == wanted else 2 * many.bit_length())


def test_one_alone_is_not_told_to_give_a_smaller_top():
    alone = pd.DataFrame({"hitter": ["A"], "swings": [100], "hard": [9]})
    with pytest.raises(ClaimError, match=r"no other hitter here to compare with; lower minimum= or give"):
        check_leads(alone, "A")


@pytest.mark.parametrize("hitters", [24, 120])
def test_names_are_put_together_as_often_however_many_are_compared(hitters: int, monkeypatch) -> None:
    """Each time all of them are looked at: asked for once a hitter, it grew with their square."""
    season = make_season(hitters=hitters, clubs=2, pitches=60 * hitters, seed=3).pitches
    looks, told = [], Counts.labels.fget

    def counted(self: Counts) -> list[str]:
        looks.append(len(self.data))
        return told(self)

    monkeypatch.setattr(Counts, "labels", property(counted))
    check_leads(season, event="whiffs", minimum=1)
    assert len(looks) <= 6, looks


def test_whoever_has_one_part_of_a_split_alone_is_told_which():
    pitches = pd.DataFrame(
        {
            "hitter": ["Ada Yarl"] * 6 + ["Ben Drox"] * 6,
            "outcome": ["whiff", "foul"] * 6,
            "pitch_kind": ["slider"] * 9 + ["sinker"] * 3,
        }
    )
    asked = {"when": "pitch_kind=slider", "event": "whiffs"}
    with pytest.raises(ClaimError, match="Ada Yarl has all 6 swings against sliders and none otherwise, so"):
        check_split(pitches, "Ada Yarl", **asked)
    with pytest.raises(ClaimError, match="Ada Yarl has all 6 swings otherwise and none against sinkers, so"):
        check_split(pitches, "Ada Yarl", when="pitch_kind=sinker", event="whiffs")


def test_a_split_of_pitchers_is_compared_with_the_pitchers_rest():
    claim = check_split(hitlab.demo_season(), "Wexhurst", when="hitter_side=left", subject="pitcher")
    assert any(note.startswith("compared with the pitcher's own rest") for note in claim.notes)


def test_a_club_is_called_by_its_name_however_it_was_asked_for():
    claim = check_leads(hitlab.demo_season(), "Izezno", club="lanterns")
    assert "anyone else of the Saltmere Lanterns" in claim.say
    assert claim.question.ask(hitlab.demo_season()).say == claim.say


def test_what_claims_of_that_kind_were_right_is_not_told_of_a_chance_that_is_not_given():
    season = pd.read_parquet(hitlab.demo_season())
    some = np.random.default_rng(1).random(len(season)) < 0.4
    claim = check_leads(season.assign(exit_mph=season["exit_mph"].mask(some)))
    assert claim.verdict_words == "Unknown"
    assert not any("came true" in note for note in claim.notes)
    assert any("came true" in note for note in check_leads(season).notes)


def test_large_counts_and_shares_are_shown_as_people_read_them():
    claim = hitlab.check_together(hitlab.demo_season(), "whiffs per swings", "in_play per contact")
    shown = claim.evidence_for_people()
    with pytest.raises(CountsError, match="'whiffs' is no rate; write it as \"hard per swings\""):
        hitlab.check_together(hitlab.demo_season(), "whiffs", "in_play per contact")
    assert shown["exposure"].tolist() == ["48,162", "35,811"]
    assert shown["true spread"].tolist() == [".032", ".030"]
    assert shown["share that is true"].tolist() == ["68 %", "52 %"]
