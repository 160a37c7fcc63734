"""One name written in two ways: told, proposed, never made one in silence."""

from __future__ import annotations

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

import hitlab
from hitlab.pitches.identity import odd_names
from hitlab.pitches.lookalikes import looks
from hitlab.pitches.reading import Reading, read_pitches
from hitlab.pitches.rosters import near_names
from hitlab.pitches.wordforms import fold, fold_each

PAIRS = {
    "CYRILLIC CAPITAL LETTER A and LATIN CAPITAL LETTER A": ("Аda Frusk", "Ada Frusk"),
    "CYRILLIC SMALL LETTER O and LATIN SMALL LETTER O": ("Zоe Plome", "Zoe Plome"),
    "GREEK SMALL LETTER OMICRON and LATIN SMALL LETTER O": ("Zοe Plome", "Zoe Plome"),
    "FULLWIDTH LATIN CAPITAL LETTER A and LATIN CAPITAL LETTER A": ("Ａｄａ Frusk", "Ada Frusk"),
    "DIGIT ZERO and LATIN CAPITAL LETTER O": ("0live Yarl", "Olive Yarl"),
    "DIGIT ONE and LATIN SMALL LETTER L": ("Mi1a Plome", "Mila Plome"),
    "the order of their words": ("Frusk, Ada", "Ada Frusk"),
    "capitals": ("ADA FRUSK", "Ada Frusk"),
    "CYRILLIC SMALL LETTER IE and LATIN SMALL LETTER E": ("Bеo Kvаl", "Beo Kval"),
}


def _read(names: list[str], each: int, **more: object) -> Reading:
    return read_pitches(pd.DataFrame({"hitter": names * each, "outcome": "whiff", **more}))


@pytest.mark.parametrize("differ", PAIRS)
@pytest.mark.parametrize("each", [3, 400])
def test_two_names_that_look_the_same_are_told_and_proposed(differ: str, each: int) -> None:
    odd, plain = PAIRS[differ]
    reading = _read([odd, plain, plain, "Tomi Arlo"], each)
    (said,) = reading.report.odd_names
    assert said.startswith("hitter has names that seem to be one, written in two ways (")
    assert f"which differ in {differ}" in said
    assert f'under [words.hitter]: "{odd}" = "{plain}"' in said
    assert said in reading.report.cannot_tell
    (phrase,) = reading.report.doubts.said
    assert said.startswith(phrase)
    assert phrase.endswith("they count as different")
    (proposed,) = [one for one in reading.report.proposals if "Spellings" in one]
    assert f'"{odd}" = "{plain}"' in proposed
    assert reading.table["hitter"].nunique() == 3  # nothing was merged


def test_the_line_that_is_proposed_makes_them_one() -> None:
    odd, plain = PAIRS["CYRILLIC CAPITAL LETTER A and LATIN CAPITAL LETTER A"]
    frame = pd.DataFrame({"hitter": [odd, plain] * 60, "outcome": "whiff"})
    reading = read_pitches(frame, {"words": {"hitter": {odd: plain}}})
    assert reading.table["hitter"].unique().tolist() == [plain]
    assert reading.report.odd_names == ()


def test_the_answer_says_it() -> None:
    odd, plain = PAIRS["DIGIT ONE and LATIN SMALL LETTER L"]
    claim = hitlab.check_leads(_read([odd, plain, "Tomi Arlo", "Bo Yarl"], 40), "Tomi", event="whiffs")
    assert "hitter has names that seem to be one, written in two ways" in str(claim)


def test_counts_of_a_table_nobody_read_say_it_too() -> None:
    frame = pd.DataFrame({"hitter": [*PAIRS["GREEK SMALL LETTER OMICRON and LATIN SMALL LETTER O"], "Bo"]})
    counts = hitlab.tally(frame.assign(outcome="whiff"))
    assert any("count as 2 hitters" in note for note in counts.notes)


def test_names_in_another_script_are_names() -> None:
    names = [
        *("Анна Орлова", "Иван Петров", "Сара Рубо", "Оксана Тесла", "Үмүт Асан", "Умут Асан", "Нан Ако"),
        *("Ηλίας Νίκου", "Άννα Ρόκα", "Νίκος Βάλης", "Ζωή Μαρή", "さくら はな", "김하나", "ليلى", "דנה"),
        *("Anna Orlova", "Ivan Petrov", "Sara Rubo", "Oksana Tesla", "Ilias Nikou", "Zoi Mari", "Zoé Plome"),
        *("Zoe Plome", "Łucja Taviches", "Jiří Zhegorin", "Ada1", "Ada2", "A1", "Al", "No. 10", "Ian", "Lan"),
    ]
    assert _read(names, 1).report.odd_names == ()


