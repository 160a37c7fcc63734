"""The demo: one frozen season of the invented league, and a coach's own sheet of one week of it."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pandas as pd

from hitlab.league.ball_off_bat import HARD_MPH
from hitlab.league.seasons import Season, make_season
from hitlab.pitches.storing import write_checked
from hitlab.writing import check_outputs, make_folder, write_file

__all__ = ["DEMO_FILES", "DEMO_SEED", "demo_week", "make_demo"]

DEMO_SEED = 12
DEMO_FILES = ("season.parquet", "week.csv", "week.toml", "truth.csv", "README.md")
WEEK_CLUB = "Saltmere Lanterns"
_WEEK_FIRST, _WEEK_LAST = "2031-05-05", "2031-05-11"
_SEED_OF_EYE = 5
# How far a coach's eye is off when it judges a ball hard-hit; invented.
_EYE_ERROR_MPH = 4.0
_CM_PER_IN, _KMH_PER_MPH = 2.54, 1.609344

_WHAT_HAPPENED: dict[tuple[str, str], str] = {
    ("ball", ""): "ball",
    ("called strike", ""): "strike looking",
    ("whiff", ""): "swung through it",
    ("foul", ""): "fouled off",
    ("foul tip", ""): "tipped into the mitt",
    ("intentional ball", ""): "way outside on purpose",
    ("called strike", "strikeout"): "sat down looking",
    ("whiff", "strikeout"): "sat down swinging",
    ("foul tip", "strikeout"): "sat down on a tip",
    ("ball", "walk"): "walked",
    ("intentional ball", "walk"): "walked on purpose",
    ("hit by pitch", "hit by pitch"): "plunked",
    ("in play", "single"): "base hit",
    ("in play", "double"): "two bases",
    ("in play", "triple"): "three bases",
    ("in play", "home run"): "over the fence",
    ("in play", "out"): "put away",
    ("in play", "double play"): "two for one",
    ("in play", "fielder's choice"): "other runner out",
    ("in play", "error"): "booted",
    ("in play", "sacrifice fly"): "fly brings one in",
    ("in play", "sacrifice bunt"): "bunted him over",
}
"""(Outcome, result): the coach's words."""

_THROWN = {
    "four-seam fastball": "straight one",
    "sinker": "sinker",
    "cutter": "cutter",
    "slider": "slider",
    "curveball": "hook",
    "changeup": "slow ball",
    "splitter": "split",
    "knuckleball": "knuckler",
}


def demo_week(season: Season) -> pd.DataFrame:
    """Return one club's week as its coach wrote it down: own names, own words, metric units.

    Places are charted from the catcher's side, in centimetres, positive to the catcher's right.
    Whether a ball was hit hard is judged by eye, and the eye is off at times.
    """
    pitches = season.pitches
    club_games = pitches.loc[pitches["club"] == WEEK_CLUB, "game"].unique()
    dates = pitches["date"]
    in_week = (dates >= pd.Timestamp(_WEEK_FIRST)) & (dates <= pd.Timestamp(_WEEK_LAST))
    week = pitches[in_week & pitches["game"].isin(club_games)].reset_index(drop=True)
    rng = np.random.default_rng(_SEED_OF_EYE)
    in_play = week["outcome"] == "in play"
    # A right-handed hitter stands to the catcher's left.
    to_right = np.where(week["hitter_side"] == "right", -1.0, 1.0)
    seen_mph = week["exit_mph"].fillna(0.0) + _EYE_ERROR_MPH * rng.standard_normal(len(week))
    pairs = zip(week["outcome"], week["result"].fillna(""), strict=True)
    return pd.DataFrame(
        {
            "Day": week["date"].dt.strftime("%d.%m.%Y"),
            "Match": week["game"],
            "Turn": week["plate_appearance"],
            "Ball no.": week["pitch"],
            "Who": week["hitter"],
            "For": week["club"],
            "Stands": week["hitter_side"].str[0].str.upper(),
            "Thrower": week["pitcher"],
            "Arm": week["pitcher_hand"].str[0].str.upper(),
            "Count": week["balls"].astype(str) + "-" + week["strikes"].astype(str),
            "Thrown": week["pitch_kind"].map(_THROWN),
            "km/h": (week["speed_mph"] * _KMH_PER_MPH).round(0),
            "Across cm": (week["inside_in"] * to_right * _CM_PER_IN).round(0),
            "Up cm": (week["height_in"] * _CM_PER_IN).round(0),
            "What happened": [_WHAT_HAPPENED[pair] for pair in pairs],
            "Bunting": np.where(week["bunt"], "x", ""),
            "Loud": np.where(in_play, np.where(seen_mph >= HARD_MPH, "loud", "soft"), ""),
            "Film": week["clip"],
        }
    )


def _lines(table: dict[str, str]) -> str:
    return "\n".join(f'"{left}" = "{right}"' for left, right in table.items())


def week_mapping() -> str:
    """Return the mapping that reads the coach's sheet, as TOML."""
    return _WEEK_TOML.format(
        outcomes=_lines({word: outcome for (outcome, _), word in _WHAT_HAPPENED.items()}),
        results=_lines({word: result for (_, result), word in _WHAT_HAPPENED.items()}),
        kinds=_lines({theirs: ours for ours, theirs in _THROWN.items()}),
    )


