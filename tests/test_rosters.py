"""Numbers and nicknames become names; what is merely near is proposed and never taken."""

from __future__ import annotations

from pathlib import Path

import pandas as pd
import pytest

from hitlab.errors import ClaimError, ReadingError
from hitlab.pitches import open_checked, read_into
from hitlab.pitches.reading import read_pitches
from hitlab.pitches.rosters import load_roster, near_names, number_in
from hitlab.questions import Question

ROSTER = pd.DataFrame(
    {
        "number": ["12", "7", "0", "00", ""],
        "name": ["Ada Frusk", "Bea Plome", "Cy Drul", "Dee Izezno", "Fay Ommel"],
        "nickname": ["Frusky, Ace", "", "", "Dizzy", ""],
        "side": ["L", "r", "S", "right", ""],
        "class": ["2032", "", "2033", "", ""],
    }
)


def _read(hitters: list[str], **more: object) -> object:
    sheet = pd.DataFrame({"hitter": hitters, "outcome": "ball", **more})
    return read_pitches(sheet, roster=ROSTER)


@pytest.mark.parametrize(
    ("cell", "name"),
    [
        *(
            (cell, "Ada Frusk")
            for cell in ("12", "#12", "No. 12", "no 12", "# 12", "12.0", "012", "Number 12")
        ),
        *(
            (cell, "Ada Frusk")
            for cell in ("ace", "FRUSKY", "Ada  Frusk", "frusk", "Frusk, Ada", "12 Ada Frusk")
        ),
        ("#12 Ace", "Ada Frusk"),
        ("7", "Bea Plome"),
        ("0", "Cy Drul"),
        ("00", "Dee Izezno"),
    ],
)
def test_a_number_a_nickname_or_a_surname_is_a_name(cell: str, name: str) -> None:
    reading = _read([cell])
    assert reading.table["hitter"].tolist() == [name]


def test_what_the_roster_does_not_have_stays_and_is_listed() -> None:
    reading = _read(["44", "No. 44", "#44", "Izzeno", "12", "Bea Plomme"])
    # One number in three spellings is one hitter; a name that is merely near is nobody else's.
    assert reading.table["hitter"].tolist() == ["#44"] * 3 + ["Izzeno", "Ada Frusk", "Bea Plomme"]
    said = " ".join(reading.report.proposals)
    assert "Not in the roster, and kept as they stand: #44 (3)" in said
    assert '"Bea Plomme" = "Bea Plome"  (1 row)' in said
    # And the line that is proposed does what it says.
    sheet = pd.DataFrame({"hitter": ["Bea Plomme"], "outcome": "ball"})
    mended = read_pitches(sheet, {"words": {"hitter": {"Bea Plomme": "Bea Plome"}}}, roster=ROSTER)
    assert mended.table["hitter"].tolist() == ["Bea Plome"]


def test_a_number_and_a_name_of_two_people_wait() -> None:
    reading = _read(["12 Bea Plome", "7 Somebody", "7"])
    assert reading.table["hitter"].tolist() == ["Bea Plome"]
    reasons = reading.set_aside["reason"].tolist()
    assert reasons[0].startswith("a number and a name of two in the roster: Ada Frusk (number 12, row 1)")
    assert reasons[1].startswith(
        "a number of Bea Plome (number 7, row 2) with a name that the roster does not"
    )


def test_side_and_class_come_along() -> None:
    reading = _read(["12", "0", "7", "44"])
    side, years = (reading.table[name].fillna("-").tolist() for name in ("hitter_side", "class"))
    assert side == ["left", "-", "right", "-"]  # who hits from both sides is not told by a roster
    assert years == ["2032", "2033", "-", "-"]
    told = _read(["12", "0"], hitter_side=["right", "left"])
    assert told.table["hitter_side"].tolist() == ["right", "left"]  # the chart goes before the roster


def test_two_of_one_number_are_refused_with_both_rows(tmp_path: Path) -> None:
    path = tmp_path / "roster.csv"
    path.write_text("number,name\n12,Ada Frusk\n7,Bea Plome\n#12,Cy Drul\n")
    with pytest.raises(
        ReadingError,
        match=r"two of number 12: Ada Frusk \(number 12, row 2\) and Cy Drul \(number 12, row 4\)",
    ):
        load_roster(path)


