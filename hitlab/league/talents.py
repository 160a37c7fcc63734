"""Hitters and pitchers of an invented league: true talents, sides, roles.

A hitter has twelve talents, drawn together from a multivariate normal distribution with standard
deviation 1 and the correlations below. :data:`SPREADS` turns each into its own scale: logits for
what is a chance, mph for top speed off the bat, degrees for lift. All the numbers are invented.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hitlab.league.effects import Effects

__all__ = [
    "CORRELATIONS",
    "SPREADS",
    "TALENTS",
    "Hitters",
    "Pitchers",
    "correlation_matrix",
    "draw_hitters",
    "draw_pitchers",
]

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

SPREADS = {
    "swings_at_strikes": ("choice_of_swings", 0.22),
    "swings_at_balls": ("choice_of_swings", 0.28),
    "whiff": ("whiffs", 0.17),
    "foul": ("fouls", 0.09),
    "power": ("force_and_aim", 0.80),
    "aim": ("force_and_aim", 0.03),
    "lift": ("force_and_aim", 3.0),
    "breaking": ("pitch_kinds", 0.13),
    "offspeed": ("pitch_kinds", 0.13),
    "inside": ("locations", 0.10),
    "high": ("locations", 0.10),
    "readiness": ("readiness", 0.13),
}
"""Talent: (the field of :class:`Effects` that scales it, standard deviation on its own scale).

