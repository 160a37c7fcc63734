"""``hitlab charters`` and ``hitlab eye``: two charts beside each other, and the eye beside the radar."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from hitlab.cli.once import OnceCommand
from hitlab.cli.options import A_FILE, pitches_of, quiet_warnings
from hitlab.errors import ClaimError
from hitlab.results import TABLE_ENDINGS
from hitlab.showing import json_text, shown
from hitlab.writing import check_outputs

__all__ = ["charters", "eye"]

_JSON = click.option("--json", "as_json", is_flag=True, help="Answer in JSON, for programs.")
_SECOND = click.option("--second-mapping", help="The same for the second file. Default: --mapping.")
_MAPPING = click.option("--mapping", help="TOML file that translates the file's columns and words.")


@click.command(cls=OnceCommand)
@click.argument("first", type=A_FILE)
@click.argument("second", type=A_FILE)
@_MAPPING
@_SECOND
@click.option(
    "--cut", type=A_FILE, help="List the pitches to look at again: a .csv file, or a .otio timeline."
)
@_JSON
def charters(
    first: Path,
    second: Path,
    mapping: str | None,
    second_mapping: str | None,
    cut: Path | None,
    as_json: bool,
) -> int:
    """How well two charts of the same games agree, pitch by pitch: FIRST and SECOND are their files."""
    from hitlab.charting import compare_charters

    check_outputs({"--cut": cut}, inputs=(first, second, mapping, second_mapping))
    if cut is not None and cut.suffix.lower() not in (*TABLE_ENDINGS, ".otio"):
        raise ClaimError(f"{cut}: end the name with {' or '.join((*TABLE_ENDINGS, '.otio'))}")
    one, other = _both(first, second, mapping, second_mapping)
    with quiet_warnings():
        found = compare_charters(one, other)
    if as_json:
        answer = {
            "title": found.title,
            "columns": _rows(found.table()),
            "confusions": _rows(found.confusions),
            "look_again": _rows(found.look_again),
            "notes": list(found.notes),
        }
        click.echo(json_text(answer, indent=2))
    else:
        click.echo(str(found))
    if cut is not None:
        from hitlab.evidence import cut_list

        cut_list(one, found).save(cut)
        if not as_json:
            click.echo(f"pitches to look at again saved as {shown(cut)}")
    return 0


@click.command(cls=OnceCommand)
@click.argument("chart", type=A_FILE)
@click.argument("radar", type=A_FILE, required=False)
@_MAPPING
@_SECOND
@click.option("--hard-mph", type=float, help="Speed off the bat that counts as hard.")
@_JSON
def eye(
    chart: Path,
    radar: Path | None,
    mapping: str | None,
    second_mapping: str | None,
    hard_mph: float | None,
    as_json: bool,
) -> int:
    """How often an eye is right about hard balls: CHART has its flags, RADAR (or CHART itself) the speeds.

    Its last line is the option with which claims allow for the eye's errors.
    """
    from hitlab.charting import eye_against_radar
    from hitlab.counting import Conventions

    one, other = _both(chart, radar, mapping, second_mapping)
    with quiet_warnings():
        found = eye_against_radar(one, other, conventions=Conventions(hard_mph=hard_mph))
    e = found.errors
    option = f"--eye {e.hard_ticked}/{e.hard},{e.soft_unticked}/{e.soft}"
    if as_json:
        answer = {
            "title": found.title,
            "errors": list(e),
            "eye_mph": found.eye_mph,
            "eye_mph_interval": list(found.eye_mph_interval),
            "width_mph": found.width_mph,
            "bands": _rows(found.table()),
            "notes": list(found.notes),
            "option": option,
        }
        click.echo(json_text(answer, indent=2))
    else:
        click.echo(str(found))
        click.echo(f"In a check: {option}")
    return 0


def _both(
    first: Path, second: Path | None, mapping: str | None, second_mapping: str | None
) -> tuple[Any, Any]:
    one = pitches_of(first, mapping)
    return one, None if second is None else pitches_of(second, second_mapping or mapping)


def _rows(frame: Any) -> Any:
    return json.loads(frame.to_json(orient="records", date_format="iso"))
