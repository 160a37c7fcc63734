"""What the public functions take first, counts or pitches: the one for the other is said in a sentence."""

from __future__ import annotations

import inspect
import re

import pandas as pd
import polars as pl
import pytest

import hitlab
from hitlab.approach.patterns import after, whiff
from hitlab.cli.checks import check
from hitlab.errors import CountsError, HitlabError, ReadingError

COUNTS = ("counts", "everything", "before", "first", "first_counts")
PITCHES = ("pitches", "table", "source", "reading_or_table")
# What else has to be given to a function, by the argument's name.
GIVEN = {
    "pattern": after(whiff()),
    "top_share": 0.1,
    "what": hitlab.situation("strikes=2"),
    "spot": hitlab.game.Spot(-1, 0, "empty"),
    "hitter": "Ada Frusk",
    "other": "Ben Brook",
    "value": 0.1,
    "responses": None,
    "eye": (84, 100, 180, 200),
    "club": "Larks",
    "season": "2031",
}


_HOMES = [hitlab, *filter(inspect.ismodule, (getattr(hitlab, name) for name in dir(hitlab)))]
PUBLIC = {
    name: getattr(home, name)
    for home in _HOMES
    if home not in (hitlab.physics, hitlab.plots)
    for name in dir(home)
}
"""Every public name that has to do with tables; those of the first level stand one level down as well."""


def _taking(names: tuple[str, ...]) -> list[str]:
    """Return the public functions whose first argument is called one of these."""
    found = []
    for name, public in PUBLIC.items():
        if name.startswith("check_"):  # takes either
            continue
        if inspect.isfunction(public) and (first := next(iter(inspect.signature(public).parameters), "")):
            found += [name] if first in names else []
    return found


def _call(name: str, first: object, tmp_path) -> None:
    public = PUBLIC[name]
    parameters = list(inspect.signature(public).parameters.values())
    needed = {one.name for one in parameters[1:] if one.default is inspect.Parameter.empty}
    given = dict.fromkeys(needed & {"inside", "now", "second_counts"}, first)
    given |= {"path": tmp_path / "out.parquet"} if "path" in needed else {}
    given |= {
        one: hitlab.two_rates.RateOf(*rate) for one, rate in _RATES.items() if one in needed - set(given)
    }
    given |= {one: GIVEN[one] for one in needed - set(given) if one in GIVEN}
    if name in ("compare_periods", "half_weight_sizes"):
        given["second"] = first
    if name == "opposing_pitcher":
        given["hand"] = "left"
    public(first, **given)


_RATES = {"first": ("whiffs", "swings"), "second": ("hard", "in_play")}


@pytest.fixture(scope="module")
def pitches():
    return pd.DataFrame({"hitter": ["Ada Frusk", "Ben Brook"] * 3, "outcome": ["ball", "whiff", "foul"] * 2})


@pytest.fixture(params=["pandas", "polars", "lazy", "reading", "file", "text"])
def pitch_table(request, pitches, tmp_path):
    path = tmp_path / "season.parquet"
    return {
        "pandas": lambda: pitches,
        "polars": lambda: pl.from_pandas(pitches),
        "lazy": lambda: pl.from_pandas(pitches).lazy(),
        "reading": lambda: hitlab.read_pitches(pitches),
        "file": lambda: hitlab.pitches.write_checked(pitches, path),
        "text": lambda: str(hitlab.pitches.write_checked(pitches, path)),
    }[request.param]()


def test_the_functions_that_take_counts_or_pitches_are_found():
    assert len(_taking(COUNTS)) >= 14
    assert len(_taking(PITCHES)) >= 16
    assert {"rate", "shrink", "split_rates", "compare_periods", "correlate_counts"} <= set(_taking(COUNTS))


@pytest.mark.parametrize("name", _taking(COUNTS))
def test_pitches_in_the_place_of_counts(name, pitch_table, tmp_path):
    with pytest.raises(
        CountsError, match="is a pitch table, and counts are needed: count it first with tally"
    ):
        _call(name, pitch_table, tmp_path)


@pytest.mark.parametrize("name", _taking(PITCHES))
def test_counts_in_the_place_of_pitches(name, pitches, tmp_path):
    counts = hitlab.tally(pitches)
    with pytest.raises(
        ReadingError, match=r"are counts already \(Counts by hitter\), and single pitches are needed"
    ) as raised:
        _call(name, counts, tmp_path)
    assert len(str(raised.value).splitlines()) == 1


def test_counts_by_outcome_are_taken_where_their_key_is_named():
    table = pd.DataFrame({"outcome": ["ball", "foul"], "pitches": [9, 5], "swings": [0, 5]})
    counts = hitlab.Counts.from_table(table, "outcome")
    assert hitlab.rate(counts, "swings", "pitches").table()["rate"].tolist() == [0, 1]
    with pytest.raises(CountsError, match="is a pitch table"):
        hitlab.Counts.from_table(table)


def test_a_frame_with_columns_by_and_data_is_a_frame(pitches):
    assert hitlab.tally(pitches.assign(by="x", data=1)).column("pitches").tolist() == [3, 3]


def test_something_else_is_refused_by_its_kind():
    for call in (lambda: hitlab.rate(7), lambda: hitlab.tally(7)):
        with pytest.raises(HitlabError, match="this is a int"):
            call()


def _with(parameter: str) -> list[str]:
    found = []
    for name, public in PUBLIC.items():
        if inspect.isfunction(public) and parameter in inspect.signature(public).parameters:
            found.append(name)
    return found


@pytest.mark.parametrize("parameter", ["event", "per"])
def test_every_rate_is_that_of_hard_hit_balls_per_swing_where_none_is_named(parameter):
    asked = _with(parameter)
    assert len(asked) >= 10
    for name in asked:
        default = inspect.signature(PUBLIC[name]).parameters[parameter].default
        assert default == {"event": "hard", "per": "swings"}[parameter], name


def test_the_rate_that_is_not_named(pitches):
    counts = hitlab.tally(pitches.assign(exit_mph=[None, None, 99.0] * 2))
    assert hitlab.rate(counts).title.startswith("hard-hit balls per swing")
    assert hitlab.rate(counts, "whiffs").title.startswith("whiffs per swing")
    assert hitlab.counting.denominators(counts).title.startswith("hard-hit balls over")


@pytest.mark.parametrize("command", sorted(check.commands))
def test_every_command_of_check_has_a_function_or_says_which_one_it_is(command):
    if hasattr(hitlab, f"check_{command}"):
        return
    with pytest.raises(AttributeError, match=f"hitlab has no check_{command}: write hitlab") as told:
        getattr(hitlab, f"check_{command}")
    name, way = re.search(r'write hitlab\.(\w+)\(\.\.\., direction="(\w+)"\)$', str(told.value)).groups()
    asked = {"check_above": {"value": 0.2}, "check_more": {"since": "May 15"}}[name]
    claim = getattr(hitlab, name)(hitlab.demo_season(), "Izezno", direction=way, **asked)
    assert claim.question.direction == way
