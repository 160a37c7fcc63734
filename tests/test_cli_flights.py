"""``hitlab carry`` and ``hitlab swing`` say what the functions say."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from hitlab.cli.commands import run
from hitlab.physics import Conditions, PitchAtPlate, Swing, air_density, carry_band, fly, swing_outcomes
from tests.needs import package


def _said(capsys: pytest.CaptureFixture[str]) -> str:
    return " ".join(capsys.readouterr().out.split())


def _answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert run([*arguments, "--json"]) == 0
    answer: dict[str, Any] = json.loads(capsys.readouterr().out)
    return answer


def test_carry_in_thin_air(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["carry", "100", "28", "--spin", "2000", "--altitude", "5000", "--wind", "6", "--spray", "12"]
    air = Conditions(density_kg_m3=float(air_density(5000, 70, 50)), wind_out_mph=6)
    flight = fly(100, 28, 12, 2000, conditions=air)
    band = carry_band(100, 28, 12, 2000, conditions=air)
    assert run(asked) == 0
    said = _said(capsys)
    assert "In this model 100 mph at 28° with 2,000 rpm of backspin carries " in said
    assert f"carries {float(flight.carry_ft):.0f} ft in {float(flight.hang_s):.1f} s" in said
    assert "(5,000 ft up, 70 °F, wind 6 mph out)" in said
    assert f"in standard air {float(fly(100, 28, 12, 2000).carry_ft):.0f} ft" in said
    assert f"between {float(band.low_ft):.0f} and {float(band.high_ft):.0f} ft" in said
    answer = _answer(capsys, *asked)
    assert answer["carry_ft"] == float(flight.carry_ft)
    rows = {row["launch_deg"]: row["carry_ft"] for row in answer["rows"]}
    assert rows[28.0] == answer["carry_ft"]
    assert rows[20.0] == float(fly(100, 20, 12, 2000, conditions=air).carry_ft)


def test_spin_that_is_not_given_is_the_average_and_said_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["carry", "100", "28"]) == 0
    assert "2,597 rpm of backspin (average spin for such a ball)" in _said(capsys)
    assert run(["carry", "--", "80", "-20"]) == 0
    assert "80 mph at -20°" in _said(capsys)


def test_a_swing(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["swing", "--under", "0.5", "--late", "-4", "--bat", "73", "--attack", "8", "--droop", "25"]
    asked += ["--pitch", "88", "--descent", "5", "--inside", "3"]
    found = swing_outcomes(0.5, -4, pitch=PitchAtPlate(88, 5, inside_in=3), swing=Swing(73, 8, droop_deg=25))
    answer = _answer(capsys, *asked)
    for name in ("offset_in", "exit_mph", "launch_deg", "spray_deg", "backspin_rpm", "carry_ft"):
        assert answer[name] == pytest.approx(float(getattr(found, name)), rel=1e-12), name
    assert [row["under_in"] for row in answer["rows"]] == [-0.5, 0.0, 0.25, 0.5, 0.75, 1.0, 1.5]
    assert answer["rows"][3]["launch_deg"] == answer["launch_deg"]
    assert run(asked) == 0
    said = _said(capsys)
    assert "0.5 in under the ball's path, 4 ms early, is a " + answer["becomes"] in said
    assert run(["swing", "--under", "5"]) == 0
    assert "5 in under the ball's path, on time, is a whiff." in _said(capsys)


@pytest.mark.parametrize(
    ("option", "name", "value"),
    [
        ("--restitution", "tangential_restitution", 0.0),
        ("--friction", "friction", 0.05),
        ("--roll", "roll_ratio", 0.4),
    ],
)
def test_a_swing_takes_another_grip(
    capsys: pytest.CaptureFixture[str], option: str, name: str, value: float
) -> None:
    found = swing_outcomes(0.75, swing=Swing(**{name: value}))
    answer = _answer(capsys, "swing", "--under", "0.75", option, str(value))
    assert answer["backspin_rpm"] == pytest.approx(float(found.backspin_rpm), rel=1e-12)
    assert abs(answer["backspin_rpm"] - float(swing_outcomes(0.75).backspin_rpm)) > 100
    assert run(["swing", option, "11"]) == 2
    assert f"{name} is 11; accepted is" in capsys.readouterr().err


def test_a_picture_is_saved(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    package("matplotlib")
    for asked, name in ((["carry", "100", "28"], "ball.png"), (["swing", "--under", "1"], "swing.svg")):
        assert run([*asked, "--picture", str(tmp_path / name)]) == 0
        assert (tmp_path / name).stat().st_size > 5000
    assert run(["carry", "100", "28", "--picture", str(tmp_path / "ball.gif")]) == 2
    assert "end the name with .png or .svg" in capsys.readouterr().err
    assert not (tmp_path / "ball.gif").exists()


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (["carry", "45", "28"], "metres a second? 45 metres a second are 100.7 mph"),
        (["carry", "45", "28"], "if they were hit so softly, pass --soft."),
        (["carry", "1000", "28"], "exit_mph is 1000; accepted is 0 to 250 mph"),
        (["carry", "100", "28", "--humidity", "0.5"], "humidity_percent"),
        (["swing", "--attack", "70"], "attack_deg is 70 with a droop_deg of 30"),
        (["swing", "--bat", "fast"], "'fast' is not a valid float"),
        (["carry", "100", "nan"], "DEGREES is nan, which is no number. Give one that is known."),
        (["carry", "inf", "28"], "MPH is inf, which is no number"),
        (["carry", "100", "28", "--spin", "nan"], "--spin is nan, which is no number"),
        (["swing", "--under", "nan"], "--under is nan, which is no number"),
    ],
)
def test_what_cannot_be_is_said(asked: list[str], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(asked) == 2
    assert words in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize("angle", ["-5", "-.5", "-12.5", "-5.", "-1e1"])
def test_a_downward_angle_is_an_angle(angle: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["carry", "95", angle, "--json"]) == 0
    plain = capsys.readouterr().out
    assert f"95 mph at {float(angle):g}°" in json.loads(plain)["sentence"]
    assert run(["carry", "--json", "--", "95", angle]) == 0
    assert capsys.readouterr().out == plain
    assert run(["carry", "95", angle, "--spinn", "2000"]) == 2
    assert "unexpected extra arguments (--spinn 2000)" in capsys.readouterr().err
    assert run(["carry", "95", "5", "--spinn", "2000"]) == 2
    assert "--spin" in capsys.readouterr().err.replace("--spinn", "")


def test_a_downward_angle_with_its_sign_of_degrees_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["carry", "95", "-5°"]) == 2
    assert "'-5°' is not a valid float" in capsys.readouterr().err


def test_what_looks_like_another_unit_is_a_note(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["carry", "100", "28", "--temperature", "21"]) == 0
    assert "Celsius" in _said(capsys)
    assert run(["swing", "--bat", "31"]) == 0
    assert "were these metres a second?" in _said(capsys)


def test_kilometres_an_hour_are_a_note(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["carry", "160", "28"]) == 0
    said = _said(capsys)
    assert "were these kilometres an hour? 160 kilometres an hour are 99.4 mph" in said
    assert "this ball's 160 lies outside" in said
    assert run(["swing", "--pitch", "137", "--bat", "112"]) == 0
    said = _said(capsys)
    assert "137 kilometres an hour are 85.1 mph" in said
    assert "112 kilometres an hour are 69.6 mph" in said
    # The fastest that are seen in play are not asked about.
    assert run(["carry", "122", "28"]) == 0
    assert "kilometres" not in _said(capsys)


def test_topspin_is_called_so_and_nothing_has_no_sign(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["carry", "100", "0.6"]) == 0
    assert "with 691 rpm of topspin (average spin for such a ball) carries" in _said(capsys)
    assert run(["swing"]) == 0
    said = _said(capsys)
    assert " 700 rpm of topspin, carry 109 ft" in said
    assert " -0 " not in said


def test_the_picture_of_a_swing_is_of_the_swing_that_was_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    package("matplotlib")
    from hitlab.plots import describe

    drawn = []
    monkeypatch.setattr("hitlab.cli.flights._save", lambda _, draw: drawn.append(draw()))
    assert run(["swing", "--under", "0.8", "--late", "6", "--attack", "12", "--picture", "swing.png"]) == 0
    (ax,) = drawn
    assert "every swing 6 ms late" in describe(ax)
    crosses = [line.get_xydata().tolist() for line in ax.lines if len(line.get_xdata()) == 1]
    assert [0.8, 12.0] in [cross[0] for cross in crosses]
