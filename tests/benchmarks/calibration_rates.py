"""Claims about true rates of drawn leagues: above, near, ahead, leads, top; with what was true."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import repeat

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from hitlab.claims.setting import Setting
from hitlab.claims.value_claims import NEAR
from hitlab.counting.counts import Counts
from hitlab.estimates.posterior import Posterior
from hitlab.estimates.ranking import above_the_rest
from hitlab.estimates.top_places import Rivals, chance_above, chance_of_top
from hitlab.league import Effects, draw_counts
from hitlab.questions import Question
from tests.benchmarks.calibration_leagues import VALUE, League, TrueLaw, draw_league, oracle
from tests.benchmarks.calibration_stated import Stated, counts_of

Places = NDArray[np.int64]

VALUES = (1 / 2, 1 / 3, 1 / 4, 1 / 5, 1 / 6, 1 / 8, 1 / 10)
"""What people say; "near" is asked of the one nearest to the league's observed rate."""

_ABOVE_A_LEAGUE, _TOP_EVERY = 50, 3  # hitters whose "above" is stated; every third league states "top"
_AGAINST_THE_REST = 8  # hitters whose "above the league" is stated, which takes longer
_LIKELY = 0.05
_A_CLUB = 15  # hitters of a club, where there are enough for three such


def _claimed(league: League) -> Counts:
    """Return the counts that a claim is checked on: by game, where the league has them."""
    if league.games is None:
        return counts_of(hard=league.events, swings=league.exposure)
    who, events, swings = league.games
    table = pd.DataFrame({"hitter": who, "game": np.arange(len(who)), "hard": events, "swings": swings})
    names = table.astype({"game": str}).assign(hitter=[f"h{i:03d}" for i in who])
    return Counts.from_table(names, by=["hitter", "game"])


