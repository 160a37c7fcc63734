"""A club in a sentence: many players where its name says so, and whose the rate is."""

import re

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hitlab import check_above, check_ahead, check_leads, check_more, check_near, check_split, check_top
from hitlab.counting import Counts
from hitlab.wording import club_called, possessive
from tests.hostile_names import HOSTILE

CLUBS = ["Copperhollow Kites", "Dunmarrow Larks", "Ashferry United", "Lowmarsh Nine", "Tarnwick Foxgloves"]
HARD = [640, 560, 600, 480, 500]
WAYS = ("underlying", "record")


def counts(share: float = 1.0, more: int = 0) -> Counts:
    rows = {"club": CLUBS, "swings": [int(4000 * share)] * len(CLUBS)}
    return Counts.from_table(pd.DataFrame(rows | {"hard": [int(hard * share) + more for hard in HARD]}))


def claims(who: str, other: str) -> list:
    """Ask every kind that a club is asked by, of rates and records, either way round."""
    asked = []
    for about in WAYS:
        of = {"subject": "club", "about": about}
        asked += [
            check(counts(), who, *rest, direction=way, **of, **({"top": 2} if check is check_top else {}))
            for way in ("more", "less")
            for check, rest in (
                (check_leads, ()),
                (check_top, ()),
                (check_above, (0.145,)),
                (check_above, ("league",)),
                (check_ahead, (other,)),
            )
        ]
        asked += [check_near(counts(), who, value, **of) for value in (0.14, 0.3)]
        for way in ("more", "less", "either"):
            asked.append(check_more(counts(), who, before=counts(0.5, 9), direction=way, **of))
        for against in ("rest", "usual"):
            inside = counts(0.25, 9)
            asked.append(check_split(counts(), who, inside=inside, situation="late", against=against, **of))
    return asked


def said(claim) -> str:
    texts = (claim.claim, claim.say_in_full, claim.say, claim.headline, claim.avoid, claim.follow_up)
    return "\n".join((*texts, claim.would_change, *claim.notes, *claim.assumptions))


@pytest.mark.parametrize(("who", "other"), [(CLUBS[0], CLUBS[1]), (CLUBS[1], CLUBS[0])])
def test_a_club_of_many_is_many_in_every_sentence(who, other):
    for claim in claims(who, other):
        text = said(claim)
        for name in (who, other):
            assert f"{name}'s" not in text
            assert not re.search(rf"{name} (truly )?(most likely )?(has|is|does|was|leads)\b", text), text
            for at in re.finditer(rf"(\S*\s?){name}(?! hitters|:| \()", text):
                assert at[1].strip("“ \n").casefold() == "the", text
        for one in (claim.claim, claim.say_in_full, claim.avoid, claim.say, claim.headline):
            assert one.lstrip("“")[0].isupper(), one
        assert "Whether The" not in text
        assert not re.search(rf"[a-z,:;] The {who}", text), text


@pytest.mark.parametrize(("who", "other"), [(CLUBS[2], CLUBS[3]), (CLUBS[3], CLUBS[2])])
def test_a_club_of_one_name_stays_one(who, other):
    for claim in claims(who, other):
        text = said(claim)
        for name in (who, other):
            assert f"he {name}" not in text
            assert f"{name}' " not in text
            assert not re.search(rf"{name} (truly )?(have|are|do|were|lead)\b", text), text


def test_what_is_said_of_a_club_reads_as_somebody_says_it():
    kites = CLUBS[0]
    first = check_leads(counts(), kites, subject="club")
    assert first.claim.startswith("The Copperhollow Kites truly have the highest rate of hard-hit balls per")
    assert first.say_in_full.startswith("The Copperhollow Kites, with 640 in 4,000 swings, ")
    second = check_leads(counts(), "larks", subject="club")
    assert "the likeliest are the Copperhollow Kites (" in second.say_in_full
    assert any("the first are the Copperhollow Kites (.160)" in note for note in second.notes)
    above = check_above(counts(), kites, 0.2, subject="club", about="record")
    assert above.claim == "The Copperhollow Kites' observed rate of hard-hit balls per swing is above .200"
    assert above.say_in_full.startswith("The Copperhollow Kites have 640 in 4,000 swings: the observed rate ")
    ahead = check_ahead(counts(), kites, "larks", subject="club", about="record")
    assert ahead.claim.endswith("per swing is above the Dunmarrow Larks'")
    assert ahead.avoid.startswith("“The Copperhollow Kites are truly ahead of the Dunmarrow Larks in ")
    assert ahead.say.endswith("more often per swing than those of the Dunmarrow Larks: 640 of 4,000.")
    more = check_more(counts(), kites, before=counts(0.5, 9), subject="club")
    assert more.avoid.startswith("“The Copperhollow Kites have become a different club.” ")
    top = check_top(counts(), kites, top=2, subject="club", about="record")
    assert top.say.startswith("So far the Copperhollow Kites are among the two clubs whose hitters ")
    assert top.headline == "Copperhollow Kites: top two in hard-hit balls per swing? It stands"
    assert first.headline == "The Copperhollow Kites may truly lead the clubs in hard-hit balls per swing"
    united = check_ahead(counts(), "united", kites, subject="club")
    assert united.claim.startswith("Ashferry United's true rate ")


