"""Showing: no name from a file moves the cursor, begins a line, runs in a spreadsheet or breaks a picture."""

from __future__ import annotations

import csv
import io
import json
import sys
import unicodedata
import warnings
import zipfile
from dataclasses import is_dataclass
from functools import cache
from html.parser import HTMLParser
from xml.etree import ElementTree

import numpy as np
import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

import hitlab
from hitlab.cli.commands import run
from hitlab.errors import HitlabError
from hitlab.pitches import write_checked
from hitlab.results import Listing, Note, Points, Result, Table, as_html, as_text
from hitlab.showing import MOST_OF_A_NAME, json_text, quoted, shown, shown_lines, shown_name
from tests.hostile_names import HOSTILE, REAL, unseen
from tests.needs import package

FILLERS = tuple(f"Filler {number:02d}" for number in range(15))
NAMES = (*HOSTILE, *REAL[:4], *FILLERS)


def harmlessly(text, verdicts=0):
    """Say whether a text may stand on a screen; its own line breaks may."""
    assert not unseen(text), unseen(text)
    lines = text.splitlines()
    assert sum(line.startswith("Verdict") for line in lines) == verdicts
    assert lines == (text.removesuffix("\n").split("\n") if text else [])  # no line breaks but "\n"
    return True


# The rule.


@pytest.mark.slow
def test_everything_that_is_not_seen_is_known():
    for code in range(sys.maxunicode + 1):
        letter = chr(code)
        kind = unicodedata.category(letter)
        # The signs of Arabic and Brahmi numbers are of the format characters, and are seen.
        seen = unicodedata.name(letter, "").startswith(("ARABIC NUMBER", "KAITHI NUMBER")) or code in (
            *range(0x600, 0x606), 0x6DD, 0x890, 0x891, 0x8E2
        )  # fmt: skip
        if kind in ("Cc", "Cs", "Zl", "Zp") or (kind == "Cf" and not seen):
            assert shown(letter).startswith("\\"), hex(code)
        elif kind[0] in "LNPS" and code not in (0x115F, 0x1160, 0x3164, 0xFFA0, 0x2800):
            assert shown(letter) == letter, hex(code)


@pytest.mark.parametrize("name", REAL)
def test_names_as_people_write_them_stay(name):
    assert shown_name(name) == name
    assert shown(f"{name}, {name}") == f"{name}, {name}"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a\x1b[1mb", r"a\x1b[1mb"),
        ("a\nb\r\tc", r"a\nb\r\tc"),
        ("a\u202eb", r"a\u202eb"),
        ("a\x9bb\x7f", r"a\x9bb\x7f"),
        ("\ufeff=1", r"\ufeff=1"),
        ("a\U000e0041", r"a\U000e0041"),
        ("file\udce9.csv", r"file\udce9.csv"),
        ("a\u200db", r"a\u200db"),  # no Latin word needs a joiner
        ("\u200cعلی", r"\u200c" + "علی"),
        ("علی\u200c", "علی" + r"\u200c"),  # between letters only
        ("علی\u200c\u200cرضا", "علی" + r"\u200c\u200c" + "رضا"),
        ("A\ufe0f", r"A\ufe0f"),
        (5, "5"),
    ],
)
def test_what_is_not_seen_stands_as_an_escape(text, said):
    assert shown(text) == said


@given(st.text(), st.none() | st.integers(1, 30))
def test_shown_once_more_nothing_changes(text, most):
    once = shown(text, most)
    assert shown(once, most) == once
    assert not unseen(once)
    assert "\n" not in once
    assert most is None or len(once) <= most


def test_lengths_are_bounded():
    assert shown("a" * 10_000, 10) == "aaaaaaaaa…"
    assert len(shown_name("a" * 10_000)) == len(shown_name("\x1b" * 10_000)) == MOST_OF_A_NAME
    assert shown("a" * 10_000) == "a" * 10_000
    assert shown_name("a" * MOST_OF_A_NAME) == "a" * MOST_OF_A_NAME
    assert len(quoted("a" * 10_000)) == MOST_OF_A_NAME + 2


