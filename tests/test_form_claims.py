"""Claims about time: what they mean, full sentences, verdicts that can be reached, and mistakes that are "
"named."""

import json
import re

import numpy as np
import pandas as pd
import pytest

from hitlab import Counts, demo_season, tally
from hitlab.claims.checking import check_hot, check_more, check_steady
from hitlab.errors import ClaimError, CountsError, UnknownHitterError
from hitlab.over_time.periods import paired_halves


@pytest.fixture(scope="module")
def games():
    return tally(demo_season(), by=["hitter", "game", "date"])


def _league(rng, form=0.0, hitters=40, stretches=6, swings=20):
    """Hitters with stretches of 12 games of their own form; the first one's last stretch is set apart."""
    level = rng.normal(np.log(0.2 / 0.8), 0.2, (hitters, 1))
    shift = rng.normal(0, 1, (hitters, stretches)) * form
    p = np.repeat(1 / (1 + np.exp(-level - shift)), 12, axis=1)
    return rng.binomial(swings, p)


def _counts(k, swings=20):
    rows = [
        (f"h{i:02d}", f"g{j:02d}", f"2031-{4 + j // 28:02d}-{1 + j % 28:02d}", value, swings)
        for i, row in enumerate(k)
        for j, value in enumerate(row)
    ]
    frame = pd.DataFrame(rows, columns=["hitter", "game", "date", "hard", "swings"])
    return Counts.from_table(frame, by=["hitter", "game", "date"])


@pytest.mark.slow
def test_hot_holds_where_form_exists_and_shows():
    k = _league(np.random.default_rng(1), form=0.4)
    k[0, :60], k[0, 60:] = 4, 9  # .200 before, .450 now
    claim = check_hot(_counts(k), "h00")
    assert claim.verdict == "holds"
    assert claim.say_in_full.startswith(
        "h00 is most likely on a hot streak, judging by 108 in 240 over the last 12 games, 240 in 1,200 "
        "before: the chance that the true rate of hard-hit balls per swing now has at least 1.25 times the "
        "usual odds is "
    )
    assert claim.tempting == "“h00 cannot miss right now, and it will go on.”"
    k[0, 60:] = 3
    claim = check_hot(_counts(k), "h00")
    assert (claim.verdict, claim.tempting) == ("does not hold", "“h00 is hot.”")


@pytest.mark.slow
def test_the_same_stretch_says_less_where_nobody_has_form():
    rng = np.random.default_rng(2)
    still, moving = _league(rng, hitters=120), _league(rng, form=0.3, hitters=120)
    for k in (still, moving):
        k[0, :60] = 4
        k[0, 60:] = [5, 6] * 6  # .275 now
    quiet, lively = (check_hot(_counts(k), "h00") for k in (still, moving))
    assert quiet.chance < lively.chance - 0.2
    assert quiet.numbers["now"] < lively.numbers["now"]


def test_alone_a_hitter_leaves_it_open():
    k = _league(np.random.default_rng(3), hitters=1, swings=6)
    k[0, :60], k[0, 60:] = 1, [1, 2] * 6
    claim = check_hot(_counts(k, swings=6), "h00")
    assert claim.verdict == "open"
    assert "the assumed law of it weighs much" in str(claim).replace("\n  ", " ")
    assert claim.tempting == "“h00 is hot.” Nor: “h00 is not hot.”"


@pytest.mark.slow
def test_steady_can_hold_and_fail():
    rng = np.random.default_rng(4)
    assert check_steady(_counts(_league(rng, hitters=120)), "h03").verdict == "holds"
    k = _league(rng, form=0.4)
    k[0] = np.repeat([2, 6, 2, 7, 3, 6], 12)
    claim = check_steady(_counts(k), "h00")
    assert claim.verdict == "does not hold"
    assert claim.say_in_full.startswith(
        "h00 has most likely not been steady throughout: the chance that the true rate"
    )
    later = check_steady(_counts(k), "h00", since="2031-05-20")
    assert later.numbers["stretches"] == 2
    assert "since May 20, 2031" in later.claim