def test_clubs_tell_two_of_one_number_apart() -> None:
    roster = pd.DataFrame(
        {"number": ["12", "12"], "name": ["Ada Frusk", "Cy Drul"], "club": ["Larks", "Owls"]}
    )
    sheet = pd.DataFrame({"hitter": ["12", "12", "12"], "club": ["larks", "Owls", ""], "outcome": "ball"})
    reading = read_pitches(sheet, roster=roster)
    assert reading.table["hitter"].tolist() == ["Ada Frusk", "Cy Drul"]
    assert reading.set_aside["reason"].tolist()[0].startswith("a number of two in the roster: Ada Frusk")
    with pytest.raises(ReadingError, match=r"No row of .* can be used"):
        read_pitches(sheet.drop(columns="club"), roster=roster)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("number,player\n12,Ada\n", "no column 'name'"),
        ("number,name\ntwelve,Ada\n", "row 2: 'twelve' is no number of a jersey"),
        ("side,name\nup,Ada\n", "'up' is no side"),
        ("name,number\n,12\n", "has no name in it"),
    ],
)
def test_a_roster_that_is_none_gives_one_clear_error(tmp_path: Path, content: str, words: str) -> None:
    path = tmp_path / "roster.csv"
    path.write_text(content)
    with pytest.raises(ReadingError, match=words):
        load_roster(path)


def test_near_names_are_gathered_about_the_more_frequent() -> None:
    counts = {"Nadia Izezno": 90, "Nadia Izzeno": 4, "Nadia Izezn": 2, "Bea Plome": 50, "#12": 9, "#13": 8}
    found = near_names(counts)
    assert found == [("Nadia Izzeno", "Nadia Izezno", 4), ("Nadia Izezn", "Nadia Izezno", 2)]
    # Two who are both in the roster are two, however near.
    assert near_names({"Ada Frusk": 5, "Ida Frusk": 5}, ["Ada Frusk", "Ida Frusk"]) == []


def test_numbers_are_numbers_of_jerseys_only() -> None:
    assert [number_in(text) for text in ("12", "#007", "00", "1234", "A12", "", "1.5")] == [
        "12",
        "7",
        "00",
        None,
        None,
        None,
        None,
    ]


# clubs, words and spellings


CLUBS = pd.DataFrame(
    {
        "number": ["12", "7", "9"],
        "name": ["Ada Frusk", "Bea Plome", "Cy Drul"],
        "nickname": ["Ace", "", ""],
        "side": ["L", "R", "R"],
        "club": ["Larks", "Owls", ""],
    }
)


@pytest.mark.parametrize(("cell", "kept"), [("12", "#12"), ("Frusk", "Frusk"), ("Ace", "Ace")])
def test_nobody_of_another_club_is_taken_for_ours(cell: str, kept: str) -> None:
    sheet = pd.DataFrame({"hitter": [cell, cell, cell], "club": ["Owls", "Larks", ""], "outcome": "ball"})
    reading = read_pitches(sheet, roster=CLUBS)
    assert reading.table["hitter"].tolist() == [kept, "Ada Frusk", "Ada Frusk"]
    assert f"Not in the roster, and kept as they stand: {kept} (1)" in " ".join(reading.report.proposals)
    # And not his side either.
    assert reading.table["hitter_side"].fillna("-").tolist() == ["-", "left", "left"]


def test_who_has_no_club_in_the_roster_is_found_in_any() -> None:
    sheet = pd.DataFrame({"hitter": ["9", "Drul"], "club": ["Owls", "Larks"], "outcome": "ball"})
    assert read_pitches(sheet, roster=CLUBS).table["hitter"].tolist() == ["Cy Drul", "Cy Drul"]


