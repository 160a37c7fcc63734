"""What cannot follow: a fifth ball, a fourth out, a hitter out of turn, a runner that vanished.

The rules are those of the Official Baseball Rules, from memory: four balls and three strikes end a plate
appearance, three outs a half-inning; the hitters follow each other in the batting order; and whoever batted
is out, has scored or is on base. A strikeout whose third strike is not caught leaves no out, so that
a fourth strikeout of a half-inning is not held against it. Nothing is changed, and only pitches that follow
each other without a gap are held against each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pandas as pd

from hitlab.pitches.counting import KeyOrder
from hitlab.pitches.schema import BALL_OUTCOMES, ENDING_OUTCOMES, STRIKE_OUTCOMES

__all__ = ["numbers_of", "order_of_play", "out_of_turn", "too_many_outs", "uncounted", "vanished"]

Finding = tuple[str, np.ndarray, str, Any]
"""Check, places (from 0), columns, and one text for all places or one for each."""

_OUTS = {"out": 1, "double play": 2, "sacrifice fly": 1, "sacrifice bunt": 1}
"""Outs that a result makes for sure; of a fielder's choice nobody may have been out."""

_IN_ORDER = 9  # hitters in a batting order
_RUNNERS = {
    "empty": 0,
    "first": 1,
    "second": 1,
    "third": 1,
    "first second": 2,
    "first third": 2,
    "second third": 2,
    "full": 3,
}


def order_of_play(frame: pd.DataFrame, gap: np.ndarray) -> KeyOrder | None:
    """Tell the plate appearances of a table in the order of play that has no numbers for them.

    A plate appearance ends with its result, and where another hitter, inning or game begins. The rows are
    taken to be in the order of play in games whose innings never fall.

    Parameters
    ----------
    frame
        The rows kept.
    gap
        For each of them whether a row that was set aside stands before it: such a plate appearance is left
        out.

    Returns
    -------
    KeyOrder or None
        None where there is no game, inning or result.
    """
    if not {"game", "inning", "result"} <= set(frame) or not len(frame):
        return None
    inning = frame["inning"].astype("Float64").to_numpy(dtype=np.float64, na_value=np.nan)
    game = pd.factorize(frame["game"])[0]
    hitter = pd.factorize(frame["hitter"])[0]
    ended = frame["result"].notna().to_numpy()
    begins = np.ones(len(frame), dtype=bool)
    begins[1:] = ended[:-1] | (hitter[1:] != hitter[:-1]) | (game[1:] != game[:-1])
    begins[1:] |= inning[1:] != inning[:-1]
    appearance = np.cumsum(begins) - 1
    left_out = np.zeros(int(appearance[-1]) + 1, dtype=bool)
    left_out[appearance[gap]] = True  # a pitch of it, or its first one, may be missing
    before = appearance[1:][gap[1:] & begins[1:]] - 1
    left_out[before] = True
    broken = game < 0
    falls = np.flatnonzero((game[1:] == game[:-1]) & ~(inning[1:] >= inning[:-1])) + 1
    broken |= np.isin(game, game[falls])
    again = pd.Series(game[np.flatnonzero(np.append(True, game[1:] != game[:-1]))])
    broken |= np.isin(game, again[again.duplicated()].to_numpy())  # a game in two places of the table
    places = np.flatnonzero(~broken & ~left_out[appearance])
    if not places.size:
        return None
    first = begins[places]
    start = np.flatnonzero(begins)[appearance[places]]
    last = np.append(begins[1:], True)[places]
    kept = np.cumsum(first) - 1
    return KeyOrder(places, first, last, places - start + 1, kept, pd.factorize(game[places])[0])


def numbers_of(frame: pd.DataFrame, order: KeyOrder) -> np.ndarray:
    """Give for each pitch in an order the number of its plate appearance, by which gaps show.

    Parameters
    ----------
    frame
        The table.
    order
        Its order.
    """
    if "plate_appearance" in frame and frame["plate_appearance"].notna().to_numpy()[order.places].all():
        return _wholes(frame, "plate_appearance", order)
    # Without numbers: those that stand one after the other in the table are counted on, others are far off.
    jumps = np.zeros(len(order.places), dtype=np.int64)
    jumps[1:] = order.first[1:] + (np.diff(order.places) != 1) * 1000
    return np.cumsum(jumps).astype(np.float64)


