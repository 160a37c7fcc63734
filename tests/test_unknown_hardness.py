"""Where much contact is of unknown hardness, bounds stand in place of rates, and nobody is ranked."""

import json

import numpy as np
import pandas as pd
import pytest

import hitlab
from hitlab import (
    Conventions,
    check_above,
    check_ahead,
    check_hot,
    check_leads,
    check_more,
    check_near,
    check_response,
    check_split,
    demo_season,
    ranks,
    rate,
    shrink,
)
from hitlab.cli.commands import run
from hitlab.counting import denominators
from hitlab.counting.counts import Counts, pair
from hitlab.counting.facts import MOST_UNKNOWN
from hitlab.counting.intervals import share_interval
from hitlab.errors import ClaimError, CountsError
from hitlab.estimates import leader_by_minimum
from hitlab.wording import rate_text

HARD_FOULS = Conventions(hard_fouls=True)


@pytest.fixture
def lines():
    """Ada and Eve are measured, Ben just so far that his rate stands, Cy and Dot too little."""
    return pd.DataFrame(
        {
            "hitter": ["Ada Yarl", "Ben Drox", "Cy Plome", "Dot Zelm", "Eve Skarn"],
            "pitches": [900, 820, 700, 640, 460],
            "swings": [422, 400, 330, 300, 225],
            "contact": [338, 310, 250, 230, 150],
            "in_play": [178, 160, 130, 120, 100],
            "hard": [67, 40, 45, 30, 21],
            "unmeasured": [0, 32, 27, 60, 0],
        }
    )


@pytest.fixture(scope="module")
def with_fouls():
    """The demo season has no speed for fouls, so that half of the contact is of unknown hardness."""
    return hitlab.tally(hitlab.demo_season(), conventions=HARD_FOULS)


def test_beyond_a_share_of_unknown_contact_stand_two_bounds_and_no_rate(lines):
    table = rate(lines, "hard", "swings").table().set_index("hitter")
    assert MOST_UNKNOWN == 0.20
    assert table["rate"].isna().tolist() == [False, False, True, True, False]  # 32 of 160 is not beyond it
    cy = table.loc["Cy Plome"]
    assert (cy["swings"], cy["unknown"]) == (330, 27)
    assert (cy["least"], cy["most"]) == (45 / 330, 72 / 330)
    assert cy["low"] == share_interval(45, 330)[0]
    assert cy["high"] == share_interval(72, 330)[1]
    ben = table.loc["Ben Drox"]
    assert (ben["rate"], ben["least"], ben["most"]) == pytest.approx((40 / 320, 40 / 400, 72 / 400))


def test_unknown_contact_stays_in_a_denominator_of_contact_where_no_rate_is_given(lines):
    table = rate(lines, "hard", "in_play").table().set_index("hitter")
    assert table["in_play"].tolist() == [178, 128, 130, 120, 100]  # Ben's alone without the unknown
    assert table["unknown"].tolist() == [0, 0, 27, 60, 0]
    assert table.loc["Dot Zelm", ["least", "most"]].tolist() == [30 / 120, 90 / 120]
    assert table.loc["Dot Zelm", "high"] == share_interval(90, 120)[1]
    assert rate(lines, "hard", "in_play", minimum=129).table()["hitter"].tolist() == ["Ada Yarl", "Cy Plome"]


def test_the_share_is_an_argument(lines):
    table = rate(lines, "hard", "swings", most_unknown=0.5).table()
    assert table["rate"].notna().all()
    assert table["rate"].iloc[3] == 30 / (300 * 0.5)  # 60 of 120 is not beyond a half
    assert rate(lines, "hard", "swings", most_unknown=0.0).table()["rate"].notna().sum() == 2
    for share in (-0.1, 1.1, float("nan")):
        with pytest.raises(CountsError, match=r"most_unknown=.*: give a share from 0 to 1, such as 0\.20"):
            rate(lines, "hard", "swings", most_unknown=share)


def test_nothing_else_changes_below_the_share(lines):
    little = Counts.from_table(lines.assign(unmeasured=[9, 8, 7, 6, 0]))
    for per in ("pitches", "swings", "in_play"):
        both = pair(little, "hard", per, most_unknown=MOST_UNKNOWN)
        bare = pair(little, "hard", per)
        np.testing.assert_array_equal(both.rate, bare.rate)
        np.testing.assert_array_equal(both.exposure, bare.exposure)
        assert not both.bounded.any()
    assert "least" not in rate(little, "hard", "in_play").data.columns
    assert not rate(little, "hard", "in_play").notes
    assert list(denominators(little, "hard").data.columns)[-2:] == ["per_in_play", "rank_in_play"]


