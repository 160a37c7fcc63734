"""The desk: without a browser by its widgets, and as it is served in Chromium."""

from __future__ import annotations

import contextlib
import json
import os
import re
import shutil
import signal
import socket
import stat
import sys
import tomllib
import urllib.request
from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any, get_args

import pandas as pd
import pytest

import hitlab
from hitlab.claims.verdicts import Answer
from hitlab.counting import call_by_chance
from hitlab.desk import Desk, answers, notebook_text, open_desk, saving
from hitlab.desk.form import CLAIMS, question_of
from hitlab.desk.notes import Notebook
from hitlab.desk.tables import LOOKED_AHEAD, open_table
from hitlab.errors import HitlabError, ReadingError
from hitlab.pitches.regular import TABLE_ENDINGS
from hitlab.pitches.storing import write_checked
from tests import test_lab
from tests.hostile_names import HOSTILE, unseen
from tests.needs import needs_chromium, package

ROOT = Path(__file__).resolve().parent.parent
PATIENCE_MS = 90_000

package("ipywidgets")

lab = test_lab.lab


def pitches(hitters: int = 4, each: int = 60, names: list[str] | None = None, **columns: Any) -> pd.DataFrame:
    """A small table: every third swing of a hitter is hit hard."""
    told = names or [f"Hitter{chr(65 + place)} Velm" for place in range(hitters)]
    rows = [
        {
            "hitter": name,
            "outcome": ("in play", "whiff", "foul")[pitch % 3],
            "exit_mph": 101.0 if pitch % 6 == 0 else 80.0 if pitch % 3 == 0 else None,
            **columns,
        }
        for name in told
        for pitch in range(each)
    ]
    return pd.DataFrame(rows)


@pytest.fixture
def season(tmp_path: Path) -> Path:
    path = tmp_path / "season.csv"
    pitches().to_csv(path, index=False)
    return path


def told(desk: Desk) -> str:
    """What is heard, without its markup."""
    return re.sub(r"<[^>]+>", "", desk.live.value)


def ask(desk: Desk, words: str) -> None:
    desk.sentence.value = words
    desk.ask.click()


def test_the_notebook_is_the_one_that_the_function_gives():
    kept = (ROOT / "notebooks" / "desk.ipynb").read_text(encoding="utf-8")
    assert kept == notebook_text()
    cells = json.loads(kept)["cells"]
    code = [cell for cell in cells if cell["cell_type"] == "code"]
    assert len(code) == 1
    assert code[0]["metadata"]["jupyter"]["source_hidden"]
    assert [line for cell in cells for line in cell["source"] if line.startswith("#")] == ["# The desk"]
    package("nbformat").validate(json.loads(kept))


@pytest.mark.slow
def test_a_sentence_is_answered_with_the_numbers_of_the_library(tmp_path):
    desk = Desk(folder=tmp_path)
    ask(desk, "Izezno owns breaking balls")
    claim = hitlab.check_above(hitlab.demo_season(), "Izezno", "league", when="pitch_kind=breaking")
    assert desk.claim is not None
    assert desk.claim.chance == claim.chance
    assert desk.claim.say == claim.say
    pd.testing.assert_frame_equal(desk.claim.evidence, claim.evidence)
    shown = desk.verdict.value
    for words in (claim.verdict_words, claim.say, claim.avoid, claim.follow_up):
        assert answers.paragraphs([words])[3:-4] in shown
    assert "I read this as" in desk.read.value
    assert 'alt="' in desk.picture.value
    assert "game-" in desk.pitches.value
    for button in desk.saves.values():
        button.click()
        assert "is saved" in desk.saved.value
        button.click()
    stem = "nadia-izezno-above"
    names = [
        f"{stem}-{end}" for end in ("numbers.csv", "page.html", "picture.png", "pitches.csv", "words.txt")
    ]
    again = [name.replace(".", "-2.") for name in names]
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([*names, *again])
    saved = pd.read_csv(tmp_path / names[0])
    assert saved["hard"].tolist() == claim.evidence["hard"].tolist()
    assert hitlab.read_card(tmp_path / names[2]).chance == claim.chance
    cut = hitlab.cut_list(hitlab.demo_season(), claim, most=10).table()
    assert pd.read_csv(tmp_path / names[3])["clip"].tolist() == cut["clip"].tolist()
    text = (tmp_path / names[4]).read_text(encoding="utf-8")
    assert text.startswith(claim.headline)
    assert str(claim) in text
    assert "Nadia Izezno" in (tmp_path / names[1]).read_text(encoding="utf-8")


