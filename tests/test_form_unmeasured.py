"""Form over time where some balls were not measured: a hole in the measuring is no cold spell."""

import re

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import Counts, check_hot, check_steady, form_over_time, tally
from hitlab.counting import share_interval
from hitlab.over_time import fit_form, overdispersion, resample_by_game
from hitlab.over_time.form import Form
from hitlab.wording import rate_text


def season(games: int, without: int) -> pd.DataFrame:
    """Return a season of two hitters, each game five swings and three balls in play, one or two of them hard.

    Of Ada's last games ``without`` were not measured.
    """
    rows = []
    for name in ("Ada Ooms", "Bo Tull"):
        for game in range(games):
            for ball in range(5):
                met = ball < 3
                speed = (100.0 if ball < 1 + game % 2 else 80.0) if met else np.nan
                if name == "Ada Ooms" and game >= games - without:
                    speed = np.nan
                day = pd.Timestamp("2025-04-01") + pd.Timedelta(days=game)
                rows.append((name, f"{name} {game:02d}", day, "in play" if met else "whiff", speed))
    return pd.DataFrame(rows, columns=["hitter", "game", "date", "outcome", "exit_mph"])


def form_of(without: int) -> Form:
    return form_over_time(tally(season(48, without), by=["hitter", "game", "date"]), "Ada Ooms")


def test_a_hole_in_the_measuring_is_not_called_a_cold_spell():
    form = form_of(without=12)
    assert form.within_luck  # 0 in 60 swings tells nothing where none of the balls was measured
    assert form.unmeasured == 1.0
    assert form.overall == pytest.approx(0.3, abs=0.001)
    assert np.isnan(form.data["rate"].iloc[-1])
    assert form.explanation.endswith(
        "Whether that is luck cannot be told: hardness is unknown for up to 100 % of the contact of 12 games."
    )
    assert form.finding == "luck or not cannot be told"
    assert form.data["unknown"].tolist()[-13:] == [*range(0, 37, 3)]


@pytest.mark.parametrize("per", ["in_play", "contact"])
def test_games_of_which_nothing_was_measured_are_no_fewer_games_per_ball_in_play(per):
    counts = tally(season(48, without=12), by=["hitter", "game", "date"])
    form = form_over_time(counts, "Ada Ooms", per=per)
    assert len(form.data) == 37
    assert form.data["to"].iloc[-1] == "2025-05-18"
    assert form.unmeasured == 1.0
    assert form.finding == "luck or not cannot be told"
    assert form.overall == pytest.approx(0.5, abs=0.001)
    fit = fit_form(counts, per=per)
    assert fit.stretches(0)[["games", "hard", per, "unknown"]].to_numpy().tolist() == [
        *[[12, 18, 36, 0]] * 3,
        [12, 0, 36, 36],
    ]
    assert fit.unknown_share.tolist() == [0, 0, 0, 1, 0, 0, 0, 0]
    for check in (check_hot, check_steady):
        claim = check(counts, "Ada Ooms", per=per)
        assert (claim.verdict, claim.chance) == ("open", None)
        assert any("hardness is unknown for 100 % of the contact" in note for note in claim.notes)
    hot = check_hot(counts, "Ada Ooms", per=per, about="record")
    assert hot.verdict == "open"
    assert "0 in 36 over the last 12 games, 54 in 108 before (36 and 0 balls not measured)" in hot.say_in_full
    assert check_steady(counts, "Ada Ooms", per=per, about="record").verdict == "open"


def test_where_all_was_measured_it_is_said_as_before():
    form = form_of(without=0)
    assert (form.unmeasured, form.untold) == (0.0, "")
    assert "unknown" not in form.data
    assert form.explanation.endswith("Nothing here is beyond luck.")


@pytest.mark.parametrize(("without", "told"), [(1, True), (4, False)])
def test_little_unmeasured_leaves_what_is_within_luck_told(without, told):
    form = form_of(without)
    assert form.unmeasured == pytest.approx(without / 12)
    assert bool(form.untold) is not (told and form.within_luck)


WHY = {
    "coach": "hardness is unknown for up to 100 % of the contact of 12 games",
    "player": "too many of the balls that were hit were not measured",
}


