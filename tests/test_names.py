"""Who is meant by a name: one rule, and every public function that takes a name follows it."""

import inspect
from functools import cache, partial

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hitlab
from hitlab import plots
from hitlab.counting.counts import Counts
from hitlab.counting.finding import find_row, find_rows
from hitlab.errors import MissingColumnsError, UnknownHitterError
from hitlab.game.base_out import Spot
from hitlab.league.names import pitcher_names
from hitlab.names import find_name, find_places, fold, named, split_names

# --- the rule ---

PEOPLE = ["Nadia Izezno", "Nadia Nkobarev", "Søren Lerzandra", "Łucja Taviches", "J.P. O'Garnbeck-Wexlade"]


@pytest.mark.parametrize(
    ("typed", "place"),
    [
        ("Nadia Izezno", 0),
        ("nadia  IZEZNO ", 0),
        ("Izezno", 0),
        ("izezno", 0),
        ("IZEZNO, Nadia", 0),
        ("Soren Lerzandra", 2),
        ("søren", 2),
        ("lucja taviches", 3),
        ("jp ogarnbeck wexlade", 4),
        ("J. P. O’Garnbeck‐Wexlade", 4),
        ("wexlade", 4),
        ("O'Garnbeck", 4),
    ],
)
def test_a_name_is_found_however_it_is_typed(typed, place):
    assert find_name(typed, PEOPLE) == place


def test_the_first_kind_of_match_decides():
    labels = ["p2", "Ada Yarl", "ada yarl"]
    assert find_name("p2", labels, ids=["p1", "p2", "p3"]) == 1  # an id before a label
    assert find_name("Ada Yarl", labels) == 1  # as it stands before folded
    assert find_name("P2", labels) == 0
    # The whole name before a part of a longer one.
    assert find_name("yarl", ["Ada Yarl", "Yarl"]) == 1
    labels = ["Ada Yarl (Larks)", "Ada Yarl (Gulls)", "Gulls Yarl"]
    names = ["Ada Yarl", "Ada Yarl", "Gulls Yarl"]
    assert find_name("Ada Yarl (Gulls)", labels, names=names) == 1
    assert find_name("yarl, ada gulls", labels, names=names) == 1
    with pytest.raises(
        UnknownHitterError, match=r"2 hitters are called 'ada yarl': .*\(Larks\), .*\(Gulls\)"
    ):
        find_name("ada yarl", labels, names=names)


def test_several_are_offered_and_none_is_taken():
    said = r"2 hitters fit 'nadia': Nadia Izezno \(id h3\), Nadia Nkobarev \(id h7\)\. Give the id instead"
    with pytest.raises(UnknownHitterError, match=said):
        find_name("nadia", PEOPLE, ids=["h3", "h7", "h8", "h9", "h10"])
    with pytest.raises(UnknownHitterError, match="Give one of them as it stands"):
        find_name("nadia", PEOPLE)
    many = [f"Ada Yarl{end}" for end in "abcdefghijk"]
    with pytest.raises(
        UnknownHitterError, match=r"11 hitters fit 'Ada': Ada Yarla, .*Ada Yarlh and 3 more\."
    ):
        find_name("Ada", many)
    # What an error offers can be typed.
    assert find_name("Nadia Nkobarev (id h7)", PEOPLE, ids=["h3", "h7", "h8", "h9", "h10"]) == 1


def test_a_near_spelling_is_offered_and_never_taken():
    with pytest.raises(UnknownHitterError) as caught:
        find_name("Nadja Izezno", PEOPLE)
    assert str(caught.value).startswith("nobody here is called 'Nadja Izezno'; the nearest is Nadia Izezno")
    assert str(caught.value).endswith("There are 5 names in all")
    with pytest.raises(
        UnknownHitterError, match=r"^no pitcher on this picture is called 'Qqq'\. There is 1 name"
    ):
        find_name("Qqq", ["Ada Yarl"], what="pitcher", where="on this picture")
    with pytest.raises(UnknownHitterError, match="There are 0 names"):
        find_name("Ada", [])