@pytest.mark.slow
def test_a_table_in_place_of_its_path_is_refused():
    with pytest.raises(ReadingError, match="the desk opens a file and this is a DataFrame: give the path"):
        open_desk(pitches())


def test_of_two_readings_one_is_chosen():
    desk = Desk()
    ask(desk, "Kanagane owns breaking balls")
    assert "ask back" in told(desk)
    assert desk.claim is None
    first, second = desk.choices.children
    assert "Aiko" in first.description
    assert "Malik" in second.description
    second.click()
    assert desk.claim is not None
    assert desk.claim.question.who == "Malik Kanagane"
    assert [line.verdict for line in desk.notes.lines] == ["asked back", desk.claim.verdict_words]


def test_choices_make_the_question_that_is_answered(season, tmp_path):
    desk = Desk(str(season), tmp_path)
    assert "240 rows were read, 240 kept" in desk.table_said.value
    assert desk.who.options == tuple(f"Hitter{letter} Velm" for letter in "ABCD")
    desk.who.value, desk.claimed.value, desk.value.value = "HitterB Velm", "above", "10%"
    desk.check.click()
    expected = hitlab.check_above(hitlab.read_pitches(season), "HitterB Velm", "10%")
    assert desk.claim is not None
    assert desk.claim.chance == expected.chance
    assert expected.verdict_words in desk.verdict.value
    assert not any(button.disabled for button in desk.saves.values())


@pytest.mark.parametrize("claim", CLAIMS)
def test_what_a_choice_needs_is_asked_for(claim):
    needs = CLAIMS[claim].needs
    given = {"who": "Ada", "value": "16%", "other": "Eve", "when": "strikes=2", "since": "May"}
    assert question_of(claim, **{name: given[name] for name in needs}).kind == CLAIMS[claim].kind
    for left_out in needs:
        with pytest.raises(HitlabError, match="missing"):
            question_of(claim, **{name: given[name] for name in needs if name != left_out})


def test_half_made_choices_say_what_is_missing(season):
    desk = Desk(str(season))
    desk.claimed.value = "ahead"
    desk.check.click()
    assert "say who it is about" in told(desk)
    assert "the other hitter" in told(desk)
    desk.who.value, desk.claimed.value, desk.way.value = "HitterA Velm", "steady", True
    desk.check.click()
    assert "cannot be turned round" in told(desk)


def test_a_question_asked_twice_is_one_look_and_is_not_worked_out_again(season):
    desk = Desk(str(season))
    desk.who.value, desk.claimed.value, desk.value.value = "HitterA Velm", "above", "50%"
    desk.check.click()
    first = desk.claim
    desk.check.click()
    assert desk.claim is first
    assert desk.notes.number == 1
    assert len(desk.notes.lines) == 2
    assert "1 different question answered" in desk.log.value


@pytest.mark.parametrize("kind", LOOKED_AHEAD)
def test_what_is_looked_ahead_is_answered_and_not_worked_out_again(season, kind, monkeypatch):
    table = open_table(season)
    asked = []
    real = hitlab.Question.ask
    monkeypatch.setattr(
        hitlab.Question, "ask", lambda one, *rest, **more: asked.append(one) or real(one, *rest, **more)
    )
    table.look_ahead(kind)
    (question,) = asked
    assert question.kind == kind
    # An error on the way would be kept silent, and the question worked out here.
    assert table.answer(question, hitlab.counting.Looks()).kind == kind
    assert len(asked) == 1