def state_rates(league: League, number: int, rng: np.random.Generator, kinds: frozenset[str]) -> Stated:
    """State the chances as the claims do, for hitters, pairs and clubs drawn beforehand."""
    stated, truth = Stated(), league.truth
    hitters = rng.permutation(len(truth))
    pairs = hitters[: len(truth) // 2 * 2].reshape(-1, 2)
    claim = Setting.asked(Question(kind="leads"), _claimed(league))
    posterior, qualified = claim.fit.posterior, claim.qualified
    known = None if np.isnan(league.a).any() else oracle(league)
    lines = claim.rows_of(range(len(truth)))
    low, high = (lines[end].to_numpy(float) for end in ("low", "high"))
    inside = (low <= truth) & (truth <= high)
    some = np.sort(hitters[:_ABOVE_A_LEAGUE])
    if "above" in kinds:
        by_law = known.only(some).above(VALUE) if known else None
        stated.add("above", posterior.only(some).above(VALUE), truth[some] > VALUE, by_law)
        stated.cover("above", inside)
    if "above, league" in kinds:
        few = np.sort(hitters[:_AGAINST_THE_REST])
        share = league.exposure / league.exposure.sum()
        others = (share @ truth - share * truth) / (1 - share)
        chance, by_law = (
            np.array([above_the_rest(one, int(i), league.exposure) for i in few]) if one else None
            for one in (posterior, known)
        )
        stated.add("above, league", chance, (truth > others)[few], by_law)
    if "near" in kinds:
        value = value_near(league)
        least, most = (1 - NEAR) * value, (1 + NEAR) * value
        chance, by_law = (
            one.only(some).above(least) - one.only(some).above(most) if one else None
            for one in (posterior, known)
        )
        stated.add("near", chance, (np.abs(truth - value) <= NEAR * value)[some], by_law)
    if "ahead" in kinds:
        chance, by_law = (
            np.array([chance_above(one, int(i), int(j)) for i, j in pairs]) if one else None
            for one in (posterior, known)
        )
        stated.add("ahead", chance, truth[pairs[:, 0]] > truth[pairs[:, 1]], by_law)
    rate = league.events[qualified] / league.exposure[qualified]
    by_record, by_truth = np.argsort(-rate, kind="stable"), np.argsort(-truth[qualified])
    if kinds & {"leads", "leads, anybody"}:
        chance = Rivals(posterior.only(qualified), int(by_record[0]), 1).chances()  # as the claims have it
        by_law = chance_of_top(known.only(qualified), 1) if known else None
        best = np.arange(len(qualified)) == by_truth[0]
        first, likely = by_record[:1], chance >= _LIKELY
        stated.add("leads", chance[first], best[first], by_law[first] if known else None)
        stated.cover("leads", inside[qualified[first]])
        stated.add("leads, anybody", chance[likely], best[likely], by_law[likely] if known else None)
    if "leads, club" in kinds:
        clubs = [np.sort(club) for club in clubs_of(hitters)]
        _state_first(stated, "leads, club", posterior, known, league, [_regulars(league, c) for c in clubs])
    if "leads, lowest" in kinds:
        # The lowest rates are the highest of what did not happen.
        other = League(league.exposure - league.events, league.exposure, 1 - truth, league.b, league.a)
        turned, turned_law = (one.of_the_others() if one else None for one in (posterior, known))
        _state_first(stated, "leads, lowest", turned, turned_law, other, [qualified])
    top = min(5, len(qualified) // 3)
    if "top" in kinds and number % _TOP_EVERY == 0 and top > 1:
        chance = Rivals(posterior.only(qualified), int(by_record[0]), top).chances()
        by_law = chance_of_top(known.only(qualified), top) if known else None
        among = np.isin(np.arange(len(qualified)), by_truth[:top])
        named = by_record[:top]
        stated.add("top", chance[named], among[named], by_law[named] if known else None)
    return stated


def value_near(league: League) -> float:
    """Return the value that "near" is asked of: chosen by everybody's record together."""
    rate = league.events.sum() / league.exposure.sum()
    return min(VALUES, key=lambda value: abs(value - rate))


def clubs_of(hitters: Places) -> list[Places]:
    """Part hitters into clubs."""
    return np.array_split(hitters, max(3, len(hitters) // _A_CLUB))


def _regulars(league: League, club: Places) -> Places:
    """Return who of a club has the minimum that a ranking asks for by default."""
    least = int(league.exposure[club].max()) // 4
    return club[league.exposure[club] >= max(least // 10 * 10 if least >= 100 else least, 1)]


def _state_first(
    stated: Stated,
    kind: str,
    posterior: Posterior,
    known: Posterior | None,
    league: League,
    fields: list[Places],
) -> None:
    """State that the one with the highest observed rate of a field has its highest true rate."""
    chance, by_law, came = [], [], []
    for field in fields:
        if len(field) < 2:
            continue
        first = int((league.events[field] / league.exposure[field]).argmax())
        chance.append(Rivals(posterior.only(field), first, 1).chances()[first])
        came.append(first == league.truth[field].argmax())
        if known:
            by_law.append(chance_of_top(known.only(field), 1)[first])
    stated.add(kind, np.array(chance), np.array(came), np.array(by_law) if known else None)


def state_law(law: TrueLaw, rng: np.random.Generator, kinds: frozenset[str]) -> Iterator[Stated]:
    """State the claims of leagues of a known law."""
    for number, _ in enumerate(repeat(None)):
        yield state_rates(draw_league(law, rng), number, rng, kinds)


def state_season(
    hitters: int, clubs: int, effects: Effects, rng: np.random.Generator, kinds: frozenset[str]
) -> Iterator[Stated]:
    """Leagues of the season generator; who never swung is left out."""
    for number, _ in enumerate(repeat(None)):
        table = draw_counts(hitters, clubs, seed=int(rng.integers(1 << 31)), effects=effects)
        table = table[table["swings"] > 0]
        hard, swings, truth = (table[name].to_numpy() for name in ("hard", "swings", "hard_per_swing"))
        unknown = np.full(len(table), np.nan)
        league = League(hard, swings, truth, unknown, unknown)
        yield state_rates(league, number, rng, kinds)