def test_lines_of_ours_stay_lines():
    assert shown_lines("one\ntwo\x1b") == "one\ntwo\\x1b"


@given(st.text(), st.text())
def test_json_has_whole_values_and_nothing_unseen(name, value):
    told = json_text({name: [value]}, indent=1)
    assert json.loads(told) == {name: [value]}
    assert not {letter for letter in unseen(told) if letter not in "\u200c\u200d"}


# A season of such hitters.


@cache
def season():
    """Pitches of hitters, pitchers and clubs with such names."""
    rng = np.random.default_rng(7)
    rows = []
    for number, hitter in enumerate(NAMES):
        club = HOSTILE[number % 2]
        for game in range(12):
            for visit in range(3):
                outcomes = rng.choice(["whiff", "foul", "ball"], 4)
                for pitch, outcome in enumerate(outcomes):
                    ended = pitch == 3
                    rows.append(
                        {
                            "hitter": hitter,
                            "club": f"{club} Larks",
                            "pitcher": f"{HOSTILE[(game + 3) % 25]} Quill",  # nobody hits what he pitches
                            "game": f"g{game}",
                            "date": f"2031-05-{game + 1:02d}",
                            "plate_appearance": 3 * number + visit + 1,
                            "pitch": pitch + 1,
                            "outcome": "in play" if ended else outcome,
                            "result": ("single" if rng.random() < 0.3 else "out") if ended else None,
                            "exit_mph": round(float(rng.normal(88, 12)), 1) if ended else None,
                            "inside_in": round(float(rng.normal(0, 6)), 1),
                            "height_in": round(float(rng.normal(30, 6)), 1),
                            "speed_mph": round(float(rng.normal(88, 5)), 1),
                            "pitch_kind": ("slider", "four-seam fastball")[int(rng.integers(2))],
                            "clip": f"{hitter[:9]}.mp4 00:00:1{game % 10}",
                        }
                    )
    return pd.DataFrame(rows)


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    path = tmp_path_factory.mktemp("hostile") / "season.parquet"
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", hitlab.HitlabWarning)
        write_checked(season(), path)
    return path


def kept_names(sheet):
    """The names as the reader kept them, which trims and joins some."""
    return list(dict.fromkeys(pd.read_parquet(sheet)["hitter"]))


COMMANDS = (
    ["list", "--most", "60"],
    ["list", "--denominators", "--most", "60"],
    ["list", "--event", "whiffs", "--when", "pitch_kind=slider", "--most", "60"],
    ["check", "leads"],
    ["check", "leads", "--less"],
    ["check", "leads", "--of", "pitcher"],
    ["check", "leads", "--of", "club"],
    ["check", "top", "--top", "20", "--minimum", "1"],
    ["check", "top", "--record"],
    ["check", "response"],
)
OF_ONE = (
    ["above", "0.2"],
    ["near", "0.2"],
    ["split", "--when", "pitch_kind=slider"],
    ["hot", "--stretch", "4"],
    ["more", "--since", "2031-05-07"],
)


@pytest.mark.slow
@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_lists_and_checks_show_them_harmlessly(command, sheet, capsys):
    for width in ("80", "300"):
        with pytest.MonkeyPatch.context() as patch:
            patch.setenv("COLUMNS", width)
            assert run([*command, "--file", str(sheet)]) in (0, 1, 3)
        said = capsys.readouterr()
        assert harmlessly(said.out, verdicts=command[0] == "check")
        assert harmlessly(said.err)
        assert len(said.out) < 60_000


@pytest.mark.slow
@pytest.mark.parametrize("words", OF_ONE, ids=lambda words: words[0])
def test_each_hitter_is_found_and_shown_harmlessly(words, sheet, capsys):
    names = kept_names(sheet)
    assert len(names) >= len(NAMES) - 3  # reading folds blanks inside a name
    for name in names[: len(HOSTILE)] if words[0] == "above" else names[: len(HOSTILE) : 8]:
        command = ["check", words[0], name, *words[1:], "--file", str(sheet)]
        code = run(command)
        said = capsys.readouterr()
        assert code in (0, 1, 3), said.err
        assert harmlessly(said.out, verdicts=1)
        assert harmlessly(said.err)
        if names.index(name) % 5:
            continue
        # The name by which the answer calls him finds him, too.
        run([*command, "--json"])
        answer = json.loads(capsys.readouterr().out)
        label = answer["question"]["who"]
        assert len(label) <= 2 * MOST_OF_A_NAME + 10
        again = hitlab.Question.from_dict(answer["question"]).ask(sheet)
        assert again.say_in_full == answer["say_in_full"]


