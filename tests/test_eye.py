"""Hard by eye: held against the radar, and carried through to rates, shrunk rates and claims."""

from __future__ import annotations

import dataclasses
import warnings
from functools import cache
from typing import Any

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.charting import correct_rates, corrected_interval, eye_against_radar
from hitlab.claims.setting import Setting
from hitlab.counting import Conventions
from hitlab.errors import CountsError, HitlabError, HitlabWarning, MissingColumnsError
from hitlab.estimates import EyeErrors
from hitlab.league import charted_by, make_season
from hitlab.wording import percent

GOOD = (84, 100, 180, 200)


@cache
def _season() -> hitlab.league.Season:
    return make_season(hitters=36, clubs=2, pitches=6_000, seed=3)


def _league(
    groups: int = 40, seed: int = 1, eye: tuple[float, float] = (0.85, 0.90)
) -> tuple[pd.DataFrame, np.ndarray]:
    rng = np.random.default_rng(seed)
    n, rate = rng.integers(20, 300, groups), rng.beta(14, 26, groups)
    hard = rng.binomial(n, rate)
    ticked = rng.binomial(hard, eye[0]) + rng.binomial(n - hard, 1 - eye[1])
    names = [f"Hitter {i:02d}" for i in range(groups)]
    return pd.DataFrame({"hitter": names, "swings": 2 * n, "in_play": n, "hard": ticked}), rate


def test_the_built_in_eye_is_found():
    from scipy.stats import norm

    chart = charted_by(_season(), 2, misses=0.02, doubles=0.01, eye_mph=93, eye_width_mph=4)
    found = eye_against_radar(chart, _season().pitches)
    # Four standard errors, as below: the interval of 90 % is 2 x 1.645 of them wide.
    low, high = found.eye_mph_interval
    assert abs(found.eye_mph - 93) < 4 * (high - low) / (2 * norm.ppf(0.95))
    # The eye's errors are of the normal law, the curve is logistic: between a tenth and nine tenths the first
    # lies 2 x 1.2816 deviations, and the fit is near that.
    width = 2 * norm.ppf(0.9) * 4
    assert found.width_mph_interval[0] * 0.9 < width < found.width_mph_interval[1] * 1.1
    # By the radar's speeds alone, what the eye would get right.
    speed = _season().pitches["exit_mph"].where(_season().pitches["outcome"] == "in play").dropna().to_numpy()
    chance = norm.cdf((speed - 93) / 4)
    for told, size, truth in (
        (found.sensitivity, found.errors.hard, chance[speed >= 95].mean()),
        (found.specificity, found.errors.soft, 1 - chance[speed < 95].mean()),
    ):
        assert abs(told - truth) < 4 * np.sqrt(truth * (1 - truth) / size)


def test_one_table_with_both_gives_what_two_do():
    chart = charted_by(_season(), 2, misses=0, doubles=0, wrong_outcome=0, radar=True)
    alone = eye_against_radar(chart)
    two = eye_against_radar(chart.drop(columns="exit_mph"), _season().pitches)
    assert alone.errors == two.errors
    assert alone.eye_mph == two.eye_mph
    assert "ticks" in str(alone)
    assert alone.data["balls"].sum() == alone.errors.hard + alone.errors.soft


def test_an_eye_that_never_errs_has_no_curve():
    chart = charted_by(_season(), 2, wrong_outcome=0, eye_width_mph=0, radar=True)
    found = eye_against_radar(chart)
    assert found.sensitivity == found.specificity == 1
    assert np.isnan(found.eye_mph)
    assert "no curve" in str(found)


def test_what_cannot_be_compared_is_refused():
    chart = charted_by(_season(), 2, radar=True)
    with pytest.raises(MissingColumnsError, match="exit_mph"):
        eye_against_radar(chart.drop(columns="exit_mph"))
    with pytest.raises(CountsError, match="of each are needed"):
        eye_against_radar(chart.iloc[:100])
    with pytest.raises(CountsError, match="same of every ball"):
        eye_against_radar(chart.assign(hard=chart["hard"].where(chart["hard"].isna(), True)))


