"""The swing's margin: what becomes of one swing at one pitch when aim and timing scatter.

The central point of the physics. The barrel that travels in line with the pitch stays in its path for
longer, so that a mistimed swing still meets the ball near the intended height. A steep uppercut or a
chop crosses the path: early, the uppercut passes over the ball and tops it; late, it passes under.

And what makes launch angles spread: each source's own share of the variance, over any grid of spreads,
from swing to swing of one hitter and between the averages of many hitters. Between hitters the aim
averages out, so that the swing's angle can well be the greater part there; the functions say where.

The scatter is an input, not a finding. What is published speaks of its order, not of its size: against a
machine, hitters spread less across the bat than along it or in depth (Higuchi et al. 2016, PLOS ONE
e0148498), timing and the judged place make the larger errors (Higuchi et al. 2015), and a third of 1,033
swings met the ball within 21 x 97 mm (Kidokoro & Yanai 2017); 7 ms of timing were found for a ball that falls
(Front. Hum. Neurosci. 2014, 8:342). All were seen as abstracts only. No standard deviation in inches or
milliseconds against live pitching was found. The default scatter is that of a steady swinger who misses far
less than people do; :func:`hitlab.physics.fit_scatter` gives one that whiffs and fouls as hitters do.

Errors are drawn independently but for timing and attack angle, which may be correlated (beyond what the arc
of a drooping bat does by itself).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from hitlab.physics.fences import Fence
from hitlab.physics.flight import Conditions
from hitlab.physics.one_swing import (
    DEMO_FENCE,
    FOUL_LINE_DEG,
    OUTCOME_WORDS,
    PitchAtPlate,
    Swing,
    SwingOutcomes,
    contact_values,
    swing_outcomes,
)
from hitlab.physics.quantities import (
    Columns,
    FloatArray,
    broadcast,
    expect,
    generator,
    keeps_index,
    quantity,
    single,
    warn_of_seconds,
    whole,
)

if TYPE_CHECKING:
    import pandas as pd

__all__ = [
    "HARD_MPH",
    "HeldStill",
    "LaunchShares",
    "Margin",
    "Scatter",
    "angle_overtakes",
    "hold_still",
    "launch_shares",
    "swing_margin",
]

_CHUNK = 50_000
_CLOSE_DEG, _CLOSE_SHARE = 0.05, 0.005
"""How closely :func:`angle_overtakes` looks; such a difference of shares is a quarter of a per cent of its
answer."""
HARD_MPH = 95.0
"""Exit speed of a hard-hit ball (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Scatter:
    """Standard deviations from swing to swing (our assumptions; see the module).

    Attributes
    ----------
    miss_in
        Of the vertical miss, 0 to 10 in.
    timing_ms
        Of the timing error, 0 to 100 ms.
    attack_deg
        Of the swing's own angle, 0 to 25 degrees.
    sideways_in
        Of the error along the bat, 0 to 10 in.
    timing_with_attack
        Correlation of the timing error with the swing's own angle, -1 to 1; negative: late swings are
        flatter.

    Examples
    --------
    A hitter who misses his aim twice as far, and what that does to his whiffs:

    >>> from hitlab.physics import Scatter, swing_margin
    >>> for scatter in (Scatter(miss_in=1.0), Scatter(miss_in=2.0)):
    ...     print(scatter.miss_in, round(swing_margin(scatter=scatter, swings=2_000).shares["whiff"], 2))
    1.0 0.04
    2.0 0.16
    """

    miss_in: float = 1.0
    timing_ms: float = 10.0
    attack_deg: float = 3.0
    sideways_in: float = 0.0
    timing_with_attack: float = 0.0

    def __post_init__(self) -> None:
        for name, (unit, low, high) in _SCATTER_RANGES.items():
            object.__setattr__(self, name, single(name, getattr(self, name), unit, low, high))
        warn_of_seconds("timing_ms", np.asarray(self.timing_ms))

    def draw(self, rng: np.random.Generator, size: int) -> FloatArray:
        """Draw errors of aim (in), timing (ms), angle (degrees) and along the bat (in): four rows."""
        draws = rng.standard_normal((4, size))
        with_attack = self.timing_with_attack
        draws[2] = with_attack * draws[1] + np.sqrt(1 - with_attack**2) * draws[2]
        return np.asarray(draws * [[self.miss_in], [self.timing_ms], [self.attack_deg], [self.sideways_in]])


_SCATTER_RANGES: dict[str, tuple[str, float, float]] = {
    "miss_in": ("inches", 0, 10),
    "timing_ms": ("milliseconds", 0, 100),
    "attack_deg": ("degrees", 0, 25),
    "sideways_in": ("inches", 0, 10),
    "timing_with_attack": ("", -1, 1),
}


@dataclass(frozen=True, slots=True, eq=False)
class Margin:
    """The distribution of outcomes of one swing against one pitch.

    Attributes
    ----------
    swings
        Swings drawn.
    shares
        Share of the swings by outcome, in the order of :data:`OUTCOME_WORDS`.
    aim_in
        Vertical miss that was aimed for.
    launch_mean_deg, launch_sd_deg
        Of the balls in play.
    hard_share
        Share of the balls in play that were hit at 95 mph or more.
    missing
        Swings of which nothing can be said because a value was missing; the shares are of the others.
    outcomes
        The swings themselves, where they were kept.

    Examples
    --------
    >>> from hitlab.physics import swing_margin
    >>> margin = swing_margin(swings=2_000, seed=1)
    >>> round(margin.shares["foul"], 2), round(margin.launch_sd_deg)
    (0.24, 19)
    """

    swings: int
    shares: dict[str, float]
    aim_in: float
    launch_mean_deg: float
    launch_sd_deg: float
    hard_share: float = float("nan")
    missing: int = 0
    outcomes: SwingOutcomes | None = field(default=None, repr=False)

    def table(self) -> pd.DataFrame:
        """Give the shares as a data frame, one row an outcome, with their standard errors."""
        import pandas as pd

        share = pd.Series(self.shares, name="share")
        error = np.sqrt(share * (1 - share) / (self.swings - self.missing or np.nan))
        return pd.DataFrame({"share": share, "share_error": error}).rename_axis("outcome").reset_index()


@dataclass(frozen=True, slots=True, eq=False)
class LaunchShares(Columns):
    """How much of the spread in launch angle each source explains by itself.

    Attributes
    ----------
    launch_sd_deg
        Standard deviation of the launch angle (between hitters: of their average launch angles).
    miss_share, timing_share, angle_share
        Variance of the launch angle's mean given that source, as a share of the whole variance; each 0 to 1.
    joint_share
        What only shows when sources meet, such as a steep swing that is also mistimed.
    miss_total_share, timing_total_share, angle_total_share
        Each with every joint effect that it has a part in. Where nearly every swing makes contact this is
        what would go if the source did not spread. Where many miss it is not: which swings make contact then
        depends on all sources together, and the source with the widest spread is given too much. See
        :func:`hold_still`.
    contact_share
        Share of the swings that made contact and went forward; the spread is of these.
    index
        The index of the columns that came in, if any did.

    Examples
    --------
    A small and a large scatter of the aim, the others as they are:

    >>> from hitlab.physics import launch_shares
    >>> shares = launch_shares([0.3, 1.0], 5.0, 5.0)
    >>> shares.launch_sd_deg.round().tolist(), shares.miss_share.round(1).tolist()
    ([12.0, 23.0], [0.3, 0.8])
    """

    _TELLS = "contact_share"
    launch_sd_deg: FloatArray
    miss_share: FloatArray
    timing_share: FloatArray
    angle_share: FloatArray
    joint_share: FloatArray
    miss_total_share: FloatArray
    timing_total_share: FloatArray
    angle_total_share: FloatArray
    contact_share: FloatArray
    index: Any = field(default=None, repr=False)


def swing_margin(
    *,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    scatter: Scatter | None = None,
    aim_in: float = 0.0,
    miss: str = "path",
    conditions: Conditions | None = None,
    fence: Fence = DEMO_FENCE,
    swings: int = 100_000,
    seed: int | np.random.Generator = 0,
    keep: bool = False,
) -> Margin:
    """Draw many swings and count what becomes of them.

    Parameters
    ----------
    pitch, swing, scatter
        What is thrown, how it is swung at and how much the swings scatter (normal, independent).
    aim_in
        Vertical miss aimed for, -20 to 20 in; see :func:`aim_for_launch`.
    miss, conditions, fence
        See :func:`swing_outcomes`.
    swings
        How many, 1 to 10 million.
    seed
        Seed or generator of the random draws.
    keep
        Keep the single swings (about 60 bytes each), those with a missing value included.

    Returns
    -------
    Margin
        Shares by outcome; each share p has a standard error of sqrt(p (1 - p) / swings).

    Raises
    ------
    QuantityError
        If an argument lies outside its range.

    Examples
    --------
    What becomes of the default swing at the default pitch:

    >>> from hitlab.physics import swing_margin
    >>> margin = swing_margin(swings=2_000, seed=1)
    >>> for outcome, share in margin.shares.items():
    ...     print(f"{outcome}: {share:.2f}")
    whiff: 0.04
    foul: 0.24
    ground ball: 0.50
    line drive: 0.15
    fly ball: 0.04
    home run: 0.03
    """
    swings = whole("swings", swings, 1, 10_000_000, "100000 settle a share to 0.2 points.")
    pitch = PitchAtPlate() if pitch is None else pitch
    swing = Swing() if swing is None else swing
    scatter = Scatter() if scatter is None else scatter
    for name, value, kind in (
        ("pitch", pitch, PitchAtPlate),
        ("swing", swing, Swing),
        ("scatter", scatter, Scatter),
    ):
        expect(name, value, kind)
    aim = single("aim_in", aim_in, "inches", -20, 20)
    rng = generator(seed)
    counts = np.zeros(len(OUTCOME_WORDS), dtype=np.int64)
    total = squares = 0.0
    hard = missing = 0
    kept: list[SwingOutcomes] = []
    for start in range(0, swings, _CHUNK):
        size = min(_CHUNK, swings - start)
        miss_in, timing_ms, attack_deg, sideways_in = scatter.draw(rng, size)
        some = swing_outcomes(
            np.clip(aim + miss_in, -20, 20),
            np.clip(timing_ms, -500, 500),
            np.clip(swing.attack_deg + attack_deg, -60, 80),
            np.clip(sideways_in, -20, 20),
            pitch=pitch,
            swing=swing,
            miss=miss,
            conditions=conditions,
            fence=fence,
        )
        missing += some.missing
        counts += np.bincount(some.outcome[some.outcome >= 0], minlength=len(OUTCOME_WORDS))
        hard += int(np.count_nonzero(some.exit_mph[some.outcome >= 2] >= HARD_MPH))
        played = some.launch_deg[some.outcome >= 2]
        total += float(played.sum())
        squares += float((played**2).sum())
        if keep:
            kept.append(some)
    in_play = int(counts[2:].sum())
    mean = total / in_play if in_play else float("nan")
    spread = float(np.sqrt(max(squares / in_play - mean**2, 0.0))) if in_play else float("nan")
    names = [name for name in SwingOutcomes.__dataclass_fields__ if name != "index"]
    joined = SwingOutcomes(*(np.concatenate([getattr(k, n) for k in kept]) for n in names)) if keep else None
    known = swings - missing
    shares = {
        word: int(count) / known if known else float("nan")
        for word, count in zip(OUTCOME_WORDS, counts, strict=True)
    }
    return Margin(
        swings, shares, aim, mean, spread, hard / in_play if in_play else float("nan"), missing, joined
    )


@dataclass(frozen=True, slots=True, eq=False)
class HeldStill:
    """What is left of a hitter's spread in launch angle when one source at a time does not spread.

    Attributes
    ----------
    swings
        Swings drawn for each case.
    launch_sd_deg
        Standard deviation of the launch angle of his fair balls.
    left_deg
        The same with one source held at its mean: ``miss``, ``timing``, ``attack``, ``sideways``.
    goes
        Share of the variance that goes with each; negative where the balls that are fair then differ more.
    offset_share, attack_share
        Share of the launch angle's variance that a straight line on the offset at first touch explains, and
        one on the swing's own angle. The offset is where bat and ball meet, whatever brought them there.

    Examples
    --------
    >>> from hitlab.physics import Scatter, hold_still
    >>> found = hold_still(Scatter(1.0, 10.0, 3.0), swings=2_000)
    >>> round(found.launch_sd_deg), round(found.left_deg["miss"]), round(found.goes["miss"], 1)
    (20, 8, 0.8)
    """

    swings: int
    launch_sd_deg: float
    left_deg: dict[str, float]
    goes: dict[str, float]
    offset_share: float
    attack_share: float

    def table(self) -> pd.DataFrame:
        """Give what is left and what goes as a data frame, one row a source."""
        import pandas as pd

        columns = {"left_deg": self.left_deg, "goes": self.goes}
        return pd.DataFrame(columns).rename_axis("held_still").reset_index()


def hold_still(
    scatter: Scatter,
    *,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    aim_in: float = 0.0,
    swings: int = 20_000,
    seed: int = 0,
) -> HeldStill:
    """Hold one source of scatter still at a time, and see what is left of the spread in launch angle.

    The plain experiment behind :func:`launch_shares`, for balls that leave the bat between the foul lines and
    with whatever contact selects.

    Parameters
    ----------
    scatter, pitch, swing, aim_in
        See :func:`swing_margin`.
    swings
        Drawn once and used in every case, 1000 to 200000.
    seed
        Of the draws.

    Returns
    -------
    HeldStill
        NaN where there are fewer than two fair balls.

    Raises
    ------
    QuantityError
        If an argument lies outside its range.

    Examples
    --------
    A hitter who whiffs as people do. What his launch angles follow is the offset, not the angle of his swing:

    >>> from hitlab.physics import Scatter, hold_still
    >>> from hitlab.physics.scatter_fit import HITTER
    >>> found = hold_still(Scatter(1.5, 14.0, 4.0, 2.1), swing=HITTER, aim_in=1.0, swings=5_000)
    >>> round(found.offset_share, 2), round(found.attack_share, 2)
    (0.87, 0.02)
    """
    expect("scatter", scatter, Scatter)
    size = whole("swings", swings, 1000, 200_000, "20000 settle a share of the variance to 2 points.")
    swing = Swing() if swing is None else swing
    expect("swing", swing, Swing)
    pitch = PitchAtPlate() if pitch is None else pitch
    aim = single("aim_in", aim_in, "inches", -20, 20)
    draws = scatter.draw(generator(seed), size)

    def struck(held: int | None) -> tuple[FloatArray, FloatArray, FloatArray]:
        errors = draws.copy()
        if held is not None:
            errors[held] = 0.0
        attack = np.clip(swing.attack_deg + errors[2], -60, 80)
        found = contact_values(
            np.clip(aim + errors[0], -20, 20), np.clip(errors[1], -500, 500), attack,
            np.clip(errors[3], -20, 20), pitch=pitch, swing=swing, miss="path",
        )  # fmt: skip
        fair = found.touched & (np.abs(found.values["spray_deg"]) <= FOUL_LINE_DEG)
        return found.values["launch_deg"][fair], found.values["offset_in"][fair], attack[fair]

    launch, offset, attack = struck(None)

    def spread(values: FloatArray) -> float:
        return float(values.std()) if values.size > 1 else float("nan")

    def explained(by: FloatArray) -> float:
        if launch.size < 2:
            return float("nan")
        return float(np.corrcoef(by, launch)[0, 1] ** 2) if spread(by) > 0 and spread(launch) > 0 else 0.0

    names = ("miss", "timing", "attack", "sideways")
    left = {name: spread(struck(row)[0]) for row, name in enumerate(names)}
    whole_sd = spread(launch)
    goes = {name: 1 - (sd / whole_sd) ** 2 if whole_sd else float("nan") for name, sd in left.items()}
    return HeldStill(size, whole_sd, left, goes, explained(offset), explained(attack))


@keeps_index
def launch_shares(
    miss_in: ArrayLike,
    timing_ms: ArrayLike,
    attack_deg: ArrayLike,
    *,
    within: Scatter | None = None,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    aim_in: float = 0.0,
    miss: str = "path",
) -> LaunchShares:
    """Share out the variance of the launch angle among aim, timing and the swing's own angle.

    Parameters
    ----------
    miss_in
        Standard deviation of the vertical miss, 0 to 10 in.
    timing_ms
        Standard deviation of the timing error, 0 to 100 ms.
    attack_deg
        Standard deviation of the attack angle, 0 to 25 degrees.
    within
        None: the three are one hitter's spreads from swing to swing. Given: the three are spreads of the
        hitters' averages, and each hitter's launch angle is averaged over this scatter of his swings, the
        place along the bat included.
    pitch, swing, aim_in, miss
        See :func:`hitlab.physics.one_swing.swing_outcomes`.

    Returns
    -------
    LaunchShares
        Arrays of the common shape of the first three arguments.

    Raises
    ------
    QuantityError
        If an argument lies outside its range, or the shapes do not fit.

    Notes
    -----
    First-order sensitivity indices (Sobol 1993), on a grid of equally likely values of each source, so
    that there is no sampling noise. A long tail is cut at about two standard deviations.

    Examples
    --------
    Half an inch of scatter in the aim decides far more than five degrees in the swing's own angle:

    >>> from hitlab.physics import launch_shares
    >>> shares = launch_shares(0.5, 5.0, 5.0)
    >>> [round(float(share), 2) for share in (shares.miss_share, shares.timing_share, shares.angle_share)]
    [0.53, 0.07, 0.05]
    """
    spreads = {
        "miss_in": quantity("miss_in", miss_in, "inches", 0, 10),
        "timing_ms": quantity("timing_ms", timing_ms, "milliseconds", 0, 100),
        "attack_deg": quantity("attack_deg", attack_deg, "degrees", 0, 25),
    }
    shape = broadcast(spreads)
    pitch = PitchAtPlate() if pitch is None else pitch
    swing = Swing() if swing is None else swing
    aim_in = single("aim_in", aim_in, "inches", -20, 20)
    cells = [np.broadcast_to(a, shape).ravel() for a in spreads.values()]
    out = np.full((9, cells[0].size), np.nan)
    for i, (a, b, c) in enumerate(zip(*cells, strict=True)):
        if np.isfinite(a + b + c):
            launch, weight = _launch_grid((a, b, c), within, pitch, swing, aim_in, miss)
            out[:, i] = _share_out(launch, weight)
    return LaunchShares(*(column.reshape(shape) for column in out))


@keeps_index
def angle_overtakes(
    miss_in: ArrayLike,
    timing_ms: float = 0.0,
    *,
    within: Scatter | None = None,
    pitch: PitchAtPlate | None = None,
    swing: Swing | None = None,
    aim_in: float = 0.0,
    miss: str = "path",
    total: bool = False,
) -> FloatArray:
    """Find the spread of attack angles at which they explain as much of the launch angle as the aim does.

    Parameters
    ----------
    miss_in
        Standard deviation of the vertical miss, 0 to 10 in; any shape.
    timing_ms, within, pitch, swing, aim_in, miss
        See :func:`launch_shares`.
    total
        Compare the total shares (with joint effects) instead of each by itself.

    Returns
    -------
    numpy.ndarray
        Standard deviation of the attack angle in degrees, shape of ``miss_in``; NaN where even 25 degrees
        do not suffice. Above it the swing's angle is the greater part.

    Raises
    ------
    QuantityError
        If an argument lies outside its range.

    Examples
    --------
    With 0.2 in and 0.4 in of scatter in the aim, the swing's own angle has to scatter by so many degrees:

    >>> from hitlab.physics import angle_overtakes
    >>> angle_overtakes([0.2, 0.4]).round(1).tolist()
    [5.2, 10.3]
    """
    spreads = quantity("miss_in", miss_in, "inches", 0, 10)
    out = np.full(spreads.size, np.nan)
    for i, spread in enumerate(spreads.ravel()):
        if not np.isfinite(spread):
            continue

        def shares(attack: float, spread: float = float(spread)) -> tuple[float, float]:
            found = launch_shares(
                spread, timing_ms, attack, within=within, pitch=pitch, swing=swing, aim_in=aim_in, miss=miss
            )
            if total:
                return float(found.miss_total_share), float(found.angle_total_share)
            return float(found.miss_share), float(found.angle_share)

        low, high = 0.0, 25.0
        of_miss, of_angle = shares(high)
        if not of_angle > of_miss:
            continue
        # The angle's variance grows about as the square of its spread, so that the shares at one spread say
        # near which other one they are equal; where that leads out of the bracket, it is halved.
        guess = high
        for _ in range(12):
            guess *= np.sqrt(max(of_miss, 0.0) / of_angle) if of_angle > 0 else np.inf
            if not low < guess < high:
                guess = (low + high) / 2
            of_miss, of_angle = shares(guess)
            low, high = (low, guess) if of_angle > of_miss else (guess, high)
            if high - low < _CLOSE_DEG or abs(of_angle - of_miss) < _CLOSE_SHARE * of_miss:
                break
        out[i] = guess
    return out.reshape(spreads.shape)


def _levels(count: int) -> FloatArray:
    """Equally likely values of a standard normal, scaled so that their variance is 1."""
    # SciPy is loaded when shares are asked for, not with the package.
    from scipy.special import ndtri

    values = np.asarray(ndtri((np.arange(count) + 0.5) / count))
    return np.asarray(values / np.sqrt(np.mean(values**2))) if count > 1 else np.zeros(count)


def _along(axis: int, count: int, spread: float) -> FloatArray:
    """Equally likely values of one source along one axis of six; one value where it does not spread."""
    shape = [1] * 6
    shape[axis] = count if spread else 1
    return np.asarray(spread * _levels(shape[axis]).reshape(shape))


def _launch_grid(
    spreads: tuple[float, float, float],
    within: Scatter | None,
    pitch: PitchAtPlate,
    swing: Swing,
    aim_in: float,
    miss: str,
) -> tuple[FloatArray, FloatArray]:
    """Launch angles over a grid of the three sources, and the share of contact in each place of it."""
    centre = (aim_in, 0.0, swing.attack_deg)
    many, few = (25, 1) if within is None else (7, 9)
    own = Scatter(0.0, 0.0, 0.0) if within is None else within
    # The first three axes are the three sources, the others a hitter's own scatter of them. A source that
    # does not spread needs one value only.
    inner = [
        _along(3 + axis, few, spread)
        for axis, spread in enumerate((own.miss_in, own.timing_ms, own.attack_deg))
    ]
    together = own.timing_with_attack
    if own.timing_ms and own.attack_deg:
        with_timing = together * inner[1] * own.attack_deg / own.timing_ms
        inner[2] = with_timing + np.sqrt(1 - together**2) * inner[2]
    values = [
        middle + _along(axis, many, spread) + inner[axis]
        for axis, (middle, spread) in enumerate(zip(centre, spreads, strict=True))
    ]
    bounds = ((-20, 20), (-500, 500), (-60, 80), (-20, 20))
    values.append(_along(0, few, own.sideways_in))
    misses, errors, attacks, along = (np.clip(v, *bound) for v, bound in zip(values, bounds, strict=True))
    launch, hits, size = 0.0, 0, 0
    for sideways in along.ravel():  # one after the other, to spare memory
        contact = contact_values(misses, errors, attacks, sideways, pitch=pitch, swing=swing, miss=miss)
        forward = contact.touched & (np.abs(contact.values["spray_deg"]) < 90)
        launch = launch + np.where(forward, contact.values["launch_deg"], 0.0).sum(axis=(3, 4, 5))
        hits = hits + forward.sum(axis=(3, 4, 5))
        size += math.prod(forward.shape[3:])
    return np.asarray(launch / np.maximum(hits, 1)), np.asarray(hits / size)


def _share_out(launch: FloatArray, weight: FloatArray) -> tuple[float, ...]:
    """Share out the weighted variance of a three-dimensional grid; NaN where there is nothing to share."""
    whole = float(weight.sum())
    if whole == 0:
        return (*(np.nan,) * 8, 0.0)
    mean = float((weight * launch).sum()) / whole

    def explained(averaged_over: tuple[int, ...]) -> float:
        mass = weight.sum(axis=averaged_over)
        level = (weight * launch).sum(axis=averaged_over) / np.where(mass > 0, mass, 1)
        return float((mass * (level - mean) ** 2).sum()) / whole

    variance = explained(())
    contact = float(weight.mean())
    # Rounding leaves about 1e-28 where nothing spreads.
    if variance <= 1e-18:
        return (0.0, *(np.nan,) * 7, contact)
    alone = [explained(others) / variance for others in ((1, 2), (0, 2), (0, 1))]
    total = [1 - explained((axis,)) / variance for axis in range(3)]
    return (float(np.sqrt(variance)), *alone, 1 - sum(alone), *total, contact)