def test_the_text_shows_bounds_after_the_rates_and_says_why(lines):
    shown = rate(lines, "hard", "swings")
    people = shown.table_for_people()
    assert people["hitter"].tolist() == ["Ada Yarl", "Ben Drox", "Eve Skarn", "Cy Plome", "Dot Zelm"]
    assert people["rate"].tolist() == [".159", ".125", ".093", ".136 to .218", ".100 to .300"]
    assert (
        "more than 20 % of the contact is of unknown hardness in 2 of 5 groups: no rank there, and in place "
        "of a rate its two bounds, from none of the unknown hard to all of it"
    ) in str(shown)


def test_denominators_give_bounds_and_no_rank(lines):
    laid = denominators(lines, "hard", ("swings", "in_play"))
    table = laid.table().set_index("hitter")
    assert table["rank_swings"].isna().tolist() == [False, False, True, True, False]
    assert table["per_in_play"].isna().tolist() == [False, False, True, True, False]
    assert table.loc["Dot Zelm", ["in_play", "least_in_play", "most_in_play"]].tolist() == [120, 0.25, 0.75]
    assert table["least_in_play"].isna().tolist() == [True, True, False, False, True]
    assert table["rank_in_play"].dropna().tolist() == [1, 2, 3]
    people = laid.table_for_people().set_index("hitter")
    assert people.loc["Dot Zelm"].tolist() == [30, ".100 to .300", ".250 to .750"]
    text = str(laid)
    assert laid.title.endswith("; each rate with its rank, or two bounds in place of both")
    assert "per swing: Ada Yarl leads, .159 of 422" in text
    assert "more than 20 % of the contact is of unknown hardness in 2 of 5 groups" in text
    assert text.index("Eve Skarn") < text.index("Cy Plome") < text.index("Dot Zelm")
    assert denominators(lines, "hard", ("swings",), most_unknown=0.5).table()["rank_swings"].notna().all()


def test_shrinking_notes_it_and_leaves_the_others_to_be_ranked(lines):
    fit = shrink(lines, "hard", "swings")
    assert fit.bounded.tolist() == [False, False, True, True, False]
    assert fit.data["rate"].isna().tolist() == fit.bounded.tolist()
    assert fit.data.loc[2, ["least", "most"]].tolist() == [45 / 330, 72 / 330]
    note = next(note for note in fit.notes if "unknown hardness in 2 of 5 groups" in note)
    assert note.endswith("suppose it as often hard as the measured, which nothing here tells")
    assert ".136 to .218" in str(fit)
    ranked = ranks(fit)
    assert sorted(ranked.data["hitter"]) == ["Ada Yarl", "Ben Drox", "Eve Skarn"]
    assert ranked.notes == ("2 more are not ranked, with more than 20 % of the contact of unknown hardness",)
    assert ranked.data["chance_best"].sum() == pytest.approx(1)
    assert leader_by_minimum(fit, [0])["compared"].tolist() == [3]
    few = lines.assign(swings=[180, 170, 330, 300, 140])
    with pytest.raises(
        ClaimError, match=r"^everybody with at least 200 swings has more than 20 % of the con"
    ):
        ranks(shrink(few, "hard", "swings"), minimum=200)


@pytest.mark.slow
def test_nobody_is_ranked_where_too_much_of_all_contact_is_unknown(with_fouls):
    fit = shrink(with_fouls, "hard", "swings")
    said = (
        r"^hardness is unknown for 49 % of the contact, more than 20 %, so nobody is ranked by hard-hit "
        r"balls per swing: measure more of it, count without hard fouls, or give shrink a larger "
        r"most_unknown=$"
    )
    for refused in (lambda: ranks(fit), lambda: leader_by_minimum(fit)):
        with pytest.raises(ClaimError, match=said):
            refused()
    allowed = shrink(with_fouls, "hard", "swings", most_unknown=0.7)
    assert len(ranks(allowed, minimum=150).data) == 103
    assert not [note for note in allowed.notes if "bounds" in note]
    assert not fit.data["rate"].notna().any()


def test_the_mend_names_hard_fouls_only_where_they_are_counted(lines):
    everybody = lines.assign(unmeasured=[60, 60, 60, 60, 40])
    with pytest.raises(ClaimError, match=r"measure more of it, or give shrink a larger most_unknown=$"):
        ranks(shrink(everybody, "hard", "swings"))


