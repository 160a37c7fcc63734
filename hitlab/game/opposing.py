"""Who pitches: what his hand and his quality do to everybody's outcome probabilities.

By the odds-ratio method of ``meet_pitcher``. The hand's effect is the league's, by side of the hitter: a
hitter's own split would be mostly luck. Records were made against a mix of hands, so the effect is taken
relative to his own mix. A pitcher's effect is his shrunk rates relative to pitchers of his hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hitlab.counting.counts import Counts
from hitlab.counting.finding import find_rows
from hitlab.counting.summing import ROWS, cells
from hitlab.counting.tallies import columns_of
from hitlab.errors import ClaimError, MissingColumnsError
from hitlab.game.outcome_rates import OUTCOME_COUNTS, outcome_counts, shrink_outcomes
from hitlab.pitches.opening import frame_of
from hitlab.showing import shown_name

__all__ = ["Opposing", "opposing_pitcher"]

Floats = NDArray[np.float64]

_FEW = 500  # plate appearances of a side against a hand below which the note is given

_HANDS = ("left", "right")


@dataclass(frozen=True, slots=True)
class Opposing:
    """What the pitcher does to outcome probabilities.

    Attributes
    ----------
    hitters
        The values that tell the hitters apart, in the order of ``factors``.
    factors
        Shape (hitters, 9): what each probability is multiplied by, before the nine are made to add up to one.
    everybody
        Shape (9,): the same for the league's average hitter.
    words
        Who pitches: ``against left-handed pitching``.
    notes
        What a careful reader wants to know.
    asked
        What ``opposing_pitcher`` was asked with, so that it can be worked out again.
    """

    hitters: tuple[str, ...]
    factors: Floats
    everybody: Floats
    words: str
    notes: tuple[str, ...] = ()
    asked: tuple[tuple[str, str], ...] = ()

    def of(self, counts: Counts) -> Floats:
        """Return the factors in the order of a counts table's rows; whoever is not known gets everybody's."""
        places = {hitter: place for place, hitter in enumerate(self.hitters)}
        found = [places.get(str(hitter)) for hitter in counts.data[counts.by[0]]]
        return np.stack([self.everybody if place is None else self.factors[place] for place in found])


def opposing_pitcher(
    pitches: Any, *, hand: str | None = None, pitcher: str | None = None, trust: bool = False
) -> Opposing:
    """Work out what the pitcher's hand, or one pitcher, does to everybody's outcomes.

    Parameters
    ----------
    pitches
        The pitch table, as for ``tally``.
    hand
        ``left`` or ``right``; taken from the table where a pitcher is named.
    pitcher
        His name, part of it, or his id.
    trust
        Accept a file without the schema mark.

    Returns
    -------
    Opposing
        What each hitter's nine probabilities are multiplied by, and the same for the average hitter; for
        ``against=`` of :func:`best_for_spot`.

    Raises
    ------
    MissingColumnsError
        Where ``result``, ``hitter_side``, ``pitcher_hand`` or ``pitcher`` is needed and absent.
    ClaimError, UnknownHitterError
        Where neither is given, the hand is no hand, or nobody or more than one has that name.

    Examples
    --------
    Left-handed hitters strike out more often against left-handed pitchers here, the right-handed less often:

    >>> import pandas as pd
    >>> from hitlab.game import OUTCOMES, opposing_pitcher
    >>> cells = pd.DataFrame({"hitter": ["Kvalbakk"] * 4 + ["Haxditch"] * 4,
    ...                       "hitter_side": ["left"] * 4 + ["right"] * 4,
    ...                       "pitcher_hand": ["left", "left", "right", "right"] * 2,
    ...                       "outcome": ["whiff", "in play"] * 4, "result": ["strikeout", "single"] * 4,
    ...                       "times": [30, 70, 40, 160, 15, 85, 50, 150]})
    >>> pitches = cells.loc[cells.index.repeat(cells["times"])].drop(columns="times")
    >>> left = opposing_pitcher(pitches, hand="left")
    >>> left.hitters, left.factors[:, OUTCOMES.index("strikeout")].round(2).tolist()
    (('Haxditch', 'Kvalbakk'), [0.69, 1.29])
    """
    if hand is None and pitcher is None:
        raise ClaimError("say who pitches: hand='left', hand='right', or pitcher= with a name")
    if hand is not None and hand not in _HANDS:
        raise ClaimError(f"hand={hand!r}: accepted are left and right")
    columns = columns_of(pitches, trust=trust)
    needed = [
        n for n in ("hitter_side", "pitcher_hand", *(["pitcher"] if pitcher else [])) if n not in columns
    ]
    if needed:
        raise MissingColumnsError(
            f"who pitches matters only with the column {needed[0]}, which the table lacks"
        )
    given = (("hand", hand), ("pitcher", pitcher))
    asked = tuple((name, value) for name, value in given if value is not None)
    notes: list[str] = []
    words = f"against {hand}-handed pitching"
    quality = np.ones(len(OUTCOME_COUNTS))
    if pitcher is not None:
        pitcher, quality, his_hand, ended = _quality(pitches, pitcher, trust)
        if hand is not None and hand != his_hand:
            raise ClaimError(f"{pitcher} throws with his {his_hand} hand in the table; leave hand= out")
        hand, words = his_hand, f"against {pitcher}"
        notes.append(
            f"{pitcher}'s quality is taken from {ended:,} plate appearances, shrunk toward pitchers of "
            "that hand"
        )
    cells = outcome_counts(pitches, ("hitter", "hitter_side", "pitcher_hand"), trust=trust)
    hitters, hands, everybody, fewest = _platoon(cells, str(hand))
    if fewest < _FEW:
        notes.append(f"what the hand does rests on {fewest:,} plate appearances of a side, which is few")
    return Opposing(hitters, hands * quality, everybody * quality, words, tuple(notes), asked)


def _quality(pitches: Any, pitcher: str, trust: bool) -> tuple[str, Floats, str, int]:
    """Return a pitcher's name, rates relative to pitchers of his hand, that hand, and plate appearances."""
    counts = outcome_counts(pitches, ("pitcher", "pitcher_hand"), trust=trust)
    key = counts.by[0]
    frame, _ = frame_of(pitches, trust=trust)
    seen = cells(frame, list(dict.fromkeys([key, "pitcher"])), ())
    him = seen[find_rows(seen, pitcher, who="pitcher")].sort_values(ROWS, ascending=False, kind="stable")
    name = shown_name(him["pitcher"].iloc[0])
    mine = counts.data[key].isin(him[key]) & counts.data["pitcher_hand"].notna()
    rows = np.flatnonzero(mine)
    if not len(rows):
        raise ClaimError(f"the hand of {name} is not in the table; give hand= instead of pitcher=")
    row = int(rows[counts.column("pitches")[rows].argmax()])
    hand = str(counts.data["pitcher_hand"].iloc[row])
    same = (counts.data["pitcher_hand"] == hand).to_numpy()
    rates = shrink_outcomes(counts.only(same))
    place = int(same[:row].sum())
    return name, _ratio(rates.mean()[place], rates.league), hand, int(rates.plate_appearances[place])


