"""The recipes of DEVELOPERS.md for a count and for a claim, done to the letter in a copy of the project."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

pytestmark = pytest.mark.slow

COUNT = """
    Event(
        "called_strikes",
        "called",
        "called strike",
        "called strikes",
        "pitches let go and called strikes",
        lambda c: _outcome("called strike"),
        within=("takes",),
    ),
    Event(
        "check_swings_went",
"""

CLAIM = '''"""Claims of doing it twice as often: "she hits it hard twice as often as the rest"."""

from __future__ import annotations

from typing import Any

import numpy as np

from hitlab.questions.question import Question
from hitlab.claims.result import Claim, Finding, denies, how_likely, how_sure
from hitlab.claims.setting import Setting
from hitlab.wording import rate_text

__all__ = ["answer_twice"]


def answer_twice(question: Question, table: Any) -> Claim:
    """Answer "she does it twice as often as the league's average"."""
    setting = Setting.asked(question, table)
    place = setting.place(question.who)
    twice = 2 * setting.fit.mean
    name = setting.counts.labels[place]
    of = f"twice the league's average, {rate_text(twice)}"
    claim, tempting = f"{name}'s true rate of {setting.rate_name} is {of}", f"“Nobody compares to {name}.”"
    if setting.record:
        verdict = "holds" if setting.both.rate[place] >= twice else "does not hold"
        say = f"{name}'s observed rate is {setting.record_of(place)}; {of}."
        found = Finding(verdict, claim, say, tempting)
    else:

        def chance_in(posterior: Any) -> float:
            return float(posterior.above(twice)[place])

        chance = chance_in(setting.fit.posterior)
        verdict = setting.settle(chance, [place])
        would = setting.would_change(verdict, chance_in, np.array([place]), name, place)
        sure = how_sure(chance, denies(verdict, chance), "that it is")
        say = f"{name}'s true rate {how_likely(verdict, chance)} {of}: {sure}."
        found = Finding(verdict, claim, say, tempting, chance, setting.assumptions, would)
    return setting.answer(
        place, found, setting.evidence([place]), {**setting.numbers_of(place), "value": twice}
    )
'''

KIND = """
    Kind("twice", ("twice_claim", "answer_twice")),
    Kind("top", """

CLAUSE = """
def _of_twice(claim: Told) -> Clause:
    who, rate = _who(claim), _rate(claim)
    often = "at twice the usual rate"
    return Clause(who.subject, rate.doing, often, f"{rate.named} {often}", who.plural)


_CLAUSES: dict[str, Callable[[Told], Clause]] = {
    "twice": _of_twice,
"""

FUNCTION = '''
def check_twice(table: Any, hitter: str, **asked: Unpack[Asked]) -> Claim:
    """Check "she does it twice as often as the average"."""
    return _ask("twice", table, hitter, asked)


def check_top('''

COMMAND = '''
@check.command()
@click.argument("who", nargs=-1, required=True, metavar="NAME")
@claim_options(law=True)
def twice(who: tuple[str, ...], **options: Any) -> int:
    """NAME does it twice as often as the average."""
    return _ask("twice", options, who)


@check.command()
@click.argument("who", nargs=-1, metavar="[NAME]")
@click.option("--top"'''


@pytest.fixture
def copy(tmp_path):
    """The parts of the project that a contributor touches, apart from what lies here."""
    for name in ("hitlab", "tests", "data_demo", "pyproject.toml"):
        part = ROOT / name
        if part.is_dir():
            shutil.copytree(part, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(part, tmp_path / name)
    return tmp_path


def _put(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert text.count(old) == 1, (path, old)
    path.write_text(text.replace(old, new), "utf-8")


def _run(copy: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words],
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy)},
        capture_output=True,
        text=True,
        check=False,
    )


def _tests(copy: Path, those: str) -> subprocess.CompletedProcess[str]:
    """Run the tests of counts that match, the slow ones as well."""
    files = ("tests/test_events.py", "tests/test_ledger.py")
    return _run(copy, "-m", "pytest", "-p", "no:cacheprovider", *files, "-m", "", "-k", those, "-rf")


def _add_count(copy: Path, rule: str = '_outcome("called strike")') -> None:
    events = copy / "hitlab" / "counting" / "events.py"
    _put(
        events,
        '\n    Event(\n        "check_swings_went",\n',
        COUNT.replace('_outcome("called strike")', rule),
    )
    ledger = copy / "tests" / "test_ledger.py"
    _put(ledger, '"bunt_attempt")\n\n\ndef flags', '"bunt_attempt", "called")\n\n\ndef flags')
    _put(
        ledger,
        '({"outcome": "called strike"}, {"thrown", "take"})',
        '({"outcome": "called strike"}, {"thrown", "take", "called"})',
    )
    _put(
        ledger,
        '({"outcome": "called strike", "check_swing": True}, {"thrown", "take", "held"})',
        '({"outcome": "called strike", "check_swing": True}, {"thrown", "take", "held", "called"})',
    )


def test_a_count_is_added_in_one_place_and_everything_knows_it(copy):
    _add_count(copy)
    done = _tests(copy, "called_strikes or takes or test_what_a_pitch_became")
    assert done.returncode == 0, done.stdout[-2000:]
    asked = _run(copy, "-m", "hitlab", "check", "leads", "--event", "called_strikes", "--per", "takes")
    assert asked.returncode in (0, 1, 3), asked.stderr
    assert "called strikes per take" in " ".join(asked.stdout.split())
    refused = _run(copy, "-m", "hitlab", "check", "leads", "--event", "called_strikes", "--per", "swings")
    assert refused.returncode == 2
    assert "takes" in refused.stderr


@pytest.mark.parametrize(
    ("rule", "test"),
    [
        ('_outcome("called strike", "foul")', "test_what_is_said_to_lie_within"),
        ('_outcome("ball")', "test_what_a_pitch_became"),
    ],
    ids=["more than it lies within", "something else within it"],
)
def test_a_count_with_a_wrong_rule_fails(copy, rule, test):
    _add_count(copy, rule)
    done = _tests(copy, test)
    assert done.returncode == 1
    assert test in done.stdout


def test_a_claim_is_added_with_a_file_a_kind_a_function_and_a_command(copy):
    claims = copy / "hitlab" / "claims"
    (claims / "twice_claim.py").write_text(CLAIM, "utf-8")
    _put(copy / "hitlab" / "questions" / "kinds.py", '\n    Kind("top", ', KIND)
    _put(claims / "clauses.py", "\n_CLAUSES: dict[str, Callable[[Told], Clause]] = {\n", CLAUSE)
    _put(claims / "checking.py", "\ndef check_top(", FUNCTION)
    _put(claims / "checking.py", '    "check_top",\n', '    "check_top",\n    "check_twice",\n')
    for stub, home in ((copy / "hitlab", ".claims.checking"), (claims, ".checking")):
        line = f"from {home} import check_top as check_top\n"
        _put(stub / "__init__.pyi", line, line + line.replace("check_top", "check_twice"))
    _put(
        copy / "hitlab" / "cli" / "checks.py",
        '\n@check.command()\n@click.argument("who", nargs=-1, metavar="[NAME]")\n@click.option("--top"',
        COMMAND,
    )
    asked = _run(
        copy,
        *("-m", "hitlab", "check", "twice", "Izezno", "--when", "pitch_kind=fastball", "--json"),
        *("--card", "card.svg", "--cut", "cut.csv"),
    )
    assert asked.returncode in (0, 1, 3), asked.stderr
    told = json.loads(asked.stdout)
    assert told["claim"].startswith(
        "Nadia Izezno's true rate of hard-hit balls per swing against fastballs is twice"
    )
    assert (copy / "cut.csv").stat().st_size > 500
    again = (
        "from hitlab import Question, check_twice, demo_season, read_card\n"
        "claim = Question.from_dict(read_card('card.svg').question).ask(demo_season())\n"
        "same = check_twice(demo_season(), 'Izezno', when='pitch_kind=fastball')\n"
        "assert same.to_dict() == claim.to_dict()\n"
        "print(claim.kind, claim.chance)"
    )
    remade = _run(copy, "-c", again)
    assert remade.stdout.split() == ["twice", str(told["chance"])], remade.stderr