def test_the_corrected_rate_is_the_closed_form():
    rate, low, high = corrected_interval([140, 0, 350], 350, GOOD)
    sensitivity, specificity = 0.84, 0.90
    assert rate[0] == pytest.approx((140 / 350 + specificity - 1) / (sensitivity + specificity - 1))
    assert rate[1] == 0
    assert rate[2] == 1
    assert ((low <= rate) & (rate <= high)).all()
    # With an eye known to be right it is the plain share, and the interval near Wilson's.
    plain, least, most = corrected_interval(140, 350, (10**7, 10**7, 10**7, 10**7))
    wilson = hitlab.counting.share_interval(140, 350)
    assert float(plain) == pytest.approx(0.4)
    assert float(least) == pytest.approx(float(wilson[0]), abs=2e-3)
    assert float(most) == pytest.approx(float(wilson[1]), abs=2e-3)


def test_the_corrected_rate_of_a_published_example():
    # Of 150 cows 23 test positive; sensitivity 0.96, specificity 0.89: 5.1 in 100 (the worked example of
    # epi.prev in the manual of the R package epiR, from memory). The source rounds to 0.1 in 100.
    rate, low, high = corrected_interval(23, 150, (9_600_000, 10**7, 8_900_000, 10**7))
    assert round(100 * float(rate), 1) == 5.1
    # Known errors stretch the interval of the share of positives, as in the paper's variance p(1-p)/(n J^2)
    # with J = 0.85; at 90 % the normal one of this example is 5.10 -/+ 5.69, cut at 0.
    assert float(low) < 0.01
    assert 100 * float(high) == pytest.approx(5.10 + 5.69, abs=0.6)


def test_more_doubt_about_the_eye_is_more_doubt_about_the_rate():
    widths = [
        float(high - low)
        for _, low, high in (
            corrected_interval(140, 350, tuple(4**i * one for one in (21, 25, 45, 50))) for i in range(4)
        )
    ]
    assert widths == sorted(widths, reverse=True)


@pytest.mark.slow
def test_intervals_of_corrected_rates_cover_as_often_as_they_say():
    from tests.benchmarks.bench_eye import coverage

    found = coverage(2_000)
    # 12 rows, each with a standard error of .0067: three of them beside the .88 to .92 that are asked for.
    assert found["posterior"].between(0.88 - 0.02, 0.92 + 0.02).all()
    apart = (found[["adjusted", "posterior"]] - 0.9).abs().mean()
    assert apart["posterior"] < apart["adjusted"]


@pytest.mark.slow
def test_intervals_where_a_radar_judged_some_cover_as_often_as_they_say():
    from tests.benchmarks.bench_eye import mixed

    assert mixed(2_000)["inside"].between(0.88, 0.92).all()


@pytest.mark.slow
def test_intervals_of_shrunk_rates_cover_as_often_as_they_say():
    from tests.benchmarks.bench_eye import shrunk

    found = shrunk(60)
    for per in ("per ball in play", "per swing"):
        assert abs(found[per] - 0.90) < 0.02 + 3 * found[f"{per}, error"]
    assert found["errors left out"] < 0.80


@pytest.mark.slow
def test_intervals_of_shrunk_rates_cover_where_a_radar_judged_some():
    from tests.benchmarks.bench_eye import shrunk_mixed

    found = shrunk_mixed(60)
    for who in ("by eye", "half by radar", "by radar"):
        assert abs(found[who] - 0.90) < 0.02 + 3 * found[f"{who}, error"]
    # Were all taken for ticks, those whom the radar saw would be moved for nothing.
    errors = found["off, by radar, error"] + found["off, taken for ticks, error"]
    assert found["off, taken for ticks"] > found["off, by radar"] + 2 * errors


def test_counts_corrected_row_by_row():
    table, _ = _league()
    found = correct_rates(table, GOOD)
    assert len(found) == 40
    total = corrected_interval(table["hard"].sum(), table["in_play"].sum(), GOOD)
    assert found.total[["corrected", "low", "high"]].iloc[0].tolist() == [float(one) for one in total]
    assert "with the eye's errors taken out" in str(found)