@pytest.mark.slow
def test_a_claim_about_the_record_speaks_of_bounds(with_fouls, lines):
    claim = check_leads(with_fouls, about="record")
    me = with_fouls.labels.index("Nadia Izezno")
    assert claim.numbers["hitter"] == "Nadia Izezno"  # the highest lower bound
    assert "Nadia Izezno has .197 to .501, 108 in 547 swings (166 balls not measured)" in claim.say_in_full
    assert (claim.numbers["least"], claim.numbers["most"]) == (108 / 547, 274 / 547)
    assert with_fouls.data.loc[me, "hard"] == 108
    assert "rate" not in claim.numbers
    above = check_above(with_fouls, "Nadia Izezno", 0.16, about="record")
    assert "the observed rate of hard-hit balls per swing, .197 to .501, is above .160" in above.say_in_full
    per_contact = check_above(with_fouls, "Nadia Izezno", 0.4, per="contact", about="record")
    assert per_contact.verdict == "open"
    assert "108 in 410 contacts (166 balls not measured)" in per_contact.say_in_full
    behind = check_leads(lines.assign(hard=[97, 40, 45, 30, 21]), "Cy Plome", about="record")
    assert behind.verdict == "does not hold"
    assert "with .136 to .218" in behind.say_in_full


def test_the_evidence_of_a_claim_shows_no_estimate_where_there_is_none(with_fouls, lines):
    claim = check_leads(with_fouls)
    assert claim.verdict == "open"
    assert claim.evidence[["rate", "shrunk", "low", "high"]].isna().all(axis=None)
    assert (claim.evidence["least"] < claim.evidence["most"]).all()
    shown = claim.evidence_for_people()
    assert list(shown.columns) == ["hitter", "hard", "swings", "unknown", "rate"]
    assert shown["rate"].str.fullmatch(r"\.\d{3} to \.\d{3}").all()
    assert claim.chance is None
    assert claim.verdict_line == "OPEN (this table cannot tell it)"
    assert claim.say_in_full.startswith("Whether Nadia Izezno truly has the highest rate")
    assert claim.say_in_full.endswith(
        "cannot be told from this table: hardness is unknown for 49 % of the contact."
    )
    assert claim.would_change == "measuring the contact whose hardness is unknown"
    assert claim.evidence["least"].is_monotonic_decreasing  # the order tells no chances either
    json.dumps(claim.to_dict(), allow_nan=False)

    some = check_leads(Counts.from_table(lines))
    people = some.evidence_for_people().set_index("hitter")
    assert people.loc["Cy Plome", ["rate", "shrunk", "low", "high"]].tolist() == [".136 to .218", "", "", ""]
    assert people.loc["Ada Yarl", "rate"] == ".159"
    mine = check_above(lines, "Dot Zelm", 0.16)
    beside = mine.beside_for_people().set_index("per")
    assert beside.loc["swing", ["rate", "rank"]].tolist() == [".100 to .300", "none"]
    assert beside.loc["swing", "highest"] == "Ada Yarl"
    assert ".200" not in mine.avoid  # the estimate
    json.dumps(mine.to_dict(), allow_nan=False)


