"""Puts the open pitches back in order: games, plate appearances, pitches, outs.

The file has the pitches by clock time, and the clock is wrong in places. The number of the
plate appearance in the game is right throughout, so that it leads and the clock only orders
the pitches inside a plate appearance.
"""

from __future__ import annotations

from collections.abc import Iterable

import pandas as pd

from hitlab.pitches.schema import BALL_OUTCOMES, ENDING_OUTCOMES, STRIKE_OUTCOMES

__all__ = ["in_order", "outs_before"]

# Pitches of one game are at most 94 minutes apart in the file, and games at least 92 hours.
_PAUSE = pd.Timedelta(hours=4)

# The clock is universal time. Every first pitch falls on the same calendar day whichever of the
# four mainland zones (4 to 7 hours behind in summer) is taken; a test holds this.
_BEHIND = pd.Timedelta(hours=7)

# Outs that a result accounts for at most; a plate appearance with more saw a runner put out,
# nobody knows on which pitch.
_OUTS_MADE = {
    "strikeout": 1,
    "out": 1,
    "double play": 2,
    "fielder's choice": 1,
    "sacrifice fly": 1,
    "sacrifice bunt": 1,
    "": 1,
}


def closing(outcomes: Iterable[str], bunts: Iterable[bool]) -> int | None:
    """Place of the pitch that ended a plate appearance, from 0; None where no pitch did.

    Parameters
    ----------
    outcomes, bunts
        Of the pitches of one plate appearance, in their order.

    Returns
    -------
    int or None
        Place of the first ball in play, hit by pitch, interference of the catcher, fourth ball or
        third strike.
    """
    balls = strikes = 0
    for place, (outcome, bunt) in enumerate(zip(outcomes, bunts, strict=True)):
        if outcome in ENDING_OUTCOMES:
            return place
        if outcome in BALL_OUTCOMES:
            balls += 1
        elif outcome in STRIKE_OUTCOMES or (outcome == "foul" and (strikes < 2 or bunt)):
            strikes += 1
        if balls == 4 or strikes == 3:
            return place
    return None


def in_order(moment: pd.Series, number: pd.Series, outcome: pd.Series, bunt: pd.Series) -> pd.DataFrame:
    """Order the pitches and number them.

    Parameters
    ----------
    moment
        Clock time of each pitch, universal time.
    number
        Number of the plate appearance in the game.
    outcome, bunt
        What the pitch became, in our words, and whether it was a bunt attempt (of pitches
        that were not hit into play; of the others it changes nothing here).

    Returns
    -------
    pandas.DataFrame
        Rows in the true order, the index still that of ``moment``: ``game`` ("game 01", ...),
        ``date`` (the day the game began, ISO text), ``plate_appearance``, ``pitch`` (from 1),
        ``last`` (the last pitch of its plate appearance), ``moved`` (the clock put it after
        the pitch that ended its plate appearance).
    """
    by_clock = moment.sort_values(kind="stable")
    game = (by_clock.diff() > _PAUSE).cumsum() + 1
    frame = pd.DataFrame({"moment": by_clock, "game": game, "plate_appearance": number, "outcome": outcome})
    frame["bunt"] = bunt
    frame = frame.sort_values(["game", "plate_appearance", "moment"], kind="stable")
    frame["moved"] = False
    order: list[object] = []
    late: list[object] = []
    for _, one in frame.groupby(["game", "plate_appearance"], sort=False):
        labels = list(one.index)
        end = closing(one["outcome"], one["bunt"])
        if end is not None and end < len(labels) - 1:
            # Nothing follows the pitch that ends a plate appearance: what the clock puts after
            # it came before. Where before is not known; the nearest place is taken.
            late.extend(labels[end + 1 :])
            labels = [*labels[:end], *labels[end + 1 :], labels[end]]
        order.extend(labels)
    frame = frame.loc[order]
    frame.loc[late, "moved"] = True
    began = frame.groupby("game")["moment"].transform("min") - _BEHIND
    keys = [frame["game"], frame["plate_appearance"]]
    return pd.DataFrame(
        {
            "game": frame["game"].map(lambda which: f"game {which:02d}"),
            "date": began.dt.strftime("%Y-%m-%d"),
            "plate_appearance": frame["plate_appearance"],
            "pitch": frame.groupby(keys).cumcount() + 1,
            "last": ~pd.DataFrame({"g": frame["game"], "n": frame["plate_appearance"]}).duplicated(
                keep="last"
            ),
            "moved": frame["moved"],
        }
    )


def outs_before(keys: pd.DataFrame, inning: pd.Series, outs_after: pd.Series, result: pd.Series) -> pd.Series:
    """Outs before each pitch, from a column that holds the outs after the plate appearance.

    Parameters
    ----------
    keys
        What :func:`in_order` returned.
    inning, outs_after
        Inning, and outs when the plate appearance was over.
    result
        Our word for how the plate appearance ended, on its last pitch; ``""`` where a runner
        ended the inning.

    Returns
    -------
    pandas.Series
        0, 1 or 2 (``Int64``), the same on all pitches of a plate appearance. Missing where it
        ended with more outs than its result accounts for: a runner was put out during it, or
        the plate appearance before it is not in the file.
    """
    whole = keys.assign(inning=inning, after=outs_after, result=result)
    one = whole.loc[whole["last"]]
    before = one.groupby(["game", "inning"])["after"].shift().fillna(0).astype("Int64")
    made = one["after"] - before
    known = made <= one["result"].map(_OUTS_MADE).fillna(0)
    one = one.assign(before=before.where(known))
    spread = whole.reset_index().merge(
        one[["game", "plate_appearance", "before"]], on=["game", "plate_appearance"], validate="many_to_one"
    )
    return spread.set_index("index")["before"].reindex(keys.index)
