"""Play all games of a season at once: one pitch of every unfinished game a step.

The state of the games is held in arrays over games. Left out, for simplicity: stolen bases and
pitches that get away, balks, plate appearances that end without a result, automatic balls and
strikes, catcher's interference, injuries and ejections.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.league.ball_off_bat import BallOffBat, foul_sides, strike_ball
from hitlab.league.effects import Effects
from hitlab.league.pitching import HALF_PLATE_IN, Pitches, arsenals, draw_pitches, half_zone_in
from hitlab.league.plays import NEXT_BASES, OUTS, PLAYS, RESULT_OF_PLAY, RUNS, bunt_plays, field
from hitlab.league.schedule import LINEUP, Games
from hitlab.league.swinging import FOUL_TIP_SHARE, Chances, chances, contact
from hitlab.league.talents import SWITCH, TALENTS, Hitters, Pitchers
from hitlab.pitches.schema import OUTCOMES

__all__ = ["SCHEDULED_INNINGS", "play"]

Whole = NDArray[np.int64]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Columns = dict[str, NDArray[Any]]

SCHEDULED_INNINGS = 9
_LIFT = TALENTS.index("lift")
_BALL, _CALLED, _WHIFF, _FOUL, _TIP, _IN_PLAY, _HIT_HITTER = range(7)
_INTENTIONAL = OUTCOMES.index("intentional ball")
_STRIKEOUT, _WALK, _BY_PITCH = (PLAYS.index(play) for play in ("strikeout", "walk", "hit by pitch"))
_HOME_RUN = PLAYS.index("home run")
_STATE_FROM_GAME = ("inning", "half", "outs", "bases", "balls", "strikes", "hitter", "pitcher")

# Common practice, no source: how long pitchers stay, and how often the rare things are tried.
_STARTER_PITCHES, _RELIEVER_PITCHES = (88, 9), (23, 7)
_PINCH_HIT_CHANCE = 0.05
_BUNT_CHANCE = 0.045
_INTENTIONAL_CHANCE = 0.12
_CHECKED_WHIFF_SHARE, _CHECKED_TAKE_SHARE = 0.05, 0.03


class _Season:
    """The state of all games, and the rules that move it."""

    def __init__(
        self, games: Games, hitters: Hitters, pitchers: Pitchers, effects: Effects, rng: np.random.Generator
    ) -> None:
        self.hitters, self.pitchers, self.effects, self.rng = hitters, pitchers, effects, rng
        self.arsenal = arsenals(pitchers, effects)
        self.lineup, self.bench, self.staff = games.lineup.copy(), games.bench, games.staff
        number = len(games.date)
        self.form = effects.day_form * rng.standard_normal((number, 2, LINEUP))
        self.inning, self.fresh = np.ones((2, number), dtype=np.int64)
        self.half, self.outs, self.bases, self.balls, self.strikes, self.hitter, self.pitcher = np.zeros(
            (7, number), dtype=np.int64
        )
        self.plate_appearance, self.pitch, self.bunting, self.intentional, self.whiffed = np.zeros(
            (5, number), dtype=np.int64
        )
        self.over = np.zeros(number, dtype=bool)
        self.today = np.zeros(number)
        self.score, self.turn, self.benched, self.relief, self.thrown = (
            np.zeros((number, 2), dtype=np.int64) for _ in range(5)
        )
        mean, spread = _STARTER_PITCHES
        self.limit = np.round(mean + spread * rng.standard_normal((number, 2))).astype(np.int64)
        self.seconds = rng.integers(240, 900, number)
        self.middle_in, self.half_in = half_zone_in(hitters.zone_bottom_in, hitters.zone_top_in)

    def begin_plate_appearances(self, game: Whole) -> None:
        """Bring pitcher and hitter to their places; decide on bunts and intentional walks."""
        rng, bat = self.rng, self.half[game]
        field_side = 1 - bat
        self.plate_appearance[game] += 1
        for column in (self.pitch, self.balls, self.strikes, self.whiffed):
            column[game] = 0
        tired = (self.thrown[game, field_side] >= self.limit[game, field_side]) & (
            self.relief[game, field_side] < self.staff.shape[2] - 1
        )
        change, side = game[tired], field_side[tired]
        self.relief[change, side] += 1
        self.thrown[change, side] = 0
        mean, spread = _RELIEVER_PITCHES
        limits = np.round(mean + spread * rng.standard_normal(len(change)))
        self.limit[change, side] = np.maximum(limits, 5).astype(np.int64)
        self.seconds[change] += 150
        self.pitcher[game] = self.staff[game, field_side, self.relief[game, field_side]]

        slot, draws = self.turn[game, bat], rng.random((3, len(game)))
        if self.bench.shape[2]:
            next_on_bench = np.minimum(self.benched[game, bat], self.bench.shape[2] - 1)
            pinch = (
                (self.inning[game] >= 7)
                & (draws[0] < _PINCH_HIT_CHANCE)
                & (self.benched[game, bat] < self.bench.shape[2])
                & (self.bench[game, bat, next_on_bench] >= 0)
            )
            g, b, s = game[pinch], bat[pinch], slot[pinch]
            self.lineup[g, b, s] = self.bench[g, b, next_on_bench[pinch]]
            self.form[g, b, s] = self.effects.day_form * rng.standard_normal(len(g))
            self.benched[g, b] += 1
        self.hitter[game] = self.lineup[game, bat, slot]
        self.today[game] = self.form[game, bat, slot]
        self.turn[game, bat] = (slot + 1) % LINEUP

        margin = np.abs(self.score[game, 0] - self.score[game, 1])
        bases, outs = self.bases[game], self.outs[game]
        may_bunt = (outs == 0) & (bases >= 1) & (bases <= 3) & (margin <= 2)
        self.bunting[game] = may_bunt & (draws[1] < _BUNT_CHANCE)
        may_walk = (bases & 1 == 0) & (bases & 2 == 2) & (self.inning[game] >= 7) & (outs > 0) & (margin <= 1)
        self.intentional[game] = may_walk & (draws[2] < _INTENTIONAL_CHANCE)

    def one_pitch(self, game: Whole) -> Columns:
        """Throw one pitch in each of the games, move their state, return the rows."""
        self.begin_plate_appearances(game[self.fresh[game] == 1])
        self.pitch[game] += 1
        bat = self.half[game]
        row: Columns = {name: getattr(self, name)[game] for name in _STATE_FROM_GAME}
        row |= {
            "game": game,
            "plate_appearance": self.plate_appearance[game],
            "pitch": self.pitch[game],
            "score_hitting": self.score[game, bat],
            "score_fielding": self.score[game, 1 - bat],
            "seconds": self.seconds[game],
        }
        self._throw_and_swing(game, row)
        play = self._plays(game, row)
        self._settle(game, bat, row, play)
        self.thrown[game, 1 - bat] += 1
        self.seconds[game] += self.rng.integers(14, 31, len(game))
        return row

    def _throw_and_swing(self, game: Whole, row: Columns) -> None:
        """Fill the columns of pitch, swing and contact."""
        effects, rng, number = self.effects, self.rng, len(game)
        hitter, pitcher = row["hitter"], row["pitcher"]
        side, left = self.hitters.side[hitter], self.pitchers.left[pitcher]
        bats_right = np.where(side == SWITCH, left, side == 1)
        same_hand = bats_right != left
        balls, strikes = row["balls"], row["strikes"]
        pitches = draw_pitches(
            self.pitchers,
            self.arsenal,
            pitcher,
            same_hand,
            balls,
            strikes,
            rng.random(number),
            rng.standard_normal((3, number)),
            effects,
        )
        talents, form = self.hitters.scaled[:, hitter], self.today[game]
        intentional = self.intentional[game] == 1
        bunt = (self.bunting[game] == 1) & (strikes < 2) & ~intentional
        chance = chances(talents, pitches, balls, strikes, self.whiffed[game], same_hand, form, effects)
        draws = rng.random((4, number))
        swing = (draws[0] < chance.swing) & ~intentional
        outcome = _outcomes(chance, swing, draws)
        bunt &= swing
        # A bunt is missed, fouled or put in play at its own rates.
        outcome[bunt] = np.array([_WHIFF, _FOUL, _IN_PLAY])[np.searchsorted([0.12, 0.55], draws[1][bunt])]
        outcome[intentional] = _INTENTIONAL
        checked = np.where(swing, (outcome == _WHIFF) & (draws[2] < _CHECKED_WHIFF_SHARE), False)
        checked |= ~swing & (outcome <= _CALLED) & (draws[2] < _CHECKED_TAKE_SHARE)
        row |= {
            "outcome": outcome,
            "bunt": bunt,
            "check_swing": checked & ~bunt,
            "hitter_side": bats_right.astype(np.int64),
            "pitcher_hand": 1 - left.astype(np.int64),
            "pitch_kind": np.where(intentional, -1, pitches.kind),
        }
        self._places(row, pitches, intentional)
        self._contact(row, pitches, talents, same_hand, form)

    def _places(self, row: Columns, pitches: Pitches, intentional: Flags) -> None:
        hitter = row["hitter"]
        extension = self.pitchers.extension_ft[row["pitcher"]] + 0.15 * self.rng.standard_normal(len(hitter))
        for name, values in (
            ("speed_mph", pitches.speed_mph),
            ("extension_ft", extension),
            ("inside_in", HALF_PLATE_IN * pitches.across),
            ("height_in", self.middle_in[hitter] + self.half_in[hitter] * pitches.up),
        ):
            row[name] = np.where(intentional, np.nan, np.round(values, 1))

    def _contact(
        self, row: Columns, pitches: Pitches, talents: NDArray[np.float64], same_hand: Flags, form: Any
    ) -> None:
        """Fill exit speed, launch, spray and the side of fouls."""
        rng, outcome, number = self.rng, row["outcome"], len(row["outcome"])
        measured = {name: np.full(number, np.nan) for name in ("exit_mph", "launch_deg", "spray_deg")}
        sides = np.full(number, -1)
        touched = np.flatnonzero((outcome == _FOUL) | (outcome == _IN_PLAY))
        some = Pitches(
            pitches.kind[touched],
            pitches.speed_mph[touched],
            pitches.across[touched],
            pitches.up[touched],
            pitches.hard_to_hit[touched],
        )
        made = contact(
            talents[:, touched],
            some,
            row["strikes"][touched],
            same_hand[touched],
            form[touched],
            self.effects,
        )
        normals = rng.standard_normal((5, len(touched)))
        ball = strike_ball(made, talents[_LIFT, touched], normals)
        foul = outcome[touched] == _FOUL
        sides[touched[foul]] = foul_sides(made, normals[1])[foul]
        bunt = row["bunt"][touched]
        draws = rng.random((2, len(touched)))
        ball.exit_mph[bunt] = np.round(24 + 28 * draws[0][bunt], 1)
        ball.launch_deg[bunt] = np.round(-55 + 50 * draws[1][bunt], 1)
        measured["exit_mph"][touched[~foul]] = ball.exit_mph[~foul]
        measured["launch_deg"][touched[~foul]] = ball.launch_deg[~foul]
        measured["spray_deg"][touched[~foul]] = ball.spray_deg[~foul]
        row |= measured
        row["foul_side"] = sides

    def _plays(self, game: Whole, row: Columns) -> Whole:
        """Play that ends the plate appearance, -1 where it goes on; hides unmeasured balls."""
        outcome, strikes, balls = row["outcome"], row["strikes"], row["balls"]
        play = np.full(len(game), -1)
        strike = (outcome == _CALLED) | (outcome == _WHIFF) | (outcome == _TIP)
        play[strike & (strikes == 2)] = _STRIKEOUT
        wide = (outcome == _BALL) | (outcome == _INTENTIONAL)
        play[wide & (balls == 3)] = _WALK
        play[outcome == _HIT_HITTER] = _BY_PITCH
        hit = np.flatnonzero(outcome == _IN_PLAY)
        draws = self.rng.random((5, len(hit)))
        ball = BallOffBat(*(row[name][hit] for name in ("exit_mph", "launch_deg", "spray_deg")))
        plays = field(ball, row["bases"][hit], row["outs"][hit], draws)
        bunt = row["bunt"][hit]
        plays[bunt] = bunt_plays(row["bases"][hit][bunt], draws[0][bunt])
        play[hit] = plays
        hidden = hit[draws[4] < self.effects.unmeasured]
        row["exit_mph"][hidden] = np.nan
        row["launch_deg"][hidden] = np.nan
        return play

    def _settle(self, game: Whole, bat: Whole, row: Columns, play: Whole) -> None:
        """Move count, bases, outs, score, innings; end plate appearances and halves."""
        outcome = row["outcome"]
        ended = play >= 0
        row["result"] = np.where(ended, RESULT_OF_PLAY[play], -1)
        bases, outs = row["bases"], row["outs"]
        outs_after = outs + np.where(ended, OUTS[play, bases], 0)
        runs = np.where(ended & (outs_after < 3), RUNS[play, bases], 0)
        # The winning run ends the game, so only as many runs count as are needed; a home run counts whole.
        lead = row["score_fielding"] - row["score_hitting"]
        last_licks = (bat == 1) & (row["inning"] >= SCHEDULED_INNINGS)
        runs = np.where(last_licks & (play != _HOME_RUN), np.minimum(runs, lead + 1), runs)
        row["runs"] = runs
        self.score[game, bat] += runs

        wide = (outcome == _BALL) | (outcome == _INTENTIONAL)
        strike = (outcome == _CALLED) | (outcome == _WHIFF) | (outcome == _TIP)
        strike |= (outcome == _FOUL) & (row["strikes"] < 2)
        self.balls[game] += wide & ~ended
        self.strikes[game] += strike & ~ended
        self.whiffed[game] = np.where(
            (outcome == _WHIFF) & ~row["bunt"],
            1,
            np.where((outcome == _FOUL) | (outcome == _TIP), 0, self.whiffed[game]),
        )
        self.fresh[game] = ended
        self.bases[game] = np.where(ended, NEXT_BASES[play, bases], bases)
        self.seconds[game] += 20 * ended

        side_out = game[outs_after >= 3]
        self.outs[game] = np.where(outs_after >= 3, 0, outs_after)
        self.bases[side_out] = 0
        self.seconds[side_out] += 125
        self.inning[side_out] += self.half[side_out]
        self.half[side_out] = 1 - self.half[side_out]

        third = outs_after >= 3
        margin = self.score[game, 1] - self.score[game, 0]
        decided = ((margin > 0) & ((bat == 1) | third)) | (third & (bat == 1) & (margin != 0))
        self.over[game] = (row["inning"] >= SCHEDULED_INNINGS) & decided


def _outcomes(chance: Chances, swing: Flags, draws: Floats) -> Whole:
    """Decide what pitches become, in the order of ``OUTCOMES``; draws of shape (4, n)."""
    swung = np.where(
        draws[1] < chance.whiff,
        _WHIFF,
        np.where(
            draws[3] < chance.foul * FOUL_TIP_SHARE, _TIP, np.where(draws[3] < chance.foul, _FOUL, _IN_PLAY)
        ),
    )
    taken = np.where(
        draws[1] < chance.hits_hitter, _HIT_HITTER, np.where(draws[3] < chance.called_strike, _CALLED, _BALL)
    )
    return np.where(swing, swung, taken)


def play(
    games: Games, hitters: Hitters, pitchers: Pitchers, effects: Effects, rng: np.random.Generator
) -> Columns:
    """Play all games to their end.

    Returns
    -------
    Columns of numbers over pitches, game by game in order of play. Words are indices into the
    schema's lists, -1 where there is none; ``hitter``, ``pitcher`` and ``game`` count from 0.
    """
    season = _Season(games, hitters, pitchers, effects, rng)
    going = np.arange(len(games.date))
    steps: list[Columns] = []
    while len(going):
        steps.append(season.one_pitch(going))
        going = going[~season.over[going]]
    table = {name: np.concatenate([step[name] for step in steps]) for name in steps[0]}
    # Steps hold their games in rising order, so a stable sort keeps the order of play.
    order = np.argsort(table["game"], kind="stable")
    return {name: column[order] for name, column in table.items()}
