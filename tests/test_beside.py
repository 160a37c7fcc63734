"""What is known of the hitters beside the table goes into the claim, its card, and the command line."""

from __future__ import annotations

import json

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.claims.rows import rows_of
from hitlab.cli.commands import run
from hitlab.errors import ClaimError
from hitlab.questions import Question

KINDS = {"bench": 0.08, "starter": 0.16}


def _league(seed: int, hitters: int = 120, spread: float = 0.012) -> pd.DataFrame:
    """Two kinds of hitters whose means differ; every other one is a starter, a tenth have short records."""
    rng = np.random.default_rng(seed)
    role = np.where(np.arange(hitters) % 2, "starter", "bench")
    true = rng.normal([KINDS[one] for one in role], spread).clip(0.01)
    swings = np.where(rng.random(hitters) < 0.3, 30, 400)
    names = [f"hitter {place:03d}" for place in range(hitters)]
    hard = rng.binomial(swings, true)
    return pd.DataFrame({"hitter": names, "role": role, "true": true, "swings": swings, "hard": hard})


def _counts(league: pd.DataFrame) -> pd.DataFrame:
    return league[["hitter", "swings", "hard"]]


def _loss(league: pd.DataFrame, **known: object) -> float:
    """Mean logarithmic loss of "above .12" over the short records, of whom the truth is known."""
    short = league[league["swings"] == 30]
    lost = []
    for row in short.head(5).itertuples():
        claim = hitlab.check_above(_counts(league), row.hitter, 0.12, **known)
        assert claim.chance is not None
        lost.append(-np.log(claim.chance if row.true > 0.12 else 1 - claim.chance))
    return float(np.mean(lost))


@pytest.mark.slow
def test_kinds_that_are_named_make_chances_better():
    """Seen from 30 swings a bench hitter and a starter are nearly alike; their kinds tell them apart."""
    plain, told = [], []
    for seed in range(3):
        league = _league(seed)
        plain.append(_loss(league))
        told.append(_loss(league, groups="role", traits=league[["hitter", "role"]]))
    assert np.mean(told) < 0.4 * np.mean(plain)


def test_kinds_that_differ_are_said_to_tell_something_and_a_column_of_luck_is_not():
    league = _league(1)
    who = league["hitter"].iloc[1]
    told = hitlab.check_above(_counts(league), who, 0.12, groups="role", traits=league)
    assert "role tells something of the rate" in " ".join(told.assumptions)
    assert "about a mean that may follow role" in " ".join(told.assumptions)
    rows = rows_of(told)
    assert rows is not None
    assert "pulled toward what is expected of each" in rows.marks
    chance = np.random.default_rng(3).permutation(league["role"].to_numpy())
    luck = hitlab.check_above(_counts(league), who, 0.12, groups="coin", traits=league.assign(coin=chance))
    assert "coin tells something" not in " ".join(luck.assumptions)


def test_an_earlier_season_tells():
    league = _league(2)
    before = league.assign(hard=(league["true"] * 900).round().astype(int), swings=900)
    short = league[(league["swings"] == 30) & (league["role"] == "starter")]["hitter"].iloc[0]
    alone = hitlab.check_above(_counts(league), short, 0.12)
    told = hitlab.check_above(_counts(league), short, 0.12, earlier=_counts(before))
    assert alone.chance is not None
    assert told.chance is not None
    assert told.chance > 0.95 > alone.chance


@pytest.fixture(scope="module")
def season() -> pd.DataFrame:
    frame = pd.read_parquet(hitlab.demo_season())
    side = frame["hitter_id"].astype(str).str[-1].isin(list("02468"))
    return frame.assign(kind=np.where(side, "even", "odd"))


@pytest.mark.slow
def test_a_column_of_the_pitches_will_do_and_gives_the_same_as_one_beside(season):
    traits = season[["hitter_id", "kind"]].drop_duplicates()
    inside = hitlab.check_above(season, "izezno", 0.16, groups="kind", independent=True)
    beside = hitlab.check_above(
        season.drop(columns="kind"), "izezno", 0.16, groups="kind", traits=traits, independent=True
    )
    assert inside.chance == beside.chance
    assert inside.question.groups == "kind"
    assert not inside.question.traits
    assert beside.question.traits.startswith("a table, ")