def test_clubs_that_are_called_otherwise_are_said() -> None:
    sheet = pd.DataFrame({"hitter": ["12", "7"], "club": ["LRK", "OWL"], "outcome": "ball"})
    (said,) = read_pitches(sheet, roster=CLUBS).report.alerts
    assert said.startswith("No club of the table (LRK, OWL) is one of ")
    words = {"words": {"club": {"LRK": "Larks", "OWL": "Owls"}}}
    reading = read_pitches(sheet, words, roster=CLUBS)
    assert reading.table["hitter"].tolist() == ["Ada Frusk", "Bea Plome"]
    assert not reading.report.alerts


def test_words_of_the_mapping_are_applied_once_and_before_the_roster() -> None:
    sheet = pd.DataFrame({"hitter": ["A", "Ada Frusk"], "outcome": "ball"})
    words = {"words": {"hitter": {"A": "Ada Frusk", "Ada Frusk": "Bea Plome"}}}
    assert read_pitches(sheet, words).table["hitter"].tolist() == ["Ada Frusk", "Bea Plome"]
    assert read_pitches(sheet, words, roster=ROSTER).table["hitter"].tolist() == ["Ada Frusk", "Bea Plome"]


def test_an_accent_of_two_signs_is_the_same_name() -> None:
    one, two = "Zo\u00eb Frusk", "Zoe\u0308 Frusk"
    roster = pd.DataFrame({"name": [two], "side": ["L"], "class": ["2032"]})
    reading = read_pitches(pd.DataFrame({"hitter": [one, two], "outcome": "ball"}), roster=roster)
    assert reading.table["hitter"].tolist() == [one, one]
    assert reading.table["hitter_side"].tolist() == ["left", "left"]
    assert reading.table["class"].tolist() == ["2032", "2032"]


def test_two_of_one_name_in_two_clubs_have_each_a_side_of_their_own() -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk"] * 2, "side": ["L", "R"], "club": ["Larks", "Owls"]})
    sheet = pd.DataFrame({"hitter": ["Ada Frusk"] * 3, "club": ["Owls", "Larks", ""], "outcome": "ball"})
    side = read_pitches(sheet, roster=roster).table["hitter_side"]
    assert side.fillna("-").tolist() == ["right", "left", "-"]


def _proposed(**columns: object) -> str:
    sheet = pd.DataFrame({"hitter": ["Nadia Izezno"] * 60 + ["Nadia Izezna"] * 20, "outcome": "ball"})
    return " ".join(read_pitches(sheet.assign(**columns)).report.proposals)


def test_two_whom_ids_or_clubs_tell_apart_are_not_proposed_as_one() -> None:
    assert '"Nadia Izezna" = "Nadia Izezno"  (20 rows)' in _proposed()
    assert '"Nadia Izezna" = "Nadia Izezno"' in _proposed(club="Larks", hitter_id="n1")
    assert "may be one name" not in _proposed(hitter_id=["n1"] * 60 + ["n2"] * 20)
    assert "may be one name" not in _proposed(club=["Larks"] * 60 + ["Owls"] * 20)


def test_two_who_are_often_there_are_two() -> None:
    assert near_names({"Ada Frusk": 400, "Ida Frusk": 300}) == []
    assert near_names({"Ada Frusk": 400, "Ida Frusk": 3}) == [("Ida Frusk", "Ada Frusk", 3)]


def test_the_club_is_the_rosters_where_the_table_tells_none() -> None:
    roster = pd.DataFrame(
        {
            "name": ["Ada Frusk", "Bea Plome", "Cy Drul"],
            "number": ["12", "7", ""],
            "club": ["Larks", "Owls", ""],
        }
    )
    sheet = pd.DataFrame({"hitter": ["12", "Bea Plome", "Cy Drul", "Dee Nabb"], "outcome": "ball"})
    reading = read_pitches(sheet, roster=roster)
    assert reading.table["club"].fillna("").tolist() == ["Larks", "Owls", "", ""]
    assert any(one.startswith("club is by ") and "in 2 row(s)" in one for one in reading.report.assumed)
    assert "club" not in read_pitches(sheet, roster=roster.drop(columns="club")).table
    assert "club" not in read_pitches(sheet, roster=roster.assign(club="")).table


