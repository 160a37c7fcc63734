"""An invented season as a charter without a radar would write it down, with errors of known size."""

from __future__ import annotations

from typing import Any

import numpy as np
import pandas as pd

from hitlab.errors import ClaimError
from hitlab.league.ball_off_bat import HARD_MPH
from hitlab.league.seasons import Season, whole
from hitlab.pitches.opening import demand_here

__all__ = ["charted_by"]

_TAKEN_FOR = {
    "ball": ("called strike",),
    "called strike": ("ball",),
    "whiff": ("foul tip", "foul"),
    "foul": ("foul tip", "whiff"),
    "foul tip": ("whiff", "foul"),
}
"""What an outcome may be taken for; a ball in play is not overlooked."""
_OFF_RADAR = ("exit_mph", "launch_deg", "spray_deg")


def charted_by(
    season: Season | pd.DataFrame,
    seed: int,
    *,
    misses: float = 0.01,
    doubles: float = 0.005,
    wrong_outcome: float = 0.02,
    eye_mph: float = HARD_MPH,
    eye_width_mph: float = 4.0,
    radar: bool = False,
) -> pd.DataFrame:
    """Return a season's pitches as an invented charter writes them down.

    Parameters
    ----------
    season
        A season, or its pitches or some of them, with speeds off the bat.
    seed
        The same seed makes the same errors.
    misses, doubles
        Share of the pitches that are missed, and of those written that are written twice.
    wrong_outcome
        Share of the balls, strikes and fouls without a result that are taken for another outcome.
    eye_mph, eye_width_mph
        The speed off the bat at which the eye says hard as often as not, and the standard deviation of its
        errors in mph; 0 for an eye that never errs.
    radar
        Keep what the radar measured beside what the eye says.

    Returns
    -------
    pandas.DataFrame
        A pitch table with ``hard`` and ``hard_source`` (eye). A ball in play without a speed has no ``hard``:
        what its speed was nobody knows. With no errors and ``radar=True`` the other columns are the season's.

    Raises
    ------
    ClaimError
        Where an argument is out of its range, or the pitches have no speeds off the bat.
    ReadingError
        Where their rows are spread over workers.

    Examples
    --------
    >>> from hitlab.league import charted_by, make_season
    >>> season = make_season(hitters=18, clubs=2, pitches=300, seed=1)
    >>> chart = charted_by(season, 5, misses=0.1, doubles=0)
    >>> 0.8 < len(chart) / len(season.pitches) < 1
    True
    """
    pitches = season.pitches if isinstance(season, Season) else season
    demand_here(pitches, "a charter")
    seed = whole("seed", seed, 0, 2**63 - 1)
    for name, share in (("misses", misses), ("doubles", doubles), ("wrong_outcome", wrong_outcome)):
        if not 0 <= share < 1:
            raise ClaimError(f"{name}={share!r}: a share from 0 to below 1 is accepted")
    if not (0 < eye_mph < 130 and 0 <= eye_width_mph < 130):
        raise ClaimError(
            f"eye_mph={eye_mph!r}, eye_width_mph={eye_width_mph!r}: speeds in mph below 130 are accepted, "
            "the first above 0"
        )
    if "exit_mph" not in pitches:
        raise ClaimError("the pitches have no column exit_mph, so what an eye would see is not known")
    rng = np.random.default_rng(seed)
    chart = pitches.copy()
    speed = chart["exit_mph"].to_numpy(float)
    seen = speed + eye_width_mph * rng.standard_normal(len(chart))
    told = (chart["outcome"] == "in play").to_numpy() & ~np.isnan(speed)
    hard: Any = pd.array(seen >= eye_mph, dtype="boolean")
    hard[~told] = pd.NA
    chart["hard"] = hard
    chart["hard_source"] = pd.Series("eye", index=chart.index).where(told, None)
    plain = chart["result"].isna().to_numpy() if "result" in chart else np.ones(len(chart), dtype=bool)
    may_err = chart["outcome"].isin(_TAKEN_FOR).to_numpy() & plain
    errs = np.flatnonzero(may_err & (rng.random(len(chart)) < wrong_outcome))
    outcome = chart["outcome"].to_numpy(dtype=object).copy()
    outcome[errs] = [rng.choice(_TAKEN_FOR[word]) for word in outcome[errs]]
    chart["outcome"] = pd.Series(outcome, index=chart.index).astype(pitches["outcome"].dtype)
    times = np.where(rng.random(len(chart)) < misses, 0, 1 + (rng.random(len(chart)) < doubles))
    if not radar:
        chart = chart.drop(columns=[name for name in _OFF_RADAR if name in chart])
    return chart.iloc[np.repeat(np.arange(len(chart)), times)].reset_index(drop=True)