def test_shrunk_rates_by_eye():
    table, rate = _league()
    plain = hitlab.shrink(table, "hard", "in_play")
    certain = hitlab.shrink(table, "hard", "in_play", eye=(10**7, 10**7, 10**7, 10**7))
    # An eye that never errs changes nothing, but that a part of the laws stands for all.
    assert certain.eye_effect == pytest.approx(1, abs=1e-5)
    assert certain.data["shrunk"].to_numpy() == pytest.approx(plain.data["shrunk"].to_numpy(), abs=3e-3)
    seen = hitlab.shrink(table, "hard", "in_play", eye=(850, 1000, 1800, 2000))
    assert abs((seen.data["shrunk"] - rate).mean()) < abs((plain.data["shrunk"] - rate).mean())
    assert (seen.data["rate"] == plain.data["rate"]).all()  # what was seen stays what was seen
    assert "hard is what an eye ticked" in seen.notes[0]
    less = hitlab.shrink(table, "hard", "in_play", eye=(17, 20, 36, 40))
    assert ((less.data["high"] - less.data["low"]) > (seen.data["high"] - seen.data["low"])).all()


def test_the_doubt_about_the_eye_moves_all_together():
    """It widens what each is, and hardly matters to who is ahead of whom."""
    table, _ = _league()
    sure, unsure = (
        hitlab.shrink(table, "hard", "in_play", eye=eye)
        for eye in ((1700, 2000, 3600, 4000), (17, 20, 36, 40))
    )
    order = np.argsort(-sure.data["shrunk"].to_numpy())
    first, last = order[2], order[-6]
    ahead = []
    for fit in (sure, unsure):
        drawn = fit.posterior.draws(20_000, np.random.default_rng(1))
        ahead.append(float((drawn[:, first] > drawn[:, last]).mean()))
    assert ahead[0] == pytest.approx(ahead[1], abs=0.03)
    assert unsure.posterior.spread()[first] > 1.1 * sure.posterior.spread()[first]


def test_eyes_that_cannot_be_used():
    table, _ = _league(12)
    for eye in ((5, 4, 1, 2), (1, 2, 3), "84", (0, 0, 1, 2), (1, 10, 5, 10)):
        with pytest.raises(CountsError, match="eye"):
            hitlab.shrink(table, "hard", "in_play", eye=eye)
    with pytest.raises(CountsError, match="hard balls"):
        hitlab.shrink(table.rename(columns={"hard": "whiffs"}), "whiffs", "swings", eye=GOOD)
    with pytest.raises(CountsError, match="estimator"):
        hitlab.shrink(table, "hard", "in_play", eye=GOOD, estimator="moments")
    with pytest.raises(CountsError):
        Conventions(eye=(3, 2, 1, 1))


def test_a_claim_allows_for_the_eye_and_remembers_it():
    chart = charted_by(_season(), 2, eye_mph=92)
    eye = eye_against_radar(chart, _season().pitches)
    told = Conventions(eye=eye.errors)
    who = "Bojan Kesthurst"
    claims = [
        hitlab.check_above(chart, who, 0.38, per="in_play", independent=True, conventions=conventions)
        for conventions in (told, Conventions())
    ]
    assert claims[0].chance < claims[1].chance - 0.1  # an eye that ticks too much makes too much of him
    assert any("hard is what an eye ticked" in note for note in claims[0].notes)
    again = hitlab.Question.from_dict(claims[0].question.to_dict())
    assert again.conventions == told
    assert EyeErrors(*again.conventions.eye) == eye.errors
    with pytest.raises(HitlabError, match="cannot allow for an eye's errors"):
        hitlab.check_split(chart, who, when="strikes=2", conventions=told)
    for kind in ("response", "together", "spot"):
        with pytest.raises(HitlabError, match="cannot allow for an eye's errors"):
            hitlab.Question(kind=kind, conventions=told).ask(chart)


def test_the_commands(tmp_path, capsys):
    from hitlab.cli.commands import run

    radar, chart = tmp_path / "radar.csv", tmp_path / "chart.csv"
    pitches = _season().pitches.iloc[:3_000]
    pitches.to_csv(radar, index=False)
    charted_by(pitches, 2, misses=0, doubles=0, wrong_outcome=0).to_csv(chart, index=False)
    assert run(["eye", str(chart), str(radar)]) == 0
    said = capsys.readouterr().out
    option = said.rsplit("--eye ", 1)[1].strip()
    assert run(["eye", str(chart), str(radar), "--json"]) == 0
    assert option in capsys.readouterr().out
    asked = ["check", "above", "Bojan Kesthurst", "0.1", "--per", "in_play", "--file", str(chart)]
    assert run([*asked, "--eye", option]) in (0, 1, 3)
    assert "an eye ticked" in " ".join(capsys.readouterr().out.split())
    assert run([*asked, "--eye", "much"]) == 2