def test_looking_ahead_knows_its_kinds(season):
    with pytest.raises(KeyError):
        open_table(season).look_ahead("split")


@pytest.mark.slow
def test_what_is_kept_between_questions_changes_no_answer():
    season = hitlab.demo_season()
    desk = Desk()
    assert desk.table is not None
    for kind in LOOKED_AHEAD:
        desk.table.look_ahead(kind)
    asked = (
        ("above", "Nadia Izezno", {"value": "league"}, {}),
        ("leads", "", {}, {}),
        ("top", "Nadia Izezno", {"top": 5}, {"direction": "less"}),
        ("above", "Nadia Izezno", {"value": 0.3}, {"when": ("strikes=2",)}),
        ("more", "Nadia Izezno", {}, {"since": "May"}),
        ("split", "Nadia Izezno", {}, {"when": ("strikes=2",)}),
        ("above", "Nadia Izezno", {"value": 0.1}, {"since": "May"}),
    )
    for kind, who, options, fields in asked:
        question = hitlab.Question(kind=kind, who=who, options=options, **fields)
        kept = desk.table.answer(question, desk.notes.looks).to_dict()
        fresh = question.ask(season).to_dict()
        for name in ("chance", "say", "evidence", "would_change", "fingerprint"):
            assert kept[name] == fresh[name], (kind, name)


def test_the_expected_number_of_false_answers_is_the_library_s(season):
    notes = Notebook(clock=lambda: datetime(2031, 5, 1, 12, 0))
    table = hitlab.read_pitches(season)
    chances = []
    for value in ("5%", "10%", "17%", "40%", "60%"):
        claim = hitlab.check_above(table, "HitterA Velm", value)
        chances.append(claim.chance)
        notes.add(value, claim)
    called = call_by_chance(pd.DataFrame({"chance": chances}), "chance", 0.9)
    assert 2 <= len(called.data) < 5
    number = called.false_share * len(called.data)
    said = f"about {number:.1f}" if number >= 0.05 else "fewer than 0.1"
    assert f"5 different questions answered at this desk so far; {len(called.data)} came" in notes.explanation
    assert said in notes.explanation
    assert "by luck" in notes.explanation


@pytest.mark.parametrize(
    "words", ["", "   ", "word " * 5_000, "Velm\x1b[2J owns", "<script>alert(1)</script>"]
)
def test_a_sentence_that_is_none_gets_a_plain_one_back(season, words):
    desk = Desk(str(season))
    ask(desk, words)
    assert told(desk)
    assert "unexpected" not in told(desk)
    assert desk.sentence.value == words
    assert desk.claim is None
    whole = "".join(getattr(desk, name).value for name in ("live", "read", "log"))
    assert "<script" not in whole
    assert not unseen(whole)


def _markup(widget: Any) -> Iterator[str]:
    """Give what a browser takes for markup: the values of pieces of HTML, and of nothing else."""
    if type(widget).__name__ == "HTML":
        yield widget.value
    for child in getattr(widget, "children", ()):
        yield from _markup(child)


def _texts(widget: Any) -> Iterator[str]:
    yield from (str(getattr(widget, name, "")) for name in ("value", "description"))
    yield from (str(option) for option in getattr(widget, "options", ()))
    for child in getattr(widget, "children", ()):
        yield from _texts(child)


@pytest.mark.parametrize(
    ("claim", "given", "said"),
    [
        ("league", {"who": "Ada", "value": "40%"}, "no share"),
        ("leads", {"other": "Eve"}, "no other hitter"),
        ("above", {"who": "Ada", "value": "16%", "other": "Eve"}, "no other hitter"),
        ("split", {"who": "Ada", "when": "strikes=2", "value": "one in five"}, "no share"),
    ],
)
def test_a_field_that_a_claim_has_no_use_for_is_not_passed_over(claim, given, said):
    with pytest.raises(HitlabError, match=f"this claim has {said}; empty that field"):
        question_of(claim, **given)


