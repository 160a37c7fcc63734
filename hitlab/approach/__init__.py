"""What a hitter's swings follow: the order of pitches, and what answers what.

``sequence`` puts the pitch before beside every pitch; ``patterns`` finds sequences, ``response_rows`` and
``responses`` ask what follows a whiff, ``readiness`` whether being ready for the fastball shows.
``stratified`` and ``matched`` are the comparisons behind them.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