@pytest.mark.slow
def test_reading_and_complaints_are_harmless(tmp_path, sheet, capsys):
    raw = tmp_path / "raw\u202e.csv"
    frame = season()[["hitter", "outcome"]].head(400).copy()
    frame["odd\x1b[1m\nVerdict: HOLDS"] = 1
    frame.loc[: len(HOSTILE) + 5, "outcome"] = [*HOSTILE, "whif", "", "a", "b", "c", "d"]
    frame.to_csv(raw, index=False)
    run(["read", str(raw), "--set-aside", str(tmp_path / "aside.csv")])
    run(["read", str(raw), "--json"])
    for name in HOSTILE[:8]:
        assert run(["check", "above", f"Nobody {name}", "0.2", "--file", str(sheet)]) == 2
        assert run(["check", "leads", "--club", name, "--file", str(sheet)]) in (0, 1, 2, 3)
        assert run([f"--{name}"]) == 2
    said = capsys.readouterr()
    assert not unseen(said.out + said.err)
    assert not [line for line in said.err.splitlines() if line.startswith("Verdict")]
    assert "[bold]" not in said.out or "[/bold]" in said.out


@pytest.mark.slow
def test_markup_in_names_is_text(sheet, capsys):
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("COLUMNS", "300")
        run(["list", "--file", str(sheet), "--most", "60"])
    assert "[bold]Ada[/bold] [link=http://example.org]Velm[/link] :smile:" in capsys.readouterr().out


# What results say of themselves.


