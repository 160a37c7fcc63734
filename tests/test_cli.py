"""The command line: answers, exit codes, JSON, and plain sentences where something is wrong."""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys
import warnings
from pathlib import Path

import click
import pandas as pd
import pytest

import hitlab
from hitlab.cli.commands import hitlab as hitlab_command
from hitlab.cli.commands import run
from hitlab.cli.examples import EXAMPLES
from hitlab.errors import HitlabWarning
from hitlab.evidence.cards import card, read_card


@pytest.fixture
def sheet(tmp_path):
    """A sheet of two hitters: one surely ahead of the other."""
    rows = []
    for hitter, hard in (("Ada Velm", 150), ("Cy Drul", 10)):
        rows += [(hitter, "in play", 100.0)] * hard
        rows += [(hitter, "in play", 60.0)] * (200 - hard)
        rows += [(hitter, "whiff", None)] * 100
    for number in range(40):
        rows += [(f"Other {number:02d}", "in play", 100.0)] * 8
        rows += [(f"Other {number:02d}", "whiff", None)] * 32
    path = tmp_path / "sheet.csv"
    pd.DataFrame(rows, columns=["hitter", "outcome", "exit_mph"]).to_csv(path, index=False)
    return str(path)


@pytest.mark.slow
def test_exit_codes_follow_the_verdict(sheet, capsys):
    assert run(["check", "ahead", "Ada Velm", "Cy Drul", "--file", sheet]) == 0
    assert run(["check", "ahead", "Cy Drul", "Ada Velm", "--file", sheet]) == 1
    assert run(["check", "ahead", "Other 01", "Other 02", "--file", sheet]) == 3
    assert run(["check", "ahead", "Nobody", "Ada Velm", "--file", sheet]) == 2
    said = capsys.readouterr()
    printed = " ".join(said.out.split())
    assert "Safe to say: Ada Velm most likely hits the ball hard more often per swing than Cy Drul" in printed
    assert (
        "In full: Ada Velm's true rate of hard-hit balls per swing is most likely above Cy Drul's" in printed
    )
    assert said.err.startswith("Could not be checked: nobody here is called 'Nobody'")


def test_a_long_name_of_a_count_leaves_room_for_hitters_and_numbers(capsys):
    from hitlab.cli.console import print_table

    event = "swings_with_no_balls_and_no_strikes_and_two_runners_on"
    row = {"hitter": "Nadia Izezno", event: 160, "swings": 547, "rate": 0.293, "chance best": "27 %"}
    print_table("A list", pd.DataFrame([row]), ())
    assert "  Nadia Izezno  " in (told := capsys.readouterr().out)
    assert "…" not in told
    assert all(value in told for value in (" 160 ", " 547 ", " .293 ", " 27 %"))


