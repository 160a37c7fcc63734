"""What cannot follow: a fifth ball, a fourth out, a hitter out of turn, a runner that vanished.

The rules are those of the Official Baseball Rules, from memory: four balls and three strikes end a plate
appearance, three outs a half-inning; the hitters follow each other in the batting order; and whoever batted
is out, has scored or is on base. A strikeout whose third strike is not caught leaves no out, so that
a fourth strikeout of a half-inning is not held against it; nor does a sacrifice after which nobody was put
out, for an error. Nothing is changed, and only pitches that follow each other without a gap are held against
each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pandas as pd

from hitlab.pitches.coded import Coded, Finding, texts_of, wholes
from hitlab.pitches.counting import KeyOrder, Tally, tallied
from hitlab.pitches.schema import BALL_OUTCOMES, RUNNERS, STRIKE_OUTCOMES

__all__ = [
    "CountSteps",
    "Played",
    "count_steps",
    "order_of_play",
    "out_of_turn",
    "too_many_outs",
    "uncounted",
    "vanished",
]

_OUTS = {"out": 1, "double play": 2}
"""Outs that a result makes for sure; of a fielder's choice or a sacrifice nobody may have been out."""

_IN_ORDER = 9  # hitters in a batting order
_FEW = 2  # plate appearances that are slips in however small a chart (a default)
_SOME = 0.1  # share of them from which they are no slips any more (a default)
_MOST = 0.5
_UNNUMBERED = (
    "Without plate_appearance and pitch, rows are held against those before them only where they show that "
    "they are whole and in the order of play."
)
_UNCHECKED_TURNS = "whether a hitter, an out or a runner is one too many"
_UNCHECKED = f"whether the count follows, and {_UNCHECKED_TURNS}"


@dataclass(frozen=True, eq=False)
class Played:
    """An order of play that a table without numbers shows.

    Attributes
    ----------
    order
        The order.
    in_turn
        Whether the plate appearances follow each other, too, and not only the pitches within each.
    """

    order: KeyOrder
    in_turn: bool


@dataclass(frozen=True, eq=False)
class CountSteps:
    """The count before each pitch in an order held against the pitch before it.

    Attributes
    ----------
    balls, strikes
        As they stand.
    after_balls, after_strikes
        What they are after the pitch.
    late
        Whether the count of a first pitch is not 0-0.
    ahead, back
        Whether it does not follow: as where pitches between the two were left out, or in another way.
    known
        Whether the count stands there.
    """

    balls: np.ndarray
    strikes: np.ndarray
    after_balls: np.ndarray
    after_strikes: np.ndarray
    late: np.ndarray
    ahead: np.ndarray
    back: np.ndarray
    known: np.ndarray


def count_steps(frame: pd.DataFrame, order: KeyOrder) -> CountSteps:
    """Hold the count before each pitch against the pitch before it.

    Parameters
    ----------
    frame
        The table, with balls and strikes.
    order
        The order of its pitches.
    """
    outcome = Coded(frame, "outcome", order)
    balls, strikes = (order.of(wholes(frame, name)) for name in ("balls", "strikes"))
    after_balls = balls + outcome.among(BALL_OUTCOMES)
    after_strikes = strikes + outcome.among(STRIKE_OUTCOMES) + (outcome.among(("foul",)) & (strikes < 2))
    late = order.first & (order.pitch == 1) & ((balls > 0) | (strikes > 0))
    # Only pitches whose number follows on: what stood between the others is not known.
    follows = ~order.first[1:] & (order.pitch[1:] == order.pitch[:-1] + 1)
    more_balls, more_strikes = balls[1:] - after_balls[:-1], strikes[1:] - after_strikes[:-1]
    differs = follows & ~np.isnan(more_balls + more_strikes) & ((more_balls != 0) | (more_strikes != 0))
    ahead, back = np.zeros(len(balls), dtype=bool), np.zeros(len(balls), dtype=bool)
    ahead[1:] = differs & (more_balls >= 0) & (more_strikes >= 0)
    back[1:] = differs & ~ahead[1:]
    known = ~np.isnan(balls + strikes)
    return CountSteps(balls, strikes, after_balls, after_strikes, late, ahead, back, known)