def _mixed(chart: pd.DataFrame, by_radar: np.ndarray) -> pd.DataFrame:
    """Give the chart with speeds in some rows, and with ticks alone in the others."""
    return chart.assign(
        exit_mph=chart["exit_mph"].where(by_radar), hard=chart["hard"].mask(by_radar), hard_source=None
    )


@cache
def _both() -> pd.DataFrame:
    return charted_by(_season(), 2, misses=0, doubles=0, wrong_outcome=0, eye_mph=91, radar=True)


def _quietly(chart: pd.DataFrame, **options: Any) -> hitlab.Counts:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HitlabWarning)
        return hitlab.tally(chart, **options)


def test_ticks_and_speeds_in_one_chart():
    chart = _both()
    radar = np.arange(len(chart)) % 2 == 0
    eye = eye_against_radar(chart.iloc[::5].reset_index(drop=True)).errors
    told = Conventions(eye=eye)
    counts = hitlab.tally(_mixed(chart, radar), conventions=told)  # without a warning
    judged = (chart["outcome"] == "in play") & chart["exit_mph"].notna() & ~chart["bunt"].fillna(False)
    fast = chart["exit_mph"] >= 95
    assert counts.column("hard_by_eye").sum() == (judged & ~radar).sum()
    assert counts.column("hard_ticked").sum() == (judged & ~radar & chart["hard"]).sum()
    found = correct_rates(counts, eye)
    row = found.total.iloc[0]
    assert row["measured_hard"] == (judged & radar & fast).sum()
    assert row["measured"] == (judged & radar).sum()
    by_eye, _, _ = corrected_interval(row["ticked"], row["judged"], eye)
    both = (by_eye * row["judged"] + row["measured_hard"]) / (row["judged"] + row["measured"])
    assert row["corrected"] == pytest.approx(both)
    assert row["low"] < (judged & fast).sum() / judged.sum() < row["high"]
    assert f"by radar ({int(row['measured_hard'])} of {int(row['measured'])})" in str(found)
    fit = hitlab.shrink(counts, "hard", "in_play")
    assert any(f"{int(row['measured'])} balls that a radar judged are as measured" in n for n in fit.notes)


def test_where_the_eye_is_known_a_speed_wins_over_a_tick():
    chart = _both()
    eye = eye_against_radar(chart).errors
    plain, told = (_quietly(chart, conventions=one) for one in (Conventions(), Conventions(eye=eye)))
    judged = (chart["outcome"] == "in play") & chart["exit_mph"].notna() & ~chart["bunt"].fillna(False)
    assert plain.column("hard").sum() == (judged & chart["hard"]).sum()
    assert told.column("hard").sum() == (judged & (chart["exit_mph"] >= 95)).sum()
    assert told.hard_means == "95 mph or more off the bat, else flagged as hard in the source"
    assert any("the speed was taken" in note for note in told.notes_on("hard"))
    # Nothing is left to correct, and that is said; flags counted in the speeds' place cannot be corrected.
    fit = hitlab.shrink(told, "hard", "in_play")
    assert fit.eye is None
    assert any("no ball is judged by eye alone" in note for note in fit.notes)
    for correct in (
        lambda: hitlab.shrink(plain, "hard", "in_play", eye=eye),
        lambda: correct_rates(plain, eye),
    ):
        with pytest.raises(CountsError, match="so that the speed is taken there"):
            correct()


def test_speeds_alone_are_not_taken_for_ticks():
    counts = hitlab.tally(_season().pitches)
    plain, told = (hitlab.shrink(counts, "hard", "in_play", eye=eye) for eye in (None, GOOD))
    assert (plain.data["shrunk"] == told.data["shrunk"]).all()
    assert any("no ball is judged by eye alone" in note for note in told.notes)
    with pytest.raises(CountsError, match="nothing to correct"):
        correct_rates(counts, GOOD)