def test_a_split_says_how_many_were_looked_at_when_it_is_asked(tmp_path):
    path = tmp_path / "splits.parquet"
    table = pitches(each=120)
    table["strikes"], table["balls"] = [n % 3 for n in range(len(table))], [n % 4 for n in range(len(table))]
    table.to_parquet(path)
    desk = Desk(str(path))
    assert desk.table is not None

    def looked(term: str) -> int:
        question = hitlab.Question(kind="split", who="HitterA Velm", when=(term,))
        return int(desk.table.answer(question, desk.notes.looks).numbers["splits_looked_at"])

    assert [looked("strikes=2"), looked("balls=3"), looked("strikes=2")] == [1, 2, 2]


def test_what_came_before_is_a_situation_where_the_table_tells_it(tmp_path):
    path = tmp_path / "order.parquet"
    table = pitches()
    order = {"game": ["g1"] * 60, "plate_appearance": [n // 3 for n in range(60)], "pitch": [1, 2, 3] * 20}
    whole = pd.concat([table[:60].assign(**order), table[60:120].assign(**{**order, "game": "g2"})])
    whole.to_parquet(path)
    assert ("after a whiff", "after a whiff") in Desk(str(path)).when.options
    whole.drop(columns="pitch").to_parquet(path)
    assert "after a whiff" not in dict(Desk(str(path)).when.options)


def test_hostile_names_are_shown_and_never_run(tmp_path):
    names = [f"{name[:200]}{number}" for number, name in enumerate(HOSTILE[:24])] + ["x" * 200, "Ada\nVelm"]
    path = tmp_path / "hostile.parquet"
    pitches(names=names, each=12).to_parquet(path)
    desk = Desk(str(path), tmp_path)
    assert "26 hitters" in desk.table_said.value
    desk.who.value = next(name for name in desk.who.options if "script" in name)
    desk.claimed.value, desk.value.value = "above", "10%"
    desk.check.click()
    assert desk.claim is not None, told(desk)
    whole = "".join(_texts(desk.whole))
    assert "&lt;script&gt;" in whole
    assert "desk-verdict" in whole
    assert not re.search(r"<script|<b>Velm", "".join(_markup(desk.whole)))
    assert not unseen(whole)
    desk.saves["table"].click()
    assert "is saved" in desk.saved.value
    assert all(re.fullmatch(r"[\w.-]+", one.name) for one in tmp_path.iterdir())


def test_a_file_that_is_none_leaves_the_table_on_the_desk(season, tmp_path):
    desk = Desk(str(season))
    kept = desk.table
    empty = tmp_path / "empty.csv"
    empty.write_bytes(b"")
    useless = tmp_path / "useless.csv"
    useless.write_text("one,two\n1,2\n", encoding="utf-8")
    noise = tmp_path / "noise.parquet"
    noise.write_bytes(os.urandom(500))
    for path in (tmp_path / "none.csv", tmp_path, empty, useless, noise, "a\0b"):
        desk.path.value = str(path)
        desk.open.click()
        assert desk.table is kept
        assert told(desk)
        assert "unexpected" not in told(desk), told(desk)
        assert "Traceback" not in told(desk)


def test_a_desk_that_begins_with_a_file_that_is_none_says_so_and_has_the_demo_season(tmp_path):
    desk = Desk(str(tmp_path / "none.csv"))
    assert "none.csv" in told(desk)
    assert "demo season" in desk.table_said.value


def test_an_uploaded_file_is_opened(season):
    desk = Desk(str(season))
    content = pitches(hitters=2).to_csv(index=False).encode()
    name = "../../<b>up\nload</b>.csv"
    given = {"name": name, "type": "text/csv", "size": len(content), "content": memoryview(content)}
    desk.upload.value = ({**given, "last_modified": datetime(2031, 5, 1)},)
    assert "120 rows, 2 hitters" in desk.table_said.value
    assert "<b>up" not in desk.table_said.value


def test_an_upload_of_the_same_name_leaves_the_open_table_as_it_was(season):
    desk = Desk(str(season))

    def upload(content: bytes) -> None:
        given = {"name": "a.parquet", "type": "", "size": len(content), "content": memoryview(content)}
        desk.upload.value = ({**given, "last_modified": datetime(2031, 5, 1)},)

    checked = season.with_name("checked.parquet")
    write_checked(hitlab.read_pitches(season), checked)
    upload(checked.read_bytes())
    assert "240 rows, 4 hitters" in desk.table_said.value
    upload(b"no table at all")
    assert desk.table is not None
    question = hitlab.Question(kind="above", who="HitterA Velm", options={"value": 0.1})
    assert desk.table.answer(question, desk.notes.looks).numbers["exposure"] == 60


def test_what_may_be_uploaded_is_what_can_be_read(season):
    assert set(Desk(str(season)).upload.accept.split(",")) == set(TABLE_ENDINGS)


def test_a_hitter_without_swings_and_two_of_one_name_are_told_in_a_sentence(tmp_path):
    table = pitches()
    still = pd.DataFrame({"hitter": ["Still Velm"] * 9, "outcome": ["ball"] * 9})
    twins = pitches(names=["Twin Velm", "Twin Velm"], each=30).assign(
        hitter_id=lambda t: ["a"] * 30 + ["b"] * 30
    )
    path = tmp_path / "table.csv"
    table = pd.concat([table, still, twins])
    table["hitter_id"] = table["hitter_id"].fillna(table["hitter"])
    table.to_csv(path, index=False)
    desk = Desk(str(path))
    desk.claimed.value, desk.value.value = "above", "10%"
    for who in ("Still Velm", "Twin Velm", "Nobody Atall"):
        desk.who.value = who
        desk.check.click()
        assert told(desk)
        assert "unexpected" not in told(desk), told(desk)
        assert desk.who.value == who
    twin = [name for name in desk.who.options if name.startswith("Twin Velm")]
    assert len(twin) == 2
    desk.who.value = twin[1]
    desk.check.click()
    assert desk.claim is not None, told(desk)


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="everything can be written here")
def test_a_folder_that_cannot_be_written_is_named(season, tmp_path):
    closed = tmp_path / "closed"
    closed.mkdir()
    closed.chmod(stat.S_IRUSR | stat.S_IXUSR)
    _saves_nothing(season, closed)


def test_a_folder_that_is_none_is_named(season, tmp_path):
    _saves_nothing(season, tmp_path / "not there")


def _saves_nothing(season: Path, folder: Path) -> None:
    desk = Desk(str(season), folder)
    desk.who.value, desk.claimed.value, desk.value.value = "HitterA Velm", "above", "10%"
    desk.check.click()
    desk.saves["table"].click()
    assert "is not saved" in desk.saved.value
    assert folder.name in desk.saved.value
    assert desk.claim is not None


def test_two_desks_at_once_write_over_nothing(season, tmp_path):
    folder = tmp_path / "out"
    folder.mkdir()
    one, other = (Desk(str(season), folder) for _ in range(2))
    for desk, value in ((one, "10%"), (other, "30%")):
        desk.who.value, desk.claimed.value, desk.value.value = "HitterA Velm", "above", value
        desk.check.click()
    for desk in (one, other, one):
        desk.saves["text"].click()
    texts = sorted(path.read_text(encoding="utf-8") for path in folder.iterdir())
    assert len(texts) == 3
    assert len(set(texts)) == 2
    assert sorted(path.name for path in folder.iterdir())[0] == "hittera-velm-above-words-2.txt"


def test_a_fault_of_ours_is_said_in_a_sentence_too(season, monkeypatch):
    desk = Desk(str(season))
    monkeypatch.setattr("hitlab.desk.page.ask", lambda *_, **__: 1 / 0)
    ask(desk, "HitterA owns fastballs")
    assert "unexpected ZeroDivisionError" in told(desk)
    assert desk.sentence.value == "HitterA owns fastballs"


def test_verdicts_differ_in_more_than_colour():
    looks = {name: re.search(rf"desk-{name} {{([^}}]*)}}", answers.STYLE) for name in
             ("holds", "fails", "open", "unknown")}  # fmt: skip
    borders = {re.search(r"border: (\S+ \S+)", found[1])[1] for found in looks.values() if found}
    assert len(borders) == 4


def test_enter_asks(season):
    desk = Desk(str(season))
    desk.sentence.value = ""
    desk.live.value = ""
    desk.sentence._handle_custom_msg({"event": "submit"}, [])
    assert "Nothing was asked yet" in told(desk)


def test_the_extra_brings_what_the_page_needs():
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"][
        "optional-dependencies"
    ]
    assert any(line.startswith("voila") for line in extras["desk"])
    assert "hitlab[course]" in extras["desk"]


