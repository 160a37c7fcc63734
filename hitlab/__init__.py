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
    from hitlab.claims import KINDS, Claim, check_above, check_ahead, check_leads, check_split, check_top
    from hitlab.counts import Counts
    from hitlab.datasets import first_at_bats, open_pitches, season_lines
    from hitlab.demonstration import demo_folder, demo_season
    from hitlab.errors import HitlabError, HitlabWarning
    from hitlab.intervals import difference_interval, share_interval
    from hitlab.league import Effects, draw_counts, make_season
    from hitlab.ledger import EVENTS, Conventions, swing_ledger
    from hitlab.pitches.consistency import contradictions
    from hitlab.pitches.counting import rebuild_count
    from hitlab.pitches.reading import read_pitches
    from hitlab.pitches.report import Reading
    from hitlab.pitches.storing import open_checked, write_checked
    from hitlab.ranking import ranks
    from hitlab.rates import denominators, rate
    from hitlab.shrinkage import shrink
    from hitlab.situations import situation
    from hitlab.splits import split_rates
    from hitlab.tallies import hard_threshold, tally

__version__ = "0.1.0"

# public name -> module that holds it. No module shares a public function's name: with lazy loading
# the second call would find the module instead.
_HOME = {
    "KINDS": "hitlab.claims",
    "Claim": "hitlab.claims",
    "check_above": "hitlab.claims",
    "check_ahead": "hitlab.claims",
    "check_leads": "hitlab.claims",
    "check_split": "hitlab.claims",
    "check_top": "hitlab.claims",
    "Counts": "hitlab.counts",
    "first_at_bats": "hitlab.datasets",
    "open_pitches": "hitlab.datasets",
    "season_lines": "hitlab.datasets",
    "demo_folder": "hitlab.demonstration",
    "demo_season": "hitlab.demonstration",
    "HitlabError": "hitlab.errors",
    "HitlabWarning": "hitlab.errors",
    "difference_interval": "hitlab.intervals",
    "share_interval": "hitlab.intervals",
    "Effects": "hitlab.league",
    "draw_counts": "hitlab.league",
    "make_season": "hitlab.league",
    "EVENTS": "hitlab.ledger",
    "Conventions": "hitlab.ledger",
    "swing_ledger": "hitlab.ledger",
    "contradictions": "hitlab.pitches.consistency",
    "rebuild_count": "hitlab.pitches.counting",
    "read_pitches": "hitlab.pitches.reading",
    "Reading": "hitlab.pitches.report",
    "open_checked": "hitlab.pitches.storing",
    "write_checked": "hitlab.pitches.storing",
    "ranks": "hitlab.ranking",
    "denominators": "hitlab.rates",
    "rate": "hitlab.rates",
    "shrink": "hitlab.shrinkage",
    "situation": "hitlab.situations",
    "split_rates": "hitlab.splits",
    "hard_threshold": "hitlab.tallies",
    "tally": "hitlab.tallies",
}

__all__ = [
    "EVENTS",
    "KINDS",
    "Claim",
    "Conventions",
    "Counts",
    "Effects",
    "HitlabError",
    "HitlabWarning",
    "Reading",
    "check_above",
    "check_ahead",
    "check_leads",
    "check_split",
    "check_top",
    "contradictions",
    "demo_folder",
    "demo_season",
    "denominators",
    "difference_interval",
    "draw_counts",
    "first_at_bats",
    "hard_threshold",
    "make_season",
    "open_checked",
    "open_pitches",
    "ranks",
    "rate",
    "read_pitches",
    "rebuild_count",
    "season_lines",
    "share_interval",
    "shrink",
    "situation",
    "split_rates",
    "swing_ledger",
    "tally",
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