@pytest.mark.slow
def test_the_list_shows_bounds_without_shrunk_rates_by_the_lower_bound(capsys):
    command = ["list", "--hard-fouls", "--minimum", "150", "--most", "3"]
    assert run([*command, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["title"].endswith(
        "; hardness is unknown for 49 % of the contact, more than 20 %: two bounds stand in place of a rate, "
        "in order of the lower bound"
    )
    rows = pd.DataFrame(answer["rows"])
    assert not {"shrunk", "own_weight"} & set(rows.columns)
    assert rows["rate"].isna().all()
    assert rows["least"].is_monotonic_decreasing
    assert rows["hitter"].iloc[0] == "Nadia Izezno"
    assert any("bounds" in note for note in answer["notes"])
    assert run(command) == 0
    said = capsys.readouterr().out
    assert ".197 to .501" in said
    assert "shrunk" not in said
    assert run([*command, "--denominators"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.startswith(
        "hard-hit balls over 3 denominators; two bounds in place of each rate, in order of the lower bound"
    )
    assert "Nadia Izezno 108 .112 to .283 .197 to .501 .263 to .668 Roksana Tovemarr" in said


def test_the_list_leaves_the_shrunk_rate_of_the_few_out(lines, tmp_path, capsys):
    rows = [
        (name, outcome, speed)
        for name, hard, soft, unknown in (
            ("Ada Yarl", 30, 70, 0),
            ("Ben Drox", 20, 70, 0),
            ("Cy Plome", 9, 6, 8),
        )
        for outcome, speed, times in (
            ("in play", 100.0, hard),
            ("in play", 70.0, soft),
            ("in play", None, unknown),
            ("whiff", None, 50),
        )
        for _ in range(times)
    ]
    path = tmp_path / "sheet.csv"
    pd.DataFrame(rows, columns=["hitter", "outcome", "exit_mph"]).to_csv(path, index=False)
    assert run(["list", "--file", str(path)]) == 0
    said = capsys.readouterr().out
    last = next(line for line in said.splitlines() if line.strip().startswith("Cy Plome"))
    low, high = share_interval(9, 73)[0], share_interval(17, 73)[1]
    ends = [rate_text(float(low)), rate_text(float(high))]
    assert last.split() == ["Cy", "Plome", "9", "73", ".123", "to", ".233", *ends, "none", "none"]
    assert said.index("Ada Yarl") < said.index("Ben Drox") < said.index("Cy Plome")
    assert run(["list", "--file", str(path), "--json"]) == 0
    rows = pd.DataFrame(json.loads(capsys.readouterr().out)["rows"]).set_index("hitter")
    assert rows["shrunk"].isna().tolist() == [False, False, True]


@pytest.mark.slow
@pytest.mark.parametrize("per", ["swings", "contact"])
def test_pictures_say_who_is_not_drawn(with_fouls, lines, per):
    pytest.importorskip("matplotlib")
    from hitlab import plots

    mixed = rate(lines, "hard", "swings")
    said = plots.draw(mixed)
    assert "2 with bounds in place of a rate not drawn" in _words(said)
    assert "without swings" not in _words(said)
    for nothing in (rate(with_fouls, "hard", per), shrink(with_fouls, "hard", per)):
        assert "Nobody here has a rate" in _words(plots.draw(nothing))
    plots.draw(denominators(lines, "hard"))
    plots.denominators_side_by_side(denominators(lines, "hard"))
    claim = plots.draw(check_leads(with_fouls, per=per))
    assert "from none of the unknown hard to all of it" in " ".join(_words(claim).split())


def _words(ax):
    from matplotlib.text import Text

    figure = ax.figure
    found = " ".join(text.get_text() for text in figure.findobj(Text))
    import matplotlib.pyplot as plt

    plt.close(figure)
    return " ".join(found.split())


@pytest.mark.slow
@pytest.mark.parametrize(
    "ask",
    [
        lambda season, how: check_above(season, "Izezno", "league", conventions=how),
        lambda season, how: check_ahead(season, "Izezno", "Falandra", conventions=how),
        lambda season, how: check_near(season, "Izezno", 0.2, conventions=how),
        lambda season, how: check_split(season, "Izezno", when="pitch_kind=breaking", conventions=how),
        lambda season, how: check_more(season, "Izezno", since="May 15", conventions=how),
        lambda season, how: check_hot(season, "Izezno", conventions=how),
        lambda season, how: check_response(season, "Izezno", response="hard", conventions=how),
    ],
    ids=["above", "ahead", "near", "split", "more", "hot", "response"],
)
def test_no_kind_states_a_chance_where_too_much_is_unknown(ask):
    claim = ask(demo_season(), Conventions(hard_fouls=True))
    assert (claim.verdict, claim.chance) == ("open", None)
    assert "cannot be told from this table: hardness is unknown for " in claim.say_in_full
    assert "chance" not in claim.say_in_full
    assert not [name for name in claim.evidence.columns if "chance" in name]
    assert claim.question.ask(demo_season()).to_dict() == claim.to_dict()


@pytest.mark.slow
def test_how_much_unknown_is_too_much_is_asked_with_the_question(capsys):
    asked = ["check", "above", "Izezno", "0.2", "--hard-fouls", "--json"]
    assert run(asked) == 3
    assert json.loads(capsys.readouterr().out)["chance"] is None
    assert run([*asked, "--most-unknown", "0.6"]) == 3  # open still: more than 5 % is unknown
    told = json.loads(capsys.readouterr().out)
    assert 0 < told["chance"] < 1
    assert told["question"]["conventions"] == {"hard_fouls": True, "most_unknown": 0.6}
    counts = hitlab.tally(demo_season(), conventions=Conventions(hard_fouls=True, most_unknown=1.0))
    assert rate(counts, "hard", "swings").table()["rate"].notna().all()
    assert shrink(counts, "hard", "swings").most_unknown == 1.0


@pytest.fixture
def a_month_apart():
    """Four hitters in two months: Ada's last ball of June was not measured."""
    rows = []
    for day in ("2025-05-01", "2025-06-01"):
        for number, name in enumerate(("Ada", "Ben", "Cy", "Dot")):
            for ball in range(30):
                speed = 100.0 if ball < 6 + number else 80.0
                outcome = "in play" if ball < 20 else "whiff"
                rows.append((name, f"{name}-{day}", day, outcome, speed if ball < 20 else None))
    table = pd.DataFrame(rows, columns=["hitter", "game", "date", "outcome", "exit_mph"])
    table["date"] = pd.to_datetime(table["date"])
    last = (table["hitter"] == "Ada") & (table["date"] == "2025-06-01") & (table.index % 30 == 19)
    table.loc[last, "exit_mph"] = None
    return table


def test_a_change_gives_the_swings_that_were_taken_and_says_how_many_were_not_measured(a_month_apart):
    claim = check_more(a_month_apart, "Ada", since="2025-06-01")
    assert "6 in 30 now, 6 in 30 before June 1, 2025 (1 and 0 balls not measured)" in claim.say_in_full
    assert claim.evidence[["hard", "swings", "unknown"]].to_numpy().tolist() == [[6, 30, 0], [6, 30, 1]]
    assert (claim.numbers["exposure"], claim.numbers["before_exposure"]) == (30, 30)
    # The rate is still that of what was measured: 6 in 19 balls in play, and these are two swings in three.
    assert claim.evidence["rate"].tolist() == pytest.approx([0.2, 6 / 28.5], abs=0.004)


@pytest.mark.parametrize(
    ("direction", "said"), [("more", "open"), ("less", "does not hold"), ("either", "open")]
)
def test_a_changed_record_is_open_where_the_unmeasured_ball_decides(a_month_apart, direction, said):
    kinds = {"direction": direction, "about": "record", "since": "2025-06-01", "factor": 1.2}
    claim = check_more(a_month_apart, "Ada", **kinds)
    assert claim.verdict == said
    assert "(1 and 0 balls not measured)" in claim.say_in_full
    assert check_more(a_month_apart, "Ben", **kinds).verdict == "does not hold"


def test_a_month_without_measured_contact_is_not_called_one_without_swings(a_month_apart):
    gone = a_month_apart.copy()
    gone.loc[(gone["hitter"] == "Ada") & (gone["date"] == "2025-06-01"), "exit_mph"] = None
    with pytest.raises(ClaimError, match="Ada has no measured contact behind the swings in one of the two"):
        check_more(gone, "Ada", since="2025-06-01")
    away = a_month_apart[(a_month_apart["hitter"] != "Ada") | (a_month_apart["date"] < "2025-06-01")]
    with pytest.raises(ClaimError, match="Ada has no swings in one of the two"):
        check_more(away, "Ada", since="2025-06-01")


@pytest.mark.parametrize(("unmeasured", "told"), [(25, False), (5, True)])
def test_no_change_and_no_split_is_told_where_too_much_of_one_part_was_not_measured(unmeasured, told):
    names = ["hitter", "swings", "contact", "in_play", "unmeasured", "hard"]
    others = [(f"h{number:02d}", 800, 600, 500, 0, 110 + 4 * number) for number in range(12)]
    before = pd.DataFrame([("Ada", 800, 600, 500, 0, 80), *others], columns=names)
    few = [(name, 70, 53, 45, 0, 10) for name, *_ in others]
    now = pd.DataFrame([("Ada", 70, 53, 45, unmeasured, 18), *few], columns=names)
    whole = before.assign(**{name: before[name] + now[name] for name in names[1:]})
    share = f"hardness is unknown for {100 * unmeasured / 45:.0f} % of the contact"
    for claim, where in (
        (check_more(now, "Ada", before=before, than="in April"), "now"),
        (check_more(before, "Ada", before=now, than="in June", direction="less"), "in June"),
        (check_split(whole, "Ada", inside=now, situation="with two strikes"), "with two strikes"),
        (
            check_split(
                whole, "Ada", inside=before, situation="before two strikes", direction="less", against="usual"
            ),
            "otherwise",
        ),
    ):
        assert (claim.chance is not None) is told
        assert told or claim.verdict == "open"
        assert (f"{share} {where}" in claim.say_in_full) is not told
        assert (claim.would_change == "measuring the contact whose hardness is unknown") is not told
