"""Counts and plain rates: what a swing is, how pitches become counts, and a rate with its interval.

``ledger`` names every event and its rule; ``tallies`` counts pitches by hitter, game or anything else;
``counts`` is the table that everything further on takes; ``rates`` and ``intervals`` make rates of it;
``looks`` keeps count of how many comparisons were looked at.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