@pytest.mark.parametrize("reader", ["coach", "player"])
def test_a_page_does_not_show_form_with_a_hole_in_it(reader):
    text = str(hitlab.hitter_page(season(48, 12), "Ada Ooms", reader=reader))
    assert f"Form over time is not shown: {WHY[reader]}" in text
    assert "larger than luck" not in text


def test_a_claim_of_steadiness_notes_that_the_hole_cannot_be_told_from_luck():
    claim = check_steady(season(48, 12), "Ada Ooms")
    assert claim.verdict == "open"
    assert any("Whether that is luck cannot be told" in note for note in claim.notes)
    assert not any("more than luck" in note for note in claim.notes)


def test_a_player_is_told_of_no_columns():
    table = season(20, 0)
    player, coach = (
        str(hitlab.hitter_page(table, "Ada Ooms", reader=reader)) for reader in ("player", "coach")
    )
    assert "Fastballs are not shown: readiness for the fastball needs the column" in coach
    assert "Fastballs are not shown: too little was written down about them." in player
    assert "Without inning, pitch, clip: the table has no such column." in coach
    assert not re.search("needs the column|no such column|the table has", player)


GAMES, RECENT = 36, 3


def never_moving(
    rng: np.random.Generator,
    hitters: int,
    missed: str,
    games: int = GAMES,
    swings: tuple[int, int] = (6, 13),
) -> Counts:
    """Return games of hitters whose true rate is .17 of the swings, always, with holes in the measuring.

    ``missed``: nothing; ``half`` of the balls of each one's last three games, at random; those ``games``
    whole, of everybody.
    """
    swung = rng.integers(*swings, (hitters, games))
    contact = rng.binomial(swung, 0.7)
    late = np.arange(games) >= games - RECENT
    share = np.where(late, {"nothing": 0.0, "half": 0.5, "games": 1.0}[missed], 0.0)
    unmeasured = rng.binomial(contact, share)
    hard = rng.binomial(contact - unmeasured, 0.17 / 0.7)
    names, days = [f"h{at:03d}" for at in range(hitters)], pd.date_range("2031-04-01", periods=games)
    frame = pd.DataFrame(
        {
            "hitter": np.repeat(names, games),
            "game": np.tile([f"g{at:03d}" for at in range(games)], hitters),
            "date": np.tile(days.strftime("%Y-%m-%d"), hitters),
        }
    )
    for name, each in (
        ("swings", swung),
        ("contact", contact),
        ("in_play", contact),
        ("unmeasured", unmeasured),
        ("hard", hard),
    ):
        frame[name] = each.ravel()
    return Counts.from_table(frame, by=["hitter", "game", "date"])


@pytest.mark.slow
@pytest.mark.parametrize("luck", ["shuffled games", "dealt attempts"])
@pytest.mark.parametrize("missed", ["nothing", "half", "games"])
def test_who_never_moves_is_not_called_cold_more_often_than_said(missed, luck):
    counts = never_moving(np.random.default_rng(7), 300, missed)
    names = counts.data["hitter"].unique()
    found = [form_over_time(counts, name, window=4, luck=luck, draws=200) for name in names]
    cold = np.array([form.chance_as_cold for form in found])
    for chance in (0.1, 0.2):
        assert (cold <= chance).mean() <= chance + 2.5 * np.sqrt(chance * (1 - chance) / 300)
    # Each of the 33 windows is the coldest as often as another; of half of the last three .2 were before,
    # of the whole games .7.
    last = np.mean([form.coldest == len(form.data) - 1 for form in found])
    assert last <= 0.08


@pytest.mark.slow
@pytest.mark.parametrize("missed", ["half", "games"])
def test_a_stretch_of_which_some_was_missed_has_the_rate_of_the_others(missed):
    counts = never_moving(np.random.default_rng(8), 500, missed)
    fit = fit_form(counts)
    last = fit.table()
    error = np.sqrt(0.17 * 0.83 / (500 * 12 * 9 * 0.75))
    assert last["rate"].mean() == pytest.approx(0.17, abs=4 * error)
    assert fit.spread_low < 0.05
    cold = [1 - fit.chance_above(place, 1 / 1.25) >= 0.9 for place in range(500)]
    assert not any(cold)
    windows = pd.concat(
        [form_over_time(counts, f"h{at:03d}", draws=200).data.iloc[[-1]] for at in range(200)]
    )
    assert windows["rate"].mean() == pytest.approx(0.17, abs=4 * np.sqrt(0.17 * 0.83 / (200 * 12 * 9 * 0.75)))