@pytest.mark.parametrize("total", ["Total", "TOTALS", "Team total:", "Avg."])
def test_a_row_that_sums_up_others_is_told(total: str) -> None:
    (said,) = _read(["Ada Frusk", "Bo Yarl", total], 1).report.odd_names
    assert said.startswith(f"hitter is {total!r} in 1 row: whether that is a name or a sum of other rows")


def test_sums_are_no_part_of_names() -> None:
    assert _read(["Totaline Frusk", "Summer Yarl", "Avgust Plome"], 1).report.odd_names == ()


def test_what_is_no_letter_is_left() -> None:
    assert looks("Brown 10") == "brown 10"
    assert looks("#10") == "#10"
    assert looks("") == ""


def test_pitchers_too() -> None:
    report = _read(["Ada Frusk"], 2, pitcher=["Воb Yarl", "Bob Yarl"]).report
    assert any(one.startswith("pitcher has names that seem to be one") for one in report.odd_names)


def test_names_told_apart_by_their_number_are_not_near() -> None:
    counts = {f"hitter {number:03d}": 12 for number in range(1, 40)}
    assert near_names(counts) == []
    assert near_names({"Ada Frusk": 30, "Ada Frusk 2": 3}) == [("Ada Frusk 2", "Ada Frusk", 3)]


def test_an_initial_is_near_to_the_one_name_that_it_may_stand_for() -> None:
    assert near_names({"Adelaide Frusk": 300, "A. Frusk": 90}) == [("A. Frusk", "Adelaide Frusk", 90)]
    assert near_names({"Adelaide Frusk": 300, "Frusk, A": 9}) == [("Frusk, A", "Adelaide Frusk", 9)]
    assert near_names({"Adelaide Frusk": 300, "Abe Frusk": 200, "A. Frusk": 90}) == []
    assert near_names({"Adelaide Frusk": 300, "A. Yarl": 90, "B. Frusk": 80}) == []


def test_an_initial_stands_for_nobody_whom_the_roster_has_with_it() -> None:
    """Both stand in the roster: they are two; and a spelling is not held for a name and a name for it."""
    assert near_names({"A. Frusk": 90}, ["Ada Frusk", "A. Frusk"]) == []
    assert near_names({"A Frusk": 9, "Ada Frusk": 90}) == [("A Frusk", "Ada Frusk", 9)]
    assert near_names({"A Frusk": 90, "Ada Frusk": 9}) == [("A Frusk", "Ada Frusk", 90)]


def test_two_initials_are_two_and_a_slip_behind_one_is_a_slip() -> None:
    assert near_names({"A. Stenlade": 300, "B. Stenlade": 9}) == []
    assert near_names({"A. Stenlade": 300, "A. Stenalde": 9}) == [("A. Stenalde", "A. Stenlade", 9)]


def test_a_spelling_that_is_near_to_a_name_is_no_whole_name_of_an_initial() -> None:
    found = near_names({"Adelaide Frusk": 300, "Adelaide Frsuk": 4, "A. Frsuk": 20})
    assert ("A. Frsuk", "Adelaide Frsuk", 20) not in found


@given(
    st.lists(
        st.text(st.sampled_from("aA0. \t\r\n\x0b\x1c\x85\u2028\u00a0\u200b\u00adßİÉ&;"), max_size=6),
        max_size=5,
    )
)
def test_many_words_are_folded_as_each_is(words):
    assert fold_each(words) == [fold(word) for word in words]
    lines = [word.replace("\n", "") for word in words]
    assert fold_each(lines) == [fold(word) for word in lines]


def test_one_number_in_two_spellings_among_thousands_of_games_is_told():
    games = [f"g{number}" for number in range(4_000)]
    for other in ("G0017", "g17.0", " g&#49;7"):
        (said,) = odd_names({"game": dict.fromkeys([*games, other], 1)})
        assert f"'g17' and {other!r}" in said
    assert odd_names({"game": dict.fromkeys(games, 1)}) == ()
