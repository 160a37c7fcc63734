"""The numbers that a lesson's sentence may say are those that its data give."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab.claims.verdicts import FAILS_AT
from hitlab.exercises import lesson_00, lesson_01, lesson_02, lesson_03, lesson_04, lesson_05, lesson_06
from hitlab.exercises.definitions import Sentence
from hitlab.exercises.library import find_lesson
from hitlab.exercises.shared import first_swings, later_swings, middle, season
from hitlab.physics.one_swing import swing_outcomes


def _read_a_spread() -> tuple[float, ...]:
    seen, swings, leagues = lesson_00.rates(), lesson_00.SWINGS, lesson_00.LEAGUES
    rng = np.random.default_rng(1)
    equals = (rng.binomial(swings, seen.mean(), (leagues, seen.size)) / swings).std(axis=1)
    luck = float((equals**2).mean())
    as_wide = int((equals >= seen.std()).sum())
    return (
        as_wide, as_wide + 1, swings, leagues, seen.size, seen.mean(), seen.std(), *middle(equals),
        luck / seen.var(), 0.9,
    )  # fmt: skip


def _count_every_swing() -> tuple[float, ...]:
    both = hitlab.counting.denominators(season(), "hard", minimum=lesson_01.MINIMUM).table()
    both = both.set_index("hitter")
    counts = season().table().set_index("hitter")
    hers, other = both.loc[lesson_01.THE_HITTER], both.loc[lesson_01.THE_OTHER]
    ahead = int((both["per_swings"] > hers["per_swings"]).sum())
    in_play = counts.loc[lesson_01.THE_HITTER, "in_play"]
    return (
        lesson_01.MINIMUM, len(both), ahead + 1, ahead, ahead - 1, 10, hers["hard"], hers["swings"], in_play,
        hers["hard"] / hers["swings"], hers["per_swings"], hers["per_in_play"],
        other["hard"], other["swings"], other["hard"] / other["swings"],
    )  # fmt: skip


def _weigh_small_samples() -> tuple[float, ...]:
    of = lesson_02
    first, later = first_swings(of.EARLY), later_swings(of.EARLY)
    table = first.table()
    hers = table.set_index("hitter").loc[of.THE_HITTER]
    rest = later.table().set_index("hitter").loc[of.THE_HITTER]
    hard, swings = hers["hard"], hers["swings"]
    own = swings / (swings + of.HALF_WEIGHT)
    return (
        hard, swings, 1 / 4, hard / swings, of.MEAN, table["hard"].sum() / table["swings"].sum(),
        of.HALF_WEIGHT, own * hard / swings + (1 - own) * of.MEAN,
        *hitlab.counting.share_interval(hard, swings, level=0.90), FAILS_AT,
        hitlab.check_above(first, of.THE_HITTER, of.CLAIMED).chance, len(table),
        rest["hard"], rest["swings"], rest["hard"] / rest["swings"],
    )  # fmt: skip


def _check_a_claim() -> tuple[float, ...]:
    of, table = lesson_03, season().table()
    hers = table.set_index("hitter").loc[of.THE_HITTER]
    on_the_list = int((table["swings"] >= of.MINIMUM).sum())
    return (
        hers["hard"], hers["swings"], 50 * round(hers["swings"] / 50), of.MINIMUM, on_the_list,
        hers["hard"] / hers["swings"], of.chance_best(),
    )  # fmt: skip


def _say_how_sure() -> tuple[float, ...]:
    of, rows = lesson_04, pd.read_parquet(hitlab.demo_season())
    theirs = rows["club"] == of.THE_CLUB
    early = rows[theirs & (pd.to_datetime(rows["date"]) < of.BEFORE)]
    law = hitlab.shrink(hitlab.tally(rows[~theirs]), "hard", "swings").law
    sheet = hitlab.tally(early).table().nlargest(of.KEPT, "swings")[["hitter", "hard", "swings"]]
    hers = hitlab.shrink(sheet, "hard", "swings", prior=law).table().set_index("hitter").loc[of.THE_HITTER]
    return (*hers[["hard", "swings", "rate", "low", "high"]], 0.90)


def _name_the_leader() -> tuple[float, ...]:
    of, table = lesson_05, season().table()
    hers = table.set_index("hitter").loc[of.THE_HITTER]
    fit = hitlab.shrink(season(), "contact", "swings")
    contact, swings = hers["contact"], hers["swings"]
    return (
        contact, swings, swings - contact, of.MINIMUM, int((table["swings"] >= of.MINIMUM).sum()), 5 / 6,
        contact / swings, fit.table().set_index("hitter").loc[of.THE_HITTER, "shrunk"], fit.mean,
        hitlab.check_above(season(), of.THE_HITTER, of.CLAIMED, event="contact").chance,
    )  # fmt: skip


def _strike_under_the_middle() -> tuple[float, ...]:
    """In inches and degrees, as the lesson prints them: where, what it is worth and brings, which shares."""
    launch = swing_outcomes(np.array([0.275, 0.525]), 0.0, 8.0, swing=lesson_06.HITTER).launch_deg
    swung = swing_outcomes(0.4, 0.0, np.array([3.0, 13.0]), swing=lesson_06.HITTER).launch_deg
    brings, per_degree = float(np.diff(launch)[0]), float(np.diff(swung)[0]) / 10
    held = lesson_06.held_still()
    return (
        1 / 4, 1 / 10, 1 / 2, round(brings / per_degree), int(brings), int(brings) + 1,
        held.offset_share, held.attack_share,
    )  # fmt: skip


SHOWN: dict[str, Callable[[], tuple[float, ...]]] = {
    "00.for-air": _read_a_spread,
    "01.for-air": _count_every_swing,
    "02.for-air": _weigh_small_samples,
    "03.for-air": _check_a_claim,
    "04.for-air": _say_how_sure,
    "05.for-air": _name_the_leader,
    "06.for-air": _strike_under_the_middle,
}
"""Exercise -> its numbers, counted or worked out anew."""


@pytest.mark.parametrize("name", SHOWN)
def test_the_numbers_of_a_sentence_are_those_of_the_data(name):
    """In the order of the form; a share is rounded to the decimals that it is said with."""
    form = next(one.form for one in find_lesson(name[:2]).exercises if one.id == name)
    assert isinstance(form, Sentence)
    assert form.figures is not None
    given = SHOWN[name]()
    assert len(form.figures) == len(given)
    for said, found in zip(form.figures, given, strict=True):
        assert said == round(float(found), len(repr(float(said)).partition(".")[2]))