_WEEK_TOML = """\
# How the coach's sheet of one week (week.csv) becomes a pitch table.

[file]
date_format = "%d.%m.%Y"

[columns]
"Day" = "date"
"Match" = "game"
"Turn" = "plate_appearance"
"Ball no." = "pitch"
"Who" = "hitter"
"For" = "club"
"Stands" = "hitter_side"
"Thrower" = "pitcher"
"Arm" = "pitcher_hand"
"Thrown" = "pitch_kind"
"km/h" = "speed_mph"
"Across cm" = "inside_in"
"Up cm" = "height_in"
"What happened" = ["outcome", "result"]
"Bunting" = "bunt"
"Loud" = "hard"
"Film" = "clip"

[split."Count"]
into = ["balls", "strikes"]
separator = "-"

[words.outcome]
{outcomes}

[words.result]
{results}

[words.pitch_kind]
{kinds}

[words.hitter_side]
"L" = "left"
"R" = "right"

[words.pitcher_hand]
"L" = "left"
"R" = "right"

[words.bunt]
"x" = true
"" = false

[words.hard]
"loud" = true
"soft" = false

[units]
speed_mph = "km/h"
inside_in = "cm"
height_in = "cm"

[location]
charted_from = "catcher"

[constants]
level = "professional"
bat = "wood"
hard_source = "eye"
"""


def _demo_readme(season: Season) -> str:
    settings = season.settings
    columns = "\n".join(f"- `{name}`" for name in season.truth.columns)
    return _README.format(
        seed=DEMO_SEED,
        club=WEEK_CLUB,
        pitches=settings["pitches"],
        games=settings["games"],
        hitters=settings["hitters"],
        clubs=settings["clubs"],
        appearing=season.pitches["hitter_id"].nunique(),
        truth_columns=columns,
        error=season.truth_error["hard_per_swing"],
    )


_README = """\
# Demo season

An invented season: invented league, clubs, places, people and numbers. Nothing in it is evidence
about anybody. It was made by one command, which overwrites the files of this folder:

    python -m hitlab.league data_demo

The seed is {seed}. Of the seeds 0 to 19 it is the one whose rates of whiffs, fouls, balls in play
and hard-hit balls lie nearest to what is common among professionals (common practice, no source:
.245, .38 and .375 of swings, .37 of balls in play); who leads the season played no part.

| file | what it holds |
|---|---|
| `season.parquet` | {pitches:,} pitches of {games} games in {clubs} clubs |
| `truth.csv` | one row a hitter: his true rates, which only an invented season can show |
| `week.csv` | one week of the {club}: their coach's own sheet |
| `week.toml` | the mapping that reads `week.csv` |

The season has {hitters} hitters, of whom {appearing} appear. Its columns and words are those of
`hitlab/pitches/schema.py`, and it carries the schema mark of a checked table. The coach's sheet has
its own words, km/h, centimetres from the catcher's side, and hard-hit balls judged by eye.

Hard-hit means 95 mph or more off the bat. About 1 in 100 balls in play was not measured. Two hitters
of different clubs share a name; their ids differ. Not played: stolen bases, pitches that get away,
plate appearances without a result, automatic balls and strikes, catcher's interference.

## How the truth was worked out

By the model, not by counting: each true rate is a hitter's expectation against the league's usual
pitchers and in the counts that he gets himself into (`hitlab/league/truth.py`). The numerical error
of the league's mean of `hard_per_swing` is {error:.1g}; `fouls_per_swing` leaves foul tips out.
Talents have mean 0 and standard deviation 1 (`hitlab/league/talents.py`); for `talent_whiff`,
`talent_foul` and the two of swings, more is more of it, not better.

Columns of `truth.csv`:

{truth_columns}
"""


def make_demo(folder: str | os.PathLike[str], seed: int = DEMO_SEED) -> list[Path]:
    """Write the demo's files into a folder.

    Parameters
    ----------
    folder
        Where to; made where it is not there. Files of the same names are replaced.
    seed
        Of the season; the committed demo has the default.

    Returns
    -------
    list of pathlib.Path
        The files written, in the order of :data:`DEMO_FILES`.

    Raises
    ------
    ClaimError
        Where the seed is no whole number from 0 up.
    ReadingError
        Where the folder or a file cannot be written; that is seen before the season is made.

    Examples
    --------
    >>> import tempfile
    >>> from hitlab.league import make_demo
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     for file in make_demo(folder):
    ...         print(file.name)
    season.parquet
    week.csv
    week.toml
    truth.csv
    README.md
    """
    folder = make_folder(folder)
    files = [folder / name for name in DEMO_FILES]
    check_outputs({file.name: file for file in files})
    season = make_season(seed=seed)
    write_checked(season.pitches, files[0])
    for file, table in ((files[1], demo_week(season)), (files[3], season.truth.round(5))):
        write_file(file, table.to_csv(index=False, lineterminator="\n").encode())
    write_file(files[2], week_mapping().encode())
    write_file(files[4], _demo_readme(season).encode())
    return files
