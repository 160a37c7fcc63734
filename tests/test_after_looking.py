"""A day or a hitter picked because of what they show: what is left of the chance."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from scipy import stats

import hitlab
from hitlab.cli.checks import check
from hitlab.errors import ClaimError
from hitlab.over_time.after_looking import LOOKED_AT, best_day_p, chance_at_most, one_day_p
from hitlab.wording import percent


@pytest.mark.parametrize(("p", "left"), [(0.1, 0.385), (0.05, 0.289), (0.01, 0.111), (0.001, 0.0184)])
def test_what_is_left_for_luck_is_as_published(p, left):
    """Sellke, Bayarri & Berger 2001, the least chance that nothing changed; from memory."""
    assert 1 - chance_at_most(p) == pytest.approx(left, abs=0.0006)
    assert chance_at_most(0.6) == 0.5


def test_one_day_is_the_score_test_of_two_records():
    table = [[30, 20], [170, 80]]
    chi2 = stats.chi2_contingency(table, correction=False)
    assert one_day_p(np.array([30, 20]), np.array([200, 100]), "either") == pytest.approx(chi2.pvalue)
    more = one_day_p(np.array([30, 20]), np.array([200, 100]), "more")
    assert more == pytest.approx(chi2.pvalue / 2)
    assert one_day_p(np.array([30, 20]), np.array([200, 100]), "less") == pytest.approx(1 - more)


def _best_day(k, n):
    """Place of the day since which the rate rose most, by the score test."""
    p = [
        one_day_p(np.array([k[:d].sum(), k[d:].sum()]), np.array([n[:d].sum(), n[d:].sum()]), "more")
        for d in range(1, len(k))
    ]
    return int(np.argmin(p)) + 1, min(p)


@pytest.mark.slow
def test_the_best_of_all_days_is_as_rare_as_it_says():
    """200 seasons of 60 days in which nothing changes, the best day picked: p is below .1 in a tenth of them.

    Taken for a day chosen beforehand, p is below .1 in far more.
    """
    rng = np.random.default_rng(4)
    found, taken = [], []
    for _ in range(200):
        n = rng.integers(3, 12, 60)
        k = rng.binomial(n, 0.2)
        since, alone = _best_day(k, n)
        found.append(best_day_p(k, n, since, "more"))
        taken.append(alone)
    rare = np.mean(np.array(found) < 0.1)
    assert abs(rare - 0.1) < 2.6 * np.sqrt(0.09 / 200)
    assert np.mean(np.array(taken) < 0.1) > 0.5


def _season(seed: int, hitters: int = 40, days: int = 40, change: float = 1.0) -> pd.DataFrame:
    """Pitches of a season, all of them swings; the first hitter's odds change on the twentieth day."""
    rng = np.random.default_rng(seed)
    parts = []
    for hitter in range(hitters):
        odds = 0.18 * np.where((np.arange(days) >= days // 2) & (hitter == 0), change, 1.0)
        rate = np.repeat(odds / (1 + odds), 10)
        hard = rng.random(len(rate)) < rate
        day = pd.date_range("2031-04-01", periods=days).repeat(10)
        parts.append(
            pd.DataFrame(
                {
                    "hitter": f"hitter {hitter:02d}",
                    "date": day,
                    "game": day.strftime("%Y-%m-%d"),
                    "outcome": np.where(hard, "in play", "whiff"),
                }
            )
        )
    return pd.concat(parts, ignore_index=True)


def _best_change(season: pd.DataFrame) -> tuple[str, str]:
    """The hitter and the day that show most, looked for in the whole table."""
    best = (2.0, "", "")
    for hitter, mine in season.groupby("hitter"):
        daily = (mine["outcome"] == "in play").groupby(mine["date"]).agg(["sum", "size"])
        since, p = _best_day(daily["sum"].to_numpy(), daily["size"].to_numpy())
        best = min(best, (p, str(hitter), f"{daily.index[since]:%Y-%m-%d}"))
    return best[1], best[2]


@pytest.mark.slow
def test_nothing_is_called_where_nobody_changed_and_a_large_change_is_found():
    """The best day of the best hitter of twelve null seasons: none holds; some would, taken for one day."""
    taken, corrected = [], []
    for seed in range(12):
        season = _season(seed)
        hitter, day = _best_change(season)
        taken.append(hitlab.check_more(season, hitter, since=day, event="in_play").verdict)
        claim = hitlab.check_more(
            season, hitter, since=day, event="in_play", looked_at="all days and hitters"
        )
        corrected.append(claim.verdict)
        assert "chosen after looking at all days and hitters" in " ".join(claim.notes)
    assert corrected.count("holds") <= 1
    assert taken.count("holds") >= 2
    season = _season(3, change=4.0)
    found = hitlab.check_more(
        season, "hitter 00", since="2031-04-21", event="in_play", looked_at="all days and hitters"
    )
    assert found.verdict == "holds"


def test_the_chance_only_falls_and_the_question_remembers():
    season = _season(1, hitters=12)
    asked = {"since": "2031-04-21", "event": "in_play"}
    chances = []
    for looked in LOOKED_AT:
        claim = hitlab.check_more(season, "hitter 03", looked_at=looked, **asked)
        assert claim.question.ask(season).chance == claim.chance
        said = f" % at most, {looked} having been looked at." in claim.say_in_full
        assert said == (bool(chances) and claim.chance < chances[0])
        chances.append(claim.chance)
    assert max(chances[1:]) <= chances[0]
    assert chances[3] <= min(chances[1], chances[2]) + 1e-12


def test_the_commands_know_the_same_words():
    for name in ("more", "fewer", "different"):
        option = next(one for one in check.commands[name].params if one.name == "looked_at")
        assert tuple(option.type.choices) == LOOKED_AT


def test_what_cannot_be_said_is_refused():
    counts = pd.DataFrame({"hitter": ["A", "B"], "swings": [90, 80], "hard": [9, 12]})
    with pytest.raises(ClaimError, match="all days are told by the pitch table alone"):
        hitlab.check_more(counts, "A", before=counts, looked_at="all days")
    with pytest.raises(ClaimError, match="looked_at='some': give one of"):
        hitlab.check_more(counts, "A", before=counts, looked_at="some")
    claim = hitlab.check_more(counts, "A", before=counts, looked_at="all hitters")
    assert "of the best of 2 hitters" in " ".join(claim.notes)


def test_a_ball_that_was_not_measured_is_no_ball_that_was_not_hard():
    """Thirty days of five balls each; of the last ten days' one or two were not measured."""
    rng = np.random.default_rng(8)
    rows = []
    for name in (f"hitter {number:02d}" for number in range(12)):
        for day in range(30):
            late = name == "hitter 00" and day >= 20
            speed = np.where(rng.random(5) < (0.7 if late else 0.3), 100.0, 80.0)
            if late:
                speed[: 1 + day % 2] = np.nan
            when = pd.Timestamp("2031-04-01") + pd.Timedelta(days=day)
            rows += [(name, f"{when:%Y-%m-%d}", when, "in play", mph) for mph in speed]
    season = pd.DataFrame(rows, columns=["hitter", "game", "date", "outcome", "exit_mph"])
    mine = season[season["hitter"] == "hitter 00"]
    daily = mine["exit_mph"].groupby(mine["date"])
    hard, measured = (daily.agg(what).to_numpy() for what in (lambda mph: (mph >= 95).sum(), "count"))
    known = best_day_p(hard, measured, 20, "more")
    claim = hitlab.check_more(season, "hitter 00", since="2031-04-21", per="in_play", looked_at="all days")
    assert any(
        f"the best of 29 days shows as much in {percent(known)} of seasons by luck" in note
        for note in claim.notes
    )
    unknown = 5 - measured
    assert best_day_p(hard, np.full(30, 5), 20, "more", unknown, np.full(30, 5)) == pytest.approx(known)
    assert best_day_p(hard, np.full(30, 5), 20, "more") > 2 * known
    # Of days of which nothing was measured alone, nothing is told.
    hole = np.where(np.arange(30) < 5, 5, 0)
    spared = np.where(np.arange(30) < 5, 0, hard), np.full(30, 5), 20, "more", hole, np.full(30, 5)
    assert 0 < best_day_p(*spared) < 1