def test_a_claim_is_remade_with_the_same_tables_and_with_no_others():
    league = _league(4)
    traits, before = (
        league[["hitter", "role"]],
        league.assign(hard=league["hard"] // 2)[["hitter", "hard", "swings"]],
    )
    who = league["hitter"].iloc[3]
    claim = hitlab.check_above(_counts(league), who, 0.12, groups="role", traits=traits, earlier=[before])
    question = Question.from_dict(json.loads(json.dumps(claim.question.to_dict())))
    again = question.ask(_counts(league), traits=traits, earlier=before)
    assert (again.chance, again.question) == (claim.chance, claim.question)
    with pytest.raises(ClaimError, match=r"was asked with traits= .*; give it again"):
        question.ask(_counts(league), earlier=before)
    with pytest.raises(ClaimError, match=r"was asked with earlier= .* another table"):
        question.ask(_counts(league), traits=traits, earlier=_counts(league.assign(hard=league["hard"] // 3)))


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"groups": "rolle"}, "no column 'rolle' in counts and in traits="),
        ({}, "say by groups= or covariates="),
        ({"covariates": "role"}, r"give a list of columns, such as \['role'\]"),
        ({"covariates": ["role"]}, "role holds no numbers"),
        (
            {"groups": "role", "traits": pd.DataFrame({"player": ["x"], "role": ["y"]})},
            "needs the columns that tell the hitters apart: hitter",
        ),
        (
            {"groups": "role", "traits": pd.DataFrame({"hitter": ["x"], "role": ["y"]})},
            "tells role of nobody",
        ),
        (
            {"groups": "role", "traits": pd.DataFrame({"hitter": ["x", "x"], "role": ["y", "y"]})},
            "traits, row 2: the hitter stands there twice; keep one row a hitter",
        ),
        (
            {"groups": "role", "traits": pd.DataFrame({"hitter": ["x", None], "role": ["y", "y"]})},
            "traits, row 2: it lacks hitter, so nobody knows whose it is; fill it in, or leave the row out",
        ),
        ({"groups": "role", "traits": 7}, "no int"),
        ({"groups": "role", "traits": "nowhere.csv"}, "no such file"),
        ({"groups": "role", "by_exposure": "perhaps"}, "by_exposure='perhaps'"),
    ],
)
def test_what_cannot_be_known_is_refused_by_name(asked, said):
    league = _league(5, 20)
    with pytest.raises(hitlab.errors.HitlabError, match=said):
        hitlab.check_leads(_counts(league), **{"traits": league[["hitter", "role"]], **asked})


def test_two_of_one_name_are_told_apart_by_id_or_not_at_all(season):
    """Two of the demo season's hitters are called Noor Fencombe."""
    named = season[["hitter_id", "hitter"]].drop_duplicates().assign(role="a")
    by_name = named.drop_duplicates("hitter").drop(columns="hitter_id")
    asked = {"groups": "role", "independent": True}
    with pytest.raises(hitlab.errors.HitlabError, match="several hitters are called 'Noor Fencombe'"):
        hitlab.check_above(season, "izezno", 0.16, traits=by_name, **asked)
    with pytest.raises(hitlab.errors.HitlabError, match="tell those of one name apart by hitter_id"):
        hitlab.check_above(season, "izezno", 0.16, traits=named.drop(columns="hitter_id"), **asked)


def test_an_earlier_season_of_pitches_is_refused_where_it_is_this_one_or_judged_otherwise(season):
    with pytest.raises(ClaimError, match="it is the table itself"):
        hitlab.check_above(season, "izezno", 0.16, earlier=season)
    by_eye = season.drop(columns="exit_mph").assign(hard=season["exit_mph"].ge(95))
    with pytest.raises(ClaimError, match="there hard means"):
        hitlab.check_above(season, "izezno", 0.16, earlier=by_eye)
    whiffs = hitlab.check_above(season, "izezno", 0.2, event="whiffs", earlier=by_eye.iloc[:50_000])
    assert "earlier seasons" in " ".join(whiffs.assumptions)


def test_the_season_itself_is_no_earlier_one():
    league = _league(6, 20)
    with pytest.raises(ClaimError, match="it is the table itself"):
        hitlab.check_leads(_counts(league), earlier=_counts(league))


@pytest.mark.parametrize("kind", ["hot", "split", "more", "spot", "response"])
def test_kinds_that_do_not_take_it_name_those_that_do(kind, season):
    options = {"when": ("strikes=2",)} if kind == "split" else {}
    takers = "leave it out, or ask one of these kinds: leads, top, above, near, ahead"
    if kind != "spot":
        with pytest.raises(ClaimError, match=f"is not asked by groups=; {takers}, spot$"):
            Question(kind=kind, who="izezno", groups="club", **options).ask(season)
    with pytest.raises(ClaimError, match=f"is not asked by earlier=; {takers}$"):
        Question(kind=kind, who="izezno", **options).ask(season, earlier=season)


def test_the_league_has_no_kinds(season):
    with pytest.raises(ClaimError, match="the league is everybody together"):
        hitlab.check_above(season, "league", 0.1, groups="kind")