@pytest.mark.parametrize("typed", ["", "  ", "\t\n"])
def test_nothing_typed_is_nobody(typed):
    with pytest.raises(UnknownHitterError, match="no hitter was named"):
        find_name(typed, PEOPLE)


@pytest.mark.parametrize("typed", ["-", "'", "...", ",", "()"])
def test_marks_alone_fit_nobody(typed):
    with pytest.raises(UnknownHitterError, match="nobody here"):
        find_name(typed, [*PEOPLE, "Ada -", "'"] if typed != "'" else PEOPLE)


@pytest.mark.parametrize("missing", [None, np.nan, pd.NA, pd.NaT])
def test_what_is_missing_matches_nothing(missing):
    with pytest.raises(UnknownHitterError):
        find_name(str(missing), ["Ada Yarl", "Ben Drox"], ids=["p1", missing], names=["Ada Yarl", missing])


def test_rows_of_one_person_are_no_two_candidates():
    labels, ids = ["Ada Yarl", "A. Yarl", "Ben Yarl"], ["p1", "p1", "p2"]
    assert find_name("p1", labels, ids=ids) == 0
    assert find_places("Ada", labels, ids=ids) == [0]
    assert find_places("P1", labels, ids=ids) == [0, 1]
    assert find_name("A Yarl", labels, ids=ids) == 1
    with pytest.raises(UnknownHitterError, match="2 hitters fit"):
        find_name("Yarl", labels, ids=ids)


def test_letters_that_are_another_letter_stay():
    assert fold("Søren Łuczak Đurić Þóra Weiß Œuvre Irmağı") == "soren luczak duric thora weiss oeuvre irmagi"
    # A voiced kana is another syllable, a vowel sign another vowel; the points of Hebrew may be left out.
    assert fold("がが") != fold("かか")
    assert fold("กุ") != fold("กู")
    assert fold("נָדִיָה") == fold("נדיה")


@settings(max_examples=400, deadline=None)
@given(st.text(max_size=20))
def test_folding_twice_is_folding_once(text):
    assert fold(fold(text)) == fold(text)
    assert fold(text) == " ".join(fold(text).split())


invented = st.integers(0, 10**6).map(lambda seed: pitcher_names(24, np.random.default_rng(seed), set()))


@settings(max_examples=60, deadline=None)
@given(invented, st.data())
def test_an_invented_name_is_found(people, data):
    place = data.draw(st.integers(0, len(people) - 1))
    first, surname = people[place].split(" ", 1)
    assert find_name(people[place], people) == place
    folded = [fold(one) for one in people]
    typed = [fold(people[place]), people[place].upper(), f"{surname.lower()}, {first}"]
    for one in typed:
        if folded.count(folded[place]) == 1:
            assert find_name(one, people) == place
    bearers = [at for at, one in enumerate(folded) if fold(surname) in one.split(" ")]
    if bearers == [place]:
        assert find_name(surname, people) == place
    else:
        with pytest.raises(UnknownHitterError, match=f"{len(bearers)} hitters fit"):
            find_name(surname, people)


@settings(max_examples=60, deadline=None)
@given(invented, st.lists(st.sampled_from("abcxyz -'é"), min_size=1, max_size=12).map("".join))
def test_who_is_found_has_every_word_that_was_typed(people, typed):
    try:
        place = find_name(typed, people)
    except UnknownHitterError:
        return
    assert set(fold(typed).split()) <= set(fold(people[place]).split())


@settings(max_examples=100, deadline=None)
@given(st.lists(st.text(min_size=1, max_size=6).filter(str.strip), min_size=1, max_size=6, unique=True))
def test_a_label_of_its_own_is_always_found(labels):
    for place, label in enumerate(labels):
        assert find_name(label, labels) == place


# --- names without quotation marks ---