def test_who_was_measured_is_not_moved_by_the_eye():
    """A hitter whom the radar alone saw keeps his record; one whom the eye saw is corrected."""
    chart = _both()
    names = sorted(chart["hitter"].unique())
    told = Conventions(eye=eye_against_radar(chart).errors)
    counts = hitlab.tally(_mixed(chart, chart["hitter"].isin(names[::2]).to_numpy()), conventions=told)
    fit = hitlab.shrink(counts, "hard", "in_play")
    by_radar = fit.data["hitter"].isin(names[::2]).to_numpy()
    assert (fit.eye_effect[by_radar] == 1).all()
    assert (fit.eye_effect[~by_radar] > 1.2).all()
    assert (fit.eye_share == np.where(by_radar, 0, 1)).all()
    truth = hitlab.shrink(hitlab.tally(chart.drop(columns=["hard", "hard_source"])), "hard", "in_play")
    off = (fit.data["shrunk"] - truth.data["shrunk"]).to_numpy()
    # This eye ticks at 91 mph: taken as they are, its records say some eight in a hundred too much.
    ticked = _quietly(_mixed(chart, by_radar[np.searchsorted(names, chart["hitter"])]))
    plain = hitlab.shrink(ticked, "hard", "in_play").data["shrunk"] - truth.data["shrunk"]
    assert plain[~by_radar].mean() > 0.04
    assert abs(off[~by_radar].mean()) < 0.02
    assert abs(off[by_radar]).max() < 0.02
    # One hard ball more is one where a radar tells it, and more than one where this eye ticks it.
    question = hitlab.Question(
        kind="above", event="hard", per="in_play", independent=True, options={"value": 0.3}
    )
    setting = Setting.asked(question, counts)
    for place, measured in (
        (int(np.flatnonzero(by_radar)[0]), True),
        (int(np.flatnonzero(~by_radar)[0]), False),
    ):
        effect = setting.effect[place]
        one = setting.fit.posterior.after(np.array([place]), np.array([1 / effect]), np.array([0.0]))
        as_one = setting.with_record(place, 1, 1).mean()[place] == pytest.approx(one.mean()[place], abs=1e-9)
        assert as_one == measured


def test_ticks_alone_beside_speeds_are_asked_what_a_blank_means():
    chart = _both()
    mixed = _mixed(chart, np.arange(len(chart)) % 2 == 0)
    ticks = mixed.assign(hard=mixed["hard"].mask(mixed["hard"] == False))  # noqa: E712
    counts = hitlab.tally(ticks)
    assert "hard" not in counts.names
    assert "what a blank means" in counts.missing["hard"]


def test_hard_balls_in_a_situation_are_not_corrected_in_silence():
    chart = charted_by(_season(), 2)
    for event in ("hard at strikes=2", "two_strike_hard"):
        with pytest.raises(HitlabError, match="choose the pitches"):
            hitlab.check_above(chart, "Bojan Kesthurst", 0.3, event=event, conventions=Conventions(eye=GOOD))


@pytest.mark.parametrize(
    "made", [{"foul_tip": "contact"}, {"hard_mph": 90}, {"hard_fouls": True}, {"most_contradicted": 0.05}]
)
def test_usual_conventions_that_are_given_are_no_less_asked_for(made):
    counted = hitlab.tally(_season().pitches, conventions=Conventions(**made))
    name = next(iter(made))
    with pytest.raises(HitlabError, match=f"conventions: {name}=.*counts already, made with {name}="):
        hitlab.check_leads(counted, event="whiffs", conventions=Conventions())
    same = hitlab.check_leads(counted, event="whiffs", conventions=Conventions(**made))
    assert same.chance == hitlab.check_leads(counted, event="whiffs").chance