class _Coded:
    """A column of text in the order of play, each text once and where it stands."""

    def __init__(self, frame: pd.DataFrame, name: str, order: KeyOrder) -> None:
        if name in frame:
            codes, found = pd.factorize(frame[name])
            self.codes, self.found = codes[order.places], [str(text) for text in found]
        else:
            self.codes, self.found = np.full(len(order.places), -1), []

    def among(self, words: tuple[str, ...]) -> np.ndarray:
        """Say where some words stand."""
        flags = np.array([*(text in words for text in self.found), False], dtype=bool)
        return np.asarray(flags[self.codes])

    def valued(self, values: dict[str, int], missing: float = np.nan) -> np.ndarray:
        """Give a number for each word."""
        numbers = [float(values.get(text, missing)) for text in self.found]
        return np.asarray(np.array([*numbers, missing])[self.codes])

    def text(self, at: Any) -> str:
        """Text of one row."""
        code = int(self.codes[at])
        return "" if code < 0 else self.found[code]

    @property
    def filled(self) -> np.ndarray:
        """Say where anything stands."""
        return np.asarray(self.codes >= 0)


def _wholes(frame: pd.DataFrame, name: str, order: KeyOrder) -> np.ndarray:
    column = frame[name]
    if not column.isna().any():
        return np.asarray(column.to_numpy(dtype=np.float64)[order.places])
    numbers = column.astype("Float64").to_numpy(dtype=np.float64, na_value=np.nan)
    return np.asarray(numbers[order.places])