def order_of_play(frame: pd.DataFrame, gap: np.ndarray) -> tuple[Played | None, tuple[str, ...]]:
    """Tell the plate appearances of a table in the order of play that has no numbers for them.

    A plate appearance ends with its result, and where another hitter, inning or game begins. That the rows
    are all there and in the order of play is believed only where they show it: of swings alone, of fastballs
    alone or of rows sorted by name every plate appearance would seem to be wrong.

    Parameters
    ----------
    frame
        The rows kept.
    gap
        For each of them whether a row that was set aside stands before it: such a plate appearance is left
        out.

    Returns
    -------
    tuple
        The order, None where nothing tells it; and sentences about what cannot be checked.
    """
    if not {"game", "inning", "result"} <= set(frame) or not len(frame):
        return None, ()
    order = _by_rows(frame, gap)
    why = "no game in it has its innings in order" if order is None else _not_whole(frame, order)
    if order is None or why:
        return None, (f"{_UNNUMBERED} Here it is not ({why}): {_UNCHECKED}, was not checked.",)
    if not _in_turn(frame, order):
        why = "the plate appearances do not follow each other"
        said = f"{_UNNUMBERED} Here {why}: {_UNCHECKED_TURNS}, was not checked."
        return Played(order, in_turn=False), (said,)
    return Played(order, in_turn=True), ()


def _by_rows(frame: pd.DataFrame, gap: np.ndarray) -> KeyOrder | None:
    """Plate appearances of the games whose innings never fall, in the order of the rows."""
    inning = wholes(frame, "inning")
    game, hitter = (texts_of(frame[name])[0] for name in ("game", "hitter"))
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


def _not_whole(frame: pd.DataFrame, order: KeyOrder) -> str:
    """Say what speaks against it that every pitch is there and follows the one before; else ``""``."""
    outcome = Coded(frame, "outcome", order)
    for words, name in ((BALL_OUTCOMES, "ball"), (("called strike",), "called strike")):
        if not outcome.among(words).any():
            return f"there is no {name} in it"
    number = int(order.appearance[-1]) + 1
    # A pitch that is not there leaves a jump ahead: a count that begins late or goes too far, an ending too
    # soon. What no missing pitch explains is a slip in a whole chart, or rows in another order.
    lacks, wrong, judged = (np.zeros(number, dtype=bool) for _ in range(3))
    if {"balls", "strikes"} <= set(frame):
        steps = count_steps(frame, order)
        lacks[order.appearance[steps.late | steps.ahead]] = True
        wrong[order.appearance[steps.back]] = True
        judged[order.appearance[steps.known]] = True
    else:
        tally = tallied(frame, order)
        result = Coded(frame, "result", order)
        struck_out, walked = _too_soon(frame, order, tally)
        lacks[order.appearance[struck_out | walked]] = True
        wrong[order.appearance[_goes_on(tally, order) | (tally.ball & (tally.balls > 3))]] = True
        judged[order.appearance[result.among(("strikeout", "walk"))]] = True
        judged |= wrong
    lacks &= ~wrong
    holes, slips, many = int(lacks.sum()), int(wrong.sum()), int(judged.sum())
    if holes > max(_FEW, _SOME * many) and holes > 2 * slips:
        return f"{holes:,} of {many:,} plate appearances seem to lack pitches"
    if holes + slips > max(_FEW, _MOST * many):
        return f"in {holes + slips:,} of {many:,} plate appearances one pitch does not follow from another"
    return ""


def _in_turn(frame: pd.DataFrame, order: KeyOrder) -> bool:
    """Say whether the plate appearances show that they are in the order of play."""
    side = "half" if "half" in frame else "club" if "club" in frame else ""
    if side:
        # In the order of play each half of an inning stands in one place.
        of = Coded(frame, side, order).codes[order.first]
        key = pd.factorize(
            (order.game[order.first] * 100 + order.of(wholes(frame, "inning"))[order.first])
            * (int(of.max(initial=0)) + 2)
            + of
        )[0][of >= 0]
        places = 1 + int((np.diff(key) != 0).sum())
        halves = len(np.unique(key))
        if places - halves > max(_FEW, _SOME * halves):
            return False
    _, gaps, usual = _turns(frame, order)
    return int((gaps < usual).sum()) <= max(_FEW, _SOME * len(gaps))


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
        return np.asarray(order.of(wholes(frame, "plate_appearance")))
    # Without numbers: those that stand one after the other in the table are counted on, others are far off.
    jumps = np.zeros(len(order.places), dtype=np.int64)
    jumps[1:] = order.first[1:] + (np.diff(order.places) != 1) * 1000
    return np.cumsum(jumps).astype(np.float64)


