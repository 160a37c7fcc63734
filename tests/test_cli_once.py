"""An option that takes one value is given once: no command uses the last of two in silence."""

from __future__ import annotations

from collections.abc import Iterator

import click
import pytest

from hitlab.cli.commands import hitlab, run


def _commands(
    command: click.Command, path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    yield path, command
    for name, part in getattr(command, "commands", {}).items():
        yield from _commands(part, (*path, name))


OPTIONS = [
    (path, option)
    for path, command in _commands(hitlab)
    for option in command.params
    if isinstance(option, click.Option) and not option.is_flag
]
_SINGLE = [(path, option) for path, option in OPTIONS if not option.multiple]
_REPEATED = [(path, option) for path, option in OPTIONS if option.multiple]


def test_all_commands_are_looked_at() -> None:
    commands = {"ask", "check", "list", "read", "add", "make", "page", "carry", "swing", "chart", "eye"}
    commands |= {"charters", "desk", "board", "dugout", "lessons"}
    assert {path[0] for path, _ in _SINGLE} == commands
    assert len({path for path, _ in _SINGLE}) >= 13  # ten kinds of claims and three commands
    assert {option.opts[0] for _, option in _REPEATED} == {
        "--to",
        "--when",
        "--first-when",
        "--second-when",
        "--among",
        "--covariates",
        "--twice",
        "--earlier",
    }


@pytest.mark.parametrize(
    ("path", "option"), [pytest.param(*one, id=" ".join((*one[0], one[1].opts[0]))) for one in _SINGLE]
)
def test_an_option_of_one_value_given_twice_is_an_error_that_names_it(
    path: tuple[str, ...], option: click.Option, capsys: pytest.CaptureFixture[str]
) -> None:
    name = option.opts[0]
    assert run([*path, name, "1", f"{name}=2"]) == 2
    said = " ".join(capsys.readouterr().err.split())
    assert f"{name} is given 2 times and takes one value. Give it once." in said


@pytest.mark.parametrize(
    ("path", "option"), [pytest.param(*one, id=" ".join((*one[0], one[1].opts[0]))) for one in _REPEATED]
)
def test_options_that_may_be_repeated_say_so(path: tuple[str, ...], option: click.Option) -> None:
    assert "may be given several times" in (option.help or "")


def test_what_may_be_repeated_is_named_beside_the_error(capsys: pytest.CaptureFixture[str]) -> None:
    run(["list", "--per", "swings", "--per", "contact"])
    assert "What may be given several times here: --when." in " ".join(capsys.readouterr().err.split())
    run(["make", "somewhere", "--seed", "1", "--seed", "1"])
    assert "several times" not in capsys.readouterr().err


@pytest.mark.slow
def test_two_situations_and_a_flag_given_twice_are_as_before(capsys: pytest.CaptureFixture[str]) -> None:
    base = ["list", "--event", "whiffs", "--json"]
    assert run([*base, "--when", "strikes=2", "--when", "pitch_kind=breaking"]) == 0
    both = capsys.readouterr().out
    assert run([*base, "--json", "--when", "strikes=2"]) == 0
    assert capsys.readouterr().out != both


def test_help_is_given_whatever_else_was_typed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["list", "--most", "1", "--most", "2", "--help"]) == 0
    assert "--denominators" in capsys.readouterr().out
