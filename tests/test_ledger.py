"""The swing ledger against the Official Baseball Rules, Definitions of Terms (from memory)."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hitlab import tally
from hitlab.counting import swing_ledger
from hitlab.counting.events import EVENTS
from hitlab.counting.facts import Conventions
from hitlab.errors import CountsError, MissingColumnsError
from hitlab.pitches.schema import OUTCOMES, RESULTS

TIP_AS_CONTACT = Conventions(foul_tip="contact")
SEEN = ("thrown", "swing", "take", "missed", "fouled", "tipped", "touched", "put_in_play", "bunt_attempt")


def flags(conventions: Conventions | None = None, **pitch: Any) -> set[str]:
    """Return the true flags of one pitch, among those that need no result and no hardness."""
    row = {"hitter": "Ada", "bunt": False, "check_swing": False, **pitch}
    ledger = swing_ledger(pd.DataFrame([row]), conventions=conventions)
    return {name for name in (*SEEN, "went", "held") if ledger[name].iloc[0]}


# Official Baseball Rules, Definitions of Terms (strike, ball, bunt, foul tip, foul ball), from memory.
RULES: list[tuple[dict[str, Any], set[str]]] = [
    ({"outcome": "ball"}, {"thrown", "take"}),
    ({"outcome": "called strike"}, {"thrown", "take"}),
    ({"outcome": "hit by pitch"}, {"thrown", "take"}),
    # A strike is a pitch "struck at by the batter and missed", also where it touches him.
    ({"outcome": "whiff"}, {"thrown", "swing", "missed"}),
    ({"outcome": "foul"}, {"thrown", "swing", "fouled", "touched"}),
    ({"outcome": "foul tip"}, {"thrown", "swing", "missed", "tipped"}),
    ({"outcome": "in play"}, {"thrown", "swing", "put_in_play", "touched"}),
    ({"outcome": "catcher's interference"}, {"thrown"}),
    ({"outcome": "automatic ball"}, set()),
    ({"outcome": "automatic strike"}, set()),
    ({"outcome": "intentional ball"}, set()),
    ({"outcome": "no pitch"}, set()),
    # A bunt is a batted ball "not swung at".
    ({"outcome": "whiff", "bunt": True}, {"thrown", "bunt_attempt"}),
    ({"outcome": "foul", "bunt": True}, {"thrown", "bunt_attempt"}),
    ({"outcome": "foul tip", "bunt": True}, {"thrown", "bunt_attempt"}),
    ({"outcome": "in play", "bunt": True}, {"thrown", "bunt_attempt"}),
    # A bunt that was pulled back is a take.
    ({"outcome": "ball", "bunt": True}, {"thrown", "take"}),
    # A check swing counts when the hitter went.
    ({"outcome": "whiff", "check_swing": True}, {"thrown", "swing", "missed", "went"}),
    ({"outcome": "ball", "check_swing": True}, {"thrown", "take", "held"}),
    ({"outcome": "called strike", "check_swing": True}, {"thrown", "take", "held"}),
    ({"outcome": "hit by pitch", "check_swing": True}, {"thrown", "take", "held"}),
    ({"outcome": "foul", "check_swing": None, "bunt": None}, {"thrown", "swing", "fouled", "touched"}),
]


@pytest.mark.parametrize(("pitch", "expected"), RULES)
def test_what_a_pitch_became(pitch: dict[str, Any], expected: set[str]) -> None:
    assert flags(**pitch) == expected


def test_every_outcome_stands_in_the_table_of_rules() -> None:
    assert {pitch["outcome"] for pitch, _ in RULES} == set(OUTCOMES)


def test_a_foul_tip_may_count_as_contact() -> None:
    assert flags(TIP_AS_CONTACT, outcome="foul tip") == {"thrown", "swing", "touched", "tipped"}
    assert flags(TIP_AS_CONTACT, outcome="foul tip", bunt=True) == {"thrown", "bunt_attempt"}


# 9.02 (from memory): no at-bat for a walk, a hit by pitch, a sacrifice, or interference.
AT_BAT = {"strikeout", "single", "double", "triple", "home run", "out", "double play", "error"}
AT_BAT |= {"fielder's choice"}
BASES = {"single": 1, "double": 2, "triple": 3, "home run": 4}


@pytest.mark.parametrize("result", RESULTS)
def test_what_a_plate_appearance_became(result: str) -> None:
    row = swing_ledger(pd.DataFrame({"hitter": ["Ada"], "outcome": ["in play"], "result": [result]})).iloc[0]
    assert row["ended"]
    assert row["at_bat"] == (result in AT_BAT)
    assert row["hit"] == (result in BASES)
    assert row["bases_gained"] == BASES.get(result, 0)


@pytest.mark.parametrize(
    ("speed", "flag", "hard", "unknown", "disputed"),
    [
        (95.0, None, True, False, False),
        (94.9, None, False, False, False),
        (94.9, True, True, False, True),  # the recorded flag wins
        (101.0, False, False, False, True),
        (101.0, True, True, False, False),
        (None, True, True, False, False),
        (None, False, False, False, False),
        (None, None, False, True, False),
        (float("nan"), None, False, True, False),
    ],
)
def test_flag_against_speed(speed: Any, flag: Any, hard: bool, unknown: bool, disputed: bool) -> None:
    table = pd.DataFrame({"hitter": ["Ada"], "outcome": ["in play"], "exit_mph": [speed], "hard": [flag]})
    row = swing_ledger(table.astype({"exit_mph": float, "hard": "boolean"})).iloc[0]
    assert (row["hit_hard"], row["hardness_unknown"], row["hardness_disputed"]) == (hard, unknown, disputed)


@pytest.mark.parametrize(
    ("source", "speed", "by_eye"),
    [("eye", 99.0, True), ("radar", None, False), (None, None, True), (None, 99.0, False)],
)
def test_who_judged(source: str | None, speed: float | None, by_eye: bool) -> None:
    row = {"hitter": "Ada", "outcome": "in play", "exit_mph": speed, "hard": True, "hard_source": source}
    table = pd.DataFrame([row]).astype({"exit_mph": float})
    found = swing_ledger(table).iloc[0]
    assert found["judged_by_eye"] == found["ticked_hard"] == by_eye
    soft = swing_ledger(table.assign(hard=False)).iloc[0]
    assert (soft["judged_by_eye"], soft["ticked_hard"]) == (by_eye, False)


def test_a_hard_foul_is_hard_only_where_asked() -> None:
    table = pd.DataFrame({"hitter": ["Ada"], "outcome": ["foul"], "exit_mph": [104.0]})
    assert not swing_ledger(table)["hit_hard"].iloc[0]
    assert swing_ledger(table, conventions=Conventions(hard_fouls=True))["hit_hard"].iloc[0]


def a_column(values: st.SearchStrategy[Any], rows: int) -> st.SearchStrategy[list[Any]]:
    return st.lists(values, min_size=rows, max_size=rows)


@st.composite
def pitch_tables(draw: st.DrawFn) -> pd.DataFrame:
    rows = draw(st.integers(1, 30))
    flag = st.sampled_from([True, False, None])
    return pd.DataFrame(
        {
            "hitter": draw(a_column(st.sampled_from(["Ada", "Bo", "Cyd"]), rows)),
            "outcome": draw(a_column(st.sampled_from(OUTCOMES), rows)),
            "strikes": draw(a_column(st.sampled_from([0, 1, 2]), rows)),
            "bunt": pd.array(draw(a_column(flag, rows)), dtype="boolean"),
            "check_swing": pd.array(draw(a_column(flag, rows)), dtype="boolean"),
            "hard": pd.array(draw(a_column(flag, rows)), dtype="boolean"),
            "exit_mph": np.array(draw(a_column(st.sampled_from([80.0, 95.0, 110.0, np.nan]), rows))),
            "result": draw(a_column(st.sampled_from([*RESULTS, None]), rows)),
        }
    )


conventions_of_all_kinds = st.builds(
    Conventions,
    hard_mph=st.sampled_from([90.0, 100.0]),
    foul_tip=st.sampled_from(["miss", "contact"]),
    hard_fouls=st.booleans(),
)


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore:hardness was judged by eye:hitlab.errors.HitlabWarning")
@settings(max_examples=40, deadline=None)
@given(table=pitch_tables(), conventions=conventions_of_all_kinds)
def test_identities_and_the_tally_is_the_ledger_summed(table: pd.DataFrame, conventions: Conventions) -> None:
    pitches = pl.from_pandas(table)  # the quickest engine; the six are held together elsewhere
    ledger = swing_ledger(pitches, conventions=conventions).to_pandas()
    counts = tally(pitches, conventions=conventions).table().set_index("hitter")
    for event in EVENTS.values():
        by_rows = ledger[event.flag].astype(int).groupby(ledger["hitter"]).sum()
        assert by_rows.to_dict() == counts[event.name].to_dict()

    c = counts
    interfered = (table["outcome"] == "catcher's interference").groupby(table["hitter"]).sum()
    assert (c["pitches"] == c["swings"] + c["takes"] + c["bunts"] + interfered).all()
    assert (c["swings"] == c["whiffs"] + c["contact"]).all()
    tips = c["foul_tips"] if conventions.foul_tip == "contact" else 0
    assert (c["swings"] == c["whiffs"] + c["fouls"] + c["in_play"] + tips).all()
    struck = c["contact"] if conventions.hard_fouls else c["in_play"]
    assert (c["hard"] + c["unmeasured"] <= struck).all()
    assert (c["hits"] <= c["at_bats"]).all()
    assert (c["at_bats"] <= c["plate_appearances"]).all()
    # hard/swing = contact/swing x hard/contact; with balls in play where fouls are not counted.
    some = struck > 0
    whole = c["hard"][some] / c["swings"][some]
    parts = struck[some] / c["swings"][some] * (c["hard"][some] / struck[some])
    # Three roundings of half a unit in the last place on the right, one on the left.
    np.testing.assert_allclose(parts, whole, rtol=4 * np.finfo(float).eps)


def test_no_outcome_column() -> None:
    with pytest.raises(MissingColumnsError, match="needs the column outcome"):
        swing_ledger(pd.DataFrame({"hitter": ["Ada"]}))


def test_a_column_of_a_flags_name_is_not_overwritten() -> None:
    with pytest.raises(CountsError, match="already has the column 'swing'"):
        swing_ledger(pd.DataFrame({"hitter": ["Ada"], "outcome": ["ball"], "swing": [1]}))


@pytest.mark.parametrize("bad", [{"hard_mph": 0.0}, {"hard_mph": 130.0}, {"foul_tip": "both"}])
def test_conventions_that_cannot_be(bad: dict[str, Any]) -> None:
    with pytest.raises(CountsError, match=next(iter(bad))):
        Conventions(**bad)


ROOT = Path(__file__).resolve().parent.parent
LEDGER = {"hitlab/pitches/schema.py", "hitlab/counting/events.py"}
LISTED_ELSEWHERE = {
    # An option's words are of a type; steps of a pattern are named as what they find.
    ("hitlab/approach/response_rows.py", ("called strike", "foul")): 1,
    ("hitlab/approach/patterns.py", ("ball", "foul", "whiff")): 1,
    # What one outcome is taken for by an eye that errs.
    ("hitlab/league/charted.py", ("foul", "foul tip")): 1,
    ("hitlab/league/charted.py", ("foul tip", "whiff")): 1,
    ("hitlab/league/charted.py", ("foul", "whiff")): 1,
    # Physics knows of no table, and has words of its own.
    ("hitlab/physics/one_swing.py", ("foul", "whiff")): 1,
    # Pitches that somebody saw, one by one.
    ("hitlab/exercises/lesson_01.py", ("ball", "foul", "foul tip", "in play", "whiff")): 1,
    ("hitlab/exercises/lesson_01.py", ("ball", "foul", "whiff")): 1,
    ("notebooks/source/01_count_every_swing.py", ("foul", "foul tip", "in play")): 1,
    ("notebooks/source/01_count_every_swing.py", ("foul", "in play")): 1,
    # The learner is asked for the list, which is held against the ledger; the count of a game made up.
    ("notebooks/source/01_count_every_swing.py", ("foul", "foul tip", "in play", "whiff")): 1,
    ("hitlab/exercises/lesson_01.py", ("foul", "foul tip", "in play", "whiff")): 1,
    ("notebooks/source/11_watch_what_follows_a_whiff.py", ("called strike", "whiff")): 1,
}


def outcomes_listed(code: str) -> Iterator[tuple[str, ...]]:
    """Find the lists, tuples and sets that hold two outcomes or more; a dict says something of each."""
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.List | ast.Tuple | ast.Set):
            words = {
                one.value for one in node.elts if isinstance(one, ast.Constant) and one.value in OUTCOMES
            }
            if len(words) > 1:
                yield tuple(sorted(words))


def test_a_list_of_outcomes_is_found():
    code = 'a = ["whiff", "foul"]\nb({"ball", *c, "called strike"})\nd = "foul", 1'
    code += '\ne = {"ball": 1, "foul": 2}'
    assert list(outcomes_listed(code)) == [("foul", "whiff"), ("ball", "called strike")]


def test_outcomes_are_listed_in_the_ledger_alone():
    sources = [*(ROOT / "hitlab").rglob("*.py"), *(ROOT / "notebooks" / "source").rglob("*.py")]
    assert len(sources) > 300
    found = Counter(
        (name, words)
        for path in sources
        if (name := path.relative_to(ROOT).as_posix()) not in LEDGER
        for words in outcomes_listed(path.read_text(encoding="utf-8"))
    )
    assert dict(found) == LISTED_ELSEWHERE, "read them from hitlab.pitches.schema or the ledger's flags"