def test_two_names_are_cut_where_both_are_found():
    find = partial(find_name, labels=[*PEOPLE, "Ada Mondezno", "Maria de la Cruzado"])
    assert split_names(["Nadia", "Izezno", "Ada", "Mondezno"], find) == ("Nadia Izezno", "Ada Mondezno")
    assert split_names(["izezno", "mondezno"], find) == ("izezno", "mondezno")
    assert split_names(["Nadia Izezno", "Ada", "Mondezno"], find) == ("Nadia Izezno", "Ada Mondezno")
    assert split_names(["Maria", "de", "la", "Cruzado", "Ada"], find) == ("Maria de la Cruzado", "Ada")
    with pytest.raises(UnknownHitterError, match=r"Ada Mondezna.*not two names.*the nearest is Ada Mondezno"):
        split_names(["Nadia", "Izezno", "Ada", "Mondezna"], find)
    with pytest.raises(UnknownHitterError, match="2 hitters fit 'Nadia': Nadia Izezno, Nadia Nkobarev"):
        split_names(["Nadia", "Mondezno"], find)
    # "Ada" and "Izezno" alone would be found, too; the longest name that was found tells what was meant.
    with pytest.raises(
        UnknownHitterError, match="nobody here is called 'Nadja Izezno'; the nearest are Nadia"
    ):
        split_names(["Ada", "Mondezno", "Nadja", "Izezno"], find)
    with pytest.raises(UnknownHitterError, match="no part of it is one hitter's name"):
        split_names(["Qqq", "Www"], find)
    with pytest.raises(UnknownHitterError, match=r"both names .* are the same hitter's"):
        split_names(["Ada", "Mondezno"], find)
    for few in ([], ["Ada"]):
        with pytest.raises(UnknownHitterError, match="two names are needed"):
            split_names(few, find)


def test_two_cuts_are_said_and_none_is_taken():
    find = partial(find_name, labels=["Ada Lark", "Lark Yarl", "Ada", "Yarl"])
    said = "can be two names in 2 ways: 'Ada' and 'Lark Yarl'; 'Ada Lark' and 'Yarl'. Put quotation marks"
    with pytest.raises(UnknownHitterError, match=said):
        split_names(["Ada", "Lark", "Yarl"], find)
    assert split_names(["Ada", "Lark Yarl"], find) == ("Ada", "Lark Yarl")


@settings(max_examples=30, deadline=None)
@given(invented, st.data())
def test_two_invented_names_are_cut(people, data):
    folded = [fold(one) for one in people]
    first, second = data.draw(st.permutations(range(len(people))))[:2]
    find = partial(find_name, labels=people)
    if folded.count(folded[first]) == folded.count(folded[second]) == 1:
        assert split_names([*people[first].split(), *people[second].split()], find) == (
            people[first],
            people[second],
        )


def test_one_name_is_joined():
    assert named(["Nadia", "Izezno"]) == named([" Nadia  Izezno"]) == "Nadia Izezno"
    for nothing in ([], ["", " "]):
        with pytest.raises(UnknownHitterError, match="nobody was named"):
            named(nothing)


# --- tables of counts ---


def test_a_row_of_counts():
    table = pd.DataFrame(
        {
            "hitter_id": ["p1", "p2", "p3"],
            "hitter": ["Ada Yarl", "Ada Yarl", "Ben Drox"],
            "club": ["A", "B", "B"],
        }
    ).assign(swings=[5, 6, 7])
    counts = Counts.from_table(table, by="hitter_id")
    assert counts.labels == ["Ada Yarl (A)", "Ada Yarl (B)", "Ben Drox"]
    assert [find_row(counts, one) for one in ("P2", "ada yarl (b)", "drox", "Ada Yarl (id p2)")] == [
        1,
        1,
        2,
        1,
    ]
    with pytest.raises(UnknownHitterError, match=r"2 hitters are called 'Ada Yarl': .*p1.*p2.*Give the id"):
        find_row(counts, "Ada Yarl")


def test_counts_of_one_hitter_in_several_rows_need_the_row():
    table = pd.DataFrame(
        {"hitter_id": ["p1", "p1", "p2"], "hitter": ["Ada Yarl", "Ada Yarl", "Ben Drox"]}
    ).assign(season=["2030", "2031", "2031"], swings=[5, 6, 7])
    counts = Counts.from_table(table, by=["hitter_id", "season"])
    assert find_row(counts, "Ada Yarl, 2031") == find_row(counts, "yarl 2031") == 1
    assert find_row(counts, "drox") == 2
    said = (
        "'Yarl' has 2 rows here: Ada Yarl, 2030, Ada Yarl, 2031. Give one of these, or count by hitter alone"
    )
    with pytest.raises(UnknownHitterError, match=said):
        find_row(counts, "Yarl")


