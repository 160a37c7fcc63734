"""Columns of a pitch table held against each other.

A contradiction sets no row aside: which of two columns is wrong, only the person who charted the
game can say. Every check runs only where its columns are present, and only on the rows that have
them filled. What each check asks follows the Official Baseball Rules' definitions of terms.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pandas as pd

from hitlab.names import fold
from hitlab.pitches.coded import Coded, Finding, distinct, looked_through_once, texts_of, wholes
from hitlab.pitches.counting import KeyOrder, key_order
from hitlab.pitches.rosters import number_in
from hitlab.pitches.schema import (
    BALL_OUTCOMES,
    EITHER_OUTCOMES,
    ENDING_OUTCOMES,
    NOT_IN_PLAY_RESULTS,
    RESULTS,
    RUNNERS,
    STRIKE_OUTCOMES,
    SWING_OUTCOMES,
    TOUCHED_OUTCOMES,
)
from hitlab.pitches.sense import (
    Played,
    count_steps,
    out_of_turn,
    too_many_outs,
    uncounted,
    vanished,
)

__all__ = ["CHECKS", "contradictions", "find"]

CHECKS = {
    "count": "the count against the pitches before it",
    "swing flag": "the source's swing flag against the outcome",
    "ending": "the result against the last pitch of the plate appearance",
    "dates": "one game on one day; the day after is let pass, for games that cross midnight",
    "names": "one hitter_id, one name",
    "clubs": "one name, one club, where there are no ids",
    "pitcher": "nobody hits what he pitches",
    "side": "one side of the plate in a plate appearance",
    "outs and bases": "outs, bases, result and runs that can stand together, and follow each other",
    "balls and strikes": "four balls and three strikes, where no column tells the count",
    "order of hitters": "nobody up again before the batting order has gone round",
    "exit speed": "a speed off the bat only where the bat met the ball",
    "hard": "a ball hit hard only where the bat met the ball",
}
"""Name of each check and what it holds against what."""

_IN_PLAY_RESULTS = tuple(word for word in RESULTS if word not in NOT_IN_PLAY_RESULTS)


def contradictions(table: Any) -> pd.DataFrame:
    """Hold the columns of a checked pitch table against each other.

    Parameters
    ----------
    table
        A pitch table with the project's own names and words, of any kind that
        :func:`hitlab.read_pitches` takes.

    Returns
    -------
    pandas.DataFrame
        ``check`` (one of :data:`CHECKS`), ``row`` (1-based place in the table), ``columns`` (held
        against each other) and ``what`` (in words); one line a contradiction, in the order of
        the checks and then of the rows.

    Examples
    --------
    >>> pitches = pd.DataFrame(
    ...     {"game": "g1", "plate_appearance": 1, "pitch": [1, 2], "hitter": "Ada Velm"}
    ...     | {"outcome": ["whiff", "foul"], "balls": [0, 0], "strikes": [0, 0]}
    ... )
    >>> print(contradictions(pitches)[["check", "row", "what"]].to_string(index=False))
    check  row                                  what
    count    2 0-0, but after whiff at 0-0 it is 0-1
    """
    from hitlab.pitches.opening import demand_here
    from hitlab.pitches.sources import checked_to_pandas

    demand_here(table, "a search for contradictions")
    frame = checked_to_pandas(table)[0].reset_index(drop=True)
    return find(frame, key_order(frame))


def find(
    frame: pd.DataFrame, order: KeyOrder | None, played: Played | None = None, swing: pd.Series | None = None
) -> pd.DataFrame:
    """:func:`contradictions` of a pandas frame, with a source's own swing flag where there is one.

    Parameters
    ----------
    frame
        The rows.
    order
        Their order by the key, where they have one.
    played
        The order of play that rows without a key show, if they show one; what follows from what is checked
        by the one or the other, or not at all.
    swing
        The flag.
    """
    checks, rows, columns, whats = [], [np.zeros(0, dtype=np.int64)], [], []
    with looked_through_once():
        for check, places, against, what in _all(frame, swing, order, played):
            many = len(places)
            checks += [check] * many
            rows.append(np.asarray(places, dtype=np.int64) + 1)
            columns += [against] * many
            whats += [what] * many if isinstance(what, str) else list(what)
    row = np.concatenate(rows)
    ranks = {name: place for place, name in enumerate(CHECKS)}
    sorting = np.lexsort((row, np.array([ranks[check] for check in checks], dtype=np.int64)))
    told = {
        name: np.array(texts, dtype=object)[sorting]
        for name, texts in (("check", checks), ("columns", columns), ("what", whats))
    }
    return pd.DataFrame(
        {"check": told["check"], "row": row[sorting], "columns": told["columns"], "what": told["what"]}
    )


def _all(
    frame: pd.DataFrame, swing: pd.Series | None, order: KeyOrder | None, played: Played | None
) -> Iterator[Finding]:
    pitches = order if order is not None or played is None else played.order
    turns = order if order is not None or played is None or not played.in_turn else played.order
    if pitches is not None:
        yield from _count(frame, pitches)
    if order is None:
        yield from _count_after(frame)
    if pitches is not None and not {"balls", "strikes"} <= set(frame) and "result" in frame:
        yield from uncounted(frame, pitches)
    if turns is not None:
        yield from too_many_outs(frame, turns)
        yield from out_of_turn(frame, turns)
        yield from vanished(frame, turns)
    if swing is not None:
        yield from _swing_flag(frame, swing)
    if "result" in frame:
        yield from _result_rows(frame)
        if order is not None:
            yield from _not_last(frame, order)
    if {"game", "date"} <= set(frame):
        yield from _dates(frame)
    if "hitter_id" in frame:
        yield from _names(frame)
    elif "club" in frame:
        yield from _clubs(frame)
    if "pitcher" in frame:
        yield from _own_pitcher(frame)
    if order is not None and "hitter_side" in frame:
        yield from _side(frame, order)
    yield from _outs_and_bases(frame)
    if order is not None and {"outs", "inning", "half"} <= set(frame):
        yield from _outs_fall(frame, order)
    yield from _not_hit(frame)


def _flags(frame: pd.DataFrame, name: str) -> np.ndarray:
    """Give a flag column as plain booleans; a missing flag is false."""
    if name not in frame:
        return np.zeros(len(frame), dtype=bool)
    return np.asarray(frame[name].astype("boolean").fillna(False).to_numpy(dtype=bool))


def _count(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Check that the count before a pitch follows from the pitch before it."""
    if not {"balls", "strikes"} <= set(frame):
        return
    outcome = Coded(frame, "outcome", order)
    steps = count_steps(frame, order)
    balls, strikes = steps.balls, steps.strikes
    at = np.flatnonzero(steps.late)
    what = [f"{balls[i]:.0f}-{strikes[i]:.0f} before the first pitch" for i in at]
    yield "count", order.places[at], "balls, strikes", what
    at = np.flatnonzero(steps.ahead | steps.back)
    what = []
    for i in at:
        b, s = steps.after_balls[i - 1], steps.after_strikes[i - 1]
        after = "over" if b > 3 or s > 2 else f"{b:.0f}-{s:.0f}"
        before = f"{outcome.text(i - 1)} at {balls[i - 1]:.0f}-{strikes[i - 1]:.0f}"
        what.append(f"{balls[i]:.0f}-{strikes[i]:.0f}, but after {before} it is {after}")
    yield "count", order.places[at], "balls, strikes, outcome", what