def test_the_rosters_club_fills_blanks_as_the_table_spells_it() -> None:
    roster = pd.DataFrame(
        {"name": ["Ada Frusk", "Bea Plome", "Dee Nabb"], "club": ["Larks", "Owls", "Larks"]}
    )
    sheet = pd.DataFrame({"hitter": ["Ada Frusk", "Bea Plome", "Dee Nabb"], "outcome": "ball"})
    some = read_pitches(sheet.assign(club=["LARKS", "Herons", ""]), roster=roster)
    assert some.table["club"].tolist() == ["LARKS", "Herons", "LARKS"]
    # Where clubs are called otherwise in the table, one club would become two.
    others = read_pitches(sheet.assign(club=["LRK", "OWL", ""]), roster=roster)
    assert others.table["club"].fillna("").tolist() == ["LRK", "OWL", ""]


def test_a_club_that_only_the_roster_tells_can_be_asked_for() -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk", "Bea Plome", "Cy Drul"], "club": ["Larks", "Larks", "Owls"]})
    outcomes = {"Ada Frusk": "foul", "Bea Plome": "whiff", "Cy Drul": "whiff"}
    sheet = pd.DataFrame(
        {"hitter": [*outcomes] * 40, "outcome": [*outcomes.values(), "foul", "foul", "foul"] * 20}
    )
    question = Question(kind="leads", who="Bea Plome", event="whiffs", per="swings", club="Larks")
    claim = question.ask(read_pitches(sheet, roster=roster))
    assert claim.evidence["hitter"].tolist() == ["Bea Plome", "Ada Frusk"]
    with pytest.raises(ClaimError, match=r"no column club.*roster.*\[constants\] club"):
        question.ask(read_pitches(sheet))


@pytest.mark.parametrize("games", [["G1"] * 5, None])
def test_who_hits_for_another_club_in_the_same_game_is_not_the_rosters(games) -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk", "Bea Plome"], "club": ["Owls", "Owls"]})
    sheet = pd.DataFrame({"hitter": ["Ada Frusk"] * 3 + ["Bea Plome"] * 2, "outcome": "ball"})
    told = sheet.assign(club=["Larks", "", "Larks", "Owls", ""], **({} if games is None else {"game": games}))
    reading = read_pitches(told, roster=roster)
    assert reading.table["club"].fillna("").tolist() == ["Larks", "", "Larks", "Owls", "Owls"]
    assert reading.report.contradictions.empty
    assert any(one.startswith("club is by ") and "in 1 row(s)" in one for one in reading.report.assumed)


def test_the_rosters_club_is_the_same_in_pieces_as_in_the_whole(tmp_path) -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk", "Dee Nabb"], "club": ["Larks", "Larks"]})
    rows = [("G1", "Ada Frusk", "LARKS")] * 6 + [("G2", "Bea Plome", "Herons"), ("G2", "Dee Nabb", "")] * 3
    sheet = pd.DataFrame(rows, columns=["game", "hitter", "club"]).assign(outcome="ball")
    path = tmp_path / "sheet.csv"
    sheet.to_csv(path, index=False)
    whole = read_pitches(path, roster=roster).table
    assert whole.loc[whole["hitter"] == "Dee Nabb", "club"].tolist() == ["LARKS"] * 3
    read_into(path, tmp_path / "parts", roster=roster, rows_a_piece=6)
    parts = open_checked(tmp_path / "parts").df().sort_values("game", kind="stable", ignore_index=True)
    assert parts["club"].tolist() == whole["club"].tolist()


def test_who_is_in_two_clubs_of_the_roster_has_none_where_the_table_tells_none() -> None:
    roster = pd.DataFrame({"name": ["Ada Frusk"] * 2, "side": ["L", "R"], "club": ["Larks", "Owls"]})
    sheet = pd.DataFrame({"hitter": ["Ada Frusk"] * 2, "outcome": "ball"})
    assert "club" not in read_pitches(sheet, roster=roster).table
    told = read_pitches(sheet.assign(club=["Owls", ""]), roster=roster).table
    assert told["club"].fillna("").tolist() == ["Owls", ""]
