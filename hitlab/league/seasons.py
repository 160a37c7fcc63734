"""Make an invented season: the pitch table, and the truth behind it."""

from __future__ import annotations

import operator
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Any

import numpy as np
import pandas as pd
import pyarrow as pa
from numpy.typing import NDArray

from hitlab.errors import ClaimError
from hitlab.league.effects import Effects
from hitlab.league.names import CLUBS, hitter_names, pitcher_names
from hitlab.league.pitching import KINDS
from hitlab.league.playing import SCHEDULED_INNINGS, play
from hitlab.league.schedule import LINEUP, Games, draw_games, start_shares
from hitlab.league.talents import SPREADS, Hitters, Pitchers, draw_hitters, draw_pitchers
from hitlab.league.truth import rates_with_error
from hitlab.pitches.schema import COLUMNS, OUTCOMES, RESULTS

__all__ = ["Season", "make_season"]

Columns = dict[str, NDArray[Any]]

PITCHES_A_GAME = 285
PLATE_APPEARANCES_A_START = 4.33
# The schema names the bases; here they are a number: 1 first, 2 second, 4 third.
_BASES_BY_NUMBER = (
    "empty", "first", "second", "first second", "third", "first third", "second third", "full"
)  # fmt: skip
_SIDES = ("left", "right")
_FOUL_SIDES = COLUMNS["foul_side"].words


@dataclass(frozen=True)
class Season:
    """An invented season whose truth is known; the hitters' is worked out where it is asked for.

    Attributes
    ----------
    pitches
        The pitch table, one row a pitch, with the columns of ``hitlab.pitches.schema`` but for
        ``hard`` and ``hard_source``, which a radar makes needless.
    pitcher_truth
        One row a pitcher: ``pitcher_id``, ``pitcher``, ``club``, ``hand``, ``role``, ``hard_to_hit``,
        ``speed_mph`` (above usual), ``scatter`` (of places, below 1 is better), ``share_of_pitches``.
    settings
        How it was made: the arguments, the number of pitches and of games.
    """

    pitches: pd.DataFrame
    pitcher_truth: pd.DataFrame
    settings: dict[str, Any]
    _work_out: Callable[[], tuple[pd.DataFrame, dict[str, float]]] = field(repr=False)

    @cached_property
    def _worked_out(self) -> tuple[pd.DataFrame, dict[str, float]]:
        return self._work_out()

    @property
    def truth(self) -> pd.DataFrame:
        """The hitters' truth.

        One row a hitter: ``hitter_id``, ``hitter``, ``club``, ``side``, ``role`` (regular for the nine
        whom the manager likes best, else part-timer), ``expected_plate_appearances``, the true rates
        (see ``hitlab.league.RATES``) and the talents (columns ``talent_...``, mean 0 and standard
        deviation 1, before the effects scale them).
        """
        return self._worked_out[0]

    @property
    def truth_error(self) -> dict[str, float]:
        """The numerical standard error of each true rate's mean over all hitters."""
        return self._worked_out[1]


def whole(name: str, value: Any, lowest: int, highest: int) -> int:
    """Return a whole number between bounds; raise a ClaimError that names the argument."""
    try:
        number = operator.index(value)
    except TypeError:
        number = None
    if number is None or isinstance(value, bool) or not lowest <= number <= highest:
        raise ClaimError(
            f"{name}={value!r}: a whole number from {lowest:,} to {highest:,} is accepted. "
            f"Change {name} and call again."
        )
    return number


def check_league(hitters: Any, clubs: Any, seed: Any, effects: Any) -> tuple[int, int, int, Effects]:
    """Check the arguments that seasons and drawn counts share."""
    clubs = whole("clubs", clubs, 2, len(CLUBS))
    hitters = whole("hitters", hitters, LINEUP * clubs, 100 * clubs)
    seed = whole("seed", seed, 0, 2**63 - 1)
    effects = Effects() if effects is None else effects
    if not isinstance(effects, Effects):
        raise ClaimError(f"effects={effects!r}: an Effects object is accepted, such as Effects(platoon=0).")
    return hitters, clubs, seed, effects