def test_more_than_before_holds_for_a_large_change_only():
    rng = np.random.default_rng(5)
    names = [f"h{i:02d}" for i in range(30)]
    k1 = rng.binomial(400, 0.15, 30)
    k2 = rng.binomial(400, 1 / (1 + np.exp(-rng.normal(np.log(0.15 / 0.85), 0.25, 30))))
    k1[0], k2[0], k1[1], k2[1] = 50, 110, 60, 62
    one, two = (
        Counts.from_table(pd.DataFrame({"hitter": names, "hard": k, "swings": 400})) for k in (k1, k2)
    )
    claim = check_more(two, "h00", before=one, than="two years ago")
    assert claim.verdict == "holds"
    assert claim.say_in_full.startswith(
        "h00's true rate of hard-hit balls per swing is most likely higher than two years ago, judging by "
        "110 in "
        "400 now, 50 in 400 two years ago: the chance is "
    )
    assert any("hybrid-score interval from +.1" in note for note in claim.notes)
    assert check_more(two, "h01", before=one).verdict == "open"
    assert check_more(one, "h00", before=two).verdict == "does not hold"
    assert check_more(two, "h01", before=one, about="record").say_in_full == (
        "h01's observed rate of hard-hit balls per swing is higher than before: 62 in 400 now, 60 in 400 "
        "before."
    )


@pytest.mark.slow
def test_the_demo_season_says_plainly_that_a_streak_is_luck(games):
    claim = check_hot(games, "Nadia Izezno")
    assert claim.verdict == "does not hold"
    assert any(note.endswith("Nothing here is beyond luck") for note in claim.notes)
    assert claim.became["swings"].iloc[0] == 547
    steady = check_steady(games, "Nadia Izezno", since="2031-05-01")
    assert steady.verdict == "holds"
    assert steady.say_in_full.endswith("the observed rates, .133, .240, .181, move by luck as well.")
    # Of each draw's own season, not of a range that is fixed: that he never left one is less likely.
    assert (
        "never had 1.25 times the odds of all games together, up or down, in 3 stretches of about 12 games "
        f"is {round(100 * steady.chance)} % (once luck is taken out about .164 in all games; from there the "
        "bounds are .136 and .197)"
    ) in steady.say_in_full
    halves = paired_halves(games, "time")
    assert (
        check_more(halves[1], "Omari Velenzal", before=halves[0], than="in the first half").verdict == "open"
    )
    for one in (claim, steady):
        json.dumps(one.to_dict())
        assert "<table" in one._repr_html_()
        assert one.table()["rate"].between(0, 1).all()


def test_what_would_settle_it_is_told_in_its_own_denominator():
    k = _league(np.random.default_rng(3), hitters=2, stretches=2)
    frame = _counts(k).data.rename(columns={"swings": "contact"})
    counts = Counts.from_table(frame, by=["hitter", "game", "date"])
    told = check_steady(counts, "h00", per="contact").would_change
    assert told.startswith("more contacts a stretch"), told


@pytest.mark.slow
def test_records_are_settled_by_counting(games):
    hot = check_hot(games, "Nadia Izezno", about="record")
    assert (hot.verdict, hot.chance) == ("does not hold", None)
    assert hot.say_in_full == (
        "Nadia Izezno's record over the last 12 games is not that much above the one before: 17 in 94 over "
        "the "
        "last 12 games, 91 in 453 before."
    )
    assert check_steady(games, "Nadia Izezno", about="record").verdict == "does not hold"


@pytest.mark.parametrize("k", [0, 20])
def test_who_never_or_always_did_it_is_as_he_was(k):
    counts = _counts(np.vstack([np.full(24, k), np.full(24, 5)]))
    hot, steady = (check(counts, "h00", about="record") for check in (check_hot, check_steady))
    assert (hot.verdict, steady.verdict) == ("does not hold", "holds")
    once = _counts(np.vstack([[0] * 23 + [1], np.full(24, 5)]))
    assert check_hot(once, "h00", about="record").verdict == "holds"
    assert check_steady(once, "h00", about="record").verdict == "does not hold"