# Nearly half of the balls come at no balls before, and nearly half of the strikes at no strikes.
_FEWEST = 20
_HARDLY = 0.05


def _count_after(frame: pd.DataFrame) -> Iterator[Finding]:
    """Where no key orders the pitches: hardly a ball at no balls, nor a strike at no strikes."""
    if not {"balls", "strikes"} <= set(frame):
        return
    became, balls, strikes = Coded(frame, "outcome").among, wholes(frame, "balls"), wholes(frame, "strikes")
    ball = became(BALL_OUTCOMES) & ~np.isnan(balls)
    strike = became(STRIKE_OUTCOMES) & ~np.isnan(strikes)
    for number in (balls[ball], strikes[strike]):
        # Pitches that were picked by their count have but one.
        if len(number) < _FEWEST or (number == 0).mean() > _HARDLY or len(np.unique(number[number > 0])) < 2:
            return
    what = "hardly a ball at no balls, nor a strike at no strikes: the count seems to be that after the pitch"
    yield "count", np.flatnonzero(ball | strike), "balls, strikes, outcome", what


def _swing_flag(frame: pd.DataFrame, swing: pd.Series) -> Iterator[Finding]:
    """Bunts and interference are left out: sources differ in whether they call them swings."""
    outcome = Coded(frame, "outcome")
    judged = ~_flags(frame, "bunt") & ~outcome.among(EITHER_OUTCOMES)
    judged &= swing.notna().to_numpy()
    said = swing.fillna(False).to_numpy(dtype=bool)
    wrong = np.flatnonzero(judged & (said != outcome.among(SWING_OUTCOMES)))
    what = [
        f"flagged as {'a' if said[i] else 'no'} swing, but the outcome is {outcome.text(i)}" for i in wrong
    ]
    yield "swing flag", wrong, "swing, outcome", what


