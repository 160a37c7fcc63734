"""One number for one split, whichever way it is asked; and verdicts that are false as often as stated."""

import json
from argparse import Namespace

import narwhals as nw
import numpy as np
import pandas as pd
import pytest

from hitlab import Counts, check_more, check_split, situation, tally
from hitlab.counting.looks import Looks
from hitlab.evidence.cards import facts_of
from hitlab.league import make_season
from hitlab.questions.question import Question
from hitlab.splits import split_law
from hitlab.splits.beside import pitched_for
from hitlab.splits.many_splits import all_splits
from hitlab.splits.split_law import FourCounts, fit_laws
from hitlab.splits.usual import usual_situations
from tests.benchmarks.bench_split_verdicts import SHAPES, apart, verdicts

BREAKING = "pitch_kind=breaking"


@pytest.fixture(scope="module")
def season():
    return make_season(hitters=18, clubs=2, pitches=9_000, seed=11).pitches


@pytest.fixture(scope="module")
def who(season):
    return str(season["hitter"].iloc[0])


def _row(found, words, who):
    table = found.table()
    return table[(table["situation"] == words) & (table["hitter"] == who)].iloc[0]


def test_a_table_of_pitchers_without_games_has_splits(season, who):
    claim = check_split(season.drop(columns="game"), who, when="strikes=2", event="whiffs")
    assert claim.chance is not None
    assert any(note.startswith("the pitching and parks that hitters faced") for note in claim.notes)


def test_a_record_with_unmeasured_balls_is_shown_with_their_number():
    whole = pd.DataFrame({"hitter": ["Ash", "Elm", "Yew"], "swings": [400, 380, 350], "hard": [104, 70, 63]})
    whole = whole.assign(contact=[300, 280, 250], in_play=[200, 180, 150], unmeasured=[10, 0, 4])
    inside = whole.assign(swings=100, hard=20, contact=80, in_play=60, unmeasured=[6, 0, 4])
    rows = check_split(whole, "Ash", inside=inside, situation="with two strikes").rows()
    assert "with two strikes: 20 of 100 (6 unmeasured), " in rows.beneath[1]
    assert "otherwise: 84 of 300 (4 unmeasured), " in rows.beneath[2]
    rows = check_split(whole, "Elm", inside=inside, situation="with two strikes").rows()
    assert not any("unmeasured" in line for line in rows.beneath)


def test_a_pitcher_is_no_hitter_and_everybody_no_club():
    team = pd.DataFrame({"swings": [400, 380, 350], "hard": [104, 70, 63]})
    there, said = team.assign(swings=[110, 120, 90], hard=[16, 20, 12]), {}
    for subject in ("pitcher", "club"):
        counts, inside = (table.assign(**{subject: ["Ash", "Elm", "Yew"]}) for table in (team, there))
        for about in ("underlying", "record"):
            asked = {"subject": subject, "about": about}
            claim = check_split(counts, "Ash", inside=inside, situation="with two strikes", **asked)
            said[subject, about] = claim.tempting
        changed = check_more(counts, "Ash", before=inside, subject=subject)
        assert f"different {subject}.”" in changed.tempting
    assert set(said.values()) == {
        "“Hitters facing Ash are different hitters with two strikes.”",
        "“Ash hitters are different hitters with two strikes.”",
    }


@pytest.mark.slow
def test_one_split_has_one_number(season, who):
    looks, words = Looks(), situation(BREAKING).words
    rest = check_split(season, who, when=BREAKING, event="whiffs", looks=looks)
    usual = check_split(season, who, when=BREAKING, event="whiffs", against="usual", looks=looks)
    logged = looks.table().set_index("against")["chance_above"]
    assert logged["rest"] == pytest.approx(rest.chance)
    assert logged["usual"] == pytest.approx(usual.chance)
    assert looks.table()["p_value"].isna().tolist() == [False, True]
    whole = all_splits(season, event="whiffs", against="rest", looks=looks)
    for found in (
        whole,
        all_splits(season, {words: nw.col("pitch_kind").is_in(["slider", "curveball"])}, "whiffs"),
        all_splits(season, [BREAKING, "balls=3"], "whiffs"),
    ):
        row = _row(found, words, who)
        assert row["chance_above_rest"] == pytest.approx(rest.chance, abs=1e-9)
        assert row["chance_above_usual"] == pytest.approx(usual.chance, abs=1e-9)
        assert row["log_odds_ratio"] == pytest.approx(rest.numbers["log_odds_ratio"], abs=1e-9)
    again = looks.table()
    assert looks.number == len(whole.data) + 1, "the same split by a claim and in the table is one look"
    mine = again[(again["situation"] == words) & (again["against"] == "rest")]
    assert np.isclose(mine["chance_above"], rest.chance, atol=1e-9).any()