``swings_at_strikes`` and ``swings_at_balls``: logit of a swing at a strike, at a ball; ``whiff``:
logit of a miss, positive misses more; ``foul``: logit of a foul given contact; ``power``: mph;
``aim``: log of how closely the bat's middle meets the ball's; ``lift``: degrees; ``breaking``,
``offspeed`` and ``readiness`` (for fastballs): logit of a miss, positive misses less, and better
timing; ``inside`` and ``high``: logit of a miss per half zone, positive misses less there and more on
the other side.
"""

TALENTS = tuple(SPREADS)

CORRELATIONS = {
    ("swings_at_strikes", "swings_at_balls"): 0.45,
    ("swings_at_balls", "whiff"): 0.25,
    ("swings_at_strikes", "power"): 0.10,
    ("whiff", "power"): 0.30,
    ("whiff", "lift"): 0.20,
    ("whiff", "aim"): -0.25,
    ("power", "lift"): 0.25,
    ("power", "aim"): 0.15,
    ("foul", "lift"): 0.10,
    ("breaking", "offspeed"): 0.35,
    ("readiness", "breaking"): 0.45,
    ("readiness", "aim"): 0.20,
    ("readiness", "whiff"): -0.15,
    ("readiness", "high"): 0.15,
}
"""Correlations between talents; pairs that are not named are uncorrelated. A hitter who is ready
for fastballs tends to handle breaking pitches as well (0.45): he can wait for them."""

SWITCH = 2
SIDE_SHARES = (0.33, 0.56, 0.11)
LEFT_PITCHER_SHARE = 0.28
STARTERS, RELIEVERS = 5, 7
STARTERS_SHARE_OF_PITCHES = 0.63
SPEED_SPREAD_MPH = 2.1
ARSENAL_SPREAD = 0.6


def correlation_matrix() -> Floats:
    """Correlation matrix of the talents, in the order of :data:`TALENTS`."""
    matrix = np.eye(len(TALENTS))
    for (one, other), correlation in CORRELATIONS.items():
        i, j = TALENTS.index(one), TALENTS.index(other)
        matrix[i, j] = matrix[j, i] = correlation
    return matrix


def draw_talents(rng: np.random.Generator, shape: tuple[int, ...]) -> Floats:
    """Draw standard talents, shape (12, *shape); the talents run along the first axis."""
    root = np.linalg.cholesky(correlation_matrix())
    draws = rng.standard_normal((len(TALENTS), *shape))
    return np.tensordot(root, draws, axes=1)


def scaled(talents: Floats, effects: Effects) -> Floats:
    """Put standard talents on their own scales, with switched-off effects at 0."""
    sizes = np.array([spread * getattr(effects, field) for field, spread in SPREADS.values()])
    return np.asarray(talents * sizes.reshape(-1, *[1] * (talents.ndim - 1)))


def worth(talents: Floats) -> Floats:
    """Return what a manager would pay for, mean 0 and standard deviation 1: power, contact, eye, timing."""
    weights = dict.fromkeys(TALENTS, 0.0) | {
        "power": 1.0,
        "aim": 0.8,
        "whiff": -0.7,
        "swings_at_balls": -0.4,
        "readiness": 0.6,
        "breaking": 0.4,
    }
    vector = np.array(list(weights.values()))
    spread = float(np.sqrt(vector @ correlation_matrix() @ vector))
    return np.asarray(np.tensordot(vector, talents, axes=1) / spread)


def liking(talents: Floats, effects: Effects, rng: np.random.Generator) -> Floats:
    """Return what decides who plays: worth and luck, correlated as ``effects.better_play_more`` says."""
    share = effects.better_play_more
    noise = rng.standard_normal(talents.shape[1:])
    return np.asarray(share * worth(talents) + np.sqrt(1 - share**2) * noise)


@dataclass(frozen=True, slots=True)
class Hitters:
    """All hitters of a league; arrays run over hitters, who stand club by club, best liked first.

    Attributes
    ----------
    talents
        Standard talents, shape (12, hitters).
    scaled
        The same on their own scales.
    club
        Number of the club.
    rank
        0 for the hitter whom his club's manager likes best.
    side
        0 left, 1 right, 2 switch hitter.
    zone_bottom_in, zone_top_in
        The strike zone in inches.
    """

    talents: Floats
    scaled: Floats
    club: Whole
    rank: Whole
    side: Whole
    zone_bottom_in: Floats
    zone_top_in: Floats


def draw_sides(rng: np.random.Generator, shape: tuple[int, ...]) -> Whole:
    """Sides of the plate: 0 left, 1 right, 2 switch."""
    return np.searchsorted(np.cumsum(SIDE_SHARES[:2]), rng.random(shape)).astype(np.int64)


def draw_hitters(hitters: int, clubs: int, effects: Effects, rng: np.random.Generator) -> Hitters:
    """Draw all hitters; clubs get equal numbers as far as possible."""
    club = np.sort(np.arange(hitters) % clubs)
    talents = draw_talents(rng, (hitters,))
    order = np.lexsort((-liking(talents, effects, rng), club))
    talents = talents[:, order]
    first_of_club = np.searchsorted(club, np.arange(clubs))
    bottom = np.clip(19 + 0.8 * rng.standard_normal(hitters), 16, 22)
    top = np.clip(bottom + 22.5 + 1.0 * rng.standard_normal(hitters), 37, 48)
    return Hitters(
        talents=talents,
        scaled=scaled(talents, effects),
        club=club,
        rank=np.arange(hitters) - first_of_club[club],
        side=draw_sides(rng, (hitters,)),
        zone_bottom_in=np.round(bottom, 1),
        zone_top_in=np.round(top, 1),
    )


@dataclass(frozen=True, slots=True)
class Pitchers:
    """All pitchers of a league: twelve a club, five starters first.

    Attributes
    ----------
    club
        Number of the club.
    starter
        True for a starter.
    left
        True for a left-hander.
    hard_to_hit
        Added to the logit of a whiff; costs the hitter 3 mph off the bat a unit.
    speed_mph
        Added to each pitch's usual speed.
    scatter
        Factor on the scatter of locations; below 1 is better.
    leaning
        Added to the log of the usual share of each kind of pitch, shape (pitchers, kinds).
    extension_ft
        Release point in front of the rubber.
    """

    club: Whole
    starter: NDArray[np.bool_]
    left: NDArray[np.bool_]
    hard_to_hit: Floats
    speed_mph: Floats
    scatter: Floats
    leaning: Floats
    extension_ft: Floats

    @property
    def share(self) -> Floats:
        """Expected share of the league's pitches, summing to 1."""
        clubs = len(self.club) / (STARTERS + RELIEVERS)
        starter = STARTERS_SHARE_OF_PITCHES / STARTERS
        reliever = (1 - STARTERS_SHARE_OF_PITCHES) / RELIEVERS
        return np.where(self.starter, starter, reliever) / clubs


def draw_pitchers(clubs: int, kinds: int, effects: Effects, rng: np.random.Generator) -> Pitchers:
    """Draw twelve pitchers a club; with ``effects.pitchers`` at 0 they differ in hand only."""
    staff = STARTERS + RELIEVERS
    number = clubs * staff
    size = effects.pitchers
    starter = np.arange(number) % staff < STARTERS
    # Relievers throw a little harder and miss a few more bats (common practice, no source).
    return Pitchers(
        club=np.repeat(np.arange(clubs), staff),
        starter=starter,
        left=rng.random(number) < LEFT_PITCHER_SHARE,
        hard_to_hit=size * (0.16 * rng.standard_normal(number) + np.where(starter, -0.02, 0.05)),
        speed_mph=size * (SPEED_SPREAD_MPH * rng.standard_normal(number) + np.where(starter, -0.2, 0.8)),
        scatter=np.exp(size * 0.05 * rng.standard_normal(number)),
        leaning=size * ARSENAL_SPREAD * rng.standard_normal((number, kinds)),
        extension_ft=np.clip(6.3 + 0.35 * rng.standard_normal(number), 5, 7.6),
    )
