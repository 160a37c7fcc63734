"""Scatter fitted to what a hitter's swings become: whiffs, fouls, balls in play and their launch angles.

The usual scatter of the other modules is that of a steady swinger. People miss a quarter of their swings and
foul off more than a third. :func:`fit_scatter` looks for errors of aim, timing and place along the bat that
bring this about.

What cannot be known from such shares: the scatter of the attack angle (0 or 8 degrees fit alike, the other
errors change a little to make up for it), how much of the whiffs is aim and how much timing (an inch of aim
for some milliseconds), and anything about single swings. So several fits are given, one for each scatter of
the attack angle, and what they span is the answer.

What the model lacks shows in what it does not reach, fouls first of all: it gives .31 to .35 of swings where
hitters foul off .38. A hitter who is fooled or has two strikes slows the barrel down or reaches for the ball;
here each swing is taken as planned, and what a saved swing would foul off is a whiff or a fair ball. Three
swings in ten that are 3 mph slower and 8 ms later (two strikes; our assumption) bring .35, no more.

The sides of its fouls: 12 % of the forward ones lie on the other side than the timing says (9 to 14 % for a
barrel that droops by 25 to 35 degrees). It takes a timing scatter of 10 to 7 ms, down to half of what the fit
finds, to get 15 to 23 %; such a hitter whiffs on .19 to .16 and fouls off .32 to .28. So what makes him miss
more is not one scatter of timing: what is missing are two kinds of swings, on time and fooled. No published
share of such fouls was found, only the droop (softball).
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.margin import HARD_MPH, Scatter
from hitlab.physics.one_swing import PitchAtPlate, Swing, swing_outcomes
from hitlab.physics.quantities import (
    Columns,
    FloatArray,
    QuantityError,
    expect,
    generator,
    quantity,
    single,
    whole,
)

__all__ = ["HITTER", "ScatterFit", "fit_scatter"]

HITTER = Swing(attack_deg=8.0, faces_deg=10.0)
"""A hitter whose barrel, on time, has turned a little to the pull side; our assumption. His balls in play go
5 degrees to the pull side on average."""

_UNCERTAIN = {"whiff": 0.01, "foul": 0.01, "launch_mean_deg": 1.0, "launch_sd_deg": 1.0, "hard": 0.02}
"""How closely each is to be met, as a standard deviation."""
_LOWEST, _HIGHEST = np.array([0.1, 1.0, 0.0, -1.5]), np.array([4.0, 30.0, 6.0, 2.0])
_START = np.array([1.3, 12.0, 2.5, 0.4])


@dataclass(frozen=True, slots=True, eq=False)
class ScatterFit(Columns):
    """Fits of a hitter's scatter, one for each scatter of the attack angle; arrays of one entry a fit.

    Attributes
    ----------
    attack_deg
        Scatter of the attack angle that was held.
    miss_in, timing_ms, sideways_in, aim_in
        Fitted: scatter of aim, timing and place along the bat, and the aim itself.
    whiff, foul, in_play, hard, launch_mean_deg, launch_sd_deg
        What the fit gives: shares of the swings, the share of hard-hit balls among those in play, their
        launch angles.
    misfit
        Root mean square of the differences, each in units of how closely it is to be met (shares .01,
        hard-hit .02, degrees 1).
    wanted
        What was asked for.
    swing
        The swing that scatters.

    Examples
    --------
    >>> from hitlab.physics import fit_scatter
    >>> fit = fit_scatter(attack_deg=[4.0], swings=1_000)
    >>> fit.best, round(fit.scatter.miss_in, 1), sorted(fit.short_of)
    (0, 1.3, ['foul'])
    """

    _TELLS = "misfit"
    attack_deg: FloatArray
    miss_in: FloatArray
    timing_ms: FloatArray
    sideways_in: FloatArray
    aim_in: FloatArray
    whiff: FloatArray
    foul: FloatArray
    in_play: FloatArray
    hard: FloatArray
    launch_mean_deg: FloatArray
    launch_sd_deg: FloatArray
    misfit: FloatArray
    wanted: dict[str, float]
    swing: Swing

    @property
    def best(self) -> int:
        """Place of the closest fit."""
        return int(np.argmin(self.misfit))

    @property
    def scatter(self) -> Scatter:
        """The closest fit as a scatter for :func:`hitlab.physics.swing_margin`."""
        i = self.best
        return Scatter(
            float(self.miss_in[i]),
            float(self.timing_ms[i]),
            float(self.attack_deg[i]),
            float(self.sideways_in[i]),
        )

    @property
    def aim(self) -> float:
        """The aim of the closest fit, in inches."""
        return float(self.aim_in[self.best])

    @property
    def short_of(self) -> dict[str, float]:
        """What the closest fit does not meet: found less wanted, where that is over two of its units."""
        found = {name: float(getattr(self, name)[self.best]) - value for name, value in self.wanted.items()}
        return {name: gap for name, gap in found.items() if abs(gap) > 2 * _UNCERTAIN[name]}


def fit_scatter(
    *,
    whiff: float = 0.24,
    foul: float = 0.38,
    launch_mean_deg: float = 12.0,
    launch_sd_deg: float = 27.0,
    hard: float = 0.375,
    attack_deg: ArrayLike = (0.0, 4.0, 8.0),
    swing: Swing = HITTER,
    pitch: PitchAtPlate | None = None,
    swings: int = 10_000,
    seed: int = 0,
) -> ScatterFit:
    """Find the scatter that gives a hitter's whiffs, fouls and launch angles.

    Parameters
    ----------
    whiff, foul
        Shares of the swings, 0 to 1; what is left is put in play. The defaults .24 and .38 (and .38 in play)
        are common practice, no source.
    launch_mean_deg, launch_sd_deg
        Of the balls in play, -30 to 45 and 1 to 60 degrees; the defaults are common practice, no source.
    hard
        Share of the balls in play hit at 95 mph or more, 0 to 1; the default lies in the middle of .35 to .40
        (common practice, no source).
    attack_deg
        Scatters of the attack angle to hold, 0 to 25 degrees; one fit each, for the shares hardly tell them
        apart.
    swing, pitch
        What is swung and thrown; :data:`HITTER` by default.
    swings
        Drawn for each trial, 1000 to 200000.
    seed
        Of the draws, which are the same in every trial.

    Returns
    -------
    ScatterFit
        The fits with what each gives. ``short_of`` says what the closest one does not reach.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or whiffs and fouls leave nothing in play.

    Examples
    --------
    >>> from hitlab.physics import fit_scatter
    >>> fit = fit_scatter(attack_deg=[4.0], swings=2_000)
    >>> round(float(fit.whiff[0]), 2), sorted(fit.short_of)
    (0.23, ['foul'])
    """
    # SciPy is loaded when a fit is asked for, not with the package.
    from scipy.optimize import least_squares

    wanted = {
        "whiff": single("whiff", whiff, "", 0, 1),
        "foul": single("foul", foul, "", 0, 1),
        "launch_mean_deg": single("launch_mean_deg", launch_mean_deg, "degrees", -30, 45),
        "launch_sd_deg": single("launch_sd_deg", launch_sd_deg, "degrees", 1, 60),
        "hard": single("hard", hard, "", 0, 1),
    }
    missing = [name for name, value in wanted.items() if np.isnan(value)]
    if missing:
        raise QuantityError(f"{missing[0]} is missing; a fit needs a number for each of {', '.join(wanted)}.")
    if wanted["whiff"] + wanted["foul"] >= 1:
        raise QuantityError(
            f"whiff {whiff:g} and foul {foul:g} leave nothing in play; accepted are shares of all "
            "swings that add up to less than 1."
        )
    held = np.atleast_1d(quantity("attack_deg", attack_deg, "degrees", 0, 25))
    if held.ndim != 1 or not held.size or np.isnan(held).any():
        raise QuantityError(f"attack_deg is {attack_deg!r}; accepted are one or more known degrees, 0 to 25.")
    expect("swing", swing, Swing)
    pitch = PitchAtPlate() if pitch is None else pitch
    expect("pitch", pitch, PitchAtPlate)
    size = whole("swings", swings, 1000, 200_000, "10000 settle a share to half a point.")
    draws = generator(seed).standard_normal((4, size))

    def trial(values: FloatArray, attack: float) -> dict[str, float]:
        miss, timing, sideways, aim = values
        found = swing_outcomes(
            np.clip(aim + miss * draws[0], -20, 20),
            np.clip(timing * draws[1], -500, 500),
            np.clip(swing.attack_deg + attack * draws[2], -60, 80),
            np.clip(sideways * draws[3], -20, 20),
            pitch=pitch,
            swing=swing,
        )
        played = found.outcome >= 2
        launch = found.launch_deg[played]
        some = bool(launch.size)
        return {
            "whiff": float(np.mean(found.outcome == 0)),
            "foul": float(np.mean(found.outcome == 1)),
            "launch_mean_deg": float(launch.mean()) if some else -90.0,
            "launch_sd_deg": float(launch.std()) if some else 0.0,
            "hard": float(np.mean(found.exit_mph[played] >= HARD_MPH)) if some else 0.0,
        }

    def differences(values: FloatArray, attack: float) -> FloatArray:
        found = trial(values, attack)
        return np.array([(found[name] - wanted[name]) / _UNCERTAIN[name] for name in wanted])

    rows = []
    for attack in held:
        # Shares of the same draws are steps; the differences are taken over more than a step.
        found = least_squares(
            differences, _START, bounds=(_LOWEST, _HIGHEST), diff_step=0.04, x_scale=[0.5, 4.0, 1.0, 0.3],
            max_nfev=12, args=(float(attack),),
        )  # fmt: skip
        gives = trial(found.x, float(attack))
        rows.append(
            [attack, *found.x, gives["whiff"], gives["foul"], 1 - gives["whiff"] - gives["foul"],
             gives["hard"], gives["launch_mean_deg"], gives["launch_sd_deg"],
             float(np.sqrt(np.mean(found.fun**2)))]
        )  # fmt: skip
    names = [field.name for field in fields(ScatterFit) if field.name not in ("wanted", "swing")]
    columns: dict[str, Any] = dict(zip(names, np.array(rows, dtype=np.float64).T, strict=True))
    return ScatterFit(**columns, wanted=wanted, swing=swing)