class _Reader(HTMLParser):
    """Takes HTML apart; keeps the tags and the text."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.text = set(), []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)

    def handle_data(self, data):
        self.text.append(data)


@cache
def results():
    """One of each kind of result that names hitters."""
    from hitlab import approach, counting, estimates, game, over_time, splits, two_rates
    from hitlab.evidence.cut_lists import cut_list
    from hitlab.two_rates import RateOf

    with warnings.catch_warnings():
        warnings.simplefilter("ignore", hitlab.HitlabWarning)
        reading = hitlab.read_pitches(season())
        pitches = reading.table
        counts = hitlab.tally(pitches)
        by_game = hitlab.tally(pitches, by=["hitter", "game", "date"])
        sliders = hitlab.tally(pitches, where=hitlab.situation("pitch_kind=slider"))
        early = hitlab.tally(pitches, where=hitlab.situation("date<=2031-05-06"))
        late = hitlab.tally(pitches, where=hitlab.situation("date>=2031-05-07"))
        claim = hitlab.check_leads(pitches)
        fit = hitlab.shrink(counts, "hard", "swings")
        rates = RateOf("hard", "swings"), RateOf("whiffs", "swings")
        return {
            "reading": reading,
            "report": reading.report,
            "counts": counts,
            "counts by pitcher": hitlab.tally(pitches, by="pitcher"),
            "counts by club": hitlab.tally(pitches, by="club"),
            "rates": hitlab.rate(counts, "hard", "swings"),
            "denominators": counting.denominators(counts, "hard"),
            "fit": fit,
            "ranks": estimates.ranks(fit),
            "claim": claim,
            "cut list": cut_list(pitches, claim, most=20),
            "one split": splits.split_rates(counts, sliders),
            "all splits": splits.all_splits(pitches),
            "readiness": approach.fastball_readiness(pitches),
            "responses": approach.after_whiff(pitches),
            "sequences": approach.find_sequences(
                pitches, approach.after(approach.whiff()).then(approach.foul())
            ),
            "link": two_rates.correlate_counts(early, late, *rates, apart="the days are others"),
            "change": over_time.compare_periods(early, late),
            "form": over_time.form_over_time(by_game, NAMES[0], window=4),
            "form of all": over_time.fit_form(by_game, stretch=4),
            "overdispersion": over_time.overdispersion(by_game, "hard", "swings"),
            "half weights": over_time.half_weight_sizes(by_game),
            "outcomes": game.shrink_outcomes(game.outcome_counts(pitches)),
        }


@pytest.mark.slow
def test_results_say_their_names_harmlessly():
    for name, result in results().items():
        assert harmlessly(str(result), verdicts=name == "claim"), name
        assert harmlessly(repr(result)), name
        page = result._repr_html_()
        assert not unseen(page), name
        read = _Reader(page)
        assert not read.tags & {"script", "b", "link"} - {"b"}, name
        assert "example.org" not in "".join(read.tags)
        assert all(len(text) < 5_000 for text in read.text), name


def test_a_name_that_reads_like_a_verdict_begins_no_line(capsys):
    """Not in the table, nor where a sentence begins with the best hitter's name."""
    from hitlab import estimates, over_time
    from hitlab.cli.console import print_claim

    forged = HOSTILE[0]
    rows = [
        (name, day, "in play", speed)
        for name, hard in ((forged, 24), ("Bo Zelm", 9), ("Cy Drul", 7))
        for day in range(30)
        for speed in (100.0 if day < hard else 60.0, 50.0)
    ]
    sheet = pd.DataFrame(rows, columns=["hitter", "day", "outcome", "exit_mph"])
    sheet["game"] = "g" + sheet["day"].astype(str)
    sheet["date"] = [f"2031-05-{1 + day:02d}" for day in sheet.pop("day")]
    counts = hitlab.tally(sheet)
    claim = hitlab.check_above(sheet, forged, 0.9)
    form = over_time.form_over_time(hitlab.tally(sheet, by=["hitter", "game", "date"]), forged, window=4)
    ranks = estimates.ranks(hitlab.shrink(counts, "hard", "swings"))
    assert claim.became_words.startswith(forged)
    assert forged in form.title
    assert ranks.title.startswith(forged)
    for result in (counts, hitlab.rate(counts, "hard", per="swings"), ranks, form):
        assert forged in str(result)
        assert harmlessly(str(result))
    assert harmlessly(str(claim), verdicts=1)
    assert "\nVerdict: DOES NOT HOLD" in str(claim)
    print_claim(claim)
    said = capsys.readouterr().out
    assert harmlessly(said, verdicts=1)
    assert "\nVerdict: DOES NOT HOLD" in said


def test_every_kind_of_result_shows_through_the_one_rule():
    """Whatever class it is: texts of each kind of part, and of a dataclass's own picture of itself."""

    def all_of(cls):
        return {cls, *(one for sub in cls.__subclasses__() for one in all_of(sub))}

    for one in all_of(Result) - {Result, Listing}:
        if is_dataclass(one) and one.__module__.startswith("hitlab"):
            assert one.__repr__ is Result._as_made, one
            assert one._repr_html_ is Result._repr_html_, one
            assert one.__str__ is Result.__str__ or one.__name__ == "Found", one
    for hostile in HOSTILE:
        frame = pd.DataFrame(
            {hostile: [hostile, 1], "n": [1.5, 2.5], "pair": [(hostile, 1), None]}, index=[hostile, "b"]
        )
        parts = [
            hostile,
            Note(hostile),
            Points(hostile, (hostile,)),
            Table(frame, index=True),
            Table(frame, 2),
        ]
        # A paragraph and a heading are sentences of ours, and begin their lines; nothing else does.
        ours = 2 * hostile.startswith("Verdict")
        assert harmlessly(as_text(parts), ours)
        assert harmlessly(as_text(parts, 40), ours)
        assert not unseen(as_html(parts))
        assert frame.columns[0] == hostile  # the table itself is as it was