@pytest.mark.slow
@pytest.mark.parametrize(
    "asked",
    [
        {"when": "speed_mph>=90"},  # none of the usual ones
        {"when": "after a whiff", "event": "whiffs"},
        {"when": ("strikes=2", "balls=3"), "event": "in_play"},
        {"when": BREAKING, "event": "hard", "per": "in_play"},  # hardness is not always known
    ],
)
def test_other_situations_and_rates_have_one_number_too(season, who, asked):
    terms = (asked["when"],) if isinstance(asked["when"], str) else asked["when"]
    claim = check_split(season, who, **asked)
    found = all_splits(season, [terms], asked.get("event", "hard"), asked.get("per", "swings"))
    row = _row(found, situation(*terms).words, who)
    assert row["chance_above_rest"] == pytest.approx(claim.chance, abs=1e-9)


@pytest.mark.slow
def test_days_and_pitchers_have_one_number_too(season):
    who, pitcher = season["hitter"].iloc[0], season["pitcher"].iloc[0]
    since = sorted(season["date"].astype(str).unique())[8]
    claim = check_split(season, who, when=BREAKING, since=since)
    late = season[season["date"].astype(str) >= since]
    row = _row(all_splits(late, [BREAKING]), situation(BREAKING).words, who)
    assert row["chance_above_rest"] == pytest.approx(claim.chance, abs=1e-9)
    claim = check_split(season, pitcher, when="hitter_side=left", subject="pitcher", event="whiffs")
    table = all_splits(season, ["hitter_side=left"], "whiffs", by="pitcher").table()
    row = table[table["pitcher"] == pitcher].iloc[0]
    assert row["chance_above_rest"] == pytest.approx(claim.chance, abs=1e-9)


@pytest.mark.slow
def test_a_restricted_count_is_fitted_beside_the_usual_situations(season, who):
    claim = check_split(season, who, when=BREAKING, event="hard at strikes=2", per="swings at strikes=2")
    assert any("usual situations of the same pitches" in note for note in claim.notes)
    # The same pitches, chosen beforehand.
    late = season[season["strikes"] == 2]
    row = _row(all_splits(late, [BREAKING]), situation(BREAKING).words, who)
    assert (row["inside_events"], row["rest_all"]) == (
        claim.numbers["events"],
        claim.numbers["rest_exposure"],
    )
    # Those who swung at nothing else are in neither; the two lists of usual situations differ by one alone.
    assert row["chance_above_rest"] == pytest.approx(claim.chance, abs=0.03)


@pytest.mark.slow
def test_the_usual_situations_are_counted_as_a_tally_counts_them(season):
    from hitlab.splits.one_split import four_counts, split_table

    whole = tally(season)
    _, counted = pitched_for(season, whole, "hard", "swings", {}).splits({})
    widest = usual_situations(season.columns, widest=True)
    assert len(counted) == len(widest) == 16
    for ours, one in list(zip(counted, widest, strict=True))[::4]:
        theirs = four_counts(split_table(whole, tally(season, where=one), "hard", "swings"))
        for side in ("events", "exposure", "rest_events", "rest_exposure"):
            assert (getattr(ours, side) == getattr(theirs, side)).all(), one.words


@pytest.mark.slow
def test_an_answer_says_what_told_how_much_hitters_differ(season, who):
    claim = check_split(season, who, when=BREAKING)
    assert "how much hitters differ is told by 16 usual situations of the same pitches, too" in claim.notes
    counts, part = tally(season), tally(season, where=situation(BREAKING))
    alone = check_split(counts, who, inside=part, situation="against breaking balls")
    assert any(note.startswith("from counts alone, this one situation tells") for note in alone.notes)
    assert any("that it does nothing to anybody is one of them" in one for one in claim.assumptions)


@pytest.mark.slow
def test_a_card_has_the_number_of_the_claim(season, who):
    claim = check_split(season, who, when=BREAKING)
    told = json.loads(json.dumps(facts_of(claim, claim.source, "", "").question))
    assert Question.from_dict(told).ask(season).chance == claim.chance


def _drawn(seed, situations=4, shift=0.0, spread=0.0, hitters=60):
    return apart(np.random.default_rng(seed), hitters, shift, np.full(situations, spread), "normal")