def _bench(seed: int) -> pd.DataFrame:
    """Sixty hitters with thirty plate appearances each, of whom every other one strikes out half as often."""
    rng = np.random.default_rng(seed)
    patient = np.arange(60) % 2 == 1
    shares = np.array([0.3, 0.42, 0.08, 0.01, 0.12, 0.04, 0.002, 0.02, 0.008])
    better = shares + np.array([-0.15, 0.05, 0.05, 0, 0.05, 0, 0, 0, 0])
    ended = np.array([rng.multinomial(30, one) for one in np.where(patient[:, np.newaxis], better, shares)])
    names = ["strikeouts", "other_outs", "walks", "hit_by_pitches", "singles", "doubles", "triples"]
    table = pd.DataFrame(ended, columns=[*names, "home_runs", "reached_on_errors"])
    table.insert(0, "hitter", [f"hitter {place:03d}" for place in range(60)])
    return table.assign(role=np.where(patient, "patient", "free"))


@pytest.mark.slow
def test_kinds_that_are_named_make_the_choice_for_a_spot_better():
    """The truth is that the best is one of the patient: its chance grows, by the logarithmic score."""
    spot, gains = hitlab.game.Spot(-1, 2, "third"), []
    for seed in range(8):
        bench = _bench(seed)
        counts, roles = bench.drop(columns="role"), bench[["hitter", "role"]]
        alone, with_role = (
            hitlab.game.best_for_spot(rates, spot, minimum=0)
            .data.set_index("hitter")["chance_best"][bench["hitter"][bench["role"] == "patient"]]
            .sum()
            for rates in (
                hitlab.game.shrink_outcomes(counts),
                hitlab.game.shrink_outcomes(counts, groups="role", traits=roles),
            )
        )
        gains.append(np.log(with_role / alone))
    # Three standard errors of the benches' mean above no gain at all.
    assert np.mean(gains) > 3 * np.std(gains, ddof=1) / np.sqrt(len(gains))


@pytest.mark.slow
def test_the_hitter_for_the_spot_is_of_a_kind():
    """Thirty plate appearances hardly tell who strikes out; the kind does."""
    spot, bench = hitlab.game.Spot(-1, 2, "third"), _bench(1)
    counts, roles = bench.drop(columns="role"), bench[["hitter", "role"]]
    plain = hitlab.check_spot(counts, spot)
    told = hitlab.check_spot(counts, spot, groups="role", traits=roles)
    assert any(note.startswith("role was found to tell something of: ") for note in told.notes)
    assert "strikeout" in next(note for note in told.notes if note.startswith("role was found"))
    assert "toward a mean that may follow role" in told.assumptions[0]
    assert "toward the league" in plain.assumptions[0]
    again = Question.from_dict(json.loads(json.dumps(told.question.to_dict()))).ask(counts, traits=roles)
    assert again.chance == told.chance
    with pytest.raises(ClaimError, match=r"was asked with traits= .*; give it again"):
        told.question.ask(counts)
    with pytest.raises(ClaimError, match="these rates are fitted already; give role to shrink_outcomes"):
        hitlab.check_spot(hitlab.game.shrink_outcomes(counts), spot, groups="role", traits=roles)
    with pytest.raises(hitlab.errors.HitlabError, match="no column 'rolle'"):
        hitlab.check_spot(counts, spot, groups="rolle", traits=roles)


def test_covariates_of_outcomes_are_looked_at_as_those_of_a_rate_are():
    bench = _bench(2).drop(columns="role")
    age = np.where(np.arange(60) < 3, np.nan, np.arange(60.0))
    shrink_outcomes = hitlab.game.shrink_outcomes
    inside = shrink_outcomes(bench.assign(age=age), covariates=["age"])
    beside = shrink_outcomes(bench, covariates=["age"], traits=bench[["hitter"]].assign(age=age))
    assert any(
        note.startswith("age is missing for ") and "stand at the mean" in note for note in inside.notes
    )
    np.testing.assert_array_equal(inside.mean(), beside.mean())
    with pytest.raises(hitlab.errors.CountsError, match=r"give a list of columns, such as \['role'\]"):
        shrink_outcomes(bench, covariates="role")
    for asked in ({"covariates": ["walks"]}, {"groups": "walks"}):
        with pytest.raises(hitlab.errors.CountsError, match="walks is what the rate is made of"):
            shrink_outcomes(bench, **asked)
    with pytest.raises(hitlab.errors.CountsError, match="hard is what the rate is made of"):
        hitlab.shrink(_counts(_league(2, 20)), groups="hard")