def make_season(
    hitters: int = 150,
    clubs: int = 10,
    pitches: int = 100_000,
    seed: int = 0,
    effects: Effects | None = None,
) -> Season:
    """Make an invented season by a model whose true rates are known.

    Parameters
    ----------
    hitters
        Number of hitters, at least nine a club. The clubs share them; nine or so play most days.
    clubs
        Number of clubs, from 2 to 20.
    pitches
        About how many pitches: whole games are played, about 285 pitches each.
    seed
        The same seed gives the same season.
    effects
        Which effects act, and how strongly; :class:`Effects` () where it is left out.

    Returns
    -------
    Season
        Pitches stand game by game in order of play; the truth beside them.

    Raises
    ------
    ClaimError
        When an argument is out of its range.

    Notes
    -----
    The league, its people and all its numbers are invented. The sizes were set so that common rates
    land near common practice in professional leagues (no source); they are no evidence about
    anybody. Not played: stolen bases, pitches that get away, plate appearances without a result,
    automatic balls and strikes, catcher's interference.

    Examples
    --------
    >>> from hitlab.league import make_season
    >>> season = make_season(hitters=18, clubs=2, pitches=600, seed=1)
    >>> season.settings["games"], len(season.truth)
    (2, 18)
    >>> season.pitches[["game", "inning", "half", "balls", "strikes"]].head(2)
            game  inning half  balls  strikes
    0  game-0001       1  top      0        0
    1  game-0001       1  top      1        0
    """
    hitters, clubs, seed, effects = check_league(hitters, clubs, seed, effects)
    pitches = whole("pitches", pitches, 1, 20_000_000)
    sources = [np.random.default_rng(source) for source in np.random.SeedSequence(seed).spawn(5)]
    for_hitters, for_pitchers, for_names, for_games, for_play = sources
    bats = draw_hitters(hitters, clubs, effects, for_hitters)
    arms = draw_pitchers(clubs, len(KINDS), effects, for_pitchers)
    names = hitter_names(bats.club, bats.rank, for_names)
    arm_names = pitcher_names(len(arms.club), for_names, set(names))
    games = draw_games(max(1, round(pitches / PITCHES_A_GAME)), clubs, bats, for_games)
    columns = play(games, bats, arms, effects, for_play)
    return Season(
        pitches=_pitch_table(columns, games, bats, names, arm_names),
        pitcher_truth=_pitcher_truth(arms, arm_names),
        settings={
            "hitters": hitters,
            "clubs": clubs,
            "pitches": len(columns["game"]),
            "games": len(games.date),
            "seed": seed,
            "effects": effects,
        },
        _work_out=partial(_truth, bats, names, arms, effects, len(games.date) * 2 / clubs),
    )


def identities(letter: str, number: int) -> list[str]:
    """Ids such as h001."""
    return [f"{letter}{i + 1:03d}" for i in range(number)]


def _pick(words: Any, numbers: NDArray[np.int64]) -> pa.Array:
    """Text by index; -1 is missing."""
    indices = pa.array(numbers.astype(np.int32), mask=numbers < 0)
    return pa.DictionaryArray.from_arrays(indices, pa.array(list(words), pa.string())).cast(pa.string())


def _clips(game: NDArray[np.int64], seconds: NDArray[np.int64]) -> pa.Array:
    """File and time code of each pitch, such as ``game-0007.mp4 00:12:41``."""
    files = [f"game-{i + 1:04d}.mp4" for i in range(int(game.max()) + 1)]
    codes = [f" {s // 3600:02d}:{s // 60 % 60:02d}:{s % 60:02d}" for s in range(int(seconds.max()) + 1)]
    return pa.array([files[g] + codes[s] for g, s in zip(game.tolist(), seconds.tolist(), strict=True)])


