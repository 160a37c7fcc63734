"""Situations in a few words: what they choose, how they read, and what is refused."""

from __future__ import annotations

from typing import Any

import pandas as pd
import polars
import pytest

import hitlab
from hitlab.errors import ClaimError, ReadingError

TABLE = pd.DataFrame(
    {
        "hitter": "Ada",
        "outcome": "whiff",
        "pitch_kind": ["slider", "curveball", "sinker", None, "changeup"],
        "strikes": [2, 1, 2, 2, 0],
        "speed_mph": [84.0, 78.0, 95.0, float("nan"), 85.0],
        "bases": ["first second", "full", "first second", None, "second"],
        "check_swing": [True, False, None, None, True],
        "date": pd.to_datetime(["2031-05-01", "2031-05-02", "2031-05-02", None, "2031-05-09"]),
    }
)


@pytest.mark.parametrize(
    ("terms", "chosen", "words"),
    [
        (["pitch_kind=breaking"], 2, "against breaking balls"),
        (["pitch_kind=slider,changeup"], 2, "against sliders or changeups"),
        (["strikes=2"], 3, "with two strikes"),
        (["date>=2031-05-02"], 3, "from 2031-05-02 on"),
        (["date<=2031-05-02"], 3, "up to 2031-05-02"),
        (["date=2031-05-01,2031-05-09"], 2, "on 2031-05-01 or 2031-05-09"),
        (["strikes=0,1"], 2, "with no or one strikes"),
        (["strikes=1"], 1, "with one strike"),
        (["strikes<=1"], 2, "with one or fewer strikes"),
        (["strikes>=1"], 4, "with one or more strikes"),
        (["bases=first second"], 2, "with runners on first and second"),
        (["bases=full,second"], 2, "with the bases full or with a runner on second"),
        (
            ["bases=first,second,third,first second,first third,second third,full"],
            4,
            "with runners on",
        ),
        (["runners on"], 4, "with runners on"),
        (
            ["bases=second,third,first second,first third,second third,full"],
            4,
            "with a runner on second or third",
        ),
        (["runner on second or third"], 4, "with a runner on second or third"),
        (["speed_mph>=85"], 2, "against pitches of 85 or more mph"),
        (["speed_mph<=84"], 2, "against pitches of 84 or less mph"),
        (["check_swing=true"], 2, "where check swing is true"),
        (["pitch_kind = fastball", "strikes=2"], 1, "against fastballs and with two strikes"),
        (
            ["bases=full,second", "strikes=0"],
            1,
            "with no strikes, and with the bases full or with a runner on second",
        ),
        (
            ["bases=full", "pitch_kind=curveball", "strikes=1"],
            1,
            "against curveballs and with the bases full and one strike",
        ),
    ],
)
def test_a_situation_chooses_its_pitches_and_says_so(terms, chosen, words):
    found = hitlab.situation(*terms)
    assert found.words == words
    assert hitlab.tally(TABLE, where=found).column("swings").tolist() == [chosen]


@pytest.mark.parametrize(
    ("term", "message"),
    [
        ("breaking", "is not a situation; write column=value"),
        ("pitch_knd=slider", "did you mean pitch_kind"),
        ("pitch_kind=slidr", "'slidr' is not a pitch kind; accepted are: four-seam fastball"),
        ("strikes=two", "'two' is not a number"),
        ("strikes>=1,2", "give one number after >="),
        ("club>=3", "only = works with it"),
        ("check_swing=perhaps", "check_swing is true or false"),
    ],
)
def test_what_is_no_situation_is_refused_in_a_sentence(term, message):
    with pytest.raises(ClaimError, match=message):
        hitlab.situation(term)


def test_each_accepted_word_is_named_once():
    with pytest.raises(ClaimError) as refused:
        hitlab.situation("pitch_kind=slidr")
    named = str(refused.value).partition("accepted are: ")[2].split(", ")
    assert "breaking" in named
    assert len(named) == len(set(named))