def _result_rows(frame: pd.DataFrame) -> Iterator[Finding]:
    """Hold result, outcome and count of one row against each other."""
    outcome, result = Coded(frame, "outcome"), Coded(frame, "result")
    became, ended = outcome.among, result.among
    balls, strikes = wholes(frame, "balls"), wholes(frame, "strikes")
    bunt = _flags(frame, "bunt")
    # Where bunts are not charted, a foul may have been the bunt that is the third strike.
    third = became(STRIKE_OUTCOMES) | (became(("foul",)) & (bunt | ("bunt" not in frame)))
    fits = {
        "strikeout": third,
        "walk": became(BALL_OUTCOMES),
        "hit by pitch": became(("hit by pitch",)),
        "catcher's interference": became(("catcher's interference",)),
        **dict.fromkeys(_IN_PLAY_RESULTS, became(("in play",))),
    }
    clash = np.zeros(len(frame), dtype=bool)
    for word, fit in fits.items():
        clash |= ended((word,)) & ~fit
    places = np.flatnonzero(clash)
    yield (
        "ending",
        places,
        "result, outcome",
        [f"{result.text(i)} on the outcome {outcome.text(i)}" for i in places],
    )
    early = ~clash & ended(("strikeout",)) & (strikes < 2)
    # An intentional walk may be signalled at any count.
    early |= ~clash & ended(("walk",)) & (balls < 3) & ~became(("intentional ball",))
    places = np.flatnonzero(early)
    count = [f"{balls[i]:.0f}-{strikes[i]:.0f}".replace("nan", "?") for i in places]
    what = [f"{result.text(i)} on {outcome.text(i)} at {at}" for i, at in zip(places, count, strict=True)]
    yield "ending", places, "result, balls, strikes", what
    ends = became(ENDING_OUTCOMES)
    full = became(BALL_OUTCOMES) & (balls == 3)
    full |= (became(STRIKE_OUTCOMES) | (became(("foul",)) & bunt)) & (strikes == 2)
    # Where the chart never says strikeout or walk, a blank there is its way, and speaks of no count.
    of_count = "result, outcome, balls, strikes" if ended(("strikeout", "walk")).any() else "result, outcome"
    for over, columns in ((ends, "result, outcome"), (full & ~ends, of_count)):
        places = np.flatnonzero(over & ended(("",)))
        what = [f"{outcome.text(i)} ends the plate appearance, but it has no result" for i in places]
        yield "ending", places, columns, what