def uncounted(frame: pd.DataFrame, order: KeyOrder) -> Iterator[Finding]:
    """Count balls and strikes where no column does: a fifth ball, a strikeout without its third strike.

    Parameters
    ----------
    frame
        The table.
    order
        The order of its pitches.
    """
    outcome = Coded(frame, "outcome", order)
    tally = tallied(frame, order)
    balls, strikes, whole = tally.balls, tally.strikes, ~tally.holed
    at = np.flatnonzero(whole & tally.ball & (balls >= 4))
    what = [f"ball {balls[i] + 1} of a plate appearance" for i in at]
    yield "balls and strikes", order.places[at], "outcome", what
    at = np.flatnonzero(whole & _goes_on(tally, order))
    what = [f"{outcome.text(i)} at {balls[i]}-{strikes[i]} ends it, and another pitch follows" for i in at]
    yield "balls and strikes", order.places[at], "outcome", what
    struck_out, walked = _too_soon(frame, order, tally)
    at = np.flatnonzero(whole & struck_out)
    what = [f"strikeout on {outcome.text(i)} after {strikes[i]} strike(s)" for i in at]
    yield "balls and strikes", order.places[at], "result, outcome", what
    at = np.flatnonzero(whole & walked)
    what = [f"walk on {outcome.text(i)} after {balls[i]} ball(s)" for i in at]
    yield "balls and strikes", order.places[at], "result, outcome", what


def _goes_on(tally: Tally, order: KeyOrder) -> np.ndarray:
    """Where a pitch ends a plate appearance, and another follows in it."""
    over = tally.third | (tally.ball & (tally.balls == 3)) | tally.ending
    return np.asarray(over & ~order.last)


def _too_soon(frame: pd.DataFrame, order: KeyOrder, tally: Tally) -> tuple[np.ndarray, np.ndarray]:
    """Strikeouts without their third strike, and walks without their fourth ball."""
    outcome, result = (Coded(frame, name, order) for name in ("outcome", "result"))
    # Where bunts are not charted, a foul may have been the bunt that is the third strike.
    third = tally.third | ((tally.strikes == 2) & tally.foul & ("bunt" not in frame))
    # An intentional walk may be signalled at any count.
    fourth = (tally.balls >= 3) | outcome.among(("intentional ball",))
    return result.among(("strikeout",)) & ~third, result.among(("walk",)) & ~fourth


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
    result, of = Coded(frame, "result", order), Coded(frame, side, order)
    inning = order.of(wholes(frame, "inning"))
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
    name = Coded(frame, "hitter", order)
    at, gaps, usual = _turns(frame, order)
    early = np.flatnonzero(gaps < usual)
    early = early[np.argsort(at[early], kind="stable")]
    what = [
        f"{name.text(i)} is up again after {others - 1} other(s), and {most - 1} are in between as a rule"
        for i, others, most in zip(at[early], gaps[early], usual[early], strict=True)
    ]
    yield "order of hitters", order.places[at[early]], "hitter, game", what


def _turns(frame: pd.DataFrame, order: KeyOrder) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Where hitters come up again, turns since they did before, and how many are usual."""
    result, club = (Coded(frame, one, order) for one in ("result", "club"))
    hitter = Coded(frame, "hitter_id" if "hitter_id" in frame else "hitter", order).codes
    number = numbers_of(frame, order)
    ends = np.flatnonzero(order.last)
    # Plate appearances of one stretch follow each other without a gap.
    stretch = np.cumsum(np.append(True, np.diff(number[ends]) != 1))
    # Whoever was up when a runner made the third out begins the next inning: no plate appearance ended.
    ended = result.filled[ends]
    ends, stretch = ends[ended], stretch[ended]
    group = order.game[ends] * (len(club.found) + 1) + club.codes[ends]
    by_group = np.argsort(group, kind="stable")
    turn = np.empty(len(ends), dtype=np.int64)
    turn[by_group] = np.arange(len(ends))  # of one group: one after the other
    by_hitter = np.lexsort((turn, hitter[ends], group))
    one, next_ = by_hitter[:-1], by_hitter[1:]
    same = (group[one] == group[next_]) & (hitter[ends[one]] == hitter[ends[next_]])
    same &= stretch[one] == stretch[next_]
    again, gap = next_[same], (turn[next_] - turn[one])[same]
    counted = pd.DataFrame({"group": group[again], "gap": gap}).value_counts(sort=True).reset_index()
    usual = counted.drop_duplicates("group").set_index("group")["gap"].clip(upper=_IN_ORDER)
    return ends[again], gap, usual.loc[group[again]].to_numpy()


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
    runners = Coded(frame, "bases", order).valued(RUNNERS)
    outs, runs, inning = (order.of(wholes(frame, name)) for name in ("outs", "runs", "inning"))
    half, result = Coded(frame, "half", order), Coded(frame, "result", order)
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
        f"base, {outs[i + 1] - outs[i]:.0f} more out and {runs[i]:.0f} run(s) after: "
        f"{abs(before[i] - after[i]):.0f} {'vanished' if before[i] > after[i] else 'too many'}"
        for i in wrong
    ]
    yield "outs and bases", order.places[wrong + 1], "bases, outs, runs", what