def _platoon(cells: Counts, hand: str) -> tuple[tuple[str, ...], Floats, Floats, int]:
    """Return who hits, what the hand does to each and to everybody, and the fewest appearances of a side."""
    data = cells.data
    ended = np.stack([cells.column(name) for name in OUTCOME_COUNTS], axis=1).astype(float)
    known = (data["hitter_side"].notna() & data["pitcher_hand"].notna()).to_numpy()
    side_of, hand_of = (data[name].to_numpy(object) for name in ("hitter_side", "pitcher_hand"))
    rate: dict[tuple[str, str], Floats] = {}
    size: dict[tuple[str, str], float] = {}
    for side in _HANDS:
        for other in _HANDS:
            total = ended[known & (side_of == side) & (hand_of == other)].sum(axis=0)
            size[side, other] = float(total.sum())
            rate[side, other] = total / max(total.sum(), 1.0)
    if not size["left", hand] + size["right", hand]:
        raise ClaimError(f"nobody met a {hand}-handed pitcher in this table")
    hitters = tuple(dict.fromkeys(str(who) for who in data[cells.by[0]]))
    factors = np.ones((len(hitters), len(OUTCOME_COUNTS)))
    who = data[cells.by[0]].astype(str).to_numpy()
    for place, hitter in enumerate(hitters):
        rows = np.flatnonzero((who == hitter) & known)
        weight = ended[rows].sum(axis=1)
        if not weight.sum():
            continue
        usual = (
            sum(w * rate[side_of[i], hand_of[i]] for i, w in zip(rows, weight, strict=True)) / weight.sum()
        )
        there = rows[hand_of[rows] == hand]
        there = there if len(there) and ended[there].sum() else rows
        side = side_of[there[ended[there].sum(axis=1).argmax()]]
        factors[place] = _ratio(rate[side, hand], usual)
    met = ended[known & (hand_of == hand)].sum(axis=0)
    all_of_them = ended[known].sum(axis=0)
    fewest = int(min(size[side, hand] for side in _HANDS if size[side, hand] > 0))
    return hitters, factors, _ratio(met / met.sum(), all_of_them / all_of_them.sum()), fewest


def _ratio(there: Floats, usual: Floats) -> Floats:
    """Return the ratio of probabilities; one where an outcome usually never happens."""
    return np.divide(there, usual, out=np.ones_like(usual), where=usual > 0)