@pytest.mark.parametrize(
    ("by", "typed", "wrong"),
    [
        ("pitcher", "shaw", "no pitcher here"),
        ("club", "larks", "no club here"),
        ("player", "shaw", "nobody here"),
    ],
)
def test_counts_by_others_find_them_too(by, typed, wrong):
    counts = Counts.from_table(pd.DataFrame({by: ["Ada Drayshaw Shaw", "Dunmarrow Larks"], "swings": [1, 2]}))
    assert find_row(counts, typed) == (typed == "larks")
    with pytest.raises(UnknownHitterError, match=f"^{wrong} is called 'x'"):
        find_row(counts, "x")


# --- tables of pitches ---


def pitches():
    return pd.DataFrame(
        [
            ("p1", "Ada Yarl", "Larks"),
            ("p1", "A. Yarl", "Gulls"),
            ("p2", "Ada Yarl", "Kites"),
            ("p3", "Ben Drox", "Kites"),
            ("p1", "Ada Yarl", "Larks"),
            (None, "Ben Drox", "Kites"),
            (None, "Eve Skarn", None),
            ("p4", None, "Kites"),
        ],
        columns=["hitter_id", "hitter", "club"],
    )


@pytest.mark.parametrize(
    ("typed", "rows"),
    [
        ("p1", [0, 1, 4]),
        ("a yarl", [0, 1, 4]),  # another spelling of the same person
        ("Ada Yarl (Gulls and Larks)", [0, 1, 4]),  # as counts of this table call him
        ("Ada Yarl (Kites)", [2]),
        ("Ada Yarl (Larks)", [0, 4]),
        ("Yarl, Ada, Larks", [0, 4]),
        ("Ada Yarl (p2)", [2]),
        ("drox", [3]),  # the row without an id is nobody's, as in the counts
        ("Ben Drox (Kites)", [3]),
        ("skarn", [6]),
        ("p4", [7]),
        ("not recorded", [7]),
    ],
)
def test_the_rows_of_one_hitter(typed, rows):
    for table in (pitches(), pitches().astype("category"), pitches().astype("string[pyarrow]")):
        assert np.flatnonzero(find_rows(table, typed)).tolist() == rows


@pytest.mark.slow
def test_rows_agree_with_the_counts_of_the_same_table():
    season = hitlab.league.make_season(hitters=30, clubs=3, pitches=6_000, seed=4).pitches
    counts = hitlab.tally(season)
    for place, label in enumerate(counts.labels):
        mine = find_rows(season, label)
        assert (mine == (season["hitter_id"] == counts.data["hitter_id"].iloc[place])).all()
        assert find_row(counts, label) == place


def test_rows_without_ids_go_by_name():
    table = pitches().drop(columns="hitter_id")
    assert np.flatnonzero(find_rows(table, "ada yarl")).tolist() == [0, 2, 4]
    assert np.flatnonzero(find_rows(table, "ada yarl (kites)")).tolist() == [2]
    assert np.flatnonzero(find_rows(table.drop(columns="club"), "drox")).tolist() == [3, 5]
    with pytest.raises(UnknownHitterError, match=r"2 hitters fit 'Yarl': Ada Yarl, A\. Yarl\."):
        find_rows(table, "Yarl")


def test_what_no_row_has():
    with pytest.raises(
        UnknownHitterError, match=r"2 hitters are called 'ada yarl': Ada Yarl \(Gulls and Larks\)"
    ):
        find_rows(pitches(), "ada yarl")
    for nobody in ("nan", "None", "Kites", "Eve Skarn (None)"):
        with pytest.raises(UnknownHitterError, match=r"^nobody in this table"):
            find_rows(pitches(), nobody, where="in this table")
    with pytest.raises(UnknownHitterError):
        find_rows(pitches().iloc[:0], "Ada Yarl")
    with pytest.raises(MissingColumnsError, match="column pitcher or pitcher_id"):
        find_rows(pitches(), "Ada Yarl", who="pitcher")


# --- every public function ---