@pytest.mark.parametrize(
    ("name", "whose", "plural"),
    [
        ("Dunmarrow Larks", "the Dunmarrow Larks'", True),
        ("The Larks", "The Larks'", True),
        ("Ashferry United", "Ashferry United's", False),
        ("Highfell Moss", "Highfell Moss's", False),
        ("Saltmere Campus", "Saltmere Campus's", False),
        ("Lowmarsh Nine", "Lowmarsh Nine's", False),
        ("LRKS", "LRKS's", False),
        ("Club 7", "Club 7's", False),
        ("Ashferry Millers", "the Ashferry Millers'", True),
        ("the  Larks", "the  Larks'", True),
        ("San Otto Millers", "the San Otto Millers'", True),
        ("Tarnwell Greats", "the Tarnwell Greats'", True),
        ("Larks", "Larks's", False),  # of one word nobody knows whether it is a place
        ("Dallmas", "Dallmas's", False),
        ("Wilders", "Wilders's", False),
        ("St. Ottes", "St. Ottes's", False),
        ("Los Arbolles", "Los Arbolles's", False),
        ("north walles", "north walles's", False),
        ("Theodores", "Theodores's", False),
        ("The", "The's", False),
    ],
)
def test_a_club_is_many_where_its_last_word_is(name, whose, plural):
    called = club_called(name)
    assert (called.whose, called.plural) == (whose, plural)
    assert called.does("has", "have") == ("have" if plural else "has")


@given(st.text(max_size=30) | st.sampled_from(HOSTILE))
def test_any_name_of_a_club_can_stand_in_a_sentence(name):
    called = club_called(name)
    assert called.name.endswith(name)
    assert called.first.casefold() == called.name.casefold()
    assert called.whose.startswith(called.name)
    assert called.does("is", "are") == ("are" if called.plural else "is")
    assert club_called(called.name) == called  # no second article
    assert name.endswith(called.bare)


@pytest.mark.parametrize(
    ("club", "field", "topic"),
    [
        ("The Larks", "the Larks regulars", "The Larks"),
        ("Dunmarrow Larks", "the Dunmarrow Larks regulars", "the Dunmarrow Larks"),
        ("Ashferry United", "the Ashferry United regulars", "Ashferry United"),
    ],
)
def test_of_whose_hitters_somebody_is_the_first_is_said_with_one_article(club, field, topic):
    rows = {"hitter": ["Ada Velm", "Cy Drul", "Bo Thane", "Ed Orme"], "club": [club] * 3 + ["Herons"]}
    table = Counts.from_table(
        pd.DataFrame(rows | {"hard": [90, 60, 50, 40], "swings": [400] * 4}), by=["hitter"]
    )
    first = check_leads(table, "Ada Velm", club=club)
    assert f"{field} in hard-hit balls per swing" in first.headline
    assert re.search(rf"\b(of|for|in) {topic}\b", said(first)), said(first)
    two = check_top(table, "Ada Velm", top=2, club=club)
    assert f"among the two {field.removeprefix('the ').removesuffix(' regulars')} hitters who" in said(two)
    for claim in (first, two):
        assert not re.search(r"\bthe the\b", said(claim), re.IGNORECASE), said(claim)


def test_a_person_whose_name_ends_in_s_is_one():
    assert possessive("Abaliches") == "Abaliches's"
    assert possessive("Izezno") == "Izezno's"
    assert possessive("the Larks", plural=True) == "the Larks'"