def test_conventions_beside_counts_are_taken_or_refused():
    table, _ = _league()
    asked = {"hitter": "Hitter 03", "value": 0.36, "per": "in_play"}
    plain = hitlab.check_above(table, **asked)
    told = hitlab.check_above(table, **asked, conventions=Conventions(eye=GOOD))
    assert told.chance != plain.chance
    assert any("hard is what an eye ticked" in note for note in told.notes)
    assert told.question.conventions.eye == GOOD
    assert told.question.ask(table).chance == told.chance
    for late in ({"hard_mph": 90}, {"foul_tip": "contact"}, {"hard_fouls": True}, {"most_contradicted": 0.2}):
        with pytest.raises(HitlabError, match=f"conventions: {next(iter(late))}=.*counts already"):
            hitlab.check_above(table, **asked, conventions=Conventions(**late))
    counted = hitlab.tally(_season().pitches, conventions=Conventions(hard_mph=90))
    same = [
        hitlab.check_above(counted, "Bojan Kesthurst", 0.3, conventions=conventions).chance
        for conventions in (None, Conventions(hard_mph=90))
    ]
    assert same[0] == same[1]


def test_what_would_change_asks_for_no_more_ticks_than_a_record_holds():
    """All swings ticked would be more hard balls than swings, as this eye misses some: it is no record."""
    ticked, judged = [4, 5, 2, 5, 6, 3, 4, 6, 6, 5, 5, 4], [9, 15, 11, 11, 9, 8, 9, 10, 11, 14, 12, 8]
    swings = [30, 23, 31, 26, 21, 26, 26, 29, 25, 32, 28, 29]
    names = [f"Hitter {i:02d}" for i in range(12)]
    table = pd.DataFrame({"hitter": names, "swings": swings, "in_play": judged, "hard": ticked})
    counts = dataclasses.replace(
        hitlab.Counts.from_table(table), conventions=Conventions(eye=(22, 25, 35, 41))
    )
    least = hitlab.check_leads(counts, "Hitter 02", prior="8% to 18%")
    assert least.verdict == "does not hold"
    assert "in the same swings would leave it open" in least.would_change
    most = hitlab.check_above(counts, "Hitter 04", 0.01, prior="8% to 18%")
    assert most.verdict == "holds"
    assert "in the same swings would" in most.would_change


def _ticked(rng: np.random.Generator, chance: Any, balls: int = 600) -> pd.DataFrame:
    """Give balls in play with speeds, ticked with a chance that their speed gives."""
    mph = rng.normal(85, 14, balls).round(1)
    return pd.DataFrame(
        {
            "hitter": "Ada Frusk",
            "outcome": "in play",
            "exit_mph": mph,
            "hard": rng.random(balls) < chance(mph),
        }
    )


def test_a_curve_that_misses_the_ticks_says_so():
    """Ticks of softer balls made the curve so flat that it gave 59 % where 89 % were ticked."""
    chart = _ticked(np.random.default_rng(4), lambda mph: np.where(mph >= 95, 0.9, 0.08))
    found = eye_against_radar(chart)
    cell = found.data[found.data["from_mph"] == 95].iloc[0]
    assert cell["curve"] < 0.7 < 0.85 < cell["share"]
    (note,) = [one for one in found.notes if one.startswith("the curve misses the ticks")]
    mph = chart["exit_mph"][chart["exit_mph"].between(95, 100, inclusive="left")]
    steep = 2 * np.log(9) / found.width_mph
    given = (1 / (1 + np.exp(-steep * (mph - found.eye_mph)))).mean()
    assert f"from 95 to 100 mph it gives {percent(given)} and " in note
    assert f"{percent(cell['share'])} of {cell['balls']:,.0f} balls were ticked" in note
    assert note.endswith(
        "(by the exact binomial test of every band of 20 balls or more; luck alone fails it in one chart of "
        "twenty at most): go by the shares, not by the speed and the width that the curve tells"
    )
    assert note in str(found)


def test_a_curve_that_is_right_is_told_to_miss_in_one_chart_of_twenty_at_most():
    rng, missed = np.random.default_rng(8), 0
    for _ in range(100):
        chart = _ticked(rng, lambda mph: 1 / (1 + np.exp(-(mph - 95) / 3)))
        missed += any("curve misses" in note for note in eye_against_radar(chart).notes)
    assert missed <= 5


def test_a_band_of_few_balls_is_no_reason_to_doubt_the_curve():
    chart = _ticked(np.random.default_rng(4), lambda mph: np.where(mph >= 95, 0.9, 0.08), balls=60)
    assert not any("curve misses" in note for note in eye_against_radar(chart).notes)
