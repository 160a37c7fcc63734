"""hitlab: from a table of pitches to a claim about a hitter that is safe to say.

The public functions are loaded at first use, so that ``import hitlab`` costs next to nothing.

>>> import hitlab
>>> counts = hitlab.tally(hitlab.demo_season())
>>> claim = hitlab.check_leads(counts)
>>> claim.verdict in ("holds", "does not hold", "open")
True
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hitlab.approach.patterns import find_sequences
    from hitlab.approach.readiness import fastball_readiness
    from hitlab.approach.responses import after_whiff
    from hitlab.approach.sequence import sequence_faults, with_previous
    from hitlab.claims import KINDS, Claim, Question
    from hitlab.claims.checking import (
        check_above,
        check_ahead,
        check_hot,
        check_leads,
        check_more,
        check_near,
        check_response,
        check_split,
        check_spot,
        check_steady,
        check_together,
        check_top,
    )
    from hitlab.counting.counts import Counts
    from hitlab.counting.events import EVENTS
    from hitlab.counting.facts import Conventions
    from hitlab.counting.intervals import difference_interval, share_interval
    from hitlab.counting.ledger import swing_ledger
    from hitlab.counting.looks import Looks
    from hitlab.counting.places import Borders
    from hitlab.counting.rates import denominators, rate
    from hitlab.counting.tallies import hard_threshold, tally
    from hitlab.datasets import first_at_bats, open_pitches, season_lines
    from hitlab.demonstration import demo_folder, demo_season
    from hitlab.errors import HitlabError, HitlabWarning
    from hitlab.estimates.ranked_frames import rank_table
    from hitlab.estimates.ranking import leader_by_minimum, ranks
    from hitlab.estimates.shrinkage import shrink
    from hitlab.evidence.cards import card, read_card
    from hitlab.evidence.cut_lists import cut_list
    from hitlab.game.advancing import Advancing
    from hitlab.game.base_out import Spot
    from hitlab.game.innings import extra_innings_chance, half_inning, last_half, outcome_values
    from hitlab.game.opposing import opposing_pitcher
    from hitlab.game.outcome_rates import outcome_counts, shrink_outcomes
    from hitlab.game.outcomes import meet_pitcher
    from hitlab.game.spots import best_for_spot
    from hitlab.league import Effects, draw_counts, make_season
    from hitlab.over_time.dependence import overdispersion, resample_by_game
    from hitlab.over_time.form import form_over_time
    from hitlab.over_time.form_law import fit_form
    from hitlab.over_time.half_weights import half_weight_sizes
    from hitlab.over_time.periods import compare_periods, paired_halves, paired_interval
    from hitlab.pitches.consistency import contradictions
    from hitlab.pitches.counting import rebuild_count
    from hitlab.pitches.reading import read_pitches
    from hitlab.pitches.report import Reading
    from hitlab.pitches.storing import open_checked, write_checked
    from hitlab.splits.many_splits import ManySplits, all_splits
    from hitlab.splits.one_split import split_rates
    from hitlab.splits.usual import usual_situations
    from hitlab.two_rates.apart import RateOf
    from hitlab.two_rates.together import correlate_counts, correlate_rates

__version__ = "0.1.0"

# public name -> module that holds it. No module shares a public function's name: with lazy loading
# the second call would find the module instead.
_HOME = {
    "Advancing": "hitlab.game.advancing",
    "RateOf": "hitlab.two_rates.apart",
    "Spot": "hitlab.game.base_out",
    "card": "hitlab.evidence.cards",
    "read_card": "hitlab.evidence.cards",
    "KINDS": "hitlab.claims",
    "Claim": "hitlab.claims",
    "Question": "hitlab.claims",
    "check_above": "hitlab.claims.checking",
    "check_ahead": "hitlab.claims.checking",
    "check_hot": "hitlab.claims.checking",
    "check_leads": "hitlab.claims.checking",
    "check_more": "hitlab.claims.checking",
    "check_near": "hitlab.claims.checking",
    "check_response": "hitlab.claims.checking",
    "check_split": "hitlab.claims.checking",
    "check_spot": "hitlab.claims.checking",
    "check_steady": "hitlab.claims.checking",
    "check_together": "hitlab.claims.checking",
    "check_top": "hitlab.claims.checking",
    "Counts": "hitlab.counting.counts",
    "cut_list": "hitlab.evidence.cut_lists",
    "first_at_bats": "hitlab.datasets",
    "open_pitches": "hitlab.datasets",
    "season_lines": "hitlab.datasets",
    "demo_folder": "hitlab.demonstration",
    "demo_season": "hitlab.demonstration",
    "overdispersion": "hitlab.over_time.dependence",
    "resample_by_game": "hitlab.over_time.dependence",
    "HitlabError": "hitlab.errors",
    "HitlabWarning": "hitlab.errors",
    "form_over_time": "hitlab.over_time.form",
    "fit_form": "hitlab.over_time.form_law",
    "half_weight_sizes": "hitlab.over_time.half_weights",
    "extra_innings_chance": "hitlab.game.innings",
    "half_inning": "hitlab.game.innings",
    "last_half": "hitlab.game.innings",
    "outcome_values": "hitlab.game.innings",
    "difference_interval": "hitlab.counting.intervals",
    "share_interval": "hitlab.counting.intervals",
    "Effects": "hitlab.league",
    "draw_counts": "hitlab.league",
    "make_season": "hitlab.league",
    "EVENTS": "hitlab.counting.events",
    "Conventions": "hitlab.counting.facts",
    "swing_ledger": "hitlab.counting.ledger",
    "Looks": "hitlab.counting.looks",
    "ManySplits": "hitlab.splits.many_splits",
    "all_splits": "hitlab.splits.many_splits",
    "opposing_pitcher": "hitlab.game.opposing",
    "outcome_counts": "hitlab.game.outcome_rates",
    "shrink_outcomes": "hitlab.game.outcome_rates",
    "meet_pitcher": "hitlab.game.outcomes",
    "find_sequences": "hitlab.approach.patterns",
    "compare_periods": "hitlab.over_time.periods",
    "paired_halves": "hitlab.over_time.periods",
    "paired_interval": "hitlab.over_time.periods",
    "contradictions": "hitlab.pitches.consistency",
    "rebuild_count": "hitlab.pitches.counting",
    "read_pitches": "hitlab.pitches.reading",
    "Reading": "hitlab.pitches.report",
    "open_checked": "hitlab.pitches.storing",
    "write_checked": "hitlab.pitches.storing",
    "rank_table": "hitlab.estimates.ranked_frames",
    "leader_by_minimum": "hitlab.estimates.ranking",
    "ranks": "hitlab.estimates.ranking",
    "denominators": "hitlab.counting.rates",
    "rate": "hitlab.counting.rates",
    "Borders": "hitlab.counting.places",
    "fastball_readiness": "hitlab.approach.readiness",
    "after_whiff": "hitlab.approach.responses",
    "sequence_faults": "hitlab.approach.sequence",
    "with_previous": "hitlab.approach.sequence",
    "LeagueLaw": "hitlab.estimates.league_law",
    "shrink": "hitlab.estimates.shrinkage",
    "situation": "hitlab.counting.situations",
    "usual_situations": "hitlab.splits.usual",
    "split_rates": "hitlab.splits.one_split",
    "best_for_spot": "hitlab.game.spots",
    "hard_threshold": "hitlab.counting.tallies",
    "tally": "hitlab.counting.tallies",
    "correlate_counts": "hitlab.two_rates.together",
    "correlate_rates": "hitlab.two_rates.together",
}

__all__ = [
    "EVENTS",
    "KINDS",
    "Advancing",
    "Borders",
    "Claim",
    "Conventions",
    "Counts",
    "Effects",
    "HitlabError",
    "HitlabWarning",
    "LeagueLaw",
    "Looks",
    "ManySplits",
    "Question",
    "RateOf",
    "Reading",
    "Spot",
    "after_whiff",
    "all_splits",
    "best_for_spot",
    "card",
    "check_above",
    "check_ahead",
    "check_hot",
    "check_leads",
    "check_more",
    "check_near",
    "check_response",
    "check_split",
    "check_spot",
    "check_steady",
    "check_together",
    "check_top",
    "compare_periods",
    "contradictions",
    "correlate_counts",
    "correlate_rates",
    "cut_list",
    "demo_folder",
    "demo_season",
    "denominators",
    "difference_interval",
    "draw_counts",
    "extra_innings_chance",
    "fastball_readiness",
    "find_sequences",
    "first_at_bats",
    "fit_form",
    "form_over_time",
    "half_inning",
    "half_weight_sizes",
    "hard_threshold",
    "last_half",
    "leader_by_minimum",
    "make_season",
    "meet_pitcher",
    "open_checked",
    "open_pitches",
    "opposing_pitcher",
    "outcome_counts",
    "outcome_values",
    "overdispersion",
    "paired_halves",
    "paired_interval",
    "rank_table",
    "ranks",
    "rate",
    "read_card",
    "read_pitches",
    "rebuild_count",
    "resample_by_game",
    "season_lines",
    "sequence_faults",
    "share_interval",
    "shrink",
    "shrink_outcomes",
    "situation",
    "split_rates",
    "swing_ledger",
    "tally",
    "usual_situations",
    "with_previous",
    "write_checked",
]


def __getattr__(name: str) -> Any:
    """Load a public name at first use and keep it."""
    try:
        module = _HOME[name]
    except KeyError:
        raise AttributeError(f"module 'hitlab' has no attribute {name!r}") from None
    value = getattr(import_module(module), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