def _not_last(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Check that a result stands on the last pitch only and nothing follows an ending."""
    outcome, result = (Coded(frame, name, order) for name in ("outcome", "result"))
    at = np.flatnonzero(~result.among(("",)) & ~order.last)
    what = [f"{result.text(i)} stands on pitch {order.pitch[i]}, which is not the last" for i in at]
    yield "ending", order.places[at], "result, pitch", what
    at = np.flatnonzero(outcome.among(ENDING_OUTCOMES) & result.among(("",)) & ~order.last)
    what = [f"pitch {order.pitch[i]} is {outcome.text(i)}, and another pitch follows" for i in at]
    yield "ending", order.places[at], "outcome, pitch", what


def _dates(frame: pd.DataFrame) -> Iterator[Finding]:
    places = np.flatnonzero((frame["game"].notna() & frame["date"].notna()).to_numpy())
    if not places.size:
        return
    code, games = texts_of(frame["game"])
    code = code[places]
    day = pd.to_datetime(frame["date"].iloc[places]).to_numpy().astype("datetime64[us]")
    by_game = np.argsort(code, kind="stable")
    begins = np.flatnonzero(np.diff(code[by_game], prepend=-1))
    first = np.full(len(games), day.max())
    first[code[by_game[begins]]] = np.minimum.reduceat(day[by_game], begins)
    late = np.flatnonzero(day - first[code] > np.timedelta64(1, "D"))
    what = [
        f"game {games[code[i]]} began on {first[code[i]].item():%Y-%m-%d}, this pitch is of "
        f"{day[i].item():%Y-%m-%d}: a suspended game, or two games under one name"
        for i in late
    ]
    yield "dates", places[late], "game, date", what


def _names(frame: pd.DataFrame) -> Iterator[Finding]:
    """Find the first row of each further name of one id."""
    pairs = distinct(frame, ["hitter_id", "hitter"])
    first = pairs.groupby("hitter_id")["hitter"].transform("first")
    other = pairs[(pairs["hitter"] != first).to_numpy()]
    what = [
        f"hitter_id {one} is called {name} here and {before} before"
        for one, name, before in zip(other["hitter_id"], other["hitter"], first[other.index], strict=True)
    ]
    yield "names", other.index.to_numpy(), "hitter_id, hitter", what


def _clubs(frame: pd.DataFrame) -> Iterator[Finding]:
    """Find the first row of each further club of one name: two people if in one game, else perhaps."""
    same_game = "game" in frame
    group = ["game", "hitter"] if same_game else ["hitter"]
    in_game = pd.Index([])
    if same_game:
        pairs = distinct(frame, [*group, "club"])
        first = pairs.groupby(group)["club"].transform("first")
        other = pairs[(pairs["club"] != first).to_numpy()]
        in_game = other.index
        what = [
            f"{name} hits for {club} and for {before} in game {game}: two people of one name. Give them ids"
            for name, club, before, game in zip(
                other["hitter"], other["club"], first[other.index], other["game"], strict=True
            )
        ]
        yield "clubs", in_game.to_numpy(), "hitter, club, game", what
    pairs = distinct(frame, ["hitter", "club"])
    first = pairs.groupby("hitter")["club"].transform("first")
    other = pairs[(pairs["club"] != first).to_numpy()]
    other = other[~other.index.isin(in_game)]
    what = [
        f"{name} hits for {club} here and for {before} before: one who moved, or two people of one name"
        for name, club, before in zip(other["hitter"], other["club"], first[other.index], strict=True)
    ]
    yield "clubs", other.index.to_numpy(), "hitter, club", what


def _own_pitcher(frame: pd.DataFrame) -> Iterator[Finding]:
    """Find rows whose hitter is their pitcher; numbers alone may be worn in both clubs."""
    hitter, pitcher = Coded(frame, "hitter"), Coded(frame, "pitcher")
    codes: dict[str, int] = {}
    places = []
    for column in (hitter, pitcher):
        names = [-1 if number_in(name) else codes.setdefault(fold(name), len(codes)) for name in column.found]
        places.append(np.array([*names, -1])[column.codes])
    same = (places[0] == places[1]) & (places[0] >= 0)
    if {"hitter_id", "pitcher_id"} <= set(frame) and same.any():
        ids = frame[["hitter_id", "pitcher_id"]]
        same &= ~((ids["hitter_id"] != ids["pitcher_id"]) & ids.notna().all(axis=1)).to_numpy(bool)
    at = np.flatnonzero(same)
    yield "pitcher", at, "hitter, pitcher", [f"{hitter.text(i)} hits, and pitches as well" for i in at]


def _side(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    side, hitter = (Coded(frame, name, order) for name in ("hitter_side", "hitter"))
    told = ~side.among(("",))
    changes = ~order.first[1:] & (side.codes[1:] != side.codes[:-1]) & told[1:] & told[:-1]
    # Another hitter may come in at mid-count, and from the other side.
    at = np.flatnonzero(changes & (hitter.codes[1:] == hitter.codes[:-1])) + 1
    what = [
        f"{hitter.text(i)} stands on the {side.text(i)}, a pitch before on the {side.text(i - 1)}" for i in at
    ]
    yield "side", order.places[at], "hitter_side", what


def _outs_and_bases(frame: pd.DataFrame) -> Iterator[Finding]:
    """Outs, bases, result and runs within one row."""
    ended = Coded(frame, "result").among
    outs, runs = wholes(frame, "outs"), wholes(frame, "runs")
    runners = Coded(frame, "bases").valued(RUNNERS)
    for word, most in (("double play", 1), ("sacrifice fly", 1), ("sacrifice bunt", 1)):
        places = np.flatnonzero(ended((word,)) & (outs > most))
        yield "outs and bases", places, "result, outs", f"{word} with two outs already"
    for word in ("double play", "sacrifice fly", "sacrifice bunt", "fielder's choice"):
        places = np.flatnonzero(ended((word,)) & (runners == 0))
        yield "outs and bases", places, "result, bases", f"{word} with the bases empty"
    places = np.flatnonzero(runs > runners + 1)
    what = [f"{runs[i]:.0f} runs with {runners[i]:.0f} on base" for i in places]
    yield "outs and bases", places, "runs, bases", what
    places = np.flatnonzero(ended(("home run",)) & (runs != runners + 1) & ~np.isnan(runs + runners))
    places = places[runs[places] < runners[places] + 1]
    what = [f"home run with {runners[i]:.0f} on base, but {runs[i]:.0f} runs" for i in places]
    yield "outs and bases", places, "runs, bases, result", what


def _outs_fall(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Within a half-inning the outs never fall."""
    outs, inning = (order.of(wholes(frame, name)) for name in ("outs", "inning"))
    half = Coded(frame, "half", order)
    same = (order.game[1:] == order.game[:-1]) & (inning[1:] == inning[:-1])
    same &= half.codes[1:] == half.codes[:-1]
    at = np.flatnonzero(same & ~half.among(("",))[1:] & (outs[1:] < outs[:-1])) + 1
    what = [
        f"{outs[i]:.0f} out(s) after {outs[i - 1]:.0f} in the {half.text(i)} of inning {inning[i]:.0f}"
        for i in at
    ]
    yield "outs and bases", order.places[at], "outs, inning, half", what


def _not_hit(frame: pd.DataFrame) -> Iterator[Finding]:
    """Find speeds off the bat, and ticks for hard, on pitches that nobody hit.

    A radar follows a foul tip, which the bat met, and the ball that an interfering catcher deflects. Where a
    table has no foul tips they may stand among its whiffs, so that a whiff with a speed may be one.
    """
    outcome = Coded(frame, "outcome")
    tips = outcome.among(("foul tip",)).any()
    met = outcome.among(TOUCHED_OUTCOMES)
    met |= outcome.among(("whiff",)) & ~tips
    met |= ~outcome.filled
    for check, column, told in (
        ("exit speed", "exit_mph", "has a speed off the bat"),
        ("hard", "hard", "is called hit hard"),
    ):
        if column not in frame:
            continue
        there = _flags(frame, column) if column == "hard" else frame[column].notna().to_numpy()
        places = np.flatnonzero(there & ~met)
        what = [f"{outcome.text(i)} {told}" for i in places]
        yield check, places, f"{column}, outcome", what