def test_games_without_measuring_are_not_alike():
    counts = never_moving(np.random.default_rng(9), 300, "games")
    alike = overdispersion(counts)
    measured = counts.only(counts.column("unmeasured") == 0)
    assert alike.correlation == pytest.approx(overdispersion(measured).correlation, abs=0.001)
    assert fit_form(counts).games_alike < 0.005
    rates = resample_by_game(counts, draws=100).data["rate"]
    assert rates.mean() == pytest.approx(0.17, abs=4 * np.sqrt(0.17 * 0.83 / (300 * 33 * 9)))
    assert alike.data["rate"].mean() == pytest.approx(rates.mean(), abs=0.0005)


@pytest.mark.parametrize("per", ["swings", "in_play"])
def test_tables_of_dependence_show_the_swings_that_were_taken_and_what_of_them_was_not_measured(per):
    counts = never_moving(np.random.default_rng(13), 20, "half")
    sums = counts.data.groupby("hitter")[["hard", per, "unmeasured", "contact"]].sum()
    measured = (sums[per] * (1 - sums["unmeasured"] / sums["contact"])).round()
    for found in (overdispersion(counts, per=per), resample_by_game(counts, per=per, draws=100)):
        shown = found.data.set_index("hitter")
        assert shown[["hard", per]].equals(sums[["hard", per]])
        assert shown["unknown"].tolist() == sums["unmeasured"].tolist()
        assert shown["rate"].tolist() == pytest.approx((sums["hard"] / measured).tolist())
        assert "unknown" in found.table_for_people()
    alike = overdispersion(counts, per=per).data
    assert (alike["effective_exposure"] * alike["design_effect"]).tolist() == pytest.approx(measured.tolist())
    low, high = share_interval(sums["hard"], measured.astype(int))
    assert alike[["low", "high"]].to_numpy() == pytest.approx(np.stack([low, high], axis=1))
    assert "unknown" not in overdispersion(never_moving(np.random.default_rng(13), 20, "nothing")).data


def test_the_unmeasured_balls_of_a_window_are_those_of_its_own_attempts():
    counts = tally(season(48, without=3), by=["hitter", "game", "date"])
    form = form_over_time(counts, "Ada Ooms", window=12, of="attempts")
    assert form.data["games"].iloc[-1] == 3
    assert form.data["unknown"].tail(4).tolist() == pytest.approx([0, 3, 6, 3 + 3 + 2 / 5 * 3])
    assert np.isnan(form.data["rate"].iloc[-1])
    assert form.table_for_people()["unknown"].equals(form.data["unknown"])
    assert form.unmeasured == 1.0
    counts = tally(season(48, without=1), by=["hitter", "game", "date"])
    form = form_over_time(counts, "Ada Ooms", window=7, of="attempts")
    assert form.unmeasured == pytest.approx(3 / (3 + 2 / 5 * 3))


def test_what_is_in_a_window_is_said_to_the_nearest_ball_in_words_and_in_the_picture():
    pytest.importorskip("matplotlib")
    from hitlab import plots

    # A window of seven swings has one game and two fifths of another: 2 hard balls and .4, or 1 and .8.
    counts = tally(season(48, without=0), by=["hitter", "game", "date"])
    form = form_over_time(counts, "Ada Ooms", window=7, of="attempts")
    best, worst = form.data.iloc[[form.hottest, form.coldest]]["hard"]
    assert (best, worst) == pytest.approx((2.4, 1.8))
    assert "had 2 in 7, .343; " in form.explanation
    assert "had 2 in 7, .257; " in form.explanation
    said = [text.get_text() for text in plots.draw(form).texts]
    assert {"best: 2 of 7, .343", "worst: 2 of 7, .257"} <= set(said)


