"""``hitlab carry`` and ``hitlab swing``: one ball, one swing, in a sentence, a table and a picture."""

from __future__ import annotations

import math
import re
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import A_FILE
from hitlab.errors import ClaimError, HitlabWarning
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs, write_file

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes

__all__ = ["carry", "swing"]

_Given = TypeVar("_Given")

_FAR_FT = 300.0
"""From here on what is known of home runs is worth saying."""
_PICTURE = click.option("--picture", type=A_FILE, help="Save a picture: .png or .svg.")
_JSON = click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs.")


class _Signed(OnceCommand):
    """A command whose numbers may lie below zero: -5 is an angle, no option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        ctx.ignore_unknown_options = any(re.match(r"-\.?\d", one) for one in args)
        return super().parse_args(ctx, args)


@click.command(cls=_Signed)
@click.argument("exit_mph", type=float, metavar="MPH")
@click.argument("launch_deg", type=float, metavar="DEGREES")
@click.option("--spray", type=float, default=0.0, show_default=True, help="Degrees to the pull side.")
@click.option("--spin", type=float, help="Backspin in rpm. Default: the average for such a launch.")
@click.option("--sidespin", type=float, help="In rpm, positive toward the pull side.")
@click.option("--altitude", type=float, default=0.0, show_default=True, help="Of the park, in feet.")
@click.option("--temperature", type=float, default=70.0, show_default=True, help="Degrees Fahrenheit.")
@click.option("--humidity", type=float, default=50.0, show_default=True, help="Per cent.")
@click.option("--wind", type=float, default=0.0, show_default=True, help="Toward centre field, in mph.")
@click.option("--soft", is_flag=True, help="A ball of less than 50 mph is meant.")
@_PICTURE
@_JSON
def carry(
    exit_mph: float,
    launch_deg: float,
    spray: float,
    spin: float | None,
    sidespin: float | None,
    altitude: float,
    temperature: float,
    humidity: float,
    wind: float,
    soft: bool,
    picture: Path | None,
    as_json: bool,
) -> int:
    """How far a ball of MPH off the bat at DEGREES upward carries; below zero: downward."""
    from hitlab.physics import Conditions, air_density, carry_band, fly, fly_path

    _check_known(
        {
            "MPH": exit_mph, "DEGREES": launch_deg, "--spray": spray, "--spin": spin, "--sidespin": sidespin,
            "--altitude": altitude, "--temperature": temperature, "--humidity": humidity, "--wind": wind,
        }
    )  # fmt: skip
    _check_picture(picture)
    ball = (exit_mph, launch_deg, spray, spin, sidespin)

    def reckon() -> tuple[Any, ...]:
        air = Conditions(density_kg_m3=float(air_density(altitude, temperature, humidity)), wind_out_mph=wind)
        here, band = fly(*ball, conditions=air, soft=soft), carry_band(*ball, conditions=air, soft=soft)
        standard = fly(*ball, soft=soft)
        near = [launch_deg + step for step in (-8.0, -4.0, 0.0, 4.0, 8.0) if abs(launch_deg + step) <= 90]
        around = fly(exit_mph, near, spray, spin, sidespin, conditions=air, soft=soft)
        path = fly_path(*ball, conditions=air, soft=soft)
        return here, band, standard, near, around, path

    (here, band, standard, near, around, path), notes = _with_notes(reckon)
    import pandas as pd

    table = pd.DataFrame(
        {
            "launch_deg": near,
            "carry_ft": around.carry_ft,
            "hang_s": around.hang_s,
            "highest_ft": around.apex_ft,
            "landing_deg": around.landing_deg,
        }
    )
    spun = "" if spin is not None else " (average spin for such a ball)"
    where = f"{altitude:,.0f} ft up, {temperature:g} °F"
    blown = f", wind {abs(wind):g} mph {'out' if wind > 0 else 'in'}" if wind else ""
    carried = float(here.carry_ft)
    sentence = (
        f"In this model {exit_mph:g} mph at {launch_deg:g}° with {_spin(float(here.backspin_rpm))}{spun} "
        f"carries {carried:.0f} ft in {float(here.hang_s):.1f} s ({where}{blown}); in "
        f"standard air {float(standard.carry_ft):.0f} ft"
    )
    if carried > _FAR_FT:
        low, high, total = float(band.low_ft), float(band.high_ft), float(band.total_ft)
        notes = [
            f"nine balls in ten land between {low:.0f} and {high:.0f} ft, for no ball has quite the drag of "
            "another",
            f"home runs of one measured speed and angle differ by {total:.0f} ft (standard deviation, as "
            "published), most of it from spin that is not measured",
            *notes,
        ]
    answer = {
        "carry_ft": carried,
        "hang_s": float(here.hang_s),
        "highest_ft": float(here.apex_ft),
        "backspin_rpm": float(here.backspin_rpm),
        "sidespin_rpm": float(here.sidespin_rpm),
        "low_ft": float(band.low_ft),
        "high_ft": float(band.high_ft),
        "standard_carry_ft": float(standard.carry_ft),
    }
    _save(picture, lambda: _pictures().flight_paths(path))
    digits = {"launch_deg": 0, "carry_ft": 0, "hang_s": 1, "highest_ft": 0, "landing_deg": 0}
    _tell(sentence, table, digits, notes, answer, as_json)
    return 0


@click.command(cls=OnceCommand)
@click.option(
    "--under",
    type=float,
    default=0.0,
    show_default=True,
    help="Inches that the bat's path passes under the ball's; negative: over it.",
)
@click.option("--late", type=float, default=0.0, show_default=True, help="Milliseconds; negative: early.")
@click.option("--bat", type=float, default=70.0, show_default=True, help="Bat speed in mph.")
@click.option("--attack", type=float, default=10.0, show_default=True, help="Attack angle, degrees upward.")
@click.option("--droop", type=float, default=30.0, show_default=True, help="Tip under handle, degrees.")
@click.option("--pitch", type=float, default=85.0, show_default=True, help="Its speed at the plate, in mph.")
@click.option("--descent", type=float, default=6.0, show_default=True, help="Its descent, in degrees.")
@click.option("--inside", type=float, default=0.0, show_default=True, help="Inches inside the middle.")
@click.option(
    "--restitution",
    type=float,
    help="Share of the slip across the bat that springs back; 0: the ball rolls off. Default: as measured.",
)
@click.option("--friction", type=float, help="Of the ball on the bat. Default: as measured.")
@click.option(
    "--roll", type=float, help="How easily the barrel turns about its length. Default: as measured."
)
@_PICTURE
@_JSON
def swing(
    under: float,
    late: float,
    bat: float,
    attack: float,
    droop: float,
    pitch: float,
    descent: float,
    inside: float,
    restitution: float | None,
    friction: float | None,
    roll: float | None,
    picture: Path | None,
    as_json: bool,
) -> int:
    """Tell what becomes of one swing at one pitch, and of swings that pass a little higher or lower."""
    from hitlab.physics import PitchAtPlate, Swing, swing_outcomes
    from hitlab.physics.one_swing import OUTCOME_WORDS

    _check_known(
        {
            "--under": under, "--late": late, "--bat": bat, "--attack": attack, "--droop": droop,
            "--pitch": pitch, "--descent": descent, "--inside": inside,
            "--restitution": restitution, "--friction": friction, "--roll": roll,
        }
    )  # fmt: skip
    _check_picture(picture)

    def reckon() -> tuple[Any, ...]:
        thrown = PitchAtPlate(pitch, descent, inside_in=inside)
        grip = {"tangential_restitution": restitution, "friction": friction, "roll_ratio": roll}
        told = {name: value for name, value in grip.items() if value is not None}
        swung = Swing(bat, attack, droop_deg=droop, **told)
        misses = [under + step for step in (-1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0)]
        misses = [miss for miss in misses if abs(miss) <= 20]
        found = swing_outcomes([under, *misses], late, pitch=thrown, swing=swung)
        return thrown, swung, misses, found

    (thrown, swung, misses, found), notes = _with_notes(reckon)
    import pandas as pd

    words = [OUTCOME_WORDS[place] if place >= 0 else "not known" for place in found.outcome]
    table = pd.DataFrame(
        {
            "under_in": misses,
            "becomes": words[1:],
            **{
                name: getattr(found, name)[1:]
                for name in ("exit_mph", "launch_deg", "spray_deg", "backspin_rpm", "carry_ft")
            },
        }
    )
    when = "on time" if late == 0 else f"{abs(late):g} ms {'late' if late > 0 else 'early'}"
    over = f"{abs(under):g} in {'under' if under > 0 else 'over'}" if under else "right along"
    sentence = f"In this model a swing {over} the ball's path, {when}, is a {words[0]}"
    if found.outcome[0] > 0:
        sentence += (
            f": {found.exit_mph[0]:.0f} mph at {_plain(float(found.launch_deg[0]), 0)}°, "
            f"{_side(float(found.spray_deg[0]))}, {_spin(float(found.backspin_rpm[0]))}"
        )
    if found.carry_ft[0] > 0:
        sentence += f", carry {found.carry_ft[0]:.0f} ft"
    answer = {
        "becomes": words[0],
        **{
            name: _number(getattr(found, name)[0])
            for name in (
                "offset_in", "exit_mph", "launch_deg", "spray_deg", "backspin_rpm", "sidespin_rpm", "carry_ft"
            )
        },
    }  # fmt: skip
    _save(
        picture,
        lambda: _pictures().margin_map(swung, pitch=thrown, aim_in=under, timing_error_ms=late),
    )
    digits = {
        "under_in": 2, "exit_mph": 0, "launch_deg": 0, "spray_deg": 0, "backspin_rpm": 0, "carry_ft": 0
    }  # fmt: skip
    _tell(sentence, table, digits, notes, answer, as_json)
    return 0


def _side(spray: float) -> str:
    size = f"{abs(spray):.0f}"
    if size == "0":
        return "straight out"
    return f"{size}° to the {'pull side' if spray > 0 else 'opposite field'}"


def _spin(backspin: float) -> str:
    return f"{abs(backspin):,.0f} rpm of {'backspin' if backspin >= 0 else 'topspin'}"


def _plain(value: float, places: int) -> str:
    """Write a number, nothing where it is missing, and never a negative zero."""
    if math.isnan(value):
        return ""
    text = f"{value:,.{places}f}"
    return text.removeprefix("-") if float(text.replace(",", "")) == 0 else text


def _check_known(given: dict[str, float | None]) -> None:
    """Refuse what is typed as a number and is none: one ball has nothing that could stay missing."""
    for name, value in given.items():
        if value is not None and not math.isfinite(value):
            raise ClaimError(f"{name} is {value:g}, which is no number. Give one that is known")


def _number(value: float) -> float | None:
    return float(value) if value == value else None


def _with_notes(reckon: Callable[[], _Given]) -> tuple[_Given, list[str]]:
    """Do the physics, and take its warnings as notes."""
    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        result = reckon()
    told = [one for one in caught if issubclass(one.category, HitlabWarning)]
    return result, list(dict.fromkeys(str(one.message).rstrip(".") for one in told))


def _tell(
    sentence: str,
    table: pd.DataFrame,
    digits: dict[str, int],
    notes: list[str],
    answer: dict[str, Any],
    as_json: bool,
) -> None:
    if as_json:
        rows = [
            {name: _number(value) if name in digits else value for name, value in row.items()}
            for row in table.to_dict("records")
        ]
        click.echo(json_text({"sentence": sentence, **answer, "rows": rows, "notes": notes}, indent=2))
        return
    from hitlab.cli.console import print_table

    for name, places in digits.items():
        table[name] = [_plain(float(value), places) for value in table[name]]
    print_table(f"{sentence}.", table, notes)


def _check_picture(path: Path | None) -> None:
    if path is not None and path.suffix.lower() not in (".png", ".svg"):  # said before the work
        raise ClaimError(f"{path}: end the name with .png or .svg")
    check_outputs({"--picture": path}, inputs=())


def _pictures() -> Any:
    from hitlab import plots

    return plots


def _save(path: Path | None, draw: Callable[[], Axes]) -> None:
    if path is None:
        return
    figure = draw().get_figure(root=True)
    assert figure is not None
    kind = path.suffix.lower().removeprefix(".")
    metadata = {"Software": None} if kind == "png" else {"Date": None, "Creator": None}
    write_file(path, lambda file: figure.savefig(file, format=kind, dpi=150, metadata=metadata))
    click.echo(f"picture saved as {shown(path)}", err=True)