THREE = ("Saltmere Lanterns", "Copperhollow Kites", "Westering Ploughs")
SPOT = Spot(-1, 1, "second")
WHO, OTHER = "Nadia Izezno", "Ada Mondezno"


@cache
def season():
    whole = pd.read_parquet(hitlab.demo_season())
    return whole[whole["club"].isin(THREE)].reset_index(drop=True)


@cache
def counts():
    return hitlab.tally(season())


@cache
def breaking():
    return hitlab.tally(season(), where="pitch_kind=breaking")


@cache
def by_game():
    few = season()[season()["hitter"].isin([WHO, OTHER, "Nadia Nkobarev"])]
    return hitlab.tally(few, by=["hitter", "game", "date"])


@cache
def outcomes():
    return hitlab.game.shrink_outcomes(hitlab.game.outcome_counts(season()))


@cache
def responses():
    return hitlab.approach.after_whiff(season(), responses=("whiff",))


def drawn(function, result, name):
    """Return the words on a picture; they name whoever was asked for."""
    from matplotlib import pyplot as plt

    try:
        ax = function(result, names=[name])
        parts = [ax, *ax.child_axes]
        words = sorted(text.get_text() for part in parts for text in part.texts)
        assert any(WHO in text for text in words)
    finally:
        plt.close("all")
    return words


@cache
def rate_of():
    return hitlab.rate(counts(), "hard", per="swings")


@cache
def fit():
    return hitlab.shrink(counts(), "hard", "swings")


@cache
def laid():
    return hitlab.counting.denominators(counts(), "hard")


@cache
def ready():
    return hitlab.approach.fastball_readiness(season())


@cache
def link():
    return hitlab.two_rates.correlate_counts(
        counts(),
        counts(),
        hitlab.two_rates.RateOf("whiffs", "swings"),
        hitlab.two_rates.RateOf("hard", "in_play"),
    )


ASKING = {
    ("check_above", "hitter"): lambda name: hitlab.check_above(counts(), name, 0.16).to_dict(),
    ("check_ahead", "hitter"): lambda name: hitlab.check_ahead(counts(), name, OTHER).to_dict(),
    ("check_ahead", "other"): lambda name: hitlab.check_ahead(counts(), OTHER, name).to_dict(),
    ("check_leads", "hitter"): lambda name: hitlab.check_leads(counts(), name, about="record").to_dict(),
    ("check_top", "hitter"): lambda name: hitlab.check_top(counts(), name, top=5, about="record").to_dict(),
    ("check_split", "hitter"): lambda name: hitlab.check_split(counts(), name, inside=breaking()).to_dict(),
    ("check_more", "hitter"): lambda name: hitlab.check_more(breaking(), name, before=counts()).to_dict(),
    ("check_near", "hitter"): lambda name: hitlab.check_near(counts(), name, 0.16).to_dict(),
    ("check_hot", "hitter"): lambda name: hitlab.check_hot(by_game(), name, about="record").to_dict(),
    ("check_steady", "hitter"): lambda name: hitlab.check_steady(by_game(), name, about="record").to_dict(),
    ("check_response", "hitter"): lambda name: hitlab.check_response(
        counts(), name, responses=responses()
    ).to_dict(),
    ("check_spot", "hitter"): lambda name: hitlab.check_spot(outcomes(), SPOT, name, minimum=80).to_dict(),
    ("check_spot", "candidates"): lambda name: hitlab.check_spot(
        outcomes(), SPOT, candidates=[name, OTHER]
    ).to_dict(),
    ("best_for_spot", "candidates"): lambda name: (
        hitlab.game.best_for_spot(outcomes(), SPOT, candidates=[name]).explanation
    ),
    ("form_over_time", "hitter"): lambda name: str(hitlab.form_over_time(by_game(), name, draws=200)),
    ("after_whiff", "hitter"): lambda name: str(
        hitlab.approach.after_whiff(season(), hitter=name, responses=("whiff",))
    ),
    ("cut_list", "hitter"): lambda name: str(
        hitlab.cut_list(season(), hitlab.situation("strikes=2"), hitter=name, most=3)
    ),
    ("two_denominators", "names"): lambda name: drawn(plots.two_denominators, laid(), name),
    ("denominators_side_by_side", "names"): lambda name: drawn(plots.denominators_side_by_side, laid(), name),
    ("talent_link", "names"): lambda name: drawn(plots.talent_link, link(), name),
    ("rank_chances", "names"): lambda name: drawn(plots.rank_chances, hitlab.ranks(fit()), name),
    ("rate_crowd", "names"): lambda name: drawn(plots.rate_crowd, rate_of(), name),
    ("rate_list", "names"): lambda name: drawn(plots.rate_list, rate_of(), name),
    ("against_league", "names"): lambda name: drawn(plots.against_league, ready(), name),
    ("shrinkage", "names"): lambda name: drawn(plots.shrinkage, fit(), name),
    ("win_chances", "names"): lambda name: drawn(
        plots.win_chances, hitlab.game.best_for_spot(outcomes(), SPOT, minimum=1), name
    ),
}
"""A public function and its argument that takes a hitter's name, and an answer to it."""