def _pitch_table(
    columns: Columns, games: Games, hitters: Hitters, names: list[str], pitcher_names: list[str]
) -> pd.DataFrame:
    game, hitter, pitcher = columns["game"], columns["hitter"], columns["pitcher"]
    number = len(game)
    same = np.zeros(number, dtype=np.int64)
    words: dict[str, tuple[Any, NDArray[np.int64]]] = {
        "game": ([f"game-{i + 1:04d}" for i in range(len(games.date))], game),
        "level": (["professional"], same),
        "bat": (["wood"], same),
        "hitter": (names, hitter),
        "hitter_id": (identities("h", len(names)), hitter),
        "pitcher": (pitcher_names, pitcher),
        "pitcher_id": (identities("p", len(pitcher_names)), pitcher),
        "club": (CLUBS, hitters.club[hitter]),
        "hitter_side": (_SIDES, columns["hitter_side"]),
        "pitcher_hand": (_SIDES, columns["pitcher_hand"]),
        "half": (("top", "bottom"), columns["half"]),
        "bases": (_BASES_BY_NUMBER, columns["bases"]),
        "pitch_kind": (KINDS, columns["pitch_kind"]),
        "outcome": (OUTCOMES, columns["outcome"]),
        "foul_side": (_FOUL_SIDES, columns["foul_side"]),
        "result": (RESULTS, columns["result"]),
    }
    made: dict[str, pa.Array] = {name: _pick(*pair) for name, pair in words.items()}
    made["date"] = pa.array(games.date.astype("datetime64[us]")[game])
    made["scheduled_innings"] = pa.array(np.full(number, SCHEDULED_INNINGS))
    made["zone_bottom_in"] = pa.array(hitters.zone_bottom_in[hitter])
    made["zone_top_in"] = pa.array(hitters.zone_top_in[hitter])
    made["clip"] = _clips(game, columns["seconds"])
    for name in COLUMNS:
        if name in columns and name not in made:
            made[name] = pa.array(columns[name])
    table = pa.table({name: made[name] for name in COLUMNS if name in made})
    frame: pd.DataFrame = table.to_pandas()
    return frame


def _truth(
    hitters: Hitters, names: list[str], pitchers: Pitchers, effects: Effects, games_a_club: float
) -> tuple[pd.DataFrame, dict[str, float]]:
    rates, errors = rates_with_error(hitters.scaled, hitters.side, pitchers, effects)
    roster = np.bincount(hitters.club)
    shares = {int(size): start_shares(int(size)) for size in np.unique(roster)}
    share = np.array([shares[roster[c]][r] for c, r in zip(hitters.club, hitters.rank, strict=True)])
    table = pd.DataFrame(
        {
            "hitter_id": identities("h", len(names)),
            "hitter": names,
            "club": [CLUBS[club] for club in hitters.club],
            "side": [("left", "right", "switch")[side] for side in hitters.side],
            "role": ["regular" if rank < LINEUP else "part-timer" for rank in hitters.rank],
            "expected_plate_appearances": share * games_a_club * PLATE_APPEARANCES_A_START,
            **rates,
            **{f"talent_{name}": hitters.talents[row] for row, name in enumerate(SPREADS)},
        }
    )
    return table, errors


def _pitcher_truth(pitchers: Pitchers, names: list[str]) -> pd.DataFrame:
    return pd.DataFrame(
        {
            "pitcher_id": identities("p", len(names)),
            "pitcher": names,
            "club": [CLUBS[club] for club in pitchers.club],
            "hand": [_SIDES[0 if left else 1] for left in pitchers.left],
            "role": ["starter" if starter else "reliever" for starter in pitchers.starter],
            "hard_to_hit": pitchers.hard_to_hit,
            "speed_mph": pitchers.speed_mph,
            "scatter": pitchers.scatter,
            "share_of_pitches": pitchers.share,
        }
    )
