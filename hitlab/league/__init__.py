"""An invented league whose truth is known: whole seasons of pitches, or counts alone."""

from hitlab.league.counts import draw_counts
from hitlab.league.demo import make_demo
from hitlab.league.effects import Effects
from hitlab.league.seasons import Season, make_season
from hitlab.league.truth import RATES

__all__ = ["RATES", "Effects", "Season", "draw_counts", "make_demo", "make_season"]