def test_a_long_table_is_shown_by_its_ends():
    frame = pd.DataFrame({"hitter": [f"Ada\x1b{n}" for n in range(1000)], "n": range(1000)})
    text = as_text([Table(frame, 6)])
    assert text.splitlines()[1].split() == [r"Ada\x1b0", "0"]
    assert text.splitlines()[-1].split() == [r"Ada\x1b999", "999"]
    assert "\x1b" not in text
    plain = frame.assign(hitter="Ada")
    told = plain.to_string(index=False, max_rows=6)
    assert as_text([Table(plain, 6)]) == "\n".join(f"  {line}" for line in told.splitlines())


# What is saved.


@pytest.mark.slow
def test_saved_tables_run_nothing_and_hide_nothing(tmp_path):
    package("xlsxwriter")
    rates = results()["rates"]
    with rates.save(tmp_path / "rates.csv").open(encoding="utf-8-sig", newline="") as file:
        text = file.read()
    assert not unseen(text.replace("\r", ""))
    names = [row["hitter"] for row in csv.DictReader(io.StringIO(text))]
    # Reading folds blanks inside a name, so that some of the hostile names are one hitter.
    assert len(set(names)) >= len(NAMES) - 3
    assert not [name for name in names if name.lstrip()[:1] in tuple("=+-@")]
    assert r"\x01=1+1" in names
    with zipfile.ZipFile(rates.save(tmp_path / "rates.xlsx")) as book:
        for part in book.namelist():
            if part.endswith(".xml"):
                tree = ElementTree.fromstring(book.read(part))
                assert not [one for one in tree.iter() if one.tag.endswith("}f")]
                assert not unseen("".join(tree.itertext()))
    whole = pd.read_parquet(rates.save(tmp_path / "rates.parquet"))
    assert sorted(whole["hitter"]) == sorted(rates.data["hitter"])


@pytest.mark.slow
def test_a_cut_list_is_saved_harmlessly(tmp_path):
    made = results()["cut list"]
    path = made.save(tmp_path / "list.csv")
    assert not unseen(path.read_text(encoding="utf-8-sig"))
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(made)
    assert not [cell for row in rows for cell in row.values() if cell.lstrip()[:1] in tuple("=+@")]


# Pictures.


@pytest.fixture
def quiet():
    """Fonts lack some of these signs; that is said, and is no fault."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", hitlab.HitlabWarning)
        yield


@pytest.mark.slow
def test_cards_are_well_formed_and_their_words_harmless(sheet, tmp_path, quiet):
    from hitlab.evidence.cards import card, read_card
    from hitlab.plots import describe

    for number, name in enumerate(kept_names(sheet)[: len(HOSTILE)]):
        claim = hitlab.check_above(sheet, name, 0.2)
        path = tmp_path / f"{number}.svg"
        words = describe(card(claim, path).axes[0])
        assert harmlessly(words)
        text = path.read_text(encoding="utf-8")
        assert not unseen(text) - set(
            "\u200e\u2068\u2069"
        )  # the marks that we put around a name in the drawing
        tree = ElementTree.parse(path).getroot()
        assert tree[0].text == claim.claim
        if number % 8:
            continue
        assert read_card(path).asked.ask(sheet).say_in_full == claim.say_in_full
        card(claim, tmp_path / "card.png")
        with Image.open(tmp_path / "card.png") as image:
            told = {key: str(value) for key, value in image.info.items() if isinstance(value, str)}
        assert {"Title", "Description", "Source"} <= set(told)
        assert not [key for key, value in told.items() if unseen(value)]


@pytest.mark.slow
def test_pictures_are_well_formed(quiet):
    from hitlab import plots

    drawn = 0
    for name, result in results().items():
        if not hasattr(result, "contents") or name in ("reading", "report", "counts", "cut list"):
            continue
        try:
            ax = plots.draw(result)
        except (HitlabError, KeyError, TypeError):
            continue
        held = io.BytesIO()
        figure = ax.get_figure(root=True)
        figure.savefig(held, format="svg")
        ElementTree.fromstring(held.getvalue())
        assert harmlessly(plots.describe(ax)), name
        assert not unseen(plots.image(ax))
        drawn += 1
    assert drawn >= 4