def test_json_is_the_claim(sheet, capsys):
    assert run(["check", "leads", "--file", sheet, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["verdict"] == "holds"
    assert answer["numbers"]["hitter"] == "Ada Velm"
    assert (answer["numbers"]["events"], answer["numbers"]["exposure"]) == (150, 300)
    assert answer["chance"] > 0.9


def test_the_league_is_typed_by_either_name(sheet, capsys):
    answers = []
    for value in (["league"], ["the", "league"], ["The", "League"]):
        assert run(["check", "above", "Ada", "Velm", *value, "--file", sheet, "--json"]) == 0
        answers.append(json.loads(capsys.readouterr().out)["say"])
    assert answers == [answers[0]] * 3


def test_the_record_is_settled_without_a_chance(sheet, capsys):
    assert run(["check", "leads", "Cy Drul", "--record", "--file", sheet, "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["chance"] is None


@pytest.mark.slow
def test_every_kind_answers_on_the_demo_season(capsys):
    name = "Nadia Izezno"
    for command in (
        ["check", "leads"],
        ["check", "top", name, "--top", "3"],
        ["check", "above", name, "0.12"],
        ["check", "ahead", name, "Ada Mondezno"],
        ["check", "split", name, "--when", "pitch_kind=breaking"],
        ["list", "--minimum", "150"],
        ["list", "--denominators", "--minimum", "150"],
        ["list", "--event", "whiffs", "--when", "strikes=2"],
    ):
        assert run(command) in (0, 1, 3), command
        said = capsys.readouterr()
        assert name.split()[0] in said.out or command[0] == "list"
        assert not said.err


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    ("command", "sentence"),
    [
        (["check", "above", "Nadia Izezno", "16"], "give a rate between 0 and 1; 16 % is 0.16"),
        (["check", "leads", "--file", "nowhere.csv"], "nowhere.csv"),
        (["check", "split", "Nadia Izezno", "--when", "pitch_knd=slider"], "did you mean pitch_kind?"),
        (["check", "split", "Nadia Izezno", "--when", "pitch_kind=slidr"], "'slidr' is not a pitch kind"),
        (["check", "leads", "--minimum", "100000"], "nobody has at least 100,000 swings"),
        (["list", "--event", "homers"], "no count is called 'homers'"),
        (
            ["check", "leads", "--holds-at", "0.05"],
            "--holds-at 0.05, --fails-at 0.1: give two chances, the second below",
        ),
        (["check", "leads", "--minimum", "100000"], "the most is 600. Lower --minimum."),
    ],
)
def test_what_cannot_be_checked_is_said_in_a_sentence(command, sentence, capsys):
    assert run(command) == 2
    said = capsys.readouterr()
    assert sentence in said.err
    assert "Traceback" not in said.err + said.out


@pytest.mark.slow
@pytest.mark.parametrize(
    "command",
    [
        ["leads"],
        ["top", "Nadia Izezno"],
        ["above", "Nadia Izezno", "0.12"],
        ["ahead", "Nadia Izezno", "Ada Mondezno", "--record"],
        ["split", "Nadia Izezno", "--when", "pitch_kind=breaking"],
    ],
)
def test_every_kind_writes_a_card_that_can_be_traced(command, tmp_path, capsys):
    from hitlab.evidence.cards import read_card
    from hitlab.wording import source_name

    path = tmp_path / "card.svg"
    code = run(["check", *command, "--card", str(path), "--json"])
    said = capsys.readouterr()
    answer, facts = json.loads(said.out), read_card(path)
    assert code == {"holds": 0, "does not hold": 1, "open": 3}[facts.verdict]
    assert (facts.say, facts.fingerprint) == (answer["say_in_full"], answer["fingerprint"])
    assert facts.source == source_name(answer["source"])
    assert facts.dates == "April 3 to June 23, 2031"
    assert said.err.startswith("Card saved as ")


def test_a_card_that_cannot_be_written_is_said_before_the_work(tmp_path, sheet, capsys):
    path = tmp_path / "nowhere" / "card.png"
    assert run(["check", "leads", "--file", sheet, "--card", str(path)]) == 2
    said = capsys.readouterr()
    assert not said.out
    assert said.err.startswith(f"Could not be checked: {path} cannot be written: there is no folder")


@pytest.mark.slow
def test_a_card_that_finds_no_room_leaves_the_answer(tmp_path, sheet, capsys, monkeypatch):
    path = tmp_path / "card.png"
    plain = run(["check", "leads", "--file", sheet])

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    assert run(["check", "leads", "--file", sheet, "--card", str(path)]) == plain
    assert plain in (0, 1, 3)
    said = capsys.readouterr()
    assert "Safe to say: Ada Velm" in said.out
    assert said.err.startswith(f"No card was made: {path} cannot be written")


def test_read_reports_and_saves(tmp_path, capsys):
    path = tmp_path / "sheet.csv"
    path.write_text("hitter,outcome\nAda,whiff\nAda,wiff\n", encoding="utf-8")
    saved, aside = tmp_path / "checked.parquet", tmp_path / "aside.csv"
    # More than a tenth set aside: the report begins with it, and the exit code says so.
    assert run(["read", str(path), "--save", str(saved), "--set-aside", str(aside)]) == 3
    told = capsys.readouterr().out
    assert "2 rows read, 1 kept, 1 set aside" in told
    assert "1 of 2 rows are set aside, more than 10 %" in told.splitlines()[2]
    assert run(["read", str(path), "--most-set-aside", "0.5"]) == 0
    capsys.readouterr()
    assert "wiff" in aside.read_text(encoding="utf-8")
    assert run(["list", "--event", "whiffs", "--file", str(saved), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["rows"][0]["whiffs"] == 1


@pytest.fixture
def foreign(tmp_path):
    """A sheet of which the reader understands one row in six."""
    path = tmp_path / "foreign.csv"
    rows = [("Ada", "foul"), ("Bo", "whiff")] * 5 + [("Ada", "GB6")] * 48 + [("", "foul")] * 2
    pd.DataFrame(rows, columns=["hitter", "outcome"]).to_csv(path, index=False)
    return path


MOSTLY = "of foreign.csv was not understood: 50 of 60 rows are set aside, 48 of them for this: outcome: not a"


def test_read_of_a_file_that_was_mostly_not_understood_could_not_be_done(foreign, tmp_path, capsys):
    saved, aside = tmp_path / "checked.parquet", tmp_path / "aside.csv"
    assert run(["read", str(foreign), "--save", str(saved), "--set-aside", str(aside)]) == 2
    said = capsys.readouterr()
    assert said.out.startswith("foreign.csv: 60 rows read, 10 kept, 50 set aside")
    assert "Words seen:" in said.out
    assert MOSTLY in said.err
    # A saved table would pass for checked: no later command would say what is missing from it.
    assert not saved.exists()
    assert "is not saved" in said.err
    assert aside.read_text(encoding="utf-8-sig").count("\n") == 51
    assert run(["read", str(foreign), "--json"]) == 2
    said = capsys.readouterr()
    assert MOSTLY in json.loads(said.out)["not_understood"]
    assert MOSTLY in said.err


def test_no_claim_rests_on_a_file_that_was_mostly_not_understood(foreign, capsys):
    for command in (["check", "leads", "--event", "whiffs"], ["list", "--event", "whiffs"]):
        assert run([*command, "--file", str(foreign)]) == 2
        said = capsys.readouterr()
        assert MOSTLY in said.err
        assert not said.out
    assert run(["check", "leads", "--event", "whiffs", "--league", str(foreign)]) == 2
    said = capsys.readouterr().err
    assert MOSTLY in said
    assert "the league, " in said


@pytest.mark.slow
def test_make_writes_a_season_that_can_be_checked(tmp_path, capsys):
    assert run(["make", str(tmp_path / "s"), "--pitches", "4000", "--hitters", "40", "--clubs", "4"]) == 0
    assert run(["check", "leads", "--file", str(tmp_path / "s" / "season.parquet")]) in (0, 1, 3)
    assert "hard-hit balls per swing" in capsys.readouterr().out


@pytest.mark.slow
def test_a_text_claim_loads_no_plots_no_statsmodels_and_nothing_of_the_reader():
    code = (
        "import sys; from hitlab.cli.commands import run; run(['check', 'leads']);"
        "slow = ('statsmodels', 'seaborn', 'matplotlib', 'polars', 'scipy.stats', 'hitlab.pitches.cells',"
        "'hitlab.pitches.mapping', 'hitlab.pitches.reading');"
        "print([name for name in slow if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_module_runs_as_a_command():
    done = subprocess.run(
        [sys.executable, "-m", "hitlab", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("hitlab ")


@pytest.mark.slow
def test_a_club_is_judged_by_what_is_usual_in_its_league(tmp_path, capsys):
    season = pd.read_parquet(hitlab.demo_season())
    club = tmp_path / "club.csv"
    season[season["club"] == season["club"].iloc[0]].to_csv(club, index=False)
    shrunk = {}
    card = tmp_path / "card.png"
    for name, league in (
        ("alone", []),
        ("told", ["--league", str(hitlab.demo_season()), "--card", str(card)]),
    ):
        assert run(["check", "leads", "--file", str(club), "--json", *league]) in (0, 1, 3)
        answer = json.loads(capsys.readouterr().out.partition("Card saved")[0])
        assert answer["source"] == "club.csv"
        shrunk[name] = answer["numbers"]["shrunk"]
    assert shrunk["told"] < shrunk["alone"]
    assert "agree with what is known of the league" in answer["assumptions"][1]
    whole = hitlab.shrink(hitlab.tally(hitlab.demo_season()), "hard", "swings")
    leader = whole.data.loc[whole.data["hitter"] == answer["numbers"]["hitter"], "shrunk"].iloc[0]
    assert abs(shrunk["told"] - leader) < abs(shrunk["alone"] - leader) / 3
    facts = read_card(card)
    counts = hitlab.tally(hitlab.read_pitches(club), by=["hitter", "game"])
    assert facts.call.startswith("Question(kind='leads', who=")
    for table in (counts, hitlab.read_pitches(club)):
        assert facts.asked.ask(table).numbers["shrunk"] == shrunk["told"]


def test_a_league_that_cannot_be_read_is_named(tmp_path, capsys):
    assert run(["check", "leads", "--league", str(tmp_path / "none.csv")]) == 2
    assert "none.csv" in capsys.readouterr().err


@pytest.mark.slow
def test_a_league_is_read_by_its_own_rules_and_must_be_judged_alike(tmp_path, capsys):
    season = str(hitlab.demo_season())
    week = ["--file", "data_demo/week.csv", "--mapping", "data_demo/week.toml"]
    assert run(["check", "leads", *week, "--league", season, "--json"]) in (0, 1, 3)
    told = json.loads(capsys.readouterr().out)
    assert "not taken along" in told["assumptions"][1]
    assert "there a radar tells what is hard, here an eye" in told["assumptions"][1]
    # With the eye's errors known, what is estimated is truly hard, as the radar's is.
    eye = ["--eye", "84/100,180/200"]
    assert run(["check", "leads", *week, "--league", season, *eye, "--json"]) in (0, 1, 3)
    assert "a mean of .1" in json.loads(capsys.readouterr().out)["assumptions"][1]
    by_radar = ["check", "leads", "--file", season, "--hard-mph", "90"]
    assert run([*by_radar, "--league", "data_demo/week.csv", "--league-mapping", "data_demo/week.toml"]) == 2
    assert "is counted otherwise: there hard means flagged" in " ".join(capsys.readouterr().err.split())
    # The checked season is not mapped, the whiffs are counted alike.
    assert run(["check", "leads", *week, "--event", "whiffs", "--league", season]) in (0, 1, 3)
    capsys.readouterr()
    assert run(["check", "leads", "--league", season]) == 2
    assert "is the table itself" in capsys.readouterr().err
    bare = tmp_path / "bare.csv"
    pd.DataFrame({"hitter": ["Ada", "Bo"], "outcome": ["whiff", "foul"]}).to_csv(bare, index=False)
    assert run(["check", "leads", "--league", str(bare)]) == 2
    assert "the league, " in capsys.readouterr().err
    assert run(["check", "leads", "--event", "whiffs", "--league", str(bare), "--json"]) in (0, 1, 3)
    assert "as sure as 2 true rates make it" in json.loads(capsys.readouterr().out)["assumptions"][1]
    part = tmp_path / "part.csv"
    pd.read_parquet(season).head(20_000).to_csv(part, index=False)
    assert run(["check", "leads", "--league", str(part)]) == 2
    assert "is the table itself or a part of it" in " ".join(capsys.readouterr().err.split())


@pytest.mark.slow
def test_notes_on_hardness_stand_under_answers_about_it_only(capsys):
    run(["check", "leads", "--event", "whiffs"])
    said = capsys.readouterr().out
    assert "hard means" not in said
    assert "unknown hardness" not in said
    assert "... and 95 more" in said
    run(["check", "leads", "--minimum", "580"])
    said = capsys.readouterr().out
    assert "hard means 95 mph or more off the bat." in said
    assert "unknown hardness" in said
    assert "more\n" not in said.split("What would change it")[0].split("Avoid")[1]


@pytest.mark.slow
def test_far_behind_the_choice_makes_no_difference(capsys):
    run(["check", "spot", "--behind", "9"])
    said = " ".join(capsys.readouterr().out.split())
    assert (
        "But it makes no difference that 1,000 such spots would show: whoever of them bats, the chance to "
        "win is under 0.1 %." in said
    )


def test_rows_that_were_set_aside_are_noted_in_the_answer(tmp_path, capsys):
    rows = [("Ada", "in play", 100.0)] * 30 + [("Ada", "smash", None)] * 7 + [("Bo", "whiff", None)] * 30
    path = tmp_path / "sheet.csv"
    pd.DataFrame(rows, columns=["hitter", "outcome", "exit_mph"]).to_csv(path, index=False)
    run(["check", "leads", "--file", str(path), "--json"])
    told = json.loads(capsys.readouterr().out)["cannot_tell"]
    assert "7 of 67 rows are set aside, not counted, 7 of them for this: " in told
    assert run(["list", "--file", str(path), "--json"]) == 0
    notes = json.loads(capsys.readouterr().out)["notes"]
    assert any("7 of 67 rows are set aside" in note for note in notes)


def test_an_open_question_about_the_sheet_is_put_beside_every_answer(tmp_path, capsys):
    rows = [("Ada", "in play", "yes")] * 3 + [("Ada", "in play", "")] * 30 + [("Bo", "whiff", "")] * 30
    path = tmp_path / "ticks.csv"
    pd.DataFrame(rows, columns=["hitter", "outcome", "hard"]).to_csv(path, index=False)
    assert run(["list", "--event", "whiffs", "--file", str(path), "--json"]) == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["rows"]
    assert (
        f"{path}: What does a blank in hard mean? `hitlab read {path}` shows the lines of the mapping that "
        "answer it" in said.err
    )
    assert run(["read", str(path)]) == 0
    assert "What does a blank in hard mean?" in capsys.readouterr().out


def test_a_day_outside_the_table_is_named(capsys):
    assert run(["check", "more", "Nadia Izezno", "--since", "2033-05-15"]) == 2
    assert "the table's games are from 2031-04-03 to 2031-06-23" in capsys.readouterr().err


def test_a_list_without_anybody_says_so(capsys):
    assert run(["list", "--minimum", "99999"]) == 2
    assert "nobody here has at least 99,999 swings; lower --minimum." in capsys.readouterr().err


@pytest.mark.slow
def test_swings_of_a_game_are_looked_at_unless_they_are_taken_for_independent(tmp_path, capsys):
    run(["check", "ahead", "Nadia Izezno", "Aiko Kanagane", "--json"])
    by_game = json.loads(capsys.readouterr().out)
    run(["check", "ahead", "Nadia Izezno", "Aiko Kanagane", "--json", "--independent"])
    plain = json.loads(capsys.readouterr().out)
    assert plain["question"].pop("independent")
    assert by_game["question"] == plain["question"]
    # In the demo season they are hardly alike: said, and the answer is the same.
    assert any(note.endswith("that is too little to matter") for note in by_game["notes"])
    assert by_game["chance"] == plain["chance"]
    assert by_game["numbers"] == plain["numbers"]
    assert by_game["fingerprint"] == plain["fingerprint"] == hitlab.tally(hitlab.demo_season()).fingerprint
    # Days on which one hitter hits everything hard and others on which he does not: fewer swings' worth.
    rows = [
        (f"h{h:02d}", f"g{g:02d}", "in play", 100.0 if (g * 7 + h * 3) % 10 < 3 + h % 3 else 60.0)
        for h in range(20)
        for g in range(20)
        for _ in range(8)
    ]
    path = tmp_path / "days.csv"
    pd.DataFrame(rows, columns=["hitter", "game", "outcome", "exit_mph"]).to_csv(path, index=False)
    run(["check", "leads", "--file", str(path)])
    said = " ".join(capsys.readouterr().out.split())
    assert "attempts are draws at it that are alike within a game" in said
    assert "records count as if they were 8.00 times shorter" in said
    assert "the chance allows for that" in said


def test_a_closed_pipe_is_no_verdict(sheet):
    """As ``hitlab check ... | head`` closes it: 1 would say that the claim does not hold."""
    asked = [sys.executable, "-m", "hitlab", "check", "above", "Ada Velm", "10%", "--file", sheet]
    with subprocess.Popen(asked, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        said = process.stderr.read().decode()
    assert (process.returncode, said) == (2, "")


@pytest.mark.slow_beyond_first
@pytest.mark.parametrize(
    "asked",
    [
        ["check", "above", "Ada Velm", "10%", "--card", "a.svg", "--cut", "b.csv"],
        ["check", "above", "Ada Velm", "10%", "--json", "--card", "a.svg", "--cut", "b.csv"],
        ["list", "--event", "whiffs", "--minimum", "1", "--card", "a.svg", "--save", "b.csv"],
    ],
    ids=["check", "check as JSON", "list"],
)
def test_a_closed_pipe_loses_nothing_that_was_to_be_saved(sheet, tmp_path, asked):
    command = [sys.executable, "-m", "hitlab", *asked, "--file", sheet]
    with subprocess.Popen(
        command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=_here()
    ) as process:
        process.stdout.close()
    assert process.returncode == 2
    assert (tmp_path / "a.svg").read_text(encoding="utf-8").rstrip().endswith("</svg>")
    assert "Ada Velm" in (tmp_path / "b.csv").read_text(encoding="utf-8")


def _here() -> dict[str, str]:
    """Let what runs in another folder import the same hitlab."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join([os.getcwd(), os.environ.get("PYTHONPATH", "")])}


@pytest.mark.parametrize("speeds", [[], ["exit_mph"]], ids=["no column", "no value"])
@pytest.mark.parametrize("command", [["list"], ["page", "Ada Velm", "--to", "page.html"]])
def test_a_table_without_hardness_is_told_of_the_other_rates(tmp_path, monkeypatch, capsys, speeds, command):
    monkeypatch.chdir(tmp_path)
    rows = [("Ada Velm", "in play"), ("Ada Velm", "whiff"), ("Cy Drul", "foul"), ("Cy Drul", "in play")]
    pd.DataFrame(rows, columns=["hitter", "outcome"]).assign(**dict.fromkeys(speeds)).to_csv("own.csv")
    assert run([*command, "--file", "own.csv"]) == 2
    assert capsys.readouterr().err.endswith("Another rate needs none of it: --event whiffs.\n")
    assert run([*command, "--file", "own.csv", "--event", "whiffs"]) == 0


def test_where_the_output_has_no_room_is_no_fault_of_hitlab(sheet, tmp_path):
    if not os.path.exists("/dev/full"):
        pytest.skip("this system has no /dev/full")
    command = [sys.executable, "-m", "hitlab", "list", "--event", "whiffs", "--minimum", "1", "--file", sheet]
    with open("/dev/full", "w") as full:
        found = subprocess.run(
            command, cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, text=True, env=_here(), check=False
        )
    assert found.returncode == 2
    assert found.stderr == "Could not be checked: the answer cannot be written: No space left on device.\n"


def test_a_year_that_is_none_is_told_by_the_option(sheet, capsys):
    assert run(["read", str(sheet), "--year", "99999"]) == 2
    assert "--year: 99999 is not a whole number" in capsys.readouterr().err


def test_an_option_is_offered_only_to_a_command_that_has_it(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    rows = [("Ada Velm", "in play"), ("Ada Velm", "whiff"), ("Cy Drul", "foul"), ("Cy Drul", "in play")]
    pd.DataFrame(rows, columns=["hitter", "outcome"]).to_csv("own.csv", index=False)
    for command in (
        ["ask", "Ada Velm leads in hard-hit balls per swing"],
        ["check", "together", "hard per swings", "whiffs per swings"],
    ):
        assert run([*command, "--file", "own.csv"]) == 2
        said = capsys.readouterr().err
        assert "hard cannot be counted" in said
        assert "--event" not in said


def _commands(group, path=()):
    for name, command in group.commands.items():
        yield (*path, name), command
        yield from _commands(command, (*path, name)) if isinstance(command, click.Group) else ()


COMMANDS = dict(_commands(hitlab_command))


@pytest.mark.parametrize("path", COMMANDS, ids=" ".join)
def test_help_ends_with_an_example_that_the_command_takes(path, capsys):
    assert run([*path, "--help"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    example = EXAMPLES[path[-1]]
    assert said.endswith(f"Example: {example}")
    program, *words = shlex.split(example)
    assert (program, *words[: len(path)]) == ("hitlab", *path)
    if not isinstance(COMMANDS[path], click.Group):
        COMMANDS[path].make_context(path[-1], words[len(path) :])  # refuses what the command does not know


def test_there_is_no_example_without_a_command():
    assert set(EXAMPLES) == {path[-1] for path in COMMANDS}


@pytest.mark.parametrize(
    ("encoding", "told"), [("cp1252", "Jürgen \\u7f8e\\u54b2"), ("cp932", "J\\u00fcrgen 美咲")]
)
def test_names_that_the_output_has_no_letters_for_are_written_as_escapes(tmp_path, encoding, told):
    """As where Windows writes the answer into a file, or hands it to another program."""
    sheet = tmp_path / "own.csv"
    rows = [("Jürgen 美咲", "whiff"), ("Jürgen 美咲", "foul"), ("Cy Drul", "foul"), ("Cy Drul", "whiff")]
    pd.DataFrame(rows, columns=["hitter", "outcome"]).to_csv(sheet, index=False)
    command = [sys.executable, "-m", "hitlab", "list", "--event", "whiffs", "--file", str(sheet)]
    for more in ([], ["--json"]):
        found = subprocess.run(
            [*command, *more],
            capture_output=True,
            env={**os.environ, "PYTHONIOENCODING": encoding},
            check=False,
        )
        assert (found.returncode, found.stderr) == (0, b"")
        assert told in (said := found.stdout.decode(encoding))
        if more:
            assert json.loads(said)["rows"][0]["hitter"] in ("Jürgen 美咲", "Cy Drul")


@pytest.mark.parametrize("width", [30, 50, 66])
def test_a_narrow_terminal_cuts_off_neither_names_nor_numbers(width, monkeypatch, capsys):
    from hitlab.cli.console import print_table

    monkeypatch.setenv("COLUMNS", str(width))
    row = {"hitter": "Maximiliana Brackenthorpe", "whiffs": 160, "swings": 547, "rate": 0.293}
    row |= {"shrunk": 0.281, "low": 0.256, "high": 0.312, "chance best": "27 %"}
    print_table("A list", pd.DataFrame([row, row | {"hitter": "美咲", "rate": 0.301}]), ())
    told = capsys.readouterr().out
    assert "…" not in told
    assert max(len(line.rstrip()) for line in told.splitlines()) <= width
    words = " ".join(told.split())
    for part in ("Maximiliana", "Brackenthorpe", "美咲", "160", "547", ".293", ".301", ".312", "27 %"):
        assert part in words


def test_letters_that_no_font_has_are_told_beside_the_picture(tmp_path, monkeypatch, capsys):
    """The names are there in the answer, and in the picture they are not."""
    monkeypatch.chdir(tmp_path)
    rows = [("\U00012345\U00012346 Velm", "whiff"), ("Cy Drul", "foul")] * 9
    pd.DataFrame(rows, columns=["hitter", "outcome"]).to_csv("own.csv", index=False)
    asked = ["check", "above", "Velm", "10%", "--event", "whiffs", "--file", "own.csv"]
    assert run([*asked, "--card", "card.png"]) == 0
    told = capsys.readouterr().err
    assert told.splitlines() == [
        "In pictures ? stands for \U00012345, \U00012346: no installed font has them; install one that has."
    ]
    assert run(asked) == 0
    assert capsys.readouterr().err == ""
    # What is drawn before a command, in the same process, is no picture of it.
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", HitlabWarning)
        card(hitlab.check_above(pd.read_csv("own.csv"), "Velm", 0.1, event="whiffs"))
    assert run(asked) == 0
    assert capsys.readouterr().err == ""


def test_only_the_label_of_a_paragraph_is_bold(monkeypatch, capsys):
    from hitlab.cli.console import print_table

    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    print_table("A list", pd.DataFrame({"hitter": ["Ada Velm"]}), ["said in plain letters"])
    assert "\x1b[1mNote: \x1b[0msaid in plain letters." in capsys.readouterr().out


def test_the_readme_names_the_twin_of_every_check(capsys: pytest.CaptureFixture[str]) -> None:
    """`check different` had none, and `hitlab.check_different` is no name of the package."""
    from hitlab.cli.checks import check

    readme = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")
    row = next(line for line in readme.splitlines() if line.startswith("| is this sentence safe to say |"))
    others = {
        "below": 'check_above(..., direction="less")',
        "fewer": 'check_more(..., direction="less")',
        "different": 'check_more(..., direction="either")',
    }
    for name in check.commands:
        if name in others:
            assert f"`check {name}` is `{others[name]}`" in row
        else:
            assert f"check_{name}`" in row
            assert callable(getattr(hitlab, f"check_{name}"))
    for name, direction in (("different", "either"), ("fewer", "less")):
        run(["check", name, "Izezno", "--since", "May", "--json"])
        asked = hitlab.check_more(hitlab.demo_season(), "Izezno", since="May", direction=direction)
        assert json.loads(capsys.readouterr().out)["chance"] == asked.chance


def test_who_has_nothing_to_go_by_stands_last_in_a_list(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Her shrunk rate is the mean of all, which is high where the others are low: she stood second."""
    rows = [
        *[("Ada Frusk", "whiff")] * 5 + [("Ada Frusk", "foul")] * 25,
        *[("Bea Plome", "whiff")] * 3 + [("Bea Plome", "foul")] * 30,
        *[("Cy Drul", "ball")] * 9,
        *[("Dot Marl", "whiff")] * 8 + [("Dot Marl", "foul")] * 20,
        *[("Eve Nox", "whiff")] * 2 + [("Eve Nox", "foul")] * 28,
    ]
    sheet, saved = tmp_path / "sheet.csv", tmp_path / "list.csv"
    pd.DataFrame(rows, columns=["hitter", "outcome"]).to_csv(sheet, index=False)
    command = ["list", "--event", "whiffs", "--file", str(sheet), "--save", str(saved), "--json"]
    assert run(command) == 0
    order = ["Dot Marl", "Ada Frusk", "Bea Plome", "Eve Nox", "Cy Drul"]
    assert [row["hitter"] for row in json.loads(capsys.readouterr().out)["rows"]] == order
    assert pd.read_csv(saved)["hitter"].tolist() == order