def test_where_voila_is_missing_a_sentence_says_what_to_do(tmp_path, monkeypatch, capsys):
    from hitlab.cli.commands import run

    monkeypatch.setattr("hitlab.desk.serving.find_spec", lambda name: None if name == "voila" else name)
    assert run(["desk", "--no-open", "--folder", str(tmp_path)]) == 2
    assert "pages of the desk need voila, which is not installed; install hitlab with its extra desk" in (
        " ".join(capsys.readouterr().err.split())
    )


def test_the_page_may_speak_to_its_own_server_alone(tmp_path):
    from hitlab.desk.serving import _command

    (told,) = [one for one in _command(tmp_path / "a.ipynb", 4321, tmp_path) if "Security-Policy" in one]
    (allowed,) = re.findall(r"connect-src ([^;]*);", told)
    assert allowed.split() == ["'self'", "ws://127.0.0.1:4321", "data:", "blob:"]


def test_a_server_that_dies_ends_the_command_with_what_it_said_last(tmp_path, monkeypatch, capsys):
    from hitlab.cli.commands import run
    from hitlab.desk import serving

    package("voila")
    fails = "import sys, time; time.sleep(0.2); print('first'); sys.exit('no room is left')"
    monkeypatch.setattr(serving, "_command", lambda *_: [sys.executable, "-c", fails])
    monkeypatch.setattr(serving, "_wait_for", lambda *_: None)
    before = signal.getsignal(signal.SIGTERM)
    assert run(["desk", "--no-open", "--folder", str(tmp_path)]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert "the page is served no longer: no room is left" in said
    assert signal.getsignal(signal.SIGTERM) is before


@pytest.mark.parametrize("found", [True, False], ids=["a browser", "none"])
def test_it_is_said_to_be_opened_only_where_a_browser_was_found(tmp_path, monkeypatch, capsys, found):
    from hitlab.cli.commands import run

    class Page:
        address = "http://127.0.0.1:4321/x"

        def wait(self) -> None:
            raise KeyboardInterrupt

    opened: list[str] = []
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr("webbrowser.open", lambda address, *_: opened.append(address) or found)
    monkeypatch.setattr("hitlab.desk.serving.served", lambda *_: contextlib.nullcontext(Page()))
    assert run(["desk", "--folder", str(tmp_path)]) == 0
    assert opened == [Page.address]
    told = capsys.readouterr()
    assert told.out == f"{Page.address}\n"
    assert ("is opened in your browser" in told.err) is found
    said = f"No browser was found here: open {Page.address} in one; press Ctrl-C here to close the desk."
    assert (said in told.err) is not found


def test_every_answer_has_a_look():
    assert set(answers._LOOKS) == set(get_args(Answer))
    assert all(f".desk-{one} " in answers.STYLE for one in answers._LOOKS.values())


def test_names_of_files_come_from_subject_and_kind(season):
    table = hitlab.read_pitches(season)
    claim = hitlab.check_above(table, "HitterA Velm", "10%")
    assert saving.stem_of(claim) == "hittera-velm-above"
    league = hitlab.check_above(table, "league", "10%")
    assert saving.stem_of(league) == "the-league-above"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with package("playwright.sync_api").sync_playwright() as play:
        chromium = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        yield chromium
        chromium.close()


@pytest.mark.slow
def test_the_desk_is_served_where_its_port_was_taken_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for needed in ("voila", "ipywidgets"):
        package(needed)
    from hitlab.desk import serving

    free = serving._free_port
    with socket.socket() as another:
        another.bind(("127.0.0.1", 0))
        another.listen()
        taken = another.getsockname()[1]
        ports = iter([taken])
        monkeypatch.setattr(serving, "_free_port", lambda: next(ports, None) or free())
        with serving.served(tmp_path) as desk_page:
            assert f":{taken}/" not in desk_page.address
            with urllib.request.urlopen(desk_page.address, timeout=60) as page:
                assert page.status == 200
        ports = iter([taken] * 3)
        with pytest.raises(HitlabError, match="the page could not be served"), serving.served(tmp_path):
            pass


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_the_served_desk_is_used_by_keyboard_alone(browser: Any, tmp_path: Path) -> None:
    package("voila")
    from hitlab.desk.serving import served

    axe = package("axe_playwright_python.sync_playwright").Axe()
    folder = tmp_path / "out"
    folder.mkdir()
    with served(folder) as desk_page:
        address = desk_page.address
        page = browser.new_page(viewport={"width": 1100, "height": 3200})
        errors: list[str] = []
        away: list[str] = []
        here = address.partition("?")[0]
        page.on("console", lambda m: errors.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda error: errors.append(str(error)))
        own = (here, here.replace("http", "ws"), "data:", "blob:")
        page.on("request", lambda r: None if r.url.startswith(own) else away.append(r.url))
        assert page.goto(here).status != 200 or "login" in page.url
        errors.clear()
        page.goto(address)
        field = page.get_by_label("What somebody says")
        field.wait_for(timeout=PATIENCE_MS)
        assert not page.locator(".jp-CodeCell .jp-InputArea-editor").count()
        field.focus()
        page.keyboard.type("Izezno owns breaking balls")
        page.keyboard.press("Enter")
        page.locator(".desk-verdict").wait_for(timeout=PATIENCE_MS)
        page.locator(".desk img").wait_for(timeout=PATIENCE_MS)
        claim = hitlab.check_above(hitlab.demo_season(), "Izezno", "league", when="pitch_kind=breaking")
        shown = page.locator(".desk").first.inner_text()
        assert "I read this as: does Nadia Izezno" in shown
        for words in (claim.verdict_words, claim.say, claim.avoid, claim.follow_up):
            assert words in shown
        found = axe.run(page).response
        assert [(v["id"], v["nodes"][0]["html"][:120]) for v in found["violations"]] == []
        assert len(found["passes"]) > 10
        levels = page.evaluate(
            "[...document.querySelectorAll('h1,h2,h3,h4')].filter(h => h.offsetParent)"
            ".map(h => +h.tagName[1])"
        )
        assert levels[0] == 1
        assert all(after <= before + 1 for before, after in pairwise(levels))
        assert _order_of_tabs(page) == sorted(_order_of_tabs(page))
        # Else a part of it, such as the right edge of the fields, is to be seen only where it is scrolled to.
        assert page.locator(".desk").first.evaluate("desk => desk.scrollWidth - desk.clientWidth") == 0
        for what in saving.SAVED:
            page.get_by_role("button", name=f"Save the {what}").press("Enter")
            page.get_by_text(f"The {what} is saved").wait_for(timeout=PATIENCE_MS)
        saved = pd.read_csv(folder / "nadia-izezno-above-numbers.csv")
        assert saved["hard"].tolist() == claim.evidence["hard"].tolist()
        assert len(list(folder.iterdir())) == 5
        field.fill("Mondezno owns breaking balls")
        field.press("Enter")
        other = hitlab.check_above(hitlab.demo_season(), "Mondezno", "league", when="pitch_kind=breaking")
        page.locator(".desk-say").get_by_text(other.say).wait_for(timeout=PATIENCE_MS)
        shots = os.environ.get("HITLAB_SCREENSHOTS")
        if shots:
            page.screenshot(path=str(Path(shots) / "desk.png"))
        page.close()
    assert errors == []
    assert away == []


def _order_of_tabs(page: Any) -> list[list[float]]:
    """Return where on the page the keyboard goes, field after field: row by row."""
    places: list[list[float]] = page.evaluate(
        "[...document.querySelectorAll('.desk input, .desk select, .desk button, .desk summary')]"
        ".filter(one => one.offsetParent && !one.disabled && one.tabIndex >= 0)"
        ".map(one => one.getBoundingClientRect())"
        ".map(box => [Math.round((box.top + box.height / 2) / 20), box.left])"
    )
    return places


@pytest.mark.slow
@pytest.mark.chromium
@needs_chromium
def test_the_desk_works_in_jupyterlab(
    browser: Any,
    lab: tuple[str, Path],
) -> None:
    address, home = lab
    shutil.copy(ROOT / "notebooks" / "desk.ipynb", home / "lessons")
    notebook = test_lab.Open(browser, address, "desk.ipynb")
    try:
        notebook.page.get_by_role("menuitem", name="Run", exact=True).click()
        notebook.page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
        field = notebook.page.get_by_label("What somebody says")
        field.wait_for(timeout=PATIENCE_MS)
        field.fill("Izezno owns breaking balls")
        field.press("Enter")
        notebook.page.locator(".desk-verdict").wait_for(timeout=PATIENCE_MS)
        button = notebook.page.get_by_role("button", name="Save the table")
        button.press("Enter")
        notebook.page.get_by_text("The table is saved").wait_for(timeout=PATIENCE_MS)
        saved = pd.read_csv(home / "lessons" / "nadia-izezno-above-numbers.csv")
        claim = hitlab.check_above(hitlab.demo_season(), "Izezno", "league", when="pitch_kind=breaking")
        assert saved["hard"].tolist() == claim.evidence["hard"].tolist()
        assert notebook.errors == []
        assert notebook.away == []
    finally:
        notebook.close()


def test_a_sentence_in_the_field_of_the_file_is_sent_to_its_own(tmp_path, monkeypatch):
    """ "There is no file he's the GOAT. Nothing in . has a name like it" was said."""
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ReadingError) as told:
        open_table("he's the GOAT")
    assert str(told.value) == (
        'There is no file "he\'s the GOAT". It reads like a sentence: what is to be asked goes into '
        "the field “What somebody says”"
    )
    for name in ("hits of may.csv.gz", "my season 2031.json"):
        with pytest.raises(HitlabError) as missing:
            open_table(name)
        assert "sentence" not in str(missing.value)
    with pytest.raises(ReadingError) as told:
        open_table("my season of 2031.csv")
    assert str(told.value) == (
        "There is no file 'my season of 2031.csv'. Nothing in this folder has a name like it."
    )
    with pytest.raises(ReadingError) as told:
        open_table("nowhere/my season")
    assert str(told.value) == ("There is no file 'nowhere/my season': the folder 'nowhere' does not exist.")
    (tmp_path / "my season of 2032.csv").write_text("hitter,outcome\nAda Frusk,foul\n", encoding="utf-8")
    with pytest.raises(ReadingError) as told:
        open_table("my season of 2031.csv")
    assert str(told.value).endswith("Nearest in this folder: my season of 2032.csv.")
    desk = open_desk()
    assert desk.sentence.description == "What somebody says"
