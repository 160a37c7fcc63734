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
    from hitlab.advancing import Advancing
    from hitlab.apart import RateOf
    from hitlab.base_out import Spot
    from hitlab.cards import card, read_card
    from hitlab.claims import (
        KINDS,
        Claim,
        check_above,
        check_ahead,
        check_hot,
        check_leads,
        check_more,
        check_response,
        check_split,
        check_spot,
        check_steady,
        check_together,
        check_top,
    )
    from hitlab.counts import Counts
    from hitlab.cut_lists import cut_list
    from hitlab.datasets import first_at_bats, open_pitches, season_lines
    from hitlab.demonstration import demo_folder, demo_season
    from hitlab.dependence import overdispersion, resample_by_game
    from hitlab.errors import HitlabError, HitlabWarning
    from hitlab.form import form_over_time
    from hitlab.form_law import fit_form
    from hitlab.half_weights import half_weight_sizes
    from hitlab.innings import extra_innings_chance, half_inning, last_half, outcome_values
    from hitlab.intervals import difference_interval, share_interval
    from hitlab.league import Effects, draw_counts, make_season
    from hitlab.ledger import EVENTS, Conventions, swing_ledger
    from hitlab.looks import Looks
    from hitlab.many_splits import ManySplits, all_splits
    from hitlab.opposing import opposing_pitcher
    from hitlab.outcome_rates import outcome_counts, shrink_outcomes
    from hitlab.outcomes import meet_pitcher
    from hitlab.patterns import find_sequences
    from hitlab.periods import compare_periods, paired_halves
    from hitlab.pitches.consistency import contradictions
    from hitlab.pitches.counting import rebuild_count
    from hitlab.pitches.reading import read_pitches
    from hitlab.pitches.report import Reading
    from hitlab.pitches.storing import open_checked, write_checked
    from hitlab.ranking import leader_by_minimum, ranks
    from hitlab.rates import denominators, rate
    from hitlab.readiness import Borders, fastball_readiness
    from hitlab.responses import after_whiff
    from hitlab.sequence import sequence_faults, with_previous
    from hitlab.shrinkage import shrink
    from hitlab.situations import situation, usual_situations
    from hitlab.splits import split_rates
    from hitlab.spots import best_for_spot
    from hitlab.tallies import hard_threshold, tally
    from hitlab.together import correlate_counts, correlate_rates

__version__ = "0.1.0"

# public name -> module that holds it. No module shares a public function's name: with lazy loading
# the second call would find the module instead.
_HOME = {
    "Advancing": "hitlab.advancing",
    "RateOf": "hitlab.apart",
    "Spot": "hitlab.base_out",
    "card": "hitlab.cards",
    "read_card": "hitlab.cards",
    "KINDS": "hitlab.claims",
    "Claim": "hitlab.claims",
    "check_above": "hitlab.claims",
    "check_ahead": "hitlab.claims",
    "check_hot": "hitlab.claims",
    "check_leads": "hitlab.claims",
    "check_more": "hitlab.claims",
    "check_response": "hitlab.claims",
    "check_split": "hitlab.claims",
    "check_spot": "hitlab.claims",
    "check_steady": "hitlab.claims",
    "check_together": "hitlab.claims",
    "check_top": "hitlab.claims",
    "Counts": "hitlab.counts",
    "cut_list": "hitlab.cut_lists",
    "first_at_bats": "hitlab.datasets",
    "open_pitches": "hitlab.datasets",
    "season_lines": "hitlab.datasets",
    "demo_folder": "hitlab.demonstration",
    "demo_season": "hitlab.demonstration",
    "overdispersion": "hitlab.dependence",
    "resample_by_game": "hitlab.dependence",
    "HitlabError": "hitlab.errors",
    "HitlabWarning": "hitlab.errors",
    "form_over_time": "hitlab.form",
    "fit_form": "hitlab.form_law",
    "half_weight_sizes": "hitlab.half_weights",
    "extra_innings_chance": "hitlab.innings",
    "half_inning": "hitlab.innings",
    "last_half": "hitlab.innings",
    "outcome_values": "hitlab.innings",
    "difference_interval": "hitlab.intervals",
    "share_interval": "hitlab.intervals",
    "Effects": "hitlab.league",
    "draw_counts": "hitlab.league",
    "make_season": "hitlab.league",
    "EVENTS": "hitlab.ledger",
    "Conventions": "hitlab.ledger",
    "swing_ledger": "hitlab.ledger",
    "Looks": "hitlab.looks",
    "ManySplits": "hitlab.many_splits",
    "all_splits": "hitlab.many_splits",
    "opposing_pitcher": "hitlab.opposing",
    "outcome_counts": "hitlab.outcome_rates",
    "shrink_outcomes": "hitlab.outcome_rates",
    "meet_pitcher": "hitlab.outcomes",
    "find_sequences": "hitlab.patterns",
    "compare_periods": "hitlab.periods",
    "paired_halves": "hitlab.periods",
    "contradictions": "hitlab.pitches.consistency",
    "rebuild_count": "hitlab.pitches.counting",
    "read_pitches": "hitlab.pitches.reading",
    "Reading": "hitlab.pitches.report",
    "open_checked": "hitlab.pitches.storing",
    "write_checked": "hitlab.pitches.storing",
    "leader_by_minimum": "hitlab.ranking",
    "ranks": "hitlab.ranking",
    "denominators": "hitlab.rates",
    "rate": "hitlab.rates",
    "Borders": "hitlab.readiness",
    "fastball_readiness": "hitlab.readiness",
    "after_whiff": "hitlab.responses",
    "sequence_faults": "hitlab.sequence",
    "with_previous": "hitlab.sequence",
    "LeagueLaw": "hitlab.league_law",
    "shrink": "hitlab.shrinkage",
    "situation": "hitlab.situations",
    "usual_situations": "hitlab.situations",
    "split_rates": "hitlab.splits",
    "best_for_spot": "hitlab.spots",
    "hard_threshold": "hitlab.tallies",
    "tally": "hitlab.tallies",
    "correlate_counts": "hitlab.together",
    "correlate_rates": "hitlab.together",
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