def uncounted(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Count balls and strikes where no column does: a fifth ball, a strikeout without its third strike.

    Parameters
    ----------
    frame
        The table.
    order
        The order of its pitches.
    """
    outcome, result = (_Coded(frame, name, order) for name in ("outcome", "result"))
    bunt = np.zeros(len(order.places), dtype=bool)
    if "bunt" in frame:
        bunt = frame["bunt"].astype("boolean").fillna(False).to_numpy(dtype=bool)[order.places]
    ball, strike = outcome.among(BALL_OUTCOMES), outcome.among(STRIKE_OUTCOMES)
    foul = outcome.among(("foul",))
    balls = _before(ball, order)
    strikes = np.minimum(_before(strike | foul, order), 2)
    gap = np.where(order.first, order.pitch != 1, order.pitch != np.append(0, order.pitch[:-1] + 1))
    holed = np.zeros(int(order.appearance[-1]) + 1, dtype=bool)
    holed[order.appearance[gap]] = True
    whole = ~holed[order.appearance]
    third = (strikes == 2) & (strike | (foul & bunt))
    at = np.flatnonzero(whole & ball & (balls >= 4))
    what = [f"ball {balls[i] + 1} of a plate appearance" for i in at]
    yield "balls and strikes", order.places[at], "outcome", what
    over = (third | (ball & (balls == 3)) | outcome.among(ENDING_OUTCOMES)) & ~order.last & whole
    at = np.flatnonzero(over)
    what = [f"{outcome.text(i)} at {balls[i]}-{strikes[i]} ends it, and another pitch follows" for i in at]
    yield "balls and strikes", order.places[at], "outcome", what
    # Where bunts are not charted, a foul may have been the bunt that is the third strike.
    maybe = third | ((strikes == 2) & foul & ("bunt" not in frame))
    at = np.flatnonzero(whole & result.among(("strikeout",)) & ~maybe)
    what = [f"strikeout on {outcome.text(i)} after {strikes[i]} strike(s)" for i in at]
    yield "balls and strikes", order.places[at], "result, outcome", what
    # An intentional walk may be signalled at any count.
    early = result.among(("walk",)) & (balls < 3) & ~outcome.among(("intentional ball",))
    at = np.flatnonzero(whole & early)
    what = [f"walk on {outcome.text(i)} after {balls[i]} ball(s)" for i in at]
    yield "balls and strikes", order.places[at], "result, outcome", what


def _before(event: np.ndarray, order: KeyOrder) -> np.ndarray:
    total = np.cumsum(event) - event
    start = total[order.first][order.appearance]
    return np.asarray(total - start)


def too_many_outs(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Count the outs of a half-inning by the results.

    Parameters
    ----------
    frame
        The table; without ``half`` and ``club`` the two halves cannot be told apart.
    order
        The order of its pitches.
    """
    side = "half" if "half" in frame else "club" if "club" in frame else ""
    if not side or "result" not in frame or "inning" not in frame:
        return
    result, of = _Coded(frame, "result", order), _Coded(frame, side, order)
    inning = _wholes(frame, "inning", order)
    made = result.valued(_OUTS, 0.0)
    at = np.flatnonzero((made > 0) & ~np.isnan(inning) & of.filled)
    if not at.size:
        return
    group = (order.game[at] * 100 + inning[at].astype(np.int64)) * (len(of.found) + 1) + of.codes[at]
    by_group = np.argsort(group, kind="stable")
    begins = np.append(True, np.diff(group[by_group]) != 0)
    sums = np.cumsum(made[at][by_group])
    before = (sums - made[at][by_group])[begins]
    outs = np.empty(len(at))
    outs[by_group] = sums - before[np.cumsum(begins) - 1]
    over = np.flatnonzero(outs > 3)
    what = [
        f"{result.text(i)} makes out {made_so_far:.0f} of inning {inning[i]:.0f}, {of.text(i)}"
        for i, made_so_far in zip(at[over], outs[over], strict=True)
    ]
    yield "outs and bases", order.places[at[over]], f"result, inning, {side}", what


def out_of_turn(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Find hitters who come up again before the order of their game has gone round.

    Parameters
    ----------
    frame
        The table.
    order
        The order of its pitches.
    """
    result, club, name = (_Coded(frame, one, order) for one in ("result", "club", "hitter"))
    hitter = _Coded(frame, "hitter_id" if "hitter_id" in frame else "hitter", order).codes
    number = numbers_of(frame, order)
    ends = np.flatnonzero(order.last)
    # Plate appearances of one stretch follow each other without a gap.
    stretch = np.cumsum(np.append(True, np.diff(number[ends]) != 1))
    # Whoever was up when a runner made the third out begins the next inning: no plate appearance ended.
    ended = result.filled[ends]
    ends, stretch = ends[ended], stretch[ended]
    if not ends.size:
        return
    group = order.game[ends] * (len(club.found) + 1) + club.codes[ends]
    by_group = np.argsort(group, kind="stable")
    turn = np.empty(len(ends), dtype=np.int64)
    turn[by_group] = np.arange(len(ends))  # of one group: one after the other
    by_hitter = np.lexsort((turn, hitter[ends], group))
    one, next_ = by_hitter[:-1], by_hitter[1:]
    same = (group[one] == group[next_]) & (hitter[ends[one]] == hitter[ends[next_]])
    same &= stretch[one] == stretch[next_]
    again, gap = next_[same], (turn[next_] - turn[one])[same]
    if not again.size:
        return
    counted = pd.DataFrame({"group": group[again], "gap": gap}).value_counts(sort=True).reset_index()
    usual = counted.drop_duplicates("group").set_index("group")["gap"].clip(upper=_IN_ORDER)
    most = usual.loc[group[again]].to_numpy()
    early = np.flatnonzero(gap < most)
    early = early[np.argsort(again[early], kind="stable")]
    at = ends[again[early]]
    what = [
        f"{name.text(i)} is up again after {others - 1} other(s), and {usual_ - 1} are in between as a rule"
        for i, others, usual_ in zip(at, gap[early], most[early], strict=True)
    ]
    yield "order of hitters", order.places[at], "hitter, game", what


def vanished(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Hold the runners before a pitch and the hitter against the runners, outs and runs after it.

    Parameters
    ----------
    frame
        The table, with bases, outs, runs, inning and half.
    order
        The order of its pitches.
    """
    if not {"bases", "outs", "runs", "inning", "half"} <= set(frame):
        return
    runners = _Coded(frame, "bases", order).valued(_RUNNERS)
    outs, runs, inning = (_wholes(frame, name, order) for name in ("outs", "runs", "inning"))
    half, result = _Coded(frame, "half", order), _Coded(frame, "result", order)
    number = numbers_of(frame, order)
    same = (order.game[1:] == order.game[:-1]) & (inning[1:] == inning[:-1])
    same &= (half.codes[1:] == half.codes[:-1]) & half.filled[1:]
    one = ~order.first[1:] & (order.pitch[1:] == order.pitch[:-1] + 1)
    new = order.first[1:] & (order.pitch[1:] == 1) & (number[1:] == number[:-1] + 1) & result.filled[:-1]
    before = runners[:-1] + new
    after = runners[1:] + runs[:-1] + outs[1:] - outs[:-1]
    wrong = np.flatnonzero(same & (one | new) & ~np.isnan(before + after) & (before != after))
    what = [
        f"{runners[i]:.0f} on base{' and the hitter' if new[i] else ''} before, {runners[i + 1]:.0f} on "
        "base, "
        f"{outs[i + 1] - outs[i]:.0f} more out and {runs[i]:.0f} run(s) after: "
        f"{abs(before[i] - after[i]):.0f} {'vanished' if before[i] > after[i] else 'too many'}"
        for i in wrong
    ]
    yield "outs and bases", order.places[wrong + 1], "bases, outs, runs", what