def test_every_argument_that_takes_a_hitter_is_asked():
    found = set()
    packages = [each for name in hitlab.__all__ if inspect.ismodule(each := getattr(hitlab, name))]
    for home in (hitlab, *packages):
        for name in home.__all__:
            function = getattr(home, name)
            if inspect.isfunction(function):
                parameters = inspect.signature(function).parameters
                found |= {
                    (name, each) for each in parameters if each in ("hitter", "candidates", "names", "other")
                }
    assert found == set(ASKING)


@pytest.mark.slow
@pytest.mark.parametrize("asked", ASKING, ids=" ".join)
def test_every_public_function_finds_a_name_alike(asked):
    answer = ASKING[asked]
    told = answer(WHO)
    assert "nadia izezno" not in str(told)
    for typed in ("nadia izezno", "Izezno", "IZEZNO, Nadia"):
        assert answer(typed) == told
    with pytest.raises(UnknownHitterError, match=r"the nearest are .*Nadia Izezno"):
        answer("Nadja Izezno")
    with pytest.raises(UnknownHitterError, match=r"2 hitters fit 'Nadia': Nadia Izezno.*, Nadia Nkobarev"):
        answer("Nadia")


def test_the_words_on_fouls_and_the_stretches_find_a_name_alike():
    for typed in ("nadia izezno", "Izezno", "IZEZNO, Nadia", "h003"):
        assert ready().direction_words(typed) == ready().direction_words(WHO)
    assert ready().direction_words("izezno").startswith("Nadia Izezno: of ")
    with pytest.raises(
        UnknownHitterError, match=r"nobody who swung at a fastball .* the nearest are Nadia Izezno"
    ):
        ready().direction_words("Nadja Izezno")


@pytest.mark.slow
def test_who_throws_is_found_alike():
    most = season()["pitcher"].value_counts().index[:8]
    few = season()[season()["pitcher"].isin(most)]
    thrown = few["pitcher"].value_counts()
    surnames = thrown.index.str.rpartition(" ").get_level_values(2)
    who = thrown.index[~surnames.duplicated(keep=False)][0]
    first, surname = who.split(" ", 1)
    told = hitlab.game.opposing_pitcher(few, pitcher=who)
    for typed in (surname.lower(), f"{surname.upper()}, {first}"):
        found = hitlab.game.opposing_pitcher(few, pitcher=typed)
        assert found.words == told.words == f"against {who}"
        np.testing.assert_array_equal(found.factors, told.factors)


def test_the_surname_is_one_hitter_s_in_the_whole_season():
    everybody = hitlab.tally(hitlab.demo_season())
    assert everybody.labels[find_row(everybody, "Izezno")] == WHO
    assert everybody.labels[find_row(everybody, "soren lerzandra")] == "Søren Lerzandra"
    with pytest.raises(UnknownHitterError, match="2 hitters fit 'Fencombe'"):
        find_row(everybody, "Fencombe")


def test_the_nearest_of_one_is_one():
    with pytest.raises(UnknownHitterError, match=r"the nearest is Jürgen Öztal\. There are 2 names in all"):
        find_name("Juergen Oztal", ["Jürgen Öztal", "Bea Lorne"])