@pytest.mark.parametrize("of", ["games", "attempts"])
def test_the_picture_says_what_of_a_window_was_not_measured_as_the_sentence_does(of):
    pytest.importorskip("matplotlib")
    from hitlab import plots

    table = season(48, without=0)
    rng = np.random.default_rng(3)
    struck = table.index[table["outcome"] == "in play"].to_numpy()
    table.loc[rng.choice(struck, len(struck) // 5, replace=False), "exit_mph"] = np.nan
    form = form_over_time(
        tally(table, by=["hitter", "game", "date"]),
        "Ada Ooms",
        window={"games": 6, "attempts": 33}[of],
        of=of,
    )
    said = [text.get_text() for text in plots.draw(form).texts]
    for row, word in ((form.hottest, "best"), (form.coldest, "worst")):
        at = form.data.iloc[row]
        k, n, unknown = (round(float(at[name])) for name in ("hard", "swings", "unknown"))
        assert unknown
        untold = f"({unknown} ball{'s' if unknown > 1 else ''} not measured), {rate_text(at['rate'])}"
        assert f" had {k} in {n} {untold}; " in form.explanation
        assert f"{word}: {k} of {n} {untold}" in said


@pytest.mark.parametrize(("swings", "contact", "unmeasured"), [(3, 2, 1), (9, 6, 1), (5, 3, 1)])
def test_no_game_has_more_measured_attempts_than_it_has_attempts(swings, contact, unmeasured):
    # Every second game is one swing without a ball in play, of which nothing can be unmeasured.
    rows = [(1, 0, 0, 0) if at % 2 else (swings, contact, unmeasured, at % 4 // 2) for at in range(40)]
    games = pd.DataFrame(rows, columns=["swings", "contact", "unmeasured", "hard"])
    games = games.assign(in_play=games["contact"], hitter="Ada Ooms", game=[f"g{at:02d}" for at in range(40)])
    form = form_over_time(Counts.from_table(games, by=["hitter", "game"]), "Ada Ooms", window=5, draws=200)
    measured = form._measured.reshape(20, 2)
    assert measured[:, 1].tolist() == [1] * 20
    known = swings * (1 - unmeasured / contact)
    assert set(measured[:, 0].tolist()) <= {int(np.floor(known)), int(np.ceil(known))}
    assert measured[:, 0].sum() == pytest.approx(20 * known, abs=0.5)


def test_a_real_streak_is_seen_in_windows_of_attempts_as_in_those_of_games_where_half_was_not_measured():
    table = season(48, 0)
    ball = table.groupby("game").cumcount()
    table.loc[(ball == 1) | ((ball == 0) & (table["date"].dt.day % 2 == 0)), "exit_mph"] = np.nan
    counts = tally(table, by=["hitter", "game", "date"])
    asked = {"luck": "dealt attempts", "draws": 400}
    games = form_over_time(counts, "Ada Ooms", window=12, **asked)
    attempts = form_over_time(counts, "Ada Ooms", window=60, of="attempts", **asked)
    for factor in (3.0, 6.0):
        seen = games.chance_to_see(factor, 12)
        assert 0.1 < seen < 0.999
        assert attempts.chance_to_see(factor, 12) == pytest.approx(seen, abs=0.06)


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(("per", "swings"), [("swings", (1, 4)), ("swings", (2, 6)), ("in_play", (1, 4))])
def test_resampled_rates_hold_the_true_one_as_often_as_said_where_half_was_not_measured(per, swings):
    rng = np.random.default_rng(12)
    whole = never_moving(rng, 500, "nothing", games=150, swings=swings)
    hard, contact = whole.data["hard"], whole.data["contact"]
    seen, soft_seen = rng.binomial(hard, 0.5), rng.binomial(contact - hard, 0.5)
    data = whole.data.assign(hard=seen, unmeasured=contact - seen - soft_seen)
    resampled = resample_by_game(Counts.from_table(data, by=["hitter", "game", "date"]), per=per, draws=500)
    truth = 0.17 if per == "swings" else 0.17 / 0.7
    # A hitter's own rate and the mean of his draws are the same but for the draws' noise.
    assert resampled.data["rate"].mean() == pytest.approx(truth, abs=0.003)
    assert resampled.draws.mean() == pytest.approx(resampled.data["rate"].mean(), abs=0.001)
    inside = (resampled.data["low"] <= truth) & (truth <= resampled.data["high"])
    assert inside.mean() == pytest.approx(0.9, abs=2.5 * np.sqrt(0.9 * 0.1 / 500))


def test_of_a_stretch_of_which_too_much_was_missed_it_is_said_that_it_cannot_be_told():
    whole, last = never_moving(np.random.default_rng(10), 40, "nothing"), np.arange(GAMES) >= GAMES - 4
    data = whole.data.copy()
    hole = (data["hitter"] == "h003") & np.tile(last, 40)
    data.loc[hole, "unmeasured"], data.loc[hole, "hard"] = data.loc[hole, "contact"], 0
    counts = Counts.from_table(data, by=["hitter", "game", "date"])
    share = data.loc[hole, "contact"].sum() / data[data["hitter"] == "h003"]["contact"].iloc[-12:].sum()
    for check in (check_hot, check_steady):
        claim = check(counts, "h003")
        assert claim.verdict == "open"
        assert claim.chance is None
        assert any(f"hardness is unknown for {100 * share:.0f} % of the contact" in n for n in claim.notes)
        assert check(counts, "h004").chance == pytest.approx(check(whole, "h004").chance, abs=0.02)


def test_a_hole_in_a_stretch_that_is_not_looked_at_does_not_matter():
    whole = never_moving(np.random.default_rng(14), 40, "nothing", games=120)
    data = whole.data.copy()
    hole = (data["hitter"] == "h003") & np.tile(np.arange(120) < 4, 40)
    data.loc[hole, "unmeasured"], data.loc[hole, "hard"] = data.loc[hole, "contact"], 0
    counts = Counts.from_table(data, by=["hitter", "game", "date"])
    days = data["date"].unique()
    assert check_steady(counts, "h003", since=days[0]).chance is None
    claim = check_steady(counts, "h003", since=days[12])
    assert claim.chance == pytest.approx(check_steady(whole, "h003", since=days[12]).chance, abs=0.02)
    assert not any("hardness is unknown for" in note and "claim" in note for note in claim.notes)


def test_a_record_with_a_hole_is_settled_only_where_the_unmeasured_do_not_decide():
    games = [[2, 0], [2, 0], [1, 3], [1, 3]]  # hard, unmeasured of each
    rows = [("Ada Ooms", f"g{at}", 10, 6, 6, u, k) for at, (k, u) in enumerate(games)]
    names = ["hitter", "game", "swings", "contact", "in_play", "unmeasured", "hard"]
    counts = Counts.from_table(pd.DataFrame(rows, columns=names), by=["hitter", "game"])
    for check, verdict in ((check_hot, "open"), (check_steady, "open")):
        assert check(counts, "Ada Ooms", stretch=2, about="record").verdict == verdict
    clear = Counts.from_table(counts.data.assign(unmeasured=0), by=["hitter", "game"])
    for check in (check_hot, check_steady):
        assert check(clear, "Ada Ooms", stretch=2, about="record").verdict == "does not hold"


def test_with_nothing_unmeasured_all_is_as_where_nothing_is_said_of_it():
    told = never_moving(np.random.default_rng(11), 10, "nothing")
    untold = Counts.from_table(
        told.data.drop(columns=["unmeasured", "contact", "in_play"]), by=["hitter", "game", "date"]
    )
    one, other = (fit_form(counts) for counts in (told, untold))
    assert (one.spread, one.centre, one.design_effect) == (other.spread, other.centre, other.design_effect)
    pd.testing.assert_frame_equal(one.table(), other.table(), check_exact=True)
    for luck in ("shuffled games", "dealt attempts"):
        first, second = (form_over_time(counts, "h003", luck=luck, draws=200) for counts in (told, untold))
        pd.testing.assert_frame_equal(first.data, second.data, check_exact=True)
        assert first.chance_as_cold == second.chance_as_cold
        assert first.chance_to_see(draws=200) == second.chance_to_see(draws=200)
    pd.testing.assert_frame_equal(overdispersion(told).data, overdispersion(untold).data, check_exact=True)
