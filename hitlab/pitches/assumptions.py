"""Sentences about what a reading takes for granted, so that nothing is assumed in silence."""

from __future__ import annotations

import numpy as np
import pandas as pd

from hitlab.pitches.counting import has_whole_key, keys_at
from hitlab.pitches.headings import Headings
from hitlab.pitches.mapping import Mapping
from hitlab.pitches.schema import KEY

__all__ = ["assumptions"]

# Above this share of repeated or unordered pitches a sentence suggests what is likely wrong.
_MANY = 0.1


def assumptions(frame: pd.DataFrame, mapping: Mapping, headings: Headings) -> list[str]:
    """Say what is assumed about a table that was read.

    Parameters
    ----------
    frame
        The rows kept.
    mapping, headings
        How they were read.
    """
    has = set(frame.columns)
    said = []
    if "hitter_id" not in has:
        said.append("hitter_id is missing: hitters are told apart by name.")
    if "pitcher" in has and "pitcher_id" not in has:
        said.append("pitcher_id is missing: pitchers are told apart by name.")
    absent = [name for name in KEY if name not in has]
    if absent:
        said.append(
            f"{', '.join(absent)} missing: repeated pitches cannot be found, and pitches not put in order."
        )
    else:
        said += _order(frame)
    if "result" not in has:
        said.append("result is missing: plate appearances, and all that needs them, are missing too.")
    if not {"balls", "strikes"} <= has:
        said.append("The count is missing: questions about it cannot be asked.")
    if "height_in" in has and not {"zone_bottom_in", "zone_top_in"} <= has:
        said.append("No strike zone is given: questions about up and down use a default zone.")
    if not {"exit_mph", "hard"} & has:
        said.append("Neither exit_mph nor hard is given: how hard balls were hit is not known.")
    if "bat" not in has:
        said.append("bat is missing: all are taken to have used one kind of bat.")
    if "level" not in has:
        said.append("level is missing: all pitches are taken to be of one level of play.")
    said += [
        f"{target} was in {unit} and is now in {target.rsplit('_', 1)[1]}."
        for target, unit in mapping.units.items()
        if target in has and not target.endswith(f"_{unit}")
    ]
    if mapping.charted_from != "hitter" and "inside_in" in has:
        said.append(
            f"inside_in was charted from the {mapping.charted_from}, positive to the right; it was turned by "
            "hitter_side so that positive is toward the hitter."
        )
    if mapping.spray_positive != "pull" and "spray_deg" in has:
        said.append(
            f"spray_deg was positive toward {mapping.spray_positive}; it was turned by hitter_side so that "
            "positive is the pull side."
        )
    if mapping.year is not None and "date" in has:
        said.append(f"date has no year in the source: {mapping.year} was put in, as the mapping says.")
    said += [f"{name} is {mapping.constants[name]!r} in every row." for name in headings.constants]
    return said


def _order(frame: pd.DataFrame) -> list[str]:
    """Say where pitches stand out of the order of their key within their game."""
    whole = has_whole_key(frame)
    game, number, pitch = keys_at(frame, np.flatnonzero(whole))
    place = number * 1000 + pitch  # bounds of the schema keep the pitch's number below 1000
    if (game[1:] < game[:-1]).any():
        by_game = np.argsort(game, kind="stable")
        game, place = game[by_game], place[by_game]
    back = int(((game[1:] == game[:-1]) & (place[1:] < place[:-1])).sum())
    said = []
    if back:
        said.append(
            f"Pitches are out of order in {back} place(s) (a pitch stands below a later one of its game). "
            "They are kept in the source's order."
        )
    if back > _MANY * len(frame):
        said.append(
            "So many are unusual: plate_appearance should be numbered through the game, not anew for each "
            "hitter or inning."
        )
    if len(frame) > whole.sum():
        said.append(
            f"{len(frame) - int(whole.sum())} pitch(es) have no whole key: repeats of them are not seen."
        )
    return said