@pytest.mark.slow
def test_the_same_counts_beside_are_told_once_and_whatever_else_is_asked_changes_nothing():
    drawn = _drawn(3, spread=0.2)[0]
    one, twice = (fit_laws(drawn[:1], beside=beside)[0] for beside in (drawn, [*drawn, *drawn]))
    np.testing.assert_array_equal(one.above_rest, twice.above_rest)
    np.testing.assert_array_equal(one.above_rest, fit_laws(drawn)[0].above_rest)
    other = fit_laws([drawn[2], drawn[0]], beside=drawn)[1]
    np.testing.assert_array_equal(one.above_rest, other.above_rest)
    assert np.abs(one.above_rest - fit_laws(drawn[:1])[0].above_rest).max() > 0.001


def test_what_a_situation_tells_is_the_same_on_either_grid():
    shared = split_law._Shared.of(None, split_law._SPLIT)
    for seed, spread in ((1, 0.0), (2, 0.3)):
        [counts] = _drawn(seed, 1, 0.1, spread)[0]
        rough, fine = (
            shared.told(split_law._from_rest(counts, grid)) for grid in (split_law._ROUGH, split_law._FINE)
        )
        # A tenth of a unit of log evidence, between what each finds likeliest and anything not far from it.
        rough, fine = rough - rough.max(), fine - fine.max()
        near = fine > -5
        np.testing.assert_allclose(rough[near], fine[near], atol=0.1)


@pytest.mark.slow
def test_where_the_situation_does_nothing_nobody_is_told_from_his_rest():
    for seed in range(3):
        drawn = _drawn(seed)[0]
        for law in (fit_laws(drawn[:1])[0], fit_laws(drawn)[0]):
            assert np.abs(law.above_rest - 0.5).max() < 0.4
            assert np.abs(law.above_usual - 0.5).max() < 0.4


def test_a_built_in_effect_is_found():
    drawn, own, *_ = _drawn(5, 1, shift=0.4, spread=0.0, hitters=150)
    assert (fit_laws(drawn)[0].above_rest >= 0.9).mean() > 0.9
    drawn, own, *_ = _drawn(6, 1, shift=0.0, spread=0.5, hitters=150)
    law = fit_laws(drawn)[0]
    called = (law.above_rest >= 0.9) | (law.above_rest <= 0.1)
    assert called.mean() > 0.2
    assert np.mean((law.above_rest > 0.5)[called] == (own > 0)[called]) > 0.9


def test_the_shapes_of_the_benchmark_have_mean_nothing_and_spread_one():
    for name, draw in SHAPES.items():
        drawn = draw(np.random.default_rng(1), (400_000,))
        assert drawn.mean() == pytest.approx(0, abs=0.01), name
        # A t law with 3 degrees of freedom has no fourth moment: its spread is learned slowly.
        assert drawn.std() == pytest.approx(1, abs=0.1 if name == "long tails" else 0.01), name


@pytest.mark.slow
@pytest.mark.parametrize("hitters", [60, 150])
@pytest.mark.parametrize("beside", [1, 8])
def test_verdicts_are_false_as_often_as_stated(hitters, beside):
    """Shifts 0 and .25, spreads .06, .12, .25: the false share lies within .03 of the stated one.

    Allowed beside that are two standard errors: the larger one of that between leagues and the binomial one,
    which does not vanish where none is false. A share of fewer than one verdict a thousand is none: there the
    bound is that there are no more.
    """
    leagues = 24 if hitters == 60 else 12
    asked = Namespace(beside=beside, others=None, swings=False, shape="normal", rate=0.14)
    for shift in (0.0, 0.25):
        for spread in (0.06, 0.12, 0.25):
            for comparison, (rows, known) in verdicts(leagues, hitters, shift, spread, asked).items():
                called, stated, false = np.array(rows, dtype=float).T
                n = called.sum()
                if n < 3 * hitters * leagues / 1000:
                    continue
                off = false - stated
                between = np.sqrt(((off - off.sum() / n * called) ** 2).sum()) / n
                share = stated.sum() / n
                error = max(between, np.sqrt(share * (1 - share) / n))
                assert abs(off.sum()) / n < 0.03 + 2 * error, (shift, spread, comparison)
                if spread == 0.25:  # and what there is, is found
                    assert n - false.sum() > 0.5 * sum(known), (shift, comparison)


def test_from_counts_alone_a_club_is_enough():
    table = Counts.from_table(pd.DataFrame({"hitter": ["A", "B"], "swings": [90, 80], "hard": [9, 12]}))
    inside = Counts.from_table(pd.DataFrame({"hitter": ["A", "B"], "swings": [30, 20], "hard": [4, 2]}))
    claim = check_split(table, "A", inside=inside)
    assert 0.1 < claim.chance < 0.9
    [law] = fit_laws([FourCounts(*(np.array(c) for c in ([4, 2], [30, 20], [5, 10], [60, 60])))])
    assert law.above_rest[0] == pytest.approx(claim.chance)
