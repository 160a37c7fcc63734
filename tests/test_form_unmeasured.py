"""Form over time where some balls were not measured: a hole in the measuring is no cold spell."""

import re

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import check_steady, form_over_time, tally
from hitlab.over_time.form import Form


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
    assert not form.within_luck  # 0 in 60 swings, were they all known to be not hard
    assert form.unmeasured == 1.0
    assert "had 0 in 60 (36 balls not measured), .000" in form.explanation
    assert "more than luck" not in form.explanation
    assert form.explanation.endswith(
        "Whether that is luck cannot be told: hardness is unknown for up to 100 % of the contact in the best "
        "and the worst 12 games, which counts as not hard."
    )
    assert form.finding == "luck or not cannot be told"
    assert form.data["unknown"].tolist()[-13:] == [*range(0, 37, 3)]


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
    "coach": "hardness is unknown for up to 100 % of the contact in the best and the worst 12 games",
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
