"""Which hitter for this spot: the chance to win with each of them at bat, and how little tells them apart.

The chance to win is the sum of a hitter's nine outcome probabilities times what each outcome is worth in
the spot (``outcome_values``), so its interval is as wide as what is unknown of his nine probabilities makes
it, and of the league's, like whom those hit who follow: every draw of all hitters' probabilities is a league,
too, and what an outcome is worth follows its league in a straight line. Taken as known: a lineup that is
given, the rules of advance, the pitcher's effect, and the chance to win from a tie.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.counting.finding import find_row
from hitlab.counting.intervals import DEFAULT_LEVEL
from hitlab.errors import ClaimError
from hitlab.game.advancing import Advancing
from hitlab.game.base_out import Spot
from hitlab.game.innings import outcome_values
from hitlab.game.opposing import Opposing
from hitlab.game.outcome_rates import OutcomeRates, shrink_outcomes
from hitlab.game.outcomes import OUTCOMES, chances_of
from hitlab.results import Listing
from hitlab.wording import capitalised, chance_text, level_words, percent

__all__ = ["SpotRanks", "best_for_spot", "best_for_spots", "wins_text"]

Floats = NDArray[np.float64]

_DRAWS = 4_000
_TIE_WINS = 0.50
_MOST_NUMBERS = 1_000_000  # draws times hitters held at once, in each of two dozen arrays
_STEP = 0.02  # toward one outcome: about as far as a small league's rates are unknown
_SHOWN = 12
_USUAL_SHARE = (
    4  # who has a quarter of the most plate appearances is compared, unless the caller says otherwise
)


@dataclass(frozen=True, slots=True)
class SpotRanks(Listing):
    """Hitters for a spot.

    Attributes
    ----------
    data
        One row a hitter, the highest chance to win first: ``label``, who it is, ``plate_appearances``,
        ``observed`` (chance to win if his record were his true rates), ``win_chance`` (posterior mean),
        ``low``, ``high`` (posterior interval), ``chance_best``, ``behind_first`` (how far below the first),
        ``first_ahead`` (chance that the first is truly better than he).
    spot
        The spot.
    words
        Spot and pitcher in words.
    league_win_chance
        Chance to win with the league's average hitter at bat.
    values
        Chance to win after each of the nine outcomes.
    true_spread, luck_spread
        Standard deviations of the chances to win across these hitters: of the true ones as far as is known,
        and of what luck adds in a record.
    level
        Level of the intervals.
    draws
        Draws behind interval and chances.
    minimum
        Fewest plate appearances to be compared.
    source, fingerprint
        Where the counts came from, and the first digits of their hash.
    one_appearance_spread
        For each hitter, how far the chance to win still moves by what becomes of one plate appearance:
        standard deviation.
    drawn
        Shape (draws, hitters): posterior draws of the chances to win, in the order of ``data``.
    notes
        What a careful reader wants to know.
    """

    data: pd.DataFrame
    spot: Spot
    words: str
    league_win_chance: float
    values: Floats
    true_spread: float
    luck_spread: float
    level: float
    draws: int
    minimum: int
    source: str
    fingerprint: str
    one_appearance_spread: Floats
    drawn: Floats
    notes: tuple[str, ...] = ()

    def outcomes(self) -> pd.DataFrame:
        """Return what each outcome is worth here: ``outcome``, ``win_chance`` after it."""
        return pd.DataFrame({"outcome": OUTCOMES, "win_chance": self.values})

    @property
    def luck_share(self) -> float:
        """Share of the variance of the observed chances that is luck, from 0 to 1."""
        luck, true = self.luck_spread**2, self.true_spread**2
        return luck / (luck + true) if luck + true else 0.0

    @property
    def explanation(self) -> str:
        """What the list says and how little, in a few sentences."""
        first = self.data.iloc[0]
        field = f"{len(self.data):,} hitters"
        text = (
            f"{capitalised(self.words)}: with {first['label']} at bat the chance to win is "
            f"{wins_text(first['win_chance'])} ({level_words(self.level)} interval "
            f"{wins_text(first['low'])} to "
            f"{wins_text(first['high'])}), with the league's average hitter "
            f"{wins_text(self.league_win_chance)}."
        )
        if len(self.data) == 1:
            return text
        middle = float(self.data["win_chance"].median())
        between = float(first["win_chance"]) - middle
        once = f", one win in {1 / between:,.0f} such spots" if between > 0.0005 else ""
        return (
            f"{text} The chance that {first['label']} truly is the best of {field} for it is "
            f"{chance_text(first['chance_best'])}. Between the first and the middle of the list lies "
            f"{100 * between:.1f} percentage points{once}. Of the differences (variance) that the bare "
            f"records show, {percent(self.luck_share)} is luck."
        )

    def chance_best_after(self, more: float, place: int) -> float:
        """Return about what the chance of one to be the best would be after more plate appearances for all.

        Each chance to win stays where it is estimated today, and what is not known of it shrinks as the
        record grows. By normal laws, so a planning figure only.
        """
        spread = self.drawn.std(axis=0)
        centre = self.data["win_chance"].to_numpy(float)
        known = 1 / np.maximum(spread, 1e-12) ** 2 + more / np.maximum(self.one_appearance_spread, 1e-12) ** 2
        standard = (self.drawn - self.drawn.mean(axis=0)) / np.maximum(spread, 1e-12)
        then = centre + standard / np.sqrt(known)
        return float((then.argmax(axis=1) == place).mean())

    @property
    def title(self) -> str:
        """The finding."""
        return self.explanation

    def table_for_people(self) -> pd.DataFrame:
        """Return the first of the list, chances as they are said."""
        head = self.data.head(_SHOWN)
        shown = pd.DataFrame({"hitter": head["label"], "plate appearances": head["plate_appearances"]})
        for name in ("observed", "win_chance", "low", "high"):
            shown[name.replace("_", " ")] = [wins_text(value) for value in head[name]]
        shown["chance best"] = [chance_text(value) for value in head["chance_best"]]
        shown["first ahead"] = ["", *(percent(value) for value in head["first_ahead"].iloc[1:])]
        return shown


def wins_text(value: float) -> str:
    """Return a chance to win in per cent with one decimal, finer than the differences that can be told.

    What rounds to none or to all, and is neither, is said to be under or over the last one that does not.

    Parameters
    ----------
    value
        A chance from 0 to 1; NaN for none.

    Returns
    -------
    str
        Such as ``"19.0 %"``.

    Examples
    --------
    >>> from hitlab.game import wins_text
    >>> wins_text(0.1904), wins_text(0.0002), wins_text(1.0)
    ('19.0 %', 'under 0.1 %', '100.0 %')
    """
    if np.isnan(value):
        return "none"
    if 0 < value < 0.0005:
        return "under 0.1 %"
    return "over 99.9 %" if 0.9995 <= value < 1 else f"{100 * value:.1f} %"


def best_for_spot(
    counts: Any,
    spot: Spot,
    *,
    candidates: Sequence[str] | None = None,
    minimum: int | None = None,
    pitcher: Opposing | None = None,
    following: Any = None,
    tie_wins: float = _TIE_WINS,
    rules: Advancing | None = None,
    level: float = DEFAULT_LEVEL,
    draws: int | None = None,
    seed: int | np.random.Generator = 0,
) -> SpotRanks:
    """Rank hitters by the chance to win with them at bat in a spot, with what is not known.

    Parameters
    ----------
    counts
        ``outcome_counts(pitches)``, a table of counts with its nine outcomes, or ``OutcomeRates`` from
        ``shrink_outcomes`` (to ask of several spots without fitting again).
    spot
        Score, outs and bases in the home half of the last inning.
    candidates
        Who can be sent up, by id, label, name or part of it; everybody with ``minimum`` where not given.
        Rates are shrunk with the whole table either way.
    minimum
        Fewest plate appearances to be compared. By default a quarter of the largest number; with
        ``candidates``, none.
    pitcher
        Who pitches, from ``opposing_pitcher``; average pitching where not given.
    following
        Outcome probabilities of who comes after: shape (9,), or a lineup (hitters, 9). The league's where not
        given. Give them as they are against this pitcher: only the league's are adjusted here.
    tie_wins
        Chance to win from a tie after this half; see ``extra_innings_chance``.
    rules
        How runners advance.
    level
        Level of the intervals.
    draws
        Posterior draws; 4,000, fewer where hitters are many.
    seed
        For the draws.

    Returns
    -------
    SpotRanks
        One row a hitter, the highest chance to win first, with its interval and the chance to be truly
        the best.

    Raises
    ------
    ClaimError, UnknownHitterError
        Where nobody is to be compared, or a candidate is not in the counts.
    GameStateError, MissingColumnsError, CountsError
        Where spot, probabilities or counts cannot be.

    Examples
    --------
    >>> import pandas as pd
    >>> from hitlab.game import Spot, best_for_spot
    >>> bench = pd.DataFrame({"hitter": ["Runa Kvalbakk", "Nils Haxditch", "Zora Quarmoor"],
    ...     "strikeouts": [60, 90, 50], "other_outs": [140, 120, 170], "walks": [30, 20, 20],
    ...     "singles": [45, 50, 62], "doubles": [15, 25, 10], "home_runs": [9, 4, 6],
    ...     "triples": 0, "hit_by_pitches": 0, "reached_on_errors": 0})
    >>> ranked = best_for_spot(bench, Spot(0, 1, "third"))
    >>> ranked.table()[["hitter", "observed", "win_chance", "behind_first"]].round(3)
              hitter  observed  win_chance  behind_first
    0  Zora Quarmoor     0.827       0.827         0.000
    1  Runa Kvalbakk     0.817       0.818         0.009
    2  Nils Haxditch     0.806       0.806         0.021
    """
    return best_for_spots(
        counts,
        [spot],
        candidates=candidates,
        minimum=minimum,
        pitcher=pitcher,
        following=following,
        tie_wins=tie_wins,
        rules=rules,
        level=level,
        draws=draws,
        seed=seed,
    )[0]


def best_for_spots(
    counts: Any,
    spots: Sequence[Spot],
    *,
    candidates: Sequence[str] | None = None,
    minimum: int | None = None,
    pitcher: Opposing | None = None,
    following: Any = None,
    tie_wins: float = _TIE_WINS,
    rules: Advancing | None = None,
    level: float = DEFAULT_LEVEL,
    draws: int | None = None,
    seed: int | np.random.Generator = 0,
) -> list[SpotRanks]:
    """Rank the same hitters in several spots, as :func:`best_for_spot` does in one; rates are drawn once.

    Parameters
    ----------
    counts
        As there.
    spots
        The spots.
    candidates, minimum, pitcher, following, tie_wins, rules, level, draws, seed
        As there.

    Returns
    -------
    list of SpotRanks
        One a spot, in their order.

    Raises
    ------
    ClaimError, UnknownHitterError, GameStateError, MissingColumnsError, CountsError
        As there.
    """
    if not 0 < level < 1:
        raise ClaimError(f"level={level!r}: give a level between 0 and 1, such as 0.90")
    if draws is not None and draws < 100:
        raise ClaimError(f"draws={draws!r}: give 100 or more")
    rates = counts if isinstance(counts, OutcomeRates) else shrink_outcomes(counts)
    places, least = _compared(rates, candidates, minimum)
    size = draws or int(np.clip(_MOST_NUMBERS // len(rates), 1000, _DRAWS))
    nine = rates.draws(np.arange(len(rates)), size, np.random.default_rng(seed))
    how = (pitcher, following, tie_wins, rules, level)
    return [_ranked(rates, nine, places, least, spot, *how) for spot in spots]


def _ranked(
    rates: OutcomeRates,
    nine: list[Floats],
    places: NDArray[np.int64],
    least: int,
    spot: Spot,
    pitcher: Opposing | None,
    following: Any,
    tie_wins: float,
    rules: Advancing | None,
    level: float,
) -> SpotRanks:
    """Rank some hitters in one spot, by draws of everybody's nine probabilities."""
    size = len(nine[0])
    factors, everybody = np.ones((len(places), len(OUTCOMES))), np.ones(len(OUTCOMES))
    if pitcher is not None:
        factors, everybody = pitcher.of(rates.counts)[places], pitcher.everybody
    league = _met(rates.league, everybody)

    def worth(after: Any) -> Floats:
        return outcome_values(spot, after, tie_wins=tie_wins, rules=rules)

    values = worth(league if following is None else chances_of(following, "following"))
    chances = _met(rates.mean()[places], factors)
    # The exact posterior mean against average pitching; a pitcher's factors bend it by next to nothing.
    win = chances @ values
    once = np.sqrt(np.maximum(chances @ values**2 - win**2, 0.0))
    order = np.argsort(-win, kind="stable")
    places, factors, win, once = places[order], factors[order], win[order], once[order]
    worths = np.broadcast_to(values, (size, len(OUTCOMES)))
    if following is None:
        share = rates.plate_appearances / rates.plate_appearances.sum()
        leagues = _met(np.stack([chance @ share for chance in nine], axis=1), everybody)
        toward = np.stack(
            [(worth(league + _STEP * (one - league)) - values) / _STEP for one in np.eye(len(OUTCOMES))]
        )
        worths = values + (leagues - leagues.mean(axis=0)) @ toward
    drawn, weight = np.zeros((size, len(places))), np.zeros((size, len(places)))
    for chance, factor, value in zip(nine, factors.T, worths.T, strict=True):
        met = chance.take(places, axis=1)
        if pitcher is not None:  # otherwise the nine add up to one
            met *= factor
            weight += met
        met *= value[:, np.newaxis]
        drawn += met
    if pitcher is not None:
        drawn /= weight
    observed = _met(rates.observed[places], factors) @ values
    ended = rates.plate_appearances[places]
    low, high = np.quantile(drawn, [(1 - level) / 2, (1 + level) / 2], axis=0)
    data = rates.counts.identity.iloc[places].reset_index(drop=True)
    labels = rates.counts.labels
    data.insert(0, "label", [labels[place] for place in places])
    data["plate_appearances"] = ended
    data["observed"], data["win_chance"], data["low"], data["high"] = observed, win, low, high
    data["chance_best"] = np.bincount(drawn.argmax(axis=1), minlength=len(places)) / size
    data["behind_first"] = win[0] - win
    data["first_ahead"] = (drawn[:, :1] > drawn).mean(axis=0)
    data.loc[0, "first_ahead"] = np.nan
    some = ended > 0
    return SpotRanks(
        data,
        spot,
        f"{spot.words}{f', {pitcher.words}' if pitcher else ''}",
        float(league @ values),
        values,
        float(np.sqrt(drawn.var(axis=1, ddof=1).mean())) if len(places) > 1 else 0.0,
        float(np.sqrt((once[some] ** 2 / ended[some]).mean())) if some.any() else 0.0,
        level,
        size,
        least,
        rates.counts.source,
        rates.counts.fingerprint,
        once,
        drawn,
        (*rates.notes, *(pitcher.notes if pitcher else ())),
    )


def _met(chances: Floats, factors: Floats) -> Floats:
    met = chances * factors
    return np.asarray(met / met.sum(axis=-1, keepdims=True))


def _compared(
    rates: OutcomeRates, candidates: Sequence[str] | None, minimum: int | None
) -> tuple[NDArray[np.int64], int]:
    """Return the places of those compared, and the minimum."""
    ended = rates.plate_appearances
    if minimum is None:
        most = int(ended.max()) // _USUAL_SHARE
        minimum = 0 if candidates is not None else most // 10 * 10 if most >= 100 else most
    if candidates is None:
        chosen = np.flatnonzero(ended >= max(minimum, 1))
    else:
        found = {find_row(rates.counts, one) for one in candidates}
        chosen = np.array(sorted(found), dtype=np.int64)
        chosen = chosen[ended[chosen] >= minimum]
    if not len(chosen):
        raise ClaimError(
            f"nobody to compare has at least {max(minimum, 1):,} plate appearances; the most is "
            f"{int(ended.max()):,}. Lower minimum="
        )
    return chosen, int(minimum)