def test_a_covariate_that_is_named_twice_is_refused():
    league, bench = _league(2, 20), _bench(2).drop(columns="role")
    spot, twice = hitlab.game.Spot(-1, 2, "third"), ["age", "walked", "age"]
    ages = pd.concat([league[["hitter"]], bench[["hitter"]]]).drop_duplicates().assign(walked=1.0)
    traits = ages.assign(age=np.arange(float(len(ages))))
    for ask in (
        lambda **known: hitlab.shrink(_counts(league), **known),
        lambda **known: hitlab.game.shrink_outcomes(bench, **known),
        lambda **known: hitlab.check_leads(_counts(league), **known),
        lambda **known: hitlab.check_spot(bench, spot, **known),
    ):
        for known in ({}, {"traits": traits}):
            with pytest.raises(hitlab.errors.CountsError, match="covariates: age is named twice; name each"):
                ask(covariates=twice, **known)
    with pytest.raises(hitlab.errors.CountsError, match="age is named twice"):
        hitlab.shrink(league.assign(age=1.0), covariates=("age", "age"))


def test_what_is_the_same_for_everybody_is_said_once_to_tell_nothing():
    league, bench = _league(4, 20), _bench(4).drop(columns="role")
    same, ages = bench[["hitter"]].assign(role="free", age=30), np.arange(60.0)
    spot = hitlab.game.Spot(-1, 2, "third")
    rates = hitlab.game.shrink_outcomes(bench, groups="role", covariates=["age"], traits=same)
    assert [note for note in rates.notes if note.startswith(("role", "everybody", "age"))] == [
        "everybody has the same role, so it tells nothing",
        "age does not vary, so it tells nothing",
    ]
    told = hitlab.check_spot(bench, spot, groups="role", traits=same)
    assert "stage by stage toward the league" in told.assumptions[0]
    above = hitlab.check_above(
        _counts(league), league["hitter"].iloc[0], 0.12, groups="role", traits=league.assign(role="free")
    )
    assert "may follow" not in above.assumptions[1]
    # A number that does vary, and is luck alone.
    luck = hitlab.game.shrink_outcomes(bench, covariates=["age"], traits=same.assign(age=ages))
    assert "age was not found to tell anything of how plate appearances end" in luck.notes
    assert "toward a mean that may follow age" in hitlab.check_spot(luck, spot).assumptions[0]


@pytest.mark.parametrize("of", ["shrink", "shrink_outcomes", "check_spot", "check_leads"])
def test_traits_are_one_table_and_nothing_without_a_name(of):
    league, bench = _league(3, 20), _bench(3)
    ask, roles = {
        "shrink": (lambda **known: hitlab.shrink(_counts(league), **known), league),
        "check_leads": (lambda **known: hitlab.check_leads(_counts(league), **known), league),
        "shrink_outcomes": (
            lambda **known: hitlab.game.shrink_outcomes(bench.drop(columns="role"), **known),
            bench,
        ),
        "check_spot": (
            lambda **known: hitlab.check_spot(
                bench.drop(columns="role"), hitlab.game.Spot(-1, 2, "third"), **known
            ),
            bench,
        ),
    }[of]
    roles = roles[["hitter", "role"]]
    with pytest.raises(hitlab.errors.CountsError, match="say by groups= or covariates= what to take of it"):
        ask(traits=roles)
    for several in ((roles,), [roles]):
        with pytest.raises(hitlab.errors.CountsError, match="takes one table with one row a hitter, no "):
            ask(groups="role", traits=several)


@pytest.mark.slow
def test_the_command_line_gives_the_same_chance(season, tmp_path, capsys):
    traits = season[["hitter_id", "kind"]].drop_duplicates()
    traits.to_csv(tmp_path / "traits.csv", index=False)
    words = ["check", "above", "izezno", "16%", "--groups", "kind", "--traits", str(tmp_path / "traits.csv")]
    run([*words, "--json"])
    told = json.loads(capsys.readouterr().out)
    claim = hitlab.check_above(season, "izezno", 0.16, groups="kind")
    assert told["chance"] == pytest.approx(claim.chance)
    assert told["question"]["groups"] == "kind"
    assert told["question"]["traits"].startswith("traits.csv, ")
    run(["check", "above", "izezno", "16%", "--by-exposure", "no", "--json"])
    told = json.loads(capsys.readouterr().out)
    assert told["question"]["by_exposure"] is False
    assert told["chance"] == pytest.approx(
        hitlab.check_above(season, "izezno", 0.16, by_exposure=False).chance
    )
    assert run([*words[:5], "wrong", *words[6:]]) == 2
    assert "--traits" in capsys.readouterr().err
    assert run(["check", "spot", "izezno", "--groups", "kind", *words[6:], "--json"]) in (0, 1, 3)
    told = json.loads(capsys.readouterr().out)
    assert told["question"]["groups"] == "kind"
    assert told["chance"] == pytest.approx(
        hitlab.check_spot(season, hitlab.game.Spot(0, 0, "empty"), "izezno", groups="kind").chance
    )