@pytest.mark.slow
def test_what_cannot_be_checked_is_said(games):
    with pytest.raises(ClaimError, match="give a number above 1"):
        check_hot(games, "Nadia Izezno", factor=1)
    with pytest.raises(ClaimError, match="factor=inf: give a number above 1"):
        check_steady(games, "Nadia Izezno", factor=float("inf"))
    with pytest.raises(ClaimError, match="give a shorter stretch="):
        check_hot(games, "Nadia Izezno", stretch=200)
    with pytest.raises(ClaimError, match="steady needs two"):
        check_steady(games, "Nadia Izezno", since="2031-06-20")
    with pytest.raises(UnknownHitterError, match="the nearest are"):
        check_hot(games, "Nadja Izesno")
    with pytest.raises(CountsError, match="count them by game as well"):
        check_hot(tally(demo_season()), "Nadia Izezno")
    one = Counts.from_table(pd.DataFrame({"hitter": list("ab"), "hard": [1, 2], "swings": [9, 9]}))
    two = Counts.from_table(pd.DataFrame({"hitter": list("bc"), "hard": [1, 2], "swings": [9, 9]}))
    with pytest.raises(ClaimError, match="in one of the two periods"):
        check_more(two, "a", before=one)


def test_an_answer_says_what_a_streak_would_have_to_look_like():
    """Put into the table, so many hard-hit balls are called a streak, and clearly fewer are not."""
    k = _league(np.random.default_rng(5), hitters=40)
    claim = check_hot(_counts(k), "h00")
    assert claim.verdict != "holds"
    told = re.fullmatch(
        r"about (\d+) hard-hit balls in the 240 swings of the last 12 games, where there are "
        rf"{k[0, -12:].sum()}",
        claim.would_change,
    )
    least = int(told[1])
    chances, changes = {}, {}
    for events in (least - 12, least, least + 12):
        k[0, -12:] = events // 12
        k[0, -12 : -12 + events % 12] += 1
        claim = check_hot(_counts(k), "h00")
        chances[events], changes[events] = claim.chance, claim.would_change
    assert chances[least - 12] < 0.87 < chances[least] < chances[least + 12]
    assert chances[least] == pytest.approx(0.90, abs=0.03)
    assert chances[least + 12] > 0.92
    assert changes[least - 12].startswith("about ")
    assert re.match(rf"fewer than about \d+ .* games, where there are {least + 12}$", changes[least + 12])


def test_where_hardly_anybody_can_be_called_hot_a_note_says_what_it_would_take():
    """With 90 swings of a league without form it does; with 240 and much form a doubling mostly shows."""
    rng = np.random.default_rng(7)
    said = re.compile(
        r"hardly anybody can be called hot here: it takes a rate of (\.\d+) over the last 12 games, where "
        r"(\.\d+) is usual, and of hitters whose odds really doubled (fewer than one|\d) in 100 show one"
    )
    claim = check_hot(_counts(_league(rng, swings=8), swings=8), "h00")
    (told,) = filter(None, map(said.fullmatch, claim.notes))
    assert float(told[1]) > 1.8 * float(told[2])
    assert float(told[1]) == pytest.approx(int(re.search(r"\d+", claim.would_change)[0]) / 96, abs=0.001)
    lively = check_hot(_counts(_league(rng, form=0.4)), "h00")
    assert not any("hardly anybody" in note for note in lively.notes)


def test_where_nothing_would_be_a_streak_the_answer_says_so():
    k = _league(np.random.default_rng(6), hitters=2, swings=1)
    claim = check_hot(_counts(k, swings=1), "h00", stretch=1, fails_at=0.01)
    assert claim.verdict == "open"
    assert claim.claim.startswith("h00's true odds of hard-hit balls per swing over the last game are")
    assert "over the last one game" not in claim.say
    assert claim.would_change == (
        "more than one game can show: form moves rates so little here that not even 1 hard-hit ball in the "
        "1 swing of the last game would be called a streak"
    )
    assert claim.follow_up.startswith("Nobody can say yet; it would take more than one game can show: form")