def test_no_term_is_no_situation():
    with pytest.raises(ClaimError, match="at least one term"):
        hitlab.situation()


def test_a_chart_may_tell_the_family_alone():
    """From the dugout hardly anybody tells a cutter from a slider; a breaking ball is one either way."""
    kinds = ["fastball", "four-seam fastball", "Breaking", "slider", "offspeed", "other"]
    sheet = pd.DataFrame({"hitter": "Ada Frusk", "outcome": "whiff", "pitch_kind": kinds})
    pitches = hitlab.read_pitches(sheet).table
    assert pitches["pitch_kind"].notna().all()
    seen = {
        asked: int(hitlab.tally(pitches, where=hitlab.situation(f"pitch_kind={asked}")).data["pitches"].sum())
        for asked in ("fastball", "breaking", "offspeed", "slider")
    }
    assert seen == {"fastball": 2, "breaking": 2, "offspeed": 1, "slider": 1}


def _texts(form: str, kind: str) -> Any:
    table = TABLE.assign(date=TABLE["date"].dt.strftime(form))
    if kind == "pandas":
        return table
    made = polars.from_pandas(table)
    return made if kind == "polars" else made.lazy() if kind == "lazy" else made.to_arrow()


@pytest.mark.parametrize("kind", ["pandas", "polars", "lazy", "arrow"])
@pytest.mark.parametrize("form", ["%Y-%m-%d", "%d/%m/%Y"])
def test_days_that_are_text_in_a_table_nobody_read_are_refused_with_the_mend(form: str, kind: str) -> None:
    table = _texts(form, kind)
    mend = r"days are asked for, and the column date holds text, no days.*hitlab\.read_pitches\(table\)"
    for asked in (
        lambda: hitlab.check_leads(table, "Ada", since="May", event="whiffs"),
        lambda: hitlab.check_leads(table, "Ada", until="2031-05-02", event="whiffs"),
        lambda: hitlab.check_leads(table, "Ada", when="date>=2031-05-02", event="whiffs"),
        lambda: hitlab.tally(table, where="date>=2031-05-02"),
        lambda: hitlab.tally(table, events={"late": "swings at date>=2031-05-02"}),
    ):
        with pytest.raises(ReadingError, match=mend):
            asked()
    assert int(hitlab.tally(table).column("swings").sum()) == len(TABLE)


def test_read_first_they_are_days() -> None:
    reading = hitlab.read_pitches(_texts("%Y-%m-%d", "pandas"))
    assert int(hitlab.tally(reading, where="date>=2031-05-02").column("swings").sum()) == 3


@pytest.mark.parametrize(
    ("term", "said"),
    [
        ("strikes=7", r"'strikes=7': strikes is a whole number from 0 to 2"),
        ("strikes=1,3", r"strikes is a whole number from 0 to 2"),
        ("strikes=1.5", r"strikes is a whole number from 0 to 2"),
        ("balls=-1", r"balls is a whole number from 0 to 3"),
        ("outs>=3", r"outs is a whole number from 0 to 2"),
        ("balls<=-1", r"balls is a whole number from 0 to 3"),
        ("speed_mph>=840", r"speed_mph is a number from 20 to 120 mph"),
        ("speed_mph=nan", r"speed_mph is a number from 20 to 120 mph"),
    ],
)
def test_a_number_that_no_pitch_can_have_is_refused_with_those_there_can_be(term: str, said: str) -> None:
    with pytest.raises(ClaimError, match=said):
        hitlab.situation(term)
    with pytest.raises(ClaimError, match=said):
        hitlab.tally(TABLE, events={"mine": f"takes at {term}"}, trust=True)


@pytest.mark.parametrize("term", ["strikes<=2", "strikes<=9", "balls>=-1", "speed_mph>=0", "strikes<=1.5"])
def test_a_bound_that_leaves_some_or_all_is_taken(term: str) -> None:
    assert hitlab.situation(term).terms == (term,)
